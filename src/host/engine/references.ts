/** Finds the areas that formulas read. */
import type { Area } from "../../core/cell-address.js";
import type { FormulaNode } from "./formula.js";
import {
  dataArea,
  type CellState,
  type FormulaState,
  type SheetState,
  type TableState,
} from "./model.js";
import { POSITION_FUNCTIONS } from "./rewrite.js";
import type { Scope } from "./scope.js";

export interface SheetArea {
  readonly sheet: SheetState;
  readonly area: Area;
}

export class References {
  /** Formulas keep their areas: the sheets and tables of a workbook do not change while it is open. */
  private readonly known = new WeakMap<FormulaState, SheetArea[]>();

  constructor(private readonly scope: Scope) {}

  /** Every area a cell's formula reads, through defined names too. */
  of(cell: CellState): readonly SheetArea[] {
    const { formula, sheet } = cell;
    if (!formula) return [];
    let list = this.known.get(formula);
    if (!list) {
      list = [];
      const { tree } = this.scope.prepare(formula.typed);
      if (tree) this.collect(formula.typed, tree, sheet, cell, list, new Set());
      this.known.set(formula, list);
    }
    return list;
  }

  /** Every area that a part of a cell's formula reads. */
  within(cell: CellState, part: FormulaNode): readonly SheetArea[] {
    const list: SheetArea[] = [];
    this.collect(cell.formula?.typed ?? "", part, cell.sheet, cell, list, new Set());
    return list;
  }

  private collect(
    source: string,
    node: FormulaNode,
    sheet: SheetState,
    cell: CellState | undefined,
    list: SheetArea[],
    names: Set<string>
  ): void {
    switch (node.kind) {
      case "reference":
        list.push(...this.areasOf(node, sheet));
        return;
      case "spill": {
        // What the formula fills depends on that formula alone.
        const [inner] = node.children;
        for (const { sheet: home, area } of inner ? this.areasOf(inner, sheet) : []) {
          list.push({ sheet: home, area: { ...area, bottom: area.top, right: area.left } });
        }
        return;
      }
      case "table": {
        const text = source.slice(node.start, node.end);
        const own = cell && sheet.tableAt(cell.row, cell.column);
        const named = node.name ? this.scope.tableNamed(node.name) : own && { table: own, sheet };
        if (named) list.push({ sheet: named.sheet, area: areaOfTable(text, named.table, cell) });
        return;
      }
      case "name":
        this.collectName(node.name as string, sheet, list, names);
        return;
    }
    const onlyPlace =
      node.kind === "call" && POSITION_FUNCTIONS.has((node.name as string).toUpperCase());
    for (const child of node.children) {
      if (onlyPlace && child.kind === "reference") continue;
      this.collect(source, child, sheet, cell, list, names);
    }
  }

  private collectName(
    name: string,
    sheet: SheetState,
    list: SheetArea[],
    names: Set<string>
  ): void {
    const table = this.scope.tableNamed(name);
    if (table) {
      list.push({ sheet: table.sheet, area: dataArea(table.table) });
      return;
    }
    const entry = this.scope.definedName(name, sheet);
    if (!entry || names.has(name.toLowerCase())) return;
    names.add(name.toLowerCase());
    const text = this.scope.typedName(entry);
    const { tree } = this.scope.prepare(text);
    if (tree) this.collect(text, tree, entry.sheet ?? sheet, undefined, list, names);
  }

  /** A reference's area on each of the sheets it runs through. */
  private areasOf(node: FormulaNode, sheet: SheetState): SheetArea[] {
    const { book } = this.scope;
    const from = node.sheet === undefined ? sheet : book.sheet(node.sheet);
    const to = node.lastSheet === undefined ? from : book.sheet(node.lastSheet);
    const { area } = node;
    if (!from || !to || !area) return [];
    return book.sheets
      .filter(({ index }) => index >= from.index && index <= to.index)
      .map((each) => ({ sheet: each, area }));
  }
}

/** The cells a reference to a table means; columns it names must stand in brackets or alone. */
function areaOfTable(text: string, table: TableState, cell: CellState | undefined): Area {
  const inner = text
    .slice(text.indexOf("[") + 1, -1)
    .trim()
    .toLowerCase();
  const alone = inner.replace(/^@\s*/, "");
  const columns = table.columns.flatMap((name, index) => {
    const column = name.toLowerCase();
    return alone === column || inner.includes(`[${column}]`) ? [index] : [];
  });
  const left = table.area.left + (columns.length === 0 ? 0 : Math.min(...columns));
  const last = columns.length === 0 ? table.columns.length - 1 : Math.max(...columns);
  let { top, bottom } = dataArea(table);
  if (cell && (inner.startsWith("@") || inner.includes("#this row"))) top = bottom = cell.row;
  else if (inner.includes("#all")) ({ top, bottom } = table.area);
  else {
    const withData = inner.includes("#data");
    if (inner.includes("#headers")) {
      top = table.area.top;
      if (!withData) bottom = top;
    } else if (inner.includes("#totals")) {
      bottom = table.area.bottom;
      if (!withData) top = bottom;
    }
  }
  return { top, bottom, left, right: table.area.left + last };
}
