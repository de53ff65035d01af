// The operator's page in Firefox: every task blank, filled in and answered, a kept machine, and no service.
//
// Run by tests/tools/page/firefox, with the address of a service. What the page does in detail is checked in
// the other browser (check.js); here it is that nothing of it depends on that one.

const http = require("node:http");
const puppeteer = require("puppeteer-core");
const { check, failed } = require("./verdict");

const SIZES = { phone: { width: 360, height: 740 }, desk: { width: 1440, height: 900 } };
const LETTERS = 40; // pixels of the statement, at least
const PATIENCE = 20000; // milliseconds

/** An invented machine as it is kept, by the places of its entries. */
const MACHINE = {
  "/name": "Mill 3, invented",
  "/tank/capacity": "200",
  "/tank/volume": "180",
  "/reading/factor": "1,25",
  "/band/low": "7",
  "/band/target": "8",
  "/band/high": "9",
};

/** Stands before the service, so that it can be taken away. */
function gate(service) {
  const server = http.createServer((request, response) => {
    const to = new URL(request.url, service);
    const options = { method: request.method, headers: { ...request.headers, host: to.host } };
    const passed = http.request(to, options, (answer) => {
      response.writeHead(answer.statusCode, answer.headers);
      answer.pipe(response);
    });
    passed.on("error", () => response.destroy());
    request.pipe(passed);
  });
  return new Promise((done) => {
    server.listen(0, "127.0.0.1", () => {
      const shut = () => {
        server.close();
        server.closeAllConnections();
      };
      done({ base: `http://127.0.0.1:${server.address().port}`, shut });
    });
  });
}

/** A page of a browser without stored data; what it complains of is a failure. */
async function fresh(browser, size) {
  const context = await browser.createBrowserContext();
  const page = await context.newPage();
  await page.setViewport(SIZES[size]);
  page.setDefaultTimeout(PATIENCE);
  page.on("pageerror", (error) => check(false, `an error on the page: ${error.stack ?? error}`));
  page.on("console", (said) => check(said.type() !== "error", `the console says: ${said.text()}`));
  return { context, page };
}

async function open(page, address, selector) {
  await page.goto("about:blank");
  await page.goto(address, { waitUntil: "domcontentloaded" });
  await page.waitForSelector(selector);
}

const press = (page, selector) => page.$eval(selector, (one) => one.click());

/** Checks that nothing is cut off at the side, and what can be tapped is large enough for a glove. */
async function layout(page, where) {
  const { over, small } = await page.evaluate(() => {
    const tapped = "button, .button, select, summary, .choices label, .ticks label";
    const seen = [...document.querySelectorAll(tapped)].filter((one) => one.checkVisibility());
    const close = matchMedia("(pointer: fine) and (min-width: 60rem)").matches;
    return {
      over: document.documentElement.scrollWidth - innerWidth,
      small: seen
        .filter((one) => !(close && one.closest("td.grid-open")))
        .filter((one) => one.getBoundingClientRect().height < 47.9)
        .map((one) => `${one.tagName} ${one.textContent.slice(0, 30)}`),
    };
  });
  check(over <= 0, `${where}: ${over} pixels wider than the screen`);
  check(small.length === 0, `${where}: too small for a glove: ${small.slice(0, 3).join("; ")}`);
}

/** Checks that all of the statement is in view, in large letters, and that a picture has its texts inside. */
async function answered(page, where) {
  await page.waitForSelector("#statement");
  const seen = await page.evaluate(() => {
    const { top, bottom } = document.getElementById("statement").getBoundingClientRect();
    const headline = document.querySelector("#statement .headline");
    const letters = Number.parseFloat(getComputedStyle(headline).fontSize);
    return { top, bottom, height: innerHeight, letters };
  });
  check(
    seen.top >= 0 && seen.bottom <= seen.height,
    `${where}: the statement lies from ${seen.top} to ${seen.bottom} on a screen of ${seen.height}`,
  );
  check(seen.letters >= LETTERS, `${where}: the statement has letters of ${seen.letters} px`);
}

/** The tasks without a picture. */
const WITHOUT = ["make-up", "condition", "water", "test-plan", "morning"];

/** The pictures of an answer: their texts are inside, and large enough. */
async function pictured(page, where) {
  await page.waitForSelector(".picture :is(svg, a)");
  const wrong = await page.evaluate(() =>
    [...document.querySelectorAll(".picture svg")].flatMap((drawing) => {
      const frame = drawing.getBoundingClientRect();
      return [...drawing.querySelectorAll("text")].flatMap((one) => {
        const box = one.getBoundingClientRect();
        const out = box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1;
        const size = Number.parseFloat(getComputedStyle(one).fontSize);
        return out || size < 12 ? [`${one.textContent} (${size} px)`] : [];
      });
    }),
  );
  check(wrong.length === 0, `${where}: small or outside the picture: ${wrong.slice(0, 3).join("; ")}`);
}

