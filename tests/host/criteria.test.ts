/** What counts for COUNTIF, SUMIF and their kin. Expected values counted by hand. */
import { sheet, value } from "./make.js";

const CELLS = {
  A1: "steel",
  A2: "Steel stud",
  A3: 5,
  A4: "5",
  A5: true,
  A6: "",
  A8: "a*b",
  A9: { error: "#N/A" },
  A10: 46000,
  A11: 0.5,
} as const;

test.each([
  ['"steel"', 1],
  ['"STEEL*"', 2],
  ['"?????"', 1],
  ['"a~*b"', 1],
  ['"*"', 5],
  ['"?*"', 4],
  ["5", 2],
  ['"5"', 2],
  ['"=5"', 2],
  ['"<>5"', 9],
  ['">4"', 2],
  ['"<=0.5"', 1],
  ['"50%"', 1],
  ["TRUE", 1],
  ['"TRUE"', 1],
  ['"#N/A"', 1],
  ['""', 2],
  ['"="', 1],
  ['"<>"', 10],
  ['">=12/9/2025"', 1],
  ['"2025-12-09"', 1],
  ['">b"', 2],
])("COUNTIF(A1:A11,%s) is %d", async (criterion, count) => {
  // A7 alone is empty; A6 holds empty text; 46000 is 9 December 2025
  const book = await sheet({ ...CELLS, C1: `=COUNTIF(A1:A11,${criterion})` });
  expect(value(book, "C1")).toBe(count);
});

test("sums, averages, largest and smallest of what meets the criteria", async () => {
  const book = await sheet({
    A1: "x",
    A2: "y",
    A3: "x",
    B1: 1,
    B2: 2,
    B3: 4,
    D1: '=SUMIFS(B1:B3,A1:A3,"x",B1:B3,">1")',
    D2: '=AVERAGEIF(A1:A3,"x",B1:B3)',
    D3: '=MAXIFS(B1:B3,A1:A3,"x")',
    D4: '=MINIFS(B1:B3,A1:A3,"x")',
    D5: '=AVERAGEIF(A1:A3,"z",B1:B3)',
    D6: '=SUMIFS(B1:B3,A1:A2,"x")',
    D7: '=SUM(SUMIF(A1:A3,{"x","y"},B1:B3))',
    D8: '=SUMIF(B1:B3,">1")',
    D9: "=COUNTIF(B1:B3,Z9)",
  });
  expect(book.range("A", "D1:D4").flat()).toEqual([4, 2.5, 4, 1]);
  expect(value(book, "D5")).toMatchObject({ error: "#DIV/0!" });
  expect(value(book, "D6")).toMatchObject({
    error: "#VALUE!",
    message: "the ranges of SUMIFS differ in size",
  });
  expect(book.range("A", "D7:D9").flat()).toEqual([7, 6, 0]);
});

test("a pattern with many stars takes no time worth speaking of", async () => {
  const book = await sheet({ A1: "a".repeat(20000), C1: `=COUNTIF(A1,"${"*a".repeat(40)}*b")` });
  expect(value(book, "C1")).toBe(0);
});
