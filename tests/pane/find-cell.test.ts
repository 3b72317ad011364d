/** A click on what the core says leads to the cell it says it of. */
import { isCalcError } from "../../src/core/check.js";
import { houseFindings } from "../../src/core/house/checks.js";
import { takeoffHouse } from "../../src/core/house/takeoff.js";
import type { Table } from "../../src/core/house/tables.js";
import { findCell } from "../../src/pane/find-cell.js";
import type { HouseReading } from "../../src/pane/host.js";
import { OPENINGS, SETTINGS, WALLS } from "./house.js";

/** The tables as they may stand in a workbook, none of them at its corner. */
function reading(walls: Table, openings: Table, settings: Table): HouseReading {
  const place = (sheet: string, top: number, left: number, cells: Table) => ({
    sheet,
    top,
    left,
    bottom: top + cells.length - 1,
    right: left + (cells[0]?.length ?? 1) - 1,
    cells,
  });
  return {
    places: {
      walls: place("Walls", 4, 2, walls),
      openings: place("Openings", 4, 1, openings),
      settings: place("Setup", 13, 1, settings),
    },
  };
}

/** A table with one cell changed; row 1 is the header. */
function changed(table: Table, row: number, header: string, value: string | number): Table {
  const column = (table[0] as readonly unknown[]).indexOf(header);
  return table.map((cells, index) =>
    index === row - 1 ? cells.map((cell, at) => (at === column ? value : cell)) : cells
  );
}

/** What is wrong with a house, in the core's words. */
function problem(walls: Table, openings: Table, settings: Table): string {
  try {
    takeoffHouse(walls, openings, settings);
  } catch (error) {
    if (isCalcError(error)) return error.message;
    throw error;
  }
  throw new Error("nothing is wrong with this house");
}

const LENGTH = 1; // columns right of the first
const HEIGHT = 2;

describe("the cell of a problem", () => {
  test("is the one in the row and under the header that the problem names", () => {
    const walls = changed(WALLS, 3, "Length", "long");
    const found = findCell(reading(walls, OPENINGS, SETTINGS), problem(walls, OPENINGS, SETTINGS));
    // the third row of a table that starts in row 4 and column 2
    expect(found).toEqual({ sheet: "Walls", row: 6, column: 2 + LENGTH });
  });

  test("of an opening stands in the openings", () => {
    const openings = changed(OPENINGS, 5, "Width", -3);
    const found = findCell(reading(WALLS, openings, SETTINGS), problem(WALLS, openings, SETTINGS));
    expect(found).toEqual({ sheet: "Openings", row: 8, column: 5 });
  });

  test("of a setting is its value", () => {
    const settings = changed(SETTINGS, 2, "Value", "nine");
    const said = problem(WALLS, OPENINGS, settings);
    expect(findCell(reading(WALLS, OPENINGS, settings), said)).toEqual({
      sheet: "Setup",
      row: 14,
      column: 2,
    });
  });

  test("of settings that do not go together is the one named", () => {
    const settings: Table = [...SETTINGS, ["Corner piece (in)", 12], ["Corner lap (in)", 12]];
    const said = problem(WALLS, OPENINGS, settings);
    expect(said).toMatch(/^settings: Corner lap/);
    const found = findCell(reading(WALLS, OPENINGS, settings), said);
    expect(found?.sheet).toBe("Setup");
    expect(settings[(found?.row ?? 0) - 13]?.[0]).toMatch(/^Corner (?:lap|piece)/);
  });

  test("is not made up where the problem names none", () => {
    expect(findCell(reading(WALLS, OPENINGS, SETTINGS), "No house found.")).toBeUndefined();
    expect(findCell({}, "walls row 3 (wall East): Length is blank")).toBeUndefined();
  });
});

describe("the cell of a finding", () => {
  const walls = changed(WALLS, 4, "Height", "high");
  const openings = changed(OPENINGS, 3, "Width", 3);
  const all = houseFindings(walls, openings, SETTINGS);
  const house = reading(walls, openings, SETTINGS);

  test("is the row's cell where the row cannot be read", () => {
    const each = all.find(({ finding }) => finding.startsWith("walls row 4"));
    expect(each?.wall).toBe("Court north");
    expect(findCell(house, each?.finding ?? "", each?.wall)).toEqual({
      sheet: "Walls",
      row: 7,
      column: 2 + HEIGHT,
    });
  });

  test("is the opening's where it names one", () => {
    const each = all.find(({ finding }) => finding.startsWith("W1 is"));
    expect(findCell(house, each?.finding ?? "", each?.wall)).toEqual({
      sheet: "Openings",
      row: 6,
      column: 2,
    });
  });

  test("is the wall's for anything else about a wall, house or no house", () => {
    const ofWalls = all.filter(({ wall, finding }) => wall !== "" && !/row \d|W1 is/.test(finding));
    expect(ofWalls.length).toBeGreaterThan(10);
    for (const { wall, finding } of ofWalls) {
      const found = findCell(house, finding, wall);
      expect([wall, found?.sheet, found?.column]).toEqual([wall, "Walls", 2]);
      expect(walls[(found?.row ?? 0) - 4]?.[0]).toBe(wall);
    }
  });

  test("is a setting's where it says that one is blank", () => {
    const settings: Table = [...SETTINGS, ["Outdoor temperature (F)", ""]];
    const each = houseFindings(WALLS, OPENINGS, settings).find(({ finding }) =>
      finding.includes("blank in the settings")
    );
    expect(findCell(reading(WALLS, OPENINGS, settings), each?.finding ?? "")).toEqual({
      sheet: "Setup",
      row: 13 + SETTINGS.length,
      column: 2,
    });
  });
});
