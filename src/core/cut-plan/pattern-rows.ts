/**
 * What the master problem counts: a row for each shape or group of shapes and for the rips, and the
 * leaves patterns are made of, each with what it brings to which rows.
 */
import { type Block, canNest, nest } from "./blocks.js";
import { type PieceClass, groupShapes, shapesOf } from "./classes.js";
import type { Prices } from "./fill.js";
import type { KnapsackTree } from "./knapsack.js";
import { type Model, type ScrapItem, ripWays } from "./prepare.js";
import { RipRows, type Stretch } from "./rip-rows.js";
import type { Part } from "./sheet.js";

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

/** How much of each row something brings. */
export type Brings = Map<number, number>;

/** A leaf as it is cut and counted. */
export interface LeafItem {
  readonly leaf: Leaf;
  /** as cut, without the kerf */
  readonly w: number;
  readonly h: number;
  /** true for rake pieces, whose heights fall on no grid */
  readonly rake: boolean;
  /** rows it counts in, each once, and how much */
  readonly rows: readonly number[];
  readonly factors: readonly number[];
  /** a rip length that only the ends of a few runs have */
  readonly rare: boolean;
}

/** A box that may stand in for a smaller one, or have a larger one stand in for it. */
export interface StandIn {
  readonly row: number;
  readonly w: number;
  readonly h: number;
  readonly rake: boolean;
  readonly rip: boolean;
  readonly factor: number;
}

export function leafTree(item: number): KnapsackTree {
  return { item, cut: "none", first: null, second: null };
}

export function bump(brings: Brings, row: number, by: number): void {
  brings.set(row, (brings.get(row) ?? 0) + by);
}

export class PatternRows {
  readonly shapes: readonly PieceClass[];
  readonly items: readonly LeafItem[];
  /** rows of pieces and rips; those of scrap come after them */
  readonly count: number;
  /** steps of work done to make them */
  readonly work: number;
  private readonly groups: readonly (readonly number[])[];
  /** row of each shape, and how many units of that row one piece counts */
  private readonly rowOf: number[] = [];
  private readonly unitsOf: number[] = [];
  private readonly shapeOf = new Map<number, number>();
  private readonly ripRows: RipRows;
  private readonly firstRipRow: number;

  constructor(
    private readonly model: Model,
    task: Task,
    mostGroups: number
  ) {
    this.shapes = shapesOf(model, task.counts);
    this.shapes.forEach((one, k) => one.members.forEach((m) => this.shapeOf.set(m, k)));
    this.groups = groupShapes(model, this.shapes, mostGroups);
    this.work = this.groups.length < this.shapes.length ? 40 * this.shapes.length ** 2 : 0;
    this.groups.forEach((members, row) => {
      const largest = Math.max(...members.map((k) => this.shapes[k]!.area));
      for (const k of members) {
        this.rowOf[k] = row;
        this.unitsOf[k] = members.length === 1 ? 1 : this.shapes[k]!.area / largest;
      }
    });
    this.ripRows = new RipRows(model, task.stretches);
    this.firstRipRow = this.groups.length;
    this.count = this.firstRipRow + this.ripRows.count;
    this.items = [...this.pieceItems(), ...this.pairItems(task), ...this.ripItems()];
  }

  private pieceItems(): LeafItem[] {
    return this.shapes.flatMap((one, k) => {
      const h = Math.max(one.left, one.right);
      const item: LeafItem = {
        leaf: { kind: "piece", shape: k },
        w: one.w,
        h,
        rake: one.rake,
        rows: [this.rowOf[k]!],
        factors: [this.unitsOf[k]!],
        rare: false,
      };
      const mayTurn = this.model.canTurn && !one.rake && one.w !== h;
      return mayTurn ? [item, { ...item, w: h, h: one.w }] : [item];
    });
  }

