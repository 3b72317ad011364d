/** What a formula means by a range, a name or a table: one cell in a plain formula, all cells in one that may spill. */
import { open, partOf, rawSheet, sheet, value, withParts, file } from "./make.js";

/** A sheet of plain formulas as a file stores them. */
const plain = async (
  cells: Readonly<Record<string, string | number>>,
  names = ""
): Promise<ReturnType<typeof open>> => {
  const rows = new Map<string, string>();
  for (const [address, content] of Object.entries(cells)) {
    const row = /\d+/.exec(address)![0];
    const inner =
      typeof content === "number"
        ? `<v>${content}</v>`
        : content.startsWith("=")
          ? `<f>${content.slice(1).replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;")}</f>`
          : "";
    const cell =
      inner === ""
        ? `<c r="${address}" t="inlineStr"><is><t>${content}</t></is></c>`
        : `<c r="${address}">${inner}</c>`;
    rows.set(row, (rows.get(row) ?? "") + cell);
  }
  const data = [...rows].map(([row, text]) => `<row r="${row}">${text}</row>`).join("");
  const bytes = await rawSheet(data);
  const xml = partOf(bytes, "xl/workbook.xml").replace(
    "</sheets>",
    `</sheets><definedNames>${names}</definedNames>`
  );
  const book = open(names === "" ? bytes : withParts(bytes, { "xl/workbook.xml": xml }));
  book.recalculate();
  return book;
};

describe("a range in a plain formula where one value belongs", () => {
  test("is the cell of the formula's row or column, in functions too, and no ring", async () => {
    const book = await plain(
      {
        A1: 1.26,
        B1: "=ROUND(A:A,1)",
        C1: "=INT(B:B)+INT(A:A)",
        A2: 2.26,
        B2: "=ROUND(A:A,1)",
        C2: "=A1:A3*2",
        D2: "=ABS(Column)",
        E2: '=TEXT(A1:A3,"0.0")',
        F2: '=IF(A1:A3>2,"more","less")',
        G2: "=@A1:A3",
        H2: '=A1:A3&"x"',
        A3: 3.26,
        I9: "=ROUND(A1:A3,1)",
        A20: "=A1:C1",
      },
      '<definedName name="Column">A!$A$1:$A$3</definedName>'
    );
    expect(book.range("A", "B2:H2")[0]).toEqual([2.3, 4.52, 2.26, "2.3", "more", 2.26, "2.26x"]);
    expect([value(book, "B1"), value(book, "C1"), value(book, "A20")]).toEqual([1.3, 2, 1.26]);
    expect(value(book, "I9")).toMatchObject({ error: "#VALUE!" });
  });

  test("means all its cells in SUMPRODUCT, LOOKUP, INDEX and in functions that take ranges", async () => {
    const book = await plain({
      A1: "west",
      A2: "east",
      A3: "west",
      B1: 1,
      B2: 2,
      B3: 3,
      C9: "=SUMPRODUCT(LEN(A1:A3))",
      D9: '=SUMPRODUCT((A1:A3="west")*B1:B3)',
      E9: '=LOOKUP(2,1/(A1:A3="west"),B1:B3)',
      F9: '=MATCH(1,INDEX((A1:A3="east")*(B1:B3=2),0),0)',
      G9: "=SUM(B1:B3)",
      H9: '=SUMPRODUCT(MAX((A1:A3="west")*B1:B3))',
    });
    expect(book.range("A", "C9:H9")[0]).toEqual([12, 4, 3, 2, 6, 3]);
  });

  test("stays all its cells where the formula was typed here and the file was written and read again", async () => {
    const book = await sheet({ A1: 1, A2: 2, A3: 3 });
    book.setCell("A", "C9", "=SUM(A1:A3*2)");
    book.setCell("A", "D9", "=SUM(A1:A3)*2");
    book.recalculate();
    const again = open(book.toBytes());
    again.recalculate();
    expect([value(again, "C9"), value(again, "D9")]).toEqual([12, 12]);
    expect(partOf(book.toBytes(), "xl/worksheets/sheet1.xml")).toContain("<f>SUM(A1:A3)*2</f>");
  });
});

