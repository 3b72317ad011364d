/**
 * National Design Specification for Wood Construction, 2018 edition: nails, wood bearing
 * strength, bending yield strength and the reduction term of the yield limit equations.
 */
import type { PublishedSource } from "../published.js";

export const source = {
  body: "AWC",
  document: "ANSI/AWC NDS, National Design Specification for Wood Construction",
  edition: "2018",
  tables:
    "Table 12.3.1B, Table 12.3.3, Table 12.3.3A, Table 12.3.3B, Appendix L Table L4, Appendix I Table I1, clauses 12.1.6.4 and 12.3.5.3",
  pages: "75, 84, 85, 86, 87, 175, 182",
  address: null,
  read: "2026-11-25",
  note:
    "Tables L4, I1, 12.3.1B and 12.3.3A and both clauses: read in public transcriptions and clause-by-clause " +
    "reviews of the 2018 edition. Table 12.3.3: its footnote 2 equation and the 4,650 cell read; the other cells " +
    "remembered and reproduced by that equation. Table 12.3.3B: remembered, and equal to the equation at its two gravities.",
} as const satisfies PublishedSource;

export const units = {
  lengthIn: "in",
  diameterIn: "in",
  bendingYieldPsi: "psi",
  bearingStrengthPsi: "psi",
  gravity: "specific gravity, oven-dry weight and volume",
  reductionTerm: "none",
  penetration: "nail diameters",
} as const;

export const rows = {
  /** Appendix L, Table L4: length and shank diameter by pennyweight. */
  nails: [
    { type: "common", penny: "6d", lengthIn: 2, diameterIn: 0.113, confirmed: "seen" },
    { type: "common", penny: "8d", lengthIn: 2.5, diameterIn: 0.131, confirmed: "seen" },
    { type: "common", penny: "10d", lengthIn: 3, diameterIn: 0.148, confirmed: "seen" },
    { type: "common", penny: "12d", lengthIn: 3.25, diameterIn: 0.148, confirmed: "seen" },
    { type: "common", penny: "16d", lengthIn: 3.5, diameterIn: 0.162, confirmed: "seen" },
    { type: "box", penny: "6d", lengthIn: 2, diameterIn: 0.099, confirmed: "seen" },
    { type: "box", penny: "8d", lengthIn: 2.5, diameterIn: 0.113, confirmed: "seen" },
    { type: "box", penny: "10d", lengthIn: 3, diameterIn: 0.128, confirmed: "seen" },
    { type: "box", penny: "12d", lengthIn: 3.25, diameterIn: 0.128, confirmed: "seen" },
    { type: "box", penny: "16d", lengthIn: 3.5, diameterIn: 0.135, confirmed: "seen" },
    { type: "sinker", penny: "6d", lengthIn: 1.875, diameterIn: 0.092, confirmed: "seen" },
    { type: "sinker", penny: "8d", lengthIn: 2.375, diameterIn: 0.113, confirmed: "seen" },
    { type: "sinker", penny: "10d", lengthIn: 2.875, diameterIn: 0.12, confirmed: "seen" },
    { type: "sinker", penny: "12d", lengthIn: 3.125, diameterIn: 0.135, confirmed: "seen" },
    { type: "sinker", penny: "16d", lengthIn: 3.25, diameterIn: 0.148, confirmed: "seen" },
  ],
  /** Appendix I, Table I1: bending yield strength of nails by diameter band (first band from 0.099). */
  bendingYield: [
    { fromIn: 0.099, toIn: 0.142, bendingYieldPsi: 100000, confirmed: "seen" },
    { fromIn: 0.142, toIn: 0.177, bendingYieldPsi: 90000, confirmed: "seen" },
    { fromIn: 0.177, toIn: 0.236, bendingYieldPsi: 80000, confirmed: "seen" },
    { fromIn: 0.236, toIn: 0.273, bendingYieldPsi: 70000, confirmed: "seen" },
  ],
  /** Table 12.3.3, D < 1/4 in column: printed cells and the equation of footnote 2. */
  bearingStrength: {
    coefficientPsi: 16600,
    exponent: 1.84,
    roundedToPsi: 50,
    leastGravity: 0.31,
    mostGravity: 0.73,
    confirmed: "seen",
    cells: [
      { gravity: 0.67, bearingStrengthPsi: 7950, confirmed: "recomputed" },
      { gravity: 0.55, bearingStrengthPsi: 5550, confirmed: "recomputed" },
      { gravity: 0.5, bearingStrengthPsi: 4650, confirmed: "seen" },
      { gravity: 0.49, bearingStrengthPsi: 4450, confirmed: "recomputed" },
      { gravity: 0.46, bearingStrengthPsi: 4000, confirmed: "recomputed" },
      { gravity: 0.43, bearingStrengthPsi: 3500, confirmed: "recomputed" },
      { gravity: 0.42, bearingStrengthPsi: 3350, confirmed: "recomputed" },
      { gravity: 0.37, bearingStrengthPsi: 2650, confirmed: "recomputed" },
      { gravity: 0.36, bearingStrengthPsi: 2550, confirmed: "recomputed" },
      { gravity: 0.35, bearingStrengthPsi: 2400, confirmed: "recomputed" },
    ],
  },
  /** Table 12.3.3B: structural panels. */
  panelBearing: [
    {
      panel: "oriented strand board; plywood of Structural I or Marine grade",
      gravity: 0.5,
      bearingStrengthPsi: 4650,
      confirmed: "recomputed",
    },
    {
      panel: "plywood of other grades",
      gravity: 0.42,
      bearingStrengthPsi: 3350,
      confirmed: "recomputed",
    },
  ],
  /** Table 12.3.3A: assigned specific gravity of common framing lumber. */
  lumberGravity: [
    { species: "Southern Pine", gravity: 0.55, confirmed: "seen" },
    { species: "Douglas Fir-Larch", gravity: 0.5, confirmed: "seen" },
    { species: "Hem-Fir", gravity: 0.43, confirmed: "seen" },
    { species: "Spruce-Pine-Fir", gravity: 0.42, confirmed: "seen" },
  ],
  /** Table 12.3.1B, D < 0.25 in: K_D divides every mode. */
  reductionTerm: {
    smallNailMostDiameterIn: 0.17,
    smallNailTerm: 2.2,
    largeNailPerIn: 10,
    largeNailPlus: 0.5,
    belowDiameterIn: 0.25,
    confirmed: "seen",
    largeNailNote:
      "nails over 0.17 in: a reported 2025 erratum to the 2024 edition gives 10D - 0.5 in place of the printed 10D + 0.5",
  },
  /** Clause 12.1.6.4: least penetration, tip included; clause 12.3.5.3: bearing length stops half a tip short. */
  leastPenetrationDiameters: 6,
  tipLengthDiameters: 2,
} as const;
