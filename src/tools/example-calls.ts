/** The examples of the entries: as formulas that can be run, and the arguments their functions are called with. */
import { FormulaEvaluator, type CellArgument } from "../host/engine/index.js";
import type { Entry } from "../worksheet/entry.js";
import { EXAMPLE_HOUSE } from "../worksheet/example-house.js";
import { worksheetFunctions } from "../worksheet/registry.js";

function constant(rows: readonly (readonly (string | number)[])[]): string {
  const cell = (value: string | number): string =>
    typeof value === "number" ? String(value) : `"${value}"`;
  return `{${rows.map((row) => row.map(cell).join(",")).join(";")}}`;
}

/** The example with the tables of the example house in place of their names. */
export function runnableExample({ example: [formula] }: Entry): string {
  return formula.replace(/\b(walls|openings|settings)\b/g, (name) =>
    constant(EXAMPLE_HOUSE[name as keyof typeof EXAMPLE_HOUSE])
  );
}

/** What each function is called with in its example, by its name: needed arguments, then null for those left out. */
export function exampleCalls(): ReadonlyMap<string, readonly CellArgument[]> {
  const calls = new Map<string, readonly CellArgument[]>();
  const noting = worksheetFunctions.map((entry) => ({
    ...entry,
    call: (...args: CellArgument[]) => {
      calls.set(entry.name, args);
      return entry.call(...args);
    },
  }));
  new FormulaEvaluator(noting).evaluateAll(worksheetFunctions.map(runnableExample));
  return calls;
}
