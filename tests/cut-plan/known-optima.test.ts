/**
 * Published cutting and packing instances with known optima: our bound never exceeds the optimum and our plan
 * reaches it.
 */
import {
  BIN_INSTANCES,
  LENGTH_INSTANCES,
  SHEET_INSTANCES,
} from "../../src/tools/validation/cutting-instances.js";
import { bestPattern, binProblem, lengthProblem } from "../../src/tools/validation/cutting.js";
import { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import type { CutPlan, CutProblem } from "../../src/core/cut-plan/problem.js";
import { faultsOf } from "./verify-plan.js";

// planning is real work; a busy machine may take a while
jest.setTimeout(120_000);

function planned(problem: CutProblem): CutPlan {
  const plan = planCuts(problem);
  expect(faultsOf(problem, plan)).toEqual([]);
  return plan;
}

describe("cutting to length", () => {
  it.each(LENGTH_INSTANCES.map((each) => [each.id, each.what, each] as const))(
    "%s, %s: the bound is not over the optimum and the plan reaches it",
    (_id, _what, instance) => {
      const plan = planned(lengthProblem(instance));
      expect(plan.lowestCost).toBeLessThanOrEqual(instance.optimum);
      expect(plan.lowestCost).toBeGreaterThanOrEqual(instance.relaxation ?? 0);
      expect(plan.cost).toBe(instance.optimum);
    }
  );
});

describe("the most valuable pattern of one sheet", () => {
  it.each(SHEET_INSTANCES.map((each) => [each.id, each] as const))(
    "%s: the known optimum where copies are not limited, no less where they are",
    (_id, instance) => {
      const found = bestPattern(instance);
      if (instance.areLimited) expect(found).toBeGreaterThanOrEqual(instance.optimum);
      else expect(found).toBe(instance.optimum);
    }
  );
});

describe("bin packing, class 1", () => {
  it.each(BIN_INSTANCES.map((each) => [each.id, each] as const))(
    "%s is packed in the known number of bins, upright and turned",
    (_id, instance) => {
      const upright = planned(binProblem(instance, false));
      expect(upright.lowestCost).toBeLessThanOrEqual(instance.upright);
      expect(upright.cost).toBe(instance.upright);
      const turned = planned(binProblem(instance, true));
      expect(turned.lowestCost).toBeLessThanOrEqual(instance.turned);
      expect(turned.cost).toBe(instance.turned);
    }
  );
});
