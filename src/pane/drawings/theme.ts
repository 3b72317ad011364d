/** Colours, hatches and line weights of the drawings: our own, neutral, and clear in black and white. */
import { type Shape, type Stroke, hatchLines, shapeEl } from "./hatch-lines.js";
import { type Attributes, type Rect, el, rect, textEl } from "./svg.js";

/**
 * - `page`: colours are CSS custom properties (`--drawing-ink` and so on) that the page sets; light without them
 * - `light`, `dark`: fixed colours, for a file that stands alone
 * - `print`: black, white and greys
 */
export type Theme = "page" | "light" | "dark" | "print";
export const THEMES: readonly Theme[] = ["page", "light", "dark", "print"];

/** What a colour is for. */
const LIGHT = {
  /** outlines and main text */
  ink: "#23272b",
  /** second text, dimension lines */
  muted: "#565d63",
  /** studs, ticks, grid */
  faint: "#8b9197",
  paper: "#ffffff",
  panel: "#f3efe7",
  rip: "#e4dccd",
  tape: "#7f8fa1",
  /** the burn, the saw: what the hand does first */
  accent: "#96401f",
  backing: "#5b4a7d",
  foam: "#b58b2a",
  wood: "#6d5236",
  framing: "#7b7f84",
  nail: "#23272b",
  keep: "#3f6b57",
  waste: "#9aa0a5",
} as const;

export type Colour = keyof typeof LIGHT;
export type Palette = Readonly<Record<Colour, string>>;

const DARK: Palette = {
  ink: "#eceae5",
  muted: "#b6bbc0",
  faint: "#7d848b",
  paper: "#1b1e21",
  panel: "#2b2f33",
  rip: "#3a3831",
  tape: "#8397ad",
  accent: "#f0a07c",
  backing: "#b9a6e2",
  foam: "#d8b45c",
  wood: "#c39a6b",
  framing: "#969ba1",
  nail: "#eceae5",
  keep: "#86c2a5",
  waste: "#6f767d",
};

const PRINT: Palette = {
  ink: "#000000",
  muted: "#333333",
  faint: "#777777",
  paper: "#ffffff",
  panel: "#ffffff",
  rip: "#eeeeee",
  tape: "#aaaaaa",
  accent: "#000000",
  backing: "#000000",
  foam: "#555555",
  wood: "#000000",
  framing: "#666666",
  nail: "#000000",
  keep: "#000000",
  waste: "#999999",
};

const FIXED = { light: LIGHT, dark: DARK, print: PRINT } as const;

const NAMES = Object.keys(LIGHT) as Colour[];

/** Colours of a theme, as they go into attributes. */
export function palette(theme: Theme): Palette {
  if (theme !== "page") return FIXED[theme];
  return Object.fromEntries(
    NAMES.map((name) => [name, `var(--drawing-${name}, ${LIGHT[name]})`])
  ) as Record<Colour, string>;
}

/** Declarations for the page's own style sheet: `--drawing-ink: #…;` and the rest. */
export function drawingVariables(theme: "light" | "dark" | "print"): string {
  return NAMES.map((name) => `--drawing-${name}: ${FIXED[theme][name]};`).join(" ");
}

export const FONT = "system-ui, 'DejaVu Sans', Arial, sans-serif";

export type Hatch = "drop" | "backing" | "foam" | "wood" | "framing" | "keep" | "waste";

/** Each hatch differs in direction and pace, so that no two are told apart by colour alone. */
const HATCHES: Readonly<
  Record<Hatch, { size: number; strokes: readonly Stroke[]; weight: number; colour: Colour }>
> = {
  drop: { size: 9, strokes: [[0, 9, 9, 0]], weight: 0.6, colour: "faint" },
  backing: { size: 5, strokes: [[0, 0, 5, 5]], weight: 1.1, colour: "backing" },
  foam: {
    size: 7,
    strokes: [
      [0, 0, 7, 7],
      [0, 7, 7, 0],
    ],
    weight: 0.7,
    colour: "foam",
  },
  wood: { size: 3, strokes: [[0, 1.5, 3, 1.5]], weight: 1.6, colour: "wood" },
  framing: {
    size: 6,
    strokes: [
      [1, 1.5, 2.2, 1.5],
      [4, 4.5, 5.2, 4.5],
    ],
    weight: 1.2,
    colour: "framing",
  },
  keep: { size: 12, strokes: [[0, 6, 12, 6]], weight: 0.7, colour: "keep" },
  waste: { size: 6, strokes: [[0, 6, 6, 0]], weight: 0.6, colour: "waste" },
};

