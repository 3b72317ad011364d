/** Tables as aligned text for a terminal. */
import type { CellValue } from "../host/engine/index.js";
import { cellText } from "./csv.js";

/** Widest column before its text is continued on the next line, characters. */
const WIDEST = 60;

/** Control characters would move the cursor or hide text: they are shown as blanks. */
export function plainText(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f]+/g, " ");
}

/** Text cut into lines at blanks, none longer than a width unless one word is. */
export function wrapText(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line !== "" && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines;
}

/** Numbers to at most three decimals: what a person reads; files keep every digit. */
function shownCell(value: CellValue): string {
  if (typeof value === "number") return String(Number(value.toFixed(3)));
  return plainText(cellText(value)).trim();
}

/** Rows under their header, numbers to the right, long text continued below. */
export function tableText(rows: readonly (readonly CellValue[])[]): string {
  const [header = [], ...body] = rows;
  const cells = rows.map((row) =>
    header.map((_, index) => wrapText(shownCell(row[index] ?? null), WIDEST))
  );
  const widths = header.map((_, index) =>
    Math.max(...cells.map((row) => Math.max(...(row[index] ?? [""]).map((line) => line.length))))
  );
  const isNumeric = header.map(
    (_, index) =>
      body.some((row) => typeof row[index] === "number") &&
      body.every((row) => typeof row[index] === "number" || cellText(row[index] ?? null) === "")
  );
  const lines: string[] = [];
  cells.forEach((row, rowIndex) => {
    const height = Math.max(...row.map((cell) => cell.length));
    for (let line = 0; line < height; line++) {
      const texts = row.map((cell, index) => {
        const text = cell[line] ?? "";
        return isNumeric[index]
          ? text.padStart(widths[index] ?? 0)
          : text.padEnd(widths[index] ?? 0);
      });
      lines.push(texts.join("  ").trimEnd());
    }
    if (rowIndex === 0) lines.push(widths.map((width) => "-".repeat(width)).join("  "));
  });
  return lines.join("\n");
}
