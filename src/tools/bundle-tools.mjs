/** Running the bundler, and saying how large the outcome is. */
import fs from "node:fs";
import path from "node:path";
import { gzipSync } from "node:zlib";
import webpack from "webpack";
import { ROOT } from "./webpack/common.mjs";

/** Runs webpack; throws what it complains about, warnings too. */
export function bundle(config) {
  return new Promise((resolve, reject) => {
    webpack(config, (error, stats) => {
      if (error) return reject(error);
      if (stats.hasErrors() || stats.hasWarnings()) {
        return reject(new Error(stats.toString({ all: false, errors: true, warnings: true })));
      }
      resolve(stats);
    });
  });
}

/** What people wait for when a file is fetched or pasted. */
export function tellSize(what, file) {
  const bytes = fs.readFileSync(file);
  const kB = (count) => `${(count / 1000).toFixed(0)} kB`;
  const packed = gzipSync(bytes).length;
  console.log(`${what}: ${path.relative(ROOT, file)}, ${kB(bytes.length)} (${kB(packed)} packed)`);
}
