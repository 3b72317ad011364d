/**
 * Which folder imports which. Counted is every import that is written out: of values, of types, of style sheets, and
 * dynamic ones. A file that is only started or loaded by an address put together at run time is no import: the
 * launcher's builders, a benchmark's command, a bundle's entry.
 */
import { posix } from "node:path";
import ts from "typescript";
import { filesUnder, textOf } from "./files.js";

interface Row {
  /** folders above it in the table that it may import */
  readonly folders: readonly string[];
  /** packages by their name or its start; undefined: any, for what runs on a developer's machine only */
  readonly packages: readonly string[] | undefined;
}

/** A folder may import itself and what its row names. Every row stands below all it imports, so none go in a ring. */
const MAY_IMPORT: Readonly<Record<string, Row>> = {
  core: { folders: [], packages: [] },
  "core/house": { folders: ["core"], packages: [] },
  sheet: { folders: [], packages: [] },
  "host/engine": { folders: ["sheet"], packages: ["@cj-tech-master/excelts/"] },
  "index.ts": { folders: ["core", "core/house"], packages: [] },
  functions: { folders: ["core", "core/house"], packages: [] },
  templates: { folders: ["core", "core/house", "sheet"], packages: [] },
  pane: { folders: ["core", "core/house", "functions"], packages: [] },
  addin: {
    folders: ["core", "core/house", "sheet", "functions", "templates", "pane"],
    packages: [],
  },
  "script-host": { folders: ["functions"], packages: [] },
  "host/web": {
    folders: ["core", "core/house", "sheet", "host/engine", "functions", "pane"],
    packages: ["node:", "@univerjs/"],
  },
  cli: {
    folders: ["core", "core/house", "host/engine", "functions", "templates", "pane"],
    packages: ["node:", "tinypool", "typescript"],
  },
  tools: {
    folders: ["core", "core/house", "sheet", "host/engine", "functions", "templates", "pane"],
    packages: undefined,
  },
};
const ROWS = Object.keys(MAY_IMPORT);

/** Everything a file imports or re-exports, types too, and dynamic imports. */
function importsOf(path: string): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (
      (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) &&
      node.moduleSpecifier &&
      ts.isStringLiteral(node.moduleSpecifier)
    ) {
      found.push(node.moduleSpecifier.text);
    }
    if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      const [specifier] = node.arguments;
      if (specifier && ts.isStringLiteral(specifier)) found.push(specifier.text);
    }
    if (
      ts.isImportTypeNode(node) &&
      ts.isLiteralTypeNode(node.argument) &&
      ts.isStringLiteral(node.argument.literal)
    ) {
      found.push(node.argument.literal.text);
    }
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(path, textOf(path), ts.ScriptTarget.Latest, true));
  return found;
}

/** The row a source file belongs to: the longest that names its place; undefined outside src. */
function rowOf(path: string): string | undefined {
  return ROWS.filter((row) => path === `src/${row}` || path.startsWith(`src/${row}/`))
    .sort((a, b) => b.length - a.length)
    .at(0);
}

const files = filesUnder("src").filter((path) => /\.(?:ts|mjs)$/.test(path));
const imports = files.flatMap((path) => importsOf(path).map((specifier) => ({ path, specifier })));
const relative = imports
  .filter(({ specifier }) => specifier.startsWith("."))
  .map(({ path, specifier }) => {
    const to = posix.join(posix.dirname(path), specifier);
    return { path, to, from: rowOf(path) as string, row: rowOf(to) ?? "outside" };
  });
const ours = relative.filter(({ row }) => row !== "outside");
const packages = imports.filter(({ specifier }) => !specifier.startsWith("."));

describe("imports", () => {
  it("are looked at in every source file, and each file has its row", () => {
    expect(files.filter((path) => rowOf(path) === undefined)).toEqual([]);
    expect(files.length).toBeGreaterThanOrEqual(220);
    expect(ours.length).toBeGreaterThanOrEqual(850);
    expect(packages.length).toBeGreaterThanOrEqual(150);
    for (const row of ROWS) expect(files.some((path) => rowOf(path) === row)).toBe(true);
  });

  it("go only where the table lets them", () => {
    let checked = 0;
    const wrong: string[] = [];
    for (const { path, to, from, row } of ours) {
      checked++;
      const isAllowed = row === from || MAY_IMPORT[from]?.folders.includes(row);
      if (!isAllowed) wrong.push(`${path}: ${to}`);
    }
    expect(wrong).toEqual([]);
    expect(checked).toBeGreaterThanOrEqual(850);
  });

  it("stay in src, but for the builders' list of bundles", () => {
    const outside = relative.filter(({ row }) => row === "outside");
    const lines = outside.map(({ from, to }) => `${from}: ${to}`);
    expect([...new Set(lines)]).toEqual(["tools: webpack.config.js"]);
  });

  it("take only the packages the table names", () => {
    let checked = 0;
    const wrong: string[] = [];
    for (const { path, specifier } of packages) {
      checked++;
      const allowed = MAY_IMPORT[rowOf(path) as string]?.packages;
      if (allowed && !allowed.some((start) => specifier.startsWith(start))) {
        wrong.push(`${path}: ${specifier}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(checked).toBeGreaterThanOrEqual(150);
  });

  it("use every leave the table gives: one nobody needs is struck out", () => {
    let checked = 0;
    const unused: string[] = [];
    for (const [from, { folders, packages: named }] of Object.entries(MAY_IMPORT)) {
      for (const folder of folders) {
        checked++;
        if (!ours.some((each) => each.from === from && each.row === folder)) {
          unused.push(`${from}: ${folder}`);
        }
      }
      for (const start of named ?? []) {
        checked++;
        const isUsed = packages.some(
          ({ path, specifier }) => rowOf(path) === from && specifier.startsWith(start)
        );
        if (!isUsed) unused.push(`${from}: ${start}`);
      }
    }
    expect(unused).toEqual([]);
    expect(checked).toBeGreaterThanOrEqual(35);
  });

  it("go one way: every row imports only rows above it", () => {
    const backward = ROWS.flatMap((row, index) =>
      (MAY_IMPORT[row]?.folders ?? [])
        .filter((folder) => !ROWS.slice(0, index).includes(folder))
        .map((folder) => `${row}: ${folder}`)
    );
    expect(backward).toEqual([]);
    expect(ROWS.length).toBeGreaterThanOrEqual(12);
  });
});
