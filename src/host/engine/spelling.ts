/**
 * How formulas are spelled: as a person types them, and as a workbook file stores them.
 *
 * typed                     | in the file
 * SHEATH.CORNER_OFFSET(..)  | _xldudf_SHEATH_CORNER_OFFSET(..)   (every dot after the prefix becomes an underscore)
 * XLOOKUP(..)               | _xlfn.XLOOKUP(..)
 * FILTER(..)                | _xlfn._xlws.FILTER(..)
 * LET(a,1,a)                | _xlfn.LET(_xlpm.a,1,_xlpm.a)
 * D2#                       | _xlfn.ANCHORARRAY(D2)
 * @A1:A3                    | _xlfn.SINGLE(A1:A3)
 * Walls[@Length]            | Walls[[#This Row],[Length]]
 *
 * Source of the prefixes: the published list of future functions in the file format's extension documents
 * and public reports of files saved by the desktop program.
 */
import {
  parseFormula,
  walkFormula,
  writeAsRead,
  writeFormula,
  type FormulaNode,
} from "./formula.js";

/** Prefix of a function that an add-in provides, as the file stores it. */
const ADD_IN_PREFIX = "_xldudf_";

/** Functions stored with the prefix _xlfn. (future functions that are calculated to a single value or a spill). */
const FUTURE_FUNCTIONS: ReadonlySet<string> = new Set(
  `ACOT ACOTH AGGREGATE ARABIC ARRAYTOTEXT BASE BETA.DIST BETA.INV BINOM.DIST BINOM.DIST.RANGE BINOM.INV BITAND
  BITLSHIFT BITOR BITRSHIFT BITXOR CEILING.MATH CEILING.PRECISE CHISQ.DIST CHISQ.DIST.RT CHISQ.INV CHISQ.INV.RT
  CHISQ.TEST COMBINA CONCAT CONFIDENCE.NORM CONFIDENCE.T COT COTH COVARIANCE.P COVARIANCE.S CSC CSCH DAYS DECIMAL
  ERF.PRECISE ERFC.PRECISE EXPON.DIST F.DIST F.DIST.RT F.INV F.INV.RT F.TEST FILTERXML FLOOR.MATH FLOOR.PRECISE
  FORECAST.ETS FORECAST.ETS.CONFINT FORECAST.ETS.SEASONALITY FORECAST.ETS.STAT FORECAST.LINEAR FORMULATEXT GAMMA
  GAMMA.DIST GAMMA.INV GAMMALN.PRECISE GAUSS HYPGEOM.DIST IFNA IFS IMCOSH IMCOT IMCSC IMCSCH IMSEC IMSECH IMSINH
  IMTAN ISFORMULA ISOMITTED ISOWEEKNUM LET LOGNORM.DIST LOGNORM.INV MAXIFS MINIFS MODE.MULT MODE.SNGL MUNIT
  NEGBINOM.DIST NORM.DIST NORM.INV NORM.S.DIST NORM.S.INV NUMBERVALUE PDURATION PERCENTILE.EXC PERCENTILE.INC
  PERCENTRANK.EXC PERCENTRANK.INC PERMUTATIONA PHI POISSON.DIST QUARTILE.EXC QUARTILE.INC RANK.AVG RANK.EQ RRI SEC
  SECH SHEET SHEETS SKEW.P STDEV.P STDEV.S SWITCH T.DIST T.DIST.2T T.DIST.RT T.INV T.INV.2T T.TEST TEXTAFTER
  TEXTBEFORE TEXTJOIN UNICHAR UNICODE VALUETOTEXT VAR.P VAR.S WEBSERVICE WEIBULL.DIST XMATCH XOR Z.TEST
  BYCOL BYROW CHOOSECOLS CHOOSEROWS DROP EXPAND HSTACK LAMBDA MAKEARRAY MAP RANDARRAY REDUCE SCAN SEQUENCE SORTBY
  TAKE TEXTSPLIT TOCOL TOROW UNIQUE VSTACK WRAPCOLS WRAPROWS XLOOKUP`
    .trim()
    .split(/\s+/)
);

/** Functions stored with the prefix _xlfn._xlws. */
const SHEET_FUNCTIONS: ReadonlySet<string> = new Set(["FILTER", "SORT"]);

/**
 * Functions whose answer is a table, so that a formula without any mark is taken as one that spills. Older functions
 * that give tables (TRANSPOSE, MMULT, FREQUENCY) are not among them: unmarked they show their first value.
 */
export const ARRAY_FUNCTIONS: ReadonlySet<string> = new Set(
  `BYCOL BYROW CHOOSECOLS CHOOSEROWS DROP EXPAND FILTER HSTACK MAKEARRAY MAP RANDARRAY SCAN SEQUENCE SORT SORTBY TAKE
  TEXTSPLIT TOCOL TOROW UNIQUE VSTACK WRAPCOLS WRAPROWS`
    .trim()
    .split(/\s+/)
);

/** Function name without the prefixes that only a file has, in capitals. */
export function plainFunctionName(stored: string, namespace: string): string {
  const upper = stored.toUpperCase();
  const addIn = (ADD_IN_PREFIX + namespace + "_").toUpperCase();
  if (upper.startsWith(addIn)) return `${namespace.toUpperCase()}.${upper.slice(addIn.length)}`;
  return upper.replace(/^_XLFN\.(?:_XLWS\.)?/, "");
}

