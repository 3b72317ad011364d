/** The panel and its corners: how thick, how far past, how long the run, what stands behind. */
import { SQUARE_CORNER_DEG, cornerOffset, panelThickness } from "../core/assembly.js";
import { BACKING_METHODS, NAILING_IN, backingStuds } from "../core/backing.js";
import { runLength } from "../core/corners.js";
import { LIMITS } from "../core/limits.js";
import { type Topic, choice, figure, fn, inches, length, number } from "./entry.js";
import { leftEnd, rightEnd, stud, thickness, wallLength } from "./wall.js";
import { feetForInches, swapped } from "./slips.js";

const foam = length("foam", "Foam thickness.", { within: LIMITS.thickness });
const panel = length("panel", "Wood structural panel thickness.", { within: LIMITS.thickness });

export const corners: Topic = {
  title: "The panel and its corners",
  functions: [
    fn("PANEL_THICKNESS", {
      help: "Total thickness of the panel: foam plus wood.",
      core: panelThickness,
      args: [foam, panel],
      returns: inches,
      slips: [swapped("foam", "panel")],
      example: [`=SHEATH.PANEL_THICKNESS("1-1/4", "5/8")`, 1.875],
    }),
    fn("CORNER_OFFSET", {
      help: "How far to burn at a corner: how far the panel runs past the framing corner.",
      core: cornerOffset,
      args: [
        foam,
        panel,
        number("turn", "Change of direction at the corner.", {
          or: SQUARE_CORNER_DEG,
          within: LIMITS.turn,
        }),
      ],
      returns: inches,
      slips: [swapped("foam", "panel")],
      example: [`=SHEATH.CORNER_OFFSET("1-1/4", "5/8")`, 1.875],
    }),
    fn("RUN_LENGTH", {
      help: "The length that is actually sheathed, by how the wall meets its neighbors.",
      core: runLength,
      args: [wallLength, thickness, leftEnd, rightEnd],
      returns: inches,
      slips: [feetForInches("length")],
      example: [`=SHEATH.RUN_LENGTH("24'", "1-7/8")`, 289.875],
    }),
    fn("BACKING_STUDS", {
      help: "Backing pieces behind panels that stop short at inside corners.",
      core: backingStuds,
      args: [
        number("inside_corners", "How many inside corners.", { within: LIMITS.count }),
        thickness,
        choice("method", "Studs, or a channel of 3 members", BACKING_METHODS, { or: "stud" }),
        length("nailing", "Nailing surface wanted.", { or: NAILING_IN, within: LIMITS.nailing }),
        stud,
      ],
      returns: figure("Pieces."),
      example: [`=SHEATH.BACKING_STUDS(4, "1-7/8")`, 4],
    }),
  ],
};
