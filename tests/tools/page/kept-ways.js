// Tanks and machines that the device keeps: files, links and labels, other units and instruments.

const { answered, audit, check, fresh, layout, pick } = require("./browser");
const { decoded, enter, files, filled, keep, MILL, plain, screen, stored, WORN } = require("./kept-help");

/** Everything goes into a file and comes back the same, as JSON and as CSV, in either system of units. */
async function exchange(browser, base) {
  const { context, page } = await fresh(browser, base, "desk");
  await keep(page, base);
  await screen(page, base, "kept/device");
  await audit(page, "what lies on the device");
  await layout(page, "what lies on the device");
  await files(page, "month.json", JSON.stringify(WORN));
  const before = await stored(page);
  check(
    before.places.length === 2 && before.checks.length === WORN.checks.length,
    "the file is not taken in",
  );
  const saved = await files(page, "#kept-save");
  const places = await files(page, "#kept-places");
  const rows = (await files(page, "#kept-checks")).trim().split("\r\n");
  check(
    rows.length === WORN.checks.length + 1 && rows[0].startsWith("name,") && rows[0].includes("volume [L]"),
    `the table of checks has ${rows.length} rows under ${rows[0]}`,
  );
  await page.click("#units input[value=us]");
  const gallons = await files(page, "#kept-places");
  check(/\[US gal\]/.test(gallons) && !/\[L\]/.test(gallons), "the table is not in gallons");
  for (const [name, text] of [
    ["all.json", saved],
    ["places.csv", places],
    ["us.csv", gallons],
  ]) {
    await page.click("#kept-wipe");
    await page.waitForFunction(() => document.querySelector("#kept-screen").textContent.includes("0 tanks"));
    check((await stored(page)).places.length === 0, "wiping leaves something");
    await files(page, name, text);
    const after = await stored(page);
    const same = plain(after.places) === plain(before.places);
    check(same, `${name} brings back ${JSON.stringify(after.places)}, not ${JSON.stringify(before.places)}`);
    if (name === "all.json")
      check(
        JSON.stringify(after.checks) === JSON.stringify(before.checks),
        "the checks do not come back the same",
      );
  }
  await page.click("#units input[value=metric]");
  const untouched = await stored(page);
  await files(
    page,
    "shop.csv",
    "Machine;Capacity [gal];Factor;Low;Target;High\r\nLathe 1, invented;53;1,5;5;6,5;8\r\n",
  );
  const lathe = (await stored(page)).places.find((one) => one.name.startsWith("Lathe 1"));
  check(Math.abs(lathe.tank.capacity - 53 * 3.785411784) < 1e-9, `53 US gal are ${lathe.tank.capacity} L`);
  check(lathe.band.target === 6.5 && lathe.reading.factor === 1.5, "a decimal comma is lost");
  const undone = async () => {
    await page.click(".undo button:has-text('Undo')");
    await page.waitForFunction(() => document.querySelector("#kept-screen").textContent.includes("2 tanks"));
    check(plain(await stored(page)) === plain(untouched), "opening a file is not undone");
  };
  await undone();
  const shop = [
    ["Machine", "Capacity", "Factor", "Low", "Target", "High"],
    ["Mill 8, invented", 651.915, 1.25, "5", "6", "7"],
  ];
  const book = await page.evaluate(async (table) => {
    const { workbookOf } = await import("/page/workbook/write.js");
    return [...workbookOf("Shop", table[0], table.slice(1))];
  }, shop);
  await files(page, "shop.xlsx", Buffer.from(book));
  const mill = (await stored(page)).places.find((one) => one.name.startsWith("Mill 8"));
  check(mill?.tank.capacity === 651.915 && mill.band.low === 5, `from a workbook: ${JSON.stringify(mill)}`);
  await undone();
  const older = { ...WORN.places[0], name: "An older name", changed: "2026-02-01T06:30:00.000Z" };
  await files(page, "older.json", JSON.stringify({ ...WORN, places: [older] }));
  check(
    (await page.textContent("#kept-said")).includes("newer here"),
    "an older one is not said to be left out",
  );
  check(plain(await stored(page)) === plain(before), "an older one takes the place of a newer one");
  const count = (await stored(page)).places.length;
  // A name that a spreadsheet would run does not run there, and comes back as it was.
  const guarded = await page.evaluate(async () => {
    const { cells, written } = await import("/page/kept/csv.js");
    const rows = [
      ["name", "level"],
      ["=1+1", -3],
      ["@a, b", "-x"],
    ];
    const text = written(rows);
    return { text, back: cells(text).rows.map((row) => row.cells.join("|")) };
  });
  check(guarded.text.includes("'=1+1,-3"), `a formula is written as it is: ${guarded.text}`);
  check(`${guarded.back}` === "name|level,=1+1|-3,@a, b|-x", `a table comes back as ${guarded.back}`);
  await files(page, "bad.csv", "machine,capacity,factor,low,target,high,colour\nA,200,1,5,6,7,red\n");
  check(
    (await page.textContent("#kept-said")).includes("“colour” is not known"),
    "an unknown column is passed over",
  );
  await files(
    page,
    "bad.csv",
    'machine,capacity,factor,low,target,high\n"A\nB",200,1,5,6,7\nC,1.500,1,5,6,7\nD,200,1,9,6,7\n',
  );
  const said = await page.textContent("#kept-said");
  for (const one of ["Line 4:", "1500 or as 1.5", "Line 5:", "must not be above"])
    check(said.includes(one), `the faults of a table do not say “${one}”: ${said}`);
  check((await stored(page)).places.length === count, "a table with faults is taken in by halves");
  for (const [wrong, words] of [
    [{ ...WORN, version: 2 }, "newer kind"],
    [{ ...WORN, places: [] }, "is not in the file"],
    [{ ...WORN, checks: [{ ...WORN.checks[0], volume: -1 }] }, "less than 0"],
    [{ ...WORN, checks: [{ ...WORN.checks[0], at: "at noon" }] }, "not a moment"],
  ]) {
    await files(page, "wrong.json", JSON.stringify(wrong));
    check(
      (await page.textContent("#kept-said")).includes(words),
      `a file that is wrong is not said to be “${words}”`,
    );
  }
  check((await stored(page)).places.length === count, "a file that is wrong is taken in");
  await files(page, "other.json", "{}");
  check((await page.textContent("#kept-said")).includes("does not come from here"), "any file is taken");
  await context.close();
}

