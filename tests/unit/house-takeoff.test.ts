/** Small houses worked by hand: pieces, seams, nails, marks and the order. */
import type { Cell } from "../../src/core/house/tables.js";
import { crewMarks } from "../../src/core/house/marks.js";
import {
  type OrderLine,
  backingPieces,
  blockingFeet,
  boundNote,
  houseNail,
  orderLines,
  seamTapeWidth,
  stockTape,
} from "../../src/core/house/order.js";
import { readSettings } from "../../src/core/house/settings.js";
import {
  type HouseTakeoff,
  type WallTakeoff,
  burnAtStart,
  insideCornerHeights,
  openingsOf,
  outsideCornerHeights,
  panelCosts,
  pieceNails,
  takeoffHouse,
  tapeNeed,
} from "../../src/core/house/takeoff.js";
import { courseSeams, shapeArea, shapeTopAt, spanAbove } from "../../src/core/house/wall-pieces.js";
import type { Wall } from "../../src/core/house/walls.js";
import { wallTop } from "../../src/core/wall-top.js";
import { withAssembly } from "../assembly.js";
import { expectError } from "./expect-error.js";

const HEADER = ["Wall", "Length", "Height", "Left end", "Right end"];
const OPENING_HEADER = ["Wall", "Opening", "From left", "Sill", "Width", "Height"];
const T = 1.875;

interface Given {
  readonly walls: Cell[][];
  readonly header?: Cell[];
  readonly openings?: Cell[][];
  readonly settings?: Cell[][];
}
function house({ walls, header = HEADER, openings = [], settings = [] }: Given): HouseTakeoff {
  return takeoffHouse([header, ...walls], [OPENING_HEADER, ...openings], withAssembly(settings));
}
function only(given: Given): WallTakeoff {
  const { built } = house(given);
  expect(built).toHaveLength(1);
  return built[0] as WallTakeoff;
}
const line = (of: HouseTakeoff, item: string): OrderLine => {
  const found = orderLines(of).find((each) => each.item === item);
  if (!found) throw new Error(`no ${item} in the order`);
  return found;
};
const PLAIN: Cell[][] = [["A", 144, 96, "free", "free"]];
const boxes = (wall: WallTakeoff): number[][] =>
  wall.pieces.map(({ piece }) => [
    piece.leftIn,
    piece.bottomIn,
    piece.rightIn - piece.leftIn,
    (piece.top[0]?.heightIn ?? 0) - piece.bottomIn,
    (piece.top.at(-1)?.heightIn ?? 0) - piece.bottomIn,
  ]);

describe("a plain wall", () => {
  it("is three whole panels, two seams and 186 nails", () => {
    const wall = only({ walls: PLAIN });
    expect(boxes(wall)).toEqual([
      [0, 0, 48, 96, 96],
      [48, 0, 48, 96, 96],
      [96, 0, 48, 96, 96],
    ]);
    expect(wall.pieces.map((each) => each.label)).toEqual(["A-1", "A-2", "A-3"]);
    expect(wall.seamTapeFt).toBe(16);
    expect(wall.nailCount).toBe(3 * 62);
    expect(wall.backingCount).toBe(0);
  });

  it("orders three panels, a roll and a box", () => {
    const all = house({ walls: PLAIN });
    expect(orderLines(all).map((each) => [each.item, each.size, each.needed, each.order])).toEqual([
      ["Panel", "48 x 96 in", 3, 3],
      ["Tape", "3 in", 16, 1],
      ["Nails", "3 1/2 x 0.131 in", 186, 1],
    ]);
    expect(line(all, "Panel").note).toMatch(/^3 panels; no plan can use fewer than 3/);
    expect(line(all, "Nails").note).toMatch(
      /^at least 3 3\/8 in; size and spacing as the engineer/
    );
  });

  it("says what the proof covers where there are rake pieces", () => {
    const raked = house({
      header: [...HEADER, "Right height"],
      walls: [["A", 96, 60, "free", "free", 84]],
    });
    expect(line(raked, "Panel").note).toMatch(/; rake pieces cut alone or nested in pairs$/);
    expect(line(house({ walls: PLAIN }), "Panel").note).not.toContain("rake");
  });

  it("says the proof's cover for a house with one raked wall among level ones, and for a rake with level pieces", () => {
    const mixed = house({
      header: [...HEADER, "Right height"],
      walls: [
        ["A", 144, 96, "free", "free", ""],
        ["B", 96, 84, "free", "free", 132],
      ],
    });
    expect(boundNote(mixed)).toMatch(/; rake pieces cut alone or nested in pairs$/);
  });

  it("says how many panels, and what they take of the fewest that can be", () => {
    const note = (...settings: Cell[][]): string => boundNote(house({ walls: PLAIN, settings }));
    // three panels of 4 x 8 ft
    expect(note()).toBe(
      "3 panels; no plan can use fewer than 3 (96 sq ft; no plan can take less than 96)"
    );
    expect(note(["Panel lengths", 96])).toBe("3 panels; no plan can use fewer than 3");
    expect(note(["Panel lengths", "96; 108"], ["Panel costs", "30.456; 40"])).toBe(
      "3 panels; no plan can use fewer than 3 (91.37 cost; no plan can take less than 91.37)"
    );
    const one = house({
      walls: [["A", 48, 96, "free", "free"]],
      settings: [["Panel lengths", 96]],
    });
    expect(boundNote(one)).toBe("1 panel; no plan can use fewer than 1");
    // nothing to sheathe, nothing to buy
    const open = house({
      walls: [["A", 48, 96, "free", "free"]],
      openings: [["A", "G", 0, 0, 48, 96]],
    });
    expect(open.plan.panelCount).toBe(0);
    expect(boundNote(open)).toBe("all cut from scrap");
  });

  it("past and flush ends burn the thickness and move the seams", () => {
    const past = only({ walls: [["A", 240, 96, "past", "flush"]] });
    expect(boxes(past).map(([x, , width]) => [x, width])).toEqual([
      [-T, 48],
      [48 - T, 48],
      [96 - T, 48],
      [144 - T, 48],
      [192 - T, 32],
      [224 - T, 16 + T],
    ]);
    expect(burnAtStart(past.cut.wall)).toBe(T);
    expect(past.seamTapeFt).toBe(40);
  });
});

