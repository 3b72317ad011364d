/** One usual call of every worksheet function, worked by hand or from its own page's example. */

export interface WrapperCase {
  /** needed arguments, then optional ones given as their defaults */
  readonly args: readonly unknown[];
  /** how many of them are needed */
  readonly needed: number;
  readonly answer: unknown;
  /** the optional arguments are not their defaults: the answer is worked with others */
  readonly hasOtherValues?: true;
  /** arguments outside a limit, and what is said of them */
  readonly outside?: readonly [readonly unknown[], RegExp];
  /** sound arguments that no rule or table reaches */
  readonly beyond?: readonly [readonly unknown[], RegExp];
}

const ENDS = ["past", "flush"] as const;
const T = "1-7/8";
export const WALLS = [
  ["Wall", "Length", "Height", "Left end", "Right end"],
  ["A", "12'", 96, "free", "free"],
];
export const OPENINGS = [
  ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
  ["A", "D1", 54, 0, 36, 80],
];
export const SETTINGS = [
  ["Foam", "1-1/4"],
  ["Panel", "5/8"],
];
const INSULATED = [...SETTINGS, ["Cavity R", 20], ["Foam R per inch", 4]];
const HOUSE = [WALLS, OPENINGS, SETTINGS];
const BAD_HOUSE = [[["Wall"], ["A"]], OPENINGS, SETTINGS];
const NEEDS_HEADER = /^walls needs the header Length, Height, Left end, Right end/;

