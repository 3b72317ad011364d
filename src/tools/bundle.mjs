/** Builds what is handed out, into dist/. Needs the compiled sources in build/. */
import fs from "node:fs";
import path from "node:path";
import { targets } from "../../webpack.config.js";
import { LOCAL_BASE, buildAddin } from "./build-addin.mjs";
import { bundle, tellSize } from "./bundle-tools.mjs";
import { DIST, ROOT } from "./webpack/common.mjs";
import { SCRIPT_FILE } from "./webpack/script-host.mjs";

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

/** The package: core as modules with types, the command, and the threads it starts for many houses. */
async function buildLibrary() {
  const target = path.join(DIST, "library");
  fs.rmSync(target, { recursive: true, force: true });
  await bundle(targets.library());
  copyCore(target);
  fs.cpSync(path.join(ROOT, "node_modules", "tinypool", "dist"), path.join(target, "tinypool"), {
    recursive: true,
    filter: (from) => !from.endsWith(".d.ts"),
  });
  copyNotices(target, ["@cj-tech-master/excelts", "tinypool"]);
  fs.chmodSync(path.join(target, "sheathing-functions.mjs"), 0o755);
}

/** The script that is pasted into a web spreadsheet. */
async function buildScriptHost() {
  await bundle(await targets["script-host"]());
  tellSize("script for web spreadsheets", path.join(DIST, "script-host", SCRIPT_FILE));
}

const PARTS = { library: buildLibrary, "script-host": buildScriptHost, addin: buildAddin };

const USAGE = `Usage: npm run build -- [${Object.keys(PARTS).join("] [")}] [--base ADDRESS] [--host-script own|host]

  without a part, everything is built into dist/
  --base ADDRESS     where the add-in's folder will be served from, https; ${LOCAL_BASE}, if left out
  --host-script own  a copy of the spreadsheet's script beside the pane, for networks that do not reach its maker;
                     under its maker's terms, which come with it
  --host-script host that script from its maker's address, as usual
`;

function readOptions(args) {
  const options = { parts: [] };
  for (let at = 0; at < args.length; at++) {
    const arg = args[at];
    if (arg === "--base") options.base = args[++at] ?? "";
    else if (arg === "--host-script") options.script = args[++at] ?? "";
    else if (Object.hasOwn(PARTS, arg)) options.parts.push(arg);
    else return undefined;
  }
  if (options.script !== undefined && !["own", "host"].includes(options.script)) return undefined;
  return options;
}

/** Builds the parts named, or all of them. Returns the exit code. */
export async function build(args) {
  const options = readOptions(args);
  if (!options) {
    console.error(USAGE);
    return 2;
  }
  const parts = options.parts.length === 0 ? Object.keys(PARTS) : options.parts;
  try {
    for (const name of parts) await PARTS[name](options);
  } catch (error) {
    console.error(error.message);
    return 1;
  }
  return 0;
}
