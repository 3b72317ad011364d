/** A recalculation asks for one house many times over; it is planned once. */
import * as planner from "../../src/core/cut-plan/plan-cuts.js";
import { houseCuts, houseOrder, housePieces, houseWalls } from "../../src/functions/functions.js";
import { OPENINGS, SETTINGS, WALLS } from "./cases.js";

jest.mock("../../src/core/cut-plan/plan-cuts.js", () => {
  const actual = jest.requireActual<typeof planner>("../../src/core/cut-plan/plan-cuts.js");
  return { ...actual, planCuts: jest.fn(actual.planCuts) };
});

/** Ranges arrive as new arrays in every cell. */
const copy = <T>(range: T): T => JSON.parse(JSON.stringify(range)) as T;

it("equal ranges share one cut plan, whichever function asks first", () => {
  const planCuts = jest.mocked(planner.planCuts);
  houseCuts(copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  expect(planCuts).toHaveBeenCalledTimes(1);
  housePieces(copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  houseWalls(copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  houseCuts(copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  expect(planCuts).toHaveBeenCalledTimes(1);
  const note = JSON.stringify(houseOrder(copy(WALLS), copy(OPENINGS), copy(SETTINGS)));
  expect(note).toMatch(/panels?; no plan can use fewer than \d+/);
  const sofar = planCuts.mock.calls.length;
  houseOrder(copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  expect(planCuts).toHaveBeenCalledTimes(sofar);
});
