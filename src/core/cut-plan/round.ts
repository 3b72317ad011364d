/**
 * From shares of patterns to whole panels: as many of each pattern as its share holds, then those
 * most needed once more, then best fit for what is left.
 */
import type { Block } from "./blocks.js";
import { Filling, type Shop, fillRest } from "./fill.js";
import type { KnapsackTree } from "./knapsack.js";
import { MOST_AT_ONCE } from "./prove.js";
import { Master } from "./master.js";
import type { Share } from "./pattern-columns.js";
import type { Task } from "./pattern-rows.js";
import type { Model, ScrapItem } from "./prepare.js";
import type { Arc, Stretch } from "./rip-rows.js";
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

/** A stretch being covered from both its ends. */
interface OpenStretch {
  readonly run: number;
  /** joints between which it is still to be covered */
  from: number;
  to: number;
}

/** What a pattern leaf is cut as; for a rip, of which stretch and from which end of it. */
interface Choice {
  readonly block: Block;
  readonly stretch: OpenStretch | null;
  readonly atStart: boolean;
}

/** What is still to be placed: pieces of each type, and stretches of runs. */
export class Remaining {
  private readonly open: OpenStretch[];
  constructor(
    private readonly shop: Shop,
    readonly counts: Int32Array,
    stretches: readonly Stretch[]
  ) {
    this.open = stretches.map((one) => ({ ...one }));
  }

  /** Takes the choice off what remains. */
  take({ block, stretch, atStart }: Choice): void {
    if (!stretch) this.count(block, -1);
    else if (atStart) stretch.from = block.to;
    else stretch.to = block.from;
  }

  /** Undoes `take`, the last taken first. */
  putBack({ block, stretch, atStart }: Choice): void {
    if (!stretch) this.count(block, 1);
    else if (atStart) stretch.from = block.from;
    else stretch.to = block.to;
  }

  private count(block: Block, by: 1 | -1): void {
    this.counts[block.type]! += by;
    if (block.pair) this.counts[block.pair.upper]! += by;
  }

