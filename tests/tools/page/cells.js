// Helpers for the tables and fields of a form.

const tsv = (rows) => rows.map((row) => row.join("\t")).join("\r\n");

const cellOf = (page, pointer) => page.locator(`[id="at${pointer}"]`);

/** Pastes a text where the focus is, as a browser does when somebody presses Ctrl+V. */
const paste = (page, text) =>
  page.evaluate((pasted) => {
    const data = new DataTransfer();
    data.setData("text/plain", pasted);
    document.activeElement.dispatchEvent(
      new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }),
    );
  }, text);

/** What Ctrl+C takes along. */
const copy = (page) =>
  page.evaluate(() => {
    const data = new DataTransfer();
    document.activeElement.dispatchEvent(
      new ClipboardEvent("copy", { clipboardData: data, bubbles: true, cancelable: true }),
    );
    return data.getData("text/plain");
  });

/** The entries as they go out. */
async function entries(page) {
  await page.waitForTimeout(400);
  const hash = await page.evaluate(() => location.hash);
  return JSON.parse(decodeURIComponent(hash.slice(hash.indexOf("=") + 1)));
}

module.exports = { cellOf, copy, entries, paste, tsv };
