/** Slips to look for in the arguments of a call that has an answer: said beside it, never changing it. */
import { SHORT_WALL_IN } from "../core/house/checks.js";
import { parseLength, inchText } from "../core/units.js";

/** The arguments by name, as the cells hold them; what a slip says, where it finds one. */
export type Slip = (given: ReadonlyMap<string, unknown>) => string | undefined;

/** Longer and higher than these, a plain number is no count of feet; common practice, no source. */
const LIKELY_FEET: Readonly<Record<string, number>> = { length: SHORT_WALL_IN, height: 20 };
/** A nail that goes less than this into the stud holds nothing; common practice, no source. */
const LEAST_PENETRATION_IN = 1;
/** A wood panel of a wall is no thicker; common practice, no source. */
const MOST_PANEL_IN = 1;

function inches(given: unknown): number | undefined {
  try {
    return parseLength("", given);
  } catch {
    return undefined;
  }
}

/** Lengths given as bare numbers, every one of them so small that feet were meant. */
export function feetForInches(...names: string[]): Slip {
  return (given) => {
    const values = names.map((name) => [name, given.get(name)] as const);
    const areFeet = values.every(
      ([name, value]) =>
        typeof value === "number" &&
        value > 0 &&
        value < (LIKELY_FEET[name] ?? 0) &&
        Number.isInteger(value)
    );
    if (!areFeet) return undefined;
    const shown = values.map(([, value]) => String(value));
    const [look, feet] = [shown.join(" and "), shown.map((each) => `${each}'`).join(" and ")];
    return `${look} look${shown.length === 1 ? "s" : ""} like feet and ${shown.length === 1 ? "is" : "are"} taken as inches: did you mean ${feet}?`;
  };
}

/** A thickness where a penetration belongs: foam and panel typed one after the other. */
export function notAThickness(foam: string, panel: string): Slip {
  return (given) => {
    const [first, second] = [foam, panel].map((name) => inches(given.get(name)));
    if (first === undefined || second === undefined || second >= LEAST_PENETRATION_IN) {
      return undefined;
    }
    const [one, other] = [first, second].map((each) => inchText(each, 64).replace(" ", "-"));
    return `${other} is a thickness, not a penetration: did you mean NAIL_LENGTH(PANEL_THICKNESS("${one}", "${other}"))?`;
  };
}

/** Foam and panel in each other's place. */
export function swapped(foam: string, panel: string): Slip {
  return (given) => {
    const [foamIn, panelIn] = [foam, panel].map((name) => inches(given.get(name)));
    if (foamIn === undefined || panelIn === undefined) return undefined;
    if (panelIn <= MOST_PANEL_IN || foamIn >= panelIn) return undefined;
    return `${panel} is thicker than ${foam}: are the two in each other's place?`;
  };
}
