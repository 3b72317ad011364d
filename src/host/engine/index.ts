/** The embedded spreadsheet engine: opens, calculates and writes .xlsx workbooks, and evaluates formulas. */
export { FormulaEvaluator, errorIn, type FormulaAnswer } from "./evaluate.js";
export {
  isCellError,
  WorkbookError,
  type CellArgument,
  type CellErrorValue,
  type CellProblem,
  type CellValue,
  type FunctionParameter,
  type WorksheetFunction,
} from "./values.js";
export {
  NAMESPACE,
  openWorkbook,
  Workbook,
  type CellView,
  type Recalculation,
  type TableView,
} from "./workbook.js";
export { storedFormula, typedFormula } from "./spelling.js";
export { cellAddress, columnLetters, parseArea, parseCell } from "./address.js";
