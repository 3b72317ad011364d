/** Every function of the library, any value at any place in its arguments: a finite answer or a CalcError. */
import fc from "fast-check";
import { isCalcError } from "../../src/core/check.js";
import * as library from "../../src/index.js";
import { EXTREMES, anyValue, cases, tallyOf, writeTallies } from "../functions/any-value.js";
import { OPENINGS, SETTINGS, WALLS } from "../functions/house-tables.js";

const SEED = 20261201;
const JOINT = {
  diameterIn: 0.131,
  mainBearingIn: 1.5,
  sideBearingIn: 0.625,
  mainStrengthPsi: 3350,
  sideStrengthPsi: 4650,
  bendingYieldPsi: 100_000,
  gapIn: 1.25,
  reduction: 2.2,
};
const HOUSE = {
  grossAreaFt2: 1000,
  openingAreaFt2: 150,
  framingAreaFt2: 180,
  headerAreaFt2: 20,
  cavityR: 20,
  foamR: 6,
  studDepthIn: 5.5,
  headerR: 8,
  openingU: 0.3,
  otherR: 2.05,
  woodRPerInch: 1.25,
};
const CUTS = {
  panelWidthIn: 48,
  kerfIn: 0.125,
  canTurn: true,
  stock: [{ lengthIn: 96, cost: 1 }],
  pieces: [
    { id: "A-1", widthIn: 48, leftIn: 90, rightIn: 90 },
    { id: "A-2", widthIn: 20, leftIn: 40, rightIn: 60 },
  ],
  rips: [{ id: "r", heightIn: 20, jointsIn: [0, 16, 32, 48], smallestIn: 16, seamsIn: [32] }],
  scrap: [{ id: "s", widthIn: 30, heightIn: 40 }],
  keepIn: 12,
};
const NEEDS = [1, 2].map((houseNumber) => ({
  houseNumber,
  house: `Lot ${houseNumber}`,
  release: "2027-03-15",
  item: "Nails",
  size: "3-1/2 x 0.131 in",
  needed: 900,
  unit: "nails",
  extra: 0.05,
  perPackage: 2000,
}));
const OFFERS = [
  { item: "Nails", size: "3-1/2 x 0.131 in", perPackage: 500, price: 20, supplier: "A", row: 2 },
];
const PRICES = [
  ["Item", "Size", "Per package", "Price", "Supplier"],
  ["Tape", "3 in", 75, 30, "A"],
];
const PATHS = [
  { fraction: 0.75, pathR: 20 },
  { fraction: 0.25, pathR: 10 },
];
const TABLES = [WALLS, OPENINGS, SETTINGS];
const ENDS = ["past", "flush"];
const NAIL = [3.5, 0.131, 0.625, 1.25, 0.42, 0.5];
const LAYERS = [13, 6, 3.5, 0.25, 2.05, 1.25];

/** One usual call of each function that takes plain values or records. */
const CALLS: Readonly<Record<string, readonly unknown[]>> = {
  isCalcError: [new Error("x")],
  degreesToRadians: [90],
  radiansToDegrees: [1],
  feet: [96],
  squareFeet: [4608],
  feetInches: [294.5, 16],
  inchText: [15.25, 16],
  totalLength: [[156, 13.375]],
  parseLength: ["length", "24'-6 1/2\"", "in"],
  cornerOffset: [1.25, 0.625, 90],
  panelThickness: [1.25, 0.625],
  routerBit: [1.875, 0.25],
  backingStuds: [2, 1.875, "stud", 0.75, 1.5],
  runLength: [240, 1.875, ...ENDS],
  panelBreaks: [240, 1.875, ...ENDS, 16, "left", 48, 16],
  studMarks: [240, 1.875, ...ENDS, 16, "left", 1.5],
  rakeStuds: [24, 96, 108, 1.875, "free", "free", 16, "left", 1.5],
  panelsPerWall: [144, 96, 1.875, "free", "free", 16, 96],
  ripHeight: [10, 13.25],
  ripsPerPanel: [23.75, 48, 0.125],
  cornerTapeFeet: [108, 1, "two-layer"],
  insideCornerTapeFeet: [108, 1, 36, 3],
  openingTapeFeet: [36, 48, 1, 6, true],
  tapeFeet: [240, 96, 1.875, ...ENDS, 20, 16],
  tapeRolls: [800, 100, 0.05],
  tapeWidth: [1.875, "two-layer", 1],
  nailBoxes: [5000, 2000, 0.05],
  nailLength: [1.875, 1.5],
  nailPenetration: [3.5, 1.875],
  nailsPerPanel: [48, 96, 6, 12, 16],
  nailsPerWall: [96, 96, 1.875, 6, 12, "free", "free", 16, 20],
  stockNail: [3.375, [3, 3.25, 3.5]],
  penetrationRule: ["shear-wall table", 0.131],
  dowelYieldModes: [JOINT],
  nailFoamComparison: NAIL,
  nailLateral: NAIL,
  nailYieldModes: NAIL,
  heatSaved: [1000, 0.1, 0.05, 5000],
  condensingSurface: [70, 5, 0.35, 13, 6, 1.13, 1.35],
  dewPoint: [70, 0.35, "room"],
  foamFaceTemperature: [70, 5, 13, 6, 1.13, 1.35],
  saturationPressure: [70],
  bridgingLoss: LAYERS,
  foamR: [1.25, 4],
  houseWallU: [HOUSE],
  wallR: LAYERS,
  wallRIsothermal: LAYERS,
  wallU: LAYERS,
  wallUByPaths: [PATHS],
  wallUWithHeaders: [13, 6, 3.5, 0.21, 0.04, 4.375, 2.05, 1.25],
  foamRNeeded: ["5A", 3.5],
  vaporRetarderAdvice: ["5A", 3.5, 6],
  wallULimit: ["5A"],
  planCuts: [CUTS],
  purchaseLines: [NEEDS, OFFERS],
  readPriceList: ["prices", PRICES, 4],
  readHouse: TABLES,
  settingList: [],
  settingsTable: [],
  takeoffHouse: TABLES,
};

