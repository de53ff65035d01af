// A real browser with the page, and helpers for every check of it.

const { chromium } = require("playwright-core");
const { readFileSync } = require("node:fs");
const { check, failed } = require("./verdict");

const AXE = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const WIDTHS = { phone: [360, 740], tablet: [768, 1024], desk: [1440, 900] };

async function launch() {
  return chromium.launch({
    // Chromium without its own windows: the same page for half the processor.
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium-headless-shell",
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--no-first-run",
    ],
  });
}

/**
 * A fresh browser without stored data, which keeps no files either: what it kept would answer in place of
 * what a check lays before it. Requests to other hosts and error messages are recorded.
 */
async function fresh(browser, base, width = "desk", options = {}) {
  const [w, height] = WIDTHS[width];
  const hasTouch = width === "phone";
  const context = await browser.newContext({
    viewport: { width: w, height },
    hasTouch,
    serviceWorkers: "block",
    ...options,
  });
  context.on("request", (request) => {
    const address = request.url();
    check(
      address.startsWith(base) || address.startsWith(`blob:${base}`),
      `a request leaves the origin: ${address}`,
    );
  });
  const page = await context.newPage();
  page.on("pageerror", (error) => check(false, `an error on the page: ${error.stack}`));
  page.setDefaultTimeout(10000);
  return { context, page };
}

/** Opens a task and waits for its form. */
async function open(page, base, task) {
  await page.goto("about:blank");
  await page.goto(`${base}/#${task}`);
  await page.waitForSelector("#fields .field");
}

/** Takes one of several words, also where they are folded behind the usual one. */
async function pick(page, place, word) {
  const fold = page.locator(`details[data-at="${place}"]:not([open]) > summary`);
  if (await fold.count()) await fold.click();
  await page.click(`[id="at${place}:${word}"]`);
}

/** Types a text into a place, a field or a cell of a table. */
async function put(page, place, text) {
  const isCell = await place.evaluate((one) => one.getAttribute("role") === "gridcell");
  if (!isCell) return place.fill(text);
  // A cell that is the present one already would be edited by a click.
  await place.focus();
  if (text === "") return page.keyboard.press("Delete");
  await page.keyboard.type(text);
  return page.keyboard.press("Enter");
}

/** Asks, and waits for the answer. */
async function answered(page, act = () => page.click("#ask")) {
  await page.evaluate(() =>
    document.querySelectorAll("#answered, #notice .told").forEach((one) => {
      one.dataset.old = "";
    }),
  );
  await act();
  await page.waitForSelector(":is(#answered, #notice .told):not([data-old])", { state: "attached" });
  const told = await page
    .locator("#notice .told")
    .first()
    .textContent({ timeout: 50 })
    .catch(() => "");
  check(told === "", `no answer: ${told}`);
  return told === "";
}

/** Asks, and waits for the reason why there is no answer. */
async function refused(page) {
  await page.evaluate(() =>
    document.querySelectorAll("#notice .told").forEach((one) => {
      one.dataset.old = "";
    }),
  );
  await page.click("#ask");
  await page.waitForSelector("#notice .told:not([data-old])");
}

/** The JSON of a kind, such as “Request”, that the page shows: the last one if there are several. */
const shownJson = (page, kind) =>
  page.evaluate((wanted) => {
    const found = [...document.querySelectorAll("details.json pre")].filter((one) =>
      one.getAttribute("aria-label").startsWith(wanted),
    );
    return JSON.parse(found.at(-1).textContent);
  }, kind);

/** Checks that no controls are printed. */
async function printsNoControls(page, where) {
  await page.emulateMedia({ media: "print" });
  const seen = await page.$$eval("button, .button, input, select, form", (all) =>
    all.filter((one) => one.checkVisibility()).map((one) => one.outerHTML.slice(0, 80)),
  );
  check(seen.length === 0, `${where}: printed with ${seen.join(" ")}`);
  await page.emulateMedia({ media: "screen" });
}

/** The focused element: its id or its text. */
const focused = (page) =>
  page.evaluate(() => document.activeElement.id || document.activeElement.textContent.slice(0, 60));

/** The findings of an audit, with everything unfolded. */
async function audit(page, where) {
  await page.evaluate(async () => {
    // Three times, for nested folds. Of many alike, three are examined.
    for (let i = 0; i < 3; i += 1) {
      const alike = new Map();
      for (const fold of document.querySelectorAll("details:not([open], #menu)")) {
        const seen = alike.get(fold.parentElement) ?? 0;
        alike.set(fold.parentElement, seen + 1);
        if (seen < 3) fold.open = true;
      }
      await new Promise((done) => {
        setTimeout(done, 30);
      });
    }
  });
  await page.evaluate(AXE);
  const { violations, passes } = await page.evaluate(() =>
    window.axe.run(document, { resultTypes: ["violations"] }),
  );
  check(passes.length > 10, `${where}: the audit looked at nothing`);
  for (const one of violations) {
    check(
      false,
      `${where}: ${one.id}: ${one.help}: ${one.nodes
        .slice(0, 2)
        .map((node) => node.html.slice(0, 160))
        .join(" | ")}`,
    );
  }
}

/** Checks that nothing is cut off at the side and that controls are large enough for a glove. */
async function layout(page, where) {
  const found = await page.evaluate(() => {
    const tapped =
      "button, .button, input:not([type=radio], [type=checkbox]), select, summary, nav a, .choices label, .ticks label, .units label";
    // The rows of a table are closer together where a mouse points.
    const close = matchMedia("(pointer: fine) and (min-width: 60rem)").matches;
    const small = [...document.querySelectorAll(tapped)]
      .filter(
        (one) =>
          one.checkVisibility() &&
          !(close && one.closest("td.grid-open")) &&
          one.getBoundingClientRect().height < 47.9,
      )
      .map((one) => `${one.tagName} ${one.textContent.slice(0, 30)} ${one.getBoundingClientRect().height}`);
    return { over: document.documentElement.scrollWidth - innerWidth, small };
  });
  check(found.over <= 0, `${where}: ${found.over} pixels wider than the screen`);
  check(found.small.length === 0, `${where}: too small for a glove: ${found.small.slice(0, 3).join("; ")}`);
}

/** Checks that the statement is the biggest thing on the screen, and all of it in view. */
async function statementInView(page, where, letters) {
  const seen = await page.evaluate(() => {
    const size = (one) => Number.parseFloat(getComputedStyle(one).fontSize);
    const { top, bottom } = document.getElementById("statement").getBoundingClientRect();
    const texts = [...document.querySelectorAll("main *")].filter(
      (one) => one.checkVisibility() && !one.closest("svg") && one.innerText?.trim(),
    );
    const headline = document.querySelector("#statement .headline");
    const bigger = texts.filter((one) => size(one) > size(headline)).map((one) => one.innerText.slice(0, 40));
    return { top, bottom, height: innerHeight, headline: size(headline), bigger };
  });
  check(
    seen.top >= 0 && seen.bottom <= seen.height,
    `${where}: the statement lies from ${seen.top} to ${seen.bottom} on a screen of ${seen.height}`,
  );
  check(seen.headline >= letters, `${where}: the statement has letters of ${seen.headline} px`);
  check(seen.bigger.length === 0, `${where}: bigger than the statement: ${seen.bigger}`);
}

module.exports = {
  statementInView,
  check,
  failed,
  launch,
  fresh,
  open,
  pick,
  put,
  answered,
  refused,
  shownJson,
  printsNoControls,
  focused,
  audit,
  layout,
  WIDTHS,
};
