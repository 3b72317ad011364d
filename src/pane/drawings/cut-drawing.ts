/** A panel bought, or a scrap used, with its pieces, its saw cuts in order and what is left over. */
import { TINY_IN, checkChoice, checkNumber } from "../../core/check.js";
import type { CutPlacement, CutSheet, SawCut } from "../../core/cut-plan/problem.js";
import type { HousePiece, HouseTakeoff } from "../../core/house/takeoff.js";
import { housePieces, inches, pieceSize, sheetNames } from "./house-view.js";
import { type FittedLabel, type LabelLine, drawLabel, fitLabel } from "./labels.js";
import {
  type Rect,
  el,
  label,
  line,
  overlaps,
  polygonPath,
  rect,
  shortened,
  textEl,
} from "./svg.js";
import { type Theme, THEMES, hatched, palette, safeId, svgDocument } from "./theme.js";
import { WIDTH_LIMITS } from "./wall-drawing.js";

export interface CutDrawingOptions {
  /** start of every id in the drawing; must differ between drawings on one page; default `cut` */
  readonly ids?: string | undefined;
  /** default `page`: colours from the page's custom properties */
  readonly theme?: Theme | undefined;
  /** width of the drawing, in CSS pixels at full size; text keeps its size; default 360 */
  readonly width?: number | undefined;
  /** most height the panel itself may take, in CSS pixels; default 1.6 of the width */
  readonly panelHeight?: number | undefined;
}

const USUAL_WIDTH = 360;
const USUAL_HEIGHT_SHARE = 1.6;
const NARROWEST = 120;
const TEXT = 10.5;
const SMALL_TEXT = 9.5;
const EDGE = 6;
const TITLE_ROOM = 34;
const BADGE_RADIUS = 7.5;
const BADGE_TEXT = 9;

/** A point on the sheet, in: across, and up its length. */
type Corner = readonly [number, number];

/** A piece where it lies on the sheet. */
export interface LaidPiece {
  readonly each: HousePiece;
  readonly placement: CutPlacement;
  /** corners on the sheet: the foot of its first side, along its top, the foot of its last side */
  readonly outline: readonly Corner[];
  readonly size: string;
}

/** One saw cut in words, with the fence set from the edge of the part in hand. */
export interface CutStep {
  readonly number: number;
  readonly cut: SawCut;
  readonly words: string;
  /** a slope sawn off a piece already cut out as a rectangle */
  readonly isTrim: boolean;
}

/** A sheet of the plan, ready to be drawn or listed. */
export interface SheetView {
  readonly sheet: CutSheet;
  /** `12` or `S2` */
  readonly name: string;
  /** `Panel 12, 48 x 96`, or what the scrap is */
  readonly title: string;
  readonly pieces: readonly LaidPiece[];
  readonly steps: readonly CutStep[];
}

/**
 * Corners of a piece as it lies: as it stands on the wall, turned end for end, or a quarter turn with
 * its top to the right. Never flipped: both sides of a panel differ.
 */
function laidOutline(each: HousePiece, placement: CutPlacement): Corner[] {
  const { leftIn, rightIn, bottomIn, top } = each.piece;
  const { xIn, yIn, widthIn, heightIn, turned } = placement;
  const across = turned === 90 ? heightIn : widthIn;
  // the saw takes the gap off the sides
  const ratio = across / (rightIn - leftIn);
  const standing: Corner[] = [
    [0, 0],
    ...top.map((point): Corner => [
      (point.xIn - leftIn) * ratio,
      Math.max(0, point.heightIn - bottomIn),
    ]),
    [across, 0],
  ];
  return standing.map(([u, v]): Corner => {
    if (turned === 180) return [xIn + widthIn - u, yIn + heightIn - v];
    if (turned === 90) return [xIn + v, yIn + heightIn - u];
    return [xIn + u, yIn + v];
  });
}

function covers(from: number, to: number, low: number, high: number): boolean {
  return from <= low + TINY_IN && to >= high - TINY_IN;
}

/** Where the part a cut divides begins: the last earlier cut before it that runs past its ends. */
function partStart(
  cuts: readonly SawCut[],
  kerfIn: number,
  at: number,
  low: number,
  high: number,
  isPlumb: boolean
): number {
  let start = 0;
  for (const cut of cuts) {
    const isCutPlumb = Math.abs(cut.fromX - cut.toX) < TINY_IN;
    const isCutLevel = Math.abs(cut.fromY - cut.toY) < TINY_IN;
    if (isPlumb ? !isCutPlumb : !isCutLevel) continue;
    const place = (isPlumb ? cut.fromX : cut.fromY) + kerfIn;
    const ends = isPlumb ? [cut.fromY, cut.toY] : [cut.fromX, cut.toX];
    const from = Math.min(...ends);
    const to = Math.max(...ends);
    if (place <= at + TINY_IN && place > start && covers(from, to, low, high)) start = place;
  }
  return start;
}

