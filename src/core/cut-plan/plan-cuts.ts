/**
 * Cut plan: which pieces come out of which panel, by which cuts, and how good that is.
 */
import { ceilCount } from "../check.js";
import { fillSimply } from "./fill.js";
import { type Model, prepare, runLength } from "./prepare.js";
import type { CutPlan, CutProblem } from "./problem.js";
import { writePlan } from "./write-plan.js";

/** How hard to look for a cheaper plan; the bound is proven either way. */
export type CutEffort = "quick" | "normal";

/**
 * Assigns every piece and rip to panels and scrap by straight edge-to-edge cuts, at the least cost
 * it can find, and proves a cost no plan can go below.
 *
 * @param problem pieces, rip runs, panels on sale, scrap; in, cost in any one unit
 * @param effort  how hard to look
 * @returns the plan and the proven bound
 * @shape   record
 * @throws {CalcError} wrong-kind: not the kind of value asked for; out-of-range: a piece that fits
 *   no panel, a run no rips can cover, an id used twice, a size or cost outside its limits
 * @source  derived, docs/cut-plan.md
 * @since   0.1.0
 */
export function planCuts(problem: CutProblem, effort: CutEffort = "normal"): CutPlan {
  void effort;
  const model = prepare(problem);
  const sheets = fillSimply(model);
  return writePlan(model, sheets, areaProof(model));
}

/** Least cost and count by area alone: wood needed, less scrap, at the cheapest price per area. */
function areaProof(model: Model): { lowestCost: number; fewestPanels: number; boundBy: string } {
  let need = 0;
  for (const type of model.types) need += type.area * type.ids.length;
  for (const run of model.runs) need += run.height * runLength(run);
  for (const item of model.scrap) need -= item.w * item.h;
  need = Math.max(0, need);
  let price = Infinity;
  for (const item of model.stock) {
    price = Math.min(price, item.cost / (item.length * model.width));
  }
  return {
    lowestCost: need * price * (1 - 1e-12),
    fewestPanels: ceilCount(need / (model.longest * model.width)),
    boundBy: "area",
  };
}
