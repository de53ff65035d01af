// A sump watched over MQTT: its sheet, its log, and what the service says of them. What is published is
// `{ topic, payload, retain }`, with quality of service 1.

const { filed } = require("../job");
const { readingOf } = require("../order");
const { ROOT, isMessage, readMessage, topicOf } = require("./message");

const publication = (sump, kind, document, retain) => ({
  topic: topicOf(sump, kind),
  payload: document === undefined ? "" : JSON.stringify(document),
  qos: 1,
  retain,
});
const receiptOf = (sump, receipt) => publication(sump, "receipt", receipt, false);

/**
 * Takes a message: files it, or says why not. A message that comes again is not filed again and gets the receipt that
 * it got before. As soon as something is filed, the work that was given out is withdrawn, so that nobody pours by it.
 */
function takeMessage(sumps, topic, payload, now) {
  const { sump, kind, document, faults } = readMessage(topic, payload, now);
  const refuse = (errors) => [
    receiptOf(sump, { message: document?.message, filed: false, detail: errors[0].detail, errors }),
  ];
  if (faults.length > 0) return refuse(faults);
  const known = Object.hasOwn(sumps, sump) ? sumps[sump] : undefined;
  if (kind === "sheet") return takeSheet(sumps, sump, document);
  if (!known) return refuse([{ pointer: "", detail: `There is no sheet of the sump ${sump}.` }]);

  const text = JSON.stringify(document);
  const before = known.messages.find(({ message }) => message === document.message);
  if (before) {
    if (before.text === text) return [receiptOf(sump, before.receipt)];
    const detail = `The message ${JSON.stringify(document.message)} came before and said something else. Give what is new a message of its own.`;
    return refuse([{ pointer: "/message", detail }]);
  }
  const wrong = workFault(known, document);
  if (wrong) return refuse([wrong]);
  const receipt = { message: document.message, filed: true, at: now };
  known.messages.push({ message: document.message, text, receipt });
  const done = known.works.find(({ work }) => work === document.work);
  if (done) done.by = document.message;
  known.log.push({ message: document.message, at: document.at, entry: entryOf(known.sheet, kind, document) });
  known.log.sort((one, other) => Date.parse(one.at) - Date.parse(other.at));
  return [receiptOf(sump, receipt), ...changed(known)];
}

function takeSheet(sumps, name, sheet) {
  const known = Object.hasOwn(sumps, name) ? sumps[name] : undefined;
  if (known && JSON.stringify(known.sheet) === JSON.stringify(sheet)) return [];
  const fresh = { name, log: [], messages: [], works: [], version: 0 };
  sumps[name] = Object.assign(known ?? fresh, { sheet });
  return changed(sumps[name]);
}

/** What was given out as work is poured once. */
function workFault(known, { work }) {
  if (work === undefined) return undefined;
  const given = known.works.find((one) => one.work === work);
  if (!given) {
    return { pointer: "/work", detail: `There was no work ${JSON.stringify(work)} at this sump.` };
  }
  if (given.by === undefined) return undefined;
  const detail = `The work ${JSON.stringify(work)} was reported as poured before, by the message ${JSON.stringify(given.by)}. If more was poured, report that without a work.`;
  return { pointer: "/work", detail };
}

/** An entry of the service's log. */
function entryOf({ instrument }, kind, { at, volume, reading, added, removed }) {
  if (kind === "reading") return { at, volume, reading: readingOf(instrument, reading) };
  return { at, ...(removed ? { removed } : {}), ...(added ? { added } : {}) };
}

/** Something new is filed: it has to be asked about, and what was said before no longer holds. */
function changed(sump) {
  sump.version += 1;
  delete sump.again;
  const waits = sump.log.length > 0 ? "The service is being asked." : "There is no reading yet.";
  return [...withdrawn(sump), stateOf(sump, { waits })];
}

function withdrawn(sump) {
  if (sump.work === undefined) return [];
  delete sump.work;
  return [publication(sump.name, "work", undefined, true)];
}

const stateOf = (sump, said) => publication(sump.name, "state", { ...basisOf(sump), ...said }, true);

/** What a state or a work goes by: how many entries, and the moment of the last one. */
const basisOf = ({ name, log }) => ({ sump: name, entries: log.length, as_of: log.at(-1)?.at });

/** What is published if a node failed. */
const failed = (detail) => ({
  topic: `${ROOT}/watch/fault`,
  payload: JSON.stringify({ detail }),
  qos: 1,
  retain: false,
});

