/** The plan a saw can follow: placements, cuts in order, leftovers, what is bought; by hand. */
import type { Block } from "../../../src/core/cut-plan/blocks.js";
import { Filling, Shop, fillRest } from "../../../src/core/cut-plan/fill.js";
import type { CutPlan, CutSheet } from "../../../src/core/cut-plan/problem.js";
import { type Sheet, dropBlocks, newSheet, putBlock } from "../../../src/core/cut-plan/sheet.js";
import { planCost, writePlan } from "../../../src/core/cut-plan/write-plan.js";
import { type SmallProblem, modelOf, problemOf, solvedProblems } from "./small-problems.js";
import { prepare } from "../../../src/core/cut-plan/prepare.js";
import { faultsOf } from "../../cut-plan/verify-plan.js";

const PER_IN = 1024;
const PROOF = { lowestCost: 3, fewestPanels: 1, boundBy: "area" };

/** Puts blocks where told: the side of the last block's part, or a sheet of their own. */
class Bench {
  readonly shop: Shop;
  readonly sheets: Sheet[] = [];
  constructor(small: SmallProblem) {
    this.shop = new Shop(modelOf(small));
  }
  sheet(scrap = -1): Sheet {
    const { model } = this.shop;
    const sheet =
      scrap < 0
        ? newSheet(-1, model.width, model.longest)
        : newSheet(scrap, model.scrap[scrap]!.w, model.scrap[scrap]!.h);
    this.sheets.push(sheet);
    return sheet;
  }
  put(sheet: Sheet, block: Block, x: number, y: number): void {
    const { model, least } = this.shop;
    const space = sheet.spaces.find((one) => one.x === x && one.y === y)!;
    putBlock(sheet, space, block, model.kerf, least);
  }
  piece(type: number, way = 0): Block {
    return this.shop.blocks[type]![way]!;
  }
  write(): CutPlan {
    return writePlan(this.shop.model, this.sheets, PROOF);
  }
}

/** A sheet in units. */
function inUnits(sheet: CutSheet): { placed: string[]; cuts: string[]; left: string[] } {
  const units = (...sizes: number[]): string => sizes.map((one) => one * PER_IN).join(" ");
  return {
    placed: sheet.placements.map(
      ({ id, xIn, yIn, widthIn, heightIn, turned }) =>
        `${id}: ${units(xIn, yIn, widthIn, heightIn)} ${turned}`
    ),
    cuts: sheet.cuts.map(({ fromX, fromY, toX, toY }) => units(fromX, fromY, toX, toY)),
    left: sheet.leftovers.map(({ xIn, yIn, widthIn, heightIn }) =>
      units(xIn, yIn, widthIn, heightIn)
    ),
  };
}

describe("one piece on a panel", () => {
  const written = (small: Partial<SmallProblem>): ReturnType<typeof inUnits> => {
    const bench = new Bench({ width: 12, kerf: 1, stock: [[20, 20]], keep: 3, ...small });
    bench.put(bench.sheet(), bench.piece(0), 0, 0);
    return inUnits(bench.write().sheets[0]!);
  };
  it("is cut so that the larger strip stays whole", () => {
    // right of it 6 x 20 = 120, above it 12 x 11 = 132
    expect(written({ pieces: [[5, 8]] })).toEqual({
      placed: ["p0: 0 0 5 8 0"],
      cuts: ["0 8 12 8", "5 0 5 8"],
      left: ["6 0 6 8", "0 9 12 11"],
    });
    // right of it 6 x 20 = 120, above it 12 x 9 = 108
    expect(written({ pieces: [[5, 10]] })).toEqual({
      placed: ["p0: 0 0 5 10 0"],
      cuts: ["5 0 5 20", "0 10 5 10"],
      left: ["0 11 5 9", "6 0 6 20"],
    });
    // both 120: level
    expect(written({ pieces: [[5, 9]] }).cuts).toEqual(["0 9 12 9", "5 0 5 9"]);
  });
  it("needs no cut at the edge of the panel", () => {
    expect(written({ pieces: [[12, 20]] })).toEqual({
      placed: ["p0: 0 0 12 20 0"],
      cuts: [],
      left: [],
    });
    expect(written({ pieces: [[12, 8]] })).toEqual({
      placed: ["p0: 0 0 12 8 0"],
      cuts: ["0 8 12 8"],
      left: ["0 9 12 11"],
    });
    expect(written({ pieces: [[5, 20]] }).cuts).toEqual(["5 0 5 20"]);
  });
  it("has a cut where waste is no wider than the saw, and nothing left of it", () => {
    expect(written({ pieces: [[11, 20]] })).toEqual({
      placed: ["p0: 0 0 11 20 0"],
      cuts: ["11 0 11 20"],
      left: [],
    });
    expect(written({ pieces: [[12, 19]] })).toMatchObject({ cuts: ["0 19 12 19"], left: [] });
    expect(written({ pieces: [[11, 19]] }).cuts).toHaveLength(2);
  });
  it("leaves only what is worth keeping, both ways", () => {
    expect(written({ pieces: [[9, 20]], keep: 3 }).left).toEqual([]);
    expect(written({ pieces: [[8, 20]], keep: 3 }).left).toEqual(["9 0 3 20"]);
    expect(written({ pieces: [[12, 16]], keep: 3 }).left).toEqual(["0 17 12 3"]);
    expect(written({ pieces: [[12, 17]], keep: 3 }).left).toEqual([]);
    expect(written({ pieces: [[10, 20]], keep: 0 }).left).toEqual(["11 0 1 20"]);
    expect(written({ pieces: [[11, 20]], keep: 0 }).left).toEqual([]);
  });
  it("lies as it was turned", () => {
    const bench = new Bench({ width: 12, canTurn: true, stock: [[20, 20]], pieces: [[5, 9]] });
    bench.put(bench.sheet(), bench.piece(0, 1), 0, 0);
    expect(inUnits(bench.write().sheets[0]!).placed).toEqual(["p0: 0 0 9 5 90"]);
  });
});

