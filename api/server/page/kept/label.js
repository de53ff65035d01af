// Labels to print: the name of a tank or machine, what it is kept at, and the code that opens its check.

import { h } from "../dom.js";
import { shown } from "../units.js";
import { linkOf } from "./link.js";
import { qr, reachable, UNREACHABLE } from "./qr.js";
import { amount, readingTitle } from "./words.js";

/** Draws the labels of places, eight to a sheet A4 or each on a card of A7. */
export async function labels(host, { places, last, spec, batch, units, back }) {
  const system = units();
  const codes = await Promise.all(
    places.map((place) => qr(linkOf(spec, batch, place), `Code that opens the check of ${place.name}`)),
  );
  const sheet = h(
    "div",
    { class: "labels a4" },
    places.map((place, i) => card(place, codes[i], last(place.id), spec, system)),
  );
  const size = (value, text, checked) =>
    h(
      "label",
      null,
      h("input", {
        type: "radio",
        name: "label-size",
        checked,
        onchange: () => {
          sheet.className = `labels ${value}`;
        },
      }),
      ` ${text}`,
    );
  host.replaceChildren(
    h(
      "h2",
      { tabindex: -1, id: "kept-title" },
      places.length === 1 ? `Label of ${places[0].name}` : "Labels",
    ),
    h(
      "p",
      null,
      "Cut it out and fix it to the machine. Whoever scans it sees what stands on it, can keep it, and checks at once.",
    ),
    reachable() ? "" : h("p", { class: "told" }, UNREACHABLE),
    h(
      "fieldset",
      { class: "choices" },
      h("legend", null, "Paper"),
      size("a4", "A4, eight to a sheet", true),
      size("a7", "A7, one to a card", false),
    ),
    h(
      "p",
      { class: "buttons" },
      h("button", { type: "button", class: "main", onclick: () => print() }, "Print"),
      h("a", { class: "button", href: back }, "Back"),
    ),
    sheet,
  );
}

function card(place, code, last, spec, system) {
  const { band, tank, reading } = place;
  const marks = last?.reading.method === reading.method ? last?.marks : undefined;
  return h(
    "section",
    { class: "label", "aria-label": place.name },
    code,
    h(
      "div",
      null,
      h("p", { class: "name" }, place.name),
      place.product && h("p", { class: "product" }, place.product),
      marks && h("p", { class: "kept-at" }, marksText(spec, reading, marks)),
      h("p", { class: marks ? "" : "kept-at" }, `${shown(band.low)} to ${shown(band.high)} % by volume`),
      h("p", null, `Holds ${amount(spec, tank.capacity, "Volume", system)}`),
    ),
  );
}

/** The band on the instrument's own scale, as the service last answered it. */
function marksText(spec, reading, { low, high }) {
  const range = `${shown(low)} to ${shown(high)}`;
  return reading.method === "refractometer" ? `${range} °Brix` : `${readingTitle(spec, reading)}: ${range}`;
}
