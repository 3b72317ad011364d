/**
 * npm run bench -- workbooks FOLDER [--list] [--seconds N]
 *
 * Calculates every workbook of a folder again and compares each formula with the value the file holds, which another
 * program stored. Books run in a process of their own, so that one that hangs or takes all memory ends alone.
 * `--list` prints every cell that differs.
 */
import { fork, type ChildProcess } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { worksheetFunctions } from "../../worksheet/registry.js";
import { sheetPrefix } from "../../core/cell-address.js";
import {
  isCellError,
  openWorkbook,
  WorkbookError,
  type CellValue,
  type WorksheetFunction,
} from "../../host/engine/index.js";

/** Longest time for one book, s. */
const MOST_SECONDS = 60;
const MOST_MEMORY_MB = 2048;
/** Relative difference up to which two numbers are the same; programs sum in different orders. */
const CLOSE = 1e-9;
/** A formula that holds one of these gives another value on each machine. */
const OF_MACHINE = /\b(?:INFO|CELL)\s*\(/i;

interface Difference {
  readonly cell: string;
  readonly formula: string;
  readonly stored: CellValue;
  readonly here: CellValue;
}

interface Measured {
  readonly formulas: number;
  readonly compared: number;
  readonly equal: number;
  readonly volatile: number;
  readonly kept: number;
  readonly seconds: number;
  readonly differences: readonly Difference[];
  /** why the book was not opened */
  readonly refused?: string;
  /** what broke */
  readonly failed?: string;
}

const NOTHING: Measured = {
  formulas: 0,
  compared: 0,
  equal: 0,
  volatile: 0,
  kept: 0,
  seconds: 0,
  differences: [],
};

function isSame(stored: CellValue, here: CellValue): boolean {
  if (isCellError(stored) && isCellError(here)) return stored.error === here.error;
  if (typeof stored === "number" && typeof here === "number") {
    const away = Math.abs(stored - here);
    return away <= CLOSE * Math.max(Math.abs(stored), Math.abs(here)) || away < 1e-12;
  }
  return stored === here;
}

function measure(file: string): Measured {
  const started = process.hrtime.bigint();
  const seconds = (): number => Number(process.hrtime.bigint() - started) / 1e9;
  try {
    const book = openWorkbook(
      new Uint8Array(fs.readFileSync(file)),
      worksheetFunctions as unknown as readonly WorksheetFunction[]
    );
    const formulas = book.formulas();
    const stored = formulas.map(({ sheet, cell }) => book.cell(sheet, cell).value);
    const { keptCount } = book.recalculate();
    const changes = book.changing();
    const differences: Difference[] = [];
    let [compared, equal, changing] = [0, 0, 0];
    formulas.forEach(({ sheet, cell, formula }, index) => {
      const before = stored[index] as CellValue;
      if (before === null) return;
      const address = sheetPrefix(sheet) + cell;
      if (changes.has(address) || OF_MACHINE.test(formula.replace(/"[^"]*"/g, '""'))) {
        changing++;
        return;
      }
      compared++;
      const here = book.cell(sheet, cell).value;
      if (isSame(before, here)) equal++;
      else differences.push({ cell: address, formula, stored: before, here });
    });
    return {
      formulas: formulas.length,
      compared,
      equal,
      volatile: changing,
      kept: keptCount,
      seconds: seconds(),
      differences,
    };
  } catch (error) {
    const text = error instanceof Error ? error.message : String(error);
    const why = error instanceof WorkbookError ? { refused: text } : { failed: text };
    return { ...NOTHING, seconds: seconds(), ...why };
  }
}

/** Hands files to a process one at a time, and starts another where it ends or takes too long. */
class Runner {
  private child: ChildProcess | undefined;
  constructor(private readonly seconds: number) {}

  run(file: string): Promise<Measured> {
    const child = (this.child ??= fork(fileURLToPath(import.meta.url), ["--process"], {
      execArgv: [`--max-old-space-size=${MOST_MEMORY_MB}`],
      stdio: ["ignore", "ignore", "ignore", "ipc"],
    }));
    return new Promise((resolve) => {
      const end = (measured: Measured): void => {
        clearTimeout(timer);
        child.removeAllListeners();
        resolve(measured);
      };
      const broken = (why: string): void => {
        this.stop();
        end({ ...NOTHING, failed: why });
      };
      const timer = setTimeout(
        () => broken(`took more than ${this.seconds} s`),
        this.seconds * 1000
      );
      child.once("message", (measured) => end(measured as Measured));
      child.once("exit", () => broken("ran out of memory or broke"));
      child.send(file);
    });
  }

  stop(): void {
    this.child?.removeAllListeners();
    this.child?.kill("SIGKILL");
    this.child = undefined;
  }
}

/** The function a formula calls first; its form where it calls none. */
function functionOf(formula: string): string {
  return /([A-Z][A-Z0-9._]*)\(/i.exec(formula)?.[1]?.toUpperCase() ?? "no function";
}

function show(value: CellValue): string {
  return isCellError(value) ? value.error : JSON.stringify(value);
}

function booksIn(folder: string): string[] {
  return fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.xl(?:sx|sm|tx|tm)$/i.test(entry.name))
    .map((entry) => path.join(entry.parentPath, entry.name))
    .sort();
}

export async function main(args: readonly string[]): Promise<number> {
  const at = args.indexOf("--seconds");
  const seconds = at < 0 ? MOST_SECONDS : Number(args[at + 1]);
  const [given] = args.filter(
    (arg, index) => !arg.startsWith("--") && (at < 0 || index !== at + 1)
  );
  if (given === undefined || !(seconds > 0)) {
    process.stderr.write("Usage: npm run bench -- workbooks FOLDER [--list] [--seconds N]\n");
    // Without a name every benchmark runs; this one has nothing to run on.
    return args.length === 0 ? 0 : 2;
  }
  const folder = path.resolve(process.env.INIT_CWD ?? ".", given);
  const files = booksIn(folder);
  const runner = new Runner(seconds);
  const total = { formulas: 0, compared: 0, equal: 0, volatile: 0, kept: 0, seconds: 0 };
  const byFunction = new Map<string, number>();
  const lines: string[] = [];
  const refused: string[] = [];
  const failed: string[] = [];
  for (const file of files) {
    const name = path.relative(folder, file);
    const measured = await runner.run(file);
    for (const key of Object.keys(total) as (keyof typeof total)[]) total[key] += measured[key];
    if (measured.refused !== undefined) refused.push(`${name}: ${measured.refused}`);
    if (measured.failed !== undefined) failed.push(`${name}: ${measured.failed}`);
    for (const { cell, formula, stored, here } of measured.differences) {
      const called = functionOf(formula);
      byFunction.set(called, (byFunction.get(called) ?? 0) + 1);
      lines.push(`${name}\t${cell}\t${formula}\t${show(stored)}\t${show(here)}`);
    }
  }
  runner.stop();
  const share = total.compared === 0 ? 0 : (100 * total.equal) / total.compared;
  const different = [...byFunction].sort((a, b) => b[1] - a[1]);
  const say = (text: string): boolean => process.stdout.write(`${text}\n`);
  say(`books                ${files.length}`);
  say(`formulas             ${total.formulas}`);
  say(`  changing, left out ${total.volatile}`);
  say(`  compared           ${total.compared}`);
  say(`  equal              ${total.equal} (${share.toFixed(1)} %)`);
  say(`  kept as stored     ${total.kept}`);
  say(`books refused        ${refused.length}`);
  say(`books that broke     ${failed.length}`);
  say(`seconds              ${total.seconds.toFixed(1)}`);
  if (different.length > 0) say(`\ndifferent, by the function a formula calls first`);
  for (const [called, count] of different) say(`  ${called.padEnd(20)}${count}`);
  if (refused.length > 0) say(`\nrefused\n  ${refused.join("\n  ")}`);
  if (failed.length > 0) say(`\nbroken\n  ${failed.join("\n  ")}`);
  if (args.includes("--list") && lines.length > 0) say(`\n${lines.join("\n")}`);
  return failed.length > 0 ? 1 : 0;
}

if (process.argv[2] === "--process" && process.send) {
  process.on("message", (file) => process.send?.(measure(file as string)));
}
