/** One printable page of a house: crew sheets, cut sheet, order, checks. */
import { checkChoice, checkNumber } from "../../core/check.js";
import type { HouseTakeoff } from "../../core/house/takeoff.js";
import { escapeText, wallGroups } from "../drawings/index.js";
import { crewSheet } from "./crew-sheet.js";
import { PANELS_PER_PAGE, cutPages, piecesPage } from "./cut-pages.js";
import { type PrintedFinding, checksPage, orderPage } from "./list-pages.js";
import { type Paper, PAPERS, PRINT_STYLE } from "./style.js";

export interface PrintOptions {
  /** name of the house; default `House` */
  readonly title?: string | undefined;
  /** default letter */
  readonly paper?: Paper | undefined;
  /** panels to a page of the cut sheet, 1 to 6; default 6 */
  readonly panelsPerPage?: number | undefined;
  /** every nail on the wall drawings; default no */
  readonly nails?: boolean | undefined;
  /** for the checks page; without them it holds the cautions alone */
  readonly findings?: readonly PrintedFinding[] | undefined;
  /** only the crew sheets of these walls, by name; default all */
  readonly walls?: readonly string[] | undefined;
  /** parts to print; default all */
  readonly parts?: readonly PrintPart[] | undefined;
}

export type PrintPart = "crew" | "cuts" | "order" | "checks";
export const PRINT_PARTS: readonly PrintPart[] = ["crew", "cuts", "order", "checks"];

const USUAL_PANELS_PER_PAGE = 6;
const USUAL_TITLE = "House";
const USUAL_PAPER: Paper = "letter";

/**
 * The pages alone, as sections for a document that brings `PRINT_STYLE` and has the class
 * `paper-letter` or `paper-a4`: for a page that may not hold a style element.
 *
 * @throws {CalcError} wrong-kind, out-of-range: an option outside its limits
 */
export function printSections(house: HouseTakeoff, options: PrintOptions = {}): string {
  const paper = checkChoice("paper", options.paper ?? USUAL_PAPER, PAPERS);
  const perPage = checkNumber(
    "panels per page",
    options.panelsPerPage ?? USUAL_PANELS_PER_PAGE,
    PANELS_PER_PAGE
  );
  const parts = (options.parts ?? PRINT_PARTS).map((part) =>
    checkChoice("part", part, PRINT_PARTS)
  );
  const has = (part: PrintPart): boolean => parts.includes(part);
  const title = options.title?.trim() || USUAL_TITLE;
  const wanted = options.walls === undefined ? undefined : new Set(options.walls);
  const groups = wallGroups(house).filter((group) => wanted?.has(group.wall.name) ?? true);
  const sections = [
    ...(has("crew")
      ? groups.map((group, index) =>
          crewSheet(house, group, {
            title,
            paper,
            ids: `wall${index + 1}`,
            nails: options.nails ?? false,
          })
        )
      : []),
    has("cuts") ? cutPages(house, { title, paper, perPage }) + piecesPage(house, title) : "",
    has("order") ? orderPage(house, title) : "",
    has("checks") ? checksPage(options.findings, title) : "",
  ];
  return sections.filter((section) => section !== "").join("\n");
}

/**
 * One self-contained HTML document: no script, nothing fetched, all text from the tables escaped.
 *
 * @throws {CalcError} wrong-kind, out-of-range: an option outside its limits
 */
export function printableHtml(house: HouseTakeoff, options: PrintOptions = {}): string {
  const paper = checkChoice("paper", options.paper ?? USUAL_PAPER, PAPERS);
  const title = options.title?.trim() || USUAL_TITLE;
  return [
    "<!doctype html>",
    `<html lang="en" class="paper-${paper}">`,
    "<head>",
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escapeText(title)}: takeoff</title>`,
    `<style>${PRINT_STYLE}</style>`,
    "</head>",
    "<body>",
    printSections(house, options),
    "</body>",
    "</html>",
    "",
  ].join("\n");
}
