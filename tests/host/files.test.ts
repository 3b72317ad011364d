/** What a workbook keeps when it is opened, calculated and written again. */
import { Workbook as Library } from "@cj-tech-master/excelts";
import { readEntries, unpack } from "../../src/host/engine/zip.js";
import { file, open, partOf, rawSheet, sheet, value, withParts } from "./make.js";

const sheetXml = (bytes: Uint8Array): string => partOf(bytes, "xl/worksheets/sheet1.xml");

/** A workbook with everything a house workbook uses besides formulas. */
async function dressed(): Promise<Uint8Array> {
  return file(
    {
      Walls: {
        A1: "Wall",
        B1: "Length",
        A2: "North",
        B2: 144,
        C2: "=SHEATH.DOUBLE(B2)",
        E2: "=SHEATH.COUNT_UP(3)",
      },
      Hidden: { A1: 1 },
    },
    (library) => {
      const walls = library.getWorksheet("Walls")!;
      walls.getColumn(2).width = 17;
      walls.views = [{ state: "frozen", ySplit: 1, xSplit: 1 }];
      walls.getCell("A1").font = { bold: true };
      walls.getCell("C2").numFmt = "0.000";
      walls.getCell("C2").fill = {
        type: "pattern",
        pattern: "solid",
        fgColor: { argb: "FFFFEEAA" },
      };
      walls.getCell("E3").numFmt = "0.00";
      walls.getCell("B2").dataValidation = {
        type: "list",
        allowBlank: true,
        formulae: ['"past,flush,tight,short,free"'],
      };
      walls.getCell("B3").dataValidation = {
        type: "decimal",
        operator: "greaterThan",
        formulae: ["$B$2*2"],
      };
      walls.getCell("A2").note = "a note";
      walls.mergeCells("A10:C10");
      walls.getRow(12).hidden = true;
      walls.getRow(12).getCell(1).value = 5;
      walls.addConditionalFormatting({
        ref: "B2:B9",
        rules: [
          {
            type: "expression",
            priority: 1,
            formulae: ["B2>100"],
            style: { font: { bold: true } },
          },
        ],
      } as never);
      walls.pageSetup = { orientation: "landscape", fitToPage: true, fitToWidth: 1 } as never;
      walls.addTable({
        name: "Openings",
        ref: "A20",
        columns: [{ name: "Wall" }],
        rows: [["North"]],
      });
      library.definedNames.add("Walls!$B$2", "FirstLength");
      library.getWorksheet("Hidden")!.state = "hidden";
    }
  );
}

