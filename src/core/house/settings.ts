/**
 * The settings of a house: names, defaults and what each may be. One list serves the reader, the
 * fresh table that HOUSE_SETTINGS spills, the workbooks and the docs.
 */
import { checkChoice, checkNumber, outOfRange, shown, wrongKind } from "../check.js";
import { BACKING_METHODS, NAILING_IN, type BackingMethod } from "../backing.js";
import { SIDES, type Side } from "../corners.js";
import {
  KERF_IN,
  LIMITS,
  PANEL_LENGTHS_IN,
  PANEL_WIDTH_IN,
  SPACING_IN,
  STUD_IN,
  checkThickness,
} from "../limits.js";
import { PANEL_GRAVITY, STUD_GRAVITY } from "../nail-lateral.js";
import { NAIL_LENGTHS_IN } from "../nails.js";
import { PENETRATION_BASES, type PenetrationBasis, penetrationRule } from "../penetration.js";
import { ROUTER_CLEARANCE_IN } from "../assembly.js";
import { PLATE_IN, USUAL_PLATES } from "../rake-studs.js";
import {
  CORNER_PIECE_IN,
  CORNER_TAPE_METHODS,
  type CornerTapeMethod,
  OPENING_EXTENSION_IN,
  PIECE_LAP_IN,
  SPARE_SHARE,
  TAPE_LAP_IN,
} from "../tape.js";
import { FRAMING_AT_16, OTHER_LAYERS_R, WOOD_R_PER_INCH } from "../thermal.js";
import { type LengthUnit, inchText, parseLength } from "../units.js";
import {
  type Cell,
  type TableSource,
  at,
  checkTable,
  headerParts,
  isBlank,
  isBlankTable,
  isNone,
  lengthUnit,
  nameKey,
  whereIs,
} from "./tables.js";

const YES_NO = ["yes", "no"] as const;

type Reader<T> = (name: string, value: Cell, unit: LengthUnit) => T;

export interface SettingSpec<T> {
  readonly name: string;
  /** unit shown after the name: in, F, R or nothing */
  readonly unit: string;
  /** what HOUSE_SETTINGS spills; "" is a setting left open, or one that has no default and must be typed */
  readonly fallback: string | number;
  readonly help: string;
  readonly read: Reader<T>;
}

function length(limits: Parameters<typeof checkNumber>[2]): Reader<number> {
  return (name, value, unit) => checkNumber(name, parseLength(name, value ?? null, unit), limits);
}
/**
 * A thickness that only the person who buys the panel knows: no default, and a blank says what to type. Some hosts
 * send a blank as 0, and no panel is 0 thick.
 */
function neededThickness(whatToType: string): Reader<number> {
  return (name, value, unit) => {
    if (isBlank(value)) throw wrongKind(`${name} is blank: ${whatToType}`);
    const thicknessIn = parseLength(name, value ?? null, unit);
    if (thicknessIn === 0) {
      throw outOfRange(`${name} is 0, which counts as a blank: ${whatToType}`);
    }
    return checkNumber(name, thicknessIn, LIMITS.thickness);
  };
}
/** The word none is the value given for it. */
function orNone<T, N>(none: N, read: Reader<T>): Reader<T | N> {
  return (name, value, unit) => (isNone(value) ? none : read(name, value, unit));
}
function number(limits: Parameters<typeof checkNumber>[2]): Reader<number> {
  return (name, value) => checkNumber(name, value, limits);
}
function choice<T extends string>(choices: readonly T[]): Reader<T> {
  return (name, value) => checkChoice(name, value, choices);
}
/** yes or no, or the TRUE and FALSE of a check box. */
export function yesNo(name: string, value: Cell): boolean {
  return typeof value === "boolean" ? value : checkChoice(name, value, YES_NO) === "yes";
}