function stepWords(cuts: readonly SawCut[], index: number, kerfIn: number): string {
  const { fromX, fromY, toX, toY } = cuts[index] as SawCut;
  const earlier = cuts.slice(0, index);
  const [lowX, highX] = [Math.min(fromX, toX), Math.max(fromX, toX)];
  const [lowY, highY] = [Math.min(fromY, toY), Math.max(fromY, toY)];
  if (highX - lowX < TINY_IN) {
    const start = partStart(earlier, kerfIn, fromX, lowY, highY, true);
    return `along at ${inches(fromX - start)}`;
  }
  const start = partStart(earlier, kerfIn, lowY, lowX, highX, false);
  if (highY - lowY < TINY_IN) return `across at ${inches(fromY - start)}`;
  return `slope, ${inches(fromY - start)} to ${inches(toY - start)}`;
}

/**
 * One sheet of the cut plan: its pieces where they lie and its cuts in order.
 *
 * @param index place in the plan's sheets, from 0
 * @throws {CalcError} out-of-range: no such sheet
 */
export function sheetView(house: HouseTakeoff, index: number): SheetView {
  const { sheets } = house.plan;
  checkNumber("sheet", index, { min: 0, max: sheets.length - 1, whole: true });
  const sheet = sheets[index] as CutSheet;
  const name = sheetNames(house)[index] as string;
  const byId = housePieces(house);
  const size = `${inches(sheet.widthIn)} x ${inches(sheet.lengthIn)}`;
  const pieces = sheet.placements.flatMap((placement): LaidPiece[] => {
    const each = byId.get(placement.id);
    if (!each) return [];
    const place = { sheetIndex: index, sheetName: name, placement };
    return [
      { each, placement, outline: laidOutline(each, placement), size: pieceSize(each, place) },
    ];
  });
  const planned = sheet.cuts.map((cut, place) => ({
    cut,
    words: stepWords(sheet.cuts, place, house.settings.kerfIn),
    isTrim: false,
  }));
  return {
    sheet,
    name,
    title:
      sheet.kind === "panel"
        ? `Panel ${name}, ${size}`
        : `Scrap ${name}: ${house.scrapNames.get(sheet.scrapId ?? "") ?? size}`,
    pieces,
    steps: [...planned, ...pieces.flatMap(trims)].map((step, place) => ({
      ...step,
      number: place + 1,
    })),
  };
}

/** A top of more than one stretch is planned as a rectangle; its slopes are sawn off afterwards. */
function trims(laid: LaidPiece): Omit<CutStep, "number">[] {
  const { top, bottomIn } = laid.each.piece;
  if (top.length <= 2) return [];
  const highestIn = Math.max(...top.map((point) => point.heightIn));
  return top.slice(1).flatMap((to, index) => {
    const from = top[index] as (typeof top)[number];
    if (Math.min(from.heightIn, to.heightIn) > highestIn - TINY_IN) return [];
    const [a, b] = [laid.outline[index + 1], laid.outline[index + 2]] as [Corner, Corner];
    const [low, high] = [from.heightIn - bottomIn, to.heightIn - bottomIn].map(inches);
    return [
      {
        cut: { fromX: a[0], fromY: a[1], toX: b[0], toY: b[1] },
        words: `slope on ${laid.each.label}, ${low} to ${high} over ${inches(to.xIn - from.xIn)}`,
        isTrim: true,
      },
    ];
  });
}

interface Scene {
  readonly view: SheetView;
  readonly X: (xIn: number) => number;
  readonly Y: (yIn: number) => number;
  readonly scale: number;
}

interface Badge {
  readonly step: CutStep;
  readonly x: number;
  readonly y: number;
  /** where on the cut it belongs, if it stands beside it */
  readonly from?: readonly [number, number];
}

function badgeBox(x: number, y: number): Rect {
  return { x: x - BADGE_RADIUS, y: y - BADGE_RADIUS, w: 2 * BADGE_RADIUS, h: 2 * BADGE_RADIUS };
}

/** Where along a cut its badge may stand, best first: near an end, in the middle, between. */
const BADGE_SHARES = [0.5, 0.25, 0.75, 0.35, 0.65, 0.15, 0.85];
/** How far beside a cut too short or too crowded for it, in radii. */
const BADGE_STEPS = [1.8, -1.8, 3.2, -3.2, 4.8, -4.8];