describe("openings", () => {
  it("one that crosses part of a panel is routed out of it, and the drop is scrap", () => {
    const all = house({ walls: PLAIN, openings: [["A", "D1", 54, 0, 36, 80]] });
    const [wall] = all.built as [WallTakeoff];
    expect(boxes(wall)).toHaveLength(3);
    expect(wall.pieces.map((each) => each.piece.routed.length)).toEqual([0, 1, 0]);
    expect(wall.pieces[1]?.piece.routed[0]).toEqual({
      opening: "D1",
      box: { leftIn: 54, rightIn: 90, bottomIn: 0, topIn: 80 },
    });
    expect([...all.scrapNames.values()]).toEqual(["D1 out of A-2, 35 3/4 x 79 3/4"]);
  });

  it("a garage door leaves whole panels at its jambs and strips over it", () => {
    const wall = only({
      walls: [["A", 240, 96, "free", "free"]],
      openings: [["A", "G", 24, 0, 192, 84]],
    });
    expect(boxes(wall)).toEqual([
      [0, 0, 48, 96, 96],
      [48, 84, 48, 12, 12],
      [96, 84, 48, 12, 12],
      [144, 84, 48, 12, 12],
      [192, 0, 48, 96, 96],
    ]);
    // four seams over the door, a foot each
    expect(wall.seamTapeFt).toBe(4);
  });

  it("a window over two columns leaves pieces below and above", () => {
    const wall = only({
      walls: [["A", 240, 96, "free", "free"]],
      openings: [["A", "W", 48, 36, 96, 48]],
    });
    expect(boxes(wall)).toEqual([
      [0, 0, 48, 96, 96],
      [48, 0, 48, 36, 36],
      [48, 84, 48, 12, 12],
      [96, 0, 48, 36, 36],
      [96, 84, 48, 12, 12],
      [144, 0, 48, 96, 96],
      [192, 0, 48, 96, 96],
    ]);
    // seams on the jambs are tape of the opening there: 48 and 144 run 36 below and 12 above,
    // as does 96; 192 is whole
    expect(wall.seamTapeFt).toBe((3 * 48 + 96) / 12);
  });

  it("one at the wall's end is routed out of the panel that runs past it", () => {
    const wall = only({
      walls: [["A", 144, 96, "past", "free"]],
      openings: [["A", "D", 0, 0, 40, 80]],
    });
    expect(wall.pieces[0]?.piece.routed[0]?.box).toEqual({
      leftIn: 0,
      rightIn: 40,
      bottomIn: 0,
      topIn: 80,
    });
    expect(wall.pieces[0]?.piece.leftIn).toBe(-T);
  });

  it("one as high as the wall leaves nothing over it", () => {
    const wall = only({
      walls: [["A", 240, 96, "free", "free"]],
      openings: [["A", "Gap", 48, 0, 96, 96]],
    });
    expect(boxes(wall).map(([x]) => x)).toEqual([0, 144, 192]);
  });

  it("nails go round an opening and none stand in it", () => {
    const wall = only({ walls: PLAIN, openings: [["A", "W", 60, 36, 24, 36]] });
    const { cut, pieces } = wall;
    const nails = pieceNails(cut, (pieces[1] as (typeof pieces)[number]).piece, 1.5);
    const inside = nails.filter((n) => n.xIn > 60 && n.xIn < 84 && n.yIn > 36 && n.yIn < 72);
    expect(inside).toEqual([]);
    // 3/8 in outside each jamb at 6 in or closer: 36-3/4 in of jamb takes seven spaces
    const atJamb = nails.filter((n) => Math.abs(n.xIn - 59.625) < 1e-9);
    expect(atJamb.length).toBeGreaterThanOrEqual(7);
    for (const { yIn } of atJamb) expect(yIn).toBeGreaterThan(35);
  });

  it("a drop is what the router leaves, where both of its sides are worth picking up", () => {
    // an eighth is lost on each side
    const drops = (...sizes: number[][]): string[] => [
      ...house({
        walls: [["A", 240, 96, "free", "free"]],
        openings: sizes.map(([width, height], index) => [
          "A",
          `V${index}`,
          54 + 48 * index,
          30,
          width as number,
          height as number,
        ]),
      }).scrapNames.values(),
    ];
    expect(drops([24, 36])).toEqual(["V0 out of A-2, 23 3/4 x 35 3/4"]);
    expect(drops([4.25, 4.25], [4.1875, 30], [30, 4.1875])).toEqual(["V0 out of A-2, 4 x 4"]);
  });

  it("pieces worth nothing are not scrap", () => {
    const all = house({ walls: PLAIN, openings: [["A", "Vent", 54, 40, 4, 4]] });
    expect(all.scrapNames.size).toBe(0);
  });
});