test("an array formula of the old kind keeps its area, whatever its function gives", async () => {
  const book = open(
    await rawSheet(
      '<row r="1"><c r="A1"><v>1</v></c><c r="B1"><v>2</v></c><c r="C1"><v>3</v></c></row>' +
        '<row r="3"><c r="A3"><f t="array" ref="A3:A4">TRANSPOSE(A1:C1)</f><v>1</v></c>' +
        '<c r="C3"><f t="array" ref="C3:C6">TRANSPOSE(A1:C1)</f><v>1</v></c></row>' +
        '<row r="4"><c r="A4"><v>2</v></c></row><row r="5"><c r="A5"><v>99</v></c></row>'
    )
  );
  expect(book.recalculate().errors.map(({ cell }) => cell)).toEqual(["C6"]);
  expect(book.range("A", "A3:A5").flat()).toEqual([1, 2, 99]);
  expect(book.range("A", "C3:C5").flat()).toEqual([1, 2, 3]);
  expect(partOf(book.toBytes(), "xl/worksheets/sheet1.xml")).toContain('t="array" ref="A3:A4"');
});

test("columns of tables with brackets, apostrophes, spaces and line breaks in their names", async () => {
  const columns = ["Wall #", "Length ", "A[b]", "It's", "two\nlines"];
  const book = await sheet(
    {
      H1: "=SUM(Walls[Wall '#])",
      H2: "=SUM(Walls[[Length ]])",
      H3: "=SUM(Walls[A'[b']])",
      H4: "=SUM(Walls[It''s])",
      H5: "=SUM(Walls[two\nlines])",
      H6: "=SUM(Walls[[#Data],[Wall '#]:[A'[b']]])",
      H7: "=SUM(Walls[Length])",
    },
    (library) =>
      library.getWorksheet("A")!.addTable({
        name: "Walls",
        ref: "A1",
        columns: columns.map((name) => ({ name })),
        rows: [
          [1, 2, 3, 4, 5],
          [10, 20, 30, 40, 50],
        ],
      })
  );
  expect(book.range("A", "H1:H6").flat()).toEqual([11, 22, 33, 44, 55, 66]);
  expect(value(book, "H7")).toEqual({
    error: "#REF!",
    message: "the table Walls has no column Length",
  });
});

test("a name's references without $ stand as seen from A1 and move with the cell that uses it", async () => {
  const book = await plain(
    { A1: 5, B1: 6, A2: 7, B2: "=Above*10", C2: "=Beside+1", A3: "=Above" },
    '<definedName name="Above">A!A1048576</definedName><definedName name="Beside">A!$A1</definedName>'
  );
  // one row up, around the sheet's end; column A of the same row
  expect([value(book, "B2"), value(book, "C2"), value(book, "A3")]).toEqual([60, 8, 7]);
});

test("a name that reads like a cell's address is the name", async () => {
  const book = await plain(
    { A6: 5, B6: 6, C6: 7, E1: "=INDEX(Row6,3)" },
    '<definedName name="Row6">A!$A$6:$C$6</definedName>'
  );
  expect(value(book, "E1")).toBe(7);
});

