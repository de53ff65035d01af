// Batch check: a tank, a reading, a band; what to add, what the scale must read, and again.
//
// `concentration` says what the reading stands for and where the band's marks are, `top-up`
// what to do. Two things are worked out here: the volume that stands at a level, and the
// least correction (Pearson's square) by a premix or, in a tank that is stirred, by a stock as
// it is, which `top-up` is then asked for and has to balance.

export const EXAMPLE = {
  units: "metric",
  reference: "invented example: batch tank 2, morning",
  tank: { measured_by: "volume", capacity: 1000, volume: 640 },
  reading: { method: "refractometer", brix: 3.4, factor: 1.25 },
  band: { low: 5.25, target: 6, high: 6.75 },
};

/** The schema of the form, put together from the published ones. */
export function schema(spec) {
  const { MachineSump, TopUpQuestion } = spec.schemas;
  const volume = (name, title, description) => ({
    ...spec.resolve(MachineSump.properties[name]),
    title,
    description,
  });
  const length = (description, title) => ({
    type: "number",
    exclusiveMinimum: 0,
    title,
    description,
    "x-quantity": "Length",
  });
  const by = (name) => ({ type: "string", enum: [name] });
  spec.schemas.TankByVolume = {
    type: "object",
    required: ["measured_by", "capacity", "volume"],
    properties: {
      measured_by: by("volume"),
      capacity: volume("capacity", "Tank holds", "When full to its working level."),
      volume: volume("volume", "Fluid in it now", ""),
      fill_to: volume("volume", "Fill it to", "Leave it blank to add only the correction."),
    },
  };
  spec.schemas.TankByLevel = {
    type: "object",
    required: ["measured_by", "capacity", "full_level", "level"],
    properties: {
      measured_by: by("level"),
      capacity: volume("capacity", "Tank holds", "When full to its working level."),
      full_level: length(
        "Of the fluid when it is full. The walls are assumed to be straight.",
        "Level when full",
      ),
      level: length("", "Level now"),
      fill_to_level: length("A level. Leave it blank to add only the correction.", "Fill it to"),
    },
  };
  const $ref = (name) => `#/components/schemas/${name}`;
  const band = spec.resolve(spec.schemas.StrengthBand);
  // Their titles say all of it.
  const end = (name) => ({ ...spec.member(band, name), description: "" });
  return {
    type: "object",
    required: ["units", "tank", "reading", "band"],
    properties: {
      units: TopUpQuestion.properties.units,
      tank: {
        description: "",
        oneOf: [{ $ref: $ref("TankByVolume") }, { $ref: $ref("TankByLevel") }],
        discriminator: {
          propertyName: "measured_by",
          mapping: { volume: $ref("TankByVolume"), level: $ref("TankByLevel") },
        },
      },
      reading: { $ref: $ref("StrengthReading"), description: "" },
      band: {
        ...band,
        description: "",
        required: ["low", "high"],
        properties: {
          low: end("low"),
          high: end("high"),
          target: { ...spec.member(band, "target"), description: "Left blank: the middle of the two." },
        },
      },
      vessel: TopUpQuestion.properties.vessel,
      premix_at_most: TopUpQuestion.properties.premix_at_most,
      stocks: TopUpQuestion.properties.stocks,
      draining: TopUpQuestion.properties.draining,
      reference: TopUpQuestion.properties.reference,
    },
  };
}

/** Fills in what was left blank: who names a band alone aims for its middle. */
export function complete({ band }) {
  const { low, high, target } = band ?? {};
  if (target == null && Number.isFinite(low) && Number.isFinite(high)) band.target = (low + high) / 2;
}

/** Litres or gallons for each millimetre or inch; one where the tank goes by volume. */
export const slope = (tank) => (tank.measured_by === "level" ? tank.capacity / tank.full_level : 1);

/** Where a fault of either request lies in this form; `stock` is the only one that was asked for. */
function place(at, { tank, stocks }, stock) {
  const level = tank.measured_by === "level";
  const filled = level ? "fill_to_level" : "fill_to";
  const moved = [
    ["/sump/reading", "/reading"],
    ["/sump/volume", level ? "/tank/level" : "/tank/volume"],
    ["/sump", "/tank"],
    ["/target/volume", tank[filled] == null ? "/tank" : `/tank/${filled}`],
    ["/target/concentration", "/band/target"],
    ["/target", "/band"],
    ...(stock ? [["/stocks/0", stocks ? `/stocks/${stocks.indexOf(stock)}` : ""]] : []),
  ].find(([from]) => at === from || at.startsWith(`${from}/`));
  if (!moved) return at;
  return moved[1] && moved[1] + at.slice(moved[0].length);
}

