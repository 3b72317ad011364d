/** Tables saved as text by a spreadsheet: separators, quotes, line ends. */
import { readCsv } from "../../src/cli/csv-read.js";
import { csvText } from "../../src/cli/csv.js";

test.each([
  [
    "a,b\r\n1,2.5\r\n",
    [
      ["a", "b"],
      [1, 2.5],
    ],
  ],
  [
    "\ufeffa;b\n1,5;x",
    [
      ["a", "b"],
      ["1,5", "x"],
    ],
  ],
  [
    "a\tb\r-1\t",
    [
      ["a", "b"],
      [-1, null],
    ],
  ],
  [
    '"a ""x""","b,\nc"\n"7",7\n',
    [
      ['a "x"', "b,\nc"],
      ["7", 7],
    ],
  ],
  [
    '"1,2,3";b\nx;y',
    [
      ["1,2,3", "b"],
      ["x", "y"],
    ],
  ],
  ["", []],
  ['""', [[null]]],
  ['"open', [["open"]]],
  ['2"x4",3', [['2"x4"', 3]]],
])("%j is %j", (text, rows) => expect(readCsv(text)).toEqual(rows));

test("reads back what this project writes", () => {
  const rows = [
    ["Item", "Size", "Price"],
    ["Tape", '3 in "wide", red', 30.5],
    ["Nails\nlong", " 3 in ", -2],
  ];
  expect(readCsv(csvText(rows))).toEqual(rows);
});
