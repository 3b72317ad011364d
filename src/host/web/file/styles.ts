/** The styles of a workbook between the file's form and the grid's. */
import type { IBorderData, IStyleData, Nullable } from "@univerjs/core";
import { element, elements, escapeXml, type Element } from "../../engine/xml.js";
import { Colors } from "./colors.js";

/** Number formats that files name by number (ISO/IEC 29500-1, 18.8.30). */
const BUILT_IN_FORMATS: Readonly<Record<number, string>> = {
  1: "0",
  2: "0.00",
  3: "#,##0",
  4: "#,##0.00",
  9: "0%",
  10: "0.00%",
  11: "0.00E+00",
  12: "# ?/?",
  13: "# ??/??",
  14: "m/d/yyyy",
  15: "d-mmm-yy",
  16: "d-mmm",
  17: "mmm-yy",
  18: "h:mm AM/PM",
  19: "h:mm:ss AM/PM",
  20: "h:mm",
  21: "h:mm:ss",
  22: "m/d/yyyy h:mm",
  37: "#,##0 ;(#,##0)",
  38: "#,##0 ;[Red](#,##0)",
  39: "#,##0.00;(#,##0.00)",
  40: "#,##0.00;[Red](#,##0.00)",
  45: "mm:ss",
  46: "[h]:mm:ss",
  47: "mmss.0",
  48: "##0.0E+0",
  49: "@",
};

/** Border styles by the number the grid gives them. */
const BORDERS = [
  "none",
  "thin",
  "hair",
  "dotted",
  "dashed",
  "dashDot",
  "dashDotDot",
  "double",
  "medium",
  "mediumDashed",
  "mediumDashDot",
  "mediumDashDotDot",
  "slantDashDot",
  "thick",
];

const HORIZONTAL = ["", "left", "center", "right", "justify", "justify", "distributed"];
const VERTICAL = ["", "top", "center", "bottom"];
const SINGLE_LINE = 12;
const DOUBLE_LINE = 10;
const WRAP = 3;

/** Name the grid knows the file's cell format by. */
export function styleName(index: number): string {
  return `x${index}`;
}

/** Number of the file's cell format that a grid style stands for, if it is one. */
export function styleIndex(name: string): number | undefined {
  return /^x\d+$/.test(name) ? Number(name.slice(1)) : undefined;
}

function children(xml: string, holder: string, name: string): Element[] {
  const found = element(xml, holder);
  return found ? elements(xml, name, found.contentStart, found.contentEnd) : [];
}

/** Every cell format of the file, in order, as the grid's styles. */
export function readStyles(xml: string | undefined, themeXml: string | undefined): IStyleData[] {
  if (xml === undefined) return [];
  const colors = new Colors(themeXml);
  const formats = new Map<number, string>(
    children(xml, "numFmts", "numFmt").map(({ attributes: held }) => [
      Number(held.numFmtId),
      held.formatCode ?? "",
    ])
  );
  const fonts = children(xml, "fonts", "font").map((font) => readFont(xml, font, colors));
  const fills = children(xml, "fills", "fill").map((fill) => readFill(xml, fill, colors));
  const borders = children(xml, "borders", "border").map((each) => readBorder(xml, each, colors));
  return children(xml, "cellXfs", "xf").map((xf) => {
    const held = xf.attributes;
    const style: IStyleData = { ...fonts[Number(held.fontId ?? 0)] };
    const background = fills[Number(held.fillId ?? 0)];
    if (background !== undefined) style.bg = { rgb: background };
    const border = borders[Number(held.borderId ?? 0)];
    if (border) style.bd = border;
    const id = Number(held.numFmtId ?? 0);
    const pattern = formats.get(id) ?? BUILT_IN_FORMATS[id];
    if (pattern !== undefined && pattern !== "" && pattern !== "General") style.n = { pattern };
    const alignment = element(xml, "alignment", xf.contentStart, xf.contentEnd);
    if (alignment) addAlignment(style, alignment.attributes);
    return style;
  });
}

function isOn(found: Element | undefined): boolean {
  return found !== undefined && found.attributes.val !== "0" && found.attributes.val !== "false";
}

function readFont(xml: string, font: Element, colors: Colors): IStyleData {
  const inside = (name: string): Element | undefined =>
    element(xml, name, font.contentStart, font.contentEnd);
  const style: IStyleData = {};
  const name = inside("name")?.attributes.val;
  if (name !== undefined) style.ff = name;
  const size = Number(inside("sz")?.attributes.val);
  if (size > 0) style.fs = size;
  if (isOn(inside("b"))) style.bl = 1;
  if (isOn(inside("i"))) style.it = 1;
  if (isOn(inside("strike"))) style.st = { s: 1 };
  const underline = inside("u");
  if (underline && underline.attributes.val !== "none") {
    style.ul = {
      s: 1,
      t: underline.attributes.val?.startsWith("double") ? DOUBLE_LINE : SINGLE_LINE,
    };
  }
  const color = colors.of(inside("color"));
  if (color !== undefined) style.cl = { rgb: color };
  const raised = inside("vertAlign")?.attributes.val;
  if (raised === "subscript") style.va = 2;
  if (raised === "superscript") style.va = 3;
  return style;
}

