/** Laws of the one-wall functions over seeded random input. */
import fc from "fast-check";
import { isCalcError } from "../../src/core/check.js";
import { runLength, runSpan } from "../../src/core/corners.js";
import { studMarks, wallSeams } from "../../src/core/layout.js";
import {
  nailBoxes,
  nailLength,
  nailPenetration,
  nailsPerPanel,
  nailsPerWall,
  stockNail,
} from "../../src/core/nails.js";
import { panelsPerWall } from "../../src/core/panels-per-wall.js";
import { rakeStuds } from "../../src/core/rake-studs.js";
import { ripsPerPanel } from "../../src/core/rips.js";
import {
  cornerTapeFeet,
  insideCornerPieces,
  insideCornerTapeFeet,
  openingTapeFeet,
  tapeFeet,
  tapeRolls,
} from "../../src/core/tape.js";
import { backingStuds } from "../../src/core/backing.js";
import { FROM, SPACING, WALL_END, tape } from "./house-cases.js";

const runs = { seed: 20261201, numRuns: 150 };
const SLACK = 1e-6;
const thickness = fc.oneof(tape(0.25, 4), fc.constant(1.875));
const wall = fc.record({
  lengthIn: tape(24, 600),
  thicknessIn: thickness,
  leftEnd: WALL_END,
  rightEnd: WALL_END,
});
const height = tape(12, 120);
const count = fc.nat({ max: 200 });
type Line = Parameters<typeof runSpan>[0];
const ends = (of: Line) => [of.lengthIn, of.thicknessIn, of.leftEnd, of.rightEnd] as const;

describe("marks and breaks", () => {
  it("common studs stand a whole number of spaces from the panels' start", () => {
    fc.assert(
      fc.property(wall, SPACING, FROM, (of, spacing, from) => {
        const { startIn, endIn } = runSpan(of);
        const origin = from === "left" ? startIn : endIn;
        const studs = studMarks(...ends(of), spacing, from);
        expect(studs.map((each) => each.mark)).toEqual(studs.map((_, index) => index + 1));
        studs.forEach((stud, index) => {
          const spaces = Math.abs(stud.centerIn - origin) / spacing;
          if (!stud.isEndStud) expect(Math.abs(spaces - Math.round(spaces))).toBeLessThan(SLACK);
          expect(stud.farEdgeIn - stud.nearEdgeIn).toBeCloseTo(1.5, 9);
          expect(Math.abs(stud.tapeIn)).toBeCloseTo(Math.abs(stud.centerIn - origin), 9);
          const next = studs[index + 1];
          if (!next) return;
          // in order, none over another, none further apart than the spacing, with room for one more
          expect(next.nearEdgeIn).toBeGreaterThanOrEqual(stud.farEdgeIn - SLACK);
          expect(next.centerIn - stud.centerIn).toBeLessThan(spacing + 1.5 + of.thicknessIn);
        });
        expect(studs[0]?.nearEdgeIn).toBe(0);
        expect(studs.at(-1)?.farEdgeIn).toBeCloseTo(of.lengthIn, 9);
      }),
      runs
    );
  });

  it("every break is on a stud, no piece is wider than a panel or narrower than the smallest", () => {
    let breaks = 0;
    fc.assert(
      fc.property(
        wall,
        SPACING,
        FROM,
        fc.option(fc.oneof(tape(0.5, 6), tape(6, 24))),
        (of, spacing, from, smallest) => {
          let seams: number[];
          try {
            seams = wallSeams(of, { spacingIn: spacing, from, smallestIn: smallest ?? undefined });
          } catch (error) {
            // two pieces of that width may not fit the run; the default always does
            if (!isCalcError(error) || smallest === null) throw error;
            expect(error.code).toBe("not-covered");
            return;
          }
          const studs = studMarks(...ends(of), spacing, from, 1.5, 48, smallest ?? undefined);
          const { startIn, endIn } = runSpan(of);
          const edges = [startIn, ...seams, endIn];
          for (let index = 1; index < edges.length; index++) {
            const width = (edges[index] as number) - (edges[index - 1] as number);
            expect(width).toBeLessThanOrEqual(48 + SLACK);
            if (edges.length > 2)
              expect(width).toBeGreaterThanOrEqual((smallest ?? spacing) - SLACK);
          }
          for (const seam of seams) {
            const under = studs.filter((stud) => Math.abs(stud.centerIn - seam) <= 0.75 + SLACK);
            expect(under).toHaveLength(1);
            expect(under[0]?.breaksHere).toBe(true);
            breaks++;
          }
          expect(studs.filter((stud) => stud.breaksHere)).toHaveLength(seams.length);
        }
      ),
      runs
    );
    expect(breaks).toBeGreaterThan(400);
  });

  it("mirror when the wall is mirrored", () => {
    fc.assert(
      fc.property(wall, SPACING, FROM, (of, spacing, from) => {
        const other = { ...of, leftEnd: of.rightEnd, rightEnd: of.leftEnd };
        const side = from === "left" ? "right" : "left";
        const flip = (list: readonly number[]): number[] =>
          list.map((x) => of.lengthIn - x).reverse();
        const close = (a: readonly number[], b: readonly number[]): void => {
          expect(a).toHaveLength(b.length);
          a.forEach((x, index) => expect(Math.abs(x - (b[index] as number))).toBeLessThan(SLACK));
        };
        close(
          wallSeams(other, { spacingIn: spacing, from: side }),
          flip(wallSeams(of, { spacingIn: spacing, from }))
        );
        const a = studMarks(...ends(of), spacing, from);
        const b = studMarks(...ends(other), spacing, side);
        close(
          b.map((each) => each.centerIn),
          flip(a.map((each) => each.centerIn))
        );
        close(
          b.map((each) => each.tapeIn),
          a.map((each) => each.tapeIn).reverse()
        );
      }),
      runs
    );
  });

  it("a run is the framing length and what its ends give, whichever way it is looked at", () => {
    fc.assert(
      fc.property(wall, (of) => {
        const run = runLength(...ends(of));
        expect(run).toBe(runLength(of.lengthIn, of.thicknessIn, of.rightEnd, of.leftEnd));
        const span = runSpan(of);
        expect(span.endIn - span.startIn).toBeCloseTo(run, 9);
        expect(Math.abs(run - of.lengthIn)).toBeLessThanOrEqual(2 * of.thicknessIn + SLACK);
      }),
      runs
    );
  });
});

