/** The house's cut sheet: every panel bought and every scrap used, one to six to a page. */
import { boundNote } from "../../core/house/order.js";
import type { HouseTakeoff } from "../../core/house/takeoff.js";
import {
  type SheetView,
  copyName,
  cutDrawing,
  piecePlaces,
  pieceSize,
  sheetText,
  sheetView,
  shortName,
  thicknessText,
} from "../drawings/index.js";
import { list, pageHead, tag, text } from "./html.js";
import { PAGE_HEIGHT, PAGE_WIDTH, linesHeight } from "./room.js";
import type { Paper } from "./style.js";

/** Columns of panels by panels to a page, and the width of one drawing, CSS pixels. */
const GRID: Readonly<Record<number, { columns: number; width: number }>> = {
  1: { columns: 1, width: 696 },
  2: { columns: 2, width: 340 },
  3: { columns: 3, width: 224 },
  4: { columns: 2, width: 340 },
  5: { columns: 3, width: 224 },
  6: { columns: 3, width: 224 },
};

/** Of a drawing, without the panel; of a page, without the figures; between figures. CSS pixels. */
const DRAWING_FURNITURE = 64;
const PAGE_FURNITURE = 44;
const GAP = 12;
const LEAST_PANEL_HEIGHT = 150;

/** Panels to a page that there is room for. */
export const PANELS_PER_PAGE = { min: 1, max: 6, whole: true } as const;

/** What stands under a drawing: its pieces, and its cuts in order. */
function captionHeight(view: SheetView, perPage: number, width: number): number {
  const [laidPt, stepPt, columns] = perPage === 1 ? [10, 10, 4] : [7, 7.5, 2];
  const laid = linesHeight(laidWords(view), laidPt * 1.1, width, 1.15);
  const heights = view.steps.map((step) =>
    linesHeight(step.words, stepPt, width / columns - 26, 1.2)
  );
  const steps = heights.reduce((sum, each) => sum + each, 0);
  return laid + steps / columns + Math.max(12, ...heights);
}

function laidWords(view: SheetView): string {
  return view.pieces.map((laid) => `${laid.each.label} ${laid.size}`).join("; ");
}

function figure(
  house: HouseTakeoff,
  view: SheetView,
  index: number,
  room: { readonly width: number; readonly panelHeight: number }
): string {
  const steps = view.steps.map((step) =>
    tag("li", "", tag("b", "", text(step.number)), text(step.words))
  );
  return tag(
    "figure",
    "",
    cutDrawing(house, index, { ids: `cut${index + 1}`, theme: "print", ...room }),
    tag("p", "laid", text(laidWords(view))),
    steps.length === 0 ? tag("p", "steps", "no cuts") : tag("ol", "steps", ...steps)
  );
}

/** Every piece of every wall with the panel it is cut from: where to look for it. */
export function piecesPage(house: HouseTakeoff, title: string): string {
  const places = piecePlaces(house);
  return tag(
    "section",
    "sheet pieces",
    pageHead("Where each piece is cut", title),
    ...house.built.map((built) =>
      tag(
        "div",
        "",
        tag("h2", "", text(copyName(built))),
        list(
          "piece-list",
          built.pieces.map((each) => {
            const place = places.get(each.planId);
            const from = place ? sheetText(place.sheetName) : "";
            return (
              tag("b", "", text(shortName(each))) + text(`  ${pieceSize(each, place)}, ${from}`)
            );
          })
        )
      )
    )
  );
}

/** Pages of the cut sheet. */
export function cutPages(
  house: HouseTakeoff,
  options: { readonly title: string; readonly paper: Paper; readonly perPage: number }
): string {
  const { title, paper, perPage } = options;
  const { columns, width } = GRID[perPage] as (typeof GRID)[number];
  const { sheets } = house.plan;
  const hint = `${boundNote(house)}. Cut in the order numbered. Along: down the panel's length, fence set from the left edge of the part in hand; across: from its bottom edge. Saw cut ${thicknessText(house.settings.kerfIn)}. The faces drawn are the wood; turn a piece end for end, never over.`;
  const hintHeight = linesHeight(hint, 8.5, PAGE_WIDTH, 1.3);
  const pages: string[] = [];
  for (let from = 0; from < sheets.length; from += perPage) {
    const isFirst = from === 0;
    const views = sheets.slice(from, from + perPage).map((_, at) => sheetView(house, from + at));
    const rows = Math.ceil(perPage / columns);
    const page = PAGE_HEIGHT[paper] - PAGE_FURNITURE - (isFirst ? hintHeight : 0);
    const captions = Array.from({ length: rows }, (_, row) =>
      Math.max(
        0,
        ...views
          .slice(row * columns, (row + 1) * columns)
          .map((view) => captionHeight(view, perPage, width))
      )
    ).reduce((sum, each) => sum + each, 0);
    const room = (page - captions) / rows - DRAWING_FURNITURE - GAP;
    const panelHeight = Math.max(LEAST_PANEL_HEIGHT, Math.floor(room));
    pages.push(
      tag(
        "section",
        "sheet cut-sheet",
        pageHead(isFirst ? "Cut sheet" : "Cut sheet, continued", title),
        isFirst ? tag("p", "hint", text(hint)) : "",
        tag(
          "div",
          `cuts of-${perPage}`,
          ...views.map((view, at) => figure(house, view, from + at, { width, panelHeight }))
        )
      )
    );
  }
  return pages.join("");
}
