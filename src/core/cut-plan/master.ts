/**
 * Patterns by column generation: which ways of cutting a panel, in which shares, would cover all
 * pieces at least cost if panels could be bought in fractions. The share solution leads to good
 * plans; its prices prove a bound.
 *
 * The bound, for any prices of 0 or more per piece and rip: let F(sheet) be the most valuable
 * pattern of a sheet at those prices, and t the largest F(panel) / cost(panel). Prices / t never pay
 * more for a panel's contents than the panel costs, so no plan costs less than
 *   (prices of all pieces and of all that rips must cover - F of every scrap) / t.
 * F comes from an exact search over whole numbers, so the proof does not rest on the simplex.
 */
import { type Block, canNest, nest } from "./blocks.js";
import { type PieceClass, groupShapes, shapesOf } from "./classes.js";
import { type Detail, Knapsack, type KnapsackItem, type KnapsackTree } from "./knapsack.js";
import { type Model, type ScrapItem, ripWays } from "./prepare.js";
import { type Part, type Sheet, listBlocks, stockFor } from "./sheet.js";
import type { Prices } from "./fill.js";
import { RipRows, type Stretch } from "./rip-rows.js";
import { Simplex } from "./simplex.js";

/** The part of a problem to be planned together. */
export interface Task {
  /** pieces of each type */
  readonly counts: Int32Array;
  readonly stretches: readonly Stretch[];
  readonly scrap: readonly ScrapItem[];
}

/** Where the blocks of real pieces come from. */
export interface BlockSource {
  readonly blocks: readonly (readonly Block[])[];
  pair(a: number, b: number): Block;
}

/** What a pattern leaf stands for. */
export type Leaf =
  | { readonly kind: "piece"; readonly shape: number }
  | { readonly kind: "pair"; readonly shape: number; readonly other: number }
  | { readonly kind: "rip"; readonly height: number; readonly length: number };

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

/** Rounded prices are whole multiples of the dearest panel over this. */
const PRICE_STEPS = 1 << 24;

/** Scraps of different sizes told apart; more are merged, to the larger size. */
const MOST_SCRAP_SIZES = 150;

/** Larger pieces tried in place of each smaller one. */
const STAND_INS = 3;

/** More shapes than this, and no stand-ins are looked for. */
const MOST_STAND_INS = 3000;

/** Most shapes in one fast table. */
const SHAPES_AT_ONCE = 200;

/** A round of the fast search so dear that the exact one is tried beside it, steps. */
const DEAR_ROUND = 3e7;

/** A column that saves less than this share of the dearest panel is not worth adding. */
const LEAST_SAVING = 1e-5;

/** Share by which the value of the share solution must fall for prices to be drawn as far again. */
const SETTLED = 2e-4;

/** How far prices are drawn towards those of the best bound, where there are many rows. */
const DRAW = 0.7;
const MANY_ROWS = 400;

/** Share of a sheet's cost a pattern must be worth at drawn prices to be looked at. */
const NEARLY = 0.9;

/** Patterns of a prior that lose less than this share of the dearest panel are taken over. */
const LEAST_LOST = 0.02;

/** Share of the dearest panel by which a piece left out costs more than its price may be. */
const LEAST_START = 1e-3;

/** A pattern of so many pieces is left to filling: it is full of specks. */
const MOST_LEAVES = 120;

/** Cost, in panels, that keeps a pattern out. */
const RARE_COST = 4;

/** Patterns taken from one table for one sheet size. */
const PATTERNS_AT_ONCE = 20;

/**
 * A rake piece is this many steps of the grid high at least, or the grid is made finer: a step at
 * most is lost of its height. The finer grid is 1/16 in, units.
 */
const LEAST_STEPS = 64;
const FINE_GRID = 64;

/** Patterns taken besides, each the best that holds one item. */
const PATTERNS_WITH_EACH = 200;

/** Points across the panel in the fast tables. */
const FEW_POINTS = 160;

