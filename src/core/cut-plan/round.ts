/**
 * From shares of patterns to whole panels: as many of each pattern as its share holds, then those
 * most needed once more, then best fit for what is left.
 */
import type { Block } from "./blocks.js";
import { Filling, type Shop, type Stretch, fillRest, finishable } from "./fill.js";
import type { KnapsackTree } from "./knapsack.js";
import type { Master, Share, Task } from "./master.js";
import type { ScrapItem } from "./prepare.js";
import { type Part, type Sheet, findSpaces, newPart, newSheet } from "./sheet.js";

/** A pattern with real blocks, sized from the inside out. */
interface Built {
  readonly w: number;
  readonly h: number;
  readonly block: Block | null;
  readonly cut: "none" | "plumb" | "level";
  readonly first: Built | null;
  readonly second: Built | null;
}

/** A stretch being covered from its start, with the joints from which its end can be reached. */
interface OpenStretch {
  readonly run: number;
  /** where the part still to be covered starts */
  at: number;
  readonly from: number;
  readonly to: number;
  readonly can: readonly boolean[];
}

/** What is still to be placed: pieces of each type, and stretches of runs. */
export class Remaining {
  private readonly open: OpenStretch[];
  constructor(
    private readonly shop: Shop,
    readonly counts: Int32Array,
    stretches: readonly Stretch[]
  ) {
    this.open = stretches.map((one) => ({
      ...one,
      at: one.from,
      can: finishable(shop, one, false),
    }));
  }

  /** Takes the block off what remains; `sign` -1 puts it back, the last taken first. */
  take(block: Block, sign: 1 | -1): void {
    if (block.run >= 0) {
      const stretch = this.open.find(
        (one) => one.run === block.run && one.at === (sign > 0 ? block.from : block.to)
      )!;
      stretch.at = sign > 0 ? block.to : block.from;
      return;
    }
    this.counts[block.type]! -= sign;
    if (block.pair) this.counts[block.pair.upper]! -= sign;
  }

  /** The largest block a leaf may stand for that is left and fits; null where none does. */
  choose(master: Master, item: number, w: number, h: number): Block | null {
    const leaf = master.leaves[item]!;
    const box = master.boxOf(item);
    const boxW = Math.min(w, box.w);
    const boxH = Math.min(h, box.h);
    let best: Block | null = null;
    if (leaf.kind === "rip") {
      const across = Math.abs(box.w - leaf.length) < Math.abs(box.w - leaf.height);
      best = this.chooseRip(leaf.height, leaf.length, across ? 0 : 90, w, h);
    } else {
      for (const block of master.blocksOf(leaf, this.counts, this.shop)) {
        if (block.w <= w && block.h <= h && (!best || block.worth > best.worth)) best = block;
      }
    }
    if (!best && leaf.kind === "pair") best = this.otherPair(boxW, boxH);
    return best ?? this.standIn(boxW, boxH);
  }

  /** The best pair left that fits the box. */
  private otherPair(w: number, h: number): Block | null {
    const { shop, counts } = this;
    let best: Block | null = null;
    for (let a = 0; a < counts.length; a++) {
      if (counts[a] === 0) continue;
      for (const b of shop.nests[a]!) {
        if (b < a || counts[b]! < (a === b ? 2 : 1)) continue;
        const block = shop.pair(a, b);
        if (block.w <= w && block.h <= h && (!best || block.worth > best.worth)) best = block;
      }
    }
    return best;
  }

  /** The largest piece left that fits the box: in the share solution larger stands in for smaller. */
  private standIn(w: number, h: number): Block | null {
    let best: Block | null = null;
    for (let type = 0; type < this.counts.length; type++) {
      if (this.counts[type] === 0) continue;
      for (const block of this.shop.blocks[type]!) {
        if (block.w <= w && block.h <= h && (!best || block.worth > best.worth)) best = block;
      }
    }
    return best;
  }

