/** References to the columns and rows of worksheet tables, such as Walls[[#Headers],[Length]:[Height]]. */
import type { Area } from "../../core/cell-address.js";
import { dataArea, type TableState } from "./model.js";

export interface TableReference {
  /** all, data, headers, totals, this row; in small letters, without # */
  readonly parts: readonly string[];
  /** columns as the table names them; a first and a last one */
  readonly columns: readonly string[];
}

/** Reads what stands in the brackets of a reference; an apostrophe makes the next character plain. */
export function tableReference(text: string): TableReference {
  const inner = text.slice(text.indexOf("[") + 1, -1);
  const parts: string[] = [];
  const columns: string[] = [];
  const take = (piece: string): void => {
    if (/^#(?:All|Data|Headers|Totals|This Row)$/i.test(piece.trim())) {
      parts.push(piece.trim().slice(1).toLowerCase());
    } else columns.push(piece.replace(/'([\s\S])/g, "$1"));
  };
  let rest = inner;
  if (/^\s*@/.test(rest)) {
    parts.push("this row");
    rest = rest.replace(/^\s*@/, "");
  }
  const groups = bracketGroups(rest);
  if (groups.length > 0) groups.forEach(take);
  else if (rest.trim() !== "") take(rest);
  return { parts, columns };
}

/** The texts in the brackets of a text; none where it has no brackets of its own. */
function bracketGroups(text: string): string[] {
  const groups: string[] = [];
  let start = -1;
  for (let at = 0; at < text.length; at++) {
    if (text[at] === "'") at++;
    else if (text[at] === "[" && start < 0) start = at + 1;
    else if (text[at] === "]" && start >= 0) {
      groups.push(text.slice(start, at));
      start = -1;
    }
  }
  return groups;
}

/** The cells of a reference as seen from a row; a text says what the table does not have. */
export function tableArea(
  { parts, columns }: TableReference,
  table: TableState,
  row: number
): Area | string {
  const places: number[] = [];
  for (const column of columns) {
    const place = columnPlace(table, column);
    if (place < 0) return `the table ${table.name} has no column ${column}`;
    places.push(place);
  }
  const left = table.area.left + (places.length === 0 ? 0 : Math.min(...places));
  const right = places.length === 0 ? table.area.right : table.area.left + Math.max(...places);
  const data = dataArea(table);
  const has = (part: string): boolean => parts.includes(part);
  if (has("this row")) {
    if (row < data.top || row > data.bottom) {
      return `this formula stands in no row of the table ${table.name}`;
    }
    return { top: row, bottom: row, left, right };
  }
  if (has("all")) return { ...table.area, left, right };
  let { top, bottom } = data;
  if (has("headers")) {
    if (!table.hasHeader) return `the table ${table.name} has no header row`;
    top = table.area.top;
    if (!has("data") && !has("totals")) bottom = top;
  }
  if (has("totals")) {
    if (!table.hasTotals) return `the table ${table.name} has no totals row`;
    bottom = table.area.bottom;
    if (!has("data") && !has("headers")) top = bottom;
  }
  return { top, bottom, left, right };
}

/** A column by its name; small and capital letters are the same, and so are kinds of white space. */
function columnPlace(table: TableState, wanted: string): number {
  const plain = (name: string): string => name.toLowerCase().replace(/\s/g, " ");
  const exact = table.columns.findIndex((name) => plain(name) === plain(wanted));
  if (exact >= 0) return exact;
  // [ Length ] is spelled with spaces by people who type it.
  return table.columns.findIndex((name) => plain(name) === plain(wanted).trim());
}
