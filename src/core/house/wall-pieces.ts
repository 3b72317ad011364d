/**
 * One wall cut up: columns between seams, courses one above the other, whole panels routed where an
 * opening crosses only part of them, pieces above and below where it spans them, and the runs that
 * rips will cover. Together they tile the sheathed face exactly.
 */
import { TINY_IN, outOfRange, shown } from "../check.js";
import { endReach } from "../corners.js";
import { type StudMark, studMarks, wallSeams } from "../layout.js";
import { FINEST_CUT_IN } from "../limits.js";
import { shorterRip } from "../rips.js";
import { type TopPoint, type WallTop, heightAt } from "../wall-top.js";
import type { Settings } from "./settings.js";
import { at } from "./tables.js";
import { type Opening, type Wall, wallHeight } from "./walls.js";

export interface Box {
  readonly leftIn: number;
  readonly rightIn: number;
  readonly bottomIn: number;
  readonly topIn: number;
}

/** A piece as it stands on the wall: level bottom, plumb sides, a top of straight stretches. */
export interface PieceShape {
  readonly leftIn: number;
  readonly rightIn: number;
  readonly bottomIn: number;
  /** from left to right, heights above the deck; two points, more where the slope changes */
  readonly top: readonly TopPoint[];
}

export interface WallPiece extends PieceShape {
  readonly kind: "panel" | "rip";
  /** 0 is the rip course */
  readonly course: number;
  readonly routed: readonly { readonly opening: string; readonly box: Box }[];
}

/** A strip to be covered with rips; joints only at the listed places. */
export interface WallRipRun extends Box {
  readonly jointsIn: readonly number[];
  readonly seamsIn: readonly number[];
}

export interface CutWall {
  readonly wall: Wall;
  readonly openings: readonly Opening[];
  readonly studs: readonly StudMark[];
  readonly seams: readonly number[];
  /** bottom edge of the sheathing, in above the deck (negative) */
  readonly bottomIn: number;
  /** where panels start: the block line, or the bottom lap */
  readonly panelsFromIn: number;
  readonly hasRips: boolean;
  /** heights above the deck of horizontal seams between panel courses */
  readonly courseSeamsIn: readonly number[];
  readonly panels: readonly WallPiece[];
  readonly ripRuns: readonly WallRipRun[];
}

/** The stretch of x where the wall stands above a level; undefined where it nowhere does. */
export function spanAbove(
  top: WallTop,
  levelIn: number,
  fromIn: number,
  toIn: number
): readonly [number, number] | undefined {
  const inside = top.map((point) => point.xIn).filter((x) => x >= fromIn && x <= toIn);
  const xs = [fromIn, ...inside, toIn];
  let low = Infinity;
  let high = -Infinity;
  for (let index = 1; index < xs.length; index++) {
    const x0 = xs[index - 1] as number;
    const x1 = xs[index] as number;
    const h0 = heightAt(top, x0) - levelIn;
    const h1 = heightAt(top, x1) - levelIn;
    if (h0 <= TINY_IN && h1 <= TINY_IN) continue;
    const crossing = Math.min(x1, Math.max(x0, x0 + ((x1 - x0) * h0) / (h0 - h1)));
    low = Math.min(low, h0 > TINY_IN ? x0 : crossing);
    high = Math.max(high, h1 > TINY_IN ? x1 : crossing);
  }
  return high - low > TINY_IN ? [low, high] : undefined;
}

/** The top of a piece: the wall's top, cut off level at the course above. */
function cappedTop(top: WallTop, capIn: number, fromIn: number, toIn: number): TopPoint[] {
  const turns = [...top.map((point) => point.xIn), ...(spanAbove(top, capIn, fromIn, toIn) ?? [])]
    .filter((x) => x > fromIn + TINY_IN && x < toIn - TINY_IN)
    .sort((a, b) => a - b);
  // a course at the height of a corner finds that corner twice, a hair apart
  const apart = turns.filter((x, index) => x - (turns[index - 1] ?? -Infinity) > TINY_IN);
  const points = [fromIn, ...apart, toIn].map((xIn) => ({
    xIn,
    heightIn: Math.min(capIn, heightAt(top, xIn)),
  }));
  return dropStraight(points);
}

/**
 * Leaves out points that lie on the straight line between the point kept before and the next: a peak that the course
 * cut off, and the framing corner under a raked panel that runs past it.
 */
