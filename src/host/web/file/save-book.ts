/**
 * The grid's workbook as an .xlsx file. The file it was opened from gives everything the grid does not touch; rows,
 * cells, widths, merged cells, validations, names and tables are written from the grid, each cell with the format it
 * has in the file. The engine then puts the formulas and their values in.
 */
import type {
  ICellData,
  IColumnData,
  IRange,
  IRowData,
  IWorkbookData,
  IWorksheetData,
  Nullable,
} from "@univerjs/core";
import { worksheetFunctions } from "../../../worksheet/registry.js";
import { areaAddress, cellAddress, type Area } from "../../../core/cell-address.js";
import {
  NAMESPACE,
  openWorkbook,
  WorkbookError,
  type WorksheetFunction,
} from "../../engine/index.js";
import { maySpill, readPackage, relationsOf, type Package } from "../../engine/read.js";
import { storedFormula } from "../../engine/spelling.js";
import {
  element,
  elements,
  escapeCellText,
  escapeXml,
  unescapeXml,
  type Element,
} from "../../engine/xml.js";
import { pack, writeEntries, type ZipEntry } from "../../engine/zip.js";
import type { ModelTable, SaveRequest, StructureStep } from "../protocol.js";
import { cellFormula, cellText, modelCell, modelTables, resource } from "../snapshot.js";
import { BOOLEAN, sheetIndex, type CellCarry, type Grouping } from "./grid-values.js";
import { movedFormula, movedList } from "./structure.js";
import { StyleWriter, toHex } from "./styles.js";
import { validationsXml, type GridRule } from "./validations.js";

const CHARACTER_PX = 7;
const POINT_PX = 96 / 72;
const ADDRESS = "http://schemas.openxmlformats.org";
const EMPTY_SHEET =
  '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' +
  `<worksheet xmlns="${ADDRESS}/spreadsheetml/2006/main"><sheetData/></worksheet>`;
const SHEET_TYPE = `${ADDRESS}/officeDocument/2006/relationships/worksheet`;
const SHEET_CONTENT = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml";

/** Elements of a sheet in the order files must have them (ISO/IEC 29500-1, 18.3.1.99), as far as needed here. */
const ORDER = [
  "sheetPr",
  "dimension",
  "sheetViews",
  "sheetFormatPr",
  "cols",
  "sheetData",
  "sheetCalcPr",
  "sheetProtection",
  "protectedRanges",
  "scenarios",
  "autoFilter",
  "sortState",
  "dataConsolidate",
  "customSheetViews",
  "mergeCells",
  "phoneticPr",
  "conditionalFormatting",
  "dataValidations",
  "hyperlinks",
  "printOptions",
  "pageMargins",
  "pageSetup",
];

const registered = worksheetFunctions as unknown as readonly WorksheetFunction[];
const spelling = {
  namespace: NAMESPACE,
  functions: new Set(registered.map((each) => each.name.toUpperCase())),
};

interface SheetPlan {
  readonly id: string;
  readonly data: Partial<IWorksheetData>;
  readonly name: string;
  /** place in the file it came from; undefined for a sheet made in the grid */
  readonly from: number | undefined;
  readonly path: string;
  readonly steps: readonly StructureStep[];
}

interface FormulaCell {
  readonly sheet: string;
  readonly address: string;
  readonly formula: string;
}

/**
 * Writes the grid's workbook.
 * @throws {WorkbookError} where the file it was opened from can no longer be read
 */
