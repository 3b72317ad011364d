/**
 * npm run takeoff [-- FILE.xlsx ...] [--out DIR] [--json]
 *
 * Recalculates house workbooks, prints the order and the checks, and writes the recalculated workbook, order.csv and
 * the drawings. Several houses are added up to one purchase.
 */
import path from "node:path";
import process from "node:process";
import type { PriceList } from "../core/house/price-list.js";
import { PAPERS, type Paper } from "../pane/print/index.js";
import { safeFileName, NameGiver } from "./file-names.js";
import { fileTrouble, OutputFolder, resolveInput, shownPath, startFolder } from "./files.js";
import { inputFiles, type Inputs } from "./input-files.js";
import { takeOffAll, usualWorkers } from "./many-houses.js";
import { troubled, type HouseResult, type HouseTask } from "./one-house.js";
import { readPriceFile } from "./price-file.js";
import { houseJson, printHouse, printTrouble } from "./print-house.js";
import { printLeftOut, printPurchase, purchaseJson } from "./print-purchase.js";
import { purchaseOf, writePurchase, type PurchaseFiles } from "./purchase.js";
import { optionValue, UsageError } from "./usage.js";

const USAGE = `Usage: npm run takeoff
       npm run takeoff -- FILE.xlsx ... [--out DIR] [--prices FILE] [--paper letter|a4] [--no-drawings]
                          [--workers N] [--json]

  FILE.xlsx      house workbooks, a folder of them, or a pattern such as "houses/*.xlsx";
                 without one, the demo house in sample-workbooks
  --out DIR      folder for the results (takeoff, if left out); nothing you made is written over
  --prices FILE  price list, .xlsx or .csv, with the columns Item, Size, Price and, if wanted, Per package, Supplier
  --paper P      paper of the sheets to print: letter (if left out) or a4
  --no-drawings  leave out the drawings and the sheets to print
  --workers N    houses taken off at once (one for each processor, if left out)
  --json         print one JSON document instead of text

Several houses, a folder or a price list: each house gets a folder of its own, and purchase.xlsx and purchase.csv
add all of them up. Ends with 0 if every house was taken off, 1 if one was not or has cells in error, 2 if what was
typed makes no sense.
`;

const DEMO = path.join("sample-workbooks", "demo-house.xlsx");

/** Most threads that may be asked for. */
const MOST_WORKERS = 64;

interface Options {
  readonly typed: readonly string[];
  readonly out: string;
  readonly prices?: string;
  readonly paper: Paper;
  readonly draw: boolean;
  readonly workers: number;
  readonly json: boolean;
}

export async function main(args: readonly string[]): Promise<number> {
  try {
    const options = readOptions(args);
    if (options) return await takeOffHouses(options);
    process.stdout.write(USAGE);
    return 0;
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    process.stderr.write(`${error.message}\n\n${USAGE}`);
    return 2;
  }
}

async function takeOffHouses(options: Options): Promise<number> {
  // the demo house lies in the project's own folder, wherever the command was typed
  const inputs: Inputs =
    options.typed.length === 0
      ? { files: [path.resolve(DEMO)], troubles: [], remarks: [], areMany: false }
      : inputFiles(
          options.typed,
          options.prices === undefined ? undefined : resolveInput(options.prices)
        );
  const prices = options.prices === undefined ? undefined : pricesFrom(options.prices);
  for (const remark of inputs.remarks) process.stderr.write(`${remark}\n`);
  const many = inputs.areMany || inputs.files.length > 1 || prices !== undefined;
  const done = await takeOffAll(tasksOf(inputs.files, options, many), options.workers);
  const results = [...done, ...inputs.troubles.map(({ file, trouble }) => troubled(file, trouble))];
  const isPurchaseGood = many
    ? purchase(results, options, prices)
    : sayHouses(results, options.json);
  const isGood = (result: HouseResult): boolean =>
    result.trouble === undefined && result.errors.length === 0;
  return isPurchaseGood && results.every(isGood) ? 0 : 1;
}

