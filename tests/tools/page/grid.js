// Lists as tables: pasting a round from a spreadsheet, the keyboard, undo, faults and narrow screens.

const { audit, answered, check, fresh, layout, open, refused, shownJson } = require("./browser");
const { cellOf, copy, entries, paste, tsv } = require("./cells");

/** Sixteen machines of an invented shop, as a spreadsheet copies them: with headings, in an order of their own. */
const HEADINGS = [
  "Product",
  "Machine",
  "Strength wanted",
  "Sump holds",
  "Fluid now: In the sump now",
  "fluid_now.concentration",
  "Stays when emptied",
  "Chips and sludge",
  "Remarks",
];
const MACHINES = Array.from({ length: 16 }, (_, i) => [
  i < 8 ? "product A" : "product B",
  `machine ${i + 1}`,
  i < 8 ? "6" : "7,5",
  String(150 + 10 * i),
  String(120 + 10 * i),
  i % 2 === 0 ? "7,1" : "6,4",
  "12,5",
  String(20 + i),
  "looked at",
]);
/** Sixteen machines pasted at once into the empty form, and the answer. */
async function pastedRound(browser, base) {
  const { context, page } = await fresh(browser, base);
  await page.setViewportSize({ width: 1440, height: 900 });
  const start = Date.now();
  await open(page, base, "recharge");
  await cellOf(page, "/sumps/0/name").click();
  await paste(page, tsv([HEADINGS, ...MACHINES]));
  const said = await page.textContent(".grid-said");
  check(said.includes("16 rows") && said.includes("“Remarks”"), `after pasting: ${said}`);
  await cellOf(page, "/stocks/0/name").click();
  await paste(
    page,
    tsv([
      ["Stock", "Product", "Strength"],
      ["concentrate A", "product A", "100"],
      ["concentrate B", "product B", "100 %"],
      ["tap water", "", "0"],
    ]),
  );
  await answered(page);
  console.log(`from opening to the answer for 16 pasted machines: ${Date.now() - start} ms`);
  check(Date.now() - start < 60000, "a round of 16 machines takes more than a minute");
  const { sumps, stocks } = await shownJson(page, "Request");
  check(
    sumps.length === 16 && stocks.length === 3,
    `${sumps.length} sumps and ${stocks.length} stocks asked`,
  );
  for (const [i, row] of MACHINES.entries()) {
    const number = (text) => Number(text.replace(",", "."));
    const [product, name, target, volume, now, concentration, residue, chips] = row;
    const wanted = {
      name,
      product,
      target: number(target),
      volume: number(volume),
      residue: number(residue),
      chips: number(chips),
      fluid_now: { volume: number(now), concentration: number(concentration) },
    };
    for (const [member, value] of Object.entries(wanted))
      check(
        JSON.stringify(sumps[i][member]) === JSON.stringify(value),
        `${name}: ${member} is ${JSON.stringify(sumps[i][member])}`,
      );
  }
  await audit(page, "recharge with its table open");
  await context.close();
}

/** The example's sixteen machines stand on a desktop screen at once. */
async function roundOnAScreen(browser, base) {
  const { context, page } = await fresh(browser, base);
  await page.setViewportSize({ width: 1440, height: 900 });
  await open(page, base, "recharge");
  await page.click("#example");
  await page.locator(".grid").first().getByRole("button", { name: "Whole screen" }).click();
  const { seen, all } = await page.evaluate(() => {
    const cells = [...document.querySelectorAll('[id^="at/sumps/"][role=gridcell]')];
    const within = (cell) => {
      const box = cell.getBoundingClientRect();
      const middle = document.elementFromPoint((box.left + box.right) / 2, (box.top + box.bottom) / 2);
      return box.left >= 0 && box.right <= innerWidth && cell.contains(middle);
    };
    return { all: cells.length, seen: cells.filter(within).length };
  });
  check(all >= 16 * 19 && seen === all, `${seen} of ${all} cells are on the screen`);
  await page.keyboard.press("F2");
  await page.keyboard.press("Escape");
  check((await page.locator("dialog").count()) === 1, "Escape in a cell closes the whole screen");
  await page.keyboard.press("Escape");
  check((await page.locator("dialog").count()) === 0, "Escape does not bring the page back");
  const focused = await page.evaluate(() => document.activeElement.id);
  check(focused === "at/sumps/0/name", `back from the whole screen the focus is on ${focused}`);
  await context.close();
}