export function saveFromGrid({ original, data, steps }: SaveRequest): Uint8Array {
  const file = readPackage(original, NAMESPACE);
  const changed = new Map<string, string | undefined>();
  const part = (path: string): string | undefined =>
    changed.has(path) ? changed.get(path) : file.part(path);
  const plans = planSheets(file, data, steps);
  const relations = relationsOf(file.part, file.workbookPath);
  const stylesPath = relations.find((each) => each.type === "styles")?.target;
  const stylesXml = stylesPath === undefined ? undefined : file.part(stylesPath);
  const styles = stylesXml === undefined ? undefined : new StyleWriter(stylesXml);
  const rules = resource<Record<string, GridRule[]>>(data, "SHEET_DATA_VALIDATION_PLUGIN") ?? {};
  const formulas: FormulaCell[] = [];
  const renames = renaming(file, plans);

  for (const plan of plans) {
    const xml = plan.from === undefined ? EMPTY_SHEET : (file.sheetXml[plan.from] as string);
    const context = { plan, data, styles, formulas, rules: rules[plan.id] ?? [], renames };
    changed.set(plan.path, writeSheet(xml, context));
  }
  if (styles && stylesPath !== undefined) changed.set(stylesPath, styles.finish());
  writeTables(file, data, plans, part, changed);
  writeWorkbook(file, data, plans, part, changed, renames);

  const book = openWorkbook(zip(file, changed), registered);
  for (const { sheet, address, formula } of formulas) book.setCell(sheet, address, formula);
  book.recalculate();
  return book.toBytes();
}

function planSheets(file: Package, data: IWorkbookData, steps: SaveRequest["steps"]): SheetPlan[] {
  const taken = new Set(file.entries.map((entry) => entry.path.toLowerCase()));
  let next = 1;
  return data.sheetOrder.flatMap((id) => {
    const sheet = data.sheets[id];
    if (!sheet) return [];
    const index = sheetIndex(id);
    const from = index !== undefined && index < file.sheetPaths.length ? index : undefined;
    let path = from === undefined ? undefined : file.sheetPaths[from];
    while (path === undefined) {
      const candidate = `xl/worksheets/sheet${next++}.xml`;
      if (!taken.has(candidate)) {
        path = candidate;
        taken.add(candidate);
      }
    }
    const name = sheet.name ?? id;
    return [{ id, data: sheet, name, from, path, steps: steps[id] ?? [] }];
  });
}

interface Renames {
  readonly stepsOf: (sheet: string) => readonly StructureStep[];
  readonly renamed: (sheet: string) => string | undefined;
}

/** Steps and present name of each sheet, by its name in the file. */
function renaming(file: Package, plans: readonly SheetPlan[]): Renames {
  const planOf = (sheet: string): SheetPlan | undefined => {
    const state = file.book.sheet(sheet);
    return state && plans.find((plan) => plan.from === state.index);
  };
  return {
    stepsOf: (sheet) => planOf(sheet)?.steps ?? [],
    renamed: (sheet) => (file.book.sheet(sheet) ? planOf(sheet)?.name : sheet),
  };
}

// --- one sheet -------------------------------------------------------------------------------------------------------

interface SheetContext {
  readonly plan: SheetPlan;
  readonly data: IWorkbookData;
  readonly styles: StyleWriter | undefined;
  readonly formulas: FormulaCell[];
  readonly rules: readonly GridRule[];
  readonly renames: Renames;
}

function writeSheet(source: string, context: SheetContext): string {
  const { plan } = context;
  const root = element(source, "worksheet");
  if (!root) throw new WorkbookError("the workbook it was opened from is damaged");
  const prefix = root.tag.prefix;
  let xml = source;
  xml = replaceElement(xml, "sheetData", rowsXml(context, prefix), prefix);
  xml = replaceElement(xml, "cols", columnsXml(context, prefix), prefix);
  xml = replaceElement(xml, "mergeCells", mergesXml(plan.data.mergeData ?? [], prefix), prefix);
  xml = replaceElement(xml, "dataValidations", validationsXml(context.rules, prefix), prefix);
  xml = replaceElement(xml, "dimension", "", prefix);
  xml = writeFreeze(xml, plan.data.freeze, prefix);
  xml = writeTabColor(xml, plan, prefix);
  return followStructure(xml, context);
}

