/**
 * What a master knows at each moment: every pattern can be cut and counts for no more than it brings, prices pay for no more than
 * a panel costs, scraps are gathered to sizes they go into, and what one master hands on to the next is not lost.
 */
import { Shop } from "../../../src/core/cut-plan/fill.js";
import type { KnapsackTree } from "../../../src/core/cut-plan/knapsack.js";
import {
  type Leaf,
  Master,
  type MasterOptions,
  type Prior,
  type Share,
  type Task,
} from "../../../src/core/cut-plan/master.js";
import { type Model, prepare } from "../../../src/core/cut-plan/prepare.js";
import { fillTask } from "../../../src/core/cut-plan/round.js";
import { type Sheet, listBlocks } from "../../../src/core/cut-plan/sheet.js";
import type { Block } from "../../../src/core/cut-plan/blocks.js";
import {
  type SmallProblem,
  modelOf,
  nestBox,
  problemOf,
  ripProblems,
  solvedProblems,
} from "./small-problems.js";

const MANY = 1e6;
const never = (): boolean => false;

/** The parts of a master that are held to laws. */
interface Inside {
  readonly lp: {
    readonly costs: readonly number[];
    readonly columns: {
      readonly starts: readonly number[];
      readonly index: Int32Array;
      readonly value: Float64Array;
    };
    readonly duals: Float64Array;
    readonly columnCount: number;
    readonly rowCount: number;
  };
  readonly shares: ReadonlyMap<number, Omit<Share, "level">>;
  readonly brings: readonly { readonly rows: number[]; readonly factors: number[] }[];
  readonly scraps: readonly { readonly w: number; readonly h: number; readonly count: number }[];
  readonly demand: Float64Array;
  readonly scrapRow: number;
  readonly rowOf: readonly number[];
  readonly unitsOf: readonly number[];
  readonly rare: ReadonlySet<number>;
  readonly proven: Float64Array | null;
  scrapGroupOf(item: { w: number; h: number }): number;
}

const insideOf = (master: Master): Inside => master as unknown as Inside;

function taskOf(model: Model): Task {
  return {
    counts: Int32Array.from(model.types, (type) => type.ids.length),
    stretches: model.runs.map((run) => ({ run: run.index, from: 0, to: run.joints.length - 1 })),
    scrap: model.scrap,
  };
}

const costsOf = (model: Model): number[] => model.stock.map(({ cost }) => cost);

function masterOf(model: Model, change: Partial<MasterOptions> = {}, prior?: Prior): Master {
  return new Master(
    model,
    taskOf(model),
    { costs: costsOf(model), mostGroups: 500, ...change },
    prior
  );
}

const filledSheets = (model: Model): Sheet[] => fillTask(new Shop(model), taskOf(model));

function leavesOf(tree: KnapsackTree | null): number[] {
  if (!tree) return [];
  if (tree.item >= 0) return [tree.item];
  return [...leavesOf(tree.first), ...leavesOf(tree.second)];
}

interface Box {
  readonly w: number;
  readonly h: number;
}

/** Room a pattern takes, by its cuts. */
function roomOf(master: Master, kerf: number, tree: KnapsackTree): Box {
  if (tree.item >= 0) return master.boxOf(tree.item);
  const a = roomOf(master, kerf, tree.first!);
  const b = roomOf(master, kerf, tree.second!);
  return tree.cut === "plumb"
    ? { w: a.w + kerf + b.w, h: Math.max(a.h, b.h) }
    : { w: Math.max(a.w, b.w), h: a.h + kerf + b.h };
}

/** Rows and coefficients of a column. */
function columnOf(master: Master, column: number): Map<number, number> {
  const { starts, index, value } = insideOf(master).lp.columns;
  const found = new Map<number, number>();
  for (let k = starts[column]!; k < starts[column + 1]!; k++) found.set(index[k]!, value[k]!);
  return found;
}

