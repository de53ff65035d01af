// Lists of plain values: words and days to tick, numbers and texts in one row.

import { held, textOf, valueFrom } from "./cell.js";
import { h } from "./dom.js";
import { label, pointer, unitAfter } from "./schema.js";

const WEEK = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

/** A list of plain values in a form. */
export function plainList(form, items, path, title) {
  if (items["x-quantity"] === "Weekday") return days(form, path);
  if (form.spec.kind(items) === "choice") return ticks(form, path, items.enum);
  return row(form, items, path, title);
}

/** Something to tick for each word that may be in the list. */
function ticks(form, path, words, said = label) {
  const toggle = (word, on) => {
    const kept = (form.get(path) ?? []).filter((one) => one !== word && words.includes(one));
    const now = on ? [...kept, word] : kept;
    form.set(
      path,
      words.filter((one) => now.includes(one)),
    );
    form.clear(path);
  };
  return h(
    "div",
    { class: "ticks" },
    words.map((word, i) => {
      const id = `at${pointer([...path, i])}`;
      const box = h("input", {
        type: "checkbox",
        id: `${id}:tick`,
        checked: (form.get(path) ?? []).includes(word),
        onchange: (event) => toggle(word, event.target.checked),
      });
      return h("label", null, box, ` ${said(word)}`);
    }),
  );
}

/** Days of a week that begins on a day of its own: by their names, in the order in which they come. */
function days(form, path) {
  const id = `first${pointer(path)}`;
  const host = h("div");
  const first = () => form.unfolded.get(id) ?? 0;
  const draw = () =>
    host.replaceChildren(ticks(form, path, [...WEEK.keys()], (day) => WEEK[(day + first()) % WEEK.length]));
  const begin = (weekday) => {
    // The days of the week stay, so their numbers change.
    const shift = first() - weekday + WEEK.length;
    const moved = (form.get(path) ?? [])
      .filter((day) => Number.isInteger(day))
      .map((day) => (day + shift) % WEEK.length)
      .sort((a, b) => a - b);
    form.unfolded.set(id, weekday);
    form.set(path, moved);
    draw();
  };
  const select = h(
    "select",
    { id, onchange: () => begin(Number(select.value)) },
    WEEK.map((day, i) => h("option", { value: i, selected: i === first() }, day)),
  );
  draw();
  return [h("div", { class: "field" }, h("label", { for: id }, "The first day is a"), select), host];
}

/** Numbers or texts side by side; an empty field at the end takes one more, or several that are pasted. */
function row(form, items, path, title) {
  const unit = unitAfter(title, items, form.document.units);
  const value = (text) => valueFrom(form.spec, items, text, form.document.units);
  const number = held(form.spec, items) === "number";
  const host = h("div", { class: "chips" });
  const list = () => form.get(path) ?? [];
  const draw = (focus) => {
    host.replaceChildren(...[...list(), undefined].map(one));
    if (focus !== undefined) host.children[Math.min(focus, host.children.length - 1)].firstChild.focus();
  };
  const one = (now, i) => {
    const place = [...path, i];
    const input = h("input", {
      id: `at${pointer(place)}`,
      "aria-label": `${title} ${i + 1}${unit ? `, ${unit}` : ""}`,
      "aria-describedby": form.described(place, false),
      autocomplete: "off",
      inputmode: number ? "decimal" : null,
      maxlength: items.maxLength,
    });
    input.value = textOf(form.spec, items, now);
    input.addEventListener("input", () => {
      const added = i >= list().length;
      if (added && form.get(path) === undefined) form.set(path, []);
      form.set(place, value(input.value));
      form.clear(place);
      if (added) host.append(one(undefined, i + 1));
    });
    input.addEventListener("change", () => {
      if (input.value.trim() !== "" || i >= list().length) return;
      list().splice(i, 1);
      form.changed();
      draw(i);
    });
    input.addEventListener("paste", (event) => {
      const parts = event.clipboardData
        .getData("text/plain")
        .split(/[\t\n\r;]+/)
        .filter((text) => text.trim() !== "");
      if (parts.length < 2) return;
      event.preventDefault();
      if (form.get(path) === undefined) form.set(path, []);
      list().splice(i, 1, ...parts.map(value));
      form.changed();
      draw(i + parts.length);
    });
    return h("div", { class: number ? "number" : null }, input, form.fault(place));
  };
  draw();
  return [unit && h("p", { class: "hint" }, `In ${unit}.`), host];
}
