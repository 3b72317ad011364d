/** What the planner is asked: every fault by code and message, and lengths in whole units. */
import {
  type Room,
  fitsPanel,
  longestRip,
  prepare,
  ripWays,
  runLength,
  shortestRip,
  toInches,
  toUnits,
} from "../../../src/core/cut-plan/prepare.js";
import type { CutProblem } from "../../../src/core/cut-plan/problem.js";
import { expectError } from "../expect-error.js";

const SOUND: CutProblem = {
  panelWidthIn: 48,
  kerfIn: 0.125,
  canTurn: false,
  stock: [
    { lengthIn: 96, cost: 32 },
    { lengthIn: 120, cost: 40 },
  ],
  pieces: [{ id: "a", widthIn: 20, leftIn: 90, rightIn: 90 }],
  rips: [{ id: "sill", heightIn: 10, jointsIn: [4, 20, 36], smallestIn: 16 }],
  scrap: [{ id: "drop", widthIn: 30, heightIn: 40 }],
};

const withChange = (change: Record<string, unknown>): CutProblem =>
  ({ ...SOUND, ...change }) as unknown as CutProblem;
const piece = (change: Record<string, unknown>): CutProblem =>
  withChange({ pieces: [{ ...SOUND.pieces[0], ...change }] });
const run = (change: Record<string, unknown>): CutProblem =>
  withChange({ rips: [{ ...SOUND.rips[0], ...change }] });

describe("units", () => {
  it("are 1/1024 in, the nearest", () => {
    expect([toUnits(1), toUnits(0.0004), toUnits(0.0005), toUnits(-2.5)]).toEqual([
      1024, 0, 1, -2560,
    ]);
    expect([toInches(1024), toInches(1), toInches(0), toInches(-0)]).toEqual([1, 1 / 1024, 0, 0]);
    expect(Object.is(toInches(-0), 0)).toBe(true);
  });
});

