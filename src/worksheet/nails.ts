/** Nails: how long, how deep, how many. Never a shear-wall capacity. */
import { STRUCTURAL_CAUTION } from "../core/cautions.js";
import { LIMITS } from "../core/limits.js";
import {
  NAIL_LENGTHS_IN,
  PENETRATION_IN,
  nailBoxes,
  nailLength,
  nailPenetration,
  nailsPerPanel,
  nailsPerWall,
  stockNail,
} from "../core/nails.js";
import { PENETRATION_BASES, penetrationRule } from "../core/penetration.js";
import { SPARE_SHARE } from "../core/tape.js";
import { type Topic, choice, figure, fn, inches, length, list, number, share } from "./entry.js";
import { height, leftEnd, rightEnd, ripHeight, spacing, thickness, wallLength } from "./wall.js";
import { feetForInches, notAThickness } from "./slips.js";

const cautions = [STRUCTURAL_CAUTION];
const edgeSpacing = length("edge_spacing", "Edge nailing, from the engineer's schedule.", {
  within: LIMITS.nailSpacing,
});
const fieldSpacing = length("field_spacing", "Field nailing, from the engineer's schedule.", {
  within: LIMITS.nailSpacing,
});

export const nails: Topic = {
  title: "Nails",
  functions: [
    fn("NAIL_LENGTH", {
      help: "Shortest nail for a panel: its thickness and the penetration wanted in the stud.",
      core: nailLength,
      args: [
        thickness,
        length("penetration", "Into the stud; the engineer's schedule rules.", {
          or: PENETRATION_IN,
          within: LIMITS.penetration,
        }),
      ],
      returns: figure("Inches, exact."),
      slips: [notAThickness("thickness", "penetration")],
      example: [`=SHEATH.NAIL_LENGTH("1-7/8")`, 3.375],
      cautions,
    }),
    fn("STOCK_NAIL", {
      help: "Next stocked nail length at or above the one needed.",
      core: stockNail,
      args: [
        length("length", "Length needed.", { within: LIMITS.nailLength }),
        list("stock", "Range of stocked lengths.", {
          or: NAIL_LENGTHS_IN,
          within: LIMITS.nailLength,
        }),
      ],
      returns: inches,
      example: [`=SHEATH.STOCK_NAIL("3-3/8")`, 3.5],
      cautions,
    }),
    fn("NAIL_PENETRATION", {
      help: "How far a nail goes into the stud.",
      core: nailPenetration,
      args: [length("nail_length", "Nail length.", { within: LIMITS.nailLength }), thickness],
      returns: inches,
      example: [`=SHEATH.NAIL_PENETRATION("3-1/2", "1-7/8")`, 1.625],
      cautions,
    }),
    fn("NAIL_PENETRATION_NEEDED", {
      help: "Least penetration into the stud on a named basis, for a nail's diameter.",
      core: (basis, diameterIn) => penetrationRule(basis, diameterIn).value,
      from: penetrationRule,
      args: [
        choice("basis", "What the figure rests on", PENETRATION_BASES),
        length("diameter", "Nail diameter.", { within: LIMITS.nailDiameter }),
      ],
      returns: inches,
      example: [`=SHEATH.NAIL_PENETRATION_NEEDED("shear-wall table", 0.131)`, 1.375],
      cautions,
    }),
    fn("NAILS_PER_PANEL", {
      help: "Nails of one loose piece: round its edges and on the studs between.",
      core: nailsPerPanel,
      args: [
        length("width", "Piece width.", { within: LIMITS.wallLength }),
        length("height", "Piece height.", { within: LIMITS.wallHeight }),
        edgeSpacing,
        fieldSpacing,
        spacing,
      ],
      returns: figure("Nails."),
      example: ["=SHEATH.NAILS_PER_PANEL(48, 96, 6, 12)", 62],
      cautions,
    }),
    fn("NAILS_PER_WALL", {
      help: "Nails of a plain wall.",
      core: nailsPerWall,
      args: [
        wallLength,
        height,
        thickness,
        edgeSpacing,
        fieldSpacing,
        leftEnd,
        rightEnd,
        spacing,
        ripHeight,
      ],
      returns: figure("Nails."),
      slips: [feetForInches("length", "height")],
      example: [`=SHEATH.NAILS_PER_WALL(192, 96, "1-7/8", 6, 12, "free", "free")`, 248],
      cautions,
    }),
    fn("NAIL_BOXES", {
      help: "Whole boxes of one nail for the house, rounded up once.",
      core: nailBoxes,
      args: [
        number("nails", "Nails needed over the whole house.", { within: LIMITS.need }),
        number("nails_per_box", "Nails in a box.", { within: LIMITS.perPackage }),
        share("extra", "Spare share.", { or: SPARE_SHARE, within: LIMITS.share }),
      ],
      returns: figure("Boxes."),
      example: ["=SHEATH.NAIL_BOXES(2500, 2000)", 2],
      cautions,
    }),
  ],
};
