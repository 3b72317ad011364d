/**
 * Best-fit filling: puts one block after another where it costs least and wastes least.
 */
import { type Block, canNest, pairBlock, pairOf, pieceBlock, ripBlock } from "./blocks.js";
import { type Model, fitsPanel, ripWays } from "./prepare.js";
import { type Arc, type Stretch, runArcs } from "./rip-rows.js";
import {
  type Least,
  type Sheet,
  type Space,
  copySheet,
  leastOf,
  newSheet,
  putBlock,
  stockFor,
} from "./sheet.js";

/** What pieces and rips are worth, in cost. */
export interface Prices {
  piece(type: number): number;
  rip(rip: Stretch): number;
}

/** What filling needs to know of a problem again and again, worked out once. */
export class Shop {
  /** ways of cutting each piece type */
  readonly blocks: readonly (readonly Block[])[];
  readonly least: Least;
  /** rips that may start at each joint of each run, shortest first */
  readonly arcsFrom: readonly (readonly (readonly Arc[])[])[];
  /** rips that may end at each joint of each run, shortest first */
  readonly arcsTo: readonly (readonly (readonly Arc[])[])[];
  /** rake types each rake type nests with */
  readonly nests: readonly (readonly number[])[];
  private prices: Prices | null = null;
  private readonly pairs = new Map<number, Block>();
  private readonly rips = new Map<number, readonly Block[]>();
  /** for each run, which joints rips can reach from a joint */
  private readonly reach: readonly Map<number, Uint8Array>[];
  private readonly mostJoints: number;
  /** panel lengths ascending, each with the cheapest cost that reaches it */
  readonly lengths: readonly number[];
  private readonly costs: readonly number[];
  readonly dearest: number;
  private readonly reached: readonly number[];

  constructor(readonly model: Model) {
    this.blocks = model.types.map((type) => type.ways.map((way) => pieceBlock(type, way)));
    const arcs = model.runs.map((run) => runArcs(model, run));
    this.mostJoints = Math.max(1, ...model.runs.map((run) => run.joints.length));
    this.arcsFrom = model.runs.map((run, k) =>
      run.joints.map((_, joint) => arcs[k]!.filter((arc) => arc.from === joint))
    );
    this.arcsTo = model.runs.map((run, k) =>
      run.joints.map((_, joint) => arcs[k]!.filter((arc) => arc.to === joint).reverse())
    );
    this.reach = model.runs.map(() => new Map());
    const sizes: { w: number; h: number }[] = this.blocks.flat();
    model.runs.forEach((run, k) => {
      for (const arc of arcs[k]!) {
        sizes.push(...ripWays(run.height, run.joints[arc.to]! - run.joints[arc.from]!, model));
      }
    });
    this.least = leastOf(sizes);
    this.nests = model.types.map((type) =>
      type.rake
        ? model.types.filter((other) => canNest(type, other)).map((other) => other.index)
        : []
    );
    this.lengths = [...new Set(model.stock.map((item) => item.length))].sort((a, b) => a - b);
    const choice = this.lengths.map((length) => model.stock[stockFor(model, length)]!);
    this.costs = choice.map((item) => item.cost);
    this.reached = choice.map((item) => item.length);
    this.dearest = Math.max(...model.stock.map((item) => item.cost));
  }

  /** Cost of a panel that reaches so far up; 0 for nothing; Infinity where no panel does. */
  costTo(reach: number): number {
    if (reach === 0) return 0;
    for (let k = 0; k < this.lengths.length; k++) {
      if (this.lengths[k]! >= reach) return this.costs[k]!;
    }
    return Infinity;
  }

  /** Length of the panel bought to reach so far up. */
  lengthTo(reach: number): number {
    for (let k = 0; k < this.lengths.length; k++) {
      if (this.lengths[k]! >= reach) return this.reached[k]!;
    }
    return Infinity;
  }

