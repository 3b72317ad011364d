/** What changed from one revision of a house to the next: walls, openings, settings and order, by name. */
import { TINY_IN } from "../check.js";
import { feetInches, inchText } from "../units.js";
import type { OrderLine } from "./order.js";
import { SETTINGS, type Settings } from "./settings.js";
import { nameKey } from "./tables.js";
import type { HouseTakeoff } from "./takeoff.js";
import type { Opening, Wall } from "./walls.js";

export type ChangeKind = "added" | "removed" | "renamed" | "changed";

export interface HouseChange {
  /** Wall, Opening, Setting or Order */
  readonly what: "Wall" | "Opening" | "Setting" | "Order";
  readonly name: string;
  readonly kind: ChangeKind;
  /** column of the table, such as Length; "" for a row as a whole */
  readonly field: string;
  /** as a person reads it, lengths in feet and inches; "" where there was none */
  readonly before: string;
  readonly after: string;
  /** after less before, in words; "" where that says nothing */
  readonly difference: string;
}

/** What is compared of a house. */
export interface HouseRevision {
  readonly house: Pick<HouseTakeoff, "walls" | "openings" | "settings">;
  readonly order: readonly Pick<OrderLine, "item" | "size" | "needed" | "unit" | "order">[];
}

type Value = number | string | undefined;

interface Field<T> {
  readonly name: string;
  readonly isLength: boolean;
  readonly of: (row: T) => Value;
  /** setting that stands in where the cell is blank */
  readonly setting?: (settings: Settings) => Value;
}

/** Smallest fraction in which lengths are shown, an inch divided by this. */
const FINEST = 64;

function lengthField<T>(
  name: string,
  of: (row: T) => Value,
  setting?: Field<T>["setting"]
): Field<T> {
  return { name, isLength: true, of, ...(setting ? { setting } : {}) };
}
function plainField<T>(
  name: string,
  of: (row: T) => Value,
  setting?: Field<T>["setting"]
): Field<T> {
  return { name, isLength: false, of, ...(setting ? { setting } : {}) };
}

const peakOf = (wall: Wall): Wall["top"][number] | undefined =>
  wall.top.length > 2 ? wall.top[1] : undefined;

const WALL_FIELDS: readonly Field<Wall>[] = [
  lengthField("Length", (wall) => wall.lengthIn),
  lengthField("Height", (wall) => wall.top[0]?.heightIn),
  lengthField("Right height", (wall) => wall.top.at(-1)?.heightIn),
  lengthField("Peak height", (wall) => peakOf(wall)?.heightIn),
  lengthField("Peak at", (wall) => peakOf(wall)?.xIn),
  plainField("Left end", (wall) => wall.leftEnd),
  plainField("Right end", (wall) => wall.rightEnd),
  plainField("Next wall", (wall) => wall.nextWall),
  lengthField(
    "Below",
    (wall) => wall.belowIn,
    (settings) => settings.belowIn
  ),
  lengthField(
    "Block line",
    (wall) => wall.blockLineIn,
    (settings) => settings.blockLineIn
  ),
  lengthField(
    "Spacing",
    (wall) => wall.spacingIn,
    (settings) => settings.spacingIn
  ),
  plainField(
    "From",
    (wall) => wall.from,
    (settings) => settings.from
  ),
  lengthField(
    "Edge nailing",
    (wall) => wall.edgeIn,
    (settings) => settings.edgeIn
  ),
  lengthField(
    "Field nailing",
    (wall) => wall.fieldIn,
    (settings) => settings.fieldIn
  ),
  plainField("Quantity", (wall) => wall.quantity),
  plainField("Bottom seam", (wall) => (wall.hasBottomSeam ? "yes" : "no")),
];

const OPENING_FIELDS: readonly Field<Opening>[] = [
  lengthField("From left", (opening) => opening.leftIn),
  lengthField("Sill", (opening) => opening.bottomIn),
  lengthField("Width", (opening) => opening.rightIn - opening.leftIn),
  lengthField("Height", (opening) => opening.topIn - opening.bottomIn),
  plainField("Quantity", (opening) => opening.quantity),
];

function isSame(a: Value, b: Value): boolean {
  if (typeof a === "number" && typeof b === "number") return Math.abs(a - b) <= TINY_IN;
  if (typeof a === "string" && typeof b === "string") return nameKey(a) === nameKey(b);
  return a === b;
}

