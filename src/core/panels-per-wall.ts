/** Whole panels of one plain wall by itself. */
import { TINY_IN, checkNumber, notCovered } from "./check.js";
import { PLAIN_ENDS, type WallEnd, runSpan } from "./corners.js";
import { planCuts } from "./cut-plan/plan-cuts.js";
import { wallSeams } from "./layout.js";
import { KERF_IN, LIMITS, PANEL_LENGTHS_IN, PANEL_WIDTH_IN, checkHeight } from "./limits.js";
import { inchText } from "./units.js";

/**
 * Whole panels for one plain wall alone, its own offcuts used again.
 *
 * @param lengthIn      framing length, in; more than 0, less than 12,000
 * @param heightIn      sheathed height, in; more than 0, less than 1,200
 * @param thicknessIn   panel thickness, in; more than 0, at most 12
 * @param leftEnd       past, flush, tight, short or free
 * @param rightEnd      the same at the right
 * @param spacingIn     stud spacing, in; 3 to 24, a whole number of times into 48
 * @param panelLengthIn panel length, in; 12 to 480; blank is the shortest stocked (96, 108, 120) that
 *   covers the height; one shorter than the wall stacks courses
 * @returns panels
 * @shape one number
 * @throws {CalcError} not-covered: no stocked panel covers the height and no length was given;
 *   wrong-kind, out-of-range: an argument outside its limits
 * @source cut plan with 1/8 in saw cuts; stocked lengths are common practice, no source
 * @example panelsPerWall(144, 96, 1.875, "free", "free") // => 3
 */
export function panelsPerWall(
  lengthIn: number,
  heightIn: number,
  thicknessIn: number,
  leftEnd: WallEnd = PLAIN_ENDS.left,
  rightEnd: WallEnd = PLAIN_ENDS.right,
  spacingIn?: number,
  panelLengthIn?: number
): number {
  const wall = { lengthIn, thicknessIn, leftEnd, rightEnd };
  const span = runSpan(wall);
  checkHeight("height", heightIn);
  const stockIn =
    panelLengthIn === undefined
      ? PANEL_LENGTHS_IN.find((length) => length >= heightIn - TINY_IN)
      : checkNumber("panel_length", panelLengthIn, LIMITS.panelLength);
  if (stockIn === undefined) {
    throw notCovered(
      `no stocked panel covers ${inchText(heightIn)} in; the longest is ${PANEL_LENGTHS_IN.at(-1)}: give panel_length to stack courses with a blocked horizontal seam`
    );
  }
  const edges = [span.startIn, ...wallSeams(wall, { spacingIn }), span.endIn];
  const courses: number[] = [];
  for (let leftIn = heightIn; leftIn > TINY_IN; leftIn -= stockIn) {
    courses.push(Math.min(stockIn, leftIn));
  }
  const pieces = edges.slice(1).flatMap((edge, column) =>
    courses.map((courseIn, course) => ({
      id: `${column}/${course}`,
      widthIn: edge - (edges[column] as number),
      leftIn: courseIn,
      rightIn: courseIn,
    }))
  );
  return planCuts({
    panelWidthIn: PANEL_WIDTH_IN,
    kerfIn: KERF_IN,
    canTurn: false,
    stock: [{ lengthIn: stockIn, cost: 1 }],
    pieces,
    rips: [],
    scrap: [],
  }).panelCount;
}
