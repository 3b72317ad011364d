/** A workbook file as the grid's workbook. */
import type {
  ICellData,
  IRange,
  IRowData,
  IStyleData,
  IWorkbookData,
  IWorksheetData,
} from "@univerjs/core";
import { parseCell, type Area } from "../../../core/cell-address.js";
import type { CellState, SheetState } from "../../engine/model.js";
import { readPackage, relationsOf, walkSheet, type Package } from "../../engine/read.js";
import { typedFormula } from "../../engine/spelling.js";
import { element, elements } from "../../engine/xml.js";
import { NAMESPACE } from "../../engine/values.js";
import { gridValue, PLAIN_TABLE, sheetId, type CellCarry, type Grouping } from "./grid-values.js";
import { formulaShape } from "../formula-shape.js";
import { readStyles, styleName } from "./styles.js";
import { readValidations } from "./validations.js";

/** Pixels of a column width of one character, and of a row height of one point, at 96 to the inch. */
const CHARACTER_PX = 7;
const POINT_PX = 96 / 72;
const DEFAULT_WIDTH_PX = 73;
const DEFAULT_HEIGHT_PX = 20;
/** Height of a line of text over the size of its letters. */
const LINE_SHARE = 1.3;

/** Rows and columns a sheet shows beyond its content. */
const SPARE_ROWS = 60;
const SPARE_COLUMNS = 6;
const LEAST_ROWS = 120;
const LEAST_COLUMNS = 20;

export function toRange(area: Area): IRange {
  return {
    startRow: area.top - 1,
    endRow: area.bottom - 1,
    startColumn: area.left - 1,
    endColumn: area.right - 1,
  };
}

/**
 * Reads an .xlsx file for the grid.
 * @param bytes content of the file
 * @param unit  name the grid knows the workbook by
 * @throws {WorkbookError} where the file cannot be opened, with a message for the person who chose it
 */
export function openForGrid(bytes: Uint8Array, unit: string): IWorkbookData {
  const file = readPackage(bytes, NAMESPACE);
  const relations = relationsOf(file.part, file.workbookPath);
  const partOf = (type: string): string | undefined => {
    const path = relations.find((each) => each.type === type)?.target;
    return path === undefined ? undefined : file.part(path);
  };
  const styles = readStyles(partOf("styles"), partOf("theme"));
  const sheets = file.book.sheets;
  const data: Record<string, Partial<IWorksheetData>> = {};
  sheets.forEach((sheet, index) => {
    data[sheetId(index)] = readSheet(file, sheet, index, styles);
  });
  const named = Object.fromEntries(styles.map((style, index) => [styleName(index), style]));
  return {
    id: unit,
    name: "",
    appVersion: "0.25.1",
    // the grid's language; its texts are English only
    locale: "enUS" as IWorkbookData["locale"],
    styles: named as Record<string, IStyleData>,
    ...(styles[0] ? { defaultStyle: { ...styles[0] } } : {}),
    sheetOrder: sheets.map((_, index) => sheetId(index)),
    sheets: data,
    resources: [
      { name: "SHEET_DEFINED_NAME_PLUGIN", data: JSON.stringify(names(file)) },
      { name: "SHEET_TABLE_PLUGIN", data: JSON.stringify(tables(file)) },
      { name: "SHEET_DATA_VALIDATION_PLUGIN", data: JSON.stringify(validations(file)) },
    ],
  };
}

