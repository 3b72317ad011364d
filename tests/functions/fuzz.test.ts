/** Whatever stands in the cells: an answer that is finite, or a cell error with a message. Never a bug. */
import fc from "fast-check";
import { CellError } from "../../src/functions/answer.js";
import { worksheetFunctions } from "../../src/functions/registry.js";
import { CASES, OPENINGS, SETTINGS, WALLS } from "./cases.js";

const SEED = 20261129;

const odd = fc.constantFrom<unknown>(
  null,
  undefined,
  "",
  " ",
  0,
  -0,
  -1,
  1,
  0.5,
  48,
  19.2,
  46219,
  1e9,
  -1e9,
  1e308,
  1e-9,
  NaN,
  Infinity,
  true,
  false,
  "past",
  "left",
  "two-layer",
  "5A",
  "1-7/16",
  "1/0",
  "4'-13\"",
  "7-Jan",
  "1,234",
  "2; 3",
  "none",
  "#N/A",
  "=1+1",
  "__proto__",
  "constructor",
  "\u0000",
  "½",
  "x".repeat(1000),
  {},
  [],
  [[]],
  [[1, 2]],
  [[null]],
  { basicValue: null },
  { basicValue: { basicValue: 5 } },
  { type: "Error", basicValue: "#DIV/0!" }
);

/** Every cell of an answer; text, or a number that is one. */
function checkAnswer(value: unknown): void {
  if (Array.isArray(value)) {
    value.forEach(checkAnswer);
    return;
  }
  if (typeof value === "string") return;
  expect(typeof value).toBe("number");
  expect(Number.isFinite(value)).toBe(true);
  expect(Object.is(value, -0)).toBe(false);
}

function call(work: () => unknown): "answer" | "error" {
  let came: unknown;
  try {
    came = work();
  } catch (error) {
    // a bug is not a cell error: let it show
    if (!(error instanceof CellError)) throw error;
    expect(error.message.length).toBeGreaterThan(5);
    expect(error.message).not.toMatch(/undefined|\[object|NaN in/);
    return "error";
  }
  checkAnswer(came);
  return "answer";
}

it.each(worksheetFunctions.map((each) => [each.name, each] as const))(
  "%s with one or two odd arguments",
  (name, { call: run }) => {
    const usual = CASES[name]?.args ?? [];
    if (usual.length === 0) return;
    const at = fc.nat({ max: usual.length - 1 });
    fc.assert(
      fc.property(at, odd, at, odd, (first, one, second, other) => {
        const args = usual.map((each, index) =>
          index === first ? one : index === second ? other : each
        );
        call(() => run(...args));
      }),
      { seed: SEED, numRuns: 60 }
    );
  }
);

it("houses with odd cells anywhere in their tables", () => {
  const house = worksheetFunctions.filter((each) =>
    /^HOUSE_(ORDER|CHECKS|PIECES)$/.test(each.name)
  );
  const header = [...(WALLS[0] as string[]), "Right height", "Peak height", "Peak at", "Below"];
  const more = [
    ...header,
    "Block line",
    "Spacing",
    "From",
    "Next wall",
    "Edge nailing",
    "Quantity",
  ];
  const walls = [
    more,
    ["A", 144, 96, "past", "flush", "", "", "", 12, "", 16, "left", "B", 6, 1],
    ["B", 96, 96, "past", "short", 120, "", "", 12, "", 16, "", "", "", ""],
    ["C", 120, 60, "tight", "flush", "", 100, 60, 0, "none", 24, "right", "A", "", ""],
  ];
  const settings = [...SETTINGS, ["Block line", 10], ["Tape widths", "3; 6"], ["Panel gap", 0]];
  const tables: readonly (readonly unknown[][])[] = [walls, OPENINGS, settings];
  let answers = 0;
  const place = fc.tuple(fc.nat({ max: 2 }), fc.nat({ max: 9 }), fc.nat({ max: 20 }), odd);
  // a quantity is a count of walls: a large one is a large house, not an odd one
  const isLarge = (value: unknown): boolean => typeof value === "number" && value > 1000;
  fc.assert(
    fc.property(fc.array(place, { minLength: 1, maxLength: 3 }), (places) => {
      const odded = tables.map((table) => table.map((row) => [...row]));
      for (const [table, row, column, value] of places) {
        if (isLarge(value)) continue;
        const rows = odded[table] as unknown[][];
        const cells = rows[row % rows.length] as unknown[];
        cells[column % cells.length] = value;
      }
      for (const { call: run } of house) {
        if (call(() => run(...odded)) === "answer") answers++;
      }
    }),
    { seed: SEED, numRuns: 150 }
  );
  expect(answers).toBeGreaterThan(30);
});

it("tables of any shape", () => {
  const table = fc.array(fc.array(odd, { maxLength: 4 }), { maxLength: 4 });
  const check = worksheetFunctions.find((each) => each.name === "HOUSE_CHECKS");
  fc.assert(
    fc.property(table, table, table, (walls, openings, settings) => {
      call(() => check?.call(walls, openings, settings));
      call(() => check?.call(WALLS, openings, settings));
      call(() => check?.call(WALLS, OPENINGS, settings));
    }),
    { seed: SEED, numRuns: 150 }
  );
});
