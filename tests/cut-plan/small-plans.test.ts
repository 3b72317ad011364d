/** Whole plans of tiny problems: the best there are, with bounds that hold. */
import fc from "fast-check";
import { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import {
  type SmallProblem,
  bestOf,
  cutUp,
  law,
  problemOf,
  ripProblems,
  solvedProblems,
} from "./small-problems.js";
import { faultsOf } from "./verify-plan.js";

// planning is real work; a busy machine may take a while
jest.setTimeout(120_000);

/** Share of the least cost that all problems together may cost more, of rips there may be more, and that is proven. */
describe.each([
  ["pieces, runs and scrap", solvedProblems, { cost: 0.005, rips: 0.06, proven: 0.9 }],
  ["runs with odd ends", ripProblems, { cost: 0.02, rips: 0.06, proven: 0.88 }],
] as const)("plans of tiny problems of %s", (_, problems, most) => {
  it("are as cheap as any, with few rips, and prove no more than is true, but most of all costs", () => {
    let paid = 0;
    let costs = 0;
    let proven = 0;
    let rips = 0;
    let fewest = 0;
    for (const { small, ...best } of problems()) {
      const plan = planCuts(problemOf(small));
      expect(plan.cost).toBeGreaterThanOrEqual(best.cost);
      expect(plan.lowestCost).toBeLessThanOrEqual(best.cost);
      expect(plan.fewestPanels).toBeLessThanOrEqual(best.panels);
      expect(plan.fewestPanels).toBeGreaterThanOrEqual(best.cost > 0 ? 1 : 0);
      paid += plan.cost;
      costs += best.cost;
      proven += plan.lowestCost;
      rips += plan.rips.length;
      fewest += best.rips;
    }
    expect(paid / costs - 1).toBeLessThanOrEqual(most.cost);
    expect(rips / fewest - 1).toBeLessThanOrEqual(most.rips);
    expect(proven / costs).toBeGreaterThanOrEqual(most.proven);
  });

  it("pass the verifier, 64 times as large, and quick ones too", () => {
    const faults: string[] = [];
    let costs = 0;
    let least = 0;
    for (const { small, cost } of problems()) {
      const problem = problemOf(small, 64);
      const plan = planCuts(problem);
      const quick = planCuts(problem, "quick");
      faults.push(...faultsOf(problem, plan), ...faultsOf(problem, quick));
      // the box of a nested pair is rounded up to whole units, a smaller share of a larger one
      costs += plan.cost;
      least += cost;
      expect(quick.cost).toBeGreaterThanOrEqual(plan.lowestCost);
      expect(quick.lowestCost).toBeLessThanOrEqual(plan.cost);
    }
    expect(faults).toEqual([]);
    expect(costs / least - 1).toBeLessThanOrEqual(most.cost);
  });

  it("are the same for the same input, and as cheap for pieces in another order", () => {
    for (const { small } of problems().slice(0, 12)) {
      const plan = planCuts(problemOf(small));
      expect(planCuts(problemOf(small))).toEqual(plan);
      const turnedOver = { ...small, pieces: [...small.pieces!].reverse() };
      expect(planCuts(problemOf(turnedOver)).cost).toBe(plan.cost);
    }
  });
});

describe("plans proven by column generation alone", () => {
  const two: SmallProblem["stock"] = [
    [20, 18],
    [15, 16],
  ];
  const other: SmallProblem["stock"] = [
    [14, 14],
    [20, 20],
  ];
  it.each<[string, SmallProblem]>([
    [
      "where filling one after another wastes a panel",
      {
        width: 12,
        kerf: 1,
        canTurn: true,
        stock: two,
        pieces: [
          [12, 12],
          [11, 6],
          [8, 3, 3],
          [4, 12, 10],
        ],
        scrap: [[4, 6]],
        runs: [{ height: 5, joints: [0, 4, 12, 20], smallest: 2 }],
      },
    ],
    [
      "with one rake piece and a run",
      {
        width: 12,
        kerf: 1,
        stock: two,
        pieces: [
          [6, 12, 3],
          [2, 3],
          [2, 4],
        ],
        runs: [{ height: 3, joints: [0, 3, 9, 14], smallest: 2 }],
      },
    ],
    [
      "with two scraps",
      {
        width: 12,
        kerf: 1,
        canTurn: true,
        stock: other,
        pieces: [
          [6, 3],
          [9, 4, 11],
          [7, 13],
          [7, 14],
        ],
        scrap: [
          [9, 6],
          [8, 11],
        ],
        runs: [{ height: 4, joints: [0, 4, 13, 21], smallest: 2 }],
      },
    ],
    [
      "of rectangles alone",
      {
        width: 12,
        canTurn: true,
        stock: [[20, 20]],
        pieces: [
          [10, 2],
          [11, 13],
          [11, 12],
        ],
        scrap: [
          [10, 15],
          [9, 5],
        ],
      },
    ],
  ])("%s", (_, small) => {
    const plan = planCuts(problemOf(small));
    const { cost, panels } = bestOf(small);
    expect([plan.cost, plan.lowestCost, plan.boundBy]).toEqual([cost, cost, "column generation"]);
    expect(plan.fewestPanels).toBeLessThanOrEqual(panels);
  });
});

describe("panels cut up at random", () => {
  it("are found again, all but one", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(0, 1),
        fc.integer({ min: 2, max: 6 }),
        fc.array(fc.nat(1000), { minLength: 5, maxLength: 9 }),
        (kerf, count, cuts) => {
          const small: SmallProblem = {
            width: 12,
            kerf,
            stock: [[20, 5]],
            pieces: cutUp(12, 20, kerf, count, cuts),
          };
          const plan = planCuts(problemOf(small));
          expect(plan.cost).toBeLessThanOrEqual(5 * (count + 1));
          // nothing was wasted, saw cuts counted with the pieces
          expect([plan.lowestCost, plan.fewestPanels]).toEqual([5 * count, count]);
        }
      ),
      law(81, 15)
    );
  });
});

