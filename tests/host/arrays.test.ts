/** Functions of one value over tables, ranges of one cell, and numbers no cell can hold. */
import { FormulaEvaluator } from "../../src/host/engine/index.js";
import { builtIn } from "../../src/host/engine/builtin.js";
import { open, partOf, rawSheet, sheet, value } from "./make.js";

const evaluator = new FormulaEvaluator([]);
const come = (formula: string): unknown => evaluator.evaluate(formula);

describe("a function of one value answers a table with a table", () => {
  // worked by hand
  const cases: [formula: string, value: unknown][] = [
    ['SUMPRODUCT(LEN({"ab","cde";"f","gg"}))', 8],
    ['SUMPRODUCT(--ISNUMBER(SEARCH("st",{"west","east","north"})))', 2],
    ["ABS({-1,2;3,-4})", [[1, 2], [3, 4]]], // prettier-ignore
    ["POWER({1,2,3},{1;2})", [[1, 2, 3], [1, 4, 9]]], // prettier-ignore
    ['LEFT({"wall","roof"},{1,2})', [["w", "ro"]]],
    ['SUBSTITUTE({"a-b","c-d"},"-","")', [["ab", "cd"]]],
    ['VALUE({"1","2.5"})', [[1, 2.5]]],
    ['TEXT({1.5,2},"0.00")', [["1.50", "2.00"]]],
    ["YEAR({44000,45000})", [[2020, 2023]]],
    ["EDATE({44000,45000},1)", [[44030, 45031]]],
    ["MATCH({3,1},{1,2,3},0)", [[3, 1]]],
    ['VLOOKUP({"b","a"},{"a",1;"b",2},2,FALSE)', [[2, 1]]],
    ["XLOOKUP({2,1},{1,2},{10,20})", [[20, 10]]],
    ["COUNTIF({1,2,2},{1,2})", [[1, 2]]],
    ["SUMIF({1,2,2},{1,2})", [[1, 4]]],
    ["LARGE({1,5,3},{1,3})", [[5, 1]]],
    ["ROUNDUP({1.2,2.2},0)", [[2, 3]]],
    ["NOT({TRUE,FALSE})", [[false, true]]],
    ['HYPERLINK({"a","b"})', [["a", "b"]]],
    ["IF({TRUE;FALSE},{1,2},0)", [[1, 2], [0, 0]]], // prettier-ignore
    ["IFERROR({1,#N/A},{7,8})", [[1, 8]]],
    ['CHOOSE({1,2,1},"a","b")', [["a", "b", "a"]]],
    ['SWITCH({1,2,3},1,"one",2,"two","more")', [["one", "two", "more"]]],
    ["IFS({TRUE,FALSE},1,TRUE,2)", [[1, 2]]],
    ["INDEX({5,6,7},2)", 6],
    ["INDEX({5,6,7},1,{1,3})", [[5, 7]]],
    ["INDEX({5;6;7},{3;1})", [[7], [5]]],
    ["--({1,2}=1)", [[1, 0]]],
    ["{1,2}%", [[0.01, 0.02]]],
    ["SUM({1,2,3}*{1;10})", 66],
    ["{1,2,3}+{1,2}", [[2, 4, { error: "#N/A" }]]],
    ['TEXTJOIN(",",TRUE,{"a","b"}&"x")', "ax,bx"],
    ["PMT({0,0},10,100)", [[-10, -10]]],
    ["N({1,2})", [[1, 2]]],
  ];
  test.each(cases)("%s", (formula, expected) => {
    const answer = come(formula);
    expect(Array.isArray(expected) ? answer : [answer]).toMatchObject(
      Array.isArray(expected) ? expected : [expected]
    );
  });

  test("INDEX of one row through a name, and past its end", async () => {
    const book = await sheet(
      { A1: 5, B1: 6, C1: 7, E1: "=INDEX(Row,3)", E2: "=INDEX(Row,4)" },
      (library) => library.definedNames.add("A!$A$1:$C$1", "Row")
    );
    expect(value(book, "E1")).toBe(7);
    expect(value(book, "E2")).toMatchObject({ error: "#REF!" });
  });

  test("AND and OR pass over text in cells and answer without it", async () => {
    const book = await sheet({
      A1: true,
      A2: "text",
      A3: 1,
      B1: "=AND(A1:A3)",
      B2: "=OR(A2,A3)",
      B3: "=AND(A2)",
    });
    expect([value(book, "B1"), value(book, "B2")]).toEqual([true, true]);
    expect(value(book, "B3")).toMatchObject({ error: "#VALUE!" });
  });
});

