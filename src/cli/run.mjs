/**
 * Runs one of the project's commands on a machine that may have nothing but Node: installs the packages if they are
 * missing or out of date, compiles what changed, then runs the command. Everything said on the way goes to the error
 * stream, so that the output of a command can be piped.
 *
 * Two commands started at once take turns at installing and compiling.
 */
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import process from "node:process";
import { fileURLToPath, pathToFileURL } from "node:url";
import { inTurn, StillBusy } from "./turns.mjs";

const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..", "..");
const BUILD = path.join(ROOT, "build");
const MODULES = path.join(ROOT, "node_modules");
const INSTALL_STAMP = path.join(MODULES, ".installed-from");
const BUILD_STAMP = path.join(BUILD, ".built-from");

/** Oldest Node that runs the project; the same as in package.json. */
const OLDEST_NODE = [20, 11];

/** Commands that run a compiled file. */
const COMPILED = {
  start: "host/web/start.js",
  takeoff: "cli/takeoff.js",
  formula: "cli/formula.js",
  "new-house": "cli/new-house.js",
  compare: "cli/compare.js",
  docs: "tools/build-docs.js",
  workbooks: "tools/build-workbooks.js",
  bench: "tools/bench.js",
};

class Failure extends Error {}

function say(text) {
  process.stderr.write(`${text}\n`);
}

function checkNode() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  const [wantedMajor, wantedMinor] = OLDEST_NODE;
  if (major > wantedMajor || (major === wantedMajor && minor >= wantedMinor)) return;
  throw new Failure(
    `This needs Node ${OLDEST_NODE.join(".")} or newer; here it is ${process.versions.node}.`
  );
}

function readText(file) {
  try {
    return fs.readFileSync(file, "utf8");
  } catch {
    return undefined;
  }
}

function digest(text) {
  return createHash("sha256").update(text).digest("hex");
}

/** Runs work that only one command at a time may do in this folder. */
function alone(work) {
  const turns = path.join(os.tmpdir(), `worksheet-functions-${digest(ROOT).slice(0, 16)}.turns`);
  const wait = () => say("Waiting for another command to finish installing or compiling ...");
  return inTurn(turns, wait, work);
}

/** Runs a program with its output on the error stream; resolves to its exit code. */
function run(command, args, options = {}) {
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, { cwd: ROOT, stdio: ["ignore", 2, 2], ...options });
    child.on("error", reject);
    child.on("exit", (code, signal) => resolve(signal ? 1 : code));
  });
}

// --- installing ------------------------------------------------------------------------------------------------------

function lockDigest() {
  const text = readText(path.join(ROOT, "package-lock.json"));
  if (text === undefined)
    throw new Failure("package-lock.json is missing; take a fresh copy of the project.");
  return digest(text);
}

/** True where the packages in node_modules are those of the lock file, however they got there. */
function packagesMatch() {
  try {
    const wanted = JSON.parse(readText(path.join(ROOT, "package-lock.json"))).packages;
    const there = JSON.parse(readText(path.join(MODULES, ".package-lock.json"))).packages;
    return Object.entries(wanted).every(
      ([name, entry]) =>
        name === "" || entry.optional || entry.peer || there[name]?.version === entry.version
    );
  } catch {
    return false;
  }
}

function isInstalled(wanted) {
  if (readText(INSTALL_STAMP) === wanted) return true;
  if (!fs.existsSync(MODULES) || !packagesMatch()) return false;
  try {
    fs.writeFileSync(INSTALL_STAMP, wanted);
  } catch {
    // A folder that cannot be written still runs what is in it.
  }
  return true;
}

