// The batch check, with every amount calculated by hand beside it.

const { check, fresh, open, pick, put, answered, refused, shownJson } = require("./browser");

/** A text of the page with plain blanks, and with points for the commas that it takes over from the entries. */
const plain = (text) => text.replace(/[\u00a0\u202f]/g, " ").replace(/(\d),(?=\d)/g, "$1.");

const statement = async (page) => plain(await page.textContent(".statement"));

async function fill(page, values) {
  for (const [pointer, value] of Object.entries(values))
    await put(page, page.locator(`[id="at${pointer}"]`), value);
}

/** A tank of 1000 L that holds 640 L, factor 1.25, to be kept at 5.25 to 6.75 %, at best at 6 %. */
const TANK = {
  "/tank/capacity": "1000",
  "/tank/volume": "640",
  "/reading/factor": "1,25",
  "/band/low": "5,25",
  "/band/target": "6",
  "/band/high": "6.75",
};

async function says(page, reads, more, ...wanted) {
  await fill(page, { "/reading/brix": reads, ...more });
  await answered(page);
  const said = plain(await page.textContent("#answer"));
  for (const one of wanted)
    check(said.includes(one), `a reading of ${reads} does not say “${one}”: ${await statement(page)}`);
}

/** Who names a band alone aims for its middle, which is said, and goes with the band. */
async function aimless(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  await open(page, base, "batch");
  await fill(page, TANK);
  await says(page, "3,4", {}, "Too weak");
  const goesBy = async () => plain(await page.textContent(".goes-by"));
  check(!(await goesBy()).includes("middle"), `an aim of somebody's own is said to be ${await goesBy()}`);
  // (5.25 + 6.75) / 2 = 6 %, as before; (5.25 + 8.75) / 2 = 7 %.
  for (const [high, middle] of [
    ["6.75", 6],
    ["8.75", 7],
  ]) {
    await says(page, "3,4", { "/band/target": "", "/band/high": high }, "Too weak", `${middle} %`);
    const { target } = await shownJson(page, "Request");
    check(target.concentration === middle, `the middle that is asked for is ${target.concentration}`);
    check(
      (await goesBy()).includes(`the middle of the band, ${middle} %`),
      `the answer says ${await goesBy()}`,
    );
  }
  // What was told for other entries is struck through.
  const struck = () =>
    page.$$eval("#answer :is(.headline, .steps > li)", (all) =>
      all.map((one) => getComputedStyle(one).textDecorationLine),
    );
  const held = await struck();
  check(held.length > 3 && held.every((one) => one === "none"), `an answer that holds is struck: ${held}`);
  await fill(page, { "/band/low": "9" });
  const gone = await struck();
  check(
    gone.length === held.length && gone.every((one) => one === "line-through"),
    `an answer to other entries stands as if it held: ${gone}`,
  );
  // The wrong way round: said of the ends, and not of a middle that nobody typed.
  await refused(page);
  const said = await page.$$eval("#fields .fault", (all) =>
    all.map((one) => one.textContent.trim()).join(""),
  );
  check(
    said === "The weakest allowed is stronger than the strongest allowed.",
    `9 to 8.75 % is told “${said}”`,
  );
  await context.close();
}

