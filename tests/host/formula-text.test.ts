import fc from "fast-check";
import {
  FormulaSyntaxError,
  parseFormula,
  shiftFormula,
  walkFormula,
  writeFormula,
  type FormulaNode,
} from "../../src/host/engine/formula.js";

const kinds = (formula: string): string[] => {
  const list: string[] = [];
  walkFormula(parseFormula(formula), (node) => list.push(node.kind));
  return list;
};
const references = (formula: string): string[] => {
  const list: string[] = [];
  walkFormula(parseFormula(formula), (node: FormulaNode) => {
    if (node.kind === "reference") list.push(formula.slice(node.start, node.end));
  });
  return list;
};

const GOOD = [
  "1",
  "-2^2",
  "50%%",
  "1E3+.5",
  '"a ""b"" c"&A1',
  "A1",
  "$A$1:B$2",
  "A:C",
  "$3:7",
  "'My Sheet'!A1",
  "'It''s'!A1:B2",
  "First:Last!A1",
  "Sheet1!$A:$A",
  "SUM(A1,,B2)",
  "SUM((A1,B1))",
  "SUM(A1:A3 A2:B2)",
  "A1:INDEX(B:B,3)",
  "IF(A1>=1,TRUE,false)",
  '{1,"x";#N/A,-1}',
  "Walls[Length]",
  "Walls[@Length]",
  "Walls[[#Headers],[Length (in)]:[Height]]",
  "[@Length]*2",
  "D2#",
  "Order!D2#",
  "@A1:A3",
  "LET(a,1,a+1)",
  "_xlfn._xlws.FILTER(A1:A3,B1:B3=1)",
  "[1]Other!A1+1",
  "'[Other book.xlsx]Sheet 1'!A1",
  "#REF!+1",
  "Sheet1!#REF!",
  " 1 + 2 ",
  "LOG10(100)",
  "Ständer*2",
  "A1=B1=C1",
  "A1&B1&C1",
  "(A1:A3,B1:B2)",
  "NOT(TRUE)",
  "A1\n+\nB1",
];

const BAD: [formula: string, says: RegExp][] = [
  ["", /missing at the end/],
  ["1+", /missing at the end/],
  ["SUM(1", /closing \)/],
  ["SUM(1))", /\) is not expected/],
  ["1 2", /2 is not expected/],
  ['"x', /no closing quote/],
  ["'Sheet!A1", /no closing quote/],
  ["Walls[Length", /no closing \]/],
  ["2~", /~ cannot stand here/],
  ["{1,2;3}", /differ in length/],
  ["{A1}", /plain values only/],
  ["A1 B1 5", /5 is not expected/],
  ["=1", /missing before =/],
  ["1=", /missing at the end/],
  ["$A", /not a cell/],
  ["Sheet1!", /a cell is missing/],
  ["Sheet1!SUM(1)", /cannot belong/],
  ["1:", /missing at the end/],
  ["0:5", /not a cell/],
  ["#", /no spilled cell|# stands/],
  ["'x'", /not a value/],
  ["*2", /a value is missing/],
  ["SUM(1;2)", /separate arguments with commas here, not with ;/],
];

describe("parseFormula", () => {
  test.each(GOOD)("reads %p and can write it back unchanged", (formula) => {
    const tree = parseFormula(formula);
    expect(writeFormula(formula, tree, () => undefined)).toBe(formula.slice(tree.start, tree.end));
  });

  test.each(BAD)("refuses %p and says why", (formula, says) => {
    expect(() => parseFormula(formula)).toThrow(FormulaSyntaxError);
    expect(() => parseFormula(formula)).toThrow(says);
  });

  test("finds every reference, and none inside text, names or functions", () => {
    expect(references('SUM(A1,Sheet1!B2:C3)+LOG10(D4)&"E5"+Walls[F6]')).toEqual([
      "A1",
      "Sheet1!B2:C3",
      "D4",
    ]);
  });

  test("tells comparisons, joined text and arithmetic apart", () => {
    expect(kinds("A1+1=B1&C1")[0]).toBe("comparison");
    expect(kinds("A1+1&C1")[0]).toBe("joined");
    expect(kinds("A1+1")[0]).toBe("run");
    expect(kinds("A1")).toEqual(["reference"]);
  });

  test("a formula nested beyond reason is refused instead of breaking the program", () => {
    const deep = "(".repeat(5000) + "1" + ")".repeat(5000);
    expect(() => parseFormula(deep)).toThrow(/nested too deep/);
  });

  test("any text is either read or refused with a message", () => {
    const piece = fc.constantFrom(
      ..."A1 B2:C3 SUM( ) , ; { } + - * / ^ & = <> < \" ' ! # @ % [ ] Walls[x] 1 .5 TRUE Sheet1! $ : _x é ~".split(
        " "
      )
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 12 }), (pieces) => {
        try {
          const text = pieces.join("");
          const tree = parseFormula(text);
          expect(tree.end).toBeLessThanOrEqual(text.length);
        } catch (error) {
          expect(error).toBeInstanceOf(FormulaSyntaxError);
        }
      }),
      { seed: 20261125, numRuns: 2000 }
    );
  });
});

describe("shiftFormula", () => {
  test("moves relative references and leaves marked ones", () => {
    expect(shiftFormula("A1+$B$2+C$3+$D4", 1, 1)).toBe("B2+$B$2+D$3+$D5");
    expect(shiftFormula("SUM(A1:A3)*Sheet1!B2", 2, 0)).toBe("SUM(A3:A5)*Sheet1!B4");
    expect(shiftFormula("SUM(A:A)+SUM(1:2)+SUM($1:2)", 1, 1)).toBe("SUM(B:B)+SUM(2:3)+SUM($1:3)");
    expect(shiftFormula('"A1"&LOG10(A1)&Walls[A1]', 1, 0)).toBe('"A1"&LOG10(A2)&Walls[A1]');
  });
  test("a reference that would leave the sheet is #REF!", () => {
    expect(shiftFormula("A1", -1, 0)).toBe("#REF!");
    expect(shiftFormula("XFD1", 0, 1)).toBe("#REF!");
  });
});
