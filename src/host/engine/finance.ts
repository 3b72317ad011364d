/**
 * Loans and savings with even payments, done again: the calculation library takes payments at the start of a period
 * for ones at its end in NPER, and answers for rates that mean nothing.
 *
 * @source ECMA-376 part 1, 18.17.7 (PMT, PV, FV, NPER): value now, payments and value then add up to 0
 */
import type { NativeFunction } from "./library.js";
import { ofNumbers } from "./of-numbers.js";

const NUM = "#NUM!";

/** What payments of 1 come to after so many periods, at the start of each or at its end. */
function payments(rate: number, periods: number, atStart: number): number {
  if (rate === 0) return periods;
  const early = atStart === 0 ? 1 : 1 + rate;
  return (early * ((1 + rate) ** periods - 1)) / rate;
}

export const FINANCE: ReadonlyMap<string, NativeFunction> = new Map<string, NativeFunction>([
  [
    "PMT",
    ofNumbers(3, 5, (rate, periods, now, then = 0, atStart = 0) => {
      if (rate! <= -1 || periods === 0) return NUM;
      return -(now! * (1 + rate!) ** periods! + then) / payments(rate!, periods!, atStart);
    }),
  ],
  [
    "PV",
    ofNumbers(3, 5, (rate, periods, payment, then = 0, atStart = 0) => {
      if (rate! <= -1) return NUM;
      return -(then + payment! * payments(rate!, periods!, atStart)) / (1 + rate!) ** periods!;
    }),
  ],
  [
    "FV",
    ofNumbers(3, 5, (rate, periods, payment, now = 0, atStart = 0) => {
      if (rate! <= -1) return NUM;
      return -(now * (1 + rate!) ** periods! + payment! * payments(rate!, periods!, atStart));
    }),
  ],
  [
    "NPER",
    ofNumbers(3, 5, (rate, payment, now, then = 0, atStart = 0) => {
      if (rate! <= -1) return NUM;
      if (rate === 0) return payment === 0 ? NUM : -(now! + then) / payment!;
      const paid = (payment! * (atStart === 0 ? 1 : 1 + rate!)) / rate!;
      const grown = (paid - then) / (paid + now!);
      return grown > 0 ? Math.log(grown) / Math.log1p(rate!) : NUM;
    }),
  ],
]);
