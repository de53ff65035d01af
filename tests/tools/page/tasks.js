// Checks for every task of the page, including tasks added later.

const {
  check,
  fresh,
  open,
  put,
  answered,
  refused,
  shownJson,
  audit,
  layout,
  statementInView,
  WIDTHS,
} = require("./browser");

/** The names of all tasks, as the menu has them. */
async function names(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "");
  const found = await page.$$eval("#tasks a:not([href='#kept'])", (links) =>
    links.map((link) => link.getAttribute("href").slice(1)),
  );
  const index = await (await fetch(`${base}/v1`)).json();
  for (const { name } of index.calculations) check(found.includes(name), `${name} is not on the page`);
  check(found[0] === "batch", "the batch check does not come first");
  await context.close();
  return found;
}

/** The typed entries in the address: it follows them after a moment, so it is checked until it is
 *  as expected or ten seconds have passed. */
async function entries(page, wanted = (kept) => kept.includes("=")) {
  for (let i = 0; ; i += 1) {
    const kept = decodeURIComponent(await page.evaluate(() => location.hash));
    if (wanted(kept) || i === 100) return kept;
    await page.waitForTimeout(100);
  }
}

/** In the browser: the steps with a volume of their own in which nothing is said in litres or gallons. */
function unmeasured() {
  const records = [...document.querySelectorAll("pre[aria-label^='Answer of']")];
  const { answer } = JSON.parse(records.at(-1)?.textContent ?? "{}");
  const steps = answer?.sheet ?? answer?.steps ?? [];
  const drawn = [...document.querySelectorAll("#answer .steps > li")];
  const isSilent = (step, i) =>
    step.volume > 0 && !/\d\s(m?L|US gal|fl oz)/.test(drawn[i]?.textContent ?? "");
  return drawn.length === steps.length ? steps.filter(isSilent).map(({ text }) => text) : [];
}

/** Tasks whose answers say nothing that could hurt: an order is placed, and nothing is poured. */
const HARMLESS = ["supplies"];

/** Fills in the example and asks it, with only the Tab and Enter keys. */
async function byKeyboard(page, where) {
  const tabTo = async (id, key) => {
    for (let i = 0; i < 3000; i += 1) {
      if ((await page.evaluate(() => document.activeElement.id)) === id) return true;
      await page.keyboard.press(key);
    }
    check(false, `${where}: ${id} cannot be reached by ${key}`);
    return false;
  };
  if (!(await tabTo("example", "Tab"))) return false;
  await page.keyboard.press("Enter");
  return (await tabTo("ask", "Shift+Tab")) && answered(page, () => page.keyboard.press("Enter"));
}

/** Fills in the example and asks it, with a mouse or a finger. */
async function byPointer(page) {
  await page.click("#example");
  return answered(page);
}

/** What an answered example looks like at one width. */
async function asAnswered(page, task, where) {
  const focused = await page.evaluate(() => document.activeElement.id);
  check(focused === "answered", `${where}: the focus is not on the answer`);
  const silent = await page.evaluate(unmeasured);
  check(silent.length === 0, `${where}: steps that do not say how much: ${silent.join("; ")}`);
  const isCareful = await page.isVisible("#answer .care");
  check(isCareful !== HARMLESS.includes(task), `${where}: ${isCareful ? "" : "no "}cautions in sight`);
  await statementInView(page, where, 40);
  await layout(page, `${where}, answered`);
  const pointers = await page.evaluate(() => {
    const answer = document.getElementById("answer").cloneNode(true);
    // A hint may name one as an example.
    for (const one of answer.querySelectorAll("details.json, .hint")) one.remove();
    return answer.textContent.match(/\/[a-z_]+\/[a-z_/0-9]+/g) ?? [];
  });
  check(pointers.length === 0, `${where}: places are called ${pointers.slice(0, 3)}`);
}

