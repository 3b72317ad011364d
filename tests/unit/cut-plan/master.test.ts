/** The share solution and its proof, against all patterns of tiny problems written out. */
import { Filling, Shop } from "../../../src/core/cut-plan/fill.js";
import type { KnapsackTree } from "../../../src/core/cut-plan/knapsack.js";
import {
  type Leaf,
  Master,
  type MasterOptions,
  type Task,
} from "../../../src/core/cut-plan/master.js";
import { type Model, prepare } from "../../../src/core/cut-plan/prepare.js";
import { type Arc, type Stretch, runArcs } from "../../../src/core/cut-plan/rip-rows.js";
import { fillTask } from "../../../src/core/cut-plan/round.js";
import { planCost } from "../../../src/core/cut-plan/write-plan.js";
import type { Sheet } from "../../../src/core/cut-plan/sheet.js";
import { Simplex } from "../../../src/core/cut-plan/simplex.js";
import {
  type Box,
  type SmallProblem,
  type SmallRun,
  bestOf,
  coversOf,
  modelOf,
  nestBox,
  problemOf,
  ripProblems,
  ripRowsOf,
  solvedProblems,
} from "./small-problems.js";

const MANY = 1e6;
const never = (): boolean => false;

function taskOf(model: Model): Task {
  return {
    counts: Int32Array.from(model.types, (type) => type.ids.length),
    stretches: model.runs.map((run) => ({ run: run.index, from: 0, to: run.joints.length - 1 })),
    scrap: model.scrap,
  };
}

function masterOf(model: Model, change: Partial<MasterOptions> = {}): Master {
  return new Master(model, taskOf(model), {
    costs: model.stock.map(({ cost }) => cost),
    mostGroups: 500,
    ...change,
  });
}

const filledSheets = (model: Model): Sheet[] => fillTask(new Shop(model), taskOf(model));

/** What a pattern brings: how often each row, by a key made of the counts. */
type Counts = readonly number[];

/** One thing a pattern may hold: its box, and what it counts. */
interface Item extends Box {
  readonly brings: Counts;
}

/** Pairs of patterns put together in looking for all; a problem that needs more is left alone. */
const MOST_PAIRS = 15_000;

class TooMany extends Error {}

/** Everything that can be cut from one rectangle by edge-to-edge cuts, the most of it: counts of each row. */
function patternsOf(items: readonly Item[], width: number, height: number, kerf: number): Counts[] {
  let pairs = 0;
  const rows = items[0]!.brings.length;
  const known = new Map<number, Counts[]>();
  const add = (a: Counts, b: Counts): Counts => a.map((count, k) => count + b[k]!);
  const most = (list: Counts[]): Counts[] => {
    const unique = [...new Map(list.map((one) => [one.join(), one])).values()];
    return unique.filter(
      (one) => !unique.some((other) => other !== one && other.every((count, k) => count >= one[k]!))
    );
  };
  const of = (w: number, h: number): Counts[] => {
    const key = w * 1000 + h;
    const found = known.get(key);
    if (found) return found;
    const all: Counts[] = [new Array<number>(rows).fill(0)];
    const join = (one: Counts[], other: Counts[]): void => {
      pairs += one.length * other.length;
      if (pairs > MOST_PAIRS) throw new TooMany();
      for (const a of one) for (const b of other) all.push(add(a, b));
    };
    for (const item of items) if (item.w <= w && item.h <= h) all.push(item.brings);
    // a cut matters only where an item, or something above it, ends
    for (let x = 1; 2 * x <= w - kerf; x++) {
      join(of(x, h), of(w - kerf - x, h));
    }
    for (let y = 1; 2 * y <= h - kerf; y++) {
      join(of(w, y), of(w, h - kerf - y));
    }
    const kept = most(all);
    known.set(key, kept);
    return kept;
  };
  return of(width, height);
}

/** How rips count: each length by itself, as covers need them; odd ends by themselves; by length alone. */
type RipCount = "each" | "ends" | "length";

