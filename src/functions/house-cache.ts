/**
 * Houses of the last few recalculations. A workbook asks for the order, the pieces, the cuts and the
 * walls of one house in one recalculation; its cut plan is made once.
 */
import { type HouseTakeoff, takeoffHouse } from "../core/house/takeoff.js";
import { tableOf } from "./arguments.js";

const MOST_KEPT = 8;
const kept = new Map<string, HouseTakeoff>();

/** The takeoff of three ranges; the same ranges give the same object. */
export function houseOf(walls: unknown, openings: unknown, settings: unknown): HouseTakeoff {
  const tables = [
    tableOf("walls", walls),
    tableOf("openings", openings),
    tableOf("settings", settings),
  ] as const;
  const key = JSON.stringify(tables);
  const known = kept.get(key);
  if (known) {
    // the newest goes last, so that the oldest is the first to be dropped
    kept.delete(key);
    kept.set(key, known);
    return known;
  }
  const house = takeoffHouse(...tables);
  kept.set(key, house);
  if (kept.size > MOST_KEPT) kept.delete(kept.keys().next().value as string);
  return house;
}
