/**
 * What the simplex keeps between two calls: a product that is the inverse of its basis, short and hardly filled in, what a step is counted for,
 * and optima of tiny programs found by trying every basis.
 */
import fc from "fast-check";
import { type Column, Simplex } from "../../../src/core/cut-plan/simplex.js";
import { law } from "./small-problems.js";

interface Program {
  readonly right: readonly number[];
  readonly start: readonly number[];
  readonly columns: readonly Column[];
}

/** The parts of a simplex that are held to the laws of linear algebra. */
interface Inside {
  readonly basis: Int32Array;
  readonly level: Float64Array;
  readonly duals: Float64Array;
  readonly inBasis: boolean[];
  readonly factors: { readonly end: number };
  readonly factorRow: readonly number[];
  readonly factorPivot: readonly number[];
  solveColumn(column: number, result: Float64Array): void;
  rebuild(settled?: boolean): void;
}

const insideOf = (simplex: Simplex): Inside => simplex as unknown as Inside;

function simplexOf({ right, start, columns }: Program): Simplex {
  const simplex = new Simplex(Float64Array.from(right), Float64Array.from(start));
  for (const column of columns) simplex.add(column);
  return simplex;
}

/** All columns, the unit columns of the rows first. */
function allOf({ start, columns }: Program): Column[] {
  return [...start.map((cost, row) => ({ cost, rows: [row], coefficients: [1] })), ...columns];
}

