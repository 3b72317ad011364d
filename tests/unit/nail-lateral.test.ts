import {
  bearingStrengthPsi,
  bendingYieldPsi,
  dowelYieldModes,
  nailFoamComparison,
  nailLateral,
  nailLateralNote,
  nailYieldModes,
  reductionTerm,
} from "../../src/core/nail-lateral.js";
import { failure } from "./failure.js";

describe("bendingYieldPsi", () => {
  it.each([
    [0.099, 100000],
    [0.142, 100000],
    [0.1421, 90000],
    [0.177, 90000],
    [0.1771, 80000],
    [0.236, 80000],
    [0.2361, 70000],
    [0.273, 70000],
  ])("%p in is %p psi", (shank, psi) => expect(bendingYieldPsi(shank)).toBe(psi));
  it.each([0.092, 0.0989, 0.274])("does not reach %p in", (shank) => {
    const error = failure(() => bendingYieldPsi(shank));
    expect(error.code).toBe("not-covered");
    expect(error.message).toContain("nail_diameter must be 0.099 to 0.273 in");
  });
  it("refuses 0 and a diameter in another unit", () => {
    expect(failure(() => bendingYieldPsi(0)).code).toBe("out-of-range");
    expect(failure(() => bendingYieldPsi(3.3)).message).toContain("0.131 for an 8d common");
  });
});

describe("bearingStrengthPsi", () => {
  it("covers the table from 0.31 to 0.73 and no further", () => {
    expect(bearingStrengthPsi(0.31)).toBe(1900);
    expect(bearingStrengthPsi(0.73)).toBe(9300);
    expect(failure(() => bearingStrengthPsi(0.3)).code).toBe("not-covered");
    expect(failure(() => bearingStrengthPsi(0.8)).code).toBe("not-covered");
    expect(failure(() => bearingStrengthPsi(42)).message).toContain("0.42 for spruce-pine-fir");
  });
});

describe("reductionTerm", () => {
  it("is 2.2 to 0.17 in, then 10 D + 0.5, and ends at 1/4 in", () => {
    expect(reductionTerm(0.17)).toBe(2.2);
    expect(reductionTerm(0.192)).toBeCloseTo(2.42, 12);
    expect(failure(() => reductionTerm(0.25)).code).toBe("not-covered");
  });
  it("comes with a note where editions differ", () => {
    expect(nailLateralNote(0.17)).toBe("");
    expect(nailLateralNote(0.192)).toContain("10D - 0.5");
  });
});

describe("nailYieldModes and nailLateral", () => {
  it("give six modes, the least of them governing", () => {
    const modes = nailYieldModes(3.5, 0.131, 0.625, 1.25);
    expect(modes.map((row) => row.mode)).toEqual(["Im", "Is", "II", "IIIm", "IIIs", "IV"]);
    const least = Math.min(...modes.map((row) => row.valueLb));
    expect(modes.filter((row) => row.governs).map((row) => row.valueLb)).toEqual([least]);
    expect(nailLateral(3.5, 0.131, 0.625, 1.25)).toBe(least);
  });
  it("take half the tip off the bearing in the stud", () => {
    // Im = Fe D lm / 2.2 with lm = 3-1/2 - 1-7/8 - 0.131
    const im = nailYieldModes(3.5, 0.131, 0.625, 1.25)[0];
    expect(im?.valueLb).toBeCloseTo((3350 * 0.131 * (3.5 - 1.875 - 0.131)) / 2.2, 9);
  });
  it("take spruce-pine-fir studs, and strand board unless told", () => {
    expect(nailLateral(2.5, 0.131, 0.625, 0)).toBe(nailLateral(2.5, 0.131, 0.625, 0, 0.42, 0.5));
  });
  it("refuse a nail that has not six diameters in the stud", () => {
    const error = failure(() => nailLateral(2, 0.131, 0.625, 1.25));
    expect(error.code).toBe("out-of-range");
    expect(error.message).toContain("nail_length must be at least 2.661 in; got 2");
    expect(error.message).toContain("use a longer nail");
    expect(nailLateral(2.661, 0.131, 0.625, 1.25)).toBeGreaterThan(0);
    expect(failure(() => nailLateral(2.6609, 0.131, 0.625, 1.25)).code).toBe("out-of-range");
  });
  it("refuse a nail that does not reach the stud", () => {
    expect(failure(() => nailLateral(1, 0.131, 0.625, 1.25)).code).toBe("out-of-range");
  });
  it.each([
    [() => nailLateral(3.5, 0.131, 0, 1.25), "panel must be more than 0 in; got 0"],
    [() => nailLateral(3.5, 0.131, 7, 1.25), "panel must be at most 2 in; got 7"],
    [() => nailLateral(3.5, 0.131, 0.625, -1), "foam must be at least 0 in; got -1"],
    [() => nailLateral(40, 0.131, 0.625, 1.25), "nail_length must be at most 24 in; got 40"],
    [() => nailLateral(3.5, 0.131, 0.625, 1.25, 0), "stud_gravity must be more than 0; got 0"],
    [
      () => nailLateral(3.5, 0.131, 0.625, 1.25, 0.42, 2),
      "panel_gravity must be less than 1.5; got 2",
    ],
  ])("refuse what is outside the limits (%#)", (call, message) => {
    const error = failure(call);
    expect(error.code).toBe("out-of-range");
    expect(error.message).toContain(message);
  });
  it("do not reach shanks and gravities outside the tables", () => {
    for (const call of [
      () => nailLateral(3.5, 0.092, 0.625, 1.25),
      () => nailLateral(4, 0.25, 0.625, 1.25),
      () => nailLateral(3.5, 0.131, 0.625, 1.25, 0.2),
      () => nailLateral(3.5, 0.131, 0.625, 1.25, 0.42, 0.8),
    ]) {
      expect(failure(call).code).toBe("not-covered");
    }
  });
  it("refuse text", () => {
    const error = failure(() => nailLateral("3" as unknown as number, 0.131, 0.625, 1.25));
    expect(error.code).toBe("wrong-kind");
  });
});

