/**
 * Writes a calculated workbook: the parts it was read from, with the cells that hold formulas, spilled values or new
 * input written anew. Styles, widths, validations, charts and everything else stay as they were.
 */
import { areaAddress, cellAddress, parseArea, type Area } from "../../core/cell-address.js";
import type { FunctionSet } from "./functions.js";
import type { CellState, SheetState } from "./model.js";
import { maySpill, readSpillMarks, relationsOf, walkSheet, type Package } from "./read.js";
import { storedFormula, typedFormula } from "./spelling.js";
import { isCellError, type CellValue } from "./values.js";
import { element, elements, escapeCellText, escapeXml, unescapeXml } from "./xml.js";
import { pack, writeEntries, type ZipEntry } from "./zip.js";

const METADATA_TYPE =
  "http://schemas.openxmlformats.org/officeDocument/2006/relationships/sheetMetadata";
const METADATA_CONTENT =
  "application/vnd.openxmlformats-officedocument.spreadsheetml.sheetMetadata+xml";
const RELATIONS_NAMESPACE = "http://schemas.openxmlformats.org/package/2006/relationships";

/** What a cell mark for spilling refers to (ISO/IEC 29500-1 18.9 and the dynamic array extension). */
const SPILL_TYPE =
  '<metadataType name="XLDAPR" minSupportedVersion="120000" copy="1" pasteAll="1" pasteValues="1" merge="1" ' +
  'splitFirst="1" rowColShift="1" clearFormats="1" clearComments="1" assign="1" coerce="1" cellMeta="1"/>';
const SPILL_BLOCK =
  '<bk><extLst><ext uri="{bdbb8cdc-fa1e-496e-a857-3c3f30c029c3}">' +
  '<xda:dynamicArrayProperties xmlns:xda="http://schemas.microsoft.com/office/spreadsheetml/2017/dynamicarray" ' +
  'fDynamic="1" fCollapsed="0"/></ext></extLst></bk>';
const METADATA =
  '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' +
  '<metadata xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">' +
  `<metadataTypes count="1">${SPILL_TYPE}</metadataTypes>` +
  `<futureMetadata name="XLDAPR" count="1">${SPILL_BLOCK}</futureMetadata>` +
  '<cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata></metadata>';

/** Errors that every program reading the file knows; the others are stored as #VALUE!. */
const STORED_ERRORS: ReadonlySet<string> = new Set([
  "#NULL!",
  "#DIV/0!",
  "#VALUE!",
  "#REF!",
  "#NAME?",
  "#NUM!",
  "#N/A",
]);

export function writePackage(source: Package, functions: FunctionSet): Uint8Array {
  const changed = new Map<string, string | undefined>();
  const part = (path: string): string | undefined =>
    changed.has(path) ? changed.get(path) : source.part(path);

  const spills = source.book.sheets.some((sheet) =>
    [...sheet.cells.values()].some(isStoredAsSpill)
  );
  const mark = spills ? ensureSpillMark(source, part, changed) : 0;
  source.book.sheets.forEach((sheet, index) => {
    const xml = source.sheetXml[index] as string;
    const patched = patchSheet(xml, sheet, functions, mark);
    if (patched !== xml) changed.set(source.sheetPaths[index] as string, patched);
  });
  patchNames(source, part, changed, functions);
  dropCalculationOrder(source, part, changed);

  const encoder = new TextEncoder();
  const entries: ZipEntry[] = [];
  const written = new Set<string>();
  for (const entry of source.entries) {
    const path = [...changed.keys()].find(
      (each) => each.toLowerCase() === entry.path.toLowerCase()
    );
    if (path === undefined) {
      entries.push(entry);
      continue;
    }
    written.add(path);
    const text = changed.get(path);
    if (text !== undefined) entries.push(pack(entry.path, encoder.encode(text)));
  }
  for (const [path, text] of changed) {
    if (!written.has(path) && text !== undefined) entries.push(pack(path, encoder.encode(text)));
  }
  return writeEntries(entries);
}

