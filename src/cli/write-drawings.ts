/** Draws the house of a workbook into the output folder: every wall and panel as SVG, and one page to print. */
import path from "node:path";
import type { HouseTakeoff } from "../core/house/takeoff.js";
import { houseOf } from "../worksheet/house-cache.js";
import { worksheetFunctions } from "../worksheet/registry.js";
import { NAMESPACE, type Workbook, type WorksheetFunction } from "../host/engine/index.js";
import { takeoffFiles, type Paper, type PrintedFinding } from "../pane/print/index.js";
import { OutputFolder } from "./files.js";

/** Folder of the drawings, below the results: a house has a hundred of them. */
export const DRAWINGS_FOLDER = "drawings";

/** Functions that take the three tables of a house and nothing else. */
const OF_TABLES = worksheetFunctions
  .filter(({ house, parameters }) => house && parameters.length === 3)
  .map(({ name }) => name);
const HOUSE_CALLS = new RegExp(
  `(?<![\\w.])${NAMESPACE}\\.(?:${OF_TABLES.join("|")})(?=\\s*\\()`,
  "gi"
);

/** Stands in for a house function in a formula, to see which tables that formula hands it. */
const CATCHER = "HOUSE_DRAWN";

/** Those whose answer comes from the takeoff; checks also speak of tables that cannot be taken off. */
const TAKEOFFS = new Set(OF_TABLES.filter((name) => name !== "HOUSE_CHECKS"));

/** The worksheet functions, and one that keeps the houses it is called with. */
export class HouseFunctions {
  private readonly caught = new Set<HouseTakeoff>();
  /** every house that any cell had taken off */
  private readonly takenOff = new Set<HouseTakeoff>();

  readonly all: readonly WorksheetFunction[] = [
    ...(worksheetFunctions as unknown as readonly WorksheetFunction[]).map((entry) =>
      TAKEOFFS.has(entry.name) ? this.noting(entry) : entry
    ),
    {
      name: CATCHER,
      parameters: ["walls", "openings", "settings"].map((name) => ({
        name,
        matrix: true,
        placed: true,
        optional: false,
      })),
      call: (walls, openings, settings) => {
        this.caught.add(houseOf(walls, openings, settings));
        return true;
      },
    },
  ];

  private noting(entry: WorksheetFunction): WorksheetFunction {
    return {
      ...entry,
      call: (...args) => {
        const answer = entry.call(...args);
        const [walls, openings, settings] = args;
        this.takenOff.add(houseOf(walls, openings, settings));
        return answer;
      },
    };
  }

  /**
   * The houses that a cell's formula takes off, in a workbook that has been calculated; one that cannot be taken off is
   * not among them.
   */
  housesAt(book: Workbook, sheet: string, cell: string): readonly HouseTakeoff[] {
    const formula = book.cell(sheet, cell).formula ?? "";
    const watched = formula.replace(HOUSE_CALLS, `${NAMESPACE}.${CATCHER}`);
    if (watched === formula) return [];
    // Where the whole workbook has one house there is no need to calculate it again to see which.
    if (this.takenOff.size === 1) return [...this.takenOff];
    this.caught.clear();
    book.evaluate(watched, sheet);
    return [...this.caught];
  }
}

export interface Drawings {
  /** full paths of the drawings, walls first */
  readonly svg: readonly string[];
  readonly folder: string;
  /** full path of the page to print */
  readonly page: string;
}

/**
 * Writes the drawings of a house. Drawings of an earlier run that this house does not have are taken away where nobody
 * changed them, so that no crew picks up a wall that is no longer there.
 */
export function writeDrawings(
  house: HouseTakeoff,
  folder: OutputFolder,
  options: { title: string; paper?: Paper; findings?: readonly PrintedFinding[] }
): Drawings {
  const below = new OutputFolder(path.join(folder.folder, DRAWINGS_FOLDER));
  const svg: string[] = [];
  let page = "";
  for (const { name, content } of takeoffFiles(house, options)) {
    if (name.endsWith(".html")) page = folder.write(name, content);
    else svg.push(below.write(name, content));
  }
  below.dropOld();
  return { svg, folder: below.folder, page };
}
