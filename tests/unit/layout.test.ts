import type { Side, WallEnd } from "../../src/core/corners.js";
import { panelBreaks, studMarks, wallSeams } from "../../src/core/layout.js";
import { checkModule } from "../../src/core/limits.js";
import { plainRips } from "../../src/core/rips.js";
import { expectError } from "./expect-error.js";

/** 1-1/4 in foam on a 5/8 in panel */
const T = 1.875;

describe("studMarks", () => {
  it("a past end burns the thickness: centres every 16 in from the panel's outer face", () => {
    const marks = studMarks(240, T, "past", "flush");
    // end studs at 3/4 and 239-1/4, commons at 16k - 1-7/8 for k = 1..14
    expect(marks.map((each) => each.centerIn)).toEqual([
      0.75,
      ...Array.from({ length: 14 }, (_, k) => 16 * (k + 1) - T),
      239.25,
    ]);
    expect(marks[1]).toEqual({
      mark: 2,
      centerIn: 14.125,
      nearEdgeIn: 13.375,
      farEdgeIn: 14.875,
      tapeIn: 16,
      isEndStud: false,
      breaksHere: false,
    });
    // the burned tape shows 2-5/8 at the end stud's centre
    expect(marks[0]?.tapeIn).toBe(2.625);
  });

  it("a flush, tight or free end starts at the framing corner", () => {
    for (const end of ["flush", "tight", "free"] as const) {
      const marks = studMarks(96, T, end, "free");
      expect(marks.map((each) => each.centerIn)).toEqual([0.75, 16, 32, 48, 64, 80, 95.25]);
      expect(marks.map((each) => each.tapeIn)).toEqual([0.75, 16, 32, 48, 64, 80, 95.25]);
    }
  });

  it("a short end holds back: the end stud stands behind the tape's zero", () => {
    const marks = studMarks(96, T, "short", "free");
    expect(marks.map((each) => each.centerIn)).toEqual([
      0.75, 17.875, 33.875, 49.875, 65.875, 81.875, 95.25,
    ]);
    expect(marks[0]?.tapeIn).toBe(-1.125);
  });

  it("from the right, the tape counts from the right end's panel", () => {
    const marks = studMarks(96, T, "flush", "past", 16, "right");
    const centers = [0.75, 17.875, 33.875, 49.875, 65.875, 81.875, 95.25];
    expect(marks.map((each) => each.centerIn)).toEqual(centers);
    expect(marks.map((each) => each.tapeIn)).toEqual(centers.map((x) => 96 + T - x));
    expect(marks.map((each) => each.mark)).toEqual([1, 2, 3, 4, 5, 6, 7]);
  });

  it("a common stud that would overlap an end stud is left out, one that touches it stays", () => {
    // at 18-1/4 in the stud on 16 has its far edge on the end stud's inner edge
    expect(studMarks(18.25, T, "free", "free").map((each) => each.centerIn)).toEqual([
      0.75, 16, 17.5,
    ]);
    expect(studMarks(18.2, T, "free", "free")).toHaveLength(2);
  });

  it("says yes where a panel breaks, and only there", () => {
    const breaks = studMarks(240, T, "past", "flush").filter((each) => each.breaksHere);
    expect(breaks.map((each) => each.centerIn)).toEqual(panelBreaks(240, T, "past", "flush"));
  });

  it("another stud thickness moves the edges, not the common centres", () => {
    const marks = studMarks(96, T, "free", "free", 16, "left", 3);
    expect(marks[1]).toMatchObject({ centerIn: 16, nearEdgeIn: 14.5, farEdgeIn: 17.5 });
    expect(marks[0]?.centerIn).toBe(1.5);
    expect(marks.at(-1)?.centerIn).toBe(94.5);
  });

  it("needs room for two studs", () => {
    expect(studMarks(3, T, "free", "free")).toHaveLength(2);
    expectError(
      () => studMarks(2.9, T, "free", "free"),
      "out-of-range",
      "length must be at least two studs, 3 in; got 2.9"
    );
  });

  it("needs a spacing that goes into the panel, and says what does", () => {
    for (const spacing of [12, 16, 24]) studMarks(240, T, "free", "free", spacing);
    expectError(
      () => studMarks(240, T, "free", "free", 19.2),
      "out-of-range",
      "spacing must go a whole number of times into the panel width of 48 in (as 12, 16 and 24 go into 48), or panels do not break on studs; got 19.2"
    );
    expectError(
      () => studMarks(240, T, "free", "free", 96),
      "out-of-range",
      /spacing must go a whole number of times/
    );
    expectError(
      () => studMarks(240, T, "free", "free", 2.9),
      "out-of-range",
      "spacing must be at least 3 in; got 2.9"
    );
    expectError(
      () => studMarks(240, T, "free", "free", 97),
      "out-of-range",
      "spacing must be at most 96 in; got 97"
    );
  });

  it("names a side or a stud that cannot be", () => {
    expectError(
      () => studMarks(240, T, "free", "free", 16, "top" as Side),
      "out-of-range",
      'from must be one of left, right; got "top"'
    );
    expectError(
      () => studMarks(240, T, "free", "free", 16, "left", 0.4),
      "out-of-range",
      "stud must be at least 0.5 in; got 0.4"
    );
    expectError(
      () => studMarks(240, T, "free", "free", 16, "left", 13),
      "out-of-range",
      "stud must be at most 12 in; got 13"
    );
    expectError(
      () => studMarks(240, T, "nope" as WallEnd, "free"),
      "out-of-range",
      /left_end must be one of/
    );
  });
});

