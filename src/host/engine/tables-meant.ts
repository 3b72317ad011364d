/** Whether a formula would mean something else as a plain one, where a range is narrowed to one cell. */
import { builtIn } from "./builtin.js";
import { parseFormula, type FormulaNode } from "./formula.js";

/** Forms whose arguments are ranges as they stand. */
const TAKES_RANGES =
  /^(?:ROW|ROWS|COLUMN|COLUMNS|OFFSET|SUBTOTAL|AGGREGATE|COUNTBLANK|SHEET|SHEETS|ISREF|ISFORMULA|FORMULATEXT|AREAS|CELL|N|T|TYPE)$/;

/** True where a range, name or table may stand where one value belongs; rather once too often. */
export function meansTables(typed: string): boolean {
  try {
    return oneValue(parseFormula(typed));
  } catch {
    return false;
  }
}

/** A node where one value belongs. */
function oneValue(node: FormulaNode): boolean {
  switch (node.kind) {
    case "reference":
      return node.isCell !== true;
    case "name":
    case "table":
    case "spill":
    case "range":
    case "intersection":
    case "array":
      return true;
    case "call":
      return insideCall(node);
    default:
      return node.children.some(oneValue);
  }
}

function insideCall(node: FormulaNode): boolean {
  const name = (node.name as string).toUpperCase();
  const called = builtIn(name);
  const isRange = (index: number): boolean => {
    if (TAKES_RANGES.test(name)) return true;
    if (/^(?:COUNT|SUM|AVERAGE)IF$/.test(name) || name === "COUNTIFS") return index % 2 === 0;
    if (/^(?:SUM|AVERAGE|MAX|MIN)IFS$/.test(name)) return index === 0 || index % 2 === 1;
    if (name === "INDEX") return index === 0;
    return called?.argument(index) === "range";
  };
  return node.children.some((child, index) => {
    if (!isRange(index)) return oneValue(child);
    if (isPlainRange(child)) return false;
    return child.kind === "call" ? insideCall(child) : oneValue(child);
  });
}

/** A range as it stands, which a function takes whole. */
function isPlainRange(node: FormulaNode): boolean {
  return ["reference", "name", "table", "spill", "range", "intersection"].includes(node.kind);
}
