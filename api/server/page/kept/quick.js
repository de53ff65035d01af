// The daily check of a place: the reading, how full it is, and a tap.
//
// Both numbers are typed, or stepped to from where they stood last; a button that is held goes on.

import { h } from "../dom.js";
import { askBack, isFar, onceAtATime } from "../far.js";
import { symbol, titled } from "../schema.js";
import { asWritten, read, roughly, shown, typed, unread } from "../units.js";
import { written } from "../writing.js";
import { amountOf, documentOf, scaleOf } from "./place.js";
import { standingOf, toDo } from "./record.js";
import { badge, filled, overdue, readingText, readingTitle, when } from "./words.js";

const [HELD, AGAIN] = [450, 90]; // milliseconds until a button that is held goes on, and between its steps

/**
 * Draws it; `check` is called with the document to ask, and `settle` with whether what was told last time was
 * done, where that is not known; `more` is what else can be done with the place. What was typed into the form of the same
 * place stays in it.
 */
export function quick(host, { place, last, spec, batch, units, check, settle, offer, more }) {
  const system = units();
  const document = documentOf(spec, batch, place, system, last);
  const fields = fieldsOf(spec, batch, place, document, last, system);
  const meant = new Map(); // the numbers far from the last ones that were asked back, by their fields
  const form = h(
    "form",
    {
      class: "quick",
      novalidate: true,
      "aria-labelledby": "kept-title",
      "data-of": `${place.id} ${system}`,
    },
    fields.map((one) => one.element),
    h("p", { class: "go" }, h("button", { class: "main" }, "Calculate")),
    more,
  );
  const before = host.querySelector("form.quick");
  const typedBefore = before?.dataset.of === form.dataset.of ? before.querySelectorAll("[data-typed]") : [];
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const wrong = fields.filter((one) => !one.take());
    if (wrong.length > 0) return wrong[0].input.focus();
    // Somebody who means it taps once more.
    const far = fields.find((one) => one.isFar() && meant.get(one) !== one.value);
    if (far) {
      meant.set(far, far.value);
      far.doubt();
      return far.input.focus();
    }
    const filledIn = structuredClone(document);
    for (const { path, value } of fields) filledIn[path[0]][path[1]] = value;
    check(filledIn);
  });
  onceAtATime(form);
  // Enter goes on to the next number, so that none is taken unseen.
  form.addEventListener("keydown", (event) => {
    const at = fields.findIndex((one) => one.input === event.target);
    if (
      event.key !== "Enter" ||
      event.defaultPrevented ||
      event.isComposing ||
      at < 0 ||
      at === fields.length - 1
    )
      return;
    event.preventDefault();
    fields[at + 1].input.focus();
  });
  const { state, days } = standingOf(last);
  const lastTime = [
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
    last &&
      h(
        "div",
        { class: "last" },
        h("p", { class: "hint" }, `Last time: ${lastTime.filter(Boolean).join(" · ")}.`),
        asked(toDo(last) && last.done === undefined && settle),
      ),
    offer,
    form,
  ];
  host.replaceChildren(...parts.filter(Boolean));
  for (const { id, value } of typedBefore) fields.find((one) => one.input.id === id)?.retype(value);
  fields[0].input.focus({ preventScroll: true });
}

/**
 * Whether what was told last time was done; it decides how full the place is by now. Where that is not asked its room
 * stays free, so that what is below is where it was.
 */
const asked = (settle) =>
  settle
    ? h(
        "p",
        { class: "buttons asked", role: "group", "aria-labelledby": "quick-asked" },
        h("span", { id: "quick-asked" }, "Corrected as told?"),
        h("button", { type: "button", id: "quick-done", onclick: () => settle(true) }, "Yes"),
        h("button", { type: "button", id: "quick-not", onclick: () => settle(false) }, "No"),
      )
    : h("p", { class: "buttons asked" });

function fieldsOf(spec, batch, place, document, last, system) {
  const { reads, step, at } = scaleOf(spec, place.reading.method);
  const { schema: instrument } = spec.branchOf(spec.schemas.StrengthReading, {
    method: place.reading.method,
  });
  const tank = spec.branchOf(spec.resolve(batch.properties.tank), document.tank).schema;
  const amount = amountOf(document.tank);
  const most = amount === "level" ? document.tank.full_level : document.tank.capacity;
  const member = spec.member(instrument, reads);
  // What it reads once it is corrected as told.
  const done = last?.done && last.after;
  const left = done && at?.(place.reading, done.concentration);
  const standing = document.tank[amount];
  return [
    numberField({
      id: "quick-reading",
      title: readingTitle(spec, place.reading),
      schema: member,
      unit: symbol(member, system),
      step,
      from: last?.reading[reads] ?? at?.(place.reading, place.band.target),
      usual: left ? Number(left.toFixed(placesOf(step))) : last?.reading[reads],
      before: (text) => (left ? `It was corrected to ${text}.` : `Last time it read ${text}.`),
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
      step: nice(most / 100),
      value: done ? roughly(standing, most) : standing,
      said: last ? (last.done ? "As it was left last time" : "As it stood last time") : "As it usually is",
      most,
      usual: last && standing,
      before: (text) => `It held ${text} last.`,
      goes: "go",
      path: ["tank", amount],
    }),
  ].filter(Boolean);
}

