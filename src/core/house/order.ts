/** The purchase list: need added over the whole house first, then rounded up to packages once. */
import { TINY_IN, ceilCount, floorCount, notCovered } from "../check.js";
import { planCuts } from "../cut-plan/plan-cuts.js";
import { nailLength, stockNail } from "../nails.js";
import { TAPE_WIDTH_METHODS, tapeWidth, wholePackages } from "../tape.js";
import { feet, inchText } from "../units.js";
import { heightAt, isLevel } from "../wall-top.js";
import type { Settings } from "./settings.js";
import { type HouseTakeoff, tapeNeed } from "./takeoff.js";

export interface OrderLine {
  readonly item: string;
  readonly size: string;
  readonly needed: number;
  readonly unit: string;
  /** spare share: 0.05 is 5 % */
  readonly extra: number;
  readonly perPackage: number;
  /** whole packages to buy */
  readonly order: number;
  readonly note: string;
}

/** Narrowest stocked tape at least this wide. */
export function stockTape(neededIn: number, settings: Settings): number {
  const sorted = [...settings.tapeWidthsIn].sort((a, b) => a - b);
  const found = sorted.find((width) => width >= neededIn - TINY_IN);
  if (found === undefined) {
    throw notCovered(
      `settings: Tape widths must hold one of ${inchText(neededIn, 64)} in or wider; the widest is ${inchText(sorted.at(-1) as number, 64)}: add a width, or use the other corner tape method`
    );
  }
  return found;
}

/** Seams, inside corners and openings lap both ways. */
export function seamTapeWidth(settings: Settings): number {
  return 2 * settings.tapeLapIn;
}

/** The nail of the house: the next stocked length that reaches far enough. */
export function houseNail(settings: Settings): { neededIn: number; stockIn: number } {
  const neededIn = nailLength(settings.thicknessIn, settings.penetrationIn);
  return { neededIn, stockIn: stockNail(neededIn, settings.nailLengthsIn) };
}

/** Feet without the noise of binary sums, and nothing more: a package boundary must not move. */
function roundFeet(value: number): number {
  return Number(value.toPrecision(12));
}

/** The proof does not cover a small piece cut from the triangle beside a rake, so the note says what it covers. */
function hasRakes(house: HouseTakeoff): boolean {
  return house.built.some(({ pieces }) => pieces.some(({ piece }) => !isLevel(piece.top)));
}

/** Says how good the plan is: the count of panels, and what no plan can do better than. */
export function boundNote(house: HouseTakeoff): string {
  const { plan, settings } = house;
  if (plan.panelCount === 0) return "all cut from scrap";
  const plural = plan.panelCount === 1 ? "panel" : "panels";
  const count = `${plan.panelCount} ${plural}; no plan can use fewer than ${plan.fewestPanels}`;
  const rakes = hasRakes(house) ? "; rake pieces cut alone or nested in pairs" : "";
  if (settings.panelLengthsIn.length === 1) return `${count}${rakes}`;
  const shown = (cost: number): string => String(Number(cost.toFixed(2)));
  const unit = settings.panelCosts ? "cost" : "sq ft";
  return `${count} (${shown(plan.cost)} ${unit}; no plan can take less than ${shown(plan.lowestCost)})${rakes}`;
}

function panelLines(house: HouseTakeoff): OrderLine[] {
  const { plan, settings } = house;
  const note = boundNote(house);
  return plan.bought
    .filter((each) => each.count > 0)
    .map((each, index) => ({
      item: "Panel",
      size: `${inchText(settings.panelWidthIn)} x ${inchText(each.lengthIn)} in`,
      needed: each.count,
      unit: "panels",
      extra: settings.panelExtra,
      perPackage: settings.panelsPerPackage,
      order: wholePackages(
        "panels",
        each.count,
        "Panels per package",
        settings.panelsPerPackage,
        settings.panelExtra
      ),
      note: index === 0 ? note : "",
    }));
}

