import {
  type LengthUnit,
  degreesToRadians,
  feet,
  feetInches,
  inchText,
  parseLength,
  radiansToDegrees,
  squareFeet,
  totalLength,
} from "../../src/core/units.js";
import { expectError } from "./expect-error.js";

const inches = (value: unknown, unit?: LengthUnit): number => parseLength("length", value, unit);

describe("parseLength reads every spelling of a length", () => {
  it.each<[string, number]>([
    // feet and inches
    [`24'-6 1/2"`, 294.5],
    [`24' 6.5`, 294.5],
    [`24'6.5"`, 294.5],
    [`24'6`, 294],
    [`24ft 6in`, 294],
    [`24 ft. 6 in.`, 294],
    [`24 feet 6 inches`, 294],
    [`1 foot 1 inch`, 13],
    [`24.5'`, 294],
    [`24 1/2'`, 294],
    [`½'`, 6],
    [`0'-0"`, 0],
    [`0'-0 1/16"`, 0.0625],
    [` 5 ' 6 " `, 66],
    [`5'-`, 60],
    [`2' 3/4`, 24.75],
    // inches
    [`1-7/8`, 1.875],
    [`1 7/8"`, 1.875],
    [`1 - 7/8 in`, 1.875],
    [`5/8`, 0.625],
    [`5 / 8`, 0.625],
    [`15.25`, 15.25],
    [`.5`, 0.5],
    [`5.`, 5],
    [`3/2`, 1.5],
    [`6''`, 6],
    // decimal comma, and thousands that can mean one thing only
    [`15,25`, 15.25],
    [`0,375`, 0.375],
    [`1,234.5`, 1234.5],
    [`1,234,567`, 1234567],
    // fraction characters
    [`½`, 0.5],
    [`1½`, 1.5],
    [`1-½`, 1.5],
    [`5' 6½"`, 66.5],
    [`⅞`, 0.875],
    [`⁵⁄₈`, 0.625],
    [`1⁷⁄₈`, 1.875],
    [`1 ⁷⁄₈`, 1.875],
    [`1 7⁄8`, 1.875],
    [`1 7∕8`, 1.875],
    // curly and prime marks, dashes and spaces of other kinds
    [`24’-6 1/2”`, 294.5],
    [`24‘-6 1/2“`, 294.5],
    [`24′-6 1/2″`, 294.5],
    [`24´ 6`, 294],
    [`24'–6 1/2"`, 294.5],
    [`24'−6"`, 294],
    [`24'\u00a06\u2009in`, 294],
    // metric
    [`622.3 mm`, 24.5],
    [`622.3mm`, 24.5],
    [`62.23cm`, 24.5],
    [`0.6223m`, 24.5],
    [`0.6223 meters`, 24.5],
    [`0.6223 metres`, 24.5],
    [`62.23 centimeters`, 24.5],
    [`622.3 MILLIMETRES`, 24.5],
    // signs: the caller's limits decide
    [`-1 1/2`, -1.5],
    [`−1 1/2`, -1.5],
    [`+5'`, 60],
    [`-0'-0 1/16"`, -0.0625],
  ])("%s", (text, expected) => {
    expect(inches(text)).toBeCloseTo(expected, 12);
  });

  it("a raised fraction after inches of two digits stays a fraction (found: 5' 115/8)", () => {
    expect(inches(`5' 11⁵⁄₈"`)).toBe(71.625);
    expect(inches(`5' 1¹³⁄₁₆"`)).toBe(61.8125);
    expect(inches(`1¹³⁄₁₆`)).toBe(1.8125);
    expect(inches(`5' ¹⁵⁄₁₆`)).toBe(60.9375);
  });

  it("a plain number takes the unit of its column, marked text keeps its own", () => {
    expect(inches(24)).toBe(24);
    expect(inches(24.5, "ft")).toBe(294);
    expect(inches(25.4, "mm")).toBe(1);
    expect(inches("24.5", "ft")).toBe(294);
    expect(inches("25.4", "mm")).toBeCloseTo(1, 12);
    expect(inches(`24"`, "ft")).toBe(24);
    expect(inches(`2'`, "mm")).toBe(24);
    expect(inches("254 mm", "ft")).toBe(10);
  });

  it("is never minus zero", () => {
    for (const zero of [-0, "-0", "-0'", "-0 mm"]) expect(Object.is(inches(zero), 0)).toBe(true);
  });

  it("a five-figure number of millimeters is a wall, not a date", () => {
    expect(inches(12192, "mm")).toBe(480);
  });
});

