/** The pattern table against trying every cut, and its patterns cut again. */
import fc from "fast-check";
import {
  type Detail,
  Knapsack,
  type KnapsackItem,
  type KnapsackTree,
} from "../../src/core/cut-plan/knapsack.js";
import { law } from "./small-problems.js";

const FULL: Detail = { kind: "full", step: 1 };
const MANY = 1e6;

/** Best value of every rectangle up to a size, by every cut there is. */
function everyCut(
  items: readonly KnapsackItem[],
  values: readonly number[],
  width: number,
  height: number
): number[][] {
  const best: number[][] = Array.from({ length: width + 1 }, () =>
    new Array<number>(height + 1).fill(0)
  );
  for (let w = 1; w <= width; w++) {
    for (let h = 1; h <= height; h++) {
      let most = 0;
      items.forEach((item, k) => {
        if (item.w <= w && item.h <= h) most = Math.max(most, values[k]!);
      });
      for (let x = 1; x < w; x++) most = Math.max(most, best[x]![h]! + best[w - x]![h]!);
      for (let y = 1; y < h; y++) most = Math.max(most, best[w]![y]! + best[w]![h - y]!);
      best[w]![h] = most;
    }
  }
  return best;
}

interface Measured {
  readonly w: number;
  readonly h: number;
  readonly value: number;
}

/** Size and value of a pattern, from its items up. */
function measure(
  tree: KnapsackTree | null,
  items: readonly KnapsackItem[],
  values: readonly number[]
): Measured {
  if (!tree) return { w: 0, h: 0, value: 0 };
  if (tree.cut === "none") {
    expect([tree.first, tree.second]).toEqual([null, null]);
    const { w, h } = items[tree.item]!;
    return { w, h, value: values[tree.item]! };
  }
  expect([tree.item, ["plumb", "level"].includes(tree.cut)]).toEqual([-1, true]);
  const a = measure(tree.first, items, values);
  const b = measure(tree.second, items, values);
  const value = a.value + b.value;
  if (tree.cut === "plumb") return { w: a.w + b.w, h: Math.max(a.h, b.h), value };
  return { w: Math.max(a.w, b.w), h: a.h + b.h, value };
}

/** True where a pattern is cut in two with nothing on one side. */
function hasEmptySide(tree: KnapsackTree | null): boolean {
  if (!tree || tree.cut === "none") return false;
  if (!tree.first || !tree.second) return true;
  return hasEmptySide(tree.first) || hasEmptySide(tree.second);
}

const cases = fc.record({
  items: fc.array(
    fc.record({
      w: fc.integer({ min: 2, max: 9 }),
      h: fc.integer({ min: 2, max: 11 }),
      value: fc.integer({ min: 0, max: 30 }),
    }),
    { minLength: 1, maxLength: 6 }
  ),
  width: fc.integer({ min: 6, max: 14 }),
  height: fc.integer({ min: 6, max: 18 }),
});

describe("patterns with each item", () => {
  const leaves = (tree: KnapsackTree | null): number[] => {
    if (!tree) return [];
    return tree.cut === "none" ? [tree.item] : [...leaves(tree.first), ...leaves(tree.second)];
  };
  /** The item in the lower left corner. */
  const corner = (tree: KnapsackTree): number =>
    tree.cut === "none" ? tree.item : corner(tree.first!);

  it("hold it in a corner, fit, and are worth more than asked, the best of each first", () => {
    let held = 0;
    fc.assert(
      fc.property(cases, fc.constantFrom(0, 0.5, 0.9), ({ items, width, height }, share) => {
        const values = items.map(({ value }) => value);
        const table = new Knapsack(items, width, height, [height]);
        const best = everyCut(items, values, width, height);
        for (const detail of [FULL, { kind: "few", most: 6 }] as const) {
          table.solve(values, detail, MANY);
          const above = Math.floor(share * table.value(width, height));
          const trees = table.treesWithEach(width, height, above, 100);
          const measured = trees.map((tree) => measure(tree, items, values));
          for (const { w, h, value } of measured) {
            expect(w).toBeLessThanOrEqual(width);
            expect(h).toBeLessThanOrEqual(height);
            expect(value).toBeGreaterThan(above);
            expect(value).toBeLessThanOrEqual(best[width]![height]!);
          }
          for (const tree of trees) expect(hasEmptySide(tree)).toBe(false);
          const worth = measured.map(({ value }) => value);
          expect(worth).toEqual([...worth].sort((a, b) => b - a));
          expect(new Set(trees.map(corner)).size).toBe(trees.length);
          for (const tree of trees) expect(leaves(tree)).toContain(corner(tree));
          held += trees.length;
          expect(table.treesWithEach(width, height, above, 2)).toEqual(trees.slice(0, 2));
        }
      }),
      law(23, 80)
    );
    expect(held).toBeGreaterThan(100);
  });
});

