/** The Walls and Openings tables, read into checked rows. */
import {
  type CalcErrorCode,
  TINY_IN,
  checkNumber,
  isCalcError,
  outOfRange,
  shown,
  wrongKind,
} from "../check.js";
import { type Side, type WallEnd, type RunSpan, checkEnd, checkSide, runSpan } from "../corners.js";
import { HIGHEST_WALL_IN, LIMITS, LONGEST_WALL_IN, checkModule } from "../limits.js";
import { feetInches } from "../units.js";
import { type WallTop, heightAt, highest, peakOf, wallTop } from "../wall-top.js";
import { type Settings, yesNo } from "./settings.js";
import {
  type Cell,
  type CellOf,
  type ColumnSpec,
  type TableRow,
  type TableSource,
  checkTable,
  isBlank,
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
  /** row in the table, the header being 0 */
  readonly row: number;
  /** how a message names the wall's row: Walls row 7 (wall South) */
  readonly where: string;
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

/** A row that could not be read or built. */
export interface RowProblem {
  readonly wall: string;
  readonly code: CalcErrorCode;
  /** what is wrong, the row or cell and the wall in front */
  readonly message: string;
  readonly cell: CellOf;
}

const QUANTITY = { min: 1, max: 10_000, whole: true } as const;

function quantityOf(row: TableRow): number {
  if (row.isBlank("Quantity")) return 1;
  return row.read("Quantity", () =>
    checkNumber("Quantity", row.cell("Quantity"), {
      ...QUANTITY,
      hint: "delete the row or leave the cell blank",
    })
  );
}

/** Blank takes the setting; `none` is a wall without a rip course, as on an upper story. */
function readBlockLine(row: TableRow, settings: Settings): number | undefined {
  if (row.isBlank("Block line")) return settings.blockLineIn;
  if (isNone(row.cell("Block line"))) return undefined;
  return row.length("Block line", { above: 0, max: 240, unit: "in" });
}

function readWall(row: TableRow, settings: Settings): Wall {
  const lengthIn = row.length("Length", LIMITS.wallLength);
  const heightLimits = LIMITS.endHeight;
  const leftIn = row.length("Height", heightLimits);
  const rightIn = row.optionalLength("Right height", heightLimits) ?? leftIn;
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
  const end = (name: "Left end" | "Right end"): WallEnd =>
    row.read(name, () => checkEnd(name, row.cell(name)));
  const [leftEnd, rightEnd] = [end("Left end"), end("Right end")];
  const spacingIn = row.optionalLength("Spacing", LIMITS.spacing) ?? settings.spacingIn;
  row.read("Spacing", () => checkModule(spacingIn, settings.panelWidthIn));
  if (lengthIn < 2 * settings.studIn - TINY_IN) {
    row.read("Length", () => {
      throw outOfRange(
        `Length must be at least two studs, ${shown(2 * settings.studIn)} in; got ${shown(lengthIn)}`
      );
    });
  }
  const nailing = (name: "Edge nailing" | "Field nailing"): number | undefined =>
    row.optionalLength(name, LIMITS.nailSpacing);
  const name = row.text("Wall");
  return {
    name,
    row: row.index,
    where: row.where() + wallNamed(name),
    lengthIn,
    thicknessIn: settings.thicknessIn,
    top: wallTop(lengthIn, leftIn, rightIn, peak),
    leftEnd,
    rightEnd,
    nextWall: row.optionalText("Next wall"),
    belowIn: row.optionalLength("Below", { min: 0, max: 240, unit: "in" }) ?? settings.belowIn,
    blockLineIn: readBlockLine(row, settings),
    spacingIn,
    from: row.isBlank("From")
      ? settings.from
      : row.read("From", () => checkSide("From", row.cell("From"))),
    edgeIn: nailing("Edge nailing") ?? settings.edgeIn,
    fieldIn: nailing("Field nailing") ?? settings.fieldIn,
    quantity: quantityOf(row),
    hasBottomSeam:
      !row.isBlank("Bottom seam") &&
      row.read("Bottom seam", () => yesNo("Bottom seam", row.cell("Bottom seam"))),
    span: row.read("Length", () =>
      runSpan({ lengthIn, thicknessIn: settings.thicknessIn, leftEnd, rightEnd })
    ),
  };
}

/** How a message names the wall a row is about. */
function wallNamed(wall: string): string {
  return wall === "" ? "" : ` (wall ${wall})`;
}

/** Reads rows one by one; those that cannot be read are listed. */
function eachRow<T>(
  rows: readonly TableRow[],
  read: (row: TableRow) => T
): { read: T[]; problems: RowProblem[] } {
  const result: T[] = [];
  const problems: RowProblem[] = [];
  for (const row of rows) {
    const wallCell = row.cell("Wall");
    const wall = isBlank(wallCell) ? "" : String(wallCell).trim();
    try {
      result.push(row.named(wallNamed(wall), () => read(row)));
    } catch (error) {
      if (!isCalcError(error)) throw error;
      problems.push({ wall, code: error.code, message: error.message, cell: row.cellOf(error) });
    }
  }
  return { read: result, problems };
}

/** True where the table has its headers and nothing is typed below them. */
export function hasNoWalls(table: TableSource): boolean {
  return readTable("walls", table, WALL_COLUMNS).rows.length === 0;
}

/** What a table holds: the rows that can be read, why the others cannot, and headers that mean nothing. */
interface Reading<T> {
  readonly read: readonly T[];
  readonly problems: readonly RowProblem[];
  readonly unknownHeaders: readonly string[];
}

/**
 * Reads the Walls table. A row that cannot be read is a problem named by its row or cell and its wall; so is the second
 * of two walls with one name.
 *
 * @throws {CalcError} out-of-range, wrong-kind: the table itself cannot be read, or has no wall
 */
export function readWalls(table: TableSource, settings: Settings): Reading<Wall> {
  const { rows, unknownHeaders } = readTable("walls", table, WALL_COLUMNS);
  if (rows.length === 0) throw outOfRange("walls must hold at least one wall; got none");
  const seen = new Map<string, TableRow>();
  const walls = eachRow(rows, (row) => {
    const wall = readWall(row, settings);
    const before = seen.get(nameKey(wall.name));
    if (before !== undefined) {
      row.read("Wall", () => {
        throw outOfRange(
          `Wall must be a name of its own; ${before.where("Wall")} has the same name`
        );
      });
    }
    seen.set(nameKey(wall.name), row);
    return wall;
  });
  return { ...walls, unknownHeaders };
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
    return row.read("Wall", () => {
      throw outOfRange(`Wall must be a wall of the walls table; got ${shown(wallName)}`);
    });
  }
  // a formula that counts back from the far end may leave a hair below the least
  const fromLeast = (name: "From left" | "Sill", leastIn: number, mostIn: number): number =>
    row.length(name, { min: leastIn, below: mostIn, unit: "in" }, (lengthIn) =>
      withoutHair(lengthIn, leastIn)
    );
  const leftIn = fromLeast("From left", 0, LONGEST_WALL_IN);
  const sillIn = fromLeast("Sill", -wall.belowIn, HIGHEST_WALL_IN);
  const widthIn = row.length("Width", LIMITS.wallLength);
  const heightIn = row.length("Height", LIMITS.wallHeight);
  const name = row.optionalText("Opening") ?? row.where();
  const opening: Opening = {
    wall: wall.name,
    name,
    row: row.index,
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
  if (other)
    throw outOfRange(`${name} overlaps ${other.name} of ${row.where("From left", other.row)}`);
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
 * Reads the Openings table; a blank range is no openings. An opening that leaves its wall, overlaps another or names a
 * wall that is not there is a problem of its row.
 *
 * @throws {CalcError} out-of-range, wrong-kind: the table itself cannot be read
 */
export function readOpenings(table: TableSource, walls: readonly Wall[]): Reading<Opening> {
  if (isBlankTable(checkTable("openings", table))) {
    return { read: [], problems: [], unknownHeaders: [] };
  }
  const { rows, unknownHeaders } = readTable("openings", table, OPENING_COLUMNS);
  const byName = new Map(walls.map((wall) => [nameKey(wall.name), wall]));
  const before: Opening[] = [];
  const openings = eachRow(rows, (row) => {
    const opening = readOpening(row, byName, before);
    before.push(opening);
    return opening;
  });
  return { ...openings, unknownHeaders };
}

/** Finds a wall by name, case and spaces ignored. */
export function findWall(walls: readonly Wall[], name: Cell): Wall {
  if (typeof name !== "string" && typeof name !== "number") {
    throw wrongKind(`wall must be the name of a wall; got ${shown(name)}`);
  }
  const wall = walls.find((each) => nameKey(each.name) === nameKey(String(name)));
  if (!wall) {
    const names = walls
      .slice(0, 12)
      .map((each) => each.name)
      .join(", ");
    throw outOfRange(`wall must be one of ${names}; got ${shown(name)}`);
  }
  return wall;
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