  /** Prices every block, so that sheets can be judged by what is in them. */
  price(prices: Prices): void {
    this.prices = prices;
    for (const list of this.blocks) for (const block of list) this.value(block);
    for (const block of this.pairs.values()) this.value(block);
    for (const list of this.rips.values()) for (const block of list) this.value(block);
  }

  private value(block: Block): void {
    const { prices } = this;
    if (!prices) return;
    if (block.run >= 0) block.worth = prices.rip(block);
    else {
      block.worth = prices.piece(block.type);
      if (block.pair) block.worth += prices.piece(block.pair.upper);
    }
  }

  pair(a: number, b: number): Block {
    const key = a * this.model.types.length + b;
    let block = this.pairs.get(key);
    if (!block) {
      const { types, kerf } = this.model;
      block = pairBlock(this.model, pairOf(types[a]!, types[b]!, kerf));
      this.value(block);
      this.pairs.set(key, block);
    }
    return block;
  }

  /** True where rips can cover a run between two joints; nothing is there to cover between equal ones. */
  coverable(run: number, from: number, to: number): boolean {
    if (from >= to) return from === to;
    const rows = this.reach[run]!;
    let row = rows.get(from);
    if (!row) {
      row = new Uint8Array(this.model.runs[run]!.joints.length);
      row[from] = 1;
      for (let joint = from; joint < row.length; joint++) {
        if (row[joint]) for (const arc of this.arcsFrom[run]![joint]!) row[arc.to] = 1;
      }
      rows.set(from, row);
    }
    return row[to] === 1;
  }

  /** Ways of cutting one rip. */
  ripBlocks(run: number, from: number, to: number): readonly Block[] {
    const key = (run * this.mostJoints + from) * this.mostJoints + to;
    let list = this.rips.get(key);
    if (!list) {
      const item = this.model.runs[run]!;
      const length = item.joints[to]! - item.joints[from]!;
      list = ripWays(item.height, length, this.model).map((way) => ripBlock(item, from, to, way));
      for (const block of list) this.value(block);
      this.rips.set(key, list);
    }
    return list;
  }
}

/** Where a block would go. */
export interface Spot {
  /** place in the list of sheets; -1 for a new panel; below that, scrap -2 - spot */
  readonly sheet: number;
  readonly space: Space | null;
  readonly block: Block;
  readonly added: number;
}

/** Sheets being filled. Sheets given are copied before they change. */
export class Filling {
  readonly sheets: Sheet[];
  /** places of the sheets looked at */
  private readonly seen: number[];
  private readonly own: boolean[];
  private readonly costs: number[];
  readonly scrapLeft: boolean[];
  /** steps of work done */
  work = 0;

  /**
   * `scrapFree` says which scraps are still whole; `seen` which of the sheets are looked at for
   * room, all where not given. New sheets always are.
   */
  constructor(
    readonly shop: Shop,
    sheets: readonly Sheet[],
    scrapFree: readonly boolean[],
    seen?: Iterable<number>
  ) {
    this.sheets = [...sheets];
    this.seen = [];
    for (const k of seen ?? sheets.keys()) if (sheets[k]!.spaces.length > 0) this.seen.push(k);
    this.own = sheets.map(() => false);
    this.costs = sheets.map((sheet) => (sheet.scrap >= 0 ? 0 : shop.costTo(sheet.reach)));
    this.scrapLeft = [...scrapFree];
  }

  private open(scrap: number): number {
    const { model } = this.shop;
    const sheet =
      scrap < 0
        ? newSheet(-1, model.width, model.longest)
        : newSheet(scrap, model.scrap[scrap]!.w, model.scrap[scrap]!.h);
    if (scrap >= 0) this.scrapLeft[scrap] = false;
    this.sheets.push(sheet);
    this.seen.push(this.sheets.length - 1);
    this.own.push(true);
    this.costs.push(0);
    return this.sheets.length - 1;
  }

