/**
 * npm run takeoff [-- FILE.xlsx ...] [--out DIR] [--json]
 *
 * Recalculates house workbooks, prints the order and the checks, and writes the recalculated workbook, order.csv and
 * the drawings.
 */
import fs from "node:fs";
import path from "node:path";
import {
  openWorkbook,
  WorkbookError,
  type CellProblem,
  type CellValue,
  type Workbook,
} from "../host/engine/index.js";
import { PAPERS, type Paper } from "../pane/print/index.js";
import type { HouseTakeoff } from "../core/house/takeoff.js";
import { cellText, csvText } from "./csv.js";
import { fileTrouble, OutputFolder, resolveInput, shownPath, startFolder } from "./files.js";
import { plainText, tableText, wrapText } from "./table-text.js";
import { HouseFunctions, writeDrawings, type Drawings } from "./write-drawings.js";

const USAGE = `Usage: npm run takeoff
       npm run takeoff -- FILE.xlsx ... [--out DIR] [--paper letter|a4] [--json]

  FILE.xlsx   house workbooks; without one, the demo house in sample-workbooks
  --out DIR   folder for the results (takeoff, if left out); nothing you made is written over
  --paper P   paper of the sheets to print: letter (if left out) or a4
  --json      print one JSON document instead of text
`;

const DEMO = path.join("sample-workbooks", "demo-house.xlsx");

/** Largest file read, bytes. */
const LARGEST_FILE = 100 * 1024 * 1024;

/** Width of the text below the tables, characters. */
const TEXT_WIDTH = 100;

type Table = readonly (readonly CellValue[])[];

interface Finding {
  readonly level: string;
  readonly wall: string;
  readonly finding: string;
  readonly whatToDo: string;
}

interface Result {
  readonly file: string;
  /** why nothing could be calculated */
  trouble?: string;
  order?: { readonly sheet: string; readonly cell: string; readonly rows: Table };
  findings?: readonly Finding[];
  errors: readonly CellProblem[];
  formulaCount: number;
  keptCount: number;
  workbook?: string;
  orderCsv?: string;
  drawings?: Drawings;
}

interface Options {
  readonly files: readonly string[];
  readonly out: string;
  readonly paper: Paper;
  readonly json: boolean;
}

class UsageError extends Error {}

export function main(args: readonly string[]): number {
  let options: Options | undefined;
  try {
    options = readOptions(args);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    process.stderr.write(`${error.message}\n\n${USAGE}`);
    return 2;
  }
  if (!options) {
    process.stdout.write(USAGE);
    return 0;
  }
  const { files, json } = options;
  const results: Result[] = [];
  const folders = new Folders(options.out, files);
  files.forEach((file, index) => {
    const result = takeOff(file, folders.of(index), options.paper);
    results.push(result);
    if (!json) printResult(result);
  });
  if (json)
    process.stdout.write(`${JSON.stringify({ files: results.map(jsonResult) }, null, 2)}\n`);
  for (const result of results) printTrouble(result);
  return results.every((result) => result.trouble === undefined && result.errors.length === 0)
    ? 0
    : 1;
}

/** Undefined where only help was asked for. */
function readOptions(args: readonly string[]): Options | undefined {
  const files: string[] = [];
  let out = "takeoff";
  let paper: Paper = "letter";
  let json = false;
  for (let index = 0; index < args.length; index++) {
    const arg = args[index] as string;
    if (arg === "--json") json = true;
    else if (arg === "--help" || arg === "-h") return undefined;
    else if (arg === "--out" || arg.startsWith("--out=")) {
      const given = arg === "--out" ? args[++index] : arg.slice("--out=".length);
      if (given === undefined || given === "")
        throw new UsageError("--out needs the name of a folder");
      out = given;
    } else if (arg === "--paper" || arg.startsWith("--paper=")) {
      const given = arg === "--paper" ? args[++index] : arg.slice("--paper=".length);
      const known = PAPERS.find((each) => each === given?.toLowerCase());
      if (!known)
        throw new UsageError(`--paper must be ${PAPERS.join(" or ")}; got ${given || "nothing"}`);
      paper = known;
    } else if (arg.startsWith("-")) throw new UsageError(`there is no option ${arg}`);
    else files.push(resolveInput(arg));
  }
  // The demo house lies in the project's own folder, wherever the command was typed.
  if (files.length === 0) files.push(path.resolve(DEMO));
  return { files, out: path.resolve(startFolder(), out), paper, json };
}

