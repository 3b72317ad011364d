/** Improving a plan: never dearer, never past its limits, and to the best plan where that is known. */
import type { Block } from "../../../src/core/cut-plan/blocks.js";
import { Filling, Shop } from "../../../src/core/cut-plan/fill.js";
import {
  type ImproveOptions,
  Sequence,
  improve,
  takeApart,
} from "../../../src/core/cut-plan/improve.js";
import type { KnapsackTree } from "../../../src/core/cut-plan/knapsack.js";
import { Master } from "../../../src/core/cut-plan/master.js";
import { type Model, prepare } from "../../../src/core/cut-plan/prepare.js";
import { type Sheet, listBlocks, sheetCost } from "../../../src/core/cut-plan/sheet.js";
import { writePlan } from "../../../src/core/cut-plan/write-plan.js";
import { faultsOf } from "../../cut-plan/verify-plan.js";
import { type SmallProblem, cutUp, modelOf, problemOf, solvedProblems } from "./small-problems.js";

const PROOF = { lowestCost: 0, fewestPanels: 0, boundBy: "area" };

/** The worst plan: every piece, and every shortest rip, on a panel of its own. */
function alone(shop: Shop): Sheet[] {
  const { model } = shop;
  const sheets: Sheet[] = [];
  const add = (blocks: readonly Block[]): void => {
    const filling = new Filling(
      shop,
      [],
      model.scrap.map(() => false)
    );
    filling.put(filling.newPanel(blocks));
    sheets.push(...filling.result());
  };
  for (const type of model.types)
    for (let k = 0; k < type.ids.length; k++) add(shop.blocks[type.index]!);
  model.runs.forEach((run, k) => {
    for (let at = 0; at < run.joints.length - 1;) {
      const arc = shop.arcsFrom[k]![at]![0]!;
      add(shop.ripBlocks(k, arc.from, arc.to));
      at = arc.to;
    }
  });
  return sheets;
}

const costOf = (model: Model, sheets: readonly Sheet[]): number =>
  sheets.reduce((sum, sheet) => sum + sheetCost(model, sheet), 0);

function optionsOf(model: Model, change: Partial<ImproveOptions> = {}): ImproveOptions {
  return {
    budget: 4e6,
    floor: 0,
    scrapFree: model.scrap.map(() => true),
    joint: 0,
    ceiling: Infinity,
    ...change,
  };
}

function improved(
  model: Model,
  change: Partial<ImproveOptions> = {}
): ReturnType<typeof improve> & { shop: Shop } {
  const shop = new Shop(model);
  return { ...improve(shop, alone(shop), new Sequence(7), optionsOf(model, change)), shop };
}

describe("the sequence of numbers", () => {
  it("is the 32-bit xorshift by 13, 17 and 5, over 2 to the 32", () => {
    // worked out in whole numbers without a sign
    const mask = (1n << 32n) - 1n;
    let state = 1n;
    const next = (): number => {
      state ^= (state << 13n) & mask;
      state ^= state >> 17n;
      state ^= (state << 5n) & mask;
      return Number(state) / 2 ** 32;
    };
    const sequence = new Sequence(1);
    const expected = Array.from({ length: 200 }, next);
    expect(Array.from({ length: 200 }, () => sequence.next())).toEqual(expected);
    expect(expected[0]).toBe(270_369 / 2 ** 32);
    const below = new Sequence(1);
    expect(Array.from({ length: 200 }, () => below.below(7))).toEqual(
      expected.map((one) => Math.floor(one * 7))
    );
  });
});

