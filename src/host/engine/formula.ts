/**
 * Reads the text of a formula into a tree that keeps every position, so that a formula can be checked, searched and
 * rewritten without disturbing what it does not concern.
 *
 * The calculation library has a reader of its own, but it skips characters it does not know, gives no positions and
 * no messages; this one is strict.
 */
import {
  columnLetters,
  columnNumber,
  MAX_COLUMN,
  MAX_ROW,
  parseCell,
  type Area,
} from "../../core/cell-address.js";

export type NodeKind =
  | "number"
  | "text"
  | "boolean"
  | "error"
  | "omitted"
  | "reference"
  | "name"
  | "table"
  | "external"
  | "call"
  | "spill"
  | "range"
  | "group"
  | "array"
  | "run"
  | "percent"
  | "intersection"
  | "joined"
  | "comparison";

export interface FormulaNode {
  readonly kind: NodeKind;
  readonly start: number;
  readonly end: number;
  readonly children: readonly FormulaNode[];
  /** function, defined name or table name as written */
  readonly name?: string;
  /** where the function name ends */
  readonly nameEnd?: number;
  /** sheet a reference or name is qualified with */
  readonly sheet?: string;
  /** last sheet of a reference through several sheets */
  readonly lastSheet?: string;
  readonly area?: Area;
  /** where the address starts, after the sheet */
  readonly addressStart?: number;
  /** text of a text constant */
  readonly value?: string;
  /** true for a single-cell address */
  readonly isCell?: boolean;
  /** true where a space or comma stands between references */
  readonly joinsReferences?: boolean;
  /** the signs between the operands, such as + or <= */
  readonly operators?: readonly string[];
  /** columns of an array constant */
  readonly width?: number;
  /** the signs before each operand of a run, such as - or @ */
  readonly signs?: readonly string[];
}

/** A formula that cannot be read; the message says what is wrong and where. */
export class FormulaSyntaxError extends Error {
  readonly position: number;
  constructor(message: string, position: number) {
    super(message);
    this.name = "FormulaSyntaxError";
    this.position = position;
  }
}

type TokenType =
  | "space"
  | "number"
  | "text"
  | "error"
  | "word"
  | "quoted"
  | "bracket"
  | "operator"
  | "comparison"
  | "("
  | ")"
  | "{"
  | "}"
  | ","
  | ";"
  | ":"
  | "!"
  | "%"
  | "#"
  | "@";

interface Token {
  readonly type: TokenType;
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

const SPACE = /[\s\u00a0]+/y;
const NUMBER = /(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const TEXT = /"(?:[^"]|"")*"/y;
const QUOTED = /'(?:[^']|'')*'/y;
const ERROR =
  /#(?:N\/A|NULL!|DIV\/0!|VALUE!|REF!|NAME\?|NUM!|CALC!|SPILL!|GETTING_DATA|CONNECT!|BLOCKED!|UNKNOWN!|FIELD!|BUSY!)/iy;
const WORD = /[$\p{L}_\\][\p{L}\p{N}\p{M}_.$\\?]*/uy;
const COMPARISON = /<>|<=|>=|[<>=]/y;

function tokenize(source: string): Token[] {
  const tokens: Token[] = [];
  let at = 0;
  const take = (type: TokenType, end: number): void => {
    tokens.push({ type, start: at, end, text: source.slice(at, end) });
    at = end;
  };
  const match = (type: TokenType, pattern: RegExp): boolean => {
    pattern.lastIndex = at;
    const found = pattern.exec(source);
    if (!found) return false;
    take(type, at + found[0].length);
    return true;
  };
  while (at < source.length) {
    const character = source[at] as string;
    if (match("space", SPACE)) continue;
    switch (character) {
      case '"':
        if (match("text", TEXT)) continue;
        throw new FormulaSyntaxError("a text has no closing quote", at);
      case "'":
        if (match("quoted", QUOTED)) continue;
        throw new FormulaSyntaxError("a sheet name has no closing quote", at);
      case "[":
        take("bracket", bracketEnd(source, at));
        continue;
      case "#": {
        const last = tokens[tokens.length - 1];
        const follows = last?.type === "word" || last?.type === ")";
        if (follows) {
          take("#", at + 1);
          continue;
        }
        if (match("error", ERROR)) continue;
        throw new FormulaSyntaxError("# stands where no spilled cell is named", at);
      }
      case "(":
      case ")":
      case "{":
      case "}":
      case ",":
      case ";":
      case ":":
      case "!":
      case "%":
      case "@":
        take(character, at + 1);
        continue;
      case "+":
      case "-":
      case "*":
      case "/":
      case "^":
      case "&":
        take("operator", at + 1);
        continue;
    }
    if (match("comparison", COMPARISON) || match("number", NUMBER) || match("word", WORD)) continue;
    throw new FormulaSyntaxError(`the character ${character} cannot stand here`, at);
  }
  return tokens;
}

