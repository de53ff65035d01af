// A batch from the quantities actually poured to its confirmation or correction.

const { ABORTED, WAITING, filed, find } = require("./job");
const { CONSUMED, lotOf, lots, questionOf, readingOf, unitOfReading } = require("./order");
const { refusal } = require("./problem");
const { materialOf } = require("./recipe");
const { code, unitFault } = require("./units");

const CONFIRMED = "confirmed";
const HELD = "held";
const UNREAD = "reading not looked up yet";

const isQuantity = (value) => typeof value === "number" && Number.isFinite(value) && value >= 0;
const last = (batch) => batch.confirmations.at(-1);

/** An existing batch, with its job. */
function batchOf(jobs, id, batchID) {
  const job = find(jobs, id);
  return { job, batch: job.batches.find((batch) => batch.BatchID === batchID) };
}

/** Whether actuals say what was filed. */
const isSame = ({ PersonnelActuals, MaterialActuals, reading }, actuals) =>
  JSON.stringify([PersonnelActuals, MaterialActuals, reading]) ===
  JSON.stringify([actuals.PersonnelActuals ?? [], actuals.MaterialActuals ?? [], readingIn(actuals)?.Value]);

/**
 * Files an operator's actuals: `{ job, batch }`, or `{ problem }`. A message that comes again, because its answer
 * was lost, is not filed again: `{ job, batch, repeated }`.
 */
function fileActuals(actuals, jobs, now) {
  const job = find(jobs, String(actuals.JobOrderID));
  const batch = job?.batches.find((one) => one.BatchID === actuals.BatchID);
  if (!batch) {
    const detail = `There is no batch ${JSON.stringify(actuals.BatchID)} of a job order ${JSON.stringify(actuals.JobOrderID)}.`;
    return { problem: refusal(404, "No such batch", detail) };
  }
  const before = job.batches.flatMap((one) =>
    one.confirmations.filter(({ message }) => message === actuals.message).map((filed) => [one, filed]),
  )[0];
  if (before && actuals.message !== undefined) {
    const [of, repeated] = before;
    if (of === batch && isSame(repeated, actuals)) return { job, batch, repeated };
    const detail = `The message ${JSON.stringify(actuals.message)} came before, of ${of.BatchID}, and said something else. Give what is new a message of its own.`;
    return { problem: refusal(409, "The message came before", detail) };
  }
  if (batch.status === CONFIRMED || batch.status === UNREAD) {
    const why =
      batch.status === CONFIRMED ? "is confirmed already" : "has a reading that waits to be looked up";
    return { problem: refusal(409, "Nothing to confirm", `The batch ${batch.BatchID} ${why}.`) };
  }
  const { question, fluids } = questionOf(job.order);
  const errors = faultsOf(actuals, job, batch, fluids[batch.product], question.units);
  if (errors.length > 0) {
    return {
      problem: refusal(
        422,
        "The actuals are refused",
        "Nothing was filed. Correct what is listed and send them again.",
        errors,
      ),
    };
  }
  const { PersonnelActuals = [], MaterialActuals = [] } = actuals;
  batch.confirmations.push({
    message: actuals.message,
    filed: now,
    PersonnelActuals,
    MaterialActuals,
    reading: readingIn(actuals).Value,
  });
  batch.status = UNREAD;
  return { job, batch };
}

const readingIn = (actuals) => actuals.JobResponseData?.find?.((entry) => entry?.ID === "reading");

/** All faults of actuals, each with its place. */
function faultsOf(actuals, job, batch, fluid, units) {
  const errors = [];
  const fault = (pointer, detail) => errors.push({ pointer, detail });
  if (typeof actuals.message !== "string" || actuals.message === "") {
    fault(
      "/message",
      "The identity of the message is missing: without it, one sent again would count twice.",
    );
  }
  list(actuals, "PersonnelActuals", fault).forEach((person, place) => {
    if (typeof person?.ID !== "string") fault(`/PersonnelActuals/${place}`, "An ID is expected here.");
  });
  const materials = list(actuals, "MaterialActuals", fault);
  materials.forEach((actual, place) =>
    materialFaults(actual ?? {}, `/MaterialActuals/${place}`, { job, batch, units }, fault),
  );
  if (errors.length === 0 && poured(batch, materials) < 0) {
    fault("/MaterialActuals", "More is taken out of the batch than is in it.");
  }
  const reading = readingIn(actuals);
  if (!isQuantity(reading?.Value)) {
    fault("/JobResponseData", "The reading is missing: an entry with the ID reading and a number.");
  }
  const wrong = reading && unitFault(unitOfReading(fluid), reading.EngineeringUnits);
  if (wrong) fault("/JobResponseData", wrong);
  return errors;
}

