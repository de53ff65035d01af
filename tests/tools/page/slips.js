// Slips of whoever is tired: a lost decimal point in a reading, and what is then asked for.

const { check, fresh } = require("./browser");
const { enter, filled, keep, screen, stored } = require("./kept-help");

/** A batch of which the reading lost its decimal point: nothing is ordered, and its litres stay those entered. */
async function lostPoint(page, base) {
  await page.goto(`${base}/#batch`);
  await page.waitForSelector("#fields .field");
  await filled(page, {
    "/tank/capacity": "1000",
    "/tank/volume": "610",
    "/reading/brix": "48",
    "/reading/factor": "1.25",
    "/band/low": "5.5",
    "/band/target": "6",
    "/band/high": "7",
  });
  await page.click("#ask");
  await page.waitForSelector(".statement");
  const asked = await page.textContent(".again");
  check(
    asked.includes("You typed 48.") && asked.includes("Pour nothing"),
    `a lost point is told as “${asked}”`,
  );
  check((await page.inputValue("#next-volume")) === "610", "the litres are not those that were entered");
  const order = page.locator(".do, .care, .picture svg");
  const seen = await order.evaluateAll((all) => all.filter((one) => one.checkVisibility()).length);
  check(seen === 0, "what follows from a reading in doubt is ordered");
  await page.fill("#next-reading", "4.1");
  await page.click(".again button");
  await page.waitForFunction(
    () => !document.querySelector(".statement").textContent.includes("Check the reading"),
  );
  const goes = (await page.textContent(".goes-by")).replaceAll("\u00a0", " ");
  check(
    goes.startsWith("Goes by 4.1 °Brix and 610 L in it."),
    `what the answer goes by is told as “${goes}”`,
  );
  const after = await page.textContent(".again h3");
  check(after === "Poured as told, mixed, and read again?", `after the pour it asks “${after}”`);
  await page.click("#goes-by");
  const back = await page.$eval("#title", (title) => title.getBoundingClientRect().top);
  check(back >= -1 && back < 200, `the entries begin at ${back} after “Change”`);
  // By hand: 610 L at 5.125 % to 6 % with a premix of 20 %: 610 · 0.875 / 14 = 38.1 L, of which 7.6 are concentrate.
  const told = (await page.textContent("#statement")).replaceAll("\u00a0", " ");
  check(/\b7\.6 L of concentrate/.test(told), `610 L at 4.1 °Brix are told “${told}”`);
  await nextOfIt(page);
}

/** The next reading of a batch of 1000 L at most that was brought to 648 L and 4.8 °Brix. */
async function nextOfIt(page) {
  const [reading, litres, button] = ["#next-reading", "#next-volume", ".again button"];
  const said = async (field) => (await page.textContent(`${field}-fault`)).replaceAll("\u00a0", " ");
  await page.click(litres);
  const chosen = await page.$eval(litres, ({ selectionStart: from, selectionEnd: to }) => to - from);
  check(chosen === (await page.inputValue(litres)).length, `a tap on the litres selects ${chosen} digits`);
  const statement = await page.textContent("#statement");
  await page.fill(reading, "4.7");
  await page.fill(litres, "64864");
  await page.click(button);
  check((await said(litres)) === "It holds 1000 L at most.", `64864 L are told “${await said(litres)}”`);
  await page.fill(litres, "64");
  await page.click(button);
  const far = await said(litres);
  check(
    far === "It should hold 648 L. Is 64 L right? Then tap “Check again” once more.",
    `64 L are told “${far}”`,
  );
  await page.fill(litres, "640");
  await page.fill(reading, "47");
  await page.dblclick(button);
  const odd = await said(reading);
  check(odd.startsWith("It should read 4.8 °Brix. Is 47 °Brix right?"), `47 °Brix are told “${odd}”`);
  check((await page.textContent("#statement")) === statement, "what is asked back is answered");
  await page.fill(reading, "46");
  await page.focus(reading);
  for (let i = 0; i < 6; i += 1) await page.keyboard.down("Enter");
  await page.keyboard.up("Enter");
  check(
    (await said(reading)).includes("Is 46 °Brix right?"),
    `a key that is held is told “${await said(reading)}”`,
  );
  check((await page.textContent("#statement")) === statement, "a key that is held means what is asked back");
  await page.fill(reading, "4.7");
  await page.click(button);
  await page.waitForFunction(() => document.querySelector(".goes-by").textContent.includes("640"));
}