/** One folder for one workbook; for several, a folder for each, named after it. */
class Folders {
  private readonly folders: OutputFolder[];
  constructor(out: string, files: readonly string[]) {
    const taken = new Set<string>();
    this.folders = files.map((file) => {
      if (files.length === 1) return new OutputFolder(out);
      const stem = path.parse(file).name;
      let name = stem;
      for (let number = 2; taken.has(name.toLowerCase()); number++) name = `${stem}-${number}`;
      taken.add(name.toLowerCase());
      return new OutputFolder(path.join(out, name));
    });
  }
  of(index: number): OutputFolder {
    return this.folders[index] as OutputFolder;
  }
}

function takeOff(file: string, folder: OutputFolder, paper: Paper): Result {
  const result: Result = { file, errors: [], formulaCount: 0, keptCount: 0 };
  try {
    const functions = new HouseFunctions();
    const book = openWorkbook(readBytes(file), functions.all);
    const { errors, formulaCount, keptCount } = book.recalculate();
    Object.assign(result, { errors, formulaCount, keptCount });
    if (!book.usesFunctions) {
      result.trouble =
        "no formula in it calls a SHEATH function, so there is no takeoff; " +
        "start from house-template.xlsx in sample-workbooks";
      return result;
    }
    const order = orderOf(book);
    if (order) result.order = order;
    result.findings = findingsOf(book, order);
    const { sheet, cell } = order ?? {};
    const houses = sheet && cell ? functions.housesAt(book, sheet, cell) : [];
    write(result, book, folder, { houses, paper });
  } catch (error) {
    if (error instanceof WorkbookError) result.trouble = error.message;
    else if (typeof (error as { code?: unknown }).code === "string")
      result.trouble = fileTrouble(error);
    else throw error;
  }
  return result;
}

function readBytes(file: string): Uint8Array {
  const { size } = fs.statSync(file);
  if (size > LARGEST_FILE) {
    throw new WorkbookError(
      `the file is larger than ${LARGEST_FILE / 1024 / 1024} MB; it is not opened`
    );
  }
  return fs.readFileSync(file);
}

function write(
  result: Result,
  book: Workbook,
  folder: OutputFolder,
  drawn: { houses: readonly HouseTakeoff[]; paper: Paper }
): void {
  const { houses, paper } = drawn;
  try {
    const title = path.parse(result.file).name;
    result.workbook = folder.write(`${title}.xlsx`, book.toBytes());
    if (result.order) result.orderCsv = folder.write("order.csv", csvText(result.order.rows));
    const [house] = houses;
    if (house && houses.length === 1) {
      const findings = result.findings ?? [];
      result.drawings = writeDrawings(house, folder, { title, paper, findings });
    }
  } catch (error) {
    if (typeof (error as { code?: unknown }).code !== "string") throw error;
    result.trouble = `the results could not be written to ${shownPath(folder.folder)}: ${fileTrouble(error)}`;
  }
}

/** The order table, from the cell that calls HOUSE_ORDER; a cell that only picks from it is passed over. */
function orderOf(book: Workbook): Result["order"] {
  for (const { sheet, cell, area } of book.findCalls("HOUSE_ORDER")) {
    const rows = book.range(sheet, area);
    if (rows[0]?.some((name) => cellText(name).toLowerCase() === "item"))
      return { sheet, cell, rows };
  }
  return undefined;
}

/** The findings, from the cell that calls HOUSE_CHECKS; without one, for the tables of the order. */
function findingsOf(book: Workbook, order: Result["order"]): readonly Finding[] {
  const [call] = book.findCalls("HOUSE_CHECKS");
  let rows: Table = [];
  if (call) rows = book.range(call.sheet, call.area);
  else if (order) {
    const formula = book.cell(order.sheet, order.cell).formula ?? "";
    const answer = book.evaluate(formula.replace(/HOUSE_ORDER/i, "HOUSE_CHECKS"), order.sheet);
    if (Array.isArray(answer)) rows = answer;
  }
  const [header = [], ...body] = rows;
  const at = (name: string): number =>
    header.findIndex((cell) => cellText(cell).trim().toLowerCase() === name);
  const [level, wall, finding, whatToDo] = ["level", "wall", "finding", "what to do"].map(at);
  if (level === undefined || level < 0) return [];
  const text = (row: readonly CellValue[], column: number | undefined): string =>
    plainText(cellText(row[column ?? -1] ?? null));
  return body.map((row) => ({
    level: text(row, level),
    wall: text(row, wall),
    finding: text(row, finding),
    whatToDo: text(row, whatToDo),
  }));
}

