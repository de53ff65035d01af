// What the morning round takes from the tanks and machines of this device, and what it writes into their history.

import { doubts } from "./answer.js";
import { unoffered } from "./ask.js";
import { askMany } from "./ask-many.js";
import { normal } from "./cell.js";
import { by, h } from "./dom.js";
import { scaleOf } from "./kept/place.js";
import { readOf } from "./kept/record.js";
import { undoable } from "./kept/undo.js";
import { now } from "./now.js";

const named = (things, name) => things.find((one) => normal(one.name ?? "") === normal(name));

export const many = (number, one, more) => `${number} ${number === 1 ? one : more}`;

/** The member of a reading that is read off the instrument. */
const readIn = (spec, { method } = {}) => scaleOf(spec, method ?? "refractometer").reads;

const unread = (spec, reading) => reading[readIn(spec, reading)] === undefined;

/** Offers to fill in what is kept, where anything is; `schema` is that of a row. */
export async function filledFromKept(schema) {
  const { form } = now;
  const kept = await now.kept();
  const places = await kept.store.places();
  if (places.length === 0 || now.form !== form) return;
  const text = `Fill in the kept tanks and machines (${places.length})`;
  const fill = () => fillIn(form, schema, kept, places);
  by("fields").before(h("button", { type: "button", id: "from-kept", onclick: fill }, text));
}

/** A row for each place: its name, how it is read and its band; what a row says itself stays. */
function fillIn(form, schema, kept, places) {
  const { spec, document } = form;
  const before = structuredClone(document);
  const machines = structuredClone(document.machines ?? []).filter((row) => !spec.empty(schema, row));
  places.sort((a, b) => a.name.localeCompare(b.name, undefined, { numeric: true }));
  for (const place of places) {
    const { reading, band } = kept.document(place);
    const row = named(machines, place.name);
    if (!row) machines.push({ name: place.name, reading, band });
    else {
      if (!row.concentration && (row.reading?.method ?? reading.method) === reading.method)
        row.reading = { ...reading, ...row.reading };
      row.band = { ...band, ...row.band };
    }
  }
  const first = machines.findIndex(
    ({ name, reading }) => reading && named(places, name ?? "") && unread(spec, reading),
  );
  const show = (next) => {
    form.show(next);
    form.changed();
  };
  show({ ...document, machines });
  // What is read is typed next.
  const at = Math.max(first, 0);
  form.focus(["machines", at, "reading", readIn(spec, machines[at].reading)]);
  undoable(`${many(places.length, "row is", "rows are")} filled in.`, () => {
    if (now.form === form) show(spec.convert(now.task.schema, before, now.units));
  });
}

/** Offers to write the readings of kept machines into their history. */
export function written(rows, units) {
  const host = h("div");
  offer(host, rows, units).catch(unoffered);
  return host;
}

async function offer(host, rows, units) {
  const kept = await now.kept();
  const places = await kept.store.places();
  const found = rows
    .map((row) => ({ ...row, place: named(places, row.name) }))
    .filter(({ place, request }) => place && request.reading);
  if (found.length === 0) return;
  const said = h("p", { role: "status" });
  const write = async () => {
    const checks = await checksOf(kept, found, units);
    const given = { places: [], checks };
    await kept.store.put(given);
    button.hidden = true;
    const text = `${many(checks.length, "reading is", "readings are")} written into the history.`;
    said.textContent = text;
    undoable(text, async () => {
      await kept.store.take(given);
      button.hidden = false;
      said.textContent = "";
    });
  };
  const button = h(
    "button",
    { type: "button", id: "round-noted", onclick: write },
    `Write ${many(found.length, "reading", "readings")} into the history`,
  );
  host.append(h("p", { class: "buttons" }, button), said);
}

/** A check for each of the readings, but for those that are in doubt. */
async function checksOf({ spec }, found, units) {
  const asked = found.map(({ request: { reading, band } }) => ({ units, reading, band }));
  const read = await askMany("concentration", asked);
  return read.flatMap(({ request, record }, i) =>
    record && !(record.findings ?? []).some(doubts)
      ? [{ ...readOf(spec, found[i].place, request, record), told: found[i].record.statement }]
      : [],
  );
}
