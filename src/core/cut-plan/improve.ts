/**
 * Ruin and recreate: takes a few sheets apart, fills their pieces in again in another order, and
 * keeps what is better, now and then also what is a little worse. The order of tries comes from a
 * fixed sequence of numbers, so the same input gives the same plan everywhere.
 */
import type { Block } from "./blocks.js";
import { Filling, type Shop } from "./fill.js";
import type { Master } from "./master.js";
import type { Share } from "./pattern-columns.js";
import type { Stretch } from "./rip-rows.js";
import { Remaining, cutPattern } from "./round.js";
import { type Part, type Sheet, dropBlocks, listBlocks } from "./sheet.js";

/** A fixed sequence of numbers from 0 to 1 (xorshift, 32 bit). */
export class Sequence {
  constructor(private state: number) {}
  next(): number {
    let s = this.state;
    s ^= s << 13;
    s ^= s >>> 17;
    s ^= s << 5;
    this.state = s;
    return (s >>> 0) / 4294967296;
  }
  below(limit: number): number {
    return Math.floor(this.next() * limit);
  }
}

/** Share of tries in which a pattern of the share solution is cut first. */
const PATTERN_SHARE = 0.2;

/** Share of a panel's area a pattern cut first must fill. */
const PATTERN_FILLS = 0.6;

/** Share of tries in which one whole run of rips is taken out and divided anew. */
const RUN_SHARE = 0.2;

/** Share of a panel's cost that gathering all its waste in one place is worth. */
const GATHER = 0.4;

/** Chance that a good spot is passed over, so that fillings differ. */
const PASS = 0.03;

/** A plan worse by this share of a panel is still taken up at first one time in three. */
const WARMTH = 0.03;

/** How strongly sheets that waste much are preferred for taking apart. */
const PICK = 8;

/** Sheets not taken apart that are looked at for room in one try. */
const SEEN = 12;

/** Share of a sheet's cost that what is in it does not earn back. */
function openShare(shop: Shop, sheet: Sheet): number {
  const cost = shop.costTo(sheet.reach);
  return cost === 0 ? 0 : Math.max(0, 1 - sheet.worth / cost);
}

/** What a sheet costs, less a little for waste that lies together, and a little for every rip. */
function energyOf(shop: Shop, sheet: Sheet, joint: number): number {
  const joints = joint * shop.dearest * sheet.rips;
  if (sheet.scrap >= 0) return joints;
  const open = openShare(shop, sheet);
  return shop.costTo(sheet.reach) * (1 - GATHER * open * open) + joints;
}

/** Pieces taken out of sheets: how many of each type, and stretches of runs. */
export function takeApart(blocks: readonly Block[], counts: Map<number, number>): Stretch[] {
  const stretches: Stretch[] = [];
  for (const block of blocks) {
    if (block.run >= 0) {
      stretches.push({ run: block.run, from: block.from, to: block.to });
      continue;
    }
    counts.set(block.type, (counts.get(block.type) ?? 0) + 1);
    if (block.pair) counts.set(block.pair.upper, (counts.get(block.pair.upper) ?? 0) + 1);
  }
  // Neighbors in a run become one stretch, to be divided anew.
  stretches.sort((a, b) => a.run - b.run || a.from - b.from);
  const joined: Stretch[] = [];
  for (const one of stretches) {
    const last = joined[joined.length - 1];
    if (last && last.run === one.run && last.to === one.from) {
      joined[joined.length - 1] = { run: one.run, from: last.from, to: one.to };
    } else joined.push(one);
  }
  return joined;
}

interface Thing {
  readonly blocks: readonly Block[] | null;
  readonly stretch: Stretch | null;
  key: number;
}

export interface ImproveOptions {
  /** steps of work allowed */
  readonly budget: number;
  /** a cost that proves the plan cannot get cheaper */
  readonly floor: number;
  /** scraps nobody uses yet */
  readonly scrapFree: readonly boolean[];
  /** share of a panel's cost that a rip fewer is worth */
  readonly joint: number;
  /** a plan dearer than this is never taken up */
  readonly ceiling: number;
  /** patterns worth trying, and the master they come from */
  readonly patterns?: { readonly master: Master; readonly shares: readonly Share[] };
}

