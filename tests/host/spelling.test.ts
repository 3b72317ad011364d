import { storedFormula, typedFormula } from "../../src/host/engine/index.js";

const functions = new Set(["CORNER_OFFSET", "STUD_MARKS"]);
const toFile = (typed: string, ownTable?: string): string =>
  storedFormula(typed, { namespace: "SHEATH", functions, ownTable });

/** Typed text and what the file holds (published list of future functions; public reports of saved files). */
const PAIRS: [typed: string, stored: string][] = [
  ['SHEATH.CORNER_OFFSET("1-1/4","5/8")', '_xldudf_SHEATH_CORNER_OFFSET("1-1/4","5/8")'],
  ["1+SHEATH.CORNER_OFFSET(A1,B1)*2", "1+_xldudf_SHEATH_CORNER_OFFSET(A1,B1)*2"],
  ["XLOOKUP(1,A:A,B:B)", "_xlfn.XLOOKUP(1,A:A,B:B)"],
  ["FILTER(A1:A3,B1:B3=1)", "_xlfn._xlws.FILTER(A1:A3,B1:B3=1)"],
  ["SORT(UNIQUE(A1:A9))", "_xlfn._xlws.SORT(_xlfn.UNIQUE(A1:A9))"],
  ["LET(a,1,b,a+1,a*b)", "_xlfn.LET(_xlpm.a,1,_xlpm.b,_xlpm.a+1,_xlpm.a*_xlpm.b)"],
  ["MAP(A1:A3,LAMBDA(x,x+1))", "_xlfn.MAP(A1:A3,_xlfn.LAMBDA(_xlpm.x,_xlpm.x+1))"],
  ["SUM(D2#)", "SUM(_xlfn.ANCHORARRAY(D2))"],
  ["Order!A3#", "_xlfn.ANCHORARRAY(Order!A3)"],
  ["@A1:A3", "_xlfn.SINGLE(A1:A3)"],
  ["CEILING.MATH(A1)+CEILING(A1,1)", "_xlfn.CEILING.MATH(A1)+CEILING(A1,1)"],
  ["SUM(A1:A3)", "SUM(A1:A3)"],
];

describe("formulas as typed and as stored", () => {
  test.each(PAIRS)("%s is stored as %s", (typed, stored) => {
    expect(toFile(typed)).toBe(stored);
    expect(typedFormula(stored, "SHEATH")).toBe(typed);
  });

  test("a stray workbook number before an add-in function is dropped", () => {
    expect(typedFormula("[2]!_xldudf_SHEATH_STUD_MARKS(A1)", "SHEATH")).toBe(
      "SHEATH.STUD_MARKS(A1)"
    );
  });

  test("any case of the stored prefix is read", () => {
    expect(typedFormula("_XLDUDF_SHEATH_stud_marks(A1)", "SHEATH")).toBe("SHEATH.STUD_MARKS(A1)");
  });

  test("what stands in text or brackets is left alone", () => {
    const text = '"_xldudf_SHEATH_STUD_MARKS(1)"&Walls[SHEATH.STUD_MARKS(1)]';
    expect(typedFormula(text, "SHEATH")).toBe(text);
    expect(toFile('"XLOOKUP(1) SHEATH.STUD_MARKS(1)"')).toBe('"XLOOKUP(1) SHEATH.STUD_MARKS(1)"');
  });

  test("functions of other add-ins keep their names", () => {
    expect(toFile("OTHER.THING(1)")).toBe("OTHER.THING(1)");
    expect(typedFormula("_xldudf_OTHER_THING(1)", "SHEATH")).toBe("_xldudf_OTHER_THING(1)");
  });

  test("a function of our namespace that does not exist keeps its name", () => {
    expect(toFile("SHEATH.NOT_THERE(1)")).toBe("SHEATH.NOT_THERE(1)");
  });

  test("references to a table's own row are stored in the long form", () => {
    expect(toFile("Walls[@Length]")).toBe("Walls[[#This Row],[Length]]");
    expect(toFile("Walls[@[Length (in)]]")).toBe("Walls[[#This Row],[Length (in)]]");
    expect(toFile("Walls[@[A]:[B]]")).toBe("Walls[[#This Row],[A]:[B]]");
    expect(toFile("[@Length]*2", "Walls")).toBe("Walls[[#This Row],[Length]]*2");
    expect(toFile("Walls[Length]")).toBe("Walls[Length]");
  });

  test("text that is no formula comes back as it was", () => {
    expect(toFile("SUM(")).toBe("SUM(");
    expect(typedFormula("_xlfn.SUM(", "SHEATH")).toBe("_xlfn.SUM(");
  });
});
