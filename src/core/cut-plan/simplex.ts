/**
 * A small revised simplex for the restricted master of the cut plan: minimise cost.x subject to
 * rows of equalities, x >= 0, with columns added between solves. Dense inverse, sparse columns.
 *
 * The start is a basis of one unit column per row, each with its own cost, so no first phase is
 * needed: the right-hand side must be 0 or more. Surplus and slack columns are added like others.
 */
export interface Column {
  readonly cost: number;
  /** row numbers and coefficients */
  readonly rows: Int32Array;
  readonly coefficients: Float64Array;
}

/** A value below this is rounding in the pivots. */
const ZERO = 1e-9;

export class Simplex {
  readonly columns: Column[] = [];
  readonly rowCount: number;
  /** inverse of the basis, row by row */
  private readonly inverse: Float64Array;
  private readonly basis: Int32Array;
  private readonly inBasis: boolean[] = [];
  private readonly level: Float64Array;
  readonly duals: Float64Array;
  private pivotsMade = 0;

  /** `start` gives each row's right-hand side and the cost of its unit column. */
  constructor(
    private readonly rightHand: Float64Array,
    startCost: Float64Array
  ) {
    const m = rightHand.length;
    this.rowCount = m;
    this.inverse = new Float64Array(m * m);
    this.basis = new Int32Array(m);
    this.level = Float64Array.from(rightHand);
    this.duals = Float64Array.from(startCost);
    for (let r = 0; r < m; r++) {
      this.inverse[r * m + r] = 1;
      this.basis[r] = r;
      this.columns.push({
        cost: startCost[r]!,
        rows: Int32Array.of(r),
        coefficients: Float64Array.of(1),
      });
      this.inBasis.push(true);
    }
  }

  get pivots(): number {
    return this.pivotsMade;
  }

  add(column: Column): number {
    this.columns.push(column);
    this.inBasis.push(false);
    return this.columns.length - 1;
  }

  reducedCost(column: Column): number {
    let value = column.cost;
    for (let k = 0; k < column.rows.length; k++) {
      value -= this.duals[column.rows[k]!]! * column.coefficients[k]!;
    }
    return value;
  }

  /** Cost of the present basic solution. */
  get objective(): number {
    let total = 0;
    for (let r = 0; r < this.rowCount; r++) {
      total += this.columns[this.basis[r]!]!.cost * this.level[r]!;
    }
    return total;
  }

  /** The basic columns with their levels. */
  solution(): { column: number; level: number }[] {
    const found: { column: number; level: number }[] = [];
    for (let r = 0; r < this.rowCount; r++) {
      if (this.level[r]! > ZERO) found.push({ column: this.basis[r]!, level: this.level[r]! });
    }
    return found;
  }

  /** Pivots to the optimum over the columns known, or until `limit` pivots. True at the optimum. */
  solve(limit: number): boolean {
    const m = this.rowCount;
    const direction = new Float64Array(m);
    let stalled = 0;
    for (let round = 0; round < limit; round++) {
      if (this.pivotsMade > 0 && this.pivotsMade % 500 === 0) this.refresh();
      // Largest saving first; after many pivots without progress the first saving found, which cannot cycle.
      let enter = -1;
      let bestValue = -ZERO * 10;
      for (let c = 0; c < this.columns.length; c++) {
        if (this.inBasis[c]) continue;
        const value = this.reducedCost(this.columns[c]!);
        if (value < bestValue) {
          enter = c;
          if (stalled > 200) break;
          bestValue = value;
        }
      }
      if (enter < 0) return true;
      const column = this.columns[enter]!;
      direction.fill(0);
      for (let k = 0; k < column.rows.length; k++) {
        const s = column.rows[k]!;
        const factor = column.coefficients[k]!;
        for (let r = 0; r < m; r++) direction[r]! += this.inverse[r * m + s]! * factor;
      }
      let leave = -1;
      let step = Infinity;
      for (let r = 0; r < m; r++) {
        const d = direction[r]!;
        if (d <= 1e-8) continue;
        const ratio = Math.max(0, this.level[r]!) / d;
        if (
          ratio < step - 1e-12 ||
          (ratio < step + 1e-12 && leave >= 0 && this.tieBreak(r, leave, direction, stalled > 200))
        ) {
          step = Math.min(step, ratio);
          leave = r;
        }
      }
      if (leave < 0) return true; // no limit: cannot happen with costs of 0 or more
      stalled = step > 1e-10 ? 0 : stalled + 1;
      this.pivot(enter, leave, direction, step);
    }
    return false;
  }

  private tieBreak(r: number, leave: number, direction: Float64Array, careful: boolean): boolean {
    return careful ? this.basis[r]! < this.basis[leave]! : direction[r]! > direction[leave]!;
  }

  private pivot(enter: number, leave: number, direction: Float64Array, step: number): void {
    const m = this.rowCount;
    const inverse = this.inverse;
    const reduced = this.reducedCost(this.columns[enter]!);
    const lead = direction[leave]!;
    const leadRow = leave * m;
    for (let s = 0; s < m; s++) inverse[leadRow + s]! /= lead;
    for (let r = 0; r < m; r++) {
      if (r === leave) continue;
      const factor = direction[r]!;
      if (factor === 0) continue;
      this.level[r]! -= step * factor;
      if (this.level[r]! < 0) this.level[r] = 0;
      const row = r * m;
      for (let s = 0; s < m; s++) inverse[row + s]! -= factor * inverse[leadRow + s]!;
    }
    this.level[leave] = step;
    for (let s = 0; s < m; s++) this.duals[s]! += reduced * inverse[leadRow + s]!;
    this.inBasis[this.basis[leave]!] = false;
    this.inBasis[enter] = true;
    this.basis[leave] = enter;
    this.pivotsMade++;
  }

  /** Recomputes levels and duals from the inverse, to shed rounding. */
  private refresh(): void {
    const m = this.rowCount;
    this.duals.fill(0);
    for (let r = 0; r < m; r++) {
      let level = 0;
      const row = r * m;
      for (let s = 0; s < m; s++) level += this.inverse[row + s]! * this.rightHand[s]!;
      this.level[r] = level < 0 ? 0 : level;
      const cost = this.columns[this.basis[r]!]!.cost;
      if (cost !== 0) {
        for (let s = 0; s < m; s++) this.duals[s]! += cost * this.inverse[row + s]!;
      }
    }
  }
}
