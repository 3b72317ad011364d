/** What changed between two revisions of a house, from tables. */
import { houseChanges, type HouseRevision } from "../../src/core/house/compare.js";
import { orderLines } from "../../src/core/house/order.js";
import { takeoffHouse } from "../../src/core/house/takeoff.js";
import type { Cell } from "../../src/core/house/tables.js";

const WALLS: Cell[][] = [
  ["Wall", "Length", "Height", "Left end", "Right end"],
  ["North", 144, 96, "free", "free"],
];
const OPENINGS: Cell[][] = [
  ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
  ["North", "Window", 24, 36, 24, 36],
  ["North", "Window", 72, 36, 24, 36],
];

function revision(walls: Cell[][], openings: Cell[][], settings: Cell[][] = [[]]): HouseRevision {
  const house = takeoffHouse(walls, openings, settings);
  return { house, order: orderLines(house) };
}
const before = revision(WALLS, OPENINGS);

it("finds nothing between a house and itself, whatever its capitals", () => {
  expect(houseChanges(before, before)).toEqual([]);
  const shouted = WALLS.map((row) => row.map((cell) => (cell === "North" ? "NORTH" : cell)));
  const openings = OPENINGS.map((row) => row.map((cell) => (cell === "North" ? "north" : cell)));
  expect(houseChanges(before, revision(shouted, openings))).toEqual([]);
});

it("tells apart two openings of one name: the one that did not move is left alone", () => {
  const moved = OPENINGS.map((row) => [...row]);
  (moved[1] as Cell[])[2] = 30;
  const changes = houseChanges(before, revision(WALLS, moved));
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
  const [change] = houseChanges(before, revision(longer, OPENINGS));
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
  const changes = houseChanges(before, revision(WALLS, OPENINGS, settings));
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
  const changes = houseChanges(revision(two, openings), before);
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