describe("a sound problem", () => {
  it("is turned into whole units", () => {
    const model = prepare({ ...SOUND, keepIn: 6 });
    expect(model).toEqual({
      width: 49_152,
      kerf: 128,
      canTurn: false,
      stock: [
        { index: 0, length: 98_304, cost: 32 },
        { index: 1, length: 122_880, cost: 40 },
      ],
      longest: 122_880,
      types: [
        {
          index: 0,
          w: 20_480,
          left: 92_160,
          right: 92_160,
          rake: false,
          ids: ["a"],
          ways: [{ w: 20_480, h: 92_160, turned: 0 }],
          area: 20_480 * 92_160,
        },
      ],
      runs: [
        {
          index: 0,
          id: "sill",
          height: 10_240,
          start: 4_096,
          joints: [0, 16_384, 32_768],
          seamGap: [Infinity, Infinity, Infinity],
          smallest: 16_384,
        },
      ],
      scrap: [{ index: 0, id: "drop", w: 30_720, h: 40_960 }],
      keep: 6_144,
    });
    expect(prepare(SOUND).keep).toBe(12_288);
    expect(prepare({ ...SOUND, keepIn: 0 }).keep).toBe(0);
    expect(prepare({ ...SOUND, kerfIn: 0 }).kerf).toBe(0);
  });

  it("merges equal pieces, not mirrored ones, in the order given", () => {
    const pieces = [
      { id: "a", widthIn: 20, leftIn: 40, rightIn: 50 },
      { id: "b", widthIn: 20, leftIn: 50, rightIn: 40 },
      { id: "c", widthIn: 20, leftIn: 40, rightIn: 50 },
      { id: "d", widthIn: 20, leftIn: 40, rightIn: 40 },
    ];
    const { types } = prepare(withChange({ pieces }));
    expect(types.map(({ index, ids, rake }) => ({ index, ids, rake }))).toEqual([
      { index: 0, ids: ["a", "c"], rake: true },
      { index: 1, ids: ["b"], rake: true },
      { index: 2, ids: ["d"], rake: false },
    ]);
    expect(types[0]!.area).toBe((20_480 * 90 * 1024) / 2);
    expect(types[0]!.ways).toEqual([{ w: 20_480, h: 51_200, turned: 0 }]);
  });

  it("lets rectangles lie turned where the setting allows, on a panel or on some scrap", () => {
    const waysOf = (
      widthIn: number,
      heightIn: number,
      change: Partial<CutProblem> = {}
    ): number[] =>
      prepare({
        ...SOUND,
        canTurn: true,
        pieces: [{ id: "a", widthIn, leftIn: heightIn, rightIn: heightIn }],
        ...change,
      }).types[0]!.ways.map(({ turned }) => turned);
    expect(waysOf(20, 40)).toEqual([0, 90]);
    expect(waysOf(20, 20)).toEqual([0]);
    expect(waysOf(20, 40, { canTurn: false })).toEqual([0]);
    // 60 in across goes on no panel of 48 in
    expect(waysOf(20, 60)).toEqual([0]);
    expect(waysOf(60, 20)).toEqual([90]);
    expect(waysOf(20, 60, { scrap: [{ id: "wide", widthIn: 60, heightIn: 20 }] })).toEqual([0, 90]);
    expect(waysOf(20, 60, { scrap: [{ id: "wide", widthIn: 59, heightIn: 20 }] })).toEqual([0]);
    expect(waysOf(20, 60, { scrap: [{ id: "wide", widthIn: 60, heightIn: 19 }] })).toEqual([0]);
    expect(waysOf(20, 120)).toEqual([0]);
    expect(waysOf(48, 50)).toEqual([0]);
    const rake = prepare({
      ...SOUND,
      canTurn: true,
      pieces: [{ id: "a", widthIn: 20, leftIn: 30, rightIn: 40 }],
    });
    expect(rake.types[0]!.ways).toHaveLength(1);
  });

  it("measures each joint from the nearest seam to be kept clear of", () => {
    const seamGap = (seamsIn: number[]): number[] =>
      prepare(run({ seamsIn, jointsIn: [4, 20, 36, 52] })).runs[0]!.seamGap.map(toInches);
    expect(seamGap([40, 10, 20])).toEqual([6, 0, 4, 12]);
    expect(seamGap([52])).toEqual([48, 32, 16, 0]);
    expect(seamGap([-4])).toEqual([8, 24, 40, 56]);
    expect(seamGap([])).toEqual([Infinity, Infinity, Infinity, Infinity]);
  });
});

