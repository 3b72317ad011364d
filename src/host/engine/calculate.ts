/**
 * Calculates every formula of a workbook.
 *
 * The work is done by the calculation library; what surrounds it here keeps its known faults away from the cells:
 * each formula is rewritten before it is handed over (comparisons to 15 digits, fraction formats, whole tables by
 * name, spilled areas, cells of sheets that do not exist) and wrapped in a call that shows the engine the result with
 * its shape and message. Spills are laid out here, not by the library, and the calculation is repeated until they
 * stop changing. docs/differences.md lists the faults.
 */
import { calculateFormulas, type WorkbookLike } from "@cj-tech-master/excelts/formula";
import {
  areaAddress,
  cellAddress,
  cellKey,
  MAX_COLUMN,
  MAX_ROW,
  sheetPrefix,
  type Area,
} from "./address.js";
import {
  FormulaSyntaxError,
  parseFormula,
  walkFormula,
  writeAsRead,
  writeFormula,
  type FormulaNode,
} from "./formula.js";
import type { FunctionSet } from "./functions.js";
import type { BookState, CellState, FormulaState, SheetState, TableState } from "./model.js";
import { ANY_TEXT, ANY_VALUE, SHOWN, NATIVE_FUNCTIONS, ROUNDED } from "./natives.js";
import {
  arrayValue,
  BLANK,
  ERROR,
  errorValue,
  isArray,
  numberValue,
  textValue,
  toPlain,
  type RuntimeArray,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";
import { localNames, thisRowReference, typedFormula } from "./spelling.js";
import { isCellError, type CellErrorValue, type CellProblem, type CellValue } from "./values.js";

/** Name of the call every formula is wrapped in. */
const CELL = "HOST_.CELL";
/** Passes over the workbook before a spill that keeps changing is called circular. */
const MOST_PASSES = 12;
/** Name of the function that keeps a reference given as text within what the workbook uses. */
const USED_TEXT = "HOST_.USED_TEXT";
/** Name of the function that keeps a number of rows or columns within what the workbook uses. */
const USED_COUNT = "HOST_.USED_COUNT";
/** References to more cells than this are cut to what the workbook uses: the library walks every cell of one. */
const LARGE_AREA = 100_000;
/** References to more cells than this, all within what the workbook uses, are an error. */
const LARGEST_AREA = 5_000_000;
/**
 * Formulas handed to the library at once. It keeps 10,000 formula texts and quietly drops the oldest beyond that,
 * which turns their cells into errors.
 */
const BATCH = 9000;
/** Rounds over the batches of a large workbook before it is called unsolvable. */
const MOST_ROUNDS = 60;

/** Functions that look at where a cell is, not at what it holds: their own cell is no circular reference. */
const POSITION_FUNCTIONS: ReadonlySet<string> = new Set([
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

/** What is known about a formula text before any calculation. */
interface Prepared {
  readonly tree: FormulaNode | undefined;
  readonly fault: string | undefined;
  readonly locals: ReadonlySet<string>;
  readonly hasSpillReference: boolean;
  /** SUBTOTAL and AGGREGATE are skipped by others of their kind, which the library sees only unwrapped */
  readonly isSubtotal: boolean;
}

/** The cell of the grid the library works on. */
class GridCell {
  type = 0;
  value: unknown = null;
  formula: string | undefined = undefined;
  result: unknown = undefined;
  model: { formula?: string } = {};
  constructor(
    readonly row: number,
    readonly col: number
  ) {}

  /** Types of the library: 0 empty, 2 number, 3 text, 4 error, 5 boolean, 6 formula; it tells only 0 and 6 apart. */
  setValue(value: CellValue): void {
    this.formula = undefined;
    this.model = {};
    this.result = undefined;
    this.value = isCellError(value) ? { error: value.error } : value;
    this.type = value === null ? 0 : 2;
  }

  setFormula(text: string): void {
    this.formula = text;
    this.model = { formula: text };
    this.value = null;
    this.result = undefined;
    this.type = 6;
  }
}

class GridSheet {
  readonly cells = new Map<number, GridCell>();
  private readonly rows = new Map<number, GridCell[]>();
  constructor(
    readonly state: SheetState,
    readonly id: number
  ) {}
  get name(): string {
    return this.state.name;
  }
  get mergedRegions(): readonly Area[] {
    return this.state.merges;
  }
  get dimensions(): Area | null {
    if (this.cells.size === 0) return null;
    let [top, left, bottom, right] = [MAX_ROW, MAX_COLUMN, 1, 1];
    for (const cell of this.cells.values()) {
      if (cell.type === 0) continue;
      top = Math.min(top, cell.row);
      bottom = Math.max(bottom, cell.row);
      left = Math.min(left, cell.col);
      right = Math.max(right, cell.col);
    }
    return top > bottom ? null : { top, left, bottom, right };
  }
  findCell(row: number, column: number): GridCell | undefined {
    return this.cells.get(cellKey(row, column));
  }
  getCell(row: number, column: number): GridCell {
    const key = cellKey(row, column);
    let cell = this.cells.get(key);
    if (!cell) {
      cell = new GridCell(row, column);
      this.cells.set(key, cell);
      const inRow = this.rows.get(row);
      if (inRow) inRow.push(cell);
      else this.rows.set(row, [cell]);
    }
    return cell;
  }
  eachRow(...args: unknown[]): void {
    const visit = args[args.length - 1] as (row: unknown, number: number) => void;
    for (const [number, cells] of this.rows) {
      const row = {
        hidden: this.state.hiddenRows.has(number),
        eachCell: (...inner: unknown[]) => {
          const each = inner[inner.length - 1] as (cell: GridCell, column: number) => void;
          for (const cell of cells) if (cell.type !== 0) each(cell, cell.col);
        },
      };
      visit(row, number);
    }
  }
  getTables(): unknown[] {
    return this.state.tables.map((table) => ({
      table: {
        name: table.name,
        tl: { row: table.area.top, col: table.area.left },
        columns: table.columns.map((name) => ({ name })),
        rows: new Array(dataRows(table)),
        headerRow: table.hasHeader,
        totalsRow: table.hasTotals,
      },
    }));
  }
}

function dataRows(table: TableState): number {
  const all = table.area.bottom - table.area.top + 1;
  return Math.max(0, all - (table.hasHeader ? 1 : 0) - (table.hasTotals ? 1 : 0));
}

/** One formula during a calculation. */
class Work {
  /** what the wrapped call saw in this pass */
  captured: RuntimeValue | undefined;
  /** an error the cell shows whatever the formula gives */
  forced: RuntimeScalar | undefined;
  blocked: RuntimeScalar | undefined;
  /** rows and columns the result filled in the pass before */
  size: { height: number; width: number } | undefined;
  text = "";
  constructor(
    readonly cell: CellState,
    readonly id: number,
    readonly prepared: Prepared,
    readonly grid: GridCell
  ) {}
  get address(): string {
    return sheetPrefix(this.cell.sheet.name) + cellAddress(this.cell.row, this.cell.column);
  }
}

interface Ghost {
  readonly from: Work;
  readonly value: RuntimeScalar;
}

type Ghosts = Map<SheetState, Map<number, Ghost>>;

export class Calculator {
  private readonly prepared = new Map<string, Prepared>();
  private readonly ids = new WeakMap<CellState, number>();
  /** texts written for the library, and the used area they were written for */
  private texts = new WeakMap<FormulaState, string>();
  private textsFor = "";
  private readonly areas = new WeakMap<FormulaState, { sheet: SheetState; area: Area }[]>();
  /** formulas and spilled areas in which no ring was found */
  private ringFree: { formulas: FormulaState[]; shapes: string } | undefined;
  private readonly knownNatives = new Map<string, boolean>();
  private nextId = 1;
  private works: Work[] = [];
  private byId = new Map<number, Work>();
  private byCell = new Map<CellState, Work>();
  private sheets: GridSheet[] = [];
  private tables = new Map<string, TableState>();
  /** last row and column that hold anything, over all sheets, so that areas keep matching each other */
  private used = { bottom: 1, right: 1 };
  private readonly userFunctions: Map<
    string,
    { minArity: number; maxArity: number; invoke: (args: unknown[]) => unknown }
  >;
  /** The library remembers parsed formulas for this object, so it stays the same between calculations. */
  private readonly grid: WorkbookLike;

  constructor(
    private readonly book: BookState,
    private readonly functions: FunctionSet
  ) {
    this.userFunctions = new Map();
    for (const [name, entry] of NATIVE_FUNCTIONS) {
      this.userFunctions.set(name.toUpperCase(), {
        minArity: entry.minArity,
        maxArity: entry.maxArity,
        invoke: (args) => entry.invoke(args as RuntimeValue[]),
      });
    }
    for (const name of functions.names) {
      const full = `${functions.namespace}.${name}`.toUpperCase();
      const entry = functions.find(full);
      if (!entry) continue;
      this.userFunctions.set(full, {
        minArity: 0,
        maxArity: 255,
        invoke: (args) => functions.invoke(entry, args as RuntimeValue[]),
      });
    }
    this.userFunctions.set(CELL, {
      minArity: 2,
      maxArity: 2,
      invoke: (args) => this.capture(args as RuntimeValue[]),
    });
    this.userFunctions.set(USED_TEXT, {
      minArity: 1,
      maxArity: 1,
      invoke: ([text]) => this.usedText(text as RuntimeValue),
    });
    this.userFunctions.set(USED_COUNT, {
      minArity: 2,
      maxArity: 2,
      invoke: ([count, way]) => this.usedCount(count as RuntimeScalar, way as RuntimeScalar),
    });
    this.grid = {
      worksheets: [],
      getWorksheet: (name) =>
        this.sheets.find((sheet) => sheet.name === name || sheet.id === name) as never,
      definedNames: {
        getAllEntries: () => this.nameEntries(),
        getAllNames: () => this.nameEntries(),
      },
      userFunctions: this.userFunctions,
    };
  }

  /** Calculates everything and leaves the values in the cells. Returns the formulas that came to an error. */
  calculate(): CellProblem[] {
    this.load();
    let ghosts = this.ghostsOfLastTime();
    this.layGhosts(new Map(), ghosts);
    ghosts = this.settle(ghosts);
    if (this.markCircular(ghosts)) ghosts = this.settle(ghosts);
    this.store(ghosts);
    return this.problems();
  }

  // --- preparation ---------------------------------------------------------------------------------------------

  private load(): void {
    this.tables = new Map();
    for (const sheet of this.book.sheets) {
      for (const table of sheet.tables) this.tables.set(table.name.toLowerCase(), table);
    }
    this.works = [];
    this.byId = new Map();
    this.byCell = new Map();
    this.sheets = this.book.sheets.map((state, index) => new GridSheet(state, index + 1));
    (this.grid as { worksheets: unknown[] }).worksheets = this.sheets;
    this.grid.properties = { date1904: this.book.is1904 };
    this.grid.calcProperties = { iterate: this.book.iterates };
    this.used = { bottom: 1, right: 1 };
    this.sheets.forEach((sheet) => {
      for (const cell of sheet.state.cells.values()) {
        this.loadCell(sheet, cell);
        this.include(cell.row, cell.column);
      }
    });
    if (this.prepared.size > 4 * this.works.length + 1000) this.prepared.clear();
  }

  /** Extends the used area by a cell; true where it grew. */
  private include(row: number, column: number): boolean {
    const { bottom, right } = this.used;
    if (row <= bottom && column <= right) return false;
    this.used = { bottom: Math.max(bottom, row), right: Math.max(right, column) };
    return true;
  }

  private loadCell(sheet: GridSheet, cell: CellState): void {
    if (!cell.formula) {
      if (cell.input !== null) sheet.getCell(cell.row, cell.column).setValue(cell.input);
      return;
    }
    const grid = sheet.getCell(cell.row, cell.column);
    if (cell.formula.frozen) {
      grid.setValue(cell.value);
      return;
    }
    let id = this.ids.get(cell);
    if (id === undefined) {
      id = this.nextId++;
      this.ids.set(cell, id);
    }
    const work = new Work(cell, id, this.prepare(cell.formula.typed), grid);
    if (cell.spill) {
      const { top, left, bottom, right } = cell.spill;
      work.size = { height: bottom - top + 1, width: right - left + 1 };
    }
    this.works.push(work);
    this.byId.set(id, work);
    this.byCell.set(cell, work);
  }

  private prepare(typed: string): Prepared {
    let prepared = this.prepared.get(typed);
    if (!prepared) {
      prepared = prepareText(typed);
      this.prepared.set(typed, prepared);
    }
    return prepared;
  }

  private nameEntries(): { name: string; ranges: string[]; localSheetId?: number }[] {
    return this.book.names.flatMap(({ name, text, sheet }) => {
      const typed = typedFormula(text, this.functions.namespace);
      const { tree, locals } = this.prepare(typed);
      if (!tree) return [];
      const home = sheet ?? this.book.sheets[0];
      if (!home) return [];
      const range = this.rewrite(typed, tree, locals, home, undefined);
      return [{ name, ranges: [range], ...(sheet ? { localSheetId: sheet.index } : {}) }];
    });
  }

  /** The text of a formula as the library gets it. */
  private calculationText(work: Work): string {
    const { tree, locals, isSubtotal, hasSpillReference } = work.prepared;
    const { formula } = work.cell;
    if (!tree || !formula) return "#NAME?";
    const usedFor = `${this.used.bottom}:${this.used.right}`;
    if (usedFor !== this.textsFor) {
      this.texts = new WeakMap();
      this.textsFor = usedFor;
    }
    const known = this.texts.get(formula);
    if (known !== undefined && !hasSpillReference) return known;
    const inner = this.rewrite(formula.typed, tree, locals, work.cell.sheet, work.cell);
    const text = isSubtotal ? inner : `${CELL}(${work.id},${inner})`;
    this.texts.set(formula, text);
    return text;
  }

  private rewrite(
    source: string,
    tree: FormulaNode,
    locals: ReadonlySet<string>,
    sheet: SheetState,
    cell: CellState | undefined
  ): string {
    const ownTable = cell && sheet.tableAt(cell.row, cell.column)?.name;
    return writeFormula(source, tree, (node, write) => {
      switch (node.kind) {
        case "reference":
          if (node.sheet !== undefined && !this.hasSheets(node)) return "#REF!";
          return this.usedReference(source, node);
        case "external":
          return "#REF!";
        case "spill":
          return this.spillReference(node, sheet);
        case "name":
          if (node.sheet !== undefined) return node.name;
          return !locals.has((node.name as string).toUpperCase()) && this.isTable(node.name)
            ? `${node.name as string}[#Data]`
            : undefined;
        case "table": {
          const text = source.slice(node.start, node.end);
          if (node.name ? !this.isTable(node.name) : ownTable === undefined) return "#REF!";
          return thisRowReference(text, ownTable);
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

  private hasSheets(node: FormulaNode): boolean {
    const last = node.lastSheet ?? node.sheet;
    return (
      this.book.sheet(node.sheet as string) !== undefined &&
      this.book.sheet(last as string) !== undefined
    );
  }

  private isTable(name: string | undefined): boolean {
    return name !== undefined && this.tables.has(name.toLowerCase());
  }

  /** D2# is the area that the formula in D2 fills at this point of the calculation. */
  private spillReference(node: FormulaNode, sheet: SheetState): string {
    const anchor = this.anchorOf(node, sheet);
    if (!anchor) return "#REF!";
    const work = this.byCell.get(anchor);
    if (!work) return "#REF!";
    const area = {
      top: anchor.row,
      left: anchor.column,
      bottom: anchor.row + (work.size?.height ?? 1) - 1,
      right: anchor.column + (work.size?.width ?? 1) - 1,
    };
    return sheetPrefix(anchor.sheet.name) + areaAddress(area);
  }

  private anchorOf(node: FormulaNode, sheet: SheetState): CellState | undefined {
    const inner = node.children[0];
    if (inner?.kind !== "reference" || !inner.area) return undefined;
    const home = inner.sheet === undefined ? sheet : this.book.sheet(inner.sheet);
    return home?.find(inner.area.top, inner.area.left);
  }

  private rewriteCall(
    source: string,
    node: FormulaNode,
    write: (child: FormulaNode) => string,
    sheet: SheetState
  ): string | undefined {
    const name = (node.name as string).toUpperCase();
    const [first, second] = node.children;
    // The library counts one row and column in a reference that is broken.
    if (first && POSITION_FUNCTIONS.has(name)) {
      if (write(first) === "#REF!") return "#REF!";
      if (first.kind === "reference" && first.area && first.lastSheet === undefined) {
        const { top, left, bottom, right } = first.area;
        if (name === "ROWS") return String(bottom - top + 1);
        if (name === "COLUMNS") return String(right - left + 1);
      }
    }
    if (name === "INDIRECT" && first) {
      const rest = node.children.slice(1).map((child) => `,${write(child)}`);
      return `INDIRECT(${USED_TEXT}(${write(first)})${rest.join("")})`;
    }
    if (name === "OFFSET" && node.children.length > 3) {
      const parts = node.children.map((child, index) =>
        index < 3 || child.kind === "omitted"
          ? write(child)
          : `${USED_COUNT}(${write(child)},${index === 3 ? 1 : 2})`
      );
      return `OFFSET(${parts.join(",")})`;
    }
    if (name === "TEXT" && first && second && node.children.length === 2) {
      const native = `TEXT(${ROUNDED}(host_v,host_f),host_f)`;
      return `LET(host_v,${write(first)},host_f,${write(second)},${ANY_TEXT}(host_v,host_f,${native}))`;
    }
    if ((name === "FIXED" || name === "DOLLAR") && first && (!second || second.kind === "number")) {
      const places = second ? write(second) : "2";
      const rest = node.children.slice(2).map((child) => `,${write(child)}`);
      return `${name}(ROUND(${write(first)},${places}),${places}${rest.join("")})`;
    }
    if (TEXT_JOINERS.has(name)) {
      const inner = { ...node, start: node.nameEnd as number };
      return (
        name +
        writeAsRead(source, inner, (child) =>
          child.kind === "text" || child.kind === "omitted"
            ? write(child)
            : `${SHOWN}(${write(child)})`
        )
      );
    }
    if (name === "VALUE" && first && node.children.length === 1) {
      return `LET(host_v,${write(first)},${ANY_VALUE}(host_v,VALUE(host_v)))`;
    }
    if (name === "FORMULATEXT" && first?.kind === "reference" && first.area) {
      const home = first.sheet === undefined ? sheet : this.book.sheet(first.sheet);
      const formula = home?.find(first.area.top, first.area.left)?.formula;
      return formula ? `"=${formula.typed.replace(/"/g, '""')}"` : "#N/A";
    }
    return undefined;
  }

  // --- passes --------------------------------------------------------------------------------------------------

  /** Called by the library with a cell's id and what its formula came to. */
  private capture([id, value]: RuntimeValue[]): RuntimeValue {
    const work = this.byId.get((id as RuntimeScalar).value as number);
    if (!work || value === undefined) return errorValue("#VALUE!");
    let shown: RuntimeValue = value;
    if (work.cell.formula?.mode === "plain") {
      if (!isArray(value)) shown = filled(value);
    } else if (isArray(value)) {
      // Without the place it came from, so that other formulas read the first cell, not the one beside them.
      shown = arrayValue(value.rows.map((row) => row.map(filled)));
    } else {
      shown = filled(value);
    }
    if (work.cell.formula?.mode === "array") shown = confined(shown, work.cell.formula.area);
    work.captured = shown;
    return work.forced ?? work.blocked ?? named(shown, work);
  }

  /** Calculates until the spilled cells no longer change. */
  private settle(start: Ghosts): Ghosts {
    let ghosts = start;
    let shapes = this.spilledShapes();
    for (let pass = 1; ; pass++) {
      this.runPass();
      const blocked = this.works.map((work) => work.blocked !== undefined);
      const next = this.spills();
      const sameBlocked = this.works.every(
        (work, index) => (work.blocked !== undefined) === blocked[index]
      );
      const newShapes = this.spilledShapes();
      const settled = sameBlocked && sameGhosts(ghosts, next) && newShapes === shapes;
      this.layGhosts(ghosts, next);
      if (settled) return next;
      if (pass >= MOST_PASSES) {
        // Values that change on every pass are random numbers or the clock; areas that do are circular.
        if (newShapes !== shapes || !sameBlocked) this.forceUnsettled(ghosts, next);
        return next;
      }
      ghosts = next;
      shapes = newShapes;
    }
  }

  private forceUnsettled(before: Ghosts, after: Ghosts): void {
    for (const work of this.works) {
      const old = [...(before.get(work.cell.sheet)?.values() ?? [])].filter((g) => g.from === work);
      const now = [...(after.get(work.cell.sheet)?.values() ?? [])].filter((g) => g.from === work);
      if (old.length !== now.length) {
        work.forced = errorValue(
          "#CALC!",
          `circular reference: what ${work.address} fills depends on itself`
        );
      }
    }
  }

  private spilledShapes(): string {
    const shapes: string[] = [];
    for (const work of this.works) {
      if (work.size) shapes.push(`${work.id}:${work.size.height}x${work.size.width}`);
    }
    return shapes.join(" ");
  }

  private runPass(): void {
    for (const work of this.works) {
      work.captured = undefined;
      if (work.text === "" || work.prepared.hasSpillReference)
        work.text = this.calculationText(work);
    }
    if (this.works.length <= BATCH) {
      for (const work of this.works) work.grid.setFormula(work.text);
      calculateFormulas(this.grid);
      return;
    }
    this.runBatches();
  }

  /** A large workbook in parts, each seeing the values of the others as they stand, until nothing changes. */
  private runBatches(): void {
    const values = new Map<Work, CellValue>();
    for (let round = 1; round <= MOST_ROUNDS; round++) {
      let changed = false;
      for (let from = 0; from < this.works.length; from += BATCH) {
        const batch = this.works.slice(from, from + BATCH);
        for (const work of this.works) work.grid.setValue(values.get(work) ?? 0);
        for (const work of batch) work.grid.setFormula(work.text);
        calculateFormulas(this.grid);
        for (const work of batch) {
          const value = this.valueOf(work);
          if (!sameValue(values.get(work) ?? null, value)) changed = true;
          values.set(work, value);
        }
      }
      if (!changed) return;
    }
    throw new Error(
      "the formulas of this workbook depend on each other too deeply to calculate here"
    );
  }

  /** What a formula's own cell shows. */
  private valueOf(work: Work): CellValue {
    const fixed = work.forced ?? work.blocked;
    if (fixed) return toPlain(fixed);
    const { fault } = work.prepared;
    if (fault !== undefined) return { error: "#NAME?", message: fault };
    const { captured, grid } = work;
    if (captured && (!isArray(captured) || work.cell.formula?.mode !== "plain")) {
      const first = isArray(captured) ? captured.rows[0]?.[0] : captured;
      return first ? toPlain(first) : { error: "#CALC!" };
    }
    const result = grid.result as CellValue | undefined;
    if (isCellError(result)) {
      const match = captured && isArray(captured) ? findError(captured, result.error) : undefined;
      return match ?? { error: result.error };
    }
    if (captured) return result ?? 0;
    if (result === undefined) return work.prepared.isSubtotal ? 0 : { error: "#NAME?" };
    return result;
  }

  // --- spills --------------------------------------------------------------------------------------------------

  /** The spilled cells as they stood when the file was read or after the last calculation. */
  private ghostsOfLastTime(): Ghosts {
    const ghosts: Ghosts = new Map();
    for (const sheet of this.book.sheets) {
      for (const [key, cell] of sheet.cells) {
        const work = cell.spilledFrom && this.byCell.get(cell.spilledFrom);
        if (!work || cell.input !== null || cell.formula) continue;
        const { value } = cell;
        const scalar = isCellError(value)
          ? errorValue(value.error, value.message)
          : ({ kind: kindOf(value), value } as RuntimeScalar);
        put(ghosts, sheet, key, { from: work, value: scalar });
      }
    }
    return ghosts;
  }

  /** Where each result spills now; marks the formulas whose area is not free. */
  private spills(): Ghosts {
    const ghosts: Ghosts = new Map();
    for (const work of this.works) {
      const shape = work.forced ? undefined : shapeOf(work);
      work.blocked = undefined;
      work.size = undefined;
      if (!shape || shape.height * shape.width === 1) continue;
      const area = spillArea(work.cell, shape);
      const obstacle = this.obstacle(work, area, ghosts);
      if (obstacle !== undefined) {
        work.blocked = errorValue("#SPILL!", obstacle);
        continue;
      }
      work.size = { height: shape.height, width: shape.width };
      // Texts written for a smaller used area are written anew.
      if (this.include(area.bottom, area.right)) for (const each of this.works) each.text = "";
      shape.rows.forEach((row, down) =>
        row.forEach((value, across) => {
          if (down === 0 && across === 0) return;
          const key = cellKey(area.top + down, area.left + across);
          put(ghosts, work.cell.sheet, key, { from: work, value });
        })
      );
    }
    return ghosts;
  }

  /** Why a result cannot spill over an area; undefined where it can. */
  private obstacle(work: Work, area: Area, taken: Ghosts): string | undefined {
    const { sheet } = work.cell;
    const size = `${area.bottom - area.top + 1} rows by ${area.right - area.left + 1} columns`;
    if (area.bottom > MAX_ROW || area.right > MAX_COLUMN) {
      return `the table is ${size} and would run off the sheet`;
    }
    if (work.cell.formula?.mode === "array") return undefined;
    if (sheet.merges.some((merge) => overlaps(merge, area))) {
      return `the table is ${size}; merged cells are in the way`;
    }
    const table = sheet.tables.find((entry) => overlaps(entry.area, area));
    if (table) return `the table is ${size}; the worksheet table ${table.name} is in the way`;
    const inTheWay = (row: number, column: number): string =>
      `the table is ${size}; ${cellAddress(row, column)} is in the way, empty it`;
    const takenHere = taken.get(sheet);
    if (area.right - area.left < 1000 && area.bottom - area.top < 20000) {
      for (let row = area.top; row <= area.bottom; row++) {
        for (let column = area.left; column <= area.right; column++) {
          const cell = sheet.find(row, column);
          if (cell === work.cell) continue;
          if (cell && (cell.input !== null || cell.formula)) return inTheWay(row, column);
          if (takenHere?.has(cellKey(row, column))) return inTheWay(row, column);
        }
      }
      return undefined;
    }
    for (const cell of sheet.cells.values()) {
      const inside = overlaps(
        { top: cell.row, left: cell.column, bottom: cell.row, right: cell.column },
        area
      );
      if (!inside || cell === work.cell) continue;
      if (cell.input !== null || cell.formula) return inTheWay(cell.row, cell.column);
    }
    return undefined;
  }

  /** Puts spilled values where formulas can read them, and takes away those of the pass before. */
  private layGhosts(before: Ghosts, after: Ghosts): void {
    for (const sheet of this.sheets) {
      const old = before.get(sheet.state);
      const now = after.get(sheet.state);
      for (const key of old?.keys() ?? []) {
        if (!now?.has(key)) sheet.cells.get(key)?.setValue(null);
      }
      for (const [key, ghost] of now ?? []) {
        const row = Math.floor(key / (MAX_COLUMN + 1));
        sheet.getCell(row, key % (MAX_COLUMN + 1)).setValue(toPlain(ghost.value));
      }
    }
  }

  // --- circular references -------------------------------------------------------------------------------------

  /** Forces an error on every formula that depends on itself. True where there was one. */
  private markCircular(ghosts: Ghosts): boolean {
    if (this.book.iterates) return false;
    const formulas = this.works.map((work) => work.cell.formula as FormulaState);
    const shapes = this.spilledShapes();
    const known = this.ringFree;
    const isSame =
      known?.shapes === shapes &&
      known.formulas.length === formulas.length &&
      known.formulas.every((formula, index) => formula === formulas[index]);
    if (isSame && !this.works.some((work) => work.forced)) return false;
    this.ringFree = undefined;
    const formulasBySheet = new Map<SheetState, Work[]>();
    for (const work of this.works) {
      const list = formulasBySheet.get(work.cell.sheet);
      if (list) list.push(work);
      else formulasBySheet.set(work.cell.sheet, [work]);
    }
    const memory = new Map<Work, Work[]>();
    const needs = (work: Work): Work[] => {
      let list = memory.get(work);
      if (!list) {
        list = this.precedents(work, ghosts, formulasBySheet);
        memory.set(work, list);
      }
      return list;
    };
    const rings = ringsOf(this.works, needs);
    for (const ring of rings) {
      const path = ring.map((work) => work.address);
      const shown = path.length > 6 ? [...path.slice(0, 5), "...", path[path.length - 1]] : path;
      const message = `circular reference: ${[...shown, path[0]].join(" → ")}`;
      for (const work of ring) work.forced ??= errorValue("#CALC!", message);
    }
    const found = rings.length > 0 || this.works.some((work) => work.forced !== undefined);
    if (!found) this.ringFree = { formulas, shapes };
    return found;
  }

  /** The formulas a formula reads, directly or through cells that spilled from them. */
  private precedents(
    work: Work,
    ghosts: Ghosts,
    formulasBySheet: ReadonlyMap<SheetState, readonly Work[]>
  ): Work[] {
    const found = new Set<Work>();
    for (const { sheet, area } of this.references(work)) {
      const size = cellCount(area);
      const formulas = formulasBySheet.get(sheet) ?? [];
      const spilled = ghosts.get(sheet);
      if (size <= 64) {
        for (let row = area.top; row <= area.bottom; row++) {
          for (let column = area.left; column <= area.right; column++) {
            const cell = sheet.find(row, column);
            const direct = cell && this.byCell.get(cell);
            if (direct) found.add(direct);
            const through = spilled?.get(cellKey(row, column))?.from;
            if (through) found.add(through);
          }
        }
        continue;
      }
      for (const other of formulas)
        if (contains(area, other.cell.row, other.cell.column)) found.add(other);
      for (const [key, ghost] of spilled ?? []) {
        const row = Math.floor(key / (MAX_COLUMN + 1));
        if (contains(area, row, key % (MAX_COLUMN + 1))) found.add(ghost.from);
      }
    }
    return [...found];
  }

  /** Every area a formula reads. */
  private references(work: Work): { sheet: SheetState; area: Area }[] {
    const { formula, sheet } = work.cell;
    const { tree } = work.prepared;
    if (!formula || !tree) return [];
    let list = this.areas.get(formula);
    if (!list) {
      list = [];
      this.collect(formula.typed, tree, sheet, work.cell, list, new Set());
      this.areas.set(formula, list);
    }
    return list;
  }

  private collect(
    source: string,
    node: FormulaNode,
    sheet: SheetState,
    cell: CellState | undefined,
    list: { sheet: SheetState; area: Area }[],
    names: Set<string>
  ): void {
    const inside = (child: FormulaNode): void =>
      this.collect(source, child, sheet, cell, list, names);
    switch (node.kind) {
      case "reference": {
        const from = node.sheet === undefined ? sheet : this.book.sheet(node.sheet);
        const to = node.lastSheet === undefined ? from : this.book.sheet(node.lastSheet);
        if (!from || !to || !node.area) return;
        for (const each of this.book.sheets) {
          if (each.index >= from.index && each.index <= to.index) {
            list.push({ sheet: each, area: node.area });
          }
        }
        return;
      }
      case "spill": {
        const inner = node.children[0];
        const home = inner?.sheet === undefined ? sheet : this.book.sheet(inner.sheet);
        if (inner?.area && home) {
          const { top, left } = inner.area;
          list.push({ sheet: home, area: { top, left, bottom: top, right: left } });
        }
        return;
      }
      case "table":
        this.collectTable(source.slice(node.start, node.end), sheet, cell, list);
        return;
      case "name": {
        const name = (node.name as string).toLowerCase();
        const table = this.tables.get(name);
        if (table) {
          const home = this.book.sheets.find((each) => each.tables.includes(table));
          if (home) list.push({ sheet: home, area: dataArea(table) });
          return;
        }
        const entry = this.nameFor(name, sheet);
        if (!entry || names.has(name)) return;
        names.add(name);
        const text = typedFormula(entry.text, this.functions.namespace);
        const { tree } = this.prepare(text);
        if (tree) this.collect(text, tree, entry.sheet ?? sheet, undefined, list, names);
        return;
      }
      case "call":
        if (POSITION_FUNCTIONS.has((node.name as string).toUpperCase())) {
          node.children.filter((child) => child.kind !== "reference").forEach(inside);
          return;
        }
    }
    node.children.forEach(inside);
  }

  private nameFor(name: string, sheet: SheetState): BookState["names"][number] | undefined {
    const same = this.book.names.filter((entry) => entry.name.toLowerCase() === name);
    return same.find((entry) => entry.sheet === sheet) ?? same.find((entry) => !entry.sheet);
  }

  private collectTable(
    text: string,
    sheet: SheetState,
    cell: CellState | undefined,
    list: { sheet: SheetState; area: Area }[]
  ): void {
    const open = text.indexOf("[");
    const named = text.slice(0, open).toLowerCase();
    const own = cell && sheet.tableAt(cell.row, cell.column);
    const table = named === "" ? own : this.tables.get(named);
    const home = table && this.book.sheets.find((each) => each.tables.includes(table));
    if (!table || !home) return;
    const inner = text.slice(open + 1, -1);
    const columns = table.columns
      .map((name, index) => ({ name, index }))
      .filter(({ name }) => inner.toLowerCase().includes(name.toLowerCase()));
    const exact = columns.filter(({ name }) => {
      const plain = inner.replace(/^\s*@\s*/, "").trim();
      return (
        plain.toLowerCase() === name.toLowerCase() ||
        inner.toLowerCase().includes(`[${name.toLowerCase()}]`)
      );
    });
    const named_ = exact.length > 0 ? exact : columns;
    const left = named_.length === 0 ? 0 : Math.min(...named_.map(({ index }) => index));
    const right =
      named_.length === 0
        ? table.columns.length - 1
        : Math.max(...named_.map(({ index }) => index));
    const thisRow = /^\s*@|#this row/i.test(inner);
    const rows = dataArea(table);
    let { top, bottom } = rows;
    if (thisRow && cell) top = bottom = cell.row;
    else if (/#all/i.test(inner)) ({ top, bottom } = table.area);
    else if (/#headers/i.test(inner)) {
      top = table.area.top;
      if (!/#data/i.test(inner)) bottom = top;
    } else if (/#totals/i.test(inner)) {
      bottom = table.area.bottom;
      if (!/#data/i.test(inner)) top = bottom;
    }
    list.push({
      sheet: home,
      area: { top, bottom, left: table.area.left + left, right: table.area.left + right },
    });
  }

  // --- results -------------------------------------------------------------------------------------------------

  private store(ghosts: Ghosts): void {
    for (const sheet of this.book.sheets) {
      const now = ghosts.get(sheet);
      for (const [key, cell] of sheet.cells) {
        if (cell.spilledFrom && !now?.has(key)) {
          cell.spilledFrom = undefined;
          if (cell.input === null && !cell.formula) cell.value = null;
        }
        if (!cell.formula) {
          if (cell.input !== null) cell.value = cell.input;
          else if (!now?.has(key)) cell.value = null;
        }
      }
      for (const [key, ghost] of now ?? []) {
        const row = Math.floor(key / (MAX_COLUMN + 1));
        const cell = sheet.at(row, key % (MAX_COLUMN + 1));
        cell.spilledFrom = ghost.from.cell;
        cell.value = toPlain(ghost.value);
      }
    }
    for (const work of this.works) {
      work.cell.value = this.valueOf(work);
      const shape = work.blocked || work.forced ? undefined : shapeOf(work);
      const many = shape && shape.height * shape.width > 1;
      work.cell.spill = many ? spillArea(work.cell, shape) : undefined;
    }
  }

  private problems(): CellProblem[] {
    const problems: CellProblem[] = [];
    for (const work of this.works) {
      if (isCellError(work.cell.value)) {
        work.cell.value = this.explained(work, work.cell.value);
      }
    }
    for (const sheet of this.book.sheets) {
      const cells = [...sheet.cells.values()].sort((a, b) => a.row - b.row || a.column - b.column);
      for (const cell of cells) {
        const source = cell.formula ? cell : cell.spilledFrom;
        if (!source?.formula || source.formula.frozen || !isCellError(cell.value)) continue;
        problems.push({
          sheet: sheet.name,
          cell: cellAddress(cell.row, cell.column),
          code: cell.value.error,
          message: cell.value.message ?? "",
          formula: `=${source.formula.typed}`,
        });
      }
    }
    return problems;
  }

  /** An error with the best reason that can be given for it. */
  private explained(work: Work, value: CellErrorValue, seen = new Set<Work>()): CellErrorValue {
    if (value.message !== undefined) return value;
    seen.add(work);
    const origin = this.originOf(work, value, seen);
    if (origin) return { error: value.error, message: origin };
    const reason = this.reasonFor(work, value.error);
    return reason === undefined ? value : { error: value.error, message: reason };
  }

  /** A cell the formula reads that already shows the error. */
  private originOf(work: Work, value: CellErrorValue, seen: Set<Work>): string | undefined {
    for (const { sheet, area } of this.references(work)) {
      const cells: Iterable<CellState> =
        cellCount(area) <= 64 ? cellsOf(sheet, area) : sheet.cells.values();
      for (const cell of cells) {
        if (!contains(area, cell.row, cell.column)) continue;
        const held = cell.value;
        if (!isCellError(held) || held.error !== value.error || cell === work.cell) continue;
        const other = this.byCell.get(cell);
        const why =
          other && !seen.has(other) ? this.explained(other, held, seen).message : held.message;
        const where = sheetPrefix(sheet.name) + cellAddress(cell.row, cell.column);
        return why === undefined || why.startsWith("from ")
          ? (why ?? `from ${where}`)
          : `from ${where}: ${why}`;
      }
    }
    return undefined;
  }

  private reasonFor(work: Work, code: string): string | undefined {
    const { tree, locals } = work.prepared;
    if (!tree) return undefined;
    const reasons: string[] = [];
    walkFormula(tree, (node) => {
      if (code === "#NAME?" && node.kind === "call") {
        const name = (node.name as string).toUpperCase();
        if (!locals.has(name) && !this.isKnownFunction(name)) {
          const near = this.nearestFunction(name);
          const hint = near === undefined ? "" : `; did you mean ${near}?`;
          reasons.push(`there is no function called ${name}${hint}`);
        }
      }
      if (
        code === "#NAME?" &&
        node.kind === "name" &&
        !locals.has((node.name as string).toUpperCase())
      ) {
        const name = node.name as string;
        if (!this.isTable(name) && !this.nameFor(name.toLowerCase(), work.cell.sheet)) {
          reasons.push(`nothing in this workbook is called ${name}`);
        }
      }
      if (code === "#NUM!" && node.area && cellCount(this.usedPart(node.area)) > LARGEST_AREA) {
        reasons.push(`this formula reads more than ${LARGEST_AREA} cells`);
      }
      if (code === "#REF!" && node.sheet !== undefined && node.kind === "reference") {
        if (!this.hasSheets(node)) reasons.push(`there is no sheet called ${node.sheet}`);
      }
      if (code === "#REF!" && node.kind === "table" && node.name && !this.isTable(node.name)) {
        reasons.push(`there is no table called ${node.name}`);
      }
    });
    return reasons[0] ?? GENERAL_REASONS[code];
  }

  /** True for a function of ours, of the library, or a name that stands for a function. */
  private isKnownFunction(name: string): boolean {
    if (this.userFunctions.has(name)) return true;
    if (this.book.names.some((entry) => entry.name.toUpperCase() === name)) return true;
    let known = this.knownNatives.get(name);
    if (known === undefined) {
      known = libraryKnows(name);
      this.knownNatives.set(name, known);
    }
    return known;
  }

  private nearestFunction(name: string): string | undefined {
    const prefix = `${this.functions.namespace.toUpperCase()}.`;
    const bare = name.startsWith(prefix) ? name.slice(prefix.length) : name;
    let best: string | undefined;
    let least = Math.max(1, Math.floor(bare.length / 3)) + 1;
    for (const candidate of this.functions.names) {
      const away = editDistance(bare, candidate, least);
      if (away < least) {
        least = away;
        best = prefix + candidate;
      }
    }
    return best;
  }
}

const GENERAL_REASONS: Readonly<Record<string, string>> = {
  "#NAME?": "a name or function in this formula is not known",
  "#REF!": "a cell, sheet, table or column that this formula names does not exist",
  "#DIV/0!": "this formula divides by zero or by an empty cell",
  "#N/A": "a value this formula looks for is not there",
  "#VALUE!":
    "a value in this formula is not of the kind it needs, such as text where a number should be",
  "#NUM!": "a number in this formula is too large, too small or not possible",
  "#NULL!": "two ranges in this formula have no cell in common",
  "#CALC!": "this formula has no result, such as a filter that keeps nothing",
};

function prepareText(typed: string): Prepared {
  try {
    const tree = parseFormula(typed);
    let hasSpillReference = false;
    walkFormula(tree, (node) => {
      if (node.kind === "spill") hasSpillReference = true;
    });
    const isSubtotal =
      tree.kind === "call" && /^(?:SUBTOTAL|AGGREGATE)$/i.test(tree.name as string);
    return { tree, fault: undefined, locals: localNames(tree), hasSpillReference, isSubtotal };
  } catch (error) {
    if (!(error instanceof FormulaSyntaxError)) throw error;
    const place = `at character ${error.position + 1}`;
    return {
      tree: undefined,
      fault: `this is not a formula: ${error.message} (${place})`,
      locals: new Set(),
      hasSpillReference: false,
      isSubtotal: false,
    };
  }
}

/**
 * The sides of =, <, & and their kin as shown, to 15 digits. Comparing with a text constant needs none of it.
 */
function writeShown(
  source: string,
  node: FormulaNode,
  write: (child: FormulaNode) => string
): string | undefined {
  const withText = node.children.some((child) => child.kind === "text");
  if (node.kind === "comparison" && withText) return undefined;
  const plain = new Set(["number", "text", "boolean", "error"]);
  return writeAsRead(source, node, (child) =>
    plain.has(child.kind) ? write(child) : `${SHOWN}(${write(child)})`
  );
}

/** A formula's cell shows 0 where the formula came to nothing (a reference to an empty cell). */
function filled(value: RuntimeScalar): RuntimeScalar {
  return value.kind === BLANK ? numberValue(0) : value;
}

/** The answer of an old array formula fitted to its area: one value fills it, missing ones are #N/A. */
function confined(value: RuntimeValue, area: Area | undefined): RuntimeValue {
  if (!area) return value;
  if (cellCount(area) > LARGEST_AREA) {
    return errorValue("#NUM!", `this array formula covers more than ${LARGEST_AREA} cells`);
  }
  const rows: RuntimeScalar[][] = [];
  for (let row = area.top; row <= area.bottom; row++) {
    const cells: RuntimeScalar[] = [];
    for (let column = area.left; column <= area.right; column++) {
      if (!isArray(value)) {
        cells.push(value);
        continue;
      }
      const down = value.height === 1 ? 0 : row - area.top;
      const across = value.width === 1 ? 0 : column - area.left;
      cells.push(value.rows[down]?.[across] ?? errorValue("#N/A"));
    }
    rows.push(cells);
  }
  return arrayValue(rows);
}

/** Errors leave a cell with its address in front of the reason. */
function named(value: RuntimeValue, work: Work): RuntimeValue {
  if (isArray(value)) return value;
  if (value.kind !== ERROR || value.message === undefined || value.message.startsWith("from ")) {
    return value;
  }
  return { ...value, message: `from ${work.address}: ${value.message}` };
}

function shapeOf(work: Work): RuntimeArray | undefined {
  const { captured } = work;
  if (!captured || !isArray(captured) || work.cell.formula?.mode === "plain") return undefined;
  return captured.height > 0 && captured.width > 0 ? captured : undefined;
}

function spillArea(cell: CellState, shape: RuntimeArray): Area {
  return {
    top: cell.row,
    left: cell.column,
    bottom: cell.row + shape.height - 1,
    right: cell.column + shape.width - 1,
  };
}

function dataArea(table: TableState): Area {
  return {
    ...table.area,
    top: table.area.top + (table.hasHeader ? 1 : 0),
    bottom: table.area.bottom - (table.hasTotals ? 1 : 0),
  };
}

function findError(array: RuntimeArray, code: string): CellValue | undefined {
  for (const row of array.rows) {
    const match = row.find((value) => value.kind === ERROR && value.code === code);
    if (match) return toPlain(match);
  }
  return undefined;
}

function cellCount(area: Area): number {
  return (area.bottom - area.top + 1) * (area.right - area.left + 1);
}

function overlaps(a: Area, b: Area): boolean {
  return a.top <= b.bottom && b.top <= a.bottom && a.left <= b.right && b.left <= a.right;
}

function contains(area: Area, row: number, column: number): boolean {
  return row >= area.top && row <= area.bottom && column >= area.left && column <= area.right;
}

function cellsOf(sheet: SheetState, area: Area): CellState[] {
  const cells: CellState[] = [];
  for (let row = area.top; row <= area.bottom; row++) {
    for (let column = area.left; column <= area.right; column++) {
      const cell = sheet.find(row, column);
      if (cell) cells.push(cell);
    }
  }
  return cells;
}

function kindOf(value: CellValue): number {
  if (value === null) return BLANK;
  return typeof value === "number" ? 1 : typeof value === "string" ? 2 : 3;
}

function put(ghosts: Ghosts, sheet: SheetState, key: number, ghost: Ghost): void {
  const cells = ghosts.get(sheet);
  if (cells) cells.set(key, ghost);
  else ghosts.set(sheet, new Map([[key, ghost]]));
}

function sameGhosts(a: Ghosts, b: Ghosts): boolean {
  const total = (ghosts: Ghosts): number =>
    [...ghosts.values()].reduce((sum, cells) => sum + cells.size, 0);
  if (total(a) !== total(b)) return false;
  for (const [sheet, cells] of a) {
    const others = b.get(sheet);
    for (const [key, ghost] of cells) {
      const other = others?.get(key);
      if (!other || other.from !== ghost.from) return false;
      if (!sameValue(toPlain(ghost.value), toPlain(other.value))) return false;
    }
  }
  return true;
}

function sameValue(a: CellValue, b: CellValue): boolean {
  if (isCellError(a) && isCellError(b)) return a.error === b.error && a.message === b.message;
  return a === b;
}

/** Groups of formulas that depend on themselves (strongly connected parts, found without recursion). */
function ringsOf(works: readonly Work[], needs: (work: Work) => readonly Work[]): Work[][] {
  const order = new Map<Work, number>();
  const low = new Map<Work, number>();
  const open: Work[] = [];
  const isOpen = new Set<Work>();
  const rings: Work[][] = [];
  let next = 0;
  for (const start of works) {
    if (order.has(start)) continue;
    const stack: { work: Work; needs: readonly Work[]; at: number }[] = [];
    const enter = (work: Work): void => {
      order.set(work, next);
      low.set(work, next++);
      open.push(work);
      isOpen.add(work);
      stack.push({ work, needs: needs(work), at: 0 });
    };
    enter(start);
    while (stack.length > 0) {
      const frame = stack[stack.length - 1] as (typeof stack)[number];
      const { work } = frame;
      const need = frame.needs[frame.at++];
      if (need) {
        if (!order.has(need)) enter(need);
        else if (isOpen.has(need)) {
          low.set(work, Math.min(low.get(work) as number, order.get(need) as number));
        }
        continue;
      }
      stack.pop();
      const parent = stack[stack.length - 1]?.work;
      if (parent) low.set(parent, Math.min(low.get(parent) as number, low.get(work) as number));
      if (low.get(work) !== order.get(work)) continue;
      const ring: Work[] = [];
      for (;;) {
        const member = open.pop() as Work;
        isOpen.delete(member);
        ring.push(member);
        if (member === work) break;
      }
      if (ring.length > 1 || needs(work).includes(work)) rings.push(ring.reverse());
    }
  }
  return rings;
}

/** Whether the library has a function, found by asking it. */
function libraryKnows(name: string): boolean {
  const cell = new GridCell(1, 1);
  cell.setFormula(`${name}()`);
  const row = {
    eachCell: (...args: unknown[]) => (args[args.length - 1] as (c: GridCell) => void)(cell),
  };
  const sheet = {
    id: 1,
    name: "A",
    dimensions: { top: 1, left: 1, bottom: 1, right: 1 },
    eachRow: (...args: unknown[]) =>
      (args[args.length - 1] as (r: unknown, n: number) => void)(row, 1),
    findCell: () => cell,
    getCell: () => cell,
  };
  row.eachCell = (...args: unknown[]) =>
    (args[args.length - 1] as (c: GridCell, column: number) => void)(cell, 1);
  calculateFormulas({ worksheets: [sheet as never], getWorksheet: () => sheet as never });
  const result = cell.result as unknown;
  return !(isCellError(result) && result.error === "#NAME?");
}

/** Number of letters to change between two words; stops counting at `most`. */
function editDistance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) >= most) return most;
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (row[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] as number) + 1, (next[j - 1] as number) + 1));
    }
    row = next;
  }
  return row[b.length] as number;
}
