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
      return "it may not be opened";
    case "ENOSPC":
      return "the disk is full";
    case "ENOTDIR":
    case "EEXIST":
      return "a file stands where a folder is needed";
    default:
      return error instanceof Error ? error.message : String(error);
  }
}

/** Name of the list of files this command wrote, kept beside them. */
const RECORD = ".written-by-takeoff.json";

function recordIn(folder: string): Record<string, string> {
  try {
    const held: unknown = JSON.parse(fs.readFileSync(path.join(folder, RECORD), "utf8"));
    return typeof held === "object" && held !== null ? { ...(held as Record<string, string>) } : {};
  } catch {
    return {};
  }
}

/** Names of the files in a folder that this command wrote there. */
export function ownResults(folder: string): ReadonlySet<string> {
  return new Set(Object.keys(recordIn(folder)));
}

/**
 * A folder this command writes into. A file is replaced only where this command wrote it and nobody changed it since;
 * otherwise the new one gets a number, as in order-2.csv.
 */
export class OutputFolder {
  private readonly written: Record<string, string>;
  private readonly used = new Set<string>();

  constructor(readonly folder: string) {
    this.written = recordIn(folder);
  }

  /** Writes a file and returns its full path. */
  write(name: string, content: Uint8Array | string): string {
    fs.mkdirSync(this.folder, { recursive: true });
    const free = this.freeName(name);
    const target = path.join(this.folder, free);
    const temporary = path.join(this.folder, `.${free}.${process.pid}.part`);
    const bytes = typeof content === "string" ? Buffer.from(content, "utf8") : Buffer.from(content);
    try {
      fs.writeFileSync(temporary, bytes, { flag: "wx" });
      fs.renameSync(temporary, target);
    } catch (error) {
      fs.rmSync(temporary, { force: true });
      throw error;
    }
    this.used.add(free);
    this.written[free] = digest(bytes);
    this.keepRecord();
    return target;
  }

  /** Takes away what an earlier run wrote, nobody changed and this run did not write again. */
  dropOld(): void {
    const old = Object.keys(this.written).filter((name) => !this.used.has(name));
    for (const name of old) {
      const file = path.join(this.folder, name);
      if (this.mayReplace(name)) fs.rmSync(file, { force: true });
      delete this.written[name];
    }
    if (old.length > 0) this.keepRecord();
  }

  private keepRecord(): void {
    fs.writeFileSync(path.join(this.folder, RECORD), `${JSON.stringify(this.written, null, 2)}\n`);
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
    return this.written[name] === digest(fs.readFileSync(file));
  }
}

function digest(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}
