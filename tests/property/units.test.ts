/** Laws of lengths and tape text over seeded random input. */
import fc from "fast-check";
import { isCalcError } from "../../src/core/check.js";
import { feetInches, inchText, parseLength } from "../../src/core/units.js";

const runs = { seed: 20261130, numRuns: 500 };
const length = fc.double({ min: -12_000, max: 12_000, noNaN: true });
const denominator = fc.constantFrom(2, 4, 8, 16, 32, 64);
/** whole feet, inches under 12 and a tape fraction */
const parts = fc.record({
  feet: fc.nat({ max: 900 }),
  inches: fc.nat({ max: 11 }),
  bottom: denominator,
  top: fc.nat({ max: 63 }),
});
const read = (text: string | number): number => parseLength("length", text);

describe("tape text", () => {
  it("reads back within half a fraction of what was written", () => {
    fc.assert(
      fc.property(length, denominator, (inches, bottom) => {
        const back = read(feetInches(inches, bottom));
        expect(Math.abs(back - inches)).toBeLessThanOrEqual(0.5 / bottom + 1e-9);
        expect(Math.abs(read(inchText(inches, bottom)) - inches)).toBeLessThanOrEqual(
          0.5 / bottom + 1e-9
        );
      }),
      runs
    );
  });

  it("of a length on the tape reads back exactly, and is written the same again", () => {
    fc.assert(
      fc.property(fc.integer({ min: -500_000, max: 500_000 }), denominator, (count, bottom) => {
        const inches = count / bottom;
        const text = feetInches(inches, bottom);
        expect(read(text)).toBe(inches === 0 ? 0 : inches);
        expect(feetInches(read(text), bottom)).toBe(text);
        expect(read(inchText(inches, bottom))).toBe(inches === 0 ? 0 : inches);
      }),
      runs
    );
  });

  it("has inches under 12, a reduced fraction, and one sign in front", () => {
    fc.assert(
      fc.property(length, denominator, (inches, bottom) => {
        const match = /^(-?)(\d+)'-(\d+)(?: (\d+)\/(\d+))?"$/.exec(feetInches(inches, bottom));
        expect(match).not.toBeNull();
        const [, , , whole, top, low] = match as unknown as string[];
        expect(Number(whole)).toBeLessThan(12);
        if (top === undefined) return;
        expect(Number(top) % 2).toBe(1);
        expect(Number(top)).toBeLessThan(Number(low));
        expect(bottom % Number(low)).toBe(0);
      }),
      runs
    );
  });

  it("of a minus is the minus of the text: half goes away from zero on both sides", () => {
    fc.assert(
      fc.property(length, denominator, (inches, bottom) => {
        const plus = feetInches(Math.abs(inches), bottom);
        const minus = feetInches(-Math.abs(inches), bottom);
        expect(minus).toBe(/[1-9]/.test(plus) ? `-${plus}` : plus);
      }),
      runs
    );
  });

  it("never goes down when the length goes up", () => {
    fc.assert(
      fc.property(length, length, denominator, (a, b, bottom) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        expect(read(feetInches(low, bottom))).toBeLessThanOrEqual(read(feetInches(high, bottom)));
      }),
      runs
    );
  });
});

describe("every spelling of one length", () => {
  it("reads as the same inches", () => {
    let spellings = 0;
    fc.assert(
      fc.property(parts, fc.boolean(), ({ feet, inches, bottom, top }, isMinus) => {
        const over = top % bottom;
        const value = (feet * 12 + inches + over / bottom) * (isMinus ? -1 : 1);
        const raised = (text: string): string =>
          [...text].map((digit) => "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(digit)]).join("");
        const lowered = (text: string): string =>
          [...text].map((digit) => "₀₁₂₃₄₅₆₇₈₉"[Number(digit)]).join("");
        const sign = isMinus ? "-" : "";
        const fraction = `${over}/${bottom}`;
        const small = `${raised(String(over))}⁄${lowered(String(bottom))}`;
        const decimal = inches + over / bottom;
        const all = [
          `${sign}${feet}'-${inches} ${fraction}"`,
          `${sign}${feet}'${inches} ${fraction}"`,
          `${sign}${feet}' ${inches}-${fraction}`,
          `${sign}${feet}’-${inches} ${fraction}”`,
          `${sign}${feet}′ ${inches} ${fraction}″`,
          `${sign}${feet} ft ${inches} ${fraction} in`,
          `${sign}${feet}FT ${inches} ${fraction}IN.`,
          `${sign}${feet} feet ${inches} ${fraction} inches`,
          `${sign}${feet}' ${decimal}`,
          `${sign}${feet}'-${decimal}"`,
          `${sign}${feet}'-${inches}${small}"`,
          `${sign}${feet}' ${inches}${small}`,
          `${sign}${feet}' ${inches} ${small}`,
          `${sign}${feet * 12 + inches} ${fraction}`,
          `${sign}${feet * 12 + inches}-${fraction}"`,
          `${sign}${feet * 12 + inches}${small}`,
          `${isMinus ? "−" : ""}${feet}'–${inches} ${fraction}"`,
        ];
        // a comma before three digits could be a thousand, and is refused
        if (!/\.\d{3}$/.test(String(decimal))) {
          all.push(`${sign}${feet}' ${String(decimal).replace(".", ",")}"`);
        }
        const wanted = value === 0 ? 0 : value;
        expect(all.filter((text) => read(text) !== wanted)).toEqual([]);
        const millimeters = Math.abs(value) * 25.4;
        for (const text of [
          `${sign}${millimeters} mm`,
          `${sign}${millimeters / 10}cm`,
          `${sign}${millimeters / 1000} m`,
        ]) {
          if (!/e/.test(text)) expect(read(text)).toBeCloseTo(value, 8);
        }
        expect(parseLength("length", value / 12, "ft")).toBeCloseTo(value, 8);
        expect(parseLength("length", value * 25.4, "mm")).toBeCloseTo(value, 8);
        spellings += all.length;
      }),
      runs
    );
    expect(spellings).toBeGreaterThan(5000);
  });

  it("any text at all is inches or an error that names the argument, never NaN", () => {
    const signs = fc.constantFrom(..."0123456789'\"/-. ,½⁷₁⁄ftinmc°x".split(""));
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ maxLength: 12 }),
          fc.array(signs, { maxLength: 10 }).map((all) => all.join(""))
        ),
        (text) => {
          try {
            const value = read(text);
            expect(Number.isFinite(value)).toBe(true);
            expect(Object.is(value, -0)).toBe(false);
          } catch (error) {
            if (!isCalcError(error)) throw error;
            expect(error.message).toMatch(/^length/);
          }
        }
      ),
      { ...runs, numRuns: 5000 }
    );
  });
});
