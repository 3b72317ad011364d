/**
 * The most valuable way to cut one rectangle by straight edge-to-edge cuts, any number of copies of
 * each item, for every smaller rectangle at once.
 *
 * Sizes already contain the kerf (item + kerf, sheet + kerf), so parts simply add up. Values are
 * whole numbers, so that no rounding can spoil a bound proven with them.
 *
 * Method: only rectangles whose sides are sums of item sides matter. The best value of such a
 * rectangle is an item, a smaller rectangle, or two parts left and right of a plumb cut, or below
 * and above a level cut. Of two parts the first need only be one that cannot itself be had by a cut
 * of the same kind: those are few, which makes the search fast.
 */

export interface KnapsackItem {
  /** width and height, kerf included */
  readonly w: number;
  readonly h: number;
}

/** A pattern: an item, or two patterns either side of a cut. */
export interface KnapsackTree {
  /** number of the item; -1 where cut in two */
  readonly item: number;
  readonly cut: "none" | "plumb" | "level";
  readonly first: KnapsackTree | null;
  readonly second: KnapsackTree | null;
}

/** Most first parts tried as the top cut when several patterns of one rectangle are asked for. */
const TOP_CUTS = 4000;

/** Sums of the sizes, 0 to the limit, ascending; null where there are more than `most`. */
export function sumsUpTo(sizes: readonly number[], limit: number, most: number): number[] | null {
  const reach = new Uint8Array(limit + 1);
  reach[0] = 1;
  const unique = [...new Set(sizes)].filter((size) => size <= limit).sort((a, b) => a - b);
  for (const size of unique) {
    for (let at = size; at <= limit; at++) if (reach[at - size]) reach[at] = 1;
  }
  const found: number[] = [];
  for (let at = 0; at <= limit; at++) {
    if (!reach[at]) continue;
    found.push(at);
    if (found.length > most) return null;
  }
  return found;
}

/** 0, the limits, and each size measured from either end of each limit; thinned out to `most`. */
function fewSums(sizes: readonly number[], limits: readonly number[], most: number): number[] {
  const found = new Set<number>(limits);
  found.add(0);
  const unique = [...new Set(sizes)];
  const least = Math.min(...unique);
  // Sizes come most valuable first: those keep their places where there are too many.
  for (const size of unique) {
    if (found.size >= most) break;
    for (const limit of limits) {
      if (size > limit) continue;
      found.add(size);
      if (limit - size >= least) found.add(limit - size);
    }
  }
  return [...found].sort((a, b) => a - b);
}

/** Which rectangles the table holds. */
export type Detail =
  /** all that matter: the value is the true best of sizes rounded down to whole `step`s */
  | { readonly kind: "full"; readonly step: number }
  /** a few: fast, and every pattern found can be cut, but a better one may be missed */
  | { readonly kind: "few"; readonly most: number };

export class Knapsack {
  private xs: Int32Array = new Int32Array(1);
  private ys: Int32Array = new Int32Array(1);
  /** place of the largest point not above a position */
  private xAt: Int32Array = new Int32Array(1);
  private yAt: Int32Array = new Int32Array(1);
  private best: Float64Array = new Float64Array(1);
  private readonly itemAt = new Map<number, number>();
  private values: Float64Array = new Float64Array(0);
  private used: readonly number[] = [];
  private step = 1;
  /** steps of work done, for a budget that does not depend on a clock */
  work = 0;

  /**
   * `lengths` are the sheet heights patterns will be asked for, kerf included; the table reaches to
   * `width` and `height`.
   */
  constructor(
    private readonly items: readonly KnapsackItem[],
    private readonly width: number,
    private readonly height: number,
    private readonly lengths: readonly number[]
  ) {}

  get states(): number {
    return this.best.length;
  }

