/** Tables and rules kept to be looked up, and figures that are deliberately not compared. */
import type { LookUp, NotCompared } from "./row.js";

export const lookUps: readonly LookUp[] = [
  {
    id: "nail-common",
    what: "common nails: length and shank",
    figures:
      "6d 2 x 0.113, 8d 2-1/2 x 0.131, 10d 3 x 0.148, 12d 3-1/4 x 0.148, 16d 3-1/2 x 0.162 in",
    source: "NDS-2018 Appendix L Table L4, p. 182",
    confirmed: "seen",
  },
  {
    id: "nail-box",
    what: "box nails: length and shank",
    figures:
      "6d 2 x 0.099, 8d 2-1/2 x 0.113, 10d 3 x 0.128, 12d 3-1/4 x 0.128, 16d 3-1/2 x 0.135 in",
    source: "NDS-2018 Appendix L Table L4, p. 182",
    confirmed: "seen",
  },
  {
    id: "nail-sinker",
    what: "sinker nails: length and shank",
    figures:
      "6d 1-7/8 x 0.092, 8d 2-3/8 x 0.113, 10d 2-7/8 x 0.120, 12d 3-1/8 x 0.135, 16d 3-1/4 x 0.148 in",
    source: "NDS-2018 Appendix L Table L4, p. 182",
    confirmed: "seen",
  },
  {
    id: "nail-f1667-tol",
    what: "making tolerance of nails; never subtracted here",
    figures: "length 1/16 in to 2-1/2 in, 3/32 in to 7 in; shank 0.004 in",
    source: "ASTM F1667 tolerances",
    confirmed: "memory",
  },
  {
    id: "fyb",
    what: "bending yield strength of nails by shank",
    figures:
      "0.099 to 0.142 in 100,000; over 0.142 to 0.177 in 90,000; over 0.177 to 0.236 in 80,000; over 0.236 to 0.273 in 70,000 psi",
    source: "NDS-2018 Appendix I Table I1, p. 175",
    confirmed: "seen",
  },
  {
    id: "cladding-pen",
    what: "cladding over foam, to 115 mph in exposure B: nail into the stud",
    figures:
      "1-1/4 in, shank 0.120 in, head 0.313 in, 16 in apart; foam at least 1/2 in, expanded polystyrene 1 in",
    source: "IRC R703.11.2.1",
    confirmed: "seen",
  },
  {
    id: "sdpws-pen",
    what: "least penetration of shear-wall nails",
    figures: "6d 1-1/4, 8d 1-3/8, 10d 1-1/2 in; the 1997 UBC has 1-1/4, 1-1/2, 1-5/8",
    source: "SDPWS-2008 Table 4.3A; IBC 2306.3",
    confirmed: "seen",
  },
  {
    id: "sdpws-7_16-up",
    what: "3/8 and 7/16 in panels may take the 15/32 row where studs stand at 16 in or less, or the long way runs across the studs",
    figures: "rule",
    source: "SDPWS Table 4.3A note 2",
    confirmed: "memory",
  },
  {
    id: "irc-r602.3(3)",
    what: "wall sheathing for wind, edges 6 in, field 12 in: nail, penetration, span rating, panel, studs, wind in exposure B, C, D",
    figures:
      "2 x 0.113: 1-1/2, 24/0, 3/8, 16 in, 140/115/110 mph; 2-1/2 x 0.131: 1-3/4, 24/16, 7/16, 16 in, 170/140/135 mph (row seen); the same at 24 in, 140/115/110 mph",
    source: "IRC 2015 to 2021 Table R602.3(3); 2012 and before use other wind speeds",
    confirmed: "memory",
  },
  {
    id: "irc-r602.3(1)",
    what: "structural panels to framing, edges 6 in, field 12 in",
    figures: "3/8 to 1/2 in: 6d common; 19/32 to 1 in: 8d common; 1-1/8 to 1-1/4 in: 10d common",
    source: "IRC Table R602.3(1), rows 30 to 32 of the 2015 numbering",
    confirmed: "memory",
  },
  {
    id: "irc-direct",
    what: "structural wall sheathing is fastened directly to the framing: no printed table covers a panel nailed through foam",
    figures: "rule; engineered values are needed",
    source: "residential code 602.3",
    confirmed: "seen",
  },
  {
    id: "ashrae-mat",
    what: "films and materials, R",
    figures:
      "inside film 0.68 and outside film 0.17 at 15 mph, 0.25 at 7.5 mph (seen); 1/2 in gypsum 0.45 (seen; 0.32 in newer tables); 7/16 in strand board 0.62; softwood 1.25 an inch, 2x4 4.38, 2x6 6.88; bevel siding 0.81; hollow-backed metal or vinyl 0.61",
    source: "ASHRAE Fundamentals chapter 26",
    confirmed: "memory",
  },
  {
    id: "ff",
    what: "framing share of the wall face",
    figures:
      "16 in 25 percent (75/21/4), 24 in 22 percent (78/18/4): cavity, studs and plates, headers",
    source: "ASHRAE 90.1 A3.4; Fundamentals chapter 27",
    confirmed: "memory",
  },
  {
    id: "iecc-u",
    what: "most U of a wood-frame wall",
    figures: "zones 0 to 2 0.084, zone 3 0.060, zones 4 to 8 with Marine 4 0.045",
    source: "IECC 2021 Table R402.1.2; the same in 2024",
    confirmed: "memory",
  },
  {
    id: "iecc-r",
    what: "prescriptive wall R: cavity, cavity + foam, or foam alone",
    figures:
      "zones 0 to 2 13 or 0+10; zone 3 20, 13+5 or 0+15; zones 4 to 8 30, 20+5, 13+10 or 0+20",
    source: "IECC 2021 Table R402.1.3",
    confirmed: "memory",
  },
  {
    id: "vr-class",
    what: "vapor retarder classes",
    figures: "I to 0.1 perm, II to 1.0, III to 10",
    source: "IRC 2021 Table R702.7(1)",
    confirmed: "seen",
  },
  {
    id: "r702.7(3)",
    what: "least foam R for a class III vapor retarder, over 2x4 and 2x6",
    figures:
      "Marine 4 2.5/3.75, zone 5 5/7.5, zone 6 7.5/11.25, zone 7 10/15, zone 8 12.5/20; zones 0 to 4 ask none",
    source:
      "IRC 2021 Table R702.7(3), in a public transcription checked against the 2021 IBC's table",
    confirmed: "seen",
  },
  {
    id: "r702.7(4)",
    what: "least foam R with a class II vapor retarder, over 2x4 and 2x6",
    figures: "zone 3 2/2, zones 4 to 6 3/5, zone 7 5/7.5, zone 8 7.5/10",
    source: "IRC 2021 Table R702.7(4)",
    confirmed: "memory",
  },
  {
    id: "r702.7-text",
    what: "the class comes from Table R702.7(1), where it may stand from R702.7(2), with R702.7(3) or (4)",
    figures: "rule",
    source: "IRC 2021 R702.7, in a public repository",
    confirmed: "seen",
  },
  {
    id: "panel-tol",
    what: "size tolerance of structural panels, and the gap between them",
    figures:
      "length and width +0, -1/8 in; thickness 1/32 in to 13/16 in; 1/8 in gaps unless the maker says otherwise",
    source: "PS 1 and PS 2; panel-association guidance",
    confirmed: "memory",
  },
  {
    id: "panel-min",
    what: "shear-wall panels",
    figures:
      "4 x 8 ft but at edges and changes of framing; nails 3/8 in from edges; edges 6 in or closer, field 12 in; all edges blocked",
    source: "SDPWS 4.3.7.1",
    confirmed: "memory",
  },
  {
    id: "joints",
    what: "vertical joints over studs; horizontal joints of braced panels over blocking of 1-1/2 in",
    figures: "rule; some places waive the blocking",
    source: "IRC R602.10.10",
    confirmed: "memory",
  },
  {
    id: "wrb-lap",
    what: "laps of a water-resistive barrier",
    figures: "upper over lower 2 in; joints 6 in",
    source: "IRC R703.2 (2015, 2018)",
    confirmed: "seen",
  },
  {
    id: "flashing",
    what: "flashing laps like shingles; self-adhered to AAMA 711, fluid to AAMA 714, mechanically attached to AAMA 712",
    figures: "rule",
    source: "IRC R703.4",
    confirmed: "seen",
  },
  {
    id: "aama711",
    what: "heat exposure levels of self-adhered flashing",
    figures: "level 1, 2, 3: 122, 149, 176 F for 7 days; peel 1.5 lb/in",
    source: "AAMA 711",
    confirmed: "memory",
  },
  {
    id: "taped",
    what: "taped foam sheathing as drainage plane: few horizontal joints or none, the best tape where there is one, inspect and train",
    figures: "guidance",
    source: "NREL/SR-5500-62638",
    confirmed: "seen",
  },
  {
    id: "taped2",
    what: "seal every seam of rigid insulation with a compatible tape on clean, dry faces",
    figures: "guidance",
    source:
      "US DOE solution center, https://basc.pnnl.gov/resource-guides/continuous-rigid-insulation-sheathing",
    confirmed: "seen",
  },
  {
    id: "airbarrier",
    what: "air barrier leakage at 75 Pa",
    figures: "material 0.004 cfm/ft2, assembly 0.04",
    source: "IECC C402.5; ASTM E2178, E2357",
    confirmed: "memory",
  },
  {
    id: "termite",
    what: "foam above exposed earth; none below grade outside in very heavy termite zones, with exceptions",
    figures: "6 in",
    source: "IRC R318.4; the 2024 edition renumbers it",
    confirmed: "seen",
  },
  {
    id: "termite-strip",
    what: "termite inspection strip along the sill plate where there is foam",
    figures: "6 in",
    source: "a state's amendment of IRC R318.5",
    confirmed: "seen",
  },
  {
    id: "clear-wood",
    what: "wood to ground, to slabs and steps, and foundation above grade (with masonry veneer)",
    figures: "6, 2, 6 (4) in",
    source: "IRC R317.1, R404.1.6",
    confirmed: "memory",
  },
  {
    id: "vented",
    what: "vented cladding: vinyl or horizontal aluminum siding, brick with an air space, others as approved",
    figures: "rule",
    source: "IRC 2018 R702.7.3",
    confirmed: "seen",
  },
  {
    id: "surveyft",
    what: "the US survey foot is not used",
    figures: "deprecated from 2023",
    source: "NIST notice; NIST SP 811; Handbook 44 Appendix C",
    confirmed: "memory",
  },
  {
    id: "corner-R6",
    what: "outside corners that leave room for insulation: two studs, or three in line; clips or a 1x for the board inside",
    figures: "R-6",
    source: "US DOE, https://basc.pnnl.gov/resource-guides/advanced-framing-insulated-corners",
    confirmed: "seen",
  },
  {
    id: "ladder",
    what: "ladder blocking where an inside wall meets an outside wall, in place of extra studs",
    figures: "one house had six studs it did not need",
    source: "a government-funded research partner's information sheet",
    confirmed: "seen",
  },
  {
    id: "bind",
    what: "framing behind every vertical seam; the second wall lays out from the outside face of the first wall's panel",
    figures: "rule",
    source: "US Navy Builder training manual 14044 p. 1-23 and 1-24",
    confirmed: "seen",
  },
  {
    id: "gap-loss",
    what: "foam between panel and stud makes a shear wall weaker; longer, larger or closer nails can bring it back",
    figures: "measured",
    source: "a state university's thesis on walls with foam under the panel, no. 2506",
    confirmed: "seen",
  },
];

export const notCompared: readonly NotCompared[] = [
  {
    id: "sdpws-nail-tie",
    what: "130 lb a nail, from 260 plf at 6 in",
    why: "an observation, not a printed statement: it holds for 15/32 in panels and misses 3/8 and 7/16 in by 5 to 13 percent",
  },
  {
    id: "z12q-computed",
    what: "nails through 7/16 and 15/32 in panels",
    why: "the printed cells of NDS Tables 12Q and 12R were not found; a recomputation would only check itself",
  },
  {
    id: "polyiso",
    what: "R per inch of polyisocyanurate",
    why: "a range that falls in the cold (about 5.6 to 6 an inch, 4.5 to 5 at 25 F): the user types it",
  },
  {
    id: "conduct",
    what: "wood about R-1 an inch, rigid foam R-3.2 to R-6.5",
    why: "a rule of thumb; softwood studs are 1.25 in the tables",
  },
  {
    id: "e2112",
    what: "flashing widths and laps of ASTM E2112",
    why: "remembered, not surely; the window's own instructions rule",
  },
  {
    id: "cut-avoid",
    what: "cutting benchmark gcut13, and the one-copy forms of the others",
    why: "public tables disagree with each other (8,736,757 against 8,763,696)",
  },
];
