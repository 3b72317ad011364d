/** Lays results that are tables over the cells beside their formulas. */
import {
  cellAddress,
  cellKey,
  contains,
  keyPlace,
  MAX_COLUMN,
  MAX_ROW,
  overlaps,
  type Area,
} from "../../core/cell-address.js";
import type { SheetState } from "./model.js";
import { toPlain, type RuntimeScalar } from "./runtime.js";
import { sameValue } from "./values.js";
import type { Work } from "./work.js";

/** A value shown in a cell that is empty itself. */
export interface SpilledValue {
  readonly from: Work;
  readonly value: RuntimeScalar;
}

/** The spilled values of every sheet, by cell key. */
export class Spilled {
  private readonly sheets = new Map<SheetState, Map<number, SpilledValue>>();

  of(sheet: SheetState): ReadonlyMap<number, SpilledValue> {
    return this.sheets.get(sheet) ?? NONE;
  }

  put(sheet: SheetState, key: number, value: SpilledValue): void {
    const cells = this.sheets.get(sheet);
    if (cells) cells.set(key, value);
    else this.sheets.set(sheet, new Map([[key, value]]));
  }

  /** The formula that fills a cell. */
  sourceOf(sheet: SheetState, row: number, column: number): Work | undefined {
    return this.sheets.get(sheet)?.get(cellKey(row, column))?.from;
  }

  /** The formulas that fill any cell of an area. */
  sourcesIn(sheet: SheetState, area: Area): Set<Work> {
    const found = new Set<Work>();
    for (const [key, { from }] of this.of(sheet)) {
      const { row, column } = keyPlace(key);
      if (contains(area, row, column)) found.add(from);
    }
    return found;
  }

  /** How many cells a formula fills beside its own. */
  countOf(work: Work): number {
    let count = 0;
    for (const { from } of this.of(work.cell.sheet).values()) if (from === work) count++;
    return count;
  }

  isSame(other: Spilled): boolean {
    if (this.size !== other.size) return false;
    for (const [sheet, cells] of this.sheets) {
      const others = other.of(sheet);
      for (const [key, { from, value }] of cells) {
        const match = others.get(key);
        if (match?.from !== from || !sameValue(toPlain(match.value), toPlain(value))) return false;
      }
    }
    return true;
  }

  private get size(): number {
    let size = 0;
    for (const cells of this.sheets.values()) size += cells.size;
    return size;
  }
}

const NONE: ReadonlyMap<number, SpilledValue> = new Map();

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
      if (isUsed || taken.sourceOf(sheet, row, column)) return inTheWay(row, column);
    }
  }
  return undefined;
}
