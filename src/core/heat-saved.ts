/**
 * Heat a year that a lower wall U saves, from degree days: a plain estimate.
 */
import { checkNumber } from "./check.js";
import { LIMITS } from "./limits.js";

/** Hours in a day: degree days count days. */
const HOURS_PER_DAY = 24;

/** What the estimate takes for granted; shown with every result. */
export const HEAT_SAVED_ASSUMPTIONS: readonly string[] = [
  "Heat through the solid wall only: no windows, doors, air leaks, floor or roof.",
  "Degree days below 65 F at the nearest weather station; your thermostat and the sun move the result.",
  "U stays the same all winter; cold foam and wet walls insulate less.",
  "Heat into the house, before furnace or heat-pump losses: divide by the efficiency for fuel.",
];

/**
 * Heat saved in a year's heating season when a wall's U goes from one value to another.
 * Negative where the second U is the larger.
 *
 * @param wallAreaFt2       solid wall, openings left out, ft2; 0 to 10,000,000
 * @param uBefore           U without the foam, Btu/(h ft2 F); more than 0, at most 2
 * @param uAfter            U with the foam, Btu/(h ft2 F); more than 0, at most 2
 * @param heatingDegreeDays degree days below 65 deg F in a year, F day; 0 to 25,000
 * @returns heat, Btu a year, not rounded; HEAT_SAVED_ASSUMPTIONS go with it
 * @shape   one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source  degree-day method, ASHRAE Fundamentals chapter 19: 24 x degree days x U x area
 * @example heatSaved(1000, 0.1, 0.05, 5000) // => 6000000
 * @since   0.1.0
 */
export function heatSaved(
  wallAreaFt2: number,
  uBefore: number,
  uAfter: number,
  heatingDegreeDays: number
): number {
  checkNumber("wall_area", wallAreaFt2, LIMITS.wallArea);
  checkNumber("u_before", uBefore, LIMITS.wallU);
  checkNumber("u_after", uAfter, LIMITS.wallU);
  checkNumber("degree_days", heatingDegreeDays, LIMITS.degreeDays);
  const saved = HOURS_PER_DAY * heatingDegreeDays * wallAreaFt2 * (uBefore - uAfter);
  return saved === 0 ? 0 : saved;
}
