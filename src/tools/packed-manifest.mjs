/**
 * What npm pack puts into the package's own package.json. The command is one file with everything in it and the library
 * imports nothing, so whoever installs the package needs none of the packages this project is built and tried with.
 *
 * `trim` runs before packing, `restore` after it.
 */
import fs from "node:fs";
import path from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";

const KEPT_OUT = [
  "scripts",
  "prettier",
  "devDependencies",
  "optionalDependencies",
  "allowScripts",
  "jest",
];

/** The manifest as packed. */
export function packedManifest(manifest) {
  return Object.fromEntries(Object.entries(manifest).filter(([key]) => !KEPT_OUT.includes(key)));
}

function main(root, task) {
  const file = path.join(root, "package.json");
  const kept = path.join(root, "dist", "package.json.kept");
  // also after a packing that was broken off
  if (fs.existsSync(kept)) fs.renameSync(kept, file);
  if (task !== "trim") return;
  const text = fs.readFileSync(file, "utf8");
  fs.mkdirSync(path.dirname(kept), { recursive: true });
  fs.writeFileSync(kept, text);
  fs.writeFileSync(file, `${JSON.stringify(packedManifest(JSON.parse(text)), null, 2)}\n`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  main(path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..", ".."), process.argv[2]);
}
