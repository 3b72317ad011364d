/** The bound by column generation: never above the least cost, in one go or in stages, and near it. */
import { areaBound } from "../../src/core/cut-plan/bounds.js";
import { Shop } from "../../src/core/cut-plan/fill.js";
import type { Master } from "../../src/core/cut-plan/master.js";
import type { Task } from "../../src/core/cut-plan/pattern-rows.js";
import { type Staging, solveMaster } from "../../src/core/cut-plan/prove.js";
import { fillTask } from "../../src/core/cut-plan/round.js";
import { planCost } from "../../src/core/cut-plan/write-plan.js";
import { type SmallProblem, modelOf, ripProblems, solvedProblems } from "./small-problems.js";

// searching through all patterns is real work; a busy machine may take a while
jest.setTimeout(120_000);

const never = (): boolean => false;

/** What a large task goes through, for the tiniest ones. */
const TINY: Staging = {
  mostAtOnce: 0,
  firstGroups: 2,
  stages: [
    { groups: 2, within: 0.2, close: 0.05, share: 0.4 },
    { groups: Infinity, within: 0.1, close: 5e-3, share: 0.7 },
    { groups: Infinity, within: 0.05, close: 1e-3, share: 1 },
  ],
};

interface Solved {
  readonly master: Master;
  readonly area: number;
  /** cost of a first plan */
  readonly filled: number;
}

function solved(small: SmallProblem, staging?: Staging, budget = 1e9): Solved {
  const model = modelOf(small);
  const task: Task = {
    counts: Int32Array.from(model.types, (type) => type.ids.length),
    stretches: model.runs.map((run) => ({ run: run.index, from: 0, to: run.joints.length - 1 })),
    scrap: model.scrap,
  };
  const costs = model.stock.map(({ cost }) => cost);
  const sheets = fillTask(new Shop(model), task);
  return {
    master: solveMaster(model, task, costs, sheets, budget, never, staging),
    area: areaBound(model, costs),
    filled: planCost(model, sheets),
  };
}

describe.each([
  ["in one go", undefined, 0.66],
  ["in stages, nearly equal pieces sharing a price at first", TINY, 0.64],
] as const)("%s", (_, staging, share) => {
  it("is never above the least cost of any plan, nor above its own shares", () => {
    let bounds = 0;
    let costs = 0;
    for (const { small, cost } of [...solvedProblems(), ...ripProblems()]) {
      const { master, filled } = solved(small, staging);
      expect(master.bound).toBeGreaterThanOrEqual(0);
      expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
      expect(filled).toBeGreaterThanOrEqual(cost);
      for (const { level } of master.solution()) expect(level).toBeGreaterThan(0);
      bounds += master.bound;
      costs += cost;
    }
    expect(bounds / costs).toBeGreaterThan(share);
  });
});

it("of one size is what the best pattern of it can hold", () => {
  // 2 x 3 of 5 x 6 in 12 x 20, saw cuts of 1 between them; 60 pieces are ten panels
  const pieces = Array.from({ length: 60 }, () => [5, 6]);
  const { master } = solved({ width: 12, kerf: 1, stock: [[20, 7]], pieces });
  expect(master.bound).toBeCloseTo(70, 6);
  expect(master.value).toBeCloseTo(70, 6);
});

it("of more different pieces than are priced at once lies between the area and a plan", () => {
  const pieces = Array.from({ length: 620 }, (_, k) => [
    20 + (k % 31),
    30 + Math.floor(k / 31) * 2,
  ]);
  const { master, area, filled } = solved({ width: 60, stock: [[100, 1]], pieces }, undefined, 6e8);
  expect(master.options.mostGroups).toBe(Infinity);
  expect(master.bound).toBeLessThanOrEqual(filled);
  expect(master.bound).toBeGreaterThanOrEqual(area);
});

it("ends near the work allowed, with a bound that holds", () => {
  const pieces = Array.from({ length: 120 }, (_, k) => [20 + (k % 31), 30 + ((k * 7) % 41)]);
  const small: SmallProblem = { width: 60, stock: [[100, 1]], pieces };
  const { master: short } = solved(small, undefined, 1e6);
  const { master: long, filled } = solved(small, undefined, 1e8);
  expect(short.work).toBeLessThan(long.work);
  expect(short.bound).toBeLessThanOrEqual(long.bound + 1e-9);
  expect(long.bound).toBeLessThanOrEqual(filled);
});
