import { cellAddress, type Workbook } from "../../src/host/engine/index.js";
import { file, open, sheet, value } from "./make.js";

const errors = (book: Workbook): string[] =>
  book.recalculate().errors.map((each) => `${each.sheet}!${each.cell} ${each.code}`);

describe("a spilled result", () => {
  test("blocked by a value is #SPILL! with what is in the way, and recovers", async () => {
    const book = await sheet({
      A1: "=SHEATH.COUNT_UP(3)",
      B3: "mine",
      D1: "=SUM(A1:A3)",
      D2: "=A1",
    });
    expect(value(book, "A1")).toEqual({
      error: "#SPILL!",
      message: "the table is 3 rows by 2 columns; B3 is in the way, empty it",
    });
    expect(book.range("A", "A2:B3")).toEqual([
      [null, null],
      [null, "mine"],
    ]);
    expect(value(book, "D2")).toMatchObject({ error: "#SPILL!" });
    book.setCell("A", "B3", null);
    expect(errors(book)).toEqual([]);
    expect(value(book, "D1")).toBe(6);
    expect(value(book, "B3")).toBe("row 3");
    book.setCell("A", "A2", 9);
    expect(errors(book)).toEqual(["A!A1 #SPILL!", "A!D1 #SPILL!", "A!D2 #SPILL!"]);
    expect(value(book, "A2")).toBe(9);
    expect(value(book, "A3")).toBeNull();
  });

  test("blocked stays blocked and clean after writing and reading", async () => {
    const book = await sheet({ A1: "=SHEATH.COUNT_UP(3)", A3: "mine" });
    const again = open(book.toBytes());
    expect(errors(again)).toEqual(["A!A1 #SPILL!"]);
    again.setCell("A", "A3", null);
    expect(errors(again)).toEqual([]);
    expect(value(again, "A3")).toBe(3);
  });

  test("cannot cover a formula, merged cells, a worksheet table, another spill or leave the sheet", async () => {
    const book = await sheet(
      {
        A1: "=SHEATH.COUNT_UP(2)",
        A2: "=1",
        D1: "=SHEATH.COUNT_UP(3)",
        G1: "=SHEATH.COUNT_UP(3)",
        J2: "=SHEATH.COUNT_UP(3)",
        K1: "=SHEATH.COUNT_UP(3)",
        A1048575: "=SHEATH.COUNT_UP(3)",
      },
      (library) => {
        const target = library.getWorksheet("A")!;
        target.mergeCells("E2:F2");
        target.addTable({
          name: "Walls",
          ref: "H3",
          columns: [{ name: "Wall" }],
          rows: [["North"]],
        });
      }
    );
    const found = book.recalculate().errors.map((each) => [each.cell, each.message]);
    expect(found).toEqual([
      ["A1", "the table is 2 rows by 2 columns; A2 is in the way, empty it"],
      ["D1", "the table is 3 rows by 2 columns; merged cells are in the way"],
      ["G1", "the table is 3 rows by 2 columns; the worksheet table Walls is in the way"],
      ["J2", "the table is 3 rows by 2 columns; K2 is in the way, empty it"],
      ["A1048575", "the table is 3 rows by 2 columns and would run off the sheet"],
    ]);
    expect(value(book, "K3")).toBe(3);
  });

  test("may share its sheet with a wide or tall one without slowing down", async () => {
    const book = await sheet({ A1: "=SEQUENCE(30000)", C1: "=SUM(A1#)" });
    expect(value(book, "C1")).toBe((30000 * 30001) / 2);
  });

  test("shrinks: cells it no longer fills are empty", async () => {
    const book = await sheet({ A1: 4, C1: "=SHEATH.COUNT_UP(A1)", F1: "=COUNTA(C1:D9)" });
    expect(value(book, "F1")).toBe(8);
    book.setCell("A", "A1", 2);
    book.recalculate();
    expect(book.range("A", "C3:D4").flat()).toEqual([null, null, null, null]);
    expect(value(book, "F1")).toBe(4);
  });

  test("feeds others that spill, in any order and over sheets", async () => {
    const book = open(
      await file({
        Last: { A1: "=SUM(Middle!A1#)" },
        Middle: { A1: "=FILTER(First!C1#,INDEX(First!C1#,0,1)>First!A2)" },
        First: { A1: 4, A2: 2, C1: "=SHEATH.COUNT_UP(A1)" },
      })
    );
    book.recalculate();
    expect(value(book, "A1", "Last")).toBe(7);
    book.setCell("First", "A1", 6);
    book.setCell("First", "A2", 3);
    book.recalculate();
    expect(value(book, "A1", "Last")).toBe(15);
    expect(book.range("Middle", "A1:B3")).toEqual([
      [4, "row 4"],
      [5, "row 5"],
      [6, "row 6"],
    ]);
  });

  test("a chain of thirty spills settles, each link reading the cells of the one before", async () => {
    const book = await sheet({ A1: 1 });
    // The last link first, so that a pass settles one link.
    for (let step = 30; step >= 1; step--) {
      book.setCell("A", cellAddress(1, 2 * step + 1), `=${cellAddress(2, 2 * step - 1)}+{1;2}`);
    }
    book.setCell("A", "A1", "=SHEATH.TOTAL({0})+{0;5}");
    expect(errors(book)).toEqual([]);
    // 5 in A2, and each link adds 2 in its second row.
    expect(value(book, cellAddress(2, 61))).toBe(5 + 2 * 30);
  });

  test("empty cells in a native spill show 0, empty places in ours show nothing", async () => {
    const book = await sheet({ A1: 1, A3: 3 });
    book.setCell("A", "C1", "=A1:A3");
    book.setCell("A", "E1", '=SHEATH.GIVE("a blank in a table")');
    book.recalculate();
    expect(book.range("A", "C1:C3").flat()).toEqual([1, 0, 3]);
    expect(book.range("A", "E1:F1").flat()).toEqual([1, ""]);
  });

  test("a table of one cell is one value", async () => {
    const book = await sheet({ A1: "=SEQUENCE(1)", A2: 5 });
    expect(errors(book)).toEqual([]);
    expect(book.cell("A", "A1")).toEqual({ value: 1, formula: "=SEQUENCE(1)" });
  });

  test("errors inside a spilled table are reported where they show", async () => {
    const book = await sheet({ A1: '=SHEATH.GIVE("an error in a table")' });
    expect(book.recalculate().errors).toEqual([
      {
        sheet: "A",
        cell: "B1",
        code: "#N/A",
        message: "no rule reaches it",
        formula: '=SHEATH.GIVE("an error in a table")',
      },
    ]);
    expect(book.cell("A", "B1")).toMatchObject({
      message: "no rule reaches it",
      spilledFrom: "A1",
    });
  });

  test("random numbers spill without ending the calculation", async () => {
    const book = await sheet({ A1: "=RANDARRAY(3,2)", D1: "=SUM(A1#)>=0" });
    expect(errors(book)).toEqual([]);
    expect(value(book, "D1")).toBe(true);
    expect(typeof value(book, "B3")).toBe("number");
  });

  test("an array formula of the old kind keeps to its area", async () => {
    const { rawSheet } = await import("./make.js");
    const book = open(
      await rawSheet(
        '<row r="1"><c r="A1"><v>1</v></c><c r="C1"><f t="array" ref="C1:C4">A1:A3*2</f><v>0</v></c></row>' +
          '<row r="2"><c r="A2"><v>2</v></c><c r="C2"><v>0</v></c></row><row r="3"><c r="A3"><v>3</v></c></row>'
      )
    );
    book.recalculate();
    expect(book.range("A", "C1:C4").flat()).toEqual([2, 4, 6, { error: "#N/A" }]);
  });
});
