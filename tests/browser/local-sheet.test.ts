/** The local sheet in a real browser: edit, follow, save, reopen. */
import fs from "node:fs";
import type { Browser, Page } from "playwright-core";
import { openWorkbook, type WorksheetFunction } from "../../src/host/engine/index.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import {
  cellWith,
  changing,
  command,
  openPage,
  activeSheet,
  ready,
  savedBytes,
  select,
  shown,
  shownArea,
  startBrowser,
  type,
  writtenArea,
  type OpenPage,
} from "./open-page.js";

const functions = worksheetFunctions as unknown as readonly WorksheetFunction[];

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

/** Address of the length of the first wall. */
async function firstLength(): Promise<string> {
  return `B${(await cellWith(page, "Walls", "A", "Wall")).row + 1}`;
}

/** Rows of the order as the grid shows them. */
async function order(): Promise<unknown[][]> {
  const rows = await shownArea(page, "Order", "A1:G60");
  const head = rows.findIndex((row) => row[0] === "Item");
  const rest = rows.slice(head + 1);
  const end = rest.findIndex((row) => row[0] === null || row[0] === "");
  return rest.slice(0, end);
}

test("the demo house opens with its order calculated and its first wall drawn", async () => {
  const rows = await order();
  expect(rows.length).toBeGreaterThan(3);
  expect(rows.some((row) => row[0] === "Panel" && Number(row[6]) > 0)).toBe(true);
  await page.waitForSelector("#panel-wall svg [data-piece]");
});

test("a longer wall changes the order and the drawing, and undo takes both back", async () => {
  const before = await order();
  const length = await firstLength();
  await select(page, "Walls", length);
  const was = await shown(page, "Walls", length);
  const drawn = await page.locator("#panel-wall svg").first().innerHTML();
  await type(page, "Walls", length, "40'");
  expect(await shown(page, "Walls", length)).toBe("40'");
  expect(await order()).not.toEqual(before);
  await expect(page.locator("#panel-wall svg").first().innerHTML()).resolves.not.toBe(drawn);
  await changing(page, () => page.keyboard.press("Control+z"));
  expect(await shown(page, "Walls", length)).toBe(was);
  expect(await order()).toEqual(before);
});

test("a saved workbook, opened by the command line's engine, gives the order the page shows", async () => {
  await type(page, "Walls", await firstLength(), "31'-6");
  const onPage = await shownArea(page, "Order", "A1:H30");
  const book = openWorkbook(await savedBytes(page), functions);
  book.recalculate();
  const there = book
    .range("Order", "A1:H30")
    .map((row) => row.map((value) => (value === "" ? null : value)));
  expect(onPage.map((row) => row.map((value) => (value === "" ? null : value)))).toEqual(there);
});

test("a row inserted in Walls moves the table, the formulas and the openings with it", async () => {
  const before = await order();
  const { row } = await cellWith(page, "Walls", "A", "Main south");
  await select(page, "Walls", `A${row}`);
  await changing(page, () => command(page, "sheet.command.insert-row-before", { value: 1 }));
  expect(await shown(page, "Walls", `A${row}`)).toBeNull();
  expect(await shown(page, "Walls", `A${row + 1}`)).toBe("Main south");
  expect(await order()).toEqual(before);
  await changing(page, () => page.keyboard.press("Control+z"));
  expect(await order()).toEqual(before);
});

test("a bad length is told in words in the status line", async () => {
  await type(page, "Walls", await firstLength(), "abc");
  const rows = await shownArea(page, "Order", "A1:A40");
  const at = rows.findIndex(([value]) => value === "#VALUE!");
  expect(at).toBeGreaterThanOrEqual(0);
  await select(page, "Order", `A${at + 1}`);
  const message = await page.locator("#cell-message").textContent();
  expect(message).toContain("#VALUE!");
  expect(message).toMatch(/Walls!B6 \(wall South wing\): Length/);
  await page.locator(".pane-state", { hasText: /Length/ }).waitFor();
});

test("typing the namespace offers our functions with their help", async () => {
  await select(page, "Order", "L2");
  await page.keyboard.type("=SHEATH.CORN", { delay: 20 });
  const list = page.getByText("SHEATH.CORNER_OFFSET", { exact: false }).first();
  await list.waitFor({ timeout: 10_000 });
  await page.getByText("How far to burn at a corner", { exact: false }).first().waitFor();
  await page.keyboard.press("Escape");
  await page.keyboard.press("Escape");
});