/** What is wrong with the patterns a master knows; rips of a plan at hand may be longer than their leaf. */
function patternFaults(model: Model, master: Master, boxes: boolean): string[] {
  const faults: string[] = [];
  const { shares, brings, scrapRow, lp } = insideOf(master);
  for (const [column, { stock, scrap, tree }] of shares) {
    const has = new Map<number, number>();
    let holdsRip = false;
    for (const leaf of leavesOf(tree)) {
      if (master.leaves[leaf]!.kind === "rip") holdsRip = true;
      brings[leaf]!.rows.forEach((row, k) => {
        has.set(row, (has.get(row) ?? 0) + brings[leaf]!.factors[k]!);
      });
    }
    for (const [row, counts] of columnOf(master, column)) {
      if (row >= scrapRow) {
        if (stock >= 0 || counts !== 1) faults.push(`${column} uses scrap`);
        const group = insideOf(master).scraps[row - scrapRow]!;
        if (group.w !== scrap!.w || group.h !== scrap!.h) faults.push(`${column}: another scrap`);
        continue;
      }
      const brought = has.get(row) ?? 0;
      if (counts > brought + 1e-9 && !(holdsRip && !boxes)) {
        faults.push(`${column} counts ${counts} of ${row}, brings ${brought}`);
      }
      if (column >= lp.rowCount && !holdsRip && Math.abs(counts - brought) > 1e-9) {
        faults.push(`${column} counts ${counts} of ${row} of the ${brought} it brings`);
      }
    }
    if (column >= lp.rowCount) {
      if (stock < 0 && lp.costs[column] !== 0) faults.push(`${column} pays for scrap`);
      if (stock >= 0 && lp.costs[column] !== model.stock[stock]!.cost) {
        faults.push(`${column} costs ${lp.costs[column]}`);
      }
    }
    if (!boxes) continue;
    const { w, h } = roomOf(master, model.kerf, tree);
    const room = scrap ?? { w: model.width, h: model.stock[stock]!.length };
    if (w > room.w || h > room.h) faults.push(`${column}: ${w} x ${h} of ${room.w} x ${room.h}`);
  }
  return faults.slice(0, 3);
}

const isExact = (small: SmallProblem): boolean =>
  !small.pieces!.some(([, left, right]) => left !== (right ?? left));

const PROBLEMS = [...solvedProblems().slice(0, 50), ...ripProblems().slice(0, 30)];

