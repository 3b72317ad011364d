/** The add-in: the functions as one small script, and the pane. */
import path from "node:path";
import MiniCssExtractPlugin from "mini-css-extract-plugin";
import { DIST, ROOT, SRC, resolve, stats, typescriptRule } from "./common.mjs";

/** The script that every cell waits for when a workbook is opened, and the most it may grow to. */
const FUNCTIONS = "functions.js";
const MOST_BYTES = 180_000;

export const ADDIN = path.join(DIST, "addin");

export default function addin() {
  return {
    name: "addin",
    mode: "production",
    context: ROOT,
    // desktop hosts run the page in browsers of different ages
    target: ["web", "es2019"],
    devtool: false,
    entry: {
      functions: path.join(SRC, "addin", "functions.ts"),
      taskpane: path.join(SRC, "addin", "taskpane.ts"),
    },
    output: { path: ADDIN, filename: "[name].js" },
    module: {
      rules: [
        typescriptRule("es2019"),
        { test: /\.css$/, sideEffects: true, use: [MiniCssExtractPlugin.loader, "css-loader"] },
      ],
    },
    plugins: [new MiniCssExtractPlugin({ filename: "[name].css" })],
    resolve,
    performance: {
      hints: "error",
      assetFilter: (name) => name === FUNCTIONS,
      maxAssetSize: MOST_BYTES,
      // the pane is an entry too; it opens after the cells have their answers
      maxEntrypointSize: Infinity,
    },
    stats,
  };
}
