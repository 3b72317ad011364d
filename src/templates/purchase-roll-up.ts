/**
 * The purchase of several houses inside a spreadsheet: their orders on sheets of their own, added up with the
 * spreadsheet's own formulas before anything is rounded to whole packages. No function of ours is needed.
 */
import { columnLetters } from "../core/cell-address.js";
import {
  type CellInput,
  SheetBuilder,
  type SheetTemplate,
  type StyleName,
  WRONG_FILL,
  type WorkbookTemplate,
} from "./workbook.js";

export interface PurchaseHouse {
  readonly house: string;
  /** day number of a worksheet; undefined where the house has no date */
  readonly release?: number;
  /** rows of its order: item, size, needed, unit, extra, per package, order */
  readonly lines: readonly (readonly CellInput[])[];
}

export interface PurchaseSources {
  readonly houses: readonly PurchaseHouse[];
  /** item, size, per package, price, supplier */
  readonly prices: readonly (readonly CellInput[])[];
}

/** Order sheets in the workbook; those not used stay blank. */
const ORDER_SHEETS = 5;
const ORDER_HEADER_ROW = 5;
/** lines of one house's order that are counted */
const ORDER_ROWS = 24;
const FIRST_LINE_ROW = 2;
const LINE_COUNT = ORDER_SHEETS * ORDER_ROWS;
const LAST_LINE_ROW = FIRST_LINE_ROW + LINE_COUNT - 1;
const PURCHASE_HEADER_ROW = 6;
const FIRST_PURCHASE_ROW = PURCHASE_HEADER_ROW + 1;
/** different things to buy */
const PURCHASE_ROWS = 40;
const LAST_PURCHASE_ROW = FIRST_PURCHASE_ROW + PURCHASE_ROWS - 1;
const PRICE_HEADER_ROW = 4;
const FIRST_PRICE_ROW = PRICE_HEADER_ROW + 1;
const LAST_PRICE_ROW = FIRST_PRICE_ROW + 39;
/** dates side by side on the Releases sheet */
const RELEASE_DATES = 6;

function orderName(number: number): string {
  return `Order ${number}`;
}

const ORDER_HEADERS = [
  "Item",
  "Size",
  "Needed",
  "Unit",
  "Extra",
  "Per package",
  "Order",
  "Note",
] as const;

function orderSheet(number: number, house: PurchaseHouse | undefined): SheetTemplate {
  const sheet = new SheetBuilder(orderName(number));
  sheet.put("A1", `="Order "&$B$2`, "title");
  sheet.put("A2", "House", "label");
  sheet.put("B2", house?.house, "input");
  sheet.put("A3", "Release date", "label");
  sheet.put("B3", house?.release, "dateInput");
  sheet.put(
    "D2",
    `Copy the order from the house's Order sheet and paste it here as values, its header into A${ORDER_HEADER_ROW}.`,
    "help"
  );
  sheet.put(
    "D3",
    `Rows ${ORDER_HEADER_ROW + 1} to ${ORDER_HEADER_ROW + ORDER_ROWS} are counted.`,
    "help"
  );
  sheet.row(ORDER_HEADER_ROW, 1, ORDER_HEADERS, "header");
  for (let row = 1; row <= ORDER_ROWS; row++) {
    const line = house?.lines[row - 1] ?? [];
    sheet.row(
      ORDER_HEADER_ROW + row,
      1,
      ORDER_HEADERS.map((_, index) => line[index]),
      "input"
    );
  }
  if ((house?.lines.length ?? 0) > ORDER_ROWS) throw new Error("an order has too many lines");
  sheet.widths([18, 18, 12, 10, 8, 12, 9, 60].map((width) => ({ width })));
  sheet.freeze(ORDER_HEADER_ROW, 0);
  sheet.printAs({ orientation: "landscape" });
  return sheet.build();
}

/** Columns of the Lines sheet, in order. */
const LINE_HEADERS = [
  "House",
  "Release date",
  "Item",
  "Size",
  "Needed",
  "Unit",
  "Extra",
  "Per package",
  "Package bought",
  "With extra",
  "By itself",
  "Number",
] as const;
type LineHeader = (typeof LINE_HEADERS)[number];

