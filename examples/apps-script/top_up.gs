/**
 * A function for Google Sheets: every sump of a table, answered by Sumpwright.
 *
 * Google's computers ask the service, not yours, so it must have a public address that begins with https://, and
 * a key: a service on 127.0.0.1 or in the shop's own network cannot be reached from there.
 *
 * Extensions, Apps Script; put this text in place of what stands there; Project Settings, Script Properties:
 * SUMPWRIGHT_SERVICE is the address, SUMPWRIGHT_KEY the key. Then, in a cell: =TOP_UP(A1:H19)
 */

const COLUMNS = "answer.drain,answer.add.0.volume,answer.add.1.volume,answer.after.mark";

/**
 * What to drain from sumps and what to add to them.
 *
 * @param {A1:H19} sumps The table with its headings, such as sump.capacity, sump.volume, sump.reading.method,
 *   sump.reading.brix, sump.reading.factor and target.concentration. Blank rows are left out.
 * @param {"metric"} units metric (litres) or us (US gallons). Default: metric.
 * @return The table with the answers beside it; a row without an answer says why in its last column.
 * @customfunction
 */
function TOP_UP(sumps, units) {
  const properties = PropertiesService.getScriptProperties();
  const service = (properties.getProperty("SUMPWRIGHT_SERVICE") || "").replace(/\/+$/, "");
  const key = properties.getProperty("SUMPWRIGHT_KEY");
  if (!service) throw new Error("Write the address of the service into the script property SUMPWRIGHT_SERVICE.");
  const rows = sumps.filter((row) => row.some((cell) => cell !== ""));
  const query = `units=${encodeURIComponent(units || "metric")}&columns=${encodeURIComponent(COLUMNS)}`;
  const answer = UrlFetchApp.fetch(`${service}/v1/top-up?${query}`, {
    method: "post",
    contentType: "text/csv",
    headers: key ? { Authorization: `Bearer ${key}` } : {},
    payload: rows.map((row) => row.map(written).join(",")).join("\n"),
    muteHttpExceptions: true,
  });
  const text = answer.getContentText("UTF-8");
  if (answer.getResponseCode() !== 200) throw new Error(told(text));
  const [head, ...answers] = Utilities.parseCsv(text);
  const isNumber = head.map((heading) => heading.startsWith("answer."));
  const typed = (cell, place) => (isNumber[place] && cell !== "" ? Number(cell) : cell);
  return [head, ...answers.map((row) => row.map(typed))];
}

/** A cell as CSV: a number with a point, a text in quotation marks. */
function written(cell) {
  return typeof cell === "number" ? String(cell) : `"${String(cell).replace(/"/g, '""')}"`;
}

/** What the service says is wrong. */
function told(text) {
  try {
    return JSON.parse(text).detail;
  } catch {
    return "Something other than the service answers there.";
  }
}
