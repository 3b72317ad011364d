/** Evaluates single formulas that belong to no workbook. */
import { Calculator } from "./calculate.js";
import { FunctionSet } from "./functions.js";
import { BookState, SheetState } from "./model.js";
import { typedFormula } from "./spelling.js";
import {
  isCellError,
  type CellErrorValue,
  type CellValue,
  type WorksheetFunction,
} from "./values.js";
import { NAMESPACE } from "./workbook.js";

/** One value, the rows of a table, or an error. */
export type FormulaAnswer = CellValue | CellValue[][];

export class FormulaEvaluator {
  private readonly functions: FunctionSet;

  constructor(functions: readonly WorksheetFunction[]) {
    this.functions = new FunctionSet(NAMESPACE, functions);
  }

  evaluate(formula: string): FormulaAnswer {
    return this.evaluateAll([formula])[0] as FormulaAnswer;
  }

  /** Each formula in a cell and sheet of its own, so that none can disturb another. */
  evaluateAll(formulas: readonly string[]): FormulaAnswer[] {
    const book = new BookState();
    const cells = formulas.map((formula, index) => {
      const sheet = new SheetState(`Formula ${index + 1}`, index);
      book.sheets.push(sheet);
      // Far from A1, so that a formula naming cells finds them empty instead of itself.
      const cell = sheet.at(FORMULA_ROW, FORMULA_COLUMN);
      const text = formula.trim().replace(/^=/, "").trim();
      cell.formula = { typed: typedFormula(text, NAMESPACE), mode: "dynamic" };
      return cell;
    });
    new Calculator(book, this.functions).calculate();
    return cells.map((cell) => {
      const { value, spill, sheet } = cell;
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
    });
  }
}

const FORMULA_ROW = 1001;
const FORMULA_COLUMN = 1001;

/** The first error of an answer, if there is one. */
export function errorIn(answer: FormulaAnswer): CellErrorValue | undefined {
  if (!Array.isArray(answer)) return isCellError(answer) ? answer : undefined;
  for (const row of answer) {
    const found = row.find(isCellError);
    if (found) return found;
  }
  return undefined;
}
