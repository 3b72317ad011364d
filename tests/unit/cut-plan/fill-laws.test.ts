/** Every spot chosen in random fillings, against all spots there are. */
import fc from "fast-check";
import type { Block } from "../../../src/core/cut-plan/blocks.js";
import { Filling, Shop, type Spot } from "../../../src/core/cut-plan/fill.js";
import type { Space } from "../../../src/core/cut-plan/sheet.js";
import { type SmallProblem, law, modelOf, smallProblems } from "./small-problems.js";

/** What a panel costs that reaches so far, and how long it is: of two at one price the longer. */
function panelTo(small: SmallProblem, reach: number): { cost: number; length: number } {
  let found = { cost: Infinity, length: 0 };
  if (reach === 0) return { cost: 0, length: 0 };
  for (const [length, cost] of small.stock) {
    if (length < reach) continue;
    if (cost < found.cost || (cost === found.cost && length > found.length)) {
      found = { cost, length };
    }
  }
  return found;
}

interface Candidate {
  readonly added: number;
  readonly waste: number;
  readonly block: Block;
}

/** What putting the block there adds to the cost, and the narrower of the strips it leaves. */
function candidate(
  small: SmallProblem,
  sheet: Filling["sheets"][number],
  space: Space,
  block: Block
): Candidate | null {
  if (block.w > space.w || block.h > space.h) return null;
  const beside = space.w - block.w;
  if (sheet.scrap >= 0) return { added: 0, waste: Math.min(beside, space.h - block.h), block };
  const reach = Math.max(sheet.reach, space.y + block.h);
  const panel = panelTo(small, reach);
  return {
    added: panel.cost - panelTo(small, sheet.reach).cost,
    waste: Math.min(beside, Math.min(space.h, panel.length - space.y) - block.h),
    block,
  };
}

function candidates(small: SmallProblem, filling: Filling, blocks: readonly Block[]): Candidate[] {
  return filling.sheets.flatMap((sheet) =>
    sheet.spaces.flatMap((space) =>
      blocks.flatMap((block) => candidate(small, sheet, space, block) ?? [])
    )
  );
}

const least = (numbers: readonly number[]): number => Math.min(Infinity, ...numbers);

/** Fillings of the pieces, some each on a panel of its own, as the bits say. */
function begun(small: SmallProblem, bits: readonly boolean[]): Filling {
  const shop = new Shop(modelOf(small));
  const filling = new Filling(
    shop,
    [],
    shop.model.scrap.map((_, k) => bits[k] ?? false)
  );
  let at = 0;
  for (const type of shop.model.types) {
    for (let k = 0; k < type.ids.length; k++) {
      const blocks = shop.blocks[type.index]!;
      if (bits[at++ % bits.length]) filling.put(filling.newPanel(blocks));
      else filling.place(blocks, null);
    }
  }
  return filling;
}

const bits = fc.array(fc.boolean(), { minLength: 3, maxLength: 8 });

describe("the spot for a piece", () => {
  it("adds least of all spots, then wastes least; whole scrap is taken before it costs anything", () => {
    let inScrap = 0;
    let dearer = 0;
    fc.assert(
      fc.property(smallProblems, bits, (small, which) => {
        const filling = begun(small, which);
        const { shop } = filling;
        for (const blocks of shop.blocks) {
          const all = candidates(small, filling, blocks);
          const spot = filling.find(blocks, null);
          const added = least(all.map((one) => one.added));
          const whole = shop.model.scrap
            .filter(
              ({ index, w, h }) =>
                filling.scrapLeft[index] && blocks.some((one) => one.w <= w && one.h <= h)
            )
            .map(({ w, h }) => w * h);
          if (added > 0 && whole.length > 0) {
            inScrap++;
            const { w, h } = shop.model.scrap[-2 - spot!.sheet]!;
            expect([spot!.added, w * h]).toEqual([0, least(whole)]);
          } else if (all.length === 0) expect(spot).toBeNull();
          else {
            if (added > 0) dearer++;
            const own = candidate(small, filling.sheets[spot!.sheet]!, spot!.space!, spot!.block)!;
            expect([spot!.added, own.added]).toEqual([added, added]);
            expect(own.waste).toBe(
              least(all.filter((one) => one.added === added).map((one) => one.waste))
            );
          }
        }
      }),
      law(91, 300)
    );
    expect(inScrap).toBeGreaterThan(10);
    expect(dearer).toBeGreaterThan(10);
  });
});

