/**
 * Mutation testing: `npm run mutation`, or of some files `npm run mutation -- --mutate src/core/tape.ts`. It changes the
 * core a little at a time and looks whether a test notices; docs/mutation.md has what it found. Hours for all of it.
 */
export default {
  plugins: ["@stryker-mutator/mocha-runner", "./tests/mutation/ignore-wording.mjs"],
  ignorers: ["wording"],
  testRunner: "mocha",
  buildCommand: "node tests/mutation/compile.mjs",
  // the laws of whole houses take ten seconds for each change that survives: leave them out first, then try what is left
  mochaOptions: {
    config: process.env.MUTATION_QUICK
      ? "tests/mutation/mocha-quick.json"
      : "tests/mutation/mocha.json",
  },
  coverageAnalysis: "perTest",
  // tables of figures are held to their documents by tests/published, row by row
  // and the planner has tests of its own: stryker-cut-plan.config.mjs
  mutate: ["src/core/**/*.ts", "!src/core/data/**", "!src/core/cut-plan/**"],
  ignorePatterns: ["sample-workbooks", "dist", "takeoff", "docs", "manifest", "tests/browser"],
  reporters: ["clear-text", "json", "progress-append-only"],
  clearTextReporter: { logTests: false, reportTests: false, allowColor: false },
  jsonReporter: { fileName: "build/mutation/report.json" },
  tempDirName: "build/mutation/sandbox",
  // a change to what is made once, when a file is loaded, needs a fresh process and every test
  ignoreStatic: true,
  concurrency: 1,
  timeoutMS: 15_000,
  disableTypeChecks: false,
};
