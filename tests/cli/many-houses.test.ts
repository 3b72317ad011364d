/** npm run takeoff over many houses: the purchase, prices, releases, and what goes wrong. */
import fs from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { openWorkbook, type CellValue, type Workbook } from "../../src/host/engine/index.js";
import { file, type Cells } from "../host/make.js";
import { packageFaults } from "../workbooks/check-package.js";
import { emptyFolder, moduleFile, removeFolders, run, runFile, type Ran } from "./run.js";

jest.setTimeout(180_000);
afterAll(removeFolders);

function row(number: number, ...values: (string | number)[]): Record<string, string | number> {
  return Object.fromEntries(
    values.map((value, index) => [`${String.fromCharCode(65 + index)}${number}`, value])
  );
}

/** One free wall of a length; enough for an order. */
function shed(length: string, setup: Cells = {}, settings: Cells = {}): Record<string, Cells> {
  return {
    Setup: { A1: "House", ...setup },
    Settings: {
      ...row(1, "Setting", "Value"),
      ...row(2, "Foam", "1-1/4"),
      ...row(3, "Panel", "5/8"),
      ...settings,
    },
    Walls: {
      ...row(1, "Wall", "Length", "Height", "Left end", "Right end"),
      ...row(2, "North", length, "8'", "free", "free"),
    },
    Order: { A3: '=SHEATH.HOUSE_ORDER(Walls!A1:E2,"",Settings!A1:B4)' },
  };
}

async function put(folder: string, name: string, sheets: Record<string, Cells>): Promise<void> {
  const full = path.join(folder, name);
  fs.mkdirSync(path.dirname(full), { recursive: true });
  fs.writeFileSync(full, await file(sheets));
}

const takeoff = (folder: string, ...args: string[]): Promise<Ran> =>
  run("takeoff", [...args, "--no-drawings"], { from: folder });

function opened(...names: string[]): Workbook {
  return openWorkbook(fs.readFileSync(path.join(...names)), worksheetFunctions as never);
}

type Row = Record<string, CellValue>;

/** Rows of a sheet by the names of its header row. */
function rows(book: Workbook, sheet: string, headerRow = 1): Row[] {
  const all = book.range(sheet, book.usedRange(sheet) as string);
  const [header = [], ...body] = all.slice(headerRow - 1);
  return body.map((each) =>
    Object.fromEntries(header.map((name, at) => [String(name), each[at] ?? null]))
  );
}
const purchase = (folder: string, name = "purchase.xlsx"): Row[] =>
  rows(opened(folder, "takeoff", name), "Purchase", 6);

