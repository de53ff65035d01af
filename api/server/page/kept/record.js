// A check as it is kept: what was read, what was told to do, and whether it was done. Amounts are metric.

import { doubts } from "../answer.js";
import { measuredOut, mixed } from "../measured.js";
import { convert } from "../units.js";
import { newId } from "./store.js";

/** The schema of a check. */
export function checkSchema() {
  const number = (quantity, title) => ({ type: "number", "x-quantity": quantity, title, minimum: 0 });
  const volume = (title) => number("Volume", title);
  const strength = (title) => ({ ...number("Concentration", title), maximum: 100 });
  const text = (title, maxLength = 40) => ({ type: "string", title, maxLength });
  const object = (properties, required) => ({
    type: "object",
    additionalProperties: false,
    properties,
    required,
  });
  const added = object(
    { name: text("Stock", 128), volume: volume("Added"), concentration: strength("Its strength") },
    ["name", "volume", "concentration"],
  );
  return object(
    {
      id: text("Id"),
      place: text("Place"),
      at: text("When"),
      units: { type: "string", enum: ["metric"] },
      reading: { $ref: "#/components/schemas/StrengthReading", title: "Reading" },
      volume: volume("Fluid in it"),
      level: number("Length", "Level"),
      concentration: strength("Strength"),
      standing: { $ref: "#/components/schemas/BandStanding", title: "Against its band" },
      marks: { $ref: "#/components/schemas/BandMarks", title: "Band on the scale" },
      told: text("What to do", 1000),
      drained: volume("Drained"),
      added: { type: "array", items: added, title: "Added" },
      after: object({ volume: volume("Then in it"), concentration: strength("Then its strength") }),
      done: { type: "boolean", title: "Done" },
    },
    ["id", "place", "at", "units", "reading"],
  );
}

/** This moment as the device's own clock has it, with its offset from UTC. */
export function moment(date = new Date()) {
  const offset = -date.getTimezoneOffset();
  const two = (number) => String(Math.floor(Math.abs(number))).padStart(2, "0");
  const local = new Date(date.getTime() + offset * 60000).toISOString().slice(0, 23);
  return `${local}${offset < 0 ? "-" : "+"}${two(offset / 60)}:${two(offset % 60)}`;
}

/** What is added where a document does not say. */
const USUAL = [
  { name: "concentrate", concentration: 100 },
  { name: "water", concentration: 0 },
];

/** Whether an amount counts beside what stands in the tank. */
const counts = (amount, after) => amount > 1e-6 * (after?.volume ?? 0);

/** What a check has of a reading, of what `concentration` was asked and what it answered. */
export const readOf = (spec, place, { units, reading }, { answer }) => ({
  id: newId(),
  place: place.id,
  at: moment(),
  units: "metric",
  reading: spec.convert(
    { type: "object", properties: { reading: { $ref: "#/components/schemas/StrengthReading" } } },
    { units, reading },
    "metric",
  ).reading,
  concentration: answer.concentration,
  standing: answer.standing,
  marks: answer.marks,
});

/** A check, of the document that was asked and what was answered: the record of the top-up and of the strength. */
export function checkOf(spec, place, document, { record, strength }) {
  const { answer } = record;
  const metric = (number, quantity = "Volume") =>
    number === undefined || record.units === "metric"
      ? number
      : convert(number, spec.quantities[quantity], "metric");
  const { tank } = document;
  const level = tank.measured_by === "level";
  const standing = strength.answer.standing ?? answer.standing;
  // Inside its band nothing has to be done, unless it is to be filled.
  const needed = standing !== "in_band" || (tank.fill_to ?? tank.fill_to_level) != null;
  const strengthOf = (name) =>
    [...(document.stocks ?? []), ...USUAL].find((one) => one.name === name)?.concentration ?? 0;
  // As they are measured out: these are the amounts that somebody was told, and pours.
  const told = measuredOut(answer);
  const added = answer.add
    .map(({ name }, i) => ({ name, volume: metric(told.added[i]), concentration: strengthOf(name) }))
    .filter((_, i) => needed && counts(told.added[i], answer.after));
  const drained = needed && counts(told.drained, answer.after) ? metric(told.drained) : undefined;
  const check = {
    ...readOf(spec, place, document, { answer: { ...strength.answer, standing } }),
    volume: metric(level ? (tank.level * tank.capacity) / tank.full_level : tank.volume),
    level: level ? metric(tank.level, "Length") : undefined,
    told: needed ? record.statement : undefined,
    drained,
    added,
  };
  return clean({ ...check, after: needed ? mixed(check) : undefined });
}

/**
 * The check with which a place begins that is kept from an answer; `at` is when that was given. None where the
 * answer is to a strength that nobody read, or doubts its reading.
 */
export async function firstCheck({ spec, ask }, name, place, document, { record, strength }, at) {
  const { units, sump, target, stocks } = document;
  if ((record.findings ?? []).some(doubts)) return undefined;
  if (name === "batch") return { ...checkOf(spec, place, document, { record, strength }), at };
  const reading = sump?.reading;
  if (!reading) return undefined;
  const { record: read } = await ask("concentration", { units, reading, band: place.band }).catch(() => ({}));
  if (!read) return undefined;
  // A top-up as a batch check says it.
  const tank = { measured_by: "volume", volume: sump.volume, fill_to: target.volume ?? sump.capacity };
  const told = { record, strength: read };
  return { ...checkOf(spec, place, { units, tank, reading, stocks }, told), at };
}

/** Without what is not there. */
export const clean = (record) =>
  Object.fromEntries(Object.entries(record).filter(([, one]) => one !== undefined));

/** Whether something was told to be done in a check. */
export const toDo = (check) => check.drained > 0 || (check.added ?? []).length > 0;

/** Where a place stands by its last check; what is most urgent comes first. */
export function standingOf(last, now = Date.now()) {
  if (!last) return { state: "never", days: Infinity, urgency: 1 };
  const days = Math.floor((now - Date.parse(last.at)) / 86400000);
  const outside = last.standing && last.standing !== "in_band";
  if (outside && !last.done) return { state: last.standing, days, urgency: 0 };
  return { state: outside ? "corrected" : "in_band", days, urgency: 2 };
}
