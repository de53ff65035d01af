// Lists as workbooks of a spreadsheet: saved and opened again, and workbooks as others write them.

const { readFileSync } = require("node:fs");
const { check, fresh, open } = require("./browser");
const { cellOf, entries } = require("./cells");

const BEGINS = "504b0304"; // a packed file

/** An invented round as somebody keeps it, with what such sheets have: a title, formulas, errors, percentages, dates. */
const SHEETS = {
  Notes: [["Whatever is written here is not for machines."]],
  Round: [
    ["Round of March, invented"],
    [],
    ["Machine", "Product", "Sump holds [L]", "Strength wanted", "Chips and sludge"],
    ["lathe 9", "product A", 651.915, { percent: 0.085 }, { formula: "C4/10", value: 65.1915 }],
    [1.234, "=1+1", 120, "7,5", { formula: "1/0", error: "#DIV/0!" }],
    ["mill <2> & Söhne", "product A", 90.5, { percent: 0.07 }, { formula: "C5/10" }],
  ],
};

/** Packs sheets as the standard says, with shared strings as spreadsheets write them; runs in the page. */
async function packed(sheets) {
  const { zipSync } = await import("/page/vendored/fflate.js");
  const main = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
  const office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
  const list = "http://schemas.openxmlformats.org/package/2006/relationships";
  const strings = [];
  const plain = (text) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;");
  const cell = (value, r, c) => {
    const at = `${String.fromCharCode(65 + c)}${r + 1}`;
    if (typeof value === "number") return `<c r="${at}"><v>${value}</v></c>`;
    if (value.date !== undefined) return `<c r="${at}" s="2"><v>${value.date}</v></c>`;
    if (value.percent !== undefined) return `<c r="${at}" s="1"><v>${value.percent}</v></c>`;
    if (value.error) return `<c r="${at}" t="e"><f>${value.formula}</f><v>${value.error}</v></c>`;
    if (value.formula) return `<c r="${at}"><f>${value.formula}</f><v>${value.value ?? ""}</v></c>`;
    return `<c r="${at}" t="s"><v>${strings.push(`<si><r><t>${plain(value)}</t></r></si>`) - 1}</v></c>`;
  };
  const row = (values, r) => `<row r="${r + 1}">${values.map((one, c) => cell(one, r, c)).join("")}</row>`;
  const names = Object.keys(sheets);
  const parts = {
    "_rels/.rels": `<Relationships xmlns="${list}"><Relationship Id="a" Type="${office}/officeDocument" Target="/xl/book.xml"/></Relationships>`,
    "xl/book.xml": `<workbook ${main} xmlns:r="${office}"><sheets>${names.map((name, i) => `<sheet name="${name}" sheetId="${i + 1}" r:id="s${i}"/>`).join("")}</sheets></workbook>`,
    "xl/_rels/book.xml.rels": `<Relationships xmlns="${list}">${names.map((_, i) => `<Relationship Id="s${i}" Type="${office}/worksheet" Target="sheet${i}.xml"/>`).join("")}<Relationship Id="t" Type="${office}/sharedStrings" Target="strings.xml"/><Relationship Id="u" Type="${office}/styles" Target="styles.xml"/></Relationships>`,
    "xl/styles.xml": `<styleSheet ${main}><numFmts><numFmt numFmtId="170" formatCode="[$-407]dd\\.mm\\.yyyy hh:mm"/></numFmts><cellXfs><xf numFmtId="0"/><xf numFmtId="10"/><xf numFmtId="170"/></cellXfs></styleSheet>`,
  };
  for (const [i, name] of names.entries())
    parts[`xl/sheet${i}.xml`] =
      `<worksheet ${main}><sheetData>${sheets[name].map(row).join("")}</sheetData></worksheet>`;
  parts["xl/strings.xml"] = `<sst ${main}>${strings.join("")}</sst>`;
  const bytes = new TextEncoder();
  return [
    ...zipSync(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, bytes.encode(text)]))),
  ];
}

const told = (page) => page.locator("#fields .grid-said").first().textContent();

/** Opens bytes as a file in the first table of a form, and says what the table says of it. */
async function openFile(page, name, bytes) {
  await page.evaluate(() => document.querySelector("#fields .grid-said").replaceChildren());
  await page
    .locator("#fields .grid input[type=file]")
    .first()
    .setInputFiles({ name, mimeType: "application/octet-stream", buffer: Buffer.from(bytes) });
  await page.waitForFunction(() => document.querySelector("#fields .grid-said").textContent !== "");
  return told(page);
}

/** Moments by what they are, whatever their offset; members in an order of their own. */
const plain = (document) =>
  JSON.stringify(document, (_, one) => {
    if (typeof one === "string" && /^\d{4}-\d\d-\d\dT/.test(one)) return Date.parse(one);
    return one && typeof one === "object" && !Array.isArray(one)
      ? Object.fromEntries(Object.entries(one).sort())
      : one;
  });

/** Saved as a workbook and opened again, a list of any task is the same. */
async function thereAndBack(page, base) {
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
        grid.getByRole("button", { name: "Save as a workbook" }).click(),
      ]);
      check(file.suggestedFilename().endsWith(".xlsx"), `${task}: saved as ${file.suggestedFilename()}`);
      const bytes = readFileSync(await file.path());
      check(bytes.subarray(0, 4).toString("hex") === BEGINS, `${task}: what is saved is no workbook`);
      await grid
        .locator(".grid-said")
        .first()
        .evaluate((one) => one.replaceChildren());
      await grid.locator("input[type=file]").setInputFiles(await file.path());
      await page.waitForTimeout(300);
      const said = await grid.locator(".grid-said").first().textContent();
      check(/^\d+ rows? entered\.$/.test(said), `${task}: ${said}`);
    }
    const after = await entries(page);
    for (const member of Object.keys(before))
      check(
        plain(after[member]) === plain(before[member]),
        `${task}: ${plain(before[member])} became ${plain(after[member])}`,
      );
  }
}

