// How long the batch check of somebody's own tank takes on a phone: the first one and the next ones.

const { audit, check, fresh, layout, pick } = require("./browser");
const { enter, filled, keep, screen, stored } = require("./kept-help");
const { Touches } = require("./touches");

/** What is asked of a person, in seconds of the model in touches.js. */
const FIRST_MOST = 60;
const SECOND_MOST = 15;

/** An invented tank, as somebody types it who was never here before. */
const TANK = [
  ["/tank/capacity", "1000"],
  ["/tank/volume", "715"],
  ["/reading/brix", "3.4"],
  ["/reading/factor", "1.25"],
  ["/band/low", "5.25"],
  ["/band/high", "6.75"],
];

const answered = (page) => page.waitForSelector(".statement");

/** From the blank page to the statement, then kept from its answer, with that answer's check. */
async function first(page, base) {
  const hand = new Touches(page);
  await hand.wait(async () => {
    await page.goto(`${base}/`);
    await page.waitForSelector("#fields .field");
  });
  // Enter leads to the next number.
  const [[start, number], ...others] = TANK;
  await hand.type(`[id="at${start}"]`, number);
  for (const [pointer, text] of others) {
    await hand.goOn(text);
    const at = await page.evaluate(() => document.activeElement.id);
    check(at === `at${pointer}`, `Enter leads to ${at} and not to ${pointer}`);
  }
  await hand.enter();
  await hand.wait(() => answered(page));
  const told = (await page.textContent("#statement .headline")).replaceAll("\u00a0", " ");
  const naming = new Touches(page);
  naming.think();
  await naming.wait(() => page.waitForSelector("#kept-offer"));
  await naming.tap("#kept-offer");
  await naming.wait(() => page.waitForSelector("form.edit"));
  await naming.type('[id="at/name"]', "Tank 2");
  await naming.enter();
  await naming.wait(() => page.waitForSelector("#quick-reading"));
  const top = await page.$eval("#kept-title", (title) => title.getBoundingClientRect().top);
  check(top >= 0 && top < 200, `the screen of a tank that was just kept begins at ${top}`);
  const { places, checks } = await stored(page);
  const [one] = checks;
  check(
    places.length === 1 && checks.length === 1,
    `${checks.length} checks of ${places.length} places are kept`,
  );
  // By hand: 3.4 °Brix × 1.25 = 4.25 %.
  check(
    one?.place === places[0].id && one.volume === 715 && Math.abs(one.concentration - 4.25) < 1e-9,
    `the reading that it was kept with is written down as ${JSON.stringify(one)}`,
  );
  check(one?.standing === "below" && told.startsWith(one.told.slice(0, 30)), `it was told to “${one?.told}”`);
  check((await page.textContent("#kept-screen")).includes("3.4"), "the first check is not on the screen");
  return { hand, naming };
}

/** The check of a kept tank: with the litres as they stood last, or two steps away. */
async function next(page, base, steps) {
  const hand = new Touches(page);
  await hand.wait(async () => {
    await page.goto("about:blank");
    await page.goto(`${base}/`);
    // The only place there is opens at once.
    await page.waitForSelector("#quick-reading");
  });
  // A phone that does not open its keys by itself wants a touch more, which is counted.
  await hand.type("#quick-reading", "4.8");
  if (steps > 0) hand.think();
  for (let i = 0; i < steps; i += 1) await hand.tap("button[aria-label^='Fluid in it'][aria-label$='less']");
  if (steps === 0) {
    await hand.enter();
    await hand.enter();
  } else {
    hand.think();
    await hand.tap("form.quick button.main");
  }
  await hand.wait(() => answered(page));
  return hand;
}