/** A step of 1, 2 or 5 times a power of ten. */
function nice(number) {
  const power = 10 ** Math.floor(Math.log10(number));
  return [1, 2, 5, 10].find((one) => one * power >= number * 0.999) * power;
}

/** How many decimals a step has. */
const placesOf = (step) => Math.max(0, -Math.floor(Math.log10(step) + 1e-9));

/** The next multiple of a step above a number, or below it. */
function next(number, step, sign) {
  const whole = number / step;
  return (sign > 0 ? Math.floor(whole + 1e-6) + 1 : Math.ceil(whole - 1e-6) - 1) * step;
}

/** A button that acts when it is tapped, and again and again while it is held. */
function held(attributes, act, text) {
  let waiting;
  let acted = false; // whether what comes up is the end of holding it
  const end = () => clearTimeout(waiting);
  const again = () => {
    acted = true;
    act();
    waiting = setTimeout(again, AGAIN);
  };
  const start = ({ button }) => {
    end();
    acted = false;
    if (button === 0) waiting = setTimeout(again, HELD);
  };
  const tap = ({ detail }) => {
    if (!acted || detail === 0) act(); // a key has no pointer that held it
    acted = false;
  };
  const whole = h("button", { type: "button", ...attributes, onpointerdown: start, onclick: tap }, text);
  for (const name of ["pointerup", "pointerleave", "pointercancel"]) whole.addEventListener(name, end);
  // A long touch opens no menu over it.
  whole.addEventListener("contextmenu", (event) => event.preventDefault());
  return whole;
}

/**
 * A big number with a button less and a button more, at most as much as `most`. A step from an
 * empty field begins at `from`; of a `value` that stands in it `said` tells where it comes from. A number far from the
 * `usual` one is told of with what was `before`. Enter `goes` on to the next number, or to the answer.
 */
function numberField({
  id,
  title,
  schema,
  unit,
  step,
  value,
  said,
  from,
  most,
  usual,
  before,
  goes = "next",
  path,
}) {
  const offered = value === undefined ? undefined : asWritten(value);
  const places = placesOf(step);
  const fault = h("p", { class: "fault", id: `${id}-fault` });
  const input = h("input", {
    id,
    inputmode: "decimal",
    enterkeyhint: goes,
    autocomplete: "off",
    "aria-required": "true",
    "aria-describedby": value === undefined ? `${id}-fault` : `${id}-origin ${id}-fault`,
  });
  const follow = () => {
    input.toggleAttribute("data-typed", input.value !== untouched);
    tell();
  };
  const put = (number) => {
    input.value = typed(number);
    follow();
  };
  const origin = h("p", { class: "hint origin", id: `${id}-origin` });
  const tell = () => {
    if (value === undefined) return;
    const back = () => {
      put(offered);
      say("");
      input.focus();
    };
    const text = `${said}: ${typed(offered)}${unit ? `\u00a0${unit}` : ""}`;
    origin.replaceChildren(
      input.value === typed(offered) ? `${said}.` : h("button", { type: "button", onclick: back }, text),
    );
  };
  const number = () => read(input.value, schema.maximum);
  const move = (sign) => {
    const now = number();
    const start = typeof now === "number" ? now : from;
    say("");
    if (!Number.isFinite(start)) return input.focus();
    const least = schema.minimum ?? 0;
    const to = Number(next(start, step, sign).toFixed(places));
    return put(Math.min(Math.max(to, least), most ?? schema.maximum ?? Infinity));
  };
  const say = (text) => {
    fault.textContent = text;
    fault.classList.remove("asks");
    if (text) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
  };
  const button = (text, sign, word) =>
    held({ class: "step", "aria-label": `${title}: ${word}` }, () => move(sign), text);
  input.addEventListener("input", () => {
    say("");
    follow();
  });
  input.addEventListener("focus", () => input.select());
  const untouched = typed(offered);
  put(offered);
  const was = usual > 0 && before(`${written(typed(offered ?? usual))}${unit ? `\u00a0${unit}` : ""}`);
  const of = most ? `of ${written(shown(most))}\u00a0` : "";
  const field = {
    input,
    path,
    /** Asks back what is far from what it was. */
    doubt() {
      askBack(input, fault, { was, is: `${input.value}${unit ? `\u00a0${unit}` : ""}`, button: "Calculate" });
    },
    retype(text) {
      input.value = text;
      follow();
    },
    /** Whether it is far from what it was. */
    isFar: () => isFar(path[0], field.value, usual),
    element: h(
      "div",
      { class: "field big" },
      h("label", { for: id }, title, (unit || most) && h("span", { class: "unit" }, `, ${of}${unit}`)),
      h("div", { class: "stepped" }, button("−", -1, "less"), input, button("+", 1, "more")),
      value !== undefined && origin,
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
            ? unread(now, unit)
            : now > (most ?? Infinity)
              ? `It holds ${typed(most)} at most.`
              : "",
      );
      return !fault.textContent;
    },
  };
  return field;
}
