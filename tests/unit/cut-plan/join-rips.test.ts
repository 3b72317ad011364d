/** Fewer and longer rips at the same cost. */
import { Filling, Shop } from "../../../src/core/cut-plan/fill.js";
import { joinRips } from "../../../src/core/cut-plan/join-rips.js";
import { planCost } from "../../../src/core/cut-plan/write-plan.js";
import { type Sheet, listBlocks } from "../../../src/core/cut-plan/sheet.js";
import type { Block } from "../../../src/core/cut-plan/blocks.js";
import { type SmallProblem, modelOf, solvedProblems } from "./small-problems.js";

const ripsOf = (sheets: readonly Sheet[]): string[] =>
  sheets
    .flatMap((sheet) => {
      const blocks: Block[] = [];
      listBlocks(sheet.root, blocks);
      return blocks.filter(({ run }) => run >= 0);
    })
    .sort((a, b) => a.run - b.run || a.from - b.from)
    .map(({ run, from, to }) => `${run}: ${from}-${to}`);

/** A plan of the given rips, each put where it costs least, after all pieces. */
function planOf(
  small: SmallProblem,
  rips: readonly (readonly [run: number, from: number, to: number])[],
  scrapFree?: boolean[]
): { shop: Shop; sheets: Sheet[] } {
  const model = modelOf(small);
  const shop = new Shop(model);
  const filling = new Filling(shop, [], scrapFree ?? model.scrap.map(() => true));
  for (const type of model.types) {
    for (let k = 0; k < type.ids.length; k++) filling.place(shop.blocks[type.index]!, null);
  }
  for (const [run, from, to] of rips) filling.place(shop.ripBlocks(run, from, to), null);
  return { shop, sheets: filling.result() };
}

const STOCK: SmallProblem["stock"] = [
  [20, 30],
  [12, 20],
];
const run = (joints: number[], smallest = 4, height = 3): NonNullable<SmallProblem["runs"]>[0] => ({
  height,
  joints,
  smallest,
});