describe("a workbook written again", () => {
  test("keeps every part it does not have to change, byte for byte", async () => {
    const before = await dressed();
    const book = open(before);
    book.recalculate();
    const after = book.toBytes();
    const changed = readEntries(before)
      .filter((entry) => {
        const other = readEntries(after).find((each) => each.path === entry.path);
        return !other || !Buffer.from(unpack(other)).equals(Buffer.from(unpack(entry)));
      })
      .map((entry) => entry.path);
    expect(changed.sort()).toEqual([
      "[Content_Types].xml",
      "xl/_rels/workbook.xml.rels",
      "xl/worksheets/sheet1.xml",
    ]);
  });

  test("keeps styles, widths, validations, formats, notes, merges, hidden rows, panes, names, tables", async () => {
    const book = open(await dressed());
    book.recalculate();
    const library = new Library();
    await library.xlsx.load(book.toBytes() as never);
    const walls = library.getWorksheet("Walls")!;
    expect(walls.getColumn(2).width).toBe(17);
    expect(walls.views[0]).toMatchObject({ state: "frozen", ySplit: 1, xSplit: 1 });
    expect(walls.getCell("A1").font).toMatchObject({ bold: true });
    expect(walls.getCell("C2").numFmt).toBe("0.000");
    expect(walls.getCell("C2").fill).toMatchObject({ fgColor: { argb: "FFFFEEAA" } });
    expect(walls.getCell("E3").numFmt).toBe("0.00");
    expect(walls.getCell("E3").value).toBe(2);
    expect(walls.getCell("B2").dataValidation).toMatchObject({ type: "list" });
    expect(walls.getCell("A2").note).toMatch("a note");
    expect(walls.getCell("B10").isMerged).toBe(true);
    expect(walls.getRow(12).hidden).toBe(true);
    expect(walls.getTables().map((table) => table.name)).toEqual(["Openings"]);
    expect(library.definedNames.getRanges("FirstLength").ranges).toEqual(["Walls!$B$2"]);
    expect(library.getWorksheet("Hidden")!.state).toBe("hidden");
    const xml = sheetXml(book.toBytes());
    expect(xml).toContain("<formula1>$B$2*2</formula1>");
    expect(xml).toContain("conditionalFormatting");
    expect(xml).toContain("landscape");
  });

  test("a second pass over its own output gives the same file", async () => {
    const book = open(await dressed());
    book.recalculate();
    const once = book.toBytes();
    const again = open(once);
    expect(again.recalculate().errors).toEqual([]);
    expect(Buffer.from(again.toBytes()).equals(Buffer.from(once))).toBe(true);
  });

  test("stores our functions and spills in the form the desktop program stores", async () => {
    const xml = sheetXml(open(await dressed()).toBytes());
    expect(xml).toMatch(
      /<c r="C2" s="\d+" cm="1"><f t="array" ref="C2">_xldudf_SHEATH_DOUBLE\(B2\)<\/f><\/c>/
    );
    const book = open(await dressed());
    book.recalculate();
    const calculated = sheetXml(book.toBytes());
    expect(calculated).toMatch(
      /<c r="C2" s="\d+" cm="1"><f t="array" ref="C2">_xldudf_SHEATH_DOUBLE\(B2\)<\/f><v>288<\/v><\/c>/
    );
    expect(calculated).toContain('<f t="array" ref="E2:F4">_xldudf_SHEATH_COUNT_UP(3)</f><v>1</v>');
    expect(calculated).toMatch(/<c r="F3" t="str"><v>row 2<\/v><\/c>/);
    const metadata = partOf(book.toBytes(), "xl/metadata.xml");
    expect(metadata).toContain('name="XLDAPR"');
    expect(metadata).toContain('fDynamic="1"');
    expect(partOf(book.toBytes(), "[Content_Types].xml")).toContain("sheetMetadata+xml");
    expect(partOf(book.toBytes(), "xl/_rels/workbook.xml.rels")).toContain("/sheetMetadata");
  });

  test("built-in formulas are stored plain, new ones with their prefix", async () => {
    const book = await sheet({ A1: 1 });
    book.setCell("A", "B1", "=SUM(A1:A3)");
    book.setCell("A", "B2", "=XLOOKUP(1,A1:A3,A1:A3)");
    book.setCell("A", "C1", "=A1:A2*2");
    book.recalculate();
    const xml = sheetXml(book.toBytes());
    expect(xml).toContain('<c r="B1"><f>SUM(A1:A3)</f><v>1</v></c>');
    expect(xml).toContain('<c r="B2"><f>_xlfn.XLOOKUP(1,A1:A3,A1:A3)</f><v>1</v></c>');
    expect(xml).toContain('<c r="C1" cm="1"><f t="array" ref="C1:C2">A1:A2*2</f><v>2</v></c>');
  });

  test("extends explanations of other cell marks instead of replacing them", async () => {
    const plain = open(await file({ A: { A1: "=SHEATH.DOUBLE(1)" } }));
    plain.recalculate();
    const bytes = plain.toBytes();
    const other =
      '<metadata xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><metadataTypes count="1">' +
      '<metadataType name="XLRICHVALUE" minSupportedVersion="120000"/></metadataTypes><futureMetadata name="XLRICHVALUE" count="1">' +
      '<bk/></futureMetadata><cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata></metadata>';
    const marked = withParts(bytes, {
      "xl/metadata.xml": other,
      "xl/worksheets/sheet1.xml": sheetXml(bytes).replace(' cm="1"', ""),
    });
    const book = open(marked);
    book.recalculate();
    const after = book.toBytes();
    expect(sheetXml(after)).toContain('cm="2"');
    expect(partOf(after, "xl/metadata.xml")).toContain(
      '<rc t="1" v="0"/></bk><bk><rc t="2" v="0"/>'
    );
    const again = open(after);
    again.recalculate();
    expect(Buffer.from(again.toBytes()).equals(Buffer.from(after))).toBe(true);
  });

  test("drops the stored order of calculation, which may name cells that changed", async () => {
    const bytes = await file({ A: { A1: "=1" } });
    const withOrder = withParts(bytes, {
      "xl/calcChain.xml": '<calcChain><c r="A1" i="1"/></calcChain>',
      "xl/_rels/workbook.xml.rels": partOf(bytes, "xl/_rels/workbook.xml.rels").replace(
        "</Relationships>",
        '<Relationship Id="rId99" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/calcChain" Target="calcChain.xml"/></Relationships>'
      ),
      "[Content_Types].xml": partOf(bytes, "[Content_Types].xml").replace(
        "</Types>",
        '<Override PartName="/xl/calcChain.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.calcChain+xml"/></Types>'
      ),
    });
    const book = open(withOrder);
    book.recalculate();
    const after = book.toBytes();
    expect(readEntries(after).map((entry) => entry.path)).not.toContain("xl/calcChain.xml");
    expect(partOf(after, "[Content_Types].xml")).not.toContain("calcChain");
    expect(partOf(after, "xl/_rels/workbook.xml.rels")).not.toContain("calcChain");
  });
});

