/**
 * npm run compare -- EARLIER.xlsx LATER.xlsx
 *
 * Says what changed between two revisions of a house: walls, openings, settings and order.
 */
import path from "node:path";
import process from "node:process";
import { houseChanges, type HouseChange, type HouseRevision } from "../core/house/compare.js";
import type { CellValue } from "../host/engine/index.js";
import { csvText } from "./csv.js";
import { fileTrouble, OutputFolder, resolveInput, shownPath, startFolder } from "./files.js";
import { listWorkbook, type ListColumn } from "./list-workbook.js";
import { needsOf, openHouse, whyNoOrder, type HouseResult, type Table } from "./one-house.js";
import { plainText } from "./table-text.js";
import { optionValue, UsageError } from "./usage.js";

const USAGE = `Usage: npm run compare -- EARLIER.xlsx LATER.xlsx [--out FILE.xlsx|FILE.csv] [--json]

  EARLIER.xlsx LATER.xlsx  two revisions of a house; neither is written to
  --out FILE               write the changes as a table too; nothing you made is written over
  --json                   print one JSON document instead of text

Ends with 0 if nothing changed, 1 if something did, 2 if the two could not be compared.
`;

interface Options {
  readonly files: readonly [string, string];
  readonly out?: string;
  readonly json: boolean;
}

/** Why the two could not be compared. */
class Refusal extends Error {}

export function main(args: readonly string[]): number {
  try {
    const options = readOptions(args);
    if (options) return compare(options);
    process.stdout.write(USAGE);
    return 0;
  } catch (error) {
    if (error instanceof UsageError) process.stderr.write(`${error.message}\n\n${USAGE}`);
    else if (error instanceof Refusal) process.stderr.write(`${error.message}\n`);
    else throw error;
    return 2;
  }
}

/** Undefined where only help was asked for. */
function readOptions(args: readonly string[]): Options | undefined {
  const files: string[] = [];
  let out: string | undefined;
  let json = false;
  for (let at = 0; at < args.length; at++) {
    const arg = args[at] as string;
    if (arg === "--help" || arg === "-h") return undefined;
    else if (arg === "--json") json = true;
    else if (arg === "--out" || arg.startsWith("--out=")) {
      ({ value: out, next: at } = optionValue("--out", args, at, "the name of a file"));
    } else if (arg.startsWith("-")) throw new UsageError(`there is no option ${arg}`);
    else files.push(resolveInput(arg));
  }
  const [earlier, later] = files;
  if (earlier === undefined || later === undefined || files.length > 2) {
    throw new UsageError(`two workbooks are compared; got ${files.length}`);
  }
  if (out !== undefined && !/\.(xlsx|csv)$/i.test(out)) {
    throw new UsageError(`--out must end in .xlsx or .csv; got ${out}`);
  }
  return { files: [earlier, later], json, ...(out === undefined ? {} : { out }) };
}

/** The order column of a table of an order. */
function ordered(rows: Table): number[] {
  const [header = [], ...body] = rows;
  const column = header.findIndex((name) => String(name).trim().toLowerCase() === "order");
  return body.map((row) => {
    const value = row[column];
    if (typeof value !== "number") throw new Error("the order has no number in its column Order");
    return value;
  });
}

function revisionOf(file: string): { result: HouseResult; revision: HouseRevision } {
  const { result, houses } = openHouse(file, false);
  const refuse = (why: string): Refusal => new Refusal(`${shownPath(file)}: ${why}`);
  if (result.trouble !== undefined) throw refuse(result.trouble);
  const [house] = houses;
  if (!result.order || !house) {
    const [error] = result.errors;
    throw refuse(
      error
        ? `its order could not be calculated: ${error.sheet}!${error.cell} ${error.code} ${error.message}`
        : `there is no order in it: ${whyNoOrder(result)}`
    );
  }
  if (houses.length > 1 || result.otherOrders.length > 0) {
    throw refuse("it takes off several houses; compare one house");
  }
  try {
    const packages = ordered(result.order.rows);
    const order = needsOf(result.order.rows).map((line, index) => ({
      ...line,
      order: packages[index] as number,
    }));
    return { result, revision: { house, order } };
  } catch (error) {
    throw refuse((error as Error).message);
  }
}

