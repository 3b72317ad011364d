/** Published cutting and packing instances: our plans, bounds and patterns beside the known optima. */
import { Knapsack } from "../../core/cut-plan/knapsack.js";
import { planCuts } from "../../core/cut-plan/plan-cuts.js";
import type { CutPlan, CutProblem } from "../../core/cut-plan/problem.js";
import {
  BIN_INSTANCES,
  LENGTH_INSTANCES,
  SHEET_INSTANCES,
  type BinInstance,
  type LengthInstance,
  type SheetInstance,
} from "./cutting-instances.js";
import { casesOf, type ValidationRow } from "./row.js";

const CUTTING = "Cutting and packing";
const LIBRARY =
  "OR-Library; instance data from public copies in an open packing-solver repository, optima from memory";
const BINS =
  "two-dimensional bin packing benchmark, class 1, 20 items; instances from public copies, best known from an open packing-solver repository";
const WHOLE = "none: a count";
/** More rectangles than any of these sheets has. */
const MOST_STATES = 1_000_000;

/** A plan is asked for by several rows; it is made once. */
function once<T extends object>(make: (of: T) => CutPlan): (of: T) => CutPlan {
  const made = new Map<T, CutPlan>();
  return (of) => {
    const plan = made.get(of) ?? make(of);
    made.set(of, plan);
    return plan;
  };
}

/** Cutting to length alone is a panel one unit wide. */
export function lengthProblem({ stock, lengths, counts }: LengthInstance): CutProblem {
  return {
    panelWidthIn: 1,
    kerfIn: 0,
    canTurn: false,
    stock: [{ lengthIn: stock, cost: 1 }],
    pieces: lengths.flatMap((length, index) =>
      Array.from({ length: counts[index] as number }, (_, copy) => ({
        id: `${index}/${copy}`,
        widthIn: 1,
        leftIn: length,
        rightIn: length,
      }))
    ),
    rips: [],
    scrap: [],
  };
}

/** Bins of 10 x 10 as panels of one length. */
export function binProblem({ items }: BinInstance, canTurn: boolean): CutProblem {
  return {
    panelWidthIn: 10,
    kerfIn: 0,
    canTurn,
    stock: [{ lengthIn: 10, cost: 1 }],
    pieces: items.map(([width, height], index) => ({
      id: String(index),
      widthIn: width,
      leftIn: height,
      rightIn: height,
    })),
    rips: [],
    scrap: [],
  };
}

const lengthPlan = once((of: LengthInstance) => planCuts(lengthProblem(of)));

/** The two ways a bin may be filled, and what is known of each. */
const WAYS = [
  {
    id: "2bp-upright",
    quantity: "nothing turned",
    short: "upright",
    total: 71,
    best: (of: BinInstance) => of.upright,
    plan: once((of: BinInstance) => planCuts(binProblem(of, false))),
  },
  {
    id: "2bp-turned",
    quantity: "quarter turns allowed",
    short: "turned",
    total: 66,
    best: (of: BinInstance) => of.turned,
    plan: once((of: BinInstance) => planCuts(binProblem(of, true))),
  },
] as const;

/** The most valuable guillotine pattern of the sheet, as many copies as fit. */
export function bestPattern({ width, height, items }: SheetInstance): number {
  const knapsack = new Knapsack(
    items.map(([w = 0, h = 0]) => ({ w, h })),
    width,
    height,
    [height]
  );
  const values = items.map(([w = 0, h = 0, , value]) => value ?? w * h);
  if (!knapsack.solve(values, { kind: "full", step: 1 }, MOST_STATES)) {
    throw new Error(`more than ${MOST_STATES} rectangles`);
  }
  return knapsack.value(width, height);
}

const lengthRows = LENGTH_INSTANCES.flatMap((instance): ValidationRow[] => [
  {
    id: instance.id,
    section: CUTTING,
    quantity: `stock lengths, ${instance.what}`,
    unit: "",
    source: `${instance.source}${instance.fromMemory ? " (from memory)" : ""}`,
    confirmed: "recomputed",
    cases: [{ of: "plan", published: instance.optimum, ours: () => lengthPlan(instance).cost }],
    tolerance: 0,
    why: WHOLE,
  },
  {
    id: `${instance.id}-bound`,
    section: CUTTING,
    quantity: `proven bound, ${instance.what}`,
    unit: "",
    source: `${instance.source}${instance.fromMemory ? " (from memory)" : ""}`,
    confirmed: "recomputed",
    cases: [
      { of: "bound", published: instance.optimum, ours: () => lengthPlan(instance).lowestCost },
    ],
    tolerance: 0,
    kind: "at most",
    why: "a bound may be under the optimum, never over it",
  },
]);

const unlimited = SHEET_INSTANCES.filter((each) => !each.areLimited);
const limited = SHEET_INSTANCES.filter((each) => each.areLimited);

export const cuttingRows: readonly ValidationRow[] = [
  ...lengthRows,
  {
    id: "gcut",
    section: CUTTING,
    quantity:
      "most area cut from one sheet by edge-to-edge cuts, any number of copies, nothing turned",
    unit: "",
    source: LIBRARY,
    confirmed: "recomputed",
    cases: casesOf(
      unlimited,
      unlimited.map((each) => each.optimum),
      (each) => each.id,
      bestPattern
    ),
    tolerance: 0,
    why: WHOLE,
  },
  {
    id: "cgcut-of",
    section: CUTTING,
    quantity: "most value cut from one sheet by edge-to-edge cuts, copies limited, nothing turned",
    unit: "",
    source: LIBRARY,
    confirmed: "recomputed",
    cases: casesOf(
      limited,
      limited.map((each) => each.optimum),
      (each) => each.id,
      bestPattern
    ),
    tolerance: 0,
    kind: "at least",
    why: "ours prices patterns without a limit on copies, so it may be over the optimum, never under it",
  },
  ...WAYS.map(({ id, quantity, best, plan }): ValidationRow => ({
    id,
    section: CUTTING,
    quantity: `bins of 10 x 10, ${quantity}`,
    unit: "",
    source: BINS,
    confirmed: "seen",
    cases: casesOf(
      BIN_INSTANCES,
      BIN_INSTANCES.map(best),
      (each) => each.id,
      (each) => plan(each).cost
    ),
    tolerance: 0,
    why: WHOLE,
  })),
  {
    id: "2bp-bound",
    section: CUTTING,
    quantity: "proven bound on bins of 10 x 10, nothing turned and with quarter turns",
    unit: "",
    source: BINS,
    confirmed: "seen",
    cases: WAYS.flatMap(({ short, best, plan }) =>
      casesOf(
        BIN_INSTANCES,
        BIN_INSTANCES.map(best),
        (each) => `${each.id}, ${short}`,
        (each) => plan(each).lowestCost
      )
    ),
    tolerance: 0,
    kind: "at most",
    why: "a bound may be under the optimum, never over it",
  },
  {
    id: "2bp-total",
    section: CUTTING,
    quantity: "bins over all ten instances, from the published averages of 7.1 and 6.6",
    unit: "",
    source: "bin packing literature, class 1, 20 items",
    confirmed: "recomputed",
    cases: WAYS.map(({ total, quantity, plan }) => ({
      of: quantity.replace(" allowed", ""),
      published: total,
      ours: () => BIN_INSTANCES.reduce((sum, each) => sum + plan(each).cost, 0),
    })),
    tolerance: 0,
    why: WHOLE,
  },
];
