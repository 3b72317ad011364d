/** Single rounds of improving a plan, followed by hand with numbers told beforehand in place of the sequence. */
import { Filling, Shop } from "../../../src/core/cut-plan/fill.js";
import { type ImproveOptions, Sequence, improve } from "../../../src/core/cut-plan/improve.js";
import type { Block } from "../../../src/core/cut-plan/blocks.js";
import type { KnapsackTree } from "../../../src/core/cut-plan/knapsack.js";
import { type Leaf, Master } from "../../../src/core/cut-plan/master.js";
import type { Sheet } from "../../../src/core/cut-plan/sheet.js";
import { type SmallProblem, modelOf } from "./small-problems.js";

/** The numbers given, then 0.5 for ever. */
class Script extends Sequence {
  used = 0;
  constructor(private readonly numbers: readonly number[]) {
    super(1);
  }
  override next(): number {
    return this.numbers[this.used++] ?? 0.5;
  }
}

const nameOf = ({ type, pair, run, from, to }: Block): string =>
  run >= 0
    ? `run ${run}: ${from}-${to}`
    : pair
      ? [pair.lower, pair.upper].sort().join("+")
      : `${type}`;

interface Followed extends ReturnType<typeof improve> {
  /** what was placed, round by round: pieces, pairs, stretches of runs (`<` from the far end) */
  readonly placed: string[][];
  /** numbers asked for */
  readonly used: number;
}

const STOP = new Error("enough rounds");

/**
 * As many rounds as the work allows; `results` puts plans in the place of what they come to. After `rounds` the next is
 * followed up to its end, and there is no answer.
 */
function followed(
  shop: Shop,
  start: readonly Sheet[],
  numbers: readonly number[],
  {
    results = [],
    rounds = Infinity,
    ...change
  }: Partial<ImproveOptions> & {
    readonly results?: readonly (readonly Sheet[])[];
    readonly rounds?: number;
  } = {}
): Followed {
  const { place, cover, result } = Filling.prototype;
  const placed: string[][] = [[]];
  const now = (): string[] => placed[placed.length - 1]!;
  Filling.prototype.place = function (blocks, skip): Block {
    now().push(nameOf(blocks[0]!));
    return place.call(this, blocks, skip);
  };
  Filling.prototype.cover = function (stretch, backward, skip): void {
    now().push(`run ${stretch.run}: ${stretch.from}-${stretch.to}${backward ? " <" : ""}`);
    cover.call(this, stretch, backward, skip);
  };
  Filling.prototype.result = function (): Sheet[] {
    const given = results[placed.length - 1];
    if (placed.length > rounds) throw STOP;
    placed.push([]);
    return given ? [...given] : result.call(this);
  };
  const sequence = new Script(numbers);
  let found = { sheets: [] as Sheet[], cost: 0, work: 0, rounds: 0 };
  try {
    found = improve(shop, start, sequence, {
      budget: 1,
      floor: 0,
      scrapFree: shop.model.scrap.map(() => false),
      joint: 0,
      ceiling: Infinity,
      ...change,
    });
  } catch (error) {
    if (error !== STOP) throw error;
  } finally {
    Object.assign(Filling.prototype, { place, cover, result });
  }
  return { ...found, placed, used: sequence.used };
}

/** Sheets with the given blocks, each list on a panel of its own. */
function sheetsOf(shop: Shop, lists: readonly (readonly (readonly Block[])[])[]): Sheet[] {
  return lists.map((list) => {
    const filling = new Filling(shop, [], []);
    list.forEach((blocks) => filling.place(blocks, null));
    const sheets = filling.result();
    expect(sheets).toHaveLength(1);
    return sheets[0]!;
  });
}

/** A panel costs its area, so that the share of it left open is that of its wood. */
const AT_AREA: SmallProblem["stock"] = [[20, 240]];

/** A piece on each of so many panels. */
function apart(
  pieces: readonly (readonly number[])[],
  change: Partial<SmallProblem> = {}
): { shop: Shop; start: Sheet[] } {
  const shop = new Shop(modelOf({ width: 12, stock: AT_AREA, pieces, ...change }));
  return {
    shop,
    start: sheetsOf(
      shop,
      shop.blocks.map((blocks) => [blocks])
    ),
  };
}