async function install() {
  const wanted = lockDigest();
  if (isInstalled(wanted)) return;
  await alone(async () => {
    if (isInstalled(wanted)) return;
    say("Installing the packages this project needs (once) ...");
    const npm = process.env.npm_execpath;
    // no package may run a program of its own on this machine; none that is used here needs to
    const args = ["ci", "--ignore-scripts", "--no-audit", "--no-fund"];
    const isScript = npm !== undefined && /\.[cm]?js$/.test(npm);
    let code;
    try {
      code = isScript
        ? await run(process.execPath, [npm, ...args])
        : await run("npm", args, { shell: process.platform === "win32" });
    } catch (error) {
      throw new Failure(
        `npm could not be started (${error.code ?? error.message}). Install Node with npm and try again.`
      );
    }
    if (code !== 0) {
      throw new Failure(
        [
          "The packages could not be installed (what npm said stands above).",
          "Check that this machine reaches the package registry and that the folder can be written, then try again;",
          "or run `npm ci --ignore-scripts` by hand to see more.",
        ].join("\n")
      );
    }
    fs.writeFileSync(INSTALL_STAMP, wanted);
  });
}

// --- compiling -------------------------------------------------------------------------------------------------------

/** Every source file with what changes when it is saved; paths with forward slashes on every system. */
function sourceFiles() {
  const files = new Map();
  const visit = (folder) => {
    for (const entry of fs.readdirSync(folder, { withFileTypes: true })) {
      const file = path.join(folder, entry.name);
      if (entry.isDirectory()) visit(file);
      else if (/\.(?:ts|json)$/.test(entry.name) && !entry.name.endsWith(".d.ts")) {
        const { size, mtimeMs } = fs.statSync(file);
        const name = path.relative(path.join(ROOT, "src"), file).split(path.sep).join("/");
        files.set(name, `${size} ${mtimeMs}`);
      }
    }
  };
  visit(path.join(ROOT, "src"));
  return files;
}

/** Changes with anything but the sources that decides what the compiler writes. */
function settingsDigest() {
  const names = ["tsconfig.json", "tsconfig.build.json", "package-lock.json", "src/cli/run.mjs"];
  return digest(names.map((name) => readText(path.join(ROOT, name)) ?? "").join("\n"));
}

/** What was compiled last: the settings, and each source as it was. */
function lastBuild() {
  try {
    const { settings, files } = JSON.parse(readText(BUILD_STAMP));
    return { settings, files: new Map(Object.entries(files)) };
  } catch {
    return { settings: undefined, files: new Map() };
  }
}

function isBuilt(last, files, settings) {
  if (last.settings !== settings || last.files.size !== files.size) return false;
  return [...files].every(([name, state]) => last.files.get(name) === state);
}

/** Writes a file so that a command already running never finds half of it. */
function replaceFile(file, text) {
  fs.mkdirSync(path.dirname(file), { recursive: true });
  const fresh = `${file}.${process.pid}.new`;
  fs.writeFileSync(fresh, text);
  fs.renameSync(fresh, file);
}

function outputsOf(name) {
  const base = name.replace(/\.ts$/, "");
  return base === name ? [name] : [`${base}.js`, `${base}.js.map`, `${base}.d.ts`];
}

/** Translates one source at a time: types are checked elsewhere, and only what changed is done again. */
async function translate(names) {
  const { default: ts } = await import("typescript");
  const config = ts.readConfigFile(path.join(ROOT, "tsconfig.build.json"), ts.sys.readFile);
  const { options } = ts.parseJsonConfigFileContent(config.config, ts.sys, ROOT);
  const compilerOptions = {
    ...options,
    // Every file is a module of the kind package.json names; one file alone cannot know that.
    module: ts.ModuleKind.ES2022,
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    isolatedModules: true,
    declaration: false,
  };
  let failed = false;
  for (const name of names) {
    const source = path.join(ROOT, "src", name);
    const text = fs.readFileSync(source, "utf8");
    if (!name.endsWith(".ts")) {
      replaceFile(path.join(BUILD, name), text);
      continue;
    }
    const [script, map] = outputsOf(name);
    const done = ts.transpileModule(text, {
      fileName: source,
      compilerOptions,
      reportDiagnostics: true,
    });
    if (done.diagnostics.length > 0) {
      failed = true;
      say(
        ts.formatDiagnostics(done.diagnostics, {
          getCanonicalFileName: (each) => each,
          getCurrentDirectory: () => ROOT,
          getNewLine: () => "\n",
        })
      );
      continue;
    }
    if (done.sourceMapText) replaceFile(path.join(BUILD, map), done.sourceMapText);
    replaceFile(path.join(BUILD, script), done.outputText);
  }
  if (failed) {
    throw new Failure("The sources could not be compiled; what the compiler said stands above.");
  }
}

