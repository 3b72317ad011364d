/**
 * Numbers as worksheets show them: to 15 significant digits, rounded in decimal.
 */

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

/** Whether two numbers are shown alike. */
export function isShownAlike(a: number, b: number): boolean {
  if (a === b) return true;
  // Only numbers this close can be.
  return Math.abs(a - b) <= 1e-13 * Math.abs(a) && shownNumber(a) === shownNumber(b);
}