export class Master {
  readonly shapes: readonly PieceClass[];
  private readonly groups: readonly (readonly number[])[];
  /** row of each shape, and how many units of that row one piece counts */
  private readonly rowOf: number[] = [];
  private readonly unitsOf: number[] = [];
  readonly leaves: Leaf[] = [];
  /** the best bound proven so far */
  bound = 0;
  private readonly items: KnapsackItem[] = [];
  private readonly fewItems: KnapsackItem[] = [];
  /** rows and how much of each an item brings */
  private readonly brings: { rows: number[]; factors: number[] }[] = [];
  private readonly rowCount: number;
  private readonly scrapRow: number;
  private readonly scraps: readonly ScrapGroup[];
  private readonly ripRows: RipRows;
  private readonly firstRipRow: number;
  /** leaves of rip lengths that only the ends of a few runs have */
  private readonly rare = new Set<number>();
  private rareLeftOut = false;
  private readonly demand: Float64Array;
  private readonly lp: Simplex;
  private readonly table: Knapsack;
  private readonly shares = new Map<number, Omit<Share, "level">>();
  private readonly known = new Set<string>();
  private readonly gridX: number;
  private readonly gridY: number;
  private readonly stock: readonly { index: number; cost: number; height: number }[];
  private readonly dearest: number;
  private readonly shapeOf = new Map<number, number>();
  private readonly smallestSide: Float64Array;
  /** columns that let a rip stand in for something else */
  private ripStandIns: number[] = [];
  private extraWork = 0;
  private turns = 0;
  /** prices of the best bound, as shares of the dearest panel, that no panel's contents exceed */
  private proven: Float64Array | null = null;
  /** how far prices are drawn towards those */
  private draw = 0;

  constructor(
    private readonly model: Model,
    private readonly task: Task,
    readonly options: MasterOptions,
    prior?: Prior
  ) {
    this.shapes = shapesOf(model, task.counts);
    this.shapes.forEach((one, k) => one.members.forEach((m) => this.shapeOf.set(m, k)));
    this.groups = groupShapes(model, this.shapes, options.mostGroups);
    if (this.groups.length < this.shapes.length) this.extraWork += 40 * this.shapes.length ** 2;
    this.groups.forEach((members, row) => {
      const largest = Math.max(...members.map((k) => this.shapes[k]!.area));
      for (const k of members) {
        this.rowOf[k] = row;
        this.unitsOf[k] = members.length === 1 ? 1 : this.shapes[k]!.area / largest;
      }
    });
    this.scraps = groupScrap(task.scrap);
    const pieceRows = this.groups.length;
    this.ripRows = new RipRows(model, task.stretches);
    this.firstRipRow = pieceRows;
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
    this.shapes.forEach((one, k) => {
      const h = Math.max(one.left, one.right);
      const rows = [this.rowOf[k]!];
      const factors = [this.unitsOf[k]!];
      addItem(one.w, h, one.rake, { kind: "piece", shape: k }, rows, factors);
      if (model.canTurn && !one.rake && one.w !== h) {
        addItem(h, one.w, false, { kind: "piece", shape: k }, rows, factors);
      }
    });
    this.addPairs(addItem);
    this.addRips(addItem);
    this.demand = this.demandOf(task.counts, task.stretches);
    row = this.demand.length;
    this.scrapRow = row;
    row += this.scraps.length;
    this.rowCount = row;

    // One grid for all sizes; heights of rake pieces do not fall on it and are rounded to it.
    let gridX = 0;
    let gridY = 0;
    let lowest = Infinity;
    for (const box of boxes) {
      gridX = divisor(gridX, box.w);
      if (box.few) lowest = Math.min(lowest, box.h);
      else gridY = divisor(gridY, box.h);
    }
    if (lowest < LEAST_STEPS * gridY) gridY = divisor(gridY, FINE_GRID);
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
    this.lp = this.startMaster(prior);
    this.addStandIns();
    this.addUniform();
    if (prior) this.addPatternsOf(prior.master);
  }

  private readonly few: Knapsack;