/** Numbers of no pattern, the same each time. */
function numbers(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

function shuffled(count: number, below: (limit: number) => number): number[] {
  const list = Array.from({ length: count }, (_, k) => k);
  for (let k = count - 1; k > 0; k--) {
    const other = below(k + 1);
    [list[k], list[other]] = [list[other]!, list[k]!];
  }
  return list;
}

/** What is wrong with the basis, its inverse, its levels and its prices. */
function basisFaults(simplex: Simplex, program: Program, near = 1e-7): string[] {
  const faults: string[] = [];
  const all = allOf(program);
  const { basis, level, duals, inBasis } = insideOf(simplex);
  const held = new Set(basis);
  if (held.size !== basis.length) faults.push("a column is basic twice");
  all.forEach((_, column) => {
    if (inBasis[column] !== held.has(column)) faults.push(`column ${column} is thought otherwise`);
  });
  const result = new Float64Array(basis.length);
  const sums = program.right.map((right) => -right);
  basis.forEach((column, row) => {
    insideOf(simplex).solveColumn(column, result);
    result.forEach((value, other) => {
      const wanted = other === row ? 1 : 0;
      if (!(Math.abs(value - wanted) < near)) faults.push(`${row}, ${other}: ${value}`);
    });
    const { cost, rows, coefficients } = all[column]!;
    let priced = 0;
    rows.forEach((at, k) => {
      sums[at]! += coefficients[k]! * level[row]!;
      priced += coefficients[k]! * duals[at]!;
    });
    if (!(Math.abs(priced - cost) < near * Math.max(1, Math.abs(cost)))) {
      faults.push(`column ${column} of cost ${cost} is priced at ${priced}`);
    }
  });
  const size = Math.max(1, ...program.right.map(Math.abs));
  sums.forEach((sum, row) => {
    if (!(Math.abs(sum) < near * size)) faults.push(`row ${row} is out by ${sum}`);
  });
  return faults.slice(0, 3);
}

/** What a solution lacks of an optimum. */
function optimumFaults(simplex: Simplex, program: Program): string[] {
  const faults = basisFaults(simplex, program, 1e-6);
  const { level, duals } = insideOf(simplex);
  level.forEach((one, row) => {
    if (!(one >= 0)) faults.push(`level ${one} in row ${row}`);
  });
  allOf(program).forEach(({ cost, rows, coefficients }, column) => {
    const priced = rows.reduce((sum, row, k) => sum + duals[row]! * coefficients[k]!, 0);
    if (!(priced < cost + 1e-6 * Math.max(1, Math.abs(cost))))
      faults.push(`column ${column} saves`);
  });
  return faults.slice(0, 3);
}

/** A covering program: surplus columns and columns of `held` rows each. */
function covering(rows: number, columns: number, held: number, seed: number): Program {
  const below = numbers(seed);
  return {
    right: Array.from({ length: rows }, () => below(30)),
    start: Array.from({ length: rows }, () => 90),
    columns: [
      ...Array.from({ length: rows }, (_, row) => ({ cost: 0, rows: [row], coefficients: [-1] })),
      ...Array.from({ length: columns }, (): Column => {
        const used = shuffled(rows, below).slice(0, held);
        return {
          cost: 10 + below(60),
          rows: used,
          coefficients: used.map(() => (1 + below(5)) / (1 + below(3))),
        };
      }),
    ],
  };
}

/** Columns of a square matrix given by rows of entries, 0 for none. */
function columnsOf(matrix: readonly (readonly number[])[]): Column[] {
  return matrix[0]!.map((_, c) => {
    const rows = matrix.map((_row, r) => r).filter((r) => matrix[r]![c] !== 0);
    return { cost: 1 + c, rows, coefficients: rows.map((r) => matrix[r]![c]!) };
  });
}

/** A program whose own columns, as many as rows, are made its basis. */
function withBasis(columns: readonly Column[]): { simplex: Simplex; program: Program } {
  const right = columns.map(() => 0);
  // every column once, so that all levels are 1
  for (const { rows, coefficients } of columns) {
    rows.forEach((row, k) => (right[row]! += coefficients[k]!));
  }
  const program = { right, start: columns.map(() => 1000), columns };
  const simplex = simplexOf(program);
  const { basis, inBasis } = insideOf(simplex);
  inBasis.fill(false, 0, columns.length);
  inBasis.fill(true, columns.length);
  basis.forEach((_, row) => (basis[row] = columns.length + row));
  return { simplex, program };
}

/** The matrix with rows and columns in other places. */
function mixed(
  matrix: readonly (readonly number[])[],
  below: (limit: number) => number
): number[][] {
  const rows = shuffled(matrix.length, below);
  const columns = shuffled(matrix.length, below);
  return rows.map((r) => columns.map((c) => matrix[r]![c]!));
}

/** Entries off the diagonal: a product that fills nothing in holds no more. */
function offDiagonal(matrix: readonly (readonly number[])[]): number {
  return matrix.flat().filter((value) => value !== 0).length - matrix.length;
}

/**
 * Rows only the first columns reach, then rows the middle ones reach, then rows each of the last ones reaches alone or with
 * those before it: first and last triangular, the middle full or like an arrow.
 */
function layered(
  first: number,
  middle: number,
  last: number,
  arrow: boolean,
  below: (limit: number) => number
): number[][] {
  const size = first + middle + last;
  const some = (): number => (below(3) > 0 ? 0 : 1 + below(8));
  const matrix = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const isMiddle = (k: number): boolean => k >= first && k < first + middle;
  for (let r = 0; r < size; r++) {
    // a row past the middle reaches all of it or none: where it reached a part, the rest would be filled in
    const past = some();
    for (let c = 0; c < size; c++) {
      const isHead = r === first || c === first;
      if (r === c) matrix[r]![c] = 3 + below(3);
      else if (isMiddle(r) && isMiddle(c)) {
        matrix[r]![c] = !arrow || isHead ? 1 + ((3 * r + 5 * c + r * c) % 7) / 8 : 0;
      } else if (c < r) matrix[r]![c] = isMiddle(c) ? past : some();
    }
  }
  return matrix;
}

describe("the product of factors", () => {
  it("is the inverse of the basis wherever it has got to, and prices and levels are those of the basis", () => {
    for (const [rows, columns, held, seed] of [
      [24, 150, 4, 41],
      [30, 120, 9, 5],
    ] as const) {
      const program = covering(rows, columns, held, seed);
      const simplex = simplexOf(program);
      let ended = false;
      while (!ended) {
        ended = simplex.solve(held === 4 ? 3 : 11);
        expect(basisFaults(simplex, program)).toEqual([]);
      }
      // longer than the time between two rebuilds
      expect(simplex.pivots).toBeGreaterThan(66);
      expect(optimumFaults(simplex, program)).toEqual([]);
    }
  });

  it("is one factor longer for each pivot, and begins anew after 64", () => {
    const program = covering(30, 150, 5, 3);
    const simplex = simplexOf(program);
    const { factorRow } = insideOf(simplex);
    expect(factorRow).toHaveLength(0);
    for (let count = 1; count <= 64; count++) {
      simplex.solve(1);
      expect(simplex.pivots).toBe(count);
      expect(insideOf(simplex).factorRow).toHaveLength(count);
    }
    while (!simplex.solve(1)) {
      // one for each basic column at most, and one for each pivot since
      expect(insideOf(simplex).factorRow.length).toBeLessThanOrEqual(30 + 64);
    }
    expect(simplex.pivots).toBeGreaterThan(70);
  });

  it("is rebuilt with no entry more than a basis has that can be put in a triangle", () => {
    for (let seed = 1; seed <= 12; seed++) {
      const below = numbers(seed);
      const size = 4 + 2 * seed;
      const cut = below(size);
      const matrix = mixed(layered(cut, 0, size - cut, false, below), below);
      const { simplex, program } = withBasis(columnsOf(matrix));
      insideOf(simplex).rebuild();
      expect(insideOf(simplex).factors.end).toBe(offDiagonal(matrix));
      expect(basisFaults(simplex, program)).toEqual([]);
      expect([...insideOf(simplex).level].every((one) => Math.abs(one - 1) < 1e-7)).toBe(true);
    }
  });

  it("is rebuilt with no entry more than the basis has outside a full middle, or one like an arrow", () => {
    for (let seed = 1; seed <= 24; seed++) {
      const below = numbers(100 + seed);
      const arrow = seed % 2 === 0;
      const middle = arrow ? 3 + (seed % 7) : 2 + (seed % 4);
      const matrix = mixed(layered(seed % 5, middle, (3 * seed) % 7, arrow, below), below);
      const { simplex, program } = withBasis(columnsOf(matrix));
      insideOf(simplex).rebuild();
      expect(basisFaults(simplex, program)).toEqual([]);
      expect(insideOf(simplex).factors.end).toBeLessThanOrEqual(offDiagonal(matrix));
    }
  });

  it("holds nothing of unit columns", () => {
    const unit = Array.from({ length: 7 }, (_, r) =>
      Array.from({ length: 7 }, (_c, c) => +(r === c))
    );
    const { simplex, program } = withBasis(columnsOf(mixed(unit, numbers(5))));
    insideOf(simplex).rebuild();
    expect(insideOf(simplex).factorRow).toHaveLength(0);
    expect(basisFaults(simplex, program)).toEqual([]);
    // twice a unit column is another matter
    const double = unit.map((row) => row.map((value) => 2 * value));
    const { simplex: other, program: its } = withBasis(columnsOf(double));
    insideOf(other).rebuild();
    expect(insideOf(other).factorRow).toHaveLength(7);
    expect(basisFaults(other, its)).toEqual([]);
  });

  it("pivots on no entry a thousand times smaller than others it could take", () => {
    // an arrow with specks on its diagonal: sparse, and worth nothing by its specks
    for (const speck of [1e-3, 1e-5, 1e-7]) {
      const size = 9;
      const matrix = Array.from({ length: size }, (_, r) =>
        Array.from({ length: size }, (_c, c) => {
          if (r === 0 || c === 0) return 1 + ((2 * r + 3 * c) % 5) / 4;
          return r === c ? speck : r === c + 1 ? 1 : 0;
        })
      );
      const { simplex, program } = withBasis(columnsOf(matrix));
      insideOf(simplex).rebuild();
      expect(basisFaults(simplex, program, 1e-11)).toEqual([]);
    }
  });

  it("goes on where no entry is left to pivot on: a row's own unit column takes the place", () => {
    const below = numbers(9);
    const rows = 12;
    const program = covering(rows, 60, 4, 77);
    const best = simplexOf(program);
    expect(best.solve(500)).toBe(true);
    for (let turn = 0; turn < 8; turn++) {
      const twin = shuffled(60, below)[0]!;
      // a column twice, at other costs: both in the basis would leave nothing for the second
      const twins = { ...program.columns[rows + twin]!, cost: 500 };
      const speck = { cost: 400, rows: [turn % rows], coefficients: [1e-9] };
      const own = { ...program, columns: [...program.columns, twins, speck] };
      const simplex = simplexOf(own);
      simplex.solve(turn * 9);
      const { basis, inBasis } = insideOf(simplex);
      const places = shuffled(rows, below);
      const put = [2 * rows + twin, 2 * rows + 60, ...(turn % 2 ? [2 * rows + 61] : [])];
      put
        .filter((column) => !inBasis[column])
        .forEach((column, k) => {
          inBasis[basis[places[k]!]!] = false;
          inBasis[column] = true;
          basis[places[k]!] = column;
        });
      simplex.reset();
      expect(basisFaults(simplex, own)).toEqual([]);
      expect(insideOf(simplex).factorPivot.every((one) => Math.abs(one) >= 1e-8)).toBe(true);
      expect(simplex.solve(500)).toBe(true);
      expect(optimumFaults(simplex, own)).toEqual([]);
      expect(simplex.objective).toBeCloseTo(best.objective, 6);
    }
  });

  it("grows past any first size, and is still the inverse", () => {
    // 64 pivots over 100 rows, most of them filled
    const program = covering(100, 300, 30, 23);
    const simplex = simplexOf(program);
    expect(simplex.solve(63)).toBe(false);
    expect(insideOf(simplex).factors.end).toBeGreaterThan(4096);
    expect(basisFaults(simplex, program, 1e-6)).toEqual([]);
    for (let count = 0; count < 64; count++) simplex.solve(1);
    expect(basisFaults(simplex, program, 1e-6)).toEqual([]);
  });
});

/** Least cost of a tiny program by trying every basis; NaN where none is feasible. */
function leastOf(program: Program): number {
  const all = allOf(program);
  const rows = program.right.length;
  const dense = all.map(({ rows: used, coefficients }) => {
    const column = program.right.map(() => 0);
    used.forEach((row, k) => (column[row] = coefficients[k]!));
    return column;
  });
  let least = NaN;
  const tried = (chosen: readonly number[]): void => {
    const table = program.right.map((right, r) => [...chosen.map((c) => dense[c]![r]!), right]);
    for (let k = 0; k < rows; k++) {
      let at = k;
      for (let r = k; r < rows; r++) if (Math.abs(table[r]![k]!) > Math.abs(table[at]![k]!)) at = r;
      if (Math.abs(table[at]![k]!) < 1e-9) return;
      [table[k], table[at]] = [table[at]!, table[k]!];
      for (let r = 0; r < rows; r++) {
        const by = r === k ? 0 : table[r]![k]! / table[k]![k]!;
        for (let c = k; c <= rows; c++) table[r]![c]! -= by * table[k]![c]!;
      }
    }
    const levels = table.map((row, k) => row[rows]! / row[k]!);
    if (levels.some((level) => level < -1e-9)) return;
    const cost = levels.reduce((sum, level, k) => sum + level * all[chosen[k]!]!.cost, 0);
    if (!(cost >= least)) least = cost;
  };
  const choose = (chosen: readonly number[], from: number): void => {
    if (chosen.length === rows) return tried(chosen);
    for (let c = from; c < all.length; c++) choose([...chosen, c], c + 1);
  };
  choose([], 0);
  return least;
}

/** Tiny programs with entries of both signs; costs of 0 or more, so that none falls for ever. */
const tinyPrograms: fc.Arbitrary<Program> = fc
  .record({
    right: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 3, maxLength: 3 }),
    start: fc.array(fc.integer({ min: 5, max: 40 }), { minLength: 3, maxLength: 3 }),
    columns: fc.array(
      fc.tuple(
        fc.integer({ min: 0, max: 20 }),
        fc.array(fc.integer({ min: -2, max: 3 }), { minLength: 3, maxLength: 3 })
      ),
      { minLength: 1, maxLength: 6 }
    ),
  })
  .map(({ right, start, columns }) => ({
    right,
    start,
    columns: columns.map(([cost, counts]): Column => {
      const rows = counts.map((_, row) => row).filter((row) => counts[row] !== 0);
      return { cost, rows, coefficients: rows.map((row) => counts[row]!) };
    }),
  }));

