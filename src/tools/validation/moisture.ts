/** Published values of saturation pressure, dew point and condensing surface. */
import { dewPoint, foamFaceTemperature, saturationPressure } from "../../core/moisture.js";
import { casesOf, type ValidationRow } from "./row.js";

const MOISTURE = "Dew point and foam face";
const FUNDAMENTALS =
  "ASHRAE Fundamentals 2017 chapter 1 Table 3, as an open psychrometric library's tests quote it";
/** Pa in a psi, from the exact inch, pound and standard gravity. */
const PA_PER_PSI = 6894.757293168361;
const TABLE_WHY =
  "the table is printed from a fuller equation of state; the handbook's own equations 5 and 6 are within 0.03 percent of it";
const ARTICLE = "a trade magazine's article on dew points in walls";

const GRID = [
  [70, 0.2],
  [70, 0.3],
  [70, 0.35],
  [70, 0.4],
  [70, 0.5],
  [68, 0.3],
  [68, 0.4],
  [72, 0.4],
  [75, 0.5],
  [80, 0.5],
] as const;

function gridLabel([air, humidity]: readonly [number, number]): string {
  return `${air} F, ${Math.round(humidity * 100)} percent`;
}

export const moistureRows: readonly ValidationRow[] = [
  {
    id: "pws-ip",
    section: MOISTURE,
    quantity: "saturation pressure over ice and water",
    unit: "psia",
    source: FUNDAMENTALS,
    confirmed: "seen",
    cases: casesOf(
      [-4, 23, 41, 77, 122, 212, 300],
      [0.014974, 0.058268, 0.12656, 0.45973, 1.7914, 14.7094, 67.0206],
      (air) => `${air} F`,
      saturationPressure
    ),
    tolerance: 0.0003,
    kind: "relative",
    why: TABLE_WHY,
  },
  {
    id: "pws-si",
    section: MOISTURE,
    quantity: "saturation pressure over ice and water",
    unit: "Pa",
    source: FUNDAMENTALS,
    confirmed: "seen",
    cases: casesOf(
      [-20, -5, 5, 25, 50, 100, 150],
      [103.24, 401.74, 872.6, 3169.7, 12351.3, 101418, 476101.4],
      (air) => `${air} C`,
      (air) => saturationPressure(air * 1.8 + 32) * PA_PER_PSI
    ),
    tolerance: 0.0003,
    kind: "relative",
    why: TABLE_WHY,
  },
  {
    id: "dp-70-50",
    section: MOISTURE,
    quantity: "dew point of room air",
    unit: "F",
    source: `${ARTICLE}, chart`,
    confirmed: "seen",
    cases: [{ of: "70 F, 50 percent", published: 50, ours: () => dewPoint(70, 0.5) }],
    tolerance: 1,
    why: "read from a chart in whole degrees",
  },
  {
    id: "dp-70-35",
    section: MOISTURE,
    quantity: "dew point of room air",
    unit: "F",
    source: "a trade forum's chart",
    confirmed: "seen",
    cases: [{ of: "70 F, 35 percent", published: 40, ours: () => dewPoint(70, 0.35) }],
    tolerance: 1.2,
    why: "read from a chart, to about a degree",
  },
  {
    id: "dp-grid",
    section: MOISTURE,
    quantity: "dew points of room air from equations 5 and 6, worked apart from this project",
    unit: "F",
    source: "ASHRAE Fundamentals 2017 chapter 1 equations 5 and 6; not printed",
    confirmed: "recomputed",
    cases: casesOf(
      GRID,
      [27.69, 37.18, 41.12, 44.6, 50.53, 35.45, 42.81, 46.39, 55.12, 59.71],
      gridLabel,
      ([air, humidity]) => dewPoint(air, humidity)
    ),
    tolerance: 0.1,
    why: "a tenth of a degree is far finer than a room's humidity is known",
  },
  {
    id: "dp-grid-fit",
    section: MOISTURE,
    quantity: "the same dew points by the handbook's explicit fit",
    unit: "F",
    source: "ASHRAE Fundamentals 2017 chapter 1 equations 39 and 40",
    confirmed: "recomputed",
    cases: casesOf(
      GRID,
      [27.71, 37.19, 41.16, 44.65, 50.59, 35.44, 42.85, 46.44, 55.18, 59.76],
      gridLabel,
      ([air, humidity]) => dewPoint(air, humidity)
    ),
    tolerance: 0.1,
    why: "the fit is stated to a tenth of a degree",
  },
  {
    id: "sheath-A",
    section: MOISTURE,
    quantity: "inner face of the foam, R-7 outboard of 18, 70 F in, 32 F out",
    unit: "F",
    source: ARTICLE,
    confirmed: "seen",
    cases: [{ of: "wall A", published: 47, ours: () => foamFaceTemperature(70, 32, 11, 7, 0, 0) }],
    tolerance: 0.5,
    why: "printed in whole degrees",
  },
  {
    id: "sheath-B",
    section: MOISTURE,
    quantity: "inner face of the foam, R-14 outboard of 25, 70 F in, 32 F out",
    unit: "F",
    source: ARTICLE,
    confirmed: "seen",
    cases: [{ of: "wall B", published: 53, ours: () => foamFaceTemperature(70, 32, 11, 14, 0, 0) }],
    tolerance: 0.5,
    why: "printed in whole degrees",
  },
];
