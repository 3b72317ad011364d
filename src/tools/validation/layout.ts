/** Published values of wall layout, rakes and seam tape. */
import { studMarks } from "../../core/layout.js";
import { rakeStuds } from "../../core/rake-studs.js";
import { tapeFeet } from "../../core/tape.js";
import { degreesToRadians, feetInches } from "../../core/units.js";
import { casesOf, type ValidationRow } from "./row.js";

const LAYOUT = "Layout and rakes";
const MANUAL = "US Navy Builder training manual 14044";
const SQUARE = "framing-square table";
/** Any common panel: these figures do not hang on it. */
const ANY_PANEL_IN = 1.875;
const LONG_WALL_IN = 240;

/** Second mark of a wall: the first common stud. */
function firstCommonStud(thicknessIn: number, left: "free" | "past", spacingIn: number): number {
  const second = studMarks(LONG_WALL_IN, thicknessIn, left, "flush", spacingIn)[1];
  return second === undefined ? NaN : second.nearEdgeIn;
}

/** How much longer each stud of a rake is than the one before it. */
function commonDifference(spacingIn: number, risePerFoot: number): number {
  const rise = (LONG_WALL_IN * risePerFoot) / 12;
  const studs = rakeStuds(LONG_WALL_IN, 96, 96 + rise, ANY_PANEL_IN, "free", "free", spacingIn);
  const [, , third, fourth] = studs;
  return third === undefined || fourth === undefined ? NaN : fourth.lengthIn - third.lengthIn;
}

/** Slope length of a foot of run, from the bevel our rake studs are cut at. */
function slopePerFoot(risePerFoot: number): number {
  const studs = rakeStuds(
    LONG_WALL_IN,
    96,
    96 + (LONG_WALL_IN * risePerFoot) / 12,
    ANY_PANEL_IN,
    "free",
    "free"
  );
  const stud = studs[2];
  return stud === undefined ? NaN : 12 / Math.cos(degreesToRadians(stud.bevelDeg));
}