describe("taking sheets apart", () => {
  it("counts pieces, pairs twice, and joins neighbours of a run", () => {
    const model = modelOf({
      width: 12,
      stock: [[20, 20]],
      pieces: [
        [4, 6],
        [8, 2, 6],
        [8, 3, 7],
      ],
      runs: [
        { height: 3, joints: [0, 4, 8, 12, 16], smallest: 4 },
        { height: 3, joints: [0, 5, 10], smallest: 5 },
      ],
    });
    const shop = new Shop(model);
    const rip = (run: number, from: number, to: number): Block => shop.ripBlocks(run, from, to)[0]!;
    const counts = new Map<number, number>([[0, 3]]);
    const blocks = [
      rip(1, 0, 1),
      shop.blocks[0]![0]!,
      rip(0, 3, 4),
      shop.pair(1, 2),
      rip(0, 0, 1),
      shop.pair(1, 1),
      rip(0, 1, 2),
      shop.blocks[0]![0]!,
    ];
    expect(takeApart(blocks, counts)).toEqual([
      { run: 0, from: 0, to: 2 },
      { run: 0, from: 3, to: 4 },
      { run: 1, from: 0, to: 1 },
    ]);
    expect([...counts].sort()).toEqual([
      [0, 5],
      [1, 3],
      [2, 1],
    ]);
    // the end of one run is not the start of the next
    expect(takeApart([rip(0, 0, 1), rip(1, 1, 2)], new Map())).toHaveLength(2);
  });
});