async function tasks(browser, base, size) {
  const { context, page } = await fresh(browser, size);
  await open(page, `${base}/`, "#fields .field");
  const names = await page.$$eval("#tasks a:not([href='#kept'])", (links) =>
    links.map((link) => link.getAttribute("href").slice(1)),
  );
  check(names.length >= 15, `only ${names.length} tasks were found`);
  for (const name of names) {
    const where = `${name} on a ${size}`;
    await open(page, `${base}/#${name}`, "#fields .field");
    await layout(page, `${where}, blank`);
    await press(page, "#example");
    await layout(page, `${where}, filled in`);
    await press(page, "#ask");
    await answered(page, where);
    if (!WITHOUT.includes(name)) await pictured(page, where);
    await layout(page, `${where}, answered`);
  }
  await context.close();
  return names.length;
}

/** A machine is kept, checked, and found again with its history. */
async function dailyCheck(browser, base, size) {
  const { context, page } = await fresh(browser, size);
  await open(page, `${base}/#kept/new`, "form.edit");
  for (const [pointer, value] of Object.entries(MACHINE)) await page.type(`[id="at${pointer}"]`, value);
  await press(page, "form.edit button.main");
  await page.waitForSelector("#quick-reading");
  await open(page, `${base}/#kept`, ".place");
  await open(page, `${base}/`, "#quick-reading:focus");
  await page.keyboard.type("5,2");
  await press(page, "button[aria-label^='Fluid in it'][aria-label$='more']");
  await press(page, "form.quick button.main");
  await answered(page, `a kept machine on a ${size}`);
  await page.waitForSelector(".noted");
  await press(page, ".noted a[href$='history']");
  await page.waitForSelector("table.checks");
  const row = await page.$eval("table.checks tbody tr", (one) => one.textContent);
  check(row.includes("5.2") && row.includes("182"), `the history of a kept machine says ${row}`);
  await layout(page, `the history on a ${size}`);
  await context.close();
}

/** A table is saved as a workbook and opened again, by dropping it. */
async function workbook(browser, base) {
  const { context, page } = await fresh(browser, "desk");
  await open(page, `${base}/#recharge`, "#fields .field");
  await press(page, "#example");
  const said = await page.evaluate(async () => {
    const { workbookOf } = await import("/page/workbook/write.js");
    const rows = [["lathe 9", "product A", 651.915]];
    const file = new File(
      [workbookOf("Round", ["Machine", "Product", "Sump holds [L]"], rows)],
      "round.xlsx",
    );
    const data = new DataTransfer();
    data.items.add(file);
    const event = new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true });
    document.querySelector(".grid td").dispatchEvent(event);
    for (let i = 0; i < 100; i += 1) {
      await new Promise((next) => setTimeout(next, 50));
      const text = document.querySelector(".grid-said").textContent;
      if (text) return text;
    }
    return "";
  });
  check(said === "1 row entered.", `a workbook: ${said}`);
  await context.close();
}

/** Without the service it says so, and nothing that was entered is lost. */
async function away(browser, service, size) {
  const { base, shut } = await gate(service);
  const context = await browser.createBrowserContext();
  const page = await context.newPage();
  await page.setViewport(SIZES[size]);
  page.setDefaultTimeout(PATIENCE);
  await open(page, `${base}/#batch`, "#fields .field");
  // Nothing is kept on the device: it is the message that is looked at.
  await page.evaluate(async () => {
    for (const one of await navigator.serviceWorker.getRegistrations()) await one.unregister();
    for (const name of await caches.keys()) await caches.delete(name);
  });
  await open(page, `${base}/?again#batch`, "#fields .field");
  await press(page, "#example");
  shut();
  await press(page, "#ask");
  await page.waitForSelector("#notice .told, .statement");
  const said = await page.$eval("main", (one) => one.innerText);
  const here = said.includes("Calculated on this device, without the service.");
  check(
    here || (said.includes("No connection to the service.") && said.includes("nothing is lost")),
    `without the service on a ${size}: ${said.slice(0, 200)}`,
  );
  check((await page.$eval('[id="at/reading/brix"]', (one) => one.value)) === "3.4", "an entry is lost");
  await context.close();
}

(async () => {
  const service = process.argv[2].replace(/\/$/, "");
  const start = Date.now();
  const browser = await puppeteer.launch({
    browser: "firefox",
    executablePath: process.env.FIREFOX ?? "/usr/bin/firefox-esr",
    headless: true,
  });
  try {
    console.log(await browser.version());
    const lanes = Object.keys(SIZES).map((size) => tasks(browser, service, size));
    const [counts] = await Promise.all([Promise.all(lanes), workbook(browser, service)]);
    // One after the other: a page behind another one has no focus.
    for (const [i, size] of Object.keys(SIZES).entries()) {
      await dailyCheck(browser, service, size);
      await away(browser, service, size);
      console.log(`${counts[i]} tasks, a kept machine and no service, on a ${size}`);
    }
  } finally {
    await browser.close();
  }
  console.log(`${((Date.now() - start) / 1000).toFixed(0)} s`);
  console.log(failed() === 0 ? "the page holds in Firefox" : `${failed()} things are not so`);
  process.exitCode = failed() === 0 ? 0 : 1;
})();
