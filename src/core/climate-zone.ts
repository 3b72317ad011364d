/**
 * Climate zones as people write them.
 */
import { notCovered, shown, wrongKind } from "./check.js";

/** A climate zone of the energy code: number 0 (hottest) to 8 (coldest), letter A moist, B dry, C marine. */
export interface ClimateZone {
  readonly number: number;
  /** null where only the number was given, and in zones 7 and 8, which have no letter */
  readonly letter: "A" | "B" | "C" | null;
  /** letter C: the moisture tables call zone 4C "Marine 4" */
  readonly isMarine: boolean;
  /** the usual spelling: `5A`, `7`, `4C` */
  readonly name: string;
}

/** Zones and letters in use: ANSI/ASHRAE Standard 169-2013, the same in the 2021 energy code. */
const LETTERS: readonly (readonly ("A" | "B" | "C")[])[] = [
  ["A", "B"],
  ["A", "B"],
  ["A", "B"],
  ["A", "B", "C"],
  ["A", "B", "C"],
  ["A", "B", "C"],
  ["A", "B"],
  [],
  [],
];

/** Every zone this project knows, as it may be typed. */
export const CLIMATE_ZONES =
  "0A, 0B, 1A, 1B, 2A, 2B, 3A, 3B, 3C, 4A, 4B, 4C (Marine 4), 5A, 5B, 5C, 6A, 6B, 7, 8, or the number alone";

/** longest text that is read as a zone */
const LONGEST_TEXT = 40;

/**
 * Reads a climate zone: `5A`, `5`, `4C`, `Marine 4`, `4 marine`, `M4`, `CZ5`, `Zone 6B`, the number 5.
 * `4C` and `Marine 4` are one zone. A number alone is that zone without a letter, so `4` is not marine.
 *
 * @param climateZone zone as text, or a whole number 0 to 8
 * @returns the zone
 * @shape   one record: number, letter, isMarine, name
 * @throws {CalcError} wrong-kind: blank, TRUE/FALSE, a range; not-covered: text or a number that is no zone, with the list of zones
 * @source  ANSI/ASHRAE Standard 169-2013 zone names; the spellings are common practice
 * @example parseClimateZone("Marine 4").name // => "4C"
 * @example parseClimateZone("5a").name       // => "5A"
 * @example parseClimateZone(5).name          // => "5"
 * @since   0.1.0
 */
export function parseClimateZone(climateZone: unknown): ClimateZone {
  if (typeof climateZone === "number") {
    if (!Number.isFinite(climateZone)) {
      throw wrongKind(`climate_zone must be a zone such as 5A; got ${shown(climateZone)}`);
    }
    return zoneOf(climateZone, null, climateZone);
  }
  if (typeof climateZone !== "string" || climateZone.trim() === "") {
    throw wrongKind(`climate_zone must be a zone such as 5A; got ${shown(climateZone)}`);
  }
  // a dash joins (zone-5A); in front of a number it is a minus
  if (climateZone.length > LONGEST_TEXT || /^\s*-/.test(climateZone)) {
    throw unknownZone(climateZone);
  }
  const plain = climateZone
    .toLowerCase()
    .replace(/[\s()._\-:#]+/g, "")
    .replace(/^(iecc|ashrae)/, "")
    .replace(/^climate/, "")
    .replace(/^(zone|cz)/, "");
  const lettered = /^([0-8])([abc])?$/.exec(plain);
  if (lettered) {
    const letter =
      lettered[2] === undefined ? null : (lettered[2].toUpperCase() as "A" | "B" | "C");
    return zoneOf(Number(lettered[1]), letter, climateZone);
  }
  const marine =
    /^(?:marine|m)(?:zone)?([0-8])c?$/.exec(plain) ?? /^([0-8])c?(?:marine|m)$/.exec(plain);
  if (marine) return zoneOf(Number(marine[1]), "C", climateZone);
  const inland = /^([0-8])(?:except|not|non)marine$/.exec(plain);
  if (inland) return zoneOf(Number(inland[1]), null, climateZone);
  throw unknownZone(climateZone);
}

function zoneOf(number: number, letter: "A" | "B" | "C" | null, typed: unknown): ClimateZone {
  const letters = LETTERS[number];
  if (letters === undefined || (letter !== null && !letters.includes(letter))) {
    throw unknownZone(typed);
  }
  return {
    number: number === 0 ? 0 : number,
    letter,
    isMarine: letter === "C",
    name: `${number}${letter ?? ""}`,
  };
}

function unknownZone(typed: unknown): ReturnType<typeof notCovered> {
  return notCovered(`climate_zone must be one of ${CLIMATE_ZONES}; got ${shown(typed)}`);
}
