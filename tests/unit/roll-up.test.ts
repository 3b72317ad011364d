/** Orders of many houses added up; expected figures are worked beside each. */
import type { CalcErrorCode } from "../../src/core/check.js";
import { readPriceList } from "../../src/core/house/price-list.js";
import {
  type HouseNeed,
  purchaseLines,
  releaseLines,
  unusedOffers,
} from "../../src/core/house/roll-up.js";
import { expectError } from "./expect-error.js";

function need(houseNumber: number, more: Partial<HouseNeed> = {}): HouseNeed {
  return {
    houseNumber,
    house: `Lot ${houseNumber}`,
    item: "Nails",
    size: "3 1/2 x 0.131 in",
    needed: 900,
    unit: "nails",
    extra: 0.05,
    perPackage: 2000,
    ...more,
  };
}

function prices(...rows: (string | number | null)[][]): ReturnType<typeof readPriceList> {
  return readPriceList("prices", [["Item", "Size", "Per package", "Price", "Supplier"], ...rows]);
}

describe("purchaseLines", () => {
  it("adds need over the houses before it rounds up", () => {
    // 2 x 900 x 1.05 = 1890, one box; by itself each house takes one
    const [line] = purchaseLines([need(1), need(2)], []);
    expect(line).toMatchObject({ needed: 1800, order: 1, houseByHouse: 2, saved: 1, houses: 2 });
    expect(line).not.toHaveProperty("price");
    expect(line?.note).toBe("");
  });

  it("applies extra once, to the sum", () => {
    // 100 houses of 19 nails in boxes of 20: 1900 x 1.05 = 1995 is 100 boxes, not 105
    const needs = Array.from({ length: 100 }, (_, at) => need(at, { needed: 19, perPackage: 20 }));
    expect(purchaseLines(needs, [])[0]).toMatchObject({ order: 100, houseByHouse: 100 });
  });

  it("counts two houses of one name as two", () => {
    const needs = [need(1, { house: "Lot 7" }), need(2, { house: "Lot 7" })];
    expect(purchaseLines(needs, [])[0]).toMatchObject({ houses: 2, houseByHouse: 2, order: 1 });
  });

  it("keeps each house's own extra where they differ, and says so", () => {
    // 1000 x 1.05 + 1000 x 1.2 = 2250, two boxes; together they are 12.5 % over 2000
    const needs = [need(1, { needed: 1000 }), need(2, { needed: 1000, extra: 0.2 })];
    const [line] = purchaseLines(needs, []);
    expect(line).toMatchObject({ order: 2, extra: 0.125 });
    expect(line?.note).toBe(
      "houses differ in extra: 5 % in 1 house, 20 % in 1 house; each house's own is counted"
    );
  });

  it("gives houses that differ in what is in a package a line each, and says so", () => {
    const lines = purchaseLines([need(1), need(2, { perPackage: 1000 }), need(3)], []);
    expect(lines.map((line) => [line.perPackage, line.houses, line.order])).toEqual([
      [1000, 1, 1],
      [2000, 2, 1],
    ]);
    for (const line of lines) {
      expect(line.note).toContain("1000 in 1 house, 2000 in 2 houses");
    }
  });

  it("takes the supplier's package for all of them, and says so", () => {
    // 2700 x 1.05 = 2835 in boxes of 500 is 5.67
    const { offers } = prices(["nails", "3 1/2 X 0.131 in", 500, 20, "A"]);
    const lines = purchaseLines([need(1), need(2, { perPackage: 1000 }), need(3)], offers);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatchObject({
      perPackage: 500,
      order: 6,
      price: 20,
      cost: 120,
      supplier: "A",
    });
    expect(lines[0]?.note).toBe("supplier's package of 500; the house workbooks say 1000 and 2000");
  });

  it("takes the offer that costs least for this need", () => {
    // 945 nails: one box of 2000 at 65, or two of 500 at 30
    const { offers } = prices(
      ["Nails", "3 1/2 x 0.131 in", 2000, 65, "A"],
      ["Nails", "3 1/2 x 0.131 in", 500, 30, "B"]
    );
    expect(purchaseLines([need(1)], offers)[0]).toMatchObject({
      cost: 60,
      supplier: "B",
      order: 2,
    });
    // 1890: one box of 2000, or four of 500
    expect(purchaseLines([need(1), need(2)], offers)[0]).toMatchObject({ cost: 65, supplier: "A" });
  });

  it("never takes an offer without a price for one that costs nothing", () => {
    const { offers } = prices(
      ["Nails", "3 1/2 x 0.131 in", 100, null, "A"],
      ["Nails", "3 1/2 x 0.131 in", null, 65, "B"]
    );
    expect(purchaseLines([need(1)], offers)[0]).toMatchObject({ cost: 65, supplier: "B" });
    const [line] = purchaseLines([need(1)], offers.slice(0, 1));
    expect(line).not.toHaveProperty("cost");
    expect(line?.note).toContain("no price");
  });

  it("leaves the blocks cut from a stick as they are", () => {
    const blocks = { item: "Blocking lumber", size: "192 in", unit: "blocks", perPackage: 13 };
    const { offers } = prices(["Blocking lumber", "192 in", 50, 11, ""]);
    // 40 x 1.05 / 13 = 3.2
    const [line] = purchaseLines([need(1, { ...blocks, needed: 40 })], offers);
    expect(line).toMatchObject({ perPackage: 13, order: 4, cost: 44 });
    expect(line?.note).toContain("what is cut from one stick");
  });

  it("puts sizes of an item side by side, 96 before 108", () => {
    const panel = { item: "Panel", unit: "panels" };
    const needs = [
      need(1, { ...panel, size: "48 x 108 in" }),
      need(1),
      need(2, { ...panel, size: "48 x 96 in" }),
    ];
    expect(purchaseLines(needs, []).map((line) => line.size)).toEqual([
      "48 x 96 in",
      "48 x 108 in",
      "3 1/2 x 0.131 in",
    ]);
  });

  it("is not fooled by binary fractions", () => {
    // 0.1 + 0.2 ft in rolls of 0.3 ft is one roll
    const tape = { item: "Tape", size: "3 in", unit: "ft", extra: 0, perPackage: 0.3 };
    const needs = [need(1, { ...tape, needed: 0.1 }), need(2, { ...tape, needed: 0.2 })];
    expect(purchaseLines(needs, [])[0]?.order).toBe(1);
  });

  it("refuses a package of nothing", () => {
    expectError(
      () => purchaseLines([need(1, { perPackage: 0 })], []),
      "out-of-range",
      "per package must be at least 0.001; got 0"
    );
  });

  it("says what of a need is no such thing", () => {
    const say = (more: object, code: CalcErrorCode, message: string): void =>
      expectError(() => purchaseLines([need(1, more)], []), code, message);
    say({ house: 7 }, "wrong-kind", "house must be text; got 7");
    say({ item: null }, "wrong-kind", "item must be text; got a blank");
    say({ size: undefined }, "wrong-kind", "size must be text; got a blank");
    say({ unit: true }, "wrong-kind", "unit must be text; got TRUE");
    say({ release: 46_000 }, "wrong-kind", "release must be text; got 46000");
    say({ houseNumber: "1" }, "wrong-kind", 'house number must be a number; got "1"');
    say({ needed: -1 }, "out-of-range", "needed must be at least 0; got -1");
    say({ needed: 2e9 }, "out-of-range", "needed must be at most 1000000000; got 2000000000");
    say({ extra: 1 }, "out-of-range", "extra must be less than 1; got 1; 5 % is 0.05");
    say({ perPackage: "box" }, "wrong-kind", 'per package must be a number; got "box"');
    const list = (needs: unknown, message: string): void =>
      expectError(() => purchaseLines(needs as HouseNeed[], []), "wrong-kind", message);
    list("Lot 1", 'needs must be a list; got "Lot 1"');
    list([null], "a need must be a record; got a blank");
  });

  it("says what of an offer is no such thing", () => {
    const offer = { item: "Nails", size: "3 in", supplier: "A", row: 2 };
    const say = (more: object, code: CalcErrorCode, message: string): void =>
      expectError(() => purchaseLines([need(1)], [{ ...offer, ...more }]), code, message);
    say({ item: 5 }, "wrong-kind", "item must be text; got 5");
    say({ size: null }, "wrong-kind", "size must be text; got a blank");
    say({ supplier: false }, "wrong-kind", "supplier must be text; got FALSE");
    say({ price: 0 }, "out-of-range", "price must be more than 0; got 0");
    say({ price: "30" }, "wrong-kind", 'price must be a number; got "30"');
    say({ perPackage: 0 }, "out-of-range", "per package must be at least 0.001; got 0");
    expect(purchaseLines([need(1)], [{ ...offer, size: "3 1/2 x 0.131 in" }])).toHaveLength(1);
    const list = (offers: unknown, message: string): void =>
      expectError(() => purchaseLines([need(1)], offers as never), "wrong-kind", message);
    list({}, "offers must be a list; got a value of another kind");
    list([5], "an offer must be a record; got 5");
  });

  it("takes the first of two offers that cost the same, and says among how many it chose", () => {
    const rows = ["A", "B", "C"].map((supplier) => [
      "Nails",
      "3 1/2 x 0.131 in",
      null,
      65,
      supplier,
    ]);
    const unpriced = ["Nails", "3 1/2 x 0.131 in", null, null, "D"];
    const [line] = purchaseLines([need(1)], prices(...rows, unpriced).offers);
    expect(line).toMatchObject({ supplier: "A", note: "cheapest of 3 offers" });
    const [only] = purchaseLines([need(1)], prices(rows[2] as string[], unpriced).offers);
    expect(only).toMatchObject({ supplier: "C", note: "" });
    expect(purchaseLines([need(1)], [])[0]).toMatchObject({ supplier: "", note: "" });
  });

  it("says so only where the supplier's package is not what the workbooks say, beside what else there is", () => {
    const note = (...needs: HouseNeed[]): string | undefined =>
      purchaseLines(needs, prices(["Nails", "3 1/2 x 0.131 in", 2000, 65, "A"]).offers)[0]?.note;
    expect(note(need(1), need(2))).toBe("");
    expect(note(need(1), need(2, { perPackage: 1000 }))).toBe(
      "supplier's package of 2000; the house workbooks say 1000 and 2000"
    );
    expect(note(need(1), need(2, { perPackage: 1000, extra: 0.1 }))).toBe(
      "houses differ in extra: 5 % in 1 house, 10 % in 1 house; each house's own is counted; supplier's package of 2000; the house workbooks say 1000 and 2000"
    );
  });

  it("an item of which nothing is needed keeps the first house's extra", () => {
    const none = [need(1, { needed: 0 }), need(2, { needed: 0, extra: 0.1 })];
    expect(purchaseLines(none, [])[0]).toMatchObject({ needed: 0, extra: 0.05, order: 0 });
    expect(purchaseLines([need(1)], [])[0]?.extra).toBe(0.05);
  });

  it("is empty without houses", () => {
    expect(purchaseLines([], [])).toEqual([]);
  });
});

