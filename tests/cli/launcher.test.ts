/** The launcher installs and compiles what is missing before it starts a command. */
import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { emptyFolder, LAUNCHER, removeFolders, ROOT, runFile } from "./run.js";

jest.setTimeout(180_000);
afterAll(removeFolders);

/** A small project with the same launcher, packages and settings. */
function project(): {
  folder: string;
  launcher: string;
  write: (name: string, text: string) => void;
} {
  const folder = emptyFolder();
  const write = (name: string, text: string): void => {
    fs.mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    fs.writeFileSync(path.join(folder, name), text);
  };
  for (const name of [
    "package.json",
    "package-lock.json",
    "tsconfig.json",
    "tsconfig.build.json",
  ]) {
    fs.copyFileSync(path.join(ROOT, name), path.join(folder, name));
  }
  write("src/cli/run.mjs", fs.readFileSync(LAUNCHER, "utf8"));
  const turns = path.join(path.dirname(LAUNCHER), "turns.mjs");
  write("src/cli/turns.mjs", fs.readFileSync(turns, "utf8"));
  write("src/cli/words.ts", 'export const word: string = "first";\n');
  write(
    "src/cli/formula.ts",
    'import { word } from "./words.js";\nexport function main(args: string[]): number {\n  console.log(word, ...args);\n  return args.length;\n}\n'
  );
  fs.symlinkSync(path.join(ROOT, "node_modules"), path.join(folder, "node_modules"), "junction");
  return { folder, launcher: path.join(folder, "src", "cli", "run.mjs"), write };
}

