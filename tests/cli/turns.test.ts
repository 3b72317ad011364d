/** Commands that may only run one at a time take turns, also after some of them were ended in the middle. */
import { spawn, type ChildProcess } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { emptyFolder, removeFolders, ROOT } from "./run.js";

jest.setTimeout(180_000);
afterAll(removeFolders);

const SCRIPT = path.join(ROOT, "tests", "cli", "take-turns.mjs");
/** Larger than any process number a system gives out. */
const NOBODY = 2 ** 30;

interface Taker {
  readonly child: ChildProcess;
  /** exit code and what was said to the error stream */
  readonly ended: Promise<{ code: number | null; err: string }>;
}

function taker(turns: string, log: string, rounds = 1, litter = ""): Taker {
  const args = [SCRIPT, turns, log, String(rounds), litter];
  const child = spawn(process.execPath, args, { stdio: ["ignore", "ignore", "pipe"] });
  let err = "";
  child.stderr?.on("data", (data: Buffer) => (err += data.toString("utf8")));
  const ended = new Promise<{ code: number | null; err: string }>((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (code) => resolve({ code, err }));
  });
  return { child, ended };
}

function places(): { turns: string; log: string; put: (name: string) => string } {
  const folder = emptyFolder();
  const turns = path.join(folder, "inside", "turns");
  const put = (name: string): string => {
    fs.mkdirSync(turns, { recursive: true });
    fs.writeFileSync(path.join(turns, name), "");
    return path.join(turns, name);
  };
  return { turns, log: path.join(folder, "log"), put };
}

function linesOf(log: string): string[] {
  return fs.existsSync(log) ? fs.readFileSync(log, "utf8").trimEnd().split("\n") : [];
}

/** How many turns there were, and whose turn was not over when another came. */
function overlaps(log: string): { turns: number; overlapping: number[] } {
  const overlapping: number[] = [];
  let turns = 0;
  let inside: number | undefined;
  for (const line of linesOf(log)) {
    const [what, who] = line.split(" ");
    if (what === "enter") {
      turns++;
      if (inside !== undefined) overlapping.push(inside);
      inside = Number(who);
    } else {
      if (inside !== Number(who)) overlapping.push(Number(who));
      inside = undefined;
    }
  }
  return { turns, overlapping };
}

async function until(isSo: () => boolean): Promise<void> {
  while (!isSo()) await pause(20);
}

test("many at once never overlap, whatever those that were ended have left", async () => {
  const { turns, log, put } = places();
  for (const number of [0, 1, 2, 7]) put(`${number}.${NOBODY}.left`);
  const all = Array.from({ length: 8 }, () => taker(turns, log, 12, "litter"));
  for (const { ended } of all) expect(await ended).toEqual({ code: 0, err: expect.anything() });
  expect(overlaps(log)).toEqual({ turns: 96, overlapping: [] });
  // the last one's litter is taken away by the next
  expect(await taker(turns, log).ended).toMatchObject({ code: 0 });
  expect(fs.existsSync(turns)).toBe(false);
});

test("some ended in the middle keep none of the others from their turns", async () => {
  const { turns, log } = places();
  const all = Array.from({ length: 6 }, () => taker(turns, log, 12));
  const doomed = all.splice(0, 3);
  await until(() => linesOf(log).length > 6);
  for (const { child } of doomed) child.kill("SIGKILL");
  for (const { ended } of all) expect(await ended).toMatchObject({ code: 0 });
  const killed = doomed.map(({ child }) => child.pid);
  expect(overlaps(log).overlapping.filter((pid) => !killed.includes(pid))).toEqual([]);
  for (const { child } of all) {
    const own = linesOf(log).filter((line) => line === `leave ${child.pid}`);
    expect(own).toHaveLength(12);
  }
  expect(await taker(turns, log).ended).toMatchObject({ code: 0 });
  expect(fs.existsSync(turns)).toBe(false);
});

test("a ticket of a running command is waited for, said, and never taken away", async () => {
  const { turns, log, put } = places();
  const foreign = put(`1.${process.pid}.foreign`);
  const { ended } = taker(turns, log);
  await pause(4000);
  expect(linesOf(log)).toEqual([]);
  expect(fs.existsSync(foreign)).toBe(true);
  // given back while the other looks
  fs.rmSync(foreign);
  expect(await ended).toEqual({ code: 0, err: "waits\n" });
  expect(overlaps(log)).toEqual({ turns: 1, overlapping: [] });
});

test("a command that is still drawing is waited for", async () => {
  const { turns, log, put } = places();
  const drawing = put(`0.${process.pid}.drawing`);
  const { ended } = taker(turns, log);
  await pause(1500);
  expect(linesOf(log)).toEqual([]);
  fs.rmSync(drawing);
  expect(await ended).toMatchObject({ code: 0 });
});

test("one that waits goes on when a person deletes the folder", async () => {
  const { turns, log, put } = places();
  put(`1.${process.pid}.foreign`);
  const all = [taker(turns, log, 3), taker(turns, log, 3)];
  await until(() => fs.readdirSync(turns).length === 3);
  fs.rmSync(turns, { recursive: true });
  for (const { ended } of all) expect(await ended).toMatchObject({ code: 0 });
  expect(overlaps(log)).toEqual({ turns: 6, overlapping: [] });
});

test("a file that is no ticket is left alone", async () => {
  const { turns, log, put } = places();
  const other = put("notes.txt");
  expect(await taker(turns, log).ended).toMatchObject({ code: 0 });
  expect(fs.existsSync(other)).toBe(true);
});
