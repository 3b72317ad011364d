/** The command of the installed package: one file for Node, and one for the threads that take many houses off. */
import path from "node:path";
import webpack from "webpack";
import { DIST, ROOT, SRC, resolve, stats, typescriptRule } from "./common.mjs";

export default function library() {
  return {
    name: "library",
    mode: "production",
    context: ROOT,
    target: "node20",
    devtool: false,
    entry: {
      "sheathing-functions": path.join(SRC, "cli", "bin.ts"),
      "house-worker": path.join(SRC, "cli", "house-worker.ts"),
    },
    // the pool starts its threads from a file of its own, so it is copied beside the command as it is
    externals: { tinypool: "module ./tinypool/index.js" },
    output: {
      path: path.join(DIST, "library"),
      filename: "[name].mjs",
      chunkFilename: "sheathing-functions-[id].mjs",
      module: true,
      chunkFormat: "module",
      library: { type: "module" },
    },
    experiments: { outputModule: true },
    module: {
      // the file asks where it lies when it runs, not where it was built
      parser: { javascript: { importMeta: false } },
      rules: [typescriptRule("es2022")],
    },
    resolve,
    plugins: [new webpack.BannerPlugin({ banner: "#!/usr/bin/env node", raw: true })],
    performance: false,
    stats,
  };
}
