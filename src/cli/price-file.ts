/** The price list of --prices: a workbook or a table saved as text. */
import fs from "node:fs";
import { isCalcError } from "../core/check.js";
import { type PriceList, readPriceList } from "../core/house/price-list.js";
import { worksheetFunctions } from "../worksheet/registry.js";
import { openWorkbook, WorkbookError, type WorksheetFunction } from "../host/engine/index.js";
import { readCsv } from "./csv-read.js";
import { fileTrouble } from "./files.js";
import { pricesIn } from "./house-labels.js";
import { plainTable, readBytes } from "./one-house.js";

const COLUMNS =
  "the columns Item, Size and Price side by side (and, if wanted, Per package and Supplier)";

function tableIn(file: string): { label: string; rows: unknown[][]; headerRow: number } {
  if (/\.(csv|tsv|txt)$/i.test(file)) {
    return { label: "price list", rows: readCsv(fs.readFileSync(file, "utf8")), headerRow: 1 };
  }
  const functions = worksheetFunctions as unknown as readonly WorksheetFunction[];
  const book = openWorkbook(readBytes(file), functions);
  book.recalculate();
  const found = pricesIn(book);
  if (!found) throw new WorkbookError(`no sheet has ${COLUMNS}`);
  const { sheet, rows, headerRow } = found;
  return { label: `price list, ${sheet}`, rows: plainTable(rows), headerRow };
}

/** Reads a price list; gives the reason where there is none to read. */
export function readPriceFile(file: string): PriceList | string {
  try {
    const { label, rows, headerRow } = tableIn(file);
    return readPriceList(label, rows as never, headerRow);
  } catch (error) {
    if (isCalcError(error) || error instanceof WorkbookError) return error.message;
    if (typeof (error as { code?: unknown }).code === "string") return fileTrouble(error);
    throw error;
  }
}
