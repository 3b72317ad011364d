/** Workbooks and disks as offices have them: what comes back of each, and that nothing a person made is touched. */
import { createHash, randomFillSync } from "node:crypto";
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import { openWorkbook } from "../../src/host/engine/index.js";
import { pack, readEntries, writeEntries, type ZipEntry } from "../../src/host/engine/zip.js";
import { file, MACRO, partOf, withMacros, withParts, type Cells } from "../host/make.js";
import { emptyFolder, removeFolders, run, type Ran } from "./run.js";
import { SHED, folderWith, row } from "./shed.js";

jest.setTimeout(300_000);

const takeoff = (folder: string, ...args: string[]): Promise<Ran> =>
  run("takeoff", args, { from: folder });

const digest = (name: string): string =>
  createHash("sha256").update(fs.readFileSync(name)).digest("hex");

/** Panels of the shed, the figure that shows that its tables were read. */
const PANELS = /^Panel +48 x 96 in +(\d+) +panels/m;
function panelsIn(out: string): number {
  const found = PANELS.exec(out)?.[1];
  if (found === undefined) throw new Error(`there is no order of panels in: ${out}`);
  return Number(found);
}

let usual: Promise<number> | undefined;
/** What the shed needs as it is. */
function usualPanels(): Promise<number> {
  usual ??= folderWith(SHED)
    .then((folder) => takeoff(folder, "shed.xlsx"))
    .then(({ out }) => panelsIn(out));
  return usual;
}

function write(name: string, bytes: Uint8Array): string {
  const folder = emptyFolder();
  fs.writeFileSync(path.join(folder, name), bytes);
  return folder;
}

afterAll(removeFolders);

describe("disks", () => {
  const full = (room: number, code = "ENOSPC") => ({ folder: emptyFolder(), code, room });

  test("a full disk is said, the order is still printed, and no half-written file bears a final name", async () => {
    const folder = await folderWith(SHED);
    for (const room of [0, 4 * 1024, 16 * 1024, 32 * 1024]) {
      const disk = full(room);
      const ran = await run("takeoff", ["shed.xlsx", "--out", disk.folder], { from: folder, disk });
      expect(ran.code).toBe(1);
      expect(ran.err).toMatch(
        /^shed.xlsx: the results could not be written to .*: the disk is full$/m
      );
      expect(panelsIn(ran.out)).toBe(await usualPanels());
      // what bears a final name is whole
      for (const name of fs.readdirSync(disk.folder, { recursive: true, encoding: "utf8" })) {
        const full = path.join(disk.folder, name);
        if (name.endsWith(".xlsx")) openWorkbook(fs.readFileSync(full), worksheetFunctions);
        expect(name).not.toMatch(/\.takeoff-part$/);
      }
    }
  });

  test.each([
    ["a quota that is used up", full(4 * 1024, "EDQUOT"), /the disk is full$/m],
    ["a read-only disk", { folder: emptyFolder(), code: "EROFS" }, /disk is read-only$/m],
    [
      "a folder that this user may not write to",
      { folder: emptyFolder(), code: "EACCES" },
      /it may not be opened or written here; check who may/,
    ],
    ["a limit on the size of files", full(4 * 1024, "EFBIG"), /it grows past what may be written/],
  ])("%s is said, and leaves nothing behind", async (_kind, disk, says) => {
    const folder = await folderWith(SHED);
    const ran = await run("takeoff", ["shed.xlsx", "--out", disk.folder], { from: folder, disk });
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(says);
    expect(ran.err).toMatch(/^shed.xlsx: the results could not be written to /m);
    expect(panelsIn(ran.out)).toBe(await usualPanels());
    expect(fs.readdirSync(disk.folder)).toEqual([]);
  });

  test.each([
    ["ENOSPC", 4 * 1024, "the disk is full"],
    ["EROFS", undefined, "the folder or disk is read-only"],
  ])(
    "a new house on such a disk is said, and leaves nothing behind: %s",
    async (code, room, says) => {
      const folder = emptyFolder();
      const disk = { folder, code, ...(room === undefined ? {} : { room }) };
      const ran = await run("new-house", ["Lot 12"], { from: folder, disk });
      expect(ran).toMatchObject({ code: 1, out: "" });
      expect(ran.err).toBe(`Lot 12.xlsx could not be written: ${says}\n`);
      expect(fs.readdirSync(folder)).toEqual([]);
    }
  );
});

