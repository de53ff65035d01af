// The responses of the plant system: `{ status, body, headers }`.

const { stateOf, jobResponse } = require("./response");
const { ABORTED, WAITING, find } = require("./job");
const { refusal } = require("./problem");

const problemReply = (problem, headers = {}) => ({
  status: problem.status,
  headers: { "content-type": "application/problem+json", ...headers },
  body: problem,
});

/** The response to the sender of an order: the recipes, the rejection, or that it waits. */
function orderReply(job) {
  const location = `/job-orders/${job.order.JobOrderID}`;
  if (job.state === ABORTED) return problemReply(job.rejection);
  const status = job.state === WAITING ? 202 : 201;
  return { status, headers: { location }, body: jobView(job) };
}

/**
 * The response to the operator: the status of the batch, and the correction if it is held; to a message that came
 * before, what was answered then.
 */
function batchReply(job, batch, confirmation = batch.confirmations.at(-1)) {
  const { reason } = confirmation;
  const { BatchID, status, acceptance } = batch;
  const body = { JobOrderID: job.order.JobOrderID, BatchID, status, acceptance, ...confirmation };
  return { status: reason ? 202 : 200, headers: {}, body };
}

/** A filed job. */
function jobView(job) {
  return { ...job, JobState: stateOf(job).map((StateText) => ({ StateText })) };
}

/** A job requested by its identity, or its response. */
function lookUp(jobs, id, view) {
  const job = find(jobs, id);
  if (!job) {
    const detail = `There is no job order ${JSON.stringify(id)}.`;
    return problemReply(refusal(404, "No such job order", detail));
  }
  return { status: 200, headers: {}, body: view === "response" ? jobResponse(job) : jobView(job) };
}

module.exports = { batchReply, lookUp, orderReply, problemReply };
