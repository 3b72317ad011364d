/**
 * The house workbook: seven sheets, blank or filled with a house. The same description builds the sample workbooks
 * and is written into an open workbook by the task pane.
 */
import { BACKING_METHODS } from "../core/backing.js";
import { ALL_CAUTIONS } from "../core/cautions.js";
import { SIDES, WALL_ENDS } from "../core/corners.js";
import { SETTINGS, settingList } from "../core/house/settings.js";
import { OPENING_COLUMNS, WALL_COLUMNS } from "../core/house/walls.js";
import { PENETRATION_BASES } from "../core/penetration.js";
import { CORNER_TAPE_METHODS } from "../core/tape.js";
import { columnLetters } from "../core/cell-address.js";
import {
  type CellInput,
  LOOK_FILL,
  SheetBuilder,
  type SheetTemplate,
  type StyleName,
  type TemplateColumn,
  WRONG_FILL,
  type WorkbookTemplate,
} from "./workbook.js";

/** What a house workbook starts with. Rows stand in the order of the sheets' columns, "" for a blank cell. */
export interface HouseInputs {
  readonly houseName: string;
  /** text year-month-day, or none */
  readonly releaseDate?: string;
  /** settings that differ from their defaults, by name without the unit */
  readonly settings: Readonly<Record<string, CellInput>>;
  readonly walls: readonly (readonly CellInput[])[];
  readonly openings: readonly (readonly CellInput[])[];
  /** wall shown on the Layout sheet */
  readonly layoutWall: string;
  /** item, size and price of a package, as the order names them */
  readonly prices: readonly (readonly CellInput[])[];
}

export const BLANK_HOUSE: HouseInputs = {
  houseName: "",
  settings: {},
  walls: [],
  openings: [],
  layoutWall: "",
  prices: [],
};

const YES_NO = ["yes", "no"];

/** Where things stand. Rows and columns are counted from 1. */
const SETTINGS_HEADER_ROW = 13;
const TABLE_HEADER_ROW = 5;
const FIRST_ROW = TABLE_HEADER_ROW + 1;
const LAST_WALL_ROW = 60;
const LAST_OPENING_ROW = 90;
/** where spilled tables start, their header row */
const SPILL_ROW = 5;
const CHECKS_SPILL_ROW = 16;
const CUTS_SPILL_ROW = 5;
const LAYOUT_SPILL_ROW = 8;
/** order lines that find their price */
const LAST_PRICED_ROW = 40;
/** far enough down for the pieces and findings of a large house */
const LAST_LONG_ROW = 3000;
/** rows under the tables that are looked at for walls typed too low */
const LAST_STRAY_ROW = 400;

const settings = settingList();
const FIRST_SETTING_ROW = SETTINGS_HEADER_ROW + 1;
const LAST_SETTING_ROW = SETTINGS_HEADER_ROW + settings.length;

function settingRow(name: string): number {
  const index = Object.values(SETTINGS).findIndex((each) => each.name === name);
  if (index < 0) throw new Error(`there is no setting ${name}`);
  return FIRST_SETTING_ROW + index;
}
/** Cell of a setting's value, seen from another sheet. */
function setting(name: string): string {
  return `Setup!$B$${settingRow(name)}`;
}

const wallColumn = columnFinder(WALL_COLUMNS, 1);
const openingColumn = columnFinder(OPENING_COLUMNS, 1);

function columnFinder(
  columns: readonly { readonly name: string }[],
  first: number
): (name: string) => string {
  return (name) => {
    const index = columns.findIndex((each) => each.name === name);
    if (index < 0) throw new Error(`there is no column ${name}`);
    return columnLetters(first + index);
  };
}

const lastWallLetter = columnLetters(WALL_COLUMNS.length);
const lastOpeningLetter = columnLetters(OPENING_COLUMNS.length);
const WALLS = `Walls!$A$${TABLE_HEADER_ROW}:$${lastWallLetter}$${LAST_WALL_ROW}`;
const OPENINGS = `Openings!$A$${TABLE_HEADER_ROW}:$${lastOpeningLetter}$${LAST_OPENING_ROW}`;
const SETUP = `Setup!$A$${SETTINGS_HEADER_ROW}:$B$${LAST_SETTING_ROW}`;
const WALL_NAMES = `Walls!$A$${FIRST_ROW}:$A$${LAST_WALL_ROW}`;
const NO_WALLS = `COUNTA(${WALL_NAMES})=0`;
/** What the tables say while no wall is typed. */
export const TYPE_WALLS = "Type the walls on the Walls sheet";

function houseFormula(name: string, ...before: string[]): string {
  return `=IF(${NO_WALLS},"${TYPE_WALLS}",SHEATH.${name}(${[...before, WALLS, OPENINGS, SETUP].join(",")}))`;
}

// --- Setup -----------------------------------------------------------------------------------------------------------

interface WorkedOut {
  readonly key: string;
  readonly label: string;
  readonly formula: string;
  readonly note: string;
  readonly style: StyleName;
}

/** A setting as it counts: its default where the cell is blank. */
function settingOr(name: string, fallback: string): string {
  const cell = `$B$${settingRow(name)}`;
  return `IF(${cell}="",${fallback},${cell})`;
}
function settingCell(name: string): string {
  return `$B$${settingRow(name)}`;
}

function fallbackOf(name: string): string {
  const { fallback } = settings[settingRow(name) - FIRST_SETTING_ROW] as (typeof settings)[number];
  return typeof fallback === "number" ? String(fallback) : `"${fallback}"`;
}

/** Figures of the house that the other sheets and the reader use; each a formula that can be changed. */
const WORKED_OUT: readonly WorkedOut[] = workedOutRows();

