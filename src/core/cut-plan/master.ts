/**
 * Patterns by column generation: which ways of cutting a panel, in which shares, would cover all
 * pieces at least cost if panels could be bought in fractions. The share solution leads to good
 * plans; its prices prove a bound.
 *
 * The bound, for any prices of 0 or more per piece and rip: let F(sheet) be the most valuable
 * pattern of a sheet at those prices, and t the largest F(panel) / cost(panel). Prices / t never pay
 * more for a panel's contents than the panel costs, so no plan costs less than
 *   (prices of all pieces + cheapest way to cover each run at the rip prices - F of every scrap) / t.
 * F comes from an exact search over whole numbers, so the proof does not rest on the simplex.
 */
import { type Block, canNest, nest } from "./blocks.js";
import { type PieceClass, mergeTypes } from "./classes.js";
import { type Detail, Knapsack, type KnapsackItem, type KnapsackTree } from "./knapsack.js";
import {
  type Model,
  type RunItem,
  type ScrapItem,
  longestRip,
  ripWays,
  runLength,
  shortestRip,
} from "./prepare.js";
import { type Sheet, listBlocks, stockFor } from "./sheet.js";
import { Simplex } from "./simplex.js";

/** The part of a problem to be planned together. */
export interface Task {
  /** pieces of each type */
  readonly counts: Int32Array;
  readonly runs: readonly RunItem[];
  readonly scrap: readonly ScrapItem[];
}

/** Where the blocks of real pieces come from. */
export interface BlockSource {
  readonly blocks: readonly (readonly Block[])[];
  pair(a: number, b: number): Block;
}

/** What a pattern leaf stands for. */
export type Leaf =
  | { readonly kind: "piece"; readonly row: number }
  | { readonly kind: "pair"; readonly row: number; readonly other: number }
  | {
      readonly kind: "rip";
      readonly row: number;
      readonly height: number;
      readonly length: number;
    };

/** A pattern with how often the share solution uses it. */
export interface Share {
  readonly level: number;
  /** place in the stock list; -1 for scrap */
  readonly stock: number;
  /** size of the scrap where it is one */
  readonly scrap: { readonly w: number; readonly h: number } | null;
  readonly tree: KnapsackTree;
}

interface ScrapGroup {
  readonly w: number;
  readonly h: number;
  readonly count: number;
}

interface RunGroup {
  readonly run: RunItem;
  readonly count: number;
  readonly arcs: readonly { readonly from: number; readonly to: number; readonly row: number }[];
}

export interface MasterOptions {
  /** cost of each panel length; Infinity for one not to be used */
  readonly costs: readonly number[];
  /** most piece classes */
  readonly mostClasses: number;
  /** most rows with every rip length on a row of its own; above it rips go by length alone */
  readonly mostRows: number;
}

/** Rounded prices are whole multiples of the dearest panel over this. */
const PRICE_STEPS = 1 << 24;

/** Share of all area that merging nearly equal pieces may lose in a proof. */
const FREE_LOSS = 0.0002;

/** Scraps of different sizes told apart; more are merged, to the larger size. */
const MOST_SCRAP_SIZES = 40;

/** Rip lengths told apart for one height where rips go by length alone. */
const MOST_RIP_LENGTHS = 40;

/** Larger pieces tried in place of each smaller one. */
const STAND_INS = 3;

/** Patterns taken from one table for one sheet size. */
const PATTERNS_AT_ONCE = 20;

/** Points across the panel in the fast tables. */
const FEW_POINTS = 160;

export class Master {
  readonly classes: readonly PieceClass[];
  readonly leaves: Leaf[] = [];
  /** the best bound proven so far */
  bound = 0;
  private readonly items: KnapsackItem[] = [];
  private readonly fewItems: KnapsackItem[] = [];
  /** rows and how much of each an item brings */
  private readonly brings: { rows: number[]; factors: number[] }[] = [];
  private readonly rowCount: number;
  private readonly scrapRow: number;
  private readonly runRow: number;
  private readonly scraps: readonly ScrapGroup[];
  private readonly runs: RunGroup[] = [];
  private readonly byLength: boolean;
  private readonly ripRow = new Map<string, number>();
  private readonly demand: Float64Array;
  private readonly lp: Simplex;
  private readonly table: Knapsack;
  private readonly shares = new Map<number, Omit<Share, "level">>();
  private readonly known = new Set<string>();
  private readonly gridX: number;
  private readonly gridY: number;
  private readonly stock: readonly { index: number; cost: number; height: number }[];
  private readonly dearest: number;
  private readonly classOf = new Map<number, number>();
  private readonly smallestSide: Float64Array;
  private extraWork = 0;

