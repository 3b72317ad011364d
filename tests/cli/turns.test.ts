/** Commands that should only work one at a time take turns, also after some of them were ended in the middle. */
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

function taker({ turn, log }: { turn: string; log: string }, rounds = 1): Taker {
  const args = [SCRIPT, turn, log, String(rounds)];
  const child = spawn(process.execPath, args, { stdio: ["ignore", "ignore", "pipe"] });
  let err = "";
  child.stderr?.on("data", (data: Buffer) => (err += data.toString("utf8")));
  const ended = new Promise<{ code: number | null; err: string }>((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (code) => resolve({ code, err }));
  });
  return { child, ended };
}

function places(): { turn: string; log: string } {
  const folder = emptyFolder();
  return { turn: path.join(folder, "turn"), log: path.join(folder, "log") };
}

function linesOf(log: string): string[] {
  return fs.existsSync(log) ? fs.readFileSync(log, "utf8").trimEnd().split("\n") : [];
}

test("many at once never overlap, and leave nothing", async () => {
  const at = places();
  const all = Array.from({ length: 6 }, () => taker(at, 4));
  for (const { ended } of all) expect(await ended).toMatchObject({ code: 0 });
  const lines = linesOf(at.log);
  expect(lines).toHaveLength(48);
  for (let turn = 0; turn < lines.length; turn += 2) {
    expect(lines[turn + 1]).toBe(lines[turn]?.replace("enter", "leave"));
  }
  expect(fs.existsSync(at.turn)).toBe(false);
});

test("one that is ended in its turn keeps nobody else from theirs", async () => {
  const at = places();
  const all = Array.from({ length: 4 }, () => taker(at, 8));
  while (linesOf(at.log).length < 4) await pause(20);
  const [doomed, ...others] = all;
  doomed?.child.kill("SIGKILL");
  for (const { ended } of others) expect(await ended).toMatchObject({ code: 0 });
  for (const { child } of others) {
    expect(linesOf(at.log).filter((line) => line === `leave ${child.pid}`)).toHaveLength(8);
  }
});

test("the turn of a running command is waited for, said, and never taken away", async () => {
  const at = places();
  fs.writeFileSync(at.turn, String(process.pid));
  const { ended } = taker(at);
  await pause(4000);
  expect(linesOf(at.log)).toEqual([]);
  expect(fs.readFileSync(at.turn, "utf8")).toBe(String(process.pid));
  fs.rmSync(at.turn);
  expect(await ended).toEqual({ code: 0, err: "waits\n" });
});

test("the turn of a command that is gone is free", async () => {
  const at = places();
  fs.writeFileSync(at.turn, String(NOBODY));
  expect(await taker(at).ended).toEqual({ code: 0, err: "" });
});