describe("tiny programs", () => {
  it("end at the least cost of all bases, also after other right-hand sides and costs", () => {
    fc.assert(
      fc.property(
        tinyPrograms,
        fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 3, maxLength: 3 }),
        fc.integer({ min: 0, max: 30 }),
        (program, right, cost) => {
          const simplex = simplexOf(program);
          expect(simplex.solve(200)).toBe(true);
          expect(simplex.objective).toBeCloseTo(leastOf(program), 6);
          expect(optimumFaults(simplex, program)).toEqual([]);
          simplex.reset(right);
          expect(Math.min(...insideOf(simplex).level)).toBeGreaterThanOrEqual(0);
          expect(basisFaults(simplex, { ...program, right })).toEqual([]);
          expect(simplex.solve(200)).toBe(true);
          expect(simplex.objective).toBeCloseTo(leastOf({ ...program, right }), 6);
          simplex.setCost(3, cost);
          simplex.reset();
          expect(simplex.solve(200)).toBe(true);
          const columns = program.columns.map((one, k) => (k === 0 ? { ...one, cost } : one));
          expect(simplex.objective).toBeCloseTo(leastOf({ ...program, right, columns }), 6);
        }
      ),
      law(61, 20)
    );
  });

  it("end at it where the rule for the most saved goes round in a circle", () => {
    // Two rows of right-hand side 0; a turn by a third of a circle in other coordinates takes each pair of columns to
    // the next, so that after six pivots the same six columns stand in the same places. The third row ends every gain.
    for (const [a, b, cost] of [
      [-1.5, 4, [1.5, 2.25]],
      [2, -0.0625, [1, 0]],
      [3.5, -0.125, [4, 0]],
      [2.75, 0.125, [-0.75, -0.5]],
    ] as const) {
      const c = (-a - a * a - 1) / b;
      const turn = [
        [a, b],
        [c, -1 - a],
      ];
      const twice = [
        [-1 - a, -b],
        [-c, a],
      ];
      const after = [
        cost[0] + cost[0] * a + cost[1] * c,
        cost[1] + cost[0] * b + cost[1] * (-1 - a),
      ];
      const column = (matrix: number[][], k: number, one: number): Column => ({
        cost: one,
        rows: [0, 1, 2],
        coefficients: [matrix[0]![k]!, matrix[1]![k]!, 1],
      });
      const program: Program = {
        right: [0, 0, 1],
        start: [0, 0, 0],
        columns: [
          column(turn, 0, cost[0]),
          column(turn, 1, cost[1]),
          column(twice, 0, after[0]!),
          column(twice, 1, after[1]!),
        ],
      };
      const simplex = simplexOf(program);
      expect(simplex.solve(390)).toBe(false);
      expect(simplex.objective).toBe(0);
      expect(simplex.solve(1000)).toBe(true);
      expect(simplex.objective).toBeCloseTo(leastOf(program), 6);
      expect(optimumFaults(simplex, program)).toEqual([]);
    }
  });

  it("end where they stand when nothing limits what a column gains", () => {
    const program: Program = {
      right: [4, 3],
      start: [5, 6],
      // a unit of it brings 20, and two more unit columns for 11
      columns: [{ cost: -20, rows: [0, 1], coefficients: [-1, -1] }],
    };
    const simplex = simplexOf(program);
    expect(simplex.solve(100)).toBe(true);
    expect(simplex.pivots).toBe(0);
    expect(simplex.objective).toBe(38);
    expect(basisFaults(simplex, program)).toEqual([]);
  });

  it("start over from the unit columns where mending the levels goes on too long", () => {
    // As of a circle: each column costs its length, so every one of them is the best for some right-hand side, and from one
    // end to the other prices go past them all.
    const many = 60;
    const program: Program = {
      right: [1, many - 1],
      start: [90, 90],
      columns: Array.from({ length: many - 1 }, (_, k): Column => ({
        cost: Math.hypot(k + 1, many - k - 1),
        rows: [0, 1],
        coefficients: [k + 1, many - k - 1],
      })),
    };
    const simplex = simplexOf(program);
    for (const at of [1, many - 1, 2, 30, many - 2]) {
      const right = [at, many - at];
      const before = simplex.pivots;
      simplex.reset(right);
      // two rows: no more than eight steps
      expect(simplex.pivots - before).toBeLessThanOrEqual(8);
      expect(basisFaults(simplex, { ...program, right })).toEqual([]);
      expect(Math.min(...insideOf(simplex).level)).toBeGreaterThanOrEqual(0);
      expect(simplex.solve(200)).toBe(true);
      // the column of that direction, once
      expect(simplex.objective).toBeCloseTo(Math.hypot(at, many - at), 6);
      expect(optimumFaults(simplex, { ...program, right })).toEqual([]);
    }
    simplex.reset([many - 2, 2]);
    simplex.reset([1, many - 1]);
    // at the start again: each row by its own column
    expect(simplex.solution().map(({ column }) => column)).toEqual([0, 1]);
  });
});

