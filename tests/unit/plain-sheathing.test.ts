/** A house whose Foam is none: the panels are plain sheathing, and nothing is said or drawn of foam they do not have. */
import { ALL_CAUTIONS } from "../../src/core/cautions.js";
import { type Finding, houseFindings } from "../../src/core/house/checks.js";
import { houseInsulation } from "../../src/core/house/framing.js";
import { houseNail } from "../../src/core/house/order.js";
import type { Cell, Table } from "../../src/core/house/tables.js";
import { takeoffHouse } from "../../src/core/house/takeoff.js";
import { wallDrawing } from "../../src/pane/drawings/index.js";
import { call } from "../functions/call.js";

const WALLS: Table = [
  ["Wall", "Length", "Height", "Left end", "Right end", "Below"],
  ["A", 240, 96, "past", "flush", 12],
];
const OPENINGS: Table = [["Wall", "Opening", "From left", "Sill", "Width", "Height"]];
const COLD: Cell[][] = [
  ["Climate zone", "5"],
  ["Cavity R", 20],
  ["Outdoor temperature", 5],
  ["Heating degree days", 6000],
];
const settings = (foam: Cell, more: Cell[][] = []): Cell[][] => [
  ["Foam", foam],
  ["Panel", "5/8"],
  ...more,
];
const own = (more: Cell[][]): Finding[] =>
  houseFindings(takeoffHouse(WALLS, OPENINGS, settings("none", more))).filter(
    (each) => !ALL_CAUTIONS.includes(each.finding)
  );

describe("plain sheathing", () => {
  test("is said once, and asks for no R of a foam that is not there", () => {
    const found = own([]).map((each) => each.finding);
    expect(found).toContain("Foam is none: the panels are plain sheathing");
    expect(found.join(" ")).toContain("Climate zone, Cavity R are blank");
    expect(found.join(" ")).not.toMatch(/One nail through|Foam R|Foam laps/);
  });

  test("is checked for energy and moisture as a wall without foam, with no foam of R 0", () => {
    const found = own(COLD);
    const words = found.map((each) => `${each.finding} ${each.whatToDo}`).join("\n");
    expect(words).not.toMatch(/R-?\s?0(\.0)?\b|Foam face|foam saves|with the foam|through 0/);
    // zone 5 on a 2x6: IRC 2021 Table R702.7(3) asks foam for paint alone
    expect(words).toContain("No foam over 2x6 in zone 5: paint inside (class III) is not enough.");
    expect(words).toContain("without foam; limit in zone 5");
    expect(words).toContain("No foam: the panel's inner face");
    expect(found.filter((each) => each.level === "fix")).toEqual([]);
  });

  test("takes the nail and the burn of the panel alone", () => {
    const house = takeoffHouse(WALLS, OPENINGS, settings("none"));
    expect(house.built[0]?.cut.wall.span.runIn).toBe(240.625);
    // 5/8 + 1-1/2
    expect(houseNail(house.settings).neededIn).toBe(2.125);
  });

  test("has one R, without foam", () => {
    const insulation = houseInsulation(takeoffHouse(WALLS, OPENINGS, settings("none", COLD)));
    expect(insulation.withFoam).toEqual(insulation.withoutFoam);
    const rows = call("HOUSE_WALL_R", WALLS, OPENINGS, settings("none", COLD)) as Cell[][];
    const items = rows.map(([item]) => item);
    expect(items.filter((item) => /^[RU] with/.test(String(item)))).toEqual([
      "R without the foam",
      "U without the foam",
      "R without the foam, isothermal planes",
    ]);
  });

  test("is drawn without foam, in the corner and in the legend", () => {
    const drawn = (foam: Cell): string =>
      wallDrawing(takeoffHouse(WALLS, OPENINGS, settings(foam)), "A", { ids: "w" });
    expect(drawn("1-1/4")).toMatch(/>foam</);
    expect(drawn("none")).not.toMatch(/>foam<|NaN/);
  });
});
