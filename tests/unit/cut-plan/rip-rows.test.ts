/** What rips count in a master: by length between the ends of runs, odd ends one by one. */
import fc from "fast-check";
import { type Model, type RunItem, longestRip } from "../../../src/core/cut-plan/prepare.js";
import {
  type RipLeaf,
  RipRows,
  type Stretch,
  runArcs,
} from "../../../src/core/cut-plan/rip-rows.js";
import {
  type SmallRun,
  coversOf,
  law,
  modelOf,
  ripRowsOf,
  solvedProblems,
} from "./small-problems.js";

const whole = ({ index, joints }: RunItem): Stretch => ({
  run: index,
  from: 0,
  to: joints.length - 1,
});

const rowsOf = (model: Model): RipRows => new RipRows(model, model.runs.map(whole));

/** What a stretch counts, by row. */
function countsOf(rows: RipRows, stretch: Stretch): number[] {
  const counts = new Array<number>(rows.count).fill(0);
  const counted = rows.counted(stretch);
  expect(counted.factors).toHaveLength(counted.rows.length);
  expect(new Set(counted.rows).size).toBe(counted.rows.length);
  counted.rows.forEach((row, k) => (counts[row] = counted.factors[k]!));
  return counts;
}

const runsOf = (width: number, length: number, runs: SmallRun[]): Model =>
  modelOf({ width, stock: [[length, 1]], runs });

/** True where some leaf stands for a rip: in its rows, no longer, and counting no less. */
function standIns(model: Model, rows: RipRows): (rip: Stretch) => boolean {
  const byRows = new Map<string, RipLeaf[]>();
  for (const leaf of rows.leaves) {
    const key = `${leaf.height}: ${leaf.rows.join()}`;
    byRows.set(key, [...(byRows.get(key) ?? []), leaf]);
  }
  return (rip) => {
    const { joints, height } = model.runs[rip.run]!;
    const counted = rows.counted(rip);
    return (byRows.get(`${height}: ${counted.rows.join()}`) ?? []).some(
      (leaf) =>
        leaf.length <= joints[rip.to]! - joints[rip.from]! &&
        leaf.factors.every((factor, k) => factor >= counted.factors[k]! - 1e-12)
    );
  };
}

/** Everything that must hold of the rows of a problem. */
function faultsOf(model: Model, rows: RipRows): string[] {
  const faults: string[] = [];
  const hasLeaf = standIns(model, rows);
  const heights = new Set(model.runs.map(({ height }) => height)).size;
  for (const run of model.runs) {
    const all = countsOf(rows, whole(run));
    for (const arc of runArcs(model, run)) {
      const rip = { run: run.index, ...arc };
      const name = `${run.id} ${arc.from}-${arc.to}`;
      const { length, factors } = rows.counted(rip);
      if (factors.length === 0) faults.push(`${name} counts nothing`);
      if (!factors.every((factor) => factor > 0)) faults.push(`${name} counts ${factors}`);
      if (length > run.joints[arc.to]! - run.joints[arc.from]!) faults.push(`${name} is longer`);
      if (!hasLeaf(rip)) faults.push(`no leaf stands for ${name}`);
      // before it, the rip, and after it: the run
      const parts = [
        countsOf(rows, { run: run.index, from: 0, to: arc.from }),
        countsOf(rows, rip),
        countsOf(rows, { run: run.index, from: arc.to, to: run.joints.length - 1 }),
      ];
      if (arc.from === 0) parts.shift();
      if (arc.to === run.joints.length - 1) parts.pop();
      const sum = all.map((_, row) => parts.reduce((total, part) => total + part[row]!, 0));
      if (sum.some((count, row) => Math.abs(count - all[row]!) > 1e-9)) {
        faults.push(`${name} and the rest count ${sum}, not ${all}`);
      }
    }
  }
  // a panel holds one of each height at least, in rips side by side
  const most = new Map<number, number>();
  for (const run of model.runs) {
    for (const arc of runArcs(model, run)) {
      const { rows: own, factors } = rows.counted({ run: run.index, ...arc });
      own.forEach((row, k) => {
        if (row >= heights) return;
        most.set(row, Math.max(most.get(row) ?? 0, factors[k]!));
      });
    }
  }
  for (const [row, factor] of most) {
    const { height } = rows.leaves.find((leaf) => leaf.rows.includes(row))!;
    const across = Math.max(1, Math.floor((model.width + model.kerf) / (height + model.kerf)));
    if (!(across * factor > 1 - 1e-9)) faults.push(`${factor} of row ${row}`);
  }
  for (const leaf of rows.leaves) {
    if (leaf.length > longestRip(leaf.height, model)) faults.push(`a leaf of ${leaf.length}`);
    if (!(leaf.length > 0)) faults.push(`a leaf of ${leaf.length}`);
  }
  return faults;
}

