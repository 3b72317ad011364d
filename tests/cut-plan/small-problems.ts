/**
 * Tiny cut plans solved by trying everything, to hold the planner against. All sizes are whole units of 1/1024 in, so
 * that a panel of 12 x 20 is small enough to be searched through.
 */
import fc from "fast-check";
import { type Model, prepare } from "../../src/core/cut-plan/prepare.js";
import type { CutProblem } from "../../src/core/cut-plan/problem.js";

/** Units to the inch, as docs/cut-plan.md has it. */
const PER_IN = 1024;

export interface SmallRun {
  readonly height: number;
  readonly joints: readonly number[];
  readonly smallest: number;
  readonly seams?: readonly number[];
}

export interface SmallProblem {
  readonly width: number;
  readonly kerf?: number;
  readonly canTurn?: boolean;
  /** length and cost of each panel */
  readonly stock: readonly (readonly [number, number])[];
  /** width, left side and, where it is another, right side */
  readonly pieces?: readonly (readonly number[])[];
  readonly runs?: readonly SmallRun[];
  readonly scrap?: readonly (readonly [number, number])[];
  readonly keep?: number;
}

/** `scale` makes every length so many times as large. */
export function problemOf(small: SmallProblem, scale = 1): CutProblem {
  const inches = (units: number): number => (units * scale) / PER_IN;
  return {
    panelWidthIn: inches(small.width),
    kerfIn: inches(small.kerf ?? 0),
    canTurn: small.canTurn ?? false,
    stock: small.stock.map(([length, cost]) => ({ lengthIn: inches(length), cost })),
    pieces: (small.pieces ?? []).map(([w, left, right], k) => ({
      id: `p${k}`,
      widthIn: inches(w!),
      leftIn: inches(left!),
      rightIn: inches(right ?? left!),
    })),
    rips: (small.runs ?? []).map((run, k) => ({
      id: `r${k}`,
      heightIn: inches(run.height),
      jointsIn: run.joints.map((joint) => inches(joint)),
      smallestIn: inches(run.smallest),
      ...(run.seams ? { seamsIn: run.seams.map((seam) => inches(seam)) } : {}),
    })),
    scrap: (small.scrap ?? []).map(([w, h], k) => ({
      id: `s${k}`,
      widthIn: inches(w),
      heightIn: inches(h),
    })),
    keepIn: inches(small.keep ?? 3),
  };
}

export function modelOf(small: SmallProblem): Model {
  return prepare(problemOf(small));
}

interface Box {
  readonly w: number;
  readonly h: number;
}

/** Leaves out boxes that another one fits inside. */
function smallestOf(boxes: readonly Box[]): Box[] {
  const sorted = [...boxes].sort((a, b) => a.w - b.w || a.h - b.h);
  const kept: Box[] = [];
  for (const box of sorted) {
    const last = kept[kept.length - 1];
    if (!last || box.h < last.h) kept.push(box);
  }
  return kept;
}

/** Boxes a set of things may be cut from, by edge-to-edge cuts: none fits inside another. */
class Boxes {
  private readonly known = new Map<number, Box[]>();
  /** `single` gives the ways one thing may lie, `paired` the boxes of two nested ones */
  constructor(
    private readonly kerf: number,
    private readonly single: readonly (readonly Box[])[],
    private readonly paired: (a: number, b: number) => readonly Box[]
  ) {}

  of(set: number): readonly Box[] {
    const known = this.known.get(set);
    if (known) return known;
    const members = this.single.map((_, k) => k).filter((k) => (set >> k) & 1);
    const found: Box[] = [];
    if (members.length === 1) found.push(...this.single[members[0]!]!);
    if (members.length === 2) found.push(...this.paired(members[0]!, members[1]!));
    for (let part = (set - 1) & set; part > 0; part = (part - 1) & set) {
      const other = set ^ part;
      if (part < other) continue;
      for (const a of this.of(part)) {
        for (const b of this.of(other)) {
          found.push({ w: a.w + this.kerf + b.w, h: Math.max(a.h, b.h) });
          found.push({ w: Math.max(a.w, b.w), h: a.h + this.kerf + b.h });
        }
      }
    }
    const boxes = smallestOf(found);
    this.known.set(set, boxes);
    return boxes;
  }
}

/** Every way of covering a run: lists of rip lengths, none longer than `longest`. */
export function coversOf(run: SmallRun, longest: number): number[][] {
  const total = run.joints[run.joints.length - 1]! - run.joints[0]!;
  const shortest = Math.min(run.smallest, total);
  const covers = (from: number): number[][] => {
    if (from === run.joints.length - 1) return [[]];
    const found: number[][] = [];
    for (let to = from + 1; to < run.joints.length; to++) {
      const length = run.joints[to]! - run.joints[from]!;
      if (length < shortest || length > longest) continue;
      for (const rest of covers(to)) found.push([length, ...rest]);
    }
    return found;
  };
  return covers(0);
}

const turned = ({ w, h }: Box): Box => ({ w: h, h: w });

interface Outline {
  readonly w: number;
  readonly left: number;
  readonly right: number;
}

