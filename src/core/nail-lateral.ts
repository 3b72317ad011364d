/**
 * Reference lateral value of one nail by the general dowel equations, the foam taken as an empty gap.
 * A number to take to the engineer; never the strength of a wall.
 */
import { type Limits, checkNumber, checkRecord, notCovered } from "./check.js";
import { rows as nds } from "./data/awc-nds-2018.js";
import { LIMITS } from "./limits.js";

/** The six ways a nail in single shear can yield. */
export const YIELD_MODES = ["Im", "Is", "II", "IIIm", "IIIs", "IV"] as const;
export type YieldMode = (typeof YIELD_MODES)[number];

/** One mode's reference value. Exactly one row of a result governs: the first of the least. */
export interface YieldModeRow {
  readonly mode: YieldMode;
  /** lb, divided by the reduction term */
  readonly valueLb: number;
  readonly governs: boolean;
}

/** A dowel across a gap, any material. */
export interface DowelJoint {
  readonly diameterIn: number;
  /** bearing length in the main member, in */
  readonly mainBearingIn: number;
  /** bearing length in the side member, in */
  readonly sideBearingIn: number;
  /** dowel bearing strength, psi */
  readonly mainStrengthPsi: number;
  readonly sideStrengthPsi: number;
  /** bending yield strength of the dowel, psi */
  readonly bendingYieldPsi: number;
  /** gap between the members, in */
  readonly gapIn: number;
  /** reduction term: one for every mode, or one a mode */
  readonly reduction: number | Readonly<Record<YieldMode, number>>;
}

/** What a dowel joint of wood can be; beyond it a slip of the unit, and sums that no longer hold. */
const DOWEL = {
  diameter: { above: 0, min: 0.01, max: 4, unit: "in" },
  bearing: { above: 0, min: 0.001, max: 240, unit: "in" },
  gap: { min: 0, max: 240, unit: "in" },
  strength: { above: 0, min: 1, max: 1_000_000, unit: "psi" },
  reduction: { above: 0, min: 0.01, max: 100 },
} as const satisfies Readonly<Record<string, Limits>>;

/** Largest positive root of a P^2 + b P + c = 0 with a > 0, b >= 0, c < 0, kept accurate for large b. */
function positiveRoot(a: number, b: number, c: number): number {
  return (-2 * c) / (b + Math.sqrt(b * b - 4 * a * c));
}

/**
 * Every yield mode of a dowel in single shear across a gap.
 *
 * @param joint diameter 0.01 to 4 in, bearing lengths 0.001 to 240 in, gap 0 to 240 in, strengths 1 to 1,000,000 psi,
 *   reduction terms 0.01 to 100
 * @returns six rows, Im, Is, II, IIIm, IIIs, IV, in lb; the least governs
 * @shape   6 rows of mode, valueLb, governs
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source  AWC Technical Report 12 (2015) Table 1-1; docs/derivations/dowel-gap.md
 * @example dowelYieldModes({ diameterIn: 0.5, mainBearingIn: 1.5, sideBearingIn: 1.5, mainStrengthPsi: 4800, sideStrengthPsi: 4800, bendingYieldPsi: 45000, gapIn: 0.25, reduction: 4 })[0].valueLb // => 900
 * @since   0.1.0
 */
