// The recipes for other spreadsheets: examples/power-query and examples/apps-script.
//
//     node tests/tools/workbook/recipes.js http://127.0.0.1:8787 [FOLDER]
//
// The function for Google Sheets runs here as it stands, with Google's objects replaced by ones that really ask
// the service. The query for Power Query is read by the parser of its makers' language tools, which FOLDER has
// (@microsoft/powerquery-parser, installed with npm), and what it sends and expects is tried; nothing here can
// run the language itself.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { createContext, runInContext } from "node:vm";

const examples = new URL("../../../examples/", import.meta.url);
const [server, folder] = process.argv.slice(2);
assert.ok(server, "the address of a service");
const table = readFileSync(new URL("readings.csv", examples), "utf8");

/** CSV as rows. */
function parse(text) {
  const rows = [[]];
  let cell = "";
  let quoted = false;
  const end = () => {
    rows.at(-1).push(cell);
    cell = "";
  };
  for (const [at, mark] of [...text].entries()) {
    if (quoted) {
      if (mark === '"' && text[at + 1] === '"') continue;
      if (mark === '"' && text[at - 1] !== '"') quoted = false;
      else if (mark === '"' && text[at + 1] !== '"') cell += '"';
      else cell += mark;
    } else if (mark === '"') quoted = true;
    else if (mark === ",") end();
    else if (mark === "\n") {
      end();
      rows.push([]);
    } else if (mark !== "\r") cell += mark;
  }
  if (cell !== "" || rows.at(-1).length > 0) end();
  return rows.filter((row) => row.length > 0);
}

/** Posts a table, as a program that waits. */
function post(address, headers, body) {
  const more = Object.entries(headers).flatMap(([name, value]) => ["--header", `${name}: ${value}`]);
  const options = ["--silent", "--globoff", "--write-out", "\n%{http_code}", "--data-binary", "@-", ...more];
  const said = execFileSync("curl", [...options, address], { input: body, encoding: "utf8" });
  const end = said.lastIndexOf("\n");
  return { code: Number(said.slice(end + 1)), text: said.slice(0, end) };
}

// Google Sheets.
const asked = [];
let properties = { SUMPWRIGHT_SERVICE: `${server}/`, SUMPWRIGHT_KEY: "abc" };
const google = createContext({
  PropertiesService: { getScriptProperties: () => ({ getProperty: (name) => properties[name] ?? null }) },
  Utilities: { parseCsv: parse },
  UrlFetchApp: {
    fetch(address, options) {
      asked.push({ address, options });
      assert.equal(options.method, "post");
      assert.equal(options.muteHttpExceptions, true);
      const headers = { ...options.headers, "Content-Type": options.contentType };
      const { code, text } = post(address, headers, options.payload);
      return { getResponseCode: () => code, getContentText: () => text };
    },
  },
});
runInContext(readFileSync(new URL("apps-script/top_up.gs", examples), "utf8"), google);
const typed = parse(table).map((row, place) =>
  row.map((cell) => (place > 0 && cell !== "" && !Number.isNaN(Number(cell)) ? Number(cell) : cell)),
);
const blank = typed[0].map(() => "");
for (const units of ["metric", "us"]) {
  const answers = google.TOP_UP([...typed, blank], units);
  const columns = "columns=answer.drain,answer.add.0.volume,answer.add.1.volume,answer.after.mark";
  const direct = post(`${server}/v1/top-up?units=${units}&${columns}`, { "Content-Type": "text/csv" }, table);
  const wanted = parse(direct.text);
  assert.equal(answers.length, typed.length);
  assert.deepEqual([...answers[0]], wanted[0]);
  let numbers = 0;
  for (const [at, row] of wanted.entries()) {
    for (const [place, cell] of row.entries()) {
      const found = answers[at][place];
      if (at > 0 && wanted[0][place].startsWith("answer.") && cell !== "") {
        assert.equal(found, Number(cell));
        numbers += 1;
      } else if (place >= typed[0].length) assert.equal(found, cell);
    }
  }
  assert.ok(numbers > 15, `${numbers} numbers`);
  assert.equal(answers.filter((row) => String(row.at(-1)).includes("fuller than full")).length, 1);
}
assert.equal(asked[0].options.headers.Authorization, "Bearer abc");
assert.ok(
  asked.every(({ address }) => !address.includes("abc")),
  "the key is in no address",
);
properties = { SUMPWRIGHT_SERVICE: `${server}/nowhere` };
assert.throws(() => google.TOP_UP(typed), /There is nothing|no calculation|address/);
properties = {};
assert.throws(() => google.TOP_UP(typed), /SUMPWRIGHT_SERVICE/);
console.log("The function for Google Sheets gives what the service answers, in both units.");

// Power Query.
const query = readFileSync(new URL("power-query/top-up.m", examples), "utf8");
if (folder) {
  const parser = createRequire(`${folder}/`)("@microsoft/powerquery-parser");
  const read = await parser.TaskUtils.tryLexParse(parser.DefaultSettings, query);
  assert.ok(parser.TaskUtils.isParseStageOk(read), `${read.error?.message}`);
  const broken = await parser.TaskUtils.tryLexParse(parser.DefaultSettings, query.replace("\nin\n", "\n"));
  assert.ok(!parser.TaskUtils.isParseStageOk(broken), "the parser takes anything");
}
/** What a name of the query stands for, where that is a text. */
const text = (name) => query.match(new RegExp(`\\b${name} = "([^"]*)"`))[1];
assert.equal(text("Service"), "http://127.0.0.1:8787");
const search = `units=${text("Units")}&columns=${encodeURIComponent(text("Columns"))}`;
const lines = typed.map((row) =>
  row.map((cell) => (typeof cell === "number" ? String(cell) : cell && `"${cell}"`)).join(","),
);
const answer = post(
  `${server}/${text("RelativePath")}?${search}`,
  { "Content-Type": "text/csv" },
  lines.join("\n"),
);
assert.equal(answer.code, 200, answer.text);
const [head, ...rows] = parse(answer.text);
assert.equal(rows.length, typed.length - 1);
const numbers = head.filter((heading) => heading.startsWith("answer."));
assert.equal(numbers.length, text("Columns").split(",").length);
assert.equal(head.at(-1), "problem");
const wrong = post(
  `${server}/${text("RelativePath")}?${search}&nonsense=1`,
  { "Content-Type": "text/csv" },
  "a\n1",
);
const handled = query
  .match(/ManualStatusHandling = \{([^}]*)\}/)[1]
  .split(",")
  .map(Number);
assert.ok(handled.includes(wrong.code) && typeof JSON.parse(wrong.text).detail === "string", wrong.text);
console.log(`The query for Power Query sends what is taken and reads what comes.`);
