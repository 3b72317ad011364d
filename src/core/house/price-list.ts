/** A supplier's price list: which package an item comes in and what one package costs. */
import { type Limits, checkNumber, isCalcError, shown, wrongKind } from "../check.js";
import { type Cell, type Table, type TableRow, at, nameKey, readTable } from "./tables.js";

export interface PriceOffer {
  /** item as the order writes it: Panel, Tape, Nails */
  readonly item: string;
  /** size as the order writes it: 48 x 96 in */
  readonly size: string;
  /** supplier's package; undefined: as the house workbook says */
  readonly perPackage?: number;
  /** of one package; undefined where the list gives none */
  readonly price?: number;
  readonly supplier: string;
  /** row of the list as its reader counts them */
  readonly row: number;
}

export interface PriceList {
  readonly offers: readonly PriceOffer[];
  /** rows that could not be used, and why */
  readonly problems: readonly string[];
}

/** What a package may hold and cost: wide enough for anything bought, narrow enough that sums stay exact. */
export const PRICE_LIMITS = {
  perPackage: { min: 0.001, max: 1e9 },
  price: { above: 0, max: 1e9 },
} as const;

export const PRICE_COLUMNS = [
  { name: "Item", needed: true },
  { name: "Size", needed: true },
  { name: "Per package" },
  { name: "Price", needed: true },
  { name: "Supplier" },
] as const;

/** An item of one size; case and spaces do not matter. */
export function itemKey(line: { readonly item: string; readonly size: string }): string {
  return `${nameKey(line.item)}|${nameKey(line.size)}`;
}

const AMOUNT_HINT = "type the number alone, such as 12.50";

/** An amount written as text, as in a list whose cells all stand in quotes; a comma before two digits is a decimal one. */
function plainAmount(cell: Cell): Cell {
  if (typeof cell !== "string") return cell;
  const text = cell.trim();
  if (/^\d+(?:\.\d+)?$/.test(text)) return Number(text);
  return /^\d+,\d{1,2}$/.test(text) ? Number(text.replace(",", ".")) : cell;
}

function readOffer(row: TableRow, rowNumber: number): PriceOffer {
  const amount = (name: "Per package" | "Price", limits: Limits): number | undefined => {
    if (row.isBlank(name)) return undefined;
    const cell = plainAmount(row.cell(name));
    return checkNumber(
      name,
      cell,
      typeof cell === "string" ? { ...limits, hint: AMOUNT_HINT } : limits
    );
  };
  const perPackage = amount("Per package", PRICE_LIMITS.perPackage);
  const price = amount("Price", PRICE_LIMITS.price);
  return {
    item: row.text("Item"),
    size: row.text("Size"),
    ...(perPackage === undefined ? {} : { perPackage }),
    ...(price === undefined ? {} : { price }),
    supplier: row.optionalText("Supplier") ?? "",
    row: rowNumber,
  };
}

/**
 * Reads a price list: a table with the columns Item, Size and Price, and if wanted Per package and
 * Supplier. A row that cannot be read is reported and left out, so that one bad cell does not stop
 * the rest; it never counts as a price of 0.
 *
 * @param label what the table is called in messages
 * @param table the list, header row first
 * @param headerRow row the header stands in, so that messages count as the sheet does; whole, 1 to 1,048,576
 * @returns the offers that can be used, and a line for each row that cannot; a price is more than 0 and at most
 *   1,000,000,000 for one package, a package 0.001 to 1,000,000,000 of the item's unit
 * @shape one record: rows of item, size, perPackage, price, supplier, row; and texts
 * @throws {CalcError} wrong-kind: no text for the label, no range for the table; out-of-range: a needed column is
 *   missing, or one stands twice, or no such header row
 * @source definition of the table; its limits are common practice, no source
 * @example readPriceList("prices", [["Item", "Size", "Price"], ["Tape", "3 in", 30]]).offers[0]?.price // => 30
 */
export function readPriceList(label: string, table: Table, headerRow = 1): PriceList {
  if (typeof label !== "string") throw wrongKind(`label must be text; got ${shown(label)}`);
  checkNumber("header row", headerRow, { min: 1, max: 1_048_576, whole: true });
  const { rows } = readTable(label, table, PRICE_COLUMNS);
  const offers: PriceOffer[] = [];
  const problems: string[] = [];
  for (const row of rows) {
    const rowNumber = row.index + headerRow;
    try {
      offers.push(at(`${label} row ${rowNumber}`, () => readOffer(row, rowNumber)));
    } catch (error) {
      if (!isCalcError(error)) throw error;
      problems.push(error.message);
    }
  }
  return { offers, problems };
}