describe("workbooks open in another program", () => {
  test.each(["~$shed.xlsx", ".~lock.shed.xlsx#"])("an input with %s beside it", async (lock) => {
    const folder = await folderWith(SHED);
    fs.writeFileSync(path.join(folder, lock), "");
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran.code).toBe(0);
    expect(ran.out.replace(/\s+/g, " ")).toContain(
      `Note: the workbook seems to be open in another program (${lock} stands beside it): what is not saved there is not in here.`
    );
  });

  test("a result that is open elsewhere is not replaced", async () => {
    const folder = await folderWith(SHED);
    await takeoff(folder, "shed.xlsx");
    const result = path.join(folder, "takeoff", "shed.xlsx");
    const before = digest(result);
    fs.writeFileSync(path.join(folder, "takeoff", "~$shed.xlsx"), "");
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran.code).toBe(0);
    expect(ran.out).toContain(path.join("takeoff", "shed-2.xlsx"));
    expect(digest(result)).toBe(before);
  });

  test("the lock file itself is left out of a list of files", async () => {
    const folder = await folderWith(SHED);
    fs.writeFileSync(path.join(folder, "~$shed.xlsx"), "somebody");
    const ran = await takeoff(folder, "shed.xlsx", "~$shed.xlsx");
    expect(ran.code).toBe(0);
    expect(ran.err).toContain("~$shed.xlsx: left out: it marks a workbook that is open elsewhere");
  });
});

test.each([
  ["spaces", "lot 12 (north side)", "my shed.xlsx"],
  ["other scripts", "дом 名前 بيت", "Гараж №5 — 名前.xlsx"],
  ["signs of the shell", "a'b $HOME `x` & ; [1]", "shed #1 100% {x}.xlsx"],
  ["a long name", "deep", `${"x".repeat(110)}.xlsx`],
])("a path with %s", async (_kind, below, name) => {
  const folder = path.join(emptyFolder(), below);
  fs.mkdirSync(folder);
  fs.writeFileSync(path.join(folder, name), await file(SHED));
  const ran = await takeoff(folder, name);
  expect(ran).toMatchObject({ code: 0, err: "" });
  expect(ran.out).toContain(`Recalculated workbook: ${path.join("takeoff", name)}`);
  expect(fs.existsSync(path.join(folder, "takeoff", name))).toBe(true);
});

