/**
 * Turns the tree of a formula into code that works it out.
 *
 * A formula is worked out in one of two ways. In a plain one a range that stands where one value belongs means the cell
 * in the formula's own row or column (implicit intersection). In one that may spill, and inside functions that take
 * tables by their nature (SUMPRODUCT), it means all its cells and the answer is a table.
 */
import { MAX_COLUMN, MAX_ROW, type Area } from "../../core/cell-address.js";
import type { FormulaNode } from "./formula.js";
import { dataArea, type SheetState } from "./model.js";
import { combine, mapCells, OPERATIONS, toNumber } from "./operators.js";
import {
  intersect,
  isError,
  isLambda,
  isOneCell,
  isReference,
  NotHere,
  onlyArea,
  read,
  reference,
  REFERENCE,
  type Operand,
  type Place,
  type Reference,
  type SheetArea,
} from "./operands.js";
import {
  arrayValue,
  BLANK_VALUE,
  booleanValue,
  ERROR,
  errorValue,
  isArray,
  numberValue,
  textValue,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";
import { SPECIAL_FORMS } from "./special.js";
import { tableArea, tableReference } from "./tables.js";

export type Code = (at: Place) => Operand;

/** A function that takes its arguments as values. */
export interface ValueFunction {
  readonly minArity: number;
  readonly maxArity: number;
  /** a range is a table even where it is one cell; "any" is a value or a table as it comes */
  readonly argument: (index: number) => "range" | "value" | "any" | "placed";
  /** true where ranges among its arguments mean all their cells in a plain formula too */
  readonly takesTables: boolean;
  readonly invoke: (args: RuntimeValue[]) => RuntimeValue;
}

/** What code is made from beside the tree. */
export interface Source {
  readonly text: string;
  /** names that LET and LAMBDA give, in capitals */
  readonly locals: ReadonlySet<string>;
  /** true for the text of a name, whose relative references move with the formula that uses it */
  readonly moves: boolean;
  readonly functionNamed: (name: string) => ValueFunction | undefined;
  readonly isName: (name: string) => boolean;
}

/** Most calls of names and functions within each other. */
const MOST_DEPTH = 200;

export class Compiler {
  constructor(readonly source: Source) {}

  /** Code for a part of the formula. @param tables  true where ranges mean all their cells */
  compile(node: FormulaNode, tables: boolean): Code {
    const text = this.source.text.slice(node.start, node.end);
    switch (node.kind) {
      case "number": {
        const value = numberValue(Number(text));
        return () => value;
      }
      case "text": {
        const value = textValue(node.value as string);
        return () => value;
      }
      case "boolean": {
        const value = booleanValue(/^true$/i.test(text));
        return () => value;
      }
      case "error": {
        const value = errorValue(
          text.slice(text.lastIndexOf("!", text.length - 2) + 1).toUpperCase()
        );
        return () => value;
      }
      case "omitted":
        return () => BLANK_VALUE;
      case "reference":
        return this.reference(node);
      case "external":
        return () => {
          throw new NotHere();
        };
      case "name":
        return this.name(node);
      case "table":
        return this.table(node, text);
      case "spill":
        return this.spill(node);
      case "range":
        return this.range(node);
      case "intersection":
        return this.intersection(node);
      case "group":
        return this.group(node, tables);
      case "array":
        return this.array(node);
      case "percent": {
        const value = this.value(node.children[0] as FormulaNode, tables);
        return (at) =>
          mapCells(value(at), (scalar) => {
            const number = toNumber(scalar);
            return typeof number === "number" ? numberValue(number / 100) : number;
          });
      }
      case "run":
        return this.run(node, tables);
      case "joined":
      case "comparison":
        return this.chain(node, tables);
      case "call":
        return this.call(node, tables);
    }
  }

  /** Code for a part that is used as one value, or as a table where `tables` holds. */
  value(node: FormulaNode, tables: boolean): (at: Place) => RuntimeValue {
    const code = this.compile(node, tables);
    return tables ? (at) => read(code(at), at) : (at) => intersect(code(at), at);
  }

  // --- references ----------------------------------------------------------------------------------------------

  private reference(node: FormulaNode): Code {
    const { sheet: first, lastSheet, area } = node;
    if (!area) return () => errorValue("#REF!");
    // A name that reads like the address of a cell is the name.
    const written = this.source.text.slice(node.start, node.end);
    if (node.isCell && this.source.isName(written)) return this.name({ ...node, name: written });
    const move = this.source.moves ? this.mover(node) : undefined;
    let known: { home: SheetState; operand: Operand } | undefined;
    return (at) => {
      const home = first === undefined ? at.sheet : at.reader.book.sheet(first);
      if (!home) return errorValue("#REF!", `there is no sheet called ${first ?? ""}`);
      if (move || lastSheet !== undefined) {
        return this.through(at, home, lastSheet, move ? move(area, at) : area);
      }
      if (known?.home !== home) known = { home, operand: reference(home, area) };
      return known.operand;
    };
  }

  /** The same area on each of the sheets from one to another. */
  private through(at: Place, from: SheetState, to: string | undefined, area: Area): Operand {
    if (to === undefined) return reference(from, area);
    const last = at.reader.book.sheet(to);
    if (!last) return errorValue("#REF!", `there is no sheet called ${to}`);
    const [low, high] = [Math.min(from.index, last.index), Math.max(from.index, last.index)];
    const sheets = at.reader.book.sheets.filter(({ index }) => index >= low && index <= high);
    return { kind: REFERENCE, areas: sheets.map((sheet) => ({ sheet, area })) };
  }

  /** A name's references without $ stand as seen from A1 and move with the cell that uses the name. */
  private mover(node: FormulaNode): ((area: Area, at: Place) => Area) | undefined {
    const written = this.source.text.slice(node.addressStart, node.end);
    const parts = written.split(":").map((part) => part.trim());
    const fixed = parts.map((part) => ({
      column: /^\$[A-Za-z]/.test(part) || !/[A-Za-z]/.test(part),
      row: /\$\d/.test(part) || !/\d/.test(part),
    }));
    if (fixed.every(({ column, row }) => column && row)) return undefined;
    const [first, last = first] = fixed as [(typeof fixed)[0], (typeof fixed)[0] | undefined];
    const wrap = (value: number, by: number, most: number): number => ((value - 1 + by) % most) + 1;
    return ({ top, left, bottom, right }, { row, column }) => {
      const y1 = first!.row ? top : wrap(top, row - 1, MAX_ROW);
      const y2 = last!.row ? bottom : wrap(bottom, row - 1, MAX_ROW);
      const x1 = first!.column ? left : wrap(left, column - 1, MAX_COLUMN);
      const x2 = last!.column ? right : wrap(right, column - 1, MAX_COLUMN);
      return {
        top: Math.min(y1, y2),
        bottom: Math.max(y1, y2),
        left: Math.min(x1, x2),
        right: Math.max(x1, x2),
      };
    };
  }

  private name(node: FormulaNode): Code {
    const name = node.name as string;
    const upper = name.toUpperCase();
    const mayBeLocal = node.sheet === undefined && this.source.locals.has(upper);
    return (at) => {
      if (mayBeLocal) {
        for (let local = at.locals; local; local = local.outer) {
          if (local.name === upper) return local.value ?? BLANK_VALUE;
        }
      }
      return nameValue(name, node.sheet, at) ?? unknownName(name);
    };
  }

  private table(node: FormulaNode, text: string): Code {
    const wanted = tableReference(text);
    return (at) => {
      const own = at.sheet.tableAt(at.row, at.column);
      const named = node.name
        ? at.reader.tableNamed(node.name)
        : own && { table: own, sheet: at.sheet };
      if (!named) {
        return node.name
          ? errorValue("#REF!", `there is no table called ${node.name}`)
          : errorValue("#REF!", "this formula stands in no table");
      }
      const area = tableArea(wanted, named.table, at.row);
      return typeof area === "string" ? errorValue("#REF!", area) : reference(named.sheet, area);
    };
  }

  private spill(node: FormulaNode): Code {
    const anchor = this.compile(node.children[0] as FormulaNode, true);
    return (at) => {
      const operand = anchor(at);
      if (!isReference(operand)) return isError(operand) ? operand : errorValue("#REF!");
      const { sheet, area } = operand.areas[0] as SheetArea;
      const filled = at.reader.filledBy(sheet, area.top, area.left);
      return filled ? reference(sheet, filled) : errorValue("#REF!");
    };
  }

  /** The cells between two references, as in B1:INDEX(B:B,3). */
  private range(node: FormulaNode): Code {
    const [first, last] = node.children.map((child) => this.compile(child, true)) as [Code, Code];
    return (at) => {
      const [a, b] = [first(at), last(at)];
      if (isError(a)) return a;
      if (isError(b)) return b;
      if (!isReference(a) || !isReference(b)) return errorValue("#VALUE!");
      const [from, to] = [onlyArea(a), onlyArea(b)];
      if (!("area" in from)) return from;
      if (!("area" in to)) return to;
      if (from.sheet !== to.sheet) return errorValue("#VALUE!");
      return reference(from.sheet, {
        top: Math.min(from.area.top, to.area.top),
        left: Math.min(from.area.left, to.area.left),
        bottom: Math.max(from.area.bottom, to.area.bottom),
        right: Math.max(from.area.right, to.area.right),
      });
    };
  }

  private intersection(node: FormulaNode): Code {
    const [first, second] = node.children.map((child) => this.compile(child, true)) as [Code, Code];
    return (at) => {
      const [a, b] = [first(at), second(at)];
      if (isError(a)) return a;
      if (isError(b)) return b;
      if (!isReference(a) || !isReference(b)) return errorValue("#VALUE!");
      const areas: SheetArea[] = [];
      for (const one of a.areas) {
        for (const other of b.areas) {
          const area = {
            top: Math.max(one.area.top, other.area.top),
            left: Math.max(one.area.left, other.area.left),
            bottom: Math.min(one.area.bottom, other.area.bottom),
            right: Math.min(one.area.right, other.area.right),
          };
          const meet = area.top <= area.bottom && area.left <= area.right;
          if (meet && one.sheet === other.sheet) areas.push({ sheet: one.sheet, area });
        }
      }
      return areas.length > 0 ? { kind: REFERENCE, areas } : errorValue("#NULL!");
    };
  }

  private group(node: FormulaNode, tables: boolean): Code {
    const codes = node.children.map((child) => this.compile(child, tables));
    const [only] = codes;
    if (only && codes.length === 1) return only;
    return (at) => {
      const areas: SheetArea[] = [];
      for (const code of codes) {
        const operand = code(at);
        if (isError(operand)) return operand;
        if (!isReference(operand)) return errorValue("#VALUE!");
        areas.push(...operand.areas);
      }
      return { kind: REFERENCE, areas } satisfies Reference;
    };
  }

  private array(node: FormulaNode): Code {
    const values = node.children.map((child) => this.compile(child, true));
    const width = node.width as number;
    return (at) => {
      const rows: RuntimeScalar[][] = [];
      for (let start = 0; start < values.length; start += width) {
        rows.push(values.slice(start, start + width).map((code) => code(at) as RuntimeScalar));
      }
      return arrayValue(rows);
    };
  }

  // --- operators -----------------------------------------------------------------------------------------------

  private chain(node: FormulaNode, tables: boolean): Code {
    const values = node.children.map((child) => this.value(child, tables));
    const operations = (node.operators ?? []).map((sign) => OPERATIONS[sign]!);
    const [first, ...rest] = values as [(at: Place) => RuntimeValue];
    return (at) => {
      let answer = first(at);
      rest.forEach((value: (at: Place) => RuntimeValue, index: number) => {
        answer = counted(combine(operations[index]!, answer, value(at)), at);
      });
      return answer;
    };
  }

  /** Signs bind before ^, ^ before * and /, these before + and -; equals from left to right. */
  private run(node: FormulaNode, tables: boolean): Code {
    const { children, operators = [], signs = [] } = node;
    const only = children[0] as FormulaNode;
    if (children.length === 1) return this.signed(only, signs[0] ?? "", tables);
    type Step = (at: Place) => RuntimeValue;
    const operands: Step[] = children.map((child, index) => {
      const code = this.signed(child, signs[index] ?? "", tables);
      return tables ? (at) => read(code(at), at) : (at) => intersect(code(at), at);
    });
    const left = [...operators];
    for (const level of ["^", "*/", "+-"]) {
      for (let index = 0; index < left.length;) {
        const sign = left[index] as string;
        if (!level.includes(sign)) {
          index++;
          continue;
        }
        const [a, b] = [operands[index] as Step, operands[index + 1] as Step];
        const operation = OPERATIONS[sign]!;
        operands.splice(index, 2, (at) => counted(combine(operation, a(at), b(at)), at));
        left.splice(index, 1);
      }
    }
    return operands[0] as Code;
  }

  private signed(node: FormulaNode, signs: string, tables: boolean): Code {
    const code = this.compile(node, tables && !signs.includes("@"));
    if (signs === "") return code;
    const negative = [...signs].filter((sign) => sign === "-").length % 2 === 1;
    if (signs.includes("@")) {
      return (at) => negated(firstOf(intersect(code(at), at)), negative, signs.includes("-"));
    }
    const value = tables
      ? (at: Place) => read(code(at), at)
      : (at: Place) => intersect(code(at), at);
    if (!signs.includes("-")) return value;
    return (at) => mapCells(value(at), (scalar) => negated(scalar, negative, true));
  }

  // --- calls ---------------------------------------------------------------------------------------------------

  private call(node: FormulaNode, tables: boolean): Code {
    const written = node.name as string;
    const name = written.toUpperCase();
    if (this.source.locals.has(name)) return this.callName(node, written, tables);
    const special = SPECIAL_FORMS[name];
    if (special) return special(this, node, tables);
    const called = this.source.functionNamed(name);
    return called ? this.callFunction(node, called, tables) : this.callName(node, written, tables);
  }

  private callFunction(node: FormulaNode, called: ValueFunction, tables: boolean): Code {
    const { children } = node;
    const { minArity, maxArity, argument, invoke } = called;
    const name = (node.name as string).toUpperCase();
    if (children.length < minArity) {
      return () => errorValue("#VALUE!", `${name} needs at least ${minArity} arguments`);
    }
    if (children.length > maxArity) {
      return () => errorValue("#VALUE!", `${name} takes at most ${maxArity} arguments`);
    }
    const inTables = tables || called.takesTables;
    const args = children.map((child, index) => {
      const kind = argument(index);
      const code = kind === "value" ? this.value(child, tables) : this.compile(child, inTables);
      return { code, kind };
    });
    return (at) => {
      const values: RuntimeValue[] = [];
      for (const { code, kind } of args) {
        const operand = code(at);
        if (kind === "placed" && isReference(operand) && operand.areas.length === 1) {
          values.push(placed(operand.areas[0] as SheetArea, at));
        } else if (kind === "range" && isReference(operand)) {
          for (const area of operand.areas) values.push(asTable(area, at));
        } else values.push(read(operand, at));
      }
      at.reader.spend(1);
      return counted(invoke(values), at);
    };
  }

  /** A function that a name of the workbook or LET stands for. */
  private callName(node: FormulaNode, written: string, tables: boolean): Code {
    const args = node.children.map((child) => this.compile(child, tables));
    const target = this.name({ ...node, kind: "name", name: written });
    return (at) => {
      const lambda = target(at);
      if (!isLambda(lambda)) {
        return isError(lambda) && lambda.code !== "#NAME?" ? lambda : unknownFunction(written);
      }
      return lambda.call(
        args.map((arg) => arg(at)),
        at
      );
    };
  }
}

/** A range argument as a table, even where it is one cell. */
export function asTable({ sheet, area }: SheetArea, at: Place): RuntimeValue {
  if (!isOneCell(area)) return at.reader.table(sheet, area);
  return arrayValue([[at.reader.cell(sheet, area.top, area.left)]]);
}

/** The values of an area, with where it stands. */
function placed(where: SheetArea, at: Place): RuntimeValue {
  const table = asTable(where, at);
  const { top, left } = where.area;
  return isArray(table) ? { ...table, place: { sheet: where.sheet.name, top, left } } : table;
}

/** What a name of the workbook or a table by its bare name stands for. */
export function nameValue(
  name: string,
  sheetName: string | undefined,
  at: Place
): Operand | undefined {
  const { reader } = at;
  const scope = sheetName === undefined ? at.sheet : reader.book.sheet(sheetName);
  const table = sheetName === undefined ? reader.tableNamed(name) : undefined;
  if (table) return reference(table.sheet, dataArea(table.table));
  const code = scope && reader.name(name, scope);
  if (!code) return undefined;
  if (at.depth > MOST_DEPTH) return errorValue("#NUM!", `the name ${name} depends on itself`);
  const home = reader.nameHome(name, scope) ?? scope;
  return code({ ...at, sheet: home, locals: undefined, depth: at.depth + 1 });
}

function unknownName(name: string): RuntimeScalar {
  return errorValue("#NAME?", `nothing in this workbook is called ${name}`);
}

/** The words are found later: they may suggest a function with a name like it. */
function unknownFunction(_name: string): RuntimeScalar {
  return errorValue("#NAME?");
}

function firstOf(value: RuntimeValue): RuntimeScalar {
  return isArray(value) ? (value.rows[0]?.[0] ?? errorValue("#CALC!")) : value;
}

function negated(scalar: RuntimeScalar, negative: boolean, asNumber: boolean): RuntimeScalar {
  if (!asNumber || scalar.kind === ERROR) return scalar;
  const number = toNumber(scalar);
  return typeof number === "number" ? numberValue(negative ? -number : number) : number;
}

/** Counts the cells a formula makes on its way. */
function counted(value: RuntimeValue, { reader }: Place): RuntimeValue {
  if (isArray(value)) reader.spend(value.height * value.width);
  return value;
}