/** The box of two rake pieces head to tail; null where they do not rise the same way. */
function nestBox(one: Outline, other: Outline, kerf: number): Box | null {
  const [level, upper] = one.w >= other.w ? [one, other] : [other, one];
  const slope = (level.right - level.left) / level.w;
  const upperSlope = (upper.right - upper.left) / upper.w;
  if (!(slope * upperSlope > 0)) return null;
  const steepest = Math.max(Math.abs(slope), Math.abs(upperSlope));
  const gap = Math.ceil(kerf * Math.hypot(1, steepest) - 1e-9);
  // at the low end of the slope the turned piece hangs with its tall side
  const low = Math.min(level.left, level.right);
  const atLow = low + gap + Math.max(upper.left, upper.right);
  const atFar = low + Math.abs(slope) * upper.w + gap + Math.min(upper.left, upper.right);
  const top = Math.max(atLow, Math.ceil(atFar - 1e-9));
  return { w: level.w, h: Math.max(top, level.left, level.right) };
}

/** One choice of covers: the things to cut, each with the ways it may lie, and how many of them are rips. */
interface Choice {
  readonly rips: number;
  readonly single: readonly (readonly Box[])[];
  readonly outlines: readonly (Outline | null)[];
}

function choicesOf(small: SmallProblem): Choice[] {
  const canTurn = small.canTurn ?? false;
  const longest = Math.max(...small.stock.map(([length]) => length));
  const rectangle = (box: Box): Box[] => (canTurn ? [box, turned(box)] : [box]);
  const pieces = (small.pieces ?? []).map(([w, left, right]) => {
    const outline = { w: w!, left: left!, right: right ?? left! };
    const isRake = outline.left !== outline.right;
    const box = { w: w!, h: Math.max(outline.left, outline.right) };
    return { ways: isRake ? [box] : rectangle(box), outline: isRake ? outline : null };
  });
  let rips: Box[][] = [[]];
  for (const run of small.runs ?? []) {
    rips = rips.flatMap((so) =>
      coversOf(run, longest).map((cover) => [
        ...so,
        ...cover.map((length) => ({ w: run.height, h: length })),
      ])
    );
  }
  return rips.map((list) => ({
    rips: list.length,
    single: [...pieces.map(({ ways }) => ways), ...list.map(rectangle)],
    outlines: [...pieces.map(({ outline }) => outline), ...list.map(() => null)],
  }));
}

interface Best {
  /** least cost, and fewest panels, of any plan */
  readonly cost: number;
  readonly panels: number;
  /** fewest rips of a plan of that cost */
  readonly rips: number;
}

/** By trying every division of the things among panels and scrap. */
export function bestOf(small: SmallProblem): Best {
  const kerf = small.kerf ?? 0;
  let cost = Infinity;
  let panels = Infinity;
  let fewest = Infinity;
  for (const { single, outlines, rips } of choicesOf(small)) {
    const boxes = new Boxes(kerf, single, (a, b) => {
      const [one, other] = [outlines[a], outlines[b]];
      const box = one && other ? nestBox(one, other, kerf) : null;
      return box ? [box] : [];
    });
    const all = (1 << single.length) - 1;
    const panelCost = (set: number): number => {
      let least = Infinity;
      for (const box of boxes.of(set)) {
        for (const [length, price] of small.stock) {
          if (box.w <= small.width && box.h <= length) least = Math.min(least, price);
        }
      }
      return least;
    };
    const fromPanels = (priceOf: (set: number) => number): Float64Array => {
      const least = new Float64Array(all + 1).fill(Infinity);
      least[0] = 0;
      for (let set = 1; set <= all; set++) {
        for (let part = set; part > 0; part = (part - 1) & set) {
          if (least[set ^ part]! >= least[set]!) continue;
          least[set] = Math.min(least[set]!, least[set ^ part]! + priceOf(part));
        }
      }
      return least;
    };
    // what scrap may hold, one scrap after another
    let held = new Set([0]);
    for (const [w, h] of small.scrap ?? []) {
      const next = new Set(held);
      for (const set of held) {
        const free = all ^ set;
        for (let part = free; part > 0; part = (part - 1) & free) {
          if (boxes.of(part).some((box) => box.w <= w && box.h <= h)) next.add(set | part);
        }
      }
      held = next;
    }
    const prices = Array.from({ length: all + 1 }, (_, set) => (set ? panelCost(set) : 0));
    const byCost = fromPanels((set) => prices[set]!);
    const byCount = fromPanels((set) => (Number.isFinite(prices[set]!) ? 1 : Infinity));
    for (const set of held) {
      const least = byCost[all ^ set]!;
      if (least < cost || (least === cost && rips < fewest)) fewest = rips;
      cost = Math.min(cost, least);
      panels = Math.min(panels, byCount[all ^ set]!);
    }
  }
  return { cost, panels, rips: fewest };
}

const whole = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min, max });

