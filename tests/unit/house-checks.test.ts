/** HOUSE_CHECKS: each mistake is found, a sound house is not accused, and the cautions are there. */
import { ALL_CAUTIONS } from "../../src/core/cautions.js";
import { type Finding, houseFindings } from "../../src/core/house/checks.js";
import { readHouse } from "../../src/core/house/takeoff.js";
import type { Cell, Table } from "../../src/core/house/tables.js";
import { withAssembly } from "../assembly.js";
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
  const findings = houseFindings(
    readHouse([header, ...walls], [openingHeader, ...openings], withAssembly(settings))
  );
  // whatever is found, it says of which wall, what, and what to do about it, in sentences
  const names = new Set([...walls, ...openings].map((row) => String(row[header.indexOf("Wall")])));
  for (const each of findings) {
    expect(each.wall === "" || names.has(each.wall)).toBe(true);
    expect(each.finding.length).toBeGreaterThan(10);
    if (!ALL_CAUTIONS.includes(each.finding)) expect(each.whatToDo).toMatch(/^[A-Z].{10,}\.$/s);
  }
  return findings;
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
        ["South", 46150, 96, "past", "flush", ""],
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
    expect(found[2]).toMatch(
      /^north: walls row 5 .*a name of its own; walls row 4 has the same name/
    );
    expect(found[3]).toMatch(/^North: openings row 2 .*From left \+ Width must be at most/);
  });
  it("one slip is one finding: neighbors and openings of the wall are not accused too", () => {
    expect(
      fixes(but(1, { 1: "46150" }), [["East", "D", 12, 0, 36, 80]]).map((each) => each.slice(0, 24))
    ).toEqual([expect.stringMatching(/^East: walls row 3/)]);
    // but an opening on a wall that is in no row at all is
    expect(fixes(but(1, { 1: "46150" }), [["Eats", "D", 12, 0, 36, 80]])).toHaveLength(2);
  });
  it("corners are not counted while a wall's own row cannot be read", () => {
    const rows = [
      ["A", "46150", 96, "past", "past"],
      ["B", 240, 96, "flush", "flush"],
    ];
    expect(fixes(rows, [], [], HEADER.slice(0, 5))).toEqual([
      expect.stringMatching(/^A: walls row 2/),
    ]);
  });
  it("rips too tall are found by wall, with what to change", () => {
    expect(
      fixes(
        SQUARE,
        [],
        [
          ["Block line", 36],
          ["Below", 13.25],
        ]
      )
    ).toEqual(
      ["South", "East", "North", "West"].map(
        (name, index) =>
          `${name}: walls row ${index + 2} (wall ${name}): rips would be 49.25 in tall (Block line 36 + Below 13.25); at most 48, a panel's width: lower the block line to 34.75 in or lap down less`
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
    expect(lengthLooks(48)).toEqual([]);
    expect(lengthLooks(47.9375)).toEqual(["South: Length is 47 15/16 in"]);
    expect(lengthLooks(1440)).toEqual([]);
    expect(lengthLooks(1441)).toEqual([`South: Length is 120'-1"`]);
    // twice that, or 30 ft high, is looked at again
    const sizeLooks = (changes: Record<number, Cell>): string[] =>
      looks(but(0, changes)).filter((each) => /^South: Wall is/.test(each));
    expect(sizeLooks({ 1: 1441 })).toEqual([]);
    expect(sizeLooks({ 1: 2880 })).toEqual([]);
    expect(sizeLooks({ 1: 2881 })).toEqual([`South: Wall is 240'-1" long and 8'-0" high`]);
    expect(sizeLooks({ 2: 360 })).toEqual([]);
    expect(sizeLooks({ 2: 361 })).toEqual([`South: Wall is 30'-0" long and 30'-1" high`]);
    // 4 ft is a knee wall, 2 ft most likely a slip
    const heightLevels = (height: number): string[] =>
      find(but(0, { 2: height }))
        .filter((each) => /^Height is/.test(each.finding))
        .map((each) => each.level);
    expect([48, 47.9375, 24, 23.9375].map(heightLevels)).toEqual([[], ["look"], ["look"], ["fix"]]);
    const opening = (width: number, height: number): string[] =>
      looks(SQUARE, [["South", "W", 24, 30, width, height]]).filter((each) => /W is/.test(each));
    expect(opening(12, 12)).toEqual([]);
    expect(opening(40, 11.5)).toEqual(["South: W is 40 x 11 1/2 in"]);
    expect(opening(11.5, 40)).toEqual(["South: W is 11 1/2 x 40 in"]);
    const belowLooks = (below: number): string[] =>
      looks(
        SQUARE.map((cells) => [...cells, below]),
        [],
        [],
        [...HEADER, "Below"]
      ).filter((each) => /Below is/.test(each));
    expect(belowLooks(48)).toEqual([]);
    expect(belowLooks(49)).toContain(`South: Below is 4'-1"`);
  });
  it("a house typed in feet, though each wall could be one in inches", () => {
    const long = (lengths: number[]): string[] =>
      looks(
        SQUARE.map((cells, index) => [cells[0] as Cell, lengths[index] as Cell, ...cells.slice(2)])
      ).filter((each) => /No wall is longer/.test(each));
    expect(long([50, 56, 50, 56])).toEqual(["No wall is longer than 56 in"]);
    expect(long([50, 95, 50, 56])).toEqual(["No wall is longer than 95 in"]);
    expect(long([50, 96, 50, 56])).toEqual([]);
    // one wall alone may be a short one
    expect(looks([["A", 60, 96, "free", "free", ""]]).join(" ")).not.toMatch(/No wall is longer/);
  });
});

