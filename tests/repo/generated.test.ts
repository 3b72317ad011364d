/** What is generated from comments and data is what it would be generated as today. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { VERSION } from "../../src/core/version.js";
import { generatedFiles } from "../../src/tools/build-docs.js";
import { ROOT, filesUnder, textOf } from "./files.js";

// reads every core comment with the compiler: some seconds on a busy machine
jest.setTimeout(60_000);
const generated = generatedFiles(ROOT);

describe("generated files", () => {
  it("are up to date: run npm run docs", async () => {
    const files = await generated;
    expect(files.size).toBeGreaterThanOrEqual(4);
    const stale = [...files].filter(
      ([path, text]) => !existsSync(join(ROOT, path)) || textOf(path) !== text
    );
    expect(stale.map(([path]) => path)).toEqual([]);
  });

  it("are all there is in the folder of generated pages", async () => {
    const files = await generated;
    const pages = filesUnder("docs/functions", ".md");
    expect(pages.length).toBeGreaterThanOrEqual(45);
    expect(pages.filter((path) => !files.has(path))).toEqual([]);
  });
});

it("VERSION is the package's version", () => {
  const { version } = JSON.parse(textOf("package.json")) as { version: string };
  expect(VERSION).toBe(version);
  expect(textOf("CHANGELOG.md")).toContain(version);
});
