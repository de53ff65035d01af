// A sump watched over MQTT, through a broker: readings come in, the service is asked, the work goes out, and what was
// poured comes back and counts once. Expected states are the service's answers to questions written here by hand.

const assert = require("node:assert/strict");
const { mkdtempSync, readFileSync, rmSync } = require("node:fs");
const { tmpdir } = require("node:os");
const { join } = require("node:path");
const { after, before, test } = require("node:test");
const { Flow, ask, broker, front, terminal, until } = require("./watch");

const { PLANT, SERVICE } = process.env;
const example = (name) => JSON.parse(readFileSync(join(PLANT, "sumps", `${name}.json`), "utf8"));
const sheet = example("sheet");
const first = example("reading-1");
const second = example("reading-2");
const poured = example("poured");
const WORK = "shop/sumps/lathe-3/work";
const STATE = "shop/sumps/lathe-3/state";

const folder = mkdtempSync(join(tmpdir(), "watch-"));
let parts;

before(async () => {
  const mqtt = await broker();
  const service = await front(SERVICE);
  const flow = new Flow(folder, mqtt.port, service.port);
  flow.start();
  const operator = await terminal(mqtt.port);
  parts = { mqtt, service, flow, operator };
});

after(async () => {
  await parts.operator.close();
  await parts.flow.stop("SIGTERM");
  parts.service.close();
  parts.mqtt.close();
  rmSync(folder, { recursive: true });
});

/** The log that the messages make, by hand: c = 1.25·(b − 0.2). */
const read = ({ at, volume, reading }) => ({
  at,
  volume,
  reading: { method: "refractometer", brix: reading, factor: 1.25, water_brix: 0.2 },
});
const pour = ({ at, added }) => ({ at, added });

/** What the service says of a log, asked directly. */
async function direct(log) {
  const question = { reference: "lathe-3", ...sheet.question, log };
  return JSON.parse((await ask(SERVICE, "/v1/sump-state", JSON.stringify(question))).text);
}

/** The state on its topic, as soon as it is that of this many entries and does not wait. */
const state = (entries) =>
  until(`a state of ${entries} entries`, () => {
    const said = parts.operator.last[STATE];
    return said?.entries === entries && !said.waits && said;
  });
const send = (kind, document, sump = "lathe-3") =>
  parts.operator.send(`shop/sumps/${sump}/${kind}`, document, kind === "sheet");
const receipt = async (count, message) => {
  const own = () => parts.operator.receipts.filter((one) => one.message === message);
  await until(`${count} receipts of ${message}`, () => own().length >= count);
  assert.equal(own().length, count);
  return own().at(-1);
};

test("a reading becomes a state, and what to pour", async () => {
  await until("the flow is online", () => parts.operator.last["shop/watch"] === "online");
  await send("sheet", sheet);
  await until("it says so", () => parts.operator.last[STATE]?.waits === "There is no reading yet.");
  await send("reading", first);
  assert.equal((await receipt(1, first.message)).filed, true);
  await state(1);
  await send("reading", second);
  const said = await state(2);
  const expected = await direct([read(first), read(second)]);
  assert.equal(said.statement, expected.statement);
  assert.deepEqual(said.now, expected.answer.now);
  assert.equal(said.to_do, "top_up");

  const work = await until("work", () => parts.operator.last[WORK]);
  assert.equal(work.work, poured.work);
  assert.deepEqual([work.as_of, work.entries], [second.at, 2]);
  // A balance by hand: the sump full, and at its target.
  const { volume, concentration } = expected.answer.now;
  const sum = work.add.reduce((all, { volume }) => all + volume, volume.value);
  const concentrate = work.add.find(({ name }) => name === "concentrate").volume;
  assert.ok(Math.abs(sum - 200) < 1e-9, `${sum}`);
  assert.ok(Math.abs(concentration.value * volume.value + concentrate * 100 - 8 * 200) < 1e-6);
  assert.ok(Math.abs(work.after.mark - (8 / 1.25 + 0.2)) < 1e-9);
  assert.deepEqual(parts.service.asked.at(-1), {
    path: "/v1/top-up",
    document: {
      units: "metric",
      reference: "lathe-3",
      sump: {
        capacity: 200,
        volume: volume.value,
        reading: { method: "refractometer", brix: expected.answer.now.mark, factor: 1.25, water_brix: 0.2 },
      },
      target: { concentration: 8 },
      premix_at_most: 10,
    },
  });
  assert.ok(work.cautions.some(({ code }) => code === "machine-may-start"));
});

test("a message that comes again counts once, and is answered as before", async () => {
  const before = await receipt(1, second.message);
  const version = parts.service.asked.length;
  await send("reading", second);
  await send("reading", second);
  assert.deepEqual(await receipt(3, second.message), before);
  const changed = await direct([read(first), read(second), read(second)]);
  assert.notEqual(changed.statement, parts.operator.last[STATE].statement, "twice would be seen");
  assert.equal(parts.operator.last[STATE].entries, 2);
  assert.equal(parts.service.asked.length, version, "nothing is asked of it");
  assert.equal(parts.operator.last[WORK].work, poured.work, "and the work stays");
  await send("reading", { ...second, volume: 150 });
  const other = await receipt(4, second.message);
  assert.equal(other.filed, false);
  assert.match(other.detail, /came before and said something else/);
});

