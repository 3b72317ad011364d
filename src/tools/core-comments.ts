/** What the core's own comments say of the functions behind the worksheet functions. */
import { readFile, readdir } from "node:fs/promises";
import { join } from "node:path";
import ts from "typescript";

const CORE = "src/core";

export interface CoreComment {
  /** path of the core file from the top of the repo */
  readonly file: string;
  readonly returns: string;
  readonly throws: string;
  readonly source: string;
}

/** Text after a tag's name in the source: the parser would take `{...}` in it for a type. */
function rawText(tag: ts.JSDocTag | undefined): string {
  return (tag?.getText() ?? "")
    .replace(/^@\w+\s*/, "")
    .replace(/\s*\n\s*\*?\s*/g, " ")
    .trim();
}

function commentOf(file: string, node: ts.FunctionDeclaration): CoreComment {
  const tags = ts.getJSDocTags(node);
  const text = (name: string): string =>
    rawText(tags.find((each) => each.tagName.text === name)).replace(/^\{CalcError\}\s*/, "");
  return { file, returns: text("returns"), throws: text("throws"), source: text("source") };
}

/** "as nailYieldModes" stands for what that function's comment says. */
function followed(text: string, of: (comment: CoreComment) => string, all: Comments): string {
  const other = all.get(/^as (\w+)$/.exec(text)?.[1] ?? "");
  return other ? followed(of(other), of, all) : text;
}

type Comments = ReadonlyMap<string, CoreComment>;

/** Comments by the name of the function; no two exported functions of the core share one. */
export async function coreComments(root: string): Promise<Comments> {
  const found = new Map<string, CoreComment>();
  for (const name of await readdir(join(root, CORE), { recursive: true })) {
    // the planner has names of its own
    if (!name.endsWith(".ts") || name.startsWith("cut-plan")) continue;
    const file = `${CORE}/${name.replaceAll("\\", "/")}`;
    const text = await readFile(join(root, file), "utf8");
    const { statements } = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
    for (const node of statements) {
      const isExported =
        ts.isFunctionDeclaration(node) &&
        node.modifiers?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword);
      if (isExported && node.name) found.set(node.name.text, commentOf(file, node));
    }
  }
  return new Map(
    [...found].map(([name, comment]) => [
      name,
      {
        ...comment,
        throws: followed(comment.throws, (each) => each.throws, found),
        source: followed(comment.source, (each) => each.source, found),
      },
    ])
  );
}