  /**
   * Fills the table for these item values: whole numbers, 0 where the item is of no use. False
   * where the table would hold more than `mostStates` rectangles.
   */
  solve(values: ArrayLike<number>, detail: Detail, mostStates: number): boolean {
    const { items, itemAt } = this;
    this.values = Float64Array.from(values as ArrayLike<number>);
    const use = this.useful();
    this.used = use;
    const step = detail.kind === "full" ? detail.step : 1;
    const width = Math.floor(this.width / step);
    const height = Math.floor(this.height / step);
    const ws = use.map((k) => Math.floor(items[k]!.w / step));
    const hs = use.map((k) => Math.floor(items[k]!.h / step));
    let xPoints: number[] | null;
    let yPoints: number[] | null;
    if (detail.kind === "few") {
      xPoints = use.length === 0 ? [0] : fewSums(ws, [width], detail.most);
      yPoints = use.length === 0 ? [0] : fewSums(hs, [...this.lengths, height], 2 * detail.most);
    } else {
      xPoints = sumsUpTo(ws, width, mostStates);
      yPoints = sumsUpTo(hs, height, mostStates);
      this.work += (width + height) * use.length;
    }
    if (!xPoints || !yPoints || xPoints.length * yPoints.length > mostStates) return false;
    this.step = step;
    const xs = (this.xs = Int32Array.from(xPoints));
    const ys = (this.ys = Int32Array.from(yPoints));
    const xAt = (this.xAt = lookUp(xs, width));
    const yAt = (this.yAt = lookUp(ys, height));
    const nx = xs.length;
    const ny = ys.length;
    const best = (this.best = new Float64Array(nx * ny));
    itemAt.clear();
    use.forEach((k, n) => {
      // In a table of few points an item lies at the next point above its size.
      const w = ws[n]!;
      const h = hs[n]!;
      const i = placeFrom(xs, xAt, w);
      const j = placeFrom(ys, yAt, h);
      const value = this.values[k]!;
      if (value > best[i * ny + j]!) {
        best[i * ny + j] = value;
        itemAt.set(i * ny + j, k);
      }
    });
    // First parts worth trying: for each width, the heights at which no plumb cut reaches its value;
    // for the present width, the heights whose value no level cut reaches.
    const plumbAt: Int32Array[] = [new Int32Array(0)];
    const plumb = new Float64Array(ny);
    const levelList = new Int32Array(ny);
    const irreducible = new Int32Array(ny);
    let work = nx * ny * 2 + width + height + (nx * nx) / 2;
    for (let i = 1; i < nx; i++) {
      const column = i * ny;
      const x = xs[i]!;
      plumb.set(best.subarray(column - ny, column));
      // Of parts side by side the narrowest may come first: it is no wider than half.
      const halfI = xAt[x >> 1]!;
      for (let a = 1; a <= halfI; a++) {
        const heights = plumbAt[a]!;
        const first = a * ny;
        const rest = xAt[x - xs[a]!]! * ny;
        const count = heights.length;
        for (let k = 0; k < count; k++) {
          const j = heights[k]!;
          const value = best[first + j]! + best[rest + j]!;
          if (value > plumb[j]!) plumb[j] = value;
        }
        work += count;
      }
      let levels = 0;
      let own = 0;
      let level = 0;
      for (let j = 1; j < ny; j++) {
        const y = ys[j]!;
        const half = y >> 1;
        let k = 0;
        for (; k < levels; k++) {
          const b = levelList[k]!;
          const first = ys[b]!;
          if (first > half) break;
          const value = best[column + b]! + best[column + yAt[y - first]!]!;
          if (value > level) level = value;
        }
        work += k;
        let value = best[column + j]!;
        if (plumb[j]! > value) value = plumb[j]!;
        if (level > value) value = level;
        best[column + j] = value;
        if (value > plumb[j]!) irreducible[own++] = j;
        if (value > level) levelList[levels++] = j;
        level = value;
      }
      plumbAt.push(irreducible.slice(0, own));
    }
    this.work += work;
    return true;
  }

