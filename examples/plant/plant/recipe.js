// The service's answer as control recipes, one for each batch.

const { CONSUMED, PRODUCED, lotOf, lots } = require("./order");
const { code } = require("./units");

const PREPARE = "prepare the batch";

// The phases of the recipe by the actions of the job sheet.
const PHASES = {
  circulate_cleaner: "circulate cleaner",
  pour: "charge",
  pour_on: "charge",
  stir_in: "stir in",
  check_batch: "reread",
  wash: "wash",
  load: "load",
  set_up: "set up",
  take_out: "drain",
  scrape: "scrape",
  rinse: "rinse",
  refill: "fill",
  drive_back: "return",
  empty_chips: "empty the chips",
  empty_dirty: "empty the dirty fluid",
};
const BEFORE = ["wash", "load"];
const AFTER = ["drive_back", "empty_dirty"];

const batchID = (order, number) => `${order.JobOrderID}-B${number}`;

/** The control recipes of an order, from the service's record. */
function controlRecipes(order, record) {
  const sheet = record.answer.sheet.map((step, place) => ({ ...step, sequence: place + 1 }));
  return record.answer.batches.map((batch, place) => recipe(order, record, sheet, batch, place + 1));
}

function recipe(order, record, sheet, batch, number) {
  const { units } = record;
  const volume = code("volume", units);
  const id = batchID(order, number);
  const atNoMachine = sheet.filter((step) => step.sump === undefined && step.trip === undefined);
  const trips = (record.answer.trips ?? []).map((one, place) => ({ ...one, number: place + 1 }));
  const firstOfProduct =
    record.answer.batches.findIndex((one) => one.product === batch.product) === number - 1;
  const ofRinse = atNoMachine.filter(
    (step) => step.rinse_mix !== undefined && step.product === batch.product,
  );
  const operation = (name, mine) => ({
    operation: name,
    phases: phases(atNoMachine.filter(mine), units),
  });
  // The work at a machine of this batch outside any trip.
  const atItsMachines = (beforehand) =>
    sheet.filter(
      (step) =>
        step.trip === undefined &&
        batch.sumps.includes(step.sump) &&
        (step.action === "circulate_cleaner") === beforehand,
    );
  const unit = (unitProcedure, name, steps) =>
    steps.length === 0 ? [] : [{ unitProcedure, operations: machineByMachine(name, steps, units) }];
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
          ...(sump.out_of_service_minutes === undefined
            ? []
            : [quantity("out of service", sump.out_of_service_minutes, "MIN")]),
        ],
      })),
    procedure: [
      ...unit("before the round", "circulate", atItsMachines(true)),
      {
        unitProcedure: PREPARE,
        operations: [
          operation("premix", (step) => step.batch === number),
          ...(firstOfProduct && ofRinse.length > 0
            ? [{ operation: "mix to rinse with", phases: phases(ofRinse, units) }]
            : []),
        ],
      },
      ...trips.filter((one) => one.batch === number).map((one) => trip(sheet, one, units)),
      ...unit("recharge", "recharge", atItsMachines(false)),
    ],
    otherInformation: { cautions: record.cautions, assumptions: record.assumptions },
  };
}

/** An operation for each machine, in the order of the steps. */
function machineByMachine(name, steps, units) {
  const machines = [...new Set(steps.map((step) => step.sump))];
  return machines.map((equipment) => ({
    operation: name,
    equipment,
    phases: phases(
      steps.filter((step) => step.sump === equipment),
      units,
    ),
  }));
}

/** A trip: loading, each machine, and the way back. */
function trip(sheet, { number }, units) {
  const own = sheet.filter((step) => step.trip === number);
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
  return {
    unitProcedure: `trip ${number}`,
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
    ...(step.vessel ? { equipment: step.vessel } : {}),
    parameters: [
      ...(step.volume === undefined ? [] : [quantity("volume", step.volume, code("volume", units))]),
      ...(step.mass === undefined ? [] : [quantity("chips", step.mass, code("mass", units))]),
      ...(step.concentration === undefined ? [] : [quantity("concentration", step.concentration, "P1")]),
      ...(step.times === undefined ? [] : [{ ID: "mixes", Value: step.times }]),
      ...(step.hours === undefined ? [] : [quantity("circulation", step.hours, "HUR")]),
      ...(step.minutes === undefined ? [] : [quantity("duration", step.minutes, "MIN")]),
    ],
    instruction: step.text,
  }));

const quantity = (ID, Value, EngineeringUnits) => ({ ID, Value, EngineeringUnits });

/** The order's name for a material that the service knows by its lot. */
function materialOf(order, name) {
  const { MaterialClassID, MaterialDefinitionID, MaterialLotID } = lots(order).find(
    (lot) => lotOf(lot) === name,
  );
  return { MaterialClassID, MaterialDefinitionID, MaterialLotID };
}

module.exports = { PREPARE, batchID, controlRecipes, materialOf, quantity };
