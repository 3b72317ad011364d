/**
 * Turns filled sheets into the plan a saw can follow: placements, cuts in order, leftovers.
 */
import { type Block } from "./blocks.js";
import { type Model, runLength, toInches } from "./prepare.js";
import type {
  CutPlacement,
  CutPlan,
  CutSheet,
  LeftoverPiece,
  PlannedRip,
  SawCut,
} from "./problem.js";
import { type Part, type Sheet, stockFor } from "./sheet.js";

export interface Proof {
  readonly lowestCost: number;
  readonly fewestPanels: number;
  readonly boundBy: string;
}

/** A part as it will be cut, without the freedom the planner keeps. */
interface Cutting {
  x: number;
  y: number;
  w: number;
  h: number;
  block: Block | null;
  cut: "none" | "plumb" | "level";
  first: Cutting | null;
  second: Cutting | null;
}

function isEmpty(part: Part | null): boolean {
  if (!part) return true;
  if (part.block) return false;
  return isEmpty(part.first) && isEmpty(part.second);
}

/**
 * The tree of one part inside the room it really has: the panel may be shorter than planned, and a
 * cut that only frees waste is dropped so that the waste stays in one piece.
 */
function settle(part: Part, x: number, y: number, w: number, h: number, kerf: number): Cutting {
  const plain: Cutting = { x, y, w, h, block: null, cut: "none", first: null, second: null };
  if (isEmpty(part)) return plain;
  if (part.block) {
    const block = part.block;
    const right = w - block.w;
    const above = h - block.h;
    if (right === 0 && above === 0) return { ...plain, block };
    // The larger of the two strips is kept whole: it is the one somebody can use.
    const rightArea = Math.max(0, right - kerf) * h;
    const aboveArea = Math.max(0, above - kerf) * w;
    const plumb = right > 0 && (above === 0 || rightArea > aboveArea);
    return plumb
      ? split(plain, "plumb", block.w, kerf, (inner) => settle(part, x, y, inner, h, kerf), null)
      : split(plain, "level", block.h, kerf, (inner) => settle(part, x, y, w, inner, kerf), null);
  }
  const first = part.first!;
  const second = part.second;
  if (isEmpty(second)) return settle(first, x, y, w, h, kerf);
  const at = part.cut === "plumb" ? first.w : first.h;
  return part.cut === "plumb"
    ? split(
        plain,
        "plumb",
        at,
        kerf,
        (inner) => settle(first, x, y, inner, h, kerf),
        (from, rest) => settle(second!, x + from, y, rest, h, kerf)
      )
    : split(
        plain,
        "level",
        at,
        kerf,
        (inner) => settle(first, x, y, w, inner, kerf),
        (from, rest) => settle(second!, x, y + from, w, rest, kerf)
      );
}

function split(
  whole: Cutting,
  cut: "plumb" | "level",
  at: number,
  kerf: number,
  makeFirst: (inner: number) => Cutting,
  makeSecond: ((from: number, rest: number) => Cutting) | null
): Cutting {
  const length = cut === "plumb" ? whole.w : whole.h;
  const from = at + kerf;
  const rest = length - from;
  let second: Cutting | null = null;
  if (rest > 0) {
    second = makeSecond
      ? makeSecond(from, rest)
      : {
          x: cut === "plumb" ? whole.x + from : whole.x,
          y: cut === "plumb" ? whole.y : whole.y + from,
          w: cut === "plumb" ? rest : whole.w,
          h: cut === "plumb" ? whole.h : rest,
          block: null,
          cut: "none",
          first: null,
          second: null,
        };
  }
  return { ...whole, cut, first: makeFirst(at), second };
}

function cutLine(fromX: number, fromY: number, toX: number, toY: number): SawCut {
  return {
    fromX: toInches(fromX),
    fromY: toInches(fromY),
    toX: toInches(toX),
    toY: toInches(toY),
  };
}

interface Written {
  placements: CutPlacement[];
  cuts: SawCut[];
  leftovers: LeftoverPiece[];
  area: number;
}

function writeCutting(
  part: Cutting,
  model: Model,
  nextId: (type: number) => string,
  ripId: (block: Block) => string,
  out: Written
): void {
  const { x, y, w, h } = part;
  if (part.cut !== "none") {
    const at = part.cut === "plumb" ? x + part.first!.w : y + part.first!.h;
    out.cuts.push(part.cut === "plumb" ? cutLine(at, y, at, y + h) : cutLine(x, at, x + w, at));
    writeCutting(part.first!, model, nextId, ripId, out);
    if (part.second) writeCutting(part.second, model, nextId, ripId, out);
    return;
  }
  const block = part.block;
  if (!block) {
    if (w >= model.keep && h >= model.keep && w > 0 && h > 0) {
      out.leftovers.push({
        xIn: toInches(x),
        yIn: toInches(y),
        widthIn: toInches(w),
        heightIn: toInches(h),
      });
    }
    return;
  }
  out.area += block.area;
  const place = (
    id: string,
    px: number,
    py: number,
    pw: number,
    ph: number,
    turned: 0 | 90 | 180
  ): void => {
    out.placements.push({
      id,
      xIn: toInches(px),
      yIn: toInches(py),
      widthIn: toInches(pw),
      heightIn: toInches(ph),
      turned,
    });
  };
  if (block.type < 0) {
    place(ripId(block), x, y, w, h, block.turned);
    return;
  }
  const type = model.types[block.type]!;
  if (!type.rake) {
    place(nextId(block.type), x, y, w, h, block.turned);
    return;
  }
  // The rake itself: one sloped cut along the edge of the level piece.
  out.cuts.push(cutLine(x, y + type.left, x + type.w, y + type.right));
  place(nextId(block.type), x, y, type.w, Math.max(type.left, type.right), 0);
  const pair = block.pair;
  if (!pair) return;
  const upper = model.types[pair.upper]!;
  const upperH = Math.max(upper.left, upper.right);
  const slope = (type.right - type.left) / type.w;
  const top = pair.upperY + upperH;
  // Beside a turned piece that runs out to a point at the level piece's edge there is nothing to cut.
  const beside = Math.min(upper.left, upper.right) + h - top;
  if (upper.w < type.w && beside > 0) {
    // The kerf is on the far side from the piece; the blade may hang over the edge of narrow waste.
    const rising = type.right > type.left;
    const at = rising ? upper.w : pair.upperX - model.kerf;
    const foot = type.left + slope * (rising ? upper.w : pair.upperX) + pair.gap;
    out.cuts.push(cutLine(x + at, y + Math.min(foot, h), x + at, y + h));
  }
  if (top < h) {
    out.cuts.push(cutLine(x + pair.upperX, y + top, x + pair.upperX + upper.w, y + top));
  }
  place(nextId(pair.upper), x + pair.upperX, y + pair.upperY, upper.w, upperH, 180);
}

