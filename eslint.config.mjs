import tseslint from "typescript-eslint";

/**
 * What each folder of src may import: of our folders itself and those named, all of them above it in
 * the list, so that none go in a ring; of packages those whose names start so (undefined: any, for
 * what runs on a developer's machine only).
 */
const MAY_IMPORT = {
  core: { folders: [], packages: [] },
  "core/house": { folders: ["core"], packages: [] },
  "host/engine": { folders: ["core"], packages: ["@cj-tech-master/excelts/", "bessel", "numfmt"] },
  "index.ts": { folders: ["core", "core/house"], packages: [] },
  worksheet: { folders: ["core", "core/house"], packages: [] },
  templates: { folders: ["core", "core/house"], packages: [] },
  pane: { folders: ["core", "core/house", "worksheet"], packages: [] },
  addin: {
    folders: ["core", "core/house", "worksheet", "templates", "pane"],
    packages: [],
  },
  "script-host": { folders: ["worksheet"], packages: [] },
  "host/web": {
    folders: ["core", "core/house", "host/engine", "worksheet", "pane"],
    packages: ["node:", "@univerjs/"],
  },
  cli: {
    folders: ["core", "core/house", "host/engine", "worksheet", "templates", "pane"],
    packages: ["node:", "tinypool"],
  },
  tools: {
    folders: ["core", "core/house", "host/engine", "worksheet", "templates", "pane"],
    packages: undefined,
  },
};

const ROWS = Object.keys(MAY_IMPORT);

/** The rule of one folder; imports name a folder by the last part of its path. */
function importsOf(row) {
  const { folders, packages } = MAY_IMPORT[row];
  const others = ROWS.filter((each) => each !== row && !folders.includes(each))
    .map((each) => each.split("/").at(-1))
    .join("|");
  const patterns = [
    // a file inside a package by its path is no folder of ours
    {
      regex: `^\\.{1,2}/(?!.*node_modules/)(?:.*/)?(?:${others})/`,
      message: `src/${row} may not import this folder`,
    },
  ];
  if (packages) {
    const allowed = packages.length > 0 ? `(?!${packages.join("|")})` : "";
    patterns.push({
      regex: `^(?!\\.)${allowed}`,
      message: `src/${row} may not import this package`,
    });
  }
  return {
    files: row.endsWith(".ts") ? [`src/${row}`] : [`src/${row}/**/*.{ts,mjs}`],
    rules: { "no-restricted-imports": ["error", { patterns }] },
  };
}

export default tseslint.config(
  {
    ignores: ["build/", "dist/", "coverage/", "takeoff/", "node_modules/"],
  },
  ...tseslint.configs.recommended,
  {
    files: ["**/*.ts"],
    rules: {
      eqeqeq: "error",
      "no-param-reassign": "error",
      "prefer-const": "error",
      "@typescript-eslint/no-unused-vars": [
        "error",
        { argsIgnorePattern: "^_", varsIgnorePattern: "^_" },
      ],
      "@typescript-eslint/consistent-type-imports": ["error", { fixStyle: "inline-type-imports" }],
    },
  },
  {
    // the core is pure: no host, no files, no clock, no chance
    files: ["src/core/**/*.ts"],
    rules: {
      "no-restricted-globals": [
        "error",
        "process",
        "window",
        "document",
        "fetch",
        "setTimeout",
        "performance",
        "console",
      ],
      "no-restricted-properties": [
        "error",
        { object: "Math", property: "random" },
        { object: "Date", property: "now" },
      ],
    },
  },
  ...ROWS.map(importsOf)
);
