/**
 * A small revised simplex for the restricted master of the cut plan: minimize cost.x where each row
 * adds up to its right-hand side and x >= 0, with columns added between solves.
 *
 * The inverse of the basis is kept as a product of sparse columns (one for each basic column, one
 * more for each pivot since), rebuilt every so many pivots in an order that hardly fills it in.
 *
 * The start is a basis of one unit column per row, each with its own cost, so no first phase is
 * needed; the right-hand side must be 0 or more. Surplus and slack columns are added like others.
 *
 * Its rounding errors cannot spoil a bound: duals are only a proposal, proven elsewhere.
 */
export interface Column {
  readonly cost: number;
  /** row numbers, each once, and coefficients */
  readonly rows: readonly number[];
  readonly coefficients: readonly number[];
}

/** A level or a saving below this is rounding in the pivots. */
const ZERO = 1e-9;

/** A pivot below this would spoil the basis. */
const LEAST_PIVOT = 1e-8;

/** Columns kept at hand between two looks at all of them. */
const CANDIDATES = 24;

/** Columns are looked at in so many parts, of no fewer columns than the second. */
const LOOKS = 12;
const LEAST_LOOK = 600;

/** Pivots without progress before the rule that cannot cycle takes over. */
const STALLED = 400;

/** Pivots between two rebuilds of the product. */
const REBUILD = 64;

/** Numbers that grow: a list of sparse columns one after another. */
class SparseList {
  starts: number[] = [0];
  index = new Int32Array(4096);
  value = new Float64Array(4096);

  private reserve(end: number): void {
    if (end <= this.index.length) return;
    const index = new Int32Array(Math.max(end, 2 * this.index.length));
    index.set(this.index);
    this.index = index;
    const value = new Float64Array(index.length);
    value.set(this.value);
    this.value = value;
  }

  get end(): number {
    return this.starts[this.starts.length - 1]!;
  }

  push(rows: readonly number[], values: readonly number[]): void {
    const start = this.end;
    this.reserve(start + rows.length);
    for (let k = 0; k < rows.length; k++) {
      this.index[start + k] = rows[k]!;
      this.value[start + k] = values[k]!;
    }
    this.starts.push(start + rows.length);
  }

  /** Adds the nonzeros of a dense vector except at one place. */
  pushDense(vector: Float64Array, except: number): void {
    let at = this.end;
    this.reserve(at + vector.length);
    for (let r = 0; r < vector.length; r++) {
      if (r === except || vector[r] === 0) continue;
      this.index[at] = r;
      this.value[at] = vector[r]!;
      at++;
    }
    this.starts.push(at);
  }
}

export class Simplex {
  private readonly m: number;
  private readonly costs: number[] = [];
  private readonly columns = new SparseList();
  private readonly inBasis: boolean[] = [];
  /** the product: for each factor its pivot row, pivot, and other entries */
  private factors = new SparseList();
  private factorRow: number[] = [];
  private factorPivot: number[] = [];
  private sinceRebuild = 0;
  private readonly basis: Int32Array;
  private readonly level: Float64Array;
  readonly duals: Float64Array;
  private pivotCount = 0;
  private lookFrom = 0;
  /** row of the inverse, worked out anew for each pivot */
  private readonly row: Float64Array;
  private candidates: number[] = [];
  /** steps of work done, for a budget that does not depend on a clock */
  work = 0;