describe("patterns a master knows", () => {
  it("can be cut from what they are said to be cut from, and count for what they bring", () => {
    let held = 0;
    for (const { small } of PROBLEMS) {
      const model = modelOf(small);
      const master = masterOf(model);
      expect(patternFaults(model, master, true)).toEqual([]);
      master.share(1e7);
      expect(patternFaults(model, master, true)).toEqual([]);
      master.run(1e8, MANY, never);
      expect(patternFaults(model, master, isExact(small))).toEqual([]);
      held += insideOf(master).shares.size;
      const levels = master.solution().map(({ level }) => level);
      expect(levels).toEqual([...levels].sort((a, b) => b - a));
    }
    expect(held).toBeGreaterThan(5 * PROBLEMS.length);
  });

  it("of a plan at hand hold the very blocks of its sheets, and are known once", () => {
    for (const { small } of PROBLEMS) {
      const model = modelOf(small);
      const sheets = filledSheets(model);
      const master = masterOf(model);
      const before = new Set(insideOf(master).shares.keys());
      for (const sheet of sheets) {
        const count = insideOf(master).lp.columnCount;
        master.addSheets([sheet]);
        // a sheet like one before it, or full of one thing, is known already
        if (insideOf(master).lp.columnCount === count) continue;
        const column = count;
        expect(before.has(column)).toBe(false);
        const share = insideOf(master).shares.get(column)!;
        const blocks: Block[] = [];
        listBlocks(sheet.root, blocks);
        const types = blocks.flatMap(({ type, pair, run }) =>
          run >= 0 ? [] : pair ? [type, pair.upper] : [type]
        );
        expect(master.typesOf(share.tree).sort()).toEqual(types.sort());
        const rips = leavesOf(share.tree)
          .map((leaf) => master.leaves[leaf]!)
          .filter((leaf) => leaf.kind === "rip");
        const cut = blocks.filter(({ run }) => run >= 0);
        expect(rips).toHaveLength(cut.length);
        const sizes = (list: (readonly [number, number])[]): (readonly [number, number])[] =>
          list.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
        const leafSizes = sizes(rips.map((rip) => [rip.height, rip.length]));
        sizes(
          cut.map(({ run, from, to }) => {
            const { height, joints } = model.runs[run]!;
            return [height, joints[to]! - joints[from]!];
          })
        ).forEach(([height, length], k) => {
          expect(leafSizes[k]![0]).toBe(height);
          expect(leafSizes[k]![1]).toBeLessThanOrEqual(length);
        });
        // pieces and rips it counts: as many pieces as it holds
        let counted = 0;
        for (const [row, by] of columnOf(master, column)) {
          if (row < model.types.length) counted += by;
        }
        expect(counted).toBe(types.length);
        if (sheet.scrap >= 0) {
          expect(share.stock).toBe(-1);
          expect(insideOf(master).lp.costs[column]).toBe(0);
          const { w, h } = model.scrap[sheet.scrap]!;
          expect([share.scrap!.w, share.scrap!.h]).toEqual([w, h]);
        } else {
          expect(share.scrap).toBe(null);
          expect(model.stock[share.stock]!.length).toBeGreaterThanOrEqual(sheet.reach);
          expect(insideOf(master).lp.costs[column]).toBe(model.stock[share.stock]!.cost);
        }
      }
      const { columnCount } = insideOf(master).lp;
      master.addSheets(sheets);
      expect(insideOf(master).lp.columnCount).toBe(columnCount);
    }
  });

  it("nest all rake pieces that may be and fit a panel or a scrap, and no others", () => {
    const rakes: SmallProblem[] = [
      {
        width: 12,
        kerf: 1,
        stock: [[20, 20]],
        pieces: [
          [6, 2, 8],
          [6, 2, 8],
          [7, 9, 3],
          [5, 1, 12],
          [12, 10, 11],
          [4, 8, 2],
          [4, 8, 2],
          [3, 12, 14],
        ],
      },
      {
        width: 12,
        stock: [[15, 15]],
        pieces: [
          [6, 2, 8],
          [7, 3, 12],
          [7, 3, 12],
          [9, 10, 4],
        ],
        // a pair too high for a panel goes into this
        scrap: [[8, 16]],
      },
    ];
    let nested = 0;
    for (const small of [...rakes, ...solvedProblems().map((one) => one.small)]) {
      const model = modelOf(small);
      const master = masterOf(model);
      const room = Math.max(model.longest, ...model.scrap.map(({ h }) => h));
      const wanted: string[] = [];
      model.types.forEach((one, k) => {
        model.types.forEach((other, n) => {
          if (n < k || !one.rake || !other.rake || (n === k && one.ids.length < 2)) return;
          const box = nestBox(one, other, model.kerf);
          if (box && box.h <= room) wanted.push(`${k} ${n}`);
        });
      });
      const found = master.leaves
        .filter((leaf) => leaf.kind === "pair")
        .map(({ shape, other }) => {
          const types = [master.shapes[shape]!.members[0]!, master.shapes[other]!.members[0]!];
          return types.sort((a, b) => a - b).join(" ");
        });
      expect(found.sort()).toEqual(wanted.sort());
      nested += wanted.length;
    }
    expect(nested).toBeGreaterThan(12);
  });

  it("take every piece at its size, but a rake piece lower by a 64th or by 1/16 in at most", () => {
    const large: SmallProblem[] = [
      // in units of 1/16 in: panels of 48 x 96
      {
        width: 768,
        stock: [[1536, 20]],
        pieces: [
          [768, 1536],
          [500, 300, 700],
          [500, 31, 99],
          [768, 5, 80],
        ],
      },
      {
        width: 768,
        kerf: 2,
        stock: [[1536, 20]],
        pieces: [
          [400, 700],
          [300, 500],
          [333, 222, 447],
        ],
      },
    ];
    for (const [small, scale] of [
      ...PROBLEMS.map((one) => [one.small, 1] as const),
      ...large.map((one) => [one, 64] as const),
      ...large.map((one) => [one, 1] as const),
    ]) {
      const model = prepare(problemOf(small, scale));
      const master = masterOf(model);
      master.leaves.forEach((leaf, k) => {
        if (leaf.kind !== "piece") return;
        const { w, left, right, rake } = master.shapes[leaf.shape]!;
        const box = master.boxOf(k);
        const h = Math.max(left, right);
        if (!rake) {
          expect([
            [w, h],
            [h, w],
          ]).toContainEqual([box.w, box.h]);
          return;
        }
        expect(box.w).toBe(w);
        expect(box.h).toBeLessThanOrEqual(h);
        expect(h - box.h).toBeLessThan(Math.max(64, (h + model.kerf) / 64));
      });
      const turned = master.leaves.filter((leaf) => leaf.kind === "piece").length;
      const may = master.shapes.filter((one) => model.canTurn && !one.rake && one.w !== one.left);
      expect(turned).toBe(master.shapes.length + may.length);
    }
  });

  it("are left to filling from 120 pieces on", () => {
    // 7 x 17 and 8 x 15 specks, which fill their panels
    for (const [width, length, most] of [
      [7, 17, 119],
      [8, 15, 0],
    ] as const) {
      const pieces = Array.from({ length: 240 }, () => [1, 1]);
      const model = modelOf({ width, stock: [[length, 20]], pieces });
      const master = masterOf(model);
      master.share(0);
      expect(master.value).toBeCloseTo((240 / (width * length)) * 20, 9);
      const held = master.solution().map(({ tree }) => leavesOf(tree).length);
      expect(held).toEqual(most ? [most] : []);
    }
  });

  it("offer as blocks each piece still to be cut, pairs of one piece while there are two", () => {
    const model = modelOf({
      width: 12,
      kerf: 1,
      stock: [[20, 20]],
      pieces: [
        [12, 3, 9],
        [12, 3, 9],
        [5, 4],
      ],
    });
    const master = masterOf(model);
    const shop = new Shop(model);
    const rake = model.types.findIndex((type) => type.rake);
    const counts = (ofRake: number, others: number): number[] =>
      model.types.map((_, type) => (type === rake ? ofRake : others));
    const leaf = (kind: Leaf["kind"], type: number): Leaf =>
      master.leaves.find(
        (one) =>
          one.kind === kind && one.kind !== "rip" && master.shapes[one.shape]!.members[0] === type
      )!;
    const pair = leaf("pair", rake);
    expect(master.blocksOf(pair, counts(2, 0), shop)).toHaveLength(1);
    expect(master.blocksOf(pair, counts(1, 1), shop)).toEqual([]);
    const single = master.blocksOf(leaf("piece", rake), counts(1, 0), shop);
    expect(single.map(({ type }) => type)).toContain(rake);
    expect(single).toEqual(shop.blocks[rake]);
    expect(master.blocksOf(leaf("piece", rake), counts(0, 1), shop)).toEqual([]);
    expect(
      master.typesOf({ item: master.leaves.indexOf(pair), cut: "none", first: null, second: null })
    ).toEqual([rake, rake]);
    expect(master.typesOf(null)).toEqual([]);
  });
});

