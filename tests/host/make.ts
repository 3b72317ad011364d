/** Makes workbooks and functions for the tests of the engine. */
import { Workbook as Library } from "@cj-tech-master/excelts";
import {
  openWorkbook,
  type CellArgument,
  type CellValue,
  type Workbook,
  type WorksheetFunction,
} from "../../src/host/engine/index.js";
import { pack, readEntries, unpack, writeEntries } from "../../src/host/engine/zip.js";

/** An error as the worksheet functions throw it. */
export function cellError(code: string, message: string): Error {
  return Object.assign(new Error(message), { name: "CellError", code });
}

const parameter = (
  name: string,
  matrix = false
): { name: string; optional: boolean; matrix: boolean } => ({ name, optional: false, matrix });

/** Calls made to DOUBLE since the tests began. */
export const calls = { double: 0 };

/** Functions that show what the engine passes and takes. */
export const FUNCTIONS: readonly WorksheetFunction[] = [
  {
    name: "DOUBLE",
    parameters: [parameter("number")],
    call: (value) => {
      calls.double++;
      if (typeof value !== "number") {
        throw cellError("#VALUE!", `number must be a number; got ${JSON.stringify(value)}`);
      }
      return value * 2;
    },
  },
  {
    name: "COUNT_UP",
    parameters: [parameter("rows")],
    spills: true,
    call: (rows) => {
      if (rows === 0) throw cellError("#N/A", "there is nothing to count");
      return Array.from({ length: Number(rows) }, (_, row) => [row + 1, `row ${row + 1}`]);
    },
  },
  {
    name: "TOTAL",
    parameters: [parameter("cells", true)],
    call: (cells) =>
      (cells as CellValue[][]).flat().reduce<number>((sum, cell) => {
        return sum + (typeof cell === "number" ? cell : 0);
      }, 0),
  },
  { name: "SHOW", call: (...args: CellArgument[]) => JSON.stringify(args) },
  { name: "SHOW_MATRIX", parameters: [parameter("m", true)], call: (m) => JSON.stringify(m) },
  { name: "SHOW_ONE", parameters: [parameter("one")], call: (one) => JSON.stringify(one) },
  { name: "GIVE", call: (what) => GIVES[what as string] },
  {
    name: "FAIL",
    call: () => {
      throw new TypeError("cannot read it");
    },
  },
];

/** Answers a function should never give, and a few it may. */
const GIVES: Readonly<Record<string, unknown>> = {
  nothing: null,
  "not a number": NaN,
  infinite: Infinity,
  "minus zero": -0,
  "an object": { a: 1 },
  ragged: [[1, 2], [3]],
  "no rows": [],
  "a list": [1, 2, 3],
  "an error in a table": [["a", { error: "#N/A", message: "no rule reaches it" }]],
  "a blank in a table": [[1, null]],
  "unknown error": { error: "#ODD!" },
};

export type Cells = Readonly<Record<string, CellValue>>;

/** A workbook file: cells by sheet and address, text starting with = is a formula. */
export async function file(
  sheets: Readonly<Record<string, Cells>>,
  dress: (library: Library) => void = () => undefined
): Promise<Uint8Array> {
  const library = new Library();
  for (const [name, cells] of Object.entries(sheets)) {
    const sheet = library.addWorksheet(name);
    for (const [address, content] of Object.entries(cells)) {
      const isFormula = typeof content === "string" && content.startsWith("=");
      sheet.getCell(address).value = (isFormula ? { formula: content.slice(1) } : content) as never;
    }
  }
  dress(library);
  return new Uint8Array(
    (await library.xlsx.writeBuffer({ validate: false })) as unknown as ArrayBuffer
  );
}

export function open(bytes: Uint8Array): Workbook {
  return openWorkbook(bytes, FUNCTIONS);
}

/** A calculated workbook of one sheet called A. */
export async function sheet(
  cells: Cells,
  dress: (library: Library) => void = () => undefined
): Promise<Workbook> {
  const book = open(await file({ A: cells }, dress));
  book.recalculate();
  return book;
}

export function value(book: Workbook, address: string, sheetName = "A"): CellValue {
  return book.cell(sheetName, address).value;
}

/** Text of one part of a workbook file. */
export function partOf(bytes: Uint8Array, path: string): string {
  const entry = readEntries(bytes).find((each) => each.path === path);
  if (!entry) throw new Error(`no part ${path}`);
  return new TextDecoder().decode(unpack(entry));
}

/** A workbook file with parts replaced, added or (undefined) taken away. */
export function withParts(
  bytes: Uint8Array,
  parts: Readonly<Record<string, string | undefined>>
): Uint8Array {
  const encoder = new TextEncoder();
  const kept = readEntries(bytes).filter((entry) => !(entry.path in parts));
  const added = Object.entries(parts).flatMap(([path, text]) =>
    text === undefined ? [] : [pack(path, encoder.encode(text))]
  );
  return writeEntries([...kept, ...added]);
}

const WORKSHEET =
  'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" ' +
  'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"';

/** What the macro part of `withMacros` holds. */
export const MACRO = "Sub Auto_Open()\nEnd Sub";

/** The workbook with macros in it, which makes it another kind of file. */
export function withMacros(bytes: Uint8Array): Uint8Array {
  const types = partOf(bytes, "[Content_Types].xml")
    .replace(
      "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml",
      "application/vnd.ms-excel.sheet.macroEnabled.main+xml"
    )
    .replace(
      "</Types>",
      '<Default Extension="bin" ContentType="application/vnd.ms-office.vbaProject"/></Types>'
    );
  return withParts(bytes, { "[Content_Types].xml": types, "xl/vbaProject.bin": MACRO });
}

/** A workbook file of one sheet called A whose sheetData is given as XML. */
export async function rawSheet(
  sheetData: string,
  around: { before?: string; after?: string } = {}
): Promise<Uint8Array> {
  const xml =
    `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<worksheet ${WORKSHEET}>` +
    `${around.before ?? ""}<sheetData>${sheetData}</sheetData>${around.after ?? ""}</worksheet>`;
  return withParts(await file({ A: {} }), { "xl/worksheets/sheet1.xml": xml });
}