/** Whether a formula is stored with the marks of one that spills; the desktop program does so for all of ours. */
function isStoredAsSpill({ formula }: CellState): boolean {
  return formula !== undefined && !formula.frozen && formula.mode === "dynamic";
}

// --- sheets ----------------------------------------------------------------------------------------------------------

interface RowPiece {
  readonly row: number;
  readonly start: number;
  readonly openEnd: number;
  end: number;
  readonly style: string | undefined;
  readonly cells: {
    readonly column: number;
    readonly start: number;
    readonly end: number;
    readonly style: string | undefined;
    readonly hasContent: boolean;
  }[];
}

function patchSheet(xml: string, sheet: SheetState, functions: FunctionSet, mark: number): string {
  const wanted = new Map<number, CellState[]>();
  for (const cell of sheet.cells.values()) {
    if (!mustWrite(cell)) continue;
    const list = wanted.get(cell.row);
    if (list) list.push(cell);
    else wanted.set(cell.row, [cell]);
  }
  const data = element(xml, "sheetData");
  if (wanted.size === 0 || !data) return xml;
  const { prefix } = data.tag;
  const columns = columnStyles(xml);

  const pieces: RowPiece[] = [];
  walkSheet(xml, {
    row: (row, held, start, end) => {
      const style = held.customFormat === "1" || held.customFormat === "true" ? held.s : undefined;
      pieces.push({ row, start, openEnd: end, end, style, cells: [] });
    },
    cell: (_row, column, held, from, to, start, end) => {
      pieces[pieces.length - 1]?.cells.push({
        column,
        start,
        end,
        style: held.s,
        hasContent: to > from && /<(?:\w+:)?(?:v|f|is)\b/.test(xml.slice(from, to)),
      });
    },
    rowEnd: (_row, _start, end) => {
      const piece = pieces[pieces.length - 1];
      if (piece) piece.end = end;
    },
  });

  const write = (cell: CellState, style: string | undefined): string =>
    cellXml(cell, style, prefix, functions, mark);
  const rows: string[] = [];
  const done = new Set<number>();
  const newRow = (row: number): string => {
    done.add(row);
    const cells = (wanted.get(row) ?? []).sort((a, b) => a.column - b.column);
    const inner = cells.map((cell) => write(cell, columns(cell.column))).join("");
    return inner === "" ? "" : `<${prefix}row r="${row}">${inner}</${prefix}row>`;
  };
  const waiting = [...wanted.keys()].sort((a, b) => a - b);
  let next = 0;
  for (const piece of pieces) {
    while (next < waiting.length && (waiting[next] as number) < piece.row) {
      const row = waiting[next++] as number;
      if (!done.has(row)) rows.push(newRow(row));
    }
    const list = wanted.get(piece.row);
    if (!list || done.has(piece.row)) {
      rows.push(xml.slice(piece.start, piece.end));
      continue;
    }
    done.add(piece.row);
    rows.push(patchRow(xml, piece, list, prefix, columns, write));
  }
  for (; next < waiting.length; next++) {
    const row = waiting[next] as number;
    if (!done.has(row)) rows.push(newRow(row));
  }
  const body = `<${prefix}sheetData>${rows.join("")}</${prefix}sheetData>`;
  const before = patchDimension(xml.slice(0, data.tag.start), sheet);
  return before + body + xml.slice(data.end);
}

/** Whether a cell differs from the file or may: formulas and spilled values always, input where it was set. */
function mustWrite(cell: CellState): boolean {
  if (cell.formula?.frozen || cell.isKept) return cell.touched;
  return cell.touched || cell.formula !== undefined || cell.input === null;
}

