/**
 * The yield limit equations as the National Design Specification prints them, without a gap:
 * factors k1, k2 and k3. Kept apart from the core, which uses the general form with a gap,
 * so that each can check the other.
 *
 * @source NDS-2018 Table 12.3.1A, equations 12.3-1 to 12.3-6
 */
export interface TightJoint {
  readonly diameterIn: number;
  readonly mainBearingIn: number;
  readonly sideBearingIn: number;
  readonly mainStrengthPsi: number;
  readonly sideStrengthPsi: number;
  readonly bendingYieldPsi: number;
}

/** Modes Im, Is, II, IIIm, IIIs, IV in lb, before the reduction term. */
export function kFormModes(joint: TightJoint): readonly number[] {
  const d = joint.diameterIn;
  const lm = joint.mainBearingIn;
  const ls = joint.sideBearingIn;
  const fem = joint.mainStrengthPsi;
  const fes = joint.sideStrengthPsi;
  const fyb = joint.bendingYieldPsi;
  const re = fem / fes;
  const rt = lm / ls;
  const k1 =
    (Math.sqrt(re + 2 * re ** 2 * (1 + rt + rt ** 2) + rt ** 2 * re ** 3) - re * (1 + rt)) /
    (1 + re);
  const k2 = -1 + Math.sqrt(2 * (1 + re) + (2 * fyb * (1 + 2 * re) * d ** 2) / (3 * fem * lm ** 2));
  const k3 =
    -1 + Math.sqrt((2 * (1 + re)) / re + (2 * fyb * (2 + re) * d ** 2) / (3 * fem * ls ** 2));
  return [
    d * lm * fem,
    d * ls * fes,
    k1 * d * ls * fes,
    (k2 * d * lm * fem) / (1 + 2 * re),
    (k3 * d * ls * fem) / (2 + re),
    d ** 2 * Math.sqrt((2 * fem * fyb) / (3 * (1 + re))),
  ];
}
