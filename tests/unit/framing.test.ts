import fc from "fast-check";
import { houseFraming, houseInsulation } from "../../src/core/house/framing.js";
import { readSettings } from "../../src/core/house/settings.js";
import { readOpenings, readWalls } from "../../src/core/house/walls.js";
import { expectError } from "./expect-error.js";

type Row = readonly (string | number)[];
const INSULATED: readonly Row[] = [
  ["Cavity R", 20],
  ["Foam", 1],
  ["Foam R per inch", 5],
];

function houseOf(
  walls: readonly Row[],
  openings: readonly Row[] = [],
  settingRows: readonly Row[] = INSULATED
) {
  const settings = readSettings([["Setting", "Value"], ...settingRows]);
  const header = ["Wall", "Length", "Height", "Right height", "Left end", "Right end", "Quantity"];
  const read = readWalls([header, ...walls], settings);
  const found = readOpenings(
    [["Wall", "Opening", "From left", "Sill", "Width", "Height"], ...openings],
    read.walls
  );
  return { walls: read.walls, openings: found.openings, settings };
}

const WALL_12: Row = ["A", 144, 96, "", "free", "free", ""];
const WINDOW: Row = ["A", "W", 60, 36, 24, 36];

describe("houseFraming", () => {
  it("counts a plain wall by hand: plates and seven studs", () => {
    const areas = houseFraming(houseOf([["A", 96, 96, "", "free", "free", ""]]));
    expect(areas.wallFt2).toBeCloseTo(64, 9);
    expect(areas.framingFt2).toBeCloseTo((96 * 4.5 + 7 * 1.5 * 91.5) / 144, 9);
    expect(areas.openingsFt2).toBe(0);
    expect(areas.headersFt2).toBe(0);
  });
  it("counts a wall with a window by hand, wood that crosses once", () => {
    // docs/derivations/framing-share.md
    const areas = houseFraming(houseOf([WALL_12], [WINDOW]));
    expect(areas.openingsFt2).toBeCloseTo(6, 9);
    expect(areas.headersFt2).toBeCloseTo(249.75 / 144, 9);
    expect(areas.framingFt2).toBeCloseTo(2402.25 / 144, 9);
  });
  it("cuts the bottom plate out of a door", () => {
    const door = houseFraming(houseOf([WALL_12], [["A", "D", 50, 0, 36, 80]]), 0);
    const hatch = houseFraming(houseOf([WALL_12], [["A", "D", 50, 1.5, 36, 78.5]]), 0);
    expect(hatch.openingsFt2 + hatch.framingFt2).toBeCloseTo(door.openingsFt2 + door.framingFt2, 9);
    expect(door.openingsFt2).toBeCloseTo(20, 9);
  });
  it("keeps a header under the plates", () => {
    // 93 to the underside of the plates, 90 to the top of the opening
    const areas = houseFraming(houseOf([WALL_12], [["A", "W", 50, 30, 36, 60]]));
    expect(areas.headersFt2).toBeCloseTo((39 * 3) / 144, 9);
  });
  it("takes more of a sloped wall for its plates: thickness over the cosine", () => {
    const level = houseFraming(houseOf([["A", 240, 120, "", "free", "free", ""]]));
    const raked = houseFraming(houseOf([["A", 240, 60, 180, "free", "free", ""]]));
    expect(raked.wallFt2).toBeCloseTo(level.wallFt2, 9);
    // 14 common studs and two end studs, their middles over the same mean height; 3 in of top plates
    const morePlates = 240 * 3 * (Math.hypot(1, 0.5) - 1);
    const lessStuds = 16 * 1.5 * 3 * (Math.hypot(1, 0.5) - 1);
    expect((raked.framingFt2 - level.framingFt2) * 144).toBeCloseTo(morePlates - lessStuds, 6);
  });
  it("counts a wall of quantity three three times", () => {
    const one = houseFraming(houseOf([WALL_12], [WINDOW]));
    const three = houseFraming(houseOf([["A", 144, 96, "", "free", "free", 3]], [WINDOW]));
    expect(three.framingFt2).toBeCloseTo(3 * one.framingFt2, 9);
    expect(three.headersFt2).toBeCloseTo(3 * one.headersFt2, 9);
  });
  it("never counts more wood than wall, and deeper headers only take from framing and cavity", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 120, max: 480 }),
        fc.integer({ min: 90, max: 144 }),
        fc.integer({ min: 90, max: 300 }),
        fc.integer({ min: 8, max: 60 }),
        fc.integer({ min: 12, max: 40 }),
        (length, left, right, from, width) => {
          const house = houseOf(
            [["A", length, left, right, "free", "free", ""]],
            [["A", "W", from, 30, width, 40]]
          );
          const shallow = houseFraming(house, 4);
          const deep = houseFraming(house, 10);
          const wood = (areas: typeof deep): number => areas.framingFt2 + areas.headersFt2;
          expect(wood(deep)).toBeLessThan(deep.wallFt2 - deep.openingsFt2);
          expect(deep.headersFt2).toBeGreaterThan(shallow.headersFt2);
          expect(deep.framingFt2).toBeLessThanOrEqual(shallow.framingFt2 + 1e-9);
          expect(wood(deep)).toBeGreaterThanOrEqual(wood(shallow) - 1e-9);
          expect(deep.wallFt2).toBeCloseTo((length * (left + right)) / 2 / 144, 6);
        }
      ),
      { seed: 7, numRuns: 200 }
    );
  });
  it("refuses a header deeper than 4 ft or less than nothing", () => {
    expectError(
      () => houseFraming(houseOf([WALL_12]), 49),
      "out-of-range",
      "header_depth must be at most 48 in; got 49"
    );
    expectError(
      () => houseFraming(houseOf([WALL_12]), -1),
      "out-of-range",
      "header_depth must be at least 0 in; got -1"
    );
  });
});

describe("houseInsulation", () => {
  it("is the parallel-path R of the counted areas, worked by hand", () => {
    const { withFoam } = houseInsulation(houseOf([WALL_12], [WINDOW]));
    const cavity = 12_960 - 2402.25 - 249.75;
    const uTimesArea = cavity / 27.05 + 2402.25 / 13.925 + 249.75 / (7.05 + 4.375);
    expect(withFoam.wallR).toBeCloseTo(12_960 / uTimesArea, 9);
    expect(withFoam.framing).toBeCloseTo(2652 / 12_960, 9);
  });
  it("foam raises R by more than its own R: it covers the studs too", () => {
    const { withFoam, withoutFoam } = houseInsulation(houseOf([WALL_12], [WINDOW]));
    expect(withFoam.wallR - withoutFoam.wallR).toBeGreaterThan(5);
    expect(withFoam.wallRIsothermal).toBeLessThan(withFoam.wallR);
  });
  it("names a setting that is blank", () => {
    expectError(
      () => houseInsulation(houseOf([WALL_12], [], [["Foam", 1]])),
      "out-of-range",
      "Cavity R must be filled in in the settings; got a blank"
    );
    expectError(
      () => houseInsulation(houseOf([WALL_12], [], [["Cavity R", 20]])),
      "out-of-range",
      "Foam R per inch must be filled in in the settings; got a blank"
    );
  });
});
