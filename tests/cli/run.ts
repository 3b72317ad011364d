/** Runs the project's commands as a person would, in a process of their own. */
import { spawn } from "node:child_process";
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

let compiled: Promise<Ran> | undefined;

/**
 * Runs a command of the project from its compiled file, after compiling once. That the launcher of the commands
 * compiles and starts them is what launcher.test.ts is for.
 */
export async function run(
  command: "takeoff" | "formula" | "new-house" | "compare",
  args: readonly string[] = [],
  options: Options = {}
): Promise<Ran> {
  compiled ??= runFile(LAUNCHER, ["formula", "1"]);
  const { code, err } = await compiled;
  if (code !== 0) throw new Error(`the commands could not be compiled: ${err}`);
  const file = path.join(ROOT, "build", "cli", `${command}.js`);
  const start = `import { main } from ${JSON.stringify(pathToFileURL(file).href)};
    process.chdir(${JSON.stringify(ROOT)});
    process.exitCode = await main(process.argv.slice(1));`;
  return runProgram(["--input-type=module", "-e", start, "--", ...args], options);
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
