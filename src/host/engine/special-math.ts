/**
 * The functions that distributions are made of: error function, gamma, incomplete gamma and beta.
 *
 * @source NIST Digital Library of Mathematical Functions, chapters 5 (gamma), 7 (error function) and 8 (incomplete gamma
 * and beta); equation numbers stand beside the code
 */

/** Steps of a series or fraction after which it is as good as it gets. */
const MOST_STEPS = 10_000;
const TINY = 1e-300;
const EPSILON = 1e-16;

/** Coefficients of Lanczos's approximation for g = 607/128, 15 terms. */
const LANCZOS = [
  0.99999999999999709182, 57.156235665862923517, -59.597960355475491248, 14.136097974741747174,
  -0.49191381609762019978, 0.33994649984811888699e-4, 0.46523628927048575665e-4,
  -0.98374475304879564677e-4, 0.15808870322491248884e-3, -0.21026444172410488319e-3,
  0.2174396181152126432e-3, -0.16431810653676389022e-3, 0.84418223983852743293e-4,
  -0.2619083840158140867e-4, 0.36899182659531622704e-5,
];

/** Natural logarithm of the gamma function of a positive number. */
export function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const y = x - 1;
  let sum = LANCZOS[0] as number;
  for (let k = 1; k < LANCZOS.length; k++) sum += (LANCZOS[k] as number) / (y + k);
  const t = y + 607 / 128 + 0.5;
  return 0.5 * Math.log(2 * Math.PI) + (y + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** x^a e^-x / gamma(a), the density that both incomplete gammas share. */
function gammaWeight(a: number, x: number): number {
  return Math.exp(a * Math.log(x) - x - logGamma(a));
}

/** Regularized incomplete gammas: below and above x (8.11.4, and the fraction 8.9.2). */
export function incompleteGamma(a: number, x: number): { below: number; above: number } {
  if (x <= 0) return { below: 0, above: 1 };
  const weight = gammaWeight(a, x);
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < MOST_STEPS && term > sum * EPSILON; n++) {
      term *= x / (a + n);
      sum += term;
    }
    const below = sum * weight;
    return { below, above: 1 - below };
  }
  let b = x + 1 - a;
  let c = 1 / TINY;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < MOST_STEPS; n++) {
    const an = -n * (n - a);
    b += 2;
    d = 1 / (an * d + b || TINY);
    c = b + an / c || TINY;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < EPSILON) break;
  }
  const above = h * weight;
  return { below: 1 - above, above };
}

/** Regularized incomplete beta (8.17.22). */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(
    logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x)
  );
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1) || TINY);
  let h = d;
  for (let m = 1; m < MOST_STEPS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d || TINY);
    c = 1 + even / c || TINY;
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d || TINY);
    c = 1 + odd / c || TINY;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < EPSILON) break;
  }
  return (front * h) / a;
}

/** Error function (7.11.1). */
export function erf(x: number): number {
  const { below } = incompleteGamma(0.5, x * x);
  return x < 0 ? -below : below;
}

/** 1 less the error function, exact where it is near 0 (7.11.2). */
export function erfc(x: number): number {
  return x < 0 ? 1 + incompleteGamma(0.5, x * x).below : incompleteGamma(0.5, x * x).above;
}

/** Share of the standard normal distribution below z. */
export function normalBelow(z: number): number {
  return 0.5 * erfc(-z / Math.SQRT2);
}

/**
 * The x between two bounds at which a growing function reaches a value: by halving, to the last digit.
 */
export function inverse(
  of: (x: number) => number,
  value: number,
  low: number,
  high: number
): number {
  let [from, to] = [low, high];
  for (let step = 0; step < 2000; step++) {
    const middle = from + (to - from) / 2;
    if (middle <= from || middle >= to) break;
    if (of(middle) < value) from = middle;
    else to = middle;
  }
  return from + (to - from) / 2;
}