describe("releaseLines", () => {
  it("delivers by date, no date last, and adds up to the order", () => {
    const needs = [
      need(1, { release: "2027-05-01", needed: 1500 }),
      need(2, { needed: 1000 }),
      need(3, { release: "2027-03-01", needed: 1500 }),
    ];
    const lines = purchaseLines(needs, []);
    // 1575 is one box; 3150 two; 4200 three
    expect(lines[0]?.order).toBe(3);
    expect(releaseLines(lines)).toMatchObject([
      { release: "2027-03-01", houses: ["Lot 3"], alone: 1, deliver: 1 },
      { release: "2027-05-01", houses: ["Lot 1"], alone: 1, deliver: 1 },
      { houses: ["Lot 2"], alone: 1, deliver: 1 },
    ]);
  });

  it("goes by date over all lines, those of one date in the order of the purchase", () => {
    const tape = { item: "Tape", size: "3 in", unit: "ft", perPackage: 100, needed: 50 };
    const needs = [
      need(1, { release: "2027-05-01", needed: 500 }),
      need(2, { needed: 500 }),
      need(3, { release: "2027-03-01", needed: 500 }),
      need(4, { release: "2027-03-01", needed: 700 }),
      need(1, { ...tape, release: "2027-05-01" }),
      need(2, { ...tape }),
      need(3, { ...tape, release: "2027-03-01" }),
    ];
    const lines = releaseLines(purchaseLines(needs, []));
    // 1260 nails open the first box of 2000, 1785 are still out of it, 2310 open the second
    expect(
      lines.map((each) => [
        each.release,
        each.item,
        each.houses.join(" "),
        each.needed,
        each.deliver,
      ])
    ).toEqual([
      ["2027-03-01", "Nails", "Lot 3 Lot 4", 1200, 1],
      ["2027-03-01", "Tape", "Lot 3", 50, 1],
      ["2027-05-01", "Nails", "Lot 1", 500, 0],
      ["2027-05-01", "Tape", "Lot 1", 50, 1],
      [undefined, "Nails", "Lot 2", 500, 1],
      [undefined, "Tape", "Lot 2", 50, 0],
    ]);
    expect(lines.at(-1)).not.toHaveProperty("release");
  });

  it("delivers nothing where an earlier package has room", () => {
    const needs = [
      need(1, { release: "2027-03-01", needed: 500 }),
      need(2, { release: "2027-04-01", needed: 500 }),
    ];
    const deliver = releaseLines(purchaseLines(needs, [])).map((line) => line.deliver);
    expect(deliver).toEqual([1, 0]);
  });
});

