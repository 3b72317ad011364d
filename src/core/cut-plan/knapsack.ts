/**
 * The most valuable way to cut one rectangle by straight edge-to-edge cuts, any number of copies
 * of each item: exact, for every smaller rectangle at once.
 *
 * Sizes already contain the kerf (item + kerf, sheet + kerf), so parts simply add up. Values are
 * whole numbers, so that no rounding can spoil a bound proven with them.
 *
 * Method: only rectangles whose sides are sums of item sides matter (normal patterns). The best
 * value of such a rectangle is an item, a smaller rectangle, or two parts left and right of a plumb
 * cut, or below and above a level cut. Of two parts the first need only be one that cannot itself be
 * had by a cut of the same kind: those are few, which makes the search fast.
 */

export interface KnapsackItem {
  /** width and height, kerf included */
  readonly w: number;
  readonly h: number;
}

/** The pattern found: how often each item is used, and the tree of cuts. */
export interface KnapsackTree {
  readonly item: number;
  readonly cut: "none" | "plumb" | "level";
  /** width, or height, of the first part, kerf included */
  readonly at: number;
  readonly first: KnapsackTree | null;
  readonly second: KnapsackTree | null;
}

/** Sums of the sizes, 0 to the limit, ascending. */
export function sumsUpTo(sizes: readonly number[], limit: number): number[] {
  const reach = new Uint8Array(limit + 1);
  reach[0] = 1;
  const unique = [...new Set(sizes)].filter((size) => size <= limit).sort((a, b) => a - b);
  for (const size of unique) {
    for (let at = size; at <= limit; at++) if (reach[at - size]) reach[at] = 1;
  }
  const found: number[] = [];
  for (let at = 0; at <= limit; at++) if (reach[at]) found.push(at);
  return found;
}

function fewSums(sizes: readonly number[], limits: readonly number[]): number[] {
  const found = new Set<number>([0]);
  const unique = [...new Set(sizes)];
  for (const limit of limits) {
    found.add(limit);
    for (const size of unique) {
      if (size <= limit) {
        found.add(size);
        if (limit - size >= Math.min(...unique)) found.add(limit - size);
      }
    }
  }
  return [...found].sort((a, b) => a - b);
}

export class Knapsack {
  private xs: Int32Array = new Int32Array(1);
  private ys: Int32Array = new Int32Array(1);
  /** place of the largest point not above a position */
  private xAt: Int32Array = new Int32Array(1);
  private yAt: Int32Array = new Int32Array(1);
  private best: Int32Array = new Int32Array(1);
  private readonly itemAt = new Map<number, number>();
  private values: Int32Array = new Int32Array(0);

  constructor(
    private readonly items: readonly KnapsackItem[],
    private readonly width: number,
    private readonly height: number
  ) {}

  /** Number of rectangles in the table. */
  get states(): number {
    return this.best.length;
  }

  /** Fills the table for these item values: whole numbers, 0 where the item is of no use. */
  solve(values: ArrayLike<number>, coarse?: readonly number[]): void {
    const { items, width, height, itemAt } = this;
    this.values = Int32Array.from(values as ArrayLike<number>);
    const use = this.useful();
    const widths = use.map((k) => items[k]!.w);
    const heights = use.map((k) => items[k]!.h);
    const xs = (this.xs = Int32Array.from(
      coarse ? fewSums(widths, [width]) : sumsUpTo(widths, width)
    ));
    const ys = (this.ys = Int32Array.from(
      coarse ? fewSums(heights, coarse) : sumsUpTo(heights, height)
    ));
    const xAt = (this.xAt = lookUp(xs, width));
    const yAt = (this.yAt = lookUp(ys, height));
    const nx = xs.length;
    const ny = ys.length;
    const best = (this.best = new Int32Array(nx * ny));
    itemAt.clear();
    for (const k of use) {
      const place = xAt[items[k]!.w]! * ny + yAt[items[k]!.h]!;
      const value = this.values[k]!;
      if (value > best[place]!) {
        best[place] = value;
        itemAt.set(place, k);
      }
    }
    // First parts worth trying. For each height, widths whose value no plumb cut reaches; for the
    // present width, heights whose value no level cut reaches.
    const plumbCount = new Int32Array(ny);
    const plumbList: Int32Array[] = [];
    for (let j = 0; j < ny; j++) plumbList.push(new Int32Array(8));
    const levelList = new Int32Array(ny);
    for (let i = 1; i < nx; i++) {
      const column = i * ny;
      const before = column - ny;
      const x = xs[i]!;
      let levels = 0;
      for (let j = 1; j < ny; j++) {
        const y = ys[j]!;
        const item = best[column + j]!;
        let plumb = best[before + j]!;
        const list = plumbList[j]!;
        const count = plumbCount[j]!;
        for (let k = 0; k < count; k++) {
          const a = list[k]!;
          const value = best[a * ny + j]! + best[xAt[x - xs[a]!]! * ny + j]!;
          if (value > plumb) plumb = value;
        }
        let level = best[column + j - 1]!;
        for (let k = 0; k < levels; k++) {
          const b = levelList[k]!;
          const value = best[column + b]! + best[column + yAt[y - ys[b]!]!]!;
          if (value > level) level = value;
        }
        let value = item;
        if (plumb > value) value = plumb;
        if (level > value) value = level;
        best[column + j] = value;
        if (value > plumb) {
          if (count === list.length) {
            const longer = new Int32Array(count * 2);
            longer.set(list);
            plumbList[j] = longer;
          }
          plumbList[j]![count] = i;
          plumbCount[j] = count + 1;
        }
        if (value > level) levelList[levels++] = j;
      }
    }
  }

