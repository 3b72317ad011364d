/** The package as handed out: packed, installed into an empty folder without a network, and used. */
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { buildSync } from "esbuild";

const ROOT = path.resolve(__dirname, "..", "..");
const LONG = 5 * 60 * 1000;

let folder: string;
/** a copy of the project, and the package made of it */
let project: string;
let packed: string;
let installed: string;

function node(args: readonly string[], cwd = folder): string {
  return execFileSync(process.execPath, args, { cwd, encoding: "utf8" });
}

/** On Windows npm is a script that only a shell starts. */
function npm(args: readonly string[], cwd = folder): string {
  return execFileSync("npm", args, {
    cwd,
    encoding: "utf8",
    shell: process.platform === "win32",
    stdio: ["ignore", "pipe", "pipe"],
  });
}

function files(below: string): string[] {
  return fs
    .readdirSync(below, { recursive: true, encoding: "utf8" })
    .filter((name) => fs.statSync(path.join(below, name)).isFile())
    .map((name) => name.split(path.sep).join("/"));
}

beforeAll(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), "packed-"));
  // packed in a copy, so that what stands in dist/ is left alone
  project = path.join(folder, "project");
  for (const name of [
    "package.json",
    "package-lock.json",
    "tsconfig.json",
    "tsconfig.library.json",
    "LICENSE",
    "sample-workbooks",
    "src",
  ]) {
    fs.cpSync(path.join(ROOT, name), path.join(project, name), {
      recursive: true,
      filter: (from) => path.basename(from) !== "node_modules",
    });
  }
  fs.symlinkSync(path.join(ROOT, "node_modules"), path.join(project, "node_modules"), "junction");
  packed = path.join(project, npm(["run", "pack"], project).trim().split("\n").pop() ?? "");

  fs.writeFileSync(path.join(folder, "package.json"), '{"private":true,"type":"module"}');
  npm(["install", "--offline", "--no-audit", packed]);
  installed = path.join(folder, "node_modules", "sheathing-functions");
}, LONG);

afterAll(() => {
  if (folder) fs.rmSync(folder, { recursive: true, force: true });
});

