/** The bundles that webpack.config.js names are the ones the commands build. */
import { execFileSync } from "node:child_process";
import path from "node:path";

const ROOT = path.resolve(__dirname, "..", "..");

interface Bundle {
  readonly name: string;
  readonly entry: Readonly<Record<string, string>> | string;
  readonly output: { readonly path: string };
}

/** The configuration as webpack reads it, in a process of its own: it is a module, the tests are not. */
function bundles(): Bundle[] {
  const ask = `import all from "./webpack.config.js";
    const kept = (await all()).map(({ name, entry, output }) => ({ name, entry, output }));
    console.log(JSON.stringify(kept));`;
  const said = execFileSync(process.execPath, ["--input-type=module", "-e", ask], { cwd: ROOT });
  return JSON.parse(said.toString()) as Bundle[];
}

test("every bundle is named once, made of sources and put into dist/", () => {
  const all = bundles();
  expect(all.map((each) => each.name)).toEqual([
    "addin",
    "library",
    "script-host",
    "local-sheet-page",
    "local-sheet-worker",
  ]);
  for (const { entry, output } of all) {
    expect(path.dirname(output.path)).toBe(path.join(ROOT, "dist"));
    const entries = typeof entry === "string" ? [entry] : Object.values(entry);
    for (const file of entries) expect(file.startsWith(path.join(ROOT, "src"))).toBe(true);
  }
});
