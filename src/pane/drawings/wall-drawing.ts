/**
 * A wall to scale from outside: pieces with their breaks, studs, openings with the routed drop, tape,
 * nails, backing, the marks to pull and both corners from above.
 */
import { TINY_IN, checkChoice, checkNumber } from "../../core/check.js";
import type { Side } from "../../core/corners.js";
import {
  type HousePiece,
  type HouseTakeoff,
  type WallTakeoff,
  pieceNails,
} from "../../core/house/takeoff.js";
import type { Cell } from "../../core/house/tables.js";
import { hasFoam } from "../../core/house/settings.js";
import { type Opening, wallPeak } from "../../core/house/walls.js";
import { type Box, shapeTopAt, spanAbove } from "../../core/house/wall-pieces.js";
import { feetInches } from "../../core/units.js";
import { heightAt, isLevel } from "../../core/wall-top.js";
import { backingSpan, cornerPlan } from "./corner-plan.js";
import {
  builtWall,
  burnOf,
  copyName,
  inches,
  marksOf,
  piecePlaces,
  type PiecePlace,
  pieceSize,
  sheetText,
  shortName,
} from "./house-view.js";
import { type LabelLine, drawLabel, fitLabel, freePlaces, pushApart } from "./labels.js";
import {
  type Rect,
  el,
  label,
  line,
  num,
  polygonPath,
  rect,
  shortened,
  textEl,
  textWidth,
} from "./svg.js";
import {
  type Hatch,
  type Palette,
  type Theme,
  THEMES,
  hatched,
  palette,
  safeId,
  svgDocument,
} from "./theme.js";

export interface WallDrawingOptions {
  /** every nail, at the points that are counted; default no */
  readonly nails?: boolean | undefined;
  /** studs and their marks' ticks; default yes */
  readonly studs?: boolean | undefined;
  /** tape runs; default yes */
  readonly tape?: boolean | undefined;
  /** tape readings under the wall; default yes */
  readonly marks?: boolean | undefined;
  /** both corners from above; default yes */
  readonly corners?: boolean | undefined;
  /** what the lines and hatches mean; default yes */
  readonly legend?: boolean | undefined;
  /** start of every id in the drawing; must differ between drawings on one page; default `wall` */
  readonly ids?: string | undefined;
  /** default `page`: colours from the page's custom properties */
  readonly theme?: Theme | undefined;
  /** width of the drawing, in CSS pixels at full size; text keeps its size; default 960 */
  readonly width?: number | undefined;
  /** most height the wall itself may take, in CSS pixels; default 0.6 of the width */
  readonly wallHeight?: number | undefined;
  /** for a printed sheet: no heading, smaller corners; default no */
  readonly compact?: boolean | undefined;
  /** which of equal walls; default 1 */
  readonly copy?: number | undefined;
}

/** Narrowest and widest drawing: a phone held upright, a wall chart. */
export const WIDTH_LIMITS = { min: 280, max: 6000, unit: "px" } as const;
const USUAL_WIDTH = 960;
const USUAL_HEIGHT_SHARE = 0.6;
const LEAST_WALL_HEIGHT = 240;

const TEXT = 11;
const SMALL_TEXT = 10;
const NAME_TEXT = 13;
/** Largest scale, units to the inch: a short wall does not fill the page. */
const LARGEST_SCALE = 5;
const EDGE = 8;
const PLAN_HEIGHT = 112;
const COMPACT_PLAN_HEIGHT = 96;
/** Room a legend wants between the corners, and between it and them. */
const LEAST_LEGEND = 110;
const LEGEND_GAP = 24;
/** Pieces named in the description for screen readers. */
const MOST_DESCRIBED = 60;

/** Everything a part of the drawing needs to know. */
interface Scene {
  readonly house: HouseTakeoff;
  readonly built: WallTakeoff;
  readonly colours: Palette;
  readonly ids: string;
  readonly width: number;
  readonly scale: number;
  readonly X: (xIn: number) => number;
  readonly Y: (yIn: number) => number;
  /** left and right edge of the wall on the drawing */
  readonly leftX: number;
  readonly rightX: number;
  readonly options: WallDrawingOptions;
  readonly places: ReadonlyMap<string, PiecePlace>;
  readonly used: Set<Hatch>;
}

function boxRect(scene: Scene, box: Box): Rect {
  return {
    x: scene.X(box.leftIn),
    y: scene.Y(box.topIn),
    w: (box.rightIn - box.leftIn) * scene.scale,
    h: (box.topIn - box.bottomIn) * scene.scale,
  };
}

