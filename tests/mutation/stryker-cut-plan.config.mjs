/**
 * Mutation testing of the planner alone: `npm run mutation:cut-plan`, or of one file `npm run mutation:cut-plan -- --mutate
 * src/core/cut-plan/sheet.ts`. Its tests are those of tiny problems; the tests of whole houses take seconds each.
 */
import whole from "./stryker.config.mjs";

export default {
  ...whole,
  mochaOptions: { config: "tests/mutation/mocha-cut-plan.json" },
  mutate: ["src/core/cut-plan/*.ts"],
  // a change that goes round for ever is found out sooner: no test here takes a second
  timeoutMS: 2500,
};
