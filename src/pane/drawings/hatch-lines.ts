/** The lines of a hatch inside a shape, each drawn by itself. */
import { type Attributes, type Rect, el, num, polygonPath, rect } from "./svg.js";

/** Line across a tile: from x, y to x, y. */
export type Stroke = readonly [number, number, number, number];

export type Points = readonly (readonly [number, number])[];
export type Shape = Rect | Points;

function isRect(shape: Shape): shape is Rect {
  return !Array.isArray(shape);
}

export function shapeEl(shape: Shape, attributes: Attributes): string {
  return isRect(shape)
    ? rect(shape, attributes)
    : el("path", { d: polygonPath(shape), ...attributes });
}

function boundsOf(shape: Shape): Rect {
  if (isRect(shape)) return shape;
  const xs = shape.map(([x]) => x);
  const ys = shape.map(([, y]) => y);
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return { x, y, w: Math.max(...xs) - x, h: Math.max(...ys) - y };
}

/** The part of a line inside a rectangle; undefined where it misses. */
function clipped(stroke: Stroke, box: Rect): Stroke | undefined {
  const [x1, y1, x2, y2] = stroke;
  let [from, to] = [0, 1];
  const sides = [
    [x1 - x2, x1 - box.x],
    [x2 - x1, box.x + box.w - x1],
    [y1 - y2, y1 - box.y],
    [y2 - y1, box.y + box.h - y1],
  ] as const;
  for (const [towards, room] of sides) {
    if (towards === 0) {
      if (room < 0) return undefined;
    } else if (towards < 0) from = Math.max(from, room / towards);
    else to = Math.min(to, room / towards);
  }
  if (from >= to) return undefined;
  const at = (share: number): [number, number] => [x1 + (x2 - x1) * share, y1 + (y2 - y1) * share];
  return [...at(from), ...at(to)];
}

function isInside([x, y]: readonly [number, number], points: Points): boolean {
  let inside = false;
  points.forEach(([x1, y1], index) => {
    const [x2, y2] = points[(index + 1) % points.length] as readonly [number, number];
    if (y1 > y !== y2 > y && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1) inside = !inside;
  });
  return inside;
}

/** Lines through every tile of a box; a stroke from edge to edge runs on through its neighbours. */
function tiled({ size, strokes }: Tile, box: Rect): Stroke[] {
  const first = (from: number): number => Math.floor(from / size) * size;
  const [left, top] = [first(box.x), first(box.y)];
  const columns = Math.ceil((box.x + box.w - left) / size);
  const rows = Math.ceil((box.y + box.h - top) / size);
  const wide = columns * size;
  return strokes.flatMap((stroke): Stroke[] => {
    const [x1, y1, x2, y2] = stroke;
    const lines: Stroke[] = [];
    if (y1 === y2) {
      const runsOn = x1 === 0 && x2 === size;
      for (let row = 0; row < rows; row++) {
        const y = top + row * size + y1;
        if (runsOn) lines.push([left, y, left + wide, y]);
        for (let column = 0; column < columns && !runsOn; column++) {
          lines.push([left + column * size + x1, y, left + column * size + x2, y]);
        }
      }
      return lines;
    }
    // from corner to corner: at 45 degrees, from the top edge's line to the bottom edge's
    const high = rows * size;
    const falls = y2 > y1;
    for (let at = -rows; at < columns + rows; at++) {
      const x = left + at * size;
      lines.push(falls ? [x, top, x + high, top + high] : [x, top, x - high, top + high]);
    }
    return lines;
  });
}

interface Tile {
  readonly size: number;
  /** each horizontal, or from corner to corner */
  readonly strokes: readonly Stroke[];
}

/** Path data of a hatch in a shape; strokes in a polygon are kept or left out whole. */
export function hatchLines(shape: Shape, tile: Tile): string {
  const box = boundsOf(shape);
  return tiled(tile, box)
    .flatMap((stroke) => {
      const line = clipped(stroke, box);
      if (!line) return [];
      const [x1, y1, x2, y2] = line;
      if (!isRect(shape) && !isInside([(x1 + x2) / 2, (y1 + y2) / 2], shape)) return [];
      return [`M${num(x1)} ${num(y1)}L${num(x2)} ${num(y2)}`];
    })
    .join("");
}
