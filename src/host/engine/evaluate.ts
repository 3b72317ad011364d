/** Evaluates single formulas that belong to no workbook. */
import { Calculator } from "./calculate.js";
import { FunctionSet } from "./functions.js";
import { BookState, SheetState } from "./model.js";
import { typedFormula } from "./spelling.js";
import { answerOf, type FormulaAnswer } from "./answers.js";
import { NAMESPACE, type WorksheetFunction } from "./values.js";

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
    return cells.map(answerOf);
  }
}

const FORMULA_ROW = 1001;
const FORMULA_COLUMN = 1001;
