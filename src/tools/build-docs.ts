/** Writes everything generated from comments and data: catalog, host metadata, docs. */
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { catalogSource, namesSource, readFunctions } from "./build-catalog.js";
import { checksPage } from "./build-checks-page.js";
import { FUNCTION_PICTURES, pictures } from "./build-pictures.js";
import { wrapperComments } from "./core-comments.js";
import { functionPages } from "./build-function-pages.js";

const WRAPPERS = "src/functions/functions.ts";

/** Every generated file by its path from the top of the repo. */
export async function generatedFiles(root: string): Promise<Map<string, string>> {
  const path = join(root, WRAPPERS);
  const { metadata, catalog } = await readFunctions(path, await readFile(path, "utf8"));
  const files = new Map<string, string>([
    ["src/functions/catalog.ts", catalogSource(catalog)],
    ["src/functions/names.ts", namesSource(catalog)],
    ["src/functions/functions.json", `${JSON.stringify(metadata, null, 2)}\n`],
    ["docs/checks.md", checksPage()],
    ...pictures(),
    ...functionPages(catalog, await wrapperComments(root, WRAPPERS), FUNCTION_PICTURES),
  ]);
  return files;
}

/** Writes the files that differ and says which. */
export async function writeGenerated(root: string): Promise<string[]> {
  const changed: string[] = [];
  for (const [name, text] of await generatedFiles(root)) {
    const path = join(root, name);
    const before = await readFile(path, "utf8").catch(() => undefined);
    if (before === text) continue;
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, text);
    changed.push(name);
  }
  return changed;
}

export async function main(): Promise<number> {
  const changed = await writeGenerated(process.cwd());
  console.log(changed.length === 0 ? "nothing changed" : changed.join("\n"));
  return 0;
}
