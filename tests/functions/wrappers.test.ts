/** Every worksheet function as a host calls it: usual, blank, wrong kind, out of range, as ranges. */
import { CellError } from "../../src/functions/answer.js";
import { type RegisteredFunction, worksheetFunctions } from "../../src/functions/registry.js";
import { CASES, type WrapperCase } from "./cases.js";

const all = worksheetFunctions.map((each) => [each.name, each, CASES[each.name]] as const);
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

it("every registered function has a case here, and every case is registered", () => {
  expect(Object.keys(CASES).sort()).toEqual(worksheetFunctions.map((each) => each.name).sort());
  expect(worksheetFunctions.length).toBeGreaterThanOrEqual(45);
});

describe.each(all)("%s", (_name, entry, found) => {
  const { args, needed, answer, outside, beyond, hasOtherValues } = found as WrapperCase;
  const { call, parameters } = entry as RegisteredFunction;
  const withArgument = (index: number, value: unknown): unknown[] =>
    args.map((each, at) => (at === index ? value : each));
  const scalars = parameters
    .map((parameter, index) => ({ parameter, index }))
    .filter(({ parameter, index }) => !parameter.matrix && index < args.length);

  it("answers the usual call", () => {
    expect(call(...args)).toEqual(answer);
  });

  it("takes as many needed arguments as its help says", () => {
    const needs = parameters.filter((each) => !each.optional && !each.matrix).length;
    const tables = parameters.filter((each) => each.matrix && each.name === "walls").length;
    expect(needed).toBe(needs + tables);
  });

  it("a left-out, null or empty optional argument is its default", () => {
    const whole = call(...args);
    const optional = parameters.findIndex((each) => each.optional);
    if (optional < 0) return;
    for (let count = Math.max(needed, optional); count <= args.length; count++) {
      const base = call(...args.slice(0, count));
      if (!hasOtherValues) expect(base).toEqual(whole);
      for (const blank of BLANKS) {
        const filled = [...args.slice(0, count), ...args.slice(count).map(() => blank)];
        expect(call(...filled)).toEqual(base);
      }
    }
  });

  it("a blank needed argument is an error that names it", () => {
    for (const { parameter, index } of scalars.filter((each) => !each.parameter.optional)) {
      for (const blank of BLANKS) {
        const error = cellError(() => call(...withArgument(index, blank)));
        expect(error.code).toMatch(/^#(VALUE!|N\/A)$/);
        expect(error.message).toContain(parameter.name);
        expect(error.message).toContain("blank");
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

  it("a wider range, a boolean or another kind of cell is #VALUE! and names the argument", () => {
    for (const { parameter, index } of scalars) {
      for (const wrong of [[[1, 2]], [[1], [2]], { type: "Error" }, true]) {
        const error = cellError(() => call(...withArgument(index, wrong)));
        if (wrong !== true) expect(error.code).toBe("#VALUE!");
        expect(error.message).toMatch(new RegExp(parameter.name.replaceAll("_", "[_ ]"), "i"));
      }
    }
  });

  if (outside) {
    it("an argument outside its limits is #VALUE! with the rule", () => {
      const error = cellError(() => call(...outside[0]));
      expect(error.code).toBe("#VALUE!");
      expect(error.message).toMatch(outside[1]);
    });
  }
  if (beyond) {
    it("what no rule or table reaches is #N/A with the reason", () => {
      const error = cellError(() => call(...beyond[0]));
      expect(error.code).toBe("#N/A");
      expect(error.message).toMatch(beyond[1]);
    });
  }

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
});