/** Outline with the routed parts as holes. */
function piecePath(scene: Scene, each: HousePiece): string {
  const { X, Y } = scene;
  const { leftIn, rightIn, bottomIn, top, routed } = each.piece;
  const outline = [
    [leftIn, bottomIn],
    ...top.map((point) => [point.xIn, point.heightIn]),
    [rightIn, bottomIn],
  ].map(([x, y]): [number, number] => [X(x as number), Y(y as number)]);
  const holes = routed.map(({ box }) =>
    polygonPath([
      [X(box.leftIn), Y(box.bottomIn)],
      [X(box.rightIn), Y(box.bottomIn)],
      [X(box.rightIn), Y(box.topIn)],
      [X(box.leftIn), Y(box.topIn)],
    ])
  );
  return polygonPath(outline) + holes.join("");
}

function pieceMarkup(scene: Scene, each: HousePiece): string {
  const { colours, places } = scene;
  const place = places.get(each.planId);
  const size = pieceSize(each, place);
  const from = place ? sheetText(place.sheetName) : "";
  return el(
    "g",
    {
      class: `piece ${each.piece.kind}`,
      "data-piece": each.label,
      "data-size": size,
      "data-panel": place?.sheetName ?? "",
    },
    textEl("title", {}, `${each.label}: ${size}${from ? `, from ${from}` : ""}`),
    el("path", {
      d: piecePath(scene, each),
      "fill-rule": "evenodd",
      fill: each.piece.kind === "rip" ? colours.rip : colours.panel,
      stroke: colours.ink,
      "stroke-width": 1,
    })
  );
}

/** What the label of a piece may say, most first. */
function labelChoices(each: HousePiece, size: string, from: string): LabelLine[][] {
  const name = { text: shortName(each), size: NAME_TEXT, isBold: true };
  const small = (text: string): LabelLine => ({ text, size: SMALL_TEXT });
  return [
    [name, small(size), small(from)],
    [name, small(size)],
    [{ text: `${name.text}:  ${size}`, size: SMALL_TEXT }],
    [name],
    [{ ...name, size: SMALL_TEXT }],
  ];
}

function pieceLabel(scene: Scene, each: HousePiece): string {
  const { X, Y, places, colours } = scene;
  const { piece } = each;
  const holes = piece.routed.map(({ box }) => boxRect(scene, box));
  const { leftIn, rightIn, bottomIn, top } = piece;
  const isFlat = top.every((point) => Math.abs(point.heightIn - (top[0]?.heightIn ?? 0)) < TINY_IN);
  const wide = rightIn - leftIn;
  const turns = isFlat
    ? [leftIn, rightIn]
    : [leftIn, leftIn + wide / 4, leftIn + wide / 2, leftIn + (3 * wide) / 4, rightIn];
  const xs = [
    ...turns,
    ...top.map((point) => point.xIn),
    ...piece.routed.flatMap(({ box }) => [box.leftIn, box.rightIn]),
  ];
  const topOver = (fromX: number, toX: number): number => {
    const heights = top
      .filter((point) => X(point.xIn) > fromX && X(point.xIn) < toX)
      .map((point) => point.heightIn);
    const xIn = (x: number): number => leftIn + (x - X(leftIn)) / scene.scale;
    return Y(Math.min(shapeTopAt(piece, xIn(fromX)), shapeTopAt(piece, xIn(toX)), ...heights));
  };
  const found = freePlaces(
    xs.map(X),
    topOver,
    Y(bottomIn),
    piece.routed.flatMap(({ box }) => [Y(box.bottomIn), Y(box.topIn)]),
    holes
  ).map((place) => ({ x: place.x + 2, y: place.y + 2, w: place.w - 4, h: place.h - 4 }));
  const place = places.get(each.planId);
  const fitted = fitLabel(
    found,
    labelChoices(each, pieceSize(each, place), place ? sheetText(place.sheetName) : "")
  );
  if (!fitted) return "";
  return drawLabel(fitted, colours.ink, piece.kind === "rip" ? colours.rip : colours.panel);
}

/** Upright stretches of x that no opening takes. */
function clearOf(
  openings: readonly Opening[],
  xIn: number,
  fromIn: number,
  toIn: number
): [number, number][] {
  let parts: [number, number][] = [[fromIn, toIn]];
  for (const opening of openings) {
    if (xIn <= opening.leftIn || xIn >= opening.rightIn) continue;
    parts = parts.flatMap(([low, high]): [number, number][] =>
      [
        [low, Math.min(high, opening.bottomIn)] as [number, number],
        [Math.max(low, opening.topIn), high] as [number, number],
      ].filter(([a, b]) => b - a > TINY_IN)
    );
  }
  return parts;
}

function studMarkup(scene: Scene): string {
  const { built, house, scale, X, Y, colours } = scene;
  const { cut } = built;
  const { studIn } = house.settings;
  const style = { stroke: colours.faint, "stroke-width": 0.8, "stroke-dasharray": "5 3" };
  const isWideEnough = studIn * scale >= 4;
  const lines = cut.studs.flatMap((stud) => {
    const xs = isWideEnough ? [stud.nearEdgeIn, stud.farEdgeIn] : [stud.centerIn];
    return xs.flatMap((xIn) => {
      const topIn = heightAt(cut.wall.top, stud.centerIn);
      return clearOf(cut.openings, stud.centerIn, 0, topIn).map(([low, high]) =>
        line(X(xIn), Y(low), X(xIn), Y(high), {})
      );
    });
  });
  return el("g", { class: "studs", fill: "none", ...style }, ...lines);
}

