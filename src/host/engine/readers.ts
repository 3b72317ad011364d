/** Which formulas read a cell: what must be worked out again where it changed. */
import {
  areaAddress,
  cellCount,
  cellKey,
  contains,
  overlaps,
  type Area,
} from "../../core/cell-address.js";
import type { SheetState } from "./model.js";
import { isOneCell, type SheetArea } from "./operands.js";
import type { Work } from "./work.js";

interface SheetReaders {
  readonly cells: Map<number, Work[]>;
  readonly areas: Map<string, { readonly area: Area; readonly works: Work[] }>;
}

export class Readers {
  private readonly sheets = new Map<SheetState, SheetReaders>();

  constructor(works: Iterable<Work>) {
    for (const work of works) for (const read of work.reads) this.add(work, read);
  }

  private add(work: Work, { sheet, area }: SheetArea): void {
    let readers = this.sheets.get(sheet);
    if (!readers) {
      readers = { cells: new Map(), areas: new Map() };
      this.sheets.set(sheet, readers);
    }
    if (isOneCell(area)) {
      const key = cellKey(area.top, area.left);
      const list = readers.cells.get(key);
      if (list) list.push(work);
      else readers.cells.set(key, [work]);
      return;
    }
    const key = areaAddress(area);
    const known = readers.areas.get(key);
    if (known) known.works.push(work);
    else readers.areas.set(key, { area, works: [work] });
  }

  /** Calls `found` for every formula that reads any cell of an area. */
  each({ sheet, area: changed }: SheetArea, found: (work: Work) => void): void {
    const readers = this.sheets.get(sheet);
    if (!readers) return;
    if (cellCount(changed) <= readers.cells.size) {
      for (let row = changed.top; row <= changed.bottom; row++) {
        for (let column = changed.left; column <= changed.right; column++) {
          readers.cells.get(cellKey(row, column))?.forEach(found);
        }
      }
    } else {
      for (const works of readers.cells.values()) {
        for (const work of works) {
          const isRead = work.reads.some(
            ({ sheet: from, area }) =>
              from === sheet && isOneCell(area) && contains(changed, area.top, area.left)
          );
          if (isRead) found(work);
        }
      }
    }
    for (const { area, works } of readers.areas.values()) {
      if (overlaps(area, changed)) works.forEach(found);
    }
  }
}
