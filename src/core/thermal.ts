/**
 * How well a framed wall insulates: parallel paths through the cavity, the studs and the headers,
 * each with the layers that run past all of them, the foam among them.
 */
import { checkNumber, checkRecord, outOfRange, wrongKind } from "./check.js";
import { rows as standard } from "./data/ashrae-standard-90-1-2016.js";
import { LEAST_R, LEAST_STUD_DEPTH_IN, LIMITS } from "./limits.js";

/** Framing share of the wall face with studs at 16 in; ASHRAE 90.1-2016 A3.4. */
export const FRAMING_AT_16 = 0.25;
/** R of films, gypsum and cladding together, h ft2 F/Btu; ASHRAE 90.1-2016 A3.4 base assembly. */
export const OTHER_LAYERS_R = standard.otherLayersR;
/** R per inch of softwood framing, h ft2 F/(Btu in); ASHRAE Fundamentals. */
export const WOOD_R_PER_INCH = standard.woodRPerInch;
/** R of a header, h ft2 F/Btu; ASHRAE 90.1-2016 A3.4. */
export const HEADER_R = standard.headerR;

/** Shallowest stud of the least R, the least a way through a wall can resist; h ft2 F/Btu. */
const LEAST_PATH_R = LEAST_R * LEAST_STUD_DEPTH_IN;
/** Every layer at its most; h ft2 F/Btu. */
const MOST_PATH_R = 1000;
/** Smaller than any wall: a slip, ft2. */
const LEAST_AREA_FT2 = 0.01;
/** Fractions of the wall face must add to one within this. */
const FRACTION_SLACK = 1e-6;

/** Checks a cavity's R. An empty bay is not R-0: its air space resists too. */
export function checkCavityR(name: string, cavityR: unknown): number {
  return checkNumber(name, cavityR, {
    ...LIMITS.cavityR,
    hint: `${LIMITS.cavityR.hint}; an empty stud bay is about ${standard.emptyCavityR}`,
  });
}

/** Checks the R of a layer that may be left out (0). */
export function checkLayerR(name: string, r: unknown): number {
  return checkNumber(name, r, LIMITS.layerR);
}

function checkFraction(name: string, fraction: unknown): number {
  return checkNumber(name, fraction, {
    ...LIMITS.framing,
    hint:
      typeof fraction === "number" && fraction > 1 && fraction <= 100
        ? `type ${fraction / 100} or ${fraction}%`
        : "a share of the wall face, such as 0.25",
  });
}

function checkStudDepth(studDepthIn: unknown): number {
  return checkNumber("stud_depth", studDepthIn, LIMITS.studDepth);
}

function checkWood(woodRPerInch: unknown): number {
  return checkNumber("wood_r_per_inch", woodRPerInch, LIMITS.woodRPerInch);
}

/**
 * R of the foam layer. Cold foam insulates less than its label: use the R per inch at winter temperature.
 *
 * @param foamIn   foam thickness, in; 0 to 12
 * @param rPerInch R per inch, h ft2 F/(Btu in); more than 0, at most 12
 * @returns R of the foam, h ft2 F/Btu
 * @shape   one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source  definition of thermal resistance
 * @example foamR(1.25, 4) // => 5
 * @example foamR(2, 4)    // => 8
 * @since   0.1.0
 */
export function foamR(foamIn: number, rPerInch: number): number {
  checkNumber("foam", foamIn, LIMITS.foam);
  checkNumber("r_per_inch", rPerInch, LIMITS.rPerInch);
  const r = foamIn * rPerInch;
  return r === 0 ? 0 : r;
}

/** One way through a wall: its share of the wall face and its R from air to air. */
export interface HeatPath {
  readonly fraction: number;
  /** h ft2 F/Btu */
  readonly pathR: number;
}

