/** Lays results that are tables over the cells beside their formulas. */
import {
  cellAddress,
  cellKey,
  MAX_COLUMN,
  MAX_ROW,
  overlaps,
  type Area,
} from "../../core/cell-address.js";
import type { SheetState } from "./model.js";
import type { Work } from "./work.js";

/** The formulas whose tables fill the cells of every sheet, by cell key. */
export class Spilled {
  private readonly sheets = new Map<SheetState, Map<number, Work>>();

  of(sheet: SheetState): ReadonlyMap<number, Work> {
    return this.sheets.get(sheet) ?? NONE;
  }

  put(sheet: SheetState, key: number, work: Work): void {
    const cells = this.sheets.get(sheet);
    if (cells) cells.set(key, work);
    else this.sheets.set(sheet, new Map([[key, work]]));
  }

  /** The formula that fills a cell. */
  sourceOf(sheet: SheetState, key: number): Work | undefined {
    return this.sheets.get(sheet)?.get(key);
  }

  /** Takes away what a formula fills. */
  drop(work: Work): void {
    const cells = this.sheets.get(work.cell.sheet);
    for (const [key, each] of cells ?? []) if (each === work) cells?.delete(key);
  }

  /** True where a formula fills every cell of an area beside its own. */
  fills(work: Work, { top, left, bottom, right }: Area): boolean {
    const cells = this.of(work.cell.sheet);
    for (let row = top; row <= bottom; row++) {
      for (let column = left; column <= right; column++) {
        const isOwn = row === top && column === left;
        if (!isOwn && cells.get(cellKey(row, column)) !== work) return false;
      }
    }
    return true;
  }
}

const NONE: ReadonlyMap<number, Work> = new Map();

/** Areas up to this many rows and columns are looked through cell by cell. */
const WALKED_ROWS = 20_000;
const WALKED_COLUMNS = 1000;

/** Why a result cannot be laid over an area; undefined where it can. */
export function obstacle(work: Work, area: Area, taken: Spilled): string | undefined {
  const { sheet } = work.cell;
  const height = area.bottom - area.top + 1;
  const width = area.right - area.left + 1;
  const table = `the table is ${height} rows by ${width} columns`;
  if (area.bottom > MAX_ROW || area.right > MAX_COLUMN)
    return `${table} and would run off the sheet`;
  // An array formula of the old kind was given its area; nothing else can stand in it.
  if (work.mode === "array") return undefined;
  if (sheet.merges.some((merge) => overlaps(merge, area))) {
    return `${table}; merged cells are in the way`;
  }
  const other = sheet.tables.find((each) => overlaps(each.area, area));
  if (other) return `${table}; the worksheet table ${other.name} is in the way`;
  const inTheWay = (row: number, column: number): string =>
    `${table}; ${cellAddress(row, column)} is in the way, empty it`;
  if (height > WALKED_ROWS || width > WALKED_COLUMNS) {
    const cell = sheet
      .cellsIn(area)
      .find((each) => each !== work.cell && (each.input !== null || each.formula));
    return cell && inTheWay(cell.row, cell.column);
  }
  for (let row = area.top; row <= area.bottom; row++) {
    for (let column = area.left; column <= area.right; column++) {
      const cell = sheet.find(row, column);
      if (cell === work.cell) continue;
      const isUsed = cell && (cell.input !== null || cell.formula !== undefined);
      if (isUsed || taken.sourceOf(sheet, cellKey(row, column))) return inTheWay(row, column);
    }
  }
  return undefined;
}
