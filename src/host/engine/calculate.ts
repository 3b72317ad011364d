/**
 * Calculates the formulas of a workbook: all of them the first time, afterwards those that depend on what changed.
 *
 * A formula is worked out when it is first asked for, and asks for the cells it reads in turn; what it read is kept, so
 * that a change is followed to what depends on it. Results that are tables are laid over the cells beside their
 * formulas (spills.ts), and what read those cells before is worked out again until nothing moves. The bodies of the
 * built-in functions come from the calculation library (library.ts); docs/differences.md lists its faults that are
 * mended here.
 */
import { cellAddress, cellCount, cellKey, keyPlace, type Area } from "../../core/cell-address.js";
import { builtIn } from "./builtin.js";
import { Compiler, type Code, type ValueFunction } from "./code.js";
import type { FormulaNode } from "./formula.js";
import type { FunctionSet } from "./functions.js";
import { countFrom1904 } from "./library.js";
import type { BookState, CellState, FormulaState, SheetState } from "./model.js";
import { isReference, NotHere, type Reader, type SheetArea } from "./operands.js";
import { Readers } from "./readers.js";
import { Reasons } from "./reasons.js";
import { remarksOn, type CellRemark } from "./remarks.js";
import {
  arrayValue,
  BLANK_VALUE,
  errorValue,
  fromPlain,
  toPlain,
  type RuntimeArray,
  type RuntimeScalar,
} from "./runtime.js";
import { Scope, type Prepared } from "./scope.js";
import { obstacle, Spilled } from "./spills.js";
import { isCellError, type CellProblem, type CellValue } from "./values.js";
import { LARGEST_TABLE, Work } from "./work.js";

/** Rounds over the spills before one that keeps changing is called circular; more where many formulas spill. */
const MOST_ROUNDS = 12;
/** Formulas worked out within each other before the rest is put on a list; keeps the program's stack short. */
const MOST_NESTED = 40;
/** Cells that one formula may read or make on its way. */
const MOST_SPENT = 30_000_000;
/** References to more cells than this are cut to what the workbook uses. */
const LARGE_AREA = 100_000;
/** Cells of tables kept for the next formula that reads the same area. */
const MOST_KEPT = 4_000_000;
/** Times a workbook that asks for it repeats circular formulas, and the change below which it stops (ISO/IEC 29500-1, 18.2.2). */
const MOST_REPEATS = 100;
const SMALLEST_CHANGE = 0.001;
/** Cells of a ring that a message names. */
const MOST_NAMED = 6;
/** References given as text that are kept read. */
const MOST_TEXTS = 1000;

/** A formula has to wait for others that are not worked out yet. */
class Deferred extends Error {
  constructor(readonly chain: Work[]) {
    super();
  }
}

/** A formula takes more than one formula may. */
class TooMuch extends Error {}

interface Seen {
  readonly input: CellValue;
  readonly formula: FormulaState | undefined;
}

export class Calculator implements Reader {
  private readonly scope: Scope;
  private readonly reasons: Reasons;
  private readonly works = new Map<CellState, Work>();
  /** what each cell held when it was last looked at */
  private readonly seen = new Map<CellState, Seen>();
  /** formulas and values by sheet and cell key; nothing where a cell is empty */
  private readonly held = new Map<SheetState, Map<number, Work | RuntimeScalar>>();
  private structure = "";
  private spilled = new Spilled();
  private isFirst = true;
  /** last row and column that hold anything, over all sheets, so that areas keep matching each other */
  private used = { bottom: 1, right: 1 };

  // --- while formulas are worked out
  private path: Work[] = [];
  private base = 0;
  private current: Work | undefined;
  private spent = 0;
  private repeats = false;
  /** tables read in this calculation, and their rows by sheet, first and last column */
  private readonly tables = new Map<string, RuntimeArray>();
  private readonly rows = new Map<string, RuntimeScalar[][]>();
  private tableCells = 0;
  private readonly texts = new Map<string, Code | undefined>();

  constructor(
    readonly book: BookState,
    private readonly functions: FunctionSet
  ) {
    this.scope = new Scope(book, functions.namespace);
    this.reasons = new Reasons(
      this.scope,
      functions,
      (name) => this.functionNamed(name) !== undefined,
      (cell) => this.works.get(cell)?.reads ?? []
    );
  }

