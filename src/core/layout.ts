/** Layout: where the studs stand, where the panels break, what the burned tape reads. */
import { TINY_IN, checkNumber, floorCount, notCovered, outOfRange, shown } from "./check.js";
import {
  PLAIN_ENDS,
  type Side,
  type WallEnd,
  type WallLine,
  checkEnd,
  checkSide,
  endReach,
  runSpan,
} from "./corners.js";
import {
  LIMITS,
  PANEL_WIDTH_IN,
  SPACING_IN,
  STUD_IN,
  checkModule,
  checkSpacing,
} from "./limits.js";

export interface StudMark {
  readonly mark: number;
  /** from the left framing corner, as are the edges, in */
  readonly centerIn: number;
  readonly nearEdgeIn: number;
  readonly farEdgeIn: number;
  /** what the burned tape shows at the center, from the end laid out from, in */
  readonly tapeIn: number;
  readonly isEndStud: boolean;
  readonly breaksHere: boolean;
}

export interface LayoutOptions {
  readonly spacingIn?: number | undefined;
  readonly from?: Side | undefined;
}

/** A common stud's center clears the framing end by the end stud and half its own thickness. */
const CLEAR_STUDS = 1.5;

/** The layout's zero and direction: `x = originIn + sign·tape`. */
export function layoutOrigin(
  span: { readonly startIn: number; readonly endIn: number },
  from: Side
): { readonly originIn: number; readonly sign: 1 | -1 } {
  return from === "left" ? { originIn: span.startIn, sign: 1 } : { originIn: span.endIn, sign: -1 };
}

/**
 * Seams measured from the layout origin, ascending. A last piece under the smallest width moves the
 * previous seam back by whole stud spaces until both pieces are wide enough. However small the
 * smallest, the last seam stays clear of the end stud: no common stud can stand beside that.
 */
function seamReadings(
  runIn: number,
  spacingIn: number,
  panelWidthIn: number,
  smallestIn: number,
  clearIn: number
): number[] {
  const count = Math.max(0, Math.ceil((runIn - TINY_IN) / panelWidthIn) - 1);
  const seams = Array.from({ length: count }, (_, index) => (index + 1) * panelWidthIn);
  const last = seams.at(-1);
  if (last === undefined) return seams;
  const rest = runIn - last;
  const leastIn = Math.max(smallestIn, clearIn);
  if (rest >= leastIn - TINY_IN) return seams;
  const spaces = Math.ceil((leastIn - rest - TINY_IN) / spacingIn);
  const moved = last - spaces * spacingIn;
  const before = seams.at(-2) ?? 0;
  if (moved - before < smallestIn - TINY_IN || runIn - moved > panelWidthIn + TINY_IN) {
    throw notCovered(
      `no seam on a stud leaves the last two pieces at least ${shown(smallestIn)} in wide; take a smaller smallest piece or start from the other end`
    );
  }
  seams[seams.length - 1] = moved;
  return seams;
}

function checkedOptions(options: LayoutOptions): { spacingIn: number; from: Side } {
  const spacingIn = checkSpacing("spacing", options.spacingIn ?? SPACING_IN);
  return { spacingIn, from: checkSide("from", options.from ?? "left") };
}

/** Seams of a wall, ascending from the left framing corner; empty where the wall has none. */
export function wallSeams(
  wall: WallLine,
  options: LayoutOptions & {
    readonly panelWidthIn?: number | undefined;
    readonly smallestIn?: number | undefined;
    readonly studIn?: number | undefined;
  } = {}
): number[] {
  const span = runSpan(wall);
  const { spacingIn, from } = checkedOptions(options);
  const panelWidthIn = checkNumber(
    "panel_width",
    options.panelWidthIn ?? PANEL_WIDTH_IN,
    LIMITS.panelWidth
  );
  checkModule(spacingIn, panelWidthIn);
  if (options.smallestIn === undefined && spacingIn > panelWidthIn - TINY_IN) {
    throw outOfRange(
      `spacing must be less than the panel width of ${shown(panelWidthIn)} in; got ${shown(spacingIn)}`
    );
  }
  const smallestIn = checkNumber("smallest", options.smallestIn ?? spacingIn, {
    above: 0,
    below: panelWidthIn,
    unit: "in",
  });
  const { originIn, sign } = layoutOrigin(span, from);
  const farEnd = checkEnd("end", from === "left" ? wall.rightEnd : wall.leftEnd);
  const clearIn = endReach(farEnd, wall.thicknessIn) + CLEAR_STUDS * (options.studIn ?? STUD_IN);
  const seams = seamReadings(span.runIn, spacingIn, panelWidthIn, smallestIn, clearIn).map(
    (reading) => originIn + sign * reading
  );
  return from === "left" ? seams : seams.reverse();
}

