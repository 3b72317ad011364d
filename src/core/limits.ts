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

/** R of any layer: no stud bay or foam of a house reaches the most; guards against a slipped decimal. */
const MOST_LAYER_R = 100;
const LAYER_R_HINT = "type the R of the layer, such as 13 or 6.5";
/** No sheet of foam reaches this R per inch; the best foams are near 7. Guards against a whole-board R. */
const MOST_R_PER_INCH = 12;

/** Limits by kind of quantity, so that one thing has one limit in the core, the settings, the help and the docs. */
export const LIMITS = {
  wallLength: { above: 0, below: LONGEST_WALL_IN, unit: "in" },
  wallHeight: { above: 0, below: HIGHEST_WALL_IN, unit: "in" },
  /** of a top that may run out to nothing */
  endHeight: { min: 0, below: HIGHEST_WALL_IN, unit: "in" },
  thickness: { above: 0, max: THICKEST_PANEL_IN, unit: "in" },
  /** foam that may be missing */
  foam: { min: 0, max: THICKEST_PANEL_IN, unit: "in" },
  turn: { above: 0, below: 180, unit: "deg" },
  spacing: { min: 3, max: 96, unit: "in" },
  stud: { min: 0.5, max: 12, unit: "in" },
  plate: { min: 0.5, max: 6, unit: "in" },
  plateCount: { min: 0, max: 10, whole: true },
  panelWidth: { min: 12, max: 120, unit: "in" },
  panelLength: { min: 12, max: 480, unit: "in" },
  smallest: { above: 0, max: 120, unit: "in" },
  kerf: { min: 0, below: 2, unit: "in" },
  ripPart: { min: 0, unit: "in" },
  clearance: { min: 0, max: 12, unit: "in" },
  nailing: { above: 0, max: 12, unit: "in" },
  count: { min: 0, max: 100_000, whole: true },
  cornerPiece: { min: FINEST_IN, max: 1200, unit: "in" },
  openingExtension: { min: 0, max: 120, unit: "in" },
  tapeLap: { above: 0, max: 24, unit: "in" },
  need: { min: 0 },
  perPackage: { above: 0 },
  share: { min: 0, below: 1, hint: "5 % is 0.05" },
  penetration: { above: 0, max: 12, unit: "in" },
  nailLength: { above: 0, max: 24, unit: "in" },
  nailSpacing: { min: 0.5, max: 96, unit: "in" },
  /** shank of a nail */
  nailDiameter: { above: 0, below: 0.5, unit: "in" },
  /** wood face of a nail's joint */
  nailedPanel: { above: 0, min: FINEST_IN, max: 2, unit: "in" },
  gravity: {
    above: 0,
    below: 1.5,
    hint: "0.42 for spruce-pine-fir studs, 0.5 for oriented strand board",
  },
  /** a layer that may be left out */
  layerR: { min: 0, max: MOST_LAYER_R, hint: LAYER_R_HINT },
  /** an empty bay is not R-0: its air space resists too */
  cavityR: { above: 0, min: LEAST_R, max: MOST_LAYER_R, hint: LAYER_R_HINT },
  rPerInch: {
    above: 0,
    max: MOST_R_PER_INCH,
    hint: "type the R of one inch of foam, such as 6, not of the whole panel",
  },
  woodRPerInch: {
    above: 0,
    min: LEAST_R,
    max: MOST_R_PER_INCH,
    hint: "softwood studs are 1.25",
  },
  framing: { min: 0, max: 1 },
  /** deepest: a double wall */
  studDepth: {
    above: 0,
    min: LEAST_STUD_DEPTH_IN,
    max: 16,
    unit: "in",
    hint: "3.5 for a 2x4, 5.5 for a 2x6",
  },
  headerDepth: { min: 0, max: 48, unit: "in" },
  /** coldest and hottest a lived-in room is taken to be; common practice, no source */
  roomF: { min: 50, max: 95, unit: "deg F" },
  /** coldest and hottest outdoor air anywhere people build; common practice, no source */
  outdoorF: { min: -80, max: 130, unit: "deg F" },
  humidity: { above: 0, max: 1 },
  /** more wall than any building has is a slip */
  wallArea: { min: 0, max: 10_000_000, unit: "ft2" },
  /** a U above this is no wall */
  wallU: { above: 0, max: 2, hint: "type the whole-wall U, such as 0.06" },
  /** no place people build has more degree days below 65 deg F */
  degreeDays: {
    min: 0,
    max: 25_000,
    hint: "type a year's heating degree days in Fahrenheit, such as 5500",
  },
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
