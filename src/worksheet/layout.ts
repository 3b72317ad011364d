/** Layout: where studs stand, where panels break, what a rake's studs are cut to. */
import { panelBreaks, studMarks, type StudMark } from "../core/layout.js";
import { LIMITS, PANEL_WIDTH_IN } from "../core/limits.js";
import { type RakeStud, USUAL_PLATES, rakeStuds } from "../core/rake-studs.js";
import { type Topic, column, fn, length, number, rows } from "./entry.js";
import { from, leftEnd, rightEnd, spacing, stud, thickness, wallLength } from "./wall.js";
import { feetForInches } from "./slips.js";

const endHeight = (side: string) =>
  length(`${side}_height`, `Deck to top of the top plate at the ${side} end.`, {
    within: LIMITS.endHeight,
  });

export const layout: Topic = {
  title: "Layout and studs",
  functions: [
    fn("STUD_MARKS", {
      help: "Stud marks of a wall, with the tape reading after burning and where panels break.",
      core: studMarks,
      args: [wallLength, thickness, leftEnd, rightEnd, spacing, from, stud],
      returns: rows<StudMark>({
        Mark: (stud) => stud.mark,
        Center: (stud) => stud.centerIn,
        "Near edge": (stud) => stud.nearEdgeIn,
        "Far edge": (stud) => stud.farEdgeIn,
        "Tape reading": (stud) => stud.tapeIn,
        "Panel breaks": (stud) => (stud.breaksHere ? "yes" : ""),
      }),
      slips: [feetForInches("length")],
      example: [
        `=SHEATH.STUD_MARKS(48, "1-7/8", "past", "free", 24)`,
        [
          ["Mark", "Center", "Near edge", "Far edge", "Tape reading", "Panel breaks"],
          [1, 0.75, 0, 1.5, 2.625, ""],
          [2, 22.125, 21.375, 22.875, 24, "yes"],
          [3, 47.25, 46.5, 48, 49.125, ""],
        ],
      ],
    }),
    fn("PANEL_BREAKS", {
      help: "Where panels break along a wall, from the left framing corner.",
      core: panelBreaks,
      args: [
        wallLength,
        thickness,
        leftEnd,
        rightEnd,
        spacing,
        from,
        length("panel_width", "Panel width.", { or: PANEL_WIDTH_IN, within: LIMITS.panelWidth }),
        length("smallest", "Narrowest last piece.", {
          blank: "one stud space",
          within: LIMITS.smallest,
          also: "less than the panel width",
        }),
      ],
      returns: column("Column of distances in inches."),
      slips: [feetForInches("length")],
      example: [`=SHEATH.PANEL_BREAKS("13'", "1-7/8")`, [[46.125], [94.125], [126.125]]],
    }),
    fn("RAKE_STUDS", {
      help: "Studs of a rake wall: long point, length and bevel of each.",
      core: (
        lengthIn,
        leftIn,
        rightIn,
        thicknessIn,
        left,
        right,
        spacingIn,
        side,
        studIn,
        bottomCount,
        topCount,
        plateIn
      ) =>
        rakeStuds(lengthIn, leftIn, rightIn, thicknessIn, left, right, spacingIn, side, studIn, {
          bottomCount,
          topCount,
          plateIn,
        }),
      from: rakeStuds,
      args: [
        wallLength,
        endHeight("left"),
        endHeight("right"),
        thickness,
        leftEnd,
        rightEnd,
        spacing,
        from,
        stud,
        number("bottom_plates", "Bottom plates.", {
          or: USUAL_PLATES.bottomCount,
          within: LIMITS.plateCount,
        }),
        number("top_plates", "Top plates.", {
          or: USUAL_PLATES.topCount,
          within: LIMITS.plateCount,
        }),
        length("plate", "Plate thickness.", { or: USUAL_PLATES.plateIn, within: LIMITS.plate }),
      ],
      returns: rows<RakeStud>({
        Mark: (stud) => stud.mark,
        Center: (stud) => stud.centerIn,
        "Long point": (stud) => stud.longPointIn,
        "Stud length": (stud) => stud.lengthIn,
        Bevel: (stud) => stud.bevelDeg,
      }),
      example: [
        `=SHEATH.RAKE_STUDS(48, 96, 96, "1-7/8", "free", "free", 24)`,
        [
          ["Mark", "Center", "Long point", "Stud length", "Bevel"],
          [1, 0.75, 1.5, 91.5, 0],
          [2, 24, 24.75, 91.5, 0],
          [3, 47.25, 48, 91.5, 0],
        ],
      ],
    }),
  ],
};
