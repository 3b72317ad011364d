/** Studs under a raked top: where the long point falls, how long to cut, at what bevel. */
import { TINY_IN, checkNumber, outOfRange } from "./check.js";
import { PLAIN_ENDS, type Side, type WallEnd } from "./corners.js";
import { type StudMark, studMarks } from "./layout.js";
import { LIMITS, STUD_IN } from "./limits.js";
import { radiansToDegrees } from "./units.js";
import { type WallTop, heightAt, peakOf, slopeAt, wallTop } from "./wall-top.js";

/** Thickness of a plate sold as 2 in, dressed and dry, in; common practice, no source. */
export const PLATE_IN = 1.5;
/** Plates under the studs, a count; common practice, no source. */
const BOTTOM_PLATES = 1;
/** Plates over the studs, a count: the wall's own and the one that laps the corners; common practice, no source. */
const TOP_PLATES = 2;

export interface Plates {
  readonly bottomCount: number;
  readonly topCount: number;
  /** thickness of each, in */
  readonly plateIn: number;
}

export const USUAL_PLATES: Plates = {
  bottomCount: BOTTOM_PLATES,
  topCount: TOP_PLATES,
  plateIn: PLATE_IN,
};

export interface RakeStud {
  readonly mark: number;
  readonly centerIn: number;
  /** x of the edge on the uphill side, from the left framing corner, in */
  readonly longPointIn: number;
  /** along the long edge, between the plates, in */
  readonly lengthIn: number;
  /** of the cut at the top, deg; 0 is square */
  readonly bevelDeg: number;
}

function checkPlates(plates: Plates): void {
  checkNumber("bottom_plates", plates.bottomCount, LIMITS.plateCount);
  checkNumber("top_plates", plates.topCount, LIMITS.plateCount);
  checkNumber("plate", plates.plateIn, LIMITS.plate);
}

/** Plumb height the top plates take under a slope, in: thickness/cos(angle) each. */
export function topPlatesPlumb(plates: Plates, slope: number): number {
  return plates.topCount * plates.plateIn * Math.hypot(1, slope);
}

/**
 * Cuts one stud to a wall's top. A sloped plate takes thickness/cos(angle) plumb; the long point is
 * the edge uphill of the center, or the peak itself where the stud stands under it. Under a peak of
 * two slopes the steeper side's plates reach lower, and its bevel is the one given.
 */
export function cutStudTo(
  top: WallTop,
  centerIn: number,
  studIn: number,
  plates: Plates
): { longPointIn: number; lengthIn: number; bevelDeg: number } {
  const half = studIn / 2;
  const peak = peakOf(top);
  const isUnderPeak = peak !== undefined && Math.abs(peak.xIn - centerIn) < half - TINY_IN;
  const slopes = isUnderPeak
    ? [slopeAt(top, peak.xIn - half), slopeAt(top, peak.xIn + half)]
    : [slopeAt(top, centerIn)];
  const slope = slopes.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
  const longPointIn = isUnderPeak ? peak.xIn : centerIn + (slope < 0 ? -half : half);
  const topPlumbIn = topPlatesPlumb(plates, slope);
  return {
    longPointIn,
    lengthIn: heightAt(top, longPointIn) - plates.bottomCount * plates.plateIn - topPlumbIn,
    bevelDeg: Math.abs(radiansToDegrees(Math.atan(slope))),
  };
}

/** Rows for the marks of a wall; studs that the plates leave no room for are not there. */
export function studsUnder(
  top: WallTop,
  marks: readonly StudMark[],
  studIn: number,
  plates: Plates
): (RakeStud & { readonly stud: StudMark })[] {
  checkPlates(plates);
  return marks
    .map((stud) => ({
      stud,
      mark: stud.mark,
      centerIn: stud.centerIn,
      ...cutStudTo(top, stud.centerIn, studIn, plates),
    }))
    .filter((row) => row.lengthIn > TINY_IN);
}

/**
 * Studs of a rake wall: long point, length and bevel. Neighbors differ by spacing × slope.
 *
 * @param lengthIn      framing length, in; at least two studs, less than 12,000
 * @param leftHeightIn  deck to top of the top plate at the left framing end, in; 0 or more, less than 1,200
 * @param rightHeightIn the same at the right, in; 0 or more, less than 1,200, one of the two more than 0
 * @param thicknessIn   panel thickness, in; more than 0, at most 12
 * @param leftEnd       past, flush, tight, short or free
 * @param rightEnd      the same at the right
 * @param spacingIn     stud spacing, in; 3 to 24, a whole number of times into 48
 * @param from          the end laid out from: left or right
 * @param studIn        stud thickness, in; 0.5 to 12
 * @param plates        how many plates, 0 to 10 below and above, of what thickness, 0.5 to 6 in
 * @returns one row a stud, left to right, numbered as in studMarks; studs shorter than nothing
 *   between the plates are left out
 * @shape rows of mark, centerIn, longPointIn, lengthIn, bevelDeg
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits, or no stud fits;
 *   not-covered: no seam leaves both last pieces wide enough
 * @source common difference spacing × rise / 12: US Navy Builder training manual 14044, End Framing
 * @example rakeStuds(144, 96, 168, 1.875, "free", "free", 24)[2].lengthIn // => 115.52089803375031
 */
export function rakeStuds(
  lengthIn: number,
  leftHeightIn: number,
  rightHeightIn: number,
  thicknessIn: number,
  leftEnd: WallEnd = PLAIN_ENDS.left,
  rightEnd: WallEnd = PLAIN_ENDS.right,
  spacingIn?: number,
  from?: Side,
  studIn: number = STUD_IN,
  plates: Plates = USUAL_PLATES
): RakeStud[] {
  const marks = studMarks(lengthIn, thicknessIn, leftEnd, rightEnd, spacingIn, from, studIn);
  const top = wallTop(lengthIn, leftHeightIn, rightHeightIn);
  const rows = studsUnder(top, marks, studIn, plates);
  if (rows.length === 0) {
    throw outOfRange("height must leave room for a stud between the plates");
  }
  return rows.map(({ stud: _stud, ...row }) => row);
}
