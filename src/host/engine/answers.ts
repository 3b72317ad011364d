/** What a formula came to, as one value or the rows of a table. */
import type { CellState } from "./model.js";
import { isCellError, type CellErrorValue, type CellValue } from "./values.js";

export type FormulaAnswer = CellValue | CellValue[][];

/** The answer a calculated formula shows in its own cell and the cells it fills. */
export function answerOf({ value, spill, sheet }: CellState): FormulaAnswer {
  if (!spill) return value;
  const rows: CellValue[][] = [];
  for (let row = spill.top; row <= spill.bottom; row++) {
    const values: CellValue[] = [];
    for (let column = spill.left; column <= spill.right; column++) {
      values.push(sheet.find(row, column)?.value ?? null);
    }
    rows.push(values);
  }
  return rows;
}

/** The first error of an answer, if there is one. */
export function errorIn(answer: FormulaAnswer): CellErrorValue | undefined {
  if (!Array.isArray(answer)) return isCellError(answer) ? answer : undefined;
  for (const row of answer) {
    const found = row.find(isCellError);
    if (found) return found;
  }
  return undefined;
}
