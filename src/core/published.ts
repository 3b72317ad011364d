/**
 * What a published figure carries with it: where it stands and how it was confirmed.
 * The tables themselves are in `data/`, one file per document edition.
 */

/**
 * How a figure was confirmed.
 *
 * - `seen`: read in a public copy or transcription of the document
 * - `recomputed`: remembered, then reproduced to the last printed digit by an independent calculation
 * - `practice`: common practice of the trade, no published source
 * - `memory`: from memory only; may be shown with {@link CONFIRM_IN_CODE_BOOK}, may never decide a pass
 */
export type Confirmation = "seen" | "recomputed" | "practice" | "memory";

/**
 * A document edition. `address` is where a reader without the document can look its figures up: a public page of a
 * standards body, of a government, or of an industry association that quotes them, and then `note` says so. Null where
 * there is none.
 */
export interface PublishedSource {
  readonly body: string;
  readonly document: string;
  readonly edition: string;
  /** tables and clauses taken */
  readonly tables: string;
  readonly pages: string | null;
  readonly address: string | null;
  /** date the figures were read or typed, year-month-day */
  readonly read: string;
  /** how the figures came to be known, and what is still to be checked */
  readonly note: string;
}

/** One figure of a published table, with what may be done with it. */
export interface PublishedFigure {
  readonly value: number;
  /** document, edition and table */
  readonly table: string;
  readonly confirmed: Confirmation;
  /** false where the figure is known from memory only: show it, but let it decide nothing */
  readonly mayDecide: boolean;
  /** what to tell the reader beside the figure */
  readonly note: string;
}

/** Shown beside every figure that is known from memory only. */
export const CONFIRM_IN_CODE_BOOK = "confirm in the code book";

/** Builds a figure so that `mayDecide` and the note can never disagree with `confirmed`. */
export function publishedFigure(
  value: number,
  table: string,
  confirmed: Confirmation,
  note = ""
): PublishedFigure {
  const mayDecide = confirmed !== "memory";
  const parts = [note, mayDecide ? "" : CONFIRM_IN_CODE_BOOK].filter((part) => part !== "");
  return { value, table, confirmed, mayDecide, note: parts.join("; ") };
}
