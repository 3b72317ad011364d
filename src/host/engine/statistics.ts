/**
 * Distributions and their kin, done again where the calculation library is good to seven digits only, loops as long as
 * a number says, or has no function of the name.
 */
// @ts-expect-error the package has no declarations
import besselLibrary from "bessel";
import { libraryFunction, type NativeFunction } from "./library.js";
import { ofNumbers } from "./of-numbers.js";
import {
  erf,
  erfc,
  incompleteBeta,
  incompleteGamma,
  inverse,
  logGamma,
  normalBelow,
} from "./special-math.js";
import {
  BOOLEAN,
  booleanValue,
  isArray,
  numberValue,
  TEXT,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";

const NUM = "#NUM!";
/** Standard deviations beyond which no number is left. */
const FAR = 40;

function normalInverse(p: number): number | string {
  return p > 0 && p < 1 ? inverse(normalBelow, p, -FAR, FAR) : NUM;
}

function normalDensity(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
}

function normal(x: number, mean: number, deviation: number, isBelow: number): number | string {
  if (deviation <= 0) return NUM;
  const z = (x - mean) / deviation;
  return isBelow ? normalBelow(z) : normalDensity(z) / deviation;
}

function gammaBelow(x: number, shape: number, scale: number): number {
  return incompleteGamma(shape, x / scale).below;
}

function gammaDistribution(
  x: number,
  shape: number,
  scale: number,
  isBelow: number
): number | string {
  if (x < 0 || shape <= 0 || scale <= 0) return NUM;
  if (isBelow) return gammaBelow(x, shape, scale);
  if (x === 0) return shape < 1 ? NUM : shape === 1 ? 1 / scale : 0;
  return Math.exp(
    (shape - 1) * Math.log(x) - x / scale - shape * Math.log(scale) - logGamma(shape)
  );
}

/** A bound above which a distribution on positive numbers has no more than a share left. */
function boundAbove(below: (x: number) => number, p: number): number {
  let bound = 1;
  while (below(bound) < p && bound < 1e300) bound *= 2;
  return bound;
}

function gammaInverse(p: number, shape: number, scale: number): number | string {
  if (p < 0 || p >= 1 || shape <= 0 || scale <= 0) return NUM;
  if (p === 0) return 0;
  const below = (x: number): number => gammaBelow(x, shape, scale);
  return inverse(below, p, 0, boundAbove(below, p));
}

function freedom(degrees: number): number | undefined {
  const whole = Math.trunc(degrees);
  return whole >= 1 && whole <= 1e10 ? whole : undefined;
}

function chiAbove(x: number, degrees: number): number | string {
  const free = freedom(degrees);
  return free === undefined || x < 0 ? NUM : incompleteGamma(free / 2, x / 2).above;
}

function fBelow(x: number, one: number, two: number): number {
  return incompleteBeta((one * x) / (one * x + two), one / 2, two / 2);
}

function fAbove(x: number, one: number, two: number): number {
  return incompleteBeta(two / (one * x + two), two / 2, one / 2);
}

function withFreedoms(
  one: number,
  two: number,
  answer: (one: number, two: number) => number | string
): number | string {
  const [a, b] = [freedom(one), freedom(two)];
  return a === undefined || b === undefined ? NUM : answer(a, b);
}

function fDensity(x: number, one: number, two: number): number | string {
  if (x === 0) return one < 2 ? NUM : one === 2 ? 1 : 0;
  const [a, b] = [one / 2, two / 2];
  return Math.exp(
    logGamma(a + b) -
      logGamma(a) -
      logGamma(b) +
      a * Math.log(one / two) +
      (a - 1) * Math.log(x) -
      (a + b) * Math.log1p((one * x) / two)
  );
}

/** Share of Student's distribution above x, x from 0 on. */
function tAbove(x: number, degrees: number): number {
  return 0.5 * incompleteBeta(degrees / (degrees + x * x), degrees / 2, 0.5);
}

function tBelow(x: number, degrees: number): number {
  return x < 0 ? tAbove(-x, degrees) : 1 - tAbove(x, degrees);
}

/** The x above 0 beyond which both ends of Student's distribution hold a share together. */
function tBothInverse(p: number, degrees: number): number | string {
  const free = freedom(degrees);
  if (free === undefined || p <= 0 || p > 1) return NUM;
  const inside = (x: number): number => 1 - 2 * tAbove(x, free);
  // near 1 the share inside has no digits left, so the share outside is sought
  const outside = (x: number): number => -2 * tAbove(x, free);
  return inverse(outside, -p, 0, boundAbove(inside, Math.min(1 - p, 1 - 1e-15)) * 4);
}

function betaDistribution(
  x: number,
  a: number,
  b: number,
  isBelow: number,
  low: number,
  high: number
): number | string {
  if (a <= 0 || b <= 0 || x < low || x > high || low === high) return NUM;
  const share = (x - low) / (high - low);
  if (isBelow) return incompleteBeta(share, a, b);
  const density = Math.exp(
    logGamma(a + b) -
      logGamma(a) -
      logGamma(b) +
      (a - 1) * Math.log(share) +
      (b - 1) * Math.log1p(-share)
  );
  return density / (high - low);
}

function betaInverse(p: number, a: number, b: number, low: number, high: number): number | string {
  if (p <= 0 || p > 1 || a <= 0 || b <= 0) return NUM;
  return low + (high - low) * inverse((x) => incompleteBeta(x, a, b), p, 0, 1);
}

function logChoose(n: number, k: number): number {
  return logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
}

function binomialBelow(hits: number, trials: number, p: number): number {
  if (hits >= trials) return 1;
  return 1 - incompleteBeta(p, hits + 1, trials - hits);
}

function binomial(given: number, of: number, p: number, isBelow: number): number | string {
  const [hits, trials] = [Math.trunc(given), Math.trunc(of)];
  if (hits < 0 || hits > trials || p < 0 || p > 1) return NUM;
  if (isBelow) return binomialBelow(hits, trials, p);
  if (p === 0) return hits === 0 ? 1 : 0;
  if (p === 1) return hits === trials ? 1 : 0;
  return Math.exp(logChoose(trials, hits) + hits * Math.log(p) + (trials - hits) * Math.log1p(-p));
}

/** The fewest hits whose share from below reaches a value. */
function binomialInverse(of: number, p: number, wanted: number): number | string {
  const trials = Math.trunc(of);
  if (trials < 0 || p <= 0 || p >= 1 || wanted <= 0 || wanted >= 1) return NUM;
  let [low, high] = [0, trials];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (binomialBelow(middle, trials, p) >= wanted) high = middle;
    else low = middle + 1;
  }
  return low;
}