describe("the column to enter", () => {
  it("is the one that saves most of those looked at together, wherever it stands", () => {
    for (const [count, best] of [
      [30, 29],
      [30, 0],
      [49, 48],
      [100, 50],
      [599, 598],
    ] as const) {
      for (const falls of [true, false]) {
        const columns = Array.from({ length: count }, (_, k) => ({
          cost: k === best ? 2 : 10 + (falls ? count - k : k) / 16,
          rows: [0],
          coefficients: [1],
        }));
        const simplex = simplexOf({ right: [3], start: [90], columns });
        expect(simplex.solve(10)).toBe(true);
        // any other would be pivoted out again
        expect(simplex.pivots).toBe(1);
        expect(simplex.solution()).toEqual([{ column: 1 + best, level: 3 }]);
      }
    }
  });

  it("is looked for in another part of the columns each time", () => {
    // twelve parts of 700 columns, each of a row of its own
    const columns = Array.from({ length: 12 * 700 }, (_, k) => ({
      cost: 5 + (k % 9),
      rows: [Math.floor(k / 700)],
      coefficients: [1],
    }));
    const simplex = simplexOf({
      right: new Array<number>(12).fill(2),
      start: new Array<number>(12).fill(50),
      columns,
    });
    for (let turn = 1; turn <= 12; turn++) {
      simplex.solve(1);
      const parts = simplex.solution().filter(({ column }) => column >= 12);
      expect(parts).toHaveLength(turn);
    }
    // each row by the cheapest of its columns
    expect(simplex.solve(100)).toBe(true);
    expect(simplex.objective).toBe(12 * 2 * 5);
  });

  it("is one of those found before while any of them saves, and looked for anew only then", () => {
    const rows = 20;
    // the best of all are one for each row: one look finds them, and another one that nothing is left
    const columns = Array.from({ length: 560 }, (_, k) => ({
      cost: k < rows ? 1 + (k % 5) : 10 + (k % 13),
      rows: [k % rows],
      coefficients: [1],
    }));
    const simplex = simplexOf({
      right: new Array<number>(rows).fill(1),
      start: new Array<number>(rows).fill(90),
      columns,
    });
    const looks = { count: 0 };
    const { price } = simplex as unknown as { price: (careful: boolean) => number[] };
    (simplex as unknown as { price: typeof price }).price = (careful): number[] => {
      looks.count++;
      return price.call(simplex, careful);
    };
    simplex.solve(1);
    // two dozen of all that save are kept at hand
    const { candidates } = simplex as unknown as { candidates: number[] };
    expect(candidates).toHaveLength(24);
    const kept = new Set(candidates.map((column) => column - rows));
    expect(columns.slice(0, rows).every((_, k) => kept.has(k))).toBe(true);
    expect(simplex.solve(200)).toBe(true);
    expect(simplex.pivots).toBeGreaterThanOrEqual(rows);
    expect(looks.count).toBeLessThan(simplex.pivots / 2);
    const found = columns.slice(0, rows).reduce((sum, { cost }) => sum + cost, 0);
    expect(simplex.objective).toBeCloseTo(found, 9);
  });

  it("costs a look at a part of the columns only, and at a few of them from then on", () => {
    const rows = 20;
    const columns = Array.from({ length: 6000 }, (_, k) => ({
      cost: 1 + k / 1000,
      rows: [k % rows],
      coefficients: [1],
    }));
    const simplex = simplexOf({
      right: new Array<number>(rows).fill(1),
      start: new Array<number>(rows).fill(90),
      columns,
    });
    simplex.solve(1);
    const one = simplex.work;
    expect(one).toBeLessThan(2 * 6000);
    // less than half the columns looked at for each of the next pivots
    simplex.solve(rows);
    expect(simplex.pivots).toBeGreaterThanOrEqual(rows);
    expect(simplex.work).toBeLessThan(one + 0.5 * 2 * 6000 * rows);
    expect(simplex.solve(200)).toBe(true);
    // the last look is at all columns
    const before = simplex.work;
    expect(simplex.solve(200)).toBe(true);
    expect(simplex.work - before).toBeGreaterThanOrEqual(2 * 6000);
  });
});

