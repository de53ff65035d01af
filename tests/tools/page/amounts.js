// One pour is one number wherever somebody reads it, and what somebody typed stays as it was typed.

const { check, fresh } = require("./browser");
const { enter, filled, screen, stored } = require("./kept-help");

/** An invented tank of 1000 L that has become too strong. */
const TANK = {
  "/tank/capacity": "1000",
  "/tank/volume": "640",
  "/reading/brix": "6.4",
  "/reading/factor": "1.25",
  "/band/low": "5.25",
  "/band/target": "6",
  "/band/high": "6.75",
};

/** What is written on the screen, without what is folded. */
const seen = (page, selector) =>
  page.$eval(selector, (whole) => whole.innerText.replaceAll("\u00a0", " ").replaceAll(/\s+/g, " "));

/** A pour that is told, done and confirmed: 640 L at 8 % want 213.3 L of water, which are measured out as 212. */
async function poured(page, base) {
  await page.goto(`${base}/#batch`);
  await page.waitForSelector("#fields .field");
  await filled(page, TANK);
  await page.click("#ask");
  await page.waitForSelector("#kept-offer");
  await page.waitForSelector(".picture svg");
  const answer = await seen(page, "#answer");
  check(answer.includes("Pour 212 L of water"), `640 L at 8 % are told “${answer}”`);
  check(answer.includes("The tank then holds 852 L."), `it is not said to hold 640 and 212 L: “${answer}”`);
  check(!/213|853/.test(answer), `another number stands beside 212 L: “${answer}”`);
  const offered = await page.inputValue("#next-volume");
  check(offered === "852", `when it is read again it is offered to hold ${offered} L`);
  await page.click("#kept-offer");
  await page.waitForSelector("form.edit");
  await filled(page, { "/name": "Tank 5, invented" });
  await page.click("form.edit button.main");
  await page.waitForSelector("#quick-done");
  const { places, checks } = await stored(page);
  check(
    checks[0].added.length === 1 && checks[0].added[0].volume === 212 && checks[0].after.volume === 852,
    `of 212 L it is written down: ${JSON.stringify(checks[0])}`,
  );
  await page.click("#quick-done");
  await page.waitForFunction(() => document.querySelector("#quick-amount").value !== "640");
  const left = await page.inputValue("#quick-amount");
  check(left === "852", `after 212 L into 640 L it is offered to hold ${left} L`);
  await enter(page, "4.8");
  await page.waitForSelector(".noted");
  const goes = await seen(page, ".goes-by");
  check(goes.includes("4.8 °Brix and 852 L in it"), `what was confirmed as 852 L is told as “${goes}”`);
  await screen(page, base, `kept/${places[0].id}/history`);
  const rows = await seen(page, "table.checks");
  check(rows.includes("852 L") && !/213|853/.test(rows), `the history tells 212 L as “${rows}”`);
  await page.click("table.checks tbody tr:last-child button:has-text('Correct')");
  const box = await page.inputValue("#correct-added-0-volume");
  check(box === "212", `of 212 L that were told ${box} are offered`);
  await page.click("dialog.correct button:has-text('Cancel')");
  return places[0];
}

/** What somebody typed to the last digit is read, offered and written down so. */
async function typedOnes(page, base, place) {
  await screen(page, base, `kept/${place.id}`);
  await page.fill("#quick-amount", "843.25");
  await enter(page, "4.75");
  await page.waitForSelector(".noted");
  const goes = await seen(page, ".goes-by");
  check(goes.includes("4.75 °Brix and 843.25 L"), `843.25 L are told as “${goes}”`);
  check((await seen(page, ".noted")).includes("843.25 L"), "843.25 L are written down as another number");
  await screen(page, base, `kept/${place.id}`);
  const offered = await page.inputValue("#quick-amount");
  check(offered === "843.25", `843.25 L are offered as ${offered}`);
  await screen(page, base, `kept/${place.id}/history`);
  check(
    (await seen(page, "table.checks")).includes("843.25 L"),
    "the history has other litres than were typed",
  );
  check((await stored(page)).checks.at(-1).volume === 843.25, "other litres are kept than were typed");
}

/** Three digits as a picture has them, never above what the tank holds. */
async function digits(page) {
  const found = await page.evaluate(async () => {
    const { roughly, shownAsWritten } = await import("/page/units.js");
    const { measuredOut } = await import("/page/measured.js");
    const { volume, added, drained } = measuredOut({
      drain: 0,
      add: [
        { name: "concentrate", volume: 0.3269 },
        { name: "a 20 L can", volume: 1.6268 },
        { name: "water", volume: 0 },
      ],
      after: { volume: 41.9537 },
      steps: [
        { name: "a 20 L can", volume: 1.6268, text: "Pour 1.625 L of a 20 L can into a clean vessel." },
        { name: "concentrate", volume: 0.3269, text: "Stir 0.325 L of concentrate in slowly." },
        { volume: 1.9537, text: "Pour 1.95 L of this premix (20 %) into the sump." },
        { text: "Let the fluid circulate." },
      ],
    });
    return [
      [volume, volume, 41.95],
      [added, added.join(), "0.325,1.625,0"],
      [drained, drained, 0],
      [722.5, roughly(722.5), 723],
      [1234.4, roughly(1234.4), 1230],
      [85.26, roughly(85.26), 85.3],
      [1236, roughly(1236, 1237), 1237],
      [0, roughly(0), 0],
      [1.3345, shownAsWritten(1.3345), "1.3345"],
      [853.3333333, shownAsWritten(853.3333333), "853.3"],
      [12000, shownAsWritten(12000), "12\u202f000"],
    ].filter(([, is, should]) => is !== should);
  });
  check(found.length === 0, `rounded otherwise: ${JSON.stringify(found)}`);
}

async function amounts(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const place = await poured(page, base);
  await typedOnes(page, base, place);
  await digits(page);
  await context.close();
}

module.exports = { amounts };
