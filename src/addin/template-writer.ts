/** Writes a workbook's description into the open workbook through the host's API. Never over a sheet that is there. */
import { columnLetters, sheetPrefix } from "../core/cell-address.js";
import {
  type CellStyle,
  type SheetTemplate,
  STYLES,
  type TemplateCell,
  type TemplateRule,
  type WorkbookTemplate,
} from "../templates/workbook.js";

/** Widest name of a sheet, characters. */
const LONGEST_SHEET_NAME = 31;
/** Points of a column's width: so many a character, and the cell's own margin (common practice, no source). */
const POINTS_PER_CHARACTER = 5.25;
const COLUMN_MARGIN_POINTS = 3.75;

/** Which of the host's newer features there are, as `ExcelApi 1.9`. */
export type Supports = (version: string) => boolean;

/** Text outside quotes changed, text inside left alone. */
export function outsideText(formula: string, change: (part: string) => string): string {
  return formula
    .split(/("(?:[^"]|"")*")/)
    .map((part, index) => (index % 2 === 1 ? part : change(part)))
    .join("");
}

/** A formula that names sheets by their new names. */
export function withSheetNames(formula: string, names: ReadonlyMap<string, string>): string {
  return outsideText(formula, (part) =>
    part.replace(/(?<![\w.'!])([A-Za-z_]\w*)!/g, (whole, name: string) => {
      const renamed = names.get(name);
      return renamed === undefined ? whole : sheetPrefix(renamed);
    })
  );
}

/** New names for the sheets of a template: its own where all are free, else all with the same number. */
export function freeNames(
  wanted: readonly string[],
  taken: readonly string[]
): ReadonlyMap<string, string> {
  const used = new Set(taken.map((name) => name.toLowerCase()));
  for (let number = 1; ; number++) {
    const suffix = number === 1 ? "" : ` ${number}`;
    const names = wanted.map((name) => name.slice(0, LONGEST_SHEET_NAME - suffix.length) + suffix);
    if (names.every((name) => !used.has(name.toLowerCase()))) {
      return new Map(wanted.map((name, index) => [name, names[index] as string]));
    }
  }
}

/** What goes into a cell: the formula, or the value so that text stays text. */
export function entry(
  cell: TemplateCell,
  names: ReadonlyMap<string, string>
): string | number | boolean {
  if (cell.formula !== undefined) return withSheetNames(cell.formula, names);
  const { value = "" } = cell;
  const isTextFormat = cell.style !== undefined && STYLES[cell.style].format === "@";
  // an apostrophe keeps what looks like a number, a date or a formula as text
  if (typeof value === "string" && !isTextFormat && /^[\d=+\-@'.]/.test(value)) return `'${value}`;
  return value;
}

function applyStyle(format: Excel.RangeFormat, range: Excel.Range, style: CellStyle): void {
  if (style.bold) format.font.bold = true;
  if (style.italic) format.font.italic = true;
  if (style.size !== undefined) format.font.size = style.size;
  if (style.color !== undefined) format.font.color = `#${style.color}`;
  if (style.fill !== undefined) format.fill.color = `#${style.fill}`;
  if (style.wrap) format.wrapText = true;
  const sides = { left: "Left", center: "Center", right: "Right" } as const;
  if (style.horizontal) format.horizontalAlignment = sides[style.horizontal];
  if (style.vertical) format.verticalAlignment = style.vertical === "top" ? "Top" : "Center";
  if (style.indent !== undefined) {
    if (!style.horizontal) format.horizontalAlignment = "Left";
    format.indentLevel = style.indent;
  }
  if (style.format !== undefined) range.numberFormat = style.format as unknown as string[][];
  const edges =
    style.border === "thin"
      ? (["EdgeTop", "EdgeBottom", "EdgeLeft", "EdgeRight"] as const)
      : style.border === "bottom"
        ? (["EdgeBottom"] as const)
        : [];
  for (const edge of edges) {
    const border = format.borders.getItem(edge);
    border.style = "Continuous";
    border.color = "#BCC4CE";
  }
}

function applyRule(
  sheet: Excel.Worksheet,
  rule: TemplateRule,
  names: ReadonlyMap<string, string>
): void {
  const validation = sheet.getRange(rule.area).dataValidation;
  const { allow } = rule;
  validation.ignoreBlanks = true;
  if ("wholeFrom" in allow) {
    validation.rule = {
      wholeNumber: { formula1: allow.wholeFrom, operator: "GreaterThanOrEqualTo" },
    };
  } else {
    const source = "words" in allow ? allow.words.join(",") : withSheetNames(allow.from, names);
    validation.rule = { list: { inCellDropDown: true, source } };
  }
  validation.errorAlert = {
    title: "Check what was typed",
    message: rule.message,
    showAlert: true,
    style: rule.strict ? "Stop" : "Warning",
  };
}

function applyLayout(sheet: Excel.Worksheet, template: SheetTemplate, supports: Supports): void {
  const { frozen, print } = template;
  if (frozen.rows > 0 || frozen.columns > 0) {
    if (frozen.columns === 0) sheet.freezePanes.freezeRows(frozen.rows);
    else if (frozen.rows === 0) sheet.freezePanes.freezeColumns(frozen.columns);
    else sheet.freezePanes.freezeAt(`A1:${columnLetters(frozen.columns)}${frozen.rows}`);
  }
  if (supports("1.8")) sheet.showGridlines = false;
  if (!supports("1.9")) return;
  sheet.pageLayout.orientation = print.orientation === "landscape" ? "Landscape" : "Portrait";
  sheet.pageLayout.zoom = { horizontalFitToPages: 1 };
  if (print.titleRows) {
    sheet.pageLayout.setPrintTitleRows(print.titleRows.replace(/\d+/g, (row) => `$${row}`));
  }
  if (print.area) sheet.pageLayout.setPrintArea(print.area);
}

/** Runs of cells side by side with one look, so that a sheet takes hundreds of steps, not thousands. */
function runs(cells: readonly TemplateCell[]): TemplateCell[][] {
  const place = (cell: TemplateCell): [row: number, column: number] => {
    const [, letters = "", row = ""] = /^([A-Z]+)(\d+)$/.exec(cell.at) ?? [];
    const column = [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0);
    return [Number(row), column];
  };
  const sorted = cells
    .map((cell) => ({ cell, place: place(cell) }))
    .sort((a, b) => a.place[0] - b.place[0] || a.place[1] - b.place[1]);
  const found: TemplateCell[][] = [];
  let before: (typeof sorted)[number] | undefined;
  for (const each of sorted) {
    const follows =
      before?.place[0] === each.place[0] &&
      before.place[1] === each.place[1] - 1 &&
      before.cell.style === each.cell.style;
    if (follows) (found.at(-1) as TemplateCell[]).push(each.cell);
    else found.push([each.cell]);
    before = each;
  }
  return found;
}

function areaOf(run: readonly TemplateCell[]): string {
  const [first, last] = [run[0] as TemplateCell, run.at(-1) as TemplateCell];
  return first === last ? first.at : `${first.at}:${last.at}`;
}

function writeSheet(
  sheet: Excel.Worksheet,
  template: SheetTemplate,
  names: ReadonlyMap<string, string>,
  supports: Supports
): void {
  template.columns.forEach(({ width, style }, index) => {
    const letters = columnLetters(index + 1);
    const column = sheet.getRange(`${letters}:${letters}`);
    if (style) applyStyle(column.format, column, STYLES[style]);
    column.format.columnWidth = width * POINTS_PER_CHARACTER + COLUMN_MARGIN_POINTS;
  });
  for (const run of runs(template.cells)) {
    const range = sheet.getRange(areaOf(run));
    const { style } = run[0] as TemplateCell;
    // the look first: in a cell formatted as text, 5/8 stays what was typed
    if (style) applyStyle(range.format, range, STYLES[style]);
    range.formulas = [run.map((cell) => entry(cell, names))];
  }
  for (const area of template.merged) sheet.getRange(area).merge();
  for (const [row, height] of Object.entries(template.rowHeights)) {
    sheet.getRange(`${row}:${row}`).format.rowHeight = height;
  }
  for (const rule of template.rules) applyRule(sheet, rule, names);
  for (const { area, text, fill } of template.marks) {
    const mark = sheet.getRange(area).conditionalFormats.add("CellValue").cellValue;
    mark.format.fill.color = `#${fill}`;
    mark.rule = { formula1: `="${text}"`, operator: "EqualTo" };
  }
  applyLayout(sheet, template, supports);
}

/**
 * Adds the sheets of a template to the open workbook.
 *
 * @returns the new sheets' names, by their names in the template
 */
export async function writeTemplate(
  context: Excel.RequestContext,
  template: WorkbookTemplate,
  supports: Supports
): Promise<ReadonlyMap<string, string>> {
  const sheets = context.workbook.worksheets;
  sheets.load("items/name");
  await context.sync();
  const names = freeNames(
    template.sheets.map((sheet) => sheet.name),
    sheets.items.map((sheet) => sheet.name)
  );
  // all sheets before any formula: a formula that names a sheet not yet there is refused
  const added = template.sheets.map((sheet) => sheets.add(names.get(sheet.name) as string));
  template.sheets.forEach((sheet, index) =>
    writeSheet(added[index] as Excel.Worksheet, sheet, names, supports)
  );
  (added[0] as Excel.Worksheet).activate();
  await context.sync();
  return names;
}
