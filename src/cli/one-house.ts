/**
 * Takes one house off: opens its workbook, calculates it, reads what a purchase needs and writes the results. Everything
 * that comes back is plain data, so that it can come from another thread.
 */
import fs from "node:fs";
import path from "node:path";
import { isCalcError } from "../core/check.js";
import { type PriceOffer, readPriceList } from "../core/house/price-list.js";
import type { HouseNeed } from "../core/house/roll-up.js";
import type { HouseTakeoff } from "../core/house/takeoff.js";
import {
  openWorkbook,
  WorkbookError,
  type CellProblem,
  type CellValue,
  type Workbook,
} from "../host/engine/index.js";
import { PRINT_PAGE, type Paper } from "../pane/print/index.js";
import { TYPE_WALLS } from "../templates/house-template.js";
import { cellText, csvText } from "./csv.js";
import { remarksOn } from "./file-remarks.js";
import { fileTrouble, OutputFolder, shownPath } from "./files.js";
import { houseNameOf, pricesIn, releaseDateOf } from "./house-labels.js";
import { plainText } from "./table-text.js";
import { DRAWINGS_FOLDER, HouseFunctions, writeDrawings, type Drawings } from "./write-drawings.js";

/** Largest file read, bytes. */
const LARGEST_FILE = 100 * 1024 * 1024;

export type Table = readonly (readonly CellValue[])[];

export interface Finding {
  readonly level: string;
  readonly wall: string;
  readonly finding: string;
  readonly whatToDo: string;
}

/** A line of an order, before it is known which of many houses it belongs to. */
export type OrderNeed = Omit<HouseNeed, "houseNumber" | "house" | "release">;

/** A table of an order, and the cell that spills it. */
export interface HouseOrder {
  readonly sheet: string;
  readonly cell: string;
  readonly rows: Table;
}

export interface HouseResult {
  readonly file: string;
  /** name of the house as its workbook gives it, or the file's */
  house: string;
  /** the name typed into the workbook; "" where there is none */
  typedName: string;
  /** year-month-day */
  release?: string;
  /** why nothing could be calculated */
  trouble?: string;
  order?: HouseOrder;
  /** orders of further houses in the same workbook */
  otherOrders: readonly HouseOrder[];
  /** what the cell that calls HOUSE_ORDER says in place of an order, such as to type the walls first */
  saysInstead?: { readonly cell: string; readonly text: string };
  findings?: readonly Finding[];
  errors: readonly CellProblem[];
  /** cells outside the tables that cannot be used, such as a release that is no date */
  problems: string[];
  /** what is good to know of the file itself, such as that it is open elsewhere */
  remarks: string[];
  formulaCount: number;
  keptCount: number;
  /** panels of its cut plan, and the fewest any plan needs */
  cutPlan?: { readonly panels: number; readonly fewest: number };
  /** prices typed into the workbook */
  offers: readonly PriceOffer[];
  workbook?: string;
  orderCsv?: string;
  drawings?: Drawings;
  /** drawings were asked for */
  readonly isDrawn: boolean;
}

export interface HouseTask {
  readonly file: string;
  /** folder its results go to */
  readonly folder: string;
  readonly paper: Paper;
  readonly draw: boolean;
}

function blankResult(file: string, isDrawn: boolean): HouseResult {
  return {
    file,
    isDrawn,
    house: path.parse(file).name,
    typedName: "",
    otherOrders: [],
    errors: [],
    problems: [],
    remarks: [],
    formulaCount: 0,
    keptCount: 0,
    offers: [],
  };
}

/** A result that says only why there is none. */
export function troubled(file: string, trouble: string): HouseResult {
  return { ...blankResult(file, false), trouble };
}

export interface OpenedHouse {
  readonly result: HouseResult;
  /** the houses its order takes off; usually one */
  readonly houses: readonly HouseTakeoff[];
  /** undefined where there is nothing to write */
  readonly book?: Workbook;
}

