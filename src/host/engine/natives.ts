/**
 * Built-in functions that the calculation library gets wrong where a takeoff would feel it, done again.
 *
 * Desktop programs show and compare numbers to 15 significant digits, so that 0.1*3*10 is 3. The library rounds the
 * raw binary number, 3.0000000000000004, and ROUNDUP of that is 4: one panel too many.
 */
import { roundDecimal, shownNumber } from "./decimal.js";
import { libraryFunction, type NativeFunction } from "./library.js";
import { formatNumber, formatText } from "./number-format.js";
import { textNumber, toNumber, toText } from "./operators.js";
import {
  BLANK,
  BOOLEAN,
  ERROR,
  errorValue,
  NUMBER,
  numberValue,
  TEXT,
  textValue,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";

/** Largest whole number not above the shown value. */
function floorShown(value: number): number {
  return Math.floor(shownNumber(value));
}
/** A multiple of a step without the noise of binary multiplication. */
function times(count: number, step: number): number {
  return shownNumber(count * step);
}

/** A function of numbers. */
function ofNumbers(
  fewest: number,
  most: number,
  call: (...numbers: number[]) => number | string
): NativeFunction {
  return {
    minArity: fewest,
    maxArity: most,
    invoke: (args) => {
      const error = args.find(({ kind }) => kind === ERROR);
      if (error) return error;
      const numbers: number[] = [];
      for (const scalar of args as RuntimeScalar[]) {
        const number = toNumber(scalar);
        if (typeof number !== "number") return number;
        numbers.push(number);
      }
      const answer = call(...numbers);
      return typeof answer === "string" ? errorValue(answer) : numberValue(answer);
    },
  };
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
  ["TEXT", { minArity: 2, maxArity: 2, invoke: ([value, format]) => formatted(value!, format!) }],
  [
    "FIXED",
    {
      minArity: 1,
      maxArity: 3,
      invoke: ([number, places, plain]) => fixed("FIXED", number!, places, plain),
    },
  ],
  [
    "DOLLAR",
    {
      minArity: 1,
      maxArity: 2,
      invoke: ([number, places]) => fixed("DOLLAR", number!, places, undefined),
    },
  ],
  [
    "VALUE",
    {
      minArity: 1,
      maxArity: 1,
      invoke: ([text]) => {
        const value = text as RuntimeScalar;
        if (value.kind === ERROR || value.kind === NUMBER) return value;
        if (value.kind === BOOLEAN) return errorValue("#VALUE!");
        const number = value.kind === BLANK ? 0 : textNumber(value.value as string);
        return typeof number === "number" ? numberValue(number) : number;
      },
    },
  ],
]);

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

/** TEXT: a number in a format; what is no number is text. */
function formatted(given: RuntimeValue, pattern: RuntimeValue): RuntimeScalar {
  const [value, format] = [given as RuntimeScalar, pattern as RuntimeScalar];
  if (value.kind === ERROR) return value;
  if (format.kind === ERROR) return format;
  const text = toText(format);
  if (value.kind === BOOLEAN) return textValue(toText(value));
  const number = value.kind === TEXT ? textNumber(value.value as string) : toNumber(value);
  try {
    if (typeof number !== "number") return textValue(formatText(toText(value), text));
    if (isFractionFormat(text)) return textValue(fractionText(number, text));
    return textValue(formatNumber(number, text));
  } catch {
    return errorValue("#VALUE!", `"${text}" is no number format that fits ${toText(value)}`);
  }
}

/** FIXED and DOLLAR with the number rounded as it is shown; both show two decimals unless told otherwise. */
function fixed(
  name: string,
  number: RuntimeValue,
  given: RuntimeValue | undefined,
  plain: RuntimeValue | undefined
): RuntimeValue {
  const value = toNumber(number as RuntimeScalar);
  if (typeof value !== "number") return value;
  const decimals = given === undefined ? 2 : toNumber(given as RuntimeScalar);
  if (typeof decimals !== "number") return decimals;
  if (decimals > MOST_DECIMALS) return errorValue("#VALUE!");
  const rounded = numberValue(roundDecimal(value, places(decimals), "half"));
  return libraryFunction(name)!.invoke([
    rounded,
    numberValue(decimals),
    ...(plain === undefined ? [] : [plain]),
  ]);
}

/** Decimals FIXED and DOLLAR may show (their documentation). */
const MOST_DECIMALS = 127;
