/** The crew's sheet of one wall: the drawing, the burn in words, marks in large type, nails, openings. */
import { routerBit } from "../../core/assembly.js";
import { GENERAL_CAUTIONS, STRUCTURAL_CAUTION } from "../../core/cautions.js";
import { isCalcError } from "../../core/check.js";
import { houseNail } from "../../core/house/order.js";
import type { HouseTakeoff } from "../../core/house/takeoff.js";
import { feetInches } from "../../core/units.js";
import {
  type MarkRow,
  type MarksTable,
  type WallDrawingOptions,
  type WallGroup,
  copyName,
  drawBuiltWall,
  escapeText,
  inches,
  marksOf,
  shortName,
  shortened,
  textWidth,
  thicknessText,
} from "../drawings/index.js";
import { list, pageHead, tag, text } from "./html.js";
import { PAGE_HEIGHT, PX_PER_PT, PAGE_WIDTH, linesHeight } from "./room.js";
import type { Paper } from "./style.js";

/** Width of the drawing on the page, CSS pixels: fits letter and A4. */
const DRAWING_WIDTH = 696;
/** The drawing is scaled up to the width of the page. */
const DRAWING_SCALE = 696 / 720;
/** Height of the wall itself: smaller is not readable, larger is not needed. CSS pixels. */
const LEAST_WALL_HEIGHT = 170;
const MOST_WALL_HEIGHT = 430;
/** Longest name of an opening beside a mark, in letters' heights. */
const LONGEST_NOTE = 8;

/** Names of the walls a sheet is for. */
export function groupTitle(group: WallGroup): string {
  const { copies, wall } = group;
  if (copies.length === 1) return copyName(group.takeoff);
  return `${wall.name} (build ${copies.length} alike)`;
}

/** Short words beside a mark; that panels break there is shown by the underline. */
function markNote(row: MarkRow, isRaked: boolean): string {
  return [
    isRaked && row.studLength !== undefined ? `${row.studLength} long` : "",
    row.studLength === undefined ? "no room for a stud" : "",
    row.isEndStud ? "end stud" : "",
    row.isBehind ? "behind 0" : "",
    row.cripple === undefined ? "" : `in ${shortened(row.cripple, 1, LONGEST_NOTE)}`,
  ]
    .filter(Boolean)
    .join(", ");
}

/** What stands above the marks. */
function marksHint(house: HouseTakeoff, marks: MarksTable): string {
  const half = thicknessText(house.settings.studIn / 2);
  const bevels = [...new Set(marks.rows.flatMap((row) => row.bevel ?? []))];
  return [
    `Readings at stud centers: ${marks.burn.short} first. Draw the line ${half} before the reading, set the stud beyond it. Underlined: panels break.`,
    ...(bevels.length > 0
      ? [`Lengths are along the stud's long edge; bevel ${bevels.join(", ")}.`]
      : []),
  ].join(" ");
}

function markItem(row: MarkRow, isRaked: boolean): string {
  return tag(
    "li",
    row.breaks ? "breaks" : "",
    tag("span", "mark", text(row.mark)),
    tag("span", "tape", text(row.tape)),
    tag("span", "note", text(markNote(row, isRaked)))
  );
}

function nailWords(house: HouseTakeoff, group: WallGroup): string {
  const { settings } = house;
  const { edgeIn, fieldIn } = group.wall;
  const spacing = `${inches(edgeIn)} in at edges, ${inches(fieldIn)} in on studs between`;
  const count = `${group.takeoff.nailCount} nails for this wall`;
  try {
    const { neededIn, stockIn } = houseNail(settings);
    return `Nails ${thicknessText(stockIn)} x ${settings.nailDiameterIn} in (at least ${thicknessText(neededIn)} long): ${spacing}; ${count}.`;
  } catch (error) {
    if (!isCalcError(error)) throw error;
    return `Nails: ${spacing}; ${count}. ${error.message}.`;
  }
}

function backingWords(house: HouseTakeoff, group: WallGroup): string[] {
  const { backingCount, cut } = group.takeoff;
  const ends = [
    ...(cut.wall.leftEnd === "short" ? ["left"] : []),
    ...(cut.wall.rightEnd === "short" ? ["right"] : []),
  ];
  if (ends.length === 0) return [];
  const where = `at the ${ends.join(" and ")} end`;
  if (backingCount === 0) return [`The end stud ${where} leaves nailing enough: no backing.`];
  const each = backingCount / ends.length;
  return [
    house.settings.backing === "channel"
      ? `Backing ${where}: a channel of ${each} members; fill its cavity with insulation.`
      : `Backing ${where}: ${each} ${each === 1 ? "stud" : "studs"} beside the end stud.`,
  ];
}

