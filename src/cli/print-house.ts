/** What is said of one house: its order, its checks, its files, and why something could not be calculated. */
import process from "node:process";
import type { CellProblem } from "../host/engine/index.js";
import { shownPath } from "./files.js";
import { type Finding, type HouseResult, whyNoOrder } from "./one-house.js";
import { plainText, tableText, wrapText } from "./table-text.js";

/** Width of the text below the tables, characters. */
const TEXT_WIDTH = 100;

const LEVELS: readonly (readonly [level: string, title: string])[] = [
  ["fix", "Fix before ordering"],
  ["look", "Look at"],
  ["note", "Notes"],
];

/** Says a house in full. */
export function printHouse(result: HouseResult): void {
  if (result.trouble !== undefined && !result.workbook && !result.order) return;
  const out: string[] = [shownPath(result.file), ""];
  if (result.order) {
    const all = [result.order, ...result.otherOrders];
    for (const { sheet, cell, rows } of all) {
      const where = all.length === 1 ? "" : ` (${plainText(sheet)}!${cell})`;
      out.push(`Order${where}`, "", tableText(rows), "");
    }
  } else if (result.errors.length === 0) {
    out.push(`There is no order in this workbook: ${whyNoOrder(result)}.`, "");
  }
  const findings = result.findings ?? [];
  for (const [level, title] of LEVELS) {
    const some = findings.filter((each) => each.level.toLowerCase() === level);
    if (some.length === 0 && level !== "fix") continue;
    if (some.length === 0 && findings.length === 0) continue;
    out.push(`${title} (${some.length})`);
    for (const each of some) out.push(...findingLines(each));
    out.push("");
  }
  for (const remark of result.remarks) out.push(...wrapText(`Note: ${remark}.`, TEXT_WIDTH));
  if (result.remarks.length > 0) out.push("");
  if (result.keptCount > 0) {
    out.push(`${result.keptCount} formulas read other workbooks and keep their saved values.`, "");
  }
  if (result.workbook) out.push(`Recalculated workbook: ${shownPath(result.workbook)}`);
  if (result.orderCsv) out.push(`Order as CSV:          ${shownPath(result.orderCsv)}`);
  if (result.order && result.workbook && !result.drawings && result.isDrawn) {
    const { sheet, cell } = result.order;
    out.push(`There are no drawings: ${plainText(sheet)}!${cell} does not take off one house.`);
  }
  if (result.drawings && result.order && result.otherOrders.length > 0) {
    const { sheet, cell } = result.order;
    out.push(`The drawings are those of the house of ${plainText(sheet)}!${cell}.`);
  }
  if (result.drawings) {
    const { page, svg, folder } = result.drawings;
    out.push(`Sheets to print:       ${shownPath(page)}`);
    out.push(`Drawings:              ${svg.length} SVG files in ${shownPath(folder)}`);
  }
  process.stdout.write(`${out.join("\n")}\n\n`);
}

function findingLines({ wall, finding, whatToDo }: Finding): string[] {
  const where = wall === "" ? "" : `${wall}: `;
  const text = [`${where}${finding}`, whatToDo].filter((part) => part !== "").join(". ");
  const sentence = text.replace(/([.!?])\. /g, "$1 ");
  return wrapText(sentence, TEXT_WIDTH - 4).map(
    (line, index) => (index === 0 ? "  - " : "    ") + line
  );
}

/** Says why a house, or a cell of it, could not be calculated. */
export function printTrouble(result: HouseResult): void {
  const name = shownPath(result.file);
  if (result.trouble !== undefined) process.stderr.write(`${name}: ${result.trouble}\n`);
  if (result.errors.length === 0) return;
  const count = result.errors.length;
  process.stderr.write(
    `${name}: ${count} cell${count === 1 ? "" : "s"} could not be calculated\n${result.errors
      .map(problemLine)
      .join("\n")}\n`
  );
}

function problemLine({ sheet, cell, code, message, formula }: CellProblem): string {
  const why = message === "" ? "" : ` ${plainText(message)}`;
  return `  ${plainText(sheet)}!${cell} ${code}${why}\n    ${plainText(formula)}`;
}

export function houseJson(result: HouseResult): object {
  const [columns = [], ...rows] = result.order?.rows ?? [];
  return {
    file: shownPath(result.file),
    ok: result.trouble === undefined && result.errors.length === 0,
    ...(result.trouble === undefined ? {} : { trouble: result.trouble }),
    ...(result.order
      ? { order: { sheet: result.order.sheet, cell: result.order.cell, columns, rows } }
      : {}),
    ...(result.otherOrders.length > 0 ? { otherOrders: result.otherOrders } : {}),
    findings: result.findings ?? [],
    errors: result.errors,
    remarks: result.remarks,
    formulas: result.formulaCount,
    ...(result.workbook ? { workbook: shownPath(result.workbook) } : {}),
    ...(result.orderCsv ? { orderCsv: shownPath(result.orderCsv) } : {}),
    ...(result.drawings
      ? {
          printPage: shownPath(result.drawings.page),
          drawings: result.drawings.svg.map(shownPath),
        }
      : {}),
  };
}