/**
 * U of a wall of parallel paths: the sum of share over R.
 *
 * @param paths shares of the wall face (they add to 1) and R from air to air, h ft2 F/Btu (0.005 to 1000)
 * @returns U, Btu/(h ft2 F)
 * @shape   one number
 * @throws {CalcError} wrong-kind: no list, or an entry that is not a number; out-of-range: outside the limits above
 * @source  ASHRAE Fundamentals chapter 27, parallel-path method; docs/derivations/parallel-paths.md
 * @example wallUByPaths([{ fraction: 0.75, pathR: 20 }, { fraction: 0.25, pathR: 10 }]) // => 0.0625
 * @since   0.1.0
 */
export function wallUByPaths(paths: readonly HeatPath[]): number {
  if (!Array.isArray(paths) || paths.length === 0) {
    throw wrongKind("paths must be a list of shares and R values; got none");
  }
  let shares = 0;
  let wallU = 0;
  for (const each of paths) {
    const path = checkRecord("a path", each);
    const fraction = checkFraction("share of the wall", path.fraction);
    const pathR = checkNumber("R of a path", path.pathR, {
      above: 0,
      min: LEAST_PATH_R,
      max: MOST_PATH_R,
    });
    shares += fraction;
    wallU += fraction / pathR;
  }
  if (Math.abs(shares - 1) > FRACTION_SLACK) {
    throw outOfRange(`shares of the wall must add to 1; got ${Number(shares.toPrecision(9))}`);
  }
  return wallU;
}

/** Checked layers of a wall with one kind of framing. */
interface WallLayers {
  readonly cavityR: number;
  readonly framingR: number;
  readonly continuousR: number;
  readonly framing: number;
}

function wallLayers(
  cavityR: number,
  foamLayerR: number,
  studDepthIn: number,
  framing: number,
  otherR: number,
  woodRPerInch: number
): WallLayers {
  checkCavityR("cavity_r", cavityR);
  checkLayerR("foam_r", foamLayerR);
  checkStudDepth(studDepthIn);
  checkFraction("framing", framing);
  checkLayerR("other_r", otherR);
  checkWood(woodRPerInch);
  return {
    cavityR,
    framingR: studDepthIn * woodRPerInch,
    continuousR: foamLayerR + otherR,
    framing,
  };
}

/**
 * Whole-wall U by parallel paths: a cavity path and a framing path, each with the foam and the other layers.
 *
 * @param cavityR      R of the insulation in the stud bays, h ft2 F/Btu; 0.01 to 100
 * @param foamLayerR   R of the foam outside the studs, h ft2 F/Btu; 0 to 100
 * @param studDepthIn  stud depth, in; 0.5 to 16
 * @param framing      framing share of the wall face; 0 to 1; 0.25 at 16 in, 0.22 at 24 in
 * @param otherR       R of films, gypsum and cladding together, h ft2 F/Btu; 0 to 100
 * @param woodRPerInch R per inch of the framing, h ft2 F/(Btu in); 0.01 to 12
 * @returns U, Btu/(h ft2 F), not rounded
 * @shape   one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source  ASHRAE Fundamentals chapter 27, parallel paths; defaults ASHRAE 90.1-2016 A3.4; docs/derivations/parallel-paths.md
 * @example wallU(19, 0, 7.2, 0.25, 1) // => 0.0625
 * @since   0.1.0
 */
export function wallU(
  cavityR: number,
  foamLayerR: number,
  studDepthIn: number,
  framing: number = FRAMING_AT_16,
  otherR: number = OTHER_LAYERS_R,
  woodRPerInch: number = WOOD_R_PER_INCH
): number {
  const wall = wallLayers(cavityR, foamLayerR, studDepthIn, framing, otherR, woodRPerInch);
  return (
    (1 - wall.framing) / (wall.continuousR + wall.cavityR) +
    wall.framing / (wall.continuousR + wall.framingR)
  );
}

