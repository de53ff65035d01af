// The job response: the state of a job, and the materials it actually used and made.

const { CONFIRMED, HELD, UNREAD, poured } = require("./batch");
const { ABORTED, READY, WAITING } = require("./job");
const { CONSUMED, PRODUCED, lotOf, questionOf } = require("./order");
const { materialOf, quantity } = require("./recipe");
const { code } = require("./units");

/** The state of a job by its batches, with the substate where OPC 10031-4 has one. */
function stateOf({ state, batches }) {
  if (state === WAITING || state === ABORTED) return [state];
  const are = (status) => batches.filter((batch) => batch.status === status).length;
  if (are(HELD) > 0) return ["Interrupted", "Held"];
  if (are(CONFIRMED) === batches.length) return ["Ended", "Completed"];
  return are(CONFIRMED) + are(UNREAD) > 0 ? ["Running"] : [READY];
}

/** The response to a job order as it stands now. */
function jobResponse(job) {
  const { order, batches, record, rejection, reason } = job;
  const unit = code("volume", questionOf(order).question.units);
  const state = stateOf(job);
  const confirmations = batches.flatMap((batch) => batch.confirmations);
  return {
    JobResponseID: `${order.JobOrderID}-R`,
    JobOrderID: order.JobOrderID,
    Description: order.Description,
    StartTime: confirmations[0]?.filed,
    EndTime:
      state[0] === "Ended"
        ? confirmations
            .map((one) => one.filed)
            .sort()
            .at(-1)
        : job.ended,
    JobState: state.map((StateText) => ({ StateText })),
    JobResponseData: batches.map(dataOf),
    PersonnelActuals: [
      ...new Set(confirmations.flatMap((one) => one.PersonnelActuals.map((person) => person.ID))),
    ].map((ID) => ({ ID })),
    MaterialActuals: [
      ...batches.flatMap((batch) => consumed(order, batch, unit)),
      ...batches.flatMap((batch) => produced(batch, unit)),
    ],
    ...(record ? { record } : {}),
    ...(rejection ? { rejection } : {}),
    ...(reason ? { reason } : {}),
  };
}

/** The report on a batch: its status, its band, and each reading with its outcome. */
function dataOf({ BatchID, status, acceptance, confirmations }) {
  return { ID: BatchID, Value: status, acceptance, confirmations };
}

/** The actual quantity of each lot beside the planned one. */
function consumed(order, { BatchID, planned, confirmations }, EngineeringUnits) {
  const taken = new Map();
  for (const actual of confirmations.flatMap((one) => one.MaterialActuals)) {
    if (lotOf(actual) !== BatchID)
      taken.set(lotOf(actual), (taken.get(lotOf(actual)) ?? 0) + actual.Quantity);
  }
  return [...taken].map(([lot, Quantity]) => ({
    ...materialOf(order, lot),
    MaterialUse: CONSUMED,
    Quantity,
    EngineeringUnits,
    Properties: [
      { ID: "batch", Value: BatchID },
      quantity("planned", planned.take.find((take) => take.name === lot)?.volume ?? 0, EngineeringUnits),
    ],
  }));
}

/** The batch itself, at the concentration of its last reading. */
function produced(batch, EngineeringUnits) {
  const { BatchID, product, status, confirmations } = batch;
  if (confirmations.length === 0) return [];
  const { concentration } = confirmations.at(-1);
  return [
    {
      MaterialClassID: product,
      MaterialLotID: BatchID,
      MaterialUse: PRODUCED,
      Quantity: poured(batch),
      EngineeringUnits,
      Properties: [
        { ID: "status", Value: status },
        ...(concentration === undefined ? [] : [quantity("concentration", concentration, "P1")]),
      ],
    },
  ];
}

module.exports = { jobResponse, stateOf };