  /** Calculates what is not up to date and leaves the values in the cells. Returns the cells that came to an error. */
  calculate(): CellProblem[] {
    countFrom1904(this.book.is1904);
    const changed = this.takeStock();
    this.forgetTables();
    if (changed === "all") for (const work of this.works.values()) this.reset(work);
    else this.resetReaders(changed);
    const volatile = [...this.works.values()].filter((work) => work.isVolatile);
    volatile.forEach((work) => this.reset(work));
    this.resetReaders(volatile.map(areaOf));
    this.settle();
    if (this.book.iterates) this.repeat();
    this.store();
    return this.problems();
  }

  /** What is good to know of cells that came to no error, after the last calculation. */
  remarks(): CellRemark[] {
    const said = [...this.works.values()].flatMap((work) =>
      isCellError(work.cell.value) ? [] : work.said.map((message) => ({ cell: work.cell, message }))
    );
    return [...remarksOn(this.book, this.scope, (cell, part) => this.areasOf(cell, part)), ...said];
  }

  /** The areas that a part of a cell's formula stands for; none where it is a value. */
  private areasOf(cell: CellState, part: FormulaNode): readonly SheetArea[] {
    const { sheet, row, column, formula } = cell;
    this.spent = 0;
    try {
      const prepared = this.scope.prepare(formula?.typed ?? "");
      const code = this.compiler(prepared, false).compile(part, true);
      const operand = code({ reader: this, sheet, row, column, depth: 0 });
      return isReference(operand) ? operand.areas : [];
    } catch {
      return [];
    }
  }

  /** The formulas whose values are others each time: random numbers, the clock, and all that reads them. */
  changing(): ReadonlySet<CellState> {
    const readers = new Readers(this.works.values());
    const found = new Set<Work>();
    const open = [...this.works.values()].filter((work) => work.isVolatile);
    for (let work = open.pop(); work; work = open.pop()) {
      if (found.has(work)) continue;
      found.add(work);
      readers.each(areaOf(work), (reader) => open.push(reader));
    }
    return new Set([...found].map(({ cell }) => cell));
  }

  // --- what changed --------------------------------------------------------------------------------------------

  /** Looks through the workbook: what changed since the last time, "all" where anything may have. */
  private takeStock(): SheetArea[] | "all" {
    this.scope.refresh(this.works.size);
    const structure = structureOf(this.book);
    const isOther = structure !== this.structure;
    this.structure = structure;
    if (isOther) {
      this.texts.clear();
      this.scope.forgetCode();
    }
    const changed: SheetArea[] = [];
    this.used = { bottom: 1, right: 1 };
    let count = 0;
    for (const sheet of this.book.sheets) {
      for (const cell of sheet.cells.values()) {
        count++;
        const { input, formula, row, column } = cell;
        this.include(row, column);
        const before = this.seen.get(cell);
        if (before && before.input === input && before.formula === formula) continue;
        this.seen.set(cell, { input, formula });
        const old = this.works.get(cell);
        changed.push(old ? areaOf(old) : { sheet, area: oneCell(row, column) });
        if (old) this.forget(old);
        this.hold(cell);
      }
    }
    if (this.seen.size > count) {
      for (const cell of this.seen.keys()) {
        if (cell.sheet.find(cell.row, cell.column) === cell) continue;
        this.seen.delete(cell);
        this.held.get(cell.sheet)?.delete(cellKey(cell.row, cell.column));
        const old = this.works.get(cell);
        changed.push(
          old ? areaOf(old) : { sheet: cell.sheet, area: oneCell(cell.row, cell.column) }
        );
        if (old) this.forget(old);
      }
    }
    if (this.isFirst) {
      this.isFirst = false;
      this.takeStoredSpills();
      return "all";
    }
    return isOther ? "all" : changed;
  }

