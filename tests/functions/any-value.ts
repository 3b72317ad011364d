/** What may stand in a cell, what may come of it, and a count of what came. */
import fs from "node:fs";
import fc from "fast-check";
import { isCalcError } from "../../src/core/check.js";
import { CellError } from "../../src/worksheet/answer.js";

/** Numbers that break sums: the least and the most a double holds, and what is nearly nothing. */
export const EXTREMES: readonly number[] = [
  5e-324,
  -5e-324,
  2.2250738585072014e-308,
  1e-300,
  1e-160,
  1e-20,
  1e-9,
  1e-6,
  1e6,
  1e15,
  9007199254740993,
  1e20,
  1e154,
  1e300,
  1e308,
  1.7976931348623157e308,
  -1e308,
  -1,
  -0,
  0,
  NaN,
  Infinity,
  -Infinity,
];

/** Cells of every kind: blanks, dates, booleans, texts, errors, hosts' wrappings, ranges where one cell is meant. */
export const ODDITIES: readonly unknown[] = [
  null,
  undefined,
  "",
  " ",
  0,
  1,
  0.5,
  48,
  19.2,
  46150,
  1e9,
  -1e9,
  true,
  false,
  "past",
  "left",
  "two-layer",
  "5A",
  "1-7/8",
  "1/0",
  "4'-13\"",
  "7-Jan",
  "2026-01-07",
  "1,234",
  "2; 3",
  "none",
  "#N/A",
  "=1+1",
  "__proto__",
  "constructor",
  "\u0000",
  "\ud800",
  "½",
  "९६",
  "1e999",
  `${"9".repeat(58)}'`,
  "x".repeat(1000),
  {},
  [],
  [[]],
  [[1, 2]],
  [[1], [2]],
  [[null]],
  [[["deep"]]],
  () => 1,
  Symbol("cell"),
  10n,
  new Date(0),
  { basicValue: null },
  { basicValue: { basicValue: 5 } },
  { type: "Error", basicValue: "#DIV/0!" },
];

/** A cell of any kind at all. */
export const anyValue: fc.Arbitrary<unknown> = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(...ODDITIES) },
  { weight: 3, arbitrary: fc.constantFrom<unknown>(...EXTREMES) },
  { weight: 2, arbitrary: fc.double() },
  { weight: 1, arbitrary: fc.string({ maxLength: 20, unit: "binary" }) },
  { weight: 1, arbitrary: fc.anything({ maxDepth: 2 }) }
);

/** The same number of cases everywhere; more where a longer run is asked for. */
export function cases(usual: number): number {
  return Math.round(usual * Number(process.env.FUZZ_TIMES ?? 1));
}

export interface Tally {
  answers: number;
  errors: number;
}

const tallies = new Map<string, Tally>();

/** Counts of one kind of case; written out after the tests where FUZZ_TALLY names a file. */
export function tallyOf(kind: string): Tally {
  const tally = tallies.get(kind) ?? { answers: 0, errors: 0 };
  tallies.set(kind, tally);
  return tally;
}

export function writeTallies(): void {
  const file = process.env.FUZZ_TALLY;
  if (file === undefined) return;
  for (const [kind, tally] of tallies) {
    fs.appendFileSync(file, `${JSON.stringify({ kind, ...tally })}\n`);
  }
}

/** Text that shows a value we failed to look at; what stood in a cell is quoted and may be anything. */
const LEAKED = /(?<!["\w-])(?:NaN|-?Infinity|undefined|\[object)/;

/** Every cell of an answer is text, or a number that is one. */
export function checkAnswer(value: unknown): void {
  if (Array.isArray(value)) {
    value.forEach(checkAnswer);
    return;
  }
  if (typeof value === "string") {
    if (LEAKED.test(value)) throw new Error(`an answer says ${value}`);
    return;
  }
  if (typeof value !== "number") throw new Error(`an answer holds a ${typeof value}`);
  if (!Number.isFinite(value)) throw new Error(`an answer holds ${value}`);
  if (Object.is(value, -0)) throw new Error("an answer holds minus zero");
}

function checkMessage(message: string, error: unknown): void {
  if (message.length > 5 && !/undefined|\[object|NaN in/.test(message)) return;
  throw new Error(`an error says only ${message}`, { cause: error });
}

/** Runs a worksheet function; a bug is not a cell error, and shows. */
export function outcomeOf(work: () => unknown, tally?: Tally): "answer" | "error" {
  let came: unknown;
  try {
    came = work();
  } catch (error) {
    if (!(error instanceof CellError) && !isCalcError(error)) throw error;
    checkMessage(error.message, error);
    if (tally) tally.errors++;
    return "error";
  }
  checkAnswer(came);
  if (tally) tally.answers++;
  return "answer";
}
