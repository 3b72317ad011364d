/** Where a block goes: least cost first, then least waste, each choice by hand on panels of a few units. */
import fc from "fast-check";
import { Filling, Shop, type Spot, fillRest } from "../../../src/core/cut-plan/fill.js";
import { type Stretch, runArcs } from "../../../src/core/cut-plan/rip-rows.js";
import {
  type Sheet,
  listBlocks,
  newSheet,
  putBlock,
  sheetCost,
} from "../../../src/core/cut-plan/sheet.js";
import type { Block } from "../../../src/core/cut-plan/blocks.js";
import {
  type SmallProblem,
  law,
  modelOf,
  smallProblems,
  solvedProblems,
} from "./small-problems.js";

const shopOf = (small: SmallProblem): Shop => new Shop(modelOf(small));

function blocksOf(sheet: Sheet): Block[] {
  const found: Block[] = [];
  listBlocks(sheet.root, found);
  return found;
}

const sizesOf = (sheet: Sheet): string[] => blocksOf(sheet).map(({ w, h }) => `${w} x ${h}`);

/** A filling of nothing, all scrap whole. */
function fresh(shop: Shop, sheets: readonly Sheet[] = [], seen?: Iterable<number>): Filling {
  return new Filling(
    shop,
    sheets,
    shop.model.scrap.map(() => true),
    seen
  );
}

const TWO: SmallProblem["stock"] = [
  [20, 30],
  [12, 20],
];

describe("a shop", () => {
  // made for each test anew, so that a change to how it is made is met by them
  let shop: Shop;
  beforeEach(() => {
    shop = shopOf(SHOP);
  });
  const SHOP: SmallProblem = {
    width: 12,
    kerf: 1,
    stock: [
      [20, 30],
      [10, 12],
      [16, 30],
      [14, 40],
    ],
    pieces: [
      [4, 6],
      [3, 2, 8],
      [6, 3, 9],
      [5, 8, 2],
      [5, 5],
    ],
    runs: [
      { height: 2, joints: [0, 4, 8, 12], smallest: 4 },
      { height: 3, joints: [0, 4], smallest: 4 },
    ],
  };

  it("knows what a panel costs that reaches so far, and how long it is", () => {
    expect(shop.lengths).toEqual([10, 14, 16, 20]);
    expect([0, 1, 10, 11, 14, 16, 20, 21].map((reach) => shop.costTo(reach))).toEqual([
      0,
      12,
      12,
      30,
      30,
      30,
      30,
      Infinity,
    ]);
    // of two at one price the longer is bought
    expect([0, 1, 10, 11, 16, 20, 21].map((reach) => shop.lengthTo(reach))).toEqual([
      10,
      10,
      10,
      20,
      20,
      20,
      Infinity,
    ]);
    expect(shop.dearest).toBe(40);
  });

  it("knows which rips start and end where, shortest first", () => {
    expect(shop.arcsFrom[0]!.map((arcs) => arcs.map(({ to }) => to))).toEqual([
      [1, 2, 3],
      [2, 3],
      [3],
      [],
    ]);
    expect(shop.arcsTo[0]!.map((arcs) => arcs.map(({ from }) => from))).toEqual([
      [],
      [0],
      [1, 0],
      [2, 1, 0],
    ]);
    expect(shop.arcsFrom[1]).toHaveLength(2);
  });

  it("knows the smallest blocks, and which rake pieces nest", () => {
    expect(shop.least).toEqual([{ w: 2, h: 4 }]);
    expect(shop.nests).toEqual([[], [1, 2], [1, 2], [3], []]);
    expect(shop.blocks.map((ways) => ways.length)).toEqual([1, 1, 1, 1, 1]);
  });

  it("tells every pair and every rip from the others", () => {
    const many = shopOf({
      width: 12,
      stock: [[30, 1]],
      pieces: [1, 2, 3, 4, 5].map((low) => [8, low, low + 4]),
      runs: [1, 2, 3].map((height) => ({ height, joints: [0, 2, 4, 6, 8], smallest: 2 })),
    });
    const wrong: string[] = [];
    many.nests.forEach((others, a) => {
      for (const b of others) {
        const { type, pair } = many.pair(a, b);
        if ([type, pair!.upper].sort().join() !== [a, b].sort().join()) wrong.push(`${a} ${b}`);
      }
    });
    many.model.runs.forEach(({ index, height }) => {
      for (const { from, to } of many.arcsFrom[index]!.flat()) {
        const [block] = many.ripBlocks(index, from, to);
        const is = [block!.run, block!.from, block!.to, block!.w, block!.h].join();
        if (is !== [index, from, to, height, 2 * (to - from)].join()) wrong.push(is);
      }
    });
    expect(wrong).toEqual([]);
    expect(many.nests.map((others) => others.length)).toEqual([5, 5, 5, 5, 5]);
  });

  it("makes pairs and rips once, and prices all it makes", () => {
    const pair = shop.pair(1, 2);
    expect(shop.pair(1, 2)).toBe(pair);
    expect([pair.type, pair.pair!.upper]).toEqual([2, 1]);
    expect(shop.pair(2, 1).type).toBe(2);
    expect(shop.pair(2, 1)).not.toBe(pair);
    const [rip] = shop.ripBlocks(0, 1, 3);
    expect(rip).toMatchObject({ w: 2, h: 8, run: 0, from: 1, to: 3, area: 16, worth: 16 });
    expect(shop.ripBlocks(0, 1, 3)[0]).toBe(rip);
    expect(shop.ripBlocks(0, 0, 1)[0]).toMatchObject({ run: 0, from: 0, to: 1 });
    expect(shop.ripBlocks(1, 0, 1)[0]).toMatchObject({ run: 1, w: 3, h: 4 });
    expect(pair.worth).toBe(pair.area);
    shop.price({
      piece: (type) => 10 + type,
      rip: ({ run, from, to }) => 100 * (run + 2) + 10 * from + to,
    });
    expect(pair.worth).toBe(10 + 2 + 10 + 1);
    expect(rip!.worth).toBe(213);
    expect(shop.blocks.map(([one]) => one!.worth)).toEqual([10, 11, 12, 13, 14]);
    expect(shop.pair(3, 3).worth).toBe(26);
    expect(shop.ripBlocks(0, 0, 3)[0]!.worth).toBe(203);
    expect(shop.ripBlocks(1, 0, 1)[0]!.worth).toBe(301);
  });
});

