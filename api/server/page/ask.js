// Asking the service, by the addresses that any caller uses.

const PATIENCE = 60000; // milliseconds that an answer may take

/** Puts a document to a calculation: a record or a problem comes back, or a `Lost` is thrown. */
export async function ask(name, document, accept = "application/json") {
  const request = structuredClone(document);
  for (const key of Object.keys(request)) if (request[key] === undefined) delete request[key];
  let response;
  try {
    response = await fetch(`v1/${name}`, {
      method: "POST", body: JSON.stringify(request), signal: AbortSignal.timeout(PATIENCE),
      headers: { "content-type": "application/json", accept },
    });
    if (response.ok && accept !== "application/json") return { picture: await response.blob() };
    const body = await response.json();
    return response.ok ? { request, record: body } : { request, problem: body };
  } catch (error) {
    if (error.name === "TimeoutError") throw new Lost("The service did not answer in time.");
    if (!response) throw new Lost();
    throw new Lost(`The service answered with status ${response.status} and nothing that this page can read.`);
  }
}

/** There is no answer, and not even a problem. */
export class Lost extends Error {
  constructor(message = "No connection to the service.") {
    super(message);
  }
}

/** A request for a calculation that works as it stands. */
export const example = async (name) => (await fetch(`v1/${name}/example`)).json();

/** A document as paths and texts, as the service takes it in an address. */
export const flat = (value, path = "") => (value === null || typeof value !== "object"
  ? [[path, String(value)]]
  : Object.entries(value).flatMap(([name, member]) => flat(member, path ? `${path}.${name}` : name)));