function workedOutRows(): WorkedOut[] {
  const rows: WorkedOut[] = [];
  const add = (
    key: string,
    label: string,
    formula: string,
    note: string,
    style: StyleName = label.endsWith(", in") ? "length" : "figure"
  ): void => {
    rows.push({ key, label, formula: `=${formula}`, note, style });
  };
  const cell = (key: string): string => {
    const index = rows.findIndex((each) => each.key === key);
    return `$G$${FIRST_SETTING_ROW + index}`;
  };
  const length = (name: string): string => `SHEATH.INCHES(${settingOr(name, fallbackOf(name))})`;
  const foam = settingCell("Foam");
  const panel = settingCell("Panel");
  const noFoam = `${foam}="none"`;
  add(
    "thickness",
    "Panel thickness, in",
    `IF(OR(${foam}="",${panel}=""),"fill in",IF(${noFoam},SHEATH.INCHES(${panel}),SHEATH.PANEL_THICKNESS(${foam},${panel})))`,
    "foam + panel: fill in both on the left"
  );
  /** blank as long as the thickness is missing */
  const whenThick = (formula: string): string => `IF(${cell("thickness")}="fill in","",${formula})`;
  add(
    "burn",
    "Burn at a past end, in",
    whenThick(cell("thickness")),
    "start the tape this far past its zero; at a short end hold back as much"
  );
  add("spacing", "Stud spacing, in", length("Spacing"), "where a wall gives none");
  add("stud", "Stud, in", length("Stud"), "");
  add(
    "first",
    "First stud from a past corner, in",
    whenThick(`${cell("spacing")}-${cell("stud")}/2-${cell("burn")}`),
    "near edge, from the framing corner"
  );
  add("from", "Lay out from", settingOr("From", fallbackOf("From")), "where a wall gives none");
  add("below", "Below, in", length("Below"), "where a wall gives none");
  add(
    "blockLine",
    "Block line, in",
    `IF(OR(${settingCell("Block line")}="",${settingCell("Block line")}="none"),"none",SHEATH.INCHES(${settingCell("Block line")}))`,
    "where a wall gives none"
  );
  add("edge", "Edge nailing, in", length("Edge nailing"), "where a wall gives none");
  add("field", "Field nailing, in", length("Field nailing"), "where a wall gives none");
  add(
    "penetration",
    "Into the stud, in",
    `IF(${settingCell("Penetration")}="",SHEATH.NAIL_PENETRATION_NEEDED(${settingOr("Penetration basis", fallbackOf("Penetration basis"))},${length("Nail diameter")}),SHEATH.INCHES(${settingCell("Penetration")}))`,
    "the engineer's schedule rules"
  );
  add(
    "nailNeeded",
    "Nail at least, in",
    whenThick(`SHEATH.NAIL_LENGTH(${cell("thickness")},${cell("penetration")})`),
    "thickness + into the stud"
  );
  add(
    "nailStocked",
    "Nail stocked, in",
    whenThick(`SHEATH.STOCK_NAIL(${cell("nailNeeded")},${settingCell("Nail lengths")})`),
    "next length up"
  );
  add(
    "nailInto",
    "It goes into the stud, in",
    whenThick(`SHEATH.NAIL_PENETRATION(${cell("nailStocked")},${cell("thickness")})`),
    "nail - thickness"
  );
  add(
    "cornerTape",
    "Corner tape at least, in",
    whenThick(
      `SHEATH.TAPE_WIDTH(${cell("thickness")},${settingOr("Corner tape", fallbackOf("Corner tape"))},${length("Tape lap")})`
    ),
    "outside corners"
  );
  add(
    "router",
    "Router bit at least, in",
    whenThick(`SHEATH.ROUTER_BIT(${cell("thickness")},${length("Router clearance")})`),
    "cutting length"
  );
  add(
    "backing",
    "Backing at an inside corner",
    whenThick(
      `SHEATH.BACKING_STUDS(1,${cell("thickness")},${settingOr("Backing", fallbackOf("Backing"))},${length("Nailing surface")},${cell("stud")})`
    ),
    "pieces behind the panel that stops short"
  );
  const foamR = settingCell("Foam R per inch");
  const cavityR = settingCell("Cavity R");
  const outdoor = settingCell("Outdoor temperature");
  const missing = '"not typed"';
  add(
    "foamR",
    "Foam R",
    `IF(${noFoam},0,IF(OR(${foam}="",${foamR}=""),${missing},SHEATH.FOAM_R(${foam},${foamR})))`,
    "foam x R per inch"
  );
  add(
    "wallU",
    "Whole-wall U",
    `IF(OR(ISTEXT(${cell("foamR")}),${cavityR}=""),${missing},SHEATH.WALL_U(${cavityR},${cell("foamR")},${length("Stud depth")},${settingOr("Framing fraction", fallbackOf("Framing fraction"))},${settingOr("Other layers R", fallbackOf("Other layers R"))},${settingOr("Wood R per inch", fallbackOf("Wood R per inch"))}))`,
    "framing and cavity side by side",
    "decimals"
  );
  const indoor = settingOr("Indoor temperature", fallbackOf("Indoor temperature"));
  add(
    "foamFace",
    "Foam face, F",
    `IF(${noFoam},"no foam",IF(OR(ISTEXT(${cell("foamR")}),${cavityR}="",${outdoor}=""),${missing},SHEATH.FOAM_FACE_TEMPERATURE(${indoor},${outdoor},${cavityR},${cell("foamR")})))`,
    "inner face of the foam on a winter day",
    "feet"
  );
  add(
    "dewPoint",
    "Dew point of the room, F",
    `SHEATH.DEW_POINT(${indoor},${settingOr("Indoor humidity", fallbackOf("Indoor humidity"))})`,
    "the foam face should stay warmer",
    "feet"
  );
  return rows;
}

/** Cell of a worked-out figure, seen from another sheet. */
function worked(key: string): string {
  const index = WORKED_OUT.findIndex((each) => each.key === key);
  if (index < 0) throw new Error(`there is no worked-out figure ${key}`);
  return `Setup!$G$${FIRST_SETTING_ROW + index}`;
}

/** Letters of a line of the instructions on Setup, and points of a line. */
const HOW_TO_LINE = 95;
const LINE_HEIGHT = 16;

const HOW_TO: readonly string[] = [
  "1. Setup: name the house and fill in Foam and Panel. Only the pale cells are typed into; any other setting left blank counts as its default.",
  "2. Walls: one row a wall, seen from outside, round the house. Each outside corner has one past and one flush end, each inside corner one tight and one short.",
  "3. Openings: one row each, measured from the wall's left framing corner and from the deck.",
  "4. Checks: put right what says fix, look at what says look. Then Order is what to buy, Layout the marks of one wall, Cuts what comes out of each panel.",
  "Plain numbers are inches. Tape-measure text does as well: 24'-6 1/2\", 9' 1-1/8, 1-7/8, 622.3 mm. Cells for lengths keep text, so 5/8 does not become a date.",
  "More rows: insert them inside the table and copy a row's formulas into them. Rows below the table's frame are not counted. Every formula is yours to change.",
];

/** Settings without a default: only who buys the panel knows them. */
const NEEDED_SETTINGS: readonly string[] = [SETTINGS.foamIn.name, SETTINGS.panelIn.name];

