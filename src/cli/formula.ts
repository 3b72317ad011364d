/**
 * npm run formula -- '=SHEATH.CORNER_OFFSET("1-1/4", "5/8")'
 *
 * Evaluates formulas in the engine that calculates workbooks and prints what they come to.
 */
import fs from "node:fs";
import {
  errorIn,
  FormulaEvaluator,
  isCellError,
  type FormulaAnswer,
  type CellValue,
} from "../host/engine/index.js";
import { worksheetFunctions } from "../worksheet/registry.js";
import { fileTrouble, resolveInput } from "./files.js";

const USAGE = `Usage: npm run formula -- [--json] 'FORMULA' ...
       npm run formula -- [--json] --file FILE

  FORMULA      a formula, with or without its equals sign; quote it for the shell
  --file FILE  one formula a line (- reads them from standard input)
  --json       one JSON value a line: a number, text, true or false, rows of a table,
               or {"error":"#VALUE!","message":"..."}

Example: npm run formula -- '=SHEATH.CORNER_OFFSET("1-1/4", "5/8")'
`;

/** Formulas evaluated together; a limit only so that memory stays small. */
const TOGETHER = 2000;

interface Options {
  readonly formulas: readonly string[];
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
  const evaluator = new FormulaEvaluator(worksheetFunctions);
  let failed = false;
  for (let from = 0; from < options.formulas.length; from += TOGETHER) {
    const answers = evaluator.evaluateAll(options.formulas.slice(from, from + TOGETHER));
    const print = options.json ? jsonLine : plainLines;
    process.stdout.write(answers.map((answer) => `${print(answer)}\n`).join(""));
    failed ||= answers.some((answer) => errorIn(answer) !== undefined);
  }
  // apart from the answers, so that a pipe gets answers only
  for (const caution of cautionsOf(options.formulas)) process.stderr.write(`Caution: ${caution}\n`);
  return failed ? 1 : 0;
}

/** Each caution once, whatever number of formulas it goes with. */
function cautionsOf(formulas: readonly string[]): Set<string> {
  const all = formulas.join("\n").toUpperCase();
  const used = worksheetFunctions.filter(({ name }) =>
    new RegExp(`\\b(?:SHEATH\\.|_XLDUDF_SHEATH_)${name}\\s*\\(`).test(all)
  );
  return new Set(used.flatMap(({ cautions }) => cautions));
}

/** Undefined where only help was asked for. */
function readOptions(args: readonly string[]): Options | undefined {
  const formulas: string[] = [];
  let file: string | undefined;
  let json = false;
  for (let index = 0; index < args.length; index++) {
    const arg = args[index] as string;
    if (arg === "--json") json = true;
    else if (arg === "--help" || arg === "-h") return undefined;
    else if (arg === "--file" || arg.startsWith("--file=")) {
      file = arg === "--file" ? args[++index] : arg.slice("--file=".length);
      if (file === undefined || file === "")
        throw new UsageError("--file needs the name of a file");
    } else if (arg.startsWith("--") && !/^--?[\d.(A-Z]/.test(arg)) {
      throw new UsageError(`there is no option ${arg}`);
    } else formulas.push(arg);
  }
  if (file !== undefined) formulas.push(...readFormulas(file));
  else if (formulas.length === 0) throw new UsageError("no formula was given");
  if (formulas.some((formula) => formula.trim().replace(/^=/, "").trim() === "")) {
    throw new UsageError("a formula is empty");
  }
  return { formulas, json };
}

function readFormulas(file: string): string[] {
  let text: string;
  try {
    text = fs.readFileSync(file === "-" ? 0 : resolveInput(file), "utf8");
  } catch (error) {
    throw new UsageError(`${file} could not be read: ${fileTrouble(error)}`);
  }
  return text
    .replace(/^\ufeff/, "")
    .split(/\r\n|\n|\r/)
    .filter((line) => line.trim() !== "");
}

function jsonLine(answer: FormulaAnswer): string {
  return JSON.stringify(answer, (_key, value: unknown) =>
    isCellError(value) ? { error: value.error, message: value.message ?? "" } : value
  );
}

/** One value a line, or the rows of a table with tabs between the cells. */
function plainLines(answer: FormulaAnswer): string {
  if (!Array.isArray(answer)) {
    if (isCellError(answer)) return [answer.error, answer.message ?? ""].join(" ").trim();
    return plainValue(answer);
  }
  return answer.map((row) => row.map(plainValue).join("\t")).join("\n");
}

function plainValue(value: CellValue): string {
  if (value === null) return "";
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  return isCellError(value) ? value.error : String(value);
}