  /** `start` gives each row's right-hand side and the cost of its unit column. */
  constructor(
    private readonly rightHand: Float64Array,
    startCost: Float64Array
  ) {
    const m = (this.m = rightHand.length);
    this.row = new Float64Array(m);
    this.basis = new Int32Array(m);
    this.level = Float64Array.from(rightHand);
    this.duals = Float64Array.from(startCost);
    for (let r = 0; r < m; r++) {
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
    this.columns.push(column.rows, column.coefficients);
    this.costs.push(column.cost);
    this.inBasis.push(false);
    return this.costs.length - 1;
  }

  /** Sets another cost for a column; `reset` takes it up. */
  setCost(column: number, cost: number): void {
    this.costs[column] = cost;
  }

  /** What a unit of the column saves at the present prices. */
  saving(column: number): number {
    return -this.reducedCost(column);
  }

  private reducedCost(column: number): number {
    const { starts, index, value } = this.columns;
    let rest = this.costs[column]!;
    const end = starts[column + 1]!;
    for (let k = starts[column]!; k < end; k++) rest -= this.duals[index[k]!]! * value[k]!;
    return rest;
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
    const { m, level } = this;
    const direction = new Float64Array(m);
    let stalled = 0;
    this.candidates = [];
    for (let round = 0; round < limit; round++) {
      if (this.sinceRebuild >= REBUILD) this.rebuild();
      const careful = stalled > STALLED;
      let enter = careful ? -1 : this.bestOf(this.candidates);
      if (enter < 0) {
        this.candidates = this.price(careful);
        enter = this.candidates.length > 0 ? this.candidates[0]! : -1;
      }
      if (enter < 0) return true;
      this.solveColumn(enter, direction);
      let leave = -1;
      let step = Infinity;
      for (let r = 0; r < m; r++) {
        const d = direction[r]!;
        if (d <= LEAST_PIVOT) continue;
        const ratio = level[r]! / d;
        if (ratio < step - 1e-12) {
          step = ratio;
          leave = r;
        } else if (ratio < step + 1e-12) {
          const better = careful ? this.basis[r]! < this.basis[leave]! : d > direction[leave]!;
          if (better) leave = r;
          step = Math.min(step, ratio);
        }
      }
      this.work += 3 * m;
      // Nothing limits a column only where cost could fall for ever: not with costs of 0 or more.
      if (leave < 0) return true;
      stalled = step > 1e-10 ? 0 : stalled + 1;
      this.pivot(enter, leave, direction, step);
    }
    return false;
  }

  /**
   * Sets another right-hand side, 0 or more, or takes up changed costs at the same one, and pivots back to levels of 0 or more: from a basis
   * whose prices are those of an optimum that takes few steps. Call `solve` afterwards.
   */
  reset(rightHand: ArrayLike<number> = this.rightHand): void {
    this.rightHand.set(rightHand);
    this.rebuild(false);
    if (!this.restore(4 * this.m)) this.restart();
    for (let r = 0; r < this.m; r++) if (this.level[r]! < 0) this.level[r] = 0;
  }

  /** Pivots out levels below 0, keeping prices good; false where that takes too long. */
  private restore(limit: number): boolean {
    const { m, level } = this;
    const direction = new Float64Array(m);
    const row = new Float64Array(m);
    for (let round = 0; round < limit; round++) {
      if (this.sinceRebuild >= REBUILD) this.rebuild(false);
      let leave = -1;
      let least = -ZERO;
      for (let r = 0; r < m; r++) {
        if (level[r]! < least) {
          least = level[r]!;
          leave = r;
        }
      }
      this.work += m;
      if (leave < 0) return true;
      row.fill(0);
      row[leave] = 1;
      this.backward(row);
      const enter = this.entering(row);
      if (enter < 0) return false;
      this.solveColumn(enter, direction);
      if (direction[leave]! > -LEAST_PIVOT) return false;
      this.pivot(enter, leave, direction, level[leave]! / direction[leave]!, false);
    }
    return false;
  }

  /** The column that costs least for what it raises a row below 0; -1 where none raises it. */
  private entering(row: Float64Array): number {
    const { starts, index, value } = this.columns;
    let enter = -1;
    let best = Infinity;
    this.work += 3 * this.columns.end;
    for (let column = 0; column < this.costs.length; column++) {
      if (this.inBasis[column]) continue;
      let raise = 0;
      const end = starts[column + 1]!;
      for (let k = starts[column]!; k < end; k++) raise -= row[index[k]!]! * value[k]!;
      if (raise < 1e-7) continue;
      const ratio = Math.max(0, this.reducedCost(column)) / raise;
      if (ratio < best) {
        best = ratio;
        enter = column;
      }
    }
    return enter;
  }

  /** Back to the basis of unit columns. */
  private restart(): void {
    for (let r = 0; r < this.m; r++) {
      this.inBasis[this.basis[r]!] = false;
      this.basis[r] = r;
    }
    for (let r = 0; r < this.m; r++) this.inBasis[r] = true;
    this.rebuild(false);
  }

  /** The candidate that still saves most; -1 where none saves. */
  private bestOf(candidates: readonly number[]): number {
    let enter = -1;
    let best = -10 * ZERO;
    this.work += 10 * candidates.length;
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

  /**
   * Columns that save, those that save most of them first: a part of all columns is looked at, from
   * where the last look ended, and more only while too few are found. Where careful, the first column
   * that saves at all.
   */
  private price(careful: boolean): number[] {
    const found: { column: number; value: number }[] = [];
    const all = this.costs.length;
    const part = Math.max(LEAST_LOOK, Math.ceil(all / LOOKS));
    let column = careful ? 0 : this.lookFrom % all;
    let worst = -10 * ZERO;
    let seen = 0;
    for (; seen < all; seen++, column = column + 1 === all ? 0 : column + 1) {
      if (seen % part === 0 && seen > 0 && found.length >= CANDIDATES) break;
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
    this.lookFrom = column;
    this.work += Math.ceil((2 * this.columns.end * seen) / all);
    found.sort((a, b) => a.value - b.value || a.column - b.column);
    return found.slice(0, CANDIDATES).map((one) => one.column);
  }

  /** The column in terms of the basis: inverse times column. */
  private solveColumn(column: number, result: Float64Array): void {
    const { starts, index, value } = this.columns;
    result.fill(0);
    for (let k = starts[column]!; k < starts[column + 1]!; k++) result[index[k]!] = value[k]!;
    this.forward(result, 0);
  }

  /** Applies the factors from `first` on. */
  private forward(vector: Float64Array, first: number): void {
    const { starts, index, value } = this.factors;
    const count = this.factorRow.length;
    for (let f = first; f < count; f++) {
      const row = this.factorRow[f]!;
      let t = vector[row]!;
      if (t === 0) continue;
      t /= this.factorPivot[f]!;
      vector[row] = t;
      const end = starts[f + 1]!;
      for (let k = starts[f]!; k < end; k++) vector[index[k]!]! -= value[k]! * t;
      this.work += end - starts[f]!;
    }
    this.work += count - first;
  }

  /** Applies the factors the other way round, from the left: a row of prices times the inverse. */
  private backward(vector: Float64Array): void {
    const { starts, index, value } = this.factors;
    for (let f = this.factorRow.length - 1; f >= 0; f--) {
      const row = this.factorRow[f]!;
      let s = vector[row]!;
      const end = starts[f + 1]!;
      for (let k = starts[f]!; k < end; k++) s -= value[k]! * vector[index[k]!]!;
      vector[row] = s / this.factorPivot[f]!;
    }
    this.work += this.factors.end + 2 * this.factorRow.length;
  }

  private pivot(
    enter: number,
    leave: number,
    direction: Float64Array,
    step: number,
    settled = true
  ): void {
    const { m, level, duals } = this;
    const reduced = this.reducedCost(enter);
    // Row of the inverse that leaves, for the new prices.
    const row = this.row.fill(0);
    row[leave] = 1;
    this.backward(row);
    const rate = reduced / direction[leave]!;
    for (let r = 0; r < m; r++) {
      if (row[r] !== 0) duals[r]! += rate * row[r]!;
      const d = direction[r]!;
      if (d !== 0 && r !== leave) {
        const left = level[r]! - step * d;
        level[r] = settled && left < 0 ? 0 : left;
        // What is rounding only would fill the product in.
        if (d < 1e-13 && d > -1e-13) direction[r] = 0;
      }
    }
    level[leave] = step;
    this.factorRow.push(leave);
    this.factorPivot.push(direction[leave]!);
    this.factors.pushDense(direction, leave);
    this.inBasis[this.basis[leave]!] = false;
    this.inBasis[enter] = true;
    this.basis[leave] = enter;
    this.pivotCount++;
    this.sinceRebuild++;
    this.work += 4 * m;
  }

  /**
   * Rebuilds the product from the basic columns. Columns that alone reach some row come first,
   * columns left with a single row last and in reverse: neither is changed by the others, so only
   * what lies between can fill in.
   */
  private rebuild(settled = true): void {
    const { m, basis, columns } = this;
    const { starts, index, value } = columns;
    const basic = Array.from(basis);
    const byRow: number[][] = Array.from({ length: m }, () => []);
    const rowCount = new Int32Array(m);
    const columnCount = new Int32Array(m);
    basic.forEach((column, c) => {
      for (let k = starts[column]!; k < starts[column + 1]!; k++) {
        byRow[index[k]!]!.push(c);
        rowCount[index[k]!]!++;
        columnCount[c]!++;
      }
    });
    this.work += 6 * m;
    const rowOpen = new Uint8Array(m).fill(1);
    const columnOpen = new Uint8Array(m).fill(1);
    const pivotRow = new Int32Array(m).fill(-1);
    const head: number[] = [];
    const tail: number[] = [];
    const rowQueue: number[] = [];
    const columnQueue: number[] = [];
    for (let r = 0; r < m; r++) if (rowCount[r] === 1) rowQueue.push(r);
    for (let c = 0; c < m; c++) if (columnCount[c] === 1) columnQueue.push(c);
    const close = (r: number, c: number): void => {
      rowOpen[r] = 0;
      columnOpen[c] = 0;
      pivotRow[c] = r;
      const column = basic[c]!;
      for (let k = starts[column]!; k < starts[column + 1]!; k++) {
        const other = index[k]!;
        if (rowOpen[other] && --rowCount[other]! === 1) rowQueue.push(other);
      }
      for (const other of byRow[r]!) {
        if (columnOpen[other] && --columnCount[other]! === 1) columnQueue.push(other);
      }
    };
    const entry = (column: number, r: number): number => {
      for (let k = starts[column]!; k < starts[column + 1]!; k++)
        if (index[k] === r) return value[k]!;
      return 0;
    };
    while (rowQueue.length > 0 || columnQueue.length > 0) {
      if (rowQueue.length > 0) {
        const r = rowQueue.pop()!;
        if (!rowOpen[r] || rowCount[r] !== 1) continue;
        const c = byRow[r]!.find((one) => columnOpen[one])!;
        if (Math.abs(entry(basic[c]!, r)) < LEAST_PIVOT) continue;
        head.push(c);
        close(r, c);
        continue;
      }
      const c = columnQueue.pop()!;
      if (!columnOpen[c] || columnCount[c] !== 1) continue;
      const column = basic[c]!;
      let row = -1;
      for (let k = starts[column]!; k < starts[column + 1]!; k++)
        if (rowOpen[index[k]!]) row = index[k]!;
      if (row < 0 || Math.abs(entry(column, row)) < LEAST_PIVOT) continue;
      tail.push(c);
      close(row, c);
    }
    const middle: number[] = [];
    for (let c = 0; c < m; c++) if (columnOpen[c]) middle.push(c);
    middle.sort((a, b) => columnCount[a]! - columnCount[b]! || a - b);
    this.factors = new SparseList();
    this.factorRow = [];
    this.factorPivot = [];
    const vector = new Float64Array(m);
    const addRaw = (c: number): void => {
      const column = basic[c]!;
      const row = pivotRow[c]!;
      const rows: number[] = [];
      const values: number[] = [];
      let pivot = 1;
      for (let k = starts[column]!; k < starts[column + 1]!; k++) {
        if (index[k] === row) pivot = value[k]!;
        else {
          rows.push(index[k]!);
          values.push(value[k]!);
        }
      }
      if (rows.length === 0 && pivot === 1) return;
      this.factorRow.push(row);
      this.factorPivot.push(pivot);
      this.factors.push(rows, values);
    };
    for (const c of head) addRaw(c);
    const headFactors = this.factorRow.length;
    for (const c of middle) {
      this.solveFrom(basic[c]!, vector, headFactors);
      let row = -1;
      let most = 0;
      for (let r = 0; r < m; r++) {
        if (vector[r] !== 0 && Math.abs(vector[r]!) < 1e-13) vector[r] = 0;
        if (rowOpen[r]) most = Math.max(most, Math.abs(vector[r]!));
      }
      for (let r = 0; r < m; r++) {
        if (!rowOpen[r] || Math.abs(vector[r]!) < 0.1 * most || vector[r] === 0) continue;
        if (row < 0 || rowCount[r]! < rowCount[row]!) row = r;
      }
      if (row < 0) row = rowOpen.indexOf(1);
      // A basis spoilt by rounding would leave nothing to pivot on: then the row's unit column takes over.
      if (most < LEAST_PIVOT) {
        this.inBasis[basic[c]!] = false;
        basic[c] = row;
        this.inBasis[row] = true;
        this.solveFrom(row, vector, headFactors);
      }
      rowOpen[row] = 0;
      pivotRow[c] = row;
      this.factorRow.push(row);
      this.factorPivot.push(vector[row]!);
      this.factors.pushDense(vector, row);
      this.work += 4 * m;
    }
    for (let k = tail.length - 1; k >= 0; k--) addRaw(tail[k]!);
    for (let c = 0; c < m; c++) basis[pivotRow[c]!] = basic[c]!;
    this.sinceRebuild = 0;
    // Levels and prices afresh, free of what rounding has gathered.
    this.level.set(this.rightHand);
    this.forward(this.level, 0);
    for (let r = 0; r < m; r++) {
      if (settled && this.level[r]! < 0) this.level[r] = 0;
      this.duals[r] = this.costs[basis[r]!]!;
    }
    this.backward(this.duals);
  }

  private solveFrom(column: number, vector: Float64Array, first: number): void {
    const { starts, index, value } = this.columns;
    vector.fill(0);
    for (let k = starts[column]!; k < starts[column + 1]!; k++) vector[index[k]!] = value[k]!;
    this.forward(vector, first);
  }
}
