/** What the pane's buttons do in the open workbook. Each returns what to say to the person. */
import { VERSION } from "../core/version.js";
import { NAMESPACE } from "../worksheet/registry.js";
import { BLANK_HOUSE, houseTemplate } from "../templates/house-template.js";
import { columnLetters } from "../core/cell-address.js";
import type { TablesFound } from "./house-reader.js";
import { type Supports, outsideText, writeTemplate } from "./template-writer.js";

/** Runs a batch of work in the workbook, as the host's own `Excel.run`. */
export type Run = <T>(work: (context: Excel.RequestContext) => Promise<T>) => Promise<T>;

export interface Workbook {
  readonly run: Run;
  readonly supports: Supports;
}

/** A reason, in words for the person, why a button did nothing. */
export class Refusal extends Error {}

const LONGEST_SHEET_NAME = 31;
/** A formula's answer is looked for this often and this long, ms. */
const LOOK_EVERY_MS = 250;
const LOOK_FOR_MS = 8000;

const STORED = `_xldudf_${NAMESPACE}_`;
const CALLS = new RegExp(`\\b${NAMESPACE}\\.|${STORED}`, "i");

/** Writes the sheets of a house into the workbook. */
export async function newHouse({ run, supports }: Workbook): Promise<string> {
  const names = await run((context) =>
    writeTemplate(context, houseTemplate(BLANK_HOUSE), supports)
  );
  const list = [...names.values()];
  return `Added ${list.join(", ")}. Type the walls on ${names.get("Walls") ?? list[0]}.`;
}

/** House tables that can be added, and what each is. */
export const HOUSE_FORMULAS: readonly (readonly [name: string, title: string])[] = [
  ["HOUSE_ORDER", "Order: what to buy"],
  ["HOUSE_WALLS", "Walls: one row a wall"],
  ["HOUSE_PIECES", "Pieces: every piece"],
  ["HOUSE_CUTS", "Cuts: every panel"],
  ["HOUSE_CHECKS", "Checks: what to fix"],
  ["ONE_WALL", "One wall, worked out from cells here"],
];

/** One wall in two columns, relative to its first cell: labels, figures to change, formulas. */
const ONE_WALL: readonly (readonly [label: string, content: string | number])[] = [
  ["Length", "24'-6 1/2\""],
  ["Height", "8'"],
  ["Foam", "1-1/4"],
  ["Panel", "5/8"],
  ["Left end", "past"],
  ["Right end", "flush"],
  ["Panel thickness, in", `=${NAMESPACE}.PANEL_THICKNESS({3},{4})`],
  ["Burn at a past end, in", `=${NAMESPACE}.CORNER_OFFSET({3},{4})`],
  ["Run, in", `=${NAMESPACE}.RUN_LENGTH({1},{7},{5},{6})`],
  ["Panels", `=${NAMESPACE}.PANELS_PER_WALL({1},{2},{7},{5},{6})`],
  ["Seam tape, ft", `=${NAMESPACE}.TAPE_FEET({1},{2},{7},{5},{6})`],
  ["Nail at least, in", `=${NAMESPACE}.NAIL_LENGTH({7})`],
  ["Stocked nail, in", `=${NAMESPACE}.STOCK_NAIL({12})`],
  ["Corner tape at least, in", `=${NAMESPACE}.TAPE_WIDTH({7})`],
];

