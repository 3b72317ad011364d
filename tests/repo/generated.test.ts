/** What is generated from comments and data is what it would be generated as today. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { catalog } from "../../src/functions/catalog.js";
import * as wrappers from "../../src/functions/functions.js";
import { worksheetFunctions } from "../../src/functions/registry.js";
import { VERSION } from "../../src/core/version.js";
import { generatedFiles } from "../../src/tools/build-docs.js";
import { ROOT, filesUnder, textOf } from "./files.js";

// reads every wrapper and core comment with the compiler: some seconds on a busy machine
jest.setTimeout(60_000);
const generated = generatedFiles(ROOT);

describe("generated files", () => {
  it("are up to date: run npm run docs", async () => {
    const files = await generated;
    expect(files.size).toBeGreaterThanOrEqual(4);
    const stale = [...files].filter(
      ([path, text]) => !existsSync(join(ROOT, path)) || textOf(path) !== text
    );
    expect(stale.map(([path]) => path)).toEqual([]);
  });

  it("are all there is in the folder of generated pages", async () => {
    const files = await generated;
    const pages = filesUnder("docs/functions", ".md");
    expect(pages.length).toBeGreaterThanOrEqual(45);
    expect(pages.filter((path) => !files.has(path))).toEqual([]);
  });
});

describe("the worksheet functions", () => {
  const exported = Object.keys(wrappers);

  it("are registered one for each exported wrapper", () => {
    expect(exported.length).toBeGreaterThanOrEqual(45);
    expect(catalog.map((each) => each.wrapper).sort()).toEqual([...exported].sort());
    for (const each of worksheetFunctions) expect(typeof each.call).toBe("function");
  });

  it("have one id each, in the comments as in the host's metadata", () => {
    const ids = [
      ...textOf("src/functions/functions.ts").matchAll(/@customfunction ([A-Z_]+)/g),
    ].map(([, id]) => id);
    expect(ids.length).toBe(exported.length);
    expect(new Set(ids).size).toBe(ids.length);
    const metadata = JSON.parse(textOf("src/functions/functions.json")) as {
      functions: { id: string; name: string; parameters: { name: string }[] }[];
    };
    expect(metadata.functions.map((each) => each.id).sort()).toEqual([...ids].sort());
    for (const each of metadata.functions) expect(each.name).toBe(each.id);
  });

  it("are declared as the metadata generator reads them: export function, no default values", () => {
    const file = ts.createSourceFile(
      "functions.ts",
      textOf("src/functions/functions.ts"),
      ts.ScriptTarget.Latest,
      true
    );
    let checked = 0;
    for (const node of file.statements) {
      expect(ts.isVariableStatement(node)).toBe(false);
      if (!ts.isFunctionDeclaration(node)) continue;
      for (const parameter of node.parameters) {
        expect(`${node.name?.text}: ${parameter.initializer?.getText() ?? ""}`).toBe(
          `${node.name?.text}: `
        );
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(100);
  });
});

it("VERSION is the package's version", () => {
  const { version } = JSON.parse(textOf("package.json")) as { version: string };
  expect(VERSION).toBe(version);
  expect(wrappers.version()).toBe(version);
  expect(textOf("CHANGELOG.md")).toContain(version);
});
