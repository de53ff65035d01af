// The page's weight and speed. Each returns its figures as rows: the figure's name, the figure, its bound or aim.

const { check, fresh, open, answered } = require("./browser");

/** The bytes sent until the first answer. */
async function weight(browser, base) {
  const { context, page } = await fresh(browser, base, "tablet");
  const wire = await context.newCDPSession(page);
  await wire.send("Network.enable");
  let bytes = 0;
  wire.on("Network.loadingFinished", (event) => {
    bytes += event.encodedDataLength;
  });
  await open(page, base, "batch");
  await page.click("#example");
  await answered(page);
  await page.waitForTimeout(200);
  console.log(`weight until the first answer: ${(bytes / 1000).toFixed(1)} kB over the wire`);
  check(bytes > 10000 && bytes < 150000, `the page weighs ${bytes} bytes`);
  await context.close();
  return [["weight until the first answer", `${(bytes / 1000).toFixed(1)} kB`, "150 kB"]];
}

/** The time from the tap to the answer and, in turn, that of its two requests alone. */
async function speed(browser, base) {
  const { context, page } = await fresh(browser, base, "tablet");
  await open(page, base, "batch");
  await page.click("#example");
  await answered(page);
  const asked = await page.$$eval("#answer details.json pre", (all) =>
    all
      .filter((one) => one.getAttribute("aria-label").startsWith("Request to "))
      .map((one) => ({ name: one.getAttribute("aria-label").split(" ")[2], body: one.textContent })),
  );
  check(asked.length === 2, `a batch check makes ${asked.length} requests`);
  const taps = [];
  const bare = [];
  for (let i = 0; i < 15; i += 1) {
    bare.push(
      await page.evaluate(async (requests) => {
        const start = performance.now();
        for (const { name, body } of requests) {
          await (
            await fetch(`v1/${name}`, {
              method: "POST",
              body,
              headers: { "content-type": "application/json" },
            })
          ).json();
        }
        return performance.now() - start;
      }, asked),
    );
    taps.push(
      await page.evaluate(
        () =>
          new Promise((done) => {
            const answer = document.querySelector("#answer");
            answer.replaceChildren();
            const start = performance.now();
            const watch = new MutationObserver(() => {
              if (!answer.querySelector("#answered")) return;
              watch.disconnect();
              requestAnimationFrame(() => done(performance.now() - start));
            });
            watch.observe(answer, { childList: true });
            document.querySelector("#ask").click();
          }),
      ),
    );
  }
  const median = (times) => [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)];
  const said = (times) =>
    `median ${median(times).toFixed(0)} ms, ${Math.min(...times).toFixed(0)} to ${Math.max(...times).toFixed(0)}`;
  console.log(`from the tap to the answer: ${said(taps)}`);
  console.log(
    `its two requests alone: ${said(bare)}; the whole takes ${median(taps.map((tap, i) => tap / bare[i])).toFixed(1)} times as long`,
  );
  check(
    median(taps) < 100,
    `the median from the tap to the answer is ${median(taps).toFixed(0)} ms, not below 100`,
  );
  await context.close();
  const ratio = median(taps.map((tap, i) => tap / bare[i])).toFixed(1);
  return [
    ["from the tap to the answer of a batch check", said(taps), "median below 100 ms"],
    ["its two requests alone, in turn", said(bare), ""],
    ["ratio of the two", ratio, ""],
  ];
}

module.exports = { weight, speed };
