/**
 * The tagged values the calculation library passes to functions and expects back, and the way between them and plain
 * values. The library does not export constructors for them.
 */
import { ERROR_CODES, isCellError, type CellArgument, type CellValue } from "./values.js";

/** Tags of the library's values. */
export const BLANK = 0;
export const NUMBER = 1;
export const TEXT = 2;
export const BOOLEAN = 3;
export const ERROR = 4;
export const ARRAY = 5;

export interface RuntimeScalar {
  readonly kind: number;
  readonly value?: number | string | boolean;
  readonly code?: string;
  /** ours: why the value is an error; the library hands error values on as they are */
  readonly message?: string;
}

export interface RuntimeArray {
  readonly kind: typeof ARRAY;
  readonly rows: RuntimeScalar[][];
  readonly height: number;
  readonly width: number;
  /** where on the sheet a range came from; the library uses it to pick one cell */
  readonly originRow?: number;
  readonly originCol?: number;
  /** ours: the sheet and first cell of a range, where the function it is handed to asks for them */
  readonly place?: { readonly sheet: string; readonly top: number; readonly left: number };
}

export type RuntimeValue = RuntimeScalar | RuntimeArray;

export const BLANK_VALUE: RuntimeScalar = { kind: BLANK };

export function isArray(value: RuntimeValue): value is RuntimeArray {
  return value.kind === ARRAY;
}

export function numberValue(value: number): RuntimeScalar {
  if (!Number.isFinite(value)) return errorValue("#NUM!");
  return { kind: NUMBER, value: value === 0 ? 0 : value };
}

export function textValue(value: string): RuntimeScalar {
  return { kind: TEXT, value };
}

export function booleanValue(value: boolean): RuntimeScalar {
  return { kind: BOOLEAN, value };
}

export function errorValue(code: string, message?: string): RuntimeScalar {
  const known = ERROR_CODES.has(code) ? code : "#VALUE!";
  return message === undefined
    ? { kind: ERROR, code: known }
    : { kind: ERROR, code: known, message };
}

export function arrayValue(rows: RuntimeScalar[][]): RuntimeArray {
  return { kind: ARRAY, rows, height: rows.length, width: rows[0]?.length ?? 0 };
}

export function toPlain(value: RuntimeScalar): CellValue {
  switch (value.kind) {
    case NUMBER:
      // a cell has no minus zero
      return value.value === 0 ? 0 : (value.value as number);
    case TEXT:
    case BOOLEAN:
      return value.value as string | boolean;
    case ERROR:
      return value.message === undefined
        ? { error: value.code as string }
        : { error: value.code as string, message: value.message };
    default:
      return null;
  }
}

export function toArgument(value: RuntimeValue): CellArgument {
  if (!isArray(value)) return toPlain(value);
  const rows = value.rows.map((row) => row.map(toPlain));
  return value.place ? { rows, place: value.place } : rows;
}

/** A plain value as the library's value; undefined where it is none a cell can hold. */
export function fromPlain(value: unknown): RuntimeScalar | undefined {
  if (value === null || value === undefined) return BLANK_VALUE;
  switch (typeof value) {
    case "number":
      return Number.isFinite(value) ? numberValue(value) : undefined;
    case "string":
      return textValue(value);
    case "boolean":
      return booleanValue(value);
    default:
      return isCellError(value) ? errorValue(value.error, value.message) : undefined;
  }
}

/** Applies a function to each cell of an array, or to the one value; errors pass through. */
export function mapValues(
  values: readonly RuntimeValue[],
  change: (...scalars: RuntimeScalar[]) => RuntimeScalar
): RuntimeValue {
  const arrays = values.filter(isArray);
  const one = (scalars: RuntimeScalar[]): RuntimeScalar =>
    scalars.find((scalar) => scalar.kind === ERROR) ?? change(...scalars);
  if (arrays.length === 0) return one(values as RuntimeScalar[]);
  const height = Math.max(...arrays.map((array) => array.height));
  const width = Math.max(...arrays.map((array) => array.width));
  const at = (value: RuntimeValue, row: number, column: number): RuntimeScalar => {
    if (!isArray(value)) return value;
    const source = value.rows[value.height === 1 ? 0 : row];
    return source?.[value.width === 1 ? 0 : column] ?? errorValue("#N/A");
  };
  const rows: RuntimeScalar[][] = [];
  for (let row = 0; row < height; row++) {
    const cells: RuntimeScalar[] = [];
    for (let column = 0; column < width; column++) {
      cells.push(one(values.map((value) => at(value, row, column))));
    }
    rows.push(cells);
  }
  const origin = arrays.find((array) => array.originRow !== undefined);
  return origin?.originRow === undefined || origin.originCol === undefined
    ? arrayValue(rows)
    : { ...arrayValue(rows), originRow: origin.originRow, originCol: origin.originCol };
}
