import { panelsPerWall } from "../../src/core/panels-per-wall.js";
import { ripHeight, ripsPerPanel } from "../../src/core/rips.js";
import { expectError } from "./expect-error.js";

const T = 1.875;

describe("panelsPerWall", () => {
  it("whole panels of a wall that divides into them", () => {
    expect(panelsPerWall(144, 96, T, "free", "free")).toBe(3);
    expect(panelsPerWall(48, 96, T, "free", "free")).toBe(1);
    expect(panelsPerWall(20, 96, T, "free", "free")).toBe(1);
  });
  it("a piece wider than half a panel takes one, two narrow ones share one with the saw cut", () => {
    // 32 + 17-7/8 + 1/8 is over 48
    expect(panelsPerWall(240, 96, T, "past", "flush")).toBe(6);
    // one course: 48 and 16 stand whole; two courses of 48: the two 16s share a panel
    expect(panelsPerWall(64, 96, T, "free", "free")).toBe(2);
    expect(panelsPerWall(64, 96, T, "free", "free", 16, 48)).toBe(3);
  });
  it("blank panel length: the shortest of 96, 108 and 120 that covers the height", () => {
    for (const height of [96, 108, 120]) {
      expect(panelsPerWall(144, height, T, "free", "free")).toBe(3);
    }
    expect(panelsPerWall(144, 97, T, "free", "free")).toBe(3);
    expectError(
      () => panelsPerWall(144, 120.5, T, "free", "free"),
      "not-covered",
      "no stocked panel covers 120 1/2 in; the longest is 120: give panel_length to stack courses with a blocked horizontal seam"
    );
  });
  it("a given length shorter than the wall stacks courses", () => {
    expect(panelsPerWall(144, 120.5, T, "free", "free", 16, 120)).toBe(4);
    // 72 + 24: two 24 in strips out of a 72 in panel, a third would need 72-1/4
    expect(panelsPerWall(144, 96, T, "free", "free", 16, 72)).toBe(5);
    expect(panelsPerWall(144, 96, T, "free", "free", 16, 48)).toBe(6);
  });
  it("names what is outside its limits", () => {
    expectError(
      () => panelsPerWall(144, 96, T, "free", "free", 16, 11),
      "out-of-range",
      "panel_length must be at least 12 in; got 11"
    );
    expectError(
      () => panelsPerWall(144, 96, T, "free", "free", 16, 481),
      "out-of-range",
      "panel_length must be at most 480 in; got 481"
    );
    expectError(
      () => panelsPerWall(144, 96, T, "free", "free", 19.2),
      "out-of-range",
      /spacing must go a whole number/
    );
    expectError(
      () => panelsPerWall(144, 0, T, "free", "free"),
      "out-of-range",
      "height must be more than 0 in; got 0"
    );
  });
});

describe("ripHeight", () => {
  it("block line plus lap", () => {
    expect(ripHeight(10, 13.25)).toBe(23.25);
    expect(ripHeight(24, 13.25)).toBe(37.25);
    expect(ripHeight(48, 0)).toBe(48);
    expect(ripHeight(0, 12)).toBe(12);
  });
  it("over a panel's width says what to change", () => {
    expectError(
      () => ripHeight(36, 13.25),
      "out-of-range",
      "block_line + below must be at most 48 in, a panel's width; got 49.25: lower the block line to 34.75 in or lap down less"
    );
    expectError(() => ripHeight(2, 50), "out-of-range", /got 52: lap down less$/);
  });
  it("needs something to rip", () => {
    expectError(() => ripHeight(0, 0), "out-of-range", /must be more than 0 in; got 0/);
    expectError(() => ripHeight(-1, 5), "out-of-range", "block_line must be at least 0 in; got -1");
    expectError(() => ripHeight(5, -1), "out-of-range", "below must be at least 0 in; got -1");
  });
});

describe("ripsPerPanel", () => {
  it("the saw cut takes its share", () => {
    expect(ripsPerPanel(24)).toBe(1);
    expect(ripsPerPanel(23.9375)).toBe(2);
    expect(ripsPerPanel(23.94)).toBe(1);
    expect(ripsPerPanel(12)).toBe(3);
    // n rips need n x h + (n - 1) x 1/8: four of 11-29/32 fill 48 exactly
    expect(ripsPerPanel(11.90625)).toBe(4);
    expect(ripsPerPanel(48)).toBe(1);
  });
  it("a knife takes nothing", () => {
    expect(ripsPerPanel(24, 48, 0)).toBe(2);
    expect(ripsPerPanel(0.1, 0.3 * 40, 0)).toBe(120);
  });
  it("names what is outside its limits", () => {
    expectError(
      () => ripsPerPanel(48.1),
      "out-of-range",
      "rip_height must be at most 48 in; got 48.1"
    );
    expectError(
      () => ripsPerPanel(0),
      "out-of-range",
      "rip_height must be at least 0.015625 in; got 0"
    );
    expectError(
      () => ripsPerPanel(24, 48, 2),
      "out-of-range",
      "kerf must be less than 2 in; got 2"
    );
    expectError(
      () => ripsPerPanel(24, 11),
      "out-of-range",
      "panel_width must be at least 12 in; got 11"
    );
  });
});