/** The first check within a minute, the next ones within a quarter of it. */
async function paces(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const { hand, naming } = await first(page, base);
  const again = await next(page, base, 0);
  await page.waitForSelector(".noted");
  check(
    (await page.textContent(".gave-way")).includes("in place of the check of a moment ago (3.4"),
    `nothing says that a check takes the place of another: ${await page.textContent(".noted")}`,
  );
  const levelled = await next(page, base, 2);
  await page.waitForSelector(".noted");
  const noted = await page.textContent(".noted");
  check(/4\.8.*700/s.test(noted), `the litres that a check went by are not said: ${noted}`);
  const { checks } = await stored(page);
  check(checks.length === 1 && checks[0].volume === 700, `two steps below 715 L are ${checks[0].volume} L`);
  check(hand.seconds < FIRST_MOST, `the first check takes ${hand.said}`);
  check(again.seconds < SECOND_MOST, `the next check takes ${again.said}`);
  check(levelled.seconds < SECOND_MOST, `the next check, with other litres, takes ${levelled.said}`);
  await context.close();
  await steps(browser, base);
  const rows = [
    ["first batch check on a phone, by the keystroke-level model", hand.said, `${FIRST_MOST} s`],
    ["naming the tank, to keep it", naming.said, ""],
    ["next check of the kept tank", again.said, `${SECOND_MOST} s`],
    ["the same with the litres by two steps", levelled.said, `${SECOND_MOST} s`],
  ];
  for (const [what, said] of rows) console.log(`${what}: ${said}`);
  return rows;
}

/** A step leads to the next multiple; from an empty field it begins where it stood last, or should stand. */
async function steps(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  await keep(page, base);
  const step = (what, sign) => page.click(`button[aria-label^="${what}"][aria-label$="${sign}"]`);
  const amount = () => page.inputValue("#quick-amount");
  const reading = () => page.inputValue("#quick-reading");
  // By hand: 8 % / 1.25 = 6.4 °Brix is what the middle of the band reads.
  await step("Refractometer reads", "more");
  check(
    (await reading()) === "6.5",
    `the first step of a machine that was never read leads to ${await reading()}`,
  );
  for (const [from, sign, to] of [
    ["180", "more", "182"],
    ["181.3", "more", "182"],
    ["181.3", "less", "180"],
    ["199", "more", "200"],
    ["200", "more", "200"],
    ["0", "less", "0"],
  ]) {
    await page.fill("#quick-amount", from);
    await step("Fluid in it", sign);
    check((await amount()) === to, `from ${from} a step ${sign} leads to ${await amount()}`);
  }
  const button = await page.locator("button[aria-label^='Fluid in it'][aria-label$='less']").boundingBox();
  await page.fill("#quick-amount", "200");
  await page.mouse.move(button.x + 10, button.y + 10);
  await page.mouse.down();
  await page.waitForFunction(() => Number(document.querySelector("#quick-amount").value) <= 190);
  await page.mouse.up();
  const held = await amount();
  await page.waitForTimeout(300);
  check((await amount()) === held, "a button that is let go steps on");
  await enter(page, "5.2");
  await page.waitForSelector(".noted");
  const [place] = (await stored(page)).places;
  await screen(page, base, `kept/${place.id}`);
  await audit(page, "a check with one before it");
  await layout(page, "a check with one before it");
  // What was told is asked after; done, it says how full the machine is: 200 L.
  const before = await amount();
  await page.click("#quick-done");
  await page.waitForFunction(() => document.querySelector("#quick-amount").value === "200");
  check((await stored(page)).checks[0].done === true, "that it was done is not written down");
  await page.click(".undo button:has-text('Undo')");
  await page.waitForSelector("#quick-done");
  check((await amount()) === before, `taken back, it holds ${await amount()} instead of ${before}`);
  const origin = () => page.textContent("#quick-amount-origin");
  check(
    (await origin()) === "As it stood last time.",
    `of where the litres come from it says ${await origin()}`,
  );
  await page.fill("#quick-amount", "150");
  await page.click("#quick-amount-origin button");
  check((await amount()) === before, `as last time it holds ${await amount()} instead of ${before}`);
  await step("Refractometer reads", "less");
  check((await reading()) === "5.1", `a step from the last reading, 5.2, leads to ${await reading()}`);
  // A refractive index stands in a table: where none was read, a step only asks for it.
  await screen(page, base, `kept/${place.id}/edit`);
  await pick(page, "/reading/method", "refractive_index");
  await filled(page, { "/reading/factor": "1.25" });
  await page.click("form.edit button.main");
  await page.waitForSelector("#quick-reading");
  await step("Refractive index", "more");
  check(
    (await reading()) === "" && (await page.evaluate(() => document.activeElement.id)) === "quick-reading",
    `a step from nothing leads to ${await reading()}`,
  );
  await context.close();
}

module.exports = { paces };
