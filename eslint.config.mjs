import tseslint from "typescript-eslint";

export default tseslint.config(
  {
    ignores: [
      "build/",
      "dist/",
      "coverage/",
      "takeoff/",
      "node_modules/",
      "src/functions/catalog.ts",
    ],
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
    // the core is pure: nothing outside it, no host, no files, no clock, no chance
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
      "no-restricted-imports": [
        "error",
        {
          patterns: [
            "node:*",
            "**/functions/**",
            "**/host/**",
            "**/cli/**",
            "**/pane/**",
            "**/tools/**",
          ],
        },
      ],
      "no-restricted-properties": [
        "error",
        { object: "Math", property: "random" },
        { object: "Date", property: "now" },
      ],
    },
  }
);
