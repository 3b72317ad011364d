/** Energy and moisture: R and U of the wall, where moisture would condense, what the code tables ask. */
import { MOISTURE_CAUTION } from "../core/cautions.js";
import { heatSaved } from "../core/heat-saved.js";
import { type HouseInsulation, USUAL_HEADER_IN, houseInsulation } from "../core/house/framing.js";
import { LIMITS } from "../core/limits.js";
import {
  AIR_PLACES,
  INSIDE_R,
  OUTSIDE_R,
  dewPoint,
  foamFaceTemperature,
} from "../core/moisture.js";
import {
  FRAMING_AT_16,
  OTHER_LAYERS_R,
  WOOD_R_PER_INCH,
  bridgingLoss,
  foamR,
  wallR,
  wallRIsothermal,
  wallU,
} from "../core/thermal.js";
import { foamRNeeded, vaporRetarderAdvice } from "../core/vapor-retarder.js";
import { wallULimit } from "../core/wall-u-limit.js";
import { type Topic, choice, figure, fn, grid, length, number, text, words } from "./entry.js";
import { houseOf } from "./house-cache.js";
import { houseTables } from "./house.js";

const cautions = [MOISTURE_CAUTION];
const rValue = figure("R, h ft2 F/Btu.");
const uValue = figure("U, Btu/(h ft2 F).");
const degrees = figure("Degrees F.");
const cavityR = number(
  "cavity_r",
  "R of the insulation between the studs; an empty bay is about 0.91.",
  { within: LIMITS.cavityR }
);
const foamLayerR = number("foam_r", "R of the foam; 0 for none.", { within: LIMITS.layerR });
const studDepth = length("stud_depth", "Depth of the studs.", { within: LIMITS.studDepth });
const zone = text("climate_zone", "Climate zone, as 5, 5A, 4C or Marine 4.");
const layers = [
  cavityR,
  foamLayerR,
  studDepth,
  number("framing", "Share of the wall that is framing.", {
    or: FRAMING_AT_16,
    within: LIMITS.framing,
  }),
  number("other_r", "R of all other layers.", { or: OTHER_LAYERS_R, within: LIMITS.layerR }),
  number("wood_r_per_inch", "R per inch of the studs.", {
    or: WOOD_R_PER_INCH,
    within: LIMITS.woodRPerInch,
  }),
] as const;

/** Areas of a house and what its walls come to, one a row. */
function insulationRows({ areas, hasFoam, withFoam, withoutFoam }: HouseInsulation) {
  const counted = "counted from the marks and openings; blocking and extra corner studs are not";
  const built = hasFoam ? "with the foam" : "without the foam";
  const paths = "parallel paths";
  const plain = [
    ["R without the foam", withoutFoam.wallR, "R", paths],
    ["U without the foam", withoutFoam.wallU, "U", paths],
  ];
  return [
    ["Wall", areas.wallFt2, "sq ft", "deck to top of plates, openings included"],
    ["Openings", areas.openingsFt2, "sq ft", "left out of R and U"],
    ["Framing", areas.framingFt2, "sq ft", counted],
    ["Headers", areas.headersFt2, "sq ft", "over the openings"],
    ["Framing fraction", withFoam.framing, "", "framing and headers, of the wall without openings"],
    [`R ${built}`, withFoam.wallR, "R", hasFoam ? paths : `${paths}; plain sheathing, no foam`],
    [`U ${built}`, withFoam.wallU, "U", paths],
    [`R ${built}, isothermal planes`, withFoam.wallRIsothermal, "R", "the true R lies between"],
    ...(hasFoam ? plain : []),
  ];
}