/** Puts an element in the place of the one there was, or where the order of elements wants it; empty removes it. */
function replaceElement(xml: string, name: string, piece: string, prefix: string): string {
  const root = element(xml, "worksheet") as Element;
  const old = element(xml, name, root.contentStart, root.contentEnd);
  if (old) return xml.slice(0, old.tag.start) + piece + xml.slice(old.end);
  if (piece === "") return xml;
  const open =
    root.tag.kind === "single"
      ? `${xml.slice(0, root.tag.end).replace(/\s*\/>$/, ">")}${piece}</${prefix}worksheet>`
      : undefined;
  if (open !== undefined) return open + xml.slice(root.tag.end);
  let at = root.contentStart;
  for (const before of ORDER.slice(0, ORDER.indexOf(name))) {
    for (const each of elements(xml, before, root.contentStart, root.contentEnd)) {
      at = Math.max(at, each.end);
    }
  }
  return xml.slice(0, at) + piece + xml.slice(at);
}

function numbersOf(record: object | undefined): number[] {
  return Object.keys(record ?? {})
    .map(Number)
    .filter((each) => Number.isInteger(each) && each >= 0)
    .sort((a, b) => a - b);
}

function rowsXml(context: SheetContext, prefix: string): string {
  const { plan, styles, data } = context;
  const cells = (plan.data.cellData ?? {}) as Record<number, Record<number, Nullable<ICellData>>>;
  const rowData = (plan.data.rowData ?? {}) as Record<number, Partial<IRowData> | undefined>;
  const rows = [...new Set([...numbersOf(cells), ...numbersOf(rowData)])].sort((a, b) => a - b);
  const lines = rows.map((row) => {
    const held = rowData[row];
    const style = styles?.indexFor(held?.s ?? undefined, data.styles);
    const isSet = held?.h !== undefined && held.ia !== 1;
    const pixels = isSet ? held.h : held?.ah;
    const height = pixels === undefined ? undefined : pixels / POINT_PX;
    const marks =
      (height === undefined ? "" : ` ht="${tidy(height)}"${isSet ? ' customHeight="1"' : ""}`) +
      (held?.hd ? ' hidden="1"' : "") +
      groupingMarks(held) +
      (style === undefined ? "" : ` s="${style}" customFormat="1"`);
    const inner = numbersOf(cells[row])
      .map((column) => cellXml(context, row, column, cells[row]?.[column], prefix))
      .join("");
    if (marks === "" && inner === "") return "";
    return `<${prefix}row r="${row + 1}"${marks}>${inner}</${prefix}row>`;
  });
  return `<${prefix}sheetData>${lines.join("")}</${prefix}sheetData>`;
}

/** The outline a row or column is part of, as it was in the file. */
function groupingMarks(held: Partial<IRowData> | Partial<IColumnData> | undefined): string {
  const { outlineLevel, collapsed } = (held?.custom ?? {}) as Partial<Grouping>;
  return (
    (outlineLevel ? ` outlineLevel="${outlineLevel}"` : "") + (collapsed ? ' collapsed="1"' : "")
  );
}

function tidy(value: number): number {
  return Math.round(value * 10000) / 10000;
}

function cellXml(
  context: SheetContext,
  row: number,
  column: number,
  cell: Nullable<ICellData>,
  prefix: string
): string {
  if (!cell) return "";
  const address = cellAddress(row + 1, column + 1);
  const style = context.styles?.indexFor(cell.s ?? undefined, context.data.styles);
  const marked = style === undefined ? "" : ` s="${style}"`;
  const formula = cellFormula(cell);
  const open = (type: string, inner: string): string =>
    `<${prefix}c r="${address}"${marked}${type}>${inner}</${prefix}c>`;
  if (formula !== undefined) {
    const typed = formula.replace(/^=/, "");
    const isPlain = modelCell(cell, row, column).plain === true && !maySpill(typed, NAMESPACE);
    if (isPlain) {
      return open("", `<${prefix}f>${escapeXml(storedFormula(typed, spelling))}</${prefix}f>`);
    }
    context.formulas.push({ sheet: context.plan.name, address, formula });
    return marked === "" ? "" : `<${prefix}c r="${address}"${marked}/>`;
  }
  const carry = cell.custom as CellCarry | null | undefined;
  const text = cellText(cell);
  if (carry?.raw !== undefined && (carry.was ?? null) === (text ?? null)) {
    return open(carry.rawType === undefined ? "" : ` t="${escapeXml(carry.rawType)}"`, carry.raw);
  }
  if (text === null) return marked === "" ? "" : `<${prefix}c r="${address}"${marked}/>`;
  if (typeof text === "number") {
    const type = cell.t === BOOLEAN ? ' t="b"' : "";
    return open(type, `<${prefix}v>${text}</${prefix}v>`);
  }
  const space = text !== text.trim() || /\s{2,}|\n/.test(text) ? ' xml:space="preserve"' : "";
  return open(
    ' t="inlineStr"',
    `<${prefix}is><${prefix}t${space}>${escapeCellText(text)}</${prefix}t></${prefix}is>`
  );
}