describe("the launcher", () => {
  test("compiles, runs, and hands on arguments and the exit code", async () => {
    const { folder, launcher } = project();
    const ran = await runFile(launcher, ["formula", "a", "b c"], { from: folder });
    expect(ran).toMatchObject({ code: 2, out: "first a b c\n", err: "" });
  });

  test("compiles again what changed, and forgets what is gone", async () => {
    const { folder, launcher, write } = project();
    write("src/cli/extra.ts", "export const extra = 1;\n");
    await runFile(launcher, ["formula"], { from: folder });
    expect(fs.existsSync(path.join(folder, "build", "cli", "extra.js"))).toBe(true);
    const untouched = fs.statSync(path.join(folder, "build", "cli", "formula.js")).mtimeMs;
    write("src/cli/words.ts", 'export const word = "second word";\n');
    fs.rmSync(path.join(folder, "src", "cli", "extra.ts"));
    const ran = await runFile(launcher, ["formula"], { from: folder });
    expect(ran.out).toBe("second word\n");
    expect(fs.existsSync(path.join(folder, "build", "cli", "extra.js"))).toBe(false);
    expect(fs.statSync(path.join(folder, "build", "cli", "formula.js")).mtimeMs).toBe(untouched);
  });

  test("several commands at once all find a whole build", async () => {
    const { folder, launcher } = project();
    const all = await Promise.all(
      [1, 2, 3, 4].map((number) => runFile(launcher, ["formula", String(number)], { from: folder }))
    );
    expect(all.map((ran) => ran.out)).toEqual(["first 1\n", "first 2\n", "first 3\n", "first 4\n"]);
    const left = fs.readdirSync(path.join(folder, "build", "cli"));
    expect(left.filter((name) => name.endsWith(".new"))).toEqual([]);
  });

  test("a mistake in a source is said and nothing is run", async () => {
    const { folder, launcher, write } = project();
    write("src/cli/words.ts", "export const word = ;\n");
    const ran = await runFile(launcher, ["formula"], { from: folder });
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toMatch(/words\.ts\(1,21\): error TS1109/);
    expect(ran.err).toContain("could not be compiled");
    write("src/cli/words.ts", 'export const word = "mended";\n');
    expect((await runFile(launcher, ["formula"], { from: folder })).out).toBe("mended\n");
  });

  test("the ticket of a command that was stopped does not block the next", async () => {
    const { folder, launcher } = project();
    const first = await runFile(launcher, ["formula"], { from: folder });
    expect(first.code).toBe(0);
    fs.rmSync(path.join(folder, "build"), { recursive: true });
    // The launcher's place to take turns is named after the folder; no process can have the ticket's number.
    const name = createHash("sha256").update(folder).digest("hex").slice(0, 16);
    const turns = path.join(os.tmpdir(), `worksheet-functions-${name}.turns`);
    fs.mkdirSync(turns);
    fs.writeFileSync(path.join(turns, "1.999999999.left"), "");
    const again = await runFile(launcher, ["formula"], { from: folder });
    expect(again).toMatchObject({ code: 0, out: "first\n" });
    expect(fs.existsSync(turns)).toBe(false);
  });

  test("says what it can do when asked for something else", async () => {
    const { folder, launcher } = project();
    const ran = await runFile(launcher, ["dance"], { from: folder });
    expect(ran).toMatchObject({ code: 2, out: "" });
    expect(ran.err).toMatch(/^Usage: node src\/cli\/run.mjs /);
  });

  test("a command that is not in this version is said", async () => {
    const { folder, launcher } = project();
    const ran = await runFile(launcher, ["takeoff"], { from: folder });
    expect(ran.code).toBe(1);
    expect(ran.err).toContain("The command takeoff is not part of this version.");
  });

  test("installing that fails says what to do", async () => {
    const { folder, launcher, write } = project();
    fs.unlinkSync(path.join(folder, "node_modules"));
    // A lock file that no registry can satisfy: it asks for a folder that is not there.
    const lock = {
      name: "nothing",
      lockfileVersion: 3,
      packages: {
        "": { name: "nothing", dependencies: { gone: "file:./gone" } },
        "node_modules/gone": { version: "1.0.0", resolved: "file:gone.tgz" },
      },
    };
    write(
      "package.json",
      JSON.stringify({ name: "nothing", dependencies: { gone: "file:gone.tgz" } })
    );
    write("package-lock.json", JSON.stringify(lock));
    const ran = await runFile(launcher, ["formula"], { from: folder });
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toContain("Installing the packages this project needs");
    expect(ran.err).toContain("The packages could not be installed");
  });

  test("a package does not run a script of its own when it is installed", async () => {
    const { folder, launcher, write } = project();
    fs.unlinkSync(path.join(folder, "node_modules"));
    const mark = path.join(folder, "it-ran");
    const script = `node -e "require('fs').writeFileSync('${mark.split(path.sep).join("/")}', '')"`;
    write(
      "noisy/package.json",
      JSON.stringify({ name: "noisy", version: "1.0.0", scripts: { postinstall: script } })
    );
    execFileSync("npm", ["pack", "./noisy", "--silent"], {
      cwd: folder,
      shell: process.platform === "win32",
    });
    const dependencies = { noisy: "file:noisy-1.0.0.tgz" };
    write("package.json", JSON.stringify({ name: "some", type: "module", dependencies }));
    const lock = {
      name: "some",
      lockfileVersion: 3,
      packages: {
        "": { name: "some", dependencies },
        "node_modules/noisy": {
          version: "1.0.0",
          resolved: "file:noisy-1.0.0.tgz",
          hasInstallScript: true,
        },
      },
    };
    write("package-lock.json", JSON.stringify(lock));
    // it is installed; the compiler is not, so nothing comes after
    await runFile(launcher, ["formula"], { from: folder });
    expect(fs.existsSync(path.join(folder, "node_modules", "noisy", "package.json"))).toBe(true);
    expect(fs.existsSync(mark)).toBe(false);
  });

  test("the last line of the tests says how many passed, failed and were skipped", async () => {
    const { folder, launcher, write } = project();
    write(
      "tests/one.test.ts",
      'test("a", () => undefined);\ntest("b", () => expect(1).toBe(2));\ntest("c", () => undefined);\n'
    );
    write("tests/broken.test.ts", 'import "./not-there";\n');
    const ran = await runFile(launcher, ["test"], { from: folder });
    expect(ran.code).toBe(1);
    expect(ran.out.trimEnd().split("\n").pop()).toBe("2 passed, 2 failed");
    const some = await runFile(launcher, ["test", "one", "-t", "a"], { from: folder });
    expect(some).toMatchObject({ code: 0 });
    expect(some.out.trimEnd().split("\n").pop()).toBe("1 passed, 0 failed, 2 skipped");
  });
});