function lineLetters(header: LineHeader): string {
  return columnLetters(LINE_HEADERS.indexOf(header) + 1);
}
/** A whole column of the Lines sheet, seen from another sheet. */
function lines(header: LineHeader): string {
  const letters = lineLetters(header);
  return `Lines!$${letters}$${FIRST_LINE_ROW}:$${letters}$${LAST_LINE_ROW}`;
}

function priceColumn(letters: string): string {
  return `Prices!$${letters}$${FIRST_PRICE_ROW}:$${letters}$${LAST_PRICE_ROW}`;
}

/** Whole packages: the noise of binary sums is cut off first, or 3.0000000001 would be 4. */
function whole(amount: string, perPackage: string): string {
  return `ROUNDUP(ROUND(${amount}/${perPackage},8),0)`;
}

function linesSheet(): SheetTemplate {
  const sheet = new SheetBuilder("Lines");
  sheet.row(1, 1, LINE_HEADERS, "header");
  for (let index = 0; index < LINE_COUNT; index++) {
    const row = FIRST_LINE_ROW + index;
    const order = `'${orderName(Math.floor(index / ORDER_ROWS) + 1)}'`;
    const from = ORDER_HEADER_ROW + 1 + (index % ORDER_ROWS);
    const cell = (header: LineHeader): string => `$${lineLetters(header)}${row}`;
    const isNone = `${cell("Item")}=""`;
    const copied = (letters: string): string => `=IF(${isNone},"",${order}!$${letters}$${from})`;
    const upTo = (header: LineHeader): string =>
      `$${lineLetters(header)}$${FIRST_LINE_ROW}:${cell(header)}`;
    const alike = (["Item", "Size", "Unit", "Package bought"] as const)
      .map((header) => `${upTo(header)},${cell(header)}`)
      .join(",");
    const found = `${priceColumn("A")},${cell("Item")},${priceColumn("B")},${cell("Size")},${priceColumn("C")},">0"`;
    const content: Record<LineHeader, [formula: string, style: StyleName]> = {
      House: [`=IF(${isNone},"",${order}!$B$2)`, "spilled"],
      // house workbooks take a date written as 2027-03-15 too
      "Release date": [
        `=IF(OR(${isNone},${order}!$B$3=""),"",IF(ISTEXT(${order}!$B$3),IFERROR(DATEVALUE(${order}!$B$3),${order}!$B$3),${order}!$B$3))`,
        "date",
      ],
      Item: [`=IF(${order}!$A$${from}="","",${order}!$A$${from})`, "spilled"],
      Size: [copied("B"), "spilled"],
      Needed: [copied("C"), "spilledFeet"],
      Unit: [copied("D"), "spilled"],
      Extra: [copied("E"), "spilledShare"],
      "Per package": [copied("F"), "spilledCount"],
      "Package bought": [
        // how many blocks come out of a stick is not the supplier's to say
        `=IF(${isNone},"",IF(OR(${cell("Unit")}="blocks",COUNTIFS(${found})<>1),${cell("Per package")},SUMIFS(${priceColumn("C")},${found})))`,
        "spilledCount",
      ],
      "With extra": [`=IF(${isNone},"",${cell("Needed")}*(1+${cell("Extra")}))`, "spilledFeet"],
      "By itself": [
        `=IF(${isNone},"",${whole(cell("With extra"), cell("Package bought"))})`,
        "spilledCount",
      ],
      Number: [
        `=IF(${isNone},"",IF(COUNTIFS(${alike})=1,MAX($${lineLetters("Number")}$1:$${lineLetters("Number")}${row - 1})+1,""))`,
        "spilledCount",
      ],
    };
    LINE_HEADERS.forEach((header) => {
      const [formula, style] = content[header];
      sheet.put(`${lineLetters(header)}${row}`, formula, style);
    });
  }
  sheet.widths([24, 13, 18, 18, 12, 10, 8, 10, 10, 12, 10, 9].map((width) => ({ width })));
  sheet.freeze(1, 0);
  sheet.printAs({ orientation: "landscape", titleRows: "1:1" });
  return sheet.build();
}

