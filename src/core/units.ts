/**
 * Lengths: tape-measure text to inches, inches to tape-measure text. The only unit conversions here.
 *
 * @source in = 25.4 mm exactly: NIST SP 811, Appendix B
 */
import { checkNumber, outOfRange, shown, wrongKind } from "./check.js";

/** definition */
export const INCHES_PER_FOOT = 12;
/** exact, NIST SP 811 Appendix B */
export const MM_PER_INCH = 25.4;
/** definition: 12 in by 12 in */
export const SQ_INCHES_PER_SQ_FOOT = 144;

export type LengthUnit = "in" | "ft" | "mm";

const MM_PER: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000 };

/** A plain number of some unit in inches. Millimeters are divided: 25.4 mm is 1 in to the last bit. */
function unitToInches(value: number, unit: LengthUnit): number {
  if (unit === "mm") return value / MM_PER_INCH;
  return unit === "ft" ? value * INCHES_PER_FOOT : value;
}

/** Serial numbers of dates that a spreadsheet makes of typed fractions lie in this range. */
const DATE_SERIAL_FROM = 10_000;
const DATE_SERIAL_BELOW = 100_000;
/** longest text that is read as a length */
const LONGEST_TEXT = 60;

/** Tape fractions: halves to sixty-fourths. */
export const TAPE_DENOMINATORS: readonly number[] = [2, 4, 8, 16, 32, 64];

const VULGAR: Readonly<Record<string, string>> = {
  "½": "1/2",
  "⅓": "1/3",
  "⅔": "2/3",
  "¼": "1/4",
  "¾": "3/4",
  "⅕": "1/5",
  "⅖": "2/5",
  "⅗": "3/5",
  "⅘": "4/5",
  "⅙": "1/6",
  "⅚": "5/6",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
};
const RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹";
const LOWERED = "₀₁₂₃₄₅₆₇₈₉";

/** Bends the many ways people write quotes, dashes, spaces and fractions into plain characters. */
function plainText(text: string): string {
  let plain = "";
  let wasRaised = false;
  // whether a digit here would run into the lower number of a written fraction: ½2 is not 1/22
  let isAfterFraction = false;
  for (const char of text) {
    const raised = RAISED.indexOf(char);
    const lowered = LOWERED.indexOf(char);
    if (isAfterFraction && /[0-9.,]/.test(char)) plain += " ";
    isAfterFraction = VULGAR[char] !== undefined || lowered >= 0;
    if (VULGAR[char] !== undefined) plain += ` ${VULGAR[char]}`;
    // a raised digit after a plain one starts a fraction: 11⁵⁄₈ is 11 5/8, not 115/8
    else if (raised >= 0) plain += (wasRaised || !/[0-9]$/.test(plain) ? "" : " ") + raised;
    else if (lowered >= 0) plain += lowered;
    else plain += char;
    wasRaised = raised >= 0;
  }
  return plain
    .replace(/[\u2018\u2019\u201B\u2032\u00B4\u0060\u02B9\u02BC]/g, "'")
    .replace(/[\u201C\u201D\u201E\u2033\u02BA]/g, '"')
    .replace(/''/g, '"')
    .replace(/[\u2010-\u2015\u2212]/g, "-")
    .replace(/[\u2044\u2215]/g, "/")
    .replace(/[\s\u00A0\u2000-\u200B\u202F\u205F\u3000]+/g, " ")
    .trim()
    .toLowerCase();
}

const FRACTION_HINT = `type lengths like 24'-6 1/2", 1-7/8 as text, or 0.625`;

const DATE_HINT =
  "it looks like a date: the spreadsheet took a typed fraction for one; format the cell as text and type 1 7/8, or type the decimal 1.875";

const MS_PER_DAY = 86_400_000;
/** day number of 1970-01-01 in the spreadsheet's 1900 date system */
const SERIAL_OF_1970 = 25_569;