  /** The next rip of some stretch of this height that fits, as near the length meant as can be. */
  private chooseRip(
    height: number,
    length: number,
    turned: 0 | 90,
    w: number,
    h: number
  ): Block | null {
    const { shop } = this;
    let best: Block | null = null;
    let bestMiss = Infinity;
    for (const stretch of this.open) {
      const run = shop.model.runs[stretch.run]!;
      if (run.height !== height) continue;
      for (const arc of shop.arcsFrom[stretch.run]![stretch.at] ?? []) {
        if (arc.to > stretch.to || !stretch.can[arc.to - stretch.from]) continue;
        const miss = Math.abs(run.joints[arc.to]! - run.joints[arc.from]! - length);
        if (miss >= bestMiss) continue;
        const block = shop
          .ripBlocks(stretch.run, arc.from, arc.to)
          .find((one) => one.turned === turned && one.w <= w && one.h <= h);
        if (block) {
          best = block;
          bestMiss = miss;
        }
      }
    }
    return best;
  }

  stretches(): Stretch[] {
    return this.open
      .filter((one) => one.at < one.to)
      .map((one) => ({ run: one.run, from: one.at, to: one.to }));
  }
}

/** Builds a pattern with what remains, in at most so much room; null where nothing of it is left. */
function build(
  master: Master,
  tree: KnapsackTree | null,
  remaining: Remaining,
  kerf: number,
  w: number,
  h: number,
  taken: Block[]
): Built | null {
  if (!tree || w <= 0 || h <= 0) return null;
  if (tree.cut === "none") {
    const block = remaining.choose(master, tree.item, w, h);
    if (!block) return null;
    remaining.take(block, 1);
    taken.push(block);
    return { w: block.w, h: block.h, block, cut: "none", first: null, second: null };
  }
  const first = build(master, tree.first, remaining, kerf, w, h, taken);
  if (tree.cut === "plumb") {
    const left = first ? first.w + kerf : 0;
    const second = build(master, tree.second, remaining, kerf, w - left, h, taken);
    if (!first || !second) return first ?? second;
    return {
      w: left + second.w,
      h: Math.max(first.h, second.h),
      block: null,
      cut: "plumb",
      first,
      second,
    };
  }
  const below = first ? first.h + kerf : 0;
  const second = build(master, tree.second, remaining, kerf, w, h - below, taken);
  if (!first || !second) return first ?? second;
  return {
    w: Math.max(first.w, second.w),
    h: below + second.h,
    block: null,
    cut: "level",
    first,
    second,
  };
}

function layOut(built: Built, x: number, y: number, w: number, h: number, kerf: number): Part {
  const part = newPart(x, y, w, h);
  if (built.cut === "none") {
    part.block = built.block;
    return part;
  }
  part.cut = built.cut;
  const first = built.first!;
  const second = built.second!;
  if (built.cut === "plumb") {
    const from = first.w + kerf;
    part.first = layOut(first, x, y, first.w, h, kerf);
    part.second = layOut(second, x + from, y, w - from, h, kerf);
  } else {
    const from = first.h + kerf;
    part.first = layOut(first, x, y, w, first.h, kerf);
    part.second = layOut(second, x, y + from, w, h - from, kerf);
  }
  return part;
}

function sheetOf(shop: Shop, scrap: number, built: Built, taken: Block[]): Sheet {
  const { model, least } = shop;
  const blank =
    scrap < 0
      ? newSheet(-1, model.width, model.longest)
      : newSheet(scrap, model.scrap[scrap]!.w, model.scrap[scrap]!.h);
  const sheet: Sheet = {
    ...blank,
    root: layOut(built, 0, 0, blank.w, blank.h, model.kerf),
    reach: built.h,
    blocks: taken.length,
    rips: taken.filter((block) => block.run >= 0).length,
    area: taken.reduce((sum, block) => sum + block.area, 0),
    worth: taken.reduce((sum, block) => sum + block.worth, 0),
  };
  findSpaces(sheet, model.kerf, least);
  return sheet;
}

/**
 * One sheet cut by a pattern from what remains; null, and nothing taken, where `accept` says that
 * what is left fills it too badly.
 */
