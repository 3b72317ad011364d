/**
 * A small revised simplex for the restricted master of the cut plan: minimise cost.x where each row
 * adds up to its right-hand side and x >= 0, with columns added between solves. Dense inverse,
 * sparse columns.
 *
 * The start is a basis of one unit column per row, each with its own cost, so no first phase is
 * needed; the right-hand side must be 0 or more. Surplus and slack columns are added like others.
 *
 * Its rounding errors cannot spoil a bound: duals are only a proposal, proven elsewhere.
 */
export interface Column {
  readonly cost: number;
  /** row numbers and coefficients */
  readonly rows: readonly number[];
  readonly coefficients: readonly number[];
}

/** A level or a saving below this is rounding in the pivots. */
const ZERO = 1e-9;

/** Columns kept at hand between two looks at all of them. */
const CANDIDATES = 24;

/** Pivots without progress before the rule that cannot cycle takes over. */
const STALLED = 200;

/** Pivots between two recomputations of levels and duals from the inverse. */
const REFRESH = 400;

export class Simplex {
  private readonly m: number;
  private readonly costs: number[] = [];
  /** columns one after another: where each starts in `index` and `factor` */
  private readonly starts: number[] = [0];
  private index = new Int32Array(1024);
  private factor = new Float64Array(1024);
  private readonly inBasis: boolean[] = [];
  /** inverse of the basis, row by row */
  private readonly inverse: Float64Array;
  private readonly basis: Int32Array;
  private readonly level: Float64Array;
  readonly duals: Float64Array;
  private pivotCount = 0;
  /** steps of work done, for a budget that does not depend on a clock */
  work = 0;

  /** `start` gives each row's right-hand side and the cost of its unit column. */
  constructor(
    private readonly rightHand: Float64Array,
    startCost: Float64Array
  ) {
    const m = (this.m = rightHand.length);
    this.inverse = new Float64Array(m * m);
    this.basis = new Int32Array(m);
    this.level = Float64Array.from(rightHand);
    this.duals = Float64Array.from(startCost);
    for (let r = 0; r < m; r++) {
      this.inverse[r * m + r] = 1;
      this.basis[r] = this.add({ cost: startCost[r]!, rows: [r], coefficients: [1] });
      this.inBasis[r] = true;
    }
  }

  get pivots(): number {
    return this.pivotCount;
  }

  get columnCount(): number {
    return this.costs.length;
  }

  get rowCount(): number {
    return this.m;
  }

  /** Adds a column and returns its number. */
  add(column: Column): number {
    const start = this.starts[this.starts.length - 1]!;
    const end = start + column.rows.length;
    if (end > this.index.length) {
      const index = new Int32Array(Math.max(end, 2 * this.index.length));
      index.set(this.index);
      this.index = index;
      const factor = new Float64Array(index.length);
      factor.set(this.factor);
      this.factor = factor;
    }
    this.index.set(column.rows, start);
    this.factor.set(column.coefficients, start);
    this.starts.push(end);
    this.costs.push(column.cost);
    this.inBasis.push(false);
    return this.costs.length - 1;
  }

  private reducedCost(column: number): number {
    let value = this.costs[column]!;
    const end = this.starts[column + 1]!;
    for (let k = this.starts[column]!; k < end; k++) {
      value -= this.duals[this.index[k]!]! * this.factor[k]!;
    }
    return value;
  }

  /** Cost of the present basic solution. */
  get objective(): number {
    let total = 0;
    for (let r = 0; r < this.m; r++) total += this.costs[this.basis[r]!]! * this.level[r]!;
    return total;
  }

  /** The basic columns with their levels. */
  solution(): { column: number; level: number }[] {
    const found: { column: number; level: number }[] = [];
    for (let r = 0; r < this.m; r++) {
      if (this.level[r]! > ZERO) found.push({ column: this.basis[r]!, level: this.level[r]! });
    }
    return found;
  }

