/** The cell that a finding or a problem is about, so that a click on it leads there. */
import type { Finding } from "../core/house/checks.js";
import { headerParts, isBlank, nameKey, type Cell, type CellOf } from "../core/house/tables.js";
import type { HouseReading, TablePlace } from "./host.js";

export interface CellPlace {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

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

/** The cell of a table that a row of the house is about. */
export function cellOfTable(
  places: HouseReading["places"],
  { table, row, column }: CellOf
): CellPlace | undefined {
  const place = places?.[table as keyof NonNullable<HouseReading["places"]>];
  return place && cellIn(place, row, column ?? 0);
}

/**
 * The cell to correct or to look at; undefined where none is meant.
 *
 * @param finding what is found; of the whole house where its wall is empty
 */
export function findCell(
  { places = {} }: HouseReading,
  { finding, whatToDo, wall, cell }: Omit<Finding, "level">
): CellPlace | undefined {
  if (cell) return cellOfTable(places, cell);
  const texts = [finding, whatToDo];
  const first = (find: (text: string) => CellPlace | undefined): CellPlace | undefined =>
    find(texts[0] as string) ?? find(texts[1] as string);
  if (wall !== "") {
    const { openings, walls } = places;
    const opening = openings && first((text) => openingCell(openings, wall, text));
    const row = walls ? rowWith(walls, { Wall: wall }) : -1;
    return opening ?? (walls && row > 0 ? cellIn(walls, row, columnOf(walls, "Wall")) : undefined);
  }
  return first((text) => settingNamed(places.settings, text));
}

/** The cell of a setting that a text of the whole house names. */
export function settingNamed(
  settings: TablePlace | undefined,
  text: string
): CellPlace | undefined {
  const isAboutSettings = NAMED_SETTING.test(text) || text.includes("in the settings");
  return isAboutSettings && settings ? settingCell(settings, text) : undefined;
}
