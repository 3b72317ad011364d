/**
 * How a plan shares out its work: what each step is handed, and what becomes of what it gives back. The steps are the real
 * ones unless a test puts another in place of one.
 */
import type * as improving from "../../../src/core/cut-plan/improve.js";
import type * as joining from "../../../src/core/cut-plan/join-rips.js";
import type * as mastering from "../../../src/core/cut-plan/master.js";
import type * as proving from "../../../src/core/cut-plan/prove.js";
import type * as rounding from "../../../src/core/cut-plan/round.js";
import type { Block } from "../../../src/core/cut-plan/blocks.js";
import { type CutEffort, planCuts } from "../../../src/core/cut-plan/plan-cuts.js";
import type { CutPlan, CutProblem } from "../../../src/core/cut-plan/problem.js";
import { type Sheet, listBlocks } from "../../../src/core/cut-plan/sheet.js";
import { type SmallProblem, problemOf } from "./small-problems.js";

type Solve = typeof proving.solveMaster;
type Round = typeof rounding.roundShares;
type Improve = typeof improving.improve;
type Join = typeof joining.joinRips;
type Run = mastering.Master["run"];

/** What the steps were handed while one plan was made. */
interface Handed {
  solve: Parameters<Solve>[];
  round: Parameters<Round>[];
  improve: Parameters<Improve>[];
  join: Parameters<Join>[];
  /** runs of the master that counts panels */
  count: Parameters<Run>[];
  /** the master that counts panels */
  counter: mastering.Master | null;
  /** what each piece was worth when a step began */
  worths: [step: string, worth: number][];
}

/** What is done in place of a step. */
interface Instead {
  solve?: Solve;
  round?: Round;
  improve?: Improve;
  join?: Join;
  count?: Run;
}

const nothing = (): Handed => ({
  solve: [],
  round: [],
  improve: [],
  join: [],
  count: [],
  counter: null,
  worths: [],
});
let handed = nothing();
let instead: Instead = {};

jest.mock("../../../src/core/cut-plan/prove.js", () => {
  const actual = jest.requireActual<typeof proving>("../../../src/core/cut-plan/prove.js");
  return {
    ...actual,
    solveMaster: (...given: Parameters<Solve>) => {
      handed.solve.push(given);
      return (instead.solve ?? actual.solveMaster)(...given);
    },
  };
});
jest.mock("../../../src/core/cut-plan/round.js", () => {
  const actual = jest.requireActual<typeof rounding>("../../../src/core/cut-plan/round.js");
  return {
    ...actual,
    roundShares: (...given: Parameters<Round>) => {
      handed.round.push(given);
      handed.worths.push(["round", given[0].blocks[0]![0]!.worth]);
      return (instead.round ?? actual.roundShares)(...given);
    },
  };
});
jest.mock("../../../src/core/cut-plan/improve.js", () => {
  const actual = jest.requireActual<typeof improving>("../../../src/core/cut-plan/improve.js");
  return {
    ...actual,
    improve: (...given: Parameters<Improve>) => {
      handed.improve.push(given);
      handed.worths.push(["improve", given[0].blocks[0]![0]!.worth]);
      return (instead.improve ?? actual.improve)(...given);
    },
  };
});
jest.mock("../../../src/core/cut-plan/join-rips.js", () => {
  const actual = jest.requireActual<typeof joining>("../../../src/core/cut-plan/join-rips.js");
  return {
    ...actual,
    joinRips: (...given: Parameters<Join>) => {
      handed.join.push(given);
      return (instead.join ?? actual.joinRips)(...given);
    },
  };
});
jest.mock("../../../src/core/cut-plan/master.js", () => {
  const actual = jest.requireActual<typeof mastering>("../../../src/core/cut-plan/master.js");
  return {
    ...actual,
    Master: class extends actual.Master {
      override run(...given: Parameters<Run>): void {
        // only panels are counted at 1 each
        if (!this.options.costs.every((cost) => cost === 1 || cost === Infinity)) {
          super.run(...given);
          return;
        }
        handed.count.push(given);
        handed.counter = this;
        if (instead.count) instead.count.apply(this, given);
        else super.run(...given);
      }
    },
  };
});

