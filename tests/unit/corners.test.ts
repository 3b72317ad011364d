import { cornerOffset, panelThickness, routerBit } from "../../src/core/assembly.js";
import { backingAtCorner, backingStuds } from "../../src/core/backing.js";
import {
  OPPOSITE_END,
  WALL_ENDS,
  type WallEnd,
  checkEnd,
  endReach,
  runLength,
} from "../../src/core/corners.js";
import { expectError } from "./expect-error.js";

const FOAM_IN = 1.25;
const PANEL_IN = 0.625;
const T = FOAM_IN + PANEL_IN;

describe("panelThickness", () => {
  it("is foam plus panel, not rounded", () => {
    expect(panelThickness(1.25, 0.625)).toBe(1.875);
    expect(panelThickness(2, 15 / 32)).toBe(2.46875);
  });
  it("takes up to 12 in of each and no more", () => {
    expect(panelThickness(12, 0.625)).toBe(12.625);
    expectError(
      () => panelThickness(12.001, 0.5),
      "out-of-range",
      "foam must be at most 12 in; got 12.001"
    );
    expectError(() => panelThickness(1, 13), "out-of-range", "panel must be at most 12 in; got 13");
  });
  it("says that a blank cell can read as 0", () => {
    expectError(
      () => panelThickness(0, 0.5),
      "out-of-range",
      "foam must be more than 0 in; got 0; a blank cell can read as 0"
    );
    expectError(() => panelThickness(1, 0), "out-of-range", /panel must be more than 0 in.*blank/);
    expectError(
      () => panelThickness(-1, 0.5),
      "out-of-range",
      "foam must be more than 0 in; got -1"
    );
  });
  it("takes numbers only", () => {
    expectError(
      () => panelThickness("1" as unknown as number, 0.5),
      "wrong-kind",
      'foam must be a number; got "1"'
    );
    expectError(() => panelThickness(1, NaN), "wrong-kind", /panel must be a finite number/);
  });
});

describe("cornerOffset", () => {
  it("is exactly the thickness at a square corner", () => {
    expect(cornerOffset(FOAM_IN, PANEL_IN)).toBe(T);
    expect(cornerOffset(FOAM_IN, PANEL_IN, 90)).toBe(T);
  });
  it("is thickness x tan(turn/2) elsewhere: a bay's 45 degrees burns 0.4142 t, 120 burns 1.732 t", () => {
    expect(cornerOffset(FOAM_IN, PANEL_IN, 45)).toBeCloseTo(T * (Math.SQRT2 - 1), 12);
    expect(cornerOffset(FOAM_IN, PANEL_IN, 60)).toBeCloseTo(T / Math.sqrt(3), 12);
    expect(cornerOffset(FOAM_IN, PANEL_IN, 120)).toBeCloseTo(T * Math.sqrt(3), 12);
  });
  it("needs a turn between 0 and 180 degrees, ends not included", () => {
    expect(cornerOffset(FOAM_IN, PANEL_IN, 0.001)).toBeGreaterThan(0);
    expect(cornerOffset(FOAM_IN, PANEL_IN, 179)).toBeGreaterThan(100);
    const say = (rule: string, got: number): string => `turn must be ${rule} deg; got ${got}`;
    expectError(() => cornerOffset(1, 0.5, 0), "out-of-range", say("more than 0", 0));
    expectError(() => cornerOffset(1, 0.5, -90), "out-of-range", say("more than 0", -90));
    expectError(() => cornerOffset(1, 0.5, 180), "out-of-range", say("less than 180", 180));
    expectError(() => cornerOffset(1, 0.5, 270), "out-of-range", say("less than 180", 270));
    expectError(() => cornerOffset(1, 0.5, NaN), "wrong-kind", /turn must be a finite number/);
  });
});

describe("routerBit", () => {
  it("is thickness plus clearance, a quarter inch where none is given", () => {
    expect(routerBit(T)).toBe(2.125);
    expect(routerBit(T, 0)).toBe(T);
    expect(routerBit(12, 12)).toBe(24);
  });
  it("refuses a thickness or clearance outside its limits", () => {
    expectError(() => routerBit(0), "out-of-range", "thickness must be more than 0 in; got 0");
    expectError(() => routerBit(12.5), "out-of-range", "thickness must be at most 12 in; got 12.5");
    expectError(
      () => routerBit(T, -0.1),
      "out-of-range",
      "clearance must be at least 0 in; got -0.1"
    );
    expectError(() => routerBit(T, 13), "out-of-range", "clearance must be at most 12 in; got 13");
  });
});

