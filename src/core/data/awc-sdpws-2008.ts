/**
 * Special Design Provisions for Wind and Seismic, 2008 edition: least nail penetration into the
 * framing of a sheathed wall. No shear value is kept here: none may be shown as a wall's strength.
 */
import type { PublishedSource } from "../published.js";

export const source = {
  body: "AWC",
  document: "ANSI/AWC SDPWS, Special Design Provisions for Wind and Seismic",
  edition: "2008",
  tables: "Table 4.3A, minimum fastener penetration in framing",
  pages: null,
  address: null,
  read: "2026-11-25",
  note:
    "Read in a city archive's scan of the table and in a state's printing of IBC 2306.3. " +
    "The table takes panels in direct contact with the framing. " +
    "The 1997 UBC table has 1-1/4, 1-1/2 and 1-5/8: the edition matters.",
} as const satisfies PublishedSource;

export const units = { diameterIn: "in", penetrationIn: "in" } as const;

export const rows = [
  { penny: "6d", diameterIn: 0.113, penetrationIn: 1.25, confirmed: "seen" },
  { penny: "8d", diameterIn: 0.131, penetrationIn: 1.375, confirmed: "seen" },
  { penny: "10d", diameterIn: 0.148, penetrationIn: 1.5, confirmed: "seen" },
] as const;