function patchRow(
  xml: string,
  piece: RowPiece,
  list: CellState[],
  prefix: string,
  columns: (column: number) => string | undefined,
  write: (cell: CellState, style: string | undefined) => string
): string {
  const cells = [...list].sort((a, b) => a.column - b.column);
  const out: string[] = [];
  let next = 0;
  const upTo = (column: number): void => {
    while (next < cells.length && (cells[next] as CellState).column < column) {
      const cell = cells[next++] as CellState;
      out.push(write(cell, piece.style ?? columns(cell.column)));
    }
  };
  for (const old of piece.cells) {
    upTo(old.column);
    const cell = cells[next];
    if (cell?.column !== old.column) {
      out.push(xml.slice(old.start, old.end));
      continue;
    }
    next++;
    const isEmpty = !cell.formula && cell.value === null;
    out.push(isEmpty && !old.hasContent ? xml.slice(old.start, old.end) : write(cell, old.style));
  }
  upTo(Infinity);
  const open = xml
    .slice(piece.start, piece.openEnd)
    .replace(/\sspans\s*=\s*"[^"]*"/, "")
    .replace(/\s*\/>$/, ">");
  return `${open}${out.join("")}</${prefix}row>`;
}

function columnStyles(xml: string): (column: number) => string | undefined {
  const cols = element(xml, "cols");
  const list = cols ? elements(xml, "col", cols.contentStart, cols.contentEnd) : [];
  const ranges = list
    .map(({ attributes: held }) => ({
      first: Number(held.min),
      last: Number(held.max),
      style: held.style,
    }))
    .filter(({ style }) => style !== undefined && style !== "0");
  return (column) => ranges.find(({ first, last }) => column >= first && column <= last)?.style;
}

function patchDimension(before: string, sheet: SheetState): string {
  const dimension = element(before, "dimension");
  const area = parseArea(dimension?.attributes.ref ?? "");
  if (!dimension || !area) return before;
  let { top, left, bottom, right }: Area = area;
  for (const cell of sheet.cells.values()) {
    if (cell.value === null && !cell.formula) continue;
    top = Math.min(top, cell.row);
    bottom = Math.max(bottom, cell.row);
    left = Math.min(left, cell.column);
    right = Math.max(right, cell.column);
  }
  const ref = areaAddress({ top, left, bottom, right });
  const { tag } = dimension;
  return `${before.slice(0, tag.start)}<${tag.prefix}dimension ref="${ref}"/>${before.slice(dimension.end)}`;
}

function cellXml(
  cell: CellState,
  style: string | undefined,
  prefix: string,
  functions: FunctionSet,
  mark: number
): string {
  const address = cellAddress(cell.row, cell.column);
  const styled = style === undefined ? "" : ` s="${escapeXml(style)}"`;
  const { type, content } = valueXml(
    cell.value,
    prefix,
    cell.formula !== undefined || cell.spilledFrom !== undefined
  );
  if (!cell.formula && cell.value === null) {
    return styled === "" ? "" : `<${prefix}c r="${address}"${styled}/>`;
  }
  const marked = isStoredAsSpill(cell) ? ` cm="${mark}"` : "";
  const formula = cell.formula ? formulaXml(cell, prefix, functions) : "";
  return `<${prefix}c r="${address}"${styled}${type}${marked}>${formula}${content}</${prefix}c>`;
}

function formulaXml(cell: CellState, prefix: string, functions: FunctionSet): string {
  const formula = cell.formula as NonNullable<CellState["formula"]>;
  const text = storedFormula(formula.typed, {
    namespace: functions.namespace,
    functions: functions.names,
    ownTable: cell.sheet.tableAt(cell.row, cell.column)?.name,
  });
  const single = cellAddress(cell.row, cell.column);
  const area = formula.mode === "array" ? formula.area : cell.spill;
  const ref = area ? areaAddress(area) : single;
  const attributes = formula.mode === "plain" ? "" : ` t="array" ref="${ref}"`;
  return `<${prefix}f${attributes}>${escapeXml(text)}</${prefix}f>`;
}