describe("nailing and laps past what is usual", () => {
  const nailing = (edge: number, field: number): string[] =>
    looks(
      SQUARE.map((cells, index) => (index === 1 ? [...cells, edge, field] : [...cells, "", ""])),
      [],
      [],
      [...HEADER, "Edge nailing", "Field nailing"]
    ).filter((each) => /nailing/.test(each));
  // IRC Table R602.3(1): 6 in at edges, 12 in between (from memory)
  it("each limit of the nailing and just past it, by wall", () => {
    expect(nailing(6, 12)).toEqual([]);
    expect(nailing(6.5, 12)).toEqual(["East: Edge nailing 6 1/2 in is over 6"]);
    expect(nailing(6, 12.5)).toEqual(["East: Field nailing 12 1/2 in is over 12"]);
    expect(nailing(48, 96)).toEqual([
      "East: Edge nailing 48 in is over 6; Field nailing 96 in is over 12",
    ]);
  });
  // common practice, no source
  it("a lap or an overlap under the usual is a look, for its maker decides, never a fix", () => {
    expect(looks(SQUARE, [], [["Tape lap", 1]]).join(" ")).not.toMatch(/Tape lap/);
    expect(looks(SQUARE, [], [["Tape lap", 0.9375]])).toContain(
      "Tape lap is 15/16 in; 1 in is usual"
    );
    expect(fixes(SQUARE, [], [["Tape lap", 0.9375]])).toEqual([]);
    const inside: Cell[][] = [
      ["A", 144, 96, "past", "tight", "B"],
      ["B", 144, 96, "short", "flush", ""],
    ];
    const overlap = (value: number): string[] =>
      looks(inside, [], [["Corner lap", value]]).filter((each) => /Corner lap/.test(each));
    expect(overlap(3)).toEqual([]);
    expect(overlap(2.5)).toEqual(["Corner lap is 2 1/2 in; 3 in is usual"]);
    // no inside corner, nothing to lap
    expect(looks(SQUARE, [], [["Corner lap", 1]]).join(" ")).not.toMatch(/Corner lap/);
  });
  it("an opening as large as its wall leaves nothing to sheathe", () => {
    const whole = (width: number): string[] =>
      looks([["A", 240, 96, "free", "free", ""]], [["A", "Door", 0, 0, width, 96]]).filter((each) =>
        /nothing to sheathe/.test(each)
      );
    expect(whole(240)).toEqual(["A: Its openings leave nothing to sheathe"]);
    expect(whole(200)).toEqual([]);
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
    expect(notes(SQUARE)).toContain(
      "Nails: 1 7/8 panel + 1 1/2 into the stud = 3 3/8 at least; 3 1/2 in stocked, 1 5/8 in the stud"
    );
  });
  it("a nail that is not stocked is to fix", () => {
    expect(nail([["Nail lengths", "2, 2-1/2"]])).toContain(
      "no stocked nail is 3 3/8 in or longer; the longest is 2 1/2 in"
    );
  });
  it("a penetration short of its basis is to fix", () => {
    expect(nail([["Penetration", 1.25]])[0]).toMatch(
      /^Penetration 1 1\/4 in is short of the 1 1\/2 in of common practice \(common practice, no published source\)$/
    );
    expect(nail([["Penetration", 1.5]]).filter((each) => /short of/.test(each))).toEqual([]);
  });
  it("a basis without a row for this nail is looked at", () => {
    const found = find(
      SQUARE,
      [],
      [
        ["Penetration", 1.5],
        ["Penetration basis", "wind table"],
        ["Nail diameter", 0.148],
      ]
    ).find((each) => /^wind table has rows/.test(each.finding));
    expect(found).toMatchObject({
      level: "look",
      wall: "",
      whatToDo: "Choose a basis that has a row for this nail.",
    });
  });
  const lateral = (settings: Cell[][]): Finding | undefined =>
    find(SQUARE, [], settings).find((each) => /One nail through/.test(each.finding));
  it("the share it keeps is what stands beside it in pounds", () => {
    for (const foam of [0.5, 1.25, 1.75]) {
      const finding = lateral([["Foam", foam]])?.finding ?? "";
      const [, percent, withFoam, without] =
        /keeps (\d+) % .*\((\d+) lb of (\d+) lb with/.exec(finding) ?? [];
      expect(Number(withFoam)).toBeLessThan(Number(without));
      const share = Number(withFoam) / Number(without);
      // both are rounded to the pound
      expect(Math.abs(Number(percent) / 100 - share)).toBeLessThan(0.02);
    }
  });
  it("a panel so thin that it gives before the nail bends loses nothing to the foam, which is a note", () => {
    const found = lateral([
      ["Foam", 0.5],
      ["Panel", 0.0625],
    ]);
    expect(found).toMatchObject({ level: "note" });
    expect(found?.finding).toMatch(/keeps 100 % /);
    expect(found?.finding).toMatch(/tight to the stud\)$/);
  });
  it("a shank over 0.17 in comes with what is disputed about it", () => {
    const found = lateral([
      ["Nail diameter", 0.192],
      ["Penetration", 2],
    ]);
    expect(found?.finding).toMatch(/tight to the stud\); .*printed 10D \+ 0\.5$/);
  });
  it("a nail too short for the comparison is looked at, not an error", () => {
    const short =
      lateral([["Penetration", 0.5]]) ??
      find(SQUARE, [], [["Penetration", 0.5]]).find((each) =>
        /^nail_length must be/.test(each.finding)
      );
    expect(short).toMatchObject({
      level: "look",
      whatToDo: "Take the nail and the foam to the engineer of record.",
    });
    const none = find(SQUARE, [], [["Nail lengths", "2"]]).filter((each) =>
      /^no stocked nail/.test(each.finding)
    );
    expect(none.map((each) => each.level)).toEqual(["fix", "look"]);
  });
  it("the nail's lateral value through foam is a comparison for the engineer", () => {
    const found = find(SQUARE).find((each) => /One nail through/.test(each.finding));
    expect(found?.level).toBe("look");
    expect(found?.whatToDo).toMatch(/not a shear-wall capacity/);
  });
});

