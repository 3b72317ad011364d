/** A house, from its tables: what to buy, cut, mark and check. */
import { MOISTURE_CAUTION, STRUCTURAL_CAUTION } from "../core/cautions.js";
import type { CutPlacement, CutSheet } from "../core/cut-plan/problem.js";
import { type Finding, houseFindings } from "../core/house/checks.js";
import { type CrewMark, crewMarks } from "../core/house/marks.js";
import { type OrderLine, orderLines } from "../core/house/order.js";
import { settingsTable } from "../core/house/settings.js";
import {
  type HousePiece,
  type HouseTakeoff,
  type WallTakeoff,
  burnAtStart,
  takeoffHouse,
} from "../core/house/takeoff.js";
import { inchText } from "../core/units.js";
import { type Topic, fn, grid, rows, table, text } from "./entry.js";
import { houseOf } from "./house-cache.js";

export const houseTables = [
  table("walls", "The Walls table with its header row."),
  table("openings", "The Openings table with its header row."),
  table("settings", "The settings: names and values in two columns."),
] as const;

function ripCount({ pieces }: WallTakeoff): number {
  return pieces.filter((each) => each.piece.kind === "rip").length;
}

interface PlacedPiece extends HousePiece {
  readonly wallName: string;
}

function placedPieces({ built }: HouseTakeoff): PlacedPiece[] {
  return built.flatMap(({ cut, pieces }) =>
    pieces.map((each) => ({ ...each, wallName: cut.wall.name }))
  );
}

/** Height of a piece at one of its top's points. */
function pieceHeight({ piece: { top, bottomIn } }: HousePiece, point: number): number {
  return Math.max(0, (top.at(point)?.heightIn ?? bottomIn) - bottomIn);
}

/** Where the top of a piece turns between its sides. */
function turns({ piece: { top, leftIn, bottomIn } }: HousePiece): string {
  return top
    .slice(1, -1)
    .map(
      ({ xIn, heightIn }) => `${inchText(xIn - leftIn)} across, ${inchText(heightIn - bottomIn)} up`
    )
    .join("; ");
}

interface Cut {
  /** counted apart: panels bought, and scrap with an S */
  readonly number: string | number;
  readonly sheet: CutSheet;
  readonly placement: CutPlacement;
  readonly piece: string;
  /** name of the scrap, where it is one */
  readonly scrap: string;
}

function houseCuts({ built, plan, scrapNames }: HouseTakeoff): Cut[] {
  const labels = new Map(
    built.flatMap(({ pieces }) => pieces.map(({ planId, label }) => [planId, label] as const))
  );
  const counts = { panel: 0, scrap: 0 };
  return plan.sheets.flatMap((sheet) => {
    const count = ++counts[sheet.kind];
    return sheet.placements.map((placement) => ({
      number: sheet.kind === "scrap" ? `S${count}` : count,
      sheet,
      placement,
      piece: labels.get(placement.id) ?? placement.id,
      scrap: scrapNames.get(sheet.scrapId ?? "") ?? "scrap",
    }));
  });
}

const isScrap = ({ sheet }: Cut): boolean => sheet.kind === "scrap";

