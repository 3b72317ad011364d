/** Unit factors and the nearest-fraction rule, keyed in from the documents. */
import { feetInches, inchText, parseLength, squareFeet } from "../../src/core/units.js";

const read = (text: string): number => parseLength("length", text);

describe("NIST SP 811 Appendix B: exact factors", () => {
  it("an inch is 25.4 mm", () => {
    expect(read("25.4 mm")).toBe(1);
    expect(read("2.54 cm")).toBeCloseTo(1, 12);
    expect(read("0.0254 m")).toBeCloseTo(1, 12);
  });
  it("a foot is 0.3048 m", () => {
    expect(read("0.3048 m")).toBeCloseTo(12, 12);
    expect(read("304.8 mm")).toBeCloseTo(read("1'"), 12);
  });
  it("a square foot is 0.09290304 m2", () => {
    const sideIn = read("1 m");
    expect(1 / squareFeet(sideIn * sideIn)).toBeCloseTo(0.09290304, 12);
  });
  it("the survey foot is not used: 1200/3937 m is not 12 in", () => {
    expect(Math.abs(read("304.8006096 mm") - 12)).toBeGreaterThan(1e-5);
  });
});

describe("US Navy Builder training manual 14044: .5 and over rounds up to the next 1/16", () => {
  it.each([
    [111.12, "111 1/8"],
    [9.3333, "9 5/16"],
    [10.6667, "10 11/16"],
    [182.79, "182 13/16"],
    [15.25, "15 1/4"],
  ])("%d in is %s in", (inches, text) => {
    expect(inchText(inches)).toBe(text);
  });
  it("just under a half goes down", () => {
    expect(inchText(10 + 0.49 / 16)).toBe("10");
    expect(inchText(10 + 0.5 / 16)).toBe("10 1/16");
  });
});

describe("carry and reduce (edge cases of the same rule, worked by hand)", () => {
  it.each([
    [11 + 31 / 32, `1'-0"`],
    [71 + 31 / 32, `6'-0"`],
    [8 / 16, `0'-0 1/2"`],
    [-(15 + 1 / 32), `-1'-3 1/16"`],
  ])("%d in is %s", (inches, text) => {
    expect(feetInches(inches)).toBe(text);
  });
});
