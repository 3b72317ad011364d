/** A whole house: its walls cut up, its pieces on panels, its tape, nails and backing counted. */
import { TINY_IN } from "../check.js";
import { backingAtCorner } from "../backing.js";
import { endReach } from "../corners.js";
import { planCuts } from "../cut-plan/plan-cuts.js";
import type { CutPiece, CutPlan, CutScrap, RipRun } from "../cut-plan/problem.js";
import { FINEST_CUT_IN } from "../limits.js";
import { cornerTapeFeet, insideCornerTapeFeet, openingTapeFeet } from "../tape.js";
import { feet, inchText } from "../units.js";
import { type NailPoint, nailPoints } from "./nail-points.js";
import { type Settings, readSettings } from "./settings.js";
import { type Segment, bottomEdge, horizontalSeams, verticalSeams } from "./seams.js";
import { type Table, nameKey } from "./tables.js";
import { type Opening, type Wall, cornerHeight, readOpenings, readWalls } from "./walls.js";
import {
  type CutWall,
  type WallPiece,
  cutWall,
  nailLines,
  routedBy,
  shapeBox,
  shapeTop,
} from "./wall-pieces.js";

/** One piece of the house with its name and its place in the cut plan. */
export interface HousePiece {
  /** as written on the piece: North-3, North-R1, North/2-3 for the second of equal walls */
  readonly label: string;
  /** id in the cut plan */
  readonly planId: string;
  readonly piece: WallPiece;
}

/** One wall as built; a wall with a quantity stands here that many times. */
export interface WallTakeoff {
  readonly cut: CutWall;
  /** 1 for the first of equal walls */
  readonly copy: number;
  readonly pieces: readonly HousePiece[];
  readonly seams: readonly Segment[];
  readonly seamTapeFt: number;
  readonly nailCount: number;
  /** backing pieces for the ends that stop short at an inside corner */
  readonly backingCount: number;
}

export interface HouseTakeoff {
  readonly settings: Settings;
  readonly walls: readonly Wall[];
  readonly openings: readonly Opening[];
  readonly unknownHeaders: readonly { readonly table: string; readonly header: string }[];
  readonly built: readonly WallTakeoff[];
  readonly plan: CutPlan;
  /** what each piece of scrap is, by its id in the plan */
  readonly scrapNames: ReadonlyMap<string, string>;
}

/** A drop smaller than this on one side is not worth picking up; common practice, no source. */
const SMALLEST_DROP_IN = 4;

interface Draft {
  readonly cut: CutWall;
  readonly copy: number;
  readonly panels: HousePiece[];
  readonly runIds: readonly string[];
}

/** Width on the saw: seams give up half the gap on each side. */
function sawWidth(piece: WallPiece, cut: CutWall, gapIn: number): number {
  const isSeam = (x: number): boolean => cut.seams.some((seam) => Math.abs(seam - x) < TINY_IN);
  const sides = Number(isSeam(piece.leftIn)) + Number(isSeam(piece.rightIn));
  const wholeIn = piece.rightIn - piece.leftIn;
  const sawnIn = wholeIn - (sides * gapIn) / 2;
  // the tip of a rake may be narrower than its half of the gap: it is cut as it is
  return sawnIn >= FINEST_CUT_IN ? sawnIn : wholeIn;
}

/** The piece as the planner cuts it; a top of more than one stretch comes out of its rectangle. */
function toCutPiece(draft: HousePiece, cut: CutWall, gapIn: number): CutPiece {
  const { piece, planId } = draft;
  const first = piece.top[0]?.heightIn ?? 0;
  const last = piece.top.at(-1)?.heightIn ?? 0;
  const widthIn = sawWidth(piece, cut, gapIn);
  if (piece.top.length > 2) {
    const heightIn = shapeTop(piece) - piece.bottomIn;
    return { id: planId, widthIn, leftIn: heightIn, rightIn: heightIn };
  }
  const positive = (height: number): number => Math.max(0, height - piece.bottomIn);
  return { id: planId, widthIn, leftIn: positive(first), rightIn: positive(last) };
}

