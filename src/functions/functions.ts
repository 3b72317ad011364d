/**
 * The worksheet functions. Thin: read the arguments, call the core, answer. The comments are the help
 * texts of every host and of the docs; the metadata is generated from them.
 */
/* eslint-disable @typescript-eslint/no-explicit-any -- `any` is what the metadata generator reads as "any cell" */
import {
  cornerOffset as cornerOffsetOf,
  panelThickness as panelThicknessOf,
  routerBit as routerBitOf,
} from "../core/assembly.js";
import { type BackingMethod, backingStuds as backingStudsOf } from "../core/backing.js";
import { type Side, type WallEnd, runLength as runLengthOf } from "../core/corners.js";
import { heatSaved as heatSavedOf } from "../core/heat-saved.js";
import { houseFindings } from "../core/house/checks.js";
import { houseInsulation } from "../core/house/framing.js";
import { settingsTable } from "../core/house/settings.js";
import { panelBreaks as panelBreaksOf, studMarks as studMarksOf } from "../core/layout.js";
import {
  type AirPlace,
  dewPoint as dewPointOf,
  foamFaceTemperature as foamFaceTemperatureOf,
} from "../core/moisture.js";
import {
  nailLateral as nailLateralOf,
  nailYieldModes as nailYieldModesOf,
} from "../core/nail-lateral.js";
import {
  nailBoxes as nailBoxesOf,
  nailLength as nailLengthOf,
  nailPenetration as nailPenetrationOf,
  nailsPerPanel as nailsPerPanelOf,
  nailsPerWall as nailsPerWallOf,
  stockNail as stockNailOf,
} from "../core/nails.js";
import { panelsPerWall as panelsPerWallOf } from "../core/panels-per-wall.js";
import { penetrationRule } from "../core/penetration.js";
import { USUAL_PLATES, rakeStuds as rakeStudsOf } from "../core/rake-studs.js";
import { ripHeight as ripHeightOf, ripsPerPanel as ripsPerPanelOf } from "../core/rips.js";
import {
  type CornerTapeMethod,
  type TapeWidthMethod,
  cornerTapeFeet as cornerTapeFeetOf,
  insideCornerTapeFeet as insideCornerTapeFeetOf,
  openingTapeFeet as openingTapeFeetOf,
  tapeFeet as tapeFeetOf,
  tapeRolls as tapeRollsOf,
  tapeWidth as tapeWidthOf,
} from "../core/tape.js";
import {
  bridgingLoss as bridgingLossOf,
  foamR as foamROf,
  wallR as wallROf,
  wallRIsothermal as wallRIsothermalOf,
  wallU as wallUOf,
} from "../core/thermal.js";
import { feetInches as feetInchesOf } from "../core/units.js";
import { foamRNeeded as foamRNeededOf, vaporRetarderAdvice } from "../core/vapor-retarder.js";
import { VERSION } from "../core/version.js";
import { wallULimit as wallULimitOf } from "../core/wall-u-limit.js";
import { answer } from "./answer.js";
import {
  choiceOf,
  lengthOf,
  numberOf,
  optionalChoice,
  optionalLength,
  optionalLengths,
  optionalNumber,
  scalar,
} from "./arguments.js";
import { houseOf } from "./house-cache.js";
import {
  checksTable,
  cutsTable,
  insulationTable,
  marksTable,
  orderTable,
  piecesTable,
  tidy,
  wallsTable,
} from "./house-tables.js";

/**
 * Reads a length as inches: a number, or text such as 24'-6 1/2", 1-7/8 or 622.3 mm.
 * @customfunction INCHES
 * @param length Number of inches, or tape-measure text.
 * @returns Inches.
 * @example =SHEATH.INCHES("24'-6 1/2""") // => 294.5
 */
export function inches(length: any): number {
  return answer(() => lengthOf("length", length));
}

/**
 * Writes a length as feet and inches, to the nearest fraction of the tape.
 * @customfunction FEET_INCHES
 * @param length Length: inches, or text.
 * @param [denominator] Smallest fraction: 2, 4, 8, 16, 32 or 64. If omitted, 16.
 * @returns Text such as 24'-6 1/2".
 * @example =SHEATH.FEET_INCHES(294.5) // => "24'-6 1/2\""
 */
export function feetInches(length: any, denominator?: any): string {
  return answer(() =>
    feetInchesOf(lengthOf("length", length), optionalNumber("denominator", denominator))
  );
}

/**
 * Total thickness of the panel: foam plus wood.
 * @customfunction PANEL_THICKNESS
 * @param foam Foam thickness.
 * @param panel Wood structural panel thickness.
 * @returns Inches.
 * @example =SHEATH.PANEL_THICKNESS("1-1/4", "5/8") // => 1.875
 */
export function panelThickness(foam: any, panel: any): number {
  return answer(() => panelThicknessOf(lengthOf("foam", foam), lengthOf("panel", panel)));
}

/**
 * How far to burn at a corner: how far the panel runs past the framing corner.
 * @customfunction CORNER_OFFSET
 * @param foam Foam thickness.
 * @param panel Wood structural panel thickness.
 * @param [turn] Change of direction at the corner, degrees. If omitted, 90.
 * @returns Inches.
 * @example =SHEATH.CORNER_OFFSET("1-1/4", "5/8") // => 1.875
 */
export function cornerOffset(foam: any, panel: any, turn?: any): number {
  return answer(() =>
    cornerOffsetOf(lengthOf("foam", foam), lengthOf("panel", panel), optionalNumber("turn", turn))
  );
}

