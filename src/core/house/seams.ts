/** Seams of one wall: every joint between two pieces that gets tape, less what falls in openings. */
import { TINY_IN } from "../check.js";
import { heightAt } from "../wall-top.js";
import type { Opening } from "./walls.js";
import type { CutWall, WallPiece } from "./wall-pieces.js";
import { shapeTop, spanAbove } from "./wall-pieces.js";

export interface Segment {
  readonly fromX: number;
  readonly fromY: number;
  readonly toX: number;
  readonly toY: number;
  readonly lengthIn: number;
  readonly isHorizontal: boolean;
  /** a line of blocking has to be put behind it */
  readonly needsBlocking: boolean;
}

type Interval = readonly [number, number];

/** What is left of an interval when others are taken out of it. */
function without(whole: Interval, taken: readonly Interval[]): Interval[] {
  let left: Interval[] = whole[1] - whole[0] > TINY_IN ? [whole] : [];
  for (const [from, to] of taken) {
    left = left.flatMap(([a, b]): Interval[] => {
      if (to <= a || from >= b) return [[a, b]];
      const parts: Interval[] = [
        [a, Math.max(a, from)],
        [Math.min(b, to), b],
      ];
      return parts.filter(([low, high]) => high - low > TINY_IN);
    });
  }
  return left;
}

/** Heights of the openings that stand over x, their jambs included: a jamb is no seam. */
function openingsOver(openings: readonly Opening[], xIn: number): Interval[] {
  return openings
    .filter((each) => each.leftIn <= xIn + TINY_IN && each.rightIn >= xIn - TINY_IN)
    .map((each) => [each.bottomIn, each.topIn]);
}

function upright(xIn: number, parts: readonly Interval[]): Segment[] {
  return parts.map(([fromY, toY]) => ({
    fromX: xIn,
    toX: xIn,
    fromY,
    toY,
    lengthIn: toY - fromY,
    isHorizontal: false,
    needsBlocking: false,
  }));
}

/** Seams between panels, and joints between rips that stand side by side. */
export function verticalSeams(cut: CutWall, rips: readonly WallPiece[]): Segment[] {
  const panelSeams = cut.seams.flatMap((xIn) =>
    upright(
      xIn,
      without([cut.panelsFromIn, heightAt(cut.wall.top, xIn)], openingsOver(cut.openings, xIn))
    )
  );
  const joints = rips.flatMap((left) =>
    rips
      .filter((right) => Math.abs(right.leftIn - left.rightIn) < TINY_IN)
      .flatMap((right) => {
        const shared: Interval = [
          Math.max(left.bottomIn, right.bottomIn),
          Math.min(shapeTop(left), shapeTop(right)),
        ];
        return upright(left.rightIn, without(shared, openingsOver(cut.openings, left.rightIn)));
      })
  );
  return [...panelSeams, ...joints];
}

/** What a level seam leaves of the run, less the openings that reach it. */
function levelSeam(cut: CutWall, yIn: number, aboveIn: number, needsBlocking: boolean): Segment[] {
  const run = spanAbove(cut.wall.top, aboveIn, cut.wall.span.startIn, cut.wall.span.endIn);
  if (!run) return [];
  const taken = cut.openings
    .filter((each) => each.bottomIn <= yIn + TINY_IN && each.topIn >= yIn - TINY_IN)
    .map((each): Interval => [each.leftIn, each.rightIn]);
  return without(run, taken).map(([fromX, toX]) => ({
    fromX,
    toX,
    fromY: yIn,
    toY: yIn,
    lengthIn: toX - fromX,
    isHorizontal: true,
    needsBlocking,
  }));
}

/** Inches of the wall's bottom edge where panels or rips end, less the openings that reach it. */
export function bottomEdge(cut: CutWall): number {
  return levelSeam(cut, cut.bottomIn, cut.bottomIn, false).reduce(
    (sum, each) => sum + each.lengthIn,
    0
  );
}

/**
 * The seam over the rips, the seams between panel courses, and the one along the bottom where the
 * wall stands on the panels of a wall below; that one has the rim or a plate behind it.
 */
export function horizontalSeams(cut: CutWall): Segment[] {
  const levels = cut.hasRips ? [cut.panelsFromIn, ...cut.courseSeamsIn] : cut.courseSeamsIn;
  return [
    ...(cut.wall.hasBottomSeam ? levelSeam(cut, cut.bottomIn, cut.bottomIn, false) : []),
    ...levels.flatMap((yIn) => levelSeam(cut, yIn, yIn, true)),
  ];
}
