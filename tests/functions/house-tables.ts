/** A wall with a door, as tables: what the tests of house functions start from. */
export const WALLS = [
  ["Wall", "Length", "Height", "Left end", "Right end"],
  ["A", "12'", 96, "free", "free"],
];
export const OPENINGS = [
  ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
  ["A", "D1", 54, 0, 36, 80],
];
export const SETTINGS = [
  ["Foam", "1-1/4"],
  ["Panel", "5/8"],
];