test("what was poured goes back into the log once, and ends its work", async () => {
  await send("poured", poured);
  await send("poured", poured);
  assert.deepEqual(await receipt(2, poured.message), parts.operator.receipts.at(-2));
  const said = await state(3);
  const once = await direct([read(first), read(second), pour(poured)]);
  const twice = await direct([read(first), read(second), pour(poured), pour(poured)]);
  assert.equal(said.statement, once.statement);
  assert.deepEqual(said.now, once.answer.now);
  assert.ok(twice.answer.now.volume.value - once.answer.now.volume.value > 50, "twice would be seen");
  assert.equal(parts.operator.last[WORK], "", "the work is withdrawn");
  await send("poured", { ...poured, message: "somebody else's" });
  const refused = await receipt(1, "somebody else's");
  assert.match(refused.detail, /lathe-3-W3.*was reported as poured before/);
  assert.equal(parts.operator.last[STATE].entries, 3);
});

test("what is wrong is said, and nothing of it is kept", async () => {
  const later = { ...second, message: "m", at: "2025-04-18T07:00:00+02:00" };
  for (const [kind, document, words] of [
    ["reading", "{no", /not JSON/],
    ["reading", { ...later, message: undefined }, /identity of the message/],
    ["reading", { ...later, at: "2025-04-18" }, /offset from UTC/],
    ["reading", { ...later, at: "2325-04-18T07:00:00+02:00" }, /yet to come/],
    ["reading", { ...later, volume: "140" }, /number/],
    ["reading", { ...later, brix: 7 }, /"brix"/],
    ["poured", { ...poured, message: "m", work: "lathe-3-W99" }, /no work/],
    [
      "poured",
      { ...poured, message: "m", work: undefined, added: { volume: 3 } },
      /of \(a name\) or concentration/,
    ],
    ["poured", { ...poured, message: "m", work: undefined, added: undefined }, /added, removed/],
    ["sheet", { question: { log: [] } }, /concentration to hold/],
  ]) {
    const count = parts.operator.receipts.length;
    await send(kind, document);
    await until("a receipt", () => parts.operator.receipts.length > count);
    const { filed, detail, errors } = parts.operator.receipts.at(-1);
    assert.equal(filed, false);
    assert.match(JSON.stringify([detail, errors]).replaceAll('\\"', '"'), words);
  }
  await send("reading", { ...later, message: "nobody's" }, "mill-9");
  assert.match((await receipt(1, "nobody's")).detail, /no sheet of the sump mill-9/);

  // What only the service can tell is filed, and taken out again.
  await send("reading", { ...later, message: "a slip", volume: 1380 });
  const slip = await receipt(2, "a slip");
  assert.equal(slip.filed, false);
  assert.match(slip.detail, /more than overfull/);
  assert.equal(slip.errors[0].pointer, "/volume");
  const said = await state(3);
  assert.equal(said.statement, (await direct([read(first), read(second), pour(poured)])).statement);
});

test("nothing is lost while the service is away and the flow crashes, and its end is announced", async () => {
  const third = { ...first, message: "third", at: "2025-04-20T07:00:00+02:00", volume: 165, reading: 7.4 };
  const fourth = { ...first, message: "fourth", at: "2025-04-21T07:00:00+02:00", volume: 152, reading: 7.7 };
  const between = {
    ...first,
    message: "between",
    at: "2025-04-19T07:00:00+02:00",
    volume: 175,
    reading: 7.2,
  };
  parts.service.close();
  await send("reading", third);
  assert.equal((await receipt(1, "third")).filed, true);
  await send("reading", { ...third, message: "a slip away", volume: 1380 });
  assert.equal((await receipt(1, "a slip away")).filed, true);
  await until("it waits", () => /cannot be reached/.test(parts.operator.last[STATE].waits));
  assert.equal(parts.operator.last[WORK], "", "nobody pours by an old state");
  await parts.flow.stop();
  await until("its end is announced", () => parts.operator.last["shop/watch"] === "offline");
  // While the flow is away the broker keeps what comes; one of it is sent twice.
  await send("reading", fourth);
  await send("reading", fourth);
  await send("reading", between);
  await parts.service.open();
  parts.flow.start();
  await until("it is back", () => parts.operator.last["shop/watch"] === "online");
  const said = await state(6);
  await receipt(2, "fourth");
  assert.equal((await receipt(2, "a slip away")).filed, false, "what waited with it stays");
  await receipt(1, "between");
  const log = [read(first), read(second), pour(poured), read(between), read(third), read(fourth)];
  assert.deepEqual(said.now, (await direct(log)).answer.now, "in the order of their moments");
});

test("who comes later sees the state, and no node failed", async () => {
  const later = await terminal(parts.mqtt.port);
  await until("what is retained", () => later.last[STATE]?.entries === 6);
  assert.equal(later.last["shop/watch"], "online");
  await later.close();
  assert.equal(parts.operator.last["shop/watch/fault"], undefined);
  assert.doesNotMatch(parts.flow.said(), /\[error\]/);
});

test("both flows ask the service by the same subflow", () => {
  const subflow = (name) => {
    const nodes = JSON.parse(readFileSync(join(PLANT, name), "utf8"));
    const { id } = nodes.find(({ type }) => type === "subflow");
    return nodes.filter((node) => node.id === id || node.z === id);
  };
  assert.ok(subflow("flows.json").length > 5);
  assert.deepEqual(subflow("topics.json"), subflow("flows.json"));
});