/** Writes the plan. The sheets must hold every piece once and cover every run. */
export function writePlan(model: Model, sheets: readonly Sheet[], proof: Proof): CutPlan {
  const used = new Array<number>(model.types.length).fill(0);
  const nextId = (type: number): string => model.types[type]!.ids[used[type]!++]!;
  const { rips, ripId } = nameRips(model, sheets);
  const panels = sheets.filter((sheet) => sheet.scrap < 0 && sheet.blocks > 0);
  const scraps = sheets.filter((sheet) => sheet.scrap >= 0 && sheet.blocks > 0);
  const stockOf = new Map(panels.map((sheet) => [sheet, stockFor(model, sheet.reach)]));
  const lengthOf = (sheet: Sheet): number => model.stock[stockOf.get(sheet)!]!.length;
  const ordered = [...panels]
    .map((sheet, place) => ({ sheet, place }))
    .sort((a, b) => lengthOf(b.sheet) - lengthOf(a.sheet) || a.place - b.place)
    .map(({ sheet }) => sheet);
  ordered.push(...scraps.sort((a, b) => a.scrap - b.scrap));
  const bought = model.stock.map((item) => ({ lengthIn: toInches(item.length), count: 0 }));
  let usedArea = 0;
  let boughtArea = 0;
  const written = ordered.map((sheet): CutSheet => {
    const panel = sheet.scrap < 0;
    const length = panel ? lengthOf(sheet) : sheet.h;
    const out: Written = { placements: [], cuts: [], leftovers: [], area: 0 };
    writeCutting(settle(sheet.root, 0, 0, sheet.w, length, model.kerf), model, nextId, ripId, out);
    let cost = 0;
    if (panel) {
      const stock = stockOf.get(sheet)!;
      bought[stock]!.count++;
      cost = model.stock[stock]!.cost;
      usedArea += out.area;
      boughtArea += sheet.w * length;
    }
    return {
      kind: panel ? "panel" : "scrap",
      ...(panel ? {} : { scrapId: model.scrap[sheet.scrap]!.id }),
      widthIn: toInches(sheet.w),
      lengthIn: toInches(length),
      cost,
      placements: out.placements,
      cuts: out.cuts,
      leftovers: out.leftovers,
    };
  });
  return {
    sheets: written,
    rips,
    bought,
    panelCount: panels.length,
    cost: planCost(model, sheets),
    lowestCost: proof.lowestCost,
    fewestPanels: proof.fewestPanels,
    boundBy: proof.boundBy,
    usedShare: boughtArea === 0 ? 0 : usedArea / boughtArea,
  };
}

/** Cost of all panels, added up length by length so that equal plans cost exactly the same. */
export function planCost(model: Model, sheets: readonly Sheet[]): number {
  const counts = new Array<number>(model.stock.length).fill(0);
  for (const sheet of sheets) {
    if (sheet.scrap >= 0 || sheet.blocks === 0) continue;
    const stock = stockFor(model, sheet.reach);
    counts[stock] = counts[stock]! + 1;
  }
  let cost = 0;
  for (const item of model.stock) cost += counts[item.index]! * item.cost;
  return cost;
}

function nameRips(
  model: Model,
  sheets: readonly Sheet[]
): { rips: PlannedRip[]; ripId: (block: Block) => string } {
  const taken = new Set<string>();
  for (const type of model.types) for (const id of type.ids) taken.add(id);
  const byRun: Block[][] = model.runs.map(() => []);
  const visit = (part: Part): void => {
    if (part.block && part.block.run >= 0) byRun[part.block.run]!.push(part.block);
    if (part.first) visit(part.first);
    if (part.second) visit(part.second);
  };
  for (const sheet of sheets) visit(sheet.root);
  const names = new Map<Block, string>();
  const rips: PlannedRip[] = [];
  for (const run of model.runs) {
    const blocks = byRun[run.index]!.sort((a, b) => a.from - b.from);
    blocks.forEach((block, k) => {
      let id = `${run.id}/${k + 1}`;
      while (taken.has(id)) id += "'";
      taken.add(id);
      names.set(block, id);
      rips.push({
        id,
        runId: run.id,
        startIn: toInches(run.start + run.joints[block.from]!),
        endIn: toInches(run.start + run.joints[block.to]!),
      });
    });
    // A run without its last joint would be a hole in the wall: never write such a plan.
    if (blocks.length === 0 || run.joints[blocks[blocks.length - 1]!.to] !== runLength(run)) {
      throw new Error(`rip run ${run.id} is not covered`);
    }
  }
  return { rips, ripId: (block) => names.get(block)! };
}