describe("the exact table", () => {
  it("has the value of trying every cut, for every smaller rectangle", () => {
    fc.assert(
      fc.property(cases, ({ items, width, height }) => {
        const values = items.map(({ value }) => value);
        const table = new Knapsack(items, width, height, [height]);
        expect(table.solve(values, FULL, MANY)).toBe(true);
        const best = everyCut(items, values, width, height);
        expect(best.map((row, w) => row.map((_, h) => table.value(w, h)))).toEqual(best);
        expect(table.value(width + 1, height + 5)).toBe(best[width]![height]);
        expect(table.work).toBeGreaterThanOrEqual(table.states);
      }),
      law(1, 60)
    );
  });

  it("gives patterns that can be cut and are worth what it says, the best first", () => {
    fc.assert(
      fc.property(cases, fc.integer({ min: 1, max: 6 }), ({ items, width, height }, most) => {
        const values = items.map(({ value }) => value);
        const table = new Knapsack(items, width, height, [height]);
        table.solve(values, FULL, MANY);
        const best = table.value(width, height);
        const above = Math.floor(best / 2);
        const trees = table.trees(width, height, above, most);
        expect(trees.length).toBeLessThanOrEqual(most);
        const measured = trees.map((tree) => measure(tree, items, values));
        for (const { w, h, value } of measured) {
          expect(w).toBeLessThanOrEqual(width);
          expect(h).toBeLessThanOrEqual(height);
          expect(value).toBeGreaterThan(above);
        }
        if (trees.length > 0) expect(hasEmptySide(trees[0]!)).toBe(false);
        for (const { first, second } of trees) {
          expect(hasEmptySide(first) || hasEmptySide(second)).toBe(false);
        }
        const worth = measured.map(({ value }) => value);
        if (best > above) expect(worth[0]).toBe(best);
        expect(worth).toEqual([...worth].sort((a, b) => b - a));
        expect(table.trees(width, height, best, most)).toEqual([]);
        // all but the first have values of their own
        expect(new Set(worth.slice(1)).size).toBe(Math.max(0, worth.length - 1));
      }),
      law(2, 80)
    );
  });

  it("knows many widths and heights that no cut leads to", () => {
    // 20 to 39: of no two is another the sum
    const sizes = Array.from({ length: 20 }, (_, k) => 20 + k);
    const values = sizes.map((size, k) => 10 * size + ((k * 7) % 10));
    const across = sizes.map((size) => ({ w: size, h: 1 }));
    const beside = new Knapsack(across, 100, 1, [1]);
    beside.solve(values, FULL, MANY);
    const best = everyCut(across, values, 100, 1);
    expect(best.map((row, w) => row.map((_, h) => beside.value(w, h)))).toEqual(best);
    const along = sizes.map((size) => ({ w: 1, h: size }));
    const above = new Knapsack(along, 1, 100, [100]);
    above.solve(values, FULL, MANY);
    expect(best.map((row, h) => row.map((_, w) => above.value(w, h)))).toEqual(best);
  });

  it("is not made where it would hold more rectangles than may be", () => {
    const table = new Knapsack([{ w: 5, h: 4 }], 12, 9, [9]);
    // widths 0, 5, 10 and heights 0, 4, 8
    expect(table.solve([7], FULL, 8)).toBe(false);
    expect(table.solve([7], FULL, 9)).toBe(true);
    expect(table.states).toBe(9);
    expect(table.value(12, 9)).toBe(4 * 7);
    expect(table.solve([7], FULL, 2)).toBe(false);
    // too many places across, or along, alone
    expect(new Knapsack([{ w: 1, h: 9 }], 12, 9, [9]).solve([7], FULL, 5)).toBe(false);
    expect(new Knapsack([{ w: 12, h: 1 }], 12, 9, [9]).solve([7], FULL, 5)).toBe(false);
    // in steps of 2: widths 0, 2, 4, 6 of 6 and heights 0, 2, 4 of 4
    const coarse = new Knapsack([{ w: 5, h: 4 }], 12, 9, [9]);
    expect(coarse.solve([7], { kind: "full", step: 2 }, 4 * 3)).toBe(true);
    expect(coarse.states).toBe(12);
  });

  it("rounds sizes down to whole steps, the sheet too", () => {
    fc.assert(
      fc.property(cases, fc.constantFrom(2, 3), ({ items, width, height }, step) => {
        const wide = items.map(({ w, h, value }) => ({ w: w + 1, h: h + 1, value }));
        const down = wide.map(({ w, h }) => ({ w: Math.floor(w / step), h: Math.floor(h / step) }));
        const values = wide.map(({ value }) => value);
        const table = new Knapsack(wide, width, height, [height]);
        expect(table.solve(values, { kind: "full", step }, MANY)).toBe(true);
        // an item that does not go in before it is rounded does not go in after
        const fits = wide.map(({ w, h, value }) => (w <= width && h <= height ? value : 0));
        const best = everyCut(down, fits, Math.floor(width / step), Math.floor(height / step));
        expect(table.value(width, height)).toBe(
          best[Math.floor(width / step)]![Math.floor(height / step)]
        );
        const half = Math.floor(width / 2);
        expect(table.value(half, height)).toBe(
          best[Math.floor(half / step)]![Math.floor(height / step)]
        );
      }),
      law(4, 60)
    );
  });

  it("is filled anew for other values", () => {
    const items = [
      { w: 4, h: 4 },
      { w: 5, h: 5 },
    ];
    const table = new Knapsack(items, 10, 10, [10]);
    table.solve([10, 1], FULL, MANY);
    const before = table.work;
    expect(table.value(10, 10)).toBe(40);
    table.solve([1, 10], FULL, MANY);
    expect(table.value(10, 10)).toBe(40);
    expect(table.value(4, 10)).toBe(2);
    expect(table.work).toBeGreaterThan(before);
    table.solve([0, 0], FULL, MANY);
    expect(table.value(10, 10)).toBe(0);
    expect(table.trees(10, 10, 0, 5)).toEqual([]);
  });
});