/** A list in one cell: parts divided by semicolons, or by commas where there is no semicolon. */
function listParts(value: Cell): Cell[] {
  if (typeof value !== "string") return [value];
  return value
    .split(value.includes(";") ? ";" : ",")
    .map((part) => part.trim())
    .filter((part) => part !== "");
}
function lengths(limits: Parameters<typeof checkNumber>[2]): Reader<readonly number[]> {
  return (name, value, unit) => {
    const list = listParts(value).map((part) =>
      checkNumber(name, parseLength(name, part ?? null, unit), limits)
    );
    if (list.length === 0) throw wrongKind(`${name} must list at least one length; got a blank`);
    if (new Set(list).size !== list.length) {
      throw outOfRange(`${name} must not list a length twice; got ${shown(value)}`);
    }
    return list;
  };
}
function isDecimal(part: Cell): boolean {
  return typeof part === "string" && /^\d*\.?\d+$/.test(part);
}
function numbers(limits: Parameters<typeof checkNumber>[2]): Reader<readonly number[]> {
  return (name, value) =>
    listParts(value).map((part) =>
      checkNumber(name, isDecimal(part) ? Number(part) : part, limits)
    );
}
const word: Reader<string> = (name, value) => {
  if (typeof value === "boolean") throw wrongKind(`${name} must be text; got ${shown(value)}`);
  return String(value).trim();
};

function optional<T>(read: Reader<T>): Reader<T | undefined> {
  return (name, value, unit) => (isBlank(value) ? undefined : read(name, value, unit));
}

function spec<T>(
  name: string,
  unit: string,
  fallback: string | number,
  read: Reader<T>,
  help: string
): SettingSpec<T> {
  return { name, unit, fallback, help, read };
}

const listText = (list: readonly number[]): string =>
  list.map((each) => inchText(each).replace(" ", "-")).join(", ");

const COUNT = { min: 1, max: 1_000_000, whole: true } as const;

/** What a supplier has differs from yard to yard: a list shown here is only there to be overtyped. */
const EXAMPLE_STOCK = "example stock, replace with yours";

/**
 * Every setting. Stocked sizes, package sizes and spare shares are common practice, no source: they
 * are there to be changed.
 */
