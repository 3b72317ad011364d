/** What changed between two revisions of a house, from tables. */
import { houseChanges, type HouseRevision } from "../../src/core/house/compare.js";
import { orderLines } from "../../src/core/house/order.js";
import { takeoffHouse } from "../../src/core/house/takeoff.js";
import type { Cell } from "../../src/core/house/tables.js";
import { withAssembly } from "../assembly.js";

const WALLS: Cell[][] = [
  ["Wall", "Length", "Height", "Left end", "Right end"],
  ["North", 144, 96, "free", "free"],
];
const OPENINGS: Cell[][] = [
  ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
  ["North", "Window", 24, 36, 24, 36],
  ["North", "Window", 72, 36, 24, 36],
];

function revision(walls: Cell[][], openings: Cell[][], settings: Cell[][] = []): HouseRevision {
  const house = takeoffHouse(walls, openings, withAssembly(settings));
  return { house, order: orderLines(house) };
}
const before = (): HouseRevision => revision(WALLS, OPENINGS);

it("finds nothing between a house and itself, whatever its capitals", () => {
  expect(houseChanges(before(), before())).toEqual([]);
  const shouted = WALLS.map((row) => row.map((cell) => (cell === "North" ? "NORTH" : cell)));
  const openings = OPENINGS.map((row) => row.map((cell) => (cell === "North" ? "north" : cell)));
  expect(houseChanges(before(), revision(shouted, openings))).toEqual([]);
});

it("tells apart two openings of one name: the one that did not move is left alone", () => {
  const moved = OPENINGS.map((row) => [...row]);
  (moved[1] as Cell[])[2] = 30;
  const changes = houseChanges(before(), revision(WALLS, moved));
  expect(changes.filter(({ what }) => what === "Opening")).toEqual([
    {
      what: "Opening",
      name: "North, Window",
      kind: "changed",
      field: "From left",
      before: "2'-0\"",
      after: "2'-6\"",
      difference: "+0'-6\"",
    },
  ]);
});

it("says a difference too small for a fraction in decimal inches", () => {
  const longer = WALLS.map((row) => [...row]);
  (longer[1] as Cell[])[1] = 144.005;
  const [change] = houseChanges(before(), revision(longer, OPENINGS));
  expect(change).toMatchObject({
    field: "Length",
    before: "144 in",
    after: "144.005 in",
    difference: "+0.005 in",
  });
});

it("shows settings in the way they are typed", () => {
  const settings: Cell[][] = [
    ["Setting", "Value"],
    ["Nail diameter", 0.148],
    ["Panel lengths", "96, 120"],
    ["Turn pieces", "yes"],
    ["Climate zone", "5A"],
  ];
  const changes = houseChanges(before(), revision(WALLS, OPENINGS, settings));
  const said = changes
    .filter(({ what }) => what === "Setting")
    .map(({ name, before: old, after }) => [name, old, after]);
  expect(said).toEqual([
    ["Panel lengths", "96, 108, 120", "96, 120"],
    ["Turn pieces", "no", "yes"],
    ["Nail diameter", "0.131 in", "0.148 in"],
    ["Climate zone", "blank", "5A"],
  ]);
});

it("says a wall gone with its openings, and a line of the order gone", () => {
  const two = [...WALLS, ["South", "10'", "8'", "free", "free"]];
  const openings = [...OPENINGS, ["South", "Door", "2'", 0, "3'", "6'-8\""]];
  const changes = houseChanges(revision(two, openings), before());
  expect(changes).toContainEqual({
    what: "Wall",
    name: "South",
    kind: "removed",
    field: "",
    before: "10'-0\" long, 8'-0\" high, free and free",
    after: "",
    difference: "",
  });
  expect(changes).toContainEqual(
    expect.objectContaining({ what: "Opening", name: "South, Door", kind: "removed" })
  );
  const nails = changes.find(({ field }) => field === "Needed, nails");
  expect(nails?.difference).toMatch(/^-\d+$/);
});

type Said = readonly [
  what: string,
  name: string,
  kind: string,
  field: string,
  before: string,
  after: string,
  difference: string,
];
const said = (a: HouseRevision, b: HouseRevision): Said[] =>
  houseChanges(a, b).map((each) => [
    each.what,
    each.name,
    each.kind,
    each.field,
    each.before,
    each.after,
    each.difference,
  ]);