test("SUBTOTAL leaves out rows a filter hides, AGGREGATE and 109 those a person hides too", async () => {
  const rows = [1, 2, 4, 8].map(
    (number, index) =>
      `<row r="${index + 2}"${[3, 5].includes(index + 2) ? ' hidden="1"' : ""}><c r="A${index + 2}"><v>${number}</v></c></row>`
  );
  const formulas =
    '<row r="7"><c r="C7"><f>SUBTOTAL(9,A2:A5)</f></c><c r="D7"><f>SUBTOTAL(109,A2:A5)</f></c>' +
    '<c r="E7"><f>AGGREGATE(9,5,A2:A5)</f></c><c r="F7"><f>SUM(A2:A5)</f></c>' +
    '<c r="G7"><f>SUBTOTAL(9,A2:A5,C7)</f></c></row>';
  const filter = (last: number): string =>
    `<autoFilter ref="A1:A${last}"><filterColumn colId="0"><filters><filter val="1"/></filters></filterColumn></autoFilter>`;
  const totals = async (after: string): Promise<unknown[]> => {
    const book = open(await rawSheet(rows.join("") + formulas, { after }));
    book.recalculate();
    return book.range("A", "C7:G7")[0]!;
  };
  // rows 3 and 5 hidden by hand; row 3 by a filter over rows 2 to 4
  expect(await totals("")).toEqual([15, 5, 5, 15, 15]);
  expect(await totals(filter(4))).toEqual([13, 5, 5, 15, 13]);
});

test("a name that stands for another workbook leaves its readers their saved values, counted", async () => {
  const bytes = await rawSheet(
    '<row r="1"><c r="A1"><f>Rate*2</f><v>7</v></c><c r="B1"><f>A1+1</f></c><c r="C1"><f>IF(TRUE,1,Rate)</f></c></row>'
  );
  const xml = partOf(bytes, "xl/workbook.xml").replace(
    "</sheets>",
    '</sheets><definedNames><definedName name="Rate">[1]Prices!$A$1</definedName></definedNames>'
  );
  const book = open(withParts(bytes, { "xl/workbook.xml": xml }));
  expect(book.recalculate()).toMatchObject({ errors: [], keptCount: 1 });
  expect(book.range("A", "A1:C1")[0]).toEqual([7, 8, 1]);
  expect(partOf(book.toBytes(), "xl/worksheets/sheet1.xml")).toContain("<f>Rate*2</f><v>7</v>");
});

test("whole columns count as many cells as they have", async () => {
  const book = await sheet({
    A1: "steel",
    A2: "wood",
    A3: "Steel",
    C1: "=ROWS(A:A)",
    C2: "=COUNTBLANK(A:A)",
    C3: '=COUNTIF(A:A,"")',
    C4: '=COUNTIF(A:A,"<>steel")',
    C5: '=COUNTIFS(A:A,"steel",B:B,"")',
    C6: "=COUNTA(A:A)",
  });
  expect(book.range("A", "C1:C6").flat()).toEqual([1048576, 1048573, 1048573, 1048574, 2, 3]);
});

test("ranges between references that functions give, unions, and sums over sheets that a text names", async () => {
  const book = open(
    await file({
      A: {
        A1: 1,
        A2: 2,
        A3: 4,
        C1: "=SUM(A1:INDEX(A1:A3,2))",
        C2: "=SUM(OFFSET(A1,1,0):A3)",
        C3: "=SUM((A1,A3))",
        C4: "=SUM(A1:A3 A2:B9)",
        C5: '=SUMPRODUCT(SUMIF(INDIRECT({"A","B"}&"!A1:A3"),">1"))',
        C6: "=SUMPRODUCT(SUBTOTAL(9,OFFSET(A1,{0;1;2},0)))",
        C7: "=SUM(A:B!A1)",
        C9: '=SUMPRODUCT(SUMIF(INDIRECT(ROW(INDIRECT("1:2"))&"st!A:A"),">1"))',
        C8: '=SUMIF(A1:A3,">1",B1)',
      },
      B: { A1: 10, A2: 20 },
      "1st": { A1: 5 },
      "2st": { A9: 7 },
    })
  );
  book.setCell("A", "B2", 100);
  book.setCell("A", "B3", 200);
  expect(book.recalculate().errors).toEqual([]);
  expect(book.range("A", "C1:C9").flat()).toEqual([3, 6, 5, 6, 36, 7, 11, 300, 12]);
});
