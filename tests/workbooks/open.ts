/** What the tests of the sample workbooks share. */
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { openWorkbook, type CellValue, type Workbook } from "../../src/host/engine/index.js";
import { readEntries, unpack } from "../../src/host/engine/zip.js";

export const ROOT = path.resolve(__dirname, "..", "..");
/** Workbooks that call our functions. */
export const WITH_FUNCTIONS = [
  "first-formulas.xlsx",
  "house-template.xlsx",
  "demo-house.xlsx",
] as const;
export const SAMPLES = [...WITH_FUNCTIONS, "purchase-roll-up.xlsx"] as const;

export function sampleBytes(name: string): Uint8Array {
  return fs.readFileSync(path.join(ROOT, "sample-workbooks", name));
}

/** A workbook as stored: values of the calculation it was built with. */
export function stored(name: string): Workbook {
  return openWorkbook(sampleBytes(name), worksheetFunctions);
}

/** A workbook calculated anew; any cell in error fails the test that asked for it. */
export function recalculated(name: string): Workbook {
  return settled(stored(name));
}

/** Calculates after a change. */
export function settled(book: Workbook): Workbook {
  expect(book.recalculate().errors).toEqual([]);
  return book;
}

/** The table of the one cell that calls a function, header row first. */
export function tableOf(book: Workbook, functionName: string): CellValue[][] {
  const [call] = book.findCalls(functionName);
  if (!call) throw new Error(`no cell calls ${functionName}`);
  return book.range(call.sheet, call.area);
}

/** Rows of a table by column name. */
export function rowsOf(book: Workbook, functionName: string): Record<string, CellValue>[] {
  const [header = [], ...rows] = tableOf(book, functionName);
  return rows.map((row) =>
    Object.fromEntries(header.map((name, at) => [String(name), row[at] ?? null]))
  );
}

/** Parts of an .xlsx file as text, by path. */
export function partsOf(bytes: Uint8Array): Map<string, string> {
  return new Map(
    readEntries(bytes).map((entry) => [entry.path, new TextDecoder().decode(unpack(entry))])
  );
}

/** Column letters of a header on a sheet. */
export function columnOf(book: Workbook, sheet: string, headerRow: number, header: string): string {
  const cells = book.range(sheet, `A${headerRow}:BZ${headerRow}`)[0] ?? [];
  const index = cells.indexOf(header);
  if (index < 0) throw new Error(`${sheet} has no column ${header}`);
  const high = Math.floor(index / 26);
  return (high > 0 ? String.fromCharCode(64 + high) : "") + String.fromCharCode(65 + (index % 26));
}
