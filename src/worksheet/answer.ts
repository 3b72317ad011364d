/** Turns the core's errors into the cell errors of whichever host is running. */
import { type CalcErrorCode, isCalcError } from "../core/check.js";

export type CellErrorCode = "#VALUE!" | "#N/A";

/** The cell error of hosts without one of their own. */
export class CellError extends Error {
  readonly code: CellErrorCode;
  constructor(code: CellErrorCode, message: string) {
    super(message);
    this.name = "CellError";
    this.code = code;
  }
}

interface HostErrors {
  readonly Error?: new (code: unknown, message: string) => Error;
  readonly ErrorCode?: { readonly invalidValue: unknown; readonly notAvailable: unknown };
}

export function cellCode(code: CalcErrorCode): CellErrorCode {
  return code === "not-covered" ? "#N/A" : "#VALUE!";
}

/** Built when needed: outside its host the error class is not there when this file loads. */
function hostError(code: CalcErrorCode, message: string): Error {
  const host = (globalThis as { CustomFunctions?: HostErrors }).CustomFunctions;
  const { Error: HostError, ErrorCode } = host ?? {};
  if (HostError && ErrorCode) {
    return new HostError(
      code === "not-covered" ? ErrorCode.notAvailable : ErrorCode.invalidValue,
      message
    );
  }
  return new CellError(cellCode(code), message);
}

/** Runs a wrapper's work; a CalcError becomes a cell error with its message, a bug stays a bug. */
export function answer<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (isCalcError(error)) throw hostError(error.code, error.message);
    throw error;
  }
}