describe("tape", () => {
  it("too narrow is to fix, with the width wanted", () => {
    expect(fixes(SQUARE, [], [["Tape widths", "2"]])).toEqual([
      "Outside corners (two-layer): needs tape 2 7/8 in wide; the widest stocked is 2 in",
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
    ).toEqual(["Outside corners (single): needs tape 5 3/4 in wide; the widest stocked is 4 in"]);
  });
  it("wide enough is a note with the width wanted and the width stocked", () => {
    const tapes = (rows: Cell[][], settings: Cell[][] = []): string[] =>
      notes(rows, [], settings).filter((each) => /: needs /.test(each));
    // laps of 1 in over a panel of 1-7/8: 2, 1-7/8 + 1, and at the sill 1-7/8 + 2
    expect(tapes(SQUARE, [["Sill tape", "yes"]])).toEqual([
      "Seam tape: needs 2 in, stocked 3 in",
      "Outside corners (two-layer): needs 2 7/8 in, stocked 3 in",
      "Bottom edge at the sill plate: needs 3 7/8 in, stocked 4 in",
    ]);
    expect(tapes(SQUARE)).toHaveLength(2);
    // one end of a corner is enough to ask for its tape
    expect(tapes([["A", 240, 96, "past", "free", ""]])).toHaveLength(2);
    expect(tapes([["A", 240, 96, "free", "flush", ""]])).toHaveLength(2);
    expect(tapes([["A", 240, 96, "tight", "short", ""]])).toHaveLength(1);
    // exactly as wide as stocked
    expect(tapes(SQUARE, [["Tape widths", "2; 2-7/8"]])[1]).toBe(
      "Outside corners (two-layer): needs 2 7/8 in, stocked 2 7/8 in"
    );
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
    const found = find(INSIDE).find((each) => /Inside corner/.test(each.finding));
    expect(found).toEqual({
      level: "note",
      wall: "B",
      finding: "Inside corner at the left end: the end stud leaves 0 in of nailing",
      whatToDo: "Add 1 backing stud there.",
    });
    const channel = find(INSIDE, [], [["Backing", "channel"]]);
    expect(channel.find((each) => /Inside corner/.test(each.finding))?.whatToDo).toBe(
      "Frame a channel of 3 members there and fill its cavity with insulation."
    );
  });
  it("at both ends, and more studs behind a thicker panel", () => {
    // 2-5/8 + 3/4 less the end stud's 1-1/2 leaves 1-7/8: two studs
    expect(
      find([["A", 240, 96, "short", "short", ""]], [], [["Foam", 2]]).find((each) =>
        /Inside corner/.test(each.finding)
      )
    ).toMatchObject({
      wall: "A",
      finding: "Inside corner at the left and right end: the end stud leaves 0 in of nailing",
      whatToDo: "Add 2 backing studs there.",
    });
    expect(notes(SQUARE, [], [["Foam", 2]]).join(" ")).not.toMatch(/Inside corner/);
  });
  it("thin panels need none", () => {
    expect(notes(INSIDE, [], [["Foam", 0.125]]).join(" ")).not.toMatch(/Inside corner/);
  });
  it("horizontal seams need blocking, in feet and at what height", () => {
    expect(notes([["Tall", 240, 132, "free", "free", ""]])).toContain(
      `Tall: 20.0 ft of horizontal seam, at 9'-0" above the deck`
    );
    expect(notes([["A", 240, 96, "free", "free", ""]], [], [["Block line", 10]])).toContain(
      `A: 20.0 ft of horizontal seam, at 0'-10" above the deck`
    );
  });
  it("over the rips and between courses, for every wall of a quantity", () => {
    const block: Cell[][] = [["Block line", 10]];
    const seams = (row: Cell[], settings: Cell[][], header: Cell[]): string[] =>
      notes([row], [], settings, [...HEADER, ...header]).filter((each) => /horizontal/.test(each));
    // 130 in over the block line: a 108 in panel and the rest
    expect(seams(["A", 240, 140, "free", "free", ""], block, [])).toEqual([
      `A: 40.0 ft of horizontal seam, at 0'-10" and 9'-10" above the deck`,
    ]);
    expect(seams(["A", 240, 140, "free", "free", "", 2], block, ["Quantity"])).toEqual([
      `A: 80.0 ft of horizontal seam, at 0'-10" and 9'-10" above the deck`,
    ]);
    // a seam on the wall below has the rim or a plate behind it
    expect(seams(["A", 240, 96, "free", "free", "", "yes"], [], ["Bottom seam"])).toEqual([]);
    expect(seams(["A", 240, 96, "free", "free", ""], [], [])).toEqual([]);
  });
  it("rips of two heights are listed by height, with what would let two come out of a panel", () => {
    const rows = [
      ["A", 240, 96, "free", "free", "", 12],
      ["B", 240, 96, "free", "free", "", 11.75],
    ];
    const settings: Cell[][] = [
      ["Block line", 12],
      ["Saw cut", 1],
    ];
    const found = find(rows, [], settings, [...HEADER, "Below"]).filter((each) =>
      /^Rips/.test(each.finding)
    );
    expect(found.map((each) => [each.finding, each.whatToDo])).toEqual(
      ["23 3/4", "24"].map((tall) => [
        `Rips ${tall} in tall come one to a panel`,
        "At 23 1/2 in or less two come out of a panel: lower the block line or lap down less.",
      ])
    );
  });
  it("rips up to a panel's width come one to a panel, whatever its width, and it is said", () => {
    const tall = (line: number): string[] =>
      looks(
        [["A", 240, 96, "free", "free", ""]],
        [],
        [
          ["Panel width", 36],
          ["Spacing", 12],
          ["Block line", line],
          ["Below", 10],
        ]
      ).filter((each) => /Rips/.test(each));
    expect(tall(10)).toEqual(["Rips 20 in tall come one to a panel"]);
    expect(tall(26)).toEqual(["Rips 36 in tall come one to a panel"]);
    expect(tall(7.9375)).toEqual([]);
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
    expect(found).toContain("Rips 24 in tall come one to a panel");
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
  it("a block line that makes rips too tall is refused, however low the walls (found: over 80 in it passed)", () => {
    for (const line of [48.5, 80, 81, 90, 240]) {
      expect(fixes(SQUARE, [], [["Block line", line]]).join(" ")).toMatch(
        new RegExp(
          `South: walls row 2 .*: rips would be ${line} in tall .*at most 48, a panel's width`
        )
      );
    }
  });
  it("a wall too low for the block line has no rips, and says so", () => {
    expect(
      notes(
        [["Rake", 240, 20, "free", "free", "", 140]],
        [],
        [["Block line", 10]],
        [...HEADER, "Right height"]
      )
    ).toContain(
      "Rake: The wall comes within a stud space of the block line, so it has no rip course"
    );
    const dips = (settings: Cell[][]): string =>
      notes(SQUARE, [], settings)
        .filter((each) => /so it has no rip course/.test(each))
        .join(" ");
    expect(dips([])).toBe("");
    expect(dips([["Block line", 10]])).toBe("");
  });
  it("openings ask for the router bit, foam below the deck for clearance", () => {
    expect(notes(SQUARE, [["South", "D", 12, 0, 36, 80]])).toContain(
      "Openings: router bit at least 2 1/8 in of cutting length"
    );
    expect(notes(SQUARE).join(" ")).not.toMatch(/router bit at least/);
    expect(notes(SQUARE, [], [["Below", 12]])).toContain("Foam laps down past the deck");
    expect(notes(SQUARE)).not.toContain("Foam laps down past the deck");
    // one wall that does is enough
    const lap = SQUARE.map((cells, index) => [...cells, index === 2 ? 12 : 0]);
    expect(notes(lap, [], [], [...HEADER, "Below"])).toContain("Foam laps down past the deck");
  });
  it("one row cannot be two openings at one place", () => {
    const rows = [["South", "D", 12, 0, 36, 80, 2]];
    expect(fixes(SQUARE, rows, [], HEADER, [...OPENING_HEADER, "Quantity"])[0]).toMatch(
      /^South: D stands 2 times at one place/
    );
    const once = [["South", "D", 12, 0, 36, 80, 1]];
    expect(fixes(SQUARE, once, [], HEADER, [...OPENING_HEADER, "Quantity"])).toEqual([]);
  });
});

describe("energy and moisture", () => {
  const ZONE: Cell[][] = [
    ["Climate zone", "5"],
    ["Cavity R", 20],
    ["Foam R per inch", 4],
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
  it("one blank is enough to leave it unchecked, and is named alone", () => {
    for (const [blank] of ZONE) {
      const rest = ZONE.filter(([name]) => name !== blank);
      const found = find(SQUARE, [], rest).filter((each) =>
        /^Energy.*not checked/.test(each.finding)
      );
      expect(found).toEqual([
        {
          level: "note",
          wall: "",
          finding: `Energy and moisture are not checked: ${String(blank)} is blank in the settings`,
          whatToDo: "Fill them in to check the walls against the code tables and the dew point.",
        },
      ]);
    }
  });

  /**
   * One wall 20 x 8 ft. Films and claddings R-3 and wood R-1 an inch make the ways through it round: between studs
   * 20 + 3 + 5 of foam = 28, at the studs 5.5 + 3 + 5 = 13.5; without foam 23 and 8.5.
   */
  const ROUND: Cell[][] = [
    ...ZONE,
    ["Other layers R", 3],
    ["Wood R per inch", 1],
    ["Stud depth", 5.5],
    ["Framing fraction", 0.25],
  ];
  const WALL: Cell[][] = [["A", 240, 96, "free", "free", ""]];
  const having = (...settings: Cell[][]): Cell[][] => [
    ...ROUND.filter(([name]) => !settings.some(([other]) => other === name)),
    ...settings,
  ];
  const about = (pattern: RegExp, ...settings: Cell[][]): Finding[] =>
    find(WALL, [], having(...settings)).filter((each) => pattern.test(each.finding));
  const CONFIRM = "Looks enough; confirm in the code book before relying on it.";

  it("U by parallel paths, with the foam and without, against a limit that is only looked at", () => {
    // 0.75/28 + 0.25/13.5 = 0.0453 and 0.75/23 + 0.25/8.5 = 0.0620; the limit in zone 5 is known from memory
    expect(about(/Whole-wall U/)).toEqual([
      {
        level: "look",
        wall: "",
        finding:
          "Whole-wall U 0.0453 with the foam, 0.0620 without; limit in zone 5 is 0.045 (IECC 2021 Table R402.1.2; confirm in the code book)",
        whatToDo: "Use thicker foam or more cavity insulation, or show compliance another way.",
      },
    ]);
    // without framing U is 1 over 8 and the cavity's R: 16.655 and 16.639; the limit in zone 3 is 0.060, to four places
    const plain = (cavityR: number): Finding | undefined =>
      about(/Whole-wall U/, ["Climate zone", 3], ["Framing fraction", 0], ["Cavity R", cavityR])[0];
    expect(plain(8.655)).toMatchObject({ level: "note", whatToDo: CONFIRM });
    expect(plain(8.639)).toMatchObject({ level: "look" });
  });
  it.each([11, 12])("R %p an inch is foam like any other (found: the checks threw)", (perInch) => {
    const settings = [...ZONE.slice(0, 2), ["Foam R per inch", perInch]];
    // 1-1/4 in of it
    expect(notes(SQUARE, [], settings).join(" ")).toContain(
      `Foam R ${(1.25 * perInch).toFixed(1)}`
    );
  });
  it("what framing costs", () => {
    // R 1/0.0453042 = 22.07 of the cavity path's 28
    expect(about(/^Framing costs/)).toMatchObject([
      { level: "note", finding: "Framing costs 21 % of the cavity path's R" },
    ]);
  });
  it("framing counted from the marks, looked at where it is far over the settings'", () => {
    // plates 240 x 4.5 and 16 studs of 1.5 x 91.5: 3276 of 23040 sq in, 14.2 %; 0.858/28 + 0.142/13.5 is R 24.3
    const counted = (share: number): Finding | undefined =>
      about(/^Framing is/, ["Framing fraction", share])[0];
    expect(counted(0.25)).toEqual({
      level: "note",
      wall: "",
      finding:
        "Framing is 14 % of the wall counted from the marks and openings, 25 % in the settings; R 24.3 by the count",
      whatToDo: "Blocking and extra corner studs are not in the count.",
    });
    expect(counted(0.0925)?.level).toBe("note");
    expect(counted(0.092)).toMatchObject({
      level: "look",
      whatToDo:
        "More wood than the energy check allows for: set the Framing fraction to the count, or show compliance another way.",
    });
  });
  it("foam against the least for a class III retarder, and what the advice says", () => {
    // IRC 2021 Table R702.7(3), zone 5: R 7.5 over 2x6, R 5 over 2x4
    expect(about(/^Foam R .*least/)).toEqual([
      {
        level: "fix",
        wall: "",
        finding:
          "Foam R 5.0; least for a class III vapor retarder in zone 5 is R 7.5 (IRC 2021 Table R702.7(3))",
        whatToDo: "Use thicker foam, or a tighter vapor retarder as the local code allows.",
      },
    ]);
    const enough = { level: "note", whatToDo: "Enough by the table." };
    expect(about(/^Foam R .*least/, ["Foam", 1.875])).toMatchObject([enough]);
    expect(about(/^Foam R .*least/, ["Stud depth", 3.5])).toMatchObject([enough]);
    expect(about(/^Vapor retarder: /)).toMatchObject([
      { level: "note", whatToDo: "The local code decides the class." },
    ]);
    expect(about(/^Vapor retarder: R-5 foam over 2x6 in zone 5 is under the R-7\.5/)).toHaveLength(
      1
    );
    expect(about(/^Foam R 5\.0 is the label's R per inch times the thickness$/)).toMatchObject([
      { level: "note" },
    ]);
  });
  it("a zone whose table asks for no foam is a note", () => {
    expect(about(/^foam R needed/, ["Climate zone", "2A"])).toMatchObject([
      { level: "note", wall: "", whatToDo: "No least foam R from this table." },
    ]);
  });
  it("a stud the tables do not have is for the code office (found: a climate zone was asked for)", () => {
    const found = about(/^stud_depth must be/, ["Stud depth", 7.25]);
    expect(found.map((each) => [each.level, each.whatToDo])).toEqual([
      ["look", "Ask the local code office."],
      ["look", "Ask the local code office."],
    ]);
  });

  describe("dew point", () => {
    // face: outside + (5 + 1.35) / (5 + 1.35 + 20 + 1.13) of the way to 70 F; 35 % at 70 F has its dew point at 41 F
    const dew = (...settings: Cell[][]): Finding | undefined =>
      about(/^Foam face|^Dew point/, ...settings)[0];

    it("is not checked without an outdoor temperature", () => {
      expect(dew()).toEqual({
        level: "note",
        wall: "",
        finding: "Dew point is not checked: Outdoor temperature is blank in the settings",
        whatToDo: "Type the winter design temperature.",
      });
    });
    it("a face that stays warmer is a note", () => {
      expect(dew(["Outdoor temperature", 40])).toEqual({
        level: "note",
        wall: "",
        finding: "Foam face 47 F, room dew point 41 F at 40 F outside",
        whatToDo: "The inner face of the foam stays above the dew point at this condition.",
      });
    });
    it("a colder one is to fix where the table too asks for more foam, with how much would do", () => {
      const found = dew(["Outdoor temperature", 5]);
      expect(found).toMatchObject({
        level: "fix",
        finding: "Foam face 20 F, room dew point 41 F at 5 F outside",
      });
      const [, r] =
        /about R (\d+\.\d) of foam would keep it dry\.$/.exec(found?.whatToDo ?? "") ?? [];
      const foam = Number(r) + 1.35;
      expect(Math.abs(5 + (foam / (foam + 21.13)) * 65 - 41)).toBeLessThan(0.3);
    });
    it("is looked at where the table is met, or asks for none", () => {
      expect(dew(["Outdoor temperature", 5], ["Foam", 1.875])?.level).toBe("look");
      expect(dew(["Outdoor temperature", 5], ["Climate zone", "2A"])?.level).toBe("look");
      expect(dew(["Outdoor temperature", 5], ["Foam", 1.75])?.level).toBe("fix");
    });
    it("a room at its own dew point is told to dry", () => {
      const damp = dew(["Outdoor temperature", 5], ["Indoor humidity", 1]);
      expect(damp?.whatToDo).toMatch(
        /; no foam can keep it dry at this humidity; lower the humidity\.$/
      );
    });
    it("a humidity whose dew point no equation reaches is looked at", () => {
      const found = find(WALL, [], having(["Outdoor temperature", 5], ["Indoor humidity", 1e-9]));
      expect(found).toContainEqual(
        expect.objectContaining({
          level: "look",
          finding: expect.stringMatching(/^dew point is colder than -148 deg F/),
          whatToDo: "Check the temperatures and the humidity in the settings.",
        })
      );
    });
  });

  it("heat saved in a year, where degree days are given", () => {
    // (0.0620205 - 0.0453042) x 160 sq ft x 20,000 degree days x 24 h = 1.28 million
    expect(about(/^The foam saves/, ["Heating degree days", 20_000])).toMatchObject([
      {
        level: "note",
        wall: "",
        finding: "The foam saves about 1.3 million Btu of heat a year through 160 sq ft of wall",
      },
    ]);
    expect(about(/saves/)).toEqual([]);
  });
  it("a zone that is none is to fix even where nothing else of the wall is typed", () => {
    expect(fixes(SQUARE, [], [["Climate zone", "abc"]]).join(" ")).toMatch(
      /climate_zone must be one of 0A, .*; got "abc"/
    );
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
    const thin = find(SQUARE, [], ZONE).map((each) => each.finding);
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
  it("no openings and no settings but the panel are fine", () => {
    const table: Table = [HEADER, ...SQUARE];
    expect(houseFindings(readHouse(table, [[null]], withAssembly([]))).length).toBeGreaterThan(5);
  });
});
