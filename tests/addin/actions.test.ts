/** What the pane's buttons do, against a stand-in for the host's API. */
import {
  Refusal,
  type Workbook,
  addFormulas,
  drawIntoSheet,
  keepValues,
  newHouse,
  repairFormulas,
  repaired,
  selfTest,
} from "../../src/addin/actions.js";
import { ExcelHost } from "../../src/addin/excel-host.js";
import { callArguments, findTables, readHouse } from "../../src/addin/house-reader.js";
import { freeNames, withSheetNames } from "../../src/addin/template-writer.js";
import { VERSION } from "../../src/core/version.js";
import { houseTemplate } from "../../src/templates/house-template.js";
import { FakeWorkbook } from "./fake-workbook.js";

const everything = (book: FakeWorkbook): Workbook => ({ run: book.run, supports: () => true });
const template = houseTemplate();

/** Contents of a sheet by address, as the template says it. */
function wanted(index: number): Map<string, unknown> {
  const cells = template.sheets[index]?.cells ?? [];
  return new Map(
    cells.flatMap(({ at, value, formula }) =>
      value === undefined && formula === undefined ? [] : [[at, formula ?? value] as const]
    )
  );
}

describe("New house", () => {
  test("adds every sheet of the template with every cell, in the template's order", async () => {
    const book = new FakeWorkbook();
    const said = await newHouse(everything(book));
    const names = template.sheets.map((each) => each.name);
    expect(book.sheets.map((each) => each.name)).toEqual(["Sheet1", ...names]);
    let cells = 0;
    template.sheets.forEach((sheet, index) => {
      const there = book.find(sheet.name);
      for (const [at, content] of wanted(index)) {
        expect([sheet.name, at, there?.at(at)?.content]).toEqual([sheet.name, at, content]);
        cells++;
      }
      expect(there?.cells.size).toBe(wanted(index).size);
    });
    expect(cells).toBeGreaterThan(300);
    expect(said).toContain("Walls");
    expect(book.activated.at(-1)).toBe(names[0]);
  });

  test("a second house gets sheets and formulas of its own, and leaves the first as it was", async () => {
    const book = new FakeWorkbook();
    await newHouse(everything(book));
    const before = JSON.stringify(book.sheets.map(({ name, cells }) => [name, [...cells]]));
    const first = book.sheets.length;
    await newHouse(everything(book));
    expect(
      JSON.stringify(book.sheets.slice(0, first).map(({ name, cells }) => [name, [...cells]]))
    ).toBe(before);
    const second = book.sheets.slice(first);
    expect(second.map((each) => each.name)).toEqual(
      template.sheets.map((each) => `${each.name} 2`)
    );
    const formulas = second.flatMap(({ cells }) =>
      [...cells.values()].map((each) => each.content).filter((each) => String(each).startsWith("="))
    );
    const own = formulas.filter((each) => /'\w+ 2'!/.test(String(each)));
    expect(own.length).toBeGreaterThan(20);
    // no formula of the second house looks at a sheet of the first
    const names = template.sheets.map((each) => each.name).join("|");
    for (const each of formulas) {
      expect(String(each).replace(/"(?:[^"]|"")*"/g, "")).not.toMatch(
        new RegExp(`(?<![\\w'])(?:${names})!`)
      );
    }
  });

  test("sheets of the same name that a person made are never written to", async () => {
    const book = new FakeWorkbook();
    book.add("Walls").put("A1", "mine");
    await newHouse(everything(book));
    expect(book.find("Walls")?.cells.size).toBe(1);
    expect(book.find("Walls 2")?.cells.size).toBeGreaterThan(5);
    expect(book.find("Setup")).toBeUndefined();
    expect(book.find("Setup 2")).toBeDefined();
  });

  test("cells for lengths are made text before anything is typed into them", async () => {
    const book = new FakeWorkbook();
    await newHouse(everything(book));
    const formats = book.changes.filter((each) => each.what === "numberFormat");
    expect(formats.some((each) => each.sheet === "Walls" && each.value === "@")).toBe(true);
    expect(formats.some((each) => each.sheet === "Setup" && each.value === "@")).toBe(true);
  });

  test("lists to choose from, warnings and frozen rows are set", async () => {
    const book = new FakeWorkbook();
    await newHouse(everything(book));
    const rules = book.changes.filter((each) => each.what === "dataValidation.rule");
    expect(rules).toHaveLength(template.sheets.reduce((sum, each) => sum + each.rules.length, 0));
    const frozen = template.sheets.filter(({ frozen: { rows, columns } }) => rows + columns > 0);
    expect(book.changes.filter((each) => each.what.startsWith("freezePanes"))).toHaveLength(
      frozen.length
    );
  });

  test("an older version without page layout still gets the house", async () => {
    const book = new FakeWorkbook();
    await newHouse({ run: book.run, supports: () => false });
    expect(book.sheets).toHaveLength(1 + template.sheets.length);
    expect(book.changes.filter((each) => each.what.startsWith("pageLayout"))).toEqual([]);
  });

  test("takes the next number for all sheets together, whatever the case", () => {
    const names = freeNames(["Setup", "Walls"], ["WALLS", "setup 3"]);
    expect([...names.values()]).toEqual(["Setup 2", "Walls 2"]);
  });

  test("renames sheets outside text only", () => {
    const names = new Map([["Walls", "Walls 2"]]);
    expect(withSheetNames('=IF(Walls!A1="Walls!",Walls!$A$1:B2,MyWalls!A1)', names)).toBe(
      "=IF('Walls 2'!A1=\"Walls!\",'Walls 2'!$A$1:B2,MyWalls!A1)"
    );
    const asCells = new Map([["Walls", "LOT12"]]);
    expect(withSheetNames("=Walls!A1", asCells)).toBe("='LOT12'!A1");
  });
});