function readSheet(
  file: Package,
  sheet: SheetState,
  index: number,
  styles: readonly IStyleData[]
): Partial<IWorksheetData> {
  const xml = file.sheetXml[index] as string;
  const cellData: Record<number, Record<number, ICellData>> = {};
  const rowData: NonNullable<IWorksheetData["rowData"]> = {};
  let lastRow = 0;
  let lastColumn = 0;
  const format = element(xml, "sheetFormatPr")?.attributes ?? {};
  const rowHeight =
    format.defaultRowHeight === undefined
      ? DEFAULT_HEIGHT_PX
      : Math.round(Number(format.defaultRowHeight) * POINT_PX);
  /** A row without a height of its own is as high as its largest letters need. */
  const makeRoom = (row: number, style: IStyleData | undefined): void => {
    const needed = Math.ceil((style?.fs ?? 0) * POINT_PX * LINE_SHARE);
    const held = rowData[row - 1];
    if (needed <= rowHeight || held?.h !== undefined || needed <= (held?.ah ?? 0)) return;
    rowData[row - 1] = { ...held, ah: needed, ia: 1 };
  };
  const put = (row: number, column: number, cell: ICellData): void => {
    (cellData[row - 1] ??= {})[column - 1] = cell;
    lastRow = Math.max(lastRow, row);
    lastColumn = Math.max(lastColumn, column);
  };
  const styleOf = (text: string | undefined): string | undefined => {
    const number = Number(text);
    return text !== undefined && number < styles.length ? styleName(number) : undefined;
  };
  walkSheet(xml, {
    row: (row, held) => {
      const kept: Partial<IRowData> = grouping(held);
      if (held.ht !== undefined) {
        const isSet = held.customHeight === "1" || held.customHeight === "true";
        // a height that was only measured follows the text
        kept[isSet ? "h" : "ah"] = Math.round(Number(held.ht) * POINT_PX);
        kept.ia = isSet ? 0 : 1;
      }
      if (held.hidden === "1" || held.hidden === "true") kept.hd = 1;
      const style = held.customFormat ? styleOf(held.s) : undefined;
      if (style !== undefined) kept.s = style;
      if (Object.keys(kept).length > 0) rowData[row - 1] = kept;
    },
    cell: (row, column, held, from, to) => {
      const state = sheet.find(row, column);
      const style = held.s === "0" ? undefined : styleOf(held.s);
      const cell: ICellData = style === undefined ? {} : { s: style };
      if (state) {
        fillCell(cell, state, xml, held.t, from, to);
        makeRoom(row, styles[Number(held.s ?? 0)]);
      }
      if (Object.keys(cell).length > 0) put(row, column, cell);
    },
  });
  for (const area of sheet.merges) {
    lastRow = Math.max(lastRow, area.bottom);
    lastColumn = Math.max(lastColumn, area.right);
  }
  for (const table of sheet.tables) lastRow = Math.max(lastRow, table.area.bottom);
  const view = element(xml, "sheetView");
  const gridlines = view?.attributes.showGridLines;
  const tab = element(xml, "tabColor")?.attributes.rgb;
  return {
    id: sheetId(index),
    name: sheet.name,
    tabColor: tab === undefined ? "" : `#${tab.slice(-6)}`,
    hidden: sheet.visibility === "visible" ? 0 : 1,
    rowCount: Math.max(LEAST_ROWS, lastRow + SPARE_ROWS),
    columnCount: Math.max(LEAST_COLUMNS, lastColumn + SPARE_COLUMNS),
    defaultColumnWidth:
      format.defaultColWidth === undefined
        ? DEFAULT_WIDTH_PX
        : Math.round(Number(format.defaultColWidth) * CHARACTER_PX),
    defaultRowHeight: rowHeight,
    cellData,
    rowData,
    columnData: readColumns(xml, styleOf),
    mergeData: sheet.merges.map(toRange),
    freeze: readFreeze(xml),
    showGridlines: gridlines === "0" || gridlines === "false" ? 0 : 1,
    rightToLeft: 0,
    rowHeader: { width: 46 },
    columnHeader: { height: 22 },
  };
}

/** The outline a row or column is part of, which the grid does not show but moves along with it. */
function grouping(held: Readonly<Record<string, string>>): { custom?: Grouping } {
  const { outlineLevel, collapsed } = held;
  if (outlineLevel === undefined && collapsed === undefined) return {};
  const isCollapsed = collapsed === "1" || collapsed === "true";
  return { custom: { outlineLevel: Number(outlineLevel ?? 0), collapsed: isCollapsed } };
}

function fillCell(
  cell: ICellData,
  state: CellState,
  xml: string,
  type: string | undefined,
  from: number,
  to: number
): void {
  // A spilled value belongs to the formula it spilled from; the calculation lays it out again.
  if (state.spilledFrom) return;
  const shown = gridValue(state.value);
  Object.assign(cell, shown);
  if (state.formula && !state.formula.frozen) {
    cell.f = `=${state.formula.typed}`;
    if (state.formula.mode === "plain") cell.custom = { plain: formulaShape(cell.f) };
    return;
  }
  if (state.formula?.frozen || isPartlyFormatted(xml, type, from, to)) {
    const carry: CellCarry = {
      raw: xml.slice(from, to),
      ...(type === undefined ? {} : { rawType: type }),
      was: (shown.v as string | number | undefined) ?? null,
    };
    cell.custom = { ...carry };
  }
}