  constructor(
    private readonly model: Model,
    private readonly task: Task,
    private readonly options: MasterOptions
  ) {
    let area = 0;
    for (const type of model.types) area += type.area * task.counts[type.index]!;
    this.classes = mergeTypes(model, task.counts, options.mostClasses, 0 * area * FREE_LOSS);
    this.extraWork += 20 * model.types.length ** 2;
    this.classes.forEach((one, row) => one.members.forEach((m) => this.classOf.set(m, row)));
    this.scraps = groupScrap(task.scrap);
    const pieceRows = this.classes.length;
    const lengths = ripLengths(model, task.runs);
    this.byLength =
      pieceRows + this.scraps.length + lengths.size + task.runs.length > options.mostRows;
    let row = pieceRows;
    const { kerf } = model;
    const boxes: { w: number; h: number; few: boolean }[] = [];
    const addItem = (
      w: number,
      h: number,
      rounded: boolean,
      leaf: Leaf,
      rows: number[],
      factors: number[]
    ): void => {
      boxes.push({ w: w + kerf, h: h + kerf, few: rounded });
      this.leaves.push(leaf);
      this.brings.push({ rows, factors });
    };
    this.classes.forEach((one, r) => {
      const h = Math.max(one.left, one.right);
      addItem(one.w, h, false, { kind: "piece", row: r }, [r], [1]);
      if (model.canTurn && !one.rake && one.w !== h) {
        addItem(h, one.w, false, { kind: "piece", row: r }, [r], [1]);
      }
    });
    this.addPairs(addItem);
    this.demand = this.addRips(lengths, row, addItem);
    row = this.demand.length;
    this.scrapRow = row;
    row += this.scraps.length;
    this.runRow = row;
    row += this.runs.length;
    this.rowCount = row;

    // One grid for all sizes; nested pairs do not fall on it and are rounded to it.
    let gridX = 0;
    let gridY = 0;
    for (const box of boxes) {
      gridX = divisor(gridX, box.w);
      if (!box.few) gridY = divisor(gridY, box.h);
    }
    this.gridX = gridX = Math.max(1, gridX);
    this.gridY = gridY = Math.max(1, gridY);
    for (const box of boxes) {
      this.items.push({ w: box.w / gridX, h: Math.floor(box.h / gridY) });
      this.fewItems.push({ w: box.w / gridX, h: Math.ceil(box.h / gridY) });
    }
    this.stock = model.stock
      .map((item) => ({
        index: item.index,
        cost: options.costs[item.index]!,
        height: Math.floor((item.length + kerf) / gridY),
      }))
      .filter((item) => Number.isFinite(item.cost));
    this.dearest = Math.max(...this.stock.map((item) => item.cost));
    const widest = Math.max(model.width, ...this.scraps.map((item) => item.w));
    const highest = Math.max(model.longest, ...this.scraps.map((item) => item.h));
    this.table = new Knapsack(
      this.items,
      Math.floor((widest + kerf) / gridX),
      Math.floor((highest + kerf) / gridY),
      this.stock.map((item) => item.height)
    );
    this.few = new Knapsack(
      this.fewItems,
      Math.floor((widest + kerf) / gridX),
      Math.floor((highest + kerf) / gridY),
      this.stock.map((item) => item.height)
    );
    this.smallestSide = new Float64Array(this.demand.length).fill(Infinity);
    this.items.forEach((item, k) => {
      for (const r of this.brings[k]!.rows) {
        this.smallestSide[r] = Math.min(this.smallestSide[r]!, item.w, item.h);
      }
    });
    this.lp = this.startMaster();
    this.addStandIns();
  }

  private readonly few: Knapsack;

  /** Work done so far, steps. */
  get work(): number {
    return this.extraWork + this.lp.work * 1.5 + (this.table.work + this.few.work) * 4;
  }

