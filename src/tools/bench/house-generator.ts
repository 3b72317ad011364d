/**
 * Makes houses up: walls with openings, gables and rips, cut into pieces as an estimator would. The
 * same seed gives the same house. Unit 1/16 in, as in the instance files.
 */
import { Sequence } from "../../core/cut-plan/improve.js";
import type { HouseInstance } from "../house-instance.js";

export type HouseSize = "S" | "M" | "L" | "B";

/** Sixteenths to the inch. */
const IN = 16;
const PANEL_WIDTH = 48 * IN;
const STOCK = [
  { L: 96 * IN, cost: 32 },
  { L: 108 * IN, cost: 36 },
  { L: 120 * IN, cost: 40 },
];
/** Smallest piece kept as a piece of its own, and smallest drop kept as scrap. */
const SMALLEST = 4 * IN;
/** Height of a floor band between two stories' panels. */
const HEADER = 18 * IN;

/** Rips are 24 in tall at most. */
const TALLEST_RIP = 24 * IN;

/** Walls of one floor, and floors, by size. */
const SIZES = {
  S: { walls: 4, floors: 1 },
  M: { walls: 6, floors: 2 },
  L: { walls: 10, floors: 2 },
} as const;
const LOTS = 20;

/** Chance with a seed: the same seed gives the same numbers. */
export class Chance extends Sequence {
  /** a whole number from `from` to `to`, both included */
  whole(from: number, to: number): number {
    return from + this.below(to - from + 1);
  }
  one<T>(list: readonly T[]): T {
    return list[this.whole(0, list.length - 1)] as T;
  }
}

interface Opening {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** Pieces counted by their sizes. */
class Pieces {
  readonly rects = new Map<string, { w: number; h: number; n: number }>();
  readonly rakes = new Map<
    string,
    { w: number; h1: number; h2: number; sense: number; n: number }
  >();
  readonly drops = new Map<string, { w: number; h: number; n: number }>();
  readonly rips = new Map<string, { h: number; oc: number; runs: number[][] }>();
  modules = 0;

