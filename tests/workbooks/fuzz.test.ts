/** A whole workbook with anything at all in its cells: every cell ends as a value or a named error, and it can be saved. */
import fc from "fast-check";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import {
  cellAddress,
  isCellError,
  openWorkbook,
  parseArea,
  type CellValue,
  type Workbook,
} from "../../src/host/engine/index.js";
import { cases, tallyOf, writeTallies } from "../functions/any-value.js";
import { sampleBytes } from "./open.js";

const SEED = 20261202;
const SHEETS = ["Setup", "Walls", "Openings"] as const;
/** What a calculation can come to, apart from a value. */
const CODES = /^#(?:VALUE!|N\/A|REF!|NAME\?|DIV\/0!|NUM!|NULL!|SPILL!|CALC!)$/;

/** What a cell of a file can hold: numbers, dates, booleans, texts, errors, formulas of every outcome. */
const CELLS: readonly CellValue[] = [
  null,
  "",
  " ",
  0,
  1,
  -1,
  5e-324,
  -5e-324,
  1e-9,
  48,
  46150,
  46150.5,
  2_958_466,
  1e9,
  1e15,
  1e308,
  -1e308,
  1.7976931348623157e308,
  true,
  false,
  "past",
  "left",
  "7-Jan",
  "1-7/8",
  "½",
  "1e999",
  "2; 3",
  "none",
  "__proto__",
  "<script>alert(1)</script>",
  "'=1+1",
  "@SUM(1)",
  "\ud800",
  "\u0001",
  "名前",
  "x".repeat(32_767),
  { error: "#N/A" },
  { error: "#REF!" },
  { error: "#DIV/0!" },
  "=1/0",
  "=NA()",
  "=1E308*10",
  "=-0",
  "=5E-324/2",
  '="text"&1',
  "=TRUE",
  "=TODAY()",
  "=SEQUENCE(3,2)",
  "=A1",
  "=SHEATH.INCHES(1/0)",
  "=SHEATH.NO_SUCH(1)",
  '=INDIRECT("A1")',
  "=(",
];

function checkCells(book: Workbook): void {
  for (const sheet of book.sheetNames) {
    const used = book.usedRange(sheet);
    if (used === undefined) continue;
    for (const value of book.range(sheet, used).flat()) {
      if (typeof value === "number") {
        if (!Number.isFinite(value)) throw new Error(`a cell of ${sheet} holds ${value}`);
        if (Object.is(value, -0)) throw new Error(`a cell of ${sheet} holds minus zero`);
      } else if (isCellError(value)) expect(value.error).toMatch(CODES);
      else if (value !== null) expect(["string", "boolean"]).toContain(typeof value);
    }
  }
}

afterAll(writeTallies);

it("the template with anything in the cells of Setup, Walls and Openings", () => {
  const bytes = sampleBytes("house-template.xlsx");
  const areas = SHEETS.map((sheet) => {
    const used = openWorkbook(bytes, worksheetFunctions).usedRange(sheet) ?? "A1";
    return { sheet, ...(parseArea(used) as { bottom: number; right: number }) };
  });
  const tally = tallyOf("a whole workbook, three to sixteen cells of any kind");
  const place = fc.record({
    area: fc.constantFrom(...areas),
    // most of a table is its first rows
    row: fc.oneof(fc.nat({ max: 8 }), fc.nat({ max: 89 })),
    column: fc.oneof(fc.nat({ max: 11 }), fc.nat({ max: 59 })),
    value: fc.oneof(
      { weight: 5, arbitrary: fc.constantFrom(...CELLS) },
      { weight: 1, arbitrary: fc.double({ noNaN: true, noDefaultInfinity: true }) },
      { weight: 1, arbitrary: fc.string({ maxLength: 12, unit: "binary" }) }
    ),
  });
  fc.assert(
    fc.property(fc.array(place, { minLength: 3, maxLength: 16 }), (places) => {
      const book = openWorkbook(bytes, worksheetFunctions);
      for (const { area, row, column, value } of places) {
        const address = cellAddress((row % area.bottom) + 1, (column % area.right) + 1);
        book.setCell(area.sheet, address, value);
      }
      const { errors } = book.recalculate();
      checkCells(book);
      for (const each of errors) expect(each.code).toMatch(CODES);
      if (errors.length > 0) tally.errors++;
      else tally.answers++;
      // what is saved opens again and says the same
      const again = openWorkbook(book.toBytes(), worksheetFunctions);
      checkCells(again);
    }),
    { seed: SEED, numRuns: cases(8) }
  );
  expect(tally.answers + tally.errors).toBe(cases(8));
}, 900_000);