/** Keys in a table, and taking back. */
async function keys(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "blend");
  await page.click("#example");
  const press = async (...all) => {
    for (const one of all) await page.keyboard.press(one);
  };
  const here = () =>
    page.evaluate(() => document.activeElement.id || document.activeElement.closest("td")?.id);
  const value = (pointer) => cellOf(page, pointer).textContent();
  const example = await entries(page);

  await cellOf(page, "/stocks/0/name").click();
  await press("ArrowDown", "ArrowRight");
  check((await here()) === "at/stocks/1/concentration", `after arrows: ${await here()}`);
  await press("Home");
  check((await here()) === "at/stocks/1/name", `after Home: ${await here()}`);
  await press("Tab", "Tab", "Shift+Tab");
  check((await here()) === "at/stocks/1/concentration", `after Tab: ${await here()}`);
  // Typing takes the place of what stood there; Enter goes down.
  await page.keyboard.type("7,25");
  await press("Enter");
  check(
    (await value("/stocks/1/concentration")) === "7.25",
    `typed: ${await value("/stocks/1/concentration")}`,
  );
  check((await here()) === "at/stocks/2/concentration", `after Enter: ${await here()}`);
  await press("Shift+Enter", "F2", "End");
  await page.keyboard.type("5");
  await press("ArrowLeft", "ArrowLeft", "ArrowLeft", "ArrowLeft");
  check(
    await page.evaluate(() => document.activeElement.matches("input")),
    "an arrow inside a text leaves it",
  );
  await press("Escape");
  check((await value("/stocks/1/concentration")) === "7.25", "Escape does not take back");
  await press("F2", "End", "ArrowRight");
  check((await here()) !== "at/stocks/1/concentration", "an arrow at the end of a text stays in it");
  await press("Control+z");
  check(
    JSON.stringify(await entries(page)) === JSON.stringify(example),
    "Ctrl+Z does not bring back what was there",
  );
  await press("Control+y");
  check((await value("/stocks/1/concentration")) === "7.25", "Ctrl+Y does not do it again");
  // A block: copied, emptied, brought back, filled down.
  await cellOf(page, "/stocks/0/name").click();
  await press("Shift+ArrowDown", "Shift+ArrowRight");
  const copied = await copy(page);
  const [first, second] = example.stocks;
  check(
    copied === `${first.name}\t${first.concentration}\n${second.name}\t7.25`,
    `copied: ${JSON.stringify(copied)}`,
  );
  check((await page.locator("td[aria-selected]").count()) >= 4, "a block is not marked as chosen");
  await press("Delete");
  check(
    (await value("/stocks/0/name")) === "" && (await value("/stocks/1/concentration")) === "",
    "not emptied",
  );
  await page.locator(".grid").first().getByRole("button", { name: /^Undo/ }).click();
  check((await value("/stocks/0/name")) === first.name, "the button does not undo");
  await cellOf(page, "/stocks/0/concentration").click();
  await press("Shift+ArrowDown", "Control+d");
  check(
    (await value("/stocks/1/concentration")) === String(first.concentration),
    "Ctrl+D does not fill down",
  );
  // A drag of the mouse chooses a block.
  const [from, to] = [
    await cellOf(page, "/stocks/0/name").boundingBox(),
    await cellOf(page, "/stocks/1/concentration").boundingBox(),
  ];
  await page.mouse.move(from.x + 5, from.y + 5);
  await page.mouse.down();
  await page.mouse.move(to.x + 8, to.y + 8, { steps: 4 });
  await page.mouse.up();
  check((await copy(page)).split("\n").length === 2, `dragged: ${JSON.stringify(await copy(page))}`);
  // Writing below the last row adds one; rows are copied, moved and removed, and each is undone at once.
  const count = (await entries(page)).stocks.length;
  await cellOf(page, `/stocks/${count}/name`).click();
  await page.keyboard.type("river water");
  await press("Enter");
  check((await entries(page)).stocks.length === count + 1, "writing below the last row adds none");
  await cellOf(page, `/stocks/${count}/name`).click();
  for (const [button, test] of [
    ["Duplicate", (stocks) => stocks.length === count + 2],
    ["Remove", (stocks) => stocks.length === count + 1],
    ["Move up", (stocks) => stocks[count - 1].name === "river water"],
    ["Undo", (stocks) => stocks[count].name === "river water"],
    ["Undo", (stocks) => stocks.length === count + 2],
    ["Undo", (stocks) => stocks.length === count + 1],
  ]) {
    await page
      .locator(".grid")
      .first()
      .getByRole("button", { name: new RegExp(`^${button}`) })
      .click();
    check(
      test((await entries(page)).stocks),
      `after ${button}: ${JSON.stringify((await entries(page)).stocks.map((one) => one.name))}`,
    );
  }
  // Escape, then Tab, leaves the table.
  await cellOf(page, "/stocks/0/name").click();
  await press("Escape", "Tab");
  check(
    await page.evaluate(() => !document.activeElement.closest("table")),
    `Tab after Escape stays in the table: ${await here()}`,
  );
  await context.close();
}

