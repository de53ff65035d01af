// Asking the service, by the addresses that any caller uses, and with a key where it wants one; and where
// no service answers, asking this device.

import { alone, within } from "./dom.js";

/** The engine on this device, fetched when it is needed. */
export const engine = () => import("./engine.js");

const PATIENCE = 60000; // milliseconds that an answer may take
const IMPATIENCE = 5000; // the same where the last question got none
const KEPT = "service-key"; // what the key is called in this browser's memory

/** Where a key is: for as long as the tab is open, or until it is forgotten. */
const memories = {
  tab: () => sessionStorage,
  device: () => localStorage,
};

let key = remembered("tab") ?? remembered("device");

function remembered(where) {
  try {
    return memories[where]().getItem(KEPT) ?? undefined;
  } catch {
    /* the browser keeps nothing */
  }
}

/** Whether requests go out with a key. */
export const hasKey = () => key !== undefined;

/** Why a text cannot be a key: what a request's head may carry. */
export const unfit = (text) => {
  if (text === "") return "No key is filled in here.";
  return /^[!-~]+$/.test(text) ? "" : "A key has no blanks and no letters with accents. Copy it again.";
};

/** The key that requests go out with. */
export const keyNow = () => key;

/** Whether the key is still there when the browser is opened again. */
export const isRemembered = () => key !== undefined && remembered("device") === key;

/** Sends this key along from now on, for as long as the tab is open or, to remember, until it is
 *  forgotten on this device; no text forgets it everywhere. */
export function useKey(text, remember = false) {
  key = text;
  for (const where of Object.keys(memories)) {
    try {
      const memory = memories[where]();
      if (text !== undefined && (where === "device") === remember) memory.setItem(KEPT, text);
      else memory.removeItem(KEPT);
    } catch {
      /* the browser keeps nothing */
    }
  }
}

let away = false; // whether the service did not answer the last question

/** There is no answer, and not even a problem. */
export class Lost extends Error {
  constructor(message = "No connection to the service.") {
    super(message);
  }
}

/** What would only have been offered is left out where its program did not arrive. */
export function unoffered(error) {
  if (!(error instanceof Lost)) throw error;
}

/** The service wants a key: none was sent, or one that it does not know. */
export class NoKey extends Error {
  constructor(sent) {
    super("The service needs a key.");
    this.sent = sent;
  }
}

/** Fetches an address and takes what it says; a `Lost` or a `NoKey` is thrown where it says nothing. */
export async function reach(address, take, options = {}) {
  let response;
  const sent = key;
  const headers = { ...options.headers, ...(sent === undefined ? {} : { authorization: `Bearer ${sent}` }) };
  const signal = AbortSignal.timeout(away ? IMPATIENCE : PATIENCE);
  try {
    response = await fetch(address, { ...options, headers, signal });
    away = false;
    if (response.status === 401) {
      const { type } = await response.clone().json();
      if (/\/problems\/no-key$/.test(type)) throw new NoKey(sent);
    }
    return await take(response);
  } catch (error) {
    if (error instanceof NoKey) throw error;
    away = !response;
    if (error.name === "TimeoutError") throw new Lost("The service did not answer in time.");
    if (!response) throw new Lost();
    throw new Lost(
      `The service answered with status ${response.status} and nothing that this page can read.`,
    );
  }
}

/** What the service says, or where none answers, this device: the latter as a status and bytes. */
export async function either(service, device) {
  let lost;
  if (!alone()) {
    try {
      return { answered: await service() };
    } catch (error) {
      if (!(error instanceof Lost && away)) throw error;
      lost = error;
    }
  }
  try {
    return { computed: await device() };
  } catch {
    throw lost ?? new Lost("This device cannot calculate: its browser is too old, or forbids it.");
  }
}

export const json = (bytes) => JSON.parse(new TextDecoder().decode(bytes));

/**
 * Puts a document to a calculation: a record, a file of another type or a problem comes back, and
 * `onDevice` where it was calculated here. Behind the name may stand options, as in an address.
 */
export async function ask(name, document, accept = "application/json") {
  const request = structuredClone(document);
  for (const member of Object.keys(request)) if (request[member] === undefined) delete request[member];
  const body = JSON.stringify(request);
  const [calculation, options] = name.split("?");
  const take = async (response) => {
    if (response.ok && accept !== "application/json") return { request, file: await response.blob() };
    const said = await response.json();
    return response.ok ? { request, record: said } : { request, problem: said };
  };
  const headers = { "content-type": "application/json", accept };
  const { answered, computed } = await either(
    () => reach(`v1/${name}`, take, { method: "POST", body, headers }),
    async () => (await engine()).answer(calculation, body, options ? `${accept}?${options}` : accept),
  );
  const onDevice = answered === undefined;
  dispatchEvent(new CustomEvent("answered", { detail: { onDevice } }));
  if (!onDevice) return answered;
  if (computed.status !== 200) return { request, onDevice, problem: json(computed.body) };
  return accept === "application/json"
    ? { request, onDevice, record: json(computed.body) }
    : { request, onDevice, file: new Blob([computed.body], { type: accept }) };
}

const whole = (response) => (response.ok ? response.json() : Promise.reject(new TypeError()));

/** A request for a calculation that works as it stands. */
export async function example(name) {
  const { answered, computed } = await either(
    () => reach(`v1/${name}/example`, whole),
    async () => (await engine()).example(name),
  );
  return answered ?? json(computed.body);
}

/** The schemas that the form and the answers of the first task are drawn from. */
export const schemas = async () => (alone() ? JSON.parse(within("forms")) : reach("page/forms.json", whole));

/** The schemas of all other tasks, which one file has among the first. */
export const otherSchemas = async () =>
  alone() ? { components: { schemas: {} } } : reach("page/other-forms.json", whole);

/** A document as paths and texts, as the service takes it in an address. */
export const flat = (value, path = "") =>
  value === null || typeof value !== "object"
    ? [[path, String(value)]]
    : Object.entries(value).flatMap(([name, member]) => flat(member, path ? `${path}.${name}` : name));
