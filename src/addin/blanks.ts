/**
 * Blank cells that arrive as 0. Some desktop builds hand a range over with 0 where a cell is blank. In the tables of a
 * house such a 0 is taken for a blank wherever 0 would make no sense and a blank has a meaning. What stays ambiguous is
 * left as it is: a right height of 0 is a wall that runs out to a point, a sill of 0 is a door, 0 F is a cold day.
 *
 * A build that sends blanks as blanks shows it in the first blank cell of the tables; then a 0 is a 0, as everywhere.
 */
import { isCalcError } from "../core/check.js";
import { SETTINGS } from "../core/house/settings.js";
import { type Cell, type Table, headerParts, isBlank, nameKey } from "../core/house/tables.js";

/** Optional columns of the Walls and Openings tables in which 0 means nothing. */
const SENSELESS_AT_ZERO: ReadonlySet<string> = new Set(
  [
    "Peak height",
    "Peak at",
    "Next wall",
    "Block line",
    "Spacing",
    "From",
    "Edge nailing",
    "Field nailing",
    "Quantity",
    "Bottom seam",
    "Opening",
  ].map(nameKey)
);

function isNothing(cell: Cell): boolean {
  return cell === 0 || isBlank(cell);
}

/** No cell of the tables is blank: either none is on the sheet, or blanks came as 0. */
function mayHideBlanks(tables: readonly Table[]): boolean {
  return tables.every((table) => table.every((row) => !row.some(isBlank)));
}

/** The three tables of a house with their blanks, as far as they can be known. */
export function withBlanks(walls: Table, openings: Table, settings: Table): [Table, Table, Table] {
  if (!mayHideBlanks([walls, openings, settings])) return [walls, openings, settings];
  return [withoutZeroColumns(walls), withoutZeroColumns(openings), withoutZeroSettings(settings)];
}

/** A table with a header row: rows of nothing but zeros are blank rows, zeros without sense are blank cells. */
function withoutZeroColumns(table: Table): Table {
  const [header = [], ...rows] = table;
  const names = header.map((cell) => (isNothing(cell) ? null : cell));
  const senseless = names.map(
    (cell) => cell !== null && SENSELESS_AT_ZERO.has(headerParts(String(cell)).key)
  );
  return [
    names,
    ...rows.map((row) =>
      row.every(isNothing)
        ? row.map(() => null)
        : row.map((cell, column) =>
            cell === 0 && (senseless[column] || names[column] === null) ? null : cell
          )
    ),
  ];
}

/** Settings that may be blank, or must be typed, and that the core refuses as 0, by their names. */
const REFUSES_ZERO: ReadonlySet<string> = new Set(
  Object.values(SETTINGS).flatMap((each) => {
    // a 0 where a figure belongs is refused with a message, never replaced by the default
    if (each.fallback !== "") return [];
    try {
      each.read(each.name, 0, "in");
      return [];
    } catch (error) {
      if (!isCalcError(error)) throw error;
      return [nameKey(each.name)];
    }
  })
);

/** Settings: a name of 0 is a blank row, a value of 0 that no house could have is a blank value. */
function withoutZeroSettings(table: Table): Table {
  return table.map(([name, value, ...rest]) => {
    if (isNothing(name)) return [null, null, ...rest];
    const isSenseless = value === 0 && REFUSES_ZERO.has(headerParts(String(name)).key);
    return [name, isSenseless ? null : value, ...rest];
  });
}
