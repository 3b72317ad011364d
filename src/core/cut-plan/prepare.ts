/**
 * Checks what the cut planner is asked and turns it into whole numbers.
 *
 * All lengths become whole units of 1/1024 in, nearest: far below what a saw can hold, and whole
 * numbers add up the same on every machine. Equal pieces are merged into one type.
 */
import { checkNumber, outOfRange, shown, wrongKind } from "../check.js";
import type { CutPiece, CutProblem, CutScrap, CutStock, RipRun } from "./problem.js";

/** Units to the inch; a tape shows 1/16, a cabinet saw holds about 1/64. */
export const UNITS_PER_IN = 1024;

/** No dimension may exceed this (2,000 ft): a longer one is a slip of units. in. */
const LARGEST_IN = 24_000;

/** One way a piece may lie on a panel: its bounding box, and how far it is turned. */
export interface Way {
  readonly w: number;
  readonly h: number;
  readonly turned: 0 | 90 | 180;
}

/** What a piece must fit: a panel of the longest length or one of the scraps. */
export interface Room {
  readonly width: number;
  readonly longest: number;
  readonly canTurn: boolean;
  readonly scrap: readonly { readonly w: number; readonly h: number }[];
}

/** Pieces of one shape and size. Lengths in units. */
export interface PieceType {
  readonly index: number;
  readonly w: number;
  readonly left: number;
  readonly right: number;
  readonly rake: boolean;
  /** ids of the pieces, in the order given */
  readonly ids: readonly string[];
  /** ways it fits a panel or some scrap; at least one fits a panel */
  readonly ways: readonly Way[];
  readonly area: number;
}

export interface StockItem {
  readonly index: number;
  readonly length: number;
  readonly cost: number;
}

export interface ScrapItem {
  readonly index: number;
  readonly id: string;
  readonly w: number;
  readonly h: number;
}

export interface RunItem {
  readonly index: number;
  readonly id: string;
  readonly height: number;
  /** where the run starts, as given */
  readonly start: number;
  /** joint positions from the start of the run, ascending; the first is 0 */
  readonly joints: readonly number[];
  /** how close, in units, each joint comes to a seam to be kept clear of; Infinity where none */
  readonly seamGap: readonly number[];
  readonly smallest: number;
}

export interface Model {
  readonly width: number;
  readonly kerf: number;
  readonly canTurn: boolean;
  /** in the order of the stock list */
  readonly stock: readonly StockItem[];
  readonly longest: number;
  readonly types: readonly PieceType[];
  readonly runs: readonly RunItem[];
  readonly scrap: readonly ScrapItem[];
  readonly keep: number;
}

/** Smallest side of a leftover worth keeping where none is given, in; common practice, no source. */
const KEEP_IN = 12;

export function toUnits(lengthIn: number): number {
  return Math.round(lengthIn * UNITS_PER_IN);
}

export function toInches(units: number): number {
  return units === 0 ? 0 : units / UNITS_PER_IN;
}

function list<T>(name: string, value: readonly T[]): readonly T[] {
  if (!Array.isArray(value)) throw wrongKind(`${name} must be a list; got ${shown(value)}`);
  return value;
}

function nameOf(what: string, id: unknown, seen: Set<string>): string {
  if (typeof id !== "string" || id === "") {
    throw wrongKind(`${what} id must be text; got ${shown(id)}`);
  }
  if (seen.has(id)) throw outOfRange(`${what} id must be used once; got ${shown(id)} twice`);
  seen.add(id);
  return id;
}

function size(name: string, value: unknown): number {
  const units = toUnits(checkNumber(name, value, { above: 0, max: LARGEST_IN, unit: "in" }));
  // A size that rounds to nothing is below what any saw can cut.
  if (units === 0) {
    throw outOfRange(`${name} must be at least 1/1024 in; got ${shown(value)}`);
  }
  return units;
}

