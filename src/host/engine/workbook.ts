/** A workbook that can be read, changed, calculated and written. */
import { answerOf, type FormulaAnswer } from "./answers.js";
import { cellAddress, cellKey, parseArea, parseCell } from "../../core/cell-address.js";
import { Calculator } from "./calculate.js";
import { FunctionSet } from "./functions.js";
import { fullAddress, type CellState, type SheetState } from "./model.js";
import { meansTables } from "./tables-meant.js";
import { maySpill, readPackage, type Package } from "./read.js";
import {
  isCellError,
  NAMESPACE,
  WorkbookError,
  type CellProblem,
  type CellValue,
  type WorksheetFunction,
} from "./values.js";
import { typedFormula } from "./spelling.js";
import { writePackage } from "./write.js";

export interface CellView {
  readonly value: CellValue;
  /** with its equals sign, as a person types it; undefined where the cell holds none */
  readonly formula?: string;
  /** why the value is an error */
  readonly message?: string;
  /** address of the cell whose formula this value spilled from */
  readonly spilledFrom?: string;
  /** area the cell's own formula fills, such as "D2:E6" */
  readonly spill?: string;
}

export interface Recalculation {
  /** every cell that came to an error, sheet by sheet */
  readonly errors: readonly CellProblem[];
  readonly formulaCount: number;
  /** formulas that read what is not here, such as other workbooks: kept with the value they were saved with */
  readonly keptCount: number;
}

export interface TableView {
  readonly sheet: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly CellValue[])[];
}

export class Workbook {
  private readonly calculator: Calculator;

  constructor(
    private readonly source: Package,
    private readonly functions: FunctionSet
  ) {
    this.calculator = new Calculator(source.book, functions);
  }

  get sheetNames(): string[] {
    return this.source.book.sheets.map((sheet) => sheet.name);
  }

  /** True where the file holds macros: they are kept as they are, and nothing here ever runs them. */
  get hasMacros(): boolean {
    return this.source.entries.some(({ path }) => /(?:^|\/)vbaProject\.bin$/i.test(path));
  }

  /** Rows that are hidden, by hand or by a filter, and hold something that was typed, sheet by sheet. */
  hiddenInputs(): { sheet: string; rows: number[] }[] {
    return this.source.book.sheets.flatMap((sheet) => {
      const rows = new Set<number>();
      for (const { row, input, formula } of sheet.cells.values()) {
        if (sheet.hiddenRows.has(row) && input !== null && !formula) rows.add(row);
      }
      const found = [...rows].sort((a, b) => a - b);
      return found.length > 0 ? [{ sheet: sheet.name, rows: found }] : [];
    });
  }

  /** True where day numbers count from 1904 instead of 1900. */
  get countsFrom1904(): boolean {
    return this.source.book.is1904;
  }

  /** Sheets a person sees: not hidden. */
  get visibleSheetNames(): string[] {
    return this.source.book.sheets
      .filter((sheet) => sheet.visibility === "visible")
      .map((sheet) => sheet.name);
  }

  /** Calculates every formula. */
  recalculate(): Recalculation {
    const errors = this.calculator.calculate();
    let formulaCount = 0;
    let keptCount = 0;
    for (const cell of this.allCells()) {
      if (cell.formula) formulaCount++;
      if (cell.formula?.frozen || cell.isKept) keptCount++;
    }
    return { errors, formulaCount, keptCount };
  }

  /** What is good to know of cells that came to no error, such as a sum that leaves lengths out. */
  remarks(): { sheet: string; cell: string; message: string }[] {
    return this.calculator.remarks().map(({ cell: { sheet, row, column }, message }) => ({
      sheet: sheet.name,
      cell: cellAddress(row, column),
      message,
    }));
  }