  /** The most valuable block a leaf may stand for that is left and fits; null where none does. */
  choose(master: Master, item: number, w: number, h: number): Choice | null {
    const leaf = master.leaf(item);
    const box = master.boxOf(item);
    const boxW = Math.min(w, box.w);
    const boxH = Math.min(h, box.h);
    let best: Block | null = null;
    if (leaf.kind === "rip") {
      const across = Math.abs(box.w - leaf.length) < Math.abs(box.w - leaf.height);
      const rip = this.chooseRip(leaf.height, across ? 0 : 90, w, h, box);
      if (rip) return rip;
    } else {
      for (const block of master.blocksOf(leaf, this.counts, this.shop)) {
        if (block.w <= w && block.h <= h && (!best || block.worth > best.worth)) best = block;
      }
    }
    if (!best && leaf.kind === "pair") best = this.otherPair(boxW, boxH);
    best ??= this.standIn(boxW, boxH);
    return best && { block: best, stretch: null, atStart: true };
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

  /**
   * A rip of this height for either end of some stretch: the most valuable that fits the leaf's own
   * box, which may be cut a cluster longer; failing that the nearest to it that there is room for.
   */
  private chooseRip(
    height: number,
    turned: 0 | 90,
    w: number,
    h: number,
    box: { readonly w: number; readonly h: number }
  ): Choice | null {
    const { shop } = this;
    let best: Choice | null = null;
    let bestMiss = Infinity;
    const consider = (stretch: OpenStretch, arc: Arc, atStart: boolean): void => {
      for (const block of shop.ripBlocks(stretch.run, arc.from, arc.to)) {
        if (block.turned !== turned || block.w > w || block.h > h) continue;
        const over = Math.max(block.w - box.w, block.h - box.h, 0);
        if (over > bestMiss) continue;
        if (over < bestMiss || block.worth > best!.block.worth) {
          best = { block, stretch, atStart };
          bestMiss = over;
        }
      }
    };
    for (const stretch of this.open) {
      const { run, from, to } = stretch;
      if (from >= to || shop.model.runs[run]!.height !== height) continue;
      for (const arc of shop.arcsFrom[run]![from]!) {
        if (arc.to <= to && shop.coverable(run, arc.to, to)) consider(stretch, arc, true);
      }
      for (const arc of shop.arcsTo[run]![to]!) {
        if (arc.from >= from && shop.coverable(run, from, arc.from)) consider(stretch, arc, false);
      }
    }
    return best;
  }

  stretches(): Stretch[] {
    return this.open
      .filter((one) => one.from < one.to)
      .map(({ run, from, to }) => ({ run, from, to }));
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
  taken: Choice[]
): Built | null {
  if (!tree || w <= 0 || h <= 0) return null;
  if (tree.cut === "none") {
    const choice = remaining.choose(master, tree.item, w, h);
    if (!choice) return null;
    remaining.take(choice);
    taken.push(choice);
    const { block } = choice;
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
  const choices: Choice[] = [];
  const built = build(master, tree, remaining, shop.model.kerf, sheet.w, sheet.h, choices);
  const taken = choices.map(({ block }) => block);
  const area = taken.reduce((sum, block) => sum + block.area, 0);
  const worth = taken.reduce((sum, block) => sum + block.worth, 0);
  if (!built || !accept(area, worth, built.h)) {
    for (const choice of choices.reverse()) remaining.putBack(choice);
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

/** Share of the pieces of a master that are left when a new one is made for them. */
const SHRINK = 0.5;

/** What is still to be cut, and what of it is settled. */
class Settling {
  readonly sheets: Sheet[] = [];
  readonly remaining: Remaining;
  readonly scrapFree: boolean[];

  constructor(
    private readonly shop: Shop,
    private readonly task: Task
  ) {
    this.remaining = new Remaining(shop, Int32Array.from(task.counts), task.stretches);
    this.scrapFree = shop.model.scrap.map(() => false);
    for (const item of task.scrap) this.scrapFree[item.index] = true;
  }

  /** What is still to be cut, as a task of its own. */
  rest(): Task {
    return {
      counts: Int32Array.from(this.remaining.counts),
      stretches: this.remaining.stretches(),
      scrap: this.task.scrap.filter((item) => this.scrapFree[item.index]),
    };
  }

  /** Cuts a pattern once where what is left is worth `earns` of its cost; false where it is not. */
  cut(master: Master, share: Share, earns: number): boolean {
    const { shop, task } = this;
    const { model } = shop;
    let place = { scrap: -1, w: model.width, h: 0 };
    if (share.scrap) {
      const { scrap: size } = share;
      let found: ScrapItem | null = null;
      for (const item of task.scrap) {
        if (!this.scrapFree[item.index] || item.w > size.w || item.h > size.h) continue;
        if (!found || item.w * item.h > found.w * found.h) found = item;
      }
      if (!found) return false;
      place = { scrap: found.index, w: found.w, h: found.h };
    } else place.h = model.stock[share.stock]!.length;
    const accept = (area: number, worth: number, reach: number): boolean =>
      place.scrap >= 0 ? area >= FILLS * place.w * place.h : worth >= earns * shop.costTo(reach);
    const sheet = cutPattern(shop, master, share.tree, this.remaining, place, accept);
    if (!sheet) return false;
    if (place.scrap >= 0) this.scrapFree[place.scrap] = false;
    this.sheets.push(sheet);
    return true;
  }

  /** Settles the whole parts of all shares and, up to so many panels, the largest parts once. */
  settle(master: Master, earns: number, atOnce: number): number {
    const shares = master.solution();
    const total = shares.reduce((sum, share) => sum + (share.scrap ? 0 : share.level), 0);
    const most = Math.max(1, Math.floor(atOnce * total));
    let made = 0;
    for (const share of shares) {
      const times = Math.max(made < most ? 1 : 0, Math.floor(share.level + 1e-6));
      for (let k = 0; k < times && this.cut(master, share, earns); k++) made++;
    }
    return made;
  }
}

/** How much there is to cut: pieces, and rips about as long as a panel. */
function sizeOf(model: Model, task: Task): number {
  let size = 0;
  for (const count of task.counts) size += count;
  for (const { run, from, to } of task.stretches) {
    const { joints } = model.runs[run]!;
    size += Math.ceil((joints[to]! - joints[from]!) / model.longest);
  }
  return size;
}

/**
 * A plan from the share solution of the master: the patterns used most become panels, the shares of
 * what is left are worked out anew, and so on to the end. When much is settled what is left gets a
 * master of its own, which tells pieces apart that a large one takes together. `budget` limits the
 * work of the masters.
 */
export function roundShares(shop: Shop, task: Task, first: Master, budget: number): Sheet[] {
  const { model } = shop;
  const settling = new Settling(shop, task);
  let master = first;
  let size = sizeOf(model, task);
  let before = -master.work;
  let earns = EARNS;
  while (earns >= EARNS_LEAST) {
    const made = settling.settle(master, earns, AT_ONCE);
    if (before + master.work > budget) break;
    if (made === 0) {
      earns -= EARNS_LESS;
      continue;
    }
    const rest = settling.rest();
    const left = sizeOf(model, rest);
    if (left === 0) break;
    if (left < SHRINK * size) {
      before += master.work;
      master = new Master(model, rest, { costs: master.options.costs, mostGroups: MOST_AT_ONCE });
      master.addSheets(fillTask(shop, rest));
      master.share((budget - before) / 3);
      shop.price(master.worths());
      size = left;
      earns = EARNS;
    } else {
      master.shareRest(rest, ROUNDS);
    }
  }
  const filling = new Filling(shop, settling.sheets, settling.scrapFree);
  const { counts, stretches } = settling.rest();
  fillRest(filling, counts, stretches);
  return filling.result();
}

/** A first plan of a task, by best fit. */
export function fillTask(shop: Shop, task: Task): Sheet[] {
  const free = shop.model.scrap.map(() => false);
  for (const item of task.scrap) free[item.index] = true;
  const filling = new Filling(shop, [], free);
  fillRest(filling, task.counts, task.stretches);
  return filling.result();
}
