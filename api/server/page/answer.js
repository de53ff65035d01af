// The frame of an answer: the statement first and largest, then the picture, what to look at,
// what to do, what can hurt, and behind folds the figures and the record for a program.

import { h, svg } from "./dom.js";
import { stepsOf } from "./steps.js";
import { told, writtenIn } from "./writing.js";

const READ_FIRST = 110; // a longer sentence is cut where it takes a breath

/** A statement cut into what is read first and the rest. */
export function cut(text) {
  const [, first, rest = ""] = /^(.*?[.!?])(?:\s+(?=[\p{Lu}\d"“])(.*))?$/su.exec(text) ?? ["", text];
  if (first.length <= READ_FIRST) return [first, rest];
  const breath = /^(.{30,}?)[:;] (.*)$/s.exec(first);
  // What follows is read as a sentence of its own.
  return breath
    ? [`${breath[1]}.`, `${breath[2][0].toUpperCase()}${breath[2].slice(1)} ${rest}`.trim()]
    : [first, rest];
}

/** Shapes that say the same as the words beside them. */
const MARKS = {
  good: [
    ["circle", { cx: 12, cy: 12, r: 10 }],
    ["path", { d: "M7 12.5l3.5 3.5 6.5-7" }],
  ],
  act: [
    ["path", { d: "M12 2.5L22.5 21h-21z" }],
    ["path", { d: "M12 9.5v6M12 18v.6" }],
  ],
  watch: [
    ["circle", { cx: 12, cy: 12, r: 10 }],
    ["path", { d: "M12 6v7M12 17v.6" }],
  ],
};

/** A verdict in a word, with a shape that says the same. */
export const verdict = (kind, word) =>
  h(
    "p",
    { class: `verdict ${kind}` },
    svg(
      "svg",
      { viewBox: "0 0 24 24", class: "shape", "aria-hidden": "true" },
      MARKS[kind].map(([tag, attributes]) => svg(tag, attributes)),
    ),
    word,
  );

const SEVERITY = { act: "Act first", watch: "Watch", note: "Note" };

/** The verdict of a record's own findings, where one of them wants something. */
function worst(findings = []) {
  const found = ["act", "watch"].find((one) => findings.some(({ severity }) => severity === one));
  return found && verdict(found, SEVERITY[found]);
}

/** Findings that doubt what was entered: the statement opens with them. */
const DOUBTS = ["strength-unusual"];

/** Whether a finding doubts an entry. */
export const doubts = ({ code }) => DOUBTS.includes(code);

/** What the answer comes to: what is read first at arm's length, the rest below it. */
export function statement(text, record, how = worst(record.findings)) {
  const [first, rest] = cut(text ?? "Calculated.");
  return h(
    "section",
    { class: "statement", id: "statement" },
    record.reference && h("p", { class: "reference" }, record.reference),
    how,
    h("p", { class: "headline" }, told(first)),
    rest && h("p", { class: "rest" }, told(rest)),
  );
}

/** What to look at before the answer is followed, the worst first. */
export const findings = (list = [], wanted = (one) => !doubts(one)) =>
  list.some(wanted) &&
  h(
    "ul",
    { class: "findings" },
    list
      .filter(wanted)
      .map((one) =>
        h(
          "li",
          { class: one.severity },
          h("strong", null, SEVERITY[one.severity]),
          h("p", null, told(one.text)),
        ),
      ),
  );

/** Whether a finding comes before everything else: its word stands over the statement. */
const isFirst = (one) => !doubts(one) && one.severity === "act";

/** What can hurt, always in sight. */
export const cautions = (list) =>
  list.length > 0 &&
  h(
    "section",
    { class: "care" },
    h("h3", null, "Take care"),
    h(
      "ul",
      null,
      list.map((one) => h("li", null, writtenIn(one.text))),
    ),
  );

/** A whole record; `more` is what a task has to show of its own: the place of its picture, what opens apart. */
export function answerOf(figures, recordSchema, record, { picture, apart }) {
  const { answer, name, steps } = stepsOf(figures, recordSchema, record);
  const { flat, deep } = figures.parts(answer, record.answer, [name]);
  return [
    statement(record.statement, record),
    findings(record.findings, isFirst),
    picture,
    findings(record.findings, (one) => !doubts(one) && !isFirst(one)),
    steps,
    apart,
    cautions(record.cautions),
    (flat.length > 0 || deep.length > 0) &&
      h(
        "section",
        { class: "behind" },
        h("h3", null, "Figures"),
        explain(),
        figures.figures(flat),
        figures.folds(deep, 4),
        behind(figures, recordSchema, record),
      ),
  ];
}

/** Shows or hides what each figure means. */
export const explain = () =>
  h(
    "button",
    {
      type: "button",
      class: "small",
      "aria-pressed": "false",
      onclick: ({ target }) => {
        const explained = target.closest(".behind").classList.toggle("explained");
        target.setAttribute("aria-pressed", String(explained));
      },
    },
    "Explain them",
  );

/** What stands behind an answer: the assumptions, and the balance. */
export function behind(figures, recordSchema, record) {
  const s = figures.spec.resolve(recordSchema);
  const about = (one) =>
    one.pointer &&
    h("span", { class: "hint" }, ` (${figures.spec.titles(figures.question, one.pointer).join(", ")})`);
  return [
    record.assumptions.length > 0 &&
      h(
        "details",
        { class: "fold" },
        h("summary", null, "Assumptions", h("span", { class: "hint" }, ` ${record.assumptions.length}`)),
        h(
          "ul",
          null,
          record.assumptions.map((one) => h("li", null, writtenIn(one.text), about(one))),
        ),
      ),
    record.balance &&
      h(
        "details",
        { class: "fold" },
        h("summary", null, "Material balance"),
        figures.members(figures.spec.member(s, "balance"), record.balance, 4),
      ),
  ];
}

/** What was sent and what came back, for whoever puts the same question from a program. */
export function exchanges(asked) {
  const one = ({ name, request, record, problem }) => [
    h("p", null, h("strong", null, `POST v1/${name}`)),
    json(`Request to ${name}`, request),
    json(`${problem ? "Problem" : "Answer"} of ${name}`, problem ?? record),
  ];
  return (
    asked.length > 0 &&
    h(
      "details",
      { class: "fold json" },
      h("summary", null, "For a program: the same as JSON"),
      asked.map(one),
    )
  );
}

const json = (title, document) =>
  h("pre", { tabindex: 0, role: "group", "aria-label": title }, JSON.stringify(document, null, 2));
