/** The reference pages of the worksheet functions: one a function, and an index. From the comments only. */
import { settingList } from "../core/house/settings.js";
import { OPENING_COLUMNS, WALL_COLUMNS } from "../core/house/walls.js";
import { functionCautions } from "../functions/function-cautions.js";
import type { CatalogEntry } from "./build-catalog.js";
import type { CoreComment, WrapperComment } from "./core-comments.js";

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

/** The house of the examples; `walls`, `openings` and `settings` in an example are these ranges. */
export const EXAMPLE_HOUSE = {
  walls: [
    ["Wall", "Length", "Height", "Left end", "Right end"],
    ["North", 192, 96, "past", "flush"],
  ],
  openings: [
    ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
    ["North", "Window", 72, 36, 36, 48],
  ],
  settings: [
    ["Foam (in)", "1-1/4"],
    ["Panel (in)", "5/8"],
    ["Cavity R (R)", 20],
    ["Foam R per inch (R)", 4],
  ],
} as const;

/** Where each range of the example house would stand on a sheet. */
const EXAMPLE_RANGES = { walls: "A1:E2", openings: "A4:F5", settings: "A7:B10" } as const;

export function pageName(id: string): string {
  return id.toLowerCase().replaceAll("_", "-");
}

/** Pictures that help, by function; each stands in docs/functions. */
export type Pictures = Readonly<Record<string, { readonly file: string; readonly alt: string }>>;

function usage(entry: CatalogEntry, separator = ","): string {
  const list = entry.parameters.map((each) => (each.optional ? `[${each.name}]` : each.name));
  return `SHEATH.${entry.name}(${list.join(`${separator} `)})`;
}

/** A vertical bar would end the cell. */
function cellText(value: string): string {
  return value.replaceAll("|", "\\|");
}

/** `leftEnd` and `lengthIn` as `left_end` and `length_in`. */
function snake(name: string): string {
  return name
    .replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`)
    .replace(/([a-z])(\d)/g, "$1_$2");
}

/** What the core says of an argument's unit and limits: `in; more than 0`. */
function unitAndLimits(core: CoreComment | undefined, parameter: string): string {
  for (const [name, text] of core?.parameters ?? []) {
    const plain = snake(name);
    if (plain !== parameter && plain.replace(/_(?:in|ft|ft_2|deg|psi|lb)$/, "") !== parameter)
      continue;
    const found =
      /(?:^|, )((?:in|ft|ft2|deg|h ft2 F\/Btu|degrees F|F|Btu\/\(h ft2 F\)|0 to 1)(?:[;,] .*)?)$/.exec(
        text
      );
    return found?.[1] ?? "";
  }
  return "";
}

function argumentTable(entry: CatalogEntry, core: CoreComment | undefined): string {
  if (entry.parameters.length === 0) return "It takes no arguments.";
  const rows = entry.parameters.map((each) => {
    const kind = each.matrix ? ", a range" : "";
    const unit = unitAndLimits(core, each.name);
    return `| \`${each.name}\` | ${each.optional ? "may be left out" : "needed"}${kind} | ${cellText(each.description)} | ${cellText(unit)} |`;
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

function errorsOf(entry: CatalogEntry, core: CoreComment | undefined): string {
  if (entry.parameters.length === 0) return "None.";
  const lines = errorLines(core?.throws ?? "");
  if (entry.name.startsWith("HOUSE_")) {
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

function example(comment: WrapperComment): string {
  const { formula, answer } = comment.example;
  const shown = placed(formula);
  const value: unknown = JSON.parse(answer);
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
    isTable
      ? table(rows, typeof rows[0]?.[0] === "string")
      : `is \`${typeof value === "string" ? value : String(value)}\`.`,
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
function tablesSection(entry: CatalogEntry): string[] {
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

function page(entry: CatalogEntry, comment: WrapperComment, pictures: Pictures): string {
  const { core } = comment;
  const picture = pictures[entry.name];
  const known = [
    core?.source ? `Source: ${core.source}.`.replace(/\.\.$/, ".") : "",
    core ? `The sum is in [${core.file}](../../${core.file}).` : "",
  ].filter((part) => part !== "");
  const cautions = functionCautions(entry.name);
  const parts = [
    `# ${entry.name}`,
    `\`=${usage(entry)}\``,
    entry.description,
    ...(picture ? [`![${picture.alt}](${picture.file})`] : []),
    "## Arguments",
    argumentTable(entry, core),
    "## Answer",
    `${entry.returns}${entry.spills ? " It spills: leave the cells below and to the right empty." : ""}${core?.returns && !entry.name.startsWith("HOUSE_") ? ` (${core.returns})` : ""}`,
    "## Example",
    example(comment),
    ...tablesSection(entry),
    "## Errors",
    errorsOf(entry, core),
    ...(known.length > 0 ? ["## How it is known", known.join(" ")] : []),
    ...(cautions.length > 0 ? ["## Caution", ...cautions] : []),
    "[All functions](../functions.md)",
  ];
  return `${parts.join("\n\n")}\n`;
}

function index(catalog: readonly CatalogEntry[]): string {
  const left = new Set(catalog);
  const parts = GROUPS.map(([title, pattern]) => {
    const members = [...left].filter((entry) => pattern.test(entry.name));
    members.forEach((entry) => left.delete(entry));
    const rows = members.map(
      (entry) =>
        `| [\`${usage(entry)}\`](functions/${pageName(entry.name)}.md) | ${cellText(entry.description)} | ${cellText(entry.returns)} |`
    );
    return `## ${title}\n\n| function | what it does | answer |\n|---|---|---|\n${rows.join("\n")}`;
  });
  if (left.size > 0) {
    throw new Error(`no group for ${[...left].map((entry) => entry.name).join(", ")}`);
  }
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

/** Pages by path. */
export function functionPages(
  catalog: readonly CatalogEntry[],
  comments: readonly WrapperComment[],
  pictures: Pictures = {}
): [string, string][] {
  const byId = new Map(comments.map((each) => [each.id, each]));
  return [
    ["docs/functions.md", index(catalog)],
    ...catalog.map((entry): [string, string] => [
      `docs/functions/${pageName(entry.name)}.md`,
      page(entry, byId.get(entry.name) as WrapperComment, pictures),
    ]),
  ];
}