describe("where a block goes", () => {
  it("first costs least, then wastes the narrowest strip", () => {
    const shop = shopOf({ width: 12, stock: TWO, pieces: [[2, 2]] });
    const [small] = shop.blocks[0]!;
    const sized = (w: number, h: number): Block => ({ ...small!, w, h, area: w * h, worth: w * h });
    const full = (w: number, h: number): Sheet => {
      const sheet = newSheet(-1, 12, 20);
      putBlock(sheet, sheet.spaces[0]!, sized(w, h), 0, shop.least);
      return sheet;
    };
    // beside 9 x 12 a strip of 3 is free as far as the panel bought reaches, beside 8 x 12 one of 4
    const filling = fresh(shop, [full(8, 12), full(9, 12)]);
    expect(filling.find([sized(3, 11)], null)).toMatchObject({ sheet: 1, added: 0 });
    expect(filling.find([sized(4, 11)], null)).toMatchObject({ sheet: 0, added: 0 });
    // 13 reach past the panel of 12: 10 more for that of 20
    const longer = filling.find([sized(3, 13)], null)!;
    expect([longer.sheet, longer.added, longer.space!.side]).toEqual([1, 10, "right"]);
    expect(filling.find([sized(5, 13)], null)).toBeNull();
    // 5 x 8 goes above only: 10 more
    expect(filling.find([sized(5, 8)], null)).toMatchObject({ added: 10, sheet: 0 });
    // ways of one thing: the one that costs less
    const ways = [sized(4, 13), sized(4, 12)];
    expect(filling.find(ways, null)!.block).toBe(ways[1]);
    expect(filling.work).toBeGreaterThan(0);
  });

  it("measures waste along only as far as the panel bought reaches", () => {
    const shop = shopOf({ width: 12, stock: TWO, pieces: [[2, 2]] });
    const [small] = shop.blocks[0]!;
    const sized = (w: number, h: number): Block => ({ ...small!, w, h });
    const low = newSheet(-1, 12, 20);
    putBlock(low, low.spaces[0]!, sized(12, 9), 0, shop.least);
    const beside = newSheet(-1, 12, 20);
    putBlock(beside, beside.spaces[0]!, sized(6, 12), 0, shop.least);
    // above 9 there are 3 to the end of a panel of 12; beside 6 x 12 there are 6
    const found = fresh(shop, [beside, low]).find([sized(5, 3)], null)!;
    expect([found.sheet, found.space!.side, found.added]).toEqual([1, "above", 0]);
  });

  it("passes a spot over when told to", () => {
    const shop = shopOf({ width: 12, stock: TWO, pieces: [[3, 12]] });
    const filling = fresh(shop);
    const blocks = shop.blocks[0]!;
    filling.place(blocks, null);
    expect(filling.find(blocks, () => true)).toBeNull();
    expect(filling.find(blocks, () => false)).not.toBeNull();
  });

  it("takes the smallest whole scrap before it costs anything", () => {
    const shop = shopOf({
      width: 12,
      stock: TWO,
      pieces: [[3, 4]],
      scrap: [
        [9, 9],
        [3, 4],
        [3, 5],
        [2, 9],
      ],
    });
    const blocks = shop.blocks[0]!;
    const filling = fresh(shop);
    const spots: (Spot | null)[] = [];
    for (let k = 0; k < 3; k++) {
      const spot = filling.find(blocks, null);
      spots.push(spot);
      filling.put(spot!);
    }
    // 12 of area, then 15, then 81; that of 2 is too narrow
    expect(spots.map((spot) => spot!.sheet)).toEqual([-3, -4, -2]);
    expect(filling.scrapLeft).toEqual([false, false, false, true]);
    // beside it in the same scrap, for nothing
    expect(filling.find(blocks, null)).toMatchObject({ sheet: 2, added: 0 });
    expect(filling.sheets.map(({ scrap }) => scrap)).toEqual([1, 2, 0]);
    // scrap not free is not used
    const none = new Filling(shop, [], [false, false, false, false]);
    expect(none.find(blocks, null)).toBeNull();
  });

  it("takes a new panel where that costs no more than room made", () => {
    const shop = shopOf({
      width: 12,
      stock: [
        [20, 30],
        [12, 14],
      ],
      pieces: [[12, 10]],
    });
    const filling = fresh(shop);
    filling.place(shop.blocks[0]!, null);
    // 16 more for the long panel, 14 for another short one
    filling.place(shop.blocks[0]!, null);
    expect(filling.result().map(sizesOf)).toEqual([["12 x 10"], ["12 x 10"]]);
    const dear = shopOf({ width: 12, stock: TWO, pieces: [[12, 10]] });
    const other = fresh(dear);
    other.place(dear.blocks[0]!, null);
    other.place(dear.blocks[0]!, null);
    // 10 more for the long panel, 20 for another
    expect(other.result().map(sizesOf)).toEqual([["12 x 10", "12 x 10"]]);
  });

  it("lays what may be turned the way that needs the cheaper new panel", () => {
    const shop = shopOf({
      width: 12,
      canTurn: true,
      stock: TWO,
      pieces: [
        [11, 13],
        [11, 12],
      ],
    });
    expect(fresh(shop).newPanel(shop.blocks[0]!)).toMatchObject({
      sheet: -1,
      space: null,
      added: 30,
      block: { h: 13 },
    });
    const spot = fresh(shop).newPanel(shop.blocks[1]!);
    expect(spot.added).toBe(20);
    const turning = shopOf({
      width: 12,
      canTurn: true,
      stock: TWO,
      pieces: [
        [8, 13],
        [8, 12],
      ],
    });
    expect(fresh(turning).newPanel(turning.blocks[1]!).block.turned).toBe(0);
    // ways that fit scrap only are no way to lie on a panel
    const long = shopOf({
      width: 12,
      canTurn: true,
      stock: TWO,
      pieces: [[5, 13]],
      scrap: [[13, 5]],
    });
    expect(long.blocks[0]).toHaveLength(2);
    expect(fresh(long).newPanel(long.blocks[0]!)).toMatchObject({
      added: 30,
      block: { turned: 0 },
    });
  });

  it("looks only at the sheets it is told to, and at new ones", () => {
    const shop = shopOf({ width: 12, stock: TWO, pieces: [[3, 4]] });
    const sheets = [0, 1].map(() => {
      const sheet = newSheet(-1, 12, 20);
      putBlock(sheet, sheet.spaces[0]!, shop.blocks[0]![0]!, 0, shop.least);
      return sheet;
    });
    expect(fresh(shop, sheets, [1]).find(shop.blocks[0]!, null)!.sheet).toBe(1);
    expect(fresh(shop, sheets).find(shop.blocks[0]!, null)!.sheet).toBe(0);
    const none = fresh(shop, sheets, []);
    expect(none.find(shop.blocks[0]!, null)).toBeNull();
    none.put(none.newPanel(shop.blocks[0]!));
    expect(none.find(shop.blocks[0]!, null)!.sheet).toBe(2);
    const adopting = fresh(shop, sheets, []);
    adopting.adopt(sheets[0]!);
    expect(adopting.find(shop.blocks[0]!, null)).toMatchObject({ sheet: 2, added: 0 });
    // a sheet without room is not looked at at all
    const full = newSheet(-1, 3, 4);
    putBlock(full, full.spaces[0]!, shop.blocks[0]![0]!, 0, shop.least);
    const filling = fresh(shop, [full]);
    filling.find(shop.blocks[0]!, null);
    expect(filling.work).toBe(0);
  });

  it("goes on in a panel rather than in a new one where both cost as much", () => {
    const shop = shopOf({
      width: 12,
      stock: [
        [12, 20],
        [20, 40],
      ],
      pieces: [
        [12, 12],
        [12, 8],
      ],
    });
    const filling = fresh(shop);
    filling.place(shop.blocks[0]!, null);
    // 20 more for the long panel, or 20 for another short one
    filling.place(shop.blocks[1]!, null);
    expect(filling.result().map(sizesOf)).toEqual([["12 x 12", "12 x 8"]]);
  });

  it("leaves the sheets it was given as they were", () => {
    const shop = shopOf({ width: 12, stock: TWO, pieces: [[3, 4]] });
    const given = newSheet(-1, 12, 20);
    putBlock(given, given.spaces[0]!, shop.blocks[0]![0]!, 0, shop.least);
    const before = JSON.stringify(given);
    const filling = fresh(shop, [given]);
    for (let k = 0; k < 3; k++) filling.place(shop.blocks[0]!, null);
    expect(JSON.stringify(given)).toBe(before);
    expect(filling.sheets[0]!.blocks).toBe(4);
    const kept = filling.sheets[0];
    filling.place(shop.blocks[0]!, null);
    expect(filling.sheets[0]).toBe(kept);
    expect(fresh(shop, [newSheet(-1, 12, 20), given]).result()).toEqual([given]);
  });
});

