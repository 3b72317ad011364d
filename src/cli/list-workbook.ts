/**
 * A workbook of plain lists: sheets with a header row and rows of values, as a purchaser sorts, filters and pivots them.
 * Text is stored as text whatever it starts with; the only formulas are those the columns name.
 */
import { cellAddress, columnLetters, type CellValue } from "../host/engine/index.js";
import { escapeCellText, escapeXml } from "../host/engine/xml.js";
import { pack, writeEntries } from "../host/engine/zip.js";
import { cellText } from "./csv.js";

export type ListFormat = "text" | "wrapped" | "count" | "decimal" | "money" | "share" | "date";

export interface ListColumn {
  readonly header: string;
  /** characters */
  readonly width: number;
  readonly format: ListFormat;
  /** formula of a row, without its equals sign; the row's value is stored as what it came to */
  readonly formula?: (row: number) => string;
}

/** A line that follows what is typed below it. */
export interface FormulaLine {
  /** without its equals sign */
  readonly formula: string;
  /** what it came to */
  readonly text: string;
}

export interface ListSheet {
  readonly name: string;
  readonly columns: readonly ListColumn[];
  readonly rows: readonly (readonly CellValue[])[];
  /** lines above the header, the first as a title; with none the header is row 1 */
  readonly above?: readonly (string | FormulaLine)[];
  /** lines above the header, counted from 0, that ask for attention */
  readonly alarms?: readonly number[];
}

/** Row of a sheet's header, counted from 1; a blank row parts it from the lines above. */
export function headerRow({ above = [] }: ListSheet): number {
  return above.length === 0 ? 1 : above.length + 2;
}

const XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const CONTENT = "application/vnd.openxmlformats-officedocument.spreadsheetml";

/** Cell styles by their place in the list of styles below. */
const STYLE: Readonly<Record<ListFormat | "header" | "title" | "alarm" | "line", number>> = {
  text: 1,
  wrapped: 2,
  count: 3,
  decimal: 4,
  money: 5,
  share: 6,
  date: 7,
  header: 8,
  title: 9,
  alarm: 10,
  line: 1,
};

const TOP = '<alignment vertical="top"/>';
const WRAP = '<alignment vertical="top" wrapText="1"/>';
const style = (numberFormat: number, font = 0, fill = 0, border = 0, alignment = TOP): string =>
  `<xf numFmtId="${numberFormat}" fontId="${font}" fillId="${fill}" borderId="${border}" xfId="0" applyNumberFormat="1" applyFont="1" applyFill="1" applyBorder="1" applyAlignment="1">${alignment}</xf>`;

// number formats 3, 4, 9 are built in (ISO/IEC 29500-1 18.8.30): #,##0  #,##0.00  0%
const STYLES = `${XML}<styleSheet xmlns="${MAIN}"><numFmts count="3"><numFmt numFmtId="164" formatCode="#,##0.###"/><numFmt numFmtId="165" formatCode="yyyy\\-mm\\-dd"/><numFmt numFmtId="166" formatCode="0.##%"/></numFmts>\
<fonts count="3"><font><sz val="11"/><color rgb="FF1F2933"/><name val="Calibri"/></font><font><b/><sz val="11"/><color rgb="FF1F2933"/><name val="Calibri"/></font><font><b/><sz val="16"/><color rgb="FF1F2933"/><name val="Calibri"/></font></fonts>\
<fills count="4"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill><fill><patternFill patternType="solid"><fgColor rgb="FFE4E7EB"/></patternFill></fill><fill><patternFill patternType="solid"><fgColor rgb="FFF8D7DA"/></patternFill></fill></fills>\
<borders count="2"><border><left/><right/><top/><bottom/><diagonal/></border><border><left/><right/><top/><bottom style="thin"><color rgb="FFBCC4CE"/></bottom><diagonal/></border></borders>\
<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>\
<cellXfs count="11"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>${style(0)}${style(0, 0, 0, 0, WRAP)}${style(3)}${style(164)}${style(4)}${style(166)}${style(165)}${style(0, 1, 2, 1, WRAP)}${style(0, 2)}${style(0, 1, 3)}</cellXfs>\
<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`;

/** A date as year-month-day; other text in a column of dates stays text. */
const ISO_DATE = /^\d{4}-\d\d-\d\d$/;

/** Days from 30 December 1899, as cells count them. */
function daySerial(iso: string): number {
  return (Date.parse(`${iso}T00:00:00Z`) - Date.UTC(1899, 11, 30)) / (24 * 60 * 60 * 1000);
}

