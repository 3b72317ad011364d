/** One formula during a calculation: what it came to, and what its cell shows. */
import { cellCount, type Area } from "../../core/cell-address.js";
import type { GridCell } from "./grid.js";
import { fullAddress, type CellState, type FormulaMode } from "./model.js";
import { LARGEST_AREA } from "./rewrite.js";
import {
  arrayValue,
  BLANK,
  ERROR,
  errorValue,
  isArray,
  numberValue,
  toPlain,
  type RuntimeArray,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";
import type { Prepared } from "./scope.js";
import { isCellError, type CellValue } from "./values.js";

export class Work {
  /** what the formula came to in this pass */
  captured: RuntimeValue | undefined;
  /** an error the cell shows whatever the formula came to */
  forced: RuntimeScalar | undefined;
  /** set where the result has no room */
  blocked: RuntimeScalar | undefined;
  /** the area the result filled in the pass before */
  filled: Area | undefined;
  /** the formula as the library gets it */
  text = "";

  constructor(
    readonly cell: CellState,
    readonly id: number,
    readonly prepared: Prepared,
    readonly grid: GridCell
  ) {
    this.filled = cell.spill;
  }

  get mode(): FormulaMode {
    return this.cell.formula?.mode ?? "plain";
  }

  get address(): string {
    return fullAddress(this.cell);
  }

  /** Takes what the library came to and answers with what other formulas see. */
  capture(value: RuntimeValue): RuntimeValue {
    this.captured = this.shown(value);
    return this.forced ?? this.blocked ?? this.signed(this.captured);
  }

  private shown(value: RuntimeValue): RuntimeValue {
    if (!isArray(value))
      return this.mode === "array" ? this.confined(filled(value)) : filled(value);
    // The library narrows a range in a plain formula to one cell, and needs to know where the range came from.
    if (this.mode === "plain") return value;
    // Without the place, so that other formulas read the first cell, not the one in their own row.
    const array = arrayValue(value.rows.map((row) => row.map(filled)));
    return this.mode === "array" ? this.confined(array) : array;
  }

  /** The answer of an array formula of the old kind: one value fills its area, missing ones are #N/A. */
  private confined(value: RuntimeValue): RuntimeValue {
    const area = this.cell.formula?.area;
    if (!area) return value;
    if (cellCount(area) > LARGEST_AREA) {
      return errorValue("#NUM!", `this array formula covers more than ${LARGEST_AREA} cells`);
    }
    const at = (down: number, across: number): RuntimeScalar => {
      if (!isArray(value)) return value;
      const row = value.rows[value.height === 1 ? 0 : down];
      return row?.[value.width === 1 ? 0 : across] ?? errorValue("#N/A");
    };
    return arrayValue(
      Array.from({ length: area.bottom - area.top + 1 }, (_, down) =>
        Array.from({ length: area.right - area.left + 1 }, (_unused, across) => at(down, across))
      )
    );
  }

  /** An error leaves the cell with the cell's address in front of the reason. */
  private signed(value: RuntimeValue): RuntimeValue {
    if (isArray(value) || value.kind !== ERROR) return value;
    const { message } = value;
    if (message === undefined || message.startsWith("from ")) return value;
    return { ...value, message: `from ${this.address}: ${message}` };
  }

  /** The table the formula came to, if it is one and may fill other cells. */
  get table(): RuntimeArray | undefined {
    const { captured } = this;
    if (this.forced || !captured || !isArray(captured) || this.mode === "plain") return undefined;
    return captured.height * captured.width > 1 ? captured : undefined;
  }

  /** What the formula's own cell shows. */
  get value(): CellValue {
    const fixed = this.forced ?? this.blocked;
    if (fixed) return toPlain(fixed);
    const { fault, isSubtotal } = this.prepared;
    if (fault !== undefined) return { error: "#NAME?", message: fault };
    const { captured } = this;
    if (captured && (!isArray(captured) || this.mode !== "plain")) {
      const first = isArray(captured) ? captured.rows[0]?.[0] : captured;
      return first ? toPlain(first) : { error: "#CALC!" };
    }
    const result = this.grid.result as CellValue | undefined;
    if (isCellError(result)) {
      const match = captured && isArray(captured) ? findError(captured, result.error) : undefined;
      return match ?? { error: result.error };
    }
    // Nothing came of a text the library could not read; an empty cell was read otherwise.
    if (result === undefined) return captured || isSubtotal ? 0 : { error: "#NAME?" };
    return result === 0 ? 0 : result;
  }
}

/** A formula's cell shows 0 where the formula came to nothing (a reference to an empty cell). */
function filled(value: RuntimeScalar): RuntimeScalar {
  return value.kind === BLANK ? numberValue(0) : value;
}

function findError(array: RuntimeArray, code: string): CellValue | undefined {
  const match = array.rows.flat().find((value) => value.kind === ERROR && value.code === code);
  return match && toPlain(match);
}