describe("covering a run", () => {
  const covers = (
    small: SmallProblem,
    change: { backward?: boolean; stretch?: Stretch; before?: (filling: Filling) => void } = {}
  ): { filling: Filling; rips: string[] } => {
    const shop = shopOf(small);
    const filling = fresh(shop);
    change.before?.(filling);
    const stretch = change.stretch ?? {
      run: 0,
      from: 0,
      to: shop.model.runs[0]!.joints.length - 1,
    };
    filling.cover(stretch, change.backward ?? false, null);
    const rips = filling.result().flatMap((sheet) =>
      blocksOf(sheet)
        .filter(({ run }) => run >= 0)
        .map(({ from, to, turned }) => `${from}-${to} ${turned}`)
    );
    return { filling, rips };
  };

  it("takes the longest rips a new panel gives for the money", () => {
    const run = { height: 3, joints: [0, 4, 8, 12, 16, 20, 24], smallest: 4 };
    // 20 of length for 30, or 12 for 20: 1.5 and 1.67 each; the rest beside it for nothing
    expect(covers({ width: 12, stock: TWO, runs: [run] }).rips).toEqual(["0-5 90", "5-6 90"]);
    expect(covers({ width: 12, stock: TWO, runs: [run] }, { backward: true }).rips).toEqual([
      "1-6 90",
      "0-1 90",
    ]);
  });

  it("takes what goes in for nothing first, the longest of it", () => {
    const small: SmallProblem = {
      width: 12,
      stock: TWO,
      pieces: [[9, 12]],
      runs: [{ height: 3, joints: [0, 4, 8, 12, 16], smallest: 4 }],
    };
    const { filling, rips } = covers(small, {
      before: (one) => one.place(one.shop.blocks[0]!, null),
    });
    // 12 beside the piece; the last 4 above it for 10 more, not in a panel for 20
    expect(rips).toEqual(["0-3 90", "3-4 90"]);
    expect(filling.result()).toHaveLength(1);
    expect(sheetCost(filling.shop.model, filling.sheets[0]!)).toBe(30);
  });

  it("knows a space for what it is of use, be it for the shortest rip in the middle of a run", () => {
    const shop = shopOf({
      width: 12,
      stock: [[20, 30]],
      runs: [{ height: 3, joints: [0, 9, 13, 22], smallest: 4 }],
    });
    expect(shop.least).toEqual([{ w: 3, h: 4 }]);
  });

  it("counts its work: each sheet and each space looked at for each rip", () => {
    const shop = shopOf({
      width: 12,
      stock: [[20, 30]],
      pieces: [[9, 16]],
      runs: [{ height: 3, joints: [0, 10, 20], smallest: 10 }],
    });
    const filling = fresh(shop);
    filling.put(filling.newPanel(shop.blocks[0]!));
    // beside the piece 3 x 20; above it 12 x 4, of no use for a rip of 10
    expect(filling.sheets[0]!.spaces).toHaveLength(1);
    filling.cover({ run: 0, from: 0, to: 2 }, false, null);
    expect(filling.work).toBe(2);
    // the strip is full
    filling.cover({ run: 0, from: 0, to: 1 }, false, null);
    expect(filling.work).toBe(2 + 1 + filling.sheets[0]!.spaces.length);
  });

  it("keeps to rips after which the rest can be covered", () => {
    const run = { height: 3, joints: [0, 6, 12, 16, 20], smallest: 6 };
    // 16 of 20 would leave 4
    const { rips } = covers({ width: 12, stock: [[18, 1]], runs: [run] });
    expect(rips).toEqual(["0-2 90", "2-4 90"]);
    const back = covers({ width: 12, stock: [[18, 1]], runs: [run] }, { backward: true });
    expect(back.rips).toEqual(["1-4 90", "0-1 90"]);
    // and so with part of a run
    const part = covers(
      { width: 12, stock: [[18, 1]], runs: [{ ...run, joints: [0, 6, 12, 18, 24, 30] }] },
      { stretch: { run: 0, from: 1, to: 4 } }
    );
    expect(part.rips).toEqual(["1-4 90"]);
  });

  it("uses whole scrap, the smaller first, along or across", () => {
    const run = { height: 3, joints: [0, 4, 8, 12], smallest: 4 };
    const scrap: [number, number][] = [
      [5, 9],
      [3, 8],
      [3, 5],
      [13, 2],
    ];
    const { filling, rips } = covers({ width: 12, stock: TWO, runs: [run], scrap });
    // 8 long from the second, the last 4 from the smallest that holds it, the third
    expect(rips).toEqual(["0-2 90", "2-3 90"]);
    expect(filling.scrapLeft).toEqual([true, false, false, true]);
    const across = covers({
      width: 12,
      canTurn: true,
      stock: TWO,
      runs: [run],
      scrap: [
        [12, 2],
        [12, 3],
      ],
    });
    expect(across.rips).toEqual(["0-3 0"]);
    expect(across.filling.scrapLeft).toEqual([true, false]);
    // of two the smaller, and one that just holds the shortest
    const smaller = covers({
      width: 12,
      canTurn: true,
      stock: TWO,
      runs: [run],
      scrap: [
        [12, 6],
        [16, 3],
      ],
    });
    expect(smaller.filling.scrapLeft).toEqual([true, false]);
    const short = { height: 3, joints: [0, 4], smallest: 4 };
    const holds = (w: number, h: number, canTurn = false): boolean =>
      !covers({ width: 12, canTurn, stock: TWO, runs: [short], scrap: [[w, h]] }).filling
        .scrapLeft[0];
    expect([holds(3, 4), holds(2, 20), holds(3, 3), holds(4, 3)]).toEqual([
      true,
      false,
      false,
      false,
    ]);
    expect([holds(4, 3, true), holds(3, 3, true)]).toEqual([true, false]);
    const upright = covers({ width: 12, stock: TWO, runs: [run], scrap: [[12, 3]] });
    expect(upright.filling.scrapLeft).toEqual([true]);
  });

  it("lays rips across the panel where they may be turned and that costs less", () => {
    const run = { height: 5, joints: [0, 4, 8, 12], smallest: 4 };
    const stock: SmallProblem["stock"] = [
      [20, 30],
      [6, 8],
    ];
    const small: SmallProblem = { width: 12, stock, runs: [run] };
    expect(covers({ ...small, canTurn: true }).rips).toEqual(["0-3 0"]);
    expect(covers(small).rips).toEqual(["0-3 90"]);
    // beside a piece that leaves room across the top only
    const above: SmallProblem = {
      width: 12,
      canTurn: true,
      stock: [[20, 30]],
      pieces: [[12, 15]],
      runs: [{ height: 5, joints: [0, 6, 12], smallest: 6 }],
    };
    const { filling, rips } = covers(above, {
      before: (one) => one.place(one.shop.blocks[0]!, null),
    });
    expect(rips).toEqual(["0-2 0"]);
    expect(filling.result()).toHaveLength(1);
    // higher than a panel is wide: across only
    const high = { height: 13, joints: [0, 6, 12], smallest: 6 };
    expect(covers({ width: 12, canTurn: true, stock: [[20, 30]], runs: [high] }).rips).toEqual([
      "0-2 0",
    ]);
  });

  it("chooses the narrower of two strips for the same rip", () => {
    const small: SmallProblem = {
      width: 12,
      stock: [[20, 30]],
      pieces: [
        [7, 20],
        [9, 20],
      ],
      runs: [{ height: 3, joints: [0, 10, 19], smallest: 9 }],
    };
    const { filling } = covers(small, {
      before: (one) => {
        one.put(one.newPanel(one.shop.blocks[0]!));
        one.put(one.newPanel(one.shop.blocks[1]!));
      },
    });
    expect(filling.result().map(({ rips }) => rips)).toEqual([0, 1]);
  });

  it("lays a rip across an open panel where that adds least, in the shorter of two strips", () => {
    const stock: SmallProblem["stock"] = [
      [12, 20],
      [20, 30],
    ];
    const small = (height: number): SmallProblem => ({
      width: 12,
      canTurn: true,
      stock,
      pieces: [[12, 10]],
      runs: [{ height, joints: [0, 6, 12], smallest: 6 }],
    });
    const before = (filling: Filling): void => void filling.place(filling.shop.blocks[0]!, null);
    // 2 more reach 12: nothing added; 3 more reach 13: 10 added, not 20
    for (const [height, cost] of [
      [2, 20],
      [3, 30],
    ] as const) {
      const { filling, rips } = covers(small(height), { before });
      expect(rips).toEqual(["0-2 0"]);
      expect(filling.result()).toHaveLength(1);
      expect(sheetCost(filling.shop.model, filling.sheets[0]!)).toBe(cost);
    }
    const strips = covers(
      {
        width: 12,
        canTurn: true,
        stock: [[20, 30]],
        pieces: [
          [12, 17],
          [3, 20],
          [9, 17],
        ],
        runs: [{ height: 3, joints: [0, 9], smallest: 9 }],
      },
      {
        before: (filling) => {
          filling.put(filling.newPanel(filling.shop.blocks[0]!));
          filling.put(filling.newPanel(filling.shop.blocks[1]!));
          filling.place(filling.shop.blocks[2]!, null);
        },
      }
    );
    // above 12 x 17 there are 12 in a row, above 9 x 17 beside 3 x 20 there are 9
    expect(strips.filling.sheets.map(({ rips }) => rips)).toEqual([0, 1]);
  });

  it("goes on in scrap already begun, the narrower strip first, before whole scrap", () => {
    const small: SmallProblem = {
      width: 12,
      stock: [[20, 30]],
      pieces: [
        [2, 9],
        [1, 9],
      ],
      runs: [{ height: 3, joints: [0, 9], smallest: 9 }],
      scrap: [
        [6, 9],
        [4, 9],
        [3, 9],
      ],
    };
    const shop = shopOf(small);
    const sheets = [0, 1].map((k) => {
      const sheet = newSheet(k, k === 0 ? 6 : 4, 9);
      putBlock(sheet, sheet.spaces[0]!, shop.blocks[k]![0]!, 0, shop.least);
      return sheet;
    });
    const filling = new Filling(shop, sheets, [false, false, true]);
    filling.cover({ run: 0, from: 0, to: 1 }, false, null);
    // 4 are left of the first, 3 of the second; the third stays whole
    expect(filling.sheets.map(({ rips }) => rips)).toEqual([0, 1]);
    expect(filling.scrapLeft).toEqual([false, false, true]);
  });

  it("makes new panels of the shortest rips where every spot is passed over", () => {
    const shop = shopOf({
      width: 12,
      stock: TWO,
      runs: [{ height: 3, joints: [0, 4, 8, 12], smallest: 4 }],
    });
    const filling = fresh(shop);
    filling.cover({ run: 0, from: 0, to: 3 }, false, () => true);
    expect(filling.result().map(sizesOf)).toEqual([["3 x 4"], ["3 x 4"], ["3 x 4"]]);
  });

  it("knows between which joints rips can cover a run", () => {
    const shop = shopOf({
      width: 12,
      stock: [[20, 1]],
      runs: [
        { height: 3, joints: [0, 4, 10, 14, 18, 24], smallest: 6 },
        { height: 3, joints: [0, 9], smallest: 6 },
      ],
    });
    const can = (from: number): string =>
      [0, 1, 2, 3, 4, 5].map((to) => (shop.coverable(0, from, to) ? "y" : "n")).join("");
    // no rip starts or ends at 4, which is too near the start; none goes back
    expect(can(0)).toBe("ynyyyy");
    expect(can(1)).toBe("nynnnn");
    // from 10 to 14 only 4 are left
    expect(can(2)).toBe("nnynyy");
    // from 14 to 18 too, but 10 to the end
    expect(can(3)).toBe("nnnyny");
    expect(can(4)).toBe("nnnnyy");
    expect(can(5)).toBe("nnnnny");
    expect(can(0)).toBe("ynyyyy");
    expect(shop.coverable(1, 0, 1)).toBe(true);
  });

  it("can cover exactly what a row of rips covers, of those a whole cover can contain", () => {
    const found: string[] = [];
    const expected: string[] = [];
    let some = 0;
    for (const { small } of solvedProblems()) {
      const shop = shopOf(small);
      shop.model.runs.forEach(({ joints }, run) => {
        const arcs = runArcs(shop.model, shop.model.runs[run]!);
        const row = (from: number, to: number): boolean =>
          from === to || arcs.some((arc) => arc.from === from && arc.to <= to && row(arc.to, to));
        joints.forEach((_, from) =>
          joints.forEach((__, to) => {
            found.push(`${run} ${from}-${to} ${shop.coverable(run, from, to)}`);
            expected.push(`${run} ${from}-${to} ${row(from, to)}`);
            if (from < to && !row(from, to)) some++;
          })
        );
      });
    }
    expect(found).toEqual(expected);
    expect(some).toBeGreaterThan(10);
  });
});

