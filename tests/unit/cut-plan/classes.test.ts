/** Shapes a proof works with: never larger than the pieces they stand for, and no piece lost. */
import fc from "fast-check";
import { groupShapes, shapesOf } from "../../../src/core/cut-plan/classes.js";
import { canNest } from "../../../src/core/cut-plan/blocks.js";
import type { Model } from "../../../src/core/cut-plan/prepare.js";
import { law, modelOf } from "./small-problems.js";

const counted = (model: Model): Int32Array =>
  Int32Array.from(model.types, (type) => type.ids.length);

/** What a merged shape must keep to. */
function faultsOf(model: Model, counts: ArrayLike<number>): string[] {
  const faults: string[] = [];
  const seen = new Set<number>();
  for (const shape of shapesOf(model, counts)) {
    let count = 0;
    for (const member of shape.members) {
      const type = model.types[member]!;
      if (seen.has(member)) faults.push(`type ${member} is in two shapes`);
      seen.add(member);
      count += counts[member]!;
      if (shape.w > type.w || shape.left > type.left || shape.right > type.right) {
        faults.push(`the shape of type ${member} is larger than it`);
      }
      if (shape.rake !== type.rake) faults.push(`type ${member} changed its kind`);
      if (shape.rake && shape.right - shape.left !== type.right - type.left) {
        faults.push(`the rake of type ${member} has another rise`);
      }
    }
    if (count !== shape.count) faults.push(`${count} pieces counted as ${shape.count}`);
    if (shape.area !== (shape.w * (shape.left + shape.right)) / 2) faults.push("another area");
    if (shape.w <= 0 || Math.max(shape.left, shape.right) <= 0) faults.push("nothing left");
    const sorted = [...shape.members].sort((a, b) => a - b);
    if (sorted.join() !== shape.members.join()) faults.push("members are out of order");
  }
  model.types.forEach((type) => {
    if (counts[type.index]! > 0 !== seen.has(type.index)) faults.push(`type ${type.index}`);
  });
  return faults;
}

describe("shapes", () => {
  it("are the piece types themselves, rectangles first, those not wanted left out", () => {
    const model = modelOf({
      width: 100,
      stock: [[200, 2]],
      pieces: [
        [10, 20, 30],
        [10, 20],
        [10, 20],
        [11, 20],
      ],
    });
    expect(shapesOf(model, [1, 2, 0])).toEqual([
      { w: 10, left: 20, right: 20, rake: false, count: 2, area: 200, members: [1] },
      { w: 10, left: 20, right: 30, rake: true, count: 1, area: 250, members: [0] },
    ]);
    expect(shapesOf(model, [0, 0, 0])).toEqual([]);
  });

  it("of very many rectangles are rounded down to 1/4 in and more, and merged", () => {
    const pieces = Array.from({ length: 1600 }, (_, k) => [300 + (k % 40), 1000 + 13 * k]);
    const model = modelOf({ width: 50_000, stock: [[100_000, 1]], pieces });
    expect(shapesOf(model, counted(model).fill(1, 0, 1500).fill(0, 1500))).toHaveLength(1500);
    const counts = counted(model);
    expect(faultsOf(model, counts)).toEqual([]);
    const shapes = shapesOf(model, counts);
    // widths 300 to 339 become 256, heights 1,000 to 21,787 become 768, 1,024 ... 21,760
    expect(shapes).toHaveLength(83);
    expect(new Set(shapes.map(({ w }) => w))).toEqual(new Set([256]));
    expect(shapes[0]).toMatchObject({ left: 768, right: 768, count: 2, members: [0, 1] });
    // sizes below the step stay as they are
    const thin = Array.from({ length: 1600 }, (_, k) => [1 + (k % 200), 256 + 8 * k]);
    const small = modelOf({ width: 50_000, stock: [[100_000, 1]], pieces: thin });
    expect(faultsOf(small, counted(small))).toEqual([]);
    const widths = shapesOf(small, counted(small)).map(({ w }) => w);
    expect([Math.min(...widths), Math.max(...widths)]).toEqual([1, 200]);
    expect(shapesOf(small, counted(small))[0]).toMatchObject({ w: 1, left: 256, members: [0] });
  });

  it("are rounded further until there are few enough, members still in order", () => {
    const pieces = Array.from({ length: 4000 }, (_, k) => [300, 1024 + 128 * ((k * 1477) % 4000)]);
    const model = modelOf({ width: 1000, stock: [[600_000, 1]], pieces });
    const shapes = shapesOf(model, counted(model));
    // pairs in steps of 256 are 2,000, in steps of 512 they are 1,000 of four
    expect(shapes).toHaveLength(1000);
    expect(shapes.every(({ count }) => count === 4)).toBe(true);
    expect(faultsOf(model, counted(model))).toEqual([]);
  });

  it("of very many rake pieces lose height, not slope", () => {
    const pieces = Array.from({ length: 320 }, (_, k) => [500, 300 + k, 700 + k]);
    const model = modelOf({ width: 50_000, stock: [[100_000, 1]], pieces });
    expect(faultsOf(model, counted(model))).toEqual([]);
    const shapes = shapesOf(model, counted(model));
    expect(shapes.map(({ left, right, count }) => [left, right, count])).toEqual([
      [256, 656, 212],
      [512, 912, 108],
    ]);
    expect(shapesOf(model, counted(model).fill(0, 300))).toHaveLength(300);
    // falling ones go down with their lower side, the right one
    const falling = modelOf({
      width: 50_000,
      stock: [[100_000, 1]],
      pieces: pieces.map(([w, left, right]) => [w!, right!, left!]),
    });
    expect(faultsOf(falling, counted(falling))).toEqual([]);
    expect(shapesOf(falling, counted(falling))).toHaveLength(2);
  });
});

