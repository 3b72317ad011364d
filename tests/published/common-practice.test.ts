/**
 * Rules of thumb of the trade. Every one of them is *common practice, no source*, but for the
 * penetrations and nail sizes, whose tables are named.
 */
import { routerBit } from "../../src/core/assembly.js";
import { backingStuds } from "../../src/core/backing.js";
import { nailLength, nailPenetration, nailsPerPanel, stockNail } from "../../src/core/nails.js";
import { penetrationRule } from "../../src/core/penetration.js";
import { ripHeight, ripsPerPanel } from "../../src/core/rips.js";
import { insideCornerPieces, insideCornerTapeFeet, tapeWidth } from "../../src/core/tape.js";

/** 1-1/4 in foam on a 5/8 in panel */
const T = 1.875;

describe("nails (common practice, no source)", () => {
  it("a 1-7/8 in panel at 1-1/2 in penetration needs 3-3/8, so a 3-1/2 in nail", () => {
    expect(nailLength(T)).toBe(3.375);
    expect(stockNail(nailLength(T))).toBe(3.5);
    expect(nailPenetration(3.5, T)).toBe(1.625);
  });
  it("a panel of 2-1/2 in needs a 4 in nail", () => {
    expect(stockNail(nailLength(2.5))).toBe(4);
  });
  it("a whole 4 x 8 panel at 6 and 12 in takes 62", () => {
    expect(nailsPerPanel(48, 96, 6, 12)).toBe(62);
  });
});

describe("penetration by table", () => {
  it("SDPWS-2008 Table 4.3A: 6d 1-1/4, 8d 1-3/8, 10d 1-1/2 in", () => {
    // shanks of 6d, 8d and 10d common nails: NDS-2018 Appendix L, Table L4
    expect([0.113, 0.131, 0.148].map((d) => penetrationRule("shear-wall table", d).value)).toEqual([
      1.25, 1.375, 1.5,
    ]);
  });
  it("IRC Table R602.3(3): 6d 1-1/2, 8d 1-3/4 in (from the code book's editions 2015 to 2021)", () => {
    expect([0.113, 0.131].map((d) => penetrationRule("wind table", d).value)).toEqual([1.5, 1.75]);
  });
  it("by the wind table the same panel needs 3-5/8, so a 4 in nail", () => {
    expect(stockNail(nailLength(T, penetrationRule("wind table", 0.131).value))).toBe(4);
  });
  it("an 8d common nail, 2-1/2 in (NDS-2018 Table L4), is too short through foam", () => {
    expect(nailPenetration(2.5, T)).toBeLessThan(penetrationRule("shear-wall table", 0.131).value);
  });
});

describe("tape (common practice, no source)", () => {
  it("a two-layer corner needs 2-7/8 in of width, a single one 5-3/4", () => {
    expect(tapeWidth(T)).toBe(2.875);
    expect(tapeWidth(T, "single")).toBe(5.75);
  });
  it("pieces of tape at an inside corner overlap by 3 in", () => {
    // 9 ft in 36 in pieces: four of them, three overlaps
    expect(insideCornerPieces(108, 36, 3)).toBe(4);
    expect(insideCornerTapeFeet(108)).toBe((108 + 9) / 12);
  });
});

describe("rips", () => {
  it("two to a panel up to half of it less the saw cut, one up to its width, none above", () => {
    expect(ripsPerPanel(23.9375)).toBe(2);
    expect(ripsPerPanel(24)).toBe(1);
    expect(ripsPerPanel(48)).toBe(1);
    expect(() => ripsPerPanel(48.0625)).toThrow(/at most 48 in/);
    expect(ripHeight(34, 14)).toBe(48);
    expect(() => ripHeight(34, 14.0625)).toThrow(/at most 48 in/);
  });
});

describe("backing and the router (common practice, no source)", () => {
  it("1-7/8 in of panel covers the end stud, so each inside corner gets one backing stud", () => {
    expect(backingStuds(1, T)).toBe(1);
    expect(backingStuds(1, T, "channel")).toBe(3);
  });
  it("the bit passes the panel by a quarter inch", () => {
    expect(routerBit(T)).toBe(2.125);
  });
});
