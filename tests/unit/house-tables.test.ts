/** What the three tables may hold, and what is said of each slip in them. */
import { CalcError } from "../../src/core/check.js";
import type { Cell, Table } from "../../src/core/house/tables.js";
import {
  SETTINGS,
  type Settings,
  readSettings,
  settingLabel,
  settingList,
  settingsTable,
} from "../../src/core/house/settings.js";
import { at, headerParts, lengthUnit, nameKey, readTable } from "../../src/core/house/tables.js";
import { takeoffHouse } from "../../src/core/house/takeoff.js";
import {
  type Opening,
  type RowProblem,
  type Wall,
  readOpenings,
  readWalls,
  wallPeak,
} from "../../src/core/house/walls.js";
import { ASSEMBLY } from "../assembly.js";
import { expectError } from "./expect-error.js";

const plain = (): Settings => readSettings(ASSEMBLY);
/** the rows, where every one could be read */
function all<T>(found: { read: readonly T[]; problems: readonly RowProblem[] }): T[] {
  const [problem] = found.problems;
  if (problem) throw new CalcError(problem.code, problem.message);
  return [...found.read];
}
const HEADER = ["Wall", "Length", "Height", "Left end", "Right end"];

function walls(rows: Cell[][], header: Cell[] = HEADER, settings: Settings = plain()): Wall[] {
  return all(readWalls([header, ...rows], settings));
}
function wall(extra: Record<string, Cell>, base: Cell[] = ["A", 240, 96, "past", "flush"]): Wall {
  const keys = Object.keys(extra);
  return walls([[...base, ...Object.values(extra)]], [...HEADER, ...keys])[0] as Wall;
}
function openings(
  rows: Cell[][],
  on: Wall[] = walls([["A", 240, 96, "past", "flush"]])
): Opening[] {
  const header = ["Wall", "Opening", "From left", "Sill", "Width", "Height"];
  return all(readOpenings([header, ...rows], on));
}
/** One setting, and the assembly beside it. */
const setting = (name: Cell, value: Cell): Settings =>
  readSettings([
    [name, value],
    ...ASSEMBLY.filter(([each]) => nameKey(String(each)) !== headerParts(String(name)).key),
  ]);

