/**
 * Scraps by size, as the master problem sees them: few sizes, each with how many there are.
 */
import type { ScrapItem } from "./prepare.js";

export interface ScrapGroup {
  readonly w: number;
  readonly h: number;
  readonly count: number;
}

/** Scraps of different sizes told apart; more are merged, to the larger size. */
const MOST_SCRAP_SIZES = 150;

/** Groups of one size put together. */
function merged(groups: Iterable<ScrapGroup>): ScrapGroup[] {
  const byKey = new Map<string, { w: number; h: number; count: number }>();
  for (const { w, h, count } of groups) {
    const key = `${w}/${h}`;
    const known = byKey.get(key);
    if (known) known.count += count;
    else byKey.set(key, { w, h, count });
  }
  return [...byKey.values()];
}

/** The sizes of scraps: merged ones are never smaller than what they stand for. */
export function groupScrap(scrap: readonly ScrapItem[]): ScrapGroup[] {
  let groups = merged(scrap.map(({ w, h }) => ({ w, h, count: 1 })));
  // Very many sizes are first rounded up, so that comparing all pairs stays quick.
  for (let step = 64; groups.length > 8 * MOST_SCRAP_SIZES && step < 1 << 24; step *= 2) {
    const up = (size: number): number => Math.ceil(size / step) * step;
    groups = merged(groups.map(({ w, h, count }) => ({ w: up(w), h: up(h), count })));
  }
  // Then the two sizes that gain least area by being taken as equally large are merged.
  while (groups.length > MOST_SCRAP_SIZES) {
    let best = Infinity;
    let at = [0, 1];
    for (let i = 0; i < groups.length; i++) {
      for (let j = i + 1; j < groups.length; j++) {
        const a = groups[i]!;
        const b = groups[j]!;
        const area = Math.max(a.w, b.w) * Math.max(a.h, b.h);
        const gain = a.count * (area - a.w * a.h) + b.count * (area - b.w * b.h);
        if (gain < best) {
          best = gain;
          at = [i, j];
        }
      }
    }
    const [a, b] = [groups[at[0]!]!, groups[at[1]!]!];
    groups = groups.filter((one) => one !== a && one !== b);
    groups.push({ w: Math.max(a.w, b.w), h: Math.max(a.h, b.h), count: a.count + b.count });
  }
  return groups;
}

/** The smallest of the sizes told apart that a scrap goes into: its own where none are merged. */
export function scrapGroupOf(
  groups: readonly ScrapGroup[],
  item: { readonly w: number; readonly h: number }
): number {
  let found = -1;
  let least = Infinity;
  groups.forEach(({ w, h }, k) => {
    if (w < item.w || h < item.h || w * h >= least) return;
    least = w * h;
    found = k;
  });
  return found;
}
