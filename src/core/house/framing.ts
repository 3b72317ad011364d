/**
 * How much of a house's walls is wood: studs on their marks, plates, and what stands round each opening.
 * Counted once where two pieces cross, by walking along the wall.
 */
import { checkNumber, outOfRange } from "../check.js";
import { LIMITS } from "../limits.js";
import { topPlatesPlumb } from "../rake-studs.js";
import { HEADER_R, type HouseWallU, foamR, houseWallU } from "../thermal.js";
import { squareFeet } from "../units.js";
import { type WallTop, heightAt, slopeAt } from "../wall-top.js";
import { crewMarks, platesOf } from "./marks.js";
import { type Settings, hasFoam } from "./settings.js";
import { openingsOf } from "./takeoff.js";
import type { Opening, Wall } from "./walls.js";

/** Depth of a header of 2x10s, in; common practice, no source. */
export const USUAL_HEADER_IN = 9.25;

/** Faces of one wall or of a whole house, sq ft. */
export interface FramingAreas {
  /** deck to top of the plates, corner to corner of the framing, openings included */
  readonly wallFt2: number;
  readonly openingsFt2: number;
  /** narrow faces of studs, plates, sills, jacks and kings */
  readonly framingFt2: number;
  readonly headersFt2: number;
}

interface Span {
  readonly fromIn: number;
  readonly toIn: number;
}

interface WallFraming {
  readonly wall: Wall;
  readonly openings: readonly Opening[];
  /** studs that stand on the layout and at the ends, by their edges */
  readonly studs: readonly Span[];
  readonly headerIn: number;
  readonly settings: Settings;
}

/** Plumb height that the sloped top plates take. */
function topPlatesIn(top: WallTop, xIn: number, settings: Settings): number {
  return topPlatesPlumb(platesOf(settings), slopeAt(top, xIn));
}

/** Where something starts or ends along the wall, in order. */
function breakpoints(framing: WallFraming): number[] {
  const { wall, openings, studs, headerIn, settings } = framing;
  const stud = settings.studIn;
  const xs = [0, wall.lengthIn, ...wall.top.map((point) => point.xIn)];
  for (const each of studs) xs.push(each.fromIn, each.toIn);
  for (const { leftIn, rightIn } of openings) {
    xs.push(leftIn - 2 * stud, leftIn - stud, leftIn, rightIn, rightIn + stud, rightIn + 2 * stud);
  }
  // where sloped plates meet the top of an opening, of its header or of the bottom plates
  const levels = openings.flatMap((each) => [each.topIn, each.topIn + headerIn]);
  levels.push(settings.bottomPlates * settings.plateIn);
  wall.top.slice(1).forEach((to, index) => {
    const from = wall.top[index] as { xIn: number; heightIn: number };
    const slope = (to.heightIn - from.heightIn) / (to.xIn - from.xIn);
    if (slope === 0) return;
    const platesIn = topPlatesIn(wall.top, (from.xIn + to.xIn) / 2, settings);
    for (const level of levels) {
      const xIn = from.xIn + (level + platesIn - from.heightIn) / slope;
      if (xIn > from.xIn && xIn < to.xIn) xs.push(xIn);
    }
  });
  const inside = xs.filter((x) => x >= 0 && x <= wall.lengthIn);
  return [...new Set(inside)].sort((a, b) => a - b);
}

/** Total of what the spans cover between two heights, counted once. */
function covered(spans: readonly Span[], fromIn: number, toIn: number): number {
  let reached = fromIn;
  let total = 0;
  for (const span of [...spans].sort((a, b) => a.fromIn - b.fromIn)) {
    const start = Math.max(span.fromIn, reached);
    const end = Math.min(span.toIn, toIn);
    if (end > start) {
      total += end - start;
      reached = end;
    }
  }
  return total;
}

/** What stands over one x of the wall, in of height. */
function columnAt(
  framing: WallFraming,
  xIn: number
): { open: number; wood: number; header: number } {
  const { wall, openings, studs, headerIn, settings } = framing;
  const stud = settings.studIn;
  const top = heightAt(wall.top, xIn);
  const platesIn = topPlatesIn(wall.top, xIn, settings);
  const underPlates = Math.max(0, top - platesIn);
  const within = (fromIn: number, toIn: number): boolean => xIn > fromIn && xIn < toIn;
  const open: Span[] = [];
  const headers: Span[] = [];
  const wood: Span[] = [
    { fromIn: underPlates, toIn: top },
    { fromIn: 0, toIn: settings.bottomPlates * settings.plateIn },
  ];
  if (studs.some((each) => within(each.fromIn, each.toIn))) wood.push({ fromIn: 0, toIn: top });
  for (const { leftIn, rightIn, bottomIn, topIn } of openings) {
    if (within(leftIn, rightIn)) {
      open.push({ fromIn: bottomIn, toIn: topIn });
      wood.push({ fromIn: bottomIn - stud, toIn: bottomIn });
    }
    // a header bears on a jack each side; a king stands beside each jack from plate to plate
    if (within(leftIn - stud, rightIn + stud)) {
      headers.push({ fromIn: topIn, toIn: Math.min(topIn + headerIn, underPlates) });
      if (!within(leftIn, rightIn)) wood.push({ fromIn: 0, toIn: topIn });
    } else if (within(leftIn - 2 * stud, rightIn + 2 * stud)) {
      wood.push({ fromIn: 0, toIn: top });
    }
  }
  const openIn = covered(open, 0, top);
  const openOrHeaderIn = covered([...open, ...headers], 0, top);
  return {
    open: openIn,
    header: openOrHeaderIn - openIn,
    wood: covered([...open, ...headers, ...wood], 0, top) - openOrHeaderIn,
  };
}

