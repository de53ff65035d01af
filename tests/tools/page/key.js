// A service that needs a key.

const { decoded } = require("./kept-help");
const { check, fresh, open, answered, audit, layout, focused } = require("./browser");

/** A proxy before the service that lets requests with the key through. */
async function guard(context, lock) {
  await context.route(
    (address) => address.pathname.startsWith("/v1"),
    async (route) => {
      if (route.request().headers().authorization === `Bearer ${lock.key}`) return route.continue();
      return route.fulfill({
        status: 401,
        contentType: "application/problem+json",
        headers: { "www-authenticate": "Bearer" },
        body: JSON.stringify({
          type: "/problems/no-key",
          title: "No key",
          status: 401,
          detail: "A key is missing, or is not known.",
        }),
      });
    },
  );
}

/** Types a key, and waits until the page continues or shows the key's fault. */
async function give(page, text, wanted) {
  await page.fill("#key", text);
  await page.press("#key", "Enter");
  await page.waitForSelector(wanted);
}

const WRONG = "#key-fault:has-text('does not know')";
const memory = (page) =>
  page.evaluate(() =>
    JSON.stringify({
      local: { ...localStorage },
      tab: Object.fromEntries(
        Object.entries(sessionStorage).filter(([name]) => !name.startsWith("entries:")),
      ),
      cookie: document.cookie,
    }),
  );

/** The key is asked for in place, sent with every request, kept for the tab and in no address. */
async function key(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const lock = { key: "invented-key/0~1" };
  await guard(context, lock);
  context.on("request", (request) =>
    check(!decodeURIComponent(request.url()).includes(lock.key), `the key stands in ${request.url()}`),
  );
  await page.goto(`${base}/#top-up`);
  await page.waitForSelector("#key");
  const said = await page.textContent(".key");
  for (const one of ["only those who have a key", "in this tab only"])
    check(said.includes(one), `the page does not say “${one}”`);
  check(
    (await page.getAttribute("#key", "type")) === "password" &&
      (await page.textContent("label[for=key]")) === "Key",
    "the field for the key is not a labelled password field",
  );
  check(
    (await focused(page)) === "key" && !(await page.isVisible("#ask")),
    "the page does not wait for the key",
  );
  await layout(page, "asking for a key");
  await audit(page, "asking for a key");
  await page.fill("#key", "seen");
  await page.click("#key-eye");
  check((await page.getAttribute("#key", "type")) === "text", "the key is not shown");
  await page.click("#key-eye");
  check((await page.getAttribute("#key", "type")) === "password", "the key is not hidden again");

  for (const [text, fault] of [
    ["", "No key"],
    ["two words", "no blanks"],
    ["schlüssel", "no blanks"],
  ]) {
    await give(page, text, `#key-fault:has-text('${fault}')`);
    check((await page.getAttribute("#key", "aria-invalid")) === "true", `a key of “${text}” is not marked`);
  }
  await give(page, "wrong", WRONG);
  check(
    (await focused(page)) === "key" && (await page.getAttribute("#key", "aria-invalid")) === "true",
    "a wrong key is not reported in its field",
  );
  check(!(await memory(page)).includes("wrong"), "a wrong key is kept");
  await give(page, ` ${lock.key} `, "#fields .field");
  check(
    (await page.locator("#key").count()) === 0 && (await focused(page)) === "title",
    `after the key the focus is on ${await focused(page)}`,
  );
  await page.click("#example");
  await answered(page);
  check(
    (await memory(page)) === JSON.stringify({ local: {}, tab: { "service-key": lock.key }, cookie: "" }),
    `the browser keeps ${await memory(page)}`,
  );

  await page.reload();
  await page.waitForSelector("#fields .field");
  const other = await context.newPage();
  await other.goto(`${base}/#top-up`);
  await other.waitForSelector("#key");
  await other.close();

  // Withdrawn while somebody types: the key is asked for again, and nothing is lost.
  lock.key = "another";
  await page.click("#menu summary");
  await page.click("#tasks a[href='#batch']");
  await page.click("#example");
  await page.fill('[id="at/reading/brix"]', "3,7");
  await page.click("#ask");
  await page.waitForSelector(WRONG);
  check((await page.inputValue('[id="at/reading/brix"]')) === "3,7", "the entries are gone");
  await answered(page, () => give(page, lock.key, ".statement"));
  await page.click("#forget");
  check(
    !(await memory(page)).includes("another") && !(await page.isVisible("#forget")),
    "the key is not forgotten",
  );
  await page.click("#ask");
  await page.waitForSelector("#key");
  check((await page.textContent("#key-fault")) === "", "a missing key is called a wrong one");
  await context.close();
}