/** An answered example in the other units, and back. */
async function inOtherUnits(page, where) {
  const typed = await entries(page);
  const metric = { asked: await shownJson(page, "Request"), got: await shownJson(page, "Answer") };
  await answered(page, () => page.click(".units label:last-child"));
  const us = { asked: await shownJson(page, "Request"), got: await shownJson(page, "Answer") };
  check(metric.asked.units === "metric" && us.asked.units === "us", `${where}: the units did not change`);
  // The service converts too: if the page converted differently, the answers would differ.
  const apart = await page.evaluate(
    async ({ name, ours, theirs }) => {
      const { Spec } = await import("/page/schema.js");
      const forms = async (name) => (await fetch(`/page/${name}.json`)).json();
      const spec = new Spec(await forms("forms"), () => forms("other-forms"));
      await spec.complete();
      const { record } = spec.calculations.find((one) => one.name === name);
      const turned = spec.convert(record, theirs, "metric");
      const apart = [];
      // Equal ranks may swap because of the last digit, so lists are compared by their words;
      // a sentence has its own units.
      const words = (entry) =>
        JSON.stringify(entry, (key, one) => (typeof one === "number" || key === "text" ? undefined : one)) ??
        "";
      const sorted = (list) =>
        [...list].sort((a, b) => (words(a) < words(b) ? -1 : Number(words(a) > words(b))));
      const compare = (a, b, at) => {
        if (Array.isArray(a) && Array.isArray(b)) [a, b] = [sorted(a), sorted(b)];
        if (typeof a === "number" && typeof b === "number") {
          if (Math.abs(a - b) > 1e-6 * Math.max(Math.abs(a), Math.abs(b)) + 1e-6)
            apart.push(`${at}: ${a} and ${b}`);
        } else if (a && b && typeof a === "object") {
          for (const key of new Set([...Object.keys(a), ...Object.keys(b)]))
            compare(a[key], b[key], `${at}/${key}`);
        } else if (a !== b && !at.endsWith("/text")) apart.push(`${at}: ${a} and ${b}`);
      };
      compare(ours.answer, turned.answer, "");
      return apart;
    },
    { name: metric.got.calculation, ours: metric.got, theirs: us.got },
  );
  check(apart.length === 0, `${where}: metric and us differ: ${apart.slice(0, 3).join("; ")}`);
  // And back: the typed numbers have not drifted.
  await page.click(".units label:first-of-type");
  const back = await entries(page, (kept) => kept === typed);
  check(back === typed, `${where}: entries drifted on the way to us and back`);
  await answered(page);
}

/** In an answered example a value that is not a number and an impossible one, each reported beside its field. */
async function withABadValue(page, task, audited) {
  // A required number, unfolded if necessary; where none is, any.
  await page.evaluate(() =>
    document.querySelectorAll("#fields details").forEach((one) => {
      one.open = true;
    }),
  );
  // A row of a morning round that has a bad value keeps back no other: `morningRound`.
  if (task === "morning") return;
  const numbers = "#fields :is(.number input, td.number)";
  const needed = await page.locator(`${numbers}[aria-required]`).count();
  const field = page.locator(needed ? `${numbers}[aria-required]` : numbers).first();
  const before = await field.evaluate((one) => one.value ?? one.textContent);
  for (const bad of needed ? ["abc", "9e99", ""] : ["abc", "9e99"]) {
    await put(page, field, bad);
    await refused(page);
    const found = await field.evaluate((input) => ({
      invalid: input.getAttribute("aria-invalid"),
      focused: document.activeElement === input,
      said: document.getElementById(input.getAttribute("aria-describedby").split(" ").at(-1)).textContent,
    }));
    check(
      found.invalid === "true" && found.said.length > 10,
      `${task}: nothing is said beside the field that holds ${bad || "nothing"}: ${await page.textContent("#notice")}`,
    );
    check(found.focused, `${task}: the focus is not on the field that holds ${bad || "nothing"}`);
  }
  if (audited) await audit(page, `${task} with a fault`);
  await put(page, field, before);
  await answered(page);
}

/** The widths that are seen in one opened page each, which is resized. */
const OPENED = [["phone"], ["desk", "tablet"]];

/** All checks for a task; other units and the audit at one width, or at all of them. */
async function oneTask(browser, base, task, whole, turn) {
  const widths = Object.keys(WIDTHS);
  for (const opened of OPENED) {
    const { context, page } = await fresh(browser, base, opened[0]);
    const show = async (width) => {
      const [w, height] = WIDTHS[width];
      const colorScheme = (turn + widths.indexOf(width)) % 2 ? "dark" : "light";
      await page.setViewportSize({ width: w, height });
      await page.emulateMedia({ colorScheme });
      return `${task} on a ${width}, ${colorScheme}`;
    };
    await open(page, base, task);
    for (const width of opened) await layout(page, `${await show(width)}, blank`);
    for (const width of opened) {
      const where = await show(width);
      if (!(await (width === "desk" ? byKeyboard(page, where) : byPointer(page)))) continue;
      await asAnswered(page, task, where);
      if (whole || turn % widths.length === widths.indexOf(width)) {
        await inOtherUnits(page, where);
        await audit(page, where);
      }
      if (width === "phone") await withABadValue(page, task, whole);
    }
    await context.close();
  }
}

/** All checks for every task, and of the first two the whole of them at every width. */
async function everyTask(browser, base) {
  const tasks = await names(browser, base);
  const next = tasks.entries();
  // Two at a time: a browser mostly waits.
  const worker = async () => {
    for (const [i, task] of next) {
      await oneTask(browser, base, task, i < 2, i);
      console.log(`${i + 1} of ${tasks.length}: ${task}`);
    }
  };
  await Promise.all([worker(), worker()]);
}

module.exports = { everyTask, names };
