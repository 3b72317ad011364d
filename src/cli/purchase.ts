/** Adds the orders of many houses up to one purchase and writes it as a workbook and as text. */

import { itemKey, type PriceList, type PriceOffer } from "../core/house/price-list.js";
import {
  purchaseLines,
  releaseLines,
  unusedOffers,
  type HouseNeed,
  type PurchaseLine,
  type ReleaseLine,
} from "../core/house/roll-up.js";
import { nameKey } from "../core/house/tables.js";
import type { CellProblem, CellValue } from "../host/engine/index.js";
import { csvText } from "./csv.js";
import type { OutputFolder } from "./files.js";
import { shownPath } from "./files.js";
import { listWorkbook, type ListColumn, type ListSheet } from "./list-workbook.js";
import {
  needsOf,
  whyNoOrder,
  type Finding,
  type HouseResult,
  type OrderNeed,
} from "./one-house.js";

/**
 * - `left out`: its need is not in the purchase
 * - `cell`: a cell outside the order could not be calculated
 * - `fix`: the house's own checks say to put it right before ordering
 * - `look`: counted, but worth a look
 */
export type ProblemLevel = "left out" | "cell" | "fix" | "look";

export interface PurchaseProblem {
  readonly level: ProblemLevel;
  readonly house: string;
  readonly file: string;
  readonly problem: string;
}

/** Stands for a house and a file where a problem is of none by itself. */
const EVERYWHERE = { house: "", file: "" } as const;

export interface Purchase {
  readonly lines: readonly PurchaseLine[];
  readonly releases: readonly ReleaseLine[];
  readonly needs: readonly (HouseNeed & { readonly file: string })[];
  readonly problems: readonly PurchaseProblem[];
  /** houses added up */
  readonly houseCount: number;
  /** houses that were to be added up and are not */
  readonly leftOut: number;
  /** sum of the lines that have a price */
  readonly cost: number;
  /** lines without a price; with no prices at all, every line */
  readonly unpriced: number;
}

type Add = (level: ProblemLevel, problem: string) => void;

/** The error of the cell that orders, not one of those that only read it. */
function firstCause(errors: readonly CellProblem[]): string {
  const cause =
    errors.find(({ formula }) => /HOUSE_ORDER/i.test(formula)) ?? (errors[0] as CellProblem);
  return problemCellText(cause);
}

function problemCellText({ sheet, cell, code, message }: CellProblem): string {
  return `${sheet}!${cell} ${code} ${message}`.trim();
}

/** The order lines of one house; undefined where it cannot be added up, with the reason said. */
function countedNeeds(result: HouseResult, add: Add): OrderNeed[] | undefined {
  if (result.trouble !== undefined && !result.order) {
    add("left out", result.trouble);
    return undefined;
  }
  if (!result.order) {
    const why =
      result.errors.length > 0
        ? `its order could not be calculated: ${firstCause(result.errors)}`
        : `there is no order in it: ${whyNoOrder(result)}`;
    add("left out", why);
    return undefined;
  }
  try {
    const lines = [result.order, ...result.otherOrders].flatMap(({ rows }) => needsOf(rows));
    // what no purchase can be made of is said of its house, and does not stop the others
    purchaseLines(
      lines.map((line) => ({ ...line, houseNumber: 0, house: result.house })),
      []
    );
    return lines;
  } catch (error) {
    add("left out", `its order cannot be added up: ${(error as Error).message}`);
    return undefined;
  }
}

function ownProblems(result: HouseResult, add: Add): void {
  if (result.trouble !== undefined && result.order) add("look", result.trouble);
  for (const each of result.errors) add("cell", problemCellText(each));
  for (const each of result.findings ?? []) {
    if (each.level.toLowerCase() === "fix") add("fix", findingText(each));
  }
  for (const problem of result.problems) add("look", problem);
  for (const remark of result.remarks) add("look", remark);
}

/** What the houses' own checks say to look at: of one house by its name, of several once. */
function looksOf(results: readonly HouseResult[], problems: PurchaseProblem[]): void {
  const found = new Map<string, HouseResult[]>();
  for (const result of results) {
    const own = (result.findings ?? []).filter(({ level }) => level.toLowerCase() === "look");
    for (const problem of new Set(own.map(findingText))) {
      found.set(problem, [...(found.get(problem) ?? []), result]);
    }
  }
  for (const [problem, some] of found) {
    const [first] = some;
    if (!first) continue;
    problems.push(
      some.length === 1
        ? { level: "look", house: first.house, file: shownPath(first.file), problem }
        : { level: "look", ...EVERYWHERE, problem: `${houses(some.length)}: ${problem}` }
    );
  }
}