function valueXml(
  value: CellValue,
  prefix: string,
  calculated: boolean
): { type: string; content: string } {
  const held = (text: string): string => `<${prefix}v>${text}</${prefix}v>`;
  if (value === null) return { type: "", content: "" };
  switch (typeof value) {
    case "number":
      return { type: "", content: held(String(value)) };
    case "boolean":
      return { type: ' t="b"', content: held(value ? "1" : "0") };
    case "string": {
      const text = escapeCellText(value);
      const space = text !== text.trim() || /\s{2,}|\n/.test(text) ? ' xml:space="preserve"' : "";
      return calculated
        ? { type: ' t="str"', content: `<${prefix}v${space}>${text}</${prefix}v>` }
        : {
            type: ' t="inlineStr"',
            content: `<${prefix}is><${prefix}t${space}>${text}</${prefix}t></${prefix}is>`,
          };
    }
    default: {
      const code = isCellError(value) && STORED_ERRORS.has(value.error) ? value.error : "#VALUE!";
      return { type: ' t="e"', content: held(code) };
    }
  }
}

// --- other parts -----------------------------------------------------------------------------------------------------

type Part = (path: string) => string | undefined;
type Changed = Map<string, string | undefined>;

/** Makes sure the file explains the mark of a spilled formula; returns the mark's number. */
function ensureSpillMark(source: Package, part: Part, changed: Changed): number {
  const relations = relationsOf(part, source.workbookPath);
  const known = relations.find((each) => each.type === "sheetMetadata");
  const xml = known && part(known.target);
  if (known && xml !== undefined) {
    const [first] = readSpillMarks(xml);
    if (first !== undefined) return first;
    const extended = addSpillMark(xml);
    changed.set(known.target, extended);
    return Math.max(...readSpillMarks(extended));
  }
  const slash = source.workbookPath.lastIndexOf("/");
  const folder = source.workbookPath.slice(0, slash + 1);
  const path = `${folder}metadata.xml`;
  changed.set(path, METADATA);
  addRelation(source, part, changed, "metadata.xml");
  addContentType(part, changed, path);
  return 1;
}

/** Adds the mark to a part that explains other marks only (cells that hold rich values). */
function addSpillMark(xml: string): string {
  const types = element(xml, "metadataTypes");
  const root = element(xml, "metadata");
  if (!root) return METADATA;
  const { prefix } = root.tag;
  const own = (text: string): string =>
    prefix === "" ? text : text.replace(/<(\/?)(?!xda:)(\w)/g, `<$1${prefix}$2`);
  const insert = (text: string, at: number, piece: string): string =>
    text.slice(0, at) + own(piece) + text.slice(at);
  let changedXml = xml;
  let number = 1;
  if (types) {
    number = elements(xml, "metadataType").length + 1;
    changedXml = insert(changedXml, types.contentEnd, SPILL_TYPE);
  } else {
    changedXml = insert(
      changedXml,
      root.contentStart,
      `<metadataTypes count="1">${SPILL_TYPE}</metadataTypes>`
    );
  }
  const future = `<futureMetadata name="XLDAPR" count="1">${SPILL_BLOCK}</futureMetadata>`;
  const record = `<bk><rc t="${number}" v="0"/></bk>`;
  const cells = element(changedXml, "cellMetadata");
  if (cells) {
    changedXml = insert(changedXml, cells.contentEnd, record);
    changedXml = insert(changedXml, cells.tag.start, future);
  } else {
    const values = element(changedXml, "valueMetadata");
    const end = element(changedXml, "metadata")?.contentEnd ?? changedXml.length;
    const at = values?.tag.start ?? end;
    const piece = `${future}<cellMetadata count="1">${record}</cellMetadata>`;
    changedXml = insert(changedXml, at, piece);
  }
  return recount(recount(changedXml, "metadataTypes", "metadataType"), "cellMetadata", "bk");
}

