/**
 * Costs no plan can go below, by argument alone: area, and dual-feasible functions. Both hold for
 * any way of cutting, guillotine or not, and for any use of the offcut beside a rake.
 */
import { ceilCount } from "../check.js";
import { type Arc, runArcs } from "./rip-rows.js";
import { type Model, type RunItem, ripWays, runLength } from "./prepare.js";

export interface Bound {
  readonly value: number;
  readonly by: "area" | "dual-feasible function" | "column generation";
}

/** Thresholds tried across the panel, and along it. */
const THRESHOLDS = 12;

/** Panels of `costs` only, cheapest per area: the least cost of the wood needed, less all scrap. */
export function areaBound(model: Model, costs: readonly number[]): number {
  let need = 0;
  for (const type of model.types) need += type.area * type.ids.length;
  for (const run of model.runs) need += run.height * runLength(run);
  for (const item of model.scrap) need -= item.w * item.h;
  let price = Infinity;
  for (const item of model.stock) {
    price = Math.min(price, costs[item.index]! / (item.length * model.width));
  }
  return Math.max(0, need) * price * (1 - 1e-12);
}

/** A function of a size that never adds up to more than that of the whole, and of a part of a sheet. */
interface Scale {
  /** worth of an item side, kerf included */
  readonly item: (size: number) => number;
  /** most that items can be worth in a sheet side, kerf included */
  readonly room: (size: number) => number;
}

/**
 * The best bound of a family of products f(width) g(length). Across, f is a dual-feasible function
 * of the panel width. Along, g is one of the panel lengths and costs: what fits in a line along a
 * panel never adds up to more than that panel costs. Products of the two hold in the plane because
 * each alone is a conservative scale of the panel's sides.
 */
export function dualFeasibleBound(model: Model, costs: readonly number[]): number {
  const { kerf } = model;
  const whole = model.width + kerf;
  const stock = model.stock.map((item) => ({
    length: item.length + kerf,
    cost: costs[item.index]!,
  }));
  const longest = Math.max(...stock.map((item) => item.length));
  const rate = Math.min(...stock.map((item) => item.cost / item.length));
  /** cheapest panel that holds a length; Infinity where none does */
  const priceOf = (length: number): number => {
    let price = Infinity;
    for (const item of stock) if (item.length >= length) price = Math.min(price, item.cost);
    return price;
  };
  const arcs = model.runs.map((run) => runArcs(model, run));
  const sidesAcross: number[] = [];
  const sidesAlong: number[] = [];
  for (const type of model.types) {
    for (const way of type.ways) {
      sidesAcross.push(way.w + kerf);
      sidesAlong.push(way.h + kerf);
    }
  }
  for (const run of model.runs) {
    sidesAcross.push(run.height + kerf);
    if (model.canTurn) sidesAlong.push(run.height + kerf);
  }
  const across = [
    ...spread(sidesAcross, whole / 2).map((limit) => threshold(limit, whole, 1 / whole, () => 1)),
    ...[1, 2, 3, 4, 5].map((k) => steps(k, whole)),
  ];
  const along = spread(sidesAlong, longest / 2).map((limit) =>
    threshold(limit, longest, rate, priceOf)
  );
  let best = 0;
  for (const f of across) {
    for (const g of along) best = Math.max(best, productBound(model, arcs, f, g));
  }
  return best * (1 - 1e-9);
}

/** 0 and some of the sizes up to the limit, evenly picked. */
function spread(sizes: readonly number[], limit: number): number[] {
  const sorted = [...new Set(sizes)].filter((size) => size <= limit).sort((a, b) => a - b);
  const picked = new Set<number>([0, limit]);
  for (let k = 0; k < Math.min(THRESHOLDS, sorted.length); k++) {
    picked.add(
      sorted[Math.floor(((k + 0.5) * sorted.length) / Math.min(THRESHOLDS, sorted.length))]!
    );
  }
  return [...picked];
}

/**
 * Sides over whole - limit count as the whole sheet they need, sides under the limit count nothing
 * (beside the first kind there is no room for others), the rest by length.
 */
function threshold(
  limit: number,
  whole: number,
  rate: number,
  priceOf: (size: number) => number
): Scale {
  // Scrap may be larger than every panel and hold several of the large sides.
  const most = priceOf(whole) / (whole - limit);
  return {
    item: (size) => (size > whole - limit ? priceOf(size) : size < limit ? 0 : size * rate),
    room: (size) => {
      if (size > whole) return size * most;
      return size > whole - limit ? Math.max(priceOf(size), size * rate) : size * rate;
    },
  };
}

/** The step function u(k): x where (k + 1) x is whole, else floor((k + 1) x) / k. */
function steps(k: number, whole: number): Scale {
  const u = (size: number): number => {
    const times = ((k + 1) * size) / whole;
    return Number.isInteger(times) ? size / whole : Math.floor(times) / k;
  };
  return { item: u, room: (size) => (size > whole ? ((k + 1) * size) / (k * whole) : u(size)) };
}

function productBound(model: Model, arcs: readonly (readonly Arc[])[], f: Scale, g: Scale): number {
  const { kerf } = model;
  let total = 0;
  for (const type of model.types) {
    let worth = Infinity;
    if (type.rake) {
      // What a rake piece surely holds: the level box under its low side, without the kerf that a
      // sloped cut shares.
      worth = f.item(type.w) * g.item(Math.min(type.left, type.right));
    } else {
      for (const way of type.ways) {
        worth = Math.min(worth, f.item(way.w + kerf) * g.item(way.h + kerf));
      }
    }
    total += worth * type.ids.length;
  }
  model.runs.forEach((run, k) => {
    total += coverWorth(model, run, arcs[k]!, f, g);
  });
  for (const item of model.scrap) total -= f.room(item.w + kerf) * g.room(item.h + kerf);
  return total;
}

/** Least worth of any cover of a run. */
function coverWorth(model: Model, run: RunItem, arcs: readonly Arc[], f: Scale, g: Scale): number {
  const least = new Float64Array(run.joints.length).fill(Infinity);
  least[0] = 0;
  for (const { from, to } of arcs) {
    const length = run.joints[to]! - run.joints[from]!;
    let worth = Infinity;
    for (const way of ripWays(run.height, length, model)) {
      worth = Math.min(worth, f.item(way.w + model.kerf) * g.item(way.h + model.kerf));
    }
    least[to] = Math.min(least[to]!, least[from]! + worth);
  }
  return least[run.joints.length - 1]!;
}

/**
 * Costs as whole multiples of one amount, where they are commensurable to a millionth; 0 where not.
 * A cost of panels is then such a multiple too, and so a bound may be rounded up to one.
 */
export function costStep(costs: readonly number[]): number {
  const scale = 1e6;
  let step = 0;
  for (const cost of costs) {
    if (!Number.isFinite(cost)) continue;
    const whole = Math.round(cost * scale);
    if (whole === 0 || Math.abs(whole - cost * scale) > 1e-3 || whole > 2 ** 52) return 0;
    let a = step;
    let b = whole;
    while (b !== 0) [a, b] = [b, a % b];
    step = a;
  }
  return step / scale;
}

/** The least cost of whole panels that is not below the bound. */
export function roundUp(bound: number, step: number): number {
  if (step === 0 || bound <= 0) return Math.max(0, bound);
  return Number((ceilCount((bound / step) * (1 - 1e-9)) * step).toPrecision(12));
}