function dropStraight(points: TopPoint[]): TopPoint[] {
  const kept: TopPoint[] = [];
  points.forEach((point, index) => {
    const before = kept.at(-1);
    const after = points[index + 1];
    if (before && after) {
      const along = (point.xIn - before.xIn) / (after.xIn - before.xIn);
      const straight = before.heightIn + along * (after.heightIn - before.heightIn);
      if (Math.abs(straight - point.heightIn) <= TINY_IN) return;
    }
    kept.push(point);
  });
  return kept;
}

/**
 * Tops of the panel courses, so that a wall taller than the longest panel gets as few horizontal
 * seams as it can, none of them within the smallest piece of the top.
 */
export function courseSeams(
  fromIn: number,
  topIn: number,
  lengthsIn: readonly number[],
  smallestIn: number
): number[] {
  const total = topIn - fromIn;
  const layouts = lengthsIn.map((length) => {
    const count = Math.ceil((total - TINY_IN) / length) - 1;
    const rest = total - count * length;
    const cover = Math.min(...lengthsIn.filter((each) => each >= rest - TINY_IN));
    // a strip of less than half a panel shares one; more than half takes a whole one
    const restCost = rest <= cover / 2 ? rest : cover;
    return { length, count, sliver: rest < smallestIn - TINY_IN, cost: count * length + restCost };
  });
  layouts.sort(
    (a, b) =>
      Number(a.sliver) - Number(b.sliver) ||
      a.count - b.count ||
      a.cost - b.cost ||
      b.length - a.length
  );
  const best = layouts[0] as (typeof layouts)[number];
  return Array.from({ length: best.count }, (_, index) => fromIn + (index + 1) * best.length);
}

/** The parts of an upright strip that openings spanning its whole width leave; some may be too thin to cut. */
function splitByOpenings(shape: PieceShape, openings: readonly Opening[]): PieceShape[] {
  const spanning = openings
    .filter(
      (opening) =>
        opening.leftIn <= shape.leftIn + TINY_IN && opening.rightIn >= shape.rightIn - TINY_IN
    )
    .sort((a, b) => a.bottomIn - b.bottomIn);
  const parts: PieceShape[] = [];
  let bottomIn = shape.bottomIn;
  for (const opening of spanning) {
    const highestIn = Math.max(...shape.top.map((point) => point.heightIn));
    if (opening.bottomIn >= highestIn - TINY_IN || opening.topIn <= bottomIn + TINY_IN) continue;
    const level = (xIn: number): TopPoint => ({ xIn, heightIn: opening.bottomIn });
    parts.push({ ...shape, bottomIn, top: [level(shape.leftIn), level(shape.rightIn)] });
    bottomIn = opening.topIn;
  }
  return [...parts, { ...shape, bottomIn }];
}

/** A strip finer than the saw, as where a rake meets a course a hair beside a seam, is no piece. */
function isCuttable(box: Box): boolean {
  return box.rightIn - box.leftIn >= FINEST_CUT_IN && box.topIn - box.bottomIn >= FINEST_CUT_IN;
}

/** On neither edge, and not a hair inside one. */
function isBetween(xIn: number, leftIn: number, rightIn: number): boolean {
  return xIn > leftIn + TINY_IN && xIn < rightIn - TINY_IN;
}

/** The part of an opening that falls inside a piece; undefined where it does not reach it. */
function crossing(piece: Box, opening: Opening): Box | undefined {
  const box = {
    leftIn: Math.max(piece.leftIn, opening.leftIn),
    rightIn: Math.min(piece.rightIn, opening.rightIn),
    bottomIn: Math.max(piece.bottomIn, opening.bottomIn),
    topIn: Math.min(piece.topIn, opening.topIn),
  };
  return box.rightIn - box.leftIn > TINY_IN && box.topIn - box.bottomIn > TINY_IN ? box : undefined;
}

/** Openings routed out of a piece, or out of a rip. */
export function routedBy(piece: Box, openings: readonly Opening[]): WallPiece["routed"] {
  return openings.flatMap((opening) => {
    const box = crossing(piece, opening);
    return box ? [{ opening: opening.name, box }] : [];
  });
}

export function shapeTop(shape: PieceShape): number {
  return Math.max(...shape.top.map((point) => point.heightIn));
}

export function shapeBox(shape: PieceShape): Box {
  const { leftIn, rightIn, bottomIn } = shape;
  return { leftIn, rightIn, bottomIn, topIn: shapeTop(shape) };
}

