/** Nested rake pieces as polygons, and what a saw takes out in one piece. */
import fc from "fast-check";
import {
  type Nest,
  type Outline,
  canNest,
  nest,
  pairBlock,
  pairOf,
  pieceBlock,
  plumbKerf,
  ripBlock,
} from "../../../src/core/cut-plan/blocks.js";
import type { Model } from "../../../src/core/cut-plan/prepare.js";
import { type SmallProblem, law, modelOf } from "./small-problems.js";

interface Line {
  readonly x: number;
  readonly y: number;
  readonly slope: number;
}

/** The sloped edges of a nest: the top of the level piece, the underside of the turned one. */
function edges(level: Outline, turned: Outline, box: Nest): { top: Line; under: Line } {
  const topOfTurned = box.upperY + Math.max(turned.left, turned.right);
  // end for end: what stood right hangs left
  return {
    top: { x: 0, y: level.left, slope: (level.right - level.left) / level.w },
    under: {
      x: box.upperX,
      y: topOfTurned - turned.right,
      slope: (turned.right - turned.left) / turned.w,
    },
  };
}

const heightAt = ({ x, y, slope }: Line, at: number): number => y + slope * (at - x);

describe("the saw cut along a rake", () => {
  it("is the kerf over the cosine of the slope, rounded up to a whole unit", () => {
    expect(plumbKerf(128, 0, 100)).toBe(128);
    // 3-4-5: 128 x 5/4 and 128 x 5/3
    expect(plumbKerf(128, 3, 4)).toBe(160);
    expect(plumbKerf(128, 4, 3)).toBe(214);
    expect(plumbKerf(128, -4, 3)).toBe(214);
    expect(plumbKerf(0, 4, 3)).toBe(0);
    expect(plumbKerf(1, 1, 1000)).toBe(2);
  });
});

describe("rake pieces that nest", () => {
  const rake = (w: number, left: number, right: number): Outline => ({ w, left, right });
  it("rise the same way at the same slope", () => {
    expect(canNest(rake(100, 10, 60), rake(100, 10, 60))).toBe(true);
    expect(canNest(rake(100, 10, 60), rake(50, 40, 65))).toBe(true);
    expect(canNest(rake(100, 60, 10), rake(50, 65, 40))).toBe(true);
    expect(canNest(rake(100, 10, 60), rake(100, 60, 10))).toBe(false);
    expect(canNest(rake(100, 60, 10), rake(100, 10, 60))).toBe(false);
    expect(canNest(rake(100, 10, 10), rake(100, 10, 60))).toBe(false);
    expect(canNest(rake(100, 10, 60), rake(100, 10, 10))).toBe(false);
  });
  it("are not level, nor rise different ways, however little", () => {
    expect(canNest(rake(100, 10, 10), rake(100, 10, 20))).toBe(false);
    expect(canNest(rake(100, 10, 20), rake(100, 10, 10))).toBe(false);
    expect(canNest(rake(100, 20, 10), rake(100, 10, 10))).toBe(false);
    expect(canNest(rake(100, 10, 10), rake(100, 20, 10))).toBe(false);
    expect(canNest(rake(100, 10, 20), rake(100, 20, 10))).toBe(false);
    expect(canNest(rake(100, 20, 10), rake(100, 10, 20))).toBe(false);
  });
  it("may differ in rise by 1/16 in, 64 units, over the narrower one", () => {
    expect(canNest(rake(1000, 0, 500), rake(1000, 0, 564))).toBe(true);
    expect(canNest(rake(1000, 0, 500), rake(1000, 0, 565))).toBe(false);
    expect(canNest(rake(1000, 0, 500), rake(1000, 0, 435))).toBe(false);
    expect(canNest(rake(1000, 0, 500), rake(1000, 0, 436))).toBe(true);
    // over half the width 250 of the one, and 314 or 315 of the other
    expect(canNest(rake(1000, 0, 500), rake(500, 0, 314))).toBe(true);
    expect(canNest(rake(1000, 0, 500), rake(500, 0, 315))).toBe(false);
    expect(canNest(rake(500, 0, 314), rake(1000, 0, 500))).toBe(true);
    expect(canNest(rake(500, 0, 315), rake(1000, 0, 500))).toBe(false);
  });
});

