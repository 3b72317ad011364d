/** npm run new-house: a house from the template, under a name every system takes, and nothing written over. */
import fs from "node:fs";
import path from "node:path";
import { nameIdentity, NameGiver, safeFileName } from "../../src/cli/file-names.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { openWorkbook, type Workbook } from "../../src/host/engine/index.js";
import { packageFaults } from "../workbooks/check-package.js";
import { partsOf } from "../workbooks/open.js";
import { MACRO, partOf, withMacros } from "../host/make.js";
import { emptyFolder, removeFolders, ROOT, run, type Ran } from "./run.js";

jest.setTimeout(120_000);
afterAll(removeFolders);

const newHouse = (folder: string, ...args: string[]): Promise<Ran> =>
  run("new-house", args, { from: folder });

function opened(...names: string[]): Workbook {
  return openWorkbook(fs.readFileSync(path.join(...names)), worksheetFunctions as never);
}

describe("npm run new-house", () => {
  test("copies the template and types the name into it", async () => {
    const folder = emptyFolder();
    const ran = await newHouse(folder, "Lot 12");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(ran.out).toContain('npm run takeoff -- "Lot 12.xlsx"');
    expect(fs.readdirSync(folder)).toEqual(["Lot 12.xlsx"]);
    const book = opened(folder, "Lot 12.xlsx");
    expect(book.cell("Setup", "B2").value).toBe("Lot 12");
    // titles of the other sheets follow
    expect(book.cell("Walls", "A1").value).toBe("Walls Lot 12");
    const template = opened(ROOT, "sample-workbooks", "house-template.xlsx");
    expect(book.formulas()).toEqual(template.formulas());
  });

  test("never writes over, whatever the capitals", async () => {
    const folder = emptyFolder();
    fs.writeFileSync(path.join(folder, "LOT 12.XLSX"), "mine");
    const ran = await newHouse(folder, "Lot 12");
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toContain("LOT 12.XLSX is there already and is left as it is");
    expect(fs.readdirSync(folder)).toEqual(["LOT 12.XLSX"]);
    expect(fs.readFileSync(path.join(folder, "LOT 12.XLSX"), "utf8")).toBe("mine");
  });

  test("keeps a name that starts like a formula as text, and out of the file's name what files cannot have", async () => {
    const folder = emptyFolder();
    const ran = await newHouse(folder, "=1+1 / дом", "--out", "new ones");
    expect(ran.code).toBe(0);
    expect(fs.readdirSync(path.join(folder, "new ones"))).toEqual(["=1+1 - дом.xlsx"]);
    const book = opened(folder, "new ones", "=1+1 - дом.xlsx");
    expect(book.cell("Setup", "B2")).toEqual({ value: "=1+1 / дом" });
    const bytes = fs.readFileSync(path.join(folder, "new ones", "=1+1 - дом.xlsx"));
    expect(packageFaults(bytes)).toEqual([]);
    expect(book.recalculate().errors).toEqual([]);
  });

  test("copies the office's own template with its looks", async () => {
    const folder = emptyFolder();
    await newHouse(folder, "Office");
    const ran = await newHouse(folder, "Lot 1", "--from", "Office.xlsx");
    expect(ran).toMatchObject({ code: 0, err: "" });
    const looks = (name: string): string | undefined =>
      partsOf(fs.readFileSync(path.join(folder, name))).get("xl/styles.xml");
    expect(looks("Lot 1.xlsx")).toBe(looks("Office.xlsx"));
    expect(opened(folder, "Lot 1.xlsx").cell("Setup", "B2").value).toBe("Lot 1");
    expect(opened(folder, "Office.xlsx").cell("Setup", "B2").value).toBe("Office");
    expect(ran.out).toContain('Setup!B2 held "Office" and now holds the name.');
  });

  test("copies a template with macros to a workbook with macros, and runs none", async () => {
    const folder = emptyFolder();
    const bytes = fs.readFileSync(path.join(ROOT, "sample-workbooks", "house-template.xlsx"));
    fs.writeFileSync(path.join(folder, "own.xlsm"), withMacros(bytes));
    const ran = await newHouse(folder, "Lot 1", "--from", "own.xlsm");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(ran.out).toContain("macros are left as they are; none was run");
    expect(fs.readdirSync(folder).sort()).toEqual(["Lot 1.xlsm", "own.xlsm"]);
    const copied = fs.readFileSync(path.join(folder, "Lot 1.xlsm"));
    expect(partOf(copied, "xl/vbaProject.bin")).toBe(MACRO);
    expect(opened(folder, "Lot 1.xlsm").cell("Setup", "B2").value).toBe("Lot 1");
    const again = await newHouse(folder, "Lot 1", "--from", "own.xlsm");
    expect(again).toMatchObject({ code: 1, out: "" });
    expect(again.err).toContain("Lot 1.xlsm is there already and is left as it is");
  });

  test("says where the template has no cell for the name", async () => {
    const folder = emptyFolder();
    const sample = path.join(ROOT, "sample-workbooks", "first-formulas.xlsx");
    fs.copyFileSync(sample, path.join(folder, "own.xlsx"));
    const ran = await newHouse(folder, "Lot 1", "--from", "own.xlsx");
    expect(ran.code).toBe(0);
    expect(ran.out).toContain("No cell of the template is labeled House");
  });

  test.each([
    [[], 2, /the name of the house is missing/],
    [["  "], 2, /the name of the house is missing/],
    [["Lot", "12"], 2, /one house at a time, its name in quotes; got Lot and 12/],
    [["..."], 2, /must hold a letter or a digit; got \.\.\./],
    [["x".repeat(201)], 2, /must have at most 200 letters; got 201/],
    [["Lot", "--from", "own.csv"], 2, /--from must be an \.xlsx or \.xlsm workbook; got own\.csv/],
    [["Lot", "--of"], 2, /there is no option --of/],
    [["Lot", "--from", "none.xlsx"], 1, /none\.xlsx: there is no such file/],
  ])("%p ends with %p and says why", async (args, code, says) => {
    const folder = emptyFolder();
    const ran = await newHouse(folder, ...args);
    expect(ran).toMatchObject({ code, out: "" });
    expect(ran.err).toMatch(says);
    expect(fs.readdirSync(folder)).toEqual([]);
  });
});

describe("safeFileName", () => {
  test.each([
    ["Lot 12", "Lot 12"],
    [' a<b>:"c/d\\e|f?g*h ', "a-b-c-d-e-f-g-h"],
    ["CON", "_CON"],
    ["com1.old", "_com1.old"],
    ["Consul", "Consul"],
    ["name. . ", "name"],
    ["../../etc", "etc"],
    [".hidden", "hidden"],
    ["tab\there", "tab here"],
    ["\u202egnp", "gnp"],
    ["Дом 7, 東", "Дом 7, 東"],
    ["???", ""],
    ["\ud800", ""],
  ])("%p is %p", (typed, name) => expect(safeFileName(typed)).toBe(name));

  test("is short enough for every system, and cut between letters", () => {
    const name = safeFileName("東".repeat(100));
    expect(Buffer.byteLength(name)).toBeLessThanOrEqual(120);
    expect(name).toMatch(/^東+$/);
  });

  test("takes names apart that a file system would take for one", () => {
    const names = new NameGiver();
    expect(["Lot", "LOT", "lot-2", "Lot"].map((each) => names.give(each))).toEqual([
      "Lot",
      "LOT-2",
      "lot-2-2",
      "Lot-3",
    ]);
    expect(nameIdentity("é")).toBe(nameIdentity("É"));
  });
});