/** Least cost of shares of patterns, from all patterns and covers there are; Infinity leaves a length out. */
function shareCost(
  small: SmallProblem,
  ripCount: RipCount = "each",
  costs?: readonly number[]
): number {
  const model = modelOf(small);
  const { kerf, canTurn } = model;
  const runs = small.runs ?? [];
  const keys: string[] = model.types.map((type) => `piece ${type.index}`);
  const rips = new Map<string, { height: number; length: number; rows: Map<string, number> }>();
  const covers = runs.map((run) => coversOf(run, model.longest));
  const each = (run: SmallRun, length: number): string => `${run.height}/${length}`;
  /** demand of whole runs, where covers do not say it */
  const wanted = new Map<string, number>();
  const bump = (key: string, by: number): void => void wanted.set(key, (wanted.get(key) ?? 0) + by);
  runs.forEach((run, k) => {
    const counted = (arc: Arc): Map<string, number> =>
      ripCount === "ends"
        ? ripRowsOf(runs, run, arc)
        : new Map([[`plain ${run.height}`, run.joints[arc.to]! - run.joints[arc.from]!]]);
    for (const cover of covers[k]!) {
      let at = 0;
      for (const length of cover) {
        const arc = { from: run.joints.indexOf(at), to: run.joints.indexOf(at + length) };
        const rows = ripCount === "each" ? new Map([[each(run, length), 1]]) : counted(arc);
        rips.set(`${each(run, length)} ${[...rows].join(" ")}`, {
          height: run.height,
          length,
          rows,
        });
        at += length;
      }
    }
    if (ripCount === "each") return;
    for (const [key, by] of counted({ from: 0, to: run.joints.length - 1 })) bump(key, by);
  });
  for (const { rows } of rips.values()) {
    for (const key of rows.keys()) if (!keys.includes(key)) keys.push(key);
  }
  const brings = (...which: string[]): number[] => {
    const counts = keys.map(() => 0);
    for (const key of which) counts[keys.indexOf(key)]!++;
    return counts;
  };
  const items: Item[] = [];
  const addItem = (w: number, h: number, mayTurn: boolean, counts: Counts): void => {
    items.push({ w, h, brings: counts });
    if (mayTurn && canTurn) items.push({ w: h, h: w, brings: counts });
  };
  model.types.forEach((one, k) => {
    addItem(one.w, Math.max(one.left, one.right), !one.rake, brings(`piece ${k}`));
    model.types.forEach((other, n) => {
      if (n < k || !one.rake || !other.rake || (n === k && one.ids.length < 2)) return;
      const box = nestBox(one, other, kerf);
      if (box) addItem(box.w, box.h, false, brings(`piece ${k}`, `piece ${n}`));
    });
  });
  for (const { height, length, rows } of rips.values()) {
    addItem(
      height,
      length,
      true,
      keys.map((key) => rows.get(key) ?? 0)
    );
  }
  const scrapRow = keys.length;
  const runRow = scrapRow + model.scrap.length;
  const right = new Float64Array(runRow + (ripCount === "each" ? runs.length : 0));
  model.types.forEach((type, k) => (right[k] = type.ids.length));
  for (const [key, length] of wanted) right[keys.indexOf(key)] = length;
  model.scrap.forEach((_, k) => (right[scrapRow + k] = 1));
  for (let row = runRow; row < right.length; row++) right[row] = 1;
  // units of what must be covered are dear by themselves; scrap may stay unused
  const start = right.map((_, row) => (row >= scrapRow && row < runRow ? 0 : 1e4));
  const lp = new Simplex(right, start);
  for (let row = 0; row < scrapRow; row++) lp.add({ cost: 0, rows: [row], coefficients: [-1] });
  const addPattern = (counts: Counts, cost: number, extra: number): void => {
    const rows = counts.map((_, row) => row).filter((row) => counts[row]! > 0);
    const coefficients = rows.map((row) => counts[row]!);
    if (extra >= 0) lp.add({ cost, rows: [...rows, extra], coefficients: [...coefficients, 1] });
    else lp.add({ cost, rows, coefficients });
  };
  for (const { index, length, cost: price } of model.stock) {
    const cost = costs?.[index] ?? price;
    if (cost === Infinity) continue;
    for (const one of patternsOf(items, model.width, length, kerf)) addPattern(one, cost, -1);
  }
  model.scrap.forEach(({ w, h }, k) => {
    for (const one of patternsOf(items, w, h, kerf)) addPattern(one, 0, scrapRow + k);
  });
  if (ripCount === "each") {
    runs.forEach((run, k) => {
      for (const cover of covers[k]!) {
        const counts = brings(...cover.map((length) => each(run, length)));
        const rows = counts.map((_, row) => row).filter((row) => counts[row]! > 0);
        lp.add({
          cost: 0,
          rows: [...rows, runRow + k],
          coefficients: [...rows.map((row) => -counts[row]!), 1],
        });
      }
    });
  }
  expect(lp.solve(10_000)).toBe(true);
  return lp.objective;
}

/** What was worked out once: it has nothing to do with the master. */
const knownShares: Record<string, number | null> = {};

/** Null where looking for all patterns would take too long. */
function shareCostOf(
  small: SmallProblem,
  ripCount: RipCount,
  costs?: readonly number[]
): number | null {
  const key = JSON.stringify([small, ripCount, costs?.map(String)]);
  if (key in knownShares) return knownShares[key]!;
  try {
    return (knownShares[key] = shareCost(small, ripCount, costs));
  } catch (error) {
    if (error instanceof TooMany) return (knownShares[key] = null);
    throw error;
  }
}

