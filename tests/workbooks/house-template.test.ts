/** The blank house workbook, as a person fills it in. */
import type { CellValue } from "../../src/host/engine/index.js";
import { readHouse } from "../../src/tools/workbook-sources.js";
import { BLANK_HOUSE, houseTemplate } from "../../src/templates/house-template.js";
import type { SheetTemplate } from "../../src/templates/workbook.js";
import path from "node:path";
import { columnOf, recalculated, ROOT, rowsOf, settled, stored, tableOf } from "./open.js";

const demo = readHouse(path.join(ROOT, "sample-workbooks", "demo-house"));

function letters(index: number): string {
  return String.fromCharCode(65 + index);
}
function typeRow(
  book: ReturnType<typeof stored>,
  sheet: string,
  row: number,
  cells: readonly CellValue[]
): void {
  cells.forEach((cell, index) =>
    book.setCell(sheet, `${letters(index)}${row}`, cell === "" ? null : cell)
  );
}

/** Foam and Panel, which have no default. */
function typeAssembly(book: ReturnType<typeof stored>, foam: CellValue, panel: CellValue): void {
  book.setCell("Setup", "B14", foam);
  book.setCell("Setup", "B15", panel);
}
/** The template with its assembly typed in. */
function begun(): ReturnType<typeof stored> {
  const book = stored("house-template.xlsx");
  typeAssembly(book, "1-1/4", "5/8");
  return book;
}

