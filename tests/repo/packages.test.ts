/** The packages the project leans on: few, named exactly, under licences anybody may use, from no named place. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { ROOT, textOf } from "./files.js";

interface Entry {
  readonly version?: string;
  readonly license?: string;
  readonly resolved?: string;
  readonly integrity?: string;
  readonly dev?: boolean;
  readonly optional?: boolean;
  readonly hasInstallScript?: boolean;
}

const manifest = JSON.parse(textOf("package.json")) as Record<string, Record<string, string>>;
const lock = JSON.parse(textOf("package-lock.json")) as {
  packages: Record<string, Entry>;
};
const packages = Object.entries(lock.packages)
  .filter(([name]) => name !== "")
  .map(([name, entry]) => ({ name: name.replace(/^.*node_modules\//, ""), place: name, entry }));

const ALLOWED = new Set(["MIT", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "0BSD", "ISC"]);

/** Other licences, by package, and why they are all right. None of these is in what is handed out unless it says so. */
const EXCEPTIONS: Readonly<Record<string, string>> = {
  "BlueOak-1.0.0": "asks no more than MIT does; tools for building and testing only",
  "Python-2.0": "argparse, which reads the settings of the tests; permissive",
  "CC-BY-4.0":
    "caniuse-lite, data about browsers that a build tool reads; its source is named here",
  "MPL-2.0": "axe-core, which checks pages in the tests; used unchanged",
  Unlicense: "given to the public",
};
/** Packages that name no licence their lock entry shows, or one of words, and where it stands. */
const NAMED: Readonly<Record<string, string>> = {
  "@microsoft/office-js":
    "script and types of the add-in's host, under its maker's own terms in the file LICENSE.md in it: for use with" +
    " that host only. Its types are read, its script runs in the tests; no copy is handed out unless asked for",
  "@univerjs/telemetry":
    "Apache-2.0 by the file LICENSE in it; only the shape of a service of the grid, and nothing in it sends anything",
};

/** "(MIT OR GPL-2.0)" leaves the choice. */
function isFree(license: string): boolean {
  return license
    .replace(/[()]/g, "")
    .split(" OR ")
    .some((each) => ALLOWED.has(each) || each in EXCEPTIONS);
}

test("every package is under a licence that is allowed, or named here with the reason", () => {
  expect(packages.length).toBeGreaterThan(500);
  const others = packages.filter(
    ({ name, entry }) => !(entry.license !== undefined && isFree(entry.license)) && !(name in NAMED)
  );
  expect(others.map(({ name, entry }) => `${name}: ${entry.license}`)).toEqual([]);
});

test("no exception is left that no package needs", () => {
  const licences = new Set(packages.map(({ entry }) => entry.license));
  for (const each of Object.keys(EXCEPTIONS)) expect([...licences]).toContain(each);
  const names = new Set(packages.map(({ name }) => name));
  for (const each of Object.keys(NAMED)) expect([...names]).toContain(each);
});

test("the installed packages say the licences the list says", () => {
  let checked = 0;
  for (const { place, entry } of packages) {
    const file = join(ROOT, place, "package.json");
    if (!existsSync(file) || entry.license === undefined) continue;
    const { license } = JSON.parse(textOf(`${place}/package.json`)) as { license?: unknown };
    if (typeof license !== "string") continue;
    expect([place, license]).toEqual([place, entry.license]);
    checked++;
  }
  expect(checked).toBeGreaterThan(300);
});

test("every package is named with its exact version", () => {
  for (const kind of ["dependencies", "devDependencies", "optionalDependencies"]) {
    for (const [name, version] of Object.entries(manifest[kind] ?? {})) {
      expect([name, version]).toEqual([name, expect.stringMatching(/^\d+\.\d+\.\d+$/)]);
      expect([name, lock.packages[`node_modules/${name}`]?.version]).toEqual([name, version]);
    }
  }
});

test("who uses the library installs nothing with it", () => {
  expect(manifest.dependencies).toBeUndefined();
  expect(manifest.peerDependencies).toBeUndefined();
});

test("the list names no place that packages come from, and every one has its checksum", () => {
  const text = textOf("package-lock.json");
  expect(packages.filter(({ entry }) => entry.resolved !== undefined)).toEqual([]);
  expect(text).not.toMatch(/registry\.|git\+|\.tgz"/);
  const unchecked = packages.filter(({ entry }) => !entry.integrity?.startsWith("sha512-"));
  expect(unchecked.map(({ name }) => name)).toEqual([]);
});

test("packages that would run a script when installed are known", () => {
  const running = packages
    .filter(({ entry }) => entry.hasInstallScript === true)
    .map(({ name }) => name);
  // installed without their scripts, for nothing used here needs what these would do
  expect(running.sort()).toEqual([
    "@azure/msal-node-extensions", // nothing: "exit 0"
    "@microsoft/m365agentstoolkit-cli", // deletes another program's file from the machine's own folder of npm
    "@parcel/watcher", // compiles itself, only where asked to; it comes compiled
    "core-js-pure", // prints a request for money
    "keytar", // fetches or compiles a store of passwords, for signing in with the tool above
    "protobufjs", // warns about versions
  ]);
});

test("no package runs a script when the launcher installs them", () => {
  const installs = textOf("src/cli/run.mjs").match(/\["ci",[^\]]*\]/g) ?? [];
  expect(installs).toHaveLength(1);
  expect(installs[0]).toContain('"--ignore-scripts"');
});

test("the list of packages named by hand is short", () => {
  const named = Object.keys({ ...manifest.devDependencies, ...manifest.optionalDependencies });
  // the parts of the browser grid are one package that its makers publish in pieces
  const counted = new Set(named.map((name) => (name.startsWith("@univerjs/") ? "grid" : name)));
  expect(counted.size).toBeLessThanOrEqual(32);
});
