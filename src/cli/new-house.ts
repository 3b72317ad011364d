/**
 * npm run new-house -- "Lot 12"
 *
 * Copies the house template to a workbook of its own and writes the name of the house into it.
 */
import fs from "node:fs";
import path from "node:path";
import process from "node:process";
import { worksheetFunctions } from "../worksheet/registry.js";
import { openWorkbook, WorkbookError, type WorksheetFunction } from "../host/engine/index.js";
import { cellText } from "./csv.js";
import { nameIdentity, safeFileName } from "./file-names.js";
import {
  fileTrouble,
  placeFile,
  removeUnfinished,
  resolveInput,
  shownPath,
  startFolder,
} from "./files.js";
import { houseNameCell } from "./house-labels.js";
import { readBytes } from "./one-house.js";
import { optionValue, UsageError } from "./usage.js";

const USAGE = `Usage: npm run new-house -- "NAME" [--out DIR] [--from TEMPLATE.xlsx]

  "NAME"          name of the house, in quotes; it is written into the workbook and names the file
  --out DIR       folder for the new workbook (where you are, if left out)
  --from FILE     your office's own template, .xlsx or .xlsm; its looks are kept (house-template.xlsx, if left out)

Nothing is written over: where the name is taken, the command says so and ends with 1. Ends with 2 if what was typed
makes no sense.
`;

const TEMPLATE = path.join("sample-workbooks", "house-template.xlsx");

/** Longest name of a house, letters: what still fits a title line; common practice, no source. */
const LONGEST_HOUSE_NAME = 200;

interface Options {
  readonly name: string;
  readonly fileName: string;
  readonly out: string;
  readonly from?: string;
}

/** Why a house could not be made. */
class Refusal extends Error {}

export function main(args: readonly string[]): number {
  try {
    const options = readOptions(args);
    process.stdout.write(options ? newHouse(options) : USAGE);
    return 0;
  } catch (error) {
    if (error instanceof UsageError) {
      process.stderr.write(`${error.message}\n\n${USAGE}`);
      return 2;
    }
    if (!(error instanceof Refusal)) throw error;
    process.stderr.write(`${error.message}\n`);
    return 1;
  }
}

/** Undefined where only help was asked for. */
function readOptions(args: readonly string[]): Options | undefined {
  const names: string[] = [];
  let out = "";
  let from: string | undefined;
  for (let at = 0; at < args.length; at++) {
    const arg = args[at] as string;
    if (arg === "--help" || arg === "-h") return undefined;
    else if (arg === "--out" || arg.startsWith("--out=")) {
      ({ value: out, next: at } = optionValue("--out", args, at, "the name of a folder"));
    } else if (arg === "--from" || arg.startsWith("--from=")) {
      ({ value: from, next: at } = optionValue("--from", args, at, "the name of a workbook"));
    } else if (arg.startsWith("--")) throw new UsageError(`there is no option ${arg}`);
    else names.push(arg);
  }
  if (names.length > 1) {
    throw new UsageError(`one house at a time, its name in quotes; got ${names.join(" and ")}`);
  }
  // control characters would break the line the name stands in
  const name = (names[0] ?? "").replace(/[\u0000-\u001f\u007f-\u009f]+/g, " ").trim();
  if (name === "") throw new UsageError("the name of the house is missing");
  if (name.length > LONGEST_HOUSE_NAME) {
    throw new UsageError(
      `the name of the house must have at most ${LONGEST_HOUSE_NAME} letters; got ${name.length}`
    );
  }
  const title = name.replace(/\.xls[xm]$/i, "");
  const fileName = safeFileName(title);
  if (fileName === "") {
    throw new UsageError(`the name of the house must hold a letter or a digit; got ${name}`);
  }
  if (from !== undefined && !/\.xls[xm]$/i.test(from)) {
    throw new UsageError(`--from must be an .xlsx or .xlsm workbook; got ${from}`);
  }
  return {
    name: title,
    fileName,
    out: path.resolve(startFolder(), out),
    ...(from === undefined ? {} : { from }),
  };
}

/** A file of that name as the folder spells it: systems that mix case up take the two for one. */
function takenName(folder: string, fileName: string): string | undefined {
  if (!fs.existsSync(folder)) return undefined;
  const identity = nameIdentity(fileName);
  return fs.readdirSync(folder).find((each) => nameIdentity(each) === identity);
}

/** The template with the name typed in, and what is to be said about it. */
interface Filled {
  readonly bytes: Uint8Array;
  readonly remarks: string[];
  /** of the file: macros go along, untouched, and want a name of their own kind */
  readonly extension: ".xlsx" | ".xlsm";
}

function filled(template: string, name: string): Filled {
  const functions = worksheetFunctions as unknown as readonly WorksheetFunction[];
  const book = openWorkbook(readBytes(template), functions);
  const place = houseNameCell(book);
  const remarks: string[] = [];
  if (!place) {
    remarks.push(
      "No cell of the template is labeled House, so the name stands only in the file's name."
    );
  } else if (book.cell(place.sheet, place.cell).formula !== undefined) {
    remarks.push(
      `${place.sheet}!${place.cell} holds a formula, so the name was not written there.`
    );
  } else {
    const before = cellText(place.value).trim();
    if (before !== "" && before !== name) {
      remarks.push(`${place.sheet}!${place.cell} held "${before}" and now holds the name.`);
    }
    book.setText(place.sheet, place.cell, name);
  }
  const { errors } = book.recalculate();
  const [first] = errors;
  if (first) {
    const count = errors.length === 1 ? "1 cell" : `${errors.length} cells`;
    remarks.push(
      `${count} of the template cannot be calculated, the first ${first.sheet}!${first.cell}.`
    );
  }
  if (book.hasMacros) {
    remarks.push("The template's macros are left as they are; none was run.");
  }
  return { bytes: book.toBytes(), remarks, extension: book.hasMacros ? ".xlsm" : ".xlsx" };
}

function refused(error: unknown, what: string, folder: string, fileName: string): unknown {
  if (error instanceof WorkbookError) return new Refusal(`${what}: ${error.message}`);
  if (typeof (error as { code?: unknown }).code !== "string") return error;
  const taken = takenName(folder, fileName);
  return taken === undefined
    ? new Refusal(`${what}: ${fileTrouble(error)}`)
    : new Refusal(takenText(folder, taken));
}

function takenText(folder: string, name: string): string {
  return `${shownPath(path.join(folder, name))} is there already and is left as it is; give the house another name, or --out another folder`;
}

/** Makes the workbook; returns what to say. */
function newHouse({ name, fileName: title, out, from }: Options): string {
  const template = from === undefined ? path.resolve(TEMPLATE) : resolveInput(from);
  let made: Filled;
  try {
    made = filled(template, name);
  } catch (error) {
    throw refused(error, shownPath(template), out, `${title}${path.extname(template)}`);
  }
  const fileName = `${title}${made.extension}`;
  const taken = takenName(out, fileName);
  if (taken !== undefined) throw new Refusal(takenText(out, taken));
  const target = path.join(out, fileName);
  try {
    fs.mkdirSync(out, { recursive: true });
    removeUnfinished(out);
    if (!placeFile(out, fileName, made.bytes)) throw new Refusal(takenText(out, fileName));
  } catch (error) {
    throw refused(error, `${shownPath(target)} could not be written`, out, fileName);
  }
  const shown = shownPath(target);
  return [
    `${shown}: a copy of ${path.basename(template)} for ${name}`,
    ...made.remarks,
    "Fill in Foam and Panel, type its walls and openings, then take it off:",
    `  npm run takeoff -- "${shown}"`,
    "",
  ].join("\n");
}
