/**
 * npm run bench -- scale [COUNT ...] [--workers N] [--drawings]
 *
 * Takes many made-up houses off in one run, each count in a process of its own, and says how time and memory grow.
 */
import { spawn } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { HouseWorkbooks } from "./house-workbooks.js";

const COUNTS = [10, 100, 1000];
const MB = 1024 * 1024;

interface Measured {
  readonly seconds: number;
  /** processor time of all threads */
  readonly cpuSeconds: number;
  /** most memory the process held, all threads together */
  readonly peakMb: number;
  readonly code: number;
}

/** Runs the command in a process of its own, which says at its end what it took. */
const RUN = `
  const [file, folder, report, ...args] = process.argv.slice(1);
  process.env.INIT_CWD = folder;
  const { main } = await import(file);
  const started = process.hrtime.bigint();
  const code = await main(args);
  const { user, system } = process.cpuUsage();
  const seconds = Number(process.hrtime.bigint() - started) / 1e9;
  const peakMb = process.resourceUsage().maxRSS / 1024;
  const fs = await import("node:fs");
  fs.writeFileSync(report, JSON.stringify({ seconds, cpuSeconds: (user + system) / 1e6, peakMb, code }));
`;

function takeoff(folder: string, args: readonly string[]): Promise<Measured> {
  const file = new URL("takeoff.mjs", import.meta.url).href;
  const report = path.join(folder, "measured.json");
  const words = ["--input-type=module", "-e", RUN, "--", file, folder, report, ...args];
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, words, { stdio: ["ignore", "ignore", "inherit"] });
    child.on("error", reject);
    child.on("exit", () => {
      try {
        resolve(JSON.parse(fs.readFileSync(report, "utf8")) as Measured);
      } catch {
        reject(new Error("the run ended before it could say what it took"));
      }
    });
  });
}

/** Writes the houses not yet there; the first are the same for every count. */
function writeHouses(folder: string, count: number): string[] {
  fs.mkdirSync(folder, { recursive: true });
  let houses: HouseWorkbooks | undefined;
  return Array.from({ length: count }, (_, index) => {
    const file = path.join(folder, `Lot ${index + 1}.xlsx`);
    if (!fs.existsSync(file)) {
      houses ??= new HouseWorkbooks();
      fs.writeFileSync(file, houses.make(index + 1));
    }
    return file;
  });
}

function folderMb(folder: string): number {
  const entries = fs.readdirSync(folder, { recursive: true, withFileTypes: true });
  const bytes = entries
    .filter((entry) => entry.isFile())
    .reduce((sum, entry) => sum + fs.statSync(path.join(entry.parentPath, entry.name)).size, 0);
  return bytes / MB;
}

interface Options {
  readonly counts: readonly number[];
  readonly workers: string;
  readonly draw: boolean;
}

/** Undefined where something else was typed. */
function readOptions(args: readonly string[]): Options | undefined {
  const counts: number[] = [];
  let workers = String(os.availableParallelism());
  let draw = false;
  for (let at = 0; at < args.length; at++) {
    const arg = args[at] as string;
    if (arg === "--drawings") draw = true;
    else if (arg === "--workers") workers = args[++at] ?? "";
    else if (/^[1-9]\d{0,4}$/.test(arg)) counts.push(Number(arg));
    else return undefined;
  }
  if (!/^[1-9]\d?$/.test(workers)) return undefined;
  return { counts: counts.length === 0 ? COUNTS : counts, workers, draw };
}

async function measure(
  folder: string,
  count: number,
  { workers, draw }: Options
): Promise<Measured & { mb: number }> {
  // a folder for each count, so that what is named on the command line stays short
  const houses = path.join(folder, `houses-${count}`);
  fs.mkdirSync(houses);
  for (const file of writeHouses(path.join(folder, "all"), count)) {
    fs.linkSync(file, path.join(houses, path.basename(file)));
  }
  const out = path.join(folder, `out-${count}`);
  const drawn = draw ? [] : ["--no-drawings"];
  const args = [houses, "--out", out, "--workers", workers, ...drawn];
  const measured = await takeoff(folder, args);
  const mb = folderMb(out);
  fs.rmSync(out, { recursive: true });
  return { ...measured, mb };
}

export async function main(args: readonly string[]): Promise<number> {
  const options = readOptions(args);
  if (!options) {
    process.stderr.write(
      `Usage: npm run bench -- scale [COUNT ...] [--workers N] [--drawings]\n` +
        `  COUNT is a whole number of houses, 1 to 99999; got ${args.join(" ")}\n`
    );
    return 2;
  }
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "scale-"));
  let code = 0;
  process.stdout.write(
    `Made-up houses, ${options.workers} threads on ${os.availableParallelism()} processors, ` +
      `${options.draw ? "with" : "without"} drawings; ${path.basename(fileURLToPath(import.meta.url))}\n` +
      "houses  seconds  houses/s  CPU s/house  peak MB  written MB\n"
  );
  try {
    for (const count of options.counts) {
      const {
        seconds,
        cpuSeconds,
        peakMb,
        mb,
        code: ended,
      } = await measure(folder, count, options);
      code = Math.max(code, ended);
      const cells = [
        String(count).padStart(6),
        seconds.toFixed(1).padStart(7),
        (count / seconds).toFixed(2).padStart(8),
        (cpuSeconds / count).toFixed(2).padStart(11),
        peakMb.toFixed(0).padStart(7),
        mb.toFixed(1).padStart(10),
      ];
      process.stdout.write(`${cells.join("  ")}${ended === 0 ? "" : `  ended with ${ended}`}\n`);
    }
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
  return code;
}
