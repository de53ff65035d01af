// The page: which task is open, what was typed, asking, and what came back.

import { answerOf, exchanges } from "./answer.js";
import { ADDRESS_MOST, apart } from "./apart.js";
import { hasKey, schemas } from "./ask.js";
import { pictured, show } from "./batch-answer.js";
import { drawChart } from "./chart.js";
import { by, h } from "./dom.js";
import { draft, keepDraft } from "./drafts.js";
import { Figures } from "./figures.js";
import { Form } from "./form.js";
import { settle, undoable } from "./kept/undo.js";
import { say, setKey, tell, unanswered, unsay } from "./notice.js";
import { Spec } from "./schema.js";
import { everyTask, menu } from "./tasks.js";

let spec, tasks, task, form; // what is open
let units = remembered() ?? "metric";
let checks = []; // the statements of this batch, in the order they were made
let here; // the fragment of the address that is open
let saving; // the timer that keeps the address in step
let asked = 0; // so that a late answer to an earlier question is not shown

function remembered() {
  try {
    const kept = localStorage.getItem("units");
    return ["metric", "us"].includes(kept) ? kept : undefined;
  } catch {
    /* the browser keeps nothing */
  }
}

/** Says in the menu which task is open; its links stay, and with them the focus. */
function markMenu() {
  for (const link of by("tasks").querySelectorAll("a")) {
    if (link.hash === `#${task.id}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  by("menu").open = wide.matches;
}

/** The document as it goes out: in the units of the page, nothing blank in it. */
const sent = () => spec.pruned(task.schema, form.document);

/** Keeps the address in step with the entries, so that it can be handed over. */
function keep() {
  clearTimeout(saving);
  keepDraft(task.id, form.document);
  saving = setTimeout(() => {
    if (location.hash !== here) return; // another task is about to open
    const address = `#${task.id}=${encodeURIComponent(JSON.stringify(sent()))}`;
    history.replaceState(null, "", address.length <= ADDRESS_MOST ? address : `#${task.id}`);
    here = location.hash;
  }, 250);
}

/** Opens what the address says: a task, and the entries that were handed over with it. */
async function route(moved) {
  here = location.hash;
  const [, id, entries] = /^#([^=]*)(?:=(.*))?$/s.exec(location.hash) ?? [];
  const found = tasks.find((one) => one.id === id) ?? tasks[0];
  let document;
  let fault =
    id && id !== found.id ? `There is no task called “${id}” here. These are: see Tasks.` : undefined;
  if (entries && !fault) {
    try {
      document = JSON.parse(decodeURIComponent(entries));
      if (!carries(found, document))
        fault = `The entries in this link do not fit “${found.title}”, so the form starts empty. Ask for the link again.`;
    } catch {
      fault =
        "The entries in this link cannot be read: it was cut off or changed on the way. Ask for it again.";
    }
  }
  const handed = fault ? null : document; // a link that is broken hands over nothing
  const opened = await open(found, handed, Boolean(moved));
  if (!opened) return;
  if (fault) tell("alert", fault).scrollIntoView();
  // Whoever hands over whole entries means their answer.
  else if (handed && spec.whole(task.schema, handed)) submit();
}

/** Whether these can be the entries of a task. */
const carries = (one, document) =>
  document !== null &&
  typeof document === "object" &&
  ["metric", "us"].includes(document.units) &&
  spec.fits(one.schema, document);

/** Opens a task with entries, with none (`null`), or with those of before; the focus goes to its
 *  title where it would be lost otherwise. */
async function open(next, document, focus) {
  clearTimeout(saving);
  asked += 1;
  const mine = asked;
  task = next;
  form = undefined;
  by("form").hidden = true;
  by("fields").replaceChildren();
  window.document.title = `${task.title} · Sumpwright`;
  by("title").textContent = task.title;
  by("lead").textContent = task.summary;
  markMenu();
  forget();
  if (focus) by("title").focus();
  say("Loading the form …");
  let example;
  try {
    example = await task.example();
  } catch (error) {
    if (mine === asked) unanswered(error, () => open(next, document, true));
    return false;
  }
  if (mine !== asked) return false;
  say("");
  task.shape = example;
  const before = document === undefined ? draftOf(task) : document;
  if (before) switchTo(before.units);
  form = new Form(spec, task.schema, by("fields"), edited);
  form.open(before ? { ...spec.blank(task.schema, {}), ...before, units } : blank(), example);
  by("form").hidden = false;
  return true;
}

/** What was entered for a task before another was opened. */
function draftOf(one) {
  const before = draft(one.id);
  return before && carries(one, before) ? before : undefined;
}

const blank = () => ({ ...spec.blank(task.schema, task.shape), units, reference: undefined });

function edited() {
  keep();
  by("linked").hidden = true;
  const answer = by("answer");
  if (!answer.querySelector(".statement") || answer.querySelector(".stale")) return;
  answer.prepend(
    h("p", { class: "stale" }, "The entries have changed since this answer was calculated. Calculate again."),
  );
  say("The answer is out of date.", true);
}

function forget() {
  checks = [];
  by("status").textContent = "";
  by("answer").replaceChildren();
  by("linked").hidden = true;
  unsay();
  by("back").hidden = true;
}

function switchTo(next) {
  units = next;
  for (const radio of by("units").querySelectorAll("input")) radio.checked = radio.value === next;
}

