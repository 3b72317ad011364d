import { ALL_CAUTIONS, MOISTURE_CAUTION, STRUCTURAL_CAUTION } from "../../src/core/cautions.js";
import { heatSaved } from "../../src/core/heat-saved.js";
import { penetrationRule } from "../../src/core/penetration.js";
import { CONFIRM_IN_CODE_BOOK, publishedFigure } from "../../src/core/published.js";
import { foamRNeeded, foamRNeededRow, vaporRetarderAdvice } from "../../src/core/vapor-retarder.js";
import { wallULimit, wallULimitRow } from "../../src/core/wall-u-limit.js";
import { failure } from "./failure.js";

describe("foamRNeeded", () => {
  it.each([
    ["5A", 3.5, 5],
    ["5", 5.5, 7.5],
    [5, 3.5, 5],
    ["4C", 3.5, 2.5],
    ["Marine 4", 5.5, 3.75],
    ["6B", 5.5, 11.25],
    ["7", 3.5, 10],
    ["8", 5.5, 20],
  ])("zone %p over a %p in stud is R-%p", (zone, stud, value) => {
    expect(foamRNeeded(zone, stud)).toBe(value);
  });
  it.each(["0A", "2A", "3C", "4A", "4", 4])("has no row for zone %p and says why", (zone) => {
    const error = failure(() => foamRNeeded(zone, 3.5));
    expect(error.code).toBe("not-covered");
    expect(error.message).toContain("needs no least foam R there");
  });
  it("tells the two zones 4 apart", () => {
    expect(failure(() => foamRNeeded("4A", 3.5)).message).toContain("Marine 4");
  });
  it("takes lumber a hair off its size, and no other stud", () => {
    expect(foamRNeeded("5", 3.5625)).toBe(5);
    expect(foamRNeeded("5", 5.4375)).toBe(7.5);
    for (const depth of [4, 6, 3.57, 7.25]) {
      expect(failure(() => foamRNeeded("5", depth)).code).toBe("not-covered");
    }
    expect(failure(() => foamRNeeded("5", 0)).code).toBe("out-of-range");
    expect(failure(() => foamRNeeded("5", "2x4" as unknown as number)).code).toBe("wrong-kind");
  });
  it("answers an unknown zone with the list", () => {
    const error = failure(() => foamRNeeded("12", 3.5));
    expect(error.code).toBe("not-covered");
    expect(error.message).toContain("climate_zone must be one of");
  });
  it("lets class III decide and class II only be shown", () => {
    expect(foamRNeededRow("5A", 3.5).mayDecide).toBe(true);
    const two = foamRNeededRow("5A", 3.5, "II");
    expect(two.mayDecide).toBe(false);
    expect(two.note).toContain(CONFIRM_IN_CODE_BOOK);
    expect(failure(() => foamRNeededRow("2A", 3.5, "II")).code).toBe("not-covered");
    expect(failure(() => foamRNeededRow("5A", 3.5, "I" as "II")).code).toBe("out-of-range");
  });
});

describe("wallULimit", () => {
  it("names its table, and refuses what is no zone by the argument's name", () => {
    expect(wallULimitRow("5").table).toBe("IECC 2021 Table R402.1.2");
    expect(failure(() => wallULimit("12")).message).toMatch(/^climate_zone must be one of/);
  });
  it.each([
    ["0A", 0.084],
    ["2B", 0.084],
    ["3A", 0.06],
    ["4A", 0.045],
    ["Marine 4", 0.045],
    [8, 0.045],
  ])("zone %p is %p", (zone, limit) => expect(wallULimit(zone)).toBe(limit));
  it("is remembered, so it may not decide a pass", () => {
    const row = wallULimitRow("5A");
    expect(row.mayDecide).toBe(false);
    expect(row.confirmed).toBe("memory");
    expect(row.note).toContain(CONFIRM_IN_CODE_BOOK);
  });
  it("refuses what is no zone", () => {
    expect(failure(() => wallULimit("east")).code).toBe("not-covered");
    expect(failure(() => wallULimit("")).code).toBe("wrong-kind");
  });
});

describe("publishedFigure", () => {
  it("never lets a remembered figure decide, and always says so", () => {
    expect(publishedFigure(1, "t", "memory", "note")).toEqual({
      value: 1,
      table: "t",
      confirmed: "memory",
      mayDecide: false,
      note: `note; ${CONFIRM_IN_CODE_BOOK}`,
    });
    expect(publishedFigure(1, "t", "seen").note).toBe("");
  });
});