test("unsaved work is back after a reload", async () => {
  const length = await firstLength();
  await type(page, "Walls", length, "33'");
  await page.waitForTimeout(900);
  await page.reload();
  await page.waitForSelector("#notice:not([hidden])");
  expect(await shown(page, "Walls", length)).toBe("33'");
  expect(await page.locator("#file-state").textContent()).toBe("Unsaved changes");
});

/** Foam and Panel, which a new house leaves open. */
async function typeAssembly(): Promise<void> {
  for (const [name, text] of [
    ["Foam (in)", "1-1/4"],
    ["Panel (in)", "5/8"],
  ] as const) {
    const { row } = await cellWith(page, "Setup", "A", name);
    await type(page, "Setup", `B${row}`, text);
  }
}

test("a new house opens empty, says so, and takes its first wall", async () => {
  await changing(page, () => page.click("#new-house"));
  expect(await page.locator("#file-name").textContent()).toBe("new house");
  expect(await page.locator("#panel-wall svg").count()).toBe(0);
  expect(await page.locator("#pane .pane-state").textContent()).toBe(
    "Type the first wall on the Walls sheet."
  );
  expect(await page.locator("#pane .pane-state.is-problem").count()).toBe(0);
  expect(await page.locator("#panel-wall select option").count()).toBe(0);
  for (const name of ["Print wall", "Print all"]) {
    expect(await page.getByRole("button", { name }).isDisabled()).toBe(true);
  }
  const { row } = await cellWith(page, "Walls", "A", "Wall");
  await typeAssembly();
  await type(page, "Walls", `A${row + 1}`, "Shed");
  await type(page, "Walls", `B${row + 1}`, "12'");
  await type(page, "Walls", `C${row + 1}`, "8'");
  await type(page, "Walls", `G${row + 1}`, "free");
  await type(page, "Walls", `H${row + 1}`, "free");
  await page.waitForSelector("#panel-wall svg [data-piece]");
  expect((await order()).some((line) => line[0] === "Panel" && Number(line[6]) > 0)).toBe(true);
  expect(await page.getByRole("button", { name: "Print wall" }).isEnabled()).toBe(true);
});

test("spilled numbers of a new house are written as their columns say", async () => {
  await changing(page, () => page.click("#new-house"));
  await typeAssembly();
  const { row } = await cellWith(page, "Walls", "A", "Wall");
  for (const [column, text] of Object.entries({ A: "Shed", B: "40'", C: "9'", G: "free" })) {
    await type(page, "Walls", `${column}${row + 1}`, text);
  }
  await type(page, "Walls", `H${row + 1}`, "free");
  const first = (await cellWith(page, "Order", "A", "Item")).row + 1;
  const written = await writtenArea(page, "Order", `C${first}:E${first + 2}`);
  // needed in whole numbers, the spare share in percent
  for (const [needed, , extra] of written) {
    expect(needed).toMatch(/^[\d,]+$/);
    expect(extra).toMatch(/^\d+%$/);
  }
});

test.each(["Enter", "Escape", "the button"])(
  "an entry that a list refuses leaves the keyboard at its cell, closed with %s",
  async (how) => {
    const { row } = await cellWith(page, "Walls", "A", "Wall");
    const address = `G${row + 1}`;
    await select(page, "Walls", address);
    const was = await shown(page, "Walls", address);
    await page.keyboard.type("psat");
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog");
    await dialog.waitFor();
    expect(await dialog.textContent()).toMatch(/^This cell does not take that.*past or flush/);
    if (how === "the button") await dialog.getByText("OK", { exact: true }).click();
    else await page.keyboard.press(how);
    await dialog.waitFor({ state: "detached" });
    await page.waitForFunction(() => document.activeElement?.closest("#sheet") instanceof Element);
    expect(await shown(page, "Walls", address)).toBe(was);
    await changing(page, async () => {
      await page.keyboard.type(was === "past" ? "flush" : "past");
      await page.keyboard.press("Enter");
    });
    expect(await shown(page, "Walls", address)).toBe(was === "past" ? "flush" : "past");
  }
);

