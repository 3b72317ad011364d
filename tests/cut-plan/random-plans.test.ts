/** Random houses' worth of pieces: every plan passes the verifier, and the bound holds. */
import fc from "fast-check";
import { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import type { CutProblem } from "../../src/core/cut-plan/problem.js";
import { isCalcError } from "../../src/core/check.js";
import { faultsOf } from "./verify-plan.js";

const sixteenths = (from: number, to: number): fc.Arbitrary<number> =>
  fc.integer({ min: from * 16, max: to * 16 }).map((count) => count / 16);

const piece = fc
  .record({
    width: fc.oneof(fc.constant(48), sixteenths(1, 48)),
    left: sixteenths(1, 96),
    pitch: fc.oneof({ weight: 2, arbitrary: fc.constant(0) }, fc.integer({ min: -12, max: 12 })),
  })
  .map(({ width, left, pitch }) => ({
    widthIn: width,
    leftIn: left,
    rightIn: Math.min(108, Math.max(0, left + (width * pitch) / 12)),
  }));

const run = fc
  .record({
    length: fc.integer({ min: 20, max: 500 }),
    first: fc.integer({ min: 1, max: 16 }),
    height: sixteenths(6, 24),
  })
  .map(({ length, first, height }) => {
    const joints = [0];
    for (let at = first; at < length - 1; at += 16) joints.push(at);
    return { heightIn: height, jointsIn: [...joints, length], smallestIn: 16 };
  });

const problem: fc.Arbitrary<CutProblem> = fc
  .record({
    pieces: fc.array(piece, { minLength: 1, maxLength: 14 }),
    rips: fc.array(run, { maxLength: 2 }),
    scrap: fc.array(fc.record({ widthIn: sixteenths(4, 47), heightIn: sixteenths(4, 60) }), {
      maxLength: 4,
    }),
    kerfIn: fc.constantFrom(0, 0.125),
    canTurn: fc.boolean(),
    lengths: fc.constantFrom([96, 108, 120], [120]),
  })
  .map(({ pieces, rips, scrap, kerfIn, canTurn, lengths }) => ({
    panelWidthIn: 48,
    kerfIn,
    canTurn,
    stock: lengths.map((lengthIn) => ({ lengthIn, cost: lengthIn / 3 })),
    pieces: pieces.map((each, index) => ({ ...each, id: `p${index}` })),
    rips: rips.map((each, index) => ({ ...each, id: `r${index}` })),
    scrap: scrap.map((each, index) => ({ ...each, id: `s${index}` })),
  }));

const SEED = { seed: 20_261_125, numRuns: 60 };

// planning is real work; a busy machine may take a while
jest.setTimeout(120_000);

describe("plans of random pieces", () => {
  it("pass the verifier: placed once, inside, apart, by edge-to-edge cuts, never under the bound", () => {
    fc.assert(
      fc.property(problem, (given) => {
        expect(faultsOf(given, planCuts(given))).toEqual([]);
      }),
      SEED
    );
  });
  it("are the same every time, and quick plans are as sound", () => {
    fc.assert(
      fc.property(problem, (given) => {
        expect(planCuts(given)).toEqual(planCuts(given));
        const quick = planCuts(given, "quick");
        expect(faultsOf(given, quick)).toEqual([]);
        expect(quick.lowestCost).toBeLessThanOrEqual(planCuts(given).cost + 1e-9);
      }),
      { ...SEED, numRuns: 15 }
    );
  });
  it("name the piece that fits no panel", () => {
    const given: CutProblem = {
      panelWidthIn: 48,
      kerfIn: 0.125,
      canTurn: false,
      stock: [{ lengthIn: 96, cost: 32 }],
      pieces: [{ id: "too tall", widthIn: 20, leftIn: 100, rightIn: 100 }],
      rips: [],
      scrap: [],
    };
    let caught: unknown;
    try {
      planCuts(given);
    } catch (error) {
      caught = error;
    }
    expect(isCalcError(caught) && caught.code).toBe("out-of-range");
    expect(String(caught)).toContain("too tall");
  });
});
