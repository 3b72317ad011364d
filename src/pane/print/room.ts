/** Room on a page and the room text takes, by estimate: a page is laid out without a browser. */
import { wrapped } from "../drawings/index.js";
import type { Paper } from "./style.js";

/** CSS pixels to the point. */
export const PX_PER_PT = 96 / 72;
/** Between the margins, the narrower of both papers, CSS pixels. */
export const PAGE_WIDTH = 697;
export const PAGE_HEIGHT: Readonly<Record<Paper, number>> = { letter: 944, a4: 1010 };

/** Height of text in a column, CSS pixels. */
export function linesHeight(words: string, sizePt: number, width: number, leading: number): number {
  const size = sizePt * PX_PER_PT;
  return wrapped(words, size, width).length * size * leading;
}
