/** Where text goes: labels inside pieces, and rows of labels pushed apart along a line. */
import { type Rect, label, overlaps, rect, textWidth } from "./svg.js";

/** Space between lines of text, in parts of the font size. */
const LEADING = 1.18;
/** Clear space round a label, drawing units. */
const PADDING = 2;

export interface LabelLine {
  readonly text: string;
  readonly size: number;
  readonly isBold?: boolean;
}

export interface FittedLabel {
  readonly box: Rect;
  readonly lines: readonly LabelLine[];
  readonly isTurned: boolean;
}

/** Size of a block of lines, unturned. */
export function blockSize(lines: readonly LabelLine[]): { w: number; h: number } {
  return {
    w: Math.max(...lines.map((each) => textWidth(each.text, each.size, each.isBold))) + 2 * PADDING,
    h: lines.reduce((sum, each) => sum + each.size * LEADING, 0) + PADDING,
  };
}

/**
 * The first of the choices that fits one of the places, upright before turned; undefined where none
 * does. Choices go from most to least telling, places from best to worst.
 */
export function fitLabel(
  places: readonly Rect[],
  choices: readonly (readonly LabelLine[])[],
  taken: readonly Rect[] = []
): FittedLabel | undefined {
  for (const lines of choices) {
    const { w, h } = blockSize(lines);
    for (const isTurned of [false, true]) {
      const [across, down] = isTurned ? [h, w] : [w, h];
      for (const place of places) {
        if (across > place.w || down > place.h) continue;
        const box = spotIn(place, across, down, taken);
        if (box) return { box, lines, isTurned };
      }
    }
  }
  return undefined;
}

/** The middle of a place, or a third of the way to one side where the middle is taken. */
function spotIn(place: Rect, w: number, h: number, taken: readonly Rect[]): Rect | undefined {
  for (const [across, down] of [
    [0.5, 0.5],
    [0.5, 0.25],
    [0.5, 0.75],
    [0.5, 0],
    [0.5, 1],
    [0, 0.5],
    [1, 0.5],
  ] as const) {
    const box = { x: place.x + (place.w - w) * across, y: place.y + (place.h - h) * down, w, h };
    if (!taken.some((other) => overlaps(box, other))) return box;
  }
  return undefined;
}

/** A fitted label on a plain ground, so that lines behind it do not run through the letters. */
export function drawLabel(fitted: FittedLabel, colour: string, ground: string): string {
  const { box, lines, isTurned } = fitted;
  const parts = [rect(box, { fill: ground, "fill-opacity": 0.88, rx: 2 })];
  let done = PADDING / 2;
  for (const each of lines) {
    const middle = done + (each.size * LEADING) / 2;
    done += each.size * LEADING;
    const style = {
      size: each.size,
      fill: colour,
      isTurned,
      ...(each.isBold ? { isBold: true } : {}),
    };
    parts.push(
      isTurned
        ? label(box.x + middle, box.y + box.h / 2, each.text, style)
        : label(box.x + box.w / 2, box.y + middle, each.text, style)
    );
  }
  return parts.join("");
}

/** Free rectangles between the given lines that keep clear of the holes, largest first. */
export function freePlaces(
  xs: readonly number[],
  topOver: (fromX: number, toX: number) => number,
  bottom: number,
  levels: readonly number[],
  holes: readonly Rect[]
): Rect[] {
  const places: Rect[] = [];
  const columns = [...new Set(xs)].sort((a, b) => a - b);
  for (let left = 0; left < columns.length; left++) {
    for (let right = left + 1; right < columns.length; right++) {
      const x = columns[left] as number;
      const w = (columns[right] as number) - x;
      const top = topOver(x, x + w);
      const rows = [...new Set([top, bottom, ...levels.filter((y) => y > top && y < bottom)])];
      rows.sort((a, b) => a - b);
      for (let upper = 0; upper < rows.length; upper++) {
        for (let lower = upper + 1; lower < rows.length; lower++) {
          const y = rows[upper] as number;
          const place = { x, y, w, h: (rows[lower] as number) - y };
          if (place.h > 0 && !holes.some((hole) => overlaps(place, hole, -0.01))) {
            places.push(place);
          }
        }
      }
    }
  }
  return places.sort((a, b) => b.w * b.h - a.w * a.h);
}

/**
 * Moves centres apart until neighbours stand at least `step` apart, as little as can be, inside low
 * to high. Centres come in ascending order and there is room for all of them.
 */
export function pushApart(
  centres: readonly number[],
  step: number,
  low: number,
  high: number
): number[] {
  interface Cluster {
    sum: number;
    count: number;
    first: number;
  }
  const place = (cluster: Cluster): number => {
    const length = (cluster.count - 1) * step;
    return Math.max(low, Math.min(cluster.sum / cluster.count, high - length));
  };
  const clusters: Cluster[] = [];
  centres.forEach((centre, index) => {
    let cluster: Cluster = { sum: centre, count: 1, first: index };
    for (;;) {
      const before = clusters.at(-1);
      if (!before || place(before) + before.count * step <= place(cluster)) break;
      clusters.pop();
      // in a cluster every centre is counted from where its first one stands
      cluster = {
        sum: before.sum + cluster.sum - cluster.count * before.count * step,
        count: before.count + cluster.count,
        first: before.first,
      };
    }
    clusters.push(cluster);
  });
  return clusters.flatMap((cluster) => {
    const from = place(cluster);
    return Array.from({ length: cluster.count }, (_, index) => from + index * step);
  });
}
