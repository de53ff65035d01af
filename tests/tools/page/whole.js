// The page as a whole: links, a lost connection, the policy and numbers.

const { check, fresh, open, pick, answered, shownJson, printsNoControls } = require("./browser");

/** A link carries the entries to another browser; a broken link is reported. */
async function links(browser, base) {
  const from = await fresh(browser, base);
  await open(from.page, base, "top-up");
  await from.page.click("#example");
  await from.page.click(".units label:last-child");
  await from.page.fill('[id="at/sump/volume"]', "31,5");
  await from.page.click("#link");
  const link = await from.page.inputValue("#address");
  check(link.startsWith(`${base}/#top-up=`), `the link is ${link}`);
  await answered(from.page);
  const asked = await shownJson(from.page, "Request");
  check(asked.sump.volume === 31.5, "what was typed was not asked");
  const kept = await from.page.evaluate(() => [
    JSON.stringify({ ...localStorage }) + document.cookie,
    `${Object.keys(sessionStorage)}`,
  ]);
  check(
    kept[0] === '{"decimal-comma":"yes","units":"us"}' && kept[1] === "entries:top-up",
    `the browser keeps ${kept}`,
  );

  const to = await fresh(browser, base, "phone");
  await to.page.goto(link);
  // Whole entries are answered at once.
  await to.page.waitForSelector("#answered", { state: "attached" });
  const sorted = (document) =>
    JSON.stringify(document, (_, one) =>
      one && typeof one === "object" && !Array.isArray(one)
        ? Object.fromEntries(Object.entries(one).sort())
        : one,
    );
  check(sorted(await shownJson(to.page, "Request")) === sorted(asked), "the link does not carry the entries");
  await to.page.reload();
  await to.page.waitForSelector("#fields .field");
  check(
    (await to.page.inputValue('[id="at/sump/volume"]')) === "31.5",
    "the entries are gone after reloading",
  );
  await to.page.goto("about:blank");
  await to.page.goto(link.slice(0, -20));
  await to.page.waitForSelector("#notice .told");
  check(
    (await to.page.textContent("#notice")).includes("cannot be read"),
    "a broken link is not said to be broken",
  );
  await from.context.close();
  await to.context.close();
}

/** A link with entries of a different task is reported, and the task opens without entries. */
async function misshapen(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const units = "metric";
  for (const [task, document] of [
    ["batch", null],
    ["batch", 5],
    ["batch", [{ units }]],
    ["batch", {}],
    ["batch", { units: "furlongs" }],
    ["batch", { units, tank: 5 }],
    ["batch", { units, tank: [] }],
    ["batch", { units, tank: { measured_by: "eye" } }],
    ["batch", { units, stocks: "water" }],
    ["batch", { units, stocks: [7] }],
    ["batch", { units, stocks: { 0: {} } }],
    ["batch", { units, tank: { measured_by: "volume", capacity: { value: 5 } } }],
    ["batch", { units, reference: ["a"] }],
    ["batch", { units, sump: { capacity: 50 } }],
    ["batch", { units, constructor: {} }],
    ["top-up", { units, sump: { reading: { method: "refractometer", brix: [5] } } }],
    ["top-up", { units, tank: {} }],
    ["losses", { units, log: { 0: "x" } }],
  ]) {
    const what = `${task}=${JSON.stringify(document)}`;
    await page.goto("about:blank");
    await page.goto(`${base}/#${task}=${encodeURIComponent(JSON.stringify(document))}`);
    await page.waitForSelector("#notice .told");
    const said = await page.textContent("#notice .told");
    check(said.includes("do not fit"), `${what}: ${said}`);
    check((await page.locator("#fields input").count()) > 3, `${what}: there is no form`);
    const filled = await page.$$eval("#fields input:not([type=radio])", (inputs) =>
      inputs.filter((input) => input.value).map((input) => input.id),
    );
    check(filled.length === 0, `${what}: ${filled} are filled in`);
    await page.click("#example");
    await answered(page);
  }
  // A typed text that is not a number is carried over unchanged.
  const typed = { units, tank: { measured_by: "volume", capacity: "a lot", volume: null }, stocks: [null] };
  await page.goto("about:blank");
  await page.goto(`${base}/#batch=${encodeURIComponent(JSON.stringify(typed))}`);
  await page.waitForSelector("#fields .field");
  check((await page.inputValue('[id="at/tank/capacity"]')) === "a lot", "what was typed does not come over");
  check(
    (await page.locator("#notice .told").count()) === 0,
    `entries half filled in: ${await page.textContent("#notice")}`,
  );
  await context.close();
}

