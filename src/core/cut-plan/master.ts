/**
 * Patterns by column generation: which ways of cutting a panel, in which shares, would cover all
 * pieces at least cost if panels could be bought in fractions. The share solution leads to good
 * plans; its prices prove a bound (pattern-prices.ts).
 */
import type { Block } from "./blocks.js";
import type { Prices } from "./fill.js";
import type { KnapsackTree } from "./knapsack.js";
import { PatternColumns, type Share } from "./pattern-columns.js";
import { PatternPrices } from "./pattern-prices.js";
import { type BlockSource, type Leaf, PatternRows, type Task } from "./pattern-rows.js";
import type { Model } from "./prepare.js";
import { type ScrapGroup, groupScrap, scrapGroupOf } from "./scrap-sizes.js";
import type { Sheet } from "./sheet.js";
import { SheetGrid } from "./sheet-grid.js";

export interface MasterOptions {
  /** cost of each panel length; Infinity for one not to be used */
  readonly costs: readonly number[];
  /** most rows for pieces; more shapes share a price per area in groups */
  readonly mostGroups: number;
}

/** A master of the same task with fewer rows, and the share of its prices within which to stay. */
export interface Prior {
  readonly master: Master;
  readonly within: number;
}

/** A round of the fast search so dear that the exact one is tried beside it, steps. */
const DEAR_ROUND = 3e7;

/** Share by which the value of the share solution must fall for prices to be drawn as far again. */
const SETTLED = 2e-4;

/** Rounds of the fast search without such a fall after which it is given up. */
const IDLE_ROUNDS = 8;

/** Pivots between two searches, and where the work is done. */
const PIVOTS = 1500;
const LAST_PIVOTS = 50;

/** How far prices are drawn towards those of the best bound, where there are many rows. */
const DRAW = 0.7;
const MANY_ROWS = 400;

export class Master {
  private readonly rows: PatternRows;
  private readonly scraps: readonly ScrapGroup[];
  private readonly grid: SheetGrid;
  private readonly columns: PatternColumns;
  private readonly prices: PatternPrices;

  constructor(
    model: Model,
    task: Task,
    readonly options: MasterOptions,
    prior?: Prior
  ) {
    const rows = (this.rows = new PatternRows(model, task, options.mostGroups));
    const scraps = (this.scraps = groupScrap(task.scrap));
    const grid = (this.grid = new SheetGrid(model, rows.items, scraps, options.costs));
    const demand = rows.demand(task.counts, task.stretches);
    const range = prior && {
      prices: rows.pricesFrom(prior.master.rows, prior.master.prices.proven!),
      within: prior.within,
    };
    this.columns = new PatternColumns(model, rows, scraps, grid, demand, range ?? null);
    this.prices = new PatternPrices(rows, scraps, grid, this.columns, demand);
    if (!prior) return;
    this.prices.proven = range!.prices;
    this.prices.bound = prior.master.bound;
    this.columns.addPatternsOf(prior.master.columns);
  }

  /** The best bound proven so far. */
  get bound(): number {
    return this.prices.bound;
  }

  /** True where some prices have proven a bound. */
  get priced(): boolean {
    return this.prices.proven !== null;
  }

  /** Cost of the share solution. */
  get value(): number {
    return this.columns.lp.objective;
  }

  /** Work done so far, steps. */
  get work(): number {
    const { rows, columns, prices } = this;
    return rows.work + columns.work + columns.lp.work * 1.5 + prices.work * 2;
  }

  /** Adds the patterns of a plan at hand, so that prices start near the truth. */
  addSheets(sheets: readonly Sheet[]): void {
    this.columns.addSheets(sheets);
  }