function holdsRun(part: Part, run: number): boolean {
  if (part.block) return part.block.run === run;
  return (
    (part.first !== null && holdsRun(part.first, run)) ||
    (part.second !== null && holdsRun(part.second, run))
  );
}

function priced(sheet: Sheet): Sheet {
  const blocks: Block[] = [];
  listBlocks(sheet.root, blocks);
  return { ...sheet, worth: blocks.reduce((sum, block) => sum + block.worth, 0) };
}

/** Looks for a cheaper plan than `start`; returns the best found. */
export function improve(
  shop: Shop,
  start: readonly Sheet[],
  sequence: Sequence,
  options: ImproveOptions
): { sheets: Sheet[]; cost: number; work: number; rounds: number } {
  const { model } = shop;
  const { joint } = options;
  const costOf = (sheet: Sheet): number => (sheet.scrap >= 0 ? 0 : shop.costTo(sheet.reach));
  let sheets = start.map((sheet) => priced(sheet));
  let cost = sheets.reduce((sum, sheet) => sum + costOf(sheet), 0);
  let energy = sheets.reduce((sum, sheet) => sum + energyOf(shop, sheet, joint), 0);
  let best = sheets;
  let bestCost = cost;
  let bestEnergy = energy;
  let scrapFree: readonly boolean[] = options.scrapFree;
  const dearest = Math.max(...model.stock.map((item) => item.cost));
  let work = 0;
  let rounds = 0;
  const shares = (options.patterns?.shares ?? []).filter((share) => share.stock >= 0);
  const hasRips = sheets.some((sheet) => sheet.rips > 0);
  const skip = (): boolean => sequence.next() < PASS;
  while (
    work < options.budget &&
    (joint > 0 || bestCost > options.floor + 1e-9) &&
    sheets.length > 0
  ) {
    rounds++;
    const warmth = WARMTH * dearest * Math.max(0, 1 - work / (0.9 * options.budget)) ** 2 + 1e-4;
    const share =
      shares.length > 0 && sequence.next() < PATTERN_SHARE
        ? shares[sequence.below(shares.length)]!
        : null;
    const run =
      !share && hasRips && sequence.next() < RUN_SHARE ? sequence.below(model.runs.length) : -1;
    const picked = pickSheets(shop, sheets, sequence, run < 0 && !share ? 5 : 3);
    work += 4000;
    if (share) {
      holders(shop, sheets, options.patterns!.master.typesOf(share.tree), sequence, picked);
      work += 100 * sheets.length;
    }
    const counts = new Map<number, number>();
    const blocks: Block[] = [];
    let removedCost = 0;
    let removedEnergy = 0;
    const free = [...scrapFree];
    const takeOut = (sheet: Sheet): void => {
      removedCost += costOf(sheet);
      removedEnergy += energyOf(shop, sheet, joint);
    };
    const gone = new Set(picked);
    for (const index of picked) {
      const sheet = sheets[index]!;
      listBlocks(sheet.root, blocks);
      takeOut(sheet);
      if (sheet.scrap >= 0) free[sheet.scrap] = true;
    }
    const rest: Sheet[] = [];
    let addedCost = 0;
    let addedEnergy = 0;
    /** places in the rest where a rip came out: there is room now */
    const opened: number[] = [];
    sheets.forEach((sheet, index) => {
      if (gone.has(index)) return;
      if (run < 0 || sheet.rips === 0 || !holdsRun(sheet.root, run)) {
        rest.push(sheet);
        return;
      }
      const left = dropBlocks(sheet, (block) => block.run === run, blocks, model.kerf, shop.least);
      work += 1000;
      takeOut(sheet);
      if (left.blocks === 0) {
        if (sheet.scrap >= 0) free[sheet.scrap] = true;
        return;
      }
      addedCost += costOf(left);
      addedEnergy += energyOf(shop, left, joint);
      opened.push(rest.length);
      rest.push(left);
    });
    let stretches = takeApart(blocks, counts);
    let pattern: Sheet | null = null;
    if (share) {
      const all = new Int32Array(model.types.length);
      for (const [type, count] of counts) all[type] = count;
      const remaining = new Remaining(shop, all, stretches);
      const h = model.stock[share.stock]!.length;
      pattern = cutPattern(
        shop,
        options.patterns!.master,
        share.tree,
        remaining,
        { scrap: -1, w: model.width, h },
        (area) => area >= PATTERN_FILLS * model.width * h
      );
      if (pattern) {
        counts.clear();
        all.forEach((count, type) => {
          if (count > 0) counts.set(type, count);
        });
        stretches = remaining.stretches();
      }
      work += 4000 + 20 * model.types.length;
    }
    const seen: number[] = opened;
    if (rest.length > SEEN) {
      for (let k = 0; k < SEEN; k++) seen.push(sequence.below(rest.length));
    }
    const filling = new Filling(shop, rest, free, rest.length > SEEN ? new Set(seen) : undefined);
    if (pattern) filling.adopt(pattern);
    for (const thing of order(shop, counts, stretches, sequence)) {
      if (thing.stretch) filling.cover(thing.stretch, sequence.next() < 0.5, skip);
      else filling.place(thing.blocks!, skip);
    }
    work += filling.work * 30 + blocks.length * 800;
    const result = filling.result();
    let newCost = cost - removedCost + addedCost;
    let newEnergy = energy - removedEnergy + addedEnergy;
    for (let k = 0; k < result.length; k++) {
      const was = k < rest.length ? rest[k]! : null;
      const now = result[k]!;
      if (was === now) continue;
      if (was) {
        newCost -= costOf(was);
        newEnergy -= energyOf(shop, was, joint);
      }
      newCost += costOf(now);
      newEnergy += energyOf(shop, now, joint);
    }
    const change = newEnergy - energy;
    if (newCost > options.ceiling + 1e-9) continue;
    if (change <= 0 || sequence.next() < Math.exp(-change / warmth)) {
      sheets = result;
      cost = newCost;
      energy = newEnergy;
      scrapFree = filling.scrapLeft;
      if (cost < bestCost - 1e-9 || (cost < bestCost + 1e-9 && energy < bestEnergy - 1e-9)) {
        best = sheets;
        bestCost = cost;
        bestEnergy = energy;
      }
    }
  }
  return { sheets: best, cost: bestCost, work, rounds };
}

