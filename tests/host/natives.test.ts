/** Built-in functions where the calculation library rounds the raw binary number. */
import fc from "fast-check";
import { FormulaEvaluator } from "../../src/host/engine/index.js";
import { roundDecimal, shownNumber } from "../../src/host/engine/decimal.js";
import { fractionText, formatPlaces } from "../../src/host/engine/natives.js";
import { FUNCTIONS } from "./make.js";

const evaluator = new FormulaEvaluator(FUNCTIONS);
const come = (formula: string): unknown => evaluator.evaluate(formula);

describe("rounding works on the number a worksheet shows (15 digits)", () => {
  // The values are those the sum has on paper; 0.1*3*10 is 3.0000000000000004 in binary.
  const cases: [formula: string, value: number][] = [
    ["ROUNDUP(0.1*3*10,0)", 3],
    ["CEILING(0.1*3*10,1)", 3],
    ["CEILING.MATH(0.1*3*10)", 3],
    ["CEILING.PRECISE(0.1*3*10)", 3],
    ["ISO.CEILING(0.1*3*10)", 3],
    ["INT(0.3/0.1)", 3],
    ["TRUNC(0.3/0.1)", 3],
    ["ROUNDDOWN(0.3/0.1,0)", 3],
    ["FLOOR(0.3/0.1,1)", 3],
    ["FLOOR.MATH(0.3/0.1)", 3],
    ["FLOOR.PRECISE(0.3/0.1)", 3],
    ["QUOTIENT(0.3,0.1)", 3],
    ["MOD(0.3,0.1)", 0],
    ["MOD(1,0.1)", 0],
    ["EVEN(0.1*3*10+1)", 4],
    ["ODD(0.1*3*10)", 3],
    ["MROUND(1.3,0.2)", 1.4],
    ["ROUND(1.005,2)", 1.01],
    ["ROUND(-1.005,2)", -1.01],
    ["ROUND(2.5,0)", 3],
    ["ROUND(-2.5,0)", -3],
    ["ROUND(1234.5,-2)", 1200],
    ["ROUNDUP(1201,-2)", 1300],
    ["ROUNDUP(0,0)", 0],
    ["ROUNDUP(-1.1,0)", -2],
    ["TRUNC(-1.9)", -1],
    ["INT(-1.5)", -2],
    ["MOD(-3,2)", 1],
    ["MOD(5.5,2)", 1.5],
    ["CEILING(-2.5,-1)", -3],
    ["CEILING(-2.5,1)", -2],
    ["FLOOR(-2.5,1)", -3],
    ["FLOOR(-2.5,-1)", -2],
    ["CEILING.MATH(-2.5)", -2],
    ["CEILING.MATH(-2.5,1,1)", -3],
    ["FLOOR.MATH(-2.5)", -3],
    ["FLOOR.MATH(-2.5,1,1)", -2],
    ["EVEN(-1)", -2],
    ["ODD(0)", 1],
    ["CEILING(0.7,0.1)", 0.7],
    ["FLOOR(0.7,0.1)", 0.7],
  ];
  test.each(cases)("%s is %d", (formula, value) => expect(come(formula)).toBe(value));

  test("they work cell by cell on arrays", () => {
    expect(come("ROUND({1.25,2.5;-1.25,0},1)")).toEqual([
      [1.3, 2.5],
      [-1.3, 0],
    ]);
    expect(come("SUM(INT({1.5;2.5}))")).toBe(3);
  });

  test("errors stay what desktop programs give", () => {
    expect(come("CEILING(2.5,-1)")).toMatchObject({ error: "#NUM!" });
    expect(come("FLOOR(2.5,0)")).toMatchObject({ error: "#DIV/0!" });
    expect(come("MOD(1,0)")).toMatchObject({ error: "#DIV/0!" });
    expect(come('ROUND("x",1)')).toMatchObject({ error: "#VALUE!" });
    expect(come("ROUND(1)")).toMatchObject({ error: "#VALUE!" });
    expect(come("ROUND(NA(),1)")).toMatchObject({ error: "#N/A" });
  });

  test("text that is a number counts as one", () => {
    expect(come('ROUND("1.25",1)')).toBe(1.3);
    expect(come('INT("50%")')).toBe(0);
  });

  test("roundDecimal never moves a number by more than half a unit, and up never goes down", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        fc.integer({ min: -3, max: 6 }),
        (value, places) => {
          const unit = 10 ** -places;
          const slack = Math.abs(value) * 1e-14 + unit * 1e-9;
          expect(Math.abs(roundDecimal(value, places, "half") - value)).toBeLessThanOrEqual(
            unit / 2 + slack
          );
          const up = Math.abs(roundDecimal(value, places, "up"));
          const down = Math.abs(roundDecimal(value, places, "down"));
          expect(up).toBeGreaterThanOrEqual(Math.abs(value) - slack);
          expect(down).toBeLessThanOrEqual(Math.abs(value) + slack);
          expect(Object.is(roundDecimal(value, places, "half"), -0)).toBe(
            value === 0 && 1 / value < 0
          );
        }
      ),
      { seed: 20261125, numRuns: 500 }
    );
  });

  test("rounding a decimal typed by hand gives the decimal worked by hand", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 999999 }),
        fc.integer({ min: 0, max: 3 }),
        (n, places) => {
          // n/1000 with three decimals, rounded on paper by whole numbers
          const drop = 10 ** (3 - places);
          const onPaper = Math.floor((n + drop / 2) / drop) / 10 ** places;
          expect(roundDecimal(n / 1000, places, "half")).toBe(shownNumber(onPaper));
        }
      ),
      { seed: 20261125, numRuns: 500 }
    );
  });
});

