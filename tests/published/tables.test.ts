/**
 * The tables in src/core/data against figures keyed in from the documents a second time.
 * A mistyped cell in either place fails here.
 */
import { rows as framing } from "../../src/core/data/ashrae-standard-90-1-2016.js";
import { rows as materials } from "../../src/core/data/ashrae-fundamentals-2017.js";
import { rows as nds } from "../../src/core/data/awc-nds-2018.js";
import { rows as sdpws } from "../../src/core/data/awc-sdpws-2008.js";
import { rows as iecc } from "../../src/core/data/icc-iecc-2021.js";
import { rows as irc } from "../../src/core/data/icc-irc-2021.js";

describe("NDS-2018", () => {
  it("Appendix L Table L4: length and shank of common, box and sinker nails", () => {
    const printed: Record<string, readonly (readonly [string, number, number])[]> = {
      common: [
        ["6d", 2, 0.113],
        ["8d", 2.5, 0.131],
        ["10d", 3, 0.148],
        ["12d", 3.25, 0.148],
        ["16d", 3.5, 0.162],
      ],
      box: [
        ["6d", 2, 0.099],
        ["8d", 2.5, 0.113],
        ["10d", 3, 0.128],
        ["12d", 3.25, 0.128],
        ["16d", 3.5, 0.135],
      ],
      sinker: [
        ["6d", 1.875, 0.092],
        ["8d", 2.375, 0.113],
        ["10d", 2.875, 0.12],
        ["12d", 3.125, 0.135],
        ["16d", 3.25, 0.148],
      ],
    };
    const kept = Object.fromEntries(
      Object.keys(printed).map((type) => [
        type,
        nds.nails
          .filter((nail) => nail.type === type)
          .map((nail) => [nail.penny, nail.lengthIn, nail.diameterIn]),
      ])
    );
    expect(kept).toEqual(printed);
    expect(nds.nails).toHaveLength(15);
  });

  it("Appendix I Table I1: bending yield strength by band", () => {
    expect(nds.bendingYield.map((band) => [band.fromIn, band.toIn, band.bendingYieldPsi])).toEqual([
      [0.099, 0.142, 100000],
      [0.142, 0.177, 90000],
      [0.177, 0.236, 80000],
      [0.236, 0.273, 70000],
    ]);
  });

  it("Table 12.3.3A: spruce-pine-fir 0.42, hem-fir 0.43, Douglas fir-larch 0.50, southern pine 0.55", () => {
    expect(nds.lumberGravity.map((row) => row.gravity)).toEqual([0.55, 0.5, 0.43, 0.42]);
  });

  it("12.1.6.4 asks six diameters, 12.3.5.3 takes the tip as two", () => {
    expect([nds.leastPenetrationDiameters, nds.tipLengthDiameters]).toEqual([6, 2]);
  });
});

describe("SDPWS-2008 Table 4.3A", () => {
  it("6d 1-1/4, 8d 1-3/8, 10d 1-1/2", () => {
    expect(sdpws.map((row) => [row.penny, row.penetrationIn])).toEqual([
      ["6d", 1.25],
      ["8d", 1.375],
      ["10d", 1.5],
    ]);
  });
});

describe("IRC 2021", () => {
  it("Table R702.7(1): 0.1, 1 and 10 perms", () => {
    expect(irc.vaporClasses.map((row) => [row.vaporClass, row.mostPerms])).toEqual([
      ["I", 0.1],
      ["II", 1],
      ["III", 10],
    ]);
  });

  it("Table R702.7(3): least foam R for class III, over 2x4 and 2x6", () => {
    expect(irc.classThreeFoam.map((row) => [row.zone, row.over2x4R, row.over2x6R])).toEqual([
      ["Marine 4", 2.5, 3.75],
      ["5", 5, 7.5],
      ["6", 7.5, 11.25],
      ["7", 10, 15],
      ["8", 12.5, 20],
    ]);
  });

  it("Table R702.7(4), from memory: least foam R for class II", () => {
    expect(irc.classTwoFoam.map((row) => [row.zone, row.over2x4R, row.over2x6R])).toEqual([
      ["3", 2, 2],
      ["4", 3, 5],
      ["5", 3, 5],
      ["6", 3, 5],
      ["7", 5, 7.5],
      ["8", 7.5, 10],
    ]);
    expect(irc.classTwoFoam.every((row) => row.confirmed === "memory")).toBe(true);
  });

  it("Table R602.3(3): penetration 1-1/2 for 2 x 0.113 and 1-3/4 for 2-1/2 x 0.131", () => {
    expect(
      irc.windSheathing.map((row) => [
        row.lengthIn,
        row.diameterIn,
        row.penetrationIn,
        row.studSpacingIn,
        row.windMph,
      ])
    ).toEqual([
      [2, 0.113, 1.5, 16, [140, 115, 110]],
      [2.5, 0.131, 1.75, 16, [170, 140, 135]],
      [2.5, 0.131, 1.75, 24, [140, 115, 110]],
    ]);
  });
});

describe("IECC 2021, from memory", () => {
  it("Table R402.1.2: 0.084, 0.060 and 0.045", () => {
    expect(iecc.wallU.map((row) => [row.zones, row.wallU])).toEqual([
      [[0, 1, 2], 0.084],
      [[3], 0.06],
      [[4, 5, 6, 7, 8], 0.045],
    ]);
    expect(iecc.wallU.every((row) => row.confirmed === "memory")).toBe(true);
  });

  it("Table R402.1.3: cavity and foam pairs", () => {
    expect(iecc.wallR.map((row) => row.pairs)).toEqual([
      [
        [13, 0],
        [0, 10],
      ],
      [
        [20, 0],
        [13, 5],
        [0, 15],
      ],
      [
        [30, 0],
        [20, 5],
        [13, 10],
        [0, 20],
      ],
    ]);
  });
});

describe("ASHRAE", () => {
  it("90.1 A3.4: 75/21/4 at 16 in, 78/18/4 at 24 in; layers 0.17, 0.08, 0.56, 0.56, 0.68 make 2.05", () => {
    expect(
      framing.framing.map((row) => [row.spacingIn, row.cavity, row.studs, row.headers])
    ).toEqual([
      [16, 0.75, 0.21, 0.04],
      [24, 0.78, 0.18, 0.04],
    ]);
    for (const row of framing.framing) expect(row.studs + row.headers).toBeCloseTo(row.framing, 12);
    const total = framing.otherLayers.reduce((sum, layer) => sum + layer.r, 0);
    expect(framing.otherLayers.map((layer) => layer.r)).toEqual([0.17, 0.08, 0.56, 0.56, 0.68]);
    expect(total).toBeCloseTo(framing.otherLayersR, 12);
  });

  it("Fundamentals chapter 26: films and materials", () => {
    expect(materials.map((row) => row.r)).toEqual([
      0.68, 0.17, 0.25, 0.45, 0.62, 4.38, 6.88, 0.81, 0.61,
    ]);
  });
});