/** The plan of a problem, and what its steps were handed. */
function planned(
  problem: CutProblem,
  change: Instead = {},
  effort?: CutEffort
): Handed & { plan: CutPlan } {
  handed = nothing();
  instead = change;
  try {
    return { plan: planCuts(problem, effort), ...handed };
  } finally {
    instead = {};
  }
}

const give =
  (sheets?: readonly Sheet[]): Improve =>
  (_shop, start) => ({ sheets: [...(sheets ?? start)], cost: 0, work: 0, rounds: 0 });

const times = (count: number, ...size: number[]): number[][] =>
  Array.from({ length: count }, () => size);

/**
 * Four pieces of 5 x 7 go on a panel of 12 x 20, two by two, and no bound but that of patterns knows: by area it would be
 * 6.9 of them.
 */
const fours = (count: number, cost = 20, change: Partial<SmallProblem> = {}): CutProblem =>
  problemOf({ width: 12, stock: [[20, cost]], pieces: times(count, 5, 7), ...change });

/** No amount divides it: a bound is not rounded up, and none is reached by whole panels. */
const ODD_COST = Math.SQRT2;

/** Rounding that finds nothing cheaper than the first plan. */
const keepFirst: Round = () => [...handed.solve[0]![3]];

describe("the work allowed", () => {
  const provingOf = (problem: CutProblem, effort?: CutEffort): number => {
    const { solve } = planned(problem, {}, effort);
    expect(solve).toHaveLength(1);
    return solve[0]![4];
  };

  it("is 30,000 steps for each pair of pieces, half of them for the proof", () => {
    expect(provingOf(fours(5))).toBeCloseTo(0.5 * 25 * 30_000, 3);
    expect(provingOf(fours(10))).toBeCloseTo(0.5 * 100 * 30_000, 3);
  });
  it("is two hundred million steps where that is enough for a house", () => {
    expect(provingOf(fours(90))).toBeCloseTo(0.5 * 2e8, 0);
    expect(provingOf(fours(150))).toBeCloseTo(0.5 * 2e8, 0);
  });
  it("grows by 8,000 steps for each pair past that, up to nine thousand million", () => {
    expect(provingOf(fours(200))).toBeCloseTo(0.5 * 40_000 * 8_000, 0);
    const { solve } = planned(fours(1200, ODD_COST), { improve: give(), round: keepFirst });
    expect(solve[0]![4]).toBeCloseTo(0.72 * 9e9, 0);
  });
  it("is 15 % of that for a quick plan", () => {
    expect(provingOf(fours(10), "quick")).toBeCloseTo(0.15 * 0.5 * 100 * 30_000, 3);
    expect(provingOf(fours(10), "normal")).toBeCloseTo(0.5 * 100 * 30_000, 3);
  });
  it("counts every 8 ft of rip begun as a piece", () => {
    const withRuns = (...lengths: number[]): CutProblem => ({
      panelWidthIn: 48,
      kerfIn: 0,
      canTurn: false,
      stock: [{ lengthIn: 96, cost: 32 }],
      pieces: Array.from({ length: 5 }, (_, k) => ({
        id: `p${k}`,
        widthIn: 20,
        leftIn: 34,
        rightIn: 34,
      })),
      rips: lengths.map((length, k) => ({
        id: `r${k}`,
        heightIn: 6,
        jointsIn: [0, 48, 96, 144, 192].filter((at) => at < length).concat(length),
        smallestIn: 1,
      })),
      scrap: [],
    });
    // 5 pieces, and 2, 3 or 1 + 2 of rip
    expect(provingOf(withRuns(192))).toBeCloseTo(0.5 * 49 * 30_000, 3);
    expect(provingOf(withRuns(193))).toBeCloseTo(0.5 * 64 * 30_000, 3);
    expect(provingOf(withRuns(96, 97))).toBeCloseTo(0.5 * 64 * 30_000, 3);
  });
  it("is shared out: 0.5, 0.3, 0.35, 0.08 and 0.05 of it up to 160 sheets, 0.72, 0.4, 0.03, 0.03 and 0.01 above", () => {
    // strips of 2 x 7 and 2 x 13 are left beside the fours: room for both rips on one panel
    const run = { height: 2, joints: [0, 6], smallest: 6 };
    const sharesOf = (count: number): number[] => {
      const problem = fours(count, ODD_COST, { runs: [run, run] });
      const {
        solve,
        round,
        improve,
        join,
        count: panels,
      } = planned(problem, {
        round: keepFirst,
        improve: give(),
      });
      expect(join).toHaveLength(1);
      const pieces = count + 2;
      const work = Math.max(2e8, 8_000 * pieces ** 2);
      const sum = (isJoining: boolean): number =>
        improve
          .filter(([, , , { joint }]) => joint > 0 === isJoining)
          .reduce((total, [, , , { budget }]) => total + budget, 0);
      return [solve[0]![4], round[0]![3], sum(false), sum(true), panels[0]![0]].map(
        (steps) => Math.round((1e6 * steps) / work) / 1e6
      );
    };
    // 159.5 and 160.5 panels' worth
    expect(sharesOf(638)).toEqual([0.5, 0.3, 0.35, 0.08, 0.05]);
    expect(sharesOf(642)).toEqual([0.72, 0.4, 0.03, 0.03, 0.01]);
  });
});