  /** Takes a cell as it is now. */
  private hold(cell: CellState): void {
    const { sheet, row, column, input, formula, value } = cell;
    let cells = this.held.get(sheet);
    if (!cells) {
      cells = new Map();
      this.held.set(sheet, cells);
    }
    const key = cellKey(row, column);
    if (formula && !formula.frozen) {
      const work = new Work(cell, this.scope.prepare(formula.typed));
      this.works.set(cell, work);
      cells.set(key, work);
      return;
    }
    const constant = formula ? value : input;
    if (constant === null) cells.delete(key);
    else cells.set(key, fromPlain(constant) ?? errorValue("#NUM!"));
  }

  private forget(work: Work): void {
    this.works.delete(work.cell);
    this.spilled.drop(work);
  }

  /** The spilled cells as they stood when the file was read. */
  private takeStoredSpills(): void {
    for (const sheet of this.book.sheets) {
      for (const [key, cell] of sheet.cells) {
        const from = cell.spilledFrom && this.works.get(cell.spilledFrom);
        if (from && cell.input === null && !cell.formula) this.spilled.put(sheet, key, from);
      }
    }
  }

  private include(row: number, column: number): void {
    if (row > this.used.bottom) this.used.bottom = row;
    if (column > this.used.right) this.used.right = column;
  }

  private reset(work: Work): void {
    work.state = "waiting";
    work.forced = undefined;
    work.isVolatile = work.prepared.isVolatile;
  }

  /** Everything that reads these cells, directly or through others, has to be worked out again. */
  private resetReaders(changed: readonly SheetArea[]): void {
    if (changed.length === 0) return;
    const readers = new Readers(this.works.values());
    const open = [...changed];
    const found = (work: Work): void => {
      if (work.state === "waiting") return;
      this.reset(work);
      open.push(areaOf(work));
    };
    for (let next = open.pop(); next; next = open.pop()) readers.each(next, found);
  }

  // --- rounds --------------------------------------------------------------------------------------------------

  /** Works out what waits, until the spilled cells no longer change. */
  private settle(): void {
    for (let round = 1; ; round++) {
      for (const work of this.works.values()) if (work.state === "waiting") this.run(work);
      const moved = this.lay();
      if (moved.length === 0) return;
      // A chain of spills may settle one link a round.
      const spilling = [...this.works.values()].filter((work) => work.filled).length;
      if (round >= Math.max(MOST_ROUNDS, spilling + 2)) {
        for (const { sheet, area } of moved) {
          const work = this.works.get(sheet.find(area.top, area.left)!);
          if (work) this.markRing([work]);
        }
        this.lay();
        return;
      }
      this.forgetTables();
      this.resetReaders(moved);
    }
  }

  /** Repeats circular formulas, as the workbook asks for, until their values hardly change. */
  private repeat(): void {
    for (let pass = 0; pass < MOST_REPEATS && this.repeats; pass++) {
      const before = new Map([...this.works.values()].map((work) => [work, work.value]));
      this.repeats = false;
      for (const work of this.works.values()) this.reset(work);
      this.forgetTables();
      this.settle();
      const isSettled = [...before].every(([work, value]) => {
        const now = work.value;
        return typeof value === "number" && typeof now === "number"
          ? Math.abs(now - value) < SMALLEST_CHANGE
          : now === value || isCellError(now);
      });
      if (isSettled) return;
    }
    this.repeats = false;
  }

  /** Works out a formula and all it needs; a list takes the place of the program's stack where that grows long. */
  private run(first: Work): void {
    const waiting = [first];
    for (let work = waiting.at(-1); work; work = waiting.at(-1)) {
      if (work.state !== "done") {
        this.path = waiting.slice(0, -1);
        this.base = waiting.length;
        try {
          this.evaluate(work);
        } catch (error) {
          if (!(error instanceof Deferred)) throw error;
          waiting.push(...error.chain.slice(1));
          continue;
        }
      }
      waiting.pop();
    }
    this.path = [];
  }

  private evaluate(work: Work): void {
    const { current, spent } = this;
    work.state = "running";
    work.reads = [];
    work.isKept = false;
    this.path.push(work);
    this.current = work;
    this.spent = 0;
    const { said } = this.functions;
    this.functions.said = [];
    const { cell, prepared } = work;
    const at = { reader: this, sheet: cell.sheet, row: cell.row, column: cell.column, depth: 0 };
    try {
      work.capture(this.codeOf(prepared, work.mode !== "plain")(at), at);
      work.state = "done";
    } catch (error) {
      if (error instanceof Deferred) {
        error.chain.unshift(work);
        throw error;
      }
      if (error instanceof NotHere) work.keep();
      else work.captured = brokenOff(error);
      work.state = "done";
    } finally {
      work.said = [...new Set(this.functions.said)];
      this.functions.said = said;
      this.path.pop();
      this.current = current;
      this.spent = spent;
    }
  }