function backingMarkup(scene: Scene): string {
  const { built, house, X, Y, colours, ids } = scene;
  const { wall } = built.cut;
  const span = backingSpan(house);
  if (!span || built.backingCount === 0) return "";
  scene.used.add("backing");
  const { plateIn, bottomPlates, topPlates } = house.settings;
  const sides: readonly Side[] = ["left", "right"];
  const parts = sides
    .filter((side) => (side === "left" ? wall.leftEnd : wall.rightEnd) === "short")
    .flatMap((side) => {
      const [from, to] =
        side === "left" ? span : [wall.lengthIn - span[1], wall.lengthIn - span[0]];
      const low = bottomPlates * plateIn;
      const high = heightAt(wall.top, side === "left" ? 0 : wall.lengthIn) - topPlates * plateIn;
      if (high <= low) return [];
      const at = { x: X(from), y: Y(high), w: X(to) - X(from), h: Y(low) - Y(high) };
      return [
        el(
          "g",
          {},
          textEl("title", {}, `Backing at the ${side} end`),
          hatched(
            at,
            { ids, hatch: "backing", colours },
            { stroke: colours.backing, "stroke-width": 0.8, "stroke-dasharray": "4 2" }
          )
        ),
      ];
    });
  return el("g", { class: "backing" }, ...parts);
}

function tapeMarkup(scene: Scene): string {
  const { built, house, X, Y, colours } = scene;
  const { wall, bottomIn, openings } = built.cut;
  const bands = built.seams.map((seam) =>
    line(X(seam.fromX), Y(seam.fromY), X(seam.toX), Y(seam.toY), {})
  );
  const corners = (["left", "right"] as const)
    .filter((side) => (side === "left" ? wall.leftEnd : wall.rightEnd) !== "free")
    .map((side) => {
      const xIn = side === "left" ? wall.span.startIn : wall.span.endIn;
      const topIn = heightAt(wall.top, xIn);
      const inward = side === "left" ? 2 : -2;
      return topIn > bottomIn
        ? line(X(xIn) + inward, Y(bottomIn), X(xIn) + inward, Y(topIn), {})
        : "";
    });
  const extension = house.settings.extensionIn;
  const round = openings.flatMap((opening) => {
    const { leftIn, rightIn, topIn } = opening;
    const low = opening.bottomIn;
    const startIn = Math.max(leftIn - extension, wall.span.startIn);
    const endIn = Math.min(rightIn + extension, wall.span.endIn);
    return [
      line(X(startIn), Y(topIn) - 2, X(endIn), Y(topIn) - 2, {}),
      line(X(leftIn) - 2, Y(low), X(leftIn) - 2, Y(topIn), {}),
      line(X(rightIn) + 2, Y(low), X(rightIn) + 2, Y(topIn), {}),
      low > bottomIn + TINY_IN ? line(X(startIn), Y(low) + 2, X(endIn), Y(low) + 2, {}) : "",
    ];
  });
  const style = { stroke: colours.tape, "stroke-opacity": 0.75, fill: "none" };
  return (
    el("g", { class: "tape seam-tape", ...style, "stroke-width": 5 }, ...bands) +
    el("g", { class: "tape corner-tape", ...style, "stroke-width": 4 }, ...corners) +
    el("g", { class: "tape opening-tape", ...style, "stroke-width": 3 }, ...round)
  );
}

/** Seams again over the tape: where the saw kerf shows. */
function seamMarkup(scene: Scene): string {
  const { built, X, Y, colours } = scene;
  return el(
    "g",
    { class: "seams", stroke: colours.ink, "stroke-width": 1.3 },
    ...built.seams.map((seam) => line(X(seam.fromX), Y(seam.fromY), X(seam.toX), Y(seam.toY), {}))
  );
}

