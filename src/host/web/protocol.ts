/** What the page and its worker say to each other. */
import type { IWorkbookData } from "@univerjs/core";
import type { HouseReading } from "../../pane/host.js";

/** One cell as the calculation needs it: row and column from 1, value, formula with its equals sign. */
export interface ModelCell {
  readonly row: number;
  readonly column: number;
  readonly value: string | number | boolean | null;
  readonly formula?: string;
  /** the formula takes one cell of a range, as the file it came from says */
  readonly plain?: boolean;
}

export interface ModelSheet {
  readonly id: string;
  readonly name: string;
  readonly hidden: boolean;
  readonly cells: readonly ModelCell[];
  readonly hiddenRows: readonly number[];
}

export interface ModelTable {
  readonly sheet: string;
  readonly name: string;
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  readonly hasHeader: boolean;
  readonly hasTotals: boolean;
}

export interface ModelName {
  readonly name: string;
  readonly text: string;
  /** id of the sheet it belongs to; without it the whole workbook */
  readonly sheet?: string;
}

/** The whole workbook as the calculation needs it. */
export interface ModelBook {
  readonly sheets: readonly ModelSheet[];
  readonly tables: readonly ModelTable[];
  readonly names: readonly ModelName[];
}

export interface ModelChange {
  readonly sheet: string;
  readonly cells: readonly ModelCell[];
}

/** A value as the grid holds it; t: 1 text, 2 number, 3 boolean. */
export interface ShownCell {
  readonly row: number;
  readonly column: number;
  readonly v: string | number | null;
  readonly t: number;
}

export interface ShownSpill {
  readonly row: number;
  readonly column: number;
  readonly bottom: number;
  readonly right: number;
}

export interface CellMessage {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly code: string;
  readonly message: string;
}

export interface Calculated {
  /** formula cells whose value changed, by sheet */
  readonly cells: Readonly<Record<string, readonly ShownCell[]>>;
  /** every spill, by sheet, and the cells it fills */
  readonly spills: Readonly<Record<string, readonly ShownSpill[]>>;
  readonly spilled: Readonly<Record<string, readonly ShownCell[]>>;
  readonly messages: readonly CellMessage[];
  readonly formulaCount: number;
  readonly milliseconds: number;
}

/** Rows or columns put in (count above 0) or taken out, in the order it happened. */
export interface StructureStep {
  readonly axis: "row" | "column";
  /** first row or column concerned, from 1 */
  readonly at: number;
  readonly count: number;
}

export interface SaveRequest {
  readonly original: Uint8Array;
  readonly data: IWorkbookData;
  readonly steps: Readonly<Record<string, readonly StructureStep[]>>;
}

/** Requests by name, with what they take and what they answer. */
export interface WorkerRequests {
  open: { takes: { bytes: Uint8Array; unit: string }; gives: IWorkbookData };
  calculate: {
    takes: { book?: ModelBook; changes?: readonly ModelChange[] };
    gives: Calculated;
  };
  house: { takes: { activeSheet: string | undefined }; gives: HouseReading };
  save: { takes: SaveRequest; gives: Uint8Array };
}

export interface WorkerRequest<Name extends keyof WorkerRequests = keyof WorkerRequests> {
  readonly id: number;
  readonly name: Name;
  readonly takes: WorkerRequests[Name]["takes"];
}

export interface WorkerAnswer {
  readonly id: number;
  readonly gives?: unknown;
  readonly failed?: { readonly message: string; readonly isExpected: boolean };
}