  /** Puts the block where it was found to go. */
  put(spot: Spot): void {
    let index = spot.sheet;
    let space = spot.space;
    if (index < 0) {
      index = this.open(index === -1 ? -1 : -2 - index);
      space = this.sheets[index]!.spaces[0]!;
    }
    let sheet = this.sheets[index]!;
    if (!this.own[index]) {
      const at = sheet.spaces.indexOf(space!);
      sheet = copySheet(sheet);
      space = sheet.spaces[at]!;
      this.sheets[index] = sheet;
      this.own[index] = true;
    }
    const { model, least } = this.shop;
    putBlock(sheet, space!, spot.block, model.kerf, least);
    this.costs[index] = sheet.scrap >= 0 ? 0 : this.shop.costTo(sheet.reach);
  }

  /**
   * Best spot for any of the blocks (all ways of laying one thing): least added cost, then the
   * narrowest strip left beside it. `skip` leaves out a candidate now and then; `among` are the
   * sheets looked at. Null where nothing but a new panel would do.
   */
  find(
    blocks: readonly Block[],
    skip: (() => boolean) | null,
    among: readonly number[] = this.seen
  ): Spot | null {
    const { shop } = this;
    let sheetFound = -1;
    let spaceFound: Space | null = null;
    let blockFound: Block | null = null;
    let bestAdded = Infinity;
    let bestWaste = Infinity;
    for (const k of among) {
      const sheet = this.sheets[k]!;
      const { spaces } = sheet;
      this.work += 1 + spaces.length;
      for (let n = 0; n < spaces.length; n++) {
        const space = spaces[n]!;
        for (let b = 0; b < blocks.length; b++) {
          const block = blocks[b]!;
          if (block.w > space.w || block.h > space.h) continue;
          let added = 0;
          let height = space.h;
          if (sheet.scrap < 0) {
            const reach = Math.max(sheet.reach, space.y + block.h);
            added = shop.costTo(reach) - this.costs[k]!;
            if (added > bestAdded) continue;
            height = Math.min(height, shop.lengthTo(reach) - space.y);
          }
          const waste = Math.min(space.w - block.w, height - block.h);
          if (added < bestAdded || (added === bestAdded && waste < bestWaste)) {
            if (skip && skip()) continue;
            sheetFound = k;
            spaceFound = space;
            blockFound = block;
            bestAdded = added;
            bestWaste = waste;
          }
        }
      }
    }
    if (bestAdded > 0) {
      const scrap = this.findScrap(blocks);
      if (scrap) return scrap;
    }
    if (!blockFound) return null;
    return { sheet: sheetFound, space: spaceFound, block: blockFound, added: bestAdded };
  }

  /** Smallest whole scrap that holds one of the blocks. */
  private findScrap(blocks: readonly Block[]): Spot | null {
    let best: Spot | null = null;
    let bestArea = Infinity;
    for (const item of this.shop.model.scrap) {
      if (!this.scrapLeft[item.index]) continue;
      const area = item.w * item.h;
      if (area >= bestArea) continue;
      const block = blocks.find((one) => one.w <= item.w && one.h <= item.h);
      if (block) {
        best = { sheet: -2 - item.index, space: null, block, added: 0 };
        bestArea = area;
      }
    }
    return best;
  }

  /** The way of laying a thing that needs the cheapest new panel. */
  newPanel(blocks: readonly Block[]): Spot {
    let block: Block | null = null;
    let added = Infinity;
    for (const one of blocks) {
      if (!fitsPanel(one, this.shop.model)) continue;
      const cost = this.shop.costTo(one.h);
      if (cost < added) {
        added = cost;
        block = one;
      }
    }
    return { sheet: -1, space: null, block: block!, added };
  }

  /** Puts the thing where it adds least cost. */
  place(
    blocks: readonly Block[],
    skip: (() => boolean) | null,
    among: readonly number[] = this.seen
  ): Block {
    const found = this.find(blocks, skip, among);
    const fresh = found && found.added <= 0 ? null : this.newPanel(blocks);
    const spot = found && (!fresh || found.added <= fresh.added) ? found : fresh!;
    this.put(spot);
    return spot.block;
  }

