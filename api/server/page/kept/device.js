// What lies on this device, and how to take it along.

import { h } from "../dom.js";
import { written as exact } from "../units.js";
import { written } from "./csv.js";
import { fileOf, matched, readFile, takeIn } from "./exchange.js";
import { NOT_KEPT } from "./home.js";
import { checksTable, placesOf, placesTable } from "./sheet.js";
import { lasting } from "./store.js";
import { undoable } from "./undo.js";

const MOST_FAULTS = 12; // shown one by one
const PACKED = [0x50, 0x4b, 3, 4]; // what a workbook begins with

/** Draws it. */
export async function device(host, context) {
  const { store, spec, batch, units, back } = context;
  const { places, checks } = await store.all();
  const { agreed } = await lasting();
  const day = new Date().toISOString().slice(0, 10);
  const save = (text, name, type) => () => offer(name, new Blob([text()], { type }));
  const said = h("div", { role: "status", id: "kept-said" });
  const input = h("input", { type: "file", id: "kept-file", accept: ".json,.xlsx,.csv,.tsv,.txt" });
  input.addEventListener("change", async () => {
    const [file] = input.files;
    if (!file) return;
    const bytes = new Uint8Array(await file.arrayBuffer());
    input.value = "";
    await open(await textIn(bytes), context, said, () => device(host, context));
  });
  host.replaceChildren(
    h("h2", { tabindex: -1, id: "kept-title" }, "What lies on this device"),
    h(
      "p",
      null,
      `${count(places.length, "tank or machine", "tanks and machines")} and ${count(checks.length, "check", "checks")}, in this browser. `,
      "They are sent nowhere: a calculation gets its question and nothing else.",
    ),
    h("p", null, !store.lasts ? NOT_KEPT : agreed ? AGREED : NOT_AGREED),
    h("h3", null, "Take it along"),
    h(
      "p",
      { class: "buttons" },
      h(
        "button",
        {
          type: "button",
          id: "kept-save",
          onclick: save(
            () => fileOf({ places, checks }),
            `tanks-and-machines-${day}.json`,
            "application/json",
          ),
        },
        "Save everything as one file",
      ),
      h(
        "button",
        {
          type: "button",
          id: "kept-places",
          onclick: save(() => placesTable(spec, batch, places, units()), `places-${day}.csv`, "text/csv"),
        },
        "Tanks and machines as CSV",
      ),
      h(
        "button",
        {
          type: "button",
          id: "kept-checks",
          onclick: save(() => checksTable(spec, places, checks, units()), `checks-${day}.csv`, "text/csv"),
        },
        "Checks as CSV",
      ),
    ),
    h("h3", null, "Open a file"),
    h(
      "div",
      { class: "field" },
      h("label", { for: "kept-file" }, "File from here, or a workbook or CSV of tanks and machines"),
      input,
      h(
        "p",
        { class: "hint" },
        "What is in it comes beside what is here; of two with the same name the newer one stays. ",
        `Columns without a unit in their heading are in ${units() === "us" ? "US gallons and inches" : "litres and millimetres"}.`,
      ),
    ),
    said,
    h(
      "p",
      { class: "buttons" },
      h("a", { class: "button", href: back }, "Back"),
      places.length > 0 &&
        h("button", { type: "button", id: "kept-wipe", onclick: wipe }, "Remove everything from this device"),
    ),
  );
  async function wipe() {
    const before = await store.all();
    await store.replace({ places: [], checks: [] });
    await device(host, context);
    undoable("Everything is removed from this device.", async () => {
      await store.replace(before);
      await device(host, context);
    });
  }
}

const AGREED = "The browser has agreed not to clear them away when space is short.";
const NOT_AGREED =
  "The browser may clear them away when space on the device is short, or with its history. Save them as a file now and then.";

const count = (number, one, many) => `${number} ${number === 1 ? one : many}`;

/** Hands a file to the browser to save. */
function offer(name, blob) {
  const address = URL.createObjectURL(blob);
  const link = h("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

/** A file as text: that of a workbook is its first sheet, with commas. */
async function textIn(bytes) {
  if (!PACKED.every((byte, i) => bytes[i] === byte)) return { text: new TextDecoder().decode(bytes) };
  try {
    const { sheetsOf } = await import("../workbook/read.js");
    const [{ rows }] = sheetsOf(bytes);
    const empty = rows.flat().filter(({ note }) => note === "formula" || note === "error");
    const text = written(
      rows.map((row) => row.map((cell) => (cell.number ? exact(cell.number) : cell.text))),
    );
    const fault = `The workbook has a formula without its result, or an error, in ${empty.map(({ at }) => at).join(", ")}.`;
    return empty.length > 0 ? { fault } : { text };
  } catch (error) {
    return { fault: error.message };
  }
}

/** Takes a file in, or says what is wrong with it; then nothing is changed. */
async function open({ text, fault }, { store, spec, batch, units }, said, again) {
  const isFile = /^\s*[{[]/.test(text);
  const found = fault
    ? { faults: [fault] }
    : isFile
      ? readFile(spec, batch, text)
      : { checks: [], ...placesOf(spec, batch, text, units()) };
  if (found.faults.length > 0) {
    said.replaceChildren(
      h("p", null, h("strong", null, "Nothing was taken in. Correct these and open the file again:")),
      h(
        "ul",
        null,
        found.faults.slice(0, MOST_FAULTS).map((fault) => h("li", null, fault)),
      ),
      found.faults.length > MOST_FAULTS ? h("p", null, `And ${found.faults.length - MOST_FAULTS} more.`) : "",
    );
    return;
  }
  const kept = await store.places();
  const places = isFile ? found.places : matched(found.places, kept);
  const { before, words } = await takeIn(store, { places, checks: found.checks });
  await again();
  document.getElementById("kept-said")?.append(h("p", null, words));
  undoable(words, async () => {
    await store.replace(before);
    await again();
  });
}
