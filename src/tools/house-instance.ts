/**
 * Reads a cut-plan instance file (a generated house: pieces, stock, scrap, rip runs; unit 1/16 in)
 * as a cut problem in inches.
 */
import type { CutPiece, CutProblem, CutScrap, RipRun } from "../core/cut-plan/problem.js";

export interface HouseInstance {
  readonly name: string;
  readonly unit: "1/16 in";
  readonly W: number;
  readonly kerf: number;
  readonly rot90: boolean;
  readonly stock: readonly { readonly L: number; readonly cost: number }[];
  readonly rects: readonly { readonly w: number; readonly h: number; readonly n: number }[];
  readonly rakes: readonly {
    readonly w: number;
    readonly h1: number;
    readonly h2: number;
    readonly sense: number;
    readonly n: number;
  }[];
  readonly drops: readonly { readonly w: number; readonly h: number; readonly n: number }[];
  readonly rips: readonly {
    readonly h: number;
    readonly oc: number;
    readonly runs: readonly (readonly number[])[];
  }[];
  readonly meta: { readonly size: string; readonly modules: number };
}

/** Sixteenths to the inch. */
const PER_IN = 16;

export function problemOf(house: HouseInstance): CutProblem {
  const pieces: CutPiece[] = [];
  house.rects.forEach((rect, k) => {
    for (let n = 0; n < rect.n; n++) {
      pieces.push({
        id: `P${k + 1}.${n + 1}`,
        widthIn: rect.w / PER_IN,
        leftIn: rect.h / PER_IN,
        rightIn: rect.h / PER_IN,
      });
    }
  });
  house.rakes.forEach((rake, k) => {
    const low = Math.min(rake.h1, rake.h2) / PER_IN;
    const high = Math.max(rake.h1, rake.h2) / PER_IN;
    for (let n = 0; n < rake.n; n++) {
      pieces.push({
        id: `K${k + 1}.${n + 1}`,
        widthIn: rake.w / PER_IN,
        leftIn: rake.sense > 0 ? low : high,
        rightIn: rake.sense > 0 ? high : low,
      });
    }
  });
  const scrap: CutScrap[] = [];
  house.drops.forEach((drop, k) => {
    for (let n = 0; n < drop.n; n++) {
      scrap.push({
        id: `D${k + 1}.${n + 1}`,
        widthIn: drop.w / PER_IN,
        heightIn: drop.h / PER_IN,
      });
    }
  });
  const rips: RipRun[] = [];
  house.rips.forEach((strip, k) => {
    strip.runs.forEach((run, n) => {
      rips.push({
        id: `R${k + 1}.${n + 1}`,
        heightIn: strip.h / PER_IN,
        jointsIn: run.map((joint) => joint / PER_IN),
        smallestIn: strip.oc / PER_IN,
      });
    });
  });
  return {
    panelWidthIn: house.W / PER_IN,
    kerfIn: house.kerf / PER_IN,
    canTurn: house.rot90,
    stock: house.stock.map((item) => ({ lengthIn: item.L / PER_IN, cost: item.cost })),
    pieces,
    rips,
    scrap,
  };
}