function openingMarkup(scene: Scene, opening: Opening): string {
  const { built, X, Y, colours, ids } = scene;
  const at = boxRect(scene, opening);
  const drops = built.pieces.flatMap(({ label: name, piece }) =>
    piece.routed
      .filter((routed) => routed.opening === opening.name)
      .map(({ box }) => ({ name, box }))
  );
  if (drops.length > 0) scene.used.add("drop");
  const size = `${inches(opening.rightIn - opening.leftIn)} x ${inches(opening.topIn - opening.bottomIn)}`;
  const inside = { x: at.x + 3, y: at.y + 3, w: at.w - 6, h: at.h - 6 };
  const name = (widest: number): LabelLine => ({
    text: shortened(opening.name, TEXT, widest, true),
    size: TEXT,
    isBold: true,
  });
  const whole = name(Infinity);
  const cut = name(Math.max(inside.w, inside.h) - 8);
  const small = (text: string): LabelLine => ({ text, size: SMALL_TEXT });
  const fitted = fitLabel(
    [inside],
    [
      [whole, small(size), small(`sill ${inches(opening.bottomIn)}`)],
      [whole, small(size)],
      [whole],
      [{ ...whole, size: SMALL_TEXT }],
      [cut, small(size), small(`sill ${inches(opening.bottomIn)}`)],
      [cut, small(size)],
      [cut],
      [{ ...cut, size: SMALL_TEXT }],
    ].filter((lines) => lines[0]?.text !== "")
  );
  return el(
    "g",
    { class: "opening", "data-opening": opening.name },
    textEl(
      "title",
      {},
      `${opening.name}: ${size}, sill ${inches(opening.bottomIn)}, ${feetInches(opening.leftIn)} from the left`
    ),
    rect(at, { fill: colours.paper }),
    ...drops.map(({ name: piece, box }) =>
      el(
        "g",
        { class: "drop", "data-from": piece },
        textEl(
          "title",
          {},
          `Routed out of ${piece}: ${inches(box.rightIn - box.leftIn)} x ${inches(box.topIn - box.bottomIn)} drops out`
        ),
        hatched(
          boxRect(scene, box),
          { ids, hatch: "drop", colours },
          { stroke: colours.faint, "stroke-width": 0.8, "stroke-dasharray": "3 2" }
        )
      )
    ),
    rect(
      { x: X(opening.leftIn), y: Y(opening.topIn), w: at.w, h: at.h },
      { fill: "none", stroke: colours.ink, "stroke-width": 1.8 }
    ),
    fitted ? drawLabel(fitted, colours.ink, colours.paper) : ""
  );
}

function nailMarkup(scene: Scene): string {
  const { built, house, X, Y, scale, colours } = scene;
  const r = Math.max(0.8, Math.min(2, scale * 0.35));
  const points = built.pieces.flatMap(({ piece }) =>
    pieceNails(built.cut, piece, house.settings.studIn)
  );
  return el(
    "g",
    { class: "nails", fill: colours.nail },
    ...points.map(({ xIn, yIn }) => el("circle", { cx: X(xIn), cy: Y(yIn), r }))
  );
}

interface Level {
  readonly yIn: number;
  readonly text: string;
  /** where a seam that does not reach the wall's edge begins */
  readonly fromIn?: number | undefined;
}

/** The heights that are lettered at one side of the wall. */
function levels(scene: Scene, side: Side): Level[] {
  const { built, house } = scene;
  const { wall, bottomIn, hasRips, panelsFromIn, courseSeamsIn } = built.cut;
  const topIn = heightAt(wall.top, side === "left" ? 0 : wall.lengthIn);
  const top = { yIn: topIn, text: feetInches(topIn) };
  if (side === "right") return isLevel(wall.top) ? [] : [top];
  return [
    top,
    ...courseSeamsIn.map((yIn) => ({
      yIn,
      text: `seam ${feetInches(yIn)}`,
      fromIn: spanAbove(wall.top, yIn, wall.span.startIn, wall.span.endIn)?.[0],
    })),
    ...(hasRips && house.settings.blockLineIn !== undefined
      ? [{ yIn: panelsFromIn, text: `block ${inches(panelsFromIn)}` }]
      : []),
    { yIn: 0, text: "deck 0" },
    ...(bottomIn < 0 ? [{ yIn: bottomIn, text: inches(bottomIn) }] : []),
  ];
}

function levelMarkup(scene: Scene, side: Side): string {
  const { X, Y, leftX, rightX, colours } = scene;
  const list = levels(scene, side).sort((a, b) => b.yIn - a.yIn);
  if (list.length === 0) return "";
  const centres = list.map((each) => Y(each.yIn));
  const low = Math.min(...centres) - 40;
  const places = pushApart(centres, SMALL_TEXT * 1.25, low, Math.max(...centres) + 40);
  const sign = side === "left" ? -1 : 1;
  const edge = side === "left" ? leftX : rightX;
  return el(
    "g",
    { class: "levels", stroke: "none" },
    ...list.map((each, index) => {
      const y = places[index] as number;
      const at = centres[index] as number;
      return (
        el("path", {
          d: `M${num(edge + sign * 1)} ${num(at)}L${num(edge + sign * 5)} ${num(at)}L${num(edge + sign * 9)} ${num(y)}`,
          fill: "none",
          stroke: colours.muted,
          "stroke-width": 0.8,
        }) +
        (each.fromIn !== undefined && X(each.fromIn) - edge > 4
          ? line(edge, at, X(each.fromIn), at, {
              stroke: colours.faint,
              "stroke-width": 0.8,
              "stroke-dasharray": "1.5 3",
            })
          : "") +
        label(edge + sign * 11, y, each.text, {
          size: SMALL_TEXT,
          anchor: side === "left" ? "end" : "start",
          fill: colours.muted,
        })
      );
    })
  );
}