function compare({ files, out, json }: Options): number {
  const [before, after] = files.map(revisionOf) as [
    ReturnType<typeof revisionOf>,
    ReturnType<typeof revisionOf>,
  ];
  const changes = houseChanges(before.revision, after.revision);
  const labels = labelChanges(before.result, after.result);
  const written = out === undefined ? undefined : write(out, labels, changes);
  const [earlier, later] = files.map(shownPath);
  if (json) {
    const document = { earlier, later, ...(written ? { written } : {}), labels, changes };
    process.stdout.write(`${JSON.stringify(document, null, 2)}\n`);
  } else {
    const lines = [`${earlier} -> ${later}`, "", ...inWords(labels, changes)];
    if (written) lines.push(`Table: ${written}`, "");
    process.stdout.write(lines.join("\n"));
  }
  return changes.length === 0 && labels.length === 0 ? 0 : 1;
}

interface LabelChange {
  readonly field: string;
  readonly before: string;
  readonly after: string;
}

/** What the workbook says about itself outside its tables. */
function labelChanges(a: HouseResult, b: HouseResult): LabelChange[] {
  const all = [
    { field: "House", before: a.typedName, after: b.typedName },
    { field: "Release date", before: a.release ?? "", after: b.release ?? "" },
  ];
  return all.filter(({ before, after }) => before !== after);
}

const GROUPS = [
  ["Wall", "Walls"],
  ["Opening", "Openings"],
  ["Setting", "Settings"],
  ["Order", "Order"],
] as const;

function sentence({ name, kind, field, before, after, difference }: HouseChange): string {
  const more = difference === "" ? "" : ` (${difference})`;
  switch (kind) {
    case "renamed":
      return `${before} is now called ${after}`;
    case "added":
      return `added: ${name}, ${field === "" ? "" : `${field} `}${after}`;
    case "removed":
      return `removed: ${name}, ${field === "" ? "" : `${field} `}${before}`;
    default:
      return `${name}${field === "" ? "" : `, ${field}`}: ${before} is now ${after}${more}`;
  }
}

function inWords(labels: readonly LabelChange[], changes: readonly HouseChange[]): string[] {
  if (changes.length === 0 && labels.length === 0) {
    return ["Nothing changed in walls, openings, settings or order.", ""];
  }
  const lines = labels.map(
    ({ field, before, after }) => `${field}: ${before || "blank"} is now ${after || "blank"}`
  );
  if (lines.length > 0) lines.push("");
  for (const [what, title] of GROUPS) {
    const some = changes.filter((change) => change.what === what);
    if (some.length === 0) {
      lines.push(`${title}: nothing changed`, "");
      continue;
    }
    lines.push(`${title} (${some.length})`, ...some.map((each) => `  ${sentence(each)}`), "");
  }
  return lines.map(plainText);
}

const COLUMNS: readonly ListColumn[] = [
  { header: "What", width: 13, format: "text" },
  { header: "Name", width: 30, format: "text" },
  { header: "Change", width: 10, format: "text" },
  { header: "Field", width: 16, format: "text" },
  { header: "Before", width: 40, format: "wrapped" },
  { header: "After", width: 40, format: "wrapped" },
  { header: "Difference", width: 16, format: "text" },
];

/** Amounts as numbers, so that a spreadsheet can add them. */
function cellOf(text: string): CellValue {
  if (text === "") return null;
  return /^[-+]?\d+(\.\d+)?$/.test(text) ? Number(text) : text;
}

function write(
  out: string,
  labels: readonly LabelChange[],
  changes: readonly HouseChange[]
): string {
  const rows: CellValue[][] = [
    ...labels.map(({ field, before, after }) => ["House", field, "changed", "", before, after, ""]),
    ...changes.map((each) => [
      each.what,
      each.name,
      each.kind,
      each.field,
      cellOf(each.before),
      cellOf(each.after),
      cellOf(each.difference),
    ]),
  ];
  const target = path.resolve(startFolder(), out);
  const content = /\.csv$/i.test(out)
    ? csvText([COLUMNS.map(({ header }) => header), ...rows])
    : listWorkbook([{ name: "Changes", columns: COLUMNS, rows }]);
  try {
    return shownPath(new OutputFolder(path.dirname(target)).write(path.basename(target), content));
  } catch (error) {
    if (typeof (error as { code?: unknown }).code !== "string") throw error;
    throw new Refusal(`${shownPath(target)} could not be written: ${fileTrouble(error)}`);
  }
}
