/**
 * SVG as text: escaping, numbers, elements and an estimate of how wide a line of text comes out.
 *
 * Drawings carry presentation attributes only, no style element and no script, so that a page with a
 * strict content-security-policy shows them as they are.
 */

/** A rectangle on the drawing, in drawing units, y downwards. */
export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/** Characters XML 1.0 does not allow, and those that turn the direction of what follows them. */
const FORBIDDEN =
  /[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F-\u009F\u200E\u200F\u202A-\u202E\u2066-\u2069\uFFFE\uFFFF]|[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g;

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Text made safe for the content and the attributes of XML and HTML alike. */
export function escapeText(text: string): string {
  return text
    .replace(FORBIDDEN, "\uFFFD")
    .replace(/[\t\r\n\u2028\u2029]+/g, " ")
    .replace(/[&<>"']/g, (char) => ENTITIES[char] as string);
}

/** A coordinate: two decimals, never minus zero. */
export function num(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

export type Attributes = Readonly<Record<string, string | number | undefined>>;

function attributeText(attributes: Attributes): string {
  return Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(
      ([name, value]) =>
        ` ${name}="${typeof value === "number" ? num(value) : escapeText(value as string)}"`
    )
    .join("");
}

/** An element; children are markup already made. */
export function el(name: string, attributes: Attributes, ...children: string[]): string {
  const inside = children.join("");
  const start = `<${name}${attributeText(attributes)}`;
  return inside === "" ? `${start}/>` : `${start}>${inside}</${name}>`;
}

/** An element that holds text. */
export function textEl(name: string, attributes: Attributes, text: string): string {
  return `<${name}${attributeText(attributes)}>${escapeText(text)}</${name}>`;
}

export function line(x1: number, y1: number, x2: number, y2: number, more: Attributes): string {
  return el("line", { x1, y1, x2, y2, ...more });
}

export function rect(box: Rect, more: Attributes): string {
  return el("rect", { x: box.x, y: box.y, width: box.w, height: box.h, ...more });
}

/** A closed polygon as path data. */
export function polygonPath(points: readonly (readonly [number, number])[]): string {
  return `M${points.map(([x, y]) => `${num(x)} ${num(y)}`).join("L")}Z`;
}

/** Widths of characters in parts of the font size: a wide sans-serif, so that others fit too. */
const WIDTHS: readonly (readonly [RegExp, number])[] = [
  [/[ '.,:;|!ijlI/]/, 0.33],
  [/[trf()[\]-]/, 0.4],
  [/["sczJ*?]/, 0.53],
  [/[mwMW@%…]/, 1],
  [/[\u2E80-\uFFFF\u{10000}-\u{10FFFF}]/u, 1.05],
  [/[A-Z]/, 0.72],
];
const USUAL_CHARACTER = 0.64;
const BOLD_SHARE = 1.1;

/** Width of a line of text by estimate, in drawing units. */
export function textWidth(text: string, size: number, isBold = false): number {
  let parts = 0;
  for (const char of text) {
    parts += WIDTHS.find(([kind]) => kind.test(char))?.[1] ?? USUAL_CHARACTER;
  }
  return parts * size * (isBold ? BOLD_SHARE : 1);
}

/** Cuts text that would come out wider than it may. */
export function shortened(text: string, size: number, widest: number, isBold = false): string {
  const clean = text.replace(/\s+/g, " ");
  if (textWidth(clean, size, isBold) <= widest) return clean;
  const chars = [...clean];
  while (chars.length > 0 && textWidth(`${chars.join("")}…`, size, isBold) > widest) chars.pop();
  return chars.length === 0 ? "" : `${chars.join("").trimEnd()}…`;
}

/** Breaks text into lines no wider than they may be; a word too wide alone is cut. */
export function wrapped(text: string, size: number, widest: number): string[] {
  const lines: string[] = [];
  let current = "";
  for (const word of text.split(/\s+/).filter(Boolean)) {
    const fitted = shortened(word, size, widest);
    const longer = current === "" ? fitted : `${current} ${fitted}`;
    if (textWidth(longer, size) <= widest) current = longer;
    else {
      lines.push(current);
      current = fitted;
    }
  }
  return current === "" ? lines : [...lines, current];
}

export function overlaps(a: Rect, b: Rect, gap = 0): boolean {
  return (
    a.x < b.x + b.w + gap && b.x < a.x + a.w + gap && a.y < b.y + b.h + gap && b.y < a.y + a.h + gap
  );
}

export interface TextStyle {
  readonly size: number;
  readonly anchor?: "start" | "middle" | "end";
  readonly isBold?: boolean;
  readonly fill?: string;
  /** turned a quarter turn, to be read from the right */
  readonly isTurned?: boolean;
}

/** Height of a capital and of the part below the line, in parts of the font size. */
const CAP_SHARE = 0.73;

/** One line of text, vertically centred on y (on x where it is turned). */
export function label(x: number, y: number, text: string, style: TextStyle): string {
  const { size, anchor = "middle", isBold, fill, isTurned } = style;
  const drop = (size * CAP_SHARE) / 2;
  return textEl(
    "text",
    {
      x: isTurned ? x + drop : x,
      y: isTurned ? y : y + drop,
      "font-size": size,
      "text-anchor": anchor === "start" ? undefined : anchor,
      "font-weight": isBold ? "bold" : undefined,
      fill,
      transform: isTurned ? `rotate(-90 ${num(x + drop)} ${num(y)})` : undefined,
    },
    text
  );
}
