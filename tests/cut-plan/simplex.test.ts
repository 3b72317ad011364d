/** Linear programs with known optima, and the proof of every other optimum: prices that nothing undercuts. */
import fc from "fast-check";
import { type Column, Simplex } from "../../src/core/cut-plan/simplex.js";
import { law } from "./small-problems.js";

const NEAR = 6;

interface Program {
  readonly right: readonly number[];
  readonly start: readonly number[];
  readonly columns: readonly Column[];
}

function simplexOf({ right, start, columns }: Program): Simplex {
  const simplex = new Simplex(Float64Array.from(right), Float64Array.from(start));
  for (const column of columns) simplex.add(column);
  return simplex;
}

/** All columns, the unit columns of the rows first. */
function allOf({ start, columns }: Program): Column[] {
  return [...start.map((cost, row) => ({ cost, rows: [row], coefficients: [1] })), ...columns];
}

/**
 * What makes a solution an optimum, whatever way it was found: levels of 0 or more that meet every row, prices no column
 * undercuts, and one and the same cost by levels and by prices.
 */
function faultsOf(simplex: Simplex, program: Program): string[] {
  const faults: string[] = [];
  const all = allOf(program);
  const sums = program.right.map(() => 0);
  let cost = 0;
  for (const { column, level } of simplex.solution()) {
    if (!(level > 0)) faults.push(`level ${level} of column ${column}`);
    const { rows, coefficients } = all[column]!;
    rows.forEach((row, k) => (sums[row]! += level * coefficients[k]!));
    cost += level * all[column]!.cost;
  }
  const size = Math.max(1, ...program.right.map(Math.abs), Math.abs(cost));
  sums.forEach((sum, row) => {
    if (!(Math.abs(sum - program.right[row]!) < 1e-6 * size)) {
      faults.push(`row ${row} is ${sum}, not ${program.right[row]}`);
    }
  });
  all.forEach((column, k) => {
    let rest = column.cost;
    column.rows.forEach((row, n) => (rest -= simplex.duals[row]! * column.coefficients[n]!));
    if (!(rest > -1e-6 * Math.max(1, Math.abs(column.cost)))) {
      faults.push(`column ${k} would save ${-rest}`);
    }
  });
  const priced = program.right.reduce((sum, right, row) => sum + right * simplex.duals[row]!, 0);
  if (!(Math.abs(priced - cost) < 1e-6 * size)) faults.push(`cost ${cost}, prices ${priced}`);
  if (!(Math.abs(simplex.objective - cost) < 1e-6 * size)) {
    faults.push(`cost ${cost}, said ${simplex.objective}`);
  }
  // the first few tell enough
  return faults.slice(0, 3);
}

/** Covering programs like those of a cut plan: counts in each column, surplus columns of -1. */
function programs(rows: number, columns: number, most: number): fc.Arbitrary<Program> {
  const entry = fc.record({
    cost: fc.integer({ min: 1, max: 20 }),
    counts: fc.array(fc.integer({ min: 0, max: 3 }), { minLength: rows, maxLength: rows }),
  });
  return fc
    .record({
      right: fc.array(fc.integer({ min: 0, max: most }), { minLength: rows, maxLength: rows }),
      start: fc.array(fc.integer({ min: 20, max: 60 }), { minLength: rows, maxLength: rows }),
      columns: fc.array(entry, { minLength: 1, maxLength: columns }),
    })
    .map(({ right, start, columns: drafts }) => ({
      right,
      start,
      columns: [
        ...right.map((_, row): Column => ({ cost: 0, rows: [row], coefficients: [-1] })),
        ...drafts
          .filter(({ counts }) => counts.some((count) => count > 0))
          .map(({ cost, counts }): Column => {
            const used = counts.map((_, row) => row).filter((row) => counts[row]! > 0);
            return { cost, rows: used, coefficients: used.map((row) => counts[row]!) };
          }),
      ],
    }));
}

/** Columns of no pattern: a fixed sequence of numbers. */
function large(rows: number, columns: number, held: number, seed: number): Program {
  let state = seed;
  const below = (limit: number): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * limit);
  };
  const drafts = Array.from({ length: columns }, (): Column => {
    const used = new Set<number>();
    while (used.size < held) used.add(below(rows));
    const list = [...used].sort((a, b) => a - b);
    return {
      cost: 10 + below(60),
      rows: list,
      coefficients: list.map(() => (1 + below(5)) / (1 + below(3))),
    };
  });
  return {
    right: Array.from({ length: rows }, () => below(30)),
    start: Array.from({ length: rows }, () => 90),
    columns: [
      ...Array.from({ length: rows }, (_, row): Column => ({
        cost: 0,
        rows: [row],
        coefficients: [-1],
      })),
      ...drafts,
    ],
  };
}