function findingText({ wall, finding, whatToDo }: Finding): string {
  return [wall === "" ? "" : `${wall}:`, `${finding};`, whatToDo].join(" ").trim();
}

/** Two workbooks for one house are often an old revision beside the new one. */
function namedTwice(results: readonly HouseResult[], problems: PurchaseProblem[]): void {
  const byName = new Map<string, HouseResult[]>();
  for (const result of results) {
    if (!result.order) continue;
    const key = nameKey(result.house);
    byName.set(key, [...(byName.get(key) ?? []), result]);
  }
  for (const some of byName.values()) {
    const [first] = some;
    if (!first || some.length < 2) continue;
    problems.push({
      level: "look",
      house: first.house,
      file: some.map(({ file }) => shownPath(file)).join(", "),
      problem: `${some.length} workbooks are for a house of this name and all are counted; is one of them an older revision?`,
    });
  }
}

/**
 * A price list without rows that stand twice. Two prices of one supplier for one package are often an old and a new one:
 * both stay offers, and it is said.
 */
function singleOffers(offers: readonly PriceOffer[], problems: PurchaseProblem[]): PriceOffer[] {
  const first = new Map<string, PriceOffer>();
  const single: PriceOffer[] = [];
  for (const offer of offers) {
    const key = [itemKey(offer), offer.perPackage ?? "", nameKey(offer.supplier)].join("|");
    const before = first.get(key);
    if (before && before.price === offer.price) continue;
    single.push(offer);
    if (!before) {
      first.set(key, offer);
      continue;
    }
    const whose = offer.supplier === "" ? "without a supplier" : `from ${offer.supplier}`;
    problems.push({
      level: "look",
      ...EVERYWHERE,
      problem: `price list rows ${before.row} and ${offer.row}: two prices for ${offer.item} ${offer.size} ${whose}; the lower one counts`,
    });
  }
  return single;
}

/** One offer for an item where all houses that price it agree; else none, and the difference is said. */
function agreedOffers(results: readonly HouseResult[], problems: PurchaseProblem[]): PriceOffer[] {
  const said = new Map<string, { text: string; offers: PriceOffer[]; house: string }[]>();
  for (const { offers, order, house } of results) {
    if (!order) continue;
    const own = new Map<string, PriceOffer[]>();
    for (const offer of offers) {
      if (offer.price === undefined && offer.perPackage === undefined) continue;
      own.set(itemKey(offer), [...(own.get(itemKey(offer)) ?? []), offer]);
    }
    for (const [key, some] of own) {
      const text = some
        .map(({ price, perPackage, supplier }) =>
          [
            price === undefined ? "no price" : String(price),
            perPackage === undefined ? "" : `for ${perPackage}`,
            supplier === "" ? "" : `from ${supplier}`,
          ]
            .filter((part) => part !== "")
            .join(" ")
        )
        .join(" or ");
      said.set(key, [...(said.get(key) ?? []), { text, offers: some, house }]);
    }
  }
  return [...said.values()].flatMap((some) => {
    const [first] = some;
    if (!first) return [];
    const texts = new Map(some.map(({ text, house }) => [text, house]));
    if (texts.size === 1) return first.offers;
    const { item, size } = first.offers[0] as PriceOffer;
    const list = [...texts].map(([text, house]) => `${text} (${house})`).slice(0, 4);
    problems.push({
      level: "look",
      ...EVERYWHERE,
      problem: `${item} ${size}: the houses give ${texts.size} prices, so none is used: ${list.join("; ")}; give one price list with --prices`,
    });
    return [];
  });
}

function panelNote(results: readonly HouseResult[]): string {
  const plans = results.flatMap(({ cutPlan, order }) => (cutPlan && order ? [cutPlan] : []));
  const panels = plans.reduce((sum, plan) => sum + plan.panels, 0);
  const fewest = plans.reduce((sum, plan) => sum + plan.fewest, 0);
  if (panels === 0) return "";
  return `each house is cut by itself: ${panels} panels; cut so, no plan can use fewer than ${fewest}`;
}

/** The first panel line says how good the cut plans are. */
function withPanelNote(lines: readonly PurchaseLine[], note: string): PurchaseLine[] {
  const first = lines.findIndex((line) => nameKey(line.item) === "panel");
  return lines.map((line, index) =>
    index === first && note !== ""
      ? { ...line, note: [note, line.note].filter((part) => part !== "").join("; ") }
      : line
  );
}

