/**
 * Checks a cut plan from the outside. Shares no code with the planner: only the types of the
 * question and the answer. Works in inches with polygons, where the planner works in whole units
 * with boxes.
 *
 * `faultsOf` returns what is wrong, in words; an empty list is a sound plan.
 */
import type {
  CutPiece,
  CutPlacement,
  CutPlan,
  CutProblem,
  CutSheet,
  PlannedRip,
  RipRun,
  SawCut,
} from "../../src/core/cut-plan/problem.js";

/** Lengths may differ by this much: two units of 1/1024 in, in. */
const SLACK = 2 / 1024 + 1e-9;

interface Point {
  x: number;
  y: number;
}
type Polygon = Point[];

interface Placed {
  readonly id: string;
  readonly shape: Polygon;
  readonly rake: boolean;
}

export function faultsOf(problem: CutProblem, plan: CutPlan): string[] {
  const faults: string[] = [];
  const say = (text: string): void => void faults.push(text);
  const pieces = new Map(problem.pieces.map((piece) => [piece.id, piece]));
  const runs = new Map(problem.rips.map((run) => [run.id, run]));
  const rips = new Map(plan.rips.map((rip) => [rip.id, rip]));
  if (rips.size !== plan.rips.length) say("a rip id is used twice");
  for (const id of rips.keys()) if (pieces.has(id)) say(`rip ${id} has the id of a piece`);

  const times = new Map<string, number>();
  for (const sheet of plan.sheets) {
    for (const placement of sheet.placements) {
      times.set(placement.id, (times.get(placement.id) ?? 0) + 1);
    }
  }
  for (const id of [...pieces.keys(), ...rips.keys()]) {
    if (times.get(id) !== 1) say(`${id} is placed ${times.get(id) ?? 0} times`);
  }
  for (const id of times.keys()) {
    if (!pieces.has(id) && !rips.has(id)) say(`${id} is placed but was not asked for`);
  }

  checkRuns(problem, plan, say);
  checkMoney(problem, plan, say);

  const scrapUsed = new Set<string>();
  plan.sheets.forEach((sheet, k) => {
    const where = `sheet ${k + 1}`;
    checkSheet(problem, sheet, where, scrapUsed, say);
    const placed: Placed[] = [];
    for (const placement of sheet.placements) {
      const piece = pieces.get(placement.id);
      const rip = rips.get(placement.id);
      const fault = piece
        ? pieceFault(problem, piece, placement)
        : rip
          ? ripFault(problem, runs.get(rip.runId), rip, placement)
          : null;
      if (fault) say(`${where}: ${placement.id} ${fault}`);
      placed.push({
        id: placement.id,
        shape: outline(piece, placement),
        rake: piece !== undefined && Math.abs(piece.leftIn - piece.rightIn) > 1e-12,
      });
    }
    for (const one of placed) {
      for (const point of one.shape) {
        if (
          point.x < -SLACK ||
          point.y < -SLACK ||
          point.x > sheet.widthIn + SLACK ||
          point.y > sheet.lengthIn + SLACK
        ) {
          say(`${where}: ${one.id} leaves the sheet`);
          break;
        }
      }
    }
    checkSeparable(placed, problem.kerfIn, where, say);
    checkCuts(sheet, placed, problem, where, say);
  });
  return faults;
}

/** The corners of a placed piece, counterclockwise from the lower left. */
function outline(piece: CutPiece | undefined, at: CutPlacement): Polygon {
  const { xIn: x, yIn: y, widthIn: w, heightIn: h } = at;
  if (!piece || Math.abs(piece.leftIn - piece.rightIn) < 1e-12) {
    return [
      { x, y },
      { x: x + w, y },
      { x: x + w, y: y + h },
      { x, y: y + h },
    ];
  }
  if (at.turned === 180) {
    // Turned end for end: the level side is on top, and left and right change places.
    return [
      { x, y: y + h - piece.rightIn },
      { x: x + w, y: y + h - piece.leftIn },
      { x: x + w, y: y + h },
      { x, y: y + h },
    ];
  }
  return [
    { x, y },
    { x: x + w, y },
    { x: x + w, y: y + piece.rightIn },
    { x, y: y + piece.leftIn },
  ];
}

function same(a: number, b: number): boolean {
  return Math.abs(a - b) <= SLACK;
}

function pieceFault(problem: CutProblem, piece: CutPiece, at: CutPlacement): string | null {
  const tall = Math.max(piece.leftIn, piece.rightIn);
  const rake = Math.abs(piece.leftIn - piece.rightIn) > 1e-12;
  if (at.turned === 90) {
    if (rake) return "is a rake piece turned a quarter turn";
    if (!problem.canTurn) return "is turned a quarter turn, which is not allowed";
    if (!same(at.widthIn, tall) || !same(at.heightIn, piece.widthIn)) return "has another size";
    return null;
  }
  if (at.turned !== 0 && at.turned !== 180) return `is turned ${String(at.turned)}`;
  if (!same(at.widthIn, piece.widthIn) || !same(at.heightIn, tall)) return "has another size";
  return null;
}