describe("the steps of a plan", () => {
  it("are handed all there is to cut, and the first plan of it", () => {
    const problem = problemOf({
      width: 12,
      stock: [[20, 20]],
      pieces: [...times(5, 5, 7), [4, 3]],
      runs: [
        { height: 2, joints: [0, 5, 10], smallest: 5 },
        { height: 3, joints: [0, 7], smallest: 7 },
      ],
      scrap: [
        [1, 1],
        [2, 2],
      ],
    });
    const { solve, round } = planned(problem);
    const [model, task, costs, sheets] = solve[0]!;
    expect([...task.counts]).toEqual([5, 1]);
    expect(task.stretches).toEqual([
      { run: 0, from: 0, to: 2 },
      { run: 1, from: 0, to: 1 },
    ]);
    expect(task.scrap.map(({ id }) => id)).toEqual(["s0", "s1"]);
    expect(costs).toEqual([20]);
    const held: Block[] = [];
    for (const sheet of sheets) listBlocks(sheet.root, held);
    expect(held.filter(({ type }) => type === 0)).toHaveLength(5);
    expect(held.filter(({ type }) => type === 1)).toHaveLength(1);
    expect([round[0]![0].model, round[0]![1]]).toEqual([model, task]);
  });

  it("are left out where the first plan costs no more than area or a dual-feasible function proves", () => {
    const pieces = (...size: number[]): SmallProblem => ({
      width: 12,
      stock: [[20, 20]],
      pieces: times(4, ...size),
    });
    for (const small of [pieces(12, 10), pieces(7, 11)]) {
      const { solve, round, improve, count, plan } = planned(problemOf(small));
      expect([solve, round, improve, count]).toEqual([[], [], [], []]);
      expect(plan.fewestPanels).toBe(plan.panelCount);
    }
  });

  it("end with rounding where that reaches what patterns prove", () => {
    const { improve, plan } = planned(fours(10));
    expect(improve).toEqual([]);
    // 2.5 panels of patterns: three
    expect([plan.cost, plan.lowestCost, plan.boundBy]).toEqual([60, 60, "column generation"]);
    // without a common amount of the costs two and a half panels are all that is proven
    const odd = planned(fours(10, ODD_COST));
    expect(odd.improve).toHaveLength(1);
    expect(odd.plan.lowestCost).toBeCloseTo(2.5 * ODD_COST, 6);
    expect(odd.plan.cost).toBeCloseTo(3 * ODD_COST, 9);
  });

  it("take the cheaper of the first plan and the rounded one, and of equal ones the first", () => {
    const startOf = (round: Round): readonly Sheet[] =>
      planned(fours(10, ODD_COST), { round, improve: give() }).improve[0]![1];
    const first = (): readonly Sheet[] => handed.solve[0]![3];
    expect(startOf(() => [...first(), first()[0]!])).toEqual(first());
    expect(startOf(() => [...first()].reverse())).toEqual(first());
    // fewer panels than patterns prove: nothing is left to improve
    const { improve, plan } = planned(fours(10, ODD_COST), { round: () => first().slice(1) });
    expect([improve.length, plan.panelCount]).toEqual([0, 2]);
  });

  it("judge panels by the prices of the share solution, also after rounding has used others", () => {
    const { worths } = planned(fours(10, ODD_COST), {
      improve: give(),
      round: (shop) => {
        shop.price({ piece: () => 99, rip: () => 99 });
        return keepFirst(...handed.round[0]!);
      },
    });
    // four to a panel
    expect(worths.map(([step]) => step)).toEqual(["round", "improve"]);
    for (const [, worth] of worths) expect(worth).toBeCloseTo(ODD_COST / 4, 6);
  });

  it("improve a plan with the patterns of the share solution, down to what is proven", () => {
    const { improve, round } = planned(fours(10, ODD_COST), { improve: give() });
    expect(improve).toHaveLength(1);
    const { floor, joint, ceiling, patterns, scrapFree } = improve[0]![3];
    expect(floor).toBeCloseTo(2.5 * ODD_COST, 6);
    expect([joint, ceiling, scrapFree]).toEqual([0, Infinity, []]);
    expect(patterns!.master).toBe(round[0]![2]);
    expect(patterns!.shares.reduce((sum, { level }) => sum + level, 0)).toBeCloseTo(2.5, 6);
  });

  it("take what improving gives back", () => {
    const { plan } = planned(fours(10, ODD_COST), {
      improve: (_shop, start) => ({ sheets: start.slice(1), cost: 0, work: 0, rounds: 0 }),
    });
    expect(plan.panelCount).toBe(2);
    const joined = planned(fours(10), { join: (_shop, start) => start.slice(2) });
    expect(joined.plan.panelCount).toBe(1);
  });

  it("make rips fewer, no dearer, where two or more are on one panel", () => {
    const withRips = (second: number, cost = 20): CutProblem =>
      fours(6, cost, {
        runs: [
          { height: 2, joints: [0, 6], smallest: 6 },
          { height: second, joints: [0, 6], smallest: 6 },
        ],
      });
    const { improve, join } = planned(withRips(2), { improve: give() });
    expect(improve).toHaveLength(1);
    const { floor, joint, ceiling, patterns } = improve[0]![3];
    expect([floor, ceiling, patterns]).toEqual([40, 40, undefined]);
    // 3 % of a panel for a rip
    expect(joint).toBe(0.03);
    expect(join).toHaveLength(1);
    // 12 wide, the other rip goes on a panel of its own or above: one at most on each
    const lone = planned(fours(6, 20, { runs: [{ height: 2, joints: [0, 6], smallest: 6 }] }));
    expect(lone.improve).toEqual([]);
    expect(lone.join).toHaveLength(1);
  });

  it("offer scrap to improving that no sheet uses", () => {
    const scrap: [number, number][] = [
      [1, 1],
      [5, 7],
      [2, 2],
    ];
    const { improve, plan } = planned(fours(10, ODD_COST, { scrap }), { improve: give() });
    expect(
      plan.sheets.filter(({ kind }) => kind === "scrap").map(({ scrapId }) => scrapId)
    ).toEqual(["s1"]);
    expect(improve[0]![3].scrapFree).toEqual([true, false, true]);
  });
});