/**
 * Adds houses up.
 * @param prices a price list for all; without it, the prices typed into the workbooks where they agree
 */
export function purchaseOf(results: readonly HouseResult[], prices?: PriceList): Purchase {
  const problems: PurchaseProblem[] = [];
  const needs: (HouseNeed & { file: string })[] = [];
  let houseCount = 0;
  results.forEach((result, houseNumber) => {
    const { house, release } = result;
    const file = shownPath(result.file);
    const add: Add = (level, problem) => problems.push({ level, house, file, problem });
    const lines = countedNeeds(result, add);
    ownProblems(result, add);
    if (!lines) return;
    houseCount++;
    for (const line of lines) {
      needs.push({ ...line, houseNumber, house, file, ...(release ? { release } : {}) });
    }
  });
  looksOf(results, problems);
  namedTwice(results, problems);
  for (const problem of prices?.problems ?? []) {
    problems.push({ level: "look", ...EVERYWHERE, problem: `${problem}; it is not used` });
  }
  const offers = prices ? singleOffers(prices.offers, problems) : agreedOffers(results, problems);
  for (const { item, size, row } of prices ? unusedOffers(needs, offers) : []) {
    const problem = `price list row ${row}: no house needs ${item} ${size}; sizes are found as the order writes them`;
    problems.push({ level: "look", ...EVERYWHERE, problem });
  }
  const lines = withPanelNote(purchaseLines(needs, offers), panelNote(results));
  const priced = lines.filter((line) => line.cost !== undefined);
  return {
    lines,
    releases: needs.some((need) => need.release !== undefined) ? releaseLines(lines) : [],
    needs,
    problems,
    houseCount,
    leftOut: results.length - houseCount,
    cost: money(priced.reduce((sum, line) => sum + (line.cost as number), 0)),
    unpriced: lines.length - priced.length,
  };
}

/** Money without the noise of binary sums: to a hundredth of a cent. */
function money(value: number): number {
  return Number(value.toFixed(4));
}

// --- the files -------------------------------------------------------------------------------------------------------

const PURCHASE_COLUMNS: readonly ListColumn[] = [
  { header: "Item", width: 18, format: "text" },
  { header: "Size", width: 18, format: "text" },
  { header: "Houses", width: 9, format: "count" },
  { header: "Needed", width: 12, format: "decimal" },
  { header: "Unit", width: 9, format: "text" },
  { header: "Extra", width: 8, format: "share" },
  { header: "Per package", width: 10, format: "decimal" },
  { header: "Order together", width: 10, format: "count" },
  { header: "Order house by house", width: 12, format: "count" },
  { header: "Saved by buying together", width: 12, format: "count" },
  { header: "Price", width: 11, format: "money" },
  {
    header: "Cost",
    width: 13,
    format: "money",
    formula: (row) => `IF(K${row}="","",H${row}*K${row})`,
  },
  { header: "Supplier", width: 20, format: "text" },
  { header: "Note", width: 80, format: "wrapped" },
];

const LINE_COLUMNS: readonly ListColumn[] = [
  { header: "House", width: 24, format: "text" },
  { header: "File", width: 30, format: "text" },
  { header: "Release date", width: 13, format: "date" },
  { header: "Item", width: 18, format: "text" },
  { header: "Size", width: 18, format: "text" },
  { header: "Needed", width: 12, format: "decimal" },
  { header: "Unit", width: 9, format: "text" },
  { header: "Extra", width: 8, format: "share" },
  { header: "Per package", width: 10, format: "decimal" },
];

const RELEASE_COLUMNS: readonly ListColumn[] = [
  { header: "Release date", width: 13, format: "date" },
  { header: "Houses", width: 9, format: "count" },
  { header: "Item", width: 18, format: "text" },
  { header: "Size", width: 18, format: "text" },
  { header: "Needed", width: 12, format: "decimal" },
  { header: "Unit", width: 9, format: "text" },
  { header: "Per package", width: 10, format: "decimal" },
  { header: "Order by itself", width: 10, format: "count" },
  { header: "Deliver, bought together", width: 12, format: "count" },
  { header: "Which houses", width: 60, format: "wrapped" },
];

const PROBLEM_COLUMNS: readonly ListColumn[] = [
  { header: "Level", width: 10, format: "text" },
  { header: "House", width: 24, format: "text" },
  { header: "File", width: 30, format: "text" },
  { header: "Problem", width: 110, format: "wrapped" },
];

/** Longest list of houses in one cell, characters. */
const LONGEST_LIST = 400;