/** Badges stand on their cuts where they are clear of each other, else beside them. */
function placeBadges(scene: Scene, area: Rect): Badge[] {
  const { view, X, Y } = scene;
  const done: Rect[] = [];
  const isFree = (x: number, y: number): boolean => {
    const box = badgeBox(x, y);
    return (
      box.x >= area.x - BADGE_RADIUS &&
      box.y >= area.y - BADGE_RADIUS &&
      box.x + box.w <= area.x + area.w + BADGE_RADIUS &&
      box.y + box.h <= area.y + area.h + BADGE_RADIUS &&
      !done.some((other) => overlaps(box, other, 1))
    );
  };
  return view.steps.map((step) => {
    const { fromX, fromY, toX, toY } = step.cut;
    const [x1, y1, x2, y2] = [X(fromX), Y(fromY), X(toX), Y(toY)];
    const length = Math.hypot(x2 - x1, y2 - y1) || 1;
    const end = Math.min(0.5, (BADGE_RADIUS + 3) / length);
    const on = [end, 1 - end, ...BADGE_SHARES].map((share): Badge => {
      return { step, x: x1 + (x2 - x1) * share, y: y1 + (y2 - y1) * share };
    });
    const middle = [(x1 + x2) / 2, (y1 + y2) / 2] as const;
    const beside = BADGE_STEPS.flatMap((steps): Badge[] => {
      const far = steps * BADGE_RADIUS;
      const across = {
        x: middle[0] - ((y2 - y1) / length) * far,
        y: middle[1] + ((x2 - x1) / length) * far,
      };
      return [{ step, ...across, from: middle }];
    });
    const best = [...on, ...beside].find(({ x, y }) => isFree(x, y)) ?? (on[0] as Badge);
    done.push(badgeBox(best.x, best.y));
    return best;
  });
}

/** How a piece lies otherwise than it stands; rips lie along the panel as a matter of course. */
function turnedWords({ placement, each }: LaidPiece): string {
  if (placement.turned === 180) return "turned end for end";
  return placement.turned === 90 && each.piece.kind === "panel" ? "quarter turn" : "";
}

/** Rectangles inside a laid piece, largest first. A top has no dips, so its ends tell how low it is. */
function placesIn(scene: Scene, laid: LaidPiece): Rect[] {
  const { X, Y } = scene;
  const { placement } = laid;
  const { xIn, yIn, widthIn, heightIn, turned } = placement;
  if (turned === 90) {
    const { top, bottomIn } = laid.each.piece;
    const lowIn = Math.min(...top.map((point) => point.heightIn - bottomIn));
    const y = Y(yIn + heightIn);
    return [{ x: X(xIn), y, w: X(xIn + Math.max(0, lowIn)) - X(xIn), h: Y(yIn) - y }];
  }
  const sloped = slopedEdge(laid);
  const columns = [0, 0.25, 0.5, 0.75, 1].map((share) => xIn + widthIn * share);
  const places = columns.flatMap((from, index) =>
    columns.slice(index + 1).map((to) => {
      const edge = [Y(sloped(from)), Y(sloped(to))];
      const upper = turned === 180 ? Y(yIn + heightIn) : Math.max(...edge);
      const lower = turned === 180 ? Math.min(...edge) : Y(yIn);
      return { x: X(from), y: upper, w: X(to) - X(from), h: lower - upper };
    })
  );
  return places.filter((place) => place.h > 0).sort((a, b) => b.w * b.h - a.w * a.h);
}

/** A name in two lines: `Court east` over `upper-3`. */
function brokenName(name: string): string[] {
  const words = name.split(" ");
  if (words.length < 2) return [name];
  const half = name.length / 2;
  let first = words[0] as string;
  let used = 1;
  while (used < words.length - 1 && first.length + (words[used] as string).length / 2 < half) {
    first += ` ${words[used++] as string}`;
  }
  return [first, words.slice(used).join(" ")];
}

