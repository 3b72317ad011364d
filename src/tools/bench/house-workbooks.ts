/**
 * Makes house workbooks up: closed plans of four or six corners, one or two stories, doors and windows, a few gables.
 * The same number gives the same house.
 */
import fs from "node:fs";
import path from "node:path";
import { OPENING_COLUMNS, WALL_COLUMNS } from "../../core/house/walls.js";
import { openWorkbook, type CellValue, type Workbook } from "../../host/engine/index.js";
import { columnLetters } from "../../core/cell-address.js";
import { Chance } from "./house-generator.js";

const TEMPLATE = path.join("sample-workbooks", "house-template.xlsx");

/** Where the template's tables start and end. */
const FIRST_ROW = 6;
const LAST_WALL_ROW = 60;
const LAST_OPENING_ROW = 90;
const FIRST_SETTING_ROW = 14;
const LAST_SETTING_ROW = 80;

type Row = Readonly<Record<string, CellValue>>;

/** Widths and heights of rough openings, in, with their sills. */
const OPENINGS = [
  { name: "Door", width: 38.5, height: 82.5, sill: 0 },
  { name: "Patio door", width: 72.5, height: 82.5, sill: 0 },
  { name: "Window", width: 36, height: 48, sill: 36 },
  { name: "Wide window", width: 72, height: 60, sill: 24 },
  { name: "Small window", width: 24, height: 36, sill: 44 },
] as const;

/** Lengths of the walls round a plan, in, and which of its corners is an inside one. */
function plan(chance: Chance): { lengths: number[]; inside: number | undefined } {
  const side = (from: number, to: number): number =>
    12 * chance.whole(from, to) + chance.one([0, 0, 3, 5.5, 8]);
  const [wide, deep] = [side(26, 52), side(22, 44)];
  if (chance.next() < 0.4) return { lengths: [wide, deep, wide, deep], inside: undefined };
  const [cutWide, cutDeep] = [side(8, 14), side(8, 14)];
  return {
    lengths: [wide - cutWide, cutDeep, cutWide, deep - cutDeep, wide, deep],
    // the third wall starts where the second stops short of it
    inside: 2,
  };
}

function wallRows(chance: Chance): Row[] {
  const { lengths, inside } = plan(chance);
  const stories = chance.next() < 0.6 ? 2 : 1;
  const height = chance.one([97.125, 109.125]);
  const rows: Row[] = [];
  for (let story = 1; story <= stories; story++) {
    const name = (index: number): string =>
      `${story === 1 ? "" : "Upper "}wall ${(index % lengths.length) + 1}`;
    lengths.forEach((length, index) => {
      const isInside = (corner: number): boolean => corner % lengths.length === inside;
      rows.push({
        Wall: name(index),
        Length: length,
        Height: height,
        "Left end": isInside(index) ? "short" : "flush",
        "Right end": isInside(index + 1) ? "tight" : "past",
        "Next wall": name(index + 1),
        Below: story === 1 ? 10.75 : 10,
        ...(story === 1 ? {} : { "Block line": "none", "Bottom seam": "yes" }),
      });
    });
  }
  const gables = chance.whole(0, 2);
  for (let gable = 1; gable <= gables; gable++) {
    const span = 12 * chance.whole(18, 30);
    rows.push({
      Wall: `Gable ${gable}`,
      Length: span,
      Height: 0,
      "Peak height": span * chance.one([0.25, 1 / 3]),
      "Peak at": span / 2,
      "Left end": "free",
      "Right end": "free",
      Below: 0,
      "Block line": "none",
      "Bottom seam": "yes",
    });
  }
  return rows;
}

function openingRows(chance: Chance, walls: readonly Row[]): Row[] {
  return walls.flatMap((wall) => {
    if (wall["Left end"] === "free") return [];
    const rows: Row[] = [];
    let from = chance.whole(24, 90);
    for (;;) {
      const opening = chance.one(OPENINGS);
      if (from + opening.width + 24 > Number(wall["Length"]) || rows.length === 5) return rows;
      rows.push({
        Wall: wall["Wall"] ?? null,
        Opening: `${opening.name} ${rows.length + 1}`,
        "From left": from,
        Sill: opening.sill,
        Width: opening.width,
        Height: opening.height,
      });
      from += opening.width + chance.whole(30, 120);
    }
  });
}

function typeRows(
  book: Workbook,
  sheet: string,
  columns: readonly { readonly name: string }[],
  rows: readonly Row[],
  last: number
): void {
  for (let at = FIRST_ROW; at <= last; at++) {
    const row = rows[at - FIRST_ROW];
    columns.forEach(({ name }, index) => {
      book.setCell(sheet, `${columnLetters(index + 1)}${at}`, row?.[name] ?? null);
    });
  }
}

/** Fills the blank template with houses, one after another. */
export class HouseWorkbooks {
  private readonly book = openWorkbook(fs.readFileSync(TEMPLATE), []);
  private readonly settings = this.book
    .range("Setup", `A${FIRST_SETTING_ROW}:A${LAST_SETTING_ROW}`)
    .map(([label]) => label);

  private type(setting: string, value: CellValue): void {
    const row = FIRST_SETTING_ROW + this.settings.indexOf(setting);
    if (row < FIRST_SETTING_ROW) throw new Error(`the template has no setting ${setting}`);
    this.book.setCell("Setup", `B${row}`, value);
  }

  /** House of a number, from 1, as a file; it is calculated when it is taken off. */
  make(number: number): Uint8Array {
    // neighboring seeds start alike: a few numbers are drawn and thrown away
    const chance = new Chance(number * 2654435761);
    for (let drawn = 0; drawn < 8; drawn++) chance.next();
    const walls = wallRows(chance);
    typeRows(this.book, "Walls", WALL_COLUMNS, walls, LAST_WALL_ROW);
    typeRows(this.book, "Openings", OPENING_COLUMNS, openingRows(chance, walls), LAST_OPENING_ROW);
    this.book.setCell("Setup", "B2", `Lot ${number}`);
    this.type("Foam (in)", chance.one([1.25, 1.75]));
    this.type("Panel (in)", 0.625);
    this.type("Block line (in)", 13.125);
    return this.book.toBytes();
  }
}
