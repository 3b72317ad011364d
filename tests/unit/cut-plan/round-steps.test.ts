/** From shares to panels, step by step: the shares are told, and what is settled of them is worked out by hand. */
import { Shop } from "../../../src/core/cut-plan/fill.js";
import type { KnapsackTree } from "../../../src/core/cut-plan/knapsack.js";
import { Master, type Share, type Task } from "../../../src/core/cut-plan/master.js";
import type { Model } from "../../../src/core/cut-plan/prepare.js";
import { roundShares } from "../../../src/core/cut-plan/round.js";
import type { Sheet } from "../../../src/core/cut-plan/sheet.js";
import { type SmallProblem, modelOf } from "./small-problems.js";

const taskOf = (model: Model): Task => ({
  counts: Int32Array.from(model.types, (type) => type.ids.length),
  stretches: model.runs.map((run) => ({ run: run.index, from: 0, to: run.joints.length - 1 })),
  scrap: model.scrap,
});

/** What a master is told the rest is. */
interface Rest {
  readonly counts: number[];
  readonly scrap: string[];
  readonly rounds: number;
}

/** Gives the shares it was told, one list after the other and then none, and does ten steps for each. */
class Told extends Master {
  asked = 0;
  readonly rests: Rest[] = [];
  private readonly lists: readonly (readonly Share[])[];
  constructor(model: Model, lists: (told: Master) => readonly (readonly Share[])[]) {
    super(model, taskOf(model), { costs: model.stock.map(({ cost }) => cost), mostGroups: 500 });
    this.lists = lists(this);
  }
  override solution(): Share[] {
    return [...(this.lists[this.asked++] ?? [])];
  }
  override get work(): number {
    return 1000 + 10 * this.asked;
  }
  override shareRest({ counts, scrap }: Task, rounds: number): void {
    this.rests.push({ counts: [...counts], scrap: scrap.map(({ id }) => id), rounds });
  }
}

const times = (count: number, ...size: number[]): number[][] =>
  Array.from({ length: count }, () => size);

interface Settled {
  readonly told: Told;
  readonly sheets: Sheet[];
  readonly shop: Shop;
  /** budgets of masters made for what was left */
  readonly anew: number[];
}

type Line = readonly [type: number, level: number, scrap?: readonly [number, number]];

/** Rounds with the shares told: of which piece, alone on its sheet, how often, and of which scrap. */
function settled(
  small: SmallProblem,
  lists: readonly (readonly Line[])[],
  { worth = () => 240, budget = 1e9 }: { worth?: (type: number) => number; budget?: number } = {}
): Settled {
  const model = modelOf(small);
  const shop = new Shop(model);
  shop.price({ piece: worth, rip: () => 0 });
  const told = new Told(model, (master) =>
    lists.map((list) =>
      list.map(([type, level, scrap]) => {
        const item = master.leaves.findIndex(
          (leaf) => leaf.kind === "piece" && master.shapes[leaf.shape]!.members.includes(type)
        );
        const tree: KnapsackTree = { item, cut: "none", first: null, second: null };
        return scrap
          ? { level, tree, stock: -1, scrap: { w: scrap[0], h: scrap[1] } }
          : { level, tree, stock: 0, scrap: null };
      })
    )
  );
  const anew: number[] = [];
  const { share } = Master.prototype;
  Master.prototype.share = function (allowed): void {
    anew.push(allowed);
    share.call(this, allowed);
  };
  try {
    return { told, sheets: roundShares(shop, taskOf(model), told, budget), shop, anew };
  } finally {
    Master.prototype.share = share;
  }
}

const STOCK: SmallProblem["stock"] = [[20, 240]];
/** Pieces of one panel each: so many of 20, 19 and 18. */
const panels = (...counts: number[]): SmallProblem => ({
  width: 12,
  stock: STOCK,
  pieces: counts.flatMap((count, k) => times(count, 12, 20 - k)),
});
/** From 0.97 down to 0.61 of its cost in steps of 0.03, and one try at each. */
const TRIES = 13;

describe("what is settled at a time", () => {
  it("is as many panels of each pattern as its share holds", () => {
    const { told, sheets } = settled(panels(3, 2, 3), [
      [
        [0, 2.4],
        [1, 1.3],
        [2, 0.3],
      ],
    ]);
    expect(told.rests).toEqual([{ counts: [1, 1, 3], scrap: [], rounds: 2 }]);
    expect(sheets).toHaveLength(8);
    // once with shares, and once at each share of the cost without any
    expect(told.asked).toBe(1 + TRIES);
  });

  it("is one at least", () => {
    const { told } = settled(panels(1, 1, 2), [
      [
        [1, 0.9],
        [0, 0.8],
      ],
    ]);
    expect(told.rests.map(({ counts }) => counts)).toEqual([[1, 0, 2]]);
  });

  it("is a whole panel where less than a millionth is missing", () => {
    const almost = 1 - 1e-7;
    const { told } = settled(panels(2, 2, 2), [
      [
        [0, almost],
        [1, almost],
        [2, 1 - 1e-5],
      ],
    ]);
    expect(told.rests.map(({ counts }) => counts)).toEqual([[1, 1, 2]]);
  });

  it("is a tenth of all panels to come, scrap not counted", () => {
    const lines = Array.from({ length: 24 }, (): Line => [0, 0.9]);
    // 21.6 of them: two
    expect(settled(panels(50), [lines]).told.rests[0]!.counts).toEqual([48]);
    const scrap = Array.from({ length: 24 }, (): Line => [0, 0.9, [12, 20]]);
    expect(settled(panels(50), [[...scrap, ...lines]]).told.rests[0]!.counts).toEqual([48]);
    // 31.5 of them: three
    const more = Array.from({ length: 35 }, (): Line => [0, 0.9]);
    expect(settled(panels(50), [more]).told.rests[0]!.counts).toEqual([47]);
  });

  it("is no more of a pattern than there are pieces for", () => {
    // of nine times the lower only twice, as the higher do not go in there; then one of those
    const { told, sheets } = settled(panels(8, 2), [
      [
        [1, 9],
        [0, 1],
      ],
    ]);
    expect(told.rests[0]!.counts).toEqual([7, 0]);
    expect(sheets).toHaveLength(10);
  });
});