/** Text for a piece, clear of the badges. */
function laidLabel(scene: Scene, laid: LaidPiece, taken: readonly Rect[]): FittedLabel | undefined {
  const { each } = laid;
  const inset = placesIn(scene, laid).map((place) => ({
    x: place.x + 2,
    y: place.y + 2,
    w: place.w - 4,
    h: place.h - 4,
  }));
  const name = { text: each.label, size: TEXT, isBold: true };
  const small = (text: string): LabelLine => ({ text, size: SMALL_TEXT });
  const turned = turnedWords(laid);
  const most = Math.max(...inset.map((place) => Math.max(place.w, place.h)), 0);
  const cut = { ...name, text: shortened(each.label, TEXT, most - 6, true) };
  const broken = brokenName(each.label).map((part) => ({ ...name, text: part, size: SMALL_TEXT }));
  const end = { ...name, text: `…${each.label.slice(each.label.lastIndexOf("-"))}` };
  return fitLabel(
    inset,
    [
      ...(turned === "" ? [] : [[name, small(laid.size), small(turned)]]),
      [name, small(laid.size)],
      [{ text: `${each.label}:  ${laid.size}`, size: SMALL_TEXT }],
      [name],
      [...broken, small(laid.size)],
      broken,
      [end, small(laid.size)],
      [end],
      ...(cut.text === "" ? [] : [[cut]]),
    ],
    taken
  );
}

/** Height of a laid piece's top edge over x of the sheet; at the bottom where it is turned. */
function slopedEdge({ outline, placement }: LaidPiece): (xIn: number) => number {
  const edge = outline.slice(1, -1);
  const ascending = placement.turned === 180 ? [...edge].reverse() : edge;
  return (xIn) => {
    for (let index = 1; index < ascending.length; index++) {
      const [x1, y1] = ascending[index - 1] as Corner;
      const [x2, y2] = ascending[index] as Corner;
      if (xIn <= x2 + TINY_IN || index === ascending.length - 1) {
        return x2 - x1 < TINY_IN ? y2 : y1 + ((y2 - y1) * (xIn - x1)) / (x2 - x1);
      }
    }
    return placement.yIn + placement.heightIn;
  };
}

/**
 * Draws one panel bought, or one scrap used.
 *
 * @param house the takeoff
 * @param sheetIndex place in the plan's sheets, from 0; panels first, then scrap
 * @returns one svg element as text; every piece is a `g` with `data-piece`, `data-size` and
 *   `data-turned`, every cut one with `data-cut`
 * @throws {CalcError} out-of-range, wrong-kind: no such sheet, or an option outside its limits
 */
