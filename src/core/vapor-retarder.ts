/**
 * Least foam R and vapor retarder class by climate zone and framing, from the published tables.
 */
import { checkChoice, checkNumber, notCovered } from "./check.js";
import { parseClimateZone, type ClimateZone } from "./climate-zone.js";
import { rows } from "./data/icc-irc-2021.js";
import { LIMITS } from "./limits.js";
import { CONFIRM_IN_CODE_BOOK, publishedFigure, type PublishedFigure } from "./published.js";
import { checkLayerR } from "./thermal.js";

/** Vapor retarder classes by the most vapor that passes: I poly, II kraft-faced batts, III latex paint. */
export const VAPOR_CLASSES = ["I", "II", "III"] as const;
export type VaporClass = (typeof VAPOR_CLASSES)[number];

/** Real depth of the two studs the tables have, in. */
const DEPTH_2X4_IN = 3.5;
const DEPTH_2X6_IN = 5.5;
/** Lumber runs a little off its size; this much either way is still that stud, in. */
const DEPTH_SLACK_IN = 1 / 16;

function studColumn(studDepthIn: unknown): "over2x4R" | "over2x6R" {
  const depth = checkNumber("stud_depth", studDepthIn, LIMITS.studDepth);
  if (Math.abs(depth - DEPTH_2X4_IN) <= DEPTH_SLACK_IN) return "over2x4R";
  if (Math.abs(depth - DEPTH_2X6_IN) <= DEPTH_SLACK_IN) return "over2x6R";
  throw notCovered(
    `stud_depth must be 3.5 in (2x4) or 5.5 in (2x6), the two the table has; got ${Number(depth.toPrecision(9))}`
  );
}

/** Zone 4 without the C is not marine and stands in a row of its own. */
function tableZone(zone: ClimateZone): string {
  return zone.number === 4 && zone.isMarine ? "Marine 4" : String(zone.number);
}

/**
 * Least foam R outside the studs for the least vapor control (class III, paint), as a plain number.
 *
 * @param climateZone zone as parseClimateZone reads it
 * @param studDepthIn 3.5 for a 2x4, 5.5 for a 2x6, in
 * @returns R, h ft2 F/Btu, as printed
 * @shape   one number
 * @throws {CalcError} wrong-kind: blank zone, stud depth not a number; out-of-range: stud depth not more than 0;
 *   not-covered: not a zone, a zone the table has no row for (0 to 4 but Marine 4), another stud
 * @source  IRC 2021 Table R702.7(3)
 * @example foamRNeeded("5A", 3.5)       // => 5
 * @example foamRNeeded("Marine 4", 5.5) // => 3.75
 * @since   0.1.0
 */
export function foamRNeeded(climateZone: unknown, studDepthIn: number): number {
  return foamRNeededRow(climateZone, studDepthIn).value;
}

/**
 * The row behind {@link foamRNeeded}, for class III or class II, with how the figure was confirmed.
 *
 * @param vaporClass "III" (paint, the default) or "II" (kraft-faced batts; figures from memory)
 * @returns the figure; `mayDecide` is false for class II, whose table is known from memory only
 * @shape   one record: value, table, confirmed, mayDecide, note
 * @throws {CalcError} as foamRNeeded
 * @source  IRC 2021 Tables R702.7(3) and R702.7(4)
 * @example foamRNeededRow("6", 5.5).value       // => 11.25
 * @example foamRNeededRow("6", 5.5, "II").value // => 5
 * @since   0.1.0
 */
export function foamRNeededRow(
  climateZone: unknown,
  studDepthIn: number,
  vaporClass: "II" | "III" = "III"
): PublishedFigure {
  const zone = parseClimateZone(climateZone);
  const column = studColumn(studDepthIn);
  const wanted = checkChoice("vapor retarder class", vaporClass, ["II", "III"] as const);
  if (wanted === "III") {
    const row = rows.classThreeFoam.find((entry) => entry.zone === tableZone(zone));
    if (row === undefined) {
      throw notCovered(
        `foam R needed has no row for climate zone ${zone.name}: a class III vapor retarder needs no least foam R there` +
          (zone.number === 4 ? " (Marine 4, written 4C, has one)" : "")
      );
    }
    return publishedFigure(row[column], "IRC 2021 Table R702.7(3)", row.confirmed);
  }
  const row = rows.classTwoFoam.find((entry) => entry.zone === String(zone.number));
  if (row === undefined) {
    throw notCovered(
      `foam R needed with a class II vapor retarder has no row for climate zone ${zone.name}`
    );
  }
  return publishedFigure(row[column], "IRC 2021 Table R702.7(4)", row.confirmed);
}

