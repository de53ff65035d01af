// Slips of whoever is tired: a lost decimal point in a reading, and what is then asked for.

const { check, fresh } = require("./browser");
const { filled, keep, MILL, screen, stored } = require("./kept-help");

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
  // By hand: 610 L at 5.125 % to 6 % with a premix of 20 %: 610 · 0.875 / 14 = 38.1 L, of which 7.6 are concentrate.
  const told = (await page.textContent("#statement")).replaceAll("\u00a0", " ");
  check(/\b7\.6 L of concentrate/.test(told), `610 L at 4.1 °Brix are told “${told}”`);
}

/** A kept machine knows its last reading, and asks back what is far from it; another like it begins as it is. */
async function jump(page, base) {
  const place = await keep(page, base);
  const ask = async (reading) => {
    await screen(page, base, `kept/${place.id}`);
    await page.fill("#quick-reading", reading);
    await page.keyboard.press("Enter");
  };
  await ask("5.2");
  await page.waitForSelector(".noted");
  await ask("15");
  const back = await page.textContent("#quick-reading-fault");
  check(back.includes("Last time it read 5.2"), `15 after 5.2 is taken: “${back}”`);
  check((await stored(page)).checks.length === 1, "a reading that is asked back is written down");
  await page.keyboard.press("Enter");
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
  await screen(page, base, `kept/${place.id}`);
  await page.click("button:has-text('One more like it')");
  await page.waitForSelector("form.edit");
  const at = (pointer) => page.inputValue(`[id="at${pointer}"]`);
  check((await at("/name")) === "", "another machine has the name of the first");
  check(
    Number(await at("/tank/capacity")) === Number(MILL["/tank/capacity"]),
    "another machine holds otherwise",
  );
  await filled(page, { "/name": "Another, invented" });
  await page.click("form.edit button.main");
  await page.waitForSelector("#quick-reading");
  const { places } = await stored(page);
  check(
    places.length === 2 && places[0].name !== places[1].name,
    "another machine takes the place of the first",
  );
}

async function slips(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  await lostPoint(page, base);
  await jump(page, base);
  await context.close();
}

module.exports = { slips };