/** Area of a piece's outline, openings not taken off, sq in. */
export function shapeArea(shape: PieceShape): number {
  let area = 0;
  for (let index = 1; index < shape.top.length; index++) {
    const a = shape.top[index - 1] as TopPoint;
    const b = shape.top[index] as TopPoint;
    area += (b.xIn - a.xIn) * ((a.heightIn + b.heightIn) / 2 - shape.bottomIn);
  }
  return area;
}

/** Height of a piece's top over x. */
export function shapeTopAt(shape: PieceShape, xIn: number): number {
  const points = shape.top;
  for (let index = 1; index < points.length; index++) {
    const a = points[index - 1] as TopPoint;
    const b = points[index] as TopPoint;
    if (xIn <= b.xIn || index === points.length - 1) {
      return a.heightIn + ((b.heightIn - a.heightIn) * (xIn - a.xIn)) / (b.xIn - a.xIn);
    }
  }
  return (points[0] as TopPoint).heightIn;
}

function panelPieces(cut: Omit<CutWall, "panels" | "ripRuns">): WallPiece[] {
  const { wall, openings, seams, panelsFromIn, courseSeamsIn } = cut;
  const edges = [wall.span.startIn, ...seams, wall.span.endIn];
  const levels = [panelsFromIn, ...courseSeamsIn, Infinity];
  const pieces: WallPiece[] = [];
  for (let column = 1; column < edges.length; column++) {
    for (let course = 1; course < levels.length; course++) {
      const bottomIn = levels[course - 1] as number;
      const capIn = levels[course] as number;
      const span = spanAbove(
        wall.top,
        bottomIn,
        edges[column - 1] as number,
        edges[column] as number
      );
      if (!span) continue;
      const [leftIn, rightIn] = span;
      const top = cappedTop(wall.top, capIn, leftIn, rightIn);
      const parts = splitByOpenings({ leftIn, rightIn, bottomIn, top }, openings);
      for (const part of parts.filter((each) => isCuttable(shapeBox(each)))) {
        pieces.push({ ...part, kind: "panel", course, routed: routedBy(shapeBox(part), openings) });
      }
    }
  }
  return pieces;
}

/**
 * Runs of the rip course. A narrow opening is routed out of rips that run through; one at least a
 * panel wide, or one that takes the whole height of the band, stops the run at its jambs, and what
 * is left below and above it is a run of its own.
 */
function ripRunsOf(cut: Omit<CutWall, "panels" | "ripRuns">, panelWidthIn: number): WallRipRun[] {
  const { wall, openings, studs, seams, bottomIn, panelsFromIn } = cut;
  if (!cut.hasRips) return [];
  const band: Box = {
    leftIn: wall.span.startIn,
    rightIn: wall.span.endIn,
    bottomIn,
    topIn: panelsFromIn,
  };
  const inBand = openings
    .flatMap((opening) => {
      const box = crossing(band, opening);
      return box ? [box] : [];
    })
    .sort((a, b) => a.leftIn - b.leftIn);
  const stops = inBand.filter(
    (box) =>
      box.rightIn - box.leftIn >= panelWidthIn - TINY_IN ||
      (box.bottomIn <= bottomIn + TINY_IN && box.topIn >= panelsFromIn - TINY_IN)
  );
  const notches = inBand.filter((box) => !stops.includes(box));
  // up to each stop, below it and above it, and what is left after the last; some may be no strip at all
  const boxes: Box[] = [];
  let fromIn = band.leftIn;
  for (const stop of stops) {
    const across = { leftIn: Math.max(fromIn, stop.leftIn), rightIn: stop.rightIn };
    boxes.push(
      { ...band, leftIn: fromIn, rightIn: stop.leftIn },
      { ...across, bottomIn, topIn: stop.bottomIn },
      { ...across, bottomIn: stop.topIn, topIn: panelsFromIn }
    );
    fromIn = Math.max(fromIn, stop.rightIn);
  }
  boxes.push({ ...band, leftIn: fromIn });
  return boxes.filter(isCuttable).map((box) => {
    const inside = studs
      .map((stud) => stud.centerIn)
      // a mark a hair beside the end is the end
      .filter((x) => isBetween(x, box.leftIn + FINEST_CUT_IN, box.rightIn - FINEST_CUT_IN))
      .filter((x) => !notches.some((notch) => isBetween(x, notch.leftIn, notch.rightIn)));
    const seamsIn = seams.filter((x) => isBetween(x, box.leftIn, box.rightIn));
    return { ...box, jointsIn: [box.leftIn, ...inside, box.rightIn], seamsIn };
  });
}

