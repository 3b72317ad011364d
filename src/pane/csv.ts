/** Lists for other programs. A text that a spreadsheet would take for a formula is kept from running. */

/** How text starts that a spreadsheet takes for a formula, blanks in front and wide letters of some keyboards included. */
const FORMULA_START = /^(?:\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|[\t\r])/;

/** A cell as text; text that starts like a formula gets an apostrophe in front. */
export function safeText(cell: string | number): string {
  if (typeof cell === "number") return String(cell);
  return FORMULA_START.test(cell) ? `'${cell}` : cell;
}

/** Rows as a comma-separated file with a mark that says it is UTF-8. */
export function toCsv(rows: readonly (readonly (string | number)[])[]): string {
  const lines = rows.map((row) =>
    row
      .map((cell) => {
        const text = safeText(cell);
        return /[",\r\n;]/.test(text) || text.startsWith("'")
          ? `"${text.replace(/"/g, '""')}"`
          : text;
      })
      .join(",")
  );
  return `\ufeff${lines.join("\r\n")}\r\n`;
}
