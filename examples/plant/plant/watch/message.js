// Messages over MQTT: their topics, and what is wrong with them.

const { METHODS } = require("../order");

const ROOT = "shop";
const TOPIC = new RegExp(`^${ROOT}/sumps/([^/]+)/(sheet|reading|poured)$`);
// A sump's name is part of a topic and of a header.
const NAME = /^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$/;
// A moment with its offset from UTC: the clocks of terminals need not be in one place.
const MOMENT = /^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d+)?)?(Z|[+-]\d\d:\d\d)$/;
// Milliseconds by which the clock of a terminal may be ahead.
const AHEAD = 10 * 60 * 1000;
const POUR = ["volume", "concentration", "of"];
const MEMBERS = {
  sheet: ["question", "instrument", "top_up"],
  reading: ["message", "at", "person", "volume", "reading"],
  poured: ["message", "at", "person", "work", "added", "removed"],
};

const isMessage = (topic) => TOPIC.test(topic);
const topicOf = (sump, kind) => `${ROOT}/sumps/${sump}/${kind}`;

/** `{ sump, kind, document, faults }` from a topic and its payload. */
function readMessage(topic, payload, now) {
  const [, sump, kind] = TOPIC.exec(topic) ?? [];
  const faults = [];
  const fault = (pointer, detail) => faults.push({ pointer, detail });
  let document;
  try {
    document = JSON.parse(payload.toString());
  } catch (error) {
    fault("", `The message is not JSON: ${error.message}.`);
    return { sump, kind, faults };
  }
  if (document === null || typeof document !== "object" || Array.isArray(document)) {
    fault("", "A JSON object is expected.");
    return { sump, kind, faults };
  }
  if (!NAME.test(sump)) {
    fault("", "The sump's name must be 1 to 40 letters, digits, points, dashes or underscores.");
  }
  for (const name of Object.keys(document).filter((name) => !MEMBERS[kind].includes(name))) {
    fault(
      `/${name}`,
      `Nothing here is called ${JSON.stringify(name)}. Known are: ${MEMBERS[kind].join(", ")}.`,
    );
  }
  if (kind === "sheet") sheetFaults(document, fault);
  else messageFaults(kind, document, now, fault);
  return { sump, kind, document, faults };
}

function sheetFaults({ question, instrument }, fault) {
  const { target } = question?.band ?? {};
  if (typeof target !== "number") fault("/question/band/target", "The concentration to hold is missing.");
  if (typeof question?.sump?.capacity !== "number") {
    fault("/question/sump/capacity", "The capacity is missing.");
  }
  if (question?.log !== undefined) fault("/question/log", "The log is kept here. Leave it out.");
  if (!Object.hasOwn(METHODS, instrument?.method ?? "")) {
    fault("/instrument/method", `The method is missing: ${Object.keys(METHODS).join(" or ")}.`);
  }
  if (!(instrument?.factor > 0)) fault("/instrument/factor", "A number above 0 is expected here.");
}

function messageFaults(kind, document, now, fault) {
  const { message, at, person } = document;
  if (typeof message !== "string" || message === "") {
    fault(
      "/message",
      "The identity of the message is missing: without it, one sent again would count twice.",
    );
  }
  if (typeof at !== "string" || !MOMENT.test(at) || Number.isNaN(Date.parse(at))) {
    fault("/at", "A moment with its offset from UTC is expected here, like 2025-04-17T07:00:00+02:00.");
  } else if (Date.parse(at) > Date.parse(now) + AHEAD) {
    fault("/at", `This moment is yet to come: it is ${now} now.`);
  }
  if (typeof person !== "string" || person === "") fault("/person", "Whose message it is is missing.");
  if (kind === "reading") {
    for (const name of ["volume", "reading"]) {
      if (!isQuantity(document[name])) fault(`/${name}`, "A number of at least 0 is expected here.");
    }
  } else pouredFaults(document, fault);
}

function pouredFaults({ work, added, removed }, fault) {
  if (work !== undefined && typeof work !== "string") fault("/work", "A text is expected here.");
  if (added === undefined && removed === undefined) {
    fault("", "What was poured in or taken out is missing: added, removed, or both.");
  }
  for (const [name, pour] of Object.entries({ added, removed })) {
    if (pour === undefined) continue;
    if (!(pour?.volume > 0) || !isQuantity(pour.volume)) {
      fault(`/${name}/volume`, "A number above 0 is expected here.");
    }
    const allowed = name === "added" ? POUR : ["volume"];
    for (const one of Object.keys(pour ?? {}).filter((one) => !allowed.includes(one))) {
      fault(`/${name}/${one}`, `Nothing here is called ${JSON.stringify(one)}.`);
    }
  }
  if (added && (added.of === undefined) === (added.concentration === undefined)) {
    fault("/added", "What was poured in: of (a name) or concentration is needed, and not both.");
  }
}

const isQuantity = (value) => typeof value === "number" && Number.isFinite(value) && value >= 0;

module.exports = { ROOT, isMessage, readMessage, topicOf };