/** Shared texts may be formatted word by word, which the grid does not show but the file keeps. */
function isPartlyFormatted(
  xml: string,
  type: string | undefined,
  from: number,
  to: number
): boolean {
  if (type === "s") return true;
  return type === "inlineStr" && /<(?:\w+:)?r>/.test(xml.slice(from, to));
}

function readColumns(
  xml: string,
  styleOf: (text: string | undefined) => string | undefined
): NonNullable<IWorksheetData["columnData"]> {
  const columns: NonNullable<IWorksheetData["columnData"]> = {};
  const cols = element(xml, "cols");
  if (!cols) return columns;
  for (const { attributes: held } of elements(xml, "col", cols.contentStart, cols.contentEnd)) {
    const first = Number(held.min);
    // Formats to the last column of the sheet are cut off where nobody scrolls.
    const last = Math.min(Number(held.max), first + 200);
    for (let column = first; column <= last; column++) {
      const width = held.width === undefined ? undefined : Number(held.width);
      const style = styleOf(held.style === "0" ? undefined : held.style);
      columns[column - 1] = {
        ...(width === undefined ? {} : { w: Math.round(width * CHARACTER_PX) }),
        ...(held.hidden === "1" || held.hidden === "true" ? { hd: 1 } : {}),
        ...(style === undefined ? {} : { s: style }),
        ...grouping(held),
      };
    }
  }
  return columns;
}

function readFreeze(xml: string): IWorksheetData["freeze"] {
  const pane = element(xml, "pane")?.attributes;
  if (pane?.state !== "frozen") return { xSplit: 0, ySplit: 0, startRow: -1, startColumn: -1 };
  const xSplit = Number(pane.xSplit ?? 0);
  const ySplit = Number(pane.ySplit ?? 0);
  const first = parseCell(pane.topLeftCell ?? "");
  return {
    xSplit,
    ySplit,
    startRow: ySplit > 0 ? Math.max(ySplit, (first?.row ?? 1) - 1) : -1,
    startColumn: xSplit > 0 ? Math.max(xSplit, (first?.column ?? 1) - 1) : -1,
  };
}

/** Names as the grid keeps them; the file's own text is read again when the book is saved. */
function names(file: Package): Record<string, unknown> {
  const found: Record<string, unknown> = {};
  file.book.names.forEach(({ name, text, sheet }, index) => {
    const id = `name-${index}`;
    const typed = typedFormula(text, NAMESPACE);
    const isReference = /^(?:'(?:[^']|'')+'|[\w.]+)!\$?[A-Z]{1,3}\$?\d+(?::\$?[A-Z]{1,3}\$?\d+)?$/i;
    found[id] = {
      id,
      name,
      formulaOrRefString: isReference.test(typed) ? typed : `=${typed}`,
      localSheetId: sheet ? sheetId(sheet.index) : "AllDefaultWorkbook",
    };
  });
  return found;
}

function tables(file: Package): Record<string, unknown> {
  const found: Record<string, unknown> = {};
  file.book.sheets.forEach((sheet, index) => {
    if (sheet.tables.length === 0) return;
    found[sheetId(index)] = {
      tables: sheet.tables.map((table, number) => ({
        id: `table-${index}-${number}`,
        name: table.name,
        range: toRange(table.area),
        options: {
          showHeader: table.hasHeader,
          showFooter: table.hasTotals,
          // the file's own fills and borders are shown; the grid adds none
          tableStyleId: PLAIN_TABLE,
        },
        filters: { tableColumnFilterList: [] },
        columns: table.columns.map((name, column) => ({
          id: `column-${index}-${number}-${column}`,
          displayName: name,
          dataType: "string",
          formula: "",
          meta: {},
          style: {},
        })),
        meta: {},
      })),
      tableFilteredOutRows: [],
    };
  });
  return found;
}

function validations(file: Package): Record<string, unknown> {
  return Object.fromEntries(
    file.sheetXml.flatMap((xml, index) => {
      const rules = readValidations(xml, `rule-${index}-`);
      return rules.length === 0 ? [] : [[sheetId(index), rules]];
    })
  );
}
