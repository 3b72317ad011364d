/** Whatever stands in the cells: an answer that is finite, or a cell error with a message. Never a bug. */
import fc from "fast-check";
import { ASSEMBLY } from "../assembly.js";
import { settingList } from "../../src/core/house/settings.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import {
  ODDITIES,
  EXTREMES,
  anyValue,
  cases,
  outcomeOf,
  tallyOf,
  writeTallies,
} from "./any-value.js";
import { exampleCalls } from "../../src/tools/example-calls.js";
import { OPENINGS, SETTINGS, WALLS } from "./house-tables.js";

const SEED = 20261129;

const functions = worksheetFunctions.map((each) => [each.name, each] as const);

afterAll(writeTallies);

const usualCalls = exampleCalls();
const usualOf = (name: string): readonly unknown[] => usualCalls.get(name) ?? [];

/** Functions of whole tables work longest. */
const houses = new Set(worksheetFunctions.filter(({ house }) => house).map(({ name }) => name));
const isHouse = (name: string): boolean => houses.has(name);

it.each(functions)("%s with one or two odd arguments", (name, { call: run }) => {
  const usual = usualOf(name);
  if (usual.length === 0) return;
  const at = fc.nat({ max: usual.length - 1 });
  const tally = tallyOf("a worksheet function, one or two arguments of any kind");
  fc.assert(
    fc.property(at, anyValue, at, anyValue, (first, one, second, other) => {
      const args = usual.map((each, index) =>
        index === first ? one : index === second ? other : each
      );
      outcomeOf(() => run(...args), tally);
    }),
    { seed: SEED, numRuns: cases(isHouse(name) ? 60 : 200) }
  );
});

it.each(functions)("%s with more or fewer arguments, all of any kind", (_name, { call: run }) => {
  const tally = tallyOf("a worksheet function, every argument of any kind");
  fc.assert(
    fc.property(fc.array(anyValue, { maxLength: 14 }), (args) => {
      outcomeOf(() => run(...args), tally);
    }),
    { seed: SEED, numRuns: cases(60) }
  );
});

/** Of the size of the usual argument, or a number at the ends of what a computer holds. */
function numberLike(usual: unknown): fc.Arbitrary<unknown> {
  const near = typeof usual === "number" && usual !== 0 ? Math.abs(usual) : 10;
  return fc.oneof(
    { weight: 8, arbitrary: fc.constant(usual) },
    { weight: 3, arbitrary: fc.constantFrom<unknown>(...EXTREMES) },
    { weight: 2, arbitrary: fc.double({ min: 0, max: near * 3, noNaN: true }) },
    { weight: 1, arbitrary: fc.double() }
  );
}

it.each(functions.filter(([name]) => !isHouse(name) && usualOf(name).length > 0))(
  "%s with numbers at the ends of what a computer holds",
  (name, { call: run }) => {
    const all = fc.tuple(...usualOf(name).map(numberLike));
    const tally = tallyOf("a worksheet function, extreme numbers in any of its arguments");
    fc.assert(
      fc.property(all, (args) => {
        outcomeOf(() => run(...args), tally);
      }),
      { seed: SEED, numRuns: cases(400) }
    );
  }
);

