/**
 * Prices of the master problem and what follows from them: which patterns are missing, and a bound.
 *
 * The bound, for any prices of 0 or more per piece and rip: let F(sheet) be the most valuable
 * pattern of a sheet at those prices, and t the largest F(panel) / cost(panel). Prices / t never pay
 * more for a panel's contents than the panel costs, so no plan costs less than
 *   (prices of all pieces and of all that rips must cover - F of every scrap) / t.
 * F comes from an exact search over whole numbers, so the proof does not rest on the simplex.
 */
import type { Knapsack, KnapsackTree } from "./knapsack.js";
import type { Pattern, PatternColumns } from "./pattern-columns.js";
import type { PatternRows } from "./pattern-rows.js";
import type { ScrapGroup } from "./scrap-sizes.js";
import type { SheetGrid } from "./sheet-grid.js";

/** Rounded prices are whole multiples of the dearest panel over this. */
const PRICE_STEPS = 1 << 24;

/** Most shapes in one fast table. */
const SHAPES_AT_ONCE = 200;

/** Share of a sheet's cost a pattern must be worth at drawn prices to be looked at. */
const NEARLY = 0.9;

/** Patterns taken from one table for one sheet size. */
const PATTERNS_AT_ONCE = 20;

/** Patterns taken besides, each the best that holds one item. */
const PATTERNS_WITH_EACH = 200;

/** Points across the panel in the fast tables. */
const FEW_POINTS = 160;

export class PatternPrices {
  /** the best bound proven so far */
  bound = 0;
  /** prices of the best bound, as shares of the dearest panel, that no panel's contents exceed */
  proven: Float64Array | null = null;
  /** how far prices are drawn towards those */
  draw = 0;
  private readonly exact: Knapsack;
  private readonly few: Knapsack;
  private readonly smallestSide: Float64Array;
  private turns = 0;

  constructor(
    private readonly rows: PatternRows,
    private readonly scraps: readonly ScrapGroup[],
    private readonly grid: SheetGrid,
    private readonly columns: PatternColumns,
    private readonly demand: Float64Array
  ) {
    this.exact = grid.table(grid.items);
    this.few = grid.table(grid.cutItems);
    this.smallestSide = new Float64Array(rows.count).fill(Infinity);
    rows.items.forEach(({ rows: own }, k) => {
      const { w, h } = grid.items[k]!;
      for (const r of own) this.smallestSide[r] = Math.min(this.smallestSide[r]!, w, h);
    });
  }

  /** Work done so far, steps. */
  get work(): number {
    return this.exact.work + this.few.work;
  }

  /**
   * Prices of the share solution, drawn towards those of the best bound so far: by themselves they
   * jump about from one round to the next, and patterns and bounds are the better between the two.
   */
  private prices(): Float64Array {
    const { duals } = this.columns.lp;
    const { dearest } = this.grid;
    const draw = this.proven ? this.draw : 0;
    return Float64Array.from({ length: this.rows.count }, (_, r) => {
      const price = Math.min(dearest, Math.max(0, duals[r]!));
      return Math.round(
        ((1 - draw) * (price / dearest) + (draw > 0 ? draw * this.proven![r]! : 0)) * PRICE_STEPS
      );
    });
  }

  /** Whole-number value of every item, rounded up where a rip counts by its length. */
  private values(prices: Float64Array): Float64Array {
    return Float64Array.from(this.rows.items, ({ rows, factors, rare }) => {
      if (rare && this.columns.rareLeftOut) return 0;
      let value = 0;
      rows.forEach((row, n) => (value += prices[row]! * factors[n]!));
      return Math.ceil(value - 1e-7);
    });
  }

  /** Fills the fast table at the present prices and adds the patterns that are missing: how many. */
  addByFastSearch(): number {
    const { shapes, items } = this.rows;
    const values = this.values(this.prices());
    const parts = Math.ceil(shapes.length / SHAPES_AT_ONCE);
    if (parts > 1) {
      // Too many shapes for a fast table: a part of them in turn, mixed anew each time round.
      const turn = this.turns++;
      const mixed = (k: number): boolean =>
        ((Math.imul(k + 1, 2654435761 + 2 * Math.floor(turn / parts)) >>> 16) + turn) % parts === 0;
      items.forEach(({ leaf }, n) => {
        if (leaf.kind === "rip") return;
        if (!mixed(leaf.shape) || (leaf.kind === "pair" && !mixed(leaf.other))) values[n] = 0;
      });
    }
    this.few.solve(values, { kind: "few", most: FEW_POINTS }, Infinity);
    return this.addMissing(this.few);
  }

  private addMissing(table: Knapsack): number {
    const { grid, columns, scraps } = this;
    const scale = PRICE_STEPS / grid.dearest;
    let added = 0;
    const add = (
      trees: readonly KnapsackTree[],
      cost: number,
      scrapGroup: number,
      from: Omit<Pattern, "tree">
    ): void => {
      for (const tree of trees) {
        if (columns.addMissing(cost, scrapGroup, { ...from, tree })) added++;
      }
    };
    // Where prices are drawn, patterns that fall short at these prices may still save at the LP's.
    const least = this.draw > 0 && this.proven ? NEARLY : 1;
    for (const { index, cost, height } of grid.panels) {
      const above = cost * least * scale;
      const from = { stock: index, scrap: null };
      add(table.trees(grid.width, height, above, PATTERNS_AT_ONCE), cost, -1, from);
      add(table.treesWithEach(grid.width, height, above, PATTERNS_WITH_EACH), cost, -1, from);
    }
    scraps.forEach((scrap, k) => {
      const above = -columns.lp.duals[this.rows.count + k]! * least * scale;
      const { w, h } = grid.room(scrap);
      add(table.trees(w, h, above, 1), 0, k, { stock: -1, scrap });
    });
    return added;
  }

  /** Proves a bound at the present prices by the exact search; adds the patterns found missing. */
  prove(mostStates: number): number {
    const prices = this.prices();
    const { exact, grid } = this;
    let step = 1;
    for (; ; step *= 2) {
      // A piece thinner than the step would be rounded to nothing: it gets no price.
      for (let r = 0; r < prices.length; r++) if (this.smallestSide[r]! < step) prices[r] = 0;
      if (exact.solve(this.values(prices), { kind: "full", step }, mostStates)) break;
    }
    let total = 0;
    for (let r = 0; r < prices.length; r++) total += prices[r]! * this.demand[r]!;
    for (const group of this.scraps) {
      const { w, h } = grid.room(group);
      total -= group.count * exact.value(w, h);
    }
    let ratio = 0;
    for (const { cost, height } of grid.panels) {
      ratio = Math.max(ratio, exact.value(grid.width, height) / cost);
    }
    // The last digits belong to the divisions, not to the proof.
    const bound = ratio > 0 ? (total / ratio) * (1 - 1e-12) : 0;
    if (ratio > 0 && (bound > this.bound || !this.proven)) {
      this.bound = Math.max(bound, this.bound);
      // Scaled so that no panel's contents are worth more than it costs.
      const scale = 1 / (ratio * grid.dearest);
      this.proven = prices.map((price) => price * scale);
    }
    return step === 1 ? this.addMissing(exact) : 0;
  }
}
