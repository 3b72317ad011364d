/** Parts of the add-in that need neither a page nor a workbook. */
import fs from "node:fs";
import path from "node:path";
import { argumentOf, formulaOf, rowsOf } from "../../src/addin/calculator.js";
import { connect } from "../../src/addin/connect.js";
import { associateAll, hostFunctions } from "../../src/addin/functions.js";
import { withBlanks } from "../../src/addin/blanks.js";
import { CellError } from "../../src/worksheet/answer.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { type Argument, type Outcome, disagreements, goldenRows } from "../golden/golden.js";

const functions = hostFunctions();

const asRange = (value: Argument): unknown => (Array.isArray(value) ? value : [[value]]);

function call(name: string, args: readonly unknown[]): Outcome {
  try {
    return { value: functions.get(name)?.(...args) };
  } catch (error) {
    if (!(error instanceof CellError)) throw error;
    return { error: error.code, message: error.message };
  }
}

describe("the functions as the host is told of them", () => {
  test("every function is named once, and nothing else", () => {
    const named: string[] = [];
    const count = associateAll({ associate: (id) => void named.push(id) });
    expect(named.sort()).toEqual(worksheetFunctions.map((each) => each.name).sort());
    expect(count).toBe(named.length);
    expect(associateAll(undefined)).toBe(0);
  });

  test("agree with the golden table, with null for a left-out argument as the host sends it", () => {
    const outcome = (name: string, args: readonly Argument[]): Outcome => {
      const { parameters = [] } = worksheetFunctions.find((each) => each.name === name) ?? {};
      // what repeats comes as one list
      if (parameters.at(-1)?.repeats) return call(name, [args.map(asRange)]);
      return call(name, [...args, ...Array<null>(parameters.length - args.length).fill(null)]);
    };
    expect(goldenRows().length).toBeGreaterThan(200);
    expect(disagreements(outcome)).toEqual([]);
  });

  test("throw the host's own errors where it has them", () => {
    class HostError extends Error {
      constructor(
        readonly code: unknown,
        message: string
      ) {
        super(message);
      }
    }
    const page = globalThis as { CustomFunctions?: unknown };
    page.CustomFunctions = {
      Error: HostError,
      ErrorCode: { invalidValue: "#VALUE!", notAvailable: "#N/A" },
    };
    try {
      const thrown = (name: string, ...args: unknown[]): unknown => {
        try {
          return functions.get(name)?.(...args);
        } catch (error) {
          return error;
        }
      };
      expect(thrown("INCHES", "x")).toBeInstanceOf(HostError);
      expect(thrown("INCHES", "x")).toMatchObject({ code: "#VALUE!" });
      expect(thrown("STOCK_NAIL", 9)).toMatchObject({ code: "#N/A" });
      expect(thrown("HOUSE_ORDER", [["x"]], [[""]], [[""]])).toMatchObject({ code: "#VALUE!" });
    } finally {
      delete page.CustomFunctions;
    }
  });
});

describe("blank cells that came as 0", () => {
  const header = [
    "Wall",
    "Length",
    "Height",
    "Right height",
    "Left end",
    "Right end",
    "Spacing (in)",
    "Quantity",
    "From",
  ];
  const openings = [
    ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
    ["A", 0, 12, 0, 36, 80],
  ];
  const settings = [
    ["Foam", 1.25],
    ["Panel", "5/8"],
    ["Block line", 0],
    ["Panel extra", 0],
  ];

  test("become blank where 0 would mean nothing", () => {
    const [walls, doors, set] = withBlanks(
      [header, ["A", 192, 96, 96, "free", "free", 0, 0, 0], Array(9).fill(0)],
      openings,
      settings
    );
    expect(walls[1]).toEqual(["A", 192, 96, 96, "free", "free", null, null, null]);
    expect(walls[2]).toEqual(Array(9).fill(null));
    expect(doors[1]).toEqual(["A", null, 12, 0, 36, 80]);
    expect(set).toEqual([
      ["Foam", 1.25],
      ["Panel", "5/8"],
      ["Block line", null],
      ["Panel extra", 0],
    ]);
  });

  test("stay 0 where 0 is an answer or cannot be told from one", () => {
    const [walls] = withBlanks([header, ["A", 192, 96, 0, "free", "free", 16, 1, "left"]], [], []);
    expect(walls[1]?.[3]).toBe(0);
    const [, , cold] = withBlanks([["x"]], [["x"]], [["Outdoor temperature", 0]]);
    expect(cold).toEqual([["Outdoor temperature", 0]]);
  });

  test("are left alone where a blank shows that the host sends blanks", () => {
    for (const blank of [null, "", undefined]) {
      const walls = [header, ["A", 192, 96, blank, "free", "free", 0, 0, 0]];
      expect(withBlanks(walls, openings, settings)[0]).toBe(walls);
    }
  });

  test("a house comes out the same with zeros for blanks as with blanks", () => {
    const rows = (blank: unknown): unknown[][] => [
      ["Wall", "Length", "Height", "Left end", "Right end", "Spacing", "Quantity", "Next wall"],
      ["A", 192, 96, "free", "free", blank, blank, blank],
      Array(8).fill(blank),
    ];
    const none = [["Wall", "Opening", "From left", "Sill", "Width", "Height"]];
    const set = (blank: unknown): unknown[][] => [
      ["Foam", 1.25],
      ["Panel", "5/8"],
      ["Cavity R", 20],
      ["Foam R per inch", 4],
      ["Block line", blank],
      [blank, blank],
    ];
    const houseFunctions = worksheetFunctions.filter(({ parameters }) =>
      parameters.some(({ name }) => name === "walls")
    );
    expect(houseFunctions.length).toBeGreaterThanOrEqual(7);
    for (const { name, parameters } of houseFunctions) {
      const args = (blank: unknown): unknown[] => {
        const known: Readonly<Record<string, unknown>> = {
          wall: "A",
          walls: rows(blank),
          openings: none,
          settings: set(blank),
          header_depth: 11.25,
        };
        return parameters.map((each) => known[each.name]);
      };
      const answered = call(name, args(""));
      // found: HOUSE_WALL_R took zeros for a spacing of 0
      expect([name, "error" in answered]).toEqual([name, false]);
      expect([name, call(name, args(0))]).toEqual([name, answered]);
    }
    // what follows the tables is handed on
    const door = ["A", "Door", 60, 0, 36, 80];
    const tables = [rows(""), [...none, door], set("")];
    expect(call("HOUSE_WALL_R", [...tables, 11.25])).not.toEqual(call("HOUSE_WALL_R", tables));
  });

  test("Foam and Panel that came as 0 are blanks that say what to type", () => {
    const rows = [
      ["Wall", "Length", "Height", "Left end", "Right end"],
      ["A", 192, 96, "free", "free"],
    ];
    for (const name of ["Foam", "Panel"]) {
      const settings = [
        ["Foam", 1.25],
        ["Panel", 0.625],
      ].map(([each, value]) => [each, each === name ? 0 : value]);
      expect(call("HOUSE_ORDER", [rows, [["x"]], settings])).toMatchObject({
        error: "#VALUE!",
        message: expect.stringMatching(
          new RegExp(`^settings row \\d: ${name} is blank: type the `)
        ),
      });
    }
  });
});

