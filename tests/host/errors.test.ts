import { FormulaEvaluator, errorIn, type CellProblem } from "../../src/host/engine/index.js";
import { file, FUNCTIONS, open, sheet, value } from "./make.js";

describe("errors of formulas", () => {
  test("say which cell they come from, through other cells and sheets", async () => {
    const book = open(
      await file({
        Walls: { B2: '=SHEATH.DOUBLE("x")', C2: "=B2*2", D2: "=SUM(C2:C9)" },
        Order: { A1: "=Walls!D2", A2: "=SHEATH.DOUBLE(A1)", A3: "=SHEATH.TOTAL(Walls!A1:D9)" },
      })
    );
    const { errors } = book.recalculate();
    const why = 'from Walls!B2: number must be a number; got "x"';
    expect(errors.map(({ sheet: name, cell, message }) => [`${name}!${cell}`, message])).toEqual([
      ["Walls!B2", 'number must be a number; got "x"'],
      ["Walls!C2", why],
      ["Walls!D2", why],
      ["Order!A1", why],
      ["Order!A2", why],
      ["Order!A3", why],
    ]);
  });

  test("a typed error constant in a range is named by its place", async () => {
    const book = await sheet({ A1: { error: "#N/A" }, B1: "=SHEATH.TOTAL(A1:A2)", B2: "=A1+1" });
    expect(value(book, "B1")).toMatchObject({
      error: "#N/A",
      message: "cells holds #N/A in row 1, column 1",
    });
    expect(value(book, "B2")).toEqual({ error: "#N/A", message: "from A!A1" });
    // A constant is no formula that failed.
    expect(book.recalculate().errors.map((each) => each.cell)).toEqual(["B1", "B2"]);
  });

  test("a caught error is no problem", async () => {
    const book = await sheet({
      A1: '=IFERROR(SHEATH.DOUBLE("x"),"none")',
      A2: "=ISNA(SHEATH.COUNT_UP(0))",
    });
    expect(book.recalculate().errors).toEqual([]);
    expect([value(book, "A1"), value(book, "A2")]).toEqual(["none", true]);
  });

  test("built-in errors get a reason in words", async () => {
    const book = await sheet({
      A1: "=1/0",
      A2: "=SQRT(-1)",
      A3: '="a"+1',
      A4: "=NA()",
      A5: "=B1:B2 C1:C2",
    });
    const reasons = book
      .recalculate()
      .errors.map(({ code, message }: CellProblem) => [code, message]);
    expect(reasons.map(([code]) => code)).toEqual([
      "#DIV/0!",
      "#NUM!",
      "#VALUE!",
      "#N/A",
      "#NULL!",
    ]);
    for (const [, message] of reasons) expect(message).not.toBe("");
  });

  test("a misspelled function of ours is suggested", async () => {
    const book = await sheet({
      A1: "=SHEATH.DUOBLE(1)",
      A2: "=SHEATH.NOTHING_LIKE_IT(1)",
      A3: "=DOUBLE(1)",
    });
    expect(book.recalculate().errors.map((each) => each.message)).toEqual([
      "there is no function called SHEATH.DUOBLE; did you mean SHEATH.DOUBLE?",
      "there is no function called SHEATH.NOTHING_LIKE_IT",
      "there is no function called DOUBLE; did you mean SHEATH.DOUBLE?",
    ]);
  });

  test("too many arguments are an error, not ignored", async () => {
    const book = await sheet({ A1: "=SHEATH.DOUBLE(1,2)" });
    expect(value(book, "A1")).toMatchObject({ message: "DOUBLE takes at most 1 argument; got 2" });
  });

  test("answers no cell can hold are internal errors", async () => {
    const evaluator = new FormulaEvaluator(FUNCTIONS);
    for (const what of ["not a number", "infinite", "an object", "ragged", "no rows", "a list"]) {
      expect(evaluator.evaluate(`SHEATH.GIVE("${what}")`)).toMatchObject({
        error: "#VALUE!",
        message: expect.stringMatching(/^internal error: /),
      });
    }
    expect(Object.is(evaluator.evaluate('SHEATH.GIVE("minus zero")'), 0)).toBe(true);
    expect(evaluator.evaluate('SHEATH.GIVE("nothing")')).toBe("");
  });

  test("ranges of one cell and single values fit the argument they meet", () => {
    const evaluator = new FormulaEvaluator(FUNCTIONS);
    expect(evaluator.evaluate("SHEATH.SHOW_MATRIX(5)")).toBe("[[5]]");
    expect(evaluator.evaluate("SHEATH.SHOW_MATRIX({1,2})")).toBe("[[1,2]]");
    expect(evaluator.evaluate("SHEATH.SHOW_MATRIX()")).toBe("null");
    expect(evaluator.evaluate("SHEATH.SHOW_ONE({5})")).toBe("5");
    expect(evaluator.evaluate("SHEATH.SHOW_ONE({5,6})")).toBe("[[5,6]]");
  });

  test("the same error seen twice names the same cell (no state is left in kept answers)", async () => {
    const book = await sheet({ A1: '=SHEATH.DOUBLE("x")', A2: '=SHEATH.DOUBLE("x")', A3: "=A2" });
    expect(value(book, "A3")).toMatchObject({ message: expect.stringMatching(/^from A!A2: /) });
  });
});

describe("FormulaEvaluator", () => {
  const evaluator = new FormulaEvaluator(FUNCTIONS);
  test("formulas do not disturb each other", () => {
    const answers = evaluator.evaluateAll([
      "SUM(1",
      "=1+1",
      "SHEATH.COUNT_UP(2)",
      "A1",
      "1/0",
      "",
      "==",
    ]);
    expect(answers[1]).toBe(2);
    expect(answers[2]).toEqual([
      [1, "row 1"],
      [2, "row 2"],
    ]);
    expect(answers[3]).toBe(0);
    expect([0, 4, 5, 6].map((index) => errorIn(answers[index]!)?.error)).toEqual([
      "#NAME?",
      "#DIV/0!",
      "#NAME?",
      "#NAME?",
    ]);
  });
  test("errorIn finds an error inside a table", () => {
    expect(errorIn(evaluator.evaluate("{1,#N/A}"))).toMatchObject({ error: "#N/A" });
    expect(errorIn(evaluator.evaluate("{1,2}"))).toBeUndefined();
  });
  test("twelve thousand formulas at once", () => {
    const answers = evaluator.evaluateAll(
      Array.from({ length: 12000 }, (_, i) => `SHEATH.DOUBLE(${i})`)
    );
    expect(answers[11999]).toBe(23998);
  });
});

describe("Workbook.evaluate", () => {
  test("answers as if the formula stood on a sheet, and leaves the workbook as it was", async () => {
    const book = await sheet({ A1: 2, B1: "=SHEATH.COUNT_UP(A1)" });
    const before = book.toBytes();
    expect(book.evaluate("=SUM(B1#)+A1")).toBe(5);
    expect(book.evaluate("SHEATH.COUNT_UP(A1)", "A")).toEqual([
      [1, "row 1"],
      [2, "row 2"],
    ]);
    expect(book.evaluate("SUM(")).toMatchObject({ error: "#NAME?" });
    expect(Buffer.from(book.toBytes()).equals(Buffer.from(before))).toBe(true);
  });
});
