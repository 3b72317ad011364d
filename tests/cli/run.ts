/** Runs the project's commands as a person would, in a process of their own. */
import { execFileSync, spawn } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";

export const ROOT = path.resolve(__dirname, "..", "..");
export const LAUNCHER = path.join(ROOT, "src", "cli", "run.mjs");

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export function runFile(
  file: string,
  args: readonly string[],
  options: Options = {}
): Promise<Ran> {
  return runProgram([file, ...args], options);
}

interface Options {
  readonly from?: string;
  readonly input?: string;
  /** a disk that fails, made up before the command starts; failing-writes.mjs says of what kinds there are */
  readonly disk?: { readonly folder: string; readonly code: string; readonly room?: number };
}

const FAILING_WRITES = pathToFileURL(path.join(__dirname, "failing-writes.mjs")).href;

function runProgram(args: readonly string[], options: Options): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const from = options.from ?? ROOT;
    const { disk } = options;
    const child = spawn(process.execPath, disk ? ["--import", FAILING_WRITES, ...args] : args, {
      cwd: from,
      env: {
        ...process.env,
        INIT_CWD: from,
        ...(disk ? { FAILING_WRITES: JSON.stringify(disk) } : {}),
      },
    });
    let out = "";
    let err = "";
    child.stdout.on("data", (data: Buffer) => (out += data.toString("utf8")));
    child.stderr.on("data", (data: Buffer) => (err += data.toString("utf8")));
    child.on("error", reject);
    child.on("close", (code) => resolve({ code, out, err }));
    child.stdin.end(options.input ?? "");
  });
}

/** Sources that tests start by themselves. */
const STARTED = [
  "takeoff",
  "formula",
  "new-house",
  "compare",
  "house-worker",
  "house-pool",
  "files",
];

let bundled: string | undefined;

/** A source of the commands as one module that runs: bundled as the launcher bundles them, where something changed. */
export function moduleFile(name: (typeof STARTED)[number]): string {
  if (bundled === undefined) {
    const files = JSON.stringify(STARTED.map((each) => `src/cli/${each}.ts`));
    const ask = `import { commandFile } from "./src/tools/bundle.mjs";
      process.stdout.write(await commandFile("tested", ${files}));`;
    const said = execFileSync(process.execPath, ["--input-type=module", "-e", ask], { cwd: ROOT });
    bundled = path.dirname(said.toString());
  }
  return path.join(bundled, `${name}.mjs`);
}

/** What Node runs for a command of the project, without the launcher; that is what launcher.test.ts is for. */
export function commandArguments(command: string, args: readonly string[]): string[] {
  const start = `import { main } from ${JSON.stringify(pathToFileURL(moduleFile(command)).href)};
    process.chdir(${JSON.stringify(ROOT)});
    process.exitCode = await main(process.argv.slice(1));`;
  return ["--input-type=module", "-e", start, "--", ...args];
}

/** Runs a command of the project. */
export function run(
  command: "takeoff" | "formula" | "new-house" | "compare",
  args: readonly string[] = [],
  options: Options = {}
): Promise<Ran> {
  return runProgram(commandArguments(command, args), options);
}

const folders: string[] = [];

/** An empty folder that is taken away when the tests of the file end. */
export function emptyFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "commands-"));
  folders.push(folder);
  return folder;
}

export function removeFolders(): void {
  for (const folder of folders) fs.rmSync(folder, { recursive: true, force: true });
}
