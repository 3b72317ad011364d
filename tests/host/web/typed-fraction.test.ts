import {
  isDateFormat,
  isTextFormat,
  isTypedFraction,
} from "../../../src/host/web/typed-fraction.js";

test.each(["5/8", "1/2", " 3/4 ", "1-7/8", "1 7/8", "24 1/2", "1 - 7/8", "15/32", "63/64"])(
  "%s is a fraction of an inch",
  (text) => expect(isTypedFraction(text)).toBe(true)
);

test.each([
  "7/4", // more than one: the seventh of April, or seven quarters
  "16/16",
  "0/8",
  "7/15", // no tape has fifteenths
  "11/25",
  "5/12",
  "5/8/2026",
  "2026-05-08",
  "5-8",
  "1.5",
  "",
  "=5/8",
  "5/8 in",
  "24'-6 1/2\"",
])("%s is left to the grid", (text) => expect(isTypedFraction(text)).toBe(false));

test("a format for days or hours keeps its dates", () => {
  for (const format of ["m/d/yy", "yyyy-mm-dd", "d mmm", "h:mm", "[h]:mm"]) {
    expect(isDateFormat(format)).toBe(true);
  }
  for (const format of [
    undefined,
    "General",
    "0.00",
    "# ?/16",
    '0 "days"',
    "@",
    "#,##0",
    "[Red]0",
  ]) {
    expect(isDateFormat(format)).toBe(false);
  }
});

test("a cell formatted as text is known, as the file and as the grid write it", () => {
  expect(["@", "@@@"].map(isTextFormat)).toEqual([true, true]);
  expect([undefined, "General", "0.00", '0"@"'].map(isTextFormat)).toEqual(Array(4).fill(false));
});