describe("the purchase of a folder", () => {
  let folder: string;
  let ran: Ran;
  beforeAll(async () => {
    folder = emptyFolder();
    await put(
      folder,
      "houses/Lot 10.xlsx",
      shed("16'", { B1: "Ten", A2: "Release date:", B2: "2027-04-01" })
    );
    await put(folder, "houses/Lot 2.xlsx", shed("12'", { B1: "?" }));
    const lot2 = path.join(folder, "houses", "Lot 2.xlsx");
    const book = opened(lot2);
    book.setText("Setup", "B1", "=cmd|' /C calc'!A0");
    fs.writeFileSync(lot2, book.toBytes());
    await put(
      folder,
      "houses/Дом 7.xlsx",
      shed("24'", { B1: "Дом 7", A2: "Release date", B2: 46461 })
    );
    await put(folder, "houses/Blank.xlsx", {
      ...shed("12'"),
      Order: { A3: '="Type the walls"&SHEATH.VERSION()' },
    });
    fs.writeFileSync(path.join(folder, "houses", "bad.xlsx"), "no workbook");
    fs.writeFileSync(path.join(folder, "houses", "~$Lot 2.xlsx"), "lock");
    ran = await takeoff(folder, "houses");
  });

  test("goes on past bad ones, says how far it is, and lists them at the end", () => {
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/^1 of 5 houses/m);
    expect(ran.err).toMatch(/^5 of 5 houses, 1 with trouble/m);
    const end = ran.err.slice(ran.err.indexOf("2 houses NOT in the purchase:"));
    expect(end).toMatch(/bad.xlsx: the file is damaged or is not an .xlsx workbook/);
    expect(end).toMatch(/Blank.xlsx: there is no order in it/);
    expect(ran.out).toContain("Purchase for 3 houses; 2 houses NOT in it");
  });

  test("adds need before it rounds", () => {
    const lines = rows(opened(folder, "takeoff", "purchase.xlsx"), "Lines");
    const nails = lines
      .filter((line) => line["Item"] === "Nails")
      .map((line) => Number(line["Needed"]));
    expect(nails).toHaveLength(3);
    const sum = nails.reduce((total, each) => total + each, 0);
    const line = purchase(folder).find((each) => each["Item"] === "Nails");
    // a shed has far fewer than the 2,000 nails of a box
    expect(line).toMatchObject({
      Houses: 3,
      Needed: sum,
      "Order together": 1,
      "Order house by house": 3,
      "Saved by buying together": 2,
    });
    expect(ran.out).toContain("2 of Nails");
  });

  test("gives each house a folder and its own order", () => {
    for (const name of ["Lot 10", "Lot 2", "Дом 7"]) {
      expect(fs.existsSync(path.join(folder, "takeoff", name, `${name}.xlsx`))).toBe(true);
      expect(fs.existsSync(path.join(folder, "takeoff", name, "order.csv"))).toBe(true);
    }
    expect(fs.existsSync(path.join(folder, "takeoff", "bad"))).toBe(false);
  });

  test("holds the text of a house as text, whatever it starts with", () => {
    const book = opened(folder, "takeoff", "purchase.xlsx");
    const lines = rows(book, "Lines");
    expect(lines.map((line) => line["House"])).toContain("=cmd|' /C calc'!A0");
    const formulas = book.formulas().filter(({ sheet }) => sheet !== "Purchase");
    expect(formulas).toEqual([]);
    expect(book.recalculate().errors).toEqual([]);
    const bytes = fs.readFileSync(path.join(folder, "takeoff", "purchase.xlsx"));
    expect(packageFaults(bytes)).toEqual([]);
  });

  test("divides by release, dated houses first", () => {
    const releases = rows(opened(folder, "takeoff", "purchase.xlsx"), "Releases");
    const nails = releases.filter((each) => each["Item"] === "Nails");
    // 46461 is 15 March 2027, 46478 is 1 April
    expect(nails.map((each) => [each["Release date"], each["Which houses"]])).toEqual([
      [46461, "Дом 7"],
      [46478, "Ten"],
      ["no date", "=cmd|' /C calc'!A0"],
    ]);
    expect(nails.map((each) => each["Deliver, bought together"])).toEqual([1, 0, 0]);
  });

  test("writes the same lines as CSV", () => {
    const csv = fs.readFileSync(path.join(folder, "takeoff", "purchase.csv"), "utf8");
    const lines = csv.trimEnd().split("\r\n");
    expect(lines[0]).toMatch(/^Item,Size,Houses,Needed,Unit,Extra,Per package,Order together,/);
    expect(lines).toHaveLength(1 + purchase(folder).length);
  });

  test("replaces its own purchase, and none that somebody changed", async () => {
    await takeoff(folder, "houses");
    expect(fs.existsSync(path.join(folder, "takeoff", "purchase-2.csv"))).toBe(false);
    fs.writeFileSync(path.join(folder, "takeoff", "purchase.csv"), "my own");
    await takeoff(folder, "houses");
    expect(fs.readFileSync(path.join(folder, "takeoff", "purchase.csv"), "utf8")).toBe("my own");
    expect(fs.existsSync(path.join(folder, "takeoff", "purchase-2.csv"))).toBe(true);
  });

  test("comes to the same in one thread as in several", async () => {
    const one = await takeoff(folder, "houses", "--workers", "1", "--out", "one", "--json");
    const two = await takeoff(folder, "houses", "--workers", "2", "--out", "two", "--json");
    const lines = ({ out }: Ran): unknown =>
      (JSON.parse(out) as { purchase: { lines: unknown } }).purchase.lines;
    expect(lines(two)).toEqual(lines(one));
  });
});

