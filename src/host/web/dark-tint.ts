/** Pale fills of a workbook on the dark ground of the grid. */

/** A color is pale where none of its parts is below the first, and tinted where they differ by the second. */
const PALE_FROM = 0xb0;
const TINT_FROM = 0x10;
/** Darkest and lightest part of a tint on the dark ground; light text stays readable on it. */
const DARK_LEAST = 0x26;
const DARK_MOST = 0x44;

/** The tint of a pale color such as #fff7db on a dark ground; undefined for every other color. */
export function tintInDark(color: string): string | undefined {
  if (!/^#[0-9a-f]{6}$/i.test(color)) return undefined;
  const parts = [1, 3, 5].map((at) => parseInt(color.slice(at, at + 2), 16));
  const [least, most] = [Math.min(...parts), Math.max(...parts)];
  if (least < PALE_FROM || most - least < TINT_FROM) return undefined;
  const dark = parts.map((part) =>
    Math.round(DARK_LEAST + ((part - least) / (most - least)) * (DARK_MOST - DARK_LEAST))
  );
  return `#${dark.map((part) => part.toString(16).padStart(2, "0")).join("")}`;
}
