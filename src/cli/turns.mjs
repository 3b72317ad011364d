/**
 * Work that only one command at a time may do: the others wait for their turn.
 *
 * Every command draws a ticket: a file of its own in a folder, numbered past those it finds there. It goes when no lower
 * number is left. A command takes away its own ticket and those of commands that are gone; no two tickets ever have the
 * same name, so what is taken away is never another's, whatever happened since the folder was read. A lock of one
 * name cannot promise that: between looking at it and taking it away it may have become somebody else's.
 *
 * Nothing but Node is imported: this runs before the packages are installed.
 */
import { randomUUID } from "node:crypto";
import fs from "node:fs";
import path from "node:path";
import process from "node:process";
import { setTimeout as pause } from "node:timers/promises";

const LONGEST_WAIT_MS = 10 * 60 * 1000;
const LOOK_EVERY_MS = 100;
/** Shorter waits are not worth a word. */
const QUIET_MS = 2000;

/** A ticket: its number, the process that drew it, and what tells it from every other. */
const TICKET = /^(\d+)\.(\d+)\.[\w-]+$/;
/** Stands for the number while a command reads which one is free. */
const DRAWING = 0;

/** Another command did not end in all the time one waits. */
export class StillBusy extends Error {}

function isRunning(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // it is there and belongs to somebody else
    return error.code === "EPERM";
  }
}

function remove(folder, name) {
  fs.rmSync(path.join(folder, name), { force: true });
}

/** Tickets of commands that are running; those of commands that are gone are taken away. */
function tickets(folder) {
  let names;
  try {
    names = fs.readdirSync(folder);
  } catch (error) {
    if (error.code === "ENOENT") return [];
    throw error;
  }
  return names.flatMap((name) => {
    const [, number, pid] = TICKET.exec(name) ?? [];
    if (pid === undefined) return [];
    if (isRunning(Number(pid))) return [{ name, number: Number(number) }];
    try {
      remove(folder, name);
    } catch {
      // one that may not be taken away does not count either
    }
    return [];
  });
}

/** Puts a ticket into the folder; the last command that left may just have taken the folder away. */
function put(folder, name) {
  for (;;) {
    fs.mkdirSync(folder, { recursive: true });
    try {
      fs.writeFileSync(path.join(folder, name), "", { flag: "wx" });
      return;
    } catch (error) {
      if (error.code !== "ENOENT") throw error;
    }
  }
}

/** Draws the next number. Meanwhile a ticket without one says that a low number may still appear. */
function draw(folder) {
  const own = `${process.pid}.${randomUUID()}`;
  const drawing = `${DRAWING}.${own}`;
  put(folder, drawing);
  try {
    const number = 1 + Math.max(DRAWING, ...tickets(folder).map((each) => each.number));
    const name = `${number}.${own}`;
    put(folder, name);
    return { name, number };
  } finally {
    remove(folder, drawing);
  }
}

/** "turn" where a ticket's turn has come, "lost" where somebody took the ticket away. */
function look(folder, own) {
  // One look for those who draw and a later one for the numbers: who had drawn by the first look is seen in the second,
  // and who draws after it sees this ticket and gets a higher number.
  if (tickets(folder).some((each) => each.number === DRAWING)) return "wait";
  const all = tickets(folder);
  if (!all.some((each) => each.name === own.name)) return "lost";
  const isFirst = all.every(
    ({ name, number }) =>
      number === DRAWING ||
      number > own.number ||
      // two that drew at the same moment
      (number === own.number && name >= own.name)
  );
  return isFirst ? "turn" : "wait";
}

function leave(folder, name) {
  remove(folder, name);
  try {
    fs.rmdirSync(folder);
  } catch {
    // others are waiting in it, or it is gone
  }
}

/**
 * Runs work while no other command has its turn in the folder.
 * @template T
 * @param {string} folder made for this alone; gone again when nobody waits
 * @param {() => void} wait called once where the wait gets long
 * @param {() => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function inTurn(folder, wait, work) {
  const started = Date.now();
  let told = false;
  let own = draw(folder);
  // not after a kill: then the next command finds that this one is gone
  const release = () => leave(folder, own.name);
  process.once("exit", release);
  try {
    for (;;) {
      const found = look(folder, own);
      if (found === "turn") break;
      const waited = Date.now() - started;
      if (waited > LONGEST_WAIT_MS) {
        throw new StillBusy(
          `Another command is still preparing this folder; if none is, delete ${folder}`
        );
      }
      if (found === "lost") own = draw(folder);
      if (!told && waited > QUIET_MS) {
        wait();
        told = true;
      }
      await pause(LOOK_EVERY_MS);
    }
    return await work();
  } finally {
    process.removeListener("exit", release);
    release();
  }
}
