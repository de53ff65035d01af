// Calculates beside the page, so that the page stays quick. `api/browser` says how the engine is called.

const FAILED = {
  type: "/problems/internal",
  title: "The calculation failed",
  status: 500,
  detail: "The calculation failed on this device. Please report it, with the entries.",
};

let found; // said once it is known where the engine is
const compiled = new Promise((resolve) => {
  found = resolve;
});
compiled.catch(() => {}); // each question says so
let running; // with memory of its own; none after a failure

const compile = (engine) =>
  typeof engine === "string" ? WebAssembly.compileStreaming(fetch(engine)) : WebAssembly.compile(engine);

/** What was written, as bytes of this worker's own. */
function written({ memory, written_at, written_length }) {
  return new Uint8Array(memory.buffer, written_at() >>> 0, written_length() >>> 0).slice();
}

/** Lays texts into the engine's memory one behind the other, and calls it with their lengths but the last. */
function called(engine, call, texts) {
  const parts = texts.map((text) => new TextEncoder().encode(text));
  const length = parts.reduce((sum, part) => sum + part.length, 0);
  let at = engine.room(length) >>> 0;
  for (const part of parts) {
    new Uint8Array(engine.memory.buffer, at, part.length).set(part);
    at += part.length;
  }
  return engine[call](...parts.slice(0, -1).map((part) => part.length));
}

async function put(call, texts) {
  running ??= (await WebAssembly.instantiate(await compiled, {})).exports;
  const engine = running;
  try {
    return { status: called(engine, call, texts), body: written(engine) };
  } catch {
    // The engine has ended. Its last words are a problem, unless it had no time for any.
    running = undefined;
    const words = written(engine);
    const body = words.length > 0 ? words : new TextEncoder().encode(JSON.stringify(FAILED));
    return { status: FAILED.status, body };
  }
}

self.onmessage = ({ data: { engine, id, call, texts } }) => {
  if (engine !== undefined) return found(compile(engine));
  put(call, texts).then(
    (answered) => self.postMessage({ id, ...answered }),
    (error) => self.postMessage({ id, failed: String(error) }),
  );
};
