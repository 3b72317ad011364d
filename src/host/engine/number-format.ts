/** Number formats and the dates and times that text spells; the work is done by the numfmt library. */
import { format, parseDate, parseTime } from "numfmt";
import { formatPlaces } from "./natives.js";
import { roundDecimal, shownNumber } from "./decimal.js";
import { countsFrom1904 } from "./library.js";

/** Days between the two ways of counting. */
const DAYS_TO_1904 = 1462;
/** True where a format shows a day, month or year; times and hours that have passed count from 0 either way. */
function showsCalendar(pattern: string): boolean {
  const plain = pattern.replace(
    /"[^"]*"|\\.|_.|\*.|\[[^\]]*\]|general|AM\/PM|A\/P|0[eE][+-]/gi,
    ""
  );
  return /[ydb]|e+/i.test(plain) || (/m/i.test(plain) && !/[hs]/i.test(plain));
}

/** A number in a format. @throws where the format is none, or the number no date it can show */
export function formatNumber(value: number, pattern: string): string {
  if (pattern === "") return "";
  const places = formatPlaces(pattern);
  let number = places === undefined ? shownNumber(value) : roundDecimal(value, places, "half");
  if (showsCalendar(pattern) && countsFrom1904()) number += DAYS_TO_1904;
  return format(pattern, number, { throws: true, dateErrorThrows: true, dateSpanLarge: false });
}

/** Text in a format: its fourth part. */
export function formatText(text: string, pattern: string): string {
  return format(pattern, text, { throws: true });
}

/** The day number of a date with its year, or of a time; undefined where a text is neither. */
export function dateNumber(text: string): number | undefined {
  const trimmed = text.trim();
  const hasYear = /\d{4}/.test(trimmed) || /\d+[/-](?:\d+|[a-z]{3,})[/-]\d+/i.test(trimmed);
  const [, day = trimmed, time] =
    /^(.*?\d)[T ]+(\d{1,2}:\d.*)$/i.exec(trimmed) ?? (hasYear ? [] : ["", "", trimmed]);
  const date = day === "" ? 0 : hasYear ? numberIn(parseDate(day)) : undefined;
  const hours = time === undefined ? 0 : /:/.test(time) ? numberIn(parseTime(time)) : undefined;
  if (date === undefined || hours === undefined) return undefined;
  return (day !== "" && countsFrom1904() ? date - DAYS_TO_1904 : date) + hours;
}

function numberIn(parsed: { v: unknown } | null): number | undefined {
  return typeof parsed?.v === "number" ? parsed.v : undefined;
}