describe("large and hostile files", () => {
  test("a workbook of 100 MB is taken off, and everything in it is kept", async () => {
    const picture = new Uint8Array(99 * 1024 * 1024);
    // pictures do not pack: the file is as large as what is in it
    for (let at = 0; at < picture.length; at += 65536) randomFillSync(picture, at, 65536);
    const entries = [...readEntries(await file(SHED)), pack("xl/media/picture.bin", picture)];
    const bytes = writeEntries(entries);
    expect(bytes.length).toBeGreaterThan(99 * 1024 * 1024);
    expect(bytes.length).toBeLessThanOrEqual(100 * 1024 * 1024);
    const folder = write("shed.xlsx", bytes);
    const before = digest(path.join(folder, "shed.xlsx"));
    const ran = await takeoff(folder, "shed.xlsx", "--no-drawings");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(panelsIn(ran.out)).toBe(await usualPanels());
    expect(digest(path.join(folder, "shed.xlsx"))).toBe(before);
    const kept = readEntries(fs.readFileSync(path.join(folder, "takeoff", "shed.xlsx"))).find(
      (entry) => entry.path === "xl/media/picture.bin"
    );
    expect(kept?.crc).toBe(entries.at(-1)?.crc);
  });

  test("one over 100 MB is not opened", async () => {
    const folder = emptyFolder();
    fs.writeFileSync(path.join(folder, "huge.xlsx"), "");
    fs.truncateSync(path.join(folder, "huge.xlsx"), 100 * 1024 * 1024 + 1);
    const ran = await takeoff(folder, "huge.xlsx");
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toBe("huge.xlsx: the file is larger than 100 MB; it is not opened\n");
  });

  const shed = file(SHED);
  const bomb = (size: number): ZipEntry => ({ ...pack("xl/bomb.xml", new Uint8Array(1000)), size });
  test.each<[string, () => Promise<Uint8Array>, RegExp]>([
    ["a corrupt zip", async () => (await shed).subarray(0, 2000), /is damaged or is not an .xlsx/],
    [
      "a zip whose list of parts is overwritten",
      async () => {
        const bytes = Uint8Array.from(await shed);
        bytes.fill(0, bytes.length - 400, bytes.length - 100);
        return bytes;
      },
      /is damaged or is not an .xlsx workbook/,
    ],
    [
      "a zip bomb",
      async () => writeEntries([...readEntries(await shed), bomb(300 * 1024 * 1024)]),
      /unpacks to more than 200 MB; it is not opened/,
    ],
    [
      "a part that lies about its size",
      async () => {
        const big = pack("xl/worksheets/sheet1.xml", new Uint8Array(5_000_000));
        const others = readEntries(await shed).filter((entry) => entry.path !== big.path);
        return writeEntries([...others, { ...big, size: 1000 }]);
      },
      /it unpacks to more than it says/,
    ],
    [
      "entities that unfold",
      async () =>
        withParts(await shed, {
          "xl/worksheets/sheet1.xml":
            '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]><worksheet/>',
        }),
      /defines its own entities/,
    ],
    ["a page of the web", async () => new TextEncoder().encode("<html>".repeat(50)), /is damaged/],
    ["an empty file", async () => new Uint8Array(0), /it is too short/],
  ])("%s is refused in words, and nothing is written", async (_kind, make, says) => {
    const folder = write("odd.xlsx", await make());
    const ran = await takeoff(folder, "odd.xlsx");
    expect(ran).toMatchObject({ code: 1, out: "" });
    expect(ran.err).toMatch(says);
    expect(ran.err.trim().split("\n")).toHaveLength(1);
    expect(fs.readdirSync(folder)).toEqual(["odd.xlsx"]);
  });
});

