// What was told and nobody said was done: the history asks for it for as long as it is not said.

const { audit, check, fresh, layout } = require("./browser");
const { enter, keep, screen, stored } = require("./kept-help");

async function unsaid(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const place = await keep(page, base);
  for (const reading of ["5.2", "6.5"]) {
    await screen(page, base, `kept/${place.id}`);
    await enter(page, reading);
    await page.waitForSelector(".noted");
  }
  await page.click(".gave-way button");
  await page.waitForSelector(".gave-way:has-text('Both are kept')");
  await screen(page, base, `kept/${place.id}`);
  check((await page.locator("#quick-done").count()) === 0, "a check in its band is asked after");

  await screen(page, base, `kept/${place.id}/history`);
  const row = page.locator("table.checks tbody tr:last-child");
  check((await row.textContent()).includes("Not said whether it was done."), "the row tells otherwise");
  await audit(page, "a history that asks");
  await layout(page, "a history that asks");
  const done = async () => (await stored(page)).checks[0].done;
  await row.locator("button:has-text('Not done')").click();
  await page.waitForSelector("table.checks strong:text-is('Not done.')");
  check((await done()) === false, `that it was not done is written down as ${await done()}`);
  await page.click(".undo button:has-text('Undo')");
  await page.waitForSelector("table.checks button:has-text('Done as told')");
  check((await done()) === undefined, "what was said is not taken back");
  await row.locator("button:has-text('Done as told')").click();
  await page.waitForSelector("table.checks strong:text-is('Done.')");
  check((await done()) === true, `that it was done is written down as ${await done()}`);
  check((await row.locator("button").count()) === 1, "what is said is asked again");
  await context.close();
}

module.exports = { unsaid };
