/** Laws of parallel paths, dew point and foam face over seeded random input. */
import fc from "fast-check";
import {
  condensingSurface,
  dewPoint,
  foamFaceTemperature,
  saturationPressure,
} from "../../src/core/moisture.js";
import {
  bridgingLoss,
  houseWallU,
  wallR,
  wallRIsothermal,
  wallU,
  wallUWithHeaders,
} from "../../src/core/thermal.js";

const SEED = 20261125;
const runs = { seed: SEED, numRuns: 400 };
const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

const cavity = between(0.5, 60);
const foam = between(0, 40);
const depth = between(1, 12);
const framing = between(0, 1);
const other = between(0.1, 10);
const wood = between(0.5, 3);
const wall = fc.tuple(cavity, foam, depth, framing, other, wood);
const SLACK = 1e-9;

function isPlainNumber(value: number): boolean {
  return Number.isFinite(value) && !Object.is(value, -0);
}

describe("framed walls", () => {
  it("U is a finite number more than 0, and R is one over it", () => {
    fc.assert(
      fc.property(wall, (layers) => {
        expect(isPlainNumber(wallU(...layers))).toBe(true);
        expect(wallU(...layers)).toBeGreaterThan(0);
        expect(wallR(...layers) * wallU(...layers)).toBeCloseTo(1, 12);
        expect(isPlainNumber(bridgingLoss(...layers))).toBe(true);
      }),
      runs
    );
  });

  it("U falls as any layer's R grows", () => {
    fc.assert(
      fc.property(wall, between(0.01, 20), ([c, f, d, share, o, w], more) => {
        const before = wallU(c, f, d, share, o, w);
        expect(wallU(c + more, f, d, share, o, w)).toBeLessThanOrEqual(before);
        expect(wallU(c, f + more, d, share, o, w)).toBeLessThan(before);
        expect(wallU(c, f, d, share, o + more, w)).toBeLessThan(before);
        expect(wallU(c, f, d + Math.min(more, 4), share, o, w)).toBeLessThanOrEqual(before);
      }),
      runs
    );
  });

  it("R by isothermal planes is never more than R by parallel paths, and equal without framing", () => {
    fc.assert(
      fc.property(wall, (layers) => {
        const [c, f, d, , o, w] = layers;
        expect(wallRIsothermal(...layers)).toBeLessThanOrEqual(wallR(...layers) * (1 + SLACK));
        expect(wallRIsothermal(c, f, d, 0, o, w)).toBeCloseTo(wallR(c, f, d, 0, o, w), 9);
      }),
      runs
    );
  });

  it("R lies between the R of the two paths", () => {
    fc.assert(
      fc.property(wall, (layers) => {
        const [c, f, d, , o, w] = layers;
        const paths = [o + f + c, o + f + d * w];
        expect(wallR(...layers)).toBeGreaterThanOrEqual(Math.min(...paths) * (1 - SLACK));
        expect(wallR(...layers)).toBeLessThanOrEqual(Math.max(...paths) * (1 + SLACK));
      }),
      runs
    );
  });

  it("bridging loss is the share of the cavity path's R that is missing, below 1", () => {
    fc.assert(
      fc.property(wall, (layers) => {
        const [c, f, , , o] = layers;
        const loss = bridgingLoss(...layers);
        expect(loss).toBeCloseTo(1 - wallR(...layers) / (o + f + c), 9);
        expect(loss).toBeLessThan(1);
      }),
      runs
    );
  });

  it("foam over studs that resist less than the bay never raises the bridging loss", () => {
    fc.assert(
      fc.property(wall, between(0.1, 20), ([c, f, d, share, o, w], more) => {
        const bay = Math.max(c, d * w);
        expect(bridgingLoss(bay, f + more, d, share, o, w)).toBeLessThanOrEqual(
          bridgingLoss(bay, f, d, share, o, w) + SLACK
        );
      }),
      runs
    );
  });

  it("headers like studs change nothing, and a house of one wall is that wall", () => {
    fc.assert(
      fc.property(wall, between(0, 1), between(10, 5000), ([c, f, d, share, o, w], part, area) => {
        const whole = wallU(c, f, d, share, o, w);
        const split = wallUWithHeaders(c, f, d, share * part, share * (1 - part), d * w, o, w);
        expect(Math.abs(split - whole)).toBeLessThanOrEqual(SLACK * whole);
        const house = houseWallU({
          grossAreaFt2: area,
          framingAreaFt2: area * share,
          cavityR: c,
          foamR: f,
          studDepthIn: d,
          otherR: o,
          woodRPerInch: w,
        });
        expect(Math.abs(house.wallU - whole)).toBeLessThanOrEqual(SLACK * whole);
        expect(house.uTimesArea).toBeCloseTo(house.wallU * house.opaqueAreaFt2, 6);
      }),
      runs
    );
  });
});