  /** Items worth using: of some value, and no other at most their size is worth as much. */
  private useful(): number[] {
    const { items, values, width, height } = this;
    const order: number[] = [];
    for (let k = 0; k < items.length; k++) {
      if (values[k]! > 0 && items[k]!.w <= width && items[k]!.h <= height) order.push(k);
    }
    order.sort(
      (a, b) =>
        values[b]! - values[a]! || items[a]!.w - items[b]!.w || items[a]!.h - items[b]!.h || a - b
    );
    const kept: number[] = [];
    for (const k of order) {
      const { w, h } = items[k]!;
      if (!kept.some((other) => items[other]!.w <= w && items[other]!.h <= h)) kept.push(k);
    }
    return kept;
  }

  /** Value of the best pattern in a rectangle (sides with kerf). */
  value(width: number, height: number): number {
    const i = this.xAt[Math.min(width, this.xAt.length - 1)]!;
    const j = this.yAt[Math.min(height, this.yAt.length - 1)]!;
    return this.best[i * this.ys.length + j]!;
  }

  /** The best pattern in a rectangle; null where it is worth nothing. */
  tree(width: number, height: number): KnapsackTree | null {
    return this.treeAt(
      this.xAt[Math.min(width, this.xAt.length - 1)]!,
      this.yAt[Math.min(height, this.yAt.length - 1)]!
    );
  }

  private treeAt(iStart: number, jStart: number): KnapsackTree | null {
    const { xs, ys, xAt, yAt, best } = this;
    const ny = ys.length;
    let i = iStart;
    let j = jStart;
    const target = best[i * ny + j]!;
    if (target === 0) return null;
    while (i > 0 && best[(i - 1) * ny + j]! === target) i--;
    while (j > 0 && best[i * ny + j - 1]! === target) j--;
    const item = this.itemAt.get(i * ny + j);
    if (item !== undefined && this.values[item]! === target) {
      return { item, cut: "none", at: 0, first: null, second: null };
    }
    const x = xs[i]!;
    const y = ys[j]!;
    for (let a = 1; a < i; a++) {
      const rest = xAt[x - xs[a]!]!;
      if (best[a * ny + j]! + best[rest * ny + j]! === target) {
        return {
          item: -1,
          cut: "plumb",
          at: xs[a]!,
          first: this.treeAt(a, j),
          second: this.treeAt(rest, j),
        };
      }
    }
    for (let b = 1; b < j; b++) {
      const rest = yAt[y - ys[b]!]!;
      if (best[i * ny + b]! + best[i * ny + rest]! === target) {
        return {
          item: -1,
          cut: "level",
          at: ys[b]!,
          first: this.treeAt(i, b),
          second: this.treeAt(i, rest),
        };
      }
    }
    throw new Error("a pattern value has no pattern");
  }
}

function lookUp(points: Int32Array, limit: number): Int32Array {
  const at = new Int32Array(limit + 1);
  let k = 0;
  for (let position = 0; position <= limit; position++) {
    while (k + 1 < points.length && points[k + 1]! <= position) k++;
    at[position] = k;
  }
  return at;
}
