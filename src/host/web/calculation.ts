/** The workbook shown in the grid, as the calculation sees it; lives in the worker. */
import { worksheetFunctions } from "../../worksheet/registry.js";
import type { Area } from "../../core/cell-address.js";
import { Calculator } from "../engine/calculate.js";
import { FunctionSet } from "../engine/functions.js";
import { BookState, SheetState, type CellState, type TableState } from "../engine/model.js";
import { NAMESPACE, type WorksheetFunction } from "../engine/index.js";
import { gridValue, TEXT } from "./file/grid-values.js";
import type {
  Calculated,
  CellMessage,
  ModelBook,
  ModelCell,
  ModelChange,
  ShownCell,
  ShownSpill,
} from "./protocol.js";

export class GridModel {
  book = new BookState();
  private readonly functions = new FunctionSet(
    NAMESPACE,
    worksheetFunctions as unknown as readonly WorksheetFunction[]
  );
  private calculator = new Calculator(this.book, this.functions);
  private readonly byId = new Map<string, SheetState>();
  private readonly ids = new Map<SheetState, string>();
  /** what the grid was last told of each formula cell */
  private readonly told = new Map<CellState, string>();

  load(source: ModelBook): void {
    this.book = new BookState();
    this.byId.clear();
    this.ids.clear();
    this.told.clear();
    source.sheets.forEach((held, index) => {
      const sheet = new SheetState(held.name, index);
      sheet.visibility = held.hidden ? "hidden" : "visible";
      for (const row of held.hiddenRows) sheet.hiddenRows.add(row);
      this.book.sheets.push(sheet);
      this.byId.set(held.id, sheet);
      this.ids.set(sheet, held.id);
      for (const cell of held.cells) put(sheet, cell);
    });
    for (const table of source.tables) {
      const sheet = this.byId.get(table.sheet);
      if (!sheet) continue;
      const { name, hasHeader, hasTotals } = table;
      const area: Area = {
        top: table.top,
        left: table.left,
        bottom: table.bottom,
        right: table.right,
      };
      const state: TableState = {
        name,
        area,
        hasHeader,
        hasTotals,
        columns: columnsOf(sheet, area, hasHeader),
      };
      sheet.tables.push(state);
    }
    for (const { name, text, sheet: id } of source.names) {
      const sheet = id === undefined ? undefined : this.byId.get(id);
      if (id !== undefined && !sheet) continue;
      this.book.names.push({ name, text: text.replace(/^=/, ""), ...(sheet ? { sheet } : {}) });
    }
    this.calculator = new Calculator(this.book, this.functions);
  }

  change(changes: readonly ModelChange[]): void {
    for (const { sheet: id, cells } of changes) {
      const sheet = this.byId.get(id);
      if (!sheet) continue;
      // what the grid shows there is its own again, so it is told anew
      for (const cell of cells) this.told.delete(put(sheet, cell));
      sheet.tables = sheet.tables.map((table) => ({
        ...table,
        columns: columnsOf(sheet, table.area, table.hasHeader),
      }));
    }
  }

  calculate(): Calculated {
    const started = performance.now();
    this.calculator.calculate();
    const cells: Record<string, ShownCell[]> = {};
    const spills: Record<string, ShownSpill[]> = {};
    const spilled: Record<string, ShownCell[]> = {};
    const messages: CellMessage[] = [];
    let formulaCount = 0;
    for (const sheet of this.book.sheets) {
      const id = this.ids.get(sheet) as string;
      for (const cell of sheet.cells.values()) {
        if (!cell.formula && !cell.spilledFrom) continue;
        const shown = shownCell(cell);
        if (cell.formula) {
          formulaCount++;
          const key = `${shown.t}${String(shown.v)}`;
          if (this.told.get(cell) !== key) {
            this.told.set(cell, key);
            (cells[id] ??= []).push(shown);
          }
          if (cell.spill) {
            const { bottom, right } = cell.spill;
            (spills[id] ??= []).push({ row: cell.row, column: cell.column, bottom, right });
            (spilled[id] ??= []).push(shown);
          }
        } else (spilled[id] ??= []).push(shown);
        const { value } = cell;
        if (typeof value === "object" && value !== null) {
          messages.push({
            sheet: id,
            row: cell.row,
            column: cell.column,
            code: value.error,
            message: value.message ?? "",
          });
        }
      }
    }
    for (const { cell, message } of this.calculator.remarks()) {
      const { row, column } = cell;
      messages.push({ sheet: this.sheetId(cell.sheet), row, column, code: "Note", message });
    }
    const milliseconds = performance.now() - started;
    return { cells, spills, spilled, messages, formulaCount, milliseconds };
  }

  sheetId(sheet: SheetState): string {
    return this.ids.get(sheet) ?? "";
  }
}

function put(sheet: SheetState, held: ModelCell): CellState {
  const cell = sheet.at(held.row, held.column);
  cell.spilledFrom = undefined;
  cell.spill = undefined;
  if (held.formula !== undefined) {
    cell.formula = {
      typed: held.formula.replace(/^=/, "").trim(),
      mode: held.plain ? "plain" : "dynamic",
    };
    cell.input = null;
    cell.value = null;
    return cell;
  }
  cell.formula = undefined;
  cell.input = held.value;
  cell.value = held.value;
  return cell;
}

function shownCell(cell: CellState): ShownCell {
  const { v = null, t = TEXT } = gridValue(cell.value);
  return { row: cell.row, column: cell.column, v: v as string | number | null, t: t as number };
}

/** Names of a table's columns: what stands in its header row. */
function columnsOf(sheet: SheetState, area: Area, hasHeader: boolean): string[] {
  const names: string[] = [];
  for (let column = area.left; column <= area.right; column++) {
    const value = hasHeader ? sheet.find(area.top, column)?.value : null;
    names.push(
      value === null || value === undefined || typeof value === "object"
        ? `Column${column - area.left + 1}`
        : String(value)
    );
  }
  return names;
}
