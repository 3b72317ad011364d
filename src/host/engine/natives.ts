/**
 * Built-in functions that the calculation library gets wrong where a takeoff would feel it, done again.
 *
 * Desktop programs show and compare numbers to 15 significant digits, so that 0.1*3*10 is 3. The library rounds the
 * raw binary number, 3.0000000000000004, and ROUNDUP of that is 4: one panel too many.
 */
import { columnLetters, MAX_COLUMN, MAX_ROW, sheetPrefix } from "../../core/cell-address.js";
import { roundDecimal, shownNumber } from "./decimal.js";
import { libraryFunction, type NativeFunction } from "./library.js";
import { formatNumber, formatText } from "./number-format.js";
import { ofNumbers } from "./of-numbers.js";
import { textNumber, toBoolean, toNumber, toText } from "./operators.js";
import { converted } from "./units.js";
import {
  BLANK,
  BOOLEAN,
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

/** Largest whole number not above the shown value. */
function floorShown(value: number): number {
  return Math.floor(shownNumber(value));
}
/** A multiple of a step without the noise of binary multiplication. */
function times(count: number, step: number): number {
  return shownNumber(count * step);
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
  [
    "CONVERT",
    {
      minArity: 3,
      maxArity: 3,
      invoke: ([number, from, to]) => {
        const value = toNumber(number as RuntimeScalar);
        if (typeof value !== "number") return value;
        const units = [from, to].map((unit) => toText(unit as RuntimeScalar)) as [string, string];
        const answer = converted(value, ...units);
        return answer === undefined
          ? errorValue("#N/A", `CONVERT does not turn "${units[0]}" into "${units[1]}"`)
          : numberValue(answer);
      },
    },
  ],
  [
    "TIME",
    ofNumbers(3, 3, (hours, minutes, seconds) => {
      const whole = [hours, minutes, seconds].map((number) => Math.trunc(number!));
      if (whole.some((number) => Math.abs(number) > MOST_TIME)) return "#NUM!";
      const total = whole[0]! * 3600 + whole[1]! * 60 + whole[2]!;
      return total < 0 ? "#NUM!" : (total % 86400) / 86400;
    }),
  ],
  ["GCD", wholeNumbers((numbers) => numbers.reduce(commonDivisor, 0))],
  [
    "LCM",
    wholeNumbers((numbers) =>
      numbers.reduce(
        (a, b) => (a === 0 || b === 0 ? 0 : (a / commonDivisor(a, b)) * b),
        numbers.length === 0 ? 0 : 1
      )
    ),
  ],
  [
    "POWER",
    ofNumbers(2, 2, (base, exponent) => {
      if (base === 0 && exponent! <= 0) return exponent === 0 ? "#NUM!" : "#DIV/0!";
      return base! ** exponent!;
    }),
  ],
  [
    "COMBINA",
    ofNumbers(2, 2, (of, chosen) => {
      const [n, k] = [Math.trunc(of!), Math.trunc(chosen!)];
      if (n < 0 || k < 0) return "#NUM!";
      if (k === 0) return 1;
      if (n === 0) return "#NUM!";
      let ways = 1;
      // the smaller of the two ways to count; the answer outgrows any number long before the steps do
      const steps = Math.min(k, n - 1);
      for (let step = 1; step <= steps; step++) {
        ways = (ways * (n + k - 1 - steps + step)) / step;
        if (!Number.isFinite(ways)) return "#NUM!";
      }
      return Math.round(ways);
    }),
  ],
  [
    "VDB",
    ofNumbers(5, 7, (cost, salvage, life, from, to, factor = 2, stays = 0) =>
      declining(cost!, salvage!, life!, from!, to!, factor, stays !== 0)
    ),
  ],
  ["ROMAN", { minArity: 1, maxArity: 2, invoke: ([number, form]) => roman(number!, form) }],
  ["CHAR", { minArity: 1, maxArity: 1, invoke: ([code]) => character(code as RuntimeScalar) }],
  [
    "CODE",
    {
      minArity: 1,
      maxArity: 1,
      invoke: ([text]) => {
        const scalar = text as RuntimeScalar;
        if (scalar.kind === ERROR) return scalar;
        const [first] = toText(scalar);
        if (first === undefined) return errorValue("#VALUE!");
        const at = WINDOWS_1252.indexOf(first);
        const code = first.codePointAt(0) as number;
        return numberValue(at >= 0 ? at + 128 : code < 256 ? code : "_".charCodeAt(0));
      },
    },
  ],
  [
    "MODE.SNGL",
    {
      minArity: 1,
      maxArity: 255,
      invoke: (args) => {
        const counts = new Map<number, number>();
        for (const cell of args.flatMap((arg) => (isArray(arg) ? arg.rows.flat() : [arg]))) {
          if (cell.kind === ERROR) return cell;
          if (cell.kind !== NUMBER) continue;
          counts.set(cell.value as number, (counts.get(cell.value as number) ?? 0) + 1);
        }
        // of several the one that stands first
        const [value, count] = [...counts].reduce((a, b) => (b[1] > a[1] ? b : a), [0, 1]);
        return count > 1 ? numberValue(value) : errorValue("#N/A");
      },
    },
  ],
  [
    "MODE",
    {
      minArity: 1,
      maxArity: 255,
      invoke: (args) => NATIVE_FUNCTIONS.get("MODE.SNGL")!.invoke(args),
    },
  ],
  [
    "ADDRESS",
    {
      minArity: 2,
      maxArity: 5,
      invoke: (args) => addressText(args as RuntimeScalar[]),
    },
  ],
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

/** Largest hours, minutes or seconds TIME takes (its documentation). */
const MOST_TIME = 32_767;
/** Whole numbers up to this are told apart. */
const LARGEST_WHOLE = 2 ** 53;

function commonDivisor(a: number, b: number): number {
  let [one, other] = [a, b];
  while (other !== 0) [one, other] = [other, one % other];
  return one;
}

/** A function of whole numbers from 0 on, in ranges too; text that is no number and TRUE are errors. */
function wholeNumbers(call: (numbers: readonly number[]) => number): NativeFunction {
  return {
    minArity: 1,
    maxArity: 255,
    invoke: (args) => {
      const numbers: number[] = [];
      for (const cell of args.flatMap((arg) => (isArray(arg) ? arg.rows.flat() : [arg]))) {
        if (cell.kind === BOOLEAN) return errorValue("#VALUE!");
        if (cell.kind === BLANK) continue;
        const number = toNumber(cell);
        if (typeof number !== "number") return number;
        const whole = Math.trunc(number);
        if (whole < 0 || whole > LARGEST_WHOLE) return errorValue("#NUM!");
        numbers.push(whole);
      }
      const answer = call(numbers);
      return answer > LARGEST_WHOLE ? errorValue("#NUM!") : numberValue(answer);
    },
  };
}

/**
 * Depreciation by a declining balance from one moment to another, straight where that takes off more unless it `stays`.
 * @source ECMA-376 part 1, 18.17.7.335 (VDB)
 */
function declining(
  cost: number,
  salvage: number,
  life: number,
  from: number,
  to: number,
  factor: number,
  stays: boolean
): number | string {
  if (cost < 0 || salvage < 0 || life <= 0 || from < 0 || to < from || to > life || factor < 0) {
    return "#NUM!";
  }
  let left = cost;
  let taken = 0;
  for (let period = 0; period < Math.ceil(to); period++) {
    const share = Math.min(left * Math.min(1, factor / life), Math.max(0, left - salvage));
    const straight = Math.max(0, left - salvage) / Math.max(1, life - period);
    const off = !stays && straight > share ? straight : share;
    const start = Math.max(from, period);
    const end = Math.min(to, period + 1);
    if (end > start) taken += off * (end - start);
    left -= off;
  }
  return taken;
}

/** Roman figures with what may stand before them, from the classic form 0 to the shortest 4. */
const ROMAN_FORMS: readonly string[] = [
  "1000M 900CM 500D 400CD 100C 90XC 50L 40XL 10X 9IX 5V 4IV 1I",
  "1000M 950LM 900CM 500D 450LD 400CD 100C 95VC 90XC 50L 45VL 40XL 10X 9IX 5V 4IV 1I",
  "1000M 990XM 950LM 900CM 500D 490XD 450LD 400CD 100C 99IC 95VC 90XC 50L 49IL 45VL 40XL 10X 9IX 5V 4IV 1I",
  "1000M 995VM 990XM 950LM 900CM 500D 495VD 490XD 450LD 400CD 100C 99IC 95VC 90XC 50L 49IL 45VL 40XL 10X 9IX 5V 4IV 1I",
  "1000M 999IM 995VM 990XM 950LM 900CM 500D 499ID 495VD 490XD 450LD 400CD 100C 99IC 95VC 90XC 50L 49IL 45VL 40XL 10X 9IX 5V 4IV 1I",
];

/** ROMAN: 499 is CDXCIX in form 0, ID in form 4. */
function roman(given: RuntimeValue, givenForm: RuntimeValue | undefined): RuntimeScalar {
  const number = toNumber(given as RuntimeScalar);
  if (typeof number !== "number") return number;
  const wanted = givenForm as RuntimeScalar | undefined;
  const form =
    wanted === undefined || wanted.kind === BLANK || wanted.value === true
      ? 0
      : wanted.value === false
        ? 4
        : toNumber(wanted);
  if (typeof form !== "number") return form;
  const figures = ROMAN_FORMS[Math.trunc(form)];
  let rest = Math.trunc(number);
  if (!figures || rest < 0 || rest > 3999) return errorValue("#VALUE!");
  let text = "";
  for (const figure of figures.split(" ")) {
    const value = Number.parseInt(figure, 10);
    for (; rest >= value; rest -= value) text += figure.slice(String(value).length);
  }
  return textValue(text);
}

/** The characters 128 to 159 of the character set that CHAR and CODE number by. */
const WINDOWS_1252 = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";

function character(scalar: RuntimeScalar): RuntimeScalar {
  const number = toNumber(scalar);
  if (typeof number !== "number") return number;
  const code = Math.trunc(number);
  if (code < 1 || code > 255) return errorValue("#VALUE!");
  return textValue(WINDOWS_1252[code - 128] ?? String.fromCharCode(code));
}

/** ADDRESS: $A$1, or R1C1 where its fourth argument is FALSE or 0. */
function addressText(args: readonly RuntimeScalar[]): RuntimeScalar {
  const error = args.find(({ kind }) => kind === ERROR);
  if (error) return error;
  const numbers = [args[0]!, args[1]!, args[2] ?? numberValue(1)].map(toNumber);
  const failed = numbers.find((number) => typeof number !== "number");
  if (failed !== undefined) return failed as RuntimeScalar;
  const [row, column] = numbers.map((number) => Math.trunc(number as number)) as [number, number];
  const way =
    args[2] === undefined || args[2].kind === BLANK ? 1 : Math.trunc(numbers[2] as number);
  const isA1 = args[3] === undefined || args[3].kind === BLANK ? true : toBoolean(args[3]);
  if (typeof isA1 !== "boolean") return isA1;
  const isPlace = row >= 1 && row <= MAX_ROW && column >= 1 && column <= MAX_COLUMN;
  if (!isPlace || way < 1 || way > 4) return errorValue("#VALUE!");
  const [fixedRow, fixedColumn] = [way === 1 || way === 2, way === 1 || way === 3];
  const place = isA1
    ? `${fixedColumn ? "$" : ""}${columnLetters(column)}${fixedRow ? "$" : ""}${row}`
    : `R${fixedRow ? row : `[${row}]`}C${fixedColumn ? column : `[${column}]`}`;
  const sheet = args[4] === undefined || args[4].kind === BLANK ? "" : toText(args[4]);
  return textValue((sheet === "" ? "" : sheetPrefix(sheet)) + place);
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
