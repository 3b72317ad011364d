/**
 * Joints of rips away from the panel seams above, at the same cost and with as many rips: two neighbors whose joint
 * stands too near a seam are taken out and put back with their joint elsewhere.
 */
import { Filling, type Shop } from "./fill.js";
import {
  MOST_LOOKS,
  MOST_TRIES,
  type Placed,
  costsNoMore,
  ripsOf,
  withoutRips,
} from "./join-rips.js";
import type { RunItem } from "./prepare.js";
import type { Sheet } from "./sheet.js";

/** Marks and seams are each put on the grid of the plan: together they may miss each other by this much, units. */
const GRID_SLACK = 2;

/** Whether a joint is one stud space away from every seam above. */
function isClear(run: RunItem, joint: number): boolean {
  return run.seamGap[joint]! >= run.smallest - GRID_SLACK;
}

/** Joints two neighbors could meet at instead, those nearest to where they meet now first. */
function clearJoints(shop: Shop, run: RunItem, from: number, now: number, to: number): number[] {
  const reached = new Set(shop.arcsFrom[run.index]![from]!.map((arc) => arc.to));
  const reaching = new Set(shop.arcsTo[run.index]![to]!.map((arc) => arc.from));
  const found: number[] = [];
  for (let joint = from + 1; joint < to; joint++) {
    if (joint !== now && isClear(run, joint) && reached.has(joint) && reaching.has(joint)) {
      found.push(joint);
    }
  }
  const away = (joint: number): number => Math.abs(run.joints[joint]! - run.joints[now]!);
  return found.sort((a, b) => away(a) - away(b) || a - b);
}

/** The plan with two neighbors meeting at another joint; null where that costs more. */
function moved(
  shop: Shop,
  sheets: readonly Sheet[],
  [first, second]: readonly [Placed, Placed],
  joint: number
): Sheet[] | null {
  const { run, from } = first.block;
  const { to } = second.block;
  const { left, scrapFree } = withoutRips(shop, sheets, [first, second]);
  const filling = new Filling(shop, left, scrapFree);
  const { joints } = shop.model.runs[run]!;
  const parts = [
    [from, joint],
    [joint, to],
  ].sort(([a, b], [c, d]) => joints[d!]! - joints[c!]! - (joints[b!]! - joints[a!]!));
  for (const [start, end] of parts) filling.place(shop.ripBlocks(run, start!, end!), null);
  const result = filling.result();
  return costsNoMore(shop, result, sheets) ? result : null;
}

/** The same plan, or one of the same cost and number of rips, with fewer joints near a seam. */
export function clearJointsOfSeams(shop: Shop, start: readonly Sheet[]): Sheet[] {
  let sheets = [...start];
  let tries = 0;
  for (const run of shop.model.runs) {
    let rips = ripsOf(sheets, run.index);
    for (let k = 0; k + 1 < rips.length; k++) {
      const pair = [rips[k]!, rips[k + 1]!] as const;
      const now = pair[0].block.to;
      if (isClear(run, now)) continue;
      for (const joint of clearJoints(shop, run, pair[0].block.from, now, pair[1].block.to)) {
        if (++tries > MOST_TRIES || tries * sheets.length > MOST_LOOKS) return sheets;
        const better = moved(shop, sheets, pair, joint);
        if (!better) continue;
        sheets = better;
        rips = ripsOf(sheets, run.index);
        break;
      }
    }
  }
  return sheets;
}