/** Costs of shares with rips counted one by one, and with odd ends by themselves: the latter are what a master has. */
interface Shares {
  readonly each: number;
  readonly ends: number;
}

let shareCosts: (Shares | null)[] | null = null;
/** Share costs of the tiny problems, worked out once; null where that would take too long. */
function solvedShares(): readonly (Shares | null)[] {
  shareCosts ??= solvedProblems().map(({ small }) => {
    const each = shareCostOf(small, "each");
    const ends = small.runs!.length === 0 ? each : shareCostOf(small, "ends");
    return each === null || ends === null ? null : { each, ends };
  });
  return shareCosts;
}

/** True where all heights fall on the grid of the table; rake pieces are rounded down to it. */
function isExact(small: SmallProblem): boolean {
  const isRake = ([, left, right]: readonly number[]): boolean => left !== (right ?? left);
  return !small.pieces!.some(isRake);
}

/** Each tiny problem with the cost of its shares as a master has them, and with rips counted one by one. */
function eachShared(
  law: (small: SmallProblem, cost: number, shares: number, each: number) => void
): void {
  let held = 0;
  solvedProblems().forEach(({ small, cost }, k) => {
    const shares = solvedShares()[k];
    if (shares === null || shares === undefined) return;
    law(small, cost, shares.ends, shares.each);
    held++;
  });
  expect(held).toBeGreaterThan(30);
}

/** Leaves of a pattern. */
function leavesOf(tree: KnapsackTree | null): number[] {
  if (!tree) return [];
  if (tree.item >= 0) return [tree.item];
  return [...leavesOf(tree.first), ...leavesOf(tree.second)];
}

/** Cost of the share solution. */
const solutionCost = (model: Model, master: Master): number =>
  master
    .solution()
    .reduce((sum, { level, stock }) => sum + (stock < 0 ? 0 : level * model.stock[stock]!.cost), 0);

/** What the share solution says, held to what it must cover and to what fits. */
function shareFaults(
  model: Model,
  master: Master,
  boxes: boolean,
  left: Task = taskOf(model)
): string[] {
  const faults: string[] = [];
  let covered = 0;
  let cost = 0;
  const scrapUsed = new Map<string, number>();
  for (const { level, stock, scrap, tree } of master.solution()) {
    if (!(level > 0)) faults.push(`level ${level}`);
    if (stock >= 0) cost += level * model.stock[stock]!.cost;
    else
      scrapUsed.set(
        `${scrap!.w}/${scrap!.h}`,
        (scrapUsed.get(`${scrap!.w}/${scrap!.h}`) ?? 0) + level
      );
    for (const item of leavesOf(tree)) {
      const leaf = master.leaves[item]!;
      if (leaf.kind === "rip") covered += level * leaf.height * leaf.length;
      else {
        covered += level * master.shapes[leaf.shape]!.area;
        if (leaf.kind === "pair") covered += level * master.shapes[leaf.other]!.area;
      }
    }
    if (!boxes) continue;
    const measure = (one: KnapsackTree | null): Box => {
      if (!one) return { w: -model.kerf, h: -model.kerf };
      if (one.item >= 0) return master.boxOf(one.item);
      const a = measure(one.first);
      const b = measure(one.second);
      return one.cut === "plumb"
        ? { w: a.w + model.kerf + b.w, h: Math.max(a.h, b.h) }
        : { w: Math.max(a.w, b.w), h: a.h + model.kerf + b.h };
    };
    const box = measure(tree);
    const room = stock >= 0 ? { w: model.width, h: model.stock[stock]!.length } : scrap!;
    if (box.w > room.w || box.h > room.h) faults.push(`a pattern of ${box.w} x ${box.h}`);
  }
  for (const [key, used] of scrapUsed) {
    const count = left.scrap.filter(({ w, h }) => `${w}/${h}` === key).length;
    if (used > count + 1e-6) faults.push(`scrap ${key} used ${used} times`);
  }
  // a larger thing may stand in for a smaller one, so areas are compared
  let wanted = 0;
  for (const type of model.types) wanted += type.area * left.counts[type.index]!;
  for (const { run, from, to } of left.stretches) {
    const { height, joints } = model.runs[run]!;
    wanted += height * (joints[to]! - joints[from]!);
  }
  if (covered < wanted * (1 - 1e-6)) faults.push(`${covered} of ${wanted} covered`);
  const isWhole = left.counts.every((count, k) => count === model.types[k]!.ids.length);
  if (isWhole && !(cost >= master.bound * (1 - 1e-6)))
    faults.push(`costs ${cost} under ${master.bound}`);
  return faults;
}

