/** Lists for other programs. A text that a spreadsheet would take for a formula is kept from running. */

/**
 * Where a spreadsheet would begin to read a formula: at the start of a text, and after every sign that some spreadsheet
 * parts columns or rows at. Which sign that is depends on the machine a file is opened on, and quotes in the middle of a
 * line mean nothing to one that parts at another sign. Blanks and quotes in front of the formula are read over, and the
 * wide signs of some keyboards count.
 */
const FORMULA_START = /(^|[;|\t\r\n])(?=[\s"]*[=+\-@\uff1d\uff0b\uff0d\uff20])|^(?=[\t\r])/g;
const PLAIN_NUMBER = /^-\d+(?:\.\d+)?$/;

/** A cell as text, with an apostrophe wherever a formula would start; numbers stay as they are. */
export function safeText(cell: string | number): string {
  if (typeof cell === "number" || PLAIN_NUMBER.test(cell)) return String(cell);
  return cell.replace(FORMULA_START, "$1'");
}

function field(cell: string | number): string {
  const text = safeText(cell);
  return /[",;|\t\r\n]/.test(text) || text !== text.trim() ? `"${text.replace(/"/g, '""')}"` : text;
}

/** Rows as comma-separated text (RFC 4180). */
export function csvText(rows: readonly (readonly (string | number)[])[]): string {
  return rows.map((row) => `${row.map(field).join(",")}\r\n`).join("");
}

/** The same as a file, with a mark that says it is UTF-8. */
export function toCsv(rows: readonly (readonly (string | number)[])[]): string {
  return `\ufeff${csvText(rows)}`;
}
