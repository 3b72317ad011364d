/**
 * Calls the core as somebody with numbers would: lengths read by `parseLength`, blanks left out, tables
 * made of the core's records. It stands apart from the wrappers, so that one checks the other.
 */
import type * as Library from "../../src/index.js";
import type { Argument, Cell, Outcome } from "./golden.js";

type Core = typeof Library;

/** Arguments that are not lengths. */
const PLAIN =
  /^(?:\w+_end|from|method|basis|place|climate_zone|denominator|turn|corners|count|feet|feet_per_roll|extra|nails|nails_per_box|inside_corners|bottom_plates|top_plates|r_per_inch|cavity_r|foam_r|framing|other_r|wood_r_per_inch|temperature_f|humidity|indoor_f|outdoor_f|inside_r|outside_r|wall_area|u_before|u_after|degree_days|stud_gravity|panel_gravity)$/;

/** A call of the core by the arguments of the worksheet function of the same name. */
interface Entry {
  readonly parameters: string;
  readonly run: (core: Core, args: never[]) => unknown;
}

const one = (parameters: string, run: (core: Core, ...args: never[]) => unknown): Entry => ({
  parameters,
  run: (core, args) => run(core, ...args),
});

const WALL = "length thickness left_end right_end";
const R = "cavity_r foam_r stud_depth framing other_r wood_r_per_inch";
const NAIL = "nail_length nail_diameter panel foam stud_gravity panel_gravity";

/* eslint-disable @typescript-eslint/no-explicit-any -- what comes from the table is whatever was typed there */
const direct =
  (name: keyof Core) =>
  (core: Core, ...args: any[]): unknown =>
    (core[name] as (...values: any[]) => unknown)(...args);

const table = (
  name: keyof Core,
  header: readonly string[],
  line: (each: any) => unknown[]
): ((core: Core, ...args: any[]) => unknown) => {
  const rows = direct(name);
  return (core, ...args) => [header, ...(rows(core, ...args) as unknown[]).map(line)];
};

const yes = (is: boolean): string => (is ? "yes" : "");

/** House functions: three tables in, columns of the core's own records out. */
const house =
  (line: (core: Core, house: Library.HouseTakeoff) => unknown[][]) =>
  (core: Core, walls: any, openings: any, settings: any): unknown =>
    line(core, core.takeoffHouse(walls, openings, settings));