/** What a date's serial number was probably typed as, and what to type instead. */
function dateSerialHint(serial: number): string {
  const date = new Date((serial - SERIAL_OF_1970) * MS_PER_DAY);
  const month = date.getUTCMonth() + 1;
  const day = date.getUTCDate();
  const yearOfCentury = date.getUTCFullYear() % 100;
  const typed: { text: string; valueIn: number }[] = [];
  if (TAPE_DENOMINATORS.includes(day) && month < day) {
    typed.push({ text: `${month}/${day}`, valueIn: month / day });
  }
  if (TAPE_DENOMINATORS.includes(yearOfCentury) && day < yearOfCentury) {
    typed.push({ text: `${month} ${day}/${yearOfCentury}`, valueIn: month + day / yearOfCentury });
  }
  if (typed.length === 0) return DATE_HINT;
  const what = typed.map((each) => `${each.text.replace(" ", "-")}`).join(" or ");
  const instead = typed.map((each) => `${each.text} (or ${each.valueIn})`).join(", ");
  return `it looks like a date: the spreadsheet took a typed ${what} for one; format the cell as text and type ${instead}`;
}

const MONTHS = /\b(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\b/;

/** A decimal written with a point or a comma; one comma before three digits could be either. */
function decimal(name: string, digits: string, original: string): number {
  if (/^[1-9]\d{0,2}(,\d{3}){2,}$|^[1-9]\d{0,2}(,\d{3})+\.\d+$/.test(digits)) {
    return Number(digits.replace(/,/g, ""));
  }
  if (/^[1-9]\d{0,2},\d{3}$/.test(digits)) {
    throw outOfRange(
      `${name}: ${shown(original)} could mean ${digits.replace(",", "")} or ${digits.replace(",", ".")}; write it without the comma`
    );
  }
  // 1234,567.5 and the like: the commas stand where no thousands do
  if ((digits.match(/[.,]/g) ?? []).length > 1) {
    throw wrongKind(`${name} must be a length; got ${shown(original)}; ${FRACTION_HINT}`);
  }
  return Number(digits.replace(",", "."));
}

/** A mixed number: `5`, `5.5`, `1/2`, `5 1/2`, `5-1/2`. */
const MIXED = String.raw`(?:(\d+)(?: ?- ?| ))?(\d+) ?/ ?(\d+)|(\d+[.,]\d*|[.,]\d+|\d+(?:,\d{3})+(?:\.\d+)?|\d+)`;
const FEET_MARK = String.raw`(?:'|ft\.?|feet|foot)`;
const INCH_MARK = String.raw`(?:"|in\.?|inch|inches)`;
const METRIC =
  /^(\d+[.,]\d*|[.,]\d+|\d+(?:,\d{3})+(?:\.\d+)?|\d+) ?(mm|cm|m|millimet(?:er|re)s?|centimet(?:er|re)s?|met(?:er|re)s?)$/;
const IMPERIAL = new RegExp(
  `^(?:(?:${MIXED}) ?${FEET_MARK})?(?: ?- ?| )?(?:(?:${MIXED}) ?(${INCH_MARK})?)?$`
);

function mixed(
  name: string,
  original: string,
  whole: string | undefined,
  top: string | undefined,
  bottom: string | undefined,
  number: string | undefined
): number | undefined {
  if (number !== undefined) return decimal(name, number, original);
  if (top === undefined || bottom === undefined) return undefined;
  if (Number(bottom) === 0) {
    throw outOfRange(`${name}: ${shown(original)} has a fraction with a zero below the line`);
  }
  const fraction = Number(top) / Number(bottom);
  if (whole === undefined) return fraction;
  if (fraction >= 1) {
    throw outOfRange(
      `${name}: ${shown(original)} has a fraction of 1 or more beside a whole number; write it as one number`
    );
  }
  return Number(whole) + fraction;
}

/** The unit word of metric text, down to its short form. */
function metricUnit(word: string): number {
  if (word.startsWith("mil") || word === "mm") return MM_PER.mm as number;
  if (word.startsWith("c")) return MM_PER.cm as number;
  return MM_PER.m as number;
}

/** Feet and inches without a mark on the feet: `24-6`, `3-0`, `24 - 6 1/2"`. */
const NEAR_FEET_INCHES = /^(\d+)(?: ?- ?| )(?:(\d+)(?:(?: ?- ?| )(\d+\/\d+))?|(\d+\/\d+)) ?"?$/;

/** What a text that is nearly a length was probably meant for; empty where nothing is likely. */
function didYouMean(text: string): string {
  const [, ft, whole, fraction, onlyFraction] = NEAR_FEET_INCHES.exec(text) ?? [];
  if (ft === undefined || Number(whole ?? 0) >= INCHES_PER_FOOT) return "";
  const inches = [whole, fraction ?? onlyFraction].filter((part) => part !== undefined).join(" ");
  return `: did you mean ${ft}'-${inches}"?`;
}

/** A length, or a sum of lengths; a sign may stand before the first. */
function parseText(name: string, original: string, plainUnit: LengthUnit): number {
  if (original.length > LONGEST_TEXT) {
    throw wrongKind(`${name} must be a length; got ${shown(original)}`);
  }
  const text = plainText(original);
  if (text === "") throw wrongKind(`${name} is blank; ${FRACTION_HINT}`);
  const sign = text.startsWith("-") ? -1 : 1;
  const [first = "", ...more] = text.replace(/^[-+]/, "").split("+");
  return more.reduce(
    (sumIn, each) => sumIn + parseOne(name, original, each.trim(), plainUnit),
    sign * parseOne(name, original, first.trim(), plainUnit)
  );
}

function parseOne(name: string, original: string, text: string, plainUnit: LengthUnit): number {
  const metric = METRIC.exec(text);
  if (metric) {
    const millimeters =
      decimal(name, metric[1] as string, original) * metricUnit(metric[2] as string);
    return millimeters / MM_PER_INCH;
  }
  const match = IMPERIAL.exec(text);
  if (!match || text.startsWith("-")) {
    if (MONTHS.test(text) || /^\d{1,4}[-/.]\d{1,2}[-/.]\d{2,4}$/.test(text)) {
      throw wrongKind(`${name} must be a length; got ${shown(original)}: ${DATE_HINT}`);
    }
    const hint = didYouMean(text) || `; ${FRACTION_HINT}`;
    throw wrongKind(`${name} must be a length; got ${shown(original)}${hint}`);
  }
  const feet = mixed(name, original, match[1], match[2], match[3], match[4]);
  const inches = mixed(name, original, match[5], match[6], match[7], match[8]);
  if (feet === undefined && inches === undefined) {
    throw wrongKind(`${name} must be a length; got ${shown(original)}; ${FRACTION_HINT}`);
  }
  if (feet === undefined) {
    const unit = match[9] === undefined ? plainUnit : "in";
    return unitToInches(inches as number, unit);
  }
  if (inches === undefined) return feet * INCHES_PER_FOOT;
  if (!Number.isInteger(feet)) {
    throw outOfRange(
      `${name}: ${shown(original)} has a fraction of a foot and inches; write one or the other`
    );
  }
  if (inches >= INCHES_PER_FOOT) {
    throw outOfRange(
      `${name}: ${shown(original)} has ${inches} in after the feet; inches there must be less than 12`
    );
  }
  return feet * INCHES_PER_FOOT + inches;
}

function noMinusZero(value: number): number {
  return value === 0 ? 0 : value;
}

/**
 * Reads a length: a number, or tape-measure text such as `24'-6 1/2"`, `1-7/8`, `½`, `622.3 mm`; or a sum of such
 * texts, `1-1/4 + 5/8`, so that a panel can be typed as its foam and its wood.
 *
 * @param name      the argument, for the message
 * @param value     any finite number, or text of at most 60 characters; whole numbers from 10,000 up to 99,999 are taken
 *   for dates, unless plain numbers are mm
 * @param plainUnit what a number without a unit means: in, ft or mm
 * @returns inches; may be negative or 0 (the caller's limits decide)
 * @shape one number
 * @throws {CalcError} wrong-kind: not a length, blank, or a date; out-of-range: a zero below the line, a fraction of 1 or
 *   more beside a whole number, a fraction of a foot beside inches, inches of 12 or more after feet, a comma that could
 *   mean two things
 * @source 12 in to the foot: definition; 25.4 mm to the inch: NIST SP 811, Appendix B
 * @example parseLength("length", "24'-6 1/2\"") // => 294.5
 */
export function parseLength(name: string, value: unknown, plainUnit: LengthUnit = "in"): number {
  if (typeof value === "number") {
    checkNumber(name, value);
    // a wall in millimeters may well be a five-figure whole number; inches or feet never are
    if (
      plainUnit !== "mm" &&
      Number.isInteger(value) &&
      value >= DATE_SERIAL_FROM &&
      value < DATE_SERIAL_BELOW
    ) {
      throw wrongKind(`${name} must be a length; got ${shown(value)}: ${dateSerialHint(value)}`);
    }
    const inches = unitToInches(value, plainUnit);
    if (!Number.isFinite(inches)) throw outOfRange(`${name} is no length; got ${shown(value)}`);
    return noMinusZero(inches);
  }
  if (typeof value === "string") return noMinusZero(parseText(name, value, plainUnit));
  if (value === null || value === undefined) {
    throw wrongKind(`${name} is blank; ${FRACTION_HINT}`);
  }
  throw wrongKind(`${name} must be a length; got ${shown(value)}; ${FRACTION_HINT}`);
}

/**
 * Lengths added up.
 *
 * @param lengthsIn lengths, in; at least one, each any finite number
 * @returns their sum, in; not rounded
 * @shape one number
 * @throws {CalcError} wrong-kind: no length at all, or one that is not a finite number
 * @source arithmetic
 * @example totalLength([294.5, 13.375]) // => 307.875
 */
export function totalLength(lengthsIn: readonly number[]): number {
  if (!Array.isArray(lengthsIn) || lengthsIn.length === 0) {
    throw wrongKind("lengths is blank; at least one cell must hold a length");
  }
  const sumIn = lengthsIn.reduce((sum: number, each) => sum + checkNumber("lengths", each), 0);
  return noMinusZero(checkNumber("the sum of the lengths", sumIn));
}

/** Parts of an inch on a carpenter's tape; common practice, no source. */
export const DEFAULT_DENOMINATOR = 16;
/** Fifteen miles: a longer length is a slip, and its sixty-fourths are finer than a sum of lengths holds. */
const LONGEST_WRITTEN_IN = 1_000_000;
/** A length this close below the half of a part is that half: the noise of sums, in parts. */
const HALF_SLACK = 1e-6;

/** Nearest multiple of 1/denominator, half away from zero; as a count of those parts. */
function nearestParts(lengthIn: number, denominator: number): number {
  checkNumber("length", lengthIn, {
    min: -LONGEST_WRITTEN_IN,
    max: LONGEST_WRITTEN_IN,
    unit: "in",
  });
  checkDenominator(denominator);
  return Math.floor(Math.abs(lengthIn) * denominator + 0.5 + HALF_SLACK);
}

function fractionText(parts: number, denominator: number): string {
  let top = parts;
  let bottom = denominator;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  return top === 0 ? "" : `${top}/${bottom}`;
}

function checkDenominator(denominator: number): void {
  checkNumber("denominator", denominator);
  if (!TAPE_DENOMINATORS.includes(denominator)) {
    throw outOfRange(
      `denominator must be one of ${TAPE_DENOMINATORS.join(", ")}; got ${shown(denominator)}`
    );
  }
}

/**
 * Feet and inches as written on a drawing, to the nearest tape fraction, half away from zero.
 *
 * @param lengthIn    length, in; -1,000,000 to 1,000,000
 * @param denominator smallest fraction: 2, 4, 8, 16, 32 or 64 to the inch
 * @returns text such as `24'-6 1/2"`; carries, so 11 31/32 in at sixteenths is `1'-0"`
 * @shape one text
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: a longer length, another denominator
 * @source .5 and over rounds up to the next 1/16: US Navy Builder training manual 14044, rafter lengths
 * @example feetInches(294.5) // => "24'-6 1/2\""
 */
export function feetInches(lengthIn: number, denominator: number = DEFAULT_DENOMINATOR): string {
  const parts = nearestParts(lengthIn, denominator);
  const partsPerFoot = INCHES_PER_FOOT * denominator;
  const feet = Math.floor(parts / partsPerFoot);
  const inches = Math.floor((parts % partsPerFoot) / denominator);
  const fraction = fractionText(parts % denominator, denominator);
  const sign = lengthIn < 0 && parts > 0 ? "-" : "";
  return `${sign}${feet}'-${inches}${fraction ? ` ${fraction}` : ""}"`;
}

/**
 * Inches as read from a tape: `15 1/4`, `5/8`, `0`. Rounded to the nearest fraction, half away from zero, for show only.
 *
 * @param lengthIn    length, in; -1,000,000 to 1,000,000
 * @param denominator smallest fraction: 2, 4, 8, 16, 32 or 64 to the inch
 * @returns text of whole inches and a fraction in lowest terms, without a unit
 * @shape one text
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: a longer length, another denominator
 * @source as feetInches
 * @example inchText(15.25) // => "15 1/4"
 * @example inchText(-0.625) // => "-5/8"
 */
export function inchText(lengthIn: number, denominator: number = DEFAULT_DENOMINATOR): string {
  const parts = nearestParts(lengthIn, denominator);
  const inches = Math.floor(parts / denominator);
  const fraction = fractionText(parts % denominator, denominator);
  const sign = lengthIn < 0 && parts > 0 ? "-" : "";
  if (!fraction) return `${sign}${inches}`;
  return inches === 0 ? `${sign}${fraction}` : `${sign}${inches} ${fraction}`;
}

/** More turns than any roof or corner makes; a larger angle is a slip, and loses its last digits. */
const MOST_ANGLE = 1e6;

/**
 * Inches in feet.
 *
 * @param lengthIn length, in; any finite number
 * @returns length / 12, ft; not rounded
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number
 * @source definition: 12 in to the foot
 * @example feet(30) // => 2.5
 */
export function feet(lengthIn: number): number {
  return noMinusZero(checkNumber("length", lengthIn) / INCHES_PER_FOOT);
}
/**
 * Square inches in square feet.
 *
 * @param areaIn2 area, in2; any finite number
 * @returns area / 144, ft2; not rounded
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number
 * @source definition: 12 in by 12 in to the square foot
 * @example squareFeet(720) // => 5
 */
export function squareFeet(areaIn2: number): number {
  return noMinusZero(checkNumber("area", areaIn2) / SQ_INCHES_PER_SQ_FOOT);
}
/**
 * Degrees in radians.
 *
 * @param angleDeg angle, deg; -1,000,000 to 1,000,000
 * @returns angle × π / 180, rad; not rounded
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source definition: 180 deg are π rad
 * @example degreesToRadians(90) // => Math.PI / 2
 */
export function degreesToRadians(angleDeg: number): number {
  return noMinusZero((checkAngle(angleDeg) * Math.PI) / 180);
}
/**
 * Radians in degrees.
 *
 * @param angleRad angle, rad; -1,000,000 to 1,000,000
 * @returns angle × 180 / π, deg; not rounded
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source definition: 180 deg are π rad
 * @example radiansToDegrees(Math.PI / 4) // => 45
 */
export function radiansToDegrees(angleRad: number): number {
  return noMinusZero((checkAngle(angleRad) * 180) / Math.PI);
}
function checkAngle(angle: number): number {
  return checkNumber("angle", angle, { min: -MOST_ANGLE, max: MOST_ANGLE });
}