describe("gables and rakes", () => {
  const GABLE: Given = {
    walls: [["G", 96, 96, "free", "free", 144, 48]],
    header: [...HEADER, "Peak height", "Peak at"],
  };
  const gable = (): WallTakeoff => only(GABLE);

  it("a gable 12 ft high at its peak gets a course at 10 ft and two points over it", () => {
    const wall = gable();
    expect(wall.cut.courseSeamsIn).toEqual([120]);
    expect(wall.pieces.map(({ piece }) => [piece.leftIn, piece.rightIn, piece.bottomIn])).toEqual([
      [0, 48, 0],
      [24, 48, 120],
      [48, 96, 0],
      [48, 72, 120],
    ]);
    expect(wall.pieces.map(({ piece }) => shapeArea(piece))).toEqual([5472, 288, 5472, 288]);
    // the seam under the peak is 12 ft, the one at 10 ft runs 4 ft
    expect(wall.seamTapeFt).toBe(16);
    expect(blockingFeet(house(GABLE))).toBe(4);
  });

  it("the top of a piece turns where the wall's does", () => {
    const [first] = gable().pieces;
    expect(first?.piece.top).toEqual([
      { xIn: 0, heightIn: 96 },
      { xIn: 24, heightIn: 120 },
      { xIn: 48, heightIn: 120 },
    ]);
    expect(shapeTopAt(first?.piece as never, 12)).toBe(108);
    expect(shapeTopAt(first?.piece as never, 36)).toBe(120);
  });

  it("a rake that runs out to the deck ends in a point", () => {
    const wall = only({
      walls: [["R", 96, 0, "free", "free", 96]],
      header: [...HEADER, "Right height"],
    });
    expect(boxes(wall)).toEqual([
      [0, 0, 48, 0, 48],
      [48, 0, 48, 48, 96],
    ]);
  });

  it("a course at the height of the eaves keeps its corners (found: lost by a hair of millimeters)", () => {
    const row = [24, 96, 120.0625, 1.5];
    const names = ["Length", "Height", "Peak height", "Peak at"];
    const of = (unit: string, factor: number): WallTakeoff =>
      only({
        walls: [["W", "past", "past", 12, ...row.map((each) => each * factor)]],
        header: ["Wall", "Left end", "Right end", "Spacing", ...names.map((n) => `${n} (${unit})`)],
        settings: [["Panel lengths", "96; 120"]],
      });
    for (const wall of [of("in", 1), of("mm", 25.4), of("ft", 1 / 12)]) {
      const [below, above] = wall.pieces.map((each) => each.piece);
      expect(below?.top).toHaveLength(4);
      expect(above?.top).toHaveLength(3);
      expect(shapeArea(above as never)).toBeCloseTo((24 * 24.0625) / 2, 6);
    }
  });

  it("a rake that meets a course a hair beside a seam leaves no piece finer than the saw", () => {
    // 12 in 12: over 120 in the wall stands from x = 24 on; the seam is a hair past 48
    for (const hair of [1e-5, 4e-4]) {
      const wall = only({
        walls: [["R", 96, 72 + hair, "free", "free", 168 + hair]],
        header: [...HEADER, "Right height"],
        settings: [["Panel lengths", "120"]],
      });
      for (const { piece } of wall.pieces) {
        expect(piece.rightIn - piece.leftIn).toBeGreaterThan(1 / 1024);
      }
    }
  });
  it("the tip of a rake narrower than its half of the gap is cut as it is", () => {
    const all = house({
      walls: [["R", 96, 72.05, "free", "free", 168.05]],
      header: [...HEADER, "Right height"],
      settings: [
        ["Panel lengths", "120"],
        ["Panel gap", 1],
      ],
    });
    expect(all.plan.panelCount).toBeGreaterThan(0);
  });

  it("spanAbove finds the stretch that stands over a level", () => {
    const top = wallTop(96, 96, 96, { atIn: 48, heightIn: 144 });
    expect(spanAbove(top, 120, 0, 96)).toEqual([24, 72]);
    expect(spanAbove(top, 0, 0, 96)).toEqual([0, 96]);
    expect(spanAbove(top, 144, 0, 96)).toBeUndefined();
    expect(spanAbove(top, 120, 0, 20)).toBeUndefined();
  });
});

describe("pieces on the saw", () => {
  it("two halves of a rake come out of one panel: they are cut as rakes", () => {
    // 12 in 12 from the deck: a triangle of 48 and the piece from 48 to 96 under it fit 96 in and a saw cut
    const all = house({
      header: [...HEADER, "Right height"],
      walls: [["R", 96, 0, "free", "free", 96]],
      settings: [["Panel lengths", "108"]],
    });
    expect(all.plan.panelCount).toBe(1);
  });
  it("a panel costs its area in square feet unless costs are given", () => {
    expect(panelCosts(readSettings(withAssembly([])))).toEqual([32, 36, 40]);
    expect(panelCosts(readSettings(withAssembly([["Panel costs", "30, 31, 32"]])))).toEqual([
      30, 31, 32,
    ]);
  });
  it("rips are lettered from left to right, a lower one first", () => {
    const wall = only({
      walls: [["A", 288, 96, "free", "free"]],
      openings: [["A", "V", 96, -6, 64, 10]],
      settings: [
        ["Below", 12],
        ["Block line", 10],
      ],
    });
    const rips = wall.pieces.filter((each) => each.piece.kind === "rip");
    const places = rips.map(({ piece }) => [piece.leftIn, piece.bottomIn] as const);
    expect(places.length).toBeGreaterThan(3);
    expect(places).toEqual([...places].sort(([a, c], [b, d]) => a - b || c - d));
    expect(rips.map((each) => each.label)).toEqual(places.map((_, index) => `A-R${index + 1}`));
    expect(places).toContainEqual([96, -12]);
    expect(places).toContainEqual([96, 4]);
  });
});

describe("what the tables hold that counts for nothing", () => {
  it("is listed with the table it stands in", () => {
    const { unknownHeaders } = takeoffHouse(
      [
        [...HEADER, "Paint"],
        ["A", 144, 96, "free", "free", "red"],
      ],
      [[...OPENING_HEADER, "Wood"]],
      withAssembly([["Colour", "blue"]])
    );
    expect(unknownHeaders).toEqual([
      { table: "walls", header: "Paint" },
      { table: "openings", header: "Wood" },
      { table: "settings", header: "Colour" },
    ]);
    expect(house({ walls: PLAIN }).unknownHeaders).toEqual([]);
  });
});

