/** docs/checks.md is what the rows say today. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { checksPage } from "../../src/tools/build-checks-page.js";
import { validationRows } from "../../src/tools/validation/index.js";

const page = readFileSync(join(__dirname, "../../docs/checks.md"), "utf8");

describe("docs/checks.md", () => {
  it("is up to date: run npm run docs", () => {
    expect(page).toBe(checksPage());
  });

  it("shows every row and counts every figure", () => {
    const figures = validationRows.reduce((sum, row) => sum + row.cases.length, 0);
    expect(page).toContain(`**${figures} published figures** in ${validationRows.length} rows`);
    for (const row of validationRows) expect(page).toContain(`### ${row.id}: `);
  });

  it("marks every remembered row and shows every disagreement", () => {
    const remembered = validationRows.filter((row) => row.confirmed === "memory");
    expect(remembered.length).toBeGreaterThan(0);
    for (const row of remembered) {
      const at = page.indexOf(`### ${row.id}: `);
      expect(page.slice(at, page.indexOf("| of |", at))).toContain("from memory");
    }
    for (const row of validationRows.filter((entry) => entry.disagrees)) {
      expect(page).toContain(`- **${row.id}** (`);
    }
  });
});
