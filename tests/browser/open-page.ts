/** A page of the local sheet in a real browser, watched for errors and for requests that leave the machine. */
import { chromium, type Browser, type BrowserContext, type Page } from "playwright-core";

export const ADDRESS = process.env.LOCAL_SHEET_ADDRESS ?? "";

const ARGUMENTS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  // whatever is asked for by a name must fail at once
  "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
];

export function startBrowser(): Promise<Browser> {
  const executablePath = process.env.CHROMIUM;
  if (!executablePath) throw new Error("no browser; see tests/browser/setup.mjs");
  return chromium.launch({ executablePath, args: ARGUMENTS });
}

export interface OpenPage {
  readonly context: BrowserContext;
  readonly page: Page;
  /** errors in the console or thrown */
  readonly errors: string[];
  /** requests to anything but the local sheet */
  readonly outside: string[];
}

interface PageOptions {
  readonly width?: number;
  readonly height?: number;
  readonly dark?: boolean;
  readonly path?: string;
  readonly context?: BrowserContext;
}

export async function openPage(browser: Browser, options: PageOptions = {}): Promise<OpenPage> {
  const context =
    options.context ??
    (await browser.newContext({
      viewport: { width: options.width ?? 1440, height: options.height ?? 900 },
      colorScheme: options.dark ? "dark" : "light",
      acceptDownloads: true,
    }));
  const page = await context.newPage();
  const errors: string[] = [];
  const outside: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  page.on("pageerror", (error) => errors.push(error.message));
  page.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(ADDRESS) && !/^(?:data|blob):/.test(url)) outside.push(url);
  });
  await page.goto(ADDRESS + (options.path ?? ""));
  if (options.path === undefined) await ready(page);
  return { context, page, errors, outside };
}

/** Waits until the workbook is shown, calculated, and the pane has read it. */
export async function ready(page: Page): Promise<void> {
  await page.waitForFunction(
    () =>
      Number(document.documentElement.dataset.calculated ?? 0) > 0 &&
      Number(document.querySelector<HTMLElement>("#pane")?.dataset.readings ?? 0) > 0,
    undefined,
    { timeout: 60_000 }
  );
}

/** Does something and waits until the workbook is calculated and the pane has read it anew. */
export async function changing(page: Page, act: () => Promise<unknown>): Promise<void> {
  const count = (): Promise<[number, number]> =>
    page.evaluate(() => [
      Number(document.documentElement.dataset.calculated ?? 0),
      Number(document.querySelector<HTMLElement>("#pane")?.dataset.readings ?? 0),
    ]);
  const before = await count();
  await act();
  await page.waitForFunction(
    ([calculated, readings]) =>
      Number(document.documentElement.dataset.calculated ?? 0) > (calculated as number) &&
      Number(document.querySelector<HTMLElement>("#pane")?.dataset.readings ?? 0) >
        (readings as number),
    before,
    { timeout: 60_000 }
  );
}

interface TestGrid {
  model(): unknown;
  activeBox(): { left: number; top: number; right: number; bottom: number } | undefined;
  place(): { sheet: string; sheetName: string } | undefined;
  written(sheet: string, row: number, column: number): string;
  value(sheet: string, row: number, column: number): unknown;
  snapshot(): { sheetOrder: string[]; sheets: Record<string, { name: string }> };
  runCommand(id: string, params?: object): Promise<boolean>;
}

interface TestPage {
  localSheet: {
    isCalculating: boolean;
    modelChanged(change: { book: unknown }): void;
    select(sheet: string, row: number, column: number): void;
    fileBytes(): Promise<Uint8Array>;
    openBytes(bytes: Uint8Array, name: string): Promise<void>;
    test: TestGrid;
  };
}

/** Id of a sheet by its name. */
export function sheetId(page: Page, name: string): Promise<string> {
  return page.evaluate((wanted) => {
    const data = (window as unknown as TestPage).localSheet.test.snapshot();
    const id = data.sheetOrder.find((each) => data.sheets[each]?.name === wanted);
    if (!id) throw new Error(`no sheet is called ${wanted}`);
    return id;
  }, name);
}

function parse(address: string): { row: number; column: number } {
  const [, letters = "", digits = ""] = /^([A-Z]+)(\d+)$/.exec(address) ?? [];
  let column = 0;
  for (const letter of letters) column = column * 26 + letter.charCodeAt(0) - 64;
  return { row: Number(digits), column };
}

export async function select(page: Page, sheet: string, address: string): Promise<void> {
  const id = await sheetId(page, sheet);
  const { row, column } = parse(address);
  await page.evaluate(
    ([where, down, across]) =>
      (window as unknown as TestPage).localSheet.select(
        where as string,
        down as number,
        across as number
      ),
    [id, row, column]
  );
  // the grid moves its selection a moment later
  await page.waitForTimeout(150);
}

/** The value behind what a cell shows. */
export async function shown(page: Page, sheet: string, address: string): Promise<unknown> {
  const id = await sheetId(page, sheet);
  const { row, column } = parse(address);
  return page.evaluate(
    ([where, down, across]) =>
      (window as unknown as TestPage).localSheet.test.value(
        where as string,
        down as number,
        across as number
      ),
    [id, row, column]
  );
}

