/**
 * Houses of the last few recalculations. A workbook asks for the order, the pieces, the cuts and the walls of one house
 * in one recalculation, and the pane beside it draws the same house: it is read once, its cut plan made once. The
 * houses are kept for the whole page, not for one bundle of it.
 */
import { type HouseTakeoff, readHouse } from "../core/house/takeoff.js";
import { type TableSource, type Table, isBlank, isPlaced } from "../core/house/tables.js";
import { tableOf } from "./arguments.js";

const MOST_KEPT = 8;
const KEPT = Symbol.for("sheathing-functions.houses");
const page = globalThis as { [KEPT]?: Map<string, HouseTakeoff> };

/** A range without the blank rows below it: a whole column costs what its filled part costs. */
function filled(table: Table): Table {
  let last = table.length;
  while (last > 1 && table[last - 1]?.every(isBlank)) last--;
  return last === table.length ? table : table.slice(0, last);
}

function sourceOf(name: string, value: unknown): TableSource {
  if (!isPlaced(value)) return filled(tableOf(name, value));
  return { rows: filled(tableOf(name, value.rows)), place: value.place };
}

/** The house of three ranges, with or without where they stand; the same ranges give the same object. */
export function houseOf(walls: unknown, openings: unknown, settings: unknown): HouseTakeoff {
  const kept = (page[KEPT] ??= new Map());
  const tables = [
    sourceOf("walls", walls),
    sourceOf("openings", openings),
    sourceOf("settings", settings),
  ] as const;
  const key = JSON.stringify(tables);
  const house = kept.get(key) ?? readHouse(...tables);
  // the newest goes last, so that the oldest is the first to be dropped
  kept.delete(key);
  kept.set(key, house);
  if (kept.size > MOST_KEPT) kept.delete(kept.keys().next().value as string);
  return house;
}