/** The list of this name; a fault if it is not a list. */
function list(actuals, name, fault) {
  const given = actuals[name] ?? [];
  if (Array.isArray(given)) return given;
  fault(`/${name}`, "A list is expected here.");
  return [];
}

function materialFaults(actual, at, { job, batch, units }, fault) {
  const allowed = lots(job.order)
    .filter((lot) => (lot.MaterialClassID ?? batch.product) === batch.product)
    .map(lotOf);
  if (![...allowed, batch.BatchID].includes(lotOf(actual))) {
    const own = allowed.join(", ");
    fault(at, `${lotOf(actual)} does not go into this batch. The order has: ${own}.`);
  }
  if (!isQuantity(actual.Quantity)) fault(`${at}/Quantity`, "A number of at least 0 is expected here.");
  const unit = code("volume", units);
  if (actual.EngineeringUnits !== unit) {
    const wrong = unitFault("volume", actual.EngineeringUnits) ?? `The order is in ${unit}.`;
    fault(`${at}/EngineeringUnits`, wrong);
  }
}

/** The question about a reading: its concentration, and whether that is in the batch's band. */
function askForStanding(job, batch) {
  const { question, fluids } = questionOf(job.order);
  const { low, target, high } = batch.acceptance;
  return {
    order: job.order.JobOrderID,
    step: `${batch.BatchID}.reading${batch.confirmations.length}`,
    batch: batch.BatchID,
    calculation: "concentration",
    document: {
      units: question.units,
      reference: batch.BatchID,
      reading: readingOf(fluids[batch.product], last(batch).reading),
      band: { low, target, high },
    },
  };
}

/** Files the concentration of a reading. The service's `standing` confirms or holds the batch. */
function fileStanding(batch, outcome, now) {
  const confirmation = last(batch);
  if (outcome.waits) {
    return Object.assign(confirmation, { again: outcome.waits, reason: outcome.reason });
  }
  forgetWaiting(confirmation);
  if (outcome.problem) {
    batch.status = HELD;
    return Object.assign(confirmation, { status: HELD, problem: outcome.problem });
  }
  const { concentration, standing } = outcome.record.answer;
  batch.status = standing === "in_band" ? CONFIRMED : HELD;
  return Object.assign(confirmation, {
    status: batch.status,
    concentration,
    standing,
    record: filed(outcome.record, now),
  });
}

function forgetWaiting(confirmation) {
  delete confirmation.again;
  delete confirmation.reason;
}

/** Whether a held batch has neither a correction nor a reason for its absence. */
function wantsCorrection(batch) {
  const { standing, correction, noCorrection } = last(batch) ?? {};
  return batch.status === HELD && standing !== undefined && !correction && !noCorrection;
}

/** The volume in the vessel: everything poured minus everything taken out of the batch. */
function poured(batch, more = []) {
  const before = batch.confirmations.flatMap((confirmation) => confirmation.MaterialActuals);
  const signed = (actual) => (lotOf(actual) === batch.BatchID ? -actual.Quantity : actual.Quantity);
  return [...before, ...more].reduce((sum, actual) => sum + signed(actual), 0);
}

/**
 * The question for the correction: the vessel topped up to the planned batch. Concentrate
 * is added neat only if the order says that the tank is stirred; otherwise as a premix.
 */