export const house: Topic = {
  title: "A house, from tables",
  functions: [
    fn("HOUSE_SETTINGS", {
      help: "A fresh settings table with every name and its default.",
      core: settingsTable,
      args: [],
      returns: grid<(string | number)[][]>(["Setting", "Value"], (all) => all.slice(1)),
      example: ["=INDEX(SHEATH.HOUSE_SETTINGS(), 2, 1)", "Foam (in)"],
    }),
    fn("HOUSE_ORDER", {
      help: "The purchase list of a house, in whole packages.",
      core: (...tables) => orderLines(houseOf(...tables).whole()),
      from: orderLines,
      args: houseTables,
      returns: rows<OrderLine>({
        Item: (line) => line.item,
        Size: (line) => line.size,
        Needed: (line) => line.needed,
        Unit: (line) => line.unit,
        Extra: (line) => line.extra,
        "Per package": (line) => line.perPackage,
        Order: (line) => line.order,
        Note: (line) => line.note,
      }),
      example: ["=INDEX(SHEATH.HOUSE_ORDER(walls, openings, settings), 2, 7)", 5],
      cautions: [STRUCTURAL_CAUTION],
      house: true,
    }),
    fn("HOUSE_WALLS", {
      help: "One row a wall: run, burn, pieces, seam feet, nails and backing.",
      core: (...tables) =>
        houseOf(...tables)
          .whole()
          .built.filter(({ copy }) => copy === 1),
      from: takeoffHouse,
      args: houseTables,
      returns: rows<WallTakeoff>({
        Wall: ({ cut }) => cut.wall.name,
        Run: ({ cut }) => cut.wall.span.runIn,
        "Burn at start": ({ cut }) => burnAtStart(cut.wall),
        From: ({ cut }) => cut.wall.from,
        Pieces: (wall) => wall.pieces.length - ripCount(wall),
        Rips: ripCount,
        "Seam feet": (wall) => wall.seamTapeFt,
        Nails: (wall) => wall.nailCount,
        Backing: (wall) => wall.backingCount,
        Quantity: ({ cut }) => cut.wall.quantity,
      }),
      example: ["=INDEX(SHEATH.HOUSE_WALLS(walls, openings, settings), 2, 2)", 193.875],
      cautions: [STRUCTURAL_CAUTION],
      house: true,
    }),
    fn("HOUSE_PIECES", {
      help: "Every piece of the house, where it stands and what is routed out of it.",
      core: (...tables) => placedPieces(houseOf(...tables).whole()),
      from: takeoffHouse,
      args: houseTables,
      returns: rows<PlacedPiece>({
        Wall: (each) => each.wallName,
        Piece: (each) => each.label,
        x: ({ piece }) => piece.leftIn,
        y: ({ piece }) => piece.bottomIn,
        Width: ({ piece }) => piece.rightIn - piece.leftIn,
        "Left height": (each) => pieceHeight(each, 0),
        "Right height": (each) => pieceHeight(each, -1),
        "Routed openings": ({ piece }) => piece.routed.map((each) => each.opening).join(", "),
        "Top turns at": turns,
      }),
      example: [
        "=SHEATH.HOUSE_PIECES(walls, openings, settings)",
        [
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
          ["North", "North-1", -1.875, 0, 48, 96, 96, "", ""],
          ["North", "North-2", 46.125, 0, 48, 96, 96, "Window", ""],
          ["North", "North-3", 94.125, 0, 48, 96, 96, "Window", ""],
          ["North", "North-4", 142.125, 0, 32, 96, 96, "", ""],
          ["North", "North-5", 174.125, 0, 17.875, 96, 96, "", ""],
        ],
      ],
      house: true,
    }),
    fn("HOUSE_CUTS", {
      help: "The cut plan: every panel bought and scrap used, with the pieces cut from it.",
      core: (...tables) => houseCuts(houseOf(...tables).whole()),
      from: takeoffHouse,
      args: houseTables,
      returns: rows<Cut>({
        Panel: (cut) => cut.number,
        Stock: (cut) => (isScrap(cut) ? cut.scrap : cut.sheet.lengthIn),
        Piece: (cut) => cut.piece,
        x: ({ placement }) => placement.xIn,
        y: ({ placement }) => placement.yIn,
        Width: ({ placement }) => placement.widthIn,
        Height: ({ placement }) => placement.heightIn,
        Turned: ({ placement }) => placement.turned,
        "From scrap": (cut) => (isScrap(cut) ? "yes" : ""),
      }),
      example: ["=ROWS(SHEATH.HOUSE_CUTS(walls, openings, settings))", 6],
      house: true,
    }),
    fn("HOUSE_MARKS", {
      help: "The crew's marks for one wall, rake or not.",
      core: (name, ...tables) => {
        const house = houseOf(...tables);
        return crewMarks(house.wall(name), house.openings, house.settings);
      },
      from: crewMarks,
      args: [text("wall", "Name of the wall."), ...houseTables],
      returns: rows<CrewMark>({
        Mark: ({ stud }) => stud.mark,
        Center: ({ stud }) => stud.centerIn,
        "Near edge": ({ stud }) => stud.nearEdgeIn,
        "Far edge": ({ stud }) => stud.farEdgeIn,
        "Tape reading": ({ stud }) => stud.tapeIn,
        Tape: (mark) => mark.tapeText,
        "Panel breaks": ({ stud }) => (stud.breaksHere ? "yes" : ""),
        "Long point": ({ isRaked, cut }) => (isRaked && cut ? cut.longPointIn : ""),
        "Stud length": ({ cut }) => cut?.lengthIn ?? "",
        Bevel: ({ cut }) => cut?.bevelDeg ?? "",
        Note: (mark) => mark.note,
      }),
      example: [`=INDEX(SHEATH.HOUSE_MARKS("North", walls, openings, settings), 3, 3)`, 13.375],
      house: true,
    }),
    fn("HOUSE_CHECKS", {
      help: "Findings: what to fix, what to look at, what to know, and the cautions.",
      core: (...tables) => houseFindings(houseOf(...tables)),
      from: houseFindings,
      args: houseTables,
      returns: rows<Finding>({
        Level: (each) => each.level,
        Wall: (each) => each.wall,
        Finding: (each) => each.finding,
        "What to do": (each) => each.whatToDo,
      }),
      example: ["=INDEX(SHEATH.HOUSE_CHECKS(walls, openings, settings), 2, 1)", "look"],
      cautions: [STRUCTURAL_CAUTION, MOISTURE_CAUTION],
      house: true,
    }),
  ],
};
