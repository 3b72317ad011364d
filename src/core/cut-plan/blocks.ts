/**
 * What a saw takes out of a panel in one piece: a rectangle, a rake piece in its bounding box, a
 * nested pair of rake pieces, or a rip. Lengths in units.
 */
import type { Model, PieceType, RunItem, Way } from "./prepare.js";

/** Two rake pieces head to tail in one box: the wider stands level, the other is turned end for end. */
export interface Pair {
  readonly lower: number;
  readonly upper: number;
  readonly w: number;
  readonly h: number;
  /** lower left corner of the turned piece in the box */
  readonly upperX: number;
  readonly upperY: number;
}

export interface Block {
  readonly w: number;
  readonly h: number;
  readonly turned: 0 | 90 | 180;
  /** index of the piece type; -1 for a rip */
  readonly type: number;
  /** the rake piece nested above it, else null */
  readonly pair: Pair | null;
  /** index of the run; -1 for a piece */
  readonly run: number;
  /** joint numbers between which the rip lies */
  readonly from: number;
  readonly to: number;
  /** area of wood used */
  readonly area: number;
}

/**
 * Two rake pieces have one slope where, over the narrower one's width, their rise differs by no
 * more than this: 1/16 in, the finest mark on a tape, to which a crew marks them. Units.
 */
const SAME_SLOPE = 64;

/** Plumb width of a saw cut along a rake of this rise over this run, rounded up to a whole unit. */
export function plumbKerf(kerf: number, rise: number, run: number): number {
  if (kerf === 0) return 0;
  const plumb = kerf * Math.sqrt(1 + (rise * rise) / (run * run));
  return Math.ceil(plumb - 1e-9);
}

/** True where two rake types rise the same way at the same slope, so they nest head to tail. */
export function canNest(a: PieceType, b: PieceType): boolean {
  if (!a.rake || !b.rake) return false;
  const riseA = a.right - a.left;
  const riseB = b.right - b.left;
  if (riseA > 0 !== riseB > 0) return false;
  const narrow = Math.min(a.w, b.w);
  return Math.abs((riseA * narrow) / a.w - (riseB * narrow) / b.w) <= SAME_SLOPE;
}

/**
 * The box of two rake pieces nested head to tail. The wider stands level at the bottom, the other
 * hangs turned end for end at the low end of the slope, where the pair is least tall.
 */
export function nest(a: PieceType, b: PieceType, kerf: number): Pair {
  const [p, q] = a.w >= b.w ? [a, b] : [b, a];
  const rise = Math.abs(p.right - p.left);
  const gap = plumbKerf(kerf, rise, p.w);
  const low = Math.min(p.left, p.right);
  const qLow = Math.min(q.left, q.right);
  const qHigh = Math.max(q.left, q.right);
  // At the low end of the slope the turned piece shows its tall side, at its other end its short one.
  const atLow = low + gap + qHigh;
  const atFar = Math.ceil(low + (rise * q.w) / p.w - 1e-9) + gap + qLow;
  const top = Math.max(atLow, atFar);
  const h = Math.max(top, low + rise);
  return {
    lower: p.index,
    upper: q.index,
    w: p.w,
    h,
    upperX: p.right > p.left ? 0 : p.w - q.w,
    upperY: top - qHigh,
  };
}

export function pieceBlock(type: PieceType, way: Way): Block {
  return {
    w: way.w,
    h: way.h,
    turned: way.turned,
    type: type.index,
    pair: null,
    run: -1,
    from: 0,
    to: 0,
    area: type.area,
  };
}

export function pairBlock(model: Model, pair: Pair): Block {
  return {
    w: pair.w,
    h: pair.h,
    turned: 0,
    type: pair.lower,
    pair,
    run: -1,
    from: 0,
    to: 0,
    area: model.types[pair.lower]!.area + model.types[pair.upper]!.area,
  };
}

export function ripBlock(run: RunItem, from: number, to: number, way: Way): Block {
  return {
    w: way.w,
    h: way.h,
    turned: way.turned,
    type: -1,
    pair: null,
    run: run.index,
    from,
    to,
    area: run.height * (run.joints[to]! - run.joints[from]!),
  };
}