test("ranges of one cell are ranges, tables of one row are tables", async () => {
  const formulas: [string, unknown][] = [
    ['=COUNTIF(A2,"x")', 1],
    ['=SUMIF(A2,"x",B2)', 5],
    ['=SUMIFS(B2,A2,"x")', 5],
    ['=COUNTIFS(One[Wall],"x")', 1],
    ['=AVERAGEIF(One[Wall],"x",One[Length])', 5],
    ['=MATCH("x",One[Wall],0)', 1],
    ["=INDEX(One[Length],1)", 5],
    ['=VLOOKUP("x",One,2,FALSE)', 5],
    ['=XLOOKUP("x",One[Wall],One[Length])', 5],
    ['=LOOKUP("x",A2:A2,B2:B2)', 5],
    ["=LARGE(One[Length],1)", 5],
    ["=RANK(5,One[Length])", 1],
    ['=MAXIFS(One[Length],One[Wall],"x")', 5],
    ['=SUMPRODUCT((One[Wall]="x")*One[Length])', 5],
    ['=INDEX(One,1,MATCH("Length",One[#Headers],0))', 5],
    ['=FILTER(One[Length],One[Wall]="x")', 5],
    ["=COUNTBLANK(A2)", 0],
    ["=SUM(A3)", 0],
  ];
  const cells = Object.fromEntries(formulas.map(([text], index) => [`D${index + 1}`, text]));
  const book = await sheet({ ...cells, A3: "7" }, (library) =>
    library.getWorksheet("A")!.addTable({
      name: "One",
      ref: "A1",
      columns: [{ name: "Wall" }, { name: "Length" }],
      rows: [["x", 5]],
    })
  );
  formulas.forEach(([text, expected], index) => {
    expect([text, value(book, `D${index + 1}`)]).toEqual([text, expected]);
  });
});

test("infinity and what is no number are #NUM!, in cells and in the file", async () => {
  const formulas = [
    "=FV(0,1E308,1E308)",
    "=SUM({1E308,1E308})",
    "=PRODUCT(1E200,1E200)",
    "=MMULT({1E200},{1E200})",
    "=SUMSQ(1E200)",
    "=1E308*10",
    "=-1E308-1E308",
    "=FISHERINV(1000)*1E308*10",
    "=GAMMA(171.7)",
  ];
  const cells = Object.fromEntries(formulas.map((text, index) => [`A${index + 1}`, text]));
  const book = await sheet(cells);
  formulas.forEach((text, index) => {
    expect([text, value(book, `A${index + 1}`)]).toMatchObject([text, { error: "#NUM!" }]);
  });
  const xml = partOf(book.toBytes(), "xl/worksheets/sheet1.xml");
  expect(xml).not.toMatch(/Infinity|NaN/);
  expect(xml.match(/t="e"[^>]*>.*?<v>#NUM!<\/v>/g)?.length).toBe(formulas.length);
});

test("an empty formula element keeps its value, alone and under an array formula", async () => {
  const book = open(
    await rawSheet(
      '<row r="1"><c r="A1"><v>1</v></c><c r="B1"><f t="array" ref="B1:B2">A1:A2*10</f><v>0</v></c></row>' +
        '<row r="2"><c r="A2"><v>2</v></c><c r="B2"><f ca="1"/><v>7</v></c><c r="C2"><f ca="1"/><v>9</v></c></row>'
    )
  );
  expect(book.recalculate().errors).toEqual([]);
  expect(book.range("A", "B1:C2")).toEqual([
    [10, null],
    [20, 9],
  ]);
});

test("the library's function bodies are found where they are taken from, and behave as is relied on", () => {
  for (const name of [
    "SUM",
    "VLOOKUP",
    "XLOOKUP",
    "NORM.DIST",
    "SUBTOTAL",
    "AGGREGATE",
    "COUNTIFS",
  ]) {
    expect([name, typeof builtIn(name)?.invoke]).toEqual([name, "function"]);
  }
  expect(builtIn("NO.SUCH.FUNCTION")).toBeUndefined();
  expect(builtIn("LEN")!.invoke([{ kind: 2, value: "abc" }])).toEqual({ kind: 1, value: 3 });
});
