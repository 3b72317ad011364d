/**
 * The values a worksheet cell can hold, as plain JavaScript values.
 */

/** The namespace the worksheet functions are called in, as in SHEATH.INCHES. */
export const NAMESPACE = "SHEATH";

/** An error value. `message` says why, where the reason is known. */
export interface CellErrorValue {
  readonly error: string;
  readonly message?: string;
}

/** What one cell holds: nothing (null), a number, text, a boolean, or an error. */
export type CellValue = null | number | string | boolean | CellErrorValue;

/** What one argument of a worksheet function can be: a single value, or rows of values. */
export type CellArgument = CellValue | CellValue[][] | PlacedRange;

/** A range and where it stands, for a parameter that asks for it. */
export interface PlacedRange {
  readonly rows: CellValue[][];
  /** its sheet, and row and column of its first cell, from 1 */
  readonly place: { readonly sheet: string; readonly top: number; readonly left: number };
}

/** A worksheet function as the engine calls it. */
export interface WorksheetFunction {
  /** name without the namespace, as in "CORNER_OFFSET" */
  readonly name: string;
  readonly call: (...args: CellArgument[]) => unknown;
  /** what the function takes, in order; without it the engine does not check the count */
  readonly parameters?: readonly FunctionParameter[];
  /** true where the answer is a table */
  readonly spills?: boolean;
  /** what is good to know of a call that has an answer */
  readonly remarks?: (...args: CellArgument[]) => readonly string[];
}

export interface FunctionParameter {
  readonly name: string;
  readonly optional: boolean;
  /** true where the argument is a range of cells */
  readonly matrix: boolean;
  /** true where a range is handed over with where it stands */
  readonly placed?: boolean;
  /** true where the last argument may come as often as wanted */
  readonly repeats?: boolean;
}

/** A formula cell whose result is an error, and why. */
export interface CellProblem {
  readonly sheet: string;
  readonly cell: string;
  /** the error as the cell shows it, such as "#VALUE!" */
  readonly code: string;
  readonly message: string;
  /** the formula as a person types it, with its equals sign */
  readonly formula: string;
}

export function isCellError(value: unknown): value is CellErrorValue {
  return (
    typeof value === "object" &&
    value !== null &&
    typeof (value as { error?: unknown }).error === "string"
  );
}

export function sameValue(a: CellValue, b: CellValue): boolean {
  if (isCellError(a) && isCellError(b)) return a.error === b.error && a.message === b.message;
  return a === b;
}

/** The errors a worksheet knows. Anything else is shown as #VALUE!. */
export const ERROR_CODES: ReadonlySet<string> = new Set([
  "#N/A",
  "#NULL!",
  "#DIV/0!",
  "#VALUE!",
  "#REF!",
  "#NAME?",
  "#NUM!",
  "#CALC!",
  "#SPILL!",
  "#GETTING_DATA",
  "#CONNECT!",
  "#BLOCKED!",
  "#UNKNOWN!",
  "#FIELD!",
  "#BUSY!",
]);

/** A failure to open or read a workbook, with a message meant for the person who chose the file. */
export class WorkbookError extends Error {
  constructor(message: string) {
    super(message);
    this.name = "WorkbookError";
  }
}
