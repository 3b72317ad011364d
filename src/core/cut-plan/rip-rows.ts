/**
 * How a master counts rips: by the length they cover, and the ends of runs one by one.
 *
 * Between their ends runs are alike: joints a stud space apart. A rip there counts by its length
 * alone, whichever run it is for. What differs is the first and the last interval of a run, from
 * its end to the nearest mark. Each such end is a row of its own (equal ends share one), covered by
 * the rip that starts or stops there, and does not count in the length: so patterns cannot hold an
 * odd length more often than there are ends that want it.
 */
import { type Model, type RunItem, longestRip, shortestRip } from "./prepare.js";

/** A rip by the joints it lies between. */
export interface Arc {
  readonly from: number;
  readonly to: number;
}

/** A part of a run, from joint to joint: `run` is its place in the list of runs. */
export interface Stretch extends Arc {
  readonly run: number;
}

/** A rip as a pattern holds it. */
export interface RipLeaf {
  readonly height: number;
  /** as cut: no longer than any rip it stands for */
  readonly length: number;
  /** rows it counts in, each once, and how much */
  readonly rows: readonly number[];
  readonly factors: readonly number[];
  /** a length that few runs have, though it counts by length alone */
  readonly rare: boolean;
}

/** Rip lengths told apart for one height where they count by length alone. */
const MOST_RIP_LENGTHS = 64;

/** Share of the count of the commonest rip length from which another is common too. */
const COMMON = 0.15;

/** Ends of runs told apart, and leaves for them; past that, ends count by the shortest near them. */
const MOST_ENDS = 256;
const MOST_END_LEAVES = 2000;

/** Row of the first and of the last interval of a run where they are odd; -1 where not. */
interface Ends {
  readonly first: number;
  readonly last: number;
  /** how much of those intervals a leaf for them is cut to */
  readonly firstLeast: number;
  readonly lastLeast: number;
}

interface Parts {
  readonly first: number;
  readonly stop: number;
  readonly plain: number;
  readonly length: number;
}

interface Counted {
  readonly rows: number[];
  readonly factors: number[];
  /** length of a leaf for it */
  readonly length: number;
}

export class RipRows {
  readonly leaves: RipLeaf[] = [];
  /** how many rows there are, from 0 */
  readonly count: number;
  private readonly rowOfHeight = new Map<number, number>();
  private readonly ends = new Map<number, Ends>();
  /** for each height the length that counts as one */
  private readonly unitOfHeight = new Map<number, number>();

  constructor(
    private readonly model: Model,
    stretches: readonly Stretch[]
  ) {
    const runs = [...new Set(stretches.map(({ run }) => run))].map((run) => model.runs[run]!);
    for (const { height } of runs) {
      if (!this.rowOfHeight.has(height)) this.rowOfHeight.set(height, this.rowOfHeight.size);
    }
    const arcs = stretches.map((stretch) => stretchArcs(model, stretch));
    const odd = oddIntervals(runs);
    let most = MOST_ENDS;
    for (;;) {
      const classes = endClasses(odd, this.rowOfHeight.size, most);
      this.ends.clear();
      for (const run of runs) this.ends.set(run.index, endsOf(run, classes));
      this.count = this.rowOfHeight.size + classes.length;
      this.measure(stretches, arcs);
      if (this.list(stretches, arcs) || most === 0) break;
      most >>= 1;
    }
  }

  /**
   * Finds the unit of each height: the longest panel, where rips side by side on one have as much
   * length; else the most that one rip counts. A panel holds one at least, so its price is never more
   * than the dearest panel.
   */
  private measure(stretches: readonly Stretch[], arcs: readonly (readonly Arc[])[]): void {
    const { width, kerf, longest } = this.model;
    const most = new Map<number, number>();
    stretches.forEach(({ run }, k) => {
      const { height } = this.model.runs[run]!;
      for (const { from, to } of arcs[k]!) {
        const { plain } = this.parts({ run, from, to });
        most.set(height, Math.max(most.get(height) ?? 0, plain));
      }
    });
    for (const height of this.rowOfHeight.keys()) {
      const one = most.get(height) ?? 0;
      const across = Math.floor((width + kerf) / (height + kerf));
      // Where no rip asked for counts length, those outside the stretches still have a unit.
      this.unitOfHeight.set(height, one === 0 || across * one >= longest ? longest : one);
    }
  }

