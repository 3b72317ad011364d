/** What a person types and pastes stays as it was typed, whatever the page does meanwhile. */
import fs from "node:fs";
import path from "node:path";
import type { Browser, Page } from "playwright-core";
import { openWorkbook, type WorksheetFunction } from "../../src/host/engine/index.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import {
  activeCell,
  cellWith,
  changing,
  openFile,
  openPage,
  ready,
  resultsAllTheTime,
  savedBytes,
  select,
  sheetId,
  shown,
  shownArea,
  startBrowser,
  type OpenPage,
} from "./open-page.js";

jest.setTimeout(600_000);

const functions = worksheetFunctions as unknown as readonly WorksheetFunction[];
const template = new Uint8Array(
  fs.readFileSync(path.resolve(__dirname, "../../sample-workbooks/house-template.xlsx"))
);
/** First row of a table in the template. */
const FIRST = 6;

let browser: Browser;
let opened: OpenPage;
let page: Page;

beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser?.close());
beforeEach(async () => {
  opened = await openPage(browser);
  ({ page } = opened);
});
afterEach(async () => {
  expect(opened.errors).toEqual([]);
  expect(opened.outside).toEqual([]);
  await opened.context.close();
});

/** Times between keys, as a person has them, ms. */
const RHYTHM = [80, 200, 110, 170, 90, 140];

async function typeAsAPerson(text: string, last?: string): Promise<void> {
  let key = 0;
  for (const each of [...text, ...(last === undefined ? [] : [last])]) {
    await page.keyboard.press(each);
    await page.waitForTimeout(RHYTHM[key++ % RHYTHM.length] as number);
  }
}

/** A house of square walls, past and flush, in a circle. */
function houseOf(walls: number): Uint8Array {
  const book = openWorkbook(template, functions);
  for (let wall = 0; wall < walls; wall++) {
    const row = FIRST + wall;
    const cells = { A: `Wall ${wall + 1}`, B: "13'", C: "8'", G: "free", H: "free" };
    for (const [column, text] of Object.entries(cells)) {
      book.setText("Walls", `${column}${row}`, text);
    }
  }
  return book.toBytes();
}

const WAYS = ["typing", "a double click", "F2"] as const;

/** Starts to edit the selected cell. */
async function start(way: (typeof WAYS)[number]): Promise<void> {
  if (way === "a double click") {
    const { x, y } = await activeCell(page);
    await page.mouse.dblclick(x, y);
  } else if (way === "F2") await page.keyboard.press("F2");
  await page.waitForTimeout(200);
}

describe.each([9, 40])("with %i walls and results arriving all the time", (walls) => {
  test.each(WAYS)("nothing typed is lost where an edit starts with %s", async (way) => {
    await changing(page, () => openFile(page, houseOf(walls)));
    const row = FIRST + walls;
    const texts = { A: "Garage south", B: `24'-1 1/2"`, C: `9'-1 1/8"` };
    const stop = await resultsAllTheTime(page);
    for (const [column, text] of Object.entries(texts)) {
      await select(page, "Walls", `${column}${row}`);
      await start(way);
      await typeAsAPerson(text, "Enter");
    }
    const arrived = await stop();
    expect(arrived).toBeGreaterThan(2);
    expect(await shownArea(page, "Walls", `A${row}:C${row}`)).toEqual([Object.values(texts)]);
  });
});

test("a formula typed over while its result is on the way keeps what was typed", async () => {
  const { row } = await cellWith(page, "Walls", "A", "Wall");
  await select(page, "Order", "L45");
  await typeAsAPerson(`=Walls!B${row + 1}`, "Enter");
  await page.waitForFunction(() => document.querySelector("#work-state")?.textContent === "");
  const stop = await resultsAllTheTime(page);
  await select(page, "Order", "L45");
  await typeAsAPerson("own", "Enter");
  await stop();
  expect(await shown(page, "Order", "L45")).toBe("own");
});

