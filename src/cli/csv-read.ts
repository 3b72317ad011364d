/** Reads a table that a spreadsheet saved as text: commas, semicolons or tabs between the cells. */
import type { CellValue } from "../host/engine/index.js";

const SEPARATORS = [",", ";", "\t"] as const;

/** What parts the cells: the mark that stands most often in the first line, outside quotes. */
function separatorOf(text: string): string {
  const firstLine = (/^(?:"(?:[^"]|"")*"|[^"\r\n])*/.exec(text)?.[0] ?? "").replace(
    /"(?:[^"]|"")*"/g,
    ""
  );
  const counts = SEPARATORS.map((mark) => firstLine.split(mark).length);
  return SEPARATORS[counts.indexOf(Math.max(...counts))] as string;
}

function cellOf(text: string, isQuoted: boolean): CellValue {
  if (text === "") return null;
  return !isQuoted && /^-?(?:\d+\.?\d*|\.\d+)$/.test(text.trim()) ? Number(text) : text;
}

/** Rows of cells; numbers are numbers where they are written plainly and without quotes. */
export function readCsv(content: string): CellValue[][] {
  const text = content.replace(/^\ufeff/, "");
  const separator = separatorOf(text);
  const rows: CellValue[][] = [];
  let row: CellValue[] = [];
  let cell = "";
  let isQuoted = false;
  const endCell = (): void => {
    row.push(cellOf(cell, isQuoted));
    cell = "";
    isQuoted = false;
  };
  const endRow = (): void => {
    endCell();
    rows.push(row);
    row = [];
  };
  for (let at = 0; at < text.length; at++) {
    const letter = text[at] as string;
    if (letter === '"' && cell === "" && !isQuoted) {
      isQuoted = true;
      for (at++; at < text.length; at++) {
        if (text[at] !== '"') cell += text[at];
        else if (text[at + 1] === '"') {
          cell += '"';
          at++;
        } else break;
      }
    } else if (letter === separator) endCell();
    else if (letter === "\n" || letter === "\r") {
      if (letter === "\r" && text[at + 1] === "\n") at++;
      endRow();
    } else cell += letter;
  }
  if (cell !== "" || isQuoted || row.length > 0) endRow();
  return rows;
}