export function cutDrawing(
  house: HouseTakeoff,
  sheetIndex: number,
  options: CutDrawingOptions = {}
): string {
  const view = sheetView(house, sheetIndex);
  const { sheet } = view;
  const width = checkNumber("width", options.width ?? USUAL_WIDTH, {
    ...WIDTH_LIMITS,
    min: NARROWEST,
  });
  const mostHeight = checkNumber(
    "panel height",
    options.panelHeight ?? width * USUAL_HEIGHT_SHARE,
    { min: 60, max: 6000, unit: "px" }
  );
  const colours = palette(checkChoice("theme", options.theme ?? "page", THEMES));
  const ids = safeId(options.ids ?? "cut");
  const isScrap = sheet.kind === "scrap";
  const lengthText = inches(sheet.lengthIn);
  const leftRoom = 20;
  const scale = Math.min((width - leftRoom - EDGE) / sheet.widthIn, mostHeight / sheet.lengthIn);
  const area = {
    x: leftRoom + (width - leftRoom - EDGE - sheet.widthIn * scale) / 2,
    y: TITLE_ROOM,
    w: sheet.widthIn * scale,
    h: sheet.lengthIn * scale,
  };
  const X = (xIn: number): number => area.x + xIn * scale;
  const Y = (yIn: number): number => area.y + area.h - yIn * scale;
  const scene: Scene = { view, X, Y, scale };
  const badges = placeBadges(scene, area);
  const taken = badges.map(({ x, y }) => badgeBox(x, y));

  const leftovers = sheet.leftovers.map((left) => {
    const at = {
      x: X(left.xIn),
      y: Y(left.yIn + left.heightIn),
      w: left.widthIn * scale,
      h: left.heightIn * scale,
    };
    const size = `${inches(left.widthIn)} x ${inches(left.heightIn)}`;
    const text = { text: `keep ${size}`, size: SMALL_TEXT };
    const keep = { ...text, text: "keep" };
    const fitted = fitLabel(
      [{ x: at.x + 2, y: at.y + 2, w: at.w - 4, h: at.h - 4 }],
      [[text], [keep, { ...text, text: size }], [keep]],
      taken
    );
    return el(
      "g",
      { class: "leftover", "data-size": size },
      textEl("title", {}, `Worth keeping: ${size}`),
      rect(at, { fill: colours.paper }),
      hatched(
        at,
        { ids, hatch: "keep", colours },
        { stroke: colours.keep, "stroke-width": 0.8, "stroke-dasharray": "4 3" }
      ),
      fitted ? drawLabel(fitted, colours.keep, colours.paper) : ""
    );
  });

  const pieces = view.pieces.map((laid) => {
    const isRip = laid.each.piece.kind === "rip";
    const isTrimmed = laid.each.piece.top.length > 2;
    return el(
      "g",
      {
        class: "piece",
        "data-piece": laid.each.label,
        "data-size": laid.size,
        "data-panel": view.name,
        "data-turned": laid.placement.turned,
      },
      textEl(
        "title",
        {},
        [`${laid.each.label}: ${laid.size}`, turnedWords(laid)].filter(Boolean).join(", ")
      ),
      // a top of more than one stretch is cut out of its rectangle afterwards
      isTrimmed
        ? rect(
            {
              x: X(laid.placement.xIn),
              y: Y(laid.placement.yIn + laid.placement.heightIn),
              w: laid.placement.widthIn * scale,
              h: laid.placement.heightIn * scale,
            },
            {
              fill: "none",
              stroke: colours.muted,
              "stroke-width": 0.8,
              "stroke-dasharray": "3 2",
            }
          )
        : "",
      el("path", {
        d: polygonPath(laid.outline.map(([x, y]) => [X(x), Y(y)])),
        fill: isRip ? colours.rip : colours.panel,
        stroke: colours.ink,
        "stroke-width": 1,
      })
    );
  });

  const cuts = badges.map(({ step, x, y, from }) => {
    const { fromX, fromY, toX, toY } = step.cut;
    return el(
      "g",
      { class: "saw-cut", "data-cut": step.number },
      textEl("title", {}, `Cut ${step.number}: ${step.words}`),
      line(X(fromX), Y(fromY), X(toX), Y(toY), {
        stroke: colours.accent,
        "stroke-width": 1.5,
        "stroke-dasharray": "6 2",
      }),
      from ? line(from[0], from[1], x, y, { stroke: colours.accent, "stroke-width": 0.8 }) : "",
      el("circle", {
        cx: x,
        cy: y,
        r: BADGE_RADIUS,
        fill: colours.paper,
        stroke: colours.accent,
        "stroke-width": 1.1,
      }),
      label(x, y, String(step.number), { size: BADGE_TEXT, isBold: true, fill: colours.accent })
    );
  });

  const texts = view.pieces.map((laid) => {
    const fitted = laidLabel(scene, laid, taken);
    if (!fitted) return "";
    return drawLabel(
      fitted,
      colours.ink,
      laid.each.piece.kind === "rip" ? colours.rip : colours.panel
    );
  });

  const heading = isScrap
    ? `Scrap ${view.name}: ${inches(sheet.widthIn)} x ${lengthText}`
    : `Panel ${view.name}`;
  // what a scrap is ends in its size, which the heading says
  const second = isScrap
    ? (house.scrapNames.get(sheet.scrapId ?? "") ?? "").replace(/, [^,]*$/, "")
    : `${inches(sheet.widthIn)} x ${lengthText}`;
  return svgDocument(
    {
      width,
      height: area.y + area.h + 22,
      ids,
      title: `${view.title}: ${view.pieces.length} ${view.pieces.length === 1 ? "piece" : "pieces"}`,
      description: [
        `Pieces: ${view.pieces.map((laid) => `${laid.each.label} ${laid.size}${laid.placement.turned === 180 ? " turned end for end" : ""}`).join("; ")}.`,
        view.steps.length === 0
          ? "No cuts."
          : `Cuts in order: ${view.steps.map((step) => `${step.number} ${step.words}`).join("; ")}.`,
      ].join(" "),
      className: isScrap ? "cut-drawing scrap" : "cut-drawing",
      colours,
      hatches: ["waste", "keep"],
    },
    label(EDGE, 9, shortened(heading, 12, width - 2 * EDGE, true), {
      size: 12,
      anchor: "start",
      isBold: true,
    }),
    label(EDGE, 23, shortened(second, SMALL_TEXT, width - 2 * EDGE), {
      size: SMALL_TEXT,
      anchor: "start",
      fill: colours.muted,
    }),
    hatched(area, { ids, hatch: "waste", colours }),
    ...leftovers,
    ...pieces,
    rect(area, {
      fill: "none",
      stroke: colours.ink,
      "stroke-width": 1.8,
      "stroke-dasharray": isScrap ? "7 3" : undefined,
    }),
    ...cuts,
    el("g", { class: "piece-labels", "pointer-events": "none" }, ...texts),
    label(area.x + area.w / 2, area.y + area.h + 11, inches(sheet.widthIn), {
      size: SMALL_TEXT,
      fill: colours.muted,
    }),
    label(area.x - 10, area.y + area.h / 2, lengthText, {
      size: SMALL_TEXT,
      isTurned: true,
      fill: colours.muted,
    })
  );
}