describe("faults of the whole", () => {
  it("are named with what came", () => {
    expectError(
      () => prepare(null as unknown as CutProblem),
      "wrong-kind",
      /^problem must be a record; got a blank/
    );
    expectError(
      () => prepare("x" as unknown as CutProblem),
      "wrong-kind",
      /^problem must be a record/
    );
    expectError(
      () => prepare(withChange({ panelWidthIn: 0 })),
      "out-of-range",
      /^panel width must be more than 0 in; got 0/
    );
    expectError(
      () => prepare(withChange({ panelWidthIn: "48" })),
      "wrong-kind",
      /^panel width must be a number/
    );
    expectError(
      () => prepare(withChange({ panelWidthIn: 24_001 })),
      "out-of-range",
      /^panel width must be at most 24000 in/
    );
    expectError(
      () => prepare(withChange({ panelWidthIn: 0.0001 })),
      "out-of-range",
      /^panel width must be at least 1\/1024 in; got 0.0001/
    );
    expectError(
      () => prepare(withChange({ kerfIn: -0.1 })),
      "out-of-range",
      /^kerf must be at least 0 in; got -0.1/
    );
    expectError(
      () => prepare(withChange({ kerfIn: 48 })),
      "out-of-range",
      /^kerf must be less than 48 in; got 48/
    );
    expectError(
      () => prepare(withChange({ canTurn: "yes" })),
      "wrong-kind",
      /^can turn must be TRUE or FALSE; got "yes"/
    );
    expectError(
      () => prepare(withChange({ keepIn: -1 })),
      "out-of-range",
      /^smallest leftover kept must be at least 0 in; got -1/
    );
    expectError(
      () => prepare(withChange({ keepIn: 24_001 })),
      "out-of-range",
      /^smallest leftover kept must be at most 24000 in/
    );
    expect(prepare(withChange({ keepIn: 24_000 })).keep).toBe(24_000 * 1024);
    for (const name of ["stock", "pieces", "rips", "scrap"]) {
      expectError(
        () => prepare(withChange({ [name]: 3 })),
        "wrong-kind",
        new RegExp(`^${name} must be a list; got 3`)
      );
    }
  });
  it("of the stock", () => {
    expectError(
      () => prepare(withChange({ stock: [] })),
      "out-of-range",
      /^stock must name at least one panel length; got none/
    );
    expectError(
      () => prepare(withChange({ stock: [null] })),
      "wrong-kind",
      /^panel length must be a number; got a blank/
    );
    const twice = [...SOUND.stock, { lengthIn: 96, cost: 50 }];
    expectError(
      () => prepare(withChange({ stock: twice })),
      "out-of-range",
      /^panel length must be listed once; got 96 twice/
    );
    const costing = (cost: unknown): CutProblem => withChange({ stock: [{ lengthIn: 120, cost }] });
    expectError(
      () => prepare(costing(0)),
      "out-of-range",
      /^cost of the 120 in panel must be more than 0; got 0/
    );
    expectError(
      () => prepare(costing(1.1e9)),
      "out-of-range",
      /^cost of the 120 in panel must be at most 1000000000/
    );
    expect(prepare(costing(1e9)).stock[0]!.cost).toBe(1e9);
  });
  it("of scrap", () => {
    const scrap = (change: Record<string, unknown>): CutProblem =>
      withChange({ scrap: [{ ...SOUND.scrap[0], ...change }] });
    expectError(
      () => prepare(scrap({ id: "" })),
      "wrong-kind",
      /^scrap id must be text; got a blank/
    );
    expectError(() => prepare(scrap({ id: 7 })), "wrong-kind", /^scrap id must be text; got 7/);
    expectError(
      () => prepare(withChange({ scrap: [undefined] })),
      "wrong-kind",
      /^scrap id must be text/
    );
    expectError(
      () => prepare(withChange({ scrap: [SOUND.scrap[0], SOUND.scrap[0]] })),
      "out-of-range",
      /^scrap id must be used once; got "drop" twice/
    );
    expectError(
      () => prepare(scrap({ widthIn: 0 })),
      "out-of-range",
      /^width of scrap drop must be more than 0 in/
    );
    expectError(
      () => prepare(scrap({ heightIn: -2 })),
      "out-of-range",
      /^height of scrap drop must be more than 0 in/
    );
  });
});