describe("when the proof is close enough", () => {
  const enoughOf = (cost: number): Parameters<Solve>[5] =>
    planned(fours(10, cost), { improve: give() }).solve[0]![5];
  it("is where both come to the same whole panels", () => {
    const enough = enoughOf(20);
    expect(enough(41, 60)).toBe(true);
    expect(enough(41, 55)).toBe(true);
    expect(enough(39, 55)).toBe(false);
    expect(enough(40, 60)).toBe(false);
    expect(enough(61, 60)).toBe(true);
  });
  it("or where they differ by less than a thousandth", () => {
    const enough = enoughOf(ODD_COST);
    expect(enough(99.95, 100)).toBe(true);
    expect(enough(99.8, 100)).toBe(false);
    expect(enough(0.9995, 1)).toBe(true);
    expect(enough(0.998, 1)).toBe(false);
    expect(enough(1, 2)).toBe(false);
  });
});

describe("the fewest panels", () => {
  it("are looked for until what is proven cannot be less than the plan has, or than any has", () => {
    const { count, counter } = planned(fours(10));
    expect(count).toHaveLength(1);
    const enough = count[0]![2];
    // the plan has three
    expect(enough(2.1, 5)).toBe(true);
    expect(enough(1.9, 5)).toBe(false);
    expect(enough(1.9, 1.8)).toBe(true);
    expect(enough(0.9, 1.8)).toBe(false);
    expect(counter!.options.costs).toEqual([1]);
  });
  it("are not those of scrap", () => {
    // ten on three panels, the eleventh out of scrap
    const { count, plan } = planned(fours(11, 20, { scrap: [[5, 7]] }));
    expect([plan.panelCount, plan.sheets.length]).toEqual([3, 4]);
    const enough = count[0]![2];
    expect(enough(2.1, 5)).toBe(true);
    expect(enough(1.9, 5)).toBe(false);
  });
  it("are those of patterns where they are more than those of area, and the other way round", () => {
    expect(planned(fours(10)).plan.fewestPanels).toBe(3);
    // nothing proven by patterns: 350 of 240 is two panels
    expect(planned(fours(10), { count: () => undefined }).plan.fewestPanels).toBe(2);
  });
  it("are looked for from the plan's own panels on, of the longest length alone", () => {
    const problem = problemOf({
      width: 12,
      stock: [
        [14, 14],
        [20, 20],
      ],
      pieces: times(10, 5, 7),
    });
    let level = 0;
    const { counter, plan } = planned(problem, {
      count(this: mastering.Master) {
        level = this.solution().reduce((sum, share) => sum + share.level, 0);
      },
    });
    expect(counter!.options.costs).toEqual([Infinity, 1]);
    expect(plan.panelCount).toBe(3);
    expect(level).toBeGreaterThan(0);
  });
});