/** A lost connection is reported, the entries stay, and asking again works. */
async function lost(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  await open(page, base, "batch");
  await page.click("#example");
  await page.fill('[id="at/reading/brix"]', "3,7");
  await context.setOffline(true);
  await page.click("#ask");
  await page.waitForSelector("#notice .told");
  check((await page.textContent("#notice")).includes("No connection"), "a lost connection is not said");
  check((await page.inputValue('[id="at/reading/brix"]')) === "3,7", "the entries are gone");
  await context.setOffline(false);
  await answered(page, () => page.click("#notice button"));
  await context.close();
}

/** A server that fails, is gone or does not answer while the page or a task is loading. */
async function late(browser, base) {
  const { context, page } = await fresh(browser, base);
  // A twentieth of the page's time limit.
  await page.addInitScript(() => {
    const timeout = AbortSignal.timeout.bind(AbortSignal);
    AbortSignal.timeout = (wait) => timeout(wait / 20);
  });
  const told = async () => {
    await page.waitForSelector("#notice .told");
    return page.textContent("#notice .told");
  };
  for (const [how, behave, said] of [
    [
      "fails",
      (route) => route.fulfill({ status: 500, contentType: "text/html", body: "<h1>oh</h1>" }),
      "status 500",
    ],
    ["is gone", (route) => route.abort(), "No connection"],
    ["keeps silent", () => {}, "in time"],
  ]) {
    await page.goto("about:blank");
    await context.route("**/page/forms.json", behave);
    await page.goto(`${base}/#top-up`);
    check((await told()).includes(said), `a server that ${how} at the start: ${await told()}`);
    check(!(await page.isVisible("#ask")), `a server that ${how}: there is a button and no form`);
    await context.unroute("**/page/forms.json");
    await page.click("#notice button");
    await page.waitForSelector("#fields .field");
    check((await page.textContent("#notice")) === "", "what was wrong before is still said");

    await page.fill('[id="at/sump/volume"]', "31,5");
    await context.route("**/v1/recharge/example", behave);
    await page.click("#tasks a[href='#recharge']");
    check((await told()).includes(said), `a server that ${how} before a task: ${await told()}`);
    check(
      (await page.textContent("#fields")) === "" && !(await page.isVisible("#ask")),
      `a server that ${how}: the form of the task before is still there`,
    );
    // A different task is open by the time this one is given up.
    await page.click("#notice button");
    await page.click("#tasks a[href='#forecast']");
    await page.waitForSelector("#fields .field");
    await page.waitForTimeout(3500);
    check(
      (await page.textContent("#title")) === "Forecast" &&
        (await page.locator("#notice .told").count()) === 0,
      `a task that was left speaks up: ${await page.textContent("#notice")}`,
    );
    await context.unroute("**/v1/recharge/example");
    await page.click("#tasks a[href='#recharge']");
    await page.waitForSelector("#fields .field");
  }
  await context.close();
}

/** An answer that no longer fits its entries is marked; the printed page has both and no buttons. */
async function stale(browser, base) {
  const { context, page } = await fresh(browser, base, "tablet");
  await open(page, base, "batch");
  await page.click("#example");
  await answered(page);
  check((await page.locator(".stale").count()) === 0, "a fresh answer is called out of date");
  await page.fill('[id="at/reading/brix"]', "4");
  check(await page.isVisible(".stale"), "an answer to other entries is not called out of date");
  await answered(page);
  check((await page.locator(".stale").count()) === 0, "a fresh answer is called out of date");
  await page.emulateMedia({ media: "print" });
  const printed = await page.innerText("#answer");
  for (const one of ["Too weak", "What to do", "Take care"])
    check(printed.includes(one), `the printed page lacks ${one}`);
  await printsNoControls(page, "batch");
  // A reading by another method: 3.1 mL of 100 mL with 62 % of oil is 5 %.
  await pick(page, "/reading/method", "acid_split");
  for (const [name, value] of [
    ["sample_ml", "100"],
    ["split_ml", "3,1"],
    ["oil_share", "62"],
  ])
    await page.fill(`[id="at/reading/${name}"]`, value);
  await answered(page);
  check(
    (await page.textContent(".statement")).includes("Too weak: 5\u00a0%"),
    `acid split: ${await page.textContent(".statement")}`,
  );
  await page.goto(`${base}/#no-such-task`);
  await page.waitForSelector("#notice .told");
  check(
    (await page.textContent("#notice")).includes("no-such-task"),
    "an unknown task is not said to be unknown",
  );
  await context.close();
}