describe("packing", () => {
  const manifest = (): string => path.join(project, "package.json");
  const filesOf = (tarball: string): string[] =>
    execFileSync("tar", ["-tf", tarball], { encoding: "utf8" }).trim().split("\n").sort();

  test("reads the project's own manifest and writes only below dist/", () => {
    expect(fs.readFileSync(manifest(), "utf8")).toBe(
      fs.readFileSync(path.join(ROOT, "package.json"), "utf8")
    );
    expect(path.dirname(packed)).toBe(path.join(project, "dist"));
    expect(fs.readdirSync(path.join(project, "dist")).sort()).toEqual(
      ["library", path.basename(packed)].sort()
    );
  });

  test("an edit of the manifest stands and is packed, whatever a broken-off packing left", () => {
    // what an earlier way of packing, or one that was ended in the middle, could leave
    const leftovers = ["package/package.json", "package/stale.js", "package.json.kept"];
    for (const name of leftovers) {
      fs.mkdirSync(path.join(project, "dist", path.dirname(name)), { recursive: true });
      fs.writeFileSync(path.join(project, "dist", name), '{"version":"0.0.1"}');
    }
    const before = fs.readFileSync(manifest(), "utf8");
    const edited = before.replace(/"version": "[^"]+"/, '"version": "9.9.9"');
    fs.writeFileSync(manifest(), edited);
    try {
      const again = path.join(project, node(["src/tools/pack.mjs"], project).trim());
      expect(fs.readFileSync(manifest(), "utf8")).toBe(edited);
      expect(path.basename(again)).toBe("sheathing-functions-9.9.9.tgz");
      expect(filesOf(again)).toEqual(filesOf(packed));
    } finally {
      fs.writeFileSync(manifest(), before);
    }
  });

  test("the README links to nothing that the package does not carry", () => {
    const readme = fs.readFileSync(path.join(installed, "README.md"), "utf8");
    const links = [...readme.matchAll(/\]\(([^)#\s]+)/g)].map(([, target = ""]) => target);
    const named = [...readme.matchAll(/`((?:dist|docs|sample-workbooks|src)\/[^`\s]+)`/g)];
    for (const target of [...links, ...named.map(([, target = ""]) => target)]) {
      const isThere = /^https:/.test(target) || fs.existsSync(path.join(installed, target));
      expect([target, isThere]).toEqual([target, true]);
    }
    expect(readme).toContain("npx sheathing-functions takeoff");
  });

  test("the notices name every package inside, and what is inside those", () => {
    const notices = fs.readFileSync(
      path.join(installed, "dist/library/third-party-notices.txt"),
      "utf8"
    );
    for (const name of ["@cj-tech-master/excelts", "tinypool"]) {
      const at = path.join(ROOT, "node_modules", name);
      const texts = fs.readdirSync(at).filter((each) => /^(?:license|third)/i.test(each));
      expect(texts.length).toBeGreaterThan(0);
      expect(notices).toContain(name);
      for (const each of texts) {
        expect(notices).toContain(fs.readFileSync(path.join(at, each), "utf8").trim());
      }
    }
  });

  test("npm pack, which would pack the wrong manifest, says what to type and packs nothing", () => {
    expect(() => npm(["pack"], project)).toThrow(/npm run pack makes the package/);
    expect(fs.readdirSync(project).filter((name) => name.endsWith(".tgz"))).toEqual([]);
  });

  test("the manifest packed asks for no other package and runs nothing", () => {
    const held = JSON.parse(
      fs.readFileSync(path.join(installed, "package.json"), "utf8")
    ) as object;
    expect(held).toHaveProperty("exports");
    expect(Object.keys(held).filter((key) => /scripts|dependencies/i.test(key))).toEqual([]);
  });
});

describe("the installed package", () => {
  test("brings no other package with it", () => {
    const others = fs
      .readdirSync(path.join(folder, "node_modules"))
      .filter((name) => !name.startsWith("."));
    expect(others).toEqual(["sheathing-functions"]);
  });

  test("holds the library, the command, the license and the notices, and no sources or tests", () => {
    const names = files(installed);
    for (const name of [
      "dist/library/index.js",
      "dist/library/index.d.ts",
      "dist/library/sheathing-functions.mjs",
      "dist/library/house-worker.mjs",
      "dist/library/third-party-notices.txt",
      "LICENSE",
      "README.md",
    ]) {
      expect(names).toContain(name);
    }
    expect(names.filter((name) => /^(?:src|tests|build)\/|\.map$/.test(name))).toEqual([]);
  });

  test("imports by its name and answers as the worksheet does", () => {
    const code = `import { cornerOffset, parseLength } from "sheathing-functions";
      console.log(cornerOffset(1.25, parseLength("panel", "5/8")));`;
    // 1-1/4 + 5/8, at a right angle
    expect(node(["--input-type=module", "--eval", code]).trim()).toBe("1.875");
  });

  test("throws a CalcError that says what is wrong", () => {
    const code = `import { isCalcError, nailLength } from "sheathing-functions";
      try { nailLength(-1); } catch (error) { console.log(isCalcError(error), error.code, error.message); }`;
    expect(node(["--input-type=module", "--eval", code])).toMatch(
      /^true out-of-range thickness must be more than 0 in; got -1/
    );
  });

  test("its types hold, and refuse text for a number", () => {
    const source = path.join(folder, "typed.ts");
    fs.writeFileSync(
      source,
      `import { cornerOffset, type WallEnd } from "sheathing-functions";
       export const offset: number = cornerOffset(1.25, 0.625);
       export const end: WallEnd = "past";
       // @ts-expect-error text is not a length
       cornerOffset("1", 2);\n`
    );
    const compiler = path.join(ROOT, "node_modules/typescript/bin/tsc");
    const options = "--noEmit --strict --module nodenext --target es2022".split(" ");
    expect(node([compiler, ...options, source])).toBe("");
  });

  test(
    "a bundler drops all that is not used",
    () => {
      const entry = path.join(folder, "entry.mjs");
      fs.writeFileSync(
        entry,
        'import { cornerOffset } from "sheathing-functions"; globalThis.offset = cornerOffset(1, 2);'
      );
      const output = path.join(folder, "bundled.js");
      buildSync({
        entryPoints: [entry],
        bundle: true,
        minify: true,
        format: "esm",
        outfile: output,
      });
      // the whole core is some 300 kB; one small function and its checks is a hundredth of it
      expect(fs.statSync(output).size).toBeLessThan(5000);
    },
    LONG
  );

  const bin = (): string => path.join(installed, "dist/library/sheathing-functions.mjs");

  test("its command evaluates a formula", () => {
    expect(node([bin(), "formula", '=SHEATH.INCHES("24\'-6 1/2""")']).trim()).toBe("294.5");
  });

  test("its command says how it is used, and fails on a command it does not have", () => {
    expect(node([bin(), "--help"])).toMatch(/^Usage: npx sheathing-functions takeoff/);
    expect(() =>
      execFileSync(process.execPath, [bin(), "toString"], { cwd: folder, stdio: "pipe" })
    ).toThrow(/Usage/);
  });

  test("its command takes off a workbook named from where the person stands", () => {
    fs.mkdirSync(path.join(folder, "work"), { recursive: true });
    fs.copyFileSync(
      path.join(ROOT, "sample-workbooks/demo-house.xlsx"),
      path.join(folder, "work", "my-house.xlsx")
    );
    const out = node([bin(), "takeoff", "my-house.xlsx"], path.join(folder, "work"));
    expect(out).toContain("Order");
    const written = files(path.join(folder, "work", "takeoff"));
    expect(written).toContain("order.csv");
    expect(written).toContain("my-house.xlsx");
  });

  test("its command takes many houses off in threads, starts a house and compares two", () => {
    const work = path.join(folder, "many");
    fs.mkdirSync(path.join(work, "houses"), { recursive: true });
    for (const number of [1, 2, 3, 4]) {
      fs.copyFileSync(
        path.join(ROOT, "sample-workbooks/demo-house.xlsx"),
        path.join(work, "houses", `Lot ${number}.xlsx`)
      );
    }
    const args = ["takeoff", "houses", "--no-drawings", "--workers", "2"];
    const out = node([bin(), ...args], work);
    expect(out).toContain("Purchase for 4 houses");
    expect(files(path.join(work, "takeoff"))).toContain("Lot 4/order.csv");
    expect(node([bin(), "new-house", "Lot 5"], work)).toContain("a copy of house-template.xlsx");
    expect(node([bin(), "compare", "houses/Lot 1.xlsx", "houses/Lot 2.xlsx"], work)).toContain(
      "Nothing changed"
    );
  });

  test("the command is found by its name", () => {
    const said = execFileSync("npx", ["--offline", "sheathing-functions", "version"], {
      cwd: folder,
      encoding: "utf8",
      shell: process.platform === "win32",
    });
    expect(said.trim()).toBe(
      (JSON.parse(fs.readFileSync(path.join(ROOT, "package.json"), "utf8")) as { version: string })
        .version
    );
  });

  test("without a file its command takes off the demo house that came with it", () => {
    expect(node([bin(), "takeoff", "--out", path.join(folder, "demo")])).toContain("demo-house");
  });
});
