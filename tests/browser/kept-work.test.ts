/** Work that is not in a file yet survives saving, reloading, closing and other tabs, and no tab gets at another's. */
import fs from "node:fs";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { openWorkbook, type WorksheetFunction } from "../../src/host/engine/index.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import {
  cellWith,
  changing,
  command,
  openPage,
  ready,
  savedBytes,
  sheetId,
  shown,
  startBrowser,
  type OpenPage,
} from "./open-page.js";

// a page takes long to start on a busy machine, and some tests start it many times
jest.setTimeout(600_000);

const functions = worksheetFunctions as unknown as readonly WorksheetFunction[];

let browser: Browser;
let context: BrowserContext;
let opened: OpenPage[];
/** Address of the length of the first wall, and what the demo house has there. */
let length: string;
let demo: unknown;

beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser?.close());
beforeEach(async () => {
  const first = await openPage(browser);
  ({ context } = first);
  opened = [first];
  length = `B${(await cellWith(first.page, "Walls", "A", "Wall")).row + 1}`;
  demo = await lengthIn(first.page);
});
afterEach(async () => {
  for (const { errors, outside } of opened) {
    expect(errors).toEqual([]);
    expect(outside).toEqual([]);
  }
  await context.close();
});

function firstTab(): Page {
  return (opened[0] as OpenPage).page;
}

async function newTab(): Promise<Page> {
  const tab = await openPage(browser, { context });
  opened.push(tab);
  return tab.page;
}

function lengthIn(page: Page): Promise<unknown> {
  return shown(page, "Walls", length);
}

function state(page: Page): Promise<string | null> {
  return page.locator("#file-state").textContent();
}

async function notice(page: Page): Promise<string | null> {
  await page.waitForSelector("#notice:not([hidden])");
  return page.locator("#notice-text").textContent();
}

interface TestPage {
  localSheet: {
    openBytes(bytes: Uint8Array, name: string): Promise<void>;
    test: { runCommand(id: string, params: object): Promise<boolean> };
  };
}

/** What an edit of the length does, without the time that typing takes. */
async function edit(text: string, page: Page): Promise<{ id: string; params: object }> {
  const row = Number(length.slice(1)) - 1;
  const range = { startRow: row, endRow: row, startColumn: 1, endColumn: 1 };
  const subUnitId = await sheetId(page, "Walls");
  return { id: "sheet.command.set-range-values", params: { subUnitId, range, value: { v: text } } };
}

/** Sets the length and waits until all is calculated and the browser has its copy. */
async function setLength(page: Page, text: string): Promise<void> {
  const { id, params } = await edit(text, page);
  await changing(page, () => command(page, id, params));
  expect(await lengthIn(page)).toBe(text);
  await page.waitForTimeout(1200);
}

async function reload(page: Page): Promise<void> {
  await page.reload();
  await ready(page);
}

/** Closes a tab and waits until the browser knows that it is gone. */
async function close(page: Page): Promise<void> {
  const locks = (tab: Page): Promise<number> =>
    tab.evaluate(async () => (await navigator.locks.query()).held?.length ?? 0);
  const watcher = (await openPage(browser, { context, path: "print.html" })).page;
  const before = await locks(watcher);
  await page.close();
  while ((await locks(watcher)) >= before) await watcher.waitForTimeout(50);
  await watcher.close();
}

test("an edit made while Save runs stays unsaved and is back after a reload", async () => {
  const page = firstTab();
  await setLength(page, "30'");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.evaluate(
      async ({ id, params }) => {
        document.querySelector<HTMLElement>("#save-file")?.click();
        await new Promise((resolve) => setTimeout(resolve, 5));
        await (window as unknown as TestPage).localSheet.test.runCommand(id, params);
      },
      await edit("35'", page)
    ),
  ]);
  const book = openWorkbook(new Uint8Array(fs.readFileSync(await download.path())), functions);
  expect(book.cell("Walls", length).value).toBe("30'");
  // longer than everything Save still does
  await page.waitForTimeout(1500);
  expect(await state(page)).toBe("Unsaved changes");
  await reload(page);
  expect(await lengthIn(page)).toBe("35'");
  expect(await state(page)).toBe("Unsaved changes");
});

