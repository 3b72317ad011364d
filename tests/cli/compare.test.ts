/** npm run compare: what changed between two revisions of a house. */
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { openWorkbook, type Workbook } from "../../src/host/engine/index.js";
import { packageFaults } from "../workbooks/check-package.js";
import { emptyFolder, removeFolders, ROOT, run, type Ran } from "./run.js";

jest.setTimeout(180_000);
afterAll(removeFolders);

const DEMO = path.join(ROOT, "sample-workbooks", "demo-house.xlsx");
const compare = (folder: string, ...args: string[]): Promise<Ran> =>
  run("compare", args, { from: folder });

/** The demo house before and after a change, in an empty folder. */
function revisions(change: (book: Workbook) => void): string {
  const folder = emptyFolder();
  const bytes = fs.readFileSync(DEMO);
  fs.writeFileSync(path.join(folder, "a.xlsx"), bytes);
  const book = openWorkbook(bytes, worksheetFunctions as never);
  change(book);
  fs.writeFileSync(path.join(folder, "b.xlsx"), book.toBytes());
  return folder;
}

test("says in words and as a table what changed", async () => {
  const folder = revisions((book) => {
    // East is 24'-0" and stands in row 9
    book.setCell("Walls", "B9", "25'-6\"");
    // Living window stands in row 10, 10' from the left
    book.setCell("Openings", "C10", "9'-10 1/2\"");
    book.setCell("Setup", "B11", 46461);
  });
  const ran = await compare(folder, "a.xlsx", "b.xlsx", "--out", "changes.csv");
  expect(ran).toMatchObject({ code: 1, err: "" });
  expect(ran.out).toContain("Release date: blank is now 2027-03-15");
  expect(ran.out).toContain("Walls (1)\n  East, Length: 24'-0\" is now 25'-6\" (+1'-6\")\n");
  expect(ran.out).toContain(
    "Openings (1)\n  Main south, Living window, From left: 10'-0\" is now 9'-10 1/2\" (-0'-1 1/2\")\n"
  );
  expect(ran.out).toContain("Settings: nothing changed");
  expect(ran.out).toMatch(/Nails 3 1\/2 x 0\.131 in, Needed, nails: \d+ is now \d+ \(\+\d+\)/);
  const lines = fs.readFileSync(path.join(folder, "changes.csv"), "utf8").split("\r\n");
  expect(lines[0]).toBe("What,Name,Change,Field,Before,After,Difference");
  // a difference starts with a sign, which a spreadsheet would take for a formula
  expect(lines).toContain(`Wall,East,changed,Length,"24'-0""","25'-6""","'+1'-6"""`);
});

test("a house named like its file has no other name in a copy of another name", async () => {
  const folder = emptyFolder();
  await run("new-house", ["Lot 12"], { from: folder });
  const book = openWorkbook(
    fs.readFileSync(path.join(folder, "Lot 12.xlsx")),
    worksheetFunctions as never
  );
  ["South", "20'", "8'", null, null, null, "free", "free"].forEach((value, index) =>
    book.setCell("Walls", `${String.fromCharCode(65 + index)}6`, value)
  );
  const setup = book.range("Setup", "A1:A60").flat();
  for (const [name, value] of [
    ["Foam (in)", "1-1/4"],
    ["Panel (in)", "5/8"],
  ] as const) {
    book.setCell("Setup", `B${setup.indexOf(name) + 1}`, value);
  }
  for (const name of ["Lot 12.xlsx", "Lot 12 rev B.xlsx"]) {
    fs.writeFileSync(path.join(folder, name), book.toBytes());
  }
  const ran = await compare(folder, "Lot 12.xlsx", "Lot 12 rev B.xlsx");
  expect(ran).toMatchObject({ code: 0, err: "" });
  expect(ran.out).toContain("Nothing changed");
});

test("more and less are both numbers in the table", async () => {
  const folder = revisions((book) => book.setCell("Walls", "B9", "25'-6\""));
  await compare(folder, "a.xlsx", "b.xlsx", "--out", "changes.csv");
  const nails = fs
    .readFileSync(path.join(folder, "changes.csv"), "utf8")
    .split("\r\n")
    .find((line) => line.startsWith("Order,") && line.includes("Nails"));
  expect(nails).toMatch(/,\d+,\d+,\d+$/);
});

