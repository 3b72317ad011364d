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
  /** how many of them are rips */
  rips: number;
  /** wood used */
  area: number;
  /** worth of its blocks */
  worth: number;
  /** places a block may go, those no block of the problem fits left out */
  spaces: Space[];
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

/**
 * The smallest blocks of a problem, none of which fits inside another, by rising width: a space that
 * holds none of them is waste.
 */
export type Least = readonly { readonly w: number; readonly h: number }[];

export function isOfUse(w: number, h: number, least: Least): boolean {
  for (let k = 0; k < least.length; k++) {
    const one = least[k]!;
    if (one.w > w) return false;
    if (one.h <= h) return true;
  }
  return false;
}

/** The smallest of the sizes, none of which fits inside another, by rising width. */
export function leastOf(sizes: readonly { readonly w: number; readonly h: number }[]): Least {
  const sorted = [...sizes].sort((a, b) => a.w - b.w || a.h - b.h);
  const kept: { w: number; h: number }[] = [];
  for (const { w, h } of sorted) {
    if (kept.length === 0 || h < kept[kept.length - 1]!.h) kept.push({ w, h });
  }
  return kept;
}

export function newPart(x: number, y: number, w: number, h: number): Part {
  return { x, y, w, h, block: null, cut: "none", first: null, second: null };
}

export function newSheet(scrap: number, w: number, h: number): Sheet {
  const root = newPart(0, 0, w, h);
  return {
    scrap,
    w,
    h,
    root,
    reach: 0,
    blocks: 0,
    rips: 0,
    area: 0,
    worth: 0,
    spaces: [{ part: root, side: "all", x: 0, y: 0, w, h }],
  };
}

/** Adds the spaces of one part that holds a block or is empty. */
function partSpaces(part: Part, kerf: number, least: Least, found: Space[]): void {
  const { x, y, w, h, block } = part;
  if (!block) {
    if (isOfUse(w, h, least)) found.push({ part, side: "all", x, y, w, h });
    return;
  }
  const right = w - block.w - kerf;
  if (right > 0 && isOfUse(right, h, least)) {
    found.push({ part, side: "right", x: x + block.w + kerf, y, w: right, h });
  }
  const above = h - block.h - kerf;
  if (above > 0 && isOfUse(w, above, least)) {
    found.push({ part, side: "above", x, y: y + block.h + kerf, w, h: above });
  }
}

/** Finds the spaces of a sheet afresh. */
export function findSpaces(sheet: Sheet, kerf: number, least: Least): void {
  const found: Space[] = [];
  const visit = (part: Part): void => {
    if (part.cut === "none") {
      partSpaces(part, kerf, least, found);
      return;
    }
    if (part.first) visit(part.first);
    if (part.second) visit(part.second);
  };
  visit(sheet.root);
  sheet.spaces = found;
}

/** Puts a block into a space of the sheet; the space must hold it. */
export function putBlock(
  sheet: Sheet,
  space: Space,
  block: Block,
  kerf: number,
  least: Least
): void {
  const { part } = space;
  const spaces = sheet.spaces.filter((other) => other.part !== part);
  if (space.side === "all") {
    part.block = block;
    partSpaces(part, kerf, least, spaces);
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
    partSpaces(first, kerf, least, spaces);
    partSpaces(second, kerf, least, spaces);
  }
  sheet.spaces = spaces;
  sheet.reach = Math.max(sheet.reach, space.y + block.h);
  sheet.blocks++;
  if (block.run >= 0) sheet.rips++;
  sheet.area += block.area;
  sheet.worth += block.worth;
}

/** A copy that may be filled further without changing the original. */
export function copySheet(sheet: Sheet): Sheet {
  const copies = new Map<Part, Part>();
  const copyPart = (part: Part): Part => {
    const copy = { ...part };
    copies.set(part, copy);
    if (part.first) copy.first = copyPart(part.first);
    if (part.second) copy.second = copyPart(part.second);
    return copy;
  };
  const root = copyPart(sheet.root);
  return {
    ...sheet,
    root,
    spaces: sheet.spaces.map((space) => ({ ...space, part: copies.get(space.part)! })),
  };
}

/** The sheet without some of its blocks; their places become spaces. Those dropped are listed. */
export function dropBlocks(
  sheet: Sheet,
  drop: (block: Block) => boolean,
  dropped: Block[],
  kerf: number,
  least: Least
): Sheet {
  const kept: Sheet = {
    ...sheet,
    root: sheet.root,
    reach: 0,
    blocks: 0,
    rips: 0,
    area: 0,
    worth: 0,
  };
  const prune = (part: Part): Part => {
    const { x, y, w, h, block } = part;
    if (block) {
      if (drop(block)) {
        dropped.push(block);
        return newPart(x, y, w, h);
      }
      kept.reach = Math.max(kept.reach, y + block.h);
      kept.blocks++;
      if (block.run >= 0) kept.rips++;
      kept.area += block.area;
      kept.worth += block.worth;
      return part;
    }
    if (part.cut === "none") return part;
    const first = prune(part.first!);
    const second = part.second && prune(part.second);
    const empty = (one: Part | null): boolean => !one || (one.cut === "none" && !one.block);
    if (empty(first) && empty(second)) return newPart(x, y, w, h);
    // A cut that parts a block from nothing need not be made there.
    if (empty(second) && first.block) return { ...newPart(x, y, w, h), block: first.block };
    return { ...part, first, second };
  };
  const root = prune(sheet.root);
  const result: Sheet = { ...kept, root };
  findSpaces(result, kerf, least);
  return result;
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
      // Of two at one price the longer leaves the larger offcut.
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
