/** The launcher installs and bundles what is missing before it starts a command. */
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { emptyFolder, removeFolders, ROOT, runFile } from "./run.js";

jest.setTimeout(180_000);
afterAll(removeFolders);

interface Project {
  readonly folder: string;
  readonly launcher: string;
  readonly write: (name: string, text: string) => void;
}

/** A small project with the same launcher and packages. */
function project(): Project {
  const folder = emptyFolder();
  const write = (name: string, text: string): void => {
    fs.mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    fs.writeFileSync(path.join(folder, name), text);
  };
  for (const name of [
    "package.json",
    "package-lock.json",
    "src/cli/run.mjs",
    "src/cli/turns.mjs",
    "src/tools/bundle.mjs",
  ]) {
    write(name, fs.readFileSync(path.join(ROOT, name), "utf8"));
  }
  write("src/cli/words.ts", 'export const word: string = "first";\n');
  write(
    "src/cli/formula.ts",
    'import { word } from "./words.js";\nexport function main(args: string[]): number {\n  console.log(word, ...args);\n  return args.length;\n}\n'
  );
  fs.symlinkSync(path.join(ROOT, "node_modules"), path.join(folder, "node_modules"), "junction");
  return { folder, launcher: path.join(folder, "src", "cli", "run.mjs"), write };
}

/** The same with packages that are made here and not installed yet: one for every command, one for the tools. */
function uninstalled(): Project {
  const made = project();
  const { folder, write } = made;
  fs.unlinkSync(path.join(folder, "node_modules"));
  const script = `require('fs').writeFileSync(${JSON.stringify(path.join(folder, "it-ran"))}, '')`;
  write("noisy/mark.cjs", script);
  for (const name of ["first", "tool"]) {
    const scripts = { postinstall: `node ${path.join(folder, "noisy", "mark.cjs")}` };
    write(`noisy/${name}/package.json`, JSON.stringify({ name, version: "1.0.0", scripts }));
    execFileSync("npm", ["pack", `./noisy/${name}`, "--silent"], {
      cwd: folder,
      shell: process.platform === "win32",
    });
  }
  // npm installs in a folder beside node_modules, so the packages lie one folder up
  const entry = (name: string, dev = false): object => ({
    version: "1.0.0",
    resolved: `file:../${name}-1.0.0.tgz`,
    hasInstallScript: true,
    ...(dev ? { dev } : {}),
  });
  const named = {
    name: "some",
    type: "module",
    dependencies: { first: "file:../first-1.0.0.tgz" },
    devDependencies: { tool: "file:../tool-1.0.0.tgz" },
  };
  write("package.json", JSON.stringify(named));
  const packagesListed = {
    "": named,
    "node_modules/first": entry("first"),
    "node_modules/tool": entry("tool", true),
  };
  write(
    "package-lock.json",
    JSON.stringify({ name: "some", lockfileVersion: 3, packages: packagesListed })
  );
  return made;
}