describe("rips a run may be covered with", () => {
  it("lie in some whole cover, in order of their first joint", () => {
    const model = modelOf({
      width: 12,
      stock: [[20, 1]],
      runs: [{ height: 3, joints: [0, 5, 16, 21, 37], smallest: 5 }],
    });
    // 0-5-16-21-37, 0-16-21-37, 0-5-21-37; of 21-37 there is no other way to the end
    expect(runArcs(model, model.runs[0]!)).toEqual([
      { from: 0, to: 1 },
      { from: 0, to: 2 },
      { from: 1, to: 2 },
      { from: 1, to: 3 },
      { from: 2, to: 3 },
      { from: 3, to: 4 },
    ]);
  });
  it("leave out those that lead nowhere", () => {
    const arcs = (joints: number[], smallest: number): string[] => {
      const model = modelOf({
        width: 12,
        stock: [[20, 1]],
        runs: [{ height: 3, joints, smallest }],
      });
      return runArcs(model, model.runs[0]!).map(({ from, to }) => `${joints[from]}-${joints[to]}`);
    };
    // from 4 nothing may start, for 0-4 is too short; to 18 nothing may go, for 18-20 is
    expect(arcs([0, 4, 10, 18, 20], 5)).toEqual(["0-10", "0-20", "10-20"]);
    expect(arcs([0, 20], 5)).toEqual(["0-20"]);
    expect(arcs([0, 3], 5)).toEqual(["0-3"]);
    expect(arcs([0, 5, 25], 5)).toEqual(["0-5", "5-25"]);
    expect(arcs([0, 20, 25], 5)).toEqual(["0-20", "20-25"]);
  });
  it("are all those of all covers", () => {
    for (const { small } of solvedProblems()) {
      const model = modelOf(small);
      model.runs.forEach((run, k) => {
        const inCovers = new Set<string>();
        for (const cover of coversOf(small.runs![k]!, model.longest)) {
          let at = 0;
          for (const length of cover) inCovers.add(`${at}-${(at += length)}`);
        }
        const arcs = runArcs(model, run).map(
          ({ from, to }) => `${run.joints[from]}-${run.joints[to]}`
        );
        expect(arcs.sort()).toEqual([...inCovers].sort());
      });
    }
  });
});