function columnsXml({ plan, styles, data }: SheetContext, prefix: string): string {
  const columns = (plan.data.columnData ?? {}) as Record<number, Partial<IColumnData> | undefined>;
  const pieces: { first: number; last: number; marks: string }[] = [];
  for (const column of numbersOf(columns)) {
    const held = columns[column];
    const style = styles?.indexFor(held?.s ?? undefined, data.styles);
    const marks =
      (held?.w === undefined ? "" : ` width="${tidy(held.w / CHARACTER_PX)}" customWidth="1"`) +
      (held?.hd ? ' hidden="1"' : "") +
      groupingMarks(held) +
      (style === undefined ? "" : ` style="${style}"`);
    if (marks === "") continue;
    const last = pieces[pieces.length - 1];
    if (last?.marks === marks && last.last === column) last.last = column + 1;
    else pieces.push({ first: column + 1, last: column + 1, marks });
  }
  if (pieces.length === 0) return "";
  const width = tidy((plan.data.defaultColumnWidth ?? 73) / CHARACTER_PX);
  const body = pieces.map(({ first, last, marks }) => {
    const full = marks.includes("width=") ? marks : ` width="${width}"${marks}`;
    return `<${prefix}col min="${first}" max="${last}"${full}/>`;
  });
  return `<${prefix}cols>${body.join("")}</${prefix}cols>`;
}

function toArea(range: IRange): Area {
  return {
    top: range.startRow + 1,
    bottom: range.endRow + 1,
    left: range.startColumn + 1,
    right: range.endColumn + 1,
  };
}

function mergesXml(merges: readonly IRange[], prefix: string): string {
  if (merges.length === 0) return "";
  const body = merges.map((range) => `<${prefix}mergeCell ref="${areaAddress(toArea(range))}"/>`);
  return `<${prefix}mergeCells count="${merges.length}">${body.join("")}</${prefix}mergeCells>`;
}

function writeFreeze(
  xml: string,
  freeze: IWorksheetData["freeze"] | undefined,
  prefix: string
): string {
  const across = Math.max(0, freeze?.xSplit ?? 0);
  const down = Math.max(0, freeze?.ySplit ?? 0);
  const view = element(xml, "sheetView");
  const old = view && element(xml, "pane", view.contentStart, view.contentEnd);
  const oldAcross = Number(old?.attributes.xSplit ?? 0);
  const oldDown = Number(old?.attributes.ySplit ?? 0);
  if (old && old.attributes.state !== "frozen" && across === 0 && down === 0) return xml;
  if (oldAcross === across && oldDown === down) return xml;
  const corner = cellAddress(down + 1, across + 1);
  const active = across > 0 && down > 0 ? "bottomRight" : across > 0 ? "topRight" : "bottomLeft";
  const pane =
    across === 0 && down === 0
      ? ""
      : `<${prefix}pane${across ? ` xSplit="${across}"` : ""}${down ? ` ySplit="${down}"` : ""} topLeftCell="${corner}" activePane="${active}" state="frozen"/>`;
  if (!view) {
    if (pane === "") return xml;
    const views = `<${prefix}sheetViews><${prefix}sheetView workbookViewId="0">${pane}</${prefix}sheetView></${prefix}sheetViews>`;
    return replaceElement(xml, "sheetViews", views, prefix);
  }
  const head = xml
    .slice(view.tag.start, view.tag.end)
    .replace(/\s*\/?>$/, "")
    .replace(/\s(?:topLeftCell)="[^"]*"/, "");
  return `${xml.slice(0, view.tag.start)}${head}>${pane}</${prefix}sheetView>${xml.slice(view.end)}`;
}

