/**
 * Built-in functions that the calculation library gets wrong where a takeoff would feel it, done again.
 *
 * Desktop programs show and compare numbers to 15 significant digits, so that 0.1*3*10 is 3. The library rounds the
 * raw binary number, 3.0000000000000004, and ROUNDUP of that is 4: one panel too many.
 */
import {
  BLANK,
  BOOLEAN,
  ERROR,
  errorValue,
  isArray,
  mapValues,
  NUMBER,
  numberValue,
  TEXT,
  textValue,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";

/** Significant decimal digits that worksheets keep (ISO/IEC 29500-1 leaves it open; desktop programs agree on 15). */
const DIGITS = 15;

/** The number a worksheet shows for a binary number: its 15 significant digits. */
export function shownNumber(value: number): number {
  return Number(value.toPrecision(DIGITS));
}

interface Decimal {
  readonly negative: boolean;
  readonly digits: bigint;
  /** value is digits / 10^places */
  readonly places: number;
}

function decimal(value: number): Decimal {
  const [mantissa = "0", exponent = "0"] = Math.abs(value)
    .toExponential(DIGITS - 1)
    .split("e");
  const digits = BigInt(mantissa.replace(".", ""));
  return { negative: value < 0, digits, places: DIGITS - 1 - Number(exponent) };
}

type Direction = "half" | "up" | "down";

/** Rounds to a number of decimal places in decimal, as the shown number would be rounded by hand. */
export function roundDecimal(value: number, places: number, direction: Direction): number {
  if (value === 0 || !Number.isFinite(value)) return value;
  const { negative, digits, places: held } = decimal(value);
  const drop = held - places;
  if (drop <= 0) return shownNumber(value);
  // 10^30 exceeds any 15-digit number: what is left is 0, or 1 unit where it rounds up.
  const unit = 10n ** BigInt(Math.min(drop, 30));
  let whole = digits / unit;
  const rest = digits % unit;
  if ((direction === "half" && rest * 2n >= unit) || (direction === "up" && rest > 0n)) whole += 1n;
  const size = Number(`${whole}e${-places}`);
  return negative && size !== 0 ? -size : size;
}

/** Largest whole number not above the shown value. */
function floorShown(value: number): number {
  return Math.floor(shownNumber(value));
}
/** A multiple of a step without the noise of binary multiplication. */
function times(count: number, step: number): number {
  return shownNumber(count * step);
}

/** Number of a value used as a number; undefined where it is text that is none. */
function asNumber(value: RuntimeScalar): number | undefined {
  switch (value.kind) {
    case NUMBER:
      return value.value as number;
    case BLANK:
      return 0;
    case BOOLEAN:
      return value.value === true ? 1 : 0;
    case TEXT: {
      const text = (value.value as string).trim();
      const percent = text.endsWith("%");
      const body = percent ? text.slice(0, -1).trim() : text;
      if (!/^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(body)) return undefined;
      return Number(body) / (percent ? 100 : 1);
    }
    default:
      return undefined;
  }
}

/** A function of numbers, applied cell by cell where an argument is a range. */
function ofNumbers(
  fewest: number,
  most: number,
  call: (...numbers: number[]) => number | string
): NativeFunction {
  return {
    minArity: fewest,
    maxArity: most,
    invoke: (args) =>
      mapValues(args, (...scalars) => {
        const numbers: number[] = [];
        for (const scalar of scalars) {
          const number = asNumber(scalar);
          if (number === undefined) return errorValue("#VALUE!");
          numbers.push(number);
        }
        const answer = call(...numbers);
        return typeof answer === "string" ? errorValue(answer) : numberValue(answer);
      }),
  };
}

export interface NativeFunction {
  readonly minArity: number;
  readonly maxArity: number;
  readonly invoke: (args: RuntimeValue[]) => RuntimeValue;
}

function places(value: number): number {
  return Math.trunc(shownNumber(value));
}

/** CEILING and FLOOR: a negative step with a positive number is an error. */
function stepped(number: number, step: number, round: (count: number) => number): number | string {
  if (number === 0 || step === 0) return 0;
  if (number > 0 && step < 0) return "#NUM!";
  return times(round(shownNumber(number / step)), step);
}

/** CEILING.MATH and kin: the sign of the step does not matter, `away` turns negative numbers round. */
function steppedSize(number: number, step: number, away: number, up: boolean): number {
  const size = Math.abs(step);
  if (number === 0 || size === 0) return 0;
  const reverse = number < 0 && away !== 0;
  const count = shownNumber(number / size);
  const whole = up !== reverse ? Math.ceil(count) : Math.floor(count);
  return times(whole, size);
}

/** What is left of a number, with the sign of the divisor; the noise of binary fractions is no remainder. */
function remainder(number: number, by: number): number {
  const rest = number - by * floorShown(number / by);
  return Math.abs(rest) < 1e-15 * Math.abs(number) ? 0 : shownNumber(rest);
}

/** To the next even or odd number away from zero. */
function awayFromZero(value: number, odd: boolean): number {
  const size = Math.abs(shownNumber(value));
  let whole = Math.ceil(size);
  if ((whole % 2 === 1) !== odd) whole += 1;
  return value < 0 ? -whole : whole;
}

/** Name of the function that takes a number as shown; it wraps the sides of =, <, &, and their kin. */
export const SHOWN = "HOST_.SHOWN";
/** Name of the function that rounds a number for a format and leaves anything else alone. */
export const ROUNDED = "HOST_.ROUNDED";
/** Name of the function that formats what TEXT cannot: fractions, and values that are no numbers. */
export const ANY_TEXT = "HOST_.ANY_TEXT";
/** Name of the function that reads fractions where VALUE gave an error. */
export const ANY_VALUE = "HOST_.ANY_VALUE";

export const NATIVE_FUNCTIONS: ReadonlyMap<string, NativeFunction> = new Map<
  string,
  NativeFunction
>([
  ["ROUND", ofNumbers(2, 2, (number, digits) => roundDecimal(number!, places(digits!), "half"))],
  ["ROUNDUP", ofNumbers(2, 2, (number, digits) => roundDecimal(number!, places(digits!), "up"))],
  [
    "ROUNDDOWN",
    ofNumbers(2, 2, (number, digits) => roundDecimal(number!, places(digits!), "down")),
  ],
  ["TRUNC", ofNumbers(1, 2, (number, digits = 0) => roundDecimal(number!, places(digits), "down"))],
  ["INT", ofNumbers(1, 1, (number) => floorShown(number!))],
  ["CEILING", ofNumbers(2, 2, (number, step) => stepped(number!, step!, Math.ceil))],
  [
    "FLOOR",
    ofNumbers(2, 2, (number, step) =>
      step === 0 && number !== 0 ? "#DIV/0!" : stepped(number!, step!, Math.floor)
    ),
  ],
  [
    "CEILING.MATH",
    ofNumbers(1, 3, (number, step = 1, away = 0) => steppedSize(number!, step, away, true)),
  ],
  [
    "FLOOR.MATH",
    ofNumbers(1, 3, (number, step = 1, away = 0) => steppedSize(number!, step, away, false)),
  ],
  ["CEILING.PRECISE", ofNumbers(1, 2, (number, step = 1) => steppedSize(number!, step, 0, true))],
  ["ISO.CEILING", ofNumbers(1, 2, (number, step = 1) => steppedSize(number!, step, 0, true))],
  ["FLOOR.PRECISE", ofNumbers(1, 2, (number, step = 1) => steppedSize(number!, step, 0, false))],
  [
    "MROUND",
    ofNumbers(2, 2, (number, step) => {
      if (number === 0 || step === 0) return 0;
      if (number! < 0 !== step! < 0) return "#NUM!";
      return times(roundDecimal(number! / step!, 0, "half"), step!);
    }),
  ],
  [
    "QUOTIENT",
    ofNumbers(2, 2, (number, by) =>
      by === 0 ? "#DIV/0!" : Math.trunc(shownNumber(number! / by!))
    ),
  ],
  ["MOD", ofNumbers(2, 2, (number, by) => (by === 0 ? "#DIV/0!" : remainder(number!, by!)))],
  ["EVEN", ofNumbers(1, 1, (number) => awayFromZero(number!, false))],
  ["ODD", ofNumbers(1, 1, (number) => (number === 0 ? 1 : awayFromZero(number!, true)))],
  [
    SHOWN,
    {
      minArity: 1,
      maxArity: 1,
      invoke: ([value]) =>
        value === undefined
          ? errorValue("#VALUE!")
          : !isArray(value)
            ? shownScalar(value)
            : { ...value, rows: value.rows.map((row) => row.map(shownScalar)) },
    },
  ],
  [
    ROUNDED,
    {
      minArity: 2,
      maxArity: 2,
      invoke: (args) =>
        mapValues(args, (value, format) => {
          const places = formatPlaces(String(format?.value ?? ""));
          return value.kind === NUMBER && places !== undefined
            ? numberValue(roundDecimal(value.value as number, places, "half"))
            : value;
        }),
    },
  ],
  [
    ANY_TEXT,
    {
      minArity: 3,
      maxArity: 3,
      invoke: ([value, format, native]) =>
        // What TEXT made of a text that is no number is an error, which must not decide the answer.
        mapValues([value!, format!, hidden(native!)], (one, pattern, otherwise) => {
          if (one.kind === BOOLEAN) return textValue(one.value === true ? "TRUE" : "FALSE");
          const number = asNumber(one);
          if (number === undefined) return one;
          const text = String(pattern.value ?? "");
          return isFractionFormat(text)
            ? textValue(fractionText(number, text))
            : ((otherwise as HiddenError).held ?? otherwise);
        }),
    },
  ],
  [
    ANY_VALUE,
    {
      minArity: 2,
      maxArity: 2,
      invoke: ([text, otherwise]) =>
        text && !isArray(text) && text.kind === TEXT
          ? (fractionValue(text.value as string) ?? (otherwise as RuntimeValue))
          : (otherwise as RuntimeValue),
    },
  ],
]);

function shownScalar(value: RuntimeScalar): RuntimeScalar {
  return value.kind === NUMBER ? numberValue(shownNumber(value.value as number)) : value;
}

/**
 * Decimal places a number format shows; undefined where it is not a plain number format.
 * @example formatPlaces("0.00")  // => 2
 * @example formatPlaces("0.0%")  // => 3
 */
export function formatPlaces(format: string): number | undefined {
  const found = /^[$#,0? ]*(?:\.([0#?]+))?[ ]?(%?)$/.exec(format);
  if (!found || !/[0#?]/.test(format)) return undefined;
  return (found[1]?.length ?? 0) + (found[2] === "%" ? 2 : 0);
}

/** A number format that shows a fraction: # ?/16, # ??/??, 0 #/8, ?/?. */
const FRACTION_FORMAT = /^((?:[#0?]+)\s+)?[#?0]+\s*\/\s*(\d+|[#?0]+)$/;

export function isFractionFormat(format: string): boolean {
  return FRACTION_FORMAT.test(format.trim());
}

interface HiddenError extends RuntimeScalar {
  readonly held?: RuntimeScalar;
}

/** A value whose errors are put aside, so that they pass as values until they are asked for. */
function hidden(value: RuntimeValue): RuntimeValue {
  const hide = (one: RuntimeScalar): HiddenError =>
    one.kind === ERROR ? { kind: BLANK, held: one } : one;
  return isArray(value) ? { ...value, rows: value.rows.map((row) => row.map(hide)) } : hide(value);
}

/**
 * TEXT(number, "# ?/16") and kin. The width of the marks is kept, as the desktop programs do: ? holds a blank open.
 * @example fractionText(1.875, "# ?/8") // => "1 7/8"
 */
export function fractionText(number: number, format: string): string {
  const found = FRACTION_FORMAT.exec(format.trim());
  if (!found) return String(number);
  const wholeMarks = found[1]?.trim();
  const below = found[2] as string;
  const above = format
    .trim()
    .slice(found[1]?.length ?? 0)
    .split("/")[0]!
    .trim();
  const size = Math.abs(shownNumber(number));
  let whole = wholeMarks === undefined ? 0 : Math.floor(size);
  const part = size - whole;
  let top: number;
  let bottom: number;
  if (/^\d*[1-9]\d*$/.test(below)) {
    bottom = Number(below);
    top = roundDecimal(part * bottom, 0, "half");
  } else {
    [top, bottom] = nearestFraction(part, 10 ** below.length - 1);
  }
  if (wholeMarks !== undefined && top === bottom) {
    whole += 1;
    top = 0;
  }
  const sign = number < 0 && (whole !== 0 || top !== 0) ? "-" : "";
  const padTop = above.includes("?") ? String(top).padStart(above.length) : String(top);
  const padBottom = below.includes("?") ? String(bottom).padEnd(below.length) : String(bottom);
  if (wholeMarks === undefined) return sign + padTop + "/" + padBottom;
  if (top === 0 && !above.includes("0")) {
    // A whole number: the place of the fraction is left blank.
    const blank = " ".repeat(1 + above.length + 1 + below.length);
    return sign + String(whole) + (/[?]/.test(above + below) ? blank : "");
  }
  const shownWhole = whole === 0 && !wholeMarks.includes("0") ? "" : String(whole);
  return `${sign}${shownWhole} ${padTop}/${padBottom}`;
}

/** The fraction nearest to a part of 1 with a denominator up to `most` (the smallest such denominator). */
function nearestFraction(part: number, most: number): [number, number] {
  let best: [number, number] = [Math.round(part), 1];
  let error = Math.abs(part - best[0]);
  for (let bottom = 2; bottom <= most && error > 0; bottom++) {
    const top = Math.round(part * bottom);
    const away = Math.abs(part - top / bottom);
    if (away < error - 1e-15) {
      best = [top, bottom];
      error = away;
    }
  }
  return best;
}

/**
 * VALUE of a whole number and a fraction, such as "1 7/8". A fraction alone ("5/8") is a date to a desktop program,
 * so here it is an error that says what to use instead: never a number that depends on the day.
 */
function fractionValue(text: string): RuntimeScalar | undefined {
  const mixed = /^\s*([+-]?)\s*(\d+)\s+(\d+)\/(\d+)\s*$/.exec(text);
  if (mixed && Number(mixed[4]) !== 0) {
    const size = Number(mixed[2]) + Number(mixed[3]) / Number(mixed[4]);
    return numberValue(mixed[1] === "-" ? -size : size);
  }
  if (/^\s*[+-]?\d+\s*[/-]\s*\d+(?:\s*[/-]\s*\d+)?\s*$/.test(text)) {
    return errorValue(
      "#VALUE!",
      `VALUE reads "${text.trim()}" as a date; SHEATH.INCHES reads it as a fraction, and "0 ${text.trim()}" is one to VALUE too`
    );
  }
  return undefined;
}