const COLUMNS = [
  "Wall",
  "Length",
  "Height",
  "Left end",
  "Right end",
  "Right height",
  "Peak height",
  "Peak at",
  "Next wall",
  "Below",
  "Block line",
  "Spacing",
  "From",
  "Edge nailing",
  "Field nailing",
  "Quantity",
  "Bottom seam",
];
/** A house without its order, each wall by its columns. */
function rows(
  walls: readonly Readonly<Record<string, Cell>>[],
  openings: Cell[][] = [],
  settings: Cell[][] = []
): HouseRevision {
  const full = walls.map((wall) => ({
    Length: 144,
    Height: 96,
    "Left end": "free",
    "Right end": "free",
    ...wall,
  }));
  const table = full.map((wall: Readonly<Record<string, Cell>>) =>
    COLUMNS.map((name) => wall[name])
  );
  const header = ["Wall", "Opening", "From left", "Sill", "Width", "Height", "Quantity"];
  const house = takeoffHouse([COLUMNS, ...table], [header, ...openings], withAssembly(settings));
  return { house, order: [] };
}

describe("a wall that changed", () => {
  it.each<[string, Cell, Cell, string, string, string]>([
    ["Length", 144, 150.5, `12'-0"`, `12'-6 1/2"`, `+0'-6 1/2"`],
    ["Length", 150.5, 144, `12'-6 1/2"`, `12'-0"`, `-0'-6 1/2"`],
    ["Length", 144, 144.004, "144 in", "144.004 in", "+0.004 in"],
    ["Right height", 96, 120, `8'-0"`, `10'-0"`, `+2'-0"`],
    ["Left end", "free", "past", "free", "past", ""],
    ["Right end", "free", "short", "free", "short", ""],
    ["Next wall", "A", null, "A", "none", ""],
    ["Next wall", null, "A", "none", "A", ""],
    ["Below", 0, 12, `0'-0"`, `1'-0"`, `+1'-0"`],
    ["Block line", null, 10, "none", `0'-10"`, ""],
    ["Block line", 10, null, `0'-10"`, "none", ""],
    ["Spacing", 16, 24, `1'-4"`, `2'-0"`, `+0'-8"`],
    ["From", "left", "right", "left", "right", ""],
    ["Edge nailing", 6, 4, `0'-6"`, `0'-4"`, `-0'-2"`],
    ["Field nailing", 12, 8, `1'-0"`, `0'-8"`, `-0'-4"`],
    ["Quantity", 1, 3, "1", "3", "+2"],
    ["Bottom seam", null, "yes", "no", "yes", ""],
    ["Bottom seam", "yes", "no", "yes", "no", ""],
  ])("is said by its column: %s from %p to %p", (field, from, to, before, after, difference) => {
    expect(said(rows([{ Wall: "A", [field]: from }]), rows([{ Wall: "A", [field]: to }]))).toEqual([
      ["Wall", "A", "changed", field, before, after, difference],
    ]);
  });

  it("in both its heights, where it stays level", () => {
    expect(said(rows([{ Wall: "A" }]), rows([{ Wall: "A", Height: 108 }]))).toEqual([
      ["Wall", "A", "changed", "Height", `8'-0"`, `9'-0"`, `+1'-0"`],
      ["Wall", "A", "changed", "Right height", `8'-0"`, `9'-0"`, `+1'-0"`],
    ]);
  });

  it("in its peak, which a level or raked wall has none of", () => {
    const level = rows([{ Wall: "A" }]);
    const gable = rows([{ Wall: "A", "Peak height": 144, "Peak at": 72 }]);
    expect(said(level, gable)).toEqual([
      ["Wall", "A", "changed", "Peak height", "none", `12'-0"`, ""],
      ["Wall", "A", "changed", "Peak at", "none", `6'-0"`, ""],
    ]);
    expect(said(gable, rows([{ Wall: "A", "Peak height": 132, "Peak at": 72 }]))).toEqual([
      ["Wall", "A", "changed", "Peak height", `12'-0"`, `11'-0"`, `-1'-0"`],
    ]);
    expect(said(gable, rows([{ Wall: "A", "Peak height": 144, "Peak at": 60 }]))).toEqual([
      ["Wall", "A", "changed", "Peak at", `6'-0"`, `5'-0"`, `-1'-0"`],
    ]);
  });

  it("by less than a tape or a sum can tell is no change", () => {
    expect(said(rows([{ Wall: "A" }]), rows([{ Wall: "A", Length: 144 + 5e-7 }]))).toEqual([]);
    const next = (name: string): HouseRevision =>
      rows([{ Wall: "A", "Next wall": name }, { Wall: "Bay 1" }]);
    expect(said(next("Bay 1"), next("bay1"))).toEqual([]);
  });
});