function poisson(given: number, mean: number, isBelow: number): number | string {
  const count = Math.trunc(given);
  if (count < 0 || mean < 0) return NUM;
  if (mean === 0) return isBelow || count === 0 ? 1 : 0;
  return isBelow
    ? incompleteGamma(count + 1, mean).above
    : Math.exp(count * Math.log(mean) - mean - logGamma(count + 1));
}

function negativeBinomial(
  failed: number,
  wanted: number,
  p: number,
  isBelow: number
): number | string {
  const [failures, hits] = [Math.trunc(failed), Math.trunc(wanted)];
  if (failures < 0 || hits < 1 || p <= 0 || p >= 1) return NUM;
  return isBelow
    ? incompleteBeta(p, hits, failures + 1)
    : Math.exp(
        logChoose(failures + hits - 1, failures) + hits * Math.log(p) + failures * Math.log1p(-p)
      );
}

/** Largest argument and order of Bessel functions: recurrences run so often. */
const LARGEST_BESSEL = 1000;

/** Approximations like those of desktop programs, good to seven digits. */
const BESSEL = besselLibrary as Record<string, (x: number, n: number) => number>;

function bessel(kind: string, isPositive: boolean): (...numbers: number[]) => number | string {
  return (x = 0, order = 0) => {
    const n = Math.trunc(order);
    if (n < 0 || (isPositive && x <= 0)) return NUM;
    if (Math.abs(x) > LARGEST_BESSEL || n > LARGEST_BESSEL) return NUM;
    // the package is wrong below 0: J and I are even or odd as their order is
    const size = BESSEL[`bessel${kind}`]!(Math.abs(x), n);
    return x < 0 && n % 2 === 1 ? -size : size;
  };
}