describe("column generation", () => {
  it("proves what all patterns together prove, and never more than the least cost", () => {
    eachShared((small, cost, shares, each) => {
      const model = modelOf(small);
      const master = masterOf(model);
      master.run(1e9, MANY, never);
      expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
      expect(master.bound).toBeLessThanOrEqual(shares * (1 + 1e-9) + 1e-9);
      expect(shares).toBeLessThanOrEqual(each + 1e-6);
      // prices are whole multiples of 2^-24 of the dearest panel, so a little is lost
      if (isExact(small)) expect(master.bound).toBeGreaterThan(shares - 1e-5 * Math.max(1, shares));
      expect(shareFaults(model, master, true)).toEqual([]);
    });
  });

  it("proves no more than is true of rake pieces lower than all rectangles, which are of one height", () => {
    for (const pieces of [
      [
        [12, 19],
        [12, 19],
        [12, 9, 8],
        [12, 8, 9],
      ],
      [
        [12, 11],
        [12, 9, 8],
        [12, 8, 9],
        [12, 5, 4],
      ],
      [
        [12, 19],
        [6, 2, 1],
        [6, 2, 1],
        [5, 1, 2],
        [6, 1, 0],
      ],
    ]) {
      const small: SmallProblem = { width: 12, kerf: 1, stock: [[20, 20]], pieces };
      const master = masterOf(modelOf(small));
      master.run(1e9, MANY, never);
      const { cost } = bestOf(small);
      expect(master.bound).toBeLessThanOrEqual(cost);
      expect(master.bound).toBeGreaterThan(19);
    }
  });

  it("proves the same from the patterns of a plan at hand", () => {
    eachShared((small, _, shares) => {
      const model = modelOf(small);
      const master = masterOf(model);
      master.addSheets(filledSheets(model));
      master.run(1e9, MANY, never);
      expect(master.bound).toBeLessThanOrEqual(shares * (1 + 1e-9) + 1e-9);
      if (isExact(small)) expect(master.bound).toBeGreaterThan(shares - 1e-5 * Math.max(1, shares));
      expect(shareFaults(model, master, false)).toEqual([]);
    });
  });

  it("proves no more than that where shapes share a price", () => {
    eachShared((small, cost, shares) => {
      const model = modelOf(small);
      for (const mostGroups of [2, 1]) {
        const master = masterOf(model, { mostGroups });
        master.addSheets(filledSheets(model));
        master.run(1e8, MANY, never);
        expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
        expect(master.bound).toBeLessThanOrEqual(shares + 2e-4);
        // at worst the largest piece's price for all
        expect(master.bound).toBeGreaterThan(0.2 * shares - 1e-9);
      }
    });
  });

  it("counts odd ends of runs, and so proves more than by length alone, never more than is true", () => {
    let held = 0;
    let more = 0;
    for (const { small, cost } of ripProblems()) {
      const ends = shareCostOf(small, "ends");
      const length = shareCostOf(small, "length");
      for (const scale of [1, 64]) {
        const model = prepare(problemOf(small, scale));
        const master = masterOf(model);
        if (scale === 64) master.addSheets(filledSheets(model));
        master.run(1e9, MANY, never);
        expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
        expect(master.value).toBeLessThanOrEqual(planCost(model, filledSheets(model)) + 1e-6);
        if (ends === null || length === null) continue;
        expect(Math.abs(master.bound - ends)).toBeLessThan(1e-5 * Math.max(1, ends));
        expect(master.bound).toBeGreaterThan(length - 1e-5 * Math.max(1, length));
        // the boxes of a plan at hand may lie turned
        expect(shareFaults(model, master, scale === 1)).toEqual([]);
        held++;
        if (master.bound > 1.02 * length) more++;
      }
    }
    expect(held).toBeGreaterThan(40);
    expect(more).toBeGreaterThan(5);
  });

  it("ends when told that the bound is enough, and when its work is done", () => {
    const model = modelOf({
      width: 12,
      kerf: 1,
      stock: [[20, 20]],
      pieces: [
        [5, 9],
        [5, 9],
        [3, 4],
        [7, 3],
        [2, 11],
      ],
    });
    const asked: [number, number][] = [];
    const master = masterOf(model);
    master.run(1e9, MANY, (bound, value) => {
      asked.push([bound, value]);
      return true;
    });
    expect(asked).toHaveLength(1);
    expect(asked[0]![0]).toBe(master.bound);
    expect(asked[0]![0]).toBeLessThanOrEqual(asked[0]![1] + 1e-9);
    const short = masterOf(model);
    const before = short.work;
    short.run(before, MANY, never);
    expect(short.bound).toBeGreaterThan(0);
    expect(short.work).toBeGreaterThan(before);
    expect(short.work).toBeLessThan(master.work);
  });

  it("proves in coarser steps where the table would be too large, and no more", () => {
    for (const { small, cost } of solvedProblems()) {
      const model = modelOf(small);
      const master = masterOf(model);
      master.run(1e7, 12, never);
      expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
      expect(master.bound).toBeGreaterThanOrEqual(0);
    }
  });

  it("gives no price to a piece thinner than a step, of which more go in than it counts", () => {
    // rake pieces of 40 units where heights are counted in steps of 64: all four go into one panel
    const small: SmallProblem = {
      width: 768,
      stock: [[1280, 20]],
      pieces: [
        [768, 1280],
        [768, 10, 40],
        [768, 10, 40],
        [768, 10, 40],
        [768, 10, 40],
      ],
    };
    const master = masterOf(modelOf(small));
    master.run(1e8, MANY, never);
    expect(bestOf(small).cost).toBe(40);
    expect(master.bound).toBeLessThanOrEqual(40);
    expect(master.bound).toBeGreaterThan(19.9);
    // 5 x 1 in steps of 4 would be 1 x 0
    const specks: SmallProblem = {
      width: 12,
      stock: [[20, 20]],
      pieces: [[11, 19], ...Array.from({ length: 9 }, () => [5, 1])],
    };
    const coarse = masterOf(modelOf(specks));
    coarse.run(1e8, 12, never);
    // above the first 11 x 1 are left, which hold two: the other seven go into one more panel
    expect(coarse.bound).toBeLessThanOrEqual(40);
  });

  it("prices pieces and rips so that they pay for the plan", () => {
    eachShared((small, _, shares) => {
      const model = modelOf(small);
      if (model.scrap.length > 0 || !isExact(small)) return;
      const master = masterOf(model);
      master.run(1e9, MANY, never);
      const prices = master.worths();
      let worth = 0;
      for (const type of model.types) {
        expect(prices.piece(type.index)).toBeGreaterThanOrEqual(0);
        worth += type.ids.length * prices.piece(type.index);
      }
      small.runs!.forEach((run, k) => {
        const whole = prices.rip({ run: k, from: 0, to: run.joints.length - 1 });
        for (const cover of coversOf(run, model.longest)) {
          let at = 0;
          let sum = 0;
          for (const length of cover) {
            const from = run.joints.indexOf(at);
            sum += prices.rip({ run: k, from, to: run.joints.indexOf((at += length)) });
          }
          expect(Math.abs(sum - whole)).toBeLessThan(1e-9 * Math.max(1, whole));
        }
        worth += whole;
      });
      expect(Math.abs(worth - shares)).toBeLessThan(1e-3);
      expect(prices.piece(model.types.length)).toBe(0);
      // a run of which nothing is asked for is worth nothing
      const { counts, scrap } = taskOf(model);
      const noRuns = new Master(
        model,
        { counts, stretches: [], scrap },
        { costs: model.stock.map(({ cost }) => cost), mostGroups: 500 }
      );
      noRuns.share(1e6);
      const none = noRuns.worths();
      for (const run of model.runs) expect(none.rip({ run: run.index, from: 0, to: 1 })).toBe(0);
    });
  });

  it("shares rests of a task without losing its bound", () => {
    solvedProblems().forEach(({ small }) => {
      const model = modelOf(small);
      const master = masterOf(model);
      master.addSheets(filledSheets(model));
      master.share(1e8);
      const all = shareFaults(model, master, false);
      expect(all).toEqual([]);
      const task = taskOf(model);
      const twice = { ...task, counts: task.counts.map((count) => 2 * count) };
      const { bound } = master;
      master.shareRest(twice, 4);
      expect(master.bound).toBe(bound);
      expect(shareFaults(model, master, false, twice)).toEqual([]);
      const counts = twice.counts.fill(0);
      counts[0] = 1;
      const one = { counts, stretches: [], scrap: [] };
      master.shareRest(one, 3);
      expect(shareFaults(model, master, false, one)).toEqual([]);
      // one piece needs a panel at most
      const least = Math.min(...model.stock.map(({ cost }) => cost));
      const dearest = Math.max(...model.stock.map(({ cost }) => cost));
      expect(solutionCost(model, master)).toBeLessThanOrEqual(dearest + 1e-9);
      expect(solutionCost(model, master)).toBeGreaterThan(0.01 * least);
      master.shareRest({ counts: counts.fill(0), stretches: [], scrap: [] }, 2);
      expect(master.solution()).toEqual([]);
    });
  });

  it("shares what is left of runs", () => {
    let held = 0;
    for (const { small } of ripProblems()) {
      const model = modelOf(small);
      const shop = new Shop(model);
      const master = masterOf(model);
      master.addSheets(filledSheets(model));
      master.share(1e8);
      const { counts, scrap } = taskOf(model);
      const stretches = model.runs.flatMap(({ index: run, joints }): Stretch[] => {
        const last = joints.length - 1;
        // all but the first rip of some cover
        const first = shop.arcsFrom[run]![0]!.find((arc) => shop.coverable(run, arc.to, last))!;
        return first.to < last ? [{ run, from: first.to, to: last }] : [];
      });
      const rest = { counts, stretches, scrap };
      master.shareRest(rest, 4);
      expect(
        shareFaults(model, master, true, rest).filter((one) => one.startsWith("scrap"))
      ).toEqual([]);
      const plan = fillTask(shop, rest);
      const own = new Master(model, rest, master.options);
      own.addSheets(plan);
      own.run(1e8, MANY, never);
      expect(own.bound).toBeLessThanOrEqual(planCost(model, plan) + 1e-9);
      expect(shareFaults(model, own, false, rest)).toEqual([]);
      // the bound of the rest is no more than that of everything
      const whole = masterOf(model);
      whole.run(1e8, MANY, never);
      expect(own.bound).toBeLessThanOrEqual(whole.bound + 1e-4);
      if (stretches.length > 0) held++;
    }
    expect(held).toBeGreaterThan(10);
  });
});