export function dowelYieldModes(joint: DowelJoint): YieldModeRow[] {
  checkRecord("joint", joint);
  const d = checkNumber("diameter", joint.diameterIn, DOWEL.diameter);
  const lm = checkNumber("main bearing length", joint.mainBearingIn, DOWEL.bearing);
  const ls = checkNumber("side bearing length", joint.sideBearingIn, DOWEL.bearing);
  const fem = checkNumber("main bearing strength", joint.mainStrengthPsi, DOWEL.strength);
  const fes = checkNumber("side bearing strength", joint.sideStrengthPsi, DOWEL.strength);
  const fyb = checkNumber("bending yield strength", joint.bendingYieldPsi, DOWEL.strength);
  const gap = checkNumber("gap", joint.gapIn, DOWEL.gap);
  const reduce = (mode: YieldMode): number =>
    checkNumber(
      "reduction term",
      typeof joint.reduction === "number" ? joint.reduction : joint.reduction?.[mode],
      DOWEL.reduction
    );
  // bearing per inch of length, lb/in, and the dowel's plastic moment, lb in
  const qm = fem * d;
  const qs = fes * d;
  const moment = (fyb * d ** 3) / 6;
  const bothHinge = positiveRoot(1 / (2 * qs) + 1 / (2 * qm), gap, -2 * moment);
  const values: Readonly<Record<YieldMode, number>> = {
    Im: qm * lm,
    Is: qs * ls,
    II: positiveRoot(
      1 / (4 * qs) + 1 / (4 * qm),
      ls / 2 + gap + lm / 2,
      (-qs * ls * ls) / 4 - (qm * lm * lm) / 4
    ),
    IIIm: positiveRoot(1 / (2 * qs) + 1 / (4 * qm), gap + lm / 2, -moment - (qm * lm * lm) / 4),
    IIIs: positiveRoot(1 / (4 * qs) + 1 / (2 * qm), ls / 2 + gap, (-qs * ls * ls) / 4 - moment),
    IV: bothHinge,
  };
  const reduced = YIELD_MODES.map((mode) => ({ mode, valueLb: values[mode] / reduce(mode) }));
  const least = Math.min(...reduced.map((row) => row.valueLb));
  const governing = reduced.findIndex((row) => row.valueLb === least);
  return reduced.map((row, index) => ({ ...row, governs: index === governing }));
}

/**
 * Dowel bearing strength of wood for nails: 16,600 G^1.84, to the nearest 50 psi as the table prints it.
 *
 * @param gravity specific gravity; 0.31 to 0.73, the range of the table
 * @returns strength, psi
 * @shape   one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: not a gravity; not-covered: outside the table
 * @source  NDS-2018 Table 12.3.3 and its footnote 2
 * @example bearingStrengthPsi(0.5)  // => 4650
 * @example bearingStrengthPsi(0.42) // => 3350
 * @since   0.1.0
 */
export function bearingStrengthPsi(gravity: number): number {
  return strengthOf("gravity", gravity);
}

function strengthOf(name: string, gravity: unknown): number {
  const g = checkNumber(name, gravity, LIMITS.gravity);
  const table = nds.bearingStrength;
  if (g < table.leastGravity || g > table.mostGravity) {
    throw notCovered(
      `${name} must be ${table.leastGravity} to ${table.mostGravity}, the range of the published table; got ${Number(g.toPrecision(9))}`
    );
  }
  const exact = table.coefficientPsi * g ** table.exponent;
  return Math.round(exact / table.roundedToPsi) * table.roundedToPsi;
}

/**
 * Bending yield strength of a nail by its shank.
 *
 * @param diameterIn nail shank, in; 0.099 to 0.273, the bands of the table
 * @returns strength, psi
 * @shape   one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: not a shank; not-covered: outside the bands
 * @source  NDS-2018 Appendix I Table I1
 * @example bendingYieldPsi(0.131) // => 100000
 * @example bendingYieldPsi(0.148) // => 90000
 * @since   0.1.0
 */
export function bendingYieldPsi(diameterIn: number): number {
  const d = checkDiameter(diameterIn);
  const bands = nds.bendingYield;
  const first = bands[0];
  const last = bands[bands.length - 1] ?? first;
  const band = bands.find((entry) => d <= entry.toIn);
  if (d < first.fromIn || band === undefined) {
    throw notCovered(
      `nail_diameter must be ${first.fromIn} to ${last.toIn} in, the bands of the published table; got ${Number(d.toPrecision(9))}`
    );
  }
  return band.bendingYieldPsi;
}

function checkDiameter(diameterIn: unknown): number {
  return checkNumber("nail_diameter", diameterIn, {
    ...LIMITS.nailDiameter,
    hint: "the shank, such as 0.131 for an 8d common nail",
  });
}

/**
 * Reduction term K_D that divides every mode of a nail.
 *
 * @param diameterIn nail shank, in; less than 0.25
 * @returns 2.2 up to 0.17 in, 10 D + 0.5 above
 * @shape   one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: not a shank; not-covered: 0.25 in and more
 * @source  NDS-2018 Table 12.3.1B; over 0.17 in a reported 2025 erratum to the 2024 edition has 10 D - 0.5
 * @example reductionTerm(0.131) // => 2.2
 * @example reductionTerm(0.192) // => 2.42
 * @since   0.1.0
 */