  private codeOf(prepared: Prepared, tables: boolean): Code {
    const { tree, fault } = prepared;
    if (!tree) {
      const error = errorValue("#NAME?", fault);
      return () => error;
    }
    const known = tables ? prepared.code.tables : prepared.code.plain;
    if (known) return known;
    const code = this.compiler(prepared, false).compile(tree, tables);
    if (tables) prepared.code.tables = code;
    else prepared.code.plain = code;
    return code;
  }

  private compiler({ typed: text, locals }: Prepared, moves: boolean): Compiler {
    const functionNamed = (name: string): ValueFunction | undefined => this.functionNamed(name);
    const isName = (name: string): boolean => this.scope.hasName(name);
    return new Compiler({ text, locals, moves, functionNamed, isName });
  }

  /** A function of ours before a built-in one. */
  private functionNamed(name: string): ValueFunction | undefined {
    const entry = this.functions.find(name);
    if (!entry) return builtIn(name);
    return {
      minArity: 0,
      maxArity: 255,
      argument: (index) => (entry.parameters?.[index]?.placed ? "placed" : "any"),
      takesTables: true,
      // The count of arguments is checked where it can be said in words.
      invoke: (args) => this.functions.invoke(entry, args),
    };
  }

  // --- what formulas read --------------------------------------------------------------------------------------

  cell(sheet: SheetState, row: number, column: number): RuntimeScalar {
    this.note({ sheet, area: oneCell(row, column) });
    return this.valueAt(sheet, cellKey(row, column));
  }

  private valueAt(sheet: SheetState, key: number): RuntimeScalar {
    const held = this.held.get(sheet)?.get(key);
    if (held) return held instanceof Work ? this.valueOf(held) : held;
    const source = this.spilled.sourceOf(sheet, key);
    if (!source) return BLANK_VALUE;
    const seen = this.valueOf(source);
    const place = keyPlace(key);
    return source.forced ? seen : (source.at(place.row, place.column) ?? BLANK_VALUE);
  }

  private valueOf(work: Work): RuntimeScalar {
    if (work.state === "done") return work.seen;
    if (work.state === "running") {
      if (this.book.iterates) {
        this.repeats = true;
        return work.captured ? work.seen : BLANK_VALUE;
      }
      this.markRing(this.path.slice(this.path.indexOf(work)));
      return work.seen;
    }
    if (this.path.length - this.base >= MOST_NESTED) throw new Deferred([work]);
    this.evaluate(work);
    return work.seen;
  }

  private markRing(ring: readonly Work[]): void {
    const path = ring.map((work) => work.address);
    const named =
      path.length > MOST_NAMED
        ? [...path.slice(0, MOST_NAMED - 1), "...", path[path.length - 1]]
        : path;
    const message = `circular reference: ${[...named, path[0]].join(" → ")}`;
    for (const work of ring) work.forced ??= errorValue("#CALC!", message);
  }

  table(sheet: SheetState, area: Area): RuntimeArray | RuntimeScalar {
    this.note({ sheet, area });
    const part = this.usedPart(area);
    const { top, left, bottom, right } = part;
    const count = cellCount(part);
    if (count > LARGEST_TABLE) {
      return errorValue("#NUM!", `this formula reads more than ${LARGEST_TABLE} cells`);
    }
    const key = `${sheet.index}:${top}:${left}:${bottom}:${right}`;
    const same = this.tables.get(key);
    this.spend(same ? 1 : count);
    if (same) return same;
    // A formula in the area that is not done yet depends on itself, and its value is not final.
    const isFinal = !this.path.some((work) => this.isIn(work, sheet, area));
    if (this.tableCells > MOST_KEPT) this.forgetTables();
    const rowsKey = `${sheet.index}:${left}:${right}`;
    let known = isFinal ? this.rows.get(rowsKey) : undefined;
    if (!known) {
      known = [];
      if (isFinal) this.rows.set(rowsKey, known);
    }
    const rows = new Array<RuntimeScalar[]>(bottom - top + 1);
    for (let row = top; row <= bottom; row++) {
      let cells = known[row];
      if (!cells) {
        cells = new Array<RuntimeScalar>(right - left + 1);
        for (let column = left; column <= right; column++) {
          cells[column - left] = this.valueAt(sheet, cellKey(row, column));
        }
        known[row] = cells;
        this.tableCells += cells.length;
      }
      rows[row - top] = cells;
    }
    const table = arrayValue(rows);
    if (isFinal) {
      this.tables.set(key, table);
      this.tableCells += rows.length;
    }
    return table;
  }