/** Position after the bracket group that opens at `start`; an apostrophe makes the next character plain. */
function bracketEnd(source: string, start: number): number {
  let depth = 0;
  for (let at = start; at < source.length; at++) {
    const character = source[at];
    if (character === "'") at++;
    else if (character === "[") depth++;
    else if (character === "]" && --depth === 0) return at + 1;
  }
  throw new FormulaSyntaxError("a bracket [ has no closing ]", start);
}

/** Levels of nesting a formula may have; well above the 64 that desktop programs allow. */
const MAX_DEPTH = 200;

class Parser {
  private readonly tokens: Token[];
  private at = 0;
  private depth = 0;
  constructor(private readonly source: string) {
    this.tokens = tokenize(source);
  }

  parse(): FormulaNode {
    const node = this.comparison();
    this.skipSpace();
    const left = this.tokens[this.at];
    if (left) throw new FormulaSyntaxError(`${left.text} is not expected here`, left.start);
    return node;
  }

  private peek(): Token | undefined {
    return this.tokens[this.at];
  }

  private skipSpace(): void {
    while (this.tokens[this.at]?.type === "space") this.at++;
  }

  private fail(expected: string): FormulaSyntaxError {
    const token = this.peek();
    if (token?.text === ";") {
      return new FormulaSyntaxError("separate arguments with commas here, not with ;", token.start);
    }
    return token
      ? new FormulaSyntaxError(`${expected} is missing before ${token.text}`, token.start)
      : new FormulaSyntaxError(`${expected} is missing at the end`, this.source.length);
  }

  /** operand { comparison-sign operand } */
  private comparison(): FormulaNode {
    if (++this.depth > MAX_DEPTH) throw new FormulaSyntaxError("the formula is nested too deep", 0);
    const node = this.listOf(
      "comparison",
      (token) => token.type === "comparison",
      () =>
        this.listOf(
          "joined",
          (token) => token.text === "&",
          () => this.run()
        )
    );
    this.depth--;
    return node;
  }

  /** One operand, or several with a kind of sign between them. */
  private listOf(
    kind: "comparison" | "joined",
    isSign: (token: Token) => boolean,
    operand: () => FormulaNode
  ): FormulaNode {
    const operands = [operand()];
    const operators: string[] = [];
    for (;;) {
      const before = this.at;
      this.skipSpace();
      const token = this.peek();
      if (!token || !isSign(token)) {
        this.at = before;
        break;
      }
      this.at++;
      operators.push(token.text);
      operands.push(operand());
    }
    const first = operands[0] as FormulaNode;
    if (operands.length === 1) return first;
    const last = operands[operands.length - 1] as FormulaNode;
    return { kind, start: first.start, end: last.end, children: operands, operators };
  }

  /** Signs, operands and arithmetic; precedence among them does not matter to a rewrite. */
  private run(): FormulaNode {
    this.skipSpace();
    const start = this.peek()?.start ?? this.source.length;
    const children: FormulaNode[] = [];
    const signs: string[] = [];
    const operators: string[] = [];
    for (;;) {
      this.skipSpace();
      let token = this.peek();
      let before = "";
      while (token && (token.text === "+" || token.text === "-" || token.type === "@")) {
        before += token.text;
        this.at++;
        this.skipSpace();
        token = this.peek();
      }
      signs.push(before);
      children.push(this.operand());
      const beforeSpace = this.at;
      this.skipSpace();
      const sign = this.peek();
      if (sign?.type !== "operator" || sign.text === "&") {
        this.at = beforeSpace;
        break;
      }
      operators.push(sign.text);
      this.at++;
    }
    const last = children[children.length - 1] as FormulaNode;
    if (children.length === 1 && signs[0] === "") return last;
    return { kind: "run", start, end: last.end, children, operators, signs };
  }