/**
 * The length that is actually sheathed, by how the wall meets its neighbors.
 * @customfunction RUN_LENGTH
 * @param length Framing length, corner to corner.
 * @param thickness Panel thickness.
 * @param left_end How the left end meets its neighbor: past, flush, tight, short or free.
 * @param right_end How the right end meets its neighbor: past, flush, tight, short or free.
 * @returns Inches.
 * @example =SHEATH.RUN_LENGTH("24'", "1-7/8", "past", "flush") // => 289.875
 */
export function runLength(length: any, thickness: any, left_end: any, right_end: any): number {
  return answer(() =>
    runLengthOf(
      lengthOf("length", length),
      lengthOf("thickness", thickness),
      choiceOf<WallEnd>("left_end", left_end),
      choiceOf<WallEnd>("right_end", right_end)
    )
  );
}

/**
 * Stud marks of a wall, with the tape reading after burning and where panels break.
 * @customfunction STUD_MARKS
 * @param length Framing length, corner to corner.
 * @param thickness Panel thickness.
 * @param left_end How the left end meets its neighbor: past, flush, tight, short or free.
 * @param right_end How the right end meets its neighbor: past, flush, tight, short or free.
 * @param [spacing] Stud spacing. If omitted, 16.
 * @param [from] End laid out from: left or right. If omitted, left.
 * @param [stud] Stud thickness. If omitted, 1.5.
 * @returns Table: Mark, Center, Near edge, Far edge, Tape reading, Panel breaks.
 * @example =SHEATH.STUD_MARKS(48, "1-7/8", "past", "free", 24) // => [["Mark","Center","Near edge","Far edge","Tape reading","Panel breaks"],[1,0.75,0,1.5,2.625,""],[2,22.125,21.375,22.875,24,"yes"],[3,47.25,46.5,48,49.125,""]]
 */
export function studMarks(
  length: any,
  thickness: any,
  left_end: any,
  right_end: any,
  spacing?: any,
  from?: any,
  stud?: any
): any[][] {
  return answer(() => [
    ["Mark", "Center", "Near edge", "Far edge", "Tape reading", "Panel breaks"],
    ...studMarksOf(
      lengthOf("length", length),
      lengthOf("thickness", thickness),
      choiceOf<WallEnd>("left_end", left_end),
      choiceOf<WallEnd>("right_end", right_end),
      optionalLength("spacing", spacing),
      optionalChoice<Side>("from", from),
      optionalLength("stud", stud)
    ).map((row) => [
      row.mark,
      tidy(row.centerIn),
      tidy(row.nearEdgeIn),
      tidy(row.farEdgeIn),
      tidy(row.tapeIn),
      row.breaksHere ? "yes" : "",
    ]),
  ]);
}

/**
 * Where panels break along a wall, from the left framing corner.
 * @customfunction PANEL_BREAKS
 * @param length Framing length, corner to corner.
 * @param thickness Panel thickness.
 * @param left_end How the left end meets its neighbor: past, flush, tight, short or free.
 * @param right_end How the right end meets its neighbor: past, flush, tight, short or free.
 * @param [spacing] Stud spacing; must go a whole number of times into the panel width. If omitted, 16.
 * @param [from] End laid out from: left or right. If omitted, left.
 * @param [panel_width] Panel width. If omitted, 48.
 * @param [smallest] Narrowest last piece. If omitted, one stud space.
 * @returns Column of distances in inches.
 * @example =SHEATH.PANEL_BREAKS("13'", "1-7/8", "past", "flush") // => [[46.125],[94.125],[126.125]]
 */
export function panelBreaks(
  length: any,
  thickness: any,
  left_end: any,
  right_end: any,
  spacing?: any,
  from?: any,
  panel_width?: any,
  smallest?: any
): any[][] {
  return answer(() =>
    panelBreaksOf(
      lengthOf("length", length),
      lengthOf("thickness", thickness),
      choiceOf<WallEnd>("left_end", left_end),
      choiceOf<WallEnd>("right_end", right_end),
      optionalLength("spacing", spacing),
      optionalChoice<Side>("from", from),
      optionalLength("panel_width", panel_width),
      optionalLength("smallest", smallest)
    ).map((x) => [tidy(x)])
  );
}

/**
 * Studs of a rake wall: long point, length and bevel of each.
 * @customfunction RAKE_STUDS
 * @param length Framing length, corner to corner.
 * @param left_height Deck to top of the top plate at the left end.
 * @param right_height Deck to top of the top plate at the right end.
 * @param thickness Panel thickness.
 * @param left_end How the left end meets its neighbor: past, flush, tight, short or free.
 * @param right_end How the right end meets its neighbor: past, flush, tight, short or free.
 * @param [spacing] Stud spacing. If omitted, 16.
 * @param [from] End laid out from: left or right. If omitted, left.
 * @param [stud] Stud thickness. If omitted, 1.5.
 * @param [bottom_plates] Bottom plates. If omitted, 1.
 * @param [top_plates] Top plates. If omitted, 2.
 * @param [plate] Plate thickness. If omitted, 1.5.
 * @returns Table: Mark, Center, Long point, Stud length, Bevel.
 * @example =SHEATH.RAKE_STUDS(48, 96, 96, "1-7/8", "free", "free", 24) // => [["Mark","Center","Long point","Stud length","Bevel"],[1,0.75,1.5,91.5,0],[2,24,24.75,91.5,0],[3,47.25,48,91.5,0]]
 */
