/**
 * The worksheet functions as the calculation library calls them: arguments become plain values, answers and errors
 * become cell values, and an answer already known for the same arguments is not worked out again.
 */
import { cellAddress, sheetPrefix } from "../../core/cell-address.js";
import {
  arrayValue,
  ERROR,
  errorValue,
  fromPlain,
  isArray,
  textValue,
  toArgument,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";
import type { CellArgument, FunctionParameter, WorksheetFunction } from "./values.js";

/** Answers kept from one calculation to the next. */
const MOST_ANSWERS = 5000;
/** Longest argument list, as text, whose answer is kept. */
const LONGEST_KEY = 200000;

export class FunctionSet {
  private readonly byName = new Map<string, WorksheetFunction>();
  /** names without the namespace, in capitals */
  readonly names: ReadonlySet<string>;
  /** what the functions have said of their calls; whoever calculates a cell takes it */
  said: string[] = [];
  private recent = new Map<string, RuntimeValue>();
  private older = new Map<string, RuntimeValue>();

  constructor(
    readonly namespace: string,
    functions: readonly WorksheetFunction[]
  ) {
    for (const entry of functions) this.byName.set(entry.name.toUpperCase(), entry);
    this.names = new Set(this.byName.keys());
  }

  /** The function of a full name such as "SHEATH.INCHES", any case. */
  find(fullName: string): WorksheetFunction | undefined {
    const upper = fullName.toUpperCase();
    const prefix = `${this.namespace.toUpperCase()}.`;
    return upper.startsWith(prefix) ? this.byName.get(upper.slice(prefix.length)) : undefined;
  }

  /** Calls a function with the library's values and answers with one. Never throws. */
  invoke(entry: WorksheetFunction, args: readonly RuntimeValue[]): RuntimeValue {
    const last = entry.parameters?.at(-1);
    const parameterAt = (index: number): FunctionParameter | undefined =>
      entry.parameters?.[index] ?? (last?.repeats ? last : undefined);
    for (let index = 0; index < args.length; index++) {
      const error = errorOf(args[index] as RuntimeValue, parameterAt(index)?.name);
      if (error) return error;
    }
    const plain = args.map((arg, index) => shaped(toArgument(arg), parameterAt(index)?.matrix));
    const most = last?.repeats ? Infinity : (entry.parameters?.length ?? Infinity);
    if (plain.length > most) {
      const count = `${most} argument${most === 1 ? "" : "s"}`;
      return errorValue("#VALUE!", `${entry.name} takes at most ${count}; got ${plain.length}`);
    }
    // Left out at the end is the same as left out in the middle.
    while (plain.length < (entry.parameters?.length ?? 0)) plain.push(null);
    this.said.push(...(entry.remarks?.(...plain) ?? []));
    const key = JSON.stringify([entry.name, plain]);
    const known = this.recent.get(key) ?? this.older.get(key);
    if (known) return known;
    const answer = answerOf(entry, plain);
    if (key.length <= LONGEST_KEY) this.keep(key, answer);
    return answer;
  }

  /** Two maps take turns, so that answers not asked for in a while are dropped. */
  private keep(key: string, answer: RuntimeValue): void {
    if (this.recent.size >= MOST_ANSWERS / 2) {
      this.older = this.recent;
      this.recent = new Map();
    }
    this.recent.set(key, answer);
  }
}

/** The error that came as an argument, or the first one in a range; the function is not called then. */
function errorOf(arg: RuntimeValue, name = "the range"): RuntimeScalar | undefined {
  if (!isArray(arg)) return arg.kind === ERROR ? arg : undefined;
  for (let row = 0; row < arg.height; row++) {
    const column = arg.rows[row]?.findIndex((cell) => cell.kind === ERROR) ?? -1;
    const error = arg.rows[row]?.[column];
    if (!error) continue;
    if (error.message !== undefined) return error;
    const code = error.code as string;
    if (!arg.place) {
      return errorValue(code, `${name} holds ${code} in row ${row + 1}, column ${column + 1}`);
    }
    const { sheet, top, left } = arg.place;
    const cell = sheetPrefix(sheet) + cellAddress(top + row, left + column);
    return errorValue(code, `${name} holds ${code} in ${cell}`);
  }
  return undefined;
}

/** A range for a range argument even where it is one cell; one value where a range of one cell came. */
function shaped(argument: CellArgument, matrix: boolean | undefined): CellArgument {
  if (matrix === undefined) return argument;
  if (Array.isArray(argument)) {
    const only = argument.length === 1 && argument[0]?.length === 1;
    return !matrix && only ? (argument[0]?.[0] ?? null) : argument;
  }
  if (typeof argument === "object" && argument !== null && "place" in argument) return argument;
  return matrix && argument !== null ? [[argument]] : argument;
}

function answerOf(entry: WorksheetFunction, args: CellArgument[]): RuntimeValue {
  try {
    return fromAnswer(entry.call(...args));
  } catch (error) {
    const { name, code, message } = error as { name?: unknown; code?: unknown; message?: unknown };
    const text = typeof message === "string" ? message : String(error);
    if (name === "CellError" && typeof code === "string") return errorValue(code, text);
    return errorValue("#VALUE!", `internal error: ${text}`);
  }
}

function fromAnswer(answer: unknown): RuntimeValue {
  if (!Array.isArray(answer)) return scalarAnswer(answer);
  const rows = (answer as unknown[]).map((row) =>
    Array.isArray(row) ? (row as unknown[]).map(scalarAnswer) : undefined
  );
  const width = rows[0]?.length ?? 0;
  if (width === 0 || rows.some((row) => row?.length !== width)) {
    throw new Error("a table came back empty or with rows of different lengths");
  }
  return arrayValue(rows as RuntimeScalar[][]);
}

function scalarAnswer(answer: unknown): RuntimeScalar {
  // A cell cannot be left empty by a formula: nothing shows as empty text, not as 0.
  if (answer === null || answer === undefined) return textValue("");
  const value = fromPlain(answer);
  if (!value) throw new Error(`a cell cannot hold ${String(answer)}`);
  return value;
}