  /** One operand with what may follow it: %, #, a range colon, an intersection space. */
  private operand(): FormulaNode {
    let node = this.primary();
    for (;;) {
      const token = this.peek();
      if (!token) return node;
      if (token.type === "#") {
        this.at++;
        node = { kind: "spill", start: node.start, end: token.end, children: [node] };
      } else if (token.type === "%") {
        this.at++;
        node = { kind: "percent", start: node.start, end: token.end, children: [node] };
      } else if (token.type === ":") {
        this.at++;
        this.skipSpace();
        const other = this.primary();
        node = { kind: "range", start: node.start, end: other.end, children: [node, other] };
      } else if (token.type === "space" && isReferenceLike(node) && this.startsReference()) {
        this.skipSpace();
        const other = this.operand();
        if (!isReferenceLike(other)) {
          throw new FormulaSyntaxError("an operator is missing", other.start);
        }
        node = {
          kind: "intersection",
          start: node.start,
          end: other.end,
          children: [node, other],
          joinsReferences: true,
        };
      } else {
        return node;
      }
    }
  }

  private startsReference(): boolean {
    let at = this.at;
    while (this.tokens[at]?.type === "space") at++;
    const type = this.tokens[at]?.type;
    return type === "word" || type === "quoted" || type === "bracket" || type === "(";
  }