export const SETTINGS = {
  foamIn: spec(
    "Foam",
    "in",
    "",
    orNone(
      0,
      neededThickness("type the foam's thickness, such as 1-1/4, or none for plain sheathing")
    ),
    "foam thickness; none: plain sheathing; needed, no default"
  ),
  panelIn: spec(
    "Panel",
    "in",
    "",
    neededThickness("type the wood structural panel's thickness, such as 5/8"),
    "wood structural panel thickness; needed, no default"
  ),
  panelWidthIn: spec(
    "Panel width",
    "in",
    PANEL_WIDTH_IN,
    length(LIMITS.panelWidth),
    "width of a whole panel"
  ),
  panelLengthsIn: spec(
    "Panel lengths",
    "in",
    listText(PANEL_LENGTHS_IN),
    lengths(LIMITS.panelLength),
    `${EXAMPLE_STOCK}: lengths, in one cell`
  ),
  panelCosts: spec(
    "Panel costs",
    "",
    "",
    optional(numbers({ above: 0 })),
    "cost of a panel of each length, in the same order; blank: by area"
  ),
  panelsPerPackage: spec(
    "Panels per package",
    "",
    1,
    number(COUNT),
    `${EXAMPLE_STOCK}: panels in a package`
  ),
  panelExtra: spec("Panel extra", "", 0, number(LIMITS.share), "spare share of panels"),
  turnPieces: spec(
    "Turn pieces",
    "",
    "no",
    yesNo,
    "yes: small pieces may lie a quarter turn on the panel"
  ),
  kerfIn: spec("Saw cut", "in", KERF_IN, length(LIMITS.kerf), "width of a saw cut"),
  gapIn: spec(
    "Panel gap",
    "in",
    0,
    length({ min: 0, max: 1, unit: "in" }),
    "gap at panel edges where the panel's maker asks for one"
  ),
  smallestIn: spec(
    "Smallest piece",
    "in",
    "",
    optional(length(LIMITS.smallest)),
    "narrowest last piece; blank: one stud space"
  ),
  keepIn: spec(
    "Keep scrap from",
    "in",
    12,
    length({ above: 0, max: 120, unit: "in" }),
    "leftovers with both sides this long are worth keeping"
  ),
  spacingIn: spec(
    "Spacing",
    "in",
    SPACING_IN,
    length(LIMITS.spacing),
    "stud spacing where a wall gives none"
  ),
  studIn: spec("Stud", "in", STUD_IN, length(LIMITS.stud), "stud thickness"),
  from: spec<Side>(
    "From",
    "",
    "left",
    choice(SIDES),
    "end laid out from where a wall gives none: left or right"
  ),
  belowIn: spec(
    "Below",
    "in",
    0,
    length({ min: 0, max: 240, unit: "in" }),
    "how far sheathing laps down past the deck where a wall gives none"
  ),
  blockLineIn: spec(
    "Block line",
    "in",
    "",
    orNone(undefined, optional(length({ above: 0, max: 240, unit: "in" }))),
    "height of the blocking above the deck; blank: no rip course"
  ),
  bottomPlates: spec(
    "Bottom plates",
    "",
    USUAL_PLATES.bottomCount,
    number(LIMITS.plateCount),
    "for stud lengths"
  ),
  topPlates: spec(
    "Top plates",
    "",
    USUAL_PLATES.topCount,
    number(LIMITS.plateCount),
    "for stud lengths"
  ),
  plateIn: spec("Plate", "in", PLATE_IN, length(LIMITS.plate), "plate thickness"),
  edgeIn: spec(
    "Edge nailing",
    "in",
    6,
    length(LIMITS.nailSpacing),
    "from the engineer's schedule, where a wall gives none"
  ),
  fieldIn: spec(
    "Field nailing",
    "in",
    12,
    length(LIMITS.nailSpacing),
    "from the engineer's schedule, where a wall gives none"
  ),
  penetrationBasis: spec<PenetrationBasis>(
    "Penetration basis",
    "",
    "general",
    choice(PENETRATION_BASES),
    "general, shear-wall table or wind table; the engineer's schedule rules"
  ),
  penetrationGivenIn: spec(
    "Penetration",
    "in",
    "",
    optional(length(LIMITS.penetration)),
    "nail into the stud; blank: by the penetration basis"
  ),
  nailLengthsIn: spec(
    "Nail lengths",
    "in",
    listText(NAIL_LENGTHS_IN),
    lengths(LIMITS.nailLength),
    `${EXAMPLE_STOCK}: lengths, in one cell`
  ),
  nailDiameterIn: spec(
    "Nail diameter",
    "in",
    0.131,
    length(LIMITS.nailDiameter),
    "from the engineer's schedule"
  ),
  nailsPerBox: spec(
    "Nails per box",
    "",
    2000,
    number(COUNT),
    `${EXAMPLE_STOCK}: of the nail ordered`
  ),
  nailExtra: spec("Nail extra", "", SPARE_SHARE, number(LIMITS.share), "spare share of nails"),
  cornerTape: spec<CornerTapeMethod>(
    "Corner tape",
    "",
    "two-layer",
    choice(CORNER_TAPE_METHODS),
    "two-layer or single"
  ),
  tapeLapIn: spec("Tape lap", "in", TAPE_LAP_IN, length(LIMITS.tapeLap), "lap onto each panel"),
  tapeWidthsIn: spec(
    "Tape widths",
    "in",
    "3, 4, 6",
    lengths({ above: 0, max: 48, unit: "in" }),
    `${EXAMPLE_STOCK}: widths, in one cell`
  ),
  feetPerRoll: spec(
    "Feet per roll",
    "",
    100,
    number({ above: 0, max: 10_000 }),
    `${EXAMPLE_STOCK}: of every width`
  ),
  tapeExtra: spec("Tape extra", "", SPARE_SHARE, number(LIMITS.share), "spare share of tape"),
  cornerPieceIn: spec(
    "Corner piece",
    "in",
    CORNER_PIECE_IN,
    length(LIMITS.cornerPiece),
    "length of the short pieces at inside corners"
  ),
  cornerLapIn: spec(
    "Corner lap",
    "in",
    PIECE_LAP_IN,
    length({ min: 0, max: 120, unit: "in" }),
    "overlap of two pieces of tape"
  ),
  extensionIn: spec(
    "Opening extension",
    "in",
    OPENING_EXTENSION_IN,
    length(LIMITS.openingExtension),
    "head and sill tape past each jamb"
  ),
  sillTape: spec("Sill tape", "", "no", yesNo, "yes: tape over the bottom edge at the sill plate"),
  backing: spec<BackingMethod>(
    "Backing",
    "",
    "stud",
    choice(BACKING_METHODS),
    "stud or channel at inside corners"
  ),
  nailingIn: spec(
    "Nailing surface",
    "in",
    NAILING_IN,
    length(LIMITS.nailing),
    "wanted behind the panel that stops short"
  ),
  lumberLengthsIn: spec(
    "Lumber lengths",
    "in",
    "96, 120, 144, 192",
    lengths(LIMITS.panelLength),
    `${EXAMPLE_STOCK}: lengths, in one cell`
  ),
  lumberExtra: spec(
    "Lumber extra",
    "",
    SPARE_SHARE,
    number(LIMITS.share),
    "spare share of blocking"
  ),
  routerClearanceIn: spec(
    "Router clearance",
    "in",
    ROUTER_CLEARANCE_IN,
    length(LIMITS.clearance),
    "bit past the panel"
  ),
  routerCutIn: spec(
    "Router cut",
    "in",
    KERF_IN,
    length({ min: 0, max: 2, unit: "in" }),
    "lost on each side of a piece that drops out of an opening"
  ),
  studDepthIn: spec(
    "Stud depth",
    "in",
    5.5,
    length(LIMITS.studDepth),
    "for the energy and moisture checks"
  ),
  climateZone: spec(
    "Climate zone",
    "",
    "",
    optional(word),
    "as 5, 5A or Marine 4; blank: energy and moisture are not checked"
  ),
  cavityR: spec(
    "Cavity R",
    "R",
    "",
    optional(number(LIMITS.cavityR)),
    "insulation between the studs; an empty bay is about 0.91"
  ),
  rPerInch: spec(
    "Foam R per inch",
    "R",
    "",
    optional(number(LIMITS.rPerInch)),
    "from the foam's label; cold foam insulates less"
  ),
  framingShare: spec(
    "Framing fraction",
    "",
    FRAMING_AT_16,
    number(LIMITS.framing),
    "share of wall that is framing: 0.25 at 16 in, 0.22 at 24 in"
  ),
  indoorF: spec("Indoor temperature", "F", 70, number(LIMITS.roomF), "room in winter"),
  humidity: spec(
    "Indoor humidity",
    "",
    0.35,
    number({ ...LIMITS.humidity, hint: "35 % is 0.35" }),
    "room in winter, 0 to 1"
  ),
  otherR: spec(
    "Other layers R",
    "R",
    OTHER_LAYERS_R,
    number({ ...LIMITS.layerR, above: 0 }),
    "films, gypsum, panel and siding together"
  ),
  woodRPerInch: spec(
    "Wood R per inch",
    "R",
    WOOD_R_PER_INCH,
    number(LIMITS.woodRPerInch),
    "of the studs"
  ),
  degreeDays: spec(
    "Heating degree days",
    "",
    "",
    optional(number({ ...LIMITS.degreeDays, above: 0 })),
    "below 65 F in a year; blank: no estimate of heat saved"
  ),
  outdoorF: spec(
    "Outdoor temperature",
    "F",
    "",
    optional(number(LIMITS.outdoorF)),
    "winter design temperature; blank: dew point is not checked"
  ),
  studGravity: spec(
    "Stud gravity",
    "",
    STUD_GRAVITY,
    number(LIMITS.gravity),
    "specific gravity, for the nail comparison"
  ),
  panelGravity: spec(
    "Panel gravity",
    "",
    PANEL_GRAVITY,
    number(LIMITS.gravity),
    "specific gravity, for the nail comparison"
  ),
} as const;

