// A job order from its receipt to its control recipes: filing, and the next question.

const { questionOf, unitOfReading, waterReading } = require("./order");
const { PREPARE, batchID, controlRecipes } = require("./recipe");
const { refusal, rejection } = require("./problem");
const { code } = require("./units");

const WORK_MASTER = "recharge";
// An identity that fits into a header and an address.
const IDENTITY = /^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$/;
// States of a job order in OPC 10031-4.
const WAITING = "NotAllowedToStart";
const READY = "AllowedToStart";
const ABORTED = "Aborted";

const find = (jobs, id) => (Object.hasOwn(jobs, id) ? jobs[id] : undefined);

/** Reads a document that was posted: `{ document }` or `{ problem }`. */
function read(payload) {
  try {
    const document = JSON.parse(payload.toString());
    if (document !== null && typeof document === "object" && !Array.isArray(document)) return { document };
    return { problem: refusal(400, "Not a document", "A JSON object is expected.") };
  } catch (error) {
    return { problem: refusal(400, "Not JSON", `The document cannot be read: ${error.message}.`) };
  }
}

/** Files an incoming order: `{ job }`, or `{ problem }` if it cannot be processed. */
function receive(order, jobs, now) {
  const id = order.JobOrderID;
  if (typeof id !== "string" || !IDENTITY.test(id)) {
    const detail =
      "JobOrderID must be 1 to 40 letters, digits, points, dashes or underscores, the first a letter or a digit.";
    return { problem: refusal(422, "No identity", detail, [{ pointer: "/JobOrderID", detail }]) };
  }
  if (order.WorkMasterID?.[0]?.ID !== WORK_MASTER) {
    const detail = `This plant system works by the work master ${JSON.stringify(WORK_MASTER)} alone.`;
    return {
      problem: refusal(422, "No such work master", detail, [{ pointer: "/WorkMasterID/0/ID", detail }]),
    };
  }
  const known = find(jobs, id);
  if (known && known.state !== WAITING && known.state !== ABORTED) {
    const detail = `The job order ${id} is at work already. A changed order needs an identity of its own.`;
    return { problem: refusal(409, "Known already", detail) };
  }
  const rejected = known?.state === ABORTED ? [...known.rejected, known.rejection] : (known?.rejected ?? []);
  jobs[id] = {
    order,
    state: WAITING,
    received: now,
    faults: questionOf(order).faults,
    rejected,
    batches: [],
  };
  return { job: jobs[id] };
}

/** The question for the control recipes. */
function askForRecipes({ order }) {
  const { question } = questionOf(order);
  return { order: order.JobOrderID, step: "recharge", calculation: "recharge", document: question };
}

/** Files its outcome. */
function fileRecipes(job, outcome, now) {
  const { order, faults } = job;
  if (outcome.waits && faults.length === 0) {
    return Object.assign(job, { again: outcome.waits, reason: outcome.reason });
  }
  delete job.again;
  delete job.reason;
  if (outcome.problem || faults.length > 0) {
    return Object.assign(job, {
      state: ABORTED,
      ended: now,
      rejection: rejection(order, faults, outcome.problem),
    });
  }
  const { record } = outcome;
  const { fluids } = questionOf(order);
  return Object.assign(job, {
    state: READY,
    record: {
      ...filed(record, now),
      sumps: record.answer.sumps,
      trips: record.answer.trips,
      rinseMixes: record.answer.rinse_mixes,
    },
    controlRecipes: controlRecipes(order, record),
    batches: record.answer.batches.map((batch, place) => ({
      BatchID: batchID(order, place + 1),
      status: "to make",
      product: batch.product,
      planned: { volume: batch.volume, take: batch.take },
      acceptance: acceptance(fluids[batch.product], batch.concentration),
      confirmations: [],
    })),
  });
}

/** The part of an answer that is kept: enough to show how it was calculated and that it closed. */
function filed({ calculation, version, reference, units, balance, assumptions, cautions }, now) {
  return {
    calculation,
    version,
    reference,
    units,
    ...(balance ? { balance } : {}),
    assumptions,
    cautions,
    filed: now,
  };
}

/** The band for a batch's reading: the order's half width on either side of the target. */
function acceptance({ half_width: half }, target) {
  return { low: Math.max(0, target - half), target, high: Math.min(100, target + half) };
}

/** One question for each batch: its band on the scale of the instrument, with the reading of the water. */
function askForMarks(job) {
  const { fluids, question } = questionOf(job.order);
  return job.batches.map(({ BatchID, product, acceptance: { low, target, high } }) => ({
    order: job.order.JobOrderID,
    step: `${BatchID}.marks`,
    batch: BatchID,
    calculation: "concentration",
    document: {
      units: question.units,
      reference: BatchID,
      reading: waterReading(fluids[product]),
      band: { low, target, high },
    },
  }));
}

/** Files the marks with the batches and shows them in the recipes' phase of reading. */
function fileMarks(job, answers) {
  const { fluids } = questionOf(job.order);
  for (const { ask, outcome } of answers) {
    const place = job.batches.findIndex((batch) => batch.BatchID === ask.batch);
    const batch = job.batches[place];
    const marks = outcome.record?.answer.marks;
    if (marks)
      batch.acceptance.marks = {
        ...marks,
        EngineeringUnits: code(unitOfReading(fluids[batch.product]), "metric"),
      };
    else batch.acceptance.noMarks = outcome.problem?.detail ?? outcome.reason;
    showMarks(job.controlRecipes[place], batch.acceptance);
  }
  return job;
}

function showMarks(recipe, { low, target, high, marks, noMarks }) {
  const bounds = [
    ["lowest", low, marks?.low],
    ["aim for", target, marks?.target],
    ["highest", high, marks?.high],
  ];
  const check = bounds.flatMap(([name, concentration, mark]) => [
    { ID: `${name} concentration`, Value: concentration, EngineeringUnits: "P1" },
    ...(marks ? [{ ID: `${name} reading`, Value: mark, EngineeringUnits: marks.EngineeringUnits }] : []),
  ]);
  const prepared = recipe.procedure.find((unit) => unit.unitProcedure === PREPARE);
  const reread = prepared.operations[0].phases.find((phase) => phase.phase === "reread");
  reread.check = check;
  if (noMarks) reread.noMarks = noMarks;
}

module.exports = {
  ABORTED,
  READY,
  WAITING,
  askForMarks,
  askForRecipes,
  filed,
  fileMarks,
  fileRecipes,
  find,
  read,
  receive,
};
