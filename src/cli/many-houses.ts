/** Takes several houses off, in this thread or in worker threads, and says how far it has come. */
import os from "node:os";
import process from "node:process";
import { shownPath } from "./files.js";
import { takeOff, troubled, type HouseResult, type HouseTask } from "./one-house.js";
import { plainText } from "./table-text.js";

/**
 * From this many houses on, threads are worth starting: each takes half a second to load, as long as a house takes;
 * measured, see docs/many-houses.md.
 */
const THREADS_FROM = 4;

/**
 * Most memory one thread may fill with what it works on, MB. A usual house takes under 200; a workbook of the largest
 * size that is opened takes more and is said to.
 */
const THREAD_MEMORY_MB = 1024;

/** Up to this many houses, each gets a line of progress; from then on every fiftieth of them. */
const MOST_LINES = 50;

/** Threads where nobody says how many: one for each processor. */
export function usualWorkers(): number {
  return os.availableParallelism();
}

/** Says on the error stream how many houses are done; a line that is written over where a person looks on. */
class Progress {
  private done = 0;
  private bad = 0;
  constructor(private readonly total: number) {}

  tell(result: HouseResult): void {
    this.done++;
    const isBad = result.trouble !== undefined || result.errors.length > 0;
    if (isBad) this.bad++;
    if (this.total === 1) return;
    const isLast = this.done === this.total;
    const bad = this.bad === 0 ? "" : `, ${this.bad} with trouble`;
    const count = `${this.done} of ${this.total} houses${bad}`;
    if (process.stderr.isTTY) {
      process.stderr.write(`\r${count}${isLast ? "\n" : " "}`);
      return;
    }
    const step = Math.ceil(this.total / MOST_LINES);
    if (!isLast && this.done % step !== 0) return;
    const name = step === 1 ? `  ${plainText(shownPath(result.file))}` : "";
    process.stderr.write(`${count}${name}\n`);
  }
}

/** A house by itself; whatever goes wrong stays with it. */
function takeOffHere(task: HouseTask): HouseResult {
  try {
    return takeOff(task);
  } catch (error) {
    return troubled(
      task.file,
      `unexpected: ${error instanceof Error ? error.message : String(error)}`
    );
  }
}

/** Takes all houses off; results come back in the order of the tasks. */
export async function takeOffAll(
  tasks: readonly HouseTask[],
  workers: number
): Promise<HouseResult[]> {
  const results: HouseResult[] = [];
  const progress = new Progress(tasks.length);
  const done = (result: HouseResult, index: number): void => {
    results[index] = result;
    progress.tell(result);
  };
  const here = (index: number): void => done(takeOffHere(tasks[index] as HouseTask), index);
  if (workers < 2 || tasks.length < THREADS_FROM) {
    tasks.forEach((_, index) => here(index));
    return results;
  }
  const { takeOffInThreads } = await import("./house-pool.js");
  const count = Math.min(workers, tasks.length);
  const left = await takeOffInThreads(tasks, { workers: count, memoryMb: THREAD_MEMORY_MB }, done);
  left.forEach(here);
  return results;
}
