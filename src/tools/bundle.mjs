/**
 * Bundles of the project's sources. Those that its own commands run are kept in build/ and made again when a source
 * changed; those that are handed out are listed in build.mjs. Commands run in the project's folder.
 */
import { createHash } from "node:crypto";
import fs from "node:fs";
import path from "node:path";
import process from "node:process";
import { gzipSync } from "node:zlib";

const BUILD = "build";
/** Bundles of one name that are kept: one before the newest may still be running. */
const KEPT = 2;

/** Changes with everything a bundle is made of: the sources and the packages. */
function sourceDigest() {
  const hash = createHash("sha256").update(fs.readFileSync("package-lock.json"));
  const visit = (folder) => {
    for (const entry of fs.readdirSync(folder, { withFileTypes: true })) {
      const file = path.join(folder, entry.name);
      if (entry.name === "node_modules" || entry.name.startsWith(".")) continue;
      if (entry.isDirectory()) visit(file);
      else {
        const { size, mtimeMs } = fs.statSync(file);
        hash.update(`${file} ${size} ${mtimeMs}\n`);
      }
    }
  };
  visit("src");
  return hash.digest("hex").slice(0, 16);
}

/** Bundles; what is wrong goes to the error stream. */
export async function bundle(options) {
  const { build } = await import("esbuild");
  return build({ bundle: true, metafile: true, logLevel: "warning", ...options });
}

/** Says what people wait for when a file is fetched or pasted. */
export function tellSize(what, file) {
  const bytes = fs.readFileSync(file);
  const kB = (count) => `${(count / 1000).toFixed(0)} kB`;
  console.log(`${what}: ${file}, ${kB(bytes.length)} (${kB(gzipSync(bytes).length)} packed)`);
}

/**
 * The folder that holds the bundle of a name, made where it is missing or a source changed.
 * @param make bundles into the folder it is given
 */
export async function kept(name, make) {
  const folder = path.join(BUILD, `${name}-${sourceDigest()}`);
  if (fs.existsSync(folder)) return folder;
  const stage = path.join(BUILD, `.${name}-${process.pid}`);
  fs.mkdirSync(stage, { recursive: true });
  try {
    await make(stage);
    // in one step, so that nobody finds half of it; who else made it meanwhile made the same
    if (!fs.existsSync(folder)) fs.renameSync(stage, folder);
  } finally {
    fs.rmSync(stage, { recursive: true, force: true });
  }
  const all = fs
    .readdirSync(BUILD)
    .filter((each) => each.startsWith(`${name}-`) && each.length === `${name}-`.length + 16)
    .map((each) => path.join(BUILD, each))
    .sort((a, b) => fs.statSync(b).mtimeMs - fs.statSync(a).mtimeMs);
  for (const old of all.slice(KEPT)) fs.rmSync(old, { recursive: true, force: true });
  return folder;
}

/** Bundles one of the project's commands; the file to start, and beside it those of its threads. */
export async function commandFile(name, files) {
  const { devDependencies = {} } = JSON.parse(fs.readFileSync("package.json", "utf8"));
  const folder = await kept(name, (outdir) =>
    bundle({
      entryPoints: files,
      outdir,
      entryNames: "[name]",
      outExtension: { ".js": ".mjs" },
      platform: "node",
      format: "esm",
      target: "node20.11",
      splitting: true,
      sourcemap: true,
      sourcesContent: false,
      // the engine is bundled, which starts several times faster; the tools, and what starts programs or threads from
      // files of its own, are loaded from where they are installed
      external: ["esbuild", "tinypool", ...Object.keys(devDependencies)],
    })
  );
  return path.resolve(folder, `${path.parse(files[0]).name}.mjs`);
}