describe("headers", () => {
  it("stand in any order, any case and any spacing", () => {
    const [one] = walls(
      [["flush", "past", 96, 240, "A"]],
      ["RIGHT END", "leftend", " Height ", "l e n g t h", "wall"]
    );
    expect(one).toMatchObject({ name: "A", lengthIn: 240, leftEnd: "past", rightEnd: "flush" });
  });

  it("that end in (in), (ft) or (mm) set what plain numbers mean", () => {
    const header = ["Wall", "Length (ft)", "Height(MM)", "Left end", "Right end", "Below ( in )"];
    const [one] = walls([["A", 20, 2438.4, "past", "flush", 12]], header);
    expect(one).toMatchObject({ lengthIn: 240, belowIn: 12 });
    expect(one?.top[0]?.heightIn).toBeCloseTo(96, 12);
    // text keeps its own marks
    const [two] = walls([["A", `20'-6"`, "96 in", "past", "flush", `1'`]], header);
    expect(two).toMatchObject({ lengthIn: 246, belowIn: 12 });
  });

  it("with another unit are refused", () => {
    expectError(
      () => walls([["A", 20, 96, "past", "flush"]], ["Wall", "Length (yd)", ...HEADER.slice(2)]),
      "out-of-range",
      'walls header "Length (yd)" has the unit (yd); allowed are (in), (ft) and (mm)'
    );
  });

  it("that are needed and missing are named, with what came", () => {
    expectError(
      () => walls([["A", 240]], ["Wall", "Length"]),
      "out-of-range",
      "walls needs the header Height, Left end, Right end in its first row; got Wall, Length"
    );
    expectError(
      () =>
        readOpenings(
          [
            ["Wall", "Width"],
            ["A", 3],
          ],
          []
        ),
      "out-of-range",
      "openings needs the header From left, Sill, Height in its first row; got Wall, Width"
    );
    expectError(
      () => readWalls([[null, ""]], plain()),
      "out-of-range",
      /walls needs the header Wall, Length, Height, Left end, Right end in its first row; got a blank row/
    );
    expectError(() => readWalls([], plain()), "out-of-range", /got a blank row$/);
  });

  it("that stand twice are refused", () => {
    expectError(
      () => walls([["A", 240, 96, "past", "flush", 1]], [...HEADER, "length (ft)"]),
      "out-of-range",
      "walls has the header Length twice"
    );
  });

  it("that are unknown are listed and ignored", () => {
    const read = readWalls(
      [
        [...HEADER, "Colour", "", "Siding (ft)"],
        ["A", 240, 96, "past", "flush", "red", "note", 3],
      ],
      plain()
    );
    expect(read.unknownHeaders).toEqual(["Colour", "Siding (ft)"]);
    expect(read.read).toHaveLength(1);
  });

  it("split into name and unit", () => {
    expect(headerParts("Length (ft)")).toEqual({ key: "length", unit: "ft" });
    expect(headerParts("Length")).toEqual({ key: "length" });
    expect(headerParts("Length (ft) long")).toEqual({ key: "length(ft)long" });
    expect(headerParts("  Length ( FT ) ")).toEqual({ key: "length", unit: "ft" });
    expect(headerParts("Length (clear) (ft)")).toEqual({ key: "length(clear)", unit: "ft" });
  });

  it("may break over lines in the cell (found: the unit was lost)", () => {
    expect(headerParts("Right\nheight\n(ft)")).toEqual({ key: "rightheight", unit: "ft" });
    const header = [
      "Wall",
      "Length\n(ft)",
      "Height",
      "Left\nend",
      "Right\r\nend",
      "Peak\nheight (ft)",
    ];
    const [one] = walls([["A", 20, 96, "past", "flush", 12, 120]], [...header, "Peak at"]);
    expect(one).toMatchObject({ lengthIn: 240, top: [{}, { xIn: 120, heightIn: 144 }, {}] });
  });

  it("with nothing in the brackets, or none, mean inches", () => {
    expect(lengthUnit(undefined, "here")).toBe("in");
    expect(lengthUnit("", "here")).toBe("in");
    const [one] = walls(
      [["A", 240, 96, "past", "flush"]],
      ["Wall", "Length ()", ...HEADER.slice(2)]
    );
    expect(one?.lengthIn).toBe(240);
    const [row] = readTable("t", [["Length ()"], [5]], [{ name: "Length" }]).rows;
    expect(row?.length("Length")).toBe(5);
  });

  it("of columns that are no lengths may say what they like in brackets", () => {
    const header = ["Wall (elevation)", ...HEADER.slice(1), "Quantity (pieces)"];
    expect(walls([["A", 240, 96, "past", "flush", 3]], header)[0]).toMatchObject({
      name: "A",
      quantity: 3,
    });
  });

  it("are shown without the spaces round them", () => {
    expectError(
      () => walls([["A", 20, 96, "past", "flush"]], ["Wall", "  Length (yd) ", ...HEADER.slice(2)]),
      "out-of-range",
      'walls header "Length (yd)" has the unit (yd); allowed are (in), (ft) and (mm)'
    );
    expectError(
      () => walls([["A", 240]], [" Wall ", " Lenght "]),
      "out-of-range",
      /in its first row; got Wall, Lenght$/
    );
    const read = readWalls(
      [
        [...HEADER, "  Colour "],
        ["A", 240, 96, "past", "flush", "red"],
      ],
      plain()
    );
    expect(read.unknownHeaders).toEqual(["Colour"]);
  });
});

describe("rows", () => {
  it("that are blank are skipped, and the rest keep their row numbers", () => {
    const read = walls([
      ["A", 240, 96, "past", "flush"],
      [null, "", "  ", null, undefined],
      ["B", 120, 96, "past", "flush"],
    ]);
    expect(read.map((each) => [each.name, each.row])).toEqual([
      ["A", 1],
      ["B", 3],
    ]);
  });

  it("with something only under an unknown header are blank", () => {
    expect(
      walls(
        [
          ["A", 240, 96, "past", "flush", ""],
          [null, null, null, null, null, "see drawing"],
        ],
        [...HEADER, "Note"]
      )
    ).toHaveLength(1);
  });

  it("a cell that holds an error, or a number that is none, is named by row and column", () => {
    expectError(
      () => walls([["A", { error: 1 } as unknown as Cell, 96, "past", "flush"]]),
      "wrong-kind",
      "walls row 2, column 2 must hold a plain value; got an error or another kind of cell"
    );
    expectError(
      () => walls([["A", 240, NaN, "past", "flush"]]),
      "wrong-kind",
      "walls row 2, column 3 must be a finite number; got NaN"
    );
  });

  it("that are half blank do not make a blank range", () => {
    expectError(
      () =>
        readOpenings(
          [
            ["", "Width"],
            [3, null],
          ],
          []
        ),
      "out-of-range",
      /^openings needs the header Wall, From left, Sill, Height in its first row; got Width$/
    );
  });

  it("a fault of ours is not passed off as a slip in a row", () => {
    const fault = new TypeError("not ours to word");
    const read = (): never => {
      throw fault;
    };
    expect(() => at("walls row 2", read)).toThrow(fault);
    expect(fault.message).toBe("not ours to word");
  });

  it("none at all is an error", () => {
    expectError(() => walls([]), "out-of-range", "walls must hold at least one wall; got none");
    expectError(() => walls([[null]]), "out-of-range", /got none$/);
  });

  it("readTable keeps a cell of each column by name", () => {
    const { rows } = readTable(
      "t",
      [
        ["B", "a"],
        [1, "x"],
      ],
      [{ name: "A" }, { name: "B" }]
    );
    expect(rows[0]?.cell("A")).toBe("x");
    expect(rows[0]?.cell("B")).toBe(1);
    expect(rows[0]?.optionalText("A")).toBe("x");
  });
});