/** What is wrong goes when it is filled in, and nothing moves under the thumb; the example gives back what was typed. */
async function underTheThumb(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  await page.clock.install();
  await page.goto(`${base}/#batch`);
  await page.waitForSelector("#fields .field");
  await filled(page, { "/tank/capacity": "1000", "/tank/volume": "600", "/reading/brix": "3.4" });
  await filled(page, { "/reading/factor": "1.25", "/band/low": "5", "/band/target": "6" });
  await page.click("#ask");
  const high = '[id="at/band/high"]';
  await page.waitForSelector(`${high}[aria-invalid]`);
  const place = () => page.$eval("#example", (one) => one.getBoundingClientRect().top + scrollY);
  const before = await place();
  await page.fill(high, "7");
  check((await page.textContent('[id="fault/band/high"]')) === "", "what is filled in is missing");
  const after = await place();
  check(Math.abs(after - before) < 0.5, `“Fill in the example” goes from ${before} to ${after}`);
  await page.click("#example");
  const undo = page.locator(".undo button:has-text('Undo')");
  await page.clock.fastForward(60000);
  check((await undo.count()) === 1, "a minute later what was typed before the example is lost");
  await undo.click();
  check((await page.inputValue('[id="at/tank/volume"]')) === "600", "what was typed does not come back");
  await page.click("#example");
  await page.fill(high, "6.5");
  await page.clock.fastForward(60000);
  check((await undo.count()) === 0, "a minute after going on it can still be taken back");
  await context.close();
}

/** A kept machine knows its last reading, and asks back what is far from it; another like it begins as it is. */
async function jump(page, base) {
  const place = await keep(page, base);
  const ask = async (reading) => {
    await screen(page, base, `kept/${place.id}`);
    await enter(page, reading);
  };
  await ask("5.2");
  await page.waitForSelector(".noted");
  await ask("15");
  const back = (await page.textContent("#quick-reading-fault")).replaceAll("\u00a0", " ");
  check(back.includes("Last time it read 5.2 °Brix. Is 15 °Brix right?"), `15 after 5.2 is taken: “${back}”`);
  check((await stored(page)).checks.length === 1, "a reading that is asked back is written down");
  await enter(page);
  await page.waitForSelector(".noted");
  check((await stored(page)).checks.at(-1).reading.brix === 15, "a reading that is meant is not taken");
  const of = (title, symbol) =>
    page.evaluate(
      async ([name, own]) => {
        const { unitAfter } = await import("/page/schema.js");
        return unitAfter(name, { unit: { us: "x", symbol: { us: own } } }, "us");
      },
      [title, symbol],
    );
  check((await of("Level in the sump", "in")) === "in", "a level in inches has no unit");
  check((await of("Days of work", "days")) === "", "days of days");
  await inNoTime(page, base, place);
  await screen(page, base, `kept/${place.id}`);
  await page.click("button:has-text('One more like it')");
  await page.waitForSelector("form.edit");
  const at = (pointer) => page.inputValue(`[id="at${pointer}"]`);
  check((await at("/name")) === "", "another machine has the name of the first");
  check((await at("/reading/factor")) === "1.25", "another machine is not like the first");
  await filled(page, { "/name": "Another, invented" });
  await page.click("form.edit button.main");
  const missing = await page.getAttribute('[id="at/tank/capacity"]', "aria-invalid");
  check(missing === "true", "another machine takes over how much the first one holds");
  await filled(page, { "/tank/capacity": "300" });
  await page.click("form.edit button.main");
  await page.waitForSelector("#quick-reading");
  const { places } = await stored(page);
  check(
    places.length === 2 && places[0].name !== places[1].name,
    "another machine takes the place of the first",
  );
}

/** Litres that lost a digit are asked back; a check soon after another takes its place, or is kept beside it. */
async function inNoTime(page, base, place) {
  await screen(page, base, `kept/${place.id}`);
  await page.fill("#quick-amount", "18");
  await enter(page, "15.1");
  const far = (await page.textContent("#quick-amount-fault")).replaceAll("\u00a0", " ");
  check(far.startsWith("It held 180 L last. Is 18 L right?"), `18 L after 180 L are taken: “${far}”`);
  await page.fill("#quick-amount", "181");
  await enter(page);
  await page.waitForSelector(".noted");
  const goes = (await page.textContent(".goes-by")).replaceAll("\u00a0", " ");
  check(
    goes.startsWith("Goes by 15.1 °Brix and 181 L in it (last time 15 °Brix · 180 L)."),
    `what it read last time is told as “${goes}”`,
  );
  const read = async () => (await stored(page)).checks.map((one) => one.reading.brix).join();
  check((await read()) === "15.1", `checks of ${await read()} °Brix are kept`);
  await page.click(".gave-way button");
  await page.waitForSelector(".gave-way:has-text('Both are kept')");
  check((await read()) === "15,15.1", `of both checks those of ${await read()} °Brix are kept`);
}

async function slips(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  await lostPoint(page, base);
  await jump(page, base);
  await context.close();
  await underTheThumb(browser, base);
}

module.exports = { slips };
