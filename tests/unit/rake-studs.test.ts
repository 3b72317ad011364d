import { type RakeStud, cutStudTo, rakeStuds, USUAL_PLATES } from "../../src/core/rake-studs.js";
import {
  type WallTop,
  heightAt,
  isLevel,
  peakOf,
  slopeAt,
  wallTop,
} from "../../src/core/wall-top.js";
import { expectError } from "./expect-error.js";

const T = 1.875;
/** three plates of 1-1/2 in: one square below, two sloped above, 6 in 12 */
const PLUMB_SIX_IN_TWELVE = 3 * Math.sqrt(1.25);

describe("rakeStuds", () => {
  const uphill = (): RakeStud[] => rakeStuds(144, 96, 168, T, "free", "free", 24);

  it("the long point is the edge on the uphill side", () => {
    const studs = uphill();
    expect(studs.map((each) => each.centerIn)).toEqual([0.75, 24, 48, 72, 96, 120, 143.25]);
    expect(studs.map((each) => each.longPointIn)).toEqual([
      1.5, 24.75, 48.75, 72.75, 96.75, 120.75, 144,
    ]);
    const down = rakeStuds(144, 168, 96, T, "free", "free", 24);
    expect(down.map((each) => each.longPointIn)).toEqual([
      0, 23.25, 47.25, 71.25, 95.25, 119.25, 142.5,
    ]);
  });

  it("length along the long edge: wall height there, less plates, sloped plates measured plumb", () => {
    // at x = 48.75 the wall is 96 + 24.375
    expect(uphill()[2]?.lengthIn).toBeCloseTo(120.375 - 1.5 - PLUMB_SIX_IN_TWELVE, 12);
  });

  it("bevel is the slope's angle, the same uphill and down", () => {
    for (const stud of uphill()) expect(stud.bevelDeg).toBeCloseTo(26.565051177078, 10);
    const down = rakeStuds(144, 168, 96, T, "free", "free", 24);
    expect(down[0]?.bevelDeg).toBeCloseTo(26.565051177078, 10);
  });

  it("a level wall has square studs between its plates", () => {
    const level = rakeStuds(96, 97.125, 97.125, T, "free", "free");
    for (const stud of level) {
      expect(stud.lengthIn).toBeCloseTo(92.625, 12);
      expect(stud.bevelDeg).toBe(0);
    }
  });

  it("studs that the plates leave no room for are left out and keep their numbers", () => {
    // rises 6 in 12 from 0: at mark 1 the wall is 3/4 in high
    const toNothing = rakeStuds(96, 0, 48, T, "free", "free");
    expect(toNothing.map((each) => each.mark)).toEqual([2, 3, 4, 5, 6, 7]);
    expect(toNothing[0]?.lengthIn).toBeCloseTo(8.375 - 1.5 - PLUMB_SIX_IN_TWELVE, 12);
  });

  it("no plates, more plates, thinner plates", () => {
    const bare = { bottomCount: 0, topCount: 0, plateIn: 1.5 };
    expect(rakeStuds(96, 96, 96, T, "free", "free", 16, "left", 1.5, bare)[0]?.lengthIn).toBe(96);
    const thin = { bottomCount: 2, topCount: 1, plateIn: 0.75 };
    expect(
      rakeStuds(96, 96, 96, T, "free", "free", 16, "left", 1.5, thin)[0]?.lengthIn
    ).toBeCloseTo(93.75, 12);
  });

  it("a past end moves the layout, and the last common stud stays clear of the end stud", () => {
    const past = rakeStuds(144, 96, 168, T, "past", "free", 24);
    expect(past[1]?.centerIn).toBe(24 - T);
    expect(past[1]?.lengthIn).toBeCloseTo(96 + (24 - T + 0.75) / 2 - 1.5 - PLUMB_SIX_IN_TWELVE, 12);
  });

  it("names what is outside its limits", () => {
    const bad =
      (plates: object): (() => unknown) =>
      () =>
        rakeStuds(96, 96, 120, T, "free", "free", 16, "left", 1.5, { ...USUAL_PLATES, ...plates });
    expectError(
      bad({ bottomCount: 1.5 }),
      "out-of-range",
      "bottom_plates must be a whole number; got 1.5"
    );
    expectError(bad({ topCount: 11 }), "out-of-range", "top_plates must be at most 10; got 11");
    expectError(bad({ topCount: -1 }), "out-of-range", "top_plates must be at least 0; got -1");
    expectError(bad({ plateIn: 0.4 }), "out-of-range", "plate must be at least 0.5 in; got 0.4");
    expectError(bad({ plateIn: 6.5 }), "out-of-range", "plate must be at most 6 in; got 6.5");
    expectError(
      () => rakeStuds(96, 4, 4, T, "free", "free"),
      "out-of-range",
      "height must leave room for a stud between the plates"
    );
    expectError(
      () => rakeStuds(96, -1, 96, T, "free", "free"),
      "out-of-range",
      "left height must be at least 0 in; got -1"
    );
    expectError(
      () => rakeStuds(96, 96, 1200, T, "free", "free"),
      "out-of-range",
      "right height must be less than 1200 in; got 1200"
    );
    expectError(
      () => rakeStuds(96, 0, 0, T, "free", "free"),
      "out-of-range",
      "height must be more than 0 in at one end; got 0"
    );
  });
});

