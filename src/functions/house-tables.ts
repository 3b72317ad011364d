/** The tables that house functions spill: header row first, one row a line. */
import type { CutPlacement, CutSheet } from "../core/cut-plan/problem.js";
import type { Finding } from "../core/house/checks.js";
import type { HouseInsulation } from "../core/house/framing.js";
import { crewMarks } from "../core/house/marks.js";
import { orderLines } from "../core/house/order.js";
import { type HouseTakeoff, burnAtStart } from "../core/house/takeoff.js";
import type { Cell } from "../core/house/tables.js";
import { inchText } from "../core/units.js";

type Row = (string | number)[];

/** Takes the noise of binary sums off a figure before it is shown; far below what a tape shows. */
export function tidy(value: number): number {
  const rounded = Number(value.toFixed(9));
  return rounded === 0 ? 0 : rounded;
}

export function orderTable(house: HouseTakeoff): Row[] {
  return [
    ["Item", "Size", "Needed", "Unit", "Extra", "Per package", "Order", "Note"],
    ...orderLines(house).map((line) => [
      line.item,
      line.size,
      line.needed,
      line.unit,
      line.extra,
      line.perPackage,
      line.order,
      line.note,
    ]),
  ];
}

export function wallsTable(house: HouseTakeoff): Row[] {
  return [
    [
      "Wall",
      "Run",
      "Burn at start",
      "From",
      "Pieces",
      "Rips",
      "Seam feet",
      "Nails",
      "Backing",
      "Quantity",
    ],
    ...house.built
      .filter((each) => each.copy === 1)
      .map(({ cut, pieces, seamTapeFt, nailCount, backingCount }) => {
        const rips = pieces.filter((each) => each.piece.kind === "rip").length;
        return [
          cut.wall.name,
          tidy(cut.wall.span.runIn),
          tidy(burnAtStart(cut.wall)),
          cut.wall.from,
          pieces.length - rips,
          rips,
          tidy(seamTapeFt),
          nailCount,
          backingCount,
          cut.wall.quantity,
        ];
      }),
  ];
}

export function piecesTable(house: HouseTakeoff): Row[] {
  return [
    [
      "Wall",
      "Piece",
      "x",
      "y",
      "Width",
      "Left height",
      "Right height",
      "Routed openings",
      "Top turns at",
    ],
    ...house.built.flatMap(({ cut, pieces }) =>
      pieces.map(({ label, piece }) => {
        const { leftIn, rightIn, bottomIn, top } = piece;
        const height = (index: number): number =>
          tidy(Math.max(0, (top.at(index)?.heightIn ?? bottomIn) - bottomIn));
        const turns = top
          .slice(1, -1)
          .map(
            (point) =>
              `${inchText(point.xIn - leftIn)} across, ${inchText(point.heightIn - bottomIn)} up`
          );
        return [
          cut.wall.name,
          label,
          tidy(leftIn),
          tidy(bottomIn),
          tidy(rightIn - leftIn),
          height(0),
          height(-1),
          piece.routed.map((each) => each.opening).join(", "),
          turns.join("; "),
        ];
      })
    ),
  ];
}

function cutRow(
  house: HouseTakeoff,
  labels: ReadonlyMap<string, string>,
  sheet: CutSheet,
  number: string | number,
  placement: CutPlacement
): Row {
  const isScrap = sheet.kind === "scrap";
  return [
    number,
    isScrap ? (house.scrapNames.get(sheet.scrapId ?? "") ?? "scrap") : sheet.lengthIn,
    labels.get(placement.id) ?? placement.id,
    tidy(placement.xIn),
    tidy(placement.yIn),
    tidy(placement.widthIn),
    tidy(placement.heightIn),
    placement.turned,
    isScrap ? "yes" : "",
  ];
}

export function cutsTable(house: HouseTakeoff): Row[] {
  const labels = new Map(
    house.built.flatMap(({ pieces }) => pieces.map(({ planId, label }) => [planId, label] as const))
  );
  let panels = 0;
  let scraps = 0;
  return [
    ["Panel", "Stock", "Piece", "x", "y", "Width", "Height", "Turned", "From scrap"],
    ...house.plan.sheets.flatMap((sheet) => {
      const number = sheet.kind === "panel" ? ++panels : `S${++scraps}`;
      return sheet.placements.map((placement) => cutRow(house, labels, sheet, number, placement));
    }),
  ];
}

export function marksTable(house: HouseTakeoff, wallName: Cell): Row[] {
  const wall = house.wall(wallName);
  return [
    [
      "Mark",
      "Center",
      "Near edge",
      "Far edge",
      "Tape reading",
      "Tape",
      "Panel breaks",
      "Long point",
      "Stud length",
      "Bevel",
      "Note",
    ],
    ...crewMarks(wall, house.openings, house.settings).map((mark) => [
      mark.stud.mark,
      tidy(mark.stud.centerIn),
      tidy(mark.stud.nearEdgeIn),
      tidy(mark.stud.farEdgeIn),
      tidy(mark.stud.tapeIn),
      mark.tapeText,
      mark.stud.breaksHere ? "yes" : "",
      mark.isRaked && mark.cut ? tidy(mark.cut.longPointIn) : "",
      mark.cut ? tidy(mark.cut.lengthIn) : "",
      mark.cut ? tidy(mark.cut.bevelDeg) : "",
      mark.note,
    ]),
  ];
}

export function checksTable(findings: readonly Finding[]): Row[] {
  return [
    ["Level", "Wall", "Finding", "What to do"],
    ...findings.map((each) => [each.level, each.wall, each.finding, each.whatToDo]),
  ];
}

export function insulationTable(house: HouseInsulation): Row[] {
  const { areas, hasFoam, withFoam, withoutFoam } = house;
  const counted = "counted from the marks and openings; blocking and extra corner studs are not";
  const built = hasFoam ? "with the foam" : "without the foam";
  return [
    ["Item", "Value", "Unit", "Note"],
    ["Wall", tidy(areas.wallFt2), "sq ft", "deck to top of plates, openings included"],
    ["Openings", tidy(areas.openingsFt2), "sq ft", "left out of R and U"],
    ["Framing", tidy(areas.framingFt2), "sq ft", counted],
    ["Headers", tidy(areas.headersFt2), "sq ft", "over the openings"],
    [
      "Framing fraction",
      tidy(withFoam.framing),
      "",
      "framing and headers, of the wall without openings",
    ],
    [
      `R ${built}`,
      tidy(withFoam.wallR),
      "R",
      hasFoam ? "parallel paths" : "parallel paths; plain sheathing, no foam",
    ],
    [`U ${built}`, tidy(withFoam.wallU), "U", "parallel paths"],
    [
      `R ${built}, isothermal planes`,
      tidy(withFoam.wallRIsothermal),
      "R",
      "the true R lies between",
    ],
    ...(hasFoam
      ? [
          ["R without the foam", tidy(withoutFoam.wallR), "R", "parallel paths"],
          ["U without the foam", tidy(withoutFoam.wallU), "U", "parallel paths"],
        ]
      : []),
  ];
}
