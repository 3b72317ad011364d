/** COUNTIF, SUMIFS and their kin: what a criterion such as ">=1/2/2026" or "st*" means, and which cells meet it. */
import { cellCount } from "../../core/cell-address.js";
import { asTable, type Code, type Compiler } from "./code.js";
import { isShownAlike } from "./decimal.js";
import type { FormulaNode } from "./formula.js";
import { eachCell } from "./lift.js";
import { dateNumber } from "./number-format.js";
import {
  isReference,
  onlyArea,
  onSheet,
  read,
  reference,
  type Operand,
  type Place,
} from "./operands.js";
import { numberOf } from "./operators.js";
import {
  arrayValue,
  BLANK,
  BLANK_VALUE,
  BOOLEAN,
  ERROR,
  errorValue,
  isArray,
  NUMBER,
  numberValue,
  TEXT,
  type RuntimeArray,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";

type Test = (cell: RuntimeScalar) => boolean;

/**
 * The test a criterion stands for.
 * @source ECMA-376 part 1, 18.17.7.62 (COUNTIF): a value, or text of a comparison sign and a value; * and ? in text
 */
export function criterion(given: RuntimeScalar): Test {
  switch (given.kind) {
    case NUMBER:
      return equalsNumber(given.value as number);
    case BLANK:
      // An empty cell as a criterion counts as 0.
      return equalsNumber(0);
    case BOOLEAN:
      return ({ kind, value }) => kind === BOOLEAN && value === given.value;
    case ERROR:
      return ({ kind, code }) => kind === ERROR && code === given.code;
  }
  const [, sign = "", operand = ""] = /^(<>|<=|>=|=|<|>)?([\s\S]*)$/.exec(given.value as string)!;
  if (operand === "") return emptyTest(sign);
  const number = numberOf(operand) ?? dateNumber(operand);
  if (number !== undefined) return numberTest(sign, number);
  const upper = operand.toUpperCase();
  const equals =
    upper === "TRUE" || upper === "FALSE"
      ? ({ kind, value }: RuntimeScalar) => kind === BOOLEAN && value === (upper === "TRUE")
      : /^#[A-Z/0]+[!?A]$/.test(upper)
        ? ({ kind, code }: RuntimeScalar) => kind === ERROR && code === upper
        : textTest(operand);
  if (sign === "" || sign === "=") return equals;
  if (sign === "<>") return (cell) => !equals(cell);
  const wanted = operand.toLowerCase();
  return ({ kind, value }) => {
    if (kind !== TEXT) return false;
    const text = (value as string).toLowerCase();
    return holds(sign, text < wanted ? -1 : text > wanted ? 1 : 0);
  };
}

function equalsNumber(number: number): Test {
  return ({ kind, value }) =>
    kind === NUMBER
      ? isShownAlike(value as number, number)
      : kind === TEXT && numberOf(value as string) === number;
}

function numberTest(sign: string, number: number): Test {
  const equals = equalsNumber(number);
  if (sign === "" || sign === "=") return equals;
  if (sign === "<>") return (cell) => !equals(cell);
  return ({ kind, value }) => kind === NUMBER && holds(sign, (value as number) - number);
}

/** "" is an empty cell or empty text, "=" an empty cell, "<>" anything else. */
function emptyTest(sign: string): Test {
  switch (sign) {
    case "":
      return ({ kind, value }) => kind === BLANK || value === "";
    case "=":
      return ({ kind }) => kind === BLANK;
    case "<>":
      return ({ kind }) => kind !== BLANK;
    default:
      return () => false;
  }
}

function holds(sign: string, order: number): boolean {
  switch (sign) {
    case "<":
      return order < 0;
    case ">":
      return order > 0;
    case "<=":
      return order <= 0;
    default:
      return order >= 0;
  }
}

function textTest(pattern: string): Test {
  const wanted = pattern.toLowerCase();
  if (!/[*?~]/.test(wanted)) {
    return ({ kind, value }) => kind === TEXT && (value as string).toLowerCase() === wanted;
  }
  return ({ kind, value }) => kind === TEXT && matches(wanted, (value as string).toLowerCase());
}

/** Whether text fits a pattern: * any text, ? one character, ~ makes the next one plain. Takes time by their product. */
export function matches(pattern: string, text: string): boolean {
  const marks: string[] = [];
  for (let at = 0; at < pattern.length; at++) {
    const next = pattern[at + 1];
    if (pattern[at] === "~" && next !== undefined) {
      marks.push(next);
      at++;
    } else marks.push(pattern[at] === "*" ? ANY : pattern[at] === "?" ? ONE : pattern[at]!);
  }
  let [mark, at, star, from] = [0, 0, -1, 0];
  while (at < text.length) {
    if (marks[mark] === ANY) {
      star = mark++;
      from = at;
    } else if (mark < marks.length && (marks[mark] === ONE || marks[mark] === text[at])) {
      mark++;
      at++;
    } else if (star >= 0) {
      mark = star + 1;
      at = ++from;
    } else return false;
  }
  while (marks[mark] === ANY) mark++;
  return mark === marks.length;
}

const ANY = "any text";
const ONE = "one character";

interface Conditional {
  /** the place of the values, where there are any */
  readonly values?: "first" | "third";
  readonly fewest: number;
  readonly most: number;
  readonly answer: (values: readonly number[]) => RuntimeScalar;
}

const sum = (values: readonly number[]): number =>
  values.reduce((total, value) => total + value, 0);
const SUM = (values: readonly number[]): RuntimeScalar => numberValue(sum(values));
const AVERAGE = (values: readonly number[]): RuntimeScalar =>
  values.length === 0 ? errorValue("#DIV/0!") : numberValue(sum(values) / values.length);
const most = (values: readonly number[], pick: (a: number, b: number) => number): RuntimeScalar =>
  numberValue(values.length === 0 ? 0 : values.reduce((a, b) => pick(a, b)));

const KINDS: Readonly<Record<string, Conditional>> = {
  COUNTIF: { fewest: 2, most: 2, answer: ({ length }) => numberValue(length) },
  COUNTIFS: { fewest: 2, most: 254, answer: ({ length }) => numberValue(length) },
  SUMIF: { values: "third", fewest: 2, most: 3, answer: SUM },
  SUMIFS: { values: "first", fewest: 3, most: 255, answer: SUM },
  AVERAGEIF: { values: "third", fewest: 2, most: 3, answer: AVERAGE },
  AVERAGEIFS: { values: "first", fewest: 3, most: 255, answer: AVERAGE },
  MAXIFS: {
    values: "first",
    fewest: 3,
    most: 255,
    answer: (values) => most(values, Math.max),
  },
  MINIFS: {
    values: "first",
    fewest: 3,
    most: 255,
    answer: (values) => most(values, Math.min),
  },
};

type Special = (compiler: Compiler, node: FormulaNode, tables: boolean) => Code;

function conditional(name: string, kind: Conditional): Special {
  return (compiler, node, tables) => {
    const { children } = node;
    const shift = kind.values === "first" ? 1 : 0;
    const pairs = kind.values === "third" ? 1 : Math.floor((children.length - shift) / 2);
    const isComplete = kind.values === "third" || children.length === 2 * pairs + shift;
    if (children.length < kind.fewest || children.length > kind.most || !isComplete) {
      return () => errorValue("#VALUE!", `${name} was given ${children.length} arguments`);
    }
    const ranges = Array.from({ length: pairs }, (_, pair) =>
      compiler.compile(children[2 * pair + shift]!, tables)
    );
    const criteria = Array.from({ length: pairs }, (_, pair) =>
      compiler.value(children[2 * pair + shift + 1]!, tables)
    );
    const target = kind.values === "first" ? children[0] : children[2];
    const values =
      target && target.kind !== "omitted" ? compiler.compile(target, tables) : undefined;
    return (at) => {
      const operands = ranges.map((code) => code(at));
      const wanted = criteria.map((code) => code(at));
      const held = values?.(at);
      return perArea([...operands, ...(held ? [held] : [])], (parts) =>
        answerFor(name, kind, parts.slice(0, pairs), wanted, parts[pairs], at)
      );
    };
  };
}

/** One answer for each of several references that INDIRECT or OFFSET made; the only answer otherwise. */
function perArea(
  operands: readonly Operand[],
  answer: (operands: readonly Operand[]) => RuntimeValue
): RuntimeValue {
  const several = operands.find((operand) => isReference(operand) && operand.shape);
  if (!several || !isReference(several) || !several.shape) return answer(operands);
  const { height, width } = several.shape;
  return arrayValue(
    Array.from({ length: height }, (_, row) =>
      Array.from({ length: width }, (_unused, column) => {
        const index = row * width + column;
        const each = answer(
          operands.map((operand) =>
            isReference(operand) && operand.shape
              ? { kind: operand.kind, areas: [operand.areas[index]!] }
              : operand
          )
        );
        return isArray(each) ? each.rows[0]![0]! : each;
      })
    )
  );
}

function answerFor(
  name: string,
  kind: Conditional,
  ranges: readonly Operand[],
  wanted: readonly RuntimeValue[],
  values: Operand | undefined,
  at: Place
): RuntimeValue {
  const tables: RuntimeArray[] = [];
  let beyond = 0;
  for (const range of ranges) {
    const table = tableOf(range, at);
    if (!isArray(table)) return table;
    tables.push(table);
    if (isReference(range)) {
      const { area } = range.areas[0]!;
      beyond = cellCount(area) - cellCount(at.reader.usedPart(area));
    }
  }
  const first = tables[0] as RuntimeArray;
  const sized = values === undefined ? undefined : likeRange(values, ranges[0]!, kind);
  const target = sized === undefined ? first : tableOf(sized, at);
  if (!isArray(target)) return target;
  const isAlike = ({ height, width }: RuntimeArray): boolean =>
    height === first.height && width === first.width;
  if (![...tables, target].every(isAlike)) {
    return errorValue("#VALUE!", `the ranges of ${name} differ in size`);
  }
  at.reader.spend(first.height * first.width);
  const one = (criteria: readonly RuntimeScalar[]): RuntimeScalar => {
    const tests = criteria.map(criterion);
    return gather(kind, tables, tests, kind.values ? target : undefined, beyond);
  };
  if (!wanted.some(isArray)) return one(wanted as RuntimeScalar[]);
  return eachCell(
    wanted,
    () => true,
    (criteria) => {
      at.reader.spend(first.height * first.width);
      return one(criteria as RuntimeScalar[]);
    }
  );
}

function gather(
  kind: Conditional,
  tables: readonly RuntimeArray[],
  tests: readonly Test[],
  target: RuntimeArray | undefined,
  beyond: number
): RuntimeScalar {
  const found: number[] = [];
  const [first] = tables as [RuntimeArray];
  const meets = (row: number, column: number): boolean => {
    for (let index = 0; index < tests.length; index++) {
      if (!tests[index]!(tables[index]!.rows[row]![column]!)) return false;
    }
    return true;
  };
  for (let row = 0; row < first.height; row++) {
    for (let column = 0; column < first.width; column++) {
      if (!meets(row, column)) continue;
      const cell = target?.rows[row]![column];
      if (cell?.kind === ERROR) return cell;
      if (!cell || cell.kind === NUMBER) found.push((cell?.value ?? 1) as number);
    }
  }
  // Cells below and beside what the workbook uses are empty, and are counted where that is asked for.
  if (!target && beyond > 0 && tests.every((test) => test(BLANK_VALUE))) {
    return numberValue(found.length + beyond);
  }
  return kind.answer(found);
}

/** SUMIF and AVERAGEIF read as many cells from the third argument's first cell on as the first argument has. */
function likeRange(values: Operand, range: Operand, kind: Conditional): Operand {
  if (kind.values !== "third" || !isReference(values) || !isReference(range)) return values;
  const [from, like] = [onlyArea(values), onlyArea(range)];
  if (!("area" in from) || !("area" in like)) return values;
  const area = onSheet({
    top: from.area.top,
    left: from.area.left,
    bottom: from.area.top + like.area.bottom - like.area.top,
    right: from.area.left + like.area.right - like.area.left,
  });
  return area ? reference(from.sheet, area) : errorValue("#REF!");
}

function tableOf(operand: Operand, at: Place): RuntimeValue {
  if (isReference(operand)) {
    const only = onlyArea(operand);
    return "area" in only ? asTable(only, at) : only;
  }
  const value = read(operand, at);
  return isArray(value) || value.kind === ERROR ? value : arrayValue([[value]]);
}

export const CONDITIONAL_FORMS: Readonly<Record<string, Special>> = Object.fromEntries(
  Object.entries(KINDS).map(([name, kind]) => [name, conditional(name, kind)])
);
