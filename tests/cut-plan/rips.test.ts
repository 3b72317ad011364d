/** Runs of rips: as few joints as the cost allows, and those clear of the panel seams above. */
import fc from "fast-check";
import { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import { type SmallRun, law, problemOf } from "./small-problems.js";

const PER_IN = 1024;
/** Marks and seams are each put on the grid of the plan. */
const GRID_SLACK = 2;

interface Case {
  readonly joints?: readonly number[];
  readonly height?: number;
  readonly smallest?: number;
  readonly seams?: readonly number[];
  readonly stock?: readonly (readonly [number, number])[];
}

const marks = (count: number, space: number): number[] =>
  Array.from({ length: count + 1 }, (_, k) => k * space);

/** Where the rips of one run meet, and what the plan costs. */
function meets({
  joints = marks(6, 40),
  height = 5,
  smallest = 40,
  seams,
  stock = [[200, 30]],
}: Case): { at: number[]; cost: number } {
  const run: SmallRun = { height, joints, smallest, ...(seams ? { seams } : {}) };
  const plan = planCuts(problemOf({ width: 12, stock, runs: [run] }));
  return { at: plan.rips.slice(1).map(({ startIn }) => startIn * PER_IN), cost: plan.cost };
}

describe("joints", () => {
  it("are as few as panels allow at the same cost", () => {
    // 240 of panels 200 long is two rips; side by side on one panel, whatever their lengths
    expect(meets({})).toMatchObject({ at: [expect.any(Number)], cost: 30 });
    expect(meets({ joints: marks(40, 5), smallest: 5 }).at).toEqual([]);
    expect(meets({ joints: marks(81, 5), smallest: 5 }).at).toHaveLength(2);
  });

  it("are never saved by a dearer panel", () => {
    // two of 120 from one short panel, side by side; one of 240 needs the long one
    const stock = [
      [120, 30],
      [240, 61],
    ] as const;
    expect(meets({ stock })).toEqual({ at: [120], cost: 30 });
    expect(
      meets({
        stock: [
          [120, 30],
          [240, 30],
        ],
      })
    ).toEqual({ at: [], cost: 30 });
  });

  it("come from the length that costs least, however many rips that is", () => {
    // 240 in one piece needs the long panel; 160 and 80 lie side by side on a short one
    const stock = [
      [160, 40],
      [360, 90],
    ] as const;
    expect(meets({ stock })).toMatchObject({ at: [160], cost: 40 });
  });
});

describe("joints near a seam", () => {
  it("move to a mark that is one stud space from every seam", () => {
    // the longest rip first would meet the next at 200
    expect(meets({}).at).toEqual([200]);
    expect(meets({ seams: [200] }).at).toEqual([160]);
    expect(meets({ seams: [160, 200] }).at).toEqual([120]);
    // a seam between marks, 30 from one and 10 from the next
    expect(meets({ seams: [190] }).at).toEqual([120]);
    // and just a stud space away, but for two roundings to the grid
    expect(meets({ seams: [162] }).at).toEqual([200]);
    expect(meets({ seams: [163] }).at).toEqual([120]);
  });

  it("are near where every mark has a seam near, and the plan costs what it did", () => {
    const near = meets({ seams: [40, 100, 160, 220] });
    expect(near.at).toHaveLength(1);
    expect(near.cost).toBe(30);
  });

  it("stay where other rips would cost more", () => {
    // two rips of 120 take a short panel each; one of 160 takes a long one
    const stock = [
      [120, 30],
      [200, 70],
    ] as const;
    expect(meets({ height: 7, seams: [120], stock })).toEqual({ at: [120], cost: 60 });
  });

  it("never cost more nor add a rip, and are clear where two rips can be", () => {
    let clear = 0;
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 0, max: 36 }), { minLength: 1, maxLength: 4 }),
        fc.constantFrom(3, 5, 7),
        fc.integer({ min: 4, max: 9 }),
        (seamAt, height, count) => {
          const seams = seamAt.map((k) => 10 * k);
          const joints = marks(count, 40);
          const stock = [[160, 40]] as const;
          const plain = meets({ joints, height, stock });
          const given = meets({ joints, height, stock, seams });
          expect(given.cost).toBe(plain.cost);
          expect(given.at.length).toBe(plain.at.length);
          const isClear = (at: number): boolean =>
            seams.every((seam) => Math.abs(seam - at) >= 40 - GRID_SLACK);
          const nearOf = (list: readonly number[]): number =>
            list.filter((at) => !isClear(at)).length;
          expect(nearOf(given.at)).toBeLessThanOrEqual(nearOf(plain.at));
          if (nearOf(given.at) < nearOf(plain.at)) clear++;
        }
      ),
      law(20261127, 60)
    );
    expect(clear).toBeGreaterThan(5);
  });
});

it("long runs of many marks are planned, by steps of work and not by the clock", () => {
  // no two rips of 12 go into a panel of 20 as one; 40 side by side on a panel
  const run = { height: 3, joints: marks(1600, 12), smallest: 12 };
  const plan = planCuts(problemOf({ width: 120, stock: [[20, 30]], runs: [run] }), "quick");
  expect(plan.rips).toHaveLength(1600);
  expect([plan.panelCount, plan.fewestPanels]).toEqual([40, 40]);
});
