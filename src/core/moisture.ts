/**
 * Water vapor in a wall: saturation pressure, dew point, and how warm the foam keeps its inner face.
 */
import { checkChoice, checkNumber, notCovered } from "./check.js";
import { LIMITS } from "./limits.js";
import { checkCavityR, checkLayerR } from "./thermal.js";

/** 0 deg F on the absolute scale, deg R; ASHRAE Fundamentals 2017 chapter 1. */
const ZERO_FAHRENHEIT_RANKINE = 459.67;
/** Ice below, water from here up, deg F; limits of equations 5 and 6. */
const FREEZING_F = 32;
/** Range of equations 5 and 6 together, deg F. */
const COLDEST_F = -148;
const HOTTEST_F = 392;

/** ASHRAE Fundamentals 2017 chapter 1 equation 5: ln(psia) over ice, absolute temperature in deg R. */
const OVER_ICE = [
  -1.0214165e4, -4.8932428, -5.3765794e-3, 1.9202377e-7, 3.5575832e-10, -9.0344688e-14, 4.1635019,
] as const;
/** ASHRAE Fundamentals 2017 chapter 1 equation 6: ln(psia) over water, absolute temperature in deg R. */
const OVER_WATER = [
  -1.0440397e4, -1.129465e1, -2.7022355e-2, 1.289036e-5, -2.4780681e-9, 0, 6.5459673,
] as const;

function pressureBy(c: typeof OVER_ICE | typeof OVER_WATER, temperatureF: number): number {
  const t = temperatureF + ZERO_FAHRENHEIT_RANKINE;
  return Math.exp(
    c[0] / t + c[1] + c[2] * t + c[3] * t * t + c[4] * t ** 3 + c[5] * t ** 4 + c[6] * Math.log(t)
  );
}

/**
 * Saturation pressure of water vapor: over ice below 32 deg F, over water from there up.
 *
 * @param temperatureF temperature, deg F; -148 to 392
 * @returns pressure, psia, not rounded
 * @shape   one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the equations' range
 * @source  ASHRAE Fundamentals 2017 chapter 1, equations 5 (ice) and 6 (water)
 * @example saturationPressure(212) // => 14.7095333837
 * @since   0.1.0
 */
export function saturationPressure(temperatureF: number): number {
  const t = checkNumber("temperature_f", temperatureF, {
    min: COLDEST_F,
    max: HOTTEST_F,
    unit: "deg F",
  });
  return pressureBy(t < FREEZING_F ? OVER_ICE : OVER_WATER, t);
}

/** Where the air is: room air is held to the temperatures of a heated room. */
export const AIR_PLACES = ["room", "outdoors"] as const;
export type AirPlace = (typeof AIR_PLACES)[number];

/** A room temperature outside its limits is most often Celsius: say what it would be. */
function checkRoomF(name: string, temperatureF: unknown): number {
  return checkNumber(name, temperatureF, { ...LIMITS.roomF, hint: celsiusHint(temperatureF) });
}

function celsiusHint(temperatureF: unknown): string {
  const isLikelyCelsius =
    typeof temperatureF === "number" && temperatureF >= 5 && temperatureF <= 40;
  return isLikelyCelsius
    ? `if this is Celsius, type ${Number((temperatureF * 1.8 + 32).toPrecision(6))}`
    : "type the room's temperature in Fahrenheit, such as 70";
}

/** Indoor air of any kind, a cellar or an attic included; not below freezing, as room air in Celsius would be. */
function checkIndoorAirF(name: string, temperatureF: unknown): number {
  return checkNumber(name, temperatureF, {
    above: FREEZING_F,
    max: LIMITS.outdoorF.max,
    unit: "deg F",
    hint: `${celsiusHint(temperatureF)}; for outdoor air say "outdoors"`,
  });
}