describe("water vapor", () => {
  const room = between(50, 95);
  const humidity = between(0.001, 1);

  it("saturation pressure grows with temperature, across 32 F too", () => {
    fc.assert(
      fc.property(between(-148, 391), between(0.001, 1), (air, step) => {
        expect(saturationPressure(air + step)).toBeGreaterThan(saturationPressure(air));
      }),
      runs
    );
    for (let air = 31.99; air < 32.01; air += 0.001) {
      expect(saturationPressure(air + 0.001)).toBeGreaterThan(saturationPressure(air));
    }
  });

  it("dew point is never above the air and grows with humidity", () => {
    fc.assert(
      fc.property(room, humidity, between(0.001, 0.1), (air, share, more) => {
        const dew = dewPoint(air, share);
        expect(isPlainNumber(dew)).toBe(true);
        expect(dew).toBeLessThanOrEqual(air);
        expect(dewPoint(air, Math.min(1, share + more))).toBeGreaterThanOrEqual(dew);
      }),
      runs
    );
  });

  it("air cooled to its dew point is saturated", () => {
    fc.assert(
      fc.property(room, humidity, (air, share) => {
        const psia = share * saturationPressure(air);
        const dew = dewPoint(air, share);
        // 0.02 percent: the step between the two equations at 32 F
        expect(saturationPressure(dew) / psia).toBeGreaterThan(1 - 2e-4);
        expect(saturationPressure(dew) / psia).toBeLessThan(1 + 2e-4);
      }),
      runs
    );
  });
});

describe("the foam's inner face", () => {
  const face = fc.tuple(
    between(50, 95),
    between(-80, 130),
    cavity,
    foam,
    between(0, 5),
    between(0, 5)
  );

  it("lies between outdoors and the room", () => {
    fc.assert(
      fc.property(face, (layers) => {
        const [indoor, outdoor] = layers;
        const t = foamFaceTemperature(...layers);
        expect(isPlainNumber(t)).toBe(true);
        expect(t).toBeGreaterThanOrEqual(Math.min(indoor, outdoor) - SLACK);
        expect(t).toBeLessThanOrEqual(Math.max(indoor, outdoor) + SLACK);
      }),
      runs
    );
  });

  it("grows warmer with foam and colder with batts, in winter", () => {
    fc.assert(
      fc.property(face, between(0.1, 20), ([indoor, , c, f, i, o], more) => {
        const winter = foamFaceTemperature(indoor, 0, c, f, i, o);
        expect(foamFaceTemperature(indoor, 0, c, f + more, i, o)).toBeGreaterThan(winter);
        expect(foamFaceTemperature(indoor, 0, c + more, f, i, o)).toBeLessThanOrEqual(winter);
      }),
      runs
    );
  });

  it("is at the dew point with the foam R that condensingSurface asks for", () => {
    fc.assert(
      fc.property(face, between(0.05, 0.8), ([indoor, , c, f, i, o], share) => {
        const surface = condensingSurface(indoor, 0, share, c, f, i, o);
        const needed = surface.foamRToStayDry as number;
        expect(needed).toBeGreaterThanOrEqual(0);
        if (needed > 0 && needed <= 100) {
          expect(foamFaceTemperature(indoor, 0, c, needed, i, o)).toBeCloseTo(surface.dewPointF, 6);
        }
        expect(surface.isDry).toBe(f >= needed || surface.marginF >= 0);
      }),
      runs
    );
  });
});