/** Job sheet and pictures, which a plain link cannot fetch with a key. */
async function taken(browser, base) {
  const { context, page } = await fresh(browser, base, "tablet");
  const lock = { key: "invented" };
  await guard(context, lock);
  await page.goto(`${base}/#recharge`);
  await page.waitForSelector("#key");
  await give(page, lock.key, "#fields .field");
  await page.click("#example");
  await answered(page);
  const press = async (words) => {
    const [tab] = await Promise.all([
      context.waitForEvent("page"),
      page.click(`button:has-text('${words}')`),
    ]);
    return tab;
  };
  const sheet = await press("Job sheet");
  await sheet.waitForSelector("h1");
  for (const when of ["opened", "loaded again"]) {
    const size = await sheet.$eval("h1", (heading) => getComputedStyle(heading).fontSize);
    check(
      (await sheet.textContent("h1")).startsWith("Job sheet: recharge") && size === "16px",
      `the job sheet, ${when}, has lost its style: ${size}`,
    );
    check(
      (await sheet.evaluate(() => document.compatMode)) === "CSS1Compat",
      `the job sheet, ${when}, is drawn by old rules`,
    );
    await sheet.reload();
  }
  await sheet.close();

  await page.evaluate(() => {
    window.open = () => null;
  });
  await page.click("button:has-text('Job sheet')");
  const [again] = await Promise.all([
    context.waitForEvent("page"),
    page.click("a:has-text('Ready: open it')"),
  ]);
  await again.waitForSelector("h1");
  await again.close();

  await open(page, base, "forecast");
  await page.click("#example");
  await answered(page);
  await page.waitForSelector("#answer .picture svg text");
  check(
    (await page.$eval("#answer .picture svg", (own) => own.getBoundingClientRect().width)) > 100,
    "the picture is not drawn",
  );
  const chart = await press("Picture to print");
  await chart.waitForSelector("svg text");
  await chart.close();

  lock.key = "another";
  await page.click("button:has-text('Picture to print')");
  await page.waitForSelector("[role=alert]:has-text('needs a key')");
  await context.close();
}

/** A key that comes by a link is used, leaves the address at once, is remembered when asked to, and handed on. */
async function handedKey(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const lock = { key: "invented-key/0~1+a" };
  await guard(context, lock);
  const sent = [];
  context.on("request", (request) => sent.push(request.url().split("#")[0]));
  await page.goto(`${base}/#key=${encodeURIComponent(lock.key)}`);
  await page.waitForSelector("#fields .field");
  check(page.url() === `${base}/`, `the key stays in the address: ${page.url()}`);
  check(!sent.join(" ").includes("invented"), "the key of the link is sent in an address");
  check((await page.textContent("#notice")).includes("in use now"), "nothing tells that the key was taken");
  await audit(page, "a key from a link");
  await layout(page, "a key from a link");
  const tab = JSON.stringify({ local: {}, tab: { "service-key": lock.key }, cookie: "" });
  check((await memory(page)) === tab, `before it is asked to the browser keeps ${await memory(page)}`);
  await page.check("#key-remember");
  const device = JSON.stringify({ local: { "service-key": lock.key }, tab: {}, cookie: "" });
  check((await memory(page)) === device, `asked to remember the browser keeps ${await memory(page)}`);

  const other = await context.newPage();
  await other.goto(`${base}/#top-up`);
  await other.waitForSelector("#fields .field");
  await other.click(".hand-over summary");
  await other.waitForSelector(".hand-over svg.qr");
  const link = await other.inputValue("#key-link");
  check(link === `${base}/#key=${encodeURIComponent(lock.key)}`, `the key is handed over by ${link}`);
  check((await decoded(browser, other, ".hand-over svg.qr")) === link, "the code does not say the link");
  check(
    (await other.textContent(".hand-over")).includes("can ask the service"),
    "nothing warns of handing a key over",
  );
  await audit(other, "handing a key over");
  await layout(other, "handing a key over");
  await other.click("#forget");
  check(!(await memory(other)).includes("invented"), "a remembered key is not forgotten");
  check((await other.locator(".hand-over").count()) === 0, "a forgotten key can be handed over");

  await other.goto("about:blank");
  await other.goto(`${base}/#key=two%20words`);
  await other.waitForSelector("#notice [role=alert]:has-text('no blanks')");
  check(!(await memory(other)).includes("two"), "a text that is no key is kept");
  await context.close();
}

module.exports = { key, taken, handedKey };