test("F6 goes round the page, and the arrow keys go from sheet to sheet", async () => {
  const where = (): Promise<string> =>
    page.evaluate(() => {
      const at = document.activeElement;
      if (at?.closest('[data-u-comp="slide-tab-bar"]')) return "sheet tabs";
      for (const id of ["bar-buttons", "sheet", "pane", "notice"]) {
        if (at?.closest(`#${id}`)) return id;
      }
      return "nowhere";
    });
  const round = async (key: string, count: number): Promise<string[]> => {
    const seen = [];
    for (let step = 0; step < count; step++) {
      await page.keyboard.press(key);
      seen.push(await where());
    }
    return seen;
  };
  await select(page, "Setup", "A1");
  expect(await round("F6", 4)).toEqual(["sheet tabs", "pane", "bar-buttons", "sheet"]);
  expect(await round("Shift+F6", 4)).toEqual(["bar-buttons", "pane", "sheet tabs", "sheet"]);
  await page.keyboard.press("F6");
  await page.keyboard.press("ArrowRight");
  expect(await activeSheet(page)).toBe("Walls");
  expect(await where()).toBe("sheet tabs");
  await page.keyboard.press("Shift+F6");
  await page.keyboard.press("Control+Alt+PageDown");
  expect(await activeSheet(page)).toBe("Openings");
  await page.keyboard.press("Control+Alt+PageUp");
  expect(await activeSheet(page)).toBe("Walls");
});

test("a notice takes its turn with F6, covers no tabs, and closes with Escape or the next entry", async () => {
  await type(page, "Order", "L38", "5/8");
  const notice = page.locator("#notice");
  await notice.waitFor();
  const bottom = async (selector: string): Promise<number> => {
    const box = await page.locator(selector).first().boundingBox();
    return (box?.y ?? NaN) + (box?.height ?? NaN);
  };
  const top = (await notice.boundingBox())?.y ?? NaN;
  expect(await bottom('[data-u-comp="slide-tab-bar"]')).toBeLessThanOrEqual(top + 1);
  for (let step = 0; step < 3; step++) await page.keyboard.press("F6");
  expect(await page.evaluate(() => document.activeElement?.id)).toBe("notice-close");
  await page.keyboard.press("Escape");
  expect(await notice.isHidden()).toBe(true);
  expect(
    await page.evaluate(() => document.activeElement?.closest("#sheet") instanceof Element)
  ).toBe(true);
  await page.reload();
  await ready(page);
  await type(page, "Order", "L39", "5/16");
  await notice.filter({ hasText: "5/16" }).waitFor();
  await type(page, "Order", "L37", "2");
  expect(await notice.isHidden()).toBe(true);
});

test("a fraction in a cell that is kept as text says nothing", async () => {
  const { row } = await cellWith(page, "Setup", "A", "Foam (in)");
  await type(page, "Setup", `B${row}`, "15/16");
  await page.waitForTimeout(400);
  expect(await page.locator("#notice").isHidden()).toBe(true);
});

test("the file that Save hands out is the workbook, and nothing is unsaved afterwards", async () => {
  await type(page, "Walls", await firstLength(), "28'");
  const [download] = await Promise.all([page.waitForEvent("download"), page.click("#save-file")]);
  expect(download.suggestedFilename()).toBe("demo-house.xlsx");
  const book = openWorkbook(new Uint8Array(fs.readFileSync(await download.path())), functions);
  expect(book.cell("Walls", await firstLength()).value).toBe("28'");
  await page.waitForFunction(() => document.querySelector("#file-state")?.textContent === "");
});

test("a calculation that takes long can be stopped, and the page goes on", async () => {
  const before = await order();
  const { row } = await cellWith(page, "Walls", "A", "Wall");
  const [header = []] = await shownArea(page, "Walls", `A${row}:Z${row}`);
  const column = String.fromCharCode(65 + header.indexOf("Quantity"));
  await select(page, "Walls", `${column}${row + 1}`);
  await page.keyboard.type("10000");
  await page.keyboard.press("Enter");
  const stop = page.locator("#stop-work");
  await stop.waitFor({ state: "visible", timeout: 20_000 });
  await stop.click();
  await page.waitForSelector("#notice:not([hidden])");
  expect(await page.locator("#notice-text").textContent()).toMatch(/^Stopped/);
  expect(await order()).toEqual(before);
  await changing(page, () => page.keyboard.press("Control+z"));
  expect(await order()).toEqual(before);
});

test.each([
  ["5/8", 0.625],
  ["1-7/8", 1.875],
  ["1 7/8", 1.875],
])("%s typed into any cell stays a length and does not become a date", async (text, inches) => {
  await type(page, "Order", "L30", text);
  expect(await shown(page, "Order", "L30")).toBe(text);
  await type(page, "Order", "L31", "=SHEATH.INCHES(L30)");
  expect(await shown(page, "Order", "L31")).toBe(inches);
  expect(await page.locator("#notice-text").textContent()).toContain("is kept as text");
  const book = openWorkbook(await savedBytes(page), functions);
  expect(book.cell("Order", "L30").value).toBe(text);
});