describe("the sheets taken apart", () => {
  // 7 wide, no two go together
  const SIX = [14, 15, 16, 17, 18, 19].map((height) => [7, height]);
  const sortedOf = ({ placed }: Followed): string[] => [...placed[0]!].sort();
  /** numbers that pick sheets of six in turn, each taken at once */
  const inTurn = [0, 0.2, 0.4, 0.6, 0.7, 0.9].flatMap((place) => [place, 0.5]);

  it("are one to five", () => {
    const { shop, start } = apart(SIX);
    expect(sortedOf(followed(shop, start, [0.99, ...inTurn]))).toEqual(["0", "1", "2", "3", "4"]);
    expect(sortedOf(followed(shop, start, [0.79, ...inTurn]))).toEqual(["0", "1", "2", "3"]);
    expect(sortedOf(followed(shop, start, [0.41, ...inTurn]))).toEqual(["0", "1", "2"]);
    expect(sortedOf(followed(shop, start, [0, ...inTurn]))).toEqual(["0"]);
  });

  it("are no more than there are", () => {
    const { shop, start } = apart(SIX.slice(0, 2));
    const found = followed(shop, start, [0.99, 0, 0.5, 0.6, 0.5]);
    expect(sortedOf(found)).toEqual(["0", "1"]);
    // 5 of picking; rule, spread and a number for each piece; one for rakes, one for rips; none else
    expect(found.used).toBe(5 + 4 + 2);
  });

  it("are one to three where a run is taken out as well", () => {
    const { shop, start } = apart(SIX.slice(0, 4), {
      runs: [{ height: 2, joints: [0, 10], smallest: 10 }],
    });
    const filling = new Filling(shop, start, []);
    filling.place(shop.ripBlocks(0, 0, 1), null);
    const sheets = filling.result();
    const picks = [0, 0.3, 0.6, 0.9].flatMap((place) => [place, 0.5]);
    // the first number takes the run, the second says which
    const found = followed(shop, sheets, [0.19, 0.5, 0.99, ...picks]);
    expect(sortedOf(found)).toEqual(["0", "1", "2", "run 0: 0-1"]);
    // from 0.2 on no run is taken, and all four may be
    const whole = followed(shop, sheets, [0.21, 0.99, ...picks]);
    expect(sortedOf(whole).filter((one) => !one.startsWith("run"))).toEqual(["0", "1", "2", "3"]);
  });

  it("are those of 2 % and eight times the share they leave open", () => {
    // 228 of 240: 0.05 open, taken at 0.42 or less
    const { shop, start } = apart([
      [12, 19],
      [7, 14],
    ]);
    expect(followed(shop, start, [0, 0, 0.41, 0.9, 0.5]).placed[0]).toEqual(["0"]);
    expect(followed(shop, start, [0, 0, 0.43, 0.9, 0.5]).placed[0]).toEqual(["1"]);
    // full ones at 0.02
    shop.price({ piece: () => 240, rip: () => 0 });
    expect(followed(shop, start, [0, 0, 0.019, 0.9, 0.01]).placed[0]).toEqual(["0"]);
    expect(followed(shop, start, [0, 0, 0.021, 0.9, 0.01]).placed[0]).toEqual(["1"]);
    // worth more than they cost they are no more than full
    shop.price({ piece: () => 500, rip: () => 0 });
    expect(followed(shop, start, [0, 0, 0.019, 0.9, 0.01]).placed[0]).toEqual(["0"]);
    expect(followed(shop, start, [0, 0, 0.021, 0.9, 0.01]).placed[0]).toEqual(["1"]);
  });

  it("are one at random where forty tries take none", () => {
    const { shop, start } = apart(SIX.slice(0, 3));
    shop.price({ piece: () => 240, rip: () => 0 });
    const tries = Array.from({ length: 40 }, () => [0, 0.5]).flat();
    expect(followed(shop, start, [0, ...tries, 0.99]).placed[0]).toEqual(["2"]);
    expect(followed(shop, start, [0, ...tries, 0.1]).placed[0]).toEqual(["0"]);
    // the fortieth may still take one
    expect(followed(shop, start, [0, ...tries.slice(0, -2), 0.5, 0.01]).placed[0]).toEqual(["1"]);
  });

  it("are scrap without more ado, which is free again", () => {
    const { shop, start } = apart([[12, 20]], {
      scrap: [[4, 5]],
      pieces: [
        [12, 20],
        [4, 4],
      ],
    });
    const filling = new Filling(shop, start.slice(0, 1), [true]);
    filling.place(shop.blocks[1]!, null);
    const sheets = filling.result();
    expect(sheets.map(({ scrap }) => scrap)).toEqual([-1, 0]);
    // 0.9 is the scrap; rule, spread, one piece, rakes, rips; no other number
    const found = followed(shop, sheets, [0, 0.9]);
    expect(found.placed[0]).toEqual(["1"]);
    expect(found.used).toBe(2 + 3 + 2);
    expect(found.sheets.map(({ scrap }) => scrap)).toEqual([-1, 0]);
    expect(found.cost).toBe(240);
  });
});

