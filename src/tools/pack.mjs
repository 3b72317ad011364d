/**
 * npm run pack: the library and its command as one package, packed from a folder of its own under dist/, so that the
 * project's package.json is only read. The command is one file with everything in it and the library imports nothing, so
 * whoever installs the package needs none of the packages this project is built and tried with.
 *
 * `npm pack` alone would pack the project's own package.json; `--refuse`, which npm runs before it packs, says so in its
 * place. npm runs it before `npm run pack` too, by the script's name, and that may go on.
 */
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";

const KEPT_OUT = ["scripts", "prettier", "dependencies", "devDependencies", "jest"];
/** What npm puts into every package, and where it stands here: the project's own README is about the project. */
const ALWAYS = { LICENSE: "LICENSE", "README.md": "src/tools/package-readme.md" };

/** The manifest as packed. */
function packedManifest(manifest) {
  return Object.fromEntries(Object.entries(manifest).filter(([key]) => !KEPT_OUT.includes(key)));
}

/** Packs the project below a folder, built before; returns the package's path. */
function pack(root) {
  const manifest = JSON.parse(fs.readFileSync(path.join(root, "package.json"), "utf8"));
  const dist = path.join(root, "dist");
  const stage = path.join(dist, "package");
  fs.rmSync(stage, { recursive: true, force: true });
  const own = manifest.files.map((name) => [name, name]);
  for (const [name, from] of [...Object.entries(ALWAYS), ...own]) {
    fs.cpSync(path.join(root, from), path.join(stage, name), { recursive: true });
  }
  const text = `${JSON.stringify(packedManifest(manifest), null, 2)}\n`;
  fs.writeFileSync(path.join(stage, "package.json"), text);
  const said = execFileSync("npm", ["pack", "--silent", "--pack-destination", ".."], {
    cwd: stage,
    encoding: "utf8",
    // on Windows npm is a script that only a shell starts
    shell: process.platform === "win32",
    stdio: ["ignore", "pipe", "inherit"],
  });
  fs.rmSync(stage, { recursive: true, force: true });
  return path.join(dist, said.trim().split("\n").pop());
}

if (process.argv[2] === "--refuse") {
  if (!/^run/.test(process.env.npm_command ?? "")) {
    console.error("npm run pack makes the package.");
    process.exitCode = 1;
  }
} else {
  const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..", "..");
  console.log(path.relative(process.cwd(), pack(root)));
}
