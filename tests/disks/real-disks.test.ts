/**
 * Real disks that are full or read-only, and a real limit on files. `npm test` tries the same promises on any machine,
 * with writes that are made to fail; this shows that what is made up there is what a system does. It fails where no
 * disk may be mounted.
 */
import { execFileSync, spawnSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { openWorkbook } from "../../src/host/engine/index.js";
import { commandArguments, emptyFolder, removeFolders, run } from "../cli/run.js";
import { SHED, folderWith } from "../cli/shed.js";

const disks: string[] = [];
function disk(options: string): string {
  const folder = emptyFolder();
  execFileSync("mount", ["-t", "tmpfs", "-o", options, "tmpfs", folder]);
  disks.push(folder);
  return folder;
}
afterAll(() => {
  disks.forEach((folder) => execFileSync("umount", [folder]));
  removeFolders();
});

test("a full disk is said, and no half-written file bears a final name", async () => {
  const folder = await folderWith(SHED);
  for (const size of ["4k", "16k", "32k"]) {
    const small = disk(`size=${size}`);
    const ran = await run("takeoff", ["shed.xlsx", "--out", small], { from: folder });
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(
      /^shed.xlsx: the results could not be written to .*: the disk is full$/m
    );
    expect(ran.out).toMatch(/^Panel +48 x 96 in +\d+ +panels/m);
    for (const name of fs.readdirSync(small)) {
      const full = path.join(small, name);
      if (name.endsWith(".xlsx")) openWorkbook(fs.readFileSync(full), worksheetFunctions);
      expect(name).not.toMatch(/\.takeoff-part$/);
    }
  }
});

test("a read-only disk is said", async () => {
  const folder = await folderWith(SHED);
  const ran = await run("takeoff", ["shed.xlsx", "--out", disk("ro")], { from: folder });
  expect(ran.code).toBe(1);
  expect(ran.err).toMatch(/could not be written to .*: the folder or disk is read-only$/m);
});

test("a limit on the size of files is said, and leaves nothing behind", async () => {
  const folder = await folderWith(SHED);
  const node = [process.execPath, ...commandArguments("takeoff", ["shed.xlsx"])];
  // 4 blocks of 1024 bytes: less than the workbook
  const ran = spawnSync("bash", ["-c", 'ulimit -f 4; exec "$@"', "bash", ...node], {
    cwd: folder,
    env: { ...process.env, INIT_CWD: folder },
    encoding: "utf8",
  });
  expect(ran.status).toBe(1);
  expect(ran.stderr).toMatch(/could not be written to takeoff: it grows past what may be written/);
  expect(fs.readdirSync(path.join(folder, "takeoff"))).toEqual([]);
});