/** The names of the sumps that have something new, and may be asked about now. */
const dueSumps = (sumps, now) =>
  Object.values(sumps)
    .filter(({ log, version, asked, again }) => log.length > 0 && version !== asked && (again ?? 0) <= now)
    .map(({ name }) => name);

/** The question what is in the sump. */
const askForState = ({ name, sheet, log, version }) => ({
  order: name,
  step: `state${version}`,
  version,
  messages: log.map(({ message }) => message),
  calculation: "sump-state",
  document: { reference: name, ...sheet.question, log: log.map(({ entry }) => entry) },
});

/**
 * Files what the service says of a sump: `{ publish, topUp }`, `topUp` if it is to be topped up. If messages came
 * meanwhile, the sump is asked about again, and this answer is not given out.
 */
function fileState(sump, { ask, outcome }, now) {
  if (outcome.waits) return { publish: waiting(sump, outcome) };
  if (ask.version !== sump.version) return { publish: [] };
  if (outcome.problem) return { publish: refused(sump, ask, outcome.problem) };
  for (const one of sump.log) one.accepted = true;
  const { record } = outcome;
  const { now: held, to_do, next_reading } = record.answer;
  sump.state = { held, to_do };
  const publish = [
    stateOf(sump, {
      statement: record.statement,
      findings: record.findings ?? [],
      to_do,
      now: held,
      next_reading,
      record: filed(record, now),
    }),
  ];
  const topUp = to_do === "top_up";
  if (!topUp) sump.asked = ask.version;
  return { publish, topUp };
}

function waiting(sump, { waits, reason }) {
  sump.again = waits;
  return [stateOf(sump, { waits: reason })];
}

/**
 * The service refuses the log. Entries that it names, and has not accepted before, are taken out again, and their
 * senders are told; otherwise it is the sheet that is wrong.
 */
function refused(sump, ask, problem) {
  const errors = problem.errors ?? [{ pointer: "", detail: problem.detail }];
  const named = new Map();
  for (const error of errors) {
    const place = /^\/log\/(\d+)/.exec(error.pointer)?.[1];
    const entry = sump.log.find(({ message }) => message === ask.messages[place]);
    if (entry && !entry.accepted) {
      const { detail, pointer } = error;
      named.set(entry, [
        ...(named.get(entry) ?? []),
        { pointer: pointer.replace(/^\/log\/\d+/, ""), detail },
      ]);
    }
  }
  if (named.size === 0) {
    sump.asked = ask.version;
    return [stateOf(sump, { problem })];
  }
  sump.log = sump.log.filter((entry) => !named.has(entry));
  const receipts = [...named].map(([{ message }, faults]) => {
    const receipt = { message, filed: false, detail: faults[0].detail, errors: faults };
    sump.messages.find((one) => one.message === message).receipt = receipt;
    const undone = sump.works.find(({ by }) => by === message);
    if (undone) delete undone.by;
    return receiptOf(sump.name, receipt);
  });
  return [...receipts, ...changed(sump)];
}

/** The question what to pour: from what is in the sump by all that is known of it to the target of its band. */
function askForTopUp({ name, sheet, state, version }) {
  const { units, sump, band, stocks } = sheet.question;
  const { volume, mark } = state.held;
  return {
    order: name,
    step: `topup${version}`,
    version,
    calculation: "top-up",
    document: {
      units,
      reference: name,
      sump: {
        capacity: sump.capacity,
        volume: volume.value,
        reading: readingOf(sheet.instrument, mark),
      },
      target: { concentration: band.target },
      ...(stocks ? { stocks } : {}),
      ...sheet.top_up,
    },
  };
}

/** Files what to pour, and gives it out as work with an identity of its own. */
function fileWork(sump, { ask, outcome }, now) {
  if (outcome.waits) return waiting(sump, outcome);
  if (ask.version !== sump.version) return [];
  sump.asked = ask.version;
  if (outcome.problem) return [stateOf(sump, { problem: outcome.problem })];
  const { record } = outcome;
  const work = `${sump.name}-W${ask.version}`;
  sump.works.push({ work });
  sump.work = work;
  const { drain, add, premix, after, steps } = record.answer;
  const { statement, cautions } = record;
  const document = { work, ...basisOf(sump), statement, drain, add, premix, after, steps, cautions };
  return [publication(sump.name, "work", { ...document, record: filed(record, now) }, true)];
}

module.exports = {
  askForState,
  askForTopUp,
  dueSumps,
  failed,
  fileState,
  fileWork,
  isMessage,
  takeMessage,
};