describe("the order in which pieces go back", () => {
  /** both sheets of two taken apart */
  const BOTH = [0.3, 0, 0, 0.6, 0];
  const AREA = 0.1;
  const HEIGHT = 0.3;
  const WIDTH = 0.6;
  const SIDES = 0.8;
  const orderOf = (pieces: readonly number[][], numbers: readonly number[]): string => {
    const { shop, start } = apart(pieces);
    return followed(shop, start, [...BOTH, ...numbers]).placed[0]!.join();
  };

  it("is by size, up to 2.5 % more or less, and up to 17.5 where the numbers spread most", () => {
    // 100 and 104
    const pieces = [
      [10, 10],
      [8, 13],
    ];
    expect(orderOf(pieces, [AREA, 0, 0.5, 0.5])).toBe("1,0");
    // at most 102.5
    expect(orderOf(pieces, [AREA, 0, 0.999, 0.5])).toBe("1,0");
    // a spread of 0.11: 105.5, or 98.3 for the second
    expect(orderOf(pieces, [AREA, 0.2, 0.999, 0.5])).toBe("0,1");
    expect(orderOf(pieces, [AREA, 0.2, 0.5, 0])).toBe("0,1");
    expect(orderOf(pieces, [AREA, 0.2, 0, 0.5])).toBe("1,0");
    expect(orderOf(pieces, [AREA, 0.2, 0.5, 0.999])).toBe("1,0");
    // 100 and 117: a spread of 0.35 makes it 117.45, of 0.32 no more than 116
    const far = [
      [10, 10],
      [9, 13],
    ];
    expect(orderOf(far, [AREA, 0.999, 0.999, 0.5])).toBe("0,1");
    expect(orderOf(far, [AREA, 0.9, 0.999, 0.5])).toBe("1,0");
  });

  it("is by height, then width; by width, then height; or by both sides together", () => {
    const taller = [
      [12, 9],
      [3, 10],
    ];
    expect(orderOf(taller, [HEIGHT, 0])).toBe("1,0");
    expect(orderOf(taller, [WIDTH, 0])).toBe("0,1");
    expect(orderOf(taller, [SIDES, 0])).toBe("0,1");
    const sameHeight = [
      [5, 9],
      [7, 9],
    ];
    expect(orderOf(sameHeight, [HEIGHT, 0])).toBe("1,0");
    const sameWidth = [
      [9, 5],
      [9, 8],
    ];
    expect(orderOf(sameWidth, [WIDTH, 0])).toBe("1,0");
    // 13 and 12; by area 36 and 27; by height it would be the second
    expect(
      orderOf(
        [
          [3, 9],
          [9, 4],
        ],
        [SIDES, 0]
      )
    ).toBe("1,0");
    // 14 and 13 where the areas are 24 and 42
    expect(
      orderOf(
        [
          [7, 6],
          [2, 12],
        ],
        [SIDES, 0]
      )
    ).toBe("1,0");
  });

  it("is that of their sheets where they are of one size, whichever sheet was picked first", () => {
    // both sides together are 21
    const { shop, start } = apart([
      [8, 13],
      [9, 12],
      [10, 11],
    ]);
    const placedOf = (...numbers: number[]): string =>
      followed(shop, start, [0.3, ...numbers, SIDES, 0]).placed[0]!.join();
    expect(placedOf(0, 0, 0.9, 0)).toBe("0,2");
    expect(placedOf(0.9, 0, 0, 0)).toBe("0,2");
  });

  it("has rips last seven times of ten, else by their size, from either end", () => {
    const shop = new Shop(
      modelOf({
        width: 12,
        stock: AT_AREA,
        pieces: [[6, 6]],
        runs: [{ height: 3, joints: [0, 10, 20], smallest: 10 }],
      })
    );
    const start = sheetsOf(shop, [[shop.blocks[0]!, shop.ripBlocks(0, 0, 2)]]);
    // no run taken, one sheet, taken; by area, without spread: 36 and 60
    const before = [0.5, 0, 0, 0, AREA, 0, 0.5, 0.5];
    const placedOf = (...numbers: number[]): string[] =>
      followed(shop, start, [...before, ...numbers]).placed[0]!;
    expect(placedOf(0.69)[0]).toBe("0");
    expect(placedOf(0.71, 0.5)[0]).toBe("run 0: 0-2");
    expect(placedOf(0.71, 0.5, 0.49)[0]).toBe("run 0: 0-2 <");
    expect(placedOf(0.71, 0.5, 0.51)[0]).toBe("run 0: 0-2");
    // of a part of a run only its own length: 30
    const part = sheetsOf(shop, [[shop.blocks[0]!, shop.ripBlocks(0, 1, 2)]]);
    const placed = followed(shop, part, [...before, 0.71, 0.5]).placed[0]!;
    expect(placed[0]).toBe("0");
  });
});