describe("groups of shapes", () => {
  function groups(
    pieces: readonly (readonly number[])[],
    most: number,
    change: { kerf?: number; canTurn?: boolean; counts?: number[] } = {}
  ): number[][] {
    const { counts, ...rest } = change;
    const model = modelOf({ width: 100, stock: [[200, 2]], pieces, ...rest });
    const shapes = shapesOf(model, counts ?? counted(model));
    return groupShapes(model, shapes, most).sort((a, b) => a[0]! - b[0]!);
  }

  it("are the shapes alone where there are few enough", () => {
    const pieces = [
      [10, 20],
      [10, 21],
      [50, 90],
    ];
    expect(groups(pieces, 3)).toEqual([[0], [1], [2]]);
    expect(groups(pieces, 2)).toEqual([[0, 1], [2]]);
    expect(groups(pieces, 1)).toEqual([[0, 1, 2]]);
    // whichever comes first
    expect(groups([pieces[2]!, pieces[0]!, pieces[1]!], 2)).toEqual([[0], [1, 2]]);
    expect(groups([pieces[0]!, pieces[2]!, pieces[1]!], 2)).toEqual([[0, 2], [1]]);
  });

  it("take together what has most in common", () => {
    // 30 x 40 and 31 x 41 differ by 71 of 1271; 30 x 40 and 40 x 30 by 300 of 1200
    expect(
      groups(
        [
          [30, 40],
          [40, 30],
          [31, 41],
        ],
        2
      )
    ).toEqual([[0, 2], [1]]);
    // the difference weighs by the lighter: of a few specks much, of a large piece little
    expect(
      groups(
        [
          [30, 40],
          [31, 41],
          [2, 3],
          [2, 4],
        ],
        3
      )
    ).toEqual([[0], [1], [2, 3]]);
  });

  it("compare widths and heights by what both have, and weigh by the lighter", () => {
    // 40 x 51 has 0.77 of 40 x 66, and 0.87 of 46 x 51
    const three = [
      [40, 51],
      [40, 66],
      [46, 51],
    ];
    expect(groups(three, 2)).toEqual([[0, 2], [1]]);
    const some = (count: number, ...size: number[]): number[][] =>
      Array.from({ length: count }, () => size);
    // one of 40 x 66 among ten of 40 x 51 costs 600 at most, five of 24 x 51 beside five of 21 x 51 cost 669
    const weighed = [
      ...some(10, 40, 51),
      ...some(1, 40, 66),
      ...some(5, 21, 51),
      ...some(5, 24, 51),
    ];
    expect(groups(weighed, 3)).toEqual([[0, 1], [2], [3]]);
  });

  it("tell sizes apart of which a different number goes into a panel", () => {
    // 50 goes twice into 100, 51 once; 53 is nearer to 51 than 50 by this, though not by size
    const three = [
      [50, 60],
      [51, 60],
      [53, 60],
    ];
    expect(groups(three, 2)).toEqual([[0], [1, 2]]);
    // along: 66 goes three times into 200, 67 twice
    const along = [
      [60, 66],
      [60, 67],
      [60, 69],
    ];
    expect(groups(along, 2)).toEqual([[0], [1, 2]]);
    // with a saw cut of 2 between them 49 goes twice into 100, 50 once
    const cut = [
      [49, 60],
      [50, 60],
      [52, 60],
    ];
    expect(groups(cut, 2, { kerf: 2 })).toEqual([[0], [1, 2]]);
    expect(groups(cut, 2)).toEqual([[0, 1], [2]]);
    // turned, 66 and 67 count in the width as well
    const across = [
      [66, 80],
      [67, 80],
      [69, 80],
    ];
    expect(groups(across, 2)).toEqual([[0, 1], [2]]);
    expect(groups(across, 2, { canTurn: true })).toEqual([[0], [1, 2]]);
  });

  it("never hold rectangles with rakes, nor rakes that do not nest", () => {
    const pieces = [
      [40, 50],
      [40, 49, 51],
      [40, 30, 130],
      [40, 130, 30],
      [40, 31, 131],
      [40, 51],
      [40, 129, 29],
    ];
    const model = modelOf({ width: 100, stock: [[200, 2]], pieces });
    const shapes = shapesOf(model, counted(model));
    // less than one group for each kind there cannot be
    const least = groupShapes(model, shapes, 1);
    expect(least.flat().sort((a, b) => a - b)).toEqual(shapes.map((_, k) => k));
    for (const group of least) {
      for (const k of group) {
        const [one, first] = [shapes[k]!, shapes[group[0]!]!];
        expect(one.rake).toBe(first.rake);
        if (one.rake) expect(canNest(one, first)).toBe(true);
      }
    }
    // rectangles; the nearly level; the steep ones rising and falling
    expect(least).toHaveLength(4);
  });

  it("hold each shape once, whatever their number", () => {
    const pieces = Array.from({ length: 60 }, (_, k) => [
      10 + ((k * 37) % 83),
      5 + ((k * 59) % 181),
    ]);
    const model = modelOf({ width: 100, kerf: 1, stock: [[200, 2]], pieces });
    const shapes = shapesOf(model, counted(model));
    for (const most of [40, 10, 3]) {
      const found = groupShapes(model, shapes, most);
      expect(found).toHaveLength(most);
      expect(found.flat().sort((a, b) => a - b)).toEqual(shapes.map((_, k) => k));
      for (const group of found) expect([...group].sort((a, b) => a - b)).toEqual(group);
    }
  });

  it("are what joining the two that are least apart comes to, one pair after the other", () => {
    const size = (max: number): fc.Arbitrary<number> => fc.integer({ min: 5, max });
    const piece = fc.oneof(fc.tuple(size(99), size(190)), fc.tuple(size(99), size(90), size(190)));
    let joined = 0;
    fc.assert(
      fc.property(
        fc.array(piece, { minLength: 3, maxLength: 9 }),
        fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 9, maxLength: 9 }),
        fc.constantFrom(0, 3),
        fc.boolean(),
        fc.integer({ min: 1, max: 4 }),
        (pieces, numbers, kerf, canTurn, most) => {
          const model = modelOf({
            width: 100,
            kerf,
            canTurn,
            stock: [
              [200, 2],
              [150, 2],
            ],
            pieces,
          });
          const shapes = shapesOf(model, numbers);
          /** how many of a size go into each of some lengths, with saw cuts between them */
          const times = (one: number, lengths: readonly number[]): string =>
            lengths
              .map((length) => {
                let count = 0;
                while ((count + 1) * one + count * kerf <= length) count++;
                return count;
              })
              .join();
          const all = [100, 200, 150];
          const fits = ({ w, left, rake }: (typeof shapes)[number]): string =>
            rake
              ? "rake"
              : `${times(w, canTurn ? all : [100])} ${times(left, canTurn ? all : [200, 150])}`;
          let groups = shapes.map((shape, k) => ({
            shape,
            weight: shape.count * shape.area,
            members: [k],
          }));
          type Group = (typeof groups)[number];
          const apart = (
            { shape: a, weight }: Group,
            { shape: b, weight: other }: Group
          ): number => {
            if (a.rake !== b.rake || (a.rake && !canNest(a, b))) return Infinity;
            const common =
              (Math.min(a.w, b.w) * (Math.min(a.left, b.left) + Math.min(a.right, b.right))) / 2;
            const share = 1 - common / Math.max(a.area, b.area);
            return Math.min(weight, other) * share * (fits(a) === fits(b) ? 1 : 20);
          };
          while (groups.length > most) {
            const pairs = groups
              .flatMap((one, k) =>
                groups.slice(k + 1).map((other) => ({ one, other, far: apart(one, other) }))
              )
              .filter(({ far }) => far < Infinity)
              .sort((a, b) => a.far - b.far);
            if (pairs.length === 0) break;
            const { one, other, far } = pairs[0]!;
            // of two as near, or of one weight, either may go first
            fc.pre(pairs.length < 2 || pairs[1]!.far - far > 1e-6);
            fc.pre(one.weight !== other.weight);
            const { shape } = one.weight > other.weight ? one : other;
            joined++;
            groups = [
              ...groups.filter((each) => each !== one && each !== other),
              {
                shape,
                weight: one.weight + other.weight,
                members: [...one.members, ...other.members],
              },
            ];
          }
          const sorted = (lists: readonly (readonly number[])[]): string[] =>
            lists.map((list) => [...list].sort((a, b) => a - b).join()).sort();
          expect(sorted(groupShapes(model, shapes, most))).toEqual(
            sorted(groups.map(({ members }) => members))
          );
        }
      ),
      law(95, 250)
    );
    expect(joined).toBeGreaterThan(400);
  });
});