describe("filling everything", () => {
  it("places tall pieces before low, wide before narrow, then runs from the highest", () => {
    const shop = shopOf({
      width: 12,
      stock: [[20, 1]],
      pieces: [
        [2, 5],
        [4, 19],
        [12, 20],
        [5, 5],
        [3, 4, 11],
        [3, 12, 4],
      ],
      runs: [
        { height: 2, joints: [0, 4], smallest: 4 },
        { height: 4, joints: [0, 4], smallest: 4 },
      ],
    });
    const order: string[] = [];
    const filling = fresh(shop);
    const put = filling.put.bind(filling);
    filling.put = (spot: Spot): void => {
      order.push(`${spot.block.w} x ${spot.block.h}`);
      put(spot);
    };
    fillRest(
      filling,
      [1, 1, 1, 2, 1, 1],
      [
        { run: 0, from: 0, to: 1 },
        { run: 1, from: 0, to: 1 },
      ]
    );
    expect(order).toEqual([
      "12 x 20",
      "4 x 19",
      "3 x 12",
      "3 x 11",
      "5 x 5",
      "5 x 5",
      "2 x 5",
      "4 x 4",
      "2 x 4",
    ]);
  });

  it("places rake pieces by their taller side", () => {
    const shop = shopOf({
      width: 12,
      stock: [[20, 1]],
      pieces: [
        [3, 9],
        [3, 2, 11],
        [3, 10],
        [3, 12, 1],
      ],
    });
    const order: number[] = [];
    const filling = fresh(shop);
    const put = filling.put.bind(filling);
    filling.put = (spot: Spot): void => {
      order.push(spot.block.type);
      put(spot);
    };
    fillRest(filling, [1, 1, 1, 1], []);
    expect(order).toEqual([3, 1, 2, 0]);
  });

  it("covers stretches of one run in order, and leaves out what is not wanted", () => {
    const shop = shopOf({
      width: 12,
      stock: [[20, 1]],
      pieces: [
        [2, 5],
        [4, 19],
      ],
      runs: [
        { height: 3, joints: [0, 4, 8, 12], smallest: 4 },
        { height: 3, joints: [0, 5], smallest: 4 },
      ],
    });
    const filling = fresh(shop);
    const order: string[] = [];
    const put = filling.put.bind(filling);
    filling.put = (spot: Spot): void => {
      order.push(`${spot.block.type} ${spot.block.run} ${spot.block.from}`);
      put(spot);
    };
    fillRest(
      filling,
      [0, 1],
      [
        { run: 1, from: 0, to: 1 },
        { run: 0, from: 2, to: 3 },
        { run: 0, from: 0, to: 1 },
      ]
    );
    expect(order).toEqual(["1 -1 0", "-1 0 0", "-1 0 2", "-1 1 0"]);
  });

  it("places everything once, and says of each sheet what it costs", () => {
    fc.assert(
      fc.property(smallProblems, (small) => {
        const shop = shopOf(small);
        const { types, runs } = shop.model;
        const filling = fresh(shop);
        fillRest(
          filling,
          types.map(({ ids }) => ids.length),
          runs.map((run) => ({ run: run.index, from: 0, to: run.joints.length - 1 }))
        );
        const blocks = filling.result().flatMap(blocksOf);
        types.forEach((type) => {
          expect(blocks.filter((one) => one.type === type.index)).toHaveLength(type.ids.length);
        });
        runs.forEach((run) => {
          const own = blocks.filter((one) => one.run === run.index).sort((a, b) => a.from - b.from);
          expect(own.map(({ from }) => from)).toEqual([0, ...own.slice(0, -1).map(({ to }) => to)]);
          expect(own[own.length - 1]!.to).toBe(run.joints.length - 1);
        });
      }),
      law(61, 60)
    );
  });
});