describe("joining rips", () => {
  it("makes one rip of all that go into a panel together", () => {
    const small: SmallProblem = { width: 12, stock: STOCK, runs: [run([0, 4, 8, 12])] };
    const { shop, sheets } = planOf(small, [
      [0, 0, 1],
      [0, 1, 2],
      [0, 2, 3],
    ]);
    expect(ripsOf(sheets)).toHaveLength(3);
    const joined = joinRips(shop, sheets);
    expect(ripsOf(joined)).toEqual(["0: 0-3"]);
    expect(planCost(shop.model, joined)).toBe(20);
  });

  it("joins six where no fewer may be joined at a time", () => {
    // from 0, 4, 8 ... the smallest rip allowed is 4; one of 24 fits a panel of 24
    const joints = [0, 4, 8, 12, 16, 20, 24];
    const small: SmallProblem = { width: 12, stock: [[24, 30]], runs: [run(joints)] };
    const { shop, sheets } = planOf(
      small,
      joints.slice(1).map((_, k) => [0, k, k + 1] as const)
    );
    expect(ripsOf(joinRips(shop, sheets))).toEqual(["0: 0-6"]);
  });

  it("leaves rips that together would cost more", () => {
    // one of 8 beside the piece, one in a short panel: 28; one of 16 needs a long one, 30 beside 14
    const small: SmallProblem = {
      width: 12,
      stock: [
        [20, 30],
        [8, 14],
      ],
      pieces: [[9, 8]],
      runs: [run([0, 8, 16], 8)],
    };
    const { shop, sheets } = planOf(small, [
      [0, 0, 1],
      [0, 1, 2],
    ]);
    const before = planCost(shop.model, sheets);
    const joined = joinRips(shop, sheets);
    expect(planCost(shop.model, joined)).toBeLessThanOrEqual(before);
    expect(ripsOf(joined)).toEqual(["0: 0-1", "0: 1-2"]);
    expect(before).toBe(28);
  });

  it("joins from either end, run by run, and uses scrap that comes free", () => {
    const small: SmallProblem = {
      width: 12,
      stock: STOCK,
      runs: [run([0, 4, 8]), run([0, 4, 8], 4, 2)],
      scrap: [[3, 8]],
    };
    const { shop, sheets } = planOf(
      small,
      [
        [0, 0, 1],
        [0, 1, 2],
        [1, 0, 1],
        [1, 1, 2],
      ],
      [true]
    );
    const joined = joinRips(shop, sheets);
    expect(ripsOf(joined)).toEqual(["0: 0-2", "1: 0-2"]);
    expect(planCost(shop.model, joined)).toBeLessThanOrEqual(planCost(shop.model, sheets));
    const scrap = joined.filter((sheet) => sheet.scrap >= 0);
    expect(scrap.length).toBeLessThanOrEqual(1);
  });

  it("joins what goes into a strip, and leaves the rest to scrap", () => {
    // 12 beside the piece, 4 from scrap
    const small: SmallProblem = {
      width: 12,
      stock: [
        [12, 20],
        [4, 7],
      ],
      pieces: [[9, 12]],
      runs: [run([0, 4, 8, 12, 16])],
      scrap: [[3, 4]],
    };
    const { shop, sheets } = planOf(
      small,
      [
        [0, 0, 1],
        [0, 1, 2],
        [0, 2, 3],
        [0, 3, 4],
      ],
      [true]
    );
    const joined = joinRips(shop, sheets);
    expect(ripsOf(joined)).toHaveLength(2);
    expect(planCost(shop.model, joined)).toBe(20);
  });

  it("takes scrap nobody used, and a scrap it empties", () => {
    const small: SmallProblem = {
      width: 12,
      stock: [[12, 20]],
      pieces: [
        [12, 8],
        [12, 8],
      ],
      runs: [run([0, 4, 8])],
      scrap: [[3, 8]],
    };
    // above each piece there is room for rips of 4, not of 8; the scrap is free
    const rips = [
      [0, 0, 1],
      [0, 1, 2],
    ] as const;
    const { shop, sheets } = planOf(small, rips, [false]);
    expect(sheets.every(({ scrap }) => scrap < 0)).toBe(true);
    const joined = joinRips(shop, sheets);
    expect(ripsOf(joined)).toEqual(["0: 0-2"]);
    expect(joined.map(({ scrap }) => scrap)).toEqual([-1, -1, 0]);
    expect(planCost(shop.model, joined)).toBe(40);
    // both in one scrap: it is taken apart and used again
    const alone = planOf({ ...small, pieces: [] }, rips, [true]);
    expect(alone.sheets.map(({ scrap }) => scrap)).toEqual([0]);
    const again = joinRips(alone.shop, alone.sheets);
    expect(ripsOf(again)).toEqual(["0: 0-2"]);
    expect(again.map(({ scrap }) => scrap)).toEqual([0]);
    // a scrap that still holds something is not whole
    const held: SmallProblem = { ...small, pieces: [[3, 1]], scrap: [[3, 9]] };
    const kept = planOf(held, rips, [true]);
    expect(kept.sheets).toHaveLength(1);
    const after = joinRips(kept.shop, kept.sheets);
    expect(after.map(({ scrap, blocks }) => [scrap, blocks])).toEqual([[0, 2]]);
  });

  it("takes out three at a time, and starts from the far end, where only that saves one", () => {
    const small: SmallProblem = {
      width: 12,
      stock: [
        [14, 20],
        [6, 9],
      ],
      pieces: [
        [9, 14],
        [9, 6],
      ],
      runs: [run([0, 6, 12, 20], 6)],
    };
    // beside 9 x 14: 8 and above it the first 6; beside 9 x 6: the second 6
    const { shop, sheets } = planOf(small, [
      [0, 2, 3],
      [0, 0, 1],
      [0, 1, 2],
    ]);
    expect(sheets.map(({ rips }) => rips)).toEqual([2, 1]);
    // from the start 12 go beside 9 x 14 and 8 nowhere; from the end 14, and 6 beside 9 x 6
    const joined = joinRips(shop, sheets);
    expect(ripsOf(joined)).toEqual(["0: 0-1", "0: 1-3"]);
    expect(planCost(shop.model, joined)).toBe(29);
    // the other way round it is the start that saves one
    const mirrored = planOf({ ...small, runs: [run([0, 8, 14, 20], 6)] }, [
      [0, 0, 1],
      [0, 2, 3],
      [0, 1, 2],
    ]);
    expect(ripsOf(joinRips(mirrored.shop, mirrored.sheets))).toEqual(["0: 0-2", "0: 2-3"]);
  });

  it("leaves a plan without rips, or with one in a run, as it is", () => {
    const small: SmallProblem = {
      width: 12,
      stock: STOCK,
      pieces: [
        [5, 6],
        [5, 6],
      ],
      runs: [run([0, 4])],
    };
    const { shop, sheets } = planOf(small, [[0, 0, 1]]);
    expect(joinRips(shop, sheets)).toEqual(sheets);
  });

  it("never costs more, never has more rips, and covers every run, for plans of shortest rips", () => {
    for (const { small } of solvedProblems()) {
      if (small.runs!.length === 0) continue;
      const model = modelOf(small);
      const shop = new Shop(model);
      // shortest rips first, by the arcs a cover may contain
      const rips: [number, number, number][] = [];
      const last = model.runs[0]!.joints.length - 1;
      for (let at = 0; at < last;) {
        const arc = shop.arcsFrom[0]![at]![0]!;
        rips.push([0, arc.from, arc.to]);
        at = arc.to;
      }
      const { sheets } = planOf(small, rips);
      const before = ripsOf(sheets);
      const joined = joinRips(shop, sheets);
      expect(planCost(model, joined)).toBeLessThanOrEqual(planCost(model, sheets));
      const after = ripsOf(joined);
      expect(after.length).toBeLessThanOrEqual(before.length);
      const ends = after.map((text) => text.slice(3).split("-").map(Number));
      expect(ends.map(([from]) => from)).toEqual([0, ...ends.slice(0, -1).map(([, to]) => to)]);
      expect(ends[ends.length - 1]![1]).toBe(last);
      const pieces = (list: readonly Sheet[]): number =>
        list.reduce((sum, sheet) => sum + sheet.blocks - sheet.rips, 0);
      expect(pieces(joined)).toBe(pieces(sheets));
    }
  });
});

