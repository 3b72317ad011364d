/** Joints of rips away from the panel seams above, at the same cost. */
import fc from "fast-check";
import { clearJointsOfSeams } from "../../../src/core/cut-plan/clear-joints.js";
import { Filling, Shop } from "../../../src/core/cut-plan/fill.js";
import { ripsOf } from "../../../src/core/cut-plan/join-rips.js";
import type { Sheet } from "../../../src/core/cut-plan/sheet.js";
import { planCost } from "../../../src/core/cut-plan/write-plan.js";
import { type SmallProblem, modelOf } from "./small-problems.js";

const JOINTS = [0, 40, 80, 120, 160, 200, 240];

interface Case {
  readonly stock: SmallProblem["stock"];
  readonly seams: readonly number[];
  readonly joints?: readonly number[];
  readonly height?: number;
  readonly scrap?: SmallProblem["scrap"];
}

/** Rips with joints at some marks, each put where it costs least. */
function planOf(
  { stock, seams, joints = JOINTS, height = 5, scrap = [] }: Case,
  cuts: readonly number[]
): { shop: Shop; sheets: Sheet[] } {
  const runs = [{ height, joints, smallest: 40, seams }];
  const model = modelOf({ width: 12, stock, runs, scrap });
  const shop = new Shop(model);
  const filling = new Filling(
    shop,
    [],
    model.scrap.map(() => true)
  );
  const ends = [0, ...cuts.map((cut) => joints.indexOf(cut)), joints.length - 1];
  for (let k = 0; k + 1 < ends.length; k++) {
    filling.place(shop.ripBlocks(0, ends[k]!, ends[k + 1]!), null);
  }
  return { shop, sheets: filling.result() };
}

/** Where the rips of the run meet, units from its start. */
function meets(shop: Shop, sheets: readonly Sheet[]): number[] {
  const { joints } = shop.model.runs[0]!;
  return ripsOf(sheets, 0)
    .slice(1)
    .map(({ block }) => joints[block.from]!);
}

function cleared(given: Case, cuts: readonly number[]): number[] {
  const { shop, sheets } = planOf(given, cuts);
  expect(meets(shop, sheets)).toEqual(cuts);
  const after = clearJointsOfSeams(shop, sheets);
  expect(planCost(shop.model, after)).toBeLessThanOrEqual(planCost(shop.model, sheets));
  expect(ripsOf(after, 0)).toHaveLength(cuts.length + 1);
  return meets(shop, after);
}

describe("joints near a seam", () => {
  const stock: Case["stock"] = [[200, 30]];

  it("move to the nearest mark that is one stud space from every seam", () => {
    // 80 and 160 are as near as each other: the first is taken
    expect(cleared({ stock, seams: [120] }, [120])).toEqual([80]);
    // 80 is on a seam and 120 too: 160 is 40 from 120 and from 200
    expect(cleared({ stock, seams: [80, 120, 200] }, [120])).toEqual([160]);
    // a seam between marks, 30 from one and 10 from the next
    expect(cleared({ stock, seams: [110] }, [120])).toEqual([160]);
  });

  it("stay where they are clear already, a stud space away and no further", () => {
    expect(cleared({ stock, seams: [80] }, [120])).toEqual([120]);
    expect(cleared({ stock, seams: [] }, [120])).toEqual([120]);
    // 3 units nearer than a stud space is more than two roundings to the grid
    expect(cleared({ stock, seams: [83] }, [120])).toEqual([160]);
    expect(cleared({ stock, seams: [82] }, [120])).toEqual([120]);
  });

  it("stay where every mark has a seam near", () => {
    expect(cleared({ stock, seams: [40, 100, 160, 220] }, [120])).toEqual([120]);
  });

  it("stay where the other rips would cost more", () => {
    // two rips of 120 take a short panel each; one of 160 takes a long one: 30 + 30 or 30 + 60
    const dear: Case = {
      height: 7,
      seams: [120],
      stock: [
        [120, 30],
        [200, 60],
      ],
    };
    expect(cleared(dear, [120])).toEqual([120]);
    // a rip longer than any panel is none
    expect(cleared({ height: 7, seams: [120], stock: [[120, 30]] }, [120])).toEqual([120]);
  });

  it("of one run move one after another", () => {
    const joints = [0, 40, 80, 120, 160, 200, 240, 280, 320, 360];
    const seams = [120, 240];
    // 120 moves to 80, then 240 to 200
    expect(cleared({ stock, joints, seams }, [120, 240])).toEqual([80, 200]);
  });

  it("use the scrap the two rips came from again", () => {
    // both rips come from scrap of 165 x 5; moved, 160 and 80 fit the same two
    const given: Case = {
      stock,
      seams: [120],
      scrap: [
        [5, 165],
        [5, 165],
      ],
    };
    const { shop, sheets } = planOf(given, [120]);
    expect(planCost(shop.model, sheets)).toBe(0);
    const after = clearJointsOfSeams(shop, sheets);
    expect(planCost(shop.model, after)).toBe(0);
    expect(meets(shop, after)).toEqual([80]);
    expect(after.map((sheet) => sheet.scrap).sort()).toEqual([0, 1]);
  });
});

it("never more cost, never another number of rips, never more joints near a seam, whatever the run", () => {
  let moved = 0;
  const mark = fc.integer({ min: 1, max: 8 });
  fc.assert(
    fc.property(
      fc.uniqueArray(mark, { minLength: 1, maxLength: 3 }),
      fc.uniqueArray(fc.integer({ min: 0, max: 36 }), { maxLength: 4 }),
      fc.constantFrom(3, 5, 7),
      (inner, seamAt, height) => {
        const joints = Array.from({ length: 10 }, (_, k) => 40 * k);
        const cuts = [...inner].sort((a, b) => a - b).map((k) => 40 * k);
        const seams = seamAt.map((k) => 10 * k);
        const given: Case = {
          joints,
          seams,
          height,
          stock: [
            [160, 40],
            [360, 90],
          ],
        };
        const near = (marks: readonly number[]): number =>
          marks.filter((at) => seams.some((seam) => Math.abs(seam - at) < 38)).length;
        const after = cleared(given, cuts);
        expect(near(after)).toBeLessThanOrEqual(near(cuts));
        if (near(after) < near(cuts)) moved++;
      }
    ),
    { seed: 20261127, numRuns: 200 }
  );
  expect(moved).toBeGreaterThan(20);
});