describe("prices", () => {
  it("are at first, for each piece, those of the cheapest panel it goes into alone", () => {
    for (const { small } of PROBLEMS) {
      if (small.canTurn || !isExact(small)) continue;
      const model = modelOf(small);
      const prices = masterOf(model).worths();
      for (const type of model.types) {
        const fitting = model.stock.filter(({ length }) => type.left <= length);
        expect(prices.piece(type.index)).toBe(Math.min(...fitting.map(({ cost }) => cost)));
      }
    }
  });

  it("pay for no panel full of one piece, nor any other pattern known, more than it costs", () => {
    for (const { small } of PROBLEMS) {
      const model = modelOf(small);
      const master = masterOf(model);
      master.addSheets(filledSheets(model));
      master.share(0);
      const prices = master.worths();
      for (const type of model.types) {
        if (type.rake) continue;
        for (const { length, cost } of model.stock) {
          for (const [w, h] of model.canTurn
            ? [
                [type.w, type.left],
                [type.left, type.w],
              ]
            : [[type.w, type.left]]) {
            const across = Math.floor((model.width + model.kerf) / (w! + model.kerf));
            const up = Math.floor((length + model.kerf) / (h! + model.kerf));
            expect(across * up * prices.piece(type.index)).toBeLessThan(cost + 1e-6);
          }
        }
      }
      const { lp, shares } = insideOf(master);
      for (const column of shares.keys()) {
        let paid = 0;
        for (const [row, by] of columnOf(master, column)) paid += by * lp.duals[row]!;
        expect(paid).toBeLessThan(lp.costs[column]! + 1e-6);
      }
    }
  });

  it("of the best bound pay for all pieces and rips what is proven, and for no pattern more than it costs", () => {
    for (const { small } of PROBLEMS) {
      const model = modelOf(small);
      const master = masterOf(model);
      master.addSheets(filledSheets(model));
      master.run(1e8, MANY, never);
      const { proven, demand, shares, lp, scrapRow } = insideOf(master);
      if (!master.priced) continue;
      const dearest = Math.max(...costsOf(model));
      let paid = 0;
      demand.forEach((wanted, row) => (paid += wanted * proven![row]! * dearest));
      if (model.scrap.length === 0) expect(paid).toBeCloseTo(master.bound, 6);
      else expect(paid).toBeGreaterThan(master.bound - 1e-6);
      let most = 0;
      for (const [column, { stock }] of shares) {
        if (stock < 0) continue;
        let share = 0;
        for (const [row, by] of columnOf(master, column)) {
          if (row < scrapRow) share += (by * proven![row]! * dearest) / lp.costs[column]!;
        }
        most = Math.max(most, share);
      }
      expect(most).toBeLessThan(1 + 1e-6);
      // where the proof is exact, the patterns known are those that pay
      if (isExact(small) && master.bound > 0) expect(most).toBeGreaterThan(1 - 1e-5);
    }
  });

  it("are one price per area for pieces of one group", () => {
    let shared = 0;
    for (const { small } of PROBLEMS) {
      const model = modelOf(small);
      const master = masterOf(model, { mostGroups: 1 });
      master.share(0);
      const prices = master.worths();
      const { rowOf } = insideOf(master);
      const each = master.shapes.map((shape, k) => ({
        row: rowOf[k]!,
        perArea: prices.piece(shape.members[0]!) / shape.area,
      }));
      for (const one of each) {
        for (const other of each) {
          if (one.row !== other.row || one === other) continue;
          expect(one.perArea).toBeCloseTo(other.perArea, 9);
          shared++;
        }
      }
    }
    expect(shared).toBeGreaterThan(50);
  });
});