  private primary(): FormulaNode {
    const token = this.peek();
    if (!token) throw this.fail("a value");
    const { start, end } = token;
    const next = this.tokens[this.at + 1];
    switch (token.type) {
      case "number":
        if (next?.type === ":" && this.tokens[this.at + 2]) return this.rowRange(start);
        this.at++;
        return { kind: "number", start, end, children: [] };
      case "text":
        this.at++;
        return {
          kind: "text",
          start,
          end,
          children: [],
          value: token.text.slice(1, -1).replace(/""/g, '"'),
        };
      case "error":
        this.at++;
        return { kind: "error", start, end, children: [] };
      case "(":
        return this.group();
      case "{":
        return this.array();
      case "bracket":
        if (/^\[[^\]]*\]$/.test(token.text) && this.isExternal()) return this.external(start);
        this.at++;
        return { kind: "table", start, end, children: [], name: "" };
      case "quoted": {
        if (next?.type !== "!") throw new FormulaSyntaxError("a quoted name is not a value", start);
        const name = token.text.slice(1, -1).replace(/''/g, "'");
        if (name.includes("[")) return this.external(start);
        this.at += 2;
        const [sheet, lastSheet] = splitSheets(name);
        return this.sheetMember(start, sheet, lastSheet);
      }
      case "word":
        return this.word(token);
      default:
        throw this.fail("a value");
    }
  }

  /** [2]Sheet!A1 or [2]!name: something in another workbook */
  private isExternal(): boolean {
    const one = this.tokens[this.at + 1];
    return one?.type === "!" || (one?.type === "word" && this.tokens[this.at + 2]?.type === "!");
  }

  private external(start: number): FormulaNode {
    let end = start;
    while (this.peek() && (this.peek() as Token).type !== "!") this.at++;
    this.at++;
    const member = this.peek();
    if (!member) throw this.fail("a cell");
    const node = this.primary();
    end = node.end;
    return { kind: "external", start, end, children: [] };
  }

  private word(token: Token): FormulaNode {
    const { start, end, text } = token;
    const next = this.tokens[this.at + 1];
    if (next?.type === "(") return this.call(token);
    if (next?.type === "!") {
      this.at += 2;
      return this.sheetMember(start, text, undefined);
    }
    if (next?.type === "bracket" && next.start === end) {
      this.at += 2;
      return { kind: "table", start, end: next.end, children: [], name: text };
    }
    if (next?.type === ":") {
      const other = this.tokens[this.at + 2];
      if (other?.type === "word" && this.tokens[this.at + 3]?.type === "!") {
        this.at += 4;
        return this.sheetMember(start, text, other.text);
      }
    }
    return this.address(start, undefined, undefined);
  }

  private sheetMember(start: number, sheet: string, lastSheet: string | undefined): FormulaNode {
    const token = this.peek();
    if (token?.type === "error") {
      this.at++;
      return { kind: "error", start, end: token.end, children: [] };
    }
    if (token?.type === "number") return this.rowRange(start, sheet, lastSheet);
    if (token?.type === "word") {
      if (this.tokens[this.at + 1]?.type === "(") {
        throw new FormulaSyntaxError("a function cannot belong to a sheet", token.start);
      }
      return this.address(start, sheet, lastSheet);
    }
    throw this.fail("a cell");
  }

  /** A cell, a range, whole columns or rows, TRUE or FALSE, or a name. */
  private address(start: number, sheet?: string, lastSheet?: string): FormulaNode {
    const token = this.peek() as Token;
    const colon = this.tokens[this.at + 1];
    const other = colon?.type === ":" ? this.tokens[this.at + 2] : undefined;
    const addressStart = token.start;
    const place = {
      ...(sheet === undefined ? {} : { sheet }),
      ...(lastSheet === undefined ? {} : { lastSheet }),
    };
    const first = parseCell(token.text);
    if (first) {
      const second = other?.type === "word" ? parseCell(other.text) : undefined;
      const afterOther = this.tokens[this.at + 3]?.type;
      if (second && other && afterOther !== "(" && afterOther !== "!") {
        this.at += 3;
        const area = {
          top: Math.min(first.row, second.row),
          left: Math.min(first.column, second.column),
          bottom: Math.max(first.row, second.row),
          right: Math.max(first.column, second.column),
        };
        return {
          kind: "reference",
          start,
          end: other.end,
          children: [],
          area,
          addressStart,
          ...place,
        };
      }
      this.at++;
      const area = { top: first.row, left: first.column, bottom: first.row, right: first.column };
      return {
        kind: "reference",
        start,
        end: token.end,
        children: [],
        area,
        addressStart,
        isCell: true,
        ...place,
      };
    }
    const columns = wholeColumns(token.text, other?.type === "word" ? other.text : undefined);
    if (columns && other) {
      this.at += 3;
      return {
        kind: "reference",
        start,
        end: other.end,
        children: [],
        area: columns,
        addressStart,
        ...place,
      };
    }
    if (/^\$\d+$/.test(token.text) && other) return this.rowRange(start, sheet, lastSheet);
    this.at++;
    if (/^(?:TRUE|FALSE)$/i.test(token.text) && sheet === undefined) {
      return { kind: "boolean", start, end: token.end, children: [] };
    }
    if (token.text.includes("$")) {
      throw new FormulaSyntaxError(`${token.text} is not a cell`, token.start);
    }
    return { kind: "name", start, end: token.end, children: [], name: token.text, ...place };
  }

  private rowRange(start: number, sheet?: string, lastSheet?: string): FormulaNode {
    const first = this.tokens[this.at] as Token;
    const last = this.tokens[this.at + 2];
    const a = Number(first.text.replace("$", ""));
    const b = Number((last?.text ?? "").replace("$", ""));
    const whole = (value: number): boolean =>
      Number.isInteger(value) && value >= 1 && value <= MAX_ROW;
    if (this.tokens[this.at + 1]?.type !== ":" || !last || !whole(a) || !whole(b)) {
      throw new FormulaSyntaxError(`${first.text} is not a cell`, first.start);
    }
    this.at += 3;
    return {
      kind: "reference",
      start,
      end: last.end,
      children: [],
      addressStart: first.start,
      area: { top: Math.min(a, b), left: 1, bottom: Math.max(a, b), right: MAX_COLUMN },
      ...(sheet === undefined ? {} : { sheet }),
      ...(lastSheet === undefined ? {} : { lastSheet }),
    };
  }

  private group(): FormulaNode {
    const open = this.tokens[this.at++] as Token;
    const children = [this.comparison()];
    this.skipSpace();
    while (this.peek()?.type === ",") {
      this.at++;
      children.push(this.comparison());
      this.skipSpace();
    }
    const close = this.expect(")");
    const joins = children.length > 1;
    return {
      kind: "group",
      start: open.start,
      end: close.end,
      children,
      ...(joins ? { joinsReferences: true } : {}),
    };
  }

  private array(): FormulaNode {
    const open = this.tokens[this.at++] as Token;
    const children: FormulaNode[] = [];
    const widths: number[] = [0];
    for (;;) {
      this.skipSpace();
      const element = this.run();
      const constant = element.kind === "run" ? element.children[0] : element;
      if (!constant || !["number", "text", "boolean", "error"].includes(constant.kind)) {
        throw new FormulaSyntaxError("an array constant takes plain values only", element.start);
      }
      children.push(element);
      widths[widths.length - 1] = (widths[widths.length - 1] as number) + 1;
      this.skipSpace();
      const separator = this.peek()?.type;
      if (separator === ";") widths.push(0);
      if (separator !== "," && separator !== ";") break;
      this.at++;
    }
    if (widths.some((width) => width !== widths[0])) {
      throw new FormulaSyntaxError("the rows of an array constant differ in length", open.start);
    }
    const close = this.expect("}");
    return {
      kind: "array",
      start: open.start,
      end: close.end,
      children,
      width: widths[0] as number,
    };
  }

  private call(token: Token): FormulaNode {
    this.at += 2;
    const children: FormulaNode[] = [];
    this.skipSpace();
    if (this.peek()?.type !== ")") {
      for (;;) {
        this.skipSpace();
        const next = this.peek();
        if (next?.type === "," || next?.type === ")") {
          children.push({ kind: "omitted", start: next.start, end: next.start, children: [] });
        } else {
          children.push(this.comparison());
        }
        this.skipSpace();
        if (this.peek()?.type !== ",") break;
        this.at++;
      }
    }
    const close = this.expect(")");
    return {
      kind: "call",
      start: token.start,
      end: close.end,
      children,
      name: token.text,
      nameEnd: token.end,
    };
  }

  private expect(type: ")" | "}"): Token {
    this.skipSpace();
    const token = this.peek();
    if (token?.type !== type) throw this.fail(`a closing ${type}`);
    this.at++;
    return token;
  }
}