describe("openings of one wall", () => {
  it("come from left to right, a lower one first, whatever the order of their rows", () => {
    const all = house({
      walls: [
        ["A", 240, 96, "free", "free"],
        ["B", 240, 96, "free", "free"],
      ],
      openings: [
        ["A", "Right", 120, 30, 24, 24],
        ["B", "Other", 12, 30, 24, 24],
        ["A", "Upper", 48, 60, 24, 24],
        ["A", "Lower", 48, 10, 24, 24],
        ["A", "Left", 12, 30, 24, 24],
      ],
    });
    const names = openingsOf(all.walls[0] as Wall, all.openings).map((each) => each.name);
    expect(names).toEqual(["Left", "Lower", "Upper", "Right"]);
  });
});

describe("courses", () => {
  it("one panel where the longest covers, else as few courses as can be", () => {
    const lengths = [96, 108, 120];
    expect(courseSeams(0, 120, lengths, 16)).toEqual([]);
    expect(courseSeams(0, 132, lengths, 16)).toEqual([108]);
    expect(courseSeams(0, 240, lengths, 16)).toEqual([120]);
    expect(courseSeams(0, 300, lengths, 16)).toEqual([108, 216]);
    expect(courseSeams(-12, 120, lengths, 16)).toEqual([96]);
  });
  it("no strip under one stud space where another length avoids it", () => {
    // 10 ft and 1 in: over a 120 in panel an inch would be left
    expect(courseSeams(0, 121, [96, 108, 120], 16)).toEqual([96]);
  });
});

describe("a block line", () => {
  const settings: Cell[][] = [
    ["Below", 12],
    ["Block line", 10],
  ];
  it("rips up to it, panels from it", () => {
    const wall = only({ walls: [["A", 192, 96, "free", "free"]], settings });
    const panels = wall.pieces.filter((each) => each.piece.kind === "panel");
    expect(panels.map(({ piece }) => [piece.bottomIn, shapeArea(piece)])).toEqual(
      Array.from({ length: 4 }, () => [10, 48 * 86])
    );
    const rips = wall.pieces.filter((each) => each.piece.kind === "rip");
    expect(rips.reduce((sum, { piece }) => sum + shapeArea(piece), 0)).toBeCloseTo(192 * 22, 6);
    expect(rips.map((each) => each.label)).toEqual(rips.map((_, index) => `A-R${index + 1}`));
    // three seams of 86, the line over the rips, and the joints of the rips
    expect(wall.seamTapeFt * 12).toBeCloseTo(3 * 86 + 192 + (rips.length - 1) * 22, 6);
  });
  it("a door runs through the rips, a garage door stops them", () => {
    const door = only({
      walls: [["A", 192, 96, "free", "free"]],
      openings: [["A", "D", 60, 0, 36, 80]],
      settings,
    });
    expect(door.cut.ripRuns.map((run) => [run.leftIn, run.rightIn])).toEqual([[0, 192]]);
    // no joint where the door is: 64 and 80 are not among them
    expect(door.cut.ripRuns[0]?.jointsIn).not.toContain(64);
    expect(door.cut.ripRuns[0]?.jointsIn).not.toContain(80);
    const garage = only({
      walls: [["A", 240, 96, "free", "free"]],
      openings: [["A", "G", 24, 0, 192, 84]],
      settings,
    });
    expect(
      garage.cut.ripRuns.map((run) => [run.leftIn, run.rightIn, run.bottomIn, run.topIn])
    ).toEqual([
      [0, 24, -12, 10],
      [24, 216, -12, 0],
      [216, 240, -12, 10],
    ]);
  });
  it("a joint may stand at a jamb, in feet as in inches (found: a hair decided)", () => {
    const of = (unit: string, factor: number): WallTakeoff =>
      takeoffHouse(
        [
          ["Wall", `Length (${unit})`, "Height", "Left end", "Right end"],
          ["A", 144 * factor, 96, "free", "free"],
        ],
        [
          ["Wall", `From left (${unit})`, "Sill", `Width (${unit})`, "Height"],
          ["A", 112 * factor, 2, 12 * factor, 6],
        ],
        withAssembly([
          ["Below", 1],
          ["Block line", 4],
        ])
      ).built[0] as WallTakeoff;
    for (const wall of [of("in", 1), of("ft", 1 / 12), of("mm", 25.4)]) {
      const joints = wall.cut.ripRuns[0]?.jointsIn ?? [];
      expect(joints.some((x) => Math.abs(x - 112) < 1e-6)).toBe(true);
    }
  });
  it("a stud mark a hair beside the run's end is its end (found: joints must ascend)", () => {
    for (const hair of [0, 1e-6, 1e-4, 5e-4, 1e-3, -1e-4]) {
      const wall = only({
        walls: [["A", 96 + T + hair, 96, "free", "short"]],
        settings: [["Block line", 10]],
      });
      const rips = wall.pieces.filter((each) => each.piece.kind === "rip");
      expect(rips.at(-1)?.piece.rightIn).toBe(wall.cut.wall.span.endIn);
      expect(rips.reduce((sum, { piece }) => sum + shapeArea(piece), 0)).toBeCloseTo(
        10 * (96 + hair),
        9
      );
    }
  });
  it("rips up to half a panel less the saw cut come two to a panel, taller ones one to a panel", () => {
    // whole panels stand above, so that no offcut serves: 12 ft take a rip of 8 ft and one of 4, out of one panel or two
    const panels = (blockLine: number): number =>
      house({
        walls: [["A", 144, blockLine + 96, "free", "free"]],
        settings: [
          ["Panel lengths", 96],
          ["Block line", blockLine],
        ],
      }).plan.panelCount;
    expect(panels(23.9375)).toBe(4);
    expect(panels(24)).toBe(5);
    expect(panels(40)).toBe(5);
  });
  it("rips taller than a panel is wide say what to change", () => {
    expectError(
      () =>
        house({
          walls: PLAIN,
          settings: [
            ["Below", 14.5],
            ["Block line", 34],
          ],
        }),
      "out-of-range",
      "walls row 2 (wall A): rips would be 48.5 in tall (Block line 34 + Below 14.5); at most 48, a panel's width: lower the block line to 33.5 in or lap down less"
    );
    expectError(
      () =>
        house({
          walls: PLAIN,
          settings: [
            ["Below", 50],
            ["Block line", 1],
          ],
        }),
      "out-of-range",
      /at most 48, a panel's width: lap down less$/
    );
  });
});

