// The plant system's rules one by one, without Node-RED and without the service.

const assert = require("node:assert/strict");
const { readFileSync } = require("node:fs");
const { join } = require("node:path");
const { test } = require("node:test");

// The package as it is installed for the tests.
const folder = process.env.PLANT;
const plant = require(join(folder, "plant.js"));

const example = (name) => JSON.parse(readFileSync(join(folder, "orders", name), "utf8"));
const property = (order, machine, id) =>
  order.EquipmentRequirements.find((one) => one.ID === machine).Properties.find((one) => one.ID === id);
const service = { attempts: 4, firstWait: 500, patience: 10000 };
const answer = (statusCode, body, headers = {}) => ({
  statusCode,
  headers,
  payload: JSON.stringify(body),
});

test("the package has the version and the licence of the project, and both licences in it", () => {
  const { version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
  const project = readFileSync(join(__dirname, "../../../Cargo.toml"), "utf8");
  assert.equal(version, project.match(/^version = "(.*)"$/m)[1]);
  assert.ok(readFileSync(join(folder, "README.md"), "utf8").includes(`sumpwright-plant-${version}.tgz`));
  assert.equal(license, project.match(/^license = "(.*)"$/m)[1]);
  for (const name of ["LICENSE-MIT", "LICENSE-APACHE"]) {
    assert.equal(
      readFileSync(join(folder, name), "utf8"),
      readFileSync(join(__dirname, "../../..", name), "utf8"),
    );
  }
});

test("a number of the schema's decimal type has no exponent, and is the same number", () => {
  const { decimal } = require(join(folder, "plant/batchml/values.js"));
  for (const number of [242, 19.059512867647058, 0.1, 1.2e-7, 1.5e22, 3.3e-12]) {
    assert.match(decimal(number), /^\d+(\.\d+)?$/);
    assert.equal(Number(decimal(number)), number);
  }
});

test("an order becomes the question, member by member", () => {
  const { question, fluids, faults } = plant.questionOf(example("order.json"));
  assert.deepEqual(faults, []);
  assert.equal(question.units, "metric");
  assert.equal(question.reference, "RC-1001");
  assert.deepEqual(question.sumps[2], {
    name: "mill 1",
    product: "product B",
    volume: 260,
    target: 7.5,
    residue: 18,
    residue_concentration: 8.4,
    residue_properties: Object.assign(Object.create(null), { chloride: 160 }),
    chips: 60,
    rinse: { volume: 30, times: 2, strength: 1.5 },
    cleaner: { dose: 2, hours: 8 },
    scraping_minutes: 25,
    fluid_now: { volume: 230, concentration: 8.4 },
  });
  assert.deepEqual(
    question.stocks.map((stock) => stock.name),
    ["RA-0417", "CA-2203", "CB-1189", "tap water", "deionised water"],
  );
  assert.equal("product" in question.stocks[3], false);
  assert.deepEqual(question.limits, { chloride: { max: 95 } });
  assert.deepEqual(question.vessels[2], {
    name: "chip bin",
    holds: "chips",
    rated_load: 150,
    empty_minutes: 6,
    emptied_on_the_way: true,
  });
  assert.deepEqual(fluids["product A"], {
    method: "refractometer",
    factor: 1.25,
    water: 0.2,
    half_width: 0.3,
    stirred: true,
  });
});

test("what is misspelt, twice, in a wrong unit or of the other system is a fault at its place", () => {
  const order = example("order.json");
  const lathe = order.EquipmentRequirements[0].Properties;
  lathe[6].ID = "swarf";
  lathe.push({ ID: "fluid", Value: "product A" });
  property(order, "lathe 2", "target concentration").EngineeringUnits = "LTR";
  property(order, "mill 1", "working volume").EngineeringUnits = "GLL";
  property(order, "mill 1", "chips").EngineeringUnits = undefined;
  const places = plant.questionOf(order).faults.map((fault) => fault.pointer);
  assert.deepEqual(places, [
    "/EquipmentRequirements/0/Properties/6/ID",
    "/EquipmentRequirements/0/Properties/8/ID",
    "/EquipmentRequirements/1/Properties/2/EngineeringUnits",
    "/EquipmentRequirements/2/Properties/1/EngineeringUnits",
    "/EquipmentRequirements/2/Properties/6/EngineeringUnits",
  ]);
});

test("a fluid without a way to read it, or without a half width, is a fault", () => {
  const order = example("order.json");
  order.MaterialRequirements[0].Properties.pop();
  order.MaterialRequirements.splice(1, 1);
  const details = plant.questionOf(order).faults.map((fault) => fault.detail);
  assert.equal(details.length, 2);
  assert.match(details[0], /acceptance half width.*missing/);
  assert.match(details[1], /product B/);
});

test("an order of any shape gets faults and no exception", () => {
  for (const odd of [
    {},
    { EquipmentRequirements: {} },
    { EquipmentRequirements: [null], MaterialRequirements: [7, null] },
  ]) {
    assert.ok(plant.questionOf({ JobOrderID: "X", ...odd }).faults.length > 0);
  }
});

test("the service's faults come back at the order's places, and what is missing has its name there", () => {
  const order = example("order.json");
  const job = { order, faults: [], rejected: [], batches: [] };
  const problem = {
    type: "/problems/malformed",
    title: "The request is not of the right shape",
    detail: "…",
    errors: [
      { pointer: "/sumps/1/residue", detail: '"residue" is missing.' },
      { pointer: "/sumps/2/rinse/volume", detail: "x" },
      { pointer: "/limits/chloride/max", detail: "x" },
      { pointer: "/stocks/1/concentration", detail: "x" },
      { pointer: "/vessels/0", detail: "x" },
      { pointer: "/goal", detail: "x" },
    ],
  };
  order.EquipmentRequirements[1].Properties.splice(3, 1);
  plant.fileRecipes(job, { problem }, "now");
  assert.equal(job.state, "Aborted");
  const places = job.rejection.errors.map(({ pointer, name }) => [pointer, name]);
  assert.deepEqual(places, [
    ["/EquipmentRequirements/1", "residue"],
    ["/EquipmentRequirements/2/Properties/7/Subproperties/0/Value", undefined],
    ["/JobOrderParameters/2/Subparameters/0/Value", undefined],
    ["/MaterialRequirements/3/Properties/0/Value", undefined],
    ["/EquipmentRequirements/3", undefined],
    ["", undefined],
  ]);
});

test("only a failed connection, 429 and 503 are asked again", () => {
  for (const status of [400, 401, 403, 404, 405, 413, 415, 422, 500, 502, 504]) {
    assert.equal(
      plant.outcomeOf(answer(status, { detail: "no" }), 1, service).again,
      undefined,
      String(status),
    );
  }
  for (const status of [429, 503, "ECONNREFUSED", "ETIMEDOUT", "ECONNRESET"]) {
    assert.equal(plant.outcomeOf(answer(status, {}), 1, service).again, 500, String(status));
  }
  assert.equal(plant.outcomeOf(answer("ECONNREFUSED", {}), 3, service).again, 2000);
  assert.equal(plant.outcomeOf(answer("ECONNREFUSED", {}), 4, service).again, undefined);
});

test("it is not asked before Retry-After, and nobody is kept waiting beyond patience", () => {
  const at = Date.parse("2026-01-01T00:00:00Z");
  assert.equal(plant.retryAfter("3", at), 3000);
  assert.equal(plant.retryAfter("Thu, 01 Jan 2026 00:00:07 GMT", at), 7000);
  assert.equal(plant.retryAfter("Wed, 31 Dec 2025 23:00:00 GMT", at), 0);
  assert.equal(plant.retryAfter("soon", at), undefined);
  assert.equal(plant.outcomeOf(answer(503, {}, { "retry-after": "3" }), 1, service, at).again, 3000);
  const later = plant.outcomeOf(answer(429, {}, { "retry-after": "60" }), 1, service, at);
  assert.equal(later.again, undefined);
  assert.equal(later.waits, at + 60000);
});

test("a refusal is a problem; a wrong key or a stranger's page makes the order wait", () => {
  assert.ok(plant.outcomeOf(answer(422, { detail: "no" }), 1, service).problem);
  assert.ok(plant.outcomeOf(answer(401, { detail: "no key" }), 1, service).waits);
  assert.ok(plant.outcomeOf({ statusCode: 200, headers: {}, payload: "<html>" }, 1, service).waits);
  assert.deepEqual(plant.outcomeOf(answer(200, { answer: {} }), 1, service), {
    record: { answer: {} },
  });
});

test("all that is asked for an order is one trace, and an attempt is a span of its own", () => {
  const first = plant.headersOf({ order: "RC-1", step: "recharge" }, 1, "secret");
  const second = plant.headersOf({ order: "RC-1", step: "recharge" }, 2);
  const other = plant.headersOf({ order: "RC-2", step: "recharge" }, 1);
  // W3C Trace Context, 3.2: version, trace-id, parent-id, flags, in lower-case hexadecimal digits.
  for (const { traceparent } of [first, second, other])
    assert.match(traceparent, /^00-[0-9a-f]{32}-[0-9a-f]{16}-01$/);
  const [trace, span] = first.traceparent.split("-").slice(1);
  assert.equal(second.traceparent.split("-")[1], trace);
  assert.notEqual(second.traceparent.split("-")[2], span);
  assert.notEqual(other.traceparent.split("-")[1], trace);
  assert.equal(first["x-request-id"], second["x-request-id"]);
  assert.equal(first.authorization, "Bearer secret");
  assert.equal("authorization" in second, false);
});

/** A job with two batches as the service might have planned them. */
function planned() {
  const order = example("order.json");
  const take = {
    1: [
      ["RA-0417", 250],
      ["CA-2203", 7],
    ],
    2: [
      ["CB-1189", 19],
      ["tap water", 223],
    ],
  };
  const batch = (number, product, target) => ({
    BatchID: `RC-1001-B${number}`,
    product,
    status: "to make",
    planned: { volume: 242, take: take[number].map(([name, volume]) => ({ name, volume })) },
    acceptance: { low: target - 0.3, target, high: target + 0.3 },
    confirmations: [],
  });
  const record = {
    sumps: [{ rinsed: 0 }, { rinsed: 0 }, { rinsed: 60 }],
    rinseMixes: [{ take: [{ name: "deionised water", volume: 60 }] }],
  };
  return {
    order,
    state: "AllowedToStart",
    record,
    batches: [batch(1, "product A", 6), batch(2, "product B", 8)],
  };
}

test("actuals of another product, without a unit or without a reading are refused, and not filed", () => {
  const jobs = { "RC-1001": planned() };
  const actuals = example("actuals-batch-2-weak.json");
  actuals.MaterialActuals[0].MaterialDefinitionID = "concentrate A";
  actuals.MaterialActuals[1].Quantity = -1;
  actuals.MaterialActuals[1].EngineeringUnits = "GLL";
  actuals.JobResponseData = [];
  const { problem } = plant.fileActuals(actuals, jobs, "now");
  assert.equal(problem.errors.length, 4);
  assert.deepEqual(jobs["RC-1001"], planned());
});

test("a message that comes again is answered as before, and not filed again", () => {
  const jobs = { "RC-1001": planned() };
  const actuals = example("actuals-batch-2-weak.json");
  const { job, batch } = plant.fileActuals(actuals, jobs, "now");
  plant.fileStanding(batch, { record: { answer: { concentration: 7.5, standing: "below" } } }, "now");
  const first = plant.batchReply(job, batch);
  const poured = plant.poured(batch);
  const again = plant.fileActuals(structuredClone(actuals), jobs, "later");
  assert.deepEqual(plant.batchReply(again.job, again.batch, again.repeated), first);
  // What was filed since then changes nothing of it.
  const corrected = plant.fileActuals(example("actuals-batch-2-corrected.json"), jobs, "later");
  plant.fileStanding(
    corrected.batch,
    { record: { answer: { concentration: 7.9, standing: "in_band" } } },
    "later",
  );
  const late = plant.fileActuals(structuredClone(actuals), jobs, "latest");
  assert.deepEqual(plant.batchReply(late.job, late.batch, late.repeated), first);
  assert.equal(batch.confirmations.length, 2);
  assert.notEqual(plant.poured(batch), poured);
  // The same identity with other contents is a fault of the sender, and none at all is refused.
  const other = example("actuals-batch-2-weak.json");
  other.MaterialActuals[0].Quantity += 1;
  assert.equal(plant.fileActuals(other, jobs, "latest").problem.status, 409);
  const { message: _, ...nameless } = example("actuals-batch-1.json");
  assert.equal(plant.fileActuals(nameless, jobs, "latest").problem.errors[0].pointer, "/message");
});

test("nobody's name, and more taken out than is in, are refused", () => {
  const jobs = { "RC-1001": planned() };
  const actuals = example("actuals-batch-2-weak.json");
  actuals.PersonnelActuals = "operator 4";
  assert.equal(plant.fileActuals(actuals, jobs, "now").problem.errors[0].pointer, "/PersonnelActuals");
  const taken = example("actuals-batch-2-weak.json");
  const out = {
    MaterialLotID: "RC-1001-B2",
    MaterialUse: "material consumed",
    EngineeringUnits: "LTR",
  };
  taken.MaterialActuals.push({ ...out, Quantity: 241 });
  assert.equal(plant.fileActuals(taken, jobs, "now").problem.errors[0].pointer, "/MaterialActuals");
  taken.MaterialActuals.at(-1).Quantity = 240;
  assert.equal(plant.fileActuals(taken, jobs, "now").problem, undefined);
});

test("a correction takes lots of the batch's own product that are under every limit, as far as they are left", () => {
  const jobs = { "RC-1001": planned() };
  const [first] = jobs["RC-1001"].batches;
  const { MaterialActuals } = example("actuals-batch-1.json");
  first.confirmations.push({ MaterialActuals, reading: 4 });
  const { document } = plant.askForCorrection(jobs["RC-1001"], first);
  assert.deepEqual(
    document.stocks.map(({ name, volume }) => [name, volume]),
    [
      ["CA-2203", 60 - 7.2],
      ["tap water", undefined],
      ["deionised water", 900 - 5.2 - 60],
    ],
  );
  // More was poured than was planned: it stays, and the batch is as large as that.
  assert.equal(document.sump.volume, 336);
  assert.equal(document.sump.capacity, 336);
});

test("concentrate corrects a batch as it is only where its tank is stirred", () => {
  const jobs = { "RC-1001": planned() };
  const [first] = jobs["RC-1001"].batches;
  const { MaterialActuals } = example("actuals-batch-1.json");
  first.confirmations.push({ MaterialActuals, reading: 4 });
  const asked = () => plant.askForCorrection(jobs["RC-1001"], first).document;
  assert.equal(asked().vessel, "stirred_tank");
  for (const material of jobs["RC-1001"].order.MaterialRequirements) {
    material.Properties = material.Properties.filter(({ ID }) => ID !== "stirred tank");
  }
  assert.equal(asked().vessel, "sump");
});

test("what is taken out of a batch counts against it", () => {
  const actual = (MaterialLotID, Quantity) => ({ MaterialLotID, Quantity });
  const batch = {
    BatchID: "B",
    confirmations: [
      { MaterialActuals: [actual("W", 100)] },
      { MaterialActuals: [actual("B", 8), actual("C", 5)] },
    ],
  };
  assert.equal(plant.poured(batch), 97);
});

test("the state of a job is that of its batches", () => {
  const state = (...statuses) =>
    plant.stateOf({ state: "AllowedToStart", batches: statuses.map((status) => ({ status })) });
  assert.deepEqual(state("to make", "to make"), ["AllowedToStart"]);
  assert.deepEqual(state("confirmed", "to make"), ["Running"]);
  assert.deepEqual(state("confirmed", "held"), ["Interrupted", "Held"]);
  assert.deepEqual(state("confirmed", "confirmed"), ["Ended", "Completed"]);
  assert.deepEqual(plant.stateOf({ state: "NotAllowedToStart", batches: [] }), ["NotAllowedToStart"]);
});

test("an order is filed once, and again only after it was rejected or while it waits", () => {
  const jobs = {};
  const order = example("order.json");
  assert.ok(plant.receive(order, jobs, "now").job);
  assert.ok(plant.receive(order, jobs, "now").job);
  jobs["RC-1001"].state = "AllowedToStart";
  assert.equal(plant.receive(order, jobs, "now").problem.status, 409);
  for (const JobOrderID of [undefined, 7, "", "a b", "__proto__", "../x", "x".repeat(41)]) {
    assert.equal(plant.receive({ ...order, JobOrderID }, jobs, "now").problem.status, 422);
  }
  assert.ok(plant.receive({ ...order, JobOrderID: "constructor" }, jobs, "now").job);
});

test("nothing is asked twice at a time", () => {
  assert.equal(plant.claim("B"), true);
  assert.equal(plant.claim("B"), false);
  plant.release("B");
  assert.equal(plant.claim("B"), true);
});
