/** What is good to know of a formula that calculates without an error. */
import { cellAddress } from "../../core/cell-address.js";
import { walkFormula, type FormulaNode } from "./formula.js";
import { fullAddress, type BookState, type CellState } from "./model.js";
import type { SheetArea } from "./operands.js";
import type { Scope } from "./scope.js";
import { NAMESPACE } from "./values.js";

export interface CellRemark {
  readonly cell: CellState;
  readonly message: string;
}

/** Native functions that pass over text in the cells they are given, and say nothing. */
const SKIPS_TEXT = new Set(["SUM", "SUBTOTAL", "AVERAGE", "MAX", "MIN"]);
const MAY_SKIP = /\b(?:SUM|SUBTOTAL|AVERAGE|MAX|MIN)\s*\(/i;
/** A figure with what lengths are written with: 24', 6'6, 1-7/8, 622.3 mm, 24 ft 6 in. */
const LENGTH =
  /^[-+]?[\d½¼¾⅛⅜⅝⅞][\d½¼¾⅛⅜⅝⅞\s.,/⁄'’′"”″-]*(?:(?:ft|feet|foot|in|inch|inches|mm|cm|m)\.?[\d\s./-]*)*$/i;

/**
 * A native sum, mean or extreme over cells that hold lengths as text leaves them out in silence.
 * @param areasOf the cells that a part of a cell's formula names
 */
export function remarksOn(
  book: BookState,
  scope: Scope,
  areasOf: (cell: CellState, part: FormulaNode) => readonly SheetArea[]
): CellRemark[] {
  const remarks: CellRemark[] = [];
  for (const sheet of book.sheets) {
    for (const cell of sheet.cells.values()) {
      const typed = cell.formula?.typed;
      if (typed === undefined || !MAY_SKIP.test(typed)) continue;
      const { tree } = scope.prepare(typed);
      if (!tree) continue;
      walkFormula(tree, (node) => {
        const name = node.name?.toUpperCase() ?? "";
        if (node.kind !== "call" || !SKIPS_TEXT.has(name)) return;
        const skipped = node.children
          .flatMap((child) => areasOf(cell, child))
          .flatMap(({ sheet: home, area }) => [...home.cellsIn(area)])
          .filter(({ value }) => typeof value === "string" && LENGTH.test(value.trim()));
        const [first] = skipped;
        if (!first) return;
        const where =
          first.sheet === sheet ? cellAddress(first.row, first.column) : fullAddress(first);
        const which =
          skipped.length === 1
            ? `${where}, which holds a length as text (${String(first.value)})`
            : `${skipped.length} cells that hold lengths as text, the first of them ${where} (${String(first.value)})`;
        const message = `${name} leaves out ${which}; ${NAMESPACE}.TOTAL_LENGTH adds such cells`;
        remarks.push({ cell, message });
      });
    }
  }
  return remarks;
}
