/** Standard 90.1, 2016 edition, Appendix A: how a wood-frame wall is taken apart into paths. */
import type { PublishedSource } from "../published.js";

export const source = {
  body: "ASHRAE",
  document: "ANSI/ASHRAE/IES Standard 90.1, Appendix A",
  edition: "2016",
  tables: "A3.4 base assembly and framing, Table A3.4.3.1",
  pages: null,
  address: "https://www.continuousinsulation.org/node/270",
  read: "2026-11-25",
  note:
    "Base layers: read in a public quotation of Appendix A (the same layers for steel walls), and eleven of eleven " +
    "wall U-factors of an industry association's wood-wall pages reproduce with them. Fractions: 25 and 22 percent " +
    "framing read in a public quotation of a state's appendix that uses the same framing; the split into studs and " +
    "headers is remembered and reproduces the R-13 row of the table. The address is one of the association's pages.",
} as const satisfies PublishedSource;

export const units = {
  r: "h ft2 F/Btu",
  rPerInch: "h ft2 F/(Btu in)",
  fraction: "share of wall face",
  spacingIn: "in",
} as const;

export const rows = {
  /** Layers other than the framed layer and the foam; they add up to 2.05. */
  otherLayers: [
    { layer: "outside film", r: 0.17, confirmed: "seen" },
    { layer: "stucco", r: 0.08, confirmed: "seen" },
    { layer: "gypsum, 5/8 in, outside", r: 0.56, confirmed: "seen" },
    { layer: "gypsum, 5/8 in, inside", r: 0.56, confirmed: "seen" },
    { layer: "inside film", r: 0.68, confirmed: "seen" },
  ],
  otherLayersR: 2.05,
  /** Softwood framing. */
  woodRPerInch: 1.25,
  woodConfirmed: "recomputed",
  /** Cavity, studs and plates, headers. */
  framing: [
    {
      spacingIn: 16,
      cavity: 0.75,
      studs: 0.21,
      headers: 0.04,
      framing: 0.25,
      confirmed: "recomputed",
    },
    { spacingIn: 24, cavity: 0.78, studs: 0.18, headers: 0.04, framing: 0.22, confirmed: "memory" },
  ],
  headerR: 4.375,
  /** An empty stud bay, and an R-19 batt pressed into 5-1/2 in. */
  emptyCavityR: 0.91,
  r19In2x6R: 18,
} as const;
