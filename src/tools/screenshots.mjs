/**
 * Screenshots of the first-house guide, taken in a real browser from the local sheet with the guide's house in it.
 *
 * npm run screenshots; CHROMIUM names the browser where it is not the usual one.
 * Taken by hand before a release: what a browser draws differs from machine to machine, so nothing compares them.
 */
import { spawn } from "node:child_process";
import path from "node:path";
import process from "node:process";
import { chromium } from "playwright-core";
import { OPENING_COLUMNS, WALL_COLUMNS } from "../core/house/walls.ts";
import { BLANK_HOUSE, houseTemplate } from "../templates/house-template.ts";
import { FIRST_HOUSE } from "./build-pictures.ts";
import { buildWorkbook } from "./write-template.ts";

const SHEETS = ["Walls", "Order", "Layout"];

/** The guide's house, typed into the template. */
async function workbook() {
  const ordered = ([header, ...rows], columns) =>
    rows.map((row) => columns.map(({ name }) => row[header.indexOf(name)] ?? ""));
  const built = await buildWorkbook(
    houseTemplate({
      ...BLANK_HOUSE,
      houseName: "First house",
      settings: Object.fromEntries(FIRST_HOUSE.settings),
      walls: ordered(FIRST_HOUSE.walls, WALL_COLUMNS),
      openings: ordered(FIRST_HOUSE.openings, OPENING_COLUMNS),
      layoutWall: "South",
    })
  );
  return [...built.bytes];
}

function startSheet() {
  const args = ["src/cli/run.mjs", "start", "--port", "0", "--no-open"];
  const server = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "inherit"] });
  let said = "";
  const address = new Promise((resolve, reject) => {
    server.stdout.on("data", (text) => {
      said += text;
      const found = /http:\/\/127\.0\.0\.1:\d+\//.exec(said)?.[0];
      if (found) resolve(found);
    });
    server.once("exit", (code) => reject(new Error(`npm start ended with code ${code}`)));
  });
  return { server, address };
}

export async function main() {
  const { server, address } = startSheet();
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox"],
  });
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 720 } });
    await page.goto(await address);
    const readings = () =>
      page.evaluate(() => Number(document.querySelector("#pane")?.dataset.readings ?? 0));
    while ((await readings()) === 0) await page.waitForTimeout(200);
    await page.evaluate(
      (list) => window.localSheet.openBytes(new Uint8Array(list), "first-house"),
      await workbook()
    );
    await page.waitForTimeout(4000);
    for (const name of SHEETS) {
      await page.evaluate((wanted) => {
        const { localSheet } = window;
        const data = localSheet.test.snapshot();
        const id = data.sheetOrder.find((each) => data.sheets[each]?.name === wanted);
        localSheet.select(id, 1, 1);
      }, name);
      await page.waitForTimeout(1500);
      const file = path.join("docs", "pictures", `first-house-${name.toLowerCase()}.png`);
      await page.screenshot({ path: file });
    }
  } finally {
    await browser.close();
    server.kill("SIGTERM");
  }
  return 0;
}
