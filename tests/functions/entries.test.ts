/** Every worksheet function as a host calls it, by its entry: usual, blank, wrong kind, outside its limits, as ranges. */
import { CellError } from "../../src/worksheet/answer.js";
import type { Argument, Entry } from "../../src/worksheet/entry.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import * as library from "../../src/index.js";
import { exampleCalls } from "../../src/tools/example-calls.js";

const examples = exampleCalls();
const all = worksheetFunctions.map((each) => [each.name, each] as const);
const BLANKS = [undefined, null, ""];

function cellError(work: () => unknown): CellError {
  let came: unknown;
  try {
    came = work();
  } catch (error) {
    if (error instanceof CellError) return error;
    throw error;
  }
  throw new Error(`expected a cell error; got ${JSON.stringify(came)}`);
}

/** The argument by its name, as messages write it. */
function named({ name }: Argument): RegExp {
  return new RegExp(name.replaceAll("_", "[_ ]"), "i");
}

/** Numbers just past each limit of an argument. */
function outside({ within = {} }: Argument): number[] {
  const { above, min, below, max, whole } = within;
  return [
    ...(above === undefined ? [] : [above]),
    ...(min === undefined ? [] : [min - 1e-3]),
    ...(below === undefined ? [] : [below]),
    ...(max === undefined ? [] : [max + 1e-3]),
    ...(whole ? [1.5] : []),
  ];
}

it("every function has an example that calls it", () => {
  expect([...examples.keys()].sort()).toEqual(worksheetFunctions.map(({ name }) => name).sort());
  expect(new Set(examples.keys()).size).toBe(worksheetFunctions.length);
});

it("what answers is what the library hands out", () => {
  const handedOut = new Set<unknown>(Object.values(library));
  const own = worksheetFunctions.filter(({ core }) => !handedOut.has(core));
  // its answer is no function of the core
  expect(own.map(({ name }) => name)).toEqual(["VERSION"]);
});

describe.each(all)("%s", (name, entry: Entry) => {
  const { call, parameters } = entry;
  const args = examples.get(name) as readonly unknown[];
  const withArgument = (index: number, value: unknown): unknown[] =>
    args.map((each, at) => (at === index ? value : each));
  const places = parameters.map((parameter, index) => ({ parameter, index }));
  const scalars = places.filter(({ parameter }) => !parameter.matrix);

  it("takes a left-out, null or empty optional argument for its default", () => {
    for (const { parameter, index } of places.filter((each) => each.parameter.optional)) {
      const left = call(...withArgument(index, null));
      for (const blank of BLANKS) expect(call(...withArgument(index, blank))).toEqual(left);
      const { fallback } = parameter;
      if (fallback === undefined) continue;
      const given = Array.isArray(fallback) ? [fallback] : fallback;
      expect(call(...withArgument(index, given))).toEqual(left);
    }
    const needed = parameters.filter((each) => !each.optional).length;
    const blanks = Array<null>(parameters.length - needed).fill(null);
    const short = args.slice(0, needed);
    expect(call(...short)).toEqual(call(...short, ...blanks));
  });

  it("a blank needed argument is an error that names it", () => {
    for (const { parameter, index } of scalars.filter((each) => !each.parameter.optional)) {
      for (const blank of BLANKS) {
        const error = cellError(() => call(...withArgument(index, blank)));
        expect(error.code).toMatch(/^#(VALUE!|N\/A)$/);
        expect(error.message).toMatch(named(parameter));
        expect(error.message).toContain("blank");
      }
    }
  });

  it("an argument outside its limits is #VALUE! and names it", () => {
    for (const { parameter, index } of scalars) {
      for (const value of outside(parameter)) {
        const error = cellError(() => call(...withArgument(index, value)));
        expect(error.code).toBe("#VALUE!");
        expect(error.message).toMatch(named(parameter));
      }
    }
  });

  it("a range of one cell, a list of one, and a value in a host's wrapping are the value", () => {
    const whole = call(...args);
    for (const { index } of scalars) {
      const value = args[index];
      for (const shape of [[[value]], [value], { basicValue: value }, [[{ basicValue: value }]]]) {
        expect(call(...withArgument(index, shape))).toEqual(whole);
      }
    }
    const wrapped = args.map((each) =>
      Array.isArray(each)
        ? each.map((row: unknown[]) => row.map((cell) => ({ type: "Any", basicValue: cell })))
        : { basicValue: each }
    );
    expect(call(...wrapped)).toEqual(whole);
  });

  it("a wider range or another kind of cell is #VALUE! and names the argument", () => {
    for (const { parameter, index } of scalars) {
      const isFlag = typeof parameter.fallback === "boolean";
      for (const wrong of [[[1, 2]], [[1], [2]], { type: "Error" }, isFlag ? 5 : true]) {
        const error = cellError(() => call(...withArgument(index, wrong)));
        if (wrong !== true) expect(error.code).toBe("#VALUE!");
        expect(error.message).toMatch(named(parameter));
      }
    }
  });

  it("leaves its arguments as they were, and answers no NaN, infinity or minus zero", () => {
    const before = JSON.stringify(args);
    const visit = (value: unknown): void => {
      if (Array.isArray(value)) value.forEach(visit);
      else if (typeof value === "number") {
        expect(Number.isFinite(value)).toBe(true);
        expect(Object.is(value, -0)).toBe(false);
      } else expect(typeof value).toBe("string");
    };
    visit(call(...args));
    expect(JSON.stringify(args)).toBe(before);
  });

  it("spills rows of one width, or answers one cell, as its help says", () => {
    const came = call(...args);
    expect(Array.isArray(came)).toBe(entry.spills);
    if (!Array.isArray(came)) return;
    const rows = came as unknown[][];
    expect(new Set(rows.map((row) => row.length)).size).toBe(1);
    expect(rows.length).toBeGreaterThan(0);
  });

  it("does not mind what a host hands over after its arguments", () => {
    if (parameters.at(-1)?.repeats) return;
    expect(call(...args, { address: "Sheet1!A1" })).toEqual(call(...args));
  });
});