/** A link or a code opens the check on another device, which may keep it. */
async function handed(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const place = await keep(page, base);
  await screen(page, base, `kept/${place.id}/label`);
  await page.waitForSelector(".label svg.qr");
  const link = await page.inputValue("#kept-link");
  check(link.length < 200, `the link has ${link.length} letters`);
  check((await decoded(browser, page, ".label svg.qr")) === link, "the code does not say the link");
  const quiet = await page.$eval(".label svg.qr", (code) => {
    const dark = code.querySelector("path").getBBox();
    const { width, height } = code.viewBox.baseVal;
    return Math.min(dark.x, dark.y, width - dark.x - dark.width, height - dark.y - dark.height);
  });
  // ISO/IEC 18004: four modules of white on each side.
  check(quiet >= 4, `the code has ${quiet} modules of white around it`);
  await audit(page, "a label");
  await page.emulateMedia({ colorScheme: "dark" });
  await audit(page, "a label on a dark screen");
  await page.emulateMedia({ colorScheme: null });
  await layout(page, "a label");
  await page.emulateMedia({ media: "print" });
  check(
    (await page.isVisible(".label .qr")) &&
      !(await page.isVisible("#kept-link")) &&
      !(await page.isVisible("h1")),
    "the label is not printed alone",
  );
  await context.close();

  const other = await fresh(browser, base, "phone");
  await other.page.goto(link);
  await other.page.waitForSelector("#quick-reading");
  check((await other.page.inputValue("#quick-amount")) === "180", "the usual volume is not filled in");
  await other.page.click("#kept-take");
  await other.page.waitForFunction(() => location.hash.startsWith("#kept/"));
  const { changed: _, ...kept } = (await stored(other.page)).places[0];
  const { changed: __, ...made } = place;
  check(plain(kept) === plain(made), `the link keeps ${JSON.stringify(kept)}`);
  for (const broken of [link.slice(0, -3), link.replace("c=200", "c=-1"), link.replace("=1;", "=9;")]) {
    await other.page.goto("about:blank");
    await other.page.goto(broken);
    await other.page.waitForSelector("#kept-screen [role=alert]:has-text('cannot be read')");
  }
  await other.context.close();
}