async function batch(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  await open(page, base, "batch");
  const folded = await page.locator("[id='at/reference']").count();
  check(folded === 0, "a reference is asked for before it is wanted");
  await fill(page, TANK);

  // 3.4 · 1.25 = 4.25 %: 640 · (6 − 4.25) / (20 − 6) = 80 L of a premix of 20 %.
  await says(
    page,
    "3,4",
    {},
    "Too weak",
    "Pour 16 L of concentrate into 64 L of water",
    "must then read 4.8 °Brix",
    "720 L",
    "Take care",
    "a lean sump under oil then looks right",
  );
  const last = plain(await page.textContent(".steps li:last-child"));
  check(
    last.startsWith("Reread Let the fluid") && last.includes("must then read 4.8 °Brix"),
    `the step in which the scale is read says “${last}”`,
  );
  const care = async () => plain(await page.textContent(".care"));
  check((await care()).includes("Tramp oil"), `of oil under a reading it says: ${await care()}`);
  check((await page.locator(".statement .shape").count()) === 1, "the statement has no shape");

  // Who writes a comma is answered with one.
  check(
    (await page.textContent(".headline")).includes("4,8"),
    "the answer is not written as the entries are",
  );

  // The next reading, 4.9 · 1.25 = 6.125 %, is in the band, and so there is nothing to do.
  await page.fill("#next-reading", "4,9");
  await answered(page, () => page.click(".again button"));
  check(
    /In band.*in its band.*between 4\.2.*and 5\.4/s.test((await statement(page)).replace(/\u00a0/g, " ")),
    `4.9 is not in band: ${await statement(page)}`,
  );
  check(!(await statement(page)).includes("Pour"), "something is to be added to a batch in its band");
  check((await page.inputValue('[id="at/tank/volume"]')) === "720", "the tank does not hold what was added");
  check(
    (await page.locator(".result ol[reversed] li").count()) === 2,
    "the two checks of the batch are not listed",
  );

  // 6 · 1.25 = 7.5 %: 640 · 1.5 / 6 = 160 L of water.
  await says(page, "6", { "/tank/volume": "640" }, "Too strong", "160 L of water", "800 L");
  // Oil that reads as concentrate would make it wrong to pour that water: it is said before.
  const oil = await page.$eval(
    "#answer",
    (whole) => whole.innerText.indexOf("Tramp oil") - whole.innerText.indexOf("What to do"),
  );
  check(oil < 0, "what oil does to a rich reading is not said before what to do");
  check(!(await care()).includes("Tramp oil"), "of oil it is said twice");
  // 980 L at 7.5 % in a machine that holds 1000 L: filled up with water and diluted from day to day.
  await says(page, "6", { "/tank/volume": "980" }, "Too strong", "20 L of water", "Do not drain it");
  // In a stirred tank: at 6 %, 7.5 % stays in 800 L, so 180 L leave and 200 L come in;
  // and concentrate is added neat: 640 · (6 − 4.25) / (100 − 6) = 11.91 L,
  // 11.8 L as it is measured out.
  await page.evaluate(() =>
    document.querySelectorAll("#fields details").forEach((one) => {
      one.open = true;
    }),
  );
  await page.click("[id='at/vessel:stirred_tank']");
  await says(page, "6", { "/tank/volume": "980" }, "Too strong", "Draw 180 L off", "200 L of water");
  await says(page, "3,4", { "/tank/volume": "640" }, "Too weak", "11.8 L", "holds 652 L");

  // Full and too weak, and nothing may be drained: no word of nothing being wrong.
  await page.click("[id='at/draining:not_allowed']");
  await says(page, "3,4", { "/tank/volume": "1000" }, "Too weak", "Nothing can be poured in", "full");
  check(
    !(await statement(page)).includes("Nothing to correct"),
    "a full tank that is too weak needs nothing",
  );
  await page.click("[id='at/draining:allowed']");

  // Filled to 800 L: 800 · 6 % − 640 · 4.25 % = 20.8 L of concentrate, 139.2 L of water.
  await says(
    page,
    "3.4",
    { "/tank/volume": "640", "/tank/fill_to": "800" },
    "20.8 L of concentrate",
    "139.2 L of water",
    "800 L",
  );

  // By level, 800 mm when full and 512 mm now: the same 640 L; 651.8 L stand at 521.4 mm.
  await pick(page, "/tank/measured_by", "level");
  await says(
    page,
    "3.4",
    { "/tank/full_level": "800", "/tank/level": "512" },
    "11.8 L",
    "at a level of 521 mm",
    "walls were assumed to be straight",
  );

  // A fault is shown beside its field, and beside no other.
  for (const [pointer, value, said] of [
    ["/tank/level", "900", "full"],
    ["/tank/level", "", "Nothing is filled in"],
    ["/tank/capacity", "1,000", "1000 or as 1."],
    ["/tank/capacity", "1.500", "1500 or as 1.5. Write 1500 or 1.5."],
    ["/tank/level", "1.234", "1234 or as 1.234. Write 1234 or 1.2340."],
    ["/tank/capacity", "", "Nothing is filled in"],
    ["/tank/capacity", "-1000", "0"],
    ["/tank/full_level", "", "Nothing is filled in"],
    ["/tank/full_level", "0", "more than 0"],
    ["/tank/full_level", "-800", "more than 0"],
  ]) {
    const before = await page.inputValue(`[id="at${pointer}"]`);
    await fill(page, { [pointer]: value });
    await refused(page);
    const fault = await page.textContent(`[id="fault${pointer}"]`);
    check(fault.includes(said), `${pointer} of ${value || "nothing"}: ${fault}`);
    const marked = await page.$$eval("[aria-invalid]", (inputs) => inputs.map((input) => input.id));
    const told = await page.$$eval(".fault:not(:empty)", (faults) => faults.map((one) => one.id));
    check(
      `${marked}` === `at${pointer}` && `${told}` === `fault${pointer}`,
      `${pointer} of ${value || "nothing"}: ${marked} is marked, ${told} is said`,
    );
    check(
      (await page.textContent("#notice .told p")).includes("One entry needs another look"),
      `${pointer}: ${await page.textContent("#notice .told p")}`,
    );
    await fill(page, { [pointer]: before });
  }
  await page.click("#clear");
  await refused(page);
  const marked = await page.$$eval("[aria-invalid]", (inputs) => inputs.map((input) => input.id));
  const required = await page.$$eval("#fields input[aria-required]", (inputs) =>
    inputs.map((input) => input.id),
  );
  check(
    required.length === 6 && `${marked}` === `${required}`,
    `of ${required} only ${marked} are marked as missing`,
  );
  await context.close();
}

