/**
 * CONVERT: measures in one unit and another of the same kind.
 *
 * @source ECMA-376 part 1, 18.17.7.48 (CONVERT): the names of the units and prefixes; the sizes are the international
 * definitions (foot 0.3048 m, pound 0.45359237 kg, gallon 231 cubic inches, British thermal unit of the steam tables)
 */

/** Units of a kind with their size in the kind's first; a star after a name marks what takes a prefix. */
const KINDS: Readonly<Record<string, string>> = {
  mass: `g* 1 sg 14593.90293720636 lbm 453.59237 u* 1.66053878283E-24 ozm 28.349523125 grain 0.06479891 cwt 45359.237
    shweight 45359.237 uk_cwt 50802.34544 lcwt 50802.34544 hweight 50802.34544 stone 6350.29318 ton 907184.74
    uk_ton 1016046.9088 LTON 1016046.9088 brton 1016046.9088`,
  distance: `m* 1 mi 1609.344 Nmi 1852 in 0.0254 ft 0.3048 yd 0.9144 ang* 1E-10 ell 1.143 ly* 9460730472580800
    parsec* 30856775812815532 pc* 30856775812815532 Picapt 0.000352777777777778 Pica 0.000352777777777778
    pica 0.00423333333333333 survey_mi 1609.34721869444`,
  time: `sec* 1 s* 1 yr 31557600 day 86400 d 86400 hr 3600 mn 60 min 60`,
  pressure: `Pa* 1 p* 1 atm* 101325 at* 101325 mmHg* 133.322 psi 6894.75729316836 Torr 133.322368421053`,
  force: `N* 1 dyn* 1E-5 dy* 1E-5 lbf 4.4482216152605 pond* 0.00980665`,
  energy: `J* 1 e* 1E-7 c* 4.184 cal* 4.1868 eV* 1.602176487E-19 ev* 1.602176487E-19 HPh 2684519.53769617
    hh 2684519.53769617 Wh* 3600 wh* 3600 flb 1.3558179483314 BTU 1055.05585262 btu 1055.05585262`,
  power: `W* 1 w* 1 HP 745.69987158227 h 745.69987158227 PS 735.49875`,
  magnetism: `T* 1 ga* 0.0001`,
  volume: `l* 1 L* 1 lt* 1 tsp 0.00492892159375 tspm 0.005 tbs 0.01478676478125 oz 0.0295735295625 cup 0.2365882365
    pt 0.473176473 us_pt 0.473176473 uk_pt 0.56826125 qt 0.946352946 uk_qt 1.1365225 gal 3.785411784 uk_gal 4.54609
    ang3 1E-27 barrel 158.987294928 bushel 35.23907016688 ft3 28.316846592 in3 0.016387064
    ly3 8.46786664623715E+50 m3* 1000 mi3 4168181825440.58 yd3 764.554857984 Nmi3 6352182208000
    Picapt3 4.39039566186557E-8 Pica3 4.39039566186557E-8 GRT 2831.6846592 regton 2831.6846592 MTON 1132.67386368`,
  area: `m2* 1 uk_acre 4046.8564224 us_acre 4046.87260987425 ang2 1E-20 ar* 100 ft2 0.09290304 ha 10000 in2 0.00064516
    ly2 8.95054210748189E+31 Morgen 2500 mi2 2589988.110336 Nmi2 3429904 Picapt2 1.24452160493827E-7
    Pica2 1.24452160493827E-7 yd2 0.83612736`,
  information: `bit* 1 byte* 8`,
  speed: `m/s* 1 m/sec* 1 m/h* 0.000277777777777778 m/hr* 0.000277777777777778 kn 0.514444444444444
    admkn 0.514773333333333 mph 0.44704`,
};

/** Temperatures: kelvins to a degree, and the kelvins of degree 0. */
const TEMPERATURES: Readonly<Record<string, readonly [scale: number, zero: number]>> = {
  C: [1, 273.15],
  cel: [1, 273.15],
  F: [5 / 9, 459.67 * (5 / 9)],
  fah: [5 / 9, 459.67 * (5 / 9)],
  K: [1, 0],
  kel: [1, 0],
  Rank: [5 / 9, 0],
  Reau: [1.25, 273.15],
};

const PREFIXES: Readonly<Record<string, number>> = {
  Y: 1e24,
  Z: 1e21,
  E: 1e18,
  P: 1e15,
  T: 1e12,
  G: 1e9,
  M: 1e6,
  k: 1e3,
  h: 1e2,
  da: 10,
  e: 10,
  d: 0.1,
  c: 0.01,
  m: 1e-3,
  u: 1e-6,
  n: 1e-9,
  p: 1e-12,
  f: 1e-15,
  a: 1e-18,
  z: 1e-21,
  y: 1e-24,
};
/** Prefixes of bits and bytes: powers of 1024. */
const BINARY = ["ki", "Mi", "Gi", "Ti", "Pi", "Ei", "Zi", "Yi"];

interface Unit {
  readonly kind: string;
  readonly size: number;
  readonly takesPrefix: boolean;
}

const UNITS = new Map<string, Unit>();
for (const [kind, list] of Object.entries(KINDS)) {
  const words = list.split(/\s+/);
  for (let index = 0; index < words.length; index += 2) {
    const name = words[index] as string;
    const takesPrefix = name.endsWith("*");
    const unit = { kind, size: Number(words[index + 1]), takesPrefix };
    const plain = takesPrefix ? name.slice(0, -1) : name;
    UNITS.set(plain, unit);
    // m^3 is m3
    if (/[a-z][23]$/i.test(plain)) UNITS.set(plain.replace(/([23])$/, "^$1"), unit);
  }
}

function unitNamed(name: string): Unit | undefined {
  const known = UNITS.get(name);
  if (known) return known;
  for (const length of [1, 2]) {
    const unit = UNITS.get(name.slice(length));
    if (!unit?.takesPrefix) continue;
    const prefix = name.slice(0, length);
    const power = /\^?([23])$/.exec(name)?.[1];
    const binary = BINARY.indexOf(prefix);
    const factor =
      unit.kind === "information" && binary >= 0 ? 1024 ** (binary + 1) : PREFIXES[prefix];
    if (factor !== undefined) return { ...unit, size: unit.size * factor ** Number(power ?? 1) };
  }
  return undefined;
}

function kelvins(name: string): readonly [scale: number, zero: number] | undefined {
  if (Object.hasOwn(TEMPERATURES, name)) return TEMPERATURES[name];
  const found = /^(da|[A-Za-z])(K|kel)$/.exec(name);
  const factor = found && PREFIXES[found[1] as string];
  return factor ? [factor, 0] : undefined;
}

/**
 * A measure in another unit.
 * @returns undefined where a unit is not known or they are not of one kind
 * @example converted(622.3, "mm", "in") // => 24.5
 */
export function converted(value: number, from: string, to: string): number | undefined {
  const [warm, cold] = [kelvins(from), kelvins(to)];
  if (warm && cold) return from === to ? value : (value * warm[0] + warm[1] - cold[1]) / cold[0];
  const [one, other] = [unitNamed(from), unitNamed(to)];
  if (!one || one.kind !== other?.kind) return undefined;
  return (value * one.size) / other.size;
}
