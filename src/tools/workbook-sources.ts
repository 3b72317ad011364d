/**
 * The text that the sample workbooks are built from: tab-separated tables in sample-workbooks, one row a line, the
 * first line naming the columns. Tabs and not commas, so that 22'-0" needs no quoting.
 */
import fs from "node:fs";
import path from "node:path";
import { OPENING_COLUMNS, WALL_COLUMNS } from "../core/house/walls.js";
import type { FirstFormulaSources } from "../templates/first-formulas.js";
import type { HouseInputs } from "../templates/house-template.js";
import type { PurchaseHouse, PurchaseSources } from "../templates/purchase-roll-up.js";
import type { CellInput } from "../templates/workbook.js";

class SourceError extends Error {}

/** A number where it is written as one, TRUE and FALSE, else text. */
function cellOf(text: string): CellInput {
  if (/^-?(\d+\.?\d*|\.\d+)(e-?\d+)?$/i.test(text)) return Number(text);
  if (text === "TRUE" || text === "FALSE") return text === "TRUE";
  return text;
}

/** Rows of a table, cells in the order of the columns asked for. */
function readTable(file: string, columns: readonly string[]): string[][] {
  const [header = "", ...lines] = fs.readFileSync(file, "utf8").replace(/\n$/, "").split("\n");
  const found = header.split("\t");
  if (found.join("\t") !== columns.join("\t")) {
    throw new SourceError(`${path.basename(file)} must have the columns ${columns.join(", ")}`);
  }
  return lines.map((line, index) => {
    const cells = line.split("\t");
    if (cells.length !== columns.length) {
      throw new SourceError(
        `${path.basename(file)} line ${index + 2} has ${cells.length} cells; needed are ${columns.length}`
      );
    }
    return cells;
  });
}

/** The folder of sources, such as sample-workbooks/demo-house, as the inputs of a house workbook. */
export function readHouse(folder: string): HouseInputs {
  const file = (name: string): string => path.join(folder, name);
  const cells = (rows: string[][]): CellInput[][] => rows.map((row) => row.map(cellOf));
  const what = new Map(
    readTable(file("house.tsv"), ["What", "Value"]).map(([name = "", value = ""]) => [name, value])
  );
  const settings = readTable(file("settings.tsv"), ["Setting", "Value"]).map(
    ([name = "", value = ""]): [string, CellInput] => [name, cellOf(value)]
  );
  const names = (columns: readonly { readonly name: string }[]): string[] =>
    columns.map((column) => column.name);
  return {
    houseName: what.get("House name") ?? "",
    layoutWall: what.get("Layout wall") ?? "",
    settings: Object.fromEntries(settings),
    walls: cells(readTable(file("walls.tsv"), names(WALL_COLUMNS))),
    openings: cells(readTable(file("openings.tsv"), names(OPENING_COLUMNS))),
    prices: cells(readTable(file("prices.tsv"), ["Item", "Size", "Price"])),
  };
}

/** The folder sample-workbooks/first-formulas. */
export function readFirstFormulas(folder: string): FirstFormulaSources {
  const file = (name: string): string => path.join(folder, name);
  return {
    formulas: readTable(file("formulas.tsv"), ["Formula", "Expected", "Within", "Why"]).map(
      ([formula = "", expected = "", within = "", why = ""]) => ({
        formula,
        expected: cellOf(expected),
        within: Number(within),
        why,
      })
    ),
    tables: readTable(file("tables.tsv"), ["Formula", "Rows"]).map(([formula = "", rows = ""]) => ({
      formula,
      rows: Number(rows),
    })),
    mistakes: readTable(file("mistakes.tsv"), ["Formula", "Shows", "Says", "Do this"]).map(
      ([formula = "", shows = "", says = "", doThis = ""]) => ({ formula, shows, says, doThis })
    ),
  };
}

/** Day number of a worksheet for a date written year-month-day. */
function dayNumber(iso: string): number {
  const days = (Date.parse(`${iso}T00:00:00Z`) - Date.UTC(1899, 11, 30)) / (24 * 60 * 60 * 1000);
  if (!Number.isInteger(days)) throw new SourceError(`${iso} is no date`);
  return days;
}

/** The folder sample-workbooks/purchase-roll-up. */
export function readPurchase(folder: string): PurchaseSources {
  const file = (name: string): string => path.join(folder, name);
  const releases = readTable(file("houses.tsv"), ["House", "Release date"]);
  const columns = ["House", "Item", "Size", "Needed", "Unit", "Extra", "Per package", "Order"];
  const orders = readTable(file("orders.tsv"), columns);
  const strange = orders.find(([house]) => !releases.some(([name]) => name === house));
  if (strange) throw new SourceError(`orders.tsv: houses.tsv has no house ${strange[0]}`);
  return {
    houses: releases.map(([house = "", release = ""]): PurchaseHouse => {
      const lines = orders
        .filter(([name]) => name === house)
        .map(([, ...cells]) => cells.map(cellOf));
      return { house, lines, ...(release === "" ? {} : { release: dayNumber(release) }) };
    }),
    prices: readTable(file("prices.tsv"), ["Item", "Size", "Per package", "Price", "Supplier"]).map(
      (row) => row.map(cellOf)
    ),
  };
}
