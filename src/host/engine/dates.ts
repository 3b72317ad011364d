/**
 * Days as worksheets number them, done again for the first sixty: there day 60 is 29 February 1900, which was none, and
 * day 1 is 1 January 1900.
 *
 * @source ECMA-376 part 1, 18.17.4.1 (the 1900 date system of worksheets)
 */
import { countsFrom1904, type NativeFunction } from "./library.js";
import { ofNumbers } from "./of-numbers.js";

const NUM = "#NUM!";
const MS_A_DAY = 86_400_000;
const DAYS_TO_1904 = 1462;
/** The day that was none. */
const LEAP_DAY = 60;
/** 31 December 9999 */
const LAST_DAY = 2_958_465;
const START = Date.UTC(1899, 11, 30);

type Part = "year" | "month" | "day";

function partOf(number: number, part: Part): number | string {
  const day = Math.floor(number) + (countsFrom1904() ? DAYS_TO_1904 : 0);
  if (day < 0 || day > LAST_DAY) return NUM;
  if (day === 0) return { year: 1900, month: 1, day: 0 }[part];
  if (day === LEAP_DAY) return { year: 1900, month: 2, day: 29 }[part];
  const date = new Date(START + (day < LEAP_DAY ? day + 1 : day) * MS_A_DAY);
  const parts = {
    year: date.getUTCFullYear(),
    month: date.getUTCMonth() + 1,
    day: date.getUTCDate(),
  };
  return parts[part];
}

function dayNumber(givenYear: number, givenMonth: number, givenDay: number): number | string {
  const [year, month, day] = [givenYear, givenMonth, givenDay].map(Math.trunc) as [
    number,
    number,
    number,
  ];
  if (year < 0 || year > 9999) return NUM;
  const first = new Date(0);
  // without a century it counts from 1900
  first.setUTCFullYear(year < 1900 ? year + 1900 : year, month - 1, 1);
  const since = Math.round((first.getTime() - START) / MS_A_DAY);
  const number = (since <= LEAP_DAY ? since - 1 : since) + day - 1;
  const counted = countsFrom1904() ? number - DAYS_TO_1904 : number;
  return counted >= 0 && number <= LAST_DAY ? counted : NUM;
}

export const DATES: ReadonlyMap<string, NativeFunction> = new Map<string, NativeFunction>([
  ["YEAR", ofNumbers(1, 1, (day) => partOf(day!, "year"))],
  ["MONTH", ofNumbers(1, 1, (day) => partOf(day!, "month"))],
  ["DAY", ofNumbers(1, 1, (day) => partOf(day!, "day"))],
  ["DATE", ofNumbers(3, 3, (year, month, day) => dayNumber(year!, month!, day!))],
]);
