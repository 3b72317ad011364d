/**
 * Writes formulas for the calculation library: what the library misreads or gets wrong is put in other words.
 */
import { areaAddress, cellCount, sheetPrefix, type Area } from "../../core/cell-address.js";
import { parseFormula, writeAsRead, writeFormula, type FormulaNode } from "./formula.js";
import type { CellState, SheetState } from "./model.js";
import { ANY_TEXT, ANY_VALUE, ROUNDED, SHOWN, type NativeFunction } from "./natives.js";
import {
  isArray,
  numberValue,
  textValue,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";
import type { Prepared, Scope } from "./scope.js";
import { thisRowReference } from "./spelling.js";

/** Name of the function that keeps a reference given as text within what the workbook uses. */
const USED_TEXT = "HOST_.USED_TEXT";
/** Name of the function that keeps a number of rows or columns within what the workbook uses. */
const USED_COUNT = "HOST_.USED_COUNT";
/** References to more cells than this are cut to what the workbook uses: the library walks every cell of one. */
const LARGE_AREA = 100_000;
/** References to more cells than this, all within what the workbook uses, are an error. */
export const LARGEST_AREA = 5_000_000;

/** Functions that look at where a cell is, not at what it holds: their own cell is no circular reference. */
export const POSITION_FUNCTIONS: ReadonlySet<string> = new Set([
  "ROW",
  "COLUMN",
  "ROWS",
  "COLUMNS",
  "SHEET",
  "SHEETS",
  "AREAS",
  "ISFORMULA",
  "ISREF",
  "FORMULATEXT",
]);

/** Functions that put numbers into text as they are shown. */
const TEXT_JOINERS: ReadonlySet<string> = new Set(["CONCAT", "CONCATENATE", "TEXTJOIN"]);

type Write = (child: FormulaNode) => string;

export class FormulaRewriter {
  /** last row and column that hold anything, over all sheets, so that areas keep matching each other */
  private used = { bottom: 1, right: 1 };

  /**
   * @param fills the area that the formula in a cell fills at this point of the calculation; undefined where the
   *              cell holds no formula
   */
  constructor(
    private readonly scope: Scope,
    private readonly fills: (anchor: CellState) => Area | undefined
  ) {}

  /** Functions the rewritten formulas call. */
  get functions(): ReadonlyMap<string, NativeFunction> {
    return new Map<string, NativeFunction>([
      [USED_TEXT, { minArity: 1, maxArity: 1, invoke: ([text]) => this.usedText(text!) }],
      [
        USED_COUNT,
        {
          minArity: 2,
          maxArity: 2,
          invoke: ([count, way]) => this.usedCount(count as RuntimeScalar, way as RuntimeScalar),
        },
      ],
    ]);
  }

  /** Changes where texts written before no longer fit. */
  get version(): string {
    return `${this.used.bottom}:${this.used.right}`;
  }

  forgetUsed(): void {
    this.used = { bottom: 1, right: 1 };
  }

  /** Extends the used part by a cell; true where it grew. */
  include(row: number, column: number): boolean {
    const { bottom, right } = this.used;
    if (row <= bottom && column <= right) return false;
    this.used = { bottom: Math.max(bottom, row), right: Math.max(right, column) };
    return true;
  }

  /** True for an area that cannot be read even when it is cut to what the workbook uses. */
  isTooLarge(area: Area): boolean {
    return cellCount(this.usedPart(area)) > LARGEST_AREA;
  }

  rewrite(
    source: string,
    { tree, locals }: Prepared,
    sheet: SheetState,
    cell: CellState | undefined
  ): string {
    if (!tree) return "#NAME?";
    const ownTable = cell && sheet.tableAt(cell.row, cell.column)?.name;
    return writeFormula(source, tree, (node, write) => {
      switch (node.kind) {
        case "reference":
          return this.scope.hasSheets(node) ? this.usedReference(source, node) : "#REF!";
        case "external":
          return "#REF!";
        case "spill":
          return this.spillReference(node, sheet);
        case "name": {
          const name = node.name as string;
          if (node.sheet !== undefined) return name;
          const isTable = !locals.has(name.toUpperCase()) && this.scope.tableNamed(name);
          return isTable ? `${name}[#Data]` : undefined;
        }
        case "table": {
          const isThere = node.name ? this.scope.tableNamed(node.name) : ownTable;
          const text = source.slice(node.start, node.end);
          return isThere === undefined ? "#REF!" : thisRowReference(text, ownTable);
        }
        case "comparison":
        case "joined":
          return writeShown(source, node, write);
        case "call":
          return this.rewriteCall(source, node, write, sheet);
        default:
          return undefined;
      }
    });
  }

  /** A reference to a large area cut to the part of it that can hold anything; undefined where it need not be. */
  private usedReference(source: string, node: FormulaNode): string | undefined {
    const { area } = node;
    if (!area || cellCount(area) <= LARGE_AREA) return undefined;
    const used = this.usedPart(area);
    if (cellCount(used) > LARGEST_AREA) return "#NUM!";
    return source.slice(node.start, node.addressStart) + areaAddress(used);
  }

  private usedPart(area: Area): Area {
    return {
      ...area,
      bottom: Math.max(area.top, Math.min(area.bottom, this.used.bottom)),
      right: Math.max(area.left, Math.min(area.right, this.used.right)),
    };
  }

  /** INDIRECT makes a reference from text while the library calculates. */
  private usedText(text: RuntimeValue): RuntimeValue {
    if (isArray(text) || typeof text.value !== "string") return text;
    try {
      const node = parseFormula(text.value);
      const cut = node.kind === "reference" ? this.usedReference(text.value, node) : undefined;
      return cut === undefined ? text : textValue(cut);
    } catch {
      return text;
    }
  }

  /** OFFSET makes a reference of any size while the library calculates. */
  private usedCount(count: RuntimeScalar, way: RuntimeScalar): RuntimeScalar {
    if (typeof count.value !== "number") return count;
    const most = way.value === 1 ? this.used.bottom : this.used.right;
    return numberValue(Math.max(-most, Math.min(most, count.value)));
  }

  /** D2# is the area that the formula in D2 fills. */
  private spillReference(node: FormulaNode, sheet: SheetState): string {
    const inner = node.children[0];
    const home = inner?.sheet === undefined ? sheet : this.scope.book.sheet(inner.sheet);
    const anchor = inner?.area && home?.find(inner.area.top, inner.area.left);
    const area = anchor && this.fills(anchor);
    return anchor && area ? sheetPrefix(anchor.sheet.name) + areaAddress(area) : "#REF!";
  }

  private rewriteCall(
    source: string,
    node: FormulaNode,
    write: Write,
    sheet: SheetState
  ): string | undefined {
    const name = (node.name as string).toUpperCase();
    const [first, second, ...more] = node.children;
    if (!first) return undefined;
    if (POSITION_FUNCTIONS.has(name)) return this.rewritePosition(name, first, write, sheet);
    if (TEXT_JOINERS.has(name)) {
      const inner = { ...node, start: node.nameEnd as number };
      return name + writeShownParts(source, inner, write);
    }
    const rest = more.map((child) => `,${write(child)}`).join("");
    switch (name) {
      case "INDIRECT": {
        const style = second ? `,${write(second)}` : "";
        return `INDIRECT(${USED_TEXT}(${write(first)})${style})`;
      }
      case "OFFSET": {
        const parts = node.children.map((child, index) =>
          index < 3 || child.kind === "omitted"
            ? write(child)
            : `${USED_COUNT}(${write(child)},${index === 3 ? 1 : 2})`
        );
        return `OFFSET(${parts.join(",")})`;
      }
      case "TEXT": {
        if (!second || more.length > 0) return undefined;
        const native = `TEXT(${ROUNDED}(host_v,host_f),host_f)`;
        const given = `host_v,${write(first)},host_f,${write(second)}`;
        return `LET(${given},${ANY_TEXT}(host_v,host_f,${native}))`;
      }
      case "FIXED":
      case "DOLLAR": {
        if (second && second.kind !== "number") return undefined;
        // Both show two decimals unless told otherwise.
        const places = second ? write(second) : "2";
        return `${name}(ROUND(${write(first)},${places}),${places}${rest})`;
      }
      case "VALUE":
        if (second) return undefined;
        return `LET(host_v,${write(first)},${ANY_VALUE}(host_v,VALUE(host_v)))`;
      default:
        return undefined;
    }
  }

  /** Functions that ask where a cell is or what formula it holds are answered from the reference itself. */
  private rewritePosition(
    name: string,
    first: FormulaNode,
    write: Write,
    sheet: SheetState
  ): string | undefined {
    // The library counts one row and column in a reference that is broken.
    if (write(first) === "#REF!") return "#REF!";
    const { area, lastSheet } = first;
    if (first.kind !== "reference" || !area || lastSheet !== undefined) return undefined;
    if (name === "ROWS") return String(area.bottom - area.top + 1);
    if (name === "COLUMNS") return String(area.right - area.left + 1);
    if (name !== "FORMULATEXT") return undefined;
    const home = first.sheet === undefined ? sheet : this.scope.book.sheet(first.sheet);
    const formula = home?.find(area.top, area.left)?.formula;
    return formula ? `"=${formula.typed.replace(/"/g, '""')}"` : "#N/A";
  }
}

/** The sides of =, <, & and their kin as shown, to 15 digits; comparing with a text constant needs none of it. */
function writeShown(source: string, node: FormulaNode, write: Write): string | undefined {
  const withText = node.children.some((child) => child.kind === "text");
  return node.kind === "comparison" && withText ? undefined : writeShownParts(source, node, write);
}

function writeShownParts(source: string, node: FormulaNode, write: Write): string {
  const plain = new Set(["number", "text", "boolean", "error", "omitted"]);
  return writeAsRead(source, node, (child) =>
    plain.has(child.kind) ? write(child) : `${SHOWN}(${write(child)})`
  );
}
