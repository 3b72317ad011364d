/** How a wall is cut up, and where nails stand in its pieces; every figure is worked by hand from the drawing of the wall. */
import { type Nailing, nailPoints } from "../../src/core/house/nail-points.js";
import { readSettings } from "../../src/core/house/settings.js";
import type { Cell } from "../../src/core/house/tables.js";
import { type Opening, type Wall, readOpenings, readWalls } from "../../src/core/house/walls.js";
import {
  type Box,
  type CutWall,
  type PieceShape,
  courseSeams,
  cutWall,
  edgeInset,
  nailLines,
  shapeTopAt,
  spanAbove,
  wallHasRips,
} from "../../src/core/house/wall-pieces.js";
import { wallTop } from "../../src/core/wall-top.js";
import { withAssembly } from "../assembly.js";

const T = 1.875;

interface Given {
  /** length, height, left end, right end, then the cells of `header` */
  readonly wall?: Cell[];
  readonly header?: Cell[];
  /** from left, sill, width, height */
  readonly openings?: number[][];
  readonly settings?: Cell[][];
}
function read({
  wall = [192, 96, "free", "free"],
  header = [],
  openings = [],
  settings = [],
}: Given): {
  wall: Wall;
  openings: readonly Opening[];
  cut: (openings?: readonly Opening[]) => CutWall;
} {
  const set = readSettings(withAssembly(settings));
  const { read: walls } = readWalls(
    [
      ["Wall", "Length", "Height", "Left end", "Right end", ...header],
      ["A", ...wall],
    ],
    set
  );
  const rows = openings.map((row, index) => ["A", `O${index}`, ...row]);
  const found = readOpenings(
    [["Wall", "Opening", "From left", "Sill", "Width", "Height"], ...rows],
    walls
  ).read;
  const [one] = walls as [Wall];
  return { wall: one, openings: found, cut: (list = found) => cutWall(one, list, set) };
}
const cut = (given: Given): CutWall => read(given).cut();
/** left, right, bottom and the top's points of each panel */
const outlines = (wall: CutWall): unknown[] =>
  wall.panels.map(({ leftIn, rightIn, bottomIn, top }) => [
    leftIn,
    rightIn,
    bottomIn,
    top.map((point) => [point.xIn, point.heightIn]),
  ]);
const runs = (wall: CutWall): number[][] =>
  wall.ripRuns.map(({ leftIn, rightIn, bottomIn, topIn }) => [leftIn, rightIn, bottomIn, topIn]);

describe("courses, one seam either way", () => {
  const LENGTHS = [96, 108, 120];
  it("takes the layout that costs least, a strip over half a panel counting as a whole one", () => {
    // 108 + 96 costs 204 in of panel; 96 + 108 has 108 left and costs the same; 120 + 84 costs 216
    expect(courseSeams(0, 204, LENGTHS, 16)).toEqual([108]);
    // half of a 96 in panel shares one: 120 + 48; 96 + 72 and 108 + 60 take two whole panels
    expect(courseSeams(0, 168, LENGTHS, 16)).toEqual([120]);
    // 108 + 102 takes a second 108, as much as 120 + 96 for its 90: the longer panel stands below
    expect(courseSeams(0, 210, LENGTHS, 16)).toEqual([120]);
  });
  it("a strip just as wide as the smallest piece is no sliver", () => {
    expect(courseSeams(0, 136, LENGTHS, 16)).toEqual([120]);
    expect(courseSeams(0, 135.9375, LENGTHS, 16)).toEqual([108]);
  });
  it("none where one panel reaches, however low the wall", () => {
    for (const height of [1, 10, 96, 97, 108, 109, 120]) {
      expect(courseSeams(0, height, LENGTHS, 16)).toEqual([]);
    }
    expect(courseSeams(-12, 109, LENGTHS, 16)).toEqual([84]);
  });
  it("a raked panel that runs past its high end may need one that the framing does not", () => {
    const rake = (end: string): readonly number[] =>
      cut({ header: ["Right height"], wall: [96, 96, "free", end, 120] }).courseSeamsIn;
    // 3 in 12 over 1-7/8 in: 0.47 in over 120; a 96 in course leaves no strip under 16 in
    expect(rake("free")).toEqual([]);
    expect(rake("past")).toEqual([96]);
    const fall = cut({ header: ["Right height"], wall: [96, 120, "past", "free", 96] });
    expect(fall.courseSeamsIn).toEqual([96]);
  });
});

