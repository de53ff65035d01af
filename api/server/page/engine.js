// The engine on this device, in a worker of its own, for where no service answers.
//
// The page as one file has the worker and the engine in it, in elements with these ids; else both lie
// beside the page, and are loaded when they are first needed.

import { alone, within } from "./dom.js";

const PATIENCE = 60000; // milliseconds that an answer may take

let worker; // from the first question on, until a question fails it
let last = 0;
const waiting = new Map(); // what is to become of each question, by its number

/** The engine for a worker: its address, or what the page has of it in itself. */
async function source() {
  if (!alone()) return new URL("page/engine.wasm", document.baseURI).href;
  const packed = Uint8Array.from(atob(within("engine")), (letter) => letter.charCodeAt(0));
  return new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
}

function start() {
  const text = within("engine-worker");
  const address = text && URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
  const started = new Worker(address ?? "page/engine-worker.js");
  started.onmessage = ({ data: { id, failed, ...answered } }) => {
    // Where the engine cannot be had now, it may be later.
    if (failed) return end(started, () => new Error(failed));
    waiting.get(id)?.resolve(answered);
    waiting.delete(id);
  };
  started.onerror = (event) => end(started, () => new Error(event.message));
  source().then(
    (engine) => started.postMessage({ engine }),
    (error) => end(started, () => error),
  );
  return started;
}

/** Ends a worker; whoever waits for it gets this error. */
function end(one, error) {
  one.terminate();
  if (one === worker) worker = undefined;
  for (const [id, asked] of waiting) {
    if (asked.of !== one) continue;
    waiting.delete(id);
    asked.reject(error());
  }
}

const TOO_LONG = {
  type: "/problems/too-long",
  title: "The calculation took too long",
  status: 503,
  detail:
    "This device did not finish the calculation within a minute. Ask for less at once: fewer draws, sumps or stocks, or a shorter horizon.",
};

/** Puts texts to the engine: a status and bytes come back, or an error where it cannot be had. */
function put(call, texts) {
  worker ??= start();
  const of = worker;
  last += 1;
  const id = last;
  return new Promise((resolve, reject) => {
    const late = setTimeout(() => {
      waiting.delete(id);
      resolve({ status: TOO_LONG.status, body: new TextEncoder().encode(JSON.stringify(TOO_LONG)) });
      end(of, () => new Error("The engine was stopped."));
    }, PATIENCE);
    const once = (settle) => (value) => {
      clearTimeout(late);
      settle(value);
    };
    waiting.set(id, { of, resolve: once(resolve), reject: once(reject) });
    of.postMessage({ id, call, texts });
  });
}

/** Answers a document in a form that is named by its media type: a status and bytes. */
export const answer = (calculation, document, form) => put("answer", [calculation, document, form]);

/** A request that a calculation answers as it stands: a status and bytes. */
export const example = (calculation) => put("example", [calculation]);
