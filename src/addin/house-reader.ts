/** Reads the house of the open workbook: from the ranges its own formulas name, or from sheets by their names. */
import type { PlacedTable, Table } from "../core/house/tables.js";
import { NAMESPACE, worksheetFunctions } from "../worksheet/registry.js";
import type { HouseReading, TablePlace } from "../pane/host.js";
import { readingOf } from "../pane/read-house.js";
import { columnLetters, sheetPrefix } from "../core/cell-address.js";
import { withBlanks } from "./blanks.js";

/** The three arguments of a house formula, as they are typed, seen from any sheet. */
export interface TablesFound {
  readonly walls: string;
  readonly openings: string;
  readonly settings: string;
  /** cell of the formula, such as Order!A5; none where the sheets were found by name */
  readonly foundIn?: string;
}

/** Functions of a house, the order's first: it stands in every house workbook. */
const HOUSE_FUNCTIONS = worksheetFunctions
  .filter(({ house }) => house)
  .map(({ name, parameters }) => ({ name, from: parameters.findIndex((each) => each.matrix) }));

/** The arguments of the call that starts at a position, split at commas outside quotes and brackets. */
export function callArguments(formula: string, name: string): string[] | undefined {
  const start = formula.toUpperCase().indexOf(`${NAMESPACE}.${name}(`);
  if (start < 0) return undefined;
  const args: string[] = [""];
  let depth = 0;
  let quote = "";
  for (let at = start + NAMESPACE.length + name.length + 2; at < formula.length; at++) {
    const letter = formula[at] as string;
    if (quote) {
      if (letter === quote) quote = "";
    } else if (letter === '"' || letter === "'") quote = letter;
    else if ("({[".includes(letter)) depth++;
    else if (")}]".includes(letter)) {
      if (depth === 0) return args.map((each) => each.trim());
      depth--;
    } else if (letter === "," && depth === 0) {
      args.push("");
      continue;
    }
    args[args.length - 1] += letter;
  }
  return undefined;
}

const REFERENCE =
  /^(?:(?:'((?:[^']|'')+)'|([\w.]+))!)?\$?[A-Z]{1,3}\$?\d+(?::\$?[A-Z]{1,3}\$?\d+)?$/i;
const NAME = /^[A-Za-z_\\][\w.]*$/;
const TABLE = /^([A-Za-z_]\w*)\[#All\]$/i;

/** A reference with its sheet; names and whole tables stay as they are. Undefined for anything else. */
function placed(argument: string, sheet: string): string | undefined {
  if (REFERENCE.test(argument)) {
    return argument.includes("!") ? argument : `${sheetPrefix(sheet)}${argument}`;
  }
  return NAME.test(argument) || TABLE.test(argument) ? argument : undefined;
}

/** Finds the tables in the formulas of the workbook's sheets. */
export async function findTables(context: Excel.RequestContext): Promise<TablesFound | undefined> {
  const sheets = context.workbook.worksheets;
  sheets.load("items/name");
  await context.sync();
  const used = sheets.items.map((sheet) => {
    const range = sheet.getUsedRangeOrNullObject(true);
    range.load("formulas,address,rowIndex,columnIndex");
    return { sheet, range };
  });
  await context.sync();
  for (const { name, from } of HOUSE_FUNCTIONS) {
    for (const { sheet, range } of used) {
      if (range.isNullObject) continue;
      for (const [r, row] of (range.formulas as unknown[][]).entries()) {
        for (const [c, formula] of row.entries()) {
          if (typeof formula !== "string" || !formula.startsWith("=")) continue;
          const args = callArguments(formula, name)?.slice(from, from + 3);
          if (args?.length !== 3) continue;
          const [walls, openings, settings] = args.map((each) => placed(each, sheet.name));
          if (!walls || !openings || !settings) continue;
          const cell = `${columnLetters(range.columnIndex + c + 1)}${range.rowIndex + r + 1}`;
          return { walls, openings, settings, foundIn: sheetPrefix(sheet.name) + cell };
        }
      }
    }
  }
  const whole = (...names: string[]): string | undefined => {
    const found = used.find(
      ({ sheet, range }) => !range.isNullObject && names.includes(sheet.name.trim().toLowerCase())
    );
    return found?.range.address;
  };
  const walls = whole("walls");
  const openings = whole("openings");
  const settings = whole("setup", "settings");
  return walls && openings && settings ? { walls, openings, settings } : undefined;
}

function rangeOf(context: Excel.RequestContext, place: string): Excel.Range {
  const table = TABLE.exec(place);
  if (table) return context.workbook.tables.getItem(table[1] as string).getRange();
  if (!REFERENCE.test(place)) return context.workbook.names.getItem(place).getRange();
  const split = place.lastIndexOf("!");
  const sheet = place.slice(0, split).replace(/^'|'$/g, "").replaceAll("''", "'");
  return context.workbook.worksheets.getItem(sheet).getRange(place.slice(split + 1));
}

/** A range with where it stands; blanks are "" in it. */
function placedTable(range: Excel.Range, rows: Table): PlacedTable {
  const { worksheet, rowIndex, columnIndex } = range;
  return { rows, place: { sheet: worksheet.name, top: rowIndex + 1, left: columnIndex + 1 } };
}

function placeOf(range: Excel.Range): TablePlace {
  return {
    sheet: range.worksheet.name,
    top: range.rowIndex + 1,
    left: range.columnIndex + 1,
    bottom: range.rowIndex + range.rowCount,
    right: range.columnIndex + range.columnCount,
    cells: range.values as Table,
  };
}

/** Takes the house of the workbook off its tables. */
export async function readHouse(context: Excel.RequestContext): Promise<HouseReading> {
  const found = await findTables(context);
  if (!found) {
    return {
      problem: `No house in this workbook yet. Press New house, or use =${NAMESPACE}.HOUSE_ORDER(walls, openings, settings).`,
    };
  }
  const ranges = [found.walls, found.openings, found.settings].map((place) =>
    rangeOf(context, place)
  );
  for (const range of ranges) {
    range.load("values,rowIndex,columnIndex,rowCount,columnCount,worksheet/name");
  }
  await context.sync();
  const [walls, openings, settings] = ranges as [Excel.Range, Excel.Range, Excel.Range];
  const rows = withBlanks(
    walls.values as Table,
    openings.values as Table,
    settings.values as Table
  );
  const reading = readingOf(
    {
      walls: placedTable(walls, rows[0]),
      openings: placedTable(openings, rows[1]),
      settings: placedTable(settings, rows[2]),
    },
    { walls: placeOf(walls), openings: placeOf(openings), settings: placeOf(settings) }
  );
  return found.foundIn === undefined ? reading : { ...reading, foundIn: found.foundIn };
}
