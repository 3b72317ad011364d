/** Handbook of Fundamentals, 2017 edition: film and material resistances used as defaults. */
import type { PublishedSource } from "../published.js";

export const source = {
  body: "ASHRAE",
  document: "Handbook: Fundamentals",
  edition: "2017",
  tables: "chapter 1 equations 5 and 6; chapter 26 Tables 1 and 10",
  pages: null,
  address: null,
  read: "2026-11-25",
  note:
    "Films: read in public notes on chapter 26 Table 10. 1/2 in gypsum: read in a public state energy manual; newer " +
    "conductivity tables give 0.32. The other materials are from memory and are only defaults a user can change.",
} as const satisfies PublishedSource;

export const units = { r: "h ft2 F/Btu" } as const;

export const rows = [
  { layer: "inside film, still air, wall", r: 0.68, confirmed: "seen" },
  { layer: "outside film, 15 mph, winter", r: 0.17, confirmed: "seen" },
  { layer: "outside film, 7.5 mph, summer", r: 0.25, confirmed: "seen" },
  { layer: "gypsum board, 1/2 in", r: 0.45, confirmed: "seen" },
  { layer: "oriented strand board, 7/16 in", r: 0.62, confirmed: "memory" },
  { layer: "2x4 stud, 3-1/2 in of softwood", r: 4.38, confirmed: "memory" },
  { layer: "2x6 stud, 5-1/2 in of softwood", r: 6.88, confirmed: "memory" },
  { layer: "wood bevel siding, 1/2 x 8", r: 0.81, confirmed: "memory" },
  { layer: "metal or vinyl siding, hollow-backed", r: 0.61, confirmed: "memory" },
] as const;
