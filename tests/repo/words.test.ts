/** Words that do not belong in the project: paths of one machine, hosts, and how it came about. */
import { filesUnder, textOf } from "./files.js";

const TEXT =
  /\.(ts|mts|mjs|js|json|md|tsv|csv|html|css|xml|yml|yaml|txt)$|(^|\/)(LICENSE|\.ci\/run|\.npmrc|\.gitignore)$/;
const files = filesUnder("").filter((path) => TEXT.test(path));

/** Put together here, so that this file does not hold what it looks for. */
const joined = (...parts: string[]): string => parts.join("");
const FORBIDDEN: readonly (readonly [string, RegExp])[] = [
  ["a home folder", /(?<![\w.])\/(?:home|Users|root)\/[a-z]/],
  ["a scratch folder", new RegExp(`(?<![\\w.])/${joined("t", "mp")}/[a-z]`)],
  ["a work folder", new RegExp(`(?<![\\w./])/${joined("wo", "rk")}/[a-z]`)],
  ["a drive of one machine", /\b[C-Z]:\\[A-Z]/],
  ["a registry's host", new RegExp(joined("regi", "stry\\.[a-z]+js|regi", "stry\\.yarn"), "i")],
  ["a local address with a user", /\b[a-z]+@[a-z-]+:\//],
  [
    "who wrote it",
    new RegExp(`\\b(?:${joined("A", "I")}|${joined("L", "LM")}|${joined("chat", "bot")})\\b`),
  ],
  [
    "a helper of the work",
    new RegExp(`\\b${joined("sub", "agent")}s?\\b|\\b${joined("co", "pilot")}\\b`, "i"),
  ],
  ["a ticket", new RegExp(`\\b${joined("iss", "ue")} #?\\d+\\b`, "i")],
  [
    "notes that are not in the project",
    new RegExp(
      `\\b(?:${joined("TRA", "DE")}|${joined("FUNC", "TIONS")}|${joined("CHE", "CKS")}|${joined("HO", "ST")}|${joined("OFF", "ICE")}|${joined("STY", "LE")})\\.md\\b`
    ),
  ],
];

it("looks at every file a person reads", () => {
  expect(files.length).toBeGreaterThan(100);
  for (const path of ["README.md", "package.json", "src/core/units.ts", "docs/functions.md"]) {
    expect(files).toContain(path);
  }
});

it.each(FORBIDDEN)("no file holds %s", (_what, pattern) => {
  const found = files.flatMap((path) =>
    textOf(path)
      .split("\n")
      .flatMap((line, index) => {
        const match = pattern.exec(line);
        return match ? [`${path}:${index + 1} ${match[0]}`] : [];
      })
  );
  expect(found).toEqual([]);
});

it("the search finds what it looks for", () => {
  const sample = [
    joined("/ho", "me/someone"),
    joined("/t", "mp/x"),
    joined("/wo", "rk/x"),
    joined("C:", "\\Users"),
    joined("regi", "stry.npmjs"),
    joined("git@", "host:/x"),
    joined("by A", "I."),
    joined("a sub", "agent"),
    joined("iss", "ue 12"),
    joined("TRA", "DE.md"),
  ];
  FORBIDDEN.forEach(([, pattern], index) => expect(sample[index]).toMatch(pattern));
  expect(sample).toHaveLength(FORBIDDEN.length);
});

/** What reaches a user: the guide, the workbooks' sources, and the folders whose comments and texts are shown. */
const SHOWN =
  /^(?:[A-Z]+\.md|docs\/.*|sample-workbooks\/.*|src\/(?:core|functions|templates|cli|tools|script-host)\/.*)$/;
/** British for American words; whole words, so that the metric units read from a cell are none. */
const BRITISH =
  /neighbour|\bstoreys?\b|\bcent(?:re[sd]?|ring)\b|\b(?:milli)?metres?\b|colour|\bmitre|\blicences?\b|\blabell(?:ed|ing)\b|behaviour|\bgreys?\b|catalogue|favour|labour\b|vapour|mould|\b(?:minim|maxim|recogn|organ|summar|normal|real)is(?:e[sd]?|ing)\b/i;

it("what a user reads is spelled the American way", () => {
  const read = files.filter((path) => SHOWN.test(path));
  expect(read.length).toBeGreaterThan(150);
  const found = read.flatMap((path) =>
    textOf(path)
      .split("\n")
      .flatMap((line, index) => {
        const match = BRITISH.exec(line);
        return match ? [`${path}:${index + 1} ${match[0]}`] : [];
      })
  );
  expect(found).toEqual([]);
  for (const word of ["neighbours", "storey", "stud centre", "Colour", "minimised"]) {
    expect(word).toMatch(BRITISH);
  }
});
