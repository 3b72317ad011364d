/** The Walls and Openings tables, read into checked rows. */
import { TINY_IN, checkNumber, isCalcError, outOfRange, shown, wrongKind } from "../check.js";
import { type Side, type WallEnd, type RunSpan, checkEnd, checkSide, runSpan } from "../corners.js";
import { HIGHEST_WALL_IN, LIMITS, LONGEST_WALL_IN, checkModule } from "../limits.js";
import { feetInches } from "../units.js";
import { type WallTop, heightAt, highest, peakOf, wallTop } from "../wall-top.js";
import { type Settings, yesNo } from "./settings.js";
import {
  type ColumnSpec,
  type Table,
  type TableRow,
  at,
  checkTable,
  isBlankTable,
  isNone,
  nameKey,
  readTable,
} from "./tables.js";

export const WALL_COLUMNS = [
  { name: "Wall", needed: true },
  { name: "Length", needed: true, isLength: true },
  { name: "Height", needed: true, isLength: true },
  { name: "Right height", isLength: true },
  { name: "Peak height", isLength: true },
  { name: "Peak at", isLength: true },
  { name: "Left end", needed: true },
  { name: "Right end", needed: true },
  { name: "Next wall" },
  { name: "Below", isLength: true },
  { name: "Block line", isLength: true },
  { name: "Spacing", isLength: true },
  { name: "From" },
  { name: "Edge nailing", isLength: true },
  { name: "Field nailing", isLength: true },
  { name: "Quantity" },
  { name: "Bottom seam" },
] as const satisfies readonly ColumnSpec[];

export const OPENING_COLUMNS = [
  { name: "Wall", needed: true },
  { name: "Opening" },
  { name: "From left", needed: true, isLength: true },
  { name: "Sill", needed: true, isLength: true },
  { name: "Width", needed: true, isLength: true },
  { name: "Height", needed: true, isLength: true },
  { name: "Quantity" },
] as const satisfies readonly ColumnSpec[];

export interface Wall {
  readonly name: string;
  /** row in the range, the header being 1 */
  readonly row: number;
  readonly lengthIn: number;
  readonly thicknessIn: number;
  readonly top: WallTop;
  readonly leftEnd: WallEnd;
  readonly rightEnd: WallEnd;
  readonly nextWall: string | undefined;
  readonly belowIn: number;
  /** height of the block line above the deck; undefined where the wall has no rip course */
  readonly blockLineIn: number | undefined;
  readonly spacingIn: number;
  readonly from: Side;
  readonly edgeIn: number;
  readonly fieldIn: number;
  readonly quantity: number;
  /** stands on the panels of a wall below, so its bottom edge is a seam to tape */
  readonly hasBottomSeam: boolean;
  readonly span: RunSpan;
}

export interface Opening {
  readonly wall: string;
  readonly name: string;
  readonly row: number;
  /** from the left framing corner and the deck, in */
  readonly leftIn: number;
  readonly rightIn: number;
  readonly bottomIn: number;
  readonly topIn: number;
  readonly quantity: number;
}

/** A row that could not be read, where the caller asked for a list and not for the first error. */
export interface RowProblem {
  readonly wall: string;
  readonly message: string;
}

const QUANTITY = { min: 1, max: 10_000, whole: true } as const;

function quantityOf(row: TableRow): number {
  if (row.isBlank("Quantity")) return 1;
  return checkNumber("Quantity", row.cell("Quantity"), {
    ...QUANTITY,
    hint: "delete the row or leave the cell blank",
  });
}

/** Blank takes the setting; `none` is a wall without a rip course, as on an upper story. */
function readBlockLine(row: TableRow, settings: Settings): number | undefined {
  if (row.isBlank("Block line")) return settings.blockLineIn;
  if (isNone(row.cell("Block line"))) return undefined;
  return checkNumber("Block line", row.length("Block line"), { above: 0, max: 240, unit: "in" });
}

