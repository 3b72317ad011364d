import type { CalcErrorCode } from "../../src/core/check.js";
import { failure } from "./failure.js";

/** The call must throw this code, with a message that is this text or holds this pattern. */
export function expectError(
  call: () => unknown,
  code: CalcErrorCode,
  message: string | RegExp
): void {
  const error = failure(call);
  expect(error.code).toBe(code);
  if (typeof message === "string") expect(error.message).toBe(message);
  else expect(error.message).toMatch(message);
}
