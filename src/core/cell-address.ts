/**
 * Cell addresses: letters for columns, numbers for rows, both counted from 1. Nothing is imported here, so that the
 * add-in and the templates spell addresses the same way without carrying the engine.
 */

/** Rows and columns of the largest worksheet (ISO/IEC 29500-1, SpreadsheetML limits in common use). */
export const MAX_ROW = 1048576;
export const MAX_COLUMN = 16384;

export interface Area {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
}

/** 1 is A, 26 is Z, 27 is AA. */
export function columnLetters(column: number): string {
  let rest = column;
  let letters = "";
  while (rest > 0) {
    const digit = (rest - 1) % 26;
    letters = String.fromCharCode(65 + digit) + letters;
    rest = (rest - 1 - digit) / 26;
  }
  return letters;
}

/** "A" is 1, "AA" is 27. */
export function columnNumber(letters: string): number {
  let column = 0;
  for (const letter of letters.toUpperCase()) column = column * 26 + letter.charCodeAt(0) - 64;
  return column;
}

export function cellAddress(row: number, column: number): string {
  return columnLetters(column) + String(row);
}

export function areaAddress(area: Area): string {
  const first = cellAddress(area.top, area.left);
  const last = cellAddress(area.bottom, area.right);
  return first === last ? first : `${first}:${last}`;
}

const CELL = /^\$?([A-Za-z]{1,3})\$?([1-9][0-9]{0,6})$/;

/** Row and column of an address like B7 or $B$7, or undefined. */
export function parseCell(text: string): { row: number; column: number } | undefined {
  const found = CELL.exec(text);
  if (!found) return undefined;
  const column = columnNumber(found[1] as string);
  const row = Number(found[2]);
  return column <= MAX_COLUMN && row <= MAX_ROW ? { row, column } : undefined;
}

/** The area of an address like B7 or B7:D9 (no sheet), or undefined. */
export function parseArea(text: string): Area | undefined {
  const [first = "", second = first, ...more] = text.split(":");
  if (more.length > 0) return undefined;
  const a = parseCell(first);
  const b = parseCell(second);
  if (!a || !b) return undefined;
  return {
    top: Math.min(a.row, b.row),
    left: Math.min(a.column, b.column),
    bottom: Math.max(a.row, b.row),
    right: Math.max(a.column, b.column),
  };
}

/** One number for a cell of a sheet, for use as a map key. */
export function cellKey(row: number, column: number): number {
  return row * (MAX_COLUMN + 1) + column;
}

/** Row and column of a key that cellKey made. */
export function keyPlace(key: number): { row: number; column: number } {
  const column = key % (MAX_COLUMN + 1);
  return { row: (key - column) / (MAX_COLUMN + 1), column };
}

/** What a formula reads as something other than a name, besides a cell: R1C1 and its parts, and the two booleans. */
const TAKEN_WORD = /^(?:(?:R\d*)?(?:C\d*)?|TRUE|FALSE)$/i;

/** A sheet name as a formula spells it, with its mark: in quotes unless it is a plain word that means nothing else. */
export function sheetPrefix(name: string): string {
  const plain = /^[A-Za-z_]\w*$/.test(name) && !parseCell(name) && !TAKEN_WORD.test(name);
  return plain ? `${name}!` : `'${name.replaceAll("'", "''")}'!`;
}

export function cellCount(area: Area): number {
  return (area.bottom - area.top + 1) * (area.right - area.left + 1);
}

export function overlaps(a: Area, b: Area): boolean {
  return a.top <= b.bottom && b.top <= a.bottom && a.left <= b.right && b.left <= a.right;
}

export function contains(area: Area, row: number, column: number): boolean {
  return row >= area.top && row <= area.bottom && column >= area.left && column <= area.right;
}