  private addPairs(
    addItem: (
      w: number,
      h: number,
      rounded: boolean,
      leaf: Leaf,
      rows: number[],
      factors: number[]
    ) => void
  ): void {
    const { model, task, classes } = this;
    const room = Math.max(model.longest, ...task.scrap.map((item) => item.h));
    const mayNest = (a: PieceClass, b: PieceClass): boolean =>
      a.right > a.left === b.right > b.left &&
      (canNest(a, b) ||
        // Classes are blunted copies of their members: what members may do, they may.
        a.members.some((m) => b.members.some((n) => canNest(model.types[m]!, model.types[n]!))));
    const rakes = classes.map((one, row) => ({ one, row })).filter(({ one }) => one.rake);
    rakes.forEach(({ one, row }, k) => {
      for (const { one: other, row: otherRow } of rakes.slice(k)) {
        if (row === otherRow && one.count < 2) continue;
        if (!mayNest(one, other)) continue;
        const box = nest(one, other, model.kerf);
        if (box.h > room) continue;
        const leaf: Leaf = { kind: "pair", row, other: otherRow };
        if (row === otherRow) addItem(box.w, box.h, true, leaf, [row], [2]);
        else addItem(box.w, box.h, true, leaf, [row, otherRow], [1, 1]);
      }
    });
  }

  /** Adds rip items and rows; returns the demand of piece and rip rows. */
  private addRips(
    lengths: ReadonlyMap<string, { height: number; length: number }>,
    firstRow: number,
    addItem: (
      w: number,
      h: number,
      rounded: boolean,
      leaf: Leaf,
      rows: number[],
      factors: number[]
    ) => void
  ): Float64Array {
    const { model, task } = this;
    const demand = this.classes.map((one) => one.count);
    let row = firstRow;
    if (this.byLength) {
      const heights = [...new Set(task.runs.map((run) => run.height))];
      for (const height of heights) {
        const total = task.runs
          .filter((run) => run.height === height)
          .reduce((sum, run) => sum + runLength(run), 0);
        const own = [...lengths.values()]
          .filter((one) => one.height === height)
          .map((one) => one.length);
        // A cluster of lengths is cut as its shortest and counts as its longest.
        for (const { least, most } of clusters(own, MOST_RIP_LENGTHS)) {
          for (const way of ripWays(height, least, model)) {
            addItem(
              way.w,
              way.h,
              false,
              { kind: "rip", row, height, length: least },
              [row],
              [most / model.longest]
            );
          }
        }
        this.ripRow.set(String(height), row);
        demand.push(total / model.longest);
        row++;
      }
      return Float64Array.from(demand);
    }
    for (const [key, { height, length }] of lengths) {
      for (const way of ripWays(height, length, model)) {
        addItem(way.w, way.h, false, { kind: "rip", row, height, length }, [row], [1]);
      }
      this.ripRow.set(key, row);
      demand.push(0);
      row++;
    }
    const groups = new Map<string, { run: RunItem; count: number }>();
    for (const run of task.runs) {
      const key = `${run.height}/${run.smallest}/${run.joints.join(",")}`;
      const known = groups.get(key);
      if (known) known.count++;
      else groups.set(key, { run, count: 1 });
    }
    for (const { run, count } of groups.values()) {
      const arcs = runArcs(model, run).map(({ from, to }) => ({
        from,
        to,
        row: this.ripRow.get(`${run.height}/${run.joints[to]! - run.joints[from]!}`)!,
      }));
      this.runs.push({ run, count, arcs });
    }
    return Float64Array.from(demand);
  }

  private startMaster(): Simplex {
    const right = new Float64Array(this.rowCount);
    const start = new Float64Array(this.rowCount);
    for (let r = 0; r < this.demand.length; r++) {
      right[r] = this.demand[r]!;
      // One of anything fits the dearest panel, so this column is real, if wasteful.
      start[r] = this.dearest;
    }
    this.scraps.forEach((group, k) => (right[this.scrapRow + k] = group.count));
    this.runs.forEach((group, k) => {
      right[this.runRow + k] = group.count;
      start[this.runRow + k] = this.dearest * (group.run.joints.length + 1);
    });
    const lp = new Simplex(right, start);
    for (let r = 0; r < this.demand.length; r++) {
      lp.add({ cost: 0, rows: [r], coefficients: [-1] });
    }
    return lp;
  }

