/** Bodies of built-in functions that take numbers only. */
import type { NativeFunction } from "./library.js";
import { toNumber } from "./operators.js";
import { ERROR, errorValue, numberValue, type RuntimeScalar } from "./runtime.js";

/** A function of numbers, which answers with a number or the code of an error. */
export function ofNumbers(
  fewest: number,
  most: number,
  call: (...numbers: number[]) => number | string
): NativeFunction {
  return {
    minArity: fewest,
    maxArity: most,
    invoke: (args) => {
      const error = args.find(({ kind }) => kind === ERROR);
      if (error) return error;
      const numbers: number[] = [];
      for (const scalar of args as RuntimeScalar[]) {
        const number = toNumber(scalar);
        if (typeof number !== "number") return number;
        numbers.push(number);
      }
      const answer = call(...numbers);
      return typeof answer === "string" ? errorValue(answer) : numberValue(answer);
    },
  };
}