describe("parseLength adds", () => {
  it.each([
    ["1-1/4 + 5/8", 1.875],
    ["1 1/4+5/8", 1.875],
    [`8' + 1-1/4" + 5/8"`, 97.875],
    ["-1 + 3", 2],
    ["+ 1/2", 0.5],
    ["25.4 mm + 1 in", 2],
  ])("%s", (text, wanted) => {
    expect(inches(text)).toBe(wanted);
  });
  it("each part in the unit of its table", () => {
    expect(parseLength("length", "8 + 6 in", "ft")).toBe(102);
  });
});

describe("totalLength", () => {
  it("adds, and has nothing to say of no lengths", () => {
    expect(totalLength([156, 13.375])).toBe(169.375);
    expectError(() => totalLength([]), "wrong-kind", /^lengths is blank/);
    expectError(() => totalLength([NaN]), "wrong-kind", /^lengths must be a finite number/);
    expectError(() => totalLength([1e308, 1e308]), "wrong-kind", /^the sum of the lengths/);
  });
});

describe("parseLength refuses what is not a length", () => {
  it("a fraction that became a date: says so, and says what to type", () => {
    // 46150 is 2026-05-08, what a sheet makes of a typed 5/8; 39454 is 2008-01-07, of 1-7/8
    expectError(
      () => parseLength("panel", 46150),
      "wrong-kind",
      "panel must be a length; got 46150: it looks like a date: the spreadsheet took a typed 5/8 for one; format the cell as text and type 5/8 (or 0.625)"
    );
    expectError(
      () => parseLength("thickness", 39454),
      "wrong-kind",
      "thickness must be a length; got 39454: it looks like a date: the spreadsheet took a typed 1-7/8 for one; format the cell as text and type 1 7/8 (or 1.875)"
    );
    expectError(() => parseLength("panel", 46150, "ft"), "wrong-kind", /looks like a date/);
  });

  it("a date whose fraction cannot be guessed still says what to type", () => {
    expectError(
      () => inches(45000),
      "wrong-kind",
      /looks like a date.*format the cell as text and type 1 7\/8, or type the decimal 1\.875$/
    );
  });

  it("each side of the date range: 9999 and 100000 are lengths, 10000 and 99999 are not", () => {
    expect(inches(9999)).toBe(9999);
    expect(inches(100_000)).toBe(100_000);
    expectError(() => inches(10_000), "wrong-kind", /looks like a date/);
    expectError(() => inches(99_999), "wrong-kind", /looks like a date/);
    expect(inches(45_000.5)).toBe(45_000.5);
  });

  it.each(["7-Jan", "May-08", "5/8/2026", "2026-05-08", "8.5.2026", "Jan 7"])(
    "a date as text: %s",
    (text) => {
      expectError(() => inches(text), "wrong-kind", /looks like a date/);
    }
  );

  it("a fraction with nothing below the line", () => {
    const message = (text: string): string =>
      `length: "${text}" has a fraction with a zero below the line`;
    expectError(() => inches("1/0"), "out-of-range", message("1/0"));
    expectError(() => inches("5 1/0"), "out-of-range", message("5 1/0"));
    expectError(() => inches("2'-3 1/00"), "out-of-range", message("2'-3 1/00"));
  });

  it("12 inches or more after feet", () => {
    expectError(
      () => inches(`4'-13"`),
      "out-of-range",
      `length: "4'-13"" has 13 in after the feet; inches there must be less than 12`
    );
    expectError(() => inches(`4' 12`), "out-of-range", /12 in after the feet/);
    expect(inches(`4'-11 15/16"`)).toBe(59.9375);
  });

  it("a part of a foot and inches, a fraction of one or more beside a whole number", () => {
    expectError(() => inches(`4.5' 6"`), "out-of-range", /a fraction of a foot and inches/);
    expectError(() => inches(`5 3/2`), "out-of-range", /a fraction of 1 or more/);
    expectError(() => inches(`5 16/16`), "out-of-range", /a fraction of 1 or more/);
  });

  it("one comma before three digits, which could be a thousand or a decimal", () => {
    expectError(
      () => inches("1,234"),
      "out-of-range",
      `length: "1,234" could mean 1234 or 1.234; write it without the comma`
    );
    expectError(() => inches("1,234 mm"), "out-of-range", /could mean 1234 or 1\.234/);
  });

  it("commas where no thousands stand are not a number (found: NaN)", () => {
    for (const text of ["1234,567.5", "0,375.5", "1234,567,890"]) {
      expectError(() => inches(text), "wrong-kind", /must be a length/);
    }
  });

  it.each([
    "ten",
    "--5",
    "1/2/3",
    "1 7-16",
    "5e3",
    "3 yd",
    "12 in 3 ft",
    "1'1'",
    `5'6"½`,
    "½10",
    "5½2",
    "4'½2",
    '1½0"',
    "½.5",
    "⁵⁄₈2",
    "1⅝,5",
    "''",
    '"',
    "NaN",
    "Infinity",
    "=A1",
    "#REF!",
    "24'-6 1/2\" tall",
  ])("text of another kind: %s", (text) => {
    expectError(
      () => inches(text),
      "wrong-kind",
      `length must be a length; got "${text}"; type lengths like 24'-6 1/2", 1-7/8 as text, or 0.625`
    );
  });

  it.each([
    ["24-6", `24'-6"`],
    ["3-0", `3'-0"`],
    [`24 - 6 1/2"`, `24'-6 1/2"`],
    ["24 6", `24'-6"`],
    ["24-6-1/2", `24'-6 1/2"`],
    ["96 + 24-6", `24'-6"`],
  ])("feet without their mark, and asks whether they were meant: %s", (text, meant) => {
    expectError(
      () => inches(text),
      "wrong-kind",
      `length must be a length; got "${text}": did you mean ${meant}?`
    );
  });
  it("13 inches after what may be feet: nothing is likely there", () => {
    expectError(() => inches("24-13"), "wrong-kind", /; type lengths like/);
  });
  it.each(["+", "1 +", "1 + + 2", "1 + -2", "1e+5"])("a sum with nothing to add: %s", (text) => {
    expectError(() => inches(text), "wrong-kind", /^length must be a length; got/);
  });

  it("very long text, named short", () => {
    expectError(
      () => inches("9".repeat(61)),
      "wrong-kind",
      `length must be a length; got "${"9".repeat(37)}..."`
    );
  });

  it("blanks", () => {
    for (const blank of [null, undefined, "", "   "]) {
      expectError(() => inches(blank), "wrong-kind", /^length is blank; type lengths like/);
    }
  });

  it("booleans, ranges, records and numbers that are not finite", () => {
    expectError(() => inches(true), "wrong-kind", /^length must be a length; got TRUE;/);
    expectError(() => inches([1]), "wrong-kind", /got a range/);
    expectError(() => inches({}), "wrong-kind", /got a value of another kind/);
    expectError(() => inches(NaN), "wrong-kind", "length must be a finite number; got NaN");
    expectError(() => inches(-Infinity), "wrong-kind", /must be a finite number; got -Infinity/);
  });
});

