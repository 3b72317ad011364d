/** HOUSE_CHECKS: each mistake is found, a sound house is not accused, and the cautions are there. */
import { ALL_CAUTIONS } from "../../src/core/cautions.js";
import { type Finding, houseFindings } from "../../src/core/house/checks.js";
import type { Cell, Table } from "../../src/core/house/tables.js";
import { expectError } from "./expect-error.js";

const HEADER = ["Wall", "Length", "Height", "Left end", "Right end", "Next wall"];
/** A rectangle 20 x 30 ft: each wall runs past at its left, flush at its right. */
const SQUARE: Cell[][] = [
  ["South", 360, 96, "past", "flush", "East"],
  ["East", 240, 96, "past", "flush", "North"],
  ["North", 360, 96, "past", "flush", "West"],
  ["West", 240, 96, "past", "flush", "South"],
];
const OPENING_HEADER = ["Wall", "Opening", "From left", "Sill", "Width", "Height"];

function find(
  walls: Cell[][],
  openings: Cell[][] = [],
  settings: Cell[][] = [],
  header: Cell[] = HEADER,
  openingHeader: Cell[] = OPENING_HEADER
): Finding[] {
  return houseFindings([header, ...walls], [openingHeader, ...openings], settings);
}
const levelled = (findings: Finding[], level: Finding["level"]): string[] =>
  findings
    .filter((each) => each.level === level && !ALL_CAUTIONS.includes(each.finding))
    .map((each) => (each.wall === "" ? each.finding : `${each.wall}: ${each.finding}`));
const fixes = (...args: Parameters<typeof find>): string[] => levelled(find(...args), "fix");
const looks = (...args: Parameters<typeof find>): string[] => levelled(find(...args), "look");
const notes = (...args: Parameters<typeof find>): string[] => levelled(find(...args), "note");
/** The square with some cells of one wall changed. */
function but(wall: number, changes: Record<number, Cell>): Cell[][] {
  return SQUARE.map((row, index) =>
    index === wall
      ? row.map((cell, column) => (column in changes ? (changes[column] as Cell) : cell))
      : row
  );
}

describe("a sound house", () => {
  it("has nothing to fix", () => {
    expect(fixes(SQUARE)).toEqual([]);
    expect(looks(SQUARE).filter((each) => !/One nail through/.test(each))).toEqual([]);
  });
  it("comes with every caution, last", () => {
    const findings = find(SQUARE);
    expect(findings.slice(-ALL_CAUTIONS.length).map((each) => each.finding)).toEqual(ALL_CAUTIONS);
    expect(ALL_CAUTIONS.length).toBeGreaterThanOrEqual(5);
    expect(ALL_CAUTIONS.join(" ")).toMatch(/engineer of record/);
    expect(ALL_CAUTIONS.join(" ")).toMatch(/Ladders, saws, nailers and routers/);
    expect(ALL_CAUTIONS.join(" ")).toMatch(/printed instructions/);
  });
  it("lists fix before look before note", () => {
    const order = find(but(0, { 3: "flush" }), [], [["Colour", "red"]]).map((each) => each.level);
    expect(order).toEqual(
      [...order].sort(
        (a, b) => ["fix", "look", "note"].indexOf(a) - ["fix", "look", "note"].indexOf(b)
      )
    );
    expect(new Set(order)).toEqual(new Set(["fix", "look", "note"]));
  });
  it("every finding says what to do", () => {
    for (const each of find(SQUARE, [["South", "D", 12, 0, 36, 80]])) {
      expect(each.whatToDo.length).toBeGreaterThan(10);
    }
  });
});

