/** Bounds by argument: never above what trying everything finds, and tight where the argument is. */
import fc from "fast-check";
import { areaBound, costStep, dualFeasibleBound, roundUp } from "../../src/core/cut-plan/bounds.js";
import {
  type SmallProblem,
  law,
  modelOf,
  smallProblems,
  solvedProblems,
} from "./small-problems.js";

const costsOf = (small: SmallProblem): number[] => small.stock.map(([, cost]) => cost);
const area = (small: SmallProblem): number => areaBound(modelOf(small), costsOf(small));
const dual = (small: SmallProblem): number => dualFeasibleBound(modelOf(small), costsOf(small));
const times = (count: number, ...size: number[]): number[][] =>
  Array.from({ length: count }, () => size);

describe("the area bound", () => {
  const stock: SmallProblem["stock"] = [
    [20, 20],
    [30, 24],
  ];
  it("is the wood needed at the cheapest price per area", () => {
    // 30 x 10 for 24 is 0.08 a unit of area; 2 x (5 x 8) + (4 + 8) / 2 x 6 + 3 x 16 = 164
    const small: SmallProblem = {
      width: 10,
      stock,
      pieces: [...times(2, 5, 8), [6, 4, 8]],
      runs: [{ height: 3, joints: [2, 10, 18], smallest: 4 }],
    };
    expect(area(small)).toBeCloseTo(164 * 0.08, 9);
    expect(area(small)).toBeLessThanOrEqual(164 * 0.08);
    expect(area({ ...small, scrap: [[10, 10]] })).toBeCloseTo(64 * 0.08, 9);
    expect(area({ ...small, scrap: [[10, 18]] })).toBe(0);
    expect(areaBound(modelOf(small), [20, Infinity])).toBeCloseTo(164 * 0.1, 9);
  });
});

describe("whole steps of cost", () => {
  it("are the largest amount all costs are multiples of", () => {
    expect(costStep([32, 36, 40])).toBe(4);
    expect(costStep([40, 32])).toBe(8);
    expect(costStep([31.99, 40])).toBeCloseTo(0.01, 12);
    expect(costStep([5])).toBe(5);
    expect(costStep([1, Infinity])).toBe(1);
    expect(costStep([Infinity, 6])).toBe(6);
    expect(costStep([1 / 3])).toBe(0);
    expect(costStep([1e-7])).toBe(0);
    expect(costStep([4, Math.PI])).toBe(0);
    // past 2^52 millionths whole numbers are not certain any more
    expect(costStep([4_503_599_627.370496])).toBeCloseTo(4_503_599_627.370496, 3);
    expect(costStep([4_503_599_628])).toBe(0);
  });
  it("round a bound up, unless it is one but for rounding", () => {
    expect(roundUp(13, 4)).toBe(16);
    expect(roundUp(16, 4)).toBe(16);
    expect(roundUp(16 * (1 + 1e-10), 4)).toBe(16);
    expect(roundUp(16.001, 4)).toBe(20);
    expect(roundUp(13, 0)).toBe(13);
    expect(roundUp(0, 4)).toBe(0);
    expect(roundUp(-3, 4)).toBe(0);
    expect(roundUp(-5, 4)).toBe(0);
    expect(roundUp(-3, 0)).toBe(0);
    expect(roundUp(0.3, 0.1)).toBe(0.3);
    expect(roundUp(0.31, 0.1)).toBe(0.4);
  });
});