export const energy: Topic = {
  title: "Energy and moisture",
  functions: [
    fn("FOAM_R", {
      help: "R of the foam.",
      core: foamR,
      args: [
        length("foam", "Foam thickness.", { within: LIMITS.foam }),
        number("r_per_inch", "R per inch from the label; cold foam insulates less.", {
          within: LIMITS.rPerInch,
        }),
      ],
      returns: rValue,
      example: [`=SHEATH.FOAM_R("1-1/4", 4)`, 5],
      cautions,
    }),
    fn("WALL_R", {
      help: "Whole-wall R by parallel paths.",
      core: wallR,
      args: layers,
      returns: rValue,
      example: ["=SHEATH.WALL_R(13, 4, 3.5, 0, 2.11)", 19.11],
      cautions,
    }),
    fn("WALL_R_ISOTHERMAL", {
      help: "Whole-wall R by isothermal planes: the lower of the two usual estimates.",
      core: wallRIsothermal,
      args: layers,
      returns: rValue,
      example: ["=SHEATH.WALL_R_ISOTHERMAL(13, 4, 3.5, 0, 2.11)", 19.11],
      cautions,
    }),
    fn("WALL_U", {
      help: "Whole-wall U by parallel paths.",
      core: wallU,
      args: layers,
      returns: uValue,
      example: ["=SHEATH.WALL_U(13, 3.95, 3.5, 0, 3.05)", 0.05],
      cautions,
    }),
    fn("BRIDGING_LOSS", {
      help: "Share of the cavity path's R that the framing takes away.",
      core: bridgingLoss,
      args: layers,
      returns: figure("Fraction, 0 to 1."),
      example: ["=SHEATH.BRIDGING_LOSS(13, 5, 3.5, 0)", 0],
      cautions,
    }),
    fn("HOUSE_WALL_R", {
      help: "R and U of the walls of a house by area, over its real studs, plates, headers and openings. The settings need Cavity R and, where there is foam, Foam R per inch.",
      core: (walls, openings, settings, headerIn) =>
        houseInsulation(houseOf(walls, openings, settings).whole(), headerIn),
      from: houseInsulation,
      args: [
        ...houseTables,
        length("header_depth", "Depth of the headers.", {
          or: USUAL_HEADER_IN,
          within: LIMITS.headerDepth,
        }),
      ],
      returns: grid(["Item", "Value", "Unit", "Note"], insulationRows),
      example: ["=INDEX(SHEATH.HOUSE_WALL_R(walls, openings, settings), 2, 2)", 128],
      cautions,
      house: true,
    }),
    fn("DEW_POINT", {
      help: "Dew point of a room's air.",
      core: dewPoint,
      args: [
        number("temperature_f", "Air temperature.", {
          within: LIMITS.outdoorF,
          also: "more than 32 in a room",
        }),
        number("humidity", "Relative humidity, 0 to 1.", { within: LIMITS.humidity }),
        choice("place", "Where the air is; outdoors it may be below freezing", AIR_PLACES, {
          or: "room",
        }),
      ],
      returns: degrees,
      example: ["=SHEATH.DEW_POINT(70, 1)", 70],
      cautions,
    }),
    fn("FOAM_FACE_TEMPERATURE", {
      help: "Temperature of the foam's inner face, where moisture would condense, along the cavity path.",
      core: foamFaceTemperature,
      args: [
        number("indoor_f", "Room temperature.", { within: LIMITS.roomF }),
        number("outdoor_f", "Outdoor temperature.", { within: LIMITS.outdoorF }),
        cavityR,
        foamLayerR,
        number("inside_r", "R of the inside film and gypsum.", {
          or: INSIDE_R,
          within: LIMITS.layerR,
        }),
        number("outside_r", "R of all outboard of the foam.", {
          or: OUTSIDE_R,
          within: LIMITS.layerR,
        }),
      ],
      returns: degrees,
      example: ["=SHEATH.FOAM_FACE_TEMPERATURE(70, 20, 13, 6, 1, 5)", 42],
      cautions,
    }),
    fn("FOAM_R_NEEDED", {
      help: "Least foam R of the code table for a class III vapor retarder.",
      core: foamRNeeded,
      args: [zone, studDepth],
      returns: rValue,
      example: [`=SHEATH.FOAM_R_NEEDED("5A", 3.5)`, 5],
      cautions,
    }),
    fn("WALL_U_LIMIT", {
      help: "Largest whole-wall U the energy code's table allows.",
      core: wallULimit,
      args: [zone],
      returns: uValue,
      example: [`=SHEATH.WALL_U_LIMIT("5A")`, 0.045],
      cautions,
    }),
    fn("VAPOR_RETARDER", {
      help: "What vapor retarder may stand inside a wall with foam outside.",
      core: (climateZone, studDepthIn, foam) =>
        vaporRetarderAdvice(climateZone, studDepthIn, foam).say,
      from: vaporRetarderAdvice,
      args: [zone, studDepth, foamLayerR],
      returns: words("Advice; the local code decides."),
      example: [`=LEFT(SHEATH.VAPOR_RETARDER("5A", 3.5, 5), 12)`, "R-5 foam ove"],
      cautions,
    }),
    fn("HEAT_SAVED", {
      help: "Heat saved in a year when a wall's U falls: a plain degree-day estimate.",
      core: heatSaved,
      args: [
        number("wall_area", "Solid wall, openings left out.", { within: LIMITS.wallArea }),
        number("u_before", "U without the foam.", { within: LIMITS.wallU }),
        number("u_after", "U with the foam.", { within: LIMITS.wallU }),
        number("degree_days", "Heating degree days of a year, base 65 F.", {
          within: LIMITS.degreeDays,
        }),
      ],
      returns: figure("Btu a year."),
      example: ["=SHEATH.HEAT_SAVED(1000, 0.08, 0.06, 5000)", 2400000],
      cautions,
    }),
  ],
};