describe("scraps", () => {
  const groupsOf = (scrap: readonly (readonly [number, number])[]): Inside =>
    insideOf(masterOf(modelOf({ width: 3000, stock: [[3000, 20]], pieces: [[3, 3]], scrap })));

  it("of up to 150 sizes are all told apart, equal ones counted together", () => {
    const scrap = Array.from({ length: 300 }, (_, k): [number, number] => [
      4 + (k % 150),
      9 + ((k * k) % 150),
    ]);
    const sizes = new Map<string, number>();
    for (const [w, h] of scrap) sizes.set(`${w}/${h}`, (sizes.get(`${w}/${h}`) ?? 0) + 1);
    const { scraps } = groupsOf(scrap);
    expect(sizes.size).toBe(150);
    expect(new Map(scraps.map(({ w, h, count }) => [`${w}/${h}`, count]))).toEqual(sizes);
  });

  it("of more sizes are merged where least is gained, to a size both go into", () => {
    // far apart but for two pairs: 40 x 1000 and 41 x 1000, 3 of 500 x 500 and one of 502 x 500
    const far = Array.from({ length: 147 }, (_, k): [number, number] => [
      100 + 17 * k,
      2900 - 15 * k,
    ]);
    const scrap: [number, number][] = [
      ...far,
      [41, 1000],
      [40, 1000],
      [500, 500],
      [500, 500],
      [500, 500],
      [502, 500],
    ];
    const { scraps } = groupsOf(scrap);
    expect(scraps).toHaveLength(150);
    // 1,000 more by 41 for 40; three times 2 x 500 by 502 for 500
    expect(scraps).toContainEqual({ w: 41, h: 1000, count: 2 });
    expect(scraps).toContainEqual({ w: 500, h: 500, count: 3 });
    const fewer = groupsOf([...scrap, [44, 1000]]).scraps;
    expect(fewer).toHaveLength(150);
    expect(fewer).toContainEqual({ w: 41, h: 1000, count: 2 });
    // 3 x 1,000 twice by 44 for 41; 3 x 1,000 by 502
    expect(fewer).toContainEqual({ w: 502, h: 500, count: 4 });
    expect(fewer).toContainEqual({ w: 44, h: 1000, count: 1 });
    for (const [w, h] of far) expect(scraps).toContainEqual({ w, h, count: 1 });
  });

  it("of very many sizes lose none, and each goes into the smallest size it fits", () => {
    const scrap = Array.from({ length: 1300 }, (_, k): [number, number] => [
      64 + (k % 36),
      64 + Math.floor(k / 36),
    ]);
    scrap.push([700, 900], [701, 900]);
    const inside = groupsOf(scrap);
    const { scraps } = inside;
    expect(scraps.length).toBeLessThanOrEqual(150);
    expect(scraps.reduce((sum, { count }) => sum + count, 0)).toBe(1302);
    for (const [w, h] of scrap) {
      const fitting = scraps.filter((group) => group.w >= w && group.h >= h);
      const group = scraps[inside.scrapGroupOf({ w, h })]!;
      expect(group.w * group.h).toBe(Math.min(...fitting.map((one) => one.w * one.h)));
      expect(fitting).toContain(group);
      // rounded up to whole sixteenths of an inch: no further than that
      expect(group.w - w).toBeLessThan(64);
      expect(group.h - h).toBeLessThan(64);
    }
    expect(inside.scrapGroupOf({ w: 800, h: 800 })).toBe(-1);
  });
});

