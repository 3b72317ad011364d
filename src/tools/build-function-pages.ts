/** The reference pages of the worksheet functions: one a function, and an index. From the entries and the core's comments. */
import { settingList } from "../core/house/settings.js";
import { OPENING_COLUMNS, WALL_COLUMNS } from "../core/house/walls.js";
import * as library from "../index.js";
import type { Entry } from "../worksheet/entry.js";
import { EXAMPLE_HOUSE } from "../worksheet/example-house.js";
import { topics, usage } from "../worksheet/registry.js";
import type { CoreComment } from "./core-comments.js";

/** Where each range of the example house would stand on a sheet. */
const EXAMPLE_RANGES = { walls: "A1:E2", openings: "A4:F5", settings: "A7:B10" } as const;

export function pageName(id: string): string {
  return id.toLowerCase().replaceAll("_", "-");
}

/** Pictures that help, by function; each stands in docs/functions. */
export type Pictures = Readonly<Record<string, { readonly file: string; readonly alt: string }>>;

/** A vertical bar would end the cell. */
function cellText(value: string): string {
  return value.replaceAll("|", "\\|");
}

function argumentTable({ parameters }: Entry): string {
  if (parameters.length === 0) return "It takes no arguments.";
  const rows = parameters.map((each) => {
    const kind = each.repeats ? ", ranges" : each.matrix ? ", a range" : "";
    return `| \`${each.name}\` | ${each.optional ? "may be left out" : "needed"}${kind} | ${cellText(each.description)} | ${cellText(each.limits)} |`;
  });
  return `| argument | | what it is | unit and limits |\n|---|---|---|---|\n${rows.join("\n")}`;
}

/** `wrong-kind, out-of-range: a; not-covered: b` as what a cell shows. */
function errorLines(thrown: string): string[] {
  const kinds = "wrong-kind|out-of-range|not-covered";
  const pattern = new RegExp(
    `((?:${kinds})(?:, (?:${kinds}))*): (.*?)(?=;?\\s*(?:(?:${kinds})(?:, (?:${kinds}))*): |$)`,
    "g"
  );
  return [...thrown.matchAll(pattern)].map(([, names = "", text = ""]) => {
    const shows = names.split(", ").map((name) => (name === "not-covered" ? "#N/A" : "#VALUE!"));
    return `- \`${[...new Set(shows)].join("` or `")}\`: ${text.trim().replace(/;$/, "")}`;
  });
}

function errorsOf(entry: Entry, core: CoreComment | undefined): string {
  if (entry.parameters.length === 0) return "None.";
  const lines = errorLines(core?.throws ?? "");
  if (entry.house) {
    lines.push(
      "- `#VALUE!`: a needed header is missing, or a cell cannot be read; the message names the table, the row and the wall"
    );
    lines.push("- `#SPILL!`: something stands in the cells the table needs");
  } else {
    if (lines.length === 0) {
      lines.push("- `#VALUE!`: an argument cannot be read, or is outside its limits");
    }
    if (entry.spills) lines.push("- `#SPILL!`: something stands in the cells the table needs");
  }
  return `${lines.join("\n")}\n\nThe message says which argument, what came and what is allowed. [What to do](../cell-errors.md).`;
}

function table(rows: readonly (readonly unknown[])[], hasHeader = true): string {
  const width = Math.max(...rows.map((row) => row.length));
  const line = (row: readonly unknown[]): string =>
    `| ${Array.from({ length: width }, (_, index) => cellText(String(row[index] ?? ""))).join(" | ")} |`;
  const [first = [], ...rest] = hasHeader ? rows : [Array(width).fill(""), ...rows];
  return [line(first), `|${"---|".repeat(width)}`, ...rest.map(line)].join("\n");
}

/** The example with ranges for the names of the example house. */
function placed(formula: string): string {
  return formula.replace(
    /\b(walls|openings|settings)\b/g,
    (name) => EXAMPLE_RANGES[name as keyof typeof EXAMPLE_RANGES]
  );
}

/** The formula as it is typed where the comma is the decimal sign: only the separators outside text change. */
export function withSemicolons(formula: string): string {
  return formula
    .split(/("(?:[^"]|"")*")/)
    .map((part, index) =>
      index % 2 === 1 ? part : part.replaceAll(",", ";").replace(/(\d)\.(\d)/g, "$1,$2")
    )
    .join("");
}

function example({ example: [formula, value] }: Entry): string {
  const shown = placed(formula);
  const isTable = Array.isArray(value);
  const rows = isTable ? (value as unknown[][]) : [];
  const isHouse = shown !== formula;
  const { walls, openings, settings } = EXAMPLE_HOUSE;
  const parts = [
    ...(isHouse
      ? [
          `A wall, a window and two settings, with their headers in row 1 and row 4:`,
          `Walls, \`${EXAMPLE_RANGES.walls}\`:\n\n${table(walls)}`,
          `Openings, \`${EXAMPLE_RANGES.openings}\`:\n\n${table(openings)}`,
          `Settings, \`${EXAMPLE_RANGES.settings}\`:\n\n${table(settings, false)}`,
        ]
      : []),
    `\`\`\`\n${shown}\n\`\`\``,
    isTable ? table(rows, typeof rows[0]?.[0] === "string") : `is \`${String(value)}\`.`,
  ];
  const other = withSemicolons(shown);
  if (other !== shown) {
    parts.push(`Where your spreadsheet separates arguments with semicolons: \`${other}\``);
  }
  return parts.join("\n\n");
}