  /** Work done so far, steps. */
  get work(): number {
    return this.extraWork + this.lp.work * 1.5 + (this.table.work + this.few.work) * 2;
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
    const { model, task, shapes } = this;
    const room = Math.max(model.longest, ...task.scrap.map((item) => item.h));
    const mayNest = (a: PieceClass, b: PieceClass): boolean =>
      a.right > a.left === b.right > b.left &&
      (canNest(a, b) ||
        // Merged shapes are blunted copies of their members: what members may do, they may.
        (a.members.length + b.members.length > 2 &&
          a.members.some((m) => b.members.some((n) => canNest(model.types[m]!, model.types[n]!)))));
    const rakes = shapes.map((one, k) => ({ one, k })).filter(({ one }) => one.rake);
    rakes.forEach(({ one, k }, at) => {
      for (const { one: other, k: otherK } of rakes.slice(at)) {
        if (k === otherK && one.count < 2) continue;
        if (!mayNest(one, other)) continue;
        const box = nest(one, other, model.kerf);
        if (box.h > room) continue;
        const leaf: Leaf = { kind: "pair", shape: k, other: otherK };
        const row = this.rowOf[k]!;
        const otherRow = this.rowOf[otherK]!;
        const units = this.unitsOf[k]!;
        const otherUnits = this.unitsOf[otherK]!;
        if (row === otherRow) addItem(box.w, box.h, true, leaf, [row], [units + otherUnits]);
        else addItem(box.w, box.h, true, leaf, [row, otherRow], [units, otherUnits]);
      }
    });
  }

  private addRips(
    addItem: (
      w: number,
      h: number,
      rounded: boolean,
      leaf: Leaf,
      rows: number[],
      factors: number[]
    ) => void
  ): void {
    for (const { height, length, rows, factors, rare } of this.ripRows.leaves) {
      for (const way of ripWays(height, length, this.model)) {
        if (rare) this.rare.add(this.leaves.length);
        const own = rows.map((row) => this.firstRipRow + row);
        addItem(way.w, way.h, false, { kind: "rip", height, length }, own, [...factors]);
      }
    }
  }

  /** How much of each row of pieces and rips is asked for. */
  private demandOf(counts: ArrayLike<number>, stretches: Iterable<Stretch>): Float64Array {
    const demand = new Float64Array(this.firstRipRow + this.ripRows.count);
    this.shapes.forEach((shape, k) => {
      for (const member of shape.members) {
        demand[this.rowOf[k]!]! += counts[member]! * this.unitsOf[k]!;
      }
    });
    demand.set(this.ripRows.demand(stretches), this.firstRipRow);
    return demand;
  }

  private startMaster(prior: Prior | undefined): Simplex {
    const right = new Float64Array(this.rowCount);
    const start = new Float64Array(this.rowCount);
    for (let r = 0; r < this.demand.length; r++) {
      right[r] = this.demand[r]!;
      // One of anything fits the dearest panel, so this column is real, if wasteful.
      start[r] = this.dearest;
    }
    const alone: Share[] = [];
    this.leaves.forEach((_, k) => {
      // A unit of a row must not be more than the leaf brings.
      const { rows, factors } = this.brings[k]!;
      const row = rows[0]!;
      if (rows.length > 1 || alone[row] || factors[0]! < 1) return;
      const { h } = this.fewItems[k]!;
      const panel = this.stock
        .filter(({ height }) => height >= h)
        .reduce<{ index: number; cost: number } | null>(
          (least, one) => (least && least.cost <= one.cost ? least : one),
          null
        );
      if (!panel) return;
      start[row] = panel.cost;
      alone[row] = { level: 0, stock: panel.index, scrap: null, tree: leafOf(k) };
    });
    // The unit columns of the rows come first in the simplex.
    if (prior) this.proven = this.pricesFrom(prior.master);
    else alone.forEach((share, row) => this.shares.set(row, share));
    this.scraps.forEach((group, k) => (right[this.scrapRow + k] = group.count));
    const within = prior?.within ?? 0;
    for (let r = 0; prior && r < this.demand.length; r++) {
      start[r] = (1 + within) * this.proven![r]! * this.dearest + LEAST_START * this.dearest;
    }
    const lp = new Simplex(right, start);
    for (let r = 0; r < this.demand.length; r++) {
      const cost = prior ? -(1 - within) * this.proven![r]! * this.dearest : 0;
      lp.add({ cost, rows: [r], coefficients: [-1] });
    }
    return lp;
  }

  /** The best prices of a master of the same task, for the rows of this one. */
  private pricesFrom(prior: Master): Float64Array {
    const prices = new Float64Array(this.demand.length);
    this.groups.forEach((members, row) => {
      let worth = 0;
      let units = 0;
      for (const k of members) {
        const { count } = this.shapes[k]!;
        worth += count * prior.proven![prior.rowOf[k]!]! * prior.unitsOf[k]!;
        units += count * this.unitsOf[k]!;
      }
      prices[row] = worth / units;
    });
    for (let r = 0; r < this.ripRows.count; r++) {
      prices[this.firstRipRow + r] = prior.proven![prior.firstRipRow + r]!;
    }
    return prices;
  }

