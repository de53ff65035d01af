// What a spreadsheet shows a number as (the number, a percentage, a date, a time), and what it calls a column.

const between = (from, to) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

/** The formats that go by a number alone (ECMA-376, part 1, 18.8.30). */
const BUILT_IN = new Map([
  ...[9, 10].map((id) => [id, "percent"]),
  ...[...between(14, 17), 22, ...between(27, 31), 36, ...between(50, 54), 57, 58].map((id) => [id, "date"]),
  ...[...between(18, 21), ...between(32, 35), 55, 56].map((id) => [id, "time"]),
  ...between(45, 47).map((id) => [id, "span"]),
]);

/** What a format shows numbers as, by the number of the format and, where it has one, its code. */
export function shownAs(id, code) {
  if (code === undefined) return BUILT_IN.get(id) ?? "number";
  // Quoted words, single letters that are escaped, and what stands for the room of a letter mean nothing.
  const first = code.replace(/"[^"]*"|\\.|_.|\*./g, "").split(";")[0];
  if (/\[(h+|m+|s+)\]/i.test(first)) return "span";
  const plain = first.replace(/\[[^\]]*\]/g, "").replace(/am\/pm|a\/p/gi, "h");
  if (plain.includes("%")) return "percent";
  if (/general/i.test(plain)) return "number";
  if (/[yd]/i.test(plain)) return "date";
  if (/[hs]/i.test(plain)) return "time";
  return /m/i.test(plain) ? "date" : "number";
}

const DAY = 86400;
const two = (number) => String(number).padStart(2, "0");

/** Days from the first one of 1970 back to the one that a workbook counts from. */
const START = { 1900: 25569, 1904: 24107 };

/** A number of days as the date that a spreadsheet shows, by the clock of whoever wrote it. */
export function dateText(days, since) {
  // There was no 29th of February in 1900, but workbooks count one.
  const true_ = since === 1900 && days < 61 ? days + 1 : days;
  const seconds = Math.round((true_ - START[since]) * DAY);
  const [date, clock] = new Date(seconds * 1000).toISOString().slice(0, 19).split("T");
  return clock === "00:00:00" ? date : `${date} ${clock.replace(/:00$/, "")}`;
}

/** A part of a day, or a span of hours, as a clock shows it. */
export function clockText(days) {
  const seconds = Math.round(days * DAY);
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor((seconds % 3600) / 60), seconds % 60];
  return `${two(h)}:${two(m)}${s ? `:${two(s)}` : ""}`;
}

/** A date by this device's clock, such as 2026-03-02T06:30, as the days that a workbook counts. */
export const daysOf = (local) => Date.parse(`${local}Z`) / (DAY * 1000) + START[1900];

/** The letters that a spreadsheet has for a column, counted from 0: A, B … Z, AA. */
export const letters = (c) =>
  c < 0 ? "" : letters(Math.floor(c / 26) - 1) + String.fromCharCode(65 + (c % 26));