describe("rows in another order (found: the joints of rips moved)", () => {
  it("give the same tape and nails", () => {
    const rows: Cell[][] = [
      ["W1", 48, 19, 24, "past", "past", 0, 12],
      ["W2", 48, 84, 84, "short", "past", 1, 12],
      ["W3", 24, 173.25, 173.25, "tight", "short", 0, 12],
    ];
    const header = [
      "Wall",
      "Length",
      "Height",
      "Right height",
      "Left end",
      "Right end",
      "Below",
      "Spacing",
    ];
    const settings: Cell[][] = [["Block line", 6.875]];
    const one = house({ walls: rows, header, settings });
    const other = house({ walls: [...rows].reverse(), header, settings });
    for (const item of ["Panel", "Tape", "Nails"]) {
      expect(line(other, item).needed).toBeCloseTo(line(one, item).needed, 6);
    }
    expect(other.built.map((each) => each.cut.wall.name)).toEqual(["W3", "W2", "W1"]);
  });
});

describe("corners of a house", () => {
  const SQUARE: Cell[][] = [
    ["S", 360, 96, "past", "flush"],
    ["E", 240, 96, "past", "flush"],
    ["N", 360, 96, "past", "flush"],
    ["W", 240, 96, "past", "flush"],
  ];
  it("are taped once each, two layers, over the lap too", () => {
    const square = house({ walls: SQUARE });
    expect(outsideCornerHeights(square.walls)).toEqual([96, 96, 96, 96]);
    expect(tapeNeed(square)).toMatchObject({
      outsideCornerFt: 64,
      insideCornerFt: 0,
      openingFt: 0,
      sillFt: 0,
    });
    expect(tapeNeed(house({ walls: SQUARE, settings: [["Below", 12]] })).outsideCornerFt).toBe(72);
    expect(
      tapeNeed(
        house({
          walls: SQUARE,
          settings: [
            ["Corner tape", "single"],
            ["Tape widths", "3; 6"],
          ],
        })
      ).outsideCornerFt
    ).toBe(32);
  });
  it("inside corners go up in lapped pieces", () => {
    const bay = house({
      walls: [
        ["A", 240, 108, "free", "tight"],
        ["B", 240, 108, "short", "free"],
      ],
    });
    expect(insideCornerHeights(bay.walls)).toEqual([108]);
    expect(tapeNeed(bay).insideCornerFt).toBe(9.75);
  });
  it("burn at the end laid out from", () => {
    const burns = (from: string, left: string, right: string): number =>
      burnAtStart(
        only({ header: [...HEADER, "From"], walls: [["A", 144, 96, left, right, from]] }).cut.wall
      );
    expect(burns("left", "past", "short")).toBe(T);
    expect(burns("right", "past", "short")).toBe(-T);
    expect(burns("right", "short", "flush")).toBe(0);
  });
  it("are as high as the wall is at that end, each corner once", () => {
    const heights = (rows: Cell[][]): [number[], number[]] => {
      const { walls } = house({ header: [...HEADER, "Right height", "Quantity"], walls: rows });
      return [outsideCornerHeights(walls), insideCornerHeights(walls)];
    };
    // one end of each kind: the taller side is taped; a rake is as high as its end
    expect(heights([["A", 144, 60, "past", "free", 108, 1]])).toEqual([[60], []]);
    expect(heights([["A", 144, 60, "free", "past", 108, 1]])).toEqual([[108], []]);
    expect(heights([["A", 144, 60, "past", "flush", 108, 1]])).toEqual([[108], []]);
    expect(heights([["A", 144, 108, "past", "flush", 60, 1]])).toEqual([[108], []]);
    expect(heights([["A", 144, 60, "tight", "short", 108, 1]])).toEqual([[], [108]]);
    expect(heights([["A", 144, 108, "tight", "short", 60, 1]])).toEqual([[], [108]]);
    // two low corners beside one high one are more tape
    expect(
      heights([
        ["A", 144, 60, "past", "past", 60, 1],
        ["B", 144, 96, "flush", "free", 96, 1],
      ])
    ).toEqual([[60, 60], []]);
    expect(heights([["A", 144, 60, "past", "short", 108, 2]])).toEqual([
      [60, 60],
      [108, 108],
    ]);
    // where a rake has come down to the deck there is no corner to tape
    expect(heights([["A", 144, 0, "past", "free", 96, 1]])).toEqual([[], []]);
    expect(heights([["A", 144, 96, "free", "short", 0, 1]])).toEqual([[], []]);
  });
  it("openings and the sill are counted for every wall of a quantity", () => {
    const two = house({
      walls: [["A", 240, 96, "free", "free", 2]],
      header: [...HEADER, "Quantity"],
      openings: [["A", "W", 60, 36, 36, 48]],
      settings: [["Sill tape", "yes"]],
    });
    expect(tapeNeed(two)).toMatchObject({ openingFt: 32, sillFt: 40 });
    expect(two.built.map((each) => [each.copy, each.pieces[0]?.label])).toEqual([
      [1, "A-1"],
      [2, "A/2-1"],
    ]);
  });
  // TRADE: the mud sill only, along the bottom of every rip
  it("the sill is taped along the bottom edge, not over doors, nor under a wall that stands on another", () => {
    const sill = (
      wall: Cell[],
      { openings = [], settings = [] }: { openings?: Cell[][]; settings?: Cell[][] } = {}
    ): number =>
      tapeNeed(
        house({
          walls: [["A", 240, 96, "free", "free", ...wall]],
          header: [...HEADER, "Below", "Block line", "Bottom seam"],
          openings,
          settings: [["Sill tape", "yes"], ...settings],
        })
      ).sillFt;
    const band: Cell[][] = [["Block line", 12]];
    expect(sill([10, "", ""])).toBe(20);
    expect(sill([10, "", ""], { settings: band })).toBe(20);
    expect(sill([10, "", "yes"])).toBe(0);
    expect(sill([0, "none", ""], { settings: band })).toBe(0);
    // in a house without rips "none" says nothing
    expect(sill([10, "none", ""])).toBe(20);
    // 16 ft of garage door down to the lap; one that starts at the deck leaves the edge whole
    expect(sill([10, "", ""], { openings: [["A", "G", 24, -10, 192, 94]], settings: band })).toBe(
      4
    );
    expect(sill([10, "", ""], { openings: [["A", "G", 24, 0, 192, 84]], settings: band })).toBe(20);
  });
  it("joints of rips keep a stud space from the seams above where that is free (found: 96 under the seam at 96)", () => {
    const wall = house({
      walls: [["B", 144, 109.125, "free", "free"]],
      settings: [
        ["Below", 10],
        ["Block line", 13.125],
      ],
    }).built[0];
    expect(wall?.cut.seams).toEqual([48, 96]);
    const rips = (wall?.pieces ?? []).filter(({ piece }) => piece.kind === "rip");
    // two rips of one panel: 80 + 64 or 64 + 80
    expect(rips).toHaveLength(2);
    expect([64, 80]).toContain(rips[0]?.piece.rightIn);
  });
  it("tape of one width is one line that says what it is for; the narrowest first", () => {
    const tapes = (widths: string): OrderLine[] =>
      orderLines(
        house({
          walls: [
            ["A", 144, 96, "past", "tight"],
            ["B", 144, 96, "short", "flush"],
          ],
          openings: [["A", "W", 54, 30, 36, 36]],
          settings: [
            ["Sill tape", "yes"],
            ["Tape lap", 1.5],
            ["Tape widths", widths],
          ],
        })
      ).filter((each) => each.item === "Tape");
    // seams of 8 ft: two on A and, of 144 in from A's face on, three on B; the window 2 x 3 ft and 2 x 4 ft; the runs at
    // the sill 144 + 1-7/8 and 144 - 1-7/8; the inside corner 8 ft and two laps of 3 in; the outside one twice 8 ft
    const [all, ...more] = tapes("12");
    expect(more).toEqual([]);
    expect(all?.note).toMatch(
      /^seams \d+ ft, inside corners \d+ ft, openings 14 ft, outside corners 16 ft, bottom edge at the sill plate 24 ft$/
    );
    // laps of 1-1/2 in: 3-3/8 round the corner, 3 over a seam, 4-7/8 at the sill
    const apart = tapes("6; 3; 3-3/8");
    expect(apart.map((each) => [each.size, each.note.replace(/ \d+ ft/g, "")])).toEqual([
      ["3 in", "seams, inside corners, openings"],
      ["3 3/8 in", "outside corners"],
      ["6 in", "bottom edge at the sill plate"],
    ]);
    const sum = apart.reduce((total, each) => total + each.needed, 0);
    expect(all?.needed).toBeCloseTo(sum, 5);
  });
  it("a wider tape is ordered by itself", () => {
    const lines = orderLines(house({ walls: SQUARE, settings: [["Corner tape", "single"]] }));
    expect(lines.filter((each) => each.item === "Tape").map((each) => each.size)).toEqual([
      "3 in",
      "6 in",
    ]);
  });
});