/** Room at one side for the widest level text. */
function levelRoom(texts: readonly string[]): number {
  return texts.length === 0
    ? EDGE
    : Math.max(...texts.map((text) => textWidth(text, SMALL_TEXT))) + 11 + EDGE;
}

function deckMarkup(scene: Scene): string {
  const { built, X, Y, colours } = scene;
  const { span } = built.cut.wall;
  return line(X(span.startIn), Y(0), X(span.endIn), Y(0), {
    class: "deck",
    stroke: colours.muted,
    "stroke-width": 1,
    "stroke-dasharray": "10 3 2 3",
  });
}

interface Band {
  readonly markup: string;
  /** first free y under it */
  readonly bottom: number;
}

/** The burn: a flag at the framing corner and an arrow the way the tape runs. */
function burnBand(scene: Scene, y: number): Band {
  const { built, X, colours, leftX, rightX } = scene;
  const { wall } = built.cut;
  const burn = burnOf(wall);
  const cornerX = X(burn.side === "left" ? 0 : wall.lengthIn);
  const sign = burn.side === "left" ? 1 : -1;
  const mid = y + 12;
  const text = `${burn.short}`;
  const shaft = Math.min(34, (rightX - leftX) / 3);
  const tipX = cornerX + sign * shaft;
  const textX = tipX + sign * 6;
  const wide = textWidth(text, TEXT, true);
  return {
    markup: el(
      "g",
      { class: "burn", "data-side": burn.side },
      textEl("title", {}, burn.words),
      rect(
        { x: sign > 0 ? textX - 3 : textX - wide - 3, y: mid - 8, w: wide + 6, h: 16 },
        { fill: colours.paper }
      ),
      line(cornerX, y, cornerX, y + 24, { stroke: colours.accent, "stroke-width": 1.6 }),
      line(cornerX, mid, tipX - sign * 6, mid, { stroke: colours.accent, "stroke-width": 2 }),
      el("path", {
        d: polygonPath([
          [tipX, mid],
          [tipX - sign * 9, mid - 4.5],
          [tipX - sign * 9, mid + 4.5],
        ]),
        fill: colours.accent,
      }),
      label(textX, mid, text, {
        size: TEXT,
        anchor: sign > 0 ? "start" : "end",
        isBold: true,
        fill: colours.accent,
      })
    ),
    bottom: y + 26,
  };
}

interface Lettered {
  readonly x: number;
  readonly text: string;
  readonly isBreak: boolean;
}

/** The marks that get a reading: all where there is room, else the breaks, else some of them. */
function letteredMarks(scene: Scene, step: number): { list: Lettered[]; isThinned: boolean } {
  const { built, house, X, scale } = scene;
  const table = marksOf(house, built.cut.wall);
  const rows = [...table.rows].sort((a, b) => a.mark - b.mark);
  const all = built.cut.studs.map((stud, index) => ({
    x: X(stud.centerIn),
    text: rows[index]?.tape ?? "",
    isBreak: stud.breaksHere,
    isEnd: stud.isEndStud,
  }));
  const spacing = built.cut.wall.spacingIn * scale;
  const isThinned = spacing < step;
  const breakStride = Math.max(1, Math.ceil(step / (house.settings.panelWidthIn * scale)));
  let breaks = 0;
  const wanted = all.filter((mark) => {
    if (mark.isEnd) return true;
    if (mark.isBreak) return breaks++ % breakStride === 0;
    return !isThinned;
  });
  // an end stud too close to its neighbour goes without: the list has it
  const list = wanted.filter((mark) => {
    if (!mark.isEnd) return true;
    return !wanted.some(
      (other) => other !== mark && !other.isEnd && Math.abs(other.x - mark.x) < step / 2
    );
  });
  return { list, isThinned };
}

