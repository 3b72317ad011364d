/** Cells as text, and as comma-separated text that a spreadsheet can open without being tricked into running anything. */
import { isCellError, type CellValue } from "../host/engine/index.js";
import { csvText as textOfRows } from "../pane/csv.js";

/** What a cell shows as text. */
export function cellText(value: CellValue): string {
  if (value === null) return "";
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  return isCellError(value) ? value.error : String(value);
}

/** Rows of cells as RFC 4180 text. */
export function csvText(rows: readonly (readonly CellValue[])[]): string {
  return textOfRows(
    rows.map((row) => row.map((value) => (typeof value === "number" ? value : cellText(value))))
  );
}