/**
 * Where panels break, from the left framing corner.
 *
 * @param lengthIn     framing length, in; more than 0, less than 12,000
 * @param thicknessIn  panel thickness, in; more than 0, at most 12
 * @param leftEnd      past, flush, tight, short or free
 * @param rightEnd     the same at the right
 * @param spacingIn    stud spacing, in; 3 or more, a whole number of times into the panel width
 * @param from         the end laid out from: left or right
 * @param panelWidthIn panel width, in; 12 to 120
 * @param smallestIn   narrowest last piece, in; more than 0, less than the panel width; blank is one stud
 *   space
 * @returns ascending x of every seam, in; each on a stud center
 * @shape a column of numbers, one a seam
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits; not-covered: a wall that
 *   one panel covers has no seam, or no seam leaves both last pieces wide enough
 * @source "edges of standard-size panels fall on the centers of the studs": US Navy Builder
 *   training manual 14044, p. 1-23; the sliver rule is common practice, no source
 * @example panelBreaks(156, 1.875, "past", "flush") // => [46.125, 94.125, 126.125]
 */
export function panelBreaks(
  lengthIn: number,
  thicknessIn: number,
  leftEnd: WallEnd = PLAIN_ENDS.left,
  rightEnd: WallEnd = PLAIN_ENDS.right,
  spacingIn?: number,
  from?: Side,
  panelWidthIn?: number,
  smallestIn?: number
): number[] {
  const seams = wallSeams(
    { lengthIn, thicknessIn, leftEnd, rightEnd },
    { spacingIn, from, panelWidthIn, smallestIn }
  );
  if (seams.length === 0) {
    throw notCovered(`the wall has no seam: one panel covers its run`);
  }
  return seams;
}

/**
 * Stud marks of a wall, left to right, end studs included.
 *
 * Common studs stand every spacing from the layout origin. One that would overlap an end stud is
 * left out: the end stud stands at the framing end whatever the layout says.
 *
 * @param lengthIn     framing length, in; at least two studs, less than 12,000
 * @param thicknessIn  panel thickness, in; more than 0, at most 12
 * @param leftEnd      past, flush, tight, short or free
 * @param rightEnd     the same at the right
 * @param spacingIn    stud spacing, in; 3 or more, a whole number of times into the panel width, 48 if none is given
 * @param from         the end laid out from: left or right
 * @param studIn       stud thickness, in; 0.5 to 12
 * @param panelWidthIn panel width, in; 12 to 120; which studs a panel breaks on
 * @param smallestIn   narrowest last piece, in; more than 0, less than the panel width; blank is one stud
 *   space
 * @returns one row a stud; x from the left framing corner; the tape reading from the burned end,
 *   negative where the end stud stands behind the start of a `short` run
 * @shape rows of mark, centerIn, nearEdgeIn, farEdgeIn, tapeIn, isEndStud, breaksHere
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits; not-covered: no seam leaves
 *   both last pieces wide enough
 * @source US Navy Builder training manual 14044, p. 1-23 and 1-24
 * @example studMarks(156, 1.875, "past", "flush")[1].nearEdgeIn // => 13.375
 */
export function studMarks(
  lengthIn: number,
  thicknessIn: number,
  leftEnd: WallEnd = PLAIN_ENDS.left,
  rightEnd: WallEnd = PLAIN_ENDS.right,
  spacingIn?: number,
  from?: Side,
  studIn: number = STUD_IN,
  panelWidthIn?: number,
  smallestIn?: number
): StudMark[] {
  const wall = { lengthIn, thicknessIn, leftEnd, rightEnd };
  const span = runSpan(wall);
  const options = checkedOptions({ spacingIn, from });
  checkNumber("stud", studIn, LIMITS.stud);
  const seams = wallSeams(wall, { ...options, panelWidthIn, smallestIn, studIn });
  if (lengthIn < 2 * studIn - TINY_IN) {
    throw outOfRange(
      `length must be at least two studs, ${shown(2 * studIn)} in; got ${shown(lengthIn)}`
    );
  }
  const { originIn, sign } = layoutOrigin(span, options.from);
  const half = studIn / 2;
  const common = commonStudCenters(originIn, sign, lengthIn, options.spacingIn, studIn);
  const centers = [
    { centerIn: half, isEndStud: true },
    ...common.map((centerIn) => ({ centerIn, isEndStud: false })),
    { centerIn: lengthIn - half, isEndStud: true },
  ];
  return centers.map(({ centerIn, isEndStud }, index) => ({
    mark: index + 1,
    centerIn,
    nearEdgeIn: centerIn - half,
    farEdgeIn: centerIn + half,
    tapeIn: sign === 1 ? centerIn - originIn : originIn - centerIn,
    isEndStud,
    breaksHere: seams.some((seam) => Math.abs(seam - centerIn) <= half + TINY_IN),
  }));
}

/** Centers of the common studs that clear both end studs, ascending. */
function commonStudCenters(
  originIn: number,
  sign: 1 | -1,
  lengthIn: number,
  spacingIn: number,
  studIn: number
): number[] {
  const low = CLEAR_STUDS * studIn - TINY_IN;
  const high = lengthIn - CLEAR_STUDS * studIn + TINY_IN;
  const steps = floorCount((sign === 1 ? high - originIn : originIn - low) / spacingIn);
  const centers: number[] = [];
  for (let step = 0; step <= steps; step++) {
    const centerIn = originIn + sign * step * spacingIn;
    if (centerIn >= low && centerIn <= high) centers.push(centerIn);
  }
  return sign === 1 ? centers : centers.reverse();
}