/** Settings with a fixed set of words. */
const SETTING_WORDS: Readonly<Record<string, readonly string[]>> = {
  [SETTINGS.turnPieces.name]: YES_NO,
  [SETTINGS.from.name]: SIDES,
  [SETTINGS.penetrationBasis.name]: PENETRATION_BASES,
  [SETTINGS.cornerTape.name]: CORNER_TAPE_METHODS,
  [SETTINGS.sillTape.name]: YES_NO,
  [SETTINGS.backing.name]: BACKING_METHODS,
};

function setupSheet(house: HouseInputs): SheetTemplate {
  const sheet = new SheetBuilder("Setup");
  sheet.put("A1", "House takeoff", "title");
  sheet.put("A2", "House", "label");
  sheet.put("B2", house.houseName, "input");
  HOW_TO.forEach((text, index) => {
    const row = 3 + index;
    sheet.put(`A${row}`, text, "instruction");
    sheet.merge(`A${row}:C${row}`);
    if (text.length > HOW_TO_LINE) sheet.rowHeight(row, 2 * LINE_HEIGHT);
  });
  const legendRow = 3 + HOW_TO.length + 1;
  sheet.put(`A${legendRow}`, "Typed", "input");
  sheet.put(`B${legendRow}`, '="Worked out"', "formula");
  sheet.put(`C${legendRow}`, "Cautions stand below the settings and on the Checks sheet.", "help");

  sheet.put(`A${legendRow + 1}`, "Release date", "label");
  sheet.put(`B${legendRow + 1}`, house.releaseDate, "dateInput");
  sheet.put(
    `C${legendRow + 1}`,
    "When its material is to be on site; may stay blank. A purchase for many houses is divided by it.",
    "note"
  );

  sheet.put(
    `A${SETTINGS_HEADER_ROW - 1}`,
    `=IF(OR(${NEEDED_SETTINGS.map((name) => `${settingCell(name)}=""`).join(",")}),"Fill in Foam and Panel, such as 1-1/4 and 5/8; Foam none is plain sheathing. They have no default.","")`,
    "label"
  );
  sheet.row(SETTINGS_HEADER_ROW, 1, ["Setting", "Value", "What it is", "Default"], "header");
  const known = new Set<string>();
  Object.values(SETTINGS).forEach((spec, index) => {
    const row = FIRST_SETTING_ROW + index;
    const { label, fallback, help } = settings[index] as (typeof settings)[number];
    const isLength = spec.unit === "in";
    const given = house.settings[spec.name];
    known.add(spec.name);
    sheet.put(`A${row}`, label, "formula");
    const isNeeded = NEEDED_SETTINGS.includes(spec.name);
    sheet.put(`B${row}`, given ?? fallback, isLength ? "lengthSettingInput" : "settingInput");
    sheet.put(`C${row}`, help, "note");
    const otherwise = isNeeded ? "no default: fill in" : fallback === "" ? "blank" : fallback;
    sheet.put(`D${row}`, otherwise, "note");
    const words = SETTING_WORDS[spec.name];
    if (words) {
      sheet.rule({
        area: `B${row}`,
        allow: { words },
        message: `${spec.name} is one of: ${words.join(", ")}`,
        strict: true,
      });
    }
  });
  const strange = Object.keys(house.settings).filter((name) => !known.has(name));
  if (strange.length > 0) throw new Error(`there is no setting ${strange.join(", ")}`);
  sheet.keepAsText(`B${FIRST_SETTING_ROW}:B${LAST_SETTING_ROW}`);

  sheet.row(SETTINGS_HEADER_ROW, 6, ["Worked out", "", "How"], "header");
  WORKED_OUT.forEach(({ label, formula, note, style }, index) => {
    const row = FIRST_SETTING_ROW + index;
    sheet.put(`F${row}`, label, "formula");
    sheet.put(`G${row}`, formula, style);
    sheet.put(`H${row}`, note, "note");
  });

  const cautionRow = LAST_SETTING_ROW + 2;
  sheet.put(`A${cautionRow}`, "Cautions", "label");
  ALL_CAUTIONS.forEach((text, index) => {
    const row = cautionRow + 1 + index;
    sheet.put(`A${row}`, text, "caution");
    sheet.merge(`A${row}:D${row}`);
    sheet.rowHeight(row, text.length > 220 ? 48 : 32);
  });
  sheet.widths([
    { width: 25 },
    { width: 24 },
    { width: 58 },
    { width: 33 },
    { width: 3 },
    { width: 31 },
    { width: 11 },
    { width: 62 },
  ]);
  sheet.freeze(0, 0);
  sheet.printAs({
    orientation: "landscape",
    titleRows: `${SETTINGS_HEADER_ROW}:${SETTINGS_HEADER_ROW}`,
  });
  return sheet.build();
}

// --- Walls -----------------------------------------------------------------------------------------------------------

interface WallFormula {
  readonly key: string;
  readonly header: string;
  readonly width: number;
  /** formula of a row, without its equals sign and guard */
  readonly formula: (row: number, cell: (key: string) => string) => string;
}

/** A wall needs its name, length, height and ends, and the house a thickness, before anything is worked out beside it. */
function isIncomplete(row: number): string {
  const cells = ["Wall", "Length", "Height", "Left end", "Right end"]
    .map((name) => `$${wallColumn(name)}${row}`)
    .join(",");
  return `OR(COUNTA(${cells})<5,ISTEXT(${thickness}))`;
}

function input(name: string, row: number): string {
  return `$${wallColumn(name)}${row}`;
}
function inputOr(name: string, row: number, fallback: string): string {
  return `IF(${input(name, row)}="",${fallback},${input(name, row)})`;
}

const thickness = worked("thickness");

/** Height of one end's corner, bottom lap included. */
function endHeight(side: "left" | "right", row: number, cell: (key: string) => string): string {
  const height =
    side === "left" ? input("Height", row) : inputOr("Right height", row, input("Height", row));
  return `SHEATH.INCHES(${height})+${cell("below")}`;
}

/** Tape of the ends of one kind: each corner is counted once, at the wall that has this end. */
function endTape(
  end: string,
  row: number,
  cell: (key: string) => string,
  tape: (height: string) => string
): string {
  return (["left", "right"] as const)
    .map(
      (side) =>
        `IF(${input(side === "left" ? "Left end" : "Right end", row)}="${end}",${tape(endHeight(side, row, cell))},0)`
    )
    .join("+");
}

/** `rake` where a wall has no one height, so that a plain figure is not taken for one. */
function plainOnly(cell: (key: string) => string, formula: string): string {
  return `IF(ISNUMBER(${cell("sheathed")}),${formula},"rake")`;
}