describe("vaporRetarderAdvice", () => {
  it("lets paint stand where the foam is enough, and warns against poly", () => {
    const advice = vaporRetarderAdvice("5A", 3.5, 5);
    expect([advice.classOne, advice.classTwo, advice.classThree]).toEqual(["no", "yes", "yes"]);
    expect(advice.mayDecide).toBe(true);
    expect(advice.say).toContain("No poly inside");
  });
  it("asks for more foam or a tighter class where it is short", () => {
    const advice = vaporRetarderAdvice("6", 5.5, 6);
    expect(advice.classThree).toBe("with more foam");
    expect(advice.classTwo).toBe("yes");
    expect(advice.say).toContain("R-11.25");
    expect(advice.say).toContain("kraft-faced batts");
    expect(advice.mayDecide).toBe(false);
    expect(advice.say).toContain(CONFIRM_IN_CODE_BOOK);
  });
  it("says both ways out where the foam is too thin for either class", () => {
    const advice = vaporRetarderAdvice("7", 5.5, 3);
    expect([advice.classTwo, advice.classThree]).toEqual(["with more foam", "with more foam"]);
    expect(advice.say).toContain("R-15");
    expect(advice.say).toContain("R-7.5");
  });
  it("never asks more foam for a tighter class than for paint", () => {
    expect(vaporRetarderAdvice("Marine 4", 5.5, 3).say).not.toContain("R-5");
  });
  it("keeps a hot wall open to the inside", () => {
    const advice = vaporRetarderAdvice("2A", 3.5, 6);
    expect([advice.classOne, advice.classTwo, advice.classThree]).toEqual(["no", "no", "yes"]);
    expect(advice.foamForClassThree).toBeNull();
  });
  it("allows poly in the cold only where there is no foam", () => {
    expect(vaporRetarderAdvice("6", 3.5, 0).classOne).toBe("yes");
    expect(vaporRetarderAdvice("6", 3.5, 1).classOne).toBe("no");
  });
  // zone, stud, foam: what the sentence must name, and what it must not; figures of Tables R702.7(2), (3) and (4)
  it.each<[string, number, number, readonly string[], readonly string[]]>([
    ["1", 3.5, 0, ["Zone 1", "paint inside", "No poly, no kraft"], ["dry neither way", "R-"]],
    [
      "3",
      3.5,
      0,
      ["Zone 3", "whatever the foam", "No poly inside."],
      ["dry neither way", "memory"],
    ],
    ["3", 3.5, 4, ["Zone 3", "whatever the foam", "dry neither way"], ["kraft", "memory"]],
    ["4", 3.5, 4, ["Zone 4", "whatever the foam", "memory"], ["kraft"]],
    [
      "5A",
      3.5,
      5,
      ["R-5 foam over 2x4 in zone 5A", "at least the R-5", "dry neither way"],
      ["memory"],
    ],
    ["5A", 5.5, 7.5, ["R-7.5 foam over 2x6", "at least the R-7.5"], ["under", "2x4"]],
    [
      "6",
      3.5,
      0,
      ["No foam over 2x4", "is not enough", "class I or II", "at least R-7.5"],
      ["kraft", "R-0"],
    ],
    [
      "6",
      5.5,
      6,
      ["R-6 foam over 2x6", "R-11.25", "asks R-5", "kraft", "memory"],
      ["class I or II"],
    ],
    ["7", 5.5, 3, ["under the R-15", "at least R-15, or of at least R-7.5", "memory"], ["asks"]],
    ["Marine 4", 5.5, 3, ["under the R-3.75", "at least R-3.75."], ["kraft", "memory"]],
  ])("zone %s, stud %s in, foam R-%s", (zone, stud, foam, names, leaves) => {
    const { say } = vaporRetarderAdvice(zone, stud, foam);
    for (const each of names) expect(say).toContain(each);
    for (const each of leaves) expect(say).not.toContain(each);
  });

  it("at the least R of the table itself the foam is enough", () => {
    for (const [zone, stud, three, two] of [
      ["6", 3.5, 7.5, 3],
      ["7", 5.5, 15, 7.5],
      ["8", 5.5, 20, 10],
    ] as const) {
      expect(vaporRetarderAdvice(zone, stud, three).classThree).toBe("yes");
      expect(vaporRetarderAdvice(zone, stud, three - 0.01).classThree).toBe("with more foam");
      expect(vaporRetarderAdvice(zone, stud, two).classTwo).toBe("yes");
      expect(vaporRetarderAdvice(zone, stud, two - 0.01).classTwo).toBe("with more foam");
      // without foam kraft is as it was before there was any
      expect(vaporRetarderAdvice(zone, stud, 0).classTwo).toBe("yes");
    }
  });

  it("decides only by what was seen in the table, and poly only where the table lets it", () => {
    const decides = (zone: string, stud: number, foam: number): boolean =>
      vaporRetarderAdvice(zone, stud, foam).mayDecide;
    // zones 1 to 3 and Table R702.7(3) were seen; class I in zone 4, zone 0 and Table R702.7(4) are from memory
    expect(["0", "1", "2", "3", "4", "4C", "5"].map((zone) => decides(zone, 3.5, 12))).toEqual([
      false,
      true,
      true,
      true,
      false,
      true,
      true,
    ]);
    expect(decides("6", 5.5, 0)).toBe(true);
    expect(decides("6", 5.5, 6)).toBe(false);
    expect(["3", "4", "5"].map((zone) => vaporRetarderAdvice(zone, 3.5, 0).classOne)).toEqual([
      "no",
      "no",
      "yes",
    ]);
  });

  it("names the table a figure comes from, and the zone that has none", () => {
    const { foamForClassThree, foamForClassTwo } = vaporRetarderAdvice("6", 3.5, 1);
    expect(foamForClassThree).toMatchObject({ value: 7.5, table: "IRC 2021 Table R702.7(3)" });
    expect(foamForClassTwo).toMatchObject({ value: 3, table: "IRC 2021 Table R702.7(4)" });
    expect(failure(() => foamRNeededRow("4A", 3.5)).message).toContain("Marine 4, written 4C");
    expect(failure(() => foamRNeededRow("3", 3.5)).message).not.toContain("Marine");
    expect(failure(() => foamRNeededRow("5", 3.5, "I" as never)).message).toMatch(
      /^vapor retarder class must be one of II, III; got "I"$/
    );
  });

  it("refuses a foam R outside its limits", () => {
    expect(failure(() => vaporRetarderAdvice("5", 3.5, -1)).code).toBe("out-of-range");
    expect(failure(() => vaporRetarderAdvice("5", 3.5, 200)).code).toBe("out-of-range");
  });
});

