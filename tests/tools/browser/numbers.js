// What the engine for browsers answers, beside what the service answers.

const { spawn } = require("node:child_process");
const { check } = require("../page/browser");
const { ROOT, start, text, serve } = require("./engine");

const RELATIVE = 1e-12;
const DRAWN = 15; // questions of each calculation

const isNumber = (leaf) => typeof leaf === "number";

/** The leaves of a record with their paths. */
function* leaves(value, path = "") {
  if (value === null || typeof value !== "object") yield [path, value];
  else for (const [name, inner] of Object.entries(value)) yield* leaves(inner, `${path}/${name}`);
}

/** Where two records differ: numbers by more than the last digits, anything else at all. */
function differences(one, other) {
  const second = new Map(leaves(other));
  const first = [...leaves(one)];
  const throughput = Math.max(0, ...first.filter(([, leaf]) => isNumber(leaf)).map(([, n]) => Math.abs(n)));
  const faults = [];
  for (const [path, leaf] of first) {
    const found = second.get(path);
    // Differences of nearly equal numbers: a residual, and a surprise, which is counted in its standard deviation.
    const surprise = path.endsWith("_surprise") ? 1 : 0;
    const scale = path.includes("residual") ? throughput : Math.max(surprise, Math.abs(leaf));
    const same =
      isNumber(leaf) && isNumber(found) ? Math.abs(leaf - found) <= RELATIVE * scale : leaf === found;
    if (!same) faults.push(`${path} is ${leaf} with the service and ${found} here`);
  }
  if (first.length !== second.size) faults.push(`${first.length} leaves became ${second.size}`);
  return faults;
}

/** Every example, in both systems of units: the numbers of the service, to 1e-12 of each. */
async function examples(base) {
  const put = start();
  const { Spec } = await import(`${ROOT}/api/server/page/schema.js`);
  const forms = async (name) => (await fetch(`${base}/page/${name}.json`)).json();
  const spec = new Spec(await forms("forms"), () => forms("other-forms"));
  await spec.complete();
  let asked = 0;
  let same = 0;
  for (const { name, question } of spec.calculations) {
    const shown = await (await fetch(`${base}/v1/${name}/example`)).text();
    check(text(await put("example", [name])) === shown, `${name}: another example`);
    for (const units of ["metric", "us"]) {
      const document = JSON.stringify(spec.convert(question, JSON.parse(shown), units));
      const headers = { "content-type": "application/json" };
      const answered = await fetch(`${base}/v1/${name}`, { method: "POST", body: document, headers });
      const said = await answered.text();
      const here = await put("answer", [name, document, "application/json"]);
      check(
        answered.status === 200 && here.status === 200,
        `${name}, ${units}: ${answered.status}, ${here.status}`,
      );
      const faults = differences(JSON.parse(said), JSON.parse(text(here)));
      check(faults.length === 0, `${name}, ${units}: ${faults.slice(0, 3).join("; ")}`);
      asked += 1;
      same += said === text(here);
    }
  }
  check(asked >= 28, `only ${asked} examples were asked`);
  console.log(`${asked} examples agree to ${RELATIVE}; ${same} are the same to the byte`);
}

/** Questions drawn from the schemas, of which the numbers are compared as between two services. */
async function drawn(base) {
  const { server, address } = await serve(start());
  const code = await new Promise((done) => {
    spawn(`${ROOT}/tests/tools/same_numbers`, [base, address, String(DRAWN), "--other-machine"], {
      stdio: "inherit",
    }).on("close", done);
  });
  check(code === 0, "drawn questions are answered otherwise than by the service");
  server.close();
}

/** Problems are those of the service, to the byte. */
async function problems(base) {
  const put = start();
  for (const [name, document] of [
    ["top-up", "{"],
    [
      "top-up",
      '{"units":"metric","sump":{"capacity":200,"volume":240,"concentration":5},"target":{"concentration":8}}',
    ],
    ["top-up", '{"units":"us","sump":{"capacity":-1}}'],
    ["blend", '{"units":"metric","target":{"volume":100,"concentration":5},"stocks":[]}'],
    ["top-upp", "{}"],
  ]) {
    const headers = { "content-type": "application/json" };
    const answered = await fetch(`${base}/v1/${name}`, { method: "POST", body: document, headers });
    const said = await answered.text();
    const here = await put("answer", [name, document, "application/json"]);
    check(answered.status >= 400 && answered.status === here.status, `${name} ${document}: ${here.status}`);
    check(said === text(here), `${name} ${document}: ${text(here)}`);
  }
  const picture = await put("answer", ["forecast", text(await put("example", ["forecast"])), "text/plain"]);
  check(picture.status === 406, `an unknown form: ${text(picture)}`);
}

/** A calculation that panics is a problem, and the next question is answered. */
async function panics() {
  let left = 1;
  const breaking = {
    compile: (bytes) => WebAssembly.compile(bytes),
    async instantiate(module, imports) {
      const { exports } = await WebAssembly.instantiate(module, imports);
      left -= 1;
      // More than there is in the request: what the engine itself stumbles over.
      return left < 0 ? { exports } : { exports: { ...exports, answer: () => exports.answer(1e6, 1e6) } };
    },
  };
  const put = start(breaking);
  const example = text(await put("example", ["top-up"]));
  const failed = await put("answer", ["top-up", example, "application/json"]);
  const problem = JSON.parse(text(failed));
  check(failed.status === 500 && problem.status === 500, `a panic is answered with ${failed.status}`);
  check(problem.type === "/problems/internal", `a panic is the problem ${problem.type}`);
  check(/answer|split|mid|length/.test(problem.detail), `a panic says ${problem.detail}`);
  const again = await put("answer", ["top-up", example, "application/json"]);
  check(again.status === 200, `after a panic: ${text(again)}`);
  console.log(`a panic says: ${problem.detail}`);
}

module.exports = { examples, drawn, problems, panics };
