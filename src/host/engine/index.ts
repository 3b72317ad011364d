/** The embedded spreadsheet engine: opens, calculates and writes .xlsx workbooks, and evaluates formulas. */
export { errorIn, type FormulaAnswer } from "./answers.js";
export { FormulaEvaluator } from "./evaluate.js";
export {
  isCellError,
  NAMESPACE,
  WorkbookError,
  type CellArgument,
  type CellErrorValue,
  type CellProblem,
  type CellValue,
  type FunctionParameter,
  type WorksheetFunction,
} from "./values.js";
export {
  openWorkbook,
  Workbook,
  type CellView,
  type Recalculation,
  type TableView,
} from "./workbook.js";
export { storedFormula, typedFormula } from "./spelling.js";
export { cellAddress, columnLetters, parseArea, parseCell } from "../../core/cell-address.js";