/**
 * Cuts one wall up.
 *
 * @throws {CalcError} out-of-range: rips taller than a panel is wide; not-covered: no seam layout without slivers
 */
export function cutWall(wall: Wall, openings: readonly Opening[], settings: Settings): CutWall {
  return at(wall.where, () => {
    const { lengthIn, thicknessIn, leftEnd, rightEnd, spacingIn, from } = wall;
    const smallestIn = settings.smallestIn ?? spacingIn;
    const seams = wallSeams(wall, {
      spacingIn,
      from,
      panelWidthIn: settings.panelWidthIn,
      smallestIn,
      studIn: settings.studIn,
    });
    const studs = studMarks(
      lengthIn,
      thicknessIn,
      leftEnd,
      rightEnd,
      spacingIn,
      from,
      settings.studIn,
      settings.panelWidthIn,
      smallestIn
    );
    const bottomIn = wall.belowIn === 0 ? 0 : -wall.belowIn;
    const hasRips = wallHasRips(wall, settings.panelWidthIn);
    const panelsFromIn = hasRips ? (wall.blockLineIn as number) : bottomIn;
    const tallestIn = wallHeight(wall) + Math.max(0, overhangRise(wall));
    const courseSeamsIn = courseSeams(panelsFromIn, tallestIn, settings.panelLengthsIn, smallestIn);
    const cut = {
      wall,
      openings,
      studs,
      seams,
      bottomIn,
      panelsFromIn,
      hasRips,
      courseSeamsIn,
    };
    return {
      ...cut,
      panels: panelPieces(cut),
      ripRuns: ripRunsOf(cut, settings.panelWidthIn),
    };
  });
}

/** How much higher than the framing a raked panel gets where it runs past the high end. */
function overhangRise(wall: Wall): number {
  const { startIn, endIn } = wall.span;
  return Math.max(heightAt(wall.top, startIn), heightAt(wall.top, endIn)) - wallHeight(wall);
}

/**
 * Rips need a stud space of wall above the block line all along; a low wall, or a rake that dips under it, has none
 * (common practice, no source).
 * @throws {CalcError} out-of-range: a block line that makes the rips taller than a panel is wide
 */
export function wallHasRips(wall: Wall, panelWidthIn: number): boolean {
  const { blockLineIn } = wall;
  if (blockLineIn === undefined) return false;
  const ripIn = blockLineIn + wall.belowIn;
  if (ripIn > panelWidthIn + TINY_IN) {
    throw outOfRange(
      `rips would be ${shown(ripIn)} in tall (Block line ${shown(blockLineIn)} + Below ${shown(wall.belowIn)}); at most ${shown(panelWidthIn)}, a panel's width: ${shorterRip(wall.belowIn, panelWidthIn)}`
    );
  }
  const { startIn, endIn } = wall.span;
  const lowestIn = Math.min(heightAt(wall.top, startIn), heightAt(wall.top, endIn));
  return lowestIn >= blockLineIn + wall.spacingIn;
}

/** Where the edge nails of a piece's plumb edges go: into the end stud where the panel runs past. */
export function nailLines(
  wall: Wall,
  shape: PieceShape,
  studIn: number
): readonly [number, number] {
  const inset = edgeInset(shape.rightIn - shape.leftIn);
  let left = shape.leftIn + inset;
  let right = shape.rightIn - inset;
  if (endReach(wall.leftEnd, wall.thicknessIn) > 0) {
    left = Math.min(right, Math.max(left, studIn / 2));
  }
  if (endReach(wall.rightEnd, wall.thicknessIn) > 0) {
    right = Math.max(left, Math.min(right, wall.lengthIn - studIn / 2));
  }
  return [left, right];
}

/** Nails stand 3/8 in from an edge. @source SDPWS 4.3.7.1, from memory: confirm in the book */
export const EDGE_DISTANCE_IN = 0.375;

/** Edge distance of a piece so narrow that both edges' nails would cross: its middle. */
export function edgeInset(sizeIn: number): number {
  return Math.min(EDGE_DISTANCE_IN, sizeIn / 2);
}
