/** An invented L-shaped house of two storeys with gables: every end, a rake, a peak, an equal pair. */
import { type HouseTakeoff, takeoffHouse } from "../../src/core/house/takeoff.js";
import { ASSEMBLY } from "../assembly.js";
import type { Table } from "../../src/core/house/tables.js";

export const WALLS: Table = [
  [
    "Wall",
    "Length",
    "Height",
    "Right height",
    "Peak height",
    "Peak at",
    "Left end",
    "Right end",
    "Next wall",
    "Below",
    "From",
    "Quantity",
  ],
  ["South", "40'", "9'-1 1/8\"", "", "", "", "flush", "flush", "East", 11.25, "", ""],
  ["East", "16'", "9'-1 1/8\"", "", "", "", "past", "flush", "Court north", 11.25, "", ""],
  ["Court north", "16'", "9'-1 1/8\"", "", "", "", "past", "short", "Court east", 11.25, "", ""],
  ["Court east", "12'", "9'-1 1/8\"", "", "", "", "tight", "past", "North", 11.25, "right", ""],
  ["North", "24'", "9'-1 1/8\"", "", "", "", "flush", "flush", "West", 11.25, "", ""],
  ["West", "28'", "9'-1 1/8\"", "", "", "", "past", "past", "South", 11.25, "right", ""],
  ["South upper", "40'", "8'-1 1/8\"", "", "", "", "flush", "flush", "East upper", 0, "", ""],
  ["East upper", "16'", "8'-1 1/8\"", "", 157.125, 96, "past", "past", "Court upper", 0, "", ""],
  [
    "Court upper",
    "16'",
    "8'-1 1/8\"",
    "",
    "",
    "",
    "flush",
    "short",
    "Court east upper",
    0,
    "right",
    "",
  ],
  ["Court east upper", "12'", "8'-1 1/8\"", "", "", "", "tight", "past", "North upper", 0, "", ""],
  ["North upper", "24'", "8'-1 1/8\"", "", "", "", "flush", "flush", "West upper", 0, "", ""],
  ["West upper", "28'", "8'-1 1/8\"", "", 195.125, 168, "past", "past", "South upper", 0, "", ""],
  ["Porch cheek", "7'-4\"", 40, 96, "", "", "free", "free", "", 0, "", 2],
];

export const OPENINGS: Table = [
  ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
  ["South", "D1 front door", "18'", 0, 38, 82],
  ["South", "W1", "4'", 30, 72, 56],
  ["South", "W2", "27'", 30, 72, 56],
  ["South", "W3", "36'-6\"", 48, 24, 36],
  ["East", "W4", "5'-4\"", 36, 48, 48],
  ["Court north", "D2", "3'", 0, 72, 80],
  ["Court east", "W5", "4'", 42, 30, 42],
  ["North", "W6", "3'", 42, 60, 42],
  ["North", "W7", "14'", 36, 36, 48],
  ["West", "W8", "5'", 36, 36, 48],
  ["West", "W9", "19'", 36, 36, 48],
  ["South upper", "W10", "6'", 30, 48, 54],
  ["South upper", "W11", "20'", 30, 36, 54],
  ["South upper", "W12", "32'", 30, 48, 54],
  ["East upper", "W13", "6'-6\"", 36, 36, 60],
  ["West upper", "W14", "8'", 36, 36, 48],
  ["West upper", "W15", "17'", 36, 36, 48],
  ["West upper", "Vent", "13'", 136, 24, 24],
  ["North upper", "W16", "10'", 36, 48, 48],
];

export const SETTINGS: Table = [
  ["Setting", "Value"],
  ...ASSEMBLY,
  ["Block line", 12],
  ["Climate zone", "5"],
  ["Cavity R", 21],
  ["Foam R per inch", 4],
];

let made: HouseTakeoff | undefined;

/** The house; its cut plan is made once. */
export function demoHouse(): HouseTakeoff {
  made ??= takeoffHouse(WALLS, OPENINGS, SETTINGS);
  return made;
}