  /** Columns that let a larger piece stand in for a smaller one: true of the best prices anyway. */
  private addStandIns(): void {
    const { model, lp } = this;
    interface Box {
      row: number;
      w: number;
      h: number;
      rake: boolean;
      factor: number;
    }
    const boxes: Box[] = this.classes.map((one, row) => ({
      row,
      w: one.w,
      h: Math.max(one.left, one.right),
      rake: one.rake,
      factor: 1,
    }));
    this.leaves.forEach((leaf, k) => {
      if (leaf.kind !== "rip") return;
      boxes.push({
        row: leaf.row,
        w: leaf.height,
        h: leaf.length,
        rake: false,
        factor: this.brings[k]!.factors[0]!,
      });
    });
    this.extraWork += boxes.length ** 2;
    for (const small of boxes) {
      const larger = boxes.filter(
        (big) =>
          big.row !== small.row &&
          !big.rake &&
          // A rectangle may lie turned where a rake piece may not.
          !(model.canTurn && small.rake) &&
          small.w <= big.w &&
          small.h <= big.h &&
          (small.w < big.w || small.h < big.h || small.row < big.row)
      );
      larger.sort((a, b) => a.w * a.h - b.w * b.h || a.row - b.row);
      const kept: Box[] = [];
      for (const big of larger) {
        if (kept.length >= STAND_INS) break;
        if (kept.some((other) => other.w <= big.w && other.h <= big.h)) continue;
        kept.push(big);
        lp.add({
          cost: 0,
          rows: [small.row, big.row],
          coefficients: [small.factor, -big.factor],
        });
      }
    }
  }

  /** Adds the patterns of a plan at hand, so that prices start near the truth. */
  addSheets(sheets: readonly Sheet[]): void {
    const covers = new Map<number, Map<number, number>>();
    for (const sheet of sheets) {
      const blocks: Block[] = [];
      listBlocks(sheet.root, blocks);
      const brings = new Map<number, number>();
      for (const block of blocks) {
        if (block.run < 0) {
          bump(brings, this.classOf.get(block.type)!, 1);
          if (block.pair) bump(brings, this.classOf.get(block.pair.upper)!, 1);
          continue;
        }
        const run = this.model.runs[block.run]!;
        const length = run.joints[block.to]! - run.joints[block.from]!;
        if (this.byLength) {
          bump(brings, this.ripRow.get(String(run.height))!, length / this.model.longest);
        } else {
          const row = this.ripRow.get(`${run.height}/${length}`)!;
          bump(brings, row, 1);
          if (!covers.has(block.run)) covers.set(block.run, new Map());
          bump(covers.get(block.run)!, row, -1);
        }
      }
      if (sheet.scrap >= 0) {
        const item = this.model.scrap[sheet.scrap]!;
        const group = this.scraps.findIndex((one) => one.w >= item.w && one.h >= item.h);
        bump(brings, this.scrapRow + group, 1);
        this.addColumn(0, brings);
      } else {
        const cost = this.options.costs[stockFor(this.model, sheet.reach)]!;
        this.addColumn(Number.isFinite(cost) ? cost : this.dearest, brings);
      }
    }
    this.runs.forEach((group, k) => {
      const cover = covers.get(group.run.index);
      if (!cover) return;
      cover.set(this.runRow + k, 1);
      this.addColumn(0, cover);
    });
  }

  private addColumn(cost: number, brings: ReadonlyMap<number, number>): number {
    const rows = [...brings.keys()].sort((a, b) => a - b);
    const coefficients = rows.map((row) => brings.get(row)!);
    const key = `${cost}:${rows.join(",")}:${coefficients.join(",")}`;
    if (this.known.has(key)) return -1;
    this.known.add(key);
    return this.lp.add({ cost, rows, coefficients });
  }

  /**
   * Generates patterns until none is missing, or the bound rounds up to what the share solution
   * rounds up to, or `budget` steps of work are done. `enough` tells whether a bound closes the gap.
   */
  run(budget: number, mostStates: number, enough: (bound: number, value: number) => boolean): void {
    let fast = true;
    let since = 0;
    let mark = Infinity;
    for (;;) {
      const left = budget - this.work;
      const optimal = this.lp.solve(left > 0 ? 1500 : 50);
      const value = this.lp.objective;
      if (left <= 0) break;
      if (fast) {
        const added = this.price(this.few, { kind: "few", most: FEW_POINTS });
        // Little gained in many rounds: the exact search finds what is really missing.
        since++;
        if (value < mark * (1 - 2e-4)) {
          mark = value;
          since = 0;
        }
        if ((added === 0 && optimal) || since > 8) {
          fast = false;
        }
        continue;
      }
      const added = this.prove(mostStates);
      if (added === 0 || enough(this.bound, value)) return;
      fast = true;
      since = 0;
      mark = value;
    }
    this.prove(mostStates);
  }

