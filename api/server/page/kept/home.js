// The first screen where something is kept: a button for each tank and machine, what needs a look first.

import { h } from "../dom.js";
import { standingOf } from "./record.js";
import { badge, filled, overdue, readingText, when } from "./words.js";

const SEARCHED = 12; // more places than this can be searched

/** Places with their last check, those that need a look first; else each keeps its place in the list. */
export function sorted(places, checks) {
  const last = new Map(checks.map((check) => [check.place, check])); // oldest first: the last one stays
  return places
    .map((place) => ({ place, last: last.get(place.id), ...standingOf(last.get(place.id)) }))
    .sort(
      (a, b) =>
        a.urgency - b.urgency || a.place.name.localeCompare(b.place.name, undefined, { numeric: true }),
    );
}

/** Draws it. */
export async function home(host, { store, spec, units, tasks }) {
  const { places, checks } = await store.all();
  const rows = sorted(places, checks);
  const list = h(
    "ul",
    { class: "places" },
    rows.map((row) => h("li", { "data-words": words(row.place) }, button(row, spec, units()))),
  );
  const none = h("p", { role: "status" });
  host.replaceChildren(
    h("h2", { tabindex: -1, id: "kept-title" }, "Tanks and machines"),
    ...(store.lasts ? [] : [h("p", { class: "told" }, NOT_KEPT)]),
    ...(rows.length > SEARCHED ? [search(list, none)] : []),
    ...(rows.length > 0 ? [list, none] : [h("p", null, NOTHING)]),
    h(
      "p",
      { class: "buttons" },
      h("a", { class: "button", href: "#kept/new" }, "Add a tank or machine"),
      rows.length > 0 && h("a", { class: "button", href: "#kept/labels" }, "Labels to print"),
      h("a", { class: "button", href: "#kept/device" }, "Save or open a file"),
      tasks && h("a", { class: "button", href: tasks }, "All tasks"),
    ),
  );
}

export const NOT_KEPT =
  "This browser keeps nothing, as in a private window: what you add here is gone when the tab is closed. " +
  "Save it as a file before.";

const NOTHING =
  "Nothing is kept on this device yet. Add a tank or machine once, and its daily check is a reading and a tap.";

const words = (place) => [place.name, place.product].filter(Boolean).join(" ").toLowerCase();

function button({ place, last, state, days }, spec, units) {
  const read =
    last &&
    [readingText(spec, last.reading, units), filled(spec, last, units), when(last.at)]
      .filter(Boolean)
      .join(" · ");
  return h(
    "a",
    { class: "place", href: `#kept/${place.id}` },
    h("span", { class: "name" }, place.name),
    place.product && h("span", { class: "product" }, place.product),
    h("span", { class: "state" }, badge(state), overdue(days)),
    read && h("span", { class: "read" }, read),
  );
}

function search(list, none) {
  const input = h("input", { id: "kept-search", type: "search", autocomplete: "off" });
  input.addEventListener("input", () => {
    const wanted = input.value.trim().toLowerCase();
    let seen = 0;
    for (const row of list.children) {
      row.hidden = !row.dataset.words.includes(wanted);
      seen += !row.hidden;
    }
    none.textContent = seen === 0 ? `Nothing here is called “${input.value.trim()}”.` : "";
  });
  return h("div", { class: "field" }, h("label", { for: "kept-search" }, "Find"), input);
}