describe("a plan of more than 160 sheets", () => {
  /** 642 pieces, 161 sheets of 160.5 panels' worth */
  const many = (change: Partial<SmallProblem> = {}): CutProblem => fours(642, ODD_COST, change);
  const TURNS = 4;
  const GROUPS = 3;

  it("is improved in groups of at most 80 and equal size, mixed anew in each of four turns", () => {
    const { improve } = planned(many(), { improve: give(), round: keepFirst });
    expect(improve).toHaveLength(TURNS * GROUPS);
    const all = handedTo(improve, 0);
    expect(new Set(all.flat()).size).toBe(161);
    const groupings = new Set<string>();
    for (let turn = 0; turn < TURNS; turn++) {
      const groups = handedTo(improve, turn);
      expect(groups.map(({ length }) => length).sort()).toEqual([53, 54, 54]);
      expect(new Set(groups.flat())).toEqual(new Set(all.flat()));
      groupings.add(groups.map((group) => group.map((sheet) => all.flat().indexOf(sheet))).join());
      // a first group of neighbours only would mean that nothing was mixed
      const places = groups[0]!.map((sheet) => [...new Set(all.flat())].indexOf(sheet));
      expect(Math.max(...places) - Math.min(...places)).toBeGreaterThan(turn === 0 ? 0 : 100);
    }
    expect(groupings.size).toBe(TURNS);
  });

  /** the groups of one turn */
  function handedTo(improve: Handed["improve"], turn: number): (readonly Sheet[])[] {
    return improve.slice(turn * GROUPS, (turn + 1) * GROUPS).map(([, start]) => start);
  }

  it("has its groups improved without floor or ceiling, with equal shares of the work", () => {
    const { improve, round } = planned(many(), { improve: give(), round: keepFirst });
    for (const [, , , { floor, ceiling, joint, budget, patterns }] of improve) {
      expect([floor, ceiling, joint]).toEqual([0, Infinity, 0]);
      expect(budget / ((0.03 * 8_000 * 642 ** 2) / 12)).toBeCloseTo(1, 9);
      expect(patterns!.master).toBe(round[0]![2]);
    }
  });

  it("offers each unused scrap to one group of a turn, and a used one to none", () => {
    // nothing goes into 1 x 1; one piece goes into 5 x 7
    const scrap = [1, 1, 5, 1, 1, 1, 1].map((w): [number, number] => [w, w === 5 ? 7 : 1]);
    const { improve } = planned(fours(643, ODD_COST, { scrap }), {
      improve: give(),
      round: keepFirst,
    });
    expect(improve).toHaveLength(TURNS * GROUPS);
    for (let turn = 0; turn < TURNS; turn++) {
      const offered = improve
        .slice(turn * GROUPS, (turn + 1) * GROUPS)
        .map(([, , , { scrapFree }]) => scrapFree);
      const groupsOf = scrap.map((_, k) => offered.filter((free) => free[k]).length);
      expect(groupsOf).toEqual([1, 1, 0, 1, 1, 1, 1]);
      // neighbours in the list to different groups, so that each has about as many
      const groupOf = (k: number): number => offered.findIndex((free) => free[k]);
      for (const k of [0, 3, 4, 5]) expect(groupOf(k)).not.toBe(groupOf(k + 1));
    }
  });

  it("takes what each group becomes, and goes on from there", () => {
    const given: Sheet[] = [];
    const { improve, plan } = planned(many(), {
      improve: (_shop, start) => {
        // the same cost, by other sheets
        const sheets = start.map((sheet) => ({ ...sheet }));
        given.push(...sheets);
        return { sheets, cost: 0, work: 0, rounds: 0 };
      },
      round: keepFirst,
    });
    expect(given).toHaveLength(TURNS * 161);
    for (let turn = 1; turn < TURNS; turn++) {
      const before = given.slice((turn - 1) * 161, turn * 161);
      expect(new Set(handedTo(improve, turn).flat())).toEqual(new Set(before));
      for (const sheet of handedTo(improve, turn).flat()) expect(before).toContain(sheet);
    }
    expect(plan.panelCount).toBe(161);
  });

  it("stops after the turn that reaches what is proven", () => {
    const { improve, plan } = planned(many(), {
      round: keepFirst,
      // one panel less in the second turn
      improve: (_shop, start) => ({
        sheets: handed.improve.length === GROUPS + 1 ? start.slice(1) : [...start],
        cost: 0,
        work: 0,
        rounds: 0,
      }),
    });
    expect(improve).toHaveLength(2 * GROUPS);
    expect(plan.panelCount).toBe(160);
  });

  it("may not make a group dearer for fewer rips", () => {
    const run = { height: 2, joints: [0, 6], smallest: 6 };
    const { improve } = planned(many({ runs: [run, run] }), { improve: give(), round: keepFirst });
    const joining = improve.filter(([, , , { joint }]) => joint > 0);
    expect(joining).toHaveLength(TURNS * GROUPS);
    for (const [, start, , { ceiling, floor, joint }] of joining) {
      expect(ceiling).toBeCloseTo(start.length * ODD_COST, 9);
      expect([floor, joint]).toEqual([0, 0.03]);
    }
  });

  it("of 160 sheets is improved all together", () => {
    // 159.5 panels' worth
    const { improve } = planned(fours(638, ODD_COST), { improve: give(), round: keepFirst });
    expect(improve.map(([, start]) => start.length)).toEqual([160]);
    expect(improve[0]![3].floor).toBeCloseTo(159.5 * ODD_COST, 4);
  });
});
