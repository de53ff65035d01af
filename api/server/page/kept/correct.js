// A check is put right, or deleted: when it was, what was read, what was really done.

import { answer } from "../batch.js";
import { h } from "../dom.js";
import { mixed } from "../measured.js";
import { pointer, symbol, titled } from "../schema.js";
import { asWritten, convert, read, typed, unread } from "../units.js";
import { amountOf, documentOf, scaleOf, slope } from "./place.js";
import { checkOf, checkSchema, clean, moment, toDo } from "./record.js";
import { undoable } from "./undo.js";
import { readingTitle, when } from "./words.js";

/** Opens it over the page; `again` draws what shows the check. */
export function correct(check, context, again) {
  const { spec, units } = context;
  const system = units();
  const fields = fieldsOf(check, spec, system);
  const at = h("input", {
    id: "correct-at",
    type: "datetime-local",
    step: 60,
    "aria-describedby": "correct-at-fault",
  });
  at.value = moment(new Date(check.at)).slice(0, 16);
  const atFault = h("p", { class: "fault", id: "correct-at-fault" });
  const done = check.told === undefined ? undefined : choice(check.done);
  const said = h("p", { role: "alert" });
  const submit = async (event) => {
    event.preventDefault();
    const wrong = fields.filter((one) => !one.take());
    atFault.textContent = at.value ? "" : "Nothing is filled in here.";
    if (!at.value) return at.focus();
    if (wrong.length > 0) return wrong[0].input.focus();
    const next = structuredClone(check);
    if (at.value !== moment(new Date(check.at)).slice(0, 16)) next.at = moment(new Date(at.value));
    for (const { path, value } of fields) set(next, path, value);
    if (done) next.done = done.value();
    await context.store.keepCheck(await workedOut(next, check, context));
    dialog.close();
    await again();
    undoable(`The check of ${when(check.at)} is corrected.`, async () => {
      await context.store.keepCheck(check);
      await again();
    });
  };
  const remove = async () => {
    await context.store.removeCheck(check.id);
    dialog.close();
    await again();
    undoable(`The check of ${when(check.at)} is deleted.`, async () => {
      await context.store.keepCheck(check);
      await again();
    });
  };
  const dialog = h(
    "dialog",
    { class: "correct", "aria-labelledby": "correct-title" },
    h(
      "form",
      { novalidate: true, onsubmit: submit },
      h("h3", { id: "correct-title" }, `Check of ${when(check.at)}`),
      h("div", { class: "field" }, h("label", { for: "correct-at" }, "When"), at, atFault),
      fields.map((one) => one.element),
      done?.element,
      said,
      h(
        "p",
        { class: "buttons" },
        h("button", { class: "main" }, "Keep"),
        h("button", { type: "button", onclick: () => dialog.close() }, "Cancel"),
        h("button", { type: "button", onclick: remove }, "Delete this check"),
      ),
    ),
  );
  dialog.addEventListener("close", () => dialog.remove());
  document.body.append(dialog);
  dialog.showModal();
  fields[0].input.focus();
}

/**
 * A corrected check with what follows from it: what a reading stands for and, unless it is done, what is to be done. What
 * was done stays as it was, and what stood in it then comes of it. Where nobody answers, nothing follows.
 */
async function workedOut(next, before, { spec, batch, place, ask }) {
  if (next.level !== undefined) next.volume = next.level * slope(place.tank);
  const isRead = JSON.stringify(next.reading) === JSON.stringify(before.reading);
  if (isRead && next.volume === before.volume)
    return clean(next.done ? { ...next, after: mixed(next) ?? next.after } : next);
  const document = documentOf(spec, batch, place, "metric");
  document.reading = next.reading;
  document.tank[amountOf(document.tank)] = next.level ?? next.volume;
  const { id, at, done, told, drained, added } = next;
  const outcome = await answer(document, ask).catch(() => ({}));
  if (!outcome.record) {
    const { concentration, standing, marks } = outcome.asked?.[0].record?.answer ?? {};
    const unknown = done ? {} : { told: undefined, drained: undefined, added: undefined, done: undefined };
    return clean({ ...next, concentration, standing, marks, after: undefined, ...unknown });
  }
  const anew = { ...checkOf(spec, place, document, outcome), id, at };
  if (!done) return clean({ ...anew, done: toDo(anew) ? done : undefined });
  const corrected = { ...anew, told, drained, added, done };
  return clean({ ...corrected, after: mixed(corrected) ?? corrected.after });
}