describe("nailFoamComparison", () => {
  it("puts the nail over foam beside the same nail tight to the stud", () => {
    const comparison = nailFoamComparison(3.5, 0.131, 0.625, 1.25);
    expect(comparison.withFoamLb).toBe(nailLateral(3.5, 0.131, 0.625, 1.25));
    expect(comparison.withoutFoamLb).toBe(nailLateral(3.5, 0.131, 0.625, 0));
    expect(comparison.share).toBeCloseTo(comparison.withFoamLb / comparison.withoutFoamLb, 14);
    expect(comparison.penetrationIn).toBe(1.625);
    expect(comparison.note).toBe("");
  });
  it("is whole without foam", () => {
    expect(nailFoamComparison(3.5, 0.131, 0.625, 0).share).toBe(1);
  });
});

describe("dowelYieldModes", () => {
  const joint = {
    diameterIn: 0.5,
    mainBearingIn: 1.5,
    sideBearingIn: 1.5,
    mainStrengthPsi: 4800,
    sideStrengthPsi: 4800,
    bendingYieldPsi: 45000,
    gapIn: 0,
    reduction: 1,
  };
  it("marks the first of equal modes", () => {
    const short = dowelYieldModes({ ...joint, mainBearingIn: 1e-3, sideBearingIn: 1e-3 });
    expect(short.filter((row) => row.governs)).toHaveLength(1);
  });
  it("refuses a reduction term that is missing or not more than 0", () => {
    expect(failure(() => dowelYieldModes({ ...joint, reduction: 0 })).code).toBe("out-of-range");
    expect(
      failure(() => dowelYieldModes({ ...joint, reduction: undefined as unknown as number })).code
    ).toBe("wrong-kind");
  });
  it("refuses a negative gap", () => {
    expect(failure(() => dowelYieldModes({ ...joint, gapIn: -0.1 })).message).toContain(
      "gap must be at least 0 in; got -0.1"
    );
  });
});

describe("limits of a dowel joint", () => {
  const joint = {
    diameterIn: 0.131,
    mainBearingIn: 1.5,
    sideBearingIn: 0.625,
    mainStrengthPsi: 3350,
    sideStrengthPsi: 4650,
    bendingYieldPsi: 100_000,
    gapIn: 1.25,
    reduction: 2.2,
  };
  it.each([
    [{ diameterIn: 5e-324 }, "diameter must be at least 0.01 in; got 5e-324"],
    [{ diameterIn: 0 }, "diameter must be more than 0 in; got 0"],
    [{ diameterIn: 4.1 }, "diameter must be at most 4 in; got 4.1"],
    [{ mainBearingIn: 0.0009 }, "main bearing length must be at least 0.001 in; got 0.0009"],
    [{ sideBearingIn: 241 }, "side bearing length must be at most 240 in; got 241"],
    [{ mainStrengthPsi: 0.9 }, "main bearing strength must be at least 1 psi; got 0.9"],
    [{ sideStrengthPsi: 1e308 }, "side bearing strength must be at most 1000000 psi; got 1e+308"],
    [{ bendingYieldPsi: 1e7 }, "bending yield strength must be at most 1000000 psi; got 10000000"],
    [{ gapIn: -1 }, "gap must be at least 0 in; got -1"],
    [{ gapIn: 241 }, "gap must be at most 240 in; got 241"],
    [{ reduction: 0 }, "reduction term must be more than 0; got 0"],
    [{ reduction: 0.0099 }, "reduction term must be at least 0.01; got 0.0099"],
    [{ reduction: 101 }, "reduction term must be at most 100; got 101"],
  ])("%j", (change, message) => {
    const error = failure(() => dowelYieldModes({ ...joint, ...change }));
    expect(error.code).toBe("out-of-range");
    expect(error.message).toBe(message);
  });

  it("answers at the limits themselves, and refuses what is no record", () => {
    const most = {
      diameterIn: 4,
      mainBearingIn: 240,
      sideBearingIn: 240,
      mainStrengthPsi: 1e6,
      sideStrengthPsi: 1e6,
      bendingYieldPsi: 1e6,
      gapIn: 240,
      reduction: 100,
    };
    const least = {
      diameterIn: 0.01,
      mainBearingIn: 0.001,
      sideBearingIn: 0.001,
      mainStrengthPsi: 1,
      sideStrengthPsi: 1,
      bendingYieldPsi: 1,
      gapIn: 0,
      reduction: 0.01,
    };
    for (const rows of [dowelYieldModes(most), dowelYieldModes(least)]) {
      for (const { valueLb } of rows) expect(valueLb).toBeGreaterThan(0);
      expect(rows.filter((row) => row.governs)).toHaveLength(1);
    }
    const error = failure(() => dowelYieldModes(null as never));
    expect(error.message).toBe("joint must be a record; got a blank");
  });

  it("takes no panel thinner than a tape shows", () => {
    expect(nailLateral(3, 0.131, 1 / 64, 0)).toBeGreaterThan(0);
    const error = failure(() => nailLateral(3, 0.131, 5e-324, 0));
    expect(error.message).toBe("panel must be at least 0.015625 in; got 5e-324");
  });
});