describe("before any pattern is looked for", () => {
  it("shares cost no more than the plan at hand", () => {
    for (const { small } of solvedProblems()) {
      const model = modelOf(small);
      const sheets = filledSheets(model);
      const master = masterOf(model);
      master.addSheets(sheets);
      master.share(0);
      expect(solutionCost(model, master)).toBeLessThanOrEqual(planCost(model, sheets) + 1e-9);
    }
  });

  it("panels full of one thing are known: the cheapest for each", () => {
    const small: SmallProblem = {
      width: 12,
      kerf: 1,
      stock: [
        [20, 20],
        [14, 14],
      ],
      pieces: [
        [5, 6],
        [5, 6],
        [12, 14],
        [5, 6],
      ],
    };
    const model = modelOf(small);
    const master = masterOf(model);
    master.share(0);
    // six of 5 x 6 in 12 x 20 for 20, four in 12 x 14 for 14; one of 12 x 14 for 14
    expect(solutionCost(model, master)).toBeCloseTo((3 * 20) / 6 + 14, 9);
    expect(master.worths().piece(0)).toBeCloseTo(20 / 6, 9);
    expect(master.worths().piece(1)).toBeCloseTo(14, 9);
    expect(master.solution().map(({ tree }) => leavesOf(tree).length)).toEqual([1, 6]);
    expect(shareFaults(model, master, true)).toEqual([]);
    // turned, 6 x 5 go in once across and three times along: no better
    const turning = masterOf(modelOf({ ...small, canTurn: true, pieces: [[6, 5]] }));
    turning.share(0);
    expect(turning.worths().piece(0)).toBeCloseTo(20 / 6, 9);
    // nested, two of 12 x (3 to 9) make 12 x 14: 3 + 2 + 9
    const pairs = masterOf(
      modelOf({
        ...small,
        pieces: [
          [12, 3, 9],
          [12, 3, 9],
        ],
      })
    );
    pairs.share(0);
    expect(pairs.worths().piece(0)).toBeCloseTo(7, 9);
  });

  it("a piece or a rip is never worth more than a rectangular piece it goes into", () => {
    const dearer: object[] = [];
    let held = 0;
    for (const { small } of [...solvedProblems(), ...ripProblems()]) {
      const model = modelOf(small);
      const master = masterOf(model);
      master.addSheets(filledSheets(model));
      master.share(0);
      const prices = master.worths();
      // of rips those that count in one row only
      const rips = small.runs!.flatMap((run, k) =>
        runArcs(model, model.runs[k]!)
          .filter((arc) => ripRowsOf(small.runs!, run, arc).size === 1)
          .map((arc) => ({
            w: run.height,
            h: run.joints[arc.to]! - run.joints[arc.from]!,
            rake: false,
            rip: true,
            worth: prices.rip({ run: k, ...arc }),
          }))
      );
      const boxes = [
        ...model.types.map((type) => ({
          w: type.w,
          h: Math.max(type.left, type.right),
          rake: type.rake,
          rip: false,
          worth: prices.piece(type.index),
        })),
        ...rips,
      ];
      for (const one of boxes) {
        for (const other of boxes) {
          if (other.rake || (one.rake && model.canTurn) || one === other || other.rip) continue;
          if (one.w > other.w || one.h > other.h) continue;
          held++;
          if (one.worth > other.worth + 1e-6) dearer.push(one, other);
        }
      }
    }
    expect(held).toBeGreaterThan(100);
    expect(dearer).toEqual([]);
  });

  it("the patterns of sheets are those of their blocks", () => {
    const small: SmallProblem = {
      width: 12,
      kerf: 1,
      stock: [[20, 20]],
      pieces: [
        [12, 3, 9],
        [12, 2, 8],
        [6, 6],
      ],
      runs: [{ height: 5, joints: [0, 3, 6], smallest: 3 }],
    };
    const model = modelOf(small);
    const master = masterOf(model);
    const shop = new Shop(model);
    const filling = new Filling(shop, [], []);
    // the nest is 12 x 13: 3 + 2 + 8; above it 6 x 6 and a rip of 6
    filling.put(filling.newPanel([shop.pair(0, 1)]));
    filling.place(shop.blocks[2]!, null);
    filling.place(shop.ripBlocks(0, 0, 2), null);
    expect(filling.result()).toHaveLength(1);
    master.addSheets(filling.result());
    master.share(0);
    const [share] = master.solution();
    expect([share!.level, share!.stock, share!.scrap]).toEqual([1, 0, null]);
    const kinds = leavesOf(share!.tree).map((item) => master.leaves[item]!);
    expect(kinds.map((leaf) => (leaf.kind === "rip" ? leaf.length : leaf.kind))).toEqual([
      "pair",
      "piece",
      6,
    ]);
    expect(master.typesOf(share!.tree).sort()).toEqual([0, 1, 2]);
    expect(master.boxOf(leavesOf(share!.tree)[1]!)).toEqual({ w: 6, h: 6 });
    const [pairLeaf, pieceLeaf, ripLeaf] = kinds;
    const blocks = (leaf: Leaf, counts: number[]): string[] =>
      master.blocksOf(leaf, counts, shop).map(({ type, pair }) => `${type} ${pair?.upper ?? ""}`);
    expect(blocks(pieceLeaf!, [1, 1, 1])).toEqual(["2 "]);
    expect(blocks(pieceLeaf!, [1, 1, 0])).toEqual([]);
    expect(blocks(pairLeaf!, [1, 1, 0])).toEqual(["0 1"]);
    expect(blocks(pairLeaf!, [0, 1, 0])).toEqual([]);
    expect(blocks(pairLeaf!, [2, 0, 0])).toEqual([]);
    expect(blocks(ripLeaf!, [1, 1, 1])).toEqual([]);
  });
});

