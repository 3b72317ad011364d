/** How the grid holds values and names sheets. */
import type { ICellData } from "@univerjs/core";
import { isCellError, type CellValue } from "../../engine/values.js";

/** Kind of a cell's value, as the grid numbers them. */
export const TEXT = 1;
export const NUMBER = 2;
export const BOOLEAN = 3;

/** What a cell carries along that the grid does not know. */
export interface CellCarry {
  /** cell content as it stands in the file, kept where the value stays as it was */
  readonly raw?: string;
  /** type attribute that goes with it */
  readonly rawType?: string;
  /** value the raw content stands for */
  readonly was?: string | number | null;
}

/** What a row or column carries along: the outline it is part of. */
export interface Grouping {
  readonly outlineLevel: number;
  readonly collapsed: boolean;
}

/** Name of a sheet inside the grid: its place in the file. Sheets added in the grid have other names. */
export function sheetId(index: number): string {
  return `sheet-${index}`;
}

export function sheetIndex(id: string): number | undefined {
  return /^sheet-\d+$/.test(id) ? Number(id.slice(6)) : undefined;
}

/** A value as the grid holds it. */
export function gridValue(value: CellValue): Pick<ICellData, "v" | "t"> {
  if (value === null) return {};
  if (isCellError(value)) return { v: value.error, t: TEXT };
  switch (typeof value) {
    case "number":
      return { v: value, t: NUMBER };
    case "boolean":
      return { v: value ? 1 : 0, t: BOOLEAN };
    default:
      return { v: value, t: TEXT };
  }
}

/** Name of the table theme without any colors of its own. */
export const PLAIN_TABLE = "table-custom-plain";
