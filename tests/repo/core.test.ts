/** The core stands alone, says what it does, and its examples are true. */
import { posix } from "node:path";
import ts from "typescript";
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
  readonly tags: readonly { readonly name: string; readonly text: string }[];
  readonly isDescribed: boolean;
}

function exportedFunctions(path: string): ExportedFunction[] {
  return parsed(path).statements.flatMap((node) => {
    if (!ts.isFunctionDeclaration(node) || !node.name) return [];
    const isExported = node.modifiers?.some((each) => each.kind === ts.SyntaxKind.ExportKeyword);
    if (!isExported) return [];
    const tags = ts.getJSDocTags(node).map((tag) => ({
      name: tag.tagName.text,
      text: (ts.getTextOfJSDocComment(tag.comment) ?? "").trim(),
    }));
    return [
      {
        file: path,
        name: node.name.text,
        tags,
        isDescribed: ts.getJSDocCommentsAndTags(node).length > 0,
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

/** Core functions that a worksheet function calls, house tables apart, as "file name". */
function calledByWrappers(): Set<string> {
  const path = "src/functions/functions.ts";
  const names = new Set<string>();
  for (const node of parsed(path).statements) {
    if (!ts.isImportDeclaration(node) || !ts.isStringLiteral(node.moduleSpecifier)) continue;
    if (!/^\.\.\/core\/[a-z-]+\.js$/.test(node.moduleSpecifier.text)) continue;
    const bindings = node.importClause?.namedBindings;
    if (!bindings || !ts.isNamedImports(bindings)) continue;
    for (const each of bindings.elements) {
      const from = target(path, node.moduleSpecifier.text).replace(/\.js$/, ".ts");
      if (!each.isTypeOnly) names.add(`${from} ${(each.propertyName ?? each.name).text}`);
    }
  }
  return names;
}

describe("comments", () => {
  it("every function behind a worksheet function has an example, what it returns, throws and its source", () => {
    const called = calledByWrappers();
    const behind = exported.filter((each) => called.has(`${each.file} ${each.name}`));
    expect(behind.length).toBeGreaterThanOrEqual(35);
    const lacking = behind.flatMap(({ file, name, tags }) =>
      ["example", "returns", "throws", "source"]
        .filter((wanted) => !tags.some((each) => each.name === wanted && each.text !== ""))
        .map((wanted) => `${file} ${name}: @${wanted}`)
    );
    expect(lacking).toEqual([]);
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
  /** Runs an expression with everything its own file exports in reach. */
  const evaluate = (file: string, expression: string): unknown => {
    // eslint-disable-next-line @typescript-eslint/no-require-imports -- the list of files is only known here
    const values = require(posix.join(ROOT.replaceAll("\\", "/"), file)) as Record<string, unknown>;
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
    expect(examples.length).toBeGreaterThanOrEqual(55);
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
