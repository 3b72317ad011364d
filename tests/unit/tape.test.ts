import {
  cornerTapeFeet,
  insideCornerPieces,
  insideCornerTapeFeet,
  openingTapeFeet,
  tapeFeet,
  tapeRolls,
  tapeWidth,
} from "../../src/core/tape.js";
import { expectError } from "./expect-error.js";

const T = 1.875;

describe("tapeFeet", () => {
  it("seams times height", () => {
    // 20 ft past and flush: five seams of 8 ft
    expect(tapeFeet(240, 96, T, "past", "flush")).toBe(40);
    expect(tapeFeet(240, 108, T, "past", "flush")).toBe(45);
  });
  it("is 0 for a wall one panel covers", () => {
    expect(tapeFeet(48, 96, T, "free", "free")).toBe(0);
  });
  it("a rip course adds the run over it and its joints, and takes its height off the seams", () => {
    // 5 seams of 74 in, 241-7/8 in of run, 2 joints of 22 in
    expect(tapeFeet(240, 96, T, "past", "flush", 22)).toBeCloseTo(
      (5 * 74 + 241.875 + 2 * 22) / 12,
      12
    );
    // one rip, no joint, no seam
    expect(tapeFeet(48, 96, T, "free", "free", 24)).toBe(4);
  });
  it("closer studs, other seams", () => {
    // run 112: at 24 in the last seam goes back to 72; feet are the same, two seams
    expect(tapeFeet(112, 96, T, "free", "free", 0, 24)).toBe(16);
  });
  it("names what is outside its limits", () => {
    expectError(
      () => tapeFeet(240, 96, T, "free", "free", 96),
      "out-of-range",
      "rip_height must be less than 96 in; got 96"
    );
    expectError(
      () => tapeFeet(240, 96, T, "free", "free", 48.0625),
      "out-of-range",
      "rip_height must be at most 48 in, a panel's width; got 48.0625"
    );
    expectError(
      () => tapeFeet(240, 96, T, "free", "free", -1),
      "out-of-range",
      "rip_height must be at least 0 in; got -1"
    );
    expectError(
      () => tapeFeet(240, 0, T, "free", "free"),
      "out-of-range",
      "height must be more than 0 in; got 0"
    );
    expectError(
      () => tapeFeet(240, 1200, T, "free", "free"),
      "out-of-range",
      "height must be less than 1200 in; got 1200"
    );
    expectError(
      () => tapeFeet(240, 96, T, "free", "free", 0, 19.2),
      "out-of-range",
      /spacing must go a whole number of times/
    );
  });
});

describe("cornerTapeFeet", () => {
  it("two layers count twice, a single one once", () => {
    expect(cornerTapeFeet(96)).toBe(16);
    expect(cornerTapeFeet(96, 4)).toBe(64);
    expect(cornerTapeFeet(96, 4, "single")).toBe(32);
    expect(cornerTapeFeet(96, 4, "TWO-LAYER" as "two-layer")).toBe(64);
  });
  it("no corners, no tape, and never minus zero", () => {
    expect(cornerTapeFeet(96, 0)).toBe(0);
    expect(Object.is(cornerTapeFeet(96, -0), 0)).toBe(true);
  });
  it("names what is outside its limits", () => {
    expectError(
      () => cornerTapeFeet(96, 1.5),
      "out-of-range",
      "corners must be a whole number; got 1.5"
    );
    expectError(() => cornerTapeFeet(96, -1), "out-of-range", "corners must be at least 0; got -1");
    expectError(
      () => cornerTapeFeet(96, 1, "sill" as never),
      "out-of-range",
      'method must be one of two-layer, single; got "sill"'
    );
    expectError(() => cornerTapeFeet(0), "out-of-range", /height must be more than 0 in/);
  });
});