function readFill(xml: string, fill: Element, colors: Colors): string | undefined {
  const pattern = element(xml, "patternFill", fill.contentStart, fill.contentEnd);
  if (pattern) {
    const kind = pattern.attributes.patternType ?? "none";
    if (kind === "none") return undefined;
    // The grid knows plain fills only; a pattern is shown in its main color and kept when the file is saved.
    return colors.in(xml, kind === "solid" ? "fgColor" : "bgColor", pattern);
  }
  const gradient = element(xml, "gradientFill", fill.contentStart, fill.contentEnd);
  return gradient && colors.in(xml, "color", gradient);
}

function readBorder(xml: string, border: Element, colors: Colors): IBorderData | undefined {
  const data: IBorderData = {};
  const sides = [
    ["t", "top"],
    ["b", "bottom"],
    ["l", "left"],
    ["r", "right"],
  ] as const;
  for (const [key, name] of sides) {
    const side = element(xml, name, border.contentStart, border.contentEnd);
    const line = BORDERS.indexOf(side?.attributes.style ?? "none");
    if (!side || line <= 0) continue;
    data[key] = { s: line, cl: { rgb: colors.in(xml, "color", side) ?? "#000000" } };
  }
  return Object.keys(data).length > 0 ? data : undefined;
}

function addAlignment(style: IStyleData, held: Record<string, string>): void {
  const across = HORIZONTAL.indexOf(held.horizontal ?? "");
  if (across > 0) style.ht = across;
  const down = VERTICAL.indexOf(held.vertical ?? "");
  if (down > 0) style.vt = down;
  if (held.wrapText === "1" || held.wrapText === "true") style.tb = WRAP;
  const angle = Number(held.textRotation ?? 0);
  if (angle === 255) style.tr = { a: 0, v: 1 };
  // Files count degrees up from the horizontal and write downward angles as 91 to 180; the grid counts downward.
  else if (angle > 0 && angle <= 180) style.tr = { a: angle <= 90 ? -angle : angle - 90 };
}

// --- writing ---------------------------------------------------------------------------------------------------------

/** Adds the formats made in the grid to the file's list of styles. */
export class StyleWriter {
  private readonly added = new Map<string, number>();
  private readonly fonts: string[] = [];
  private readonly fills: string[] = [];
  private readonly borders: string[] = [];
  private readonly formats: string[] = [];
  private readonly xfs: string[] = [];
  private readonly counts: Record<"fonts" | "fills" | "borders" | "cellXfs", number>;
  private nextFormat: number;

  constructor(private readonly xml: string) {
    this.counts = {
      fonts: children(xml, "fonts", "font").length,
      fills: children(xml, "fills", "fill").length,
      borders: children(xml, "borders", "border").length,
      cellXfs: children(xml, "cellXfs", "xf").length,
    };
    // Numbers below 164 belong to the formats that every program knows.
    this.nextFormat = Math.max(
      164,
      ...children(xml, "numFmts", "numFmt").map((each) => Number(each.attributes.numFmtId) + 1)
    );
  }

  /** The format number for a grid style: its own where it came from the file, else a new one. */
  indexFor(
    style: string | IStyleData | null | undefined,
    styles: Readonly<Record<string, Nullable<IStyleData>>>
  ): number | undefined {
    if (style === null || style === undefined) return undefined;
    if (typeof style === "string") {
      const own = styleIndex(style);
      if (own !== undefined && own < this.counts.cellXfs) return own;
    }
    const data = typeof style === "string" ? styles[style] : style;
    if (!data) return undefined;
    const key = JSON.stringify(data);
    const known = this.added.get(key);
    if (known !== undefined) return known;
    const index = this.counts.cellXfs + this.xfs.length;
    this.xfs.push(this.xf(data));
    this.added.set(key, index);
    return index;
  }

  private xf(style: IStyleData): string {
    const font = this.counts.fonts + this.fonts.push(fontXml(style)) - 1;
    const hasFill = style.bg?.rgb !== undefined && style.bg.rgb !== null;
    const fill = hasFill
      ? this.counts.fills + this.fills.push(fillXml(style.bg?.rgb as string)) - 1
      : 0;
    const border = style.bd ? this.counts.borders + this.borders.push(borderXml(style.bd)) - 1 : 0;
    const format = this.formatId(style.n?.pattern);
    return (
      `<xf numFmtId="${format}" fontId="${font}" fillId="${fill}" borderId="${border}" xfId="0" applyFont="1"` +
      `${format ? ' applyNumberFormat="1"' : ""}${fill ? ' applyFill="1"' : ""}${border ? ' applyBorder="1"' : ""}` +
      alignmentXml(style)
    );
  }

  private formatId(pattern: string | undefined): number {
    if (pattern === undefined || pattern === "" || pattern === "General") return 0;
    const builtIn = Object.entries(BUILT_IN_FORMATS).find(([, each]) => each === pattern);
    if (builtIn) return Number(builtIn[0]);
    const known = children(this.xml, "numFmts", "numFmt").find(
      (each) => each.attributes.formatCode === pattern
    );
    if (known) return Number(known.attributes.numFmtId);
    const id = this.nextFormat++;
    this.formats.push(`<numFmt numFmtId="${id}" formatCode="${escapeXml(pattern)}"/>`);
    return id;
  }