/** Values of an area such as A1:C4, row by row. */
export async function shownArea(page: Page, sheet: string, area: string): Promise<unknown[][]> {
  const id = await sheetId(page, sheet);
  const [from = "", to = ""] = area.split(":");
  return page.evaluate(
    ([where, first, last]) => {
      const grid = (window as unknown as TestPage).localSheet.test;
      const a = first as { row: number; column: number };
      const b = last as { row: number; column: number };
      const rows: unknown[][] = [];
      for (let row = a.row; row <= b.row; row++) {
        const cells: unknown[] = [];
        for (let column = a.column; column <= b.column; column++) {
          cells.push(grid.value(where as string, row, column));
        }
        rows.push(cells);
      }
      return rows;
    },
    [id, parse(from), parse(to)] as const
  );
}

/** What the cells of an area such as A1:C4 show, as text. */
export async function writtenArea(page: Page, sheet: string, area: string): Promise<string[][]> {
  const id = await sheetId(page, sheet);
  const [from = "", to = ""] = area.split(":");
  return page.evaluate(
    ([where, first, last]) => {
      const grid = (window as unknown as TestPage).localSheet.test;
      const numbers = (start: number, end: number): number[] =>
        Array.from({ length: end - start + 1 }, (_, index) => start + index);
      return numbers(first.row, last.row).map((row) =>
        numbers(first.column, last.column).map((column) => grid.written(where, row, column))
      );
    },
    [id, parse(from), parse(to)] as const
  );
}

/** Name of the sheet that is shown. */
export function activeSheet(page: Page): Promise<string | undefined> {
  return page.evaluate(() => (window as unknown as TestPage).localSheet.test.place()?.sheetName);
}

/** Address of the first cell of a column that shows a text, looking down the first hundred rows. */
export async function cellWith(
  page: Page,
  sheet: string,
  column: string,
  text: string
): Promise<{ row: number; address: string }> {
  const rows = await shownArea(page, sheet, `${column}1:${column}100`);
  const at = rows.findIndex(([value]) => value === text);
  if (at < 0) throw new Error(`column ${column} of ${sheet} shows no ${text}`);
  return { row: at + 1, address: `${column}${at + 1}` };
}

/** Types into a cell with the keyboard and confirms it. */
export async function type(
  page: Page,
  sheet: string,
  address: string,
  text: string
): Promise<void> {
  await select(page, sheet, address);
  await changing(page, async () => {
    await page.keyboard.type(text, { delay: 10 });
    await page.keyboard.press("Enter");
  });
}

/** Runs a command of the grid, as its menus do. */
export function command(page: Page, id: string, params?: object): Promise<boolean> {
  return page.evaluate(
    ([name, held]) =>
      (window as unknown as TestPage).localSheet.test.runCommand(
        name as string,
        held as object | undefined
      ),
    [id, params] as const
  );
}

/** The workbook as it would be saved. */
export async function savedBytes(page: Page): Promise<Uint8Array> {
  const numbers = await page.evaluate(async () => [
    ...(await (window as unknown as TestPage).localSheet.fileBytes()),
  ]);
  return Uint8Array.from(numbers);
}

/** Opens a file as if it had been chosen in the file dialog. */
export async function openFile(page: Page, bytes: Uint8Array, name = "test.xlsx"): Promise<void> {
  await page.setInputFiles("#file-input", {
    name,
    mimeType: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    buffer: Buffer.from(bytes),
  });
}

/**
 * Calculates the whole workbook over and over, so that results arrive at every moment of what a test does.
 * @returns ends it, waits for the last one, and tells how many arrived
 */
export async function resultsAllTheTime(page: Page): Promise<() => Promise<number>> {
  const count = (): Promise<number> =>
    page.evaluate(() => Number(document.documentElement.dataset.calculated ?? 0));
  const before = await count();
  const timer = await page.evaluate(() =>
    window.setInterval(() => {
      const { localSheet } = window as unknown as TestPage;
      if (!localSheet.isCalculating) localSheet.modelChanged({ book: localSheet.test.model() });
    }, 61)
  );
  return async () => {
    await page.evaluate((held) => window.clearInterval(held), timer);
    await page.waitForFunction(() => !(window as unknown as TestPage).localSheet.isCalculating);
    await page.waitForTimeout(300);
    return (await count()) - before;
  };
}

/** Where the selected cell stands on the page: its middle, or where a list has its arrow. */
export async function activeCell(
  page: Page,
  side: "middle" | "right" = "middle"
): Promise<{ x: number; y: number }> {
  const box = await page.evaluate(() =>
    (window as unknown as TestPage).localSheet.test.activeBox()
  );
  if (!box) throw new Error("no cell is selected");
  const x = side === "right" ? box.right - 10 : (box.left + box.right) / 2;
  return { x, y: (box.top + box.bottom) / 2 };
}
