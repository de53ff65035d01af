// Takes the picture of the page that README.md shows: the front page's own sump, answered.
//
// Run with: NODE_PATH=FOLDER/node_modules node tests/tools/page/picture.js http://127.0.0.1:8787
// Needs what run needs. The sump is an invented example.

const { resolve } = require("node:path");
const { answered, failed, launch, open } = require("./browser.js");

const PICTURE = resolve(__dirname, "../../../examples/pictures/page.png");

async function take(base) {
  const browser = await launch();
  const page = await browser.newPage({ viewport: { width: 1000, height: 520 } });
  await open(page, base, "top-up");
  await page.click("#example");
  await answered(page);
  await page.evaluate(() => document.activeElement?.blur());
  await page.evaluate(() => scrollTo(0, 0));
  await page.screenshot({ path: PICTURE });
  await browser.close();
}

take(process.argv[2] ?? "http://127.0.0.1:8787").then(() => {
  process.exitCode = failed();
});