describe("a wall that follows the settings", () => {
  const spaced = (spacing: number, cell?: Cell): HouseRevision =>
    rows([{ Wall: "A", Spacing: cell }], [], [["Spacing", spacing]]);
  const setting: Said = ["Setting", "Spacing", "changed", "", "16 in", "24 in", "+8 in"];

  it("is not listed again where only the setting changed", () => {
    expect(said(spaced(16), spaced(24))).toEqual([setting]);
  });
  it("is listed where it goes its own way", () => {
    // its own 16 beside a house that went to 24: nothing about the wall changed
    expect(said(spaced(16, 16), spaced(24, 16))).toEqual([setting]);
    expect(said(spaced(16, 12), spaced(24, 24))).toEqual([
      ["Wall", "A", "changed", "Spacing", `1'-0"`, `2'-0"`, `+1'-0"`],
      setting,
    ]);
    expect(said(spaced(16, 16), spaced(24, 12))).toEqual([
      ["Wall", "A", "changed", "Spacing", `1'-4"`, `1'-0"`, `-0'-4"`],
      setting,
    ]);
  });
});

describe("walls that come, go and are renamed", () => {
  const LONG = { Length: 240 };
  const text = `12'-0" long, 8'-0" high, free and free`;

  it("come and go with their size and ends", () => {
    const one = rows([{ Wall: "A" }]);
    const gable = { Wall: "G", "Right end": "flush", "Peak height": 144, "Peak at": 72 };
    const two = rows([{ Wall: "A" }, gable]);
    const peaked = `12'-0" long, 12'-0" high, free and flush`;
    expect(said(one, two)).toEqual([["Wall", "G", "added", "", "", peaked, ""]]);
    expect(said(two, one)).toEqual([["Wall", "G", "removed", "", peaked, "", ""]]);
  });

  it("a wall the same but for its name is renamed, and its openings and neighbors follow", () => {
    const openings = (name: string): Cell[][] => [[name, "D1", 12, 0, 36, 80]];
    const a = rows([{ Wall: "A" }, { Wall: "B", "Next wall": "A", ...LONG }], openings("A"));
    const b = rows(
      [{ Wall: "Front" }, { Wall: "B", "Next wall": "Front", ...LONG }],
      openings("Front")
    );
    expect(said(a, b)).toEqual([["Wall", "A", "renamed", "", "A", "Front", ""]]);
    // a neighbor that is told of another wall is news
    const c = rows(
      [{ Wall: "Front" }, { Wall: "B", "Next wall": "B", ...LONG }],
      openings("Front")
    );
    expect(said(a, c)).toEqual([
      ["Wall", "A", "renamed", "", "A", "Front", ""],
      ["Wall", "B", "changed", "Next wall", "A", "B", ""],
    ]);
  });

  it("two walls that name each other may both be renamed", () => {
    const ring = (one: string, other: string): HouseRevision =>
      rows([
        { Wall: one, "Next wall": other },
        { Wall: other, "Next wall": one, ...LONG },
      ]);
    expect(said(ring("A", "B"), ring("North", "East"))).toEqual([
      ["Wall", "A", "renamed", "", "A", "North", ""],
      ["Wall", "B", "renamed", "", "B", "East", ""],
    ]);
  });

  it("one that follows a changed setting is renamed all the same, one that differs is not", () => {
    const spaced = (name: string, spacing: number, more = {}): HouseRevision =>
      rows([{ Wall: name, ...more }], [], [["Spacing", spacing]]);
    expect(said(spaced("A", 16), spaced("B", 24))[0]).toEqual([
      "Wall",
      "A",
      "renamed",
      "",
      "A",
      "B",
      "",
    ]);
    expect(said(spaced("A", 16), spaced("B", 16, { "Left end": "past" }))).toEqual([
      ["Wall", "A", "removed", "", text, "", ""],
      ["Wall", "B", "added", "", "", `12'-0" long, 8'-0" high, past and free`, ""],
    ]);
  });

  it("nothing is called renamed where it cannot be told which", () => {
    const of = (...names: string[]): HouseRevision => rows(names.map((Wall) => ({ Wall })));
    const kinds = (a: HouseRevision, b: HouseRevision): string[] =>
      said(a, b).map(([, name, kind]) => `${name} ${kind}`);
    expect(kinds(of("A"), of("B", "C"))).toEqual(["A removed", "B added", "C added"]);
    expect(kinds(of("A", "B"), of("C"))).toEqual(["A removed", "B removed", "C added"]);
    expect(kinds(of("A", "B"), of("C", "D"))).toEqual([
      "A removed",
      "B removed",
      "C added",
      "D added",
    ]);
    // a wall that is still there was not renamed, and nothing was renamed to it
    expect(kinds(of("A"), of("A", "B"))).toEqual(["B added"]);
    expect(kinds(of("A", "B"), of("B"))).toEqual(["A removed"]);
  });
});

