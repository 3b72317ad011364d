/** Seeded random walls, openings and settings, as the tables a person would type. */
import fc from "fast-check";
import { type HouseTakeoff, takeoffHouse } from "../../src/core/house/takeoff.js";
import type { Cell } from "../../src/core/house/tables.js";
import type { Side, WallEnd } from "../../src/core/corners.js";
import { type Point, lineAt } from "./geometry.js";

export interface WallCase {
  readonly name: string;
  readonly lengthIn: number;
  readonly heightIn: number;
  readonly rightIn: number;
  readonly peak: { readonly atIn: number; readonly heightIn: number } | undefined;
  readonly leftEnd: WallEnd;
  readonly rightEnd: WallEnd;
  readonly belowIn: number;
  readonly spacingIn: number;
  readonly from: Side;
}

export interface OpeningCase {
  readonly wall: string;
  readonly name: string;
  readonly leftIn: number;
  readonly sillIn: number;
  readonly widthIn: number;
  readonly heightIn: number;
}

export interface HouseCase {
  readonly walls: readonly WallCase[];
  readonly openings: readonly OpeningCase[];
  readonly settings: Readonly<Record<string, Cell>>;
}

/** Lengths to the sixteenth, as a tape gives them. */
export const tape = (fromIn: number, toIn: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.ceil(fromIn * 16), max: Math.floor(toIn * 16) }).map((n) => n / 16);

/** Mostly tape lengths, now and then one that no tape shows, as typed in millimeters. */
const reach = (fromIn: number, toIn: number): fc.Arbitrary<number> =>
  fc.oneof(
    { weight: 4, arbitrary: tape(fromIn, toIn) },
    { weight: 1, arbitrary: fc.double({ min: fromIn, max: toIn, noNaN: true }) }
  );

export const WALL_END = fc.constantFrom<WallEnd>("past", "flush", "tight", "short", "free");
export const FROM = fc.constantFrom<Side>("left", "right");
export const SPACING = fc.constantFrom(12, 16, 24);
export const FOAM = fc.constantFrom(0.5, 0.75, 1.25, 1.75);

const level = reach(84, 150).map((heightIn) => ({ heightIn, rightIn: heightIn, peak: undefined }));
const tall = reach(150, 300).map((heightIn) => ({ heightIn, rightIn: heightIn, peak: undefined }));
const rake = fc
  .tuple(reach(0, 200), reach(24, 260))
  .map(([heightIn, rightIn]) => ({ heightIn, rightIn, peak: undefined }));
/** a rake that falls, and a gable whose plate line may be the deck itself */
const fall = rake.map((each) => ({ ...each, heightIn: each.rightIn, rightIn: each.heightIn }));
const gable = fc
  .record({ eaves: fc.constantFrom(0, 24, 96, 109.125), rise: reach(12, 150), at: tape(1, 15) })
  .map(({ eaves, rise, at }) => ({
    heightIn: eaves,
    rightIn: eaves,
    peak: { share: at / 16, heightIn: eaves + rise },
  }));

export const wallCase = (name: string): fc.Arbitrary<WallCase> =>
  fc
    .record({
      lengthIn: fc.oneof(reach(24, 480), fc.constantFrom(48, 96, 144, 192, 240, 384)),
      top: fc.oneof(level, level, tall, rake, fall, gable),
      leftEnd: WALL_END,
      rightEnd: WALL_END,
      belowIn: fc.oneof(fc.constant(0), tape(1, 12)),
      spacingIn: SPACING,
      from: FROM,
    })
    .map(({ top, lengthIn, ...rest }) => ({
      name,
      lengthIn,
      ...rest,
      heightIn: top.heightIn,
      rightIn: top.rightIn,
      peak: top.peak && { atIn: lengthIn * top.peak.share, heightIn: top.peak.heightIn },
    }));

export function topOf(wall: WallCase): Point[] {
  const left = { xIn: 0, heightIn: wall.heightIn };
  const right = { xIn: wall.lengthIn, heightIn: wall.rightIn };
  return wall.peak
    ? [left, { xIn: wall.peak.atIn, heightIn: wall.peak.heightIn }, right]
    : [left, right];
}

/** Kinds of openings, as shares of what the wall leaves room for. */
const opening = fc.record({
  kind: fc.constantFrom("door", "garage", "window", "band", "full", "vent"),
  at: fc.oneof(tape(0, 1), fc.constantFrom(0, 1)),
  a: tape(0, 1),
  b: tape(0, 1),
  snap: fc.boolean(),
});

function sixteenth(value: number): number {
  return Math.round(value * 16) / 16;
}

/** Doors, wide garage doors, windows, windows over several panels, openings as high as the wall. */
function fit(
  wall: WallCase,
  wanted: { kind: string; at: number; a: number; b: number; snap: boolean },
  name: string
): OpeningCase | undefined {
  const [widthIn, sillIn, heightIn] = {
    door: [32 + 8 * wanted.a, 0, 80 + 4 * wanted.b],
    garage: [96 + 96 * wanted.a, 0, 84],
    window: [16 + 56 * wanted.a, 20 + 20 * wanted.b, 24 + 36 * wanted.b],
    band: [60 + 130 * wanted.a, 30, 24 + 20 * wanted.b],
    full: [40 + 60 * wanted.a, -wall.belowIn, wall.belowIn + 84],
    vent: [12 + 12 * wanted.a, 2, 8],
  }[wanted.kind] as [number, number, number];
  const width = sixteenth(widthIn);
  const room = wall.lengthIn - width;
  if (room < 0) return undefined;
  // at 0 and 1 the opening stands at the wall's end; snapped, its jambs stand on layout marks
  const left = wanted.snap
    ? Math.min(room, Math.round((room * wanted.at) / 16) * 16)
    : sixteenth(room * wanted.at);
  if (left < 0 || left + width > wall.lengthIn) return undefined;
  const height = sixteenth(heightIn);
  const sill = sixteenth(sillIn);
  const top = topOf(wall);
  const roof = Math.min(lineAt(top, left), lineAt(top, left + width));
  if (sill + height > roof) return undefined;
  return { wall: wall.name, name, leftIn: left, sillIn: sill, widthIn: width, heightIn: height };
}