/** What may stand on the inside of the wall. */
export interface VaporRetarderAdvice {
  readonly zone: string;
  /** "yes", "no", or "with more foam" where the foam is under the table's least R */
  readonly classOne: "yes" | "no";
  readonly classTwo: "yes" | "no" | "with more foam";
  readonly classThree: "yes" | "with more foam";
  /** least foam R for class III; null where the table asks none */
  readonly foamForClassThree: PublishedFigure | null;
  /** least foam R for class II with foam outside; null where the table has no row */
  readonly foamForClassTwo: PublishedFigure | null;
  /** false where a figure or rule known from memory took part in the answer */
  readonly mayDecide: boolean;
  /** what to do, in the words of the trade */
  readonly say: string;
}

/**
 * Which vapor retarder may stand on the inside of a wall with foam outside, and what to do where the foam is short.
 * Class I (poly) with foam outside is always advised against: the wall could dry neither way.
 *
 * @param climateZone zone as parseClimateZone reads it
 * @param studDepthIn 3.5 for a 2x4, 5.5 for a 2x6, in
 * @param foamR       R of the foam outside the studs, h ft2 F/Btu; 0 to 100
 * @returns each class, the least foam R behind it, and a sentence
 * @shape   one record
 * @throws {CalcError} as foamRNeeded; out-of-range: foam R outside its limits
 * @source  IRC 2021 Tables R702.7(2), (3), (4); the warning against poly with foam is common practice
 * @example vaporRetarderAdvice("5A", 3.5, 6).classThree // => "yes"
 * @since   0.1.0
 */
export function vaporRetarderAdvice(
  climateZone: unknown,
  studDepthIn: number,
  foamR: number
): VaporRetarderAdvice {
  const zone = parseClimateZone(climateZone);
  const stud = studColumn(studDepthIn) === "over2x4R" ? "2x4" : "2x6";
  const foam = checkLayerR("foam_r", foamR);
  const name = tableZone(zone);
  const hasFoam = foam > 0;
  const three = rows.classThreeFoam.some((row) => row.zone === name)
    ? foamRNeededRow(climateZone, studDepthIn, "III")
    : null;
  const two = rows.classTwoFoam.some((row) => row.zone === String(zone.number))
    ? foamRNeededRow(climateZone, studDepthIn, "II")
    : null;
  // zone 0 is as hot as 1, but the table does not name it
  const isHot = zone.number <= 2;
  const option = isHot
    ? rows.vaporOptions[0]
    : three !== null
      ? rows.vaporOptions[3]
      : zone.number === 3
        ? rows.vaporOptions[1]
        : rows.vaporOptions[2];
  const classThree = three === null || foam >= three.value ? "yes" : "with more foam";
  const classTwo = isHot
    ? "no"
    : hasFoam && two !== null && foam < two.value
      ? "with more foam"
      : "yes";
  const classOne = option.classOne === "yes" && !hasFoam ? "yes" : "no";
  const mentionsClassTwo =
    classThree !== "yes" && hasFoam && two !== null && three !== null && two.value <= three.value;
  const usesMemory =
    option.confirmed === "memory" ||
    zone.number === 0 ||
    (mentionsClassTwo && two !== null && !two.mayDecide);
  const say = sentence(
    zone.name,
    stud,
    foam,
    isHot,
    classThree,
    classTwo,
    three,
    mentionsClassTwo ? two : null
  );
  return {
    zone: zone.name,
    classOne,
    classTwo,
    classThree,
    foamForClassThree: three,
    foamForClassTwo: two,
    mayDecide: !usesMemory,
    say: usesMemory ? `${say} Part of this is from memory: ${CONFIRM_IN_CODE_BOOK}.` : say,
  };
}

function sentence(
  zone: string,
  stud: string,
  foam: number,
  isHot: boolean,
  classThree: string,
  classTwo: string,
  three: PublishedFigure | null,
  two: PublishedFigure | null
): string {
  const noPoly = "No poly inside: with foam outside the wall could dry neither way.";
  const r = Number(foam.toPrecision(4));
  if (isHot) {
    return `Zone ${zone}: paint inside (class III) and nothing tighter, so the wall can dry inward. No poly, no kraft facing.`;
  }
  if (three === null) {
    return `Zone ${zone}: paint inside (class III) is enough, whatever the foam. ${foam > 0 ? noPoly : "No poly inside."}`;
  }
  if (classThree === "yes") {
    return `R-${r} foam over ${stud} in zone ${zone} is at least the R-${three.value} for paint inside (class III). ${noPoly}`;
  }
  if (foam === 0) {
    return `No foam over ${stud} in zone ${zone}: paint inside (class III) is not enough. Use a class I or II vapor retarder inside, or foam of at least R-${three.value}.`;
  }
  const short = `R-${r} foam over ${stud} in zone ${zone} is under the R-${three.value} for paint inside (class III).`;
  const thicker = `Use foam of at least R-${three.value}`;
  const secondWay =
    two === null
      ? `${thicker}.`
      : classTwo === "yes"
        ? `${thicker}, or a class II vapor retarder inside (kraft-faced batts), which asks R-${two.value}.`
        : `${thicker}, or of at least R-${two.value} with a class II vapor retarder inside (kraft-faced batts).`;
  return `${short} ${secondWay} ${noPoly}`;
}