describe("rake pieces that go back", () => {
  const RAKES = [
    [12, 3, 9],
    [12, 4, 10],
    [12, 5, 11],
  ];
  const TWO_LENGTHS: SmallProblem["stock"] = [
    [14, 168],
    [20, 240],
  ];
  function rakesOf(
    pieces: readonly number[][],
    lists: readonly (readonly number[])[],
    numbers: readonly number[]
  ): string[] {
    const shop = new Shop(modelOf({ width: 12, stock: TWO_LENGTHS, pieces }));
    const start = sheetsOf(
      shop,
      lists.map((list) => list.map((type) => shop.blocks[type]!))
    );
    return followed(shop, start, numbers).placed[0]!.sort(
      (a, b) => a.length - b.length || (a < b ? -1 : 1)
    );
  }
  /** the one sheet there is; by area, no spread, the rakes as they come */
  const ONE = [0, 0, 0, 0.1, 0, 0.9];

  it("are paired as often as the numbers say, half of the time at most not", () => {
    const of = (...numbers: number[]): string[] =>
      rakesOf(RAKES.slice(0, 2), [[0, 1]], [...ONE, ...numbers]);
    // 0.8 is four times of ten alone
    expect(of(0.8, 0.41)).toEqual(["0+1"]);
    expect(of(0.8, 0.39)).toEqual(["0", "1"]);
    expect(of(0, 0)).toEqual(["0+1"]);
    expect(of(0.99, 0.5)).toEqual(["0+1"]);
  });

  it("take the partner that leaves least of the panel, but for a share that the numbers say", () => {
    // with the last: 5 + 9 is 14 of 14 high, 5 + 10 is 15 of 20
    const of = (...numbers: number[]): string[] =>
      rakesOf(
        RAKES,
        [[0, 1], [2]],
        // both sheets, by area, no spread, 0 1 2 as they come, never alone
        [0.3, 0, 0, 0.6, 0, 0.1, 0, 0.9, 0.9, 0, 0.5, ...numbers]
      );
    expect(of(0.5, 0.5)).toEqual(["1", "0+2"]);
    // 0 + 0.24 is still less than 0.25, 0 + 0.26 is not
    expect(of(0.48, 0)).toEqual(["1", "0+2"]);
    expect(of(0.52, 0)).toEqual(["0", "1+2"]);
  });

  it("stay alone where none rises the same way, or two are too high for any panel", () => {
    const other = [
      [12, 3, 9],
      [12, 9, 3],
    ];
    expect(rakesOf(other, [[0, 1]], [...ONE, 0, 0.5])).toEqual(["0", "1"]);
    // 8 and 14 are 22
    const high = [
      [12, 8, 14],
      [12, 8, 14],
    ];
    const both = [0.3, 0, 0, 0.6, 0, 0.1, 0, 0.9, 0, 0.5];
    expect(rakesOf(high, [[0], [0]], both)).toEqual(["0", "0"]);
    // 6 and 14 are 20, which is all there is
    const highest = [
      [12, 6, 14],
      [12, 6, 14],
    ];
    expect(rakesOf(highest, [[0], [0]], both)).toEqual(["0+0"]);
    // the last is taken first and finds none; the others are a pair
    const third = [
      [12, 3, 9],
      [12, 4, 10],
      [12, 9, 3],
    ];
    const three = [0.3, 0, 0, 0.6, 0, 0.1, 0, 0.9, 0.9, 0, 0.5, 0.5, 0.5];
    expect(rakesOf(third, [[0, 1], [2]], three)).toEqual(["2", "0+1"]);
  });

  it("are taken in an order that the numbers say", () => {
    // the last of the three is taken first
    const of = (first: number, second: number): string[] =>
      rakesOf(RAKES, [[0, 1], [2]], [0.3, 0, 0, 0.6, 0, 0.1, 0, first, second, 0, 0.5, 0.5, 0.5]);
    // 2, as they come: with 0 it is 14 of 14
    expect(of(0.9, 0.9)).toEqual(["1", "0+2"]);
    // 2 goes to the front: 1 is taken first: with 0 it is 13 of 14, with 2 it is 15 of 20
    expect(of(0.4, 0.9)).toEqual(["2", "0+1"]);
    // 2 to the front, then the middle to the front: 0 is taken first: with 2, 14 of 14
    expect(of(0, 0)).toEqual(["1", "0+2"]);
  });
});

