/** What every bundle shares: where the project is and how its sources are read. */
import path from "node:path";
import { fileURLToPath } from "node:url";

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