describe("improving a plan", () => {
  it("finds the best plans of tiny problems from the worst, places everything, and says what it costs", () => {
    const faults: string[] = [];
    let dearer = 0;
    for (const { small, cost } of solvedProblems().slice(20, 40)) {
      const { sheets, cost: said } = improved(modelOf(small), { floor: cost, budget: 2e6 });
      const found = costOf(modelOf(small), sheets);
      expect(said).toBeCloseTo(found, 9);
      expect(found).toBeGreaterThanOrEqual(cost);
      if (found > cost) dearer++;
      const problem = problemOf(small, 64);
      const model = prepare(problem);
      const { sheets: large } = improved(model, { budget: 2e5 });
      faults.push(...faultsOf(problem, writePlan(model, large, PROOF)));
    }
    expect(faults).toEqual([]);
    expect(dearer).toBe(0);
  });

  it("puts panels cut up at random together again, all but one in four", () => {
    for (const [kerf, cuts] of [
      [0, [3, 1, 4, 1, 5]],
      [1, [2, 7, 1, 8]],
      [0, [5, 5, 2, 9, 11]],
    ] as const) {
      const pieces = cutUp(12, 20, kerf, 4, cuts);
      const model = modelOf({ width: 12, kerf, stock: [[20, 1]], pieces });
      const { cost, work } = improved(model, { floor: 4, budget: 6e6 });
      expect(cost).toBeLessThanOrEqual(5);
      expect(work).toBeGreaterThan(0);
    }
  });

  it("stops where its work is done, and where the cost is at the floor", () => {
    const pieces = cutUp(12, 20, 0, 4, [3, 1, 4]);
    const model = modelOf({ width: 12, stock: [[20, 1]], pieces });
    const none = improved(model, { budget: 0 });
    expect([none.rounds, none.cost]).toEqual([0, pieces.length]);
    const some = improved(model, { budget: 1e5 });
    expect(some.work).toBeGreaterThanOrEqual(1e5);
    expect(some.rounds).toBeGreaterThan(1);
    expect(some.cost).toBeLessThan(pieces.length);
    const more = improved(model, { budget: 2e6 });
    expect(more.rounds).toBeGreaterThan(some.rounds);
    expect(more.cost).toBeLessThanOrEqual(some.cost);
    const floor = pieces.length - 1;
    const near = improved(model, { floor, budget: 2e6 });
    expect(near.cost).toBeLessThanOrEqual(floor);
    expect(near.work).toBeLessThan(more.work);
    expect(improved(model, { floor: pieces.length }).rounds).toBe(0);
    const shop = new Shop(model);
    expect(improve(shop, [], new Sequence(7), optionsOf(model)).sheets).toEqual([]);
  });

  it("gives the same plan for the same sequence, and leaves what it was given as it was", () => {
    const pieces = cutUp(12, 20, 0, 3, [3, 1, 4]);
    const model = modelOf({
      width: 12,
      stock: [[20, 1]],
      pieces,
      runs: [{ height: 3, joints: [0, 4, 8, 12, 16], smallest: 4 }],
    });
    const shop = new Shop(model);
    const start = alone(shop);
    const before = JSON.stringify(start);
    const plans = [1, 2].map(() =>
      improve(shop, start, new Sequence(99), optionsOf(model, { budget: 5e5 }))
    );
    expect(JSON.stringify(start)).toBe(before);
    expect(plans[1]).toEqual(plans[0]);
  });

  it("makes rips fewer at the same cost where a rip has a price, and never goes above the ceiling", () => {
    const small: SmallProblem = {
      width: 12,
      stock: [[20, 1]],
      pieces: [
        [9, 20],
        [9, 20],
      ],
      runs: [
        { height: 3, joints: [0, 4, 8, 12, 16, 20], smallest: 4 },
        { height: 3, joints: [0, 5, 10, 15, 20], smallest: 5 },
      ],
    };
    const model = modelOf(small);
    const shop = new Shop(model);
    // pieces on panels of their own, rips of 4 and 5 beside them
    const filling = new Filling(shop, [], []);
    filling.put(filling.newPanel(shop.blocks[0]!));
    filling.put(filling.newPanel(shop.blocks[0]!));
    model.runs.forEach((run, k) => {
      for (let at = 0; at < run.joints.length - 1; at++)
        filling.place(shop.ripBlocks(k, at, at + 1), null);
    });
    const start = filling.result();
    const count = (sheets: readonly Sheet[]): number =>
      sheets.reduce((sum, sheet) => sum + sheet.rips, 0);
    expect([count(start), costOf(model, start)]).toEqual([9, 2]);
    const limits = { joint: 0.03, ceiling: 2, floor: 2, budget: 2e6 };
    const { sheets, cost } = improve(shop, start, new Sequence(7), optionsOf(model, limits));
    expect([count(sheets), cost]).toEqual([2, 2]);
    // at a floor it has reached it goes no further unless rips have a price
    const still = improve(shop, start, new Sequence(7), optionsOf(model, { ...limits, joint: 0 }));
    expect(still.rounds).toBe(0);
  });

  it("uses scrap nobody uses yet, each once, and none that is not free", () => {
    const small: SmallProblem = {
      width: 12,
      stock: [[20, 1]],
      pieces: [
        [5, 9],
        [5, 9],
        [6, 6],
      ],
      scrap: [
        [5, 9],
        [6, 6],
        [5, 9],
      ],
    };
    const model = modelOf(small);
    const free = improved(model);
    expect(free.cost).toBe(0);
    expect(free.sheets.map(({ scrap }) => scrap).sort()).toEqual([0, 1, 2]);
    const some = improved(model, { scrapFree: [false, true, false] });
    expect(some.cost).toBe(1);
    expect(some.sheets.filter(({ scrap }) => scrap >= 0).length).toBeLessThanOrEqual(1);
    expect(some.sheets.every(({ scrap }) => scrap < 0 || scrap === 1)).toBe(true);
    expect(improved(model, { scrapFree: [false, false, false] }).cost).toBe(1);
  });

  it("tries the patterns it is given", () => {
    const pieces = [0, 1, 2].flatMap(() => cutUp(12, 20, 0, 3, [5, 5, 2, 9, 11]));
    const model = modelOf({ width: 12, stock: [[20, 1]], pieces });
    const master = new Master(
      model,
      { counts: Int32Array.from(model.types, ({ ids }) => ids.length), stretches: [], scrap: [] },
      { costs: [1], mostGroups: 500 }
    );
    master.run(1e8, 1e6, () => false);
    const shop = new Shop(model);
    shop.price(master.worths());
    const change = { floor: 9, budget: 1e7, patterns: { master, shares: master.solution() } };
    const { sheets, cost } = improve(shop, alone(shop), new Sequence(7), optionsOf(model, change));
    expect(cost).toBeLessThanOrEqual(10);
    const blocks: Block[] = [];
    for (const sheet of sheets) listBlocks(sheet.root, blocks);
    expect(blocks.map(({ type }) => type).sort()).toEqual(
      model.types.flatMap(({ ids, index }) => ids.map(() => index)).sort()
    );
  });
});

/** The same number every time, or some numbers in turn: what one round does can be followed by hand. */
class Told extends Sequence {
  private at = 0;
  constructor(private readonly numbers: readonly number[]) {
    super(1);
  }
  override next(): number {
    return this.numbers[this.at++ % this.numbers.length]!;
  }
}