describe("more columns than one look takes in", () => {
  it("still end at an optimum, wherever the column that saves most is", () => {
    // 600 columns are looked at together: one good column among 2,000 dear ones
    for (const at of [0, 599, 600, 1201, 1999]) {
      const columns: Column[] = Array.from({ length: 2000 }, (_, k) => ({
        cost: k === at ? 3 : 10 + (k % 7),
        rows: [k % 2],
        coefficients: [1],
      }));
      columns[at] = { cost: 3, rows: [0, 1], coefficients: [1, 1] };
      const program = { right: [4, 4], start: [50, 50], columns };
      const simplex = simplexOf(program);
      expect(simplex.solve(1000)).toBe(true);
      expect(faultsOf(simplex, program)).toEqual([]);
      expect(simplex.objective).toBeCloseTo(12, NEAR);
      expect(simplex.saving(2 + at)).toBeCloseTo(0, NEAR);
      const prices = simplex.duals[0]! + simplex.duals[1]!;
      expect(prices).toBeCloseTo(3, NEAR);
    }
  });
});

describe("known linear programs", () => {
  it("starts from the unit columns, at their cost", () => {
    const simplex = new Simplex(Float64Array.of(3, 4), Float64Array.of(5, 7));
    expect([simplex.objective, simplex.pivots, simplex.columnCount, simplex.rowCount]).toEqual([
      43, 0, 2, 2,
    ]);
    expect(simplex.solution()).toEqual([
      { column: 0, level: 3 },
      { column: 1, level: 4 },
    ]);
    expect([...simplex.duals]).toEqual([5, 7]);
    expect(simplex.solve(10)).toBe(true);
    expect(simplex.pivots).toBe(0);
  });

  it("cuts 97 of 45, 610 of 36, 395 of 31 and 211 of 14 from lengths of 100 at 452.25", () => {
    // the cutting example of the textbooks (from memory), by the patterns of its relaxation
    const program: Program = {
      right: [97, 610, 395, 211],
      start: [1, 1, 1, 1],
      columns: [
        { cost: 1, rows: [0], coefficients: [2] },
        { cost: 1, rows: [1, 3], coefficients: [2, 2] },
        { cost: 1, rows: [1, 2], coefficients: [1, 2] },
        { cost: 1, rows: [1], coefficients: [2] },
        { cost: 1, rows: [2], coefficients: [3] },
        { cost: 1, rows: [3], coefficients: [7] },
      ],
    };
    const simplex = simplexOf(program);
    expect(simplex.solve(100)).toBe(true);
    // 97/2 + 395/2 of the third, (610 - 197.5)/2 of the second and fourth
    expect(simplex.objective).toBeCloseTo(48.5 + 197.5 + 206.25, NEAR);
    expect(faultsOf(simplex, program)).toEqual([]);
  });

  it("gets out of a program on which the plainest rule goes round in a circle", () => {
    // Beale's example (from memory): optimum -1/20
    const program: Program = {
      right: [0, 0, 1],
      start: [0, 0, 0],
      columns: [
        { cost: -0.75, rows: [0, 1], coefficients: [0.25, 0.5] },
        { cost: 150, rows: [0, 1], coefficients: [-60, -90] },
        { cost: -0.02, rows: [0, 1, 2], coefficients: [-1 / 25, -1 / 50, 1] },
        { cost: 6, rows: [0, 1], coefficients: [9, 3] },
      ],
    };
    const simplex = simplexOf(program);
    expect(simplex.solve(500)).toBe(true);
    expect(simplex.objective).toBeCloseTo(-0.05, NEAR);
    expect(faultsOf(simplex, program)).toEqual([]);
  });

  it("counts its pivots and stops at the number asked for", () => {
    const program = large(20, 60, 4, 11);
    const simplex = simplexOf(program);
    expect(simplex.solve(0)).toBe(false);
    expect(simplex.pivots).toBe(0);
    expect(simplex.solve(5)).toBe(false);
    expect(simplex.pivots).toBe(5);
    const before = simplex.objective;
    const work = simplex.work;
    expect(work).toBeGreaterThanOrEqual(5 * simplex.rowCount);
    expect(simplex.solve(200)).toBe(true);
    expect(simplex.objective).toBeLessThan(before);
    expect(simplex.work).toBeGreaterThan(work);
    expect(faultsOf(simplex, program)).toEqual([]);
    const pivots = simplex.pivots;
    expect(simplex.solve(200)).toBe(true);
    expect(simplex.pivots).toBe(pivots);
  });
});