describe("runLength", () => {
  const gain: Record<WallEnd, number> = { past: T, flush: 0, tight: 0, short: -T, free: 0 };

  it("changes by what each of the 25 pairs of ends says", () => {
    for (const left of WALL_ENDS) {
      for (const right of WALL_ENDS) {
        expect(runLength(240, T, left, right)).toBeCloseTo(240 + gain[left] + gain[right], 12);
        expect(endReach(left, T)).toBe(gain[left]);
      }
    }
  });
  it("takes ends in any case and with spaces round them", () => {
    expect(runLength(240, T, " Past " as WallEnd, "FLUSH" as WallEnd)).toBe(240 + T);
    expect(checkEnd("left_end", "Short")).toBe("short");
  });
  it("names the end that is not one of the five", () => {
    const list = "past, flush, tight, short, free";
    expectError(
      () => runLength(240, T, "butt" as WallEnd, "past"),
      "out-of-range",
      `left_end must be one of ${list}; got "butt"`
    );
    expectError(
      () => runLength(240, T, "past", "" as WallEnd),
      "wrong-kind",
      `right_end must be one of ${list}; got a blank`
    );
    expectError(
      () => runLength(240, T, 1 as unknown as WallEnd, "past"),
      "wrong-kind",
      `left_end must be one of ${list}; got 1`
    );
  });
  it("needs a run to be left", () => {
    expect(runLength(2 * T + 0.01, T, "short", "short")).toBeCloseTo(0.01, 12);
    expectError(
      () => runLength(2 * T, T, "short", "short"),
      "out-of-range",
      "length must leave a run to sheathe: 3.75 in less what the ends take leaves 0 in"
    );
    expectError(() => runLength(1, T, "short", "free"), "out-of-range", /leaves -0\.875 in/);
  });
  it("takes a wall up to a thousand feet", () => {
    expect(runLength(11_999, T, "free", "free")).toBe(11_999);
    expectError(
      () => runLength(12_000, T, "free", "free"),
      "out-of-range",
      "length must be less than 12000 in; got 12000"
    );
    expectError(
      () => runLength(0, T, "free", "free"),
      "out-of-range",
      "length must be more than 0 in; got 0"
    );
    expectError(
      () => runLength(240, 12.1, "free", "free"),
      "out-of-range",
      "thickness must be at most 12 in; got 12.1"
    );
    expectError(
      () => runLength(240, 0, "free", "free"),
      "out-of-range",
      "thickness must be more than 0 in; got 0"
    );
  });
  it("each end has one partner, and the partner has it", () => {
    expect(OPPOSITE_END).toEqual({
      past: "flush",
      flush: "past",
      tight: "short",
      short: "tight",
      free: "free",
    });
  });
});

describe("backing behind a panel that stops short", () => {
  it("one stud where the end stud leaves less than 3/4 in of nailing", () => {
    // 1-7/8 covers the end stud; 1-7/8 + 3/4 - 1-1/2 = 1-1/8 is wanted: one stud
    expect(backingAtCorner(1.875)).toBe(1);
    expect(backingStuds(2, 1.875)).toBe(2);
  });
  it("none where 3/4 in is left: up to a 3/4 in panel", () => {
    expect(backingAtCorner(0.75)).toBe(0);
    expect(backingAtCorner(0.625)).toBe(0);
    expect(backingAtCorner(0.7501)).toBe(1);
  });
  it("as many studs as thick foam needs", () => {
    // (t + 3/4 - 1-1/2) / 1-1/2: 2-1/4 in needs 1, just over needs 2, 3-3/4 needs 2
    expect(backingAtCorner(2.25)).toBe(1);
    expect(backingAtCorner(2.26)).toBe(2);
    expect(backingAtCorner(3.75)).toBe(2);
    expect(backingAtCorner(3.76)).toBe(3);
  });
  it("a channel is three members, and none where none is needed", () => {
    expect(backingStuds(2, 1.875, "channel")).toBe(6);
    expect(backingStuds(2, 0.625, "channel")).toBe(0);
  });
  it("another nailing surface, another stud", () => {
    expect(backingAtCorner(1.25, "stud", 0.25)).toBe(0);
    expect(backingAtCorner(1.875, "stud", 1.5, 1.5)).toBe(2);
    expect(backingAtCorner(1.875, "stud", 0.75, 3.5)).toBe(0);
  });
  it("no corners, no pieces, and never minus zero", () => {
    expect(backingStuds(0, 1.875)).toBe(0);
    expect(Object.is(backingStuds(-0, 1.875), 0)).toBe(true);
  });
  it("names the argument outside its limits", () => {
    expectError(
      () => backingStuds(1.5, T),
      "out-of-range",
      "inside_corners must be a whole number; got 1.5"
    );
    expectError(
      () => backingStuds(-1, T),
      "out-of-range",
      "inside_corners must be at least 0; got -1"
    );
    expectError(
      () => backingStuds(100_001, T),
      "out-of-range",
      "inside_corners must be at most 100000; got 100001"
    );
    expectError(
      () => backingStuds(1, T, "glue" as never),
      "out-of-range",
      'method must be one of stud, channel; got "glue"'
    );
    expectError(() => backingStuds(1, 0), "out-of-range", /thickness must be more than 0/);
    expectError(() => backingStuds(1, T, "stud", 0), "out-of-range", /nailing must be more than 0/);
    expectError(
      () => backingStuds(1, T, "stud", 13),
      "out-of-range",
      "nailing must be at most 12 in; got 13"
    );
    expectError(
      () => backingStuds(1, T, "stud", 1, 0.4),
      "out-of-range",
      "stud must be at least 0.5 in; got 0.4"
    );
  });
});