/** A function under an older name, with arguments put in where the newer one has more. */
function older(
  newer: string,
  fewest: number,
  most: number,
  change: (args: RuntimeValue[]) => RuntimeValue[] = (args) => args
): NativeFunction {
  return {
    minArity: fewest,
    maxArity: most,
    invoke: (args) => (STATISTICS.get(newer) ?? libraryFunction(newer))!.invoke(change(args)),
  };
}

const below = (args: RuntimeValue[]): RuntimeValue[] => [...args, booleanValue(true)];
const exactly = (args: RuntimeValue[]): RuntimeValue[] => [...args, booleanValue(false)];

/** Text in ranges counts as 0, TRUE as 1. */
function countingAll(args: RuntimeValue[]): RuntimeValue[] {
  const counted = (cell: RuntimeScalar): RuntimeScalar =>
    cell.kind === TEXT
      ? numberValue(0)
      : cell.kind === BOOLEAN
        ? numberValue(cell.value === true ? 1 : 0)
        : cell;
  return args.map((arg) =>
    isArray(arg) ? { ...arg, rows: arg.rows.map((row) => row.map(counted)) } : arg
  );
}

export const STATISTICS: ReadonlyMap<string, NativeFunction> = new Map<string, NativeFunction>([
  ["ERF", ofNumbers(1, 2, (low, high) => (high === undefined ? erf(low!) : erf(high) - erf(low!)))],
  ["ERF.PRECISE", ofNumbers(1, 1, (x) => erf(x!))],
  ["ERFC", ofNumbers(1, 1, (x) => erfc(x!))],
  ["ERFC.PRECISE", ofNumbers(1, 1, (x) => erfc(x!))],
  ["GAUSS", ofNumbers(1, 1, (z) => erf(z! / Math.SQRT2) / 2)],
  ["NORM.DIST", ofNumbers(4, 4, (x, mean, deviation, b) => normal(x!, mean!, deviation!, b!))],
  ["NORMDIST", ofNumbers(4, 4, (x, mean, deviation, b) => normal(x!, mean!, deviation!, b!))],
  ["NORM.S.DIST", ofNumbers(2, 2, (z, b) => (b ? normalBelow(z!) : normalDensity(z!)))],
  ["NORMSDIST", ofNumbers(1, 1, (z) => normalBelow(z!))],
  ["NORM.S.INV", ofNumbers(1, 1, (p) => normalInverse(p!))],
  ["NORMSINV", ofNumbers(1, 1, (p) => normalInverse(p!))],
  [
    "NORM.INV",
    ofNumbers(3, 3, (p, mean, deviation) => {
      const z = normalInverse(p!);
      return typeof z === "string" || deviation! <= 0 ? NUM : mean! + z * deviation!;
    }),
  ],
  ["NORMINV", older("NORM.INV", 3, 3)],
  [
    "CONFIDENCE.NORM",
    ofNumbers(3, 3, (alpha, deviation, size) => {
      const z = normalInverse(1 - alpha! / 2);
      const count = Math.trunc(size!);
      const isWrong = alpha! <= 0 || alpha! >= 1 || deviation! <= 0 || count < 1;
      return typeof z === "string" || isWrong ? NUM : (z * deviation!) / Math.sqrt(count);
    }),
  ],
  ["CONFIDENCE", older("CONFIDENCE.NORM", 3, 3)],
  [
    "CONFIDENCE.T",
    ofNumbers(3, 3, (alpha, deviation, size) => {
      const count = Math.trunc(size!);
      if (count === 1) return "#DIV/0!";
      if (alpha! <= 0 || alpha! >= 1 || deviation! <= 0 || count < 1) return NUM;
      const t = tBothInverse(alpha!, count - 1);
      return typeof t === "string" ? t : (t * deviation!) / Math.sqrt(count);
    }),
  ],
  ["GAMMA.DIST", ofNumbers(4, 4, (x, a, b, c) => gammaDistribution(x!, a!, b!, c!))],
  ["GAMMADIST", older("GAMMA.DIST", 4, 4)],
  ["GAMMA.INV", ofNumbers(3, 3, (p, a, b) => gammaInverse(p!, a!, b!))],
  ["GAMMAINV", older("GAMMA.INV", 3, 3)],
  [
    "CHISQ.DIST",
    ofNumbers(3, 3, (x, degrees, b) => {
      const free = freedom(degrees!);
      return free === undefined ? NUM : gammaDistribution(x!, free / 2, 2, b!);
    }),
  ],
  ["CHISQ.DIST.RT", ofNumbers(2, 2, (x, degrees) => chiAbove(x!, degrees!))],
  ["CHIDIST", older("CHISQ.DIST.RT", 2, 2)],
  [
    "CHISQ.INV",
    ofNumbers(2, 2, (p, degrees) => {
      const free = freedom(degrees!);
      return free === undefined ? NUM : gammaInverse(p!, free / 2, 2);
    }),
  ],
  [
    "CHISQ.INV.RT",
    ofNumbers(2, 2, (p, degrees) => {
      const free = freedom(degrees!);
      if (free === undefined || p! <= 0 || p! > 1) return NUM;
      const above = (x: number): number => -incompleteGamma(free / 2, x / 2).above;
      return p === 1 ? 0 : inverse(above, -p!, 0, boundAbove(above, -p!));
    }),
  ],
  ["CHIINV", older("CHISQ.INV.RT", 2, 2)],
  [
    "F.DIST",
    ofNumbers(4, 4, (x, one, two, isBelow) =>
      withFreedoms(one!, two!, (a, b) =>
        x! < 0 ? NUM : isBelow ? fBelow(x!, a, b) : fDensity(x!, a, b)
      )
    ),
  ],
  [
    "F.DIST.RT",
    ofNumbers(3, 3, (x, one, two) =>
      withFreedoms(one!, two!, (a, b) => (x! < 0 ? NUM : fAbove(x!, a, b)))
    ),
  ],
  ["FDIST", older("F.DIST.RT", 3, 3)],
  [
    "F.INV",
    ofNumbers(3, 3, (p, one, two) =>
      withFreedoms(one!, two!, (a, b) => {
        if (p! < 0 || p! >= 1) return NUM;
        const of = (x: number): number => fBelow(x, a, b);
        return p === 0 ? 0 : inverse(of, p!, 0, boundAbove(of, p!));
      })
    ),
  ],
  [
    "F.INV.RT",
    ofNumbers(3, 3, (p, one, two) =>
      withFreedoms(one!, two!, (a, b) => {
        if (p! <= 0 || p! > 1) return NUM;
        const of = (x: number): number => -fAbove(x, a, b);
        return p === 1 ? 0 : inverse(of, -p!, 0, boundAbove(of, -p!));
      })
    ),
  ],
  ["FINV", older("F.INV.RT", 3, 3)],
  [
    "T.DIST",
    ofNumbers(3, 3, (x, degrees, isBelow) => {
      const free = freedom(degrees!);
      if (free === undefined) return NUM;
      if (isBelow) return tBelow(x!, free);
      return Math.exp(
        logGamma((free + 1) / 2) -
          logGamma(free / 2) -
          Math.log(free * Math.PI) / 2 -
          ((free + 1) / 2) * Math.log1p((x! * x!) / free)
      );
    }),
  ],
  [
    "T.DIST.RT",
    ofNumbers(2, 2, (x, degrees) => {
      const free = freedom(degrees!);
      return free === undefined ? NUM : x! < 0 ? 1 - tAbove(-x!, free) : tAbove(x!, free);
    }),
  ],
  [
    "T.DIST.2T",
    ofNumbers(2, 2, (x, degrees) => {
      const free = freedom(degrees!);
      return free === undefined || x! < 0 ? NUM : 2 * tAbove(x!, free);
    }),
  ],
  [
    "TDIST",
    ofNumbers(3, 3, (x, degrees, tails) => {
      const free = freedom(degrees!);
      const ends = Math.trunc(tails!);
      if (free === undefined || x! < 0 || (ends !== 1 && ends !== 2)) return NUM;
      return ends * tAbove(x!, free);
    }),
  ],
  [
    "T.INV",
    ofNumbers(2, 2, (p, degrees) => {
      if (p! <= 0 || p! >= 1) return NUM;
      const size = tBothInverse(2 * Math.min(p!, 1 - p!), degrees!);
      return typeof size === "string" ? size : p! < 0.5 ? -size : size;
    }),
  ],
  ["T.INV.2T", ofNumbers(2, 2, (p, degrees) => tBothInverse(p!, degrees!))],
  ["TINV", older("T.INV.2T", 2, 2)],
  [
    "BETA.DIST",
    ofNumbers(4, 6, (x, a, b, isBelow, low = 0, high = 1) =>
      betaDistribution(x!, a!, b!, isBelow!, low, high)
    ),
  ],
  [
    "BETADIST",
    ofNumbers(3, 5, (x, a, b, low = 0, high = 1) => betaDistribution(x!, a!, b!, 1, low, high)),
  ],
  ["BETA.INV", ofNumbers(3, 5, (p, a, b, low = 0, high = 1) => betaInverse(p!, a!, b!, low, high))],
  ["BETAINV", older("BETA.INV", 3, 5)],
  ["BINOM.DIST", ofNumbers(4, 4, (hits, trials, p, b) => binomial(hits!, trials!, p!, b!))],
  ["BINOMDIST", older("BINOM.DIST", 4, 4)],
  [
    "BINOM.DIST.RANGE",
    ofNumbers(3, 4, (of, p, from, to = from!) => {
      const [trials, low, high] = [Math.trunc(of!), Math.trunc(from!), Math.trunc(to)];
      if (low < 0 || high < low || high > trials || p! < 0 || p! > 1) return NUM;
      const under = low === 0 ? 0 : binomialBelow(low - 1, trials, p!);
      return low === high ? binomial(low, trials, p!, 0) : binomialBelow(high, trials, p!) - under;
    }),
  ],
  ["BINOM.INV", ofNumbers(3, 3, (trials, p, wanted) => binomialInverse(trials!, p!, wanted!))],
  ["CRITBINOM", older("BINOM.INV", 3, 3)],
  ["POISSON.DIST", ofNumbers(3, 3, (count, mean, b) => poisson(count!, mean!, b!))],
  ["POISSON", older("POISSON.DIST", 3, 3)],
  [
    "NEGBINOM.DIST",
    ofNumbers(4, 4, (failures, hits, p, b) => negativeBinomial(failures!, hits!, p!, b!)),
  ],
  ["NEGBINOMDIST", older("NEGBINOM.DIST", 3, 3, exactly)],
  ["HYPGEOMDIST", older("HYPGEOM.DIST", 4, 4, exactly)],
  ["EXPONDIST", older("EXPON.DIST", 3, 3)],
  ["WEIBULL", older("WEIBULL.DIST", 4, 4)],
  [
    "LOGNORM.DIST",
    ofNumbers(4, 4, (x, mean, deviation, isBelow) => {
      if (x! <= 0 || deviation! <= 0) return NUM;
      const answer = normal(Math.log(x!), mean!, deviation!, isBelow!);
      return typeof answer === "string" || isBelow ? answer : answer / x!;
    }),
  ],
  [
    "LOGNORM.INV",
    ofNumbers(3, 3, (p, mean, deviation) => {
      const z = normalInverse(p!);
      return typeof z === "string" || deviation! <= 0 ? NUM : Math.exp(mean! + z * deviation!);
    }),
  ],
  ["VARA", older("VAR.S", 1, 255, countingAll)],
  ["VARPA", older("VAR.P", 1, 255, countingAll)],
  ["STDEVA", older("STDEV.S", 1, 255, countingAll)],
  ["STDEVPA", older("STDEV.P", 1, 255, countingAll)],
  ["LOGNORMDIST", older("LOGNORM.DIST", 3, 3, below)],
  ["LOGINV", older("LOGNORM.INV", 3, 3)],
  ["COVAR", older("COVARIANCE.P", 2, 2)],
  ["PEARSON", older("CORREL", 2, 2)],
  [
    "PERMUTATIONA",
    ofNumbers(2, 2, (of, chosen) => {
      const [n, k] = [Math.trunc(of!), Math.trunc(chosen!)];
      return n < 0 || k < 0 ? NUM : n ** k;
    }),
  ],
  ["BESSELJ", ofNumbers(2, 2, bessel("j", false))],
  ["BESSELI", ofNumbers(2, 2, bessel("i", false))],
  ["BESSELK", ofNumbers(2, 2, bessel("k", true))],
  ["BESSELY", ofNumbers(2, 2, bessel("y", true))],
]);
