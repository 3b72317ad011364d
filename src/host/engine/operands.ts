/** What the parts of a formula come to while it is worked out: values, references not yet read, functions. */
import { MAX_COLUMN, MAX_ROW, type Area } from "../../core/cell-address.js";
import type { BookState, SheetState } from "./model.js";
import type { Code } from "./code.js";
import {
  arrayValue,
  BLANK_VALUE,
  ERROR,
  errorValue,
  isArray,
  type RuntimeArray,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";

export const REFERENCE = 6;
export const LAMBDA = 7;

export interface SheetArea {
  readonly sheet: SheetState;
  readonly area: Area;
}

/** Cells a formula names; several areas where it joins them or runs through sheets. */
export interface Reference {
  readonly kind: typeof REFERENCE;
  readonly areas: readonly SheetArea[];
  /** set where INDIRECT or OFFSET made one reference for each of several texts or numbers */
  readonly shape?: { readonly height: number; readonly width: number };
}

/** A function that a formula makes with LAMBDA. */
export interface Lambda {
  readonly kind: typeof LAMBDA;
  readonly count: number;
  readonly call: (args: readonly Operand[], at: Place) => Operand;
}

export type Operand = RuntimeValue | Reference | Lambda;

/** Values that LET and LAMBDA name. */
export interface Locals {
  readonly name: string;
  /** undefined where a function was called without this argument */
  readonly value: Operand | undefined;
  readonly outer: Locals | undefined;
}

/** Where a formula is worked out, and what it may ask for. */
export interface Place {
  readonly reader: Reader;
  readonly sheet: SheetState;
  readonly row: number;
  readonly column: number;
  readonly locals?: Locals | undefined;
  /** calls of names and functions within each other */
  readonly depth: number;
}

/** What a formula reads from the workbook. */
export interface Reader {
  readonly book: BookState;
  cell(sheet: SheetState, row: number, column: number): RuntimeScalar;
  /** The values of an area, as far down and right as the workbook uses it. */
  table(sheet: SheetState, area: Area): RuntimeArray | RuntimeScalar;
  /** The part of an area that the workbook uses; areas of different sheets are cut alike. */
  usedPart(area: Area): Area;
  /** The area a spilled formula fills at this moment. */
  filledBy(sheet: SheetState, row: number, column: number): Area | undefined;
  /** Takes note that a formula depends on an area without reading its values. */
  note(area: SheetArea): void;
  /** Counts work done for the formula; throws where it is more than one formula may take. */
  spend(amount: number): void;
  /** What a name means on a sheet. */
  name(name: string, sheet: SheetState): Code | undefined;
  nameHome(name: string, sheet: SheetState): SheetState | undefined;
  tableNamed(name: string): { table: SheetState["tables"][number]; sheet: SheetState } | undefined;
  /** The code of a reference given as text; undefined where it is none. */
  parse(text: string): Code | undefined;
}

/** A part of a workbook that is not here: the formula keeps the value it was saved with. */
export class NotHere extends Error {}

export function reference(sheet: SheetState, area: Area): Reference {
  return { kind: REFERENCE, areas: [{ sheet, area }] };
}

export function isReference(operand: Operand): operand is Reference {
  return operand.kind === REFERENCE;
}
export function isLambda(operand: Operand): operand is Lambda {
  return operand.kind === LAMBDA;
}

export function isOneCell({ top, left, bottom, right }: Area): boolean {
  return top === bottom && left === right;
}

/** The only area of a reference; an error where there are several. */
export function onlyArea({ areas }: Reference): SheetArea | RuntimeScalar {
  const [first] = areas;
  return first && areas.length === 1 ? first : errorValue("#VALUE!");
}

/** An operand as values: a reference is read. */
export function read(operand: Operand, { reader }: Place): RuntimeValue {
  if (isLambda(operand)) return errorValue("#CALC!", "a function stands where a value should be");
  if (!isReference(operand)) return operand;
  const { areas } = operand;
  const first = areas[0] as SheetArea;
  if (areas.length === 1) {
    const { sheet, area } = first;
    return isOneCell(area) ? reader.cell(sheet, area.top, area.left) : reader.table(sheet, area);
  }
  if (operand.shape) {
    const { height, width } = operand.shape;
    const firsts = areas.map(({ sheet, area }) => reader.cell(sheet, area.top, area.left));
    return arrayValue(
      Array.from({ length: height }, (_, row) => firsts.slice(row * width, (row + 1) * width))
    );
  }
  // Several areas below each other, as functions that look through them do.
  const tables = areas.map(({ sheet, area }) => reader.table(sheet, area));
  const error = tables.find((table) => !isArray(table));
  if (error) return error;
  const rows = (tables as RuntimeArray[]).flatMap((table) => table.rows);
  const width = Math.max(...rows.map((row) => row.length));
  return arrayValue(
    rows.map((row) => [...row, ...new Array<RuntimeScalar>(width - row.length).fill(BLANK_VALUE)])
  );
}

/** An operand as one value: of a range, the cell of the formula's own row or column. */
export function intersect(operand: Operand, at: Place): RuntimeValue {
  if (!isReference(operand)) return read(operand, at);
  const only = onlyArea(operand);
  if (!("area" in only)) return only;
  const { sheet, area } = only;
  const { top, left, bottom, right } = area;
  const down = at.row >= top && at.row <= bottom ? at.row : undefined;
  const across = at.column >= left && at.column <= right ? at.column : undefined;
  const row = top === bottom ? top : down;
  const column = left === right ? left : across;
  if (row === undefined || column === undefined) {
    return errorValue("#VALUE!", "the range has no cell in the row or column of this formula");
  }
  return at.reader.cell(sheet, row, column);
}

/** An operand as a single value; of a table its first. */
export function single(operand: Operand, at: Place): RuntimeScalar {
  if (isReference(operand)) {
    const { sheet, area } = operand.areas[0] as SheetArea;
    return at.reader.cell(sheet, area.top, area.left);
  }
  const value = read(operand, at);
  return isArray(value) ? (value.rows[0]?.[0] ?? errorValue("#CALC!")) : value;
}

export function isError(operand: Operand): operand is RuntimeScalar {
  return operand.kind === ERROR;
}

/** The part of an area that lies on a sheet; undefined where none does. */
export function onSheet({ top, left, bottom, right }: Area): Area | undefined {
  return top >= 1 && left >= 1 && bottom <= MAX_ROW && right <= MAX_COLUMN
    ? { top, left, bottom, right }
    : undefined;
}