describe("comparing and joining use the number a worksheet shows", () => {
  const cases: [formula: string, value: unknown][] = [
    ["0.1+0.2=0.3", true],
    ["0.1*3>0.3", false],
    ["0.1*3<=0.3", true],
    ["0.1*3<>0.3", false],
    ["IF(0.1*3>0.3,1,0)", 0],
    ["SUM(0.1,0.2)<=0.3", true],
    ["1=1=TRUE", true],
    ['"a"="A"', true],
    ['0.1+0.2&""', "0.3"],
    ['"t = "&0.1*3', "t = 0.3"],
    ["1+1&2", "22"],
    ['-1&"x"', "-1x"],
    ["CONCAT(0.1+0.2)", "0.3"],
    ['TEXTJOIN(",",TRUE,0.1+0.2,"b")', "0.3,b"],
  ];
  test.each(cases)("%s is %p", (formula, value) => expect(come(formula)).toBe(value));

  test("on arrays too", () => {
    expect(come("{0.1,0.2}+0.2={0.3,0.5}")).toEqual([[true, false]]);
    expect(come("SUMPRODUCT(--({0.1;0.2}+0.2={0.3;0.4}))")).toBe(2);
  });
});

describe("TEXT", () => {
  const cases: [formula: string, value: string][] = [
    ['TEXT(3.3125,"# ?/16")', "3 5/16"],
    ['TEXT(-1.3125,"# ?/16")', "-1 5/16"],
    ['TEXT(0.3125,"# ?/16")', " 5/16"],
    ['TEXT(3,"# ?/16")', "3     "],
    ['TEXT(1.99,"# ?/16")', "2     "],
    ['TEXT(0.5,"0 0/0")', "0 1/2"],
    ['TEXT(12.5,"# ?/?")', "12 1/2"],
    ['TEXT(0.333,"?/?")', "1/3"],
    ['TEXT(3.3125,"# ??/??")', "3  5/16"],
    ['TEXT(1.005,"0.00")', "1.01"],
    ['TEXT(1234.5,"#,##0")', "1,235"],
    ['TEXT(0.0005,"0.0%")', "0.1%"],
    ['TEXT("abc","0.00")', "abc"],
    ['TEXT("5","0.00")', "5.00"],
    ['TEXT(TRUE,"0")', "TRUE"],
    ['TEXT(DATE(2026,1,2),"yyyy-mm-dd")', "2026-01-02"],
    ["FIXED(1.005,2)", "1.01"],
    ["FIXED(1234.567,1)", "1,234.6"],
  ];
  test.each(cases)("%s", (formula, value) => expect(come(formula)).toBe(value));

  test("a format worked out by the sheet may be a fraction too", () => {
    expect(come('TEXT(1.875,"# ?/"&8)')).toBe("1 7/8");
    expect(come('TEXT({1.5;2.25},"# ?/?")')).toEqual([["1 1/2"], ["2 1/4"]]);
  });
  test("an error stays an error", () => {
    expect(come('TEXT(NA(),"0")')).toMatchObject({ error: "#N/A" });
  });

  test("fractionText of a sixteenth reads back as the same number", () => {
    for (let sixteenths = 0; sixteenths < 64; sixteenths++) {
      const text = fractionText(sixteenths / 16, "# ??/16").trim();
      const [whole = "0", part = "0/1"] = text.includes(" ")
        ? text.split(/\s+/)
        : text.includes("/")
          ? ["0", text]
          : [text];
      const [top, bottom] = part.split("/").map(Number);
      expect(Number(whole) + (top as number) / (bottom as number)).toBe(sixteenths / 16);
    }
  });

  test("formatPlaces counts the decimals of plain number formats only", () => {
    expect(formatPlaces("0")).toBe(0);
    expect(formatPlaces("#,##0.00")).toBe(2);
    expect(formatPlaces("0.0%")).toBe(3);
    expect(formatPlaces("yyyy-mm-dd")).toBeUndefined();
    expect(formatPlaces("0.00;-0.00")).toBeUndefined();
    expect(formatPlaces("# ?/16")).toBeUndefined();
    expect(formatPlaces("")).toBeUndefined();
  });
});

describe("VALUE", () => {
  test("reads a whole number with a fraction", () => {
    expect(come('VALUE("1 7/8")')).toBe(1.875);
    expect(come('VALUE("-1 7/8")')).toBe(-1.875);
    expect(come('VALUE("0 5/8")')).toBe(0.625);
    expect(come('VALUE(" 12.5 ")')).toBe(12.5);
    expect(come("VALUE(3)")).toBe(3);
  });
  test("a fraction alone is an error that says what to use, never a date of this year", () => {
    expect(come('VALUE("5/8")')).toMatchObject({
      error: "#VALUE!",
      message: expect.stringContaining("SHEATH.INCHES"),
    });
    expect(come('VALUE("1-7/8")')).toMatchObject({ error: "#VALUE!" });
    expect(come('VALUE("1 7/0")')).toMatchObject({ error: "#VALUE!" });
  });
});

describe("text that looks like a date or a number stays text", () => {
  test.each([
    ['"5/8"', "5/8"],
    ['SUBSTITUTE("1-2","-","/")', "1/2"],
    ['IF(TRUE,"10%",1)', "10%"],
    ['LEFT("1-7/8",3)', "1-7"],
    ['"W"&1.50', "W1.5"],
  ])("%s is %p", (formula, value) => expect(come(formula)).toBe(value));
});