describe("Add formulas here", () => {
  const tables = {
    walls: "Walls!$A$5:$P$60",
    openings: "Openings!$A$5:$G$90",
    settings: "Setup!$A$13:$B$69",
  };

  test("puts the house formula into the active cell", async () => {
    const book = new FakeWorkbook();
    for (const name of ["Walls", "Openings", "Setup"]) book.add(name);
    book.active = { sheet: "Sheet1", address: "C4" };
    await addFormulas(everything(book), "HOUSE_CUTS", tables);
    expect(book.find("Sheet1")?.at("C4")?.content).toBe(
      "=SHEATH.HOUSE_CUTS(Walls!$A$5:$P$60,Openings!$A$5:$G$90,Setup!$A$13:$B$69)"
    );
  });

  test("never writes over a cell that holds something", async () => {
    const book = new FakeWorkbook();
    book.find("Sheet1")?.put("A1", "mine");
    await expect(addFormulas(everything(book), "HOUSE_CUTS", tables)).rejects.toThrow(/not empty/);
    book.active = { sheet: "Sheet1", address: "B1" };
    book.find("Sheet1")?.put("C14", "mine too");
    await expect(addFormulas(everything(book), "ONE_WALL", undefined)).rejects.toThrow(Refusal);
    expect(book.find("Sheet1")?.cells.size).toBe(2);
  });

  test("one wall stands in two columns whose formulas name their own cells", async () => {
    const book = new FakeWorkbook();
    book.active = { sheet: "Sheet1", address: "D10" };
    await addFormulas(everything(book), "ONE_WALL", undefined);
    const sheet = book.find("Sheet1");
    expect(sheet?.at("D10")?.content).toBe("Length");
    expect(sheet?.at("E12")?.content).toBe("1-1/4");
    expect(sheet?.at("E13")?.content).toBe("5/8");
    expect(sheet?.at("E16")?.content).toBe("=SHEATH.PANEL_THICKNESS(E12,E13)");
    expect(sheet?.at("E18")?.content).toBe("=SHEATH.RUN_LENGTH(E10,E16,E14,E15)");
    expect(sheet?.at("E22")?.content).toBe("=SHEATH.STOCK_NAIL(E21)");
  });

  test("says what to do where the workbook has no house", async () => {
    await expect(
      addFormulas(everything(new FakeWorkbook()), "HOUSE_ORDER", undefined)
    ).rejects.toThrow(/New house/);
  });
});