  /**
   * Places so many of one thing, each where it adds least cost. Room only shrinks, so a sheet that
   * has none for it is not looked at again: thousands alike would else search thousands of full
   * sheets each.
   */
  placeAll(blocks: readonly Block[], count: number): void {
    const hasRoom = (k: number): boolean =>
      this.sheets[k]!.spaces.some((space) =>
        blocks.some((block) => block.w <= space.w && block.h <= space.h)
      );
    let roomy = this.seen.filter(hasRoom);
    for (let placed = 0; placed < count; placed++) {
      const before = this.sheets.length;
      this.place(blocks, null, roomy);
      if (this.sheets.length > before) roomy.push(before);
      roomy = roomy.filter(hasRoom);
    }
  }

  /**
   * Covers a stretch of a run: from one end, always the longest rip that goes in for nothing, else
   * the one that costs least for its length. `backward` starts at the far end.
   */
  cover(stretch: Stretch, backward: boolean, skip: (() => boolean) | null): void {
    const { shop } = this;
    let at = backward ? stretch.to : stretch.from;
    const end = backward ? stretch.from : stretch.to;
    while (at !== end) {
      const all = (backward ? shop.arcsTo : shop.arcsFrom)[stretch.run]![at]!;
      const leavesCover = (arc: Arc): boolean =>
        backward
          ? shop.coverable(stretch.run, stretch.from, arc.from)
          : shop.coverable(stretch.run, arc.to, stretch.to);
      const arcs = all.every(leavesCover) ? all : all.filter(leavesCover);
      const spot = this.findRip(stretch.run, arcs, skip);
      this.put(spot);
      at = backward ? spot.block.from : spot.block.to;
    }
  }