/** A stray reference to another workbook that some saved files put before an add-in function. */
const STRAY_WORKBOOK = /\[\d+\]!(?=_xldudf_)/gi;

/**
 * A stored formula as a person would type it. Text that cannot be read as a formula comes back unchanged.
 * @example typedFormula("_xldudf_SHEATH_INCHES(A1)", "SHEATH") // => "SHEATH.INCHES(A1)"
 */
export function typedFormula(stored: string, namespace: string): string {
  const source = outsideText(stored, (part) => part.replace(STRAY_WORKBOOK, ""));
  if (!source.includes("_")) return source;
  let tree: FormulaNode;
  try {
    tree = parseFormula(source);
  } catch {
    return source;
  }
  return writeFormula(source, tree, (node, write) => {
    if (node.kind === "name" && /^_xlpm\./i.test(node.name ?? "")) {
      return (node.name as string).slice(6);
    }
    if (node.kind !== "call") return undefined;
    const name = plainFunctionName(node.name as string, namespace);
    const [only] = node.children;
    if (only && node.children.length === 1) {
      if (name === "ANCHORARRAY") return `${write(only)}#`;
      if (name === "SINGLE") return `@${write(only)}`;
    }
    if (name === (node.name as string).toUpperCase()) return undefined;
    return name + writeAsRead(source, { ...node, start: node.nameEnd as number }, write);
  });
}

export interface FileSpelling {
  readonly namespace: string;
  /** names of our functions, in capitals, without the namespace */
  readonly functions: ReadonlySet<string>;
  /** the table the formula's own cell stands in, for a reference like [@Length] */
  readonly ownTable?: string | undefined;
}

/**
 * A typed formula as a file stores it.
 * @example storedFormula("SHEATH.INCHES(A1)", { namespace: "SHEATH", functions }) // => "_xldudf_SHEATH_INCHES(A1)"
 */
export function storedFormula(typed: string, spelling: FileSpelling): string {
  let tree: FormulaNode;
  try {
    tree = parseFormula(typed);
  } catch {
    return typed;
  }
  const locals = localNames(tree);
  const ours = `${spelling.namespace.toUpperCase()}.`;
  return writeFormula(typed, tree, (node, write) => {
    switch (node.kind) {
      case "name": {
        const name = (node.name as string).replace(/^_xlpm\./i, "");
        return node.sheet === undefined && locals.has(name.toUpperCase())
          ? `_xlpm.${name}`
          : undefined;
      }
      case "spill":
        return `_xlfn.ANCHORARRAY(${write(node.children[0] as FormulaNode)})`;
      case "table":
        return thisRowReference(typed.slice(node.start, node.end), spelling.ownTable);
      case "run": {
        const [only] = node.children;
        // A sign @ before a single operand; anything longer keeps its text.
        if (
          !only ||
          node.children.length !== 1 ||
          typed.slice(node.start, only.start).trim() !== "@"
        ) {
          return undefined;
        }
        return `_xlfn.SINGLE(${write(only)})`;
      }
      case "call": {
        const name = plainFunctionName(node.name as string, spelling.namespace);
        let stored = name;
        if (name.startsWith(ours) && spelling.functions.has(name.slice(ours.length))) {
          stored = ADD_IN_PREFIX + name.replace(/\./g, "_");
        } else if (SHEET_FUNCTIONS.has(name)) stored = `_xlfn._xlws.${name}`;
        else if (FUTURE_FUNCTIONS.has(name)) stored = `_xlfn.${name}`;
        else if (locals.has(name)) stored = `_xlpm.${node.name as string}`;
        else stored = node.name as string;
        return stored + writeAsRead(typed, { ...node, start: node.nameEnd as number }, write);
      }
      default:
        return undefined;
    }
  });
}

/**
 * A reference to the row of its own cell in the long form, which files store and the calculation library reads:
 * Walls[@Length] is Walls[[#This Row],[Length]]. Undefined where the reference is not of that kind.
 */
export function thisRowReference(text: string, ownTable: string | undefined): string | undefined {
  const open = text.indexOf("[");
  const table = text.slice(0, open) || (ownTable ?? "");
  const inner = text.slice(open + 1, -1).trim();
  if (!inner.startsWith("@")) return text.startsWith("[") && ownTable ? ownTable + text : undefined;
  const columns = inner.slice(1).trim();
  if (columns === "") return `${table}[#This Row]`;
  return `${table}[[#This Row],${columns.startsWith("[") ? columns : `[${columns}]`}]`;
}

/** Names that LET and LAMBDA give to values inside a formula, in capitals. */
export function localNames(tree: FormulaNode): ReadonlySet<string> {
  const names = new Set<string>();
  walkFormula(tree, (node) => {
    if (node.kind !== "call") return;
    const name = (node.name as string).toUpperCase().replace(/^_XLFN\./, "");
    const last = node.children.length - 1;
    node.children.forEach((child, index) => {
      const isName = child.kind === "name" && child.sheet === undefined;
      const declares = (name === "LET" && index % 2 === 0) || name === "LAMBDA";
      if (isName && declares && index < last) {
        names.add((child.name as string).replace(/^_xlpm\./i, "").toUpperCase());
      }
    });
  });
  return names;
}

/** Applies a change to the parts of a formula that are not text in quotes. */
function outsideText(formula: string, change: (part: string) => string): string {
  return formula
    .split(/("(?:[^"]|"")*")/)
    .map((part, index) => (index % 2 === 0 ? change(part) : part))
    .join("");
}