const set = (whole, [step, ...rest], value) => {
  if (rest.length > 0) set(whole[step], rest, value);
  else if (value === undefined) delete whole[step];
  else whole[step] = value;
};

/** A number of a check for each that can be put right. */
function fieldsOf(check, spec, system) {
  const { reads } = scaleOf(spec, check.reading.method);
  const branch = spec.branchOf(spec.schemas.StrengthReading, check.reading).schema;
  const schema = checkSchema();
  const field = (path, s, value, title) => numberField(path, s, value, title, system);
  const amount = check.level === undefined ? "volume" : "level";
  const member = spec.member(schema, amount);
  const added = spec.resolve(spec.member(schema, "added").items);
  return [
    field(
      ["reading", reads],
      spec.member(branch, reads),
      check.reading[reads],
      readingTitle(spec, check.reading),
    ),
    field([amount], member, check[amount], member.title),
    ...(check.drained === undefined
      ? []
      : [field(["drained"], spec.member(schema, "drained"), check.drained, "Drained")]),
    ...(check.added ?? []).map((one, i) =>
      field(["added", i, "volume"], spec.member(added, "volume"), one.volume, `Added of ${one.name}`),
    ),
  ];
}

/** A number in the units of the page for one that is kept in metric. */
function numberField(path, schema, kept, title, system) {
  const id = `correct${pointer(path).replaceAll("/", "-")}`;
  const unit = symbol(schema, system);
  const fault = h("p", { class: "fault", id: `${id}-fault` });
  const input = h("input", {
    id,
    inputmode: "decimal",
    autocomplete: "off",
    "aria-describedby": `${id}-fault`,
  });
  input.addEventListener("focus", () => input.select());
  const before = kept === undefined ? undefined : fromMetric(kept, schema.unit, system);
  // Left untouched it is meant exactly.
  input.value = before === undefined ? "" : typed(asWritten(before));
  const untouched = input.value;
  const one = {
    path,
    input,
    element: h(
      "div",
      { class: "field number" },
      h(
        "label",
        { for: id },
        titled({ title }, path.at(-1)),
        unit && h("span", { class: "unit" }, `, ${unit}`),
      ),
      input,
      fault,
    ),
    take() {
      const now = input.value === untouched ? before : read(input.value, schema.maximum);
      const needed = path[0] === "reading";
      fault.textContent =
        now === undefined && needed
          ? "Nothing is filled in here."
          : typeof now === "string"
            ? unread(now, unit)
            : now < (schema.minimum ?? 0) || now > (schema.maximum ?? Infinity)
              ? `It must be from ${typed(schema.minimum ?? 0)} to ${typed(schema.maximum)}.`
              : "";
      if (fault.textContent) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
      const metric = typeof now === "number" && system === "us" ? convert(now, schema.unit, "metric") : now;
      one.value = input.value === untouched ? kept : metric;
      return !fault.textContent;
    },
  };
  return one;
}

const fromMetric = (number, unit, system) => (system === "us" ? convert(number, unit, "us") : number);

/** Whether what was told was done. */
function choice(value) {
  const options = [
    [true, "Done"],
    [false, "Not done"],
    [undefined, "Not known"],
  ];
  const inputs = options.map(([is]) =>
    h("input", { type: "radio", name: "correct-done", checked: is === value }),
  );
  return {
    value: () => options[inputs.findIndex((one) => one.checked)][0],
    element: h(
      "fieldset",
      { class: "choices" },
      h("legend", null, "Was it done?"),
      options.map(([, text], i) => h("label", null, inputs[i], ` ${text}`)),
    ),
  };
}
