// What to do: the steps that an answer holds, in order.

import { h } from "./dom.js";
import { brief, label } from "./schema.js";
import { measuredIn, told } from "./writing.js";

const STEPS = ["sheet", "steps"];
const SAID = ["action", "name", "stock", "sump", "text"];
const OPEN_MOST = 14; // longer lists start folded

/** The steps of a record, drawn, and under which name its answer has them. */
export function stepsOf(figures, recordSchema, record) {
  const answer = figures.spec.member(figures.spec.resolve(recordSchema), "answer");
  const name = STEPS.find((one) => Array.isArray(record.answer[one]));
  const steps = name ? record.answer[name] : [];
  const drawn = steps.length > 0 && list(figures, figures.spec.member(answer, name), steps);
  const body =
    steps.length > OPEN_MOST
      ? h("details", { class: "fold" }, h("summary", null, `${steps.length} steps`), drawn)
      : drawn;
  return { answer, name, steps: drawn && h("section", { class: "do" }, h("h3", null, "What to do"), body) };
}

/**
 * What to do, in order: each step with its amounts, and what a kind of step means is said once. Where the sentence
 * says an amount, that is as it is measured out, and the exact one does not stand beside it.
 */
function list(figures, schema, steps) {
  const { spec, units } = figures;
  const item = spec.resolve(schema.items);
  const meant = new Set();
  return h(
    "ol",
    { class: "steps" },
    steps.map((step) => {
      const stock = step.stock ?? step.name;
      // A stock has its strength in its name; where a scale is read, a strength beside it is read for its mark.
      const isElsewhere = stock || step.mark !== undefined;
      const rest = Object.entries(step)
        .filter(
          ([name, value]) =>
            !SAID.includes(name) && typeof value !== "object" && !(isElsewhere && name === "concentration"),
        )
        .map(([name, value]) => ({ name, value, schema: spec.member(item, name) }));
      const amount = ({ value, schema: s }) => typeof value === "number" && brief(s, units);
      const measured = measuredIn(step.text ?? "");
      const [own, inWords] = [[], []];
      for (const { value, schema: s } of rest.filter(amount)) {
        const exact = figures.plain(s, value);
        const isSaid = [...measuredIn(exact)].some((unit) => measured.has(unit));
        (isSaid ? inWords : own).push(exact);
      }
      const known = meant.size === meant.add(step.action + step.text).size && inWords.length === 0;
      // The sentence says what to read as one reads it.
      const said = ({ name }) => !known && name === "mark";
      const where = rest
        .filter((one) => !amount(one) && !said(one))
        .map(({ name, value, schema: s }) =>
          typeof value === "string"
            ? figures.plain(s, value)
            : `${name.replaceAll("_", " ")} ${figures.plain(s, value)}`,
        );
      return h(
        "li",
        null,
        h("strong", null, label(step.action ?? ""), step.sump ? ` ${step.sump}` : ""),
        stock && ` ${stock}`,
        " ",
        own.map((one, i) => [i > 0 && ", ", h("b", null, one)]),
        where.length > 0 && h("span", { class: "hint" }, where.join(", ")),
        !known && h("span", null, told(step.text)),
      );
    }),
  );
}