describe("houses", () => {
  const walls = [
    [
      ...(WALLS[0] as string[]),
      "Right height",
      "Peak height",
      "Peak at",
      "Below",
      "Block line",
      "Spacing",
      "From",
      "Next wall",
      "Edge nailing",
      "Field nailing",
      "Quantity",
      "Bottom seam",
    ],
    ["A", 144, 96, "past", "flush", "", "", "", 12, "", 16, "left", "B", 6, 12, 1, "no"],
    ["B", 96, 96, "past", "short", 120, "", "", 12, "", 16, "", "", "", "", "", ""],
    ["C", 120, 60, "tight", "flush", "", 100, 60, 0, "none", 24, "right", "A", "", "", "", "yes"],
  ];
  const settings = [
    ["Setting", "Value"],
    ...ASSEMBLY,
    ...settingList()
      .filter(({ label }) => !/^(Foam|Panel) \(in\)$/.test(label))
      .map(({ label, fallback }) => [label, fallback]),
  ];
  const tables: readonly (readonly unknown[][])[] = [walls, OPENINGS, settings];

  // a quantity is a count of walls: a large one is a large house, not an odd one
  const isLarge = (value: unknown): boolean => typeof value === "number" && value > 1000;

  function withCells(places: readonly (readonly [number, number, number, unknown])[]): unknown[] {
    const odded = tables.map((table) => table.map((row) => [...row]));
    for (const [table, row, column, value] of places) {
      if (table === 0 && isLarge(value)) continue;
      const rows = odded[table] as unknown[][];
      const cells = rows[row % rows.length] as unknown[];
      cells[column % cells.length] = value;
    }
    return odded;
  }

  it("the tables as they are have an order", () => {
    const order = worksheetFunctions.find((each) => each.name === "HOUSE_ORDER");
    expect(outcomeOf(() => order?.call(...tables))).toBe("answer");
  });

  it("odd cells anywhere in their tables, headers and names included", () => {
    const house = worksheetFunctions.filter((each) =>
      /^HOUSE_(ORDER|CHECKS|PIECES|WALLS|CUTS)$/.test(each.name)
    );
    const marks = worksheetFunctions.find((each) => each.name === "HOUSE_MARKS");
    const tally = tallyOf("a house function, one to three cells of its tables of any kind");
    const place = fc.tuple(
      fc.nat({ max: 2 }),
      fc.nat({ max: 79 }),
      fc.nat({ max: 79 }),
      fc.constantFrom(...ODDITIES, ...EXTREMES)
    );
    let answers = 0;
    fc.assert(
      fc.property(fc.array(place, { minLength: 1, maxLength: 3 }), (places) => {
        const odded = withCells(places);
        for (const { call: run } of house) {
          if (outcomeOf(() => run(...odded), tally) === "answer") answers++;
        }
        outcomeOf(() => marks?.call("C", ...odded), tally);
      }),
      { seed: SEED, numRuns: cases(120) }
    );
    expect(answers).toBeGreaterThan(30);
  });

  it("every setting with every odd value and every extreme number", () => {
    const order = worksheetFunctions.find((each) => each.name === "HOUSE_ORDER");
    const check = worksheetFunctions.find((each) => each.name === "HOUSE_CHECKS");
    const tally = tallyOf("a house function, one setting of any kind");
    const values = [...ODDITIES, ...EXTREMES];
    const all = settingList().flatMap(({ label }) =>
      values.map((value) => [label, value] as const)
    );
    // every one of them in a long run; a fixed share of them in a short one
    const step = Math.max(1, Math.round(8 / Number(process.env.FUZZ_TIMES ?? 1)));
    for (let index = 0; index < all.length; index += step) {
      const one = [...SETTINGS, all[index]];
      outcomeOf(() => order?.call(WALLS, OPENINGS, one), tally);
      outcomeOf(() => check?.call(WALLS, OPENINGS, one), tally);
    }
    expect(tally.answers).toBeGreaterThan(50);
    expect(tally.errors).toBeGreaterThan(50);
  });

  it("tables of any shape", () => {
    const table = fc.oneof(
      fc.array(fc.array(anyValue, { maxLength: 4 }), { maxLength: 4 }),
      anyValue
    );
    const check = worksheetFunctions.find((each) => each.name === "HOUSE_CHECKS");
    const tally = tallyOf("a house function, tables of any shape");
    fc.assert(
      fc.property(table, table, table, (some, openings, given) => {
        outcomeOf(() => check?.call(some, openings, given), tally);
        outcomeOf(() => check?.call(WALLS, openings, given), tally);
        outcomeOf(() => check?.call(WALLS, OPENINGS, given), tally);
      }),
      { seed: SEED, numRuns: cases(150) }
    );
  });
});
