/**
 * A strict check of a written workbook: what a desktop program would call damaged and offer to repair.
 *
 * Order and attributes after ECMA-376 Part 1: 18.2 (workbook), 18.3.1 (worksheet), 18.4 (shared strings), 18.8 (styles);
 * parts and relationships after Part 2. It is no full schema: what a list below does not name is not looked at.
 */
import { type Node, parseXml } from "../xml.js";
import { readEntries, unpack } from "../../src/host/engine/zip.js";

const WORKSHEET =
  "sheetPr dimension sheetViews sheetFormatPr cols sheetData sheetCalcPr sheetProtection protectedRanges scenarios autoFilter sortState dataConsolidate customSheetViews mergeCells phoneticPr conditionalFormatting dataValidations hyperlinks printOptions pageMargins pageSetup headerFooter rowBreaks colBreaks customProperties cellWatches ignoredErrors smartTags drawing legacyDrawing legacyDrawingHF drawingHF picture oleObjects controls webPublishItems tableParts extLst".split(
    " "
  );
const WORKBOOK =
  "fileVersion fileSharing workbookPr workbookProtection bookViews sheets functionGroups externalReferences definedNames calcPr oleSize customWorkbookViews pivotCaches smartTagPr smartTagTypes webPublishing fileRecoveryPr webPublishObjects extLst".split(
    " "
  );
const STYLES =
  "numFmts fonts fills borders cellStyleXfs cellXfs cellStyles dxfs tableStyles colors extLst".split(
    " "
  );
/** Parts of the workbook that a file of ours must have, by the end of their relationship's type. */
const RELATION = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/";
const LARGEST_ROW = 1_048_576;
const LARGEST_COLUMN = 16_384;
const LONGEST_SHEET_NAME = 31;
const LONGEST_TEXT = 32_767;
const ERRORS = new Set([
  "#NULL!",
  "#DIV/0!",
  "#VALUE!",
  "#REF!",
  "#NAME?",
  "#NUM!",
  "#N/A",
  "#GETTING_DATA",
]);

function columnNumber(letters: string): number {
  let number = 0;
  for (const letter of letters) number = number * 26 + letter.charCodeAt(0) - 64;
  return number;
}

interface Area {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
}

function area(text: string | undefined): Area | undefined {
  const match = /^([A-Z]{1,3})([1-9]\d*)(?::([A-Z]{1,3})([1-9]\d*))?$/.exec(text ?? "");
  if (!match) return undefined;
  const [, from = "", top = "", to = from, bottom = top] = match;
  const found = {
    top: Number(top),
    left: columnNumber(from),
    bottom: Number(bottom),
    right: columnNumber(to),
  };
  const fits =
    found.bottom >= found.top &&
    found.right >= found.left &&
    found.bottom <= LARGEST_ROW &&
    found.right <= LARGEST_COLUMN;
  return fits ? found : undefined;
}

const touch = (a: Area, b: Area): boolean =>
  a.left <= b.right && b.left <= a.right && a.top <= b.bottom && b.top <= a.bottom;

class Check {
  readonly faults: string[] = [];
  private readonly parts = new Map<string, string>();
  private readonly trees = new Map<string, Node>();

  constructor(bytes: Uint8Array) {
    for (const entry of readEntries(bytes)) {
      if (this.parts.has(entry.path)) this.fault("package", `holds ${entry.path} twice`);
      this.parts.set(entry.path, new TextDecoder("utf-8", { fatal: true }).decode(unpack(entry)));
    }
    for (const [name, text] of this.parts) {
      try {
        this.trees.set(name, parseXml(text));
      } catch (error) {
        this.fault(name, (error as Error).message);
      }
    }
  }

  private fault(where: string, what: string): void {
    this.faults.push(`${where}: ${what}`);
  }

  private child(element: Node | undefined, name: string): Node | undefined {
    return element?.children.find((each) => each.name === name);
  }

  private all(element: Node | undefined, ...path: string[]): Node[] {
    let found = element ? [element] : [];
    for (const name of path) {
      found = found.flatMap((each) => each.children.filter((one) => one.name === name));
    }
    return found;
  }

  private inOrder(where: string, element: Node, order: readonly string[]): void {
    let last = -1;
    for (const { name } of element.children) {
      const at = order.indexOf(name);
      // what belongs to another vocabulary is skipped by a program that does not know it
      if (name.includes(":")) continue;
      if (at < 0) this.fault(where, `${name} does not belong here`);
      else if (at < last) this.fault(where, `${name} stands after ${order[last] as string}`);
      else if (at === last && name !== "conditionalFormatting") this.fault(where, `${name} twice`);
      last = Math.max(last, at);
    }
  }