export function rakeStuds(
  length: any,
  left_height: any,
  right_height: any,
  thickness: any,
  left_end: any,
  right_end: any,
  spacing?: any,
  from?: any,
  stud?: any,
  bottom_plates?: any,
  top_plates?: any,
  plate?: any
): any[][] {
  return answer(() => [
    ["Mark", "Center", "Long point", "Stud length", "Bevel"],
    ...rakeStudsOf(
      lengthOf("length", length),
      lengthOf("left_height", left_height),
      lengthOf("right_height", right_height),
      lengthOf("thickness", thickness),
      choiceOf<WallEnd>("left_end", left_end),
      choiceOf<WallEnd>("right_end", right_end),
      optionalLength("spacing", spacing),
      optionalChoice<Side>("from", from),
      optionalLength("stud", stud),
      {
        bottomCount: optionalNumber("bottom_plates", bottom_plates) ?? USUAL_PLATES.bottomCount,
        topCount: optionalNumber("top_plates", top_plates) ?? USUAL_PLATES.topCount,
        plateIn: optionalLength("plate", plate) ?? USUAL_PLATES.plateIn,
      }
    ).map((row) => [
      row.mark,
      tidy(row.centerIn),
      tidy(row.longPointIn),
      tidy(row.lengthIn),
      tidy(row.bevelDeg),
    ]),
  ]);
}

/**
 * Whole panels for this wall alone, its own offcuts used again.
 * @customfunction PANELS_PER_WALL
 * @param length Framing length, corner to corner.
 * @param height Sheathed height.
 * @param thickness Panel thickness.
 * @param left_end How the left end meets its neighbor: past, flush, tight, short or free.
 * @param right_end How the right end meets its neighbor: past, flush, tight, short or free.
 * @param [spacing] Stud spacing. If omitted, 16.
 * @param [panel_length] Panel length. If omitted, the shortest of 96, 108 and 120 that covers the height.
 * @returns Panels.
 * @example =SHEATH.PANELS_PER_WALL("13'", "8'", "1-7/8", "past", "flush") // => 4
 */
export function panelsPerWall(
  length: any,
  height: any,
  thickness: any,
  left_end: any,
  right_end: any,
  spacing?: any,
  panel_length?: any
): number {
  return answer(() =>
    panelsPerWallOf(
      lengthOf("length", length),
      lengthOf("height", height),
      lengthOf("thickness", thickness),
      choiceOf<WallEnd>("left_end", left_end),
      choiceOf<WallEnd>("right_end", right_end),
      optionalLength("spacing", spacing),
      optionalLength("panel_length", panel_length)
    )
  );
}

/**
 * Feet of seam tape of a plain wall.
 * @customfunction TAPE_FEET
 * @param length Framing length, corner to corner.
 * @param height Sheathed height, rips included.
 * @param thickness Panel thickness.
 * @param left_end How the left end meets its neighbor: past, flush, tight, short or free.
 * @param right_end How the right end meets its neighbor: past, flush, tight, short or free.
 * @param [rip_height] Height of the rip course. If omitted, none.
 * @param [spacing] Stud spacing. If omitted, 16.
 * @returns Feet.
 * @example =SHEATH.TAPE_FEET("32'", "8'", "1-7/8", "free", "free") // => 56
 */
export function tapeFeet(
  length: any,
  height: any,
  thickness: any,
  left_end: any,
  right_end: any,
  rip_height?: any,
  spacing?: any
): number {
  return answer(() =>
    tapeFeetOf(
      lengthOf("length", length),
      lengthOf("height", height),
      lengthOf("thickness", thickness),
      choiceOf<WallEnd>("left_end", left_end),
      choiceOf<WallEnd>("right_end", right_end),
      optionalLength("rip_height", rip_height),
      optionalLength("spacing", spacing)
    )
  );
}

/**
 * Feet of tape for outside corners.
 * @customfunction CORNER_TAPE_FEET
 * @param height Sheathed height of the corner.
 * @param [corners] How many such corners. If omitted, 1.
 * @param [method] two-layer counts both layers, single one. If omitted, two-layer.
 * @returns Feet.
 * @example =SHEATH.CORNER_TAPE_FEET("9'", 4) // => 72
 */
export function cornerTapeFeet(height: any, corners?: any, method?: any): number {
  return answer(() =>
    cornerTapeFeetOf(
      lengthOf("height", height),
      optionalNumber("corners", corners),
      optionalChoice<CornerTapeMethod>("method", method)
    )
  );
}

/**
 * Feet of tape for inside corners put up in pieces, their overlaps counted.
 * @customfunction INSIDE_CORNER_TAPE_FEET
 * @param height Sheathed height of the corner.
 * @param [corners] How many such corners. If omitted, 1.
 * @param [piece] Length of a piece. If omitted, 36.
 * @param [lap] Overlap of two pieces. If omitted, 3.
 * @returns Feet.
 * @example =SHEATH.INSIDE_CORNER_TAPE_FEET("9'", 2) // => 19.5
 */
export function insideCornerTapeFeet(height: any, corners?: any, piece?: any, lap?: any): number {
  return answer(() =>
    insideCornerTapeFeetOf(
      lengthOf("height", height),
      optionalNumber("corners", corners),
      optionalLength("piece", piece),
      optionalLength("lap", lap)
    )
  );
}

/**
 * Feet of tape round openings: jambs, head and sill with their extensions.
 * @customfunction OPENING_TAPE_FEET
 * @param width Opening width.
 * @param height Opening height.
 * @param [count] How many such openings. If omitted, 1.
 * @param [extension] How far head and sill tape run past each jamb. If omitted, 6.
 * @returns Feet.
 * @example =SHEATH.OPENING_TAPE_FEET("3'", "4'") // => 16
 */