export const CASES: Readonly<Record<string, WrapperCase>> = {
  INCHES: {
    args: [`24'-6 1/2"`],
    needed: 1,
    answer: 294.5,
    outside: [["4'-13\""], /^length: .* has 13 in after the feet/],
  },
  FEET_INCHES: {
    args: [294.5, 16],
    needed: 1,
    answer: `24'-6 1/2"`,
    outside: [[1, 10], /^denominator must be one of 2, 4, 8, 16, 32, 64; got 10$/],
  },
  PANEL_THICKNESS: {
    args: ["1-1/4", "5/8"],
    needed: 2,
    answer: 1.875,
    outside: [[0, 1], /^foam must be more than 0 in; got 0; a blank cell can read as 0$/],
  },
  CORNER_OFFSET: {
    args: ["1-1/4", "5/8", 90],
    needed: 2,
    answer: 1.875,
    outside: [["1-1/4", "5/8", 180], /^turn must be less than 180 deg; got 180$/],
  },
  RUN_LENGTH: {
    args: [`20'`, T, ...ENDS],
    needed: 4,
    answer: 241.875,
    outside: [[240, T, "past", "up"], /^right_end must be one of past, flush, tight, short, free/],
  },
  STUD_MARKS: {
    args: [50, T, "past", "free", 16, "left", 1.5],
    needed: 4,
    answer: [
      ["Mark", "Center", "Near edge", "Far edge", "Tape reading", "Panel breaks"],
      [1, 0.75, 0, 1.5, 2.625, ""],
      [2, 14.125, 13.375, 14.875, 16, ""],
      [3, 30.125, 29.375, 30.875, 32, "yes"],
      [4, 46.125, 45.375, 46.875, 48, ""],
      [5, 49.25, 48.5, 50, 51.125, ""],
    ],
    outside: [[240, T, ...ENDS, 19.2], /^spacing must go a whole number of times.*got 19\.2$/],
  },
  PANEL_BREAKS: {
    args: [`20'`, T, ...ENDS, 16, "left", 48, 16],
    needed: 4,
    answer: [[46.125], [94.125], [142.125], [190.125], [222.125]],
    outside: [[240, T, ...ENDS, 19.2], /^spacing must go a whole number of times/],
    beyond: [[48, T, "free", "free"], /^the wall has no seam: one panel covers its run$/],
  },
  RAKE_STUDS: {
    args: [24, 96, 108, T, "free", "free", 16, "left", 1.5, 1, 2, 1.5],
    needed: 6,
    answer: [
      ["Mark", "Center", "Long point", "Stud length", "Bevel"],
      // 6 in 12: heights 96-3/4, 104-3/8 and 108 less 1-1/2 and 3 sqrt(1.25)
      [1, 0.75, 1.5, 91.895898034, 26.565051177],
      [2, 16, 16.75, 99.520898034, 26.565051177],
      [3, 23.25, 24, 103.145898034, 26.565051177],
    ],
    outside: [[96, -1, 96, T, ...ENDS], /^left height must be at least 0 in; got -1$/],
  },
  PANELS_PER_WALL: {
    args: [`12'`, `8'`, T, "free", "free", 16, 96],
    needed: 5,
    answer: 3,
    outside: [[144, 96, T, "free", "free", 16, 1], /^panel_length must be at least 12 in; got 1$/],
    beyond: [[144, 121, T, "free", "free"], /^no stocked panel covers 121 in; the longest is 120/],
  },
  TAPE_FEET: {
    args: [`20'`, `8'`, T, ...ENDS, 0, 16],
    needed: 5,
    answer: 40,
    outside: [[240, 96, T, ...ENDS, 96], /^rip_height must be less than 96 in; got 96$/],
  },
  CORNER_TAPE_FEET: {
    args: [`9'`, 1, "two-layer"],
    needed: 1,
    answer: 18,
    outside: [[108, 1.5], /^corners must be a whole number; got 1\.5$/],
  },
  INSIDE_CORNER_TAPE_FEET: {
    args: [`9'`, 1, 36, 3],
    needed: 1,
    answer: 9.75,
    outside: [[108, 1, 3, 3], /^lap must be less than 3 in; got 3$/],
  },
  OPENING_TAPE_FEET: {
    args: [`3'`, `4'`, 1, 6],
    needed: 2,
    answer: 16,
    outside: [[36, 48, -1], /^count must be at least 0; got -1$/],
  },
  TAPE_WIDTH: {
    args: [T, "two-layer", 1],
    needed: 1,
    answer: 2.875,
    outside: [[T, "wide"], /^method must be one of two-layer, single, sill; got "wide"$/],
  },
  TAPE_ROLLS: {
    args: [800, 100, 0.05],
    needed: 2,
    answer: 9,
    outside: [[800, 100, 5], /^extra must be less than 1; got 5; 5 % is 0\.05$/],
  },
  NAIL_LENGTH: {
    args: [T, 1.5],
    needed: 1,
    answer: 3.375,
    outside: [[0], /^thickness must be more than 0 in; got 0$/],
  },
  STOCK_NAIL: {
    args: ["3-3/8", [[2, 2.375, 2.5, 3, 3.25, 3.5, 4]]],
    needed: 1,
    answer: 3.5,
    outside: [[0], /^length must be more than 0 in; got 0$/],
    beyond: [[4.0625], /^no stocked nail is 4 1\/16 in or longer; the longest is 4 in$/],
  },
  NAIL_PENETRATION: {
    args: ["3-1/2", T],
    needed: 2,
    answer: 1.625,
    outside: [[1, T], /^nail_length must be at least the thickness, 1\.875 in, .*got 1$/],
  },
  NAIL_PENETRATION_NEEDED: {
    args: ["shear-wall table", 0.131],
    needed: 2,
    answer: 1.375,
    outside: [
      ["hunch", 0.131],
      /must be one of shear-wall table, general, wind table; got "hunch"$/,
    ],
    beyond: [["wind table", 0.148], /^wind table has rows for nail shanks of 0\.113, 0\.131 in/],
  },
  NAILS_PER_PANEL: {
    args: [48, `8'`, 6, 12, 16],
    needed: 4,
    answer: 62,
    outside: [[48, 96, 0, 12], /^edge_spacing must be at least 0\.5 in; got 0$/],
  },
  NAILS_PER_WALL: {
    args: [`8'`, `8'`, T, "free", "free", 6, 12, 16, 0],
    needed: 7,
    answer: 124,
    outside: [[96, 96, T, "free", "free", 6, 0], /^field_spacing must be at least 0\.5 in; got 0$/],
  },
  NAIL_BOXES: {
    args: [5000, 2000, 0.05],
    needed: 2,
    answer: 3,
    outside: [[5000, 0], /^nails_per_box must be more than 0; got 0$/],
  },
  BACKING_STUDS: {
    args: [2, T, "stud", 0.75, 1.5],
    needed: 2,
    answer: 2,
    outside: [[-1, T], /^inside_corners must be at least 0; got -1$/],
  },
  RIP_HEIGHT: {
    args: [10, "13-1/4"],
    needed: 2,
    answer: 23.25,
    outside: [
      [36, 13],
      /^block_line \+ below must be at most 48 in, .*lower the block line to 35 in/,
    ],
  },
  RIPS_PER_PANEL: {
    args: ["23-15/16", 48, 0.125],
    needed: 1,
    answer: 2,
    outside: [[49], /^rip_height must be at most 48 in; got 49$/],
  },
  ROUTER_BIT: {
    args: [T, 0.25],
    needed: 1,
    answer: 2.125,
    outside: [[T, -1], /^clearance must be at least 0 in; got -1$/],
  },
  FOAM_R: {
    args: ["1-1/4", 4],
    needed: 2,
    answer: 5,
    outside: [["1-1/4", -4], /^r_per_inch must be .*got -4/],
  },
  WALL_R: {
    // no framing: 13 + 0 + 2.05
    args: [13, 0, "3-1/2", 0, 2.05, 1.25],
    hasOtherValues: true,
    needed: 3,
    answer: expect.closeTo(15.05, 9),
    outside: [[-1, 0, 3.5], /^cavity_r must be .*got -1/],
  },
  WALL_R_ISOTHERMAL: {
    args: [13, 4, 3.5, 0, 2.11, 1.25],
    hasOtherValues: true,
    needed: 3,
    answer: expect.closeTo(19.11, 9),
    outside: [[-1, 0, 3.5], /^cavity_r must be .*got -1/],
  },
  WALL_U: {
    // 0.75/20 + 0.25/10
    args: [19, 0, 7.2, 0.25, 1, 1.25],
    hasOtherValues: true,
    needed: 3,
    answer: expect.closeTo(0.0625, 9),
    outside: [[19, -1, 7.2], /^foam_r must be .*got -1/],
  },
  BRIDGING_LOSS: {
    args: [13, 0, 3.5, 0, 2.05, 1.25],
    hasOtherValues: true,
    needed: 3,
    answer: 0,
    outside: [[13, 0, 0], /^stud_depth must be .*got 0/],
  },
  DEW_POINT: {
    args: [70, 1],
    needed: 2,
    answer: expect.closeTo(70, 9),
    outside: [[70, 35], /^humidity must be .*got 35/],
  },
  FOAM_FACE_TEMPERATURE: {
    // (13 + 1) of 25 in the way of 50 degrees: 70 - 28
    args: [70, 20, 13, 6, 1, 5],
    hasOtherValues: true,
    needed: 4,
    answer: expect.closeTo(42, 9),
    outside: [[70, 20, 13, -1], /^foam_r must be .*got -1/],
  },
  FOAM_R_NEEDED: {
    args: ["5A", "3-1/2"],
    needed: 2,
    answer: 5,
    outside: [["5A", 0], /^stud_depth must be .*got 0/],
    beyond: [["12", 3.5], /^climate_zone must be one of .*got "12"$/],
  },
  WALL_U_LIMIT: {
    args: ["Marine 4"],
    needed: 1,
    answer: 0.045,
    beyond: [["12"], /^climate_zone must be one of/],
  },
  VAPOR_RETARDER: {
    args: ["5A", 3.5, 6],
    needed: 3,
    answer: expect.stringMatching(/class III/),
    outside: [["5A", 3.5, -1], /^foam_r must be .*got -1/],
  },
  HEAT_SAVED: {
    args: [1000, 0.1, 0.05, 5000],
    needed: 4,
    answer: expect.closeTo(6_000_000, 3),
    outside: [[-1, 0.1, 0.05, 5000], /^wall_area must be .*got -1/],
  },
  NAIL_LATERAL: {
    // ten diameters and three quarters of an inch of side: NDS-2018 Table 12N, 90 lb
    args: [2.06, 0.131, 0.75, 0, 0.5, 0.5],
    hasOtherValues: true,
    needed: 4,
    answer: expect.closeTo(90.3, 1),
    outside: [[3, 0.131, 0.625, -1], /^foam must be .*got -1/],
  },
  NAIL_YIELD_MODES: {
    args: [2.06, 0.131, 0.75, 0, 0.5, 0.5],
    hasOtherValues: true,
    needed: 4,
    answer: [
      ["Mode", "Value", "Governs"],
      ["Im", expect.any(Number), ""],
      ["Is", expect.any(Number), ""],
      ["II", expect.any(Number), ""],
      ["IIIm", expect.any(Number), ""],
      ["IIIs", expect.closeTo(90.3, 1), "yes"],
      ["IV", expect.any(Number), ""],
    ],
    outside: [[3, 0.131, 0.625, -1], /^foam must be .*got -1/],
  },
  HOUSE_SETTINGS: { args: [], needed: 0, answer: expect.arrayContaining([["Setting", "Value"]]) },
  HOUSE_ORDER: {
    args: HOUSE,
    needed: 1,
    answer: [
      ["Item", "Size", "Needed", "Unit", "Extra", "Per package", "Order", "Note"],
      ["Panel", "48 x 96 in", 3, "panels", 0, 1, 3, expect.any(String)],
      // two seams of 8 ft; 2 (36 + 12) + 2 x 80 in round the door
      ["Tape", "3 in", expect.closeTo(16 + 256 / 12, 5), "ft", 0.05, 100, 1, expect.any(String)],
      ["Nails", "3 1/2 x 0.131 in", expect.any(Number), "nails", 0.05, 2000, 1, expect.any(String)],
    ],
    outside: [BAD_HOUSE, NEEDS_HEADER],
    beyond: [
      [WALLS, OPENINGS, [...SETTINGS, ["Nail lengths", "2"]]],
      /^no stocked nail is 3 3\/8 in or longer/,
    ],
  },
  HOUSE_WALLS: {
    args: HOUSE,
    needed: 1,
    answer: [
      [
        "Wall",
        "Run",
        "Burn at start",
        "From",
        "Pieces",
        "Rips",
        "Seam feet",
        "Nails",
        "Backing",
        "Quantity",
      ],
      ["A", 144, 0, "left", 3, 0, 16, expect.any(Number), 0, 1],
    ],
    outside: [BAD_HOUSE, NEEDS_HEADER],
  },
  HOUSE_PIECES: {
    args: HOUSE,
    needed: 1,
    answer: [
      [
        "Wall",
        "Piece",
        "x",
        "y",
        "Width",
        "Left height",
        "Right height",
        "Routed openings",
        "Top turns at",
      ],
      ["A", "A-1", 0, 0, 48, 96, 96, "", ""],
      ["A", "A-2", 48, 0, 48, 96, 96, "D1", ""],
      ["A", "A-3", 96, 0, 48, 96, 96, "", ""],
    ],
    outside: [BAD_HOUSE, NEEDS_HEADER],
  },
  HOUSE_CUTS: {
    args: HOUSE,
    needed: 1,
    answer: [
      ["Panel", "Stock", "Piece", "x", "y", "Width", "Height", "Turned", "From scrap"],
      [1, 96, expect.stringMatching(/^A-[123]$/), 0, 0, 48, 96, 0, ""],
      [2, 96, expect.stringMatching(/^A-[123]$/), 0, 0, 48, 96, 0, ""],
      [3, 96, expect.stringMatching(/^A-[123]$/), 0, 0, 48, 96, 0, ""],
    ],
    outside: [BAD_HOUSE, NEEDS_HEADER],
  },
  HOUSE_MARKS: {
    args: ["A", ...HOUSE],
    needed: 2,
    answer: expect.arrayContaining([
      [
        "Mark",
        "Center",
        "Near edge",
        "Far edge",
        "Tape reading",
        "Tape",
        "Panel breaks",
        "Long point",
        "Stud length",
        "Bevel",
        "Note",
      ],
      [1, 0.75, 0, 1.5, 0.75, `0'-0 3/4"`, "", "", 91.5, 0, "end stud"],
      [4, 48, 47.25, 48.75, 48, `4'-0"`, "yes", "", 91.5, 0, ""],
      [5, 64, 63.25, 64.75, 64, `5'-4"`, "", "", 91.5, 0, "cripple at D1"],
    ]),
    outside: [["Z", ...HOUSE], /^wall must be one of A; got "Z"$/],
  },
  HOUSE_CHECKS: {
    args: HOUSE,
    needed: 1,
    answer: expect.arrayContaining([
      ["Level", "Wall", "Finding", "What to do"],
      ["note", "", "Openings: router bit at least 2 1/8 in of cutting length", expect.any(String)],
    ]),
    outside: [BAD_HOUSE, NEEDS_HEADER],
  },
  HOUSE_WALL_R: {
    args: [WALLS, OPENINGS, INSULATED, 9.25],
    needed: 1,
    answer: expect.arrayContaining([
      ["Item", "Value", "Unit", "Note"],
      ["Wall", 96, "sq ft", expect.any(String)],
      // a door of 36 x 80
      ["Openings", 20, "sq ft", expect.any(String)],
    ]),
    outside: [[WALLS, OPENINGS, INSULATED, 49], /^header_depth must be at most 48 in; got 49$/],
  },
  VERSION: { args: [], needed: 0, answer: expect.stringMatching(/^\d+\.\d+\.\d+$/) },
};