export function reductionTerm(diameterIn: number): number {
  const d = checkDiameter(diameterIn);
  const table = nds.reductionTerm;
  if (d <= table.smallNailMostDiameterIn) return table.smallNailTerm;
  if (d < table.belowDiameterIn) return table.largeNailPerIn * d + table.largeNailPlus;
  throw notCovered(
    `nail_diameter must be less than ${table.belowDiameterIn} in for the nail reduction term; got ${Number(d.toPrecision(9))}`
  );
}

/**
 * What to say beside a lateral value of this shank: empty, or the dispute about nails over 0.17 in.
 *
 * @param diameterIn nail shank, in
 * @returns a note, or an empty text
 * @shape   one text
 * @throws {CalcError} as reductionTerm
 * @source  NDS-2018 Table 12.3.1B
 * @example nailLateralNote(0.131) // => ""
 * @since   0.1.0
 */
export function nailLateralNote(diameterIn: number): string {
  reductionTerm(diameterIn);
  return diameterIn <= nds.reductionTerm.smallNailMostDiameterIn
    ? ""
    : `${nds.reductionTerm.largeNailNote}; this uses the printed 10D + 0.5`;
}

/** Default specific gravity of studs, no unit: spruce-pine-fir; NDS-2018 Table 12.3.3A. */
export const STUD_GRAVITY = 0.42;
/** Default specific gravity of the panel, no unit: oriented strand board; NDS-2018 Table 12.3.3B. */
export const PANEL_GRAVITY = 0.5;

/** Rounding of typed decimals, in: a nail this close to its least length is long enough. */
const LENGTH_SLACK_IN = 1e-9;

/**
 * Every yield mode of one nail through panel and foam into a stud, the foam as an empty gap.
 * The bearing length in the stud is the penetration less half the tip (one diameter). The nail must stay inside the stud.
 *
 * @param nailLengthIn nail length, in; long enough for 6 diameters in the stud, at most 24
 * @param diameterIn   nail shank, in; 0.099 or more, less than 0.25
 * @param panelIn      wood panel thickness, in; 1/64 to 2
 * @param foamIn       foam thickness, in; 0 to 12
 * @param studGravity  specific gravity of the stud; 0.31 to 0.73
 * @param panelGravity specific gravity of the panel; 0.31 to 0.73; 0.5 oriented strand board, 0.42 most plywood
 * @returns six rows, Im, Is, II, IIIm, IIIs, IV, in lb; the least governs
 * @shape   6 rows of mode, valueLb, governs
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits, or too short for 6 diameters in the stud;
 *   not-covered: shank or gravity outside the published tables
 * @source  NDS-2018 12.1.6.4, 12.3.1, 12.3.5.3; AWC Technical Report 12 (2015) Table 1-1; docs/derivations/dowel-gap.md
 * @example nailYieldModes(3.5, 0.131, 0.625, 1.25).length // => 6
 * @since   0.1.0
 */
export function nailYieldModes(
  nailLengthIn: number,
  diameterIn: number,
  panelIn: number,
  foamIn: number,
  studGravity: number = STUD_GRAVITY,
  panelGravity: number = PANEL_GRAVITY
): YieldModeRow[] {
  const bendingYield = bendingYieldPsi(diameterIn);
  const reduction = reductionTerm(diameterIn);
  checkNumber("panel", panelIn, LIMITS.nailedPanel);
  checkNumber("foam", foamIn, LIMITS.foam);
  const mainStrengthPsi = strengthOf("stud_gravity", studGravity);
  const sideStrengthPsi = strengthOf("panel_gravity", panelGravity);
  const thicknessIn = panelIn + foamIn;
  const leastIn = nds.leastPenetrationDiameters * diameterIn;
  checkNumber("nail_length", nailLengthIn, {
    min: Number((thicknessIn + leastIn - LENGTH_SLACK_IN).toPrecision(12)),
    max: LIMITS.nailLength.max,
    unit: "in",
    hint:
      `panel and foam take ${Number(thicknessIn.toPrecision(6))} in and the stud needs ` +
      `${nds.leastPenetrationDiameters} diameters, ${Number(leastIn.toPrecision(4))} in: use a longer nail`,
  });
  const penetrationIn = nailLengthIn - thicknessIn;
  return dowelYieldModes({
    diameterIn,
    mainBearingIn: penetrationIn - (nds.tipLengthDiameters * diameterIn) / 2,
    sideBearingIn: panelIn,
    mainStrengthPsi,
    sideStrengthPsi,
    bendingYieldPsi: bendingYield,
    gapIn: foamIn,
    reduction,
  });
}

