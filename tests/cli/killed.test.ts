/** A command ended at any moment harms nothing, and the next run cleans up after it. */
import { spawn } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { OutputFolder } from "../../src/cli/files.js";
import { cases, tallyOf, writeTallies } from "../functions/any-value.js";
import {
  ROOT,
  commandArguments,
  emptyFolder,
  moduleFile,
  removeFolders,
  run,
  runFile,
} from "./run.js";
import { SHED, folderWith } from "./shed.js";

jest.setTimeout(900_000);
afterAll(removeFolders);
afterAll(writeTallies);

/**
 * Runs a program and ends it as the system ends one that is out of memory: without a word to it. The time is counted from
 * its start, or from the first thing it says.
 */
function runKilled(
  args: readonly string[],
  from: string,
  afterMs: number,
  countedFrom: "its start" | "its first word" = "its start"
): Promise<boolean> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, args, {
      cwd: from,
      env: { ...process.env, INIT_CWD: from },
      stdio: ["ignore", "pipe", "ignore"],
    });
    let timer: NodeJS.Timeout | undefined;
    const count = (): void => {
      timer ??= setTimeout(() => child.kill("SIGKILL"), afterMs);
    };
    child.stdout.on("data", count);
    if (countedFrom === "its start") count();
    child.on("error", reject);
    child.on("exit", (_code, signal) => {
      clearTimeout(timer);
      resolve(signal === "SIGKILL");
    });
  });
}

/** Moments spread over a time, the same ones each time. */
function moments(count: number, overMs: number): number[] {
  return Array.from({ length: count }, (_, index) => (overMs * (index + 0.5)) / count);
}

const finalNames = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => fs.statSync(path.join(folder, name)).isFile())
    .filter((name) => !path.basename(name).startsWith("."));

const unfinished = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".takeoff-part"));

test("files being written are whole under their names, or not there", async () => {
  const script = path.join(ROOT, "tests", "cli", "write-many.mjs");
  const folder = emptyFolder();
  const tally = tallyOf(
    "a run ended while it writes: whole files found (answers), leftovers seen (errors)"
  );
  let killed = 0;
  const count = cases(32);
  for (const moment of moments(count, 400)) {
    // a busy machine takes longer than that to start a program
    const args = [script, moduleFile("files"), folder, "1000"];
    if (await runKilled(args, folder, moment, "its first word")) killed++;
    for (const name of finalNames(folder)) {
      const text = fs.readFileSync(path.join(folder, name), "utf8");
      expect(name).toMatch(/^file \d\.csv$/);
      expect(text.length).toBe(4000 * 65 + 4);
      expect(text.endsWith("\nend\n")).toBe(true);
      expect(new Set(text.split("\n").slice(0, 4000)).size).toBe(1);
      tally.answers++;
    }
    const left = unfinished(folder);
    // one file is being written at a time, and the next run took away what the one before left
    expect(left.length).toBeLessThanOrEqual(2);
    tally.errors += left.length;
  }
  expect(killed).toBe(count);
  // one that is left alone
  expect(await runFile(script, [moduleFile("files"), folder, "1"])).toMatchObject({
    code: 0,
    err: "",
  });
  const last = new OutputFolder(folder);
  expect(unfinished(folder)).toEqual([]);
  last.write("file 0.csv", "mine again");
  // every one was known as written by the command, so none got a number
  expect(finalNames(folder).sort()).toEqual([0, 1, 2, 3, 4, 5, 6, 7].map((n) => `file ${n}.csv`));
});

test("a takeoff ended at any moment leaves its input alone, and the next one is as if nothing had been", async () => {
  const folder = await folderWith(SHED);
  const input = fs.readFileSync(path.join(folder, "shed.xlsx"));
  const reference = emptyFolder();
  fs.copyFileSync(path.join(folder, "shed.xlsx"), path.join(reference, "shed.xlsx"));
  const started = Date.now();
  const whole = await run("takeoff", ["shed.xlsx"], { from: reference });
  const fullMs = Date.now() - started;
  expect(whole.code).toBe(0);
  const expected = path.join(reference, "takeoff");
  const found = path.join(folder, "takeoff");
  const args = commandArguments("takeoff", ["shed.xlsx"]);
  const tally = tallyOf(
    "a takeoff ended at any moment: ended (errors), done before that (answers)"
  );
  for (const moment of moments(cases(8), fullMs)) {
    if (await runKilled(args, folder, fullMs * 0.2 + moment)) tally.errors++;
    else tally.answers++;
    expect(fs.readFileSync(path.join(folder, "shed.xlsx")).equals(input)).toBe(true);
    if (!fs.existsSync(found)) continue;
    for (const name of finalNames(found)) {
      const bytes = fs.readFileSync(path.join(found, name));
      expect([name, bytes.equals(fs.readFileSync(path.join(expected, name)))]).toEqual([
        name,
        true,
      ]);
    }
  }
  const after = await run("takeoff", ["shed.xlsx"], { from: folder });
  expect(after).toMatchObject({ code: 0, err: "" });
  expect(finalNames(found).sort()).toEqual(finalNames(expected).sort());
  expect(unfinished(folder)).toEqual([]);
  expect(fs.readdirSync(folder).sort()).toEqual(["shed.xlsx", "takeoff"]);
});

test("only what is surely a leftover of ours is taken away", () => {
  const folder = emptyFolder();
  const names = [
    "notes.takeoff-part",
    ".notes.csv.part",
    ".notes.csv.12.part",
    `.other.csv.${process.ppid}.takeoff-part`,
    ".gone.csv.999999999.takeoff-part",
  ];
  for (const name of names) fs.writeFileSync(path.join(folder, name), "x");
  new OutputFolder(folder).write("order.csv", "a");
  // the last is of a process that is no more; the one before of one that runs
  expect(fs.readdirSync(folder).sort()).toEqual(
    [".written-by-takeoff.json", "order.csv", ...names.slice(0, 4)].sort()
  );
});

test("a record that is damaged, or of an earlier version, harms nothing", () => {
  const folder = emptyFolder();
  const record = path.join(folder, ".written-by-takeoff.json");
  new OutputFolder(folder).write("order.csv", "first");
  const held = JSON.parse(fs.readFileSync(record, "utf8")) as Record<string, string[]>;
  // earlier versions kept one digest a file, without a list
  fs.writeFileSync(record, JSON.stringify({ "order.csv": held["order.csv"]?.[0] }));
  expect(path.basename(new OutputFolder(folder).write("order.csv", "second"))).toBe("order.csv");
  for (const text of ["", "{", "null", "[1]", '{"order.csv":5}', '{"order.csv":{"a":1}}']) {
    fs.writeFileSync(record, text);
    fs.writeFileSync(path.join(folder, "order.csv"), "mine");
    const name = path.basename(new OutputFolder(folder).write("order.csv", "third"));
    expect(name).not.toBe("order.csv");
    expect(fs.readFileSync(path.join(folder, "order.csv"), "utf8")).toBe("mine");
  }
});