function cellXml(at: string, look: number, value: CellValue, formula?: string): string {
  const tag = `<c r="${at}" s="${look}"`;
  const made = formula === undefined ? "" : `<f>${escapeXml(formula)}</f>`;
  if (value === null) return made === "" ? `${tag}/>` : `${tag} t="str">${made}<v></v></c>`;
  if (typeof value === "number") return `${tag}>${made}<v>${value}</v></c>`;
  const text = escapeCellText(cellText(value));
  if (made !== "") return `${tag} t="str">${made}<v>${text}</v></c>`;
  return `${tag} t="inlineStr"><is><t xml:space="preserve">${text}</t></is></c>`;
}

function rowXml(number: number, cells: readonly string[]): string {
  return `<row r="${number}">${cells.join("")}</row>`;
}

function sheetXml(sheet: ListSheet): string {
  const { columns, rows, above = [], alarms = [] } = sheet;
  const header = headerRow(sheet);
  const lines = above.map((line, index) => {
    const look = index === 0 ? STYLE.title : alarms.includes(index) ? STYLE.alarm : STYLE.line;
    const [shown, formula] = typeof line === "string" ? [line] : [line.text, line.formula];
    return rowXml(index + 1, [cellXml(`A${index + 1}`, look, shown, formula)]);
  });
  const names = columns.map((column, index) =>
    cellXml(cellAddress(header, index + 1), STYLE.header, column.header)
  );
  const body = rows.map((row, down) => {
    const number = header + 1 + down;
    const cells = columns.map(({ format, formula }, index) => {
      const value = row[index] ?? null;
      const isDate = format === "date" && typeof value === "string" && ISO_DATE.test(value);
      const held = isDate ? daySerial(value) : value;
      return cellXml(cellAddress(number, index + 1), STYLE[format], held, formula?.(number));
    });
    return rowXml(number, cells);
  });
  const widths = columns.map(
    ({ width }, index) =>
      `<col min="${index + 1}" max="${index + 1}" width="${width}" customWidth="1"/>`
  );
  const last = `${columnLetters(columns.length)}${header + rows.length}`;
  const filter = rows.length === 0 ? "" : `<autoFilter ref="A${header}:${last}"/>`;
  return `${XML}<worksheet xmlns="${MAIN}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><dimension ref="A1:${last}"/>\
<sheetViews><sheetView workbookViewId="0"><pane ySplit="${header}" topLeftCell="A${header + 1}" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>\
<cols>${widths.join("")}</cols><sheetData>${lines.join("")}${rowXml(header, names)}${body.join("")}</sheetData>${filter}\
<pageSetup orientation="landscape" fitToHeight="0"/></worksheet>`;
}

function part(path: string, text: string): ReturnType<typeof pack> {
  return pack(path, new TextEncoder().encode(text));
}

/** The workbook as a file. The same lists give the same bytes. */
export function listWorkbook(sheets: readonly ListSheet[]): Uint8Array {
  const parts = sheets.map((_, index) => `worksheets/sheet${index + 1}.xml`);
  const types = parts.map(
    (name) => `<Override PartName="/xl/${name}" ContentType="${CONTENT}.worksheet+xml"/>`
  );
  const listed = sheets.map(
    ({ name }, index) =>
      `<sheet name="${escapeXml(name)}" sheetId="${index + 1}" r:id="rId${index + 1}"/>`
  );
  const relations = parts.map(
    (name, index) =>
      `<Relationship Id="rId${index + 1}" Type="${OFFICE}/worksheet" Target="${name}"/>`
  );
  const styles = `<Relationship Id="rId${parts.length + 1}" Type="${OFFICE}/styles" Target="styles.xml"/>`;
  return writeEntries([
    part(
      "[Content_Types].xml",
      `${XML}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="${CONTENT}.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="${CONTENT}.styles+xml"/>${types.join("")}</Types>`
    ),
    part(
      "_rels/.rels",
      `${XML}<Relationships xmlns="${RELATIONS}"><Relationship Id="rId1" Type="${OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>`
    ),
    part(
      "xl/workbook.xml",
      `${XML}<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}"><sheets>${listed.join("")}</sheets></workbook>`
    ),
    part(
      "xl/_rels/workbook.xml.rels",
      `${XML}<Relationships xmlns="${RELATIONS}">${relations.join("")}${styles}</Relationships>`
    ),
    part("xl/styles.xml", STYLES),
    ...sheets.map((sheet, index) => part(`xl/${parts[index] as string}`, sheetXml(sheet))),
  ]);
}
