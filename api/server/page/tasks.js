// The tasks of the page: every calculation that the service has, the batch check, which asks two, and the morning
// round, which asks one of every machine.

import { ask, example } from "./ask.js";
import * as batch from "./batch.js";
import { pictured, show } from "./batch-answer.js";
import { h } from "./dom.js";
import { label } from "./schema.js";

/** The tasks that stand first in the menu. */
const FIRST = ["top-up", "condition", "recharge", "recycler", "forecast", "disposal"];

/** What this page calls a task; any other calculation is called by its own name. */
const TITLES = {
  "top-up": "Sump top-up",
  "top-up-round": "Top-up round",
  condition: "Fluid condition",
  dose: "Dose a product",
  "test-plan": "Tests due",
  calendar: "Year of clean-outs",
  recharge: "Recharge round",
  recycler: "Recycler plan",
  "sump-state": "State of a sump",
  forecast: "Forecast",
  disposal: "Waste over a year",
  "make-up": "Make-up supply",
  supplies: "Orders and stock",
};

/** Every task: those with a name of their own first, then whatever else there is. */
export function everyTask(spec) {
  const general = (calculation) => ({
    ...calculation,
    id: calculation.name,
    schema: calculation.question,
    title: TITLES[calculation.name] ?? label(calculation.name.replaceAll("-", " ")),
    example: () => example(calculation.name),
    load: () => spec.complete(),
    answer: async (document) => {
      const outcome = await ask(calculation.name, document);
      return { ...outcome, asked: [{ name: calculation.name, ...outcome }] };
    },
  });
  const all = spec.calculations.map(general);
  const find = (name) => all.find((one) => one.name === name);
  const named = FIRST.map(find).filter(Boolean);
  const first = find("top-up") &&
    find("concentration") && {
      ...find("top-up"),
      id: "batch",
      title: "Batch check",
      schema: batch.schema(spec),
      asks: find("top-up").question,
      batch: true,
      folded: ["reference"],
      load: undefined,
      sheet: false,
      chart: false,
      summary: "Is this tank in its band, and what has to go in or out?",
      example: async () => structuredClone(batch.EXAMPLE),
      complete: batch.complete,
      answer: (document) => batch.answer(document, ask),
      show,
      pictured,
    };
  const round = find("condition") && {
    ...find("condition"),
    id: "morning",
    title: "Morning round",
    sheet: false,
    chart: false,
    summary: "What does each machine want today, and where do I begin?",
    load: async () => {
      const [{ task }] = await Promise.all([import("./morning.js"), spec.complete()]);
      Object.assign(round, task(spec, spec.resolve(find("condition").question)));
    },
  };
  return [...[first, round].filter(Boolean), ...named, ...all.filter((one) => !named.includes(one))];
}

/** The menu: links to the tasks, those with a title of this page's own first. */
export function menu(tasks) {
  const link = (one) => h("li", null, h("a", { href: `#${one.id}` }, one.title));
  const own = (one) => one.batch || FIRST.includes(one.name);
  const others = tasks.filter((one) => !own(one));
  return [
    h(
      "ul",
      null,
      h("li", null, h("a", { href: "#kept" }, "Tanks and machines")),
      tasks.filter(own).map(link),
    ),
    ...(others.length > 0
      ? [
          h("p", { id: "others" }, "Other questions"),
          h("ul", { "aria-labelledby": "others" }, others.map(link)),
        ]
      : []),
  ];
}