describe("a slip in a wall's row names the row, the wall and the column", () => {
  const bad =
    (row: Cell[], header?: Cell[]): (() => unknown) =>
    () =>
      walls([["A", 240, 96, "past", "flush"], row], header);

  it("a thickness-like fraction that became a date", () => {
    expectError(
      bad(["North", 46150, 96, "past", "flush"]),
      "wrong-kind",
      /^walls row 3 \(wall North\): Length must be a length; got 46150: it looks like a date: .* type 5\/8 \(or 0\.625\)$/
    );
  });
  it("text in a number column", () => {
    expectError(
      bad(["North", "twenty", 96, "past", "flush"]),
      "wrong-kind",
      `walls row 3 (wall North): Length must be a length; got "twenty"; type lengths like 24'-6 1/2", 1-7/8 as text, or 0.625`
    );
    expectError(
      bad(["North", 240, true, "past", "flush"]),
      "wrong-kind",
      /^walls row 3 \(wall North\): Height must be a length; got TRUE/
    );
  });
  it("13 inches after feet, a zero below the line", () => {
    expectError(
      bad(["North", `4'-13"`, 96, "past", "flush"]),
      "out-of-range",
      /^walls row 3 \(wall North\): Length: "4'-13"" has 13 in after the feet/
    );
    expectError(
      bad(["North", 240, "96 1/0", "past", "flush"]),
      "out-of-range",
      /^walls row 3 \(wall North\): Height: "96 1\/0" has a fraction with a zero below the line/
    );
  });
  it("a blank length, end or name, as a merged cell leaves them", () => {
    expectError(
      bad(["North", null, 96, "past", "flush"]),
      "wrong-kind",
      /^walls row 3 \(wall North\): Length is blank; type lengths like/
    );
    expectError(
      bad(["North", 240, 96, "", "flush"]),
      "wrong-kind",
      "walls row 3 (wall North): Left end must be one of past, flush, tight, short, free; got a blank"
    );
    expectError(
      bad(["", 240, 96, "past", "flush"]),
      "wrong-kind",
      "walls row 3: Wall is blank; every row needs its own (a merged cell fills only its first)"
    );
  });
  it("a row that ends before its wall's name", () => {
    expectError(
      () =>
        walls([["past", "flush", 96, 240]], ["Left end", "Right end", "Height", "Length", "Wall"]),
      "wrong-kind",
      /^walls row 2: Wall is blank/
    );
  });
  it("an end that is none", () => {
    expectError(
      bad(["North", 240, 96, "past", "butt"]),
      "out-of-range",
      'walls row 3 (wall North): Right end must be one of past, flush, tight, short, free; got "butt"'
    );
  });
  it("two walls with one name, case and spaces ignored", () => {
    expectError(
      bad([" a ", 240, 96, "past", "flush"]),
      "out-of-range",
      "walls row 3 (wall a): Wall must be a name of its own; walls row 2 has the same name"
    );
    expect(walls([[1, 240, 96, "past", "flush"]])[0]?.name).toBe("1");
    expectError(
      bad([true, 240, 96, "past", "flush"]),
      "wrong-kind",
      "walls row 3 (wall true): Wall must be text; got TRUE"
    );
  });
  it("lengths outside their limits", () => {
    const say = (row: Cell[], rule: string): void =>
      expectError(bad(row), "out-of-range", `walls row 3 (wall N): ${rule}`);
    say(["N", 0, 96, "past", "flush"], "Length must be more than 0 in; got 0");
    say(
      ["N", 12000, 96, "past", "flush"].map((v) => (v === 12000 ? "12000" : v)),
      "Length must be less than 12000 in; got 12000"
    );
    say(["N", 2, 96, "past", "flush"], "Length must be at least two studs, 3 in; got 2");
    expect(walls([["N", 3, 96, "free", "free"]])[0]?.lengthIn).toBe(3);
    say(["N", 240, 0, "past", "flush"], "height must be more than 0 in at one end; got 0");
    say(["N", 240, 1200, "past", "flush"], "Height must be less than 1200 in; got 1200");
    say(["N", 240, -1, "past", "flush"], "Height must be at least 0 in; got -1");
    say(
      ["N", 3.5, 96, "short", "short"],
      "length must leave a run to sheathe: 3.5 in less what the ends take leaves -0.25 in"
    );
  });
  it("optional columns outside theirs", () => {
    const say = (extra: Record<string, Cell>, rule: string | RegExp): void =>
      expectError(() => wall(extra), "out-of-range", rule);
    const at = "walls row 2 (wall A): ";
    say({ Below: -1 }, `${at}Below must be at least 0 in; got -1`);
    say({ Below: 241 }, `${at}Below must be at most 240 in; got 241`);
    say(
      { Spacing: 19.2 },
      /^walls row 2 \(wall A\): spacing must go a whole number of times into the panel width of 48 in .*got 19\.2$/
    );
    say({ Spacing: 2 }, `${at}Spacing must be at least 3 in; got 2`);
    say({ From: "top" }, `${at}From must be one of left, right; got "top"`);
    say({ "Edge nailing": 0.1 }, `${at}Edge nailing must be at least 0.5 in; got 0.1`);
    say({ "Field nailing": 100 }, `${at}Field nailing must be at most 96 in; got 100`);
    say(
      { Quantity: 0 },
      `${at}Quantity must be at least 1; got 0; delete the row or leave the cell blank`
    );
    say({ Quantity: 1.5 }, /Quantity must be a whole number; got 1\.5/);
    say({ Quantity: 10_001 }, /Quantity must be at most 10000; got 10001/);
    say({ "Right height": -1 }, `${at}Right height must be at least 0 in; got -1`);
    say(
      { "Peak height": 90, "Peak at": 120 },
      `${at}peak height must be more than both end heights; got 90 beside 96 and 96`
    );
    say({ "Peak height": 120, "Peak at": 240 }, `${at}peak at must be less than 240 in; got 240`);
    say({ "Block line": 0 }, `${at}Block line must be more than 0 in; got 0`);
    say({ "Block line": 241 }, `${at}Block line must be at most 240 in; got 241`);
    expectError(
      () => wall({ Quantity: "two" }),
      "wrong-kind",
      /Quantity must be a number; got "two"/
    );
  });
  it("a peak is read where there is one", () => {
    expect(wallPeak(wall({ "Peak height": 120, "Peak at": 60 }))).toEqual({
      xIn: 60,
      heightIn: 120,
    });
    expect(wallPeak(wall({ "Right height": 120 }))).toBeUndefined();
  });
  it("half a peak", () => {
    expectError(
      () => wall({ "Peak height": 120 }),
      "wrong-kind",
      "walls row 2 (wall A): Peak at is blank: a peak needs both Peak height and Peak at"
    );
    expectError(
      () => wall({ "Peak at": 120 }),
      "wrong-kind",
      "walls row 2 (wall A): Peak height is blank: a peak needs both Peak height and Peak at"
    );
  });
});