describe("corners", () => {
  it("an end whose neighbor disagrees is found by wall and says what to make of it", () => {
    const findings = find(but(1, { 3: "flush" }));
    expect(findings[0]).toEqual({
      level: "fix",
      wall: "South",
      finding: "Right end is flush but the left end of East is flush",
      whatToDo:
        "Make the left end of East past, or change the right end of South: an outside corner has one past and one flush, an inside corner one tight and one short.",
    });
    expect(fixes(but(1, { 3: "short" }))).toEqual([
      "South: Right end is flush but the left end of East is short",
    ]);
  });
  it("without Next wall the counts are compared, and every end is named", () => {
    const plain = SQUARE.map((row) => row.slice(0, 5));
    const wrong = plain.map((row, index) =>
      index === 0 ? ["South", 360, 96, "past", "past"] : row
    );
    expect(fixes(wrong, [], [], HEADER.slice(0, 5))).toEqual([
      "outside corners disagree: 5 past (South left, South right, East left, North left, West left) and 3 flush (East right, North right, West right)",
    ]);
    const inside = plain.map((row, index) =>
      index === 2 ? ["North", 360, 96, "past", "tight"] : row
    );
    expect(fixes(inside, [], [], HEADER.slice(0, 5))).toEqual([
      "outside corners disagree: 4 past (South left, East left, North left, West left) and 3 flush (South right, East right, West right)",
      "inside corners disagree: 1 tight (North right) and 0 short (none)",
    ]);
  });
  it("a next wall that is not there, and two walls that name one", () => {
    expect(fixes(but(0, { 5: "Easy" }))).toEqual([
      'South: Next wall "Easy" is not in the walls table',
    ]);
    expect(fixes(but(0, { 5: "North" }))).toEqual([
      "North: South and East both name North as the next wall",
    ]);
  });
  it("free ends meet nothing and disagree with nothing", () => {
    expect(fixes([["Fence", 240, 96, "free", "free", ""]])).toEqual([]);
  });
  it("walls with a quantity count that often", () => {
    const rows = [
      ["A", 240, 96, "past", "past", 2],
      ["B", 240, 96, "flush", "flush", 2],
    ];
    const header = [...HEADER.slice(0, 5), "Quantity"];
    expect(fixes(rows, [], [], header)).toEqual([]);
    expect(fixes([rows[0] as Cell[], ["B", 240, 96, "flush", "flush", 1]], [], [], header)).toEqual(
      ["outside corners disagree: 4 past (A left, A right) and 2 flush (B left, B right)"]
    );
  });
});

describe("rows that cannot be read", () => {
  it("are findings, all of them at once", () => {
    const found = fixes(
      [
        ["South", 46219, 96, "past", "flush", ""],
        ["East", 240, "tall", "past", "flush", ""],
        ["North", 360, 96, "past", "flush", ""],
        ["north", 360, 96, "past", "flush", ""],
      ],
      [["North", "D", 340, 0, 36, 80]]
    );
    expect(found).toHaveLength(4);
    expect(found[0]).toMatch(/^South: walls row 2 \(wall South\): Length must be a length.*date/);
    expect(found[1]).toMatch(
      /^East: walls row 3 \(wall East\): Height must be a length; got "tall"/
    );
    expect(found[2]).toMatch(/^north: walls row 5 .*a name of its own; row 4 has the same name/);
    expect(found[3]).toMatch(/^North: openings row 2 .*From left \+ Width must be at most/);
  });
  it("one slip is one finding: neighbors and openings of the wall are not accused too", () => {
    expect(
      fixes(but(1, { 1: "46219" }), [["East", "D", 12, 0, 36, 80]]).map((each) => each.slice(0, 24))
    ).toEqual([expect.stringMatching(/^East: walls row 3/)]);
    // but an opening on a wall that is in no row at all is
    expect(fixes(but(1, { 1: "46219" }), [["Eats", "D", 12, 0, 36, 80]])).toHaveLength(2);
  });
  it("rips too tall are found by wall, with what to change", () => {
    expect(
      fixes(
        SQUARE,
        [],
        [
          ["Block line", 12],
          ["Below", 13.25],
        ]
      )
    ).toEqual(
      ["South", "East", "North", "West"].map(
        (name) =>
          `${name}: wall ${name}: rips would be 25.25 in tall (Block line 12 + Below 13.25); at most 24: lower the block line to 10.75 in or lap down less`
      )
    );
  });
  it("a spacing that misses the panel's edges", () => {
    expect(
      fixes(
        SQUARE.map((row) => [...row, 19.2]),
        [],
        [],
        [...HEADER, "Spacing"]
      )[0]
    ).toMatch(
      /^South: walls row 2 \(wall South\): spacing must go a whole number of times.*got 19\.2$/
    );
  });
  it("a missing header, no walls and a bad setting are errors, not findings", () => {
    expectError(
      () => find(SQUARE, [], [], ["Wall", "L"]),
      "out-of-range",
      /^walls needs the header/
    );
    expectError(() => find([]), "out-of-range", "walls must hold at least one wall; got none");
    expectError(() => find(SQUARE, [], [["Foam", -1]]), "out-of-range", /^settings row 1: Foam/);
  });
});

