// The form of the open task: opened, replaced, and handed over as a link.

import { forget, outdate } from "./answering.js";
import { ADDRESS_MOST } from "./apart.js";
import { by } from "./dom.js";
import { Form, tables } from "./form.js";
import { goneOn, undoable } from "./kept/undo.js";
import { say, unanswered } from "./notice.js";
import { before, blank, fragment, keep, leave, now, sent } from "./now.js";

/** Closes the open task. */
export function close() {
  leave();
  now.asked += 1;
  now.form = undefined;
  by("form").hidden = true;
  by("fields").replaceChildren();
  by("from-kept")?.remove();
  forget();
}

/** Shows which task is about to open; the focus goes to its title where it would be lost otherwise. */
export function announce(task, focus) {
  close();
  now.task = task;
  window.document.title = `${task.title} · Sumpwright`;
  by("title").textContent = task.title;
  by("lead").textContent = task.summary;
  if (focus) by("title").focus();
  say("Loading the form …");
}

/** What is usually said in a task: its example, without what is folded all the same. */
const usual = ({ shape, folded = [] }) =>
  Object.fromEntries(Object.entries(shape).filter(([name]) => !folded.includes(name)));

/** Opens a task with entries, with none (`null`), or with those of before. Gives whether its form
 *  is there. */
export async function open(task, document, focus) {
  announce(task, focus);
  const mine = now.asked;
  let example;
  try {
    [example] = await Promise.all([task.example(), task.batch ? undefined : tables()]);
  } catch (error) {
    if (mine === now.asked) unanswered(error, () => open(task, document, true));
    return false;
  }
  if (mine !== now.asked) return false;
  say("");
  task.shape = example;
  const entered = document === undefined ? before(task) : document;
  if (entered) switchTo(entered.units);
  now.form = new Form(now.spec, task.schema, by("fields"), edited);
  const { units, spec } = now;
  now.form.open(entered ? { ...spec.blank(task.schema, {}), ...entered, units } : blank(), usual(task));
  by("form").hidden = false;
  task.opened?.();
  return true;
}

/** The next box after this one that has to be filled in and is empty. */
const nextEmpty = (input) =>
  [...by("fields").querySelectorAll("input[aria-required]")].find(
    (one) =>
      one.value === "" &&
      one.checkVisibility() &&
      input.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING,
  );

/** In a batch check Enter leads from number to number, and from the last one to the answer. */
export function goOn(event) {
  if (!now.task?.batch || !event.target.matches("input[inputmode=decimal]")) return;
  const next = nextEmpty(event.target);
  if (event.type === "focusin") event.target.enterKeyHint = next ? "next" : "go";
  else if (next && event.key === "Enter" && !event.isComposing) {
    event.preventDefault();
    next.focus();
  }
}

function edited() {
  goneOn();
  keep();
  by("linked").hidden = true;
  outdate();
}

/** The units of the page, and the button that says so. */
export function switchTo(units) {
  now.units = units;
  for (const radio of by("units").querySelectorAll("input")) radio.checked = radio.value === units;
}

/** Puts other entries into the form, which can be taken back. */
function replace(document, text) {
  const { task, form } = now;
  const entered = structuredClone(form.document);
  now.place = undefined; // whatever is entered now is of no kept tank
  forget();
  form.open(document, usual(task));
  keep();
  undoable(
    text,
    () => {
      if (now.form !== form) return;
      form.open(now.spec.convert(task.schema, entered, now.units), usual(task));
      keep();
    },
    { stays: true },
  ); // the entries of somebody
}

/** Puts the example into the form. */
export function fillIn() {
  const { spec, task, form, units } = now;
  if (!form) return;
  replace(spec.convert(task.schema, structuredClone(task.shape), units), "The example is filled in.");
  by("title").scrollIntoView();
}

/** Takes all entries out of the form. */
export function clear() {
  if (now.form) replace(blank(), "All entries are cleared.");
}

/** Shows and copies the address that opens these entries. */
export async function copyLink() {
  keep();
  const address = fragment(now.task.id, sent());
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