function writeTabColor(xml: string, plan: SheetPlan, prefix: string): string {
  const wanted = toHex(plan.data.tabColor);
  const old = element(xml, "tabColor");
  const held = old?.attributes.rgb?.slice(-6).toUpperCase();
  if (wanted === undefined || wanted === held) return xml;
  const piece = `<${prefix}tabColor rgb="FF${wanted}"/>`;
  if (old) return xml.slice(0, old.tag.start) + piece + xml.slice(old.end);
  const properties = element(xml, "sheetPr");
  if (!properties) {
    return replaceElement(xml, "sheetPr", `<${prefix}sheetPr>${piece}</${prefix}sheetPr>`, prefix);
  }
  const head = xml.slice(properties.tag.start, properties.tag.end).replace(/\s*\/?>$/, "");
  const inside = xml.slice(properties.contentStart, properties.contentEnd);
  return `${xml.slice(0, properties.tag.start)}${head}>${piece}${inside}</${prefix}sheetPr>${xml.slice(properties.end)}`;
}

/** Moves what still stands where it stood in the file: conditional formats, links, filters and their formulas. */
function followStructure(source: string, { plan, renames }: SheetContext): string {
  let xml = source;
  const { steps } = plan;
  for (const [name, attribute] of [
    ["conditionalFormatting", "sqref"],
    ["hyperlink", "ref"],
    ["autoFilter", "ref"],
    ["sortState", "ref"],
    ["protectedRange", "sqref"],
    ["ignoredError", "sqref"],
  ] as const) {
    if (steps.length === 0) break;
    for (const found of elements(xml, name).reverse()) {
      const list = found.attributes[attribute];
      if (list === undefined) continue;
      const moved = movedList(list, steps);
      if (moved === list) continue;
      const piece =
        moved === ""
          ? ""
          : xml
              .slice(found.tag.start, found.end)
              .replace(new RegExp(`(\\s${attribute}=")[^"]*"`), `$1${escapeXml(moved)}"`);
      xml = xml.slice(0, found.tag.start) + piece + xml.slice(found.end);
    }
  }
  const home = plan.name;
  for (const rule of elements(xml, "cfRule").reverse()) {
    for (const found of elements(xml, "formula", rule.contentStart, rule.contentEnd).reverse()) {
      const text = unescapeXml(xml.slice(found.contentStart, found.contentEnd));
      const moved = movedFormula(
        text,
        home,
        (sheet) => (sheet === home ? steps : renames.stepsOf(sheet)),
        (sheet) => (sheet === home ? home : renames.renamed(sheet))
      );
      if (moved === text) continue;
      xml = xml.slice(0, found.contentStart) + escapeXml(moved) + xml.slice(found.contentEnd);
    }
  }
  return xml;
}

// --- the other parts -------------------------------------------------------------------------------------------------

type Part = (path: string) => string | undefined;
type Changed = Map<string, string | undefined>;

/** Tables as they stand in the grid: their areas, and the names of their columns from the header row. */
function writeTables(
  file: Package,
  data: IWorkbookData,
  plans: readonly SheetPlan[],
  part: Part,
  changed: Changed
): void {
  const tables = modelTables(data);
  for (const plan of plans) {
    if (plan.from === undefined) continue;
    for (const relation of relationsOf(file.part, plan.path)) {
      if (relation.type !== "table") continue;
      const xml = part(relation.target);
      const found = xml === undefined ? undefined : element(xml, "table");
      if (xml === undefined || !found) continue;
      const name = (found.attributes.displayName ?? found.attributes.name ?? "").toLowerCase();
      const table = tables.find(
        (each) => each.sheet === plan.id && each.name.toLowerCase() === name
      );
      if (table) changed.set(relation.target, tableXml(xml, found, table, plan));
    }
  }
}

