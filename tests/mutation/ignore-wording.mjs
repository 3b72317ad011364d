/**
 * Leaves the wording of messages and notes out of mutation testing: what a sentence says is held by tests on what it must
 * name (the argument, the rule, what came), and each of its words is not a fault to be found.
 */
import { PluginKind, declareValuePlugin } from "@stryker-mutator/api/plugin";

/** Calls whose texts are sentences. */
const SENTENCE_CALLS = new Set(["wrongKind", "outOfRange", "notCovered", "CalcError", "fail"]);
/** Fields whose texts are sentences. */
const SENTENCE_FIELDS = new Set([
  "hint",
  "note",
  "finding",
  "whatToDo",
  "help",
  "meaning",
  "source",
]);

function isText(path) {
  return path.isStringLiteral() || path.isTemplateLiteral();
}

export const strykerPlugins = [
  declareValuePlugin(PluginKind.Ignore, "wording", {
    shouldIgnore(path) {
      if (!isText(path)) return undefined;
      for (let at = path.parentPath; at && !at.isStatement(); at = at.parentPath) {
        const { node } = at;
        const isCall =
          (at.isCallExpression() || at.isNewExpression()) && SENTENCE_CALLS.has(node.callee.name);
        const isField = at.isObjectProperty() && SENTENCE_FIELDS.has(node.key.name);
        if (isCall || isField) return "the wording of a message";
      }
      return undefined;
    },
  }),
];
