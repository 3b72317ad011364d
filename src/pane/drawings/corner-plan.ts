/**
 * One end of a wall from above: framing, foam and wood of this wall and of the wall it meets, drawn
 * with their true thicknesses, so that it shows where each panel ends. Outside is at the bottom.
 */
import { type Side, type WallEnd, endReach } from "../../core/corners.js";
import { backingAtCorner } from "../../core/backing.js";
import type { HouseTakeoff } from "../../core/house/takeoff.js";
import type { Wall } from "../../core/house/walls.js";
import { endSentence, neighbour, thicknessText } from "./house-view.js";
import { type Rect, el, label, line, rect, shortened, textWidth, wrapped } from "./svg.js";
import { type Palette, hatched } from "./theme.js";

export const CORNER_TEXT_SIZE = 10;
const HEADING_SIZE = 11;
const LINE_STEP = 12.5;
const HEADING_ROOM = 20;
const DIMENSION_ROOM = 18;

/** What lies beyond the corner, in from it, that is still drawn. */
const BEYOND_IN = 2.5;
const WALL_SHOWN_IN = 6;

/** Share of the width the picture takes where the words stand beside it. */
const PICTURE_SHARE = 0.52;

export interface CornerPlan {
  readonly markup: string;
  readonly height: number;
  readonly hasBacking: boolean;
}

interface Region {
  readonly uMin: number;
  readonly uMax: number;
  readonly wMin: number;
  readonly wMax: number;
}

type CornerKind = "outside" | "inside" | "none";

function cornerKind(end: WallEnd): CornerKind {
  if (end === "free") return "none";
  return end === "past" || end === "flush" ? "outside" : "inside";
}

/** Backing members at a corner: from, to along the wall, and how deep they stand. */
function backingMembers(house: HouseTakeoff): { fromIn: number; toIn: number; deepIn: number }[] {
  const { settings } = house;
  const { studIn, studDepthIn } = settings;
  const count = backingAtCorner(settings.thicknessIn, settings.backing, settings.nailingIn, studIn);
  if (settings.backing === "stud" || count === 0) {
    return Array.from({ length: count }, (_, index) => ({
      fromIn: studIn * (index + 1),
      toIn: studIn * (index + 2),
      deepIn: studDepthIn,
    }));
  }
  // a member of the wall's depth on either side of one laid flat behind the panel: the cavity is open to the room
  const flat = { fromIn: 2 * studIn, toIn: 2 * studIn + studDepthIn, deepIn: studIn };
  return [
    { fromIn: studIn, toIn: flat.fromIn, deepIn: studDepthIn },
    flat,
    { fromIn: flat.toIn, toIn: flat.toIn + studIn, deepIn: studDepthIn },
  ];
}

/** Where the backing of an end that stops short stands on the wall, from its framing corner, in. */
export function backingSpan(house: HouseTakeoff): readonly [number, number] | undefined {
  const members = backingMembers(house);
  const first = members[0];
  const last = members.at(-1);
  return first && last ? [first.fromIn, last.toIn] : undefined;
}

function regionOf(kind: CornerKind, house: HouseTakeoff, hasBacking: boolean): Region {
  const { thicknessIn, studDepthIn } = house.settings;
  const backedIn = hasBacking ? (backingSpan(house)?.[1] ?? 0) : 0;
  if (kind === "inside") {
    return {
      uMin: -studDepthIn - 0.5,
      uMax: Math.max(thicknessIn + WALL_SHOWN_IN, backedIn + BEYOND_IN),
      wMin: -studDepthIn - 0.5,
      wMax: thicknessIn + WALL_SHOWN_IN,
    };
  }
  return {
    uMin: kind === "outside" ? -thicknessIn - BEYOND_IN : -BEYOND_IN,
    uMax: studDepthIn + WALL_SHOWN_IN,
    wMin: kind === "outside" ? -studDepthIn - WALL_SHOWN_IN + 1 : -studDepthIn - 0.5,
    wMax: thicknessIn + 1,
  };
}

export interface CornerPlanOptions {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  /** height of the picture, without heading and words */
  readonly pictureHeight: number;
  /** words beside the picture instead of under it */
  readonly wordsBeside: boolean;
  readonly ids: string;
  readonly colours: Palette;
}