export function openingTapeFeet(width: any, height: any, count?: any, extension?: any): number {
  return answer(() =>
    openingTapeFeetOf(
      lengthOf("width", width),
      lengthOf("height", height),
      optionalNumber("count", count),
      optionalLength("extension", extension)
    )
  );
}

/**
 * Narrowest tape that covers a corner.
 * @customfunction TAPE_WIDTH
 * @param thickness Panel thickness.
 * @param [method] two-layer, single (one layer) or sill (the bottom edge at the sill plate). If omitted, two-layer.
 * @param [lap] Lap onto each panel. If omitted, 1.
 * @returns Inches.
 * @example =SHEATH.TAPE_WIDTH("1-7/8") // => 2.875
 */
export function tapeWidth(thickness: any, method?: any, lap?: any): number {
  return answer(() =>
    tapeWidthOf(
      lengthOf("thickness", thickness),
      optionalChoice<TapeWidthMethod>("method", method),
      optionalLength("lap", lap)
    )
  );
}

/**
 * Whole rolls of one tape for the house, rounded up once.
 * @customfunction TAPE_ROLLS
 * @param feet Feet needed over the whole house.
 * @param feet_per_roll Feet on a roll.
 * @param [extra] Spare share. If omitted, 0.05, which is 5 %.
 * @returns Rolls.
 * @example =SHEATH.TAPE_ROLLS(380, 100) // => 4
 */
export function tapeRolls(feet: any, feet_per_roll: any, extra?: any): number {
  return answer(() =>
    tapeRollsOf(
      numberOf("feet", feet),
      numberOf("feet_per_roll", feet_per_roll),
      optionalNumber("extra", extra)
    )
  );
}

/**
 * Shortest nail for a panel: its thickness and the penetration wanted in the stud.
 * @customfunction NAIL_LENGTH
 * @param thickness Panel thickness.
 * @param [penetration] Into the stud; the engineer's schedule rules. If omitted, 1.5.
 * @returns Inches, exact.
 * @example =SHEATH.NAIL_LENGTH("1-7/8") // => 3.375
 */
export function nailLength(thickness: any, penetration?: any): number {
  return answer(() =>
    nailLengthOf(lengthOf("thickness", thickness), optionalLength("penetration", penetration))
  );
}

/**
 * Next stocked nail length at or above the one needed.
 * @customfunction STOCK_NAIL
 * @param length Length needed.
 * @param [stock] Range of stocked lengths. If omitted, 2, 2-3/8, 2-1/2, 3, 3-1/4, 3-1/2 and 4.
 * @returns Inches.
 * @example =SHEATH.STOCK_NAIL("3-3/8") // => 3.5
 */
export function stockNail(length: any, stock?: any[][]): number {
  return answer(() => stockNailOf(lengthOf("length", length), optionalLengths("stock", stock)));
}

/**
 * How far a nail goes into the stud.
 * @customfunction NAIL_PENETRATION
 * @param nail_length Nail length.
 * @param thickness Panel thickness.
 * @returns Inches.
 * @example =SHEATH.NAIL_PENETRATION("3-1/2", "1-7/8") // => 1.625
 */
export function nailPenetration(nail_length: any, thickness: any): number {
  return answer(() =>
    nailPenetrationOf(lengthOf("nail_length", nail_length), lengthOf("thickness", thickness))
  );
}

/**
 * Least penetration into the stud on a named basis, for a nail's diameter.
 * @customfunction NAIL_PENETRATION_NEEDED
 * @param basis general, shear-wall table or wind table.
 * @param diameter Nail diameter.
 * @returns Inches.
 * @example =SHEATH.NAIL_PENETRATION_NEEDED("shear-wall table", 0.131) // => 1.375
 */
export function nailPenetrationNeeded(basis: any, diameter: any): number {
  return answer(
    () => penetrationRule(choiceOf<string>("basis", basis), lengthOf("diameter", diameter)).value
  );
}

/**
 * Nails of one loose piece: round its edges and on the studs between.
 * @customfunction NAILS_PER_PANEL
 * @param width Piece width.
 * @param height Piece height.
 * @param edge_spacing Edge nailing, from the engineer's schedule.
 * @param field_spacing Field nailing, from the engineer's schedule.
 * @param [spacing] Stud spacing. If omitted, 16.
 * @returns Nails.
 * @example =SHEATH.NAILS_PER_PANEL(48, 96, 6, 12) // => 62
 */
export function nailsPerPanel(
  width: any,
  height: any,
  edge_spacing: any,
  field_spacing: any,
  spacing?: any
): number {
  return answer(() =>
    nailsPerPanelOf(
      lengthOf("width", width),
      lengthOf("height", height),
      lengthOf("edge_spacing", edge_spacing),
      lengthOf("field_spacing", field_spacing),
      optionalLength("spacing", spacing)
    )
  );
}

/**
 * Nails of a plain wall.
 * @customfunction NAILS_PER_WALL
 * @param length Framing length, corner to corner.
 * @param height Sheathed height, rips included.
 * @param thickness Panel thickness.
 * @param left_end How the left end meets its neighbor: past, flush, tight, short or free.
 * @param right_end How the right end meets its neighbor: past, flush, tight, short or free.
 * @param edge_spacing Edge nailing, from the engineer's schedule.
 * @param field_spacing Field nailing, from the engineer's schedule.
 * @param [spacing] Stud spacing. If omitted, 16.
 * @param [rip_height] Height of the rip course. If omitted, none.
 * @returns Nails.
 * @example =SHEATH.NAILS_PER_WALL(192, 96, "1-7/8", "free", "free", 6, 12) // => 248
 */