describe("lumber", () => {
  it("backing stands between the plates at the end that stops short", () => {
    const bay = house({
      walls: [
        ["A", 240, 96, "free", "tight"],
        ["B", 240, 96, "short", "free"],
      ],
    });
    expect(backingPieces(bay)).toEqual([91.5]);
    expect(line(bay, "Backing lumber")).toMatchObject({ size: "96 in", needed: 1, order: 1 });
  });
  it("backing is as long as its own end is high, at one end or both", () => {
    const pieces = (left: string, right: string, low = 96): number[] =>
      backingPieces(
        house({
          header: [...HEADER, "Right height"],
          walls: [["B", 144, low, left, right, 120]],
          settings: [["Backing", "channel"]],
        })
      );
    // three plates of 1-1/2 in off 96 and 120
    expect(pieces("free", "short")).toEqual([115.5, 115.5, 115.5]);
    expect(pieces("short", "free")).toEqual([91.5, 91.5, 91.5]);
    expect(pieces("short", "short")).toEqual([91.5, 91.5, 91.5, 115.5, 115.5, 115.5]);
    expect(pieces("tight", "past")).toEqual([]);
    // no room between the plates
    expect(pieces("short", "free", 4)).toEqual([]);
    expect(pieces("short", "short", 4.5)).toEqual([115.5, 115.5, 115.5]);
  });
  it("backing lumber is bought by length, the note on its first line", () => {
    const all = house({
      header: [...HEADER, "Right height"],
      walls: [["B", 144, 96, "short", "short", 120]],
      settings: [["Lumber lengths", "120; 96; 192"]],
    });
    const lumber = orderLines(all).filter((each) => each.item === "Backing lumber");
    expect(lumber.map((each) => [each.size, each.needed, each.unit]).sort()).toEqual([
      ["120 in", 1, "pieces"],
      ["96 in", 1, "pieces"],
    ]);
    expect(lumber.map((each) => each.note)).toEqual([
      "2 behind inside corners; offcuts of studs serve",
      "",
    ]);
  });
  it("a channel is three members, a tall corner is pieced", () => {
    const bay = (height: number): HouseTakeoff =>
      house({
        walls: [
          ["A", 240, height, "free", "tight"],
          ["B", 240, height, "short", "free"],
        ],
        settings: [["Backing", "channel"]],
      });
    expect(backingPieces(bay(96))).toEqual([91.5, 91.5, 91.5]);
    expect(line(bay(240), "Backing lumber").note).toMatch(/^6 behind inside corners/);
  });
  it("blocking under a horizontal seam: blocks between studs, out of the stick that wastes least", () => {
    const tall = house({ walls: [["T", 240, 132, "free", "free"]] });
    expect(blockingFeet(tall)).toBe(20);
    // 15 blocks of 14-1/2 in and 5 %: eight out of a 10 ft stick, two sticks
    expect(line(tall, "Blocking lumber")).toMatchObject({
      size: "120 in",
      needed: 15,
      perPackage: 8,
      order: 2,
      note: "20 ft of horizontal seams need blocking at 16 in spacing",
    });
  });
  it("saw cuts come off a stick between its blocks, not after the last", () => {
    const perStick = (stick: string): number | undefined =>
      line(
        house({ walls: [["T", 240, 132, "free", "free"]], settings: [["Lumber lengths", stick]] }),
        "Blocking lumber"
      ).perPackage;
    // eight blocks of 14-1/2 and seven cuts of 1/8 are 116-7/8
    expect(perStick("116-7/8")).toBe(8);
    expect(perStick("116-3/4")).toBe(7);
    // a stick shorter than a block is passed over
    expect(perStick("12; 116-7/8")).toBe(8);
  });
  it("the longer stick where two lengths take as much lumber", () => {
    // 10 blocks and 5 %: one stick of 192 gives 13, two of 96 give 12
    for (const lengths of ["96; 192", "192; 96"]) {
      const all = house({
        walls: [["T", 160, 132, "free", "free"]],
        settings: [["Lumber lengths", lengths]],
      });
      expect(line(all, "Blocking lumber")).toMatchObject({
        size: "192 in",
        order: 1,
        unit: "blocks",
      });
    }
  });
  it("no stick as long as a block is not covered", () => {
    expectError(
      () =>
        orderLines(
          house({
            walls: [["T", 240, 132, "free", "free"]],
            settings: [["Lumber lengths", "12; 14"]],
          })
        ),
      "not-covered",
      "settings: Lumber lengths must hold one of 14 1/2 in or longer for the blocking"
    );
  });
  it("blocks are as long as the bays of their own wall", () => {
    const mixed = house({
      header: [...HEADER, "Spacing"],
      walls: [
        ["T", 240, 132, "free", "free", 16],
        ["W", 240, 132, "free", "free", 24],
      ],
    });
    const lines = orderLines(mixed).filter((each) => each.item === "Blocking lumber");
    // 240 / 16 and 240 / 24
    expect(lines.map((each) => each.needed)).toEqual([15, 10]);
    const other = house({
      header: [...HEADER, "Spacing"],
      walls: [
        ["W", 240, 132, "free", "free", 24],
        ["S", 240, 132, "free", "free", 12],
        ["T", 240, 132, "free", "free", 16],
      ],
    });
    const notes = orderLines(other)
      .filter((each) => each.item === "Blocking lumber")
      .map((each) => each.note.replace(/^.* at /, ""));
    expect(notes).toEqual(["12 in spacing", "16 in spacing", "24 in spacing"]);
  });
});

