// The daily check of a place: the reading, how full it is, and a tap.

import { h } from "../dom.js";
import { symbol, titled } from "../schema.js";
import { read, typed, unread } from "../units.js";
import { amountOf, documentOf, scaleOf } from "./place.js";
import { standingOf } from "./record.js";
import { badge, filled, overdue, readingText, readingTitle, when } from "./words.js";

/** Draws it; `check` is called with the document to ask. */
export function quick(host, { place, last, spec, batch, units, check, offer }) {
  const system = units();
  const document = documentOf(spec, batch, place, system, last);
  const fields = fieldsOf(spec, batch, place, document, last, system);
  const form = h(
    "form",
    { class: "quick", novalidate: true, "aria-labelledby": "kept-title" },
    fields.map((one) => one.element),
    h("p", { class: "go" }, h("button", { class: "main" }, "Calculate")),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const wrong = fields.filter((one) => !one.take());
    if (wrong.length > 0) return wrong[0].input.focus();
    const asked = structuredClone(document);
    for (const { path, value } of fields) asked[path[0]][path[1]] = value;
    check(asked);
  });
  const { state, days } = standingOf(last);
  const before = [
    last && readingText(spec, last.reading, system),
    last && filled(spec, last, system),
    last && when(last.at),
  ];
  const parts = [
    h("h2", { tabindex: -1, id: "kept-title" }, place.name),
    h(
      "p",
      { class: "state" },
      place.product && h("span", { class: "product" }, place.product),
      badge(state),
      overdue(days),
    ),
    last && h("p", { class: "hint" }, `Last time: ${before.filter(Boolean).join(" · ")}.`),
    offer,
    form,
  ];
  host.replaceChildren(...parts.filter(Boolean));
  fields[0].input.focus({ preventScroll: true });
}

function fieldsOf(spec, batch, place, document, last, system) {
  const { reads, step } = scaleOf(spec, place.reading.method);
  const { schema: instrument } = spec.branchOf(spec.schemas.Reading, { method: place.reading.method });
  const tank = spec.branchOf(spec.resolve(batch.properties.tank), document.tank).schema;
  const amount = amountOf(document.tank);
  const most = amount === "level" ? document.tank.full_level : document.tank.capacity;
  const member = spec.member(instrument, reads);
  return [
    numberField({
      id: "quick-reading",
      title: readingTitle(spec, place.reading),
      schema: member,
      unit: symbol(member, system),
      step,
      from: last?.reading[reads],
      path: ["reading", reads],
    }),
    place.reading.by_hand &&
      numberField({
        id: "quick-temperature",
        title: titled(spec.member(instrument, "temperature"), "temperature"),
        schema: spec.member(instrument, "temperature"),
        unit: symbol(spec.member(instrument, "temperature"), system),
        step: 1,
        from: system === "us" ? 68 : 20,
        path: ["reading", "temperature"],
      }),
    numberField({
      id: "quick-amount",
      title: titled(spec.member(tank, amount), amount),
      schema: spec.member(tank, amount),
      unit: symbol(spec.member(tank, amount), system),
      step: nice(most / 40),
      value: document.tank[amount],
      most,
      path: ["tank", amount],
    }),
  ].filter(Boolean);
}

/** A step of 1, 2 or 5 times a power of ten. */
function nice(number) {
  const power = 10 ** Math.floor(Math.log10(number));
  return [1, 2, 5, 10].find((one) => one * power >= number * 0.999) * power;
}

/** A big number with a button less and a button more; with a most that it can be, a slider too. */
function numberField({ id, title, schema, unit, step, value, from, most, path }) {
  const places = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const fault = h("p", { class: "fault", id: `${id}-fault` });
  const input = h("input", {
    id,
    inputmode: "decimal",
    enterkeyhint: "go",
    autocomplete: "off",
    "aria-required": "true",
    "aria-describedby": `${id}-fault`,
  });
  const put = (number) => {
    input.value = typed(number);
    if (slider) slider.value = number;
  };
  const number = () => read(input.value, schema.maximum);
  const move = (by) => {
    const now = number();
    const start = typeof now === "number" ? now : from;
    const next = start === undefined ? 0 : Math.round((start + by) / step) * step;
    put(Number(Math.min(Math.max(next, schema.minimum ?? 0), most ?? Infinity).toFixed(places)));
    say("");
  };
  const say = (text) => {
    fault.textContent = text;
    if (text) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
  };
  const button = (sign, by, word) =>
    h(
      "button",
      { type: "button", class: "step", "aria-label": `${title}: ${word}`, onclick: () => move(by) },
      sign,
    );
  const slider =
    most &&
    h("input", {
      type: "range",
      min: 0,
      max: most,
      step,
      "aria-label": `${title}, on a slider`,
      class: "slider",
    });
  slider?.addEventListener("input", () => {
    input.value = typed(Number(Number(slider.value).toFixed(places)));
    say("");
  });
  input.addEventListener("input", () => {
    say("");
    const now = number();
    if (slider && typeof now === "number") slider.value = now;
  });
  input.addEventListener("focus", () => input.select());
  if (value !== undefined) put(value);
  const untouched = input.value;
  const field = {
    input,
    path,
    element: h(
      "div",
      { class: "field big" },
      h("label", { for: id }, title, unit && h("span", { class: "unit" }, `, ${unit}`)),
      h("div", { class: "stepped" }, button("−", -step, "less"), input, button("+", step, "more")),
      slider,
      fault,
    ),
    /** Reads what is filled in, and says what is wrong with it; whether all is well. */
    take() {
      // What was left in the field is meant exactly.
      const now = value !== undefined && input.value === untouched ? value : number();
      field.value = now;
      say(
        now === undefined
          ? "Nothing is filled in here."
          : typeof now === "string"
            ? unread(now)
            : now > (most ?? Infinity)
              ? `It holds ${typed(most)} at most.`
              : "",
      );
      return !fault.textContent;
    },
  };
  return field;
}
