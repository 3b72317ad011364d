/** The grid's workbook read for the calculation and for saving. */
import type { ICellData, IWorkbookData, Nullable } from "@univerjs/core";
import { BOOLEAN } from "./file/grid-values.js";
import { formulaShape } from "./formula-shape.js";
import type { ModelBook, ModelCell, ModelName, ModelSheet, ModelTable } from "./protocol.js";

/** What another part of the grid keeps in the workbook, by its name. */
export function resource<T>(data: IWorkbookData, name: string): T | undefined {
  const text = data.resources?.find((each) => each.name === name)?.data;
  if (!text) return undefined;
  try {
    return JSON.parse(text) as T;
  } catch {
    return undefined;
  }
}

export function cellFormula(cell: ICellData): string | undefined {
  return typeof cell.f === "string" && cell.f.length > 1 && cell.f.startsWith("=")
    ? cell.f
    : undefined;
}

/** What a cell without a formula holds; truth values as 1 and 0. */
export function cellText(cell: ICellData): string | number | null {
  const stream = cell.p?.body?.dataStream;
  if (stream !== undefined) return stream.replace(/\r\n$/, "").replace(/\r/g, "\n");
  const { v } = cell;
  if (v === null || v === undefined || v === "") return null;
  return typeof v === "boolean" ? Number(v) : v;
}

/** One cell for the calculation. */
export function modelCell(
  cell: Nullable<ICellData>,
  row: number,
  column: number,
  formula = cell ? cellFormula(cell) : undefined
): ModelCell {
  const place = { row: row + 1, column: column + 1 };
  if (!cell) return { ...place, value: null };
  if (formula !== undefined) {
    const plain: unknown = cell.custom?.plain;
    const isPlain = typeof plain === "string" && plain === formulaShape(formula);
    return { ...place, value: null, formula, ...(isPlain ? { plain: true } : {}) };
  }
  const text = cellText(cell);
  if (cell.t === BOOLEAN && text !== null) return { ...place, value: Number(text) !== 0 };
  return { ...place, value: text };
}

interface TableResource {
  readonly tables: readonly {
    readonly name: string;
    readonly range: { startRow: number; endRow: number; startColumn: number; endColumn: number };
    readonly options?: { showHeader?: boolean; showFooter?: boolean };
  }[];
}

export function modelTables(data: IWorkbookData): ModelTable[] {
  const held = resource<Record<string, TableResource>>(data, "SHEET_TABLE_PLUGIN") ?? {};
  return Object.entries(held).flatMap(([sheet, { tables }]) =>
    tables.map(({ name, range, options }) => ({
      sheet,
      name,
      top: range.startRow + 1,
      left: range.startColumn + 1,
      bottom: range.endRow + 1,
      right: range.endColumn + 1,
      hasHeader: options?.showHeader !== false,
      hasTotals: options?.showFooter === true,
    }))
  );
}

function modelNames(data: IWorkbookData): ModelName[] {
  interface Held {
    name: string;
    formulaOrRefString: string;
    localSheetId?: string;
  }
  const held = resource<Record<string, Held>>(data, "SHEET_DEFINED_NAME_PLUGIN") ?? {};
  return Object.values(held).map(({ name, formulaOrRefString, localSheetId }) => ({
    name,
    text: formulaOrRefString,
    ...(localSheetId !== undefined && data.sheets[localSheetId] ? { sheet: localSheetId } : {}),
  }));
}

/**
 * The whole workbook for the calculation.
 * @param formulaOf formula of a cell that shares it with another and does not hold it itself
 */
export function modelBook(
  data: IWorkbookData,
  formulaOf: (sheet: string, row: number, column: number) => string | undefined = () => undefined
): ModelBook {
  const sheets = data.sheetOrder.flatMap((id): ModelSheet[] => {
    const sheet = data.sheets[id];
    if (!sheet) return [];
    const cells: ModelCell[] = [];
    const rows = (sheet.cellData ?? {}) as Record<string, Record<string, ICellData>>;
    for (const [rowText, columns] of Object.entries(rows)) {
      for (const [columnText, cell] of Object.entries(columns)) {
        const row = Number(rowText);
        const column = Number(columnText);
        if (!cell) continue;
        const formula = cellFormula(cell) ?? (cell.si ? formulaOf(id, row, column) : undefined);
        const held = modelCell(cell, row, column, formula);
        if (held.value !== null || held.formula !== undefined) cells.push(held);
      }
    }
    const hiddenRows = Object.entries(sheet.rowData ?? {})
      .filter(([, row]) => (row as { hd?: number } | undefined)?.hd === 1)
      .map(([row]) => Number(row) + 1);
    return [{ id, name: sheet.name ?? id, hidden: sheet.hidden === 1, cells, hiddenRows }];
  });
  return { sheets, tables: modelTables(data), names: modelNames(data) };
}
