/** The packages the project leans on: few, named exactly, under licences anybody may use, from no named place. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { ROOT, textOf } from "./files.js";

interface Entry {
  readonly version?: string;
  readonly license?: string;
  readonly resolved?: string;
  readonly integrity?: string;
  readonly hasInstallScript?: boolean;
}

interface Manifest {
  readonly dependencies: Record<string, string>;
  readonly devDependencies?: Record<string, string>;
}

/** Every folder with packages of its own, and what its packages are for. */
const FOLDERS: Readonly<Record<string, string>> = {
  ".": "the commands; the tools for building and testing beside them",
  "src/host/web": "the grid of the local sheet",
  "src/tools/excel": "starts the spreadsheet with the add-in, on a developer's machine only",
  "src/tools/host-script":
    "the spreadsheet's own script, for the tests, and a copy where one is asked for",
};

const lists = Object.keys(FOLDERS).map((folder) => ({
  folder,
  manifest: JSON.parse(textOf(`${folder}/package.json`)) as Manifest,
  lock: JSON.parse(textOf(`${folder}/package-lock.json`)) as { packages: Record<string, Entry> },
}));
const packages = lists.flatMap(({ folder, lock }) =>
  Object.entries(lock.packages)
    .filter(([name]) => name !== "")
    .map(([name, entry]) => ({
      name: name.replace(/^.*node_modules\//, ""),
      place: `${folder}/${name}`,
      entry,
    }))
);
const main = lists[0]?.manifest as Manifest;

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
    "script of the add-in's host, under its maker's own terms in the file LICENSE.md in it: for use with that host" +
    " only. It runs in the tests; no copy is handed out unless asked for",
  "@univerjs/telemetry":
    "Apache-2.0 by the file LICENSE in it; only the shape of a service of the grid, and nothing in it sends anything",
};

/** "(MIT OR GPL-2.0)" leaves the choice, "Apache-2.0 AND MIT" does not. */
function isFree(license: string): boolean {
  return license
    .replace(/[()]/g, "")
    .split(" OR ")
    .some((choice) =>
      choice.split(" AND ").every((each) => ALLOWED.has(each) || each in EXCEPTIONS)
    );
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
  for (const { manifest, lock } of lists) {
    const named = { ...manifest.dependencies, ...manifest.devDependencies };
    for (const [name, version] of Object.entries(named)) {
      expect([name, version]).toEqual([name, expect.stringMatching(/^\d+\.\d+\.\d+$/)]);
      expect([name, lock.packages[`node_modules/${name}`]?.version]).toEqual([name, version]);
    }
  }
});

test("the main job needs five packages", () => {
  expect(Object.keys(main.dependencies)).toEqual([
    "@cj-tech-master/excelts",
    "bessel",
    "esbuild",
    "numfmt",
    "tinypool",
  ]);
});

test("the list names no place that packages come from, and every one has its checksum", () => {
  expect(packages.filter(({ entry }) => entry.resolved !== undefined)).toEqual([]);
  for (const folder of Object.keys(FOLDERS)) {
    expect(textOf(`${folder}/package-lock.json`)).not.toMatch(/registry\.|git\+|\.tgz"/);
  }
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
    "@swc/core", // looks whether its part for this system is there
    "esbuild", // looks whether its part for this system is there
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
  const named = lists.flatMap(({ manifest }) =>
    Object.keys({ ...manifest.dependencies, ...manifest.devDependencies })
  );
  // the parts of the browser grid are one package that its makers publish in pieces
  const counted = new Set(named.map((name) => (name.startsWith("@univerjs/") ? "grid" : name)));
  expect(counted.size).toBeLessThanOrEqual(28);
});
