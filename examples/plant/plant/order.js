// A job order, and the question that it asks of the service.

const { Reader } = require("./reader");

const CONSUMED = "material consumed";
const PRODUCED = "material produced";
const TO_RECHARGE = "to recharge";
// The uses of equipment that goes along, and the purposes of vessels.
const VESSELS = {
  "for clean fluid": "clean",
  "for dirty fluid": "dirty",
  "for chips": "chips",
};

const MACHINE_TABLE = {
  fluid: ["product", "text"],
  "working volume": ["volume", "volume"],
  "target concentration": ["target", "share"],
  residue: ["residue", "volume"],
  "residue concentration": ["residue_concentration", "share"],
  "residue contents": ["residue_properties", "contents"],
  chips: ["chips", "mass"],
  "system cleaner": ["cleaner", { dose: ["dose", "share"], circulation: ["hours", "hours"] }],
  scraping: ["scraping_minutes", "minutes"],
  "fluid now": [
    "fluid_now",
    {
      volume: ["volume", "volume"],
      concentration: ["concentration", "share"],
      contents: ["properties", "contents"],
    },
  ],
  rinse: [
    "rinse",
    {
      volume: ["volume", "volume"],
      times: ["times", "count"],
      concentration: ["strength", "share"],
      material: ["stock", "text"],
    },
  ],
};
const VESSEL_TABLE = {
  capacity: ["capacity", "volume"],
  "usable share": ["usable_share", "share"],
  "rated load": ["rated_load", "mass"],
  "pump rate": ["pump_rate", "rate"],
  filling: ["fill_minutes", "minutes"],
  emptying: ["empty_minutes", "minutes"],
  "emptied on the way": ["emptied_on_the_way", "yes or no"],
};
const PARAMETERS_TABLE = {
  times: [
    "times",
    {
      "set-up": ["setup_minutes", "minutes"],
      drive: ["drive_minutes", "minutes"],
      rinse: ["rinse_minutes", "minutes"],
      washing: ["washing_minutes", "minutes"],
    },
  ],
  "strength tolerance": ["strength_tolerance", "share"],
  "largest batch": ["batch_at_most", "volume"],
  "strongest premix": ["premix_at_most", "share"],
  "chip density": ["chip_density", "density"],
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
  "stirred tank": ["stirred", "yes or no"],
};

// The instruments of this plant: the member for the reading, that for the water, the unit.
const METHODS = {
  refractometer: { value: "brix", water: "water_brix", unit: "brix" },
  titration: { value: "titrant_ml", water: "blank_ml", unit: "titrant" },
};

/** The plant's name for a material: its lot, or its definition if it has no lots. */
const lotOf = (material) => material.MaterialLotID ?? material.MaterialDefinitionID;

const lots = (order) => listOf(order.MaterialRequirements).filter((entry) => entry?.MaterialUse === CONSUMED);

const listOf = (value) => (Array.isArray(value) ? value : []);

/**
 * The question for /v1/recharge, the order's data on each fluid, the faults found by the
 * plant itself, and the place in the order of each member of the question.
 */
function questionOf(order) {
  const reader = new Reader();
  const question = { units: undefined, reference: order.JobOrderID, sumps: [], stocks: [] };
  reader.origins[""] = "";
  Object.assign(reader.origins, {
    "/sumps": "/EquipmentRequirements",
    "/stocks": "/MaterialRequirements",
    "/vessels": "/EquipmentRequirements",
  });
  reader.names[""] = {
    sumps: "EquipmentRequirements",
    stocks: "MaterialRequirements",
    vessels: "EquipmentRequirements",
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
    } else if (Object.hasOwn(VESSELS, equipment.EquipmentUse)) {
      question.vessels ??= [];
      const to = `/vessels/${question.vessels.length}`;
      reader.origins[to] = at;
      reader.origins[`${to}/name`] = `${at}/ID`;
      question.vessels.push({
        name: equipment.ID,
        holds: VESSELS[equipment.EquipmentUse],
        ...reader.object(equipment.Properties, VESSEL_TABLE, properties, to),
      });
    } else {
      const known = [TO_RECHARGE, ...Object.keys(VESSELS)].map((use) => JSON.stringify(use));
      reader.fault(`${at}/EquipmentUse`, `Must be one of ${known.join(", ")}.`);
    }
  });
}

function readMaterials(order, question, reader) {
  const fluids = Object.create(null);
  if (!Array.isArray(order.MaterialRequirements)) {
    reader.fault("/MaterialRequirements", "A list is expected here.");
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

/** The method of reading batches of a fluid, and the tolerance of a reading. */
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
  const fluid = reader.object(properties, table, `${at}/Properties`, `/fluids/${Object.keys(fluids).length}`);
  for (const [member, name] of [
    ["factor", "factor"],
    ["half_width", "acceptance half width"],
  ]) {
    if (fluid[member] === undefined) reader.fault(`${at}/Properties`, `${JSON.stringify(name)} is missing.`);
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

/** A reading in the form that the service accepts. */
function readingOf(fluid, value) {
  const method = METHODS[fluid.method];
  const water = fluid.water === undefined ? {} : { [method.water]: fluid.water };
  return { method: fluid.method, [method.value]: value, factor: fluid.factor, ...water };
}

/** The instrument's reading of the make-up water alone. */
const waterReading = (fluid) => readingOf(fluid, fluid.water ?? 0);

const unitOfReading = (fluid) => METHODS[fluid.method].unit;

module.exports = {
  CONSUMED,
  METHODS,
  PRODUCED,
  TO_RECHARGE,
  lotOf,
  lots,
  questionOf,
  readingOf,
  unitOfReading,
  waterReading,
};