  private countOf(where: string, element: Node | undefined): number {
    const said = element?.attributes.count;
    const count = element?.children.length ?? 0;
    if (element && said !== undefined && Number(said) !== count) {
      this.fault(where, `${element.name} says it holds ${said}, it holds ${count}`);
    }
    return count;
  }

  run(): string[] {
    this.contentTypes();
    const relations = this.relations("");
    const main = relations.find(({ type }) => type === "officeDocument")?.target;
    if (main === undefined || !this.trees.has(main)) {
      this.fault("package", "has no workbook");
      return this.faults;
    }
    for (const name of this.parts.keys()) {
      if (name.endsWith(".rels") && name !== "_rels/.rels") {
        this.relations(name.replace(/_rels\/([^/]+)\.rels$/, "$1"));
      }
    }
    this.workbook(main);
    return this.faults;
  }

  private contentTypes(): void {
    const types = this.trees.get("[Content_Types].xml");
    if (!types) return this.fault("package", "has no content types");
    const defaults = new Set(
      this.all(types, "Default").map((each) => each.attributes.Extension?.toLowerCase())
    );
    const overrides = this.all(types, "Override").map((each) => each.attributes.PartName ?? "");
    if (new Set(overrides).size !== overrides.length) this.fault("content types", "a part twice");
    for (const name of overrides) {
      if (!this.parts.has(name.slice(1))) this.fault("content types", `${name} is not there`);
    }
    for (const name of this.parts.keys()) {
      if (name === "[Content_Types].xml") continue;
      const extension = name.split(".").at(-1)?.toLowerCase() ?? "";
      if (!overrides.includes(`/${name}`) && !defaults.has(extension))
        this.fault("content types", `${name} has none`);
      const isPlain = extension === "xml" && !overrides.includes(`/${name}`);
      if (isPlain) this.fault("content types", `${name} is only said to be xml`);
    }
  }

  private relations(part: string): { id: string; type: string; target: string }[] {
    const folder = part.includes("/") ? part.slice(0, part.lastIndexOf("/") + 1) : "";
    const file = `${folder}_rels/${part.slice(folder.length)}.rels`;
    if (part !== "" && !this.parts.has(part)) this.fault(file, `there is no ${part}`);
    const found = this.all(this.trees.get(file), "Relationship").map(({ attributes }) => {
      const { Id: id = "", Type: type = "", Target: target = "", TargetMode: mode } = attributes;
      const path = target.startsWith("/")
        ? target.slice(1)
        : new URL(target, `http://part/${folder}`).pathname.slice(1);
      if (id === "" || type === "" || target === "")
        this.fault(file, "a relationship lacks a part");
      if (mode !== "External" && !this.parts.has(path)) this.fault(file, `${path} is not there`);
      return { id, type: type.replace(RELATION, ""), target: path };
    });
    const ids = found.map(({ id }) => id);
    if (new Set(ids).size !== ids.length) this.fault(file, "an id twice");
    return found;
  }

  private workbook(part: string): void {
    const book = this.trees.get(part) as Node;
    this.inOrder(part, book, WORKBOOK);
    const relations = this.relations(part);
    const target = (type: string): string | undefined =>
      relations.find((each) => each.type === type)?.target;
    const styles = this.styles(target("styles"));
    const strings = this.strings(target("sharedStrings"));
    const metadata = this.trees.get(target("sheetMetadata") ?? "");
    const marks = this.countOf("metadata", this.child(metadata, "cellMetadata"));
    const sheets = this.all(book, "sheets", "sheet");
    if (sheets.length === 0) this.fault(part, "has no sheet");
    const names = new Set<string>();
    const ids = new Set<string>();
    for (const { attributes } of sheets) {
      const { name = "", sheetId = "", "r:id": relation = "" } = attributes;
      if (name === "" || name.length > LONGEST_SHEET_NAME) this.fault(part, `sheet name "${name}"`);
      if (/[[\]:*?/\\]|^'|'$/.test(name)) this.fault(part, `sheet name "${name}"`);
      if (names.has(name.toLowerCase())) this.fault(part, `two sheets are called ${name}`);
      if (!/^[1-9]\d*$/.test(sheetId) || ids.has(sheetId)) this.fault(part, `sheet id ${sheetId}`);
      names.add(name.toLowerCase());
      ids.add(sheetId);
      const found = relations.find(({ id, type }) => id === relation && type === "worksheet");
      const tree = this.trees.get(found?.target ?? "");
      if (!tree) this.fault(part, `sheet ${name} has no part`);
      else this.sheet(found?.target as string, tree, { styles, strings, marks });
    }
    const states = sheets.map((each) => each.attributes.state ?? "visible");
    if (!states.includes("visible")) this.fault(part, "no sheet is visible");
    this.names(part, book, sheets.length);
  }