export const layoutRows: readonly ValidationRow[] = [
  {
    id: "first-stud",
    section: LAYOUT,
    quantity: "near edge of the first common stud from the end of the corner, 1-1/2 in studs",
    unit: "in",
    source: `${MANUAL} p. 1-23`,
    confirmed: "seen",
    cases: casesOf(
      [16, 24],
      [15.25, 23.25],
      (spacing) => `studs at ${spacing} in`,
      (spacing) => firstCommonStud(ANY_PANEL_IN, "free", spacing)
    ),
    tolerance: 0,
    why: "exact",
  },
  {
    id: "second-wall",
    section: LAYOUT,
    quantity:
      "the second wall's first stud from its framing corner: 15-1/4 in from the outside face of the first wall's panel",
    unit: "in",
    source: `${MANUAL} p. 1-24 (the rule; the figures are arithmetic)`,
    confirmed: "seen",
    cases: casesOf(
      [0.5, 0.625, 1.875],
      [14.75, 14.625, 13.375],
      (thickness) => `panel ${thickness} in`,
      (thickness) => firstCommonStud(thickness, "past", 16)
    ),
    tolerance: 0,
    why: "exact",
  },
  {
    id: "stud-count",
    section: LAYOUT,
    quantity: "studs in a plain wall, end studs included",
    unit: "studs",
    source: "length over spacing, plus one: the standard estimating rule",
    confirmed: "memory",
    cases: casesOf(
      [
        [96, 16],
        [144, 16],
        [144, 24],
        [192, 16],
        [240, 16],
      ] as const,
      [7, 10, 7, 13, 16],
      ([length, spacing]) => `${length} in at ${spacing} in`,
      ([length, spacing]) => studMarks(length, ANY_PANEL_IN, "free", "free", spacing).length
    ),
    tolerance: 0,
    why: "a count",
  },
  {
    id: "rafter",
    section: LAYOUT,
    quantity: "length of slope in a foot of run",
    unit: "in",
    source: `${SQUARE}; 7, 13 and 16 in 12 seen in two service training manuals, the rest remembered`,
    confirmed: "recomputed",
    cases: casesOf(
      [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 16],
      [12.17, 12.37, 12.65, 13, 13.42, 13.89, 14.42, 15, 15.62, 16.28, 16.97, 17.69, 20],
      (rise) => `${rise} in 12`,
      slopePerFoot
    ),
    tolerance: 0.0051,
    why: "half of the last printed digit, and a hair for a figure that falls on the half",
    note: "Some squares cut off instead of rounding: 12.16, 13.41, 16.27.",
  },
  {
    id: "hip",
    section: LAYOUT,
    quantity: "length of hip or valley in a foot of common run",
    unit: "in",
    source: SQUARE,
    confirmed: "recomputed",
    cases: casesOf(
      [3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
      [17.23, 17.44, 17.69, 18, 18.36, 18.76, 19.21, 19.7, 20.22, 20.78],
      (rise) => `${rise} in 12`,
      (rise) => Math.hypot(12, 12, rise)
    ),
    tolerance: 0.0051,
    why: "half of the last printed digit, and a hair for a figure that falls on the half; arithmetic, no function here uses it",
    note: "Remembered, then reproduced.",
  },
  {
    id: "rafter-ex1",
    section: LAYOUT,
    quantity: "7 in 12 over 8 ft of run, 13.89 x 8 = 111.12 in, as written on a drawing",
    unit: "",
    source: `${MANUAL}, rafter lengths: .5 and over rounds up to the next 1/16`,
    confirmed: "seen",
    cases: [{ of: "feet and inches", published: "9'-3 1/8\"", ours: () => feetInches(13.89 * 8) }],
    tolerance: 0,
    why: "text",
  },
  {
    id: "gable-navy",
    section: LAYOUT,
    quantity: "common difference of gable studs",
    unit: "in",
    source: `${MANUAL}, End Framing`,
    confirmed: "seen",
    cases: [{ of: "24 in, 6 in 12", published: 12, ours: () => commonDifference(24, 6) }],
    tolerance: 1e-9,
    why: "exact but for the computer's rounding",
  },
  {
    id: "gable-7",
    section: LAYOUT,
    quantity: "common difference of gable studs",
    unit: "in",
    source: "a school carpentry page",
    confirmed: "seen",
    cases: [{ of: "16 in, 7 in 12", published: 9.3125, ours: () => commonDifference(16, 7) }],
    tolerance: 0.03125,
    why: "printed to the nearest 1/16 in",
  },
  {
    id: "gable-8",
    section: LAYOUT,
    quantity: "common difference of gable studs",
    unit: "in",
    source: "common trade value, to the nearest 1/8 in",
    confirmed: "memory",
    cases: [{ of: "16 in, 8 in 12", published: 10.625, ours: () => commonDifference(16, 8) }],
    tolerance: 0.0625,
    why: "half of 1/8 in",
    note: "Never add up the rounded value: after six studs 10-5/8 is 1/4 in short.",
  },
  {
    id: "panel-drift",
    section: LAYOUT,
    quantity: "where panel n starts if 48 in panels are set edge to edge with 1/8 in gaps",
    unit: "in",
    source: "arithmetic",
    confirmed: "recomputed",
    cases: casesOf(
      [1, 2, 5, 9],
      [0, 48.125, 192.5, 385],
      (panel) => `panel ${panel}`,
      (panel) => (panel - 1) * (48 + 0.125)
    ),
    tolerance: 0,
    why: "exact; why panels are set to the marks and not to each other",
  },
  {
    id: "tape-arith",
    section: LAYOUT,
    quantity: "seam tape of a plain 32 ft wall, 8 ft high, 4 ft panels",
    unit: "ft",
    source: "arithmetic: 7 seams of 8 ft",
    confirmed: "recomputed",
    cases: [
      { of: "seams", published: 56, ours: () => tapeFeet(384, 96, ANY_PANEL_IN, "free", "free") },
    ],
    tolerance: 0,
    why: "exact",
  },
];