const WALL_FORMULAS: readonly WallFormula[] = [
  {
    key: "startEnd",
    header: "Start end",
    width: 9,
    formula: (row) =>
      `IF(${inputOr("From", row, worked("from"))}="right",${input("Right end", row)},${input("Left end", row)})`,
  },
  {
    key: "farEnd",
    header: "Far end",
    width: 9,
    formula: (row) =>
      `IF(${inputOr("From", row, worked("from"))}="right",${input("Left end", row)},${input("Right end", row)})`,
  },
  {
    key: "length",
    header: "Length, in",
    width: 10,
    formula: (row) => `SHEATH.INCHES(${input("Length", row)})`,
  },
  {
    key: "run",
    header: "Run, in",
    width: 10,
    formula: (row) =>
      `SHEATH.RUN_LENGTH(${input("Length", row)},${thickness},${input("Left end", row)},${input("Right end", row)})`,
  },
  {
    key: "runText",
    header: "Run",
    width: 14,
    formula: (_row, cell) => `SHEATH.FEET_INCHES(${cell("run")})`,
  },
  {
    key: "burn",
    header: "Burn at the start end, in",
    width: 11,
    formula: (_row, cell) =>
      `IF(${cell("startEnd")}="past",${worked("burn")},IF(${cell("startEnd")}="short",-${worked("burn")},0))`,
  },
  {
    key: "studs",
    header: "Studs",
    width: 8,
    formula: (row) =>
      `ROWS(SHEATH.STUD_MARKS(${input("Length", row)},${thickness},${input("Left end", row)},${input("Right end", row)},${inputOr("Spacing", row, worked("spacing"))},${inputOr("From", row, worked("from"))},${worked("stud")}))-1`,
  },
  {
    key: "below",
    header: "Below, in",
    width: 9,
    formula: (row) =>
      `IF(${input("Below", row)}="",${worked("below")},SHEATH.INCHES(${input("Below", row)}))`,
  },
  {
    key: "sheathed",
    header: "Sheathed height, in",
    width: 11,
    formula: (row, cell) =>
      `IF(OR(${input("Peak height", row)}<>"",SHEATH.INCHES(${inputOr("Right height", row, input("Height", row))})<>SHEATH.INCHES(${input("Height", row)})),"rake",SHEATH.INCHES(${input("Height", row)})+${cell("below")})`,
  },
  {
    key: "blockLine",
    header: "Block line, in",
    width: 9,
    formula: (row) =>
      `IF(${input("Block line", row)}="",${worked("blockLine")},IF(${input("Block line", row)}="none","none",SHEATH.INCHES(${input("Block line", row)})))`,
  },
  {
    key: "rip",
    header: "Rip height, in",
    width: 9,
    formula: (row, cell) =>
      plainOnly(
        cell,
        `IF(ISNUMBER(${cell("blockLine")}),IF(${cell("sheathed")}-${cell("below")}<${cell("blockLine")}+SHEATH.INCHES(${inputOr("Spacing", row, worked("spacing"))}),0,SHEATH.RIP_HEIGHT(${cell("blockLine")},${cell("below")})),0)`
      ),
  },
  {
    key: "panels",
    header: "Panels over the rips, this wall alone",
    width: 13,
    formula: (row, cell) =>
      plainOnly(
        cell,
        // a wall taller than the longest panel stacks courses of it
        `SHEATH.PANELS_PER_WALL(${input("Length", row)},${cell("sheathed")}-${cell("rip")},${thickness},${cell("startEnd")},${cell("farEnd")},${inputOr("Spacing", row, worked("spacing"))},IF(${cell("sheathed")}-${cell("rip")}>120,120,""))`
      ),
  },
  {
    key: "tape",
    header: "Seam tape, ft",
    width: 9,
    formula: (row, cell) =>
      plainOnly(
        cell,
        `SHEATH.TAPE_FEET(${input("Length", row)},${cell("sheathed")},${thickness},${cell("startEnd")},${cell("farEnd")},${cell("rip")},${inputOr("Spacing", row, worked("spacing"))})+IF(${input("Bottom seam", row)}="yes",${cell("run")}/12,0)`
      ),
  },
  {
    key: "nails",
    header: "Nails",
    width: 9,
    formula: (row, cell) =>
      plainOnly(
        cell,
        `SHEATH.NAILS_PER_WALL(${input("Length", row)},${cell("sheathed")},${thickness},${inputOr("Edge nailing", row, worked("edge"))},${inputOr("Field nailing", row, worked("field"))},${cell("startEnd")},${cell("farEnd")},${inputOr("Spacing", row, worked("spacing"))},${cell("rip")})`
      ),
  },
  {
    key: "cornerTape",
    header: "Outside corner tape, ft",
    width: 12,
    formula: (row, cell) =>
      endTape(
        "past",
        row,
        cell,
        (height) => `SHEATH.CORNER_TAPE_FEET(${height},1,${setting("Corner tape")})`
      ),
  },
  {
    key: "insideTape",
    header: "Inside corner tape, ft",
    width: 11,
    formula: (row, cell) =>
      endTape(
        "short",
        row,
        cell,
        (height) =>
          `SHEATH.INSIDE_CORNER_TAPE_FEET(${height},1,${setting("Corner piece")},${setting("Corner lap")})`
      ),
  },
  {
    key: "backing",
    header: "Backing pieces",
    width: 9,
    formula: (row) =>
      `SHEATH.BACKING_STUDS((${input("Left end", row)}="short")+(${input("Right end", row)}="short"),${thickness},${setting("Backing")},${setting("Nailing surface")},${worked("stud")})`,
  },
  {
    key: "count",
    header: "Walls like this",
    width: 9,
    formula: (row) => inputOr("Quantity", row, "1"),
  },
];

/** Inches and feet say so in their header. */
function beside(header: string): StyleName {
  if (header.endsWith(", in")) return "length";
  return header.endsWith(", ft") ? "feet" : "figure";
}

const FIRST_FORMULA_COLUMN = WALL_COLUMNS.length + 2;
const WALL_RESULT_COLUMN = FIRST_FORMULA_COLUMN + WALL_FORMULAS.length + 1;
const WALL_RESULTS: readonly TemplateColumn[] = [
  { width: 20, style: "spilled" },
  { width: 10, style: "spilledLength" },
  { width: 10, style: "spilledLength" },
  { width: 8, style: "spilled" },
  { width: 8, style: "spilledCount" },
  { width: 8, style: "spilledCount" },
  { width: 10, style: "spilledFeet" },
  { width: 9, style: "spilledCount" },
  { width: 9, style: "spilledCount" },
  { width: 9, style: "spilledCount" },
];

