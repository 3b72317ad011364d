/** A large task proven in stages: few prices first, then one each; the bound stays true all the way. */
import { areaBound } from "../../../src/core/cut-plan/bounds.js";
import { Shop } from "../../../src/core/cut-plan/fill.js";
import { Master, type Task } from "../../../src/core/cut-plan/master.js";
import type { Model } from "../../../src/core/cut-plan/prepare.js";
import {
  MOST_AT_ONCE,
  MOST_STATES,
  type Staging,
  solveMaster,
} from "../../../src/core/cut-plan/prove.js";
import { fillTask } from "../../../src/core/cut-plan/round.js";
import type { Sheet } from "../../../src/core/cut-plan/sheet.js";
import { planCost } from "../../../src/core/cut-plan/write-plan.js";
import { type SmallProblem, modelOf, ripProblems, solvedProblems } from "./small-problems.js";

const never = (): boolean => false;

const taskOf = (model: Model): Task => ({
  counts: Int32Array.from(model.types, (type) => type.ids.length),
  stretches: model.runs.map((run) => ({ run: run.index, from: 0, to: run.joints.length - 1 })),
  scrap: model.scrap,
});

const costsOf = (model: Model): number[] => model.stock.map(({ cost }) => cost);

/** Stages for the tiniest of tasks. */
const TINY: Staging = {
  mostAtOnce: 0,
  firstGroups: 2,
  stages: [
    { groups: 2, within: 0.2, close: 0.05, share: 0.4 },
    { groups: Infinity, within: 0.1, close: 5e-3, share: 0.7 },
    { groups: Infinity, within: 0.05, close: 1e-3, share: 1 },
  ],
};

/** Steps from a rough price to the best one, three tenths of it at most each. */
const MANY_STAGES: Staging = {
  ...TINY,
  stages: Array.from({ length: 60 }, () => ({
    groups: Infinity,
    within: 0.3,
    close: 0,
    share: 1,
  })),
};

interface Solved {
  readonly model: Model;
  readonly sheets: Sheet[];
  readonly master: Master;
}

function solved(small: SmallProblem, staging: Staging | undefined, budget = 1e9): Solved {
  const model = modelOf(small);
  const sheets = fillTask(new Shop(model), taskOf(model));
  const master = solveMaster(model, taskOf(model), costsOf(model), sheets, budget, never, staging);
  return { model, sheets, master };
}

const PROBLEMS = [...solvedProblems(), ...ripProblems()];