describe("the work", () => {
  it("grows with all that is done, by the rows and entries gone through at least", () => {
    const rows = 40;
    const program = covering(rows, 160, 6, 41);
    const simplex = simplexOf(program);
    expect(simplex.work).toBe(0);
    const entries = allOf(program).reduce((sum, column) => sum + column.rows.length, 0);
    let pivots = 0;
    let work = 0;
    let factors = 0;
    for (let ended = false; !ended;) {
      ended = simplex.solve(1);
      if (simplex.pivots > pivots) {
        // Every entry with its price; levels, prices, the row of the inverse, the direction, who leaves, what is kept: a row
        // each; and the product once.
        const looked = 2 * entries;
        expect(simplex.work - work).toBeGreaterThanOrEqual(looked + 6 * rows + factors);
      } else expect(simplex.work).toBeGreaterThan(work);
      pivots = simplex.pivots;
      work = simplex.work;
      factors = insideOf(simplex).factors.end;
      if (pivots % 64 === 63) factors = 0;
    }
    expect(pivots).toBeGreaterThan(100);
    // a rebuild makes six lists as long as the rows, and goes through the product for levels and for prices
    simplex.reset();
    const product = insideOf(simplex).factors.end + insideOf(simplex).factorRow.length;
    expect(simplex.work - work).toBeGreaterThanOrEqual(6 * rows + 2 * product);
    expect(simplex.pivots).toBe(pivots);
  });

  it("of a rebuild is that of its lists and a look at the levels, where there are unit columns only", () => {
    const rows = 50;
    const simplex = simplexOf({
      right: new Array<number>(rows).fill(1),
      start: new Array<number>(rows).fill(9),
      columns: [],
    });
    simplex.reset();
    expect(simplex.work).toBeGreaterThanOrEqual(7 * rows);
    expect(simplex.work).toBeLessThan(20 * rows);
  });

  it("of mending a level is a look at every entry, and more for what it raises", () => {
    const rows = 8;
    const columns = Array.from({ length: 900 }, (_, k) => ({
      cost: 3 + (k % 11),
      rows: [k % rows],
      coefficients: [k < 450 ? 1 : -1],
    }));
    const simplex = simplexOf({
      right: new Array<number>(rows).fill(1),
      start: new Array<number>(rows).fill(90),
      columns: [...columns, { cost: 1, rows: [0, 1], coefficients: [2, 1] }],
    });
    expect(simplex.solve(100)).toBe(true);
    const { pivots, work } = simplex;
    // the last column covers a row of 0 too: one of -1 makes up for it
    simplex.reset([9, 1, 1, 1, 1, 1, 1, 1]);
    expect(simplex.pivots).toBeGreaterThan(pivots);
    expect(simplex.work - work).toBeGreaterThan(2 * 900 * (simplex.pivots - pivots));
    expect(simplex.work - work).toBeLessThan(10 * 900 * (simplex.pivots - pivots));
  });
});