function tableXml(xml: string, found: Element, table: ModelTable, plan: SheetPlan): string {
  const { top, left, bottom, right } = table;
  const ref = areaAddress({ top, left, bottom, right });
  const names = headerNames(plan, table);
  const holder = element(xml, "tableColumns", found.contentStart, found.contentEnd);
  const columns = holder
    ? elements(xml, "tableColumn", holder.contentStart, holder.contentEnd)
    : [];
  const same =
    found.attributes.ref === ref &&
    columns.length === names.length &&
    columns.every((column, index) => column.attributes.name === names[index]);
  if (same || !holder) return xml;
  const { prefix } = found.tag;
  const ids = columns.map((column) => Number(column.attributes.id ?? 0));
  let nextId = Math.max(0, ...ids) + 1;
  const rest = [...columns];
  const body = names.map((name, index) => {
    // A column keeps what the file says of it where its name is still there, or else its place.
    const at = rest.findIndex((column) => column.attributes.name === name);
    const byPlace = columns.length === names.length ? rest.indexOf(columns[index] as Element) : -1;
    const place = at >= 0 ? at : byPlace;
    const kept = place >= 0 ? rest.splice(place, 1)[0] : undefined;
    if (!kept) return `<${prefix}tableColumn id="${nextId++}" name="${escapeXml(name)}"/>`;
    return xml
      .slice(kept.tag.start, kept.end)
      .replace(/(\sname=")[^"]*"/, (_, head: string) => `${head}${escapeXml(name)}"`);
  });
  const list = `<${prefix}tableColumns count="${names.length}">${body.join("")}</${prefix}tableColumns>`;
  let text = xml.slice(0, holder.tag.start) + list + xml.slice(holder.end);
  const filter = element(text, "autoFilter");
  if (filter) {
    const dataBottom = bottom - (table.hasTotals ? 1 : 0);
    const filterRef = areaAddress({ top, left, bottom: dataBottom, right });
    const head = text
      .slice(filter.tag.start, filter.tag.end)
      .replace(/(\sref=")[^"]*"/, `$1${filterRef}"`);
    text = text.slice(0, filter.tag.start) + head + text.slice(filter.tag.end);
  }
  const root = element(text, "table") as Element;
  const head = text.slice(root.tag.start, root.tag.end).replace(/(\sref=")[^"]*"/, `$1${ref}"`);
  return text.slice(0, root.tag.start) + head + text.slice(root.tag.end);
}

function headerNames(plan: SheetPlan, table: ModelTable): string[] {
  const cells = plan.data.cellData as Record<number, Record<number, ICellData>> | undefined;
  const names: string[] = [];
  for (let column = table.left; column <= table.right; column++) {
    const cell = table.hasHeader ? cells?.[table.top - 1]?.[column - 1] : undefined;
    const text = cell ? cellText(cell) : null;
    let name = text === null || text === "" ? `Column${column - table.left + 1}` : String(text);
    for (
      let number = 2;
      names.some((each) => each.toLowerCase() === name.toLowerCase());
      number++
    ) {
      name = `${text ?? "Column"}${number}`;
    }
    names.push(name);
  }
  return names;
}

function writeWorkbook(
  file: Package,
  data: IWorkbookData,
  plans: readonly SheetPlan[],
  part: Part,
  changed: Changed,
  renames: Renames
): void {
  let xml = part(file.workbookPath) ?? "";
  const holder = element(xml, "sheets");
  if (!holder) throw new WorkbookError("the workbook it was opened from is damaged");
  const { prefix } = holder.tag;
  const listed = elements(xml, "sheet", holder.contentStart, holder.contentEnd);
  const relations = relationsOf(file.part, file.workbookPath);
  const tagOf = (path: string): Element | undefined =>
    listed.find(
      (each) => relations.find((relation) => relation.id === each.attributes.id)?.target === path
    );
  const relationPrefix = /xmlns:(\w+)="[^"]*officeDocument\/2006\/relationships"/.exec(xml)?.[1];
  let nextSheet = Math.max(0, ...listed.map((each) => Number(each.attributes.sheetId ?? 0))) + 1;
  const tags = plans.map((plan) => {
    const old = plan.from === undefined ? undefined : tagOf(plan.path);
    const hidden = plan.data.hidden === 1;
    const held = old?.attributes.state ?? "visible";
    const state = hidden ? (held === "visible" ? "hidden" : held) : "visible";
    const id = old?.attributes.id ?? addSheetPart(file, plan.path, part, changed);
    const number = old?.attributes.sheetId ?? String(nextSheet++);
    const shown = state === "visible" ? "" : ` state="${state}"`;
    return `<${prefix}sheet name="${escapeXml(plan.name)}" sheetId="${number}"${shown} ${relationPrefix ?? "r"}:id="${escapeXml(id)}"/>`;
  });
  // Sheets without cells (charts on a sheet of their own) are not in the grid and stay at the end.
  const charts = listed.filter((each) => {
    const relation = relations.find((one) => one.id === each.attributes.id);
    return relation !== undefined && relation.type !== "worksheet";
  });
  const all = [...tags, ...charts.map((each) => xml.slice(each.tag.start, each.end))];
  const orderBefore = listed.map((each) => each.attributes.name ?? "");
  const orderNow = [
    ...plans.map((plan) => plan.name),
    ...charts.map((each) => each.attributes.name ?? ""),
  ];
  xml = `${xml.slice(0, holder.tag.start)}<${prefix}sheets>${all.join("")}</${prefix}sheets>${xml.slice(holder.end)}`;
  for (const [index, path] of file.sheetPaths.entries()) {
    if (plans.some((plan) => plan.from === index)) continue;
    removeSheetPart(file, path, part, changed);
  }
  xml = writeNames(xml, data, plans, renames, orderBefore, orderNow, prefix);
  xml = xml.replace(
    /(<(?:\w+:)?workbookView\b[^>]*\s)activeTab="(\d+)"/,
    (_, head: string) => head
  );
  changed.set(file.workbookPath, xml);
}

function writeNames(
  source: string,
  data: IWorkbookData,
  plans: readonly SheetPlan[],
  renames: Renames,
  orderBefore: readonly string[],
  orderNow: readonly string[],
  prefix: string
): string {
  interface GridName {
    name: string;
    formulaOrRefString: string;
    localSheetId?: string;
  }
  const pieces: string[] = [];
  const localOf = (sheet: string): string => {
    const index = orderNow.indexOf(sheet);
    return index < 0 ? "" : ` localSheetId="${index}"`;
  };
  const old = elements(source, "definedName");
  // Print areas and the like have names of their own kind, which the grid does not show.
  for (const each of old) {
    const { name = "", localSheetId, hidden } = each.attributes;
    if (!name.startsWith("_xlnm.")) continue;
    const wasOn = localSheetId === undefined ? undefined : orderBefore[Number(localSheetId)];
    const isOn = wasOn === undefined ? undefined : renames.renamed(wasOn);
    if (wasOn !== undefined && isOn === undefined) continue;
    const text = unescapeXml(source.slice(each.contentStart, each.contentEnd));
    const moved = movedFormula(text, wasOn ?? "", renames.stepsOf, renames.renamed);
    if (moved.includes("#REF!")) continue;
    pieces.push(
      `<${prefix}definedName name="${escapeXml(name)}"${isOn === undefined ? "" : localOf(isOn)}${hidden ? ` hidden="${hidden}"` : ""}>${escapeXml(moved)}</${prefix}definedName>`
    );
  }
  const names = resource<Record<string, GridName>>(data, "SHEET_DEFINED_NAME_PLUGIN") ?? {};
  for (const { name, formulaOrRefString, localSheetId } of Object.values(names)) {
    const plan = plans.find((each) => each.id === localSheetId);
    const isLocal = localSheetId !== undefined && localSheetId !== "AllDefaultWorkbook";
    if (isLocal && !plan) continue;
    const text = storedFormula(formulaOrRefString.replace(/^=/, ""), spelling);
    const attributes = old.find((each) => each.attributes.name === name)?.attributes;
    const hidden = attributes?.hidden ? ` hidden="${attributes.hidden}"` : "";
    const comment = attributes?.comment ? ` comment="${escapeXml(attributes.comment)}"` : "";
    pieces.push(
      `<${prefix}definedName name="${escapeXml(name)}"${comment}${plan ? localOf(plan.name) : ""}${hidden}>${escapeXml(text)}</${prefix}definedName>`
    );
  }
  const holder = element(source, "definedNames");
  const piece =
    pieces.length === 0 ? "" : `<${prefix}definedNames>${pieces.join("")}</${prefix}definedNames>`;
  if (holder) return source.slice(0, holder.tag.start) + piece + source.slice(holder.end);
  const sheets = element(source, "sheets") as Element;
  return source.slice(0, sheets.end) + piece + source.slice(sheets.end);
}

const CONTENT_TYPES = "[Content_Types].xml";

function relationsPath(path: string): string {
  const slash = path.lastIndexOf("/");
  return `${path.slice(0, slash + 1)}_rels/${path.slice(slash + 1)}.rels`;
}

/** Makes a new sheet known to the file; returns the id of its relation. */
function addSheetPart(file: Package, path: string, part: Part, changed: Changed): string {
  const relations = relationsPath(file.workbookPath);
  const xml = part(relations) ?? "";
  const root = element(xml, "Relationships");
  const types = part(CONTENT_TYPES) ?? "";
  const typesRoot = element(types, "Types");
  if (!root || !typesRoot) throw new WorkbookError("the workbook it was opened from is damaged");
  const ids = new Set(elements(xml, "Relationship").map((each) => each.attributes.Id));
  let number = ids.size + 1;
  while (ids.has(`rId${number}`)) number++;
  const relation = `<${root.tag.prefix}Relationship Id="rId${number}" Type="${SHEET_TYPE}" Target="/${path}"/>`;
  changed.set(relations, xml.slice(0, root.contentEnd) + relation + xml.slice(root.contentEnd));
  const override = `<${typesRoot.tag.prefix}Override PartName="/${path}" ContentType="${SHEET_CONTENT}"/>`;
  changed.set(
    CONTENT_TYPES,
    types.slice(0, typesRoot.contentEnd) + override + types.slice(typesRoot.contentEnd)
  );
  return `rId${number}`;
}

function removeSheetPart(file: Package, path: string, part: Part, changed: Changed): void {
  changed.set(path, undefined);
  changed.set(relationsPath(path), undefined);
  const drop = (
    holder: string,
    name: string,
    isIt: (held: Record<string, string>) => boolean
  ): void => {
    const xml = part(holder);
    const found = xml && elements(xml, name).find((each) => isIt(each.attributes));
    if (xml && found) changed.set(holder, xml.slice(0, found.tag.start) + xml.slice(found.end));
  };
  const id = relationsOf(file.part, file.workbookPath).find((each) => each.target === path)?.id;
  drop(relationsPath(file.workbookPath), "Relationship", (held) => held.Id === id);
  drop(
    CONTENT_TYPES,
    "Override",
    (held) => held.PartName?.toLowerCase() === `/${path.toLowerCase()}`
  );
}

function zip(file: Package, changed: Changed): Uint8Array {
  const encoder = new TextEncoder();
  const byPath = new Map([...changed].map(([path, text]) => [path.toLowerCase(), text] as const));
  const written = new Set<string>();
  const entries: ZipEntry[] = file.entries.flatMap((entry) => {
    const key = entry.path.toLowerCase();
    if (!byPath.has(key)) return [entry];
    written.add(key);
    const text = byPath.get(key);
    return text === undefined ? [] : [pack(entry.path, encoder.encode(text))];
  });
  for (const [path, text] of changed) {
    if (text === undefined || written.has(path.toLowerCase())) continue;
    entries.push(pack(path, encoder.encode(text)));
  }
  return writeEntries(entries);
}
