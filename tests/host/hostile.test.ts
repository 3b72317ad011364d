/** Files that are damaged, or made to exhaust the machine or to run something. */
import { deflateRawSync } from "node:zlib";
import fc from "fast-check";
import { WorkbookError } from "../../src/host/engine/index.js";
import { inflate, InflateError } from "../../src/host/engine/inflate.js";
import {
  crc32,
  MOST_ENTRIES,
  pack,
  readEntries,
  unpack,
  writeEntries,
  type ZipEntry,
} from "../../src/host/engine/zip.js";
import { file, open, partOf, rawSheet, value, withParts } from "./make.js";

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

function refusal(bytes: Uint8Array): string {
  try {
    open(bytes);
  } catch (error) {
    expect(error).toBeInstanceOf(WorkbookError);
    return (error as Error).message;
  }
  throw new Error("the file was opened");
}

describe("inflate", () => {
  test("unpacks what the platform packs, at every level", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.uint8Array({ maxLength: 3000 }),
          fc.string({ maxLength: 2000 }).map((text) => bytesOf(text.repeat(20)))
        ),
        fc.integer({ min: 0, max: 9 }),
        (data, level) => {
          const packed = deflateRawSync(data, { level });
          expect(Buffer.from(inflate(packed, data.length)).equals(Buffer.from(data))).toBe(true);
        }
      ),
      { seed: 20261125, numRuns: 200 }
    );
  });

  test("stops at the size it was told, and notices when there is less", () => {
    const packed = deflateRawSync(Buffer.alloc(1_000_000));
    expect(() => inflate(packed, 10)).toThrow("it unpacks to more than it says");
    expect(() => inflate(packed, 1_000_001)).toThrow("it unpacks to less than it says");
  });

  test("damaged data end in an InflateError, never in a hang or another error", () => {
    const packed = deflateRawSync(bytesOf("the quick brown fox ".repeat(50)));
    fc.assert(
      fc.property(fc.nat(packed.length - 1), fc.nat(255), (at, byte) => {
        const damaged = Uint8Array.from(packed);
        damaged[at] = byte;
        try {
          inflate(damaged, 1000);
        } catch (error) {
          expect(error).toBeInstanceOf(InflateError);
        }
      }),
      { seed: 20261125, numRuns: 1000 }
    );
    expect(() => inflate(new Uint8Array([7]), 1)).toThrow(InflateError);
    expect(() => inflate(packed.subarray(0, 5), 1000)).toThrow("cut short");
  });

  test("crc32 has the published check value", () => {
    // CRC-32 of "123456789" is cbf43926, the check value of the polynomial's usual parameters.
    expect(crc32(bytesOf("123456789"))).toBe(0xcbf43926);
  });
});

describe("files made to exhaust the machine", () => {
  /** An entry that claims to unpack to a size. */
  const claiming = (size: number): ZipEntry => ({
    ...pack("xl/bomb.xml", new Uint8Array(1000)),
    size,
  });

  test("one that declares more than the limit is not unpacked", async () => {
    const entries = readEntries(await file({ A: { A1: 1 } }));
    const bomb = writeEntries([...entries, claiming(300 * 1024 * 1024)]);
    expect(refusal(bomb)).toBe("the workbook unpacks to more than 200 MB; it is not opened");
  });

  test("many parts that together exceed the limit are not unpacked", async () => {
    const entries = readEntries(await file({ A: { A1: 1 } }));
    const parts = Array.from({ length: 30 }, (_, i) => ({
      ...claiming(10 * 1024 * 1024),
      path: `x${i}`,
    }));
    expect(refusal(writeEntries([...entries, ...parts]))).toMatch(/more than 200 MB/);
  });

  test("one that claims less than it unpacks to is stopped", async () => {
    const bytes = await file({ A: { A1: 1 } });
    const big = pack("xl/worksheets/sheet1.xml", new Uint8Array(5_000_000));
    const entries = readEntries(bytes).filter((entry) => entry.path !== big.path);
    expect(refusal(writeEntries([...entries, { ...big, size: 1000 }]))).toMatch(
      /sheet1.xml: it unpacks to more than it says/
    );
  });

  test("too many parts", () => {
    const entries = Array.from({ length: MOST_ENTRIES + 1 }, (_, i) =>
      pack(`p${i}`, new Uint8Array(1))
    );
    expect(refusal(writeEntries(entries))).toMatch(/5001 parts/);
  });

  test("entities that unfold are refused", async () => {
    const bytes = await file({ A: { A1: 1 } });
    const xml =
      '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><worksheet><sheetData/></worksheet>';
    expect(refusal(withParts(bytes, { "xl/worksheets/sheet1.xml": xml }))).toMatch(/own entities/);
  });

  test("merged cells, spill areas, names and tables over the whole sheet cost nothing", async () => {
    const bytes = await rawSheet(
      '<row r="1"><c r="A1"><f t="array" ref="A1:XFD1048576">1+1</f><v>2</v></c><c r="B1"><f>SUM(Everything)</f></c></row>' +
        '<row r="1048576"><c r="XFD1048576"><v>5</v></c></row>',
      { after: '<mergeCells count="1"><mergeCell ref="C3:XFD1048575"/></mergeCells>' }
    );
    const names =
      '<definedNames><definedName name="Everything">A!$C$1:$XFD$1048576</definedName></definedNames>';
    const xml = partOf(bytes, "xl/workbook.xml").replace("</sheets>", `</sheets>${names}`);
    const book = open(withParts(bytes, { "xl/workbook.xml": xml }));
    const { errors } = book.recalculate();
    expect(errors.map((each) => each.cell)).toContain("B1");
    expect(book.toBytes().length).toBeLessThan(100_000);
  });

  test("formulas that make huge tables are errors, not a full memory", async () => {
    const book = open(
      await file({
        A: { A1: "=SEQUENCE(1048576,1000)", A3: "=SUM(A:XFD*2)", A5: '=REPT("x",40000)' },
      })
    );
    const codes = book.recalculate().errors.map((each) => [each.cell, each.code]);
    expect(codes.map(([cell]) => cell)).toContain("A1");
  });
});

