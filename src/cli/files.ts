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
export function removeUnfinished(folder: string): void {
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

interface Placing {
  /** true where it takes the place of what bears the name; else that is left alone */
  readonly replaces?: boolean;
  /** done when the file is whole, before it bears its name */
  readonly beforeNamed?: () => void;
}

/**
 * Puts a file into a folder, whole or not at all: it is written beside its name, and named when it is whole.
 * @returns false where it may not replace and the name is taken, if only since a moment ago
 */
export function placeFile(
  folder: string,
  name: string,
  bytes: Uint8Array,
  { replaces = false, beforeNamed }: Placing = {}
): boolean {
  const temporary = path.join(folder, unfinishedName(name));
  const target = path.join(folder, name);
  try {
    fs.writeFileSync(temporary, bytes, { flag: "wx" });
    beforeNamed?.();
    if (!replaces) return giveNewName(temporary, target);
    fs.renameSync(temporary, target);
    return true;
  } finally {
    try {
      fs.rmSync(temporary, { force: true });
    } catch {
      // the next run takes it away; why the writing failed is more worth saying
    }
  }
}

/** Unlike renaming, a link never takes the place of a file that came in between. */
function giveNewName(file: string, target: string): boolean {
  try {
    fs.linkSync(file, target);
    return true;
  } catch (error) {
    if ((error as { code?: unknown }).code === "EEXIST") return false;
  }
  // disks without links: shared folders and memory sticks. A copy could be ended half-way, so it is a look and a rename
  if (fs.lstatSync(target, { throwIfNoEntry: false })) return false;
  fs.renameSync(file, target);
  return true;
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
    const bytes = typeof content === "string" ? Buffer.from(content, "utf8") : Buffer.from(content);
    const now = digest(bytes);
    const { name: stem, ext } = path.parse(name);
    for (let number = 1; ; number++) {
      const candidate = number === 1 ? name : `${stem}-${number}${ext}`;
      if (this.used.has(candidate)) continue;
      const there = this.standing(candidate);
      if (there === "not ours") continue;
      const known = this.written[candidate];
      // known as ours before it bears its name, beside what bears it now: a run may be ended between any two steps
      this.written[candidate] = there === "none" || there === now ? [now] : [now, there];
      const placing = { replaces: there !== "none", beforeNamed: () => this.keepRecord() };
      if (placeFile(this.folder, candidate, bytes, placing)) {
        this.used.add(candidate);
        return path.join(this.folder, candidate);
      }
      if (known) this.written[candidate] = known;
      else delete this.written[candidate];
    }
  }

  /** Takes away what an earlier run wrote, nobody changed and this run did not write again; `among` are the names it may be. */
  dropOld(among?: readonly string[]): void {
    const old = Object.keys(this.written).filter(
      (name) => !this.used.has(name) && (among?.includes(name) ?? true)
    );
    for (const name of old) {
      const file = path.join(this.folder, name);
      if (this.standing(name) !== "not ours") fs.rmSync(file, { force: true });
      delete this.written[name];
    }
    if (old.length > 0) this.keepRecord();
  }

  private keepRecord(): void {
    const text = `${JSON.stringify(this.written, null, 2)}\n`;
    placeFile(this.folder, RECORD, Buffer.from(text, "utf8"), { replaces: true });
  }

  /** What bears a name: nothing, a file of this command's nobody changed (its digest), or anything else. */
  private standing(name: string): string {
    const file = path.join(this.folder, name);
    const found = fs.lstatSync(file, { throwIfNoEntry: false });
    if (!found) return "none";
    if (!found.isFile() || found.nlink > 1) return "not ours";
    if (openElsewhere(file) !== undefined) return "not ours";
    const held = digest(fs.readFileSync(file));
    return this.written[name]?.includes(held) ? held : "not ours";
  }
}

function digest(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}
