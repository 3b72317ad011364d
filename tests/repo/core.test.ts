/** The core stands alone, says what it does, and its examples are true. */
import { existsSync } from "node:fs";
import { posix } from "node:path";
import ts from "typescript";
import * as library from "../../src/index.js";
import { ROOT, filesUnder, textOf } from "./files.js";

const core = filesUnder("src/core", ".ts");

function parsed(path: string): ts.SourceFile {
  return ts.createSourceFile(path, textOf(path), ts.ScriptTarget.Latest, true);
}

/** Where an import leads, from the top of the repo; a package keeps its name. */
function target(from: string, specifier: string): string {
  return specifier.startsWith(".") ? posix.join(posix.dirname(from), specifier) : specifier;
}

interface ExportedFunction {
  readonly file: string;
  readonly name: string;
  readonly parameters: readonly { readonly name: string; readonly isNumber: boolean }[];
  readonly tags: readonly {
    readonly name: string;
    /** of a `@param`: the parameter it is about */
    readonly about: string;
    readonly text: string;
  }[];
  /** the sentence before the tags */
  readonly description: string;
}

/** A number or a list of numbers, by its type or its default. */
function isNumber({ type, initializer }: ts.ParameterDeclaration): boolean {
  if (type) return /^(?:readonly )?number(?:\[\])?$/.test(type.getText());
  return initializer !== undefined && ts.isNumericLiteral(initializer);
}

function exportedFunctions(path: string): ExportedFunction[] {
  return parsed(path).statements.flatMap((node) => {
    if (!ts.isFunctionDeclaration(node) || !node.name) return [];
    const isExported = node.modifiers?.some((each) => each.kind === ts.SyntaxKind.ExportKeyword);
    if (!isExported) return [];
    const tags = ts.getJSDocTags(node).map((tag) => ({
      name: tag.tagName.text,
      about: ts.isJSDocParameterTag(tag) ? tag.name.getText() : "",
      text: (ts.getTextOfJSDocComment(tag.comment) ?? "").trim(),
    }));
    const comments = ts.getJSDocCommentsAndTags(node).filter(ts.isJSDoc);
    return [
      {
        file: path,
        name: node.name.text,
        parameters: node.parameters.map((each) => ({
          name: each.name.getText(),
          isNumber: isNumber(each),
        })),
        tags,
        description: comments
          .map((each) => ts.getTextOfJSDocComment(each.comment) ?? "")
          .join("")
          .trim(),
      },
    ];
  });
}

const exported = core.flatMap(exportedFunctions);

