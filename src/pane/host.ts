/** What the pane needs of the spreadsheet it stands beside. */
import type { Finding } from "../core/house/checks.js";
import type { OrderLine } from "../core/house/order.js";
import type { Table } from "../core/house/tables.js";
import type { HouseTakeoff } from "../core/house/takeoff.js";
import type { Paper } from "./print/index.js";

/** Where a table of the house stands in the workbook; rows and columns from 1. */
export interface TablePlace {
  readonly sheet: string;
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  /** what stands there, header row first */
  readonly cells?: Table;
}

/** A house as it was read from the workbook. */
export interface HouseReading {
  /** undefined where the workbook has no house, or it cannot be taken off */
  readonly house?: HouseTakeoff;
  readonly order?: readonly OrderLine[];
  readonly findings?: readonly Finding[];
  /** why there is no house, in words for the person */
  readonly problem?: string;
  /** what to type first, where nothing is wrong and nothing is typed yet */
  readonly firstStep?: string;
  readonly places?: {
    readonly walls?: TablePlace;
    readonly openings?: TablePlace;
    readonly settings?: TablePlace;
  };
  /** cell the problem stands in, where it is known, or the first to type in */
  readonly problemAt?: { readonly sheet: string; readonly row: number; readonly column: number };
  /** cell of the formula the tables were found in, such as "Order!A3" */
  readonly foundIn?: string;
}

export interface ActiveCell {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly address: string;
}

/** The spreadsheet beside the pane. */
export interface PaneHost {
  /** Reads the house from the workbook; may take long and may be given up with `signal`. */
  readHouse(signal: AbortSignal): Promise<HouseReading>;
  /** Calls back after each change of the workbook that may change the house. */
  onChange(listener: () => void): void;
  onSelection(listener: (cell: ActiveCell) => void): void;
  select(sheet: string, row: number, column: number): void;
  /** Starts a formula in the active cell; the person fills in and confirms it. */
  insertFormula(text: string): Promise<void>;
  /**
   * Shows sheets ready to be printed.
   * @param sheets the page for a size of paper, as self-contained HTML
   */
  print(sheets: (paper: Paper) => string, usual: Paper): void;
  /** The file the house is in, without its ending; for names of downloads and titles of prints. */
  readonly bookName: string;
}