function tapeLines(house: HouseTakeoff): OrderLine[] {
  const { settings } = house;
  const need = tapeNeed(house);
  const uses = [
    { what: "seams", ft: need.seamFt, width: seamTapeWidth(settings) },
    { what: "inside corners", ft: need.insideCornerFt, width: seamTapeWidth(settings) },
    { what: "openings", ft: need.openingFt, width: seamTapeWidth(settings) },
    {
      what: "outside corners",
      ft: need.outsideCornerFt,
      width: tapeWidth(settings.thicknessIn, settings.cornerTape, settings.tapeLapIn),
    },
    {
      what: "bottom edge at the sill plate",
      ft: need.sillFt,
      width: tapeWidth(settings.thicknessIn, TAPE_WIDTH_METHODS[2], settings.tapeLapIn),
    },
  ].filter((use) => use.ft > 0);
  const byWidth = new Map<number, typeof uses>();
  for (const use of uses) {
    const width = stockTape(use.width, settings);
    byWidth.set(width, [...(byWidth.get(width) ?? []), use]);
  }
  return [...byWidth.entries()]
    .sort(([a], [b]) => a - b)
    .map(([width, list]) => {
      const neededFt = list.reduce((sum, use) => sum + use.ft, 0);
      return {
        item: "Tape",
        size: `${inchText(width)} in`,
        needed: roundFeet(neededFt),
        unit: "ft",
        extra: settings.tapeExtra,
        perPackage: settings.feetPerRoll,
        order: wholePackages(
          "feet",
          neededFt,
          "Feet per roll",
          settings.feetPerRoll,
          settings.tapeExtra
        ),
        note: list.map((use) => `${use.what} ${use.ft.toFixed(0)} ft`).join(", "),
      };
    });
}

function nailLines(house: HouseTakeoff): OrderLine[] {
  const { settings, built } = house;
  const { neededIn, stockIn } = houseNail(settings);
  const nails = built.reduce((sum, each) => sum + each.nailCount, 0);
  return [
    {
      item: "Nails",
      size: `${inchText(stockIn, 64)} x ${settings.nailDiameterIn} in`,
      needed: nails,
      unit: "nails",
      extra: settings.nailExtra,
      perPackage: settings.nailsPerBox,
      order: wholePackages(
        "nails",
        nails,
        "Nails per box",
        settings.nailsPerBox,
        settings.nailExtra
      ),
      note: `at least ${inchText(neededIn, 64)} in; size and spacing as the engineer calls for`,
    },
  ];
}

/** Lengths of the backing pieces, each between the plates at its corner, in. */
export function backingPieces(house: HouseTakeoff): number[] {
  const { settings, built } = house;
  const plates = (settings.bottomPlates + settings.topPlates) * settings.plateIn;
  return built.flatMap(({ cut, backingCount }) => {
    const ends = [
      ...(cut.wall.leftEnd === "short" ? [0] : []),
      ...(cut.wall.rightEnd === "short" ? [cut.wall.lengthIn] : []),
    ];
    const each = ends.length === 0 ? 0 : backingCount / ends.length;
    return ends.flatMap((x) => {
      const lengthIn = heightAt(cut.wall.top, x) - plates;
      return lengthIn > TINY_IN ? Array.from({ length: each }, () => lengthIn) : [];
    });
  });
}

function backingLines(house: HouseTakeoff): OrderLine[] {
  const { settings } = house;
  const longest = Math.max(...settings.lumberLengthsIn);
  // backing carries no load, so it may be pieced: a corner taller than the longest stick is halved
  const pieces = backingPieces(house).flatMap((length) => {
    const parts = ceilCount(length / longest);
    return Array.from({ length: parts }, () => length / parts);
  });
  if (pieces.length === 0) return [];
  const plan = planCuts({
    panelWidthIn: 1,
    kerfIn: settings.kerfIn,
    canTurn: false,
    stock: settings.lumberLengthsIn.map((lengthIn) => ({ lengthIn, cost: lengthIn })),
    pieces: pieces.map((length, index) => ({
      id: String(index),
      widthIn: 1,
      leftIn: length,
      rightIn: length,
    })),
    rips: [],
    scrap: [],
  });
  return plan.bought
    .filter((each) => each.count > 0)
    .map((each, index) => ({
      item: "Backing lumber",
      size: `${inchText(each.lengthIn)} in`,
      needed: each.count,
      unit: "pieces",
      extra: 0,
      perPackage: 1,
      order: each.count,
      note: index === 0 ? `${pieces.length} behind inside corners; offcuts of studs serve` : "",
    }));
}

