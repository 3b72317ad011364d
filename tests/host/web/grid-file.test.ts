/** A workbook on its way into the grid and out again keeps what it holds and how it looks. */
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../../src/worksheet/registry.js";
import {
  openWorkbook,
  type Workbook,
  type WorksheetFunction,
} from "../../../src/host/engine/index.js";
import { readPackage, walkSheet } from "../../../src/host/engine/read.js";
import { pack, writeEntries } from "../../../src/host/engine/zip.js";
import { GridModel } from "../../../src/host/web/calculation.js";
import { openForGrid } from "../../../src/host/web/file/open-book.js";
import { saveFromGrid } from "../../../src/host/web/file/save-book.js";
import { addStep, movedFormula, movedList } from "../../../src/host/web/file/structure.js";
import { modelBook } from "../../../src/host/web/snapshot.js";

type IWorkbookData = ReturnType<typeof openForGrid>;

const functions = worksheetFunctions as unknown as readonly WorksheetFunction[];
const bytes = new Uint8Array(
  fs.readFileSync(path.resolve(__dirname, "../../../sample-workbooks/demo-house.xlsx"))
);

function cellsOf(book: Workbook): Map<string, unknown> {
  const found = new Map<string, unknown>();
  for (const sheet of book.sheetNames) {
    const area = book.usedRange(sheet);
    if (area === undefined) continue;
    book.range(sheet, area).forEach((row, down) =>
      row.forEach((value, across) => {
        if (value !== null) found.set(`${sheet}!${area} ${down},${across}`, value);
      })
    );
  }
  return found;
}

/** Format number and formula kind of every cell, and the parts round the cells, sheet by sheet. */
function looks(file: Uint8Array): unknown[] {
  const held = readPackage(file, "SHEATH");
  return held.sheetXml.map((xml) => {
    const styles: Record<string, string> = {};
    walkSheet(xml, {
      cell: (row, column, attributes) => {
        if (attributes.s !== undefined && attributes.s !== "0") {
          styles[`${row},${column}`] = attributes.s;
        }
      },
    });
    const all = (name: string): string[] =>
      [...xml.matchAll(new RegExp(`<${name}\\b[^>]*(?:/>|>[\\s\\S]*?</${name}>)`, "g"))].map(
        ([text]) => text.replace(/\s+/g, " ")
      );
    return {
      styles,
      merges: all("mergeCell").sort(),
      conditional: all("conditionalFormatting"),
      view: all("pane"),
      setup: [...all("pageSetup"), ...all("pageMargins"), ...all("headerFooter")],
    };
  });
}

function lists(file: Uint8Array): string[] {
  return readPackage(file, "SHEATH").sheetXml.flatMap((xml) =>
    [...xml.matchAll(/<dataValidation\b[^>]*sqref="([^"]*)"[\s\S]*?<formula1>([^<]*)/g)].map(
      ([, where, what]) => `${where}: ${what}`
    )
  );
}

function saved(data: IWorkbookData, steps = {}): Uint8Array {
  return saveFromGrid({ original: bytes, data, steps });
}

test("the grid's calculation gives every value the command line gives", () => {
  const book = openWorkbook(bytes, functions);
  book.recalculate();
  const model = new GridModel();
  model.load(modelBook(openForGrid(bytes, "unit")));
  model.calculate();
  const wrong: string[] = [];
  const here = new Map<string, unknown>();
  for (const sheet of model.book.sheets) {
    for (const cell of sheet.cells.values())
      here.set(`${sheet.name} ${cell.row},${cell.column}`, cell.value);
  }
  for (const { sheet, cell } of book.formulas()) {
    const [, letters = "", digits = ""] = /^([A-Z]+)(\d+)$/.exec(cell) ?? [];
    let column = 0;
    for (const letter of letters) column = column * 26 + letter.charCodeAt(0) - 64;
    const mine = here.get(`${sheet} ${digits},${column}`);
    const theirs = book.cell(sheet, cell).value;
    if (JSON.stringify(mine) !== JSON.stringify(theirs)) wrong.push(`${sheet}!${cell}`);
  }
  expect(here.size).toBeGreaterThan(1000);
  expect(wrong).toEqual([]);
});

test("a workbook saved untouched has the values, formulas and looks it was opened with", () => {
  const data = openForGrid(bytes, "unit");
  const out = saved(data);
  const before = openWorkbook(bytes, functions);
  before.recalculate();
  const after = openWorkbook(out, functions);
  expect(after.formulas()).toEqual(before.formulas());
  expect(cellsOf(after)).toEqual(cellsOf(before));
  // spilled rows the file did not have yet take the format of their column, whoever writes them
  expect(looks(out)).toEqual(looks(before.toBytes()));
  expect(lists(out)).toEqual(lists(bytes));
});

test("saving twice gives the same file", () => {
  const once = saved(openForGrid(bytes, "unit"));
  const again = saveFromGrid({ original: once, data: openForGrid(once, "unit"), steps: {} });
  expect(Buffer.from(again).equals(Buffer.from(once))).toBe(true);
});