/** The policy is enforced, on the page and on a job sheet. */
async function policy(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "recharge");
  const done = await page.evaluate(async () => {
    const violated = [];
    document.addEventListener("securitypolicyviolation", (event) => violated.push(event.effectiveDirective));
    const script = document.createElement("script");
    script.textContent = "window.ran = true";
    document.body.append(script);
    const line = document.createElement("p");
    line.setAttribute("style", "color: red");
    line.setAttribute("onclick", "window.ran = true");
    document.body.append(line);
    line.click();
    // A closed port of this machine: the policy must stop the request before it is sent.
    const left = await fetch("http://127.0.0.1:9/").then(
      () => true,
      () => false,
    );
    await new Promise((next) => {
      setTimeout(next, 100);
    });
    return { ran: window.ran === true, left, violated, colour: getComputedStyle(line).color };
  });
  check(
    !done.ran && !done.left && done.colour !== "rgb(255, 0, 0)",
    `the policy let something through: ${JSON.stringify(done)}`,
  );
  for (const directive of ["script-src-elem", "script-src-attr", "style-src-attr", "connect-src"]) {
    check(done.violated.includes(directive), `the policy says nothing of ${directive}: ${done.violated}`);
  }
  await page.click("#example");
  await answered(page);
  await printsNoControls(page, "recharge");
  const [sheet] = await Promise.all([
    context.waitForEvent("page"),
    page.click("a.button:has-text('Job sheet')"),
  ]);
  await sheet.waitForSelector("h1");
  const size = await sheet.$eval("h1", (heading) => getComputedStyle(heading).fontSize);
  check(
    (await sheet.textContent("h1")).startsWith("Job sheet: recharge") && size === "16px",
    `the job sheet has lost its style: ${size}`,
  );
  await context.close();
}

/** Numbers as people type them. */
async function numbers(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "batch");
  const wrong = await page.evaluate(async () => {
    const { read, written } = await import("/page/units.js");
    const typed = {
      5.6: 5.6,
      "5,6": 5.6,
      " 1200 ": 1200,
      "1 200": 1200,
      "1 200,5": 1200.5,
      "1,200.5": 1200.5,
      "1.200,5": 1200.5,
      "1.234.567": 1234567,
      "1,234,567": 1234567,
      "0,125": 0.125,
      0.125: 0.125,
      "1.3400": 1.34,
      1500.125: 1500.125,
      ".5": 0.5,
      ",5": 0.5,
      "−3": -3,
      "-3": -3,
      "1e3": 1000,
      "5.": 5,
      "": undefined,
      "1,200": "1,200",
      "1.200": "1.200",
      "-1.200": "-1.200",
      651.915: "651.915",
      "5,6,7": "5,6,7",
      "1.2,3.4": "1.2,3.4",
      "12,34.5": "12,34.5",
      abc: "abc",
      "5 %": "5 %",
    };
    // If reading the mark as thousands exceeds the range, it is a decimal mark.
    const upTo100 = { "1.340": 1.34, "1,340": 1.34, 5.125: 5.125, 0.125: 0.125 };
    const misread = Object.entries(upTo100).filter(
      ([text, number]) =>
        read(text, 100) !== number || read(text, 1e6) !== (text.startsWith("0") ? number : text),
    );
    // One of the units of a place may stand behind its number.
    const litres = ["L", "litres"];
    const share = ["% by volume", "%"];
    const withUnits = [
      ["3,4 %", share, 3.4],
      ["3.4% by volume", share, 3.4],
      ["12 L", litres, 12],
      ["12litres", litres, 12],
      ["3'400", litres, 3400],
      ["1 200,5 L", litres, 1200.5],
      ["1.500 L", litres, "1.500 L"],
      ["1,500 L", litres, "1,500 L"],
      ["12 gal", litres, "12 gal"],
      ["L", litres, "L"],
      ["12 L", share, "12 L"],
    ];
    for (const [text, units, number] of withUnits) {
      const got = read(text, 1e9, units);
      if (got !== number) return [`${text} in ${units[0]} → ${got}`];
    }
    // What is written into a file is read back.
    for (const number of [651.915, 0.125, 1500, -1.234, 1e-7, 5e21, 1234.5678]) {
      if (read(written(number)) !== number) return [`${written(number)} for ${number}`];
    }
    if (misread.length > 0)
      return misread.map(
        ([text]) => `${text} up to 100 → ${read(text, 100)}, up to a million → ${read(text, 1e6)}`,
      );
    return Object.entries(typed)
      .filter(([text, number]) => read(text) !== number)
      .map(([text]) => `${text} → ${read(text)}`);
  });
  check(wrong.length === 0, `numbers misread: ${wrong.join("; ")}`);
  await context.close();
}

module.exports = { links, misshapen, lost, late, stale, policy, numbers };