/** Checks the whole problem and returns it in units. Throws CalcError on the first fault. */
export function prepare(problem: CutProblem): Model {
  if (typeof problem !== "object" || problem === null) {
    throw wrongKind(`problem must be a record; got ${shown(problem)}`);
  }
  const width = size("panel width", problem.panelWidthIn);
  const kerfIn = checkNumber("kerf", problem.kerfIn, {
    min: 0,
    below: problem.panelWidthIn,
    unit: "in",
  });
  const kerf = toUnits(kerfIn);
  if (typeof problem.canTurn !== "boolean") {
    throw wrongKind(`can turn must be TRUE or FALSE; got ${shown(problem.canTurn)}`);
  }
  const keep =
    problem.keepIn === undefined
      ? toUnits(KEEP_IN)
      : toUnits(
          checkNumber("smallest leftover kept", problem.keepIn, {
            min: 0,
            max: LARGEST_IN,
            unit: "in",
          })
        );
  const stock = readStock(list("stock", problem.stock));
  const longest = Math.max(...stock.map((item) => item.length));
  const seenScrap = new Set<string>();
  const scrap = list("scrap", problem.scrap).map((item: CutScrap, index) => {
    const id = nameOf("scrap", item?.id, seenScrap);
    return {
      index,
      id,
      w: size(`width of scrap ${id}`, item.widthIn),
      h: size(`height of scrap ${id}`, item.heightIn),
    };
  });
  const room: Room = { width, longest, canTurn: problem.canTurn, scrap };
  const types = readPieces(list("pieces", problem.pieces), room);
  const seenRuns = new Set<string>();
  const runs = list("rips", problem.rips).map((run, index) => readRun(run, index, seenRuns, room));
  return {
    width,
    kerf,
    canTurn: problem.canTurn,
    stock,
    longest,
    types,
    runs,
    scrap,
    keep,
  };
}

function readStock(stock: readonly CutStock[]): StockItem[] {
  if (stock.length === 0) throw outOfRange("stock must name at least one panel length; got none");
  const lengths = new Set<number>();
  return stock.map((item, index) => {
    const length = size("panel length", item?.lengthIn);
    if (lengths.has(length)) {
      throw outOfRange(`panel length must be listed once; got ${shown(item.lengthIn)} twice`);
    }
    lengths.add(length);
    const cost = checkNumber(`cost of the ${item.lengthIn} in panel`, item.cost, {
      above: 0,
      max: 1e9,
    });
    return { index, length, cost };
  });
}

/** True where a way fits a panel of the longest length. */
export function fitsPanel(way: { readonly w: number; readonly h: number }, room: Room): boolean {
  return way.w <= room.width && way.h <= room.longest;
}

function fitsRoom(way: Way, room: Room): boolean {
  return fitsPanel(way, room) || room.scrap.some((item) => way.w <= item.w && way.h <= item.h);
}

function readPieces(pieces: readonly CutPiece[], room: Room): PieceType[] {
  const seen = new Set<string>();
  const byKey = new Map<string, { type: Omit<PieceType, "ids">; ids: string[] }>();
  for (const piece of pieces) {
    const id = nameOf("piece", piece?.id, seen);
    const w = size(`width of piece ${id}`, piece.widthIn);
    const leftIn = checkNumber(`left side of piece ${id}`, piece.leftIn, {
      min: 0,
      max: LARGEST_IN,
      unit: "in",
    });
    const rightIn = checkNumber(`right side of piece ${id}`, piece.rightIn, {
      min: 0,
      max: LARGEST_IN,
      unit: "in",
    });
    const left = toUnits(leftIn);
    const right = toUnits(rightIn);
    if (left === 0 && right === 0) {
      throw outOfRange(
        `one side of piece ${id} must be more than 0 in; got ${shown(leftIn)} and ${shown(rightIn)}`
      );
    }
    const key = `${w}/${left}/${right}`;
    const known = byKey.get(key);
    if (known) {
      known.ids.push(id);
      continue;
    }
    const h = Math.max(left, right);
    const rake = left !== right;
    const all: Way[] = [{ w, h, turned: 0 }];
    if (!rake && room.canTurn && w !== h) all.push({ w: h, h: w, turned: 90 });
    if (!all.some((way) => fitsPanel(way, room))) {
      throw outOfRange(
        `piece ${id} must fit a panel of ${toInches(room.width)} x ${toInches(room.longest)} in, ` +
          `the longest in stock; got ${toInches(w)} x ${toInches(h)} in`
      );
    }
    const ways = all.filter((way) => fitsRoom(way, room));
    byKey.set(key, {
      type: {
        index: byKey.size,
        w,
        left,
        right,
        rake,
        ways,
        area: (w * (left + right)) / 2,
      },
      ids: [id],
    });
  }
  return [...byKey.values()].map(({ type, ids }) => ({ ...type, ids }));
}