const PURCHASE_HEADERS = [
  "Item",
  "Size",
  "Houses",
  "Needed",
  "Unit",
  "With extra",
  "Per package",
  "Order together",
  "Order house by house",
  "Saved",
  "Price",
  "Cost",
  "Note",
] as const;
type PurchaseHeader = (typeof PURCHASE_HEADERS)[number];

function purchaseLetters(header: PurchaseHeader): string {
  return columnLetters(PURCHASE_HEADERS.indexOf(header) + 1);
}
function purchaseColumn(header: PurchaseHeader): string {
  const letters = purchaseLetters(header);
  return `$${letters}$${FIRST_PURCHASE_ROW}:$${letters}$${LAST_PURCHASE_ROW}`;
}

/** The lines of one thing to buy, as conditions; the row's cells are seen with a prefix from another sheet. */
function sameThing(row: number, sheet = ""): string {
  const cell = (header: PurchaseHeader): string => `${sheet}$${purchaseLetters(header)}${row}`;
  return [
    [lines("Item"), cell("Item")],
    [lines("Size"), cell("Size")],
    [lines("Unit"), cell("Unit")],
    [lines("Package bought"), cell("Per package")],
  ]
    .flat()
    .join(",");
}

/** Rows under an order that are looked at for lines past the last that is counted. */
const LAST_ORDER_ROW = 300;

/** "all", or what keeps a line of an order out of the purchase. */
function linesCounted(): string {
  const typed = Array.from({ length: ORDER_SHEETS }, (_, index) => {
    const from = ORDER_HEADER_ROW + 1;
    return `COUNTA('${orderName(index + 1)}'!$A$${from}:$A$${LAST_ORDER_ROW})`;
  }).join("+");
  const items = `COUNTIF(${lines("Item")},"?*")`;
  const reasons: [condition: string, text: string][] = [
    [`${typed}>${items}`, `an order has more than ${ORDER_ROWS} lines`],
    [`COUNT(${lines("Needed")})<${items}`, "an amount needed is text"],
    [`COUNTIF(${lines("Release date")},"?*")>0`, "a release date is text"],
    [`SUM(${purchaseColumn("Houses")})<>COUNT(${lines("Needed")})`, "too many different things"],
  ];
  const chain = reasons.map(([condition, text]) => `IF(${condition},"NO: ${text}",`).join("");
  return `=${chain}"all"${")".repeat(reasons.length)}`;
}

