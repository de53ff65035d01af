// The operator's page in a real browser, as an operator would use it, and the documentation page.
//
// Run with: tests/tools/page/run http://127.0.0.1:8787 (a running service); a second word, such as
// batch,links, runs these parts alone. The benchmark, speed, runs only when it is named.

const { failed, launch } = require("./browser");
const { everyTask } = require("./tasks");
const { batch, typed, stocks } = require("./batch");
const { key, taken } = require("./key");
const { documentation } = require("./documentation");
const { focus, heard } = require("./focus");
const { links, misshapen, lost, late, stale, policy, weight, speed, numbers } = require("./whole");

(async () => {
  const base = process.argv[2].replace(/\/$/, "");
  const browser = await launch();
  try {
    const parts = [
      weight,
      numbers,
      batch,
      typed,
      stocks,
      key,
      taken,
      focus,
      heard,
      links,
      misshapen,
      lost,
      late,
      stale,
      policy,
      everyTask,
      documentation,
    ];
    const wanted = process.argv[3]?.split(",");
    for (const part of wanted ? [...parts, speed].filter((one) => wanted.includes(one.name)) : parts) {
      console.log(`-- ${part.name}`);
      await part(browser, base);
    }
  } finally {
    await browser.close();
  }
  console.log(failed() === 0 ? "the page holds" : `${failed()} things are not so`);
  process.exitCode = failed() === 0 ? 0 : 1;
})();
