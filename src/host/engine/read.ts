/** Reads the parts of an .xlsx workbook that a calculation needs, and keeps every part for writing it again. */
import { parseArea, parseCell, type Area } from "../../core/cell-address.js";
import { parseFormula, shiftFormula, walkFormula } from "./formula.js";
import {
  BookState,
  SheetState,
  type CellState,
  type FormulaMode,
  type FormulaState,
  type TableState,
} from "./model.js";
import { ARRAY_FUNCTIONS, typedFormula } from "./spelling.js";
import { WorkbookError, type CellValue } from "./values.js";
import {
  attributes,
  element,
  elements,
  nextTag,
  textOf,
  unescapeCellText,
  unescapeXml,
  type Element,
} from "./xml.js";
import { readEntries, unpack, type ZipEntry } from "./zip.js";

/** Cells read at most, formulas and values together. */
const MOST_CELLS = 2_000_000;

/** A workbook as it was read: what it holds, and the parts it was read from. */
export interface Package {
  readonly book: BookState;
  readonly entries: ZipEntry[];
  readonly workbookPath: string;
  /** path of each sheet's part, by sheet index */
  readonly sheetPaths: string[];
  readonly sheetXml: string[];
  /** text of a part, unpacked once */
  readonly part: (path: string) => string | undefined;
}

interface Relation {
  readonly id: string;
  readonly type: string;
  readonly target: string;
}

export function readPackage(bytes: Uint8Array, namespace: string): Package {
  const entries = readEntries(bytes);
  const byPath = new Map(entries.map((entry) => [entry.path.toLowerCase(), entry]));
  const texts = new Map<string, string>();
  const part = (path: string): string | undefined => {
    const key = path.toLowerCase();
    const known = texts.get(key);
    if (known !== undefined) return known;
    const entry = byPath.get(key);
    if (!entry) return undefined;
    const text = decodeXml(unpack(entry), path);
    texts.set(key, text);
    return text;
  };

  const workbookPath =
    relationsOf(part, "").find((each) => each.type === "officeDocument")?.target ??
    "xl/workbook.xml";
  const workbookXml = part(workbookPath);
  if (workbookXml === undefined || !element(workbookXml, "sheets")) {
    throw new WorkbookError("the file is not an .xlsx workbook");
  }
  const relations = relationsOf(part, workbookPath);
  const target = (type: string): string | undefined => {
    const path = relations.find((each) => each.type === type)?.target;
    return path === undefined ? undefined : part(path);
  };
  const shared = readSharedStrings(target("sharedStrings"));
  const spilling = readSpillMarks(target("sheetMetadata"));

  const book = new BookState();
  const properties = element(workbookXml, "workbookPr")?.attributes ?? {};
  book.is1904 = isTrue(properties.date1904);
  book.iterates = isTrue(element(workbookXml, "calcPr")?.attributes.iterate);
  const result: Package = { book, entries, workbookPath, sheetPaths: [], sheetXml: [], part };
  /** every sheet in the order of the file, undefined where it holds no cells (a chart) */
  const inFile: (SheetState | undefined)[] = [];
  const budget = { cells: MOST_CELLS };
  for (const { attributes: held } of elements(workbookXml, "sheet")) {
    const relation = relations.find((each) => each.id === held.id);
    const xml = relation?.type === "worksheet" ? part(relation.target) : undefined;
    if (relation?.type === "worksheet" && xml === undefined) {
      throw new WorkbookError(`the file is damaged: the sheet ${held.name ?? ""} is missing`);
    }
    if (!relation || xml === undefined) {
      inFile.push(undefined);
      continue;
    }
    const sheet = new SheetState(held.name ?? "", book.sheets.length);
    sheet.visibility = held.state ?? "visible";
    book.sheets.push(sheet);
    inFile.push(sheet);
    result.sheetPaths.push(relation.target);
    result.sheetXml.push(xml);
    readSheet(xml, sheet, { shared, spilling, namespace, budget });
    readTables(part, relation.target, sheet);
  }
  readNames(workbookXml, book, inFile);
  return result;
}

