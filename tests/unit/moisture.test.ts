import {
  condensingSurface,
  dewPoint,
  foamFaceTemperature,
  saturationPressure,
} from "../../src/core/moisture.js";
import { failure } from "./failure.js";

describe("saturationPressure", () => {
  it("is one atmosphere at the boiling point, within the table's 0.03 percent", () => {
    expect(saturationPressure(212) / 14.696).toBeCloseTo(1, 2);
  });
  it("meets itself at 32 F from ice and from water", () => {
    expect(saturationPressure(32) / saturationPressure(32 - 1e-9)).toBeCloseTo(1, 3);
  });
  it("is taken over water from 32 F up, over ice below", () => {
    const at = saturationPressure(32);
    // the equations differ by 0.01 percent there: a hair above is the same, a hair below is not
    expect(Math.abs(saturationPressure(32 + 1e-7) / at - 1)).toBeLessThan(1e-7);
    expect(Math.abs(saturationPressure(32 - 1e-7) / at - 1)).toBeGreaterThan(1e-5);
  });
  it("ends where the equations end", () => {
    expect(saturationPressure(-148)).toBeGreaterThan(0);
    expect(saturationPressure(392)).toBeGreaterThan(0);
    expect(failure(() => saturationPressure(-149)).message).toContain(
      "temperature_f must be at least -148 deg F; got -149"
    );
    expect(failure(() => saturationPressure(393)).code).toBe("out-of-range");
    expect(failure(() => saturationPressure(NaN)).code).toBe("wrong-kind");
  });
});

describe("dewPoint", () => {
  it("is the air's own temperature at 100 percent", () => expect(dewPoint(70, 1)).toBe(70));
  it("is taken over ice below 32 F, not over water", () => {
    // over water the same vapor pressure would be about 0.6 F lower
    expect(dewPoint(70, 0.2)).toBeCloseTo(27.69, 1);
  });
  it("refuses humidity typed as a percentage and says what to type", () => {
    const error = failure(() => dewPoint(70, 40));
    expect(error.code).toBe("out-of-range");
    expect(error.message).toBe("humidity must be at most 1; got 40; type 0.4 or 40%");
  });
  it("refuses dry air, negative humidity and humidity past 100", () => {
    expect(failure(() => dewPoint(70, 0)).message).toContain("humidity must be more than 0; got 0");
    expect(failure(() => dewPoint(70, -0.4)).code).toBe("out-of-range");
    expect(failure(() => dewPoint(70, 400)).message).toContain("type 0.4 or 40%");
  });
  it("takes a 20 F living room for Celsius typed by mistake", () => {
    const error = failure(() => dewPoint(20, 0.4));
    expect(error.code).toBe("out-of-range");
    expect(error.message).toContain(
      "temperature_f must be more than 32 deg F; got 20; if this is Celsius, type 68"
    );
  });
  it("takes cold air where it is said to be outdoors", () => {
    expect(dewPoint(20, 0.4, "outdoors")).toBeLessThan(20);
    expect(failure(() => dewPoint(-100, 0.4, "outdoors")).code).toBe("out-of-range");
    expect(failure(() => dewPoint(70, 0.4, "garage" as "room")).code).toBe("out-of-range");
  });
  it("does not answer past the end of the equations", () => {
    const error = failure(() => dewPoint(70, 1e-12));
    expect(error.code).toBe("not-covered");
    expect(error.message).toContain("colder than -148 deg F");
  });
  it("takes indoor air from just over freezing to 130, a cellar and an attic included", () => {
    expect(dewPoint(32.1, 0.5)).toBeLessThan(32.1);
    expect(dewPoint(130, 0.5)).toBeLessThan(130);
    expect(failure(() => dewPoint(130.1, 0.5)).code).toBe("out-of-range");
    expect(failure(() => dewPoint(32, 0.5)).code).toBe("out-of-range");
  });
});

describe("foamFaceTemperature", () => {
  it("splits the temperature by R: what is outboard over the whole", () => {
    // outboard 6 + 5 of 25
    expect(foamFaceTemperature(70, 20, 13, 6, 1, 5)).toBe(42);
  });
  it("is the outdoor temperature with nothing outboard", () => {
    expect(foamFaceTemperature(70, 20, 13, 0, 1, 0)).toBe(20);
  });
  it("takes 1.13 inside and 1.35 outside unless told", () => {
    expect(foamFaceTemperature(70, 5, 13, 6)).toBe(foamFaceTemperature(70, 5, 13, 6, 1.13, 1.35));
  });
  it("takes a 20 F living room for Celsius typed by mistake", () => {
    const error = failure(() => foamFaceTemperature(20, -10, 13, 6));
    expect(error.code).toBe("out-of-range");
    expect(error.message).toBe(
      "indoor_f must be at least 50 deg F; got 20; if this is Celsius, type 68"
    );
  });
  it("has no Celsius guess for a room at 110 F", () => {
    expect(failure(() => foamFaceTemperature(110, 5, 13, 6)).message).not.toContain("Celsius");
  });
  it.each([
    [() => foamFaceTemperature(70, -90, 13, 6), "outdoor_f must be at least -80 deg F; got -90"],
    [() => foamFaceTemperature(70, 5, 0, 6), "cavity_r must be more than 0; got 0"],
    [() => foamFaceTemperature(70, 5, 13, 200), "foam_r must be at most 100; got 200"],
    [() => foamFaceTemperature(70, 5, 13, -1), "foam_r must be at least 0; got -1"],
    [() => foamFaceTemperature(70, 5, 13, 6, -1), "inside_r must be at least 0; got -1"],
    [() => foamFaceTemperature(70, 5, 13, 6, 1, -1), "outside_r must be at least 0; got -1"],
  ])("refuses what is outside the limits (%#)", (call, message) => {
    const error = failure(call);
    expect(error.code).toBe("out-of-range");
    expect(error.message).toContain(message);
  });
});