function readWall(row: TableRow, settings: Settings): Wall {
  const lengthIn = checkNumber("Length", row.length("Length"), LIMITS.wallLength);
  const heightLimits = { min: 0, below: HIGHEST_WALL_IN, unit: "in" };
  const leftIn = checkNumber("Height", row.length("Height"), heightLimits);
  const rightIn = checkNumber(
    "Right height",
    row.optionalLength("Right height") ?? leftIn,
    heightLimits
  );
  const peakIn = row.optionalLength("Peak height");
  const peakAtIn = row.optionalLength("Peak at");
  if ((peakIn === undefined) !== (peakAtIn === undefined)) {
    const blank = peakIn === undefined ? "Peak height" : "Peak at";
    throw wrongKind(`${blank} is blank: a peak needs both Peak height and Peak at`);
  }
  const peak =
    peakIn === undefined || peakAtIn === undefined
      ? undefined
      : { heightIn: peakIn, atIn: peakAtIn };
  const leftEnd = checkEnd("Left end", row.cell("Left end"));
  const rightEnd = checkEnd("Right end", row.cell("Right end"));
  const spacingIn = checkNumber(
    "Spacing",
    row.optionalLength("Spacing") ?? settings.spacingIn,
    LIMITS.spacing
  );
  checkModule(spacingIn, settings.panelWidthIn);
  if (lengthIn < 2 * settings.studIn - TINY_IN) {
    throw outOfRange(
      `Length must be at least two studs, ${shown(2 * settings.studIn)} in; got ${shown(lengthIn)}`
    );
  }
  return {
    name: row.text("Wall"),
    row: row.rowNumber,
    lengthIn,
    thicknessIn: settings.thicknessIn,
    top: wallTop(lengthIn, leftIn, rightIn, peak),
    leftEnd,
    rightEnd,
    nextWall: row.optionalText("Next wall"),
    belowIn: checkNumber("Below", row.optionalLength("Below") ?? settings.belowIn, {
      min: 0,
      max: 240,
      unit: "in",
    }),
    blockLineIn: readBlockLine(row, settings),
    spacingIn,
    from: row.isBlank("From") ? settings.from : checkSide("From", row.cell("From")),
    edgeIn: checkNumber(
      "Edge nailing",
      row.optionalLength("Edge nailing") ?? settings.edgeIn,
      LIMITS.nailSpacing
    ),
    fieldIn: checkNumber(
      "Field nailing",
      row.optionalLength("Field nailing") ?? settings.fieldIn,
      LIMITS.nailSpacing
    ),
    quantity: quantityOf(row),
    hasBottomSeam: !row.isBlank("Bottom seam") && yesNo("Bottom seam", row.cell("Bottom seam")),
    span: at("Length", () =>
      runSpan({ lengthIn, thicknessIn: settings.thicknessIn, leftEnd, rightEnd })
    ),
  };
}

/** Reads rows one by one; without `problems` the first bad row throws, with it they are listed. */
function eachRow<T>(
  label: string,
  rows: readonly TableRow[],
  read: (row: TableRow) => T,
  problems: RowProblem[] | undefined
): T[] {
  const result: T[] = [];
  for (const row of rows) {
    const wallCell = row.cell("Wall");
    const wall = wallCell === null || wallCell === undefined ? "" : String(wallCell).trim();
    const where = `${label} row ${row.rowNumber}${wall === "" ? "" : ` (wall ${wall})`}`;
    try {
      result.push(at(where, () => read(row)));
    } catch (error) {
      if (!problems || !isCalcError(error)) throw error;
      problems.push({ wall, message: error.message });
    }
  }
  return result;
}

/** True where the table has its headers and nothing is typed below them. */
export function hasNoWalls(table: Table): boolean {
  return readTable("walls", table, WALL_COLUMNS).rows.length === 0;
}

/**
 * Reads the Walls table.
 *
 * @throws {CalcError} out-of-range, wrong-kind: named by row and wall; two walls with one name
 */
export function readWalls(
  table: Table,
  settings: Settings,
  problems?: RowProblem[]
): { walls: Wall[]; unknownHeaders: readonly string[] } {
  const { rows, unknownHeaders } = readTable("walls", table, WALL_COLUMNS);
  if (rows.length === 0) throw outOfRange("walls must hold at least one wall; got none");
  const seen = new Map<string, number>();
  const walls = eachRow(
    "walls",
    rows,
    (row) => {
      const wall = readWall(row, settings);
      const before = seen.get(nameKey(wall.name));
      if (before !== undefined) {
        throw outOfRange(`Wall must be a name of its own; row ${before} has the same name`);
      }
      seen.set(nameKey(wall.name), row.rowNumber);
      return wall;
    },
    problems
  );
  return { walls, unknownHeaders };
}