describe("files that are no workbooks", () => {
  test.each([
    ["nothing", new Uint8Array(0), /too short/],
    ["text", bytesOf("Wall,Length\nNorth,144\n".repeat(10)), /damaged or is not an .xlsx workbook/],
    [
      "an older workbook",
      Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, ...new Array(600).fill(0)]),
      /older .xls/,
    ],
    ["another zip file", writeEntries([pack("a.txt", bytesOf("hello"))]), /not an .xlsx workbook/],
  ])("%s", (_name, bytes, says) => expect(refusal(bytes)).toMatch(says));

  test("a workbook cut off anywhere is refused with a message", async () => {
    const whole = await file({ A: { A1: 1, B1: "=A1+1" } });
    for (let length = 0; length < whole.length; length += 97) {
      expect(refusal(whole.subarray(0, length))).not.toBe("");
    }
  });

  test("a workbook with damaged bytes opens or is refused, and never throws anything else", async () => {
    const whole = await file({
      A: { A1: 1, B1: "=A1+1", C1: "text" },
      B: { A1: "=SHEATH.COUNT_UP(2)" },
    });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(whole.length - 1), fc.nat(255)), { minLength: 1, maxLength: 4 }),
        (changes) => {
          const damaged = Uint8Array.from(whole);
          for (const [at, byte] of changes) damaged[at] = byte;
          try {
            const book = open(damaged);
            book.recalculate();
            book.toBytes();
          } catch (error) {
            expect(error).toBeInstanceOf(WorkbookError);
          }
        }
      ),
      { seed: 20261125, numRuns: 400 }
    );
  });

  test("sheet XML with pieces missing opens or is refused, and never throws anything else", async () => {
    const bytes = await rawSheet(
      '<row r="1"><c r="A1"><v>1</v></c><c r="B1" t="str"><f t="array" ref="B1:C2">SHEATH.COUNT_UP(2)</f><v>x</v></c></row><row r="2"><c r="C2" t="inlineStr"><is><t>x</t></is></c></row>',
      { after: '<mergeCells count="1"><mergeCell ref="D1:E2"/></mergeCells>' }
    );
    const xml = partOf(bytes, "xl/worksheets/sheet1.xml");
    const from = xml.indexOf("<sheetData");
    fc.assert(
      fc.property(
        fc.integer({ min: from, max: xml.length - 1 }),
        fc.integer({ min: 1, max: 12 }),
        (at, length) => {
          const damaged = withParts(bytes, {
            "xl/worksheets/sheet1.xml": xml.slice(0, at) + xml.slice(at + length),
          });
          try {
            const book = open(damaged);
            book.recalculate();
            book.toBytes();
          } catch (error) {
            expect(error).toBeInstanceOf(WorkbookError);
          }
        }
      ),
      { seed: 20261125, numRuns: 300 }
    );
  });

  test("a checksum that does not match is noticed", async () => {
    const entries = readEntries(await file({ A: { A1: 1 } }));
    const wrong = entries.map((entry) =>
      entry.path === "xl/workbook.xml" ? { ...entry, crc: entry.crc ^ 1 } : entry
    );
    expect(refusal(writeEntries(wrong))).toMatch(/checksum/);
  });

  test("a number no cell can hold is #NUM!, and minus zero is zero", async () => {
    const book = open(
      await rawSheet(
        '<row r="1"><c r="A1"><v>1e999</v></c><c r="B1"><v>-0</v></c><c r="C1"><v>twelve</v></c><c r="D1"><f>1/(B1=0)</f></c><c r="E1"><f>-B1</f></c></row>'
      )
    );
    book.recalculate();
    expect(value(book, "A1")).toEqual({ error: "#NUM!" });
    expect(value(book, "B1")).toBe(0);
    expect(value(book, "C1")).toEqual({ error: "#NUM!" });
    expect(value(book, "D1")).toBe(1);
    expect(value(book, "E1")).toBe(0);
  });

  test("cells in impossible places are left out", async () => {
    const book = open(
      await rawSheet(
        '<row r="1"><c r="A1"><v>1</v></c><c r="ZZZ1"><v>2</v></c></row><row r="0"><c r="A0"><v>3</v></c></row><row r="-5"><c r="B-5"><v>3</v></c></row><row r="x"><c><v>4</v></c></row>'
      )
    );
    book.recalculate();
    expect(value(book, "A1")).toBe(1);
    expect(() => book.toBytes()).not.toThrow();
  });
});

describe("the zip container", () => {
  test("what is packed is unpacked, and the same entries give the same bytes", () => {
    const entries = [pack("a", bytesOf("x".repeat(5000))), pack("é/b", new Uint8Array(0))];
    const bytes = writeEntries(entries);
    expect(readEntries(bytes).map((entry) => [entry.path, unpack(entry).length])).toEqual([
      ["a", 5000],
      ["é/b", 0],
    ]);
    expect(Buffer.from(writeEntries(entries)).equals(Buffer.from(bytes))).toBe(true);
  });
});
