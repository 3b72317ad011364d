/** Fractions as people type them into a cell, which a spreadsheet would take for a day of the year. */

/** Fractions of a tape: halves to sixty-fourths. */
const BELOW = "(?:2|4|8|16|32|64)";
/** 5/8, 1-7/8, 1 7/8, 11 1/2; what ends in a mark of feet or inches is text anyway. */
const FRACTION = new RegExp(`^(?:(\\d{1,4})(?: ?- ?| +))?(\\d{1,2}) ?/ ?(${BELOW})$`);

/** True for a fraction of an inch: less than one, with a denominator that is on a tape. */
export function isTypedFraction(text: string): boolean {
  const match = FRACTION.exec(text.trim());
  if (!match) return false;
  const [, , above, below] = match;
  return Number(above) > 0 && Number(above) < Number(below);
}

/** True where a number format shows days or hours: what is typed there may well be a date. */
export function isDateFormat(pattern: string | undefined): boolean {
  if (pattern === undefined) return false;
  const plain = pattern.replace(/"[^"]*"|\\.|\[[^\]]*\]/g, "");
  return /[dyhs]|m{1,5}/i.test(plain) && !/general/i.test(plain);
}

/** True where what is typed stays the text it is. */
export function isTextFormat(pattern: string | undefined): boolean {
  return pattern === "@" || pattern === "@@@";
}