describe("faults of pieces", () => {
  it("are named by the piece", () => {
    expectError(
      () => prepare(withChange({ pieces: [undefined] })),
      "wrong-kind",
      /^piece id must be text/
    );
    expectError(
      () => prepare(withChange({ pieces: [SOUND.pieces[0], SOUND.pieces[0]] })),
      "out-of-range",
      /^piece id must be used once; got "a" twice/
    );
    expectError(
      () => prepare(piece({ widthIn: 0 })),
      "out-of-range",
      /^width of piece a must be more than 0 in/
    );
    expectError(
      () => prepare(piece({ leftIn: -1 })),
      "out-of-range",
      /^left side of piece a must be at least 0 in; got -1/
    );
    expectError(
      () => prepare(piece({ rightIn: -1 })),
      "out-of-range",
      /^right side of piece a must be at least 0 in; got -1/
    );
    expectError(
      () => prepare(piece({ leftIn: 24_001 })),
      "out-of-range",
      /^left side of piece a must be at most 24000 in/
    );
    expectError(
      () => prepare(piece({ rightIn: 24_001 })),
      "out-of-range",
      /^right side of piece a must be at most 24000 in/
    );
    expectError(
      () => prepare(piece({ leftIn: 0, rightIn: 0 })),
      "out-of-range",
      /^one side of piece a must be more than 0 in; got 0 and 0/
    );
    expectError(
      () => prepare(piece({ leftIn: 0, rightIn: 0.0001 })),
      "out-of-range",
      /^one side of piece a must be more than 0 in; got 0 and 0.0001/
    );
    expect(prepare(piece({ leftIn: 0, rightIn: 9 })).types[0]).toMatchObject({
      left: 0,
      right: 9216,
      rake: true,
    });
    expect(prepare(piece({ leftIn: 9, rightIn: 0 })).types[0]).toMatchObject({
      left: 9216,
      right: 0,
      rake: true,
    });
  });
  it("that fit no panel say which panel is the longest", () => {
    const message =
      /^piece a must fit a panel of 48 x 120 in, the longest in stock; got 49 x 90 in/;
    expectError(() => prepare(piece({ widthIn: 49 })), "out-of-range", message);
    expectError(
      () => prepare(piece({ leftIn: 121, rightIn: 100 })),
      "out-of-range",
      /got 20 x 121 in/
    );
    // scrap large enough is no panel
    const large = { ...piece({ widthIn: 49 }), scrap: [{ id: "x", widthIn: 99, heightIn: 99 }] };
    expectError(() => prepare(large), "out-of-range", message);
    expect(prepare(piece({ widthIn: 48, leftIn: 120, rightIn: 120 })).types).toHaveLength(1);
    const turned = { ...piece({ widthIn: 60, leftIn: 40, rightIn: 40 }), canTurn: true };
    expect(prepare(turned).types[0]!.ways).toEqual([{ w: 40_960, h: 61_440, turned: 90 }]);
    expectError(() => prepare({ ...turned, canTurn: false }), "out-of-range", /must fit a panel/);
  });
});

describe("faults of runs", () => {
  it("are named by the run", () => {
    expectError(
      () => prepare(withChange({ rips: [undefined] })),
      "wrong-kind",
      /^rip run id must be text/
    );
    expectError(
      () => prepare(withChange({ rips: [SOUND.rips[0], SOUND.rips[0]] })),
      "out-of-range",
      /^rip run id must be used once; got "sill" twice/
    );
    expectError(
      () => prepare(run({ heightIn: 0 })),
      "out-of-range",
      /^height of rip run sill must be more than 0 in/
    );
    expectError(
      () => prepare(run({ smallestIn: -1 })),
      "out-of-range",
      /^smallest rip of run sill must be at least 0 in; got -1/
    );
    expectError(
      () => prepare(run({ smallestIn: 24_001 })),
      "out-of-range",
      /^smallest rip of run sill must be at most 24000 in/
    );
    expect(prepare(run({ smallestIn: 0 })).runs[0]!.smallest).toBe(0);
    expectError(
      () => prepare(run({ jointsIn: 5 })),
      "wrong-kind",
      /^joints of rip run sill must be a list; got 5/
    );
    expectError(
      () => prepare(run({ jointsIn: [0, "x"] })),
      "wrong-kind",
      /^joint 2 of rip run sill must be a number; got "x"/
    );
    expectError(
      () => prepare(run({ jointsIn: [-24_001, 0] })),
      "out-of-range",
      /^joint 1 of rip run sill must be at least -24000 in/
    );
    expectError(
      () => prepare(run({ jointsIn: [0, 24_001] })),
      "out-of-range",
      /^joint 2 of rip run sill must be at most 24000 in/
    );
    expectError(
      () => prepare(run({ jointsIn: [3] })),
      "out-of-range",
      /^rip run sill must list its start and its end; got 1 joints/
    );
    expectError(
      () => prepare(run({ jointsIn: [0, 20, 20] })),
      "out-of-range",
      /^joints of rip run sill must ascend; got 20 after 20/
    );
    expectError(
      () => prepare(run({ jointsIn: [0, 20, 10] })),
      "out-of-range",
      /^joints of rip run sill must ascend; got 10 after 20/
    );
    expectError(
      () => prepare(run({ seamsIn: 5 })),
      "wrong-kind",
      /^seams of rip run sill must be a list; got 5/
    );
    expectError(
      () => prepare(run({ seamsIn: [1, "x"] })),
      "wrong-kind",
      /^seam 2 of rip run sill must be a number/
    );
    expectError(
      () => prepare(run({ seamsIn: [-24_001] })),
      "out-of-range",
      /^seam 1 of rip run sill must be at least -24000 in/
    );
    expectError(
      () => prepare(run({ seamsIn: [24_001] })),
      "out-of-range",
      /^seam 1 of rip run sill must be at most 24000 in/
    );
  });
  it("that no rips can cover say what would be needed", () => {
    const message =
      /^rip run sill must be coverable by rips of at least 16 in between its joints, each fitting a panel of 48 x 120 in; got a run 10 in high and 121 in long/;
    expectError(() => prepare(run({ jointsIn: [0, 121] })), "out-of-range", message);
    expect(prepare(run({ jointsIn: [0, 120] })).runs).toHaveLength(1);
    expect(prepare(run({ jointsIn: [0, 16, 121] })).runs).toHaveLength(1);
    // a last rip of 1 in is under the smallest, and so is a first of 15
    expectError(() => prepare(run({ jointsIn: [0, 15, 121] })), "out-of-range", /121 in long/);
    expectError(() => prepare(run({ jointsIn: [0, 120, 121] })), "out-of-range", /121 in long/);
    // a run shorter than its smallest rip is one rip
    expect(prepare(run({ jointsIn: [0, 9] })).runs).toHaveLength(1);
    expectError(() => prepare(run({ jointsIn: [0, 4, 125] })), "out-of-range", /125 in long/);
    expectError(() => prepare(run({ heightIn: 49 })), "out-of-range", /49 in high and 32 in long/);
    expect(prepare({ ...run({ heightIn: 49 }), canTurn: true }).runs).toHaveLength(1);
  });
});

