/** Pictures of the guides, drawn by the program itself from the houses the guides type in. */
import { takeoffHouse } from "../core/house/takeoff.js";
import type { Table } from "../core/house/tables.js";
import { escapeText, wallDrawing } from "../pane/drawings/index.js";

/** The house of the first-house guide, as it is typed there. */
export const FIRST_HOUSE: Readonly<Record<"walls" | "openings" | "settings", Table>> = {
  walls: [
    ["Wall", "Length", "Height", "Left end", "Right end"],
    ["South", "26'", 96, "past", "flush"],
    ["East", "18'", 96, "past", "flush"],
    ["North", "26'", 96, "past", "flush"],
    ["West", "18'", 96, "past", "flush"],
  ],
  openings: [
    ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
    ["South", "Door", 60, 0, 38, 82],
    ["South", "Window", 168, 36, 36, 48],
  ],
  settings: [
    ["Foam", "1-1/4"],
    ["Panel", "5/8"],
  ],
};

const SOUTH = {
  file: "../pictures/first-house-south.svg",
  alt: "A wall from outside: what is burned at its left end, tape readings under every stud, panels broken on studs",
};

/** Pictures that help on a function's page, seen from docs/functions. */
export const FUNCTION_PICTURES = {
  CORNER_OFFSET: SOUTH,
  STUD_MARKS: SOUTH,
  PANEL_BREAKS: SOUTH,
  HOUSE_MARKS: SOUTH,
} as const;

/** A rectangle of walls with their names and ends, seen from above; north up. */
function planPicture(): string {
  const text = (x: number, y: number, words: string, more = ""): string =>
    `<text x="${x}" y="${y}" text-anchor="middle" ${more}>${escapeText(words)}</text>`;
  const [left, top, right, bottom] = [90, 60, 390, 260];
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 480 320" width="480" height="320" role="img" aria-label="A rectangle of four walls, each past at its left end and flush at its right, seen from outside" font-family="system-ui, sans-serif" font-size="13" fill="#1f2933">
<rect width="480" height="320" fill="#ffffff"/>
<rect x="${left}" y="${top}" width="${right - left}" height="${bottom - top}" fill="none" stroke="#52606d" stroke-width="6"/>
<path d="M${left + 57} ${bottom}h36M${left + 160} ${bottom}h34" stroke="#ffffff" stroke-width="6"/>
${text(240, bottom + 40, "South 26'")}
${text(240, top - 28, "North 26'")}
${text(right + 45, 165, "East 18'")}
${text(left - 45, 165, "West 18'")}
<g font-size="11" fill="#52606d">
${text(left + 20, bottom + 20, "past")}${text(right - 22, bottom + 20, "flush")}
${text(right + 24, bottom - 6, "past")}${text(right + 24, top + 14, "flush")}
${text(right - 20, top - 10, "past")}${text(left + 22, top - 10, "flush")}
${text(left - 22, top + 14, "past")}${text(left - 22, bottom - 6, "flush")}
${text(left + 75, bottom - 12, "door")}${text(left + 177, bottom - 12, "window")}
</g>
</svg>
`;
}

/** Every picture by its path from the top of the repo. */
export function pictures(): [string, string][] {
  const { walls, openings, settings } = FIRST_HOUSE;
  const house = takeoffHouse(walls, openings, settings);
  return [
    ["docs/pictures/first-house.svg", planPicture()],
    [
      "docs/pictures/first-house-south.svg",
      `${wallDrawing(house, "South", { theme: "light", width: 900 })}\n`,
    ],
  ];
}
