/** Input no house has: the answer still comes, by steps of work and not by the clock, and is sound. */
import { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import type { CutPiece, CutPlan, CutProblem } from "../../src/core/cut-plan/problem.js";
import { isCalcError } from "../../src/core/check.js";
import { faultsOf } from "./verify-plan.js";

// planning is real work; a busy machine may take a while
jest.setTimeout(120_000);

function problemOf(
  sizes: readonly (readonly [number, number])[],
  change: Partial<CutProblem> = {}
): CutProblem {
  return {
    panelWidthIn: 48,
    kerfIn: 0.125,
    canTurn: false,
    stock: [
      { lengthIn: 96, cost: 32 },
      { lengthIn: 120, cost: 40 },
    ],
    pieces: sizes.map(([width, height], index): CutPiece => ({
      id: `p${index}`,
      widthIn: width,
      leftIn: height,
      rightIn: height,
    })),
    rips: [],
    scrap: [],
    ...change,
  };
}

function planned(problem: CutProblem): CutPlan {
  const plan = planCuts(problem);
  expect(faultsOf(problem, plan)).toEqual([]);
  return plan;
}

/** Sizes in 64ths that do not repeat for a long while. */
const speckled = (count: number, most: number): [number, number][] =>
  Array.from({ length: count }, (_, k) => [
    (1 + ((k * 389) % (most * 64))) / 64,
    (1 + ((k * 811) % (2 * most * 64))) / 64,
  ]);

describe("unusual input", () => {
  it("cuts four quarters of a panel without a saw cut between them", () => {
    // 2 x 24 = 48 and 2 x 48 = 96: one panel exactly, and two with a kerf
    const quarters: [number, number][] = Array.from({ length: 4 }, () => [24, 48]);
    expect(planned(problemOf(quarters, { kerfIn: 0 })).panelCount).toBe(1);
    const withKerf = planned(problemOf(quarters, { stock: [{ lengthIn: 96, cost: 32 }] }));
    expect(withKerf.panelCount).toBeGreaterThan(1);
  });

  it("cuts pieces of 1/64 in, thinner than the saw cut beside them, from one panel", () => {
    const plan = planned(problemOf(Array.from({ length: 60 }, () => [1 / 64, 1 / 64])));
    expect([plan.cost, plan.lowestCost]).toEqual([32, 32]);
  });

  it("cuts pieces measured to 1/64 in", () => {
    planned(problemOf(speckled(50, 47)));
  });

  it("mixes specks with pieces, turned where they may be", () => {
    planned(problemOf([...speckled(20, 40), ...speckled(40, 1)], { canTurn: true }));
  });

  it("plans ten thousand equal pieces", () => {
    // four to a panel: 2 x 22.5 across and 2 x 40 along; 3 x 40 with two saw cuts is over 120 in
    const plan = planCuts(problemOf(Array.from({ length: 10_000 }, () => [22.5, 40])));
    expect(plan.panelCount).toBe(2500);
    expect(plan.lowestCost).toBeLessThanOrEqual(plan.cost);
    expect(new Set(plan.sheets.flatMap((sheet) => sheet.placements.map(({ id }) => id))).size).toBe(
      10_000
    );
  });

  it.each([
    [3, 20, 24],
    [4, 28, 20],
    [7, 10, 37],
  ])(
    "never proves more than a plan costs for %i walls of one height and low gables",
    (walls, left, right) => {
      // all rectangles alike: the grid of their heights alone would have no step for a gable
      const problem = problemOf(Array.from({ length: walls }, () => [48, 96]));
      const gables = Array.from({ length: 6 }, (_, k): CutPiece => ({
        id: `gable ${k}`,
        widthIn: 48,
        leftIn: left + k,
        rightIn: right + k,
      }));
      planned({ ...problem, pieces: [...problem.pieces, ...gables] });
    }
  );

  it("never proves more than a plan costs where scrap is wider than a panel", () => {
    // three of 25 in from 76 in of scrap, the fourth from a panel
    const problem = problemOf(Array.from({ length: 4 }, () => [25, 90]));
    const plan = planned({ ...problem, scrap: [{ id: "wide", widthIn: 76, heightIn: 90 }] });
    expect([plan.cost, plan.lowestCost]).toEqual([32, 32]);
  });

  it("plans nothing where there is nothing to cut", () => {
    const plan = planCuts(problemOf([]));
    expect([plan.panelCount, plan.cost, plan.lowestCost]).toEqual([0, 0, 0]);
  });

  it("names the one piece larger than every panel among many that fit", () => {
    const problem = problemOf([...speckled(50, 40), [30, 121]]);
    let caught: unknown;
    try {
      planCuts(problem);
    } catch (error) {
      caught = error;
    }
    expect(isCalcError(caught) && caught.code).toBe("out-of-range");
    expect(String(caught)).toContain("piece p50 must fit a panel of 48 x 120 in");
    expect(String(caught)).toContain("30 x 121 in");
  });
});
