/**
 * International Residential Code, 2021 edition: vapor retarder classes and where they may be used,
 * least foam R for each class, and wood structural panel wall sheathing for wind.
 */
import type { PublishedSource } from "../published.js";

export const source = {
  body: "ICC",
  document: "International Residential Code",
  edition: "2021",
  tables: "Tables R702.7(1), R702.7(2), R702.7(3), R702.7(4), R602.3(3)",
  pages: null,
  address: null,
  read: "2026-11-25",
  note:
    "Table R702.7(3): remembered, then read in a public transcription checked against an online copy of the 2021 " +
    "IBC, whose table is the same. Table R702.7(1): the same transcription. Table R702.7(2): the same transcription, " +
    "but for class I in zone 4, which is remembered. Table R702.7(4): from memory. Table R602.3(3): the 7/16 in row " +
    "at 16 in read in public drawing notes; the other rows from memory. The 2024 edition rewrote the moisture tables.",
} as const satisfies PublishedSource;

export const units = {
  perms: "perm",
  foamR: "h ft2 F/Btu",
  penetrationIn: "in",
  diameterIn: "in",
  lengthIn: "in",
  spacingIn: "in",
  windMph: "mph, ultimate, exposure B, C, D",
} as const;

export const rows = {
  /** Table R702.7(1): class by the most vapor that passes. */
  vaporClasses: [
    { vaporClass: "I", mostPerms: 0.1, example: "poly sheet, unpunched foil", confirmed: "seen" },
    {
      vaporClass: "II",
      mostPerms: 1,
      example: "kraft-faced batts, vapor-retarder paint",
      confirmed: "seen",
    },
    { vaporClass: "III", mostPerms: 10, example: "latex or enamel paint", confirmed: "seen" },
  ],
  /** Table R702.7(2): which classes may stand on the inside, by zone. */
  vaporOptions: [
    { zones: "1, 2", classOne: "no", classTwo: "no", classThree: "yes", confirmed: "seen" },
    { zones: "3", classOne: "no", classTwo: "yes", classThree: "yes", confirmed: "seen" },
    { zones: "4", classOne: "no", classTwo: "yes", classThree: "yes", confirmed: "memory" },
    {
      zones: "Marine 4, 5, 6, 7, 8",
      classOne: "yes",
      classTwo: "yes",
      classThree: "by Table R702.7(3)",
      confirmed: "seen",
    },
  ],
  /** Table R702.7(3): least continuous insulation outside the studs for a class III retarder. */
  classThreeFoam: [
    { zone: "Marine 4", over2x4R: 2.5, over2x6R: 3.75, confirmed: "seen" },
    { zone: "5", over2x4R: 5, over2x6R: 7.5, confirmed: "seen" },
    { zone: "6", over2x4R: 7.5, over2x6R: 11.25, confirmed: "seen" },
    { zone: "7", over2x4R: 10, over2x6R: 15, confirmed: "seen" },
    { zone: "8", over2x4R: 12.5, over2x6R: 20, confirmed: "seen" },
  ],
  /** Table R702.7(4): least continuous insulation outside the studs where a class II retarder is used with it. */
  classTwoFoam: [
    { zone: "3", over2x4R: 2, over2x6R: 2, confirmed: "memory" },
    { zone: "4", over2x4R: 3, over2x6R: 5, confirmed: "memory" },
    { zone: "5", over2x4R: 3, over2x6R: 5, confirmed: "memory" },
    { zone: "6", over2x4R: 3, over2x6R: 5, confirmed: "memory" },
    { zone: "7", over2x4R: 5, over2x6R: 7.5, confirmed: "memory" },
    { zone: "8", over2x4R: 7.5, over2x6R: 10, confirmed: "memory" },
  ],
  /** Table R602.3(3): wall sheathing nailed 6 in at edges and 12 in in the field. */
  windSheathing: [
    {
      penny: "6d",
      lengthIn: 2,
      diameterIn: 0.113,
      penetrationIn: 1.5,
      spanRating: "24/0",
      panel: "3/8",
      studSpacingIn: 16,
      windMph: [140, 115, 110],
      confirmed: "memory",
    },
    {
      penny: "8d",
      lengthIn: 2.5,
      diameterIn: 0.131,
      penetrationIn: 1.75,
      spanRating: "24/16",
      panel: "7/16",
      studSpacingIn: 16,
      windMph: [170, 140, 135],
      confirmed: "seen",
    },
    {
      penny: "8d",
      lengthIn: 2.5,
      diameterIn: 0.131,
      penetrationIn: 1.75,
      spanRating: "24/16",
      panel: "7/16",
      studSpacingIn: 24,
      windMph: [140, 115, 110],
      confirmed: "memory",
    },
  ],
} as const;
