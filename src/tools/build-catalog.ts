/** Builds the catalog of worksheet functions from the comments of their wrappers. */
import { generateCustomFunctionsMetadata } from "custom-functions-metadata";
import ts from "typescript";

export interface CatalogEntry {
  readonly name: string;
  /** exported name in functions.ts */
  readonly wrapper: string;
  readonly description: string;
  readonly parameters: readonly {
    readonly name: string;
    readonly description: string;
    readonly optional: boolean;
    readonly matrix: boolean;
  }[];
  readonly returns: string;
  readonly spills: boolean;
}

interface MetadataFunction {
  id: string;
  description: string;
  parameters: {
    name: string;
    description: string;
    optional?: boolean;
    dimensionality?: string;
  }[];
  result: { dimensionality?: string };
}

/** Wrapper names and @returns texts by function id; the metadata generator drops both. */
function wrapperFacts(source: string): Map<string, { wrapper: string; returns: string }> {
  const facts = new Map<string, { wrapper: string; returns: string }>();
  const file = ts.createSourceFile("functions.ts", source, ts.ScriptTarget.Latest, true);
  for (const node of file.statements) {
    if (!ts.isFunctionDeclaration(node) || !node.name) continue;
    const tags = ts.getJSDocTags(node);
    const text = (name: string): string => {
      const comment = tags.find((tag) => tag.tagName.text === name)?.comment;
      return (typeof comment === "string" ? comment : "").trim();
    };
    const id = text("customfunction");
    if (id) facts.set(id, { wrapper: node.name.text, returns: text("returns") });
  }
  return facts;
}

/**
 * The host's metadata and our catalog.
 *
 * @throws {Error} where the generator reports an error, or an entry has no wrapper or text
 */
export async function readFunctions(
  path: string,
  source: string
): Promise<{ metadata: unknown; catalog: CatalogEntry[] }> {
  const result = await generateCustomFunctionsMetadata(path);
  if (result.errors.length > 0) throw new Error(result.errors.join("\n"));
  const metadata = JSON.parse(result.metadataJson) as { functions: MetadataFunction[] };
  const facts = wrapperFacts(source);
  const catalog = metadata.functions.map((each): CatalogEntry => {
    const fact = facts.get(each.id);
    if (!fact || !each.description || !fact.returns) {
      throw new Error(`${each.id} needs a description and a @returns text`);
    }
    return {
      name: each.id,
      wrapper: fact.wrapper,
      description: each.description.replace(/\s+/g, " ").trim(),
      parameters: each.parameters.map((parameter) => ({
        name: parameter.name,
        description: parameter.description,
        optional: parameter.optional === true,
        matrix: parameter.dimensionality === "matrix",
      })),
      returns: fact.returns,
      spills: each.result.dimensionality === "matrix",
    };
  });
  return { metadata, catalog };
}

/** The catalog as a source file. */
export function catalogSource(catalog: readonly CatalogEntry[]): string {
  return `/** Generated from the comments of functions.ts by \`npm run docs\`; do not edit. */
export const catalog = ${JSON.stringify(catalog, null, 2)};
`;
}

/** Wrapper names by function name, for bundles that need no help texts. */
export function namesSource(catalog: readonly CatalogEntry[]): string {
  const lines = catalog.map(({ name, wrapper }) => `  ${name}: "${wrapper}",`);
  return `/** Generated from the comments of functions.ts by \`npm run docs\`; do not edit. */
export const wrapperNames = {
${lines.join("\n")}
} as const;
`;
}
