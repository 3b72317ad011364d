/**
 * Fewer and longer rips at the same cost: neighbors in a run are taken out together and covered
 * anew with the longest rips that go in for nothing. Every joint saved is a joint not cut, not
 * nailed and not taped.
 */
import type { Block } from "./blocks.js";
import { Filling, type Shop } from "./fill.js";
import { longestRip } from "./prepare.js";
import { type Sheet, dropBlocks, listBlocks } from "./sheet.js";

/** Most neighbors taken out together; after them, the whole run. */
const TOGETHER = 4;

/** Most tries for one plan, and most sheets looked at in all of them. */
export const MOST_TRIES = 3000;
export const MOST_LOOKS = 1_200_000;

/** A rip in the plan, and the place of its sheet. */
export interface Placed {
  readonly block: Block;
  readonly sheet: number;
}

/** The rips of a run, from its start on. */
export function ripsOf(sheets: readonly Sheet[], run: number): Placed[] {
  const found: Placed[] = [];
  sheets.forEach((sheet, index) => {
    if (sheet.rips === 0) return;
    const blocks: Block[] = [];
    listBlocks(sheet.root, blocks);
    for (const block of blocks) if (block.run === run) found.push({ block, sheet: index });
  });
  return found.sort((a, b) => a.block.from - b.block.from);
}

/** The plan without some rips, and the scraps that are whole then. */
export function withoutRips(
  shop: Shop,
  sheets: readonly Sheet[],
  rips: readonly Placed[]
): { left: Sheet[]; scrapFree: boolean[] } {
  const { model } = shop;
  const out = new Set(rips.map(({ block }) => block));
  const touched = new Set(rips.map(({ sheet }) => sheet));
  const scrapFree = model.scrap.map(() => true);
  const left: Sheet[] = [];
  sheets.forEach((sheet, index) => {
    const rest = touched.has(index)
      ? dropBlocks(sheet, (block) => out.has(block), [], model.kerf, shop.least)
      : sheet;
    if (rest.blocks === 0) return;
    if (rest.scrap >= 0) scrapFree[rest.scrap] = false;
    left.push(rest);
  });
  return { left, scrapFree };
}

function costOf(shop: Shop, sheets: readonly Sheet[]): number {
  let cost = 0;
  for (const sheet of sheets) if (sheet.scrap < 0) cost += shop.costTo(sheet.reach);
  return cost;
}

/** Whether one plan costs no more than another. */
export function costsNoMore(shop: Shop, sheets: readonly Sheet[], than: readonly Sheet[]): boolean {
  return costOf(shop, sheets) <= costOf(shop, than) + 1e-9;
}

function ripCount(sheets: readonly Sheet[]): number {
  return sheets.reduce((sum, sheet) => sum + sheet.rips, 0);
}

/** The plan with some neighboring rips covered anew; null where that saves no rip or costs more. */
function joined(
  shop: Shop,
  sheets: readonly Sheet[],
  rips: readonly Placed[],
  backward: boolean
): Sheet[] | null {
  const { left, scrapFree } = withoutRips(shop, sheets, rips);
  const first = rips[0]!.block;
  const last = rips[rips.length - 1]!.block;
  const filling = new Filling(shop, left, scrapFree);
  filling.cover({ run: first.run, from: first.from, to: last.to }, backward, null);
  const result = filling.result();
  if (ripCount(result) >= ripCount(sheets)) return null;
  return costsNoMore(shop, result, sheets) ? result : null;
}

/** The same plan or one of the same cost, or less, with fewer rips. */
export function joinRips(shop: Shop, start: readonly Sheet[]): Sheet[] {
  let sheets = [...start];
  let tries = 0;
  for (const run of shop.model.runs) {
    let rips = ripsOf(sheets, run.index);
    const longest = longestRip(run.height, shop.model);
    for (let size = 2; size <= TOGETHER + 1; size++) {
      const many = size > TOGETHER ? rips.length : size;
      for (let k = 0; k + many <= rips.length; k++) {
        const length = run.joints[rips[k + many - 1]!.block.to]! - run.joints[rips[k]!.block.from]!;
        // Fewer rips than these could not be long enough.
        if (length > (many - 1) * longest) continue;
        for (const backward of [false, true]) {
          if (++tries > MOST_TRIES || tries * sheets.length > MOST_LOOKS) return sheets;
          const better = joined(shop, sheets, rips.slice(k, k + many), backward);
          if (!better) continue;
          sheets = better;
          rips = ripsOf(sheets, run.index);
          // From the start again: what came free may let others join.
          size = 1;
          break;
        }
        if (size === 1) break;
      }
    }
  }
  return sheets;
}