describe("optional columns", () => {
  it("fall back to the settings where blank", () => {
    const settings = readSettings([
      ...ASSEMBLY,
      ["Below", 12],
      ["Block line", 10],
      ["Spacing", 24],
      ["From", "right"],
      ["Edge nailing", 4],
      ["Field nailing", 8],
    ]);
    const [one] = walls([["A", 240, 96, "past", "flush"]], HEADER, settings);
    expect(one).toMatchObject({
      belowIn: 12,
      blockLineIn: 10,
      spacingIn: 24,
      from: "right",
      edgeIn: 4,
      fieldIn: 8,
      quantity: 1,
      nextWall: undefined,
    });
  });
  it("rule where they are filled in", () => {
    expect(
      wall({
        Below: `1'`,
        "Block line": "8",
        Spacing: 12,
        From: "RIGHT",
        "Edge nailing": 3,
        "Field nailing": 6,
        Quantity: 2,
        "Next wall": " B ",
        "Right height": 120,
      })
    ).toMatchObject({
      belowIn: 12,
      blockLineIn: 8,
      spacingIn: 12,
      from: "right",
      edgeIn: 3,
      fieldIn: 6,
      quantity: 2,
      nextWall: "B",
      top: [
        { xIn: 0, heightIn: 96 },
        { xIn: 240, heightIn: 120 },
      ],
    });
  });
  it("yes and no may be the TRUE and FALSE of a check box", () => {
    expect(wall({ "Bottom seam": true }).hasBottomSeam).toBe(true);
    expect(wall({ "Bottom seam": "Yes" }).hasBottomSeam).toBe(true);
    expect(wall({ "Bottom seam": false }).hasBottomSeam).toBe(false);
    expect(wall({ "Bottom seam": "" }).hasBottomSeam).toBe(false);
    expectError(
      () => wall({ "Bottom seam": 1 }),
      "wrong-kind",
      "walls row 2 (wall A): Bottom seam must be one of yes, no; got 1"
    );
  });
  it("a wall may have no block line though the house has one", () => {
    const settings = readSettings([...ASSEMBLY, ["Block line", 10]]);
    const header = [...HEADER, "Block line"];
    const [one] = walls([["A", 240, 96, "past", "flush", "none"]], header, settings);
    expect(one?.blockLineIn).toBeUndefined();
  });
});

