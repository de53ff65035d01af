// The operator's page in a real browser, as an operator would use it.
//
// Run with: tests/page/run http://127.0.0.1:8787 (a running service); a second word, such as
// batch,links, runs these parts alone.

const { failed, launch } = require("./browser");
const { everyTask } = require("./tasks");
const { batch, typed } = require("./batch");
const { links, lost, stale, policy, figures, numbers } = require("./whole");

(async () => {
  const base = process.argv[2].replace(/\/$/, "");
  const browser = await launch();
  try {
    const parts = [figures, numbers, batch, typed, links, lost, stale, policy, everyTask];
    const wanted = process.argv[3]?.split(",");
    for (const part of parts.filter((one) => !wanted || wanted.includes(one.name))) {
      console.log(`-- ${part.name}`);
      await part(browser, base);
    }
  } finally {
    await browser.close();
  }
  console.log(failed() === 0 ? "the page holds" : `${failed()} things are not so`);
  process.exitCode = failed() === 0 ? 0 : 1;
})();
