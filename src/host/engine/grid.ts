/** The sheets as the calculation library reads and writes them. */
import { calculateFormulas } from "@cj-tech-master/excelts/formula";
import { cellKey, MAX_COLUMN, MAX_ROW, type Area } from "../../core/cell-address.js";
import { dataArea, type SheetState } from "./model.js";
import { isCellError, type CellValue } from "./values.js";

/** The cell of the grid the library works on. */
export class GridCell {
  type = 0;
  value: unknown = null;
  formula: string | undefined = undefined;
  result: unknown = undefined;
  model: { formula?: string } = {};
  constructor(
    readonly row: number,
    readonly col: number
  ) {}

  /** Types of the library: 0 empty, 2 number, 3 text, 4 error, 5 boolean, 6 formula; it tells only 0 and 6 apart. */
  setValue(value: CellValue): void {
    this.formula = undefined;
    this.model = {};
    this.result = undefined;
    this.value = isCellError(value) ? { error: value.error } : value;
    this.type = value === null ? 0 : 2;
  }

  setFormula(text: string): void {
    this.formula = text;
    this.model = { formula: text };
    this.value = null;
    this.result = undefined;
    this.type = 6;
  }
}

export class GridSheet {
  readonly cells = new Map<number, GridCell>();
  private readonly rows = new Map<number, GridCell[]>();
  constructor(
    readonly state: SheetState,
    readonly id: number
  ) {}
  get name(): string {
    return this.state.name;
  }
  get mergedRegions(): readonly Area[] {
    return this.state.merges;
  }
  get dimensions(): Area | null {
    if (this.cells.size === 0) return null;
    let [top, left, bottom, right] = [MAX_ROW, MAX_COLUMN, 1, 1];
    for (const cell of this.cells.values()) {
      if (cell.type === 0) continue;
      top = Math.min(top, cell.row);
      bottom = Math.max(bottom, cell.row);
      left = Math.min(left, cell.col);
      right = Math.max(right, cell.col);
    }
    return top > bottom ? null : { top, left, bottom, right };
  }
  findCell(row: number, column: number): GridCell | undefined {
    return this.cells.get(cellKey(row, column));
  }
  getCell(row: number, column: number): GridCell {
    const key = cellKey(row, column);
    let cell = this.cells.get(key);
    if (!cell) {
      cell = new GridCell(row, column);
      this.cells.set(key, cell);
      const inRow = this.rows.get(row);
      if (inRow) inRow.push(cell);
      else this.rows.set(row, [cell]);
    }
    return cell;
  }
  eachRow(...args: unknown[]): void {
    const visit = args[args.length - 1] as (row: unknown, number: number) => void;
    for (const [number, cells] of this.rows) {
      const row = {
        hidden: this.state.hiddenRows.has(number),
        eachCell: (...inner: unknown[]) => {
          const each = inner[inner.length - 1] as (cell: GridCell, column: number) => void;
          for (const cell of cells) if (cell.type !== 0) each(cell, cell.col);
        },
      };
      visit(row, number);
    }
  }
  getTables(): unknown[] {
    return this.state.tables.map((table) => ({
      table: {
        name: table.name,
        tl: { row: table.area.top, col: table.area.left },
        columns: table.columns.map((name) => ({ name })),
        rows: new Array(Math.max(0, dataArea(table).bottom - dataArea(table).top + 1)),
        headerRow: table.hasHeader,
        totalsRow: table.hasTotals,
      },
    }));
  }
}

/** Whether the library has a function, found by asking it. */
export function libraryKnows(name: string): boolean {
  const cell = new GridCell(1, 1);
  cell.setFormula(`${name}()`);
  const row = {
    eachCell: (...args: unknown[]) => (args[args.length - 1] as (c: GridCell) => void)(cell),
  };
  const sheet = {
    id: 1,
    name: "A",
    dimensions: { top: 1, left: 1, bottom: 1, right: 1 },
    eachRow: (...args: unknown[]) =>
      (args[args.length - 1] as (r: unknown, n: number) => void)(row, 1),
    findCell: () => cell,
    getCell: () => cell,
  };
  row.eachCell = (...args: unknown[]) =>
    (args[args.length - 1] as (c: GridCell, column: number) => void)(cell, 1);
  calculateFormulas({ worksheets: [sheet as never], getWorksheet: () => sheet as never });
  const result = cell.result as unknown;
  return !(isCellError(result) && result.error === "#NAME?");
}