function ripFault(
  problem: CutProblem,
  run: RipRun | undefined,
  rip: PlannedRip,
  at: CutPlacement
): string | null {
  if (!run) return "is a rip of no run";
  const length = rip.endIn - rip.startIn;
  if (at.turned === 90) {
    return same(at.widthIn, run.heightIn) && same(at.heightIn, length) ? null : "has another size";
  }
  if (!problem.canTurn) return "is a rip laid across the panel, which is not allowed";
  return same(at.widthIn, length) && same(at.heightIn, run.heightIn) ? null : "has another size";
}

function checkRuns(problem: CutProblem, plan: CutPlan, say: (text: string) => void): void {
  const longest = Math.max(...problem.stock.map((item) => item.lengthIn));
  for (const rip of plan.rips) {
    if (!problem.rips.some((run) => run.id === rip.runId)) say(`rip ${rip.id} is of no run`);
  }
  for (const run of problem.rips) {
    const own = plan.rips
      .filter((rip) => rip.runId === run.id)
      .sort((a, b) => a.startIn - b.startIn);
    const first = run.jointsIn[0]!;
    const last = run.jointsIn[run.jointsIn.length - 1]!;
    let at = first;
    for (const rip of own) {
      if (!same(rip.startIn, at)) say(`run ${run.id} is not covered from ${at}`);
      at = rip.endIn;
      const length = rip.endIn - rip.startIn;
      if (length > longest + SLACK) say(`rip ${rip.id} is longer than the longest panel`);
      const shortest = Math.min(run.smallestIn, last - first);
      if (length < shortest - SLACK) say(`rip ${rip.id} is shorter than ${shortest}`);
      if (!run.jointsIn.some((joint) => same(joint, rip.endIn))) {
        say(`rip ${rip.id} ends at ${rip.endIn}, which is no mark`);
      }
    }
    if (!same(at, last)) say(`run ${run.id} is covered to ${at}, not to ${last}`);
  }
}

function checkMoney(problem: CutProblem, plan: CutPlan, say: (text: string) => void): void {
  let cost = 0;
  let panels = 0;
  let used = 0;
  let bought = 0;
  const counts = problem.stock.map(() => 0);
  const pieces = new Map(problem.pieces.map((piece) => [piece.id, piece]));
  for (const sheet of plan.sheets) {
    if (sheet.kind === "scrap") {
      if (sheet.cost !== 0) say("scrap has a cost");
      continue;
    }
    panels++;
    const index = problem.stock.findIndex((item) => same(item.lengthIn, sheet.lengthIn));
    if (index < 0) {
      say(`a panel ${sheet.lengthIn} long is not in stock`);
      continue;
    }
    counts[index]!++;
    if (sheet.cost !== problem.stock[index]!.cost) say("a panel has another cost");
    cost += problem.stock[index]!.cost;
    bought += sheet.widthIn * sheet.lengthIn;
    for (const placement of sheet.placements) {
      const piece = pieces.get(placement.id);
      used += piece
        ? (piece.widthIn * (piece.leftIn + piece.rightIn)) / 2
        : placement.widthIn * placement.heightIn;
    }
  }
  if (Math.abs(cost - plan.cost) > 1e-9 * Math.max(1, cost)) {
    say(`cost is ${plan.cost}, but the panels add up to ${cost}`);
  }
  if (panels !== plan.panelCount) say(`${plan.panelCount} panels said, ${panels} drawn`);
  if (plan.bought.length !== problem.stock.length) say("bought does not follow the stock list");
  plan.bought.forEach((line, k) => {
    if (!same(line.lengthIn, problem.stock[k]!.lengthIn) || line.count !== counts[k]) {
      say(`${line.count} bought of ${line.lengthIn}, ${counts[k]} drawn`);
    }
  });
  if (!(plan.lowestCost >= 0) || plan.cost < plan.lowestCost - 1e-9 * Math.max(1, cost)) {
    say(`cost ${plan.cost} is below the proven ${plan.lowestCost}`);
  }
  if (!Number.isInteger(plan.fewestPanels) || plan.panelCount < plan.fewestPanels) {
    say(`${plan.panelCount} panels is below the proven ${plan.fewestPanels}`);
  }
  const share = bought === 0 ? 0 : used / bought;
  if (Math.abs(share - plan.usedShare) > 1e-4 || plan.usedShare > 1 + 1e-9) {
    say(`used share is ${plan.usedShare}, measured ${share}`);
  }
}

