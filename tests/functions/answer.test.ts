/** Errors of the core become cell errors of whichever host is there; bugs stay bugs. */
import { CalcError } from "../../src/core/check.js";
import { CellError, answer, cellCode } from "../../src/worksheet/answer.js";
import { lengthOf, plain, tableOf } from "../../src/worksheet/arguments.js";
import { houseOf } from "../../src/worksheet/house-cache.js";
import { tidy } from "../../src/worksheet/entry.js";
import { call } from "./call.js";
import { OPENINGS, SETTINGS, WALLS } from "./house-tables.js";

class HostError extends Error {
  constructor(
    readonly code: string,
    message: string
  ) {
    super(message);
  }
}
const host = globalThis as { CustomFunctions?: unknown };
afterEach(() => {
  delete host.CustomFunctions;
});

describe("without a host", () => {
  it("bad input is #VALUE!, what no table reaches is #N/A, with the message", () => {
    expect(cellCode("wrong-kind")).toBe("#VALUE!");
    expect(cellCode("out-of-range")).toBe("#VALUE!");
    expect(cellCode("not-covered")).toBe("#N/A");
    expect(() => call("STOCK_NAIL", 0)).toThrow(CellError);
    expect(() => call("STOCK_NAIL", 9)).toThrow(
      expect.objectContaining({ code: "#N/A", message: expect.stringMatching(/^no stocked nail/) })
    );
  });
  it("any other exception is a bug and stays one", () => {
    const bug = new TypeError("a bug");
    expect(() =>
      answer(() => {
        throw bug;
      })
    ).toThrow(bug);
  });
  it("an answer is passed on as it is", () => {
    expect(answer(() => 0)).toBe(0);
    expect(call("VERSION")).toMatch(/^\d/);
  });
});

describe("inside a host", () => {
  beforeEach(() => {
    host.CustomFunctions = {
      Error: HostError,
      ErrorCode: { invalidValue: "#VALUE!-host", notAvailable: "#N/A-host" },
    };
  });
  it("the host's own error class is thrown with the host's own code and our message", () => {
    expect(() => call("STOCK_NAIL", 0)).toThrow(HostError);
    expect(() => call("STOCK_NAIL", 0)).toThrow(
      expect.objectContaining({
        code: "#VALUE!-host",
        message: "length must be more than 0 in; got 0",
      })
    );
    expect(() => call("STOCK_NAIL", 9)).toThrow(expect.objectContaining({ code: "#N/A-host" }));
    expect(() => call("WALL_U_LIMIT", "12")).toThrow(HostError);
  });
  it("a CalcError of another realm is one all the same", () => {
    const foreign = { name: "CalcError", code: "not-covered", message: "beyond the table" };
    expect(() =>
      answer(() => {
        throw foreign;
      })
    ).toThrow(expect.objectContaining({ code: "#N/A-host", message: "beyond the table" }));
  });
  it("a host that is only half there falls back to our own error", () => {
    host.CustomFunctions = { associate: () => undefined };
    expect(() => call("STOCK_NAIL", 0)).toThrow(CellError);
  });
});

describe("what hosts send", () => {
  it("is made plain", () => {
    expect(plain(5)).toBe(5);
    expect(plain(undefined)).toBeNull();
    expect(plain([["a"]])).toBe("a");
    expect(plain({ basicValue: { basicValue: 5 } })).toBe(5);
    expect(plain([[null]])).toBeNull();
    expect(() => plain([1, 2])).toThrow(CalcError);
    expect(() => plain(() => 5)).toThrow(/a plain value was expected/);
  });
  it("errors in a range are named by row and column", () => {
    expect(() => tableOf("walls", [["Wall"], [{ type: "Error" }]])).toThrow(
      "walls row 2, column 1: a plain value was expected; got an error or another kind of cell"
    );
  });
  it("one cell is a range of one, a column of bare values a column", () => {
    expect(tableOf("walls", 5)).toEqual([[5]]);
    expect(tableOf("walls", null)).toEqual([[null]]);
    expect(tableOf("walls", [1, 2])).toEqual([[1], [2]]);
  });
  it("stock may be a row, a column, a cell of text, with blanks between", () => {
    expect(call("STOCK_NAIL", 2.6, [[2, 3]])).toBe(3);
    expect(call("STOCK_NAIL", 2.6, [[2], [null as never], [3]])).toBe(3);
    expect(call("STOCK_NAIL", 2.6, "2; 2-3/4; 3")).toBe(2.75);
    expect(call("STOCK_NAIL", 2.6, [["2-3/4", "3"]])).toBe(2.75);
    expect(call("STOCK_NAIL", 2.6, [[""]])).toBe(3);
    expect(() => call("STOCK_NAIL", 2.6, [["long"]])).toThrow(
      /^stock must be a length; got "long"/
    );
  });
  it("a number that was typed as a fraction and became a date says so", () => {
    expect(() => lengthOf("panel", [[46150]])).toThrow(
      /^panel must be a length.*looks like a date/
    );
  });
  it("tidy takes off the noise of binary sums and no more", () => {
    expect(tidy(0.1 + 0.2)).toBe(0.3);
    expect(tidy(14.125)).toBe(14.125);
    expect(Object.is(tidy(-1e-12), 0)).toBe(true);
  });
});

describe("the house kept between cells of one recalculation", () => {
  it("is the same object for the same ranges and another for others", () => {
    const one = houseOf(WALLS, OPENINGS, SETTINGS);
    expect(houseOf(structuredClone(WALLS), OPENINGS, SETTINGS)).toBe(one);
    const longer = houseOf(
      [WALLS[0] as string[], ["A", "13'", 96, "free", "free"]],
      OPENINGS,
      SETTINGS
    );
    expect(longer).not.toBe(one);
    expect(longer.walls[0]?.lengthIn).toBe(156);
    expect(houseOf(WALLS, [[null]], SETTINGS).openings).toEqual([]);
    expect(
      houseOf(WALLS, OPENINGS, [
        ["Foam", 2],
        ["Panel", 0.5],
      ]).settings.foamIn
    ).toBe(2);
  });
  it("forgets the oldest of many, and answers the same when asked again", () => {
    const one = houseOf(WALLS, OPENINGS, SETTINGS);
    for (let foam = 1; foam <= 9; foam++)
      houseOf(WALLS, OPENINGS, [
        ["Foam", 1 + foam / 8],
        ["Panel", 0.625],
      ]);
    const again = houseOf(WALLS, OPENINGS, SETTINGS);
    expect(again).not.toBe(one);
    expect(again).toEqual(one);
  });
  it("a number and the same digits as text are not one house", () => {
    const asText = WALLS.map((row) => row.map((cell) => (cell === "A" ? 1 : cell)));
    const asWord = WALLS.map((row) => row.map((cell) => (cell === "A" ? "1" : cell)));
    expect(houseOf(asText, [], SETTINGS)).not.toBe(houseOf(asWord, [], SETTINGS));
  });
});