/** The limit itself where a length misses it by no more than the noise of binary sums. */
function withoutHair(lengthIn: number, limitIn: number): number {
  return Math.abs(lengthIn - limitIn) <= TINY_IN ? limitIn : lengthIn;
}

function readOpening(
  row: TableRow,
  byName: ReadonlyMap<string, Wall>,
  earlier: readonly Opening[]
): Opening {
  const wallName = row.text("Wall");
  const wall = byName.get(nameKey(wallName));
  if (!wall) {
    throw outOfRange(`Wall must be a wall of the walls table; got ${shown(wallName)}`);
  }
  // a formula that counts back from the far end may leave a hair below 0
  const leftIn = checkNumber("From left", withoutHair(row.length("From left"), 0), {
    min: 0,
    below: LONGEST_WALL_IN,
    unit: "in",
  });
  const sillIn = checkNumber("Sill", withoutHair(row.length("Sill"), -wall.belowIn), {
    min: -wall.belowIn,
    below: HIGHEST_WALL_IN,
    unit: "in",
  });
  const widthIn = checkNumber("Width", row.length("Width"), LIMITS.wallLength);
  const heightIn = checkNumber("Height", row.length("Height"), LIMITS.wallHeight);
  const name = row.optionalText("Opening") ?? `row ${row.rowNumber}`;
  const opening: Opening = {
    wall: wall.name,
    name,
    row: row.rowNumber,
    leftIn,
    rightIn: leftIn + widthIn,
    bottomIn: sillIn,
    topIn: sillIn + heightIn,
    quantity: quantityOf(row),
  };
  if (opening.rightIn > wall.lengthIn + TINY_IN) {
    throw outOfRange(
      `From left + Width must be at most the wall's length, ${feetInches(wall.lengthIn)}; got ${feetInches(opening.rightIn)}`
    );
  }
  // the top of a wall has no dips, so its lowest point over an opening is at one of the jambs
  const roofIn = Math.min(heightAt(wall.top, leftIn), heightAt(wall.top, opening.rightIn));
  if (opening.topIn > roofIn + TINY_IN) {
    throw outOfRange(
      `Sill + Height must be at most the wall's height there, ${feetInches(Math.max(0, roofIn))}; got ${feetInches(opening.topIn)}`
    );
  }
  const other = earlier.find((each) => each.wall === wall.name && overlap(each, opening));
  if (other) throw outOfRange(`${name} overlaps ${other.name} of row ${other.row}`);
  return opening;
}

function overlap(a: Opening, b: Opening): boolean {
  return (
    a.leftIn < b.rightIn - TINY_IN &&
    b.leftIn < a.rightIn - TINY_IN &&
    a.bottomIn < b.topIn - TINY_IN &&
    b.bottomIn < a.topIn - TINY_IN
  );
}

/**
 * Reads the Openings table; a blank range is no openings.
 *
 * @throws {CalcError} out-of-range: an opening that leaves its wall, overlaps another or names a
 *   wall that is not there; wrong-kind: a cell that cannot be read
 */
export function readOpenings(
  table: Table,
  walls: readonly Wall[],
  problems?: RowProblem[]
): { openings: Opening[]; unknownHeaders: readonly string[] } {
  if (isBlankTable(checkTable("openings", table))) return { openings: [], unknownHeaders: [] };
  const { rows, unknownHeaders } = readTable("openings", table, OPENING_COLUMNS);
  const byName = new Map(walls.map((wall) => [nameKey(wall.name), wall]));
  const openings: Opening[] = [];
  eachRow("openings", rows, (row) => openings.push(readOpening(row, byName, openings)), problems);
  return { openings, unknownHeaders };
}

/** Height of the sheathing at a framing end, bottom lap included. */
export function cornerHeight(wall: Wall, side: Side): number {
  return heightAt(wall.top, side === "left" ? 0 : wall.lengthIn) + wall.belowIn;
}

/** Highest point of the sheathing above the deck. */
export function wallHeight(wall: Wall): number {
  return highest(wall.top);
}

export function wallPeak(wall: Wall): { xIn: number; heightIn: number } | undefined {
  return peakOf(wall.top);
}
