/** Limits shared by many functions: what a wall, a panel and a layout can sensibly be. */
import { type Limits, TINY_IN, checkNumber, outOfRange } from "./check.js";

/** A thousand feet: longer is a slip of the unit. */
export const LONGEST_WALL_IN = 12_000;
/** A hundred feet. */
export const HIGHEST_WALL_IN = 1_200;
/** Thicker than any panel: the value is not a thickness. */
export const THICKEST_PANEL_IN = 12;
/** The finest fraction on a tape: what is thinner is a slip, and divides into too many pieces. */
export const FINEST_IN = 1 / 64;
/** Finer than any saw holds; the cut plan counts in it, and what is thinner is no piece. */
export const FINEST_CUT_IN = 1 / 1024;
/** Thickness of a stud sold as 2 in, dressed and dry, in; common practice, no source. */
export const STUD_IN = 1.5;
/** Stud centers where nothing else is said, in; common practice, no source. */
export const SPACING_IN = 16;
/** Width of a whole panel, in; common practice, no source. */
export const PANEL_WIDTH_IN = 48;
/** Stocked panel lengths, in; common practice, no source. */
export const PANEL_LENGTHS_IN: readonly number[] = [96, 108, 120];
/** Width of a saw cut, in; common practice, no source. */
export const KERF_IN = 0.125;

/** Less than the thinnest film of air beside a wall: no layer, and too little to divide by. h ft2 F/Btu, or the same an inch. */
export const LEAST_R = 0.01;
/** Shallower than any stud, in: the same as the least stud width. */
export const LEAST_STUD_DEPTH_IN = 0.5;

export const BLANK_HINT = "a blank cell can read as 0";

/** Argument limits by kind of length, so that the same thing has the same limits everywhere. */
export const LIMITS = {
  wallLength: { above: 0, below: LONGEST_WALL_IN, unit: "in" },
  wallHeight: { above: 0, below: HIGHEST_WALL_IN, unit: "in" },
  thickness: { above: 0, max: THICKEST_PANEL_IN, unit: "in" },
  spacing: { min: 3, max: 96, unit: "in" },
  stud: { min: 0.5, max: 12, unit: "in" },
  panelWidth: { min: 12, max: 120, unit: "in" },
  panelLength: { min: 12, max: 480, unit: "in" },
  /** no sheet of foam reaches the most, the best are near 7: guards against a whole-board R */
  rPerInch: {
    above: 0,
    max: 10,
    hint: "type the R of one inch of foam, such as 6, not of the whole panel",
  },
  /** deepest: a double wall */
  studDepth: {
    above: 0,
    min: LEAST_STUD_DEPTH_IN,
    max: 16,
    unit: "in",
    hint: "3.5 for a 2x4, 5.5 for a 2x6",
  },
  nailSpacing: { min: 0.5, max: 96, unit: "in" },
  kerf: { min: 0, below: 2, unit: "in" },
  share: { min: 0, below: 1, hint: "5 % is 0.05" },
} as const satisfies Readonly<Record<string, Limits>>;

export function checkLength(name: string, value: number): number {
  return checkNumber(name, value, LIMITS.wallLength);
}
export function checkHeight(name: string, value: number): number {
  return checkNumber(name, value, LIMITS.wallHeight);
}
export function checkThickness(name: string, value: number): number {
  return checkNumber(name, value, LIMITS.thickness);
}
export function checkSpacing(name: string, value: number): number {
  return checkNumber(name, value, LIMITS.spacing);
}

/** The panel width must be a whole number of stud spaces, or seams miss the studs. */
export function checkModule(spacingIn: number, panelWidthIn: number): void {
  const spaces = panelWidthIn / spacingIn;
  if (Math.abs(spaces - Math.round(spaces)) * spacingIn > TINY_IN) {
    throw outOfRange(
      `spacing must go a whole number of times into the panel width of ${panelWidthIn} in (as 12, 16 and 24 go into 48), or panels do not break on studs; got ${Number(spacingIn.toPrecision(9))}`
    );
  }
}
