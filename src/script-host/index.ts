/**
 * The worksheet functions for web spreadsheets that are scripted in JavaScript. The bundle holds `call`;
 * one plain function a worksheet function is written after it, because such a spreadsheet finds its
 * functions by reading the script's own lines.
 *
 * Each call of a cell is a run of its own, without a page, timers or modules.
 */
import { worksheetFunctions } from "../worksheet/registry.js";

const byName = new Map(worksheetFunctions.map((each) => [each.name, each]));

/** Days from the first day of spreadsheet dates (30 December 1899) to 1 January 1970. */
const EPOCH_DAY = 25569;
const DAY_MS = 24 * 60 * 60 * 1000;

function isDate(value: unknown): value is Date {
  // a date made outside the script is no instance of the script's own Date
  return Object.prototype.toString.call(value) === "[object Date]";
}

/** The number another spreadsheet holds for the same date, so that a fraction that became a date is known as one. */
function serialDate(date: Date): number {
  return Math.round(
    EPOCH_DAY + Date.UTC(date.getFullYear(), date.getMonth(), date.getDate()) / DAY_MS
  );
}

function fromCell(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(fromCell);
  return isDate(value) ? serialDate(value) : value;
}

/** Calls a worksheet function with the values of cells: "" for a blank one, rows for a range. */
export function call(name: string, args: readonly unknown[]): unknown {
  return byName.get(name)?.call(...args.map(fromCell));
}