  /**
   * What a formula would come to if it stood on a sheet of this workbook; nothing is changed.
   * @param sheetName sheet that references without one mean; the first without it
   */
  evaluate(formula: string, sheetName?: string): FormulaAnswer {
    const sheet = this.sheet(sheetName ?? this.sheetNames[0] ?? "");
    // Below and to the right of everything, so that it reads as on an empty part of the sheet and has room to spill.
    const used = parseArea(this.usedRange(sheet.name) ?? "A1");
    const [row, column] = [(used?.bottom ?? 1) + 2, (used?.right ?? 1) + 2];
    const cell = sheet.at(row, column);
    cell.formula = {
      typed: typedFormula(formula.trim().replace(/^=/, ""), NAMESPACE),
      mode: "dynamic",
    };
    try {
      this.calculator.calculate();
      return answerOf(cell);
    } finally {
      sheet.cells.delete(cellKey(row, column));
      this.calculator.calculate();
    }
  }

  /** What a cell holds, such as cell("Walls", "G2"). */
  cell(sheetName: string, address: string): CellView {
    const place = parseCell(address);
    if (!place) throw new RangeError(`not a cell: ${address}`);
    const cell = this.sheet(sheetName).find(place.row, place.column);
    return cell ? viewOf(cell) : { value: null };
  }

  /**
   * Puts a value or, where it is text starting with =, a formula into a cell. Recalculate afterwards.
   * Text is kept as text: "5/8" does not become a date.
   */
  setCell(sheetName: string, address: string, content: CellValue): void {
    this.put(sheetName, address, content, true);
  }

  /** Puts text into a cell as it is, even where it starts like a formula: text that came from somewhere else. */
  setText(sheetName: string, address: string, text: string): void {
    this.put(sheetName, address, text, false);
  }

  private put(sheetName: string, address: string, content: CellValue, isTyped: boolean): void {
    const place = parseCell(address);
    if (!place) throw new RangeError(`not a cell: ${address}`);
    const cell = this.sheet(sheetName).at(place.row, place.column);
    cell.touched = true;
    cell.spilledFrom = undefined;
    if (isTyped && typeof content === "string" && content.startsWith("=") && content.length > 1) {
      const typed = content.slice(1).trim();
      cell.formula = { typed, mode: "dynamic" };
      cell.input = null;
      cell.value = null;
      return;
    }
    cell.formula = undefined;
    cell.spill = undefined;
    cell.input = content;
    cell.value = content;
  }

  /** The values of an area, such as range("Walls", "A1:C5"), row by row. */
  range(sheetName: string, address: string): CellValue[][] {
    const area = parseArea(address);
    if (!area) throw new RangeError(`not an area: ${address}`);
    const sheet = this.sheet(sheetName);
    const rows: CellValue[][] = [];
    for (let row = area.top; row <= area.bottom; row++) {
      const values: CellValue[] = [];
      for (let column = area.left; column <= area.right; column++) {
        values.push(sheet.find(row, column)?.value ?? null);
      }
      rows.push(values);
    }
    return rows;
  }

  /** The area of a sheet that holds anything, such as "A1:H20"; undefined where it is empty. */
  usedRange(sheetName: string): string | undefined {
    const sheet = this.sheet(sheetName);
    let [top, left, bottom, right] = [Infinity, Infinity, 0, 0];
    for (const cell of sheet.cells.values()) {
      if (cell.value === null && !cell.formula) continue;
      top = Math.min(top, cell.row);
      left = Math.min(left, cell.column);
      bottom = Math.max(bottom, cell.row);
      right = Math.max(right, cell.column);
    }
    return bottom === 0 ? undefined : `${cellAddress(top, left)}:${cellAddress(bottom, right)}`;
  }

  get tableNames(): string[] {
    return this.source.book.sheets.flatMap((sheet) => sheet.tables.map((table) => table.name));
  }

  /** A worksheet table by name: its columns and data rows. */
  table(name: string): TableView {
    for (const sheet of this.source.book.sheets) {
      const table = sheet.tables.find((each) => each.name.toLowerCase() === name.toLowerCase());
      if (!table) continue;
      const top = table.area.top + (table.hasHeader ? 1 : 0);
      const bottom = table.area.bottom - (table.hasTotals ? 1 : 0);
      const rows: CellValue[][] = [];
      for (let row = top; row <= bottom; row++) {
        rows.push(
          table.columns.map((_, index) => sheet.find(row, table.area.left + index)?.value ?? null)
        );
      }
      return { sheet: sheet.name, columns: table.columns, rows };
    }
    throw new RangeError(`no table is called ${name}`);
  }

