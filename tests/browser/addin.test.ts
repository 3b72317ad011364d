/** The add-in's pane in a real browser: with no spreadsheet, with one that never answers, and beside a stand-in. */
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import http from "node:http";
import path from "node:path";
import { type AddressInfo } from "node:net";
import { type Browser, type Page } from "playwright-core";
import { VERSION } from "../../src/core/version.js";
import type { Entry } from "../../src/worksheet/entry.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { type GoldenRow, goldenRows, problemsOf, titleOf } from "../golden/golden.js";
import { startBrowser } from "./open-page.js";

const ROOT = path.resolve(__dirname, "..", "..");
const FOLDER = path.join(ROOT, "dist", "addin");
/** Where the pane gets the host's script from; here its maker's package answers in its place. */
const HOST_SCRIPT = "https://appsforoffice.microsoft.com/lib/1/hosted/";
const HOST_PACKAGE = path.join(
  ROOT,
  "src/tools/host-script/node_modules/@microsoft/office-js/dist"
);
const KINDS: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css",
  ".json": "application/json",
  ".png": "image/png",
};

let server: http.Server;
let base: string;
let browser: Browser;

beforeAll(
  async () => {
    execFileSync(process.execPath, ["src/cli/run.mjs", "build", "addin"], {
      cwd: ROOT,
      stdio: "pipe",
    });
    server = http.createServer((request, response) => {
      const name = new URL(request.url ?? "/", "http://localhost").pathname;
      const file = path.join(FOLDER, decodeURIComponent(name));
      if (!file.startsWith(FOLDER) || !fs.statSync(file, { throwIfNoEntry: false })?.isFile()) {
        response.writeHead(404).end();
        return;
      }
      response.writeHead(200, { "Content-Type": KINDS[path.extname(file)] ?? "text/plain" });
      fs.createReadStream(file).pipe(response);
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    browser = await startBrowser();
  },
  10 * 60 * 1000
);

afterAll(async () => {
  await browser?.close();
  server?.close();
});

interface Opened {
  readonly page: Page;
  readonly errors: string[];
}

/** Opens the pane. `script` runs before the page's own; `blockHost` takes the host's script away. */
async function open(
  options: { script?: () => void; blockHost?: boolean; query?: string } = {}
): Promise<Opened> {
  const context = await browser.newContext({ viewport: { width: 360, height: 900 } });
  const page = await context.newPage();
  const errors: string[] = [];
  page.on("pageerror", (error) => errors.push(error.message));
  // nothing leaves the machine, whatever the host's script tries
  await context.route(
    (url) => !url.href.startsWith(base) && !/^(?:data|blob):/.test(url.href),
    (route) => {
      const { origin, pathname } = new URL(route.request().url());
      const [, name] = (origin + pathname).split(HOST_SCRIPT);
      if (options.blockHost || name === undefined) return route.abort();
      return route.fulfill({ path: path.join(HOST_PACKAGE, name) });
    }
  );
  if (options.script) await page.addInitScript(options.script);
  await page.goto(`${base}/taskpane.html${options.query ?? ""}`);
  return { page, errors };
}

function connection(page: Page): Promise<string | undefined> {
  return page
    .waitForFunction(() => document.documentElement.dataset.connection, undefined, {
      timeout: 15000,
    })
    .then((handle) => handle.jsonValue() as Promise<string | undefined>);
}

/** Fills in the one-function form and reads what it says. */
async function workOut(page: Page, name: string, values: readonly string[]): Promise<string> {
  await page.locator(".calculator select").selectOption(name);
  const fields = page.locator(".calculator-fields input, .calculator-fields textarea");
  for (const [index, value] of values.entries()) await fields.nth(index).fill(value);
  await page.getByRole("button", { name: "Work it out" }).click();
  return (await page.locator(".calculator-answer").textContent()) ?? "";
}

describe("with no spreadsheet", () => {
  test("the pane says so and works out one function at a time", async () => {
    const { page, errors } = await open();
    expect(await connection(page)).toBe("nobody");
    expect(await page.locator("#said").textContent()).toContain("No spreadsheet");
    expect(await page.locator("#version").textContent()).toContain(VERSION);
    expect(await workOut(page, "CORNER_OFFSET", ["1-1/4", "5/8"])).toBe("1.875");
    expect(await workOut(page, "CORNER_OFFSET", ["0", "5/8"])).toMatch(/#VALUE! foam must be more/);
    expect(await workOut(page, "STOCK_NAIL", ["9"])).toMatch(/^#N\/A/);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  test("the functions are registered before anything waits for them", async () => {
    const { page } = await open();
    const count = await page.evaluate(
      () => (globalThis as { sheathAssociated?: number }).sheathAssociated
    );
    expect(count).toBeGreaterThan(40);
    await page.context().close();
  });

  test("the pane fits a narrow column and names every field", async () => {
    const { page } = await open();
    await connection(page);
    const overflow = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth
    );
    expect(overflow).toBeLessThanOrEqual(0);
    const unnamed = await page.evaluate(
      () =>
        [...document.querySelectorAll("input, select, textarea, button")].filter(
          (each) => !(each.closest("label") || each.textContent?.trim() || each.ariaLabel)
        ).length
    );
    expect(unnamed).toBe(0);
    await page.context().close();
  });

  test("without the host's script the pane still works, and says what to look at", async () => {
    const { page, errors } = await open({ blockHost: true });
    expect(await connection(page)).toBe("no script");
    expect(await page.locator("#said").textContent()).toContain("address");
    expect(await workOut(page, "INCHES", ["24'-6 1/2\""])).toBe("294.5");
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

describe("with a spreadsheet that never answers", () => {
  test("the pane waits four seconds, then works on its own", async () => {
    const { page } = await open({ query: "?_host_Info=Excel$Win32$16.01$en-US" });
    expect(await connection(page)).toBe("silent");
    expect(await page.locator("#said").textContent()).toContain("does not answer");
    expect(await workOut(page, "TAPE_WIDTH", ["1-7/8"])).toBe("2.875");
    await page.context().close();
  });
});

/** A stand-in for the host inside the page: one sheet, cells by address, answers from the registered functions. */
function fakeHost(): void {
  const functions = new Map<string, (...args: unknown[]) => unknown>();
  const cells = new Map<string, string>();
  const recorded: string[] = [];
  let active = "A1";
  const names = ["Sheet1"];
  const anything = (): unknown =>
    new Proxy(() => undefined, {
      get: (_target, name) => (name === "then" ? undefined : anything()),
      set: () => true,
      apply: () => anything(),
    });
  const range = (sheet: string, area: string): unknown =>
    new Proxy(
      {},
      {
        get: (_target, name) => {
          if (name === "formulas") return [[cells.get(`${sheet}!${area}`) ?? ""]];
          if (name === "values") {
            const text = cells.get(`${sheet}!${area}`) ?? "";
            const call = /^=SHEATH\.(\w+)\(\)$/.exec(text);
            return [[call ? functions.get(call[1] as string)?.() : text]];
          }
          if (name === "address") return `${sheet}!${area}`;
          if (name === "rowIndex" || name === "columnIndex") return 0;
          if (name === "worksheet") return worksheet(sheet);
          if (name === "isNullObject") return true;
          if (name === "then") return undefined;
          return anything();
        },
        set: (_target, name, value) => {
          if (name === "formulas") {
            const rows = value as string[][];
            cells.set(`${sheet}!${area}`, rows[0]?.[0] ?? "");
            recorded.push(`${sheet}!${area} ${rows.flat().join(" | ")}`);
          }
          return true;
        },
      }
    );
  const worksheet = (name: string): unknown => ({
    name,
    visibility: "Visible",
    getRange: (area: string) => range(name, area),
    getRangeByIndexes: () => range(name, active),
    getUsedRangeOrNullObject: () => range(name, "used"),
    activate: () => undefined,
    delete: () => names.splice(names.indexOf(name), 1),
    freezePanes: anything(),
    pageLayout: anything(),
    load: () => undefined,
  });
  const context = {
    sync: () => Promise.resolve(),
    workbook: {
      getActiveCell: () => range("Sheet1", active),
      onSelectionChanged: { add: () => undefined },
      worksheets: {
        load: () => undefined,
        get items() {
          return names.map(worksheet);
        },
        add: (name = "Test") => {
          names.push(name);
          return worksheet(name);
        },
        getActiveWorksheet: () => worksheet("Sheet1"),
        onChanged: { add: () => undefined },
        onDeleted: { add: () => undefined },
      },
    },
  };
  Object.assign(globalThis, {
    CustomFunctions: {
      associate: (id: string, call: (...args: unknown[]) => unknown) => functions.set(id, call),
    },
    Office: {
      onReady: () => Promise.resolve({ host: "Excel" }),
      context: { requirements: { isSetSupported: () => true } },
    },
    Excel: { run: (work: (each: unknown) => unknown) => work(context) },
    fake: { functions, recorded, names, setActive: (cell: string) => (active = cell) },
  });
}

interface Fake {
  readonly functions: Map<string, (...args: unknown[]) => unknown>;
  readonly recorded: string[];
  readonly names: string[];
}

describe("beside a spreadsheet", () => {
  const openFaked = (): Promise<Opened> => open({ script: fakeHost, blockHost: true });
  const press = (page: Page, name: string): Promise<void> =>
    page.getByRole("button", { name, exact: true }).click();
  const said = (page: Page, text: RegExp): Promise<unknown> =>
    page.waitForFunction(
      (source) => new RegExp(source).test(document.getElementById("said")?.textContent ?? ""),
      text.source
    );

  test("has its buttons and the house's tabs", async () => {
    const { page, errors } = await openFaked();
    expect(await connection(page)).toBe("spreadsheet");
    for (const name of [
      "New house",
      "Add formulas here",
      "Draw this wall into the sheet",
      "Repair formulas",
      "Keep values only",
      "Self-test",
    ]) {
      expect([name, await page.getByRole("button", { name, exact: true }).count()]).toEqual([
        name,
        1,
      ]);
    }
    expect(await page.getByRole("tab").count()).toBe(5);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  test("Self-test asks a cell for the version and says how many functions are registered", async () => {
    const { page } = await openFaked();
    await connection(page);
    await press(page, "Self-test");
    await said(page, new RegExp(`Cells answer. Version ${VERSION.replaceAll(".", "\\.")}`));
    const names = await page.evaluate(() => (globalThis as { fake?: Fake }).fake?.names);
    expect(names).toEqual(["Sheet1"]);
    await page.context().close();
  });

  test("New house writes its sheets", async () => {
    const { page, errors } = await openFaked();
    await connection(page);
    await press(page, "New house");
    await said(page, /Type the walls/);
    const { names, recorded } = await page.evaluate(() => {
      const { names, recorded } = (globalThis as { fake?: Fake }).fake as Fake;
      return { names, recorded };
    });
    expect(names).toContain("Walls");
    expect(recorded.some((each) => each.includes("SHEATH.HOUSE_ORDER("))).toBe(true);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  test("a refusal is said in words, as a problem", async () => {
    const { page } = await openFaked();
    await connection(page);
    await press(page, "Draw this wall into the sheet");
    await said(page, /no house to draw/);
    expect(await page.locator("#said.is-problem").count()).toBe(1);
    await page.context().close();
  });

  test("the one-function form writes the call into the active cell", async () => {
    const { page } = await openFaked();
    await connection(page);
    await page.locator("#calculator-box > summary").click();
    await page.locator(".calculator select").selectOption("CORNER_OFFSET");
    const fields = page.locator(".calculator-fields input");
    await fields.nth(0).fill("B2");
    await fields.nth(1).fill("5/8");
    await page
      .locator(".calculator")
      .getByRole("button", { name: "Insert in the active cell" })
      .click();
    await page.waitForFunction(
      () => ((globalThis as { fake?: Fake }).fake?.recorded.length ?? 0) > 0
    );
    const recorded = await page.evaluate(() => (globalThis as { fake?: Fake }).fake?.recorded);
    expect(recorded).toEqual(['Sheet1!A1 =SHEATH.CORNER_OFFSET(B2,"5/8")']);
    await page.context().close();
  });

  test("the functions it registers agree with the golden table", async () => {
    const { page } = await openFaked();
    const rows = goldenRows();
    // the host hands over an argument that repeats as one list of all that was given for it
    const calls = rows.map((row) => {
      const { parameters } = worksheetFunctions.find(({ name }) => name === row.function) as Entry;
      const last = parameters.length - 1;
      if (!parameters[last]?.repeats) return row;
      return {
        ...row,
        arguments: [...row.arguments.slice(0, last), row.arguments.slice(last)],
      };
    });
    const outcomes = await page.evaluate((list: GoldenRow[]) => {
      const { functions } = (globalThis as { fake?: Fake }).fake as Fake;
      return list.map((row) => {
        try {
          return { value: functions.get(row.function)?.(...row.arguments) };
        } catch (error) {
          const { code, message } = error as { code: string; message: string };
          return { error: code, message };
        }
      });
    }, calls as GoldenRow[]);
    const wrong = rows.flatMap((row, index) =>
      problemsOf(row, outcomes[index] as never).map((each) => `${titleOf(row)}: ${each}`)
    );
    expect(wrong).toEqual([]);
    await page.context().close();
  });
});