function checkOutdoorF(name: string, temperatureF: unknown): number {
  return checkNumber(name, temperatureF, {
    ...LIMITS.outdoorF,
    hint: "type the winter design temperature in Fahrenheit, such as 5",
  });
}

function checkHumidity(humidity: unknown): number {
  const isPercent = typeof humidity === "number" && humidity > 1 && humidity <= 100;
  return checkNumber("humidity", humidity, {
    ...LIMITS.humidity,
    hint: isPercent
      ? `type ${Number((humidity / 100).toPrecision(9))} or ${Number(humidity.toPrecision(9))}%`
      : "type 0.4 or 40% for 40 percent",
  });
}

/** Bisection steps: halves the widest range to below the spacing of doubles. */
const HALVINGS = 80;

function temperatureAt(
  c: typeof OVER_ICE | typeof OVER_WATER,
  psia: number,
  from: number,
  to: number
): number {
  let low = from;
  let high = to;
  for (let step = 0; step < HALVINGS; step++) {
    const middle = (low + high) / 2;
    if (pressureBy(c, middle) > psia) high = middle;
    else low = middle;
  }
  return low === 0 ? 0 : low;
}

/**
 * Dew point of air: the temperature at which its vapor starts to condense, or to frost below 32 deg F.
 * Never more than the temperature of the air.
 *
 * @param temperatureF temperature of the air, deg F; over 32 to 130 indoors, -80 to 130 outdoors
 * @param humidity     relative humidity; more than 0, at most 1
 * @param place        "room" (the default) or "outdoors"; a room at 20 deg F is most often Celsius typed by mistake
 * @returns dew point, deg F, not rounded; frost point (over ice) below 32
 * @shape   one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above; not-covered: air so dry that the equations do not reach its dew point
 * @source  ASHRAE Fundamentals 2017 chapter 1, equations 5 and 6, inverted
 * @example dewPoint(70, 1) // => 70
 * @since   0.1.0
 */
export function dewPoint(temperatureF: number, humidity: number, place: AirPlace = "room"): number {
  const air =
    checkChoice("place", place, AIR_PLACES) === "outdoors"
      ? checkOutdoorF("temperature_f", temperatureF)
      : checkIndoorAirF("temperature_f", temperatureF);
  const share = checkHumidity(humidity);
  if (share === 1) return air;
  const psia = share * saturationPressure(air);
  if (psia < pressureBy(OVER_ICE, COLDEST_F)) {
    throw notCovered(
      `dew point is colder than ${COLDEST_F} deg F, where the published equations end; got humidity ${share}`
    );
  }
  if (psia <= pressureBy(OVER_ICE, FREEZING_F)) {
    return temperatureAt(OVER_ICE, psia, COLDEST_F, Math.min(FREEZING_F, air));
  }
  // the two equations differ by 0.01 percent at 32 deg F; a pressure between them ends at that temperature
  return temperatureAt(OVER_WATER, psia, FREEZING_F, air);
}

/** Inside film 0.68 and 1/2 in gypsum 0.45, h ft2 F/Btu; ASHRAE Fundamentals chapter 26. */
export const INSIDE_R = 1.13;
/** The panel's wood face, cladding and outside film, h ft2 F/Btu; common practice, no single source. */
export const OUTSIDE_R = 1.35;

/**
 * Temperature of the foam's inner face along the cavity path: the first cold surface that room air
 * leaking into the wall meets. Steady conditions, no framing beside it.
 *
 * @param indoorF  room temperature, deg F; 50 to 95
 * @param outdoorF outdoor temperature, deg F; -80 to 130; the winter design temperature
 * @param cavityR  R of the insulation in the stud bays, h ft2 F/Btu; 0.01 to 100
 * @param foamR    R of the foam at winter temperature, h ft2 F/Btu; 0 to 100
 * @param insideR  R of inside film and gypsum, h ft2 F/Btu; 0 to 100
 * @param outsideR R of everything outboard of the foam, h ft2 F/Btu; 0 to 100
 * @returns temperature, deg F, not rounded; between the two temperatures
 * @shape   one number
 * @throws {CalcError} wrong-kind: not a finite number; out-of-range: outside the limits above
 * @source  docs/derivations/condensing-surface.md
 * @example foamFaceTemperature(70, 20, 13, 6, 1, 5) // => 42
 * @since   0.1.0
 */