  private addPatternsOf(prior: Master): void {
    this.bound = prior.bound;
    for (const [column, share] of prior.shares) {
      if (column < prior.rowCount || prior.lp.saving(column) < -LEAST_LOST * this.dearest) continue;
      const brings = new Map<number, number>();
      this.count(share.tree, brings);
      let cost = 0;
      if (share.scrap) bump(brings, this.scrapRow + this.scrapGroupOf(share.scrap), 1);
      else cost = this.options.costs[share.stock]!;
      const own = this.addColumn(cost, brings);
      if (own >= 0) this.shares.set(own, share);
    }
  }

  /**
   * Columns that let a larger piece or rip stand in for a smaller one: true of the best prices anyway,
   * except of a rip's, whose price for its length is also that of shorter rips. Those hold prices
   * steady at first and are taken out before the last word.
   */
  private addStandIns(): void {
    const { model, lp } = this;
    interface Box {
      row: number;
      w: number;
      h: number;
      rake: boolean;
      rip: boolean;
      factor: number;
    }
    const boxes: Box[] = this.shapes.map((one, k) => ({
      row: this.rowOf[k]!,
      w: one.w,
      h: Math.max(one.left, one.right),
      rake: one.rake,
      rip: false,
      factor: this.unitsOf[k]!,
    }));
    this.leaves.forEach((leaf, k) => {
      const { rows, factors } = this.brings[k]!;
      if (leaf.kind !== "rip" || rows.length > 1) return;
      boxes.push({
        row: rows[0]!,
        w: leaf.height,
        h: leaf.length,
        rake: false,
        rip: true,
        factor: factors[0]!,
      });
    });
    this.extraWork += boxes.length ** 2;
    if (boxes.length > MOST_STAND_INS) return;
    for (const small of boxes) {
      const larger = boxes.filter(
        (big) =>
          big.row !== small.row &&
          !big.rake &&
          // A rectangle may lie turned where a rake piece may not.
          !(model.canTurn && small.rake) &&
          small.w <= big.w &&
          small.h <= big.h &&
          (small.w < big.w ||
            small.h < big.h ||
            (small.row !== big.row ? small.row < big.row : false))
      );
      larger.sort((a, b) => a.w * a.h - b.w * b.h || a.row - b.row);
      const kept: Box[] = [];
      for (const big of larger) {
        if (kept.length >= STAND_INS) break;
        if (kept.some((other) => other.w <= big.w && other.h <= big.h)) continue;
        kept.push(big);
        const column = lp.add({
          cost: 0,
          rows: [small.row, big.row],
          coefficients: [small.factor, -big.factor],
        });
        if (big.rip) this.ripStandIns.push(column);
      }
    }
  }

  /** Adds the patterns of a plan at hand, so that prices start near the truth. */
  addSheets(sheets: readonly Sheet[]): void {
    for (const sheet of sheets) {
      const blocks: Block[] = [];
      listBlocks(sheet.root, blocks);
      const brings = new Map<number, number>();
      for (const block of blocks) {
        if (block.run < 0) {
          this.bumpPiece(brings, block.type);
          if (block.pair) this.bumpPiece(brings, block.pair.upper);
          continue;
        }
        const { rows, factors } = this.ripRows.counted(block);
        rows.forEach((row, k) => bump(brings, this.firstRipRow + row, factors[k]!));
      }
      const tree = this.treeOf(sheet.root);
      let column: number;
      let share: Omit<Share, "level">;
      if (sheet.scrap >= 0) {
        const group = this.scrapGroupOf(this.model.scrap[sheet.scrap]!);
        bump(brings, this.scrapRow + group, 1);
        column = this.addColumn(0, brings);
        share = { stock: -1, scrap: this.scraps[group]!, tree: tree! };
      } else {
        const stock = stockFor(this.model, sheet.reach);
        const cost = this.options.costs[stock]!;
        column = this.addColumn(Number.isFinite(cost) ? cost : this.dearest, brings);
        share = { stock, scrap: null, tree: tree! };
      }
      if (column >= 0 && tree) this.shares.set(column, share);
    }
  }