/** Opens and calculates a house. A workbook that cannot be taken off gives a result that says why; nothing is thrown. */
export function openHouse(file: string, isDrawn: boolean): OpenedHouse {
  const result = blankResult(file, isDrawn);
  const nothing = { result, houses: [] };
  try {
    const functions = new HouseFunctions();
    const book = openWorkbook(readBytes(file), functions.all);
    result.remarks = remarksOn(file, book);
    const { errors, formulaCount, keptCount } = book.recalculate();
    Object.assign(result, { errors, formulaCount, keptCount });
    for (const { sheet, cell, message } of book.remarks()) {
      result.remarks.push(plainText(`${sheet}!${cell}: ${message}`));
    }
    if (!book.usesFunctions) {
      result.trouble =
        "no formula in it calls a SHEATH function, so there is no takeoff; " +
        "start from house-template.xlsx in sample-workbooks";
      return nothing;
    }
    const { orders, remarks } = ordersOf(book, functions);
    const [first, ...others] = orders;
    if (first) result.order = first.order;
    else {
      const [call] = book.findCalls("HOUSE_ORDER");
      const text = call && book.cell(call.sheet, call.cell).value;
      if (call && typeof text === "string" && text !== "") {
        result.saysInstead = { cell: `${plainText(call.sheet)}!${call.cell}`, text };
      }
    }
    result.otherOrders = others.map(({ order }) => order);
    result.remarks.push(...remarks);
    result.findings = findingsOf(
      book,
      orders.map(({ order }) => order)
    );
    const houses = first?.houses ?? [];
    readLabels(
      result,
      book,
      orders.flatMap((each) => each.houses)
    );
    return { result, houses, book };
  } catch (error) {
    if (error instanceof WorkbookError) result.trouble = error.message;
    else if (typeof (error as { code?: unknown }).code === "string")
      result.trouble = fileTrouble(error);
    else throw error;
  }
  return nothing;
}

/** Takes one house off and writes its results. What goes wrong is said in the result. */
export function takeOff({ file, folder, paper, draw }: HouseTask): HouseResult {
  const { result, houses, book } = openHouse(file, draw);
  if (!book) return result;
  const drawn = { houses: draw ? houses : [], paper };
  return { ...result, ...written(result, book, new OutputFolder(folder), drawn) };
}

/** Why a house without an error has no order. */
export function whyNoOrder({ saysInstead }: HouseResult): string {
  if (!saysInstead) return "no cell calls SHEATH.HOUSE_ORDER and shows its table";
  const { cell, text } = saysInstead;
  const says = `${cell} says "${plainText(text)}"`;
  return text === TYPE_WALLS ? `no walls are typed yet (${says})` : says;
}

function readLabels(result: HouseResult, book: Workbook, houses: readonly HouseTakeoff[]): void {
  result.typedName = houseNameOf(book);
  if (result.typedName !== "") result.house = result.typedName;
  const { date, problem } = releaseDateOf(book);
  if (date !== undefined) result.release = date;
  if (problem !== undefined) result.problems.push(problem);
  if (houses.length > 0) {
    const sum = (count: (house: HouseTakeoff) => number): number =>
      houses.reduce((total, house) => total + count(house), 0);
    result.cutPlan = {
      panels: sum(({ plan }) => plan.panelCount),
      fewest: sum(({ plan }) => plan.fewestPanels),
    };
  }
  const prices = pricesIn(book);
  if (!prices) return;
  try {
    const rows = plainTable(prices.rows);
    const list = readPriceList(`prices on ${prices.sheet}`, rows, prices.headerRow);
    result.offers = list.offers;
    result.problems.push(...list.problems);
  } catch (error) {
    if (!isCalcError(error)) throw error;
    result.problems.push(error.message);
  }
}

/** Cell errors become their text, which no column takes for a number. */
export function plainTable(rows: Table): (string | number | boolean | null)[][] {
  return rows.map((row) =>
    row.map((value) => (typeof value === "object" && value !== null ? cellText(value) : value))
  );
}

const NEED_COLUMNS = ["item", "size", "needed", "unit", "extra", "per package"] as const;

/** The lines of an order table as amounts. Throws an Error that says which line is none. */
export function needsOf(rows: Table): OrderNeed[] {
  const [header = [], ...body] = rows;
  const names = header.map((cell) => cellText(cell).trim().toLowerCase());
  const missing = NEED_COLUMNS.filter((name) => !names.includes(name));
  if (missing.length > 0) throw new Error(`the order has no column ${missing.join(", ")}`);
  return body
    .filter((row) => row.some((cell) => cellText(cell).trim() !== ""))
    .map((row, index) => {
      const at = (name: (typeof NEED_COLUMNS)[number]): CellValue =>
        row[names.indexOf(name)] ?? null;
      const text = (name: (typeof NEED_COLUMNS)[number]): string => cellText(at(name)).trim();
      const amount = (name: (typeof NEED_COLUMNS)[number]): number => {
        const value = at(name);
        if (typeof value === "number" && value >= 0) return value;
        throw new Error(
          `line ${index + 1} of the order: ${name} must be a number, 0 or more; got ${text(name) || "a blank"}`
        );
      };
      return {
        item: text("item"),
        size: text("size"),
        needed: amount("needed"),
        unit: text("unit"),
        extra: amount("extra"),
        perPackage: amount("per package"),
      };
    });
}

