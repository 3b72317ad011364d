/** Work that only one command at a time may do in a folder: the others wait until it is done. */
import fs from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";

const LONGEST_WAIT_MS = 10 * 60 * 1000;
const LOOK_EVERY_MS = 200;
/** A lock without a name in it is one that another command is about to fill. */
const UNNAMED_MS = 5000;

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

/** True where the lock was left by a command that is gone. */
function isLeft(lock: string): boolean {
  const found = fs.statSync(lock, { throwIfNoEntry: false });
  if (!found) return false;
  const holder = Number(fs.readFileSync(lock, "utf8"));
  return holder > 0 ? !isRunning(holder) : Date.now() - found.mtimeMs > UNNAMED_MS;
}

/**
 * Runs work while no other command holds the lock.
 * @param wait called once where there is somebody to wait for
 */
export async function inTurn<T>(
  lock: string,
  wait: () => void,
  work: () => Promise<T>
): Promise<T> {
  fs.mkdirSync(path.dirname(lock), { recursive: true });
  const started = Date.now();
  for (let told = false; ; told = true) {
    try {
      fs.writeFileSync(lock, String(process.pid), { flag: "wx" });
      break;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
    }
    if (isLeft(lock)) {
      fs.rmSync(lock, { force: true });
      continue;
    }
    if (Date.now() - started > LONGEST_WAIT_MS) {
      throw new Error(`Another command is still building; if none is, delete ${lock}`);
    }
    if (!told) wait();
    await pause(LOOK_EVERY_MS);
  }
  const release = (): void => fs.rmSync(lock, { force: true });
  process.once("exit", release);
  try {
    return await work();
  } finally {
    process.removeListener("exit", release);
    release();
  }
}
