/**
 * Numbers that built-in functions take at most, where the body of the library counts up to them: a formula must end.
 */
import type { NativeFunction } from "./library.js";
import { errorValue, isArray, NUMBER, type RuntimeValue } from "./runtime.js";

/** The last day a worksheet knows: 31 December 9999. */
const LAST_DAY = 2_958_465;
/** Days, payments or draws that are counted one by one. */
const MOST_COUNTED = 1_000_000;
const MOST_PERIODS = 10_000;
/** Longest text of a cell. */
const LONGEST_TEXT = 32_767;
/** Rows of a unit table, which has as many columns. */
const LARGEST_SQUARE = 2_000;
/** Cells of a table that a function makes. */
const LARGEST_MADE = 5_000_000;

interface Bound {
  readonly places: readonly number[];
  readonly least: number;
  readonly most: number;
}

const bound = (names: string, places: readonly number[], most: number, least = -most) =>
  names.split(/\s+/).map((name): [string, Bound] => [name, { places, least, most }]);

const BOUNDS: readonly [string, Bound][] = [
  ...bound("NETWORKDAYS NETWORKDAYS.INTL", [0, 1], LAST_DAY, 0),
  ...bound("WORKDAY WORKDAY.INTL", [0], LAST_DAY, 0),
  ...bound("WORKDAY WORKDAY.INTL", [1], MOST_COUNTED),
  ...bound(
    "PRICE YIELD DURATION MDURATION COUPNCD COUPPCD COUPNUM COUPDAYSNC COUPDAYBS COUPDAYS PRICEMAT YIELDMAT",
    [0, 1],
    LAST_DAY,
    0
  ),
  ...bound("ACCRINT", [0, 1, 2], LAST_DAY, 0),
  ...bound("DB DDB", [2, 3], MOST_PERIODS),
  ...bound("VDB", [2, 3, 4], MOST_PERIODS),
  ...bound("IPMT PPMT", [1, 2], MOST_COUNTED),
  ...bound("CUMIPMT CUMPRINC", [1, 3, 4], MOST_COUNTED),
  ...bound("HYPGEOM.DIST HYPGEOMDIST", [0, 1, 2, 3], MOST_COUNTED),
  ...bound("MULTINOMIAL", [0, 1, 2, 3, 4, 5, 6, 7, 8, 9], MOST_COUNTED),
  ...bound("MUNIT", [0], LARGEST_SQUARE),
  ...bound("WRAPROWS WRAPCOLS", [1], MOST_COUNTED),
  ...bound("TEXTBEFORE TEXTAFTER", [2], LONGEST_TEXT),
  ...bound("REPT", [1], LONGEST_TEXT),
];

/** Functions that make tables of so many rows and columns, by the places of these arguments. */
const SIZES: ReadonlyMap<string, readonly [rows: number, columns: number]> = new Map([
  ["SEQUENCE", [0, 1]],
  ["RANDARRAY", [0, 1]],
  ["EXPAND", [1, 2]],
]);

function numberAt(args: readonly RuntimeValue[], place: number): number | undefined {
  const arg = args[place];
  const first = arg && isArray(arg) ? arg.rows[0]?.[0] : arg;
  return first && !isArray(first) && first.kind === NUMBER ? (first.value as number) : undefined;
}

/** The function with its numbers held within bounds; what passes them is an error that says so. */
export function bounded(name: string, body: NativeFunction): NativeFunction {
  const bounds = BOUNDS.filter(([each]) => each === name).map(([, each]) => each);
  const size = SIZES.get(name);
  if (bounds.length === 0 && !size) return body;
  return {
    ...body,
    invoke: (args) => {
      for (const { places, least, most } of bounds) {
        for (const place of places) {
          const number = numberAt(args, place);
          if (number === undefined || (number >= least && number <= most)) continue;
          const limit = number > most ? `at most ${most}` : `at least ${least}`;
          return errorValue("#NUM!", `${name} takes ${limit} here; got ${number}`);
        }
      }
      if (size) {
        const cells = (numberAt(args, size[0]) ?? 1) * (numberAt(args, size[1]) ?? 1);
        if (cells > LARGEST_MADE) {
          return errorValue("#NUM!", `${name} makes at most ${LARGEST_MADE} cells; got ${cells}`);
        }
      }
      return body.invoke(args);
    },
  };
}
