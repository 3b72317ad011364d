/**
 * What a saw takes out of a panel in one piece: a rectangle, a rake piece in its bounding box, a
 * nested pair of rake pieces, or a rip. Lengths in units.
 */
import type { Model, PieceType, RunItem, Way } from "./prepare.js";

/** Outline of a piece as it stands on the wall; a rake piece where its sides differ. */
export interface Outline {
  readonly w: number;
  readonly left: number;
  readonly right: number;
}

/** Box of two rake pieces nested head to tail: the wider stands level, the other hangs turned. */
export interface Nest {
  /** true where the first of the two given is the one that stands level */
  readonly firstLevel: boolean;
  readonly w: number;
  readonly h: number;
  /** lower left corner of the turned piece in the box */
  readonly upperX: number;
  readonly upperY: number;
  /** plumb width of the sloped cut between the two */
  readonly gap: number;
}

/** A nested pair with the piece types it holds. */
export interface Pair extends Nest {
  readonly lower: number;
  readonly upper: number;
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
  /** what the wood in it is worth at the prices of the share solution; its area before those */
  worth: number;
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

/** True where two rake pieces rise the same way at the same slope, so they nest head to tail. */
export function canNest(a: Outline, b: Outline): boolean {
  const riseA = a.right - a.left;
  const riseB = b.right - b.left;
  if (riseA === 0 || riseB === 0 || riseA > 0 !== riseB > 0) return false;
  const narrow = Math.min(a.w, b.w);
  return Math.abs((riseA * narrow) / a.w - (riseB * narrow) / b.w) <= SAME_SLOPE;
}

/**
 * The box of two rake pieces nested head to tail. The wider stands level at the bottom, the other
 * hangs turned end for end at the low end of the slope, where the pair is least tall.
 */
export function nest(a: Outline, b: Outline, kerf: number): Nest {
  const firstLevel = a.w >= b.w;
  const [p, q] = firstLevel ? [a, b] : [b, a];
  const rise = Math.abs(p.right - p.left);
  const riseQ = Math.abs(q.right - q.left);
  // The steeper of the two sets the kerf, so that the box never shrinks when a piece grows.
  const gap = rise * q.w >= riseQ * p.w ? plumbKerf(kerf, rise, p.w) : plumbKerf(kerf, riseQ, q.w);
  const low = Math.min(p.left, p.right);
  const qLow = Math.min(q.left, q.right);
  const qHigh = Math.max(q.left, q.right);
  // At the low end of the slope the turned piece shows its tall side, at its other end its short one.
  const atLow = low + gap + qHigh;
  const atFar = Math.ceil(low + (rise * q.w) / p.w - 1e-9) + gap + qLow;
  const top = Math.max(atLow, atFar);
  return {
    firstLevel,
    w: p.w,
    h: Math.max(top, low + rise),
    upperX: p.right > p.left ? 0 : p.w - q.w,
    upperY: top - qHigh,
    gap,
  };
}

export function pairOf(a: PieceType, b: PieceType, kerf: number): Pair {
  const box = nest(a, b, kerf);
  return {
    ...box,
    lower: box.firstLevel ? a.index : b.index,
    upper: box.firstLevel ? b.index : a.index,
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
    worth: type.area,
  };
}

export function pairBlock(model: Model, pair: Pair): Block {
  const area = model.types[pair.lower]!.area + model.types[pair.upper]!.area;
  return {
    w: pair.w,
    h: pair.h,
    turned: 0,
    type: pair.lower,
    pair,
    run: -1,
    from: 0,
    to: 0,
    area,
    worth: area,
  };
}

export function ripBlock(run: RunItem, from: number, to: number, way: Way): Block {
  const area = run.height * (run.joints[to]! - run.joints[from]!);
  return {
    w: way.w,
    h: way.h,
    turned: way.turned,
    type: -1,
    pair: null,
    run: run.index,
    from,
    to,
    area,
    worth: area,
  };
}