describe("finding the spreadsheet", () => {
  const ready = (host: unknown) => ({ onReady: () => Promise.resolve({ host }) });

  test("knows a spreadsheet, a page on its own, and a missing script", async () => {
    expect(await connect(ready("Excel"))).toBe("spreadsheet");
    expect(await connect(ready(null))).toBe("nobody");
    expect(await connect(ready("Word"))).toBe("nobody");
    expect(await connect(undefined)).toBe("no script");
  });

  test("does not wait for a host that never answers, and takes a refusal for nobody", async () => {
    expect(await connect({ onReady: () => new Promise(() => undefined) }, 10)).toBe("silent");
    expect(await connect({ onReady: () => Promise.reject(new Error("no")) })).toBe("nobody");
    const throws = {
      onReady: () => {
        throw new Error("no");
      },
    };
    expect(await connect(throws)).toBe("nobody");
  });
});

describe("the one-function form", () => {
  test("reads what is typed", () => {
    expect(["1.5", " 5/8 ", "", "TRUE", "-2", "1,5", "24'-6", "'5/8"].map(argumentOf)).toEqual([
      1.5,
      "5/8",
      null,
      true,
      -2,
      1.5,
      "24'-6",
      "5/8",
    ]);
    expect(rowsOf("Wall\tLength\nA\t12'\n\n")).toEqual([
      ["Wall", "Length"],
      ["A", "12'"],
    ]);
    expect(rowsOf("Foam;1.25\nPanel;5/8")).toEqual([
      ["Foam", 1.25],
      ["Panel", "5/8"],
    ]);
  });

  test("writes a call with cells as cells, numbers as numbers and text as text", () => {
    const byName = (name: string) =>
      worksheetFunctions.find((each) => each.name === name) as (typeof worksheetFunctions)[number];
    expect(formulaOf(byName("CORNER_OFFSET"), ["1.25", "5/8", ""])).toBe(
      '=SHEATH.CORNER_OFFSET(1.25,"5/8")'
    );
    expect(formulaOf(byName("CORNER_OFFSET"), ["B2", "Setup!$B$3", "45"])).toBe(
      "=SHEATH.CORNER_OFFSET(B2,Setup!$B$3,45)"
    );
    expect(formulaOf(byName("INCHES"), ["24'-6 1/2\""])).toBe('=SHEATH.INCHES("24\'-6 1/2""")');
    expect(formulaOf(byName("RIPS_PER_PANEL"), ["24", "", "0"])).toBe(
      "=SHEATH.RIPS_PER_PANEL(24,,0)"
    );
    expect(formulaOf(byName("HOUSE_WALLS"), ["Walls!A1:E5", "Openings[#All]", "Settings"])).toBe(
      "=SHEATH.HOUSE_WALLS(Walls!A1:E5,Openings[#All],Settings)"
    );
  });
});

test("the pane and the local sheet have their colors from one place", () => {
  const read = (file: string): string =>
    fs.readFileSync(path.resolve(__dirname, "../../src", file), "utf8");
  const names = (text: string): string[] => text.match(/--[\w-]+(?=: #[0-9a-f]+)/g) ?? [];
  const [light = "", dark = ""] = read("pane/colors.css").split(':root[data-theme="dark"]');
  expect(names(light).length).toBeGreaterThan(10);
  expect(names(light)).toEqual([...new Set(names(light))]);
  expect(names(dark)).toEqual(names(light));
  for (const own of ["addin/taskpane.css", "host/web/page.css", "pane/pane.css"]) {
    expect(names(read(own))).toEqual([]);
  }
  expect(read("addin/taskpane.ts")).toContain('import "../pane/colors.css";');
  expect(read("host/web/styles.ts")).toContain('import "../../pane/colors.css";');
});
