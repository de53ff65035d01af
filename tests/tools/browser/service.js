// A service of this check's own, which it starts and stops.

const { spawn } = require("node:child_process");
const { ROOT, FILE } = require("./engine");

/** Starts the service with an engine; the port is a free one where none is named. */
async function service({ port = 0, engine = FILE } = {}) {
  const flags = ["--bind", `127.0.0.1:${port}`, "--page-engine", engine, "--no-open", "--log", "warn"];
  const child = spawn(`${ROOT}/target/debug/sumpwright`, flags, { stdio: ["ignore", "pipe", "inherit"] });
  // It ends with this process, however that ends.
  process.on("exit", () => child.kill());
  const base = await new Promise((done, failed) => {
    let said = "";
    child.stdout.on("data", (part) => {
      said += part;
      const found = /serves (http:\S+)/.exec(said);
      if (found) done(found[1]);
    });
    child.on("exit", (code) => failed(new Error(`the service ended with ${code}: ${said}`)));
  });
  const stop = () =>
    new Promise((done) => {
      child.removeAllListeners("exit");
      child.on("exit", done);
      child.kill("SIGTERM");
    });
  return { base, stop };
}

module.exports = { service };
