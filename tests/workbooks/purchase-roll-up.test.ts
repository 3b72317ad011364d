/** The purchase workbook against figures worked by hand from sample-workbooks/purchase-roll-up, and against the core. */
import path from "node:path";
import { readPriceList } from "../../src/core/house/price-list.js";
import { type HouseNeed, purchaseLines, releaseLines } from "../../src/core/house/roll-up.js";
import type { CellValue, Workbook } from "../../src/host/engine/index.js";
import { readPurchase } from "../../src/tools/workbook-sources.js";
import { recalculated, ROOT, settled, stored } from "./open.js";

const FILE = "purchase-roll-up.xlsx";
const book = recalculated(FILE);

type Row = Record<string, CellValue>;

/** Rows under a header row, as far as they say something. */
function rows(of: Workbook, sheet: string, area: string): Row[] {
  const [header = [], ...body] = of.range(sheet, area);
  return body
    .filter(([first]) => first !== "" && first !== null)
    .map((row) => Object.fromEntries(header.map((name, at) => [String(name), row[at] ?? null])));
}
const purchase = (of = book): Row[] => rows(of, "Purchase", "A6:M46");
const releases = (of = book): Row[] => rows(of, "Releases", "A6:J46");
function line(item: string, size: string, of = book): Row {
  const found = purchase(of).find((row) => row["Item"] === item && row["Size"] === size);
  if (!found) throw new Error(`no line ${item} ${size}`);
  return found;
}

describe("the purchase", () => {
  it("adds tape before rounding, each house with its own extra, in the supplier's rolls of 80 ft", () => {
    // 810 x 1.05 + 520 x 1.1 + 305 x 1.05 = 850.5 + 572 + 320.25 = 1742.75; / 80 = 21.8
    // house by house: 10.6, 7.2 and 4.003 rolls, so 11 + 8 + 5
    expect(line("Tape", "3 in")).toMatchObject({
      Houses: 3,
      Needed: 1635,
      "With extra": 1742.75,
      "Per package": 80,
      "Order together": 22,
      "Order house by house": 24,
      Saved: 2,
      Price: 30,
      Cost: 660,
      Note: "Houses differ in extra: each one's own is counted.",
    });
  });

  it("buys nails by the supplier's box of 1500 for all houses at once", () => {
    // 2900 + 2100 + 2050 = 7050, x 1.05 = 7402.5, / 1500 = 4.9; house by house 3045, 2205 and 2152.5, so 3 + 2 + 2 boxes
    expect(line("Nails", "3 1/2 x 0.131 in")).toMatchObject({
      Needed: 7050,
      "Per package": 1500,
      "Order together": 5,
      "Order house by house": 7,
      Saved: 2,
      Cost: 325,
    });
  });

  it("does not add what comes in different packages, and says so", () => {
    const sticks = purchase().filter((row) => row["Item"] === "Blocking lumber");
    // 42 / 13 = 3.2; 15.75 / 8 = 1.97
    expect(sticks.map((row) => [row["Per package"], row["Order together"]])).toEqual([
      [13, 4],
      [8, 2],
    ]);
    for (const row of sticks) expect(row["Note"]).toBe("Houses differ in what is in a package.");
  });

  it("shows a missing price as missing and says how many lines the cost is of", () => {
    expect(line("Tape", "6 in")).toMatchObject({ Price: "no price", Cost: "" });
    expect(book.cell("Purchase", "K4").value).toBe("Cost of 7 of 8 lines");
    // 93 x 52 + 21 x 60 + 660 + 325 + 14 + 44 + 22
    expect(book.cell("Purchase", "L4").value).toBe(7161);
  });

  it("asks where an item is priced twice", () => {
    const other = stored(FILE);
    other.setCell("Prices", "A20", "Nails");
    other.setCell("Prices", "B20", "3 1/2 x 0.131 in");
    other.setCell("Prices", "D20", 60);
    expect(line("Nails", "3 1/2 x 0.131 in", settled(other))).toMatchObject({
      Price: "priced twice",
      Cost: "",
    });
  });

  it("takes a price typed as text for none", () => {
    const other = stored(FILE);
    other.setText("Prices", "D8", "65 a box");
    expect(line("Nails", "3 1/2 x 0.131 in", settled(other))["Price"]).toBe("no price");
  });

  it("counts a fourth house pasted in", () => {
    const other = stored(FILE);
    other.setCell("Order 4", "B2", "Lot 4");
    ["Nails", "3 1/2 x 0.131 in", 80, "nails", 0.05, 2000, 1].forEach((value, index) => {
      other.setCell("Order 4", `${String.fromCharCode(65 + index)}6`, value);
    });
    // 7130 x 1.05 / 1500 = 4.99: the fifth box had room for it
    expect(line("Nails", "3 1/2 x 0.131 in", settled(other))).toMatchObject({
      Houses: 4,
      "Order together": 5,
      "Order house by house": 8,
    });
    expect(other.cell("Purchase", "B4").value).toBe("all");
  });
});