describe("rake studs", () => {
  it("neighbors differ by spacing times slope, and a mirrored rake has the same studs", () => {
    fc.assert(
      fc.property(wall, tape(60, 200), tape(60, 200), SPACING, (of, left, right, spacing) => {
        // a level wall has no uphill side
        fc.pre(left !== right);
        const slope = (right - left) / of.lengthIn;
        const args = [of.thicknessIn, of.leftEnd, of.rightEnd] as const;
        const studs = rakeStuds(of.lengthIn, left, right, ...args, spacing);
        for (let index = 2; index < studs.length - 1; index++) {
          const [a, b] = [studs[index - 1], studs[index]];
          if (!a || !b) continue;
          expect(b.lengthIn - a.lengthIn).toBeCloseTo(spacing * slope, 6);
        }
        const other = rakeStuds(
          of.lengthIn,
          right,
          left,
          of.thicknessIn,
          of.rightEnd,
          of.leftEnd,
          spacing,
          "right"
        );
        expect(other).toHaveLength(studs.length);
        studs.forEach((stud, index) => {
          const twin = other.at(-1 - index);
          expect(twin?.lengthIn).toBeCloseTo(stud.lengthIn, 6);
          expect((twin?.longPointIn ?? NaN) + stud.longPointIn).toBeCloseTo(of.lengthIn, 6);
          expect(twin?.bevelDeg).toBeCloseTo(stud.bevelDeg, 9);
          // the long edge is the longer one, and the stud fits under the plates there
          expect(stud.lengthIn).toBeGreaterThan(0);
          expect(stud.lengthIn).toBeLessThan(Math.max(left, right));
        });
      }),
      runs
    );
  });
});

