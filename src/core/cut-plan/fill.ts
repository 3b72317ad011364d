/**
 * Best-fit filling: puts one block after another where it costs least and wastes least.
 */
import { type Block, pieceBlock, ripBlock } from "./blocks.js";
import {
  type Model,
  type PieceType,
  type RunItem,
  longestRip,
  ripWays,
  shortestRip,
} from "./prepare.js";
import { type Sheet, type Space, listSpaces, newSheet, putBlock, stockFor } from "./sheet.js";

/** Sheets being filled, with their open spaces kept at hand. */
export class Filling {
  readonly sheets: Sheet[] = [];
  private readonly spaces: Space[][] = [];
  private readonly costs: number[] = [];
  private readonly scrapLeft: boolean[];

  constructor(readonly model: Model) {
    this.scrapLeft = model.scrap.map(() => true);
  }

  /** Cost of a panel that reaches so far up; 0 for nothing. */
  private costTo(reach: number): number {
    return reach === 0 ? 0 : this.model.stock[stockFor(this.model, reach)]!.cost;
  }

  private lengthTo(reach: number): number {
    return reach === 0 ? 0 : this.model.stock[stockFor(this.model, reach)]!.length;
  }

  private open(scrap: number): number {
    const { model } = this;
    const at =
      scrap < 0
        ? newSheet(-1, model.width, model.longest)
        : newSheet(scrap, model.scrap[scrap]!.w, model.scrap[scrap]!.h);
    this.sheets.push(at);
    const found: Space[] = [];
    listSpaces(at.root, model.kerf, found);
    this.spaces.push(found);
    this.costs.push(0);
    return this.sheets.length - 1;
  }

  private put(sheetIndex: number, space: Space, block: Block): void {
    const sheet = this.sheets[sheetIndex]!;
    putBlock(sheet, space, block);
    const found: Space[] = [];
    listSpaces(sheet.root, this.model.kerf, found);
    this.spaces[sheetIndex] = found;
    this.costs[sheetIndex] = sheet.scrap >= 0 ? 0 : this.costTo(sheet.reach);
  }

  /**
   * Best space for any of the blocks (all ways of laying one thing), by added cost and then by the
   * narrower of the two strips left beside it. Null where no open sheet holds it.
   */
  private find(
    blocks: readonly Block[]
  ): { sheet: number; space: Space; block: Block; added: number } | null {
    let best: { sheet: number; space: Space; block: Block; added: number } | null = null;
    let bestWaste = Infinity;
    for (let k = 0; k < this.sheets.length; k++) {
      const sheet = this.sheets[k]!;
      for (const space of this.spaces[k]!) {
        for (const block of blocks) {
          if (block.w > space.w || block.h > space.h) continue;
          let added = 0;
          let height = space.h;
          if (sheet.scrap < 0) {
            const reach = Math.max(sheet.reach, space.y + block.h);
            added = this.costTo(reach) - this.costs[k]!;
            height = Math.min(height, this.lengthTo(reach) - space.y);
          }
          const waste = Math.min(space.w - block.w, height - block.h);
          if (best === null || added < best.added || (added === best.added && waste < bestWaste)) {
            best = { sheet: k, space, block, added };
            bestWaste = waste;
          }
        }
      }
    }
    return best;
  }

  /** Smallest unused scrap that holds one of the blocks. */
  private findScrap(blocks: readonly Block[]): { scrap: number; block: Block } | null {
    let best: { scrap: number; block: Block } | null = null;
    let bestArea = Infinity;
    for (const item of this.model.scrap) {
      if (!this.scrapLeft[item.index]) continue;
      const area = item.w * item.h;
      if (area >= bestArea) continue;
      const block = blocks.find((one) => one.w <= item.w && one.h <= item.h);
      if (block) {
        best = { scrap: item.index, block };
        bestArea = area;
      }
    }
    return best;
  }

  /** Places the block for nothing if some open sheet or scrap has room. */
  tryFree(blocks: readonly Block[]): Block | null {
    const found = this.find(blocks);
    if (found && found.added <= 0) {
      this.put(found.sheet, found.space, found.block);
      return found.block;
    }
    const scrap = this.findScrap(blocks);
    if (scrap) {
      this.scrapLeft[scrap.scrap] = false;
      const sheet = this.open(scrap.scrap);
      this.put(sheet, this.spaces[sheet]![0]!, scrap.block);
      return scrap.block;
    }
    return null;
  }

  /** Places the block where it adds least cost: an open sheet, a scrap, or a new panel. */
  place(blocks: readonly Block[]): Block {
    const free = this.tryFree(blocks);
    if (free) return free;
    const found = this.find(blocks);
    let block = blocks[0]!;
    for (const one of blocks) if (this.costTo(one.h) < this.costTo(block.h)) block = one;
    if (found && found.added <= this.costTo(block.h)) {
      this.put(found.sheet, found.space, found.block);
      return found.block;
    }
    const sheet = this.open(-1);
    this.put(sheet, this.spaces[sheet]![0]!, block);
    return block;
  }
}

/** Joint numbers from which the rest of the run can be covered. */
export function finishable(run: RunItem, longest: number): boolean[] {
  const shortest = shortestRip(run);
  const last = run.joints.length - 1;
  const can = new Array<boolean>(last + 1).fill(false);
  can[last] = true;
  for (let from = last - 1; from >= 0; from--) {
    for (let to = from + 1; to <= last; to++) {
      const length = run.joints[to]! - run.joints[from]!;
      if (length > longest) break;
      if (can[to] && length >= shortest) {
        can[from] = true;
        break;
      }
    }
  }
  return can;
}

function coverRun(filling: Filling, run: RunItem): void {
  const { model } = filling;
  const longest = longestRip(run.height, model);
  const shortest = shortestRip(run);
  const can = finishable(run, longest);
  const last = run.joints.length - 1;
  let from = 0;
  while (from < last) {
    let placed: Block | null = null;
    let far: Block[] | null = null;
    for (let to = last; to > from && !placed; to--) {
      const length = run.joints[to]! - run.joints[from]!;
      if (length > longest || length < shortest || !can[to]) continue;
      const blocks = ripWays(run.height, length, model).map((way) => ripBlock(run, from, to, way));
      if (blocks.length === 0) continue;
      far ??= blocks;
      placed = filling.tryFree(blocks);
    }
    placed ??= filling.place(far!);
    from = placed.to;
  }
}

/** A first plan: tallest pieces first, then the runs, highest first. */
export function fillSimply(model: Model): Sheet[] {
  const filling = new Filling(model);
  const order: PieceType[] = [...model.types].sort(
    (a, b) =>
      Math.max(b.left, b.right) - Math.max(a.left, a.right) || b.w - a.w || a.index - b.index
  );
  for (const type of order) {
    const blocks = type.ways.map((way) => pieceBlock(type, way));
    for (let k = 0; k < type.ids.length; k++) filling.place(blocks);
  }
  const runs = [...model.runs].sort((a, b) => b.height - a.height || a.index - b.index);
  for (const run of runs) coverRun(filling, run);
  return filling.sheets;
}
