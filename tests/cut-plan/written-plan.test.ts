/** The plan a saw can follow: placements, cuts in order, leftovers, what is bought; by hand, in units of 1/1024 in. */
import fc from "fast-check";
import { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import type { CutPlan } from "../../src/core/cut-plan/problem.js";
import { faultsOf } from "./verify-plan.js";
import { type SmallProblem, law, problemOf, smallProblems } from "./small-problems.js";

const PER_IN = 1024;
const units = (...sizes: number[]): string => sizes.map((one) => one * PER_IN).join(" ");

const planOf = (small: Partial<SmallProblem>): CutPlan =>
  planCuts(problemOf({ width: 12, kerf: 1, stock: [[20, 20]], keep: 3, ...small }));

/** The first sheet of a plan, in units. */
function written(small: Partial<SmallProblem>): {
  placed: string[];
  cuts: string[];
  left: string[];
} {
  const [sheet] = planOf(small).sheets;
  return {
    placed: sheet!.placements.map(
      ({ id, xIn, yIn, widthIn, heightIn, turned }) =>
        `${id}: ${units(xIn, yIn, widthIn, heightIn)} ${turned}`
    ),
    cuts: sheet!.cuts.map(({ fromX, fromY, toX, toY }) => units(fromX, fromY, toX, toY)),
    left: sheet!.leftovers.map(({ xIn, yIn, widthIn, heightIn }) =>
      units(xIn, yIn, widthIn, heightIn)
    ),
  };
}

describe("one piece on a panel", () => {
  it("is cut so that the larger strip stays whole", () => {
    // right of it 6 x 20 = 120, above it 12 x 11 = 132
    expect(written({ pieces: [[5, 8]] })).toEqual({
      placed: ["p0: 0 0 5 8 0"],
      cuts: ["0 8 12 8", "5 0 5 8"],
      left: ["6 0 6 8", "0 9 12 11"],
    });
    // right of it 6 x 20 = 120, above it 12 x 9 = 108
    expect(written({ pieces: [[5, 10]] })).toEqual({
      placed: ["p0: 0 0 5 10 0"],
      cuts: ["5 0 5 20", "0 10 5 10"],
      left: ["0 11 5 9", "6 0 6 20"],
    });
  });

  it("needs no cut at the edge of the panel", () => {
    expect(written({ pieces: [[12, 20]] })).toMatchObject({ cuts: [], left: [] });
    expect(written({ pieces: [[12, 8]] })).toMatchObject({
      cuts: ["0 8 12 8"],
      left: ["0 9 12 11"],
    });
    expect(written({ pieces: [[5, 20]] }).cuts).toEqual(["5 0 5 20"]);
  });

  it("has a cut where waste is no wider than the saw, and nothing left of it", () => {
    expect(written({ pieces: [[11, 20]] })).toMatchObject({ cuts: ["11 0 11 20"], left: [] });
    expect(written({ pieces: [[12, 19]] })).toMatchObject({ cuts: ["0 19 12 19"], left: [] });
    expect(written({ pieces: [[11, 19]] }).cuts).toHaveLength(2);
  });

  it("leaves only what is worth keeping, both ways", () => {
    expect(written({ pieces: [[9, 20]] }).left).toEqual([]);
    expect(written({ pieces: [[8, 20]] }).left).toEqual(["9 0 3 20"]);
    expect(written({ pieces: [[12, 16]] }).left).toEqual(["0 17 12 3"]);
    expect(written({ pieces: [[12, 17]] }).left).toEqual([]);
    expect(written({ pieces: [[10, 20]], keep: 0 }).left).toEqual(["11 0 1 20"]);
    expect(written({ pieces: [[11, 20]], keep: 0 }).left).toEqual([]);
  });

  it("keeps 12 in and more where nothing else is said", () => {
    const left = (widthIn: number): number =>
      planCuts({
        panelWidthIn: 48,
        kerfIn: 0.125,
        canTurn: false,
        stock: [{ lengthIn: 96, cost: 1 }],
        pieces: [{ id: "a", widthIn, leftIn: 96, rightIn: 96 }],
        rips: [],
        scrap: [],
      }).sheets[0]!.leftovers.length;
    expect([left(35.875), left(35.9375)]).toEqual([1, 0]);
  });

  it("lies turned only where it may, a rake piece never", () => {
    const lying = { canTurn: true, pieces: [[15, 9]] };
    expect(written(lying).placed).toEqual(["p0: 0 0 9 15 90"]);
    expect(() => planOf({ ...lying, canTurn: false })).toThrow("must fit a panel");
    expect(() => planOf({ ...lying, pieces: [[15, 8, 9]] })).toThrow("must fit a panel");
  });
});

describe("rake pieces", () => {
  it("are cut by one slope after their box", () => {
    expect(written({ pieces: [[6, 4, 10]] })).toEqual({
      placed: ["p0: 0 0 6 10 0"],
      // right of it 5 x 20 = 100, above it 12 x 9 = 108
      cuts: ["0 10 12 10", "6 0 6 10", "0 4 6 10"],
      left: ["7 0 5 10", "0 11 12 9"],
    });
  });

  // 12 wide, 3 to 9, slope 1 in 2: the saw cut is sqrt(1.25), rounded up to 2; the panel is as high as the nest
  const stock = [[9, 9]] as const;
  it("nested are cut along the lower one, then beside and above the turned one", () => {
    // low end: 3 + 2 + 4 = 9; far end 3 + 2 + 2 + 2 = 9; beside it from 3 + 2 + 2 at 4 up
    const rising = [
      [12, 3, 9],
      [4, 2, 4],
    ];
    expect(written({ stock, pieces: rising })).toMatchObject({
      placed: ["p0: 0 0 12 9 0", "p1: 0 5 4 4 180"],
      cuts: ["0 3 12 9", "4 7 4 9"],
    });
    // the other way up the saw is on the far side of it: from 7
    const falling = rising.map(([w, left, right]) => [w!, right!, left!]);
    expect(written({ stock, pieces: falling })).toMatchObject({
      placed: ["p0: 0 0 12 9 0", "p1: 8 5 4 4 180"],
      cuts: ["0 9 12 3", "7 7 7 9"],
    });
    // a turned one of less height leaves a strip above
    const low = [
      [12, 3, 9],
      [4, 1, 3],
    ];
    expect(written({ stock, pieces: low })).toMatchObject({
      placed: ["p0: 0 0 12 9 0", "p1: 0 5 4 3 180"],
      cuts: ["0 3 12 9", "4 7 4 9", "0 8 4 8"],
    });
  });

  it("running out to a point need no cut beside them", () => {
    // low end 3 + 2 + 3 = 8, far end 3 + 3 + 2 + 0 = 8
    const point = [
      [12, 3, 9],
      [6, 0, 3],
    ];
    expect(written({ stock, pieces: point })).toMatchObject({
      placed: ["p0: 0 0 12 9 0", "p1: 0 5 6 3 180"],
      cuts: ["0 3 12 9", "6 8 6 9", "0 8 6 8"],
    });
    const alike = [
      [12, 0, 9],
      [12, 0, 9],
    ];
    expect(written({ stock, kerf: 0, pieces: alike }).cuts).toEqual(["0 0 12 9"]);
  });

  it("nest where their slopes differ by no more than 1/16 in, 64 units, over the narrower", () => {
    // one unit of saw cut, steep enough to need 2; a panel that holds them only nested
    const panels = (rise: number): number =>
      planOf({
        width: 1000,
        stock: [[1700, 1]],
        pieces: [
          [1000, 200, 1200],
          [500, 200, 200 + rise],
        ],
      }).panelCount;
    // half as wide: 500 is the same slope
    expect([panels(500), panels(564), panels(436), panels(565), panels(435)]).toEqual([
      1, 1, 1, 2, 2,
    ]);
  });
});

describe("the whole plan", () => {
  it("has long panels first, then scrap, in order; counts, cost and share of use", () => {
    const plan = planOf({
      kerf: 0,
      stock: [
        [10, 11],
        [20, 20],
      ],
      pieces: [
        [12, 10],
        [12, 20],
        [5, 5],
        [6, 6],
      ],
      scrap: [
        [5, 5],
        [6, 6],
        [1, 1],
      ],
    });
    expect(
      plan.sheets.map(({ kind, scrapId, lengthIn, cost, placements }) => [
        scrapId ?? kind,
        lengthIn * PER_IN,
        cost,
        placements.map(({ id }) => id).join(),
      ])
    ).toEqual([
      ["panel", 20, 20, "p1"],
      ["panel", 10, 11, "p0"],
      ["s0", 5, 0, "p2"],
      ["s1", 6, 0, "p3"],
    ]);
    expect("scrapId" in plan.sheets[0]!).toBe(false);
    expect(plan.bought).toEqual([
      { lengthIn: 10 / PER_IN, count: 1 },
      { lengthIn: 20 / PER_IN, count: 1 },
    ]);
    // 12 x 30 of 12 x 30; what comes out of scrap does not count
    expect([plan.panelCount, plan.cost]).toEqual([2, 31]);
    expect(plan.usedShare).toBeCloseTo(1, 12);
  });

  it("of scrap alone uses nothing that was bought", () => {
    const plan = planOf({ pieces: [[4, 4]], scrap: [[5, 5]] });
    expect([plan.usedShare, plan.cost, plan.panelCount, plan.sheets.length]).toEqual([0, 0, 0, 1]);
  });

  it("takes the smallest scrap a piece goes into", () => {
    const scrap = [
      [9, 9],
      [4, 4],
      [5, 5],
      [4, 5],
    ] as const;
    const [sheet] = planOf({ pieces: [[4, 5]], scrap }).sheets;
    expect(sheet!.scrapId).toBe("s3");
  });

  it("buys, of two lengths at one price, the longer: its offcut is the larger", () => {
    const stock = [
      [10, 20],
      [20, 20],
      [15, 20],
    ] as const;
    expect(planOf({ stock, pieces: [[12, 9]] }).bought.map(({ count }) => count)).toEqual([
      0, 1, 0,
    ]);
  });
});

describe("rips", () => {
  it("are named along their run, whatever panel they are on, from the joint where the run starts", () => {
    const plan = planOf({
      stock: [[8, 1]],
      runs: [
        { height: 3, joints: [5, 9, 17], smallest: 4 },
        { height: 2, joints: [0, 4], smallest: 4 },
      ],
    });
    const named = plan.rips.map(({ id, runId, startIn, endIn }) => [
      id,
      runId,
      startIn * PER_IN,
      endIn * PER_IN,
    ]);
    expect(named).toEqual([
      ["r0/1", "r0", 5, 9],
      ["r0/2", "r0", 9, 17],
      ["r1/1", "r1", 0, 4],
    ]);
  });

  it("have names no piece has", () => {
    const problem = problemOf({
      width: 12,
      stock: [[20, 20]],
      pieces: [[2, 2]],
      runs: [{ height: 2, joints: [0, 4], smallest: 4 }],
    });
    const plan = planCuts({ ...problem, pieces: [{ ...problem.pieces[0]!, id: "r0/1" }] });
    expect(plan.rips.map(({ id }) => id)).toEqual(["r0/1'"]);
  });
});

it("mirrored, a problem costs the same; with its mirror image beside it, it holds both", () => {
  fc.assert(
    fc.property(smallProblems, (small) => {
      const mirrored = {
        ...small,
        pieces: small.pieces!.map(([w, left, right]) => [w!, right ?? left!, left!]),
      };
      expect(planCuts(problemOf(mirrored)).cost).toBe(planCuts(problemOf(small)).cost);
      const both = problemOf({ ...small, pieces: [...small.pieces!, ...mirrored.pieces] }, 64);
      expect(faultsOf(both, planCuts(both))).toEqual([]);
    }),
    law(95, 25)
  );
});
