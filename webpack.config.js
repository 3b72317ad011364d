/**
 * The add-in's scripts: the functions as one small script that every cell waits for, and the pane. `npm run build` makes
 * them and puts the manifest, page, icons and help beside them; `npx webpack` makes them alone.
 */
import path from "node:path";
import { fileURLToPath } from "node:url";
import MiniCssExtractPlugin from "mini-css-extract-plugin";

const ROOT = path.dirname(fileURLToPath(import.meta.url));
const FUNCTIONS = "functions.js";
/** The script that cells wait for when a workbook is opened may not grow past this. */
const MOST_BYTES = 200_000;
/** Desktop hosts run the page in browsers of different ages. */
const TARGET = "es2019";

export default {
  name: "addin",
  mode: "production",
  context: ROOT,
  target: ["web", TARGET],
  devtool: false,
  entry: { functions: "./src/addin/functions.ts", taskpane: "./src/addin/taskpane.ts" },
  output: { path: path.join(ROOT, "dist", "addin"), filename: "[name].js" },
  module: {
    rules: [
      {
        test: /\.ts$/,
        loader: "ts-loader",
        options: {
          // types are checked by `npm run typecheck`
          transpileOnly: true,
          compilerOptions: {
            noEmit: false,
            module: "esnext",
            moduleResolution: "bundler",
            target: TARGET,
          },
        },
      },
      { test: /\.css$/, sideEffects: true, use: [MiniCssExtractPlugin.loader, "css-loader"] },
    ],
  },
  plugins: [new MiniCssExtractPlugin({ filename: "[name].css" })],
  resolve: { extensionAlias: { ".js": [".ts", ".js"] }, extensions: [".ts", ".js"] },
  performance: {
    hints: "error",
    assetFilter: (name) => name === FUNCTIONS,
    maxAssetSize: MOST_BYTES,
    // the pane is an entry too; it opens after the cells have their answers
    maxEntrypointSize: Infinity,
  },
  stats: { preset: "errors-warnings", assets: true },
};