/** A tank by its level, in US units, titrated; a machine out of a top-up; many places; a browser that keeps nothing. */
async function otherWays(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  await screen(page, base, "kept/new");
  await page.click("#units input[value=us]");
  await page.click("[id='at/kind:tank']");
  await pick(page, "/tank/measured_by", "level");
  await pick(page, "/reading/method", "titration");
  await filled(page, {
    "/name": "Tank 1, invented",
    "/tank/capacity": "100",
    "/tank/full_level": "20",
    "/reading/factor": "1.5",
    "/band/low": "5",
    "/band/target": "6",
    "/band/high": "7",
  });
  await page.click("form.edit button.main");
  await page.waitForSelector("#quick-reading");
  await page.fill("#quick-reading", "3");
  await page.fill("#quick-amount", "25");
  await page.keyboard.press("Enter");
  check(
    (await page.textContent("#quick-amount-fault")).includes("20 at most"),
    "a level above the tank is taken",
  );
  await page.fill("#quick-amount", "15");
  await page.keyboard.press("Enter");
  await page.waitForSelector(".noted");
  // By hand: 15 of 20 in are 75 of 100 US gal; 3 mL × 1.5 = 4.5 %; 75 × 1.5 / (20 − 6) US gal of 20 % are to be added, of
  // which a fifth is concentrate: 1.607 and 6.429, measured out to 0.02.
  const [one] = (await stored(page)).checks;
  const gallon = 3.785411784;
  check(
    Math.abs(one.volume - 75 * gallon) < 1e-9 && Math.abs(one.level - 381) < 1e-9,
    `it holds ${one.volume} L`,
  );
  const after = (75 + 1.6 + 6.42) * gallon;
  check(Math.abs(one.after.volume - after) < 1e-6 && one.concentration === 4.5, `then ${one.after.volume} L`);

  await page.goto("about:blank");
  await page.goto(`${base}/#top-up`);
  await page.waitForSelector("#fields .field");
  await page.click("#example");
  await page.click("#ask");
  await page.click("#kept-offer");
  await page.waitForSelector("form.edit");
  check((await page.inputValue("[id='at/tank/capacity']")) === "52.8344", "a top-up's sump is not filled in");
  await filled(page, { "/name": "Machine 2, invented", "/band/low": "7", "/band/high": "9" });
  await page.click("form.edit button.main");
  await page.waitForSelector("#quick-reading");
  const made = (await stored(page)).places.find((place) => place.name.startsWith("Machine 2"));
  const [begun] = (await stored(page)).checks.filter((check) => check.place === made.id);
  check(
    begun?.reading.brix === 5.6 &&
      Math.abs(begun.volume - 140) < 1e-9 &&
      begun.standing === "in_band" &&
      // 6.2 L are 1.638 US gal, of which the fiftieth is measured to 0.02.
      Math.abs(begun.added[0].volume - 1.64 * gallon) < 1e-9,
    `a top-up's reading is kept as ${JSON.stringify(begun)}`,
  );
  await enter(page, "5.2");
  await page.waitForSelector(".noted");
  const own = async () => (await stored(page)).checks.filter((check) => check.place === made.id);
  await answered(page, async () => {
    await page.fill("[id='at/reading/brix']", "5.4");
    await page.click("#ask");
  });
  await page.waitForSelector(".noted");
  check((await own()).map((one) => one.reading.brix).join() === "5.4", "a number put right makes two checks");
  await page.fill("#next-reading", "6.3");
  await answered(page, () => page.click(".again button"));
  await page.waitForSelector(".noted");
  const [told, then] = await own();
  check(told.done === true && then?.reading.brix === 6.3, "what was read again was not done before");
  check(
    made.tank.capacity === 200 && made.band.target === 8 && made.entered === "us",
    "a top-up is kept otherwise",
  );

  await screen(page, base, `kept/${made.id}/edit`);
  const everything = await stored(page);
  await page.click("form.edit button:has-text('Remove Machine 2')");
  await page.waitForSelector("#kept-title:text-is('Tanks and machines')");
  check(
    (await stored(page)).checks.length === everything.checks.length - 2,
    "its checks are not removed with it",
  );
  await page.click(".undo button:has-text('Undo')");
  await page.waitForSelector(".place:has-text('Machine 2')");
  check(plain(await stored(page)) === plain(everything), "removing is not undone");

  const many = Array.from({ length: 14 }, (_, i) => ({
    ...WORN.places[0],
    id: `many${i}`,
    name: `Lathe ${i}, invented`,
  }));
  await screen(page, base, "kept/device");
  await files(page, "many.json", JSON.stringify({ ...WORN, places: many, checks: [] }));
  await screen(page, base, "kept");
  await page.fill("#kept-search", "lathe 13");
  check((await page.locator(".place:visible").count()) === 1, "a search does not find the one that is meant");
  await layout(page, "sixteen places");
  await context.close();

  const closed = await fresh(browser, base, "phone");
  await closed.page.addInitScript(() => Object.defineProperty(window, "indexedDB", { value: undefined }));
  await screen(closed.page, base, "kept/new");
  await filled(closed.page, MILL);
  await closed.page.click("form.edit button.main");
  await closed.page.waitForSelector("#quick-reading");
  await closed.page.click("#kept-screen a[href$='history']");
  await closed.page.waitForSelector("#kept-losses");
  await closed.page.evaluate(() => {
    location.hash = "#kept";
  });
  await closed.page.waitForSelector(".place");
  check(
    (await closed.page.textContent("#kept-screen")).includes("keeps nothing"),
    "nobody says that nothing is kept",
  );
  await closed.context.close();
}

module.exports = { exchange, handed, otherWays };
