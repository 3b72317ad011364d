/** The share solution and its proof, against all patterns of tiny problems written out. */
import { Shop } from "../../../src/core/cut-plan/fill.js";
import { Filling, fillRest } from "../../../src/core/cut-plan/fill.js";
import type { KnapsackTree } from "../../../src/core/cut-plan/knapsack.js";
import {
  Master,
  type MasterOptions,
  type Task,
  runArcs,
} from "../../../src/core/cut-plan/master.js";
import { type Model, runLength } from "../../../src/core/cut-plan/prepare.js";
import type { Sheet } from "../../../src/core/cut-plan/sheet.js";
import { Simplex } from "../../../src/core/cut-plan/simplex.js";
import {
  type Box,
  type SmallProblem,
  bestOf,
  coversOf,
  modelOf,
  nestBox,
  solvedProblems,
} from "./small-problems.js";

const MANY = 1e6;
const never = (): boolean => false;

function taskOf(model: Model): Task {
  return {
    counts: Int32Array.from(model.types, (type) => type.ids.length),
    runs: model.runs,
    scrap: model.scrap,
  };
}

function masterOf(model: Model, change: Partial<MasterOptions> = {}): Master {
  return new Master(model, taskOf(model), {
    costs: model.stock.map(({ cost }) => cost),
    mostGroups: 500,
    mostRows: 220,
    ...change,
  });
}

function filledSheets(model: Model): Sheet[] {
  const filling = new Filling(
    new Shop(model),
    [],
    model.scrap.map(() => true)
  );
  fillRest(
    filling,
    taskOf(model).counts,
    model.runs.map((run) => ({ run: run.index, from: 0, to: run.joints.length - 1 }))
  );
  return filling.result();
}

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

/** Least cost of shares of patterns, from all patterns and covers there are. */
function shareCost(small: SmallProblem): number {
  const model = modelOf(small);
  const { kerf, canTurn } = model;
  const runs = small.runs ?? [];
  const keys: string[] = model.types.map((type) => `piece ${type.index}`);
  const lengths = new Set<string>();
  const covers = runs.map((run) => coversOf(run, model.longest));
  runs.forEach((run, k) =>
    covers[k]!.forEach((cover) => cover.forEach((length) => lengths.add(`${run.height}/${length}`)))
  );
  keys.push(...lengths);
  const brings = (...which: string[]): number[] => {
    const counts = keys.map(() => 0);
    for (const key of which) counts[keys.indexOf(key)]!++;
    return counts;
  };
  const items: Item[] = [];
  const addItem = (w: number, h: number, mayTurn: boolean, ...which: string[]): void => {
    items.push({ w, h, brings: brings(...which) });
    if (mayTurn && canTurn) items.push({ w: h, h: w, brings: brings(...which) });
  };
  model.types.forEach((one, k) => {
    addItem(one.w, Math.max(one.left, one.right), !one.rake, `piece ${k}`);
    model.types.forEach((other, n) => {
      if (n < k || !one.rake || !other.rake || (n === k && one.ids.length < 2)) return;
      const box = nestBox(one, other, kerf);
      if (box) addItem(box.w, box.h, false, `piece ${k}`, `piece ${n}`);
    });
  });
  for (const key of lengths) {
    const [height, length] = key.split("/").map(Number);
    addItem(height!, length!, true, key);
  }
  const scrapRow = keys.length;
  const runRow = scrapRow + model.scrap.length;
  const right = new Float64Array(runRow + runs.length);
  model.types.forEach((type, k) => (right[k] = type.ids.length));
  model.scrap.forEach((_, k) => (right[scrapRow + k] = 1));
  runs.forEach((_, k) => (right[runRow + k] = 1));
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
  for (const { length, cost } of model.stock) {
    for (const one of patternsOf(items, model.width, length, kerf)) addPattern(one, cost, -1);
  }
  model.scrap.forEach(({ w, h }, k) => {
    for (const one of patternsOf(items, w, h, kerf)) addPattern(one, 0, scrapRow + k);
  });
  runs.forEach((run, k) => {
    for (const cover of covers[k]!) {
      const counts = brings(...cover.map((length) => `${run.height}/${length}`));
      const rows = counts.map((_, row) => row).filter((row) => counts[row]! > 0);
      lp.add({
        cost: 0,
        rows: [...rows, runRow + k],
        coefficients: [...rows.map((row) => -counts[row]!), 1],
      });
    }
  });
  expect(lp.solve(10_000)).toBe(true);
  return lp.objective;
}

let shareCosts: (number | null)[] | null = null;
/** Share costs of the tiny problems, worked out once; null where that would take too long. */
function solvedShares(): readonly (number | null)[] {
  shareCosts ??= solvedProblems().map(({ small }) => {
    try {
      return shareCost(small);
    } catch (error) {
      if (error instanceof TooMany) return null;
      throw error;
    }
  });
  return shareCosts;
}

