/** Tape: feet of it, how wide, how many rolls. */
import { ceilCount, checkChoice, checkNumber, outOfRange, shown } from "./check.js";
import { PLAIN_ENDS, type WallEnd, runSpan } from "./corners.js";
import { wallSeams } from "./layout.js";
import { LIMITS, checkHeight, checkThickness } from "./limits.js";
import { PLAIN_RIP_IN, checkRipCourse } from "./rips.js";
import { feet } from "./units.js";

/** `sill`: over the bottom edge of the panel at the sill plate. */
export type CornerTapeMethod = "two-layer" | "single";
export type TapeWidthMethod = CornerTapeMethod | "sill";
export const CORNER_TAPE_METHODS: readonly CornerTapeMethod[] = ["two-layer", "single"];
export const TAPE_WIDTH_METHODS: readonly TapeWidthMethod[] = ["two-layer", "single", "sill"];

/** Minimum lap onto each panel; common practice, no source. */
export const TAPE_LAP_IN = 1;
/** Pieces of tape in an inside corner, and their overlap; common practice, no source. */
export const CORNER_PIECE_IN = 36;
export const PIECE_LAP_IN = 3;
/** Head and sill tape beyond each jamb; common practice, no source. */
export const OPENING_EXTENSION_IN = 6;
/** Spare share of tape and nails; common practice, no source. */
export const SPARE_SHARE = 0.05;

/**
 * Seam tape of a plain wall: seams over the panel height, and where there is a rip course the run
 * along its top and its joints.
 *
 * @param lengthIn    framing length, in; more than 0, less than 12,000
 * @param heightIn    sheathed height, rip included, in; more than 0, less than 1,200
 * @param thicknessIn panel thickness, in; more than 0, at most 12
 * @param leftEnd     past, flush, tight, short or free
 * @param rightEnd    the same at the right
 * @param ripHeightIn height of the rip course, in; 0 for none, 48 at most, less than the height
 * @param spacingIn   stud spacing, in; 3 to 24, a whole number of times into 48
 * @returns feet; 0 for a wall one panel covers
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source seams × height: arithmetic; rips up to 96 in long: common practice, no source
 * @example tapeFeet(384, 96, 1.875, "free", "free") // => 56
 */
export function tapeFeet(
  lengthIn: number,
  heightIn: number,
  thicknessIn: number,
  leftEnd: WallEnd = PLAIN_ENDS.left,
  rightEnd: WallEnd = PLAIN_ENDS.right,
  ripHeightIn: number = 0,
  spacingIn?: number
): number {
  const wall = { lengthIn, thicknessIn, leftEnd, rightEnd };
  const { runIn } = runSpan(wall);
  checkHeight("height", heightIn);
  checkRipCourse(ripHeightIn, heightIn);
  const seams = wallSeams(wall, { spacingIn });
  const vertical = seams.length * (heightIn - ripHeightIn);
  if (ripHeightIn === 0) return feet(vertical);
  const joints = ceilCount(runIn / PLAIN_RIP_IN) - 1;
  return feet(vertical + runIn + joints * ripHeightIn);
}

/**
 * Tape of outside corners.
 *
 * @param heightIn sheathed height of the corner, in; more than 0, less than 1,200
 * @param corners  how many such corners; whole, 0 to 100,000
 * @param method   `two-layer` counts both layers, `single` one
 * @returns feet
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source common practice, no source
 * @example cornerTapeFeet(108, 4) // => 72
 */
export function cornerTapeFeet(
  heightIn: number,
  corners: number = 1,
  method: CornerTapeMethod = "two-layer"
): number {
  checkHeight("height", heightIn);
  const cornerCount = checkNumber("corners", corners, LIMITS.count);
  const layers = checkChoice("method", method, CORNER_TAPE_METHODS) === "single" ? 1 : 2;
  return feet(heightIn * cornerCount * layers);
}

/** Pieces of tape that one inside corner takes; at least one. */
export function insideCornerPieces(heightIn: number, pieceIn: number, lapIn: number): number {
  checkHeight("height", heightIn);
  checkNumber("piece", pieceIn, LIMITS.cornerPiece);
  checkNumber("lap", lapIn, { min: 0, below: pieceIn, unit: "in" });
  return Math.max(1, ceilCount((heightIn - lapIn) / (pieceIn - lapIn)));
}

