/** The arguments of a plain wall, shared by every function of one wall. */
import { PLAIN_ENDS, SIDES, WALL_ENDS } from "../core/corners.js";
import { LIMITS, PANEL_WIDTH_IN, SPACING_IN, STUD_IN } from "../core/limits.js";
import { choice, length } from "./entry.js";

export const wallLength = length("length", "Framing length, corner to corner.", {
  within: LIMITS.wallLength,
});
export const height = length("height", "Sheathed height, rips included.", {
  within: LIMITS.wallHeight,
});
export const thickness = length("thickness", "Panel thickness, foam and wood.", {
  within: LIMITS.thickness,
});
export const leftEnd = choice("left_end", "How the left end meets its neighbor", WALL_ENDS, {
  or: PLAIN_ENDS.left,
});
export const rightEnd = choice("right_end", "How the right end meets its neighbor", WALL_ENDS, {
  or: PLAIN_ENDS.right,
});
export const spacing = length("spacing", "Stud spacing.", {
  or: SPACING_IN,
  within: LIMITS.spacing,
  also: "a whole number of times into the panel width",
});
export const from = choice("from", "End laid out from", SIDES, { or: "left" });
export const stud = length("stud", "Stud thickness.", { or: STUD_IN, within: LIMITS.stud });
export const ripHeight = length("rip_height", "Height of the rip course; 0 for none.", {
  or: 0,
  within: LIMITS.ripPart,
  also: `at most ${PANEL_WIDTH_IN}, less than the height`,
});
