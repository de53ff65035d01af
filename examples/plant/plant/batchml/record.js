// A batch as BatchML's BatchProductionRecord: its recipe, what was poured and by whom, each reading, and what came of it.
//
// The Business To Manufacturing Markup Language (B2MML) is used courtesy of MESA International.
// The Batch Markup Language (BatchML) is used courtesy of the World Batch Forum.

const { create } = require("xmlbuilder2");
const { CONFIRMED, batchOf, poured } = require("../batch");
const { lotOf, questionOf, unitOfReading } = require("../order");
const { find } = require("../job");
const { refusal } = require("../problem");
const { code } = require("../units");
const { NAMES, controlRecipe } = require("./recipe");
const { NAMESPACE, entry, value } = require("./values");

// XML cannot hold a control character, not even escaped: one that an order or a message has is replaced by this.
const REPLACEMENT = "\ufffd";

/** The reply with the record of a batch: `{ status, headers, body }`. */
function recordReply(jobs, id, batchID) {
  const { batch, job } = find(jobs, id) ? batchOf(jobs, id, batchID) : {};
  if (!batch) {
    const detail = `There is no batch ${JSON.stringify(batchID)} of a job order ${JSON.stringify(id)}.`;
    const problem = refusal(404, "No such batch", detail);
    return { status: 404, headers: { "content-type": "application/problem+json" }, body: problem };
  }
  return { status: 200, headers: { "content-type": "application/xml" }, body: batchRecord(job, batch) };
}

/** The record of a batch, as text. */
function batchRecord(job, batch) {
  const options = {
    version: "1.0",
    encoding: "UTF-8",
    defaultNamespace: { ele: NAMESPACE },
    invalidCharReplacement: REPLACEMENT,
  };
  const BatchProductionRecord = recordOf(job, batch);
  return create(options, { BatchProductionRecord }).end({ prettyPrint: true });
}

function recordOf(job, batch) {
  const { order, record, controlRecipes, batches } = job;
  const { BatchID, status, confirmations } = batch;
  const place = batches.indexOf(batch);
  const changed = confirmations.length > 0 ? lookedUp(confirmations.at(-1)) : record.filed;
  const { controlRecipeID } = controlRecipes[place].header;
  const reports = confirmations.map((one, number) => reportOn(job, batch, one, `${BatchID}-C${number + 1}`));
  return {
    ID: `${BatchID}-R`,
    ...entry(`${BatchID}-R`, "Batch Production Record", changed, order.JobOrderID),
    Description: order.Description,
    CreationDate: record.filed,
    BatchID,
    LastChangedDate: changed,
    LotID: BatchID,
    RecordStatus: status,
    ControlRecipes: {
      ControlRecipeRecord: {
        ...entry(controlRecipeID, "Control Recipe", record.filed, order.JobOrderID),
        ControlRecipe: controlRecipe(job, place),
      },
    },
    Events: { Event: [...reports.flatMap(({ events }) => events), ...produced(job, batch)] },
    Samples: { Sample: reports.map(({ sample }) => sample) },
  };
}

/** When the latest about a confirmation was filed: its correction, its standing, or itself. */
const lookedUp = ({ correction, record, filed }) => correction?.record.filed ?? record?.filed ?? filed;

/** The events and the sample of one confirmation. All of them refer to the operator's message. */
function reportOn(job, batch, confirmation, id) {
  const { message, filed, PersonnelActuals, MaterialActuals, correction } = confirmation;
  const PersonID = PersonnelActuals.map(({ ID }) => ID);
  const event = (name, EventType, EventSubType, { at = filed, ...rest }) => ({
    ...entry(`${id}-${name}`, "Event", at, message),
    EventType,
    EventSubType,
    ...rest,
  });
  const actuals = MaterialActuals.map((actual, number) =>
    event(`M${number + 1}`, "Material", lotOf(actual) === batch.BatchID ? "Movement" : "Consume", {
      Value: value(lotOf(actual), actual.Quantity, actual.EngineeringUnits),
      PersonID,
      UserAttribute: NAMES.filter((name) => actual[name] !== undefined).map((name) => ({
        AttributeID: name,
        Value: value(name, actual[name]),
      })),
    }),
  );
  const { status, reason, problem, noCorrection } = confirmation;
  const outcome = event("S", "Procedural Execution", "Status Change", {
    at: confirmation.record?.filed,
    Value: value("status", status ?? batch.status),
    MessageText: [reason, problem?.detail, noCorrection].filter((text) => text !== undefined),
    PersonID,
  });
  const prompt = correction && [
    event("P", "Operator", "Prompt", {
      at: correction.record.filed,
      Value: correction.MaterialRequirements.map((one) =>
        value(lotOf(one), one.Quantity, one.EngineeringUnits),
      ),
      MessageText: correction.steps.map(({ text }) => text),
    }),
  ];
  return { events: [...actuals, outcome, ...(prompt ?? [])], sample: sampleOf(job, batch, confirmation, id) };
}

/** The reading as a sample with one test: the result beside the band in which it must be. */
function sampleOf(job, batch, { message, filed, reading, concentration, standing }, id) {
  const { fluids, question } = questionOf(job.order);
  const fluid = fluids[batch.product];
  const scale = code(unitOfReading(fluid), question.units);
  const { low, target, high, marks } = batch.acceptance;
  const band = { low, target, high };
  const at = (of, name, unit) => Object.entries(of).map(([end, one]) => value(`${end} ${name}`, one, unit));
  const { EngineeringUnits: _, ...markAt } = marks ?? {};
  return {
    ...entry(`${id}-R`, "Sample", filed, message),
    SampleSourceID: batch.BatchID,
    SampleTest: {
      ...entry(`${id}-R-T`, "Sample Test", filed, message),
      TestName: "concentration",
      SampleTestResult: {
        ...entry(`${id}-R-T-R`, "Sample Test Result", filed, message),
        TestDisposition: standing,
        AnalysisUsed: fluid.method,
        Results: [
          value("reading", reading, scale),
          ...(concentration === undefined ? [] : [value("concentration", concentration, "P1")]),
        ],
        ExpectedResults: [...at(band, "concentration", "P1"), ...at(markAt, "reading", scale)],
      },
    },
  };
}

/** The event of the batch itself, once it is confirmed. */
function produced(job, batch) {
  if (batch.status !== CONFIRMED) return [];
  const unit = code("volume", questionOf(job.order).question.units);
  const { filed, message } = batch.confirmations.at(-1);
  return [
    {
      ...entry(`${batch.BatchID}-P`, "Event", filed, message),
      EventType: "Material",
      EventSubType: "Produce",
      Value: value(batch.BatchID, poured(batch), unit),
    },
  ];
}

module.exports = { batchRecord, recordReply };