export function nailsPerWall(
  length: any,
  height: any,
  thickness: any,
  left_end: any,
  right_end: any,
  edge_spacing: any,
  field_spacing: any,
  spacing?: any,
  rip_height?: any
): number {
  return answer(() =>
    nailsPerWallOf(
      lengthOf("length", length),
      lengthOf("height", height),
      lengthOf("thickness", thickness),
      choiceOf<WallEnd>("left_end", left_end),
      choiceOf<WallEnd>("right_end", right_end),
      lengthOf("edge_spacing", edge_spacing),
      lengthOf("field_spacing", field_spacing),
      optionalLength("spacing", spacing),
      optionalLength("rip_height", rip_height)
    )
  );
}

/**
 * Whole boxes of one nail for the house, rounded up once.
 * @customfunction NAIL_BOXES
 * @param nails Nails needed over the whole house.
 * @param nails_per_box Nails in a box.
 * @param [extra] Spare share. If omitted, 0.05, which is 5 %.
 * @returns Boxes.
 * @example =SHEATH.NAIL_BOXES(2500, 2000) // => 2
 */
export function nailBoxes(nails: any, nails_per_box: any, extra?: any): number {
  return answer(() =>
    nailBoxesOf(
      numberOf("nails", nails),
      numberOf("nails_per_box", nails_per_box),
      optionalNumber("extra", extra)
    )
  );
}

/**
 * Backing pieces behind panels that stop short at inside corners.
 * @customfunction BACKING_STUDS
 * @param inside_corners How many inside corners.
 * @param thickness Panel thickness.
 * @param [method] stud, or channel (3 members). If omitted, stud.
 * @param [nailing] Nailing surface wanted. If omitted, 0.75.
 * @param [stud] Stud thickness. If omitted, 1.5.
 * @returns Pieces.
 * @example =SHEATH.BACKING_STUDS(4, "1-7/8") // => 4
 */
export function backingStuds(
  inside_corners: any,
  thickness: any,
  method?: any,
  nailing?: any,
  stud?: any
): number {
  return answer(() =>
    backingStudsOf(
      numberOf("inside_corners", inside_corners),
      lengthOf("thickness", thickness),
      optionalChoice<BackingMethod>("method", method),
      optionalLength("nailing", nailing),
      optionalLength("stud", stud)
    )
  );
}

/**
 * Height of the rips, from the bottom lap up to the block line; at most the width of a panel, 48 inches.
 * @customfunction RIP_HEIGHT
 * @param block_line Height of the block line above the deck.
 * @param below How far sheathing laps down past the deck.
 * @returns Inches.
 * @example =SHEATH.RIP_HEIGHT(12, "11 1/4") // => 23.25
 */
export function ripHeight(block_line: any, below: any): number {
  return answer(() => ripHeightOf(lengthOf("block_line", block_line), lengthOf("below", below)));
}

/**
 * Rips of full length from one panel, the saw cuts between them allowed for.
 * @customfunction RIPS_PER_PANEL
 * @param rip_height Height of a rip.
 * @param [panel_width] Panel width. If omitted, 48.
 * @param [kerf] Width of a saw cut. If omitted, 0.125.
 * @returns Rips.
 * @example =SHEATH.RIPS_PER_PANEL("23 7/8") // => 2
 */
export function ripsPerPanel(rip_height: any, panel_width?: any, kerf?: any): number {
  return answer(() =>
    ripsPerPanelOf(
      lengthOf("rip_height", rip_height),
      optionalLength("panel_width", panel_width),
      optionalLength("kerf", kerf)
    )
  );
}

/**
 * Cutting length of the router bit that trims openings.
 * @customfunction ROUTER_BIT
 * @param thickness Panel thickness.
 * @param [clearance] How far the bit passes the panel. If omitted, 0.25.
 * @returns Inches.
 * @example =SHEATH.ROUTER_BIT("1-7/8") // => 2.125
 */
export function routerBit(thickness: any, clearance?: any): number {
  return answer(() =>
    routerBitOf(lengthOf("thickness", thickness), optionalLength("clearance", clearance))
  );
}

/**
 * R of the foam.
 * @customfunction FOAM_R
 * @param foam Foam thickness.
 * @param r_per_inch R per inch from the label; cold foam insulates less.
 * @returns R, h ft2 F/Btu.
 * @example =SHEATH.FOAM_R("1-1/4", 4) // => 5
 */
export function foamR(foam: any, r_per_inch: any): number {
  return answer(() => foamROf(lengthOf("foam", foam), numberOf("r_per_inch", r_per_inch)));
}

/**
 * Whole-wall R by parallel paths.
 * @customfunction WALL_R
 * @param cavity_r R of the insulation between the studs; an empty bay is about 0.91.
 * @param foam_r R of the foam; 0 for none.
 * @param stud_depth Depth of the studs.
 * @param [framing] Share of the wall that is framing. If omitted, 0.25.
 * @param [other_r] R of all other layers. If omitted, 2.05.
 * @param [wood_r_per_inch] R per inch of the studs. If omitted, 1.25.
 * @returns R, h ft2 F/Btu.
 * @example =SHEATH.WALL_R(13, 4, 3.5, 0, 2.11) // => 19.11
 */
export function wallR(
  cavity_r: any,
  foam_r: any,
  stud_depth: any,
  framing?: any,
  other_r?: any,
  wood_r_per_inch?: any
): number {
  return answer(() =>
    wallROf(
      numberOf("cavity_r", cavity_r),
      numberOf("foam_r", foam_r),
      lengthOf("stud_depth", stud_depth),
      optionalNumber("framing", framing),
      optionalNumber("other_r", other_r),
      optionalNumber("wood_r_per_inch", wood_r_per_inch)
    )
  );
}

