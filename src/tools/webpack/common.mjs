/** What every bundle shares: where the project is and how its sources are read. */
import fs from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";

export const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..", "..", "..");
export const SRC = path.join(ROOT, "src");
export const DIST = path.join(ROOT, "dist");

/** TypeScript named by its compiled name, as the sources name each other. */
export const resolve = { extensionAlias: { ".js": [".ts", ".js"] }, extensions: [".ts", ".js"] };

/** Types are checked by `npm run typecheck`; here they are only taken off. */
export function typescriptRule(target) {
  return {
    test: /\.ts$/,
    loader: "ts-loader",
    options: {
      transpileOnly: true,
      configFile: path.join(ROOT, "tsconfig.json"),
      // other bundles with other targets must not share one compiler
      instance: `typescript-${target}`,
      compilerOptions: {
        noEmit: false,
        module: "esnext",
        moduleResolution: "bundler",
        target,
        sourceMap: false,
        declaration: false,
      },
    },
  };
}

/** What webpack says when it is done: the files with their sizes, and everything it complains about. */
export const stats = { preset: "errors-warnings", assets: true, assetsSpace: 20 };

/** The exports of a source that imports nothing, such as a list, without compiling the project first. */
export async function sourceOf(file) {
  const { outputText } = ts.transpileModule(fs.readFileSync(path.join(SRC, file), "utf8"), {
    compilerOptions: { module: ts.ModuleKind.ES2022, target: ts.ScriptTarget.ES2022 },
  });
  return import(`data:text/javascript;base64,${Buffer.from(outputText).toString("base64")}`);
}