describe("readPriceList", () => {
  it("reads columns in any order and leaves blank rows out", () => {
    const table = [
      ["Price", "Supplier", "Size", "Item"],
      [30, "A", "3 in", "Tape"],
      [null, null, null, null],
      [null, "", "4 in", "Tape"],
    ];
    expect(readPriceList("prices", table)).toEqual({
      offers: [
        { item: "Tape", size: "3 in", price: 30, supplier: "A", row: 2 },
        { item: "Tape", size: "4 in", supplier: "", row: 4 },
      ],
      problems: [],
    });
  });

  it.each([
    [
      "52 USD",
      'prices row 2: Price must be a number; got "52 USD"; type the number alone, such as 12.50',
    ],
    [
      "1,049",
      'prices row 2: Price must be a number; got "1,049"; type the number alone, such as 12.50',
    ],
    [0, "prices row 2: Price must be more than 0; got 0"],
    [-3, "prices row 2: Price must be more than 0; got -3"],
  ])("does not use the price %p, and says why", (price, problem) => {
    const list = prices(["Tape", "3 in", null, price, ""]);
    expect(list).toEqual({ offers: [], problems: [problem] });
  });

  it("counts rows as the sheet does", () => {
    const table = [
      ["Item", "Size", "Price"],
      ["Tape", null, 30],
    ];
    expect(readPriceList("prices", table, 5).problems[0]).toMatch(/^prices row 6: Size is blank/);
  });

  it("takes amounts written as text: lists whose cells stand in quotes, and decimal commas", () => {
    const { offers, problems } = prices(
      ["Tape", "3 in", "100", "62.35", "A"],
      ["Nails", "3 in", "2000", "62,35", "A"],
      ["Panel", "48 x 96 in", null, " 7 ", "A"]
    );
    expect(problems).toEqual([]);
    expect(offers.map(({ perPackage, price }) => [perPackage, price])).toEqual([
      [100, 62.35],
      [2000, 62.35],
      [undefined, 7],
    ]);
  });

  it("leaves out what the list does not give", () => {
    const { offers } = prices(["Tape", "3 in", null, null, "A"]);
    expect(offers[0]).not.toHaveProperty("perPackage");
    expect(offers[0]).not.toHaveProperty("price");
  });

  it("says what its label and its header row may be", () => {
    const table = [["Item", "Size", "Price"]];
    expectError(() => readPriceList(5 as never, table), "wrong-kind", "label must be text; got 5");
    const say = (row: number, rule: string): void =>
      expectError(
        () => readPriceList("prices", table, row),
        "out-of-range",
        `header row must be ${rule}`
      );
    say(0, "at least 1; got 0");
    say(1.5, "a whole number; got 1.5");
    // a worksheet has 2^20 rows
    say(2 ** 20 + 1, "at most 1048576; got 1048577");
    expect(readPriceList("prices", table, 2 ** 20).offers).toEqual([]);
  });

  it("needs its columns", () => {
    expectError(
      () => readPriceList("prices", [["Item", "Cost"]]),
      "out-of-range",
      /^prices needs the header Size, Price in its first row; got Item, Cost$/
    );
  });

  it("names offers that nothing needs", () => {
    const { offers } = prices(
      ["Nails", "3 1/2x0.131in", null, 65, ""],
      ["Tape", "4x8", null, 30, ""]
    );
    expect(unusedOffers([need(1)], offers).map((offer) => offer.item)).toEqual(["Tape"]);
  });
});
