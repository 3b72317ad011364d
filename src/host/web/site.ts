/** Builds the files of the local sheet once and again when a source changed. */
import { createHash } from "node:crypto";
import fs from "node:fs";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { siteOf } from "./server.js";

/** The project's folder; this file runs from build/host/web. */
export const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..", "..", "..");
const SITE = path.join(ROOT, "dist", "local-sheet");
const STAMP = path.join(ROOT, "dist", ".local-sheet-built-from");
/** Where those who want to build it take turns. */
const TURNS = path.join(ROOT, "dist", ".local-sheet-turns");

/** Sources the page is made of. */
const SOURCES = ["src/core", "src/functions", "src/host", "src/pane", "src/tools/webpack"];

/** Workbooks the page offers, by the name it asks for. */
const WORKBOOKS = ["demo-house.xlsx", "house-template.xlsx"];

function sourceDigest(): string {
  const hash = createHash("sha256");
  const visit = (folder: string): void => {
    for (const entry of fs
      .readdirSync(folder, { withFileTypes: true })
      .sort((a, b) => (a.name < b.name ? -1 : 1))) {
      const file = path.join(folder, entry.name);
      if (entry.isDirectory()) visit(file);
      else hash.update(path.relative(ROOT, file)).update(fs.readFileSync(file));
    }
  };
  for (const folder of SOURCES) visit(path.join(ROOT, folder));
  hash.update(fs.readFileSync(path.join(ROOT, "package-lock.json")));
  return hash.digest("hex");
}

function readText(file: string): string | undefined {
  try {
    return fs.readFileSync(file, "utf8");
  } catch {
    return undefined;
  }
}

/** True where the files that are there were made from the sources that are there. */
export function isBuilt(): boolean {
  return fs.existsSync(path.join(SITE, "index.html")) && readText(STAMP) === sourceDigest();
}

/** A source that is run as it is. Named at run time: it is not compiled, and the page's own sources must not pull it in. */
function sourceModule(...place: string[]): Promise<unknown> {
  return import(pathToFileURL(path.join(ROOT, "src", ...place)).href);
}

async function build(say: (text: string) => void): Promise<void> {
  const wanted = sourceDigest();
  say("Building the local sheet (once; under a minute) ...");
  fs.rmSync(STAMP, { force: true });
  const { buildLocalSheet } = (await sourceModule("tools", "webpack", "local-sheet.mjs")) as {
    buildLocalSheet: () => Promise<unknown>;
  };
  fs.rmSync(SITE, { recursive: true, force: true });
  await buildLocalSheet();
  fs.writeFileSync(STAMP, wanted);
}

/**
 * The files of the site by the path a browser asks for, built where they are missing or out of date.
 * @param say told what takes long
 */
export async function preparedSite(say: (text: string) => void): Promise<Map<string, string>> {
  if (!isBuilt()) {
    const wait = (): void => say("Waiting for another npm start to finish building ...");
    const { inTurn } = (await sourceModule("cli", "turns.mjs")) as {
      inTurn: (folder: string, wait: () => void, work: () => Promise<void>) => Promise<void>;
    };
    await inTurn(TURNS, wait, async () => {
      // the one that was waited for built it
      if (!isBuilt()) await build(say);
    });
  }
  const site = siteOf(SITE);
  for (const name of WORKBOOKS) {
    const file = path.join(ROOT, "sample-workbooks", name);
    if (fs.existsSync(file)) site.set(`/${name}`, file);
  }
  return site;
}
