/**
 * The cautions that go with every structural or moisture result, wherever it is shown.
 * One fixed text, so that a sheet, a pane and the command line can never say different things.
 */

/** Goes with every nail, nailing, penetration and lateral-value result. */
export const STRUCTURAL_CAUTION =
  "Nail size, nail spacing and panel grade come from the engineer of record and the local code. " +
  "The nail values here are reference numbers for one nail, to take to the engineer; " +
  "they are not the strength of a wall. Foam between panel and stud makes a wall weaker and softer than its table.";

/** Goes with every R, U, dew-point, foam-temperature and vapor-retarder result. */
export const MOISTURE_CAUTION =
  "Energy and moisture numbers are plain estimates for a dry, well sealed wall. " +
  "Cold foam insulates less than its label, so use the R per inch at winter temperature. " +
  "The local code says how much foam and which vapor retarder a wall needs.";

/** The rest, shown with any result of a house. In the order they are read out. */
export const GENERAL_CAUTIONS: readonly string[] = [
  "Numbers here are for estimating and layout. Where the panel maker's or the tape maker's printed instructions differ, follow the printed instructions.",
  "Keep foam edges, termite inspection strips and the clearance to grade as the local code asks.",
  "Ladders, saws, nailers and routers: the usual care.",
];

/** Every caution, structural and moisture first: what a Checks sheet lists. */
export const ALL_CAUTIONS: readonly string[] = [
  STRUCTURAL_CAUTION,
  MOISTURE_CAUTION,
  ...GENERAL_CAUTIONS,
];