describe("openings", () => {
  const one = (...cells: Cell[]): Cell[] => ["A", "W", ...cells];
  const having = (...openings: Cell[][]): HouseRevision =>
    rows([{ Wall: "A", Length: 240, Below: 12 }, { Wall: "B" }], openings);
  const base = one(24, 36, 30, 40);

  it.each<[string, Cell[], string, string, string]>([
    ["From left", one(23, 36, 30, 40), `2'-0"`, `1'-11"`, `-0'-1"`],
    ["Sill", one(24, 30, 30, 40), `3'-0"`, `2'-6"`, `-0'-6"`],
    ["Sill", one(24, -6, 30, 40), `3'-0"`, `-0'-6"`, `-3'-6"`],
    ["Width", one(24, 36, 36, 40), `2'-6"`, `3'-0"`, `+0'-6"`],
    ["Height", one(24, 36, 30, 36), `3'-4"`, `3'-0"`, `-0'-4"`],
    ["Quantity", one(24, 36, 30, 40, 2), "1", "2", "+1"],
  ])("say which of their columns changed: %s to %p", (field, row, before, after, difference) => {
    expect(said(having(base), having(row))).toEqual([
      ["Opening", "A, W", "changed", field, before, after, difference],
    ]);
  });

  it("come and go with their size and place", () => {
    const text = `2'-6" wide, 3'-4" high, 2'-0" from left`;
    expect(said(having(), having(base))).toEqual([["Opening", "A, W", "added", "", "", text, ""]]);
    expect(said(having(base), having())).toEqual([
      ["Opening", "A, W", "removed", "", text, "", ""],
    ]);
  });

  it("are kept apart by wall and by name", () => {
    const door: Cell[] = ["A", "D", 100, 0, 36, 80];
    const moved: Cell[] = ["A", "D", 112, 0, 36, 80];
    expect(said(having(base, door), having(moved)).map(([, name, kind]) => [name, kind])).toEqual([
      ["A, W", "removed"],
      ["A, D", "changed"],
    ]);
    const other: Cell[] = ["B", "W", 24, 36, 30, 40];
    expect(said(having(base), having(other)).map(([, name, kind]) => [name, kind])).toEqual([
      ["A, W", "removed"],
      ["B, W", "added"],
    ]);
  });

  it("of one name: those that stayed are set aside, whichever row they stand in", () => {
    const at = (...places: number[]): HouseRevision =>
      having(...places.map((x) => one(x, 36, 30, 40)));
    expect(said(at(24, 72), at(72, 24))).toEqual([]);
    const gone = `2'-6" wide, 3'-4" high, 2'-0" from left`;
    expect(said(at(24, 72), at(72))).toEqual([["Opening", "A, W", "removed", "", gone, "", ""]]);
    expect(said(at(72), at(24, 72))).toEqual([["Opening", "A, W", "added", "", "", gone, ""]]);
    expect(said(at(24, 72, 120), at(150, 24, 72))).toEqual([
      ["Opening", "A, W", "changed", "From left", `10'-0"`, `12'-6"`, `+2'-6"`],
    ]);
  });
});