describe("Repair formulas", () => {
  test("undoes what formulas turn into where the add-in was not there", () => {
    expect(repaired('=_xldudf_SHEATH_INCHES("x")')).toBe('=SHEATH.INCHES("x")');
    expect(repaired("='C:\\a b\\add.xlam'!_xldudf_SHEATH_CORNER_OFFSET(A1,B1)+1")).toBe(
      "=SHEATH.CORNER_OFFSET(A1,B1)+1"
    );
    expect(repaired("=@SHEATH.INCHES(A1)")).toBe("=SHEATH.INCHES(A1)");
    expect(repaired('=SHEATH.INCHES("_xldudf_SHEATH_INCHES(")')).toBe(
      '=SHEATH.INCHES("_xldudf_SHEATH_INCHES(")'
    );
    expect(repaired("=Walls!A1+SHEATH.INCHES(Walls!A2)")).toBe("=Walls!A1+SHEATH.INCHES(Walls!A2)");
  });

  test("enters again the cells that show #NAME?, and no others", async () => {
    const entered: string[] = [];
    const book = new FakeWorkbook((formula) => {
      entered.push(formula);
      return 1;
    });
    book
      .add("House")
      .put("B2", "=SHEATH.INCHES(A1)", "#NAME?")
      .put("B3", '=_xldudf_SHEATH_INCHES("x")', 5)
      .put("B4", "=SHEATH.INCHES(A2)", 12)
      .put("B5", "=OTHER(A1)", "#NAME?")
      .put("B6", "#NAME?");
    expect(await repairFormulas(everything(book))).toBe("Entered 2 formulas again; all answer.");
    expect(entered).toEqual(["=SHEATH.INCHES(A1)", '=SHEATH.INCHES("x")']);
    expect(await repairFormulas(everything(book))).toBe("No formula needs repair.");
  });

  test("says how many still do not answer", async () => {
    const book = new FakeWorkbook(() => "#NAME?");
    book.find("Sheet1")?.put("A1", "=SHEATH.INCHS(1)", "#NAME?");
    expect(await repairFormulas(everything(book))).toMatch(/1 formula again; 1 still/);
  });
});

describe("Keep values only", () => {
  test("copies sheets with formulas, keeps their values, and leaves the sheets alone", async () => {
    const book = new FakeWorkbook();
    book.add("Order").put("A1", "=SHEATH.HOUSE_ORDER(X)", "Item").put("A2", "Panel").put("B2", 22);
    book.add("Notes").put("A1", "text");
    const said = await keepValues(everything(book));
    const copy = book.find("Order values");
    expect(copy?.at("A1")?.content).toBe("Item");
    expect(copy?.at("B2")?.content).toBe(22);
    expect(book.find("Order")?.at("A1")?.content).toBe("=SHEATH.HOUSE_ORDER(X)");
    expect(book.find("Notes values")).toBeUndefined();
    expect(said).toContain("Order values");
    await keepValues(everything(book));
    expect(book.find("Order values 2")).toBeDefined();
  });

  test("long names stay within the host's 31 characters", async () => {
    const book = new FakeWorkbook();
    book.add("A name of thirty-one characters").put("A1", "=1", 1);
    await keepValues(everything(book));
    expect(Math.max(...book.sheets.map((each) => each.name.length))).toBe(31);
  });

  test("refuses where there is nothing to keep, or the version cannot copy", async () => {
    await expect(keepValues(everything(new FakeWorkbook()))).rejects.toThrow(Refusal);
    const book = new FakeWorkbook();
    await expect(keepValues({ run: book.run, supports: () => false })).rejects.toThrow(/version/);
  });
});