/** Corners of a diagonal are drawn twice, so that tiles join without a nick. */
function strokesOf(hatch: Hatch): readonly Stroke[] {
  const { size, strokes } = HATCHES[hatch];
  return strokes.flatMap((stroke): Stroke[] => {
    const [x1, y1, x2, y2] = stroke;
    if (x1 === x2 || y1 === y2) return [stroke];
    const rises = y2 < y1;
    const small = 1;
    return [
      stroke,
      rises ? [-small, small, small, -small] : [size - small, -small, size + small, small],
      rises
        ? [size - small, size + small, size + small, size - small]
        : [-small, size - small, small, size + small],
    ];
  });
}

/** Definitions of the hatches used, under ids that start with the prefix. */
export function hatchDefinitions(
  prefix: string,
  hatches: readonly Hatch[],
  colours: Palette
): string {
  return el(
    "defs",
    {},
    ...hatches.map((hatch) => {
      const { size, weight, colour } = HATCHES[hatch];
      return el(
        "pattern",
        { id: `${prefix}-${hatch}`, width: size, height: size, patternUnits: "userSpaceOnUse" },
        el("path", {
          d: strokesOf(hatch)
            .map(([x1, y1, x2, y2]) => `M${x1} ${y1}L${x2} ${y2}`)
            .join(""),
          fill: "none",
          stroke: colours[colour],
          "stroke-width": weight,
        })
      );
    })
  );
}

/**
 * A shape filled with a hatch. On paper its lines are drawn one by one: a print to PDF would make a picture of a
 * pattern each time it is used, tens of megabytes for a house.
 */
export function hatched(
  shape: Shape,
  fill: { readonly ids: string; readonly hatch: Hatch; readonly colours: Palette },
  more: Attributes = {}
): string {
  const { ids, hatch, colours } = fill;
  if (colours !== PRINT) return shapeEl(shape, { fill: `url(#${ids}-${hatch})`, ...more });
  const { size, strokes, weight, colour } = HATCHES[hatch];
  return (
    el("path", {
      d: hatchLines(shape, { size, strokes }),
      fill: "none",
      stroke: colours[colour],
      "stroke-width": weight,
    }) + (Object.keys(more).length === 0 ? "" : shapeEl(shape, { fill: "none", ...more }))
  );
}

/** Ids start with a letter and hold nothing a reference could trip over. */
export function safeId(text: string): string {
  const clean = text.replace(/[^A-Za-z0-9_-]+/g, "-");
  return /^[A-Za-z]/.test(clean) ? clean : `d${clean}`;
}

export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly ids: string;
  readonly title: string;
  readonly description: string;
  readonly className: string;
  readonly colours: Palette;
  readonly hatches: readonly Hatch[];
}

/** The svg element round a drawing: named for screen readers, sized by its view box. */
export function svgDocument(frame: Frame, ...children: string[]): string {
  const { width, height, ids, title, description, className, colours, hatches } = frame;
  const paper: Rect = { x: 0, y: 0, w: width, h: height };
  return el(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      viewBox: `0 0 ${Math.ceil(width)} ${Math.ceil(height)}`,
      width: Math.ceil(width),
      height: Math.ceil(height),
      class: className,
      role: "img",
      "aria-label": title,
      "font-family": FONT,
      fill: colours.ink,
      "stroke-linejoin": "round",
    },
    textEl("title", {}, title),
    textEl("desc", {}, description),
    hatches.length === 0 || colours === PRINT ? "" : hatchDefinitions(ids, hatches, colours),
    rect(paper, { fill: colours.paper }),
    ...children
  );
}
