import { isDateFormat, isTextFormat, isTypedLength } from "../../../src/host/web/typed-length.js";

test.each(["5/8", "1/2", " 3/4 ", "1-7/8", "1 7/8", "24 1/2", "1 - 7/8", "15/32", "63/64"])(
  "%s is a fraction of an inch",
  (text) => {
    expect(isTypedLength(text)).toBe(true);
    // there it is a day
    expect(isTypedLength(text, "m/d/yy")).toBe(false);
  }
);

test.each([
  "24'",
  "6'6",
  "24.5'",
  "-6'",
  " 12' ",
  "24'-1 1/2\"",
  "24’-6 1/2”",
  "24′ 6″",
  '6"',
  '5/8"',
  '½"',
  "6 ' 6",
  // 13 inches after feet: for the functions to refuse in words, not for the grid to make 413 of
  "4'-13",
])("%s has marks of feet or inches and stays, whatever the cell's format", (text) => {
  expect(isTypedLength(text)).toBe(true);
  expect(isTypedLength(text, "0.00")).toBe(true);
  expect(isTypedLength(text, "m/d/yy")).toBe(true);
});

test.each(["10-6", "8-0", "9 - 11"])("%s is feet and inches, not a day of October", (text) => {
  expect(isTypedLength(text)).toBe(true);
  expect(isTypedLength(text, "m-d")).toBe(false);
});

test.each([
  "7/4", // more than one: the seventh of April, or seven quarters
  "16/16",
  "0/8",
  "7/15", // no tape has fifteenths
  "11/25",
  "5/12",
  "5/8/2026",
  "2026-05-08",
  "5-18",
  "10-12", // no twelve inches beside feet
  "24",
  "1.5",
  "1,000",
  "",
  "=5/8",
  '=LEN("24\'")',
  "the crew's",
  "'24",
])("%s is left to the grid", (text) => expect(isTypedLength(text)).toBe(false));

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
