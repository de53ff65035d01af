// What the kept screens say in words: when, where a place stands, and the small marks that say the same.

import { h, svg } from "../dom.js";
import { symbol, titled } from "../schema.js";
import { convert, shownAsWritten } from "../units.js";
import { scaleOf } from "./place.js";

const DAY = 86400000;
const LONG_AGO = 4; // days without a reading that are worth a word; common practice, no source

const language = () => document.documentElement.lang || "en";

const midnight = (date) => new Date(date.getFullYear(), date.getMonth(), date.getDate()).getTime();

/** How many nights ago. */
const nights = (date, now) => Math.round((midnight(now) - midnight(date)) / DAY);

/** A moment as one says it: today, yesterday, or its date. */
export function when(at, now = new Date()) {
  const date = new Date(at);
  const ago = nights(date, now);
  const clock = date.toLocaleTimeString(language(), { hour: "2-digit", minute: "2-digit", hour12: false });
  if (ago === 0) return `today ${clock}`;
  if (ago === 1) return `yesterday ${clock}`;
  const form = { day: "numeric", month: "short" };
  if (date.getFullYear() !== now.getFullYear()) form.year = "numeric";
  return `${date.toLocaleDateString(language(), form)}, ${clock}`;
}

const STATES = {
  never: "Not read yet",
  in_band: "In band",
  below: "Too weak",
  above: "Too strong",
  corrected: "Corrected",
};

const PATHS = {
  never: "M5 10h10",
  in_band: "M4 11l4 5 8-11",
  below: "M10 3v13M4 10l6 6 6-6",
  above: "M10 17V4M4 10l6-6 6 6",
  corrected: "M10 3v8M6 7.5l4 4 4-4M3 12v5h14v-5",
  overdue: "M10 5v6l4 2M18 10a8 8 0 1 1-16 0 8 8 0 0 1 16 0z",
};

/** A small mark that says the same as the word beside it. */
export const mark = (state) =>
  svg(
    "svg",
    { viewBox: "0 0 20 20", class: "mark", "aria-hidden": "true" },
    svg("path", { d: PATHS[state] }),
  );

/** Where a check stood, by mark and word. */
export const badge = (state) =>
  h("span", { class: `badge ${state}` }, mark(state), h("span", null, STATES[state]));

/** How long nothing was read, where that is worth a word. */
export const overdue = (days) =>
  Number.isFinite(days) && days >= LONG_AGO
    ? h("span", { class: "badge overdue" }, mark("overdue"), h("span", null, `Not read for ${days} days`))
    : undefined;

/** What an instrument says, with its unit. */
export function readingText(spec, reading, units) {
  const { reads } = scaleOf(spec, reading.method);
  const member = spec.member(spec.branchOf(spec.schemas.StrengthReading, reading).schema, reads);
  const unit = symbol(member, units);
  return `${shownAsWritten(reading[reads])}${unit ? `\u00a0${unit}` : ""}`;
}

/** What a method reads, by its title. */
export function readingTitle(spec, reading) {
  const { reads } = scaleOf(spec, reading.method);
  return titled(spec.member(spec.branchOf(spec.schemas.StrengthReading, reading).schema, reads), reads);
}

/** A number with its unit, from metric to a system of units. */
export function amount(spec, number, quantity, units) {
  const own = spec.quantities[quantity];
  return `${shownAsWritten(units === "us" ? convert(number, own, "us") : number)}\u00a0${own.symbol[units]}`;
}

/** How full a check found its place. */
export const filled = (spec, check, units) => {
  if (check.level !== undefined) return amount(spec, check.level, "Length", units);
  return check.volume === undefined ? "" : amount(spec, check.volume, "Volume", units);
};