describe("the core", () => {
  it("asks no clock, no chance and no host", () => {
    const words =
      /\b(Date\.now|new Date\(\)|Math\.random|process\.|console\.|fetch\(|setTimeout|performance\.|globalThis|require\()/;
    const asking = core.filter((path) =>
      words.test(textOf(path).replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, ""))
    );
    expect(asking).toEqual([]);
    expect(core.length).toBeGreaterThan(30);
  });
});

/** Values that a file takes by name from files of the core, as "file name". */
function takenFromCore(path: string, pattern: RegExp): Set<string> {
  const names = new Set<string>();
  for (const node of parsed(path).statements) {
    if (!ts.isImportDeclaration(node) && !ts.isExportDeclaration(node)) continue;
    if (!node.moduleSpecifier || !ts.isStringLiteral(node.moduleSpecifier)) continue;
    if (!pattern.test(node.moduleSpecifier.text)) continue;
    const clause = ts.isImportDeclaration(node) ? node.importClause : node;
    const bindings = ts.isImportDeclaration(node)
      ? node.importClause?.namedBindings
      : node.exportClause;
    if (clause?.isTypeOnly || !bindings) continue;
    if (!ts.isNamedImports(bindings) && !ts.isNamedExports(bindings)) continue;
    const from = target(path, node.moduleSpecifier.text).replace(/\.js$/, ".ts");
    for (const each of bindings.elements) {
      if (!each.isTypeOnly) names.add(`${from} ${(each.propertyName ?? each.name).text}`);
    }
  }
  return names;
}

/** What the library hands out, which is also all that answers for a worksheet function. */
const handedOut = takenFromCore("src/index.ts", /^\.\/core\//);
const documented = exported.filter(({ file, name }) => handedOut.has(`${file} ${name}`));

/** The unit of a quantity by the end of its name, and how a comment writes it. */
const UNITS: readonly (readonly [RegExp, RegExp])[] = [
  [/In$/, /\bin\b/],
  [/In2$/, /\bin2\b/],
  [/Ft$/, /\bft\b/],
  [/Ft2$/, /\bft2\b/],
  [/Deg$/, /\bdeg\b/],
  [/Rad$/, /\brad\b/],
  [/[a-z]F$/, /\bdeg F\b/],
  [/[a-z]R$/, /\bh ft2 F\/Btu\b/],
  [/PerInch$/, /\/\(Btu in\)/],
];
/** A limit in figures, or that there is none. */
const LIMIT = /\d|\bany finite number\b/;
/** Kinds of error by name, another function that says them, or that there are none. */
const KINDS = /\b(?:wrong-kind|out-of-range|not-covered)\b|^as \w+|^nothing\b/;

describe("comments", () => {
  it("every function handed out or behind a worksheet function is there to be looked at", () => {
    expect(documented.length).toBeGreaterThanOrEqual(65);
    const functions = Object.entries(library).filter(
      ([, value]) => typeof value === "function" && !/^class\b/.test(String(value))
    );
    expect(documented.map(({ name }) => name).sort()).toEqual(
      functions.map(([name]) => name).sort()
    );
  });

  it("say what it does, what it returns in what shape, what it throws, where it is from, with an example", () => {
    const lacking = documented.flatMap(({ file, name, tags, description }) => [
      ...(description === "" ? [`${file} ${name}: a sentence`] : []),
      ...["returns", "shape", "throws", "source", "example"]
        .filter((wanted) => !tags.some((each) => each.name === wanted && each.text !== ""))
        .map((wanted) => `${file} ${name}: @${wanted}`),
    ]);
    expect(lacking).toEqual([]);
  });

  it("say what every argument is, a number with its unit and limits", () => {
    let checked = 0;
    const lacking: string[] = [];
    for (const { file, name, parameters, tags } of documented) {
      for (const parameter of parameters) {
        checked++;
        const text = tags.find((tag) => tag.about === parameter.name)?.text ?? "";
        const where = `${file} ${name} ${parameter.name}`;
        if (text === "") lacking.push(where);
        if (!parameter.isNumber || text === "") continue;
        const unit = UNITS.find(([ending]) => ending.test(parameter.name))?.[1];
        if (unit && !unit.test(text)) lacking.push(`${where}: unit in "${text}"`);
        if (!LIMIT.test(text)) lacking.push(`${where}: limits in "${text}"`);
      }
    }
    expect(lacking).toEqual([]);
    expect(checked).toBeGreaterThanOrEqual(220);
  });

  it("name the kinds of error, and documents that are there", () => {
    let checked = 0;
    const wrong: string[] = [];
    for (const { file, name, tags } of documented) {
      for (const { name: tag, text } of tags) {
        if (tag === "throws" && !KINDS.test(text.replace(/^\{CalcError\} /, ""))) {
          wrong.push(`${file} ${name}: @throws ${text}`);
        }
        if (tag !== "source") continue;
        checked++;
        for (const [path] of text.matchAll(/\bdocs\/[a-z/-]+\.md\b/g)) {
          if (!existsSync(posix.join(ROOT, path))) wrong.push(`${file} ${name}: ${path}`);
        }
      }
    }
    expect(wrong).toEqual([]);
    expect(checked).toBeGreaterThanOrEqual(65);
  });

  it("every parameter with a comment is a parameter, in their order", () => {
    let checked = 0;
    for (const path of core) {
      for (const node of parsed(path).statements) {
        if (!ts.isFunctionDeclaration(node)) continue;
        const commented = ts
          .getJSDocTags(node)
          .filter(ts.isJSDocParameterTag)
          .map((tag) => tag.name.getText());
        if (commented.length === 0) continue;
        const names = node.parameters.map((each) => each.name.getText());
        const inOrder = names.filter((name) => commented.includes(name));
        expect([path, ...commented]).toEqual([path, ...inOrder]);
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(30);
  });
});

describe("examples", () => {
  /** Runs an expression with everything in reach that the library hands out and its own file exports. */
  const evaluate = (file: string, expression: string): unknown => {
    // eslint-disable-next-line @typescript-eslint/no-require-imports -- the list of files is only known here
    const own = require(posix.join(ROOT.replaceAll("\\", "/"), file)) as Record<string, unknown>;
    const values: Record<string, unknown> = { ...library, ...own };
    const names = Object.keys(values);
    const run = new Function(...names, `"use strict"; return (${expression});`);
    return run(...names.map((name) => values[name]));
  };

  const examples = exported.flatMap(({ file, name, tags }) =>
    tags
      .filter((tag) => tag.name === "example")
      .map(({ text }) => [`${file} ${name}`, text.replace(/\s+/g, " ")] as const)
  );

  it("there are examples enough", () => {
    expect(examples.length).toBeGreaterThanOrEqual(80);
  });

  it.each(examples)("%s: %s", (where, text) => {
    const parts = text.split("// =>");
    expect(parts).toHaveLength(2);
    const [call, wanted] = parts as [string, string];
    // the example calls the function it stands over
    expect(call).toContain(`${where.split(" ").at(-1)}(`);
    const file = where.split(" ")[0] as string;
    const came = evaluate(file, call);
    const expected = evaluate(file, wanted);
    if (typeof expected === "number") {
      expect(typeof came).toBe("number");
      expect(Math.abs((came as number) - expected)).toBeLessThanOrEqual(1e-9);
    } else {
      expect(came).toEqual(expected);
    }
  });
});