describe("larger and rarer problems", () => {
  const several: readonly SmallProblem[] = [
    {
      width: 12,
      stock: [[20, 20]],
      pieces: [[7, 11]],
      runs: [
        { height: 5, joints: [0, 8, 16], smallest: 8 },
        { height: 5, joints: [0, 8, 16], smallest: 8 },
        { height: 7, joints: [0, 9, 18], smallest: 9 },
      ],
    },
    {
      width: 12,
      kerf: 1,
      canTurn: true,
      stock: [
        [20, 20],
        [14, 13],
      ],
      pieces: [[11, 9]],
      runs: [
        { height: 5, joints: [0, 9, 20], smallest: 8 },
        { height: 6, joints: [0, 12], smallest: 9 },
        { height: 5, joints: [0, 11, 20], smallest: 8 },
      ],
      scrap: [
        [6, 12],
        [6, 12],
        [5, 5],
      ],
    },
  ];
  it("with several runs are proven like the others", () => {
    for (const small of several) {
      const model = modelOf(small);
      const shares = shareCost(small, "ends");
      expect(shares).toBeLessThanOrEqual(shareCost(small) + 1e-6);
      for (const isFilled of [false, true]) {
        const master = masterOf(model);
        if (isFilled) master.addSheets(filledSheets(model));
        master.run(1e9, MANY, never);
        expect(Math.abs(master.bound - shares)).toBeLessThan(1e-5 * shares);
        expect(shareFaults(model, master, false)).toEqual([]);
      }
    }
  });

  it("count panels where only some lengths may be used", () => {
    let held = 0;
    for (const { small, panels } of solvedProblems()) {
      if (small.stock.length < 2 || !isExact(small)) continue;
      const model = modelOf(small);
      const costs = model.stock.map(({ length }) => (length === model.longest ? 1 : Infinity));
      const master = masterOf(model, { costs });
      master.addSheets(filledSheets(model));
      master.run(1e9, MANY, never);
      expect(master.bound).toBeLessThanOrEqual(panels + 1e-9);
      const shares = shareCostOf(small, "ends", costs);
      if (shares === null) continue;
      expect(Math.abs(master.bound - shares)).toBeLessThan(1e-5 * Math.max(1, shares));
      held++;
    }
    expect(held).toBeGreaterThan(10);
  });

  it("64 times as large are proven the same", () => {
    eachShared((small, _, shares) => {
      if (!isExact(small)) return;
      const model = prepare(problemOf(small, 64));
      const master = masterOf(model);
      master.run(1e9, MANY, never);
      expect(Math.abs(master.bound - shares)).toBeLessThan(1e-5 * Math.max(1, shares));
      expect(shareFaults(model, master, true)).toEqual([]);
    });
  });

  it("with very many scraps, or rip lengths, prove no more than is true, and not nothing", () => {
    // 170 scraps too narrow for any piece but ten of 7 wide
    const scrap = Array.from({ length: 170 }, (_, k): [number, number] => [
      k < 10 ? 7 : 2 + (k % 4),
      2 + (k % 47),
    ]);
    const pieces = Array.from({ length: 16 }, () => [7, 11]);
    const small: SmallProblem = { width: 12, stock: [[20, 20]], pieces, scrap };
    const master = masterOf(modelOf(small));
    master.run(1e8, MANY, never);
    // scraps of 7 x 2 to 7 x 11: one piece goes into the last
    expect(master.bound).toBeLessThanOrEqual(300);
    expect(master.bound).toBeGreaterThan(100);
    // a run with joints at odd places: 90 lengths
    const joints = [0];
    for (let k = 0; k < 30; k++) joints.push(joints[k]! + 7 + ((k * k) % 5));
    const long: SmallProblem = {
      width: 12,
      stock: [[60, 60]],
      runs: [{ height: 5, joints, smallest: 7 }],
    };
    const model = modelOf(long);
    const loose = masterOf(model);
    loose.addSheets(filledSheets(model));
    loose.run(1e8, MANY, never);
    expect(loose.bound).toBeLessThanOrEqual(planCost(model, filledSheets(model)));
    // two beside each other at best: half its length
    expect(loose.bound).toBeGreaterThan(0.95 * (joints[30]! / 2));
    expect(loose.bound).toBeLessThanOrEqual(joints[30]! / 2 + 1e-6 + 60);
    loose.shareRest(taskOf(model), 3);
    expect(shareFaults(model, loose, false)).toEqual([]);
  });

  it("of more shapes than go into one fast table are shared and proven in turns", () => {
    for (const low of [30, 40]) {
      const pieces = Array.from({ length: 230 }, (_, k) => [
        20 + (k % 23),
        low + Math.floor(k / 23),
      ]);
      const model = modelOf({ width: 60, stock: [[100, 1]], pieces });
      const master = masterOf(model);
      const sheets = filledSheets(model);
      master.addSheets(sheets);
      master.run(3e7, MANY, never);
      const area = pieces.reduce((sum, [w, h]) => sum + w! * h!, 0);
      expect(master.bound).toBeLessThanOrEqual(planCost(model, sheets));
      expect(master.value).toBeGreaterThan(area / 6000);
      expect(shareFaults(model, master, true)).toEqual([]);
      expect(solutionCost(model, master)).toBeLessThanOrEqual(planCost(model, sheets));
      // two rows of the higher fill a panel at best: nothing is missing soon
      if (low === 30) expect(master.bound).toBeGreaterThan(0.8 * (area / 6000));
      else expect(master.bound).toBeGreaterThan(master.value * (1 - 1e-5));
    }
  });
});