/**
 * Whole-wall R by isothermal planes: the lower of the two usual estimates.
 * @customfunction WALL_R_ISOTHERMAL
 * @param cavity_r R of the insulation between the studs; an empty bay is about 0.91.
 * @param foam_r R of the foam; 0 for none.
 * @param stud_depth Depth of the studs.
 * @param [framing] Share of the wall that is framing. If omitted, 0.25.
 * @param [other_r] R of all other layers. If omitted, 2.05.
 * @param [wood_r_per_inch] R per inch of the studs. If omitted, 1.25.
 * @returns R, h ft2 F/Btu.
 * @example =SHEATH.WALL_R_ISOTHERMAL(13, 4, 3.5, 0, 2.11) // => 19.11
 */
export function wallRIsothermal(
  cavity_r: any,
  foam_r: any,
  stud_depth: any,
  framing?: any,
  other_r?: any,
  wood_r_per_inch?: any
): number {
  return answer(() =>
    wallRIsothermalOf(
      numberOf("cavity_r", cavity_r),
      numberOf("foam_r", foam_r),
      lengthOf("stud_depth", stud_depth),
      optionalNumber("framing", framing),
      optionalNumber("other_r", other_r),
      optionalNumber("wood_r_per_inch", wood_r_per_inch)
    )
  );
}

/**
 * Whole-wall U by parallel paths.
 * @customfunction WALL_U
 * @param cavity_r R of the insulation between the studs; an empty bay is about 0.91.
 * @param foam_r R of the foam; 0 for none.
 * @param stud_depth Depth of the studs.
 * @param [framing] Share of the wall that is framing. If omitted, 0.25.
 * @param [other_r] R of all other layers. If omitted, 2.05.
 * @param [wood_r_per_inch] R per inch of the studs. If omitted, 1.25.
 * @returns U, Btu/(h ft2 F).
 * @example =SHEATH.WALL_U(13, 3.95, 3.5, 0, 3.05) // => 0.05
 */
export function wallU(
  cavity_r: any,
  foam_r: any,
  stud_depth: any,
  framing?: any,
  other_r?: any,
  wood_r_per_inch?: any
): number {
  return answer(() =>
    wallUOf(
      numberOf("cavity_r", cavity_r),
      numberOf("foam_r", foam_r),
      lengthOf("stud_depth", stud_depth),
      optionalNumber("framing", framing),
      optionalNumber("other_r", other_r),
      optionalNumber("wood_r_per_inch", wood_r_per_inch)
    )
  );
}

/**
 * Share of the cavity path's R that the framing takes away.
 * @customfunction BRIDGING_LOSS
 * @param cavity_r R of the insulation between the studs; an empty bay is about 0.91.
 * @param foam_r R of the foam; 0 for none.
 * @param stud_depth Depth of the studs.
 * @param [framing] Share of the wall that is framing. If omitted, 0.25.
 * @param [other_r] R of all other layers. If omitted, 2.05.
 * @param [wood_r_per_inch] R per inch of the studs. If omitted, 1.25.
 * @returns Fraction, 0 to 1.
 * @example =SHEATH.BRIDGING_LOSS(13, 5, 3.5, 0) // => 0
 */
export function bridgingLoss(
  cavity_r: any,
  foam_r: any,
  stud_depth: any,
  framing?: any,
  other_r?: any,
  wood_r_per_inch?: any
): number {
  return answer(() =>
    bridgingLossOf(
      numberOf("cavity_r", cavity_r),
      numberOf("foam_r", foam_r),
      lengthOf("stud_depth", stud_depth),
      optionalNumber("framing", framing),
      optionalNumber("other_r", other_r),
      optionalNumber("wood_r_per_inch", wood_r_per_inch)
    )
  );
}

/**
 * Dew point of a room's air.
 * @customfunction DEW_POINT
 * @param temperature_f Air temperature, degrees F.
 * @param humidity Relative humidity, 0 to 1.
 * @param [place] room, or outdoors for air below freezing. If omitted, room.
 * @returns Degrees F.
 * @example =SHEATH.DEW_POINT(70, 1) // => 70
 */
export function dewPoint(temperature_f: any, humidity: any, place?: any): number {
  return answer(() =>
    dewPointOf(
      numberOf("temperature_f", temperature_f),
      numberOf("humidity", humidity),
      optionalChoice<AirPlace>("place", place)
    )
  );
}

/**
 * Temperature of the foam's inner face, where moisture would condense, along the cavity path.
 * @customfunction FOAM_FACE_TEMPERATURE
 * @param indoor_f Room temperature, degrees F.
 * @param outdoor_f Outdoor temperature, degrees F.
 * @param cavity_r R of the insulation between the studs; an empty bay is about 0.91.
 * @param foam_r R of the foam.
 * @param [inside_r] R of the inside film and gypsum. If omitted, 1.13.
 * @param [outside_r] R of all outboard of the foam. If omitted, 1.35.
 * @returns Degrees F.
 * @example =SHEATH.FOAM_FACE_TEMPERATURE(70, 20, 13, 6, 1, 5) // => 42
 */
export function foamFaceTemperature(
  indoor_f: any,
  outdoor_f: any,
  cavity_r: any,
  foam_r: any,
  inside_r?: any,
  outside_r?: any
): number {
  return answer(() =>
    foamFaceTemperatureOf(
      numberOf("indoor_f", indoor_f),
      numberOf("outdoor_f", outdoor_f),
      numberOf("cavity_r", cavity_r),
      numberOf("foam_r", foam_r),
      optionalNumber("inside_r", inside_r),
      optionalNumber("outside_r", outside_r)
    )
  );
}