describe("feetInches writes a drawing's dimension", () => {
  it.each<[number, number, string]>([
    [294.5, 16, `24'-6 1/2"`],
    [0, 16, `0'-0"`],
    [12, 16, `1'-0"`],
    [0.0625, 16, `0'-0 1/16"`],
    [1.875, 16, `0'-1 7/8"`],
    // carries all the way
    [11 + 31 / 32, 16, `1'-0"`],
    [71 + 31 / 32, 16, `6'-0"`],
    [11 + 31 / 32, 32, `0'-11 31/32"`],
    [11.995, 64, `1'-0"`],
    // reduces
    [0.5, 64, `0'-0 1/2"`],
    [15.25, 2, `1'-3 1/2"`],
    // half away from zero
    [1 / 32, 16, `0'-0 1/16"`],
    [-1 / 32, 16, `-0'-0 1/16"`],
    [-294.5, 16, `-24'-6 1/2"`],
    // nothing left of a small minus
    [-0.001, 16, `0'-0"`],
    [-0, 16, `0'-0"`],
  ])("%d in by 1/%s is %s", (length, denominator, text) => {
    expect(feetInches(length, denominator)).toBe(text);
  });

  it("goes to sixteenths where nothing else is said", () => {
    expect(feetInches(1 / 32)).toBe(`0'-0 1/16"`);
    expect(inchText(1 / 32)).toBe("1/16");
  });

  it("takes halves to sixty-fourths by doubling, and nothing else", () => {
    for (const denominator of [2, 4, 8, 16, 32, 64]) {
      expect(feetInches(1 / denominator, denominator)).toBe(`0'-0 1/${denominator}"`);
    }
    for (const denominator of [1, 3, 10, 15.9, 128, 0, -16]) {
      expectError(
        () => feetInches(1, denominator),
        "out-of-range",
        `denominator must be one of 2, 4, 8, 16, 32, 64; got ${denominator}`
      );
    }
    expectError(() => feetInches(1, NaN), "wrong-kind", /denominator must be a finite number/);
    expectError(() => feetInches(Infinity), "wrong-kind", /length must be a finite number/);
    expectError(
      () => feetInches("24" as unknown as number),
      "wrong-kind",
      `length must be a number; got "24"`
    );
  });
});

