// The page: what its address opens, the tasks, the units, and what the device keeps.

import { askAgain, submit } from "./answering.js";
import { ask, Lost, otherSchemas, schemas, unoffered } from "./ask.js";
import { by, h } from "./dom.js";
import { announce, clear, close, copyLink, fillIn, goOn, open, switchTo } from "./entries.js";
import { listenForUndo } from "./kept/undo.js";
import { keyFromAddress, keyTaken } from "./key.js";
import { say, setKey, showKey, tell, unanswered } from "./notice.js";
import { carries, fragment, keep, now } from "./now.js";
import { Spec } from "./schema.js";
import { everyTask, menu } from "./tasks.js";
import { notice } from "./writing.js";

const wide = matchMedia("(min-width: 60rem)");
let kept; // a promise of the tanks and machines of this device

/** The addresses of what is kept. */
const KEPT = /^#(kept(\/|$)|place=)/;

function remembered() {
  try {
    const units = localStorage.getItem("units");
    return ["metric", "us"].includes(units) ? units : "metric";
  } catch {
    /* the browser keeps nothing */
    return "metric";
  }
}

/** Says in the menu what is open; its links stay, and with them the focus. */
function markMenu(address) {
  for (const link of by("tasks").querySelectorAll("a")) {
    if (link.hash === address) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  by("menu").open = wide.matches;
}

/** Opens what the address says: what is kept, or a task, and the entries that were handed over with it. */
async function route(moved) {
  const taken = keyFromAddress();
  if (taken) showKey();
  now.here = location.hash;
  now.place = undefined;
  const focus = Boolean(moved);
  if (now.here === "" && (await isAnythingKept())) {
    history.replaceState(null, "", await (await theKept()).first());
    now.here = location.hash;
  }
  if (KEPT.test(now.here)) await showKept(now.here, focus);
  else await showTask(focus);
  if (taken) by("notice").prepend(keyTaken(taken));
}

async function showTask(focus) {
  leaveKept();
  const [, id, entries] = /^#([^=]*)(?:=(.*))?$/s.exec(location.hash) ?? [];
  const found = now.tasks.find((one) => one.id === id) ?? now.tasks[0];
  markMenu(`#${found.id}`);
  if (found.load) {
    announce(found, focus);
    const mine = now.asked;
    try {
      await found.load();
    } catch {
      return unanswered(new Lost("This part of the page cannot be loaded now."), () => showTask(focus));
    }
    if (mine !== now.asked) return;
  }
  let document;
  let fault = id && id !== found.id ? `There is no task called “${id}” here. See “Tasks”.` : undefined;
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
  // A link that is broken hands over nothing.
  if (!(await open(found, fault ? null : document, focus))) return;
  if (fault) tell("alert", fault).scrollIntoView();
  // Whoever hands over whole entries means their answer.
  else if (document && now.spec.whole(found.schema, document)) submit();
}

async function showKept(hash, focus) {
  close();
  markMenu("#kept");
  by("kept-screen").hidden = false;
  document.body.classList.add("at-kept");
  document.title = "Tanks and machines · Sumpwright";
  try {
    await (await theKept()).show(hash, focus);
  } catch (error) {
    unanswered(error, () => showKept(hash, focus));
  }
}

function leaveKept() {
  by("kept-screen").hidden = true;
  by("kept-screen").replaceChildren();
  document.body.classList.remove("at-kept");
}

/** Opens a task filled in from what is kept. */
async function fromKept(id, filled, place, last) {
  history.pushState(null, "", fragment(id, filled));
  now.here = location.hash;
  leaveKept();
  markMenu(`#${id}`);
  const task = now.tasks.find((one) => one.id === id);
  const opened = await open(task, filled, true);
  now.place = place;
  now.last = last;
  return opened;
}

/** What the device keeps: fetched and opened when it is needed first. */
const theKept = () => (kept ??= openKept());

async function openKept() {
  const parts = [import("./kept/kept.js"), now.spec.complete()];
  const [{ Kept }] = await Promise.all(parts).catch(() => {
    // It is asked for anew the next time.
    kept = undefined;
    throw new Lost("No connection to the service, which has the program for what is kept here.");
  });
  return Kept.open({
    host: by("kept-screen"),
    spec: now.spec,
    batch: now.tasks.find((one) => one.batch).schema,
    units: () => now.units,
    ask,
    tasks: "#batch",
    check: async (document, place, last) => {
      if (await fromKept("batch", document, place, last)) await submit();
    },
    fill: async (id, document, missing, place) => {
      await fromKept(id, document, place);
      if (missing.length > 0)
        tell(
          "status",
          missing[0],
          missing.slice(1).map((text) => h("p", null, text)),
        );
    },
  });
}

/** Whether the device keeps anything. */
async function isAnythingKept() {
  try {
    const databases = await indexedDB.databases();
    if (!databases.some(({ name }) => name === "sumpwright")) return false;
  } catch {
    /* a browser that does not tell: what is kept has to be opened */
  }
  return theKept()
    .then((opened) => opened.any())
    .catch(unoffered);
}

function changeUnits(next) {
  switchTo(next);
  try {
    localStorage.setItem("units", next);
  } catch {
    /* the browser keeps nothing */
  }
  if (!by("kept-screen").hidden) return showKept(location.hash || "#kept", false);
  const { form, spec, task } = now;
  if (!form || form.document.units === next) return;
  form.show(spec.convert(task.schema, form.document, next));
  keep();
  askAgain();
}

async function start() {
  by("skip").addEventListener("click", (event) => {
    event.preventDefault();
    by("main").focus();
  });
  document.addEventListener("input", ({ target }) => {
    if (target.matches("input[inputmode=decimal], [role=gridcell] input")) notice(target.value);
  });
  by("units").addEventListener("change", (event) => changeUnits(event.target.value));
  by("form").addEventListener("submit", submit);
  for (const name of ["focusin", "keydown"]) by("fields").addEventListener(name, goOn);
  by("example").addEventListener("click", fillIn);
  by("clear").addEventListener("click", clear);
  by("link").addEventListener("click", copyLink);
  by("change").addEventListener("click", () => {
    by("title").focus({ preventScroll: true });
    by("title").scrollIntoView();
  });
  by("forget").addEventListener("click", () => {
    setKey(undefined);
    by("main").focus();
    say("The key is forgotten.");
  });
  wide.addEventListener("change", () => {
    by("menu").open = wide.matches;
  });
  listenForUndo();
  showKey();
  switchTo(remembered());
  await load();
}

async function load(again) {
  try {
    now.spec = new Spec(await schemas(), otherSchemas);
  } catch (error) {
    by("title").textContent = "Not loaded";
    return unanswered(error, () => load(true));
  }
  now.tasks = everyTask(now.spec);
  now.kept = theKept;
  by("tasks").replaceChildren(...menu(now.tasks));
  addEventListener("hashchange", route);
  return route(again);
}

start();
