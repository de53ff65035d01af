// The focus, and the announcements for a screen reader.

const { check, fresh, open, focused, audit } = require("./browser");

async function everyName(page) {
  return page.$$eval("#tasks a:not([href='#kept'])", (links) =>
    links.map((link) => link.getAttribute("href").slice(1)),
  );
}

/** Presses each kind of button and choice that changes the form, and reports where the focus was lost. */
const shaken = (page) =>
  page.evaluate(async () => {
    const host = document.querySelector("#fields");
    const lost = [];
    let pressed = 0;
    const act = (one, words, how) => {
      one.focus();
      how();
      pressed += 1;
      const now = document.activeElement;
      if (!host.contains(now) || !now.checkVisibility()) lost.push(`${words}: ${now.tagName} ${now.id}`);
    };
    const unfold = async () => {
      for (let i = 0; i < 3; i += 1) {
        host.querySelectorAll("details").forEach((one) => {
          one.open = true;
        });
        await new Promise((done) => {
          setTimeout(done, 5);
        });
      }
    };
    const kind = (words) => words.replace(/\d+/g, "#");
    const seen = new Set();
    const untried = () =>
      [...host.querySelectorAll("button")].find(
        (one) => one.checkVisibility() && !seen.has(kind(one.textContent)),
      );
    for (;;) {
      if (!untried()) await unfold();
      const button = untried();
      if (!button) break;
      seen.add(kind(button.textContent));
      const name = button.parentElement.querySelector("input[id^=name]");
      if (name && button.textContent === "Add") {
        name.value = "nitrite";
        name.dispatchEvent(new Event("input"));
      }
      act(button, button.textContent, () => button.click());
    }
    await unfold();
    for (const id of [...host.querySelectorAll("select, input[type=radio]:not(:checked)")].map(
      (one) => one.id,
    )) {
      const one = document.getElementById(id);
      if (!one?.checkVisibility() || seen.has(kind(id))) continue;
      seen.add(kind(id));
      act(one, id, () => {
        if (one.matches("select")) {
          one.value = [...one.options].at(-1).value;
          one.dispatchEvent(new Event("change"));
        } else one.click();
      });
      const now = document.activeElement;
      if (now.id !== id) lost.push(`${id} led to ${now.id || now.textContent.slice(0, 30)}`);
    }
    return { lost, pressed };
  });

/** No change of the page loses the focus. */
async function focus(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "");
  let pressed = 0;
  for (const task of await everyName(page)) {
    await page.focus(`#tasks a[href='#${task}']`);
    await page.keyboard.press("Enter");
    await page.waitForSelector(`#tasks a[href='#${task}'][aria-current]`);
    await page.waitForSelector("#fields .field");
    check(
      (await focused(page)) === "title",
      `${task}: after the menu the focus is on ${await focused(page)}`,
    );
    for (const filled of [false, true]) {
      if (filled) await page.click("#example");
      const found = await shaken(page);
      pressed += found.pressed;
      check(found.lost.length === 0, `${task}: the focus is lost by ${found.lost.slice(0, 4).join("; ")}`);
    }
  }
  check(pressed > 100, `only ${pressed} buttons and choices were tried`);
  console.log(`${pressed} buttons and choices keep the focus`);
  await context.close();

  const phone = await fresh(browser, base, "phone");
  await open(phone.page, base, "batch");
  await phone.page.click("#menu summary");
  await phone.page.focus("#tasks a[href='#recharge']");
  await phone.page.keyboard.press("Enter");
  await phone.page.waitForSelector("#title:text-is('Recharge round')");
  check(
    (await focused(phone.page)) === "title",
    `on a phone the menu leaves the focus on ${await focused(phone.page)}`,
  );
  // A group that the keyboard has focused is visibly marked.
  await open(phone.page, base, "top-up");
  await phone.page.evaluate(() =>
    document.querySelectorAll("#fields details").forEach((one) => {
      one.open = true;
    }),
  );
  await phone.page.focus("button:has-text('Add: stocks')");
  await phone.page.keyboard.press("Enter");
  const outlined = await phone.page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle);
  check(
    (await focused(phone.page)) === "at/stocks" && outlined === "solid",
    `a new group is not outlined: ${outlined}`,
  );
  await phone.context.close();
}

/** Hints and faults are linked to their fields and choices. */
async function heard(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "");
  let choices = 0;
  for (const task of await everyName(page)) {
    await open(page, base, task);
    check(
      (await page.$eval("#status", (status) => getComputedStyle(status).display)) !== "none",
      "what is said on the way is not listened to",
    );
    await page.click("#clear");
    await page.evaluate(() =>
      document.querySelectorAll("#fields details").forEach((one) => {
        one.open = true;
      }),
    );
    await page.click("#ask");
    await page.waitForSelector(":is(#notice .told, #answered)", { state: "attached" });
    const found = await page.evaluate(() => {
      const wrong = [];
      let said = 0;
      for (const one of document.querySelectorAll(
        "#fields :is([role=radiogroup], select, input:not([type=radio], [id^=name]))",
      )) {
        const ids = (one.getAttribute("aria-describedby") ?? "").split(" ");
        const own = one.id.replace(/^at/, "fault");
        if (!ids.includes(own) || ids.some((id) => !document.getElementById(id)))
          wrong.push(`${one.id} is described by ${ids}`);
        const faulty = document.getElementById(own)?.textContent !== "";
        if (faulty !== (one.getAttribute("aria-invalid") === "true"))
          wrong.push(`${one.id} is ${faulty ? "not marked" : "marked"}`);
        if (faulty && !one.matches("input")) said += 1;
      }
      const now = document.activeElement;
      const first = document.querySelector("#fields [aria-invalid]");
      if (first && !first.contains(now) && !now.matches("summary"))
        wrong.push(`the focus is on ${now.id || now.tagName}, not in ${first.id}`);
      return { wrong, said };
    });
    choices += found.said;
    check(found.wrong.length === 0, `${task}: ${found.wrong.slice(0, 4).join("; ")}`);
  }
  console.log(`${choices} choices that were not made are said to be missing`);
  check(choices > 0, "no choice was found to be missing");
  await context.close();

  // A choice with a fault, as an audit sees it.
  const other = await fresh(browser, base);
  await open(other.page, base, "batch");
  await other.page.evaluate(() =>
    document.querySelectorAll("[role=radiogroup]").forEach((one) => one.setAttribute("aria-invalid", "true")),
  );
  await audit(other.page, "batch with choices marked");
  await other.context.close();
}

module.exports = { focus, heard };
