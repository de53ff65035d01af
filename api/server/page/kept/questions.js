// What is kept as questions to the service: a log for `losses` and `sump-state`, a start for `forecast`; and losses as
// they come back.

import { convert } from "../units.js";
import { moment } from "./record.js";

const AHEAD = 30; // days that a forecast is asked for when nobody says

/** A question in the units that are shown, and what it lacks. */
function asked(spec, name, document, units, missing) {
  const { question } = spec.calculations.find((one) => one.name === name);
  const metric = bare({ ...document, units: "metric" });
  return { document: spec.convert(question, metric, units), missing: missing.filter(Boolean) };
}

/** The log of a place: what was read, and what was drained and added where it is known to be done. */
export function lossesQuestion(spec, place, checks, units) {
  return asked(spec, "losses", logged(place, checks), units, [
    checks.length < 2 && "Two checks at least are needed, with the level or the volume each time.",
    ...unsure(checks),
  ]);
}

/**
 * The log of a place as it stands at this moment, by the clock of the device. How uncertain its losses are is not
 * kept, so that they are learned from the log anew.
 */
export function stateQuestion(spec, place, checks, units) {
  const ratio = place.losses?.depletion_ratio;
  const document = {
    ...logged(place, checks),
    now: moment(),
    band: place.band,
    stocks: place.stocks,
    losses: ratio === undefined ? undefined : { depletion_ratio: ratio },
  };
  return asked(spec, "sump-state", document, units, [
    checks.length < 2 && "One check does not tell what it loses: a day later little is certain.",
    ...unsure(checks),
  ]);
}

/** A place and its log, as every question about a log has them. */
function logged(place, checks) {
  const log = checks.map((check) => {
    const entry = { at: check.at, volume: check.volume, reading: check.reading };
    if (!check.done) return entry;
    const removed = check.drained > 0 ? { volume: check.drained } : undefined;
    return { ...entry, removed, added: mixed(check.added ?? []) };
  });
  return {
    reference: place.name,
    sump: { capacity: place.tank.capacity, concentration: place.band.target },
    log: log.length > 0 ? log : [{}],
  };
}

/** What a log of these checks does not know. */
function unsure(checks) {
  const unsaid = checks.filter((check) => check.done === undefined && told(check)).length;
  const noVolume = checks.filter((check) => check.volume === undefined).length;
  return [
    noVolume > 0 && `${count(noVolume, "check says", "checks say")} nothing of how full it was.`,
    unsaid > 0 &&
      `Of ${count(unsaid, "check", "checks")} it is not known whether what was told was done: it counts as not done.`,
    "What was poured in without a check has to be added to the log.",
  ];
}

const told = (check) => check.drained > 0 || (check.added ?? []).length > 0;

const count = (number, one, many) => `${number} ${number === 1 ? one : many}`;

/** All that was added at once, as one fluid. */
function mixed(added) {
  const volume = added.reduce((sum, one) => sum + one.volume, 0);
  if (!(volume > 0)) return undefined;
  const concentrate = added.reduce((sum, one) => sum + one.volume * one.concentration, 0);
  return { volume, concentration: concentrate / volume };
}

/** A place as its last check left it, to look ahead from there. */
export function forecastQuestion(spec, place, checks, units) {
  const last = checks.at(-1);
  const { volume, concentration } = (last?.done && last.after) || last || {};
  const document = {
    reference: last ? `${place.name}, from ${last.at.slice(0, 16).replace("T", " ")}` : place.name,
    sump: { capacity: place.tank.capacity, volume, concentration },
    losses: place.losses ?? {},
    band: place.band,
    days: AHEAD,
  };
  return asked(spec, "forecast", document, units, [
    !last && "It has not been read yet: say what is in it now.",
    !place.losses && "What it loses a day is not known yet: work out its losses first, or say them.",
  ]);
}

/** Losses that were worked out, as a place keeps them. */
export function lossesOf(spec, record) {
  const { evaporation, carry_off, depletion_ratio } = record.answer;
  const daily = (rate) =>
    record.units === "metric" ? rate.value : convert(rate.value, spec.quantities.DailyRate, "metric");
  return bare({
    evaporation: daily(evaporation),
    carry_off: daily(carry_off),
    depletion_ratio: depletion_ratio?.value,
  });
}

/** A document without members that are not there. */
function bare(value) {
  if (Array.isArray(value)) return value.map(bare);
  if (value === null || typeof value !== "object") return value;
  const members = Object.entries(value).filter(([, member]) => member !== undefined);
  return Object.fromEntries(members.map(([name, member]) => [name, bare(member)]));
}
