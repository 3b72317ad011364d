/** Reading worksheet tables: header rows in any order, units in headers, errors that name the sheet's cell. */
import { cellAddress, sheetPrefix } from "../cell-address.js";
import {
  CalcError,
  type Limits,
  checkNumber,
  isCalcError,
  outOfRange,
  shown,
  wrongKind,
} from "../check.js";
import { type LengthUnit, parseLength } from "../units.js";

export type Cell = string | number | boolean | null | undefined;
export type Table = readonly (readonly Cell[])[];

/** Where the first cell of a table stands: its sheet, row and column, both counted from 1. */
export interface TablePlace {
  readonly sheet: string;
  readonly top: number;
  readonly left: number;
}

/** A table whose host knows where it stands, so that messages can name its cells. */
export interface PlacedTable {
  readonly rows: Table;
  readonly place: TablePlace;
}
export type TableSource = Table | PlacedTable;

export function isPlaced(source: unknown): source is PlacedTable {
  return typeof source === "object" && source !== null && "place" in source && "rows" in source;
}

/** The rows of a table, without where they stand. */
export function rowsOf(source: TableSource): Table {
  return isPlaced(source) ? source.rows : source;
}

/** A row or cell as a message names it: by the sheet where that is known, else counted in the table, its first row 1. */
export function whereIs(
  label: string,
  source: TableSource,
  index: number,
  column?: number
): string {
  if (!isPlaced(source)) return `${label} row ${index + 1}`;
  const { sheet, top, left } = source.place;
  return column === undefined
    ? `${sheet} row ${top + index}`
    : sheetPrefix(sheet) + cellAddress(top + index, left + column);
}

/** A cell of a table: which table, and row and column counted from 0; without a column the whole row is meant. */
export interface CellOf {
  readonly table: string;
  readonly row: number;
  readonly column: number | undefined;
}

export function isBlank(cell: Cell): boolean {
  return cell === null || cell === undefined || (typeof cell === "string" && cell.trim() === "");
}

/** Header and name matching ignores case and spaces. */
export function nameKey(text: string): string {
  return text.toLowerCase().replace(/\s/g, "");
}

/** The word none, which is not a blank: without a block line, without foam. */
export function isNone(cell: Cell): boolean {
  return typeof cell === "string" && nameKey(cell) === "none";
}

/** A header without its unit, and the unit that `(in)`, `(ft)` or `(mm)` at its end sets. A name may break over lines. */
export function headerParts(text: string): { key: string; unit?: string } {
  const match = /^(.*?)\s*\(([^()]*)\)$/s.exec(text.trim());
  if (!match) return { key: nameKey(text) };
  return { key: nameKey(match[1] as string), unit: nameKey(match[2] as string) };
}

/** The unit of plain numbers under a header; throws for one that is not in, ft or mm. */
export function lengthUnit(unit: string | undefined, where: string): LengthUnit {
  if (unit === undefined || unit === "") return "in";
  if (unit === "in" || unit === "ft" || unit === "mm") return unit;
  throw outOfRange(`${where} has the unit (${unit}); allowed are (in), (ft) and (mm)`);
}

/** A CalcError about one cell, or one row, of a table. */
export class TableError extends CalcError {
  constructor(
    cause: CalcError,
    message: string,
    readonly cell: CellOf
  ) {
    super(cause.code, message);
  }
}

/** Runs a reading and puts the place in front of the message of any CalcError; with its cell where one is given. */
export function at<T>(where: string, read: () => T, cell?: CellOf): T {
  try {
    return read();
  } catch (error) {
    if (!isCalcError(error)) throw error;
    const message = `${where}: ${error.message}`;
    throw cell ? new TableError(error, message, cell) : new CalcError(error.code, message);
  }
}

export interface ColumnSpec {
  readonly name: string;
  readonly needed?: boolean;
  readonly isLength?: boolean;
}

/** A CalcError that knows which column of its row it is about. */
class ColumnError extends CalcError {
  constructor(
    cause: CalcError,
    readonly column: string
  ) {
    super(cause.code, cause.message);
  }
}

/** One row of a table by column name. */
export class TableRow {
  constructor(
    private readonly label: string,
    private readonly source: TableSource,
    /** row of the table, the header being 0 */
    readonly index: number,
    private readonly places: ReadonlyMap<string, number>,
    private readonly units: ReadonlyMap<string, LengthUnit>
  ) {}

  /** This row, or another of its table, as a message names it, or one of its cells. */
  where(column?: string, index = this.index): string {
    const place = column === undefined ? undefined : this.places.get(column);
    return whereIs(this.label, this.source, index, place);
  }
  /** The cell that an error of this row is about. */
  cellOf(error: CalcError): CellOf {
    const column = error instanceof ColumnError ? this.places.get(error.column) : undefined;
    return { table: this.label, row: this.index, column };
  }
  /** Runs a reading of the row; an error names the row, or the cell where it knows it, and what the row is. */
  named<T>(what: string, read: () => T): T {
    try {
      return read();
    } catch (error) {
      if (!isCalcError(error)) throw error;
      const column = error instanceof ColumnError ? error.column : undefined;
      const named = new CalcError(error.code, `${this.where(column)}${what}: ${error.message}`);
      throw column === undefined ? named : new ColumnError(named, column);
    }
  }
  /** Runs a reading of one column; an error remembers which. */
  read<T>(column: string, read: () => T): T {
    try {
      return read();
    } catch (error) {
      if (!isCalcError(error) || error instanceof ColumnError) throw error;
      throw new ColumnError(error, column);
    }
  }

