import {
  bridgingLoss,
  foamR,
  houseWallU,
  wallR,
  wallRIsothermal,
  wallU,
  wallUByPaths,
  wallUWithHeaders,
} from "../../src/core/thermal.js";
import { failure } from "./failure.js";

describe("foamR", () => {
  it("is thickness times R per inch", () => {
    expect(foamR(1, 6)).toBe(6);
    expect(foamR(2.5, 4)).toBe(10);
  });
  it("is 0 without foam", () => expect(foamR(0, 6)).toBe(0));
  it.each([
    [-0.5, 6, "foam must be at least 0 in; got -0.5"],
    [13, 6, "foam must be at most 12 in; got 13"],
    [1, 0, "r_per_inch must be more than 0; got 0"],
    [1, -6, "r_per_inch must be more than 0; got -6"],
    [1, 200, "r_per_inch must be at most 12; got 200"],
  ])("refuses %p in at R-%p an inch", (foam, perInch, message) => {
    const error = failure(() => foamR(foam, perInch));
    expect(error.code).toBe("out-of-range");
    expect(error.message).toContain(message);
  });
  it("asks for the R of one inch where the whole panel's R was typed", () => {
    expect(failure(() => foamR(1, 13)).message).toContain("not of the whole panel");
  });
  it("refuses text and what is not finite", () => {
    expect(failure(() => foamR("1" as unknown as number, 6)).code).toBe("wrong-kind");
    expect(failure(() => foamR(1, NaN)).code).toBe("wrong-kind");
  });
});

describe("wallU, wallR, bridgingLoss", () => {
  it("average a cavity path and a stud path", () => {
    // cavity 19 + 1, stud 7.2 x 1.25 + 1
    expect(wallU(19, 0, 7.2, 0.25, 1)).toBeCloseTo(0.75 / 20 + 0.25 / 10, 14);
    expect(wallR(19, 0, 7.2, 0.25, 1)).toBeCloseTo(16, 12);
    expect(bridgingLoss(19, 0, 7.2, 0.25, 1)).toBeCloseTo(1 - 16 / 20, 12);
  });
  it("take 25 percent framing, R-2.05 of other layers and 1.25 an inch of wood unless told", () => {
    expect(wallU(13, 6, 3.5)).toBe(wallU(13, 6, 3.5, 0.25, 2.05, 1.25));
    expect(wallR(13, 6, 3.5)).toBe(wallR(13, 6, 3.5, 0.25, 2.05, 1.25));
    expect(bridgingLoss(13, 6, 3.5)).toBe(bridgingLoss(13, 6, 3.5, 0.25, 2.05, 1.25));
  });
  it("lose nothing without framing, and gain where the bay is worse than the stud", () => {
    expect(bridgingLoss(13, 6, 3.5, 0)).toBe(0);
    expect(bridgingLoss(0.91, 0, 3.5)).toBeLessThan(0);
  });
  it("lose a smaller share with foam over the studs", () => {
    expect(bridgingLoss(13, 6, 3.5)).toBeLessThan(bridgingLoss(13, 0, 3.5));
  });
  it("refuse R of 0 in the bays and say what an empty bay is", () => {
    const error = failure(() => wallR(0, 6, 3.5));
    expect(error.code).toBe("out-of-range");
    expect(error.message).toContain("cavity_r must be more than 0; got 0");
    expect(error.message).toContain("0.91");
  });
  it.each([
    [() => wallU(200, 6, 3.5), "cavity_r must be at most 100; got 200"],
    [() => wallU(13, 200, 3.5), "foam_r must be at most 100; got 200"],
    [() => wallU(13, -1, 3.5), "foam_r must be at least 0; got -1"],
    [() => wallU(13, 6, 5e-324), "stud_depth must be at least 0.5 in; got 5e-324"],
    [() => wallU(13, 6, 0.4999), "stud_depth must be at least 0.5 in; got 0.4999"],
    [() => wallU(0.0099, 6, 3.5), "cavity_r must be at least 0.01; got 0.0099"],
    [
      () => wallU(13, 6, 3.5, 0.25, 2.05, 5e-324),
      "wood_r_per_inch must be at least 0.01; got 5e-324",
    ],
    [() => wallU(13, 6, 0), "stud_depth must be more than 0 in; got 0"],
    [() => wallU(13, 6, 24), "stud_depth must be at most 16 in; got 24"],
    [() => wallU(13, 6, 3.5, -0.1), "framing must be at least 0; got -0.1"],
    [() => wallU(13, 6, 3.5, 25), "type 0.25 or 25%"],
    [() => wallU(13, 6, 3.5, 0.25, -1), "other_r must be at least 0; got -1"],
    [() => wallU(13, 6, 3.5, 0.25, 2.05, 0), "wood_r_per_inch must be more than 0; got 0"],
  ])("refuse what is outside the limits (%#)", (call, message) => {
    const error = failure(call);
    expect(error.code).toBe("out-of-range");
    expect(error.message).toContain(message);
  });
  it("refuse text", () => {
    const error = failure(() => wallU("R13" as unknown as number, 6, 3.5));
    expect(error.code).toBe("wrong-kind");
    expect(error.message).toContain('cavity_r must be a number; got "R13"');
  });
});

