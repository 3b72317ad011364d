/**
 * From shares of patterns to whole panels: as many of each pattern as its share holds, then those
 * most needed once more, then best fit for what is left.
 */
import type { Block } from "./blocks.js";
import { Filling, type Shop, type Stretch, fillRest } from "./fill.js";
import type { KnapsackTree } from "./knapsack.js";
import type { Leaf, Master, Share, Task } from "./master.js";
import { shortestRip } from "./prepare.js";
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

/** What is still to be placed: pieces of each type, and how far each run is covered. */
class Remaining {
  readonly counts: Int32Array;
  readonly at: Map<number, number>;
  constructor(
    private readonly shop: Shop,
    task: Task
  ) {
    this.counts = Int32Array.from(task.counts);
    this.at = new Map(task.runs.map((run) => [run.index, 0]));
  }

  /** Takes the block off what remains; `sign` -1 puts it back. */
  take(block: Block, sign: 1 | -1): void {
    if (block.run >= 0) {
      this.at.set(block.run, sign > 0 ? block.to : block.from);
      return;
    }
    this.counts[block.type]! -= sign;
    if (block.pair) this.counts[block.pair.upper]! -= sign;
  }

  /** The largest block a leaf may stand for that is left and fits; null where none does. */
  choose(master: Master, leaf: Leaf, w: number, h: number): Block | null {
    let best: Block | null = null;
    let boxW = w;
    let boxH = h;
    if (leaf.kind === "rip") {
      best = this.chooseRip(leaf.height, leaf.length, w, h);
      boxW = Math.min(w, leaf.height);
      boxH = Math.min(h, leaf.length);
    } else {
      for (const block of master.blocksOf(leaf, this.counts, this.shop)) {
        if (block.w <= w && block.h <= h && (!best || block.area > best.area)) best = block;
      }
      const box = master.boxOf(leaf);
      boxW = Math.min(w, box.w);
      boxH = Math.min(h, box.h);
    }
    return best ?? this.standIn(boxW, boxH);
  }

  /** The largest piece left that fits the box: in the share solution larger stands in for smaller. */
  private standIn(w: number, h: number): Block | null {
    let best: Block | null = null;
    this.counts.forEach((count, type) => {
      if (count === 0) return;
      for (const block of this.shop.blocks[type]!) {
        if (block.w <= w && block.h <= h && (!best || block.area > best.area)) best = block;
      }
    });
    return best;
  }

  /** The next rip of some run of this height: the longest that fits, up to the length meant. */
  private chooseRip(height: number, length: number, w: number, h: number): Block | null {
    const { shop } = this;
    let best: Block | null = null;
    let bestMiss = Infinity;
    for (const [runIndex, at] of this.at) {
      const run = shop.model.runs[runIndex]!;
      if (run.height !== height) continue;
      for (const arc of shop.arcsFrom[runIndex]![at] ?? []) {
        const miss = Math.abs(run.joints[arc.to]! - run.joints[arc.from]! - length);
        if (miss >= bestMiss) continue;
        const block = shop
          .ripBlocks(runIndex, arc.from, arc.to)
          .find((one) => one.w <= w && one.h <= h);
        if (block) {
          best = block;
          bestMiss = miss;
        }
      }
    }
    return best;
  }

  stretches(): Stretch[] {
    const found: Stretch[] = [];
    for (const [run, from] of this.at) {
      const to = this.shop.model.runs[run]!.joints.length - 1;
      if (from < to) found.push({ run, from, to });
    }
    return found;
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
    const block = remaining.choose(master, master.leaves[tree.item]!, w, h);
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
    area: taken.reduce((sum, block) => sum + block.area, 0),
    worth: taken.reduce((sum, block) => sum + block.worth, 0),
  };
  findSpaces(sheet, model.kerf, least);
  return sheet;
}

/** Share of a sheet's area that a pattern must fill with what is left to be worth cutting. */
const WORTH = 0.8;

/** Takes panels out of share solutions, keeping count of what remains to be cut. */
export class Rounding {
  readonly sheets: Sheet[] = [];
  private readonly remaining: Remaining;
  private readonly scrapFree: boolean[];

  constructor(
    private readonly shop: Shop,
    private readonly task: Task
  ) {
    this.remaining = new Remaining(shop, task);
    this.scrapFree = shop.model.scrap.map(() => false);
    for (const item of task.scrap) this.scrapFree[item.index] = true;
  }

  /** Cuts one sheet by the pattern if what is left fills at least so much of it. */
  private make(master: Master, share: Share, least: number): boolean {
    const { model } = this.shop;
    let w = model.width;
    let h = 0;
    let scrap = -1;
    if (share.scrap) {
      const { scrap: size } = share;
      const found = this.task.scrap.find(
        (item) => this.scrapFree[item.index] && item.w <= size.w && item.h <= size.h
      );
      if (!found) return false;
      scrap = found.index;
      ({ w, h } = found);
    } else h = model.stock[share.stock]!.length;
    const taken: Block[] = [];
    const built = build(master, share.tree, this.remaining, model.kerf, w, h, taken);
    const area = taken.reduce((sum, block) => sum + block.area, 0);
    if (!built || area < least * w * h) {
      for (const block of taken.reverse()) this.remaining.take(block, -1);
      return false;
    }
    if (scrap >= 0) this.scrapFree[scrap] = false;
    this.sheets.push(sheetOf(this.shop, scrap, built, taken));
    return true;
  }

  /** As many sheets of each pattern as its share holds; returns how many. */
  wholes(master: Master): number {
    let made = 0;
    for (const share of master.solution()) {
      for (let k = Math.floor(share.level + 1e-6); k > 0; k--) {
        if (!this.make(master, share, 0.5)) break;
        made++;
      }
    }
    return made;
  }

  /** The patterns with the largest parts left over, once each, up to `most`; returns how many. */
  parts(master: Master, most: number): number {
    const parts = master
      .solution()
      .map((share) => ({ share, part: share.level - Math.floor(share.level + 1e-6) }))
      .filter(({ part }) => part > 1e-6)
      .sort((a, b) => b.part - a.part);
    let made = 0;
    for (const { share, part } of parts) {
      if (made >= most) break;
      if (this.make(master, share, part > 0.5 ? WORTH - 0.2 : WORTH)) made++;
    }
    return made;
  }

  /** What is still to be cut, as a task of its own. */
  rest(): Task {
    return {
      counts: this.remaining.counts,
      runs: this.remaining.stretches().map(({ run, from }) => {
        const item = this.shop.model.runs[run]!;
        const start = item.joints[from]!;
        return {
          ...item,
          joints: item.joints.slice(from).map((joint) => joint - start),
          smallest: shortestRip(item),
        };
      }),
      scrap: this.task.scrap.filter((item) => this.scrapFree[item.index]),
    };
  }

  get done(): boolean {
    return this.remaining.counts.every((count) => count === 0) && this.rest().runs.length === 0;
  }

  /** The sheets made, with best fit for the rest. */
  finish(): Sheet[] {
    const filling = new Filling(this.shop, this.sheets, this.scrapFree);
    fillRest(filling, this.remaining.counts, this.remaining.stretches());
    return filling.result();
  }
}
