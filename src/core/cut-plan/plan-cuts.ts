/**
 * Cut plan: which pieces come out of which panel, by which cuts, and how good that is.
 */
import { type Bound, areaBound, costStep, dualFeasibleBound, roundUp } from "./bounds.js";
import { clearJointsOfSeams } from "./clear-joints.js";
import { Shop } from "./fill.js";
import { type ImproveOptions, Sequence, improve } from "./improve.js";
import { joinRips } from "./join-rips.js";
import { Master } from "./master.js";
import type { Task } from "./pattern-rows.js";
import { type Model, prepare, runLength } from "./prepare.js";
import type { CutPlan, CutProblem } from "./problem.js";
import type { Stretch } from "./rip-rows.js";
import { MOST_AT_ONCE, MOST_STATES, solveMaster } from "./prove.js";
import { fillTask, roundShares } from "./round.js";
import { type Sheet, sheetCost } from "./sheet.js";
import { planCost, writePlan } from "./write-plan.js";

/** How hard to look for a cheaper plan and a higher bound; both hold either way. */
export type CutEffort = "quick" | "normal";

/** Start of the fixed sequence of tries; any odd number would do. */
const SEED = 0x2545f491;

/**
 * Steps of work allowed (a step takes one to two billionths of a second): with the square of the
 * pieces up to one amount, which a small house needs, and past it more slowly, up to a limit.
 */
const STEPS_PER_PAIR = 3e4;
const STEPS_SMALL_HOUSE = 2e8;
const STEPS_PER_PAIR_LARGE = 0.8e4;
const MOST_STEPS = 9e9;

/** Share of the work of a normal plan that a quick one may do. */
const QUICK = 0.15;

/** Shares of the work allowed: not all is used. */
interface WorkShares {
  /** for the bound and the patterns it comes from */
  readonly prove: number;
  /** for making whole panels of them */
  readonly round: number;
  readonly improve: number;
  readonly join: number;
  /** for the least number of panels */
  readonly fewest: number;
}

/** One house, and many together: taking panels apart a few at a time does little for many. */
const HOUSE: WorkShares = { prove: 0.5, round: 0.3, improve: 0.35, join: 0.08, fewest: 0.05 };
const RELEASE: WorkShares = { prove: 0.72, round: 0.4, improve: 0.03, join: 0.03, fewest: 0.01 };

/** The proof ends where its bound is within this share of the best it can still prove. */
const CLOSE = 1e-3;

/** Share of a panel's cost that a rip fewer is worth once the cost is settled. */
const JOINT = 0.03;

/** Length of rip counted as one piece, units: 8 ft. */
const RIP_PER_PIECE = 98_304;

/** Sheets improved together; of more, groups of so many in turns. */
const MOST_TOGETHER = 160;
const GROUP = 80;

/**
 * Assigns every piece and rip to panels and scrap by straight edge-to-edge cuts, at the least cost
 * it can find, and proves a cost no plan can go below.
 *
 * @param problem pieces, rip runs, panels on sale, scrap; in, cost in any one unit
 * @param effort  how hard to look: quick or normal
 * @returns the plan and the proven bound
 * @shape   one record
 * @throws {CalcError} wrong-kind: not the kind of value asked for; out-of-range: a piece that fits
 *   no panel, a run no rips can cover, an id used twice, a size or cost outside its limits
 * @source  derived, docs/cut-plan.md
 * @example planCuts({ panelWidthIn: 48, kerfIn: 0.125, canTurn: false, stock: [{ lengthIn: 96, cost: 1 }], pieces: [{ id: "A", widthIn: 48, leftIn: 40, rightIn: 40 }, { id: "B", widthIn: 48, leftIn: 50, rightIn: 50 }, { id: "C", widthIn: 48, leftIn: 50, rightIn: 50 }], rips: [], scrap: [] }).bought // => [{ lengthIn: 96, count: 2 }]
 * @since   0.1.0
 */
export function planCuts(problem: CutProblem, effort: CutEffort = "normal"): CutPlan {
  const model = prepare(problem);
  const budget = budgetOf(model) * (effort === "quick" ? QUICK : 1);
  const shop = new Shop(model);
  const task: Task = {
    counts: Int32Array.from(model.types, (type) => type.ids.length),
    stretches: wholeRuns(model),
    scrap: model.scrap,
  };
  const costs = model.stock.map((item) => item.cost);
  const step = costStep(costs);
  const sequence = new Sequence(SEED);

  let sheets = fillTask(shop, task);
  let lowest = firstBound(model, costs, step);
  const shares = sheets.length > MOST_TOGETHER ? RELEASE : HOUSE;
  const closed = (): boolean => planCost(model, sheets) <= lowest.value + 1e-9;
  if (!closed()) {
    const master = solveMaster(
      model,
      task,
      costs,
      sheets,
      shares.prove * budget,
      (bound, value) =>
        roundUp(bound, step) >= roundUp(value, step) - 1e-9 || value - bound < CLOSE * value
    );
    lowest = higher(lowest, { value: roundUp(master.bound, step), by: "column generation" });
    const prices = master.worths();
    shop.price(prices);
    const patterns = { master, shares: master.solution() };
    const rounded = roundShares(shop, task, master, shares.round * budget);
    shop.price(prices);
    if (planCost(model, rounded) < planCost(model, sheets)) sheets = rounded;
    if (!closed()) {
      const limits = { budget: shares.improve * budget, floor: lowest.value, patterns };
      sheets = improveAll(shop, sheets, sequence, { ...limits, joint: 0, ceiling: Infinity });
    }
  }
  if (sheets.some((sheet) => sheet.rips > 1)) {
    // The same cost again, with fewer and longer rips.
    const ceiling = planCost(model, sheets);
    const limits = { budget: shares.join * budget, floor: lowest.value, joint: JOINT, ceiling };
    sheets = improveAll(shop, sheets, sequence, limits);
  }
  sheets = clearJointsOfSeams(shop, joinRips(shop, sheets));
  const fewest = fewestPanels(model, task, sheets, shares.fewest * budget);
  return writePlan(model, sheets, {
    lowestCost: lowest.value,
    fewestPanels: fewest,
    boundBy: lowest.by,
  });
}

