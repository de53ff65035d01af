// Requests to the service: their headers, their time limits, and when to ask again.

const { createHash } = require("node:crypto");

const BUSY = [429, 503];
// Statuses that mean a faulty question; any other failure is due to the service.
const REFUSED = [400, 413, 422];

const digest = (text) => createHash("sha256").update(text).digest("hex");

/**
 * The headers of one attempt. The trace (W3C Trace Context) is that of the order, so that all
 * its requests are found together; a request keeps its own identity when it is sent again.
 */
function headersOf(ask, attempt, key) {
  const identity = `${ask.order}.${ask.step}`;
  const trace = digest(`order ${ask.order}`).slice(0, 32);
  const span = digest(`attempt ${attempt} of ${identity}`).slice(0, 16);
  return {
    "content-type": "application/json",
    accept: "application/json",
    "x-request-id": identity,
    traceparent: `00-${trace}-${span}-01`,
    ...(key ? { authorization: `Bearer ${key}` } : {}),
  };
}

/**
 * The outcome: `{ again: milliseconds }`, `{ record }`, `{ problem }`, or `{ waits, reason }`
 * if the service gave no answer and the question must be asked later.
 */
function outcomeOf({ statusCode, headers, payload }, attempt, service, now = Date.now()) {
  const connected = Number.isInteger(statusCode);
  if (!connected || BUSY.includes(statusCode)) {
    const reason = connected
      ? `The service answers ${statusCode}.`
      : `The service cannot be reached (${statusCode}).`;
    const asked = connected ? retryAfter(headers?.["retry-after"], now) : undefined;
    const wait = asked ?? service.firstWait * 2 ** (attempt - 1);
    if (attempt < service.attempts && wait <= service.patience) return { again: wait };
    return { waits: now + (asked ?? 0), reason };
  }
  const body = parsed(payload);
  if (statusCode === 200 && body?.answer) return { record: body };
  if (REFUSED.includes(statusCode) && body?.detail) return { problem: body };
  return {
    waits: now,
    reason: `The service answers ${statusCode}: ${body?.detail ?? "not in its own words"}`,
  };
}

/** Milliseconds to wait by a Retry-After header (RFC 9110, 10.2.3): seconds, or a date. */
function retryAfter(header, now) {
  if (header === undefined) return undefined;
  if (/^\d+$/.test(header)) return Number(header) * 1000;
  const date = Date.parse(header);
  return Number.isNaN(date) ? undefined : Math.max(0, date - now);
}

function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

module.exports = { headersOf, outcomeOf, retryAfter };