  /** Lists the leaves; false, and none, where ends need too many. */
  private list(stretches: readonly Stretch[], arcs: readonly (readonly Arc[])[]): boolean {
    this.leaves.length = 0;
    const plain = new Map<string, RipLength>();
    const ended = new Map<string, RipLeaf>();
    for (let k = 0; k < stretches.length; k++) {
      const { run } = stretches[k]!;
      const { height } = this.model.runs[run]!;
      for (const { from, to } of arcs[k]!) {
        const { rows, factors, length } = this.counted({ run, from, to });
        if (rows.length === 1 && rows[0] === this.rowOfHeight.get(height)) {
          const key = `${height}/${length}`;
          const count = (plain.get(key)?.count ?? 0) + 1;
          plain.set(key, { height, length, count });
          continue;
        }
        const key = `${rows.join(",")}/${factors.join(",")}/${length}`;
        if (!ended.has(key)) ended.set(key, { height, length, rows, factors, rare: false });
        if (ended.size > MOST_END_LEAVES) return false;
      }
    }
    for (const [height, row] of this.rowOfHeight) {
      const own = [...plain.values()].filter((one) => one.height === height);
      // A cluster of lengths is cut as its shortest and counts as its longest.
      for (const { least, most, common } of clusters(own, MOST_RIP_LENGTHS)) {
        const factors = [most / this.unitOfHeight.get(height)!];
        this.leaves.push({ height, length: least, rows: [row], factors, rare: !common });
      }
    }
    this.leaves.push(...ended.values());
    return true;
  }

  /** The odd ends of a stretch (rows, -1 where none), the length of all the rest, and that of a leaf. */
  private parts({ run: index, from, to }: Stretch): Parts {
    const { joints } = this.model.runs[index]!;
    const last = joints.length - 1;
    const ends = this.ends.get(index);
    let plain = joints[to]! - joints[from]!;
    let length = plain;
    const first = ends && from === 0 ? ends.first : -1;
    // A run of one interval has one end.
    const stop = ends && to === last && (last > 1 || first < 0) ? ends.last : -1;
    if (first >= 0) {
      plain -= joints[1]!;
      length -= joints[1]! - ends!.firstLeast;
    }
    if (stop >= 0) {
      const interval = joints[last]! - joints[last - 1]!;
      plain -= interval;
      length -= interval - ends!.lastLeast;
    }
    return { first, stop, plain, length };
  }

  /** What a stretch, or a rip as long as one, counts in the rows. */
  counted(stretch: Stretch): Counted {
    const { first, stop, plain, length } = this.parts(stretch);
    // A run of which nothing is asked for counts nothing.
    if (!this.ends.has(stretch.run)) return { rows: [], factors: [], length };
    const found = new Map<number, number>();
    if (first >= 0) found.set(first, 1);
    if (stop >= 0) found.set(stop, (found.get(stop) ?? 0) + 1);
    if (plain > 0) {
      const { height } = this.model.runs[stretch.run]!;
      found.set(this.rowOfHeight.get(height)!, plain / this.unitOfHeight.get(height)!);
    }
    const rows = [...found.keys()].sort((a, b) => a - b);
    return { rows, factors: rows.map((row) => found.get(row)!), length };
  }

  /** How much of each row some parts of runs ask for. */
  demand(stretches: Iterable<Stretch>): Float64Array {
    const demand = new Float64Array(this.count);
    for (const stretch of stretches) {
      const { rows, factors } = this.counted(stretch);
      rows.forEach((row, k) => (demand[row]! += factors[k]!));
    }
    return demand;
  }
}

/** Rips that a stretch may be covered with. */
function stretchArcs(model: Model, { run, from, to }: Stretch): Arc[] {
  return runArcs(model, model.runs[run]!).filter((arc) => arc.from >= from && arc.to <= to);
}

/** Intervals at an end of a run that none of its height has between its ends, by height. */
function oddIntervals(runs: readonly RunItem[]): Map<number, Set<number>> {
  const regular = new Map<number, Set<number>>();
  const interval = (run: RunItem, k: number): number => run.joints[k]! - run.joints[k - 1]!;
  for (const run of runs) {
    if (!regular.has(run.height)) regular.set(run.height, new Set());
    for (let k = 2; k < run.joints.length - 1; k++) {
      regular.get(run.height)!.add(interval(run, k));
    }
  }
  const odd = new Map<number, Set<number>>();
  for (const run of runs) {
    for (const k of [1, run.joints.length - 1]) {
      const length = interval(run, k);
      if (regular.get(run.height)!.has(length)) continue;
      if (!odd.has(run.height)) odd.set(run.height, new Set());
      odd.get(run.height)!.add(length);
    }
  }
  return odd;
}

