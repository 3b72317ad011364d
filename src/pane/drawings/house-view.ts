/** What the drawings and the printed sheets say about a house, in words and tape fractions. */
import { type WallEnd, type Side } from "../../core/corners.js";
import type { CutPlacement } from "../../core/cut-plan/problem.js";
import { crewMarks } from "../../core/house/marks.js";
import {
  type HousePiece,
  type HouseTakeoff,
  type WallTakeoff,
  burnAtStart,
} from "../../core/house/takeoff.js";
import { type Cell, nameKey } from "../../core/house/tables.js";
import type { Wall } from "../../core/house/walls.js";
import { checkNumber } from "../../core/check.js";
import { feetInches, inchText } from "../../core/units.js";

/** Inches as they are said in a note: `46-1/8`. Sixteenths, as a tape shows. */
export function inches(lengthIn: number): string {
  return inchText(lengthIn).replace(" ", "-");
}

/** A thickness, to the sixty-fourth: foam in whole millimeters is no sixteenth. */
export function thicknessText(lengthIn: number): string {
  return inchText(lengthIn, 64).replace(" ", "-");
}

/** Where a piece is cut from. */
export interface PiecePlace {
  /** index in the plan's sheets */
  readonly sheetIndex: number;
  /** `12` for a panel bought, `S2` for a scrap */
  readonly sheetName: string;
  readonly placement: CutPlacement;
}

/** What is looked up again and again while a house is drawn; found once a house. */
interface LookUps {
  readonly sheetNames: readonly string[];
  readonly places: ReadonlyMap<string, PiecePlace>;
  readonly pieces: ReadonlyMap<string, HousePiece>;
  readonly walls: ReadonlyMap<string, Wall>;
  /** the wall that names this one as its next */
  readonly before: ReadonlyMap<string, Wall>;
}

const KNOWN = new WeakMap<HouseTakeoff, LookUps>();

function lookUps(house: HouseTakeoff): LookUps {
  const known = KNOWN.get(house);
  if (known) return known;
  let panels = 0;
  let scraps = 0;
  const names = house.plan.sheets.map((sheet) =>
    sheet.kind === "panel" ? String(++panels) : `S${++scraps}`
  );
  const before = new Map<string, Wall>();
  for (const wall of house.walls) {
    const key = wall.nextWall === undefined ? undefined : nameKey(wall.nextWall);
    if (key !== undefined && !before.has(key)) before.set(key, wall);
  }
  const made: LookUps = {
    sheetNames: names,
    places: new Map(
      house.plan.sheets.flatMap((sheet, sheetIndex) =>
        sheet.placements.map((placement): [string, PiecePlace] => [
          placement.id,
          { sheetIndex, sheetName: names[sheetIndex] as string, placement },
        ])
      )
    ),
    pieces: new Map(
      house.built.flatMap(({ pieces }) => pieces.map((each) => [each.planId, each] as const))
    ),
    walls: new Map(house.walls.map((wall) => [nameKey(wall.name), wall])),
    before,
  };
  KNOWN.set(house, made);
  return made;
}

/** Panels are numbered from 1, scrap used from S1: the same names as in the list of cuts. */
export function sheetNames(house: HouseTakeoff): readonly string[] {
  return lookUps(house).sheetNames;
}

/** Place of every piece by its id in the plan. */
export function piecePlaces(house: HouseTakeoff): ReadonlyMap<string, PiecePlace> {
  return lookUps(house).places;
}

/** Every piece by its id in the plan. */
export function housePieces(house: HouseTakeoff): ReadonlyMap<string, HousePiece> {
  return lookUps(house).pieces;
}

/** `panel 12`, or `scrap S2`. */
export function sheetText(sheetName: string): string {
  return sheetName.startsWith("S") ? `scrap ${sheetName}` : `panel ${sheetName}`;
}

/**
 * Size as it is cut: width x height, with every height where the top slopes: `48 x 84 / 96`.
 * The width is the saw's, less the gap where panels keep one.
 */
export function pieceSize(each: HousePiece, place: PiecePlace | undefined): string {
  const { leftIn, rightIn, bottomIn, top } = each.piece;
  const placed = place?.placement;
  const widthIn = placed
    ? placed.turned === 90
      ? placed.heightIn
      : placed.widthIn
    : rightIn - leftIn;
  const heights = top.map((point) => inches(Math.max(0, point.heightIn - bottomIn)));
  const isLevel = heights.every((height) => height === heights[0]);
  return `${inches(widthIn)} x ${isLevel ? (heights[0] as string) : heights.join(" / ")}`;
}

/** The part of a piece's name after the wall's: `3`, `R1`. */
export function shortName(each: HousePiece): string {
  return each.label.slice(each.label.lastIndexOf("-") + 1);
}

/** The built wall of a name; equal walls are told apart by their copy. */
export function builtWall(house: HouseTakeoff, wallName: Cell, copy = 1): WallTakeoff {
  const wall = house.wall(wallName);
  const number = checkNumber("copy", copy, { min: 1, max: wall.quantity, whole: true });
  return house.built.find((each) => each.cut.wall === wall && each.copy === number) as WallTakeoff;
}

/** Walls that are built alike, down to the joints of their rips. */
export interface WallGroup {
  readonly wall: Wall;
  /** the one that stands for all */
  readonly takeoff: WallTakeoff;
  readonly copies: readonly WallTakeoff[];
}

