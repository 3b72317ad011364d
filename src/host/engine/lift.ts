/**
 * Which arguments of a built-in function are ranges, and which are single values.
 *
 * A function that takes a single value answers with a table where it gets one: LEN({"a","bb"}) is {1,2}. The bodies of
 * the calculation library know only single values, so they are called cell by cell here. A range argument, the other
 * way round, is a table even where it is one cell.
 */
import type { NativeFunction } from "./library.js";
import {
  arrayValue,
  BLANK,
  errorValue,
  ERROR,
  isArray,
  NUMBER,
  type RuntimeScalar,
  type RuntimeValue,
} from "./runtime.js";

type IsRange = (index: number) => boolean;

const at =
  (...positions: number[]): IsRange =>
  (index) =>
    positions.includes(index);
const from =
  (first: number): IsRange =>
  (index) =>
    index >= first;
const every: IsRange = () => true;

/** Functions with range arguments; every argument of any other function is a single value. */
const RANGES: ReadonlyMap<string, IsRange> = new Map<string, IsRange>([
  // Among these a single value counts otherwise than a range of one cell: SUM("5") is 5, SUM of a cell with it 0.
  ...names(
    `SUM AVERAGE MIN MAX COUNT COUNTA PRODUCT SUMSQ MEDIAN STDEV STDEV.S STDEVP STDEV.P VAR VAR.S VARP VAR.P STDEVA
    STDEVPA VARA VARPA MODE MODE.SNGL MODE.MULT GEOMEAN HARMEAN DEVSQ AVEDEV AVERAGEA MAXA MINA SKEW SKEW.P KURT GCD LCM
    MULTINOMIAL CONCAT TEXTJOIN AND OR XOR IMSUM IMPRODUCT SUBTOTAL AGGREGATE TYPE TEXTSPLIT SEQUENCE RANDARRAY MUNIT`,
    every
  ),
  ...names(
    `COUNTBLANK SUMPRODUCT MMULT MDETERM MINVERSE CORREL PEARSON SLOPE INTERCEPT RSQ STEYX COVAR COVARIANCE.P
    COVARIANCE.S F.TEST FTEST CHISQ.TEST CHITEST FREQUENCY GROWTH TREND LINEST LOGEST SUMX2MY2 SUMX2PY2 SUMXMY2
    TRANSPOSE FILTER SORT UNIQUE SORTBY TOCOL TOROW CHOOSEROWS CHOOSECOLS VSTACK HSTACK WRAPROWS WRAPCOLS EXPAND TAKE
    DROP DSUM DAVERAGE DCOUNT DCOUNTA DMAX DMIN DPRODUCT DGET DSTDEV DSTDEVP DVAR DVARP ARRAYTOTEXT`,
    from(0)
  ),
  ...names("MATCH XMATCH VLOOKUP HLOOKUP RANK RANK.EQ RANK.AVG FVSCHEDULE", at(1)),
  ...names("XLOOKUP", at(1, 2, 3)),
  ...names("LOOKUP FORECAST FORECAST.LINEAR XNPV", at(1, 2)),
  ...names(
    `LARGE SMALL PERCENTILE PERCENTILE.INC PERCENTILE.EXC QUARTILE QUARTILE.INC QUARTILE.EXC PERCENTRANK
    PERCENTRANK.INC PERCENTRANK.EXC TRIMMEAN Z.TEST ZTEST IRR MIRR INDEX`,
    at(0)
  ),
  ...names("PROB T.TEST TTEST XIRR", at(0, 1)),
  ...names("NPV", from(1)),
  ...names("SERIESSUM NETWORKDAYS.INTL WORKDAY.INTL", at(3)),
  ...names("NETWORKDAYS WORKDAY", at(2)),
  // A list of separators is one argument.
  ...names("TEXTBEFORE TEXTAFTER", at(1)),
]);

function names(list: string, isRange: IsRange): [string, IsRange][] {
  return list.split(/\s+/).map((name) => [name, isRange]);
}

const NONE: IsRange = () => false;

/** Which arguments of a function are ranges. */
export function rangeArguments(name: string): IsRange {
  return RANGES.get(name) ?? NONE;
}

/** A function that takes its single values from tables cell by cell; what no cell can hold is #NUM!. */
export function lifted(
  name: string,
  { minArity, maxArity, invoke }: NativeFunction
): NativeFunction {
  const isRange = rangeArguments(name);
  return {
    minArity,
    maxArity,
    invoke: (args) => {
      const shaped = args.map((arg, index) =>
        isRange(index) && isRange !== every && !isArray(arg) && !isMissing(arg)
          ? arrayValue([[arg]])
          : arg
      );
      const tables = shaped.filter((arg, index) => isArray(arg) && !isRange(index));
      if (tables.length === 0) return finite(invoke(shaped));
      return eachCell(
        shaped,
        (index) => !isRange(index),
        (call) => topLeft(finite(invoke(call)))
      );
    },
  };
}

/** An error, or an argument left out. */
function isMissing({ kind }: RuntimeValue): boolean {
  return kind === ERROR || kind === BLANK;
}

/** Calls a function for each cell of the tables among some arguments; a table of one row or column is repeated. */
export function eachCell(
  args: readonly RuntimeValue[],
  isScalar: (index: number) => boolean,
  call: (args: RuntimeValue[]) => RuntimeScalar
): RuntimeValue {
  const tables = args.filter((_, index) => isScalar(index)).filter(isArray);
  const height = Math.max(...tables.map((table) => table.height));
  const width = Math.max(...tables.map((table) => table.width));
  const rows = Array.from({ length: height }, (_, row) =>
    Array.from({ length: width }, (_unused, column) =>
      call(
        args.map((arg, index) => {
          if (!isScalar(index) || !isArray(arg)) return arg;
          const cells = arg.rows[arg.height === 1 ? 0 : row];
          return cells?.[arg.width === 1 ? 0 : column] ?? errorValue("#N/A");
        })
      )
    )
  );
  const placed = tables.find((table) => table.originRow !== undefined);
  return placed?.originRow === undefined || placed.originCol === undefined
    ? arrayValue(rows)
    : { ...arrayValue(rows), originRow: placed.originRow, originCol: placed.originCol };
}

/** The value itself, or the first cell of a table. */
export function topLeft(value: RuntimeValue): RuntimeScalar {
  return isArray(value) ? (value.rows[0]?.[0] ?? errorValue("#CALC!")) : value;
}

/** Infinity and what is no number at all are #NUM!, in tables too. */
export function finite(value: RuntimeValue): RuntimeValue {
  if (!isArray(value)) return isFiniteScalar(value) ? value : errorValue("#NUM!");
  if (value.rows.every((row) => row.every(isFiniteScalar))) return value;
  const rows = value.rows.map((row) =>
    row.map((cell) => (isFiniteScalar(cell) ? cell : errorValue("#NUM!")))
  );
  return { ...value, rows };
}

function isFiniteScalar({ kind, value }: RuntimeScalar): boolean {
  return kind !== NUMBER || Number.isFinite(value);
}