describe("several blocks on a panel", () => {
  it("are parted by plumb and level cuts, the first part first", () => {
    const bench = new Bench({
      width: 12,
      kerf: 1,
      stock: [[20, 20]],
      pieces: [
        [5, 20],
        [6, 9],
        [6, 10],
      ],
    });
    const sheet = bench.sheet();
    bench.put(sheet, bench.piece(0), 0, 0);
    bench.put(sheet, bench.piece(1), 6, 0);
    bench.put(sheet, bench.piece(2), 6, 10);
    expect(inUnits(bench.write().sheets[0]!)).toEqual({
      placed: ["p0: 0 0 5 20 0", "p1: 6 0 6 9 0", "p2: 6 10 6 10 0"],
      cuts: ["5 0 5 20", "6 9 12 9"],
      left: [],
    });
  });

  it("need no cut for a part that was emptied, and the panel is the shortest that reaches", () => {
    const bench = new Bench({
      width: 12,
      kerf: 1,
      stock: [
        [20, 20],
        [14, 15],
      ],
      pieces: [
        [12, 8],
        [12, 9],
        [12, 3],
      ],
      keep: 2,
    });
    const sheet = bench.sheet();
    bench.put(sheet, bench.piece(0), 0, 0);
    bench.put(sheet, bench.piece(1), 0, 9);
    const { model, least } = bench.shop;
    bench.sheets[0] = dropBlocks(sheet, (one) => one.type === 1, [], model.kerf, least);
    const first = bench.write();
    expect(first.bought.map(({ count }) => count)).toEqual([0, 1]);
    expect(inUnits(first.sheets[0]!)).toEqual({
      placed: ["p0: 0 0 12 8 0"],
      cuts: ["0 8 12 8"],
      left: ["0 9 12 5"],
    });
    // without the lower one the cut below the upper stays, and so does the long panel
    bench.sheets[0] = dropBlocks(sheet, (one) => one.type === 0, [], model.kerf, least);
    const second = bench.write();
    expect(second.bought.map(({ count }) => count)).toEqual([1, 0]);
    expect(inUnits(second.sheets[0]!)).toEqual({
      placed: ["p1: 0 9 12 9 0"],
      cuts: ["0 8 12 8", "0 18 12 18"],
      left: ["0 0 12 8"],
    });
  });
});