function formulaColumn(key: string): string {
  const index = WALL_FORMULAS.findIndex((each) => each.key === key);
  if (index < 0) throw new Error(`there is no wall formula ${key}`);
  return columnLetters(FIRST_FORMULA_COLUMN + index);
}
/** A column of the table that HOUSE_WALLS spills, below its header. */
function resultColumn(index: number): string {
  const letters = columnLetters(WALL_RESULT_COLUMN + index);
  return `Walls!$${letters}$${FIRST_ROW}:$${letters}$${LAST_WALL_ROW}`;
}
/** A column of the formulas beside the walls. */
function besideColumn(key: string): string {
  const letters = formulaColumn(key);
  return `Walls!$${letters}$${FIRST_ROW}:$${letters}$${LAST_WALL_ROW}`;
}

const WALL_WIDTHS: Readonly<Record<string, number>> = {
  Wall: 18,
  Length: 11,
  "Next wall": 16,
  Quantity: 11,
};

function inputStyle(column: { readonly name: string; readonly isLength?: boolean }): StyleName {
  return column.isLength ? "lengthInput" : "input";
}

function wallsSheet(house: HouseInputs): SheetTemplate {
  const sheet = new SheetBuilder("Walls");
  const lastRow = LAST_WALL_ROW;
  sheet.put("A1", '="Walls "&Setup!$B$2', "title");
  // beside the column that stays in sight, so that they scroll away in one piece
  [
    "One row a wall, seen from outside; the row below is the wall at its right end. Length: framing corner to framing corner. Height: deck to top of the top plate.",
    `Below: how far sheathing laps down past the deck. Block line: none on a wall without rips. Blank cells take the settings. Rows ${FIRST_ROW} to ${lastRow} count; insert inside.`,
    "Bottom seam: yes where the wall stands on the panels of a wall below (an upper story, a gable drawn by itself): its bottom edge is taped.",
  ].forEach((text, index) => {
    const row = 2 + index;
    sheet.put(`B${row}`, text, "instruction");
    sheet.merge(`B${row}:I${row}`);
    sheet.rowHeight(row, 2 * LINE_HEIGHT);
  });
  sheet.put(
    `${columnLetters(FIRST_FORMULA_COLUMN)}4`,
    "Each wall by itself as a plain rectangle, openings not taken off; the Order counts the house as a whole",
    "group"
  );
  const resultLetters = columnLetters(WALL_RESULT_COLUMN);
  sheet.put(
    `${resultLetters}4`,
    "The same walls in the house: openings, rakes and rips counted",
    "group"
  );
  sheet.row(
    TABLE_HEADER_ROW,
    1,
    WALL_COLUMNS.map((each) => each.name),
    "header"
  );
  sheet.row(
    TABLE_HEADER_ROW,
    FIRST_FORMULA_COLUMN,
    WALL_FORMULAS.map((each) => each.header),
    "header"
  );
  if (house.walls.length > lastRow - FIRST_ROW + 1) throw new Error("too many walls");
  for (let row = FIRST_ROW; row <= lastRow; row++) {
    WALL_COLUMNS.forEach((column, index) => {
      const content = house.walls[row - FIRST_ROW]?.[index];
      sheet.put(`${columnLetters(index + 1)}${row}`, content, inputStyle(column));
    });
    const cell = (key: string): string => `$${formulaColumn(key)}${row}`;
    WALL_FORMULAS.forEach((each) => {
      const guard = each.key === "startEnd" ? isIncomplete(row) : `${cell("startEnd")}=""`;
      const formula = `=IF(${guard},"",${each.formula(row, cell)})`;
      sheet.put(`${formulaColumn(each.key)}${row}`, formula, beside(each.header));
    });
  }
  sheet.put(`${resultLetters}${TABLE_HEADER_ROW}`, houseFormula("HOUSE_WALLS"), "header");
  for (let index = 1; index < WALL_RESULTS.length; index++) {
    sheet.put(
      `${columnLetters(WALL_RESULT_COLUMN + index)}${TABLE_HEADER_ROW}`,
      undefined,
      "header"
    );
  }

  const area = (name: string): string => {
    const letters = wallColumn(name);
    return `${letters}${FIRST_ROW}:${letters}${lastRow}`;
  };
  for (const name of ["Left end", "Right end"]) {
    sheet.rule({
      area: area(name),
      allow: { words: WALL_ENDS },
      message: "Outside corner: past or flush. Inside corner: tight or short. No corner: free.",
      strict: true,
    });
  }
  sheet.rule({
    area: area("From"),
    allow: { words: SIDES },
    message: "The end the crew lays out from: left or right.",
    strict: true,
  });
  sheet.rule({
    area: area("Next wall"),
    allow: { from: `=$A$${FIRST_ROW}:$A$${lastRow}` },
    message: "No wall on this sheet has that name yet. Keep it?",
    strict: false,
  });
  sheet.rule({
    area: area("Quantity"),
    allow: { wholeFrom: 1 },
    message: "How many walls like this: a whole number, 1 or more.",
    strict: true,
  });
  sheet.rule({
    area: area("Bottom seam"),
    allow: { words: YES_NO },
    message: "Does the wall stand on the panels of a wall below: yes, or no or blank.",
    strict: true,
  });
  sheet.keepAsText(`A${FIRST_ROW}:${lastWallLetter}${lastRow}`);
  const spacer: TemplateColumn = { width: 3 };
  sheet.widths([
    ...WALL_COLUMNS.map((each) => ({ width: WALL_WIDTHS[each.name] ?? 10 })),
    spacer,
    ...WALL_FORMULAS.map(({ width }) => ({ width })),
    spacer,
    ...WALL_RESULTS,
  ]);
  sheet.rowHeight(TABLE_HEADER_ROW, 62);
  sheet.freeze(TABLE_HEADER_ROW, 1);
  sheet.printAs({
    orientation: "landscape",
    titleRows: `${TABLE_HEADER_ROW}:${TABLE_HEADER_ROW}`,
    area: `A1:${lastWallLetter}${lastRow}`,
  });
  return sheet.build();
}

// --- Openings --------------------------------------------------------------------------------------------------------