type Specs = typeof SETTINGS;
/** Settings read and checked, by their names in code. */
export type Settings = {
  readonly [K in keyof Specs]: Specs[K] extends SettingSpec<infer T> ? T : never;
} & {
  /** foam and panel, or the panel alone where the foam is none, in */
  readonly thicknessIn: number;
  /** least penetration into the stud, given or by the basis, in */
  readonly penetrationIn: number;
  /** names set by the user */
  readonly given: readonly string[];
  readonly unknown: readonly string[];
};

/** False where Foam is none: the panel is plain sheathing. */
export function hasFoam(settings: Settings): boolean {
  return settings.foamIn > 0;
}

const ALL = Object.entries(SETTINGS) as [keyof Specs, SettingSpec<unknown>][];
const BY_KEY = new Map(ALL.map(([code, each]) => [nameKey(each.name), { code, each }]));

/** How a setting's name is written in a table. */
export function settingLabel(each: { readonly name: string; readonly unit: string }): string {
  return each.unit === "" ? each.name : `${each.name} (${each.unit})`;
}

/**
 * A fresh settings table: Setting, Value.
 *
 * @returns the header and one row a setting: its name with its unit, and its default; an empty text where it may stay blank, and for
 *   Foam and Panel, which have none
 * @shape rows of two cells
 * @throws nothing
 * @source R of the other layers and of wood: ASHRAE 90.1-2016 A3.4; gravities: NDS-2018 Tables 12.3.3A and 12.3.3B; the
 *   other defaults: common practice, no source
 * @example settingsTable()[1] // => ["Foam (in)", ""]
 */
