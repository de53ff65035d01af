// Lists saved as files and opened again; dates, days and plain lists.

const { check, fresh, open } = require("./browser");
const { cellOf, entries, paste } = require("./cells");

/** Saved as a file and opened again a list is the same, of every task, in both orders of the words. */
async function files(browser, base) {
  const { context, page } = await fresh(browser, base);
  for (const task of ["recharge", "losses", "disposal", "cost-comparison", "sump-volume", "recycler"]) {
    await open(page, base, task);
    await page.click("#example");
    const before = await entries(page);
    const grids = page.locator("#fields .grid");
    for (let i = 0; i < (await grids.count()); i += 1) {
      const grid = grids.nth(i);
      if (!(await grid.isVisible())) continue;
      const [file] = await Promise.all([
        page.waitForEvent("download"),
        grid.getByRole("button", { name: "Save as CSV" }).click(),
      ]);
      await grid.locator("input[type=file]").setInputFiles(await file.path());
      await page.waitForTimeout(200);
      const said = await grid.locator(".grid-said").first().textContent();
      check(/^\d+ rows? entered\.$/.test(said), `${task}: ${said}`);
    }
    const sorted = (document) =>
      JSON.stringify(document, (_, one) =>
        one && typeof one === "object" && !Array.isArray(one)
          ? Object.fromEntries(Object.entries(one).sort())
          : one,
      );
    const after = await entries(page);
    if (sorted(after) !== sorted(before)) {
      const differing = Object.keys(before).filter(
        (member) => sorted(after[member]) !== sorted(before[member]),
      );
      check(
        false,
        `${task}: not the same after saving and opening: ${differing
          .map((one) => `${sorted(before[one])} became ${sorted(after[one])}`)
          .join("; ")
          .slice(0, 1500)}`,
      );
    }
  }
  // What a spreadsheet elsewhere saves: semicolons, commas for decimals, another unit.
  await open(page, base, "recharge");
  const text = "Machine;Product;Sump holds [US gal];Strength wanted\r\nlathe 9;product A;50;6,25\r\n";
  await page
    .locator("#fields .grid input[type=file]")
    .first()
    .setInputFiles({ name: "round.csv", mimeType: "text/csv", buffer: Buffer.from(text) });
  await page.waitForTimeout(200);
  const [sump] = (await entries(page)).sumps;
  check(
    sump.name === "lathe 9" && sump.target === 6.25 && Math.abs(sump.volume - 50 * 3.785411784) < 1e-9,
    `from semicolons: ${JSON.stringify(sump)}`,
  );
  // Dropped, in the letters of an older spreadsheet, without headings.
  await page.evaluate(() => {
    const letters = Uint8Array.from("Fr\u00e4se 1;product A;260;7,5\n", (letter) => letter.charCodeAt(0));
    const data = new DataTransfer();
    data.items.add(new File([letters], "round.csv", { type: "text/csv" }));
    const event = new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true });
    document.querySelector(".grid td").dispatchEvent(event);
  });
  await page.waitForTimeout(200);
  const [dropped, ...others] = (await entries(page)).sumps;
  check(
    dropped.name === "Fr\u00e4se 1" && dropped.target === 7.5 && others.length === 0,
    `dropped: ${JSON.stringify(dropped)}`,
  );
  await context.close();
}

/** Dates by the device's clock, days by their names, numbers side by side. */
async function fields(browser, base) {
  const context = await browser.newContext({ timezoneId: "Europe/Berlin" });
  const page = await context.newPage();
  page.setDefaultTimeout(10000);
  page.on("pageerror", (error) => check(false, `an error on the page: ${error.stack}`));
  await open(page, base, "losses");
  await page.click("#example");
  const before = await entries(page);
  check(
    (await cellOf(page, "/log/0/at").textContent()) === "2026-03-02 06:30",
    "a moment is not shown by this clock",
  );
  await cellOf(page, "/log/0/at").click();
  await page.keyboard.press("F2");
  await page.keyboard.press("Enter");
  check((await entries(page)).log[0].at === before.log[0].at, "a moment changes by being looked at");
  await cellOf(page, "/log/0/at").click();
  await paste(page, "2026-07-02 05:15");
  check(
    (await entries(page)).log[0].at === "2026-07-02T05:15:00+02:00",
    `a moment without an offset: ${(await entries(page)).log[0].at}`,
  );
  await paste(page, "2026-03-02T05:30:00Z");
  check((await entries(page)).log[0].at === "2026-03-02T05:30:00Z", "a moment with an offset loses it");
  await paste(page, "3/2/2026");
  check((await page.textContent(".grid")).includes("is not a date"), "a date that can be two is taken");

  // A hint that only repeats its title is not drawn; one that says a word more is.
  const hinted = await page.evaluate(async () => {
    const { hint } = await import("/page/schema.js");
    return [
      ["Mass of an empty drum", "Mass of an empty drum."],
      ["Water bought", "The water that is bought."],
      ["Width", "Its width inside."],
      ["Price", "Price. Default: 0."],
      ["Days", ""],
    ].map(([title, description]) => hint({ title, description }));
  });
  check(`${hinted}` === ",,Its width inside.,Price. Default: 0.,", `hints: ${hinted}`);

  // Headings of a reading make it that kind of reading.
  await open(page, base, "losses");
  await cellOf(page, "/log/0/at").click();
  await paste(page, "At\tRefractometer reads\tRefractometer factor\n2026-03-02 06:30\t6,6 °Brix\t1,25");
  const [entry] = (await entries(page)).log;
  check(
    JSON.stringify(entry.reading) === '{"method":"refractometer","brix":6.6,"factor":1.25}',
    `a pasted reading: ${JSON.stringify(entry.reading)}`,
  );

  await open(page, base, "recycler");
  await page.click("#example");
  const ticked = () =>
    page.$$eval('[id="at/runs_on"] .ticks label', (labels) =>
      labels.filter((one) => one.querySelector("input").checked).map((one) => one.textContent.trim()),
    );
  check(`${await ticked()}` === "Monday,Tuesday,Wednesday,Thursday,Friday", `days: ${await ticked()}`);
  await page.selectOption('[id="first/runs_on"]', { label: "Thursday" });
  check(`${await ticked()}` === "Thursday,Friday,Monday,Tuesday,Wednesday", `days: ${await ticked()}`);
  check(`${(await entries(page)).runs_on}` === "0,1,4,5,6", `days: ${(await entries(page)).runs_on}`);

  await open(page, base, "refractometer-factor");
  await page.click("#example");
  const readings = (await entries(page)).readings.length;
  await page.locator('[id="at/readings"] .chips input').last().fill("3,4");
  await page.locator('[id="at/readings"] .chips input').first().fill("");
  await page.keyboard.press("Tab");
  const now = (await entries(page)).readings;
  check(now.length === readings && now.at(-1) === 3.4, `readings: ${now}`);
  await context.close();
}

module.exports = { files, fields };