function openingsSheet(house: HouseInputs): SheetTemplate {
  const sheet = new SheetBuilder("Openings");
  const lastRow = LAST_OPENING_ROW;
  sheet.put("A1", '="Openings "&Setup!$B$2', "title");
  sheet.put(
    "A2",
    "From left: left framing corner of the wall, seen from outside, to the rough opening. Sill: deck to the bottom of the opening, 0 for a door, less than 0 where it goes below the deck.",
    "help"
  );
  sheet.put(
    "A3",
    `Give each opening a row of its own. Rows ${FIRST_ROW} to ${lastRow} are counted; insert rows inside.`,
    "help"
  );
  sheet.row(
    TABLE_HEADER_ROW,
    1,
    OPENING_COLUMNS.map((each) => each.name),
    "header"
  );
  const first = OPENING_COLUMNS.length + 2;
  const letters = [0, 1, 2, 3].map((index) => columnLetters(first + index));
  const headers = ["Wall found", "Right edge, in", "Top, in", "Opening tape, ft"];
  sheet.row(TABLE_HEADER_ROW, first, headers, "header");
  sheet.rowHeight(TABLE_HEADER_ROW, 32);
  if (house.openings.length > lastRow - FIRST_ROW + 1) throw new Error("too many openings");
  for (let row = FIRST_ROW; row <= lastRow; row++) {
    OPENING_COLUMNS.forEach((column, index) => {
      const content = house.openings[row - FIRST_ROW]?.[index];
      sheet.put(`${columnLetters(index + 1)}${row}`, content, inputStyle(column));
    });
    const cell = (name: string): string => `$${openingColumn(name)}${row}`;
    const needed = ["Wall", "From left", "Sill", "Width", "Height"].map(cell).join(",");
    const whenComplete = (formula: string): string => `=IF(COUNTA(${needed})<5,"",${formula})`;
    const formulas = [
      `=IF(${cell("Wall")}="","",IF(COUNTIF(${WALL_NAMES},${cell("Wall")})>0,"yes","NO"))`,
      whenComplete(`SHEATH.INCHES(${cell("From left")})+SHEATH.INCHES(${cell("Width")})`),
      whenComplete(`SHEATH.INCHES(${cell("Sill")})+SHEATH.INCHES(${cell("Height")})`),
      whenComplete(
        `SHEATH.OPENING_TAPE_FEET(${cell("Width")},${cell("Height")},${cell("Quantity")},${setting("Opening extension")})`
      ),
    ];
    formulas.forEach((formula, index) =>
      sheet.put(`${letters[index]}${row}`, formula, beside(headers[index] as string))
    );
  }
  sheet.rule({
    area: `A${FIRST_ROW}:A${lastRow}`,
    allow: { from: `=${WALL_NAMES}` },
    message: "No wall on the Walls sheet has that name.",
    strict: true,
  });
  const quantity = openingColumn("Quantity");
  sheet.rule({
    area: `${quantity}${FIRST_ROW}:${quantity}${lastRow}`,
    allow: { wholeFrom: 1 },
    message: "A whole number, 1 or more.",
    strict: true,
  });
  sheet.mark(`${letters[0]}${FIRST_ROW}:${letters[0]}${lastRow}`, "NO", WRONG_FILL);
  sheet.keepAsText(`A${FIRST_ROW}:${lastOpeningLetter}${lastRow}`);
  sheet.widths([
    { width: 20 },
    { width: 22 },
    ...OPENING_COLUMNS.slice(2).map(() => ({ width: 11 })),
    { width: 3 },
    ...letters.map(() => ({ width: 11 })),
  ]);
  sheet.freeze(TABLE_HEADER_ROW, 2);
  sheet.printAs({
    orientation: "landscape",
    titleRows: `${TABLE_HEADER_ROW}:${TABLE_HEADER_ROW}`,
    area: `A1:${letters[3]}${lastRow}`,
  });
  return sheet.build();
}

/** Feet of opening tape on the Openings sheet. */
function openingTape(): string {
  const letters = columnLetters(OPENING_COLUMNS.length + 5);
  return `Openings!$${letters}$${FIRST_ROW}:$${letters}$${LAST_OPENING_ROW}`;
}

// --- Order -----------------------------------------------------------------------------------------------------------

const ORDER_COLUMNS: readonly TemplateColumn[] = [
  { width: 18, style: "spilled" },
  { width: 18, style: "spilled" },
  { width: 11, style: "spilledCount" },
  { width: 9, style: "spilled" },
  { width: 8, style: "spilledShare" },
  { width: 14, style: "spilledCount" },
  { width: 9, style: "spilledCount" },
  { width: 72, style: "spilledText" },
];

function orderSheet(house: HouseInputs): SheetTemplate {
  const sheet = new SheetBuilder("Order");
  const first = SPILL_ROW + 1;
  sheet.put("A1", '="Order "&Setup!$B$2', "title");
  sheet.put(
    "A2",
    "The whole house added up first, then rounded up to whole packages once. Confirm nail size, nailing and panel grade with the engineer of record.",
    "help"
  );
  sheet.put(`A${SPILL_ROW}`, houseFormula("HOUSE_ORDER"), "header");
  for (let index = 1; index < ORDER_COLUMNS.length; index++) {
    sheet.put(`${columnLetters(index + 1)}${SPILL_ROW}`, undefined, "header");
  }
  sheet.row(SPILL_ROW, 9, ["Price each", "Amount"], "header");
  const priced = (letters: string): string => `$${letters}$${first}:$${letters}$${LAST_PRICED_ROW}`;
  const prices = priced("N");
  /** the rows of the price table for the item and size of an order line */
  const found = (row: number): string => `${priced("L")},$A${row},${priced("M")},$B${row}`;
  for (let row = first; row <= LAST_PRICED_ROW; row++) {
    sheet.put(
      `I${row}`,
      `=IF($B${row}="","",IF(COUNTIFS(${found(row)},${prices},">0")=0,"no price",IF(COUNTIFS(${found(row)},${prices},">0")>1,"priced twice",SUMIFS(${prices},${found(row)},${prices},">0"))))`,
      "money"
    );
    sheet.put(`J${row}`, `=IF(ISNUMBER($I${row}),$G${row}*$I${row},"")`, "money");
  }
  sheet.put(
    "H3",
    `=IF(COUNTIF($I$${first}:$I$${LAST_PRICED_ROW},"no price")+COUNTIF($I$${first}:$I$${LAST_PRICED_ROW},"priced twice")>0,"Total of lines with a price","Total")`,
    "labelRight"
  );
  sheet.put("J3", `=SUM($J$${first}:$J$${LAST_PRICED_ROW})`, "money");
  sheet.put(
    "L3",
    `${house.prices.length > 0 ? "Example prices, replace with yours. " : ""}Price of one package, found by item and size as the order writes them`,
    "group"
  );
  sheet.row(SPILL_ROW, 12, ["Item", "Size", "Price"], "header");
  for (let row = first; row <= LAST_PRICED_ROW; row++) {
    const price = house.prices[row - first];
    sheet.put(`L${row}`, price?.[0], "input");
    sheet.put(`M${row}`, price?.[1], "input");
    sheet.put(`N${row}`, price?.[2], "moneyInput");
  }
  sheet.widths([
    ...ORDER_COLUMNS,
    { width: 11 },
    { width: 12 },
    { width: 3 },
    { width: 18 },
    { width: 18 },
    { width: 11 },
  ]);
  sheet.freeze(SPILL_ROW, 1);
  sheet.printAs({
    orientation: "landscape",
    titleRows: `${SPILL_ROW}:${SPILL_ROW}`,
    area: `A1:J${LAST_PRICED_ROW}`,
  });
  return sheet.build();
}

