/**
 * npm run bench -- speed [--rows N,N] [--calls N]
 *
 * Recalculation of many formula rows in the embedded engine beside the same sums written as its native formulas, each
 * worksheet function's cost per call, and the time from start to first answer. Processor time, not wall time, so that
 * what else the machine does counts less.
 */
import { spawnSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import type { Entry } from "../../worksheet/entry.js";
import { worksheetFunctions } from "../../worksheet/registry.js";
import { openWorkbook, type Workbook } from "../../host/engine/index.js";
import { pack, writeEntries } from "../../host/engine/zip.js";
import { exampleCalls } from "../example-calls.js";

const ROWS: readonly number[] = [100, 1_000, 10_000];
/** Each function is called for this long before and while it is measured, ms. */
const WARM_MS = 30;
const MEASURED_MS = 120;
const STARTS = 5;
/** Times each recalculation is measured. */
const REPEATS = 5;
const MICROSECONDS_PER_MS = 1000;

interface Pair {
  readonly what: string;
  /** formulas of a row: ours, and the same sum in native ones */
  readonly ours: (row: number) => string;
  readonly native: (row: number) => string;
}

/** Column A is the length of a wall, B its height, C foam, D panel. */
const PAIRS: readonly Pair[] = [
  {
    what: "run length",
    ours: (row) => `SHEATH.RUN_LENGTH(A${row},C${row}+D${row},"past","flush")`,
    native: (row) => `A${row}+C${row}+D${row}`,
  },
  {
    what: "nail length",
    ours: (row) => `SHEATH.NAIL_LENGTH(C${row}+D${row},1.5)`,
    native: (row) => `C${row}+D${row}+1.5`,
  },
  {
    what: "wall R",
    ours: (row) => `SHEATH.WALL_R(13,C${row}*6,3.5,0.25,2.05,1.25)`,
    native: (row) => `1/(0.75/(C${row}*6+2.05+13)+0.25/(C${row}*6+2.05+3.5*1.25))`,
  },
  {
    what: "opening tape",
    ours: (row) => `SHEATH.OPENING_TAPE_FEET(A${row}/4,B${row}/2,1,6)`,
    native: (row) => `(2*(A${row}/4+12)+2*B${row}/2)/12`,
  },
];

const XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/** A workbook with a formula in column F of every row. */
function workbook(rows: number, formula: (row: number) => string): Workbook {
  const lines = Array.from({ length: rows }, (_, index) => {
    const row = index + 1;
    const values = [144 + (index % 97), 96 + (index % 13), 0.5 + (index % 5) / 4, 0.625];
    const cells = values.map((value, at) => `<c r="${"ABCD"[at]}${row}"><v>${value}</v></c>`);
    const text = formula(row).replace(/&/g, "&amp;").replace(/</g, "&lt;");
    return `<row r="${row}">${cells.join("")}<c r="F${row}"><f>${text}</f></c></row>`;
  });
  const part = (name: string, text: string): ReturnType<typeof pack> =>
    pack(name, new TextEncoder().encode(XML + text));
  const bytes = writeEntries([
    part(
      "[Content_Types].xml",
      '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>'
    ),
    part(
      "xl/workbook.xml",
      `<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}"><sheets><sheet name="A" sheetId="1" r:id="rId1"/></sheets></workbook>`
    ),
    part(
      "xl/_rels/workbook.xml.rels",
      `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="${OFFICE}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`
    ),
    part(
      "xl/worksheets/sheet1.xml",
      `<worksheet xmlns="${MAIN}"><sheetData>${lines.join("")}</sheetData></worksheet>`
    ),
  ]);
  return openWorkbook(bytes, worksheetFunctions);
}

/** Processor time of some work, ms. */
function spent(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / MICROSECONDS_PER_MS;
}

/** The middle of several, so that one pause of the memory's housekeeping does not decide. */
function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] as number;
}

/** Opening apart: the first calculation of a workbook, and one after a change. */
function recalculation(
  rows: number,
  formula: (row: number) => string
): [first: number, again: number] {
  const first: number[] = [];
  const again: number[] = [];
  for (let time = 0; time < REPEATS; time++) {
    const book = workbook(rows, formula);
    first.push(
      spent(() => {
        const { errors } = book.recalculate();
        if (errors.length > 0) throw new Error(`${errors[0]?.cell}: ${errors[0]?.message}`);
      })
    );
    for (let change = 0; change < REPEATS; change++) {
      book.setCell("A", "A1", 150 + change);
      again.push(spent(() => void book.recalculate()));
    }
  }
  return [median(first), median(again)];
}

/** Both ways must come to the same figures, or they are not the same sum. */
function checkSame({ what, ours, native }: Pair): void {
  const rows = 50;
  const one = workbook(rows, ours);
  const other = workbook(rows, native);
  one.recalculate();
  other.recalculate();
  for (let row = 1; row <= rows; row++) {
    const [a, b] = [one, other].map((book) => Number(book.cell("A", `F${row}`).value));
    if (!(Math.abs((a as number) - (b as number)) <= 1e-9 * Math.abs(b as number))) {
      throw new Error(`${what}, row ${row}: ${a} is not ${b}`);
    }
  }
}