describe("reading cells", () => {
  test("both spellings of our functions, and a stray workbook number, are read", async () => {
    const book = open(
      await rawSheet(
        '<row r="1"><c r="A1"><f>SHEATH.DOUBLE(1)</f></c><c r="B1"><f>_xldudf_SHEATH_DOUBLE(2)</f></c>' +
          '<c r="C1"><f>[2]!_xldudf_SHEATH_DOUBLE(3)</f></c><c r="D1"><f t="array" ref="D1">_xldudf_SHEATH_DOUBLE(4)</f></c></row>'
      )
    );
    expect(book.recalculate()).toMatchObject({ errors: [], keptCount: 0 });
    expect(book.range("A", "A1:D1").flat()).toEqual([2, 4, 6, 8]);
    const xml = sheetXml(book.toBytes());
    expect(xml.match(/_xldudf_SHEATH_DOUBLE/g)).toHaveLength(4);
    expect(xml).not.toContain("[2]!");
    expect(xml).not.toContain("SHEATH.DOUBLE");
  });

  test("every kind of stored value", async () => {
    const book = open(
      await rawSheet(
        '<row r="1"><c r="A1"><v>1.5</v></c><c r="B1" t="b"><v>1</v></c><c r="C1" t="e"><v>#N/A</v></c>' +
          '<c r="D1" t="inlineStr"><is><t xml:space="preserve"> a&amp;b </t></is></c><c r="E1" t="str"><v>5/8</v></c>' +
          '<c r="F1" t="d"><v>2026-01-02</v></c><c r="G1" t="n"><v>2E2</v></c><c r="H1"/>' +
          '<c r="I1" t="inlineStr"><is><r><t>rich </t></r><r><t>text</t></r><rPh><t>no</t></rPh></is></c>' +
          '<c r="J1" t="str"><v>line_x000D_end</v></c><c r="K1"><v><![CDATA[5]]></v></c></row>'
      )
    );
    expect(book.range("A", "A1:K1").flat()).toEqual([
      1.5,
      true,
      { error: "#N/A" },
      " a&b ",
      "5/8",
      46024,
      200,
      null,
      "rich text",
      "line\rend",
      5,
    ]);
  });

  test("shared text, shared formulas and positions left out", async () => {
    const library = await file({ A: { A1: "shared", A2: "shared" } });
    const xml = sheetXml(library).replace(
      "</sheetData>",
      '<row r="5"><c r="A5"><v>1</v></c><c r="B5"><f t="shared" ref="B5:B7" si="0">A5*$A$5+1</f></c></row>' +
        '<row><c><v>2</v></c><c><f t="shared" si="0"/></c></row><row><c><v>3</v></c><c r="B7"><f t="shared" si="0"/></c></row></sheetData>'
    );
    const book = open(withParts(library, { "xl/worksheets/sheet1.xml": xml }));
    expect(book.recalculate().errors).toEqual([]);
    expect(value(book, "A2")).toBe("shared");
    expect(book.range("A", "B5:B7").flat()).toEqual([2, 3, 4]);
    expect(book.cell("A", "B7").formula).toBe("=A7*$A$5+1");
    const again = open(book.toBytes());
    again.recalculate();
    expect(again.range("A", "B5:B7").flat()).toEqual([2, 3, 4]);
  });

  test("a cell a spreadsheet turned into a date reaches a function as its day number", async () => {
    const book = await sheet({ A1: "=SHEATH.SHOW(B1)" }, (library) => {
      const cell = library.getWorksheet("A")!.getCell("B1");
      cell.value = new Date(Date.UTC(2026, 4, 8));
      cell.numFmt = "d-mmm";
    });
    expect(value(book, "A1")).toBe("[46150]");
  });

  test("text typed as 5/8 stays text in the cell and in the file", async () => {
    const book = await sheet({ A1: "5/8", B1: "=SHEATH.SHOW(A1)", C1: "=A1" });
    expect(book.range("A", "A1:C1").flat()).toEqual(["5/8", '["5/8"]', "5/8"]);
    book.setCell("A", "A2", "1-7/8");
    book.recalculate();
    const again = open(book.toBytes());
    again.recalculate();
    expect(again.range("A", "A1:C2").flat()).toEqual([
      "5/8",
      '["5/8"]',
      "5/8",
      "1-7/8",
      null,
      null,
    ]);
  });

  test("days counted from 1904 are kept apart from days counted from 1900", async () => {
    const bytes = await file({ A: { A1: "=DATE(2026,1,2)" } });
    const xml = partOf(bytes, "xl/workbook.xml").replace(
      /<workbookPr[^>]*\/>/,
      '<workbookPr date1904="1"/>'
    );
    const book = open(withParts(bytes, { "xl/workbook.xml": xml }));
    book.recalculate();
    // 1,462 days lie between the two counts.
    expect(value(book, "A1")).toBe(46024 - 1462);
  });

  test("awkward text survives being calculated, written and read", async () => {
    const texts = [
      'a "quoted" <b> & c',
      " two  spaces ",
      "line\nbreak",
      "_x0041_",
      "tab\there",
      "é ½ ″ 😀",
      "=not a formula",
    ];
    const book = await sheet({ A1: 1 });
    texts.forEach((text, index) => {
      book.setCell("A", `B${index + 1}`, `="${text.replace(/"/g, '""')}"`);
      if (!text.startsWith("=")) book.setCell("A", `C${index + 1}`, text);
    });
    expect(book.recalculate().errors).toEqual([]);
    const again = open(book.toBytes());
    texts.forEach((text, index) => {
      expect(value(again, `B${index + 1}`)).toBe(text);
      if (!text.startsWith("=")) expect(value(again, `C${index + 1}`)).toBe(text);
    });
  });

  test("sheets and parts with a namespace prefix are read and written", async () => {
    const bytes = await file({ A: {} });
    const xml =
      '<?xml version="1.0"?><x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><x:dimension ref="A1:B1"/>' +
      '<x:sheetData><x:row r="1"><x:c r="A1"><x:v>2</x:v></x:c><x:c r="B1"><x:f>SHEATH.COUNT_UP(A1)</x:f></x:c></x:row></x:sheetData></x:worksheet>';
    const book = open(withParts(bytes, { "xl/worksheets/sheet1.xml": xml }));
    book.recalculate();
    const after = sheetXml(book.toBytes());
    expect(after).toContain('<x:dimension ref="A1:C2"/>');
    expect(after).toContain('<x:row r="2"><x:c r="B2"><x:v>2</x:v></x:c>');
    expect(open(book.toBytes()).range("A", "B1:C2")).toEqual(book.range("A", "B1:C2"));
  });

  test("empty styled cells and rows that a spill covers keep their style", async () => {
    const book = open(
      await rawSheet(
        '<row r="1" spans="1:1"><c r="A1"><f>SHEATH.COUNT_UP(3)</f></c></row><row r="2" s="3" customFormat="1"/><row r="3"><c r="A3" s="2"/><c r="B3" s="1"><v>0</v></c></row>',
        { before: '<cols><col min="2" max="2" width="9" style="4"/></cols>' }
      )
    );
    book.setCell("A", "B3", null);
    book.recalculate();
    const xml = sheetXml(book.toBytes());
    expect(xml).toContain('<row r="2" s="3" customFormat="1"><c r="A2" s="3"><v>2</v></c>');
    expect(xml).toContain('<c r="A3" s="2"><v>3</v></c><c r="B3" s="1" t="str"><v>row 3</v></c>');
    expect(xml).toContain('<c r="B1" s="4" t="str"><v>row 1</v></c>');
    expect(xml).not.toContain("spans");
  });

  test("chart sheets are passed over, and names that belong to a sheet still find it", async () => {
    const bytes = await file({ A: { A1: "=Here" }, B: { A1: "=Here", A2: 5 } });
    const rels = partOf(bytes, "xl/_rels/workbook.xml.rels").replace(
      "</Relationships>",
      '<Relationship Id="rId77" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/chartsheet" Target="chartsheets/sheet1.xml"/></Relationships>'
    );
    const xml = partOf(bytes, "xl/workbook.xml")
      .replace("<sheets>", '<sheets><sheet name="Chart" sheetId="77" r:id="rId77"/>')
      .replace(
        "</sheets>",
        '</sheets><definedNames><definedName name="Here" localSheetId="2">B!$A$2</definedName></definedNames>'
      );
    const book = open(
      withParts(bytes, {
        "xl/_rels/workbook.xml.rels": rels,
        "xl/workbook.xml": xml,
        "xl/chartsheets/sheet1.xml": "<chartsheet/>",
      })
    );
    book.recalculate();
    expect(book.sheetNames).toEqual(["A", "B"]);
    expect(value(book, "A1", "B")).toBe(5);
    expect(value(book, "A1", "A")).toMatchObject({ error: "#NAME?" });
  });
});

