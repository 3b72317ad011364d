/**
 * One panel or scrap being filled, as a tree of straight edge-to-edge cuts. Lengths in units.
 *
 * A part of the sheet is empty, holds one block in its lower left corner, or is cut in two. Which
 * way the rest of a part with a block is cut (the strip at its right, or the strip above) stays
 * open until a second block needs one of them.
 */
import type { Block } from "./blocks.js";
import type { Model } from "./prepare.js";

export interface Part {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
  /** block in the lower left corner; null where empty or cut in two */
  block: Block | null;
  /** how it is cut in two: not at all, by a plumb cut, by a level cut */
  cut: "none" | "plumb" | "level";
  /** the part left of, or below, the cut */
  first: Part | null;
  /** the part right of, or above, the cut; null where the cut leaves nothing */
  second: Part | null;
}

export interface Sheet {
  /** index of the scrap; -1 for a panel, which is planned at the longest length and shortened */
  readonly scrap: number;
  readonly w: number;
  readonly h: number;
  readonly root: Part;
  /** how far up blocks reach */
  reach: number;
  blocks: number;
}

export function newPart(x: number, y: number, w: number, h: number): Part {
  return { x, y, w, h, block: null, cut: "none", first: null, second: null };
}

export function newSheet(scrap: number, w: number, h: number): Sheet {
  return { scrap, w, h, root: newPart(0, 0, w, h), reach: 0, blocks: 0 };
}

/** A place a block may go: an empty part, or the strip at the right of, or above, a block. */
export interface Space {
  readonly part: Part;
  readonly side: "all" | "right" | "above";
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/** Adds every space of the part to the list. */
export function listSpaces(part: Part, kerf: number, found: Space[]): void {
  if (part.cut !== "none") {
    if (part.first) listSpaces(part.first, kerf, found);
    if (part.second) listSpaces(part.second, kerf, found);
    return;
  }
  const { x, y, w, h, block } = part;
  if (!block) {
    found.push({ part, side: "all", x, y, w, h });
    return;
  }
  const right = w - block.w - kerf;
  if (right > 0) {
    found.push({ part, side: "right", x: x + block.w + kerf, y, w: right, h });
  }
  const above = h - block.h - kerf;
  if (above > 0) {
    found.push({ part, side: "above", x, y: y + block.h + kerf, w, h: above });
  }
}

/** Puts a block into a space of the sheet; the space must hold it. */
export function putBlock(sheet: Sheet, space: Space, block: Block): void {
  const { part } = space;
  if (space.side === "all") {
    part.block = block;
  } else {
    const held = part.block!;
    const second = newPart(space.x, space.y, space.w, space.h);
    second.block = block;
    const first =
      space.side === "right"
        ? newPart(part.x, part.y, held.w, part.h)
        : newPart(part.x, part.y, part.w, held.h);
    first.block = held;
    part.cut = space.side === "right" ? "plumb" : "level";
    part.block = null;
    part.first = first;
    part.second = second;
  }
  sheet.reach = Math.max(sheet.reach, space.y + block.h);
  sheet.blocks++;
}

export function copySheet(sheet: Sheet): Sheet {
  return { ...sheet, root: copyPart(sheet.root) };
}

function copyPart(part: Part): Part {
  return {
    ...part,
    first: part.first && copyPart(part.first),
    second: part.second && copyPart(part.second),
  };
}

export function listBlocks(part: Part, found: Block[]): void {
  if (part.block) found.push(part.block);
  if (part.first) listBlocks(part.first, found);
  if (part.second) listBlocks(part.second, found);
}

/** Cheapest panel that reaches at least so far up: its place in the stock list. */
export function stockFor(model: Model, reach: number): number {
  let best = -1;
  for (const item of model.stock) {
    if (item.length < reach) continue;
    if (best < 0) best = item.index;
    else {
      const known = model.stock[best]!;
      if (item.cost < known.cost || (item.cost === known.cost && item.length > known.length)) {
        best = item.index;
      }
    }
  }
  return best;
}

export function sheetCost(model: Model, sheet: Sheet): number {
  if (sheet.scrap >= 0 || sheet.blocks === 0) return 0;
  return model.stock[stockFor(model, sheet.reach)]!.cost;
}