  /**
   * Generates patterns until none is missing, or the bound rounds up to what the share solution
   * rounds up to, or `budget` steps of work are done. `enough` tells whether a bound closes the gap.
   */
  run(budget: number, mostStates: number, enough: (bound: number, value: number) => boolean): void {
    const { lp } = this.columns;
    const { prices } = this;
    const hasMany = lp.rowCount > MANY_ROWS;
    let fast = true;
    let since = 0;
    let mark = Infinity;
    let proven = Infinity;
    let fullWork = Infinity;
    for (;;) {
      const before = this.work;
      const left = budget - before;
      const optimal = lp.solve(left > 0 ? PIVOTS : LAST_PIVOTS);
      const { value } = this;
      if (left <= 0) break;
      if (fast) {
        const added = prices.addByFastSearch();
        const roundWork = this.work - before;
        // Little gained in many rounds: the exact search finds what is really missing.
        since++;
        if (value < mark * (1 - SETTLED)) {
          mark = value;
          since = 0;
        }
        if ((added === 0 && optimal) || since > IDLE_ROUNDS) fast = false;
        // Where the exact search costs no more than a round of the rest it may as well be done now.
        if (roundWork > Math.min(fullWork, DEAR_ROUND)) fast = false;
        continue;
      }
      const start = this.work;
      const added = prices.prove(mostStates);
      fullWork = this.work - start;
      const ends = enough(this.bound, value);
      const isSettled = added === 0 && optimal;
      if (ends || (isSettled && prices.draw === 0)) {
        // Where there are many rows the steadier prices of the stand-ins prove more.
        if (hasMany || !this.columns.leaveOutRipStandIns()) return;
      } else if (isSettled) {
        // Nothing missing at the drawn prices: those of the share solution have the last word.
        prices.draw = 0;
        continue;
      }
      if (!hasMany) prices.draw = 0;
      else prices.draw = value < proven * (1 - SETTLED) ? DRAW : prices.draw * 0.5;
      proven = value;
      fast = true;
      since = 0;
      mark = value;
    }
    prices.prove(mostStates);
  }

  /** Generates patterns by the fast search only, for their shares and not for a bound. */
  share(budget: number): void {
    for (let since = 0, mark = Infinity; since <= IDLE_ROUNDS; since++) {
      const optimal = this.columns.lp.solve(PIVOTS);
      const { value } = this;
      if (this.work > budget) return;
      if (value < mark * (1 - SETTLED)) {
        mark = value;
        since = 0;
      }
      if (this.prices.addByFastSearch() === 0 && optimal) return;
    }
  }

  /** Proves a bound at the present prices. */
  prove(mostStates: number): void {
    this.prices.prove(mostStates);
  }

  /**
   * Sets what is still to be cut and finds shares for it with a few
   * rounds of the fast search. Bounds proven so far stay those of the whole task.
   */
  shareRest({ counts, stretches, scrap }: Task, rounds: number): void {
    const { rows, scraps, prices } = this;
    const { lp } = this.columns;
    const right = new Float64Array(lp.rowCount);
    right.set(rows.demand(counts, stretches));
    for (const item of scrap) right[rows.count + scrapGroupOf(scraps, item)]!++;
    this.columns.leaveOutRare();
    lp.reset(right);
    prices.draw = 0;
    for (let round = 0; round < rounds; round++) {
      const optimal = lp.solve(PIVOTS);
      const isLast = round === rounds - 1;
      if (isLast || (prices.addByFastSearch() === 0 && optimal)) return;
    }
  }

  /** What pieces and rips are worth in the share solution, as it stands now. */
  worths(): Prices {
    return this.rows.worths(this.columns.lp.duals.map((dual) => Math.max(0, dual)));
  }

  /** The share solution: patterns with their levels, the most used first. */
  solution(): Share[] {
    return this.columns.solution();
  }

  /** What a leaf of a pattern stands for. */
  leaf(item: number): Leaf {
    return this.rows.items[item]!.leaf;
  }

  /** Room a piece or pair leaf takes. */
  boxOf(item: number): { w: number; h: number } {
    return this.grid.boxOf(item);
  }

  /** A piece type for every piece in a pattern. */
  typesOf(tree: KnapsackTree | null): number[] {
    return this.rows.typesOf(tree);
  }

  /** Blocks a leaf may be cut as: each piece type of its class, or each pair, in all its ways. */
  blocksOf(leaf: Leaf, counts: ArrayLike<number>, shop: BlockSource): Block[] {
    return this.rows.blocksOf(leaf, counts, shop);
  }
}
