// The page as a whole: links, a lost connection, the policy, weight and speed.

const { check, fresh, open, answered, shownJson } = require("./browser");

/** A link carries the entries to another browser; a broken one says so. */
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
  const asked = await shownJson(from.page, "Request as JSON");
  check(asked.sump.volume === 31.5, "what was typed was not asked");
  const kept = await from.page.evaluate(() => JSON.stringify({ ...localStorage, ...sessionStorage }) + document.cookie);
  check(kept === '{"units":"us"}', `the browser keeps ${kept}`);

  const to = await fresh(browser, base, "phone");
  await to.page.goto(link);
  await to.page.waitForSelector("#fields .field");
  await answered(to.page);
  const sorted = (document) => JSON.stringify(document, (_, one) =>
    (one && typeof one === "object" && !Array.isArray(one) ? Object.fromEntries(Object.entries(one).sort()) : one));
  check(sorted(await shownJson(to.page, "Request as JSON")) === sorted(asked), "the link does not carry the entries");
  await to.page.reload();
  await to.page.waitForSelector("#fields .field");
  check(await to.page.inputValue('[id="at/sump/volume"]') === "31.5", "the entries are gone after reloading");
  await to.page.goto("about:blank");
  await to.page.goto(link.slice(0, -20));
  await to.page.waitForSelector("#answer .told");
  check((await to.page.textContent("#answer")).includes("cannot be read"), "a broken link is not said to be broken");
  await from.context.close();
  await to.context.close();
}

/** A lost connection is said, the entries stay, and asking again works. */
async function lost(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  await open(page, base, "batch");
  await page.click("#example");
  await page.fill('[id="at/reading/brix"]', "3,7");
  await context.setOffline(true);
  await page.click("#ask");
  await page.waitForSelector("#answer .told");
  check((await page.textContent("#answer")).includes("No connection"), "a lost connection is not said");
  check(await page.inputValue('[id="at/reading/brix"]') === "3,7", "the entries are gone");
  await context.setOffline(false);
  await answered(page, () => page.click("#answer button"));
  await context.close();
}

/** An answer that no longer fits its entries says so; the printed page has both and no buttons. */
async function stale(browser, base) {
  const { context, page } = await fresh(browser, base, "tablet");
  await open(page, base, "batch");
  await page.click("#example");
  await answered(page);
  check(await page.locator(".stale").count() === 0, "a fresh answer is called out of date");
  await page.fill('[id="at/reading/brix"]', "4");
  check(await page.isVisible(".stale"), "an answer to other entries is not called out of date");
  await answered(page);
  check(await page.locator(".stale").count() === 0, "a fresh answer is called out of date");
  await page.emulateMedia({ media: "print" });
  const printed = await page.innerText("#answer");
  for (const one of ["What was asked", "Brix", "Too weak", "Take care"]) check(printed.includes(one), `the printed page lacks ${one}`);
  check(!await page.isVisible("button >> nth=0") && !await page.isVisible("#form"), "the printed page has buttons");
  await page.emulateMedia({ media: "screen" });
  // A reading by another method: 3.1 mL of 100 mL with 62 % of oil is 5 %.
  await page.click("[id='at/reading/method:acid_split']");
  for (const [name, value] of [["sample_ml", "100"], ["split_ml", "3,1"], ["oil_share", "62"]]) await page.fill(`[id="at/reading/${name}"]`, value);
  await answered(page);
  check((await page.textContent(".statement")).includes("It is at 5\u00a0%"), `acid split: ${await page.textContent(".statement")}`);
  await page.goto(`${base}/#no-such-task`);
  await page.waitForSelector("#answer .told");
  check((await page.textContent("#answer")).includes("no-such-task"), "an unknown task is not said to be unknown");
  await context.close();
}

/** What the policy forbids does not happen, on the page and on a job sheet. */
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
    // A port of this machine where nobody is: the policy must stop it before it leaves.
    const left = await fetch("http://127.0.0.1:9/").then(() => true, () => false);
    await new Promise((next) => { setTimeout(next, 100); });
    return { ran: window.ran === true, left, violated, colour: getComputedStyle(line).color };
  });
  check(!done.ran && !done.left && done.colour !== "rgb(255, 0, 0)", `the policy let something through: ${JSON.stringify(done)}`);
  for (const directive of ["script-src-elem", "script-src-attr", "style-src-attr", "connect-src"]) {
    check(done.violated.includes(directive), `the policy says nothing of ${directive}: ${done.violated}`);
  }
  await page.click("#example");
  await answered(page);
  const [sheet] = await Promise.all([context.waitForEvent("page"), page.click("a.button:has-text('Job sheet')")]);
  await sheet.waitForSelector("h1");
  const size = await sheet.$eval("h1", (heading) => getComputedStyle(heading).fontSize);
  check((await sheet.textContent("h1")).startsWith("Job sheet: recharge") && size === "18px", `the job sheet has lost its style: ${size}`);
  await context.close();
}

/** Bytes over the wire until the first answer, and the time from the tap to it. */
async function figures(browser, base) {
  const { context, page } = await fresh(browser, base, "tablet");
  const wire = await context.newCDPSession(page);
  await wire.send("Network.enable");
  let bytes = 0;
  wire.on("Network.loadingFinished", (event) => { bytes += event.encodedDataLength; });
  await open(page, base, "batch");
  await page.click("#example");
  const times = [];
  for (let i = 0; i < 7; i += 1) {
    times.push(await page.evaluate(() => new Promise((done) => {
      const answer = document.querySelector("#answer");
      answer.replaceChildren();
      const start = performance.now();
      const watch = new MutationObserver(() => {
        if (!answer.querySelector(".answered")) return;
        watch.disconnect();
        requestAnimationFrame(() => done(performance.now() - start));
      });
      watch.observe(answer, { childList: true });
      document.querySelector("#ask").click();
    })));
  }
  await page.waitForTimeout(200);
  console.log(`weight until the first answer: ${(bytes / 1000).toFixed(1)} kB over the wire`);
  console.log(`from the tap to the answer: first ${times[0].toFixed(0)} ms, then ${times.slice(1).map((time) => time.toFixed(0)).join(", ")} ms`);
  check(bytes > 10000 && bytes < 150000, `the page weighs ${bytes} bytes`);
  check(times[0] < 1000, `the first answer took ${times[0]} ms`);
  await context.close();
}

/** Numbers as people type them. */
async function numbers(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "batch");
  const wrong = await page.evaluate(async () => {
    const { read } = await import("/page/units.js");
    const typed = {
      "5.6": 5.6, "5,6": 5.6, " 1200 ": 1200, "1 200": 1200, "1 200,5": 1200.5, "1,200.5": 1200.5, "1.200,5": 1200.5,
      "1.234.567": 1234567, "1,234,567": 1234567, "0,125": 0.125, "1.340": 1.34, ".5": 0.5, ",5": 0.5, "−3": -3, "-3": -3,
      "1e3": 1000, "5.": 5, "": undefined, "1,200": "1,200", "5,6,7": "5,6,7", "1.2,3.4": "1.2,3.4", "12,34.5": "12,34.5", abc: "abc", "5 %": "5 %",
    };
    return Object.entries(typed).filter(([text, number]) => read(text) !== number).map(([text]) => `${text} → ${read(text)}`);
  });
  check(wrong.length === 0, `numbers misread: ${wrong.join("; ")}`);
  await context.close();
}

module.exports = { links, lost, stale, policy, figures, numbers };
