/** A whole house: its walls cut up, its pieces on panels, its tape, nails and backing counted. */
import { CalcError, TINY_IN, isCalcError } from "../check.js";
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
import { type Cell, type TableSource, nameKey } from "./tables.js";
import {
  type Opening,
  type RowProblem,
  type Wall,
  cornerHeight,
  findWall,
  readOpenings,
  readWalls,
} from "./walls.js";
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

/** What the cut plan decides: which piece comes out of which panel, and where rips meet. */
interface Planned {
  readonly built: readonly WallTakeoff[];
  readonly plan: CutPlan;
  readonly scrapNames: ReadonlyMap<string, string>;
}

/** The rows of a house, read and laid out; plain data, which may go from one thread to another. */
export interface HouseRows {
  readonly settings: Settings;
  /** walls whose row could be read, whether or not their panels can be laid out */
  readonly allWalls: readonly Wall[];
  readonly openings: readonly Opening[];
  /** walls laid out in pieces */
  readonly cuts: readonly CutWall[];
  /** rows that could not be used; the house goes on without them */
  readonly problems: readonly RowProblem[];
  readonly unknownHeaders: readonly { readonly table: string; readonly header: string }[];
  /** the cut plan and what follows from it, once it was asked for */
  planned?: Planned;
}

/**
 * A house as its tables say it, read once. Marks, findings and framing ask for the walls; the cut plan and all that
 * follows from it is worked out when it is first asked for.
 */
export class HouseTakeoff implements HouseRows {
  readonly settings: Settings;
  readonly allWalls: readonly Wall[];
  readonly openings: readonly Opening[];
  readonly cuts: readonly CutWall[];
  readonly problems: readonly RowProblem[];
  readonly unknownHeaders: HouseRows["unknownHeaders"];
  planned?: Planned;

  constructor(rows: HouseRows) {
    this.settings = rows.settings;
    this.allWalls = rows.allWalls;
    this.openings = rows.openings;
    this.cuts = rows.cuts;
    this.problems = rows.problems;
    this.unknownHeaders = rows.unknownHeaders;
    if (rows.planned) this.planned = rows.planned;
  }

  /** Walls that can be built, in the order of their rows. */
  get walls(): readonly Wall[] {
    return this.cuts.map((cut) => cut.wall);
  }
  get built(): readonly WallTakeoff[] {
    return this.made().built;
  }
  get plan(): CutPlan {
    return this.made().plan;
  }
  /** what each piece of scrap is, by its id in the plan */
  get scrapNames(): ReadonlyMap<string, string> {
    return this.made().scrapNames;
  }

  /**
   * One wall by its name, case and spaces ignored.
   *
   * @throws {CalcError} out-of-range: no wall has this name; wrong-kind: no name; else why the wall's row cannot be used
   */
  wall(name: Cell): Wall {
    const key = typeof name === "string" || typeof name === "number" ? nameKey(String(name)) : "";
    const bad = this.problems.find(
      ({ wall, cell }) => cell.table === "walls" && key !== "" && nameKey(wall) === key
    );
    if (bad && !this.walls.some((wall) => nameKey(wall.name) === key)) throw problemError(bad);
    return findWall(this.walls, name);
  }

  /** The house, where no row is missing from it: what is bought is bought for all of it. */
  whole(): this {
    const [problem] = this.problems;
    if (problem) throw problemError(problem);
    return this;
  }

  private made(): Planned {
    return (this.planned ??= planHouse(this.cuts, this.settings));
  }
}

function problemError({ code, message }: RowProblem): CalcError {
  return new CalcError(code, message);
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
 * Reads a house off its tables. A row that cannot be used is one of its problems; the rest of the house goes on.
 *
 * @param wallsTable    the Walls table, header row first; lengths in the unit of their header, in where it names none;
 *   with the place it stands at, messages name the sheet's cells
 * @param openingsTable the Openings table, the same; blank for none
 * @param settingsTable two columns, name and value; Foam and Panel have no default
 * @returns walls, openings, settings and problems; pieces, cut plan, seams, nails and backing when they are asked for;
 *   lengths, in, from the left framing corner and the deck; tape, ft
 * @shape one record
 * @throws {CalcError} wrong-kind: a table that is no range, a setting that cannot be read; out-of-range: a missing or
 *   doubled header, no wall, a setting outside its limits; not-covered: a nail shank the penetration basis has no row for
 * @source layout as panelBreaks; cut plan: docs/cut-plan.md; tape, nails and backing: common practice, no source
 * @example readHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", -5, 96, "free", "free"]], [], [["Foam", 1.25], ["Panel", 0.625]]).problems[0]?.message // => "walls row 2 (wall North): Length must be more than 0 in; got -5"
 */
export function readHouse(
  wallsTable: TableSource,
  openingsTable: TableSource,
  settingsTable: TableSource
): HouseTakeoff {
  const settings = readSettings(settingsTable);
  const walls = readWalls(wallsTable, settings);
  const openings = readOpenings(openingsTable, walls.read);
  const problems = [...walls.problems, ...openings.problems];
  const cuts = walls.read.flatMap((wall) => {
    try {
      return [cutWall(wall, openingsOf(wall, openings.read), settings)];
    } catch (error) {
      if (!isCalcError(error)) throw error;
      const cell = { table: "walls", row: wall.row, column: undefined };
      problems.push({ wall: wall.name, code: error.code, message: error.message, cell });
      return [];
    }
  });
  const unknown = (table: string, headers: readonly string[]): HouseRows["unknownHeaders"] =>
    headers.map((header) => ({ table, header }));
  return new HouseTakeoff({
    settings,
    allWalls: walls.read,
    openings: openings.read,
    cuts,
    problems,
    unknownHeaders: [
      ...unknown("walls", walls.unknownHeaders),
      ...unknown("openings", openings.unknownHeaders),
      ...unknown("settings", settings.unknown),
    ],
  });
}

/**
 * Reads a house of which every row can be used; otherwise as {@link readHouse}.
 *
 * @param wallsTable    as readHouse
 * @param openingsTable as readHouse
 * @param settingsTable as readHouse
 * @returns as readHouse, without problems
 * @shape one record
 * @throws {CalcError} as readHouse; and the first of its problems, with the row or cell and the wall in front: wrong-kind:
 *   a cell that cannot be read or is blank; out-of-range: a name twice, a value outside its limits, an opening that does
 *   not fit its wall; not-covered: no seam leaves both last pieces wide enough
 * @source as readHouse
 * @example takeoffHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 96, 96, "free", "free"]], [], [["Foam", "1-1/4"], ["Panel", "5/8"]]).plan.panelCount // => 2
 */
export function takeoffHouse(
  wallsTable: TableSource,
  openingsTable: TableSource,
  settingsTable: TableSource
): HouseTakeoff {
  return readHouse(wallsTable, openingsTable, settingsTable).whole();
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

/** Plans the cuts of a house and finishes its walls by them. */
function planHouse(cuts: readonly CutWall[], settings: Settings): Planned {
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
  const inRowOrder = [...drafts].sort((a, b) => a.cut.wall.row - b.cut.wall.row);
  const built = inRowOrder.map((draft) => finishWall(draft, plan, settings));
  return { built, plan, scrapNames };
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

export function tapeNeed(house: HouseTakeoff): TapeNeed {
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