/**
 * Least foam R of the code table for a class III vapor retarder.
 * @customfunction FOAM_R_NEEDED
 * @param climate_zone Climate zone, as 5, 5A, 4C or Marine 4.
 * @param stud_depth Depth of the studs.
 * @returns R, h ft2 F/Btu.
 * @example =SHEATH.FOAM_R_NEEDED("5A", 3.5) // => 5
 */
export function foamRNeeded(climate_zone: any, stud_depth: any): number {
  return answer(() =>
    foamRNeededOf(scalar("climate_zone", climate_zone), lengthOf("stud_depth", stud_depth))
  );
}

/**
 * Largest whole-wall U the energy code's table allows.
 * @customfunction WALL_U_LIMIT
 * @param climate_zone Climate zone, as 5, 5A, 4C or Marine 4.
 * @returns U, Btu/(h ft2 F).
 * @example =SHEATH.WALL_U_LIMIT("5A") // => 0.045
 */
export function wallULimit(climate_zone: any): number {
  return answer(() => wallULimitOf(scalar("climate_zone", climate_zone)));
}

/**
 * What vapor retarder may stand inside a wall with foam outside.
 * @customfunction VAPOR_RETARDER
 * @param climate_zone Climate zone, as 5, 5A, 4C or Marine 4.
 * @param stud_depth Depth of the studs.
 * @param foam_r R of the foam.
 * @returns Advice; the local code decides.
 * @example =LEFT(SHEATH.VAPOR_RETARDER("5A", 3.5, 5), 12) // => "R-5 foam ove"
 */
export function vaporRetarder(climate_zone: any, stud_depth: any, foam_r: any): string {
  return answer(
    () =>
      vaporRetarderAdvice(
        scalar("climate_zone", climate_zone),
        lengthOf("stud_depth", stud_depth),
        numberOf("foam_r", foam_r)
      ).say
  );
}

/**
 * Heat saved in a year when a wall's U falls: a plain degree-day estimate.
 * @customfunction HEAT_SAVED
 * @param wall_area Solid wall, openings left out, square feet.
 * @param u_before U without the foam.
 * @param u_after U with the foam.
 * @param degree_days Heating degree days of a year, base 65 F.
 * @returns Btu a year.
 * @example =SHEATH.HEAT_SAVED(1000, 0.08, 0.06, 5000) // => 2400000
 */
export function heatSaved(wall_area: any, u_before: any, u_after: any, degree_days: any): number {
  return answer(() =>
    heatSavedOf(
      numberOf("wall_area", wall_area),
      numberOf("u_before", u_before),
      numberOf("u_after", u_after),
      numberOf("degree_days", degree_days)
    )
  );
}

/**
 * Reference lateral value of one nail through the foam as a gap: a comparison for the engineer, never a shear-wall capacity.
 * @customfunction NAIL_LATERAL
 * @param nail_length Nail length.
 * @param nail_diameter Nail diameter.
 * @param panel Wood structural panel thickness.
 * @param foam Foam thickness; 0 is the panel tight to the stud.
 * @param [stud_gravity] Specific gravity of the stud. If omitted, 0.42.
 * @param [panel_gravity] Specific gravity of the panel. If omitted, 0.5.
 * @returns Pounds.
 * @example =ROUND(SHEATH.NAIL_LATERAL(3, 0.148, 0.75, 0, 0.5, 0.5), 0) // => 105
 */
export function nailLateral(
  nail_length: any,
  nail_diameter: any,
  panel: any,
  foam: any,
  stud_gravity?: any,
  panel_gravity?: any
): number {
  return answer(() =>
    nailLateralOf(
      lengthOf("nail_length", nail_length),
      lengthOf("nail_diameter", nail_diameter),
      lengthOf("panel", panel),
      lengthOf("foam", foam),
      optionalNumber("stud_gravity", stud_gravity),
      optionalNumber("panel_gravity", panel_gravity)
    )
  );
}

/**
 * Every yield mode of one nail through the foam as a gap: a comparison for the engineer, never a shear-wall capacity.
 * @customfunction NAIL_YIELD_MODES
 * @param nail_length Nail length.
 * @param nail_diameter Nail diameter.
 * @param panel Wood structural panel thickness.
 * @param foam Foam thickness; 0 is the panel tight to the stud.
 * @param [stud_gravity] Specific gravity of the stud. If omitted, 0.42.
 * @param [panel_gravity] Specific gravity of the panel. If omitted, 0.5.
 * @returns Table: Mode, Value, Governs.
 * @example =INDEX(SHEATH.NAIL_YIELD_MODES(3, 0.148, 0.75, 0, 0.5, 0.5), 6, 1) // => "IIIs"
 */
export function nailYieldModes(
  nail_length: any,
  nail_diameter: any,
  panel: any,
  foam: any,
  stud_gravity?: any,
  panel_gravity?: any
): any[][] {
  return answer(() => [
    ["Mode", "Value", "Governs"],
    ...nailYieldModesOf(
      lengthOf("nail_length", nail_length),
      lengthOf("nail_diameter", nail_diameter),
      lengthOf("panel", panel),
      lengthOf("foam", foam),
      optionalNumber("stud_gravity", stud_gravity),
      optionalNumber("panel_gravity", panel_gravity)
    ).map((row) => [row.mode, row.valueLb, row.governs ? "yes" : ""]),
  ]);
}

/**
 * A fresh settings table with every name and its default.
 * @customfunction HOUSE_SETTINGS
 * @returns Table: Setting, Value.
 * @example =INDEX(SHEATH.HOUSE_SETTINGS(), 2, 1) // => "Foam (in)"
 */