describe("optima prove themselves", () => {
  it("of small covering programs", () => {
    fc.assert(
      fc.property(programs(4, 8, 9), (program) => {
        const simplex = simplexOf(program);
        expect(simplex.solve(200)).toBe(true);
        expect(faultsOf(simplex, program)).toEqual([]);
      }),
      law(21, 40)
    );
  });

  it("of larger ones, rebuilt many times", () => {
    for (const [rows, columns, held, seed] of [
      [30, 120, 5, 3],
      [40, 160, 12, 5],
      [40, 80, 2, 7],
    ] as const) {
      const program = large(rows, columns, held, seed);
      const simplex = simplexOf(program);
      expect(simplex.solve(2000)).toBe(true);
      expect(simplex.pivots).toBeGreaterThan(30);
      expect(faultsOf(simplex, program)).toEqual([]);
    }
  });

  it("of ones whose levels are nearly all 0", () => {
    const program = large(24, 120, 5, 13);
    const degenerate = { ...program, right: program.right.map((_, row) => (row === 7 ? 5 : 0)) };
    const simplex = simplexOf(degenerate);
    expect(simplex.solve(1500)).toBe(true);
    expect(faultsOf(simplex, degenerate)).toEqual([]);
  });

  it("after columns are added to a solved one", () => {
    fc.assert(
      fc.property(programs(4, 6, 9), programs(4, 6, 9), (program, more) => {
        const simplex = simplexOf(program);
        simplex.solve(200);
        const before = simplex.objective;
        const added = more.columns.filter(({ cost }) => cost > 0);
        for (const column of added) simplex.add(column);
        expect(simplex.columnCount).toBe(4 + program.columns.length + added.length);
        expect(simplex.solve(200)).toBe(true);
        expect(simplex.objective).toBeLessThanOrEqual(before + 1e-9);
        const all = { ...program, columns: [...program.columns, ...added] };
        expect(faultsOf(simplex, all)).toEqual([]);
      }),
      law(22, 25)
    );
  });

  it("after other right-hand sides, small and large", () => {
    fc.assert(
      fc.property(programs(4, 8, 9), programs(4, 1, 20), (program, { right }) => {
        const simplex = simplexOf(program);
        simplex.solve(200);
        for (const other of [right, right.map(() => 0), program.right]) {
          simplex.reset(other);
          const levels = simplex.solution().map(({ level }) => level);
          expect(levels.every((level) => level >= 0)).toBe(true);
          expect(simplex.solve(200)).toBe(true);
          expect(faultsOf(simplex, { ...program, right: other })).toEqual([]);
        }
      }),
      law(23, 25)
    );
    const program = large(40, 160, 5, 17);
    const simplex = simplexOf(program);
    simplex.solve(800);
    for (const shift of [3, 7]) {
      const right = program.right.map((_, row) => (row * shift) % 11);
      simplex.reset(right);
      expect(simplex.solve(800)).toBe(true);
      expect(faultsOf(simplex, { ...program, right })).toEqual([]);
    }
  });

  it("after a column is made dearer or cheaper", () => {
    fc.assert(
      fc.property(
        programs(4, 8, 9),
        fc.integer({ min: 0, max: 7 }),
        fc.integer({ min: 1, max: 90 }),
        (program, which, cost) => {
          const at = 4 + (which % (program.columns.length - 4 || 1));
          if (at >= program.columns.length) return;
          const simplex = simplexOf(program);
          simplex.solve(200);
          simplex.setCost(4 + at, cost);
          simplex.reset(program.right);
          expect(simplex.solve(200)).toBe(true);
          const columns = program.columns.map((one, k) => (k === at ? { ...one, cost } : one));
          expect(faultsOf(simplex, { ...program, columns })).toEqual([]);
        }
      ),
      law(24, 25)
    );
  });

  it("starts again from the unit columns where no other column helps", () => {
    // rows that must be met exactly: of two and three at once, 5 and 0 need the unit columns
    const program: Program = {
      right: [2, 3],
      start: [50, 60],
      columns: [{ cost: 7, rows: [0, 1], coefficients: [2, 3] }],
    };
    const simplex = simplexOf(program);
    expect(simplex.solve(50)).toBe(true);
    expect(simplex.objective).toBeCloseTo(7, NEAR);
    for (const [right, cost] of [
      [[5, 0], 250],
      [[2, 6], 7 + 180],
      [[0, 0], 0],
      [[4, 6], 14],
      [[0, 3], 180],
    ] as const) {
      simplex.reset(right);
      expect(simplex.solve(50)).toBe(true);
      expect(simplex.objective).toBeCloseTo(cost, NEAR);
      expect(faultsOf(simplex, { ...program, right })).toEqual([]);
    }
    fc.assert(
      fc.property(programs(4, 8, 9), programs(4, 1, 20), (given, { right }) => {
        const exact = { ...given, columns: given.columns.filter(({ cost }) => cost > 0) };
        const lp = simplexOf(exact);
        lp.solve(200);
        lp.reset(right);
        expect(lp.solve(200)).toBe(true);
        expect(faultsOf(lp, { ...exact, right })).toEqual([]);
      }),
      law(26, 40)
    );
  });
});