describe("settings", () => {
  const of = (...settings: Cell[][]): HouseRevision => rows([{ Wall: "A" }], [], settings);

  it.each<[string, Cell, Cell, string, string, string]>([
    ["Foam", 2, 1.25, "2 in", "1 1/4 in", "-3/4 in"],
    ["Nail diameter", 0.131, 0.148, "0.131 in", "0.148 in", "+0.017 in"],
    ["Tape extra", 0.05, 0.1, "0.05", "0.1", "+0.05"],
    ["Cavity R", 20, null, "20", "blank", ""],
    ["Cavity R", null, 13, "blank", "13", ""],
    ["Climate zone", "5", "6A", "5", "6A", ""],
    ["Sill tape", "no", true, "no", "yes", ""],
    ["Panel costs", null, "30, 31.5, 32", "blank", "30, 31.5, 32", ""],
    ["Panel costs", "30, 31, 32", null, "30, 31, 32", "blank", ""],
    ["Tape widths", "3", "3, 6", "3", "3, 6", ""],
    ["Tape widths", "3, 6", "3", "3, 6", "3", ""],
    ["Tape widths", "3, 4", "3, 6", "3, 4", "3, 6", ""],
  ])(
    "are said as they are typed: %s from %p to %p",
    (name, from, to, before, after, difference) => {
      expect(said(of([name, from]), of([name, to]))).toEqual([
        ["Setting", name, "changed", "", before, after, difference],
      ]);
    }
  );
});

describe("the order", () => {
  type Line = HouseRevision["order"][number];
  const tape: Line = { item: "Tape", size: "3 in", needed: 120.25, unit: "ft", order: 2 };
  const nails: Line = {
    item: "Nails",
    size: "3 1/2 x 0.131 in",
    needed: 900,
    unit: "nails",
    order: 1,
  };
  const of = (...order: Line[]): HouseRevision => ({ ...rows([{ Wall: "A" }]), order });

  it("says what is bought and what is needed, line by line", () => {
    expect(said(of(tape, nails), of({ ...tape, needed: 240.5, order: 3 }, nails))).toEqual([
      ["Order", "Tape 3 in", "changed", "Order", "2", "3", "+1"],
      ["Order", "Tape 3 in", "changed", "Needed, ft", "120.25", "240.5", "+120.25"],
    ]);
    // less than a hundredth of a foot is the noise of sums
    expect(said(of(tape), of({ ...tape, needed: 120.251 }))).toEqual([]);
  });
  it("says a line that is new and one that is gone", () => {
    expect(said(of(tape), of(nails))).toEqual([
      ["Order", "Tape 3 in", "removed", "", "2 to order, 120.25 ft needed", "", ""],
      ["Order", "Nails 3 1/2 x 0.131 in", "added", "", "", "1 to order, 900 nails needed", ""],
    ]);
  });
  it("knows a line by item, size and unit, its capitals aside", () => {
    expect(said(of(tape), of({ ...tape, item: "TAPE", size: "3in" }))).toEqual([]);
    expect(said(of(tape), of({ ...tape, size: "6 in" }))).toHaveLength(2);
    expect(said(of(tape), of({ ...tape, unit: "m" }))).toHaveLength(2);
  });
  it("adds lines of one item and size, as blocks for two spacings out of one stick", () => {
    const blocks = (needed: number, order: number): Line => ({
      item: "Blocking lumber",
      size: "192 in",
      unit: "blocks",
      needed,
      order,
    });
    expect(said(of(blocks(10, 1), blocks(30, 4)), of(blocks(15, 2), blocks(30, 4)))).toEqual([
      ["Order", "Blocking lumber 192 in", "changed", "Order", "5", "6", "+1"],
      ["Order", "Blocking lumber 192 in", "changed", "Needed, blocks", "40", "45", "+5"],
    ]);
    expect(said(of(blocks(10, 1), blocks(30, 4)), of(blocks(40, 5)))).toEqual([]);
  });
});