describe("rips", () => {
  const room: Room = { width: 48, longest: 120, canTurn: false, scrap: [] };
  const turning: Room = { ...room, canTurn: true };
  it("lie along the panel, across it only where pieces may be turned", () => {
    expect(ripWays(10, 40, room)).toEqual([{ w: 10, h: 40, turned: 90 }]);
    expect(ripWays(10, 40, turning)).toEqual([
      { w: 10, h: 40, turned: 90 },
      { w: 40, h: 10, turned: 0 },
    ]);
    expect(ripWays(40, 40, turning)).toEqual([{ w: 40, h: 40, turned: 90 }]);
    expect(ripWays(10, 49, turning)).toHaveLength(1);
    expect(ripWays(49, 10, turning)).toEqual([{ w: 10, h: 49, turned: 0 }]);
    expect(ripWays(49, 10, room)).toEqual([]);
    expect(ripWays(10, 121, room)).toEqual([]);
    expect(ripWays(10, 130, { ...room, scrap: [{ w: 10, h: 130 }] })).toHaveLength(1);
  });
  it("are no longer than a panel of their height allows", () => {
    expect(longestRip(10, room)).toBe(120);
    expect(longestRip(48, room)).toBe(120);
    expect(longestRip(49, room)).toBe(0);
    expect(longestRip(49, turning)).toBe(48);
    expect(longestRip(120, turning)).toBe(48);
    expect(longestRip(121, turning)).toBe(0);
    // a panel wider than long
    const wide: Room = { ...turning, width: 120, longest: 48 };
    expect(longestRip(10, wide)).toBe(48);
    expect(fitsPanel({ w: 48, h: 120 }, room)).toBe(true);
    expect(fitsPanel({ w: 49, h: 120 }, room)).toBe(false);
    expect(fitsPanel({ w: 48, h: 121 }, room)).toBe(false);
  });
  it("are no shorter than the run's smallest, or the run itself", () => {
    const [item] = prepare(SOUND).runs;
    expect(runLength(item!)).toBe(32 * 1024);
    expect(shortestRip(item!)).toBe(16 * 1024);
    expect(shortestRip({ ...item!, smallest: 40 * 1024 })).toBe(32 * 1024);
  });
});