  private pairItems(task: Task): LeafItem[] {
    const { model, shapes } = this;
    const room = Math.max(model.longest, ...task.scrap.map((item) => item.h));
    const mayNest = (a: PieceClass, b: PieceClass): boolean =>
      a.right > a.left === b.right > b.left &&
      (canNest(a, b) ||
        // Merged shapes are blunted copies of their members: what members may do, they may.
        (a.members.length + b.members.length > 2 &&
          a.members.some((m) => b.members.some((n) => canNest(model.types[m]!, model.types[n]!)))));
    const rakes = shapes.map((one, k) => ({ one, k })).filter(({ one }) => one.rake);
    const items: LeafItem[] = [];
    rakes.forEach(({ one, k }, at) => {
      for (const { one: other, k: otherK } of rakes.slice(at)) {
        if (k === otherK && one.count < 2) continue;
        if (!mayNest(one, other)) continue;
        const { w, h } = nest(one, other, model.kerf);
        if (h > room) continue;
        const leaf: Leaf = { kind: "pair", shape: k, other: otherK };
        const row = this.rowOf[k]!;
        const otherRow = this.rowOf[otherK]!;
        const units = this.unitsOf[k]!;
        const otherUnits = this.unitsOf[otherK]!;
        const isOneRow = row === otherRow;
        const rows = isOneRow ? [row] : [row, otherRow];
        const factors = isOneRow ? [units + otherUnits] : [units, otherUnits];
        items.push({ leaf, w, h, rake: true, rows, factors, rare: false });
      }
    });
    return items;
  }

  private ripItems(): LeafItem[] {
    return this.ripRows.leaves.flatMap(({ height, length, rows, factors, rare }) =>
      ripWays(height, length, this.model).map(({ w, h }) => ({
        leaf: { kind: "rip" as const, height, length },
        w,
        h,
        rake: false,
        rows: rows.map((row) => this.firstRipRow + row),
        factors,
        rare,
      }))
    );
  }

  /** How much of each row some pieces and parts of runs ask for. */
  demand(counts: ArrayLike<number>, stretches: Iterable<Stretch>): Float64Array {
    const demand = new Float64Array(this.count);
    this.shapes.forEach((shape, k) => {
      for (const member of shape.members) {
        demand[this.rowOf[k]!]! += counts[member]! * this.unitsOf[k]!;
      }
    });
    demand.set(this.ripRows.demand(stretches), this.firstRipRow);
    return demand;
  }

  /** Adds what a pattern brings. */
  countTree(tree: KnapsackTree | null, brings: Brings): void {
    if (!tree) return;
    if (tree.item >= 0) {
      const { rows, factors } = this.items[tree.item]!;
      rows.forEach((row, k) => bump(brings, row, factors[k]!));
      return;
    }
    this.countTree(tree.first, brings);
    this.countTree(tree.second, brings);
  }

  /** Adds what a block of a plan brings. */
  countBlock(block: Block, brings: Brings): void {
    if (block.run < 0) {
      this.countPiece(block.type, brings);
      if (block.pair) this.countPiece(block.pair.upper, brings);
      return;
    }
    const { rows, factors } = this.ripRows.counted(block);
    rows.forEach((row, k) => bump(brings, this.firstRipRow + row, factors[k]!));
  }

  private countPiece(type: number, brings: Brings): void {
    const shape = this.shapeOf.get(type)!;
    bump(brings, this.rowOf[shape]!, this.unitsOf[shape]!);
  }

  /** The pattern of a sheet's part; null for an empty one. */
  treeOf(part: Part | null): KnapsackTree | null {
    if (!part) return null;
    if (part.block) return leafTree(this.leafOfBlock(part.block));
    const first = this.treeOf(part.first);
    const second = this.treeOf(part.second);
    if (!first || !second) return first ?? second;
    return { item: -1, cut: part.cut, first, second };
  }

