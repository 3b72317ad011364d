import {
  NAIL_LENGTHS_IN,
  nailBoxes,
  nailLength,
  nailPenetration,
  nailsPerPanel,
  nailsPerWall,
  stockNail,
} from "../../src/core/nails.js";
import { penetrationRule } from "../../src/core/penetration.js";
import type { CalcErrorCode } from "../../src/core/check.js";
import { insideCornerPieces } from "../../src/core/tape.js";
import { expectError } from "./expect-error.js";

const T = 1.875;

describe("nailLength and stockNail", () => {
  it("thickness plus penetration, then the next stocked length", () => {
    expect(nailLength(T)).toBe(3.375);
    expect(stockNail(nailLength(T))).toBe(3.5);
    expect(nailLength(T, 1.375)).toBe(3.25);
    expect(stockNail(3.25)).toBe(3.25);
  });
  it("each stocked length is its own answer, just past it is the next", () => {
    NAIL_LENGTHS_IN.forEach((length, index) => {
      expect(stockNail(length)).toBe(length);
      const next = NAIL_LENGTHS_IN[index + 1];
      if (next !== undefined) expect(stockNail(length + 0.001)).toBe(next);
    });
  });
  it("past the longest is not covered, and says what is", () => {
    expectError(
      () => stockNail(4.0625),
      "not-covered",
      "no stocked nail is 4 1/16 in or longer; the longest is 4 in"
    );
  });
  it("another stock, in any order, left as it was", () => {
    const stock = [3.5, 2.5, 3];
    expect(stockNail(2.6, stock)).toBe(3);
    expect(stock).toEqual([3.5, 2.5, 3]);
    expectError(() => stockNail(3.6, stock), "not-covered", /the longest is 3 1\/2 in$/);
    expectError(
      () => stockNail(3, []),
      "out-of-range",
      "stock must list at least one nail length; got none"
    );
    expectError(() => stockNail(3, [0]), "out-of-range", "stock must be more than 0 in; got 0");
  });
  it("names what is outside its limits", () => {
    expectError(() => nailLength(0), "out-of-range", "thickness must be more than 0 in; got 0");
    expectError(
      () => nailLength(T, 0),
      "out-of-range",
      "penetration must be more than 0 in; got 0"
    );
    expectError(
      () => nailLength(T, 12.5),
      "out-of-range",
      "penetration must be at most 12 in; got 12.5"
    );
    expectError(() => stockNail(0), "out-of-range", "length must be more than 0 in; got 0");
    expectError(() => stockNail(25), "out-of-range", "length must be at most 24 in; got 25");
  });
});

describe("nailPenetration", () => {
  it("is what the nail has left after the panel", () => {
    expect(nailPenetration(3.5, T)).toBe(1.625);
    expect(nailPenetration(T, T)).toBe(0);
  });
  it("a nail that does not reach the stud is an error, never a minus", () => {
    expectError(
      () => nailPenetration(1.25, T),
      "out-of-range",
      "nail_length must be at least the thickness, 1.875 in, to reach the stud; got 1.25"
    );
    expectError(
      () => nailPenetration(25, T),
      "out-of-range",
      "nail_length must be at most 24 in; got 25"
    );
  });
});

describe("penetrationRule", () => {
  it("says where its figure comes from, and what the tables take for granted", () => {
    const tight = "the table takes the panel tight against the framing, not over foam";
    expect(penetrationRule("general", 0.131)).toMatchObject({
      table: "common practice",
      note: "common practice, no published source",
    });
    // 0.131 in is the shank of an 8d common nail, 0.113 of a 6d
    const shear = penetrationRule("shear-wall table", 0.131);
    expect(shear.table).toBe("SDPWS-2008 Table 4.3A");
    expect(shear.note).toContain(`8d; ${tight}`);
    const wind = penetrationRule("wind table", 0.113);
    expect(wind.table).toBe("IRC 2021 Table R602.3(3)");
    expect(wind.note).toContain(`6d; ${tight}`);
    // half a thousandth either way is the same nail
    expect(penetrationRule("wind table", 0.1314).value).toBe(1.75);
    expectError(
      () => penetrationRule("general", 0.5),
      "out-of-range",
      "nail_diameter must be less than 0.5 in; got 0.5"
    );
  });
  it("by basis and shank", () => {
    expect(penetrationRule("general", 0.113).value).toBe(1.5);
    expect(penetrationRule("shear-wall table", 0.113).value).toBe(1.25);
    expect(penetrationRule("shear-wall table", 0.131).value).toBe(1.375);
    expect(penetrationRule("shear-wall table", 0.148).value).toBe(1.5);
    expect(penetrationRule("wind table", 0.113).value).toBe(1.5);
    expect(penetrationRule("wind table", 0.131).value).toBe(1.75);
  });
  it("a shank the table has no row for is not covered", () => {
    expectError(
      () => penetrationRule("wind table", 0.148),
      "not-covered",
      "wind table has rows for nail shanks of 0.113, 0.131 in; got 0.148; use the engineer's schedule"
    );
    expectError(
      () => penetrationRule("shear-wall table", 0.12),
      "not-covered",
      /shear-wall table has rows/
    );
  });
  it("another basis, another thing than a shank", () => {
    expectError(
      () => penetrationRule("guess", 0.131),
      "out-of-range",
      'penetration basis must be one of shear-wall table, general, wind table; got "guess"'
    );
    expectError(() => penetrationRule("general", 0.5), "out-of-range", /must be less than 0\.5 in/);
    expectError(() => penetrationRule("general", 0), "out-of-range", /must be more than 0 in/);
  });
});