describe("panelBreaks", () => {
  it("every 48 in from the layout's zero", () => {
    expect(panelBreaks(384, T, "free", "free")).toEqual([48, 96, 144, 192, 240, 288, 336]);
    expect(panelBreaks(160, T, "past", "flush")).toEqual([46.125, 94.125, 142.125]);
  });

  it("a last piece under one stud space moves the last seam back one space", () => {
    // run 241-7/8: 240 would leave 1-7/8, so the last seam goes back to 224
    expect(panelBreaks(240, T, "past", "flush")).toEqual([
      46.125, 94.125, 142.125, 190.125, 222.125,
    ]);
    expect(panelBreaks(240, T, "past", "flush", 16, "right")).toEqual([16, 48, 96, 144, 192]);
  });

  it("a last piece of just one stud space stays", () => {
    expect(panelBreaks(112, T, "free", "free")).toEqual([48, 96]);
    expect(panelBreaks(111.99, T, "free", "free")).toEqual([48, 80]);
    expect(panelBreaks(120, T, "free", "free", 24)).toEqual([48, 96]);
    expect(panelBreaks(119.99, T, "free", "free", 24)).toEqual([48, 72]);
  });

  it("another smallest piece", () => {
    expect(panelBreaks(104, T, "free", "free", 16, "left", 48, 8)).toEqual([48, 96]);
    expect(panelBreaks(104, T, "free", "free", 16, "left", 48, 8.01)).toEqual([48, 80]);
    expect(panelBreaks(100, T, "free", "free", 16, "left", 48, 20)).toEqual([48, 80]);
    expect(panelBreaks(98, T, "free", "free", 12, "left", 48, 24)).toEqual([48, 72]);
    // back one space leaves 18, still under 20; back two leaves 34
    expect(panelBreaks(114, T, "free", "free", 16, "left", 48, 20)).toEqual([48, 80]);
  });

  it("however small the smallest, a seam keeps to a stud (found: between two studs)", () => {
    // run 147-5/8: at 144 the seam would miss the end stud, which stands from 144-1/4 on, and no
    // common stud has room beside that; it goes back to 128
    expect(panelBreaks(145.75, T, "free", "past", 16, "left", 48, 3)).toEqual([48, 96, 128]);
    expect(panelBreaks(98, T, "free", "free", 16, "left", 48, 2)).toEqual([48, 80]);
    // 2-1/4 in past the seam there is room for both studs
    expect(panelBreaks(98.25, T, "free", "free", 16, "left", 48, 2)).toEqual([48, 96]);
    expect(panelBreaks(98.2, T, "free", "free", 16, "left", 48, 2)).toEqual([48, 80]);
  });

  it("no seam leaves both last pieces wide enough: not covered, with a way out", () => {
    expectError(
      () => panelBreaks(53, T, "free", "free", 16, "left", 48, 30),
      "not-covered",
      "no seam on a stud leaves the last two pieces at least 30 in wide; take a smaller smallest piece or start from the other end"
    );
  });

  it("a wall that one panel covers has no seam", () => {
    for (const length of [48, 20, 3]) {
      expectError(
        () => panelBreaks(length, T, "free", "free"),
        "not-covered",
        "the wall has no seam: one panel covers its run"
      );
    }
    expect(wallSeams({ lengthIn: 48, thicknessIn: T, leftEnd: "free", rightEnd: "free" })).toEqual(
      []
    );
    // 48 in of framing past its corner is more than one panel
    expect(panelBreaks(48, T, "past", "free")).toEqual([32 - T]);
  });

  it("another panel width, whose spaces must fit it", () => {
    expect(panelBreaks(200, T, "free", "free", 24, "left", 96)).toEqual([96, 168]);
    expect(panelBreaks(120, T, "free", "free", 19.2, "left", 96)).toEqual([96]);
    expectError(
      () => panelBreaks(200, T, "free", "free", 16, "left", 120),
      "out-of-range",
      /panel width of 120 in/
    );
    expectError(
      () => panelBreaks(200, T, "free", "free", 12, "left", 11),
      "out-of-range",
      "panel_width must be at least 12 in; got 11"
    );
    expectError(
      () => panelBreaks(200, T, "free", "free", 12, "left", 132),
      "out-of-range",
      "panel_width must be at most 120 in; got 132"
    );
    // a stud space as wide as the panel: no smallest piece was typed, so none is blamed
    expectError(
      () => panelBreaks(200, T, "free", "free", 48),
      "out-of-range",
      "spacing must be less than the panel width of 48 in; got 48"
    );
    expectError(
      () => studMarks(200, T, "free", "free", 48),
      "out-of-range",
      "spacing must be less than the panel width of 48 in; got 48"
    );
    expectError(
      () => panelBreaks(200, T, "free", "free", 16, "left", 48, 48),
      "out-of-range",
      "smallest must be less than 48 in; got 48"
    );
    expectError(
      () => panelBreaks(200, T, "free", "free", 16, "left", 48, 0),
      "out-of-range",
      "smallest must be more than 0 in; got 0"
    );
  });
});

