// The page: which task is open, what was typed, asking, and what came back.

import { Answers, exchanges } from "./answer.js";
import { ADDRESS_MOST, apart } from "./apart.js";
import { hasKey, Lost, NoKey, schemas, useKey } from "./ask.js";
import { show } from "./batch-answer.js";
import { drawChart } from "./chart.js";
import { by, h } from "./dom.js";
import { Form } from "./form.js";
import { keyForm } from "./key.js";
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
  by("menu").querySelector("summary").textContent = `Tasks: ${task.title}`;
  by("menu").open = wide.matches;
}

/** The document as it goes out: in the units of the page, nothing blank in it. */
const sent = () => spec.pruned(task.schema, form.document);

/** Keeps the address in step with the entries, so that it can be handed over. */
function keep() {
  clearTimeout(saving);
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
  let fault = id && id !== found.id ? `There is no task called “${id}” here.` : undefined;
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
  if ((await open(found, fault ? undefined : document, Boolean(moved))) && fault) tell("alert", fault);
}

/** Whether these can be the entries of a task. */
const carries = (one, document) =>
  document !== null &&
  typeof document === "object" &&
  ["metric", "us"].includes(document.units) &&
  spec.fits(one.schema, document);

/** Opens a task; the focus goes to its title where it would be lost otherwise. */
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
  if (document) switchTo(document.units);
  form = new Form(spec, task.schema, by("fields"), edited);
  form.open(document ? { ...spec.blank(task.schema, {}), ...document, units } : blank(), example);
  by("form").hidden = false;
  return true;
}

const blank = () => ({ ...spec.blank(task.schema, task.shape), units, reference: undefined });

function edited() {
  keep();
  by("linked").hidden = true;
  const answer = by("answer");
  if (!answer.querySelector(".answered") || answer.querySelector(".stale")) return;
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
  if (by("answer").querySelector(".answered")) submit(undefined, true);
  else forget();
}

/** A word on how it goes; for the ear alone where the eye sees it anyway. */
function say(text, unseen = false) {
  by("status").textContent = text;
  by("status").className = unseen ? "unseen" : "";
}

/** Says something in the answer's place: that it is under way, or why there is none. */
function tell(role, text, ...more) {
  const box = h("div", { class: "told", role, tabindex: -1 }, h("p", null, text), more);
  by("status").textContent = "";
  by("answer").replaceChildren(box);
  return box;
}

/** Says why there is no answer, and goes on with `retry` when that is corrected. */
function unanswered(error, retry, kept = "") {
  if (error instanceof NoKey) {
    setKey(undefined);
    by("status").textContent = "";
    by("answer").replaceChildren(
      keyForm(error.sent !== undefined, (key) => {
        setKey(key);
        retry();
      }),
    );
    by("key").focus();
  } else if (error instanceof Lost) {
    tell(
      "alert",
      error.message + kept,
      h("p", null, h("button", { type: "button", class: "main", onclick: retry }, "Try again")),
    ).focus();
  } else throw error;
}

function setKey(key) {
  useKey(key);
  by("forget").hidden = !hasKey();
}

/** Shows problems: each beside its field, the rest here. */
function refuse({ asked: all = [], problem }) {
  const errors = problem.errors?.length ? problem.errors : [{ pointer: "", detail: problem.detail }];
  const { homeless, count, first } = form.faults(errors);
  const title = problem.status === 400 ? "Something is missing or cannot be read" : problem.title;
  const box = tell(
    "alert",
    first && homeless.length === 0
      ? `${title}: ${count === 1 ? "see the entry" : `see ${count} entries`} marked “Fix this”.`
      : `${title}.`,
    homeless.map((fault) => h("p", null, fault.detail)),
    problem.reachable && [
      h("h3", null, "What could be reached"),
      answers().value({ $ref: "#/components/schemas/Reachable" }, problem.reachable, 4),
    ],
    exchanges(all),
  );
  if (first) {
    first.scrollIntoView({ block: "center" });
    first.focus({ preventScroll: true });
  } else box.focus();
}

const answers = () => new Answers(spec, units, task.asks ?? task.schema);

async function submit(event, quiet = false) {
  event?.preventDefault();
  if (!form) return;
  form.faults([]);
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
    if (mine === asked)
      unanswered(error, () => submit(), " Nothing is lost: your entries are kept on this page.");
  } finally {
    by("answer").removeAttribute("aria-busy");
  }
}

function answered(outcome, quiet) {
  const { record, request, asked: all } = outcome;
  const heading = h("h2", { class: "answered", tabindex: -1, "aria-describedby": "statement" }, "Answer");
  const chart = h("div");
  const body = task.batch
    ? show(outcome, { answers: answers(), recordSchema: task.record, checks, again, document: sent() })
    : answers().record(task.record, record, apart(task, request, record), chart);
  const entered = h(
    "section",
    { class: "printed" },
    h("h3", null, "Entries"),
    answers().value(task.schema, sent(), 4),
  );
  by("answer").replaceChildren(
    ...[
      heading,
      body,
      entered,
      h(
        "p",
        { class: "buttons" },
        h("button", { type: "button", onclick: () => print() }, "Print this page"),
      ),
      exchanges(all),
    ]
      .flat(Infinity)
      .filter(Boolean),
  );
  say("Answered.", true);
  if (!quiet) {
    heading.focus({ preventScroll: true });
    heading.scrollIntoView();
  }
  if (task.chart) {
    const mine = asked;
    drawChart(chart, task, request, () => mine === asked);
  }
  keep();
}

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

async function start() {
  by("skip").addEventListener("click", (event) => {
    event.preventDefault();
    by("main").focus();
  });
  by("units").addEventListener("change", (event) => changeUnits(event.target.value));
  by("form").addEventListener("submit", submit);
  by("example").addEventListener("click", () => {
    if (!form) return;
    forget();
    form.open(spec.convert(task.schema, structuredClone(task.shape), units), task.shape);
    keep();
  });
  by("clear").addEventListener("click", () => {
    if (!form) return;
    forget();
    form.open(blank(), task.shape);
    keep();
  });
  by("link").addEventListener("click", copyLink);
  addEventListener("beforeprint", () => {
    for (const fold of by("answer").querySelectorAll("details:not(.json)")) fold.open = true;
  });
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