/** A workbook as a shop has it; files that are none. */
async function fromOthers(page, base) {
  await open(page, base, "recharge");
  await page.click("#example");
  const before = await entries(page);
  const book = await page.evaluate(packed, SHEETS);
  const said = await openFile(page, "round.xlsx", book);
  for (const words of [
    "3 rows entered.",
    "from the sheet “Round”; left out: “Notes”",
    "without its result: E6.",
    "an error there: E5 (#DIV/0!)",
    "D4 as 8.5 %, D6 as 7 %",
  ])
    check(said.includes(words), `a workbook is opened without saying “${words}”: ${said}`);
  const { sumps } = await entries(page);
  const read = sumps.map(({ name, product, volume, target, chips }) => [
    name,
    product,
    volume,
    target,
    chips,
  ]);
  check(
    JSON.stringify(read) ===
      JSON.stringify([
        ["lathe 9", "product A", 651.915, 8.5, 65.1915],
        ["1.234", "=1+1", 120, 7.5, undefined],
        ["mill <2> & Söhne", "product A", 90.5, 7, undefined],
      ]),
    `read from a workbook: ${JSON.stringify(read)}`,
  );
  await page.locator("#fields .grid").first().getByRole("button", { name: /^Undo/ }).click();
  check(plain((await entries(page)).sumps) === plain(before.sumps), "opening a workbook is not undone");

  for (const [name, bytes, words] of [
    ["cut.xlsx", book.slice(0, 900), "damaged"],
    ["letter.xlsx", Buffer.from("Dear all"), "not a workbook"],
    ["old.xls", [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1], "older kind"],
    ["empty.xlsx", await page.evaluate(packed, { Empty: [] }), "nothing in its cells"],
    [
      "sheet.ods",
      await page.evaluate(async () => {
        const { zipSync } = await import("/page/vendored/fflate.js");
        return [...zipSync({ "content.xml": new Uint8Array([60, 97, 47, 62]) })];
      }),
      "ends in .xlsx",
    ],
  ]) {
    const why = await openFile(page, name, bytes);
    check(why.includes(words) && why.includes("nothing is changed"), `${name}: ${why}`);
    check(plain((await entries(page)).sumps) === plain(before.sumps), `${name} changes something`);
  }

  // Two sheets with machines: the other one is a tap away.
  const two = { ...SHEETS, Night: [SHEETS.Round[2], ["press 4", "product B", 300, 6, 12]] };
  await openFile(page, "two.xlsx", await page.evaluate(packed, two));
  await page.click(".grid button:has-text('Read the sheet “Night” instead')");
  await page.waitForFunction(() =>
    document.querySelector("#fields .grid-said").textContent.includes("“Night”;"),
  );
  check(
    (await entries(page)).sumps.map((one) => one.name).join() === "press 4",
    "the other sheet is not read",
  );
}

/** Dates as dates: 46083.2708333 days from 1900 are 2 March 2026, 06:30. */
async function dates(page, base) {
  await open(page, base, "losses");
  const log = {
    Log: [
      ["At", "Volume", "Refractometer reads", "Refractometer factor"],
      [{ date: 46083.2708333333 }, 180, 6.6, 1.25],
      [{ date: 46090 }, 170, 6.9, 1.25],
    ],
  };
  const said = await openFile(page, "log.xlsx", await page.evaluate(packed, log));
  check((await cellOf(page, "/log/0/at").textContent()) === "2026-03-02 06:30", `a date: ${said}`);
  check((await cellOf(page, "/log/1/at").textContent()) === "2026-03-09 00:00", `a day: ${said}`);
  const kinds = await page.evaluate(async () => {
    const { shownAs } = await import("/page/workbook/formats.js");
    const codes = {
      General: "number",
      "0.00": "number",
      '#,##0.00" days"': "number",
      '0.0" °Brix";[Red]-0.0': "number",
      "0.0%": "percent",
      "d. mmmm yyyy": "date",
      "[$-809]dddd, d mmmm": "date",
      "hh:mm": "time",
      "h:mm AM/PM": "time",
      "[h]:mm": "span",
      mmm: "date",
      "0\\ \\d": "number",
    };
    return Object.entries(codes).flatMap(([code, is]) =>
      shownAs(200, code) === is ? [] : [`${code}: ${shownAs(200, code)}`],
    );
  });
  check(kinds.length === 0, `formats of numbers: ${kinds}`);
  // The first days of both calendars, the day that never was, and one of our own (ECMA-376, part 1, 18.17.4).
  const days = await page.evaluate(async () => {
    const { clockText, dateText, daysOf } = await import("/page/workbook/formats.js");
    return [
      dateText(1, 1900),
      dateText(61, 1900),
      dateText(45292.5, 1900),
      dateText(0, 1904),
      clockText(0.75),
      clockText(1.5),
      daysOf("2024-01-01T12:00"),
    ];
  });
  check(
    `${days}` === "1900-01-01,1900-03-01,2024-01-01 12:00,1904-01-01,18:00,36:00,45292.5",
    `days of a workbook: ${days}`,
  );
}

/** Lists as workbooks, without anything that the page's policy forbids. */
async function workbooks(browser, base) {
  const { context, page } = await fresh(browser, base);
  page.on("console", (one) =>
    check(!/Content Security Policy/.test(one.text()), `against the policy: ${one.text()}`),
  );
  await thereAndBack(page, base);
  await fromOthers(page, base);
  await dates(page, base);
  await context.close();
}

module.exports = { workbooks };