function shownLength(value: Value): string {
  if (typeof value !== "number") return value ?? "none";
  return value < 0 ? `-${feetInches(-value, FINEST)}` : feetInches(value, FINEST);
}

function signed(difference: number, shown: (value: number) => string): string {
  return `${difference < 0 ? "-" : "+"}${shown(Math.abs(difference))}`;
}

function plainNumber(value: number): string {
  return String(Number(value.toFixed(6)));
}

/** Before, after and difference of a value, in words; lengths too close for a fraction in decimal inches. */
function words(
  before: Value,
  after: Value,
  isLength: boolean
): Pick<HouseChange, "before" | "after" | "difference"> {
  const shown = (value: Value): string => {
    if (isLength) return shownLength(value);
    return typeof value === "number" ? plainNumber(value) : (value ?? "none");
  };
  const isNumeric = typeof before === "number" && typeof after === "number";
  if (isNumeric && isLength && shown(before) === shown(after)) {
    const inches = (value: number): string => `${plainNumber(value)} in`;
    return {
      before: inches(before),
      after: inches(after),
      difference: signed(after - before, inches),
    };
  }
  return {
    before: shown(before),
    after: shown(after),
    difference: isNumeric
      ? signed(after - before, isLength ? (value) => feetInches(value, FINEST) : plainNumber)
      : "",
  };
}

function fieldChanges<T>(
  what: HouseChange["what"],
  name: string,
  fields: readonly Field<T>[],
  [a, b]: readonly [T, T],
  skip: (field: Field<T>) => boolean
): HouseChange[] {
  return fields
    .filter((field) => !isSame(field.of(a), field.of(b)) && !skip(field))
    .map((field) => ({
      what,
      name,
      kind: "changed",
      field: field.name,
      ...words(field.of(a), field.of(b), field.isLength),
    }));
}

function isAlike<T>(fields: readonly Field<T>[], a: T, b: T): boolean {
  return fields.every((field) => isSame(field.of(a), field.of(b)));
}

type BothSettings = readonly [before: Settings, after: Settings];

/** Both walls take what the settings say: a change of it is said once, under Settings. */
function followsSettings(field: Field<Wall>, a: Wall, b: Wall, settings: BothSettings): boolean {
  return (
    field.setting !== undefined &&
    isSame(field.of(a), field.setting(settings[0])) &&
    isSame(field.of(b), field.setting(settings[1]))
  );
}

function wallText(wall: Wall): string {
  const high = wall.top.reduce((most, point) => Math.max(most, point.heightIn), 0);
  return `${shownLength(wall.lengthIn)} long, ${shownLength(high)} high, ${wall.leftEnd} and ${wall.rightEnd}`;
}

/** A wall that is gone and one that is new and the same but for its name; told apart only where there is one of each. */
function renamedWalls(
  gone: readonly Wall[],
  fresh: readonly Wall[],
  settings: BothSettings
): Map<Wall, Wall> {
  const fields = WALL_FIELDS.filter(({ name }) => name !== "Next wall");
  const isLike = (a: Wall, b: Wall): boolean =>
    fields.every(
      (field) => isSame(field.of(a), field.of(b)) || followsSettings(field, a, b, settings)
    );
  const pairs = new Map<Wall, Wall>();
  for (const wall of gone) {
    const likes = fresh.filter((other) => isLike(wall, other));
    const rivals = gone.filter((other) => isAlike(fields, wall, other));
    if (likes.length === 1 && rivals.length === 1) pairs.set(wall, likes[0] as Wall);
  }
  return pairs;
}

interface WallPairs {
  readonly changes: readonly HouseChange[];
  /** new name of each wall of the first house, by the key of its old one */
  readonly newNames: ReadonlyMap<string, string>;
}

