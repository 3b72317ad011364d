/**
 * The columns of the master problem: patterns, what a piece left out would cost, larger pieces that
 * stand in for smaller ones; and the patterns the share solution is made of.
 */
import type { Block } from "./blocks.js";
import type { KnapsackTree } from "./knapsack.js";
import { type Brings, type PatternRows, type StandIn, bump, leafTree } from "./pattern-rows.js";
import type { Model } from "./prepare.js";
import { type ScrapGroup, scrapGroupOf } from "./scrap-sizes.js";
import { type Sheet, listBlocks, stockFor } from "./sheet.js";
import type { SheetGrid } from "./sheet-grid.js";
import { Simplex } from "./simplex.js";

/** A pattern and what it is cut from. */
export interface Pattern {
  /** place in the stock list; -1 for scrap */
  readonly stock: number;
  /** size of the scrap where it is one */
  readonly scrap: { readonly w: number; readonly h: number } | null;
  readonly tree: KnapsackTree;
}

/** A pattern with how often the share solution uses it. */
export interface Share extends Pattern {
  readonly level: number;
}

/** Prices to stay near: of each row, as shares of the dearest panel, and how far they may stray. */
export interface PriceRange {
  readonly prices: Float64Array;
  readonly within: number;
}

/** Larger pieces tried in place of each smaller one. */
const STAND_INS = 3;

/** More shapes than this, and no stand-ins are looked for. */
const MOST_STAND_INS = 3000;

/** A column that saves less than this share of the dearest panel is not worth adding. */
const LEAST_SAVING = 1e-5;

/** Patterns of a prior that lose less than this share of the dearest panel are taken over. */
const LEAST_LOST = 0.02;

/** Share of the dearest panel by which a piece left out costs more than its price may be. */
const LEAST_START = 1e-3;

/** A pattern of so many pieces is left to filling: it is full of specks. */
const MOST_LEAVES = 120;

/** Cost, in panels, that keeps a pattern out. */
const RARE_COST = 4;

/** Leaves of a pattern, counted no further than `most`. */
function leavesUpTo(tree: KnapsackTree | null, most: number): number {
  if (!tree || most <= 0) return 0;
  if (tree.item >= 0) return 1;
  const first = leavesUpTo(tree.first, most);
  return first + leavesUpTo(tree.second, most - first);
}

/** So many of one pattern in a row. */
function inRow(times: number, of: KnapsackTree, cut: "plumb" | "level"): KnapsackTree {
  let tree = of;
  for (let k = 1; k < times; k++) tree = { item: -1, cut, first: of, second: tree };
  return tree;
}

export class PatternColumns {
  readonly lp: Simplex;
  /** steps of work done beside those of the simplex */
  work = 0;
  /** true once patterns with rare rip lengths are kept out */
  rareLeftOut = false;
  private readonly patterns = new Map<number, Pattern>();
  private readonly known = new Set<string>();
  /** columns that let a rip stand in for something else */
  private ripStandIns: number[] = [];

  constructor(
    private readonly model: Model,
    private readonly rows: PatternRows,
    private readonly scraps: readonly ScrapGroup[],
    private readonly grid: SheetGrid,
    demand: Float64Array,
    range: PriceRange | null
  ) {
    this.lp = this.start(demand, range);
    this.addStandIns();
    this.addUniform();
  }

  /** Unit columns for what is left out, then one a row for what is too much. */
  private start(demand: Float64Array, range: PriceRange | null): Simplex {
    const { rows, scraps, grid } = this;
    const { dearest } = grid;
    const right = new Float64Array(rows.count + scraps.length);
    const start = new Float64Array(rows.count + scraps.length);
    right.set(demand);
    // One of anything fits the dearest panel, so this column is real, if wasteful.
    start.fill(dearest, 0, rows.count);
    scraps.forEach(({ count }, k) => (right[rows.count + k] = count));
    if (range) {
      for (let r = 0; r < rows.count; r++) {
        start[r] = (1 + range.within) * range.prices[r]! * dearest + LEAST_START * dearest;
      }
    } else this.startAlone(start);
    const lp = new Simplex(right, start);
    for (let r = 0; r < rows.count; r++) {
      const cost = range ? -(1 - range.within) * range.prices[r]! * dearest : 0;
      lp.add({ cost, rows: [r], coefficients: [-1] });
    }
    return lp;
  }

