// The morning round: a table of machines pasted, asked at once, and the list of the day.

const { readFileSync } = require("node:fs");
const { answered, audit, check, fresh, layout, open, put, refused, statementInView } = require("./browser");
const { cellOf, entries, paste, tsv } = require("./cells");
const { keep, stored } = require("./kept-help");

const HEADINGS = ["Machine", "Brix", "Factor", "Low", "Target", "High", "pH", "Dip slide", "Nitrite"];
const SEEN = ["Smell", "Look", "Foam", "Rust", "Complaints"];
const READ = ["5.2", "1.25", "5.5", "6.5", "7.5", "9", "1000", "2"];
const GOOD = ["fresh", "as new", "none", "none", "no"];

/** A row of an invented machine; what is not said of it is good. `read` and `seen` say the rest by their place. */
function machine(name, { read = {}, seen = {} } = {}) {
  const of = (usual, own) => usual.map((text, i) => own[i] ?? text);
  return [name, ...of(READ, read), ...of(GOOD, seen)];
}

/** Twelve machines of an invented shop, one that wants each thing, in no order. */
const MACHINES = [
  machine("lathe 1"),
  machine("lathe 2", { seen: { 1: "oil on top" } }),
  machine("lathe 3", { seen: { 4: "yes" } }),
  machine("mill 4", { read: { 0: "4.1" } }),
  machine("mill 5", { seen: { 2: "over the edge" } }),
  machine("mill 6", { seen: { 1: "split" } }),
  machine("mill 7", { seen: { 1: "slimy" } }),
  machine("grinder 8", { seen: { 3: "on parts" } }),
  machine("grinder 9", { seen: { 0: "musty" } }),
  machine("saw 10", { seen: { 1: "darker" } }),
  machine("saw 11", { read: { 5: "19" } }),
  machine("saw 12"),
];

/** What comes back, by the table of rules that the question's documentation has: under each heading what reaches
 *  furthest comes first. */
const LIST = {
  Today: ["lathe 3: Stop and ask", "mill 5: Dose: defoamer", "grinder 8: Top up"],
  "In the next days": [
    "mill 6: Dispose, within a day",
    "mill 7: Clean out, within 7 days",
    "saw 10: Recycle, within 14 days",
    "lathe 2: Skim, within 7 days",
    "grinder 9: Circulate, within a day",
    "mill 4: Top up, within a day",
  ],
  "Carry on": ["lathe 1: Carry on", "saw 12: Carry on"],
  "No answer": ["saw 11: "],
};

/** The list on the screen: under each heading the machines with the first word of each. */
const listed = (page) =>
  page.$$eval("#answer .round", (lists) =>
    Object.fromEntries(
      lists.map((list) => [
        list.previousElementSibling.textContent,
        [...list.children].map(
          (one) =>
            `${one.querySelector("h4").textContent}: ${one.querySelector(".verdict")?.textContent ?? ""}`,
        ),
      ]),
    ),
  );

const headline = (page) => page.textContent("#statement").then((text) => text.replaceAll("\u00a0", " "));

/** Pastes the twelve machines into the empty table. */
async function pastedIn(page, base) {
  await open(page, base, "morning");
  await cellOf(page, "/machines/0/name").click();
  await paste(page, tsv([[...HEADINGS, ...SEEN], ...MACHINES]));
  const said = await page.textContent(".grid-said");
  check(said === "12 rows entered.", `after pasting a round: ${said}`);
}