describe("plainRips", () => {
  const span = (runIn: number): Parameters<typeof plainRips>[0] => ({
    startIn: -T,
    endIn: runIn - T,
    runIn,
  });
  it("joints every 96 in from the run's start", () => {
    expect(plainRips(span(241.875), 16)).toEqual([-T, 96 - T, 192 - T, 240]);
    expect(plainRips(span(96), 16)).toEqual([-T, 96 - T]);
    expect(plainRips(span(10), 16)).toEqual([-T, 10 - T]);
  });
  it("a last rip under one stud space moves the joint before it back one space", () => {
    expect(plainRips(span(200), 16)).toEqual([-T, 96 - T, 176 - T, 200 - T]);
    expect(plainRips(span(208), 16)).toEqual([-T, 96 - T, 192 - T, 208 - T]);
  });
});

describe("spacing and panel width", () => {
  it.each([
    [12, 48],
    [16, 48],
    [24, 48],
    [48, 48],
    [19.2, 96],
    // a third of 4 ft out of millimeters
    [(1219.2 / 3) * (1 / 25.4), 48],
  ])("%p in goes into %p in", (spacingIn, panelWidthIn) => {
    expect(() => checkModule(spacingIn, panelWidthIn)).not.toThrow();
  });
  it.each([
    [19.2, 48],
    [32, 48],
    [49, 48],
    [96, 48],
    [96, 12],
    // three spaces miss the seam by some millionths of an inch
    [48 / (3 + 2e-7), 48],
  ])("%p in does not go into %p in", (spacingIn, panelWidthIn) => {
    expectError(
      () => checkModule(spacingIn, panelWidthIn),
      "out-of-range",
      new RegExp(
        `^spacing must go a whole number of times into the panel width of ${panelWidthIn} in`
      )
    );
  });
});