describe("a wall that stands on the panels of another", () => {
  const header = [...HEADER, "Bottom seam"];
  const seamFeet = (value: Cell, openings: Cell[][] = []): number =>
    only({ header, walls: [["U", 240, 96, "free", "free", value]], openings }).seamTapeFt;

  it("tapes its bottom edge, less the openings that reach it", () => {
    // four seams of 8 ft, and the 20 ft run
    expect(seamFeet("")).toBe(32);
    expect(seamFeet("no")).toBe(32);
    expect(seamFeet("Yes")).toBe(52);
    // a 36 in door between two seams takes 3 ft of the bottom edge
    expect(seamFeet("yes", [["U", "D", 54, 0, 36, 80]])).toBe(49);
  });
  it("needs no blocking there: the rim or a plate is behind it", () => {
    const upper = house({ header, walls: [["U", 240, 96, "free", "free", "yes"]] });
    expect(blockingFeet(upper)).toBe(0);
  });
  it("says what it may be", () => {
    expect(() => seamFeet("maybe")).toThrow(
      'walls row 2 (wall U): Bottom seam must be one of yes, no; got "maybe"'
    );
  });
});

describe("what is bought", () => {
  it("tape and nails that are not stocked are not covered", () => {
    const settings = readSettings(
      withAssembly([
        ["Tape widths", "2"],
        ["Nail lengths", "2"],
      ])
    );
    expectError(
      () => stockTape(2.875, settings),
      "not-covered",
      /^settings: Tape widths must hold one of 2 7\/8 in or wider; the widest is 2.*: add a width, or use the other corner tape method$/
    );
    expectError(
      () => houseNail(settings),
      "not-covered",
      "no stocked nail is 3 3/8 in or longer; the longest is 2 in"
    );
    expect(stockTape(2, settings)).toBe(2);
    expect(seamTapeWidth(settings)).toBe(2);
    const wide = readSettings(
      withAssembly([
        ["Tape lap", 1.5],
        ["Tape widths", "6; 3; 12; 4"],
      ])
    );
    expect(seamTapeWidth(wide)).toBe(3);
    expect([2, 3, 3.0625, 5, 11].map((each) => stockTape(each, wide))).toEqual([3, 3, 4, 6, 12]);
    expectError(() => stockTape(13, wide), "not-covered", /; the widest is 12: add a width/);
  });
  it("panels come in packages, with their spare", () => {
    const packed = line(
      house({
        walls: PLAIN,
        settings: [
          ["Panels per package", 10],
          ["Panel extra", 0.05],
        ],
      }),
      "Panel"
    );
    expect(packed).toMatchObject({ needed: 3, perPackage: 10, order: 1, extra: 0.05 });
  });
  it("a gap at panel edges comes off the saw width at seams only", () => {
    const all = house({ walls: PLAIN, settings: [["Panel gap", "1/8"]] });
    const widths = all.plan.sheets.flatMap((sheet) => sheet.placements.map((each) => each.widthIn));
    expect(widths.sort((a, b) => a - b)).toEqual([47.875, 47.9375, 47.9375]);
    // the marks stay where they are: panels are set to the studs, not to each other
    expect(all.built[0]?.cut.seams).toEqual([48, 96]);
  });
  it("costs can make the longer panel the one to buy", () => {
    const bought = (costs: string): string[] =>
      orderLines(
        house({
          walls: PLAIN,
          settings: [
            ["Panel lengths", "96; 108"],
            ["Panel costs", costs],
          ],
        })
      )
        .filter((each) => each.item === "Panel")
        .map((each) => each.size);
    expect(bought("30; 31")).toEqual(["48 x 96 in"]);
    expect(bought("30; 29")).toEqual(["48 x 108 in"]);
    // a wall of each height takes three of each, and one note is enough
    const both = orderLines(
      house({
        walls: [...PLAIN, ["B", 144, 108, "free", "free"]],
        settings: [["Panel lengths", "96; 108"]],
      })
    ).filter((each) => each.item === "Panel");
    expect(both.map((each) => [each.size, each.needed, each.note !== ""])).toEqual([
      ["48 x 96 in", 3, true],
      ["48 x 108 in", 3, false],
    ]);
  });
});

