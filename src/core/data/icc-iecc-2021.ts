/** International Energy Conservation Code, 2021 edition, residential: wood-frame walls. */
import type { PublishedSource } from "../published.js";

export const source = {
  body: "ICC",
  document: "International Energy Conservation Code, residential provisions",
  edition: "2021",
  tables: "Table R402.1.2 (wood-frame wall U), Table R402.1.3 (wood-frame wall R)",
  pages: null,
  address: null,
  read: "2026-11-25",
  note:
    "From memory. The three U figures appear among the IECC wall values of a public federal energy model, and every " +
    "prescriptive pair of Table R402.1.3 but R-13 alone comes out at or under the U of its zone, but the zone each " +
    "figure belongs to was not seen in print. The 2024 edition keeps the wall figures.",
} as const satisfies PublishedSource;

export const units = { wallU: "Btu/(h ft2 F)", wallR: "h ft2 F/Btu" } as const;

export const rows = {
  /** Table R402.1.2: most wall U. Zone numbers; Marine 4 goes with 4. */
  wallU: [
    { zones: [0, 1, 2], wallU: 0.084, confirmed: "memory" },
    { zones: [3], wallU: 0.06, confirmed: "memory" },
    { zones: [4, 5, 6, 7, 8], wallU: 0.045, confirmed: "memory" },
  ],
  /** Table R402.1.3: cavity R and continuous R that pass without a U calculation. */
  wallR: [
    {
      zones: [0, 1, 2],
      pairs: [
        [13, 0],
        [0, 10],
      ],
      confirmed: "memory",
    },
    {
      zones: [3],
      pairs: [
        [20, 0],
        [13, 5],
        [0, 15],
      ],
      confirmed: "memory",
    },
    {
      zones: [4, 5, 6, 7, 8],
      pairs: [
        [30, 0],
        [20, 5],
        [13, 10],
        [0, 20],
      ],
      confirmed: "memory",
    },
  ],
} as const;
