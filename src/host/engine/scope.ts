/** What formulas of a workbook can name: sheets, tables, defined names, functions. */
import { FormulaSyntaxError, parseFormula, walkFormula, type FormulaNode } from "./formula.js";
import type { BookState, DefinedName, SheetState, TableState } from "./model.js";
import { localNames, typedFormula } from "./spelling.js";

/** What is known about a formula text before any calculation. */
export interface Prepared {
  readonly tree: FormulaNode | undefined;
  /** what is wrong with a text that cannot be read */
  readonly fault: string | undefined;
  readonly locals: ReadonlySet<string>;
  /** its text for the library depends on other cells, not on its own text alone */
  readonly looksAround: boolean;
  /** SUBTOTAL and AGGREGATE are skipped by others of their kind, which the library sees only unwrapped */
  readonly isSubtotal: boolean;
}

/** Texts kept in memory beyond those in use. */
const SPARE_TEXTS = 1000;

export class Scope {
  private readonly prepared = new Map<string, Prepared>();
  private tables = new Map<string, { table: TableState; sheet: SheetState }>();

  constructor(
    readonly book: BookState,
    readonly namespace: string
  ) {}

  /** Takes stock of the workbook's tables before a calculation. */
  refresh(formulaCount: number): void {
    this.tables = new Map();
    for (const sheet of this.book.sheets) {
      for (const table of sheet.tables) this.tables.set(table.name.toLowerCase(), { table, sheet });
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

  tableNamed(name: string): { table: TableState; sheet: SheetState } | undefined {
    return this.tables.get(name.toLowerCase());
  }

  /** The workbook's name as seen from a sheet: its own before the whole workbook's. */
  definedName(name: string, sheet: SheetState): DefinedName | undefined {
    const wanted = name.toLowerCase();
    const same = this.book.names.filter((entry) => entry.name.toLowerCase() === wanted);
    return same.find((entry) => entry.sheet === sheet) ?? same.find((entry) => !entry.sheet);
  }

  /** What a name stands for, as a person would type it. */
  typedName(name: DefinedName): string {
    return typedFormula(name.text, this.namespace);
  }

  /** False where a reference names a sheet that is not there. */
  hasSheets(node: FormulaNode): boolean {
    if (node.sheet === undefined) return true;
    const isThere = (name: string): boolean => this.book.sheet(name) !== undefined;
    return isThere(node.sheet) && isThere(node.lastSheet ?? node.sheet);
  }
}

function prepareText(typed: string): Prepared {
  try {
    const tree = parseFormula(typed);
    let looksAround = false;
    walkFormula(tree, (node) => {
      const asksForText = node.kind === "call" && /^FORMULATEXT$/i.test(node.name as string);
      if (node.kind === "spill" || asksForText) looksAround = true;
    });
    const isSubtotal =
      tree.kind === "call" && /^(?:SUBTOTAL|AGGREGATE)$/i.test(tree.name as string);
    return { tree, fault: undefined, locals: localNames(tree), looksAround, isSubtotal };
  } catch (error) {
    if (!(error instanceof FormulaSyntaxError)) throw error;
    const place = `at character ${error.position + 1}`;
    return {
      tree: undefined,
      fault: `this is not a formula: ${error.message} (${place})`,
      locals: new Set(),
      looksAround: false,
      isSubtotal: false,
    };
  }
}