/**
 * Ways a rip of this height and length may lie: its length along the panel's length, as the wood
 * face is strongest; across the panel only where pieces may be turned.
 */
export function ripWays(height: number, length: number, room: Room): Way[] {
  const all: Way[] = [{ w: height, h: length, turned: 90 }];
  if (room.canTurn && height !== length) all.push({ w: length, h: height, turned: 0 });
  return all.filter((way) => fitsRoom(way, room));
}

function readRun(run: RipRun, index: number, seen: Set<string>, room: Room): RunItem {
  const id = nameOf("rip run", run?.id, seen);
  const height = size(`height of rip run ${id}`, run.heightIn);
  const smallest = toUnits(
    checkNumber(`smallest rip of run ${id}`, run.smallestIn, {
      min: 0,
      max: LARGEST_IN,
      unit: "in",
    })
  );
  const marks = list(`joints of rip run ${id}`, run.jointsIn).map((joint, k) =>
    toUnits(
      checkNumber(`joint ${k + 1} of rip run ${id}`, joint, {
        min: -LARGEST_IN,
        max: LARGEST_IN,
        unit: "in",
      })
    )
  );
  if (marks.length < 2) {
    throw outOfRange(`rip run ${id} must list its start and its end; got ${marks.length} joints`);
  }
  for (let k = 1; k < marks.length; k++) {
    if (marks[k]! <= marks[k - 1]!) {
      throw outOfRange(
        `joints of rip run ${id} must ascend; got ${shown(run.jointsIn[k])} after ${shown(run.jointsIn[k - 1])}`
      );
    }
  }
  const seams = (run.seamsIn === undefined ? [] : list(`seams of rip run ${id}`, run.seamsIn)).map(
    (seam, k) =>
      toUnits(
        checkNumber(`seam ${k + 1} of rip run ${id}`, seam, {
          min: -LARGEST_IN,
          max: LARGEST_IN,
          unit: "in",
        })
      )
  );
  seams.sort((a, b) => a - b);
  const start = marks[0]!;
  const result: RunItem = {
    index,
    id,
    height,
    start,
    joints: marks.map((mark) => mark - start),
    seamGap: marks.map((mark) => nearest(seams, mark)),
    smallest,
  };
  if (!canCover(result, room)) {
    throw outOfRange(
      `rip run ${id} must be coverable by rips of at least ${toInches(smallest)} in between its joints, ` +
        `each fitting a panel of ${toInches(room.width)} x ${toInches(room.longest)} in; ` +
        `got a run ${toInches(height)} in high and ${toInches(result.joints[marks.length - 1]!)} in long`
    );
  }
  return result;
}

/** Distance from a position to the nearest of a sorted list; Infinity for an empty list. */
function nearest(sorted: readonly number[], position: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < position) low = middle + 1;
    else high = middle;
  }
  const after = low < sorted.length ? sorted[low]! - position : Infinity;
  const before = low > 0 ? position - sorted[low - 1]! : Infinity;
  return Math.min(after, before);
}

/** Length of the run, units. */
export function runLength(run: RunItem): number {
  return run.joints[run.joints.length - 1]!;
}

/** Shortest rip the run allows: its smallest, or the run itself where that is shorter. */
export function shortestRip(run: RunItem): number {
  return Math.min(run.smallest, runLength(run));
}

/** Longest rip of this height that a panel allows, however it is laid. */
export function longestRip(height: number, room: Room): number {
  let longest = 0;
  if (height <= room.width) longest = room.longest;
  if (room.canTurn && height <= room.longest) longest = Math.max(longest, room.width);
  // A rip is never longer than the longest panel, however it lies.
  return Math.min(longest, room.longest);
}

function canCover(run: RunItem, room: Room): boolean {
  const longest = longestRip(run.height, room);
  const shortest = shortestRip(run);
  const reach = new Array<boolean>(run.joints.length).fill(false);
  reach[0] = true;
  for (let to = 1; to < run.joints.length; to++) {
    for (let from = to - 1; from >= 0; from--) {
      const length = run.joints[to]! - run.joints[from]!;
      if (length > longest) break;
      if (reach[from] && length >= shortest) {
        reach[to] = true;
        break;
      }
    }
  }
  return reach[run.joints.length - 1]!;
}
