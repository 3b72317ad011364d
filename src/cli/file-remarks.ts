/** What is good to know of a workbook's file, and takes nothing from its takeoff. */
import type { Workbook } from "../host/engine/index.js";
import { openElsewhere } from "./files.js";
import { plainText } from "./table-text.js";

/** Rows named at most; more are counted. */
const MOST_ROWS_NAMED = 12;

function rowList(rows: readonly number[]): string {
  const named = rows.slice(0, MOST_ROWS_NAMED).join(", ");
  const more = rows.length - MOST_ROWS_NAMED;
  const numbers = more > 0 ? `${named} and ${more} more` : named;
  return rows.length === 1 ? `row ${numbers} is` : `rows ${numbers} are`;
}

export function remarksOn(file: string, book: Workbook): string[] {
  const remarks: string[] = [];
  const lock = openElsewhere(file);
  if (lock !== undefined) {
    remarks.push(
      `the workbook seems to be open in another program (${lock} stands beside it): what is not saved there is not in here`
    );
  }
  if (book.hasMacros) {
    remarks.push("the workbook holds macros: they are kept as they are and were not run");
  }
  for (const { sheet, rows } of book.hiddenInputs()) {
    remarks.push(
      `${plainText(sheet)}: ${rowList(rows)} hidden or filtered out and hold${rows.length === 1 ? "s" : ""} entries; they count like any other`
    );
  }
  return remarks;
}