describe("the crew's marks", () => {
  it("name end studs and cripples, and give each stud's length", () => {
    const all = house({ walls: PLAIN, openings: [["A", "D1", 54, 0, 36, 80]] });
    const marks = crewMarks(all.wall(" a "), all.openings, all.settings);
    expect(marks.map((each) => [each.stud.centerIn, each.tapeText, each.note])).toEqual([
      [0.75, `0'-0 3/4"`, "end stud"],
      [16, `1'-4"`, ""],
      [32, `2'-8"`, ""],
      [48, `4'-0"`, ""],
      [64, `5'-4"`, "cripple at D1"],
      [80, `6'-8"`, "cripple at D1"],
      [96, `8'-0"`, ""],
      [112, `9'-4"`, ""],
      [128, `10'-8"`, ""],
      [143.25, `11'-11 1/4"`, "end stud"],
    ]);
    for (const mark of marks) expect(mark.cut?.lengthIn).toBe(91.5);
  });
  it("a stud the plates leave no room for has no cut", () => {
    const all = house({
      walls: [["R", 96, 0, "free", "free", 96]],
      header: [...HEADER, "Right height"],
    });
    const marks = crewMarks(all.wall("R"), [], all.settings);
    expect(marks[0]?.cut).toBeUndefined();
    expect(marks[1]?.cut?.bevelDeg).toBeCloseTo(45, 12);
  });
  it("a stud that stands on a jamb, or behind another wall's opening, is no cripple", () => {
    const all = house({
      walls: [...PLAIN, ["B", 144, 96, "free", "free"]],
      openings: [
        ["A", "D1", 48, 0, 32, 80],
        ["B", "W1", 90, 36, 40, 36],
      ],
    });
    const cripples = (name: string): number[] =>
      crewMarks(all.wall(name), all.openings, all.settings)
        .filter((each) => each.note.startsWith("cripple"))
        .map((each) => each.stud.centerIn);
    expect(cripples("A")).toEqual([64]);
    expect(cripples("B")).toEqual([96, 112, 128]);
  });
  it("break where the panels do, whatever the smallest piece", () => {
    for (const smallest of [4, 16]) {
      const all = house({
        walls: [["A", 204, 96, "free", "free"]],
        settings: [["Smallest piece", smallest]],
      });
      const [{ cut }] = all.built as [WallTakeoff];
      const marks = crewMarks(cut.wall, [], all.settings);
      const breaks = marks.filter((each) => each.stud.breaksHere).map((each) => each.stud.centerIn);
      expect(breaks).toEqual(cut.seams);
      // 204 is four panels and 12 in: a last piece of 12 will do where it may be 4, else the seam moves back a space
      expect(cut.seams.at(-1)).toBe({ 4: 192, 16: 176 }[smallest]);
    }
  });
  it("a stud of no length at all has no cut", () => {
    // three plates of 1-1/2 in
    const all = house({ walls: [["A", 96, 4.5, "free", "free"]] });
    const [wall] = all.walls as [(typeof all.walls)[number]];
    for (const mark of crewMarks(wall, [], all.settings)) expect(mark.cut).toBeUndefined();
  });
  it("a wall may be called by a number", () => {
    const all = house({ walls: [[7, 144, 96, "free", "free"]] });
    expect(all.wall(7).name).toBe("7");
    expect(all.wall("7").name).toBe("7");
  });
  it("a wall that is not there is named beside a dozen at most", () => {
    const rows = Array.from({ length: 13 }, (_, index) => [`W${index}`, 48, 96, "free", "free"]);
    expectError(
      () => house({ walls: rows }).wall("Z"),
      "out-of-range",
      'wall must be one of W0, W1, W2, W3, W4, W5, W6, W7, W8, W9, W10, W11; got "Z"'
    );
  });
  it("a wall that is not there is named beside those that are", () => {
    const all = house({ walls: PLAIN });
    expectError(() => all.wall("Z"), "out-of-range", 'wall must be one of A; got "Z"');
    expectError(() => all.wall(null), "wrong-kind", "wall must be the name of a wall; got a blank");
    expectError(() => all.wall(true), "wrong-kind", /must be the name of a wall; got TRUE/);
  });
});