describe("a plan that is worse", () => {
  /** Panels with one piece of the given height across them: open by the rest of 20. */
  function openBy(...heights: number[]): { shop: Shop; sheets: Sheet[] } {
    const { shop, start } = apart(heights.map((height) => [12, height]));
    return { shop, sheets: start };
  }
  /** What the second round takes apart after the first came to `result` and drew `number` last. */
  function takenUp(
    shop: Shop,
    start: readonly Sheet[],
    result: readonly Sheet[],
    number: number,
    change: Partial<ImproveOptions> & { numbers?: readonly number[] } = {}
  ): string {
    const { numbers = [], ...options } = change;
    const limits = { budget: 1e9, results: [result], ...options };
    // what the second round takes is drawn like what the first does
    const { used } = followed(shop, start, numbers, { ...limits, budget: 1 });
    const drawn = Array.from({ length: used - 1 }, (_, k) => numbers[k] ?? 0.5);
    return followed(shop, start, [...drawn, number, ...drawn], { ...limits, rounds: 1 })
      .placed[1]!.sort()
      .join();
  }

  it("is taken up as often as the law of cooling has it, by what gathering waste is worth", () => {
    // half open: 240 less 0.4 x 0.25 of it is 216; 0.4 open: 224.64. e to the -8.64 / 7.2 is 0.3012
    const { shop, sheets } = openBy(10, 12);
    const [half, less] = sheets;
    expect(takenUp(shop, [half!], [less!], 0.3)).toBe("1");
    expect(takenUp(shop, [half!], [less!], 0.303)).toBe("0");
    // the other way round it is better, and taken up without a number
    expect(followed(shop, [less!], [], { results: [[half!]] }).used).toBe(8);
    expect(followed(shop, [half!], [], { results: [[less!]] }).used).toBe(9);
    expect(followed(shop, [half!], [], { results: [[half!]] }).used).toBe(8);
  });

  it("is taken up more seldom with the square of the work left, and never in the last tenth", () => {
    // 220.56, with 4,800 steps done of nine tenths of 9,601: 0.19758 x 7.2 is 1.4226; e to the -4.56 / 1.4227 is 0.0406
    const { shop, sheets } = openBy(10, 11);
    const [half, less] = sheets;
    const third = (number: number, budget: number): string => {
      const round = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5];
      const results = [[half!], [less!]];
      const numbers = [...round, ...round, number];
      return followed(shop, [half!], numbers, { budget, results }).placed[2]!.join();
    };
    expect(third(0.04, 9601)).toBe("1");
    expect(third(0.041, 9601)).toBe("0");
    // the twentieth round of 20.0002 begins at 91,200 of 96,001 steps
    const late = followed(shop, [half!], [...Array.from({ length: 20 * 8 }, () => 0.5), 0], {
      budget: 96_001,
      results: [...Array.from({ length: 19 }, () => [half!]), [less!]],
    });
    expect(late.used).toBe(20 * 8 + 1 + 8);
    expect(late.placed[20]).toEqual(["0"]);
  });

  it("has a price on its rips: so many panels of the dearest length, in scrap too", () => {
    const shop = new Shop(
      modelOf({
        width: 12,
        stock: [
          [14, 168],
          [20, 240],
        ],
        runs: [
          { height: 2, joints: [0, 5, 10], smallest: 5 },
          { height: 2, joints: [0, 5], smallest: 5 },
        ],
        scrap: [[6, 12]],
      })
    );
    shop.price({ piece: () => 0, rip: () => 0 });
    const whole = shop.ripBlocks(0, 0, 2);
    const parts = [shop.ripBlocks(0, 0, 1), shop.ripBlocks(0, 1, 2)];
    const [one, two] = sheetsOf(shop, [[whole], parts]);
    // 7.2 more: e to the -1 is 0.368
    const change = { joint: 0.03, numbers: [0.5] };
    expect(takenUp(shop, [one!], [two!], 0.36, change)).toBe("run 0: 0-2");
    const inScrap = (blocks: readonly (readonly Block[])[]): Sheet => {
      const filling = new Filling(shop, [], [true]);
      blocks.forEach((block) => filling.place(block, null));
      const sheets = filling.result();
      expect(sheets.map(({ scrap }) => scrap)).toEqual([0]);
      return sheets[0]!;
    };
    const other = shop.ripBlocks(1, 0, 1);
    for (const [start, result] of [
      sheetsOf(shop, [[whole], [whole, other]]),
      [inScrap([whole]), inScrap([whole, other])],
    ]) {
      expect(takenUp(shop, [start!], [result!], 0.366, change)).toMatch(/run 1/);
      expect(takenUp(shop, [start!], [result!], 0.37, change)).not.toMatch(/run 1/);
      expect(takenUp(shop, [start!], [result!], 0.999, { joint: 0, floor: -1 })).toMatch(/run 1/);
    }
  });

  it("is judged with the panels that something went onto", () => {
    const { shop } = apart([
      [12, 16],
      [12, 14],
      [3, 2],
      [2, 2],
    ]);
    const [large, lower, three, two] = shop.blocks;
    const start = sheetsOf(shop, [[large!, three!, two!], [lower!]]);
    // the first sheet apart, by area; 3 x 2 passes over the strip of 4 beside it and goes onto the second, 2 x 2 after it
    const numbers = [0, 0, 0.5, 0.1, 0, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.01, 0.5, 0.5];
    const found = followed(shop, start, [...numbers, 0], { budget: 1 });
    expect(found.used).toBe(15);
    // 38 and 72 of 240 open become 48 and 62: 0.8 more, e to the -0.8 / 7.2 is 0.8948
    const second = (number: number): string =>
      followed(shop, start, [...numbers, number, 0, 0.1, 0.1], {
        budget: 1e9,
        rounds: 1,
      }).placed[1]!.join();
    expect(second(0.894).split(",").sort()).toEqual(["1", "2", "3"]);
    expect(second(0.896).split(",").sort()).toEqual(["0", "2", "3"]);
  });

  it("is judged with the panels a run came out of", () => {
    const shop = new Shop(
      modelOf({
        width: 12,
        stock: AT_AREA,
        pieces: [
          [9, 20],
          [9, 20],
        ],
        runs: [{ height: 3, joints: [0, 10, 20], smallest: 10 }],
      })
    );
    const piece = shop.blocks[0]!;
    const rip = (from: number, to: number): readonly Block[] => shop.ripBlocks(0, from, to);
    const start = sheetsOf(shop, [[piece, rip(0, 2)], [piece]]);
    const split = sheetsOf(shop, [
      [piece, rip(0, 1)],
      [piece, rip(1, 2)],
    ]);
    // 0 and 0.25 open, or 0.125 each: 3 more, e to the -3 / 7.2 is 0.6593
    const numbers = [0.1, 0.5, 0, 0.9];
    const { used } = followed(shop, start, numbers, { results: [split] });
    const drawn = Array.from({ length: used - 1 }, (_, k) => numbers[k] ?? 0.5);
    // the run stays, the first sheet goes: a rip of 20 or of 10 comes out with the piece
    const next = [0.5, 0, 0, 0];
    const out = (number: number): string[] =>
      followed(shop, start, [...drawn, number, ...next], {
        budget: 1e9,
        results: [split],
        rounds: 1,
      }).placed[1]!.sort();
    expect(out(0.658)[1]).toMatch(/^run 0: 0-1/);
    expect(out(0.661)[1]).toMatch(/^run 0: 0-2/);
  });

  it("is never given back", () => {
    const { shop, sheets } = openBy(10, 12, 5);
    const [half, less, most] = sheets;
    const numbers = [...Array.from({ length: 8 }, () => 0.5), 0];
    const limits = { budget: 4801 };
    const root = (result: readonly Sheet[], start = half!): unknown =>
      followed(shop, [start], numbers, { ...limits, results: [result, result] }).sheets[0]!.root;
    expect(root([less!])).toBe(half!.root);
    expect(root([half!, half!])).toBe(half!.root);
    // of two at one cost the one with its waste gathered, and of equal ones the first
    expect(root([most!])).toBe(most!.root);
    expect(root([{ ...half!, root: { ...half!.root } }])).toBe(half!.root);
    // a cheaper one
    const cheap = followed(shop, [half!, less!], [], { results: [[half!]] });
    expect([cheap.cost, cheap.sheets.length]).toEqual([240, 1]);
  });

  it("is the dearer one, however its waste lies", () => {
    const { shop } = apart(
      [
        [12, 14],
        [12, 15],
      ],
      {
        stock: [
          [14, 168],
          [20, 240],
        ],
      }
    );
    // the short one full, the long one nearly empty: 168 and 144.1
    shop.price({ piece: (type) => (type === 0 ? 168 : 0.1), rip: () => 0 });
    const [short, long] = sheetsOf(shop, [[shop.blocks[0]!], [shop.blocks[1]!]]);
    const numbers = [...Array.from({ length: 8 }, () => 0.5), 0];
    const taken = followed(shop, [long!], numbers, { results: [[short!]] });
    expect([taken.used, taken.cost, taken.sheets[0]!.root]).toEqual([9, 168, short!.root]);
    const kept = followed(shop, [short!], [0.5, 0.5, 0.01], { results: [[long!]] });
    // taken up without a number, and not given back
    expect([kept.used, kept.cost, kept.sheets[0]!.root]).toEqual([8, 168, short!.root]);
  });

  it("dearer than the ceiling is not even taken up", () => {
    const { shop, sheets } = openBy(10, 5);
    const [half, most] = sheets;
    const after = (ceiling: number): string =>
      followed(shop, [half!], [], { budget: 1e9, rounds: 1, results: [[most!]], ceiling })
        .placed[1]![0]!;
    expect(after(Infinity)).toBe("1");
    expect(after(240)).toBe("1");
    expect(after(239)).toBe("0");
  });
});

