/**
 * Work that one command at a time should do: the others wait for it. A file holds the number of the process whose turn it
 * is; where that process is gone, the file goes too. Two that find such a file at the same moment may both go on, so the
 * work must end in one step that does no harm when done twice; what is saved is only doing it twice.
 *
 * Nothing but Node is imported: this runs before the packages are installed.
 */
import fs from "node:fs";
import process from "node:process";
import { setTimeout as pause } from "node:timers/promises";

const LONGEST_WAIT_MS = 10 * 60 * 1000;
const LOOK_EVERY_MS = 100;
/** Shorter waits are not worth a word. */
const QUIET_MS = 2000;

/** Another command did not end in all the time one waits. */
export class StillBusy extends Error {}

export function isRunning(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // it is there and belongs to somebody else
    return error.code === "EPERM";
  }
}

/** True where the turn is ours from now on. */
function take(file) {
  try {
    fs.writeFileSync(file, String(process.pid), { flag: "wx" });
    return true;
  } catch (error) {
    if (error.code !== "EEXIST") throw error;
  }
  try {
    if (!isRunning(Number(fs.readFileSync(file, "utf8")))) fs.rmSync(file, { force: true });
  } catch (error) {
    // given back just now
    if (error.code !== "ENOENT") throw error;
  }
  return false;
}

/**
 * Runs work while no other command has its turn.
 * @template T
 * @param {string} file made for this alone; gone again afterwards
 * @param {() => void} wait called once where the wait gets long
 * @param {() => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function inTurn(file, wait, work) {
  const started = Date.now();
  let told = false;
  while (!take(file)) {
    const waited = Date.now() - started;
    if (waited > LONGEST_WAIT_MS) {
      throw new StillBusy(`Another command is still at work here; if none is, delete ${file}`);
    }
    if (!told && waited > QUIET_MS) {
      wait();
      told = true;
    }
    await pause(LOOK_EVERY_MS);
  }
  const release = () => fs.rmSync(file, { force: true });
  process.once("exit", release);
  try {
    return await work();
  } finally {
    process.removeListener("exit", release);
    release();
  }
}
