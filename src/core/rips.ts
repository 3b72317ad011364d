/** Rips: the band from the bottom lap up to the block line. */
import { TINY_IN, checkNumber, floorCount, outOfRange, shown } from "./check.js";
import type { RunSpan } from "./corners.js";
import { FINEST_IN, KERF_IN, LIMITS, PANEL_WIDTH_IN } from "./limits.js";

/** Longest rip in a plain wall: an 8 ft panel; common practice, no source. */
export const PLAIN_RIP_IN = 96;

/** What makes a rip that no panel is wide enough for short enough. */
export function shorterRip(belowIn: number, panelWidthIn: number): string {
  const leftIn = panelWidthIn - belowIn;
  if (leftIn <= 0) return "lap down less";
  return `lower the block line to ${shown(leftIn)} in or lap down less`;
}

/**
 * Height of the rips: from the bottom lap up to the block line.
 *
 * @param blockLineIn height of the block line above the deck, in; 0 or more
 * @param belowIn     how far sheathing laps down past the deck, in; 0 or more
 * @returns block line + below, in
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: 0 or over a panel's width of 48 in
 *   together, or an argument below 0
 * @source geometry: a rip is cut along the panel; at most half the width less half a saw cut two come out of one panel,
 *   above that one
 * @example ripHeight(10, 13.25) // => 23.25
 */
export function ripHeight(blockLineIn: number, belowIn: number): number {
  checkNumber("block_line", blockLineIn, LIMITS.ripPart);
  checkNumber("below", belowIn, LIMITS.ripPart);
  const heightIn = blockLineIn + belowIn;
  if (heightIn > PANEL_WIDTH_IN + TINY_IN) {
    throw outOfRange(
      `block_line + below must be at most ${PANEL_WIDTH_IN} in, a panel's width; got ${shown(heightIn)}: ${shorterRip(belowIn, PANEL_WIDTH_IN)}`
    );
  }
  if (!(heightIn > 0)) throw outOfRange("block_line + below must be more than 0 in; got 0");
  return heightIn;
}

/** The rip course of a plain wall, in: 0 for none, less than the wall, and no taller than a panel is wide. */
export function checkRipCourse(ripHeightIn: number, wallHeightIn: number): void {
  checkNumber("rip_height", ripHeightIn, { min: 0, below: wallHeightIn, unit: "in" });
  if (ripHeightIn > PANEL_WIDTH_IN + TINY_IN) {
    throw outOfRange(
      `rip_height must be at most ${PANEL_WIDTH_IN} in, a panel's width; got ${shown(ripHeightIn)}`
    );
  }
}

/**
 * Rips of full length from one panel, the saw cuts between them allowed for.
 *
 * @param ripHeightIn  height of a rip, in; 1/64 to the panel width
 * @param panelWidthIn panel width, in; 12 to 120
 * @param kerfIn       width of a saw cut, in; 0 or more, less than 2
 * @returns whole rips; two up to half of what the panel's width less one saw cut leaves, one above it
 * @shape one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: a rip wider than the panel, or an
 *   argument outside its limits
 * @source arithmetic: n rips need n·height + (n − 1)·kerf
 * @example ripsPerPanel(23.75) // => 2
 */
export function ripsPerPanel(
  ripHeightIn: number,
  panelWidthIn: number = PANEL_WIDTH_IN,
  kerfIn: number = KERF_IN
): number {
  checkNumber("panel_width", panelWidthIn, LIMITS.panelWidth);
  checkNumber("rip_height", ripHeightIn, { min: FINEST_IN, max: panelWidthIn, unit: "in" });
  checkNumber("kerf", kerfIn, LIMITS.kerf);
  return floorCount((panelWidthIn + kerfIn) / (ripHeightIn + kerfIn));
}

/** Tallest rip of which two come out of a panel: half of what one saw cut leaves of its width, in. */
export function tallestOfTwo(panelWidthIn: number, kerfIn: number): number {
  return (panelWidthIn - kerfIn) / 2;
}

/**
 * Ends and joints of a plain wall's rips: joints every 96 in from the run's start, on the layout
 * marks; a last rip under one stud space moves the joint before it back one space.
 */
export function plainRips(span: RunSpan, spacingIn: number): number[] {
  const longestIn = floorCount(PLAIN_RIP_IN / spacingIn) * spacingIn;
  const edges = [span.startIn];
  for (let at = longestIn; at < span.runIn - TINY_IN; at += longestIn) {
    edges.push(span.startIn + at);
  }
  const rest = span.endIn - (edges.at(-1) as number);
  if (edges.length > 1 && rest < spacingIn - TINY_IN) {
    edges[edges.length - 1] = (edges.at(-1) as number) - spacingIn;
  }
  return [...edges, span.endIn];
}
