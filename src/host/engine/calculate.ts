/**
 * Calculates every formula of a workbook.
 *
 * The work is done by the calculation library. Each formula is rewritten before it is handed over (rewrite.ts) and
 * wrapped in a call that shows the result with its shape and message. Tables are laid out here (spills.ts), not by the
 * library, and the calculation is repeated until they stop changing. docs/differences.md lists the faults of the
 * library that this keeps away from the cells.
 */
import { calculateFormulas, type WorkbookLike } from "@cj-tech-master/excelts/formula";
import { batchesOf, readersOf } from "./batches.js";
import {
  cellAddress,
  cellCount,
  cellKey,
  contains,
  keyPlace,
  type Area,
} from "../../core/cell-address.js";
import type { FunctionSet } from "./functions.js";
import { GridSheet } from "./grid.js";
import type { BookState, CellState, FormulaState, SheetState } from "./model.js";
import { NATIVE_FUNCTIONS } from "./natives.js";
import { Reasons } from "./reasons.js";
import { References } from "./references.js";
import { remarksOn, type CellRemark } from "./remarks.js";
import { FormulaRewriter } from "./rewrite.js";
import { ringsOf } from "./rings.js";
import { errorValue, fromPlain, toPlain, type RuntimeScalar } from "./runtime.js";
import { Scope } from "./scope.js";
import { obstacle, Spilled } from "./spills.js";
import { isCellError, sameValue, type CellProblem, type CellValue } from "./values.js";
import { Work } from "./work.js";

/** Name of the call every formula is wrapped in. */
const CELL = "HOST_.CELL";
/** Passes over the workbook before a spill that keeps changing is called circular; more where many formulas spill. */
const MOST_PASSES = 12;
/**
 * Formulas handed to the library at once. It keeps 10,000 formula texts and quietly drops the oldest beyond that,
 * which turns their cells into errors.
 */
const BATCH = 9000;
/** Rounds over the batches of a large workbook before it is called unsolvable. */
const MOST_ROUNDS = 60;
/** Areas up to this many cells are searched cell by cell for the formulas in them. */
const SMALL_AREA = 64;
/** Cells of a ring that a message names. */
const MOST_NAMED = 6;

export class Calculator {
  private readonly scope: Scope;
  private readonly rewriter: FormulaRewriter;
  private readonly references: References;
  private readonly reasons: Reasons;
  private readonly ids = new WeakMap<CellState, number>();
  private nextId = 1;
  /** texts written for the library, and what they were written for */
  private texts = new WeakMap<FormulaState, string>();
  private textsFor = "";
  /** formulas and spilled areas in which no ring was found */
  private ringFree: { formulas: readonly FormulaState[]; shapes: string } | undefined;
  private works: Work[] = [];
  private byId = new Map<number, Work>();
  private byCell = new Map<CellState, Work>();
  private sheets: GridSheet[] = [];
  /** The library remembers parsed formulas for this object, so it stays the same between calculations. */
  private readonly grid: WorkbookLike;

  constructor(
    private readonly book: BookState,
    functions: FunctionSet
  ) {
    this.scope = new Scope(book, functions.namespace);
    this.rewriter = new FormulaRewriter(this.scope, (anchor) => this.areaFilledBy(anchor));
    this.references = new References(this.scope);
    this.reasons = new Reasons(this.scope, functions, this.references, this.rewriter);
    this.grid = {
      worksheets: [],
      getWorksheet: (name) => this.sheets.find((sheet) => sheet.name === name) as never,
      definedNames: {
        getAllEntries: () => this.nameEntries(),
        getAllNames: () => this.nameEntries(),
      },
      userFunctions: this.libraryFunctions(functions),
    };
  }

  private libraryFunctions(functions: FunctionSet): NonNullable<WorkbookLike["userFunctions"]> {
    const all = new Map([...NATIVE_FUNCTIONS, ...this.rewriter.functions]);
    for (const name of functions.names) {
      const full = `${functions.namespace}.${name}`.toUpperCase();
      const entry = functions.find(full);
      if (!entry) continue;
      // The count of arguments is checked where it can be said in words.
      all.set(full, {
        minArity: 0,
        maxArity: 255,
        invoke: (args) => functions.invoke(entry, args),
      });
    }
    all.set(CELL, {
      minArity: 2,
      maxArity: 2,
      invoke: ([id, value]) => {
        const work = this.byId.get((id as RuntimeScalar).value as number);
        return work && value ? work.capture(value) : errorValue("#VALUE!");
      },
    });
    return all as unknown as NonNullable<WorkbookLike["userFunctions"]>;
  }

