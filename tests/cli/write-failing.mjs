/** Writes results onto a disk that fails at every step in turn, and says what it finds each time, as JSON. */
import fs from "node:fs";
import path from "node:path";
import process from "node:process";
import { pathToFileURL } from "node:url";
import { failWrites } from "./failing-writes.mjs";

const [filesModule, top] = process.argv.slice(2);
const { OutputFolder } = await import(pathToFileURL(filesModule).href);

const body = (name, round) => `${`${name} ${round}\n`.repeat(200)}end\n`;

/** One of its own to replace, one whose name a person's file bears, a new one; and one is no longer wanted. */
function write(folder, round) {
  const output = new OutputFolder(folder);
  for (const name of ["order.csv", "notes.csv", "new.csv"]) output.write(name, body(name, round));
  output.dropOld();
}

function contents(folder) {
  return Object.fromEntries(
    fs.readdirSync(folder).map((name) => [name, fs.readFileSync(path.join(folder, name), "utf8")])
  );
}

let number = 0;
function attempt(code, after, only) {
  const folder = path.join(top, String(number++));
  const before = new OutputFolder(folder);
  before.write("order.csv", body("order.csv", "first"));
  before.write("gone.csv", body("gone.csv", "first"));
  fs.writeFileSync(path.join(folder, "notes.csv"), "a person's");
  const disk = failWrites({ folder, code, after, only });
  let thrown = null;
  try {
    write(folder, "second");
  } catch (error) {
    thrown = error.code ?? String(error);
  }
  disk.restore();
  const found = contents(folder);
  write(folder, "third");
  return { code, after, thrown, calls: disk.calls(), found, next: contents(folder) };
}

const all = [];
for (const code of ["ENOSPC", "EROFS", "EACCES", "EFBIG", "EIO"]) {
  // each step fails and everything after it, taking away included
  for (let after = 0; ; after++) {
    const made = attempt(code, after);
    all.push(made);
    if (made.thrown === null && made.calls <= after) break;
    if (after > 100) throw new Error("no end of steps");
  }
}
const linkless = attempt("EPERM", 0, ["linkSync"]);
process.stdout.write(JSON.stringify({ all, linkless }));