  /** The pattern of a sheet's part; null for an empty one. */
  private treeOf(part: Part | null): KnapsackTree | null {
    if (!part) return null;
    if (part.block) return leafOf(this.leafOfBlock(part.block));
    const first = this.treeOf(part.first);
    const second = this.treeOf(part.second);
    if (!first || !second) return first ?? second;
    return { item: -1, cut: part.cut, first, second };
  }

  private leafOfBlock(block: Block): number {
    if (block.run >= 0) return this.leafOfRip(block);
    const shape = this.shapeOf.get(block.type)!;
    if (!block.pair) {
      return this.leaves.findIndex((leaf) => leaf.kind === "piece" && leaf.shape === shape);
    }
    const upper = this.shapeOf.get(block.pair.upper)!;
    return this.leaves.findIndex(
      (leaf) =>
        leaf.kind === "pair" &&
        ((leaf.shape === shape && leaf.other === upper) ||
          (leaf.shape === upper && leaf.other === shape))
    );
  }

  /** The leaf a rip counts as: of those of its rows the longest that is no longer. */
  private leafOfRip(block: Block): number {
    const run = this.model.runs[block.run]!;
    const { rows, length } = this.ripRows.counted(block);
    let found = -1;
    let most = -1;
    this.leaves.forEach((leaf, k) => {
      if (leaf.kind !== "rip" || leaf.height !== run.height) return;
      if (leaf.length > length || leaf.length <= most) return;
      const own = this.brings[k]!.rows;
      if (own.length !== rows.length) return;
      if (own.some((row, n) => row !== this.firstRipRow + rows[n]!)) return;
      most = leaf.length;
      found = k;
    });
    return found;
  }

  /** Adds panels full of one thing: prices then never promise more than these. */
  private addUniform(): void {
    const { model } = this;
    const width = Math.floor((model.width + model.kerf) / this.gridX);
    this.items.forEach((item, k) => {
      const { h } = this.fewItems[k]!;
      const across = Math.floor(width / item.w);
      for (const { index, cost, height } of this.stock) {
        const times = across * Math.floor(height / h);
        if (times < 1) continue;
        const brings = new Map<number, number>();
        const { rows, factors } = this.brings[k]!;
        rows.forEach((row, n) => bump(brings, row, times * factors[n]!));
        const column = this.addColumn(cost, brings);
        if (column < 0) continue;
        const tree = inRow(across, inRow(Math.floor(height / h), leafOf(k), "level"), "plumb");
        this.keepShare(column, { stock: index, scrap: null, tree });
      }
    });
  }

  private keepShare(column: number, share: Omit<Share, "level">): void {
    if (leavesUpTo(share.tree, MOST_LEAVES) < MOST_LEAVES) this.shares.set(column, share);
  }

  private bumpPiece(brings: Map<number, number>, type: number): void {
    const shape = this.shapeOf.get(type)!;
    bump(brings, this.rowOf[shape]!, this.unitsOf[shape]!);
  }

  /** Adds a column unless it is known or, where `useful` is asked for, saves nothing at present. */
  private addColumn(cost: number, brings: ReadonlyMap<number, number>, useful = false): number {
    if (useful) {
      let saves = -cost;
      for (const [row, factor] of brings) saves += factor * this.lp.duals[row]!;
      if (saves <= LEAST_SAVING * this.dearest) return -1;
    }
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
    let proven = Infinity;
    let roundWork = 0;
    let fullWork = Infinity;
    for (;;) {
      const before = this.work;
      const left = budget - before;
      const optimal = this.lp.solve(left > 0 ? 1500 : 50);
      const value = this.lp.objective;
      if (left <= 0) break;
      if (fast) {
        const added = this.price(this.few, { kind: "few", most: FEW_POINTS });
        roundWork = this.work - before;
        // Little gained in many rounds: the exact search finds what is really missing.
        since++;
        if (value < mark * (1 - 2e-4)) {
          mark = value;
          since = 0;
        }
        if ((added === 0 && optimal) || since > 8) fast = false;
        // Where the exact search costs no more than a round of the rest it may as well be done now.
        if (roundWork > Math.min(fullWork, DEAR_ROUND)) fast = false;
        continue;
      }
      const start = this.work;
      const added = this.prove(mostStates);
      fullWork = this.work - start;
      const ends = enough(this.bound, value);
      if (ends || (added === 0 && optimal && this.draw === 0)) {
        if (!this.leaveOutRipStandIns()) return;
      } else if (added === 0 && optimal) {
        // Nothing missing at the drawn prices: those of the share solution have the last word.
        this.draw = 0;
        continue;
      }
      if (this.rowCount <= MANY_ROWS) this.draw = 0;
      else this.draw = value < proven * (1 - SETTLED) ? DRAW : this.draw * 0.5;
      proven = value;
      fast = true;
      since = 0;
      mark = value;
    }
    this.prove(mostStates);
  }