describe("insideCornerTapeFeet", () => {
  it("height plus a lap for each piece after the first", () => {
    // 108 in: (108 - 3)/33 = 3.18, so 4 pieces, 108 + 9 in
    expect(insideCornerPieces(108, 36, 3)).toBe(4);
    expect(insideCornerTapeFeet(108)).toBe(9.75);
    expect(insideCornerTapeFeet(108, 3)).toBe(29.25);
  });
  it("one piece up to its length, two just past it", () => {
    expect(insideCornerPieces(36, 36, 3)).toBe(1);
    expect(insideCornerTapeFeet(36)).toBe(3);
    expect(insideCornerPieces(36.01, 36, 3)).toBe(2);
    expect(insideCornerPieces(69, 36, 3)).toBe(2);
    expect(insideCornerPieces(69.01, 36, 3)).toBe(3);
    // lower than the lap: still a piece
    expect(insideCornerPieces(2, 36, 3)).toBe(1);
    expect(insideCornerTapeFeet(2)).toBeCloseTo(2 / 12, 12);
  });
  it("pieces laid without a lap add nothing", () => {
    expect(insideCornerTapeFeet(108, 1, 36, 0)).toBe(9);
  });
  it("names what is outside its limits", () => {
    expectError(
      () => insideCornerTapeFeet(108, 1, 36, 36),
      "out-of-range",
      "lap must be less than 36 in; got 36"
    );
    expectError(
      () => insideCornerTapeFeet(108, 1, 36, -1),
      "out-of-range",
      "lap must be at least 0 in; got -1"
    );
    expectError(
      () => insideCornerTapeFeet(108, 1, 0),
      "out-of-range",
      "piece must be at least 0.015625 in; got 0"
    );
    expectError(
      () => insideCornerTapeFeet(108, 1, 1201),
      "out-of-range",
      "piece must be at most 1200 in; got 1201"
    );
    expectError(
      () => insideCornerTapeFeet(108, 2.5),
      "out-of-range",
      "corners must be a whole number; got 2.5"
    );
  });
});

describe("openingTapeFeet", () => {
  it("head and sill with both extensions, jambs the opening's height", () => {
    // 2 (36 + 12) + 2 x 48 = 192 in
    expect(openingTapeFeet(36, 48)).toBe(16);
    expect(openingTapeFeet(36, 48, 3)).toBe(48);
    expect(openingTapeFeet(36, 48, 1, 0)).toBe(14);
    expect(openingTapeFeet(36, 48, 0)).toBe(0);
  });
  it("names what is outside its limits", () => {
    expectError(
      () => openingTapeFeet(0, 48),
      "out-of-range",
      "width must be more than 0 in; got 0"
    );
    expectError(
      () => openingTapeFeet(36, -1),
      "out-of-range",
      "height must be more than 0 in; got -1"
    );
    expectError(
      () => openingTapeFeet(36, 48, 0.5),
      "out-of-range",
      "count must be a whole number; got 0.5"
    );
    expectError(
      () => openingTapeFeet(36, 48, 1, 121),
      "out-of-range",
      "extension must be at most 120 in; got 121"
    );
    expectError(
      () => openingTapeFeet(36, 48, 1, -0.5),
      "out-of-range",
      "extension must be at least 0 in; got -0.5"
    );
  });
});

describe("tapeWidth", () => {
  it("thickness + lap, twice that, or thickness + two laps", () => {
    expect(tapeWidth(T)).toBe(2.875);
    expect(tapeWidth(T, "single")).toBe(5.75);
    expect(tapeWidth(T, "sill")).toBe(3.875);
    expect(tapeWidth(T, "two-layer", 1.5)).toBe(3.375);
  });
  it("names what is outside its limits", () => {
    expectError(
      () => tapeWidth(T, "three" as never),
      "out-of-range",
      'method must be one of two-layer, single, sill; got "three"'
    );
    expectError(
      () => tapeWidth(T, "single", 0),
      "out-of-range",
      "lap must be more than 0 in; got 0"
    );
    expectError(
      () => tapeWidth(T, "single", 25),
      "out-of-range",
      "lap must be at most 24 in; got 25"
    );
    expectError(() => tapeWidth(0), "out-of-range", /thickness must be more than 0 in/);
  });
});

describe("tapeRolls", () => {
  it("rounds up once, spare included", () => {
    expect(tapeRolls(800, 100)).toBe(9);
    expect(tapeRolls(800, 100, 0)).toBe(8);
    expect(tapeRolls(0, 100)).toBe(0);
    expect(tapeRolls(0.001, 100, 0)).toBe(1);
  });
  it("a need that is just whole rolls buys no roll more for the noise of binary fractions", () => {
    // 2000 x 1.05 = 2100 exactly on paper
    expect(tapeRolls(2000, 100, 0.05)).toBe(21);
    expect(tapeRolls(100 / 1.1, 100, 0.1)).toBe(1);
  });
  it("names what is outside its limits", () => {
    expectError(() => tapeRolls(-1, 100), "out-of-range", "feet must be at least 0; got -1");
    expectError(() => tapeRolls(1, 0), "out-of-range", "feet_per_roll must be more than 0; got 0");
    expectError(
      () => tapeRolls(1, 100, 5),
      "out-of-range",
      "extra must be less than 1; got 5; 5 % is 0.05"
    );
    expectError(
      () => tapeRolls(1, 100, -0.05),
      "out-of-range",
      "extra must be at least 0; got -0.05; 5 % is 0.05"
    );
    expectError(
      () => tapeRolls(1e300, 1e-9),
      "out-of-range",
      "feet over feet_per_roll must be a quantity one can order; got 1e+300 over 1e-9"
    );
  });
});
