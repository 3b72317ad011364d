/**
 * One grid for everything that is cut, so that pattern tables are small: leaves and sheets in whole
 * steps of it, kerf included.
 */
import { Knapsack, type KnapsackItem } from "./knapsack.js";
import type { LeafItem } from "./pattern-rows.js";
import type { Model } from "./prepare.js";
import type { ScrapGroup } from "./scrap-sizes.js";

/**
 * A rake piece is this many steps of the grid high at least, or the grid is made finer: a step at
 * most is lost of its height. The finer grid is 1/16 in, units.
 */
const LEAST_STEPS = 64;
const FINE_GRID = 64;

/** A panel length on sale. */
export interface Panel {
  /** place in the stock list */
  readonly index: number;
  readonly cost: number;
  /** in steps, kerf included */
  readonly height: number;
}

function divisor(one: number, other: number): number {
  let [a, b] = [one, other];
  while (b !== 0) [a, b] = [b, a % b];
  return a;
}

export class SheetGrid {
  /** leaves never larger than they are, for bounds */
  readonly items: readonly KnapsackItem[];
  /** leaves never smaller than they are, for patterns that can be cut */
  readonly cutItems: readonly KnapsackItem[];
  readonly panels: readonly Panel[];
  /** width of a panel, steps */
  readonly width: number;
  readonly dearest: number;
  private readonly x: number;
  private readonly y: number;
  private readonly widest: number;
  private readonly highest: number;

  /** `costs` gives the cost of each panel length; Infinity for one not to be used. */
  constructor(
    private readonly model: Model,
    leaves: readonly LeafItem[],
    scraps: readonly ScrapGroup[],
    costs: readonly number[]
  ) {
    const { kerf } = model;
    // Heights of rake pieces do not fall on the grid and are rounded to it.
    let x = 0;
    let y = 0;
    let lowest = Infinity;
    for (const { w, h, rake } of leaves) {
      x = divisor(x, w + kerf);
      if (rake) lowest = Math.min(lowest, h + kerf);
      else y = divisor(y, h + kerf);
    }
    if (lowest < LEAST_STEPS * y) y = divisor(y, FINE_GRID);
    this.x = x = Math.max(1, x);
    this.y = y = Math.max(1, y);
    this.items = leaves.map(({ w, h }) => ({ w: (w + kerf) / x, h: Math.floor((h + kerf) / y) }));
    this.cutItems = leaves.map(({ w, h }) => ({
      w: (w + kerf) / x,
      h: Math.ceil((h + kerf) / y),
    }));
    this.panels = model.stock
      .map(({ index, length }) => ({
        index,
        cost: costs[index]!,
        height: Math.floor((length + kerf) / y),
      }))
      .filter(({ cost }) => Number.isFinite(cost));
    this.dearest = Math.max(...this.panels.map(({ cost }) => cost));
    this.width = Math.floor((model.width + kerf) / x);
    this.widest = Math.max(model.width, ...scraps.map(({ w }) => w));
    this.highest = Math.max(model.longest, ...scraps.map(({ h }) => h));
  }

  /** An empty table for patterns of these items. */
  table(items: readonly KnapsackItem[]): Knapsack {
    const { w, h } = this.room({ w: this.widest, h: this.highest });
    return new Knapsack(
      items,
      w,
      h,
      this.panels.map(({ height }) => height)
    );
  }

  /** Cost of a panel by its place in the stock list; of one not to be used, as much as the dearest. */
  costOf(stock: number): number {
    return this.panels.find(({ index }) => index === stock)?.cost ?? this.dearest;
  }

  /** Room of a sheet, steps. */
  room(size: { readonly w: number; readonly h: number }): { w: number; h: number } {
    const { kerf } = this.model;
    return {
      w: Math.floor((size.w + kerf) / this.x),
      h: Math.floor((size.h + kerf) / this.y),
    };
  }

  /** Room a piece or pair leaf takes, units. */
  boxOf(leaf: number): { w: number; h: number } {
    const { kerf } = this.model;
    const { w, h } = this.items[leaf]!;
    return { w: w * this.x - kerf, h: h * this.y - kerf };
  }
}
