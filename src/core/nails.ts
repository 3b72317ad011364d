/** Nails: how long, how deep, how many. Never a shear-wall capacity. */
import {
  TINY_IN,
  ceilCount,
  checkNumber,
  notCovered,
  outOfRange,
  shown,
  wrongKind,
} from "./check.js";
import { PLAIN_ENDS, type WallEnd, runSpan } from "./corners.js";
import { wallSeams, studMarks } from "./layout.js";
import { LIMITS, SPACING_IN, checkHeight, checkSpacing, checkThickness } from "./limits.js";
import { inchText } from "./units.js";
import { SPARE_SHARE, wholePackages } from "./tape.js";
import { checkRipCourse, plainRips } from "./rips.js";

/** General use; common practice, no source. The engineer's schedule rules. */
export const PENETRATION_IN = 1.5;
/** Lengths commonly stocked; common practice, no source. */
export const NAIL_LENGTHS_IN: readonly number[] = [2, 2.375, 2.5, 3, 3.25, 3.5, 4];

/**
 * Shortest nail for a panel and a wanted penetration.
 *
 * @param thicknessIn   panel thickness, in; more than 0, at most 12
 * @param penetrationIn wanted in the stud, in; more than 0, at most 12
 * @returns thickness + penetration, in; exact, not yet a stocked length
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source arithmetic; the penetration is common practice, no source
 * @example nailLength(1.875) // => 3.375
 */
export function nailLength(thicknessIn: number, penetrationIn: number = PENETRATION_IN): number {
  checkThickness("thickness", thicknessIn);
  checkNumber("penetration", penetrationIn, LIMITS.penetration);
  return thicknessIn + penetrationIn;
}

/**
 * Next stocked length at or above the one needed.
 *
 * @param lengthIn needed, in; more than 0, at most 24
 * @param stockIn  stocked lengths, in any order, in; each more than 0, at most 24
 * @returns stocked length, in
 * @shape one number
 * @throws {CalcError} not-covered: longer than the longest stocked; out-of-range, wrong-kind: an
 *   argument outside its limits, or an empty list
 * @source stocked lengths: common practice, no source
 * @example stockNail(3.375) // => 3.5
 */
export function stockNail(lengthIn: number, stockIn: readonly number[] = NAIL_LENGTHS_IN): number {
  checkNumber("length", lengthIn, LIMITS.nailLength);
  if (!Array.isArray(stockIn)) {
    throw wrongKind(`stock must be a list of nail lengths; got ${shown(stockIn)}`);
  }
  if (stockIn.length === 0) throw outOfRange("stock must list at least one nail length; got none");
  const sorted = stockIn.map((each) => checkNumber("stock", each, LIMITS.nailLength));
  sorted.sort((a, b) => a - b);
  const found = sorted.find((each) => each >= lengthIn - TINY_IN);
  if (found === undefined) {
    throw notCovered(
      `no stocked nail is ${inchText(lengthIn, 64)} in or longer; the longest is ${inchText(sorted.at(-1) as number, 64)} in`
    );
  }
  return found;
}

/**
 * How far a nail driven flush goes into the stud.
 *
 * @param nailLengthIn nail length, in; more than 0, at most 24
 * @param thicknessIn  panel thickness, in; more than 0, at most 12
 * @returns nail length − thickness, in
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: the nail does not reach the stud, or
 *   an argument outside its limits
 * @source arithmetic
 * @example nailPenetration(3.5, 1.875) // => 1.625
 */
export function nailPenetration(nailLengthIn: number, thicknessIn: number): number {
  checkNumber("nail_length", nailLengthIn, LIMITS.nailLength);
  checkThickness("thickness", thicknessIn);
  const penetrationIn = nailLengthIn - thicknessIn;
  if (penetrationIn < 0) {
    throw outOfRange(
      `nail_length must be at least the thickness, ${shown(thicknessIn)} in, to reach the stud; got ${shown(nailLengthIn)}`
    );
  }
  return penetrationIn;
}

/** Nails of one rectangle whose studs between the edges are counted already. */
export function rectangleNails(
  widthIn: number,
  heightIn: number,
  edgeIn: number,
  fieldIn: number,
  studsBetween: number
): number {
  const round = 2 * ceilCount(heightIn / edgeIn) + 2 * ceilCount(widthIn / edgeIn);
  return round + studsBetween * (ceilCount(heightIn / fieldIn) - 1);
}

function checkNailing(edgeIn: number, fieldIn: number): void {
  checkNumber("edge_spacing", edgeIn, LIMITS.nailSpacing);
  checkNumber("field_spacing", fieldIn, LIMITS.nailSpacing);
}

