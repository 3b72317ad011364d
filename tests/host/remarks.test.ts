/** A native sum passes over lengths that are text; that is said beside it. */
import fs from "node:fs";
import path from "node:path";
import { FormulaEvaluator, openWorkbook } from "../../src/host/engine/index.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";

const template = new Uint8Array(
  fs.readFileSync(path.resolve(__dirname, "../../sample-workbooks/house-template.xlsx"))
);

function remarksFor(cells: Readonly<Record<string, string | number>>): string[] {
  const book = openWorkbook(template, worksheetFunctions);
  for (const [address, content] of Object.entries(cells)) book.setCell("Cuts", address, content);
  book.recalculate();
  return book
    .remarks()
    .filter(({ cell }) => cell in cells)
    .map(({ sheet, cell, message }) => `${sheet}!${cell}: ${message}`);
}

test("a sum over lengths that are text names the first of them and what adds them", () => {
  expect(remarksFor({ X1: "24'", X2: "6'6", X3: 12, X5: "=SUM(X1:X3)" })).toEqual([
    "Cuts!X5: SUM leaves out 2 cells that hold lengths as text, the first of them X1 (24'); SHEATH.TOTAL_LENGTH adds such cells",
  ]);
  expect(remarksFor({ X1: "1-7/8", X2: 3, X5: "=ROUND(MAX(X1:X2),1)" })).toEqual([
    "Cuts!X5: MAX leaves out X1, which holds a length as text (1-7/8); SHEATH.TOTAL_LENGTH adds such cells",
  ]);
});

test("a sum over numbers, blanks and words says nothing, nor does what stands beside it", () => {
  expect(remarksFor({ X1: 24, X2: "Length", X5: "=SUM(X1:X3)" })).toEqual([]);
  expect(remarksFor({ X1: "24'", X2: 3, X5: "=SUM(X2:X3)&X1" })).toEqual([]);
  expect(remarksFor({ X1: "24'", X5: "=SHEATH.SUM(X1)" })).toEqual([]);
});

test("a slip in the arguments of a function is said beside its answer, which stays as it is", () => {
  expect(remarksFor({ X1: `=SHEATH.TAPE_FEET(24,8,"1-7/8")` })).toEqual([
    "Cuts!X1: 24 and 8 look like feet and are taken as inches: did you mean 24' and 8'?",
  ]);
  expect(remarksFor({ X1: 24, X2: `=SHEATH.RUN_LENGTH(X1,"1-7/8")+1` })).toEqual([
    "Cuts!X2: 24 looks like feet and is taken as inches: did you mean 24'?",
  ]);
  expect(remarksFor({ X1: `=SHEATH.NAIL_LENGTH("1-1/4","5/8")` })).toEqual([
    `Cuts!X1: 5/8 is a thickness, not a penetration: did you mean NAIL_LENGTH(PANEL_THICKNESS("1-1/4", "5/8"))?`,
  ]);
  expect(remarksFor({ X1: `=SHEATH.CORNER_OFFSET("5/8","1-1/4")` })).toEqual([
    "Cuts!X1: panel is thicker than foam: are the two in each other's place?",
  ]);
  const book = openWorkbook(template, worksheetFunctions);
  book.setCell("Cuts", "X1", `=SHEATH.NAIL_LENGTH("1-1/4","5/8")`);
  book.recalculate();
  expect(book.cell("Cuts", "X1").value).toBe(1.875);
});

test("nothing is said where feet are marked, a size is usual, or there is no answer", () => {
  expect(remarksFor({ X1: `=SHEATH.TAPE_FEET("24'","8'","1-7/8")` })).toEqual([]);
  expect(remarksFor({ X1: `=SHEATH.TAPE_FEET(288,96,"1-7/8")` })).toEqual([]);
  expect(remarksFor({ X1: `=SHEATH.NAIL_LENGTH("1-7/8")` })).toEqual([]);
  expect(remarksFor({ X1: `=SHEATH.NAIL_LENGTH("1-7/8",1.5)` })).toEqual([]);
  expect(remarksFor({ X1: `=SHEATH.TAPE_FEET(24,8,0)` })).toEqual([]);
});

test.each([
  ["PANELS", "SHEATH.PANELS_PER_WALL"],
  ["TAPE", "SHEATH.TAPE_FEET"],
  ["SHEATH.NAILLENGTH", "SHEATH.NAIL_LENGTH"],
])("a name that is nearly one of ours names it: %s", (typed, meant) => {
  const answer = new FormulaEvaluator(worksheetFunctions).evaluate(`=${typed}(1)`);
  expect(answer).toMatchObject({ error: "#NAME?" });
  expect((answer as { message: string }).message).toContain(`did you mean ${meant}?`);
});