/** True where all heights fall on the grid of the table; rake pieces are rounded down to it. */
function isExact(small: SmallProblem): boolean {
  const isRake = ([, left, right]: readonly number[]): boolean => left !== (right ?? left);
  return !small.pieces!.some(isRake);
}

/** Each tiny problem with the cost of its shares. */
function eachShared(law: (small: SmallProblem, cost: number, shares: number) => void): void {
  let held = 0;
  solvedProblems().forEach(({ small, cost }, k) => {
    const shares = solvedShares()[k];
    if (shares === null || shares === undefined) return;
    law(small, cost, shares);
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

/** What the share solution says, held to what it must cover and to what fits. */
function shareFaults(model: Model, master: Master, boxes: boolean): string[] {
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
    const count = model.scrap.filter(({ w, h }) => `${w}/${h}` === key).length;
    if (used > count + 1e-6) faults.push(`scrap ${key} used ${used} times`);
  }
  // a larger thing may stand in for a smaller one, so areas are compared
  let wanted = 0;
  for (const type of model.types) wanted += type.area * type.ids.length;
  for (const run of model.runs) wanted += run.height * runLength(run);
  if (covered < wanted * (1 - 1e-6)) faults.push(`${covered} of ${wanted} covered`);
  if (!(cost >= master.bound * (1 - 1e-6))) faults.push(`costs ${cost} under ${master.bound}`);
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
    eachShared((small, cost, shares) => {
      const model = modelOf(small);
      const master = masterOf(model);
      master.run(1e9, MANY, never);
      expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
      expect(master.bound).toBeLessThanOrEqual(shares * (1 + 1e-9) + 1e-9);
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

  it("proves no more than that where rips count by length, or shapes share a price", () => {
    eachShared((small, cost, shares) => {
      const model = modelOf(small);
      for (const change of [{ mostRows: 0 }, { mostGroups: 2 }, { mostGroups: 1, mostRows: 0 }]) {
        const master = masterOf(model, change);
        expect(master.ripsByLength).toBe("mostRows" in change || model.runs.length === 0);
        master.addSheets(filledSheets(model));
        master.run(1e8, MANY, never);
        expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
        expect(master.bound).toBeLessThanOrEqual(shares + 2e-4);
        // at worst the largest piece's price for all
        expect(master.bound).toBeGreaterThan(0.2 * shares - 1e-9);
      }
    });
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
    for (const { small, cost } of solvedProblems().slice(0, 30)) {
      const model = modelOf(small);
      const master = masterOf(model);
      master.run(1e8, 40, never);
      expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
      expect(master.bound).toBeGreaterThanOrEqual(0);
    }
  });

  it("prices pieces and rips so that they pay for the plan", () => {
    eachShared((small, _, shares) => {
      const model = modelOf(small);
      if (model.scrap.length > 0 || !isExact(small)) return;
      const master = masterOf(model);
      master.run(1e9, MANY, never);
      let worth = 0;
      for (const type of model.types) {
        expect(master.pieceWorth(type.index)).toBeGreaterThanOrEqual(0);
        worth += type.ids.length * master.pieceWorth(type.index);
      }
      small.runs!.forEach((run) => {
        const costs = coversOf(run, model.longest).map((cover) =>
          cover.reduce((sum, length) => sum + master.ripWorth(run.height, length), 0)
        );
        worth += Math.min(...costs);
      });
      expect(Math.abs(worth - shares)).toBeLessThan(1e-3);
      expect(master.pieceWorth(model.types.length)).toBe(0);
      expect(master.ripWorth(11, 11)).toBe(0);
    });
  });

  it("shares rests of a task without losing its bound", () => {
    solvedProblems().forEach(({ small }) => {
      const model = modelOf(small);
      const master = masterOf(model, { mostRows: 0 });
      master.addSheets(filledSheets(model));
      master.share(1e8);
      const all = shareFaults(model, master, false);
      expect(all).toEqual([]);
      const lengths = new Map<number, number>();
      for (const run of model.runs) {
        lengths.set(run.height, (lengths.get(run.height) ?? 0) + runLength(run));
      }
      const counts = taskOf(model).counts.map((count) => 2 * count);
      master.shareRest(counts, lengths, model.scrap, 4);
      const twice = master
        .solution()
        .reduce((sum, one) => sum + one.level * leavesOf(one.tree).length, 0);
      expect(twice).toBeGreaterThan(0);
      master.shareRest(counts.fill(0), new Map(), [], 2);
      expect(master.solution()).toEqual([]);
    });
  });
});
