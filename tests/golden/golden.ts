/**
 * The one table of calls and answers that every host has to agree with. A host is a way of calling a
 * worksheet function; `problemsOf` says what is wrong with the answer to one row.
 */
import fs from "node:fs";
import path from "node:path";

export type Cell = string | number | boolean | null;
export type Argument = Cell | Cell[][];

export interface GoldenRow {
  readonly function: string;
  readonly arguments: readonly Argument[];
  /** the whole answer: one value, or every row of a table */
  readonly result?: Cell | Cell[][];
  /** rows and columns of a table of which only some cells are known; null where the rows are not counted */
  readonly size?: readonly [rows: number, columns: number] | null;
  readonly cells?: readonly (readonly [row: number, column: number, value: Cell])[];
  /** text that is in the answer */
  readonly contains?: string;
  readonly error?: "#VALUE!" | "#N/A";
  /** what the message names */
  readonly says?: string;
  /** how the answer is known */
  readonly why?: string;
  /** default: a billionth of the value, and never less than a billionth */
  readonly tolerance?: number;
}

/** What a host came to: a value, a table, or an error with its message where the host shows one. */
export type Outcome =
  { readonly value: unknown } | { readonly error: string; readonly message?: string };

export type Call = (name: string, args: readonly Argument[]) => Outcome;

export const GOLDEN_PATH = path.join(__dirname, "golden-table.json");

export function goldenRows(): GoldenRow[] {
  return (JSON.parse(fs.readFileSync(GOLDEN_PATH, "utf8")) as { rows: GoldenRow[] }).rows;
}

export function titleOf(row: GoldenRow): string {
  return `${row.function}(${row.arguments.map((each) => JSON.stringify(each)).join(", ")})`;
}

function literal(cell: Cell): string {
  if (cell === null) return '""';
  if (typeof cell === "boolean") return cell ? "TRUE" : "FALSE";
  return typeof cell === "number" ? String(cell) : `"${cell.replaceAll('"', '""')}"`;
}

/** The row as a formula: blanks are left out, ranges are array constants. */
export function formulaOf(row: GoldenRow): string {
  const args = row.arguments.map((each) => {
    if (each === null) return "";
    if (!Array.isArray(each)) return literal(each);
    return `{${each.map((line) => line.map(literal).join(",")).join(";")}}`;
  });
  return `=SHEATH.${row.function}(${args.join(",")})`;
}

function cellProblem(got: unknown, wanted: Cell, tolerance: number | undefined): string[] {
  if (typeof wanted === "number" && typeof got === "number") {
    const allowed = tolerance ?? 1e-9 * Math.max(1, Math.abs(wanted));
    if (Number.isFinite(got) && !Object.is(got, -0) && Math.abs(got - wanted) <= allowed) return [];
  } else if (got === wanted) return [];
  return [`wanted ${JSON.stringify(wanted)}, got ${JSON.stringify(got)}`];
}

function tableProblems(row: GoldenRow, value: unknown): string[] {
  if (!Array.isArray(value) || !value.every(Array.isArray)) {
    return [`wanted a table, got ${JSON.stringify(value)}`];
  }
  const table = value as unknown[][];
  const size = Array.isArray(row.result)
    ? [row.result.length, row.result[0]?.length ?? 0]
    : (row.size ?? [table.length, table[0]?.length ?? 0]);
  const problems: string[] = [];
  if (table.length !== size[0] || table.some((line) => line.length !== size[1])) {
    problems.push(`wanted ${size.join(" x ")} cells, got ${table.length} x ${table[0]?.length}`);
  }
  const cells = Array.isArray(row.result)
    ? row.result.flatMap((line, r) => line.map((cell, c) => [r, c, cell] as const))
    : (row.cells ?? []);
  for (const [r, c, wanted] of cells) {
    const some = cellProblem(table[r]?.[c], wanted, row.tolerance);
    problems.push(...some.map((each) => `row ${r}, column ${c}: ${each}`));
  }
  return problems;
}

/** What is wrong with an outcome; nothing where it is right. */
export function problemsOf(row: GoldenRow, outcome: Outcome): string[] {
  if ("error" in outcome) {
    if (row.error === undefined) return [`got ${outcome.error} ${outcome.message ?? ""}`];
    if (outcome.error !== row.error) {
      return [`wanted ${row.error}, got ${outcome.error} ${outcome.message ?? ""}`];
    }
    const said = outcome.message === undefined || outcome.message.includes(row.says ?? "");
    return said ? [] : [`the message does not name ${row.says}: ${outcome.message}`];
  }
  const { value } = outcome;
  if (row.error !== undefined) return [`wanted ${row.error}, got ${JSON.stringify(value)}`];
  if (row.contains !== undefined) {
    const found = typeof value === "string" && value.includes(row.contains);
    return found ? [] : [`wanted text with ${row.contains}, got ${JSON.stringify(value)}`];
  }
  if (row.cells || Array.isArray(row.result)) return tableProblems(row, value);
  return cellProblem(value, row.result as Cell, row.tolerance);
}

/** Every row that a host gets wrong, with what is wrong. */
export function disagreements(call: Call, rows: readonly GoldenRow[] = goldenRows()): string[] {
  return rows.flatMap((row) =>
    problemsOf(row, call(row.function, row.arguments)).map((each) => `${titleOf(row)}: ${each}`)
  );
}
