/** What a proof takes together: shapes never larger than their pieces, and rips that count what a run asks for. */
import fc from "fast-check";
import { groupShapes, shapesOf } from "../../src/core/cut-plan/classes.js";
import { canNest } from "../../src/core/cut-plan/blocks.js";
import { RipRows, runArcs } from "../../src/core/cut-plan/rip-rows.js";
import { type SmallRun, coversOf, law, modelOf } from "./small-problems.js";

const MOST_RECTANGLES = 1500;
const MOST_RAKES = 300;

/** Pieces enough that they are rounded down and merged: sizes in units of 1/1024 in. */
const many = fc.record({
  rectangles: fc.integer({ min: 1, max: 2400 }),
  rakes: fc.integer({ min: 0, max: 500 }),
  seed: fc.integer({ min: 1, max: 9999 }),
});

it("shapes are no larger than their pieces, few enough, with every piece in one", () => {
  fc.assert(
    fc.property(many, ({ rectangles, rakes, seed }) => {
      const at = (k: number, below: number): number => ((k + 1) * seed * 7919) % below;
      const model = modelOf({
        width: 49_152,
        stock: [[98_304, 1]],
        pieces: [
          ...Array.from({ length: rectangles }, (_, k) => [1 + at(k, 49_000), 1 + at(k, 98_011)]),
          ...Array.from({ length: rakes }, (_, k) => [
            // one slope, whatever the height
            9973,
            1 + at(k, 40_009),
            5001 + at(k, 40_009),
          ]),
        ],
      });
      const counts = model.types.map(({ ids }) => ids.length);
      const shapes = shapesOf(model, counts);
      expect(shapes.filter(({ rake }) => !rake).length).toBeLessThanOrEqual(MOST_RECTANGLES);
      expect(shapes.filter(({ rake }) => rake).length).toBeLessThanOrEqual(MOST_RAKES);
      const members = shapes.flatMap((shape) => shape.members);
      expect([...members].sort((a, b) => a - b)).toEqual(model.types.map(({ index }) => index));
      const wrong = shapes.filter((shape) => {
        const own = shape.members.map((member) => model.types[member]!);
        const isSound = own.every(
          (type) =>
            shape.w <= type.w &&
            shape.left <= type.left &&
            shape.right <= type.right &&
            shape.rake === type.rake &&
            (!shape.rake || shape.right - shape.left === type.right - type.left)
        );
        const count = shape.members.reduce((sum, member) => sum + counts[member]!, 0);
        const area = (shape.w * (shape.left + shape.right)) / 2;
        return !isSound || count !== shape.count || area !== shape.area || area <= 0;
      });
      expect(wrong).toEqual([]);
    }),
    law(31, 6)
  );
});

it("groups hold every shape once, as many as asked for, rakes only with rakes they nest with", () => {
  const size = fc.tuple(
    fc.integer({ min: 2, max: 40 }),
    fc.integer({ min: 1, max: 60 }),
    fc.integer({ min: 0, max: 9 })
  );
  fc.assert(
    fc.property(
      fc.array(size, { minLength: 1, maxLength: 25 }),
      fc.integer({ min: 3, max: 12 }),
      (sizes, most) => {
        const pieces = sizes.map(([w, h, rise]) => [w, h, rise > 5 ? h + rise : h]);
        const model = modelOf({ width: 60, stock: [[100, 1]], pieces });
        const shapes = shapesOf(
          model,
          model.types.map(({ ids }) => ids.length)
        );
        const groups = groupShapes(model, shapes, most);
        expect(groups.flat().sort((a, b) => a - b)).toEqual(shapes.map((_, k) => k));
        for (const group of groups) {
          const rakes = group.filter((k) => shapes[k]!.rake);
          expect([0, group.length]).toContain(rakes.length);
        }
        const rectangles = groups.filter(([first]) => !shapes[first!]!.rake).length;
        expect(rectangles).toBeLessThanOrEqual(Math.max(most, 1));
        expect(groups.length).toBeGreaterThanOrEqual(Math.min(most, shapes.length));
        for (const [first, ...others] of groups.filter(([k]) => shapes[k!]!.rake)) {
          if (others.length === 1) expect(canNest(shapes[first!]!, shapes[others[0]!]!)).toBe(true);
        }
      }
    ),
    law(32, 60)
  );
});

/** Runs of many kinds: regular between the ends or not, of one interval and more. */
const someRuns = fc.array(
  fc.record({
    height: fc.constantFrom(3, 5),
    intervals: fc.array(fc.integer({ min: 2, max: 6 }), { minLength: 1, maxLength: 5 }),
    space: fc.option(fc.integer({ min: 3, max: 5 })),
    smallest: fc.integer({ min: 1, max: 4 }),
  }),
  { minLength: 1, maxLength: 5 }
);

it("rips of every cover count what their run asks for, and each has a leaf no longer than it", () => {
  let covers = 0;
  fc.assert(
    fc.property(someRuns, (drafts) => {
      const runs = drafts.map(({ height, intervals, space, smallest }): SmallRun => {
        const joints = [0];
        intervals.forEach((interval, k) => {
          const isEnd = k === 0 || k === intervals.length - 1;
          joints.push(joints[k]! + (space !== null && !isEnd ? space : interval));
        });
        return { height, joints, smallest };
      });
      fc.pre(runs.every((run) => coversOf(run, 20).length > 0));
      const model = modelOf({ width: 12, stock: [[20, 1]], runs });
      const stretches = model.runs.map(({ index, joints }) => ({
        run: index,
        from: 0,
        to: joints.length - 1,
      }));
      const rows = new RipRows(model, stretches);
      const demand = rows.demand(stretches);
      const total = new Float64Array(rows.count);
      runs.forEach((run, k) => {
        const asked = rows.demand([stretches[k]!]);
        asked.forEach((count, row) => (total[row]! += count));
        for (const cover of coversOf(run, 20)) {
          covers++;
          let at = 0;
          const rips = cover.map((length) => {
            const from = run.joints.indexOf(at);
            at += length;
            return { run: k, from, to: run.joints.indexOf(at) };
          });
          rows.demand(rips).forEach((count, row) => expect(count).toBeCloseTo(asked[row]!, 9));
        }
        for (const arc of runArcs(model, model.runs[k]!)) {
          const { rows: own, factors, length } = rows.counted({ run: k, ...arc });
          expect(length).toBeLessThanOrEqual(run.joints[arc.to]! - run.joints[arc.from]!);
          const hasLeaf = rows.leaves.some(
            (leaf) =>
              leaf.height === run.height &&
              leaf.rows.join() === own.join() &&
              leaf.length <= run.joints[arc.to]! - run.joints[arc.from]! &&
              leaf.factors.every((factor, n) => factor >= factors[n]! - 1e-12)
          );
          expect(hasLeaf).toBe(true);
        }
      });
      total.forEach((count, row) => expect(demand[row]).toBeCloseTo(count, 9));
    }),
    law(91, 40)
  );
  expect(covers).toBeGreaterThan(100);
});