  private names(part: string, book: Node, sheetCount: number): void {
    const seen = new Set<string>();
    for (const { attributes, text } of this.all(book, "definedNames", "definedName")) {
      const { name = "", localSheetId } = attributes;
      const key = `${name.toLowerCase()} ${localSheetId ?? ""}`;
      const isOwn = name.startsWith("_xlnm.");
      const looksLikeCell = /^(?:[A-Z]{1,3}\d+|R\d*C\d*|R|C)$/i.test(name);
      if (!/^[\p{L}_\\][\p{L}\p{N}_.\\?]*$/u.test(name) || looksLikeCell || name.length > 255)
        this.fault(part, `name "${name}"`);
      if (seen.has(key)) this.fault(part, `name ${name} twice`);
      seen.add(key);
      if (localSheetId !== undefined && !(Number(localSheetId) < sheetCount))
        this.fault(part, `name ${name} is of sheet ${localSheetId}`);
      if (isOwn && localSheetId === undefined) this.fault(part, `${name} without a sheet`);
      if (text.trim() === "" || text.startsWith("=")) this.fault(part, `name ${name} is ${text}`);
    }
  }

  /** How many cell formats there are, and how many for conditions. */
  private styles(part: string | undefined): { cells: number; conditions: number } {
    const tree = this.trees.get(part ?? "");
    if (!part || !tree) return { cells: 1, conditions: 0 };
    this.inOrder(part, tree, STYLES);
    const count = (name: string): number => this.countOf(part, this.child(tree, name));
    const counts = {
      fontId: count("fonts"),
      fillId: count("fills"),
      borderId: count("borders"),
      xfId: count("cellStyleXfs"),
    };
    const formats = new Set(
      this.all(tree, "numFmts", "numFmt").map((each) => each.attributes.numFmtId)
    );
    count("numFmts");
    for (const list of ["cellStyleXfs", "cellXfs"]) {
      for (const { attributes } of this.all(tree, list, "xf")) {
        for (const [key, limit] of Object.entries(counts)) {
          const value = attributes[key];
          if (value !== undefined && !(Number(value) < limit)) this.fault(part, `${key} ${value}`);
        }
        const format = Number(attributes.numFmtId ?? 0);
        // from 164 on formats are the file's own
        if (format >= 164 && !formats.has(String(format))) this.fault(part, `numFmtId ${format}`);
      }
    }
    return { cells: count("cellXfs"), conditions: count("dxfs") };
  }

  private strings(part: string | undefined): number {
    const tree = this.trees.get(part ?? "");
    if (!part || !tree) return 0;
    const items = this.all(tree, "si");
    const { uniqueCount } = tree.attributes;
    if (uniqueCount !== undefined && Number(uniqueCount) !== items.length)
      this.fault(part, `uniqueCount ${uniqueCount} of ${items.length}`);
    for (const item of items) {
      const text = [...this.all(item, "t"), ...this.all(item, "r", "t")];
      if (text.length === 0 && item.children.length > 0) this.fault(part, "an item without text");
      if (text.map((each) => each.text).join("").length > LONGEST_TEXT)
        this.fault(part, "a text longer than a cell holds");
    }
    return items.length;
  }

  private sheet(
    part: string,
    tree: Node,
    book: { styles: { cells: number; conditions: number }; strings: number; marks: number }
  ): void {
    this.inOrder(part, tree, WORKSHEET);
    const said = this.child(tree, "dimension")?.attributes.ref;
    if (said !== undefined && !area(said)) this.fault(part, `dimension ${said}`);
    let lastRow = 0;
    const spills: Area[] = [];
    for (const row of this.all(tree, "sheetData", "row")) {
      const number = Number(row.attributes.r);
      if (!(number > lastRow && number <= LARGEST_ROW))
        this.fault(part, `row ${row.attributes.r} after row ${lastRow}`);
      lastRow = number;
      let lastColumn = 0;
      for (const cell of row.children) {
        const where = area(cell.attributes.r);
        if (!where || where.top !== number || where.left <= lastColumn)
          this.fault(
            part,
            `cell ${cell.attributes.r} in row ${number}, column ${lastColumn} before`
          );
        lastColumn = where?.left ?? lastColumn;
        this.cell(part, cell, book, spills);
      }
    }
    this.areas(part, tree, spills);
    for (const { attributes } of this.all(tree, "conditionalFormatting", "cfRule")) {
      const { dxfId, priority } = attributes;
      if (dxfId !== undefined && !(Number(dxfId) < book.styles.conditions))
        this.fault(part, `dxfId ${dxfId}`);
      if (priority === undefined) this.fault(part, "a condition without priority");
    }
    this.columns(part, tree, book.styles.cells);
  }

