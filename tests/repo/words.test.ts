/** Words that do not belong in the project: paths of one machine, hosts, British spelling. */
import { filesUnder, textOf } from "./files.js";

const TEXT =
  /\.(ts|mts|mjs|js|json|md|tsv|csv|html|css|xml|yml|yaml|txt)$|(^|\/)(LICENSE|\.ci\/run|\.npmrc|\.gitignore)$/;
const files = filesUnder("").filter((path) => TEXT.test(path));

/** Samples are put together here, so that this file does not hold what it looks for. */
const FORBIDDEN: readonly (readonly [what: string, pattern: RegExp, sample: string])[] = [
  [
    "a folder of one machine",
    /(?<![\w./])\/(?:home|Users|root|tmp|work)\/[a-z]/,
    "/" + "home/someone",
  ],
  ["a drive of one machine", /\b[C-Z]:\\[A-Z]/, "C:" + "\\Users"],
  ["a registry's host", /registry\.(?:[a-z]+js|yarn)/i, "registry" + ".npmjs"],
  ["a local address with a user", /\b[a-z]+@[a-z-]+:\//, "git@" + "host:/x"],
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

it.each(FORBIDDEN)("the search finds %s", (_what, pattern, sample) => {
  expect(sample).toMatch(pattern);
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
