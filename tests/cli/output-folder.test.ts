/** Results are written whole or not at all, at every step that a disk can fail at, and never over a person's file. */
import fs from "node:fs";
import path from "node:path";
import { OutputFolder, placeFile } from "../../src/cli/files.js";
import { ROOT, emptyFolder, moduleFile, removeFolders, run, runFile } from "./run.js";

jest.setTimeout(120_000);
afterEach(() => jest.restoreAllMocks());
afterAll(removeFolders);

interface Attempt {
  readonly code: string;
  readonly after: number;
  readonly thrown: string | null;
  readonly found: Readonly<Record<string, string>>;
  readonly next: Readonly<Record<string, string>>;
}

const RECORD = ".written-by-takeoff.json";
const body = (name: string, round: string): string => `${`${name} ${round}\n`.repeat(200)}end\n`;

async function attempts(): Promise<{ all: Attempt[]; linkless: Attempt }> {
  const script = path.join(ROOT, "tests", "cli", "write-failing.mjs");
  const ran = await runFile(script, [moduleFile("files"), emptyFolder()]);
  expect(ran).toMatchObject({ code: 0, err: "" });
  return JSON.parse(ran.out) as { all: Attempt[]; linkless: Attempt };
}

const AFTERWARDS = {
  "order.csv": body("order.csv", "third"),
  "notes.csv": "a person's",
  "notes-2.csv": body("notes.csv", "third"),
  "new.csv": body("new.csv", "third"),
};

test("whatever step fails and why, files are whole, a person's stays, and the next run is as usual", async () => {
  const { all, linkless } = await attempts();
  for (const code of ["ENOSPC", "EROFS", "EACCES", "EFBIG", "EIO"]) {
    const tried = all.filter((each) => each.code === code);
    // three files, the record before each of them and at the end, each written, named and tidied; and one taken away
    expect(tried.length).toBe(3 * (3 + 3) + 1 + 3 + 1);
    expect(tried.at(-1)?.thrown).toBeNull();
    expect(tried.filter(({ thrown }) => thrown === code).length).toBeGreaterThan(10);
    for (const { thrown } of tried) expect([null, code]).toContain(thrown);
  }
  for (const { code, after, found, next } of [...all, linkless]) {
    const where = `${code} after ${after}`;
    for (const [name, text] of Object.entries(found)) {
      if (name.startsWith(".") || name === "notes.csv") continue;
      const plain = name.replace("-2", "");
      const whole = [body(plain, "first"), body(plain, "second")];
      expect([where, name, whole.includes(text)]).toEqual([where, name, true]);
    }
    expect([where, found["notes.csv"]]).toEqual([where, "a person's"]);
    const { [RECORD]: _record, ...rest } = next;
    expect([where, rest]).toEqual([where, AFTERWARDS]);
  }
});

test("a disk without links takes results too", async () => {
  const { linkless } = await attempts();
  expect(linkless.thrown).toBeNull();
  expect(Object.keys(linkless.found).sort()).toEqual(
    [RECORD, "order.csv", "notes.csv", "notes-2.csv", "new.csv"].sort()
  );
});

/** Somebody saves a file under the name just when ours is written, before it is named. */
function somebodySaves(target: string): void {
  const { writeFileSync } = fs;
  jest.spyOn(fs, "writeFileSync").mockImplementation((file, ...rest) => {
    writeFileSync(file, ...rest);
    if (String(file).endsWith(".takeoff-part")) writeFileSync(target, "somebody's");
  });
}
const noLinks = (): void =>
  void jest.spyOn(fs, "linkSync").mockImplementation(() => {
    throw Object.assign(new Error("no links here"), { code: "EPERM" });
  });

test.each([
  ["can", (): void => undefined],
  ["cannot", noLinks],
])("a file that comes in between is left alone, on a disk that %s link", (_kind, prepare) => {
  const folder = emptyFolder();
  prepare();
  somebodySaves(path.join(folder, "order.csv"));
  expect(path.basename(new OutputFolder(folder).write("order.csv", "ours"))).toBe("order-2.csv");
  expect(fs.readFileSync(path.join(folder, "order.csv"), "utf8")).toBe("somebody's");
  expect(fs.readFileSync(path.join(folder, "order-2.csv"), "utf8")).toBe("ours");
  expect(placeFile(folder, "order.csv", Buffer.from("ours"))).toBe(false);
  expect(fs.readdirSync(folder).sort()).toEqual([RECORD, "order-2.csv", "order.csv"]);
  jest.restoreAllMocks();
  // the next run knows its own, and does not take the other for it
  expect(path.basename(new OutputFolder(folder).write("order.csv", "ours"))).toBe("order-2.csv");
  expect(fs.readFileSync(path.join(folder, "order.csv"), "utf8")).toBe("somebody's");
});

test("ended twice before the file is named, the third run still knows its own", () => {
  const folder = emptyFolder();
  new OutputFolder(folder).write("order.csv", "first");
  for (const text of ["second", "third"]) {
    const { renameSync } = fs;
    jest.spyOn(fs, "renameSync").mockImplementation((from, to) => {
      if (String(to).endsWith("order.csv")) throw new Error("ended");
      renameSync(from, to);
    });
    expect(() => new OutputFolder(folder).write("order.csv", text)).toThrow("ended");
    jest.restoreAllMocks();
  }
  expect(path.basename(new OutputFolder(folder).write("order.csv", "fourth"))).toBe("order.csv");
  expect(fs.readFileSync(path.join(folder, "order.csv"), "utf8")).toBe("fourth");
});

test("what a broken-off new house left is taken away by the next", async () => {
  const folder = emptyFolder();
  fs.writeFileSync(path.join(folder, ".Lot 12.xlsx.999999999.takeoff-part"), "half");
  fs.writeFileSync(path.join(folder, ".Lot 12.xlsx.12.part"), "a person's");
  expect(await run("new-house", ["Lot 12"], { from: folder })).toMatchObject({ code: 0, err: "" });
  expect(fs.readdirSync(folder).sort()).toEqual([".Lot 12.xlsx.12.part", "Lot 12.xlsx"]);
});