// --- Layout ----------------------------------------------------------------------------------------------------------

const LAYOUT_COLUMNS: readonly TemplateColumn[] = [
  { width: 10, style: "spilled" },
  { width: 11, style: "spilledLength" },
  { width: 11, style: "spilledLength" },
  { width: 11, style: "spilledLength" },
  { width: 13, style: "spilledLength" },
  { width: 16, style: "spilled" },
  { width: 13, style: "spilled" },
  { width: 11, style: "spilledLength" },
  { width: 12, style: "spilledLength" },
  { width: 9, style: "spilledFeet" },
  { width: 34, style: "spilled" },
];

function layoutSheet(house: HouseInputs): SheetTemplate {
  const sheet = new SheetBuilder("Layout");
  sheet.put("A1", '="Layout "&Setup!$B$2', "title");
  sheet.put("A3", "Wall", "label");
  sheet.put("B3", house.layoutWall, "input");
  sheet.merge("B3:D3");
  sheet.put("C3", undefined, "input");
  sheet.put("D3", undefined, "input");
  sheet.put("F3", "choose the wall", "help");
  const found = (key: string): string =>
    `=IFERROR(INDEX(${besideColumn(key)},MATCH($B$3,${WALL_NAMES},0)),"")`;
  sheet.row(4, 1, ["Start end", ""], "label");
  sheet.put("C4", found("startEnd"), "formula");
  sheet.put("E4", "Burn, in", "label");
  sheet.put("F4", found("burn"), "length");
  sheet.put("H4", "Run, in", "label");
  sheet.put("I4", found("run"), "length");
  sheet.put(
    "A5",
    "Center and edges are inches from the left framing corner. Tape reading is what the burned tape shows at the stud's center, from the start end. Past: start the tape past its zero by the burn.",
    "help"
  );
  sheet.put(
    "A6",
    "Long point is where the stud's high edge stands; stud length runs along it. A blank stud length leaves no room between the plates.",
    "help"
  );
  sheet.put(
    `A${LAYOUT_SPILL_ROW}`,
    `=IF(${NO_WALLS},"${TYPE_WALLS}",IF($B$3="","Choose a wall in B3",SHEATH.HOUSE_MARKS($B$3,${WALLS},${OPENINGS},${SETUP})))`,
    "header"
  );
  for (let index = 1; index < LAYOUT_COLUMNS.length; index++) {
    sheet.put(`${columnLetters(index + 1)}${LAYOUT_SPILL_ROW}`, undefined, "header");
  }
  sheet.rule({
    area: "B3",
    allow: { from: `=${WALL_NAMES}` },
    message: "No wall on the Walls sheet has that name.",
    strict: true,
  });
  sheet.widths(LAYOUT_COLUMNS);
  sheet.freeze(LAYOUT_SPILL_ROW, 0);
  sheet.printAs({
    orientation: "portrait",
    titleRows: `${LAYOUT_SPILL_ROW}:${LAYOUT_SPILL_ROW}`,
  });
  return sheet.build();
}

// --- Cuts ------------------------------------------------------------------------------------------------------------

const CUT_COLUMNS: readonly TemplateColumn[] = [
  { width: 8, style: "spilled" },
  { width: 46, style: "spilled" },
  { width: 24, style: "spilled" },
  { width: 10, style: "spilledLength" },
  { width: 10, style: "spilledLength" },
  { width: 10, style: "spilledLength" },
  { width: 10, style: "spilledLength" },
  { width: 9, style: "spilled" },
  { width: 11, style: "spilled" },
];
const PIECE_COLUMNS: readonly TemplateColumn[] = [
  { width: 20, style: "spilled" },
  { width: 24, style: "spilled" },
  { width: 10, style: "spilledLength" },
  { width: 10, style: "spilledLength" },
  { width: 10, style: "spilledLength" },
  { width: 11, style: "spilledLength" },
  { width: 12, style: "spilledLength" },
  { width: 26, style: "spilled" },
  { width: 30, style: "spilled" },
];
const PIECES_COLUMN = CUT_COLUMNS.length + 2;

function cutsSheet(): SheetTemplate {
  const sheet = new SheetBuilder("Cuts");
  sheet.put("A1", '="Cuts "&Setup!$B$2', "title");
  sheet.put(
    "A2",
    "What comes out of each panel, from its lower left corner, wood face up. S1, S2 … are pieces that drop out of openings and are used again. Panels may be turned end for end, never flipped over.",
    "help"
  );
  const piecesLetters = columnLetters(PIECES_COLUMN);
  sheet.put(
    `${piecesLetters}2`,
    "Where each piece stands: x from the left framing corner, y from the deck, seen from outside.",
    "help"
  );
  sheet.put("A3", "Cut plan", "group");
  sheet.put(`${piecesLetters}3`, "Pieces", "group");
  const spill = (column: number, name: string, columns: readonly TemplateColumn[]): void => {
    sheet.put(`${columnLetters(column)}${CUTS_SPILL_ROW}`, houseFormula(name), "header");
    for (let index = 1; index < columns.length; index++) {
      sheet.put(`${columnLetters(column + index)}${CUTS_SPILL_ROW}`, undefined, "header");
    }
  };
  spill(1, "HOUSE_CUTS", CUT_COLUMNS);
  spill(PIECES_COLUMN, "HOUSE_PIECES", PIECE_COLUMNS);
  sheet.widths([...CUT_COLUMNS, { width: 3 }, ...PIECE_COLUMNS]);
  sheet.freeze(CUTS_SPILL_ROW, 0);
  sheet.printAs({ orientation: "landscape", titleRows: `${CUTS_SPILL_ROW}:${CUTS_SPILL_ROW}` });
  return sheet.build();
}

// --- Checks ----------------------------------------------------------------------------------------------------------

interface CrossCheck {
  readonly what: string;
  readonly here: string;
  readonly there: string;
  readonly how: string;
}