function checkSheet(
  problem: CutProblem,
  sheet: CutSheet,
  where: string,
  scrapUsed: Set<string>,
  say: (text: string) => void
): void {
  if (sheet.placements.length === 0) say(`${where} is bought for nothing`);
  if (sheet.kind === "panel") {
    if (!same(sheet.widthIn, problem.panelWidthIn)) say(`${where} has another width`);
  } else {
    const scrap = problem.scrap.find((item) => item.id === sheet.scrapId);
    if (!scrap) say(`${where} is a scrap nobody has`);
    else {
      if (scrapUsed.has(scrap.id)) say(`scrap ${scrap.id} is used twice`);
      scrapUsed.add(scrap.id);
      if (!same(scrap.widthIn, sheet.widthIn) || !same(scrap.heightIn, sheet.lengthIn)) {
        say(`${where} has another size than scrap ${scrap.id}`);
      }
    }
  }
  const keep = problem.keepIn ?? 12;
  sheet.leftovers.forEach((left, k) => {
    const what = `${where}: leftover ${k + 1}`;
    if (left.widthIn < keep - SLACK || left.heightIn < keep - SLACK) say(`${what} is too small`);
    if (
      left.xIn < -SLACK ||
      left.yIn < -SLACK ||
      left.xIn + left.widthIn > sheet.widthIn + SLACK ||
      left.yIn + left.heightIn > sheet.lengthIn + SLACK
    ) {
      say(`${what} leaves the sheet`);
    }
    const boxes = [...sheet.placements, ...sheet.leftovers.slice(k + 1)];
    for (const box of boxes) {
      if (
        left.xIn + left.widthIn > box.xIn + SLACK &&
        box.xIn + box.widthIn > left.xIn + SLACK &&
        left.yIn + left.heightIn > box.yIn + SLACK &&
        box.yIn + box.heightIn > left.yIn + SLACK
      ) {
        say(`${what} overlaps something`);
      }
    }
  });
}

function span(shape: Polygon, axis: "x" | "y"): [number, number] {
  const values = shape.map((point) => point[axis]);
  return [Math.min(...values), Math.max(...values)];
}

/**
 * Straight cuts across, with kerf, must part all pieces; the one sloped cut allowed parts two rake
 * pieces. Any cut that works may be made first: what is left stays separable.
 */
function checkSeparable(
  placed: readonly Placed[],
  kerf: number,
  where: string,
  say: (text: string) => void
): void {
  if (placed.length < 2) return;
  for (const axis of ["x", "y"] as const) {
    const order = placed
      .map((one) => ({ one, span: span(one.shape, axis) }))
      .sort((a, b) => a.span[0] - b.span[0] || a.span[1] - b.span[1]);
    let reach = -Infinity;
    for (let k = 0; k < order.length - 1; k++) {
      reach = Math.max(reach, order[k]!.span[1]);
      if (order[k + 1]!.span[0] >= reach + kerf - SLACK) {
        const low = order.slice(0, k + 1).map(({ one }) => one);
        const high = order.slice(k + 1).map(({ one }) => one);
        checkSeparable(low, kerf, where, say);
        checkSeparable(high, kerf, where, say);
        return;
      }
    }
  }
  if (placed.length === 2 && placed[0]!.rake && placed[1]!.rake) {
    const gap = Math.max(
      slopedGap(placed[0]!.shape, placed[1]!.shape),
      slopedGap(placed[1]!.shape, placed[0]!.shape)
    );
    if (gap >= kerf - SLACK) return;
    say(`${where}: ${placed[0]!.id} and ${placed[1]!.id} leave ${gap} for a kerf of ${kerf}`);
    return;
  }
  say(`${where}: ${placed.map((one) => one.id).join(", ")} cannot be parted by straight cuts`);
}

/** How far, square to the sloped top edge of the first, the second stays beyond that edge. */
function slopedGap(first: Polygon, second: Polygon): number {
  let best = -Infinity;
  for (let k = 0; k < first.length; k++) {
    const a = first[k]!;
    const b = first[(k + 1) % first.length]!;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length < 1e-9) continue;
    // Outward normal of a counterclockwise edge.
    const nx = (b.y - a.y) / length;
    const ny = -(b.x - a.x) / length;
    const least = Math.min(...second.map((p) => (p.x - a.x) * nx + (p.y - a.y) * ny));
    best = Math.max(best, least);
  }
  return best;
}

function areaOf(shape: Polygon): number {
  let twice = 0;
  for (let k = 0; k < shape.length; k++) {
    const a = shape[k]!;
    const b = shape[(k + 1) % shape.length]!;
    twice += a.x * b.y - b.x * a.y;
  }
  return Math.abs(twice) / 2;
}