describe("spanAbove", () => {
  it("finds a stretch that begins left of the framing corner", () => {
    expect(spanAbove(wallTop(96, 96, 96), 0, -T, 1)).toEqual([-T, 1]);
    expect(spanAbove(wallTop(96, 96, 96), 0, -T, -1)).toEqual([-T, -1]);
  });
  it("stops where a rake comes down to the level, on either side", () => {
    expect(spanAbove(wallTop(96, 0, 96), 24, 0, 96)).toEqual([24, 96]);
    expect(spanAbove(wallTop(96, 96, 0), 24, 0, 96)).toEqual([0, 72]);
    expect(spanAbove(wallTop(96, 96, 0), 24, 0, 60)).toEqual([0, 60]);
  });
});

describe("panels", () => {
  it("under a course that cuts the peak off have a level top with two corners", () => {
    // 24 in up to the peak and 24 down, 12 in 12: over 120 in the gable stands from 12 to 36
    const gable = cut({
      header: ["Peak height", "Peak at"],
      wall: [48, 108, "free", "free", 132, 24],
      settings: [["Panel lengths", "120"]],
    });
    expect(outlines(gable)).toEqual([
      [
        0,
        48,
        0,
        [
          [0, 108],
          [12, 120],
          [36, 120],
          [48, 108],
        ],
      ],
      [
        12,
        36,
        120,
        [
          [12, 120],
          [24, 132],
          [36, 120],
        ],
      ],
    ]);
  });
  it("under a rake have a straight top, past the framing corner too", () => {
    // 3 in 12 from 96 to 144 in over 192 in of framing, 1-7/8 in past it at both ends
    const rake = cut({
      header: ["Right height"],
      wall: [192, 96, "past", "past", 144],
      settings: [["Panel lengths", "168"]],
    });
    const high = (x: number): number => 96 + x / 4;
    const edges = [-T, ...rake.seams, 192 + T];
    const found = rake.panels.map(({ top }) => top);
    expect(found.map((top) => top.map((point) => point.xIn))).toEqual(
      edges.slice(1).map((to, index) => [edges[index], to])
    );
    for (const { xIn, heightIn } of found.flat()) expect(heightIn).toBeCloseTo(high(xIn), 9);
  });
  it("under a gable turn at its peak and at the course, not at the framing corners", () => {
    // 12 in 12 on both sides of a peak at 60 of 90 in; the course at 120 cuts off what is over it from 24 on
    const gable = cut({
      header: ["Right height", "Peak height", "Peak at"],
      wall: [90, 96, "past", "past", 126, 156, 60],
      settings: [["Panel lengths", "120"]],
    });
    const xs = gable.panels.map(({ bottomIn, top }) => [
      bottomIn,
      ...top.map((point) => point.xIn),
    ]);
    expect(xs).toEqual([
      [0, -T, 24, 48 - T],
      [120, 24, 48 - T],
      [0, 48 - T, 90 + T],
      [120, 48 - T, 60, 90 + T],
    ]);
  });
  it("between two openings one over the other are cut out of one column, however the rows stand", () => {
    // both openings span the column from 48 to 96; the upper one starts further left
    const given: Given = {
      wall: [144, 96, "free", "free"],
      openings: [
        [40, 60, 60, 20],
        [44, 10, 56, 30],
      ],
    };
    const middle = (wall: CutWall): number[][] =>
      wall.panels
        .filter((piece) => piece.leftIn === 48)
        .map((piece) => [piece.bottomIn, piece.top[0]?.heightIn as number]);
    const { openings, cut: of } = read(given);
    const stacked = [
      [0, 10],
      [40, 60],
      [80, 96],
    ];
    expect(middle(of(openings))).toEqual(stacked);
    expect(middle(of([...openings].reverse()))).toEqual(stacked);
  });
  it("of one course are not cut by an opening in the course above or below", () => {
    // 132 in: a course of 108 and 24 in over it
    const wall = (sill: number, height: number): unknown[] =>
      outlines(
        cut({ wall: [144, 132, "free", "free"], openings: [[48, sill, 48, height]] })
      ).filter((outline) => (outline as number[])[0] === 48);
    const level = (bottom: number, top: number): unknown => [
      48,
      96,
      bottom,
      [
        [48, top],
        [96, top],
      ],
    ];
    expect(wall(110, 15)).toEqual([level(0, 108), level(108, 110), level(125, 132)]);
    expect(wall(20, 40)).toEqual([level(0, 20), level(60, 108), level(108, 132)]);
    expect(wall(100, 20)).toEqual([level(0, 100), level(120, 132)]);
    // from the seam up, and up to the seam
    expect(wall(108, 12)).toEqual([level(0, 108), level(120, 132)]);
    expect(wall(90, 18)).toEqual([level(0, 90), level(108, 132)]);
  });
  it("have routed out of them what falls on them, and nothing of what does not", () => {
    const tall = cut({ wall: [144, 132, "free", "free"], openings: [[54, 100, 30, 20]] });
    expect(
      tall.panels.map(({ leftIn, bottomIn, routed }) => [
        leftIn,
        bottomIn,
        routed.map((r) => r.box),
      ])
    ).toEqual([
      [0, 0, []],
      [0, 108, []],
      [48, 0, [{ leftIn: 54, rightIn: 84, bottomIn: 100, topIn: 108 }]],
      [48, 108, [{ leftIn: 54, rightIn: 84, bottomIn: 108, topIn: 120 }]],
      [96, 0, []],
      [96, 108, []],
    ]);
  });
  it("over or under an opening beside their course have nothing routed out", () => {
    const low = cut({ wall: [144, 132, "free", "free"], openings: [[54, 20, 30, 40]] });
    expect(low.panels.map((piece) => [piece.bottomIn, piece.routed.length])).toEqual([
      [0, 0],
      [108, 0],
      [0, 1],
      [108, 0],
      [0, 0],
      [108, 0],
    ]);
  });
  it("under a rake over a wide opening end where the opening is higher than they are", () => {
    // 12 in 12 from 48 to 144; the opening from 48 to 96 is 90 in high: over it stands the part above 90
    const rake = cut({
      header: ["Right height"],
      wall: [96, 48, "free", "free", 144],
      openings: [[48, 20, 48, 70]],
      settings: [["Panel lengths", "96; 144"]],
    });
    expect(outlines(rake)).toEqual([
      [
        0,
        48,
        0,
        [
          [0, 48],
          [48, 96],
        ],
      ],
      [
        48,
        96,
        0,
        [
          [48, 20],
          [96, 20],
        ],
      ],
      [
        48,
        96,
        90,
        [
          [48, 96],
          [96, 144],
        ],
      ],
    ]);
  });
});