  /** Generates patterns by the fast search only, for their shares and not for a bound. */
  share(budget: number): void {
    let since = 0;
    let mark = Infinity;
    while (since <= 8) {
      const left = budget - this.work;
      const optimal = this.lp.solve(left > 0 ? 1500 : 50);
      if (left <= 0) return;
      const value = this.lp.objective;
      since++;
      if (value < mark * (1 - 2e-4)) {
        mark = value;
        since = 0;
      }
      if (this.price(this.few, { kind: "few", most: FEW_POINTS }) === 0 && optimal) return;
    }
  }

  /** Price of one piece of a type in the share solution, in cost. */
  pieceWorth(type: number): number {
    const row = this.classOf.get(type);
    return row === undefined ? 0 : Math.max(0, this.lp.duals[row]!);
  }

  /** Price of one rip in the share solution, in cost. */
  ripWorth(height: number, length: number): number {
    if (this.byLength) {
      const row = this.ripRow.get(String(height));
      if (row === undefined) return 0;
      return (Math.max(0, this.lp.duals[row]!) * length) / this.model.longest;
    }
    const row = this.ripRow.get(`${height}/${length}`);
    return row === undefined ? 0 : Math.max(0, this.lp.duals[row]!);
  }

  private prices(): Float64Array {
    const prices = new Float64Array(this.demand.length);
    for (let r = 0; r < prices.length; r++) {
      const price = Math.min(this.dearest, Math.max(0, this.lp.duals[r]!));
      prices[r] = Math.round((price / this.dearest) * PRICE_STEPS);
    }
    return prices;
  }

  /** Whole-number value of every item, rounded up where a rip counts by its length. */
  private values(prices: Float64Array): Float64Array {
    const values = new Float64Array(this.items.length);
    this.brings.forEach(({ rows, factors }, k) => {
      let value = 0;
      rows.forEach((row, n) => (value += prices[row]! * factors[n]!));
      values[k] = Math.ceil(value - 1e-7);
    });
    return values;
  }

  /** Fills a table at the present prices and adds the patterns and covers that are missing. */
  private price(table: Knapsack, detail: Detail): number {
    const prices = this.prices();
    table.solve(this.values(prices), detail, Infinity);
    return this.addMissing(table) + this.addCovers(prices);
  }

  private addMissing(table: Knapsack): number {
    const { model, lp } = this;
    const scale = PRICE_STEPS / this.dearest;
    let added = 0;
    const width = Math.floor((model.width + model.kerf) / this.gridX);
    const add = (
      trees: readonly KnapsackTree[],
      cost: number,
      scrapRow: number,
      share: Omit<Share, "level" | "tree">
    ): void => {
      for (const tree of trees) {
        const brings = new Map<number, number>();
        this.count(tree, brings);
        if (scrapRow >= 0) brings.set(scrapRow, 1);
        const column = this.addColumn(cost, brings);
        if (column < 0) continue;
        this.shares.set(column, { ...share, tree });
        added++;
      }
    };
    const margin = 1e-5 * this.dearest;
    for (const item of this.stock) {
      const above = (item.cost + margin) * scale;
      add(table.trees(width, item.height, above, PATTERNS_AT_ONCE), item.cost, -1, {
        stock: item.index,
        scrap: null,
      });
    }
    this.scraps.forEach((group, k) => {
      const above = (margin - lp.duals[this.scrapRow + k]!) * scale;
      const { w, h } = this.effective(group);
      add(table.trees(w, h, above, 1), 0, this.scrapRow + k, { stock: -1, scrap: group });
    });
    return added;
  }

  private effective(size: { readonly w: number; readonly h: number }): { w: number; h: number } {
    const { kerf } = this.model;
    return {
      w: Math.floor((size.w + kerf) / this.gridX),
      h: Math.floor((size.h + kerf) / this.gridY),
    };
  }

