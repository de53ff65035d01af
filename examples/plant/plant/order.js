// A job order, and the question that it asks of the service.

const { Reader } = require("./reader");

const CONSUMED = "material consumed";
const PRODUCED = "material produced";
const TO_RECHARGE = "to recharge";
const CARRIER = "carrier";

const MACHINE_TABLE = {
  fluid: ["product", "text"],
  "working volume": ["volume", "volume"],
  "target concentration": ["target", "share"],
  residue: ["residue", "volume"],
  "residue concentration": ["residue_concentration", "share"],
  "residue contents": ["residue_properties", "contents"],
  chips: ["solids", "mass"],
  "fluid now": [
    "fluid_now",
    {
      volume: ["volume", "volume"],
      concentration: ["concentration", "share"],
      contents: ["properties", "contents"],
    },
  ],
  flush: [
    "flush",
    { volume: ["volume", "volume"], times: ["times", "count"], material: ["stock", "text"] },
  ],
};
const CARRIER_TABLE = {
  "clean tank": ["clean_tank", "volume"],
  "dirty tank": ["dirty_tank", "volume"],
  "usable share of the dirty tank": ["usable_share", "share"],
  "chip basket": ["solids_basket", "mass"],
  "suction rate": ["suction_rate", "rate"],
  "discharge rate": ["discharge_rate", "rate"],
};
const PARAMETERS_TABLE = {
  times: [
    "times",
    {
      "set-up": ["setup_minutes", "minutes"],
      travel: ["travel_minutes", "minutes"],
      loading: ["loading_minutes", "minutes"],
      flush: ["flush_minutes", "minutes"],
      "tank emptying": ["tank_emptying_minutes", "minutes"],
      "basket emptying": ["basket_emptying_minutes", "minutes"],
    },
  ],
  "strength tolerance": ["strength_tolerance", "share"],
  limits: ["limits", "contents"],
};
const LOT_TABLE = {
  concentration: ["concentration", "share"],
  "on hand": ["volume", "volume"],
  density: ["density", "density"],
  contents: ["properties", "contents"],
};
const FLUID_TABLE = {
  method: ["method", "text"],
  factor: ["factor", "factor"],
  "water reading": ["water", "reading"],
  "acceptance half width": ["half_width", "share"],
};

// How the instruments of this plant are read: the member of the reading, that of the water, the unit.
const METHODS = {
  refractometer: { value: "brix", water: "water_brix", unit: "brix" },
  titration: { value: "titrant_ml", water: "blank_ml", unit: "titrant" },
};

/** What the plant calls a material: by its lot, or by its definition where it comes without lots. */
const lotOf = (material) => material.MaterialLotID ?? material.MaterialDefinitionID;

const lots = (order) =>
  listOf(order.MaterialRequirements).filter((entry) => entry?.MaterialUse === CONSUMED);

const listOf = (value) => (Array.isArray(value) ? value : []);

/**
 * The question for /v1/recharge, what the order says of each fluid, the faults that the
 * plant finds itself, and where in the order each member of the question came from.
 */
function questionOf(order) {
  const reader = new Reader();
  const question = { units: undefined, reference: order.JobOrderID, sumps: [], stocks: [] };
  reader.origins[""] = "";
  Object.assign(reader.origins, {
    "/sumps": "/EquipmentRequirements",
    "/stocks": "/MaterialRequirements",
  });
  reader.names[""] = {
    sumps: "EquipmentRequirements",
    stocks: "MaterialRequirements",
    carrier: CARRIER,
  };
  readEquipment(order, question, reader);
  const fluids = readMaterials(order, question, reader);
  readParameters(order, question, reader);
  for (const product of new Set(question.sumps.map((sump) => sump.product))) {
    if (typeof product === "string" && !Object.hasOwn(fluids, product)) {
      const detail = `No ${PRODUCED} is of the class ${JSON.stringify(product)}: how its batches are read, and how far a reading may be off, is missing.`;
      reader.fault("/MaterialRequirements", detail);
    }
  }
  question.units = reader.system ?? "metric";
  return { question, fluids, faults: reader.faults, origins: reader.origins, names: reader.names };
}