/**
 * Whole-wall R by parallel paths: one over {@link wallU}. Arguments, limits and errors are the same.
 *
 * @param cavityR      R of the insulation in the stud bays, h ft2 F/Btu; 0.01 to 100
 * @param foamLayerR   R of the foam outside the studs, h ft2 F/Btu; 0 to 100
 * @param studDepthIn  stud depth, in; 0.5 to 16
 * @param framing      framing share of the wall face; 0 to 1; 0.25 at 16 in, 0.22 at 24 in
 * @param otherR       R of films, gypsum and cladding together, h ft2 F/Btu; 0 to 100
 * @param woodRPerInch R per inch of the framing, h ft2 F/(Btu in); 0.01 to 12
 * @returns R, h ft2 F/Btu, not rounded
 * @shape   one number
 * @throws {CalcError} as wallU
 * @source  as wallU
 * @example wallR(13, 0, 3.5, 0, 2)  // => 15
 * @since   0.1.0
 */
export function wallR(
  cavityR: number,
  foamLayerR: number,
  studDepthIn: number,
  framing: number = FRAMING_AT_16,
  otherR: number = OTHER_LAYERS_R,
  woodRPerInch: number = WOOD_R_PER_INCH
): number {
  return 1 / wallU(cavityR, foamLayerR, studDepthIn, framing, otherR, woodRPerInch);
}

/**
 * Share of the cavity path's R that the framing takes away: 1 - whole-wall R / cavity-path R.
 * 0 without framing, negative where the framing resists more than the bay beside it.
 * Arguments, limits and errors are those of {@link wallU}.
 *
 * @param cavityR      R of the insulation in the stud bays, h ft2 F/Btu; 0.01 to 100
 * @param foamLayerR   R of the foam outside the studs, h ft2 F/Btu; 0 to 100
 * @param studDepthIn  stud depth, in; 0.5 to 16
 * @param framing      framing share of the wall face; 0 to 1; 0.25 at 16 in, 0.22 at 24 in
 * @param otherR       R of films, gypsum and cladding together, h ft2 F/Btu; 0 to 100
 * @param woodRPerInch R per inch of the framing, h ft2 F/(Btu in); 0.01 to 12
 * @returns fraction
 * @shape   one number
 * @throws {CalcError} as wallU
 * @source  docs/derivations/parallel-paths.md
 * @example bridgingLoss(13, 0, 3.5, 0) // => 0
 * @since   0.1.0
 */
export function bridgingLoss(
  cavityR: number,
  foamLayerR: number,
  studDepthIn: number,
  framing: number = FRAMING_AT_16,
  otherR: number = OTHER_LAYERS_R,
  woodRPerInch: number = WOOD_R_PER_INCH
): number {
  const wall = wallLayers(cavityR, foamLayerR, studDepthIn, framing, otherR, woodRPerInch);
  const cavityPathR = wall.continuousR + wall.cavityR;
  const framingPathR = wall.continuousR + wall.framingR;
  // 1 - 1/((1-f) + f c/s), arranged so that no framing gives exactly 0
  const excess = wall.framing * (cavityPathR / framingPathR - 1);
  const loss = excess / (1 + excess);
  return loss === 0 ? 0 : loss;
}

/**
 * Whole-wall R by isothermal planes: the framed layer is averaged first, then added to the rest.
 * Never more than {@link wallR}; the true R lies between. Arguments, limits and errors are those of {@link wallU}.
 *
 * @param cavityR      R of the insulation in the stud bays, h ft2 F/Btu; 0.01 to 100
 * @param foamLayerR   R of the foam outside the studs, h ft2 F/Btu; 0 to 100
 * @param studDepthIn  stud depth, in; 0.5 to 16
 * @param framing      framing share of the wall face; 0 to 1; 0.25 at 16 in, 0.22 at 24 in
 * @param otherR       R of films, gypsum and cladding together, h ft2 F/Btu; 0 to 100
 * @param woodRPerInch R per inch of the framing, h ft2 F/(Btu in); 0.01 to 12
 * @returns R, h ft2 F/Btu, not rounded
 * @shape   one number
 * @throws {CalcError} as wallU
 * @source  ASHRAE Fundamentals chapter 27, isothermal planes; docs/derivations/parallel-paths.md
 * @example wallRIsothermal(13, 4, 3.5, 0, 2.11) // => 19.11
 * @since   0.1.0
 */
