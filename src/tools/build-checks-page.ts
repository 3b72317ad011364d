/**
 * Builds docs/checks.md: every published value beside ours, from the rows the published tests run through.
 */
import { CONFIRM_IN_CODE_BOOK, type Confirmation } from "../core/published.js";
import { lookUps, notCompared, validationRows } from "./validation/index.js";
import { workCase, type ValidationRow, type WorkedCase } from "./validation/row.js";

const HOW: Readonly<Record<Confirmation, string>> = {
  seen: "seen in a public copy",
  recomputed: "reproduced to the last printed digit, or worked by hand",
  practice: "common practice, no source",
  memory: `**from memory: ${CONFIRM_IN_CODE_BOOK}**`,
};

/** Digits shown past the published ones. */
const EXTRA_DECIMALS = 2;
/** No column needs more. */
const MOST_DECIMALS = 12;

/** The text of docs/checks.md. Same rows, same text: nothing in it depends on the day or the machine. */
export function checksPage(): string {
  const worked = validationRows.map((row) => ({
    row,
    cases: row.cases.map((entry) => workCase(row, entry)),
  }));
  const all = worked.flatMap(({ row, cases }) => cases.map((entry) => ({ row, entry })));
  const agreeing = all.filter(({ entry }) => entry.isWithin).length;
  const differing = all.length - agreeing;
  const remembered = all.filter(({ row }) => row.confirmed === "memory").length;
  const lines = [
    "# Published values beside ours",
    "",
    "<!-- Built by `npm run docs` from src/tools/validation; a test fails where the two differ. -->",
    "",
    `**${all.length} published figures** in ${worked.length} rows: **${agreeing} agree** within the tolerance beside them, ` +
      `**${differing} do not** and are marked **off**. ${remembered} figures are known from memory only. ` +
      `${lookUps.length} tables and rules are kept as look-ups; ${notCompared.length} figures are not compared, with the reason.`,
    "",
    "The tests run through the same figures. They were keyed in from the documents, not from the tables the functions use.",
    "*Ours* and *difference* are shown a little finer than the figure is printed; nothing is rounded before it is compared.",
    `A figure from memory is shown with "${CONFIRM_IN_CODE_BOOK}" wherever it is used and decides nothing by itself.`,
    "",
    "## Where we differ",
    "",
    ...differences(worked),
    "",
  ];
  for (const section of sections()) {
    lines.push(`## ${section}`, "");
    for (const { row, cases } of worked) {
      if (row.section === section) lines.push(...rowLines(row, cases));
    }
  }
  lines.push(
    "## Looked up, not computed",
    "",
    "| what | figures | source | how confirmed |",
    "| --- | --- | --- | --- |",
    ...lookUps.map(
      (entry) =>
        `| ${cell(entry.what)} | ${cell(entry.figures)} | ${cell(entry.source)} | ${HOW[entry.confirmed]} |`
    ),
    "",
    "## Not compared",
    "",
    "| figure | why not |",
    "| --- | --- |",
    ...notCompared.map((entry) => `| ${cell(entry.what)} | ${cell(entry.why)} |`),
    ""
  );
  return lines.join("\n");
}

function sections(): string[] {
  return [...new Set(validationRows.map((row) => row.section))];
}

function differences(worked: readonly { row: ValidationRow; cases: WorkedCase[] }[]): string[] {
  const off = worked
    .map(({ row, cases }) => ({ row, off: cases.filter((entry) => !entry.isWithin) }))
    .filter((entry) => entry.off.length > 0);
  if (off.length === 0) return ["Nowhere."];
  return off.map(({ row, off: cases }) => {
    const largest = Math.max(...cases.map((entry) => Math.abs(entry.difference ?? 0)));
    const size =
      largest > 0 ? `, by up to ${largest.toFixed(decimalsOf(row))} ${row.unit}`.trimEnd() : "";
    return `- **${row.id}** (${row.quantity}): ${cases.length} of ${row.cases.length} off${size}. ${row.note ?? ""}`.trimEnd();
  });
}

function rowLines(row: ValidationRow, cases: readonly WorkedCase[]): string[] {
  const unit = row.unit === "" ? "" : `, ${row.unit}`;
  return [
    `### ${row.id}: ${row.quantity}${unit}`,
    "",
    `- Source: ${row.source}`,
    `- Confirmed: ${HOW[row.confirmed]}`,
    `- Tolerance: ${toleranceText(row)}: ${row.why}`,
    ...(row.note === undefined ? [] : [`- Note: ${row.note}`]),
    "",
    "| of | published | ours | difference | |",
    "| --- | ---: | ---: | ---: | --- |",
    ...cases.map((entry) => {
      const decimals = decimalsOf(row);
      return (
        `| ${cell(entry.of)} | ${value(entry.published)} | ${value(entry.ours, decimals)} | ` +
        `${entry.difference === null ? "" : signed(entry.difference, decimals)} | ${entry.isWithin ? "" : "**off**"} |`
      );
    }),
    "",
  ];
}

function toleranceText(row: ValidationRow): string {
  if (row.cases.every((entry) => typeof entry.published === "string")) return "the same text";
  if (row.kind === "relative") return `${Number((row.tolerance * 100).toPrecision(6))} percent`;
  const size = row.tolerance === 0 ? "none" : plain(row.tolerance);
  if (row.kind === "at most") return `at most the published figure, and ${size} over`;
  return row.kind === "at least" ? `at least the published figure, or ${size} under` : size;
}

/** Decimals of the finest published figure of the row, and a little more; enough to show the tolerance. */
function decimalsOf(row: ValidationRow): number {
  const printed = row.cases.map((entry) =>
    typeof entry.published === "number" ? (plain(entry.published).split(".")[1] ?? "").length : 0
  );
  const forTolerance =
    row.tolerance > 0 && row.kind !== "relative" ? Math.ceil(-Math.log10(row.tolerance)) : 0;
  const exact = row.tolerance === 0 ? 0 : EXTRA_DECIMALS;
  return Math.min(MOST_DECIMALS, Math.max(0, forTolerance, Math.max(...printed) + exact));
}

/** A number without an exponent. */
function plain(number: number): string {
  const text = String(number);
  return text.includes("e") ? number.toFixed(MOST_DECIMALS).replace(/0+$/, "") : text;
}

function value(shown: number | string, decimals?: number): string {
  if (typeof shown === "string") return cell(shown);
  return decimals === undefined ? plain(shown) : unsignedZero(shown.toFixed(decimals));
}

function signed(difference: number, decimals: number): string {
  const text = unsignedZero(difference.toFixed(decimals));
  return difference > 0 && Number(text) !== 0 ? `+${text}` : text;
}

function unsignedZero(text: string): string {
  return Number(text) === 0 ? text.replace("-", "") : text;
}

function cell(text: string): string {
  return text.replace(/\|/g, "\\|");
}

// run by itself: the page on standard output
if (/build-checks-page\.[jt]s$/.test(process.argv[1] ?? "")) process.stdout.write(checksPage());
