/**
 * Functions that must see their arguments before they are worked out: those that choose among them, name values, make
 * references, or ask where a cell stands.
 */
import { cellAddress, cellCount, sheetPrefix, type Area } from "../../core/cell-address.js";
import type { Code, Compiler } from "./code.js";
import { asTable } from "./code.js";
import { CONDITIONAL_FORMS } from "./criteria.js";
import type { FormulaNode } from "./formula.js";
import { lifted } from "./lift.js";
import { libraryFunction } from "./library.js";
import type { SheetState } from "./model.js";
import { cellOf, compareScalars, toBoolean, toNumber, toText } from "./operators.js";
import {
  isError,
  isLambda,
  isReference,
  LAMBDA,
  onlyArea,
  onSheet,
  read,
  REFERENCE,
  reference,
  single,
  type Lambda,
  type Locals,
  type Operand,
  type Place,
  type SheetArea,
} from "./operands.js";
import {
  arrayValue,
  BLANK,
  BLANK_VALUE,
  booleanValue,
  ERROR,
  errorValue,
  isArray,
  numberValue,
  TEXT,
  textValue,
  type RuntimeArray,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";

type Special = (compiler: Compiler, node: FormulaNode, tables: boolean) => Code;
type Value = (at: Place) => RuntimeValue;

/** Calls of LAMBDA functions within each other. */
const MOST_DEPTH = 200;

const WRONG = errorValue("#VALUE!");
const FEW = (name: string): Code => {
  const error = errorValue("#VALUE!", `${name} needs more arguments`);
  return () => error;
};

/** A form of at least `fewest` and at most `most` arguments. */
function form(fewest: number, most: number, make: Special): Special {
  return (compiler, node, tables) => {
    const name = (node.name as string).toUpperCase();
    if (node.children.length < fewest) return FEW(name);
    if (node.children.length > most) {
      const error = errorValue("#VALUE!", `${name} takes at most ${most} arguments`);
      return () => error;
    }
    return make(compiler, node, tables);
  };
}

function child(node: FormulaNode, index: number): FormulaNode {
  return node.children[index] as FormulaNode;
}

/** Values broadcast over the size of the largest. */
function overAll(
  values: readonly RuntimeValue[],
  at: Place,
  change: (cells: RuntimeScalar[]) => RuntimeScalar
): RuntimeValue {
  const tables = values.filter(isArray);
  const height = Math.max(...tables.map((table) => table.height));
  const width = Math.max(...tables.map((table) => table.width));
  at.reader.spend(height * width);
  return arrayValue(
    Array.from({ length: height }, (_, row) =>
      Array.from({ length: width }, (_unused, column) =>
        change(values.map((value) => cellOf(value, row, column)))
      )
    )
  );
}

// --- choosing ----------------------------------------------------------------------------------------------------------

const IF = form(2, 3, (compiler, node, tables) => {
  const condition = compiler.value(child(node, 0), tables);
  const [, then, otherwise] = node.children.map((each) => compiler.compile(each, tables));
  const no: Code = otherwise ?? (() => booleanValue(false));
  return (at) => {
    const held = condition(at);
    if (!isArray(held)) {
      const holds = toBoolean(held);
      return typeof holds === "boolean" ? (holds ? then! : no)(at) : holds;
    }
    const values = [held, read(then!(at), at), read(no(at), at)];
    return overAll(values, at, ([test, yes, other]) => {
      const holds = toBoolean(test!);
      return typeof holds === "boolean" ? (holds ? yes! : other!) : holds;
    });
  };
});

function ifError(caught: (error: RuntimeScalar) => boolean): Special {
  return form(2, 2, (compiler, node, tables) => {
    const tried = compiler.value(child(node, 0), tables);
    const otherwise = compiler.compile(child(node, 1), tables);
    return (at) => {
      const value = tried(at);
      const isCaught = (each: RuntimeScalar): boolean => each.kind === ERROR && caught(each);
      if (!isArray(value)) return isCaught(value) ? otherwise(at) : value;
      if (!value.rows.some((row) => row.some(isCaught))) return value;
      return overAll([value, read(otherwise(at), at)], at, ([each, other]) =>
        isCaught(each!) ? other! : each!
      );
    };
  });
}

const IFS = form(2, 254, (compiler, node, tables) => {
  const tests = node.children.filter((_, index) => index % 2 === 0);
  if (tests.length * 2 !== node.children.length) return () => errorValue("#N/A");
  const conditions = tests.map((test) => compiler.value(test, tables));
  const answers = node.children
    .filter((_, index) => index % 2 === 1)
    .map((answer) => compiler.compile(answer, tables));
  return (at) => {
    for (const [index, condition] of conditions.entries()) {
      const held = condition(at);
      if (isArray(held)) {
        const rest = conditions
          .slice(index)
          .flatMap((each, step): RuntimeValue[] => [
            step === 0 ? held : each(at),
            read(answers[index + step]!(at), at),
          ]);
        return overAll(rest, at, (cells) => {
          for (let step = 0; step < cells.length; step += 2) {
            const holds = toBoolean(cells[step]!);
            if (typeof holds !== "boolean") return holds;
            if (holds) return cells[step + 1]!;
          }
          return errorValue("#N/A");
        });
      }
      const holds = toBoolean(held);
      if (typeof holds !== "boolean") return holds;
      if (holds) return answers[index]!(at);
    }
    return errorValue("#N/A", "no condition of IFS holds");
  };
});

const SWITCH = form(3, 254, (compiler, node, tables) => {
  const wanted = compiler.value(child(node, 0), tables);
  const rest = node.children.slice(1);
  const pairs = Math.floor(rest.length / 2);
  const values = rest.slice(0, 2 * pairs).map((each, index) => ({
    value: compiler.value(each, tables),
    code: compiler.compile(each, tables),
    isCase: index % 2 === 0,
  }));
  const otherwise: Code =
    rest.length % 2 === 1
      ? compiler.compile(rest[rest.length - 1] as FormulaNode, tables)
      : () => errorValue("#N/A", "no case of SWITCH fits");
  const isSame = (a: RuntimeScalar, b: RuntimeScalar): boolean =>
    a.kind !== ERROR && b.kind !== ERROR && compareScalars(a, b) === 0;
  return (at) => {
    const value = wanted(at);
    if (isArray(value)) {
      const all = [value, ...values.map((each) => each.value(at)), read(otherwise(at), at)];
      return overAll(all, at, ([one, ...cells]) => {
        if (one!.kind === ERROR) return one!;
        for (let step = 0; step + 1 < cells.length; step += 2) {
          if (isSame(one!, cells[step]!)) return cells[step + 1]!;
        }
        return cells[cells.length - 1]!;
      });
    }
    if (value.kind === ERROR) return value;
    for (let step = 0; step < values.length; step += 2) {
      const one = values[step]!.value(at);
      if (isSame(value, isArray(one) ? one.rows[0]![0]! : one)) return values[step + 1]!.code(at);
    }
    return otherwise(at);
  };
});

const CHOOSE = form(2, 255, (compiler, node, tables) => {
  const which = compiler.value(child(node, 0), tables);
  const choices = node.children.slice(1).map((each) => compiler.compile(each, tables));
  const place = (value: RuntimeScalar): number | RuntimeScalar => {
    const number = toNumber(value);
    if (typeof number !== "number") return number;
    const index = Math.trunc(number);
    return index >= 1 && index <= choices.length
      ? index - 1
      : errorValue(
          "#VALUE!",
          `CHOOSE has ${choices.length} values and was asked for number ${index}`
        );
  };
  return (at) => {
    const value = which(at);
    if (!isArray(value)) {
      const index = place(value);
      return typeof index === "number" ? choices[index]!(at) : index;
    }
    const all = [value, ...choices.map((choice) => read(choice(at), at))];
    return overAll(all, at, ([one, ...cells]) => {
      const index = place(one!);
      return typeof index === "number" ? cells[index]! : index;
    });
  };
});

// --- naming ------------------------------------------------------------------------------------------------------------

function localName(node: FormulaNode): string | undefined {
  return node.kind === "name" && node.sheet === undefined
    ? (node.name as string).replace(/^_xlpm\./i, "").toUpperCase()
    : undefined;
}

const LET = form(3, 253, (compiler, node, tables) => {
  const last = node.children.length - 1;
  if (last % 2 !== 0) return () => WRONG;
  const steps: { name: string; code: Code }[] = [];
  for (let index = 0; index < last; index += 2) {
    const name = localName(child(node, index));
    if (name === undefined) return () => WRONG;
    steps.push({ name, code: compiler.compile(child(node, index + 1), tables) });
  }
  const body = compiler.compile(child(node, last), tables);
  return (at) => {
    let { locals } = at;
    for (const { name, code } of steps) {
      locals = { name, value: code({ ...at, locals }), outer: locals };
    }
    return body({ ...at, locals });
  };
});

const MAKE_LAMBDA = form(1, 254, (compiler, node) => {
  const last = node.children.length - 1;
  const names = node.children.slice(0, last).map(localName);
  if (names.includes(undefined)) return () => WRONG;
  const body = compiler.compile(child(node, last), true);
  return (made): Lambda => ({
    kind: LAMBDA,
    count: last,
    call: (args, at) => {
      if (args.length > last) return errorValue("#VALUE!", `this function takes ${last} arguments`);
      if (at.depth > MOST_DEPTH) return errorValue("#NUM!", "a function calls itself too often");
      let locals: Locals | undefined = made.locals;
      names.forEach((name, index) => {
        locals = { name: name as string, value: args[index], outer: locals };
      });
      at.reader.spend(1);
      return body({ ...made, locals, depth: at.depth + 1 });
    },
  });
});

const ISOMITTED = form(1, 1, (compiler, node) => {
  const name = localName(child(node, 0));
  void compiler;
  return (at) => {
    for (let local = at.locals; local; local = local.outer) {
      if (local.name === name) return booleanValue(local.value === undefined);
    }
    return booleanValue(false);
  };
});

// --- functions applied to tables ---------------------------------------------------------------------------------------

function tableOf(operand: Operand, at: Place): RuntimeArray | RuntimeScalar {
  const value = read(operand, at);
  return isArray(value) || value.kind === ERROR ? value : arrayValue([[value]]);
}

/** What a function gives for one cell; a table in a cell is an error. */
function oneAnswer(operand: Operand, at: Place): RuntimeScalar {
  const value = read(operand, at);
  if (!isArray(value)) return value;
  return value.height * value.width === 1
    ? value.rows[0]![0]!
    : errorValue("#CALC!", "a table stands where one value should be");
}

/** A function whose last argument is a LAMBDA. */
function withLambda(
  fewest: number,
  most: number,
  work: (args: readonly Operand[], lambda: Lambda, at: Place) => Operand
): Special {
  return form(fewest, most, (compiler, node) => {
    const codes = node.children.map((each) => compiler.compile(each, true));
    return (at) => {
      const operands = codes.map((code) => code(at));
      const lambda = operands.pop() as Operand;
      if (!isLambda(lambda)) return isError(lambda) ? lambda : WRONG;
      return work(operands, lambda, at);
    };
  });
}

const MAP = withLambda(2, 254, (args, lambda, at) => {
  const tables = args.map((arg) => tableOf(arg, at));
  const error = tables.find((table) => !isArray(table));
  if (error) return error;
  return overAll(tables, at, (cells) => oneAnswer(lambda.call(cells, at), at));
});

const REDUCE = withLambda(2, 3, (args, lambda, at) => {
  const table = tableOf(args[args.length - 1]!, at);
  if (!isArray(table)) return table;
  let held: Operand = args.length > 1 ? args[0]! : BLANK_VALUE;
  for (const row of table.rows) for (const cell of row) held = lambda.call([held, cell], at);
  return held;
});

const SCAN = withLambda(2, 3, (args, lambda, at) => {
  const table = tableOf(args[args.length - 1]!, at);
  if (!isArray(table)) return table;
  let held: Operand = args.length > 1 ? args[0]! : BLANK_VALUE;
  return arrayValue(
    table.rows.map((row) =>
      row.map((cell) => {
        held = oneAnswer(lambda.call([held, cell], at), at);
        return held;
      })
    )
  );
});

const MAKEARRAY = withLambda(3, 3, ([rows, columns], lambda, at) => {
  const height = toNumber(single(rows!, at));
  const width = toNumber(single(columns!, at));
  if (typeof height !== "number") return height;
  if (typeof width !== "number") return width;
  if (height < 1 || width < 1) return WRONG;
  at.reader.spend(Math.trunc(height) * Math.trunc(width));
  return arrayValue(
    Array.from({ length: Math.trunc(height) }, (_, row) =>
      Array.from({ length: Math.trunc(width) }, (_unused, column) =>
        oneAnswer(lambda.call([numberValue(row + 1), numberValue(column + 1)], at), at)
      )
    )
  );
});

const BYROW = withLambda(2, 2, ([table], lambda, at) => {
  const held = tableOf(table!, at);
  if (!isArray(held)) return held;
  return arrayValue(held.rows.map((row) => [oneAnswer(lambda.call([arrayValue([row])], at), at)]));
});

const BYCOL = withLambda(2, 2, ([table], lambda, at) => {
  const held = tableOf(table!, at);
  if (!isArray(held)) return held;
  const answers = Array.from({ length: held.width }, (_, column) =>
    oneAnswer(lambda.call([arrayValue(held.rows.map((row) => [row[column]!]))], at), at)
  );
  return arrayValue([answers]);
});

// --- making references -------------------------------------------------------------------------------------------------

/** A number argument left out or given; an error stays one. */
function numberArgument(value: Value | undefined, at: Place): number | RuntimeScalar | undefined {
  if (!value) return undefined;
  const held = value(at);
  const scalar = isArray(held) ? held.rows[0]![0]! : held;
  const number = toNumber(scalar);
  return typeof number === "number" ? Math.trunc(number) : number;
}

function optional(
  compiler: Compiler,
  node: FormulaNode,
  index: number,
  tables = false
): Value | undefined {
  const argument = node.children[index];
  return argument && argument.kind !== "omitted" ? compiler.value(argument, tables) : undefined;
}

const OFFSET = form(3, 5, (compiler, node, tables) => {
  const base = compiler.compile(child(node, 0), true);
  const [rows, columns, height, width] = [1, 2, 3, 4].map((index) =>
    optional(compiler, node, index, tables)
  );
  return (at) => {
    const start = base(at);
    if (!isReference(start)) return isError(start) ? start : WRONG;
    const only = onlyArea(start);
    if (!("area" in only)) return only;
    const { sheet, area } = only;
    const given = [
      rows?.(at) ?? numberValue(0),
      columns?.(at) ?? numberValue(0),
      height?.(at) ?? numberValue(area.bottom - area.top + 1),
      width?.(at) ?? numberValue(area.right - area.left + 1),
    ];
    const sized = given.filter(isArray);
    const shape = {
      height: Math.max(1, ...sized.map((table) => table.height)),
      width: Math.max(1, ...sized.map((table) => table.width)),
    };
    const areas: SheetArea[] = [];
    for (let index = 0; index < shape.height * shape.width; index++) {
      const moved = offset(
        area,
        given.map((value) => cellOf(value, Math.floor(index / shape.width), index % shape.width))
      );
      if ("kind" in moved) return moved;
      areas.push({ sheet, area: moved });
    }
    return areas.length === 1 ? { kind: REFERENCE, areas } : { kind: REFERENCE, areas, shape };
  };
});

/** An area moved and sized anew. */
function offset(area: Area, given: readonly RuntimeScalar[]): Area | RuntimeScalar {
  const numbers: number[] = [];
  for (const value of given) {
    const number = toNumber(value);
    if (typeof number !== "number") return number;
    numbers.push(Math.trunc(number));
  }
  const [down, across, tall, wide] = numbers as [number, number, number, number];
  const top = area.top + down + (tall < 0 ? tall + 1 : 0);
  const left = area.left + across + (wide < 0 ? wide + 1 : 0);
  const place = onSheet({
    top,
    left,
    bottom: top + Math.abs(tall) - 1,
    right: left + Math.abs(wide) - 1,
  });
  return place && tall !== 0 && wide !== 0 ? place : errorValue("#REF!", "OFFSET leaves the sheet");
}

const INDIRECT = form(1, 2, (compiler, node, tables) => {
  const address = compiler.value(child(node, 0), tables);
  const style = optional(compiler, node, 1);
  return (at) => {
    const given = address(at);
    const held = style?.(at);
    const isA1 = held === undefined || isArray(held) ? true : toBoolean(held);
    if (typeof isA1 !== "boolean") return isA1;
    if (!isArray(given)) return cellsNamed(given, isA1, at);
    if (given.height * given.width === 1) return cellsNamed(given.rows[0]![0]!, isA1, at);
    // Several addresses: functions such as SUMIF answer for each of them.
    const areas: SheetArea[] = [];
    for (const text of given.rows.flat()) {
      const found = cellsNamed(text, isA1, at);
      if (!isReference(found)) return found;
      areas.push(found.areas[0]!);
    }
    return { kind: REFERENCE, areas, shape: { height: given.height, width: given.width } };
  };
});

/** The cells that a text names. */
function cellsNamed(text: RuntimeScalar, isA1: boolean, at: Place): Operand {
  if (text.kind === ERROR) return text;
  const written = toText(text);
  // A01 is A1
  const plain = written.replace(/(\b\$?[A-Za-z]{1,3}\$?)0+(?=[1-9]\d*(?:$|:))/g, "$1");
  // A sheet whose name starts with a figure need not stand in quotes here.
  const quoted = plain.replace(/^([^'!]+)!/, "'$1'!");
  const code = at.reader.parse(plain) ?? at.reader.parse(quoted);
  const found = isA1 ? code?.(at) : rowColumnReference(written, at);
  return found && isReference(found)
    ? found
    : errorValue("#REF!", `INDIRECT was given "${written}", which names no cells`);
}

/** R2C3, R[-1]C or a range of two. */
function rowColumnReference(written: string, at: Place): Operand | undefined {
  const mark = written.lastIndexOf("!");
  const name = written.slice(0, Math.max(0, mark)).replace(/^'|'$/g, "").replace(/''/g, "'");
  const sheet = mark < 0 ? at.sheet : at.reader.book.sheet(name);
  const places = written
    .slice(mark + 1)
    .split(":")
    .map((part) => {
      const found = /^R(?:\[(-?\d+)\]|(\d+))?C(?:\[(-?\d+)\]|(\d+))?$/i.exec(part.trim());
      if (!found) return undefined;
      const [, down, row, across, column] = found;
      return {
        row: row === undefined ? at.row + Number(down ?? 0) : Number(row),
        column: column === undefined ? at.column + Number(across ?? 0) : Number(column),
      };
    });
  const [first, last = first] = places;
  if (!sheet || !first || !last || places.length > 2) return undefined;
  const area = onSheet({
    top: Math.min(first.row, last.row),
    left: Math.min(first.column, last.column),
    bottom: Math.max(first.row, last.row),
    right: Math.max(first.column, last.column),
  });
  return area && reference(sheet, area);
}

const INDEX = form(2, 4, (compiler, node, tables) => {
  const source = compiler.compile(child(node, 0), true);
  const [row, column, part] = [1, 2, 3].map((index) => {
    const argument = node.children[index];
    return argument && argument.kind !== "omitted" ? compiler.value(argument, tables) : undefined;
  });
  const hasColumn = node.children.length > 2;
  return (at) => {
    const from = source(at);
    if (isError(from)) return from;
    const which = numberArgument(part, at) ?? 1;
    if (typeof which !== "number") return which;
    const area = isReference(from) ? from.areas[which - 1] : undefined;
    if (isReference(from) && !area) return errorValue("#REF!");
    const table = area ? undefined : tableOf(from, at);
    if (table && !isArray(table)) return table;
    const size = area
      ? {
          height: area.area.bottom - area.area.top + 1,
          width: area.area.right - area.area.left + 1,
        }
      : (table as RuntimeArray);
    const one = (down: RuntimeScalar, across: RuntimeScalar): Operand => {
      const [y, x] = [toNumber(down), toNumber(across)];
      if (typeof y !== "number") return y;
      if (typeof x !== "number") return x;
      return pick(Math.trunc(y), Math.trunc(x), size, hasColumn, area, table as RuntimeArray);
    };
    const down = row?.(at) ?? numberValue(0);
    const across = column?.(at) ?? numberValue(0);
    if (!isArray(down) && !isArray(across)) return one(down, across);
    return overAll([down, across], at, ([y, x]) => single(one(y!, x!), at));
  };
});

/** A cell, row or column of an area or table; in one row the only number counts along it. */
function pick(
  given: number,
  second: number,
  size: { readonly height: number; readonly width: number },
  hasColumn: boolean,
  area: SheetArea | undefined,
  table: RuntimeArray
): Operand {
  const isRow = !hasColumn && size.height === 1;
  const [row, column] = isRow ? [given === 0 ? 0 : 1, given] : [given, second];
  if (row < 0 || column < 0) return WRONG;
  if (row > size.height || column > size.width) {
    return errorValue(
      "#REF!",
      `INDEX was asked for row ${row}, column ${column} of ${size.height} rows and ${size.width} columns`
    );
  }
  if (area) {
    const { top, left, bottom, right } = area.area;
    return reference(area.sheet, {
      top: row === 0 ? top : top + row - 1,
      bottom: row === 0 ? bottom : top + row - 1,
      left: column === 0 ? left : left + column - 1,
      right: column === 0 ? right : left + column - 1,
    });
  }
  const rows = row === 0 ? table.rows : [table.rows[row - 1]!];
  const cells = column === 0 ? rows : rows.map((each) => [each[column - 1]!]);
  return cells.length === 1 && cells[0]!.length === 1 ? cells[0]![0]! : arrayValue(cells);
}

// --- asking where a cell stands ------------------------------------------------------------------------------------------

/** ROW and COLUMN: of the formula itself, or of each row or column of a reference. */
function position(
  own: (at: Place) => number,
  first: (area: Area) => number,
  last: (area: Area) => number,
  isDown: boolean
): Special {
  return form(0, 1, (compiler, node, tables) => {
    const [argument] = node.children;
    if (!argument || argument.kind === "omitted") return (at) => numberValue(own(at));
    const code = compiler.compile(argument, true);
    return (at) => {
      const operand = code(at);
      if (!isReference(operand)) return isError(operand) ? operand : WRONG;
      const only = onlyArea(operand);
      if (!("area" in only)) return only;
      const area = tables ? at.reader.usedPart(only.area) : only.area;
      const [from, to] = [first(area), last(area)];
      if (!tables || from === to) return numberValue(from);
      at.reader.spend(to - from + 1);
      const numbers = Array.from({ length: to - from + 1 }, (_, step) => numberValue(from + step));
      return arrayValue(isDown ? numbers.map((number) => [number]) : [numbers]);
    };
  });
}

/** ROWS and COLUMNS: of a reference as it is written, of a table as it is. */
function extent(ofArea: (area: Area) => number, ofTable: (table: RuntimeArray) => number): Special {
  return form(1, 1, (compiler, node) => {
    const code = compiler.compile(child(node, 0), true);
    return (at) => {
      const operand = code(at);
      if (!isReference(operand)) {
        const value = read(operand, at);
        return isArray(value)
          ? numberValue(ofTable(value))
          : isError(value)
            ? value
            : numberValue(1);
      }
      const only = onlyArea(operand);
      return "area" in only ? numberValue(ofArea(only.area)) : only;
    };
  });
}

/** A function that gets the first cell of a reference, the formula's own cell without one. */
function ofCell(
  fewest: number,
  answer: (cell: { sheet: SheetState; row: number; column: number }, at: Place) => Operand,
  otherwise: RuntimeScalar
): Special {
  return form(fewest, 1, (compiler, node) => {
    const [argument] = node.children;
    const code = argument && compiler.compile(argument, true);
    return (at) => {
      if (!code) return answer(at, at);
      const operand = code(at);
      if (isError(operand)) return operand;
      if (!isReference(operand)) return otherwise;
      const { sheet, area } = operand.areas[0] as SheetArea;
      return answer({ sheet, row: area.top, column: area.left }, at);
    };
  });
}

const FORMULATEXT = ofCell(
  1,
  ({ sheet, row, column }, at) => {
    at.reader.note({ sheet, area: { top: row, left: column, bottom: row, right: column } });
    const formula = sheet.find(row, column)?.formula;
    return formula ? textValue(`=${formula.typed}`) : errorValue("#N/A");
  },
  errorValue("#N/A")
);

const ISFORMULA = ofCell(
  1,
  ({ sheet, row, column }, at) => {
    at.reader.note({ sheet, area: { top: row, left: column, bottom: row, right: column } });
    return booleanValue(sheet.find(row, column)?.formula !== undefined);
  },
  errorValue("#VALUE!")
);

const SHEET = form(0, 1, (compiler, node) => {
  const [argument] = node.children;
  const code = argument && compiler.compile(argument, true);
  return (at) => {
    const operand = code?.(at);
    if (operand && isError(operand)) return operand;
    const sheet =
      operand === undefined
        ? at.sheet
        : isReference(operand)
          ? operand.areas[0]!.sheet
          : at.reader.book.sheet(toText(single(operand, at)));
    return sheet ? numberValue(sheet.index + 1) : errorValue("#N/A");
  };
});

const SHEETS = form(0, 1, (compiler, node) => {
  const [argument] = node.children;
  const code = argument && compiler.compile(argument, true);
  return (at) => {
    const operand = code?.(at);
    if (operand && isError(operand)) return operand;
    if (operand === undefined) return numberValue(at.reader.book.sheets.length);
    return isReference(operand)
      ? numberValue(new Set(operand.areas.map(({ sheet }) => sheet)).size)
      : WRONG;
  };
});

const ISREF = form(1, 1, (compiler, node) => {
  const code = compiler.compile(child(node, 0), true);
  return (at) => booleanValue(isReference(code(at)));
});

const AREAS = form(1, 1, (compiler, node) => {
  const code = compiler.compile(child(node, 0), true);
  return (at) => {
    const operand = code(at);
    return isReference(operand)
      ? numberValue(operand.areas.length)
      : isError(operand)
        ? operand
        : WRONG;
  };
});

const CELL = form(1, 2, (compiler, node) => {
  const what = compiler.value(child(node, 0), false);
  const code = node.children[1] && compiler.compile(child(node, 1), true);
  return (at) => {
    const asked = what(at);
    const operand = code?.(at);
    if (operand && !isReference(operand)) return isError(operand) ? operand : WRONG;
    const only = operand ? operand.areas[0]! : undefined;
    const [sheet, row, column] = only
      ? [only.sheet, only.area.top, only.area.left]
      : [at.sheet, at.row, at.column];
    const held = (): RuntimeScalar => at.reader.cell(sheet, row, column);
    switch (isArray(asked) ? "" : toText(asked).toLowerCase()) {
      case "address": {
        const address = cellAddress(row, column).replace(/^([A-Z]+)/, "$$$1$$");
        return textValue(sheet === at.sheet ? address : sheetPrefix(sheet.name) + address);
      }
      case "row":
        return numberValue(row);
      case "col":
        return numberValue(column);
      case "contents":
        return held();
      case "type": {
        const { kind } = held();
        return textValue(kind === BLANK ? "b" : kind === TEXT ? "l" : "v");
      }
      default:
        return errorValue(
          "#N/A",
          `CELL("${isArray(asked) ? "" : toText(asked)}") is not known here`
        );
    }
  };
});

// --- functions that look at rows and cells, not only at values ---------------------------------------------------------------

/** The values of a reference without rows that are hidden and cells that are subtotals themselves. */
function visible(
  { sheet, area }: SheetArea,
  at: Place,
  isHidden: (row: number) => boolean,
  skipsSubtotals: boolean
): RuntimeValue {
  const table = asTable({ sheet, area }, at);
  if (!isArray(table)) return table;
  return arrayValue(
    table.rows.map((cells, down) => {
      const row = area.top + down;
      if (isHidden(row)) return cells.map(() => BLANK_VALUE);
      if (!skipsSubtotals) return cells;
      return cells.map((cell, across) =>
        isSubtotal(sheet.find(row, area.left + across)?.formula?.typed) ? BLANK_VALUE : cell
      );
    })
  );
}

function isSubtotal(typed: string | undefined): boolean {
  return typed !== undefined && /\b(?:SUBTOTAL|AGGREGATE)\s*\(/i.test(typed);
}

const SUBTOTAL = form(2, 255, (compiler, node, tables) => {
  const which = compiler.value(child(node, 0), tables);
  const codes = node.children.slice(1).map((each) => compiler.compile(each, true));
  return (at) => {
    const number = numberArgument(which, at)!;
    if (typeof number !== "number") return number;
    if ((number > 11 && number < 101) || number > 111 || number < 1) return WRONG;
    const subtotal = (areas: readonly SheetArea[]): RuntimeValue => {
      const parts = areas.map((part) => {
        const { hiddenRows, filteredRows } = part.sheet;
        const hidden = (row: number): boolean =>
          filteredRows.has(row) || (number > 100 && hiddenRows.has(row));
        return visible(part, at, hidden, true);
      });
      const body = lifted("SUBTOTAL", libraryFunction("SUBTOTAL")!);
      return body.invoke([numberValue(number % 100), ...parts]);
    };
    const areas: SheetArea[] = [];
    for (const code of codes) {
      const operand = code(at);
      if (!isReference(operand)) return isError(operand) ? operand : WRONG;
      // Each of the references that OFFSET or INDIRECT made has a subtotal of its own.
      if (operand.shape && codes.length === 1) {
        const { width } = operand.shape;
        const each = operand.areas.map((area) => subtotal([area]) as RuntimeScalar);
        return arrayValue(
          Array.from({ length: operand.shape.height }, (_, row) =>
            each.slice(row * width, (row + 1) * width)
          )
        );
      }
      areas.push(...operand.areas);
    }
    return subtotal(areas);
  };
});

const AGGREGATE = form(3, 255, (compiler, node, tables) => {
  const [which, option] = [0, 1].map((index) => compiler.value(child(node, index), tables));
  const codes = node.children.slice(2).map((each) => compiler.compile(each, true));
  return (at) => {
    const number = numberArgument(which, at)!;
    const mode = numberArgument(option, at) ?? 0;
    if (typeof number !== "number") return number;
    if (typeof mode !== "number") return mode;
    if (mode < 0 || mode > 7) return WRONG;
    const withoutErrors = mode === 2 || mode === 3 || mode >= 6;
    const args: RuntimeValue[] = [numberValue(number), numberValue(withoutErrors ? 6 : 4)];
    for (const code of codes) {
      const operand = code(at);
      if (!isReference(operand)) {
        args.push(read(operand, at));
        continue;
      }
      for (const part of operand.areas) {
        const hidden = (row: number): boolean =>
          mode % 2 === 1 && (part.sheet.hiddenRows.has(row) || part.sheet.filteredRows.has(row));
        args.push(visible(part, at, hidden, mode <= 3));
      }
    }
    return lifted("AGGREGATE", libraryFunction("AGGREGATE")!).invoke(args);
  };
});

/** The cells of a reference that lie outside what the workbook uses: all of them empty. */
function beyondUse({ area }: SheetArea, at: Place): number {
  return cellCount(area) - cellCount(at.reader.usedPart(area));
}

const COUNTBLANK = form(1, 1, (compiler, node) => {
  const code = compiler.compile(child(node, 0), true);
  return (at) => {
    const operand = code(at);
    if (!isReference(operand)) return isError(operand) ? operand : WRONG;
    let count = 0;
    for (const part of operand.areas) {
      const table = asTable(part, at);
      if (!isArray(table)) return table;
      count += beyondUse(part, at);
      for (const row of table.rows) {
        for (const { kind, value } of row) if (kind === BLANK || value === "") count++;
      }
    }
    return numberValue(count);
  };
});

/** N and T look at the first cell of a range; TYPE at the value of a cell, not at its range. */
function ofFirst(name: string): Special {
  return form(1, 1, (compiler, node, tables) => {
    const code = compiler.compile(child(node, 0), tables);
    const body = libraryFunction(name)!;
    return (at) => {
      const operand = code(at);
      const value = isReference(operand) ? single(operand, at) : read(operand, at);
      return name === "TYPE" ? body.invoke([value]) : lifted(name, body).invoke([value]);
    };
  });
}

export const SPECIAL_FORMS: Readonly<Record<string, Special>> = {
  IF,
  IFERROR: ifError(() => true),
  IFNA: ifError(({ code }) => code === "#N/A"),
  IFS,
  SWITCH,
  CHOOSE,
  LET,
  LAMBDA: MAKE_LAMBDA,
  ISOMITTED,
  MAP,
  REDUCE,
  SCAN,
  MAKEARRAY,
  BYROW,
  BYCOL,
  OFFSET,
  INDIRECT,
  INDEX,
  ROW: position(
    ({ row }) => row,
    ({ top }) => top,
    ({ bottom }) => bottom,
    true
  ),
  COLUMN: position(
    ({ column }) => column,
    ({ left }) => left,
    ({ right }) => right,
    false
  ),
  ROWS: extent(
    ({ top, bottom }) => bottom - top + 1,
    ({ height }) => height
  ),
  COLUMNS: extent(
    ({ left, right }) => right - left + 1,
    ({ width }) => width
  ),
  FORMULATEXT,
  ISFORMULA,
  SHEET,
  SHEETS,
  ISREF,
  AREAS,
  CELL,
  SUBTOTAL,
  AGGREGATE,
  COUNTBLANK,
  ...CONDITIONAL_FORMS,
  N: ofFirst("N"),
  T: ofFirst("T"),
  TYPE: ofFirst("TYPE"),
};