function readEquipment(order, question, reader) {
  reader.each(order.EquipmentRequirements, "/EquipmentRequirements", (equipment, at) => {
    const properties = `${at}/Properties`;
    if (equipment.EquipmentUse === TO_RECHARGE) {
      const to = `/sumps/${question.sumps.length}`;
      reader.origins[to] = at;
      reader.origins[`${to}/name`] = `${at}/ID`;
      question.sumps.push({
        name: equipment.ID,
        ...reader.object(equipment.Properties, MACHINE_TABLE, properties, to),
      });
    } else if (equipment.EquipmentUse === CARRIER && !question.carrier) {
      reader.origins["/carrier"] = at;
      question.carrier = reader.object(equipment.Properties, CARRIER_TABLE, properties, "/carrier");
    } else if (equipment.EquipmentUse === CARRIER) {
      reader.fault(`${at}/EquipmentUse`, "There is a carrier already. A round is done with one.");
    } else {
      reader.fault(
        `${at}/EquipmentUse`,
        `Must be ${JSON.stringify(TO_RECHARGE)} or ${JSON.stringify(CARRIER)}.`,
      );
    }
  });
}

function readMaterials(order, question, reader) {
  const fluids = Object.create(null);
  if (!Array.isArray(order.MaterialRequirements)) {
    reader.fault("/MaterialRequirements", "A list belongs here.");
  }
  listOf(order.MaterialRequirements).forEach((material, place) => {
    const at = `/MaterialRequirements/${place}`;
    if (material?.MaterialUse === CONSUMED) {
      const to = `/stocks/${question.stocks.length}`;
      const { MaterialClassID: product } = material;
      reader.origins[to] = at;
      reader.origins[`${to}/name`] =
        `${at}/${material.MaterialLotID === undefined ? "MaterialDefinitionID" : "MaterialLotID"}`;
      reader.origins[`${to}/product`] = `${at}/MaterialClassID`;
      const stock = reader.object(material.Properties, LOT_TABLE, `${at}/Properties`, to);
      question.stocks.push({
        name: lotOf(material),
        ...(product === undefined ? {} : { product }),
        ...stock,
      });
    } else if (material?.MaterialUse === PRODUCED) {
      readFluid(material, at, fluids, reader);
    } else {
      reader.fault(
        `${at}/MaterialUse`,
        `Must be ${JSON.stringify(CONSUMED)} or ${JSON.stringify(PRODUCED)}.`,
      );
    }
  });
  return fluids;
}

/** How batches of a fluid are read, and how far a reading may be off. */
function readFluid(material, at, fluids, reader) {
  const properties = Array.isArray(material.Properties) ? material.Properties : [];
  const method = METHODS[properties.find((entry) => entry?.ID === "method")?.Value];
  if (!method) {
    return reader.fault(
      `${at}/Properties`,
      `The method of reading is missing: ${Object.keys(METHODS).join(" or ")}.`,
    );
  }
  const table = { ...FLUID_TABLE, "water reading": ["water", method.unit] };
  const fluid = reader.object(
    properties,
    table,
    `${at}/Properties`,
    `/fluids/${Object.keys(fluids).length}`,
  );
  for (const [member, name] of [
    ["factor", "factor"],
    ["half_width", "acceptance half width"],
  ]) {
    if (fluid[member] === undefined)
      reader.fault(`${at}/Properties`, `${JSON.stringify(name)} is missing.`);
    else if (!(fluid[member] > 0))
      reader.fault(`${at}/Properties`, `${JSON.stringify(name)} must be more than 0.`);
  }
  if (typeof material.MaterialClassID === "string") fluids[material.MaterialClassID] = fluid;
  else
    reader.fault(
      `${at}/MaterialClassID`,
      "The class of the fluid is missing, which machines and lots name as well.",
    );
}

function readParameters(order, question, reader) {
  const from = "/JobOrderParameters";
  const read = reader.object(order.JobOrderParameters, PARAMETERS_TABLE, from, "");
  if (read.limits) {
    const limits = Object.entries(read.limits).map(([name, max]) => [name, { max }]);
    read.limits = Object.fromEntries(limits);
  }
  Object.assign(question, read);
}

/** A reading as the service takes it. */
function readingOf(fluid, value) {
  const method = METHODS[fluid.method];
  const water = fluid.water === undefined ? {} : { [method.water]: fluid.water };
  return { method: fluid.method, [method.value]: value, factor: fluid.factor, ...water };
}

/** What the instrument reads on the make-up water alone. */
const waterReading = (fluid) => readingOf(fluid, fluid.water ?? 0);

const unitOfReading = (fluid) => METHODS[fluid.method].unit;

module.exports = {
  CONSUMED,
  PRODUCED,
  TO_RECHARGE,
  CARRIER,
  lotOf,
  lots,
  questionOf,
  readingOf,
  unitOfReading,
  waterReading,
};