export function wallRIsothermal(
  cavityR: number,
  foamLayerR: number,
  studDepthIn: number,
  framing: number = FRAMING_AT_16,
  otherR: number = OTHER_LAYERS_R,
  woodRPerInch: number = WOOD_R_PER_INCH
): number {
  const wall = wallLayers(cavityR, foamLayerR, studDepthIn, framing, otherR, woodRPerInch);
  return wall.continuousR + 1 / ((1 - wall.framing) / wall.cavityR + wall.framing / wall.framingR);
}

/**
 * Whole-wall U with headers as a path of their own, as the 90.1 table is built: 75 percent cavity,
 * 21 percent studs and plates, 4 percent headers of at 16 in (78, 18, 4 at 24 in).
 *
 * @param cavityR      R of the insulation in the stud bays, h ft2 F/Btu; 0.01 to 100
 * @param foamLayerR   R of the foam outside the studs, h ft2 F/Btu; 0 to 100
 * @param studDepthIn  stud depth, in; 0.5 to 16
 * @param studs        share of studs and plates; 0 to 1
 * @param headers      share of headers; 0 to 1; studs and headers together at most 1
 * @param headerR      R of a header, h ft2 F/Btu; 0.01 to 100
 * @param otherR       R of films, gypsum and cladding together, h ft2 F/Btu; 0 to 100
 * @param woodRPerInch R per inch of the framing, h ft2 F/(Btu in); 0.01 to 12
 * @returns U, Btu/(h ft2 F), not rounded
 * @shape   one number
 * @throws {CalcError} wrong-kind, out-of-range: as wallU
 * @source  ASHRAE 90.1-2016 A3.4; docs/derivations/parallel-paths.md
 * @example wallUWithHeaders(19, 0, 7.2, 0.2, 0.05, 9, 1) // => 0.0625
 * @since   0.1.0
 */
export function wallUWithHeaders(
  cavityR: number,
  foamLayerR: number,
  studDepthIn: number,
  studs = 0.21,
  headers = 0.04,
  headerR: number = HEADER_R,
  otherR: number = OTHER_LAYERS_R,
  woodRPerInch: number = WOOD_R_PER_INCH
): number {
  checkFraction("share of headers", headers);
  checkNumber("header_r", headerR, LIMITS.cavityR);
  const wall = wallLayers(cavityR, foamLayerR, studDepthIn, studs, otherR, woodRPerInch);
  if (studs + headers > 1 + FRACTION_SLACK) {
    throw outOfRange(
      `shares of studs and headers must add to at most 1; got ${Number((studs + headers).toPrecision(9))}`
    );
  }
  return wallUByPaths([
    { fraction: Math.max(0, 1 - studs - headers), pathR: wall.continuousR + wall.cavityR },
    { fraction: studs, pathR: wall.continuousR + wall.framingR },
    { fraction: headers, pathR: wall.continuousR + headerR },
  ]);
}

/** Walls of a house as they are framed: what the area-weighted U needs. */
export interface HouseWall {
  /** wall face, openings included, ft2; 0.01 to 10,000,000 */
  readonly grossAreaFt2: number;
  /** windows and doors, ft2; 0 where blank; less than the wall face */
  readonly openingAreaFt2?: number;
  /** narrow faces of studs and plates, ft2; at least 0 */
  readonly framingAreaFt2: number;
  /** faces of headers, ft2; 0 where blank */
  readonly headerAreaFt2?: number;
  readonly cavityR: number;
  readonly foamR: number;
  readonly studDepthIn: number;
  /** R of a header, h ft2 F/Btu; 4.375 where blank */
  readonly headerR?: number;
  /** U of windows and doors, Btu/(h ft2 F); where blank the openings are left out of the average */
  readonly openingU?: number;
  readonly otherR?: number;
  readonly woodRPerInch?: number;
}

