/**
 * A workbook in memory: what was put into each cell, and what the last calculation gave. Nothing here knows about
 * files or about the calculation library.
 */
import {
  cellAddress,
  cellCount,
  cellKey,
  contains,
  sheetPrefix,
  type Area,
} from "../../core/cell-address.js";
import type { CellValue } from "./values.js";

/**
 * - `plain`: one cell, one value; a range in it is narrowed to the cell of the same row or column
 * - `dynamic`: a table of values spills over the cells below and to the right
 * - `array`: an array formula of the old kind, confined to the area it was entered in
 */
export type FormulaMode = "plain" | "dynamic" | "array";

export interface FormulaState {
  /** as a person types it, without the equals sign */
  readonly typed: string;
  readonly mode: FormulaMode;
  /** the area of an array formula of the old kind */
  readonly area?: Area;
  /** kept as it was saved: a formula on another workbook, which cannot be calculated here */
  readonly frozen?: boolean;
}

export class CellState {
  /** what was typed: null where the cell is empty, holds a formula or only shows a spilled value */
  input: CellValue = null;
  formula: FormulaState | undefined;
  /** what the cell shows */
  value: CellValue = null;
  /** area the formula's result fills, its own cell included */
  spill: Area | undefined;
  /** the cell whose formula this value spilled from */
  spilledFrom: CellState | undefined;
  /** changed since the file was read, so that it must be written */
  touched = false;
  /** shows the value it was saved with: its formula reads something that is not here */
  isKept = false;
  constructor(
    readonly sheet: SheetState,
    readonly row: number,
    readonly column: number
  ) {}
}

/** The address of a cell with its sheet, as a formula spells it. */
export function fullAddress(cell: CellState): string {
  return sheetPrefix(cell.sheet.name) + cellAddress(cell.row, cell.column);
}

export interface TableState {
  readonly name: string;
  readonly columns: readonly string[];
  /** header row, data and totals row */
  readonly area: Area;
  readonly hasHeader: boolean;
  readonly hasTotals: boolean;
}

/** The data rows of a table. */
export function dataArea(table: TableState): Area {
  return {
    ...table.area,
    top: table.area.top + (table.hasHeader ? 1 : 0),
    bottom: table.area.bottom - (table.hasTotals ? 1 : 0),
  };
}

export class SheetState {
  readonly cells = new Map<number, CellState>();
  /** rows a person or a filter hides */
  readonly hiddenRows = new Set<number>();
  /** rows a filter hides */
  readonly filteredRows = new Set<number>();
  merges: readonly Area[] = [];
  tables: TableState[] = [];
  /** as the file says: visible, hidden or veryHidden */
  visibility = "visible";
  constructor(
    readonly name: string,
    readonly index: number
  ) {}

  find(row: number, column: number): CellState | undefined {
    return this.cells.get(cellKey(row, column));
  }

  at(row: number, column: number): CellState {
    const key = cellKey(row, column);
    let cell = this.cells.get(key);
    if (!cell) {
      cell = new CellState(this, row, column);
      this.cells.set(key, cell);
    }
    return cell;
  }

  /** The cells that exist inside an area; an area larger than the sheet's content is not walked. */
  cellsIn(area: Area): CellState[] {
    if (cellCount(area) > this.cells.size) {
      return [...this.cells.values()].filter((cell) => contains(area, cell.row, cell.column));
    }
    const found: CellState[] = [];
    for (let row = area.top; row <= area.bottom; row++) {
      for (let column = area.left; column <= area.right; column++) {
        const cell = this.find(row, column);
        if (cell) found.push(cell);
      }
    }
    return found;
  }

  /** The table a cell's row belongs to, for references like [@Length]. */
  tableAt(row: number, column: number): TableState | undefined {
    return this.tables.find(({ area }) => contains(area, row, column));
  }
}

export interface DefinedName {
  readonly name: string;
  /** what the name stands for, as stored, without an equals sign */
  readonly text: string;
  /** sheet the name belongs to; without it the whole workbook */
  readonly sheet?: SheetState;
}

export class BookState {
  sheets: SheetState[] = [];
  names: DefinedName[] = [];
  /** days count from 1904 instead of 1900 */
  is1904 = false;
  /** circular formulas are calculated by repetition, as the workbook asks for */
  iterates = false;

  sheet(name: string): SheetState | undefined {
    const wanted = name.toLowerCase();
    return this.sheets.find((sheet) => sheet.name.toLowerCase() === wanted);
  }
}