function splitSheets(name: string): [string, string | undefined] {
  const colon = name.indexOf(":");
  return colon < 0 ? [name, undefined] : [name.slice(0, colon), name.slice(colon + 1)];
}

function wholeColumns(first: string, second: string | undefined): Area | undefined {
  const pattern = /^\$?([A-Za-z]{1,3})$/;
  const a = pattern.exec(first)?.[1];
  const b = second === undefined ? undefined : pattern.exec(second)?.[1];
  if (!a || !b) return undefined;
  const left = columnNumber(a);
  const right = columnNumber(b);
  if (left > MAX_COLUMN || right > MAX_COLUMN) return undefined;
  return { top: 1, left: Math.min(left, right), bottom: MAX_ROW, right: Math.max(left, right) };
}

function isReferenceLike(node: FormulaNode): boolean {
  return (
    ["reference", "name", "table", "spill", "range", "call", "group", "external"].includes(
      node.kind
    ) || node.joinsReferences === true
  );
}

/**
 * Reads a formula (without its equals sign).
 * @throws {FormulaSyntaxError} where it is not a formula
 */
export function parseFormula(source: string): FormulaNode {
  return new Parser(source).parse();
}

/**
 * Writes a tree back to text. `change` may give other text for a node; it gets a function that writes a child.
 * What `change` leaves alone is written exactly as it stood.
 */
export function writeFormula(
  source: string,
  node: FormulaNode,
  change: (node: FormulaNode, write: (child: FormulaNode) => string) => string | undefined
): string {
  const write = (inner: FormulaNode): string =>
    change(inner, write) ?? writeAsRead(source, inner, write);
  return write(node);
}

/** A node as it stood, its children written by `write`. */
export function writeAsRead(
  source: string,
  node: FormulaNode,
  write: (child: FormulaNode) => string
): string {
  let text = "";
  let at = node.start;
  for (const child of node.children) {
    text += source.slice(at, child.start) + write(child);
    at = child.end;
  }
  return text + source.slice(at, node.end);
}

/** Calls `visit` for a node and everything below it. */
export function walkFormula(node: FormulaNode, visit: (node: FormulaNode) => void): void {
  visit(node);
  for (const child of node.children) walkFormula(child, visit);
}

/** A formula as it reads when it is copied some rows down and columns right (what a shared formula stores). */
export function shiftFormula(source: string, rows: number, columns: number): string {
  const tree = parseFormula(source);
  return writeFormula(source, tree, (node) => {
    if (node.kind !== "reference") return undefined;
    const prefix = source.slice(node.start, node.addressStart);
    const parts = source.slice(node.addressStart, node.end).split(":");
    const moved = parts.map((part) => shiftPart(part.trim(), rows, columns));
    return moved.includes(undefined) ? "#REF!" : prefix + moved.join(":");
  });
}

function shiftPart(part: string, rows: number, columns: number): string | undefined {
  const found = /^(\$?)([A-Za-z]*)(\$?)(\d*)$/.exec(part);
  if (!found) return part;
  const [, columnMark = "", letters = "", middleMark = "", digits = ""] = found;
  // In $5 (a whole row) the only mark stands before the digits and lands in the first group.
  const rowMark = letters === "" ? columnMark : middleMark;
  let text = "";
  if (letters !== "") {
    const column = columnNumber(letters) + (columnMark ? 0 : columns);
    if (column < 1 || column > MAX_COLUMN) return undefined;
    text += columnMark + columnLetters(column);
  }
  if (digits !== "") {
    const row = Number(digits) + (rowMark ? 0 : rows);
    if (row < 1 || row > MAX_ROW) return undefined;
    text += rowMark + String(row);
  }
  return text;
}
