/** A large workbook is calculated in parts; here is which part reads which. */
import type { Area } from "../../core/cell-address.js";
import type { BookState, CellState, SheetState } from "./model.js";
import type { References } from "./references.js";

interface Holder {
  readonly cell: CellState;
}

/** Formulas that can read cells they do not name: by text, by distance, or between two that a call finds. */
const READS_ANYWHERE = /\b(?:INDIRECT|OFFSET|FORMULATEXT)\s*\(|\)\s*:|:\s*[A-Z.]+\s*\(/i;

export function batchesOf<T>(works: readonly T[], size: number): T[][] {
  const batches: T[][] = [];
  for (let from = 0; from < works.length; from += size)
    batches.push(works.slice(from, from + size));
  return batches;
}

/** The smallest area of a sheet that holds all formulas of a part. */
function boxesOf(batch: readonly Holder[]): ReadonlyMap<SheetState, Area> {
  const boxes = new Map<SheetState, Area>();
  for (const { cell } of batch) {
    const { sheet, row, column } = cell;
    const box = boxes.get(sheet) ?? { top: row, left: column, bottom: row, right: column };
    boxes.set(sheet, {
      top: Math.min(box.top, row),
      left: Math.min(box.left, column),
      bottom: Math.max(box.bottom, row),
      right: Math.max(box.right, column),
    });
  }
  return boxes;
}

function meet(a: Area, b: Area): boolean {
  return a.top <= b.bottom && b.top <= a.bottom && a.left <= b.right && b.left <= a.right;
}

/** For each part, the other parts that may read it; one too many costs time, one too few would be a wrong answer. */
export function readersOf(
  batches: readonly (readonly Holder[])[],
  references: References,
  book: BookState
): number[][] {
  const boxes = batches.map(boxesOf);
  const readers: Set<number>[] = batches.map(() => new Set());
  const namesReadAnywhere = book.names.some(({ text }) => READS_ANYWHERE.test(text));
  batches.forEach((batch, reader) => {
    for (const { cell } of batch) {
      const isAnywhere = namesReadAnywhere || READS_ANYWHERE.test(cell.formula?.typed ?? "");
      const read = isAnywhere ? [] : references.of(cell);
      for (const [index, box] of boxes.entries()) {
        if (index === reader || readers[index]?.has(reader)) continue;
        const isRead = read.some(({ sheet, area }) => {
          const there = box.get(sheet);
          return there !== undefined && meet(area, there);
        });
        if (isAnywhere || isRead) readers[index]?.add(reader);
      }
    }
  });
  return readers.map((each) => [...each]);
}
