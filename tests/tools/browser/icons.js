// Draws page/icon.svg as the icons of a device's desktop, small enough for one that cuts them to a circle.
//
// Run with: NODE_PATH=FOLDER/node_modules node tests/tools/browser/icons.js, with playwright-core in FOLDER.

const { chromium } = require("playwright-core");
const { readFileSync } = require("node:fs");

const PAGE = `${__dirname}/../../../api/server/page`;
// The middle that every shape of icon shows is a circle of four fifths.
const SHARE = 0.66;

(async () => {
  const browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox"] });
  const icon = readFileSync(`${PAGE}/icon.svg`).toString("base64");
  for (const size of [192, 512]) {
    const page = await browser.newPage({ viewport: { width: size, height: size } });
    const edge = Math.round(size * SHARE);
    await page.setContent(
      `<body style="margin:0;display:grid;place-items:center;height:100vh;background:#fff">
       <img width="${edge}" src="data:image/svg+xml;base64,${icon}">`,
    );
    await page.locator("img").evaluate((image) => image.decode());
    await page.screenshot({ path: `${PAGE}/icon-${size}.png` });
  }
  await browser.close();
})();
