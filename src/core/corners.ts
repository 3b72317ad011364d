/** The five ways a wall's panels end, and the run they leave. */
import { checkChoice, outOfRange, shown } from "./check.js";
import { checkLength, checkThickness } from "./limits.js";

export type WallEnd = "past" | "flush" | "tight" | "short" | "free";
export type Side = "left" | "right";

export const WALL_ENDS: readonly WallEnd[] = ["past", "flush", "tight", "short", "free"];
/** Ends of every wall of a plain house, where nothing else is said. */
export const PLAIN_ENDS = { left: "past", right: "flush" } as const;
export const SIDES: readonly Side[] = ["left", "right"];

/** What the neighbor's end must be: each corner has one of either. */
export const OPPOSITE_END: Readonly<Record<WallEnd, WallEnd>> = {
  past: "flush",
  flush: "past",
  tight: "short",
  short: "tight",
  free: "free",
};

export function checkEnd(name: string, value: unknown): WallEnd {
  return checkChoice(name, value, WALL_ENDS);
}
export function checkSide(name: string, value: unknown): Side {
  return checkChoice(name, value, SIDES);
}

/** How far the panels reach beyond the framing end: +t past, -t short, else 0. */
export function endReach(end: WallEnd, thicknessIn: number): number {
  if (end === "past") return thicknessIn;
  if (end === "short") return -thicknessIn;
  return 0;
}

/** A plain wall: what every layout function needs to know. */
export interface WallLine {
  readonly lengthIn: number;
  readonly thicknessIn: number;
  readonly leftEnd: WallEnd;
  readonly rightEnd: WallEnd;
}

/** Where the panels start and stop, from the left framing corner. */
export interface RunSpan {
  readonly startIn: number;
  readonly endIn: number;
  readonly runIn: number;
}

/** Checks the four arguments once and gives the run; every layout function starts here. */
export function runSpan(wall: WallLine): RunSpan {
  checkLength("length", wall.lengthIn);
  checkThickness("thickness", wall.thicknessIn);
  const leftEnd = checkEnd("left_end", wall.leftEnd);
  const rightEnd = checkEnd("right_end", wall.rightEnd);
  const startIn = 0 - endReach(leftEnd, wall.thicknessIn);
  const endIn = wall.lengthIn + endReach(rightEnd, wall.thicknessIn);
  const runIn = endIn - startIn;
  if (!(runIn > 0)) {
    throw outOfRange(
      `length must leave a run to sheathe: ${shown(wall.lengthIn)} in less what the ends take leaves ${shown(runIn)} in`
    );
  }
  return { startIn: startIn === 0 ? 0 : startIn, endIn, runIn };
}

/**
 * The length that is actually sheathed.
 *
 * @param lengthIn    framing length, outside face to outside face, in; more than 0, less than 12,000
 * @param thicknessIn panel thickness, in; more than 0, at most 12
 * @param leftEnd     past (+t), flush (0), tight (0), short (-t) or free (0)
 * @param rightEnd    the same at the right
 * @returns run, in
 * @shape one number
 * @throws {CalcError} wrong-kind, out-of-range: an argument outside its limits, or no run left
 * @source geometry: `past` reaches the outer face of the neighbor's panel, `short` stops at it
 * @example runLength(240, 1.875, "past", "flush") // => 241.875
 */
export function runLength(
  lengthIn: number,
  thicknessIn: number,
  leftEnd: WallEnd = PLAIN_ENDS.left,
  rightEnd: WallEnd = PLAIN_ENDS.right
): number {
  return runSpan({ lengthIn, thicknessIn, leftEnd, rightEnd }).runIn;
}