describe("slips of the unit", () => {
  it("feet typed where inches are meant", () => {
    expect(looks(but(0, { 1: 24 }))).toContain("South: Length is 24 in");
    expect(fixes(but(0, { 2: 8 }))).toContain("South: Height is 8 in");
    expect(looks(but(0, { 2: 40 }))).toContain("South: Height is 40 in");
    expect(find(but(0, { 1: 24 })).find((each) => /24 in/.test(each.finding))?.whatToDo).toBe(
      "If feet were meant, type 24' or head the column Length (ft)."
    );
    expect(looks(SQUARE, [["South", "W", 24, 3, 3, 5]])).toContain("South: W is 3 x 5 in");
  });
  it("inches typed as feet", () => {
    expect(looks(but(0, { 1: "360'" }))).toEqual(
      expect.arrayContaining([
        `South: Length is 360'-0"`,
        `South: Wall is 360'-0" long and 8'-0" high`,
      ])
    );
  });
  it("each limit and just past it", () => {
    const lengthLooks = (length: number): string[] =>
      looks(but(0, { 1: length })).filter((each) => /^South: Length/.test(each));
    expect(lengthLooks(36)).toEqual([]);
    expect(lengthLooks(35.9375)).toEqual(["South: Length is 35 15/16 in"]);
    expect(lengthLooks(1440)).toEqual([]);
    expect(lengthLooks(1441)).toEqual([`South: Length is 120'-1"`]);
  });
});

describe("headers and names that count for nothing", () => {
  it("are listed by table", () => {
    const found = looks(
      SQUARE.map((row) => [...row, "red"]),
      [["South", "D", 12, 0, 36, 80, "oak"]],
      [["Colour of foam", "blue"]],
      [...HEADER, "Paint"],
      [...OPENING_HEADER, "Wood"]
    );
    expect(found).toEqual(
      expect.arrayContaining([
        'walls: "Paint" is not a header and is not used',
        'openings: "Wood" is not a header and is not used',
        'settings: "Colour of foam" is not a setting and is not used',
      ])
    );
  });
});

describe("nails", () => {
  const nail = (settings: Cell[][]): string[] =>
    levelled(find(SQUARE, [], settings), "fix").concat(
      levelled(find(SQUARE, [], settings), "look")
    );

  it("says what is needed, what is stocked and what is in the stud", () => {
    expect(notes(SQUARE, [], [["Foam", 1]])).toContain(
      "Nails: 1 7/16 panel + 1 1/2 into the stud = 2 15/16 at least; 3 in stocked, 1 9/16 in the stud"
    );
  });
  it("a nail that is not stocked is to fix", () => {
    expect(nail([["Nail lengths", "2, 2-1/2"]])).toContain(
      "no stocked nail is 3 7/16 in or longer; the longest is 2 1/2 in"
    );
  });
  it("a penetration short of its basis is to fix", () => {
    expect(nail([["Penetration", 1.25]])[0]).toMatch(
      /^Penetration 1 1\/4 in is short of the 1 1\/2 in of common practice/
    );
    expect(nail([["Penetration", 1.5]]).filter((each) => /short of/.test(each))).toEqual([]);
  });
  it("the nail's lateral value through foam is a comparison for the engineer", () => {
    const found = find(SQUARE, [], [["Foam", 1]]).find((each) =>
      /One nail through/.test(each.finding)
    );
    expect(found?.level).toBe("look");
    expect(found?.whatToDo).toMatch(/not a shear-wall capacity/);
  });
});

