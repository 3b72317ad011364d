/** Backing behind the panel that stops short at an inside corner. */
import { TINY_IN, ceilCount, checkChoice, checkNumber } from "./check.js";
import { LIMITS, STUD_IN, checkThickness } from "./limits.js";

export type BackingMethod = "stud" | "channel";
export const BACKING_METHODS: readonly BackingMethod[] = ["stud", "channel"];
/** Nailing surface wanted; common practice, no source. */
export const NAILING_IN = 0.75;
/** Members of one channel; common practice, no source. */
const CHANNEL_MEMBERS = 3;

/** Pieces of backing one inside corner needs; 0 where the end stud leaves nailing enough. */
export function backingAtCorner(
  thicknessIn: number,
  method: BackingMethod = "stud",
  nailingIn: number = NAILING_IN,
  studIn: number = STUD_IN
): number {
  checkThickness("thickness", thicknessIn);
  const chosen = checkChoice("method", method, BACKING_METHODS);
  checkNumber("nailing", nailingIn, LIMITS.nailing);
  checkNumber("stud", studIn, LIMITS.stud);
  if (studIn - thicknessIn >= nailingIn - TINY_IN) return 0;
  if (chosen === "channel") return CHANNEL_MEMBERS;
  return ceilCount((thicknessIn + nailingIn - studIn) / studIn);
}

/**
 * Backing pieces for inside corners: the panel that stops short leaves `stud − thickness` of nailing
 * on the end stud; where that is too little, backing is added.
 *
 * @param insideCorners how many; whole, 0 to 100,000
 * @param thicknessIn   panel thickness, in; more than 0, at most 12
 * @param method        `stud`: as many studs as the nailing needs; `channel`: three members
 * @param nailingIn     nailing surface wanted, in; more than 0, at most 12
 * @param studIn        stud thickness, in; 0.5 to 12
 * @returns pieces, each the height of its corner; 0 where no backing is needed
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits
 * @source common practice, no source
 * @example backingStuds(2, 1.875) // => 2
 */
export function backingStuds(
  insideCorners: number,
  thicknessIn: number,
  method: BackingMethod = "stud",
  nailingIn: number = NAILING_IN,
  studIn: number = STUD_IN
): number {
  const corners = checkNumber("inside_corners", insideCorners, LIMITS.count);
  return corners * backingAtCorner(thicknessIn, method, nailingIn, studIn);
}
