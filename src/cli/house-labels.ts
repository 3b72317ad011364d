/**
 * What a house workbook says about itself outside its tables: its name, its release date and the prices somebody typed
 * into it. They are found by their labels, so that an office may lay out its own workbook.
 */
import { isBlank, nameKey } from "../core/house/tables.js";
import type { CellValue, Workbook } from "../host/engine/index.js";
import { cellAddress, parseArea } from "../host/engine/index.js";
import { cellText } from "./csv.js";

type Rows = readonly (readonly CellValue[])[];

/** Labels stand near the top; far below, the word house may mean anything. */
const LAST_LABEL_ROW = 40;

const HOUSE_LABELS = ["house", "housename"];
const RELEASE_LABELS = ["releasedate", "release"];

function keyOf(value: CellValue): string {
  return typeof value === "string" ? nameKey(value.replace(/:\s*$/, "")) : "";
}

interface Labeled {
  readonly sheet: string;
  /** address of the cell to the right of the label */
  readonly cell: string;
  readonly value: CellValue;
}

/** The cell to the right of the first label of some. */
function labeled(book: Workbook, labels: readonly string[]): Labeled | undefined {
  for (const sheet of book.sheetNames) {
    const used = parseArea(book.usedRange(sheet) ?? "");
    if (!used) continue;
    const bottom = Math.min(used.bottom, LAST_LABEL_ROW);
    if (used.top > bottom) continue;
    const area = `${cellAddress(used.top, used.left)}:${cellAddress(bottom, used.right + 1)}`;
    const rows = book.range(sheet, area);
    for (const [down, row] of rows.entries()) {
      const across = row.findIndex((value) => labels.includes(keyOf(value)));
      if (across < 0) continue;
      const cell = cellAddress(used.top + down, used.left + across + 1);
      return { sheet, cell, value: row[across + 1] ?? null };
    }
  }
  return undefined;
}

/** Where the name of the house is typed; undefined where no cell is labeled House. */
export function houseNameCell(book: Workbook): Labeled | undefined {
  return labeled(book, HOUSE_LABELS);
}

/** The name typed beside the label House; "" where there is none. */
export function houseNameOf(book: Workbook): string {
  const value = houseNameCell(book)?.value ?? null;
  return typeof value === "string" || typeof value === "number" ? String(value).trim() : "";
}

/** Milliseconds in a day. */
const DAY = 24 * 60 * 60 * 1000;
/** Day numbers of worksheets: 1 is 1 January 1900, with a 29 February that year never had; or they count from 1904. */
const DAY_0 = Date.UTC(1899, 11, 30);
const DAY_0_FROM_1904 = Date.UTC(1904, 0, 1);
/** A release outside these years is a slip of the hand, or a length that became a date. */
const FIRST_YEAR = 2000;
const LAST_YEAR = 2100;

function isoOf(time: number): string | undefined {
  const date = new Date(time);
  const year = date.getUTCFullYear();
  return year >= FIRST_YEAR && year <= LAST_YEAR ? date.toISOString().slice(0, 10) : undefined;
}

function isoText(text: string): string | undefined {
  const [, year, month, day] = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(text.trim()) ?? [];
  const time = Date.UTC(Number(year), Number(month) - 1, Number(day));
  // 2026-02-30 would quietly become a day in March
  return new Date(time).getUTCDate() === Number(day) ? isoOf(time) : undefined;
}

export interface ReleaseDate {
  /** year-month-day */
  readonly date?: string;
  /** why what is typed there is not a date */
  readonly problem?: string;
}

/** The date typed beside the label Release date, as year-month-day; neither where the cell is blank. */
export function releaseDateOf(book: Workbook): ReleaseDate {
  const found = labeled(book, RELEASE_LABELS);
  if (!found || isBlank(found.value as never)) return {};
  const { value, sheet, cell } = found;
  const first = book.countsFrom1904 ? DAY_0_FROM_1904 : DAY_0;
  const date =
    typeof value === "number" ? isoOf(first + Math.floor(value) * DAY) : isoText(cellText(value));
  if (date !== undefined) return { date };
  return {
    problem: `${sheet}!${cell}: Release date must be a date from ${FIRST_YEAR} to ${LAST_YEAR}, such as 2027-03-15; got ${cellText(value)}`,
  };
}

export interface PriceTable {
  readonly sheet: string;
  /** header row first */
  readonly rows: Rows;
  /** row of the sheet the header stands in */
  readonly headerRow: number;
}

const PRICE_HEADERS = ["item", "size", "price"];

/** Header cells that stand side by side, left and right ends counted from 0. */
function headerBlocks(row: readonly CellValue[]): { left: number; right: number }[] {
  const blocks: { left: number; right: number }[] = [];
  row.forEach((value, column) => {
    if (isBlank(value as never)) return;
    const last = blocks.at(-1);
    if (last && last.right === column - 1) last.right = column;
    else blocks.push({ left: column, right: column });
  });
  return blocks;
}

/** The table under a header with Item, Size and Price side by side, on a sheet named Prices or else on any sheet. */
export function pricesIn(book: Workbook): PriceTable | undefined {
  const named = book.sheetNames.filter((name) => keyOf(name) === "prices");
  const others = book.sheetNames.filter((name) => keyOf(name) !== "prices");
  for (const sheet of [...named, ...others]) {
    const used = book.usedRange(sheet);
    if (used === undefined) continue;
    const rows = book.range(sheet, used);
    const first = parseArea(used)?.top ?? 1;
    for (const [top, row] of rows.slice(0, LAST_LABEL_ROW).entries()) {
      const block = headerBlocks(row).find(({ left, right }) => {
        const keys = row.slice(left, right + 1).map(keyOf);
        return PRICE_HEADERS.every((name) => keys.includes(name));
      });
      if (!block) continue;
      const part = (each: readonly CellValue[]): readonly CellValue[] =>
        each.slice(block.left, block.right + 1);
      return { sheet, rows: rows.slice(top).map(part), headerRow: first + top };
    }
  }
  return undefined;
}
