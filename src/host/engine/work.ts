/** One formula of a workbook: what it came to, what it read, and what its cell shows. */
import { cellCount, type Area } from "../../core/cell-address.js";
import { fullAddress, type CellState, type FormulaMode } from "./model.js";
import { read, intersect, type Operand, type Place, type SheetArea } from "./operands.js";
import {
  arrayValue,
  BLANK,
  ERROR,
  errorValue,
  fromPlain,
  isArray,
  numberValue,
  toPlain,
  type RuntimeArray,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";
import type { Prepared } from "./scope.js";
import type { CellValue } from "./values.js";

/** Cells one table may have. */
export const LARGEST_TABLE = 5_000_000;

export type WorkState = "waiting" | "running" | "done";

export class Work {
  state: WorkState = "waiting";
  /** what the formula came to */
  captured: RuntimeValue | undefined;
  /** an error the cell shows whatever the formula came to: it depends on itself */
  forced: RuntimeScalar | undefined;
  /** set where the result has no room */
  blocked: RuntimeScalar | undefined;
  /** the area the result fills */
  filled: Area | undefined;
  /** what the formula read the last time */
  reads: SheetArea[] = [];
  /** gives another value each time */
  isVolatile: boolean;
  /** what our functions said of their calls in it */
  said: readonly string[] = [];
  /** keeps the value it was saved with: something it reads is not here */
  isKept = false;

  constructor(
    readonly cell: CellState,
    readonly prepared: Prepared
  ) {
    this.filled = cell.spill;
    this.isVolatile = prepared.isVolatile;
  }

  get mode(): FormulaMode {
    return this.cell.formula?.mode ?? "plain";
  }

  get address(): string {
    return fullAddress(this.cell);
  }

  /** Takes what the formula came to. */
  capture(operand: Operand, at: Place): void {
    if (this.mode === "plain") {
      const value = intersect(operand, at);
      this.captured = filled(isArray(value) ? (value.rows[0]?.[0] ?? NOTHING) : value);
      return;
    }
    const value = read(operand, at);
    const shown = isArray(value)
      ? arrayValue(value.rows.map((row) => row.map(filled)))
      : filled(value);
    this.captured = this.mode === "array" ? this.confined(shown) : shown;
  }

  /** Takes the value the cell was saved with, or an error where there is none. */
  keep(): void {
    const { value } = this.cell;
    this.isKept = value !== null;
    this.captured = this.isKept
      ? fromPlain(value)
      : errorValue("#REF!", "this formula reads another workbook, which is not here");
  }

  /** The answer of an array formula of the old kind: one value fills its area, missing ones are #N/A. */
  private confined(value: RuntimeValue): RuntimeValue {
    const area = this.cell.formula?.area;
    if (!area) return value;
    if (cellCount(area) > LARGEST_TABLE) {
      return errorValue("#NUM!", `this array formula covers more than ${LARGEST_TABLE} cells`);
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

  /** What other formulas see in the cell: an error has the cell's address in front of its reason. */
  get seen(): RuntimeScalar {
    const fixed = this.forced ?? this.blocked;
    if (fixed) return fixed;
    const value = this.first;
    if (value.kind !== ERROR) return value;
    const { message } = value;
    if (message === undefined || message.startsWith("from ")) return value;
    return { ...value, message: `from ${this.address}: ${message}` };
  }

  /** What a cell of the area the formula fills holds. */
  at(row: number, column: number): RuntimeScalar | undefined {
    const { table, cell } = this;
    return this.blocked ? undefined : table?.rows[row - cell.row]?.[column - cell.column];
  }

  private get first(): RuntimeScalar {
    const { captured } = this;
    if (!captured) return NOTHING;
    return isArray(captured) ? (captured.rows[0]?.[0] ?? NOTHING) : captured;
  }

  /** The table the formula came to, if it is one and may fill other cells. */
  get table(): RuntimeArray | undefined {
    const { captured } = this;
    if (this.forced || !captured || !isArray(captured)) return undefined;
    return captured.height * captured.width > 1 ? captured : undefined;
  }

  /** What the formula's own cell shows. */
  get value(): CellValue {
    return toPlain(this.forced ?? this.blocked ?? this.first);
  }
}

/** A table without any cell. */
const NOTHING = errorValue("#CALC!");

/** A formula's cell shows 0 where the formula came to nothing (a reference to an empty cell). */
function filled(value: RuntimeScalar): RuntimeScalar {
  return value.kind === BLANK ? numberValue(0) : value;
}