/** Ends of one height from a least to a greatest length, counted in one row. */
interface EndClass {
  readonly height: number;
  readonly least: number;
  most: number;
  readonly row: number;
}

/** The widest gap between neighbors that is closed to leave so many of them; -1 where none need be. */
function widestClosed(gaps: readonly number[], most: number): number {
  return gaps.length > most ? [...gaps].sort((a, b) => a - b)[gaps.length - most - 1]! : -1;
}

/** Classes of odd ends, at most so many: none where there would not be one for each height. */
function endClasses(
  odd: ReadonlyMap<number, ReadonlySet<number>>,
  firstRow: number,
  most: number
): EndClass[] {
  if (odd.size > most) return [];
  const sorted = [...odd].flatMap(([height, lengths]) =>
    [...lengths].sort((a, b) => a - b).map((length) => ({ height, length }))
  );
  const gaps = sorted.map(({ height, length }, k) =>
    k > 0 && sorted[k - 1]!.height === height ? length - sorted[k - 1]!.length : Infinity
  );
  const close = widestClosed(gaps, most);
  const classes: EndClass[] = [];
  sorted.forEach(({ height, length }, k) => {
    if (gaps[k]! <= close) classes[classes.length - 1]!.most = length;
    else classes.push({ height, least: length, most: length, row: firstRow + classes.length });
  });
  return classes;
}

function endsOf(run: RunItem, classes: readonly EndClass[]): Ends {
  const classOf = (length: number): EndClass | undefined =>
    classes.find((one) => one.height === run.height && one.least <= length && length <= one.most);
  const { joints } = run;
  const last = joints.length - 1;
  const first = classOf(joints[1]!);
  const end = classOf(joints[last]! - joints[last - 1]!);
  return {
    first: first?.row ?? -1,
    last: end?.row ?? -1,
    firstLeast: first?.least ?? 0,
    lastLeast: end?.least ?? 0,
  };
}

/** Rips a run may be covered with: between which joints, where a whole cover can contain them. */
export function runArcs(model: Model, run: RunItem): Arc[] {
  const longest = longestRip(run.height, model);
  const shortest = shortestRip(run);
  const last = run.joints.length - 1;
  const before = new Array<boolean>(last + 1).fill(false);
  const after = new Array<boolean>(last + 1).fill(false);
  before[0] = true;
  after[last] = true;
  const fits = (from: number, to: number): boolean => {
    const length = run.joints[to]! - run.joints[from]!;
    return length >= shortest && length <= longest;
  };
  for (let to = 1; to <= last; to++) {
    for (let from = to - 1; from >= 0 && run.joints[to]! - run.joints[from]! <= longest; from--) {
      if (before[from] && fits(from, to)) {
        before[to] = true;
        break;
      }
    }
  }
  for (let from = last - 1; from >= 0; from--) {
    for (let to = from + 1; to <= last && run.joints[to]! - run.joints[from]! <= longest; to++) {
      if (after[to] && fits(from, to)) {
        after[from] = true;
        break;
      }
    }
  }
  const arcs: Arc[] = [];
  for (let from = 0; from < last; from++) {
    if (!before[from]) continue;
    for (let to = from + 1; to <= last && run.joints[to]! - run.joints[from]! <= longest; to++) {
      if (after[to] && fits(from, to)) arcs.push({ from, to });
    }
  }
  return arcs;
}

/** A length rips of one height may have, and between how many pairs of joints. */
interface RipLength {
  readonly height: number;
  readonly length: number;
  readonly count: number;
}

/**
 * Lengths gathered into at most so many clusters, closing the smallest gaps first. The commonest
 * lengths (whole stud spaces) start a cluster each, so that they are not taken for shorter ones.
 */
function clusters(
  lengths: readonly RipLength[],
  most: number
): { least: number; most: number; common: boolean }[] {
  const sorted = [...lengths].sort((a, b) => a.length - b.length);
  const heads = new Set(
    [...lengths]
      .sort((a, b) => b.count - a.count || a.length - b.length)
      .slice(0, Math.floor(most / 4))
      .map(({ length }) => length)
  );
  const gaps = sorted.map(({ length }, k) =>
    k === 0 || heads.has(length) ? Infinity : length - sorted[k - 1]!.length
  );
  const close = widestClosed(gaps, most);
  const found: { least: number; most: number; common: boolean }[] = [];
  const often = COMMON * Math.max(...lengths.map(({ count }) => count));
  for (const { length, count } of sorted) {
    const last = found[found.length - 1];
    if (last && !heads.has(length) && length - last.most <= close) last.most = length;
    else found.push({ least: length, most: length, common: count >= often });
  }
  return found;
}