  /** The unit columns of rows as the cheapest panel with one leaf of the row on it. */
  private startAlone(start: Float64Array): void {
    this.rows.items.forEach(({ rows, factors }, k) => {
      const row = rows[0]!;
      // A unit of a row must not be more than the leaf brings.
      if (rows.length > 1 || this.patterns.has(row) || factors[0]! < 1) return;
      const { h } = this.grid.cutItems[k]!;
      const [panel] = this.grid.panels
        .filter(({ height }) => height >= h)
        .sort((a, b) => a.cost - b.cost);
      if (!panel) return;
      start[row] = panel.cost;
      this.patterns.set(row, { stock: panel.index, scrap: null, tree: leafTree(k) });
    });
  }

  /**
   * Columns that let a larger piece or rip stand in for a smaller one: true of the best prices anyway,
   * except of a rip's, whose price for its length is also that of shorter rips. Those hold prices
   * steady at first and are taken out before the last word.
   */
  private addStandIns(): void {
    const { canTurn } = this.model;
    const boxes = this.rows.standIns();
    this.work += boxes.length ** 2;
    if (boxes.length > MOST_STAND_INS) return;
    for (const small of boxes) {
      const larger = boxes.filter(
        (big) =>
          big.row !== small.row &&
          !big.rake &&
          // A rectangle may lie turned where a rake piece may not.
          !(canTurn && small.rake) &&
          small.w <= big.w &&
          small.h <= big.h &&
          (small.w < big.w || small.h < big.h || small.row < big.row)
      );
      larger.sort((a, b) => a.w * a.h - b.w * b.h || a.row - b.row);
      const kept: StandIn[] = [];
      for (const big of larger) {
        if (kept.length >= STAND_INS) break;
        if (kept.some((other) => other.w <= big.w && other.h <= big.h)) continue;
        kept.push(big);
        const column = this.lp.add({
          cost: 0,
          rows: [small.row, big.row],
          coefficients: [small.factor, -big.factor],
        });
        if (big.rip) this.ripStandIns.push(column);
      }
    }
  }

  /** Adds panels full of one thing: prices then never promise more than these. */
  private addUniform(): void {
    const { grid } = this;
    this.rows.items.forEach(({ rows, factors }, k) => {
      const { w, h } = grid.cutItems[k]!;
      const across = Math.floor(grid.width / w);
      for (const { index, cost, height } of grid.panels) {
        const along = Math.floor(height / h);
        const times = across * along;
        if (times < 1) continue;
        const brings: Brings = new Map();
        rows.forEach((row, n) => bump(brings, row, times * factors[n]!));
        const tree = inRow(across, inRow(along, leafTree(k), "level"), "plumb");
        this.keep(this.add(cost, brings), { stock: index, scrap: null, tree });
      }
    });
  }

  /** Adds the patterns of a plan at hand, so that prices start near the truth. */
  addSheets(sheets: readonly Sheet[]): void {
    const { model, scraps, grid } = this;
    for (const sheet of sheets) {
      const blocks: Block[] = [];
      listBlocks(sheet.root, blocks);
      const brings: Brings = new Map();
      for (const block of blocks) this.rows.countBlock(block, brings);
      let cost = 0;
      let stock = -1;
      let scrap: ScrapGroup | null = null;
      if (sheet.scrap >= 0) scrap = scraps[this.bumpScrap(model.scrap[sheet.scrap]!, brings)]!;
      else {
        stock = stockFor(model, sheet.reach);
        cost = grid.costOf(stock);
      }
      const column = this.add(cost, brings);
      const tree = this.rows.treeOf(sheet.root);
      if (column >= 0 && tree) this.patterns.set(column, { stock, scrap, tree });
    }
  }

