/** The panel: foam bonded to wood, and what its thickness does at corners and to the router bit. */
import { checkNumber } from "./check.js";
import { BLANK_HINT, LIMITS, checkThickness } from "./limits.js";
import { degreesToRadians } from "./units.js";

/** Turn at a square corner, deg; definition. */
export const SQUARE_CORNER_DEG = 90;
/** How far the bit passes the panel, in; common practice, no source. */
export const ROUTER_CLEARANCE_IN = 0.25;

/**
 * Total thickness of the panel.
 *
 * @param foamIn  foam, in; more than 0, at most 12
 * @param panelIn wood structural panel, in; more than 0, at most 12
 * @returns foam + panel, in; not rounded
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source definition
 * @example panelThickness(1.25, 0.625) // => 1.875
 */
export function panelThickness(foamIn: number, panelIn: number): number {
  checkNumber("foam", foamIn, { ...LIMITS.thickness, hint: foamIn === 0 ? BLANK_HINT : "" });
  checkNumber("panel", panelIn, { ...LIMITS.thickness, hint: panelIn === 0 ? BLANK_HINT : "" });
  return foamIn + panelIn;
}

/**
 * How far to burn: how far the panel's outer face runs past the framing corner.
 *
 * @param foamIn  foam, in; more than 0, at most 12
 * @param panelIn wood structural panel, in; more than 0, at most 12
 * @param turnDeg change of direction at the corner, deg; more than 0 and less than 180
 * @returns (foam + panel)·tan(turn/2), in; the whole thickness at a square corner
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source geometry of a miter: both outer faces meet on the line that halves the corner
 * @example cornerOffset(1.25, 0.625) // => 1.875
 */
export function cornerOffset(
  foamIn: number,
  panelIn: number,
  turnDeg: number = SQUARE_CORNER_DEG
): number {
  const thicknessIn = panelThickness(foamIn, panelIn);
  checkNumber("turn", turnDeg, LIMITS.turn);
  // tan(45 deg) is a hair under 1 in binary; a square corner is exactly the thickness
  if (turnDeg === SQUARE_CORNER_DEG) return thicknessIn;
  return thicknessIn * Math.tan(degreesToRadians(turnDeg) / 2);
}

/**
 * Cutting length of the router bit that trims an opening.
 *
 * @param thicknessIn panel thickness, in; more than 0, at most 12
 * @param clearanceIn how far the bit passes the panel, in; 0 to 12
 * @returns thickness + clearance, in
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source common practice, no source
 * @example routerBit(1.875) // => 2.125
 */
export function routerBit(thicknessIn: number, clearanceIn: number = ROUTER_CLEARANCE_IN): number {
  checkThickness("thickness", thicknessIn);
  checkNumber("clearance", clearanceIn, LIMITS.clearance);
  return thicknessIn + clearanceIn;
}