function crossChecks(): CrossCheck[] {
  const lines = `Order!$A$${SPILL_ROW + 1}:$A$${LAST_PRICED_ROW}`;
  const needed = `Order!$C$${SPILL_ROW + 1}:$C$${LAST_PRICED_ROW}`;
  const count = besideColumn("count");
  const quantity = resultColumn(WALL_RESULTS.length - 1);
  const ends = (end: string): string =>
    ["Left end", "Right end"]
      .map((name) => {
        const letters = wallColumn(name);
        return `SUMIF(Walls!$${letters}$${FIRST_ROW}:$${letters}$${LAST_WALL_ROW},"${end}",${count})`;
      })
      .join("+");
  const long = (column: number): string => {
    const letters = columnLetters(column);
    return `Cuts!$${letters}$${CUTS_SPILL_ROW + 1}:$${letters}$${LAST_LONG_ROW}`;
  };
  const stray = `COUNTA(Walls!$A$${LAST_WALL_ROW + 1}:$A$${LAST_STRAY_ROW})+COUNTA(Openings!$A$${LAST_OPENING_ROW + 1}:$A$${LAST_STRAY_ROW})`;
  const isNo = (name: string, word: string): string => {
    const letters = wallColumn(name);
    return `(Walls!$${letters}$${FIRST_ROW}:$${letters}$${LAST_WALL_ROW}<>"${word}")`;
  };
  // walls that stand on others have no foam edge at the sill
  const atSill = `${isNo("Bottom seam", "yes")}*IF(${worked("blockLine")}="none",1,${isNo("Block line", "none")})`;
  return [
    {
      what: "Walls taken off = walls typed",
      here: `COUNT(${resultColumn(1)})`,
      there: `COUNTA(${WALL_NAMES})`,
      how: "a wall without a name is not counted",
    },
    {
      what: "Sum of runs, in = lengths + thickness x (past ends - short ends)",
      here: `SUMPRODUCT(${resultColumn(1)},${quantity})`,
      there: `SUMPRODUCT(${besideColumn("length")},${count})+${thickness}*(${ends("past")}-(${ends("short")}))`,
      how: "round a closed square-cornered plan: perimeter + 4 thicknesses",
    },
    {
      what: "Nails in the order = nails of the walls added up",
      here: `SUMIFS(${needed},${lines},"Nails")`,
      there: `SUMPRODUCT(${resultColumn(7)},${quantity})`,
      how: "needed, before the spare share",
    },
    {
      what: "Panels in the order = panels in the cut plan",
      here: `SUMIFS(${needed},${lines},"Panel")`,
      there: `MAX(${long(1)})`,
      how: "needed, before the spare share",
    },
    {
      what: "Pieces in the cut plan = pieces on the walls",
      here: `COUNT(${long(4)})`,
      there: `COUNT(${long(PIECES_COLUMN + 2)})`,
      how: "every piece is cut once",
    },
    {
      what: "Tape in the order, ft = seams + corners + openings + sill",
      here: `SUMIFS(${needed},${lines},"Tape")`,
      there: `SUMPRODUCT(${resultColumn(6)},${quantity})+SUMPRODUCT(${besideColumn("cornerTape")},${count})+SUMPRODUCT(${besideColumn("insideTape")},${count})+SUM(${openingTape()})+IF(${setting("Sill tape")}="yes",SUMPRODUCT(${resultColumn(1)},${quantity},${atSill})/12,0)`,
      how: "differs where two walls of a corner have different heights, a wall with openings stands more than once, or an opening cuts the edge at the sill",
    },
    {
      what: "Rows typed below the tables = none",
      here: stray,
      there: "0",
      how: "insert rows inside the tables instead",
    },
  ];
}

function checksSheet(): SheetTemplate {
  const sheet = new SheetBuilder("Checks");
  const first = CHECKS_SPILL_ROW + 1;
  sheet.put("A1", '="Checks "&Setup!$B$2', "title");
  sheet.put(
    "A2",
    "Put right what says fix before ordering; look at what says look. The upper table is added up with the spreadsheet's own formulas and should agree with ours.",
    "help"
  );
  sheet.row(4, 1, ["Agrees?", "Ours", "What is compared", "Added up here"], "header");
  crossChecks().forEach(({ what, here, there, how }, index) => {
    const row = 5 + index;
    sheet.put(
      `A${row}`,
      `=IF(${NO_WALLS},"",IF(ABS($B${row}-$D${row})<0.001,"yes","NO"))`,
      "spilled"
    );
    sheet.put(`B${row}`, `=IF(${NO_WALLS},0,${here})`, "spilledFeet");
    sheet.put(`C${row}`, `${what} (${how})`, "text");
    sheet.put(`D${row}`, `=IF(${NO_WALLS},0,${there})`, "feetLeft");
  });
  const lastCross = 5 + crossChecks().length - 1;
  const levels = `$A$${first}:$A$${LAST_STRAY_ROW}`;
  sheet.put(`A${lastCross + 2}`, "To fix", "label");
  sheet.put(`B${lastCross + 2}`, `=COUNTIF(${levels},"fix")`, "figure");
  sheet.put(`A${lastCross + 3}`, "To look at", "label");
  sheet.put(`B${lastCross + 3}`, `=COUNTIF(${levels},"look")`, "figure");
  if (lastCross + 3 >= CHECKS_SPILL_ROW) throw new Error("the cross-checks run into the findings");
  sheet.put(`A${CHECKS_SPILL_ROW}`, houseFormula("HOUSE_CHECKS"), "header");
  for (const letters of ["B", "C", "D"]) {
    sheet.put(`${letters}${CHECKS_SPILL_ROW}`, undefined, "header");
  }
  sheet.mark(`A5:A${lastCross}`, "NO", WRONG_FILL);
  sheet.mark(`A${first}:A${LAST_STRAY_ROW}`, "fix", WRONG_FILL);
  sheet.mark(`A${first}:A${LAST_STRAY_ROW}`, "look", LOOK_FILL);
  sheet.widths([
    { width: 13, style: "spilled" },
    { width: 20, style: "spilled" },
    { width: 84, style: "spilledText" },
    { width: 70, style: "spilledText" },
  ]);
  sheet.freeze(0, 0);
  sheet.printAs({ orientation: "landscape" });
  return sheet.build();
}

/** The house workbook, blank or filled. */
export function houseTemplate(house: HouseInputs = BLANK_HOUSE): WorkbookTemplate {
  return {
    title: house.houseName === "" ? "House takeoff" : `House takeoff: ${house.houseName}`,
    sheets: [
      setupSheet(house),
      wallsSheet(house),
      openingsSheet(house),
      orderSheet(house),
      layoutSheet(house),
      cutsSheet(),
      checksSheet(),
    ],
  };
}
