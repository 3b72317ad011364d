/**
 * How far a nail must reach into the stud, by the basis the user names.
 */
import { checkChoice, checkNumber, notCovered, shown } from "./check.js";
import { rows as shearWall } from "./data/awc-sdpws-2008.js";
import { rows as residential } from "./data/icc-irc-2021.js";
import { LIMITS } from "./limits.js";
import { publishedFigure, type PublishedFigure } from "./published.js";

/** The named bases: shear-wall nailing by nail, general use, sheathing for wind by nail. */
export const PENETRATION_BASES = ["shear-wall table", "general", "wind table"] as const;
export type PenetrationBasis = (typeof PENETRATION_BASES)[number];

/** General use, in; common practice, no source. */
const GENERAL_PENETRATION_IN = 1.5;
/** Shanks are sized to a thousandth; half of one either way is the same nail, in. */
const SHANK_SLACK_IN = 0.0005;

/**
 * Least penetration into the stud on a named basis.
 *
 * @param basis      "shear-wall table" (6d 1-1/4, 8d 1-3/8, 10d 1-1/2 by shank), "general" (1-1/2), or
 *   "wind table" (1-1/2 for 0.113, 1-3/4 for 0.131)
 * @param diameterIn nail shank, in; more than 0, less than 0.5; the tables go by shank because a nail for foam is longer than its namesake
 * @returns penetration in inches, its table and how it was confirmed
 * @shape   one record: value, table, confirmed, mayDecide, note
 * @throws {CalcError} wrong-kind, out-of-range: not a basis, not a shank; not-covered: a shank the table has no row for
 * @source  SDPWS-2008 Table 4.3A; IRC 2021 Table R602.3(3); general: common practice, no source
 * @example penetrationRule("shear-wall table", 0.131).value // => 1.375
 * @example penetrationRule("general", 0.12).value           // => 1.5
 * @since   0.1.0
 */
export function penetrationRule(basis: string, diameterIn: number): PublishedFigure {
  const named = checkChoice("penetration basis", basis, PENETRATION_BASES);
  const diameter = checkNumber("nail_diameter", diameterIn, LIMITS.nailDiameter);
  if (named === "general") {
    return publishedFigure(
      GENERAL_PENETRATION_IN,
      "common practice",
      "practice",
      "common practice, no published source"
    );
  }
  if (named === "shear-wall table") {
    const row = shearWall.find((entry) => isShank(entry.diameterIn, diameter));
    if (row === undefined) throw noRow(named, diameter, shearWall);
    return publishedFigure(
      row.penetrationIn,
      "SDPWS-2008 Table 4.3A",
      row.confirmed,
      `${row.penny}; the table takes the panel tight against the framing, not over foam`
    );
  }
  const row = residential.windSheathing.find((entry) => isShank(entry.diameterIn, diameter));
  if (row === undefined) throw noRow(named, diameter, residential.windSheathing);
  return publishedFigure(
    row.penetrationIn,
    "IRC 2021 Table R602.3(3)",
    row.confirmed,
    `${row.penny}; the table takes the panel tight against the framing, not over foam`
  );
}

function isShank(tabulatedIn: number, diameterIn: number): boolean {
  return Math.abs(tabulatedIn - diameterIn) <= SHANK_SLACK_IN;
}

function noRow(
  basis: string,
  diameterIn: number,
  table: readonly { readonly diameterIn: number }[]
): ReturnType<typeof notCovered> {
  const shanks = [...new Set(table.map((entry) => entry.diameterIn))].join(", ");
  return notCovered(
    `${basis} has rows for nail shanks of ${shanks} in; got ${shown(diameterIn)}; use the engineer's schedule`
  );
}