// --- what is said ----------------------------------------------------------------------------------------------------

const LEVELS: readonly (readonly [level: string, title: string])[] = [
  ["fix", "Fix before ordering"],
  ["look", "Look at"],
  ["note", "Notes and cautions"],
];

function printResult(result: Result): void {
  if (result.trouble !== undefined && !result.workbook && !result.order) return;
  const out: string[] = [shownPath(result.file), ""];
  if (result.order) {
    out.push("Order", "", tableText(result.order.rows), "");
  } else if (result.errors.length === 0) {
    out.push("There is no order in this workbook: no cell calls SHEATH.HOUSE_ORDER.", "");
  }
  const findings = result.findings ?? [];
  for (const [level, title] of LEVELS) {
    const some = findings.filter((each) => each.level.toLowerCase() === level);
    if (some.length === 0 && level !== "fix") continue;
    if (some.length === 0 && findings.length === 0) continue;
    out.push(`${title} (${some.length})`);
    for (const each of some) out.push(...findingLines(each));
    out.push("");
  }
  if (result.keptCount > 0) {
    out.push(`${result.keptCount} formulas read other workbooks and keep their saved values.`, "");
  }
  if (result.workbook) out.push(`Recalculated workbook: ${shownPath(result.workbook)}`);
  if (result.orderCsv) out.push(`Order as CSV:          ${shownPath(result.orderCsv)}`);
  if (result.order && result.workbook && !result.drawings) {
    const { sheet, cell } = result.order;
    out.push(`There are no drawings: ${plainText(sheet)}!${cell} does not take off one house.`);
  }
  if (result.drawings) {
    const { page, svg, folder } = result.drawings;
    out.push(`Sheets to print:       ${shownPath(page)}`);
    out.push(`Drawings:              ${svg.length} SVG files in ${shownPath(folder)}`);
  }
  process.stdout.write(`${out.join("\n")}\n\n`);
}

function findingLines({ wall, finding, whatToDo }: Finding): string[] {
  const where = wall === "" ? "" : `${wall}: `;
  const text = [`${where}${finding}`, whatToDo].filter((part) => part !== "").join(". ");
  const sentence = text.replace(/([.!?])\. /g, "$1 ");
  return wrapText(sentence, TEXT_WIDTH - 4).map(
    (line, index) => (index === 0 ? "  - " : "    ") + line
  );
}

function printTrouble(result: Result): void {
  const name = shownPath(result.file);
  if (result.trouble !== undefined) process.stderr.write(`${name}: ${result.trouble}\n`);
  if (result.errors.length === 0) return;
  const count = result.errors.length;
  process.stderr.write(
    `${name}: ${count} cell${count === 1 ? "" : "s"} could not be calculated\n${result.errors
      .map(problemLine)
      .join("\n")}\n`
  );
}

function problemLine({ sheet, cell, code, message, formula }: CellProblem): string {
  const why = message === "" ? "" : ` ${plainText(message)}`;
  return `  ${plainText(sheet)}!${cell} ${code}${why}\n    ${plainText(formula)}`;
}

function jsonResult(result: Result): object {
  const [columns = [], ...rows] = result.order?.rows ?? [];
  return {
    file: shownPath(result.file),
    ok: result.trouble === undefined && result.errors.length === 0,
    ...(result.trouble === undefined ? {} : { trouble: result.trouble }),
    ...(result.order
      ? { order: { sheet: result.order.sheet, cell: result.order.cell, columns, rows } }
      : {}),
    findings: result.findings ?? [],
    errors: result.errors,
    formulas: result.formulaCount,
    ...(result.workbook ? { workbook: shownPath(result.workbook) } : {}),
    ...(result.orderCsv ? { orderCsv: shownPath(result.orderCsv) } : {}),
    ...(result.drawings
      ? {
          printPage: shownPath(result.drawings.page),
          drawings: result.drawings.svg.map(shownPath),
        }
      : {}),
  };
}
