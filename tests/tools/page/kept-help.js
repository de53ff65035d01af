// Helpers for the checks of what the device keeps.

const { readFileSync } = require("node:fs");
const jsqr = require("jsqr");
const { check, focused } = require("./browser");

/** Opens a screen of what is kept, and waits for it. */
async function screen(page, base, address) {
  await page.goto("about:blank");
  await page.goto(`${base}/#${address}`);
  await page.waitForSelector("#kept-title");
}

/** Fills in fields by the pointers of their places. */
async function filled(page, values) {
  for (const [pointer, value] of Object.entries(values)) await page.fill(`[id="at${pointer}"]`, value);
}

/** What the browser stores, read past the page: places and checks, in the order of their making. */
const stored = (page) =>
  page.evaluate(
    () =>
      new Promise((done, failed) => {
        const opening = indexedDB.open("sumpwright");
        opening.onerror = () => failed(opening.error);
        opening.onsuccess = () => {
          const database = opening.result;
          const transaction = database.transaction(["places", "checks"]);
          const [places, checks] = ["places", "checks"].map((name) => transaction.objectStore(name).getAll());
          transaction.oncomplete = () => {
            database.close();
            const sorted = (all, member) => all.sort((a, b) => (a[member] < b[member] ? -1 : 1));
            done({ places: sorted(places.result, "changed"), checks: sorted(checks.result, "at") });
          };
        };
      }),
  );

/** A value as a text that does not depend on the order of its members. */
const plain = (value) =>
  JSON.stringify(value, (_name, member) =>
    member !== null && typeof member === "object" && !Array.isArray(member)
      ? Object.fromEntries(Object.entries(member).sort(([a], [b]) => (a < b ? -1 : 1)))
      : member,
  );

/** Opens a file with a text, or saves the one that a button offers and gives back its text. */
async function files(page, name, text) {
  if (text === undefined) {
    const [download] = await Promise.all([page.waitForEvent("download"), page.click(name)]);
    return readFileSync(await download.path(), "utf8");
  }
  await page.evaluate(() => document.querySelector("#kept-said").replaceChildren());
  await page.setInputFiles("#kept-file", { name, mimeType: "text/plain", buffer: Buffer.from(text) });
  await page.waitForFunction(() => document.querySelector("#kept-said")?.textContent !== "");
  return undefined;
}

/** What a code on the screen says, read from a picture of it as a camera would. */
async function decoded(browser, page, selector) {
  const picture = (await page.locator(selector).first().screenshot()).toString("base64");
  const blank = await browser.newPage();
  const { data, width, height } = await blank.evaluate(async (source) => {
    const image = new Image();
    image.src = `data:image/png;base64,${source}`;
    await image.decode();
    const canvas = new OffscreenCanvas(image.width, image.height);
    const surface = canvas.getContext("2d");
    surface.drawImage(image, 0, 0);
    const pixels = surface.getImageData(0, 0, image.width, image.height);
    return { data: [...pixels.data], width: image.width, height: image.height };
  }, picture);
  await blank.close();
  return jsqr(Uint8ClampedArray.from(data), width, height)?.data;
}

/** The smallest letters of a drawing in pixels, and how many of its texts lie outside it. */
const shape = (page, selector) =>
  page.$eval(selector, (drawing) => {
    const frame = drawing.getBoundingClientRect();
    const scale = frame.width / drawing.viewBox.baseVal.width;
    const texts = [...drawing.querySelectorAll("text")];
    const letters = Math.min(
      ...texts.map((one) => Number.parseFloat(getComputedStyle(one).fontSize) * scale),
    );
    const outside = texts.filter((one) => {
      const box = one.getBoundingClientRect();
      return box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1;
    }).length;
    return { letters, outside, texts: texts.length };
  });

/**
 * An invented sump with known losses, checked daily and filled up when a quarter is gone.
 *
 * With water lost at E and fluid carried off at C, V' = −(E + C) and (cV)' = −C·c, so that cV goes as
 * V to the power C / (E + C).
 */
function fluidInTime({ evaporation, carryOff, days }) {
  const place = {
    id: "worn0001",
    units: "metric",
    entered: "metric",
    changed: "2026-03-01T06:30:00.000Z",
    name: "Lathe 9, invented",
    kind: "machine",
    product: "another invented fluid",
    tank: { measured_by: "volume", capacity: 200, volume: 190 },
    reading: { method: "refractometer", factor: 1.25 },
    band: { low: 6, target: 8, high: 10 },
    stocks: [
      { name: "neat, invented", concentration: 100 },
      { name: "tap water", concentration: 0 },
    ],
  };
  const checks = [];
  let [volume, strength] = [200, 8];
  for (let day = 0; day <= days; day += 1) {
    const at = `2026-03-${String(day + 1).padStart(2, "0")}T06:30:00+01:00`;
    const one = {
      id: `worn${String(day).padStart(4, "0")}c`,
      place: place.id,
      at,
      units: "metric",
      reading: { method: "refractometer", brix: strength / 1.25, factor: 1.25 },
      volume,
      concentration: strength,
      standing: "in_band",
      added: [],
    };
    if (volume < 150) {
      const added = 200 - volume;
      const neat = added * 0.04;
      one.told = "Fill it up.";
      one.added = [
        { name: "neat, invented", volume: neat, concentration: 100 },
        { name: "tap water", volume: added - neat, concentration: 0 },
      ];
      strength = (volume * strength + neat * 100) / 200;
      volume = 200;
      one.after = { volume, concentration: strength };
      one.done = true;
    }
    checks.push(one);
    const left = volume - evaporation - carryOff;
    strength *= (left / volume) ** (carryOff / (evaporation + carryOff) - 1);
    volume = left;
  }
  return {
    kind: "sumpwright-kept",
    version: 1,
    written: "2026-03-29T06:30:00.000Z",
    places: [place],
    checks,
  };
}

/** An invented machine: 200 L, usually 180 in it, factor 1.25, to be kept at 7 to 9 %, at best at 8 %. */
const MILL = {
  "/name": "Mill 3, invented",
  "/product": "invented fluid",
  "/tank/capacity": "200",
  "/tank/volume": "180",
  "/reading/factor": "1,25",
  "/band/low": "7",
  "/band/target": "8",
  "/band/high": "9",
};

/** Keeps the machine, and gives back what is stored of it. */
async function keep(page, base) {
  await screen(page, base, "kept/new");
  await filled(page, MILL);
  await page.click("form.edit button.main");
  await page.waitForSelector("#quick-reading");
  return (await stored(page)).places.at(-1);
}

/** The daily check by the keys alone: the reading, Enter to what is in it, Enter to the answer. */
async function enter(page, reading) {
  if (reading) await page.fill("#quick-reading", reading);
  await page.focus("#quick-reading");
  await page.keyboard.press("Enter");
  check((await focused(page)) === "quick-amount", "Enter does not lead from the reading to what is in it");
  await page.keyboard.press("Enter");
}

/** A machine of the shop with a month of checks, made from a sump whose losses are known. */
const WORN = fluidInTime({ evaporation: 6, carryOff: 3, days: 28 });

module.exports = { MILL, WORN, enter, keep, screen, filled, stored, plain, files, decoded, shape };
