/** A recalculation asks for one house many times over; it is planned once. */
import * as planner from "../../src/core/cut-plan/plan-cuts.js";
import { call } from "./call.js";
import { OPENINGS, SETTINGS, WALLS } from "./house-tables.js";

jest.mock("../../src/core/cut-plan/plan-cuts.js", () => {
  const actual = jest.requireActual<typeof planner>("../../src/core/cut-plan/plan-cuts.js");
  return { ...actual, planCuts: jest.fn(actual.planCuts) };
});

/** Ranges arrive as new arrays in every cell. */
const copy = <T>(range: T): T => JSON.parse(JSON.stringify(range)) as T;

it("equal ranges share one cut plan, whichever function asks first", () => {
  const planCuts = jest.mocked(planner.planCuts);
  call("HOUSE_CUTS", copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  expect(planCuts).toHaveBeenCalledTimes(1);
  call("HOUSE_PIECES", copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  call("HOUSE_WALLS", copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  call("HOUSE_CUTS", copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  expect(planCuts).toHaveBeenCalledTimes(1);
  const note = JSON.stringify(call("HOUSE_ORDER", copy(WALLS), copy(OPENINGS), copy(SETTINGS)));
  expect(note).toMatch(/panels?; no plan can use fewer than \d+/);
  const sofar = planCuts.mock.calls.length;
  call("HOUSE_ORDER", copy(WALLS), copy(OPENINGS), copy(SETTINGS));
  expect(planCuts).toHaveBeenCalledTimes(sofar);
});