/** Why no volume can be told from a level, and beside which entry that has to be said. */
function unscaled({ measured_by: by, full_level: full }) {
  if (by !== "level" || full > 0) return [];
  const [code, detail] =
    full == null
      ? ["missing", "The level of the full tank is missing."]
      : ["out_of_range", "The level of a full tank is more than 0."];
  return [{ pointer: "/tank/full_level", code, detail }];
}

/** A band whose ends were typed the wrong way round. */
const turnedRound = (band) =>
  band?.low > band?.high
    ? [
        {
          pointer: "/band/low",
          code: "inconsistent",
          detail: "The weakest allowed is stronger than the strongest allowed.",
        },
      ]
    : [];

/** Asks the service, and puts the two answers together. */
export async function answer(document, ask) {
  const { units, reference, tank, reading, band, vessel, premix_at_most, stocks, draining } = document;
  const strength = await ask("concentration", { units, reference, reading, band });
  const per = slope(tank);
  const level = tank.measured_by === "level" ? tank.level : undefined;
  const volume = tank.measured_by === "level" ? level * per : tank.volume;
  const finite = (number) => (Number.isFinite(number) ? number : undefined);
  const now = strength.record?.answer.concentration;
  const fillTo = tank.fill_to ?? tank.fill_to_level;
  const strongest = premix_at_most ?? (vessel === "stirred_tank" ? 100 : PREMIX_AT_MOST);
  const correction = fillTo == null && correct(volume, now, band?.target, stocks, tank.capacity, strongest);
  const stock = correction ? correction.stock : undefined;
  const dose = await ask("top-up", {
    units,
    reference,
    sump: { capacity: tank.capacity, volume: finite(volume), reading },
    target: { concentration: band?.target, volume: finite(correction ? correction.volume : fillTo * per) },
    band: band && { low: band.low, high: band.high },
    vessel,
    premix_at_most,
    ...(stock ? { stocks: [stock], draining: "not_allowed" } : { stocks, draining }),
  });
  const asked = [
    { name: "concentration", ...strength },
    { name: "top-up", ...dose },
  ];
  const problem = strength.problem ?? dose.problem;
  if (!problem) return { asked, request: dose.request, record: dose.record, strength: strength.record, tank };
  const turned = turnedRound(band);
  const errors = new Map();
  const add = (pointer, fault) => errors.set(pointer + fault.detail, { ...fault, pointer });
  for (const one of asked) {
    for (const fault of one.problem?.errors ?? []) {
      // A level that was typed is not to blame for a volume that it does not give.
      const blameless =
        fault.pointer === "/sump/volume" && level != null && !(per > 0 && Number.isFinite(per));
      const at = place(fault.pointer, document, stock);
      // It follows from the two ends, which are missing then, or turned round.
      const follows =
        (at === "/band/target" && fault.code === "missing") ||
        (turned.length > 0 && /^\/band\/(low|high)$/.test(at));
      if (!blameless && !follows) add(at, fault);
    }
  }
  for (const fault of [...unscaled(tank), ...turned]) add(fault.pointer, fault);
  return { asked, problem: { ...problem, errors: [...errors.values()] } };
}

/** What a premix is at most where nobody says, as `top-up` takes it, % by volume. */
const PREMIX_AT_MOST = 20;

/** The least that brings a tank to its target: how full it is then, and with which stock
 *  alone, where that may be poured as it is (Pearson's square: volume · (target − now) /
 *  (poured − target)). Where that has no room or not enough stock, the service has to find
 *  out what else would do. */
function correct(volume, now, target, stocks, capacity, strongest) {
  if (![volume, now, target, capacity].every(Number.isFinite) || capacity <= 0) return undefined;
  const known = stocks ?? [
    { name: "concentrate", concentration: 100 },
    { name: "water", concentration: 0 },
  ];
  const stronger = (a, b) =>
    (now < target ? b.concentration > a.concentration : b.concentration < a.concentration) ? b : a;
  const stock = known.reduce(stronger);
  const poured = Math.min(stock.concentration, strongest);
  const added = (volume * (target - now)) / (poured - target);
  if (Math.abs(target - now) < 1e-9) return { volume: Math.min(volume, capacity) || capacity };
  const taken = (added * poured) / (stock.concentration || 1);
  const does = added > 0 && volume + added <= capacity && taken <= (stock.volume ?? Infinity);
  if (!does) return { volume: capacity };
  return { volume: volume + added, stock: poured === stock.concentration ? stock : undefined };
}
