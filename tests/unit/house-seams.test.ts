/** Which joints of a wall are seams to tape, and how long each is; worked by hand from the drawing of each wall. */
import { type Segment, horizontalSeams, verticalSeams } from "../../src/core/house/seams.js";
import type { Cell } from "../../src/core/house/tables.js";
import { type WallTakeoff, takeoffHouse } from "../../src/core/house/takeoff.js";
import type { CutWall, WallPiece } from "../../src/core/house/wall-pieces.js";
import { withAssembly } from "../assembly.js";

interface Given {
  readonly wall?: Cell[];
  readonly header?: Cell[];
  readonly openings?: Cell[][];
  readonly settings?: Cell[][];
}
/** A 16 ft wall of four panels, its block line at 10 in, lapping 12 in below the deck. */
const RIPPED: Cell[][] = [
  ["Below", 12],
  ["Block line", 10],
];
function cut({
  wall = [192, 96, "free", "free"],
  header = [],
  openings = [],
  settings = [],
}: Given): CutWall {
  const [built] = takeoffHouse(
    [
      ["Wall", "Length", "Height", "Left end", "Right end", ...header],
      ["A", ...wall],
    ],
    [
      ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
      ...openings.map((row, index) => ["A", `O${index}`, ...row]),
    ],
    withAssembly(settings)
  ).built as [WallTakeoff];
  return built.cut;
}
function rip(leftIn: number, rightIn: number, bottomIn: number, topIn: number): WallPiece {
  const top = [leftIn, rightIn].map((xIn) => ({ xIn, heightIn: topIn }));
  return { leftIn, rightIn, bottomIn, top, kind: "rip", course: 0, routed: [] };
}
const ends = (seams: readonly Segment[]): number[][] =>
  seams.map(({ fromX, fromY, toX, toY }) => [fromX, fromY, toX, toY]);

describe("joints of rips", () => {
  const plain = (): CutWall => cut({ settings: RIPPED });
  const joints = (of: CutWall, ...rips: WallPiece[]): number[][] =>
    ends(verticalSeams(of, rips)).filter(([, , , toY]) => (toY as number) <= 10);

  it("run as high as both of the rips that meet", () => {
    expect(joints(plain(), rip(0, 80, -12, 10), rip(80, 192, -12, 10))).toEqual([
      [80, -12, 80, 10],
    ]);
    // beside a strip under an opening, and beside one over it
    expect(joints(plain(), rip(0, 80, -12, 10), rip(80, 192, -12, -5))).toEqual([
      [80, -12, 80, -5],
    ]);
    expect(joints(plain(), rip(0, 80, 2, 10), rip(80, 192, -12, 10))).toEqual([[80, 2, 80, 10]]);
  });
  it("are none where two strips stand at different heights, or touch at a corner", () => {
    expect(joints(plain(), rip(0, 80, -12, -5), rip(80, 192, 2, 10))).toEqual([]);
    expect(joints(plain(), rip(0, 80, -12, 0), rip(80, 192, 0, 10))).toEqual([]);
    expect(joints(plain(), rip(0, 80, -12, 10), rip(96, 192, -12, 10))).toEqual([]);
  });
  it("lose what stands in an opening, and nothing to one above or below them", () => {
    const over = (sill: number, height: number): number[][] =>
      joints(
        cut({ settings: RIPPED, openings: [[70, sill, 20, height]] }),
        rip(0, 80, -12, 10),
        rip(80, 192, -12, 10)
      );
    expect(over(36, 36)).toEqual([[80, -12, 80, 10]]);
    expect(over(-6, 10)).toEqual([
      [80, -12, 80, -6],
      [80, 4, 80, 10],
    ]);
    expect(over(-12, 8)).toEqual([[80, -4, 80, 10]]);
    expect(over(0, 80)).toEqual([[80, -12, 80, 0]]);
  });
});

describe("seams between panels", () => {
  it("run from the block line to the top, whatever is cut out below the line", () => {
    const vent = cut({ settings: RIPPED, openings: [[90, -9, 20, 6]] });
    expect(ends(verticalSeams(vent, []))).toEqual([
      [48, 10, 48, 96],
      [96, 10, 96, 96],
      [144, 10, 144, 96],
    ]);
  });
  it("are cut by what stands over them, a jamb included, and are none over their whole height", () => {
    // a door from the deck to 80 in with a jamb on the seam at 48, and a gap as high as the wall over 96
    const doors = cut({
      openings: [
        [48, 0, 36, 80],
        [90, 0, 12, 96],
      ],
    });
    expect(ends(verticalSeams(doors, []))).toEqual([
      [48, 80, 48, 96],
      [144, 0, 144, 96],
    ]);
  });
  it("stand upright and need no blocking: studs are behind them", () => {
    for (const seam of verticalSeams(cut({ settings: RIPPED }), [])) {
      expect(seam).toMatchObject({ isHorizontal: false, needsBlocking: false, lengthIn: 86 });
    }
  });
  it("follow a rake to the top of the wall, and are none where the wall has come down to the deck", () => {
    // 12 in 12 from the deck: 48 high over the seam at 48
    const rake = cut({ header: ["Right height"], wall: [96, 0, "free", "free", 96] });
    expect(ends(verticalSeams(rake, []))).toEqual([[48, 0, 48, 48]]);
  });
});

describe("level seams", () => {
  const over = (openings: Cell[][]): number[][] =>
    ends(horizontalSeams(cut({ settings: RIPPED, openings })));

  it("over the rips are as long as the run, and need blocking", () => {
    const [seam, ...more] = horizontalSeams(cut({ settings: RIPPED }));
    expect(more).toEqual([]);
    expect(seam).toEqual({
      fromX: 0,
      fromY: 10,
      toX: 192,
      toY: 10,
      lengthIn: 192,
      isHorizontal: true,
      needsBlocking: true,
    });
  });
  it("lose what an opening takes, its head and sill included, and nothing to one above or below", () => {
    expect(over([[60, 36, 36, 36]])).toEqual([[0, 10, 192, 10]]);
    expect(over([[60, -10, 36, 12]])).toEqual([[0, 10, 192, 10]]);
    const split = [
      [0, 10, 60, 10],
      [96, 10, 192, 10],
    ];
    expect(over([[60, 0, 36, 80]])).toEqual(split);
    // head or sill on the line: the tape of the opening is there
    expect(over([[60, -6, 36, 16]])).toEqual(split);
    expect(over([[60, 10, 36, 40]])).toEqual(split);
    // at an end of the wall one part is left
    expect(over([[0, 0, 36, 80]])).toEqual([[36, 10, 192, 10]]);
  });
  it("between courses are as long as the wall is there", () => {
    const gable = cut({
      header: ["Peak height", "Peak at"],
      wall: [96, 96, "free", "free", 144, 48],
    });
    expect(ends(horizontalSeams(gable))).toEqual([[24, 120, 72, 120]]);
  });
  it("are none where only the framing reaches the course, not the sheathing held back at its end", () => {
    // 12 in 12 up to 120-1/2 in, held back 1-7/8 in: the panel ends at 118-5/8, under the course at 120
    const rake = cut({
      header: ["Right height"],
      wall: [24.5, 96, "free", "short", 120.5],
      settings: [
        ["Smallest piece", 0.25],
        ["Panel lengths", "120"],
      ],
    });
    expect(rake.courseSeamsIn).toEqual([120]);
    expect(horizontalSeams(rake)).toEqual([]);
  });
});
