/** The reference pages: every example is run, every link leads somewhere, nothing is left to fill in. */
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { FormulaEvaluator } from "../../src/host/engine/index.js";
import { runnableExample } from "../../src/tools/example-calls.js";
import { pageName, withSemicolons } from "../../src/tools/build-function-pages.js";
import { generatedFiles } from "../../src/tools/build-docs.js";
import { type Cell, problemsOf } from "../golden/golden.js";

const ROOT = path.resolve(__dirname, "..", "..");
const FOLDER = path.join(ROOT, "docs", "functions");

describe("function pages", () => {
  test("every worksheet function has one, and there is none without a function", () => {
    const wanted = worksheetFunctions.map((each) => `${pageName(each.name)}.md`).sort();
    const there = fs.readdirSync(FOLDER).filter((name) => name.endsWith(".md"));
    expect(wanted.length).toBeGreaterThan(40);
    expect(there.sort()).toEqual(wanted);
  });

  test("every example comes to what its page says", () => {
    const evaluator = new FormulaEvaluator(worksheetFunctions);
    const answers = evaluator.evaluateAll(worksheetFunctions.map(runnableExample));
    const wrong = worksheetFunctions.flatMap(({ name, example }, index) => {
      const row = { function: name, arguments: [], result: example[1] as Cell | Cell[][] };
      return problemsOf(row, { value: answers[index] }).map((each) => `${name}: ${each}`);
    });
    expect(wrong).toEqual([]);
  });

  test("every page names each argument, its errors and an example", () => {
    for (const { name, parameters } of worksheetFunctions) {
      const text = fs.readFileSync(path.join(FOLDER, `${pageName(name)}.md`), "utf8");
      for (const parameter of parameters) expect(text).toContain(`| \`${parameter.name}\` |`);
      if (parameters.length > 0) expect(text).toMatch(/## Errors\n\n- `#/);
      expect(text).toContain(`SHEATH.${name}(`);
      expect(text).not.toMatch(/undefined|NaN|\[object/);
    }
  });

  test("every link from the pages, the index and the guides leads to a file", () => {
    const pages = [
      ...fs.readdirSync(FOLDER).map((name) => path.join(FOLDER, name)),
      ...["functions.md", "cell-errors.md", "install.md", "first-house.md", "script-host.md"].map(
        (name) => path.join(ROOT, "docs", name)
      ),
    ].filter((name) => name.endsWith(".md"));
    let checked = 0;
    for (const file of pages) {
      const text = fs.readFileSync(file, "utf8").replace(/```[\s\S]*?```|`[^`\n]*`/g, "");
      for (const [, target = ""] of text.matchAll(/\]\(([^)#\s]+)(?:#[^)]*)?\)/g)) {
        if (/^[a-z]+:/.test(target)) continue;
        checked++;
        const to = path.resolve(path.dirname(file), target);
        expect([path.relative(ROOT, file), target, fs.existsSync(to)]).toEqual([
          path.relative(ROOT, file),
          target,
          true,
        ]);
      }
    }
    expect(checked).toBeGreaterThan(100);
  });

  test("nothing generated is out of date", async () => {
    const stale: string[] = [];
    for (const [name, text] of await generatedFiles(ROOT)) {
      const file = path.join(ROOT, name);
      if (!fs.existsSync(file) || fs.readFileSync(file, "utf8") !== text) stale.push(name);
    }
    expect(stale).toEqual([]);
  }, 120000);

  test("semicolons replace only what separates arguments, and commas only decimal points", () => {
    expect(withSemicolons('=SHEATH.A("1,5 a;b", 2.5, {1,2})')).toBe(
      '=SHEATH.A("1,5 a;b"; 2,5; {1;2})'
    );
    expect(withSemicolons('=SHEATH.INCHES("24\'-6 1/2""")')).toBe('=SHEATH.INCHES("24\'-6 1/2""")');
  });
});