  /** Pivots to the optimum over the columns known, or until `limit` pivots. True at the optimum. */
  solve(limit: number): boolean {
    const m = this.m;
    const direction = new Float64Array(m);
    let stalled = 0;
    let candidates: number[] = [];
    for (let round = 0; round < limit; round++) {
      this.work += 4 * m;
      if (this.pivotCount > 0 && this.pivotCount % REFRESH === 0) this.refresh();
      const careful = stalled > STALLED;
      let enter = careful ? -1 : this.bestOf(candidates);
      if (enter < 0) {
        candidates = this.price(careful);
        enter = candidates.length > 0 ? candidates[0]! : -1;
      }
      if (enter < 0) return true;
      direction.fill(0);
      const end = this.starts[enter + 1]!;
      for (let k = this.starts[enter]!; k < end; k++) {
        const s = this.index[k]!;
        const factor = this.factor[k]!;
        this.work += m;
        for (let r = 0, at = s; r < m; r++, at += m) direction[r]! += this.inverse[at]! * factor;
      }
      let leave = -1;
      let step = Infinity;
      for (let r = 0; r < m; r++) {
        const d = direction[r]!;
        if (d <= 1e-8) continue;
        const ratio = this.level[r]! / d;
        if (ratio < step - 1e-12) {
          step = ratio;
          leave = r;
        } else if (ratio < step + 1e-12) {
          const better = careful ? this.basis[r]! < this.basis[leave]! : d > direction[leave]!;
          if (better) leave = r;
          step = Math.min(step, ratio);
        }
      }
      // Nothing limits a column only where cost could fall for ever: not with costs of 0 or more.
      if (leave < 0) return true;
      stalled = step > 1e-10 ? 0 : stalled + 1;
      this.pivot(enter, leave, direction, step);
    }
    return false;
  }

  /** The candidate that still saves most; -1 where none saves. */
  private bestOf(candidates: readonly number[]): number {
    let enter = -1;
    let best = -10 * ZERO;
    for (const column of candidates) {
      if (this.inBasis[column]) continue;
      const value = this.reducedCost(column);
      if (value < best) {
        best = value;
        enter = column;
      }
    }
    return enter;
  }

  /** The columns that save most, best first; where careful, only the first that saves at all. */
  private price(careful: boolean): number[] {
    const found: { column: number; value: number }[] = [];
    let worst = -10 * ZERO;
    this.work += this.starts[this.costs.length]!;
    for (let column = 0; column < this.costs.length; column++) {
      if (this.inBasis[column]) continue;
      const value = this.reducedCost(column);
      if (value >= worst) continue;
      if (careful) return [column];
      found.push({ column, value });
      if (found.length >= 2 * CANDIDATES) {
        found.sort((a, b) => a.value - b.value || a.column - b.column);
        found.length = CANDIDATES;
        worst = found[CANDIDATES - 1]!.value;
      }
    }
    found.sort((a, b) => a.value - b.value || a.column - b.column);
    return found.slice(0, CANDIDATES).map(({ column }) => column);
  }

  private pivot(enter: number, leave: number, direction: Float64Array, step: number): void {
    const { m, inverse, level, duals } = this;
    const reduced = this.reducedCost(enter);
    const lead = direction[leave]!;
    const leadRow = leave * m;
    // Most of a row is zero in these sparse bases: only its other places change anything.
    const places: number[] = [];
    for (let s = 0; s < m; s++) {
      if (inverse[leadRow + s] !== 0) {
        inverse[leadRow + s]! /= lead;
        places.push(s);
      }
    }
    for (let r = 0; r < m; r++) {
      if (r === leave) continue;
      const factor = direction[r]!;
      if (factor === 0) continue;
      level[r]! -= step * factor;
      if (level[r]! < 0) level[r] = 0;
      const row = r * m;
      this.work += places.length;
      for (const s of places) inverse[row + s]! -= factor * inverse[leadRow + s]!;
    }
    level[leave] = step;
    for (const s of places) duals[s]! += reduced * inverse[leadRow + s]!;
    this.inBasis[this.basis[leave]!] = false;
    this.inBasis[enter] = true;
    this.basis[leave] = enter;
    this.pivotCount++;
  }

  /** Recomputes levels and duals from the inverse, to shed rounding. */
  private refresh(): void {
    const m = this.m;
    this.duals.fill(0);
    for (let r = 0; r < m; r++) {
      let level = 0;
      const row = r * m;
      for (let s = 0; s < m; s++) level += this.inverse[row + s]! * this.rightHand[s]!;
      this.level[r] = level < 0 ? 0 : level;
      const cost = this.costs[this.basis[r]!]!;
      if (cost !== 0) {
        for (let s = 0; s < m; s++) this.duals[s]! += cost * this.inverse[row + s]!;
      }
    }
  }
}