const ENTRIES: Readonly<Record<string, Entry>> = {
  INCHES: one("length", (_core, length) => length),
  FEET_INCHES: one("length denominator", direct("feetInches")),
  PANEL_THICKNESS: one("foam panel", direct("panelThickness")),
  CORNER_OFFSET: one("foam panel turn", direct("cornerOffset")),
  RUN_LENGTH: one(WALL, direct("runLength")),
  STUD_MARKS: one(
    `${WALL} spacing from stud`,
    table(
      "studMarks",
      ["Mark", "Center", "Near edge", "Far edge", "Tape reading", "Panel breaks"],
      (each) => [
        each.mark,
        each.centerIn,
        each.nearEdgeIn,
        each.farEdgeIn,
        each.tapeIn,
        yes(each.breaksHere),
      ]
    )
  ),
  PANEL_BREAKS: one(`${WALL} spacing from panel_width smallest`, (core, ...args) =>
    (direct("panelBreaks")(core, ...args) as number[]).map((x) => [x])
  ),
  RAKE_STUDS: one(
    "length left_height right_height thickness left_end right_end spacing from stud bottom_plates top_plates plate",
    ((core: Core, ...args: any[]) => {
      const [bottomCount = 1, topCount = 2, plateIn = 1.5] = args.splice(9);
      return table(
        "rakeStuds",
        ["Mark", "Center", "Long point", "Stud length", "Bevel"],
        (each) => [each.mark, each.centerIn, each.longPointIn, each.lengthIn, each.bevelDeg]
      )(core, ...args.concat(Array(9).fill(undefined)).slice(0, 9), {
        bottomCount,
        topCount,
        plateIn,
      });
    }) as never
  ),
  PANELS_PER_WALL: one(
    "length height thickness left_end right_end spacing panel_length",
    direct("panelsPerWall")
  ),
  TAPE_FEET: one(
    "length height thickness left_end right_end rip_height spacing",
    direct("tapeFeet")
  ),
  CORNER_TAPE_FEET: one("height corners method", direct("cornerTapeFeet")),
  INSIDE_CORNER_TAPE_FEET: one("height corners piece lap", direct("insideCornerTapeFeet")),
  OPENING_TAPE_FEET: one("width height count extension", direct("openingTapeFeet")),
  TAPE_WIDTH: one("thickness method lap", direct("tapeWidth")),
  TAPE_ROLLS: one("feet feet_per_roll extra", direct("tapeRolls")),
  NAIL_LENGTH: one("thickness penetration", direct("nailLength")),
  STOCK_NAIL: one("length stock", ((core: Core, length: number, stock?: Cell[][]) =>
    core.stockNail(
      length,
      stock?.flat().map((each) => core.parseLength("stock", each))
    )) as never),
  NAIL_PENETRATION: one("nail_length thickness", direct("nailPenetration")),
  NAIL_PENETRATION_NEEDED: one(
    "basis diameter",
    ((core: Core, basis: string, diameter: number) =>
      core.penetrationRule(basis, diameter).value) as never
  ),
  NAILS_PER_PANEL: one("width height edge_spacing field_spacing spacing", direct("nailsPerPanel")),
  NAILS_PER_WALL: one(
    "length height thickness left_end right_end edge_spacing field_spacing spacing rip_height",
    direct("nailsPerWall")
  ),
  NAIL_BOXES: one("nails nails_per_box extra", direct("nailBoxes")),
  BACKING_STUDS: one("inside_corners thickness method nailing stud", direct("backingStuds")),
  RIP_HEIGHT: one("block_line below", direct("ripHeight")),
  RIPS_PER_PANEL: one("rip_height panel_width kerf", direct("ripsPerPanel")),
  ROUTER_BIT: one("thickness clearance", direct("routerBit")),
  FOAM_R: one("foam r_per_inch", direct("foamR")),
  WALL_R: one(R, direct("wallR")),
  WALL_R_ISOTHERMAL: one(R, direct("wallRIsothermal")),
  WALL_U: one(R, direct("wallU")),
  BRIDGING_LOSS: one(R, direct("bridgingLoss")),
  DEW_POINT: one("temperature_f humidity place", direct("dewPoint")),
  FOAM_FACE_TEMPERATURE: one(
    "indoor_f outdoor_f cavity_r foam_r inside_r outside_r",
    direct("foamFaceTemperature")
  ),
  FOAM_R_NEEDED: one("climate_zone stud_depth", direct("foamRNeeded")),
  WALL_U_LIMIT: one("climate_zone", direct("wallULimit")),
  VAPOR_RETARDER: one(
    "climate_zone stud_depth foam_r",
    ((core: Core, zone: unknown, depth: number, foamR: number) =>
      core.vaporRetarderAdvice(zone, depth, foamR).say) as never
  ),
  HEAT_SAVED: one("wall_area u_before u_after degree_days", direct("heatSaved")),
  NAIL_LATERAL: one(NAIL, direct("nailLateral")),
  NAIL_YIELD_MODES: one(
    NAIL,
    table("nailYieldModes", ["Mode", "Value", "Governs"], (each) => [
      each.mode,
      each.valueLb,
      yes(each.governs),
    ])
  ),
  VERSION: one("", (core) => core.VERSION),
  HOUSE_SETTINGS: one("", (core) => core.settingsTable()),
  HOUSE_ORDER: one(
    "walls openings settings",
    house((core, each) => [
      ["Item", "Size", "Needed", "Unit", "Extra", "Per package", "Order", "Note"],
      ...core
        .orderLines(each)
        .map((line) => [
          line.item,
          line.size,
          line.needed,
          line.unit,
          line.extra,
          line.perPackage,
          line.order,
          line.note,
        ]),
    ])
  ),
  HOUSE_CHECKS: one("walls openings settings", ((core: Core, ...tables: [any, any, any]) => [
    ["Level", "Wall", "Finding", "What to do"],
    ...core
      .houseFindings(core.readHouse(...tables))
      .map((each) => [each.level, each.wall, each.finding, each.whatToDo]),
  ]) as never),
  HOUSE_MARKS: one("wall walls openings settings", ((
    core: Core,
    name: Cell,
    ...tables: [any, any, any]
  ) => {
    const { walls, openings, settings } = core.takeoffHouse(...tables);
    const wall = walls.find((each) => each.name === name);
    if (!wall) throw new core.CalcError("out-of-range", `there is no wall ${name}`);
    return [
      Array(11).fill(""),
      ...core
        .crewMarks(wall, openings, settings)
        .map((mark) => [
          mark.stud.mark,
          mark.stud.centerIn,
          mark.stud.nearEdgeIn,
          mark.stud.farEdgeIn,
          mark.stud.tapeIn,
          mark.tapeText,
          yes(mark.stud.breaksHere),
          mark.isRaked ? mark.cut?.longPointIn : "",
          mark.cut?.lengthIn,
          mark.cut?.bevelDeg,
          mark.note,
        ]),
    ];
  }) as never),
};

