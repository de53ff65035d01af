// A field of a form: a number, a text, a moment, or one of several words.

import { held, textOf, valueFrom } from "./cell.js";
import { h } from "./dom.js";
import { isMoment, local, readMoment, zone } from "./moment.js";
import { hint, label, pointer, unitAfter } from "./schema.js";
import { shown } from "./units.js";

const BUTTONS_MOST = 4; // more choices than this go into a list to pick from

/** One value to fill in, in its place in `form`. */
export function field(form, schema, path, title, required) {
  const kind = form.spec.kind(schema);
  const at = `at${pointer(path)}`;
  const value = form.get(path);
  if (kind === "choice" || kind === "flag") {
    const given =
      kind === "flag" ? { yes: true, no: false } : Object.fromEntries(schema.enum.map((one) => [one, one]));
    const none = "not given";
    const names = [...Object.keys(given), ...(required ? [] : [none])];
    const now = Object.keys(given).find((name) => given[name] === value) ?? (required ? undefined : none);
    return choices(form, path, title, names, now, (name) => form.set(path, given[name]), {
      said: hint(schema, title),
      required,
    });
  }
  const said = [hint(schema, title), kind === "number" && bounds(schema)].filter(Boolean).join(" ");
  if (held(form.spec, schema) === "moment" && (value == null || isMoment(value)))
    return moment(form, schema, path, title, required);
  const number = kind === "number";
  const unit = number && unitAfter(title, schema, form.document.units);
  const input = h("input", {
    id: at,
    autocomplete: "off",
    inputmode: number ? "decimal" : null,
    "aria-describedby": form.described(path, true),
    "aria-required": required ? "true" : null,
    maxlength: schema.maxLength,
  });
  input.value = textOf(form.spec, schema, value);
  // A number that is typed takes the place of the one that stood there.
  if (number) input.addEventListener("focus", () => input.select());
  input.addEventListener("input", () => {
    form.set(
      path,
      number ? valueFrom(form.spec, schema, input.value, form.document.units) : input.value || undefined,
    );
    form.clear(path);
  });
  return h(
    "div",
    { class: number ? "field number" : "field" },
    h(
      "label",
      { for: at },
      title,
      unit && h("span", { class: "unit" }, `, ${unit}`),
      !required && h("span", { class: "hint" }, " (optional)"),
    ),
    input,
    h("p", { class: "hint", id: `hint${pointer(path)}` }, said),
    form.fault(path),
  );
}

/** A date with its time, by this device's clock; what is not changed keeps the offset that it has. */
function moment(form, schema, path, title, required) {
  const at = `at${pointer(path)}`;
  const value = form.get(path);
  const said = h("p", { class: "hint", id: `hint${pointer(path)}` });
  const tell = () => said.replaceChildren(`Date and time ${zone(form.get(path))}. ${hint(schema, title)}`);
  const input = h("input", {
    id: at,
    type: "datetime-local",
    step: 1,
    "aria-describedby": form.described(path, true),
    "aria-required": required ? "true" : null,
  });
  input.value = value ? local(value) : "";
  input.addEventListener("input", () => {
    form.set(path, readMoment(input.value));
    form.clear(path);
    tell();
  });
  tell();
  return h(
    "div",
    { class: "field" },
    h("label", { for: at }, title, !required && h("span", { class: "hint" }, " (optional)")),
    input,
    said,
    form.fault(path),
  );
}

/** One of several: buttons where they are few, a list where they are many. */
export function choices(form, path, title, names, now, choose, { said, required }) {
  const at = `at${pointer(path)}`;
  const edit = (name) => {
    choose(name);
    form.clear(path);
  };
  const heard = {
    id: at,
    "aria-describedby": form.described(path, said),
    "aria-required": required ? "true" : null,
  };
  if (names.length > BUTTONS_MOST) {
    const select = h(
      "select",
      { ...heard, onchange: () => edit(select.value) },
      now === undefined && h("option", { value: "" }, "choose"),
      names.map((name) => h("option", { value: name, selected: name === now }, label(name))),
    );
    return h(
      "div",
      { class: "field" },
      h("label", { for: at }, title),
      select,
      form.about(path, said),
      form.fault(path),
    );
  }
  return h(
    "fieldset",
    { class: "choices", role: "radiogroup", ...heard },
    h("legend", null, title),
    form.about(path, said),
    names.map((name) =>
      h(
        "label",
        null,
        h("input", {
          type: "radio",
          name: at,
          id: `${at}:${name}`,
          checked: name === now,
          onchange: () => edit(name),
        }),
        ` ${label(name)}`,
      ),
    ),
    form.fault(path),
  );
}

/** Where the focus goes for a place: into a group of buttons, to the one that is chosen. */
export const entry = (place) =>
  place?.matches("[role=radiogroup]")
    ? (place.querySelector(":checked") ?? place.querySelector("input"))
    : place;

const bounds = (schema) => {
  const { unit } = schema;
  const same = unit && unit.metric === unit.us && schema.maximum <= 1000;
  const share = !schema.minimum && schema.maximum === 100; // goes without saying
  return same && !share
    ? `From ${shown(schema.minimum ?? schema.exclusiveMinimum ?? 0)} to ${shown(schema.maximum)}.`
    : "";
};