/** Twelve machines pasted and asked in one request; the most urgent comes first, and what has no answer says why. */
async function asked(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const requests = [];
  context.on("request", (one) => {
    if (one.method() === "POST") requests.push(one);
  });
  await pastedIn(page, base);
  await answered(page);
  check(requests.length === 1, `a round of 12 machines makes ${requests.length} requests`);
  const lines = requests[0].postData().trim().split("\n").map(JSON.parse);
  check(
    requests[0].url().endsWith("/v1/condition") && lines.length === 12,
    `${lines.length} machines are asked at ${requests[0].url()}`,
  );
  const wanted = {
    units: "metric",
    reference: "lathe 2",
    reading: { method: "refractometer", brix: 5.2, factor: 1.25 },
    band: { low: 5.5, target: 6.5, high: 7.5 },
    ph: { now: 9 },
    bacteria: { count: 1000 },
    nitrite: { content: 2 },
    smell: "fresh",
    look: "oil_on_top",
    foam: "none",
    rust: "none",
    skin_complaints: false,
  };
  for (const [name, value] of Object.entries(wanted))
    check(
      JSON.stringify(lines[1][name]) === JSON.stringify(value),
      `of lathe 2, ${name} is asked as ${JSON.stringify(lines[1][name])}`,
    );
  const list = await listed(page);
  check(`${Object.keys(list)}` === `${Object.keys(LIST)}`, `the list has ${Object.keys(list)}`);
  for (const [title, rows] of Object.entries(LIST)) {
    const found = list[title] ?? [];
    const same = found.length === rows.length && rows.every((row, i) => found[i].startsWith(row));
    check(same, `${title}: ${found.join("; ")}`);
  }
  const said = await headline(page);
  check(
    said.includes("3 of 12 machines want something today: begin with lathe 3.") &&
      said.includes("1 machine has no answer"),
    `the round says: ${said}`,
  );
  await statementInView(page, "a round of 12", 40);
  await layout(page, "a round of 12");
  await audit(page, "a round of 12");

  // What has no answer says why in its row, and leads there.
  const why = await page.textContent(`[id="fault/machines/10/ph"]`);
  check(/from 0 to 14/.test(why), `beside a pH of 19 stands “${why}”`);
  await page.click("button:has-text('To the row of saw 11')");
  const here = await page.evaluate(() => document.activeElement.id);
  check(here === "at/machines/10/ph", `the way to the row leads to ${here}`);
  await put(page, cellOf(page, "/machines/10/ph"), "9");
  // A number that cannot be read keeps back its own row alone, and so does a machine without a name.
  await put(page, cellOf(page, "/machines/0/ph"), "abc");
  await put(page, cellOf(page, "/machines/11/name"), "");
  await answered(page);
  const next = await listed(page);
  check(`${next["No answer"]}` === "lathe 1: ,row 12: ", `without an answer are ${next["No answer"]}`);
  check(`${next["Carry on"]}` === "saw 11: Carry on", `a corrected row: ${next["Carry on"]}`);
  await context.close();
}

/** A round goes to a workbook and to CSV and comes back as it was. */
async function toAFile(browser, base) {
  const { context, page } = await fresh(browser, base);
  await pastedIn(page, base);
  const before = JSON.stringify((await entries(page)).machines);
  for (const kind of ["a workbook", "CSV"]) {
    const [saved] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: `Save as ${kind}` }).click(),
    ]);
    const buffer = readFileSync(await saved.path());
    await page.click("#clear");
    await page.locator(".grid input[type=file]").setInputFiles({
      name: saved.suggestedFilename(),
      mimeType: "application/octet-stream",
      buffer,
    });
    await page.waitForFunction(() => document.querySelector(".grid-said").textContent !== "");
    const said = await page.textContent(".grid-said");
    check(said === "12 rows entered.", `a round from ${kind}: ${said}`);
    const after = JSON.stringify((await entries(page)).machines);
    check(after === before, `a round from ${kind} is another one: ${after.slice(0, 200)}`);
  }
  await context.close();
}

/** The list on paper: one sheet, with a box to tick for each machine. */
async function onPaper(browser, base) {
  const { context, page } = await fresh(browser, base);
  await pastedIn(page, base);
  await answered(page);
  await layout(page, "a round on a desk");
  const margin = Object.fromEntries(["top", "right", "bottom", "left"].map((side) => [side, "10mm"]));
  const pdf = (await page.pdf({ format: "A4", margin })).toString("latin1");
  const sheets = pdf.match(/\/Type\s*\/Page\b/g).length;
  check(sheets === 1, `a round of 12 is printed on ${sheets} sheets`);
  const boxes = () =>
    page.$$eval("#answer .tick", (all) => all.filter((one) => one.checkVisibility()).length);
  check((await boxes()) === 0, "boxes to tick are shown on the screen");
  await page.emulateMedia({ media: "print" });
  check((await boxes()) === 12, `${await boxes()} boxes to tick are printed`);
  await page.emulateMedia({ media: "screen" });

  // From a machine to its condition alone, and back to the list, which the address has after a moment.
  await entries(page);
  await page.click("a:has-text('Condition of mill 7')");
  await page.waitForFunction(() => document.querySelector("#title")?.textContent === "Fluid condition");
  await page.waitForSelector("#answered", { state: "attached" });
  check((await headline(page)).startsWith("mill 7"), `a machine alone: ${await headline(page)}`);
  const alone = await entries(page);
  check(alone.look === "slimy" && alone.ph.now === 9, `asked alone with ${JSON.stringify(alone)}`);
  await page.goBack();
  await page.waitForSelector("#answer .round");
  check(Object.keys(await listed(page)).length === 4, "the list is gone on the way back");
  await context.close();
}