function houseList(houses: readonly string[]): string {
  let text = "";
  for (const [index, house] of houses.entries()) {
    const longer = text === "" ? house : `${text}, ${house}`;
    if (longer.length > LONGEST_LIST) return `${text} and ${houses.length - index} more`;
    text = longer;
  }
  return text;
}

export const PURCHASE_HEADER: readonly string[] = PURCHASE_COLUMNS.map(({ header }) => header);

export function purchaseRow(line: PurchaseLine): CellValue[] {
  return [
    line.item,
    line.size,
    line.houses,
    line.needed,
    line.unit,
    line.extra,
    line.perPackage,
    line.order,
    line.houseByHouse,
    line.saved,
    line.price ?? null,
    line.cost === undefined ? null : money(line.cost),
    line.supplier === "" ? null : line.supplier,
    line.note === "" ? null : line.note,
  ];
}

/** `12 houses`, `1 house`. */
export function houses(count: number): string {
  return `${count} house${count === 1 ? "" : "s"}`;
}

/** What has a price, in words. */
export function costText({ cost, unpriced, lines }: Purchase): string {
  if (lines.length === 0) return "Nothing to buy.";
  if (unpriced === lines.length) return "No line has a price.";
  const missing =
    unpriced === 0 ? "" : `, without ${unpriced} of ${lines.length} lines that have no price`;
  return `Cost ${cost.toFixed(2)}${missing}.`;
}

export function leftOutText(leftOut: number): string {
  return leftOut === 0
    ? "Every house is in it."
    : `${houses(leftOut)} NOT in it: see the sheet Problems.`;
}

/** Row of the first line of the purchase: a title, three lines, a blank one and the header stand above it. */
const FIRST_PURCHASE_ROW = 7;

/** The same words as {@link costText}, so that they follow a price typed later. */
function costFormula(lineCount: number): string {
  const costs = `L${FIRST_PURCHASE_ROW}:L${FIRST_PURCHASE_ROW + Math.max(lineCount, 1) - 1}`;
  const missing = `IF(COUNT(${costs})=${lineCount},"",", without "&(${lineCount}-COUNT(${costs}))&" of ${lineCount} lines that have no price")`;
  return `IF(COUNT(${costs})=0,"No line has a price.","Cost "&TEXT(SUM(${costs}),"0.00")&${missing}&".")`;
}

function purchaseSheet(purchase: Purchase): ListSheet {
  const { lines, houseCount, leftOut } = purchase;
  const above = [
    `Purchase for ${houses(houseCount)}`,
    leftOutText(leftOut),
    { text: costText(purchase), formula: costFormula(lines.length) },
    `Need is added over the houses, then extra is added and rounded up to whole packages once.`,
  ];
  return {
    name: "Purchase",
    columns: PURCHASE_COLUMNS,
    rows: lines.map(purchaseRow),
    above,
    alarms: leftOut === 0 ? [] : [1],
  };
}

function sheetsOf(purchase: Purchase): ListSheet[] {
  const { needs, releases, problems } = purchase;
  const dated: ListSheet = {
    name: "Releases",
    columns: RELEASE_COLUMNS,
    rows: releases.map((each) => [
      each.release ?? "no date",
      each.houses.length,
      each.item,
      each.size,
      each.needed,
      each.unit,
      each.perPackage,
      each.alone,
      each.deliver,
      houseList(each.houses),
    ]),
  };
  return [
    purchaseSheet(purchase),
    {
      name: "Lines",
      columns: LINE_COLUMNS,
      rows: needs.map((need) => [
        need.house,
        need.file,
        need.release ?? null,
        need.item,
        need.size,
        need.needed,
        need.unit,
        need.extra,
        need.perPackage,
      ]),
    },
    ...(releases.length > 0 ? [dated] : []),
    {
      name: "Problems",
      columns: PROBLEM_COLUMNS,
      rows: problems.map(({ level, house, file, problem }) => [level, house, file, problem]),
    },
  ];
}

export interface PurchaseFiles {
  readonly workbook: string;
  readonly csv: string;
}

/** Writes purchase.xlsx and purchase.csv into a folder. */
export function writePurchase(purchase: Purchase, folder: OutputFolder): PurchaseFiles {
  return {
    workbook: folder.write("purchase.xlsx", listWorkbook(sheetsOf(purchase))),
    csv: folder.write(
      "purchase.csv",
      csvText([PURCHASE_HEADER, ...purchase.lines.map(purchaseRow)])
    ),
  };
}