/** Every wall once; a wall with a quantity again where its rips are cut otherwise. */
export function wallGroups(house: HouseTakeoff): WallGroup[] {
  const groups = new Map<string, { wall: Wall; takeoff: WallTakeoff; copies: WallTakeoff[] }>();
  for (const takeoff of house.built) {
    const { wall } = takeoff.cut;
    const rips = takeoff.pieces
      .filter((each) => each.piece.kind === "rip")
      .map(({ piece }) => [piece.leftIn, piece.rightIn, piece.bottomIn].join(","));
    const key = `${nameKey(wall.name)}\n${rips.join(";")}`;
    const group = groups.get(key);
    if (group) group.copies.push(takeoff);
    else groups.set(key, { wall, takeoff, copies: [takeoff] });
  }
  return [...groups.values()];
}

/** `North`, or `North/2` for the second of equal walls. */
export function copyName(takeoff: WallTakeoff): string {
  const { name } = takeoff.cut.wall;
  return takeoff.copy === 1 ? name : `${name}/${takeoff.copy}`;
}

/** The wall that meets an end, where the table says so. */
export function neighbour(house: HouseTakeoff, wall: Wall, side: Side): Wall | undefined {
  const { walls, before } = lookUps(house);
  if (side === "left") return before.get(nameKey(wall.name));
  return wall.nextWall === undefined ? undefined : walls.get(nameKey(wall.nextWall));
}

/** What the panel does at an end, in one sentence. */
export function endSentence(end: WallEnd, thicknessIn: number, other: string): string {
  const t = thicknessText(thicknessIn);
  switch (end) {
    case "past":
      return `runs ${t} past the framing corner and hides the edge of ${other}'s panel`;
    case "flush":
      return `ends at the framing corner, behind ${other}'s panel`;
    case "tight":
      return `goes tight to the framing corner and is hung before ${other}'s panel`;
    case "short":
      return `ends ${t} short of the framing corner, at the face of ${other}'s panel`;
    case "free":
      return "stops at the end of the framing; no corner";
  }
}

/** What to do with the tape at the end laid out from. */
export interface Burn {
  readonly side: Side;
  /** `burn 1-7/8`, `hold back 1-7/8`, `start at 0` */
  readonly short: string;
  /** how: `hold the tape with 1-7/8 at the left framing corner; ...` */
  readonly how: string;
  /** the whole instruction */
  readonly words: string;
}

export function burnOf(wall: Wall): Burn {
  const reach = burnAtStart(wall);
  const side = wall.from;
  const amount = thicknessText(Math.abs(reach));
  const usual = [1, 2, 3].map((count) => inches(count * wall.spacingIn)).join(", ");
  const then = `${usual} on the tape are stud centers`;
  const [short, how] =
    reach > 0
      ? [`burn ${amount}`, `hold the tape with ${amount} at the ${side} framing corner`]
      : reach < 0
        ? [
            `hold back ${amount}`,
            `start the tape ${amount} inside the ${side} framing corner, at the face of the other wall's panel`,
          ]
        : ["start at 0", `nothing to burn; start the tape at the ${side} framing corner`];
  return {
    side,
    short,
    how: `${how}; ${then}.`,
    words: `Lay out from the ${side} end. ${short.charAt(0).toUpperCase()}${short.slice(1)}: ${how}; ${then}.`,
  };
}

/** One mark of a wall as a crew reads it. */
export interface MarkRow {
  readonly mark: number;
  /** what the burned tape reads at the stud's center */
  readonly tape: string;
  /** what it reads at the stud's near edge, where the line is drawn */
  readonly line: string;
  readonly breaks: boolean;
  readonly isEndStud: boolean;
  /** its center lies behind the start of the tape */
  readonly isBehind: boolean;
  /** the opening it stands in */
  readonly cripple: string | undefined;
  /** all of it in words */
  readonly note: string;
  /** between the plates, along the long edge; undefined where there is no room for a stud */
  readonly studLength: string | undefined;
  /** of the top cut, deg; only where the top slopes */
  readonly bevel: string | undefined;
}

export interface MarksTable {
  readonly wall: string;
  readonly burn: Burn;
  readonly isRaked: boolean;
  /** in the order they are pulled: from the end laid out from */
  readonly rows: readonly MarkRow[];
}

/** The marks of a wall in the order they come along the tape. */
export function wallMarksTable(house: HouseTakeoff, wallName: Cell): MarksTable {
  return marksOf(house, house.wall(wallName));
}

/** The same of a wall already found. */
export function marksOf(house: HouseTakeoff, wall: Wall): MarksTable {
  const marks = crewMarks(wall, house.openings, house.settings);
  const own = house.openings.filter((each) => each.wall === wall.name);
  const rows = marks.map(({ stud, tapeText, cut, isRaked, note }): MarkRow => {
    const notes = [
      stud.breaksHere ? "panel breaks" : "",
      note,
      stud.tapeIn < 0 ? "behind the start of the tape" : "",
      cut ? "" : "no room for a stud under the plates",
    ];
    return {
      mark: stud.mark,
      tape: tapeText,
      line: feetInches(stud.tapeIn - house.settings.studIn / 2),
      breaks: stud.breaksHere,
      isEndStud: stud.isEndStud,
      isBehind: stud.tapeIn < 0,
      cripple: own.find((each) => stud.centerIn > each.leftIn && stud.centerIn < each.rightIn)
        ?.name,
      note: notes.filter(Boolean).join(", "),
      studLength: cut ? feetInches(cut.lengthIn) : undefined,
      bevel: cut && isRaked ? `${cut.bevelDeg.toFixed(1)}°` : undefined,
    };
  });
  return {
    wall: wall.name,
    burn: burnOf(wall),
    isRaked: marks.some((mark) => mark.isRaked),
    rows: wall.from === "left" ? rows : rows.reverse(),
  };
}
