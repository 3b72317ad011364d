/** Every workbook written here is one that a desktop program opens without offering to repair it. */
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { openWorkbook, type WorksheetFunction } from "../../src/host/engine/index.js";
import { pack, readEntries, unpack, writeEntries } from "../../src/host/engine/zip.js";
import { openForGrid } from "../../src/host/web/file/open-book.js";
import { saveFromGrid } from "../../src/host/web/file/save-book.js";
import { BLANK_HOUSE, houseTemplate } from "../../src/templates/house-template.js";
import { buildWorkbook } from "../../src/tools/write-template.js";
import { emptyFolder, removeFolders, run } from "../cli/run.js";
import { parseXml } from "../xml.js";
import { packageFaults } from "./check-package.js";
import { recalculated, sampleBytes, SAMPLES } from "./open.js";

jest.setTimeout(180_000);
afterAll(removeFolders);

const functions = worksheetFunctions as unknown as readonly WorksheetFunction[];
const template = sampleBytes("house-template.xlsx");

describe("a written workbook has no fault", () => {
  test.each(SAMPLES)("%s as it is stored, calculated again, and saved from the grid", (name) => {
    const bytes = sampleBytes(name);
    expect(packageFaults(bytes)).toEqual([]);
    expect(packageFaults(recalculated(name).toBytes())).toEqual([]);
    const data = openForGrid(bytes, "unit");
    expect(packageFaults(saveFromGrid({ original: bytes, data, steps: {} }))).toEqual([]);
  });

  test("saved from the grid with rows put in, formats made and every kind of value typed", () => {
    const bytes = sampleBytes("demo-house.xlsx");
    const data = openForGrid(bytes, "unit");
    const [id = ""] = data.sheetOrder;
    const sheet = data.sheets[id];
    if (!sheet?.cellData) throw new Error("no sheet");
    sheet.cellData[80] = {
      0: {
        v: "<b> & \"quotes\" 'and' \u0001 \ud83c\udfe0",
        t: 1,
        s: { bl: 1, bg: { rgb: "#ffeecc" } },
      },
      1: { v: 1.5, t: 2, s: { n: { pattern: '0.00 "in"' } } },
      2: { v: 1, t: 3 },
      3: { f: '=SHEATH.INCHES("1-7/8")' },
      4: { f: "=NOSUCH(1)" },
      5: { v: "  two spaces  ", t: 1 },
    };
    const steps = { [id]: [{ axis: "row" as const, at: 15, count: 3 }] };
    expect(packageFaults(saveFromGrid({ original: bytes, data, steps }))).toEqual([]);
  });

  test("changed by the engine: spills, errors, long and awkward text", () => {
    const book = openWorkbook(template, functions);
    const [sheet = ""] = book.visibleSheetNames;
    book.setCell(sheet, "Z100", '=SHEATH.STUD_MARKS("12\'", 1, "past", "flush")');
    book.setCell(sheet, "Z300", "=1/0");
    book.setCell(sheet, "Z301", "=NOSUCH(1)");
    book.setCell(sheet, "Z302", '=REPT("x",40000)');
    book.setCell(sheet, "AA300", '<a href="x">&amp; ]]> \u0000\ufffe');
    book.setCell(sheet, "AA301", "x".repeat(32_767));
    book.setCell(sheet, "AA302", "=TRUE");
    book.setCell(sheet, "AA303", -0);
    book.setCell(sheet, "AA304", 1e-300);
    book.recalculate();
    expect(packageFaults(book.toBytes())).toEqual([]);
  });

  test("built from the template with a house of awkward names in it", async () => {
    const built = await buildWorkbook(
      houseTemplate({ ...BLANK_HOUSE, houseName: "=1+1 <house> & 'yard'" })
    );
    expect(packageFaults(built.bytes)).toEqual([]);
  });

  test("written by the commands", async () => {
    const folder = emptyFolder();
    for (const name of ["a.xlsx", "b.xlsx"]) {
      fs.writeFileSync(path.join(folder, name), sampleBytes("demo-house.xlsx"));
    }
    const ran = await run("takeoff", ["a.xlsx", "b.xlsx"], { from: folder });
    expect(ran.code).toBe(0);
    const written = fs
      .readdirSync(path.join(folder, "takeoff"), { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(".xlsx"));
    expect(written.sort()).toEqual([
      path.join("a", "a.xlsx"),
      path.join("b", "b.xlsx"),
      "purchase.xlsx",
    ]);
    for (const name of written) {
      const bytes = fs.readFileSync(path.join(folder, "takeoff", name));
      expect([name, packageFaults(bytes)]).toEqual([name, []]);
    }
  });
});

/** The template with the text of one part changed. */
function spoiled(part: RegExp, from: string | RegExp, to: string): Uint8Array {
  let changes = 0;
  const entries = readEntries(template).map((entry) => {
    if (!part.test(entry.path)) return entry;
    const text = new TextDecoder().decode(unpack(entry));
    const other = text.replace(from, to);
    if (other !== text) changes++;
    return pack(entry.path, new TextEncoder().encode(other));
  });
  expect(changes).toBe(1);
  return writeEntries(entries);
}

const SHEET = /^xl\/worksheets\/sheet2\.xml$/;
const BOOK = /^xl\/workbook\.xml$/;

describe("the check of a workbook finds", () => {
  test.each<[string, RegExp, string | RegExp, string, RegExp]>([
    ["a part that is not well formed", SHEET, "</sheetData>", "", /sheet2\.xml/],
    ["a control character", SHEET, "<sheetData>", "\u0001<sheetData>", /does not allow/],
    [
      "parts of a sheet out of order",
      SHEET,
      /(<cols>.*<\/cols>)(<sheetData>.*<\/sheetData>)/s,
      "$2$1",
      /cols stands after sheetData/,
    ],
    [
      "a part that does not belong",
      SHEET,
      "<sheetData>",
      "<extra/><sheetData>",
      /extra does not belong/,
    ],
    ["cells out of order", SHEET, /<c r="B6"/, '<c r="A6"', /cell A6/],
    ["rows out of order", SHEET, /<row r="7"/, '<row r="5"', /row 5 after row/],
    ["a cell format that is not there", SHEET, /(<c r="A6" )s="\d+"/, '$1s="999"', /style 999/],
    ["a text that is not there", SHEET, /(t="s"[^>]*>\s*<v>)\d+/, "$1999999", /text 999999/],
    [
      "a merge that overlaps",
      /sheet1\.xml$/,
      /<mergeCells count="(\d+)">(<mergeCell [^>]*>)/,
      '<mergeCells count="$1">$2$2',
      /merges/,
    ],
    ["a spill mark that is not there", SHEET, /cm="1"/, 'cm="7"', /cm 7/],
    ["a function under its typed name", SHEET, "_xldudf_SHEATH_", "SHEATH.", /name people type/],
    [
      "a list in no place",
      SHEET,
      /(<dataValidation [^>]*sqref=")[^"]*/,
      "$1A0",
      /dataValidation in A0/,
    ],
    ["two sheets of one name", BOOK, 'name="Openings"', 'name="walls"', /two sheets/],
    [
      "a sheet's name that is too long",
      BOOK,
      'name="Openings"',
      `name="${"x".repeat(32)}"`,
      /sheet name/,
    ],
    ["a sheet id twice", BOOK, 'sheetId="2"', 'sheetId="1"', /sheet id 1/],
    ["a sheet without its part", BOOK, 'r:id="rId5"', 'r:id="rId99"', /has no part/],
    [
      "a name that is a cell",
      BOOK,
      "<definedNames>",
      '<definedNames><definedName name="A1">Walls!A1</definedName>',
      /name "A1"/,
    ],
    ["a name of no sheet", BOOK, 'localSheetId="0"', 'localSheetId="70"', /is of sheet 70/],
    [
      "a relationship to nothing",
      /workbook\.xml\.rels$/,
      /worksheets\/sheet3\.xml/,
      "worksheets/sheet33.xml",
      /sheet33\.xml is not there/,
    ],
    [
      "a content type of nothing",
      /Content_Types/,
      "/xl/worksheets/sheet3.xml",
      "/xl/worksheets/sheet33.xml",
      /sheet33\.xml is not there/,
    ],
    [
      "a cell format with no font",
      /styles\.xml$/,
      /(<cellXfs.*?fontId=")\d+/s,
      "$199",
      /fontId 99/,
    ],
    [
      "a number format that is not there",
      /styles\.xml$/,
      /(<cellXfs.*?numFmtId=")\d+/s,
      "$1999",
      /numFmtId 999/,
    ],
    [
      "a count that is wrong",
      /styles\.xml$/,
      /<fonts count="\d+"/,
      '<fonts count="99"',
      /fonts says it holds 99/,
    ],
  ])("%s", (_what, part, from, to, says) => {
    expect(packageFaults(spoiled(part, from, to)).join("\n")).toMatch(says);
  });

  test("XML that is none", () => {
    for (const text of [
      "<a><b></a></b>",
      "<a",
      "<a/><!-- x -->",
      "<a b='1' b='2'/>",
      "<a>&nope;</a>",
    ]) {
      expect(() => parseXml(text)).toThrow();
    }
  });
});
