/** One table of answers, every host: the functions as they are and in the embedded engine. */
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { FormulaEvaluator, errorIn } from "../../src/host/engine/index.js";
import {
  type Argument,
  type Outcome,
  disagreements,
  formulaOf,
  goldenRows,
  problemsOf,
  titleOf,
} from "./golden.js";

const rows = goldenRows();

describe("the golden table", () => {
  test("has an answer and an error for every worksheet function", () => {
    const names = worksheetFunctions.map((each) => each.name);
    expect(names.length).toBeGreaterThan(40);
    const answered = new Set(rows.filter((row) => !row.error).map((row) => row.function));
    expect(names.filter((name) => !answered.has(name))).toEqual([]);
    const failed = new Set(rows.filter((row) => row.error).map((row) => row.function));
    const never = ["VERSION", "HOUSE_SETTINGS"]; // they take nothing
    expect(names.filter((name) => !failed.has(name) && !never.includes(name))).toEqual([]);
  });

  test("says of every answer how it is known, and of every error what its message names", () => {
    expect(rows.filter((row) => !(row.error ? row.says : row.why)).map(titleOf)).toEqual([]);
  });

  test("tells a wrong number, a wrong cell, a wrong size and a wrong error from right ones", () => {
    const number = { function: "A", arguments: [], result: 2, why: "" };
    expect(problemsOf(number, { value: 2 + 1e-10 })).toEqual([]);
    expect(problemsOf(number, { value: 2.001 })).toHaveLength(1);
    expect(problemsOf(number, { value: "2" })).toHaveLength(1);
    expect(problemsOf(number, { error: "#VALUE!" })).toHaveLength(1);
    const table = { function: "A", arguments: [], result: [["a", 1]], why: "" };
    expect(problemsOf(table, { value: [["a", 1]] })).toEqual([]);
    expect(problemsOf(table, { value: [["a", 2]] })).toHaveLength(1);
    expect(problemsOf(table, { value: [["a", 1], []] })).toHaveLength(1);
    const error = { function: "A", arguments: [], error: "#N/A", says: "zone" } as const;
    expect(problemsOf(error, { error: "#N/A", message: "zone 2 has no row" })).toEqual([]);
    expect(problemsOf(error, { error: "#VALUE!", message: "zone" })).toHaveLength(1);
    expect(problemsOf(error, { error: "#N/A", message: "row" })).toHaveLength(1);
    expect(problemsOf(error, { value: 1 })).toHaveLength(1);
  });
});

function attempt(work: () => unknown): Outcome {
  try {
    return { value: work() };
  } catch (error) {
    const { name, code, message } = error as { name: string; code: string; message: string };
    if (name !== "CellError") throw error;
    return { error: code, message };
  }
}

describe("every host agrees with it:", () => {
  test(`the worksheet functions, ${rows.length} rows`, () => {
    const byName = new Map(worksheetFunctions.map((each) => [each.name, each]));
    const call = (name: string, args: readonly Argument[]): Outcome =>
      attempt(() => byName.get(name)?.call(...args));
    expect(disagreements(call)).toEqual([]);
  });

  test(`the embedded engine, ${rows.length} rows`, () => {
    const evaluator = new FormulaEvaluator(worksheetFunctions);
    const answers = evaluator.evaluateAll(rows.map(formulaOf));
    const wrong = rows.flatMap((row, index) => {
      const answer = answers[index] as (typeof answers)[number];
      const failed = errorIn(answer);
      const outcome: Outcome = failed
        ? { error: failed.error, message: failed.message ?? "" }
        : { value: answer };
      return problemsOf(row, outcome).map((each) => `${titleOf(row)}: ${each}`);
    });
    expect(wrong).toEqual([]);
  });
});