describe("tape", () => {
  it("too narrow is to fix, with the width wanted", () => {
    expect(fixes(SQUARE, [], [["Tape widths", "2"]])).toEqual([
      "Outside corners (two-layer): needs tape 2 15/16 in wide; the widest stocked is 2 in",
    ]);
    expect(fixes(SQUARE, [], [["Tape widths", "1-1/2; 3"]])).toEqual([]);
    expect(
      fixes(
        SQUARE,
        [],
        [
          ["Tape widths", "2, 3, 4"],
          ["Corner tape", "single"],
          ["Sill tape", "yes"],
        ]
      )
    ).toEqual(["Outside corners (single): needs tape 5 7/8 in wide; the widest stocked is 4 in"]);
  });
  it("a house without outside corners is not asked for corner tape", () => {
    expect(notes([["Fence", 240, 96, "free", "free", ""]]).join(" ")).not.toMatch(
      /Outside corners/
    );
  });
});

describe("framing and courses", () => {
  const INSIDE: Cell[][] = [
    ["A", 240, 96, "free", "tight", "B"],
    ["B", 240, 96, "short", "free", ""],
  ];
  it("an inside corner asks for backing at the end that stops short", () => {
    const found = find(INSIDE, [], [["Foam", 1]]).find((each) =>
      /Inside corner/.test(each.finding)
    );
    expect(found).toEqual({
      level: "note",
      wall: "B",
      finding: "Inside corner at the left end: the end stud leaves 1/16 in of nailing",
      whatToDo: "Add 1 backing stud there; short scrap will do.",
    });
    const channel = find(INSIDE, [], [["Backing", "channel"]]);
    expect(channel.find((each) => /Inside corner/.test(each.finding))?.whatToDo).toBe(
      "Frame a channel of 3 members there."
    );
  });
  it("thin panels need none", () => {
    expect(notes(INSIDE, [], [["Foam", 0.25]]).join(" ")).not.toMatch(/Inside corner/);
  });
  it("horizontal seams need blocking, in feet and at what height", () => {
    expect(notes([["Tall", 240, 132, "free", "free", ""]])).toContain(
      `Tall: 20.0 ft of horizontal seam, at 9'-0" above the deck`
    );
    expect(notes([["A", 240, 96, "free", "free", ""]], [], [["Block line", 10]])).toContain(
      `A: 20.0 ft of horizontal seam, at 0'-10" above the deck`
    );
  });
  it("24 in rips: the saw cut leaves one to a panel", () => {
    const found = looks(
      SQUARE,
      [],
      [
        ["Block line", 12],
        ["Below", 12],
      ]
    );
    expect(found).toContain("Rips 24 in tall: the saw cut leaves only one to a panel width");
    expect(
      looks(
        SQUARE,
        [],
        [
          ["Block line", 11.9375],
          ["Below", 12],
        ]
      ).join(" ")
    ).not.toMatch(/Rips/);
  });
  it("a wall that dips to the block line has no rips, and says so", () => {
    expect(
      notes(
        [["Rake", 240, 20, "free", "free", "", 140]],
        [],
        [["Block line", 10]],
        [...HEADER, "Right height"]
      )
    ).toContain("Rake: The wall dips to the block line, so it has no rip course");
  });
  it("openings ask for the router bit, foam below the deck for clearance", () => {
    expect(notes(SQUARE, [["South", "D", 12, 0, 36, 80]], [["Foam", 1]])).toContain(
      "Openings: router bit at least 1 11/16 in of cutting length"
    );
    expect(notes(SQUARE).join(" ")).not.toMatch(/router bit at least/);
    expect(notes(SQUARE, [], [["Below", 12]])).toContain("Foam laps down past the deck");
  });
  it("one row cannot be two openings at one place", () => {
    const rows = [["South", "D", 12, 0, 36, 80, 2]];
    expect(fixes(SQUARE, rows, [], HEADER, [...OPENING_HEADER, "Quantity"])[0]).toMatch(
      /^South: D stands 2 times at one place/
    );
  });
});