describe("one round", () => {
  const ONE_ROUND = 1;

  /** Sheets with the given pieces, put where they cost least, each list on a panel of its own. */
  function sheetsOf(shop: Shop, lists: readonly (readonly (readonly Block[])[])[]): Sheet[] {
    return lists.map((list) => {
      const filling = new Filling(shop, [], []);
      list.forEach((blocks) => filling.place(blocks, null));
      const sheets = filling.result();
      expect(sheets).toHaveLength(1);
      return sheets[0]!;
    });
  }

  function after(
    shop: Shop,
    start: readonly Sheet[],
    numbers: readonly number[],
    change: Partial<ImproveOptions> = {}
  ): ReturnType<typeof improve> {
    const options = optionsOf(shop.model, { budget: ONE_ROUND, ...change });
    const found = improve(shop, start, new Told(numbers), options);
    expect(found.rounds).toBe(1);
    return found;
  }

  const typesOn = (sheets: readonly Sheet[]): string[] =>
    sheets
      .map((sheet) => {
        const blocks: Block[] = [];
        listBlocks(sheet.root, blocks);
        return blocks
          .map(({ type, run }) => (run >= 0 ? "rip" : type))
          .sort()
          .join(" ");
      })
      .sort();

  it("takes the sheet it picks apart and fills the others with its pieces", () => {
    const model = modelOf({
      width: 12,
      stock: [[20, 1]],
      pieces: [
        [8, 20],
        [4, 10],
        [9, 20],
      ],
    });
    const shop = new Shop(model);
    const [large, small, wide] = shop.blocks;
    const start = sheetsOf(shop, [[large!], [small!], [wide!]]);
    // 0.5 picks the middle of three, passes nothing over, and takes no pattern and no run
    const found = after(shop, start, [0.5]);
    expect(typesOn(found.sheets)).toEqual(["0 1", "2"]);
    expect(found.cost).toBe(2);
    // 0.9 picks the last: 9 x 20 goes beside nothing but 3 of the first two
    const none = after(shop, start, [0.9]);
    expect(none.cost).toBe(3);
    // a ceiling below what it costs is never passed by
    expect(after(shop, start, [0.5], { ceiling: 1 }).cost).toBe(3);
  });

  it("puts wide pieces first, tall ones first, or large ones, as the numbers say", () => {
    const model = modelOf({
      width: 12,
      stock: [[20, 1]],
      pieces: [
        [9, 4],
        [3, 12],
        [6, 7],
      ],
    });
    const shop = new Shop(model);
    const start = sheetsOf(shop, [shop.blocks.map((blocks) => blocks)]);
    // one sheet: it is taken apart, and its first block tells what came first
    const first = (number: number): number => {
      const order: Block[] = [];
      const put = Filling.prototype.put;
      Filling.prototype.put = function (spot): void {
        order.push(spot.block);
        put.call(this, spot);
      };
      try {
        after(shop, start, [number]);
      } finally {
        Filling.prototype.put = put;
      }
      expect(order).toHaveLength(3);
      return order[0]!.type;
    };
    // 0.5 of four rules is the third, by width; 0.3 the second, by height; 0.24 the first, by area
    expect(first(0.5)).toBe(0);
    expect(first(0.3)).toBe(1);
    expect(first(0.24)).toBe(2);
    // 0.76 the fourth, by both sides together: 15 of 3 x 12
    expect(first(0.76)).toBe(1);
  });

  it("takes a whole run out and covers it anew", () => {
    const model = modelOf({
      width: 12,
      stock: [[20, 1]],
      pieces: [[9, 20]],
      runs: [
        { height: 3, joints: [0, 4, 12, 20], smallest: 4 },
        { height: 2, joints: [0, 4, 8], smallest: 4 },
      ],
    });
    const shop = new Shop(model);
    const rip = (run: number, from: number, to: number): readonly Block[] =>
      shop.ripBlocks(run, from, to);
    const start = sheetsOf(shop, [
      [shop.blocks[0]!, rip(0, 0, 1), rip(1, 0, 1)],
      [shop.blocks[0]!, rip(0, 1, 2), rip(1, 1, 2)],
      [shop.blocks[0]!, rip(0, 2, 3)],
    ]);
    const rips = (sheets: readonly Sheet[]): number =>
      sheets.reduce((sum, sheet) => sum + sheet.rips, 0);
    expect(rips(start)).toBe(5);
    // 0.1: no patterns to take, so the first of two runs, and the first sheet
    const found = after(shop, start, [0.1], { joint: 0.03, ceiling: 3 });
    expect(found.cost).toBe(3);
    const blocks: Block[] = [];
    for (const sheet of found.sheets) listBlocks(sheet.root, blocks);
    expect(blocks.filter(({ run }) => run === 0)).toHaveLength(1);
    expect(blocks.filter(({ run }) => run === 1).length).toBeLessThanOrEqual(2);
    expect(blocks.filter(({ type }) => type === 0)).toHaveLength(3);
  });

  it("pairs rake pieces that stand alone", () => {
    const model = modelOf({
      width: 12,
      stock: [
        [20, 20],
        [14, 14],
      ],
      pieces: [
        [12, 3, 9],
        [12, 3, 9],
        [12, 4, 10],
      ],
    });
    const shop = new Shop(model);
    const start = sheetsOf(shop, [[shop.blocks[0]!], [shop.blocks[0]!], [shop.blocks[1]!]]);
    // two nested are 3 + 9 = 12 or 4 + 9 = 13 of 14 high, the third is on its own
    const found = improve(shop, start, new Sequence(7), optionsOf(model, { budget: 1e5 }));
    expect(found.cost).toBe(28);
    const blocks: Block[] = [];
    for (const sheet of found.sheets) listBlocks(sheet.root, blocks);
    expect(blocks.filter(({ pair }) => pair !== null)).toHaveLength(1);
  });

  it("takes a worse plan up now and then, and gives the best it saw", () => {
    const model = modelOf({
      width: 12,
      stock: [[20, 1]],
      pieces: [
        [7, 20],
        [7, 20],
        [5, 20],
        [5, 20],
      ],
    });
    const shop = new Shop(model);
    const best = sheetsOf(shop, [
      [shop.blocks[0]!, shop.blocks[1]!],
      [shop.blocks[0]!, shop.blocks[1]!],
    ]);
    // passing every spot over takes the pieces apart; what is given back is no worse
    for (const number of [0.01, 0.02, 0.029]) {
      const found = improve(shop, best, new Told([number]), optionsOf(model, { budget: 3e4 }));
      expect(found.cost).toBe(2);
      expect(typesOn(found.sheets)).toEqual(["0 1", "0 1"]);
    }
  });

  const AT_AREA: SmallProblem["stock"] = [[20, 240]];

  it("cuts a pattern first, from the sheets that hold its pieces, where it fills enough of a panel", () => {
    const model = modelOf({
      width: 12,
      stock: AT_AREA,
      pieces: [
        [7, 20],
        [4, 20],
        [5, 20],
      ],
    });
    const shop = new Shop(model);
    const master = new Master(
      model,
      { counts: Int32Array.from([1, 1, 1]), stretches: [], scrap: [] },
      { costs: [240], mostGroups: 500 }
    );
    const leafOf = (type: number): KnapsackTree => ({
      item: master.leaves.findIndex((leaf) => leaf.kind === "piece" && leaf.shape === type),
      cut: "none",
      first: null,
      second: null,
    });
    const start = sheetsOf(shop, [[shop.blocks[0]!], [shop.blocks[1]!], [shop.blocks[2]!]]);
    const cut = (tree: KnapsackTree, number = 0.1, stock = 0): string[] =>
      typesOn(
        after(shop, start, [number], {
          patterns: { master, shares: [{ level: 1, stock, scrap: null, tree }] },
        }).sheets
      );
    const both: KnapsackTree = { item: -1, cut: "plumb", first: leafOf(0), second: leafOf(2) };
    // 7 and 5 of the pattern together; by itself 7 would go beside 4, which comes first
    expect(cut(both)).toEqual(["0 2", "1"]);
    expect(cut({ ...both, first: leafOf(2), second: leafOf(0) })).toEqual(["0 2", "1"]);
    // 7 x 20 alone is 0.58 of a panel: it is not cut, and goes beside 4
    expect(cut(leafOf(0))).toEqual(["0 1", "2"]);
    // from 0.2 on no pattern is taken; nor is one of scrap ever
    expect(cut(both, 0.2)).toEqual(["0 1", "2"]);
    expect(cut({ ...both, item: 99, cut: "none" }, 0.1, -1)).toEqual(["0 1", "2"]);
  });

  it("looks for room on some sheets only where there are many", () => {
    const model = modelOf({
      width: 12,
      stock: AT_AREA,
      pieces: [...Array.from({ length: 14 }, () => [9, 20]), [3, 20]],
    });
    const shop = new Shop(model);
    const start = sheetsOf(
      shop,
      Array.from({ length: 14 }, (_, k) => [shop.blocks[k === 7 ? 1 : 0]!])
    );
    // 0.5 picks the eighth of 14, and of the 13 others looks at the seventh alone
    const { sheets } = after(shop, start, [0.5]);
    expect(sheets.map(({ blocks }) => blocks)).toEqual([1, 1, 1, 1, 1, 1, 2, 1, 1, 1, 1, 1, 1]);
    // of 12 others all are looked at: the first is as good as any
    const fewer = after(shop, start.slice(1), [0.5]);
    expect(fewer.sheets.map(({ blocks }) => blocks)).toEqual([2, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]);
  });

  it("takes out a run wherever it is, and no other, and frees what that empties", () => {
    const model = modelOf({
      width: 12,
      stock: AT_AREA,
      pieces: [[9, 20]],
      runs: [
        { height: 3, joints: [0, 4, 12, 20], smallest: 4 },
        { height: 2, joints: [0, 4, 8], smallest: 4 },
      ],
      scrap: [[3, 4]],
    });
    const shop = new Shop(model);
    const rip = (run: number, from: number, to: number): readonly Block[] =>
      shop.ripBlocks(run, from, to);
    const start = [
      ...sheetsOf(shop, [
        [shop.blocks[0]!, rip(0, 1, 2)],
        [shop.blocks[0]!, rip(1, 0, 1)],
        [shop.blocks[0]!, rip(1, 1, 2), rip(0, 2, 3)],
      ]),
    ];
    const inScrap = new Filling(shop, [], [true]);
    inScrap.place(rip(0, 0, 1), null);
    start.push(...inScrap.result());
    expect(start.map(({ scrap, rips }) => [scrap, rips])).toEqual([
      [-1, 1],
      [-1, 1],
      [-1, 2],
      [0, 1],
    ]);
    // the first of two runs: 20 long it goes beside one piece; the scrap is free again
    const change = { joint: 0.03, ceiling: 720, scrapFree: [false] };
    const found = after(shop, start, [0.1], change);
    expect(found.cost).toBe(720);
    const held: Block[] = [];
    for (const sheet of found.sheets) listBlocks(sheet.root, held);
    const rips = held
      .filter(({ run }) => run >= 0)
      .map(({ run, from, to }) => `${run}: ${from}-${to}`);
    expect(rips.sort()).toEqual(["0: 0-3", "1: 0-1", "1: 1-2"]);
    expect(found.sheets.every(({ scrap }) => scrap < 0)).toBe(true);
    expect(held.filter(({ run }) => run < 0)).toHaveLength(3);
  });

  it("gathers waste on one panel at the same cost", () => {
    const model = modelOf({
      width: 12,
      stock: AT_AREA,
      pieces: [
        [12, 16],
        [12, 14],
        [2, 2],
        [3, 2],
      ],
    });
    const shop = new Shop(model);
    const start = sheetsOf(shop, [
      [shop.blocks[0]!, shop.blocks[2]!],
      [shop.blocks[1]!, shop.blocks[3]!],
    ]);
    const found = improve(shop, start, new Sequence(7), optionsOf(model, { budget: 1e6 }));
    expect(found.cost).toBe(480);
    // shares open of 38 and 72 of 240 are worth more than of 44 and 66
    expect(typesOn(found.sheets)).toEqual(["0 2 3", "1"]);
  });
});
