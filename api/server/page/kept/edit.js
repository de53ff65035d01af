// A tank or machine is described once: what it holds, how it is read, what it is kept in.

import { by, h } from "../dom.js";
import { Form } from "../form.js";
import { contradictions, judge } from "./judge.js";
import { filledPlace, madePlace, placeSchema } from "./place.js";

/** What is usually said of one: the form shows these without unfolding. */
const USUAL = {
  product: "",
  tank: { measured_by: "volume", volume: 0 },
  reading: { method: "refractometer", water_brix: 0 },
};

/** Draws it; `draft` is what is filled in already, `place` what is changed. `kept` is called with what was kept. */
export function edit(host, { spec, batch, units, place, draft, keep, remove, back }) {
  const schema = placeSchema(spec, batch);
  const said = h("p", { class: "fault", role: "alert" });
  const fields = h("div");
  const form = new Form(spec, schema, fields, () => {
    said.textContent = "";
  });
  const blank = spec.blank(schema, USUAL);
  const system = units();
  const given = place
    ? filledPlace(spec, batch, place, system)
    : draft && spec.convert(schema, draft, system);
  const submit = (event) => {
    event.preventDefault();
    const { units: _, ...document } = spec.pruned(schema, form.document);
    const found = judge(spec, schema, document);
    const faults = found.length > 0 ? found : contradictions(document);
    const { first, homeless } = form.faults(faults);
    said.textContent = homeless.map((fault) => fault.detail).join(" ");
    if (faults.length === 0) return keep(madePlace(spec, batch, { ...document, units: system }, place));
    first?.scrollIntoView({ block: "center" });
    first?.focus({ preventScroll: true });
  };
  host.replaceChildren(
    h("h2", { tabindex: -1, id: "kept-title" }, place ? `Change ${place.name}` : "Add a tank or machine"),
    h("p", { class: "hint" }, "It is kept in this browser, on this device. Nothing of it is sent anywhere."),
    h(
      "form",
      { class: "edit", novalidate: true, "aria-labelledby": "kept-title", onsubmit: submit },
      fields,
      said,
      h("p", { class: "go" }, h("button", { class: "main" }, place ? "Keep the changes" : "Keep it")),
      h(
        "p",
        { class: "buttons" },
        h("a", { class: "button", href: back }, "Cancel"),
        place && h("button", { type: "button", onclick: remove }, `Remove ${place.name}`),
      ),
    ),
  );
  form.open({ ...blank, kind: "machine", ...given, units: system }, USUAL);
  // Of what is filled in already the name is missing.
  if (draft && !draft.name) by("at/name").focus({ preventScroll: true });
}