function wallLabel(wall: Wall, copy: number): string {
  return copy === 1 ? wall.name : `${wall.name}/${copy}`;
}

/** What drops out of the openings of one wall and is big enough to use. */
function dropsOf(
  draft: Draft,
  settings: Settings
): { name: string; scrap: Omit<CutScrap, "id"> }[] {
  const lost = 2 * settings.routerCutIn;
  return draft.panels.flatMap(({ label, piece }) =>
    piece.routed.flatMap(({ opening, box }) => {
      const widthIn = box.rightIn - box.leftIn - lost;
      const heightIn = box.topIn - box.bottomIn - lost;
      if (Math.min(widthIn, heightIn) < SMALLEST_DROP_IN) return [];
      const name = `${opening} out of ${label}, ${inchText(widthIn)} x ${inchText(heightIn)}`;
      return [{ name, scrap: { widthIn, heightIn } }];
    })
  );
}

/** Cost of a panel of each length: as given, or its area in square feet. */
export function panelCosts(settings: Settings): number[] {
  return settings.panelLengthsIn.map(
    (length, index) => settings.panelCosts?.[index] ?? feet(length) * feet(settings.panelWidthIn)
  );
}

/** The joint a planned rip ends at: the plan counts in what a saw can cut, the wall in exact inches. */
function jointAt(jointsIn: readonly number[], plannedIn: number): number {
  return jointsIn.reduce((best, each) =>
    Math.abs(each - plannedIn) < Math.abs(best - plannedIn) ? each : best
  );
}

function ripPiece(cut: CutWall, runIndex: number, startIn: number, endIn: number): WallPiece {
  const run = cut.ripRuns[runIndex] as CutWall["ripRuns"][number];
  const leftIn = jointAt(run.jointsIn, startIn);
  const rightIn = jointAt(run.jointsIn, endIn);
  const level = (xIn: number): { xIn: number; heightIn: number } => ({ xIn, heightIn: run.topIn });
  const shape = {
    leftIn,
    rightIn,
    bottomIn: run.bottomIn,
    top: [level(leftIn), level(rightIn)],
  };
  return { ...shape, kind: "rip", course: 0, routed: routedBy(shapeBox(shape), cut.openings) };
}

/** Nails of one piece of a wall: the points that are drawn are the points that are counted. */
export function pieceNails(cut: CutWall, piece: WallPiece, studIn: number): NailPoint[] {
  return nailPoints(
    piece,
    piece.routed.map((each) => each.box),
    {
      edgeIn: cut.wall.edgeIn,
      fieldIn: cut.wall.fieldIn,
      studsIn: cut.studs.filter((stud) => !stud.isEndStud).map((stud) => stud.centerIn),
      linesIn: nailLines(cut.wall, piece, studIn),
    }
  );
}

function finishWall(draft: Draft, plan: CutPlan, settings: Settings): WallTakeoff {
  const { cut, copy, panels, runIds } = draft;
  const name = wallLabel(cut.wall, copy);
  const rips = plan.rips
    .flatMap((rip) => {
      const runIndex = runIds.indexOf(rip.runId);
      return runIndex < 0
        ? []
        : [{ planId: rip.id, piece: ripPiece(cut, runIndex, rip.startIn, rip.endIn) }];
    })
    .sort((a, b) => a.piece.leftIn - b.piece.leftIn || a.piece.bottomIn - b.piece.bottomIn)
    .map((rip, index) => ({ ...rip, label: `${name}-R${index + 1}` }));
  const pieces = [...panels, ...rips];
  const seams = [
    ...verticalSeams(
      cut,
      rips.map((rip) => rip.piece)
    ),
    ...horizontalSeams(cut),
  ];
  const shortEnds = [cut.wall.leftEnd, cut.wall.rightEnd].filter((end) => end === "short").length;
  return {
    cut,
    copy,
    pieces,
    seams,
    seamTapeFt: feet(seams.reduce((sum, each) => sum + each.lengthIn, 0)),
    nailCount: pieces.reduce(
      (sum, each) => sum + pieceNails(cut, each.piece, settings.studIn).length,
      0
    ),
    backingCount:
      shortEnds *
      backingAtCorner(settings.thicknessIn, settings.backing, settings.nailingIn, settings.studIn),
  };
}