/** Puts a formula of the house, or a small block for one wall, at the active cell; only into empty cells. */
export async function addFormulas(
  { run }: Workbook,
  what: string,
  tables: TablesFound | undefined
): Promise<string> {
  if (what !== "ONE_WALL" && !tables) {
    throw new Refusal(
      "No house found in this workbook. Press New house first, or name the sheets Walls, Openings and Setup."
    );
  }
  return run(async (context) => {
    const active = context.workbook.getActiveCell();
    active.load("rowIndex,columnIndex,address");
    await context.sync();
    const { rowIndex, columnIndex } = active;
    const sheet = active.worksheet;
    const size = what === "ONE_WALL" ? [ONE_WALL.length, 2] : [1, 1];
    const target = sheet.getRangeByIndexes(
      rowIndex,
      columnIndex,
      size[0] as number,
      size[1] as number
    );
    target.load("values,formulas,address");
    await context.sync();
    if (target.formulas.flat().some((cell: unknown) => cell !== "")) {
      throw new Refusal(
        `${target.address} is not empty. Select a cell with room below and to the right.`
      );
    }
    if (what === "ONE_WALL") {
      const column = columnLetters(columnIndex + 2);
      // lengths stay text: 5/8 would become a date
      sheet.getRangeByIndexes(rowIndex, columnIndex + 1, 6, 1).numberFormat = Array(6).fill(["@"]);
      target.formulas = ONE_WALL.map(([label, content]) => [
        label,
        typeof content === "string"
          ? content.replace(/\{(\d+)\}/g, (_whole, row) => `${column}${rowIndex + Number(row)}`)
          : content,
      ]);
    } else {
      const { walls, openings, settings } = tables as TablesFound;
      target.formulas = [[`=${NAMESPACE}.${what}(${[walls, openings, settings].join(",")})`]];
    }
    target.getCell(0, 0).select();
    await context.sync();
    return `Added at ${active.address}.`;
  });
}

/** A formula as it is typed, from the spellings it takes on where the add-in was not there. */
export function repaired(formula: string): string {
  return outsideText(formula, (part) =>
    part
      .replace(new RegExp(`(?:'[^']*'|[\\w.\\[\\]]+)!(?=${STORED})`, "gi"), "")
      .replace(
        new RegExp(`${STORED}([A-Z_]+)`, "gi"),
        (_whole, name: string) => `${NAMESPACE}.${name}`
      )
      .replace(new RegExp(`@(?=${NAMESPACE}\\.)`, "gi"), "")
  );
}

interface UsedSheet {
  readonly sheet: Excel.Worksheet;
  readonly range: Excel.Range;
}

async function usedRanges(context: Excel.RequestContext): Promise<UsedSheet[]> {
  const sheets = context.workbook.worksheets;
  sheets.load("items/name,items/visibility");
  await context.sync();
  const used = sheets.items.map((sheet) => {
    const range = sheet.getUsedRangeOrNullObject();
    range.load("formulas,values,rowIndex,columnIndex,rowCount,columnCount");
    return { sheet, range };
  });
  await context.sync();
  return used.filter(({ range }) => !range.isNullObject);
}

/** Enters every formula of ours again that shows #NAME?. */
export async function repairFormulas({ run }: Workbook): Promise<string> {
  return run(async (context) => {
    const entered: Excel.Range[] = [];
    for (const { range } of await usedRanges(context)) {
      (range.formulas as unknown[][]).forEach((row, r) =>
        row.forEach((formula, c) => {
          if (typeof formula !== "string" || !formula.startsWith("=") || !CALLS.test(formula))
            return;
          const isStored = new RegExp(STORED, "i").test(formula);
          if ((range.values as unknown[][])[r]?.[c] !== "#NAME?" && !isStored) return;
          const cell = range.getCell(r, c);
          cell.formulas = [[repaired(formula)]];
          entered.push(cell);
        })
      );
    }
    if (entered.length === 0) return "No formula needs repair.";
    await context.sync();
    for (const cell of entered) cell.load("values");
    await context.sync();
    const broken = entered.filter(
      (cell) => (cell.values as unknown[][])[0]?.[0] === "#NAME?"
    ).length;
    const count = (number: number): string => `${number} formula${number === 1 ? "" : "s"}`;
    if (broken === 0) return `Entered ${count(entered.length)} again; all answer.`;
    return `Entered ${count(entered.length)} again; ${broken} still show #NAME?. Check their spelling, or press Self-test.`;
  });
}

/** A name for a copy that is free. */
function copyName(name: string, taken: Set<string>): string {
  for (let number = 1; ; number++) {
    const suffix = number === 1 ? " values" : ` values ${number}`;
    const free = name.slice(0, LONGEST_SHEET_NAME - suffix.length) + suffix;
    if (taken.has(free.toLowerCase())) continue;
    taken.add(free.toLowerCase());
    return free;
  }
}

