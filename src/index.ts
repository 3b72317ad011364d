/**
 * The core as a library: `import { cornerOffset } from "sheathing-functions"`.
 *
 * Numbers in, numbers out: lengths are inches, and every name says its unit. Tape-measure text is read by
 * `parseLength`. Every failure is a `CalcError`. Nothing here keeps state or reads the clock, so a bundler
 * may drop what is not used.
 */
export { VERSION } from "./core/version.js";
export { CalcError, type CalcErrorCode, isCalcError } from "./core/check.js";

export {
  type LengthUnit,
  degreesToRadians,
  feet,
  feetInches,
  inchText,
  parseLength,
  radiansToDegrees,
  squareFeet,
  totalLength,
} from "./core/units.js";

export { cornerOffset, panelThickness, routerBit } from "./core/assembly.js";
export { type BackingMethod, backingStuds } from "./core/backing.js";
export { type Side, type WallEnd, runLength } from "./core/corners.js";
export { type StudMark, panelBreaks, studMarks } from "./core/layout.js";
export { type Plates, type RakeStud, rakeStuds } from "./core/rake-studs.js";
export { panelsPerWall } from "./core/panels-per-wall.js";
export { ripHeight, ripsPerPanel } from "./core/rips.js";

export {
  type CornerTapeMethod,
  type TapeWidthMethod,
  cornerTapeFeet,
  insideCornerTapeFeet,
  openingTapeFeet,
  tapeFeet,
  tapeRolls,
  tapeWidth,
} from "./core/tape.js";

export {
  nailBoxes,
  nailLength,
  nailPenetration,
  nailsPerPanel,
  nailsPerWall,
  stockNail,
} from "./core/nails.js";
export { type PenetrationBasis, penetrationRule } from "./core/penetration.js";
export {
  type DowelJoint,
  type NailFoamComparison,
  type YieldMode,
  type YieldModeRow,
  dowelYieldModes,
  nailFoamComparison,
  nailLateral,
  nailYieldModes,
} from "./core/nail-lateral.js";

export { heatSaved } from "./core/heat-saved.js";
export {
  type AirPlace,
  type CondensingSurface,
  condensingSurface,
  dewPoint,
  foamFaceTemperature,
  saturationPressure,
} from "./core/moisture.js";
export {
  type HeatPath,
  type HouseWall,
  type HouseWallU,
  bridgingLoss,
  foamR,
  houseWallU,
  wallR,
  wallRIsothermal,
  wallU,
  wallUByPaths,
  wallUWithHeaders,
} from "./core/thermal.js";
export {
  type VaporClass,
  type VaporRetarderAdvice,
  foamRNeeded,
  vaporRetarderAdvice,
} from "./core/vapor-retarder.js";
export { wallULimit } from "./core/wall-u-limit.js";
export { type PublishedFigure, type PublishedSource } from "./core/published.js";

export type {
  CutPiece,
  CutPlacement,
  CutPlan,
  CutProblem,
  CutScrap,
  CutSheet,
  CutStock,
  RipRun,
} from "./core/cut-plan/problem.js";
export { planCuts } from "./core/cut-plan/plan-cuts.js";

export {
  type FramingAreas,
  type HouseInsulation,
  houseFraming,
  houseInsulation,
} from "./core/house/framing.js";
export { type HouseChange, type HouseRevision, houseChanges } from "./core/house/compare.js";
export { type PriceList, type PriceOffer, readPriceList } from "./core/house/price-list.js";
export {
  type HouseNeed,
  type PurchaseLine,
  type ReleaseLine,
  purchaseLines,
  releaseLines,
} from "./core/house/roll-up.js";
export { type Finding, type FindingLevel, houseFindings } from "./core/house/checks.js";
export { type CrewMark, crewMarks } from "./core/house/marks.js";
export { type OrderLine, orderLines } from "./core/house/order.js";
export { type Settings, settingList, settingsTable } from "./core/house/settings.js";
export type { Cell, PlacedTable, Table, TablePlace, TableSource } from "./core/house/tables.js";
export { HouseTakeoff, readHouse, takeoffHouse } from "./core/house/takeoff.js";
export type { Opening, Wall } from "./core/house/walls.js";