describe("wallRIsothermal", () => {
  it("averages the framed layer first", () => {
    // framed layer 1 / (0.75/12 + 0.25/4) = 8
    expect(wallRIsothermal(12, 0, 3.2, 0.25, 2)).toBeCloseTo(10, 12);
  });
  it("is the sum of the layers without framing", () => {
    expect(wallRIsothermal(13, 6, 3.5, 0, 2)).toBe(21);
  });
});

describe("wallUWithHeaders", () => {
  it("gives headers a path of their own", () => {
    expect(wallUWithHeaders(19, 0, 7.2, 0.2, 0.05, 4, 1)).toBeCloseTo(
      0.75 / 20 + 0.2 / 10 + 0.05 / 5,
      14
    );
  });
  it("is wallU where the headers insulate as the studs do", () => {
    expect(wallUWithHeaders(13, 3, 3.5)).toBeCloseTo(wallU(13, 3, 3.5), 14);
  });
  it("refuses more framing than wall", () => {
    expect(failure(() => wallUWithHeaders(13, 3, 3.5, 0.8, 0.3)).message).toContain(
      "shares of studs and headers must add to at most 1; got 1.1"
    );
  });
});

describe("wallUByPaths", () => {
  it("refuses shares that do not add to 1, and no paths at all", () => {
    expect(
      failure(() =>
        wallUByPaths([
          { fraction: 0.5, pathR: 10 },
          { fraction: 0.4, pathR: 20 },
        ])
      ).message
    ).toContain("shares of the wall must add to 1; got 0.9");
    expect(failure(() => wallUByPaths([])).code).toBe("wrong-kind");
    expect(failure(() => wallUByPaths([{ fraction: 1, pathR: 0 }])).code).toBe("out-of-range");
  });
});

describe("houseWallU", () => {
  const house = {
    grossAreaFt2: 1000,
    openingAreaFt2: 200,
    framingAreaFt2: 160,
    headerAreaFt2: 40,
    cavityR: 19,
    foamR: 0,
    studDepthIn: 7.2,
    headerR: 4,
    otherR: 1,
  };
  it("takes the openings out and weighs cavity, framing and headers by area", () => {
    const result = houseWallU(house);
    expect(result.opaqueAreaFt2).toBe(800);
    expect(result.cavityAreaFt2).toBe(600);
    expect(result.framing).toBeCloseTo(0.25, 12);
    expect(result.uTimesArea).toBeCloseTo(600 / 20 + 160 / 10 + 40 / 5, 10);
    expect(result.wallU).toBeCloseTo(54 / 800, 12);
    expect(result.wallR).toBeCloseTo(800 / 54, 10);
    expect(result.wallRIsothermal).toBeCloseTo(1 + 800 / (600 / 19 + 160 / 9 + 40 / 4), 10);
    expect(result.withOpenings).toBeNull();
  });
  it("adds the openings where their U is given", () => {
    const result = houseWallU({ ...house, openingU: 0.3 });
    expect(result.withOpenings?.uTimesArea).toBeCloseTo(54 + 60, 10);
    expect(result.withOpenings?.u).toBeCloseTo(0.114, 12);
  });
  it("agrees with wallU for a wall without openings and headers", () => {
    const plain = houseWallU({
      grossAreaFt2: 100,
      framingAreaFt2: 25,
      cavityR: 13,
      foamR: 6,
      studDepthIn: 3.5,
    });
    expect(plain.wallU).toBeCloseTo(wallU(13, 6, 3.5), 14);
    expect(plain.wallRIsothermal).toBeCloseTo(wallRIsothermal(13, 6, 3.5), 12);
  });
  it("refuses openings or framing larger than the wall", () => {
    expect(failure(() => houseWallU({ ...house, openingAreaFt2: 1000 })).message).toContain(
      "opening area must be less than 1000 ft2; got 1000"
    );
    expect(failure(() => houseWallU({ ...house, framingAreaFt2: 801 })).code).toBe("out-of-range");
    expect(failure(() => houseWallU({ ...house, headerAreaFt2: 700 })).message).toContain(
      "framing and headers together"
    );
    expect(failure(() => houseWallU({ ...house, openingU: 30 })).code).toBe("out-of-range");
  });
});