describe("rake pieces", () => {
  it("are cut by one slope after their box", () => {
    const bench = new Bench({ width: 12, kerf: 1, stock: [[20, 20]], pieces: [[6, 4, 10]] });
    bench.put(bench.sheet(), bench.piece(0), 0, 0);
    expect(inUnits(bench.write().sheets[0]!)).toEqual({
      placed: ["p0: 0 0 6 10 0"],
      // right of it 5 x 20, above it 12 x 9 = 108
      cuts: ["0 10 12 10", "6 0 6 10", "0 4 6 10"],
      left: ["7 0 5 10", "0 11 12 9"],
    });
  });

  it("nested are cut along the lower one, then beside and above the turned one", () => {
    const of = (pieces: number[][]): ReturnType<typeof inUnits> => {
      const bench = new Bench({ width: 12, kerf: 1, stock: [[20, 20]], pieces });
      bench.put(bench.sheet(), bench.shop.pair(0, 1), 0, 0);
      return inUnits(bench.write().sheets[0]!);
    };
    // 12 wide, 3 to 9, and 4 wide, 2 to 4: slope 1 in 2, saw cut sqrt(1.25) rounded up to 2
    const rising = of([
      [12, 3, 9],
      [4, 2, 4],
    ]);
    // low end: 3 + 2 + 4 = 9; far end 3 + 2 + 2 + 2 = 9; the box is 9 high
    expect(rising.placed).toEqual(["p0: 0 0 12 9 0", "p1: 0 5 4 4 180"]);
    // beside the turned one, from the slope and the saw cut above it up: 3 + 2 + 2 at 4
    expect(rising.cuts).toEqual(["0 9 12 9", "0 3 12 9", "4 7 4 9"]);
    const falling = of([
      [12, 9, 3],
      [4, 4, 2],
    ]);
    expect(falling.placed).toEqual(["p0: 0 0 12 9 0", "p1: 8 5 4 4 180"]);
    // the saw is on the far side of it: from 7
    expect(falling.cuts).toEqual(["0 9 12 9", "0 9 12 3", "7 7 7 9"]);
    // a turned one of less height leaves a strip above
    const low = of([
      [12, 3, 9],
      [4, 1, 3],
    ]);
    expect(low.placed).toEqual(["p0: 0 0 12 9 0", "p1: 0 5 4 3 180"]);
    expect(low.cuts).toEqual(["0 9 12 9", "0 3 12 9", "4 7 4 9", "0 8 4 8"]);
  });

  it("running out to a point need no cut beside them", () => {
    const bench = new Bench({
      width: 12,
      kerf: 1,
      stock: [[20, 20]],
      pieces: [
        [12, 3, 9],
        [6, 0, 3],
      ],
    });
    bench.put(bench.sheet(), bench.shop.pair(0, 1), 0, 0);
    // low end 3 + 2 + 3 = 8, far end 3 + 3 + 2 + 0 = 8, box 9
    expect(inUnits(bench.write().sheets[0]!)).toEqual({
      placed: ["p0: 0 0 12 9 0", "p1: 0 5 6 3 180"],
      cuts: ["0 9 12 9", "0 3 12 9", "6 8 6 9", "0 8 6 8"],
      left: ["0 10 12 10"],
    });
    const alike = new Bench({
      width: 12,
      stock: [[20, 20]],
      pieces: [
        [12, 0, 9],
        [12, 0, 9],
      ],
    });
    alike.put(alike.sheet(), alike.shop.pair(0, 0), 0, 0);
    expect(inUnits(alike.write().sheets[0]!).cuts).toEqual(["0 9 12 9", "0 0 12 9"]);
  });
});

describe("the whole plan", () => {
  const small: SmallProblem = {
    width: 12,
    stock: [
      [10, 11],
      [20, 20],
    ],
    pieces: [
      [12, 10],
      [12, 15],
      [12, 10],
      [4, 4],
    ],
    scrap: [
      [5, 5],
      [6, 6],
    ],
  };
  it("has long panels first, then scrap, in order; counts, cost and share of use", () => {
    const bench = new Bench(small);
    bench.put(bench.sheet(1), bench.piece(2), 0, 0);
    bench.put(bench.sheet(), bench.piece(0), 0, 0);
    bench.put(bench.sheet(), bench.piece(1), 0, 0);
    bench.put(bench.sheet(), bench.piece(0), 0, 0);
    bench.sheet();
    bench.sheet(0);
    const plan = bench.write();
    expect(plan.sheets.map(({ kind, scrapId }) => scrapId ?? kind)).toEqual([
      "panel",
      "panel",
      "panel",
      "s1",
    ]);
    expect(
      plan.sheets.map(({ lengthIn, widthIn, cost }) => [lengthIn * PER_IN, widthIn * PER_IN, cost])
    ).toEqual([
      [20, 12, 20],
      [10, 12, 11],
      [10, 12, 11],
      [6, 6, 0],
    ]);
    expect(plan.sheets.map(({ placements }) => placements.map(({ id }) => id).join())).toEqual([
      "p1",
      "p0",
      "p2",
      "p3",
    ]);
    expect("scrapId" in plan.sheets[0]!).toBe(false);
    expect(plan.bought).toEqual([
      { lengthIn: 10 / PER_IN, count: 2 },
      { lengthIn: 20 / PER_IN, count: 1 },
    ]);
    expect([plan.panelCount, plan.cost]).toEqual([3, 42]);
    // 12 x 35 of 12 x 40; what comes out of scrap does not count
    expect(plan.usedShare).toBeCloseTo(35 / 40, 12);
    expect([plan.lowestCost, plan.fewestPanels, plan.boundBy]).toEqual([3, 1, "area"]);
    expect(planCost(bench.shop.model, bench.sheets)).toBe(42);
  });
  it("of scrap alone uses nothing that was bought", () => {
    const bench = new Bench({ ...small, pieces: [[4, 4]] });
    const second = bench.sheet(1);
    const first = bench.sheet(0);
    const extra = new Bench({
      ...small,
      pieces: [
        [4, 4],
        [4, 4],
      ],
    });
    extra.put(extra.sheet(1), extra.piece(0), 0, 0);
    extra.put(extra.sheet(0), extra.piece(0), 0, 0);
    expect(extra.write().sheets.map(({ scrapId }) => scrapId)).toEqual(["s0", "s1"]);
    bench.put(second, bench.piece(0), 0, 0);
    expect(first.blocks).toBe(0);
    const plan = bench.write();
    expect([plan.usedShare, plan.cost, plan.panelCount, plan.sheets.length]).toEqual([0, 0, 0, 1]);
  });
});