describe("the height of a piece's top", () => {
  const shape: PieceShape = {
    leftIn: 48,
    rightIn: 96,
    bottomIn: 10,
    top: [
      { xIn: 48, heightIn: 100 },
      { xIn: 72, heightIn: 124 },
      { xIn: 96, heightIn: 100 },
    ],
  };
  it.each([
    [48, 100],
    [60, 112],
    [72, 124],
    [84, 112],
    [96, 100],
    [98, 98],
    [46, 98],
  ])("over %p in is %p in, its last stretches going on past its sides", (xIn, heightIn) => {
    expect(shapeTopAt(shape, xIn)).toBe(heightIn);
  });
});

describe("runs of rips", () => {
  const band: Cell[][] = [
    ["Below", 12],
    ["Block line", 10],
  ];
  const over = (...openings: number[][]): CutWall => cut({ settings: band, openings });

  it("stop at an opening a panel wide, and go on below and above it", () => {
    expect(runs(over([48, -6, 48, 10]))).toEqual([
      [0, 48, -12, 10],
      [48, 96, -12, -6],
      [48, 96, 4, 10],
      [96, 192, -12, 10],
    ]);
    // an inch narrower is routed out of rips that run through
    expect(runs(over([48, -6, 47, 10]))).toEqual([[0, 192, -12, 10]]);
  });
  it("stop at a narrow opening that takes the whole band, from lap to block line", () => {
    const split = [
      [0, 60, -12, 10],
      [96, 192, -12, 10],
    ];
    expect(runs(over([60, -12, 36, 80]))).toEqual(split);
    expect(runs(over([60, -12, 36, 22]))).toEqual(split);
    expect(runs(over([60, -11, 36, 80]))).toEqual([[0, 192, -12, 10]]);
    expect(runs(over([60, -12, 36, 21]))).toEqual([[0, 192, -12, 10]]);
    // at the ends of the wall nothing is left beside it
    expect(runs(over([0, -12, 36, 80]))).toEqual([[36, 192, -12, 10]]);
    expect(runs(over([156, -12, 36, 80]))).toEqual([[0, 156, -12, 10]]);
  });
  it("are the same however the rows of the openings stand", () => {
    const { openings, cut: of } = read({
      settings: band,
      openings: [
        [96, -12, 36, 80],
        [24, -12, 36, 80],
      ],
    });
    const apart = [
      [0, 24, -12, 10],
      [60, 96, -12, 10],
      [132, 192, -12, 10],
    ];
    expect(runs(of(openings))).toEqual(apart);
    expect(runs(of([...openings].reverse()))).toEqual(apart);
  });
  it("may be joined on studs and know the panel seams over them, each run its own", () => {
    const wall = over([60, -12, 36, 80]);
    expect(wall.ripRuns.map((run) => [run.jointsIn, run.seamsIn])).toEqual([
      [[0, 0.75, 16, 32, 48, 60], [48]],
      [[96, 112, 128, 144, 160, 176, 191.25, 192], [144]],
    ]);
    // no joint over an opening that is routed out; its jambs are no studs
    expect(over([60, -6, 36, 10]).ripRuns[0]?.jointsIn).toEqual([
      0, 0.75, 16, 32, 48, 96, 112, 128, 144, 160, 176, 191.25, 192,
    ]);
  });
  it("are none without a block line", () => {
    expect(cut({ settings: [["Below", 12]] }).ripRuns).toEqual([]);
  });
  it("need a stud space of wall over the block line", () => {
    const has = (height: number): boolean =>
      wallHasRips(read({ wall: [192, height, "free", "free"], settings: band }).wall, 48);
    expect([25.9375, 26].map(has)).toEqual([false, true]);
    const rake = (low: number): boolean =>
      wallHasRips(
        read({ header: ["Right height"], wall: [192, low, "free", "free", 96], settings: band })
          .wall,
        48
      );
    expect([25.9375, 26].map(rake)).toEqual([false, true]);
  });
});