function askForCorrection(job, batch) {
  const { question, fluids } = questionOf(job.order);
  const volume = poured(batch);
  const full = Math.max(volume, batch.planned.volume);
  return {
    order: job.order.JobOrderID,
    step: `${batch.BatchID}.correction${batch.confirmations.length}`,
    batch: batch.BatchID,
    calculation: "top-up",
    document: {
      units: question.units,
      reference: batch.BatchID,
      sump: {
        capacity: full,
        volume,
        reading: readingOf(fluids[batch.product], last(batch).reading),
      },
      target: { concentration: batch.acceptance.target },
      stocks: stocksFor(job, batch, question),
      draining: "allowed",
      vessel: fluids[batch.product].stirred ? "stirred_tank" : "sump",
      ...(fluids[batch.product].stirred ? {} : { premix_at_most: question.premix_at_most }),
    },
  };
}

/**
 * The lots that may correct a batch, with their remaining quantities. A top-up has no limits, so
 * a lot that exceeds one by itself is left out: lots within every limit stay so when mixed.
 */
function stocksFor(job, batch, question) {
  const spoken = spokenFor(job, question);
  const under = (stock) =>
    Object.entries(question.limits ?? {}).every(([name, { max }]) => (stock.properties?.[name] ?? 0) <= max);
  return question.stocks
    .filter((stock) => (stock.product ?? batch.product) === batch.product && under(stock))
    .map(({ product: _, properties: __, ...stock }) => {
      const left = Math.max(0, stock.volume - (spoken[stock.name] ?? 0));
      return stock.volume === undefined ? stock : { ...stock, volume: left };
    });
}

/** The quantity of each lot that was poured or is still needed for other batches or for rinsing. */
function spokenFor(job, question) {
  const spoken = Object.create(null);
  const count = (lot, volume) => (spoken[lot] = (spoken[lot] ?? 0) + volume);
  for (const { confirmations, planned } of job.batches) {
    if (confirmations.length === 0) planned.take.forEach((take) => count(take.name, take.volume));
    confirmations
      .flatMap((one) => one.MaterialActuals)
      .forEach((actual) => count(lotOf(actual), actual.Quantity));
  }
  question.sumps.forEach((sump, place) => {
    if (sump.rinse?.stock) count(sump.rinse.stock, job.record.sumps[place].rinsed);
  });
  for (const mix of job.record.rinseMixes ?? []) {
    mix.take.forEach((take) => count(take.name, take.volume));
  }
  return spoken;
}

/** Files the correction of a held batch, or the reason why there is none. */
function fileCorrection(job, batch, outcome, now) {
  const confirmation = last(batch);
  if (outcome.waits) {
    return Object.assign(confirmation, { again: outcome.waits, reason: outcome.reason });
  }
  forgetWaiting(confirmation);
  if (outcome.problem) return Object.assign(confirmation, { noCorrection: outcome.problem.detail });
  const { record } = outcome;
  const unit = code("volume", record.units);
  const { drain, add, after, steps } = record.answer;
  const taken = drain > 0 ? [{ MaterialLotID: batch.BatchID, Quantity: drain }] : [];
  const given = add
    .filter((one) => one.volume > 0)
    .map((one) => ({ ...materialOf(job.order, one.name), Quantity: one.volume }));
  return Object.assign(confirmation, {
    correction: {
      MaterialRequirements: [...taken, ...given].map((one) => ({
        ...one,
        MaterialUse: CONSUMED,
        EngineeringUnits: unit,
      })),
      after,
      steps,
      record: filed(record, now),
    },
  });
}

/** The questions of a job that are due, again or after a restart. */
function due(job, now) {
  if (job.state === WAITING) return (job.again ?? 0) <= now ? [{ step: "recharge" }] : [];
  if (job.state === ABORTED) return [];
  return job.batches
    .filter((batch) => (last(batch)?.again ?? 0) <= now)
    .filter((batch) => batch.status === UNREAD || wantsCorrection(batch))
    .map((batch) => ({ step: batch.status === UNREAD ? "standing" : "correction", batch }));
}

module.exports = {
  CONFIRMED,
  HELD,
  UNREAD,
  askForCorrection,
  askForStanding,
  batchOf,
  due,
  fileActuals,
  fileCorrection,
  fileStanding,
  poured,
  wantsCorrection,
};
