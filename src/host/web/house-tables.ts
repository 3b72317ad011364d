/** Finds the tables of the house in a workbook: the arguments of a formula that takes a house. */
import type { Cell, PlacedTable, Table } from "../../core/house/tables.js";
import { worksheetFunctions } from "../../worksheet/registry.js";
import type { HouseReading, TablePlace } from "../../pane/host.js";
import { NO_TABLE, readingOf } from "../../pane/read-house.js";
import { cellAddress, sheetPrefix, type Area } from "../../core/cell-address.js";
import { parseFormula, walkFormula, type FormulaNode } from "../engine/formula.js";
import { isCellError, NAMESPACE } from "../engine/index.js";
import type { BookState, CellState, SheetState } from "../engine/model.js";

interface Found {
  readonly sheet: SheetState;
  readonly area: Area;
}

type TableName = "walls" | "openings" | "settings";

interface HouseTables {
  readonly tables: Readonly<Record<TableName, Found | undefined>>;
  readonly cell?: CellState;
}

/** Where each function that takes a house has its tables among its arguments. */
const PLACES: ReadonlyMap<string, Readonly<Record<TableName, number>>> = new Map(
  worksheetFunctions
    .filter(({ house }) => house)
    .map(({ name, parameters }) => {
      const at = (table: TableName): number => parameters.findIndex((each) => each.name === table);
      return [
        `${NAMESPACE}.${name}`,
        { walls: at("walls"), openings: at("openings"), settings: at("settings") },
      ];
    })
);

const PREFERRED = `${NAMESPACE}.HOUSE_ORDER`;

/** A range larger than this is not read cell by cell; no house has so many walls. */
const MOST_ROWS = 60_000;
const MOST_COLUMNS = 200;

export function findHouseTables(
  book: BookState,
  activeSheet: SheetState | undefined
): HouseTables | undefined {
  const candidates: { cell: CellState; call: FormulaNode; rank: number }[] = [];
  for (const sheet of book.sheets) {
    for (const cell of sheet.cells.values()) {
      const typed = cell.formula?.typed;
      if (typed === undefined || !typed.toUpperCase().includes(`${NAMESPACE}.HOUSE_`)) continue;
      const call = houseCall(typed);
      if (!call) continue;
      const isPreferred = (call.name as string).toUpperCase() === PREFERRED;
      const rank = (isPreferred ? 0 : 2) + (sheet === activeSheet ? 0 : 1);
      candidates.push({ cell, call, rank });
    }
  }
  candidates.sort((a, b) => a.rank - b.rank);
  for (const { cell, call } of candidates) {
    const places = PLACES.get((call.name as string).toUpperCase());
    if (!places) continue;
    const find = (table: TableName): Found | undefined =>
      resolve(book, call.children[places[table]], cell.sheet, 0);
    const tables = { walls: find("walls"), openings: find("openings"), settings: find("settings") };
    if (tables.walls) return { tables, cell };
  }
  return bySheetName(book);
}

function houseCall(typed: string): FormulaNode | undefined {
  let found: FormulaNode | undefined;
  try {
    walkFormula(parseFormula(typed), (node) => {
      if (!found && node.kind === "call" && PLACES.has((node.name as string).toUpperCase())) {
        found = node;
      }
    });
  } catch {
    return undefined;
  }
  return found;
}

/** The area an argument names; undefined where it is worked out by another formula. */
function resolve(
  book: BookState,
  node: FormulaNode | undefined,
  home: SheetState,
  depth: number
): Found | undefined {
  if (!node || depth > 5) return undefined;
  if (node.kind === "group") return resolve(book, node.children[0], home, depth + 1);
  if (node.kind === "reference" && node.area) {
    const sheet = node.sheet === undefined ? home : book.sheet(node.sheet);
    return sheet && { sheet, area: node.area };
  }
  if (node.kind === "spill") {
    const inner = resolve(book, node.children[0], home, depth + 1);
    const anchor = inner && inner.sheet.find(inner.area.top, inner.area.left);
    return inner && anchor?.spill && { sheet: inner.sheet, area: anchor.spill };
  }
  if (node.kind === "name" || node.kind === "table") {
    const wanted = (node.name ?? "").toLowerCase();
    for (const sheet of book.sheets) {
      const table = sheet.tables.find((each) => each.name.toLowerCase() === wanted);
      // A table without its header row is no use to the functions: it is read with it here too.
      if (table) return { sheet, area: table.area };
    }
    const name =
      book.names.find((each) => each.name.toLowerCase() === wanted && each.sheet === home) ??
      book.names.find((each) => each.name.toLowerCase() === wanted && !each.sheet);
    if (!name) return undefined;
    try {
      return resolve(book, parseFormula(name.text), name.sheet ?? home, depth + 1);
    } catch {
      return undefined;
    }
  }
  return undefined;
}