/** The part of a convex polygon where n.p >= d. */
function clip(shape: Polygon, nx: number, ny: number, d: number): Polygon {
  const kept: Polygon = [];
  for (let k = 0; k < shape.length; k++) {
    const a = shape[k]!;
    const b = shape[(k + 1) % shape.length]!;
    const da = a.x * nx + a.y * ny - d;
    const db = b.x * nx + b.y * ny - d;
    if (da >= 0) kept.push(a);
    if (da >= 0 !== db >= 0) {
      const t = da / (da - db);
      kept.push({ x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) });
    }
  }
  return kept;
}

function inside(shape: Polygon, p: Point, slack: number): boolean {
  for (let k = 0; k < shape.length; k++) {
    const a = shape[k]!;
    const b = shape[(k + 1) % shape.length]!;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length < 1e-9) continue;
    if (((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / length < -slack) return false;
  }
  return shape.length > 2;
}

/**
 * Makes the cuts one after another and looks at what falls out. The line is the edge of the part
 * left of, or below, the cut; the saw takes the kerf beyond it.
 */
function checkCuts(
  sheet: CutSheet,
  placed: readonly Placed[],
  problem: CutProblem,
  where: string,
  say: (text: string) => void
): void {
  let parts: Polygon[] = [
    [
      { x: 0, y: 0 },
      { x: sheet.widthIn, y: 0 },
      { x: sheet.widthIn, y: sheet.lengthIn },
      { x: 0, y: sheet.lengthIn },
    ],
  ];
  const kerf = problem.kerfIn;
  sheet.cuts.forEach((cut, k) => {
    const line = normalOf(cut);
    const middle = { x: (cut.fromX + cut.toX) / 2, y: (cut.fromY + cut.toY) / 2 };
    // Where waste is narrower than the blade the line itself may lie just off the part.
    const index = [0, kerf / 2, kerf].reduce(
      (found, off) =>
        found >= 0
          ? found
          : parts.findIndex((part) =>
              inside(part, { x: middle.x + line.nx * off, y: middle.y + line.ny * off }, SLACK)
            ),
      -1
    );
    if (index < 0) {
      say(`${where}: cut ${k + 1} meets no part`);
      return;
    }
    const part = parts[index]!;
    for (const end of [
      { x: cut.fromX, y: cut.fromY },
      { x: cut.toX, y: cut.toY },
    ]) {
      if (inside(part, end, -0.02)) say(`${where}: cut ${k + 1} stops inside the part it divides`);
    }
    const low = clip(part, -line.nx, -line.ny, -line.d);
    const high = clip(part, line.nx, line.ny, line.d + kerf);
    parts = [
      ...parts.slice(0, index),
      ...[low, high].filter((one) => one.length > 2 && areaOf(one) > 1e-9),
      ...parts.slice(index + 1),
    ];
  });
  const free = new Set(parts);
  for (const one of placed) {
    const center = {
      x: one.shape.reduce((sum, p) => sum + p.x, 0) / one.shape.length,
      y: one.shape.reduce((sum, p) => sum + p.y, 0) / one.shape.length,
    };
    const own = [...free].find((part) => inside(part, center, 0));
    if (!own) {
      say(`${where}: no cut part holds ${one.id}`);
      continue;
    }
    free.delete(own);
    const ok =
      one.shape.every((p) => inside(own, p, SLACK)) &&
      own.every((p) => inside(one.shape, p, slopeSlack(one)));
    if (!ok) say(`${where}: the part cut for ${one.id} is not its size`);
  }
  for (const left of sheet.leftovers) {
    const box: Polygon = [
      { x: left.xIn, y: left.yIn },
      { x: left.xIn + left.widthIn, y: left.yIn },
      { x: left.xIn + left.widthIn, y: left.yIn + left.heightIn },
      { x: left.xIn, y: left.yIn + left.heightIn },
    ];
    if (![...free].some((part) => box.every((p) => inside(part, p, SLACK)))) {
      say(`${where}: a leftover is no single part after the cuts`);
    }
  }
}

/** Two nested rake pieces share one sloped cut though their marked slopes may differ by 1/16 in. */
function slopeSlack(one: Placed): number {
  return one.rake ? SLACK + 1 / 16 : SLACK;
}

function normalOf(cut: SawCut): { nx: number; ny: number; d: number } {
  const dx = cut.toX - cut.fromX;
  const dy = cut.toY - cut.fromY;
  const length = Math.hypot(dx, dy);
  let nx = -dy / length;
  let ny = dx / length;
  // The far side is up, or right for a plumb cut.
  if (ny < -1e-12 || (Math.abs(ny) <= 1e-12 && nx < 0)) {
    nx = -nx;
    ny = -ny;
  }
  return { nx, ny, d: cut.fromX * nx + cut.fromY * ny };
}