describe("the launcher", () => {
  test("bundles, runs, and hands on arguments and the exit code", async () => {
    const { folder, launcher } = project();
    const ran = await runFile(launcher, ["formula", "a", "b c"], { from: folder });
    expect(ran).toMatchObject({ code: 2, out: "first a b c\n", err: "" });
  });

  test("bundles again when a source changed, and only then", async () => {
    const { folder, launcher, write } = project();
    const builds = (): string[] => fs.readdirSync(path.join(folder, "build")).sort();
    await runFile(launcher, ["formula"], { from: folder });
    const [first] = builds();
    await runFile(launcher, ["formula"], { from: folder });
    expect(builds()).toEqual([first]);
    for (const word of ["second", "third", "fourth"]) {
      write("src/cli/words.ts", `export const word = "${word} word";\n`);
      expect((await runFile(launcher, ["formula"], { from: folder })).out).toBe(`${word} word\n`);
    }
    // bundles do not pile up
    expect(builds()).toHaveLength(2);
  });

  test("several commands at once all find a whole bundle", async () => {
    const { folder, launcher } = project();
    const all = await Promise.all(
      [1, 2, 3, 4].map((number) => runFile(launcher, ["formula", String(number)], { from: folder }))
    );
    expect(all.map((ran) => ran.out)).toEqual(["first 1\n", "first 2\n", "first 3\n", "first 4\n"]);
    expect(fs.readdirSync(path.join(folder, "build"))).toHaveLength(1);
  });

  test("a mistake in a source is said and nothing is run", async () => {
    const { folder, launcher, write } = project();
    write("src/cli/words.ts", "export const word = ;\n");
    const ran = await runFile(launcher, ["formula"], { from: folder });
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toMatch(/words\.ts:1:20/);
    expect(ran.err).toContain("could not be bundled");
    write("src/cli/words.ts", 'export const word = "mended";\n');
    expect((await runFile(launcher, ["formula"], { from: folder })).out).toBe("mended\n");
  });

  test("says what it can do when asked for something else", async () => {
    const { folder, launcher } = project();
    const ran = await runFile(launcher, ["dance"], { from: folder });
    expect(ran).toMatchObject({ code: 2, out: "" });
    expect(ran.err).toMatch(/^Usage: node src\/cli\/run.mjs /);
  });

  test("installing that fails says what to do, and leaves nothing", async () => {
    const { folder, launcher } = uninstalled();
    fs.rmSync(path.join(folder, "first-1.0.0.tgz"));
    const before = fs.readdirSync(folder);
    const ran = await runFile(launcher, ["formula"], { from: folder });
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toContain("Installing the packages this command needs");
    expect(ran.err).toContain("The packages could not be installed");
    expect(fs.readdirSync(folder)).toEqual(before);
  });

  test("installs what the command needs, no tools, and lets no package run a script", async () => {
    const { folder, launcher } = uninstalled();
    // the bundler is not among the packages made here, so nothing comes after
    await runFile(launcher, ["formula"], { from: folder });
    const there = (name: string): boolean =>
      fs.existsSync(path.join(folder, "node_modules", name, "package.json"));
    expect([there("first"), there("tool")]).toEqual([true, false]);
    await runFile(launcher, ["docs"], { from: folder });
    expect([there("first"), there("tool")]).toEqual([true, true]);
    const again = await runFile(launcher, ["formula"], { from: folder });
    expect(again.err).not.toContain("Installing");
    expect(there("tool")).toBe(true);
    expect(fs.existsSync(path.join(folder, "it-ran"))).toBe(false);
  });

  test("two at once install once", async () => {
    const { folder, launcher } = uninstalled();
    const both = await Promise.all(
      [1, 2].map(() => runFile(launcher, ["formula"], { from: folder }))
    );
    const said = both.map((ran) => ran.err).join("");
    expect(said.match(/Installing the packages/g)).toHaveLength(1);
    expect(said).not.toContain("could not be installed");
  });

  test("what an installation left that was ended in the middle is cleared away", async () => {
    const { folder, launcher, write } = uninstalled();
    // no process can have that number
    write(".installing", "999999999");
    write(".installing-999999999/package.json", "{}");
    write("node_modules/first/half", "");
    await runFile(launcher, ["formula"], { from: folder });
    expect(fs.existsSync(path.join(folder, "node_modules", "first", "package.json"))).toBe(true);
    expect(fs.existsSync(path.join(folder, "node_modules", "first", "half"))).toBe(false);
    expect(fs.readdirSync(folder).filter((name) => name.startsWith(".installing"))).toEqual([]);
  });

  test("the last line of the tests says how many passed, failed and were skipped", async () => {
    const { folder, write } = project();
    write(
      "tests/one.test.ts",
      'test("a", () => undefined);\ntest("b", () => expect(1).toBe(2));\ntest("c", () => undefined);\n'
    );
    write("tests/broken.test.ts", 'import "./not-there";\n');
    write("tests/last-line.cjs", fs.readFileSync(path.join(ROOT, "tests/last-line.cjs"), "utf8"));
    const jestItself = path.join(folder, "node_modules", "jest", "bin", "jest.js");
    const ran = await runFile(jestItself, [], { from: folder });
    expect(ran.code).toBe(1);
    expect(ran.out.trimEnd().split("\n").pop()).toBe("2 passed, 2 failed");
    const some = await runFile(jestItself, ["one", "-t", "a"], { from: folder });
    expect(some).toMatchObject({ code: 0 });
    expect(some.out.trimEnd().split("\n").pop()).toBe("1 passed, 0 failed, 2 skipped");
  });
});