describe("energy and moisture", () => {
  const ZONE: Cell[][] = [
    ["Climate zone", "5"],
    ["Cavity R", 20],
    ["Foam R per inch", 5],
  ];
  it("what is blank is not checked, and says so", () => {
    expect(notes(SQUARE).find((each) => /^Energy and moisture/.test(each))).toBe(
      "Energy and moisture are not checked: Climate zone, Cavity R, Foam R per inch are blank in the settings"
    );
    expect(notes(SQUARE, [], ZONE.slice(0, 2)).find((each) => /^Energy/.test(each))).toMatch(
      /: Foam R per inch is blank/
    );
    expect(notes(SQUARE, [], ZONE).join(" ")).toMatch(/Dew point is not checked/);
  });
  it("a zone that is none is one thing to fix, not an error and not three findings", () => {
    const found = find(SQUARE, [], [["Climate zone", "12"], ...ZONE.slice(1)]).filter((each) =>
      /zone/i.test(each.finding)
    );
    expect(found).toHaveLength(1);
    expect(found[0]?.level).toBe("fix");
    expect(found[0]?.finding).toMatch(/^climate_zone must be one of 0A, .*; got "12"$/);
  });
  it("foam short of the tables is found with the figure wanted", () => {
    const thin = find(SQUARE, [], [["Foam", 1], ...ZONE]).map((each) => each.finding);
    // IRC 2021 Table R702.7(3), zone 5 over 2x6: R 7.5
    expect(thin.some((each) => /^Foam R 5\.0; least for a class III .* is R 7\.5/.test(each))).toBe(
      true
    );
  });
  it("heat saved goes by the whole face without its openings, rip course and lap included", () => {
    const heat = (settings: Cell[][], openings: Cell[][] = []): string =>
      notes([["A", 240, 96, "free", "free", ""]], openings, [
        ...ZONE,
        ["Heating degree days", 6000],
        ...settings,
      ]).find((each) => /^The foam saves/.test(each)) as string;
    // 20 x 8 ft; with a 12 in lap 20 x 9 ft, with or without a block line; less a 3 x 7 ft door
    expect(heat([])).toMatch(/through 160 sq ft/);
    expect(heat([["Below", 12]])).toMatch(/through 180 sq ft/);
    expect(
      heat([
        ["Below", 12],
        ["Block line", 10],
      ])
    ).toMatch(/through 180 sq ft/);
    const door: Cell[][] = [["A", "D", 100, 0, 36, 84]];
    expect(
      heat(
        [
          ["Below", 12],
          ["Block line", 10],
        ],
        door
      )
    ).toMatch(/through 159 sq ft/);
    expect(heat([["Below", 12]], door)).toMatch(/through 159 sq ft/);
    // a wide door takes whole columns
    const garage: Cell[][] = [["A", "G", 20, 0, 192, 84]];
    expect(
      heat(
        [
          ["Below", 12],
          ["Block line", 10],
        ],
        garage
      )
    ).toMatch(/through 68 sq ft/);
  });
});

describe("blank ranges", () => {
  it("no openings and no settings are fine", () => {
    const table: Table = [HEADER, ...SQUARE];
    expect(houseFindings(table, [[null]], [[null]]).length).toBeGreaterThan(5);
  });
});