test("a saved workbook is back after a reload, with nothing unsaved", async () => {
  const page = firstTab();
  await setLength(page, "30'");
  await Promise.all([page.waitForEvent("download"), page.click("#save-file")]);
  await page.waitForFunction(() => document.querySelector("#file-state")?.textContent === "");
  await page.waitForTimeout(500);
  await reload(page);
  expect(await lengthIn(page)).toBe("30'");
  expect(await state(page)).toBe("");
  expect(await notice(page)).toBe("The workbook is back as you saved it.");
  // it is in a file: another tab starts afresh once this one is closed
  await close(page);
  const next = await newTab();
  expect(await lengthIn(next)).toBe(demo);
  expect(await next.locator("#notice").isHidden()).toBe(true);
});

test("opening another file forgets the work, but not what is edited as soon as it is shown", async () => {
  const page = firstTab();
  await setLength(page, "30'");
  const bytes = [...(await savedBytes(page))];
  await page.evaluate(async (numbers) => {
    await (window as unknown as TestPage).localSheet.openBytes(Uint8Array.from(numbers), "other");
  }, bytes);
  await reload(page);
  expect(await lengthIn(page)).toBe(demo);
  await page.evaluate(
    async ({ numbers, id, params }) => {
      const { localSheet } = window as unknown as TestPage;
      const name = document.querySelector("#file-name");
      const opening = localSheet.openBytes(Uint8Array.from(numbers), "other");
      while (name?.textContent !== "other") await new Promise((resolve) => setTimeout(resolve, 1));
      await localSheet.test.runCommand(id, params);
      await opening;
    },
    { numbers: bytes, ...(await edit("35'", page)) }
  );
  await page.waitForTimeout(1200);
  await reload(page);
  expect(await lengthIn(page)).toBe("35'");
  expect(await page.locator("#file-name").textContent()).toBe("other");
});

test("two tabs keep their work apart, and each has its own back after a reload", async () => {
  const one = firstTab();
  await setLength(one, "31'");
  const two = await newTab();
  expect(await lengthIn(two)).toBe(demo);
  expect(await state(two)).toBe("");
  await setLength(two, "32'");
  for (const page of [one, two]) await reload(page);
  expect(await lengthIn(one)).toBe("31'");
  expect(await lengthIn(two)).toBe("32'");
  // what one tab saves or opens leaves the other's copy alone
  await Promise.all([one.waitForEvent("download"), one.click("#save-file")]);
  one.on("dialog", (dialog) => void dialog.accept());
  await one.click("#new-house");
  await one.waitForFunction(
    () => document.querySelector("#file-name")?.textContent === "new house"
  );
  await reload(two);
  expect(await lengthIn(two)).toBe("32'");
  expect(await state(two)).toBe("Unsaved changes");
});

test("the work of closed tabs is back in the next ones, the newest first", async () => {
  const [one, two, three] = [firstTab(), await newTab(), await newTab()];
  await setLength(one, "31'");
  await setLength(two, "32'");
  await close(one);
  await close(two);
  // a tab that had nothing unsaved does not turn into another one, but tells
  await reload(three);
  expect(await lengthIn(three)).toBe(demo);
  expect(await notice(three)).toBe("Unsaved work of 2 closed tabs is kept.");
  const next = await newTab();
  expect(await lengthIn(next)).toBe("32'");
  expect(await notice(next)).toBe(
    "Your unsaved work is back as you left it. Unsaved work of a closed tab is kept."
  );
  const [last] = await Promise.all([context.waitForEvent("page"), next.click("#notice-action")]);
  await ready(last);
  expect(await lengthIn(last)).toBe("31'");
  expect(await state(last)).toBe("Unsaved changes");
  expect(await notice(last)).toBe("Your unsaved work is back as you left it.");
  // and is the new tab's own from now on
  await reload(last);
  expect(await lengthIn(last)).toBe("31'");
});

test("a duplicated tab, which has the first one's session, gets a copy of its own", async () => {
  const one = firstTab();
  await setLength(one, "31'");
  const session = await one.evaluate(() => ({ ...sessionStorage }));
  expect(Object.keys(session)).not.toEqual([]);
  // opened by the first one, a tab has a copy of its session
  const [two] = await Promise.all([
    context.waitForEvent("page"),
    one.evaluate(() => void window.open(location.href)),
  ]);
  await ready(two);
  expect(await lengthIn(two)).toBe(demo);
  expect(await two.evaluate(() => ({ ...sessionStorage }))).not.toEqual(session);
  await setLength(two, "32'");
  for (const page of [one, two]) await reload(page);
  expect(await lengthIn(one)).toBe("31'");
  expect(await lengthIn(two)).toBe("32'");
});
