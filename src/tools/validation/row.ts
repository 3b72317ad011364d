/**
 * Published values beside ours: what the published tests run through and docs/checks.md shows.
 * Figures are keyed in from the documents here, never read from src/core/data.
 */
import type { Confirmation } from "../../core/published.js";

/** One published figure and how to get ours. */
export interface ValidationCase {
  /** what the figure is of, inside its row */
  readonly of: string;
  readonly published: number | string;
  readonly ours: () => number | string;
}

/** How far ours may be from the published figure. */
export type ToleranceKind = "absolute" | "relative" | "at most" | "at least";

/** A group of figures from one place of one document. */
export interface ValidationRow {
  /** short and fixed: never reused for another figure */
  readonly id: string;
  readonly section: string;
  readonly quantity: string;
  readonly unit: string;
  /** document, edition, table or page */
  readonly source: string;
  readonly confirmed: Confirmation;
  readonly cases: readonly ValidationCase[];
  readonly tolerance: number;
  /** `absolute` unless said; `at most`: ours may be under the published limit, never over by more than the tolerance; `at least`: the other way round */
  readonly kind?: ToleranceKind;
  readonly why: string;
  /** true where ours is known not to reproduce the figure: shown, and a test sees that it still differs */
  readonly disagrees?: boolean;
  readonly note?: string;
}

/** A case worked out. `difference` is null for text. */
export interface WorkedCase {
  readonly of: string;
  readonly published: number | string;
  readonly ours: number | string;
  readonly difference: number | null;
  readonly isWithin: boolean;
}

/** Works out one case of a row. */
export function workCase(row: ValidationRow, entry: ValidationCase): WorkedCase {
  const ours = entry.ours();
  const published = entry.published;
  if (typeof published === "string" || typeof ours === "string") {
    return { of: entry.of, published, ours, difference: null, isWithin: published === ours };
  }
  const difference = ours - published;
  return {
    of: entry.of,
    published,
    ours,
    difference: difference === 0 ? 0 : difference,
    isWithin: isWithin(row, published, difference),
  };
}

function isWithin(row: ValidationRow, published: number, difference: number): boolean {
  // typed decimals are not exact in binary; a billionth of the tolerance's own scale is no difference
  const slack = 1e-12 * Math.max(1, Math.abs(published));
  if (row.kind === "at most") return difference <= row.tolerance + slack;
  if (row.kind === "at least") return difference >= -row.tolerance - slack;
  const allowed = row.kind === "relative" ? row.tolerance * Math.abs(published) : row.tolerance;
  return Math.abs(difference) <= allowed + slack;
}

/** Cases of a list of inputs, one published figure each. */
export function casesOf<T>(
  inputs: readonly T[],
  published: readonly (number | string)[],
  of: (input: T) => string,
  ours: (input: T) => number | string
): ValidationCase[] {
  if (inputs.length !== published.length) {
    throw new Error(`${inputs.length} inputs for ${published.length} published figures`);
  }
  return inputs.map((input, index) => ({
    of: of(input),
    published: published[index] as number | string,
    ours: () => ours(input),
  }));
}

/** A rule or table kept to be looked up: nothing to compute, so nothing to compare. */
export interface LookUp {
  readonly id: string;
  readonly what: string;
  readonly figures: string;
  readonly source: string;
  readonly confirmed: Confirmation;
}

/** A figure that is deliberately not compared, and why. */
export interface NotCompared {
  readonly id: string;
  readonly what: string;
  readonly why: string;
}
