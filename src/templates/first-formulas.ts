/**
 * The workbook of first formulas: every function once beside a value worked out by hand, every table that spills,
 * and what cells say when something is off.
 */
import { columnLetters } from "../core/cell-address.js";
import {
  type CellInput,
  SheetBuilder,
  type SheetTemplate,
  WRONG_FILL,
  type WorkbookTemplate,
} from "./workbook.js";

export interface FirstFormula {
  readonly formula: string;
  /** worked out by hand or printed somewhere; never copied from an answer */
  readonly expected: CellInput;
  /** how far the answer may be off */
  readonly within: number;
  /** arithmetic or source */
  readonly why: string;
}

export interface SpilledTable {
  readonly formula: string;
  /** rows kept free for it */
  readonly rows: number;
}

export interface Mistake {
  readonly formula: string;
  /** error the cell shows */
  readonly shows: string;
  /** words of its message */
  readonly says: string;
  readonly doThis: string;
}

export interface FirstFormulaSources {
  readonly formulas: readonly FirstFormula[];
  readonly tables: readonly SpilledTable[];
  readonly mistakes: readonly Mistake[];
}

const HEADER_ROW = 5;
const FIRST_TABLE_ROW = 4;
/** columns of the widest table */
const TABLE_COLUMNS = 11;

function formulasSheet(formulas: readonly FirstFormula[]): SheetTemplate {
  const sheet = new SheetBuilder("Formulas");
  const first = HEADER_ROW + 1;
  const last = HEADER_ROW + formulas.length;
  sheet.put("A1", "First formulas", "title");
  sheet.put(
    "A2",
    "Every function once. Click an answer to see its formula, change an argument and watch. The expected values were worked out by hand or are printed where the last column says.",
    "help"
  );
  sheet.put("A3", "Agree", "label");
  sheet.put(
    "B3",
    `=COUNTIF($D$${first}:$D$${last},"yes")&" of "&ROWS($D$${first}:$D$${last})`,
    "figure"
  );
  sheet.row(HEADER_ROW, 1, ["Formula", "Answer", "Expected", "Agrees?", "Why"], "header");
  formulas.forEach(({ formula, expected, within, why }, index) => {
    const row = first + index;
    sheet.put(`A${row}`, shownFormula(formula), "text");
    sheet.put(`B${row}`, formula, "figure");
    sheet.put(`C${row}`, expected, "figure");
    sheet.put(
      `D${row}`,
      typeof expected === "number"
        ? `=IF(ABS($B${row}-$C${row})<=${Math.max(within, 1e-9).toFixed(9).replace(/0+$/, "")},"yes","NO")`
        : `=IF($B${row}=$C${row},"yes","NO")`,
      "spilled"
    );
    sheet.put(`E${row}`, why, "text");
  });
  sheet.mark(`D${first}:D${last}`, "NO", WRONG_FILL);
  sheet.widths([{ width: 80 }, { width: 16 }, { width: 16 }, { width: 10 }, { width: 90 }]);
  sheet.freeze(HEADER_ROW, 0);
  sheet.printAs({ orientation: "landscape", titleRows: `${HEADER_ROW}:${HEADER_ROW}` });
  return sheet.build();
}

/** A formula to be read, not calculated: without its equals sign, which would make it one. */
function shownFormula(formula: string): string {
  return formula.replace(/^=/, "");
}

function tablesSheet(tables: readonly SpilledTable[]): SheetTemplate {
  const sheet = new SheetBuilder("Tables");
  sheet.put("A1", "Tables", "title");
  sheet.put(
    "A2",
    "Functions that answer with a table fill the cells below and to the right of their formula. Keep those cells empty, or the table has no room.",
    "help"
  );
  let row = FIRST_TABLE_ROW;
  for (const { formula, rows } of tables) {
    sheet.put(`A${row}`, shownFormula(formula), "label");
    sheet.put(`A${row + 1}`, formula, "header");
    for (let column = 2; column <= TABLE_COLUMNS; column++) {
      sheet.put(`${columnLetters(column)}${row + 1}`, undefined, "header");
    }
    row += rows + 3;
  }
  sheet.widths([{ width: 18 }, { width: 14 }, ...Array.from({ length: 9 }, () => ({ width: 14 }))]);
  sheet.freeze(2, 0);
  sheet.printAs({ orientation: "landscape" });
  return sheet.build();
}

/** The house that the house functions on the other sheets read; the addresses stand in their formulas. */
function houseSheet(): SheetTemplate {
  const sheet = new SheetBuilder("House");
  sheet.put("A1", "A small house for the functions that read tables", "title");
  sheet.put("A2", "Walls", "label");
  sheet.row(3, 1, ["Wall", "Length", "Height", "Left end", "Right end"], "header");
  sheet.put("A4", "North", "input");
  sheet.row(4, 2, ["12'", 96], "lengthInput");
  sheet.row(4, 4, ["free", "free"], "input");
  sheet.put("A6", "Openings", "label");
  sheet.row(7, 1, ["Wall", "Opening", "From left", "Sill", "Width", "Height"], "header");
  sheet.row(8, 1, ["North", "Window"], "input");
  sheet.row(8, 3, [60, 36, 24, 36], "lengthInput");
  sheet.put("A10", "Settings", "label");
  sheet.row(11, 1, ["Setting", "Value"], "header");
  const settings = ["Foam (in)", "Panel (in)", "Cavity R (R)", "Foam R per inch (R)"];
  settings.forEach((name, index) => sheet.put(`A${12 + index}`, name, "input"));
  ["1-1/4", "5/8"].forEach((value, index) => sheet.put(`B${12 + index}`, value, "lengthInput"));
  [20, 4].forEach((value, index) => sheet.put(`B${14 + index}`, value, "input"));
  sheet.keepAsText("A3:F13");
  sheet.widths(Array.from({ length: 6 }, () => ({ width: 14 })));
  sheet.printAs({ orientation: "landscape" });
  return sheet.build();
}

function mistakesSheet(mistakes: readonly Mistake[]): SheetTemplate {
  const sheet = new SheetBuilder("Mistakes");
  sheet.put("A1", "When something is off", "title");
  sheet.put(
    "A2",
    "A function never answers a bad input with a number. The cell shows an error; point at it to read why. The formulas below are text, so that this workbook has no error of its own: copy one and put = in front.",
    "help"
  );
  sheet.row(4, 1, ["Formula", "The cell shows", "Its message says", "Do this"], "header");
  mistakes.forEach(({ formula, shows, says, doThis }, index) =>
    sheet.row(5 + index, 1, [shownFormula(formula), shows, says, doThis], "text")
  );
  sheet.widths([{ width: 60 }, { width: 16 }, { width: 44 }, { width: 60 }]);
  sheet.freeze(4, 0);
  sheet.printAs({ orientation: "landscape", titleRows: "4:4" });
  return sheet.build();
}

export function firstFormulasTemplate(sources: FirstFormulaSources): WorkbookTemplate {
  return {
    title: "First formulas",
    sheets: [
      formulasSheet(sources.formulas),
      tablesSheet(sources.tables),
      houseSheet(),
      mistakesSheet(sources.mistakes),
    ],
  };
}
