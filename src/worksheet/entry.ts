/**
 * What one entry says of a worksheet function, and how a host's call becomes a call of the core. Everything a host, a
 * page or a test needs to know of a function is read from its entry.
 */
import type { Limits } from "../core/check.js";
import { type Cell, isBlank } from "../core/house/tables.js";
import { TAPE_DENOMINATORS, inchText } from "../core/units.js";
import { answer } from "./answer.js";
import { type Slip } from "./slips.js";
import { flagOf, lengthOf, lengthsIn, listOf, numberOf, scalar, tableOf } from "./arguments.js";

export interface Argument<T = unknown> {
  readonly name: string;
  /** what it is, and what stands for it where it is left out */
  readonly description: string;
  /** what the core holds a number to */
  readonly within?: Limits;
  /** `in; more than 0, at most 12`; empty where there is nothing to say */
  readonly limits: string;
  readonly optional: boolean;
  /** what a left-out argument is, where that is one value */
  readonly fallback?: T;
  /** a range of cells */
  readonly matrix: boolean;
  /** a range that may come with where it stands, so that messages name its cells */
  readonly placed: boolean;
  /** the last argument may come as often as wanted */
  readonly repeats: boolean;
  /** the value of a cell, or of a list of ranges where the argument repeats, as the core takes it */
  readonly read: (value: unknown) => T;
}

const FINEST_DENOMINATOR = Math.max(...TAPE_DENOMINATORS);

interface Options<D> {
  /** limits the core holds it to */
  readonly within?: Limits;
  /** the value of a left-out argument */
  readonly or?: D;
  /** in words what the core takes for a left-out argument, where that is no one value */
  readonly blank?: string;
  /** what more is asked of it than its limits say */
  readonly also?: string;
}

/** What the core is handed: nothing at all only where a blank is described in words. */
type Value<T, O> = O extends { readonly blank: string } ? T | undefined : T;

function limitsText({ within = {}, also }: Options<unknown>, unit = within.unit): string {
  const { above, min, below, max, whole } = within;
  const shown = (value: number): string => value.toLocaleString("en-US");
  const isRange = min !== undefined && max !== undefined;
  const rules = [
    whole ? "whole" : "",
    isRange ? `${shown(min)} to ${shown(max)}` : "",
    min === undefined && above !== undefined ? `more than ${shown(above)}` : "",
    min !== undefined && !isRange ? `at least ${shown(min)}` : "",
    below === undefined ? "" : `less than ${shown(below)}`,
    max === undefined || isRange ? "" : `at most ${shown(max)}`,
    also ?? "",
  ].filter((rule) => rule !== "");
  return [unit, rules.join(", ")].filter((part) => part !== undefined && part !== "").join("; ");
}

/** `a, b or c` */
function oneOf(list: readonly (string | number)[]): string {
  return list.length < 2 ? list.join("") : `${list.slice(0, -1).join(", ")} or ${list.at(-1)}`;
}

/** `9-1/4`, or a list of such. */
function inchesText(value: number | readonly number[] = []): string {
  return [value]
    .flat()
    .map((each) => inchText(each, FINEST_DENOMINATOR).replace(" ", "-"))
    .join(", ");
}

const UNIT_WORDS: Readonly<Record<string, string>> = {
  deg: "degrees",
  "deg F": "degrees F",
  ft2: "square feet",
};

function argument<T>(
  name: string,
  help: string,
  options: Options<unknown>,
  read: (name: string, value: unknown) => T,
  more: {
    limits?: string;
    matrix?: boolean;
    placed?: boolean;
    repeats?: boolean;
    left?: string;
  } = {}
): Argument<T> {
  const { or, blank } = options;
  const optional = or !== undefined || blank !== undefined;
  const left = blank ?? more.left ?? String(or);
  return {
    name,
    description: optional ? `${help} If omitted, ${left}.` : help,
    ...(options.within === undefined ? {} : { within: options.within }),
    limits: more.limits ?? limitsText(options),
    optional,
    ...(or === undefined ? {} : { fallback: or as T }),
    matrix: more.matrix ?? false,
    placed: more.placed ?? false,
    repeats: more.repeats ?? false,
    read: (value) =>
      optional && isLeftOut(name, value, more.matrix) ? (or as T) : read(name, value),
  };
}

function isLeftOut(name: string, value: unknown, matrix = false): boolean {
  return matrix ? tableOf(name, value).flat().every(isBlank) : isBlank(scalar(name, value));
}

/** A length: a number of inches, or tape-measure text. */
export function length<const O extends Options<number>>(
  name: string,
  help: string,
  options = {} as O
): Argument<Value<number, O>> {
  const { or = [] } = options;
  const more = { limits: limitsText(options, "in"), left: inchesText(or) };
  return argument(name, help, options, lengthOf, more);
}

/** A plain number. */
export function number<const O extends Options<number>>(
  name: string,
  help: string,
  options = {} as O
): Argument<Value<number, O>> {
  const unit = UNIT_WORDS[options.within?.unit ?? ""];
  const withUnit = unit === undefined ? help : help.replace(/\.$/, `, ${unit}.`);
  return argument(name, withUnit, options, numberOf);
}

/** A share of a whole; help says it in per cent too. */
export function share(name: string, help: string, options: Options<number> = {}): Argument<number> {
  const { or } = options;
  const more = or === undefined ? {} : { left: `${or}, which is ${or * 100} %` };
  return argument(name, help, options, numberOf, more);
}

/** One word of a list. The core looks it up and names the list in its message. */
export function choice<T extends string>(
  name: string,
  help: string,
  list: readonly T[],
  options: Options<NoInfer<T>> = {}
): Argument<T> {
  const read = (_name: string, value: unknown): T => scalar(name, value) as T;
  return argument(name, `${help}: ${oneOf(list)}.`, options, read);
}