describe("a slip in an opening's row names the row, the wall and the column", () => {
  const bad =
    (row: Cell[]): (() => unknown) =>
    () =>
      openings([row]);

  it("a wall that is not there", () => {
    expectError(
      bad(["Z", "D1", 12, 0, 36, 80]),
      "out-of-range",
      'openings row 2 (wall Z): Wall must be a wall of the walls table; got "Z"'
    );
  });
  it("an opening that leaves its wall", () => {
    expect(openings([["a", "D1", 204, 0, 36, 96]])).toHaveLength(1);
    expectError(
      bad(["A", "D1", 204.5, 0, 36, 80]),
      "out-of-range",
      `openings row 2 (wall A): From left + Width must be at most the wall's length, 20'-0"; got 20'-0 1/2"`
    );
    expectError(
      bad(["A", "D1", 12, 20, 36, 77]),
      "out-of-range",
      `openings row 2 (wall A): Sill + Height must be at most the wall's height there, 8'-0"; got 8'-1"`
    );
    expectError(
      bad(["A", "D1", -1, 0, 36, 80]),
      "out-of-range",
      "openings row 2 (wall A): From left must be at least 0 in; got -1"
    );
    expectError(
      bad(["A", "D1", 12, -1, 36, 80]),
      "out-of-range",
      "openings row 2 (wall A): Sill must be at least 0 in; got -1"
    );
    // a wall that laps below the deck may be open there
    expect(openings([["A", "V", 12, -10, 24, 8]], [wall({ Below: 12 })])).toHaveLength(1);
  });
  it("a formula's hair below 0 is 0, and on the limit is on it", () => {
    const at = (left: Cell, sill: Cell): Opening =>
      openings([["A", "D", left, sill, 36, 80]], [wall({ Below: 0.3 })])[0] as Opening;
    expect(at(0.3 - 0.1 - 0.2, 0)).toMatchObject({ leftIn: 0, bottomIn: 0 });
    expect(at(12, -0.1 - 0.2)).toMatchObject({ leftIn: 12, bottomIn: -0.3 });
    expectError(
      () => at(-0.001, 0),
      "out-of-range",
      /From left must be at least 0 in; got -0\.001$/
    );
  });
  it("an opening under a rake or a gable that is too high at one jamb", () => {
    const raked = [wall({ "Right height": 216 })];
    expect(openings([["A", "W", 48, 30, 48, 90]], raked)).toHaveLength(1);
    expectError(
      () => openings([["A", "W", 47, 30, 48, 90]], raked),
      "out-of-range",
      /must be at most the wall's height there, 9'-11 1\/2"; got 10'-0"/
    );
    const gable = [wall({ "Peak height": 156, "Peak at": 120 })];
    expect(openings([["A", "W", 60, 96, 120, 30]], gable)).toHaveLength(1);
    expectError(
      () => openings([["A", "W", 60, 96, 124, 30]], gable),
      "out-of-range",
      /wall's height there, 10'-4"; got 10'-6"/
    );
  });
  it("an opening that overlaps another", () => {
    expectError(
      () =>
        openings([
          ["A", "D1", 12, 0, 36, 80],
          ["A", "W1", 47, 40, 36, 30],
        ]),
      "out-of-range",
      "openings row 3 (wall A): W1 overlaps D1 of openings row 2"
    );
    // side by side, or one over the other, they only touch
    expect(
      openings([
        ["A", "D1", 12, 0, 36, 80],
        ["A", "W1", 48, 0, 36, 80],
        ["A", "T1", 12, 80, 72, 14],
      ])
    ).toHaveLength(3);
  });
  it("openings apart from each other may stand in any order", () => {
    expect(
      openings([
        ["A", "D1", 100, 0, 36, 80],
        ["A", "W1", 12, 40, 36, 30],
        ["A", "W2", 60, 60, 30, 20],
        ["A", "W3", 60, 10, 30, 20],
      ])
    ).toHaveLength(4);
    // they only touch where one begins on the jamb or the sill of the other
    expect(
      openings([
        ["A", "W1", 48, 40, 36, 30],
        ["A", "W2", 12, 40, 36, 30],
        ["A", "W3", 48, 10, 36, 30],
      ])
    ).toHaveLength(3);
    for (const [left, sill] of [
      [60, 50],
      [40, 50],
      [60, 20],
      [40, 20],
    ] as const) {
      expectError(
        () =>
          openings([
            ["A", "W1", 48, 40, 36, 30],
            ["A", "W2", left, sill, 36, 30],
          ]),
        "out-of-range",
        "openings row 3 (wall A): W2 overlaps W1 of openings row 2"
      );
    }
  });
  it("a merged wall name, a size in feet that reads as a date, a blank", () => {
    expectError(
      () =>
        openings([
          ["A", "D1", 12, 0, 36, 80],
          [null, "W1", 100, 40, 36, 30],
        ]),
      "wrong-kind",
      /^openings row 3: Wall is blank; .*merged cell/
    );
    expectError(
      bad(["A", "D1", 12, 0, 45000, 80]),
      "wrong-kind",
      /^openings row 2 \(wall A\): Width must be a length; got 45000: it looks like a date/
    );
    expectError(bad(["A", "D1", null, 0, 36, 80]), "wrong-kind", /From left is blank/);
    expectError(bad(["A", "D1", 12, 0, 0, 80]), "out-of-range", /Width must be more than 0 in/);
    expectError(bad(["A", "D1", 12, 0, 36, 0]), "out-of-range", /: Height must be more than 0 in/);
  });
  it("no name is its row's number", () => {
    expect(openings([["A", "", 12, 0, 36, 80]])[0]?.name).toBe("openings row 2");
  });
  it("a blank range is no openings", () => {
    for (const blank of [
      [],
      [[null]],
      [
        ["", null],
        [undefined, "  "],
      ],
    ] as Table[]) {
      expect(readOpenings(blank, [])).toEqual({
        read: [],
        problems: [],
        unknownHeaders: [],
      });
    }
  });
});