function marksBand(scene: Scene, y: number): Band {
  const { built, X, Y, colours, leftX, rightX, width } = scene;
  const { studs, bottomIn } = built.cut;
  const marks = letteredMarks(scene, SMALL_TEXT * 1.3);
  const widest = Math.max(
    ...marks.list.map((mark) => textWidth(mark.text, SMALL_TEXT, mark.isBreak))
  );
  const spacing = built.cut.wall.spacingIn * scene.scale;
  const isUpright = !marks.isThinned && spacing >= widest + 8;
  const step = isUpright ? widest + 6 : SMALL_TEXT * 1.3;
  const low = isUpright ? Math.min(leftX, EDGE + widest / 2) : EDGE + SMALL_TEXT / 2;
  const high = width - low;
  // an upright row has room for common studs, but hardly ever for an end stud beside one
  const list = isUpright
    ? marks.list.filter(
        (mark, index) =>
          !marks.list.some(
            (other, at) => at !== index && Math.abs(other.x - mark.x) < step * 0.6 && at < index
          )
      )
    : marks.list;
  const places = pushApart(
    list.map((mark) => mark.x),
    step,
    low,
    high
  );
  const textY = y + (scene.options.compact ? 17 : 20);
  const ticks = studs.map((stud) =>
    line(X(stud.centerIn), Y(bottomIn) + 1, X(stud.centerIn), y + (stud.breaksHere ? 9 : 6), {
      stroke: stud.breaksHere ? colours.ink : colours.faint,
      "stroke-width": stud.breaksHere ? 1.6 : 0.8,
    })
  );
  const texts = list.map((mark, index) => {
    const x = places[index] as number;
    const leader = el("path", {
      d: `M${num(mark.x)} ${num(y + 6)}L${num(mark.x)} ${num(y + 9)}L${num(x)} ${num(textY - 4)}`,
      fill: "none",
      stroke: mark.isBreak ? colours.ink : colours.faint,
      "stroke-width": mark.isBreak ? 1.2 : 0.7,
    });
    const style = { size: SMALL_TEXT, isBold: mark.isBreak };
    return (
      leader +
      (isUpright
        ? label(x, textY + 4, mark.text, style)
        : label(x, textY, mark.text, { ...style, anchor: "end", isTurned: true }))
    );
  });
  const end = textY + (isUpright ? 12 : widest + 4);
  const isShort = list.length < studs.length;
  return {
    markup: el(
      "g",
      { class: "marks" },
      line(leftX, y, rightX, y, { stroke: colours.muted, "stroke-width": 0.8 }),
      ...ticks,
      ...texts,
      isShort
        ? label(
            width / 2,
            end + 6,
            shortened(
              marks.isThinned
                ? "Readings at panel breaks; every mark is in the list of marks."
                : "Every mark is in the list of marks.",
              SMALL_TEXT,
              width - 2 * EDGE
            ),
            { size: SMALL_TEXT, fill: colours.muted }
          )
        : ""
    ),
    bottom: end + (isShort ? 16 : 4),
  };
}

function dimensionBand(scene: Scene, y: number): Band {
  const { built, X, colours } = scene;
  const { wall } = built.cut;
  const step = scene.options.compact ? 14 : 17;
  const rows = [
    { from: 0, to: wall.lengthIn, text: `framing ${feetInches(wall.lengthIn)}` },
    { from: wall.span.startIn, to: wall.span.endIn, text: `panels ${feetInches(wall.span.runIn)}` },
  ];
  const markup = rows.map((each, index) => {
    const at = y + 9 + index * step;
    const [a, b] = [X(each.from), X(each.to)];
    const wide = textWidth(each.text, SMALL_TEXT) + 8;
    const style = { stroke: colours.muted, "stroke-width": 0.9 };
    const hasRoom = b - a > wide + 16;
    const middle = (a + b) / 2;
    const tick = (x: number): string =>
      line(x - 3, at + 4, x + 3, at - 4, { ...style, "stroke-width": 1.4 });
    return [
      hasRoom
        ? line(a, at, middle - wide / 2, at, style) + line(middle + wide / 2, at, b, at, style)
        : line(a, at, b, at, style),
      tick(a),
      tick(b),
      hasRoom
        ? label(middle, at, each.text, { size: SMALL_TEXT })
        : label(Math.min(b + 8, scene.width - EDGE - wide), at, each.text, {
            size: SMALL_TEXT,
            anchor: "start",
          }),
    ].join("");
  });
  return { markup: el("g", { class: "dimensions" }, ...markup), bottom: y + 9 + step * 2 };
}

interface Key {
  readonly text: string;
  readonly swatch: (x: number, y: number) => string;
}

function legendKeys(scene: Scene): Key[] {
  const { colours, ids, options, built, used } = scene;
  const stroke = (name: string, style: Record<string, string | number>): Key => ({
    text: name,
    swatch: (x, y) => line(x, y, x + 22, y, style),
  });
  const swatch = (name: string, hatch: Hatch, colour: string): Key => ({
    text: name,
    swatch: (x, y) =>
      hatched(
        { x, y: y - 6, w: 22, h: 12 },
        { ids, hatch, colours },
        { stroke: colour, "stroke-width": 0.8 }
      ),
  });
  return [
    ...(options.tape === false
      ? []
      : [
          {
            text: "tape",
            swatch: (x: number, y: number): string =>
              line(x, y, x + 22, y, {
                stroke: colours.tape,
                "stroke-opacity": 0.75,
                "stroke-width": 5,
              }) + line(x, y, x + 22, y, { stroke: colours.ink, "stroke-width": 1.3 }),
          },
        ]),
    ...(options.studs === false
      ? []
      : [
          stroke("stud", {
            stroke: colours.faint,
            "stroke-width": 1,
            "stroke-dasharray": "5 3",
          }),
        ]),
    stroke("deck", { stroke: colours.muted, "stroke-width": 1, "stroke-dasharray": "10 3 2 3" }),
    ...(built.pieces.some((each) => each.piece.kind === "rip")
      ? [
          {
            text: "rip",
            swatch: (x: number, y: number): string =>
              rect(
                { x, y: y - 6, w: 22, h: 12 },
                { fill: colours.rip, stroke: colours.ink, "stroke-width": 1 }
              ),
          },
        ]
      : []),
    ...(used.has("drop") ? [swatch("routed out", "drop", colours.faint)] : []),
    ...(used.has("backing") ? [swatch("backing", "backing", colours.backing)] : []),
    ...(options.nails
      ? [
          {
            text: "nail",
            swatch: (x: number, y: number): string =>
              el("circle", { cx: x + 11, cy: y, r: 2, fill: colours.nail }),
          },
        ]
      : []),
    ...(options.corners === false
      ? []
      : [
          ...(used.has("foam") ? [swatch("foam", "foam", colours.ink)] : []),
          swatch("wood panel", "wood", colours.ink),
          swatch("framing", "framing", colours.framing),
        ]),
  ];
}