describe("rips", () => {
  const small: SmallProblem = {
    width: 12,
    stock: [[20, 20]],
    pieces: [[2, 2]],
    runs: [
      { height: 3, joints: [5, 9, 13, 17], smallest: 4 },
      { height: 2, joints: [0, 4], smallest: 4 },
    ],
  };
  it("are named along their run, from joint to joint, whatever sheet they are on", () => {
    const bench = new Bench(small);
    const { shop } = bench;
    const sheet = bench.sheet();
    bench.put(sheet, shop.ripBlocks(0, 1, 3)[0]!, 0, 0);
    bench.put(sheet, shop.ripBlocks(1, 0, 1)[0]!, 3, 0);
    bench.put(bench.sheet(), shop.ripBlocks(0, 0, 1)[0]!, 0, 0);
    const plan = bench.write();
    const units = plan.rips.map(({ id, runId, startIn, endIn }) => [
      id,
      runId,
      startIn * PER_IN,
      endIn * PER_IN,
    ]);
    expect(units).toEqual([
      ["r0/1", "r0", 5, 9],
      ["r0/2", "r0", 9, 17],
      ["r1/1", "r1", 0, 4],
    ]);
    expect(
      plan.sheets.map(({ placements }) => placements.map(({ id, turned }) => `${id} ${turned}`))
    ).toEqual([["r0/2 90", "r1/1 90"], ["r0/1 90"]]);
  });
  it("have names no piece has", () => {
    const problem = problemOf({ ...small, pieces: [[2, 2]], runs: [small.runs![1]!] });
    const model = prepare({ ...problem, pieces: [{ ...problem.pieces[0]!, id: "r0/1" }] });
    const shop = new Shop(model);
    const sheet = newSheet(-1, 12, 20);
    putBlock(sheet, sheet.spaces[0]!, shop.ripBlocks(0, 0, 1)[0]!, 0, shop.least);
    expect(writePlan(model, [sheet], PROOF).rips.map(({ id }) => id)).toEqual(["r0/1'"]);
  });
  it("that leave a hole in a run are never written", () => {
    const bench = new Bench(small);
    bench.put(bench.sheet(), bench.shop.ripBlocks(0, 0, 2)[0]!, 0, 0);
    bench.put(bench.sheet(), bench.shop.ripBlocks(1, 0, 1)[0]!, 0, 0);
    expect(() => bench.write()).toThrow("rip run r0 is not covered");
    const none = new Bench(small);
    none.put(none.sheet(), none.shop.ripBlocks(0, 0, 3)[0]!, 0, 0);
    expect(() => none.write()).toThrow("rip run r1 is not covered");
  });
});

describe("plans of tiny problems, 64 times as large", () => {
  it("pass the verifier", () => {
    const faults: string[] = [];
    for (const { small } of solvedProblems()) {
      const problem = problemOf(small, 64);
      const model = prepare(problem);
      const shop = new Shop(model);
      const filling = new Filling(
        shop,
        [],
        model.scrap.map(() => true)
      );
      fillRest(
        filling,
        model.types.map(({ ids }) => ids.length),
        model.runs.map((run) => ({ run: run.index, from: 0, to: run.joints.length - 1 }))
      );
      const proof = { lowestCost: 0, fewestPanels: 0, boundBy: "area" };
      faults.push(...faultsOf(problem, writePlan(model, filling.result(), proof)));
    }
    expect(faults).toEqual([]);
  });
});