/** Runs of many kinds: regular between the ends or not, of one interval and more. */
const someRuns = fc.array(
  fc.record({
    height: fc.constantFrom(3, 5),
    intervals: fc.array(fc.integer({ min: 2, max: 6 }), { minLength: 1, maxLength: 5 }),
    space: fc.integer({ min: 3, max: 5 }),
    regular: fc.boolean(),
    smallest: fc.integer({ min: 1, max: 4 }),
  }),
  { minLength: 1, maxLength: 5 }
);

function smallRuns(
  drafts: readonly (typeof someRuns extends fc.Arbitrary<(infer T)[]> ? T : never)[]
): SmallRun[] {
  return drafts.map(({ height, intervals, space, regular, smallest }) => {
    const joints = [0];
    intervals.forEach((interval, k) => {
      const isEnd = k === 0 || k === intervals.length - 1;
      joints.push(joints[k]! + (regular && !isEnd ? space : interval));
    });
    return { height, joints, smallest };
  });
}

describe("what rips count", () => {
  it("adds up over every cover to what the run asks for", () => {
    fc.assert(
      fc.property(someRuns, (drafts) => {
        const runs = smallRuns(drafts);
        fc.pre(runs.every((run) => coversOf(run, 20).length > 0));
        const model = runsOf(12, 20, runs);
        const rows = rowsOf(model);
        const demand = rows.demand(model.runs.map(whole));
        const sums = new Array<number>(rows.count).fill(0);
        runs.forEach((run, k) => {
          const all = countsOf(rows, whole(model.runs[k]!));
          all.forEach((count, row) => (sums[row]! += count));
          for (const cover of coversOf(run, model.longest)) {
            let at = 0;
            const sum = new Array<number>(rows.count).fill(0);
            for (const length of cover) {
              const from = run.joints.indexOf(at);
              at += length;
              const rip = { run: k, from, to: run.joints.indexOf(at) };
              countsOf(rows, rip).forEach((count, row) => (sum[row]! += count));
            }
            sum.forEach((count, row) => expect(count).toBeCloseTo(all[row]!, 9));
          }
        });
        sums.forEach((count, row) => expect(demand[row]).toBeCloseTo(count, 9));
        expect(faultsOf(model, rows)).toEqual([]);
      }),
      law(91, 80)
    );
  });

  it("is the odd ends one by one, and the length of all else in one unit for each height", () => {
    fc.assert(
      fc.property(someRuns, (drafts) => {
        const runs = smallRuns(drafts);
        fc.pre(runs.every((run) => coversOf(run, 20).length > 0));
        const model = runsOf(12, 20, runs);
        const rows = rowsOf(model);
        // name of each row, and its unit, by what the first rip of it counts
        const known = new Map<number, string>();
        const units = new Map<string, number>();
        runs.forEach((run, k) => {
          for (const arc of runArcs(model, model.runs[k]!)) {
            const rip = { run: k, ...arc };
            const { length } = rows.counted(rip);
            expect(length).toBe(run.joints[arc.to]! - run.joints[arc.from]!);
            const counts = countsOf(rows, rip);
            const expected = ripRowsOf(runs, run, arc);
            expect(counts.filter((count) => count > 0)).toHaveLength(expected.size);
            // ends count whole, the length is what is left: told apart by sums over one row at a time
            for (const [key, by] of expected) {
              const unit = units.get(key);
              const row = [...known].find(([, name]) => name === key)?.[0];
              if (row === undefined || unit === undefined) continue;
              expect(counts[row]! * unit).toBeCloseTo(by, 9);
            }
            if (expected.size !== 1) continue;
            const [[key, by]] = [...expected] as [[string, number]];
            const row = counts.findIndex((count) => count > 0);
            expect(known.get(row) ?? key).toBe(key);
            known.set(row, key);
            units.set(key, by / counts[row]!);
            if (key.startsWith("end")) expect(by).toBe(counts[row]);
          }
        });
        const heights = new Set(runs.map(({ height }) => height));
        const ends = new Set(
          runs.flatMap((run) =>
            [...ripRowsOf(runs, run, { from: 0, to: run.joints.length - 1 }).keys()].filter((key) =>
              key.startsWith("end")
            )
          )
        );
        expect(rows.count).toBe(heights.size + ends.size);
      }),
      law(92, 80)
    );
  });

  it("of a run of one interval is one end, of two intervals two", () => {
    const model = runsOf(12, 20, [
      { height: 3, joints: [0, 9], smallest: 2 },
      { height: 3, joints: [0, 9, 18], smallest: 2 },
      { height: 3, joints: [0, 9, 13], smallest: 2 },
    ]);
    const rows = rowsOf(model);
    const counted = (run: number, from: number, to: number): number[][] => {
      const { rows: own, factors } = rows.counted({ run, from, to });
      return [own, factors];
    };
    // a row of the height, one of ends of 4 and one of ends of 9
    expect(rows.count).toBe(3);
    const [[nine], [four]] = [counted(0, 0, 1)[0]!, counted(2, 1, 2)[0]!] as [[number], [number]];
    expect([four, nine]).toEqual([1, 2]);
    expect(counted(0, 0, 1)).toEqual([[nine], [1]]);
    expect(counted(1, 0, 1)).toEqual([[nine], [1]]);
    expect(counted(1, 1, 2)).toEqual([[nine], [1]]);
    expect(counted(1, 0, 2)).toEqual([[nine], [2]]);
    expect(counted(2, 0, 2)).toEqual([
      [four, nine],
      [1, 1],
    ]);
    expect([...rows.demand(model.runs.map(whole))]).toEqual([0, 1, 4]);
    expect(rows.leaves.map(({ length }) => length).sort((a, b) => a - b)).toEqual([4, 9, 13, 18]);
  });

  it("of a run with ends as between them is its length alone", () => {
    const model = runsOf(12, 20, [
      { height: 3, joints: [0, 4, 8, 12], smallest: 4 },
      // its ends are as long as the space between the marks of the other
      { height: 3, joints: [0, 4, 8], smallest: 4 },
      { height: 5, joints: [0, 4, 8], smallest: 4 },
    ]);
    const rows = rowsOf(model);
    expect(rows.count).toBe(3);
    // four of 12 side by side are more than the longest panel, 20: that is one
    expect(countsOf(rows, { run: 0, from: 0, to: 3 })).toEqual([0.6, 0, 0]);
    expect(countsOf(rows, { run: 0, from: 1, to: 3 })).toEqual([0.4, 0, 0]);
    expect(countsOf(rows, { run: 1, from: 0, to: 2 })).toEqual([0.4, 0, 0]);
    // of another height: the same spaces are odd there
    expect(countsOf(rows, { run: 2, from: 0, to: 2 })).toEqual([0, 0, 2]);
    expect([...rows.demand([{ run: 0, from: 1, to: 3 }])]).toEqual([0.4, 0, 0]);
  });

  it("counts the longest rip as one where a panel does not hold a panel's length of them", () => {
    for (const [height, unit] of [
      [4, 20],
      [6, 20],
      [7, 12],
      [12, 12],
    ] as const) {
      const model = runsOf(12, 20, [{ height, joints: [0, 4, 8, 12], smallest: 4 }]);
      expect(countsOf(rowsOf(model), { run: 0, from: 0, to: 2 })).toEqual([8 / unit]);
    }
  });

  it("of a part of a run is the end it has, and nothing of runs not asked for", () => {
    const model = runsOf(12, 20, [
      { height: 3, joints: [0, 2, 6, 10, 13], smallest: 2 },
      { height: 4, joints: [0, 5, 10], smallest: 2 },
    ]);
    const part = { run: 0, from: 1, to: 4 };
    const rows = new RipRows(model, [part]);
    // 2 at the start, 4 between, 3 at the end: the part has the last two
    expect(rows.count).toBe(3);
    // 8 between its ends, which one rip may be long
    expect([...rows.demand([part])].filter((count) => count > 0)).toEqual([0.4, 1]);
    // a rip outside the part still counts something that is a number
    expect(rows.counted({ run: 0, from: 0, to: 2 })).toMatchObject({
      factors: [0.2, 1],
      length: 6,
    });
    expect(rows.counted({ run: 1, from: 0, to: 1 })).toEqual({ rows: [], factors: [], length: 5 });
    // leaves are only those of rips inside the part
    expect(rows.leaves.map(({ length }) => length).sort((a, b) => a - b)).toEqual([3, 4, 7, 8, 11]);
  });

  it("of rips outside all that is asked for is a number even where nothing else counts length", () => {
    const model = runsOf(12, 20, [{ height: 3, joints: [0, 2, 6, 10, 13], smallest: 2 }]);
    const rows = new RipRows(model, [{ run: 0, from: 0, to: 1 }]);
    expect([...rows.demand([{ run: 0, from: 0, to: 1 }])]).toEqual([0, 1, 0]);
    // 8 of the longest panel, 20
    expect(rows.counted({ run: 0, from: 1, to: 3 }).factors).toEqual([0.4]);
  });

  it("stands for every rip of the tiny problems", () => {
    for (const { small } of solvedProblems()) {
      const model = modelOf(small);
      expect(faultsOf(model, rowsOf(model))).toEqual([]);
    }
  });
});