  private forgetTables(): void {
    this.tables.clear();
    this.rows.clear();
    this.tableCells = 0;
  }

  private isIn(work: Work, sheet: SheetState, area: Area): boolean {
    const { cell, filled } = work;
    if (cell.sheet !== sheet) return false;
    const own = filled ?? oneCell(cell.row, cell.column);
    return (
      own.top <= area.bottom &&
      area.top <= own.bottom &&
      own.left <= area.right &&
      area.left <= own.right
    );
  }

  usedPart(area: Area): Area {
    if (cellCount(area) <= LARGE_AREA) return area;
    return {
      ...area,
      bottom: Math.max(area.top, Math.min(area.bottom, this.used.bottom)),
      right: Math.max(area.left, Math.min(area.right, this.used.right)),
    };
  }

  filledBy(sheet: SheetState, row: number, column: number): Area | undefined {
    this.note({ sheet, area: oneCell(row, column) });
    const cell = sheet.find(row, column);
    const work = cell && this.works.get(cell);
    if (!work) return undefined;
    this.valueOf(work);
    const { table } = work;
    const down = work.blocked ? 1 : (table?.height ?? 1);
    const across = work.blocked ? 1 : (table?.width ?? 1);
    return { top: row, left: column, bottom: row + down - 1, right: column + across - 1 };
  }

  note(area: SheetArea): void {
    this.current?.reads.push(area);
  }

  spend(amount: number): void {
    this.spent += amount;
    if (this.spent > MOST_SPENT) throw new TooMuch();
  }

  name(name: string, sheet: SheetState): Code | undefined {
    const entry = this.scope.definedName(name, sheet);
    if (!entry) return undefined;
    const prepared = this.scope.prepareName(entry);
    if (prepared.isVolatile && this.current) this.current.isVolatile = true;
    const { tree, fault } = prepared;
    if (!tree) return () => errorValue("#NAME?", fault);
    prepared.code.moving ??= this.compiler(prepared, true).compile(tree, true);
    return prepared.code.moving;
  }

  nameHome(name: string, sheet: SheetState): SheetState | undefined {
    return this.scope.definedName(name, sheet)?.sheet;
  }

  tableNamed(name: string): ReturnType<Reader["tableNamed"]> {
    return this.scope.tableNamed(name);
  }

  parse(text: string): Code | undefined {
    if (this.texts.has(text)) return this.texts.get(text);
    const prepared = this.scope.prepare(text.trim());
    const kinds = ["reference", "name", "table", "spill", "range", "external"];
    const { tree } = prepared;
    const code = tree && kinds.includes(tree.kind) ? this.codeOf(prepared, true) : undefined;
    if (this.texts.size >= MOST_TEXTS) this.texts.clear();
    this.texts.set(text, code);
    return code;
  }

  // --- spills --------------------------------------------------------------------------------------------------

