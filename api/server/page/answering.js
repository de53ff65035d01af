// Asking, and showing what came back.

import { answerOf, doubts, exchanges } from "./answer.js";
import { apart } from "./apart.js";
import { unoffered } from "./ask.js";
import { drawChart } from "./chart.js";
import { by, h } from "./dom.js";
import { Figures } from "./figures.js";
import { settle } from "./kept/undo.js";
import { say, tell, unanswered, unsay } from "./notice.js";
import { keep, now, whole } from "./now.js";
import { decimalSign } from "./writing.js";

const SOON = 400; // milliseconds

let checks = []; // the statements of this batch, in the order they were made
let rereading = false; // whether what was told is done, and read again

const figures = () => new Figures(now.spec, now.units, now.task.asks ?? now.task.schema);

/** Takes an answer off the screen, and what was said. */
export function forget() {
  checks = [];
  by("status").textContent = "";
  by("answer").replaceChildren();
  by("linked").hidden = true;
  by("back").hidden = true;
  unsay();
}

/** Whether an answer is on the screen. */
export const isAnswered = () => by("answer").querySelector(".statement") !== null;

/** Says of the answer on the screen that the entries have changed since. */
export function outdate() {
  if (!isAnswered() || by("answer").querySelector(".stale")) return;
  by("answer").prepend(
    h("p", { class: "stale" }, "The entries have changed since this answer was calculated. Calculate again."),
  );
  say("The answer is out of date.", true);
}

/** Asks what is entered. */
export async function submit(event, quiet = false) {
  event?.preventDefault();
  const { spec, task, form } = now;
  if (!form) return;
  form.faults([]);
  unsay();
  settle();
  const unreadable = task.byRow ? [] : spec.unread(task.schema, form.document);
  if (unreadable.length > 0)
    return refuse({ problem: { title: "A number cannot be read", errors: unreadable } });
  now.asked += 1;
  const mine = now.asked;
  say("Calculating …");
  by("answer").setAttribute("aria-busy", "true");
  try {
    const outcome = await task.answer(whole());
    if (mine !== now.asked) return;
    if (outcome.problem) refuse(outcome);
    else answered(outcome, quiet);
  } catch (error) {
    if (mine === now.asked) unanswered(error, () => submit(), "Your entries are kept: nothing is lost.");
  } finally {
    by("answer").removeAttribute("aria-busy");
  }
}

/** Asks the same again without moving the screen, as after a change of units. */
export function askAgain() {
  checks = [];
  if (isAnswered()) submit(undefined, true);
  else forget();
}

/** Shows problems: each beside its field, what has none at the top. */
function refuse({ asked: all = [], problem }) {
  by("answer").replaceChildren();
  by("back").hidden = true;
  const errors = problem.errors?.length ? problem.errors : [{ pointer: "", detail: problem.detail }];
  const { homeless, count, first } = now.form.faults(errors);
  const marked = count === 1 ? "One entry needs" : `${count} entries need`;
  const [head, ...rest] = [
    ...(first ? [`${marked} another look: marked “Fix this”.`] : []),
    ...homeless.map((fault) => fault.detail),
  ];
  const box = tell(
    "alert",
    head ?? problem.title,
    rest.map((text) => h("p", null, text)),
    problem.reachable && [
      h("h2", null, "What could be reached"),
      figures().value({ $ref: "#/components/schemas/ReachableRanges" }, problem.reachable, 3),
    ],
    exchanges(all),
  );
  if (first) {
    first.scrollIntoView({ block: "center" });
    first.focus({ preventScroll: true });
  } else {
    box.scrollIntoView();
    box.focus();
  }
}

function answered(outcome, quiet) {
  const { spec, task, form } = now;
  const { record, request, asked: all, onDevice } = outcome;
  const picture = h("div", { class: "picture" });
  const body = task.show
    ? task.show(outcome, {
        figures: figures(),
        recordSchema: task.record,
        checks,
        again,
        change: () => by("change").click(),
        last: now.place && now.last,
        document: whole(),
        typed: form.document,
        picture,
      })
    : answerOf(figures(), task.record, record, {
        picture,
        // Sheets and pictures in a tab of their own are the service's.
        apart: apart(task, request, record, onDevice),
      });
  by("answer").replaceChildren(
    ...[
      h("h2", { class: "unseen", id: "answered", tabindex: -1, "aria-describedby": "statement" }, "Answer"),
      body,
      h(
        "p",
        { class: "buttons", id: "with-answer" },
        h("button", { type: "button", onclick: () => print() }, "Print this answer"),
      ),
      entries(),
      exchanges(all),
    ]
      .flat(Infinity)
      .filter(Boolean),
  );
  by("back").hidden = false;
  say("Answered.", true);
  if (!quiet) {
    note(outcome).catch(unoffered);
    by("answered").focus({ preventScroll: true });
    document.querySelector(".result").scrollIntoView();
  }
  form.faults(outcome.faults ?? []);
  const drawn = task.pictured ? task.pictured(outcome) : { name: task.name, request };
  if (drawn && spec.calculations.find(({ name }) => name === drawn.name).chart) {
    const mine = now.asked;
    drawChart(picture, { ...task, name: drawn.name }, drawn.request, () => mine === now.asked, decimalSign());
  }
  keep();
}

/** What is kept of an answer, and what can be. */
async function note(outcome) {
  const again = rereading;
  rereading = false;
  const [place, document, below] = [
    now.place,
    whole(),
    by("answer").querySelector(".behind") ?? by("with-answer"),
  ];
  const id = now.task.id;
  if (!["batch", "top-up", "losses"].includes(id) || (id === "losses" && !place)) return;
  // The answer first: what is kept is fetched once it stands there.
  await new Promise((next) => setTimeout(next, place ? 0 : SOON));
  if (!below.isConnected) return;
  const kept = await now.kept();
  const add = (node) => node && below.isConnected && below.before(node);
  const steps = by("answer").querySelector(":scope > .do");
  if (id === "batch" && place) {
    // A reading that is in doubt is no entry in a history.
    if ((outcome.record.findings ?? []).some(doubts)) return;
    const { noted, gaveWay } = (await kept.note(place, document, outcome, again)) ?? {};
    if (steps && noted) steps.after(noted);
    else add(noted);
    if (gaveWay && below.isConnected) by("answer").querySelector(".goes-by").after(gaveWay);
  } else if (id !== "losses") {
    const offered = kept.offer(id, document, outcome);
    if (steps && offered) steps.after(offered);
    else add(offered);
  } else add(kept.offerLosses(place, outcome.record));
}

/** What was asked, to stand beside the answer. */
const entries = () =>
  h(
    "details",
    { class: "fold" },
    h("summary", null, "Entries"),
    figures().value(now.task.schema, whole(), 3),
  );

/** The next reading of the batch: into the form, and asked at once. `done` says that what was told was done. */
function again(document, done) {
  now.form.show(document);
  rereading = done;
  now.last = undefined; // it stands below the answer now
  submit();
}
