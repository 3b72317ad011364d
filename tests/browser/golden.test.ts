/** The golden table in the local sheet: every formula in a cell, calculated by the page. */
import { Workbook } from "@cj-tech-master/excelts";
import type { Browser } from "playwright-core";
import {
  type GoldenRow,
  type Outcome,
  formulaOf,
  goldenRows,
  problemsOf,
  titleOf,
} from "../golden/golden.js";
import { ADDRESS, openPage, shownArea, startBrowser } from "./open-page.js";

const SHEET = "Golden";
/** Rows kept free for the table of a formula; the longest is the list of settings. */
const ROOM = 70;
const WIDEST = "L";

const rows = goldenRows();
const topOf = (index: number): number => index * ROOM + 1;

/** A workbook with every formula and no saved value, so that what is shown was calculated by the page. */
async function goldenWorkbook(): Promise<Uint8Array> {
  const book = new Workbook();
  const sheet = book.addWorksheet(SHEET);
  rows.forEach((row, index) => {
    sheet.getCell(`A${topOf(index)}`).value = { formula: formulaOf(row).slice(1) };
  });
  return new Uint8Array(await book.xlsx.writeBuffer());
}

/** What a formula shows: one cell, or the cells it filled. */
function outcomeOf(row: GoldenRow, cells: readonly (readonly unknown[])[]): Outcome {
  const first = cells[0]?.[0];
  if (typeof first === "string" && /^#(?:VALUE!|N\/A|NAME\?|SPILL!|CALC!|NUM!|REF!)/.test(first)) {
    return { error: first };
  }
  if (!row.cells && !Array.isArray(row.result)) return { value: first };
  const isEmpty = (line: readonly unknown[] | undefined): boolean =>
    (line ?? []).every((cell) => cell === null || cell === "");
  const height = cells.findIndex((_line, r) => isEmpty(cells[r]));
  const lines = cells.slice(0, height < 0 ? cells.length : height);
  const wanted = Array.isArray(row.result) ? row.result[0]?.length : row.size?.[1];
  const width = wanted ?? (lines[0] ?? []).findIndex((cell) => cell === null || cell === "");
  return { value: lines.map((line) => line.slice(0, width).map((cell) => cell ?? "")) };
}

let browser: Browser;

beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser?.close());

test(`the local sheet agrees with the golden table, ${rows.length} rows`, async () => {
  expect(ADDRESS).not.toBe("");
  const { page, errors, context } = await openPage(browser);
  const bytes = [...(await goldenWorkbook())];
  await page.evaluate(async (list) => {
    const { localSheet } = window as unknown as {
      localSheet: { openBytes(bytes: Uint8Array, name: string): Promise<void> };
    };
    await localSheet.openBytes(new Uint8Array(list), "golden");
  }, bytes);
  await page.waitForFunction(
    () => document.querySelector("#pane")?.textContent?.includes("No house") ?? false,
    undefined,
    { timeout: 60_000 }
  );
  const shown = await shownArea(page, SHEET, `A1:${WIDEST}${topOf(rows.length)}`);
  const wrong = rows.flatMap((row, index) => {
    const cells = shown.slice(topOf(index) - 1, topOf(index + 1) - 1);
    return problemsOf(row, outcomeOf(row, cells)).map((each) => `${titleOf(row)}: ${each}`);
  });
  expect(wrong).toEqual([]);
  expect(errors).toEqual([]);
  await context.close();
}, 300_000);