  private columns(part: string, tree: Node, styleCount: number): void {
    let last = 0;
    for (const { attributes } of this.all(tree, "cols", "col")) {
      const [min, max] = [Number(attributes.min), Number(attributes.max)];
      if (!(min > last && max >= min && max <= LARGEST_COLUMN))
        this.fault(part, `columns ${min} to ${max} after ${last}`);
      if (!(Number(attributes.style ?? 0) < styleCount)) this.fault(part, "a column's style");
      last = max;
    }
  }

  private cell(
    part: string,
    cell: Node,
    book: { styles: { cells: number }; strings: number; marks: number },
    spills: Area[]
  ): void {
    const { r: at, s: style = "0", t: type = "n", cm } = cell.attributes;
    const where = `${part} ${at}`;
    const [formula, value, inline] = ["f", "v", "is"].map((name) => this.child(cell, name));
    this.inOrder(where, cell, ["f", "v", "is", "extLst"]);
    if (!(Number(style) < book.styles.cells)) this.fault(where, `style ${style}`);
    if (cm !== undefined && !(Number(cm) >= 1 && Number(cm) <= book.marks))
      this.fault(where, `cm ${cm}`);
    const text = value?.text ?? "";
    if (type === "n" && value && (text.trim() === "" || !Number.isFinite(Number(text))))
      this.fault(where, `number "${text}"`);
    if (type === "s" && !(/^\d+$/.test(text) && Number(text) < book.strings))
      this.fault(where, `text ${text} of ${book.strings}`);
    if (type === "b" && value && !/^[01]$/.test(text)) this.fault(where, `truth value ${text}`);
    if (type === "e" && value && !ERRORS.has(text)) this.fault(where, `error ${text}`);
    if (type === "inlineStr" && !inline) this.fault(where, "no text");
    if (!["n", "s", "b", "e", "str", "inlineStr", "d"].includes(type))
      this.fault(where, `type ${type}`);
    if (!formula) return;
    if (formula.text.startsWith("=")) this.fault(where, "a formula with its equals sign");
    if (formula.text.length > 8192) this.fault(where, "a formula too long");
    if (/(?<![\w.])SHEATH\./i.test(formula.text.replace(/"[^"]*"/g, "")))
      this.fault(where, "a function of ours under the name people type");
    if (formula.attributes.t === "array") {
      const filled = area(formula.attributes.ref);
      const own = area(at);
      if (!filled || !own || filled.top !== own.top || filled.left !== own.left)
        this.fault(where, `fills ${formula.attributes.ref}`);
      else {
        if (spills.some((each) => touch(each, filled))) this.fault(where, "fills another's cells");
        spills.push(filled);
      }
    }
  }

  private areas(part: string, tree: Node, spills: readonly Area[]): void {
    const merges: Area[] = [];
    const list = this.child(tree, "mergeCells");
    this.countOf(part, list);
    for (const { attributes } of list?.children ?? []) {
      const merged = area(attributes.ref);
      if (!merged) this.fault(part, `merges ${attributes.ref}`);
      else if ([...merges, ...spills].some((each) => touch(each, merged)))
        this.fault(part, `merges ${attributes.ref} over another or over a spill`);
      if (merged) merges.push(merged);
    }
    const validations = this.child(tree, "dataValidations");
    this.countOf(part, validations);
    for (const each of [
      ...(validations?.children ?? []),
      ...this.all(tree, "conditionalFormatting"),
      ...this.all(tree, "ignoredErrors", "ignoredError"),
    ]) {
      const places = (each.attributes.sqref ?? "").split(" ");
      if (!places.every((place) => area(place)))
        this.fault(part, `${each.name} in ${places.join(" ")}`);
      for (const { text } of each.children.filter(({ name }) => name.startsWith("formula"))) {
        const isList = each.attributes.type === "list" && text.startsWith('"');
        if (isList && text.length > 257) this.fault(part, "a list longer than 255 letters");
      }
    }
  }
}

/** What is wrong with a workbook's file; nothing, for one that a desktop program opens without a word. */
export function packageFaults(bytes: Uint8Array): string[] {
  return new Check(bytes).run();
}