function framingWords(house: HouseTakeoff, group: WallGroup): string[] {
  const { cut } = group.takeoff;
  const { wall } = cut;
  const overlapping = wall.leftEnd === "flush" || wall.rightEnd === "flush";
  return [
    `Framing ${feetInches(wall.lengthIn)}, panels ${feetInches(wall.span.runIn)}, studs at ${inches(wall.spacingIn)} in.`,
    ...(cut.bottomIn < 0 ? [`Panels lap ${inches(-cut.bottomIn)} below the deck.`] : []),
    ...(cut.hasRips ? [`Block line ${inches(cut.panelsFromIn)} above the deck.`] : []),
    ...(cut.courseSeamsIn.length > 0
      ? [
          `Blocking at ${cut.courseSeamsIn.map((each) => feetInches(each)).join(", ")} above the deck.`,
        ]
      : []),
    ...(overlapping
      ? ["Where the plates start inside the corner, take the inset off every reading."]
      : []),
    ...(house.settings.gapIn > 0
      ? [`Keep ${thicknessText(house.settings.gapIn)} between panels.`]
      : []),
  ];
}

function openingItems(group: WallGroup): { name: string; words: string }[] {
  return group.takeoff.cut.openings.map((opening) => {
    const drops = group.takeoff.pieces.flatMap((each) =>
      each.piece.routed
        .filter((routed) => routed.opening === opening.name)
        .map(
          ({ box }) =>
            `${inches(box.rightIn - box.leftIn)} x ${inches(box.topIn - box.bottomIn)} from ${shortName(each)}`
        )
    );
    const size = `${inches(opening.rightIn - opening.leftIn)} x ${inches(opening.topIn - opening.bottomIn)}`;
    const place = `${feetInches(opening.leftIn)} from left, sill ${inches(opening.bottomIn)}`;
    const rout = drops.length === 0 ? "" : `; rout ${drops.join(", ")}`;
    return { name: opening.name, words: ` ${size}, ${place}${rout}` };
  });
}

function routerWords(house: HouseTakeoff): string {
  const { thicknessIn, routerClearanceIn } = house.settings;
  const bit = thicknessText(routerBit(thicknessIn, routerClearanceIn));
  return `Router bit: at least ${bit} in of cutting length. The window's flashing instructions rule the tape.`;
}

function openingsBlock(house: HouseTakeoff, group: WallGroup): string {
  if (group.takeoff.cut.openings.length === 0) return "";
  return (
    tag("h2", "", "Openings") +
    list("facts", [
      ...openingItems(group).map(({ name, words }) => tag("b", "", text(name)) + text(words)),
      text(routerWords(house)),
    ])
  );
}

/** Facts beside the marks: framing, nails, backing. */
function factItems(house: HouseTakeoff, group: WallGroup): string[] {
  return [...framingWords(house, group), nailWords(house, group), ...backingWords(house, group)];
}

/** Head line, rules and the gaps between parts. */
const FURNITURE = 54;
const HEADING_HEIGHT = 24;
/** A mark, and the second line of one whose note does not fit beside it. */
const MARK_HEIGHT = 22.6;
const FOLD_HEIGHT = 10;
const WIDE_COLUMN = 426;
const NARROW_COLUMN = 264;

function marksHeight(marks: MarksTable): number {
  const columns = marks.isRaked ? 2 : 3;
  const width = WIDE_COLUMN / columns - 12;
  const folded = marks.rows.filter((row) => {
    const note = textWidth(markNote(row, marks.isRaked), 7 * PX_PER_PT);
    return 28 + textWidth(row.tape, 13.5 * PX_PER_PT, row.breaks) + note > width;
  });
  const perColumn = Math.ceil(marks.rows.length / columns);
  return perColumn * MARK_HEIGHT + Math.ceil(folded.length / columns) * FOLD_HEIGHT;
}

/** Heights of the parts of a page, by estimate, CSS pixels. */
interface Heights {
  /** head line, burn and cautions, with their gaps */
  readonly always: number;
  readonly marks: number;
  readonly facts: number;
  readonly openings: number;
}

