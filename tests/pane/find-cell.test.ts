/** A click on what the core says leads to the cell it says it of. */
import type { Finding } from "../../src/core/house/checks.js";
import type { Table } from "../../src/core/house/tables.js";
import { findCell } from "../../src/pane/find-cell.js";
import type { HouseReading } from "../../src/pane/host.js";
import { readingOf } from "../../src/pane/read-house.js";
import { OPENINGS, SETTINGS, WALLS } from "./house.js";

/** A house whose tables stand in a workbook, none of them at its corner. */
function reading(walls: Table, openings: Table, settings: Table): HouseReading {
  const at = (sheet: string, top: number, left: number, rows: Table) => ({
    table: { rows, place: { sheet, top, left } },
    place: {
      sheet,
      top,
      left,
      bottom: top + rows.length - 1,
      right: left + (rows[0]?.length ?? 1) - 1,
      cells: rows,
    },
  });
  const found = {
    walls: at("Walls", 4, 2, walls),
    openings: at("Openings", 4, 1, openings),
    settings: at("Setup", 13, 1, settings),
  };
  return readingOf(
    { walls: found.walls.table, openings: found.openings.table, settings: found.settings.table },
    { walls: found.walls.place, openings: found.openings.place, settings: found.settings.place }
  );
}

/** A table with one cell changed; row 1 is the header. */
function changed(table: Table, row: number, header: string, value: string | number): Table {
  const column = (table[0] as readonly unknown[]).indexOf(header);
  return table.map((cells, index) =>
    index === row - 1 ? cells.map((cell, at) => (at === column ? value : cell)) : cells
  );
}

const LENGTH = 1; // columns right of the first
const HEIGHT = 2;

describe("the cell of a problem", () => {
  test("is the one under the header that cannot be read; the message names it, and the rest is shown", () => {
    const { problem, problemAt, house, findings, order } = reading(
      changed(WALLS, 3, "Length", "long"),
      OPENINGS,
      SETTINGS
    );
    // the third row of a table that starts in row 4 and column B
    expect(problemAt).toEqual({ sheet: "Walls", row: 6, column: 2 + LENGTH });
    expect(problem).toMatch(/^Walls!C6 \(wall [^)]+\): Length must be a length; got "long"/);
    expect(house?.walls).toHaveLength(WALLS.length - 2);
    expect(findings?.[0]?.finding).toBe(problem);
    expect(order).toBeUndefined();
  });

  test("of an opening stands in the openings", () => {
    const { problem, problemAt } = reading(WALLS, changed(OPENINGS, 5, "Width", -3), SETTINGS);
    expect(problemAt).toEqual({ sheet: "Openings", row: 8, column: 5 });
    expect(problem).toMatch(/^Openings!E8 \(wall /);
  });

  test("of a setting is its value", () => {
    const { problem, problemAt } = reading(WALLS, OPENINGS, changed(SETTINGS, 2, "Value", "nine"));
    expect(problemAt).toEqual({ sheet: "Setup", row: 14, column: 2 });
    expect(problem).toMatch(/^Setup!B14: /);
  });

  test("of settings that do not go together is the one named", () => {
    const settings: Table = [...SETTINGS, ["Corner piece (in)", 12], ["Corner lap (in)", 12]];
    const { problem, problemAt } = reading(WALLS, OPENINGS, settings);
    expect(problem).toMatch(/^settings: Corner lap/);
    expect(problemAt?.sheet).toBe("Setup");
    expect(settings[(problemAt?.row ?? 0) - 13]?.[0]).toMatch(/^Corner (?:lap|piece)/);
  });

  test("of walls that are still to be typed is the first to type in", () => {
    const { firstStep, problem, problemAt } = reading(WALLS.slice(0, 1), OPENINGS, SETTINGS);
    expect(firstStep).toBe("Type the first wall on the Walls sheet.");
    expect(problem).toBeUndefined();
    expect(problemAt).toEqual({ sheet: "Walls", row: 5, column: 2 });
  });
});

describe("the cell of a finding", () => {
  const walls = changed(WALLS, 4, "Height", "high");
  const openings = changed(OPENINGS, 3, "Width", 3);
  const house = reading(walls, openings, SETTINGS);
  const all = house.findings as readonly Finding[];

  test("is the row's cell where the row cannot be read", () => {
    const each = all.find(({ finding }) => finding.startsWith("Walls!")) as Finding;
    expect(each.wall).toBe("Court north");
    expect(findCell(house, each)).toEqual({ sheet: "Walls", row: 7, column: 2 + HEIGHT });
  });

  test("is the opening's where it names one", () => {
    const each = all.find(({ finding }) => finding.startsWith("W1 is"));
    expect(findCell(house, each as Finding)).toEqual({
      sheet: "Openings",
      row: 6,
      column: 2,
    });
  });

  test("is the wall's for anything else about a wall, house or no house", () => {
    const ofWalls = all.filter(({ wall, finding }) => wall !== "" && !/^\w+!|W1 is/.test(finding));
    expect(ofWalls.length).toBeGreaterThan(10);
    for (const each of ofWalls) {
      const { wall } = each;
      const found = findCell(house, each);
      expect([wall, found?.sheet, found?.column]).toEqual([wall, "Walls", 2]);
      expect(walls[(found?.row ?? 0) - 4]?.[0]).toBe(wall);
    }
  });

  test("is a setting's where it says that one is blank", () => {
    const settings: Table = [...SETTINGS, ["Outdoor temperature (F)", ""]];
    const read = reading(WALLS, OPENINGS, settings);
    const each = read.findings?.find(({ finding }) => finding.includes("blank in the settings"));
    expect(findCell(read, each as Finding)).toEqual({
      sheet: "Setup",
      row: 13 + SETTINGS.length,
      column: 2,
    });
  });
});
