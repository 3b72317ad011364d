/** Tape: feet of it, how wide, how many rolls. */
import { LIMITS } from "../core/limits.js";
import {
  CORNER_PIECE_IN,
  CORNER_TAPE_METHODS,
  OPENING_EXTENSION_IN,
  PIECE_LAP_IN,
  SPARE_SHARE,
  TAPE_LAP_IN,
  TAPE_WIDTH_METHODS,
  cornerTapeFeet,
  insideCornerTapeFeet,
  openingTapeFeet,
  tapeFeet,
  tapeRolls,
  tapeWidth,
} from "../core/tape.js";
import {
  type Topic,
  choice,
  feet,
  figure,
  flag,
  fn,
  inches,
  length,
  number,
  share,
} from "./entry.js";
import { height, leftEnd, rightEnd, ripHeight, spacing, thickness, wallLength } from "./wall.js";
import { feetForInches } from "./slips.js";

const cornerHeight = length("height", "Sheathed height of the corner.", {
  within: LIMITS.wallHeight,
});
const corners = number("corners", "How many such corners.", { or: 1, within: LIMITS.count });

export const tape: Topic = {
  title: "Tape",
  functions: [
    fn("TAPE_FEET", {
      help: "Feet of seam tape of a plain wall.",
      core: tapeFeet,
      args: [wallLength, height, thickness, leftEnd, rightEnd, ripHeight, spacing],
      returns: feet,
      slips: [feetForInches("length", "height")],
      example: [`=SHEATH.TAPE_FEET("32'", "8'", "1-7/8", "free", "free")`, 56],
    }),
    fn("CORNER_TAPE_FEET", {
      help: "Feet of tape for outside corners.",
      core: cornerTapeFeet,
      args: [
        cornerHeight,
        corners,
        choice("method", "Both layers counted, or one", CORNER_TAPE_METHODS, { or: "two-layer" }),
      ],
      returns: feet,
      slips: [feetForInches("height")],
      example: [`=SHEATH.CORNER_TAPE_FEET("9'", 4)`, 72],
    }),
    fn("INSIDE_CORNER_TAPE_FEET", {
      help: "Feet of tape for inside corners put up in pieces, their overlaps counted.",
      core: insideCornerTapeFeet,
      args: [
        cornerHeight,
        corners,
        length("piece", "Length of a piece.", { or: CORNER_PIECE_IN, within: LIMITS.cornerPiece }),
        length("lap", "Overlap of two pieces.", {
          or: PIECE_LAP_IN,
          within: { min: 0 },
          also: "less than a piece",
        }),
      ],
      returns: feet,
      slips: [feetForInches("height")],
      example: [`=SHEATH.INSIDE_CORNER_TAPE_FEET("9'", 2)`, 19.5],
    }),
    fn("OPENING_TAPE_FEET", {
      help: "Feet of tape round openings: jambs, head and sill with their extensions.",
      core: openingTapeFeet,
      args: [
        length("width", "Opening width.", { within: LIMITS.wallLength }),
        length("height", "Opening height.", { within: LIMITS.wallHeight }),
        number("count", "How many such openings.", { or: 1, within: LIMITS.count }),
        length("extension", "How far head and sill tape run past each jamb.", {
          or: OPENING_EXTENSION_IN,
          within: LIMITS.openingExtension,
        }),
        flag("sill", "FALSE for a door: no tape at its sill.", { or: true }),
      ],
      returns: feet,
      example: [`=SHEATH.OPENING_TAPE_FEET("3'", "4'")`, 16],
    }),
    fn("TAPE_WIDTH", {
      help: "Narrowest tape that covers a corner.",
      core: tapeWidth,
      args: [
        thickness,
        choice(
          "method",
          "Two layers, one, or the bottom edge at the sill plate",
          TAPE_WIDTH_METHODS,
          { or: "two-layer" }
        ),
        length("lap", "Lap onto each panel.", { or: TAPE_LAP_IN, within: LIMITS.tapeLap }),
      ],
      returns: inches,
      example: [`=SHEATH.TAPE_WIDTH("1-7/8")`, 2.875],
    }),
    fn("TAPE_ROLLS", {
      help: "Whole rolls of one tape for the house, rounded up once.",
      core: tapeRolls,
      args: [
        number("feet", "Feet needed over the whole house.", { within: LIMITS.need }),
        number("feet_per_roll", "Feet on a roll.", { within: LIMITS.perPackage }),
        share("extra", "Spare share.", { or: SPARE_SHARE, within: LIMITS.share }),
      ],
      returns: figure("Rolls."),
      example: ["=SHEATH.TAPE_ROLLS(380, 100)", 4],
    }),
  ],
};