describe("what workbooks hold", () => {
  async function shedWith(
    change: Readonly<Record<string, Cells>>,
    dress?: Parameters<typeof file>[1]
  ): Promise<Uint8Array> {
    const sheets = Object.fromEntries(
      [...new Set([...Object.keys(SHED), ...Object.keys(change)])].map((name) => [
        name,
        { ...SHED[name], ...change[name] },
      ])
    );
    return file(sheets, dress);
  }

  test("macros are kept as they are, not run, and said; the result stays a workbook with macros", async () => {
    const bytes = await shedWith({});
    const folder = write("shed.xlsm", withMacros(bytes));
    const ran = await takeoff(folder, "shed.xlsm");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(ran.out).toContain(
      "Note: the workbook holds macros: they are kept as they are and were not run."
    );
    const result = fs.readFileSync(path.join(folder, "takeoff", "shed.xlsm"));
    expect(partOf(result, "xl/vbaProject.bin")).toBe(MACRO);
    expect(partOf(result, "[Content_Types].xml")).toContain("macroEnabled");
    // a folder of workbooks takes it too
    const all = await takeoff(folder, ".", "--out", "all");
    expect(all.code).toBe(0);
  });

  test("links to other workbooks keep the values they were saved with, and are said", async () => {
    const bytes = await shedWith({ Order: { H1: "=[1]Prices!$B$2*2" } });
    const xml = partOf(bytes, "xl/worksheets/sheet4.xml");
    const saved = xml.replace(
      /(<c r="H1"[^>]*>)(<f>.*?<\/f>)(?:<v>.*?<\/v>|<v\/>)?/,
      "$1$2<v>246</v>"
    );
    expect(saved).toContain("<v>246</v>");
    const folder = write("shed.xlsx", withParts(bytes, { "xl/worksheets/sheet4.xml": saved }));
    const ran = await takeoff(folder, "shed.xlsx");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(ran.out).toContain("1 formulas read other workbooks and keep their saved values.");
    const book = openWorkbook(
      fs.readFileSync(path.join(folder, "takeoff", "shed.xlsx")),
      worksheetFunctions
    );
    expect(book.cell("Order", "H1").value).toBe(246);
  });

  test("circular references are named, and the rest is calculated", async () => {
    const bytes = await shedWith({ Order: { H1: "=H2+1", H2: "=H1+1" } });
    const ran = await takeoff(write("shed.xlsx", bytes), "shed.xlsx");
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/Order!H1 #\S+ circular reference: Order!H1 → Order!H2 → Order!H1/);
    expect(panelsIn(ran.out)).toBe(await usualPanels());
  });

  test("a wall as long as its own order says is an error that is named, and there is no order", async () => {
    const bytes = await shedWith({ Walls: { B2: "=Order!C4*12" } });
    const ran = await takeoff(write("shed.xlsx", bytes), "shed.xlsx");
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/Order!A3 #VALUE! (?:circular reference|Walls!B2 )/);
    expect(ran.out).not.toMatch(PANELS);
  });

  test.each([
    [false, "2027-03-15"],
    [true, "2031-03-16"],
  ])("a release date where days count from 1904: %s", async (from1904, date) => {
    // 46461 days after the day before 1900-01-01, or after 1904-01-01: four years and a day later
    const bytes = await shedWith({ Setup: { Y1: "Release date", Z1: 46461 } });
    const xml = partOf(bytes, "xl/workbook.xml").replace(/<workbookPr[^>]*\/>/, "");
    const workbook = xml.replace(
      "<sheets>",
      `${from1904 ? '<workbookPr date1904="1"/>' : ""}<sheets>`
    );
    const folder = write("shed.xlsx", withParts(bytes, { "xl/workbook.xml": workbook }));
    const ran = await takeoff(folder, ".", "--json");
    const { purchase } = JSON.parse(ran.out) as { purchase: { releases: unknown } };
    expect(JSON.stringify(purchase.releases)).toContain(date);
  });

  test("a merged header counts for its first column only", async () => {
    const bytes = await shedWith({ Walls: { F1: "Below", G1: null } }, (library) => {
      library.getWorksheet("Walls")?.mergeCells("F1:G1");
    });
    const ran = await takeoff(write("shed.xlsx", bytes), "shed.xlsx");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(panelsIn(ran.out)).toBe(await usualPanels());
  });

  test("a header merged over the one beside it leaves that one out, and is refused by name", async () => {
    const bytes = await shedWith({}, (library) => {
      library.getWorksheet("Walls")?.mergeCells("B1:C1");
    });
    const ran = await takeoff(write("shed.xlsx", bytes), "shed.xlsx");
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/Order!A3 #VALUE! Walls row 1 needs the header Height; got/);
  });

  test("hidden and filtered rows count, and are named", async () => {
    const bytes = await shedWith({}, (library) => {
      const walls = library.getWorksheet("Walls");
      if (!walls) throw new Error("no sheet Walls");
      walls.getRow(3).hidden = true;
      walls.getRow(5).hidden = true;
      walls.autoFilter = "A1:E5";
    });
    const ran = await takeoff(write("shed.xlsx", bytes), "shed.xlsx");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(ran.out).toContain(
      "Note: Walls: rows 3, 5 are hidden or filtered out and hold entries; they count like any other."
    );
    expect(panelsIn(ran.out)).toBe(await usualPanels());
  });

  test("formulas where values are expected count as what they come to", async () => {
    const bytes = await shedWith({
      Walls: {
        B2: "=6*12",
        B3: '=SHEATH.INCHES("4\'")',
        C2: '="8"&"\'"',
        D2: '=IF(TRUE,"past","")',
        H1: "North",
        A2: "=H1",
      },
    });
    const ran = await takeoff(write("shed.xlsx", bytes), "shed.xlsx");
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(panelsIn(ran.out)).toBe(await usualPanels());
  });

  test("a formula in error among the walls is named where it stands", async () => {
    const bytes = await shedWith({ Walls: { ...row(3, "East", "=1/0", "8'", "flush", "flush") } });
    const ran = await takeoff(write("shed.xlsx", bytes), "shed.xlsx");
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(/Walls!B3 #DIV\/0!/);
    expect(ran.err).toMatch(/Order!A3 #/);
    expect(ran.out).not.toMatch(PANELS);
  });
});
