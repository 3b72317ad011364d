/** Comma-separated text that a spreadsheet can open without being tricked into running anything. */
import { isCellError, type CellValue } from "../host/engine/index.js";

/** What a cell shows as text. */
export function cellText(value: CellValue): string {
  if (value === null) return "";
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  return isCellError(value) ? value.error : String(value);
}

/** How text starts that a spreadsheet takes for a formula, blanks in front and wide letters of some keyboards included. */
const FORMULA_START = /^(?:\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|[\t\r])/;

/** Rows as RFC 4180 text. Text that a spreadsheet would take for a formula gets an apostrophe in front. */
export function csvText(rows: readonly (readonly CellValue[])[]): string {
  return rows.map((row) => `${row.map(csvField).join(",")}\r\n`).join("");
}

function csvField(value: CellValue): string {
  let text = cellText(value);
  const isNumber = typeof value === "number" || /^-\d+(?:\.\d+)?$/.test(text);
  if (!isNumber && FORMULA_START.test(text)) text = `'${text}`;
  return /[",\r\n]/.test(text) || text !== text.trim() ? `"${text.replace(/"/g, '""')}"` : text;
}
