/**
 * Piece types merged into fewer classes for the proof. A class is as small as the smallest of its
 * members in every direction, so a plan for the real pieces is also a plan for the classes: a bound
 * for the classes holds for the pieces. Merging loses a little area, kept under a limit.
 */
import { canNest } from "./blocks.js";
import type { Model } from "./prepare.js";

export interface PieceClass {
  readonly w: number;
  readonly left: number;
  readonly right: number;
  readonly rake: boolean;
  readonly count: number;
  readonly area: number;
  /** indexes of the piece types in it */
  readonly members: readonly number[];
}

/** Most piece classes a pairwise merge starts from; above it sizes are first rounded down. */
const PAIRWISE = 1200;

interface Draft {
  w: number;
  left: number;
  right: number;
  rake: boolean;
  count: number;
  area: number;
  members: number[];
  alive: boolean;
  /** cheapest partner and what merging with it loses */
  partner: number;
  loss: number;
}

/** How many of a size go side by side in each of the limits: merging must not add one. */
function fits(size: number, limits: readonly number[], kerf: number): string {
  return limits.map((limit) => Math.floor((limit + kerf) / (size + kerf))).join("/");
}

function merged(
  a: { w: number; left: number; right: number; rake: boolean },
  b: { w: number; left: number; right: number; rake: boolean }
): { w: number; left: number; right: number } {
  const w = Math.min(a.w, b.w);
  if (!a.rake) {
    const h = Math.min(a.left, b.left);
    return { w, left: h, right: h };
  }
  // The low end of the slope stays; the rise shrinks with the width, along the gentler slope.
  const rising = a.right > a.left;
  const low = Math.min(Math.min(a.left, a.right), Math.min(b.left, b.right));
  const slope = Math.min(Math.abs(a.right - a.left) / a.w, Math.abs(b.right - b.left) / b.w);
  const rise = Math.floor(slope * w);
  return rising ? { w, left: low, right: low + rise } : { w, left: low + rise, right: low };
}

function areaOf(shape: { w: number; left: number; right: number }): number {
  return (shape.w * (shape.left + shape.right)) / 2;
}

/**
 * Merges types with `counts` pieces of each. Merging goes on while there are more than `most`
 * classes, or while the area lost in all stays under `freeLoss`.
 */
export function mergeTypes(
  model: Model,
  counts: ArrayLike<number>,
  most: number,
  freeLoss: number
): PieceClass[] {
  let drafts: Draft[] = [];
  for (const type of model.types) {
    const count = counts[type.index]!;
    if (count === 0) continue;
    drafts.push({
      w: type.w,
      left: type.left,
      right: type.right,
      rake: type.rake,
      count,
      area: type.area,
      members: [type.index],
      alive: true,
      partner: -1,
      loss: Infinity,
    });
  }
  // Steps from 1/4 in to 2,048 in: past that nothing is left to round.
  for (let step = 256; drafts.length > PAIRWISE && step < 1 << 22; step *= 2) {
    drafts = rounded(drafts, step);
  }
  const widths = [model.width];
  const lengths = model.stock.map((item) => item.length);
  const both = model.canTurn ? [...widths, ...lengths] : [];
  const keys = drafts.map((one) => {
    const h = Math.max(one.left, one.right);
    return one.rake
      ? `rake ${one.right > one.left}`
      : [
          fits(one.w, model.canTurn ? both : widths, model.kerf),
          fits(h, model.canTurn ? both : lengths, model.kerf),
        ].join(" ");
  });
  const lossOf = (i: number, j: number): number => {
    if (keys[i] !== keys[j]) return Infinity;
    const a = drafts[i]!;
    const b = drafts[j]!;
    if (a.rake && !canNest(a, b)) return Infinity;
    const area = areaOf(merged(a, b));
    return a.count * (a.area - area) + b.count * (b.area - area);
  };
  const findPartner = (i: number): void => {
    const one = drafts[i]!;
    one.partner = -1;
    one.loss = Infinity;
    for (let j = 0; j < drafts.length; j++) {
      if (j === i || !drafts[j]!.alive) continue;
      const loss = lossOf(i, j);
      if (loss < one.loss) {
        one.loss = loss;
        one.partner = j;
      }
    }
  };
  for (let i = 0; i < drafts.length; i++) findPartner(i);
  let alive = drafts.length;
  let lost = 0;
  for (;;) {
    let best = -1;
    for (let i = 0; i < drafts.length; i++) {
      if (drafts[i]!.alive && (best < 0 || drafts[i]!.loss < drafts[best]!.loss)) best = i;
    }
    if (best < 0 || drafts[best]!.partner < 0) break;
    const into = drafts[best]!;
    if (alive <= most && lost + into.loss > freeLoss) break;
    const gone = drafts[into.partner]!;
    lost += into.loss;
    const shape = merged(into, gone);
    into.w = shape.w;
    into.left = shape.left;
    into.right = shape.right;
    into.area = areaOf(shape);
    into.count += gone.count;
    into.members.push(...gone.members);
    gone.alive = false;
    alive--;
    const goneAt = into.partner;
    for (let i = 0; i < drafts.length; i++) {
      const one = drafts[i]!;
      if (!one.alive || i === best) continue;
      if (one.partner === best || one.partner === goneAt) findPartner(i);
    }
    findPartner(best);
  }
  return drafts
    .filter((one) => one.alive)
    .map(({ w, left, right, rake, count, area, members }) => ({
      w,
      left,
      right,
      rake,
      count,
      area,
      members: [...members].sort((a, b) => a - b),
    }));
}

/** Shapes rounded down to whole steps, equal ones merged. */
function rounded(drafts: readonly Draft[], step: number): Draft[] {
  const byKey = new Map<string, Draft>();
  const down = (size: number): number => (size > step ? size - (size % step) : size);
  for (const one of drafts) {
    const low = Math.min(one.left, one.right);
    const less = one.rake ? low % step : 0;
    const shape = one.rake
      ? { w: one.w, left: one.left - less, right: one.right - less }
      : { w: down(one.w), left: down(one.left), right: down(one.right) };
    const key = `${one.rake}/${shape.w}/${shape.left}/${shape.right}`;
    const known = byKey.get(key);
    if (known) {
      known.count += one.count;
      known.members.push(...one.members);
    } else {
      byKey.set(key, { ...one, ...shape, area: areaOf(shape), members: [...one.members] });
    }
  }
  return [...byKey.values()];
}