function changeUnits(next) {
  switchTo(next);
  try {
    localStorage.setItem("units", next);
  } catch {
    /* the browser keeps nothing */
  }
  if (!form || form.document.units === next) return;
  form.show(spec.convert(task.schema, form.document, next));
  keep();
  checks = [];
  if (by("answer").querySelector(".statement")) submit(undefined, true);
  else forget();
}

/** Shows problems: each beside its field, what has none at the top. */
function refuse({ asked: all = [], problem }) {
  by("answer").replaceChildren();
  by("back").hidden = true;
  const errors = problem.errors?.length ? problem.errors : [{ pointer: "", detail: problem.detail }];
  const { homeless, count, first } = form.faults(errors);
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
      h("h3", null, "What could be reached"),
      figures().value({ $ref: "#/components/schemas/Reachable" }, problem.reachable, 4),
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

const figures = () => new Figures(spec, units, task.asks ?? task.schema);

async function submit(event, quiet = false) {
  event?.preventDefault();
  if (!form) return;
  form.faults([]);
  unsay();
  settle();
  const unreadable = spec.unread(task.schema, form.document);
  if (unreadable.length > 0)
    return refuse({ problem: { title: "A number cannot be read", errors: unreadable } });
  asked += 1;
  const mine = asked;
  say("Calculating …");
  by("answer").setAttribute("aria-busy", "true");
  try {
    const outcome = await task.answer(sent());
    if (mine !== asked) return;
    if (outcome.problem) refuse(outcome);
    else answered(outcome, quiet);
  } catch (error) {
    if (mine === asked) unanswered(error, () => submit(), "Your entries are kept: nothing is lost.");
  } finally {
    by("answer").removeAttribute("aria-busy");
  }
}

function answered(outcome, quiet) {
  const { record, request, asked: all } = outcome;
  const picture = h("div", { class: "picture" });
  const body = task.batch
    ? show(outcome, {
        figures: figures(),
        recordSchema: task.record,
        checks,
        again,
        document: sent(),
        picture,
      })
    : answerOf(figures(), task.record, record, { picture, apart: apart(task, request, record) });
  by("answer").replaceChildren(
    ...[
      h("h2", { class: "unseen", id: "answered", tabindex: -1, "aria-describedby": "statement" }, "Answer"),
      body,
      h(
        "p",
        { class: "buttons" },
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
    by("answered").focus({ preventScroll: true });
    document.querySelector(".result").scrollIntoView();
  }
  const drawn = task.batch ? pictured(outcome) : { name: task.name, request };
  if (spec.calculations.find(({ name }) => name === drawn.name).chart) {
    const mine = asked;
    drawChart(picture, { ...task, name: drawn.name }, drawn.request, () => mine === asked);
  }
  keep();
}

/** What was asked, to stand beside the answer. */
const entries = () =>
  h("details", { class: "fold" }, h("summary", null, "Entries"), figures().value(task.schema, sent(), 4));

/** The next reading of the batch: into the form, and asked at once. */
function again(document) {
  form.show(document);
  submit();
}

async function copyLink() {
  keep();
  const address = `#${task.id}=${encodeURIComponent(JSON.stringify(sent()))}`;
  by("linked").hidden = false;
  if (address.length > ADDRESS_MOST) {
    by("address").value = "These entries are too long for a link. Hand over the request as JSON instead.";
    return;
  }
  by("address").value = new URL(address, location.href).href;
  by("address").select();
  try {
    await navigator.clipboard.writeText(by("address").value);
    say("The link is copied.");
  } catch {
    say("Copy the selected link.");
  }
}

const wide = matchMedia("(min-width: 60rem)");

/** Puts other entries into the form, which can be taken back. */
function replaceEntries(document, text) {
  const before = structuredClone(form.document);
  forget();
  form.open(document, task.shape);
  keep();
  undoable(text, () => {
    form.open(before, task.shape);
    keep();
  });
}

async function start() {
  by("skip").addEventListener("click", (event) => {
    event.preventDefault();
    by("main").focus();
  });
  by("units").addEventListener("change", (event) => changeUnits(event.target.value));
  by("form").addEventListener("submit", submit);
  by("example").addEventListener("click", () => {
    if (form)
      replaceEntries(
        spec.convert(task.schema, structuredClone(task.shape), units),
        "The example is filled in.",
      );
  });
  by("clear").addEventListener("click", () => {
    if (form) replaceEntries(blank(), "All entries are cleared.");
  });
  by("change").addEventListener("click", () => {
    by("title").focus({ preventScroll: true });
    by("title").scrollIntoView();
  });
  by("link").addEventListener("click", copyLink);
  by("forget").addEventListener("click", () => {
    setKey(undefined);
    by("main").focus();
    say("The key is forgotten.");
  });
  by("forget").hidden = !hasKey();
  wide.addEventListener("change", () => {
    by("menu").open = wide.matches;
  });
  switchTo(units);
  await load();
}

async function load(again) {
  try {
    spec = new Spec(await schemas());
  } catch (error) {
    by("title").textContent = "Not loaded";
    return unanswered(error, () => load(true));
  }
  tasks = everyTask(spec);
  by("tasks").replaceChildren(...menu(tasks));
  addEventListener("hashchange", route);
  return route(again);
}

start();