/** Swatches in rows, in the room from left to right. */
function legendBand(scene: Scene, y: number, left: number, right: number): Band {
  const { colours } = scene;
  const step = 17;
  let x = left;
  let row = 0;
  const parts = legendKeys(scene).map((key) => {
    const wide = 22 + 5 + textWidth(key.text, SMALL_TEXT) + 14;
    if (x + wide > right + 14 && x > left) {
      x = left;
      row++;
    }
    const at = y + 9 + row * step;
    const markup =
      key.swatch(x, at) +
      label(x + 27, at, key.text, { size: SMALL_TEXT, anchor: "start", fill: colours.muted });
    x += wide;
    return markup;
  });
  return { markup: el("g", { class: "legend" }, ...parts), bottom: y + 9 + (row + 1) * step };
}

/** Width of one corner's plan with its words. */
function cornerWidth(width: number): number {
  return Math.min(240, (width - 2 * EDGE - 16) / 2);
}

function cornersBand(scene: Scene, y: number): Band {
  const { house, built, width, ids, colours, used } = scene;
  const w = cornerWidth(width);
  const wordsBeside = scene.options.compact ?? false;
  const pictureHeight = wordsBeside ? COMPACT_PLAN_HEIGHT : PLAN_HEIGHT;
  const common = { y, w, pictureHeight, wordsBeside, ids, colours };
  const left = cornerPlan(house, built.cut.wall, "left", { ...common, x: EDGE });
  const right = cornerPlan(house, built.cut.wall, "right", { ...common, x: width - EDGE - w });
  if (hasFoam(house.settings)) used.add("foam");
  for (const hatch of ["wood", "framing"] as const) used.add(hatch);
  if (left.hasBacking || right.hasBacking) used.add("backing");
  return {
    markup: left.markup + right.markup,
    bottom: y + Math.max(left.height, right.height),
  };
}

/** What a screen reader says of the wall. */
function describe(scene: Scene): string {
  const { built, places } = scene;
  const { wall, openings } = built.cut;
  const pieces = built.pieces
    .slice(0, MOST_DESCRIBED)
    .map((each) => {
      const place = places.get(each.planId);
      return `${each.label} ${pieceSize(each, place)}${place ? ` from ${sheetText(place.sheetName)}` : ""}`;
    })
    .join("; ");
  const more = built.pieces.length - MOST_DESCRIBED;
  return [
    `Framing ${feetInches(wall.lengthIn)}, panels ${feetInches(wall.span.runIn)}.`,
    `Left end ${wall.leftEnd}, right end ${wall.rightEnd}.`,
    burnOf(wall).words,
    openings.length > 0 ? `Openings: ${openings.map((each) => each.name).join(", ")}.` : "",
    `Pieces: ${pieces}${more > 0 ? `; and ${more} more` : ""}.`,
  ]
    .filter(Boolean)
    .join(" ");
}

function peakMarkup(scene: Scene): string {
  const { built, X, Y, colours, width } = scene;
  const peak = wallPeak(built.cut.wall);
  if (!peak) return "";
  const text = `peak ${feetInches(peak.heightIn)} at ${feetInches(peak.xIn)}`;
  const half = textWidth(text, SMALL_TEXT) / 2;
  const x = Math.max(EDGE + half, Math.min(X(peak.xIn), width - EDGE - half));
  return label(x, Y(peak.heightIn) - 10, text, { size: SMALL_TEXT, fill: colours.muted });
}

/**
 * Draws a wall from outside.
 *
 * @param house    the takeoff
 * @param wallName its name, case and spaces ignored
 * @returns one svg element as text; every piece is a `g` with `data-piece`, `data-size`, `data-panel`
 *   and a title
 * @throws {CalcError} out-of-range, wrong-kind: no such wall, or an option outside its limits
 */
