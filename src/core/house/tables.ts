/** Reading worksheet tables: header rows in any order, units in headers, errors that name the row. */
import { CalcError, isCalcError, outOfRange, shown, wrongKind } from "../check.js";
import { type LengthUnit, parseLength } from "../units.js";

export type Cell = string | number | boolean | null | undefined;
export type Table = readonly (readonly Cell[])[];

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

/** Runs a reading and puts the place in front of the message of any CalcError. */
export function at<T>(where: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (isCalcError(error)) throw new CalcError(error.code, `${where}: ${error.message}`);
    throw error;
  }
}

export interface ColumnSpec {
  readonly name: string;
  readonly needed?: boolean;
  readonly isLength?: boolean;
}

/** One row of a table by column name. */
export class TableRow {
  constructor(
    readonly rowNumber: number,
    private readonly cells: ReadonlyMap<string, Cell>,
    private readonly units: ReadonlyMap<string, LengthUnit>
  ) {}

  cell(name: string): Cell {
    return this.cells.get(name);
  }
  isBlank(name: string): boolean {
    return isBlank(this.cell(name));
  }
  text(name: string): string {
    const cell = this.cell(name);
    if (isBlank(cell)) {
      throw wrongKind(
        `${name} is blank; every row needs its own (a merged cell fills only its first)`
      );
    }
    if (typeof cell === "boolean") throw wrongKind(`${name} must be text; got ${shown(cell)}`);
    return String(cell).trim();
  }
  length(name: string): number {
    return parseLength(name, this.cell(name) ?? null, this.units.get(name) ?? "in");
  }
  /** Undefined where blank. */
  optionalLength(name: string): number | undefined {
    return this.isBlank(name) ? undefined : this.length(name);
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
export function checkTable(label: string, table: Table, mostColumns = Infinity): Table {
  if (!Array.isArray(table)) {
    throw wrongKind(`${label} must be a range of rows and columns; got ${shown(table)}`);
  }
  table.forEach((row: unknown, index) => {
    if (!Array.isArray(row)) {
      throw wrongKind(`${label} row ${index + 1} must be a row of cells; got ${shown(row)}`);
    }
    row.slice(0, mostColumns).forEach((cell: unknown, column) => {
      const where = `${label} row ${index + 1}, column ${column + 1}`;
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
export function readTable(label: string, table: Table, columns: readonly ColumnSpec[]): ReadTable {
  const headerRow = checkTable(label, table)[0] ?? [];
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
    if (places.has(column.name)) throw outOfRange(`${label} has the header ${column.name} twice`);
    places.set(column.name, index);
    if (column.isLength) {
      units.set(column.name, lengthUnit(unit, `${label} header ${shown(text.trim())}`));
    }
  });
  const missing = columns.filter((column) => column.needed && !places.has(column.name));
  if (missing.length > 0) {
    const names = missing.map((column) => column.name).join(", ");
    const seen = headerRow.filter((cell) => !isBlank(cell)).map((cell) => String(cell).trim());
    throw outOfRange(
      `${label} needs the header ${names} in its first row; got ${seen.length ? seen.slice(0, 12).join(", ") : "a blank row"}`
    );
  }
  const rows: TableRow[] = [];
  table.slice(1).forEach((row, index) => {
    const cells = new Map<string, Cell>();
    for (const [name, place] of places) cells.set(name, row[place]);
    if ([...cells.values()].every(isBlank)) return;
    rows.push(new TableRow(index + 2, cells, units));
  });
  return { rows, unknownHeaders };
}

/** True where a range holds nothing at all. */
export function isBlankTable(table: Table): boolean {
  return table.every((row) => row.every(isBlank));
}
