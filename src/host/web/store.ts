/// <reference lib="dom" />
/** Keeps work that was not saved, in the browser's own storage on this machine. */
import type { IWorkbookData } from "@univerjs/core";
import type { StructureStep } from "./protocol.js";

export interface KeptWork {
  readonly name: string;
  readonly original: Uint8Array;
  readonly data: IWorkbookData;
  readonly steps: Record<string, StructureStep[]>;
}

const DATABASE = "local-sheet";
const STORE = "work";
const KEY = "current";

function asPromise<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("the browser's storage failed"));
  });
}

async function store(mode: IDBTransactionMode): Promise<IDBObjectStore> {
  const request = indexedDB.open(DATABASE, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(STORE);
  return (await asPromise(request)).transaction(STORE, mode).objectStore(STORE);
}

export async function keepWork(work: KeptWork): Promise<void> {
  await asPromise((await store("readwrite")).put(work, KEY));
}

export async function keptWork(): Promise<KeptWork | undefined> {
  return (await asPromise((await store("readonly")).get(KEY))) as KeptWork | undefined;
}

export async function dropWork(): Promise<void> {
  await asPromise((await store("readwrite")).delete(KEY));
}
