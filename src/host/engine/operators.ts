/** Arithmetic, comparison and joining of values, cell by cell where one is a table. */
import { shownNumber } from "./decimal.js";
import { dateNumber } from "./number-format.js";
import {
  arrayValue,
  BLANK,
  BOOLEAN,
  booleanValue,
  ERROR,
  errorValue,
  isArray,
  NUMBER,
  numberValue,
  TEXT,
  textValue,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";

export type Operation = (a: RuntimeScalar, b: RuntimeScalar) => RuntimeScalar;

const NOT_A_NUMBER = errorValue("#VALUE!");

/** A value used as a number; an error where it is text that is none. */
export function toNumber(value: RuntimeScalar): number | RuntimeScalar {
  switch (value.kind) {
    case NUMBER:
      return value.value as number;
    case BLANK:
      return 0;
    case BOOLEAN:
      return value.value === true ? 1 : 0;
    case TEXT:
      return textNumber(value.value as string);
    default:
      return value;
  }
}

/** The number a text stands for, dates with a year and times among them; an error where it is none. */
export function textNumber(text: string): number | RuntimeScalar {
  return (
    numberOf(text) ?? mixedFraction(text) ?? dateLike(text) ?? dateNumber(text) ?? NOT_A_NUMBER
  );
}

/** A whole number and a fraction, such as 1 7/8. */
function mixedFraction(text: string): number | undefined {
  const found = /^\s*([+-]?)\s*(\d+)\s+(\d+)\/(\d+)\s*$/.exec(text);
  if (!found || Number(found[4]) === 0) return undefined;
  const size = Number(found[2]) + Number(found[3]) / Number(found[4]);
  return found[1] === "-" ? -size : size;
}

/** The number a text spells: 12, -1.5, 1E3, 1,000, 50%, $5. */
export function numberOf(text: string): number | undefined {
  const found =
    /^\s*([+-]?)\s*([$€£]?)\s*([+-]?)\s*((?:\d{1,3}(?:,\d{3})+|\d+)\.?\d*|\.\d+)((?:[eE][+-]?\d+)?)\s*(%?)\s*$/.exec(
      text
    );
  if (!found) {
    const inner = /^\s*\(\s*([^()+-]+)\s*\)\s*$/.exec(text)?.[1];
    const size = inner === undefined ? undefined : numberOf(inner);
    return size === undefined ? undefined : -size;
  }
  const [, before, , after, digits = "", exponent = "", percent] = found;
  if (before && after) return undefined;
  const size = Number(digits.replace(/,/g, "") + exponent) / (percent ? 100 : 1);
  if (!Number.isFinite(size)) return undefined;
  return before === "-" || after === "-" ? -size : size;
}

/** Text such as 5/8 would be a date of this year elsewhere: never a number that depends on the day. */
function dateLike(text: string): RuntimeScalar | undefined {
  const trimmed = text.trim();
  return /^[+-]?\d+\s*[/-]\s*\d+$/.test(trimmed) || /^[+-]?\d+-\d+\/\d+$/.test(trimmed)
    ? errorValue(
        "#VALUE!",
        `"${trimmed}" is read as a date; SHEATH.INCHES reads it as a fraction, and "0 ${trimmed}" is a number`
      )
    : undefined;
}

/** A value used as a condition. */
export function toBoolean(value: RuntimeScalar): boolean | RuntimeScalar {
  switch (value.kind) {
    case BOOLEAN:
      return value.value === true;
    case NUMBER:
      return value.value !== 0;
    case BLANK:
      return false;
    case TEXT: {
      const text = (value.value as string).toUpperCase();
      return text === "TRUE" ? true : text === "FALSE" ? false : NOT_A_NUMBER;
    }
    default:
      return value;
  }
}

/** A number as a cell of the general format shows it, to 15 digits. */
export function numberText(value: number): string {
  const shown = shownNumber(value);
  const size = Math.abs(shown);
  if (size !== 0 && size < 1e-4 && size >= 1e-9) {
    return shown.toFixed(20).replace(/0+$/, "").slice(0, 22).replace(/\.$/, "");
  }
  return String(shown)
    .replace(/e([+-])(\d)$/, "e$10$2")
    .replace("e", "E");
}

/** A value used as text. */
export function toText(value: RuntimeScalar): string {
  switch (value.kind) {
    case NUMBER:
      return numberText(value.value as number);
    case TEXT:
      return value.value as string;
    case BOOLEAN:
      return value.value === true ? "TRUE" : "FALSE";
    default:
      return "";
  }
}

function arithmetic(call: (a: number, b: number) => number | RuntimeScalar): Operation {
  return (a, b) => {
    if (a.kind === ERROR) return a;
    if (b.kind === ERROR) return b;
    const left = toNumber(a);
    if (typeof left !== "number") return left;
    const right = toNumber(b);
    if (typeof right !== "number") return right;
    const answer = call(left, right);
    return typeof answer === "number" ? numberValue(answer) : answer;
  };
}

function power(base: number, exponent: number): number | RuntimeScalar {
  if (base === 0 && exponent === 0) return errorValue("#NUM!");
  if (base === 0 && exponent < 0) return errorValue("#DIV/0!");
  return base ** exponent;
}

/** Numbers stand before text, text before TRUE and FALSE. */
function rank(kind: number): number {
  return kind === TEXT ? 1 : kind === BOOLEAN ? 2 : 0;
}

/** Less than 0, 0 or more than 0; numbers as they are shown, to 15 digits, text without regard to capitals. */
export function compareScalars(a: RuntimeScalar, b: RuntimeScalar): number {
  const left = a.kind === BLANK ? blankLike(b) : a;
  const right = b.kind === BLANK ? blankLike(a) : b;
  if (left.kind !== right.kind) return rank(left.kind) - rank(right.kind);
  if (left.kind === NUMBER) return compareNumbers(left.value as number, right.value as number);
  if (left.kind === BOOLEAN) return Number(left.value) - Number(right.value);
  const x = (left.value as string).toLowerCase();
  const y = (right.value as string).toLowerCase();
  return x === y ? 0 : x < y ? -1 : 1;
}

function compareNumbers(a: number, b: number): number {
  const away = a - b;
  // Only numbers this close can be shown alike.
  if (away === 0 || Math.abs(away) > 1e-13 * Math.abs(a)) return away;
  return shownNumber(a) - shownNumber(b);
}

/** An empty cell is 0 beside a number, FALSE beside TRUE, empty text beside text. */
function blankLike({ kind }: RuntimeScalar): RuntimeScalar {
  return kind === TEXT ? textValue("") : kind === BOOLEAN ? booleanValue(false) : numberValue(0);
}

function comparison(holds: (order: number) => boolean): Operation {
  return (a, b) =>
    a.kind === ERROR ? a : b.kind === ERROR ? b : booleanValue(holds(compareScalars(a, b)));
}

export const OPERATIONS: Readonly<Record<string, Operation>> = {
  "+": arithmetic((a, b) => a + b),
  "-": arithmetic((a, b) => a - b),
  "*": arithmetic((a, b) => a * b),
  "/": arithmetic((a, b) => (b === 0 ? errorValue("#DIV/0!") : a / b)),
  "^": arithmetic(power),
  "=": comparison((order) => order === 0),
  "<>": comparison((order) => order !== 0),
  "<": comparison((order) => order < 0),
  ">": comparison((order) => order > 0),
  "<=": comparison((order) => order <= 0),
  ">=": comparison((order) => order >= 0),
  "&": (a, b) => (a.kind === ERROR ? a : b.kind === ERROR ? b : textValue(toText(a) + toText(b))),
};

/** Applies an operation to two values, cell by cell where one is a table; what only one of them covers is #N/A. */
export function combine(operation: Operation, a: RuntimeValue, b: RuntimeValue): RuntimeValue {
  if (!isArray(a) && !isArray(b)) return operation(a, b);
  const height = Math.max(isArray(a) ? a.height : 1, isArray(b) ? b.height : 1);
  const width = Math.max(isArray(a) ? a.width : 1, isArray(b) ? b.width : 1);
  const rows = new Array<RuntimeScalar[]>(height);
  for (let row = 0; row < height; row++) {
    const cells = new Array<RuntimeScalar>(width);
    for (let column = 0; column < width; column++) {
      cells[column] = operation(cellOf(a, row, column), cellOf(b, row, column));
    }
    rows[row] = cells;
  }
  return arrayValue(rows);
}

const UNCOVERED = errorValue("#N/A");

/** The value of a table at a place of a larger one: a row or column of it is repeated. */
export function cellOf(value: RuntimeValue, row: number, column: number): RuntimeScalar {
  if (!isArray(value)) return value;
  return value.rows[value.height === 1 ? 0 : row]?.[value.width === 1 ? 0 : column] ?? UNCOVERED;
}

/** Applies a change to each cell of a table, or to the one value. */
export function mapCells(
  value: RuntimeValue,
  change: (scalar: RuntimeScalar) => RuntimeScalar
): RuntimeValue {
  return isArray(value) ? arrayValue(value.rows.map((row) => row.map(change))) : change(value);
}