  /** Calculates everything and leaves the values in the cells. Returns the cells that came to an error. */
  calculate(): CellProblem[] {
    this.load();
    let spilled = this.lastSpilled();
    this.lay(new Spilled(), spilled);
    spilled = this.settle(spilled);
    if (this.markCircular(spilled)) spilled = this.settle(spilled);
    this.store(spilled);
    return this.problems();
  }

  /** What is good to know of cells that came to no error, after the last calculation. */
  remarks(): CellRemark[] {
    return remarksOn(this.book, this.scope, this.references);
  }

  // --- preparation ---------------------------------------------------------------------------------------------

  private load(): void {
    this.works = [];
    this.byId = new Map();
    this.byCell = new Map();
    this.sheets = this.book.sheets.map((state, index) => new GridSheet(state, index + 1));
    (this.grid as { worksheets: unknown[] }).worksheets = this.sheets;
    this.grid.properties = { date1904: this.book.is1904 };
    this.grid.calcProperties = { iterate: this.book.iterates };
    this.rewriter.forgetUsed();
    for (const sheet of this.sheets) {
      for (const cell of sheet.state.cells.values()) {
        this.loadCell(sheet, cell);
        this.rewriter.include(cell.row, cell.column);
      }
    }
    this.scope.refresh(this.works.length);
  }

  private loadCell(sheet: GridSheet, cell: CellState): void {
    const { formula, input } = cell;
    if (!formula || formula.frozen) {
      const constant = formula ? cell.value : input;
      if (constant !== null) sheet.getCell(cell.row, cell.column).setValue(constant);
      return;
    }
    let id = this.ids.get(cell);
    if (id === undefined) {
      id = this.nextId++;
      this.ids.set(cell, id);
    }
    const grid = sheet.getCell(cell.row, cell.column);
    const work = new Work(cell, id, this.scope.prepare(formula.typed), grid);
    this.works.push(work);
    this.byId.set(id, work);
    this.byCell.set(cell, work);
  }

  private nameEntries(): { name: string; ranges: string[]; localSheetId?: number }[] {
    return this.book.names.flatMap((entry) => {
      const typed = this.scope.typedName(entry);
      const prepared = this.scope.prepare(typed);
      const home = entry.sheet ?? this.book.sheets[0];
      if (!prepared.tree || !home) return [];
      const ranges = [this.rewriter.rewrite(typed, prepared, home, undefined)];
      const { name, sheet } = entry;
      return [sheet ? { name, ranges, localSheetId: sheet.index } : { name, ranges }];
    });
  }

  /** The text of a formula as the library gets it. */
  private calculationText({ cell, id, prepared }: Work): string {
    const formula = cell.formula as FormulaState;
    if (this.textsFor !== this.rewriter.version) {
      this.texts = new WeakMap();
      this.textsFor = this.rewriter.version;
    }
    const known = prepared.looksAround ? undefined : this.texts.get(formula);
    if (known !== undefined) return known;
    const inner = this.rewriter.rewrite(formula.typed, prepared, cell.sheet, cell);
    const text = prepared.isSubtotal ? inner : `${CELL}(${id},${inner})`;
    this.texts.set(formula, text);
    return text;
  }

  private areaFilledBy(anchor: CellState): Area | undefined {
    const work = this.byCell.get(anchor);
    const { row, column } = anchor;
    return work && (work.filled ?? { top: row, left: column, bottom: row, right: column });
  }

  // --- passes --------------------------------------------------------------------------------------------------