describe("nailsPerPanel", () => {
  it("edges at the edge spacing or closer, field on every stud between", () => {
    // 2 x 16 + 2 x 8 round the edge, 7 on each of two studs
    expect(nailsPerPanel(48, 96, 6, 12)).toBe(62);
    // at 24 in one stud between
    expect(nailsPerPanel(48, 96, 6, 12, 24)).toBe(55);
    // 4 in edges: 2 x 24 + 2 x 12 + 14
    expect(nailsPerPanel(48, 96, 4, 12)).toBe(86);
    expect(nailsPerPanel(48, 120, 6, 12)).toBe(2 * 20 + 2 * 8 + 2 * 9);
  });
  it("a strip one stud space wide has no field, just wider has one stud", () => {
    expect(nailsPerPanel(16, 96, 6, 12)).toBe(32 + 6);
    expect(nailsPerPanel(16.25, 96, 6, 12)).toBe(32 + 6 + 7);
  });
  it("a piece no taller than the field spacing has no field nails", () => {
    expect(nailsPerPanel(48, 12, 6, 12)).toBe(4 + 16);
    expect(nailsPerPanel(48, 12.5, 6, 12)).toBe(6 + 16 + 2);
  });
  it("a scrap smaller than the spacings still has a nail on every side", () => {
    expect(nailsPerPanel(2, 2, 6, 12)).toBe(4);
  });
  it("names what is outside its limits", () => {
    expectError(() => nailsPerPanel(0, 96, 6, 12), "out-of-range", /^width must be more than 0/);
    expectError(() => nailsPerPanel(48, 0, 6, 12), "out-of-range", /^height must be more than 0/);
    expectError(
      () => nailsPerPanel(48, 96, 0.4, 12),
      "out-of-range",
      "edge_spacing must be at least 0.5 in; got 0.4"
    );
    expectError(
      () => nailsPerPanel(48, 96, 6, 97),
      "out-of-range",
      "field_spacing must be at most 96 in; got 97"
    );
    expectError(
      () => nailsPerPanel(48, 96, 6, 12, 2),
      "out-of-range",
      "spacing must be at least 3 in; got 2"
    );
  });
});

describe("nailsPerWall", () => {
  it("two whole panels", () => {
    expect(nailsPerWall(96, 96, T, 6, 12, "free", "free")).toBe(124);
  });
  it("narrower pieces at both ends: studs that stand, not studs on paper", () => {
    // past at both ends of 8 ft: pieces 48, 32 and 19-3/4 wide. 32+16+2x7, 32+12+7, 32+8+0: the
    // stud at 94-1/8 would overlap the end stud, so the last piece has none between
    expect(nailsPerWall(96, 96, T, 6, 12, "past", "past")).toBe(62 + 51 + 40);
  });
  it("a rip course is nailed by itself", () => {
    // two 48 x 72: 24 + 16 + 2 x 5; a rip 96 x 24: 8 + 32 + five studs x 1
    expect(nailsPerWall(96, 96, T, 6, 12, "free", "free", 16, 24)).toBe(2 * 50 + 45);
  });
  it("names what is outside its limits", () => {
    expectError(
      () => nailsPerWall(96, 96, T, 6, 12, "free", "free", 16, 96),
      "out-of-range",
      "rip_height must be less than 96 in; got 96"
    );
    expectError(
      () => nailsPerWall(96, 96, T, 6, 12, "free", "free", 16, 48.5),
      "out-of-range",
      "rip_height must be at most 48 in, a panel's width; got 48.5"
    );
    expectError(
      () => nailsPerWall(96, 96, T, 97, 12, "free", "free"),
      "out-of-range",
      "edge_spacing must be at most 96 in; got 97"
    );
  });
});

describe("nailBoxes", () => {
  it("rounds up once, spare included", () => {
    expect(nailBoxes(5000, 2000)).toBe(3);
    expect(nailBoxes(4000, 2000, 0)).toBe(2);
    expect(nailBoxes(4001, 2000, 0)).toBe(3);
    expect(nailBoxes(0, 2000)).toBe(0);
  });
  it("names what is outside its limits", () => {
    expectError(() => nailBoxes(-1, 2000), "out-of-range", "nails must be at least 0; got -1");
    expectError(() => nailBoxes(1, 0), "out-of-range", "nails_per_box must be more than 0; got 0");
    expectError(
      () => nailBoxes(1, 2000, 1),
      "out-of-range",
      "extra must be less than 1; got 1; 5 % is 0.05"
    );
  });
});

describe("arguments of nails, by name", () => {
  it.each<[() => unknown, CalcErrorCode, string]>([
    [
      () => stockNail(3, "3" as never),
      "wrong-kind",
      'stock must be a list of nail lengths; got "3"',
    ],
    [() => nailPenetration(3, 0), "out-of-range", "thickness must be more than 0 in; got 0"],
    [
      () => nailsPerWall(96, 0, T, 6, 12, "free", "free"),
      "out-of-range",
      "height must be more than 0 in; got 0",
    ],
    [() => insideCornerPieces(0, 36, 3), "out-of-range", "height must be more than 0 in; got 0"],
  ])("%#", (call, code, message) => expectError(call, code, message));

  it("a wall at another spacing has its studs and seams there, its rips too", () => {
    // 96 in at 24 in: two panels of 48 with one stud between: 62 less the 7 of the second stud, each
    expect(nailsPerWall(96, 96, T, 6, 12, "free", "free", 24)).toBe(2 * (2 * 16 + 2 * 8 + 7));
    // panels of 84 over rips of 12; one rip of 96 in joins nowhere: 2 x 2 + 2 x 16, and nothing between at 12 in
    const panels = 2 * (2 * 14 + 2 * 8 + 6);
    expect(nailsPerWall(96, 96, T, 6, 12, "free", "free", 24, 12)).toBe(panels + 2 * 2 + 2 * 16);
  });
});
