/// <reference lib="dom" />
/** The page's side of the worker: one request, one answer; giving up ends the worker and starts a fresh one. */
import type { WorkerAnswer, WorkerRequests } from "./protocol.js";

export class Stopped extends Error {
  constructor() {
    super("stopped");
    this.name = "Stopped";
  }
}

/** A failure with words for the person, such as a file that cannot be opened. */
export class ExpectedFailure extends Error {}

interface Waiting {
  readonly resolve: (value: unknown) => void;
  readonly reject: (reason: Error) => void;
}

export class WorkerClient {
  private worker: Worker | undefined;
  private readonly waiting = new Map<number, Waiting>();
  private nextId = 1;

  constructor(private readonly script: string) {}

  get isBusy(): boolean {
    return this.waiting.size > 0;
  }

  request<Name extends keyof WorkerRequests>(
    name: Name,
    takes: WorkerRequests[Name]["takes"]
  ): Promise<WorkerRequests[Name]["gives"]> {
    const worker = (this.worker ??= this.start());
    const id = this.nextId++;
    return new Promise((resolve, reject) => {
      this.waiting.set(id, { resolve: resolve as (value: unknown) => void, reject });
      worker.postMessage({ id, name, takes });
    });
  }

  /** Ends whatever runs. The worker forgets the workbook. */
  stop(): void {
    this.worker?.terminate();
    this.worker = undefined;
    const waiting = [...this.waiting.values()];
    this.waiting.clear();
    for (const { reject } of waiting) reject(new Stopped());
  }

  private start(): Worker {
    const worker = new Worker(this.script);
    worker.onmessage = ({ data }: MessageEvent<WorkerAnswer>) => {
      const waiting = this.waiting.get(data.id);
      this.waiting.delete(data.id);
      if (!waiting) return;
      if (data.failed) {
        const { message, isExpected } = data.failed;
        waiting.reject(isExpected ? new ExpectedFailure(message) : new Error(message));
      } else waiting.resolve(data.gives);
    };
    worker.onerror = (event) => {
      const reason = new Error(event.message || "the calculation stopped unexpectedly");
      const waiting = [...this.waiting.values()];
      this.waiting.clear();
      this.worker?.terminate();
      this.worker = undefined;
      for (const { reject } of waiting) reject(reason);
    };
    return worker;
  }
}
