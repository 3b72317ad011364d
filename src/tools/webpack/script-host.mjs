/**
 * The one script that is pasted into a web spreadsheet: the functions' code, then one plain function for each, with
 * its help text, made from the same catalog as every other host's.
 */
import path from "node:path";
import webpack from "webpack";
import { DIST, ROOT, SRC, resolve, sourceOf, stats, typescriptRule } from "./common.mjs";

const CORE = "SHEATH_CORE_";
export const SCRIPT_FILE = "sheathing-functions.js";

function oneLine(text) {
  return text.replace(/\s+/g, " ").replaceAll("*/", "* /").trim();
}

/** The functions a spreadsheet sees; a name that ends in an underscore is hidden from it. */
export function stubs(catalog) {
  return catalog
    .map(({ name, description, parameters, returns }) => {
      const names = parameters.map((each) => each.name);
      const help = [
        oneLine(description),
        "",
        ...parameters.map(({ name: parameter, description: text, optional }) => {
          const shown = optional ? `[${parameter}]` : parameter;
          return `@param {any} ${shown} ${oneLine(text)}`;
        }),
        `@return {any} ${oneLine(returns)}`,
        "@customfunction",
      ];
      return [
        "/**",
        ...help.map((line) => ` * ${line}`.trimEnd()),
        " */",
        `function SHEATH_${name}(${names.join(", ")}) {`,
        `  return ${CORE}.call("${name}", [${names.join(", ")}]);`,
        "}",
      ].join("\n");
    })
    .join("\n\n");
}

/** Puts the stubs after the code, untouched by the minimizer. */
class StubsPlugin {
  constructor(head, tail) {
    this.head = head;
    this.tail = tail;
  }
  apply(compiler) {
    compiler.hooks.compilation.tap("StubsPlugin", (compilation) => {
      const stage = webpack.Compilation.PROCESS_ASSETS_STAGE_OPTIMIZE_HASH;
      compilation.hooks.processAssets.tap({ name: "StubsPlugin", stage }, () => {
        compilation.updateAsset(
          SCRIPT_FILE,
          (source) => new webpack.sources.ConcatSource(this.head, source, this.tail)
        );
      });
    });
  }
}

export default async function scriptHost() {
  const { catalog } = await sourceOf("functions/catalog.ts");
  const { VERSION: version } = await sourceOf("core/version.ts");
  const head = `/**
 * Sheathing Functions ${version}: custom functions for a web spreadsheet that is scripted in JavaScript.
 * Paste the whole file into the spreadsheet's script editor and save. MIT license.
 * The functions, with their help, stand at the end; the code they call comes first.
 */
`;
  return {
    name: "script-host",
    mode: "production",
    context: ROOT,
    target: ["web", "es2019"],
    devtool: false,
    entry: path.join(SRC, "script-host", "index.ts"),
    output: {
      path: path.join(DIST, "script-host"),
      filename: SCRIPT_FILE,
      library: { type: "var", name: CORE },
    },
    module: { rules: [typescriptRule("es2019")] },
    resolve,
    plugins: [new StubsPlugin(head, `\n\n${stubs(catalog)}\n`)],
    performance: false,
    stats,
  };
}