/** Sets the attribute count of an element to the number of elements inside. */
function recount(xml: string, outer: string, inner: string): string {
  const found = element(xml, outer);
  if (!found) return xml;
  const count = elements(xml, inner, found.contentStart, found.contentEnd).length;
  const tag = xml.slice(found.tag.start, found.tag.end).replace(/count="\d*"/, `count="${count}"`);
  return xml.slice(0, found.tag.start) + tag + xml.slice(found.tag.end);
}

function relationsPath(source: Package): string {
  const slash = source.workbookPath.lastIndexOf("/");
  const folder = source.workbookPath.slice(0, slash + 1);
  return `${folder}_rels/${source.workbookPath.slice(slash + 1)}.rels`;
}

function addRelation(source: Package, part: Part, changed: Changed, target: string): void {
  const path = relationsPath(source);
  const xml =
    part(path) ??
    `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<Relationships xmlns="${RELATIONS_NAMESPACE}"></Relationships>`;
  const ids = new Set(elements(xml, "Relationship").map((each) => each.attributes.Id));
  let number = ids.size + 1;
  while (ids.has(`rId${number}`)) number++;
  const root = element(xml, "Relationships");
  if (!root) return;
  const { prefix } = root.tag;
  const relation = `<${prefix}Relationship Id="rId${number}" Type="${METADATA_TYPE}" Target="${target}"/>`;
  changed.set(path, xml.slice(0, root.contentEnd) + relation + xml.slice(root.contentEnd));
}

const CONTENT_TYPES = "[Content_Types].xml";

function addContentType(part: Part, changed: Changed, path: string): void {
  const xml = part(CONTENT_TYPES);
  const root = xml === undefined ? undefined : element(xml, "Types");
  if (xml === undefined || !root) return;
  const { prefix } = root.tag;
  const override = `<${prefix}Override PartName="/${path}" ContentType="${METADATA_CONTENT}"/>`;
  changed.set(CONTENT_TYPES, xml.slice(0, root.contentEnd) + override + xml.slice(root.contentEnd));
}

/** The stored order of calculation may name cells that hold no formula any more; programs rebuild it. */
function dropCalculationOrder(source: Package, part: Part, changed: Changed): void {
  const order = relationsOf(part, source.workbookPath).find((each) => each.type === "calcChain");
  if (!order) return;
  changed.set(order.target, undefined);
  const cut = (
    path: string,
    name: string,
    isIt: (held: Record<string, string>) => boolean
  ): void => {
    const xml = part(path);
    const found = xml && elements(xml, name).find((each) => isIt(each.attributes));
    if (xml && found) changed.set(path, xml.slice(0, found.tag.start) + xml.slice(found.end));
  };
  cut(relationsPath(source), "Relationship", (held) => (held.Type ?? "").endsWith("/calcChain"));
  cut(CONTENT_TYPES, "Override", (held) => {
    return (held.PartName ?? "").toLowerCase() === `/${order.target.toLowerCase()}`;
  });
}

/** Names that stand for a formula with our functions are stored in the spelling of files too. */
function patchNames(source: Package, part: Part, changed: Changed, functions: FunctionSet): void {
  const xml = part(source.workbookPath) ?? "";
  let patched = "";
  let at = 0;
  for (const name of elements(xml, "definedName")) {
    const text = unescapeXml(xml.slice(name.contentStart, name.contentEnd));
    const typed = typedFormula(text, functions.namespace);
    if (!maySpill(typed, functions.namespace)) continue;
    const stored = storedFormula(typed, {
      namespace: functions.namespace,
      functions: functions.names,
    });
    if (stored === text) continue;
    patched += xml.slice(at, name.contentStart) + escapeXml(stored);
    at = name.contentEnd;
  }
  if (at > 0) changed.set(source.workbookPath, patched + xml.slice(at));
}
