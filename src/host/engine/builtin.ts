/** The built-in functions by name: our own bodies before those of the calculation library. */
import { bounded } from "./bounds.js";
import type { ValueFunction } from "./code.js";
import { shownNumber } from "./decimal.js";
import { DATES } from "./dates.js";
import { FINANCE } from "./finance.js";
import { libraryFunction, type NativeFunction } from "./library.js";
import { lifted, rangeArguments } from "./lift.js";
import { NATIVE_FUNCTIONS } from "./natives.js";
import { mapCells } from "./operators.js";
import { STATISTICS } from "./statistics.js";
import { NUMBER, numberValue, type RuntimeScalar } from "./runtime.js";

/** Functions that take tables by their nature, so that ranges in them mean all their cells in a plain formula too. */
const TAKES_TABLES: ReadonlySet<string> = new Set(
  `SUMPRODUCT MMULT MDETERM MINVERSE LOOKUP TRANSPOSE CORREL PEARSON COVAR COVARIANCE.P COVARIANCE.S SLOPE INTERCEPT RSQ
  STEYX FORECAST FORECAST.LINEAR SUMX2MY2 SUMX2PY2 SUMXMY2 MODE MODE.SNGL MODE.MULT PROB T.TEST TTEST F.TEST FTEST
  CHISQ.TEST CHITEST FREQUENCY GROWTH TREND LINEST LOGEST FILTER SORT SORTBY UNIQUE XLOOKUP XMATCH TOCOL TOROW
  CHOOSEROWS CHOOSECOLS VSTACK HSTACK WRAPROWS WRAPCOLS EXPAND TAKE DROP ARRAYTOTEXT`.split(/\s+/)
);

/** Functions of text: a number among their arguments is the text a cell shows for it. */
const TAKES_TEXT: ReadonlySet<string> = new Set(
  `LEN LENB LEFT LEFTB RIGHT RIGHTB MID MIDB UPPER LOWER PROPER TRIM CLEAN SUBSTITUTE REPLACE REPLACEB FIND FINDB SEARCH
  SEARCHB REPT EXACT CONCAT CONCATENATE TEXTJOIN TEXTBEFORE TEXTAFTER TEXTSPLIT VALUETOTEXT ARRAYTOTEXT`.split(
    /\s+/
  )
);

function withShownNumbers({ minArity, maxArity, invoke }: NativeFunction): NativeFunction {
  const shown = (scalar: RuntimeScalar): RuntimeScalar =>
    scalar.kind === NUMBER ? numberValue(shownNumber(scalar.value as number)) : scalar;
  return { minArity, maxArity, invoke: (args) => invoke(args.map((arg) => mapCells(arg, shown))) };
}

const known = new Map<string, ValueFunction | undefined>();

/** A built-in function by its name in capitals. */
export function builtIn(name: string): ValueFunction | undefined {
  if (known.has(name)) return known.get(name);
  const ours = [NATIVE_FUNCTIONS, STATISTICS, FINANCE, DATES].find((each) => each.has(name));
  const plain = ours?.get(name) ?? libraryFunction(name);
  const body = plain && bounded(name, plain);
  const isRange = rangeArguments(name);
  const called: ValueFunction | undefined = body && {
    ...lifted(name, TAKES_TEXT.has(name) ? withShownNumbers(body) : body),
    argument: (index) => (isRange(index) ? "range" : "value"),
    takesTables: TAKES_TABLES.has(name),
  };
  known.set(name, called);
  return called;
}
