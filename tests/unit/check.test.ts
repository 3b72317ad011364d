import {
  CalcError,
  ceilCount,
  checkChoice,
  checkNumber,
  checkRecord,
  floorCount,
  isCalcError,
  notCovered,
  shown,
} from "../../src/core/check.js";
import { expectError } from "./expect-error.js";

describe("checkNumber", () => {
  it("returns the number, and 0 for minus zero", () => {
    expect(checkNumber("a", 5)).toBe(5);
    expect(Object.is(checkNumber("a", -0), 0)).toBe(true);
  });
  it("names the argument, the rule, the unit, what came and the hint", () => {
    expectError(
      () => checkNumber("extra", 5, { below: 1, unit: "in", hint: "5 % is 0.05" }),
      "out-of-range",
      "extra must be less than 1 in; got 5; 5 % is 0.05"
    );
    expectError(
      () => checkNumber("count", 1.5, { whole: true }),
      "out-of-range",
      "count must be a whole number; got 1.5"
    );
  });
  it("limits are inclusive for min and max, exclusive for above and below", () => {
    expect(checkNumber("a", 1, { min: 1, max: 1 })).toBe(1);
    expectError(() => checkNumber("a", 1, { above: 1 }), "out-of-range", /more than 1; got 1$/);
    expectError(() => checkNumber("a", 1, { below: 1 }), "out-of-range", /less than 1; got 1$/);
    expectError(() => checkNumber("a", 0.9, { min: 1 }), "out-of-range", /at least 1; got 0.9$/);
    expectError(() => checkNumber("a", 1.1, { max: 1 }), "out-of-range", /at most 1; got 1.1$/);
  });
  it("refuses what is not a finite number", () => {
    expectError(() => checkNumber("a", "5"), "wrong-kind", 'a must be a number; got "5"');
    expectError(() => checkNumber("a", null), "wrong-kind", "a must be a number; got a blank");
    expectError(() => checkNumber("a", true), "wrong-kind", "a must be a number; got TRUE");
    expectError(() => checkNumber("a", NaN), "wrong-kind", "a must be a finite number; got NaN");
    expectError(() => checkNumber("a", Infinity), "wrong-kind", /got Infinity$/);
  });
});

describe("checkChoice", () => {
  it("gives the list's spelling whatever the case and spaces", () => {
    expect(checkChoice("m", "  Two  Words ", ["one", "two words"])).toBe("two words");
  });
  it("lists what is allowed", () => {
    expectError(
      () => checkChoice("m", "three", ["one", "two"]),
      "out-of-range",
      'm must be one of one, two; got "three"'
    );
    expectError(() => checkChoice("m", 1, ["one"]), "wrong-kind", "m must be one of one; got 1");
    expectError(() => checkChoice("m", " ", ["one"]), "wrong-kind", /got " "$/);
    expectError(() => checkChoice("m", null, ["one"]), "wrong-kind", /got a blank$/);
  });
});

describe("whole counts", () => {
  it("the noise of binary fractions buys no extra panel", () => {
    expect(ceilCount(3.0000000000000004)).toBe(3);
    expect(ceilCount((0.1 + 0.2) * 10)).toBe(3);
    expect(floorCount(1.9999999999999998)).toBe(2);
  });
  it("a real excess does", () => {
    expect(ceilCount(3.00001)).toBe(4);
    expect(floorCount(1.99999)).toBe(1);
    expect(ceilCount(0)).toBe(0);
    expect(ceilCount(0.001)).toBe(1);
  });
  it("never minus zero", () => {
    expect(Object.is(ceilCount(-0), 0)).toBe(true);
    expect(Object.is(ceilCount(-0.4), 0)).toBe(true);
    expect(Object.is(floorCount(-0), 0)).toBe(true);
  });
});

describe("errors", () => {
  it("are known by their name and code, also across realms", () => {
    expect(isCalcError(new CalcError("wrong-kind", "m"))).toBe(true);
    expect(isCalcError({ name: "CalcError", code: "not-covered", message: "m" })).toBe(true);
    expect(isCalcError(new Error("m"))).toBe(false);
    expect(isCalcError({ name: "CalcError" })).toBe(false);
    expect(isCalcError(null)).toBe(false);
    expect(isCalcError("CalcError")).toBe(false);
    expect(notCovered("m").code).toBe("not-covered");
  });
  it("name what came so that a reader knows it", () => {
    expect(shown("")).toBe("a blank");
    expect(shown(undefined)).toBe("a blank");
    expect(shown("past")).toBe('"past"');
    expect(shown("x".repeat(41))).toBe(`"${"x".repeat(37)}..."`);
    expect(shown(0.1 + 0.2)).toBe("0.3");
    expect(shown(NaN)).toBe("NaN");
    expect(shown(false)).toBe("FALSE");
    expect(shown([[1]])).toBe("a range");
    expect(shown({})).toBe("a value of another kind");
  });
});

describe("a CalcError of another realm", () => {
  it("is known by its name and its code, and nothing else is one", () => {
    expect(isCalcError({ name: "CalcError", code: "out-of-range" })).toBe(true);
    expect(isCalcError({ name: "Error", code: "ENOENT" })).toBe(false);
    expect(isCalcError({ name: "CalcError" })).toBe(false);
    expect(isCalcError(Object.assign(() => 0, { code: "out-of-range" }))).toBe(false);
    for (const other of [null, undefined, "CalcError", new Error("x")]) {
      expect(isCalcError(other)).toBe(false);
    }
  });
});

describe("checkRecord", () => {
  it("takes a record, and names anything else", () => {
    const record = { a: 1 };
    expect(checkRecord("a need", record)).toBe(record);
    const say = (value: unknown, came: string): void =>
      expectError(
        () => checkRecord("a need", value as object),
        "wrong-kind",
        `a need must be a record; got ${came}`
      );
    say(null, "a blank");
    say(undefined, "a blank");
    say(5, "5");
    say("x", '"x"');
  });
});

describe("floorCount", () => {
  it("forgives the noise of a large sum in proportion, and gives no minus zero", () => {
    // a billionth of a million is a thousandth
    expect(floorCount(1e6 - 5e-4)).toBe(1e6);
    expect(floorCount(1e6 - 5e-3)).toBe(1e6 - 1);
    expect(floorCount(1 - 5e-4)).toBe(0);
    expect(Object.is(floorCount(-1e-10), 0)).toBe(true);
    expect(Object.is(floorCount(-0), 0)).toBe(true);
  });
});
