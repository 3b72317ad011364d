/** The order and the checks on paper. */
import { ALL_CAUTIONS } from "../../core/cautions.js";
import { isCalcError } from "../../core/check.js";
import { type OrderLine, orderLines } from "../../core/house/order.js";
import type { HouseTakeoff } from "../../core/house/takeoff.js";
import { feetInches } from "../../core/units.js";
import { burnOf } from "../drawings/index.js";
import { orderCount } from "../order-words.js";
import { list, pageHead, table, tag, text } from "./html.js";

/** A finding as it comes from the core or off a sheet of checks. */
export interface PrintedFinding {
  readonly level: string;
  readonly wall: string;
  readonly finding: string;
  readonly whatToDo: string;
}

function figureText(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 1 });
}

function percent(share: number): string {
  return share === 0 ? "" : `${figureText(share * 100)} %`;
}

function orderTable(lines: readonly OrderLine[]): string {
  return table(
    "order",
    [
      { title: "Item", className: "short" },
      { title: "Size", className: "short" },
      { title: "Needed", className: "number" },
      { title: "Extra", className: "number" },
      { title: "Per package", className: "number" },
      { title: "Order", className: "number buy" },
      { title: "Note", className: "note" },
    ],
    lines.map((each) => [
      each.item,
      each.size,
      `${figureText(each.needed)} ${each.unit}`,
      percent(each.extra),
      figureText(each.perPackage),
      orderCount(each),
      each.note,
    ])
  );
}

function wallsTable(house: HouseTakeoff): string {
  return table(
    "summary",
    [
      { title: "Wall" },
      { title: "Framing", className: "number" },
      { title: "Panels run", className: "number" },
      { title: "Ends" },
      { title: "Lay out from" },
      { title: "Pieces", className: "number" },
      { title: "Nails", className: "number" },
      { title: "Backing", className: "number" },
      { title: "Times", className: "number" },
    ],
    house.built
      .filter((each) => each.copy === 1)
      .map(({ cut: { wall }, pieces, nailCount, backingCount }) => [
        wall.name,
        feetInches(wall.lengthIn),
        feetInches(wall.span.runIn),
        `${wall.leftEnd}, ${wall.rightEnd}`,
        `${wall.from}, ${burnOf(wall).short}`,
        pieces.length,
        figureText(nailCount),
        backingCount === 0 ? "" : backingCount,
        wall.quantity,
      ])
  );
}

/** The purchase list, and under it the walls it is for. */
export function orderPage(house: HouseTakeoff, title: string): string {
  let order: string;
  try {
    order = orderTable(orderLines(house));
  } catch (error) {
    if (!isCalcError(error)) throw error;
    order = tag("p", "first-step", text(`The order cannot be made: ${error.message}.`));
  }
  return tag(
    "section",
    "sheet order-page",
    pageHead("Order", title),
    order,
    tag("h2", "", "Walls"),
    wallsTable(house)
  );
}

const LEVELS = [
  { level: "fix", heading: "Fix before cutting" },
  { level: "look", heading: "Look at" },
  { level: "note", heading: "Notes" },
] as const;

/** Findings by level, and the cautions that always stand. */
export function checksPage(findings: readonly PrintedFinding[] | undefined, title: string): string {
  const own = (findings ?? []).filter((each) => !ALL_CAUTIONS.includes(each.finding));
  const groups = LEVELS.map(({ level, heading }) => {
    const rows = own.filter((each) => each.level.toLowerCase() === level);
    if (rows.length === 0) return "";
    return (
      tag("h2", "", text(`${heading} (${rows.length})`)) +
      tag(
        "ul",
        "",
        ...rows.map((each) =>
          tag(
            "li",
            "finding",
            each.wall === "" ? "" : `<b>${text(each.wall)}:</b> `,
            text(each.finding),
            tag("span", "what", text(each.whatToDo))
          )
        )
      )
    );
  });
  return tag(
    "section",
    "sheet checks",
    pageHead("Checks", title),
    findings === undefined
      ? tag(
          "p",
          "hint",
          "The findings stand in the workbook's checks; they were not handed on to this print."
        )
      : "",
    ...groups,
    tag("h2", "", "Cautions"),
    list("cautions", ALL_CAUTIONS.map(text))
  );
}
