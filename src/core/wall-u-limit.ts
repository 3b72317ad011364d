/**
 * The most U the energy code allows a wood-frame wall, by climate zone.
 */
import { notCovered } from "./check.js";
import { parseClimateZone } from "./climate-zone.js";
import { rows } from "./data/icc-iecc-2021.js";
import { publishedFigure, type PublishedFigure } from "./published.js";

/**
 * Most whole-wall U by climate zone, as a plain number. Use {@link wallULimitRow} where the figure decides anything:
 * it is known from memory and says "confirm in the code book".
 *
 * @param climateZone zone as parseClimateZone reads it
 * @returns U, Btu/(h ft2 F), as printed
 * @shape   one number
 * @throws {CalcError} wrong-kind: blank or no text; not-covered: not a zone
 * @source  IECC 2021 Table R402.1.2 (from memory)
 * @example wallULimit("5A")       // => 0.045
 * @example wallULimit("Marine 4") // => 0.045
 * @since   0.1.0
 */
export function wallULimit(climateZone: unknown): number {
  return wallULimitRow(climateZone).value;
}

/**
 * The row behind {@link wallULimit}: value, table, how it was confirmed and whether it may decide a pass.
 *
 * @param climateZone zone as parseClimateZone reads it
 * @returns the figure; `mayDecide` is false while it is known from memory only
 * @shape   one record: value, table, confirmed, mayDecide, note
 * @throws {CalcError} as wallULimit
 * @source  IECC 2021 Table R402.1.2 (from memory)
 * @example wallULimitRow("3A").value // => 0.06
 * @since   0.1.0
 */
export function wallULimitRow(climateZone: unknown): PublishedFigure {
  const zone = parseClimateZone(climateZone);
  const row = rows.wallU.find((entry) => (entry.zones as readonly number[]).includes(zone.number));
  if (row === undefined) {
    throw notCovered(`wall U limit has no row for climate zone ${zone.name}`);
  }
  return publishedFigure(row.wallU, "IECC 2021 Table R402.1.2", row.confirmed);
}