  /** The file's styles with the new ones added; the same text where there are none. */
  finish(): string {
    let xml = this.xml;
    if (this.xfs.length === 0) return xml;
    const prefix = element(xml, "styleSheet")?.tag.prefix ?? "";
    const spelled = (pieces: readonly string[]): string =>
      prefix === "" ? pieces.join("") : pieces.join("").replace(/<(\/?)(\w)/g, `<$1${prefix}$2`);
    const extend = (holder: string, pieces: readonly string[]): void => {
      if (pieces.length === 0) return;
      const found = element(xml, holder);
      if (!found) return;
      const name = found.tag.prefix + holder;
      const count = this.sizeOf(holder) + pieces.length;
      const inside = xml.slice(found.contentStart, found.contentEnd);
      xml =
        xml.slice(0, found.tag.start) +
        `<${name} count="${count}">${inside}${spelled(pieces)}</${name}>` +
        xml.slice(found.end);
    };
    extend("fonts", this.fonts);
    extend("fills", this.fills);
    extend("borders", this.borders);
    extend("cellXfs", this.xfs);
    if (this.formats.length > 0) {
      if (element(xml, "numFmts")) extend("numFmts", this.formats);
      else {
        const at = element(xml, "styleSheet")?.contentStart ?? 0;
        const piece = spelled([
          `<numFmts count="${this.formats.length}">${this.formats.join("")}</numFmts>`,
        ]);
        xml = xml.slice(0, at) + piece + xml.slice(at);
      }
    }
    return xml;
  }

  private sizeOf(holder: string): number {
    if (holder === "numFmts") return children(this.xml, "numFmts", "numFmt").length;
    return this.counts[holder as keyof typeof this.counts];
  }
}

function colorXml(name: string, css: string | null | undefined): string {
  const hex = toHex(css);
  return hex === undefined ? "" : `<${name} rgb="FF${hex}"/>`;
}

/** "#rrggbb" or "rgb(r, g, b)" as six capital digits. */
export function toHex(css: string | null | undefined): string | undefined {
  if (!css) return undefined;
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/i.exec(css);
  if (short)
    return short
      .slice(1)
      .map((each) => each + each)
      .join("")
      .toUpperCase();
  const long = /^#([0-9a-f]{6})/i.exec(css);
  if (long) return (long[1] as string).toUpperCase();
  const parts = /^rgba?\(\s*(\d+)\s*,\s*(\d+)\s*,\s*(\d+)/i.exec(css);
  return parts
    ? parts
        .slice(1, 4)
        .map((each) => Math.min(255, Number(each)).toString(16).padStart(2, "0"))
        .join("")
        .toUpperCase()
    : undefined;
}

function fontXml(style: IStyleData): string {
  const underline = style.ul?.s ? (style.ul.t === DOUBLE_LINE ? '<u val="double"/>' : "<u/>") : "";
  const raised =
    style.va === 2
      ? '<vertAlign val="subscript"/>'
      : style.va === 3
        ? '<vertAlign val="superscript"/>'
        : "";
  return (
    `<font>${style.bl ? "<b/>" : ""}${style.it ? "<i/>" : ""}${style.st?.s ? "<strike/>" : ""}${underline}${raised}` +
    `<sz val="${style.fs ?? 11}"/>${colorXml("color", style.cl?.rgb ?? undefined)}` +
    `<name val="${escapeXml(style.ff ?? "Arial")}"/></font>`
  );
}

function fillXml(css: string): string {
  return `<fill><patternFill patternType="solid">${colorXml("fgColor", css)}</patternFill></fill>`;
}

function borderXml(border: IBorderData): string {
  const side = (name: string, data: IBorderData["t"]): string => {
    const line = data ? BORDERS[data.s] : undefined;
    if (!data || line === undefined || line === "none") return `<${name}/>`;
    return `<${name} style="${line}">${colorXml("color", data.cl?.rgb ?? undefined)}</${name}>`;
  };
  return `<border>${side("left", border.l)}${side("right", border.r)}${side("top", border.t)}${side("bottom", border.b)}<diagonal/></border>`;
}

function alignmentXml(style: IStyleData): string {
  const parts = [
    style.ht ? `horizontal="${HORIZONTAL[style.ht] ?? "general"}"` : "",
    style.vt ? `vertical="${VERTICAL[style.vt] ?? "bottom"}"` : "",
    style.tb === WRAP ? 'wrapText="1"' : "",
    style.tr?.v ? 'textRotation="255"' : "",
    !style.tr?.v && style.tr?.a
      ? `textRotation="${style.tr.a < 0 ? -style.tr.a : style.tr.a + 90}"`
      : "",
  ].filter(Boolean);
  return parts.length === 0 ? "/>" : ` applyAlignment="1"><alignment ${parts.join(" ")}/></xf>`;
}
