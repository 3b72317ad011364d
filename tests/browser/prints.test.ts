/** The sheets on paper: printed to PDF by the browser and read back. */
import fs from "node:fs";
import path from "node:path";
import type { Browser, Page } from "playwright-core";
import { ALL_CAUTIONS } from "../../src/core/cautions.js";
import { houseFindings } from "../../src/core/house/checks.js";
import { type HouseTakeoff, takeoffHouse } from "../../src/core/house/takeoff.js";
import type { Table } from "../../src/core/house/tables.js";
import { wallGroups } from "../../src/pane/drawings/index.js";
import { type Paper, type PrintOptions, printableHtml } from "../../src/pane/print/index.js";
import { OPENINGS, SETTINGS, WALLS, demoHouse } from "../pane/house.js";
import { openPage, startBrowser } from "./open-page.js";
import { type PdfPage, readPdf, solidText } from "./read-pdf.js";

/** Points; the margin of every page is half an inch. */
const PAPERS = {
  letter: { width: 612, height: 792 },
  a4: { width: 595, height: 842 },
} as const;
const MARGIN = 36;
/** The page number stands in the bottom margin. */
const FOOT_MARGIN = 14;
/** Sizes of printed pages come in whole pixels of the screen. */
const ROUNDING = 1;

/** A wall as long and full as they come, with names as long as people type them. */
const LONG = "Wall along the drive and the neighbor's fence, storey above the garage";
const FULL_WALLS: Table = [
  ["Wall", "Length", "Height", "Peak height", "Peak at", "Left end", "Right end", "Below"],
  [LONG, "64'", "9'-1 1/8\"", "", "", "past", "past", 11.25],
  ["Gable", "40'", "9'-1 1/8\"", "22'", "20'", "flush", "flush", 11.25],
  ["Short", "2'", "8'", "", "", "free", "free", ""],
];
const FULL_OPENINGS: Table = [
  ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
  ...Array.from({ length: 14 }, (_, index) => [
    LONG,
    `Window ${index + 1} of the long room beside the stairs`,
    24 + index * 52,
    30,
    36,
    48,
  ]),
];
const FULL_SETTINGS: Table = [...SETTINGS, ["Panel lengths", "96, 108, 120"]];

const { SCREENSHOTS } = process.env;
let printCount = 0;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  browser = await startBrowser();
  page = await browser.newPage();
});
afterAll(() => browser?.close());

async function printed(html: string): Promise<PdfPage[]> {
  await page.setContent(html);
  const bytes = await page.pdf({ preferCSSPageSize: true });
  if (SCREENSHOTS) fs.writeFileSync(path.join(SCREENSHOTS, `print-${++printCount}.pdf`), bytes);
  return readPdf(bytes);
}

/** Parts that stick out of their sheet, or lines of a drawing that stick out of it. */
function sticksOut(): Promise<string[]> {
  return page.evaluate(() => {
    const wrong: string[] = [];
    for (const sheet of document.querySelectorAll(".sheet")) {
      const room = sheet.getBoundingClientRect();
      for (const each of sheet.querySelectorAll("*:not(svg *)")) {
        const box = each.getBoundingClientRect();
        if (box.right > room.right + 1 || box.left < room.left - 1)
          wrong.push(`${each.tagName}.${each.className}: ${each.textContent?.slice(0, 60)}`);
      }
      for (const drawing of sheet.querySelectorAll("svg")) {
        const frame = drawing.getBoundingClientRect();
        for (const text of drawing.querySelectorAll("text")) {
          const box = text.getBoundingClientRect();
          const isInside =
            box.left >= frame.left - 1 &&
            box.right <= frame.right + 1 &&
            box.top >= frame.top - 1 &&
            box.bottom <= frame.bottom + 1;
          if (!isInside) wrong.push(`text: ${text.textContent}`);
        }
      }
    }
    return wrong;
  });
}

function expectOnPaper(pages: readonly PdfPage[], paper: Paper): void {
  const { width, height } = PAPERS[paper];
  pages.forEach((each, index) => {
    expect(Math.round(each.width)).toBe(width);
    expect(Math.round(each.height)).toBe(height);
    for (const { x, y, text } of each.texts) {
      const isFoot = y > each.height - MARGIN;
      const where = `page ${index + 1}: "${text}" at ${x.toFixed(0)}, ${y.toFixed(0)}`;
      expect([where, x >= MARGIN - ROUNDING && x <= each.width - MARGIN]).toEqual([where, true]);
      expect([where, y >= MARGIN && y <= each.height - FOOT_MARGIN]).toEqual([where, true]);
      if (isFoot) expect(solidText(each)).toContain(`page${index + 1}of${pages.length}`);
    }
  });
}

/** Black, white and greys, and nothing so pale that a tired printer leaves it out. */
function expectBlackAndWhite(pages: readonly PdfPage[]): void {
  const PALEST = 0.75;
  const AREAS = [1, 0.933333];
  for (const { colours, pictureCount } of pages) {
    expect(pictureCount).toBe(0);
    expect(colours.length).toBeGreaterThan(1);
    for (const [red, green, blue] of colours) {
      expect(green).toBeCloseTo(red, 3);
      expect(blue).toBeCloseTo(red, 3);
      const isArea = AREAS.some((area) => Math.abs(area - red) < 0.01);
      expect([red, red <= PALEST || isArea]).toEqual([red, true]);
    }
  }
}