describe("the workbook's interface", () => {
  test("views of cells, ranges, tables and calls", async () => {
    const book = await sheet(
      { A1: "=SHEATH.COUNT_UP(2)", D1: '="SHEATH.DOUBLE(1)"' },
      (library) => {
        library.getWorksheet("A")!.addTable({
          name: "Walls",
          ref: "F1",
          columns: [{ name: "Wall" }, { name: "Length" }],
          rows: [["North", 144]],
        });
      }
    );
    expect(book.cell("A", "A1")).toEqual({
      value: 1,
      formula: "=SHEATH.COUNT_UP(2)",
      spill: "A1:B2",
    });
    expect(book.cell("a", "$B$2")).toEqual({ value: "row 2", spilledFrom: "A1" });
    expect(book.cell("A", "Z99")).toEqual({ value: null });
    expect(book.usedRange("A")).toBe("A1:G2");
    expect(book.tableNames).toEqual(["Walls"]);
    expect(book.table("walls")).toEqual({
      sheet: "A",
      columns: ["Wall", "Length"],
      rows: [["North", 144]],
    });
    expect(book.findCalls("COUNT_UP")).toEqual([{ sheet: "A", cell: "A1", area: "A1:B2" }]);
    expect(book.findCalls("DOUBLE")).toEqual([]);
    expect(book.usesFunctions).toBe(true);
    expect(book.formulas().map((each) => each.cell)).toEqual(["A1", "D1"]);
  });
  test("a name that is not there is said", async () => {
    const book = await sheet({ A1: 1 });
    expect(() => book.cell("B", "A1")).toThrow("no sheet is called B");
    expect(() => book.cell("A", "A0")).toThrow("not a cell: A0");
    expect(() => book.range("A", "A1:B2:C3")).toThrow("not an area");
    expect(() => book.table("Walls")).toThrow("no table is called Walls");
    expect(book.usesFunctions).toBe(false);
  });
});