function heightsOf(house: HouseTakeoff, group: WallGroup, marks: MarksTable): Heights {
  const listed = (items: readonly string[]): number =>
    items.reduce(
      (sum, each) => sum + linesHeight(each, 8, NARROW_COLUMN - 16, 1.2) + 2,
      HEADING_HEIGHT
    );
  const openings = openingItems(group).map(({ name, words }) => `${name}${words}`);
  return {
    always:
      FURNITURE +
      linesHeight(`${marks.burn.short} ${marks.burn.how}`, 10, PAGE_WIDTH - 20, 1.3) +
      linesHeight(CAUTIONS, 7, PAGE_WIDTH, 1.15),
    marks:
      HEADING_HEIGHT +
      linesHeight(marksHint(house, marks), 8.5, WIDE_COLUMN, 1.3) +
      marksHeight(marks),
    facts: listed(factItems(house, group)),
    openings: openings.length === 0 ? 0 : listed([...openings, routerWords(house)]),
  };
}

const CAUTIONS = [STRUCTURAL_CAUTION, ...GENERAL_CAUTIONS].join(" ");

/** The drawing as large as the room allows; undefined where the wall would get too small. */
function fitted(draw: (wallHeight: number) => string, room: number): string | undefined {
  const least = draw(LEAST_WALL_HEIGHT);
  const spare = room - Number(/ height="(\d+)"/.exec(least)?.[1] ?? 0);
  if (spare < 0) return undefined;
  return draw(Math.min(LEAST_WALL_HEIGHT + spare, MOST_WALL_HEIGHT));
}

interface CrewSheetOptions {
  readonly title: string;
  readonly ids: string;
  readonly nails: boolean;
  readonly paper: Paper;
}

function marksBlock(house: HouseTakeoff, marks: MarksTable, className: string): string {
  return (
    tag("h2", "", text(`Marks, pulled from the ${marks.burn.side} end`)) +
    tag("p", "hint", text(marksHint(house, marks))) +
    tag(
      "ol",
      ["marks", marks.isRaked ? "raked" : "", className].filter(Boolean).join(" "),
      ...marks.rows.map((row) => markItem(row, marks.isRaked))
    )
  );
}

/** One wall's page; a wall whose drawing would get too small has its marks, and at need its openings, on a second one. */
export function crewSheet(
  house: HouseTakeoff,
  group: WallGroup,
  options: CrewSheetOptions
): string {
  const marks = marksOf(house, group.wall);
  const { burn } = marks;
  const heights = heightsOf(house, group, marks);
  const roomBeside = (words: number): number =>
    (PAGE_HEIGHT[options.paper] - heights.always - words) * DRAWING_SCALE;
  const drawing: WallDrawingOptions = {
    ids: options.ids,
    nails: options.nails,
    width: DRAWING_WIDTH,
    theme: "print",
    compact: true,
  };
  const draw = (wallHeight: number): string =>
    drawBuiltWall(house, group.takeoff, { ...drawing, wallHeight });
  const onePage = fitted(
    draw,
    roomBeside(Math.max(heights.marks, heights.facts + heights.openings))
  );
  const withOpenings = fitted(draw, roomBeside(Math.max(heights.facts, heights.openings)));
  const svg =
    onePage ?? withOpenings ?? fitted(draw, roomBeside(heights.facts)) ?? draw(LEAST_WALL_HEIGHT);
  const name = groupTitle(group);
  const top = [
    pageHead(`Wall ${name}`, options.title),
    tag(
      "p",
      "first-step",
      tag("strong", "", text(`${burn.short.charAt(0).toUpperCase()}${burn.short.slice(1)}`)),
      text(` at the ${burn.side} end: ${burn.how}`)
    ),
    // wider than a phone: it scrolls, by keyboard too
    `<figure class="drawing" tabindex="0" aria-label="${escapeText(`Drawing of wall ${name}`)}">${svg}</figure>`,
  ];
  const facts =
    tag("h2", "", "Framing and nails") + list("facts", factItems(house, group).map(text));
  const openings = openingsBlock(house, group);
  const cautions = tag("p", "cautions", text(CAUTIONS));
  if (onePage !== undefined) {
    return tag(
      "section",
      "sheet crew",
      ...top,
      tag(
        "div",
        "columns",
        tag("div", "wide", marksBlock(house, marks, "")),
        tag("div", "narrow", facts, openings)
      ),
      cautions
    );
  }
  return (
    tag(
      "section",
      "sheet crew",
      ...top,
      withOpenings === undefined
        ? facts
        : tag("div", "columns", tag("div", "half", facts), tag("div", "half", openings)),
      cautions
    ) +
    tag(
      "section",
      "sheet crew",
      pageHead(`Wall ${name}, marks`, options.title),
      marksBlock(house, marks, "full"),
      // a list of openings too long for the page of the drawing
      withOpenings === undefined ? tag("div", "openings", openings) : ""
    )
  );
}