describe("the fast table", () => {
  it("never promises more than the exact one, and its patterns can be cut", () => {
    fc.assert(
      fc.property(cases, fc.integer({ min: 3, max: 20 }), ({ items, width, height }, most) => {
        const values = items.map(({ value }) => value);
        const table = new Knapsack(items, width, height, [height - 2, height]);
        expect(table.solve(values, { kind: "few", most }, Infinity)).toBe(true);
        const best = everyCut(items, values, width, height);
        for (const h of [height - 2, height]) {
          const value = table.value(width, h);
          expect(value).toBeLessThanOrEqual(best[width]![h]!);
          for (const tree of table.trees(width, h, 0, 4)) {
            const measured = measure(tree, items, values);
            expect(measured.w).toBeLessThanOrEqual(width);
            expect(measured.h).toBeLessThanOrEqual(h);
          }
        }
        // 0, the whole width, and of each size two places until there are enough
        expect(table.states).toBeLessThanOrEqual((most + 2) * (2 * most + 4));
      }),
      law(5, 80)
    );
  });

  it("finds any two items side by side, or one above the other, in each length asked for", () => {
    fc.assert(
      fc.property(cases, ({ items, width, height }) => {
        const values = items.map(({ value }) => value);
        const lengths = [height - 3, height];
        const table = new Knapsack(items, width, height, lengths);
        table.solve(values, { kind: "few", most: 100 }, Infinity);
        for (const h of lengths) {
          let pair = 0;
          items.forEach((a, k) => {
            if (a.w <= width && a.h <= h) pair = Math.max(pair, values[k]!);
            items.forEach((b, n) => {
              const beside = a.w + b.w <= width && Math.max(a.h, b.h) <= h;
              const above = Math.max(a.w, b.w) <= width && a.h + b.h <= h;
              if (beside || above) pair = Math.max(pair, values[k]! + values[n]!);
            });
          });
          expect(table.value(width, h)).toBeGreaterThanOrEqual(pair);
        }
      }),
      law(6, 60)
    );
  });
});