  private count(tree: KnapsackTree | null, brings: Map<number, number>): void {
    if (!tree) return;
    if (tree.item >= 0) {
      const { rows, factors } = this.brings[tree.item]!;
      rows.forEach((row, k) => bump(brings, row, factors[k]!));
      return;
    }
    this.count(tree.first, brings);
    this.count(tree.second, brings);
  }

  /** Cheapest cover of each run at these prices; adds those the master misses. */
  private addCovers(prices: Float64Array): number {
    let added = 0;
    const scale = PRICE_STEPS / this.dearest;
    this.runs.forEach((group, k) => {
      const { cost, rows } = cheapestCover(group, prices);
      if (cost / scale < this.lp.duals[this.runRow + k]! - 1e-5 * this.dearest) {
        const brings = new Map<number, number>([[this.runRow + k, 1]]);
        for (const row of rows) bump(brings, row, -1);
        if (this.addColumn(0, brings) >= 0) added++;
      }
    });
    return added;
  }

  /** Proves a bound at the present prices by the exact search; adds the patterns found missing. */
  private prove(mostStates: number): number {
    const prices = this.prices();
    const { table, model } = this;
    let step = 1;
    for (; ; step *= 2) {
      if (step > 1) {
        // A piece thinner than the step would be rounded to nothing: it gets no price.
        for (let r = 0; r < prices.length; r++) if (this.smallestSide[r]! < step) prices[r] = 0;
      }
      if (table.solve(this.values(prices), { kind: "full", step }, mostStates)) break;
    }
    let total = 0;
    for (let r = 0; r < prices.length; r++) total += prices[r]! * this.demand[r]!;
    for (const group of this.runs) total += group.count * cheapestCover(group, prices).cost;
    for (const group of this.scraps) {
      const { w, h } = this.effective(group);
      total -= group.count * table.value(w, h);
    }
    let ratio = 0;
    const width = Math.floor((model.width + model.kerf) / this.gridX);
    for (const item of this.stock) {
      ratio = Math.max(ratio, table.value(width, item.height) / item.cost);
    }
    // The last digits belong to the divisions, not to the proof.
    if (ratio > 0) this.bound = Math.max(this.bound, (total / ratio) * (1 - 1e-12));
    return step === 1 ? this.addMissing(table) + this.addCovers(prices) : 0;
  }

  /** The share solution: patterns with their levels, the most used first. */
  solution(): Share[] {
    return this.lp
      .solution()
      .filter(({ column }) => this.shares.has(column))
      .map(({ column, level }) => ({ ...this.shares.get(column)!, level }))
      .sort((a, b) => b.level - a.level);
  }

  /** Room a piece or pair leaf takes. */
  boxOf(leaf: Leaf): { w: number; h: number } {
    const { kerf } = this.model;
    const item = this.items[this.leaves.indexOf(leaf)]!;
    return { w: item.w * this.gridX - kerf, h: item.h * this.gridY - kerf };
  }

  /** Blocks a leaf may be cut as: each piece type of its class, or each pair, in all its ways. */
  blocksOf(leaf: Leaf, counts: ArrayLike<number>, shop: BlockSource): Block[] {
    const { model } = this;
    const blocks: Block[] = [];
    if (leaf.kind === "piece") {
      for (const member of this.classes[leaf.row]!.members) {
        if (counts[member]! < 1) continue;
        blocks.push(...shop.blocks[member]!);
      }
    } else if (leaf.kind === "pair") {
      for (const a of this.classes[leaf.row]!.members) {
        if (counts[a]! < 1) continue;
        for (const b of this.classes[leaf.other]!.members) {
          if (counts[b]! < (a === b ? 2 : 1)) continue;
          const p = model.types[a]!;
          const q = model.types[b]!;
          if (canNest(p, q)) blocks.push(shop.pair(a, b));
        }
      }
    }
    return blocks;
  }
}

function bump(map: Map<number, number>, key: number, by: number): void {
  map.set(key, (map.get(key) ?? 0) + by);
}

function divisor(a: number, b: number): number {
  return b === 0 ? a : divisor(b, a % b);
}

