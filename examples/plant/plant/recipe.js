// The service's answer as control recipes, one for each batch.

const { CARRIER, CONSUMED, PRODUCED, lotOf, lots } = require("./order");
const { code } = require("./units");

// The phases of the recipe by the actions of the job sheet.
const PHASES = {
  pour: "charge",
  stir_in: "stir in",
  check_batch: "reread",
  load_clean: "load",
  set_up: "set up",
  suck_out: "drain",
  flush: "flush",
  refill: "fill",
  drive_back: "return",
  empty_basket: "empty the basket",
  empty_dirty_tank: "empty the dirty tank",
};
const BEFORE = ["load_clean"];
const AFTER = ["drive_back", "empty_dirty_tank"];

const batchID = (order, number) => `${order.JobOrderID}-B${number}`;

/** The control recipes of an order by the record that the service gave. */
function controlRecipes(order, record) {
  const sheet = record.answer.sheet.map((step, place) => ({ ...step, sequence: place + 1 }));
  return record.answer.batches.map((batch, place) =>
    recipe(order, record, sheet, batch, place + 1),
  );
}

function recipe(order, record, sheet, batch, number) {
  const { units } = record;
  const volume = code("volume", units);
  const id = batchID(order, number);
  const steps = sheet.filter((step) => step.haul === undefined && step.batch === number);
  const hauls = record.answer.hauls.map((haul, place) => ({ ...haul, number: place + 1 }));
  return {
    header: {
      controlRecipeID: `${id}-CR`,
      BatchID: id,
      JobOrderID: order.JobOrderID,
      WorkMasterID: order.WorkMasterID,
      product: batch.product,
      batchSize: quantity("batch size", batch.volume, volume),
    },
    formula: {
      processInputs: batch.take
        .filter((take) => take.volume > 0)
        .map((take) => ({
          ...materialOf(order, take.name),
          MaterialUse: CONSUMED,
          Quantity: take.volume,
          EngineeringUnits: volume,
        })),
      processParameters: [
        quantity("concentration", batch.concentration, "P1"),
        ...(batch.parts_of_water === undefined
          ? []
          : [{ ID: "parts of water", Value: batch.parts_of_water }]),
      ],
      processOutputs: [
        {
          MaterialClassID: batch.product,
          MaterialLotID: id,
          MaterialUse: PRODUCED,
          Quantity: batch.volume,
          EngineeringUnits: volume,
        },
      ],
    },
    equipmentRequirements: record.answer.sumps
      .filter((sump) => sump.refill.batch === number)
      .map((sump) => ({
        ID: sump.name,
        Properties: [
          quantity("refill", sump.refill.volume, volume),
          quantity("concentration after", sump.after.concentration, "P1"),
          quantity("out of service", sump.out_of_service_minutes, "MIN"),
        ],
      })),
    procedure: [
      {
        unitProcedure: "prepare the batch",
        operations: [{ operation: "premix", phases: phases(steps, units) }],
      },
      ...hauls
        .filter((haul) => haul.batch === number)
        .map((haul) => trip(order, sheet, haul, units)),
    ],
    otherInformation: { cautions: record.cautions, assumptions: record.assumptions },
  };
}

/** A trip of the carrier: loading, each machine, and the way back. */
function trip(order, sheet, haul, units) {
  const own = sheet.filter((step) => step.haul === haul.number);
  const operations = [];
  let last;
  for (const step of own) {
    const before = BEFORE.includes(step.action);
    const name = before
      ? "load"
      : AFTER.includes(step.action) || last?.operation === "unload"
        ? "unload"
        : "recharge";
    const machine = name === "recharge" ? (step.sump ?? last?.equipment) : undefined;
    if (last?.operation !== name || last.equipment !== machine) {
      last = { operation: name, ...(machine ? { equipment: machine } : {}), steps: [] };
      operations.push(last);
    }
    last.steps.push(step);
  }
  const carrier = order.EquipmentRequirements.find(
    (equipment) => equipment.EquipmentUse === CARRIER,
  );
  return {
    unitProcedure: `trip ${haul.number}`,
    equipment: carrier.ID,
    operations: operations.map(({ steps, ...operation }) => ({
      ...operation,
      phases: phases(steps, units),
    })),
  };
}

const phases = (steps, units) =>
  steps.map((step) => ({
    sequence: step.sequence,
    phase: PHASES[step.action] ?? step.action,
    ...(step.stock ? { material: step.stock } : {}),
    parameters: [
      ...(step.volume === undefined
        ? []
        : [quantity("volume", step.volume, code("volume", units))]),
      ...(step.mass === undefined ? [] : [quantity("chips", step.mass, code("mass", units))]),
      ...(step.concentration === undefined
        ? []
        : [quantity("concentration", step.concentration, "P1")]),
      ...(step.minutes === undefined ? [] : [quantity("duration", step.minutes, "MIN")]),
    ],
    instruction: step.text,
  }));

const quantity = (ID, Value, EngineeringUnits) => ({ ID, Value, EngineeringUnits });

/** How the order names a material that the service knows by its lot. */
function materialOf(order, name) {
  const { MaterialClassID, MaterialDefinitionID, MaterialLotID } = lots(order).find(
    (lot) => lotOf(lot) === name,
  );
  return { MaterialClassID, MaterialDefinitionID, MaterialLotID };
}

module.exports = { batchID, controlRecipes, materialOf, quantity };