export function cutPattern(
  shop: Shop,
  master: Master,
  tree: KnapsackTree,
  remaining: Remaining,
  sheet: { readonly scrap: number; readonly w: number; readonly h: number },
  accept: (area: number, worth: number, reach: number) => boolean
): Sheet | null {
  const taken: Block[] = [];
  const built = build(master, tree, remaining, shop.model.kerf, sheet.w, sheet.h, taken);
  const area = taken.reduce((sum, block) => sum + block.area, 0);
  const worth = taken.reduce((sum, block) => sum + block.worth, 0);
  if (!built || !accept(area, worth, built.h)) {
    for (const block of taken.reverse()) remaining.take(block, -1);
    return null;
  }
  return sheetOf(shop, sheet.scrap, built, taken);
}

/**
 * Share of a panel's cost its contents must be worth for a pattern to be cut: less where no pattern
 * is worth as much, down to a least one.
 */
const EARNS = 0.97;
const EARNS_LESS = 0.03;
const EARNS_LEAST = 0.6;

/** Share of a scrap's area that must be filled. */
const FILLS = 0.5;

/** Share of the panels still to come that are settled at once. */
const AT_ONCE = 0.1;

/** Rounds of the fast search between two settlements. */
const ROUNDS = 2;

/**
 * A plan from the share solution of the master: the patterns used most become panels, the shares of
 * what is left are worked out anew, and so on to the end. The master's rips must count by length.
 * `budget` limits the work of the master.
 */
export function roundShares(shop: Shop, task: Task, master: Master, budget: number): Sheet[] {
  const { model } = shop;
  const remaining = new Remaining(
    shop,
    Int32Array.from(task.counts),
    task.runs.map((run) => ({ run: run.index, from: 0, to: run.joints.length - 1 }))
  );
  const sheets: Sheet[] = [];
  const scrapFree = model.scrap.map(() => false);
  for (const item of task.scrap) scrapFree[item.index] = true;
  const make = (share: Share): boolean => {
    let place = { scrap: -1, w: model.width, h: 0 };
    if (share.scrap) {
      const { scrap: size } = share;
      let found: ScrapItem | null = null;
      for (const item of task.scrap) {
        if (!scrapFree[item.index] || item.w > size.w || item.h > size.h) continue;
        if (!found || item.w * item.h > found.w * found.h) found = item;
      }
      if (!found) return false;
      place = { scrap: found.index, w: found.w, h: found.h };
    } else place.h = model.stock[share.stock]!.length;
    const sheet = cutPattern(shop, master, share.tree, remaining, place, (area, worth, reach) =>
      place.scrap >= 0 ? area >= FILLS * place.w * place.h : worth >= earns * shop.costTo(reach)
    );
    if (!sheet) return false;
    if (place.scrap >= 0) scrapFree[place.scrap] = false;
    sheets.push(sheet);
    return true;
  };
  const start = master.work;
  let earns = EARNS;
  while (earns >= EARNS_LEAST) {
    let made = 0;
    const shares = master.solution();
    const total = shares.reduce((sum, share) => sum + (share.scrap ? 0 : share.level), 0);
    const spent = master.work - start > budget;
    const most = spent ? Infinity : Math.max(1, Math.floor(AT_ONCE * total));
    for (const share of shares) {
      const times = Math.max(made < most ? 1 : 0, Math.floor(share.level + 1e-6));
      for (let k = 0; k < times && make(share); k++) made++;
    }
    if (spent) break;
    if (made === 0) {
      earns -= EARNS_LESS;
      continue;
    }
    const ripLengthOf = new Map<number, number>();
    for (const { run, from, to } of remaining.stretches()) {
      const { height, joints } = model.runs[run]!;
      ripLengthOf.set(height, (ripLengthOf.get(height) ?? 0) + joints[to]! - joints[from]!);
    }
    master.shareRest(
      remaining.counts,
      ripLengthOf,
      task.scrap.filter((item) => scrapFree[item.index]),
      ROUNDS
    );
  }
  const filling = new Filling(shop, sheets, scrapFree);
  fillRest(filling, remaining.counts, remaining.stretches());
  return filling.result();
}