describe("Draw this wall into the sheet", () => {
  const toPng = (): Promise<string> => Promise.resolve("UE5H");

  test("hands the drawing over as it is where the version takes it", async () => {
    const drawn: string[] = [];
    const insertSvg = (svg: string): Promise<void> => Promise.resolve(void drawn.push(svg));
    const book = new FakeWorkbook();
    await drawIntoSheet(everything(book), { toPng, insertSvg }, "North", "<svg/>");
    expect(drawn).toEqual(["<svg/>"]);
    expect(book.changes).toEqual([]);
  });

  test("hands over a picture of it, at the active cell and by the wall's name, where it does not", async () => {
    const book = new FakeWorkbook();
    book.active = { sheet: "Sheet1", address: "B3" };
    await drawIntoSheet(everything(book), { toPng }, "North", "<svg/>");
    const set = new Map(book.changes.map((each) => [each.what, each.value]));
    expect(set.get("addImage")).toBe("UE5H");
    expect(set.get("shape.name")).toBe("Wall North");
    expect([set.get("shape.left"), set.get("shape.top")]).toEqual([96, 45]);
  });

  test("says so where the version takes neither", async () => {
    const book = new FakeWorkbook();
    await expect(
      drawIntoSheet({ run: book.run, supports: () => false }, { toPng }, "North", "<svg/>")
    ).rejects.toThrow(/version/);
  });
});