/** Functions that take only what another one made. */
const TAKES_RESULTS = [
  "CalcError",
  "HouseTakeoff",
  "crewMarks",
  "houseChanges",
  "houseFindings",
  "houseFraming",
  "houseInsulation",
  "orderLines",
  "releaseLines",
];

/** Kinds of places inside an argument: the argument itself, or any value at any depth. */
function placesIn(value: unknown, path: readonly (string | number)[] = []): (string | number)[][] {
  const here = [[...path]];
  if (typeof value !== "object" || value === null) return here;
  return Object.entries(value).reduce(
    (all, [key, held]) => [...all, ...placesIn(held, [...path, key])],
    here
  );
}

function replaced(value: unknown, path: readonly (string | number)[], by: unknown): unknown {
  const [first, ...rest] = path;
  if (first === undefined) return by;
  const copy = Array.isArray(value) ? [...value] : { ...(value as object) };
  const held = copy as Record<string | number, unknown>;
  held[first] = replaced(held[first], rest, by);
  return copy;
}

/** Every number an answer holds, at any depth. */
function checkNumbers(value: unknown, depth = 0): void {
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new Error(`an answer holds ${value}`);
    if (Object.is(value, -0)) throw new Error("an answer holds minus zero");
  }
  if (typeof value !== "object" || value === null || depth > 6) return;
  for (const held of Object.values(value)) checkNumbers(held, depth + 1);
}

const functions = Object.entries(library).filter(([, value]) => typeof value === "function");

afterAll(writeTallies);

it("no function of the library is left out", () => {
  const known = [...Object.keys(CALLS), ...TAKES_RESULTS].sort();
  expect(functions.map(([name]) => name).sort()).toEqual(known);
});

it.each(Object.entries(CALLS).filter(([, args]) => args.length > 0))(
  "%s with any values at one or two places of its arguments",
  (name, usual) => {
    const called = library[name as keyof typeof library] as (...args: unknown[]) => unknown;
    const run = (...args: unknown[]): unknown => {
      const answer = called(...args);
      if (!(answer instanceof library.HouseTakeoff)) return answer;
      // what a house works out when it is asked for
      const { plan, built } = answer;
      return [answer, plan, built, library.houseFindings(answer)];
    };
    checkNumbers(run(...usual));
    const places = placesIn(usual).filter((path) => path.length > 0);
    const place = fc.constantFrom(...places);
    const value = fc.oneof(
      { weight: 1, arbitrary: fc.constantFrom<unknown>(...EXTREMES) },
      { weight: 1, arbitrary: anyValue }
    );
    const tally = tallyOf("a function of the library, any values anywhere in its arguments");
    const isLong = /^(?:planCuts|takeoffHouse|readHouse)$/.test(name);
    fc.assert(
      fc.property(place, value, fc.option(fc.tuple(place, value)), (path, given, second) => {
        let args = replaced(usual, path, given);
        if (second && placesIn(args).some((each) => each.join() === second[0].join())) {
          args = replaced(args, ...second);
        }
        try {
          checkNumbers(run(...(args as unknown[])));
          tally.answers++;
        } catch (error) {
          if (!isCalcError(error)) throw error;
          tally.errors++;
        }
      }),
      { seed: SEED, numRuns: cases(isLong ? 100 : 300) }
    );
  }
);