describe("a nest", () => {
  it("of two alike, 3 in 4: both heights and one saw cut on the plumb", () => {
    const one = { w: 400, left: 100, right: 400 };
    // at the low end 100 + 160 + 400
    expect(nest(one, one, 128)).toEqual({
      firstLevel: true,
      w: 400,
      h: 660,
      upperX: 0,
      upperY: 260,
      gap: 160,
    });
    const falling = { w: 400, left: 400, right: 100 };
    expect(nest(falling, falling, 128)).toEqual(nest(one, one, 128));
  });
  it("hangs the narrower at the low end", () => {
    const wide = { w: 400, left: 100, right: 400 };
    const narrow = { w: 200, left: 50, right: 200 };
    const box = { w: 400, h: 460, upperX: 0, upperY: 260, gap: 160 };
    expect(nest(wide, narrow, 128)).toEqual({ ...box, firstLevel: true });
    expect(nest(narrow, wide, 128)).toEqual({ ...box, firstLevel: false });
    const down = { w: 400, left: 400, right: 100 };
    const narrowDown = { w: 200, left: 200, right: 50 };
    expect(nest(down, narrowDown, 128)).toEqual({ ...box, upperX: 200, firstLevel: true });
  });
  it("is no lower than its level piece", () => {
    const wide = { w: 400, left: 100, right: 400 };
    const speck = { w: 4, left: 1, right: 4 };
    expect(nest(wide, speck, 0)).toMatchObject({ h: 400, upperY: 100 });
  });

  const outlines = fc
    .record({
      w: fc.integer({ min: 200, max: 49_152 }),
      other: fc.integer({ min: 200, max: 49_152 }),
      pitch: fc.integer({ min: 1, max: 24 }),
      low: fc.integer({ min: 0, max: 40_000 }),
      otherLow: fc.integer({ min: 0, max: 40_000 }),
      off: fc.integer({ min: -64, max: 64 }),
      isFalling: fc.boolean(),
      kerf: fc.constantFrom(0, 64, 128, 192),
    })
    .map(({ w, other, pitch, low, otherLow, off, isFalling, kerf }) => {
      const make = (width: number, at: number, more: number): Outline => {
        const high = at + Math.max(1, Math.round((width * pitch) / 12) + more);
        return isFalling
          ? { w: width, left: high, right: at }
          : { w: width, left: at, right: high };
      };
      return { a: make(w, low, 0), b: make(other, otherLow, off), kerf };
    })
    .filter(({ a, b }) => canNest(a, b));

  it("keeps the saw cut between its two pieces, inside its box, and not a unit more than needed", () => {
    fc.assert(
      fc.property(outlines, ({ a, b, kerf }) => {
        const box = nest(a, b, kerf);
        expect(box.firstLevel).toBe(a.w >= b.w);
        const [level, turned] = box.firstLevel ? [a, b] : [b, a];
        const { top, under } = edges(level, turned, box);
        expect(box.w).toBe(level.w);
        expect(box.upperX).toBe(level.right > level.left ? 0 : level.w - turned.w);
        const topOfTurned = box.upperY + Math.max(turned.left, turned.right);
        expect(box.h).toBe(Math.max(topOfTurned, level.left, level.right));
        // straight edges are nearest at one end of the narrower
        const ends = [box.upperX, box.upperX + turned.w];
        const gaps = ends.map((at) => heightAt(under, at) - heightAt(top, at));
        const steepest = Math.max(Math.abs(top.slope), Math.abs(under.slope));
        const needed = kerf * Math.hypot(1, steepest);
        expect(box.gap).toBeGreaterThanOrEqual(needed - 1e-6);
        expect(box.gap).toBeLessThan(needed + 1);
        expect(Math.min(...gaps)).toBeGreaterThanOrEqual(box.gap - 1e-6);
        // one for rounding the height at the far end up to a whole unit
        expect(Math.min(...gaps)).toBeLessThan(box.gap + 1 + 1e-6);
      }),
      law(31, 150)
    );
  });

  it("never shrinks when a piece grows", () => {
    fc.assert(
      fc.property(outlines, fc.integer({ min: 1, max: 500 }), ({ a, b, kerf }, more) => {
        const taller = { ...a, left: a.left + more, right: a.right + more };
        expect(nest(taller, b, kerf).h).toBeGreaterThanOrEqual(nest(a, b, kerf).h);
      }),
      law(32, 60)
    );
  });
});

describe("blocks", () => {
  const small: SmallProblem = {
    width: 400,
    kerf: 4,
    canTurn: true,
    stock: [[900, 9]],
    pieces: [
      [100, 200],
      [100, 50, 125],
      [200, 60, 210],
    ],
    runs: [{ height: 30, joints: [10, 26, 42, 58], smallest: 16 }],
  };
  let model: Model;
  beforeEach(() => {
    model = modelOf(small);
  });
  it("of a piece are its ways of lying", () => {
    const [type] = model.types;
    expect(type!.ways.map((way) => pieceBlock(type!, way))).toEqual(
      [
        { w: 100, h: 200, turned: 0 as const },
        { w: 200, h: 100, turned: 90 as const },
      ].map((way) => ({
        ...way,
        type: 0,
        pair: null,
        run: -1,
        from: 0,
        to: 0,
        area: 20_000,
        worth: 20_000,
      }))
    );
  });
  it("of a pair name the level piece first", () => {
    const pair = pairOf(model.types[1]!, model.types[2]!, 4);
    expect([pair.lower, pair.upper, pair.firstLevel]).toEqual([2, 1, false]);
    const other = pairOf(model.types[2]!, model.types[1]!, 4);
    expect([other.lower, other.upper, other.firstLevel]).toEqual([2, 1, true]);
    // 100 x (50 + 125) / 2 and 200 x (60 + 210) / 2
    const area = 8_750 + 27_000;
    expect(pairBlock(model, pair)).toEqual({
      w: 200,
      h: pair.h,
      turned: 0,
      type: 2,
      pair,
      run: -1,
      from: 0,
      to: 0,
      area,
      worth: area,
    });
  });
  it("of a rip are its height by its length", () => {
    expect(ripBlock(model.runs[0]!, 1, 3, { w: 30, h: 32, turned: 90 })).toEqual({
      w: 30,
      h: 32,
      turned: 90,
      type: -1,
      pair: null,
      run: 0,
      from: 1,
      to: 3,
      area: 960,
      worth: 960,
    });
  });
});
