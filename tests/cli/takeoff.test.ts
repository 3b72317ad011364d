import fs from "node:fs";
import path from "node:path";
import { openWorkbook } from "../../src/host/engine/index.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { emptyFolder, removeFolders, run, type Ran } from "./run.js";
import { SHED, folderWith } from "./shed.js";

jest.setTimeout(120_000);
afterAll(removeFolders);

const takeoff = (folder: string, ...args: string[]): Promise<Ran> =>
  run("takeoff", args, { from: folder });

function orderIn(folder: string, name = "shed.xlsx"): unknown[][] {
  const book = openWorkbook(
    fs.readFileSync(path.join(folder, "takeoff", name)),
    worksheetFunctions
  );
  const [call] = book.findCalls("HOUSE_ORDER");
  return book.range(call!.sheet, call!.area);
}

describe("npm run takeoff", () => {
  test("a template without walls says that none are typed yet, and where that is read", async () => {
    const template = path.resolve(__dirname, "../../sample-workbooks/house-template.xlsx");
    const ran = await takeoff(emptyFolder(), template);
    expect(ran.out).toMatch(
      /There is no order in this workbook: no walls are typed yet \(Order!A5 says "Type the walls on the Walls sheet"\)\./
    );
  });

  test("prints the order and the checks and says where the files went", async () => {
    const folder = await folderWith(SHED);
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(ran.out).toMatch(/^Item +Size +Needed +Unit +Extra +Per package +Order +Note$/m);
    expect(ran.out).toMatch(/^Panel +48 x 96 in/m);
    expect(ran.out).toMatch(/^Fix before ordering \(\d+\)$/m);
    expect(ran.out).toMatch(/^Notes \(\d+\)$/m);
    expect(ran.out).toContain("engineer of record");
    expect(ran.out).toContain(`Recalculated workbook: ${path.join("takeoff", "shed.xlsx")}`);
    expect(ran.out).toContain(`Order as CSV:          ${path.join("takeoff", "order.csv")}`);
    const order = orderIn(folder);
    expect(order[0]).toEqual([
      "Item",
      "Size",
      "Needed",
      "Unit",
      "Extra",
      "Per package",
      "Order",
      "Note",
    ]);
    const csv = fs.readFileSync(path.join(folder, "takeoff", "order.csv"), "utf8");
    expect(csv.split("\r\n")[0]).toBe("Item,Size,Needed,Unit,Extra,Per package,Order,Note");
    expect(csv.trimEnd().split("\r\n")).toHaveLength(order.length);
  });

  test("the order follows the walls", async () => {
    const small = await folderWith(SHED);
    await takeoff(small, "shed.xlsx");
    const large = await folderWith({ ...SHED, Walls: { ...SHED.Walls, B2: "16'", B4: "16'" } });
    await takeoff(large, "shed.xlsx");
    const panels = (folder: string): number => Number(orderIn(folder)[1]?.[2]);
    expect(panels(large)).toBeGreaterThan(panels(small));
  });

  test("a cell that only picks a figure from the order is not taken for it", async () => {
    const order = String(SHED.Order!.A3).slice(1);
    const folder = await folderWith({
      ...SHED,
      Setup: { ...SHED.Setup, Z1: `=INDEX(${order},2,7)` },
    });
    const ran = await takeoff(folder, "shed.xlsx", "--json");
    const { files } = JSON.parse(ran.out) as { files: { order: { cell: string } }[] };
    expect(files[0]!.order.cell).toBe("A3");
  });

  test("without a file it takes off the demo house, wherever it is typed", async () => {
    const folder = emptyFolder();
    const ran = await takeoff(folder, "--json");
    expect(ran).toMatchObject({ code: 0, err: "" });
    const { files } = JSON.parse(ran.out) as { files: { errors: unknown[]; workbook: string }[] };
    expect(files[0]).toMatchObject({
      errors: [],
      workbook: path.join("takeoff", "demo-house.xlsx"),
    });
    expect(fs.existsSync(path.join(folder, "takeoff", "order.csv"))).toBe(true);
  });

  test("never writes over its input, nor over anything a person made or changed", async () => {
    const folder = await folderWith(SHED);
    const input = fs.readFileSync(path.join(folder, "shed.xlsx"));
    const first = await takeoff(folder, "shed.xlsx", "--out", ".");
    expect(first.out).toContain("Recalculated workbook: shed-2.xlsx");
    expect(fs.readFileSync(path.join(folder, "shed.xlsx")).equals(input)).toBe(true);
    // Its own results it replaces.
    const again = await takeoff(folder, "shed.xlsx", "--out", ".");
    expect(again.out).toContain("Recalculated workbook: shed-2.xlsx");
    // But not once someone changed them.
    fs.writeFileSync(path.join(folder, "order.csv"), "my own notes");
    const third = await takeoff(folder, "shed.xlsx", "--out", ".");
    expect(third.out).toContain("order-2.csv");
    expect(fs.readFileSync(path.join(folder, "order.csv"), "utf8")).toBe("my own notes");
    expect(fs.readdirSync(folder).filter((name) => name.endsWith(".part"))).toEqual([]);
  });

  test("a result that is a link is left alone", async () => {
    const folder = await folderWith(SHED);
    fs.mkdirSync(path.join(folder, "takeoff"));
    fs.symlinkSync(path.join(folder, "shed.xlsx"), path.join(folder, "takeoff", "shed.xlsx"));
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran.out).toContain(path.join("takeoff", "shed-2.xlsx"));
  });

  test("a formula that fails is named with its reason, and the command fails", async () => {
    const folder = await folderWith({
      ...SHED,
      Walls: { ...SHED.Walls, G2: '=SHEATH.INCHES("long")', G3: "=G2*2", G4: "=NOSUCH(1)" },
    });
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran.code).toBe(1);
    expect(ran.err).toContain("shed.xlsx: 3 cells could not be calculated");
    expect(ran.err).toMatch(
      /Walls!G2 #VALUE! length must be a length; got "long".*\n +=SHEATH.INCHES/
    );
    expect(ran.err).toMatch(/Walls!G3 #VALUE! from Walls!G2: /);
    expect(ran.err).toMatch(/Walls!G4 #NAME\? there is no function called NOSUCH/);
    expect(ran.out).toMatch(/^Panel /m);
    expect(fs.existsSync(path.join(folder, "takeoff", "shed.xlsx"))).toBe(true);
  });

  test("an order that fails is not written as CSV", async () => {
    const folder = await folderWith({ ...SHED, Walls: { ...SHED.Walls, B1: "Len" } });
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/Order!A3 #VALUE! .*length/i);
    expect(ran.out).not.toContain("order.csv");
    expect(fs.existsSync(path.join(folder, "takeoff", "order.csv"))).toBe(false);
  });

  test("--json prints one document and nothing else", async () => {
    const folder = await folderWith(SHED);
    const ran = await takeoff(folder, "--json", "shed.xlsx");
    expect(ran.code).toBe(0);
    const { files } = JSON.parse(ran.out) as { files: Record<string, never>[] };
    expect(files).toHaveLength(1);
    expect(files[0]).toMatchObject({
      file: "shed.xlsx",
      ok: true,
      order: { sheet: "Order", cell: "A3" },
      errors: [],
      workbook: path.join("takeoff", "shed.xlsx"),
      orderCsv: path.join("takeoff", "order.csv"),
    });
    const { order, findings } = files[0] as unknown as {
      order: { columns: string[]; rows: unknown[][] };
      findings: { level: string }[];
    };
    expect(order.columns[0]).toBe("Item");
    expect(order.rows.length).toBeGreaterThan(2);
    expect(new Set(findings.map((each) => each.level))).toContain("note");
  });

  test("several workbooks get a folder each; one that fails does not stop the others", async () => {
    const folder = await folderWith(SHED, "a.xlsx");
    fs.writeFileSync(path.join(folder, "bad.xlsx"), "not a workbook at all, only text");
    fs.mkdirSync(path.join(folder, "more"));
    fs.copyFileSync(path.join(folder, "a.xlsx"), path.join(folder, "more", "a.xlsx"));
    const ran = await takeoff(
      folder,
      "a.xlsx",
      "bad.xlsx",
      "more/a.xlsx",
      "none.xlsx",
      "--out",
      "results"
    );
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/bad.xlsx: the file is damaged or is not an .xlsx workbook/);
    expect(ran.err).toContain("none.xlsx: there is no such file");
    expect(fs.existsSync(path.join(folder, "results", "a", "a.xlsx"))).toBe(true);
    expect(fs.existsSync(path.join(folder, "results", "a-2", "order.csv"))).toBe(true);
  });

  test("a workbook without our functions says so", async () => {
    const folder = await folderWith({ A: { A1: 1, A2: "=A1+1" } });
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toContain("no formula in it calls a SHEATH function");
  });

  test("a workbook without an order is recalculated and says so", async () => {
    const folder = await folderWith({ A: { A1: '=SHEATH.INCHES("1-7/8")' } });
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran.code).toBe(0);
    expect(ran.out).toContain("There is no order in this workbook");
    expect(ran.out).toContain(path.join("takeoff", "shed.xlsx"));
  });

  test("without a checks sheet the findings are worked out all the same", async () => {
    const { Checks: _left, ...rest } = SHED;
    const folder = await folderWith(rest);
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran.code).toBe(0);
    expect(ran.out).toMatch(/^Notes \(\d+\)$/m);
  });

  test("text in the CSV that a spreadsheet would run is made harmless, numbers stay numbers", async () => {
    const { csvText } = await import("../../src/cli/csv.js");
    expect(
      csvText([
        ["=1+1", "+1", "-1", "-1.5", "-a", "@x", "\tx", "\rx", -3, 2.5],
        ['a "b"', "c,d", "e\nf", null, true, { error: "#N/A" }, " x", "5", "", 0],
      ])
    ).toBe(
      `'=1+1,'+1,-1,-1.5,'-a,'@x,"'\tx","'\rx",-3,2.5\r\n` +
        `"a ""b""","c,d","e\nf",,TRUE,#N/A," x",5,,0\r\n`
    );
  });

  test("names and text cannot send commands to the terminal", async () => {
    const { tableText } = await import("../../src/cli/table-text.js");
    expect(tableText([["Item"], ["\u001b[31mred\u0007"]])).toBe(
      "Item\n-------\n [31mred".replace("\n ", "\n")
    );
  });

  test.each([
    [["--out"], /--out needs the name of a folder/],
    [["--nothing"], /there is no option --nothing/],
  ])("bad arguments %p say what is wrong and exit 2", async (args, says) => {
    const ran = await takeoff(emptyFolder(), ...args);
    expect(ran).toMatchObject({ code: 2, out: "" });
    expect(ran.err).toMatch(says);
    expect(ran.err).toContain("Usage: npm run takeoff");
  });

  test("a folder that cannot be made is said", async () => {
    const folder = await folderWith(SHED);
    const ran = await takeoff(folder, "shed.xlsx", "--out", "shed.xlsx/inside");
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/could not be written to .*: a file stands where a folder is needed/);
  });
});