describe("lines that would be lost", () => {
  const counted = (change: (of: Workbook) => void): CellValue => {
    const other = stored(FILE);
    change(other);
    return settled(other).cell("Purchase", "B4").value;
  };
  it("are said: too many of them, an amount or a date that is text", () => {
    expect(book.cell("Purchase", "B4").value).toBe("all");
    expect(counted((other) => other.setCell("Order 4", "A30", "Nails"))).toBe(
      "NO: an order has more than 24 lines"
    );
    expect(counted((other) => other.setText("Order 1", "C6", "22"))).toBe(
      "NO: an amount needed is text"
    );
    expect(counted((other) => other.setText("Order 1", "B3", "in spring"))).toBe(
      "NO: a release date is text"
    );
  });
  it("a date written as text is read", () => {
    const other = stored(FILE);
    other.setText("Order 1", "B3", "2027-03-15");
    settled(other);
    // 15 March 2027 is day 46461
    expect(other.cell("Lines", "B2").value).toBe(46461);
    expect(other.cell("Purchase", "B4").value).toBe("all");
  });
});

describe("the releases", () => {
  it("deliver whole packages when the running need reaches into them, and add up to the order", () => {
    const [header] = book.range("Releases", "C6:H6");
    // 2027-03-15 and 2027-04-12 as day numbers: 46461 and 28 days later
    expect(header).toEqual([46461, 46489, "", "", "", ""]);
    const [, , tape] = releases();
    // 850.5 / 80 = 10.6; 1422.5 / 80 = 17.8; 1742.75 / 80 = 21.8
    expect(tape).toMatchObject({ 46461: 11, 46489: 7, "Later or no date": 4 });
    for (const row of releases()) {
      const parts = [46461, 46489, "Later or no date"].map((name) => Number(row[name]));
      expect(parts.reduce((sum, each) => sum + each, 0)).toBe(row["Order together"]);
    }
    expect(releases()).toHaveLength(8);
  });
});

it("agrees with the core, line by line", () => {
  const { houses, prices } = readPurchase(path.join(ROOT, "sample-workbooks", "purchase-roll-up"));
  const needs = houses.flatMap(({ house, release, lines }, houseNumber) =>
    lines.map(
      ([item, size, needed, unit, extra, perPackage]) =>
        ({
          houseNumber,
          house,
          ...(release === undefined ? {} : { release: String(release) }),
          item,
          size,
          needed,
          unit,
          extra,
          perPackage,
        }) as HouseNeed
    )
  );
  const { offers } = readPriceList("prices", [
    ["Item", "Size", "Per package", "Price", "Supplier"],
    ...prices,
  ]);
  const lines = purchaseLines(needs, offers);
  const keyOf = (item: unknown, size: unknown, per: unknown): string => [item, size, per].join("|");
  const ours = new Map(
    lines.map((each) => [
      keyOf(each.item, each.size, each.perPackage),
      [each.order, each.houseByHouse, each.saved, each.cost ?? ""],
    ])
  );
  const theirs = new Map(
    purchase().map((row) => [
      keyOf(row["Item"], row["Size"], row["Per package"]),
      [row["Order together"], row["Order house by house"], row["Saved"], row["Cost"]],
    ])
  );
  expect(theirs).toEqual(ours);
  expect(ours.size).toBe(8);
  const delivered = releaseLines(lines).filter(
    (each) => each.item === "Tape" && each.size === "3 in"
  );
  expect(delivered.map((each) => [each.release, each.deliver])).toEqual([
    ["46461", 11],
    ["46489", 7],
    [undefined, 4],
  ]);
});
