/** Numbers to take to the engineer: the lateral value of one nail. */
import { STRUCTURAL_CAUTION } from "../core/cautions.js";
import { LIMITS } from "../core/limits.js";
import {
  PANEL_GRAVITY,
  STUD_GRAVITY,
  type YieldModeRow,
  nailLateral,
  nailYieldModes,
} from "../core/nail-lateral.js";
import { type Topic, figure, fn, length, number, rows } from "./entry.js";
import { swapped } from "./slips.js";

const args = [
  length("nail_length", "Nail length.", {
    within: LIMITS.nailLength,
    also: "six diameters into the stud",
  }),
  length("nail_diameter", "Nail diameter.", { within: LIMITS.nailDiameter }),
  length("panel", "Wood structural panel thickness.", { within: LIMITS.nailedPanel }),
  length("foam", "Foam thickness; 0 where the panel is tight to the stud.", {
    within: LIMITS.foam,
  }),
  number("stud_gravity", "Specific gravity of the stud.", {
    or: STUD_GRAVITY,
    within: LIMITS.gravity,
  }),
  number("panel_gravity", "Specific gravity of the panel.", {
    or: PANEL_GRAVITY,
    within: LIMITS.gravity,
  }),
] as const;
const cautions = [STRUCTURAL_CAUTION];

export const engineer: Topic = {
  title: "For the engineer",
  functions: [
    fn("NAIL_LATERAL", {
      help: "Reference lateral value of one nail through the foam as a gap: a comparison for the engineer, never a shear-wall capacity.",
      core: nailLateral,
      args,
      returns: figure("Pounds."),
      slips: [swapped("foam", "panel")],
      example: ["=ROUND(SHEATH.NAIL_LATERAL(3, 0.148, 0.75, 0, 0.5, 0.5), 0)", 105],
      cautions,
    }),
    fn("NAIL_YIELD_MODES", {
      help: "Every yield mode of one nail through the foam as a gap: a comparison for the engineer, never a shear-wall capacity.",
      core: nailYieldModes,
      args,
      returns: rows<YieldModeRow>({
        Mode: (each) => each.mode,
        Value: (each) => each.valueLb,
        Governs: (each) => (each.governs ? "yes" : ""),
      }),
      slips: [swapped("foam", "panel")],
      example: ["=INDEX(SHEATH.NAIL_YIELD_MODES(3, 0.148, 0.75, 0, 0.5, 0.5), 6, 1)", "IIIs"],
      cautions,
    }),
  ],
};