describe("Self-test", () => {
  const noWait = (): Promise<void> => Promise.resolve();

  test("is well where all functions are registered and a cell says this version", async () => {
    const book = new FakeWorkbook(() => VERSION);
    const { isWell, lines } = await selfTest(everything(book), 47, 47, noWait);
    expect(isWell).toBe(true);
    expect(lines.join(" ")).toContain(VERSION);
    expect(book.sheets.map((each) => each.name)).toEqual(["Sheet1"]);
    expect(book.activated.at(-1)).toBe("Sheet1");
  });

  test("waits while the cell is busy, and not for ever", async () => {
    const book = new FakeWorkbook(() => "#BUSY!");
    let waits = 0;
    const wait = (): Promise<void> => Promise.resolve(void waits++);
    const { isWell, lines } = await selfTest(everything(book), 47, 47, wait);
    expect(isWell).toBe(false);
    expect(waits).toBeGreaterThan(5);
    expect(lines.join(" ")).toContain("#BUSY!");
    expect(book.sheets).toHaveLength(1);
  });

  test("tells an older version, an unknown name and functions that are missing apart", async () => {
    const old = await selfTest(everything(new FakeWorkbook(() => "0.0.9")), 47, 47, noWait);
    expect(old.lines.join(" ")).toMatch(/0\.0\.9/);
    const name = await selfTest(everything(new FakeWorkbook(() => "#NAME?")), 47, 47, noWait);
    expect(name.lines.join(" ")).toMatch(/#NAME\?.*Repair/);
    const few = await selfTest(everything(new FakeWorkbook(() => VERSION)), 40, 47, noWait);
    expect(few).toMatchObject({ isWell: false });
    expect(few.lines[0]).toBe("Functions registered: 40 of 47.");
  });
});

describe("reading the house of the workbook", () => {
  const formula = "=SHEATH.HOUSE_ORDER(Walls!A1:E3,Openings!A1:F2,B20:C21)";

  function house(orderSheet = "My order"): FakeWorkbook {
    const book = new FakeWorkbook();
    const rows = (sheet: string, from: number, table: (string | number)[][]): void =>
      table.forEach((row, r) =>
        row.forEach((cell, c) => {
          if (cell !== "") book.find(sheet)?.put(`${String.fromCharCode(65 + c)}${from + r}`, cell);
        })
      );
    book.add("Walls");
    rows("Walls", 1, [
      ["Wall", "Length", "Height", "Left end", "Right end"],
      ["North", 192, 96, "past", "flush"],
    ]);
    book.add("Openings");
    rows("Openings", 1, [["Wall", "Opening", "From left", "Sill", "Width", "Height"]]);
    book
      .add(orderSheet)
      .put("A3", formula)
      .put("B20", "Foam")
      .put("C20", "1-1/4")
      .put("B21", "Panel")
      .put("C21", "5/8");
    return book;
  }

  test("splits the arguments of a call at its own commas", () => {
    expect(
      callArguments("=IF(A1,\"x\",SHEATH.HOUSE_ORDER('a,b'!A1:B2, F(1,2) ,{1,2}))", "HOUSE_ORDER")
    ).toEqual(["'a,b'!A1:B2", "F(1,2)", "{1,2}"]);
    expect(callArguments("=SHEATH.HOUSE_ORDER(A1", "HOUSE_ORDER")).toBeUndefined();
  });

  test("takes the ranges from the workbook's own formula, and takes the house off them", async () => {
    const book = house();
    const reading = await book.run(readHouse);
    expect(reading.problem).toBeUndefined();
    expect(reading.foundIn).toBe("'My order'!A3");
    expect(reading.house?.walls.map((each) => each.name)).toEqual(["North"]);
    // 16 ft and 1-7/8: three whole panels, a 32 and a 17-7/8
    expect(reading.order?.[0]).toMatchObject({ item: "Panel", order: 5 });
    expect(reading.places?.walls).toMatchObject({
      sheet: "Walls",
      top: 1,
      left: 1,
      bottom: 3,
      right: 5,
    });
  });

  test.each(["LOT12", "R1C1", "TRUE", "2nd"])("on a sheet named %s", async (name) => {
    const found = await house(name).run(findTables);
    expect(found).toMatchObject({ settings: `'${name}'!B20:C21`, foundIn: `'${name}'!A3` });
  });

  test("falls back on sheets by their names", async () => {
    const book = house();
    book.find("My order")?.cells.clear();
    book.add("Setup").put("A1", "Foam").put("B1", "1-1/4").put("A2", "Panel").put("B2", "5/8");
    const found = await book.run(findTables);
    expect(found).toEqual({
      walls: "Walls!A1:E2",
      openings: "Openings!A1:F1",
      settings: "Setup!A1:B2",
    });
    expect((await book.run(readHouse)).house).toBeDefined();
  });

  test("says what is wrong in the tables, with the findings so far", async () => {
    const book = house();
    book.find("Walls")?.put("B2", "long");
    const reading = await book.run(readHouse);
    expect(reading.house).toBeUndefined();
    expect(reading.problem).toMatch(/North.*Length/);
  });

  test("says what to do where there is no house", async () => {
    expect((await new FakeWorkbook().run(readHouse)).problem).toMatch(/New house/);
  });

  test("the template written by New house is read back as a house", async () => {
    const book = new FakeWorkbook(() => "");
    await newHouse(everything(book));
    const reading = await book.run(readHouse);
    // nothing typed yet: the walls table has its headers and no wall
    expect(reading.places?.walls?.sheet).toBe("Walls");
  });
});

describe("the spreadsheet beside the pane", () => {
  test("tells about changes and about the selected cell", async () => {
    const book = new FakeWorkbook();
    book.active = { sheet: "Sheet1", address: "C7" };
    const host = new ExcelHost(book.run, { print: () => undefined, fillIn: () => undefined });
    let changes = 0;
    const cells: string[] = [];
    host.onChange(() => void changes++);
    host.onSelection((cell) => cells.push(`${cell.sheet}!${cell.address}`));
    await new Promise(setImmediate);
    expect(changes).toBe(1);
    expect(cells).toEqual(["Sheet1!C7"]);
    for (const each of book.changeListeners) each();
    expect(changes).toBe(1 + book.changeListeners.length);
    book.active = { sheet: "Sheet1", address: "A2" };
    for (const each of book.selectionListeners) await each();
    expect(cells.at(-1)).toBe("Sheet1!A2");
  });

  test("a formula to be filled in opens the pane's form instead of a broken cell", async () => {
    const asked: string[] = [];
    const host = new ExcelHost(new FakeWorkbook().run, {
      print: () => undefined,
      fillIn: (formula) => asked.push(formula),
    });
    await host.insertFormula("=SHEATH.INCHES(");
    expect(asked).toEqual(["=SHEATH.INCHES("]);
  });
});