function decodeXml(bytes: Uint8Array, path: string): string {
  const utf16 =
    (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  const encoding = utf16 ? (bytes[0] === 0xff ? "utf-16le" : "utf-16be") : "utf-8";
  const text = new TextDecoder(encoding).decode(bytes);
  if (/<!DOCTYPE|<!ENTITY/i.test(text.slice(0, 2000))) {
    throw new WorkbookError(`the file is not opened: part ${path} defines its own entities`);
  }
  return text;
}

function isTrue(text: string | undefined): boolean {
  return text === "1" || text === "true";
}

/** The relations of a part, targets as full paths, types by their last word. */
export function relationsOf(part: (path: string) => string | undefined, path: string): Relation[] {
  const slash = path.lastIndexOf("/");
  const folder = path.slice(0, slash + 1);
  const xml = part(`${folder}_rels/${path.slice(slash + 1)}.rels`);
  if (xml === undefined) return [];
  return elements(xml, "Relationship")
    .filter(({ attributes: held }) => held.TargetMode !== "External")
    .map(({ attributes: held }) => ({
      id: held.Id ?? "",
      type: (held.Type ?? "").slice((held.Type ?? "").lastIndexOf("/") + 1),
      target: resolvePath(folder, held.Target ?? ""),
    }));
}

function resolvePath(folder: string, target: string): string {
  if (target.startsWith("/")) return target.slice(1);
  const parts: string[] = [];
  for (const piece of (folder + target).split("/")) {
    if (piece === "..") parts.pop();
    else if (piece !== "." && piece !== "") parts.push(piece);
  }
  return parts.join("/");
}

function readSharedStrings(xml: string | undefined): string[] {
  if (xml === undefined) return [];
  return elements(xml, "si").map((item) => richText(xml, item));
}

/** Text of a string item: all its runs, without the reading aids of East Asian text. */
function richText(xml: string, item: Element): string {
  let text = "";
  let at = item.contentStart;
  while (at < item.contentEnd) {
    const tag = nextTag(xml, at);
    if (!tag || tag.start >= item.contentEnd) break;
    at = tag.end;
    if (tag.kind !== "open") continue;
    if (tag.name === "rPh") {
      const skipped = element(xml, "rPh", tag.start, item.contentEnd);
      at = skipped?.end ?? at;
    } else if (tag.name === "t") {
      const found = element(xml, "t", tag.start, item.contentEnd);
      if (!found) continue;
      text += unescapeCellText(textOf(xml, found.contentStart, found.contentEnd));
      at = found.end;
    }
  }
  return text;
}

/** Numbers of the cell marks (attribute cm) that mean "this formula spills". */
export function readSpillMarks(xml: string | undefined): ReadonlySet<number> {
  const marks = new Set<number>();
  if (xml === undefined) return marks;
  const types = elements(xml, "metadataType").map((each) => each.attributes.name);
  const blocks = element(xml, "cellMetadata");
  if (!blocks) return marks;
  elements(xml, "bk", blocks.contentStart, blocks.contentEnd).forEach((block, index) => {
    const record = element(xml, "rc", block.contentStart, block.contentEnd);
    const type = Number(record?.attributes.t ?? 0);
    if (types[type - 1] === "XLDAPR") marks.add(index + 1);
  });
  return marks;
}

interface SheetContext {
  readonly shared: readonly string[];
  readonly spilling: ReadonlySet<number>;
  readonly namespace: string;
  readonly budget: { cells: number };
}

interface SharedFormula {
  readonly typed: string;
  readonly row: number;
  readonly column: number;
}

function readSheet(xml: string, sheet: SheetState, context: SheetContext): void {
  const shared = new Map<string, SharedFormula>();
  const filled: { cell: CellState; area: Area }[] = [];
  walkSheet(xml, {
    row: (row, held) => {
      if (isTrue(held.hidden)) sheet.hiddenRows.add(row);
    },
    cell: (row, column, held, from, to) => {
      if (from === to) return;
      if (--context.budget.cells < 0) {
        throw new WorkbookError(`the workbook has more than ${MOST_CELLS} cells; it is not opened`);
      }
      const value = readValue(xml, held, from, to, context.shared);
      const formula = element(xml, "f", from, to);
      // An empty <f> that is no copy of another one marks a value of an array formula, or means nothing.
      const isEmpty =
        formula?.attributes.t === undefined && formula?.contentStart === formula?.contentEnd;
      if (!formula || isEmpty) {
        if (value !== null) {
          const cell = sheet.at(row, column);
          cell.input = value;
          cell.value = value;
        }
        return;
      }
      const cell = sheet.at(row, column);
      cell.value = value;
      cell.formula = readFormula(xml, formula, held, cell, shared, context);
      const area = formula.attributes.t === "array" && parseArea(formula.attributes.ref ?? "");
      if (area && (area.bottom > area.top || area.right > area.left)) filled.push({ cell, area });
    },
  });
  // Values inside the area of a spilled formula are its results, not something typed.
  for (const { cell, area } of filled) {
    if (cell.formula?.frozen || cell.row !== area.top || cell.column !== area.left) continue;
    cell.spill = area;
    for (const other of sheet.cellsIn(area)) {
      if (other === cell || other.formula) continue;
      other.input = null;
      other.spilledFrom = cell;
    }
  }
  const filter = element(xml, "autoFilter");
  if (filter) hideFiltered(xml, filter, sheet);
  const merges = element(xml, "mergeCells");
  if (merges) {
    sheet.merges = elements(xml, "mergeCell", merges.contentStart, merges.contentEnd).flatMap(
      ({ attributes: held }) => parseArea(held.ref ?? "") ?? []
    );
  }
}

/** Rows hidden within a filter that has a condition are hidden by it. */
function hideFiltered(xml: string, filter: Element, sheet: SheetState): void {
  const area = parseArea(filter.attributes.ref ?? "");
  if (!area || !element(xml, "filterColumn", filter.contentStart, filter.contentEnd)) return;
  for (const row of sheet.hiddenRows) {
    if (row > area.top && row <= area.bottom) sheet.filteredRows.add(row);
  }
}

export interface SheetVisitor {
  readonly row?: (
    row: number,
    attributes: Record<string, string>,
    start: number,
    end: number
  ) => void;
  readonly rowEnd?: (row: number, start: number, end: number) => void;
  /** `from` and `to` bound the content, `start` and `end` the whole element */
  readonly cell: (
    row: number,
    column: number,
    attributes: Record<string, string>,
    from: number,
    to: number,
    start: number,
    end: number
  ) => void;
}

/** Visits the rows and cells of a sheet in the order of the file. Positions left out count on from the last. */
export function walkSheet(xml: string, visit: SheetVisitor): void {
  const data = element(xml, "sheetData");
  if (!data) return;
  let row = 0;
  let column = 0;
  let at = data.contentStart;
  while (at < data.contentEnd) {
    const tag = nextTag(xml, at);
    if (!tag || tag.start >= data.contentEnd) return;
    at = tag.end;
    if (tag.name === "row") {
      if (tag.kind === "close") {
        visit.rowEnd?.(row, tag.start, tag.end);
        continue;
      }
      const held = attributes(xml, tag);
      row = held.r === undefined ? row + 1 : Number(held.r);
      column = 0;
      visit.row?.(row, held, tag.start, tag.end);
      if (tag.kind === "single") visit.rowEnd?.(row, tag.end, tag.end);
    } else if (tag.name === "c" && tag.kind !== "close") {
      const held = attributes(xml, tag);
      const place = held.r === undefined ? undefined : parseCell(held.r);
      column = place?.column ?? column + 1;
      row = place?.row ?? row;
      let contentEnd = tag.end;
      let end = tag.end;
      if (tag.kind === "open") {
        const close = closeOfCell(xml, tag.end, tag.prefix);
        contentEnd = close.start;
        end = close.end;
      }
      visit.cell(row, column, held, tag.end, contentEnd, tag.start, end);
      at = end;
    }
  }
}

function closeOfCell(xml: string, from: number, prefix: string): { start: number; end: number } {
  const close = `</${prefix}c>`;
  const start = xml.indexOf(close, from);
  if (start < 0) throw new WorkbookError("the file is damaged: a cell is not closed");
  return { start, end: start + close.length };
}

function readValue(
  xml: string,
  held: Record<string, string>,
  from: number,
  to: number,
  shared: readonly string[]
): CellValue {
  if (held.t === "inlineStr") {
    const inline = element(xml, "is", from, to);
    return inline ? richText(xml, inline) : null;
  }
  const value = element(xml, "v", from, to);
  if (!value) return null;
  const text = textOf(xml, value.contentStart, value.contentEnd);
  switch (held.t) {
    case "s": {
      const item = shared[Number(text)];
      if (item === undefined) throw new WorkbookError("the file is damaged: a text is missing");
      return item;
    }
    case "str":
      return unescapeCellText(text);
    case "b":
      return isTrue(text.trim());
    case "e":
      return { error: text.trim() };
    case "d":
      return dateSerial(text);
    default: {
      if (text.trim() === "") return null;
      const number = Number(text);
      if (!Number.isFinite(number)) return { error: "#NUM!" };
      // a cell has no minus zero
      return number === 0 ? 0 : number;
    }
  }
}

/** Day number of a date written out (files of the strict kind), counted from 30 December 1899. */
function dateSerial(text: string): CellValue {
  const time = Date.parse(/[zZ]$|[+-]\d\d:\d\d$/.test(text) ? text : `${text}Z`);
  const millisecondsPerDay = 86400000;
  return Number.isNaN(time) ? text : (time - Date.UTC(1899, 11, 30)) / millisecondsPerDay;
}

function readFormula(
  xml: string,
  formula: Element,
  held: Record<string, string>,
  cell: CellState,
  shared: Map<string, SharedFormula>,
  context: SheetContext
): FormulaState {
  const { t: kind, ref = "", si = "" } = formula.attributes;
  const stored = textOf(xml, formula.contentStart, formula.contentEnd);
  let typed = typedFormula(stored, context.namespace);
  if (kind === "shared") {
    const first = shared.get(si);
    if (stored !== "") shared.set(si, { typed, row: cell.row, column: cell.column });
    else if (first) typed = shifted(first, cell);
  }
  if (kind === "dataTable" || refersOutside(typed)) return { typed, mode: "plain", frozen: true };
  const marked = context.spilling.has(Number(held.cm ?? 0));
  const area = kind === "array" ? parseArea(ref) : undefined;
  const mode = modeOf(typed, context.namespace, kind === "array", marked);
  return mode === "array" && area ? { typed, mode, area } : { typed, mode };
}

function shifted(first: SharedFormula, cell: CellState): string {
  try {
    return shiftFormula(first.typed, cell.row - first.row, cell.column - first.column);
  } catch {
    return first.typed;
  }
}

/** True where a formula reads another workbook. */
function refersOutside(typed: string): boolean {
  if (!typed.includes("[")) return false;
  try {
    let outside = false;
    walkFormula(parseFormula(typed), (node) => {
      if (node.kind === "external") outside = true;
    });
    return outside;
  } catch {
    // A workbook in brackets by its number, in a spelling that is not read here.
    return /\[\d+\]/.test(typed);
  }
}

function modeOf(typed: string, namespace: string, isArray: boolean, marked: boolean): FormulaMode {
  if (marked) return "dynamic";
  // Without the mark an array formula is of the old kind and keeps to its area; ours are spelled so by other programs.
  if (isArray && !callsOurs(typed, namespace)) return "array";
  return maySpill(typed, namespace) ? "dynamic" : "plain";
}

/**
 * Whether a formula without any mark is taken as one that spills: it calls a function of ours, or what it answers
 * with is a table by its nature.
 */
export function maySpill(typed: string, namespace: string): boolean {
  if (callsOurs(typed, namespace)) return true;
  try {
    let root = parseFormula(typed);
    while (root.kind === "call" && /^LET$/i.test(root.name as string) && root.children.length > 0) {
      root = root.children[root.children.length - 1] as typeof root;
    }
    if (root.kind === "spill") return true;
    return root.kind === "call" && ARRAY_FUNCTIONS.has((root.name as string).toUpperCase());
  } catch {
    return false;
  }
}

/** True where a formula calls a function of ours. */
function callsOurs(typed: string, namespace: string): boolean {
  if (!typed.toUpperCase().includes(`${namespace}.`)) return false;
  try {
    let calls = false;
    walkFormula(parseFormula(typed), (node) => {
      if (node.kind === "call" && (node.name as string).toUpperCase().startsWith(`${namespace}.`)) {
        calls = true;
      }
    });
    return calls;
  } catch {
    return true;
  }
}

function readTables(
  part: (path: string) => string | undefined,
  sheetPath: string,
  sheet: SheetState
): void {
  for (const relation of relationsOf(part, sheetPath)) {
    if (relation.type !== "table") continue;
    const xml = part(relation.target);
    const table = xml === undefined ? undefined : element(xml, "table");
    const area = parseArea(table?.attributes.ref ?? "");
    if (xml === undefined || !table || !area) continue;
    const held = table.attributes;
    const state: TableState = {
      name: held.displayName ?? held.name ?? "",
      columns: elements(xml, "tableColumn").map((column) =>
        unescapeCellText(column.attributes.name ?? "")
      ),
      area,
      hasHeader: held.headerRowCount !== "0",
      hasTotals: Number(held.totalsRowCount ?? 0) > 0,
    };
    sheet.tables.push(state);
    const filter = element(xml, "autoFilter");
    if (filter) hideFiltered(xml, filter, sheet);
  }
}

function readNames(
  xml: string,
  book: BookState,
  inFile: readonly (SheetState | undefined)[]
): void {
  for (const { attributes: held, contentStart, contentEnd } of elements(xml, "definedName")) {
    const name = held.name ?? "";
    if (name.startsWith("_xlnm.") || name === "") continue;
    const local = held.localSheetId === undefined ? undefined : inFile[Number(held.localSheetId)];
    if (held.localSheetId !== undefined && !local) continue;
    const text = unescapeXml(xml.slice(contentStart, contentEnd)).trim();
    book.names.push({ name, text, ...(local ? { sheet: local } : {}) });
  }
}
