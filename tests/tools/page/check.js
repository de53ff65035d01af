// The operator's page in a real browser, as an operator would use it, and the documentation page.
//
// Run with: tests/tools/page/run http://127.0.0.1:8787 (a running service); a second word, such as
// batch,links, runs only these parts. The benchmark, speed, runs only when it is named. With
// --record at the end the figures go into tests/tools/measurements.md.

const { execFileSync } = require("node:child_process");
const { failed, launch } = require("./browser");
const { astray, drawnOnce, printed, remembered, sideways } = require("./around");
const { everyTask } = require("./tasks");
const { aimless, batch, typed, stocks } = require("./batch");
const { handedKey, key, taken } = require("./key");
const { dailyCheck, goOn, nothingLeaves, stateNow } = require("./kept");
const { paces } = require("./paces");
const { slips } = require("./slips");
const { amounts } = require("./amounts");
const { unsaid } = require("./unsaid");
const { steady } = require("./steady");
const { exchange, handed, otherWays } = require("./kept-ways");
const { documentation } = require("./documentation");
const { focus, heard } = require("./focus");
const { weight, speed } = require("./speed");
const { fields, files } = require("./fields");
const { keys, marked, onAPhone, pastedRound, roundOnAScreen } = require("./grid");
const { morningRound } = require("./morning");
const { workbooks } = require("./workbook");
const { links, misshapen, lost, late, stale, policy, numbers } = require("./whole");

(async () => {
  const base = process.argv[2].replace(/\/$/, "");
  const browser = await launch();
  try {
    const parts = [
      weight,
      numbers,
      batch,
      aimless,
      typed,
      stocks,
      key,
      taken,
      handedKey,
      dailyCheck,
      paces,
      slips,
      amounts,
      unsaid,
      steady,
      otherWays,
      goOn,
      stateNow,
      exchange,
      handed,
      nothingLeaves,
      focus,
      heard,
      links,
      misshapen,
      lost,
      remembered,
      astray,
      sideways,
      printed,
      drawnOnce,
      late,
      stale,
      policy,
      everyTask,
      pastedRound,
      roundOnAScreen,
      keys,
      marked,
      onAPhone,
      files,
      morningRound,
      workbooks,
      fields,
      documentation,
    ];
    const words = process.argv.slice(3);
    const record = words.includes("--record");
    const wanted = words.find((word) => word !== "--record")?.split(",");
    const figures = [];
    for (const part of wanted ? [...parts, speed].filter((one) => wanted.includes(one.name)) : parts) {
      console.log(`-- ${part.name}`);
      figures.push(...((await part(browser, base)) ?? []));
    }
    if (record && figures.length > 0) {
      const input = figures.map((row) => `${row.join("\t")}\n`).join("");
      execFileSync(
        `${__dirname}/../record`,
        ["tests/tools/page/run", "of the page", "figure", "bound or aim"],
        {
          input,
          stdio: ["pipe", "inherit", "inherit"],
        },
      );
    }
  } finally {
    await browser.close();
  }
  console.log(failed() === 0 ? "the page holds" : `${failed()} things are not so`);
  process.exitCode = failed() === 0 ? 0 : 1;
})();
