// Around the answers: entries that stay, what is taken back, links that lead nowhere, a phone held sideways, paper.

const { answered, check, fresh, open } = require("./browser");
const { names } = require("./tasks");

/** Entries stay while other tasks are open, and what replaces all of them is taken back by one tap. */
async function remembered(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const brix = () => page.inputValue('[id="at/reading/brix"]');
  await open(page, base, "batch");
  await page.fill('[id="at/reading/brix"]', "4,7");
  for (const task of ["top-up", "batch"]) {
    await page.evaluate((name) => document.querySelector(`#tasks a[href='#${name}']`).click(), task);
    await page.waitForFunction((name) => location.hash.startsWith(`#${name}`), task);
    await page.waitForSelector("#fields .field");
  }
  check((await brix()) === "4.7", `after another task the reading is ${await brix()}`);
  for (const [button, then] of [
    ["#example", "3.4"],
    ["#clear", ""],
  ]) {
    await page.click(button);
    check((await brix()) === then, `after ${button} the reading is ${await brix()}`);
    await page.click(".undo button:has-text('Undo')");
    check((await brix()) === "4.7", `${button} is not taken back: the reading is ${await brix()}`);
  }
  await context.close();
}

/** A picture is asked for once, in the width that it has. */
async function drawnOnce(browser, base) {
  for (const width of ["phone", "desk"]) {
    const { context, page } = await fresh(browser, base, width);
    const widths = [];
    page.on("request", (request) => {
      const asked = new URL(request.url()).searchParams.get("width");
      if (asked) widths.push(Number(asked));
    });
    await open(page, base, "top-up");
    await page.click("#example");
    await answered(page);
    await page.waitForSelector(".picture svg");
    await page.waitForTimeout(700);
    const room = await page.$eval(".picture", (one) => one.clientWidth);
    check(`${widths}` === `${room}`, `on a ${width} a picture of ${room} px is asked for as ${widths}`);
    await context.close();
  }
}

/** Whether all of an element is on the screen, with nothing over it. */
const inView = (page, selector) =>
  page.$eval(selector, (one) => {
    const { left, right, top, bottom } = one.getBoundingClientRect();
    const middle = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
    return top >= 0 && bottom <= innerHeight && (one.contains(middle) || middle?.contains(one));
  });

/** A link that leads nowhere is told of where it is seen at once. */
async function astray(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  for (const link of ["#nonsense", "#batch=%7B%22uni", "#kept/nobody", "#place=1;x;y"]) {
    await page.goto("about:blank");
    await page.goto(`${base}/${link}`);
    const said = "#notice .told, #kept-screen [role=alert]";
    await page.waitForSelector(said);
    check(await inView(page, said), `what is said of ${link} is out of sight`);
  }
  await context.close();
}

/** Held sideways, a phone shows a field to fill in. */
async function sideways(browser, base) {
  const { context, page } = await fresh(browser, base, "phone", { viewport: { width: 740, height: 360 } });
  for (const task of await names(browser, base)) {
    await open(page, base, task);
    const first = "#fields :is(input, select, [role=gridcell])";
    check(await inView(page, first), `${task}: no field is in sight on a phone held sideways`);
  }
  await context.close();
}

/** Answers whose pictures, findings and cautions would be too small to read on one sheet. */
const TWO_SHEETS = ["calendar", "disposal", "cost-comparison", "fluid-loop"];

/** An answer is printed on one sheet of A4, with its entries and its figures left out. */
async function printed(browser, base) {
  const { context, page } = await fresh(browser, base);
  const margin = Object.fromEntries(["top", "right", "bottom", "left"].map((side) => [side, "10mm"]));
  for (const task of await names(browser, base)) {
    await open(page, base, task);
    await page.click("#example");
    if (!(await answered(page))) continue;
    await page.waitForLoadState("networkidle");
    const pdf = (await page.pdf({ format: "A4", margin })).toString("latin1");
    const sheets = pdf.match(/\/Type\s*\/Page\b/g).length;
    check(
      sheets <= (TWO_SHEETS.includes(task) ? 2 : 1),
      `${task}: the answer is printed on ${sheets} sheets`,
    );
  }
  await context.close();
}

module.exports = { astray, drawnOnce, printed, remembered, sideways };
