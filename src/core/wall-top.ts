/** The line of a wall's top: level, raked or with a peak; from the left framing corner. */
import { TINY_IN, checkNumber, outOfRange, shown } from "./check.js";
import { LIMITS, checkLength } from "./limits.js";

export interface TopPoint {
  readonly xIn: number;
  /** deck to top of the top plate, in */
  readonly heightIn: number;
}

/** Two points, or three where there is a peak; ascending x from 0 to the framing length. */
export type WallTop = readonly TopPoint[];

export interface Peak {
  readonly atIn: number;
  readonly heightIn: number;
}

/** Builds and checks the top of a wall. Heights of 0 are allowed where the wall runs out. */
export function wallTop(
  lengthIn: number,
  leftIn: number,
  rightIn: number,
  peak?: Peak | undefined
): WallTop {
  checkLength("length", lengthIn);
  checkNumber("left height", leftIn, LIMITS.endHeight);
  checkNumber("right height", rightIn, LIMITS.endHeight);
  if (leftIn === 0 && rightIn === 0 && !peak) {
    throw outOfRange("height must be more than 0 in at one end; got 0");
  }
  const left = { xIn: 0, heightIn: leftIn };
  const right = { xIn: lengthIn, heightIn: rightIn };
  if (!peak) return [left, right];
  checkNumber("peak at", peak.atIn, { above: 0, below: lengthIn, unit: "in" });
  checkNumber("peak height", peak.heightIn, LIMITS.wallHeight);
  if (peak.heightIn <= Math.max(leftIn, rightIn)) {
    throw outOfRange(
      `peak height must be more than both end heights; got ${shown(peak.heightIn)} beside ${shown(leftIn)} and ${shown(rightIn)}`
    );
  }
  return [left, { xIn: peak.atIn, heightIn: peak.heightIn }, right];
}

/** The stretch of the top over x; the first or last stretch goes on beyond the framing ends. */
function stretchAt(top: WallTop, xIn: number): readonly [TopPoint, TopPoint] {
  for (let index = 1; index < top.length - 1; index++) {
    if (xIn <= (top[index] as TopPoint).xIn) {
      return [top[index - 1] as TopPoint, top[index] as TopPoint];
    }
  }
  return [top[top.length - 2] as TopPoint, top[top.length - 1] as TopPoint];
}

/** Rise per inch of run over x: positive going up to the right. */
export function slopeAt(top: WallTop, xIn: number): number {
  const [from, to] = stretchAt(top, xIn);
  return (to.heightIn - from.heightIn) / (to.xIn - from.xIn);
}

/** Height of the top over x; a slope goes on past the framing end, as the panel does. */
export function heightAt(top: WallTop, xIn: number): number {
  const [from] = stretchAt(top, xIn);
  return from.heightIn + slopeAt(top, xIn) * (xIn - from.xIn);
}

export function highest(top: WallTop): number {
  return Math.max(...top.map((point) => point.heightIn));
}

export function isLevel(top: WallTop): boolean {
  const first = (top[0] as TopPoint).heightIn;
  return top.every((point) => Math.abs(point.heightIn - first) < TINY_IN);
}

export function peakOf(top: WallTop): TopPoint | undefined {
  return top.length > 2 ? top[1] : undefined;
}
