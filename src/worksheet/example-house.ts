/** One small house that the examples of the house functions are worked with; it stands in sheets, pages and tests. */
/** `walls`, `openings` and `settings` in an example are these ranges. */
export const EXAMPLE_HOUSE = {
  walls: [
    ["Wall", "Length", "Height", "Left end", "Right end"],
    ["North", 192, 96, "past", "flush"],
  ],
  openings: [
    ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
    ["North", "Window", 72, 36, 36, 48],
  ],
  settings: [
    ["Foam (in)", "1-1/4"],
    ["Panel (in)", "5/8"],
    ["Cavity R (R)", 20],
    ["Foam R per inch (R)", 4],
  ],
} as const;
