/**
 * What hosts send, made plain. Blank cells arrive as null, undefined or "", data types as objects with
 * a `basicValue`, single cells where a range was meant as a bare value. All of it is settled here, so
 * that a wrapper is one line and every host gives one answer.
 */
import { CalcError, shown, wrongKind } from "../core/check.js";
import { type Cell, type Table, isBlank } from "../core/house/tables.js";
import { parseLength } from "../core/units.js";

/** Takes a value out of the wrapping some hosts put round it. */
export function plain(value: unknown): Cell {
  if (typeof value === "object" && value !== null && "basicValue" in value) {
    return plain((value as { basicValue: unknown }).basicValue);
  }
  // a range of one cell where one value was meant
  if (Array.isArray(value) && value.length === 1) {
    const only: unknown = value[0];
    return plain(Array.isArray(only) && only.length === 1 ? only[0] : only);
  }
  if (value === null || value === undefined) return null;
  if (typeof value === "string" || typeof value === "number" || typeof value === "boolean") {
    return value;
  }
  if (Array.isArray(value)) throw wrongKind("one cell was expected; got a range");
  throw wrongKind("a plain value was expected; got an error or another kind of cell");
}

/** One plain cell; what is wrong with it is said with the argument's name. */
export function scalar(name: string, value: unknown): Cell {
  try {
    return plain(value);
  } catch (error) {
    if (error instanceof CalcError) throw new CalcError(error.code, `${name}: ${error.message}`);
    throw error;
  }
}

export function lengthOf(name: string, value: unknown): number {
  return parseLength(name, scalar(name, value));
}

export function numberOf(name: string, value: unknown): number {
  const cell = scalar(name, value);
  if (isBlank(cell)) throw wrongKind(`${name} is blank; a number is needed`);
  if (typeof cell !== "number") throw wrongKind(`${name} must be a number; got ${shown(cell)}`);
  return cell;
}

/** TRUE or FALSE, as a check box gives it or as a word. */
export function flagOf(name: string, value: unknown): boolean {
  const cell = scalar(name, value);
  const word = typeof cell === "string" ? cell.trim().toLowerCase() : cell;
  if (word === true || word === "true" || word === "yes") return true;
  if (word === false || word === "false" || word === "no") return false;
  throw wrongKind(`${name} must be TRUE or FALSE; got ${shown(cell)}`);
}

/** A range as rows of plain cells; one cell is a range of one. */
export function tableOf(name: string, value: unknown): Table {
  if (!Array.isArray(value)) return [[scalar(name, value)]];
  return value.map((row: unknown, index) => {
    const cells: unknown[] = Array.isArray(row) ? row : [row];
    return cells.map((cell, column) =>
      scalar(`${name} row ${index + 1}, column ${column + 1}`, cell)
    );
  });
}

/** A list of lengths from a range, or from text in one cell; blanks are skipped. */
export function listOf(name: string, value: unknown): number[] {
  return tableOf(name, value)
    .flat()
    .flatMap((cell): Cell[] =>
      typeof cell === "string" ? cell.split(cell.includes(";") ? ";" : ",") : [cell]
    )
    .filter((cell) => !isBlank(cell))
    .map((cell) => parseLength(name, cell));
}

/** The lengths in several ranges; blanks are skipped, anything else is refused with its place. */
export function lengthsIn(name: string, given: unknown): number[] {
  const all = given as readonly unknown[];
  return all.flatMap((range, index) => {
    const label = all.length === 1 ? name : `${name} (range ${index + 1})`;
    return tableOf(label, range).flatMap((row, r) =>
      row.flatMap((cell, c) => {
        if (isBlank(cell)) return [];
        return [parseLength(`${label} row ${r + 1}, column ${c + 1}`, cell)];
      })
    );
  });
}