function purchaseSheet(): SheetTemplate {
  const sheet = new SheetBuilder("Purchase");
  sheet.put("A1", "Purchase", "title");
  sheet.put(
    "A2",
    "Orders of several houses added up: need first, then extra, then rounded up to whole packages once. Paste the orders on the sheets Order 1 to Order 5, type prices on Prices.",
    "help"
  );
  sheet.put(
    "A3",
    "Panels are cut house by house, so their need is already whole. Confirm nail size, nailing and panel grade with the engineer of record.",
    "help"
  );
  sheet.put("A4", "Lines counted", "label");
  const numbered = `COUNT(${purchaseColumn("Order together")})`;
  sheet.put("B4", linesCounted(), "formula");
  sheet.put("H4", "Saved", "label");
  sheet.put("J4", `=SUM(${purchaseColumn("Saved")})`, "spilledCount");
  sheet.put(
    "K4",
    `=IF(COUNT(${purchaseColumn("Price")})<${numbered},"Cost of "&COUNT(${purchaseColumn("Price")})&" of "&${numbered}&" lines","Cost")`,
    "label"
  );
  sheet.put("L4", `=SUM(${purchaseColumn("Cost")})`, "money");
  sheet.row(PURCHASE_HEADER_ROW, 1, PURCHASE_HEADERS, "header");
  sheet.rowHeight(PURCHASE_HEADER_ROW, 32);
  for (let row = FIRST_PURCHASE_ROW; row <= LAST_PURCHASE_ROW; row++) {
    const number = row - PURCHASE_HEADER_ROW;
    const cell = (header: PurchaseHeader): string => `$${purchaseLetters(header)}${row}`;
    const isNone = `${cell("Item")}=""`;
    const when = (formula: string): string => `=IF(${isNone},"",${formula})`;
    const pick = (header: LineHeader): string =>
      `INDEX(${lines(header)},MATCH(${number},${lines("Number")},0))`;
    const same = sameThing(row);
    const priced = `${priceColumn("A")},${cell("Item")},${priceColumn("B")},${cell("Size")},${priceColumn("D")},">0"`;
    const sameExtra = `${lines("Extra")},${pick("Extra")}`;
    const content: Record<PurchaseHeader, [formula: string, style: StyleName]> = {
      Item: [`=IFERROR(${pick("Item")},"")`, "spilled"],
      Size: [when(pick("Size")), "spilled"],
      Houses: [when(`COUNTIFS(${same})`), "spilledCount"],
      Needed: [when(`SUMIFS(${lines("Needed")},${same})`), "spilledFeet"],
      Unit: [when(pick("Unit")), "spilled"],
      "With extra": [when(`SUMIFS(${lines("With extra")},${same})`), "spilledFeet"],
      "Per package": [when(pick("Package bought")), "spilledCount"],
      "Order together": [when(whole(cell("With extra"), cell("Per package"))), "spilledCount"],
      "Order house by house": [when(`SUMIFS(${lines("By itself")},${same})`), "spilledCount"],
      Saved: [when(`${cell("Order house by house")}-${cell("Order together")}`), "spilledCount"],
      Price: [
        when(
          `IF(COUNTIFS(${priced})=0,"no price",IF(COUNTIFS(${priced})>1,"priced twice",SUMIFS(${priceColumn("D")},${priced})))`
        ),
        "money",
      ],
      Cost: [
        `=IF(ISNUMBER(${cell("Price")}),${cell("Order together")}*${cell("Price")},"")`,
        "money",
      ],
      Note: [
        when(
          `TRIM(IF(COUNTIFS(${purchaseColumn("Item")},${cell("Item")},${purchaseColumn("Size")},${cell("Size")})>1,"Houses differ in what is in a package. ","")&IF(COUNTIFS(${same},${sameExtra})<${cell("Houses")},"Houses differ in extra: each one's own is counted.",""))`
        ),
        "spilled",
      ],
    };
    PURCHASE_HEADERS.forEach((header) => {
      const [formula, style] = content[header];
      sheet.put(`${purchaseLetters(header)}${row}`, formula, style);
    });
  }
  sheet.mark(purchaseColumn("Price").replaceAll("$", ""), "no price", WRONG_FILL);
  sheet.mark(purchaseColumn("Price").replaceAll("$", ""), "priced twice", WRONG_FILL);
  sheet.widths([18, 18, 9, 12, 9, 12, 10, 10, 12, 9, 12, 13, 70].map((width) => ({ width })));
  sheet.freeze(PURCHASE_HEADER_ROW, 2);
  sheet.printAs({
    orientation: "landscape",
    titleRows: `${PURCHASE_HEADER_ROW}:${PURCHASE_HEADER_ROW}`,
  });
  return sheet.build();
}

