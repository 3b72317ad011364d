/**
 * Turns a workbook described as data into an .xlsx file: looks and cells by the file library, then calculated and
 * stored by the engine, so that the file holds its values and the functions in the form the desktop program reads.
 */
import { type Borders, type Style, Workbook, type Worksheet } from "@cj-tech-master/excelts";
import { columnLetters } from "../core/cell-address.js";
import {
  openWorkbook,
  parseArea,
  type CellProblem,
  type Workbook as Calculated,
} from "../host/engine/index.js";
import { pack, readEntries, unpack, writeEntries } from "../host/engine/zip.js";
import { worksheetFunctions } from "../worksheet/registry.js";
import {
  type CellStyle,
  type SheetTemplate,
  STYLES,
  type TemplateRule,
  type WorkbookTemplate,
} from "../templates/workbook.js";

/** The same date in every build, so that the same sources give the same bytes. */
const FIXED_DATE = new Date(Date.UTC(2026, 0, 1));
/** Written into the file as the program that made it. */
const MAKER = "Sheathing Functions";
const FONT = { name: "Calibri", size: 11 };
const LINE = { argb: "FFBCC4CE" };
/** Letter paper, by its number in the file format (ISO/IEC 29500-1 18.3.1.63) */
const LETTER_PAPER = 1;

function colorOf(hex: string): { argb: string; theme: number } {
  return { argb: `FF${hex}` } as { argb: string; theme: number };
}

function styleOf(style: CellStyle): Partial<Style> {
  const line = { style: "thin" as const, color: LINE };
  const borders: Partial<Borders> | undefined =
    style.border === "thin"
      ? { top: line, left: line, bottom: line, right: line }
      : style.border === "bottom"
        ? { bottom: line }
        : undefined;
  return {
    font: {
      ...FONT,
      ...(style.size === undefined ? {} : { size: style.size }),
      ...(style.bold ? { bold: true } : {}),
      ...(style.italic ? { italic: true } : {}),
      ...(style.color === undefined ? {} : { color: colorOf(style.color) }),
    },
    ...(style.wrap || style.horizontal || style.vertical || style.indent
      ? {
          alignment: {
            // an indent counts only where the side it steps in from is named
            ...(style.horizontal || style.indent ? { horizontal: style.horizontal ?? "left" } : {}),
            ...(style.indent ? { indent: style.indent } : {}),
            ...(style.vertical ? { vertical: style.vertical } : {}),
            ...(style.wrap ? { wrapText: true } : {}),
          },
        }
      : {}),
    ...(style.fill === undefined
      ? {}
      : { fill: { type: "pattern", pattern: "solid", fgColor: colorOf(style.fill) } }),
    ...(borders ? { border: borders } : {}),
    ...(style.format === undefined ? {} : { numFmt: style.format }),
  };
}

function addRule(sheet: Worksheet, rule: TemplateRule): void {
  const common = {
    allowBlank: true,
    showErrorMessage: true,
    errorStyle: rule.strict ? "stop" : "warning",
    errorTitle: "Check what was typed",
    error: rule.message,
  } as const;
  const { allow } = rule;
  if ("wholeFrom" in allow) {
    sheet.dataValidations.add(rule.area, {
      ...common,
      type: "whole",
      operator: "greaterThanOrEqual",
      formulae: [allow.wholeFrom],
    });
    return;
  }
  const list = "words" in allow ? `"${allow.words.join(",")}"` : allow.from.replace(/^=/, "");
  sheet.dataValidations.add(rule.area, { ...common, type: "list", formulae: [list] });
}

function addSheet(book: Workbook, template: SheetTemplate): void {
  const { frozen, print } = template;
  const isFrozen = frozen.rows > 0 || frozen.columns > 0;
  const sheet = book.addWorksheet(template.name, {
    views: [
      {
        showGridLines: false,
        ...(isFrozen
          ? { state: "frozen" as const, ySplit: frozen.rows, xSplit: frozen.columns }
          : { state: "normal" as const, style: undefined as never }),
      },
    ],
    pageSetup: {
      orientation: print.orientation,
      fitToPage: true,
      fitToWidth: 1,
      fitToHeight: 0,
      paperSize: LETTER_PAPER as never,
      ...(print.titleRows ? { printTitlesRow: print.titleRows } : {}),
      ...(print.area ? { printArea: print.area } : {}),
    },
    headerFooter: { oddFooter: "&L&A&RPage &P of &N" },
  });
  template.columns.forEach(({ width, style }, index) => {
    const column = sheet.getColumn(index + 1);
    column.width = width;
    if (style) column.style = styleOf(STYLES[style]);
  });
  for (const { at, value, formula, style } of template.cells) {
    const cell = sheet.getCell(at);
    if (style) cell.style = styleOf(STYLES[style]);
    if (formula !== undefined) cell.value = { formula: formula.slice(1) };
    else if (value !== undefined) cell.value = value;
  }
  for (const [row, height] of Object.entries(template.rowHeights)) {
    sheet.getRow(Number(row)).height = height;
  }
  for (const area of template.merged) sheet.mergeCells(area);
  for (const rule of template.rules) addRule(sheet, rule);
  template.marks.forEach(({ area, text, fill }, index) => {
    sheet.addConditionalFormatting({
      ref: area,
      rules: [
        {
          type: "cellIs",
          operator: "equal",
          formulae: [`"${text}"`],
          priority: index + 1,
          style: { fill: { type: "pattern", pattern: "solid", bgColor: colorOf(fill) } },
        },
      ],
    });
  });
  for (const ref of template.textNumbers) {
    sheet.ignoredErrors.push({ ref, numberStoredAsText: true });
  }
}