describe("plates", () => {
  it("are whole in number, ten at most", () => {
    const cut = (more: object): unknown =>
      rakeStuds(96, 96, 120, T, "free", "free", 16, "left", 1.5, { ...USUAL_PLATES, ...more });
    expectError(
      () => cut({ topCount: 1.5 }),
      "out-of-range",
      "top_plates must be a whole number; got 1.5"
    );
    expectError(
      () => cut({ topCount: 11 }),
      "out-of-range",
      "top_plates must be at most 10; got 11"
    );
    expectError(
      () => cut({ bottomCount: 0.5 }),
      "out-of-range",
      /^bottom_plates must be a whole number/
    );
  });
});

describe("the top of a wall", () => {
  const gableTop = (): WallTop => wallTop(240, 96, 96, { atIn: 120, heightIn: 156 });

  it("goes on along its slope past the framing ends, as the panel does", () => {
    expect(heightAt(wallTop(144, 96, 168), -T)).toBeCloseTo(96 - T / 2, 12);
    expect(heightAt(gableTop(), 240 + T)).toBeCloseTo(96 - T / 2, 12);
  });

  it("says what its length, heights and peak may be", () => {
    const say = (call: () => WallTop, message: string): void =>
      expectError(call, "out-of-range", message);
    const peak = (heightIn: number): WallTop => wallTop(240, 96, 120, { atIn: 120, heightIn });
    say(() => wallTop(0, 96, 96), "length must be more than 0 in; got 0");
    say(() => peak(0), "peak height must be more than 0 in; got 0");
    say(() => peak(1200), "peak height must be less than 1200 in; got 1200");
    // over one end is not enough
    say(
      () => peak(110),
      "peak height must be more than both end heights; got 110 beside 96 and 120"
    );
    // a wall may come down to the deck at one end
    expect(wallTop(96, 5, 0)).toHaveLength(2);
    expect(wallTop(96, 0, 5)).toHaveLength(2);
  });

  it("has a peak where it has one", () => {
    expect(peakOf(wallTop(240, 96, 168))).toBeUndefined();
    expect(peakOf(gableTop())).toEqual({ xIn: 120, heightIn: 156 });
  });

  it("rises to the peak and falls after it", () => {
    expect(slopeAt(gableTop(), 0)).toBe(0.5);
    expect(slopeAt(gableTop(), 240)).toBe(-0.5);
    expect(heightAt(gableTop(), 120)).toBe(156);
    expect(isLevel(gableTop())).toBe(false);
    expect(isLevel(wallTop(240, 96, 96))).toBe(true);
  });

  it("a stud under the peak is as long as the peak lets it be", () => {
    const cut = cutStudTo(gableTop(), 120, 1.5, USUAL_PLATES);
    expect(cut.longPointIn).toBe(120);
    expect(cut.lengthIn).toBeCloseTo(156 - 1.5 - PLUMB_SIX_IN_TWELVE, 12);
    // a little off the peak the uphill edge would be past it: the peak is still the long point
    expect(cutStudTo(gableTop(), 119.5, 1.5, USUAL_PLATES).longPointIn).toBe(120);
    // a stud whose edge only touches the peak line keeps its own edge
    expect(cutStudTo(gableTop(), 119.25, 1.5, USUAL_PLATES).longPointIn).toBe(120);
    expect(cutStudTo(gableTop(), 118, 1.5, USUAL_PLATES).longPointIn).toBe(118.75);
  });

  it("under a peak of two slopes the steeper side decides, whichever side it is on", () => {
    // 12 in 12 up over 4 ft, 6 in 12 down over 8 ft: the steep plates take 3 x sqrt(2) plumb
    const saddle = wallTop(144, 96, 96, { atIn: 48, heightIn: 144 });
    const other = wallTop(144, 96, 96, { atIn: 96, heightIn: 144 });
    for (const cut of [
      cutStudTo(saddle, 48, 1.5, USUAL_PLATES),
      cutStudTo(other, 96, 1.5, USUAL_PLATES),
    ]) {
      expect(cut.lengthIn).toBeCloseTo(144 - 1.5 - 3 * Math.SQRT2, 12);
      expect(cut.bevelDeg).toBeCloseTo(45, 12);
    }
  });

  it("refuses a peak that is none", () => {
    expectError(
      () => wallTop(240, 96, 96, { atIn: 120, heightIn: 96 }),
      "out-of-range",
      "peak height must be more than both end heights; got 96 beside 96 and 96"
    );
    expectError(
      () => wallTop(240, 96, 96, { atIn: 0, heightIn: 120 }),
      "out-of-range",
      "peak at must be more than 0 in; got 0"
    );
    expectError(
      () => wallTop(240, 96, 96, { atIn: 240, heightIn: 120 }),
      "out-of-range",
      "peak at must be less than 240 in; got 240"
    );
  });
});
