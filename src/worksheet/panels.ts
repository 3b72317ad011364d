/** Panels and rips: how many, how tall, and the bit that trims openings. */
import { ROUTER_CLEARANCE_IN, routerBit } from "../core/assembly.js";
import { KERF_IN, LIMITS, PANEL_LENGTHS_IN, PANEL_WIDTH_IN } from "../core/limits.js";
import { panelsPerWall } from "../core/panels-per-wall.js";
import { ripHeight, ripsPerPanel } from "../core/rips.js";
import { type Topic, figure, fn, inches, length } from "./entry.js";
import { height, leftEnd, rightEnd, spacing, thickness, wallLength } from "./wall.js";
import { feetForInches } from "./slips.js";

export const panels: Topic = {
  title: "Panels and rips",
  functions: [
    fn("PANELS_PER_WALL", {
      help: "Whole panels for this wall alone, its own offcuts used again.",
      core: panelsPerWall,
      args: [
        wallLength,
        height,
        thickness,
        leftEnd,
        rightEnd,
        spacing,
        length("panel_length", "Panel length.", {
          blank: `the shortest of ${PANEL_LENGTHS_IN.join(", ")} that covers the height`,
          within: LIMITS.panelLength,
        }),
      ],
      returns: figure("Panels."),
      slips: [feetForInches("length", "height")],
      example: [`=SHEATH.PANELS_PER_WALL("13'", "8'", "1-7/8")`, 4],
    }),
    fn("RIP_HEIGHT", {
      help: `Height of the rips, from the bottom lap up to the block line; at most the width of a panel, ${PANEL_WIDTH_IN} inches.`,
      core: ripHeight,
      args: [
        length("block_line", "Height of the block line above the deck.", {
          within: LIMITS.ripPart,
        }),
        length("below", "How far sheathing laps down past the deck.", { within: LIMITS.ripPart }),
      ],
      returns: inches,
      example: [`=SHEATH.RIP_HEIGHT(12, "11 1/4")`, 23.25],
    }),
    fn("RIPS_PER_PANEL", {
      help: "Rips of full length from one panel, the saw cuts between them allowed for.",
      core: ripsPerPanel,
      args: [
        length("rip_height", "Height of a rip.", { also: "1/64 to the panel width" }),
        length("panel_width", "Panel width.", { or: PANEL_WIDTH_IN, within: LIMITS.panelWidth }),
        length("kerf", "Width of a saw cut.", { or: KERF_IN, within: LIMITS.kerf }),
      ],
      returns: figure("Rips."),
      example: [`=SHEATH.RIPS_PER_PANEL("23 7/8")`, 2],
    }),
    fn("ROUTER_BIT", {
      help: "Cutting length of the router bit that trims openings.",
      core: routerBit,
      args: [
        thickness,
        length("clearance", "How far the bit passes the panel.", {
          or: ROUTER_CLEARANCE_IN,
          within: LIMITS.clearance,
        }),
      ],
      returns: inches,
      example: [`=SHEATH.ROUTER_BIT("1-7/8")`, 2.125],
    }),
  ],
};