async function compile() {
  if (isBuilt(lastBuild(), sourceFiles(), settingsDigest())) return;
  await alone(async () => {
    const last = lastBuild();
    const files = sourceFiles();
    const settings = settingsDigest();
    if (isBuilt(last, files, settings)) return;
    // What an interrupted run would leave behind counts as not compiled.
    fs.rmSync(BUILD_STAMP, { force: true });
    const known = last.settings === settings ? last.files : new Map();
    await translate([...files.keys()].filter((name) => known.get(name) !== files.get(name)));
    for (const name of last.files.keys()) {
      if (files.has(name)) continue;
      for (const output of outputsOf(name)) fs.rmSync(path.join(BUILD, output), { force: true });
    }
    replaceFile(BUILD_STAMP, JSON.stringify({ settings, files: Object.fromEntries(files) }));
  });
}

/** Types for those who use the core as a library; the commands do without. */
async function declare() {
  const compiler = path.join(MODULES, "typescript", "bin", "tsc");
  const config = path.join(ROOT, "tsconfig.build.json");
  const args = [compiler, "-p", config, "--emitDeclarationOnly", "--outDir", BUILD];
  const code = await alone(() => run(process.execPath, args));
  if (code !== 0) {
    throw new Failure("The types could not be written; what the compiler said stands above.");
  }
}

// --- commands --------------------------------------------------------------------------------------------------------

/** Runs the tests; the last line says how many passed and failed, and how many were skipped where any were. */
async function test(args) {
  const jest = path.join(MODULES, "jest", "bin", "jest.js");
  const special = args.some((arg) =>
    /^--(?:watch|json|listTests|help|version|showConfig)/.test(arg)
  );
  const report = path.join(os.tmpdir(), `tests-${process.pid}.json`);
  const extra = special ? [] : ["--json", `--outputFile=${report}`];
  const code = await run(process.execPath, [jest, ...args, ...extra], {
    stdio: ["inherit", special ? "inherit" : 2, 2],
  });
  if (!special) {
    const text = readText(report);
    fs.rmSync(report, { force: true });
    if (text === undefined) throw new Failure("The tests did not run to the end.");
    const counts = JSON.parse(text);
    // A test file that does not start counts as one failure.
    const failed = counts.numFailedTests + counts.numRuntimeErrorTestSuites;
    const skipped = counts.numPendingTests + counts.numTodoTests;
    const tail = skipped > 0 ? `, ${skipped} skipped` : "";
    console.log(`${counts.numPassedTests} passed, ${failed} failed${tail}`);
  }
  return code;
}

async function main([command, ...args]) {
  checkNode();
  // npm runs commands in the project's folder and says here where the person stood.
  process.env.INIT_CWD ??= process.cwd();
  process.chdir(ROOT);
  const known = ["build", "excel", "test", ...Object.keys(COMPILED)];
  if (!known.includes(command)) {
    say(`Usage: node src/cli/run.mjs ${known.join("|")} [arguments]`);
    return 2;
  }
  await install();
  if (command === "test") return test(args);
  await compile();
  if (command === "excel") {
    const { excel } = await import(new URL("../tools/excel.mjs", import.meta.url).href);
    return excel();
  }
  if (command === "build") {
    await declare();
    const { build } = await import(new URL("../tools/bundle.mjs", import.meta.url).href);
    return build(args);
  }
  const file = path.join(BUILD, COMPILED[command]);
  if (!fs.existsSync(file))
    throw new Failure(`The command ${command} is not part of this version.`);
  process.argv = [process.argv[0], file, ...args];
  const { main: start } = await import(pathToFileURL(file).href);
  return typeof start === "function" ? await start(args) : process.exitCode;
}

try {
  const code = await main(process.argv.slice(2));
  if (code !== undefined) process.exitCode = code;
} catch (error) {
  if (!(error instanceof Failure || error instanceof StillBusy)) throw error;
  say(error.message);
  process.exitCode = 1;
}