/** Height of a line of text, points. */
const LINE_POINTS = 15;
/** Letters that stand in the width of one digit, which is what column widths are counted in; measured on English text. */
const LETTERS_PER_DIGIT = 1.2;

/** Lines a text takes in a column, broken between words. */
function lineCount(text: string, width: number): number {
  let lines = 1;
  let used = 0;
  for (const word of text.split(" ")) {
    if (used > 0 && used + 1 + word.length > width) {
      lines++;
      used = word.length;
    } else used += (used > 0 ? 1 : 0) + word.length;
    // a word wider than the column is broken
    lines += Math.max(0, Math.ceil(used / width) - 1);
    used = used > width ? used % width : used;
  }
  return lines;
}

/** Heights of rows whose text wraps: spilled text is known only once it is calculated. */
function wrappedHeights(template: SheetTemplate, calculated: Calculated): Map<number, number> {
  const heights = new Map<number, number>();
  const used = parseArea(calculated.usedRange(template.name) ?? "");
  if (!used) return heights;
  const own = new Map(template.cells.map((cell) => [cell.at, cell.style]));
  const merged = new Set(template.merged.map((area) => area.split(":")[0]));
  template.columns.forEach(({ width, style }, index) => {
    const letters = columnLetters(index + 1);
    const values = calculated.range(template.name, `${letters}1:${letters}${used.bottom}`);
    values.forEach(([value], above) => {
      const row = above + 1;
      const look = STYLES[own.get(`${letters}${row}`) ?? style ?? "formula"];
      if (typeof value !== "string" || !look.wrap || merged.has(`${letters}${row}`)) return;
      if (template.rowHeights[row] !== undefined) return;
      const lines = lineCount(value, LETTERS_PER_DIGIT * (width - 2 * (look.indent ?? 0)));
      if (lines > 1) heights.set(row, Math.max(heights.get(row) ?? 0, lines * LINE_POINTS));
    });
  });
  return heights;
}

/**
 * Last touches to the parts of the file. Heights are written as measured, not as set by hand, so that the desktop
 * program goes on fitting them; the file says which program made it.
 */
function finished(bytes: Uint8Array, heights: readonly ReadonlyMap<number, number>[]): Uint8Array {
  const entries = readEntries(bytes).map((entry) => {
    const sheet = /^xl\/worksheets\/sheet(\d+)\.xml$/.exec(entry.path);
    const rows = sheet ? heights[Number(sheet[1]) - 1] : undefined;
    if (entry.path !== "docProps/app.xml" && (rows?.size ?? 0) === 0) return entry;
    const text = new TextDecoder().decode(unpack(entry));
    const patched = rows
      ? text.replace(/<row r="(\d+)"/g, (tag, row: string) => {
          const height = rows.get(Number(row));
          return height === undefined ? tag : `${tag} ht="${height}"`;
        })
      : text
          .replace(/<Application>[^<]*</, `<Application>${MAKER}<`)
          .replace(/<AppVersion>[^<]*<\/AppVersion>/, "");
    return pack(entry.path, new TextEncoder().encode(patched));
  });
  return writeEntries(entries);
}

export interface BuiltWorkbook {
  readonly bytes: Uint8Array;
  readonly errors: readonly CellProblem[];
  readonly formulaCount: number;
}

/** Builds a workbook, calculated. The same description gives the same bytes. */
export async function buildWorkbook(template: WorkbookTemplate): Promise<BuiltWorkbook> {
  const book = new Workbook();
  book.title = template.title;
  book.creator = MAKER;
  book.lastModifiedBy = MAKER;
  book.created = FIXED_DATE;
  book.modified = FIXED_DATE;
  for (const sheet of template.sheets) addSheet(book, sheet);
  const plain = await book.xlsx.writeBuffer();
  const calculated = openWorkbook(new Uint8Array(plain), worksheetFunctions);
  const { errors, formulaCount } = calculated.recalculate();
  const heights = template.sheets.map((sheet) => wrappedHeights(sheet, calculated));
  return { bytes: finished(calculated.toBytes(), heights), errors, formulaCount };
}
