/** Usual arguments of every worksheet function, for timing them. */

const WALLS = [
  ["Wall", "Length", "Height", "Left end", "Right end"],
  ["North", 360, 97.125, "past", "past"],
  ["East", 288, 97.125, "flush", "flush"],
  ["South", 360, 97.125, "past", "past"],
  ["West", 288, 97.125, "flush", "flush"],
];
const OPENINGS = [
  ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
  ["North", "D1", 54, 0, 38.5, 82.5],
  ["North", "W1", 180, 36, 72, 48],
  ["South", "W2", 120, 36, 72, 48],
  ["East", "W3", 100, 36, 48, 48],
];
const SETTINGS = [
  ["Foam", "1-1/4"],
  ["Panel", "5/8"],
  ["Cavity R", 13],
  ["Foam R per inch", 4],
];
const HOUSE = [WALLS, OPENINGS, SETTINGS];
const T = 1.875;
const ENDS = ["past", "flush"];
const LAYERS = [13, 5, 3.5];
const NAIL = [3.5, 0.131, 0.625, 1.25];

export const EXAMPLE_CALLS: Readonly<Record<string, readonly unknown[]>> = {
  INCHES: ["24'-6 1/2\""],
  FEET_INCHES: [294.5],
  PANEL_THICKNESS: ["1-1/4", "5/8"],
  CORNER_OFFSET: [1.25, 0.625],
  RUN_LENGTH: [240, T, ...ENDS],
  STUD_MARKS: [240, T, ...ENDS],
  PANEL_BREAKS: [240, T, ...ENDS],
  RAKE_STUDS: [240, 96, 144, T, ...ENDS],
  PANELS_PER_WALL: [240, 96, T, ...ENDS],
  TAPE_FEET: [240, 96, T, ...ENDS],
  CORNER_TAPE_FEET: [108],
  INSIDE_CORNER_TAPE_FEET: [108],
  OPENING_TAPE_FEET: [36, 48],
  TAPE_WIDTH: [T],
  TAPE_ROLLS: [800, 100],
  NAIL_LENGTH: [T],
  STOCK_NAIL: [3.375],
  NAIL_PENETRATION: [3.5, T],
  NAIL_PENETRATION_NEEDED: ["shear-wall table", 0.131],
  NAILS_PER_PANEL: [48, 96, 6, 12],
  NAILS_PER_WALL: [240, 96, T, ...ENDS, 6, 12],
  NAIL_BOXES: [5000, 2000],
  BACKING_STUDS: [2, T],
  RIP_HEIGHT: [10, 13.25],
  RIPS_PER_PANEL: [23.9375],
  ROUTER_BIT: [T],
  FOAM_R: [1.25, 4],
  WALL_R: LAYERS,
  WALL_R_ISOTHERMAL: LAYERS,
  WALL_U: LAYERS,
  BRIDGING_LOSS: LAYERS,
  DEW_POINT: [70, 0.35],
  FOAM_FACE_TEMPERATURE: [70, 5, 13, 5],
  FOAM_R_NEEDED: ["5A", 3.5],
  WALL_U_LIMIT: ["5A"],
  VAPOR_RETARDER: ["5A", 3.5, 5],
  HEAT_SAVED: [1000, 0.1, 0.05, 5000],
  NAIL_LATERAL: NAIL,
  NAIL_YIELD_MODES: NAIL,
  HOUSE_SETTINGS: [],
  HOUSE_ORDER: HOUSE,
  HOUSE_WALLS: HOUSE,
  HOUSE_PIECES: HOUSE,
  HOUSE_CUTS: HOUSE,
  HOUSE_MARKS: ["North", ...HOUSE],
  HOUSE_CHECKS: HOUSE,
  HOUSE_WALL_R: HOUSE,
  VERSION: [],
};
