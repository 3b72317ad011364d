/**
 * Nail points of a piece on its wall. The count is the number of points and the picture draws the
 * same points: edge nails round the piece, field nails on every stud between, none in openings, and
 * edge nails round each opening.
 */
import { TINY_IN, ceilCount } from "../check.js";
import {
  type Box,
  type PieceShape,
  EDGE_DISTANCE_IN,
  edgeInset,
  shapeTopAt,
} from "./wall-pieces.js";

export interface NailPoint {
  readonly xIn: number;
  readonly yIn: number;
}

export interface Nailing {
  readonly edgeIn: number;
  readonly fieldIn: number;
  /** centers of the common studs of the wall */
  readonly studsIn: readonly number[];
  /** x of the nails along the left and right edge */
  readonly linesIn: readonly [number, number];
}

/** Corners of the outline: up the left side, along the top, down the right side, back along the bottom. */
function outline(shape: PieceShape): NailPoint[] {
  const corners: NailPoint[] = [{ xIn: shape.leftIn, yIn: shape.bottomIn }];
  for (const point of shape.top) corners.push({ xIn: point.xIn, yIn: point.heightIn });
  corners.push({ xIn: shape.rightIn, yIn: shape.bottomIn });
  return corners;
}

/** Moves a point of the outline in from the edges; never outside a narrow piece or a thin tip. */
function movedIn(shape: PieceShape, point: NailPoint, lines: readonly [number, number]): NailPoint {
  const xIn = Math.min(Math.max(point.xIn, lines[0]), lines[1]);
  const topIn = shapeTopAt(shape, xIn);
  const inset = edgeInset(topIn - shape.bottomIn);
  const yIn = Math.min(Math.max(point.yIn, shape.bottomIn + inset), topIn - inset);
  return { xIn, yIn };
}

/** Points round the outline: every side in equal steps of the edge spacing or less. */
function edgePoints(shape: PieceShape, nailing: Nailing): NailPoint[] {
  const corners = outline(shape);
  const points: NailPoint[] = [];
  corners.forEach((from, index) => {
    const to = corners[(index + 1) % corners.length] as NailPoint;
    const lengthIn = Math.hypot(to.xIn - from.xIn, to.yIn - from.yIn);
    if (lengthIn <= TINY_IN) return;
    const steps = ceilCount(lengthIn / nailing.edgeIn);
    for (let step = 0; step < steps; step++) {
      const part = step / steps;
      points.push(
        movedIn(
          shape,
          {
            xIn: from.xIn + part * (to.xIn - from.xIn),
            yIn: from.yIn + part * (to.yIn - from.yIn),
          },
          nailing.linesIn
        )
      );
    }
  });
  return points;
}

function fieldPoints(shape: PieceShape, nailing: Nailing): NailPoint[] {
  const points: NailPoint[] = [];
  for (const xIn of nailing.studsIn) {
    if (xIn <= shape.leftIn + TINY_IN || xIn >= shape.rightIn - TINY_IN) continue;
    const heightIn = shapeTopAt(shape, xIn) - shape.bottomIn;
    const steps = ceilCount(heightIn / nailing.fieldIn);
    for (let step = 1; step < steps; step++) {
      points.push({ xIn, yIn: shape.bottomIn + (heightIn * step) / steps });
    }
  }
  return points;
}

function isInside(box: Box, point: NailPoint, marginIn: number): boolean {
  return (
    point.xIn > box.leftIn - marginIn &&
    point.xIn < box.rightIn + marginIn &&
    point.yIn > box.bottomIn - marginIn &&
    point.yIn < box.topIn + marginIn
  );
}

/** Points along the edges of an opening, 3/8 in outside it; only those that fall on the piece. */
function openingPoints(shape: PieceShape, box: Box, edgeIn: number): NailPoint[] {
  const out = EDGE_DISTANCE_IN;
  const left = box.leftIn - out;
  const right = box.rightIn + out;
  const low = box.bottomIn - out;
  const high = box.topIn + out;
  const sides: [NailPoint, NailPoint][] = [
    [
      { xIn: left, yIn: low },
      { xIn: left, yIn: high },
    ],
    [
      { xIn: left, yIn: high },
      { xIn: right, yIn: high },
    ],
    [
      { xIn: right, yIn: high },
      { xIn: right, yIn: low },
    ],
    [
      { xIn: right, yIn: low },
      { xIn: left, yIn: low },
    ],
  ];
  return sides.flatMap(([from, to]) => {
    const lengthIn = Math.hypot(to.xIn - from.xIn, to.yIn - from.yIn);
    const steps = ceilCount(lengthIn / edgeIn);
    return Array.from({ length: steps }, (_, step) => ({
      xIn: from.xIn + ((to.xIn - from.xIn) * step) / steps,
      yIn: from.yIn + ((to.yIn - from.yIn) * step) / steps,
    })).filter((point) => isOnPiece(shape, point));
  });
}

function isOnPiece(shape: PieceShape, point: NailPoint): boolean {
  if (point.xIn < shape.leftIn + TINY_IN || point.xIn > shape.rightIn - TINY_IN) return false;
  if (point.yIn < shape.bottomIn + TINY_IN) return false;
  return point.yIn < shapeTopAt(shape, point.xIn) - TINY_IN;
}

/**
 * Every nail of a piece.
 *
 * @param shape   the piece on its wall
 * @param holes   the parts of openings routed out of it
 * @param nailing spacings, studs and the lines of the plumb edges' nails
 * @returns points inside the piece and outside the openings, in, from the left framing corner and
 *   the deck; a whole rectangle has 2·ceil(h/e) + 2·ceil(w/e) + (ceil(h/f) − 1) a stud between
 */
export function nailPoints(
  shape: PieceShape,
  holes: readonly Box[],
  nailing: Nailing
): NailPoint[] {
  const whole = [...edgePoints(shape, nailing), ...fieldPoints(shape, nailing)];
  if (holes.length === 0) return whole;
  const clear = EDGE_DISTANCE_IN - TINY_IN;
  const kept = whole.filter((point) => !holes.some((hole) => isInside(hole, point, clear)));
  for (const hole of holes) {
    for (const point of openingPoints(shape, hole, nailing.edgeIn)) {
      const inHole = holes.some((other) => isInside(other, point, clear));
      if (!inHole && !kept.some((near) => isNear(near, point))) kept.push(point);
    }
  }
  return kept;
}

/** Two nails closer than the edge distance are one nail. */
function isNear(a: NailPoint, b: NailPoint): boolean {
  return Math.hypot(a.xIn - b.xIn, a.yIn - b.yIn) < EDGE_DISTANCE_IN - TINY_IN;
}
