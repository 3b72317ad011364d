import { CalcError } from "../../src/core/check.js";
import { parseClimateZone } from "../../src/core/climate-zone.js";
import { failure } from "./failure.js";

describe("parseClimateZone", () => {
  it.each([
    ["5A", "5A"],
    ["5a", "5A"],
    [" 5 A ", "5A"],
    ["5", "5"],
    [5, "5"],
    [0, "0"],
    ["CZ5", "5"],
    ["cz 5b", "5B"],
    ["Zone 6A", "6A"],
    ["Climate Zone 7", "7"],
    ["climate zone: 6b", "6B"],
    ["IECC zone 3C", "3C"],
    ["4C", "4C"],
    ["Marine 4", "4C"],
    ["marine4", "4C"],
    ["MARINE ZONE 4", "4C"],
    ["4 Marine", "4C"],
    ["4 (marine)", "4C"],
    ["4C (Marine)", "4C"],
    ["M4", "4C"],
    ["zone-5A", "5A"],
    ["zone - 6", "6"],
    ["5".padEnd(40), "5"],
    ["4 except marine", "4"],
    ["4A", "4A"],
    ["8", "8"],
  ])("reads %p as %s", (typed, name) => {
    expect(parseClimateZone(typed).name).toBe(name);
  });

  it("takes 4C and Marine 4 for one zone, and 4 for another", () => {
    expect(parseClimateZone("4C")).toEqual(parseClimateZone("Marine 4"));
    expect(parseClimateZone("4C").isMarine).toBe(true);
    expect(parseClimateZone("4").isMarine).toBe(false);
  });

  it.each([
    "9",
    "5D",
    "8A",
    "1C",
    "5AA",
    "north",
    "4.5",
    "-1",
    " -5",
    "5".padEnd(41),
    "x".repeat(60),
  ])("has no zone %p and lists the zones", (typed) => {
    const error = failure(() => parseClimateZone(typed));
    expect(error.code).toBe("not-covered");
    expect(error.message).toContain("climate_zone must be one of 0A, 0B, 1A");
  });

  it.each([
    "marine 4 coast",
    "west marine 4",
    "4 marine coast",
    "x4 marine",
    "5 not marine b",
    "a5 not marine",
    "5 iecc",
    "5 climate",
    "5 zone",
  ])("does not look for a zone inside %p", (typed) => {
    expect(failure(() => parseClimateZone(typed)).code).toBe("not-covered");
  });

  it("is zone 0 for a minus 0", () => {
    expect(Object.is(parseClimateZone(-0).number, 0)).toBe(true);
  });

  it.each([9, 4.5, -1])("has no zone %p", (typed) => {
    expect(failure(() => parseClimateZone(typed)).code).toBe("not-covered");
  });

  it.each([null, undefined, "", "  ", true, [5], NaN, Infinity])("does not read %p", (typed) => {
    const error = failure(() => parseClimateZone(typed));
    expect(error).toBeInstanceOf(CalcError);
    expect(error.code).toBe("wrong-kind");
    expect(error.message).toContain("climate_zone must be a zone such as 5A");
  });

  it("names what came", () => {
    expect(failure(() => parseClimateZone("coast")).message).toContain('got "coast"');
  });
});
