/** Lengths: in, out and added up; and which build answers. */
import {
  DEFAULT_DENOMINATOR,
  TAPE_DENOMINATORS,
  feetInches,
  parseLength,
  totalLength,
} from "../core/units.js";
import { VERSION } from "../core/version.js";
import { type Topic, fn, inches, length, number, ranges, words } from "./entry.js";

export const lengths: Topic = {
  title: "Lengths",
  functions: [
    fn("INCHES", {
      help: `Reads a length as inches: a number, or text such as 24'-6 1/2", 1-7/8, 1-1/4 + 5/8 or 622.3 mm.`,
      core: (lengthIn) => lengthIn,
      from: parseLength,
      args: [length("length", "Number of inches, or tape-measure text.")],
      returns: inches,
      example: [`=SHEATH.INCHES("24'-6 1/2""")`, 294.5],
    }),
    fn("TOTAL_LENGTH", {
      help: "Adds lengths, those typed as text too; blanks are skipped.",
      core: totalLength,
      args: [ranges("lengths", "Range of lengths; more ranges may follow.")],
      returns: inches,
      example: [`=SHEATH.TOTAL_LENGTH({"24'-6 1/2""";13.375;""})`, 307.875],
    }),
    fn("FEET_INCHES", {
      help: "Writes a length as feet and inches, to the nearest fraction of the tape.",
      core: feetInches,
      args: [
        length("length", "Length: inches, or text."),
        number("denominator", `Smallest fraction, one of ${TAPE_DENOMINATORS.join(", ")}.`, {
          or: DEFAULT_DENOMINATOR,
        }),
      ],
      returns: words(`Text such as 24'-6 1/2".`),
      example: ["=SHEATH.FEET_INCHES(294.5)", `24'-6 1/2"`],
    }),
    fn("VERSION", {
      help: "Which build of the functions answers.",
      core: () => VERSION,
      args: [],
      returns: words("Text."),
      example: ["=SHEATH.VERSION()", VERSION],
    }),
  ],
};
