/**
 * Names, argument order and which may be left out: people's sheets depend on them. Keyed in by hand;
 * a change here is a change of the contract. New arguments are optional and come last.
 */
import { exampleCalls } from "../../src/tools/example-calls.js";
import { worksheetFunctions } from "../../src/worksheet/registry.js";

const ENDS = "[left_end], [right_end]";
const WALL = `length, thickness, ${ENDS}`;
const TABLES = "walls, openings, settings";
const LAYERS = "cavity_r, foam_r, stud_depth, [framing], [other_r], [wood_r_per_inch]";
const NAIL = "nail_length, nail_diameter, panel, foam, [stud_gravity], [panel_gravity]";

const SIGNATURES: Readonly<Record<string, string>> = {
  INCHES: "length",
  TOTAL_LENGTH: "lengths, ...",
  FEET_INCHES: "length, [denominator]",
  PANEL_THICKNESS: "foam, panel",
  CORNER_OFFSET: "foam, panel, [turn]",
  RUN_LENGTH: WALL,
  STUD_MARKS: `${WALL}, [spacing], [from], [stud]`,
  PANEL_BREAKS: `${WALL}, [spacing], [from], [panel_width], [smallest]`,
  RAKE_STUDS: `length, left_height, right_height, thickness, ${ENDS}, [spacing], [from], [stud], [bottom_plates], [top_plates], [plate]`,
  PANELS_PER_WALL: `length, height, thickness, ${ENDS}, [spacing], [panel_length]`,
  TAPE_FEET: `length, height, thickness, ${ENDS}, [rip_height], [spacing]`,
  CORNER_TAPE_FEET: "height, [corners], [method]",
  INSIDE_CORNER_TAPE_FEET: "height, [corners], [piece], [lap]",
  OPENING_TAPE_FEET: "width, height, [count], [extension], [sill]",
  TAPE_WIDTH: "thickness, [method], [lap]",
  TAPE_ROLLS: "feet, feet_per_roll, [extra]",
  NAIL_LENGTH: "thickness, [penetration]",
  STOCK_NAIL: "length, [stock]",
  NAIL_PENETRATION: "nail_length, thickness",
  NAILS_PER_PANEL: "width, height, edge_spacing, field_spacing, [spacing]",
  NAILS_PER_WALL: `length, height, thickness, edge_spacing, field_spacing, ${ENDS}, [spacing], [rip_height]`,
  NAIL_BOXES: "nails, nails_per_box, [extra]",
  BACKING_STUDS: "inside_corners, thickness, [method], [nailing], [stud]",
  RIP_HEIGHT: "block_line, below",
  RIPS_PER_PANEL: "rip_height, [panel_width], [kerf]",
  ROUTER_BIT: "thickness, [clearance]",
  FOAM_R: "foam, r_per_inch",
  WALL_R: LAYERS,
  WALL_U: LAYERS,
  BRIDGING_LOSS: LAYERS,
  DEW_POINT: "temperature_f, humidity",
  FOAM_FACE_TEMPERATURE: "indoor_f, outdoor_f, cavity_r, foam_r, [inside_r], [outside_r]",
  FOAM_R_NEEDED: "climate_zone, stud_depth",
  WALL_U_LIMIT: "climate_zone",
  NAIL_LATERAL: NAIL,
  NAIL_YIELD_MODES: NAIL,
  VERSION: "",
  HOUSE_SETTINGS: "",
  HOUSE_ORDER: TABLES,
  HOUSE_WALLS: TABLES,
  HOUSE_PIECES: TABLES,
  HOUSE_CUTS: TABLES,
  HOUSE_MARKS: `wall, ${TABLES}`,
  HOUSE_CHECKS: TABLES,
  HOUSE_WALL_R: `${TABLES}, [header_depth]`,
};

const examples = exampleCalls();

/** First columns of each spilled table; more may follow. */
const HEADERS: Readonly<Record<string, readonly string[]>> = {
  STUD_MARKS: ["Mark", "Center", "Near edge", "Far edge", "Tape reading", "Panel breaks"],
  RAKE_STUDS: ["Mark", "Center", "Long point", "Stud length", "Bevel"],
  NAIL_YIELD_MODES: ["Mode", "Value", "Governs"],
  HOUSE_SETTINGS: ["Setting", "Value"],
  HOUSE_ORDER: ["Item", "Size", "Needed", "Unit", "Extra", "Per package", "Order", "Note"],
  HOUSE_PIECES: [
    "Wall",
    "Piece",
    "x",
    "y",
    "Width",
    "Left height",
    "Right height",
    "Routed openings",
  ],
  HOUSE_CUTS: ["Panel", "Stock", "Piece", "x", "y", "Width", "Height", "Turned", "From scrap"],
  HOUSE_CHECKS: ["Level", "Wall", "Finding", "What to do"],
};

it.each(Object.entries(SIGNATURES))("%s(%s)", (name, signature) => {
  const found = worksheetFunctions.find((each) => each.name === name);
  expect(found).toBeDefined();
  const list = (found?.parameters ?? []).flatMap((each) => {
    const shown = each.optional ? `[${each.name}]` : each.name;
    return each.repeats ? [shown, "..."] : [shown];
  });
  const wanted = signature === "" ? [] : signature.split(", ");
  expect(list.slice(0, wanted.length)).toEqual(wanted);
  // what came later may be left out
  for (const more of list.slice(wanted.length)) expect(more).toMatch(/^\[/);
});

it.each(Object.entries(HEADERS))("%s spills a header row", (name, header) => {
  const found = worksheetFunctions.find((each) => each.name === name);
  const rows = found?.call(...(examples.get(name) ?? [])) as unknown[][];
  expect(rows[0]?.slice(0, header.length)).toEqual(header);
});

it("optional arguments come after the needed ones, and have help", () => {
  let checked = 0;
  for (const { parameters, description, returns } of worksheetFunctions) {
    const first = parameters.findIndex((each) => each.optional);
    if (first >= 0) expect(parameters.slice(first).every((each) => each.optional)).toBe(true);
    for (const each of parameters) expect(each.description.length).toBeGreaterThan(5);
    expect(description).toMatch(/\.$/);
    expect(returns.length).toBeGreaterThan(3);
    checked++;
  }
  expect(checked).toBeGreaterThanOrEqual(Object.keys(SIGNATURES).length);
});

it("names have four letters or more and no digits: a short one would read as a cell address", () => {
  for (const { name } of worksheetFunctions) expect(name).toMatch(/^[A-Z][A-Z_]{3,}$/);
});
