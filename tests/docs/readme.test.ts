/** The README's worked corner: every formula in its table comes to the answer beside it, which is worked by hand. */
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { FormulaEvaluator } from "../../src/host/engine/index.js";

const README = fs.readFileSync(path.resolve(__dirname, "../../README.md"), "utf8");
const rows = [...README.matchAll(/^\| `(=SHEATH\.[^`]+)` +\| ([^|]+?) +\|/gm)].map(
  ([, formula = "", answer = ""]) => ({ formula, answer })
);
const evaluator = new FormulaEvaluator(worksheetFunctions);

test("the table has its formulas", () => {
  expect(rows.length).toBeGreaterThanOrEqual(8);
});

test.each(rows.filter(({ answer }) => answer !== "a table"))(
  "$formula comes to $answer",
  ({ formula, answer }) => {
    expect([evaluator.evaluate(formula)].flat(2)).toEqual(answer.split(", ").map(Number));
  }
);

test("the first mark stands 13-3/8 from the framing corner", () => {
  const { formula = "" } = rows.find(({ answer }) => answer === "a table") ?? {};
  // 15-1/4 - 1-7/8, the second row below the header: the first is the end stud
  expect(evaluator.evaluate(`=INDEX(${formula.slice(1)}, 3, 3)`)).toBe(13.375);
});