/** Adds to the picked sheets one that holds each of the types, the emptier of a few. */
function holders(
  shop: Shop,
  sheets: readonly Sheet[],
  types: readonly number[],
  sequence: Sequence,
  picked: number[]
): void {
  const wanted = new Map<number, number>();
  for (const type of types) wanted.set(type, (wanted.get(type) ?? 0) + 1);
  const blocks: Block[] = [];
  const take = (index: number): void => {
    blocks.length = 0;
    listBlocks(sheets[index]!.root, blocks);
    for (const block of blocks) {
      if (block.run >= 0) continue;
      for (const type of block.pair ? [block.type, block.pair.upper] : [block.type]) {
        const left = (wanted.get(type) ?? 0) - 1;
        if (left > 0) wanted.set(type, left);
        else wanted.delete(type);
      }
    }
  };
  for (const index of picked) take(index);
  // From a random place on, so that of equal sheets another is found each time.
  const start = sequence.below(sheets.length);
  for (let pass = 0; pass < 2 && wanted.size > 0; pass++) {
    for (let k = 0; k < sheets.length && wanted.size > 0; k++) {
      const index = (start + k) % sheets.length;
      if (picked.includes(index)) continue;
      const sheet = sheets[index]!;
      // First those that waste something, then any.
      if (pass === 0 && sheet.scrap < 0 && openShare(shop, sheet) < 0.01) continue;
      blocks.length = 0;
      listBlocks(sheet.root, blocks);
      if (
        !blocks.some(
          (block) =>
            block.run < 0 &&
            (wanted.has(block.type) || (block.pair && wanted.has(block.pair.upper)))
        )
      ) {
        continue;
      }
      picked.push(index);
      take(index);
    }
  }
}

