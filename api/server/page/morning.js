// Morning round: a table with a row for each machine, of what was read, smelled and seen in it. `condition` is
// asked of every row at once, and the list of the day comes back (`morning-list.js`).

import { unoffered } from "./ask.js";
import { askMany } from "./ask-many.js";
import { scaleOf } from "./kept/place.js";
import { filledFromKept } from "./morning-kept.js";
import { show } from "./morning-list.js";

/** What stands in a row, of what `condition` takes: what is looked at daily first. */
const COLUMNS = [
  "reading",
  "concentration",
  "band",
  "ph",
  "bacteria",
  "nitrite",
  "smell",
  "look",
  "foam",
  "rust",
  "skin_complaints",
  "fungi",
  "tramp_oil",
  "conductivity",
  "temperature",
  "days_since_fill",
  "days_standing",
];

/** What some columns are called where there is room for a word. */
const TITLES = { ph: "pH", bacteria: "Dip slide", skin_complaints: "Complaints" };

const MOST = 200; // machines in a round

const read = (brix, factor = 1.25) => ({ method: "refractometer", brix, factor });
const BAND = { low: 5.5, target: 6.5, high: 7.5 };
const GOOD = { smell: "fresh", look: "as_new", foam: "none", rust: "none", skin_complaints: false };

const EXAMPLE = {
  units: "metric",
  reference: "invented example: a shop on Monday morning",
  machines: [
    { name: "lathe 1", reading: read(5.2), band: BAND, ph: 9.1, bacteria: 1000, nitrite: 2, ...GOOD },
    { name: "lathe 2", reading: read(4.1), band: BAND, ph: 9, ...GOOD, look: "oil_on_top" },
    { name: "mill 3", reading: read(3.2), band: BAND, ph: 8.8, ...GOOD, rust: "on_parts" },
    { name: "mill 4", reading: read(5.4), band: BAND, ph: 8.6, bacteria: 100000, ...GOOD, smell: "musty" },
    { name: "grinder 5", reading: read(3.1, 1.6), band: { low: 4, target: 5, high: 6 }, ph: 9.2, ...GOOD },
    { name: "saw 6", reading: read(5), band: BAND, ph: 9, ...GOOD, foam: "over_the_edge" },
  ],
};

/** The one number or word of an observation; it was made today. */
const observed = (schema) =>
  schema.type === "object" && schema.required?.length === 1 ? schema.required[0] : undefined;

/** The schema of a row, put together from the published one. */
function rowSchema(spec, question) {
  const { reference } = question.properties;
  const properties = {
    name: { ...spec.resolve(reference), title: "Machine", description: "As it is called in the shop." },
  };
  for (const name of COLUMNS) {
    const whole = spec.resolve(question.properties[name]);
    const inner = observed(whole);
    const { title, description } = whole;
    properties[name] = { ...(inner ? spec.member(whole, inner) : whole), title, description };
    if (TITLES[name]) properties[name].title = TITLES[name];
  }
  return { type: "object", additionalProperties: false, required: ["name"], properties };
}

/** What is asked of a row, and what in it cannot be; nothing where nothing of it was read or seen. */
function question(spec, { schema, observations }, row, units) {
  const faults = spec.unread(schema, row, units);
  if (!row.name) faults.push({ pointer: "/name", code: "missing", detail: "The machine has no name." });
  const request = { units, reference: row.name };
  for (const name of COLUMNS.filter((one) => row[one] !== undefined))
    request[name] = observations[name] ? { [observations[name]]: row[name] } : row[name];
  // How it is read is known before it is read.
  const { reading } = request;
  if (reading && reading[scaleOf(spec, reading.method).reads] === undefined) delete request.reading;
  const { units: _units, reference: _name, band: _band, ...seen } = request;
  return Object.keys(seen).length > 0 ? { request, faults } : { request };
}

/** Asks of every row in which something was read or seen, and puts the answers together. */
async function answer(spec, columns, { units, reference, machines }) {
  const rows = machines.map((row, i) => ({
    at: i,
    name: row?.name || `row ${i + 1}`,
    ...question(spec, columns, row ?? {}, units),
  }));
  const seen = rows.filter((row) => row.faults);
  if (seen.length === 0) return { problem: { title: "Nothing to judge", errors: [NOTHING] } };
  const whole = seen.filter((row) => row.faults.length === 0);
  const answers =
    whole.length > 0
      ? await askMany(
          "condition",
          whole.map(({ request }) => request),
        )
      : [];
  for (const [i, row] of whole.entries()) Object.assign(row, answers[i]);
  const asked = answers.map((one) => ({ name: "condition", ...one }));
  for (const row of whole.filter(({ problem }) => problem)) {
    const { errors, detail } = row.problem;
    row.faults = errors?.length ? errors : [{ pointer: "", detail }];
  }
  const place = (pointer) => {
    const [, first] = pointer.split("/");
    return columns.observations[first] ? `/${first}` : pointer;
  };
  const faults = seen.flatMap((row) =>
    row.faults.map((one) => ({ ...one, pointer: `/machines/${row.at}${place(one.pointer)}` })),
  );
  if (seen.every((row) => !row.record)) return { asked, problem: { title: "No answer", errors: faults } };
  return { asked, faults, reference, rows };
}

const NOTHING = {
  pointer: "/machines",
  detail: "Nothing is entered of any machine. Fill in what was read, smelled or seen of one.",
};

/** What the task is made of. */
export function task(spec, { properties }) {
  const whole = { properties };
  const schema = rowSchema(spec, whole);
  const members = COLUMNS.map((name) => [name, observed(spec.resolve(properties[name]))]);
  const columns = { schema, observations: Object.fromEntries(members.filter(([, inner]) => inner)) };
  return {
    schema: {
      type: "object",
      additionalProperties: false,
      required: ["units", "machines"],
      properties: {
        units: properties.units,
        machines: {
          type: "array",
          title: "Machines",
          description: "What was read, smelled and seen of each. Leave blank what was not looked at.",
          maxItems: MOST,
          items: schema,
        },
        reference: properties.reference,
      },
    },
    byRow: true,
    example: async () => structuredClone(EXAMPLE),
    answer: (document) => answer(spec, columns, document),
    show,
    pictured: () => undefined,
    opened: () => filledFromKept(schema).catch(unoffered),
  };
}
