/** What the core's own comments say about the function behind each worksheet function. */
import { readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import ts from "typescript";

export interface CoreComment {
  /** path of the core file from the top of the repo */
  readonly file: string;
  readonly name: string;
  /** texts by parameter name */
  readonly parameters: ReadonlyMap<string, string>;
  readonly returns: string;
  readonly throws: string;
  readonly source: string;
}

export interface WrapperComment {
  readonly id: string;
  /** formula and what it comes to, as JSON */
  readonly example: { readonly formula: string; readonly answer: string };
  readonly core?: CoreComment;
}

function textOf(comment: ts.JSDocTag["comment"]): string {
  return (ts.getTextOfJSDocComment(comment) ?? "").replace(/\s+/g, " ").trim();
}

/** Text after a tag's name in the source: the parser would take `{...}` in an example for a type. */
function rawText(tag: ts.JSDocTag): string {
  return tag
    .getText()
    .replace(/^@\w+\s*/, "")
    .replace(/\s*\n\s*\*?\s*/g, " ")
    .trim();
}

async function coreComment(root: string, file: string, name: string): Promise<CoreComment> {
  const source = ts.createSourceFile(
    file,
    await readFile(join(root, file), "utf8"),
    ts.ScriptTarget.Latest,
    true
  );
  const node = source.statements.find(
    (each): each is ts.FunctionDeclaration =>
      ts.isFunctionDeclaration(each) && each.name?.text === name
  );
  if (!node) throw new Error(`${file} has no function ${name}`);
  const tags = ts.getJSDocTags(node);
  const text = (tag: string): string =>
    textOf(tags.find((each) => each.tagName.text === tag)?.comment);
  const thrown = tags.find((each) => each.tagName.text === "throws");
  const own: CoreComment = {
    file,
    name,
    parameters: new Map(
      tags
        .filter(ts.isJSDocParameterTag)
        .map((each) => [each.name.getText(source), textOf(each.comment)])
    ),
    returns: text("returns"),
    throws: thrown ? rawText(thrown).replace(/^\{CalcError\}\s*/, "") : "",
    source: text("source"),
  };
  // "as nailYieldModes" stands for what that function's comment says
  const other = /^as (\w+)$/.exec(own.throws)?.[1] ?? /^as (\w+)$/.exec(own.source)?.[1];
  if (!other || other === name) return own;
  const same = await coreComment(root, file, other);
  return {
    ...own,
    parameters: new Map([...same.parameters, ...own.parameters]),
    throws: own.throws.startsWith("as ") ? same.throws : own.throws,
    source: own.source.startsWith("as ") ? same.source : own.source,
  };
}

/** Names that the wrappers file imports from the core, by the name it uses. */
function coreImports(file: ts.SourceFile, folder: string): Map<string, readonly [string, string]> {
  const found = new Map<string, readonly [string, string]>();
  for (const node of file.statements) {
    if (!ts.isImportDeclaration(node)) continue;
    const from = (node.moduleSpecifier as ts.StringLiteral).text;
    const bindings = node.importClause?.namedBindings;
    if (!from.startsWith("../core/") || !bindings || !ts.isNamedImports(bindings)) continue;
    const path = join(folder, from).replace(/\.js$/, ".ts");
    for (const each of bindings.elements) {
      if (!each.isTypeOnly) {
        found.set(each.name.text, [path, (each.propertyName ?? each.name).text]);
      }
    }
  }
  return found;
}

/** The first core function that a wrapper calls. */
function calledCore(
  wrapper: ts.FunctionDeclaration,
  imports: ReadonlyMap<string, readonly [string, string]>
): readonly [string, string] | undefined {
  let found: readonly [string, string] | undefined;
  const visit = (node: ts.Node): void => {
    if (found) return;
    if (ts.isCallExpression(node) && ts.isIdentifier(node.expression)) {
      found = imports.get(node.expression.text);
    }
    ts.forEachChild(node, visit);
  };
  if (wrapper.body) visit(wrapper.body);
  return found;
}

/**
 * The example of every wrapper, and what the core function behind it says.
 *
 * @throws {Error} where a wrapper has no example
 */
export async function wrapperComments(root: string, path: string): Promise<WrapperComment[]> {
  const source = await readFile(join(root, path), "utf8");
  const file = ts.createSourceFile(path, source, ts.ScriptTarget.Latest, true);
  const imports = coreImports(file, dirname(path));
  const comments: WrapperComment[] = [];
  for (const node of file.statements) {
    if (!ts.isFunctionDeclaration(node)) continue;
    const tags = ts.getJSDocTags(node);
    const idTag = tags.find((tag) => tag.tagName.text === "customfunction");
    if (!idTag) continue;
    const id = textOf(idTag.comment);
    const exampleTag = tags.find((tag) => tag.tagName.text === "example");
    const parts = exampleTag
      ? rawText(exampleTag)
          .replace(/\s*\*?\/?$/, "")
          .split(" // => ")
      : [];
    const [formula, answer] = parts;
    if (!formula || !answer) throw new Error(`${id} needs an @example: formula // => answer`);
    const called = calledCore(node, imports);
    comments.push({
      id,
      example: { formula, answer },
      ...(called ? { core: await coreComment(root, called[0], called[1]) } : {}),
    });
  }
  return comments;
}