/**
 * Nails of one loose rectangular piece.
 *
 * @param widthIn   piece width, in; more than 0, less than 12,000
 * @param heightIn  piece height, in; more than 0, less than 1,200
 * @param edgeIn    edge nailing, in; 0.5 to 96
 * @param fieldIn   field nailing, in; 0.5 to 96
 * @param spacingIn stud spacing, in; 3 to 96
 * @returns nails: 2·ceil(h/e) + 2·ceil(w/e) round the edge, ceil(h/f) − 1 on each of the
 *   ceil(w/spacing) − 1 studs between
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source common practice, no source; the schedule is the engineer's
 * @example nailsPerPanel(48, 96, 6, 12) // => 62
 */
export function nailsPerPanel(
  widthIn: number,
  heightIn: number,
  edgeIn: number,
  fieldIn: number,
  spacingIn: number = SPACING_IN
): number {
  checkNumber("width", widthIn, LIMITS.wallLength);
  checkHeight("height", heightIn);
  checkNailing(edgeIn, fieldIn);
  checkSpacing("spacing", spacingIn);
  return rectangleNails(widthIn, heightIn, edgeIn, fieldIn, ceilCount(widthIn / spacingIn) - 1);
}

/**
 * Nails of a plain wall: every panel between its seams, and the rips of a rip course.
 *
 * @param lengthIn    framing length, in; at least two studs, less than 12,000
 * @param heightIn    sheathed height, rip included, in; more than 0, less than 1,200
 * @param thicknessIn panel thickness, in; more than 0, at most 12
 * @param edgeIn      edge nailing, in; 0.5 to 96
 * @param fieldIn     field nailing, in; 0.5 to 96
 * @param leftEnd     past, flush, tight, short or free
 * @param rightEnd    the same at the right
 * @param spacingIn   stud spacing, in; 3 to 24, a whole number of times into 48
 * @param ripHeightIn height of the rip course, in; 0 for none, 48 at most, less than the height
 * @returns nails
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source common practice, no source; the schedule is the engineer's
 * @example nailsPerWall(96, 96, 1.875, 6, 12, "free", "free") // => 124
 */
export function nailsPerWall(
  lengthIn: number,
  heightIn: number,
  thicknessIn: number,
  edgeIn: number,
  fieldIn: number,
  leftEnd: WallEnd = PLAIN_ENDS.left,
  rightEnd: WallEnd = PLAIN_ENDS.right,
  spacingIn?: number,
  ripHeightIn: number = 0
): number {
  const wall = { lengthIn, thicknessIn, leftEnd, rightEnd };
  const span = runSpan(wall);
  checkHeight("height", heightIn);
  checkNailing(edgeIn, fieldIn);
  checkRipCourse(ripHeightIn, heightIn);
  const seams = wallSeams(wall, { spacingIn });
  const studs = studMarks(lengthIn, thicknessIn, leftEnd, rightEnd, spacingIn);
  const common = studs.filter((stud) => !stud.isEndStud).map((stud) => stud.centerIn);
  const nails = (edges: readonly number[], pieceHeightIn: number): number => {
    let sum = 0;
    for (let index = 1; index < edges.length; index++) {
      const fromIn = edges[index - 1] as number;
      const toIn = edges[index] as number;
      const between = studsBetween(common, fromIn, toIn);
      sum += rectangleNails(toIn - fromIn, pieceHeightIn, edgeIn, fieldIn, between);
    }
    return sum;
  };
  const panels = nails([span.startIn, ...seams, span.endIn], heightIn - ripHeightIn);
  if (ripHeightIn === 0) return panels;
  return panels + nails(plainRips(span, spacingIn ?? SPACING_IN), ripHeightIn);
}

/** Common studs strictly inside a piece: those on its edges carry edge nails. */
export function studsBetween(centersIn: readonly number[], fromIn: number, toIn: number): number {
  return centersIn.filter((x) => x > fromIn + TINY_IN && x < toIn - TINY_IN).length;
}

/**
 * Boxes of one nail for the whole house, rounded up once.
 *
 * @param nails       nails needed over the whole house; 0 or more
 * @param nailsPerBox nails in a box; more than 0
 * @param extra       spare share; 0 or more, less than 1; 0.05 is 5 %
 * @returns whole boxes
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source arithmetic; add before rounding
 * @example nailBoxes(5000, 2000) // => 3
 */
export function nailBoxes(nails: number, nailsPerBox: number, extra: number = SPARE_SHARE): number {
  return wholePackages("nails", nails, "nails_per_box", nailsPerBox, extra);
}