/** One to five sheets, the emptier ones more often; full ones hardly ever. */
function pickSheets(
  shop: Shop,
  sheets: readonly Sheet[],
  sequence: Sequence,
  most: number
): number[] {
  const count = Math.min(sheets.length, 1 + sequence.below(most));
  const picked = new Set<number>();
  for (let tries = 0; picked.size < count && tries < 40; tries++) {
    const index = sequence.below(sheets.length);
    const sheet = sheets[index]!;
    if (sheet.scrap < 0 && sequence.next() > 0.02 + PICK * openShare(shop, sheet)) continue;
    picked.add(index);
  }
  if (picked.size === 0) picked.add(sequence.below(sheets.length));
  return [...picked].sort((a, b) => a - b);
}

/** The things to place, in a random order of a random kind; rake pieces paired now and then. */
function order(
  shop: Shop,
  counts: Map<number, number>,
  stretches: readonly Stretch[],
  sequence: Sequence
): Thing[] {
  const { types } = shop.model;
  const things: Thing[] = [];
  const rule = sequence.below(4);
  const noise = 0.05 + 0.3 * sequence.next();
  const keyOf = (w: number, h: number): number => {
    const size = rule === 0 ? w * h : rule === 1 ? h * 1e4 + w : rule === 2 ? w * 1e4 + h : w + h;
    return size * (1 + noise * (sequence.next() - 0.5));
  };
  const rakes: number[] = [];
  for (const [type, count] of counts) {
    if (types[type]!.rake) for (let k = 0; k < count; k++) rakes.push(type);
    else {
      for (let k = 0; k < count; k++) {
        const { w, left } = types[type]!;
        things.push({ blocks: shop.blocks[type]!, stretch: null, key: keyOf(w, left) });
      }
    }
  }
  shuffle(rakes, sequence);
  const alone = sequence.next() * 0.5;
  while (rakes.length > 0) {
    const type = rakes.pop()!;
    let block: Block | null = null;
    if (sequence.next() >= alone) block = bestPair(shop, type, rakes, sequence);
    const single = shop.blocks[type]!;
    things.push({
      blocks: block ? [block] : single,
      stretch: null,
      key: block ? keyOf(block.w, block.h) : keyOf(single[0]!.w, single[0]!.h),
    });
  }
  const late = sequence.next() < 0.7;
  for (const stretch of stretches) {
    const run = shop.model.runs[stretch.run]!;
    const length = run.joints[stretch.to]! - run.joints[stretch.from]!;
    things.push({ blocks: null, stretch, key: late ? 0 : keyOf(run.height, length) });
  }
  return things.sort((a, b) => b.key - a.key);
}

/** A partner for a rake piece among those at hand: the one that wastes least panel, or any. */
function bestPair(shop: Shop, type: number, rakes: number[], sequence: Sequence): Block | null {
  const nests = shop.nests[type]!;
  let found = -1;
  let foundBlock: Block | null = null;
  let least = Infinity;
  for (let k = 0; k < rakes.length; k++) {
    if (!nests.includes(rakes[k]!)) continue;
    const block = shop.pair(type, rakes[k]!);
    if (block.h > shop.model.longest) continue;
    const waste =
      (shop.lengthTo(block.h) - block.h) / shop.lengthTo(block.h) + 0.5 * sequence.next();
    if (waste < least) {
      least = waste;
      found = k;
      foundBlock = block;
    }
  }
  if (found >= 0) rakes.splice(found, 1);
  return foundBlock;
}

function shuffle(list: number[], sequence: Sequence): void {
  for (let k = list.length - 1; k > 0; k--) {
    const other = sequence.below(k + 1);
    const held = list[k]!;
    list[k] = list[other]!;
    list[other] = held;
  }
}
