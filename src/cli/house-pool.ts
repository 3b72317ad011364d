/** Takes houses off in worker threads, one house in each at a time. Loaded only where there are many. */
import path from "node:path";
import { fileURLToPath } from "node:url";
import Tinypool from "tinypool";
import { troubled, type HouseResult, type HouseTask } from "./one-house.js";

/** The thread's own file lies beside this one, compiled or bundled, and ends as it does. */
function workerFile(): string {
  const here = fileURLToPath(import.meta.url);
  return path.join(path.dirname(here), `house-worker${path.extname(here)}`);
}

export interface PoolOptions {
  readonly workers: number;
  /** most memory one thread may fill with what it works on, MB */
  readonly memoryMb: number;
}

/** Threads that may fail without a house in them before the pool is given up. */
const MOST_FAILURES = 4;

/**
 * Takes houses off; a thread that runs out of memory takes only its own house with it.
 * @returns places of the tasks not done, where threads cannot be started on this machine
 */
export async function takeOffInThreads(
  tasks: readonly HouseTask[],
  { workers, memoryMb }: PoolOptions,
  done: (result: HouseResult, index: number) => void
): Promise<number[]> {
  const pool = new Tinypool({
    runtime: "worker_threads",
    filename: workerFile(),
    minThreads: workers,
    maxThreads: workers,
    // what Node was told for the command itself is not for its threads
    execArgv: [],
    resourceLimits: { maxOldGenerationSizeMb: memoryMb },
  });
  const left: number[] = [];
  let failures = 0;
  let isGivenUp = false;
  pool.on("error", () => {
    failures++;
    if (failures < MOST_FAILURES || isGivenUp) return;
    isGivenUp = true;
    void pool.destroy();
  });
  const one = async (task: HouseTask, index: number): Promise<void> => {
    let result: HouseResult;
    try {
      result = (await pool.run(task)) as HouseResult;
    } catch (error) {
      if (isGivenUp) {
        left.push(index);
        return;
      }
      result = troubled(task.file, whyLost(error, memoryMb));
    }
    done(result, index);
  };
  try {
    await Promise.all(tasks.map(one));
  } finally {
    if (!isGivenUp) await pool.destroy();
  }
  return left.sort((a, b) => a - b);
}

function whyLost(error: unknown, memoryMb: number): string {
  if ((error as { code?: unknown }).code === "ERR_WORKER_OUT_OF_MEMORY") {
    return `it takes more than ${memoryMb} MB of memory; take it off by itself`;
  }
  return `unexpected: ${error instanceof Error ? error.message : String(error)}`;
}