export function settingsTable(): (string | number)[][] {
  return [["Setting", "Value"], ...ALL.map(([, each]) => [settingLabel(each), each.fallback])];
}

/**
 * Every setting for docs and workbooks: what it is called, its default and what it is.
 *
 * @returns one row a setting, in the order of {@link settingsTable}; its unit stands in the label
 * @shape rows of label, fallback, help
 * @throws nothing
 * @source as settingsTable
 * @example settingList()[0] // => { label: "Foam (in)", fallback: "", help: "foam thickness; none: plain sheathing; needed, no default" }
 */
export function settingList(): { label: string; fallback: string | number; help: string }[] {
  return ALL.map(([, each]) => ({
    label: settingLabel(each),
    fallback: each.fallback,
    help: each.help,
  }));
}

/**
 * Reads a two-column settings table. A blank value or a name not listed falls back to its default,
 * where it has one; unknown names are kept for HOUSE_CHECKS.
 *
 * @throws {CalcError} out-of-range, wrong-kind: a value outside its limits, a name twice, Foam or Panel blank
 */
export function readSettings(source: TableSource): Settings {
  const values = new Map<
    keyof Specs,
    { cell: Cell; unit: LengthUnit; where: string; row: number }
  >();
  const unknown: string[] = [];
  const given: string[] = [];
  const table = checkTable("settings", source, 2);
  if (!isBlankTable(table) && table.every((row) => row.length < 2)) {
    throw wrongKind("settings must be a range of two columns, name and value; got one column");
  }
  table.forEach((row, index) => {
    const nameCell = row[0];
    if (row.slice(0, 2).every(isBlank)) return;
    const where = whereIs("settings", source, index, 1);
    if (isBlank(nameCell)) throw wrongKind(`${where}: the name is blank beside ${shown(row[1])}`);
    const name = String(nameCell).trim();
    if (index === 0 && ["setting", "name", "settings"].includes(nameKey(name))) return;
    const { key, unit } = headerParts(name);
    const found = BY_KEY.get(key) ?? BY_KEY.get(nameKey(name));
    if (!found) {
      unknown.push(name);
      return;
    }
    if (values.has(found.code)) throw outOfRange(`${where}: ${found.each.name} stands twice`);
    const cell = row[1];
    const named = `${where} (${found.each.name})`;
    const lengthIs = found.each.unit === "in" ? lengthUnit(unit, named) : "in";
    values.set(found.code, { cell, unit: lengthIs, where, row: index });
    if (!isBlank(cell)) given.push(found.each.name);
  });
  const read: Record<string, unknown> = {};
  for (const [code, each] of ALL) {
    const value = values.get(code);
    const useDefault = value === undefined || isBlank(value.cell);
    const cell = useDefault ? each.fallback : value.cell;
    const unit = useDefault ? "in" : value.unit;
    const where = value?.where ?? `settings (no row ${each.name})`;
    read[code] = at(
      where,
      () => each.read(each.name, cell, unit),
      value && { table: "settings", row: value.row, column: 1 }
    );
  }
  const settings = { ...read, given, unknown } as unknown as Omit<
    Settings,
    "thicknessIn" | "penetrationIn"
  >;
  const { panelCosts, panelLengthsIn } = settings;
  if (panelCosts && panelCosts.length !== panelLengthsIn.length) {
    throw outOfRange(
      `settings: Panel costs must list one cost for each of the ${panelLengthsIn.length} panel lengths; got ${panelCosts.length}`
    );
  }
  if (settings.cornerLapIn >= settings.cornerPieceIn) {
    throw outOfRange(
      `settings: Corner lap must be less than the Corner piece, ${shown(settings.cornerPieceIn)} in; got ${shown(settings.cornerLapIn)}`
    );
  }
  const thicknessIn = at("settings", () =>
    checkThickness("Foam + Panel", settings.foamIn + settings.panelIn)
  );
  const penetrationIn =
    settings.penetrationGivenIn ??
    at("settings", () => penetrationRule(settings.penetrationBasis, settings.nailDiameterIn).value);
  return { ...settings, thicknessIn, penetrationIn };
}