describe("lines of edge nails", () => {
  const piece = (leftIn: number, rightIn: number): PieceShape => ({
    leftIn,
    rightIn,
    bottomIn: 0,
    top: [],
  });
  const lines = (left: string, right: string, leftIn: number, rightIn: number): readonly number[] =>
    nailLines(read({ wall: [192, 96, left, right] }).wall, piece(leftIn, rightIn), 1.5);

  it("stand 3/8 in from the plumb edges, in the middle of a strip narrower than two of that", () => {
    expect(lines("free", "free", 48, 96)).toEqual([48.375, 95.625]);
    expect(lines("free", "free", 48, 48.5)).toEqual([48.25, 48.25]);
    expect([0.5, 0.75, 2].map(edgeInset)).toEqual([0.25, 0.375, 0.375]);
  });
  it("stand in the middle of the end stud where a panel runs past it", () => {
    expect(lines("past", "free", -T, 48)).toEqual([0.75, 47.625]);
    expect(lines("free", "past", 144, 192 + T)).toEqual([144.375, 191.25]);
    // the panels between are as anywhere
    expect(lines("past", "past", 48, 96)).toEqual([48.375, 95.625]);
    // an end that does not run past has its stud under the edge
    expect(lines("flush", "flush", 0, 48)).toEqual([0.375, 47.625]);
    expect(lines("flush", "flush", 144, 192)).toEqual([144.375, 191.625]);
    expect(lines("tight", "short", 0, 48)).toEqual([0.375, 47.625]);
  });
  it("never cross on a strip that ends over the end stud", () => {
    expect(lines("past", "free", -T, 0.5)).toEqual([0.125, 0.125]);
    expect(lines("free", "past", 191.5, 192 + T)).toEqual([191.875, 191.875]);
  });
});