/** Every run, end to end. */
function wholeRuns(model: Model): Stretch[] {
  return model.runs.map(({ index, joints }) => ({ run: index, from: 0, to: joints.length - 1 }));
}

function budgetOf(model: Model): number {
  let pieces = 0;
  for (const type of model.types) pieces += type.ids.length;
  for (const run of model.runs) pieces += Math.ceil(runLength(run) / RIP_PER_PIECE);
  const pairs = pieces * pieces;
  return Math.min(
    STEPS_PER_PAIR * pairs,
    Math.max(STEPS_SMALL_HOUSE, STEPS_PER_PAIR_LARGE * pairs),
    MOST_STEPS
  );
}

function higher(a: Bound, b: Bound): Bound {
  return b.value > a.value + 1e-9 ? b : a;
}

function firstBound(model: Model, costs: readonly number[], step: number): Bound {
  // Whatever scrap does not hold takes a panel at least.
  const wood = areaBound(model, costs);
  const least = wood > 0 ? Math.max(wood, Math.min(...costs)) : 0;
  const area: Bound = { value: roundUp(least, step), by: "area" };
  return higher(area, {
    value: roundUp(dualFeasibleBound(model, costs), step),
    by: "dual-feasible function",
  });
}

/** Fewest panels of any plan whatever, cheap or dear: only the longest length need be thought of. */
function fewestPanels(model: Model, task: Task, sheets: readonly Sheet[], budget: number): number {
  const ones = model.stock.map((item) => (item.length === model.longest ? 1 : Infinity));
  const panels = sheets.filter((sheet) => sheet.scrap < 0).length;
  const first = firstBound(model, ones, 1).value;
  if (first >= panels) return first;
  const master = new Master(model, task, { costs: ones, mostGroups: MOST_AT_ONCE });
  master.addSheets(sheets);
  master.run(
    budget,
    MOST_STATES,
    (bound, value) => roundUp(bound, 1) >= Math.min(panels, roundUp(value, 1))
  );
  return Math.max(first, roundUp(master.bound, 1));
}

/** Improves the plan: all of it together, or where it is large in groups of sheets, mixed anew each turn. */
function improveAll(
  shop: Shop,
  start: readonly Sheet[],
  sequence: Sequence,
  limits: Omit<ImproveOptions, "scrapFree">
): Sheet[] {
  const { model } = shop;
  const { budget, floor } = limits;
  if (start.length <= MOST_TOGETHER) {
    return improve(shop, start, sequence, { ...limits, scrapFree: unusedScrap(model, start) })
      .sheets;
  }
  let sheets = [...start];
  const turns = 4;
  for (let turn = 0; turn < turns; turn++) {
    const mixed = [...sheets];
    for (let k = mixed.length - 1; k > 0; k--) {
      const other = sequence.below(k + 1);
      [mixed[k], mixed[other]] = [mixed[other]!, mixed[k]!];
    }
    const groups = Math.ceil(mixed.length / GROUP);
    const unused = unusedScrap(model, sheets);
    const next: Sheet[] = [];
    for (let g = 0; g < groups; g++) {
      const own = mixed.slice(
        Math.floor((g * mixed.length) / groups),
        Math.floor(((g + 1) * mixed.length) / groups)
      );
      const scrapFree = unused.map((free, k) => free && k % groups === g);
      next.push(
        ...improve(shop, own, sequence, {
          ...limits,
          budget: budget / turns / groups,
          floor: 0,
          ceiling: Number.isFinite(limits.ceiling) ? planCost(model, own) : Infinity,
          scrapFree,
        }).sheets
      );
    }
    sheets = next;
    if (sheets.reduce((sum, sheet) => sum + sheetCost(model, sheet), 0) <= floor) break;
  }
  return sheets;
}

function unusedScrap(model: Model, sheets: readonly Sheet[]): boolean[] {
  const free = model.scrap.map(() => true);
  for (const sheet of sheets) if (sheet.scrap >= 0) free[sheet.scrap] = false;
  return free;
}