/** A workbook without such a formula may still have the sheets. */
function bySheetName(book: BookState): HouseTables | undefined {
  const whole = (...names: string[]): Found | undefined => {
    const sheet = book.sheets.find((each) => names.includes(each.name.trim().toLowerCase()));
    if (!sheet) return undefined;
    let [top, left, bottom, right] = [Infinity, Infinity, 0, 0];
    for (const cell of sheet.cells.values()) {
      if (cell.value === null) continue;
      top = Math.min(top, cell.row);
      left = Math.min(left, cell.column);
      bottom = Math.max(bottom, cell.row);
      right = Math.max(right, cell.column);
    }
    return bottom === 0 ? undefined : { sheet, area: { top, left, bottom, right } };
  };
  const walls = whole("walls");
  if (!walls) return undefined;
  return {
    tables: { walls, openings: whole("openings"), settings: whole("settings", "setup") },
  };
}

/** The values of an area, cut off after the last row that holds anything. */
function valuesOf({ sheet, area }: Found): Cell[][] {
  const right = Math.min(area.right, area.left + MOST_COLUMNS - 1);
  let bottom = area.top;
  for (const cell of sheet.cells.values()) {
    if (cell.value === null || cell.column < area.left || cell.column > right) continue;
    if (cell.row <= area.bottom) bottom = Math.max(bottom, cell.row);
  }
  bottom = Math.min(bottom, area.top + MOST_ROWS - 1);
  const rows: Cell[][] = [];
  for (let row = area.top; row <= bottom; row++) {
    const values: Cell[] = [];
    for (let column = area.left; column <= right; column++) {
      const value = sheet.find(row, column)?.value ?? null;
      if (isCellError(value)) {
        const where = sheetPrefix(sheet.name) + cellAddress(row, column);
        const why = value.message ? `: ${value.message}` : "";
        throw new CellFault(`${where} shows ${value.error}${why}`, sheet, row, column);
      }
      values.push(value);
    }
    rows.push(values);
  }
  return rows;
}

/** An error cell inside a table of the house. */
class CellFault extends Error {
  constructor(
    message: string,
    readonly sheet: SheetState,
    readonly row: number,
    readonly column: number
  ) {
    super(message);
  }
}

/** Takes the house off the tables the workbook's own formulas use. */
export function readHouse(
  book: BookState,
  activeSheet: SheetState | undefined,
  sheetIdOf: (sheet: SheetState) => string
): HouseReading {
  const found = findHouseTables(book, activeSheet);
  if (!found?.tables.walls) {
    return {
      problem: `No house found. It is read from a formula such as =${PREFERRED}(Walls, Openings, Settings) or from sheets named Walls, Openings and Setup.`,
    };
  }
  const { walls, openings, settings } = found.tables;
  const placeOf = (table: Found, cells?: Table): TablePlace => ({
    sheet: sheetIdOf(table.sheet),
    ...table.area,
    ...(cells ? { cells } : {}),
  });
  const placesOf = (cells: readonly Table[]): NonNullable<HouseReading["places"]> => ({
    walls: placeOf(walls, cells[0]),
    ...(openings ? { openings: placeOf(openings, cells[1]) } : {}),
    ...(settings ? { settings: placeOf(settings, cells[2]) } : {}),
  });
  const foundIn = found.cell && {
    foundIn: sheetPrefix(found.cell.sheet.name) + cellAddress(found.cell.row, found.cell.column),
  };
  try {
    const placed = (table: Found | undefined): PlacedTable => ({
      rows: table ? valuesOf(table) : NO_TABLE,
      place: {
        sheet: table?.sheet.name ?? "",
        top: table?.area.top ?? 1,
        left: table?.area.left ?? 1,
      },
    });
    const tables = {
      walls: placed(walls),
      openings: placed(openings),
      settings: placed(settings),
    };
    const cells = [tables.walls.rows, tables.openings.rows, tables.settings.rows];
    return { ...readingOf(tables, placesOf(cells)), ...foundIn };
  } catch (error) {
    if (!(error instanceof CellFault)) throw error;
    const problemAt = { sheet: sheetIdOf(error.sheet), row: error.row, column: error.column };
    return { problem: error.message, problemAt, places: placesOf([]), ...foundIn };
  }
}