function groupScrap(scrap: readonly ScrapItem[]): ScrapGroup[] {
  const byKey = new Map<string, { w: number; h: number; count: number }>();
  for (const item of scrap) {
    const key = `${item.w}/${item.h}`;
    const known = byKey.get(key);
    if (known) known.count++;
    else byKey.set(key, { w: item.w, h: item.h, count: 1 });
  }
  const groups = [...byKey.values()];
  // Many sizes: the pair that gains least area by being taken as equally large is merged.
  let step = 64;
  let merged = groups;
  while (merged.length > MOST_SCRAP_SIZES && step < 1 << 24) {
    const rounded = new Map<string, { w: number; h: number; count: number }>();
    for (const one of groups) {
      const w = Math.ceil(one.w / step) * step;
      const h = Math.ceil(one.h / step) * step;
      const known = rounded.get(`${w}/${h}`);
      if (known) known.count += one.count;
      else rounded.set(`${w}/${h}`, { w, h, count: one.count });
    }
    merged = [...rounded.values()];
    step *= 2;
  }
  return merged;
}

/** A rip by the joints it lies between. */
export interface Arc {
  readonly from: number;
  readonly to: number;
}

/** Rips a run may be covered with: between which joints, where a whole cover can contain them. */
export function runArcs(model: Model, run: RunItem): Arc[] {
  const longest = longestRip(run.height, model);
  const shortest = shortestRip(run);
  const last = run.joints.length - 1;
  const before = new Array<boolean>(last + 1).fill(false);
  const after = new Array<boolean>(last + 1).fill(false);
  before[0] = true;
  after[last] = true;
  const fits = (from: number, to: number): boolean => {
    const length = run.joints[to]! - run.joints[from]!;
    return length >= shortest && length <= longest;
  };
  for (let to = 1; to <= last; to++) {
    for (let from = to - 1; from >= 0 && run.joints[to]! - run.joints[from]! <= longest; from--) {
      if (before[from] && fits(from, to)) {
        before[to] = true;
        break;
      }
    }
  }
  for (let from = last - 1; from >= 0; from--) {
    for (let to = from + 1; to <= last && run.joints[to]! - run.joints[from]! <= longest; to++) {
      if (after[to] && fits(from, to)) {
        after[from] = true;
        break;
      }
    }
  }
  const arcs: Arc[] = [];
  for (let from = 0; from < last; from++) {
    if (!before[from]) continue;
    for (let to = from + 1; to <= last && run.joints[to]! - run.joints[from]! <= longest; to++) {
      if (after[to] && fits(from, to)) arcs.push({ from, to });
    }
  }
  return arcs;
}

function ripLengths(
  model: Model,
  runs: readonly RunItem[]
): Map<string, { height: number; length: number }> {
  const found = new Map<string, { height: number; length: number }>();
  for (const run of runs) {
    for (const { from, to } of runArcs(model, run)) {
      const length = run.joints[to]! - run.joints[from]!;
      found.set(`${run.height}/${length}`, { height: run.height, length });
    }
  }
  return found;
}

/** Sorted sizes gathered into at most so many clusters, closing the smallest gaps first. */
function clusters(sizes: readonly number[], most: number): { least: number; most: number }[] {
  const sorted = [...new Set(sizes)].sort((a, b) => a - b);
  const gaps = sorted
    .slice(1)
    .map((size, k) => size - sorted[k]!)
    .sort((a, b) => a - b);
  const close = sorted.length > most ? gaps[sorted.length - most - 1]! : -1;
  const found: { least: number; most: number }[] = [];
  for (const size of sorted) {
    const last = found[found.length - 1];
    if (last && size - last.most <= close) last.most = size;
    else found.push({ least: size, most: size });
  }
  return found;
}

function cheapestCover(group: RunGroup, prices: Float64Array): { cost: number; rows: number[] } {
  const { run, arcs } = group;
  const last = run.joints.length - 1;
  const cost = new Float64Array(last + 1).fill(Infinity);
  const via = new Int32Array(last + 1).fill(-1);
  cost[0] = 0;
  // Arcs come in order of their first joint, so every joint is settled before it is left.
  arcs.forEach((arc, k) => {
    const value = cost[arc.from]! + prices[arc.row]!;
    if (value < cost[arc.to]!) {
      cost[arc.to] = value;
      via[arc.to] = k;
    }
  });
  const rows: number[] = [];
  for (let at = last; at > 0; at = arcs[via[at]!]!.from) rows.push(arcs[via[at]!]!.row);
  return { cost: cost[last]!, rows };
}