describe("condensingSurface", () => {
  it("compares the face with the dew point", () => {
    const surface = condensingSurface(70, 32, 0.5, 11, 14, 0, 0);
    expect(surface.foamFaceF).toBeCloseTo(53.28, 2);
    expect(surface.dewPointF).toBeCloseTo(50.53, 2);
    expect(surface.marginF).toBeCloseTo(surface.foamFaceF - surface.dewPointF, 12);
    expect(surface.isDry).toBe(true);
    expect(condensingSurface(70, 32, 0.5, 11, 7, 0, 0).isDry).toBe(false);
  });
  it("says the foam R at which the face is at the dew point", () => {
    const { foamRToStayDry, dewPointF } = condensingSurface(70, 5, 0.3, 13, 2);
    expect(foamFaceTemperature(70, 5, 13, foamRToStayDry as number)).toBeCloseTo(dewPointF, 9);
  });
  it("asks no foam where outdoors is above the dew point", () => {
    expect(condensingSurface(70, 60, 0.3, 13, 0).foamRToStayDry).toBe(0);
    expect(condensingSurface(75, 90, 0.5, 13, 0).foamRToStayDry).toBe(0);
  });
  it("is dry where the face is just at the dew point, as in a saturated house as warm as outdoors", () => {
    expect(condensingSurface(70, 70, 1, 13, 6)).toEqual({
      foamFaceF: 70,
      dewPointF: 70,
      marginF: 0,
      isDry: true,
      foamRToStayDry: 0,
    });
  });
  it("has no foam R for a room at its own dew point", () => {
    expect(condensingSurface(70, 5, 1, 13, 6).foamRToStayDry).toBeNull();
  });
});

describe("what is said of a temperature and a humidity in another unit", () => {
  it.each<[() => unknown, RegExp]>([
    // 5 to 40 is most often Celsius: 20 C is 68 F
    [() => foamFaceTemperature(20, 5, 13, 6), /; if this is Celsius, type 68$/],
    [() => foamFaceTemperature(5, 5, 13, 6), /; if this is Celsius, type 41$/],
    [() => foamFaceTemperature(40, 5, 13, 6), /; if this is Celsius, type 104$/],
    [() => foamFaceTemperature(4.9, 5, 13, 6), /; type the room's temperature in Fahrenheit/],
    [() => foamFaceTemperature(40.1, 5, 13, 6), /; type the room's temperature in Fahrenheit/],
    [() => foamFaceTemperature(300, 5, 13, 6), /; type the room's temperature in Fahrenheit/],
    [() => foamFaceTemperature("20" as never, 5, 13, 6), /got "20"; type the room's temperature/],
    [() => dewPoint(70, 35), /^humidity must be at most 1; got 35; type 0\.35 or 35%$/],
    [() => dewPoint(70, 100), /; type 1 or 100%$/],
    [() => dewPoint(70, 101), /; type 0\.4 or 40% for 40 percent$/],
    [() => dewPoint(70, 0), /; type 0\.4 or 40% for 40 percent$/],
    [() => dewPoint(70, "35" as never), /got "35"; type 0\.4 or 40% for 40 percent$/],
    [() => dewPoint(-81, 0.5, "outdoors"), /^temperature_f must be at least -80 deg F; got -81/],
    [
      () => dewPoint(70, 0.5, "attic" as never),
      /^place must be one of room, outdoors; got "attic"$/,
    ],
  ])("%#", (call, message) => expect(failure(call).message).toMatch(message));

  it("saturated air is at its dew point, whatever its temperature", () => {
    for (const air of [-80, -10, 0, 20, 31.9, 32, 40, 130]) {
      expect(dewPoint(air, 1, "outdoors")).toBe(air);
    }
  });

  it("a dew point below freezing is never above freezing, nor above the air", () => {
    for (const air of [-40, 0, 10, 31, 33, 50]) {
      for (const share of [0.1, 0.5, 0.9, 0.999]) {
        const dew = dewPoint(air, share, "outdoors");
        expect(dew).toBeLessThan(air);
        // the pressure at the dew point is the pressure of the air's vapor: the definition
        expect(saturationPressure(dew)).toBeCloseTo(share * saturationPressure(air), 6);
      }
    }
  });
});