describe("a pattern is cut", () => {
  it("where what is in it is worth 97 % of its panel, or 3 % less with every try that cuts none", () => {
    const list: Line[] = [[0, 1]];
    const asked = (share: number): number => {
      const lists = Array.from({ length: 20 }, () => list);
      return settled(panels(4), lists, { worth: () => 240 * share }).told.asked;
    };
    // once one is cut the next are at once: three one by one, before a quarter is left
    expect(asked(0.971)).toBe(3);
    expect(asked(0.969)).toBe(3 + 1);
    expect(asked(0.905)).toBe(3 + 3);
    expect(asked(0.611)).toBe(3 + 12);
    // at less than 61 % none is
    expect(asked(0.605)).toBe(TRIES);
  });
});

describe("scrap", () => {
  const SCRAP: [number, number][] = [
    [4, 5],
    [5, 6],
    [6, 6],
    [5, 5],
    [5, 7],
  ];
  const small = (piece: number[], count = 4): SmallProblem => ({
    width: 12,
    stock: STOCK,
    pieces: [...times(count, ...piece), ...times(9, 12, 20)],
    scrap: SCRAP,
  });
  it("of a pattern is the largest that is no larger than it says, and is used once", () => {
    const list: Line[] = [[0, 1, [5, 6]]];
    const { told } = settled(small([4, 4]), [list, list, list, list]);
    expect(told.rests.map(({ scrap }) => scrap)).toEqual([
      ["s0", "s2", "s3", "s4"],
      ["s0", "s2", "s4"],
      ["s2", "s4"],
    ]);
    expect(told.rests.map(({ counts }) => counts)).toEqual([
      [3, 9],
      [2, 9],
      [1, 9],
    ]);
  });
  it("must be half full at least, whatever that is worth", () => {
    const list: Line[] = [[0, 1, [5, 6]]];
    // 16 of 20 in the first there is
    expect(settled(small([4, 4]), [[[0, 1, [4, 5]]]], { worth: () => 0 }).told.rests).toHaveLength(
      1
    );
    // 15 of 30, and 14
    expect(settled(small([3, 5]), [list], { worth: () => 0 }).told.rests).toHaveLength(1);
    expect(settled(small([2, 7]), [[[0, 1, [5, 7]]]]).told.rests).toEqual([]);
    expect(settled(small([2, 7], 1), [[[0, 1, [2, 7]]]]).told.rests).toEqual([]);
    const free = settled(small([7, 2]), [list]);
    expect(free.told.rests).toEqual([]);
  });
});

describe("rounding ends", () => {
  it("where its work is done, with the rest filled in", () => {
    const list: Line[] = [[0, 1]];
    const asked = (budget: number): number => {
      const { told, sheets } = settled(panels(9), [list, list, list], { budget });
      expect(sheets).toHaveLength(9);
      return told.asked;
    };
    // ten steps for each list; what was done before does not count
    expect(asked(9)).toBe(1);
    expect(asked(10)).toBe(2);
    expect(asked(20)).toBe(3);
  });
  it("where nothing is left", () => {
    const { told, sheets, anew } = settled(panels(3), [[[0, 3]]]);
    expect([told.asked, told.rests, anew, sheets.length]).toEqual([1, [], [], 3]);
  });
});

describe("what is left is worked out anew", () => {
  it("by a master of its own where it is less than half, with a third of the work left", () => {
    const half = settled(panels(8), [[[0, 4]]]);
    expect([half.told.rests.length, half.anew]).toEqual([1, []]);
    const less = settled(panels(8), [[[0, 5]]], { worth: () => 300, budget: 1e7 });
    expect(less.told.rests).toEqual([]);
    expect(less.told.asked).toBe(1);
    expect(less.anew[0]).toBe((1e7 - 10) / 3);
    expect(less.sheets).toHaveLength(8);
    // the prices are those of the new one: a piece to a panel
    expect(less.shop.blocks[0]![0]!.worth).toBeCloseTo(240, 6);
  });
  it("counting every panel's length of rip begun as a piece", () => {
    const withRun = (pieces: number, length: number): SmallProblem => ({
      ...panels(pieces),
      runs: [
        {
          height: 12,
          joints: [0, 10, 20, 30].filter((at) => at < length).concat(length),
          smallest: 1,
        },
      ],
    });
    // 2 and 2: half is left; 2 and 1: a third
    expect(settled(withRun(2, 21), [[[0, 2]]]).anew).toEqual([]);
    expect(settled(withRun(2, 40), [[[0, 2]]]).anew).toEqual([]);
    expect(settled(withRun(2, 20), [[[0, 2]]]).anew).toHaveLength(1);
    expect(settled(withRun(3, 40), [[[0, 3]]]).anew).toHaveLength(1);
    expect(settled(withRun(3, 41), [[[0, 3]]]).anew).toEqual([]);
  });
});