describe("nails", () => {
  const square: PieceShape = {
    leftIn: 100,
    rightIn: 124,
    bottomIn: 50,
    top: [
      { xIn: 100, heightIn: 74 },
      { xIn: 124, heightIn: 74 },
    ],
  };
  const nailing: Nailing = {
    edgeIn: 12,
    fieldIn: 6,
    studsIn: [84, 100, 109, 124, 140],
    linesIn: [100.375, 123.625],
  };
  const hole = (leftIn: number, rightIn: number, bottomIn: number, topIn: number): Box => ({
    leftIn,
    rightIn,
    bottomIn,
    topIn,
  });
  const points = (shape: PieceShape, holes: Box[] = [], how = nailing): number[][] =>
    nailPoints(shape, holes, how)
      .map(({ xIn, yIn }) => [xIn, yIn])
      .sort((a, b) => (a[0] as number) - (b[0] as number) || (a[1] as number) - (b[1] as number));

  /** Each side of 24 in in two steps of 12, 3/8 in inside. */
  const EDGE = [
    [100.375, 50.375],
    [100.375, 62],
    [100.375, 73.625],
    [112, 50.375],
    [112, 73.625],
    [123.625, 50.375],
    [123.625, 62],
    [123.625, 73.625],
  ];
  /** On the stud between, 24 in in four steps of 6, those at the edges not counted again. */
  const FIELD = [
    [109, 56],
    [109, 62],
    [109, 68],
  ];
  const sorted = (...lists: number[][][]): number[][] =>
    lists
      .flat()
      .sort((a, b) => (a[0] as number) - (b[0] as number) || (a[1] as number) - (b[1] as number));

  it("stand round a plain piece and on the studs between its edges", () => {
    expect(points(square)).toEqual(sorted(EDGE, FIELD));
  });
  it("stand 3/8 in outside an opening, and none in it", () => {
    // 6-3/4 x 10-3/4 in round the opening, each side in one step of 12 in: its corners
    const ring = [
      [105.625, 59.625],
      [105.625, 70.375],
      [112.375, 59.625],
      [112.375, 70.375],
    ];
    expect(points(square, [hole(106, 112, 60, 70)])).toEqual(sorted(EDGE, [[109, 56]], ring));
    // at 6 in each side takes two steps; the edge nails too
    const close = points(square, [hole(106, 112, 60, 70)], { ...nailing, edgeIn: 6 });
    const between = [
      [105.625, 65],
      [109, 70.375],
      [112.375, 65],
      [109, 59.625],
    ];
    for (const point of [...ring, ...between]) expect(close).toContainEqual(point);
    // sixteen round the edge, eight round the opening and the one field nail below it
    expect(close).toHaveLength(16 + 8 + 1);
  });
  it("round an opening stand on the piece only", () => {
    // at the lower left corner the opening's right side is on the piece, 12-3/4 in in two steps; two edge nails are gone
    expect(points(square, [hole(100, 106, 50, 62)])).toEqual(
      sorted(EDGE.slice(2), FIELD, [
        [106.375, 56],
        [106.375, 62.375],
      ])
    );
    // at the upper right corner, its left side
    expect(points(square, [hole(118, 124, 62, 74)])).toEqual(
      sorted(EDGE.slice(0, 6), FIELD, [
        [117.625, 61.625],
        [117.625, 68],
      ])
    );
    // as wide as the piece it leaves none beside it
    expect(points(square, [hole(100, 124, 60, 66)])).toEqual(
      sorted(
        EDGE.filter(([, y]) => y !== 62),
        [FIELD[0] as number[], FIELD[2] as number[]],
        // the long sides above and below are 24-3/4 in: three steps of 8-1/4 from a corner off the piece
        [
          [107.875, 66.375],
          [116.125, 66.375],
          [107.875, 59.625],
          [116.125, 59.625],
        ]
      )
    );
  });
  it("none within 3/8 in of an opening's side, of any of the openings", () => {
    const field = (...holes: Box[]): number[][] =>
      points(square, holes).filter(
        ([x, y]) => x === 109 && (y as number) > 51 && (y as number) < 73
      );
    // field nails at 109 stand 1/4 in right of the first, 1/4 in left of the second; at 1/2 in they stay
    expect(field(hole(103, 108.75, 60, 64))).toEqual([
      [109, 56],
      [109, 68],
    ]);
    expect(field(hole(109.25, 115, 60, 64))).toEqual([
      [109, 56],
      [109, 68],
    ]);
    expect(field(hole(103, 108.5, 60, 64), hole(109.5, 115, 60, 64))).toEqual(FIELD);
    expect(field(hole(103, 108.75, 60, 64), hole(109.25, 115, 54, 57))).toEqual([[109, 68]]);
    // a quarter over it and under it
    expect(field(hole(106, 112, 57, 61.75), hole(106, 112, 68.25, 71))).toEqual([[109, 56]]);
    expect(field(hole(106, 112, 56.25, 67.75))).toEqual([]);
  });
  it("closer than 3/8 in to another are one, and none of one opening stands in the next", () => {
    // the corner at 100.5, 73.875 would stand 1/8 and 1/4 in from the edge nail at 100.375, 73.625
    const high = points(square, [hole(100.875, 106, 60, 73.5)]);
    expect(high).not.toContainEqual([100.5, 73.875]);
    expect(high).toContainEqual([106.375, 59.625]);
    const between = (...holes: Box[]): number[][] =>
      points(square, holes).filter(([x]) => (x as number) > 112 && (x as number) < 113.5);
    // an inch apart: the corners of the second, 1/4 in from those of the first, are left out
    expect(between(hole(106, 112, 56, 62), hole(113, 118, 56, 62))).toEqual([
      [112.375, 55.625],
      [112.375, 62.375],
    ]);
    // half an inch apart and taller: the first one's corners would stand in the second's margin
    expect(between(hole(106, 112, 56, 62), hole(112.5, 118, 54, 64))).toEqual([
      [112.125, 53.625],
      [112.125, 64.375],
    ]);
  });
  it("follow a rake, and stay inside its tip", () => {
    // 12 in 12 from nothing to 24
    const rake: PieceShape = {
      ...square,
      top: [
        { xIn: 100, heightIn: 50 },
        { xIn: 124, heightIn: 74 },
      ],
    };
    const found = points(rake);
    // the stud at 109 has 9 in of wood: one nail between at 4-1/2
    expect(found).toContainEqual([109, 54.5]);
    expect(found.filter(([x]) => x === 109)).toHaveLength(1);
    // the tip's nails in the middle of the 3/8 in that is there
    expect(found[0]).toEqual([100.375, 50.1875]);
    // the slope, 33.9 in, takes three steps: at 8 in along it the nail is 3/8 in under the top
    expect(found).toContainEqual([108, 57.625]);
    for (const [x, y] of found) {
      expect(y).toBeLessThan(50 + (x as number) - 100);
      expect(y).toBeGreaterThan(50);
    }
    // round an opening none stand above the slope: the corner at 105.625, 56.375 would
    const holed = points(rake, [hole(106, 112, 52, 56)]);
    expect(holed).not.toContainEqual([105.625, 56.375]);
    expect(holed).toContainEqual([112.375, 56.375]);
    expect(holed).toContainEqual([112.375, 51.625]);
  });
});
