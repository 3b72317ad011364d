/** Puts errors of formulas into words: which cell they come from, or what is wrong with the formula. */
import { walkFormula } from "./formula.js";
import type { FunctionSet } from "./functions.js";
import { fullAddress, type CellState } from "./model.js";
import type { SheetArea } from "./operands.js";
import type { Scope } from "./scope.js";
import { SPECIAL_FORMS } from "./special.js";
import { isCellError, type CellErrorValue } from "./values.js";

/** Said where nothing more particular is known. */
const GENERAL_REASONS: Readonly<Record<string, string>> = {
  "#NAME?": "a name or function in this formula is not known",
  "#REF!": "a cell, sheet, table or column that this formula names does not exist",
  "#DIV/0!": "this formula divides by zero or by an empty cell",
  "#N/A": "a value this formula looks for is not there",
  "#VALUE!":
    "a value in this formula is not of the kind it needs, such as text where a number should be",
  "#NUM!": "a number in this formula is too large, too small or not possible",
  "#NULL!": "two ranges in this formula have no cell in common",
  "#CALC!": "this formula has no result, such as a filter that keeps nothing",
};

export class Reasons {
  /**
   * @param isFunction whether a name in capitals is a function of ours or a built-in one
   * @param readsOf    what a cell's formula read
   */
  constructor(
    private readonly scope: Scope,
    private readonly functions: FunctionSet,
    private readonly isFunction: (name: string) => boolean,
    private readonly readsOf: (cell: CellState) => readonly SheetArea[]
  ) {}

  /** An error of a formula cell with the best reason that can be given for it. */
  explain(cell: CellState, value: CellErrorValue, seen = new Set<CellState>()): CellErrorValue {
    if (value.message !== undefined) return value;
    seen.add(cell);
    const message = this.originOf(cell, value.error, seen) ?? this.reasonFor(cell, value.error);
    return message === undefined ? value : { error: value.error, message };
  }

  /** A cell the formula reads that already shows the error. */
  private originOf(cell: CellState, code: string, seen: Set<CellState>): string | undefined {
    for (const { sheet, area } of this.readsOf(cell)) {
      for (const other of sheet.cellsIn(area)) {
        const held = other.value;
        if (other === cell || !isCellError(held) || held.error !== code) continue;
        const known = other.formula && !seen.has(other) ? this.explain(other, held, seen) : held;
        const why = known.message;
        if (why === undefined) return `from ${fullAddress(other)}`;
        return why.startsWith("from ") ? why : `from ${fullAddress(other)}: ${why}`;
      }
    }
    return undefined;
  }

  private reasonFor(cell: CellState, code: string): string | undefined {
    const { tree, locals } = this.scope.prepare(cell.formula?.typed ?? "");
    const reasons: string[] = [];
    if (tree) {
      walkFormula(tree, (node) => {
        const name = node.name ?? "";
        const isLocal = locals.has(name.toUpperCase());
        if (code === "#NAME?" && node.kind === "call" && !isLocal && !this.knowsFunction(name)) {
          const near = this.nearestFunction(name.toUpperCase());
          const hint = near === undefined ? "" : `; did you mean ${near}?`;
          reasons.push(`there is no function called ${name.toUpperCase()}${hint}`);
        }
        if (code === "#NAME?" && node.kind === "name" && !isLocal && !this.knowsName(name, cell)) {
          reasons.push(`nothing in this workbook is called ${name}`);
        }
      });
    }
    return reasons[0] ?? GENERAL_REASONS[code];
  }

  private knowsName(name: string, cell: CellState): boolean {
    const { scope } = this;
    return (
      scope.tableNamed(name) !== undefined || scope.definedName(name, cell.sheet) !== undefined
    );
  }

  /** True for a function of ours, of the library, or a name that stands for a function. */
  private knowsFunction(given: string): boolean {
    const name = given.toUpperCase();
    return (
      this.isFunction(name) ||
      SPECIAL_FORMS[name] !== undefined ||
      this.scope.book.names.some((entry) => entry.name.toUpperCase() === name)
    );
  }

  private nearestFunction(name: string): string | undefined {
    const prefix = `${this.functions.namespace.toUpperCase()}.`;
    const bare = name.startsWith(prefix) ? name.slice(prefix.length) : name;
    // a part of a name, such as PANELS or TAPE, is nearest to the first that begins with it, or else holds it
    const names = [...this.functions.names];
    const whole = bare.length < 3 ? undefined : partOf(bare, names);
    if (whole !== undefined) return prefix + whole;
    let best: string | undefined;
    let least = Math.max(1, Math.floor(bare.length / 3)) + 1;
    for (const candidate of this.functions.names) {
      const away = editDistance(bare, candidate, least);
      if (away < least) {
        least = away;
        best = prefix + candidate;
      }
    }
    return best;
  }
}

function partOf(part: string, names: readonly string[]): string | undefined {
  return (
    names.find((name) => name.startsWith(`${part}_`)) ??
    names.find((name) => name.split("_").includes(part))
  );
}

/** Number of letters to change between two words; stops counting at `most`. */
function editDistance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) >= most) return most;
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (row[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] as number) + 1, (next[j - 1] as number) + 1));
    }
    row = next;
  }
  return row[b.length] as number;
}