/** Copies every sheet with formulas and keeps only the values in the copy. The sheets themselves stay as they are. */
export async function keepValues({ run, supports }: Workbook): Promise<string> {
  if (!supports("1.9")) {
    throw new Refusal("This version of the spreadsheet cannot copy sheets for an add-in.");
  }
  return run(async (context) => {
    const used = await usedRanges(context);
    const taken = new Set(used.map(({ sheet }) => sheet.name.toLowerCase()));
    const all = context.workbook.worksheets;
    all.load("items/name");
    await context.sync();
    all.items.forEach((sheet) => taken.add(sheet.name.toLowerCase()));
    const copies: string[] = [];
    for (const { sheet, range } of used) {
      const hasFormula = (range.formulas as unknown[][]).some((row) =>
        row.some((cell) => typeof cell === "string" && cell.startsWith("="))
      );
      if (!hasFormula || sheet.visibility !== "Visible") continue;
      const copy = sheet.copy("End");
      const name = copyName(sheet.name, taken);
      copy.name = name;
      copy
        .getRangeByIndexes(range.rowIndex, range.columnIndex, range.rowCount, range.columnCount)
        .copyFrom(range, "Values");
      copies.push(name);
    }
    if (copies.length === 0) throw new Refusal("No sheet of this workbook has a formula.");
    await context.sync();
    return `Added ${copies.join(", ")}, with values in place of formulas. Move them to a new workbook to send them.`;
  });
}

/** How a drawing gets into the sheet on this version: as it is, or as a picture made of it. */
export interface Drawer {
  /** undefined where the version takes no drawings of this kind */
  readonly insertSvg?: (svg: string) => Promise<void>;
  /** the drawing as PNG, in base64 */
  readonly toPng: (svg: string) => Promise<string>;
}

/** Puts the drawing of a wall at the active cell, as a shape that can be moved and sized. */
export async function drawIntoSheet(
  { run, supports }: Workbook,
  drawer: Drawer,
  wall: string,
  svg: string
): Promise<string> {
  if (drawer.insertSvg) {
    await drawer.insertSvg(svg);
    return `Drew ${wall} at the active cell.`;
  }
  if (!supports("1.9")) {
    throw new Refusal("This version of the spreadsheet takes no drawings from an add-in.");
  }
  const png = await drawer.toPng(svg);
  return run(async (context) => {
    const active = context.workbook.getActiveCell();
    active.load("left,top,address");
    await context.sync();
    const shape = active.worksheet.shapes.addImage(png);
    shape.name = `Wall ${wall}`;
    shape.lockAspectRatio = true;
    shape.left = active.left;
    shape.top = active.top;
    await context.sync();
    return `Drew ${wall} at ${active.address}.`;
  });
}

export interface SelfTest {
  readonly isWell: boolean;
  readonly lines: readonly string[];
}

/** Asks a cell of a sheet of its own, which goes again, for the version. */
export async function selfTest(
  { run }: Workbook,
  associated: number,
  known: number,
  wait: (ms: number) => Promise<void> = (ms) => new Promise((done) => setTimeout(done, ms))
): Promise<SelfTest> {
  const lines = [`Functions registered: ${associated} of ${known}.`];
  const answer = await run(async (context) => {
    const before = context.workbook.worksheets.getActiveWorksheet();
    const sheet = context.workbook.worksheets.add();
    try {
      const cell = sheet.getRange("A1");
      cell.formulas = [[`=${NAMESPACE}.VERSION()`]];
      await context.sync();
      for (let waited = 0; ; waited += LOOK_EVERY_MS) {
        cell.load("values");
        await context.sync();
        const value: unknown = (cell.values as unknown[][])[0]?.[0];
        if (value !== "#BUSY!" || waited >= LOOK_FOR_MS) return value;
        await wait(LOOK_EVERY_MS);
      }
    } finally {
      before.activate();
      sheet.delete();
      await context.sync();
    }
  });
  lines.push(
    answer === VERSION
      ? `Cells answer. Version ${VERSION}.`
      : typeof answer === "string" && /^\d/.test(answer)
        ? `Cells are answered by version ${answer}, the pane is ${VERSION}: close the spreadsheet and open it again.`
        : `A cell with =${NAMESPACE}.VERSION() shows ${String(answer)}. Close the spreadsheet and open it again; then press Repair formulas.`
  );
  return { isWell: answer === VERSION && associated === known, lines };
}
