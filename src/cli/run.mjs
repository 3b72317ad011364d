/**
 * Runs one of the project's commands on a machine that may have nothing but Node: installs the packages that command
 * needs, then runs it from a bundle of the sources as they are. Everything said on the way goes to the error stream, so
 * that the output of a command can be piped.
 */
import { spawn } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import process from "node:process";
import { fileURLToPath, pathToFileURL } from "node:url";
import { inTurn, isRunning, StillBusy } from "./turns.mjs";

const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..", "..");

/** Oldest Node that runs the project; the same as in package.json. */
const OLDEST_NODE = [20, 11];

/** What can be installed: a folder with its own package.json and lock file, without or with its devDependencies. */
const MAIN = { folder: "." };
const TOOLS = { folder: ".", dev: true };
const SHEET = { folder: "src/host/web" };
const HOST_SCRIPT = { folder: "src/tools/host-script" };
const EXCEL = { folder: "src/tools/excel" };

/** The spreadsheet's own script is there where a copy of it is asked for. */
function buildNeeds(args) {
  return [TOOLS, ...(args.includes("own") ? [HOST_SCRIPT] : [])];
}

/** Every command: what it needs, and the files it is made of, its own first. */
const COMMANDS = {
  takeoff: { needs: [MAIN], files: ["src/cli/takeoff.ts", "src/cli/house-worker.ts"] },
  formula: { needs: [MAIN], files: ["src/cli/formula.ts"] },
  "new-house": { needs: [MAIN], files: ["src/cli/new-house.ts"] },
  compare: { needs: [MAIN], files: ["src/cli/compare.ts"] },
  start: { needs: [MAIN, SHEET], files: ["src/host/web/start.ts"] },
  excel: { needs: [TOOLS, EXCEL], files: ["src/tools/excel.mjs"] },
  build: { needs: buildNeeds, files: ["src/tools/build.mjs"] },
  docs: { needs: [TOOLS], files: ["src/tools/build-docs.ts"] },
  workbooks: { needs: [TOOLS], files: ["src/tools/build-workbooks.ts"] },
  bench: {
    needs: [TOOLS],
    files: [
      "src/tools/bench.ts",
      // what it starts in processes of their own
      "src/cli/takeoff.ts",
      "src/cli/house-worker.ts",
      "src/cli/formula.ts",
      "src/worksheet/registry.ts",
      "src/host/engine/index.ts",
    ],
  },
  screenshots: { needs: [TOOLS, SHEET], files: ["src/tools/screenshots.mjs"] },
  // for the tests, the linter and the type checker, which npm starts itself
  install: { needs: [TOOLS, SHEET, HOST_SCRIPT], files: [] },
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

// --- installing ------------------------------------------------------------------------------------------------------

function packagesOf(file) {
  return JSON.parse(fs.readFileSync(file, "utf8")).packages;
}

/** True where every package the lock file names is there in that version, however it got there. */
function isInstalled({ folder, dev = false }) {
  const at = path.join(ROOT, folder);
  const list = path.join(at, "node_modules", ".package-lock.json");
  // npm writes its list last: an installation that was ended in the middle has none
  if (!fs.existsSync(list)) return false;
  const listed = packagesOf(list);
  return Object.entries(packagesOf(path.join(at, "package-lock.json"))).every(
    ([name, entry]) =>
      name === "" ||
      entry.optional ||
      entry.peer ||
      (entry.dev && !dev) ||
      // the list names what was left out too
      (listed[name]?.version === entry.version && fs.existsSync(path.join(at, name)))
  );
}

/** Runs npm with its output on the error stream; resolves to its exit code. */
function npm(args, cwd) {
  const own = process.env.npm_execpath ?? "";
  const [program, ...first] = /\.[cm]?js$/.test(own) ? [process.execPath, own] : ["npm"];
  return new Promise((resolve, reject) => {
    const shell = program === "npm" && process.platform === "win32";
    const child = spawn(program, [...first, ...args], { cwd, shell, stdio: ["ignore", 2, 2] });
    child.on("error", (error) =>
      reject(
        new Failure(
          `npm could not be started (${error.code ?? error.message}). Install Node with npm and try again.`
        )
      )
    );
    child.on("exit", (code) => resolve(code ?? 1));
  });
}

/** Takes away what an installation left that was ended in the middle. */
function clearStages(at, prefix) {
  for (const name of fs.readdirSync(at)) {
    if (!name.startsWith(prefix) || isRunning(Number(name.slice(prefix.length)))) continue;
    fs.rmSync(path.join(at, name), { recursive: true, force: true });
  }
}

/** Installs beside the place and moves the outcome there in one step, so that nobody ever finds half of it. */
async function installBeside({ folder, dev = false }) {
  const at = path.join(ROOT, folder);
  const modules = path.join(at, "node_modules");
  const prefix = ".installing-";
  clearStages(at, prefix);
  const stage = path.join(at, `${prefix}${process.pid}`);
  fs.mkdirSync(stage);
  try {
    for (const name of ["package.json", "package-lock.json"]) {
      fs.copyFileSync(path.join(at, name), path.join(stage, name));
    }
    const settings = path.join(ROOT, ".npmrc");
    if (fs.existsSync(settings)) fs.copyFileSync(settings, path.join(stage, ".npmrc"));
    // no package may run a program of its own on this machine; none that is used here needs to
    const args = ["ci", "--ignore-scripts", "--no-audit", "--no-fund"];
    const code = await npm(
      [...args, dev ? "--include=dev" : "--omit=dev", "--prefix", stage],
      stage
    );
    if (code !== 0) {
      throw new Failure(
        [
          "The packages could not be installed (what npm said stands above).",
          "Check that this machine reaches the package registry and that the folder can be written, then try again;",
          "or run `npm ci --ignore-scripts` by hand to see more.",
        ].join("\n")
      );
    }
    if (fs.existsSync(modules)) fs.renameSync(modules, path.join(stage, "old"));
    fs.renameSync(path.join(stage, "node_modules"), modules);
  } finally {
    fs.rmSync(stage, { recursive: true, force: true });
  }
}

async function install(wanted) {
  if (isInstalled(wanted)) return;
  const turn = path.join(ROOT, wanted.folder, ".installing");
  const wait = () => say("Waiting for another command to finish installing ...");
  await inTurn(turn, wait, async () => {
    if (isInstalled(wanted)) return;
    say("Installing the packages this command needs (once) ...");
    await installBeside(wanted);
  });
}

// --- commands --------------------------------------------------------------------------------------------------------

async function main([name, ...args]) {
  checkNode();
  // npm runs commands in the project's folder and says here where the person stood.
  process.env.INIT_CWD ??= process.cwd();
  process.chdir(ROOT);
  if (!Object.hasOwn(COMMANDS, name ?? "")) {
    say(`Usage: node src/cli/run.mjs ${Object.keys(COMMANDS).join("|")} [arguments]`);
    return 2;
  }
  const { needs, files } = COMMANDS[name];
  for (const each of typeof needs === "function" ? needs(args) : needs) await install(each);
  if (files.length === 0) return 0;
  const { commandFile } = await import(new URL("../tools/bundle.mjs", import.meta.url).href);
  const file = await commandFile(name, files).catch((error) => {
    if (!error.errors) throw error;
    throw new Failure("The sources could not be bundled; what is wrong stands above.");
  });
  process.argv = [process.argv[0], file, ...args];
  const { main: start } = await import(pathToFileURL(file).href);
  return start(args);
}

try {
  const code = await main(process.argv.slice(2));
  if (code !== undefined) process.exitCode = code;
} catch (error) {
  if (!(error instanceof Failure || error instanceof StillBusy)) throw error;
  say(error.message);
  process.exitCode = 1;
}
