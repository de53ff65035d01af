// The page in a real browser where no service answers: kept by the device, and as one file.

const { appendFileSync, copyFileSync, mkdtempSync, readFileSync, readdirSync, rmSync } = require("node:fs");
const { tmpdir } = require("node:os");
const { chromium } = require("playwright-core");
const { answered, check, shownJson } = require("../page/browser");
const { ROOT, FILE } = require("./engine");
const { service } = require("./service");

const HERE = "Calculated on this device, without the service.";
const ALONE = "This is the page by itself";

/** A device with a memory of its own, which is no private one: those install nothing. */
async function device(act) {
  const folder = mkdtempSync(`${tmpdir()}/device-`);
  try {
    await act(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** A browser on such a device, opened and closed. */
async function browser(folder, act) {
  const context = await chromium.launchPersistentContext(folder, {
    // The whole one: the shell without windows installs nothing.
    executablePath: "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-sync"],
    viewport: { width: 360, height: 740 },
  });
  const page = await context.newPage();
  page.setDefaultTimeout(20000);
  page.on("pageerror", (error) => check(false, `an error on the page: ${error.stack}`));
  page.on("console", (said) => {
    if (/Content Security Policy/.test(said.text())) check(false, `against the policy: ${said.text()}`);
  });
  const missed = [];
  page.on("requestfailed", (one) => missed.push(`${one.url()}: ${one.failure().errorText}`));
  try {
    return await act(page, context);
  } catch (error) {
    const told = await page.evaluate(() => document.querySelector("#notice")?.innerText).catch(String);
    console.log([`${page.url()} then told: ${told}`, ...missed].join("\n"));
    throw error;
  } finally {
    await context.close();
  }
}

/** Opens a task from nothing, fills in its example, asks, and takes what was answered. */
async function example(page, address, task) {
  await page.goto("about:blank");
  await page.goto(`${address}#${task}`);
  await page.waitForSelector("#fields .field");
  await page.click("#example");
  return (await answered(page)) ? shownJson(page, "Answer") : undefined;
}

const kept = (page) =>
  page.evaluate(async () => {
    const found = {};
    for (const name of await caches.keys()) {
      found[name] = (await (await caches.open(name)).keys()).map((request) => request.url);
    }
    return found;
  });

/** Waits until the page's files and the engine are on the device, in one cache. */
async function waitForKept(page, known = "") {
  const end = Date.now() + 20000;
  while (!(await page.evaluate(isKept, known))) {
    if (Date.now() > end) throw new Error("after 20 s the device does not keep the page and its engine");
    await page.waitForTimeout(250);
  }
}

/** In the page. Opens no cache that may be about to go: that would make it again. */
async function isKept(known) {
  const [name, ...others] = await caches.keys();
  if (name === undefined || name === known || others.length > 0) return false;
  const requests = await (await caches.open(name)).keys();
  return requests.some(({ url }) => url.endsWith("/page/engine.wasm"));
}

/** Asked twice at once, the device takes the engine once. */
async function takenOnce(page, context) {
  const [worker] = context.serviceWorkers();
  await worker.evaluate(() => {
    const { fetch } = self;
    self.fetched = 0;
    self.fetch = (...request) => {
      self.fetched += 1;
      return fetch(...request);
    };
  });
  await page.evaluate(async () => {
    const [name] = await caches.keys();
    const cache = await caches.open(name);
    await cache.delete(new URL("page/engine.wasm", document.baseURI), { ignoreVary: true });
    const { active } = await navigator.serviceWorker.ready;
    for (let times = 0; times < 2; times += 1) active.postMessage("keep the engine");
  });
  await waitForKept(page);
  const fetched = await worker.evaluate(() => self.fetched);
  check(fetched === 1, `the engine is fetched ${fetched} times`);
}

/** Loaded once, the page opens and answers when the service has stopped, and says so. */
async function offline() {
  const { base, stop } = await service();
  await device(async (folder) => {
    const first = await browser(folder, (page, context) => firstVersion(page, context, base, stop));
    // Opened again, since a page that was left in the middle of a fetch may hold the first version for minutes.
    await browser(folder, (page) => nextVersion(page, base, first));
  });
}

async function firstVersion(page, context, base, stop) {
  const record = await example(page, `${base}/`, "top-up");
  const round = await example(page, `${base}/`, "morning");
  check(!(await page.textContent("body")).includes(HERE), "the service's answer is called the device's");
  await waitForKept(page);
  const wire = await context.newCDPSession(page);
  const { installabilityErrors } = await wire.send("Page.getInstallabilityErrors");
  check(
    installabilityErrors.length === 0,
    `it cannot be installed: ${installabilityErrors.map((one) => one.errorId)}`,
  );
  const urls = Object.values(await kept(page)).flat();
  check(urls.length > 20, `only ${urls.length} files are kept`);
  check(!urls.some((url) => url.includes("/v1")), "an answer or an example is kept");
  await takenOnce(page, context);

  await stop();
  const started = Date.now();
  await page.reload();
  await page.waitForSelector("#fields .field");
  console.log(`opened without the service in ${Date.now() - started} ms`);
  const asked = Date.now();
  const here = await example(page, `${base}/`, "top-up");
  console.log(`the example's form and its answer took ${Date.now() - asked} ms more`);
  check(JSON.stringify(here) === JSON.stringify(record), "the device's record is another one");
  check((await page.textContent("#away")) === HERE, "it does not say where the answer comes from");
  check((await example(page, `${base}/`, "batch")) !== undefined, "the batch check is not answered");
  const roundHere = await example(page, `${base}/`, "morning");
  check(JSON.stringify(roundHere) === JSON.stringify(round), "the device's morning round is another one");
  await page.goto("about:blank");
  await page.goto(`${base}/#blend`);
  await page.waitForSelector("#fields .field");
  await page.click("#ask");
  await page.waitForSelector("#notice .told");
  check((await page.locator("#fields [aria-invalid=true]").count()) > 0, "a blank form is not refused");
  return Object.keys(await kept(page))[0];
}

/** The service comes back as another version: all is replaced at once. */
async function nextVersion(page, base, first) {
  const other = `${ROOT}/target/page/another-engine.wasm`;
  copyFileSync(FILE, other);
  appendFileSync(other, Buffer.from([0, 5, 4, 0x6e, 0x6f, 0x74, 0x65])); // a custom section, “note”
  const next = await service({ port: new URL(base).port, engine: other });
  await example(page, `${base}/`, "top-up");
  check((await page.textContent("#away")) === "", "it still says that the service is away");
  await waitForKept(page, first);
  await next.stop();
  rmSync(other);
  check((await example(page, `${base}/`, "top-up")) !== undefined, "the next version does not answer");
  check((await page.textContent("#away")) === HERE, "the next version does not say so");
}

/** The page as one file, opened from a disk, answers every example without any network. */
async function oneFile() {
  const tasks = readdirSync(`${ROOT}/examples`)
    .filter((name) => name.endsWith(".json"))
    .map((name) => name.slice(0, -".json".length));
  check(tasks.length >= 14, `only ${tasks.length} examples were found`);
  const fromDisk = async (page, context) => {
    await context.setOffline(true);
    context.on("request", (request) =>
      check(/^(file|blob|data):/.test(request.url()), `a request leaves the disk: ${request.url()}`),
    );
    const file = `file://${ROOT}/target/page/sumpwright.html`;
    for (const task of ["batch", "morning", ...tasks]) {
      const record = await example(page, file, task);
      check(record !== undefined, `${task}: no answer from the file`);
      check((await page.textContent("#away")) === HERE, `${task}: the file does not say who answers`);
    }
    await page.goto("about:blank");
    await page.goto(file);
    await page.waitForSelector("#away:not(:empty)");
    check((await page.textContent("#away")).startsWith(ALONE), "the file does not say what it is");
    check((await page.locator('a[href^="docs/"]').count()) === 0, "the file has a link that leads nowhere");
    console.log(`${tasks.length + 2} tasks are answered from the disk`);
    // What is fetched on demand elsewhere is in the file too.
    await page.goto("about:blank");
    await page.goto(`${file}#recharge`);
    await page.waitForSelector("#fields .field");
    await page.click("#example");
    const table = page.locator("#fields .grid").first();
    const [saved] = await Promise.all([
      page.waitForEvent("download"),
      table.getByRole("button", { name: "Save as a workbook" }).click(),
    ]);
    const before = await table.locator(".grid-said").first().textContent();
    await table.locator("input[type=file]").setInputFiles({
      name: saved.suggestedFilename(),
      mimeType: "application/octet-stream",
      buffer: readFileSync(await saved.path()),
    });
    await page.waitForFunction(
      (text) => document.querySelector("#fields .grid-said").textContent !== text,
      before,
    );
    const told = await table.locator(".grid-said").first().textContent();
    check(told === "16 rows entered.", `a workbook in the file: ${told}`);
  };
  await device((folder) => browser(folder, fromDisk));
}

module.exports = { offline, oneFile };
