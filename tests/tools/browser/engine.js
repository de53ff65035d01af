// The page's own worker with the engine, in this process; and as a service, so that what compares two
// services compares it too.

const { createServer } = require("node:http");
const { readFileSync } = require("node:fs");
const { resolve } = require("node:path");

const ROOT = resolve(__dirname, "../../..");
const FILE = `${ROOT}/target/page/engine.wasm`;
const WORKER = readFileSync(`${ROOT}/api/server/page/engine-worker.js`, "utf8");

/** Puts texts to the engine as the page does: a status and bytes come back. */
function start(webAssembly = WebAssembly) {
  const waiting = [];
  const self = {
    postMessage: ({ id, failed, ...answered }) =>
      failed ? waiting[id].reject(new Error(failed)) : waiting[id].resolve(answered),
  };
  new Function("self", "WebAssembly", WORKER)(self, webAssembly);
  self.onmessage({ data: { engine: readFileSync(FILE) } });
  return (call, texts) =>
    new Promise((resolve, reject) => {
      const id = waiting.push({ resolve, reject }) - 1;
      self.onmessage({ data: { id, call, texts } });
    });
}

const text = ({ body }) => new TextDecoder().decode(body);

/** The engine behind the addresses of a service, as far as they are asked. */
function serve(put) {
  const server = createServer((request, response) => {
    const parts = [];
    request.on("data", (part) => parts.push(part));
    request.on("end", async () => {
      const name = request.url.replace("/v1/", "");
      const { status, body } =
        request.method === "POST"
          ? await put("answer", [name, Buffer.concat(parts).toString(), "application/json"])
          : { status: 200, body: "{}" };
      response.writeHead(status, { "content-type": "application/json" }).end(body);
    });
  });
  return new Promise((done) => {
    server.listen(0, "127.0.0.1", () =>
      done({ server, address: `http://127.0.0.1:${server.address().port}` }),
    );
  });
}

module.exports = { ROOT, FILE, start, text, serve };