describe("a run that is taken out", () => {
  it("frees the scrap it leaves empty", () => {
    const shop = new Shop(
      modelOf({
        width: 12,
        stock: AT_AREA,
        pieces: [[12, 20]],
        runs: [{ height: 3, joints: [0, 4], smallest: 4 }],
        scrap: [[3, 4]],
      })
    );
    const filling = new Filling(shop, sheetsOf(shop, [[shop.blocks[0]!]]), [true]);
    filling.place(shop.ripBlocks(0, 0, 1), null);
    const start = filling.result();
    expect(start.map(({ scrap }) => scrap)).toEqual([-1, 0]);
    // the run, the only one; one sheet, the first, full as it is
    const found = followed(shop, start, [0.1, 0, 0, 0, 0.01]);
    expect(found.placed[0]!.sort()).toEqual(["0", "run 0: 0-1"]);
    // 5 to here; 5 for the order, one for the end to start from, one for the scrap; no worse, so none to take it up
    expect(found.used).toBe(12);
    expect(found.sheets.map(({ scrap }) => scrap).sort()).toEqual([-1, 0]);
    expect(found.cost).toBe(240);
    // a try, a piece, a rip, a sheet that holds the run, and the new panel looked at for the rip
    expect(found.work).toBe(4000 + 2 * 800 + 1000 + 30);
  });
});

