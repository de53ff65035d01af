// The real parts of a watched sump: a broker, the flow in Node-RED, a terminal, and a front before the service that
// can be closed.

const { spawn } = require("node:child_process");
const { once } = require("node:events");
const { openSync, readFileSync } = require("node:fs");
const http = require("node:http");
const net = require("node:net");
const { join } = require("node:path");
const { pathToFileURL } = require("node:url");

const { PLANT, MODULES } = process.env;
// What the flow publishes as JSON.
const JSON_OF = /\/(receipt|state|work|fault)$/;

/** The value that a function gives, as soon as it gives one. */
async function until(what, found, milliseconds = 60000) {
  const end = Date.now() + milliseconds;
  for (;;) {
    const value = await found();
    if (value) return value;
    if (Date.now() > end) throw new Error(`not so within ${milliseconds} ms: ${what}`);
    await new Promise((wake) => setTimeout(wake, 50));
  }
}

async function listening(server, port = 0) {
  server.listen(port, "127.0.0.1");
  await once(server, "listening");
  return server.address().port;
}

/** A broker on a port of its own. It keeps what is retained, and what waits for those who come back. */
async function broker() {
  const { Aedes } = await import(pathToFileURL(join(MODULES, "aedes/aedes.js")).href);
  const aedes = await Aedes.createBroker();
  const server = net.createServer(aedes.handle);
  return { port: await listening(server), close: () => aedes.close(() => server.close()) };
}

/** Passes on to the service, and counts; closed, it refuses connections. */
async function front(service) {
  const asked = [];
  const handler = async (request, response) => {
    const body = Buffer.concat(await request.toArray());
    asked.push({ path: request.url, document: JSON.parse(body) });
    const answer = await ask(service, request.url, body);
    response.writeHead(answer.status, { "content-type": answer.type, connection: "close" });
    response.end(answer.text);
  };
  let server = http.createServer(handler);
  const port = await listening(server);
  return {
    asked,
    port,
    close() {
      server.close();
      server.closeAllConnections();
    },
    async open() {
      server = http.createServer(handler);
      await listening(server, port);
    },
  };
}

async function ask(service, path, body) {
  const headers = { "content-type": "application/json" };
  const answer = await fetch(service + path, { method: "POST", headers, body });
  return { status: answer.status, type: answer.headers.get("content-type"), text: await answer.text() };
}

/** The flow of the package, filing into a folder. */
class Flow {
  constructor(folder, brokerPort, frontPort) {
    this.log = join(folder, "log");
    this.env = {
      ...process.env,
      SUMPWRIGHT: `http://127.0.0.1:${frontPort}`,
      PLANT_STATE: folder,
      PLANT_PORT: "0",
      PLANT_AGAIN: "1",
      PLANT_BROKER_PORT: String(brokerPort),
    };
  }

  start() {
    const command = [
      join(MODULES, "node-red/red.js"),
      "--settings",
      join(PLANT, "settings.js"),
      join(PLANT, "topics.json"),
    ];
    const out = openSync(this.log, "a");
    this.process = spawn(process.execPath, command, { env: this.env, stdio: ["ignore", out, out] });
  }

  async stop(signal = "SIGKILL") {
    const ended = once(this.process, "exit");
    this.process.kill(signal);
    await ended;
  }

  said() {
    return readFileSync(this.log, "utf8");
  }
}

/** A terminal at the machines: it keeps the last message of each topic, and all receipts. */
async function terminal(brokerPort) {
  const { connectAsync } = require(join(MODULES, "mqtt"));
  const client = await connectAsync(`mqtt://127.0.0.1:${brokerPort}`);
  const last = {};
  const receipts = [];
  client.on("message", (topic, payload) => {
    last[topic] = JSON_OF.test(topic) && payload.length > 0 ? JSON.parse(payload) : payload.toString();
    if (topic.endsWith("/receipt")) receipts.push(last[topic]);
  });
  await client.subscribeAsync("shop/#", { qos: 1 });
  return {
    last,
    receipts,
    send: (topic, document, retain = false) =>
      client.publishAsync(topic, typeof document === "string" ? document : JSON.stringify(document), {
        qos: 1,
        retain,
      }),
    close: () => client.endAsync(),
  };
}

module.exports = { Flow, ask, broker, front, terminal, until };