function wallFramingAreas(framing: WallFraming): FramingAreas {
  const xs = breakpoints(framing);
  const sum = { wall: 0, open: 0, wood: 0, header: 0 };
  xs.slice(1).forEach((toIn, index) => {
    const fromIn = xs[index] as number;
    // between two breakpoints every edge is straight, so the height over the middle is the mean
    const middleIn = (fromIn + toIn) / 2;
    const column = columnAt(framing, middleIn);
    const wideIn = toIn - fromIn;
    sum.wall += wideIn * heightAt(framing.wall.top, middleIn);
    sum.open += wideIn * column.open;
    sum.wood += wideIn * column.wood;
    sum.header += wideIn * column.header;
  });
  return {
    wallFt2: squareFeet(sum.wall),
    openingsFt2: squareFeet(sum.open),
    framingFt2: squareFeet(sum.wood),
    headersFt2: squareFeet(sum.header),
  };
}

/**
 * Wood in the walls of a house as it is framed: studs on their marks and at the ends, plates, and at each opening
 * a sill, a header, and a jack and a king each side. Blocking, extra corner studs and backing are not counted.
 *
 * @param house    walls, openings and settings as read
 * @param headerIn depth of the headers, in; 0 to 48; less where the plates are nearer
 * @returns faces in sq ft, a wall of quantity n counted n times
 * @shape   one record
 * @throws {CalcError} wrong-kind or out-of-range: header depth
 * @source  common practice, no source; docs/derivations/framing-share.md
 * @example houseFraming(takeoffHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 96, 96, "free", "free"]], [], [["Foam", 1.25], ["Panel", 0.625]])).framingFt2 // => (96 * 4.5 + 7 * 1.5 * 91.5) / 144
 * @since   0.1.0
 */
export function houseFraming(
  house: {
    readonly walls: readonly Wall[];
    readonly openings: readonly Opening[];
    readonly settings: Settings;
  },
  headerIn: number = USUAL_HEADER_IN
): FramingAreas {
  checkNumber("header_depth", headerIn, LIMITS.headerDepth);
  const { settings } = house;
  const total = { wallFt2: 0, openingsFt2: 0, framingFt2: 0, headersFt2: 0 };
  for (const wall of house.walls) {
    const openings = openingsOf(wall, house.openings);
    const half = settings.studIn / 2;
    const studs = crewMarks(wall, openings, settings).map(({ stud }) => ({
      fromIn: stud.centerIn - half,
      toIn: stud.centerIn + half,
    }));
    const areas = wallFramingAreas({ wall, openings, studs, headerIn, settings });
    total.wallFt2 += wall.quantity * areas.wallFt2;
    total.openingsFt2 += wall.quantity * areas.openingsFt2;
    total.framingFt2 += wall.quantity * areas.framingFt2;
    total.headersFt2 += wall.quantity * areas.headersFt2;
  }
  return total;
}

/** Areas of a house and its walls' U and R, with the foam and without. */
export interface HouseInsulation {
  readonly areas: FramingAreas;
  /** false for plain sheathing */
  readonly hasFoam: boolean;
  /** the wall as it is built: the same as withoutFoam where the panel is plain sheathing */
  readonly withFoam: HouseWallU;
  readonly withoutFoam: HouseWallU;
}

function needed(name: string, value: number | undefined): number {
  if (value === undefined) {
    throw outOfRange(`${name} must be filled in in the settings; got a blank`);
  }
  return value;
}

/**
 * R and U of the walls of a house by area, over its real framing and openings. Windows and doors themselves are
 * left out.
 *
 * @param house    walls, openings and settings as read; Cavity R must be filled in, and Foam R per inch where there is foam
 * @param headerIn depth of the headers, in; 0 to 48
 * @returns areas in sq ft, U in Btu/(h ft2 F), R in h ft2 F/Btu
 * @shape   one record
 * @throws {CalcError} out-of-range: header depth, a blank Cavity R, a blank Foam R per inch where there is foam, a wall that is all opening
 * @source  docs/derivations/parallel-paths.md, docs/derivations/framing-share.md
 * @example houseInsulation(takeoffHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 96, 96, "free", "free"]], [], [["Foam (in)", 1.25], ["Panel (in)", 0.625], ["Foam R per inch (R)", 4], ["Stud depth (in)", 5.5], ["Wood R per inch (R)", 2], ["Cavity R (R)", 11], ["Other layers R (R)", 1]])).withFoam.wallR // => 17
 * @since   0.1.0
 */
export function houseInsulation(
  house: Parameters<typeof houseFraming>[0],
  headerIn: number = USUAL_HEADER_IN
): HouseInsulation {
  const { settings } = house;
  const areas = houseFraming(house, headerIn);
  const wall = {
    grossAreaFt2: areas.wallFt2,
    openingAreaFt2: areas.openingsFt2,
    framingAreaFt2: areas.framingFt2,
    headerAreaFt2: areas.headersFt2,
    cavityR: needed("Cavity R", settings.cavityR),
    studDepthIn: settings.studDepthIn,
    headerR: HEADER_R,
    otherR: settings.otherR,
    woodRPerInch: settings.woodRPerInch,
  };
  const label = hasFoam(settings)
    ? foamR(settings.foamIn, needed("Foam R per inch", settings.rPerInch))
    : 0;
  return {
    areas,
    hasFoam: hasFoam(settings),
    withFoam: houseWallU({ ...wall, foamR: label }),
    withoutFoam: houseWallU({ ...wall, foamR: 0 }),
  };
}