describe("the bound by dual-feasible functions", () => {
  const stock: SmallProblem["stock"] = [[20, 5]];
  it("gives every piece over half a panel's width and length a panel of its own", () => {
    expect(dual({ width: 12, stock, pieces: times(7, 7, 11) })).toBeCloseTo(35, 6);
    expect(dual({ width: 12, stock, pieces: times(7, 7, 20) })).toBeCloseTo(35, 6);
    // just half: two by two go in
    expect(dual({ width: 12, stock, pieces: times(8, 6, 10) })).toBeCloseTo(10, 6);
    // with a saw cut of 1 they do not: 12 + 1 is less than 2 x (6 + 1)
    expect(dual({ width: 12, kerf: 1, stock, pieces: times(8, 6, 10) })).toBeCloseTo(40, 6);
  });
  it("counts wide pieces with the narrow ones beside them", () => {
    // 8 and 5 do not go side by side into 12; 8 and 4 do
    const mixed = (narrow: number): number =>
      dual({ width: 12, stock, pieces: [...times(3, 8, 20), ...times(3, narrow, 20)] });
    expect(mixed(4)).toBeCloseTo(15, 6);
    expect(mixed(5)).toBeGreaterThan(20);
    // two of 5 beside each other at best
    expect(mixed(5)).toBeLessThanOrEqual(25 + 1e-6);
  });
  it("counts so with the saw cut between them, along the panel, and with rips", () => {
    const mixed: SmallProblem = {
      width: 13,
      kerf: 1,
      stock,
      pieces: [...times(3, 8, 20), ...times(3, 5, 20)],
    };
    // 8 + 1 + 5 is 14: three panels, and three of 5 at 6 of 14 each
    expect(dual(mixed)).toBeCloseTo(15 + (3 * 5 * 6) / 14, 6);
    const along: SmallProblem = {
      width: 12,
      kerf: 1,
      stock: [[20, 5]],
      pieces: [...times(3, 12, 13), ...times(3, 12, 7)],
    };
    // 13 + 1 + 7 is 21: three panels, and three of 7 at 8 of 21 each
    expect(dual(along)).toBeCloseTo(15 + (3 * 5 * 8) / 21, 6);
    const runs = [{ height: 5, joints: [0, 20, 40, 60], smallest: 20 }];
    expect(dual({ ...mixed, pieces: times(3, 8, 20), runs })).toBeCloseTo(15 + (3 * 5 * 6) / 14, 6);
  });
  it("counts pieces just over a third, a quarter, a fifth and a sixth of the width", () => {
    for (const [width, wide, across] of [
      [20, 7, 2],
      [19, 5, 3],
      [29, 6, 4],
      [23, 4, 5],
    ] as const) {
      const pieces = times(across * 6, wide, 20);
      expect(dual({ width, stock, pieces })).toBeCloseTo(6 * 5, 6);
    }
    // a third exactly: three go in
    expect(dual({ width: 21, stock, pieces: times(18, 7, 20) })).toBeCloseTo(30, 6);
  });
  it("charges what the cheapest panel long enough costs", () => {
    const two: SmallProblem["stock"] = [
      [10, 3],
      [20, 8],
    ];
    expect(dual({ width: 12, stock: two, pieces: times(4, 7, 10) })).toBeCloseTo(12, 6);
    expect(dual({ width: 12, stock: two, pieces: times(4, 7, 11) })).toBeCloseTo(32, 6);
    expect(
      dualFeasibleBound(modelOf({ width: 12, stock: two, pieces: times(4, 7, 10) }), [Infinity, 1])
    ).toBeGreaterThan(1.9);
  });
  it("takes a rectangle as it lies cheapest, a rake as the level box under its low side", () => {
    // turned, 7 wide and 11 high lie two in a panel; upright one
    const turning = dual({ width: 12, canTurn: true, stock, pieces: times(6, 7, 11) });
    expect(turning).toBeLessThanOrEqual(15);
    expect(turning).toBeGreaterThan(10);
    expect(dual({ width: 12, stock, pieces: times(6, 7, 11) })).toBeCloseTo(30, 6);
    // 7 wide, over half; low sides of 11, over half
    expect(dual({ width: 12, stock, pieces: times(3, 7, 11, 14) })).toBeCloseTo(15, 6);
    expect(dual({ width: 12, stock, pieces: times(3, 7, 14, 11) })).toBeCloseTo(15, 6);
    // low sides of 0: nothing is certain
    expect(dual({ width: 12, stock, pieces: times(3, 7, 0, 14) })).toBe(0);
  });
  it("covers runs in the cheapest way, and takes off what scrap may hold", () => {
    // rips of 7 in 12: one beside another does not go
    const runs = [{ height: 7, joints: [0, 20, 40, 60], smallest: 20 }];
    expect(dual({ width: 12, stock, runs })).toBeCloseTo(15, 6);
    // cut at 10 two go above each other
    const short = [{ height: 7, joints: [0, 10, 20], smallest: 10 }];
    expect(dual({ width: 12, stock, runs: short })).toBeCloseTo(5, 6);
    expect(dual({ width: 12, stock, runs, scrap: [[12, 20]] })).toBeCloseTo(10, 6);
    expect(dual({ width: 12, stock, runs, scrap: [[12, 40]] })).toBeLessThanOrEqual(5 + 1e-9);
    expect(dual({ width: 12, stock, runs, scrap: [[12, 60]] })).toBe(0);
    expect(dual({ width: 12, stock, runs, scrap: [[2, 3]] })).toBeGreaterThan(14);
    // with a saw cut of 1 rips of 6 do not lie side by side in 12, nor rips of 10 in 20
    const cut = [{ height: 6, joints: [0, 20, 40, 60], smallest: 20 }];
    expect(dual({ width: 12, kerf: 1, stock, runs: cut })).toBeCloseTo(15, 6);
    const tens = [{ height: 7, joints: [0, 10, 20, 30], smallest: 10 }];
    expect(dual({ width: 12, kerf: 1, stock, runs: tens })).toBeCloseTo(10, 6);
    // scrap of a piece's own size holds one of it
    for (const kerf of [0, 1]) {
      const pieces = times(3, 7, 11);
      expect(dual({ width: 12, kerf, stock, pieces, scrap: [[7, 11]] })).toBeCloseTo(10, 6);
      expect(dual({ width: 12, kerf, stock, pieces, scrap: [[12, 20]] })).toBeCloseTo(10, 6);
    }
  });
  it("lets scrap wider or longer than a panel hold all that goes into it", () => {
    // three of 7 in 21, and one more from a panel of 12
    expect(dual({ width: 12, stock, pieces: times(4, 7, 20), scrap: [[21, 20]] })).toBeLessThan(
      5.001
    );
    expect(dual({ width: 12, stock, pieces: times(4, 12, 11), scrap: [[12, 33]] })).toBeLessThan(
      5.001
    );
    // two of 5 in a panel of 12, four in 20
    expect(dual({ width: 12, stock, pieces: times(6, 5, 20), scrap: [[20, 20]] })).toBeLessThan(
      5.001
    );
    // and not much more: two of nine pieces in 14 or 22, two of six in 13
    const nine = { width: 12, stock, pieces: times(9, 7, 20), scrap: [[14, 20]] as const };
    expect(dual(nine)).toBeGreaterThan(33);
    expect(dual(nine)).toBeLessThanOrEqual(35);
    const rows = { width: 12, stock, pieces: times(9, 12, 11), scrap: [[12, 22]] as const };
    expect(dual(rows)).toBeGreaterThan(33);
    expect(dual(rows)).toBeLessThanOrEqual(35);
    const thirds = { width: 12, stock, pieces: times(6, 5, 20), scrap: [[13, 20]] as const };
    expect(dual(thirds)).toBeGreaterThan(6.5);
    expect(dual(thirds)).toBeLessThanOrEqual(10);
    // nothing is lost on pieces that such scrap is too low for
    expect(dual({ width: 12, stock, pieces: times(9, 7, 20), scrap: [[13, 1]] })).toBeGreaterThan(
      40
    );
  });
  it("is never above the least cost there is, nor is the area bound", () => {
    for (const { small, cost } of solvedProblems()) {
      expect(dual(small)).toBeLessThanOrEqual(cost);
      expect(area(small)).toBeLessThanOrEqual(cost);
    }
  });
  it("is at least the wood needed at the price of length, where nothing is scrap and nothing is a rake", () => {
    fc.assert(
      fc.property(smallProblems, (small) => {
        const plain = {
          ...small,
          kerf: 0,
          scrap: [],
          runs: [],
          pieces: small.pieces!.filter(([, left, right]) => left === (right ?? left)),
        };
        expect(dual(plain)).toBeGreaterThanOrEqual(area(plain) - 1e-6);
      }),
      law(52, 60)
    );
  });
});
