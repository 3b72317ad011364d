/// <reference lib="dom" />
/**
 * Keeps the workbook of each tab in the browser's own storage on this machine, so that no work is lost with the tab.
 *
 * Every tab has a copy of its own, under a key it holds a lock on for as long as it lives. A copy whose lock nobody
 * holds was left by a tab that is gone; a new tab takes it over by taking its key.
 */
import type { IWorkbookData } from "@univerjs/core";
import type { StructureStep } from "./protocol.js";

export interface Work {
  readonly name: string;
  readonly original: Uint8Array;
  readonly data: IWorkbookData;
  readonly steps: Record<string, StructureStep[]>;
  /** as Save handed it out: it is in a file too */
  readonly isSaved: boolean;
}

/** When it was kept, milliseconds since 1970, tells which of several copies is the newest. */
type KeptWork = Work & { readonly keptAt: number };

const DATABASE = "local-sheet";
const STORE = "work";
/** Where the tab finds its key again after a reload; a tab that is duplicated takes it along. */
const TAB_KEY = "work-key";
/** The page before a reload may give its lock back a moment after the new one asks for it. */
const RELOAD_MS = 2000;

function lockName(key: string): string {
  return `local-sheet work ${key}`;
}

/** Key of this tab's copy. */
let ownKey: string | undefined;
let database: Promise<IDBDatabase> | undefined;

function asPromise<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("the browser's storage failed"));
  });
}

async function openDatabase(): Promise<IDBDatabase> {
  const request = indexedDB.open(DATABASE, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(STORE);
  try {
    const opened = await asPromise(request);
    opened.onclose = () => (database = undefined);
    return opened;
  } catch (error) {
    database = undefined;
    throw error;
  }
}

/** One connection for all: on it the browser does what is asked in the order it is asked. */
async function store(mode: IDBTransactionMode): Promise<IDBObjectStore> {
  const opened = await (database ??= openDatabase());
  return opened.transaction(STORE, mode).objectStore(STORE);
}

/**
 * Holds a key until the tab is gone.
 * @param patienceMs how long to wait for another tab that holds it
 * @returns false where another tab holds it
 */
function hold(key: string, patienceMs: number): Promise<boolean> {
  const options =
    patienceMs > 0 ? { signal: AbortSignal.timeout(patienceMs) } : { ifAvailable: true };
  return new Promise((resolve, reject) => {
    const held = navigator.locks.request(lockName(key), options, (lock) => {
      resolve(lock !== null);
      return lock ? new Promise<void>(() => undefined) : undefined;
    });
    held.catch((error: DOMException) => {
      if (error.name === "TimeoutError" || error.name === "AbortError") resolve(false);
      else reject(error);
    });
  });
}

interface LeftCopy {
  readonly key: string;
  readonly work: KeptWork;
}

/** Copies that no living tab holds, the newest first. */
async function leftCopies(): Promise<LeftCopy[]> {
  const objects = await store("readonly");
  const [keys, works] = await Promise.all([
    asPromise(objects.getAllKeys()) as Promise<string[]>,
    asPromise(objects.getAll()) as Promise<KeptWork[]>,
  ]);
  const { held = [] } = await navigator.locks.query();
  const living = new Set(held.map((lock) => lock.name));
  return keys
    .map((key, index) => ({ key, work: works[index] as KeptWork }))
    .filter(({ key }) => !living.has(lockName(key)))
    .sort((a, b) => b.work.keptAt - a.work.keptAt);
}

/** Takes away a copy that is in a file too, unless a tab has come back for it. */
async function dropSaved(key: string): Promise<void> {
  await navigator.locks.request(lockName(key), { ifAvailable: true }, async (lock) => {
    if (lock) await asPromise((await store("readwrite")).delete(key));
  });
}

/** The key this tab had before a reload; else one that a tab which is gone has left; else a new one. */
async function takeKey(): Promise<string> {
  const before = sessionStorage.getItem(TAB_KEY);
  if (before !== null && (await hold(before, RELOAD_MS))) return before;
  for (const { key, work } of await leftCopies()) {
    if (work.isSaved) await dropSaved(key);
    else if (await hold(key, 0)) return key;
  }
  const fresh = crypto.randomUUID();
  await hold(fresh, 0);
  return fresh;
}

/**
 * The work this tab goes on with; asked once, when the page starts.
 * @returns the work, where there is any, and how many tabs that are gone have left unsaved work besides
 */
export async function takeWork(): Promise<{ work: Work | undefined; others: number }> {
  ownKey = await takeKey();
  sessionStorage.setItem(TAB_KEY, ownKey);
  const work = (await asPromise((await store("readonly")).get(ownKey))) as KeptWork | undefined;
  const others = (await leftCopies()).filter((each) => !each.work.isSaved).length;
  return { work, others };
}

function tabKey(): string {
  if (ownKey === undefined) throw new Error("the browser's storage cannot be used");
  return ownKey;
}

/** Keeps this tab's work in place of what was kept of it. */
export async function keepWork(work: Work): Promise<void> {
  const kept: KeptWork = { ...work, keptAt: Date.now() };
  const objects = await store("readwrite");
  const put = asPromise(objects.put(kept, tabKey()));
  // without waiting for an answer, which a page that is being left does not live to see
  objects.transaction.commit();
  await put;
}

/** Forgets this tab's work. */
export async function dropWork(): Promise<void> {
  await asPromise((await store("readwrite")).delete(tabKey()));
}
