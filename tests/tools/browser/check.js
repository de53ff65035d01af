// The engine for browsers beside the service, and the page where no service answers.
//
// Run by tests/tools/browser/run. Words after it, such as offline, name the parts to run.

const { failed } = require("../page/browser");
const { examples, drawn, problems, panics } = require("./numbers");
const { offline, oneFile } = require("./away");
const { service } = require("./service");

(async () => {
  const parts = [examples, drawn, problems, panics, offline, oneFile];
  const wanted = process.argv.slice(2);
  const { base, stop } = await service();
  try {
    for (const part of parts.filter((one) => wanted.length === 0 || wanted.includes(one.name))) {
      console.log(`-- ${part.name}`);
      await part(base);
    }
  } finally {
    await stop();
  }
  console.log(failed() === 0 ? "the page holds without the service" : `${failed()} things are not so`);
  process.exitCode = failed() === 0 ? 0 : 1;
})();