test.each(["24'", "6'6", "10-6", "24'-1 1/2\"", "5/8"])(
  "%s typed into an ordinary cell stays what it is, and so does the file",
  async (text) => {
    await select(page, "Order", "L45");
    await changing(page, () => typeAsAPerson(text, "Enter"));
    expect(await shown(page, "Order", "L45")).toBe(text);
    expect(await page.locator("#notice-text").textContent()).toContain(`${text} is kept as text`);
    const book = openWorkbook(await savedBytes(page), functions);
    expect(book.cell("Order", "L45").value).toBe(text);
  }
);

describe("lengths pasted into ordinary cells stay lengths", () => {
  /** Puts a table on the clipboard from a page without the local sheet's policy, as another program would. */
  async function copied(texts: { "text/plain": string; "text/html"?: string }): Promise<void> {
    const { context } = opened;
    await context.grantPermissions(["clipboard-read", "clipboard-write"]);
    const address = new URL("elsewhere", page.url()).href;
    const body = "<title>elsewhere</title>";
    await context.route(address, (route) => route.fulfill({ contentType: "text/html", body }));
    const elsewhere = await context.newPage();
    await elsewhere.goto(address);
    await elsewhere.bringToFront();
    await elsewhere.evaluate(async (held) => {
      const blobs = Object.entries(held).map(([kind, text]) => [
        kind,
        new Blob([text], { type: kind }),
      ]);
      await navigator.clipboard.write([
        new ClipboardItem(Object.fromEntries(blobs) as Record<string, Blob>),
      ]);
    }, texts);
    await elsewhere.close();
    await page.bringToFront();
  }

  async function paste(): Promise<unknown[][]> {
    await select(page, "Order", "L45");
    await changing(page, () => page.keyboard.press("Control+v"));
    return shownArea(page, "Order", "L45:M46");
  }

  test("one length as plain text", async () => {
    await copied({ "text/plain": "24'" });
    expect((await paste())[0]?.[0]).toBe("24'");
  });

  test("a table as plain text, where numbers are still numbers, and an undo takes it back", async () => {
    await copied({ "text/plain": "24'\t5/8\n6'6\t12" });
    expect(await paste()).toEqual([
      ["24'", "5/8"],
      ["6'6", 12],
    ]);
    await changing(page, () => page.keyboard.press("Control+z"));
    expect(await shownArea(page, "Order", "L45:M46")).toEqual([
      [null, null],
      [null, null],
    ]);
  });

  test("a table out of a spreadsheet, with styles and number formats of its own", async () => {
    await copied({
      "text/plain": "24'\t5/8\n6'6\t12",
      "text/html":
        `<html><head><style>td { color: red } .text { mso-number-format: "\\@" }</style></head>` +
        `<body><table style="width: 10em"><tr><td class="text" style="font-weight: bold">24'</td>` +
        `<td class="text">5/8</td></tr><tr><td>6'6</td><td>12</td></tr></table></body></html>`,
    });
    expect(await paste()).toEqual([
      ["24'", "5/8"],
      ["6'6", 12],
    ]);
  });
});