function wallChanges(a: HouseRevision, b: HouseRevision): WallPairs {
  const before = new Map(a.house.walls.map((wall) => [nameKey(wall.name), wall]));
  const after = new Map(b.house.walls.map((wall) => [nameKey(wall.name), wall]));
  const gone = a.house.walls.filter((wall) => !after.has(nameKey(wall.name)));
  const fresh = b.house.walls.filter((wall) => !before.has(nameKey(wall.name)));
  const settings = [a.house.settings, b.house.settings] as const;
  const renamed = renamedWalls(gone, fresh, settings);
  const isNewName = new Set(renamed.values());
  const newNames = new Map(
    a.house.walls.map((wall) => [nameKey(wall.name), (renamed.get(wall) ?? wall).name])
  );
  const whole = (wall: Wall, kind: ChangeKind, from: string, to: string): HouseChange => ({
    what: "Wall",
    name: wall.name,
    kind,
    field: "",
    before: from,
    after: to,
    difference: "",
  });
  const changes: HouseChange[] = [];
  for (const wall of a.house.walls) {
    const other = after.get(nameKey(wall.name));
    const newName = renamed.get(wall);
    if (newName) changes.push(whole(wall, "renamed", wall.name, newName.name));
    else if (!other) changes.push(whole(wall, "removed", wallText(wall), ""));
    else {
      changes.push(
        ...fieldChanges("Wall", wall.name, WALL_FIELDS, [wall, other], (field) => {
          if (field.name === "Next wall") {
            const next = newNames.get(nameKey(wall.nextWall ?? ""));
            return next !== undefined && isSame(next, other.nextWall);
          }
          return followsSettings(field, wall, other, settings);
        })
      );
    }
  }
  for (const wall of fresh) {
    if (!isNewName.has(wall)) changes.push(whole(wall, "added", "", wallText(wall)));
  }
  return { changes, newNames };
}

function openingText(opening: Opening): string {
  const width = shownLength(opening.rightIn - opening.leftIn);
  const height = shownLength(opening.topIn - opening.bottomIn);
  return `${width} wide, ${height} high, ${shownLength(opening.leftIn)} from left`;
}

/** Openings of one wall and name; a name may stand more than once. */
function openingGroups(
  openings: readonly Opening[],
  wallName: (opening: Opening) => string
): Map<string, Opening[]> {
  const groups = new Map<string, Opening[]>();
  for (const opening of openings) {
    const key = `${nameKey(wallName(opening))}|${nameKey(opening.name)}`;
    groups.set(key, [...(groups.get(key) ?? []), opening]);
  }
  return groups;
}

function openingChanges(
  a: HouseRevision,
  b: HouseRevision,
  newNames: ReadonlyMap<string, string>
): HouseChange[] {
  const before = openingGroups(a.house.openings, ({ wall }) => newNames.get(nameKey(wall)) ?? wall);
  const after = openingGroups(b.house.openings, ({ wall }) => wall);
  const changes: HouseChange[] = [];
  const whole = (opening: Opening, kind: "added" | "removed"): void => {
    const text = openingText(opening);
    changes.push({
      what: "Opening",
      name: `${opening.wall}, ${opening.name}`,
      kind,
      field: "",
      before: kind === "removed" ? text : "",
      after: kind === "added" ? text : "",
      difference: "",
    });
  };
  for (const key of new Set([...before.keys(), ...after.keys()])) {
    const old = [...(before.get(key) ?? [])];
    const now = [...(after.get(key) ?? [])];
    // those that did not change are set aside first, so that one of two equal names is not taken for the other
    for (const opening of before.get(key) ?? []) {
      const at = now.findIndex((other) => isAlike(OPENING_FIELDS, opening, other));
      if (at < 0) continue;
      now.splice(at, 1);
      old.splice(old.indexOf(opening), 1);
    }
    old.forEach((opening, index) => {
      const other = now[index];
      if (!other) whole(opening, "removed");
      else {
        const name = `${other.wall}, ${other.name}`;
        changes.push(
          ...fieldChanges("Opening", name, OPENING_FIELDS, [opening, other], () => false)
        );
      }
    });
    now.slice(old.length).forEach((opening) => whole(opening, "added"));
  }
  return changes;
}

function settingText(value: unknown, unit: string): string {
  if (value === undefined) return "blank";
  if (Array.isArray(value)) return value.map((each) => settingText(each, "")).join(", ");
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value !== "number") return String(value);
  if (unit !== "in") return plainNumber(value);
  // a nail diameter of 0.131 is no fraction of an inch
  const isFraction = Math.abs(value * FINEST - Math.round(value * FINEST)) < TINY_IN;
  return `${isFraction ? inchText(value, FINEST) : plainNumber(value)} in`;
}