describe("the tries", () => {
  /** The joints between which rips were covered anew, `<` from the far end, and what came of it. */
  function triesOf(
    small: SmallProblem,
    rips: readonly (readonly [run: number, from: number, to: number])[]
  ): { tries: string[]; joined: Sheet[] } {
    const { shop, sheets } = planOf(small, rips);
    const tries: string[] = [];
    const { cover } = Filling.prototype;
    Filling.prototype.cover = function (stretch, backward, skip): void {
      tries.push(`${stretch.run}: ${stretch.from}-${stretch.to}${backward ? " <" : ""}`);
      cover.call(this, stretch, backward, skip);
    };
    try {
      return { tries, joined: joinRips(shop, sheets) };
    } finally {
      Filling.prototype.cover = cover;
    }
  }
  /** rips from each joint to the next */
  const shortest = (count: number, run = 0): [number, number, number][] =>
    Array.from({ length: count }, (_, k) => [run, k, k + 1]);
  const marks = (count: number, space: number): number[] =>
    Array.from({ length: count + 1 }, (_, k) => k * space);

  it("are of three neighbours, of four and of the whole run where two are too long for one rip", () => {
    // two of 12 are 24 of 20; three could be two rips by their length, were there marks for them
    const small: SmallProblem = {
      width: 12,
      stock: [[20, 30]],
      runs: [run(marks(6, 12)), run(marks(2, 4), 4, 2)],
    };
    const { tries, joined } = triesOf(small, [...shortest(6), ...shortest(2, 1)]);
    const both = (stretch: string): string[] => [stretch, `${stretch} <`];
    expect(tries).toEqual([
      ...["0: 0-3", "0: 1-4", "0: 2-5", "0: 3-6"].flatMap(both),
      ...["0: 0-4", "0: 1-5", "0: 2-6"].flatMap(both),
      ...both("0: 0-6"),
      // the second run: two go together at once
      "1: 0-2",
    ]);
    expect(ripsOf(joined)).toEqual([...marks(5, 1).map((k) => `0: ${k}-${k + 1}`), "1: 0-2"]);
  });

  it("begin again at the start of the run with every joint saved", () => {
    // one strip of 20: 4 + 4, then 8 + 4, then 12 + 4
    const small: SmallProblem = { width: 12, stock: [[20, 30]], runs: [run(marks(4, 4))] };
    const { tries, joined } = triesOf(small, shortest(4));
    expect(tries).toEqual(["0: 0-2", "0: 0-3", "0: 0-4"]);
    expect(ripsOf(joined)).toEqual(["0: 0-4"]);
  });

  it("are 3,000 at most", () => {
    // 40 rips on each of 40 panels, no two of which can be one
    const small: SmallProblem = { width: 120, stock: [[20, 30]], runs: [run(marks(1600, 12))] };
    const { tries, joined } = triesOf(small, shortest(1600));
    expect(tries).toHaveLength(3000);
    expect(ripsOf(joined)).toHaveLength(1600);
  });

  it("look at 1,200,000 sheets at most", () => {
    // a rip on each of 800 panels: 1,500 tries
    const small: SmallProblem = { width: 3, stock: [[20, 30]], runs: [run(marks(800, 12))] };
    const { tries, joined } = triesOf(small, shortest(800));
    expect(tries).toHaveLength(1500);
    expect(joined).toHaveLength(800);
  });
});
