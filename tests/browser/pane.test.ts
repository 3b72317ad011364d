/** The pane: every tab, keyboard, prints, widths, themes, accessibility. */
import fs from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import type { Browser, Page } from "playwright-core";
import {
  cellWith,
  openPage,
  select,
  shownArea,
  startBrowser,
  type,
  type OpenPage,
} from "./open-page.js";

const axe = fs.readFileSync(
  path.join(path.dirname(createRequire(__filename).resolve("axe-core")), "axe.min.js"),
  "utf8"
);
const WIDTHS = [
  [1280, 800],
  [900, 768],
  [390, 844],
] as const;
const SCREENSHOTS = process.env.SCREENSHOTS;

let browser: Browser;
let opened: OpenPage;
let page: Page;

beforeAll(async () => {
  browser = await startBrowser();
});
afterAll(() => browser?.close());
afterEach(async () => {
  expect(opened.errors).toEqual([]);
  expect(opened.outside).toEqual([]);
  await opened.context.close();
});

async function start(options: Parameters<typeof openPage>[1] = {}): Promise<void> {
  opened = await openPage(browser, options);
  ({ page } = opened);
}

async function picture(name: string): Promise<void> {
  if (SCREENSHOTS) await page.screenshot({ path: path.join(SCREENSHOTS, `${name}.png`) });
}

interface Violation {
  readonly id: string;
  readonly impact: string;
  readonly nodes: readonly { readonly html: string; readonly target: readonly string[] }[];
}

/** Serious and critical findings of the accessibility check, in what is ours. */
async function seriousFindings(): Promise<string[]> {
  await page.evaluate(axe);
  const found = await page.evaluate(async () => {
    const run = (
      window as unknown as {
        axe: { run(...args: unknown[]): Promise<{ violations: Violation[] }> };
      }
    ).axe;
    // the canvas grid is another project's and is checked there
    return (await run.run({ exclude: [["#sheet"]] })).violations;
  });
  return found
    .filter((each) => each.impact === "serious" || each.impact === "critical")
    .map((each) => `${each.id}: ${each.nodes.map((node) => node.html.slice(0, 160)).join(" | ")}`);
}

describe.each(WIDTHS)("at %i pixels", (width, height) => {
  test.each([false, true])("every tab is readable and accessible, dark: %s", async (dark) => {
    await start({ width, height, dark });
    const theme = dark ? "dark" : "light";
    await picture(`${width}-${theme}-sheet`);
    if (width < 760) await page.click("#view-pane");
    for (const tab of ["wall", "cuts", "order", "checks", "functions"]) {
      await page.click(`#tab-${tab}`);
      await page.waitForTimeout(300);
      if (tab === "functions") await page.click("#panel-functions details summary >> nth=3");
      expect(await seriousFindings()).toEqual([]);
      await picture(`${width}-${theme}-${tab}`);
      const isWider = await page.evaluate(
        () => document.documentElement.scrollWidth > document.documentElement.clientWidth
      );
      expect(isWider).toBe(false);
      const isTaller = await page.evaluate(
        () => document.documentElement.scrollHeight > window.innerHeight
      );
      expect(isTaller).toBe(false);
    }
  });
});

test("the wall of the selected row is drawn", async () => {
  await start();
  await select(page, "Walls", (await cellWith(page, "Walls", "A", "East")).address);
  const wanted = await page.evaluate(() => {
    const option = document.querySelector<HTMLSelectElement>("#panel-wall select");
    return option?.selectedOptions[0]?.textContent;
  });
  const label = await page.locator("#panel-wall .drawing svg").getAttribute("aria-label");
  expect(label).toContain(wanted ?? "?");
  expect(wanted).toBe("East");
});

test("a tapped piece says its name, size and panel, and leads to its cut", async () => {
  await start();
  await page.locator("#panel-wall svg [data-piece]").first().click();
  const detail = page.locator(".piece-detail");
  await expect(detail.textContent()).resolves.toMatch(/-\d+ .* x /);
  await detail.locator("button").click();
  expect(await page.locator("#tab-cuts").getAttribute("aria-selected")).toBe("true");
  expect(await page.evaluate(() => document.activeElement?.id)).toMatch(/^cut-/);
});

test("a piece that is pointed at is told in sight, whatever the height of the drawing", async () => {
  await start({ width: 1440, height: 700 });
  await page.locator("#panel-wall svg [data-piece]").nth(1).hover();
  const detail = page.locator(".piece-detail");
  await expect(detail.textContent()).resolves.toMatch(/-\d+ .* x .*panel \d+/);
  const box = await detail.boundingBox();
  expect(box?.y ?? 0).toBeGreaterThan(0);
  expect((box?.y ?? Infinity) + (box?.height ?? Infinity)).toBeLessThanOrEqual(700);
});

test("the cuts say the same of what no plan can beat as the order, rake pieces and all", async () => {
  await start();
  await page.click("#tab-order");
  const order = (await page.locator("#panel-order").textContent()) ?? "";
  const said = /\d+ panels; no plan can use fewer than \d+.*?nested in pairs/.exec(order)?.[0];
  expect(said).toBeDefined();
  await page.click("#tab-cuts");
  const cuts = (await page.locator("#panel-cuts .summary").textContent()) ?? "";
  expect(cuts).toContain(`${said}. Bought: `);
  expect(cuts).toMatch(/\d % of them becomes pieces\.$/);
});

test("nails are drawn when asked for", async () => {
  await start();
  const nails = page.locator("#panel-wall .drawing svg .nails circle, #panel-wall .nails path");
  expect(await nails.count()).toBe(0);
  await page.getByLabel("Nails", { exact: true }).check();
  expect(await nails.count()).toBeGreaterThan(0);
});