const HOUSES: readonly (readonly [string, () => HouseTakeoff])[] = [
  ["a house of two storeys", demoHouse],
  ["a full house", () => takeoffHouse(FULL_WALLS, FULL_OPENINGS, FULL_SETTINGS)],
];
const PAPER_NAMES: readonly Paper[] = ["letter", "a4"];
const CASES = HOUSES.flatMap(([name, house]) =>
  PAPER_NAMES.map((paper) => [name, paper, house] as const)
);

describe.each(CASES)("%s on %s", (_name, paper, made) => {
  let house: HouseTakeoff;
  beforeAll(async () => {
    house = made();
    const { width } = PAPERS[paper];
    await page.emulateMedia({ media: "print" });
    // as wide as the paper between its margins, in screen pixels
    await page.setViewportSize({
      width: Math.round(((width - 2 * MARGIN) / 72) * 96),
      height: 900,
    });
  });
  const sheets = (options: PrintOptions): string =>
    printableHtml(house, { title: "Corner house", paper, ...options });

  test.each([false, true])(
    "a crew sheet is a page, or two where it says so; nails: %s",
    async (nails) => {
      const pages = await printed(sheets({ parts: ["crew"], nails }));
      const groups = wallGroups(house);
      let at = 0;
      for (const { wall } of groups) {
        const name = wall.name.replace(/\s+/g, "");
        expect(solidText(pages[at] as PdfPage)).toContain(`Wall${name}`);
        expect(solidText(pages[at] as PdfPage)).toContain("Cornerhouse");
        at++;
        // the marks of a full wall stand on a page of their own, with its name
        const [first, second] = [pages[at - 1], pages[at] ?? pages[at - 1]].map((each) =>
          solidText(each as PdfPage)
        ) as [string, string];
        const isSplit = second.includes(`Wall${name},marks`);
        const both = isSplit ? first + second : first;
        if (isSplit) at++;
        expect(both).toContain("Marks,pulledfrom");
        for (const { wall: where, name: opening } of house.openings) {
          if (where === wall.name) expect(both).toContain(opening.replace(/\s+/g, ""));
        }
      }
      expect(pages).toHaveLength(at);
      expect(await page.locator(".sheet").count()).toBe(pages.length);
      expectOnPaper(pages, paper);
      expect(await sticksOut()).toEqual([]);
      expectBlackAndWhite(pages);
    }
  );

  // every count on one of the papers, the ends of the range on both
  test.each(paper === "letter" ? [1, 2, 3, 4, 5, 6] : [1, 6])(
    "cut sheets with %i panels a page",
    async (panelsPerPage) => {
      const pages = await printed(sheets({ parts: ["cuts"], panelsPerPage }));
      const { sheets: panels } = house.plan;
      const cutPages = Math.ceil(panels.length / panelsPerPage);
      expect(pages.length).toBeGreaterThan(cutPages);
      pages.slice(0, cutPages).forEach((each, index) => {
        expect(solidText(each)).toContain("Cutsheet");
        const count = Math.min(panelsPerPage, panels.length - index * panelsPerPage);
        expect(solidText(each).match(/(?:Panel\d+|ScrapS\d+:)/g)).toHaveLength(count);
      });
      // after them, where each piece is cut from
      for (const each of pages.slice(cutPages)) expect(solidText(each)).not.toContain("Cutsheet");
      expect(solidText(pages[cutPages] as PdfPage)).toContain("Whereeachpieceiscut");
      expectOnPaper(pages, paper);
      expect(await sticksOut()).toEqual([]);
      expectBlackAndWhite(pages);
    }
  );

  test("the order and the checks follow, every line of them", async () => {
    const findings =
      house === demoHouse()
        ? houseFindings(takeoffHouse(WALLS, OPENINGS, SETTINGS))
        : houseFindings(takeoffHouse(FULL_WALLS, FULL_OPENINGS, FULL_SETTINGS));
    const pages = await printed(sheets({ parts: ["order", "checks"], findings }));
    const text = pages.map(solidText).join("");
    for (const { finding, whatToDo } of findings) {
      // the cautions stand in a list of their own, which ends with whom to ask
      const lines = ALL_CAUTIONS.includes(finding) ? [finding] : [finding, whatToDo];
      for (const words of lines) expect(text).toContain(words.replace(/\s+/g, ""));
    }
    for (const { name } of house.walls) expect(text).toContain(name.replace(/\s+/g, ""));
    expectOnPaper(pages, paper);
    expect(await sticksOut()).toEqual([]);
    expectBlackAndWhite(pages);
  });
});

test.each([1, 6])("the pane prints %i panels a page", async (panelsPerPage) => {
  const opened = await openPage(browser);
  await opened.page.click("#tab-cuts");
  await opened.page.selectOption("#panel-cuts select", String(panelsPerPage));
  const [print] = await Promise.all([
    opened.context.waitForEvent("page"),
    opened.page.click("#panel-cuts >> text=Print cut sheet"),
  ]);
  await print.waitForSelector("#sheets .sheet");
  const pages = readPdf(await print.pdf({ preferCSSPageSize: true }));
  const cut = pages.filter((each) => solidText(each).includes("Cutsheet"));
  const figures = await print.locator("#sheets .cuts figure").count();
  expect(cut).toHaveLength(Math.ceil(figures / panelsPerPage));
  expect(opened.errors).toEqual([]);
  await opened.context.close();
});