  /** Items worth using, most valuable first: no other at most their size is worth as much. */
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
    this.work += order.length * kept.length;
    return kept;
  }

  private placeX(width: number): number {
    return this.xAt[Math.min(Math.floor(width / this.step), this.xAt.length - 1)]!;
  }

  private placeY(height: number): number {
    return this.yAt[Math.min(Math.floor(height / this.step), this.yAt.length - 1)]!;
  }

  /** Value of the best pattern in a rectangle (sides with kerf). */
  value(width: number, height: number): number {
    return this.best[this.placeX(width) * this.ys.length + this.placeY(height)]!;
  }

  /**
   * Up to `most` different patterns of a rectangle worth more than `above`, the best first: one for
   * each place of the first cut.
   */
  trees(width: number, height: number, above: number, most: number): KnapsackTree[] {
    const { xs, ys, xAt, yAt, best } = this;
    const ny = ys.length;
    const i = this.placeX(width);
    const j = this.placeY(height);
    if (best[i * ny + j]! <= above) return [];
    const trees: KnapsackTree[] = [this.treeAt(i, j)!];
    if (most === 1) return trees;
    const found: { value: number; plumb: boolean; at: number; rest: number }[] = [];
    const x = xs[i]!;
    const y = ys[j]!;
    for (let a = 1; a < i && 2 * xs[a]! <= x && a < TOP_CUTS; a++) {
      const rest = xAt[x - xs[a]!]!;
      const value = best[a * ny + j]! + best[rest * ny + j]!;
      if (value > above) found.push({ value, plumb: true, at: a, rest });
    }
    for (let b = 1; b < j && 2 * ys[b]! <= y && b < TOP_CUTS; b++) {
      const rest = yAt[y - ys[b]!]!;
      const value = best[i * ny + b]! + best[i * ny + rest]!;
      if (value > above) found.push({ value, plumb: false, at: b, rest });
    }
    found.sort((p, q) => q.value - p.value);
    let last = -1;
    for (const one of found) {
      if (trees.length >= most) break;
      // Equal values in a row are mostly the same pattern cut at another place.
      if (one.value === last) continue;
      last = one.value;
      trees.push(
        one.plumb
          ? {
              item: -1,
              cut: "plumb",
              first: this.treeAt(one.at, j),
              second: this.treeAt(one.rest, j),
            }
          : {
              item: -1,
              cut: "level",
              first: this.treeAt(i, one.at),
              second: this.treeAt(i, one.rest),
            }
      );
    }
    return trees;
  }

  /**
   * For each item the best pattern of a rectangle that has it in a corner, where that is worth more
   * than `above`: up to `most` of them, the best first.
   */
  treesWithEach(width: number, height: number, above: number, most: number): KnapsackTree[] {
    const { xs, ys, xAt, yAt, best, items, step } = this;
    const ny = ys.length;
    const i = this.placeX(width);
    const j = this.placeY(height);
    if (best[i * ny + j]! <= above) return [];
    const found: { value: number; item: number; a: number; b: number; plumb: boolean }[] = [];
    for (const item of this.used) {
      const w = Math.floor(items[item]!.w / step);
      const h = Math.floor(items[item]!.h / step);
      const a = placeFrom(xs, xAt, w);
      const b = placeFrom(ys, yAt, h);
      if (a > i || b > j || a >= xs.length || b >= ys.length) continue;
      const right = xAt[xs[i]! - xs[a]!]!;
      const over = yAt[ys[j]! - ys[b]!]!;
      const own = this.values[item]!;
      const plumb = own + best[a * ny + over]! + best[right * ny + j]!;
      const level = own + best[right * ny + b]! + best[i * ny + over]!;
      const value = Math.max(plumb, level);
      if (value > above) found.push({ value, item, a, b, plumb: plumb >= level });
    }
    found.sort((p, q) => q.value - p.value || p.item - q.item);
    this.work += 10 * this.used.length;
    const trees: KnapsackTree[] = [];
    for (const { item, a, b, plumb } of found.slice(0, most)) {
      const leaf: KnapsackTree = { item, cut: "none", first: null, second: null };
      const right = xAt[xs[i]! - xs[a]!]!;
      const over = yAt[ys[j]! - ys[b]!]!;
      const join = (
        cut: "plumb" | "level",
        first: KnapsackTree,
        second: KnapsackTree | null
      ): KnapsackTree => (second ? { item: -1, cut, first, second } : first);
      trees.push(
        plumb
          ? join("plumb", join("level", leaf, this.treeAt(a, over)), this.treeAt(right, j))
          : join("level", join("plumb", leaf, this.treeAt(right, b)), this.treeAt(i, over))
      );
    }
    return trees;
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
      return { item, cut: "none", first: null, second: null };
    }
    const x = xs[i]!;
    const y = ys[j]!;
    this.work += i + j;
    for (let a = 1; a < i; a++) {
      const rest = xAt[x - xs[a]!]!;
      if (best[a * ny + j]! + best[rest * ny + j]! === target) {
        return {
          item: -1,
          cut: "plumb",
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
          first: this.treeAt(i, b),
          second: this.treeAt(i, rest),
        };
      }
    }
    throw new Error("a pattern value has no pattern");
  }
}

/** Place of the first point not below a size; past the last where there is none. */
function placeFrom(points: Int32Array, at: Int32Array, size: number): number {
  const place = at[size]!;
  return points[place]! === size ? place : place + 1;
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