test("grouped rows and columns stay grouped", () => {
  const given = (file: Uint8Array, changed: (xml: string) => string): Uint8Array => {
    const path = "xl/worksheets/sheet2.xml";
    return writeEntries(
      readPackage(file, "SHEATH").entries.map((entry) =>
        entry.path === path
          ? pack(
              path,
              new TextEncoder().encode(changed(readPackage(file, "SHEATH").part(path) ?? ""))
            )
          : entry
      )
    );
  };
  const grouped = given(bytes, (xml) =>
    xml
      .replace(/<row r="8"/, '<row r="8" outlineLevel="2" hidden="1"')
      .replace(/<row r="9"/, '<row r="9" outlineLevel="1" collapsed="1"')
      .replace(/<col min="9" max="9"/, '<col min="9" max="9" outlineLevel="1"')
  );
  const marks = (file: Uint8Array): string[] =>
    [
      ...(readPackage(file, "SHEATH").part("xl/worksheets/sheet2.xml") ?? "").matchAll(
        /<(?:row r|col min)="(\d+)"[^>]*?outlineLevel="(\d)"[^>]*>/g
      ),
    ].map(
      ([tag, at, level]) =>
        `${tag.slice(1, 4)} ${at}: ${level}${/collapsed="1"/.test(tag) ? " +" : ""}`
    );
  const data = openForGrid(grouped, "unit");
  const out = saveFromGrid({ original: grouped, data, steps: {} });
  expect(marks(out)).toEqual(["col 9: 1", "row 8: 2", "row 9: 1 +"]);
});

test("a format made in the grid is added to the file's formats", () => {
  const data = openForGrid(bytes, "unit");
  const sheet = data.sheets["sheet-1"];
  data.styles.made = { bl: 1, fs: 13, bg: { rgb: "#ff8800" }, n: { pattern: "0.0000" } };
  const rows = sheet?.cellData as Record<number, Record<number, object>>;
  rows[5] = { ...rows[5], 0: { v: "Named", t: 1, s: "made" } };
  const out = saved(data);
  const reopened = openForGrid(out, "unit");
  const cell = (
    reopened.sheets["sheet-1"]?.cellData as Record<
      number,
      Record<number, { s?: string; v?: unknown }>
    >
  )[5]?.[0];
  expect(cell?.v).toBe("Named");
  expect(reopened.styles[cell?.s ?? ""]).toMatchObject({
    bl: 1,
    fs: 13,
    bg: { rgb: "#ff8800" },
    n: { pattern: "0.0000" },
  });
});

test("renamed, added and removed sheets are saved", () => {
  const data = openForGrid(bytes, "unit");
  const names = data.sheetOrder.map((id) => data.sheets[id]?.name);
  const last = data.sheetOrder[data.sheetOrder.length - 1] as string;
  delete data.sheets[last];
  data.sheetOrder = [...data.sheetOrder.slice(0, -1), "made"];
  data.sheets.made = {
    id: "made",
    name: "Notes & more",
    cellData: { 0: { 0: { v: "a < b", t: 1 }, 1: { f: "=1+1" } } },
  };
  const after = openWorkbook(saved(data), functions);
  expect(after.sheetNames).toEqual([...names.slice(0, -1), "Notes & more"]);
  expect(after.cell("Notes & more", "A1").value).toBe("a < b");
  expect(after.cell("Notes & more", "B1").value).toBe(2);
});

describe("what the grid does not know follows inserted and removed rows", () => {
  const inserted = [{ axis: "row", at: 4, count: 2 } as const];
  const removed = [{ axis: "row", at: 4, count: -2 } as const];
  test("areas below move, areas across grow or shrink, areas inside go", () => {
    expect(movedList("A1:B3 A4 A2:A9", inserted)).toBe("A1:B3 A6 A2:A11");
    expect(movedList("A1:B3 A4:A5 A2:A9 A3:A4 A5:A8", removed)).toBe("A1:B3 A2:A7 A3 A4:A6");
  });
  test("an undo takes its step back", () => {
    const once = addStep([], inserted[0] as (typeof inserted)[number]);
    expect(addStep(once, { axis: "row", at: 4, count: -2 })).toEqual([]);
  });
  test("formulas follow, each by the steps of the sheet it names", () => {
    const names = new Map([
      ["Walls", "Walls"],
      ["Setup", "Set up"],
      ["House", "LOT12"],
    ]);
    const move = (typed: string): string =>
      movedFormula(
        typed,
        "Walls",
        (sheet) => (sheet === "Walls" ? inserted : []),
        (sheet) => names.get(sheet)
      );
    expect(move("$A4=Setup!$B$9")).toBe("$A6='Set up'!$B$9");
    expect(move("SUM(A:A,3:3,5:5)")).toBe("SUM(A:A,3:3,7:7)");
    expect(move("House!A1+1")).toBe("'LOT12'!A1+1");
    expect(move("Gone!A1+1")).toBe("#REF!+1");
  });
});
