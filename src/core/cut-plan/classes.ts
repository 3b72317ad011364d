/**
 * The shapes a proof works with, and groups of nearly equal shapes that share a price.
 */
import { canNest } from "./blocks.js";
import type { Model } from "./prepare.js";

/**
 * A shape no larger in any direction than each of the piece types it stands for: a plan for the
 * real pieces is also a plan for the shapes, so a bound for the shapes holds for the pieces.
 */
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

/** Most different rectangles, and rake pieces, a proof looks at one by one. */
const MOST_RECTANGLES = 1500;
const MOST_RAKES = 300;

interface Draft {
  w: number;
  left: number;
  right: number;
  rake: boolean;
  count: number;
  area: number;
  members: number[];
}

/** How many of a size go side by side in each of the limits: merging must not add one. */
function fits(size: number, limits: readonly number[], kerf: number): string {
  return limits.map((limit) => Math.floor((limit + kerf) / (size + kerf))).join("/");
}

function areaOf(shape: { w: number; left: number; right: number }): number {
  return (shape.w * (shape.left + shape.right)) / 2;
}

/**
 * The shapes of a task's pieces. Types are taken as they are, but where there are very many they are
 * first rounded down, and rake pieces merged, so that the proof stays within its time.
 */
export function shapesOf(model: Model, counts: ArrayLike<number>): PieceClass[] {
  let rects: Draft[] = [];
  let rakes: Draft[] = [];
  for (const type of model.types) {
    const count = counts[type.index]!;
    if (count === 0) continue;
    (type.rake ? rakes : rects).push({
      w: type.w,
      left: type.left,
      right: type.right,
      rake: type.rake,
      count,
      area: type.area,
      members: [type.index],
    });
  }
  // Steps from 1/4 in to 2,048 in: past that nothing is left to round.
  for (let step = 256; rects.length > MOST_RECTANGLES && step < 1 << 22; step *= 2) {
    rects = rounded(rects, step);
  }
  for (let step = 256; rakes.length > MOST_RAKES && step < 1 << 22; step *= 2) {
    rakes = rounded(rakes, step);
  }
  return [...rects, ...rakes].map((one) => ({
    ...one,
    members: [...one.members].sort((a, b) => a - b),
  }));
}

/**
 * Gathers shapes into at most `most` groups of nearly equal ones. Nothing is rounded: a group only
 * shares one price per area, which leaves a bound valid, if a little lower.
 */
export function groupShapes(model: Model, shapes: readonly PieceClass[], most: number): number[][] {
  interface Group {
    w: number;
    left: number;
    right: number;
    rake: boolean;
    weight: number;
    members: number[];
    alive: boolean;
    /** nearest other group and how far off it is */
    partner: number;
    far: number;
  }
  const widths = [model.width];
  const lengths = model.stock.map((item) => item.length);
  const both = model.canTurn ? [...widths, ...lengths] : [];
  const groups = shapes.map((one, k): Group => ({
    w: one.w,
    left: one.left,
    right: one.right,
    rake: one.rake,
    weight: one.count * one.area,
    members: [k],
    alive: true,
    partner: -1,
    far: Infinity,
  }));
  let alive = groups.length;
  if (alive <= most) return groups.map((one) => one.members);
  const keys = shapes.map((one) =>
    one.rake
      ? "rake"
      : [
          fits(one.w, model.canTurn ? both : widths, model.kerf),
          fits(one.left, model.canTurn ? both : lengths, model.kerf),
        ].join(" ")
  );
  // How much area the larger of two has over what both have in common, weighed by the lighter.
  const distance = (i: number, j: number): number => {
    const a = groups[i]!;
    const b = groups[j]!;
    if (a.rake !== b.rake || (a.rake && !canNest(a, b))) return Infinity;
    const common =
      (Math.min(a.w, b.w) * (Math.min(a.left, b.left) + Math.min(a.right, b.right))) / 2;
    const larger = Math.max(a.w * (a.left + a.right), b.w * (b.left + b.right)) / 2;
    const apart = (larger - common) / larger;
    // Sizes of which a different number goes into a panel have very different prices.
    return Math.min(a.weight, b.weight) * apart * (keys[i] === keys[j] ? 1 : 20);
  };
  const findPartner = (i: number): void => {
    const one = groups[i]!;
    one.partner = -1;
    one.far = Infinity;
    for (let j = 0; j < groups.length; j++) {
      if (j === i || !groups[j]!.alive) continue;
      const far = distance(i, j);
      if (far < one.far) {
        one.far = far;
        one.partner = j;
      }
    }
  };
  for (let i = 0; i < groups.length; i++) findPartner(i);
  while (alive > most) {
    let best = -1;
    for (let i = 0; i < groups.length; i++) {
      if (groups[i]!.alive && (best < 0 || groups[i]!.far < groups[best]!.far)) best = i;
    }
    if (best < 0 || groups[best]!.partner < 0) break;
    const goneAt = groups[best]!.partner;
    let into = groups[best]!;
    let gone = groups[goneAt]!;
    // The heavier of the two goes on standing for both.
    let intoAt = best;
    if (gone.weight > into.weight) {
      [into, gone] = [gone, into];
      intoAt = goneAt;
    }
    into.weight += gone.weight;
    into.members.push(...gone.members);
    gone.alive = false;
    alive--;
    for (let i = 0; i < groups.length; i++) {
      const one = groups[i]!;
      if (!one.alive || i === intoAt) continue;
      if (one.partner === best || one.partner === goneAt) findPartner(i);
    }
    findPartner(intoAt);
  }
  return groups.filter((one) => one.alive).map((one) => one.members.sort((a, b) => a - b));
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