describe("ends of many lengths", () => {
  /** Runs with so many different ends, each as long as one of `lengths`. */
  const manyEnds = (count: number, between: number, heights = 1): Model =>
    runsOf(
      4000,
      4000,
      Array.from({ length: count }, (_, k) => {
        const joints = [0, 100 + ((k * k) % 17) + 3 * k];
        for (let n = 0; n < between; n++) joints.push(joints[n + 1]! + 96);
        joints.push(joints[between + 1]! + 96);
        return { height: 10 + (k % heights), joints, smallest: 10 };
      })
    );
  const endRows = (model: Model, rows: RipRows): number =>
    rows.count - new Set(model.runs.map(({ height }) => height)).size;

  it("are told apart where they are few, cut as they are", () => {
    const model = manyEnds(120, 1);
    const rows = rowsOf(model);
    const lengths = new Set(model.runs.map(({ joints }) => joints[1]));
    expect(endRows(model, rows)).toBe(lengths.size);
    for (const run of model.runs) {
      const rip = { run: run.index, from: 0, to: 1 };
      expect(rows.counted(rip).length).toBe(run.joints[1]);
    }
    expect(faultsOf(model, rows)).toEqual([]);
  });

  it("count by the shortest near them where they are many, the closest taken together", () => {
    const model = manyEnds(400, 1, 2);
    const rows = rowsOf(model);
    expect(endRows(model, rows)).toBeLessThanOrEqual(256);
    expect(endRows(model, rows)).toBeGreaterThan(100);
    expect(faultsOf(model, rows)).toEqual([]);
    const classes = new Map<number, { least: number; most: number; cut: Set<number> }>();
    for (const { index, joints } of model.runs) {
      const { rows: own, length } = rows.counted({ run: index, from: 0, to: 1 });
      const known = classes.get(own[0]!) ?? { least: Infinity, most: 0, cut: new Set<number>() };
      known.least = Math.min(known.least, joints[1]!);
      known.most = Math.max(known.most, joints[1]!);
      known.cut.add(length);
      classes.set(own[0]!, known);
    }
    let merged = 0;
    for (const { least, most, cut } of classes.values()) {
      expect([...cut]).toEqual([least]);
      if (most > least) merged++;
    }
    expect(merged).toBeGreaterThan(10);
    // of one height no class reaches into another
    for (const height of [10, 11]) {
      const own = model.runs.filter((run) => run.height === height);
      own.sort((a, b) => a.joints[1]! - b.joints[1]!);
      const order = own.map(({ index }) => rows.counted({ run: index, from: 0, to: 1 }).rows[0]!);
      expect(order).toEqual([...order].sort((a, b) => a - b));
    }
  });

  it("have at most so many leaves, in fewer classes", () => {
    const model = manyEnds(240, 12);
    const rows = rowsOf(model);
    expect(
      rows.leaves.filter((leaf) => leaf.rows.some((row) => row > 0)).length
    ).toBeLessThanOrEqual(2000);
    expect(endRows(model, rows)).toBeLessThanOrEqual(128);
    expect(endRows(model, rows)).toBeGreaterThan(20);
    expect(faultsOf(model, rows)).toEqual([]);
  });

  it("count by length alone where there are more heights than classes", () => {
    const model = runsOf(
      4000,
      4000,
      Array.from({ length: 300 }, (_, k) => ({
        height: 10 + k,
        joints: [0, 50 + k, 130 + 2 * k],
        smallest: 10,
      }))
    );
    const rows = rowsOf(model);
    expect(rows.count).toBe(300);
    expect(faultsOf(model, rows)).toEqual([]);
    for (const run of model.runs) {
      expect(rows.counted({ run: run.index, from: 0, to: 2 }).rows).toHaveLength(1);
    }
  });

  it("leave lengths between ends in at most 64 clusters, each cut as its shortest", () => {
    // of one run, its intervals all different: more than 64 lengths between the ends
    const joints = [0];
    for (let k = 0; k < 20; k++) joints.push(joints[k]! + 50 + 3 * k + ((k * k) % 5));
    const model = runsOf(600, 600, [{ height: 9, joints, smallest: 10 }]);
    const rows = rowsOf(model);
    const plain = rows.leaves.filter((leaf) => leaf.rows.join() === "0");
    const lengths = new Set(
      runArcs(model, model.runs[0]!)
        .filter(({ from, to }) => from > 0 && to < 20)
        .map(({ from, to }) => joints[to]! - joints[from]!)
    );
    expect(lengths.size).toBeGreaterThan(64);
    expect(plain.length).toBeLessThanOrEqual(64);
    expect(plain.length).toBeGreaterThan(32);
    expect(faultsOf(model, rows)).toEqual([]);
  });
});