/** Microseconds of one call, with the usual arguments of its page. */
function perCall({ call }: Entry, args: readonly unknown[]): number {
  const run = (forMs: number): number => {
    let calls = 0;
    let batch = 1;
    let total = 0;
    while (total < forMs) {
      const count = batch;
      total += spent(() => {
        for (let index = 0; index < count; index++) call(...args);
      });
      calls += count;
      batch *= 2;
    }
    return (total * MICROSECONDS_PER_MS) / calls;
  };
  run(WARM_MS);
  return run(MEASURED_MS);
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): void {
  const widths = head.map((text, at) =>
    Math.max(text.length, ...rows.map((row) => (row[at] ?? "").length))
  );
  for (const row of [head, ...rows]) {
    const cells = row.map((text, at) =>
      at === 0 ? text.padEnd(widths[at] as number) : text.padStart(widths[at] as number)
    );
    process.stdout.write(`${cells.join("  ").trimEnd()}\n`);
  }
  process.stdout.write("\n");
}

/** Wall and processor time of a fresh process, ms; the median of several. */
function startUp(script: string): readonly [wall: number, processor: number] {
  const runs = Array.from({ length: STARTS }, () => {
    const started = process.hrtime.bigint();
    const ran = spawnSync(
      process.execPath,
      [
        "--input-type=module",
        "-e",
        `${script}\nconst { user, system } = process.cpuUsage();\nprocess.stderr.write("\\n" + (user + system));`,
      ],
      { encoding: "utf8" }
    );
    const wall = Number(process.hrtime.bigint() - started) / 1e6;
    if (ran.status !== 0) throw new Error(ran.stderr);
    return [wall, Number(ran.stderr.trim().split("\n").at(-1)) / MICROSECONDS_PER_MS] as const;
  });
  const middle = (at: 0 | 1): number => median(runs.map((run) => run[at]));
  return [middle(0), middle(1)];
}

/** The bundled list of functions. */
const FUNCTIONS = ["registry", "mjs"].join(".");

const START_UPS: readonly (readonly [what: string, script: (root: URL) => string])[] = [
  ["Node by itself", () => ""],
  [
    "the functions alone, one answer",
    (root) =>
      `const { worksheetFunctions } = await import(${JSON.stringify(new URL(FUNCTIONS, root).href)});
       worksheetFunctions.find((each) => each.name === "RUN_LENGTH").call(240, 1.875, "past", "flush");`,
  ],
  [
    "the engine, one formula",
    (root) =>
      `const { FormulaEvaluator } = await import(${JSON.stringify(new URL("index.mjs", root).href)});
       const { worksheetFunctions } = await import(${JSON.stringify(new URL(FUNCTIONS, root).href)});
       new FormulaEvaluator(worksheetFunctions).evaluate('=SHEATH.RUN_LENGTH(240,1.875,"past","flush")');`,
  ],
  [
    "npm run formula, without npm and bundling",
    (root) =>
      `const { main } = await import(${JSON.stringify(new URL("formula.mjs", root).href)});
       await main(['=SHEATH.RUN_LENGTH(240,1.875,"past","flush")']);`,
  ],
];

export async function main(args: readonly string[]): Promise<number> {
  const rowsAt = args.indexOf("--rows");
  const counts =
    rowsAt < 0 ? ROWS : (args[rowsAt + 1] ?? "").split(",").map((text) => Number(text));
  if (counts.some((count) => !Number.isInteger(count) || count < 1 || count > 100_000)) {
    process.stderr.write("--rows must be whole numbers from 1 to 100000, as in 100,1000\n");
    return 2;
  }
  PAIRS.forEach(checkSame);
  process.stdout.write("Recalculation in the embedded engine, ms of processor time\n\n");
  const pairs = PAIRS.flatMap(({ what, ours, native }) =>
    counts.map((count) => {
      const [first, again] = recalculation(count, ours);
      const [nativeFirst, nativeAgain] = recalculation(count, native);
      const cells = [first, again, nativeFirst, nativeAgain].map((each) =>
        each.toFixed(each < 10 ? 1 : 0)
      );
      return [what, String(count), ...cells, (again / nativeAgain).toFixed(2)];
    })
  );
  table(["sum", "rows", "ours first", "again", "native first", "again", "ours/native"], pairs);

  process.stdout.write("One call of each function, microseconds of processor time\n\n");
  const examples = exampleCalls();
  const calls = worksheetFunctions.map((each) => {
    const given = examples.get(each.name);
    if (!given) throw new Error(`${each.name} has no example call`);
    return [each.name, perCall(each, given)] as const;
  });
  table(
    ["function", "us"],
    [...calls].sort((a, b) => b[1] - a[1]).map(([name, us]) => [name, us.toFixed(us < 10 ? 2 : 0)])
  );

  process.stdout.write("From start to first answer, ms (median of five)\n\n");
  const root = new URL("./", import.meta.url);
  const starts = START_UPS.map(([what, script]) => {
    const [wall, processor] = startUp(script(root));
    return [what, wall.toFixed(0), processor.toFixed(0)];
  });
  table(["what", "wall", "processor"], starts);
  const bundle = path.join("dist", "addin", "functions.js");
  if (fs.existsSync(bundle)) {
    process.stdout.write(
      `The add-in's functions.js is ${(fs.statSync(bundle).size / 1024).toFixed(0)} KB.\n`
    );
  }
  return 0;
}