  cell(name: string): Cell {
    const place = this.places.get(name);
    return place === undefined ? undefined : rowsOf(this.source)[this.index]?.[place];
  }
  isBlank(name: string): boolean {
    return isBlank(this.cell(name));
  }
  text(name: string): string {
    return this.read(name, () => {
      const cell = this.cell(name);
      if (isBlank(cell)) {
        throw wrongKind(
          `${name} is blank; every row needs its own (a merged cell fills only its first)`
        );
      }
      if (typeof cell === "boolean") throw wrongKind(`${name} must be text; got ${shown(cell)}`);
      return String(cell).trim();
    });
  }
  /** @param near takes a length that misses a limit by a hair for the limit */
  length(name: string, limits: Limits = {}, near = (lengthIn: number) => lengthIn): number {
    return this.read(name, () =>
      checkNumber(
        name,
        near(parseLength(name, this.cell(name) ?? null, this.units.get(name) ?? "in")),
        limits
      )
    );
  }
  /** Undefined where blank. */
  optionalLength(name: string, limits?: Limits): number | undefined {
    return this.isBlank(name) ? undefined : this.length(name, limits);
  }
  optionalText(name: string): string | undefined {
    return this.isBlank(name) ? undefined : this.text(name);
  }
}

export interface ReadTable {
  readonly rows: readonly TableRow[];
  readonly unknownHeaders: readonly string[];
}

/** Rows of plain cells, or an error that names where something else stands: an error of the spreadsheet, a range, a list. */
export function checkTable(label: string, source: TableSource, mostColumns = Infinity): Table {
  const table = rowsOf(source);
  if (!Array.isArray(table)) {
    throw wrongKind(`${label} must be a range of rows and columns; got ${shown(table)}`);
  }
  table.forEach((row: unknown, index) => {
    if (!Array.isArray(row)) {
      throw wrongKind(`${whereIs(label, source, index)} must be a row of cells; got ${shown(row)}`);
    }
    row.slice(0, mostColumns).forEach((cell: unknown, column) => {
      const where = isPlaced(source)
        ? whereIs(label, source, index, column)
        : `${label} row ${index + 1}, column ${column + 1}`;
      if (cell !== null && !["undefined", "string", "number", "boolean"].includes(typeof cell)) {
        throw wrongKind(`${where} must hold a plain value; got an error or another kind of cell`);
      }
      if (typeof cell === "number" && !Number.isFinite(cell)) {
        throw wrongKind(`${where} must be a finite number; got ${shown(cell)}`);
      }
    });
  });
  return table;
}

/**
 * Reads a range with a header row. Blank rows are skipped; unknown headers are listed, not refused.
 *
 * @throws {CalcError} out-of-range: a needed header is missing, or one stands twice
 */
export function readTable(
  label: string,
  source: TableSource,
  columns: readonly ColumnSpec[]
): ReadTable {
  const table = checkTable(label, source);
  const headerRow = table[0] ?? [];
  const here = isPlaced(source) ? whereIs(label, source, 0) : label;
  const inFirst = isPlaced(source) ? "" : " in its first row";
  const wanted = new Map(columns.map((column) => [nameKey(column.name), column]));
  const places = new Map<string, number>();
  const units = new Map<string, LengthUnit>();
  const unknownHeaders: string[] = [];
  headerRow.forEach((cell, index) => {
    if (isBlank(cell)) return;
    const text = String(cell);
    const { key, unit } = headerParts(text);
    const column = wanted.get(key) ?? wanted.get(nameKey(text));
    if (!column) {
      unknownHeaders.push(text.trim());
      return;
    }
    if (places.has(column.name)) throw outOfRange(`${here} has the header ${column.name} twice`);
    places.set(column.name, index);
    if (column.isLength) {
      units.set(column.name, lengthUnit(unit, `${here} header ${shown(text.trim())}`));
    }
  });
  const missing = columns.filter((column) => column.needed && !places.has(column.name));
  if (missing.length > 0) {
    const names = missing.map((column) => column.name).join(", ");
    const seen = headerRow.filter((cell) => !isBlank(cell)).map((cell) => String(cell).trim());
    throw outOfRange(
      `${here} needs the header ${names}${inFirst}; got ${seen.length ? seen.slice(0, 12).join(", ") : "a blank row"}`
    );
  }
  const rows: TableRow[] = [];
  table.forEach((row, index) => {
    if (index === 0 || [...places.values()].every((place) => isBlank(row[place]))) return;
    rows.push(new TableRow(label, source, index, places, units));
  });
  return { rows, unknownHeaders };
}

/** True where a table holds nothing at all. */
export function isBlankTable(table: Table): boolean {
  return table.every((row) => row.every(isBlank));
}