/** Rows in which nothing was seen are no answers; a table of them is refused. */
async function unseen(browser, base) {
  const { context, page } = await fresh(browser, base);
  await open(page, base, "morning");
  await refused(page);
  check((await page.textContent("#notice")).length > 20, "an empty round is not refused in words");
  await cellOf(page, "/machines/0/name").click();
  await paste(
    page,
    tsv([
      ["Machine", "Factor", "Low", "Target", "High", "Smell"],
      ["lathe 1", "1.25", "5.5", "6.5", "7.5", "fresh"],
      ["lathe 2", "1.25", "5.5", "6.5", "7.5", ""],
    ]),
  );
  await answered(page);
  const said = await headline(page);
  check(
    said.includes("lathe 1 carries on") && said.includes("1 machine was not looked at"),
    `one seen: ${said}`,
  );
  check((await page.textContent("#answer")).includes("Not looked at"), "nothing says which was not seen");
  await context.close();
}

/** What the device keeps fills in rows, so that only what was read is typed; readings go into the history. */
async function fromKept(browser, base) {
  const { context, page } = await fresh(browser, base, "phone");
  const { id, name } = await keep(page, base);
  await open(page, base, "morning");
  await put(page, cellOf(page, "/machines/0/name"), "saw 12");
  await put(page, cellOf(page, "/machines/0/smell"), "musty");
  await page.click("#from-kept");
  const filled = await entries(page);
  check(
    filled.machines.length === 2 && filled.machines[0].name === "saw 12",
    `filled in to ${JSON.stringify(filled.machines)}`,
  );
  const { reading, band, ...rest } = filled.machines[1];
  check(rest.name === name, `the kept machine is called ${rest.name}`);
  check(reading.method === "refractometer" && reading.factor === 1.25, JSON.stringify(reading));
  check(`${Object.values(band)}` === "7,8,9", `its band is ${JSON.stringify(band)}`);
  await page.click(".undo button:has-text('Undo')");
  check((await entries(page)).machines.length === 1, "filling in is not taken back");
  await page.click("#from-kept");
  const here = await page.evaluate(() => document.activeElement.id);
  check(here === "at/machines/1/reading/brix", `after filling in, ${here} has the focus`);
  await page.keyboard.type("5.2");
  await page.keyboard.press("Enter");
  await answered(page);
  // By hand: 5.2 × 1.25 = 6.5 %, which is below 7 % by less than a quarter of it.
  const list = await listed(page);
  check(
    `${list["In the next days"]}` === `saw 12: Circulate, within a day,${name}: Top up, within a day`,
    `the list of a kept machine: ${JSON.stringify(list)}`,
  );
  await page.click("#round-noted");
  await page.waitForSelector("#round-noted", { state: "hidden" });
  const { checks } = await stored(page);
  check(
    checks.length === 1 &&
      checks[0].place === id &&
      Math.abs(checks[0].concentration - 6.5) < 1e-9 &&
      checks[0].standing === "below",
    `written into the history: ${JSON.stringify(checks)}`,
  );
  await audit(page, "a round with a kept machine");
  await page.goto("about:blank");
  await page.goto(`${base}/#kept/${id}/history`);
  await page.waitForSelector("#kept-title");
  check((await page.textContent("#kept-screen")).includes("5.2"), "the history does not show the reading");
  await context.close();
}

/** All of it. */
async function morningRound(browser, base) {
  await asked(browser, base);
  await toAFile(browser, base);
  await onPaper(browser, base);
  await unseen(browser, base);
  await fromKept(browser, base);
}

module.exports = { morningRound };