describe("the spot for a rip", () => {
  const lengthOf = (block: Block): number => (block.turned === 90 ? block.h : block.w);
  /** Checks the spot against all there are; says of which kind it is. */
  function check(small: SmallProblem, filling: Filling, spot: Spot, backward: boolean): string {
    const { shop } = filling;
    const { run, from, to } = spot.block;
    const last = shop.model.runs[run]!.joints.length - 1;
    const arcs = backward
      ? shop.arcsTo[run]![to]!.filter((arc) => shop.coverable(run, 0, arc.from))
      : shop.arcsFrom[run]![from]!.filter((arc) => shop.coverable(run, arc.to, last));
    const blocks = arcs.flatMap((arc) => shop.ripBlocks(run, arc.from, arc.to));
    const open = candidates(small, filling, blocks);
    const whole = shop.model.scrap
      .filter(({ index }) => filling.scrapLeft[index])
      .flatMap(({ w, h }) =>
        blocks
          .filter((block) => block.w <= w && block.h <= h)
          .map((block): Candidate => ({ added: 0, waste: w * h, block }))
      );
    const longest = (list: readonly Candidate[]): number =>
      Math.max(-1, ...list.map(({ block }) => lengthOf(block)));
    const free = [...open, ...whole].filter(({ added }) => added <= 0);
    const length = lengthOf(spot.block);
    /** Of open spots for a rip of this length at this cost the strip beside it is the narrowest there is. */
    const expectNarrowest = (): void => {
      const own = stripBeside(small, filling.sheets[spot.sheet]!, spot.space!, spot.block);
      const strips = filling.sheets.flatMap((sheet) =>
        sheet.spaces.flatMap((space) =>
          blocks
            .filter((block) => lengthOf(block) === length)
            .filter((block) => candidate(small, sheet, space, block)?.added === spot.added)
            .map((block) => stripBeside(small, sheet, space, block))
        )
      );
      expect(own).toBe(least(strips));
    };
    if (free.length > 0) {
      expect([spot.added, length]).toEqual([0, longest(free)]);
      if (spot.sheet < -1) {
        const { w, h } = shop.model.scrap[-2 - spot.sheet]!;
        expect(spot.block.w <= w && spot.block.h <= h).toBe(true);
        // the smallest that holds it
        const same = whole.filter(({ block }) => lengthOf(block) === length);
        expect(w * h).toBe(least(same.map(({ waste }) => waste)));
        return "whole scrap";
      }
      const own = candidate(small, filling.sheets[spot.sheet]!, spot.space!, spot.block)!;
      expect(own.added).toBe(0);
      expectNarrowest();
      return "free";
    }
    // of new panels the longest rip each way
    const fresh = [90, 0].flatMap((turned): Candidate[] => {
      const fitting = blocks.filter(
        (one) =>
          one.turned === turned && one.w <= small.width && panelTo(small, one.h).cost < Infinity
      );
      const block = fitting.sort((a, b) => lengthOf(b) - lengthOf(a))[0];
      return block ? [{ added: panelTo(small, block.h).cost, waste: 0, block }] : [];
    });
    const all = [...open, ...fresh];
    const rate = least(all.map(({ added, block }) => added / lengthOf(block)));
    const best = all.filter(({ added, block }) => added / lengthOf(block) <= rate + 1e-12);
    expect(spot.added / length).toBeCloseTo(rate, 9);
    expect(length).toBe(longest(best));
    if (spot.sheet === -1) return "new panel";
    expectNarrowest();
    return "longer panel";
  }
  /** Beside a rip along the panel the narrower of two strips, in scrap and across that at its side. */
  function stripBeside(
    small: SmallProblem,
    sheet: Filling["sheets"][number],
    space: Space,
    block: Block
  ): number {
    if (sheet.scrap >= 0 || block.turned === 0) return space.w - block.w;
    return candidate(small, sheet, space, block)!.waste;
  }

  it.each([false, true])(
    "holds the longest that costs nothing, else the one that costs least for its length; backward: %s",
    (backward) => {
      const kinds = new Map<string, number>();
      fc.assert(
        fc.property(smallProblems, bits, (small, which) => {
          const filling = begun(small, which);
          const put = filling.put.bind(filling);
          filling.put = (spot): void => {
            const kind = check(small, filling, spot, backward);
            kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
            put(spot);
          };
          filling.shop.model.runs.forEach(({ index, joints }) =>
            filling.cover({ run: index, from: 0, to: joints.length - 1 }, backward, null)
          );
        }),
        law(92, 400)
      );
      // all four kinds came up
      expect([...kinds.keys()].sort()).toEqual([
        "free",
        "longer panel",
        "new panel",
        "whole scrap",
      ]);
      expect(least([...kinds.values()])).toBeGreaterThan(4);
    }
  );
});