describe("prices", () => {
  test("come from a list: suppliers' packages, text prices and strangers are said", async () => {
    const folder = emptyFolder();
    await put(folder, "a.xlsx", shed("16'"));
    fs.writeFileSync(
      path.join(folder, "prices.csv"),
      'Item;Size;Per package;Price;Supplier\r\nNails;2 1/2 x 0.131 in;500;20.5;"A; B"\r\nNails;3 1/2 x 0.131 in;500;20.5;"A; B"\r\nTape;3 in;;30 USD;\r\nPanel;48 x 96 in;;0;\r\n'
    );
    const ran = await takeoff(folder, "a.xlsx", "--prices", "prices.csv");
    expect(ran.code).toBe(0);
    const lines = purchase(folder);
    const nails = lines.find((line) => line["Item"] === "Nails");
    expect(nails).toMatchObject({ "Per package": 500, Price: 20.5, Supplier: "A; B" });
    expect(nails?.["Cost"]).toBe(20.5 * Number(nails?.["Order together"]));
    for (const item of ["Tape", "Panel"]) {
      const line = lines.find((each) => each["Item"] === item);
      expect(line).toMatchObject({ Price: null, Cost: "" });
      expect(line?.["Note"]).toContain("no price");
    }
    expect(ran.out).toContain(
      'price list row 4: Price must be a number; got "30 USD"; type the number alone, such as 12.50; it is not used'
    );
    expect(ran.out).toContain("price list row 5: Price must be more than 0; got 0; it is not used");
    expect(ran.out).toMatch(/price list row \d: no house needs Nails/);
    const said = /Cost \d+\.\d\d, without 2 of 3 lines that have no price\./.exec(ran.out)?.[0];
    expect(said).toBeDefined();
    // the workbook says the same, and follows a price typed later
    const book = opened(folder, "takeoff", "purchase.xlsx");
    expect(book.cell("Purchase", "A3").value).toBe(said);
    book.recalculate();
    expect(book.cell("Purchase", "A3").value).toBe(said);
    book.setCell("Purchase", "K7", 50);
    book.recalculate();
    expect(book.cell("Purchase", "A3").value).toMatch(/without 1 of 3 lines/);
  });

  test("of one supplier twice: the same row once, two prices said", async () => {
    const folder = emptyFolder();
    await put(folder, "a.xlsx", shed("16'"));
    fs.writeFileSync(
      path.join(folder, "prices.csv"),
      '"Item","Size","Price"\r\n"Tape","3 in","30"\r\n"Tape","3 in","30.00"\r\n"Panel","48 x 96 in","52"\r\n"Panel","48 x 96 in","54"\r\n'
    );
    const ran = await takeoff(folder, ".", "--prices", "prices.csv");
    expect(ran.code).toBe(0);
    expect(ran.out).toContain(
      "price list rows 4 and 5: two prices for Panel 48 x 96 in without a supplier; the lower one counts"
    );
    expect(ran.out).not.toMatch(/two prices for Tape/);
    const priceOf = (item: string): unknown =>
      purchase(folder).find((line) => line["Item"] === item)?.["Price"];
    expect([priceOf("Panel"), priceOf("Tape")]).toEqual([52, 30]);
  });

  test("a list that lies among the houses is no house", async () => {
    const folder = emptyFolder();
    await put(folder, "a.xlsx", shed("16'"));
    await put(folder, "prices.xlsx", {
      Prices: { ...row(1, "Item", "Size", "Price"), ...row(2, "Tape", "3 in", 30) },
    });
    const ran = await takeoff(folder, ".", "--prices", "prices.xlsx");
    expect(ran.code).toBe(0);
    expect(ran.err).toContain("prices.xlsx: left out: it is the price list");
    expect(ran.out).toContain("Purchase for 1 house\n");
  });

  test("typed into the houses count where all agree", async () => {
    const folder = emptyFolder();
    const typed = (price: number): Cells => ({
      ...row(4, "Item", "Size", "Price"),
      ...row(5, "Tape", "3 in", price),
    });
    await put(folder, "a.xlsx", { ...shed("16'"), Prices: typed(30) });
    await put(folder, "b.xlsx", { ...shed("12'"), Prices: typed(30) });
    await takeoff(folder, "a.xlsx", "b.xlsx");
    expect(purchase(folder).find((line) => line["Item"] === "Tape")).toMatchObject({ Price: 30 });
    await put(folder, "b.xlsx", { ...shed("12'"), Prices: typed(31) });
    const ran = await takeoff(folder, "a.xlsx", "b.xlsx", "--out", "other");
    expect(ran.out).toMatch(
      /Tape 3 in: the houses give 2 prices, so none is used: 30 \(a\); 31 \(b\)/
    );
    expect(ran.out).toContain("No line has a price.");
  });
});