describe("stages", () => {
  it("prove no more than the least cost of any plan, nor than the value of their own shares", () => {
    let close = 0;
    for (const { small, cost } of PROBLEMS) {
      const { model, sheets, master } = solved(small, TINY);
      expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
      expect(master.bound).toBeLessThanOrEqual(planCost(model, sheets) + 1e-9);
      expect(master.bound).toBeGreaterThanOrEqual(0);
      const at = new Master(model, taskOf(model), { costs: costsOf(model), mostGroups: 500 });
      at.addSheets(sheets);
      at.run(1e9, MOST_STATES, never);
      expect(master.bound).toBeLessThanOrEqual(at.value + 1e-6);
      // two prices for all, and a little more: near to the best there is for most
      if (master.bound > 0.8 * at.bound - 1e-9) close++;
    }
    expect(close).toBeGreaterThan(0.8 * PROBLEMS.length);
  });

  it("reach the best bound there is, however far the first prices are from it", () => {
    let far = 0;
    let short = 0;
    for (const { small, cost } of PROBLEMS.slice(0, 60)) {
      const { model, sheets, master } = solved(small, MANY_STAGES);
      const at = new Master(model, taskOf(model), { costs: costsOf(model), mostGroups: 500 });
      at.addSheets(sheets);
      at.run(1e9, MOST_STATES, never);
      expect(master.bound).toBeLessThanOrEqual(cost * (1 + 1e-9));
      expect(master.bound).toBeLessThanOrEqual(at.value + 1e-6);
      if (at.bound - master.bound > 1e-2 * Math.max(1, at.bound)) short++;
      const rough = new Master(model, taskOf(model), { costs: costsOf(model), mostGroups: 2 });
      rough.run(1e9, MOST_STATES, never);
      if (at.bound - rough.bound > 1e-2 * Math.max(1, at.bound)) far++;
    }
    expect(short).toBe(0);
    expect(far).toBeGreaterThan(5);
  });

  it("never lose a bound on the way, and price all pieces one by one at the end", () => {
    let priced = 0;
    for (const { small } of PROBLEMS.slice(0, 40)) {
      const bounds: number[] = [];
      for (let count = 1; count <= TINY.stages.length; count++) {
        const { master } = solved(small, { ...TINY, stages: TINY.stages.slice(0, count) });
        bounds.push(master.bound);
        // where scrap holds everything nothing has a price, and there are no stages
        if (master.bound === 0) continue;
        priced++;
        expect(master.options.mostGroups).toBe(TINY.stages[count - 1]!.groups);
      }
      expect(bounds).toEqual([...bounds].sort((a, b) => a - b));
    }
    expect(priced).toBeGreaterThan(60);
  });

  it("are not gone through where a task is not large, or the work is done", () => {
    const { small } = PROBLEMS[0]!;
    expect(solved(small, undefined).master.options.mostGroups).toBe(MOST_AT_ONCE);
    expect(solved(small, { ...TINY, mostAtOnce: 4 }).master.options.mostGroups).toBe(4);
    expect(solved(small, TINY).master.options.mostGroups).toBe(TINY.stages.at(-1)!.groups);
    const { master } = solved(small, TINY, 1);
    expect(master.options.mostGroups).toBe(2);
    expect(master.bound).toBeGreaterThanOrEqual(0);
  });

  it("are each given what is left of their share of the steps, the first prices a share of their own", () => {
    const { run, share } = Master.prototype;
    let held = 0;
    for (const { small } of PROBLEMS.slice(0, 30)) {
      for (const budget of [2e4, 1e5, 1e7]) {
        const given: { steps: number; master: Master }[] = [];
        let first: number[] = [];
        Master.prototype.run = function (steps, ...rest): void {
          given.push({ steps, master: this });
          run.call(this, steps, ...rest);
        };
        Master.prototype.share = function (steps): void {
          first = [steps];
          share.call(this, steps);
        };
        const proved: Master[] = [];
        try {
          const { prove } = Master.prototype;
          Master.prototype.prove = function (states): number {
            proved.push(this);
            return prove.call(this, states);
          };
          try {
            solved(small, TINY, budget);
          } finally {
            Master.prototype.prove = prove;
          }
        } finally {
          Object.assign(Master.prototype, { run, share });
        }
        expect(first).toEqual([0.3 * budget]);
        // where nothing has a price there is one master only
        if (given[0]!.master === proved[0]) continue;
        let done = proved[0]!.work;
        given.forEach(({ steps, master }, k) => {
          expect(steps).toBeCloseTo(TINY.stages[k]!.share * budget - done, 6);
          // the next is begun only where steps are left
          if (k > 0) expect(done).toBeLessThan(budget);
          done += master.work;
        });
        if (given.length < TINY.stages.length) expect(done).toBeGreaterThanOrEqual(budget);
        held++;
      }
    }
    expect(held).toBeGreaterThan(30);
  });

  it("end as soon as bound and shares are as close as they need be, and not before", () => {
    let later = 0;
    const plain = PROBLEMS.filter(
      ({ small }) => small.runs!.length === 0 && small.scrap!.length === 0
    );
    for (const { small } of plain.slice(0, 12)) {
      const model = modelOf(small);
      const sheets = fillTask(new Shop(model), taskOf(model));
      const asked = (close: number): (readonly [number, number])[] => {
        const pairs: [number, number][] = [];
        const stages = [{ groups: Infinity, within: 0.3, close, share: 1 }];
        const enough = (bound: number, value: number): boolean => {
          pairs.push([bound, value]);
          return false;
        };
        const staging = { ...TINY, firstGroups: 1, stages };
        solveMaster(model, taskOf(model), costsOf(model), sheets, 1e9, enough, staging);
        return pairs;
      };
      for (const close of [0.5, 0.02]) {
        const pairs = asked(close);
        pairs.forEach(([bound, value], k) => {
          const isLast = k === pairs.length - 1;
          if (!isLast) expect(value - bound).toBeGreaterThanOrEqual(close * value);
        });
        const to = asked(0);
        expect(pairs.length).toBeLessThanOrEqual(to.length);
        const at = to.findIndex(([bound, value]) => value - bound < close * value);
        if (at >= 0) expect(pairs).toHaveLength(at + 1);
        if (to.length > pairs.length) later++;
      }
    }
    expect(later).toBeGreaterThan(3);
  });

  it("end when told that a bound is enough", () => {
    const { small } = PROBLEMS[0]!;
    const model = modelOf(small);
    const sheets = fillTask(new Shop(model), taskOf(model));
    const asked: [number, number][] = [];
    solveMaster(
      model,
      taskOf(model),
      costsOf(model),
      sheets,
      1e9,
      (bound, value) => {
        asked.push([bound, value]);
        return true;
      },
      TINY
    );
    // once in each stage
    expect(asked).toHaveLength(3);
    for (const [bound] of asked) expect(bound).toBeGreaterThanOrEqual(0);
  });

  it("do without, where nothing has a price at first", () => {
    // all goes into scrap: nothing is worth anything
    const small: SmallProblem = {
      width: 12,
      stock: [[20, 20]],
      pieces: [
        [3, 4],
        [4, 5],
        [2, 7],
      ],
      scrap: [
        [12, 20],
        [12, 20],
      ],
    };
    const { master, model, sheets } = solved(small, TINY);
    expect(master.bound).toBe(0);
    expect(planCost(model, sheets)).toBe(0);
    expect(master.options.mostGroups).toBe(TINY.firstGroups);
  });
});

describe("more different pieces than are priced at once", () => {
  it("are proven near the value of their shares, between the area and the cost of a plan", () => {
    const pieces = Array.from({ length: 620 }, (_, k) => [
      20 + (k % 31),
      30 + Math.floor(k / 31) * 2,
    ]);
    const { model, sheets, master } = solved(
      { width: 60, stock: [[100, 1]], pieces },
      undefined,
      6e8
    );
    expect(model.types).toHaveLength(620);
    expect(master.options.mostGroups).toBe(Infinity);
    expect(master.bound).toBeLessThanOrEqual(planCost(model, sheets));
    expect(master.bound).toBeGreaterThanOrEqual(areaBound(model, costsOf(model)));
  });
});
