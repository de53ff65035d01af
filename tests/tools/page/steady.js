// The screen of a kept tank stays in its place: what is tapped is where it was, and nothing lies over it.

const { audit, check, fresh } = require("./browser");
const { enter, filled, keep, MILL, screen, stored } = require("./kept-help");

const top = (page, selector) => page.$eval(selector, (one) => one.getBoundingClientRect().top);

/** What can be tapped and lies under the word on what was just done. */
const covered = (page) =>
  page.evaluate(() => {
    const word = document.querySelector(".undo").getBoundingClientRect();
    if (word.height < 40) return ["nothing is said"];
    return [...document.querySelectorAll("a, button, input, select, summary, label")]
      .filter((one) => one.checkVisibility() && !one.closest(".undo, .skip"))
      .filter((one) => {
        const box = one.getBoundingClientRect();
        const apart = box.bottom <= word.top || box.top >= word.bottom;
        return !apart && box.left < word.right && box.right > word.left;
      })
      .map((one) => one.id || one.textContent);
  });

/** “Calculate” at the same height with what is asked, said and doubted above it. */
async function place(page, base) {
  const { id } = await keep(page, base);
  check((await covered(page)).length === 0, `the word on what was kept covers ${await covered(page)}`);
  const [button, field] = ["form.quick button.main", "#quick-reading"];
  const at = await top(page, button);
  const wide = page.viewportSize().width > 640;
  // On a phone it is at the lower edge.
  const end = await page.$eval(button, (one) => innerHeight - one.getBoundingClientRect().bottom);
  check(wide || (end >= 0 && end < 16), `“Calculate” is ${end} px above the lower edge`);
  const fieldAt = await top(page, field);
  await page.click(".undo .close");
  check(
    (await top(page, field)) === fieldAt,
    `what was said leaves, and the reading goes from ${fieldAt} to ${await top(page, field)}`,
  );
  await enter(page, "5.2");
  await page.waitForSelector(".noted");
  await screen(page, base, `kept/${id}`);
  const [askedAt, askedField] = [await top(page, button), await top(page, field)];
  await page.fill(field, "5.3");
  await page.click("#quick-done");
  await page.waitForSelector(".undo:has-text('Noted')");
  check((await page.inputValue(field)) === "5.3", "an answer to what is asked takes away what was typed");
  check((await covered(page)).length === 0, `the word on what was done covers ${await covered(page)}`);
  const done = (await stored(page)).checks[0].done;
  check(done === true, `that it was done is written down as ${done}`);
  const saidAt = await top(page, button);
  await page.goto(`${base}/#kept/${id}/history`);
  await page.waitForSelector("table.checks");
  check((await covered(page)).length === 0, `on the next page it covers ${await covered(page)}`);
  await screen(page, base, `kept/${id}`);
  const [laterAt, laterField] = [await top(page, button), await top(page, field)];
  await enter(page, "64");
  const doubtedAt = await top(page, button);
  check(askedField === laterField, `a question moves the reading from ${laterField} to ${askedField}`);
  if (!wide) {
    const all = [at, askedAt, saidAt, laterAt, doubtedAt];
    check(new Set(all).size === 1, `“Calculate” is at ${all}`);
  }
  check((await page.locator(".statement").count()) === 0, "64 after 5.2 is taken");
  const said = await page.$eval("#quick-reading-fault", (one) => getComputedStyle(one, "::before").content);
  check(said === "none", `what is asked back begins with ${said}`);
  await audit(page, "a reading that is asked back");
}

/** A double tap is one tap, and so is a key that is held: what it brings up is not meant by it. */
async function doubled(page, base) {
  const [{ id }] = (await stored(page)).places;
  await screen(page, base, `kept/${id}`);
  await page.fill("#quick-reading", "64");
  await page.dblclick("form.quick button.main");
  await page.waitForTimeout(300);
  check((await page.locator(".statement").count()) === 0, "a double tap means what is asked back");
  await screen(page, base, `kept/${id}`);
  await page.fill("#quick-reading", "64");
  for (let i = 0; i < 6; i += 1) await page.keyboard.down("Enter");
  await page.keyboard.up("Enter");
  await page.waitForTimeout(300);
  check((await page.locator(".statement").count()) === 0, "a key that is held means what is asked back");
  await enter(page, "64");
  await enter(page);
  await page.waitForSelector(".statement");
}

/** Where nobody said how full it is, what it holds stands beside the litres. */
async function empty(page, base) {
  await screen(page, base, "kept/new");
  const { "/tank/volume": _, ...rest } = MILL;
  await filled(page, { ...rest, "/name": "Mill 4, invented" });
  await page.click("form.edit button.main");
  await page.waitForSelector("#quick-reading");
  const label = (await page.textContent("label[for=quick-amount]")).replaceAll("\u00a0", " ");
  check(label === "Fluid in it now, of 200 L", `the litres are called “${label}”`);
}

/** A screen that is swiped up changes no number, wherever the thumb comes down. */
async function swiped(page) {
  const client = await page.context().newCDPSession(page);
  const numbers = () => page.$$eval("form.quick input", (all) => all.map((one) => one.value).join());
  await page.fill("#quick-amount", "150");
  const before = await numbers();
  for (let y = 120; y < 680; y += 40) {
    await client.send("Input.synthesizeScrollGesture", {
      x: 180,
      y,
      yDistance: -80,
      gestureSourceType: "touch",
      speed: 4000,
    });
    await page.evaluate(() => scrollTo(0, 0));
    check(
      (await numbers()) === before,
      `swiped up from ${y} they read ${await numbers()} instead of ${before}`,
    );
  }
}

async function steady(browser, base) {
  for (const width of ["phone", "tablet"]) {
    const { context, page } = await fresh(browser, base, width);
    await place(page, base);
    if (width === "phone") {
      await doubled(page, base);
      await empty(page, base);
      await swiped(page);
    }
    await context.close();
  }
}

module.exports = { steady };
