/** How cells and sheets are spelled, in one place for the engine, the add-in and the templates. */
import { columnLetters, columnNumber, sheetPrefix } from "../../src/core/cell-address.js";
import { openWorkbook } from "../../src/host/engine/index.js";
import { file } from "./make.js";

test.each([
  [1, "A"],
  [26, "Z"],
  [27, "AA"],
  [702, "ZZ"],
  [703, "AAA"],
  [16384, "XFD"],
])("column %d is %s", (column, letters) => {
  expect(columnLetters(column)).toBe(letters);
  expect(columnNumber(letters)).toBe(column);
});

test.each(["Walls", "_notes", "Lot_12", "ROOF", "CR", "R1C1x", "TRUELY", "XFE1", "A1048577"])(
  "the sheet %s needs no quotes",
  (name) => expect(sheetPrefix(name)).toBe(`${name}!`)
);

/** Cells of two notations, their parts, booleans, digits first, and whatever is not a word. */
const QUOTED = [
  "LOT12",
  "a1",
  "XFD1048576",
  "R1C1",
  "r12c3",
  "R1C",
  "RC1",
  "RC",
  "rc",
  "R",
  "C",
  "c",
  "R2",
  "C7",
  "TRUE",
  "false",
  "12",
  "2nd floor",
  "1E5",
  "3_walls",
  "My order",
  "Lot-12",
  "Über",
  "",
];
test.each(QUOTED)("the sheet %j stands in quotes", (name) => {
  expect(sheetPrefix(name)).toBe(`'${name}'!`);
});

test("a quote in a name is doubled", () => {
  expect(sheetPrefix("Ann's lot")).toBe("'Ann''s lot'!");
});

test("a formula that names such sheets is read as it was meant", async () => {
  const names = QUOTED.filter((name) => name !== "" && !/^(?:rc|c)$/.test(name));
  const sheets = Object.fromEntries(names.map((name, index) => [name, { B2: index + 1 }]));
  const sum = `=${names.map((name) => `${sheetPrefix(name)}B2`).join("+")}`;
  const book = openWorkbook(await file({ Sum: { A1: sum }, ...sheets }), []);
  book.recalculate();
  expect(book.cell("Sum", "A1").value).toBe((names.length * (names.length + 1)) / 2);
});