function columns(
  title: string,
  list: readonly { readonly name: string; readonly needed?: boolean }[]
): string {
  const needed = list.filter((each) => each.needed).map((each) => each.name);
  const other = list.filter((each) => !each.needed).map((each) => each.name);
  return `**${title}** needs ${needed.join(", ")}; it may have ${other.join(", ")}.`;
}

/** What may stand in the three tables; the settings' page has the settings too. */
function tablesSection(entry: Entry): string[] {
  if (!entry.name.startsWith("HOUSE_")) return [];
  const parts = [
    "## The tables",
    [
      columns("Walls", WALL_COLUMNS),
      columns("Openings", OPENING_COLUMNS),
      "Columns may stand in any order. A header that ends in (in), (ft) or (mm) says what plain numbers below it mean; without one they are inches. Blank cells take the setting, blank rows are skipped.",
    ].join("\n\n"),
  ];
  if (entry.name !== "HOUSE_SETTINGS") {
    return [...parts, "[All settings and their defaults](house-settings.md)."];
  }
  const rows = settingList().map(({ label, fallback, help }) => [
    label,
    fallback === "" ? "blank" : fallback,
    help,
  ]);
  return [...parts, "## The settings", table([["setting", "default", "what it is"], ...rows])];
}

function page(entry: Entry, core: CoreComment | undefined, pictures: Pictures): string {
  const picture = pictures[entry.name];
  const known = [
    core?.source ? `Source: ${core.source}.`.replace(/\.\.$/, ".") : "",
    core ? `The sum is in [${core.file}](../../${core.file}).` : "",
  ].filter((part) => part !== "");
  const parts = [
    `# ${entry.name}`,
    `\`=${usage(entry)}\``,
    entry.description,
    ...(picture ? [`![${picture.alt}](${picture.file})`] : []),
    "## Arguments",
    argumentTable(entry),
    "## Answer",
    `${entry.returns}${entry.spills ? " It spills: leave the cells below and to the right empty." : ""}${core?.returns && !entry.name.startsWith("HOUSE_") ? ` (${core.returns})` : ""}`,
    "## Example",
    example(entry),
    ...tablesSection(entry),
    "## Errors",
    errorsOf(entry, core),
    ...(known.length > 0 ? ["## How it is known", known.join(" ")] : []),
    ...(entry.cautions.length > 0 ? ["## Caution", ...entry.cautions] : []),
    "[All functions](../functions.md)",
  ];
  return `${parts.join("\n\n")}\n`;
}

function index(): string {
  const parts = topics.map(({ title, functions }) => {
    const rows = functions.map(
      (entry) =>
        `| [\`${usage(entry)}\`](functions/${pageName(entry.name)}.md) | ${cellText(entry.description)} | ${cellText(entry.returns)} |`
    );
    return `## ${title}\n\n| function | what it does | answer |\n|---|---|---|\n${rows.join("\n")}`;
  });
  const intro = `# Worksheet functions

Generated from the comments of the functions; each has a page of its own.

Every length is a number of inches or tape-measure text: \`24'-6 1/2"\`, \`24' 6.5\`, \`24ft 6in\`, \`1-7/8\`, \`½\`, \`622.3 mm\`, with a decimal point or a decimal comma.
A blank optional argument takes its default. A bad input is a \`#VALUE!\` whose message names the argument, what came and
what is allowed; \`#N/A\` means that the input is sound but no rule or published table reaches it. [What to do about errors](cell-errors.md).

Type a fraction as text (\`'1 7/8\`) or format the cell as text first: a bare \`1-7/8\` or \`5/8\` becomes a date.

Names are English in every language of the spreadsheet. Where the comma is the decimal sign, arguments are separated by semicolons: \`=SHEATH.CORNER_OFFSET("1-1/4"; "5/8")\`.
`;
  return `${intro}\n${parts.join("\n\n")}\n`;
}

/** Functions of the core by what they are, for a bundler may have renamed them. */
const names = new Map<unknown, string>(Object.entries(library).map(([name, each]) => [each, name]));

/** Pages by path. */
export function functionPages(
  comments: ReadonlyMap<string, CoreComment>,
  pictures: Pictures = {}
): [string, string][] {
  return [
    ["docs/functions.md", index()],
    ...topics.flatMap(({ functions }) =>
      functions.map((entry): [string, string] => [
        `docs/functions/${pageName(entry.name)}.md`,
        page(entry, comments.get(names.get(entry.core) ?? ""), pictures),
      ])
    ),
  ];
}
