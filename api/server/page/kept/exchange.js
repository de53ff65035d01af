// Everything that is kept as one file, and taken in again: beside what is there, the newer one of two.

import { contradictions, judge } from "./judge.js";
import { keptSchema } from "./place.js";
import { checkSchema } from "./record.js";

const KIND = "sumpwright-kept";
const VERSION = 1;

/** Everything as a file. */
export const fileOf = ({ places, checks }) =>
  `${JSON.stringify({ kind: KIND, version: VERSION, written: new Date().toISOString(), places, checks }, null, 1)}\n`;

/** Reads such a file: what is in it, or what is wrong with it. */
export function readFile(spec, batch, text) {
  let file;
  try {
    file = JSON.parse(text);
  } catch {
    return { faults: ["This file cannot be read: it is not JSON, or was cut off."] };
  }
  if (file?.kind !== KIND || !Array.isArray(file.places) || !Array.isArray(file.checks))
    return { faults: ["This file does not come from here: it has no tanks, machines and checks in it."] };
  if (!(file.version <= VERSION))
    return { faults: [`This file is of a newer kind (${file.version}) than this page can read.`] };
  const { places, checks } = file;
  const faults = [
    ...places.flatMap((one, i) =>
      faultsOf(spec, keptSchema(spec, batch), one, `Tank or machine ${i + 1} (${one?.name})`),
    ),
    ...checks.flatMap((one, i) => faultsOf(spec, checkSchema(), one, `Check ${i + 1}`)),
  ];
  const known = new Set(places.map((one) => one?.id));
  checks.forEach((one, i) => {
    if (one?.place && !known.has(one.place))
      faults.push(`Check ${i + 1}: its tank or machine is not in the file.`);
    if (one?.at && Number.isNaN(Date.parse(one.at)))
      faults.push(`Check ${i + 1}: “${one.at}” is not a moment.`);
  });
  return faults.length > 0 ? { faults } : { places, checks, faults };
}

function faultsOf(spec, schema, value, what) {
  const found = judge(spec, schema, value);
  const all = found.length > 0 || !value?.tank ? found : contradictions(value);
  return all.map(
    (fault) => `${what}, ${fault.pointer.slice(1).replaceAll("/", ".") || "as a whole"}: ${fault.detail}`,
  );
}

/** Rows of a table take the place of those with the same name, unless they say which they are. */
export function matched(places, kept) {
  const named = new Map(kept.map((place) => [place.name.toLowerCase(), place.id]));
  const ids = new Set(kept.map((place) => place.id));
  return places.map((place) =>
    ids.has(place.id) ? place : { ...place, id: named.get(place.name.toLowerCase()) ?? place.id },
  );
}

const alike = (a, b) => JSON.stringify(ordered(a)) === JSON.stringify(ordered(b));

const ordered = (value) =>
  value === null || typeof value !== "object" || Array.isArray(value)
    ? value
    : Object.fromEntries(
        Object.keys(value)
          .sort()
          .map((name) => [name, ordered(value[name])]),
      );

/** Takes places and checks in; says in words what that did, and gives back what was there before. */
export async function takeIn(store, { places, checks }) {
  const before = await store.all();
  const was = new Map([...before.places, ...before.checks].map((one) => [one.id, one]));
  const added = places.filter((one) => !was.has(one.id));
  const other = places.filter((one) => was.has(one.id) && !alike(one, was.get(one.id)));
  const newer = (one) => !(Date.parse(one.changed) < Date.parse(was.get(one.id).changed));
  const replaced = other.filter(newer);
  const left = other.filter((one) => !newer(one));
  const put = {
    places: [...added, ...replaced],
    checks: checks.filter((one) => !alike(one, was.get(one.id) ?? {})),
  };
  await store.put(put);
  const said = [
    added.length > 0 && `${added.length} added: ${names(added)}.`,
    replaced.length > 0 && `${replaced.length} replaced: ${names(replaced)}.`,
    left.length > 0 && `${left.length} left as they are, being newer here: ${names(left)}.`,
    put.checks.length > 0 && `${put.checks.length} ${put.checks.length === 1 ? "check" : "checks"} taken in.`,
  ].filter(Boolean);
  return { before, words: said.join(" ") || "Everything in this file is here already." };
}

const NAMED = 3; // names that are said before the rest is counted

function names(places) {
  const said = places.slice(0, NAMED).map((place) => place.name);
  return places.length > NAMED ? `${said.join(", ")} and ${places.length - NAMED} more` : said.join(", ");
}
