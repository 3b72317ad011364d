/** What the planner is asked: every fault by its kind, with the argument, the rule and what came. */
import { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import type { CutProblem } from "../../src/core/cut-plan/problem.js";
import { expectError } from "../unit/expect-error.js";
import { faultsOf } from "./verify-plan.js";

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

type Change = Record<string, unknown>;
const piece = (change: Change): Change => ({ pieces: [{ ...SOUND.pieces[0], ...change }] });
const run = (change: Change): Change => ({ rips: [{ ...SOUND.rips[0], ...change }] });
const scrap = (change: Change): Change => ({ scrap: [{ ...SOUND.scrap[0], ...change }] });
const twice = (name: "pieces" | "rips" | "scrap"): Change => ({
  [name]: [SOUND[name][0], SOUND[name][0]],
});
const planned = (change: Change): ReturnType<typeof planCuts> =>
  planCuts({ ...SOUND, ...change } as unknown as CutProblem);

it.each([null, "x"])("a problem that is no record is refused: %p", (problem) => {
  expectError(
    () => planCuts(problem as unknown as CutProblem),
    "wrong-kind",
    /^problem must be a record; got /
  );
});

it.each<[Change, string]>([
  [{ panelWidthIn: "48" }, 'panel width must be a number; got "48"'],
  [{ canTurn: "yes" }, 'can turn must be TRUE or FALSE; got "yes"'],
  [{ stock: 3 }, "stock must be a list; got 3"],
  [{ pieces: 3 }, "pieces must be a list; got 3"],
  [{ rips: 3 }, "rips must be a list; got 3"],
  [{ scrap: 3 }, "scrap must be a list; got 3"],
  [{ stock: [null] }, "panel length must be a number; got a blank"],
  [{ scrap: [undefined] }, "scrap id must be text; got a blank"],
  [scrap({ id: "" }), "scrap id must be text; got a blank"],
  [scrap({ id: 7 }), "scrap id must be text; got 7"],
  [{ pieces: [undefined] }, "piece id must be text; got a blank"],
  [{ rips: [undefined] }, "rip run id must be text; got a blank"],
  [run({ jointsIn: 5 }), "joints of rip run sill must be a list; got 5"],
  [run({ jointsIn: [0, "x"] }), 'joint 2 of rip run sill must be a number; got "x"'],
  [run({ seamsIn: 5 }), "seams of rip run sill must be a list; got 5"],
  [run({ seamsIn: [1, "x"] }), 'seam 2 of rip run sill must be a number; got "x"'],
])("of another kind: %j", (change, message) => {
  expectError(() => planned(change), "wrong-kind", message);
});

it.each<[Change, string]>([
  [{ panelWidthIn: 0 }, "panel width must be more than 0 in; got 0"],
  [{ panelWidthIn: 24_001 }, "panel width must be at most 24000 in; got 24001"],
  [{ panelWidthIn: 0.0001 }, "panel width must be at least 1/1024 in; got 0.0001"],
  [{ kerfIn: -0.1 }, "kerf must be at least 0 in; got -0.1"],
  [{ kerfIn: 48 }, "kerf must be less than 48 in; got 48"],
  [{ keepIn: -1 }, "smallest leftover kept must be at least 0 in; got -1"],
  [{ keepIn: 24_001 }, "smallest leftover kept must be at most 24000 in; got 24001"],
  [{ stock: [] }, "stock must name at least one panel length; got none"],
  [
    { stock: [...SOUND.stock, { lengthIn: 96, cost: 50 }] },
    "panel length must be listed once; got 96 twice",
  ],
  [{ stock: [{ lengthIn: 120, cost: 0 }] }, "cost of the 120 in panel must be more than 0; got 0"],
  [
    { stock: [{ lengthIn: 120, cost: 1.1e9 }] },
    "cost of the 120 in panel must be at most 1000000000; got 1100000000",
  ],
  [twice("scrap"), 'scrap id must be used once; got "drop" twice'],
  [scrap({ widthIn: 0 }), "width of scrap drop must be more than 0 in; got 0"],
  [scrap({ heightIn: -2 }), "height of scrap drop must be more than 0 in; got -2"],
  [twice("pieces"), 'piece id must be used once; got "a" twice'],
  [piece({ widthIn: 0 }), "width of piece a must be more than 0 in; got 0"],
  [piece({ leftIn: -1 }), "left side of piece a must be at least 0 in; got -1"],
  [piece({ rightIn: -1 }), "right side of piece a must be at least 0 in; got -1"],
  [piece({ leftIn: 24_001 }), "left side of piece a must be at most 24000 in; got 24001"],
  [piece({ rightIn: 24_001 }), "right side of piece a must be at most 24000 in; got 24001"],
  [
    piece({ leftIn: 0, rightIn: 0.0001 }),
    "one side of piece a must be more than 0 in; got 0 and 0.0001",
  ],
  [
    piece({ widthIn: 49 }),
    "piece a must fit a panel of 48 x 120 in, the longest in stock; got 49 x 90 in",
  ],
  [
    piece({ leftIn: 121, rightIn: 100 }),
    "piece a must fit a panel of 48 x 120 in, the longest in stock; got 20 x 121 in",
  ],
  [
    // scrap large enough is no panel
    { ...piece({ widthIn: 49 }), ...scrap({ widthIn: 99, heightIn: 99 }) },
    "piece a must fit a panel of 48 x 120 in, the longest in stock; got 49 x 90 in",
  ],
  [twice("rips"), 'rip run id must be used once; got "sill" twice'],
  [run({ heightIn: 0 }), "height of rip run sill must be more than 0 in; got 0"],
  [run({ smallestIn: -1 }), "smallest rip of run sill must be at least 0 in; got -1"],
  [run({ smallestIn: 24_001 }), "smallest rip of run sill must be at most 24000 in; got 24001"],
  [
    run({ jointsIn: [-24_001, 0] }),
    "joint 1 of rip run sill must be at least -24000 in; got -24001",
  ],
  [run({ jointsIn: [0, 24_001] }), "joint 2 of rip run sill must be at most 24000 in; got 24001"],
  [run({ jointsIn: [3] }), "rip run sill must list its start and its end; got 1 joints"],
  [run({ jointsIn: [0, 20, 20] }), "joints of rip run sill must ascend; got 20 after 20"],
  [run({ jointsIn: [0, 20, 10] }), "joints of rip run sill must ascend; got 10 after 20"],
  [run({ seamsIn: [-24_001] }), "seam 1 of rip run sill must be at least -24000 in; got -24001"],
  [run({ seamsIn: [24_001] }), "seam 1 of rip run sill must be at most 24000 in; got 24001"],
])("outside its limits: %j", (change, message) => {
  expectError(() => planned(change), "out-of-range", message);
});

it.each<[Change, string]>([
  [run({ jointsIn: [0, 121] }), "10 in high and 121 in long"],
  // a last rip of 1 in is under the smallest, and so is a first of 15
  [run({ jointsIn: [0, 15, 121] }), "10 in high and 121 in long"],
  [run({ jointsIn: [0, 120, 121] }), "10 in high and 121 in long"],
  [run({ jointsIn: [0, 4, 125] }), "10 in high and 125 in long"],
  [run({ heightIn: 49 }), "49 in high and 32 in long"],
])("a run no rips can cover says what would be needed: %j", (change, got) => {
  expectError(
    () => planned(change),
    "out-of-range",
    "rip run sill must be coverable by rips of at least 16 in between its joints, each fitting a panel of " +
      `48 x 120 in; got a run ${got}`
  );
});

it.each<[string, Change]>([
  ["the widest leftover to keep", { keepIn: 24_000 }],
  ["the dearest panel", { stock: [{ lengthIn: 120, cost: 1e9 }] }],
  ["a piece as large as the panel", piece({ widthIn: 48, leftIn: 120, rightIn: 120 })],
  ["rake pieces that run out to a point", piece({ leftIn: 0, rightIn: 9 })],
  ["and the other way", piece({ leftIn: 9, rightIn: 0 })],
  ["a run as long as the panel", run({ jointsIn: [0, 120] })],
  ["rips as short as they may be", run({ jointsIn: [0, 16, 121] })],
  ["a run shorter than its smallest rip", run({ jointsIn: [0, 9] })],
  ["no smallest rip", run({ smallestIn: 0 })],
  ["a run higher than the panel is wide, turned", { ...run({ heightIn: 49 }), canTurn: true }],
])("just inside the limits is planned: %s", (_, change) => {
  const problem = { ...SOUND, ...change } as unknown as CutProblem;
  expect(faultsOf(problem, planCuts(problem))).toEqual([]);
});
