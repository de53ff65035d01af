// A tank or a machine as it is kept: the entries of a batch check that stay the same from day to day.
//
// Its amounts are metric; `entered` says in which units they were given. What is read each day
// (the instrument's number, the temperature on its prism) is not in it; the volume or level that it
// usually holds is.

import { newId } from "./store.js";

/**
 * What each method reads off its instrument, the steps of that scale, and where on it a strength reads,
 * unless that takes a table.
 */
export const SCALES = {
  refractometer: {
    reads: "brix",
    step: 0.1,
    at: ({ factor, water_brix: water }, strength) => strength / factor + (water ?? 0),
  },
  refractive_index: { reads: "index", step: 0.0001 },
  titration: {
    reads: "titrant_ml",
    step: 0.1,
    at: ({ factor, blank_ml: water }, strength) => strength / factor + (water ?? 0),
  },
  acid_split: {
    reads: "split_ml",
    step: 0.1,
    at: ({ sample_ml: sample, oil_share: oil }, strength) => (strength / 100) * sample * (oil / 100),
  },
};

/** What a method reads and its steps; of one that is not known here, the first number. */
export function scaleOf(spec, method) {
  if (SCALES[method]) return SCALES[method];
  const { schema } = spec.branchOf(spec.schemas.StrengthReading, { method });
  const first = spec.members(schema).find((one) => spec.kind(one.schema) === "number");
  return { reads: first.name, step: 0.1 };
}

/** The member of a tank that changes from day to day. */
export const amountOf = (tank) => (tank.measured_by === "level" ? "level" : "volume");

/** Litres for each millimetre; one where the tank goes by volume. */
export const slope = (tank) => (tank.measured_by === "level" ? tank.capacity / tank.full_level : 1);

/** The schema of a union whose branches are changed by `change`, each under a name of its own. */
function changed(spec, union, change) {
  const { discriminator } = spec.resolve(union);
  const mapping = {};
  for (const [word, $ref] of Object.entries(discriminator.mapping)) {
    const name = `Kept${$ref.split("/").pop()}`;
    const branch = spec.schemas[$ref.split("/").pop()];
    const properties = { ...branch.properties };
    const gone = change(properties, word);
    spec.schemas[name] = {
      ...branch,
      properties,
      required: (branch.required ?? []).filter((one) => !gone.includes(one)),
    };
    mapping[word] = `#/components/schemas/${name}`;
  }
  return {
    oneOf: Object.values(mapping).map(($ref) => ({ $ref })),
    discriminator: { ...discriminator, mapping },
  };
}

/** The schema of what is filled in for a place, from that of the batch check. */
export function placeSchema(spec, batch) {
  const { tank, reading, band, vessel, premix_at_most, stocks, draining } = batch.properties;
  const text = (title, description) => ({ type: "string", maxLength: 60, title, description });
  return {
    type: "object",
    additionalProperties: false,
    required: ["name", "kind", "tank", "reading", "band"],
    properties: {
      name: text("Name", "As it is called in the shop."),
      kind: { type: "string", enum: ["machine", "tank"], title: "What it is" },
      product: text("Fluid", "What is in it, by its name in the shop."),
      tank: {
        title: "How much it holds",
        ...changed(spec, tank, (properties) => {
          if (properties.volume) properties.volume = { ...properties.volume, title: "Usually in it" };
          if (properties.level) properties.level = { ...properties.level, title: "Usual level" };
          return ["volume", "level"];
        }),
      },
      reading: {
        title: "How its strength is read",
        ...changed(spec, reading, (properties, method) => {
          const gone = [scaleOf(spec, method).reads, "temperature"];
          for (const one of gone) delete properties[one];
          if (method === "refractometer") properties.by_hand = BY_HAND;
          return gone;
        }),
      },
      band: {
        ...band,
        title: "Band",
        required: Object.keys(band.properties),
        properties: { ...band.properties, target: { ...band.properties.target, description: "" } },
      },
      vessel,
      premix_at_most,
      stocks,
      draining,
      losses: {
        $ref: "#/components/schemas/LossRates",
        title: "Losses a day",
        description: "What a sump loses on an ordinary working day.",
      },
    },
  };
}

const BY_HAND = {
  type: "boolean",
  title: "Ask for the temperature",
  description: "Only where the refractometer does not compensate for temperature itself.",
};

/** The schema of a place as it is kept. */
export function keptSchema(spec, batch) {
  const filled = placeSchema(spec, batch);
  const word = { type: "string", maxLength: 40 };
  const system = { type: "string", enum: ["metric", "us"] };
  return {
    ...filled,
    required: [...filled.required, "id", "units", "entered", "changed"],
    properties: { ...filled.properties, id: word, units: system, entered: system, changed: word },
  };
}

/** A document of this schema without what it does not know and what is blank. */
const known = (spec, schema, value) =>
  spec.map(schema, value, (s, leaf) => (s.type === undefined || leaf === null ? undefined : leaf));

/** What a batch check or a top-up says of its tank or machine; what it does not say is left blank. */
export function placeFrom(spec, batch, name, document) {
  const { reference, sump, target, tank, reading, band, losses } = document;
  const whole = {
    kind: name === "top-up" ? "machine" : "tank",
    tank: tank ?? {
      measured_by: "volume",
      capacity: sump?.capacity,
      fill_to: target?.volume,
      volume: sump?.volume,
    },
    reading: reading ?? sump?.reading ?? { method: "refractometer" },
    band: { target: target?.concentration, ...band },
    losses,
  };
  for (const one of ["vessel", "premix_at_most", "stocks", "draining"]) whole[one] = document[one];
  if (whole.reading.temperature != null) whole.reading = { ...whole.reading, by_hand: true };
  const schema = placeSchema(spec, batch);
  const place = known(spec, schema, whole);
  return { units: document.units, name: reference?.length <= 40 ? reference : undefined, ...place };
}

/** A place as it is kept, of what was filled in; `before` is what it was. */
export function madePlace(spec, batch, filled, before) {
  const schema = placeSchema(spec, batch);
  const { units, ...metric } = spec.convert(schema, filled, "metric");
  return {
    id: before?.id ?? newId(),
    ...spec.pruned(schema, known(spec, schema, metric)),
    units,
    entered: filled.units,
    changed: new Date().toISOString(),
  };
}

/** What is filled in for a place, in a system of units. */
export function filledPlace(spec, batch, place, units) {
  const schema = placeSchema(spec, batch);
  return { ...known(spec, schema, spec.convert(schema, place, units)), units };
}

/** The batch check of a place, with blanks for what is read, and with the amount of `last`. */
export function documentOf(spec, batch, place, units, last) {
  const { tank, reading, band, vessel, premix_at_most, stocks, draining } = structuredClone(place);
  delete reading.by_hand;
  const amount = amountOf(tank);
  const standing = last?.done ? last.after?.volume : last?.volume;
  if (standing !== undefined) tank[amount] = standing / slope(tank);
  const document = { units: place.units, tank, reading, band, reference: place.name };
  for (const [name, one] of Object.entries({ vessel, premix_at_most, stocks, draining }))
    if (one !== undefined) document[name] = one;
  return spec.convert(batch, document, units);
}