/** Cells that cannot be read, a fault of the service at a cell, and one that lies below its row. */
async function marked(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "blend");
  await page.click("#example");
  await cellOf(page, "/stocks/0/concentration").click();
  await paste(page, tsv([["a lot", "1,500"]]));
  const invalid = () => page.$$eval("[aria-invalid]", (cells) => cells.map((cell) => cell.id));
  check(`${await invalid()}`.startsWith("at/stocks/0/concentration"), `marked: ${await invalid()}`);
  check((await page.textContent(".grid")).includes("“a lot” is not a number"), "no sentence says why");
  await refused(page);
  check(
    (await page.evaluate(() => document.activeElement.id)) === "at/stocks/0/concentration",
    "not led there",
  );
  await page.keyboard.type("150");
  await page.keyboard.press("Enter");
  await cellOf(page, "/stocks/0/volume").click();
  await page.keyboard.type("500");
  await page.keyboard.press("Enter");
  check((await invalid()).length === 0, `still marked: ${await invalid()}`);
  await refused(page);
  check(`${await invalid()}` === "at/stocks/0/concentration", `the service's fault is at ${await invalid()}`);
  const said = await page.evaluate(() => {
    const cell = document.querySelector("td[aria-invalid]");
    return document.getElementById(cell.getAttribute("aria-describedby")).textContent;
  });
  check(said.length > 10, `what is said of it: ${said}`);

  // Numbers that can be read in two ways are settled together.
  await open(page, base, "recharge");
  await cellOf(page, "/sumps/0/name").click();
  await paste(
    page,
    tsv([
      ["m 1", "product A", "1.500", "6"],
      ["m 2", "product A", "2.250", "6"],
    ]),
  );
  check((await invalid()).length === 2, `in doubt: ${await invalid()}`);
  await page.click(".grid button:has-text('as 1500')");
  check((await invalid()).length === 0, `still in doubt: ${await invalid()}`);
  const volumes = (await entries(page)).sumps.map((one) => one.volume);
  check(`${volumes}` === "1500,2250", `read as ${volumes}`);

  await open(page, base, "separation");
  await page.click("#example");
  await page.waitForTimeout(200);
  const document_ = await entries(page);
  document_.separator.particles[0].sizes.median = -5;
  await page.goto("about:blank");
  await page.goto(`${base}/#separation=${encodeURIComponent(JSON.stringify(document_))}`);
  await page.waitForSelector("#fields .field");
  await refused(page);
  const focused = await page.evaluate(() => document.activeElement.id);
  check(focused === "at/separator/particles/0/sizes/median", `a fault below a row leads to ${focused}`);
  await context.close();
}

/** On a phone the page stays as wide as the screen, a tap edits, and what is tapped is large enough. */
async function onAPhone(browser, base) {
  const context = await browser.newContext({
    viewport: { width: 360, height: 740 },
    hasTouch: true,
    isMobile: true,
  });
  const page = await context.newPage();
  page.on("pageerror", (error) => check(false, `an error on the page: ${error.stack}`));
  for (const task of ["recharge", "losses", "sump-volume"]) {
    await open(page, base, task);
    await page.tap("#example");
    await layout(page, `${task} on a phone`);
    const low = await page.$$eval(
      "#fields td[role=gridcell]:not([colspan])",
      (cells) =>
        cells.filter((cell) => cell.checkVisibility() && cell.getBoundingClientRect().height < 47.9).length,
    );
    check(low === 0, `${task} on a phone: ${low} cells are too low for a glove`);
  }
  await open(page, base, "recharge");
  await page.tap('[id="at/sumps/0/volume"]');
  check(await page.evaluate(() => document.activeElement.matches("input.grid-field")), "a tap does not edit");
  await page.keyboard.type("180");
  await page.tap('[id="at/sumps/0/name"]');
  check(
    (await cellOf(page, "/sumps/0/volume").textContent()) === "180",
    "what was typed is gone after a tap",
  );
  // The name stays in view when the table is moved aside.
  await page.tap("#example");
  const left = await page.evaluate(() => {
    const table = document.querySelector(".grid-window");
    table.scrollLeft = 500;
    return document.getElementById("at/sumps/0/name").getBoundingClientRect().left;
  });
  check(left >= 0 && left < 80, `the first column is at ${left}`);
  await audit(page, "recharge on a phone");
  await context.close();
}

module.exports = { pastedRound, roundOnAScreen, keys, marked, onAPhone };
