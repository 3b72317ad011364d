/**
 * Argument checks, the one error class of the core, and the wording of every message.
 *
 * A message names the argument, the rule and what came: `thickness must be more than 0 in; got -1`.
 */

/**
 * - `wrong-kind`: not the kind of value asked for (text for a number, a date for a length)
 * - `out-of-range`: the right kind, but outside the limits, or at odds with another argument
 * - `not-covered`: sound input that no rule or published table reaches
 */
export type CalcErrorCode = "wrong-kind" | "out-of-range" | "not-covered";

/** The only error the core throws on purpose. `code` survives where `instanceof` does not. */
export class CalcError extends Error {
  readonly code: CalcErrorCode;
  constructor(code: CalcErrorCode, message: string) {
    super(message);
    this.name = "CalcError";
    this.code = code;
  }
}

/**
 * True for a CalcError, also for one made in another realm (a page, a script host).
 *
 * @param error whatever was thrown
 * @returns whether its `code` can be read
 * @shape one truth value
 * @throws nothing: any value may be asked about
 * @source definition: an object named CalcError with a code
 * @example isCalcError(new CalcError("not-covered", "no row")) // => true
 * @example isCalcError(new Error("no row")) // => false
 */
export function isCalcError(error: unknown): error is CalcError {
  return (
    typeof error === "object" &&
    error !== null &&
    (error as { name?: unknown }).name === "CalcError" &&
    typeof (error as { code?: unknown }).code === "string"
  );
}

export function wrongKind(message: string): CalcError {
  return new CalcError("wrong-kind", message);
}
export function outOfRange(message: string): CalcError {
  return new CalcError("out-of-range", message);
}
export function notCovered(message: string): CalcError {
  return new CalcError("not-covered", message);
}

/** How a value is named in a message: text in quotes, long text cut, blank called blank. */
export function shown(value: unknown): string {
  if (value === null || value === undefined || value === "") return "a blank";
  if (typeof value === "string") {
    const cut = value.length > 40 ? value.slice(0, 37) + "..." : value;
    return `"${cut}"`;
  }
  if (typeof value === "number") return Number.isFinite(value) ? tidy(value) : String(value);
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  if (Array.isArray(value)) return "a range";
  return "a value of another kind";
}

/** A number without the noise of binary fractions: at most 9 significant decimals. */
function tidy(value: number): string {
  return String(Number(value.toPrecision(9)));
}

export interface Limits {
  /** value must be more than this */
  above?: number;
  /** value must be at least this */
  min?: number;
  /** value must be less than this */
  below?: number;
  /** value must be at most this */
  max?: number;
  /** unit named in the message, as in "in" or "deg" */
  unit?: string;
  /** must be a whole number */
  whole?: boolean;
  /** added to the end of the message: what to do about it */
  hint?: string;
}

/** Returns the value, a finite number inside the limits; throws CalcError otherwise. */
export function checkNumber(name: string, value: unknown, limits: Limits = {}): number {
  const hint = limits.hint ? `; ${limits.hint}` : "";
  if (typeof value !== "number") {
    throw wrongKind(`${name} must be a number; got ${shown(value)}${hint}`);
  }
  if (!Number.isFinite(value)) {
    throw wrongKind(`${name} must be a finite number; got ${shown(value)}${hint}`);
  }
  const unit = limits.unit ? ` ${limits.unit}` : "";
  const fail = (rule: string): CalcError =>
    outOfRange(`${name} must be ${rule}; got ${tidy(value)}${hint}`);
  if (limits.whole && !Number.isInteger(value)) throw fail("a whole number");
  if (limits.above !== undefined && !(value > limits.above)) {
    throw fail(`more than ${tidy(limits.above)}${unit}`);
  }
  if (limits.min !== undefined && !(value >= limits.min)) {
    throw fail(`at least ${tidy(limits.min)}${unit}`);
  }
  if (limits.below !== undefined && !(value < limits.below)) {
    throw fail(`less than ${tidy(limits.below)}${unit}`);
  }
  if (limits.max !== undefined && !(value <= limits.max)) {
    throw fail(`at most ${tidy(limits.max)}${unit}`);
  }
  return value === 0 ? 0 : value;
}

/** Returns a record to read fields from; throws CalcError for anything else. */
export function checkRecord<T extends object>(name: string, value: T): T {
  if (typeof value !== "object" || (value as unknown) === null) {
    throw wrongKind(`${name} must be a record; got ${shown(value)}`);
  }
  return value;
}

/** Returns the choice in the spelling of the list (case and outer spaces ignored), or throws. */
export function checkChoice<T extends string>(
  name: string,
  value: unknown,
  choices: readonly T[]
): T {
  const allowed = choices.join(", ");
  if (typeof value !== "string" || value.trim() === "") {
    throw wrongKind(`${name} must be one of ${allowed}; got ${shown(value)}`);
  }
  const wanted = value.trim().toLowerCase().replace(/\s+/g, " ");
  const found = choices.find((choice) => choice.toLowerCase() === wanted);
  if (found === undefined) {
    throw outOfRange(`${name} must be one of ${allowed}; got ${shown(value)}`);
  }
  return found;
}

/** Differences below this are rounding, never lumber: a millionth of an inch. */
export const TINY_IN = 1e-6;

/**
 * Rounds up without being fooled by binary fractions: 3.0000000000000004 is 3, not 4.
 * Plain Math.ceil would order a panel, a roll or a box too many.
 */
export function ceilCount(value: number): number {
  const up = Math.ceil(value - 1e-9 * Math.max(1, Math.abs(value)));
  return up === 0 ? 0 : up;
}

/** Rounds down without being fooled by binary fractions: 1.9999999999999998 is 2, not 1. */
export function floorCount(value: number): number {
  const down = Math.floor(value + 1e-9 * Math.max(1, Math.abs(value)));
  return down === 0 ? 0 : down;
}