  /** The areas filled by formulas that call a function of ours, such as "HOUSE_ORDER". */
  findCalls(functionName: string): { sheet: string; cell: string; area: string }[] {
    const call = new RegExp(`(?<![\\w.])${NAMESPACE}\\.${functionName}\\s*\\(`, "i");
    const found: { sheet: string; cell: string; area: string }[] = [];
    for (const cell of this.allCells()) {
      const typed = cell.formula?.typed.replace(/"(?:[^"]|"")*"/g, '""');
      if (typed === undefined || !call.test(typed)) continue;
      const address = cellAddress(cell.row, cell.column);
      found.push({
        sheet: cell.sheet.name,
        cell: address,
        area: viewOf(cell).spill ?? address,
      });
    }
    return found;
  }

  /** True where any formula calls a function of the namespace. */
  get usesFunctions(): boolean {
    for (const cell of this.allCells()) {
      if (cell.formula && mayCall(cell.formula.typed)) return true;
    }
    return false;
  }

  /** Every formula with its address, sheet by sheet. */
  formulas(): { sheet: string; cell: string; formula: string }[] {
    return [...this.allCells()].flatMap((cell) =>
      cell.formula
        ? [
            {
              sheet: cell.sheet.name,
              cell: cellAddress(cell.row, cell.column),
              formula: `=${cell.formula.typed}`,
            },
          ]
        : []
    );
  }

  /** The formulas whose values are others each time, such as "A!B2", after a calculation. */
  changing(): ReadonlySet<string> {
    return new Set([...this.calculator.changing()].map(fullAddress));
  }

  /** The workbook as an .xlsx file, with the values of the last calculation stored in it. */
  toBytes(): Uint8Array {
    for (const cell of this.allCells()) settleMode(cell);
    return writePackage(this.source, this.functions);
  }

  private sheet(name: string): SheetState {
    const sheet = this.source.book.sheet(name);
    if (!sheet) throw new RangeError(`no sheet is called ${name}`);
    return sheet;
  }

  private *allCells(): Generator<CellState> {
    for (const sheet of this.source.book.sheets) yield* sheet.cells.values();
  }
}

function mayCall(typed: string): boolean {
  return typed.toUpperCase().includes(`${NAMESPACE}.`);
}

/** A formula set here is stored as a plain one where nothing in it can spill or means a table. */
function settleMode(cell: CellState): void {
  const { formula } = cell;
  if (!formula || !cell.touched || formula.mode !== "dynamic" || cell.spill) return;
  if (isCellError(cell.value) && cell.value.error === "#SPILL!") return;
  if (!maySpill(formula.typed, NAMESPACE) && !meansTables(formula.typed)) {
    cell.formula = { typed: formula.typed, mode: "plain" };
  }
}

function viewOf(cell: CellState): CellView {
  const { value, formula, spilledFrom, spill } = cell;
  const message = isCellError(value) ? value.message : undefined;
  return {
    value,
    ...(formula ? { formula: `=${formula.typed}` } : {}),
    ...(message === undefined ? {} : { message }),
    ...(spilledFrom ? { spilledFrom: cellAddress(spilledFrom.row, spilledFrom.column) } : {}),
    ...(spill
      ? {
          spill: `${cellAddress(spill.top, spill.left)}:${cellAddress(spill.bottom, spill.right)}`,
        }
      : {}),
  };
}

/**
 * Opens an .xlsx workbook.
 * @param bytes     the content of the file
 * @param functions the worksheet functions, names without the namespace
 * @throws {WorkbookError} where the file is not a workbook, is damaged, protected or made to exhaust the machine
 */
export function openWorkbook(bytes: Uint8Array, functions: readonly WorksheetFunction[]): Workbook {
  try {
    return new Workbook(readPackage(bytes, NAMESPACE), new FunctionSet(NAMESPACE, functions));
  } catch (error) {
    if (error instanceof WorkbookError) throw error;
    if (error instanceof RangeError) {
      throw new WorkbookError(`the workbook is too large to open here (${error.message})`);
    }
    throw error;
  }
}
