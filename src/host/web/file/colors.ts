/** Colors of a workbook's styles as the grid takes them: "#rrggbb". */
import { element, type Element } from "../../engine/xml.js";

/** The fixed palette that files name by number (ISO/IEC 29500-1, 18.8.27); 0 to 7 repeat 8 to 15. */
const PALETTE = (
  "000000ffffffff000000ff000000ffffff00ff00ff00ffff" +
  "800000008000000080808000800080008080c0c0c0808080" +
  "9999ff993366ffffccccffff660066ff80800066ccccccff" +
  "000080ff00ffffff0000ffff8000808000000080800000ff" +
  "00ccffccffffccffccffff9999ccffff99cccc99ffffcc99" +
  "3366ff33cccc99cc00ffcc00ff9900ff6600666699969696" +
  "003366339966003300333300993300993366333399333333"
).match(/.{6}/g) as string[];

/** Order in which cells number the theme's colors: light and dark are swapped in pairs. */
const THEME_ORDER = [
  "lt1",
  "dk1",
  "lt2",
  "dk2",
  "accent1",
  "accent2",
  "accent3",
  "accent4",
  "accent5",
  "accent6",
  "hlink",
  "folHlink",
];

export class Colors {
  private readonly theme: (string | undefined)[];

  constructor(themeXml: string | undefined) {
    const scheme = themeXml === undefined ? undefined : element(themeXml, "clrScheme");
    this.theme = THEME_ORDER.map((name) => {
      if (!themeXml || !scheme) return undefined;
      const holder = element(themeXml, name, scheme.contentStart, scheme.contentEnd);
      if (!holder) return undefined;
      const plain = element(themeXml, "srgbClr", holder.contentStart, holder.contentEnd);
      const system = element(themeXml, "sysClr", holder.contentStart, holder.contentEnd);
      const hex = plain?.attributes.val ?? system?.attributes.lastClr;
      return hex && /^[0-9a-fA-F]{6}$/.test(hex) ? hex.toLowerCase() : undefined;
    });
  }

  /** The color an element such as <color theme="4" tint="0.4"/> names; undefined for automatic. */
  of(found: Element | undefined): string | undefined {
    if (!found) return undefined;
    const { rgb, theme, indexed, tint } = found.attributes;
    let hex: string | undefined;
    if (rgb !== undefined && /^[0-9a-fA-F]{6,8}$/.test(rgb)) hex = rgb.slice(-6).toLowerCase();
    else if (theme !== undefined) hex = this.theme[Number(theme)];
    else if (indexed !== undefined) {
      const index = Number(indexed);
      hex = PALETTE[index >= 8 ? index - 8 : index];
    }
    if (hex === undefined) return undefined;
    return `#${tint === undefined ? hex : tinted(hex, Number(tint))}`;
  }

  in(xml: string, name: string, holder: Element | undefined): string | undefined {
    return holder && this.of(element(xml, name, holder.contentStart, holder.contentEnd));
  }
}

/** Lightness moved toward white (tint above 0) or black (below), as files mean it. */
function tinted(hex: string, tint: number): string {
  if (!Number.isFinite(tint) || tint === 0) return hex;
  const [red, green, blue] = [0, 2, 4].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255) as [
    number,
    number,
    number,
  ];
  const most = Math.max(red, green, blue);
  const least = Math.min(red, green, blue);
  const light = (most + least) / 2;
  const spread = most - least;
  const saturation = spread === 0 ? 0 : spread / (1 - Math.abs(2 * light - 1));
  let hue = 0;
  if (spread > 0) {
    if (most === red) hue = ((green - blue) / spread + 6) % 6;
    else if (most === green) hue = (blue - red) / spread + 2;
    else hue = (red - green) / spread + 4;
  }
  const wanted = tint < 0 ? light * (1 + tint) : light * (1 - tint) + tint;
  const chroma = (1 - Math.abs(2 * wanted - 1)) * saturation;
  const second = chroma * (1 - Math.abs((hue % 2) - 1));
  const base = wanted - chroma / 2;
  const parts: [number, number, number][] = [
    [chroma, second, 0],
    [second, chroma, 0],
    [0, chroma, second],
    [0, second, chroma],
    [second, 0, chroma],
    [chroma, 0, second],
  ];
  const part = parts[Math.floor(hue) % 6] as [number, number, number];
  return part
    .map((each) =>
      Math.round(Math.min(1, Math.max(0, each + base)) * 255)
        .toString(16)
        .padStart(2, "0")
    )
    .join("");
}
