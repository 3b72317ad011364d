import fc from "fast-check";
import { houseFraming, houseInsulation } from "../../src/core/house/framing.js";
import { readSettings } from "../../src/core/house/settings.js";
import { readOpenings, readWalls } from "../../src/core/house/walls.js";
import { withAssembly } from "../assembly.js";
import { expectError } from "./expect-error.js";

type Row = readonly (string | number)[];
const INSULATED: readonly Row[] = [
  ["Cavity R", 20],
  ["Foam R per inch", 4],
];

function houseOf(
  walls: readonly Row[],
  openings: readonly Row[] = [],
  settingRows: readonly Row[] = INSULATED
) {
  const settings = readSettings(withAssembly([["Setting", "Value"], ...settingRows]));
  const header = ["Wall", "Length", "Height", "Right height", "Left end", "Right end", "Quantity"];
  const read = readWalls([header, ...walls], settings);
  const found = readOpenings(
    [["Wall", "Opening", "From left", "Sill", "Width", "Height"], ...openings],
    read.read
  );
  return { walls: read.read, openings: found.read, settings };
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
  /**
   * A wall 4 ft long under a 12 in 12 rake from 40 to 88 in, studs at its ends only. The window, 24 x 40 in on a sill at
   * 10 in, comes up into the plates at its low jamb.
   */
  describe("under a steep rake", () => {
    const STEEP: Row = ["R", 48, 40, 88, "free", "free", ""];
    const FALLING: Row = ["R", 48, 88, 40, "free", "free", ""];
    const SPACED: readonly Row[] = [
      ["Spacing", 48],
      ["Smallest piece", 12],
    ];
    const sqIn = (walls: Row, windows: readonly Row[], plates: readonly Row[] = []): number[] => {
      const areas = houseFraming(houseOf([walls], windows, [...SPACED, ...plates]));
      return [areas.wallFt2, areas.openingsFt2, areas.headersFt2, areas.framingFt2].map(
        (ft2) => ft2 * 144
      );
    };
    const close = (found: readonly number[], by: readonly number[]): void => {
      found.forEach((each, index) => expect(each).toBeCloseTo(by[index] as number, 6));
    };
    const NO_PLATES: readonly Row[] = [
      ["Bottom plates", 0],
      ["Top plates", 0],
    ];
    const sides = {
      // end studs and kings go from deck to rake: 1-1/2 in times the height over their middles
      endStuds: 1.5 * 40.75 + 1.5 * 87.25,
      kings: 1.5 * 49.75 + 1.5 * 78.25,
      sill: 24 * 1.5,
    };

    it("without plates the header is cut off by the rake itself", () => {
      // the header stands over 50 in from jack to jack, 10.5 to 37.5; the rake is over it from 50 to 59-1/4 at 19.25
      const header = (9.25 ** 2 - 0.5 ** 2) / 2 + 9.25 * (37.5 - 19.25);
      const wood = sides.endStuds + sides.kings + sides.sill + 2 * 1.5 * 50;
      const by = [48 * 64, 24 * 40, header, wood];
      close(sqIn(STEEP, [["R", "W", 12, 10, 24, 40]], NO_PLATES), by);
      close(sqIn(FALLING, [["R", "W", 12, 10, 24, 40]], NO_PLATES), by);
    });

    it("with plates it is cut off under them, and the plates by the opening", () => {
      // two sloped plates are 3 in times the root of 2 plumb
      const plumb = 3 * Math.SQRT2;
      // under the plates the rake is over 50 in from x = 10 + plumb, over 59-1/4 in 9-1/4 further on
      const header = 9.25 ** 2 / 2 + 9.25 * (37.5 - 19.25 - plumb);
      const wood =
        sides.endStuds +
        sides.kings +
        sides.sill +
        // the low jack meets the plates: wood from deck to rake; the high one ends under the header
        1.5 * 51.25 +
        1.5 * (50 + plumb) +
        // between the jambs the bottom plate and the plates, less the corner that the opening takes of them
        24 * 1.5 +
        24 * plumb -
        (plumb - 2) ** 2 / 2 +
        // and from king to end stud, 7-1/2 in each side
        15 * (1.5 + plumb);
      const by = [48 * 64, 24 * 40, header, wood];
      close(sqIn(STEEP, [["R", "W", 12, 10, 24, 40]]), by);
      close(sqIn(FALLING, [["R", "W", 12, 10, 24, 40]]), by);
    });

    it("down to the deck the sloped plates stand on the bottom plate", () => {
      // 12 in 12 from nothing to 48: the end studs' bottoms are in the plates too
      const plumb = 3 * Math.SQRT2;
      // plates and bottom plate fill the tip up to x = plumb + 1.5; from there to the end stud both lie apart
      const tip = (plumb + 1.5) ** 2 / 2;
      const rest = (48 - 1.5 - plumb - 1.5) * (plumb + 1.5);
      const by = [48 * 24, 0, 0, tip + rest + 1.5 * 47.25];
      close(sqIn(["R", 48, 0, 48, "free", "free", ""], []), by);
    });

    it("a gable is two rakes", () => {
      const half = sqIn(["R", 48, 0, 48, "free", "free", ""], []);
      const gable = houseFraming(gableOf());
      expect(gable.wallFt2 * 144).toBeCloseTo(2 * (half[0] as number), 6);
      // the stud under the peak, 3 in of it and two slopes, stands where each rake has its 1-1/2 in end stud
      expect(gable.framingFt2 * 144).toBeCloseTo(
        2 * (half[3] as number) -
          2 * 1.5 * 47.25 +
          1.5 * (48 - 0.375) +
          1.5 * (3 * Math.SQRT2 + 1.5),
        6
      );
    });

    it("of any gable the header is what fits between opening and plates, slice by slice", () => {
      // 13-1/2 in 12 up to 150 in at 80, 12 in 12 down to 110 at 120
      const settings = readSettings(withAssembly([["Spacing", 24]]));
      const { read: walls } = readWalls(
        [
          [
            "Wall",
            "Length",
            "Height",
            "Left end",
            "Right end",
            "Right height",
            "Peak height",
            "Peak at",
          ],
          ["G", 120, 60, "free", "free", 110, 150, 80],
        ],
        settings
      );
      const under = (x: number): number => {
        const slope = x < 80 ? 1.125 : -1;
        const top = x < 80 ? 60 + 1.125 * x : 150 - (x - 80);
        return top - 3 * Math.hypot(1, slope);
      };
      const windows: [left: number, sill: number, width: number, height: number][] = [
        [30, 20, 40, 65],
        [60, 20, 45, 95],
        [90, 20, 26, 90],
      ];
      for (const [left, sill, width, height] of windows) {
        const openings = [
          ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
          ["G", "W", left, sill, width, height],
        ];
        const found = houseFraming({
          walls,
          settings,
          openings: readOpenings(openings, walls).read,
        });
        const step = 1 / 256;
        let slices = 0;
        for (let x = left - 1.5 + step / 2; x < Math.min(120, left + width + 1.5); x += step) {
          slices += step * Math.max(0, Math.min(9.25, under(x) - sill - height));
        }
        expect(Math.abs(found.headersFt2 * 144 - slices)).toBeLessThan(0.01);
      }
    });

    function gableOf() {
      const settings = readSettings(withAssembly(SPACED));
      const { read: walls } = readWalls(
        [
          ["Wall", "Length", "Height", "Left end", "Right end", "Peak height", "Peak at"],
          ["G", 96, 0, "free", "free", 48, 48],
        ],
        settings
      );
      return { walls, openings: [], settings };
    }
  });
  it("an opening at the wall's end has no jack or king beyond it", () => {
    const areas = houseFraming(
      houseOf([["A", 96, 96, "", "free", "free", ""]], [["A", "D", 0, 0, 32, 80]])
    );
    expect(areas.wallFt2).toBeCloseTo(64, 9);
    expect(areas.openingsFt2).toBeCloseTo((32 * 80) / 144, 9);
    // from the corner to the jack at the other side
    expect(areas.headersFt2).toBeCloseTo((33.5 * 9.25) / 144, 9);
    const end = houseFraming(
      houseOf([["A", 96, 96, "", "free", "free", ""]], [["A", "D", 64, 0, 32, 80]])
    );
    expect(end.wallFt2).toBeCloseTo(64, 9);
    expect(end.headersFt2).toBeCloseTo((33.5 * 9.25) / 144, 9);
    expect(end.framingFt2).toBeCloseTo(areas.framingFt2, 9);
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
      () => houseInsulation(houseOf([WALL_12], [], [])),
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