test("finds walls added, removed and renamed, and the openings that go with them", async () => {
  const folder = revisions((book) => {
    book.setCell("Walls", "A18", "West end");
    book.setCell("Openings", "A25", "West end");
    for (const letter of "ABCDGHQ") book.setCell("Walls", `${letter}19`, null);
    ["Porch", "6'", "8'", null, null, null, "free", "free"].forEach((value, index) =>
      book.setCell("Walls", `${String.fromCharCode(65 + index)}20`, value)
    );
    for (const letter of "EFKJ") book.setCell("Walls", `${letter}19`, null);
  });
  const ran = await compare(folder, "a.xlsx", "b.xlsx", "--json");
  const { changes } = JSON.parse(ran.out) as { changes: Record<string, string>[] };
  expect(changes.filter(({ what }) => what === "Wall")).toMatchObject([
    { kind: "renamed", before: "West gable", after: "West end" },
    { kind: "removed", name: "South gable", before: "22'-0\" long, 7'-4\" high, free and free" },
    { kind: "added", name: "Porch", after: "6'-0\" long, 8'-0\" high, free and free" },
  ]);
  expect(changes.filter(({ what }) => what === "Opening")).toEqual([]);
});

test("says a changed setting once, not for every wall that follows it", async () => {
  const folder = revisions((book) => {
    const names = book.range("Setup", "A14:A80").map(([name]) => name);
    book.setCell("Setup", `B${14 + names.indexOf("Spacing (in)")}`, 24);
  });
  const { out } = await compare(folder, "a.xlsx", "b.xlsx");
  expect(out).toContain("Walls: nothing changed");
  expect(out).toContain("Settings (1)\n  Spacing: 16 in is now 24 in (+8 in)\n");
});

test("the same house, its rows moved, has not changed", async () => {
  const folder = revisions((book) => {
    const walls = book.range("Walls", "A6:Q19").reverse();
    walls.forEach((row, down) =>
      row.forEach((value, across) =>
        book.setCell("Walls", `${String.fromCharCode(65 + across)}${6 + down}`, value)
      )
    );
  });
  const ran = await compare(folder, "a.xlsx", "b.xlsx");
  expect(ran).toMatchObject({ code: 0, err: "" });
  expect(ran.out).toContain("Nothing changed in walls, openings, settings or order.");
});

test("writes a workbook too, and over nothing that somebody made", async () => {
  const folder = revisions((book) => book.setCell("Walls", "B9", "25'"));
  fs.writeFileSync(path.join(folder, "changes.xlsx"), "mine");
  const ran = await compare(folder, "a.xlsx", "b.xlsx", "--out", "changes.xlsx");
  expect(ran.out).toContain("Table: changes-2.xlsx");
  expect(fs.readFileSync(path.join(folder, "changes.xlsx"), "utf8")).toBe("mine");
  const bytes = fs.readFileSync(path.join(folder, "changes-2.xlsx"));
  expect(packageFaults(bytes)).toEqual([]);
  const book = openWorkbook(bytes, []);
  expect(book.range("Changes", "A1:G2")).toEqual([
    ["What", "Name", "Change", "Field", "Before", "After", "Difference"],
    ["Wall", "East", "changed", "Length", "24'-0\"", "25'-0\"", "+1'-0\""],
  ]);
});

test.each([
  [["a.xlsx"], /two workbooks are compared; got 1/],
  [["a.xlsx", "b.xlsx", "c.xlsx"], /two workbooks are compared; got 3/],
  [["a.xlsx", "b.xlsx", "--out", "x.txt"], /--out must end in \.xlsx or \.csv; got x\.txt/],
  [["none.xlsx", "b.xlsx"], /^none\.xlsx: there is no such file/],
  [["a.xlsx", "blank.xlsx"], /^blank\.xlsx: there is no order in it/],
])("%p ends with 2 and says why", async (args, says) => {
  const folder = revisions(() => undefined);
  const template = path.join(ROOT, "sample-workbooks", "house-template.xlsx");
  fs.copyFileSync(template, path.join(folder, "blank.xlsx"));
  const ran = await compare(folder, ...args);
  expect(ran).toMatchObject({ code: 2, out: "" });
  expect(ran.err).toMatch(says);
});