  /** Calculates until the spilled cells no longer change. */
  private settle(start: Spilled): Spilled {
    let spilled = start;
    let shapes = this.shapes();
    for (let pass = 1; ; pass++) {
      this.runPass();
      const before = this.works.map((work) => work.blocked !== undefined);
      const next = this.spill();
      const sameBlocked = this.works.every(
        (work, index) => (work.blocked !== undefined) === before[index]
      );
      const nextShapes = this.shapes();
      this.lay(spilled, next);
      const sameShapes = sameBlocked && nextShapes === shapes;
      if (sameShapes && spilled.isSame(next)) return next;
      // A chain of spills settles one link a pass.
      if (pass >= Math.max(MOST_PASSES, this.works.filter((work) => work.filled).length + 2)) {
        // Values that change on every pass are random numbers or the clock; areas that do are circular.
        if (!sameShapes) this.forceUnsettled(spilled, next);
        return next;
      }
      spilled = next;
      shapes = nextShapes;
    }
  }

  private forceUnsettled(before: Spilled, after: Spilled): void {
    for (const work of this.works) {
      if (before.countOf(work) === after.countOf(work)) continue;
      const message = `circular reference: what ${work.address} fills depends on itself`;
      work.forced = errorValue("#CALC!", message);
    }
  }

  /** The areas results fill, as a text to compare. */
  private shapes(): string {
    return this.works
      .flatMap(({ id, filled }) => (filled ? [`${id}:${filled.bottom}:${filled.right}`] : []))
      .join(" ");
  }

  private runPass(): void {
    for (const work of this.works) {
      work.captured = undefined;
      if (work.text === "" || work.prepared.looksAround) work.text = this.calculationText(work);
    }
    if (this.works.length > BATCH) {
      this.runBatches();
      return;
    }
    for (const work of this.works) work.grid.setFormula(work.text);
    calculateFormulas(this.grid);
  }

  /**
   * A large workbook in parts, each seeing the values of the others as they stand. A part is calculated again only where
   * a part it reads has changed since.
   */
  private runBatches(): void {
    const batches = batchesOf(this.works, BATCH);
    const readers = readersOf(batches, this.references, this.book);
    const values = new Map<Work, CellValue>();
    const isStale = batches.map(() => true);
    for (let round = 1; round <= MOST_ROUNDS; round++) {
      for (const [index, batch] of batches.entries()) {
        if (!isStale[index]) continue;
        isStale[index] = false;
        if (this.runBatch(batch, values)) {
          for (const reader of readers[index] ?? []) isStale[reader] = true;
        }
      }
      if (!isStale.includes(true)) return;
    }
    throw new Error("the formulas of this workbook depend on each other too deeply");
  }

  /** Calculates one part; true where a value in it is another than before. */
  private runBatch(batch: readonly Work[], values: Map<Work, CellValue>): boolean {
    for (const work of this.works) work.grid.setValue(values.get(work) ?? 0);
    for (const work of batch) work.grid.setFormula(work.text);
    calculateFormulas(this.grid);
    let changed = false;
    for (const work of batch) {
      const { value } = work;
      if (!sameValue(values.get(work) ?? null, value)) changed = true;
      values.set(work, value);
    }
    return changed;
  }

  // --- spills --------------------------------------------------------------------------------------------------

  /** The spilled cells as they stood when the file was read or after the last calculation. */
  private lastSpilled(): Spilled {
    const spilled = new Spilled();
    for (const sheet of this.book.sheets) {
      for (const [key, cell] of sheet.cells) {
        const from = cell.spilledFrom && this.byCell.get(cell.spilledFrom);
        const value = fromPlain(cell.value);
        if (!from || !value || cell.input !== null || cell.formula) continue;
        spilled.put(sheet, key, { from, value });
      }
    }
    return spilled;
  }

  /** Where each result spills now; marks the formulas whose area is not free. */
  private spill(): Spilled {
    const spilled = new Spilled();
    for (const work of this.works) {
      const { table, cell } = work;
      work.blocked = undefined;
      work.filled = undefined;
      if (!table) continue;
      const area = {
        top: cell.row,
        left: cell.column,
        bottom: cell.row + table.height - 1,
        right: cell.column + table.width - 1,
      };
      const inTheWay = obstacle(work, area, spilled);
      if (inTheWay !== undefined) {
        work.blocked = errorValue("#SPILL!", inTheWay);
        continue;
      }
      work.filled = area;
      // Texts written for a smaller used part are written anew.
      if (this.rewriter.include(area.bottom, area.right)) {
        for (const each of this.works) each.text = "";
      }
      table.rows.forEach((row, down) =>
        row.forEach((value, across) => {
          if (down === 0 && across === 0) return;
          const key = cellKey(area.top + down, area.left + across);
          spilled.put(cell.sheet, key, { from: work, value });
        })
      );
    }
    return spilled;
  }

