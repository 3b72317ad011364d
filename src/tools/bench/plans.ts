/**
 * npm run bench -- plans [NAME ...]
 *
 * Cut plans of houses: what they cost, the proven bound, how far apart the two are in 8 ft panels,
 * and the time, beside what simpler ways of ordering come to. Instances from the folder
 * ../shared/houses where there is one, else made up here.
 */
import fs from "node:fs";
import path from "node:path";
import { planCuts } from "../../core/cut-plan/plan-cuts.js";
import type { CutPlan, CutProblem } from "../../core/cut-plan/problem.js";
import { type HouseInstance, problemOf } from "../house-instance.js";
import { areaCost, moduleCost, packerCost } from "./baselines.js";
import { type HouseSize, makeHouse } from "./house-generator.js";

const FOLDER = path.join("..", "shared", "houses");
const MADE: readonly (readonly [HouseSize, number])[] = [
  ["S", 6],
  ["M", 6],
  ["L", 6],
  ["B", 1],
];
/** Planned first and not measured one by one: size and seed, others than those above. */
const WARM_UP: readonly (readonly [HouseSize, number])[] = [
  ["S", 101],
  ["M", 101],
  ["S", 102],
  ["M", 102],
];
const EIGHT_FEET_IN = 96;
const BYTES_PER_MB = 1e6;
const KILOBYTE = 1024;

interface Row {
  readonly name: string;
  readonly problem: CutProblem;
  readonly modules: number;
  readonly plan: CutPlan;
  readonly time: number;
}

function instances(names: readonly string[]): { from: string; houses: HouseInstance[] } {
  const wanted = (name: string): boolean =>
    names.length === 0 || names.some((each) => name.startsWith(each));
  if (fs.existsSync(FOLDER)) {
    const houses = fs
      .readdirSync(FOLDER)
      .filter((file) => file.endsWith(".json") && wanted(file))
      .map((file) => JSON.parse(fs.readFileSync(path.join(FOLDER, file), "utf8")) as HouseInstance);
    return { from: `houses in ${FOLDER}`, houses };
  }
  const houses = MADE.flatMap(([size, count]) =>
    Array.from({ length: count }, (_, k) => makeHouse(size, k + 1))
  ).filter(({ name }) => wanted(name));
  return { from: "houses made up for this table", houses };
}

/** Cost of an 8 ft panel, or of so much panel where that length is not on sale. */
function panelCost({ stock }: CutProblem): number {
  const eight = stock.find((item) => item.lengthIn === EIGHT_FEET_IN);
  if (eight) return eight.cost;
  return Math.min(...stock.map((item) => (item.cost * EIGHT_FEET_IN) / item.lengthIn));
}

function over(cost: number, plan: CutPlan): string {
  const percent = (100 * (cost - plan.cost)) / plan.cost;
  return `${cost} (${percent < 0 ? "" : "+"}${percent.toFixed(1)} %)`;
}

function printTable(head: readonly string[], rows: readonly (readonly string[])[]): void {
  const widths = head.map((text, k) => Math.max(text.length, ...rows.map((row) => row[k]!.length)));
  for (const row of [head, ...rows]) {
    const cells = row.map((text, k) =>
      k === 0 ? text.padEnd(widths[k]!) : text.padStart(widths[k]!)
    );
    process.stdout.write(`${cells.join("  ").trimEnd()}\n`);
  }
}

function planMade(size: HouseSize, seed: number): void {
  planCuts(problemOf(makeHouse(size, seed)));
}

/** How long something takes, ms of wall time. */
function milliseconds(act: () => void): number {
  const start = process.hrtime.bigint();
  act();
  return Number(process.hrtime.bigint() - start) / 1e6;
}

export function main(args: readonly string[]): number {
  const { from, houses } = instances(args);
  if (houses.length === 0) {
    process.stderr.write(`instance must be one of the ${from}; got ${args.join(", ")}\n`);
    return 2;
  }
  // The first plans of a process also wait for their code to be compiled: those are houses of our own.
  const cold = milliseconds(() => WARM_UP.forEach(([size, seed]) => planMade(size, seed)));
  // The smallest first, so that the peak of memory is the largest one's.
  const ordered = houses
    .map((house) => ({ house, problem: problemOf(house) }))
    .sort((a, b) => a.problem.pieces.length - b.problem.pieces.length);
  const rows = ordered.map(({ house, problem }): Row => {
    let plan: CutPlan | undefined;
    const time = milliseconds(() => (plan = planCuts(problem)));
    return { name: house.name, problem, modules: house.meta.modules, plan: plan!, time };
  });
  // Before the packer runs: it would count its own memory with ours.
  const peak = (process.resourceUsage().maxRSS * KILOBYTE) / BYTES_PER_MB;
  process.stdout.write(
    `Cut plans of ${from}; the percentages say how much more (-: less) each simpler way costs;\nmodules and area may leave some pieces without a panel.\n\n`
  );
  printTable(
    ["instance", "pieces", "cost", "bound", "gap", "ms", "modules", "area x 1.10", "packer"],
    rows.map(({ name, problem, modules, plan, time }) => [
      name,
      String(problem.pieces.length),
      String(plan.cost),
      String(plan.lowestCost),
      ((plan.cost - plan.lowestCost) / panelCost(problem)).toFixed(2),
      time.toFixed(0),
      over(moduleCost(problem, modules), plan),
      over(areaCost(problem), plan),
      over(packerCost(problem), plan),
    ])
  );
  process.stdout.write(
    `\ngap is in 8 ft panels. ${WARM_UP.length} small houses were planned before, in ${cold.toFixed(0)} ms, while the code was being compiled. Peak memory of this process while planning: ${peak.toFixed(0)} MB.\n`
  );
  return 0;
}