  /** Lays every table over the cells beside its formula; returns the areas whose cells show something else now. */
  private lay(): SheetArea[] {
    const spilled = new Spilled();
    const moved: SheetArea[] = [];
    for (const work of this.works.values()) {
      const { table, cell, filled: before, blocked: wasBlocked } = work;
      work.blocked = undefined;
      work.filled = undefined;
      if (!table) {
        if (wasBlocked || before)
          moved.push({ sheet: cell.sheet, area: before ?? areaOf(work).area });
        continue;
      }
      const area = {
        top: cell.row,
        left: cell.column,
        bottom: cell.row + table.height - 1,
        right: cell.column + table.width - 1,
      };
      const inTheWay = obstacle(work, area, spilled);
      if (inTheWay !== undefined) {
        work.blocked = errorValue("#SPILL!", inTheWay);
        if (!wasBlocked || before)
          moved.push({ sheet: cell.sheet, area: before ?? areaOf(work).area });
        continue;
      }
      work.filled = area;
      this.include(area.bottom, area.right);
      for (let row = area.top; row <= area.bottom; row++) {
        for (let column = area.left; column <= area.right; column++) {
          if (row !== area.top || column !== area.left) {
            spilled.put(cell.sheet, cellKey(row, column), work);
          }
        }
      }
      const isSame = before && before.bottom === area.bottom && before.right === area.right;
      if (!isSame || wasBlocked || !this.spilled.fills(work, area)) {
        moved.push({
          sheet: cell.sheet,
          area: before
            ? {
                ...area,
                bottom: Math.max(area.bottom, before.bottom),
                right: Math.max(area.right, before.right),
              }
            : area,
        });
      }
    }
    this.spilled = spilled;
    return moved;
  }

  // --- results -------------------------------------------------------------------------------------------------

  private store(): void {
    for (const sheet of this.book.sheets) {
      for (const [key, cell] of sheet.cells) {
        if (!this.spilled.sourceOf(sheet, key)) cell.spilledFrom = undefined;
        if (!cell.formula) cell.value = cell.input;
      }
      for (const [key, work] of this.spilled.of(sheet)) {
        const { row, column } = keyPlace(key);
        const cell = sheet.at(row, column);
        if (!this.seen.has(cell)) this.seen.set(cell, { input: cell.input, formula: cell.formula });
        cell.spilledFrom = work.cell;
        cell.value = toPlain(work.at(row, column) ?? BLANK_VALUE);
      }
    }
    for (const work of this.works.values()) {
      work.cell.value = work.value;
      work.cell.spill = work.filled;
      work.cell.isKept = work.isKept;
    }
    for (const { cell } of this.works.values()) {
      if (isCellError(cell.value)) cell.value = this.reasons.explain(cell, cell.value);
    }
  }

  private problems(): CellProblem[] {
    return this.book.sheets.flatMap((sheet) =>
      [...sheet.cells.values()]
        .filter(({ value }) => isCellError(value))
        .sort((a, b) => a.row - b.row || a.column - b.column)
        .flatMap((cell) => {
          const formula = (cell.formula ? cell : cell.spilledFrom)?.formula;
          const { value } = cell;
          if (!formula || formula.frozen || cell.isKept || !isCellError(value)) return [];
          return {
            sheet: sheet.name,
            cell: cellAddress(cell.row, cell.column),
            code: value.error,
            message: value.message ?? "",
            formula: `=${formula.typed}`,
          };
        })
    );
  }
}

function oneCell(row: number, column: number): Area {
  return { top: row, left: column, bottom: row, right: column };
}

/** The cells a formula fills, its own included. */
function areaOf({ cell, filled }: Work): SheetArea {
  return { sheet: cell.sheet, area: filled ?? oneCell(cell.row, cell.column) };
}

/** What formulas depend on beside cells: names, tables, hidden rows, merged cells. */
function structureOf(book: BookState): string {
  return JSON.stringify([
    book.is1904,
    book.names.map(({ name, text, sheet }) => [name, text, sheet?.index]),
    book.sheets.map(({ name, tables, hiddenRows, filteredRows, merges }) => [
      name,
      tables,
      [...hiddenRows],
      [...filteredRows],
      merges,
    ]),
  ]);
}

/** The error of a formula that could not be worked out to its end. */
function brokenOff(error: unknown): RuntimeScalar {
  if (error instanceof TooMuch) {
    return errorValue("#NUM!", `this formula takes more than ${MOST_SPENT} cells to work out`);
  }
  if (error instanceof RangeError) {
    return errorValue("#NUM!", "this formula makes something too large or too deep to work out");
  }
  return errorValue("#VALUE!", `internal error: ${String((error as Error)?.message ?? error)}`);
}