export function wallDrawing(
  house: HouseTakeoff,
  wallName: Cell,
  options: WallDrawingOptions = {}
): string {
  return drawBuiltWall(house, builtWall(house, wallName, options.copy), options);
}

/** The same of a wall already found. */
export function drawBuiltWall(
  house: HouseTakeoff,
  built: WallTakeoff,
  options: WallDrawingOptions
): string {
  const width = checkNumber("width", options.width ?? USUAL_WIDTH, WIDTH_LIMITS);
  const colours = palette(checkChoice("theme", options.theme ?? "page", THEMES));
  const ids = safeId(options.ids ?? "wall");
  const { wall, bottomIn } = built.cut;
  const { span, top } = wall;

  const lowX = Math.min(0, span.startIn);
  const highX = Math.max(wall.lengthIn, span.endIn);
  const topIn = Math.max(
    ...top.map((point) => point.heightIn),
    heightAt(top, span.startIn),
    heightAt(top, span.endIn)
  );
  const room = {
    house,
    built,
    colours,
    ids,
    width,
    options,
    places: piecePlaces(house),
    used: new Set<Hatch>(),
  };
  const sideRoom = (side: Side): number =>
    levelRoom(
      levels({ ...room, scale: 1, X: Number, Y: Number, leftX: 0, rightX: 0 }, side).map(
        (each) => each.text
      )
    );
  const leftRoom = sideRoom("left");
  const rightRoom = Math.max(EDGE, sideRoom("right"));
  const mostHeight = checkNumber(
    "wall height",
    options.wallHeight ?? Math.max(LEAST_WALL_HEIGHT, width * USUAL_HEIGHT_SHARE),
    { min: 60, max: 6000, unit: "px" }
  );
  const scale = Math.min(
    (width - leftRoom - rightRoom) / (highX - lowX),
    mostHeight / (topIn - bottomIn),
    LARGEST_SCALE
  );
  const wallWidth = (highX - lowX) * scale;
  const leftX = leftRoom + (width - leftRoom - rightRoom - wallWidth) / 2;
  const titleY = 12;
  const topY = (options.compact ? 8 : 30) + (wallPeak(wall) ? 14 : 0);
  const scene: Scene = {
    ...room,
    scale,
    leftX,
    rightX: leftX + wallWidth,
    X: (xIn) => leftX + (xIn - lowX) * scale,
    Y: (yIn) => topY + (topIn - yIn) * scale,
  };

  const elevation = [
    el("g", { class: "pieces" }, ...built.pieces.map((each) => pieceMarkup(scene, each))),
    ...built.cut.openings.map((opening) => openingMarkup(scene, opening)),
    options.tape === false ? "" : tapeMarkup(scene),
    seamMarkup(scene),
    options.studs === false ? "" : studMarkup(scene),
    backingMarkup(scene),
    deckMarkup(scene),
    options.nails ? nailMarkup(scene) : "",
    el(
      "g",
      { class: "piece-labels", "pointer-events": "none" },
      ...built.pieces.map((each) => pieceLabel(scene, each))
    ),
    levelMarkup(scene, "left"),
    levelMarkup(scene, "right"),
    peakMarkup(scene),
  ];

  let y = scene.Y(bottomIn) + 4;
  const bands: string[] = [];
  const add = (band: Band): void => {
    bands.push(band.markup);
    y = band.bottom;
  };
  if (options.marks !== false) {
    const burn = burnBand(scene, y);
    // ticks first, so that the words of the burn stay clear
    const marks = marksBand(scene, burn.bottom);
    bands.push(marks.markup, burn.markup);
    y = marks.bottom;
  }
  add(dimensionBand(scene, y));
  const underY = y + (options.compact ? 3 : 10);
  if (options.corners !== false) add(cornersBand(scene, underY));
  if (options.legend !== false) {
    // between the corners where there is room, else under everything
    const left = EDGE + cornerWidth(width) + LEGEND_GAP;
    const isBetween = options.corners !== false && width - 2 * left >= LEAST_LEGEND;
    const below = y;
    add(
      isBetween
        ? legendBand(scene, underY, left, width - left)
        : legendBand(scene, y + 4, EDGE, width - EDGE)
    );
    y = Math.max(y, below);
  }

  const name = copyName(built);
  const title = `Wall ${name} from outside, ${feetInches(wall.lengthIn)} long, ${feetInches(topIn)} high`;
  return svgDocument(
    {
      width,
      height: y + EDGE,
      ids,
      title,
      description: describe(scene),
      className: "wall-drawing",
      colours,
      hatches: [...scene.used],
    },
    options.compact
      ? ""
      : label(EDGE, titleY, shortened(`${name}, from outside`, NAME_TEXT, width - 2 * EDGE, true), {
          size: NAME_TEXT,
          anchor: "start",
          isBold: true,
        }),
    el(
      "g",
      { class: "elevation", "data-left": num(scene.X(0)), "data-scale": scale.toFixed(5) },
      ...elevation
    ),
    ...bands
  );
}
