/** Every published figure, keyed in under src/tools/validation, against ours. docs/checks.md shows the same rows. */
import { validationRows, lookUps, notCompared } from "../../src/tools/validation/index.js";
import { workCase } from "../../src/tools/validation/row.js";

describe.each(validationRows.map((row) => [row.id, row] as const))("%s", (_id, row) => {
  it(`${row.quantity}: ${row.source}`, () => {
    const worked = row.cases.map((entry) => workCase(row, entry));
    expect(worked.length).toBeGreaterThan(0);
    for (const entry of worked) {
      if (typeof entry.ours === "number") expect(Number.isFinite(entry.ours)).toBe(true);
    }
    const off = worked.filter((entry) => !entry.isWithin);
    if (row.disagrees) {
      // a disagreement that went away is news too: take the mark off and say so in the changelog
      expect(off.length).toBeGreaterThan(0);
      expect(row.note).toBeTruthy();
    } else {
      expect(off).toEqual([]);
    }
  });
});

describe("the rows as a whole", () => {
  it("have ids of their own, among look-ups and figures not compared too", () => {
    const ids = [...validationRows, ...lookUps, ...notCompared].map((entry) => entry.id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("say where every figure stands and why the tolerance is what it is", () => {
    for (const row of validationRows) {
      expect(row.source.length).toBeGreaterThan(5);
      expect(row.why.length).toBeGreaterThan(3);
      expect(row.tolerance).toBeGreaterThanOrEqual(0);
    }
    expect(validationRows.length).toBeGreaterThanOrEqual(60);
  });
});
