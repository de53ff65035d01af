// The list of the day: what each machine wants, the most urgent first.

import { cautions, cut, statement, verdict } from "./answer.js";
import { h } from "./dom.js";
import { many, written as noted } from "./morning-kept.js";
import { fragment, now } from "./now.js";
import { label } from "./schema.js";
import { shown } from "./units.js";
import { told, written, writtenIn } from "./writing.js";

/** By when, in words. */
const by = (days) => {
  if (days <= 0) return "today";
  return days <= 1 ? "within a day" : `within ${written(shown(days))} days`;
};

/** All that a machine wants, the decision first. */
const wants = ({ decision, product, within_days, besides }) =>
  [{ action: decision, product, within_days }, ...besides].filter(({ action }) => action !== "carry_on");

/** Rows with an answer, with the days in which the first of what they want is due; the most urgent first. */
function urgent(spec, rows) {
  const reach = spec.schemas.CareAction.enum;
  return rows
    .filter(({ record }) => record)
    .map((row) => ({
      ...row,
      reach: reach.indexOf(row.record.answer.decision),
      due: Math.min(...wants(row.record.answer).map((one) => one.within_days)),
    }))
    .sort((a, b) => b.reach - a.reach || a.due - b.due || a.at - b.at);
}

/** How many want something today, and where to begin. */
function inShort({ today, soon, rest, silent, unseen }) {
  const all = today.length + soon.length + rest.length + silent.length;
  const of = `of ${many(all, "machine", "machines")}`;
  const want = (some) => (some.length === 1 ? "wants" : "want");
  const first =
    today.length > 0
      ? `${today.length} ${of} ${want(today)} something today: begin with ${today[0].name}.`
      : soon.length > 0
        ? `Nothing is due today. ${soon.length} ${of} ${want(soon)} something soon: ${soon[0].name}, ${by(soon[0].due)}.`
        : `Nothing is due: ${all === 1 ? `${rest[0].name} carries` : `${rest.length} ${of} ${rest.length === 1 ? "carries" : "carry"}`} on.`;
  return [
    first,
    silent.length > 0 && `${many(silent.length, "machine has", "machines have")} no answer: see below.`,
    unseen.length > 0 && `${many(unseen.length, "machine was", "machines were")} not looked at.`,
  ]
    .filter(Boolean)
    .join(" ");
}

/** What is to be done and by when, as a word with its shape. */
function decided({ answer }) {
  const { decision, within_days, reasons } = answer;
  if (decision === "carry_on")
    return verdict(
      reasons.length > 0 ? "watch" : "good",
      reasons.length > 0 ? "Carry on, and watch" : "Carry on",
    );
  // What is besides is said as large where it is due sooner.
  return wants(answer)
    .filter((one, i) => i === 0 || one.within_days < within_days)
    .map((one) =>
      verdict(
        one.within_days <= 0 ? "act" : "watch",
        `${label(one.action)}${one.product ? `: ${label(one.product).toLowerCase()}` : ""}, ${by(one.within_days)}`,
      ),
    );
}

const box = () => h("span", { class: "tick", "aria-hidden": "true" });

const answered = ({ name, record, request }) => {
  const [first, rest] = cut(record.statement);
  return h(
    "li",
    null,
    box(),
    h("h4", null, name),
    decided(record),
    h("p", null, told(first)),
    rest && h("p", { class: "hint" }, writtenIn(rest)),
    h(
      "p",
      { class: "buttons" },
      h("a", { class: "button small", href: fragment("condition", request) }, `Condition of ${name}`),
    ),
  );
};

/** A row without an answer: why, and the way to it. */
const unanswered = ({ at, name, faults }) =>
  h(
    "li",
    null,
    box(),
    h("h4", null, name),
    h("p", null, faults.map(({ detail }) => detail).join(" ")),
    h(
      "p",
      { class: "buttons" },
      h("button", { type: "button", class: "small", onclick: () => toRow(at) }, `To the row of ${name}`),
    ),
  );

/** Brings the focus to the first place of a row that is marked, or to the row. */
function toRow(at) {
  const row = `at/machines/${at}`;
  const place = document.querySelector(`[aria-invalid][id^="${row}/"]`) ?? document.getElementById(row);
  place?.scrollIntoView({ block: "center" });
  place?.focus({ preventScroll: true });
}

const group = (title, rows, draw) =>
  rows.length > 0 && [h("h3", null, title), h("ol", { class: "round" }, rows.map(draw))];

/** The whole list. */
export function show({ reference, rows }, { figures }) {
  const all = urgent(figures.spec, rows);
  const sorted = {
    today: all.filter(({ due }) => due <= 0),
    soon: all.filter(({ due }) => due > 0 && due < Infinity),
    rest: all.filter(({ due }) => due === Infinity),
    silent: rows.filter(({ faults }) => faults?.length > 0),
    unseen: rows.filter(({ faults, name, at }) => !faults && name !== `row ${at + 1}`),
  };
  const cares = new Map(all.flatMap(({ record }) => record.cautions).map((one) => [one.text, one]));
  return [
    statement(inShort(sorted), { reference }),
    group("Today", sorted.today, answered),
    group("In the next days", sorted.soon, answered),
    group("Carry on", sorted.rest, answered),
    group("No answer", sorted.silent, unanswered),
    sorted.unseen.length > 0 && [
      h("h3", null, "Not looked at"),
      h("p", null, sorted.unseen.map(({ name }) => name).join(", ")),
    ],
    noted(all, now.units),
    cautions([...cares.values()]),
  ];
}
