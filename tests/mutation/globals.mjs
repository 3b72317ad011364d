/** The words our tests are written in, for the runner of mutation testing. */
import { createRequire } from "node:module";
import { format } from "node:util";

// the tests load these packages this way, and must meet the same ones
const require = createRequire(import.meta.url);
const { expect } = require("expect");

function title(text, row) {
  const used = [...row];
  return text.replace(/%[sdijopO#]/g, (mark) =>
    format(mark === "%#" || mark === "%p" ? "%j" : mark, used.shift())
  );
}

/** `it.each` and `describe.each` over rows or single values. */
function each(declare) {
  return (rows) =>
    (text, work, ...rest) =>
      rows.forEach((given, index) => {
        const row = rows.every(Array.isArray) ? given : [given];
        const name = title(text, row);
        declare(rows.length > 1 ? `${name} [${index + 1}]` : name, () => work(...row), ...rest);
      });
}

const keepers = [];
/** Empties what the core's callers and the tests keep of earlier answers. */
function forget() {
  for (const keeper of keepers) keeper.clear();
}
// every change is tried in one process, and a test must reach by itself what it holds
export const mochaHooks = { beforeEach: forget };

globalThis.expect = expect;
globalThis.forgetful = (keeper) => {
  keepers.push(keeper);
  return keeper;
};
globalThis.jest = {
  setTimeout: () => undefined,
  copyOf: (load, name) => ({ ...load(name) }),
  exchange(load, name, make) {
    const module = load(name);
    const own = { ...module };
    globalThis.before(() => Object.assign(module, make()));
    globalThis.after(() => Object.assign(module, own));
  },
};

// the runner makes its words anew for every file; ours are bent when they are asked for
for (const [name, source] of [
  ["test", "it"],
  ["beforeAll", "before"],
  ["afterAll", "after"],
]) {
  Object.defineProperty(globalThis, name, {
    configurable: true,
    get: () => globalThis[source],
  });
}
for (const name of ["it", "describe"]) {
  let held;
  Object.defineProperty(globalThis, name, {
    configurable: true,
    get: () => held,
    set: (declare) => {
      const plain = (text, work) => declare(text, work);
      held = Object.assign(plain, declare, { each: each(plain) });
    },
  });
}
