/**
 * One test for each known fault of the calculation library and of the file library it comes with, named for the
 * fault. Where a fault cannot be kept away, the test states what happens today; docs/differences.md lists both.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { FormulaEvaluator, type CellValue } from "../../src/host/engine/index.js";
import { calls, file, open, partOf, rawSheet, sheet, value, withParts } from "./make.js";

function addTable(name: string, ref = "A1", columns = ["Wall", "Length"]): never {
  return ((library: { getWorksheet: (name: string) => { addTable: (table: object) => void } }) => {
    library.getWorksheet("A").addTable({
      name,
      ref,
      columns: columns.map((column) => ({ name: column })),
      rows: [
        ["North", 144],
        ["East", 96],
      ],
    });
  }) as never;
}

describe("faults of the calculation library", () => {
  test("old values survive: a formula that comes to #NAME? does not keep its saved value", async () => {
    const bytes = await rawSheet('<row r="1"><c r="A1"><f>NOSUCH(1)</f><v>42</v></c></row>');
    const book = open(bytes);
    expect(value(book, "A1")).toBe(42);
    const { errors } = book.recalculate();
    expect(value(book, "A1")).toEqual({
      error: "#NAME?",
      message: "there is no function called NOSUCH",
    });
    expect(errors).toEqual([
      {
        sheet: "A",
        cell: "A1",
        code: "#NAME?",
        message: "there is no function called NOSUCH",
        formula: "=NOSUCH(1)",
      },
    ]);
  });

  test("old values survive: a formula that cannot be read does not keep its saved value", async () => {
    const book = open(await rawSheet('<row r="1"><c r="A1"><f>SUM(1,</f><v>42</v></c></row>'));
    book.recalculate();
    expect(value(book, "A1")).toMatchObject({
      error: "#NAME?",
      message: expect.stringMatching(/not a formula/),
    });
  });

  test("a re-opened spill is not taken for values in its own way", async () => {
    const first = await sheet({ A1: "=SHEATH.COUNT_UP(3)" });
    const again = open(first.toBytes());
    expect(again.recalculate().errors).toEqual([]);
    expect(again.range("A", "A1:B3")).toEqual([
      [1, "row 1"],
      [2, "row 2"],
      [3, "row 3"],
    ]);
  });

  test("the stored area of a spill follows its result", async () => {
    const book = await sheet({ A1: 3, C1: "=SHEATH.COUNT_UP(A1)" });
    expect(partOf(book.toBytes(), "xl/worksheets/sheet1.xml")).toContain('t="array" ref="C1:D3"');
    book.setCell("A", "A1", 2);
    book.recalculate();
    const xml = partOf(book.toBytes(), "xl/worksheets/sheet1.xml");
    expect(xml).toContain('t="array" ref="C1:D2"');
    expect(xml).not.toContain('r="C3"');
  });

  test("only known functions spill: ours and array arithmetic do too", async () => {
    const book = await sheet({ A1: 1, A2: 2, C1: "=SHEATH.COUNT_UP(2)", F1: 0 });
    book.setCell("A", "F1", "=A1:A2*2");
    book.setCell("A", "H1", "=A1:A2");
    book.recalculate();
    expect(book.range("A", "F1:F2")).toEqual([[2], [4]]);
    expect(book.range("A", "H1:H2")).toEqual([[1], [2]]);
    expect(book.range("A", "C1:D2")[1]).toEqual([2, "row 2"]);
  });

  test("a bare table name is its data, in functions that count, look up and add", async () => {
    const book = await sheet(
      {
        D1: "=ROWS(Walls)",
        D2: '=VLOOKUP("East",Walls,2,FALSE)',
        D3: "=SHEATH.TOTAL(Walls)",
        D4: "=COLUMNS(walls)",
        D5: "=LET(Walls,5,Walls+1)",
      },
      addTable("Walls")
    );
    expect(book.range("A", "D1:D5").flat()).toEqual([2, 96, 240, 2, 6]);
  });

  test("A1# is the area its formula fills, also when the formula comes later or changes size", async () => {
    const book = await sheet({
      A1: "=SUM(D1#)",
      A2: "=ROWS(D1#)",
      A3: "=ROWS(Z9#)",
      B1: 3,
      D1: "=SHEATH.COUNT_UP(B1)",
    });
    expect([value(book, "A1"), value(book, "A2")]).toEqual([6, 3]);
    expect(value(book, "A3")).toMatchObject({ error: "#REF!" });
    book.setCell("A", "B1", 5);
    book.recalculate();
    expect([value(book, "A1"), value(book, "A2")]).toEqual([15, 5]);
    book.setCell("A", "B1", 1);
    book.recalculate();
    expect([value(book, "A1"), value(book, "A2")]).toEqual([1, 1]);
  });

  test("a reference to an empty cell shows 0, and what reads it sees 0", async () => {
    const book = await sheet({ A1: "=Z9", A2: "=ISBLANK(A1)", A3: "=ISBLANK(Z9)", A4: '=A1&"x"' });
    expect(book.range("A", "A1:A4").flat()).toEqual([0, false, true, "0x"]);
  });

  test("empty cells and arguments left out reach a function as null", async () => {
    const book = await sheet({ A1: '=SHEATH.SHOW(Z9,,"",B1:C1,0,FALSE)' });
    expect(value(book, "A1")).toBe('[null,null,"",[[null,null]],0,false]');
  });

  test("a thrown cell error keeps its code and message; anything else is an internal error", async () => {
    const book = await sheet({
      A1: '=SHEATH.DOUBLE("x")',
      A2: "=SHEATH.COUNT_UP(0)",
      A3: "=SHEATH.FAIL()",
      A4: '=SHEATH.GIVE("unknown error")',
    });
    expect(value(book, "A1")).toEqual({
      error: "#VALUE!",
      message: 'number must be a number; got "x"',
    });
    expect(value(book, "A2")).toEqual({ error: "#N/A", message: "there is nothing to count" });
    expect(value(book, "A3")).toEqual({
      error: "#VALUE!",
      message: "internal error: cannot read it",
    });
    expect(value(book, "A4")).toMatchObject({ error: "#VALUE!" });
  });

  test("a cell of a sheet that does not exist is #REF!, not an empty cell", async () => {
    const book = await sheet({ A1: "=Nowhere!A1+1", A2: "=SUM('No where'!A1:A3)" });
    expect(value(book, "A1")).toEqual({
      error: "#REF!",
      message: "there is no sheet called Nowhere",
    });
    expect(value(book, "A2")).toEqual({
      error: "#REF!",
      message: "there is no sheet called No where",
    });
  });

  test("characters that mean nothing are an error, not skipped", async () => {
    const book = await sheet({ A1: "=2~", A2: "=1 ! 2" });
    expect(value(book, "A1")).toMatchObject({
      error: "#NAME?",
      message: expect.stringMatching(/~ cannot stand here/),
    });
    expect(value(book, "A2")).toMatchObject({ error: "#NAME?" });
  });

  test("a circular reference is an error that names the ring, not a number", async () => {
    const book = await sheet({ A1: "=B1+1", B1: "=C1", C1: "=A1*2", D1: "=A1+1", E1: "=E1" });
    const { errors } = book.recalculate();
    expect(errors.map((each) => each.cell)).toEqual(["A1", "B1", "C1", "D1", "E1"]);
    expect(value(book, "A1")).toMatchObject({
      error: "#CALC!",
      message: expect.stringMatching(/circular reference: A!/),
    });
    expect(errors[4]).toMatchObject({ message: "circular reference: A!E1 → A!E1" });
    expect(value(book, "D1")).toMatchObject({
      error: "#CALC!",
      message: expect.stringMatching(/circular reference/),
    });
    book.setCell("A", "C1", 5);
    book.setCell("A", "E1", 1);
    expect(book.recalculate().errors).toEqual([]);
    expect(value(book, "D1")).toBe(7);
  });

  test("a formula that asks where a cell stands is not circular", async () => {
    const book = await sheet({ A5: "=ROW(A5)+COLUMNS(A5:C5)" });
    expect(value(book, "A5")).toBe(8);
  });

  test("a broken reference is not counted as one row", async () => {
    const book = await sheet({ A1: "=ROWS(Z9#)", A2: "=COLUMNS(Nowhere!A1:C1)", A3: "=ROW(Z9#)" });
    for (const cell of ["A1", "A2", "A3"])
      expect(value(book, cell)).toMatchObject({ error: "#REF!" });
  });

  test("a table that grows over the cells it reads is circular", async () => {
    const book = await sheet({ A1: "=SHEATH.COUNT_UP(COUNT(A2:A50)+2)" });
    expect(value(book, "A1")).toMatchObject({
      error: "#CALC!",
      message: expect.stringMatching(/circular reference/),
    });
    expect(value(book, "A2")).toBeNull();
  });

  test("more than 10,000 formulas are calculated, also where they depend on each other", async () => {
    const cells: Record<string, CellValue> = { A1: 1 };
    for (let row = 2; row <= 12001; row++) cells[`A${row}`] = `=A${row - 1}+1`;
    for (let row = 1; row <= 1000; row++) cells[`C${row}`] = `=SHEATH.DOUBLE(A${row})`;
    cells.E1 = "=SUM(C1:C1000)";
    const book = open(await file({ A: cells }));
    expect(book.recalculate().errors).toEqual([]);
    expect(value(book, "A12001")).toBe(12001);
    expect(value(book, "E1")).toBe(1000 * 1001);
  });

  test("parts of a large workbook read each other forwards, backwards and by text", async () => {
    const last = 9_600;
    const cells: Record<string, CellValue> = {};
    for (let row = 1; row <= last; row++) cells[`A${row}`] = `=${row}*$Z$1`;
    // the first formulas read the last ones, and the last ones these
    cells.B1 = `=A${last}+1`;
    cells.B2 = `=INDIRECT("A"&${last - 1})`;
    cells[`B${last}`] = "=B1+B2";
    cells.C1 = `=B${last}*2`;
    cells.C2 = "=RAND()";
    cells.C3 = "=Far";
    cells.Z1 = 2;
    const bytes = await file({ A: cells }, (library) =>
      library.definedNames.add("A!$A$9500", "Far")
    );
    const book = open(bytes);
    for (const factor of [2, 3]) {
      book.setCell("A", "Z1", factor);
      expect(book.recalculate().errors).toEqual([]);
      expect(value(book, "B1")).toBe(last * factor + 1);
      expect(value(book, "B2")).toBe((last - 1) * factor);
      expect(value(book, "C1")).toBe(2 * (last * factor + 1 + (last - 1) * factor));
      expect(value(book, "C3")).toBe(9500 * factor);
      expect(value(book, "C2")).toBeLessThan(1);
    }
  });

  test("a spilled range reads as it is shown, not as the cell in the reader's row", async () => {
    const book = await sheet({ A1: 1, A2: 2, A3: 3 });
    book.setCell("A", "C2", "=A1:A3");
    book.setCell("A", "E2", "=C2");
    book.recalculate();
    expect(value(book, "C2")).toBe(1);
    expect(value(book, "E2")).toBe(1);
  });

  test("a plain formula on a range takes the cell of its own row", async () => {
    const xml =
      '<row r="1"><c r="A1"><v>1</v></c></row><row r="2"><c r="A2"><v>2</v></c><c r="B2"><f>A1:A3*10</f></c></row>';
    const book = open(await rawSheet(xml));
    book.recalculate();
    expect(value(book, "B2")).toBe(20);
  });

  test("SUBTOTAL skips other subtotals and rows that are hidden, by its number", async () => {
    const book = await sheet(
      {
        A1: 1,
        A2: 2,
        A3: "=SUBTOTAL(9,A1:A2)",
        A4: "=SUBTOTAL(9,A1:A3)",
        A5: "=SUBTOTAL(109,A1:A2)",
      },
      (library) => {
        library.getWorksheet("A")!.getRow(2).hidden = true;
      }
    );
    expect(book.range("A", "A3:A5").flat()).toEqual([3, 3, 1]);
  });

  test("references to a table's own row work in every form", async () => {
    const book = await sheet({ C2: 0, C3: 0 }, ((library: {
      getWorksheet: (name: string) => { addTable: (table: object) => void };
    }) => {
      library.getWorksheet("A").addTable({
        name: "Walls",
        ref: "A1",
        columns: [{ name: "Length (in)" }, { name: "Height" }, { name: "Area" }],
        rows: [
          [144, 96, { formula: "Walls[[#This Row],[Length (in)]]*Walls[[#This Row],[Height]]" }],
          [96, 96, 0],
        ],
      });
    }) as never);
    book.setCell("A", "C3", "=[@[Length (in)]]*[@Height]");
    book.setCell("A", "E1", "=SUM(Walls[Area])");
    book.setCell("A", "E2", "=SUM(Walls[@[Length (in)]:[Height]])");
    book.setCell("A", "E3", "=Nothing[Area]");
    book.recalculate();
    expect([value(book, "C2"), value(book, "C3"), value(book, "E1")]).toEqual([13824, 9216, 23040]);
    expect(value(book, "E2")).toBe(240);
    expect(value(book, "E3")).toMatchObject({
      error: "#REF!",
      message: "there is no table called Nothing",
    });
    expect(partOf(book.toBytes(), "xl/worksheets/sheet1.xml")).toContain(
      "<f>Walls[[#This Row],[Length (in)]]*Walls[[#This Row],[Height]]</f>"
    );
  });

  test("names: ranges, whole columns, constants, formulas and ours, by sheet and by workbook", async () => {
    const bytes = await file({
      A: {
        A1: 1,
        A2: 2,
        B1: "=SUM(Both)",
        B2: "=SUM(Column)",
        B3: "=Rate*2",
        B4: "=Twice",
        B5: "=Local",
        B6: "=Doubled",
        B7: "=Missing",
      },
      B: { A1: "=Local" },
    });
    const names =
      '<definedNames><definedName name="Both">A!$A$1:$A$2</definedName><definedName name="Column">A!$A:$A</definedName>' +
      '<definedName name="Rate">0.5</definedName><definedName name="Twice">SUM(A!$A$1:$A$2)*2</definedName>' +
      '<definedName name="Local" localSheetId="0">A!$A$1</definedName><definedName name="Local" localSheetId="1">A!$A$2</definedName>' +
      '<definedName name="Doubled">SHEATH.DOUBLE(A!$A$2)</definedName></definedNames>';
    const xml = partOf(bytes, "xl/workbook.xml").replace("</sheets>", `</sheets>${names}`);
    const book = open(withParts(bytes, { "xl/workbook.xml": xml }));
    book.recalculate();
    expect(book.range("A", "B1:B6").flat()).toEqual([3, 3, 1, 6, 1, 4]);
    expect(value(book, "A1", "B")).toBe(2);
    expect(value(book, "B7")).toEqual({
      error: "#NAME?",
      message: "nothing in this workbook is called Missing",
    });
    expect(partOf(book.toBytes(), "xl/workbook.xml")).toContain("_xldudf_SHEATH_DOUBLE(A!$A$2)");
  });

  test("FORMULATEXT shows the formula as typed", async () => {
    const book = await sheet({
      A1: '=SHEATH.DOUBLE(2)&"x"',
      A2: "=FORMULATEXT(A1)",
      A3: "=FORMULATEXT(Z9)",
    });
    expect(value(book, "A2")).toBe('=SHEATH.DOUBLE(2)&"x"');
    expect(value(book, "A3")).toMatchObject({ error: "#N/A" });
    book.setCell("A", "A1", "=1+1");
    book.recalculate();
    expect(value(book, "A2")).toBe("=1+1");
  });

  test("whole columns and rows: over sheets, through INDIRECT and OFFSET, counted at their full size", async () => {
    const book = open(
      await file({
        A: {
          A1: 1,
          A2: 2,
          C1: "=SUM(A:A)",
          C2: "=SUMPRODUCT(A:A,B!A:A)",
          C3: "=ROWS(A:A)+COLUMNS(1:1)",
          C4: '=SUM(INDIRECT("A1:A1048576"))',
          C5: "=SUM(OFFSET(A1,0,0,1048576,1))",
          C6: "=SUM(B!1:1048576)",
          C7: '=COUNTIF(A1:A1048576,">1")',
          C8: "=INDEX(A:A,2)",
          C9: "=SHEATH.TOTAL(A:A)",
        },
        B: { A1: 10, A2: 20, A3: 30 },
      })
    );
    expect(book.recalculate().errors).toEqual([]);
    expect(book.range("A", "C1:C9").flat()).toEqual([3, 50, 1048576 + 16384, 3, 3, 60, 1, 2, 3]);
  });

  test("a formula on another workbook keeps its saved value and is counted", async () => {
    const book = open(
      await rawSheet(
        '<row r="1"><c r="A1"><f>[1]Other!B2*2</f><v>7</v></c><c r="B1"><f>A1+1</f></c></row>'
      )
    );
    expect(book.recalculate()).toMatchObject({ errors: [], keptCount: 1 });
    expect(value(book, "B1")).toBe(8);
    expect(partOf(book.toBytes(), "xl/worksheets/sheet1.xml")).toContain(
      "<f>[1]Other!B2*2</f><v>7</v>"
    );
  });

  test("a call with the same arguments is worked out once, however many passes a calculation takes", async () => {
    const book = await sheet({
      A1: 3,
      B1: "=SHEATH.DOUBLE(A1)",
      C1: "=SHEATH.COUNT_UP(B1)",
      F1: "=SUM(C1#)",
    });
    const before = calls.double;
    book.recalculate();
    book.recalculate();
    expect(calls.double).toBe(before);
    book.setCell("A", "A1", 4);
    book.recalculate();
    expect(calls.double).toBe(before + 1);
    expect(value(book, "F1")).toBe(36);
  });
});

describe("what is not kept away (stated so that a change is noticed)", () => {
  test("a LAMBDA called where it is written is not read", async () => {
    const book = await sheet({ A1: "=LAMBDA(x,x+1)(2)" });
    expect(value(book, "A1")).toMatchObject({ error: "#NAME?" });
  });
  test("a tiny rest of a subtraction is kept", async () => {
    const book = await sheet({ A1: "=0.3-0.2-0.1" });
    expect(value(book, "A1")).toBe(0.3 - 0.2 - 0.1);
  });
  test("the functions docs/differences.md calls missing are missing, and no others it could name are", () => {
    const page = readFileSync(join(__dirname, "..", "..", "docs", "differences.md"), "utf8");
    const list = /says so:\n([\s\S]*?)\. For lengths/.exec(page)?.[1] ?? "";
    const names = list.split(/[,\s]+/).filter((name) => name !== "");
    expect(names.length).toBeGreaterThan(10);
    const evaluator = new FormulaEvaluator([]);
    for (const answer of evaluator.evaluateAll(names.map((name) => `${name}()`))) {
      expect(answer).toMatchObject({
        error: "#NAME?",
        message: expect.stringContaining("there is no function called"),
      });
    }
    for (const name of ["XLOOKUP", "FILTER", "LET", "SUMIFS", "TEXTSPLIT", "EDATE"]) {
      expect(evaluator.evaluate(`${name}()`)).not.toMatchObject({ error: "#NAME?" });
    }
  });
  test("a free fraction format takes the nearest fraction", () => {
    expect(new FormulaEvaluator([]).evaluate('TEXT(3.14159,"# ??/??")')).toBe("3 14/99");
  });
});

describe("what a workbook may ask for", () => {
  const withBook = async (
    cells: Record<string, CellValue>,
    change: (xml: string) => string
  ): Promise<ReturnType<typeof open>> => {
    const bytes = await file({ A: cells });
    const book = open(
      withParts(bytes, { "xl/workbook.xml": change(partOf(bytes, "xl/workbook.xml")) })
    );
    book.recalculate();
    return book;
  };

  test("circular formulas are repeated where the workbook says so", async () => {
    const book = await withBook({ A1: "=B1/2+1", B1: "=A1" }, (xml) =>
      xml.replace(/<calcPr[^>]*\/>/, "").replace("</workbook>", '<calcPr iterate="1"/></workbook>')
    );
    // a = a/2 + 1 settles at 2
    expect(value(book, "A1")).toBeCloseTo(2, 2);
  });

  test("a function put into a name can be called", async () => {
    const book = await withBook({ A1: "=Twice(4)" }, (xml) =>
      xml.replace(
        "</sheets>",
        '</sheets><definedNames><definedName name="Twice">_xlfn.LAMBDA(_xlpm.x,_xlpm.x*2)</definedName></definedNames>'
      )
    );
    expect(value(book, "A1")).toBe(8);
  });

  test("what-if tables keep their saved values", async () => {
    const book = open(
      await rawSheet(
        '<row r="1"><c r="A1"><f t="dataTable" ref="A1:A2" dt2D="0" dtr="0" r1="C1"/><v>7</v></c><c r="B1"><f>A1*2</f></c></row>'
      )
    );
    expect(book.recalculate()).toMatchObject({ errors: [], keptCount: 1 });
    expect(value(book, "B1")).toBe(14);
    expect(partOf(book.toBytes(), "xl/worksheets/sheet1.xml")).toContain('t="dataTable"');
  });
});