describe("the bound", () => {
  const stock: SmallProblem["stock"] = [[20, 5]];
  const times = (count: number, ...size: number[]): number[][] =>
    Array.from({ length: count }, () => size);
  it("says which argument gave it, the plainest of those that give as much", () => {
    const by = (pieces: number[][], change: Partial<SmallProblem> = {}): [number, string] => {
      const plan = planCuts(problemOf({ width: 12, stock, pieces, ...change }));
      return [plan.lowestCost, plan.boundBy];
    };
    expect(by(times(2, 12, 10))).toEqual([5, "area"]);
    // one piece needs one panel
    expect(by(times(1, 2, 2))).toEqual([5, "area"]);
    expect(by(times(3, 7, 11))).toEqual([15, "dual-feasible function"]);
    // and the cheapest at that, however small its share of a panel is
    const two: SmallProblem["stock"] = [
      [20, 18],
      [15, 16],
    ];
    expect(by(times(1, 2, 2), { stock: two })).toEqual([16, "area"]);
    // nothing to cut
    expect(by([], { runs: [] })).toEqual([0, "area"]);
    // all of it out of scrap
    expect(by(times(1, 2, 2), { scrap: [[2, 2]] })).toEqual([0, "area"]);
  });
  it("is rounded up to a cost panels can have", () => {
    const two: SmallProblem["stock"] = [
      [20, 10],
      [12, 6],
    ];
    // 12 x 21 of wood at 1/24 is 10.5: with panels of 6 and 10 in steps of 2 that is 12
    const plan = planCuts(problemOf({ width: 12, stock: two, pieces: times(21, 12, 1) }));
    expect([plan.lowestCost, plan.cost]).toEqual([12, 12]);
  });
  it("of panels counts the longest only", () => {
    const two: SmallProblem["stock"] = [
      [20, 100],
      [10, 5],
    ];
    const plan = planCuts(problemOf({ width: 12, stock: two, pieces: times(4, 12, 10) }));
    expect([plan.panelCount, plan.cost, plan.fewestPanels]).toEqual([4, 20, 2]);
  });
});