  private leafOfBlock(block: Block): number {
    if (block.run >= 0) return this.leafOfRip(block);
    const shape = this.shapeOf.get(block.type)!;
    if (!block.pair) {
      return this.items.findIndex(({ leaf }) => leaf.kind === "piece" && leaf.shape === shape);
    }
    const upper = this.shapeOf.get(block.pair.upper)!;
    return this.items.findIndex(
      ({ leaf }) =>
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
    this.items.forEach(({ leaf, rows: own }, k) => {
      if (leaf.kind !== "rip" || leaf.height !== run.height) return;
      if (leaf.length > length || leaf.length <= most) return;
      if (own.length !== rows.length) return;
      if (own.some((row, n) => row !== this.firstRipRow + rows[n]!)) return;
      most = leaf.length;
      found = k;
    });
    return found;
  }

  /** Pieces and rips, as they may stand in for one another. */
  standIns(): StandIn[] {
    const boxes = this.shapes.map((one, k): StandIn => ({
      row: this.rowOf[k]!,
      w: one.w,
      h: Math.max(one.left, one.right),
      rake: one.rake,
      rip: false,
      factor: this.unitsOf[k]!,
    }));
    for (const { leaf, rows, factors } of this.items) {
      if (leaf.kind !== "rip" || rows.length > 1) continue;
      boxes.push({
        row: rows[0]!,
        w: leaf.height,
        h: leaf.length,
        rake: false,
        rip: true,
        factor: factors[0]!,
      });
    }
    return boxes;
  }

  /** Prices of the rows of a master of the same task, for the rows of this one. */
  pricesFrom(prior: PatternRows, given: Float64Array): Float64Array {
    const prices = new Float64Array(this.count);
    this.groups.forEach((members, row) => {
      let worth = 0;
      let units = 0;
      for (const k of members) {
        const { count } = this.shapes[k]!;
        worth += count * given[prior.rowOf[k]!]! * prior.unitsOf[k]!;
        units += count * this.unitsOf[k]!;
      }
      prices[row] = worth / units;
    });
    for (let r = 0; r < this.ripRows.count; r++) {
      prices[this.firstRipRow + r] = given[prior.firstRipRow + r]!;
    }
    return prices;
  }

  /** What pieces and rips are worth at prices of the rows. */
  worths(prices: ArrayLike<number>): Prices {
    return {
      piece: (type) => {
        const shape = this.shapeOf.get(type);
        return shape === undefined ? 0 : prices[this.rowOf[shape]!]! * this.unitsOf[shape]!;
      },
      rip: (rip) => {
        const { rows, factors } = this.ripRows.counted(rip);
        return rows.reduce((sum, row, k) => sum + prices[this.firstRipRow + row]! * factors[k]!, 0);
      },
    };
  }

  /** A piece type for every piece in a pattern. */
  typesOf(tree: KnapsackTree | null): number[] {
    if (!tree) return [];
    if (tree.item < 0) return [...this.typesOf(tree.first), ...this.typesOf(tree.second)];
    const { leaf } = this.items[tree.item]!;
    if (leaf.kind === "rip") return [];
    const types = [this.shapes[leaf.shape]!.members[0]!];
    if (leaf.kind === "pair") types.push(this.shapes[leaf.other]!.members[0]!);
    return types;
  }

  /** Blocks a leaf may be cut as: each piece type of its class, or each pair, in all its ways. */
  blocksOf(leaf: Leaf, counts: ArrayLike<number>, shop: BlockSource): Block[] {
    const { model, shapes } = this;
    if (leaf.kind === "rip") return [];
    const left = (shape: number): readonly number[] =>
      shapes[shape]!.members.filter((member) => counts[member]! > 0);
    if (leaf.kind === "piece") return left(leaf.shape).flatMap((member) => shop.blocks[member]!);
    return left(leaf.shape).flatMap((a) =>
      left(leaf.other)
        .filter((b) => counts[b]! >= (a === b ? 2 : 1))
        .filter((b) => canNest(model.types[a]!, model.types[b]!))
        .map((b) => shop.pair(a, b))
    );
  }
}
