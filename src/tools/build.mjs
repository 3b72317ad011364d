/** npm run build: what is handed out, into dist/. */
import { spawnSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import process from "node:process";
import { VERSION } from "../core/version.ts";
import { worksheetFunctions } from "../worksheet/registry.ts";
import { LOCAL_BASE, buildAddin } from "./build-addin.mjs";
import { bundle, tellSize } from "./bundle.mjs";
import { writeNotices } from "./notices.mjs";
import { stubs } from "./script-stubs.mjs";

const LIBRARY = path.join("dist", "library");
const SCRIPT = path.join("dist", "script-host", "sheathing-functions.js");
/** What the script's code is called by the functions at its end; the underscore hides it from the spreadsheet. */
const CORE = "SHEATH_CORE_";

/** The package: core as modules with types, the command, and the threads it starts for many houses. */
async function buildLibrary() {
  fs.rmSync(LIBRARY, { recursive: true, force: true });
  const { metafile } = await bundle({
    entryPoints: {
      "sheathing-functions": "src/cli/bin.ts",
      "house-worker": "src/cli/house-worker.ts",
    },
    outdir: LIBRARY,
    outExtension: { ".js": ".mjs" },
    platform: "node",
    format: "esm",
    target: "node20.11",
    splitting: true,
    minify: true,
    plugins: [
      {
        name: "tinypool",
        // the pool starts its threads from a file of its own, so it is copied beside the command as it is
        setup: ({ onResolve }) =>
          onResolve({ filter: /^tinypool$/ }, () => ({
            path: "./tinypool/index.js",
            external: true,
          })),
      },
    ],
  });
  fs.cpSync("node_modules/tinypool/dist", path.join(LIBRARY, "tinypool"), {
    recursive: true,
    filter: (from) => !from.endsWith(".d.ts"),
  });
  writeNotices(LIBRARY, metafile, ["node_modules/tinypool/dist/index.js"]);
  fs.chmodSync(path.join(LIBRARY, "sheathing-functions.mjs"), 0o755);
  const compiler = path.join("node_modules", "typescript", "bin", "tsc");
  const args = [compiler, "-p", "tsconfig.library.json", "--outDir", LIBRARY];
  if (spawnSync(process.execPath, args, { stdio: "inherit" }).status !== 0) {
    throw new Error("The library could not be compiled; what the compiler said stands above.");
  }
}

/** The one script that is pasted into a web spreadsheet: the functions' code, then one plain function for each. */
async function buildScriptHost() {
  const { outputFiles } = await bundle({
    entryPoints: ["src/script-host/index.ts"],
    outfile: SCRIPT,
    format: "iife",
    globalName: CORE,
    target: "es2019",
    minify: true,
    write: false,
  });
  const head = `/**
 * Sheathing Functions ${VERSION}: custom functions for a web spreadsheet that is scripted in JavaScript.
 * Paste the whole file into the spreadsheet's script editor and save. MIT license.
 * The functions, with their help, stand at the end; the code they call comes first.
 */
`;
  fs.mkdirSync(path.dirname(SCRIPT), { recursive: true });
  fs.writeFileSync(SCRIPT, `${head}${outputFiles[0].text}\n\n${stubs(worksheetFunctions, CORE)}\n`);
  tellSize("script for web spreadsheets", SCRIPT);
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
export async function main(args) {
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