/** TRUE or FALSE. */
export function flag(
  name: string,
  help: string,
  options: Options<boolean> = {}
): Argument<boolean> {
  const left = String(options.or).toUpperCase();
  return argument(name, help, options, flagOf, { left });
}

/** Text or a number that the core reads for itself. */
export function text(name: string, help: string): Argument<Cell> {
  return argument(name, help, {}, scalar);
}

/** A range of lengths, or a list of them in one cell. */
export function list(
  name: string,
  help: string,
  options: Options<readonly number[]> = {}
): Argument<readonly number[]> {
  const more = { limits: limitsText(options, "in"), left: inchesText(options.or), matrix: true };
  return argument(name, help, options, listOf, more);
}

/** Ranges of lengths, as many as wanted. */
export function ranges(name: string, help: string): Argument<readonly number[]> {
  return argument(name, help, {}, lengthsIn, { limits: "in", matrix: true, repeats: true });
}

/** A table of a house, read with the other two. */
export function table(name: string, help: string): Argument {
  return argument(name, help, {}, (_name, value) => value, { matrix: true, placed: true });
}

/** What a function answers: in words, and how the core's result is put into cells. */
export interface Returns<R> {
  readonly says: string;
  readonly kind: "number" | "text" | "table";
  readonly write: (result: R) => unknown;
}

/** Takes the noise of binary sums off a figure before it is shown; far below what a tape shows. */
export function tidy(value: number): number {
  const rounded = Number(value.toFixed(9));
  return rounded === 0 ? 0 : rounded;
}

/** One number. */
export function figure(says: string): Returns<number> {
  return { says, kind: "number", write: (value) => value };
}
export const inches = figure("Inches.");
export const feet = figure("Feet.");

export function words(says: string): Returns<string> {
  return { says, kind: "text", write: (value) => value };
}

/** Numbers below each other, without a header. */
export function column(says: string): Returns<readonly number[]> {
  return { says, kind: "table", write: (values) => values.map((each) => [tidy(each)]) };
}

type Shown = string | number;

/** Rows under a header, laid out by hand. */
export function grid<R>(
  header: readonly string[],
  rows: (result: R) => readonly (readonly Shown[])[]
): Returns<R> {
  return {
    says: `Table: ${header.join(", ")}.`,
    kind: "table",
    write: (result) => [
      header,
      ...rows(result).map((row) =>
        row.map((cell) => (typeof cell === "number" ? tidy(cell) : cell))
      ),
    ],
  };
}

/** One row a record: each column by its header, and what stands in it. */
export function rows<Row>(
  columns: Readonly<Record<string, (row: Row) => Shown>>
): Returns<readonly Row[]> {
  const cells = Object.values(columns);
  return grid(Object.keys(columns), (result) =>
    result.map((row) => cells.map((cell) => cell(row)))
  );
}

type Values<A extends readonly unknown[]> = {
  [K in keyof A]: A[K] extends Argument<infer T> ? T : never;
};

/** A function of the core, whatever it takes. */
export type CoreFunction = (...values: never[]) => unknown;

interface Description<A extends readonly unknown[], R> {
  readonly help: string;
  /** what answers, with the arguments as they stand */
  readonly core: (...values: Values<A>) => R;
  /** where `core` only hands on: the function of the core whose comment gives errors and source */
  readonly from?: CoreFunction;
  readonly args: A;
  readonly returns: Returns<R>;
  /** a formula and what it comes to; shown on the function's page, and run as a test */
  readonly example: readonly [formula: string, answer: unknown];
  /** shown wherever its answer is */
  readonly cautions?: readonly string[];
  /** reads the tables of a house */
  readonly house?: boolean;
  /** what to look for in the arguments of a call that has an answer */
  readonly slips?: readonly Slip[];
}

/** One worksheet function, as hosts, pages and tests see it. */
export interface Entry {
  /** as in SHEATH.NAME */
  readonly name: string;
  readonly description: string;
  readonly parameters: readonly Argument[];
  /** what the result is, in words */
  readonly returns: string;
  readonly kind: Returns<never>["kind"];
  /** the result is a table that spills */
  readonly spills: boolean;
  readonly core: CoreFunction;
  readonly example: readonly [formula: string, answer: unknown];
  readonly cautions: readonly string[];
  readonly house: boolean;
  readonly call: (...given: unknown[]) => unknown;
  /** what is good to know of a call that has an answer, such as feet given for inches */
  readonly remarks: (...given: unknown[]) => string[];
}

/** Functions of one topic. */
export interface Topic {
  readonly title: string;
  readonly functions: readonly Entry[];
}

export function fn<const A extends readonly Argument[], R>(
  name: string,
  description: Description<A, R>
): Entry {
  const { help, core, from, args, returns, example } = description;
  const { cautions = [], house = false, slips = [] } = description;
  return {
    name,
    description: help,
    parameters: args,
    returns: returns.says,
    kind: returns.kind,
    spills: returns.kind === "table",
    core: from ?? (core as CoreFunction),
    example,
    cautions,
    house,
    remarks: (...given) => {
      const named = new Map(args.map((each, index) => [each.name, given[index]]));
      return slips.flatMap((slip) => slip(named) ?? []);
    },
    // hosts hand over more than is declared, such as where the call stands
    call: (...given) =>
      answer(() => {
        const values = args.map((each, index) =>
          each.read(each.repeats ? given.slice(index) : given[index])
        );
        return returns.write(core(...(values as unknown as Values<A>)));
      }),
  };
}
