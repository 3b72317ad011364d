/** Areas worked out a second way, without the core: pieces and faces as stretches of a straight top. */

export interface Point {
  readonly xIn: number;
  readonly heightIn: number;
}
/** What lies between a level bottom and a top of straight stretches. */
export interface Region {
  readonly leftIn: number;
  readonly rightIn: number;
  readonly bottomIn: number;
  readonly top: readonly Point[];
}
export interface Rectangle {
  readonly leftIn: number;
  readonly rightIn: number;
  readonly bottomIn: number;
  readonly topIn: number;
}

/** Straight line through the stretch over x; the outer stretches go on. */
export function lineAt(top: readonly Point[], xIn: number): number {
  let index = 1;
  while (index < top.length - 1 && xIn > (top[index] as Point).xIn) index++;
  const a = top[index - 1] as Point;
  const b = top[index] as Point;
  return a.heightIn + ((b.heightIn - a.heightIn) * (xIn - a.xIn)) / (b.xIn - a.xIn);
}

type Line = (xIn: number) => number;

/**
 * Area between the lowest of the upper lines and the highest of the lower lines, never below 0. The
 * lines are straight between the breaks, so cutting also where any two of them cross is exact.
 */
function areaBetween(
  uppers: readonly Line[],
  lowers: readonly Line[],
  fromIn: number,
  toIn: number,
  breaks: readonly number[]
): number {
  if (toIn <= fromIn) return 0;
  const coarse = [fromIn, toIn, ...breaks.filter((x) => x > fromIn && x < toIn)].sort(
    (a, b) => a - b
  );
  const lines = [...uppers, ...lowers];
  let area = 0;
  for (let index = 1; index < coarse.length; index++) {
    const x0 = coarse[index - 1] as number;
    const x1 = coarse[index] as number;
    const width = x1 - x0;
    if (width <= 0) continue;
    // just inside the stretch, so that a kink at its end is not mistaken for its slope
    const ends = lines.map((line) => {
      const a = line(x0 + width * 0.25);
      const b = line(x0 + width * 0.75);
      return [a - (b - a) / 2, b + (b - a) / 2] as const;
    });
    const cuts = [0, 1];
    for (const [a0, a1] of ends) {
      for (const [b0, b1] of ends) {
        const part = (a0 - b0) / (a0 - b0 - (a1 - b1));
        if (part > 0 && part < 1) cuts.push(part);
      }
    }
    cuts.sort((a, b) => a - b);
    const at = (part: number): number => {
      const value = ([a, b]: readonly [number, number]): number => a + (b - a) * part;
      const top = Math.min(...ends.slice(0, uppers.length).map(value));
      const low = Math.max(...ends.slice(uppers.length).map(value));
      return Math.max(0, top - low);
    };
    for (let cut = 1; cut < cuts.length; cut++) {
      const p = cuts[cut - 1] as number;
      const q = cuts[cut] as number;
      area += (q - p) * width * at((p + q) / 2);
    }
  }
  return area;
}

export function regionArea(region: Region): number {
  return areaBetween(
    [(x) => lineAt(region.top, x)],
    [() => region.bottomIn],
    region.leftIn,
    region.rightIn,
    region.top.map((point) => point.xIn)
  );
}

/** Area that two regions share. */
export function sharedArea(a: Region, b: Region): number {
  return areaBetween(
    [(x) => lineAt(a.top, x), (x) => lineAt(b.top, x)],
    [() => a.bottomIn, () => b.bottomIn],
    Math.max(a.leftIn, b.leftIn),
    Math.min(a.rightIn, b.rightIn),
    [...a.top, ...b.top].map((point) => point.xIn)
  );
}

/** Area of a rectangle that lies on a region. */
export function areaOn(region: Region, box: Rectangle): number {
  return sharedArea(region, {
    ...box,
    top: [
      { xIn: box.leftIn, heightIn: box.topIn },
      { xIn: box.rightIn, heightIn: box.topIn },
    ],
  });
}