test("the order is copied as cells, with its header", async () => {
  await start();
  await opened.context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await page.click("#tab-order");
  await page.click("#panel-order >> text=Copy");
  // the clipboard answers in its own time
  await page.locator(".pane-state", { hasText: /^The order is copied\.$/ }).waitFor();
  const text = await page.evaluate(() => navigator.clipboard.readText());
  const rows = text.split("\n").map((row) => row.split("\t"));
  expect(rows[0]).toEqual("Item,Size,Needed,Unit,Extra,Per package,Order,Note".split(","));
  expect(rows.length).toBeGreaterThan(4);
  for (const row of rows) expect(row).toHaveLength(8);
});

test("what keeps the house from being taken off leads to its cell", async () => {
  await start();
  const { row } = await cellWith(page, "Walls", "A", "East");
  const header = (await shownArea(page, "Walls", `A${row - 4}:Z${row - 1}`))
    .map((cells) => cells.findIndex((cell) => /^Length/.test(String(cell))))
    .find((at) => at >= 0);
  if (header === undefined) throw new Error("no Length above the wall");
  const address = `${String.fromCharCode(65 + header)}${row}`;
  await type(page, "Walls", address, "long");
  const state = page.locator("#pane .pane-state");
  await state.filter({ hasText: /Walls!\w+ \(wall East\).*long/ }).waitFor();
  await select(page, "Setup", "A1");
  await page.click("#pane >> text=Show the cell");
  await page.waitForTimeout(300);
  expect(await page.locator("#cell-place").textContent()).toBe(address);
  await page.click("#tab-checks");
  await select(page, "Setup", "A1");
  await page.locator("#panel-checks .findings .fix button", { hasText: "East" }).first().click();
  await page.waitForTimeout(300);
  expect(await page.locator("#cell-place").textContent()).toBe(address);
});

test("the tabs can be walked with the keyboard", async () => {
  await start();
  await page.keyboard.press("F6");
  await page.keyboard.press("F6");
  expect(await page.evaluate(() => document.activeElement?.id)).toBe("tab-wall");
  await page.keyboard.press("ArrowRight");
  expect(await page.locator("#tab-cuts").getAttribute("aria-selected")).toBe("true");
  await page.keyboard.press("End");
  expect(await page.locator("#tab-functions").getAttribute("aria-selected")).toBe("true");
  await page.keyboard.press("Shift+F6");
  await page.keyboard.press("Shift+F6");
  expect(await page.evaluate(() => document.activeElement?.closest("#sheet") !== null)).toBe(true);
});

test("a finding leads to the wall's row", async () => {
  await start();
  await page.click("#tab-checks");
  const link = page.locator("#panel-checks .findings button").first();
  if ((await link.count()) === 0)
    throw new Error("the demo house has no finding that names a wall");
  const name = await link.textContent();
  await link.click();
  await page.waitForTimeout(300);
  const place = await page.locator("#cell-place").textContent();
  expect(place).toMatch(/^A\d+$/);
  await page.click("#tab-wall");
  const drawn = await page.locator("#panel-wall .drawing svg").getAttribute("aria-label");
  expect(drawn).toContain(name ?? "?");
});

test("a function chosen in the list is started in the active cell", async () => {
  await start();
  await select(page, "Order", "L3");
  await page.click("#tab-functions");
  await page.fill("#panel-functions input[type=search]", "tape width");
  const entry = page.locator("#panel-functions details:not([hidden])", { hasText: "TAPE_WIDTH" });
  await entry.first().locator("summary").click();
  await entry.first().getByRole("button").click();
  await page.waitForTimeout(400);
  await page.keyboard.type("1.5)");
  await page.keyboard.press("Enter");
  await page.waitForTimeout(800);
  await select(page, "Order", "L3");
  const formula = await page.evaluate(() => {
    const { localSheet } = window as unknown as {
      localSheet: {
        test: {
          model(): {
            sheets: { name: string; cells: { row: number; column: number; formula?: string }[] }[];
          };
        };
      };
    };
    const order = localSheet.test.model().sheets.find((each) => each.name === "Order");
    return order?.cells.find((each) => each.row === 3 && each.column === 12)?.formula;
  });
  expect(formula).toBe("=SHEATH.TAPE_WIDTH(1.5)");
});

test("the order as a file keeps texts from running as formulas", async () => {
  await start();
  await page.click("#tab-order");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.click("#panel-order >> text=CSV file"),
  ]);
  const text = fs.readFileSync(await download.path(), "utf8");
  expect(text.split("\r\n")[0]).toBe("\ufeffItem,Size,Needed,Unit,Extra,Per package,Order,Note");
  for (const line of text.slice(1).split("\r\n")) expect(line).not.toMatch(/(?:^|,)"?[=+@]/);
});

test.each(["letter", "a4"])("crew sheets print one wall to a page on %s", async (paper) => {
  await start();
  const [sheets] = await Promise.all([
    opened.context.waitForEvent("page"),
    page.click("#panel-wall >> text=Print all"),
  ]);
  await sheets.waitForSelector("#sheets .sheet");
  await sheets.selectOption("#paper", paper);
  await sheets.waitForFunction(
    (wanted) => document.documentElement.className.includes(wanted),
    paper
  );
  const count = await sheets.locator("#sheets .sheet").count();
  const pdf = (await sheets.pdf({ preferCSSPageSize: true })).toString("latin1");
  const pages = [...pdf.matchAll(/\/Type\s*\/Page\b/g)].length;
  const box = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf);
  expect(Math.round(Number(box?.[1]))).toBe(paper === "letter" ? 612 : 595);
  expect(pages).toBe(count);
});