describe("the work of a master", () => {
  const small: SmallProblem = {
    width: 12,
    kerf: 1,
    stock: [
      [20, 20],
      [14, 15],
    ],
    pieces: [
      [5, 9],
      [3, 4],
      [7, 3],
      [2, 11],
      [4, 6],
      [6, 8],
      [5, 5],
    ],
  };

  it("ends no later than two rounds and two proofs after the steps given", () => {
    const model = modelOf(small);
    const whole = masterOf(model);
    whole.run(1e9, MANY, never);
    const once = masterOf(model);
    const first = once.work;
    once.prove(MANY);
    const proof = once.work - first;
    const shared = masterOf(model);
    shared.share(0);
    // one round of the fast search, and the solutions before and after it
    const searched = masterOf(model);
    searched.share(shared.work);
    const round = searched.work - first;
    expect(round).toBeGreaterThan(shared.work - first);
    for (let budget = 0; budget < whole.work; budget += Math.ceil(whole.work / 25)) {
      const master = masterOf(model);
      master.run(budget, MANY, never);
      expect(master.work).toBeLessThan(Math.max(budget, first) + 2 * round + 2 * proof);
      expect(master.bound).toBeGreaterThan(0);
      expect(master.bound).toBeLessThanOrEqual(whole.bound * (1 + 1e-9));
      if (budget < first) expect(master.work).toBeLessThan(whole.work / 2);
    }
  });

  it("is done once: another run finds no pattern and proves no more", () => {
    for (const { small: one } of PROBLEMS.slice(0, 30)) {
      const master = masterOf(modelOf(one));
      master.run(1e9, MANY, never);
      const { bound, value } = master;
      const { columnCount } = insideOf(master).lp;
      master.run(1e9, MANY, never);
      expect(insideOf(master).lp.columnCount).toBe(columnCount);
      expect(master.bound).toBeCloseTo(bound, 9);
      expect(master.value).toBeCloseTo(value, 9);
      // the proof closes: nothing lies between prices and shares
      if (isExact(one)) expect(value - bound).toBeLessThan(1e-5 * Math.max(1, value));
    }
  });

  it("of sharing ends when it is done or no pattern is missing, and finds the shares of the exact search here", () => {
    const model = modelOf(small);
    const none = masterOf(model);
    none.share(0);
    const some = masterOf(model);
    some.share(1e9);
    const whole = masterOf(model);
    whole.run(1e9, MANY, never);
    expect(some.value).toBeLessThan(none.value - 1e-6);
    expect(some.value).toBeGreaterThan(whole.value - 1e-9);
    expect(some.value).toBeLessThan(whole.value * 1.02);
    expect(none.work).toBeLessThan(some.work);
    expect(some.bound).toBe(0);
    // of rests: a round for each asked for but the last, which only shares
    const counts = taskOf(model).counts.map((count) => 3 * count);
    const works = [1, 2, 3, 9].map((rounds) => {
      const master = masterOf(model);
      master.share(0);
      const before = master.work;
      master.shareRest({ counts, stretches: [], scrap: [] }, rounds);
      expect(master.bound).toBe(0);
      return { work: master.work - before, value: master.value };
    });
    expect(works[0]!.work).toBeLessThan(works[1]!.work);
    expect(works[1]!.work).toBeLessThan(works[2]!.work);
    expect(works[0]!.value).toBeCloseTo(3 * none.value, 6);
    expect(works[3]!.value).toBeLessThan(works[0]!.value - 1e-6);
    expect(works[3]!.value).toBeGreaterThan(3 * whole.value - 1e-6);
  });
});