function settingChanges(a: HouseRevision, b: HouseRevision): HouseChange[] {
  return Object.entries(SETTINGS).flatMap(([code, { name, unit }]): HouseChange[] => {
    const before = a.house.settings[code as keyof typeof SETTINGS] as unknown;
    const after = b.house.settings[code as keyof typeof SETTINGS] as unknown;
    const isEqual =
      Array.isArray(before) && Array.isArray(after)
        ? before.length === after.length &&
          before.every((each: Value, index) => isSame(each, after[index] as Value))
        : isSame(before as Value, after as Value);
    if (isEqual) return [];
    const isNumeric = typeof before === "number" && typeof after === "number";
    return [
      {
        what: "Setting",
        name,
        kind: "changed",
        field: "",
        before: settingText(before, unit),
        after: settingText(after, unit),
        difference: isNumeric ? signed(after - before, (value) => settingText(value, unit)) : "",
      },
    ];
  });
}

type Line = HouseRevision["order"][number];

function orderChanges(a: HouseRevision, b: HouseRevision): HouseChange[] {
  const keyOf = ({ item, size, unit }: Line): string => [item, size, unit].map(nameKey).join("|");
  // blocks for two spacings may come out of sticks of one length: their lines are added
  const sums = (lines: readonly Line[]): Map<string, Line> => {
    const found = new Map<string, Line>();
    for (const line of lines) {
      const known = found.get(keyOf(line));
      found.set(keyOf(line), {
        ...line,
        needed: line.needed + (known?.needed ?? 0),
        order: line.order + (known?.order ?? 0),
      });
    }
    return found;
  };
  const before = sums(a.order);
  const after = sums(b.order);
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key) =>
    lineChanges(before.get(key), after.get(key))
  );
}

/** Feet of tape are shown to the hundredth; less is the noise of sums. */
function quantity(value: number): string {
  return String(Number(value.toFixed(2)));
}

function lineChanges(old: Line | undefined, now: Line | undefined): HouseChange[] {
  const line = (now ?? old) as Line;
  const common = { what: "Order", name: `${line.item} ${line.size}` } as const;
  if (!old || !now) {
    const text = `${line.order} to order, ${quantity(line.needed)} ${line.unit} needed`;
    const [from, to] = old ? [text, ""] : ["", text];
    const kind = old ? "removed" : "added";
    return [{ ...common, kind, field: "", before: from, after: to, difference: "" }];
  }
  const fields = [
    { field: "Order", from: old.order, to: now.order },
    { field: `Needed, ${line.unit}`, from: old.needed, to: now.needed },
  ];
  return fields
    .filter(({ from, to }) => quantity(from) !== quantity(to))
    .map(({ field, from, to }) => ({
      ...common,
      kind: "changed",
      field,
      before: quantity(from),
      after: quantity(to),
      difference: signed(to - from, quantity),
    }));
}

/**
 * What changed from one revision of a house to the next. Walls go by their names, openings by wall
 * and name; the order of rows does not matter. A wall that is the same but for its name is called
 * renamed. A wall that follows a changed setting is not listed again.
 *
 * @param a the earlier house and its order, as takeoffHouse and orderLines give them
 * @param b the later house and its order, the same
 * @returns changes of walls, openings, settings and order, in that order; none where nothing changed
 * @shape rows of what, name, kind, field, before, after, difference
 * @throws {CalcError} wrong-kind, out-of-range: a length that takeoffHouse would not read; up to 1,000,000 in can be shown
 * @source definition: what differs by more than a millionth of an inch
 * @example houseChanges({ house: takeoffHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 96, 96, "free", "free"]], [], [["Foam", 1.25], ["Panel", 0.625]]), order: [] }, { house: takeoffHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 120, 96, "free", "free"]], [], [["Foam", 1.25], ["Panel", 0.625]]), order: [] })[0]?.difference // => "+2'-0\""
 */
export function houseChanges(a: HouseRevision, b: HouseRevision): HouseChange[] {
  const walls = wallChanges(a, b);
  return [
    ...walls.changes,
    ...openingChanges(a, b, walls.newNames),
    ...settingChanges(a, b),
    ...orderChanges(a, b),
  ];
}