  rect(w: number, h: number): void {
    const known = this.rects.get(`${w}/${h}`);
    if (known) known.n++;
    else this.rects.set(`${w}/${h}`, { w, h, n: 1 });
  }
  rake(w: number, h1: number, h2: number, sense: number): void {
    const known = this.rakes.get(`${w}/${h1}/${h2}/${sense}`);
    if (known) known.n++;
    else this.rakes.set(`${w}/${h1}/${h2}/${sense}`, { w, h1, h2, sense, n: 1 });
  }
  drop(w: number, h: number): void {
    const known = this.drops.get(`${w}/${h}`);
    if (known) known.n++;
    else this.drops.set(`${w}/${h}`, { w, h, n: 1 });
  }
  run(h: number, oc: number, joints: number[]): void {
    const known = this.rips.get(`${h}/${oc}`);
    if (known) known.runs.push(joints);
    else this.rips.set(`${h}/${oc}`, { h, oc, runs: [joints] });
  }
}

/** Openings of a wall, apart from each other, tops on one line. */
function openingsOf(chance: Chance, length: number, height: number, oc: number): Opening[] {
  const widths = [24, 30, 36, 36, 48, 60, 72, 192];
  const found: Opening[] = [];
  const top = Math.min(height - 12 * IN, 96 * IN);
  let at = chance.whole(2, 5) * oc;
  while (found.length < 5) {
    const width = chance.one(widths) * IN + 8;
    if (at + width + 2 * oc > length) break;
    const door = chance.next() < 0.25;
    const high = door ? top : Math.min(top, chance.one([24, 36, 48, 60]) * IN + 8);
    found.push({ x0: at, x1: at + width, y0: top - high, y1: top });
    at += width + chance.whole(2, 10) * oc;
    at = Math.ceil(at / oc) * oc;
  }
  return found;
}

interface Wall {
  readonly length: number;
  readonly height: number;
  /** height of the rip band under or over the panels; 0 for none */
  readonly rip: number;
  readonly oc: number;
  readonly start: number;
  readonly openings: readonly Opening[];
}

function cutWall(pieces: Pieces, wall: Wall): void {
  const { length, height, rip, oc, start } = wall;
  const panel = height - rip;
  const seams = [0];
  for (let at = start; at < length; at += PANEL_WIDTH) if (at > 0) seams.push(at);
  seams.push(length);
  pieces.modules += Math.ceil(length / PANEL_WIDTH);
  for (let k = 1; k < seams.length; k++) {
    const from = seams[k - 1]!;
    const to = seams[k]!;
    const over = wall.openings.find((one) => one.x0 <= from && one.x1 >= to);
    if (over) {
      // The opening spans the panel: pieces below and above.
      if (over.y0 >= SMALLEST) pieces.rect(to - from, over.y0);
      if (panel - over.y1 >= SMALLEST) pieces.rect(to - from, panel - over.y1);
      continue;
    }
    pieces.rect(to - from, panel);
    for (const one of wall.openings) {
      const w = Math.min(to, one.x1) - Math.max(from, one.x0);
      const h = one.y1 - one.y0;
      if (w >= SMALLEST && h >= SMALLEST) pieces.drop(w - 4, h - 4);
    }
  }
  if (rip > 0) {
    const joints = [0];
    const first = start === 0 || start >= PANEL_WIDTH ? oc : start % oc || oc;
    for (let at = first; at < length - 1; at += oc) joints.push(at);
    joints.push(length);
    pieces.run(rip, oc, joints);
  }
}

/** A gable: rake pieces up one slope and down the other, a seam at the ridge. */
function cutGable(pieces: Pieces, span: number, pitch: number, heel: number): void {
  const half = Math.floor(span / 2);
  for (const sense of [1, -1]) {
    for (let at = 0; at < half; at += PANEL_WIDTH) {
      const to = Math.min(half, at + PANEL_WIDTH);
      if (to - at < SMALLEST) break;
      const low = heel + Math.round((at * pitch) / 12);
      const high = heel + Math.round((to * pitch) / 12);
      const longest = STOCK[STOCK.length - 1]!.L;
      // Above the longest panel there is a level seam: a rectangle under the rake piece.
      if (high > longest) {
        const under = Math.min(low, longest);
        if (under >= SMALLEST) pieces.rect(to - at, under);
        pieces.rake(to - at, low - under, high - under, sense);
      } else pieces.rake(to - at, low, high, sense);
      pieces.modules++;
    }
  }
}

function addHouse(
  chance: Chance,
  pieces: Pieces,
  size: { readonly walls: number; readonly floors: number }
): void {
  const oc = chance.one([16, 16, 24]) * IN;
  const pitch = chance.whole(4, 12);
  const blockLine = chance.next() < 0.6;
  const pairs: number[] = [];
  for (let k = 0; k < size.walls / 2; k++) {
    const long = k < 2;
    pairs.push(chance.whole(long ? 20 : 6, long ? 52 : 16) * 12 * IN + chance.one([0, 0, 8, 14]));
  }
  for (let floor = 0; floor < size.floors; floor++) {
    const plate = chance.one([92.625, 96, 97.125, 104.625, 109.125]) * IN;
    const height = Math.round(plate) + (floor > 0 ? HEADER : chance.whole(4, 16) * IN);
    const longest = STOCK[STOCK.length - 1]!.L;
    const below = STOCK.filter(({ L }) => height - L >= SMALLEST && height - L <= TALLEST_RIP);
    const whole = below.length === 0 || (height <= longest && !blockLine);
    const rip = whole ? 0 : height - chance.one(below).L;
    for (const length of pairs) {
      for (let side = 0; side < 2; side++) {
        const start = chance.next() < 0.5 ? PANEL_WIDTH : chance.whole(1, PANEL_WIDTH / oc) * oc;
        cutWall(pieces, {
          length,
          height,
          rip,
          oc,
          start,
          openings: openingsOf(chance, length, height - rip, oc),
        });
      }
    }
  }
  const gables = chance.whole(1, 2 + Math.floor(size.walls / 4));
  for (let k = 0; k < gables; k++) {
    const span = Math.min(chance.one(pairs), 34 * 12 * IN);
    cutGable(pieces, span, pitch, chance.one([0, 0, 6, 10]) * IN);
  }
}

/** A made-up house of a size, or for B a builder's release of many. */
export function makeHouse(size: HouseSize, seed: number): HouseInstance {
  const chance = new Chance((Math.imul(seed + 1, 0x9e3779b1) ^ size.charCodeAt(0)) | 1);
  for (let k = 0; k < 8; k++) chance.next();
  const pieces = new Pieces();
  const canTurn = chance.next() < 0.3;
  if (size === "B") {
    for (let lot = 0; lot < LOTS; lot++)
      addHouse(chance, pieces, chance.one([SIZES.S, SIZES.M, SIZES.L]));
  } else addHouse(chance, pieces, SIZES[size]);
  return {
    name: `${size}${String(seed).padStart(2, "0")}`,
    unit: "1/16 in",
    W: PANEL_WIDTH,
    kerf: 2,
    rot90: size === "B" ? false : canTurn,
    stock: STOCK,
    rects: [...pieces.rects.values()],
    rakes: [...pieces.rakes.values()],
    drops: [...pieces.drops.values()],
    rips: [...pieces.rips.values()],
    meta: { size, modules: pieces.modules },
  };
}