export function overlaps(a: OpeningCase, b: OpeningCase): boolean {
  return (
    a.wall === b.wall &&
    a.leftIn < b.leftIn + b.widthIn &&
    b.leftIn < a.leftIn + a.widthIn &&
    a.sillIn < b.sillIn + b.heightIn &&
    b.sillIn < a.sillIn + a.heightIn
  );
}

/** A house of up to so many walls, each with up to four openings that fit. */
export const houseCase = (mostWalls: number): fc.Arbitrary<HouseCase> =>
  fc
    .record({
      walls: fc
        .integer({ min: 1, max: mostWalls })
        .chain((count) =>
          fc.tuple(...Array.from({ length: count }, (_, index) => wallCase(`W${index + 1}`)))
        ),
      wanted: fc.array(fc.tuple(fc.nat({ max: mostWalls - 1 }), opening), { maxLength: 6 }),
      foam: FOAM,
      blockLine: fc.oneof(fc.constant(undefined), tape(4, 11.9)),
      lengths: fc.constantFrom("96, 108, 120", "96; 120", "108"),
    })
    .map(({ walls, wanted, foam, blockLine, lengths }) => {
      const openings: OpeningCase[] = [];
      wanted.forEach(([index, each], number) => {
        const wall = walls[index % walls.length] as WallCase;
        const one = fit(wall, each, `O${number + 1}`);
        if (one && !openings.some((other) => overlaps(other, one))) openings.push(one);
      });
      const settings: Record<string, Cell> = {
        Foam: foam,
        Panel: 0.625,
        "Panel lengths": lengths,
      };
      if (blockLine !== undefined) settings["Block line"] = blockLine;
      return { walls, openings, settings };
    });

export const WALL_HEADER = [
  "Wall",
  "Length",
  "Height",
  "Right height",
  "Peak height",
  "Peak at",
  "Left end",
  "Right end",
  "Below",
  "Spacing",
  "From",
] as const;

export function wallRows(walls: readonly WallCase[]): Cell[][] {
  return [
    [...WALL_HEADER],
    ...walls.map((wall) => [
      wall.name,
      wall.lengthIn,
      wall.heightIn,
      wall.rightIn,
      wall.peak?.heightIn ?? null,
      wall.peak?.atIn ?? null,
      wall.leftEnd,
      wall.rightEnd,
      wall.belowIn,
      wall.spacingIn,
      wall.from,
    ]),
  ];
}

export function openingRows(openings: readonly OpeningCase[]): Cell[][] {
  return [
    ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
    ...openings.map((each) => [
      each.wall,
      each.name,
      each.leftIn,
      each.sillIn,
      each.widthIn,
      each.heightIn,
    ]),
  ];
}

export function settingRows(settings: HouseCase["settings"]): Cell[][] {
  return [["Setting", "Value"], ...Object.entries(settings)];
}

export function tablesOf(house: HouseCase): [Cell[][], Cell[][], Cell[][]] {
  return [wallRows(house.walls), openingRows(house.openings), settingRows(house.settings)];
}

const LENGTH_HEADERS = new Set<Cell>([
  "Length",
  "Height",
  "Right height",
  "Peak height",
  "Peak at",
  "Below",
  "Spacing",
  "From left",
  "Sill",
  "Width",
]);

/** The same table with every length in another unit and the unit in its header. */
export function inUnit(table: readonly Cell[][], unit: "ft" | "mm"): Cell[][] {
  const header = table[0] as Cell[];
  const factor = unit === "ft" ? 1 / 12 : 25.4;
  return table.map((row, index) =>
    row.map((cell, column) => {
      if (!LENGTH_HEADERS.has(header[column])) return cell;
      if (index === 0) return `${String(cell).toUpperCase()} (${unit})`;
      return typeof cell === "number" ? cell * factor : cell;
    })
  );
}

const known = new Map<string, HouseTakeoff>();

/** The takeoff of a house; one seed gives many tests the same houses, which are taken off once. */
export function takeoffOf(house: HouseCase): HouseTakeoff {
  const key = JSON.stringify(house);
  const before = known.get(key);
  if (before) return before;
  const made = takeoffHouse(...tablesOf(house));
  known.set(key, made);
  return made;
}

/** The same wall seen from inside: left and right change places. */
export function mirrored(house: HouseCase): HouseCase {
  const lengths = new Map(house.walls.map((wall) => [wall.name, wall.lengthIn]));
  return {
    settings: house.settings,
    walls: house.walls.map((wall) => ({
      ...wall,
      heightIn: wall.rightIn,
      rightIn: wall.heightIn,
      peak: wall.peak && { ...wall.peak, atIn: wall.lengthIn - wall.peak.atIn },
      leftEnd: wall.rightEnd,
      rightEnd: wall.leftEnd,
      from: wall.from === "left" ? "right" : "left",
    })),
    openings: house.openings.map((each) => ({
      ...each,
      leftIn: (lengths.get(each.wall) as number) - each.leftIn - each.widthIn,
    })),
  };
}
