// Moments: an instant with its offset from UTC, as it stands in a document and as this device's clock shows it.

const two = (number) => String(Math.trunc(number)).padStart(2, "0");

/** An offset in minutes as a document writes it, such as +01:00. */
const offset = (minutes) =>
  `${minutes < 0 ? "-" : "+"}${two(Math.abs(minutes) / 60)}:${two(Math.abs(minutes) % 60)}`;

/** Minutes by which this device's clock is ahead of UTC at a time. */
const ahead = (time) => -time.getTimezoneOffset();

const WRITTEN = /^(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d):(\d\d)(?::(\d\d)(?:\.\d+)?)?\s*(Z|[+-]\d\d:?\d\d)?)?$/i;
const DOTTED = /^(\d{1,2})\.(\d{1,2})\.(\d{4})(?:,?\s+(\d{1,2}):(\d\d)(?::(\d\d))?)?$/;

/** Whether a text is a moment with its offset, as a document has it. */
export const isMoment = (text) => Boolean(WRITTEN.exec(text)?.[7]) && !Number.isNaN(Date.parse(text));

/** A moment of a document as this device's clock shows it, such as 2026-03-02T06:30. */
export function local(moment) {
  const time = new Date(moment);
  const date = [time.getFullYear(), two(time.getMonth() + 1), two(time.getDate())].join("-");
  const seconds = time.getSeconds() ? `:${two(time.getSeconds())}` : "";
  return `${date}T${two(time.getHours())}:${two(time.getMinutes())}${seconds}`;
}

/** What somebody wrote as a moment of a document: without an offset it is this device's time. */
export function readMoment(text) {
  const plain = text.trim();
  if (plain === "") return undefined;
  if (isMoment(plain)) return plain.replace(" ", "T");
  const [, year, month, day, hour = 0, minute = 0, second = 0] = WRITTEN.exec(plain) ?? turned(plain) ?? [];
  const time = new Date(year, month - 1, day, hour, minute, second);
  if (year === undefined || time.getMonth() !== month - 1 || Number(hour) > 23 || Number(minute) > 59)
    return plain;
  const clock = `${two(hour)}:${two(minute)}:${two(second)}`;
  return `${year}-${two(month)}-${two(day)}T${clock}${offset(ahead(time))}`;
}

/** A date with points between begins with its day. */
const turned = (text) => {
  const [whole, day, month, year, ...clock] = DOTTED.exec(text) ?? [];
  return whole && [whole, year, month, day, ...clock];
};

/** In which time zone a moment is shown, or the present one. */
export function zone(moment) {
  const time = isMoment(moment ?? "") ? new Date(moment) : new Date();
  const minutes = ahead(time);
  const hours = `${Math.trunc(Math.abs(minutes) / 60)}${minutes % 60 ? `:${two(Math.abs(minutes) % 60)}` : ""}`;
  return `in this device’s time zone, UTC${minutes < 0 ? "−" : "+"}${hours}`;
}

/** Why a text is not a moment. */
export const noMoment = (text) =>
  `“${text}” is not a date with a time. Write it as 2026-03-02 06:30; it is then taken ${zone()}.`;