describe("lists with their words on another sheet", () => {
  const listed = async (sheet: string, address: string): Promise<string[]> => {
    await select(page, sheet, address);
    // a click makes the whole of a merged cell the active one
    for (const side of ["middle", "right"] as const) {
      const { x, y } = await activeCell(page, side);
      await page.mouse.click(x, y);
      await page.waitForTimeout(600);
    }
    const list = page.locator('[data-u-comp="sheets-dropdown-list"]');
    await list.waitFor();
    const [, ...words] = (await list.innerText()).split("\n");
    await page.keyboard.press("Escape");
    return words.map((word) => word.trim()).filter((word) => word !== "");
  };

  beforeEach(async () => {
    await changing(page, () => openFile(page, houseOf(2)));
  });

  test("an opening is typed with the keyboard alone, row after row", async () => {
    const rows = [
      ["Wall 1", "Window", "2'", "3'", "2'-6", "4'"],
      ["Wall 2", "Door", "4'", "0", "3'-2 1/2\"", "6'-10"],
    ];
    await select(page, "Openings", `A${FIRST}`);
    for (const row of rows) {
      for (const [at, text] of row.entries()) {
        await typeAsAPerson(text, at < row.length - 1 ? "Tab" : "Enter");
      }
    }
    await page.waitForTimeout(500);
    expect(
      (await shownArea(page, "Openings", `A${FIRST}:F${FIRST + 1}`)).map((row) => row.map(String))
    ).toEqual(rows);
  });

  test("a wall that there is not is refused in words, and the cell is as it was", async () => {
    await select(page, "Openings", `A${FIRST}`);
    await typeAsAPerson("Nowhere", "Enter");
    const dialog = page.getByRole("dialog");
    await dialog.waitFor();
    expect(await dialog.textContent()).toContain("No wall on the Walls sheet has that name.");
    await page.keyboard.press("Enter");
    await dialog.waitFor({ state: "detached" });
    expect(await shown(page, "Openings", `A${FIRST}`)).toBeNull();
  });

  test("Openings and Layout offer the walls, a new one as soon as it is typed", async () => {
    expect(await listed("Openings", `A${FIRST}`)).toEqual(["Wall 1", "Wall 2"]);
    expect(await listed("Layout", "B3")).toEqual(["Wall 1", "Wall 2"]);
    await select(page, "Walls", `A${FIRST + 2}`);
    await changing(page, () => typeAsAPerson("Shed", "Enter"));
    await page.waitForTimeout(500);
    expect(await listed("Openings", `A${FIRST}`)).toEqual(["Wall 1", "Wall 2", "Shed"]);
    await select(page, "Openings", `A${FIRST}`);
    await typeAsAPerson("Shed", "Tab");
    await page.waitForTimeout(500);
    expect(await shown(page, "Openings", `A${FIRST}`)).toBe("Shed");
  });
});

test("a reload keeps the entry of a moment ago and what is still being typed", async () => {
  const { row } = await cellWith(page, "Walls", "A", "Wall");
  await select(page, "Walls", `B${row + 1}`);
  await typeAsAPerson("33'");
  await page.keyboard.press("Tab");
  await page.waitForTimeout(30);
  await page.reload();
  await ready(page);
  expect(await shown(page, "Walls", `B${row + 1}`)).toBe("33'");
  await select(page, "Walls", `C${row + 1}`);
  await typeAsAPerson("9'-1");
  await page.reload();
  await ready(page);
  expect(await shown(page, "Walls", `C${row + 1}`)).toBe("9'-1");
  expect(await page.locator("#file-state").textContent()).toBe("Unsaved changes");
});

test("what is still being typed is asked about before another workbook is opened", async () => {
  const asked: string[] = [];
  page.on("dialog", (dialog) => {
    asked.push(dialog.message());
    void dialog.dismiss();
  });
  await select(page, "Walls", "A50");
  await typeAsAPerson("Shed");
  await page.click("#new-house");
  expect(asked).toEqual(["demo-house has changes that are not saved. Leave them?"]);
  expect(await shown(page, "Walls", "A50")).toBe("Shed");
});

test("a sheet's name that is too long for a file is refused in words and not cut", async () => {
  const tab = page.locator('[data-u-comp="slide-tab-item"]', { hasText: "Layout" }).first();
  await tab.click();
  await page.waitForTimeout(600);
  await tab.dblclick();
  const name = "Layout of the second floor of lot 12";
  await typeAsAPerson(name, "Enter");
  await page.waitForSelector("#notice:not([hidden])");
  expect(await page.locator("#notice-text").textContent()).toBe(
    "A sheet's name has at most 31 characters; this one has 36. Shorten it, then press Enter."
  );
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe(name);
  for (let back = 0; back < 10; back++) await page.keyboard.press("Backspace");
  await changing(page, () => page.keyboard.press("Enter"));
  expect(await sheetId(page, name.slice(0, -10).trimEnd())).toBeTruthy();
});