/**
 * Takes a house off its tables.
 *
 * @param wallsTable    the Walls table, header row first; lengths in the unit of their header, in where it names none
 * @param openingsTable the Openings table, the same; blank for none
 * @param settingsTable two columns, name and value; Foam and Panel have no default
 * @returns every piece, the cut plan, seams, nails and backing; lengths, in, from the left framing corner and the deck;
 *   tape, ft
 * @shape one record
 * @throws {CalcError} with the table, row and wall in front of the message. wrong-kind: a table that is no range, a cell
 *   that cannot be read or is blank; out-of-range: a missing or doubled header, no wall, a name twice, a value outside its
 *   limits, an opening that does not fit its wall; not-covered: no seam leaves both last pieces wide enough, a nail shank
 *   the penetration basis has no row for
 * @source layout as panelBreaks; cut plan: docs/cut-plan.md; tape, nails and backing: common practice, no source
 * @example takeoffHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 96, 96, "free", "free"]], [], [["Foam", 1.25], ["Panel", 0.625]]).plan.panelCount // => 2
 */
export function takeoffHouse(
  wallsTable: Table,
  openingsTable: Table,
  settingsTable: Table
): HouseTakeoff {
  const settings = readSettings(settingsTable);
  const walls = readWalls(wallsTable, settings);
  const openings = readOpenings(openingsTable, walls.walls);
  const unknownHeaders = [
    ...walls.unknownHeaders.map((header) => ({ table: "walls", header })),
    ...openings.unknownHeaders.map((header) => ({ table: "openings", header })),
    ...settings.unknown.map((header) => ({ table: "settings", header })),
  ];
  return {
    ...buildHouse(walls.walls, openings.openings, settings),
    unknownHeaders,
  };
}

/** Openings of one wall, left to right, so that the order of their rows does not matter. */
export function openingsOf(wall: Wall, openings: readonly Opening[]): Opening[] {
  return openings
    .filter((opening) => opening.wall === wall.name)
    .sort((a, b) => a.leftIn - b.leftIn || a.bottomIn - b.bottomIn);
}

/** The planner meets walls in the order of their names: moving rows must not move the order. */
function byWallName(cuts: readonly CutWall[]): CutWall[] {
  return [...cuts].sort((a, b) => (nameKey(a.wall.name) < nameKey(b.wall.name) ? -1 : 1));
}

/** The same from rows already read. */
export function buildHouse(
  walls: readonly Wall[],
  openings: readonly Opening[],
  settings: Settings
): Omit<HouseTakeoff, "unknownHeaders"> {
  const cuts = walls.map((wall) => cutWall(wall, openingsOf(wall, openings), settings));
  const drafts: Draft[] = [];
  const pieces: CutPiece[] = [];
  const rips: RipRun[] = [];
  for (const cut of byWallName(cuts)) {
    const { wall } = cut;
    for (let copy = 1; copy <= wall.quantity; copy++) {
      const name = wallLabel(wall, copy);
      const panels = cut.panels.map((piece, index) => {
        const planId = `p${pieces.length}`;
        const each = { label: `${name}-${index + 1}`, planId, piece };
        pieces.push(toCutPiece(each, cut, settings.gapIn));
        return each;
      });
      const runIds = cut.ripRuns.map((run) => {
        const id = `r${rips.length}`;
        rips.push({
          id,
          heightIn: run.topIn - run.bottomIn,
          jointsIn: run.jointsIn,
          smallestIn: wall.spacingIn,
          seamsIn: run.seamsIn,
        });
        return id;
      });
      drafts.push({ cut, copy, panels, runIds });
    }
  }
  const scrapNames = new Map<string, string>();
  const scrap = drafts
    .flatMap((draft) => dropsOf(draft, settings))
    .map((drop, index) => {
      const id = `s${index}`;
      scrapNames.set(id, drop.name);
      return { id, ...drop.scrap };
    });
  const costs = panelCosts(settings);
  const plan = planCuts({
    panelWidthIn: settings.panelWidthIn,
    kerfIn: settings.kerfIn,
    canTurn: settings.turnPieces,
    stock: settings.panelLengthsIn.map((lengthIn, index) => ({
      lengthIn,
      cost: costs[index] as number,
    })),
    pieces,
    rips,
    scrap,
    keepIn: settings.keepIn,
  });
  const place = new Map(walls.map((wall, index) => [wall, index]));
  const inRowOrder = [...drafts].sort(
    (a, b) => (place.get(a.cut.wall) as number) - (place.get(b.cut.wall) as number)
  );
  const built = inRowOrder.map((draft) => finishWall(draft, plan, settings));
  return { settings, walls, openings, built, plan, scrapNames };
}