/** Draws one end of a wall in plan with its heading and its sentence. */
export function cornerPlan(
  house: HouseTakeoff,
  wall: Wall,
  side: Side,
  options: CornerPlanOptions
): CornerPlan {
  const { x, y, w, pictureHeight, wordsBeside, ids, colours } = options;
  const { thicknessIn: t, foamIn, studIn, studDepthIn: depth, tapeLapIn: lap } = house.settings;
  const end = side === "left" ? wall.leftEnd : wall.rightEnd;
  const kind = cornerKind(end);
  const other = neighbour(house, wall, side);
  const members = end === "short" ? backingMembers(house) : [];
  const region = regionOf(kind, house, members.length > 0);
  const scale = Math.min(
    (wordsBeside ? w * PICTURE_SHARE : w) / (region.uMax - region.uMin),
    pictureHeight / (region.wMax - region.wMin)
  );
  const pictureWidth = scale * (region.uMax - region.uMin);
  const x0 = side === "left" ? x : x + w - pictureWidth;
  const y0 = y + HEADING_ROOM;
  const X = (u: number): number =>
    side === "left" ? x0 + (u - region.uMin) * scale : x0 + (region.uMax - u) * scale;
  const Y = (v: number): number => y0 + (v - region.wMin) * scale;
  const box = (u1: number, v1: number, u2: number, v2: number): Rect => ({
    x: Math.min(X(u1), X(u2)),
    y: Math.min(Y(v1), Y(v2)),
    w: Math.abs(u2 - u1) * scale,
    h: Math.abs(v2 - v1) * scale,
  });

  const frame = framing();
  const parts: string[] = [
    hatched(
      frame.map(([u, v]) => [X(u), Y(v)] as const),
      { ids, hatch: "framing", colours },
      { stroke: colours.framing, "stroke-width": 0.8 }
    ),
    stud({ fromIn: 0, toIn: studIn, deepIn: depth }, false),
    ...members.map((member) => stud(member, true)),
    ...(kind === "none" ? [] : [otherPanel()]),
    ownPanel(),
    ...tape(),
    ...dimension(),
    el("circle", { cx: X(0), cy: Y(0), r: 2.6, fill: colours.accent }),
    ...names(),
  ];

  /** The plates of both walls; which of them runs through the corner is the framer's choice. */
  function framing(): (readonly [number, number])[] {
    const { uMax, wMin, wMax } = region;
    if (kind === "outside") {
      return [
        [0, 0],
        [uMax, 0],
        [uMax, -depth],
        [depth, -depth],
        [depth, wMin],
        [0, wMin],
      ];
    }
    if (kind === "inside") {
      return [
        [0, 0],
        [uMax, 0],
        [uMax, -depth],
        [-depth, -depth],
        [-depth, wMax],
        [0, wMax],
      ];
    }
    return [
      [0, 0],
      [uMax, 0],
      [uMax, -depth],
      [0, -depth],
    ];
  }

  function stud(
    member: { fromIn: number; toIn: number; deepIn: number },
    isBacking: boolean
  ): string {
    const at = box(member.fromIn, -member.deepIn, member.toIn, 0);
    const stroke = { stroke: isBacking ? colours.backing : colours.framing, "stroke-width": 1 };
    return [
      rect(at, { fill: colours.paper, ...stroke }),
      isBacking ? hatched(at, { ids, hatch: "backing", colours }) : "",
      line(at.x, at.y, at.x + at.w, at.y + at.h, stroke),
      line(at.x, at.y + at.h, at.x + at.w, at.y, stroke),
    ].join("");
  }

  function layer(at: Rect, hatch: "foam" | "wood", weight: number): string {
    // plain sheathing has no foam
    if (at.w === 0 || at.h === 0) return "";
    return (
      rect(at, { fill: colours.paper }) +
      hatched(at, { ids, hatch, colours }, { stroke: colours.ink, "stroke-width": weight })
    );
  }

  function ownPanel(): string {
    const from = -endReach(end, t);
    return el(
      "g",
      { class: "own-panel" },
      layer(box(from, 0, region.uMax, foamIn), "foam", 1.2),
      layer(box(from, foamIn, region.uMax, t), "wood", 1.2)
    );
  }

  function otherPanel(): string {
    if (kind === "outside") {
      const to = end === "past" ? 0 : t;
      return el(
        "g",
        { class: "other-panel" },
        layer(box(-foamIn, region.wMin, 0, to), "foam", 0.7),
        layer(box(-t, region.wMin, -foamIn, to), "wood", 0.7)
      );
    }
    const from = end === "tight" ? t : 0;
    return el(
      "g",
      { class: "other-panel" },
      layer(box(0, from, foamIn, region.wMax), "foam", 0.7),
      layer(box(foamIn, from, t, region.wMax), "wood", 0.7)
    );
  }

  /** Tape on the wood faces, as far from the corner as it has to lap. */
  function tape(): string[] {
    if (kind === "none") return [];
    const out = 1.6 / scale;
    const path: (readonly [number, number])[] =
      kind === "outside"
        ? [
            [-t - out, end === "past" ? -lap : t - lap],
            [-t - out, t + out],
            [(end === "past" ? -t : 0) + lap, t + out],
          ]
        : [
            [t + lap, t + out],
            [t + out, t + out],
            [t + out, t + lap],
          ];
    return [
      el("path", {
        d: `M${path.map(([u, v]) => `${X(u).toFixed(2)} ${Y(v).toFixed(2)}`).join("L")}`,
        fill: "none",
        stroke: colours.tape,
        "stroke-width": 3.2,
        class: "tape",
      }),
    ];
  }

  function dimension(): string[] {
    const reach = endReach(end, t);
    if (reach === 0) return [];
    const yd = Y(region.wMax) + 7;
    const [a, b] = [X(0), X(-reach)];
    const text = thicknessText(Math.abs(reach));
    const style = { stroke: colours.accent, "stroke-width": 0.9 };
    const wide = textWidth(text, CORNER_TEXT_SIZE, true);
    // beside the dimension, on the side with more room
    const isRoomRight = x0 + pictureWidth - Math.max(a, b) > wide + 8;
    return [
      line(a, Y(0), a, yd + 4, { ...style, "stroke-dasharray": "3 2" }),
      line(b, Y(reach > 0 ? t : 0), b, yd + 4, { ...style, "stroke-dasharray": "3 2" }),
      line(a, yd, b, yd, { ...style, "stroke-width": 1.6 }),
      label(isRoomRight ? Math.max(a, b) + 5 : Math.min(a, b) - 5, yd, text, {
        size: CORNER_TEXT_SIZE,
        anchor: isRoomRight ? "start" : "end",
        isBold: true,
        fill: colours.accent,
      }),
    ];
  }

  /** Names of both walls, inside their framing. */
  function names(): string[] {
    const used = Math.max(studIn, ...members.map((member) => member.toIn));
    const nameBox = (at: Rect, text: string): string => {
      const most = Math.max(1, Math.min(3, Math.floor((at.h - 4) / LINE_STEP)));
      const lines = wrapped(text, CORNER_TEXT_SIZE, at.w - 2).slice(0, most);
      if (lines.length === 0 || at.h < CORNER_TEXT_SIZE + 4) return "";
      const wide = Math.max(...lines.map((each) => textWidth(each, CORNER_TEXT_SIZE))) + 4;
      const high = lines.length * LINE_STEP;
      const middle = { x: at.x + at.w / 2, y: at.y + at.h / 2 };
      return (
        rect(
          { x: middle.x - wide / 2, y: middle.y - high / 2, w: wide, h: high },
          { fill: colours.paper, "fill-opacity": 0.9 }
        ) +
        lines
          .map((each, index) =>
            label(middle.x, middle.y - high / 2 + (index + 0.5) * LINE_STEP, each, {
              size: CORNER_TEXT_SIZE,
              fill: colours.muted,
            })
          )
          .join("")
      );
    };
    const own = nameBox(box(used, -depth, region.uMax, 0), wall.name);
    if (kind === "none") return [own];
    const theirs =
      kind === "outside" ? box(0, region.wMin, depth, -depth) : box(-depth, 0, 0, region.wMax);
    return [own, nameBox(theirs, other?.name ?? "next wall")];
  }

  const heading = `${side === "left" ? "Left" : "Right"} end from above: ${end}`;
  const sentence = `This wall's panel ${endSentence(end, t, other?.name ?? "the next wall")}.`;
  const wordsWidth = wordsBeside ? w - pictureWidth - 10 : w;
  const lines = [
    ...wrapped(sentence, CORNER_TEXT_SIZE, wordsWidth),
    ...(members.length === 0
      ? []
      : wrapped(
          `Backing: ${members.length === 1 ? "1 stud" : house.settings.backing === "channel" ? "channel of 3" : `${members.length} studs`}.`,
          CORNER_TEXT_SIZE,
          wordsWidth
        )),
  ];
  const inset = wordsBeside ? pictureWidth + 10 : 0;
  const textX = side === "left" ? x + inset : x + w - inset;
  const headingX = side === "left" ? x : x + w;
  const anchor = side === "left" ? "start" : "end";
  const pictureBottom = Y(region.wMax) + (endReach(end, t) === 0 ? 6 : DIMENSION_ROOM);
  const textTop = (wordsBeside ? y0 + 4 : pictureBottom) + CORNER_TEXT_SIZE / 2;
  const textBottom = textTop + lines.length * LINE_STEP;
  return {
    markup: el(
      "g",
      { class: "corner-plan", "data-side": side, "data-end": end },
      label(headingX, y + 7, shortened(heading, HEADING_SIZE, w, true), {
        size: HEADING_SIZE,
        anchor,
        isBold: true,
      }),
      ...parts,
      ...lines.map((text, index) =>
        label(textX, textTop + index * LINE_STEP, text, {
          size: CORNER_TEXT_SIZE,
          anchor,
          fill: colours.muted,
        })
      )
    ),
    height: Math.max(textBottom, pictureBottom) - y,
    hasBacking: members.length > 0,
  };
}