describe("what was typed", () => {
  test("two inputs of one name, a pattern, one named twice, results of before", async () => {
    const folder = emptyFolder();
    await put(folder, "Lot.xlsx", shed("12'", { B1: "Same" }));
    await put(folder, "more/lot.xlsx", shed("16'", { B1: "same" }));
    const ran = await takeoff(folder, "Lot.xlsx", "./Lot.xlsx", "more/*.xlsx", "--out", ".");
    expect(ran.code).toBe(0);
    expect(ran.err).toContain("Lot.xlsx: named twice, taken off once");
    expect(fs.readdirSync(path.join(folder, "lot-2"))).toContain("lot.xlsx");
    expect(ran.out).toContain("2 workbooks are for a house of this name and all are counted");
    const again = await takeoff(folder, ".", "--out", ".");
    expect(again.err).toContain("left out, as results of an earlier takeoff: purchase.xlsx");
  });

  test("names a shell fills in: the purchase of before is no house; a result somebody changed is one", async () => {
    const folder = emptyFolder();
    await put(folder, "a.xlsx", shed("12'"));
    await put(folder, "b.xlsx", shed("16'"));
    await takeoff(folder, "a.xlsx", "b.xlsx", "--out", ".");
    const again = await takeoff(folder, "a.xlsx", "b.xlsx", "purchase.xlsx", "--out", ".");
    expect(again.code).toBe(0);
    expect(again.err).toContain("purchase.xlsx: left out, as a result of an earlier takeoff");
    // a result of a takeoff in which somebody worked on is a house of theirs
    await takeoff(folder, "a.xlsx", "--out", "results");
    const first = await takeoff(folder, "results", "--out", "one");
    expect(first.err).toContain("left out, as results of an earlier takeoff: a.xlsx");
    await put(folder, "results/a.xlsx", shed("24'"));
    const second = await takeoff(folder, "results", "--out", "two");
    expect(second).toMatchObject({ code: 0 });
    expect(second.out).toContain("Purchase for 1 house\n");
  });

  test("two houses in one workbook are both counted, one shown twice is counted once", async () => {
    const folder = emptyFolder();
    const one = shed("12'");
    const walls = { ...row(1, "Wall", "Length", "Height", "Left end", "Right end") };
    const order = String(one["Order"]?.["A3"]);
    await put(folder, "duplex.xlsx", {
      ...one,
      "Walls 2": { ...walls, ...row(2, "South", "24'", "8'", "free", "free") },
      "Order 2": { A3: order.replace("Walls!", "'Walls 2'!") },
    });
    await put(folder, "copied.xlsx", { ...one, "For the yard": { A3: order } });
    await put(folder, "plain.xlsx", one);
    await put(folder, "long.xlsx", shed("24'"));
    const nails = async (name: string): Promise<number> => {
      const ran = await takeoff(folder, name, "--json");
      expect(ran.code).toBe(0);
      const { files } = JSON.parse(ran.out) as {
        files: { order: { rows: CellValue[][] }; otherOrders?: { rows: CellValue[][] }[] }[];
      };
      const all = files.flatMap(({ order: own, otherOrders = [] }) => [own, ...otherOrders]);
      return all
        .flatMap(({ rows: lines }) => lines)
        .filter(([item]) => item === "Nails")
        .reduce((sum, line) => sum + Number(line[2]), 0);
    };
    const [plain, long] = [await nails("plain.xlsx"), await nails("long.xlsx")];
    expect(await nails("duplex.xlsx")).toBe(plain + long);
    expect(await nails("copied.xlsx")).toBe(plain);
    const shown = await takeoff(folder, "copied.xlsx");
    expect(shown.out.replace(/\s+/g, " ")).toContain(
      "For the yard!A3 orders the same walls, openings and settings as Order!A3; they are counted once"
    );
    // the purchase adds them too, and compare takes one house at a time
    await takeoff(folder, "duplex.xlsx", "plain.xlsx", "--out", "together");
    const line = rows(opened(folder, "together", "purchase.xlsx"), "Purchase", 6).find(
      (each) => each["Item"] === "Nails"
    );
    expect(line).toMatchObject({ Needed: 2 * plain + long });
    const compared = await run("compare", ["duplex.xlsx", "plain.xlsx"], { from: folder });
    expect(compared).toMatchObject({ code: 2, out: "" });
    expect(compared.err).toContain("duplex.xlsx: it takes off several houses; compare one house");
  });

  test("what the houses' checks say to look at is listed, once where several say it", async () => {
    const folder = emptyFolder();
    const checks = {
      Checks: { A1: '=SHEATH.HOUSE_CHECKS(Walls!A1:E2,"",Settings!A1:B4)' },
    };
    await put(folder, "a.xlsx", { ...shed("3'-6\""), ...checks });
    await put(folder, "b.xlsx", { ...shed("16'"), ...checks });
    const ran = await takeoff(folder, ".");
    expect(ran.out).toContain("look: a (a.xlsx): North: Length is 42 in;");
    expect(ran.out).toMatch(/look: 2 houses: One nail through 1 1\/4 in of foam/);
  });

  test("sheets of an earlier revision are taken away where the new one has no order", async () => {
    const folder = emptyFolder();
    await put(folder, "a.xlsx", shed("12'"));
    await run("takeoff", ["a.xlsx"], { from: folder });
    const results = path.join(folder, "takeoff");
    expect(fs.readdirSync(results)).toEqual(
      expect.arrayContaining(["a.xlsx", "order.csv", "takeoff.html", "drawings"])
    );
    await put(folder, "a.xlsx", {
      ...shed("12'"),
      Walls: {
        ...row(1, "Wall", "Length", "Height", "Left end", "Right end"),
        ...row(2, "North", "12'", "8'", "fre", "free"),
      },
    });
    const ran = await run("takeoff", ["a.xlsx"], { from: folder });
    expect(ran.code).toBe(1);
    const left = fs.readdirSync(results).filter((name) => !name.startsWith("."));
    expect(left.sort()).toEqual(["a.xlsx", "drawings"]);
    expect(
      fs.readdirSync(path.join(results, "drawings")).filter((name) => name.endsWith(".svg"))
    ).toEqual([]);
  });

  test("a folder without workbooks, a missing file and no houses at all", async () => {
    const folder = emptyFolder();
    fs.mkdirSync(path.join(folder, "empty"));
    const ran = await takeoff(folder, "empty", "none.xlsx");
    expect(ran.code).toBe(1);
    expect(ran.err).toContain("empty: no .xlsx or .xlsm workbook is in this folder");
    expect(ran.err).toContain("none.xlsx: there is no such file");
    expect(fs.existsSync(path.join(folder, "takeoff", "purchase.xlsx"))).toBe(false);
  });

  test("an order of one's own that cannot be added up is left out and said", async () => {
    const folder = emptyFolder();
    await put(folder, "a.xlsx", shed("12'"));
    const order = String(shed("12'")["Order"]?.["A3"]).slice(1);
    await put(folder, "b.xlsx", {
      ...shed("12'"),
      // five columns of the eight
      Order: { A3: `=CHOOSECOLS(${order},1,2,3,4,5)` },
    });
    const ran = await takeoff(folder, "a.xlsx", "b.xlsx");
    expect(ran.code).toBe(1);
    expect(ran.err).toContain(
      "b.xlsx: its order cannot be added up: the order has no column per package"
    );
    expect(ran.out).toContain("Purchase for 1 house; 1 house NOT in it");
  });

  test("a release that is no date is said, and the house counted", async () => {
    const folder = emptyFolder();
    await put(folder, "a.xlsx", shed("12'", { A2: "Release date", B2: "3/4/27" }));
    const ran = await takeoff(folder, "*.xlsx");
    expect(ran.code).toBe(0);
    expect(ran.out).toContain(
      "Setup!B2: Release date must be a date from 2000 to 2100, such as 2027-03-15; got 3/4/27"
    );
  });

  test.each([
    [["--workers", "0"], /--workers must be a whole number from 1 to 64; got 0/],
    [["--prices", "none.csv"], /--prices none.csv: there is no such file/],
    [["--prices"], /--prices needs the name of a file/],
  ])("%p says what is wrong and exits 2", async (args, says) => {
    const ran = await run("takeoff", args, { from: emptyFolder() });
    expect(ran).toMatchObject({ code: 2, out: "" });
    expect(ran.err).toMatch(says);
  });
});

test("a thread that runs out of memory takes only its own house with it", async () => {
  const folder = emptyFolder();
  await put(folder, "a.xlsx", shed("12'"));
  const pool = pathToFileURL(moduleFile("house-pool")).href;
  const script = path.join(folder, "pool.mjs");
  fs.writeFileSync(
    script,
    `import { takeOffInThreads } from ${JSON.stringify(pool)};
     const task = { file: ${JSON.stringify(path.join(folder, "a.xlsx"))}, folder: "out", paper: "letter", draw: false };
     const left = await takeOffInThreads([task], { workers: 1, memoryMb: 8 }, (result) => console.log(result.trouble));
     console.log(JSON.stringify(left));`
  );
  const ran = await runFile(script, [], { from: folder });
  expect(ran.out).toMatch(/^it takes more than 8 MB of memory; take it off by itself\n\[\]/);
});
