/** The reference page of worksheet functions, from the catalog. */
import type { CatalogEntry } from "./build-catalog.js";

const GROUPS: readonly (readonly [string, RegExp])[] = [
  ["Lengths", /^(INCHES|FEET_INCHES|VERSION)$/],
  [
    "Corners, layout and studs",
    /^(PANEL_THICKNESS|CORNER_OFFSET|RUN_LENGTH|STUD_MARKS|PANEL_BREAKS|RAKE_STUDS|BACKING_STUDS|ROUTER_BIT)$/,
  ],
  ["Panels and rips", /^(PANELS_PER_WALL|RIP_HEIGHT|RIPS_PER_PANEL)$/],
  ["Tape", /TAPE/],
  ["Nails", /NAIL/],
  ["Energy and moisture", /^(FOAM_|WALL_|BRIDGING|DEW_|VAPOR|HEAT_)/],
  ["A house, from tables", /^HOUSE_/],
];

function usage(entry: CatalogEntry): string {
  const list = entry.parameters.map((each) => (each.optional ? `[${each.name}]` : each.name));
  return `SHEATH.${entry.name}(${list.join(", ")})`;
}

function section(entry: CatalogEntry): string {
  const rows = entry.parameters.map(
    (each) =>
      `| \`${each.name}\` | ${each.optional ? "may be left out" : "needed"}${each.matrix ? ", a range" : ""} | ${each.description} |`
  );
  const table = rows.length === 0 ? "" : `\n\n| argument | | |\n|---|---|---|\n${rows.join("\n")}`;
  return `### ${entry.name}\n\n\`=${usage(entry)}\`\n\n${entry.description}${table}\n\nAnswer: ${entry.returns}${entry.spills ? " Spills." : ""}`;
}

/** Pages by path. */
export function functionPages(catalog: readonly CatalogEntry[]): [string, string][] {
  const left = new Set(catalog);
  const parts = GROUPS.map(([title, pattern]) => {
    const members = [...left].filter((entry) => pattern.test(entry.name));
    members.forEach((entry) => left.delete(entry));
    return `## ${title}\n\n${members.map(section).join("\n\n")}`;
  });
  if (left.size > 0) {
    throw new Error(`no group for ${[...left].map((entry) => entry.name).join(", ")}`);
  }
  const intro = `# Worksheet functions

Generated from the comments of the functions.

Every length is a number of inches or tape-measure text: \`24'-6 1/2"\`, \`24' 6.5\`, \`24ft 6in\`, \`1-7/16\`, \`½\`, \`622.3 mm\`.
A blank optional argument takes its default. A bad input is a \`#VALUE!\` whose message names the argument, what came and
what is allowed; \`#N/A\` means that the input is sound but no rule or published table reaches it.

Type a fraction as text (\`'1 7/16\`) or format the cell as text first: a bare \`1-7/16\` or \`7/16\` becomes a date.
`;
  return [["docs/functions.md", `${intro}\n${parts.join("\n\n")}\n`]];
}