  /** Generates patterns by the fast search only, for their shares and not for a bound. */
  share(budget: number): void {
    for (let since = 0, mark = Infinity; since <= 8; since++) {
      const optimal = this.lp.solve(1500);
      const value = this.lp.objective;
      if (this.work > budget) return;
      if (value < mark * (1 - 2e-4)) {
        mark = value;
        since = 0;
      }
      if (this.price(this.few, { kind: "few", most: FEW_POINTS }) === 0 && optimal) return;
    }
  }

  /**
   * Sets what is still to be cut and finds shares for it with a few
   * rounds of the fast search. Bounds proven so far stay those of the whole task.
   */
  shareRest({ counts, stretches, scrap }: Task, rounds: number): void {
    const right = new Float64Array(this.rowCount);
    right.set(this.demandOf(counts, stretches));
    for (const item of scrap) right[this.scrapRow + this.scrapGroupOf(item)]!++;
    if (!this.rareLeftOut) this.leaveOutRare();
    this.lp.reset(right);
    this.draw = 0;
    for (let round = 0; round < rounds; round++) {
      const optimal = this.lp.solve(1500);
      const last = round === rounds - 1;
      if (last || (this.price(this.few, { kind: "few", most: FEW_POINTS }) === 0 && optimal))
        return;
    }
  }

  /**
   * Leaves out patterns with rip lengths that few runs have: counted by length alone they could be
   * cut again and again, which real runs do not allow.
   */
  private leaveOutRare(): void {
    this.rareLeftOut = true;
    const holdsRare = (tree: KnapsackTree | null): boolean =>
      tree !== null &&
      (this.rare.has(tree.item) || holdsRare(tree.first) || holdsRare(tree.second));
    for (const [column, share] of this.shares) {
      if (holdsRare(share.tree)) this.lp.setCost(column, RARE_COST * this.dearest);
    }
  }

  /**
   * Takes rips out that stand in for something else; false where the share solution has none, or
   * there are so many rows that the steadier prices prove more.
   */
  private leaveOutRipStandIns(): boolean {
    if (this.rowCount > MANY_ROWS) return false;
    const columns = new Set(this.ripStandIns);
    this.ripStandIns = [];
    if (!this.lp.solution().some(({ column }) => columns.has(column))) return false;
    // No price is more than the dearest panel, so at this cost they save nothing.
    for (const column of columns) this.lp.setCost(column, this.dearest);
    this.lp.reset();
    return true;
  }

  /** The smallest of the sizes told apart that a scrap goes into: its own where none are merged. */
  private scrapGroupOf(item: { readonly w: number; readonly h: number }): number {
    let found = -1;
    let least = Infinity;
    this.scraps.forEach(({ w, h }, k) => {
      if (w < item.w || h < item.h || w * h >= least) return;
      least = w * h;
      found = k;
    });
    return found;
  }

  /** What pieces and rips are worth in the share solution, as it stands now. */
  worths(): Prices {
    const duals = this.lp.duals.map((dual) => Math.max(0, dual));
    return {
      piece: (type) => {
        const shape = this.shapeOf.get(type);
        return shape === undefined ? 0 : duals[this.rowOf[shape]!]! * this.unitsOf[shape]!;
      },
      rip: (rip) => {
        const { rows, factors } = this.ripRows.counted(rip);
        return rows.reduce((sum, row, k) => sum + duals[this.firstRipRow + row]! * factors[k]!, 0);
      },
    };
  }

  /** True where some prices have proven a bound. */
  get priced(): boolean {
    return this.proven !== null;
  }

  /** Cost of the share solution. */
  get value(): number {
    return this.lp.objective;
  }

