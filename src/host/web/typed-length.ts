/** Lengths as people type them into a cell, which a spreadsheet would take for days of the year or plain numbers. */

/** Fractions of a tape: halves to sixty-fourths. */
const BELOW = "(?:2|4|8|16|32|64)";
/** 5/8, 1-7/8, 1 7/8, 11 1/2: fractions of an inch. */
const FRACTION = new RegExp(`^(?:(\\d{1,4})(?: ?- ?| +))?(\\d{1,2}) ?/ ?(${BELOW})$`);
/** 24', 6'6, 1/2": a mark of feet or inches, straight or curly, behind a figure. */
const MARK = /[\d½¼¾⅛⅜⅝⅞₀-₉]\s*['’′"”″]/;
/** 10-6: feet and inches below a foot, which the functions ask back about. */
const DASHED = /^\d{1,3} ?- ?(?:\d|1[01])$/;

function isFraction(text: string): boolean {
  const match = FRACTION.exec(text);
  if (!match) return false;
  const [, , above, below] = match;
  return Number(above) > 0 && Number(above) < Number(below);
}

/**
 * True for what must stay the text it is: feet would become inches, and fractions days of the year.
 * @param format the cell's number format; where it shows days or hours, 5/8 is one
 */
export function isTypedLength(typed: string, format?: string): boolean {
  const text = typed.trim();
  if (text.startsWith("=")) return false;
  return MARK.test(text) || (!isDateFormat(format) && (isFraction(text) || DASHED.test(text)));
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
