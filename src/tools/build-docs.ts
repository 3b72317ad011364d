/** Writes everything in docs that is generated from entries, comments and data. */
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { checksPage } from "./build-checks-page.js";
import { functionPages } from "./build-function-pages.js";
import { FUNCTION_PICTURES, pictures } from "./build-pictures.js";
import { coreComments } from "./core-comments.js";

/** Every generated file by its path from the top of the repo. */
export async function generatedFiles(root: string): Promise<Map<string, string>> {
  return new Map<string, string>([
    ["docs/checks.md", checksPage()],
    ...pictures(),
    ...functionPages(await coreComments(root), FUNCTION_PICTURES),
  ]);
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