export function foamFaceTemperature(
  indoorF: number,
  outdoorF: number,
  cavityR: number,
  foamR: number,
  insideR: number = INSIDE_R,
  outsideR: number = OUTSIDE_R
): number {
  const inside = checkRoomF("indoor_f", indoorF);
  const outside = checkOutdoorF("outdoor_f", outdoorF);
  checkCavityR("cavity_r", cavityR);
  checkLayerR("foam_r", foamR);
  checkLayerR("inside_r", insideR);
  checkLayerR("outside_r", outsideR);
  const outboard = foamR + outsideR;
  const inboard = cavityR + insideR;
  return outside + (outboard / (outboard + inboard)) * (inside - outside);
}

/** The foam's inner face against the room's dew point. */
export interface CondensingSurface {
  /** inner face of the foam, deg F */
  readonly foamFaceF: number;
  /** the room's dew point, deg F */
  readonly dewPointF: number;
  /** face less dew point, deg F; at least 0 is dry */
  readonly marginF: number;
  readonly isDry: boolean;
  /** least foam R that keeps the face at the dew point, h ft2 F/Btu; 0 where none is needed; null where no foam can, the room being at its own dew point */
  readonly foamRToStayDry: number | null;
}

/**
 * Compares the foam's inner face with the room's dew point, and says how much foam R would keep it dry.
 *
 * @param indoorF  room temperature, deg F; 50 to 95
 * @param outdoorF winter design temperature, deg F; -80 to 130
 * @param humidity the room's relative humidity; more than 0, at most 1
 * @param cavityR  R of the insulation in the stud bays, h ft2 F/Btu; 0.01 to 100
 * @param foamR    R of the foam at winter temperature, h ft2 F/Btu; 0 to 100
 * @param insideR  R of inside film and gypsum, h ft2 F/Btu; 0 to 100
 * @param outsideR R of everything outboard of the foam, h ft2 F/Btu; 0 to 100
 * @returns face temperature, dew point, margin, whether it stays dry and the foam R that would
 * @shape   one record
 * @throws {CalcError} as foamFaceTemperature and dewPoint
 * @source  docs/derivations/condensing-surface.md
 * @example condensingSurface(70, 32, 0.5, 11, 14, 0, 0).isDry // => true
 * @since   0.1.0
 */
export function condensingSurface(
  indoorF: number,
  outdoorF: number,
  humidity: number,
  cavityR: number,
  foamR: number,
  insideR: number = INSIDE_R,
  outsideR: number = OUTSIDE_R
): CondensingSurface {
  const foamFaceF = foamFaceTemperature(indoorF, outdoorF, cavityR, foamR, insideR, outsideR);
  const dewPointF = dewPoint(indoorF, humidity);
  const marginF = foamFaceF - dewPointF;
  return {
    foamFaceF,
    dewPointF,
    marginF,
    isDry: marginF >= 0,
    foamRToStayDry: foamRToReach(dewPointF, indoorF, outdoorF, cavityR + insideR, outsideR),
  };
}

/** Foam R at which the face is at `faceF`, no warmer than the room: share = (foam + outside)/(foam + outside + inboard). */
function foamRToReach(
  faceF: number,
  indoorF: number,
  outdoorF: number,
  inboardR: number,
  outsideR: number
): number | null {
  if (outdoorF >= faceF) return 0;
  const share = (faceF - outdoorF) / (indoorF - outdoorF);
  // a room at its own dew point would need foam without end
  if (!(share < 1)) return null;
  return Math.max(0, (share * inboardR) / (1 - share) - outsideR);
}
