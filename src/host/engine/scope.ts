/** What formulas of a workbook can name: sheets, tables, defined names, functions. */
import type { Code } from "./code.js";
import { FormulaSyntaxError, parseFormula, walkFormula, type FormulaNode } from "./formula.js";
import type { BookState, DefinedName, SheetState, TableState } from "./model.js";
import { localNames, typedFormula } from "./spelling.js";

/** What is known about a formula text before any calculation. */
export interface Prepared {
  readonly typed: string;
  readonly tree: FormulaNode | undefined;
  /** what is wrong with a text that cannot be read */
  readonly fault: string | undefined;
  readonly locals: ReadonlySet<string>;
  /** gives another value each time: random numbers, the clock */
  readonly isVolatile: boolean;
  /** the code made from it: as a plain formula, as one that gives tables, as the text of a name */
  readonly code: { plain?: Code; tables?: Code; moving?: Code };
}

const VOLATILE = /^(?:RAND|RANDBETWEEN|RANDARRAY|NOW|TODAY)$/i;

/** Texts kept in memory beyond those in use. */
const SPARE_TEXTS = 1000;

export class Scope {
  private readonly prepared = new Map<string, Prepared>();
  private readonly typedNames = new Map<string, string>();
  private names = new Map<string, DefinedName[]>();
  private tables = new Map<string, { table: TableState; sheet: SheetState }>();

  constructor(
    readonly book: BookState,
    readonly namespace: string
  ) {}

  /** Takes stock of the workbook's tables and names before a calculation. */
  refresh(formulaCount: number): void {
    this.tables = new Map();
    for (const sheet of this.book.sheets) {
      for (const table of sheet.tables) this.tables.set(table.name.toLowerCase(), { table, sheet });
    }
    this.names = new Map();
    for (const entry of this.book.names) {
      const key = entry.name.toLowerCase();
      const same = this.names.get(key);
      if (same) same.push(entry);
      else this.names.set(key, [entry]);
    }
    if (this.prepared.size > 4 * formulaCount + SPARE_TEXTS) this.prepared.clear();
  }

  prepare(typed: string): Prepared {
    let prepared = this.prepared.get(typed);
    if (!prepared) {
      prepared = prepareText(typed);
      this.prepared.set(typed, prepared);
    }
    return prepared;
  }

  /** Forgets code made when other names were known. */
  forgetCode(): void {
    for (const { code } of this.prepared.values()) {
      delete code.plain;
      delete code.tables;
      delete code.moving;
    }
  }

  hasName(name: string): boolean {
    return this.names.has(name.toLowerCase());
  }

  tableNamed(name: string): { table: TableState; sheet: SheetState } | undefined {
    return this.tables.get(name.toLowerCase());
  }

  /** The workbook's name as seen from a sheet: its own before the whole workbook's. */
  definedName(name: string, sheet: SheetState): DefinedName | undefined {
    const same = this.names.get(name.toLowerCase()) ?? [];
    return same.find((entry) => entry.sheet === sheet) ?? same.find((entry) => !entry.sheet);
  }

  /** What a name stands for. */
  prepareName({ text }: DefinedName): Prepared {
    let typed = this.typedNames.get(text);
    if (typed === undefined) {
      typed = typedFormula(text, this.namespace);
      this.typedNames.set(text, typed);
    }
    return this.prepare(typed);
  }
}

function prepareText(typed: string): Prepared {
  try {
    const tree = parseFormula(typed);
    let isVolatile = false;
    walkFormula(tree, (node) => {
      if (node.kind === "call" && VOLATILE.test(node.name as string)) isVolatile = true;
    });
    return { typed, tree, fault: undefined, locals: localNames(tree), isVolatile, code: {} };
  } catch (error) {
    if (!(error instanceof FormulaSyntaxError)) throw error;
    const place = `at character ${error.position + 1}`;
    return {
      typed,
      tree: undefined,
      fault: `this is not a formula: ${error.message} (${place})`,
      locals: new Set(),
      isVolatile: false,
      code: {},
    };
  }
}