  /**
   * The longest of these rips (shortest first) that goes in for nothing, else the one that costs
   * least for its length.
   */
  private findRip(run: number, arcs: readonly Arc[], skip: (() => boolean) | null): Spot {
    const { shop } = this;
    const { model } = shop;
    const joints = model.runs[run]!.joints;
    const { height } = model.runs[run]!;
    const lengths = arcs.map((arc) => joints[arc.to]! - joints[arc.from]!);
    let bestArc = -1;
    let bestSheet = -1;
    let bestSpace: Space | null = null;
    let bestAdded = 0;
    let bestWaste = Infinity;
    let bestAcross = false;
    const consider = (
      k: number,
      space: Space | null,
      arc: number,
      added: number,
      waste: number,
      across: boolean
    ): void => {
      // Cost for length: crosswise products keep zero cost comparable.
      const better =
        bestArc < 0 ||
        (added <= 0 && bestAdded <= 0
          ? arc > bestArc || (arc === bestArc && waste < bestWaste)
          : added * lengths[bestArc]! < bestAdded * lengths[arc]! ||
            (added * lengths[bestArc]! === bestAdded * lengths[arc]! &&
              (arc > bestArc || (arc === bestArc && waste < bestWaste))));
      if (!better || (skip && skip())) return;
      bestArc = arc;
      bestSheet = k;
      bestSpace = space;
      bestAdded = added;
      bestWaste = waste;
      bestAcross = across;
    };
    const shortest = lengths[0]!;
    for (const k of this.seen) {
      const sheet = this.sheets[k]!;
      this.work += 1 + sheet.spaces.length;
      for (const space of sheet.spaces) {
        if (space.w >= height && space.h >= shortest) {
          if (sheet.scrap >= 0) {
            const arc = lastUpTo(lengths, space.h);
            consider(k, space, arc, 0, space.w - height, false);
          } else {
            // As far as the panel reaches now, and as far as each longer one would.
            let tried = -1;
            for (const length of shop.lengths) {
              if (length < sheet.reach) continue;
              const most = Math.min(space.h, shop.lengthTo(length) - space.y);
              const arc = lastUpTo(lengths, most);
              if (arc <= tried) continue;
              tried = arc;
              const reach = Math.max(sheet.reach, space.y + lengths[arc]!);
              const added = shop.costTo(reach) - this.costs[k]!;
              const waste = Math.min(space.w - height, most - lengths[arc]!);
              consider(k, space, arc, added, waste, false);
            }
          }
        }
        if (model.canTurn && space.h >= height && space.w >= shortest) {
          const arc = lastUpTo(lengths, space.w);
          const reach = Math.max(sheet.reach, space.y + height);
          const added = sheet.scrap >= 0 ? 0 : shop.costTo(reach) - this.costs[k]!;
          consider(k, space, arc, added, space.w - lengths[arc]!, true);
        }
      }
    }
    if (bestArc < lengths.length - 1 || bestAdded > 0) {
      for (const item of model.scrap) {
        if (!this.scrapLeft[item.index]) continue;
        const sheet = -2 - item.index;
        if (item.w >= height && item.h >= shortest) {
          const arc = lastUpTo(lengths, item.h);
          consider(sheet, null, arc, 0, item.w * item.h, false);
        }
        if (model.canTurn && item.h >= height && item.w >= shortest) {
          const arc = lastUpTo(lengths, item.w);
          consider(sheet, null, arc, 0, item.w * item.h, true);
        }
      }
    }
    if (bestArc < 0 || bestAdded > 0) {
      // A new panel: the longest rip one of each length takes, whichever way costs less for the length.
      if (height <= model.width) {
        for (const length of shop.lengths) {
          const arc = lastUpTo(lengths, length);
          if (arc >= 0) consider(-1, null, arc, shop.costTo(lengths[arc]!), 0, false);
        }
      }
      if (model.canTurn && height <= model.longest) {
        const arc = lastUpTo(lengths, model.width);
        if (arc >= 0) consider(-1, null, arc, shop.costTo(height), 0, true);
      }
    }
    if (bestArc < 0) return this.newPanel(shop.ripBlocks(run, arcs[0]!.from, arcs[0]!.to));
    const arc = arcs[bestArc]!;
    const turned = bestAcross ? 0 : 90;
    const block = shop.ripBlocks(run, arc.from, arc.to).find((one) => one.turned === turned);
    return {
      sheet: bestSheet,
      space: bestSpace,
      block: block ?? shop.ripBlocks(run, arc.from, arc.to)[0]!,
      added: bestAdded,
    };
  }

  /** Takes in a sheet cut elsewhere. */
  adopt(sheet: Sheet): void {
    this.sheets.push(sheet);
    this.seen.push(this.sheets.length - 1);
    this.own.push(false);
    this.costs.push(sheet.scrap >= 0 ? 0 : this.shop.costTo(sheet.reach));
  }

  /** The sheets that hold anything. */
  result(): Sheet[] {
    return this.sheets.filter((sheet) => sheet.blocks > 0);
  }
}

/** Place of the last of ascending sizes not above a limit; -1 where all are. */
function lastUpTo(sizes: readonly number[], limit: number): number {
  let low = 0;
  let high = sizes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sizes[middle]! <= limit) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** Puts everything left to place into the filling: tallest pieces first, then the runs. */
export function fillRest(
  filling: Filling,
  counts: ArrayLike<number>,
  stretches: readonly Stretch[]
): void {
  const { shop } = filling;
  const { types, runs } = shop.model;
  const order = types.filter((type) => counts[type.index]! > 0);
  order.sort(
    (a, b) =>
      Math.max(b.left, b.right) - Math.max(a.left, a.right) || b.w - a.w || a.index - b.index
  );
  for (const type of order) {
    filling.placeAll(shop.blocks[type.index]!, counts[type.index]!);
  }
  const rest = [...stretches].sort(
    (a, b) => runs[b.run]!.height - runs[a.run]!.height || a.run - b.run || a.from - b.from
  );
  for (const stretch of rest) filling.cover(stretch, false, null);
}
