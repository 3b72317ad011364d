/**
 * Simpler ways of ordering panels for a house, to set a cut plan against: counting modules, area
 * with an allowance, and a general-purpose rectangle packer.
 */
import { MaxRectsBin, MaxRectsPacker, PACKING_LOGIC, Rectangle } from "maxrects-packer";
import type { CutProblem, RipRun } from "../../core/cut-plan/problem.js";

/** What an estimator adds to the area for waste; common practice, no source. */
const WASTE = 1.1;

function areaOf(problem: CutProblem): number {
  const pieces = problem.pieces.reduce(
    (sum, { widthIn, leftIn, rightIn }) => sum + (widthIn * (leftIn + rightIn)) / 2,
    0
  );
  return problem.rips.reduce((sum, run) => sum + run.heightIn * lengthOf(run), pieces);
}

function lengthOf({ jointsIn }: RipRun): number {
  return jointsIn[jointsIn.length - 1]! - jointsIn[0]!;
}

/** Cheapest panel at least so long; the dearest where none is. */
function costFor(problem: CutProblem, lengthIn: number): number {
  const reach = problem.stock.filter((item) => item.lengthIn >= lengthIn);
  if (reach.length === 0) return Math.max(...problem.stock.map((item) => item.cost));
  return Math.min(...reach.map((item) => item.cost));
}

/** A panel for every panel width of wall and gable, as long as the commonest full piece needs. */
export function moduleCost(problem: CutProblem, modules: number): number {
  const counts = new Map<number, number>();
  for (const { widthIn, leftIn, rightIn } of problem.pieces) {
    if (widthIn !== problem.panelWidthIn || leftIn !== rightIn) continue;
    counts.set(leftIn, (counts.get(leftIn) ?? 0) + 1);
  }
  const common = [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 0;
  return modules * costFor(problem, common);
}

/** Panels of the shortest length for the area and a tenth more. */
export function areaCost(problem: CutProblem): number {
  const shortest = problem.stock.reduce((a, b) => (b.lengthIn < a.lengthIn ? b : a));
  const panel = shortest.lengthIn * problem.panelWidthIn;
  return Math.ceil((areaOf(problem) * WASTE) / panel) * shortest.cost;
}

/** Rips of a run as a carpenter cuts them without a plan: each as long as a panel allows. */
function ripLengths(run: RipRun, longestIn: number): number[] {
  const joints = run.jointsIn;
  const last = joints.length - 1;
  const smallest = Math.min(run.smallestIn, lengthOf(run));
  const lengths: number[] = [];
  for (let at = 0; at < last;) {
    let to = last;
    const fits = (): boolean => {
      const rest = joints[last]! - joints[to]!;
      return joints[to]! - joints[at]! <= longestIn && (rest === 0 || rest >= smallest);
    };
    while (to > at + 1 && !fits()) to--;
    lengths.push(joints[to]! - joints[at]!);
    at = to;
  }
  return lengths;
}

interface Box {
  readonly w: number;
  readonly h: number;
}

/**
 * What a general-purpose packer makes of the same pieces: the saw cut is its padding, scrap is
 * filled first, pieces turn only where the problem allows it, rake pieces go in as boxes, and a bin
 * is charged as the cheapest panel that reaches as far as it is used. Cheapest of its ways to pack
 * and of the lengths a bin may have.
 */
export function packerCost(problem: CutProblem): number {
  const longest = Math.max(...problem.stock.map((item) => item.lengthIn));
  const boxes: Box[] = problem.pieces.map(({ widthIn, leftIn, rightIn }) => ({
    w: widthIn,
    h: Math.max(leftIn, rightIn),
  }));
  for (const run of problem.rips) {
    for (const length of ripLengths(run, longest)) boxes.push({ w: run.heightIn, h: length });
  }
  let best = Infinity;
  for (const logic of [PACKING_LOGIC.MAX_AREA, PACKING_LOGIC.MAX_EDGE]) {
    for (const { lengthIn } of problem.stock) {
      best = Math.min(best, packInto(problem, boxes, lengthIn, longest, logic));
    }
  }
  return best;
}

function packInto(
  problem: CutProblem,
  boxes: readonly Box[],
  lengthIn: number,
  longestIn: number,
  logic: PACKING_LOGIC
): number {
  const options = {
    smart: false,
    pot: false,
    square: false,
    allowRotation: problem.canTurn,
    border: 0,
    logic,
  };
  const rectangle = ({ w, h }: Box): Rectangle => new Rectangle(w, h);
  const largestFirst = [...boxes].sort((a, b) => b.w * b.h - a.w * a.h);
  let left = largestFirst;
  for (const scrap of problem.scrap) {
    const bin = new MaxRectsBin(scrap.widthIn, scrap.heightIn, problem.kerfIn, options);
    left = left.filter((box) => bin.add(rectangle(box)) === undefined);
  }
  let cost = 0;
  const long = left.filter((box) => box.h > lengthIn);
  const short = left.filter((box) => box.h <= lengthIn);
  const packs: readonly (readonly [readonly Box[], number])[] =
    long.length === 0
      ? [[short, lengthIn]]
      : [
          [long, longestIn],
          [short, lengthIn],
        ];
  for (const [some, length] of packs) {
    const packer = new MaxRectsPacker(problem.panelWidthIn, length, problem.kerfIn, options);
    packer.addArray(some.map(rectangle));
    for (const bin of packer.bins) {
      const reach = Math.max(...bin.rects.map((rect) => rect.y + rect.height));
      cost += costFor(problem, reach);
    }
  }
  return cost;
}