/**
 * Reference lateral value of one nail through panel and foam into a stud: the least of {@link nailYieldModes}.
 * Arguments, limits and errors are the same.
 *
 * @param nailLengthIn nail length, in; long enough for 6 diameters in the stud, at most 24
 * @param diameterIn   nail shank, in; 0.099 or more, less than 0.25
 * @param panelIn      wood panel thickness, in; 1/64 to 2
 * @param foamIn       foam thickness, in; 0 to 12
 * @param studGravity  specific gravity of the stud; 0.31 to 0.73
 * @param panelGravity specific gravity of the panel; 0.31 to 0.73; 0.5 oriented strand board, 0.42 most
 *   plywood
 * @returns value, lb, not rounded, before any adjustment factor
 * @shape   one number
 * @throws {CalcError} as nailYieldModes
 * @source  as nailYieldModes
 * @example nailLateral(3, 0.148, 0.11, 0) // => 34.41
 * @since   0.1.0
 */
export function nailLateral(
  nailLengthIn: number,
  diameterIn: number,
  panelIn: number,
  foamIn: number,
  studGravity: number = STUD_GRAVITY,
  panelGravity: number = PANEL_GRAVITY
): number {
  return governing(
    nailYieldModes(nailLengthIn, diameterIn, panelIn, foamIn, studGravity, panelGravity)
  ).valueLb;
}

function governing(modes: readonly YieldModeRow[]): YieldModeRow {
  return modes.find((row) => row.governs) as YieldModeRow;
}

/** One nail with the foam as a gap beside the same nail with the panel tight to the stud. */
export interface NailFoamComparison {
  readonly withFoamLb: number;
  readonly withFoamMode: YieldMode;
  readonly withoutFoamLb: number;
  readonly withoutFoamMode: YieldMode;
  /** with over without; what to take to the engineer, as a percentage */
  readonly share: number;
  /** how far the nail reaches into the stud through the foam, in */
  readonly penetrationIn: number;
  /** empty, or what is disputed about this shank */
  readonly note: string;
}

/**
 * The same nail with and without the foam. Arguments, limits and errors are those of {@link nailYieldModes}.
 *
 * @param nailLengthIn nail length, in; long enough for 6 diameters in the stud, at most 24
 * @param diameterIn   nail shank, in; 0.099 or more, less than 0.25
 * @param panelIn      wood panel thickness, in; 1/64 to 2
 * @param foamIn       foam thickness, in; 0 to 12
 * @param studGravity  specific gravity of the stud; 0.31 to 0.73
 * @param panelGravity specific gravity of the panel; 0.31 to 0.73; 0.5 oriented strand board, 0.42 most
 *   plywood
 * @returns both values, their modes and the share that is left
 * @shape   one record
 * @throws {CalcError} as nailYieldModes
 * @source  as nailYieldModes
 * @example nailFoamComparison(3.5, 0.131, 0.625, 0).share // => 1
 * @since   0.1.0
 */
export function nailFoamComparison(
  nailLengthIn: number,
  diameterIn: number,
  panelIn: number,
  foamIn: number,
  studGravity: number = STUD_GRAVITY,
  panelGravity: number = PANEL_GRAVITY
): NailFoamComparison {
  const across = governing(
    nailYieldModes(nailLengthIn, diameterIn, panelIn, foamIn, studGravity, panelGravity)
  );
  const tight = governing(
    nailYieldModes(nailLengthIn, diameterIn, panelIn, 0, studGravity, panelGravity)
  );
  return {
    withFoamLb: across.valueLb,
    withFoamMode: across.mode,
    withoutFoamLb: tight.valueLb,
    withoutFoamMode: tight.mode,
    share: across.valueLb / tight.valueLb,
    penetrationIn: nailLengthIn - panelIn - foamIn,
    note: nailLateralNote(diameterIn),
  };
}