/** Tiny problems of every kind that can be searched through. */
export const smallProblems: fc.Arbitrary<SmallProblem> = fc
  .record({
    kerf: fc.constantFrom(0, 1),
    canTurn: fc.boolean(),
    stock: fc.constantFrom<readonly (readonly [number, number])[]>(
      [[20, 20]],
      [
        [14, 14],
        [20, 20],
      ],
      [
        [20, 18],
        [15, 16],
      ]
    ),
    pieces: fc.array(
      fc.oneof(
        { weight: 3, arbitrary: fc.tuple(whole(2, 12), whole(2, 14)) },
        { weight: 1, arbitrary: fc.tuple(whole(3, 10), whole(1, 12), whole(1, 12)) }
      ),
      { minLength: 1, maxLength: 4 }
    ),
    run: fc.option(fc.tuple(whole(2, 5), whole(7, 24), whole(2, 5)), { freq: 2 }),
    scrap: fc.array(
      fc.oneof(
        { weight: 2, arbitrary: fc.tuple(whole(3, 10), whole(3, 12)) },
        { weight: 1, arbitrary: fc.tuple(whole(8, 24), whole(3, 26)) }
      ),
      { maxLength: 2 }
    ),
  })
  .map(({ run, ...rest }) => ({
    width: 12,
    ...rest,
    runs: run
      ? [
          {
            height: run[0],
            joints: [0, run[2], Math.ceil((run[1] + run[2]) / 2), run[1]].filter(
              (at, k, list) => k === 0 || at > list[k - 1]!
            ),
            smallest: 2,
          },
        ]
      : [],
  }));

export interface Solved extends Best {
  readonly small: SmallProblem;
}

let known: Solved[] | null = null;

/** Tiny problems with their best plans, searched through once. */
export function solvedProblems(): readonly Solved[] {
  known ??= fc
    .sample(smallProblems, { seed: 71, numRuns: 80 })
    .map((small) => ({ small, ...bestOf(small) }));
  return known;
}

/** Tiny problems of runs with regular joints and mostly odd ends. */
const smallRipProblems: fc.Arbitrary<SmallProblem> = fc
  .record({
    kerf: fc.constantFrom(0, 1),
    canTurn: fc.boolean(),
    stock: fc.constantFrom<readonly (readonly [number, number])[]>(
      [[20, 20]],
      [
        [14, 14],
        [20, 20],
      ],
      [
        [20, 20],
        [11, 13],
      ]
    ),
    pieces: fc.array(fc.tuple(whole(3, 11), whole(3, 14)), { maxLength: 2 }),
    space: whole(3, 6),
    heights: fc.constantFrom([4], [5], [4, 7]),
    runs: fc.array(fc.tuple(whole(2, 6), whole(0, 2), whole(2, 6), whole(0, 1)), {
      minLength: 1,
      maxLength: 3,
    }),
    smallest: whole(2, 7),
    scrap: fc.array(fc.tuple(whole(4, 8), whole(4, 12)), { maxLength: 1 }),
  })
  .map(({ space, heights, runs, smallest, ...rest }) => ({
    width: 12,
    ...rest,
    runs: runs.map(([first, between, last, which]): SmallRun => {
      const joints = [0, first];
      for (let k = 0; k < between; k++) joints.push(joints[joints.length - 1]! + space);
      joints.push(joints[joints.length - 1]! + last);
      return { height: heights[which % heights.length]!, joints, smallest };
    }),
  }))
  .filter(
    ({ pieces, runs }) =>
      pieces.length + runs.reduce((sum, { joints }) => sum + joints.length - 1, 0) <= 8 &&
      runs.every((run) => coversOf(run, 20).length > 0)
  );

let knownRips: Solved[] | null = null;

/** Tiny problems of runs with their best plans, searched through once. */
export function ripProblems(): readonly Solved[] {
  knownRips ??= fc
    .sample(smallRipProblems, { seed: 73, numRuns: 45 })
    .map((small) => ({ small, ...bestOf(small) }));
  return knownRips;
}

/** Options of every law here: the same inputs each time, and no time spent on making a failure smaller. */
export function law(
  seed: number,
  numRuns: number
): { seed: number; numRuns: number; endOnFailure: true } {
  return { seed, numRuns, endOnFailure: true };
}

/** Panels cut up by edge-to-edge cuts, so that a plan without waste is known: the pieces of `count` panels. */
export function cutUp(
  width: number,
  length: number,
  kerf: number,
  count: number,
  cuts: readonly number[]
): [number, number][] {
  let at = 0;
  const next = (below: number): number => (cuts[at++ % cuts.length]! * 7919 + at) % below;
  const divide = (w: number, h: number, depth: number): [number, number][] => {
    const least = 3;
    const across = w >= 2 * least + kerf;
    const along = h >= 2 * least + kerf;
    if (depth === 0 || (!across && !along)) return [[w, h]];
    if (across && (!along || next(2) === 0)) {
      const first = least + next(w - kerf - 2 * least + 1);
      return [...divide(first, h, depth - 1), ...divide(w - kerf - first, h, depth - 1)];
    }
    const first = least + next(h - kerf - 2 * least + 1);
    return [...divide(w, first, depth - 1), ...divide(w, h - kerf - first, depth - 1)];
  };
  return Array.from({ length: count }, () => divide(width, length, 2)).flat();
}