/** How far to burn at the end laid out from: +t past, −t (hold back) short, else 0. */
export function burnAtStart(wall: Wall): number {
  return endReach(wall.from === "left" ? wall.leftEnd : wall.rightEnd, wall.thicknessIn);
}

/** Feet of corner and opening tape of the whole house, before any rounding. */
export interface TapeNeed {
  readonly seamFt: number;
  readonly outsideCornerFt: number;
  readonly insideCornerFt: number;
  readonly openingFt: number;
  readonly sillFt: number;
}

/** Heights of the corners of one kind: one of each pair of ends, the larger side where they differ. */
function cornerHeights(walls: readonly Wall[], ends: readonly [string, string]): number[] {
  const heights = ends.map((end) =>
    walls.flatMap((wall) => {
      const here: number[] = [];
      if (wall.leftEnd === end) here.push(cornerHeight(wall, "left"));
      if (wall.rightEnd === end) here.push(cornerHeight(wall, "right"));
      return Array.from({ length: wall.quantity }, () => here).flat();
    })
  ) as [number[], number[]];
  const sum = (list: number[]): number => list.reduce((total, each) => total + each, 0);
  return sum(heights[0]) >= sum(heights[1]) ? heights[0] : heights[1];
}

export function outsideCornerHeights(walls: readonly Wall[]): number[] {
  return cornerHeights(walls, ["past", "flush"]).filter((height) => height > 0);
}
export function insideCornerHeights(walls: readonly Wall[]): number[] {
  return cornerHeights(walls, ["short", "tight"]).filter((height) => height > 0);
}

/**
 * Whether a wall's bottom edge is foam at the mud sill: not where it stands on the panels of a wall below, nor where the
 * house has rips and this wall is the one without.
 */
function reachesSill(wall: Wall, settings: Settings): boolean {
  if (wall.hasBottomSeam) return false;
  return wall.blockLineIn !== undefined || settings.blockLineIn === undefined;
}

export function tapeNeed(house: Omit<HouseTakeoff, "unknownHeaders">): TapeNeed {
  const { settings, walls, openings, built } = house;
  const total = (list: readonly number[]): number => list.reduce((sum, each) => sum + each, 0);
  const quantityOf = new Map(walls.map((wall) => [wall.name, wall.quantity]));
  return {
    seamFt: total(built.map((each) => each.seamTapeFt)),
    outsideCornerFt: total(
      outsideCornerHeights(walls).map((height) => cornerTapeFeet(height, 1, settings.cornerTape))
    ),
    insideCornerFt: total(
      insideCornerHeights(walls).map((height) =>
        insideCornerTapeFeet(height, 1, settings.cornerPieceIn, settings.cornerLapIn)
      )
    ),
    openingFt: total(
      openings.map((opening) =>
        openingTapeFeet(
          opening.rightIn - opening.leftIn,
          opening.topIn - opening.bottomIn,
          opening.quantity * (quantityOf.get(opening.wall) ?? 1),
          settings.extensionIn
        )
      )
    ),
    sillFt: settings.sillTape
      ? total(
          built
            .filter(({ cut }) => reachesSill(cut.wall, settings))
            .map(({ cut }) => feet(bottomEdge(cut)))
        )
      : 0,
  };
}