/** Says a house by itself, in full. */
function sayHouses(results: readonly HouseResult[], json: boolean): boolean {
  if (json) sayJson({ files: results.map(houseJson) });
  else results.forEach(printHouse);
  results.forEach(printTrouble);
  return true;
}

function sayJson(document: object): void {
  process.stdout.write(`${JSON.stringify(document, null, 2)}\n`);
}

/** Adds the houses up, writes and says the purchase; false where a house is not in it or nothing could be written. */
function purchase(results: readonly HouseResult[], options: Options, prices?: PriceList): boolean {
  const total = purchaseOf(results, prices);
  let files: PurchaseFiles | undefined;
  try {
    if (total.houseCount > 0) files = writePurchase(total, new OutputFolder(options.out));
  } catch (error) {
    if (typeof (error as { code?: unknown }).code !== "string") throw error;
    process.stderr.write(
      `the purchase could not be written to ${shownPath(options.out)}: ${fileTrouble(error)}\n`
    );
  }
  if (options.json) {
    sayJson({ files: results.map(houseJson), purchase: purchaseJson(total, files) });
  } else printPurchase(results, total, files);
  results.filter(({ order, errors }) => order || errors.length > 0).forEach(printTrouble);
  printLeftOut(total);
  return total.leftOut === 0 && files !== undefined;
}

function pricesFrom(typed: string): PriceList {
  const list = readPriceFile(resolveInput(typed));
  if (typeof list === "string") throw new UsageError(`--prices ${typed}: ${list}`);
  return list;
}

/** One folder for one workbook; for several, a folder for each, named after it. */
function tasksOf(files: readonly string[], options: Options, many: boolean): HouseTask[] {
  const { out, paper, draw } = options;
  const names = new NameGiver();
  return files.map((file) => {
    const name = many ? names.give(safeFileName(path.parse(file).name) || "house") : "";
    return { file, folder: path.join(out, name), paper, draw };
  });
}

function paperOf(value: string): Paper {
  const known = PAPERS.find((each) => each === value.toLowerCase());
  if (!known) throw new UsageError(`--paper must be ${PAPERS.join(" or ")}; got ${value}`);
  return known;
}

function workersOf(value: string): number {
  const count = /^\d+$/.test(value) ? Number(value) : 0;
  if (count >= 1 && count <= MOST_WORKERS) return count;
  throw new UsageError(`--workers must be a whole number from 1 to ${MOST_WORKERS}; got ${value}`);
}

interface Typed {
  typed: string[];
  out: string;
  prices?: string;
  paper: Paper;
  draw: boolean;
  workers: number;
  json: boolean;
}

/** Options with a value: what it is called in messages, and what it sets. */
const VALUES: Readonly<
  Record<string, { what: string; set: (typed: Typed, value: string) => void }>
> = {
  "--out": { what: "the name of a folder", set: (typed, value) => void (typed.out = value) },
  "--prices": { what: "the name of a file", set: (typed, value) => void (typed.prices = value) },
  "--paper": { what: "letter or a4", set: (typed, value) => void (typed.paper = paperOf(value)) },
  "--workers": {
    what: "a number",
    set: (typed, value) => void (typed.workers = workersOf(value)),
  },
};

/** Undefined where only help was asked for. */
function readOptions(args: readonly string[]): Options | undefined {
  const typed: Typed = {
    typed: [],
    out: "takeoff",
    paper: "letter",
    draw: true,
    workers: usualWorkers(),
    json: false,
  };
  for (let at = 0; at < args.length; at++) {
    const arg = args[at] as string;
    const name = Object.keys(VALUES).find((each) => arg === each || arg.startsWith(`${each}=`));
    const option = name === undefined ? undefined : VALUES[name];
    if (arg === "--help" || arg === "-h") return undefined;
    else if (name !== undefined && option) {
      const given = optionValue(name, args, at, option.what);
      option.set(typed, given.value);
      at = given.next;
    } else if (arg === "--json") typed.json = true;
    else if (arg === "--no-drawings") typed.draw = false;
    else if (arg.startsWith("-")) throw new UsageError(`there is no option ${arg}`);
    else typed.typed.push(arg);
  }
  return { ...typed, out: path.resolve(startFolder(), typed.out) };
}