export function houseSettings(): any[][] {
  return answer(() => settingsTable());
}

/**
 * The purchase list of a house, in whole packages.
 * @customfunction HOUSE_ORDER
 * @param walls The Walls table with its header row.
 * @param openings The Openings table with its header row.
 * @param settings The settings: names and values in two columns.
 * @returns Table: Item, Size, Needed, Unit, Extra, Per package, Order, Note.
 * @example =INDEX(SHEATH.HOUSE_ORDER(walls, openings, settings), 2, 7) // => 5
 */
export function houseOrder(walls: any[][], openings: any[][], settings: any[][]): any[][] {
  return answer(() => orderTable(houseOf(walls, openings, settings).whole()));
}

/**
 * One row a wall: run, burn, pieces, seam feet, nails and backing.
 * @customfunction HOUSE_WALLS
 * @param walls The Walls table with its header row.
 * @param openings The Openings table with its header row.
 * @param settings The settings: names and values in two columns.
 * @returns Table: Wall, Run, Burn at start, From, Pieces, Rips, Seam feet, Nails, Backing, Quantity.
 * @example =INDEX(SHEATH.HOUSE_WALLS(walls, openings, settings), 2, 2) // => 193.875
 */
export function houseWalls(walls: any[][], openings: any[][], settings: any[][]): any[][] {
  return answer(() => wallsTable(houseOf(walls, openings, settings).whole()));
}

/**
 * Every piece of the house, where it stands and what is routed out of it.
 * @customfunction HOUSE_PIECES
 * @param walls The Walls table with its header row.
 * @param openings The Openings table with its header row.
 * @param settings The settings: names and values in two columns.
 * @returns Table: Wall, Piece, x, y, Width, Left height, Right height, Routed openings, Top turns at.
 * @example =SHEATH.HOUSE_PIECES(walls, openings, settings) // => [["Wall","Piece","x","y","Width","Left height","Right height","Routed openings","Top turns at"],["North","North-1",-1.875,0,48,96,96,"",""],["North","North-2",46.125,0,48,96,96,"Window",""],["North","North-3",94.125,0,48,96,96,"Window",""],["North","North-4",142.125,0,32,96,96,"",""],["North","North-5",174.125,0,17.875,96,96,"",""]]
 */
export function housePieces(walls: any[][], openings: any[][], settings: any[][]): any[][] {
  return answer(() => piecesTable(houseOf(walls, openings, settings).whole()));
}

/**
 * The cut plan: every panel bought and scrap used, with the pieces cut from it.
 * @customfunction HOUSE_CUTS
 * @param walls The Walls table with its header row.
 * @param openings The Openings table with its header row.
 * @param settings The settings: names and values in two columns.
 * @returns Table: Panel, Stock, Piece, x, y, Width, Height, Turned, From scrap.
 * @example =ROWS(SHEATH.HOUSE_CUTS(walls, openings, settings)) // => 6
 */
export function houseCuts(walls: any[][], openings: any[][], settings: any[][]): any[][] {
  return answer(() => cutsTable(houseOf(walls, openings, settings).whole()));
}

/**
 * The crew's marks for one wall, rake or not.
 * @customfunction HOUSE_MARKS
 * @param wall Name of the wall.
 * @param walls The Walls table with its header row.
 * @param openings The Openings table with its header row.
 * @param settings The settings: names and values in two columns.
 * @returns Table: Mark, Center, Near edge, Far edge, Tape reading, Tape, Panel breaks, Long point, Stud length, Bevel, Note.
 * @example =INDEX(SHEATH.HOUSE_MARKS("North", walls, openings, settings), 3, 3) // => 13.375
 */
export function houseMarks(
  wall: any,
  walls: any[][],
  openings: any[][],
  settings: any[][]
): any[][] {
  return answer(() => marksTable(houseOf(walls, openings, settings), scalar("wall", wall)));
}

/**
 * Findings: what to fix, what to look at, what to know, and the cautions.
 * @customfunction HOUSE_CHECKS
 * @param walls The Walls table with its header row.
 * @param openings The Openings table with its header row.
 * @param settings The settings: names and values in two columns.
 * @returns Table: Level, Wall, Finding, What to do.
 * @example =INDEX(SHEATH.HOUSE_CHECKS(walls, openings, settings), 2, 1) // => "look"
 */
export function houseChecks(walls: any[][], openings: any[][], settings: any[][]): any[][] {
  return answer(() => checksTable(houseFindings(houseOf(walls, openings, settings))));
}

/**
 * R and U of the walls of a house by area, over its real studs, plates, headers and openings.
 * @customfunction HOUSE_WALL_R
 * @param walls The Walls table with its header row.
 * @param openings The Openings table with its header row.
 * @param settings The settings: names and values in two columns. Cavity R and, where there is foam, Foam R per inch are needed.
 * @param [header_depth] Depth of the headers, inches. If omitted, 9-1/4.
 * @returns Table: Item, Value, Unit, Note.
 * @example =INDEX(SHEATH.HOUSE_WALL_R(walls, openings, settings), 2, 2) // => 128
 */
export function houseWallR(
  walls: any[][],
  openings: any[][],
  settings: any[][],
  header_depth?: any
): any[][] {
  return answer(() => {
    const depth = optionalLength("header_depth", header_depth);
    return insulationTable(houseInsulation(houseOf(walls, openings, settings).whole(), depth));
  });
}

/**
 * Which build of the functions answers.
 * @customfunction VERSION
 * @returns Text.
 * @example =SHEATH.VERSION() // => "0.1.0"
 */
export function version(): string {
  return answer(() => VERSION);
}
