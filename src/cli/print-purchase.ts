/** What is said of many houses: one line each, the purchase, what is saved and what is wrong. */
import path from "node:path";
import process from "node:process";
import type { CellValue } from "../host/engine/index.js";
import { cellText } from "./csv.js";
import { shownPath } from "./files.js";
import type { HouseResult } from "./one-house.js";
import {
  costText,
  houses,
  PURCHASE_HEADER,
  purchaseRow,
  type Purchase,
  type PurchaseFiles,
  type PurchaseProblem,
} from "./purchase.js";
import { plainText, tableText } from "./table-text.js";

/** Most houses listed on the screen; all of them are in the purchase workbook. */
const MOST_LISTED = 40;

function houseRow(result: HouseResult): CellValue[] {
  const count = (level: string): number | string =>
    result.findings?.filter((each) => each.level.toLowerCase() === level).length ?? "";
  const panels = result.cutPlan?.panels ?? "";
  const folder = result.workbook === undefined ? "" : shownPath(path.dirname(result.workbook));
  return [
    result.house,
    shownPath(result.file),
    result.release ?? "",
    panels,
    count("fix"),
    count("look"),
    folder || "not taken off",
  ];
}

function houseTable(results: readonly HouseResult[]): string {
  const header = ["House", "File", "Release date", "Panels", "To fix", "To look at", "Results in"];
  const rows: CellValue[][] = results.slice(0, MOST_LISTED).map(houseRow);
  const more = results.length - rows.length;
  return tableText([header, ...rows]) + (more > 0 ? `\n... and ${houses(more)} more` : "");
}

/** Columns that say something for this purchase: without prices no price, on the screen no note. */
function shownColumns(rows: readonly (readonly CellValue[])[]): CellValue[][] {
  const header = PURCHASE_HEADER;
  const shown = header.map(
    (name, index) => name !== "Note" && rows.some((row) => cellText(row[index] ?? null) !== "")
  );
  return [header, ...rows].map((row) => row.filter((_, index) => shown[index]));
}

function savedText({ lines }: Purchase): string {
  const some = lines.filter((line) => line.saved > 0);
  if (some.length === 0) return "Buying together saves no package here.";
  const count = some.reduce((sum, line) => sum + line.saved, 0);
  const list = some.map((line) => `${line.saved} of ${line.item} ${line.size}`).join(", ");
  return `Buying together instead of house by house saves ${count} package${count === 1 ? "" : "s"}: ${list}.`;
}

/** Fixes and looks, house by house; troubles and cells in error are said on the error stream. */
function problemLines(problems: readonly PurchaseProblem[]): string[] {
  const shown = problems.filter(({ level }) => level === "fix" || level === "look");
  if (shown.length === 0) return [];
  const lines = shown.slice(0, MOST_LISTED).map(({ level, house, file, problem }) => {
    const where = house === "" ? "" : `${house} (${file}): `;
    return `  ${level}: ${plainText(where + problem)}`;
  });
  const more = shown.length - lines.length;
  return [
    `To fix or to look at (${shown.length})`,
    ...lines,
    ...(more > 0 ? [`  ... and ${more} more on the sheet Problems`] : []),
    "",
  ];
}

/** Says the purchase on the output stream. */
export function printPurchase(
  results: readonly HouseResult[],
  purchase: Purchase,
  files: PurchaseFiles | undefined
): void {
  const out = [houseTable(results), ""];
  if (purchase.houseCount > 0) {
    const { houseCount, leftOut, lines } = purchase;
    const missing = leftOut === 0 ? "" : `; ${houses(leftOut)} NOT in it`;
    out.push(`Purchase for ${houses(houseCount)}${missing}`, "");
    out.push(tableText(shownColumns(lines.map(purchaseRow))), "");
    for (const { item, size, note } of lines) {
      if (note !== "" && note !== "no price")
        out.push(`  ${plainText(`${item} ${size}: ${note}`)}`);
    }
    out.push("", savedText(purchase), costText(purchase), "");
  }
  out.push(...problemLines(purchase.problems));
  if (files) {
    out.push(`Purchase workbook: ${shownPath(files.workbook)}`);
    out.push(`Purchase as CSV:   ${shownPath(files.csv)}`, "");
  }
  process.stdout.write(`${out.join("\n")}\n`);
}

/** Says at the very end which houses are not in the purchase. */
export function printLeftOut({ problems, leftOut }: Purchase): void {
  const lines = problems
    .filter(({ level }) => level === "left out")
    .map(({ file, problem }) => `  ${file}: ${plainText(problem)}`);
  if (leftOut === 0) return;
  process.stderr.write(`${houses(leftOut)} NOT in the purchase:\n${lines.join("\n")}\n`);
}

export function purchaseJson(purchase: Purchase, files: PurchaseFiles | undefined): object {
  const { lines, releases, problems, houseCount, leftOut, cost, unpriced } = purchase;
  return {
    houses: houseCount,
    leftOut,
    lines: lines.map(({ from: _from, ...line }) => line),
    releases,
    cost,
    unpriced,
    problems,
    ...(files ? { workbook: shownPath(files.workbook), csv: shownPath(files.csv) } : {}),
  };
}