/** Inches of seam that need blocking, by the stud spacing of their wall. */
function blockingBySpacing(house: HouseTakeoff): Map<number, number> {
  const bySpacing = new Map<number, number>();
  for (const { cut, seams } of house.built) {
    const lengthIn = seams
      .filter((seam) => seam.needsBlocking)
      .reduce((sum, seam) => sum + seam.lengthIn, 0);
    const { spacingIn } = cut.wall;
    if (lengthIn > 0) bySpacing.set(spacingIn, (bySpacing.get(spacingIn) ?? 0) + lengthIn);
  }
  return bySpacing;
}

/** Feet of blocking behind horizontal seams. */
export function blockingFeet(house: HouseTakeoff): number {
  return feet([...blockingBySpacing(house).values()].reduce((sum, each) => sum + each, 0));
}

/** Blocks between studs of one spacing, from the stocked length that takes the least lumber. */
function blockingLine(settings: Settings, spacingIn: number, lengthIn: number): OrderLine {
  const bayIn = spacingIn - settings.studIn;
  const blocks = ceilCount(lengthIn / spacingIn);
  const choices = settings.lumberLengthsIn
    .map((stickIn) => ({
      stickIn,
      perStick: floorCount((stickIn + settings.kerfIn) / (bayIn + settings.kerfIn)),
    }))
    .filter((each) => each.perStick > 0)
    .map((each) => ({
      ...each,
      sticks: wholePackages(
        "blocks",
        blocks,
        "blocks in a stick",
        each.perStick,
        settings.lumberExtra
      ),
    }))
    .sort((a, b) => a.sticks * a.stickIn - b.sticks * b.stickIn || b.stickIn - a.stickIn);
  const best = choices[0];
  if (!best) {
    throw notCovered(
      `settings: Lumber lengths must hold one of ${inchText(bayIn, 64)} in or longer for the blocking`
    );
  }
  return {
    item: "Blocking lumber",
    size: `${inchText(best.stickIn)} in`,
    needed: blocks,
    unit: "blocks",
    extra: settings.lumberExtra,
    perPackage: best.perStick,
    order: best.sticks,
    note: `${feet(lengthIn).toFixed(0)} ft of horizontal seams need blocking at ${inchText(spacingIn)} in spacing`,
  };
}

function blockingLines(house: HouseTakeoff): OrderLine[] {
  return [...blockingBySpacing(house)]
    .sort(([a], [b]) => a - b)
    .map(([spacingIn, lengthIn]) => blockingLine(house.settings, spacingIn, lengthIn));
}

/**
 * Every line of the order: panels by length, tape by width, nails, backing and blocking lumber. What is needed is added
 * over the whole house and rounded up to packages once.
 *
 * @param house the house as takeoffHouse gives it; its limits are those of the tables
 * @returns lines with what is needed (panels, ft, nails, pieces or blocks), the spare share and whole packages
 * @shape rows of item, size, needed, unit, extra, perPackage, order, note
 * @throws {CalcError} not-covered: no stocked tape, nail or lumber is wide or long enough; out-of-range: more packages than
 *   can be counted
 * @source arithmetic; stocked sizes and spare shares are common practice, no source; the panels: docs/cut-plan.md
 * @example orderLines(takeoffHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 96, 96, "free", "free"]], [], [["Foam", 1.25], ["Panel", 0.625]])).map((line) => [line.item, line.size, line.order]) // => [["Panel", "48 x 96 in", 2], ["Tape", "3 in", 1], ["Nails", "3 1/2 x 0.131 in", 1]]
 */
export function orderLines(house: HouseTakeoff): OrderLine[] {
  return [
    ...panelLines(house),
    ...tapeLines(house),
    ...nailLines(house),
    ...backingLines(house),
    ...blockingLines(house),
  ];
}
