/** A house as the pane shows it, from the three tables of its workbook; what can be shown is shown beside what is wrong. */
import { isCalcError } from "../core/check.js";
import { houseFindings } from "../core/house/checks.js";
import { orderLines } from "../core/house/order.js";
import { type PlacedTable, TableError } from "../core/house/tables.js";
import { hasNoWalls } from "../core/house/walls.js";
import { houseOf } from "../worksheet/house-cache.js";
import { cellOfTable, settingNamed } from "./find-cell.js";
import type { HouseReading } from "./host.js";

/** What a workbook without an openings or a settings table hands over. */
export const NO_TABLE: PlacedTable["rows"] = [[null]];

/**
 * @param tables the three tables, each with where it stands in the workbook
 * @param places where they stand as the pane's host selects cells
 */
export function readingOf(
  tables: Readonly<Record<"walls" | "openings" | "settings", PlacedTable>>,
  places: NonNullable<HouseReading["places"]>
): HouseReading {
  const { walls, openings, settings } = tables;
  const reading: { -readonly [Key in keyof HouseReading]: HouseReading[Key] } = { places };
  try {
    if (hasNoWalls(walls)) {
      const at = cellOfTable(places, { table: "walls", row: 1, column: 0 });
      return {
        ...reading,
        firstStep: `Type the first wall on the ${walls.place.sheet} sheet.`,
        ...(at ? { problemAt: at } : {}),
      };
    }
    const house = houseOf(walls, openings, settings);
    reading.findings = houseFindings(house);
    if (house.walls.length > 0) reading.house = house;
    const [problem] = house.problems;
    if (!problem) return { ...reading, order: orderLines(house) };
    return { ...reading, ...troubleAt(problem.message, cellOfTable(places, problem.cell)) };
  } catch (error) {
    if (!isCalcError(error)) throw error;
    const cell =
      error instanceof TableError
        ? cellOfTable(places, error.cell)
        : settingNamed(places.settings, error.message);
    return { ...reading, ...troubleAt(error.message, cell) };
  }
}

function troubleAt(problem: string, at: HouseReading["problemAt"]): HouseReading {
  return { problem, ...(at ? { problemAt: at } : {}) };
}
