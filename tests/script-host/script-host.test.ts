/** The paste-in script, in a context that has nothing but the language, as a scripted spreadsheet runs it. */
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import vm from "node:vm";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { type Argument, type Outcome, disagreements, goldenRows } from "../golden/golden.js";

const ROOT = path.resolve(__dirname, "..", "..");
const SCRIPT = path.join(ROOT, "dist", "script-host", "sheathing-functions.js");
const LONG = 5 * 60 * 1000;

let source: string;
let context: vm.Context;

beforeAll(() => {
  execFileSync(process.execPath, ["src/cli/run.mjs", "build", "script-host"], {
    cwd: ROOT,
    stdio: "pipe",
  });
  source = fs.readFileSync(SCRIPT, "utf8");
  context = vm.createContext({});
  vm.runInContext(source, context);
}, LONG);

/** A blank cell is empty text there, on its own and in a range. */
function asCell(value: Argument): unknown {
  if (Array.isArray(value)) return value.map((row) => row.map((cell) => cell ?? ""));
  return value ?? "";
}

function call(name: string, args: readonly unknown[]): Outcome {
  const stub = context[`SHEATH_${name}`] as (...values: unknown[]) => unknown;
  try {
    const value: unknown = stub(...args);
    // values of another context are not equal to ours until copied
    return { value: JSON.parse(JSON.stringify(value)) as unknown };
  } catch (error) {
    const { code, message } = error as { code?: string; message: string };
    return { error: code ?? "bug", message };
  }
}

describe("the paste-in script", () => {
  test(`agrees with the golden table, ${goldenRows().length} rows`, () => {
    const outcome = (name: string, args: readonly Argument[]): Outcome =>
      call(name, args.map(asCell));
    expect(disagreements(outcome)).toEqual([]);
  });

  test("agrees with the golden table where left-out arguments are not passed at all", () => {
    const outcome = (name: string, args: readonly Argument[]): Outcome => {
      const given = [...args];
      while (given.at(-1) === null) given.pop();
      return call(
        name,
        given.map((each) => (each === null ? undefined : asCell(each)))
      );
    };
    expect(disagreements(outcome)).toEqual([]);
  });

  test("declares one plain function for every worksheet function, with its help", () => {
    const lines = source.split("\n");
    const declared = lines.flatMap((line) => /^function (SHEATH_\w+)\(/.exec(line)?.[1] ?? []);
    expect(declared).toEqual(worksheetFunctions.map((each) => `SHEATH_${each.name}`));
    expect(lines.filter((line) => line === " * @customfunction")).toHaveLength(
      worksheetFunctions.length
    );
    const parameters = worksheetFunctions.reduce((sum, each) => sum + each.parameters.length, 0);
    expect(lines.filter((line) => line.startsWith(" * @param {any} "))).toHaveLength(parameters);
  });

  test("names no function in a way the spreadsheet would hide or refuse", () => {
    for (const { name } of worksheetFunctions) {
      expect(`SHEATH_${name}`).toMatch(/^[A-Z][A-Z0-9_]*[A-Z0-9]$/);
    }
  });

  test("adds its functions and one hidden name to the spreadsheet's script, nothing else", () => {
    const added = Object.keys(context).filter((name) => !/^SHEATH_[A-Z_]*[A-Z]$/.test(name));
    expect(added).toEqual(["SHEATH_CORE_"]);
  });

  test("asks for nothing a spreadsheet's script does not have", () => {
    for (const word of ["require", "process", "fetch", "setTimeout", "document", "import"]) {
      expect([word, new RegExp(`(?<![\\w.$"'])${word}\\(`).test(source)]).toEqual([word, false]);
    }
    expect(source).not.toMatch(/(?<![\w.$"' ])window\b/);
    expect(source).not.toMatch(/\beval\(|new Function\b/);
  });

  test("knows a fraction that the spreadsheet turned into a date, and says what to type", () => {
    // the seventh of January, as 1/7 or 5/8 may arrive
    const date = vm.runInContext("new Date(2026, 0, 7)", context) as Date;
    const outcome = call("INCHES", [date]);
    expect(outcome).toMatchObject({ error: "#VALUE!" });
    expect((outcome as { message: string }).message).toMatch(/date/);
    expect(call("INCHES", [new Date(2026, 0, 7)])).toMatchObject({ error: "#VALUE!" });
  });

  test("takes one cell where a range is meant", () => {
    expect(call("STOCK_NAIL", [2.6, 2.75])).toEqual({ value: 2.75 });
  });

  test("fills cells with values a cell can hold", () => {
    const { value } = call("STUD_MARKS", [144, 1.875, "past", "flush"]) as { value: unknown[][] };
    for (const cell of value.flat()) expect(["string", "number"]).toContain(typeof cell);
  });
});
