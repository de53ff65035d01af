// Places and checks as tables: a row each, a column for each member, with its unit in the heading.

import { label, titled } from "../schema.js";
import { read } from "../units.js";
import { cells, written } from "./csv.js";
import { contradictions, judge } from "./judge.js";
import { leaves, put, schemaAt } from "./leaves.js";
import { keptSchema, madePlace, placeSchema } from "./place.js";
import { checkSchema } from "./record.js";

/** Units as columns write them. */
const unitOf = (s, units) => (s.unit && s.unit.metric !== s.unit.us ? s.unit.symbol[units] : undefined);

/** A table of documents, the columns in the order in which they come up first. */
function table(spec, schema, rows, units) {
  const columns = new Map();
  const lines = rows.map((row) => {
    const all = leaves(spec, schema, spec.convert(schema, row, units)).filter((one) => one.path !== "units");
    for (const one of all) {
      const unit = unitOf(one.schema, units);
      if (!columns.has(one.path)) columns.set(one.path, unit ? `${one.path} [${unit}]` : one.path);
    }
    return new Map(all.map((one) => [one.path, one.leaf]));
  });
  return written([
    [...columns.values()],
    ...lines.map((line) => [...columns.keys()].map((path) => line.get(path))),
  ]);
}

/** Places as a table; each row's amounts are in `units`. */
export const placesTable = (spec, batch, places, units) =>
  table(spec, keptSchema(spec, batch), places, units);

/** Checks as a table, with the name of their place before them. */
export function checksTable(spec, places, checks, units) {
  const schema = checkSchema();
  const name = new Map(places.map((place) => [place.id, place.name]));
  const named = { ...schema, properties: { name: { type: "string" }, ...schema.properties } };
  const rows = checks.map((check) => ({ name: name.get(check.place) ?? "", ...check }));
  return table(spec, named, rows, units);
}

/** Words that people write above a column, besides its path and its title. */
const WORDS = {
  machine: "name",
  "machine name": "name",
  "tank name": "name",
  type: "kind",
  fluid: "product",
  coolant: "product",
  capacity: "tank.capacity",
  holds: "tank.capacity",
  volume: "tank.volume",
  level: "tank.level",
  "level when full": "tank.full_level",
  method: "reading.method",
  instrument: "reading.method",
  factor: "reading.factor",
  water: "reading.water_brix",
  low: "band.low",
  min: "band.low",
  minimum: "band.low",
  target: "band.target",
  aim: "band.target",
  high: "band.high",
  max: "band.high",
  maximum: "band.high",
  evaporation: "losses.evaporation",
  "carry-off": "losses.carry_off",
};

/** Units as people write them in a heading, by the system that they belong to. */
const SYSTEMS = {
  metric: ["l", "litre", "litres", "liter", "liters", "mm", "°c", "l/day", "kg/l", "kg"],
  us: [
    "us gal",
    "gal",
    "gallon",
    "gallons",
    "us gallons",
    "in",
    "inch",
    "inches",
    "°f",
    "us gal/day",
    "gal/day",
    "lb",
  ],
};

/** Every path that a place can have, with its schema and its title. */
function paths(spec, schema, path = []) {
  const s = spec.resolve(schema);
  const kind = spec.kind(s);
  if (kind === "object")
    return spec
      .members({ ...s, properties: s.properties ?? {} })
      .flatMap((one) =>
        paths(spec, { ...one.schema, title: titled(one.schema, one.name) }, [...path, one.name]),
      );
  if (kind === "union") {
    const branches = spec.branches(s);
    const tag = branches[0].tag;
    const within = branches.flatMap((one) => paths(spec, one.schema, path));
    return tag
      ? [{ path: [...path, tag].join("."), title: label(tag), schema: { type: "string" } }, ...within]
      : within;
  }
  if (kind === "list") return [{ path: path.join("."), list: true, schema: s }];
  return [{ path: path.join("."), title: s.title, schema: s }];
}

/** What a heading means: a path, and the units that it names. */
function headingOf(spec, schema, heading) {
  const [, words, unit] = /^\s*(.*?)\s*(?:\[([^\]]*)\])?\s*$/s.exec(heading);
  const plain = words.toLowerCase();
  const all = paths(spec, schema).filter((one) => one.path !== "units");
  const found =
    all.find((one) => one.path === plain) ??
    all.find((one) => one.title?.toLowerCase() === plain) ??
    all.find((one) => one.path === WORDS[plain]) ??
    all.find((one) => one.list && plain.startsWith(`${one.path}.`));
  const said = unit?.trim().toLowerCase();
  const system = Object.keys(SYSTEMS).find((name) => SYSTEMS[name].includes(said));
  if (!found) return { fault: `Column “${words}” is not known here.` };
  return { path: found.list ? plain : found.path, system };
}

/** Places from a table in `units`: those that were read, and what is wrong with the others, by line. */
export function placesOf(spec, batch, text, units) {
  const { rows, open } = cells(text);
  if (open) return { places: [], faults: ["A quotation mark is opened and not closed."] };
  if (rows.length < 2) return { places: [], faults: ["There is no row under the headings."] };
  const schema = keptSchema(spec, batch);
  const columns = rows[0].cells.map((heading) => headingOf(spec, schema, heading));
  const faults = columns.filter((one) => one.fault).map((one) => `Line ${rows[0].line}: ${one.fault}`);
  const systems = new Set(columns.map((one) => one.system).filter(Boolean));
  if (systems.size > 1) faults.push(`Line ${rows[0].line}: the columns mix metric and US units.`);
  const twice = columns.find(
    (one, i) => one.path && columns.findIndex((other) => other.path === one.path) < i,
  );
  if (twice) faults.push(`Line ${rows[0].line}: two columns are “${twice.path}”.`);
  if (faults.length > 0) return { places: [], faults };
  const system = [...systems][0] ?? units;
  const places = rows.slice(1).map((row) => {
    const say = (detail) => faults.push(`Line ${row.line}: ${detail}`);
    if (row.cells.slice(columns.length).some((cell) => cell.trim() !== ""))
      say("it has more cells than there are headings.");
    return rowOf(spec, batch, columns, row.cells, system, say);
  });
  return { places, faults };
}

function rowOf(spec, batch, columns, row, system, say) {
  const schema = placeSchema(spec, batch);
  const filled = { units: system };
  const given = columns.map((column, i) => ({ steps: column.path.split("."), text: (row[i] ?? "").trim() }));
  for (const { steps, text } of given) if (text) put(filled, steps, text);
  filled.kind ??= "machine";
  if (filled.tank) filled.tank.measured_by ??= filled.tank.full_level === undefined ? "volume" : "level";
  if (filled.reading) filled.reading.method ??= "refractometer";
  const { id, entered, changed, ...whole } = filled;
  for (const { steps, text } of given) {
    const s = schemaAt(spec, keptSchema(spec, batch), filled, steps);
    if (text && spec.kind(s) === "number") put(filled, steps, read(text, s.maximum));
    if (text && spec.kind(s) === "flag")
      put(filled, steps, { true: true, false: false }[text.toLowerCase()] ?? text);
  }
  const { units, ...unmarked } = whole;
  const found = judge(spec, schema, unmarked);
  for (const { pointer, detail } of found.length > 0 ? found : contradictions(whole))
    say(`${pointer.slice(1).replaceAll("/", ".")}: ${detail}`);
  if (found.length > 0) return undefined;
  return {
    ...madePlace(spec, batch, whole, id && { id }),
    entered: entered ?? units,
    ...(changed && { changed }),
  };
}