/** What is to be delivered with each release: whole packages as the running need reaches into them. */
function releasesSheet(): SheetTemplate {
  const sheet = new SheetBuilder("Releases");
  sheet.put("A1", "Releases", "title");
  sheet.put(
    "A2",
    "Packages to have delivered by each release when all houses are bought together; a row adds up to its order. Houses without a date come last.",
    "help"
  );
  const header = PURCHASE_HEADER_ROW;
  const dates = lines("Release date");
  sheet.row(header, 1, ["Item", "Size"], "header");
  const letters = (date: number): string => columnLetters(2 + date);
  for (let date = 1; date <= RELEASE_DATES; date++) {
    const before = `$${letters(date - 1)}$${header}`;
    sheet.put(
      `${letters(date)}${header}`,
      date === 1
        ? `=IF(COUNT(${dates})=0,"",MIN(${dates}))`
        : `=IF(${before}="","",IF(COUNTIF(${dates},">"&${before})=0,"",SMALL(${dates},COUNTIF(${dates},"<="&${before})+1)))`,
      "dateHeader"
    );
  }
  const last = letters(RELEASE_DATES);
  const rest = columnLetters(3 + RELEASE_DATES);
  sheet.put(`${rest}${header}`, "Later or no date", "header");
  sheet.put(`${columnLetters(4 + RELEASE_DATES)}${header}`, "Order together", "header");
  for (let row = FIRST_PURCHASE_ROW; row <= LAST_PURCHASE_ROW; row++) {
    const isNone = `Purchase!$A${row}=""`;
    sheet.put(`A${row}`, `=IF(${isNone},"",Purchase!$A${row})`, "spilled");
    sheet.put(`B${row}`, `=IF(${isNone},"",Purchase!$B${row})`, "spilled");
    const perPackage = `Purchase!$${purchaseLetters("Per package")}${row}`;
    for (let date = 1; date <= RELEASE_DATES; date++) {
      const until = `SUMIFS(${lines("With extra")},${sameThing(row, "Purchase!")},${dates},"<="&${letters(date)}$${header})`;
      const already = date === 1 ? "0" : `SUM($C${row}:${letters(date - 1)}${row})`;
      sheet.put(
        `${letters(date)}${row}`,
        `=IF(OR(${isNone},${letters(date)}$${header}=""),"",${whole(until, perPackage)}-${already})`,
        "spilledCount"
      );
    }
    const order = `Purchase!$${purchaseLetters("Order together")}${row}`;
    sheet.put(
      `${rest}${row}`,
      `=IF(${isNone},"",${order}-SUM($C${row}:$${last}${row}))`,
      "spilledCount"
    );
    sheet.put(
      `${columnLetters(4 + RELEASE_DATES)}${row}`,
      `=IF(${isNone},"",${order})`,
      "spilledCount"
    );
  }
  sheet.widths(
    [18, 18, ...Array.from({ length: RELEASE_DATES + 2 }, () => 12)].map((width) => ({ width }))
  );
  sheet.freeze(header, 2);
  sheet.printAs({ orientation: "landscape", titleRows: `${header}:${header}` });
  return sheet.build();
}

function pricesSheet(prices: PurchaseSources["prices"]): SheetTemplate {
  const sheet = new SheetBuilder("Prices");
  sheet.put("A1", "Prices", "title");
  sheet.put(
    "A2",
    "Example prices and packages, replace with yours. Price of one package, found by item and size as the orders write them. Per package: what is in the supplier's package, where it is not what the houses say; may stay blank. One row for each item and size.",
    "help"
  );
  sheet.row(PRICE_HEADER_ROW, 1, ["Item", "Size", "Per package", "Price", "Supplier"], "header");
  if (prices.length > LAST_PRICE_ROW - FIRST_PRICE_ROW + 1) throw new Error("too many prices");
  const styles: readonly StyleName[] = ["input", "input", "input", "moneyInput", "input"];
  for (let row = FIRST_PRICE_ROW; row <= LAST_PRICE_ROW; row++) {
    styles.forEach((style, index) => {
      sheet.put(`${columnLetters(index + 1)}${row}`, prices[row - FIRST_PRICE_ROW]?.[index], style);
    });
  }
  sheet.widths([18, 18, 12, 12, 24].map((width) => ({ width })));
  sheet.freeze(PRICE_HEADER_ROW, 0);
  sheet.printAs({ orientation: "portrait" });
  return sheet.build();
}

export function purchaseRollUpTemplate(sources: PurchaseSources): WorkbookTemplate {
  if (sources.houses.length > ORDER_SHEETS) throw new Error("too many houses");
  return {
    title: "Purchase for several houses",
    sheets: [
      purchaseSheet(),
      releasesSheet(),
      pricesSheet(sources.prices),
      linesSheet(),
      ...Array.from({ length: ORDER_SHEETS }, (_, index) =>
        orderSheet(index + 1, sources.houses[index])
      ),
    ],
  };
}
