/** The files of a takeoff: every wall and every panel as SVG, and the whole house to print. */
import type { HouseTakeoff } from "../../core/house/takeoff.js";
import { copyName, cutDrawing, drawBuiltWall, sheetNames, wallGroups } from "../drawings/index.js";
import { type PrintOptions, printableHtml } from "./printable.js";

export interface TakeoffFile {
  /** safe on every system: small letters, digits, hyphens, one dot */
  readonly name: string;
  readonly content: string;
}

const LONGEST_NAME = 40;
const LEAST_DIGITS = 2;
/** Width of the drawings in files, CSS pixels. */
const WALL_WIDTH = 1200;
const PANEL_WIDTH = 420;

/** A name that every file system takes; letters it does not take become hyphens. */
export function fileSlug(name: string): string {
  const slug = name
    .normalize("NFKD")
    .replace(/\p{M}+/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, LONGEST_NAME)
    .replace(/^-+|-+$/g, "");
  return slug === "" ? "unnamed" : slug;
}

/** Hands out names once; a name taken gets the next free number. */
function namer(): (base: string) => string {
  const taken = new Set<string>();
  return (base) => {
    let name = base;
    for (let count = 2; taken.has(name); count++) name = `${base}-${count}`;
    taken.add(name);
    return name;
  };
}

/** Name of the page to print. */
export const PRINT_PAGE = "takeoff.html";

/**
 * Every drawing of a house as a file, and one page to print.
 *
 * @returns `wall-NAME.svg`, `panel-01.svg`, `scrap-01.svg`, `takeoff.html`; names are unique
 * @throws {CalcError} wrong-kind, out-of-range: an option outside its limits
 */
export function takeoffFiles(house: HouseTakeoff, options: PrintOptions = {}): TakeoffFile[] {
  const nameOf = namer();
  const walls = wallGroups(house).map(({ takeoff }) => ({
    name: `${nameOf(`wall-${fileSlug(copyName(takeoff))}`)}.svg`,
    content: drawBuiltWall(house, takeoff, {
      ids: "wall",
      theme: "light",
      width: WALL_WIDTH,
      nails: options.nails ?? false,
    }),
  }));
  const names = sheetNames(house);
  const digitsOf = (kind: string): number =>
    String(house.plan.sheets.filter((sheet) => sheet.kind === kind).length).length;
  const digits = {
    panel: Math.max(LEAST_DIGITS, digitsOf("panel")),
    scrap: Math.max(LEAST_DIGITS, digitsOf("scrap")),
  };
  const sheets = house.plan.sheets.map((sheet, index) => {
    const number = (names[index] as string).replace("S", "").padStart(digits[sheet.kind], "0");
    return {
      name: `${sheet.kind}-${number}.svg`,
      content: cutDrawing(house, index, { ids: "cut", theme: "light", width: PANEL_WIDTH }),
    };
  });
  return [...walls, ...sheets, { name: PRINT_PAGE, content: printableHtml(house, options) }];
}