/**
 * Tables that only the worksheet has a shape for; the core gives records, which are laid out here by what
 * each column is said to hold.
 */
const SHAPED_BY_THE_SHEET: Readonly<Record<string, Entry>> = {
  HOUSE_WALL_R: one("walls openings settings header_depth", ((
    core: Core,
    walls: any,
    openings: any,
    settings: any,
    depth?: number
  ) => {
    const taken = core.takeoffHouse(walls, openings, settings);
    const { areas, withFoam, withoutFoam } = core.houseInsulation(taken, depth);
    const values = [
      areas.wallFt2,
      areas.openingsFt2,
      areas.framingFt2,
      areas.headersFt2,
      withFoam.framing,
      withFoam.wallR,
      withFoam.wallU,
      withFoam.wallRIsothermal,
      withoutFoam.wallR,
      withoutFoam.wallU,
    ];
    return [Array(4).fill(""), ...values.map((value) => ["", value, "", ""])];
  }) as never),
  HOUSE_WALLS: one(
    "walls openings settings",
    house((_core, { built }) => [
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
      ...built.map(({ cut, pieces, seamTapeFt, nailCount, backingCount }) => [
        cut.wall.name,
        cut.wall.span.runIn,
        // burnt is what the run starts before the framing corner
        0 - cut.wall.span.startIn,
        cut.wall.from,
        pieces.filter((each) => each.piece.kind !== "rip").length,
        pieces.filter((each) => each.piece.kind === "rip").length,
        seamTapeFt,
        nailCount,
        backingCount,
        cut.wall.quantity,
      ]),
    ])
  ),
  HOUSE_PIECES: one(
    "walls openings settings",
    house((_core, { built }) => [
      Array(9).fill(""),
      ...built.flatMap(({ cut, pieces }) =>
        pieces.map(({ label, piece }) => [
          cut.wall.name,
          label,
          piece.leftIn,
          piece.bottomIn,
          piece.rightIn - piece.leftIn,
          (piece.top[0]?.heightIn ?? 0) - piece.bottomIn,
          (piece.top.at(-1)?.heightIn ?? 0) - piece.bottomIn,
          "",
          "",
        ])
      ),
    ])
  ),
  HOUSE_CUTS: one(
    "walls openings settings",
    house((_core, { plan }) => [
      Array(9).fill(""),
      ...plan.sheets.flatMap((sheet, index) =>
        sheet.placements.map((each) => [
          index + 1,
          sheet.lengthIn,
          each.id,
          each.xIn,
          each.yIn,
          each.widthIn,
          each.heightIn,
          each.turned,
          "",
        ])
      ),
    ])
  ),
};

export function callCore(core: Core, name: string, args: readonly Argument[]): Outcome {
  const entry = ENTRIES[name] ?? SHAPED_BY_THE_SHEET[name];
  if (!entry) throw new Error(`no core function for ${name}`);
  const names = entry.parameters.split(" ").filter((each) => each !== "");
  try {
    const values = args.map((value, index): unknown => {
      const parameter = names[index] as string;
      if (Array.isArray(value)) return value;
      const isOptional = index >= requiredCount(name);
      if (value === null && isOptional) return undefined;
      return PLAIN.test(parameter) || parameter === "wall"
        ? value
        : core.parseLength(parameter, value);
    });
    return { value: entry.run(core, values as never[]) };
  } catch (error) {
    if (!core.isCalcError(error)) throw error;
    const code = error.code === "not-covered" ? "#N/A" : "#VALUE!";
    return { error: code, message: error.message };
  }
}

/** How many arguments must be given; the rest have defaults in the core's own signature. */
function requiredCount(name: string): number {
  const counts: Readonly<Record<string, number>> = {
    FEET_INCHES: 1,
    STUD_MARKS: 4,
    PANEL_BREAKS: 4,
    RAKE_STUDS: 6,
    HOUSE_WALL_R: 3,
  };
  return counts[name] ?? Infinity;
}
