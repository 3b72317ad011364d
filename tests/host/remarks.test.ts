/** A native sum passes over lengths that are text; that is said beside it. */
import fs from "node:fs";
import path from "node:path";
import { openWorkbook } from "../../src/host/engine/index.js";

const template = new Uint8Array(
  fs.readFileSync(path.resolve(__dirname, "../../sample-workbooks/house-template.xlsx"))
);

function remarksFor(cells: Readonly<Record<string, string | number>>): string[] {
  const book = openWorkbook(template, []);
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
