/** The cell that a finding or a problem is about, so that a click on it leads there. */
import { headerParts, isBlank, nameKey, type Cell } from "../core/house/tables.js";
import type { HouseReading, TablePlace } from "./host.js";

export interface CellPlace {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

/** As the core names a row of a table: "walls row 3 (wall Gable): ..."; row 1 is the header. */
const NAMED_ROW = /^(walls|openings|settings) row (\d+)[^:]*: (.*)$/s;
/** As the core names a setting without its row: "settings: Corner lap must ...". */
const NAMED_SETTING = /^settings\b/;

function textOf(cell: Cell): string {
  return isBlank(cell) ? "" : String(cell).trim();
}

/** Where a name stands in a text as whole words; infinite where it does not. */
function placeIn(text: string, name: string): number {
  if (name === "") return Infinity;
  const [words, wanted] = [text.toLowerCase(), name.toLowerCase()];
  const isLetter = (letter: string | undefined): boolean => /[\p{L}\p{N}]/u.test(letter ?? "");
  for (let at = words.indexOf(wanted); at >= 0; at = words.indexOf(wanted, at + 1)) {
    if (!isLetter(words[at - 1]) && !isLetter(words[at + wanted.length])) return at;
  }
  return Infinity;
}

/** The name that stands first in the text, "Panel width" before "Panel"; -1 where none does. */
function namedIn(text: string, names: readonly string[]): number {
  let best = { index: -1, at: Infinity, length: 0 };
  names.forEach((name, index) => {
    const [at, length] = [placeIn(text, name), name.length];
    if (at < best.at || (at === best.at && at < Infinity && length > best.length)) {
      best = { index, at, length };
    }
  });
  return best.index;
}

/** A header without its unit. */
function headersOf(place: TablePlace): string[] {
  return (place.cells?.[0] ?? []).map((cell) => textOf(cell).replace(/\s*\([^()]*\)$/, ""));
}

function columnOf(place: TablePlace, header: string): number {
  const headers = place.cells?.[0] ?? [];
  return headers.findIndex((cell) => headerParts(textOf(cell)).key === nameKey(header));
}

function cellIn(place: TablePlace, row: number, column: number): CellPlace {
  return { sheet: place.sheet, row: place.top + row, column: place.left + Math.max(0, column) };
}

/** Row of a table, from 0, whose cells under the headers hold these texts. */
function rowWith(place: TablePlace, wanted: Readonly<Record<string, string>>): number {
  const columns = Object.entries(wanted).map(
    ([header, text]) => [columnOf(place, header), nameKey(text)] as const
  );
  if (columns.some(([column]) => column < 0)) return -1;
  return (place.cells ?? []).findIndex(
    (row, index) =>
      index > 0 && columns.every(([column, key]) => nameKey(textOf(row[column])) === key)
  );
}

function openingCell(place: TablePlace, wall: string, text: string): CellPlace | undefined {
  const [ofWall, name] = [columnOf(place, "Wall"), columnOf(place, "Opening")];
  if (ofWall < 0 || name < 0) return undefined;
  const names = (place.cells ?? []).map((row, index) =>
    index > 0 && nameKey(textOf(row[ofWall])) === nameKey(wall) ? textOf(row[name]) : ""
  );
  const row = namedIn(text, names);
  return row < 0 ? undefined : cellIn(place, row, name);
}

function settingCell(place: TablePlace, text: string): CellPlace | undefined {
  const names = (place.cells ?? []).map((row) => textOf(row[0]).replace(/\s*\([^()]*\)$/, ""));
  const row = namedIn(text, names);
  return row < 0 ? undefined : cellIn(place, row, 1);
}

/**
 * The cell to correct or to look at; undefined where none is meant.
 *
 * @param text what the finding says, or the problem that keeps the house from being taken off
 * @param wall name of the wall it belongs to; empty for the whole house
 */
export function findCell(reading: HouseReading, text: string, wall = ""): CellPlace | undefined {
  const { places = {} } = reading;
  const named = NAMED_ROW.exec(text);
  if (named) {
    const table = named[1] as "walls" | "openings" | "settings";
    const place = places[table];
    if (!place) return undefined;
    const column = table === "settings" ? 1 : namedIn(named[3] as string, headersOf(place));
    return cellIn(place, Number(named[2]) - 1, column);
  }
  if (wall !== "") {
    const opening = places.openings && openingCell(places.openings, wall, text);
    if (opening) return opening;
    const row = places.walls ? rowWith(places.walls, { Wall: wall }) : -1;
    return places.walls && row > 0
      ? cellIn(places.walls, row, columnOf(places.walls, "Wall"))
      : undefined;
  }
  const isAboutSettings = NAMED_SETTING.test(text) || text.includes("in the settings");
  return isAboutSettings && places.settings ? settingCell(places.settings, text) : undefined;
}