/**
 * Tape of inside corners, put up in pieces that overlap.
 *
 * @param heightIn sheathed height of the corner, in; more than 0, less than 1,200
 * @param corners  how many such corners; whole, 0 to 100,000
 * @param pieceIn  length of a piece, in; 1/64 to 1,200
 * @param lapIn    overlap of two pieces, in; 0 or more, less than a piece
 * @returns feet: height + (pieces − 1) × lap, each corner
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source common practice, no source
 * @example insideCornerTapeFeet(108) // => 9.75
 */
export function insideCornerTapeFeet(
  heightIn: number,
  corners: number = 1,
  pieceIn: number = CORNER_PIECE_IN,
  lapIn: number = PIECE_LAP_IN
): number {
  const pieces = insideCornerPieces(heightIn, pieceIn, lapIn);
  const cornerCount = checkNumber("corners", corners, LIMITS.count);
  return feet(cornerCount * (heightIn + (pieces - 1) * lapIn));
}

/**
 * Tape round openings: both jambs the opening's height, head and sill with their extensions. A door has no sill.
 *
 * @param widthIn     opening width, in; more than 0, less than 12,000
 * @param heightIn    opening height, in; more than 0, less than 1,200
 * @param count       how many such openings; whole, 0 to 100,000
 * @param extensionIn how far head and sill tape run past each jamb, in; 0 to 120
 * @param hasSill     false for a door: no tape at its sill
 * @returns feet
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source common practice, no source; the window's own flashing instructions rule
 * @example openingTapeFeet(36, 48) // => 16
 */
export function openingTapeFeet(
  widthIn: number,
  heightIn: number,
  count: number = 1,
  extensionIn: number = OPENING_EXTENSION_IN,
  hasSill: boolean = true
): number {
  checkNumber("width", widthIn, LIMITS.wallLength);
  checkHeight("height", heightIn);
  const openingCount = checkNumber("count", count, LIMITS.count);
  checkNumber("extension", extensionIn, LIMITS.openingExtension);
  const across = (hasSill ? 2 : 1) * (widthIn + 2 * extensionIn);
  return feet(openingCount * (across + 2 * heightIn));
}

/**
 * Narrowest tape that covers a corner.
 *
 * @param thicknessIn panel thickness, in; more than 0, at most 12
 * @param method      `two-layer`: thickness + lap; `single`: 2 (thickness + lap);
 *   `sill`: thickness + 2 laps, over the bottom edge at the sill plate
 * @param lapIn       lap onto each panel, in; more than 0, at most 24
 * @returns width, in; not rounded
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source common practice, no source
 * @example tapeWidth(1.875) // => 2.875
 * @example tapeWidth(1.875, "single") // => 5.75
 */
export function tapeWidth(
  thicknessIn: number,
  method: TapeWidthMethod = "two-layer",
  lapIn: number = TAPE_LAP_IN
): number {
  checkThickness("thickness", thicknessIn);
  checkNumber("lap", lapIn, LIMITS.tapeLap);
  const chosen = checkChoice("method", method, TAPE_WIDTH_METHODS);
  if (chosen === "single") return 2 * (thicknessIn + lapIn);
  return chosen === "sill" ? thicknessIn + 2 * lapIn : thicknessIn + lapIn;
}

/** Whole packages: need with its spare, divided, rounded up once. */
export function wholePackages(
  name: string,
  need: number,
  perName: string,
  perPackage: number,
  extra: number
): number {
  checkNumber(name, need, LIMITS.need);
  checkNumber(perName, perPackage, LIMITS.perPackage);
  checkNumber("extra", extra, LIMITS.share);
  const packages = ceilCount((need * (1 + extra)) / perPackage);
  if (!Number.isSafeInteger(packages)) {
    throw outOfRange(
      `${name} over ${perName} must be a quantity one can order; got ${shown(need)} over ${shown(perPackage)}`
    );
  }
  return packages;
}

/**
 * Rolls of one width of tape for the whole house, rounded up once.
 *
 * @param tapeFt      tape needed over the whole house, ft; 0 or more
 * @param feetPerRoll tape on a roll, ft; more than 0
 * @param extra       spare share; 0 or more, less than 1; 0.05 is 5 %
 * @returns whole rolls
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source arithmetic; add before rounding
 * @example tapeRolls(800, 100) // => 9
 */
export function tapeRolls(
  tapeFt: number,
  feetPerRoll: number,
  extra: number = SPARE_SHARE
): number {
  return wholePackages("feet", tapeFt, "feet_per_roll", feetPerRoll, extra);
}
