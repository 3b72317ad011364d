/** All sample workbooks: how they are built and stored. */
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { FormulaEvaluator, isCellError } from "../../src/host/engine/index.js";
import { sampleTemplates } from "../../src/tools/build-workbooks.js";
import { readFirstFormulas } from "../../src/tools/workbook-sources.js";
import { buildWorkbook } from "../../src/tools/write-template.js";
import {
  partsOf,
  recalculated,
  ROOT,
  sampleBytes,
  SAMPLES,
  stored,
  WITH_FUNCTIONS,
} from "./open.js";

const templates = sampleTemplates(ROOT);
const first = readFirstFormulas(path.join(ROOT, "sample-workbooks", "first-formulas"));

describe("sample workbooks", () => {
  it("are all there should be", () => {
    expect(Object.keys(templates).sort()).toEqual([...SAMPLES].sort());
  });

  it.each(SAMPLES)("%s is built from its sources, the same bytes every time", async (name) => {
    const template = templates[name] as NonNullable<(typeof templates)[string]>;
    const once = await buildWorkbook(template);
    const again = await buildWorkbook(template);
    expect(Buffer.from(again.bytes).equals(Buffer.from(once.bytes))).toBe(true);
    // packed bytes may differ from one machine's zip library to another's; the content may not
    expect(partsOf(once.bytes)).toEqual(partsOf(sampleBytes(name)));
  });

  it.each(SAMPLES)("%s recalculates with no cell in error", (name) => {
    const { errors, formulaCount, keptCount } = stored(name).recalculate();
    expect(errors).toEqual([]);
    expect(formulaCount).toBeGreaterThan(50);
    expect(keptCount).toBe(0);
  });

  it.each(SAMPLES)("%s stores the values of a fresh calculation", (name) => {
    const before = stored(name);
    const after = recalculated(name);
    let cells = 0;
    for (const sheet of before.sheetNames) {
      const area = before.usedRange(sheet) as string;
      expect(after.usedRange(sheet)).toBe(area);
      const old = before.range(sheet, area);
      expect(after.range(sheet, area)).toEqual(old);
      cells += old.flat().filter((value) => value !== null).length;
    }
    expect(cells).toBeGreaterThan(200);
  });

  it.each(WITH_FUNCTIONS)(
    "%s stores our functions in the form the desktop program reads",
    (name) => {
      const parts = partsOf(sampleBytes(name));
      let calls = 0;
      for (const [file, xml] of parts) {
        if (!file.startsWith("xl/worksheets/sheet")) continue;
        for (const [cell, formula] of xml.matchAll(/<c [^>]*>\s*<f[^>]*>([^<]*)<\/f>/g)) {
          const outsideQuotes = (formula as string).replace(/&quot;.*?&quot;/g, "");
          expect(outsideQuotes).not.toMatch(/SHEATH\./i);
          expect(outsideQuotes).not.toMatch(/\b(NOW|TODAY|RAND|RANDBETWEEN|OFFSET|INDIRECT)\(/);
          if (!outsideQuotes.includes("_xldudf_SHEATH_")) continue;
          calls++;
          expect(cell).toMatch(/ cm="1"/);
          expect(cell).toMatch(/<f t="array" ref="[A-Z]+\d+(:[A-Z]+\d+)?">/);
        }
      }
      expect(calls).toBeGreaterThan(20);
      expect(parts.get("xl/metadata.xml")).toContain('fDynamic="1"');
      expect(parts.get("xl/workbook.xml")).not.toContain("fullCalcOnLoad");
    }
  );

  it.each(["house-template.xlsx", "demo-house.xlsx"])(
    "%s guards what is typed, freezes headers and prints by page",
    (name) => {
      const parts = partsOf(sampleBytes(name));
      const walls = parts.get("xl/worksheets/sheet2.xml") as string;
      expect(walls).toContain('sqref="G6:G60"><formula1>&quot;past,flush,tight,short,free&quot;');
      expect(walls).toContain('sqref="Q6:Q60"><formula1>&quot;yes,no&quot;');
      expect(walls).toMatch(/<pane xSplit="1" ySplit="5"[^>]*state="frozen"/);
      const openings = parts.get("xl/worksheets/sheet3.xml") as string;
      expect(openings).toContain('sqref="A6:A90"><formula1>Walls!$A$6:$A$60</formula1>');
      expect(parts.get("xl/workbook.xml")).toContain(
        '<definedName name="_xlnm.Print_Titles" localSheetId="1">&apos;Walls&apos;!$5:$5</definedName>'
      );
      for (const sheet of [1, 2, 3, 4, 6, 7]) {
        const xml = parts.get(`xl/worksheets/sheet${sheet}.xml`) as string;
        expect(xml).toContain('orientation="landscape"');
        expect(xml).toContain('<pageSetUpPr fitToPage="1"/>');
      }
    }
  );
});

describe("first-formulas.xlsx", () => {
  const book = recalculated("first-formulas.xlsx");
  const rows = first.formulas.map((entry, index) => ({
    ...entry,
    answer: book.cell("Formulas", `B${6 + index}`),
    expectedCell: book.cell("Formulas", `C${6 + index}`),
    agrees: book.cell("Formulas", `D${6 + index}`),
  }));

  it("shows every worksheet function", () => {
    const shown = rows.map(({ answer }) => answer.formula).join("\n");
    const missing = worksheetFunctions
      .map(({ name }) => name)
      .filter((name) => !shown.includes(`SHEATH.${name}(`));
    expect(missing).toEqual([]);
    expect(worksheetFunctions.length).toBeGreaterThan(40);
  });

  it("spills every function that answers with a table", () => {
    const missing = worksheetFunctions
      .filter(({ spills }) => spills)
      .map(({ name }) => name)
      .filter((name) => !book.findCalls(name).some(({ sheet }) => sheet === "Tables"));
    expect(missing).toEqual([]);
  });

  it("leaves every table its rows and says why of every value", () => {
    let row = 4;
    for (const { formula, rows: kept } of first.tables) {
      const { spill } = book.cell("Tables", `A${row + 1}`);
      const last = Number(/\d+$/.exec(spill ?? "")?.[0]);
      expect({ formula, fits: last <= row + 1 + kept }).toEqual({ formula, fits: true });
      row += kept + 3;
    }
    for (const { why } of rows) expect(why).not.toBe("");
  });

  it.each(rows)("$formula is $expected", ({ answer, expected, expectedCell, within, agrees }) => {
    expect(expectedCell.formula).toBeUndefined();
    expect(expectedCell.value).toBe(expected);
    if (typeof expected === "number") {
      expect(Math.abs((answer.value as number) - expected)).toBeLessThanOrEqual(
        Math.max(within, 1e-9)
      );
    } else expect(answer.value).toBe(expected);
    expect(agrees.formula).not.toContain("SHEATH");
    expect(agrees.value).toBe("yes");
  });

  it.each(first.mistakes)("$formula shows $shows", ({ formula, shows, says }) => {
    const answer = new FormulaEvaluator(worksheetFunctions).evaluate(formula);
    if (!isCellError(answer)) throw new Error(`${formula} is no error`);
    expect(answer.error).toBe(shows);
    expect(answer.message).toContain(says);
  });
});