describe("no sheets at all", () => {
  it("are left as they are, with a price on rips or without", () => {
    const { shop } = apart([[12, 10]]);
    for (const joint of [0, 0.03]) {
      const found = followed(shop, [], [], { joint, floor: -1 });
      expect([found.rounds, found.sheets]).toEqual([0, []]);
    }
  });
});

describe("the work", () => {
  it("of a try is 4,000 steps, 800 for each piece taken out, 30 for each sheet and space looked at", () => {
    const { shop, start } = apart([
      [12, 16],
      [7, 19],
    ]);
    // one sheet by itself: nothing to look at
    expect(followed(shop, start.slice(0, 1), []).work).toBe(4800);
    // both, by height: the second is looked for a place above the first, where there is none
    const both = followed(shop, start, [0.3, 0, 0, 0.6, 0, 0.3, 0]);
    expect(both.placed[0]).toEqual(["1", "0"]);
    expect(both.work).toBe(4000 + 2 * 800 + 30);
    expect(both.rounds).toBe(1);
  });
});

describe("a pattern cut first", () => {
  /** Pieces of 5 x 20 and 7 x 20 that make a panel, and marks by which a sheet is known again. */
  const PIECES = [
    [5, 20],
    [7, 20],
    [4, 3],
    [4, 4],
    [4, 5],
    [4, 6],
  ];
  const [FIVE, SEVEN, A, B, C, D] = [0, 1, 2, 3, 4, 5] as const;

  interface Given {
    readonly pieces?: readonly (readonly number[])[];
    /** the types on each sheet; a pair where two are in a list of their own */
    readonly lists: readonly (readonly (number | readonly [number, number])[])[];
    /** which leaves the pattern has side by side */
    readonly leaves: readonly ((leaf: Leaf, master: Master) => boolean)[];
    /** worth of a type, where it is not its area */
    readonly worth?: (type: number) => number;
    readonly numbers: readonly number[];
    readonly scrap?: readonly (readonly [number, number])[];
  }
  const leaf =
    (type: number) =>
    (one: Leaf, master: Master): boolean =>
      one.kind === "piece" && master.shapes[one.shape]!.members.includes(type);

  function cut({ pieces = PIECES, lists, leaves, worth, numbers, scrap }: Given): Followed {
    const shop = new Shop(modelOf({ width: 12, stock: AT_AREA, pieces, scrap: scrap ?? [] }));
    const { model } = shop;
    const start = sheetsOf(
      shop,
      lists.map((list) =>
        list.map((type) =>
          typeof type === "number" ? shop.blocks[type]! : [shop.pair(type[0], type[1])]
        )
      )
    );
    if (worth) shop.price({ piece: worth, rip: () => 0 });
    const master = new Master(
      model,
      { counts: Int32Array.from(model.types, () => 9), stretches: [], scrap: model.scrap },
      { costs: [240], mostGroups: 500 }
    );
    const tree = leaves
      .map((isIt): KnapsackTree => {
        const item = master.leaves.findIndex((one) => isIt(one, master));
        expect(item).toBeGreaterThanOrEqual(0);
        return { item, cut: "none", first: null, second: null };
      })
      .reduce((first, second): KnapsackTree => ({ item: -1, cut: "plumb", first, second }));
    const patterns = { master, shares: [{ level: 1, stock: 0, scrap: null, tree }] };
    return followed(shop, start, numbers, { patterns });
  }
  /** the marks of the sheets taken apart */
  const marks = ({ placed }: Followed): string => placed[0]!.sort().join("");
  const BOTH = [leaf(FIVE), leaf(SEVEN)];
  // the pattern, the first of one; one sheet, the last of four, taken; then where the search begins
  const from = (start: number): number[] => [0.1, 0.5, 0, 0.9, 0, start];
  const FOUR = [[SEVEN, A], [FIVE, B], [FIVE, C], [D]];

  it("is sought on sheets that hold its pieces, from a place that the numbers say", () => {
    const found = (start: number): string =>
      marks(cut({ lists: FOUR, leaves: BOTH, numbers: from(start) }));
    expect(found(0)).toBe(`${A}${B}${D}`);
    expect(found(0.5)).toBe(`${A}${C}${D}`);
    expect(found(0.3)).toBe(`${A}${B}${D}`);
  });

  it("is not sought where the sheets picked hold its pieces", () => {
    const lists = [[SEVEN, A], [FIVE, B], [D], [FIVE, C]];
    expect(marks(cut({ lists, leaves: BOTH, numbers: from(0) }))).toBe(`${A}${C}`);
    const full = cut({ lists: [[A], [B], [C], [FIVE, SEVEN]], leaves: BOTH, numbers: from(0) });
    expect(marks(full)).toBe("");
  });

  it("is sought once for every time it has a piece", () => {
    const twice = [leaf(FIVE), leaf(FIVE)];
    const found = cut({ lists: FOUR, leaves: twice, numbers: from(0) });
    expect(marks(found)).toBe(`${B}${C}${D}`);
    const picked = cut({
      lists: [
        [FIVE, A],
        [FIVE, B],
        [SEVEN, C],
        [FIVE, D],
      ],
      leaves: twice,
      numbers: from(0),
    });
    expect(marks(picked)).toBe(`${A}${D}`);
  });

  it("is sought on sheets that waste something first", () => {
    const filled =
      (...types: number[]) =>
      (type: number): number =>
        types.includes(type) ? 300 : 1;
    const found = (...types: number[]): string =>
      marks(cut({ lists: FOUR, leaves: BOTH, worth: filled(...types), numbers: from(0) }));
    expect(found()).toBe(`${A}${B}${D}`);
    expect(found(B)).toBe(`${A}${C}${D}`);
    expect(found(B, C)).toBe(`${A}${B}${D}`);
    expect(found(A, B, C)).toBe(`${A}${B}${D}`);
  });

  it("is sought among the pieces of nested pairs too", () => {
    const pieces = [[12, 3, 9], [12, 4, 10], ...PIECES.slice(2)];
    const pair = (one: Leaf): boolean => one.kind === "pair" && one.shape !== one.other;
    const lists = [[[0, 1] as const, A], [0, B], [1, C], [D]];
    expect(marks(cut({ pieces, lists, leaves: [pair], numbers: from(0) }))).toBe(`${A}${D}`);
    // one after the other from the second sheet on
    expect(marks(cut({ pieces, lists, leaves: [pair], numbers: from(0.3) }))).toBe(`${B}${C}${D}`);
    // the one that hangs is wanted: a sheet with the pair has it
    const upper = [[[1, 0] as const, A], [1, B], [D]];
    const low = cut({ pieces, lists: upper, leaves: [leaf(0)], numbers: from(0) });
    expect(low.placed[0]!.join()).toContain(`${A}`);
    expect(low.placed[0]!.join()).not.toContain(`${B}`);
  });

  it("leaves what it does not take to be placed, and is a panel like any other", () => {
    const lists = [[SEVEN, A], [FIVE, B], [D]];
    const found = cut({ lists, leaves: BOTH, numbers: from(0) });
    expect(marks(found)).toBe(`${A}${B}${D}`);
    // the pattern full, the marks on one more
    expect([found.cost, found.sheets.length]).toEqual([480, 2]);
    expect(found.sheets[0]!.area).toBe(240);
    // 7 x 20 and 4 x 3 fill 0.633 of a panel, 7 x 20 alone 0.583: that is too little
    const few = cut({ lists, leaves: [leaf(SEVEN), leaf(A)], numbers: from(0) });
    expect(few.placed[0]!.join()).not.toContain(`${SEVEN}`);
    const none = cut({ lists, leaves: [leaf(SEVEN)], numbers: from(0) });
    expect(none.placed[0]!.join()).toContain(`${SEVEN}`);
  });

  it("counts 4,000 steps, 20 for each type and 100 for each sheet there is", () => {
    const lists = [[A], [B], [C], [FIVE, SEVEN]];
    const { work, placed } = cut({ lists, leaves: BOTH, numbers: from(0) });
    expect(placed[0]).toEqual([]);
    expect(work).toBe(4000 + 100 * 4 + 4000 + 20 * 6 + 2 * 800);
  });
});