describe("settings", () => {
  it("a fresh table is every default, as no row at all is, once Foam and Panel are typed", () => {
    const typed = settingsTable().map(([label = "", value = ""], row) =>
      row === 1 || row === 2 ? (ASSEMBLY[row - 1] as Cell[]) : [label, value]
    );
    expect({ ...readSettings(typed), given: [] }).toEqual({ ...plain(), given: [] });
    expect(settingsTable()).toHaveLength(Object.keys(SETTINGS).length + 1);
    expect(settingList().map((each) => each.label)).toEqual(
      settingsTable()
        .slice(1)
        .map(([name]) => name)
    );
  });
  it("every default is inside its own limits, and every name is its own", () => {
    let checked = 0;
    for (const each of Object.values(SETTINGS)) {
      const read = (): unknown => setting(settingLabel(each), each.fallback);
      if (["Foam", "Panel"].includes(each.name)) expect(read).toThrow(/is blank: type/);
      else expect(read).not.toThrow();
      expect(each.help.length).toBeGreaterThan(5);
      checked++;
    }
    expect(checked).toBeGreaterThan(40);
  });
  it("names match whatever their case, spaces and unit", () => {
    expect(setting("  FOAM (in)", 2).foamIn).toBe(2);
    expect(setting("foam", "2").foamIn).toBe(2);
    expect(setting("Foam (mm)", 50.8).foamIn).toBe(2);
    expect(setting("Below (ft)", 1).belowIn).toBe(12);
    expect(setting("Indoor temperature (F)", 68).indoorF).toBe(68);
    expect(setting("Cavity R (R)", 13).cavityR).toBe(13);
  });
  it("a blank value is the default, an unknown name is kept for the checks", () => {
    const read = readSettings([
      ["Setting", "Value", "Help"],
      ["Spacing", "", "in"],
      [null, null, "a note beside nothing"],
      ["Color", "red", null],
      ...ASSEMBLY,
    ]);
    expect(read.spacingIn).toBe(plain().spacingIn);
    expect(read.unknown).toEqual(["Color"]);
    expect(read.given).toEqual(["Foam", "Panel"]);
  });
  it("names are written with their unit, where they have one", () => {
    expect(settingLabel(SETTINGS.foamIn)).toBe("Foam (in)");
    expect(settingLabel(SETTINGS.cavityR)).toBe("Cavity R (R)");
    expect(settingLabel(SETTINGS.from)).toBe("From");
  });
  it("what is filled in is known from what is left to its default", () => {
    const read = readSettings([
      ["foam (mm)", 25.4],
      ["Panel", 0.625],
      ["Spacing", " "],
      ["From", "right"],
      [" Paint ", "red"],
    ]);
    expect(read.given).toEqual(["Foam", "Panel", "From"]);
    expect(read.unknown).toEqual(["Paint"]);
  });
  it("a header row may say Setting, Settings or Name, in the first row only", () => {
    for (const name of ["Setting", "settings", " NAME "]) {
      expect(
        readSettings([
          [name, "Value"],
          ["Foam", 1],
          ["Panel", 0.625],
        ])
      ).toMatchObject({ foamIn: 1, unknown: [] });
      expect(
        readSettings([
          ["Foam", 1],
          [name, "Value"],
          ["Panel", 0.625],
        ]).unknown
      ).toEqual([name.trim()]);
    }
  });
  it("a climate zone is text or a number, its spaces aside", () => {
    expect(setting("Climate zone", " 5A ").climateZone).toBe("5A");
    expect(setting("Climate zone", 5).climateZone).toBe("5");
    expectError(
      () => setting("Climate zone", true),
      "wrong-kind",
      "settings row 1: Climate zone must be text; got TRUE"
    );
  });
  it("costs are decimals, with or without a digit before the point, and nothing else", () => {
    const costs = (text: string): readonly number[] | undefined =>
      readSettings([["Panel lengths", "96; 120"], ["Panel costs", text], ...ASSEMBLY]).panelCosts;
    expect(costs(".25; 30")).toEqual([0.25, 30]);
    expect(costs("41.5; 1250")).toEqual([41.5, 1250]);
    for (const text of ["USD30", "30USD", "3O"]) {
      expectError(
        () => costs(`${text}; 41`),
        "wrong-kind",
        `settings row 2: Panel costs must be a number; got "${text}"`
      );
    }
    expect(
      readSettings([["Panel lengths", 96], ["Panel costs", 30], ...ASSEMBLY]).panelCosts
    ).toEqual([30]);
  });
  it("a panel thicker than any is refused by its two parts (found: the first wall's length was named)", () => {
    expectError(
      () =>
        readSettings([
          ["Foam", 8],
          ["Panel", 8],
        ]),
      "out-of-range",
      "settings: Foam + Panel must be at most 12 in; got 16"
    );
  });
  it("are two columns: names without their values are no settings", () => {
    expectError(
      () => readSettings([["Setting"], ["Foam"], ["Panel"]]),
      "wrong-kind",
      "settings must be a range of two columns, name and value; got one column"
    );
  });
  it("Foam and Panel have no default: a blank, a 0 and a row left out say what to type", () => {
    const foam = "type the foam's thickness, such as 1-1/4, or none for plain sheathing";
    const panel = "type the wood structural panel's thickness, such as 5/8";
    for (const blank of [null, "", "  ", undefined]) {
      expectError(
        () => setting("Foam", blank),
        "wrong-kind",
        `settings row 1: Foam is blank: ${foam}`
      );
      expectError(
        () => setting("Panel (in)", blank),
        "wrong-kind",
        `settings row 1: Panel is blank: ${panel}`
      );
    }
    for (const zero of [0, "0", "0 in"]) {
      expectError(
        () => setting("Foam", zero),
        "out-of-range",
        `settings row 1: Foam is 0, which counts as a blank: ${foam}`
      );
      expectError(
        () => setting("Panel", zero),
        "out-of-range",
        `settings row 1: Panel is 0, which counts as a blank: ${panel}`
      );
    }
    for (const none of [[], [[null]], [["Spacing", 16]]] as Table[]) {
      expectError(
        () => readSettings(none),
        "wrong-kind",
        `settings (no row Foam): Foam is blank: ${foam}`
      );
    }
    expectError(
      () => readSettings([["Foam", 1]]),
      "wrong-kind",
      `settings (no row Panel): Panel is blank: ${panel}`
    );
  });
  it("the word none in Foam is plain sheathing: the panel is all there is; Panel has no none", () => {
    for (const none of ["none", " None ", "NONE"]) {
      expect(setting("Foam", none)).toMatchObject({
        foamIn: 0,
        panelIn: 0.625,
        thicknessIn: 0.625,
        given: ["Foam", "Panel"],
      });
    }
    expectError(
      () => setting("Panel", "none"),
      "wrong-kind",
      /^settings row 1: Panel must be a length; got "none"/
    );
  });
  it("derive the thickness and the penetration", () => {
    expect(
      readSettings([
        ["Foam", "1-1/4"],
        ["Panel", "5/8"],
      ])
    ).toMatchObject({
      thicknessIn: 1.875,
      penetrationIn: 1.5,
    });
    expect(setting("Penetration basis", "shear-wall table").penetrationIn).toBe(1.375);
    expect(setting("Penetration basis", "wind table").penetrationIn).toBe(1.75);
    expect(setting("Penetration", 1.25).penetrationIn).toBe(1.25);
    expectError(
      () =>
        readSettings([...ASSEMBLY, ["Penetration basis", "wind table"], ["Nail diameter", 0.148]]),
      "not-covered",
      /^settings: wind table has rows for nail shanks/
    );
  });
  it("lists in one cell: commas, or semicolons where commas are decimals", () => {
    expect(setting("Panel lengths", "96, 108").panelLengthsIn).toEqual([96, 108]);
    expect(setting("Panel lengths", `8'; 9'`).panelLengthsIn).toEqual([96, 108]);
    expect(setting("Tape widths", "2,5; 3").tapeWidthsIn).toEqual([2.5, 3]);
    expect(setting("Panel lengths", 120).panelLengthsIn).toEqual([120]);
    expect(setting("Nail lengths", "2-1/2, 3 1/4").nailLengthsIn).toEqual([2.5, 3.25]);
    expect(
      readSettings([["Panel lengths", "96; 120"], ["Panel costs", "30; 41.5"], ...ASSEMBLY])
        .panelCosts
    ).toEqual([30, 41.5]);
  });
  it("yes and no, TRUE and FALSE", () => {
    expect(setting("Turn pieces", "Yes").turnPieces).toBe(true);
    expect(setting("Turn pieces", false).turnPieces).toBe(false);
    expectError(
      () => setting("Turn pieces", "maybe"),
      "out-of-range",
      'settings row 1: Turn pieces must be one of yes, no; got "maybe"'
    );
  });
  it("slips name the row and the setting", () => {
    const say = (name: Cell, value: Cell, message: string | RegExp): void =>
      expectError(() => setting(name, value), "out-of-range", message);
    say("Foam", -1, "settings row 1: Foam must be more than 0 in; got -1");
    say("Foam (yd)", 1, "settings row 1 (Foam) has the unit (yd); allowed are (in), (ft) and (mm)");
    say(
      "Foam R per inch",
      13,
      "settings row 1: Foam R per inch must be at most 12; got 13; type the R of one inch of foam, such as 6, not of the whole panel"
    );
    say("Tape extra", 5, "settings row 1: Tape extra must be less than 1; got 5; 5 % is 0.05");
    say(
      "Panel lengths",
      "96, 96",
      'settings row 1: Panel lengths must not list a length twice; got "96, 96"'
    );
    say("Panel lengths", "96, 6", "settings row 1: Panel lengths must be at least 12 in; got 6");
    say(
      "Panel costs",
      "1, 2",
      "settings: Panel costs must list one cost for each of the 3 panel lengths; got 2"
    );
    say("Corner lap", 36, "settings: Corner lap must be less than the Corner piece, 36 in; got 36");
    say("Indoor humidity", 35, /at most 1; got 35; 35 % is 0\.35/);
    expectError(
      () => setting("Foam", 46150),
      "wrong-kind",
      /^settings row 1: Foam must be a length; got 46150: it looks like a date/
    );
    expectError(
      () => setting("Panel lengths", ";"),
      "wrong-kind",
      "settings row 1: Panel lengths must list at least one length; got a blank"
    );
    expectError(
      () => setting("Panel costs", "ten, 2, 3"),
      "wrong-kind",
      'settings row 1: Panel costs must be a number; got "ten"'
    );
    expectError(
      () => setting("Nails per box", "many"),
      "wrong-kind",
      /must be a number; got "many"/
    );
    expectError(() => setting("", 5), "wrong-kind", "settings row 1: the name is blank beside 5");
    expectError(
      () =>
        readSettings([
          ["Foam", 1],
          ["foam (in)", 1],
        ]),
      "out-of-range",
      "settings row 2: Foam stands twice"
    );
  });
});

describe("what is not a table", () => {
  const walls = [
    ["Wall", "Length", "Height", "Left end", "Right end"],
    ["A", 144, 96, "free", "free"],
  ];
  const take = (given: unknown): unknown => takeoffHouse(walls, given as Table, ASSEMBLY);

  it("is refused by name and place", () => {
    expectError(
      () => take("openings"),
      "wrong-kind",
      'openings must be a range of rows and columns; got "openings"'
    );
    expectError(() => take([5]), "wrong-kind", "openings row 1 must be a row of cells; got 5");
    expectError(
      () => take([["Wall"], [{}]]),
      "wrong-kind",
      "openings row 2, column 1 must hold a plain value; got an error or another kind of cell"
    );
    expectError(
      () => readSettings([["Foam", Infinity]]),
      "wrong-kind",
      "settings row 1, column 2 must be a finite number; got Infinity"
    );
    // notes beside the settings may be anything
    expect(
      readSettings([
        ["Foam", 1, NaN],
        ["Panel", 0.625],
      ]).foamIn
    ).toBe(1);
  });
});
