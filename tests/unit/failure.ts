import { isCalcError, type CalcError } from "../../src/core/check.js";

/** The error a call must throw; anything else fails the test. */
export function failure(call: () => unknown): CalcError {
  let came: unknown;
  try {
    came = call();
  } catch (error) {
    if (isCalcError(error)) return error;
    throw error;
  }
  throw new Error(`expected an error; got ${JSON.stringify(came)}`);
}
