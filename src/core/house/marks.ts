/** The crew's marks for one wall, level, raked or with a peak. */
import { TINY_IN } from "../check.js";
import { type StudMark, studMarks } from "../layout.js";
import { type Plates, cutStudTo } from "../rake-studs.js";
import { feetInches } from "../units.js";
import { isLevel } from "../wall-top.js";
import type { Settings } from "./settings.js";
import type { Opening, Wall } from "./walls.js";

export interface CrewMark {
  readonly stud: StudMark;
  readonly tapeText: string;
  /** undefined where the plates leave no room for a stud */
  readonly cut: { longPointIn: number; lengthIn: number; bevelDeg: number } | undefined;
  readonly isRaked: boolean;
  readonly note: string;
}

/** Plates as the settings have them. */
export function platesOf(settings: Settings): Plates {
  return {
    bottomCount: settings.bottomPlates,
    topCount: settings.topPlates,
    plateIn: settings.plateIn,
  };
}

/**
 * Marks of one wall with stud lengths, and what stands in an opening.
 *
 * @param wall     the wall as takeoffHouse reads it, in
 * @param openings openings of the house; those of other walls are left out
 * @param settings settings of the house: stud, plates and panel width, in
 * @returns one row a stud, left to right: its mark, the burned tape's reading as text to the nearest 1/16, long point and
 *   length, in, and bevel, deg, not rounded; no cut where the plates leave no room
 * @shape rows of stud, tapeText, cut, isRaked, note
 * @throws {CalcError} as studMarks
 * @source as studMarks
 * @example [takeoffHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 96, 96, "free", "free"]], [], [["Foam", 1.25], ["Panel", 0.625]])].flatMap(({ walls, openings, settings }) => walls.flatMap((wall) => crewMarks(wall, openings, settings)))[1]?.tapeText // => "1'-4\""
 * @example [takeoffHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 96, 96, "free", "free"]], [], [["Foam", 1.25], ["Panel", 0.625]])].flatMap(({ walls, openings, settings }) => walls.flatMap((wall) => crewMarks(wall, openings, settings)))[1]?.cut?.lengthIn // => 91.5
 */
export function crewMarks(
  wall: Wall,
  openings: readonly Opening[],
  settings: Settings
): CrewMark[] {
  const studs = studMarks(
    wall.lengthIn,
    wall.thicknessIn,
    wall.leftEnd,
    wall.rightEnd,
    wall.spacingIn,
    wall.from,
    settings.studIn,
    settings.panelWidthIn,
    settings.smallestIn ?? wall.spacingIn
  );
  const plates = platesOf(settings);
  const isRaked = !isLevel(wall.top);
  const own = openings.filter((opening) => opening.wall === wall.name);
  return studs.map((stud) => {
    const cut = cutStudTo(wall.top, stud.centerIn, settings.studIn, plates);
    const opening = own.find(
      (each) => stud.centerIn > each.leftIn + TINY_IN && stud.centerIn < each.rightIn - TINY_IN
    );
    const notes = [stud.isEndStud ? "end stud" : "", opening ? `cripple at ${opening.name}` : ""];
    return {
      stud,
      tapeText: feetInches(stud.tapeIn),
      cut: cut.lengthIn > 0 ? cut : undefined,
      isRaked,
      note: notes.filter(Boolean).join(", "),
    };
  });
}
