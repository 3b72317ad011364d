/**
 * Plans of more than 160 sheets, which are improved in groups: many copies of few small pieces, so that they are planned
 * within a second or two.
 */
import { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import type { CutPlan, CutProblem } from "../../src/core/cut-plan/problem.js";
import { faultsOf } from "./verify-plan.js";

// planning is real work; a busy machine may take a while
jest.setTimeout(120_000);

/** Share of its bound such a plan may cost more. */
const MOST_GAP = 0.02;

/** Copies of each size, a run of rips for every twenty pieces, some scrap; no amount divides all costs. */
function copies(sizes: readonly (readonly [number, number, number])[], runs: number): CutProblem {
  return {
    panelWidthIn: 48,
    kerfIn: 0.125,
    canTurn: false,
    stock: [
      { lengthIn: 96, cost: 32.17 },
      { lengthIn: 120, cost: 41.03 },
    ],
    pieces: sizes.flatMap(([count, width, height], size) =>
      Array.from({ length: count }, (_, k) => ({
        id: `p${size}-${k}`,
        widthIn: width,
        leftIn: height,
        rightIn: height,
      }))
    ),
    rips: Array.from({ length: runs }, (_, k) => ({
      id: `r${k}`,
      heightIn: 11,
      jointsIn: [0, 16, 32, 48, 64, 80, 96, 112, 128, 144],
      smallestIn: 16,
    })),
    scrap: Array.from({ length: 6 }, (_, k) => ({ id: `s${k}`, widthIn: 23, heightIn: 40 })),
  };
}

describe("many copies of few pieces", () => {
  const problem = copies(
    [
      [250, 22.5, 38.25],
      [160, 31, 57.5],
      [140, 17, 81],
    ],
    20
  );
  let known: CutPlan | null = null;
  const plan = (): CutPlan => (known ??= planCuts(problem, "quick"));

  it("are cut from more than 160 panels, all of them, within 2 % of the bound", () => {
    const found = plan();
    expect(found.panelCount).toBeGreaterThan(160);
    expect(faultsOf(problem, found)).toEqual([]);
    expect(found.lowestCost).toBeLessThanOrEqual(found.cost);
    expect(found.cost / found.lowestCost - 1).toBeLessThanOrEqual(MOST_GAP);
    expect(found.fewestPanels).toBeLessThanOrEqual(found.panelCount);
  });

  it("use each scrap once at most, and only for something", () => {
    const scraps = plan().sheets.filter(({ kind }) => kind === "scrap");
    const ids = scraps.map(({ scrapId }) => scrapId);
    expect(new Set(ids).size).toBe(ids.length);
    // 22.5 x 38.25 fits 23 x 40: none need be left over
    expect(ids).toHaveLength(6);
  });

  it("are the same plan every time", () => {
    expect(planCuts(problem, "quick")).toEqual(plan());
  });
});