describe("a master handed the prices and patterns of another", () => {
  it("starts at its value, bound and prices, and stays within the share allowed", () => {
    let held = 0;
    for (const { small } of PROBLEMS.filter((_, k) => k % 3 === 0)) {
      const model = modelOf(small);
      const first = masterOf(model);
      first.addSheets(filledSheets(model));
      first.run(1e8, MANY, never);
      if (!first.priced || first.bound === 0) continue;
      const dearest = Math.max(...costsOf(model));
      for (const within of [0, 0.1]) {
        const master = masterOf(model, {}, { master: first, within });
        expect(master.bound).toBe(first.bound);
        expect(master.priced).toBe(true);
        master.share(0);
        // a thousandth of the dearest panel for each thing left out may be saved at most
        expect(master.value).toBeLessThan(first.value * (1 + 1e-6) + 1e-6);
        expect(patternFaults(model, master, false)).toEqual([]);
        const { proven, demand, lp } = insideOf(master);
        proven!.forEach((price, row) =>
          expect(price).toBeCloseTo(insideOf(first).proven![row]!, 9)
        );
        master.run(1e8, MANY, never);
        expect(master.bound).toBeGreaterThanOrEqual(first.bound);
        expect(master.bound).toBeLessThanOrEqual(first.value * (1 + 1e-9) + 1e-6);
        const was = insideOf(first).proven!;
        for (let row = 0; row < demand.length; row++) {
          const price = lp.duals[row]! / dearest;
          expect(price).toBeLessThan((1 + within) * was[row]! + 1e-3 + 1e-9);
          expect(price).toBeGreaterThan((1 - within) * was[row]! - 1e-9);
        }
        held++;
      }
    }
    expect(held).toBeGreaterThan(25);
  });

  it("asks as much for all pieces of a group as they were worth one by one", () => {
    let held = 0;
    for (const { small } of PROBLEMS) {
      const model = modelOf(small);
      const first = masterOf(model);
      first.run(1e8, MANY, never);
      if (!first.priced || first.bound === 0) continue;
      const master = masterOf(model, { mostGroups: 2 }, { master: first, within: 0.1 });
      const paid = (one: Master): number => {
        const { proven, demand } = insideOf(one);
        return demand.reduce((sum, wanted, row) => sum + wanted * proven![row]!, 0);
      };
      expect(paid(master)).toBeCloseTo(paid(first), 9);
      if (insideOf(master).demand.length < insideOf(first).demand.length) held++;
    }
    expect(held).toBeGreaterThan(10);
  });
});