describe("penetrationRule", () => {
  it.each([
    ["shear-wall table", 0.113, 1.25],
    ["shear-wall table", 0.131, 1.375],
    ["Shear-Wall Table", 0.148, 1.5],
    ["general", 0.12, 1.5],
    ["wind table", 0.113, 1.5],
    ["wind table", 0.131, 1.75],
  ])("%s, %p in shank: %p in", (basis, shank, value) => {
    expect(penetrationRule(basis, shank).value).toBe(value);
  });
  it("says which figures are practice, seen and remembered", () => {
    expect(penetrationRule("general", 0.131).confirmed).toBe("practice");
    expect(penetrationRule("shear-wall table", 0.131).confirmed).toBe("seen");
    expect(penetrationRule("wind table", 0.113).mayDecide).toBe(false);
  });
  it("has no row for another shank, and no other basis", () => {
    expect(failure(() => penetrationRule("shear-wall table", 0.12)).code).toBe("not-covered");
    expect(failure(() => penetrationRule("wind table", 0.148)).message).toContain(
      "use the engineer's schedule"
    );
    expect(failure(() => penetrationRule("by eye", 0.131)).message).toContain(
      "penetration basis must be one of shear-wall table, general, wind table"
    );
    expect(failure(() => penetrationRule("general", 0)).code).toBe("out-of-range");
  });
});

describe("heatSaved", () => {
  it("is 24 hours x degree days x area x the U that went away", () => {
    expect(heatSaved(1000, 0.1, 0.05, 5000)).toBe(6_000_000);
  });
  it("is 0 for no change, negative where the second wall is worse", () => {
    expect(heatSaved(1000, 0.1, 0.1, 5000)).toBe(0);
    expect(heatSaved(1000, 0.05, 0.1, 5000)).toBe(-6_000_000);
  });
  it("refuses what is outside the limits", () => {
    const say = (call: () => number, message: RegExp): void =>
      expect(failure(call).message).toMatch(message);
    say(() => heatSaved(-1, 0.1, 0.05, 5000), /^wall_area must be at least 0 ft2; got -1$/);
    say(
      () => heatSaved(1, 0, 0.05, 5000),
      /^u_before must be more than 0; got 0; type the whole-wall U/
    );
    say(
      () => heatSaved(1, 0.1, 3, 5000),
      /^u_after must be at most 2; got 3; type the whole-wall U/
    );
    say(
      () => heatSaved(1, 0.1, 0.05, -1),
      /^degree_days must be at least 0; got -1; type a year's/
    );
    expect(Object.is(heatSaved(0, 0.05, 0.1, 5000), 0)).toBe(true);
    expect(failure(() => heatSaved(-1, 0.1, 0.05, 5000)).code).toBe("out-of-range");
    expect(failure(() => heatSaved(1000, 20, 0.05, 5000)).message).toContain("whole-wall U");
    expect(failure(() => heatSaved(1000, 0.1, 0, 5000)).code).toBe("out-of-range");
    expect(failure(() => heatSaved(1000, 0.1, 0.05, 50000)).code).toBe("out-of-range");
  });
});

describe("cautions", () => {
  it("defer to the code, the engineer and the makers, and are all there", () => {
    expect(STRUCTURAL_CAUTION).toContain("engineer of record");
    expect(STRUCTURAL_CAUTION).toContain("local code");
    expect(MOISTURE_CAUTION).toContain("Cold foam");
    const all = ALL_CAUTIONS.join(" ");
    for (const word of [
      "printed instructions",
      "termite inspection",
      "clearance to grade",
      "Ladders",
    ]) {
      expect(all).toContain(word);
    }
    expect(new Set(ALL_CAUTIONS).size).toBe(ALL_CAUTIONS.length);
  });
});