describe("limits that keep a division finite", () => {
  const house = {
    grossAreaFt2: 1000,
    framingAreaFt2: 180,
    cavityR: 20,
    foamR: 6,
    studDepthIn: 5.5,
  };
  it("of a way through the wall", () => {
    expect(wallUByPaths([{ fraction: 1, pathR: 0.005 }])).toBe(200);
    for (const [pathR, rule] of [
      [0.0049, "at least 0.005"],
      [0, "more than 0"],
      [1000.1, "at most 1000"],
    ] as const) {
      const error = failure(() => wallUByPaths([{ fraction: 1, pathR }]));
      expect(error.message).toBe(`R of a path must be ${rule}; got ${pathR}`);
    }
    expect(failure(() => wallUByPaths([null as never])).message).toBe(
      "a path must be a record; got a blank"
    );
  });

  it("of the walls of a house", () => {
    expect(failure(() => houseWallU({ ...house, grossAreaFt2: 5e-324 })).message).toBe(
      "wall area must be at least 0.01 ft2; got 5e-324"
    );
    expect(failure(() => houseWallU({ ...house, grossAreaFt2: 10_000_001 })).message).toBe(
      "wall area must be at most 10000000 ft2; got 10000001"
    );
    expect(failure(() => houseWallU({ ...house, headerR: 0.0099 })).message).toMatch(
      /^header_r must be at least 0.01; got 0.0099/
    );
    expect(failure(() => houseWallU(undefined as never)).message).toBe(
      "house must be a record; got a blank"
    );
    expect(houseWallU({ ...house, grossAreaFt2: 10_000_000 }).wallR).toBeGreaterThan(0);
  });

  it("and no foam is no R, not a minus", () => {
    expect(foamR(-0, 6)).toBe(0);
  });
});

describe("what is said of a share, a record and a limit", () => {
  const house = {
    grossAreaFt2: 1000,
    framingAreaFt2: 180,
    cavityR: 20,
    foamR: 6,
    studDepthIn: 5.5,
  };
  it.each<[() => unknown, RegExp]>([
    // a percentage typed as a whole number is met with what to type
    [() => wallU(13, 6, 3.5, 25), /^framing must be at most 1; got 25; type 0\.25 or 25%$/],
    [() => wallU(13, 6, 3.5, 100), /; type 1 or 100%$/],
    [() => wallU(13, 6, 3.5, 101), /; a share of the wall face, such as 0\.25$/],
    [() => wallU(13, 6, 3.5, -1), /; a share of the wall face, such as 0\.25$/],
    [() => wallU(13, 6, 3.5, "25" as never), /^framing must be a number; got "25"; a share/],
    [() => wallUByPaths([{ fraction: 2, pathR: 5 }]), /^share of the wall must be at most 1/],
    [() => wallUWithHeaders(13, 6, 3.5, 0.2, 2), /^share of headers must be at most 1/],
    [() => wallUWithHeaders(13, 6, 3.5, 0.2, 0.1, 0), /^header_r must be more than 0; got 0/],
    [() => wallUWithHeaders(13, 6, 3.5, 0.2, 0.1, 101), /^header_r must be at most 100; got 101/],
    [
      () => houseWallU({ ...house, grossAreaFt2: -1 }),
      /^wall area must be more than 0 ft2; got -1/,
    ],
    [
      () => houseWallU({ ...house, framingAreaFt2: 1001 }),
      /^framing area must be at most 1000 ft2/,
    ],
    [() => houseWallU({ ...house, framingAreaFt2: -1 }), /^framing area must be at least 0 ft2/],
    [() => houseWallU({ ...house, headerAreaFt2: 821 }), /^header area must be at most 820 ft2/],
    [() => houseWallU({ ...house, headerR: 0 }), /^header_r must be more than 0; got 0/],
    [() => houseWallU({ ...house, headerR: 101 }), /^header_r must be at most 100; got 101/],
    [() => houseWallU({ ...house, openingU: 3 }), /^U of the openings must be at most 2; got 3/],
  ])("%#", (call, message) => expect(failure(call).message).toMatch(message));

  it("lets shares be off by the rounding of typed decimals, and no more", () => {
    const shares = (total: number): unknown =>
      wallUByPaths([
        { fraction: 0.5, pathR: 10 },
        { fraction: total - 0.5, pathR: 10 },
      ]);
    expect(shares(1 + 5e-7)).toBeCloseTo(0.1, 6);
    expect(failure(() => shares(1 + 2e-6)).message).toMatch(/^shares of the wall must add to 1/);
    expect(wallUWithHeaders(13, 6, 3.5, 0.6, 0.4)).toBeGreaterThan(0);
    expect(failure(() => wallUWithHeaders(13, 6, 3.5, 0.6, 0.41)).message).toMatch(
      /^shares of studs and headers must add to at most 1; got 1\.01/
    );
  });
});