describe("lengths too long to write", () => {
  it("writes up to a million inches, to the sixty-fourth, and no further", () => {
    expect(feetInches(1_000_000, 64)).toBe(`83333'-4"`);
    expect(feetInches(999_999 + 63 / 64, 64)).toBe(`83333'-3 63/64"`);
    // a hair over half a sixty-fourth more goes up, a hair under stays
    expect(feetInches(999_999 + 0.5 / 64 + 1e-6, 64)).toBe(`83333'-3 1/64"`);
    expect(feetInches(999_999 + 0.5 / 64 - 1e-6, 64)).toBe(`83333'-3"`);
    for (const write of [feetInches, inchText]) {
      expectError(
        () => write(1_000_000.1),
        "out-of-range",
        "length must be at most 1000000 in; got 1000000.1"
      );
      expectError(
        () => write(-1e308),
        "out-of-range",
        "length must be at least -1000000 in; got -1e+308"
      );
    }
  });

  it("refuses a length that overflows when its unit is changed", () => {
    expect(parseLength("length", 1e308)).toBe(1e308);
    expectError(
      () => parseLength("length", 1e308, "ft"),
      "out-of-range",
      "length is no length; got 1e+308"
    );
  });
});

describe("turning units round", () => {
  it("takes finite numbers, and gives no minus zero", () => {
    expect(feet(96)).toBe(8);
    expect(squareFeet(4608)).toBe(32);
    expect(degreesToRadians(180)).toBe(Math.PI);
    expect(radiansToDegrees(-Math.PI)).toBe(-180);
    expectError(() => feet("8" as never), "wrong-kind", 'length must be a number; got "8"');
    expectError(() => squareFeet(NaN), "wrong-kind", "area must be a finite number; got NaN");
    expectError(() => degreesToRadians(1e7), "out-of-range", /^angle must be at most 1000000; got/);
    expectError(() => radiansToDegrees(-1e7), "out-of-range", /^angle must be at least -1000000;/);
    expectError(() => inchText(1e7), "out-of-range", /^length must be at most 1000000 in; got/);
    expectError(() => inchText(-1e7), "out-of-range", /^length must be at least -1000000 in; got/);
    for (const change of [feet, squareFeet, degreesToRadians, radiansToDegrees]) {
      expect(change(-0)).toBe(0);
      expect(change(-5e-324)).toBe(change === radiansToDegrees ? -2.83e-322 : 0);
      expectError(() => change(NaN), "wrong-kind", /must be a finite number; got NaN$/);
    }
    for (const change of [degreesToRadians, radiansToDegrees]) {
      expectError(() => change(1e7), "out-of-range", "angle must be at most 1000000; got 10000000");
      expectError(() => change(-1e7), "out-of-range", /^angle must be at least -1000000/);
    }
  });
});

describe("inchText writes a tape reading", () => {
  it.each<[number, number, string]>([
    [15.25, 16, "15 1/4"],
    [0.625, 16, "5/8"],
    [0, 16, "0"],
    [12, 16, "12"],
    [-1.5, 16, "-1 1/2"],
    [-0.5, 16, "-1/2"],
    [-0.01, 16, "0"],
    [2.3125, 64, "2 5/16"],
  ])("%d in by 1/%s is %s", (length, denominator, text) => {
    expect(inchText(length, denominator)).toBe(text);
  });

  it("refuses another denominator", () => {
    expectError(() => inchText(1, 10), "out-of-range", /denominator must be one of/);
  });
});