describe("house-template.xlsx", () => {
  it("has the sheets of a house", () => {
    expect(stored("house-template.xlsx").sheetNames).toEqual([
      "Setup",
      "Walls",
      "Openings",
      "Order",
      "Layout",
      "Cuts",
      "Checks",
    ]);
  });

  it("is clean while it is blank and says where to begin", () => {
    const book = recalculated("house-template.xlsx");
    for (const name of [
      "HOUSE_ORDER",
      "HOUSE_WALLS",
      "HOUSE_CUTS",
      "HOUSE_PIECES",
      "HOUSE_CHECKS",
    ]) {
      expect(tableOf(book, name)).toEqual([["Type the walls on the Walls sheet"]]);
    }
    expect(
      book
        .range("Walls", "S6:AJ60")
        .flat()
        .every((value) => value === "" || value === null)
    ).toBe(true);
    expect(book.range("Checks", "A5:A11").flat()).toEqual(Array(7).fill(""));
  });

  it("shows Foam and Panel empty, says to fill them in, and works nothing out before", () => {
    const book = stored("house-template.xlsx");
    typeRow(book, "Walls", 6, ["North", "12'", 96, "", "", "", "free", "free"]);
    const { errors } = book.recalculate();
    const order = errors.find(({ sheet }) => sheet === "Order");
    expect(order?.message).toContain("Foam is blank: type the foam's thickness");
    expect(book.range("Setup", "A14:B15")).toEqual([
      ["Foam (in)", null],
      ["Panel (in)", null],
    ]);
    const run = `${columnOf(book, "Walls", 5, "Run, in")}6`;
    expect(book.cell("Setup", "A12").value).toMatch(/^Fill in Foam and Panel/);
    expect(book.cell("Setup", "G14").value).toBe("fill in");
    expect(book.cell("Walls", run).value).toBe("");
    typeAssembly(book, "1-1/4", "5/8");
    settled(book);
    expect(book.cell("Setup", "A12").value).toBe("");
    expect(book.cell("Setup", "G14").value).toBe(1.875);
    expect(book.cell("Walls", run).value).toBe(144);
  });

  it("takes none in Foam for plain sheathing in the figures beside the settings", () => {
    const book = stored("house-template.xlsx");
    typeAssembly(book, "none", "5/8");
    settled(book);
    const worked = new Map(book.range("Setup", "F14:G40").map(([label, value]) => [label, value]));
    expect(worked.get("Panel thickness, in")).toBe(0.625);
    // 5/8 + 1-1/2
    expect(worked.get("Nail at least, in")).toBe(2.125);
    expect(worked.get("Foam R")).toBe(0);
    expect(worked.get("Foam face, F")).toBe("no foam");
  });

  it("takes off one wall typed into it", () => {
    const book = begun();
    typeRow(book, "Walls", 6, ["North", "12'", 96, "", "", "", "free", "free"]);
    settled(book);
    expect(book.cell("Walls", `${columnOf(book, "Walls", 5, "Run, in")}6`).value).toBe(144);
    // 144 in / 48 in, whole 8 ft panels
    expect(rowsOf(book, "HOUSE_ORDER")[0]).toMatchObject({
      Item: "Panel",
      Size: "48 x 96 in",
      Order: 3,
    });
    expect(book.range("Checks", "A5:A11").flat()).toEqual(Array(7).fill("yes"));
  });

  it("takes a blank setting as its default, but for Foam and Panel", () => {
    const book = begun();
    typeRow(book, "Walls", 6, ["North", "12'", 96, "", "", "", "short", "past"]);
    const before = tableOf(settled(book), "HOUSE_ORDER");
    const worked = book.range("Setup", "G14:G40");
    const names = book.range("Setup", "A14:A90").flat();
    const settings = names.indexOf(null);
    expect(settings).toBeGreaterThan(40);
    for (let row = 16; row < 14 + settings; row++) book.setCell("Setup", `B${row}`, null);
    settled(book);
    expect(tableOf(book, "HOUSE_ORDER")).toEqual(before);
    expect(book.range("Setup", "G14:G40")).toEqual(worked);
  });

  it("says rake where a plain figure would be wrong, and counts the rake in the house", () => {
    const book = begun();
    typeRow(book, "Walls", 6, ["Shed side", "8'", "8'", "10'", "", "", "free", "free"]);
    settled(book);
    for (const header of ["Seam tape, ft", "Nails", "Sheathed height, in"]) {
      expect(book.cell("Walls", `${columnOf(book, "Walls", 5, header)}6`).value).toBe("rake");
    }
    // one seam in the middle, where the wall is 9 ft high
    expect(rowsOf(book, "HOUSE_WALLS")[0]?.["Seam feet"]).toBeCloseTo(9, 9);
  });

  it("says what is wrong with a wall in the sheet's own cell, in every sheet that asks", () => {
    const book = begun();
    typeRow(book, "Walls", 6, ["North", "12'", 96, "", "", "", "free", "open"]);
    const { errors } = book.recalculate();
    const order = errors.find(({ sheet }) => sheet === "Order");
    expect(order).toMatchObject({ cell: "A5", code: "#VALUE!" });
    // the sixth row of the sheet; the right end stands in its eighth column
    expect(order?.message).toMatch(/^Walls!H6 \(wall North\): Right end must be one of/);
    typeRow(book, "Walls", 7, ["South", "12'", 96, "", "", "", "free", "free"]);
    book.recalculate();
    // the wall that can be read is still checked; the other is one of the findings
    const found = rowsOf(book, "HOUSE_CHECKS").map((row) => String(row.Finding));
    expect(found[0]).toMatch(/^Walls!H6 \(wall North\): Right end/);
    expect(found.some((each) => each.startsWith("Nails:"))).toBe(true);
  });

  it("gives the demo house's order when the demo house is typed into it", () => {
    const book = stored("house-template.xlsx");
    demo.walls.forEach((cells, index) => typeRow(book, "Walls", 6 + index, cells));
    demo.openings.forEach((cells, index) => typeRow(book, "Openings", 6 + index, cells));
    const setup = book.range("Setup", "A1:A80").flat();
    for (const [name, value] of Object.entries(demo.settings)) {
      const row = setup.findIndex((cell) => String(cell).replace(/ \([^)]*\)$/, "") === name) + 1;
      expect(row).toBeGreaterThan(0);
      book.setCell("Setup", `B${row}`, value);
    }
    settled(book);
    expect(tableOf(book, "HOUSE_ORDER")).toEqual(
      tableOf(recalculated("demo-house.xlsx"), "HOUSE_ORDER")
    );
  });

  it("keeps what spills clear of everything else", () => {
    const sheets = new Map<string, SheetTemplate>(
      houseTemplate(BLANK_HOUSE).sheets.map((sheet) => [sheet.name, sheet])
    );
    let looked = 0;
    for (const { sheet, columns, from } of [
      { sheet: "Order", columns: "ABCDEFGH", from: 6 },
      { sheet: "Layout", columns: "ABCDEFGHIJK", from: 9 },
      { sheet: "Cuts", columns: "ABCDEFGHIKLMNOPQRS", from: 6 },
      { sheet: "Checks", columns: "ABCD", from: 17 },
    ]) {
      const cells = sheets.get(sheet)?.cells ?? [];
      looked += cells.length;
      const inTheWay = cells.filter(({ at, value, formula }) => {
        const [, column = "", row = ""] = /^([A-Z]+)(\d+)$/.exec(at) ?? [];
        return (
          column.length === 1 &&
          columns.includes(column) &&
          Number(row) >= from &&
          (value !== undefined || formula !== undefined)
        );
      });
      expect(inTheWay).toEqual([]);
    }
    expect(looked).toBeGreaterThan(50);
  });
});
