/** Reading input and writing output without ever writing over something a person made. */
import { createHash } from "node:crypto";
import fs from "node:fs";
import path from "node:path";

/** The folder the person stood in when the command was typed. */
export function startFolder(): string {
  return process.env.INIT_CWD ?? process.cwd();
}

export function resolveInput(file: string): string {
  return path.resolve(startFolder(), file);
}

/** A path as shown: relative to where the person stands, if it is below. */
export function shownPath(file: string): string {
  const relative = path.relative(startFolder(), file);
  return relative === "" || relative.startsWith("..") ? file : relative;
}

/** Why a file could not be read or written, in words. */
export function fileTrouble(error: unknown): string {
  switch ((error as { code?: unknown }).code) {
    case "ENOENT":
      return "there is no such file";
    case "EISDIR":
      return "it is a folder";
    case "EACCES":
    case "EPERM":
      return "it may not be opened or written here; check who may, and that no other program has it open";
    case "EROFS":
      return "the folder or disk is read-only";
    case "EBUSY":
      return "another program has it open; close it there and try again";
    case "ENOSPC":
    case "EDQUOT":
      return "the disk is full";
    case "EFBIG":
      return "it grows past what may be written here";
    case "ENAMETOOLONG":
      return "its name is too long for this disk";
    case "ENOTDIR":
    case "EEXIST":
      return "a file stands where a folder is needed";
    default:
      return error instanceof Error ? error.message : String(error);
  }
}

/** Name of the list of files this command wrote, kept beside them. */
const RECORD = ".written-by-takeoff.json";

/** What was written under a name: digests, newest first. Two, so that a run ended between two steps leaves nothing unknown. */
type WrittenRecord = { [name: string]: readonly string[] };

function recordIn(folder: string): WrittenRecord {
  const record: WrittenRecord = {};
  try {
    const held: unknown = JSON.parse(fs.readFileSync(path.join(folder, RECORD), "utf8"));
    if (typeof held !== "object" || held === null) return record;
    for (const [name, digests] of Object.entries(held)) {
      record[name] = [digests].flat().filter((each) => typeof each === "string");
    }
  } catch {
    // no record: nothing there is ours
  }
  return record;
}

/** End of the name of a file that is still being written; the number before it is the process. */
const UNFINISHED = /^\..+\.(\d+)\.takeoff-part$/;

function unfinishedName(name: string): string {
  return `.${name}.${process.pid}.takeoff-part`;
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as { code?: unknown }).code === "EPERM";
  }
}

/** Takes away what a run that was ended in the middle left half-written. */
function removeUnfinished(folder: string): void {
  let names: string[];
  try {
    names = fs.readdirSync(folder);
  } catch {
    return;
  }
  for (const name of names) {
    const pid = Number(UNFINISHED.exec(name)?.[1] ?? NaN);
    if (Number.isNaN(pid) || (pid !== process.pid && isRunning(pid))) continue;
    try {
      fs.rmSync(path.join(folder, name), { force: true });
    } catch {
      // a folder that cannot be written is said when something is written
    }
  }
}

/** The file that spreadsheet programs keep beside a workbook they have open; undefined where there is none. */
export function openElsewhere(file: string): string | undefined {
  const { dir, base } = path.parse(file);
  return [`~$${base}`, `~$${base.slice(2)}`, `.~lock.${base}#`].find((name) =>
    fs.existsSync(path.join(dir, name))
  );
}

/** Names of the files in a folder that this command wrote there and nobody changed since. */
export function ownResults(folder: string): ReadonlySet<string> {
  const isOwn = ([name, digests]: [string, readonly string[]]): boolean => {
    try {
      return digests.includes(digest(fs.readFileSync(path.join(folder, name))));
    } catch {
      return false;
    }
  };
  return new Set(Object.entries(recordIn(folder)).flatMap((each) => (isOwn(each) ? each[0] : [])));
}

/**
 * A folder this command writes into. A file is replaced only where this command wrote it and nobody changed it since;
 * otherwise, and where another program has it open, the new one gets a number, as in order-2.csv.
 */
export class OutputFolder {
  private readonly written: WrittenRecord;
  private readonly used = new Set<string>();

  constructor(readonly folder: string) {
    this.written = recordIn(folder);
    removeUnfinished(folder);
  }

  /** Writes a file and returns its full path. */
  write(name: string, content: Uint8Array | string): string {
    fs.mkdirSync(this.folder, { recursive: true });
    const free = this.freeName(name);
    const target = path.join(this.folder, free);
    const bytes = typeof content === "string" ? Buffer.from(content, "utf8") : Buffer.from(content);
    // known as ours before it bears its name: a run may be ended between any two steps
    const [before] = this.written[free] ?? [];
    const now = digest(bytes);
    this.written[free] = before === undefined || before === now ? [now] : [now, before];
    this.replace(free, bytes, () => this.keepRecord());
    this.used.add(free);
    return target;
  }

  /** Writes beside the final name and renames, so that no half-written file ever bears it. */
  private replace(name: string, bytes: Uint8Array, beforeRename = (): void => undefined): void {
    const temporary = path.join(this.folder, unfinishedName(name));
    try {
      fs.writeFileSync(temporary, bytes, { flag: "wx" });
      beforeRename();
      fs.renameSync(temporary, path.join(this.folder, name));
    } catch (error) {
      fs.rmSync(temporary, { force: true });
      throw error;
    }
  }

  /** Takes away what an earlier run wrote, nobody changed and this run did not write again; `among` are the names it may be. */
  dropOld(among?: readonly string[]): void {
    const old = Object.keys(this.written).filter(
      (name) => !this.used.has(name) && (among?.includes(name) ?? true)
    );
    for (const name of old) {
      const file = path.join(this.folder, name);
      if (this.mayReplace(name)) fs.rmSync(file, { force: true });
      delete this.written[name];
    }
    if (old.length > 0) this.keepRecord();
  }

  private keepRecord(): void {
    this.replace(RECORD, Buffer.from(`${JSON.stringify(this.written, null, 2)}\n`, "utf8"));
  }

  private freeName(name: string): string {
    const { name: stem, ext } = path.parse(name);
    for (let number = 1; ; number++) {
      const candidate = number === 1 ? name : `${stem}-${number}${ext}`;
      if (!this.used.has(candidate) && this.mayReplace(candidate)) return candidate;
    }
  }

  private mayReplace(name: string): boolean {
    const file = path.join(this.folder, name);
    const found = fs.lstatSync(file, { throwIfNoEntry: false });
    if (!found) return true;
    if (!found.isFile() || found.nlink > 1) return false;
    if (openElsewhere(file) !== undefined) return false;
    const known = this.written[name];
    return known !== undefined && known.includes(digest(fs.readFileSync(file)));
  }
}

function digest(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}