/** From blank to answer with the keyboard only, in US units and with a decimal comma, always in view. */
async function typed(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "batch");
  const press = async (...keys) => {
    for (const key of keys) await page.keyboard.press(key);
  };
  await page.focus("#units input:checked");
  await press("ArrowRight");
  await page.focus('details[data-at="/tank/measured_by"] > summary');
  for (const value of ["250", "160"]) {
    await press("Tab");
    await page.keyboard.type(value);
  }
  await press("Tab", "Tab"); // past what folds, to the method
  for (const value of ["3,4", "1,25"]) {
    await press("Tab");
    await page.keyboard.type(value);
  }
  await press("Tab");
  for (const value of ["5,25", "6,75", "6"]) {
    await press("Tab");
    await page.keyboard.type(value);
  }
  await answered(page, () => press("Enter"));
  // 160 · (6 − 4.25) / (20 − 6) = 20 gallons of a premix of 20 %, measured out to 0.2 L: 15.2 and 60.4 L.
  const said = `${await statement(page)}`.replace(/\u00a0/g, " ");
  check(said.includes("4 US gal of concentrate into 16 US gal of water"), `typed by keyboard: ${said}`);
  await context.close();
}

/** Own stocks: only the one that corrects is sent, and its fault is shown beside it. */
async function stocks(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "batch");
  await fill(page, { ...TANK, "/reading/brix": "3,4" });
  await page.evaluate(() =>
    document.querySelectorAll("#fields details").forEach((one) => {
      one.open = true;
    }),
  );
  await page.click("button:has-text('Add: stocks')");
  await fill(page, {
    "/stocks/0/name": "premix",
    "/stocks/0/concentration": "4",
    "/stocks/1/name": "rich mix",
    "/stocks/1/concentration": "20",
  });
  // 640 · (6 − 4.25) / (20 − 6) = 80 L of the rich mix.
  await answered(page);
  check(
    (await statement(page)).replace(/\u00a0/g, " ").includes("80 L of rich mix"),
    `two stocks: ${await statement(page)}`,
  );
  const shown = await page.$$eval("#answer details.json pre", (all) =>
    all.map((one) => one.getAttribute("aria-label")),
  );
  const wanted = [
    "Request to concentration",
    "Answer of concentration",
    "Request to top-up",
    "Answer of top-up",
  ];
  check(`${shown}` === `${wanted}`, `of what was asked, the page shows ${shown}`);
  const {
    stocks: [only, ...more],
  } = await shownJson(page, "Request");
  check(only.name === "rich mix" && more.length === 0, "not the stock that corrects was asked for");

  await fill(page, { "/stocks/1/concentration": "150" });
  await refused(page);
  const marked = await page.$$eval("[aria-invalid]", (inputs) => inputs.map((input) => input.id));
  check(`${marked}` === "at/stocks/1/concentration", `a stock of 150 %: ${marked} is marked`);
  const calculations = await page.$$eval("#notice pre[aria-label^='Problem']", (all) =>
    all.map((one) => one.getAttribute("aria-label")),
  );
  check(`${calculations}` === "Problem of top-up", `the page shows ${calculations}`);
  await context.close();
}

module.exports = { aimless, batch, typed, stocks };
