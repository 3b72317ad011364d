import fc from "fast-check";
import { hatchLines } from "../../src/pane/drawings/hatch-lines.js";

type Line = readonly [number, number, number, number];

function lines(path: string): Line[] {
  return [...path.matchAll(/M(\S+) (\S+)L(\S+) (\S+?)(?=M|$)/g)].map(
    ([, ...numbers]) => numbers.map(Number) as unknown as Line
  );
}

const RISING = { size: 10, strokes: [[0, 10, 10, 0]] } as const;
const FALLING = { size: 10, strokes: [[0, 0, 10, 10]] } as const;
const LEVEL = { size: 10, strokes: [[0, 5, 10, 5]] } as const;
const DASHES = { size: 10, strokes: [[2, 5, 4, 5]] } as const;

describe("the lines of a hatch", () => {
  test("are cut off at the edges of a box", () => {
    // by hand: x + y = 10 and x + y = 20 cross a square of 10; the second only touches its corner
    expect(lines(hatchLines({ x: 0, y: 0, w: 10, h: 10 }, RISING))).toEqual([[10, 0, 0, 10]]);
    // y - x = -5, 5 and so on are no lines of the tile; y = x is, and y = x ± 10 touch corners
    expect(lines(hatchLines({ x: 0, y: 0, w: 10, h: 10 }, FALLING))).toEqual([[0, 0, 10, 10]]);
    expect(lines(hatchLines({ x: 3, y: 1, w: 24, h: 18 }, LEVEL))).toEqual([
      [3, 5, 27, 5],
      [3, 15, 27, 15],
    ]);
    expect(lines(hatchLines({ x: 3, y: 1, w: 10, h: 8 }, DASHES))).toEqual([
      [3, 5, 4, 5],
      [12, 5, 13, 5],
    ]);
  });

  test("of a shape with corners stay inside it", () => {
    // an L: the right half of its top is cut away
    const shape = [
      [0, 0],
      [20, 0],
      [20, 20],
      [40, 20],
      [40, 40],
      [0, 40],
    ] as const;
    expect(lines(hatchLines(shape, DASHES)).map(([x, y]) => [x, y])).toEqual([
      [2, 5],
      [12, 5],
      [2, 15],
      [12, 15],
      ...[2, 12, 22, 32].map((x) => [x, 25]),
      ...[2, 12, 22, 32].map((x) => [x, 35]),
    ]);
  });

  test("lie inside any box and leave no stripe of it free", () => {
    const length = fc.double({ min: 0.5, max: 300, noNaN: true });
    const place = fc.double({ min: -200, max: 200, noNaN: true });
    fc.assert(
      fc.property(place, place, length, length, (x, y, w, h) => {
        const found = lines(hatchLines({ x, y, w, h }, RISING));
        const near = 0.011; // two decimals
        for (const [x1, y1, x2, y2] of found) {
          for (const each of [x1, x2]) {
            expect(each).toBeGreaterThanOrEqual(x - near);
            expect(each).toBeLessThanOrEqual(x + w + near);
          }
          for (const each of [y1, y2]) {
            expect(each).toBeGreaterThanOrEqual(y - near);
            expect(each).toBeLessThanOrEqual(y + h + near);
          }
        }
        // lines x + y = 10 k between the corners' sums, no more and no fewer
        const sums = found.map(([x1, y1]) => Math.round((x1 + y1) / 10));
        const inside = (k: number): boolean =>
          10 * k > x + y + near && 10 * k < x + y + w + h - near;
        for (let k = Math.ceil((x + y) / 10); 10 * k < x + y + w + h; k++) {
          if (inside(k)) expect(sums).toContain(k);
        }
        expect(new Set(sums).size).toBe(sums.length);
      }),
      { seed: 20260101, numRuns: 300 }
    );
  });
});