  /** Puts spilled values where formulas can read them, and takes away those of the pass before. */
  private lay(before: Spilled, after: Spilled): void {
    for (const sheet of this.sheets) {
      const now = after.of(sheet.state);
      for (const key of before.of(sheet.state).keys()) {
        if (!now.has(key)) sheet.cells.get(key)?.setValue(null);
      }
      for (const [key, { value }] of now) {
        const { row, column } = keyPlace(key);
        sheet.getCell(row, column).setValue(toPlain(value));
      }
    }
  }

  // --- circular references -------------------------------------------------------------------------------------

  /** Forces an error on every formula that depends on itself. True where there was one. */
  private markCircular(spilled: Spilled): boolean {
    if (this.book.iterates) return false;
    const wasForced = this.works.some((work) => work.forced !== undefined);
    const formulas = this.works.map((work) => work.cell.formula as FormulaState);
    const shapes = this.shapes();
    const known = this.ringFree;
    const isSame =
      known?.shapes === shapes &&
      known.formulas.length === formulas.length &&
      known.formulas.every((formula, index) => formula === formulas[index]);
    if (isSame && !wasForced) return false;
    const rings = ringsOf(this.works, this.precedents(spilled));
    for (const ring of rings) {
      const path = ring.map((work) => work.address);
      const named =
        path.length > MOST_NAMED
          ? [...path.slice(0, MOST_NAMED - 1), "...", path[path.length - 1]]
          : path;
      const message = `circular reference: ${[...named, path[0]].join(" → ")}`;
      for (const work of ring) work.forced ??= errorValue("#CALC!", message);
    }
    const found = wasForced || rings.length > 0;
    this.ringFree = found ? undefined : { formulas, shapes };
    return found;
  }

  /** A way to find the formulas that a formula reads, directly or through cells they fill. */
  private precedents(spilled: Spilled): (work: Work) => readonly Work[] {
    const bySheet = new Map<SheetState, Work[]>();
    for (const work of this.works) {
      const list = bySheet.get(work.cell.sheet);
      if (list) list.push(work);
      else bySheet.set(work.cell.sheet, [work]);
    }
    const inArea = (sheet: SheetState, area: Area): Iterable<Work | undefined> => {
      if (cellCount(area) > SMALL_AREA) {
        const direct = bySheet.get(sheet) ?? [];
        return [
          ...direct.filter(({ cell }) => contains(area, cell.row, cell.column)),
          ...spilled.sourcesIn(sheet, area),
        ];
      }
      return sheet
        .cellsIn(area)
        .flatMap((cell) => [this.byCell.get(cell), spilled.sourceOf(sheet, cell.row, cell.column)]);
    };
    const known = new Map<Work, Work[]>();
    return (work) => {
      let list = known.get(work);
      if (!list) {
        const found = new Set<Work>();
        for (const { sheet, area } of this.references.of(work.cell)) {
          for (const each of inArea(sheet, area)) if (each) found.add(each);
        }
        list = [...found];
        known.set(work, list);
      }
      return list;
    };
  }

  // --- results -------------------------------------------------------------------------------------------------

  private store(spilled: Spilled): void {
    for (const sheet of this.book.sheets) {
      const now = spilled.of(sheet);
      for (const [key, cell] of sheet.cells) {
        if (!now.has(key)) cell.spilledFrom = undefined;
        if (!cell.formula) cell.value = cell.input;
      }
      for (const [key, { from, value }] of now) {
        const { row, column } = keyPlace(key);
        const cell = sheet.at(row, column);
        cell.spilledFrom = from.cell;
        cell.value = toPlain(value);
      }
    }
    for (const work of this.works) {
      work.cell.value = work.value;
      work.cell.spill = work.filled;
    }
    for (const { cell } of this.works) {
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
          if (!formula || formula.frozen || !isCellError(value)) return [];
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
