/** Pale fills on the dark ground of the grid. */
import { tintInDark } from "../../../src/host/web/dark-tint.js";

test("a pale yellow becomes a dark yellow that is brighter than the ground", () => {
  // the least part becomes 26, the most 44: (f7 - db) / (ff - db) = 28/36 of the way between them
  expect(tintInDark("#FFF7DB")).toBe("#443d26");
});

test.each(["#ffffff", "#e4e7eb", "#24633f", "#000000", "rgb(255,247,219)", "red", ""])(
  "%s is left to the grid",
  (color) => expect(tintInDark(color)).toBeUndefined()
);