export function readBytes(file: string): Uint8Array {
  const { size } = fs.statSync(file);
  if (size > LARGEST_FILE) {
    throw new WorkbookError(
      `the file is larger than ${LARGEST_FILE / 1024 / 1024} MB; it is not opened`
    );
  }
  return fs.readFileSync(file);
}

type Written = Pick<HouseResult, "trouble" | "workbook" | "orderCsv" | "drawings">;

function written(
  { file, order, otherOrders, findings }: HouseResult,
  book: Workbook,
  folder: OutputFolder,
  drawn: { houses: readonly HouseTakeoff[]; paper: Paper }
): Written {
  const { houses, paper } = drawn;
  const done: Written = {};
  try {
    const title = path.parse(file).name;
    done.workbook = folder.write(`${title}.${book.hasMacros ? "xlsm" : "xlsx"}`, book.toBytes());
    if (order) {
      const further = otherOrders.flatMap(({ rows }) => rows.slice(1));
      done.orderCsv = folder.write("order.csv", csvText([...order.rows, ...further]));
    } else {
      // sheets of an earlier revision beside a workbook without an order would be cut and built by
      folder.dropOld(["order.csv", PRINT_PAGE]);
      new OutputFolder(path.join(folder.folder, DRAWINGS_FOLDER)).dropOld();
    }
    const [house] = houses;
    if (house && houses.length === 1) {
      done.drawings = writeDrawings(house, folder, { title, paper, findings: findings ?? [] });
    }
  } catch (error) {
    if (typeof (error as { code?: unknown }).code !== "string") throw error;
    done.trouble = `the results could not be written to ${shownPath(folder.folder)}: ${fileTrouble(error)}`;
  }
  return done;
}

/** The order tables, from the cells that call HOUSE_ORDER; a cell that only picks from one is passed over. */
function orderTables(book: Workbook): HouseOrder[] {
  return book.findCalls("HOUSE_ORDER").flatMap(({ sheet, cell, area }) => {
    const rows = book.range(sheet, area);
    const isOrder = rows[0]?.some((name) => cellText(name).toLowerCase() === "item");
    return isOrder ? [{ sheet, cell, rows }] : [];
  });
}

interface OrderOfHouse {
  readonly order: HouseOrder;
  /** the houses it takes off; usually one */
  readonly houses: readonly HouseTakeoff[];
}

/** The orders of a workbook, one for each house; an order shown a second time is counted once, and said. */
function ordersOf(
  book: Workbook,
  functions: HouseFunctions
): { orders: OrderOfHouse[]; remarks: string[] } {
  const orders: OrderOfHouse[] = [];
  const remarks: string[] = [];
  for (const order of orderTables(book)) {
    const houses = functions.housesAt(book, order.sheet, order.cell);
    const before = orders.find(
      (each) => houses.length > 0 && houses.every((house) => each.houses.includes(house))
    );
    if (before) {
      const [here, there] = [order, before.order].map(({ sheet, cell }) => `${sheet}!${cell}`);
      remarks.push(
        `${here} orders the same walls, openings and settings as ${there}; they are counted once`
      );
    } else orders.push({ order, houses });
  }
  return { orders, remarks };
}

/** The findings of all houses, from the cells that call HOUSE_CHECKS; without one, for the tables of the orders. */
function findingsOf(book: Workbook, orders: readonly HouseOrder[]): readonly Finding[] {
  const tables = book.findCalls("HOUSE_CHECKS").map((call) => book.range(call.sheet, call.area));
  for (const order of tables.length > 0 ? [] : orders) {
    const formula = book.cell(order.sheet, order.cell).formula ?? "";
    const answer = book.evaluate(formula.replace(/HOUSE_ORDER/i, "HOUSE_CHECKS"), order.sheet);
    if (Array.isArray(answer)) tables.push(answer as CellValue[][]);
  }
  const seen = new Set<string>();
  return tables.flatMap(findingRows).filter((each) => {
    // what holds for several houses is said once
    const key = JSON.stringify(each);
    return !seen.has(key) && seen.add(key);
  });
}

function findingRows(rows: Table): readonly Finding[] {
  const [header = [], ...body] = rows;
  const at = (name: string): number =>
    header.findIndex((cell) => cellText(cell).trim().toLowerCase() === name);
  const [level, wall, finding, whatToDo] = ["level", "wall", "finding", "what to do"].map(at);
  if (level === undefined || level < 0) return [];
  const text = (row: readonly CellValue[], column: number | undefined): string =>
    plainText(cellText(row[column ?? -1] ?? null));
  return body.map((row) => ({
    level: text(row, level),
    wall: text(row, wall),
    finding: text(row, finding),
    whatToDo: text(row, whatToDo),
  }));
}