describe("counts and feet", () => {
  it("panels of a wall cover it, and one panel a column and course is always enough", () => {
    fc.assert(
      fc.property(wall, height, SPACING, (of, high, spacing) => {
        const panels = panelsPerWall(
          of.lengthIn,
          high,
          of.thicknessIn,
          of.leftEnd,
          of.rightEnd,
          spacing
        );
        const stock = [96, 108, 120].find((each) => each >= high) as number;
        const { runIn } = runSpan(of);
        expect(panels * 48 * stock).toBeGreaterThanOrEqual(runIn * high - SLACK);
        const columns = wallSeams(of, { spacingIn: spacing }).length + 1;
        expect(panels).toBeLessThanOrEqual(columns);
        expect(panels).toBeGreaterThan(0);
      }),
      { ...runs, numRuns: 60 }
    );
  });

  it("nails of a wall are at least those of its panels loose less a stud each, and fall as spacings widen", () => {
    fc.assert(
      fc.property(
        wall,
        height,
        SPACING,
        tape(2, 12),
        tape(2, 12),
        (of, high, spacing, edge, field) => {
          const nails = (e: number, f: number): number =>
            nailsPerWall(of.lengthIn, high, of.thicknessIn, e, f, of.leftEnd, of.rightEnd, spacing);
          expect(nails(edge + 1, field)).toBeLessThanOrEqual(nails(edge, field));
          expect(nails(edge, field + 1)).toBeLessThanOrEqual(nails(edge, field));
          const columns = wallSeams(of, { spacingIn: spacing }).length + 1;
          expect(nails(edge, field)).toBeGreaterThanOrEqual(columns * 4);
        }
      ),
      runs
    );
  });

  it("nails of a piece are those of the formula, turned or not round the edge", () => {
    fc.assert(
      fc.property(tape(1, 48), tape(1, 120), tape(2, 12), tape(2, 16), SPACING, (w, h, e, f, s) => {
        const up = (length: number, each: number): number => Math.ceil(length / each - 1e-9);
        const expected = 2 * up(h, e) + 2 * up(w, e) + (up(w, s) - 1) * (up(h, f) - 1);
        expect(nailsPerPanel(w, h, e, f, s)).toBe(expected);
      }),
      runs
    );
  });

  it("tape of a plain wall: taller is more, a rip course adds at least its run less what it takes off the seams", () => {
    fc.assert(
      fc.property(wall, tape(48, 120), tape(1, 24), SPACING, (of, high, rip, spacing) => {
        const feetOf = (ripIn: number): number =>
          tapeFeet(of.lengthIn, high, of.thicknessIn, of.leftEnd, of.rightEnd, ripIn, spacing);
        const seams = wallSeams(of, { spacingIn: spacing }).length;
        expect(feetOf(0)).toBeCloseTo((seams * high) / 12, 9);
        const { runIn } = runSpan(of);
        const joints = Math.ceil(runIn / 96 - 1e-9) - 1;
        expect(feetOf(rip)).toBeCloseTo((seams * (high - rip) + runIn + joints * rip) / 12, 6);
      }),
      runs
    );
  });

  it("inside corners: pieces with their laps reach the top, and one fewer would not", () => {
    fc.assert(
      fc.property(tape(1, 400), tape(4, 60), tape(0, 3), (high, piece, lap) => {
        const pieces = insideCornerPieces(high, piece, lap);
        const reach = (n: number): number => n * piece - (n - 1) * lap;
        expect(reach(pieces)).toBeGreaterThanOrEqual(high - SLACK);
        if (pieces > 1) expect(reach(pieces - 1)).toBeLessThan(high);
        expect(insideCornerTapeFeet(high, 1, piece, lap) * 12).toBeCloseTo(
          high + (pieces - 1) * lap,
          6
        );
      }),
      runs
    );
  });

  it("corners and openings multiply", () => {
    fc.assert(
      fc.property(tape(1, 400), tape(1, 200), count, thickness, (high, wide, n, t) => {
        expect(cornerTapeFeet(high, n)).toBeCloseTo(n * cornerTapeFeet(high), 6);
        expect(cornerTapeFeet(high, n, "single")).toBeCloseTo(cornerTapeFeet(high, n) / 2, 6);
        expect(insideCornerTapeFeet(high, n)).toBeCloseTo(n * insideCornerTapeFeet(high), 6);
        expect(openingTapeFeet(wide, high, n)).toBeCloseTo(n * openingTapeFeet(wide, high), 6);
        expect(backingStuds(n, t)).toBe(n * backingStuds(1, t));
      }),
      runs
    );
  });

  it("packages hold the need with its spare, and one fewer would not", () => {
    const need = fc.double({ min: 0, max: 1e6, noNaN: true });
    const each = fc.double({ min: 0.5, max: 5000, noNaN: true });
    const spare = fc.double({ min: 0, max: 0.5, noNaN: true });
    fc.assert(
      fc.property(need, each, spare, (wanted, size, extra) => {
        for (const packages of [tapeRolls(wanted, size, extra), nailBoxes(wanted, size, extra)]) {
          const full = (wanted * (1 + extra)) / size;
          expect(packages).toBeGreaterThanOrEqual(full - 1e-8 * Math.max(1, full));
          expect(packages).toBeLessThan(full + 1);
          expect(Number.isInteger(packages) && packages >= 0).toBe(true);
        }
      }),
      runs
    );
  });

  it("nails reach: the stocked nail's penetration is at least the one wanted, and no shorter stock has it", () => {
    const stock = [2, 2.375, 2.5, 3, 3.25, 3.5, 4];
    fc.assert(
      fc.property(tape(0.25, 2.5), tape(0.5, 1.5), (t, into) => {
        const nail = stockNail(nailLength(t, into));
        expect(nailPenetration(nail, t)).toBeGreaterThanOrEqual(into - SLACK);
        const shorter = stock.filter((each) => each < nail);
        for (const each of shorter) expect(each - t).toBeLessThan(into);
      }),
      runs
    );
  });

  it("rips and their cuts fit the panel, and one more would not", () => {
    fc.assert(
      fc.property(tape(0.5, 48), tape(0, 1), (rip, kerf) => {
        const rips = ripsPerPanel(rip, 48, kerf);
        const wide = (n: number): number => n * rip + (n - 1) * kerf;
        expect(wide(rips)).toBeLessThanOrEqual(48 + SLACK);
        expect(wide(rips + 1)).toBeGreaterThan(48);
      }),
      runs
    );
  });
});