  /** Adds those patterns of a master of the same task that are good at its prices. */
  addPatternsOf(prior: PatternColumns): void {
    const { grid } = this;
    for (const [column, pattern] of prior.patterns) {
      if (column < prior.lp.rowCount || prior.lp.saving(column) < -LEAST_LOST * grid.dearest)
        continue;
      const brings: Brings = new Map();
      this.rows.countTree(pattern.tree, brings);
      let cost = 0;
      if (pattern.scrap) this.bumpScrap(pattern.scrap, brings);
      else cost = grid.costOf(pattern.stock);
      const own = this.add(cost, brings);
      if (own >= 0) this.patterns.set(own, pattern);
    }
  }

  private bumpScrap(size: { readonly w: number; readonly h: number }, brings: Brings): number {
    const group = scrapGroupOf(this.scraps, size);
    bump(brings, this.rows.count + group, 1);
    return group;
  }

  /** Adds a column unless it is known; its number, or -1. */
  private add(cost: number, brings: Brings): number {
    const rows = [...brings.keys()].sort((a, b) => a - b);
    const coefficients = rows.map((row) => brings.get(row)!);
    const key = `${cost}:${rows.join(",")}:${coefficients.join(",")}`;
    if (this.known.has(key)) return -1;
    this.known.add(key);
    return this.lp.add({ cost, rows, coefficients });
  }

  private keep(column: number, pattern: Pattern): void {
    if (column < 0) return;
    if (leavesUpTo(pattern.tree, MOST_LEAVES) < MOST_LEAVES) this.patterns.set(column, pattern);
  }

  /** Adds a pattern where it saves something at present; false where it does not, or is known. */
  addMissing(cost: number, scrapGroup: number, pattern: Pattern): boolean {
    const brings: Brings = new Map();
    this.rows.countTree(pattern.tree, brings);
    if (scrapGroup >= 0) brings.set(this.rows.count + scrapGroup, 1);
    let saves = -cost;
    for (const [row, factor] of brings) saves += factor * this.lp.duals[row]!;
    if (saves <= LEAST_SAVING * this.grid.dearest) return false;
    const column = this.add(cost, brings);
    this.keep(column, pattern);
    return column >= 0;
  }

  /**
   * Leaves out patterns with rip lengths that few runs have: counted by length alone they could be
   * cut again and again, which real runs do not allow.
   */
  leaveOutRare(): void {
    if (this.rareLeftOut) return;
    this.rareLeftOut = true;
    const holdsRare = (tree: KnapsackTree | null): boolean =>
      tree !== null &&
      (this.rows.items[tree.item]?.rare === true ||
        holdsRare(tree.first) ||
        holdsRare(tree.second));
    for (const [column, { tree }] of this.patterns) {
      if (holdsRare(tree)) this.lp.setCost(column, RARE_COST * this.grid.dearest);
    }
  }

  /** Takes rips out that stand in for something else; false where the share solution has none. */
  leaveOutRipStandIns(): boolean {
    const columns = new Set(this.ripStandIns);
    this.ripStandIns = [];
    if (!this.lp.solution().some(({ column }) => columns.has(column))) return false;
    // No price is more than the dearest panel, so at this cost they save nothing.
    for (const column of columns) this.lp.setCost(column, this.grid.dearest);
    this.lp.reset();
    return true;
  }

  /** The share solution: patterns with their levels, the most used first. */
  solution(): Share[] {
    return this.lp
      .solution()
      .filter(({ column }) => this.patterns.has(column))
      .map(({ column, level }) => ({ ...this.patterns.get(column)!, level }))
      .sort((a, b) => b.level - a.level);
  }
}