/** Area-weighted result. `withOpenings` is null where no opening U was given. */
export interface HouseWallU {
  readonly opaqueAreaFt2: number;
  readonly cavityAreaFt2: number;
  /** studs, plates and headers over the opaque area */
  readonly framing: number;
  /** Btu/(h ft2 F), opaque wall */
  readonly wallU: number;
  /** h ft2 F/Btu, opaque wall */
  readonly wallR: number;
  /** h ft2 F/Btu, opaque wall by isothermal planes */
  readonly wallRIsothermal: number;
  /** heat per degree through the opaque wall, Btu/(h F) */
  readonly uTimesArea: number;
  readonly withOpenings: {
    /** Btu/(h ft2 F) over the gross area */
    readonly u: number;
    /** Btu/(h F) */
    readonly uTimesArea: number;
  } | null;
}

/**
 * Area-weighted U of the walls of a house, from the real areas of framing and openings.
 *
 * @param house areas in ft2 and layers in R; limits are beside each field and as in wallU
 * @returns areas, framing share, U and R of the opaque wall, and U with openings where their U is given
 * @shape   one record
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits, openings or framing larger than the wall
 * @source  docs/derivations/parallel-paths.md
 * @example houseWallU({ grossAreaFt2: 100, framingAreaFt2: 25, cavityR: 13, foamR: 0, studDepthIn: 3.5 }).framing // => 0.25
 * @since   0.1.0
 */
export function houseWallU(house: HouseWall): HouseWallU {
  checkRecord("house", house);
  const gross = checkNumber("wall area", house.grossAreaFt2, {
    above: 0,
    min: LEAST_AREA_FT2,
    max: LIMITS.wallArea.max,
    unit: "ft2",
  });
  const openings = checkNumber("opening area", house.openingAreaFt2 ?? 0, {
    min: 0,
    below: gross,
    unit: "ft2",
    hint: "openings must be smaller than the wall they are in",
  });
  const opaque = gross - openings;
  const framingArea = checkNumber("framing area", house.framingAreaFt2, {
    min: 0,
    max: opaque,
    unit: "ft2",
  });
  const headerArea = checkNumber("header area", house.headerAreaFt2 ?? 0, {
    min: 0,
    max: opaque - framingArea,
    unit: "ft2",
    hint: "framing and headers together cannot be more than the wall without its openings",
  });
  const headerR = checkNumber("header_r", house.headerR ?? HEADER_R, LIMITS.cavityR);
  const studs = framingArea / opaque;
  const headers = headerArea / opaque;
  const otherR = house.otherR ?? OTHER_LAYERS_R;
  const woodR = house.woodRPerInch ?? WOOD_R_PER_INCH;
  const wall = wallLayers(house.cavityR, house.foamR, house.studDepthIn, studs, otherR, woodR);
  const cavityArea = opaque - framingArea - headerArea;
  const uTimesArea =
    cavityArea / (wall.continuousR + wall.cavityR) +
    framingArea / (wall.continuousR + wall.framingR) +
    headerArea / (wall.continuousR + headerR);
  const layerConductance =
    (cavityArea / wall.cavityR + framingArea / wall.framingR + headerArea / headerR) / opaque;
  let withOpenings: HouseWallU["withOpenings"] = null;
  if (house.openingU !== undefined) {
    const openingU = checkNumber("U of the openings", house.openingU, {
      above: 0,
      max: 2,
      hint: "type the U of windows and doors, such as 0.3",
    });
    const total = uTimesArea + openingU * openings;
    withOpenings = { u: total / gross, uTimesArea: total };
  }
  return {
    opaqueAreaFt2: opaque,
    cavityAreaFt2: cavityArea,
    framing: studs + headers,
    wallU: uTimesArea / opaque,
    wallR: opaque / uTimesArea,
    wallRIsothermal: wall.continuousR + 1 / layerConductance,
    uTimesArea,
    withOpenings,
  };
}