  /**
   * Prices of the share solution, drawn towards those of the best bound so far: by themselves they
   * jump about from one round to the next, and patterns and bounds are the better between the two.
   */
  private prices(): Float64Array {
    const prices = new Float64Array(this.demand.length);
    const draw = this.proven ? this.draw : 0;
    for (let r = 0; r < prices.length; r++) {
      const price = Math.min(this.dearest, Math.max(0, this.lp.duals[r]!));
      prices[r] = Math.round(
        ((1 - draw) * (price / this.dearest) + (draw > 0 ? draw * this.proven![r]! : 0)) *
          PRICE_STEPS
      );
    }
    return prices;
  }

  /** Whole-number value of every item, rounded up where a rip counts by its length. */
  private values(prices: Float64Array): Float64Array {
    const values = new Float64Array(this.items.length);
    this.brings.forEach(({ rows, factors }, k) => {
      let value = 0;
      rows.forEach((row, n) => (value += prices[row]! * factors[n]!));
      values[k] = this.rareLeftOut && this.rare.has(k) ? 0 : Math.ceil(value - 1e-7);
    });
    return values;
  }

  /** Fills a table at the present prices and adds the patterns that are missing. */
  private price(table: Knapsack, detail: Detail): number {
    const prices = this.prices();
    const values = this.values(prices);
    const parts = Math.ceil(this.shapes.length / SHAPES_AT_ONCE);
    if (parts > 1) {
      // Too many shapes for a fast table: a part of them in turn, mixed anew each time round.
      const turn = this.turns++;
      const mixed = (k: number): boolean =>
        ((Math.imul(k + 1, 2654435761 + 2 * Math.floor(turn / parts)) >>> 16) + turn) % parts === 0;
      this.leaves.forEach((leaf, n) => {
        if (leaf.kind === "rip") return;
        if (!mixed(leaf.shape) || (leaf.kind === "pair" && !mixed(leaf.other))) values[n] = 0;
      });
    }
    table.solve(values, detail, Infinity);
    return this.addMissing(table);
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
        const column = this.addColumn(cost, brings, true);
        if (column < 0) continue;
        this.keepShare(column, { ...share, tree });
        added++;
      }
    };
    // Where prices are drawn, patterns that fall short at these prices may still save at the LP's.
    const least = this.draw > 0 && this.proven ? NEARLY : 1;
    for (const item of this.stock) {
      const above = item.cost * least * scale;
      add(table.trees(width, item.height, above, PATTERNS_AT_ONCE), item.cost, -1, {
        stock: item.index,
        scrap: null,
      });
      add(table.treesWithEach(width, item.height, above, PATTERNS_WITH_EACH), item.cost, -1, {
        stock: item.index,
        scrap: null,
      });
    }
    this.scraps.forEach((group, k) => {
      const above = -lp.duals[this.scrapRow + k]! * least * scale;
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

  /** Proves a bound at the present prices by the exact search; adds the patterns found missing. */
  prove(mostStates: number): number {
    const prices = this.prices();
    const { table, model } = this;
    let step = 1;
    for (; ; step *= 2) {
      // A piece thinner than the step would be rounded to nothing: it gets no price.
      for (let r = 0; r < prices.length; r++) if (this.smallestSide[r]! < step) prices[r] = 0;
      if (table.solve(this.values(prices), { kind: "full", step }, mostStates)) break;
    }
    let total = 0;
    for (let r = 0; r < prices.length; r++) total += prices[r]! * this.demand[r]!;
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
    const bound = ratio > 0 ? (total / ratio) * (1 - 1e-12) : 0;
    if (ratio > 0 && (bound > this.bound || !this.proven)) {
      this.bound = Math.max(bound, this.bound);
      // Scaled so that no panel's contents are worth more than it costs.
      const scale = 1 / (ratio * this.dearest);
      this.proven = prices.map((price) => price * scale);
    }
    return step === 1 ? this.addMissing(table) : 0;
  }

  /** The share solution: patterns with their levels, the most used first. */
  solution(): Share[] {
    return this.lp
      .solution()
      .filter(({ column }) => this.shares.has(column))
      .map(({ column, level }) => ({ ...this.shares.get(column)!, level }))
      .sort((a, b) => b.level - a.level);
  }

  /** A piece type for every piece in a pattern. */
  typesOf(tree: KnapsackTree | null): number[] {
    if (!tree) return [];
    if (tree.item < 0) return [...this.typesOf(tree.first), ...this.typesOf(tree.second)];
    const leaf = this.leaves[tree.item]!;
    if (leaf.kind === "rip") return [];
    const types = [this.shapes[leaf.shape]!.members[0]!];
    if (leaf.kind === "pair") types.push(this.shapes[leaf.other]!.members[0]!);
    return types;
  }

  /** Room a piece or pair leaf takes. */
  boxOf(leaf: number): { w: number; h: number } {
    const { kerf } = this.model;
    const item = this.items[leaf]!;
    return { w: item.w * this.gridX - kerf, h: item.h * this.gridY - kerf };
  }

  /** Blocks a leaf may be cut as: each piece type of its class, or each pair, in all its ways. */
  blocksOf(leaf: Leaf, counts: ArrayLike<number>, shop: BlockSource): Block[] {
    const { model } = this;
    const blocks: Block[] = [];
    if (leaf.kind === "piece") {
      for (const member of this.shapes[leaf.shape]!.members) {
        if (counts[member]! < 1) continue;
        blocks.push(...shop.blocks[member]!);
      }
    } else if (leaf.kind === "pair") {
      for (const a of this.shapes[leaf.shape]!.members) {
        if (counts[a]! < 1) continue;
        for (const b of this.shapes[leaf.other]!.members) {
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

/** Leaves of a pattern, counted no further than `most`. */
function leavesUpTo(tree: KnapsackTree | null, most: number): number {
  if (!tree || most <= 0) return 0;
  if (tree.item >= 0) return 1;
  const first = leavesUpTo(tree.first, most);
  return first + leavesUpTo(tree.second, most - first);
}

function leafOf(item: number): KnapsackTree {
  return { item, cut: "none", first: null, second: null };
}

/** So many of one pattern in a row. */
function inRow(times: number, of: KnapsackTree, cut: "plumb" | "level"): KnapsackTree {
  let tree = of;
  for (let k = 1; k < times; k++) tree = { item: -1, cut, first: of, second: tree };
  return tree;
}

function bump(map: Map<number, number>, key: number, by: number): void {
  map.set(key, (map.get(key) ?? 0) + by);
}

function divisor(one: number, other: number): number {
  let [a, b] = [one, other];
  while (b !== 0) [a, b] = [b, a % b];
  return a;
}

function groupScrap(scrap: readonly ScrapItem[]): ScrapGroup[] {
  const byKey = new Map<string, { w: number; h: number; count: number }>();
  for (const item of scrap) {
    const key = `${item.w}/${item.h}`;
    const known = byKey.get(key);
    if (known) known.count++;
    else byKey.set(key, { w: item.w, h: item.h, count: 1 });
  }
  let groups = [...byKey.values()];
  // Very many sizes are first rounded up, so that comparing all pairs stays quick.
  for (let step = 64; groups.length > 8 * MOST_SCRAP_SIZES && step < 1 << 24; step *= 2) {
    const rounded = new Map<string, { w: number; h: number; count: number }>();
    for (const one of groups) {
      const w = Math.ceil(one.w / step) * step;
      const h = Math.ceil(one.h / step) * step;
      const known = rounded.get(`${w}/${h}`);
      if (known) known.count += one.count;
      else rounded.set(`${w}/${h}`, { w, h, count: one.count });
    }
    groups = [...rounded.values()];
  }
  // Then the two sizes that gain least area by being taken as equally large are merged.
  while (groups.length > MOST_SCRAP_SIZES) {
    let best = Infinity;
    let at = [0, 1];
    for (let i = 0; i < groups.length; i++) {
      for (let j = i + 1; j < groups.length; j++) {
        const a = groups[i]!;
        const b = groups[j]!;
        const area = Math.max(a.w, b.w) * Math.max(a.h, b.h);
        const gain = a.count * (area - a.w * a.h) + b.count * (area - b.w * b.h);
        if (gain < best) {
          best = gain;
          at = [i, j];
        }
      }
    }
    const [a, b] = [groups[at[0]!]!, groups[at[1]!]!];
    const merged = { w: Math.max(a.w, b.w), h: Math.max(a.h, b.h), count: a.count + b.count };
    groups = groups.filter((one) => one !== a && one !== b);
    groups.push(merged);
  }
  return groups;
}
