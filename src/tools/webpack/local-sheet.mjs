/** The page of the local sheet and its worker. */
import path from "node:path";
import fs from "node:fs";
import MiniCssExtractPlugin from "mini-css-extract-plugin";
import webpack from "webpack";
import { DIST, ROOT, SRC, resolve, stats, typescriptRule } from "./common.mjs";

const WEB = path.join(SRC, "host", "web");
const TARGET = path.join(DIST, "local-sheet");

/** Puts files beside the bundles as they are. */
class CopyFiles {
  constructor(files) {
    this.files = files;
  }
  apply(compiler) {
    compiler.hooks.thisCompilation.tap("CopyFiles", (compilation) => {
      compilation.hooks.processAssets.tap({ name: "CopyFiles", stage: -2000 }, () => {
        for (const file of this.files) {
          const source = new compiler.webpack.sources.RawSource(fs.readFileSync(file));
          compilation.emitAsset(path.basename(file), source);
        }
      });
    });
  }
}

export default function localSheet() {
  const shared = {
    mode: "production",
    context: ROOT,
    devtool: false,
    resolve,
    performance: false,
    stats,
    // The page is read from this machine's own disk: leaving it unpressed starts the first time in a fraction of
    // the time and is not slower to load.
    optimization: { minimize: false, splitChunks: false, runtimeChunk: false },
  };
  return [
    {
      ...shared,
      name: "local-sheet-page",
      target: ["web", "es2022"],
      entry: { page: path.join(WEB, "page.ts"), print: path.join(WEB, "print.ts") },
      output: { path: TARGET, filename: "[name].js", chunkFilename: "chunk-[name].js" },
      module: {
        rules: [
          typescriptRule("es2022"),
          { test: /\.css$/, use: [MiniCssExtractPlugin.loader, "css-loader"] },
        ],
      },
      plugins: [
        new MiniCssExtractPlugin({ filename: "[name].css" }),
        new CopyFiles(["index.html", "print.html"].map((name) => path.join(WEB, name))),
      ],
    },
    {
      ...shared,
      name: "local-sheet-worker",
      target: ["webworker", "es2022"],
      entry: { worker: path.join(WEB, "worker.ts") },
      output: { path: TARGET, filename: "[name].js", chunkFilename: "chunk-worker-[name].js" },
      module: { rules: [typescriptRule("es2022")] },
    },
  ];
}

/** Builds the local sheet; throws what the bundler complains about, warnings too. */
export function buildLocalSheet(configs = localSheet()) {
  return new Promise((done, failed) => {
    webpack(configs, (error, stats) => {
      if (error) return failed(error);
      if (stats.hasErrors() || stats.hasWarnings()) {
        return failed(new Error(stats.toString({ all: false, errors: true, warnings: true })));
      }
      done(stats);
    });
  });
}
