/**
 * Builds what is handed out, into dist/. Needs the compiled sources in build/.
 *
 * node src/cli/run.mjs build [library] [script-host]
 */
import fs from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import webpack from "webpack";
import { DIST, ROOT } from "./webpack/common.mjs";
import library from "./webpack/library.mjs";
import scriptHost, { SCRIPT_FILE } from "./webpack/script-host.mjs";

/** Runs webpack; throws what it complains about, warnings too. */
export function bundle(config) {
  return new Promise((resolve, reject) => {
    webpack(config, (error, stats) => {
      if (error) return reject(error);
      if (stats.hasErrors() || stats.hasWarnings()) {
        return reject(new Error(stats.toString({ all: false, errors: true, warnings: true })));
      }
      resolve(stats);
    });
  });
}

function filesBelow(folder) {
  return fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.join(entry.parentPath ?? entry.path, entry.name));
}

/** Compiled core and its types, without the maps to sources that are not packed. */
function copyCore(target) {
  const from = path.join(ROOT, "build");
  const files = [
    ...["index.js", "index.d.ts"].map((name) => path.join(from, name)),
    ...filesBelow(path.join(from, "core")).filter((file) => /\.(?:js|d\.ts)$/.test(file)),
  ];
  for (const file of files) {
    const to = path.join(target, path.relative(from, file));
    fs.mkdirSync(path.dirname(to), { recursive: true });
    const text = fs.readFileSync(file, "utf8");
    fs.writeFileSync(to, text.replace(/^\/\/# sourceMappingURL=.*$/m, "").trimEnd() + "\n");
  }
}

/** The notices of packages whose code is inside a bundle. */
function copyNotices(target, packages) {
  const texts = packages.map((name) => {
    const folder = path.join(ROOT, "node_modules", name);
    const { version } = JSON.parse(fs.readFileSync(path.join(folder, "package.json"), "utf8"));
    const file = fs.readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
    if (!file) throw new Error(`${name} has no license file to hand on`);
    return `${name} ${version}\n\n${fs.readFileSync(path.join(folder, file), "utf8").trim()}\n`;
  });
  fs.writeFileSync(
    path.join(target, "third-party-notices.txt"),
    texts.join(`\n${"-".repeat(72)}\n\n`)
  );
}

/** The package: core as modules with types, and the command in one file. */
async function buildLibrary() {
  const target = path.join(DIST, "library");
  fs.rmSync(target, { recursive: true, force: true });
  await bundle(library());
  copyCore(target);
  copyNotices(target, ["@cj-tech-master/excelts"]);
  fs.chmodSync(path.join(target, "sheathing-functions.mjs"), 0o755);
}

function compiled(name) {
  return import(pathToFileURL(path.join(ROOT, "build", name)).href);
}

/** The script that is pasted into a web spreadsheet. */
async function buildScriptHost() {
  const { catalog } = await compiled("functions/catalog.js");
  const { VERSION } = await compiled("core/version.js");
  await bundle(scriptHost({ catalog, version: VERSION }));
  tellSize("script for web spreadsheets", path.join(DIST, "script-host", SCRIPT_FILE));
}

/** What people wait for when a file is fetched or pasted. */
function tellSize(what, file) {
  const bytes = fs.readFileSync(file);
  const kB = (count) => `${(count / 1000).toFixed(0)} kB`;
  const packed = gzipSync(bytes).length;
  console.log(`${what}: ${path.relative(ROOT, file)}, ${kB(bytes.length)} (${kB(packed)} packed)`);
}

const PARTS = { library: buildLibrary, "script-host": buildScriptHost };

/** Builds the parts named, or all of them. Returns the exit code. */
export async function build(args) {
  const unknown = args.filter((name) => !Object.hasOwn(PARTS, name));
  if (unknown.length > 0) {
    console.error(
      `There is no part ${unknown.join(", ")}; there are ${Object.keys(PARTS).join(", ")}.`
    );
    return 2;
  }
  for (const name of args.length === 0 ? Object.keys(PARTS) : args) await PARTS[name]();
  return 0;
}
